/* Which sweeps are told to be overloaded, and whether that is sure, on benches made on the spot from a stated truth. */
#include "tests/judge/found.h"

#include "core/findings/plan-inputs.h"

#define SHEET                                                                                                                              \
  "[bench]\ntitle=t\nchain=t.chain\nanalyzer=t.analyzer\nmask=us-amateur\ntemperature_c=23\nnecessary_bandwidth=16kHz\nradio_vswr=1.0\n"   \
  "radio_harmonic_vswr=1.0\n[radio Testling]\nfundamental=146.2MHz\nkeyed=k.csv\nstep=a.csv 10\n"
#define SECOND 292.4e6
#define THIRD 438.6e6

/* -3 dBm at the input and 20 dB of attenuation. */
static const Sweep clean = { 1e6, 801e6, 16001, 100e3, 20, "sample", -95, { { 146.2e6, -3.01 } }, 7 };

static void
put (const char *shop, const char *name, double more_db, double frequency_hz, double level_dbm)
{
  Sweep w = clean;
  w.attenuation_db += more_db;
  w.noise_dbm += more_db;
  w.lines[1] = (Line){ frequency_hz, level_dbm };
  w.seed = (guint32) more_db + 3;
  shop_put_sweep (shop, name, &w);
}

#define BEST "best_mixer_dbm=-30\n"
#define STEPS "attenuator_steps_db=0;10;20;30;40\n"

static const SpReason *
overload_of (const SpFindings *f)
{
  const SpReason *first = g_ptr_array_index (f->conditions[0].warnings, 0);
  ck_assert_int_eq (first->code, SP_REASON_OVERLOAD);
  ck_assert_double_eq_tol (first->OVERLOAD.over_db, first->OVERLOAD.mixer_dbm + 30, 1e-9);
  return first;
}

/* 7 dB over the best level. Only a step tells whether that did harm. */
START_TEST (an_overload_is_sure_where_steps_show_it)
{
  char *shop = shop_open ();
  shop_put_sweep (shop, "k.csv", &clean);
  put (shop, "a.csv", 10, SECOND, -150);
  g_autoptr (SpFindings) quiet = shop_judge (shop, BEST STEPS, SHEET);
  ck_assert (!overload_of (quiet)->OVERLOAD.shown && !sp_findings_overload (&quiet->conditions[0]));
  ck_assert_double_eq (overload_of (quiet)->OVERLOAD.attenuation_db, 30);

  Sweep loud = clean;
  loud.lines[0].level_dbm -= 1.5;
  shop_put_sweep (shop, "k.csv", &loud);
  g_autoptr (SpFindings) compressed = shop_judge (shop, BEST, SHEET);
  ck_assert (sp_findings_overload (&compressed->conditions[0]) == overload_of (compressed));
  ck_assert (isnan (overload_of (compressed)->OVERLOAD.attenuation_db)); /* the profile states no settings */

  put (shop, "k.csv", 0, THIRD, -46);
  put (shop, "a.csv", 10, THIRD, -66);
  g_autoptr (SpFindings) falls = shop_judge (shop, BEST STEPS, SHEET);
  ck_assert (overload_of (falls)->OVERLOAD.shown);
  ck_assert (!sp_reasons_have (falls->conditions[0].warnings, SP_REASON_COMPRESSION));

  g_autoptr (SpFindings) stated = shop_judge (shop, "", SHEET);
  ck_assert (!sp_reasons_have (stated->conditions[0].warnings, SP_REASON_OVERLOAD)); /* no best level is stated */
  shop_close (shop);
}
END_TEST

#define TWICE                                                                                                                              \
  "[bench]\ntitle=t\nchain=t.chain\nanalyzer=t.analyzer\nmask=us-amateur\ntemperature_c=23\nnecessary_bandwidth=16kHz\nradio_vswr=1.0\n"   \
  "radio_harmonic_vswr=1.0\n[radio Testling]\nfundamental=146.2MHz\nkeyed=k.csv;q.csv\n"

/* Truth: -23 dBm at the mixer of the first sweep, which reads 1.5 dB less; the second sweep is below the best level and reads right. What
 * the mixer makes follows what is there (a definition: core/docs/computation.md, section 9), 2 dB for each decibel. */
START_TEST (products_follow_what_is_at_the_mixer)
{
  char *shop = shop_open ();
  Sweep loud = clean, quiet = clean;
  loud.lines[0].level_dbm -= 1.5;
  quiet.attenuation_db += 10;
  quiet.seed = 11;
  shop_put_sweep (shop, "k.csv", &loud);
  shop_put_sweep (shop, "q.csv", &quiet);
  g_autoptr (SpFindings) f = shop_judge (shop, BEST "second_intercept_dbm=-20\n", TWICE);
  const SpConditionFindings *c = &f->conditions[0];
  const SpCorrected *first = &c->corrected[0], *second = &c->corrected[1];
  ck_assert_double_eq_tol (first->mixer_dbm, second->mixer_dbm + 10, 0.05);
  ck_assert_double_eq_tol (first->mixer_dbm, -23.01, 0.05);
  ck_assert_double_eq_tol (overload_of (f)->OVERLOAD.mixer_dbm, first->mixer_dbm, 1e-9);

  SpSetting today;
  g_autoptr (SpPlan) plan = sp_findings_plan (f, 0, &today, NULL);
  ck_assert_double_eq_tol (sp_plan_mixer_dbm (plan, &today), first->mixer_dbm, 1e-9);
  guint64 at = sp_trace_find (f->bench->conditions[0].sweeps[first->sweep].trace, SECOND);
  SpOutlook o = sp_plan_harmonic (plan, &today, 2);
  ck_assert_int_eq (o.cause, SP_CAUSE_PRODUCT);
  ck_assert_double_eq_tol (o.floor_dbm, first->floor_dbm[at], 0.05);
  shop_close (shop);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("judge/overloaded");
  TCase *c = tcase_create ("overloaded");
  tcase_add_test (c, an_overload_is_sure_where_steps_show_it);
  tcase_add_test (c, products_follow_what_is_at_the_mixer);
  suite_add_tcase (s, c);
  return s;
}

SP_MAIN (suite)
