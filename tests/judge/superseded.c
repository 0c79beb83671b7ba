/* A superseded sweep: corrected to be looked at, and nothing else of the findings knows of it. */
#include "core/judge/judge.h"
#include "tests/judge/found.h"

#define SHEET(condition)                                                                                                                   \
  "[bench]\ntitle=t\nchain=t.chain\nanalyzer=t.analyzer\nmask=us-amateur\ntemperature_c=23\nnecessary_bandwidth=16kHz\nradio_vswr=1.0\n"   \
  "radio_harmonic_vswr=1.0\n\n[radio Testling]\nfundamental=146.2MHz\nkeyed=k.csv\nstep=s.csv 10\nunkeyed=off.csv\n" condition "\n"

static const Sweep taken = { 1e6, 1601e6, 16001, 100e3, 20, "sample", -90, { { 146.2e6, -3.01 }, { 292.4e6, -46 }, { 98.3e6, -66 } }, 7 };
/* As bad as can be: neither detector nor RBW nor attenuation said, over the limit everywhere, over the analyzer's damage level. */
static const Sweep old = { 1e6, 2e9, 801, 3e6, NAN, NULL, -30, { { 146.2e6, 34 }, { 292.4e6, 20 }, { 438.6e6, 10 }, { 98.3e6, -20 } }, 11 };

static SpFindings *
judged (const char *shop, const char *analyzer, const char *sheet)
{
  Sweep step = taken, off = taken;
  step.attenuation_db = 30;
  step.seed = 8;
  off.lines[0] = (Line){ 98.3e6, -66 };
  off.lines[1].frequency_hz = 0;
  shop_put_sweep (shop, "k.csv", &taken);
  shop_put_sweep (shop, "s.csv", &step);
  shop_put_sweep (shop, "off.csv", &off);
  shop_put_sweep (shop, "old.csv", &old);
  return shop_judge (shop, analyzer, sheet);
}

static void
same_number (double a, double b)
{
  ck_assert_mem_eq (&a, &b, sizeof a);
}

static void
same_reason (const SpReason *a, const SpReason *b)
{
  ck_assert ((a != NULL) == (b != NULL));
  if (!a)
    return;
  ck_assert (sp_reason_equal (a, b));
}

static void
same_reasons (const GPtrArray *a, const GPtrArray *b)
{
  ck_assert_uint_eq (a->len, b->len);
  for (guint i = 0; i < a->len; i++)
    same_reason (a->pdata[i], b->pdata[i]);
}

static void
same_corrected (const SpCorrected *a, const SpCorrected *b)
{
  ck_assert_uint_eq (a->n, b->n);
  ck_assert_uint_eq (a->sweep, b->sweep);
  ck_assert_mem_eq (a->level_dbm, b->level_dbm, a->n * sizeof (double));
  ck_assert_mem_eq (a->noise_dbm, b->noise_dbm, a->n * sizeof (double));
  ck_assert_mem_eq (a->floor_dbm, b->floor_dbm, a->n * sizeof (double));
  ck_assert_mem_eq (a->floor_cause, b->floor_cause, a->n);
}

static void
same_emission (const SpEmission *a, const SpEmission *b)
{
  ck_assert_uint_eq (a->order, b->order);
  ck_assert_int_eq (a->sweep, b->sweep);
  ck_assert_int_eq (a->detected, b->detected);
  ck_assert_int_eq (a->origin, b->origin);
  ck_assert_int_eq (a->verdict, b->verdict);
  ck_assert_uint_eq (a->repeats, b->repeats);
  const double pairs[][2] = { { a->frequency_hz, b->frequency_hz },
                              { a->level_dbm, b->level_dbm },
                              { a->level_dbc, b->level_dbc },
                              { a->floor_dbm, b->floor_dbm },
                              { a->limit_dbm, b->limit_dbm },
                              { a->conformity, b->conformity },
                              { a->radio_low_dbm, b->radio_low_dbm },
                              { a->radio_high_dbm, b->radio_high_dbm },
                              { a->budget.u_level_db, b->budget.u_level_db },
                              { a->budget.u_margin_db, b->budget.u_margin_db } };
  for (guint i = 0; i < G_N_ELEMENTS (pairs); i++)
    same_number (pairs[i][0], pairs[i][1]);
  ck_assert ((a->evidence != NULL) == (b->evidence != NULL));
  ck_assert (!a->evidence || a->evidence->n == b->evidence->n);
  same_reason (a->reason, b->reason);
  same_reason (a->relation, b->relation);
  same_reason (a->would_prove, b->would_prove);
}

/* All that there is of a, there is of b. */
static void
same_findings (const SpFindings *a, const SpFindings *b)
{
  const SpConditionFindings *x = &a->conditions[0], *y = &b->conditions[0];
  const double pairs[][2] = { { x->worst_margin_db, y->worst_margin_db },
                              { x->fundamental_hz, y->fundamental_hz },
                              { x->power_dbm, y->power_dbm },
                              { x->mixer_dbm, y->mixer_dbm },
                              { x->power_u_db, y->power_u_db },
                              { x->occupied_hz, y->occupied_hz },
                              { x->exclude_hz, y->exclude_hz },
                              { x->headroom->mixer_dbm, y->headroom->mixer_dbm } };
  ck_assert_int_eq (a->safe, b->safe);
  ck_assert_int_eq (x->verdict, y->verdict);
  ck_assert_int_eq (x->worst_emission, y->worst_emission);
  for (guint i = 0; i < G_N_ELEMENTS (pairs); i++)
    same_number (pairs[i][0], pairs[i][1]);
  ck_assert_uint_eq (x->n_emissions, y->n_emissions);
  for (guint i = 0; i < x->n_emissions; i++)
    same_emission (&x->emissions[i], &y->emissions[i]);
  ck_assert_uint_eq (x->n_corrected, y->n_corrected);
  for (guint i = 0; i < x->n_corrected; i++)
    same_corrected (&x->corrected[i], &y->corrected[i]);
  ck_assert_uint_eq (x->n_compared, y->n_compared);
  for (guint i = 0; i < x->n_compared; i++)
    same_corrected (&x->compared[i], &y->compared[i]);
  ck_assert_uint_eq (x->n_gaps, y->n_gaps);
  ck_assert_uint_eq (x->n_seams, y->n_seams);
  ck_assert_uint_eq (x->limit->len, y->limit->len);
  ck_assert_mem_eq (&g_array_index (x->limit, SpLimitSegment, 0).from_hz, &g_array_index (y->limit, SpLimitSegment, 0).from_hz,
                    sizeof (double));
  same_reasons (x->warnings, y->warnings);
  same_reasons (a->warnings, b->warnings);
}

START_TEST (it_moves_no_finding)
{
  char *shop = shop_open ();
  static const char *const more[] = { "", "meter_dbm=38.0\nmeter_u_db=0.1\n" };
  for (guint i = 0; i < G_N_ELEMENTS (more); i++) {
    g_autofree char *plain = g_strconcat (SHEET (""), more[i], NULL), *with = g_strconcat (SHEET ("superseded=old.csv"), more[i], NULL);
    g_autoptr (SpFindings) a = judged (shop, SHOP_INTERCEPTS, plain), b = judged (shop, SHOP_INTERCEPTS, with);
    ck_assert_uint_eq (a->conditions[0].n_superseded, 0);
    ck_assert_uint_eq (b->conditions[0].n_superseded, 1);
    same_findings (a, b);
  }
  shop_close (shop);
}
END_TEST

START_TEST (it_is_corrected_like_the_others)
{
  char *shop = shop_open ();
  g_autoptr (SpFindings) f = judged (shop, SHOP_INTERCEPTS "amplitude_correction=1MHz 1.5; 3GHz 1.5\n",
                                     SHEET ("superseded=old.csv;k.csv\nmeter_dbm=38.0\nmeter_u_db=0.1"));
  const SpConditionFindings *c = &f->conditions[0];
  ck_assert_uint_eq (c->n_superseded, 2);
  const SpSweep *sweep = &f->bench->conditions[0].sweeps[c->superseded[0].sweep];
  ck_assert_int_eq (sweep->purpose, SP_PURPOSE_SUPERSEDED);
  ck_assert_uint_eq (c->superseded[0].n, old.points);
  double shift = c->corrected[0].level_dbm[0] - f->bench->conditions[0].sweeps[c->corrected[0].sweep].trace->reading_dbm[0];
  ck_assert_double_gt (fabs (shift - 41.5), 0.05); /* the chain, the correction, and the meter's part */
  for (guint i = 0; i < old.points; i++) {
    ck_assert_double_eq (c->superseded[0].frequency_hz[i], sweep->trace->frequency_hz[i]);
    ck_assert_double_eq_tol (c->superseded[0].level_dbm[i], sweep->trace->reading_dbm[i] + shift, 1e-9);
  }
  /* the sweep that is judged, once more as a superseded one: the same to the last bit */
  ck_assert_mem_eq (c->superseded[1].level_dbm, c->corrected[0].level_dbm, c->corrected[0].n * sizeof (double));
  ck_assert (!c->superseded[0].noise_dbm && !c->superseded[0].floor_dbm && !c->superseded[0].floor_cause);
  ck_assert (isnan (c->superseded[0].threshold_db) && isnan (c->superseded[0].detection_db));
  shop_close (shop);
}
END_TEST

START_TEST (alone_it_is_no_measurement)
{
  char *shop = shop_open ();
  shop_put_sweep (shop, "old.csv", &old);
  g_autoptr (SpBench) bench = shop_bench (shop, SHOP_INTERCEPTS,
                                          "[bench]\ntitle=t\nchain=t.chain\nanalyzer=t.analyzer\nmask=us-amateur\n\n[radio Testling]\n"
                                          "fundamental=146.2MHz\npower=5W\nsuperseded=old.csv\n");
  g_autoptr (SpFindings) f = sp_judge (bench);
  ck_assert_uint_eq (f->conditions[0].n_superseded, 1);
  ck_assert_uint_eq (f->conditions[0].n_corrected, 0);
  ck_assert_int_eq (f->conditions[0].verdict, SP_VERDICT_NOT_PROVEN);
  ck_assert (isnan (f->conditions[0].power_dbm));
  shop_close (shop);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("judge/superseded");
  TCase *t = tcase_create ("superseded");
  tcase_add_test (t, it_moves_no_finding);
  tcase_add_test (t, it_is_corrected_like_the_others);
  tcase_add_test (t, alone_it_is_no_measurement);
  tcase_set_timeout (t, 120);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
