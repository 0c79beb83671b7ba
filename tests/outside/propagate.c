/* Monte Carlo propagation against JCGM 101's own examples */
#include "core/budget/propagate.h"
#include "core/quantity/coverage.h"
#include "tests/suite.h"

#include <gsl/gsl_randist.h>
#include <math.h>
#include <string.h>

#define DRAWS 1000000

/* JCGM 101, 9.2: the sum of four */
typedef struct {
  SpDistribution distribution;
  double u[4];
} Four;

static double
sum_of_four (const gsl_rng *rng, gpointer data)
{
  const Four *four = data;
  double sum = 0;
  for (guint i = 0; i < 4; i++)
    sum += sp_draw (rng, four->distribution, four->u[i], INFINITY);
  return sum;
}

START_TEST (additive_model)
{
  Four normal = { SP_DISTRIBUTION_NORMAL, { 1, 1, 1, 1 } }, rectangles = { SP_DISTRIBUTION_RECTANGULAR, { 1, 1, 1, 1 } };
  Four one_wide = { SP_DISTRIBUTION_RECTANGULAR, { 1, 1, 1, 10 } };
  SpPropagated p;
  ck_assert (sp_propagate (sum_of_four, &normal, DRAWS, 1, 0.95, NULL, &p));
  sp_outside ("u of four normals", "JCGM 101:2008, 9.2", p.u, 2.00, 0.005);
  sp_outside ("its 95 % interval, end", "JCGM 101:2008, 9.2", p.high, 3.92, 0.02);
  ck_assert (sp_propagate (sum_of_four, &rectangles, DRAWS, 2, 0.95, NULL, &p));
  sp_outside ("u of four rectangles", "JCGM 101:2008, 9.2", p.u, 2.00, 0.005);
  sp_outside ("its 95 % interval, end", "JCGM 101:2008, 9.2", p.high, 3.88, 0.02);
  sp_outside ("and the other end", "JCGM 101:2008, 9.2", p.low, -3.88, 0.02);
  ck_assert (sp_propagate (sum_of_four, &one_wide, DRAWS, 3, 0.95, NULL, &p));
  sp_outside ("u with one ten times as wide", "JCGM 101:2008, 9.2", p.u, 10.1, 0.06);
  sp_outside ("its 95 % interval, end", "JCGM 101:2008, 9.2", p.high, 17.0, 0.06);
}
END_TEST

/* JCGM 101, 9.4: comparison loss X1^2 + X2^2 about (x1, 0), correlated by r */
typedef struct {
  double x1, r;
} Loss;

static double
comparison_loss (const gsl_rng *rng, gpointer data)
{
  const Loss *loss = data;
  double a = sp_draw (rng, SP_DISTRIBUTION_NORMAL, 0.005, INFINITY), b = sp_draw (rng, SP_DISTRIBUTION_NORMAL, 0.005, INFINITY);
  double x1 = loss->x1 + a, x2 = loss->r * a + sqrt (1 - loss->r * loss->r) * b;
  return x1 * x1 + x2 * x2;
}

static double
sum_of_two_squares_below (double y, double x1, double u)
{
  double below = 0; /* the Poisson mixture of a noncentral chi-square of two degrees of freedom */
  double half = x1 * x1 / (2 * u * u), t = y / (2 * u * u), weight = exp (-half), tail = exp (-t), part = tail;
  for (guint j = 0; j < 400; j++) {
    below += weight * (1 - part);
    weight *= half / (j + 1);
    tail *= t / (j + 1);
    part += tail;
  }
  return below;
}

START_TEST (comparison_loss_where_the_first_order_is_blind)
{
  static const struct {
    double x1, r, mean, u, first_order;
    const char *source;
  } row[] = {
    { 0, 0, 50, 50, 0, "JCGM 101:2008, 9.4" },
    { 0, 0.9, 50, 67, 0, "JCGM 101:2008, 9.4" },
    { 0.010, 0, 150, 112, 100, "JCGM 101:2008, 9.4" },
    { 0.010, 0.9, 150, 121, 100, "JCGM 101:2008, 9.4" },
    { 0.050, 0, 2551, 502, 500, "JCGM 101:2008, 9.4, from memory" },
    { 0.050, 0.9, 2551, 505, 500, "JCGM 101:2008, 9.4, from memory" },
  };
  for (guint i = 0; i < G_N_ELEMENTS (row); i++) {
    Loss loss = { row[i].x1, row[i].r };
    SpPropagated p;
    ck_assert (sp_propagate (comparison_loss, &loss, DRAWS, 10 + i, 0.95, NULL, &p));
    sp_outside ("comparison loss, 1e-6", row[i].source, p.mean * 1e6, row[i].mean, row[i].mean > 1000 ? 3 : 0.6);
    sp_outside ("its u, 1e-6", row[i].source, p.u * 1e6, row[i].u, 1);
    ck_assert_double_gt (p.u * 1e6, row[i].first_order); /* what the law of propagation says: 2 x1 u */
    if (row[i].r == 0) {
      double covered = sum_of_two_squares_below (p.shortest_high, row[i].x1, 0.005)
                       - sum_of_two_squares_below (p.shortest_low, row[i].x1, 0.005);
      sp_outside ("coverage of the shortest interval", "noncentral chi-square of 2 degrees of freedom (calculated)", covered, 0.95, 1e-3);
    }
  }
  Loss none = { 0, 0 };
  SpPropagated p;
  ck_assert (sp_propagate (comparison_loss, &none, DRAWS, 30, 0.95, NULL, &p));
  sp_outside ("shortest 95 % interval, upper end, 1e-6", "JCGM 101:2008, 9.4", p.shortest_high * 1e6, 150, 1);
  ck_assert_double_lt (p.shortest_low * 1e6, 0.5);
}
END_TEST

/* A budget of one mismatch: the variance of 20 lg|1 + m e^(j phi)| is (20/ln 10)^2 Li2(m^2)/2. */
START_TEST (mismatch_between_total_reflections)
{
  static const double m[] = { 0.1, 0.5, 1 };
  for (guint i = 0; i < G_N_ELEMENTS (m); i++) {
    double u = 8.685889638 * m[i] / sqrt (2), li = 0;
    SpTerm term = {
      .kind = SP_TERM_MISMATCH_RADIO, .distribution = SP_DISTRIBUTION_U_SHAPED, .u_level_db = u, .dof = INFINITY, .dof_power = INFINITY
    };
    SpBudget budget = { .n = 1, .terms = &term };
    SpBudgetDrawn drawn;
    for (guint k = 1; k < 200000; k++)
      li += pow (m[i], 2.0 * k) / ((double) k * k);
    ck_assert (sp_budget_draw (&budget, 0, NAN, DRAWS, 5, NULL, &drawn));
    sp_outside ("u of a mismatch, over what the first order says", "Parseval on ln|1 + m e^(j phi)|: Li2(m^2)/2 (calculated)",
                drawn.column[SP_BUDGET_LEVEL].u / u, sqrt (li) / m[i], 0.004);
    sp_outside ("its upper end, dB", "20 lg (1 + m)", drawn.column[SP_BUDGET_LEVEL].high, 20 * log10 (1 + m[i]), 0.02);
  }
}
END_TEST

/* Four pairs of reflections, each with a phase of its own. A single phase for the sum of their squares cannot pass 20 lg 2 above. */
START_TEST (a_phase_for_each_pair)
{
  static const double m[] = { 0.7, 0.35, 0.2, 0.5 };
  double pairs[4], squares = 0, li = 0;
  for (guint i = 0; i < 4; i++) {
    pairs[i] = 8.685889638 * m[i] / sqrt (2);
    squares += pairs[i] * pairs[i];
    for (guint k = 1; k < 1000; k++)
      li += pow (m[i], 2.0 * k) / ((double) k * k);
  }
  SpTerm term = { .kind = SP_TERM_MISMATCH_INNER,
                  .distribution = SP_DISTRIBUTION_U_SHAPED,
                  .u_level_db = sqrt (squares),
                  .dof = INFINITY,
                  .dof_power = INFINITY,
                  .n_level_pairs = 4 };
  SpBudget budget = { .n = 1, .terms = &term, .pair_u_db = pairs };
  SpBudgetDrawn drawn;
  ck_assert (sp_budget_draw (&budget, 0, NAN, DRAWS, 9, NULL, &drawn));
  const SpPropagated *level = &drawn.column[SP_BUDGET_LEVEL];
  sp_outside ("u of four mismatches, dB", "Parseval on ln|1 + m e^(j phi)|: Li2(m^2)/2 of each (calculated)", level->u,
              8.685889638 * sqrt (li / 2), 0.02);
  sp_outside ("upper end of their 95.45 % interval, dB", "the four laws convolved, scipy.signal.fftconvolve", level->high, 10.030, 0.03);
  sp_outside ("and its lower end, dB", "the four laws convolved, scipy.signal.fftconvolve", level->low, -13.640, 0.06);
}
END_TEST

static SpBudget
mismatch_only (SpMeterPart meter, double *u_level)
{
  static const char text[] = "[chain]\nstages=a;b;c\n[stage a]\nkind=cable\nrating_w=99\nvswr=2\npoints=1MHz 0.3 0.01; 3GHz 0.3 0.01\n"
                             "[stage b]\nkind=pad\nrating_w=99\nvswr=1.3\npoints=1MHz 3 0.01; 3GHz 6 0.01\n"
                             "[stage c]\nkind=pad\nrating_w=9\nvswr=1.2\npoints=1MHz 2 0.01; 3GHz 2 0.01\n";
  static const char box[] = "[analyzer]\nvswr=1.5\n";
  g_autoptr (SpKeyFile) file = sp_key_file_parse (text, strlen (text), "t.chain", NULL);
  g_autoptr (SpKeyFile) other = sp_key_file_parse (box, strlen (box), "t.analyzer", NULL);
  g_autoptr (SpChain) chain = sp_chain_parse (file, NULL);
  g_autoptr (SpAnalyzer) analyzer = sp_analyzer_parse (other, NULL);
  SpBudgetView view = { .chain = chain,
                        .analyzer = analyzer,
                        .temperature_c = NAN,
                        .radio_vswr = 1.5,
                        .radio_harmonic_vswr = INFINITY,
                        .fundamental_hz = 14e6,
                        .meter = meter,
                        .meter_u_db = 0.1 };
  SpBudgetReadings readings = { 0 };
  SpBudget budget;
  sp_budget (&view, 42e6, &readings, 1, &budget);
  *u_level = sp_budget_level (&view, 42e6, FALSE).u_db;
  return budget;
}

/* What is drawn is what the first order adds up: the squares of a term's pairs are its own, of the level and of P. */
START_TEST (pairs_add_up_to_their_term)
{
  static const struct {
    SpMeterPart meter;
    guint inner, radio, analyzer;
  } row[] = { { SP_METER_NOT_USED, 3, 3, 4 }, { SP_METER_SHIFTS, 6, 6, 8 } };
  for (guint k = 0; k < G_N_ELEMENTS (row); k++) {
    double u_level;
    SpBudget budget = mismatch_only (row[k].meter, &u_level);
    guint met = 0;
    for (guint i = 0; i < budget.n; i++) {
      const SpTerm *t = &budget.terms[i];
      double level = 0, power = 0;
      if (t->kind != SP_TERM_MISMATCH_INNER && t->kind != SP_TERM_MISMATCH_RADIO && t->kind != SP_TERM_MISMATCH_ANALYZER) {
        ck_assert_uint_eq (t->n_level_pairs + t->n_power_pairs, 0);
        continue;
      }
      ck_assert_uint_eq (t->n_level_pairs, t->kind == SP_TERM_MISMATCH_INNER   ? row[k].inner
                                           : t->kind == SP_TERM_MISMATCH_RADIO ? row[k].radio
                                                                               : row[k].analyzer);
      for (guint j = 0; j < t->n_level_pairs; j++)
        level += pow (budget.pair_u_db[t->first_pair + j], 2);
      for (guint j = 0; j < t->n_power_pairs; j++)
        power += pow (budget.pair_u_db[t->first_pair + t->n_level_pairs + j], 2);
      ck_assert_double_eq_tol (sqrt (level), t->u_level_db, 1e-12);
      ck_assert_double_eq_tol (sqrt (power), t->u_power_db, 1e-12);
      met++;
    }
    ck_assert_uint_eq (met, 3);
    ck_assert_double_eq_tol (u_level, budget.u_level_db, 1e-12); /* with pairs kept or not */
    g_free (budget.terms);
  }
}
END_TEST

/* Noise near the floor: one look of a line in noise, |1 + w| with E ln|1 + w|^2 = E1(1/p), is less its bias without mean. */
START_TEST (noise_near_the_floor_is_not_symmetric)
{
  SpTerm term = { .kind = SP_TERM_NOISE, .distribution = SP_DISTRIBUTION_NORMAL, .u_level_db = 3, .dof = INFINITY, .dof_power = INFINITY };
  SpBudget budget = { .n = 1, .terms = &term };
  SpBudgetDrawn drawn;
  ck_assert (sp_budget_draw (&budget, 0, NAN, DRAWS, 6, NULL, &drawn));
  sp_outside ("mean of what noise does to a level, dB", "E ln|1 + w|^2 = E1(1/p)", drawn.column[SP_BUDGET_LEVEL].mean, 0, 0.02);
  ck_assert_double_gt (drawn.column[SP_BUDGET_LEVEL].high,
                       1.2 * -drawn.column[SP_BUDGET_LEVEL].low); /* a fade is deeper than a rise is high: the truth may lie well above */
}
END_TEST

START_TEST (type_a_is_student)
{
  Four one = { SP_DISTRIBUTION_NORMAL, { 1, 0, 0, 0 } };
  SpTerm term = { .kind = SP_TERM_CHAIN, .distribution = SP_DISTRIBUTION_NORMAL, .u_level_db = 1, .dof = 3, .dof_power = INFINITY };
  SpBudget budget = { .n = 1, .terms = &term };
  SpBudgetDrawn drawn;
  SpPropagated p;
  ck_assert (sp_budget_draw (&budget, 0, NAN, DRAWS, 7, NULL, &drawn));
  sp_outside ("end of its 95.45 % interval, 3 dof", "JCGM 100 table G.2", drawn.column[SP_BUDGET_LEVEL].high, 3.31, 0.05);
  ck_assert (sp_propagate (sum_of_four, &one, DRAWS, 8, SP_COVERAGE, NULL, &p));
  sp_outside ("and of a normal one", "JCGM 100 table G.2", p.high, 2.00, 0.02);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("outside/propagate");
  TCase *t = tcase_create ("JCGM 101");
  tcase_set_timeout (t, 120);
  tcase_add_test (t, additive_model);
  tcase_add_test (t, comparison_loss_where_the_first_order_is_blind);
  tcase_add_test (t, mismatch_between_total_reflections);
  tcase_add_test (t, a_phase_for_each_pair);
  tcase_add_test (t, pairs_add_up_to_their_term);
  tcase_add_test (t, noise_near_the_floor_is_not_symmetric);
  tcase_add_test (t, type_a_is_student);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
