/* Conformity, coverage and budget sums against JCGM 100, JCGM 106, ILAC-G8 and EA-4/02 (numbers: facts of the trade as named). */
#include "core/judge/sweep/judging.h"
#include "tests/suite.h"

/* JCGM 106:2012, 8.3.2 (one upper limit): p = Phi((T - y)/u); calculated. */
START_TEST (conformity_of_jcgm_106)
{
  static const struct {
    double y, u, p;
  } row[] = { { -37, .5, .97724987 },   { -36.5, .5, .84134475 }, { -36, .5, .5 },
              { -35.5, .5, .15865525 }, { -40, 1.2, .99957094 },  { -37.2, .9, .90878878 } };
  for (guint i = 0; i < G_N_ELEMENTS (row); i++)
    sp_outside ("probability of conformity", "JCGM 106 8.3.2, calculated", sp_student_below ((-36 - row[i].y) / row[i].u, INFINITY),
                row[i].p, 5e-9);
  sp_outside ("Zener diode example", "JCGM 106 example 7.4, from memory", sp_student_below ((-5.40 + 5.47) / 0.05, INFINITY), 0.919243,
              5e-7);
}
END_TEST

/* JCGM 100:2008 Table G.2, 95.45 % column (also EA-4/02 M Table E.1). */
START_TEST (students_factor)
{
  static const struct {
    double dof, k;
  } row[] = { { 1, 13.97 }, { 2, 4.53 },  { 3, 3.31 },  { 4, 2.87 },  { 5, 2.65 },
              { 8, 2.37 },  { 10, 2.28 }, { 20, 2.13 }, { 50, 2.05 }, { 100, 2.025 } };
  for (guint i = 0; i < G_N_ELEMENTS (row); i++)
    sp_outside ("Student's factor at 95.45 %", "JCGM 100 Table G.2, as printed", sp_coverage_factor (row[i].dof), row[i].k, 5e-3);
  sp_outside ("normal factor at 95.45 %", "JCGM 100 Table G.2", sp_coverage_factor (INFINITY), 2.0, 1e-12);
  sp_outside ("dof are truncated downward", "JCGM 100 G.4.2", sp_coverage_factor (12.9), sp_coverage_factor (12), 1e-12);
}
END_TEST

/* ILAC-G8:09/2019: a guard band of U leaves a specific risk under 2.5 %, and exactly Phi(-2) at its edge. */
START_TEST (guard_band_risk)
{
  sp_outside ("risk at the edge of the guard band w = U", "ILAC-G8:09/2019 (< 2.5 %); Phi(-2) calculated",
              1 - sp_student_below (2, INFINITY), 0.022750, 5e-7);
  sp_outside ("risk of simple acceptance at the limit", "ILAC-G8:09/2019 (50 %)", 1 - sp_student_below (0, INFINITY), 0.5, 1e-12);
}
END_TEST

/* EA-4/02 M, S7: root sum of squares of a 30 dB incremental loss, through the same Monte Carlo that judging offers. */
START_TEST (ea_4_02_s7_through_monte_carlo)
{
  static const struct {
    double u;
    SpDistribution d;
  } row[] = {
    { .0090, SP_DISTRIBUTION_NORMAL },      { .0025, SP_DISTRIBUTION_RECTANGULAR }, { .0011, SP_DISTRIBUTION_U_SHAPED },
    { .0200, SP_DISTRIBUTION_U_SHAPED },    { .0017, SP_DISTRIBUTION_U_SHAPED },    { .0003, SP_DISTRIBUTION_U_SHAPED },
    { .0003, SP_DISTRIBUTION_RECTANGULAR }, { .0019, SP_DISTRIBUTION_RECTANGULAR }, { .0020, SP_DISTRIBUTION_NORMAL },
  };
  SpTerm terms[G_N_ELEMENTS (row)];
  for (guint i = 0; i < G_N_ELEMENTS (row); i++)
    terms[i] = (SpTerm){ SP_TERM_CHAIN, row[i].d, row[i].u, 0, row[i].u, row[i].u, INFINITY, FALSE };
  SpEmission e = { .margin_db = 30.043, .conformity = 1 };
  e.budget.n = G_N_ELEMENTS (row);
  e.budget.terms = terms;
  SpMonteCarlo mc = sp_emission_monte_carlo (&e, 400000, 1);
  sp_outside ("u of a 30 dB attenuator", "EA-4/02 M, S7 (0.0224 dB)", mc.margin_u_db, 0.0224, 1.5e-4);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("outside/judge");
  TCase *t = tcase_create ("published");
  tcase_add_test (t, conformity_of_jcgm_106);
  tcase_add_test (t, students_factor);
  tcase_add_test (t, guard_band_risk);
  tcase_add_test (t, ea_4_02_s7_through_monte_carlo);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
