/* analyzer.c - the analyzer's profile: what its keys become, its warnings, its text, and what follows from its numbers. */
#include <string.h>

#include "core/analyzer/analyzer.h"
#include "core/quantity/error.h"
#include "tests/analyzer/text.h"
#include "tests/reasons.h"

#define near(got, want, tolerance)                                                                                                         \
  ck_assert_msg (fabs ((got) - (want)) <= (tolerance), "%s is %.15g, not %.15g +- %g", #got, (double) (got), (double) (want),              \
                 (double) (tolerance))

static const char *const example = "# home.analyzer\n"
                                   "[analyzer]\n"
                                   "name=Shelf analyzer\n"
                                   "damage_dbm=20     # greatest input\n"
                                   "best_mixer_dbm=-30\n"
                                   "danl_dbm_hz=10MHz -150; 1GHz -148; 3GHz -142\n"
                                   "danl_average=power\n"
                                   "second_intercept_dbm=45\n"
                                   "third_harmonic_intercept_dbm=25\n"
                                   "intercept_u_db=2\n"
                                   "phase_noise_dbc_hz=10kHz -95; 100kHz -110; 1MHz -125\n"
                                   "accuracy_db=0.5\n"
                                   "flatness_db=0.3\n"
                                   "scale_db=0.2\n"
                                   "repeatability_db=0.05\n"
                                   "attenuator_switch_db=0.3\n"
                                   "rbw_switch_db=0.1\n"
                                   "amplitude_correction=10MHz 0; 3GHz 0.4\n"
                                   "frequency_ppm=2\n"
                                   "vswr=1.5\n"
                                   "attenuator_steps_db=0;5;10;15;20;30\n"
                                   "rbw_steps=300Hz;1kHz;3kHz;10kHz;30kHz;100kHz\n"
                                   "points_max=1001\n"
                                   "filter=gaussian\n";

static const SpReason *
find_reason (GPtrArray *reasons, SpReasonCode code, const char *text)
{
  for (guint i = 0; i < reasons->len; i++) {
    const SpReason *reason = reasons->pdata[i];
    if (reason->code == code && reason_says (reason, text))
      return reason;
  }
  return NULL;
}

START_TEST (every_key)
{
  g_autoptr (SpAnalyzer) a = analyzer_from (example);
  ck_assert_str_eq (a->name, "Shelf analyzer");
  near (a->damage_dbm, 20, 0);
  ck_assert (isnan (a->damage_attenuation_db) && isnan (a->max_dc_v));
  near (a->best_mixer_dbm, -30, 0);
  near (sp_curve_at (a->danl_dbm_hz, 1e9, 0).value, -148, 1e-12);
  ck_assert (!a->danl_log_averaged);
  near (a->intercept_dbm[2]->value[0], 45, 0);
  near (a->intercept_dbm[3]->value[0], 25, 0);
  ck_assert_ptr_null (a->intercept_dbm[4]);
  near (a->intercept_u_db, 2, 0);
  near (a->accuracy.width_db, 0.5, 0);
  near (a->flatness.width_db, 0.3, 0);
  near (a->scale.width_db, 0.2, 0);
  near (a->repeatability.width_db, 0.05, 0);
  near (a->attenuator_switch.width_db, 0.3, 0);
  near (a->rbw_switch.width_db, 0.1, 0);
  near (sp_curve_at (a->amplitude_correction_db, 3e9, 0).value, 0.4, 1e-12);
  near (a->frequency_ppm, 2, 0);
  near (a->vswr->value[0], 1.5, 0);
  ck_assert_uint_eq (a->attenuator_steps_db->len, 6);
  near (g_array_index (a->attenuator_steps_db, double, 5), 30, 0);
  ck_assert_uint_eq (a->rbw_steps_hz->len, 6);
  near (g_array_index (a->rbw_steps_hz, double, 0), 300, 0);
  near (g_array_index (a->rbw_steps_hz, double, 5), 100e3, 0);
  near (a->points_max, 1001, 0);
  ck_assert_int_eq (a->filter, SP_FILTER_GAUSSIAN);
}
END_TEST

START_TEST (warnings)
{
  g_autoptr (SpAnalyzer) a = analyzer_from (example), bare = analyzer_from ("[analyzer]\nname=Bare\nrbw_switch_db=0.2\nknob=7\n");
  ck_assert_ptr_null (find_reason (a->warnings, SP_REASON_U_ASSUMED, a->name));
  ck_assert_uint_eq (a->warnings->len, 0);

  static const struct {
    const char *what;
    double assumed;
  } half[] = {
    { "accuracy", 1.5 }, { "flatness", 1.0 }, { "scale", 0.5 }, { "repeatability", 0.05 }, { "attenuator_switch", 0.5 },
  };
  for (guint i = 0; i < G_N_ELEMENTS (half); i++) {
    const SpReason *reason = find_reason (bare->warnings, SP_REASON_U_ASSUMED, half[i].what);
    ck_assert_ptr_nonnull (reason);
    near (reason->U_ASSUMED.assumed_db, half[i].assumed, 0);
  }
  ck_assert_ptr_null (find_reason (bare->warnings, SP_REASON_U_ASSUMED, "rbw_switch"));
  ck_assert (bare->accuracy.assumed && !bare->rbw_switch.assumed);
  ck_assert_ptr_nonnull (find_reason (bare->warnings, SP_REASON_VSWR_ASSUMED, "Bare"));
  ck_assert_ptr_nonnull (find_reason (bare->warnings, SP_REASON_RATING_MISSING, "Bare"));
  ck_assert_ptr_nonnull (find_reason (bare->warnings, SP_REASON_UNKNOWN_KEY, "knob"));
  near (bare->intercept_u_db, 1, 0);
}
END_TEST

START_TEST (kinds_of_width)
{
  g_autoptr (SpAnalyzer) a = analyzer_from ("[analyzer]\nname=x\naccuracy_db=0.6\naccuracy_kind=normal2\nflatness_db=0.6\nscale_db=0.6\n"
                                            "scale_kind=standard\n");
  near (sp_width_u_db (&a->accuracy), 0.3, 1e-12);
  near (sp_width_u_db (&a->flatness), 0.6 / sqrt (3), 1e-12);
  near (sp_width_u_db (&a->scale), 0.6, 1e-12);
}
END_TEST

START_TEST (text_is_a_fixed_point)
{
  g_autofree char *more = g_strconcat (example,
                                       "damage_attenuation_db=10\nmax_dc_v=25\nscale_kind=normal2\nharmonic_intercepts_dbm=4 30; 5 28.125\n"
                                       "residuals=120MHz -105; 240.5MHz -108\nlamp=green\n[box]\nshelf=3\n",
                                       NULL);
  g_autoptr (SpAnalyzer) a = analyzer_from (more), b = analyzer_from (a->text);
  ck_assert_str_eq (a->text, b->text);
  ck_assert_str_eq (a->sha256, b->sha256);
  ck_assert_ptr_nonnull (strstr (a->text, "lamp=green\n"));
  ck_assert_ptr_nonnull (strstr (a->text, "[box]\nshelf=3\n"));
  near (b->intercept_dbm[5]->value[0], 28.125, 0);
  near (g_array_index (b->residuals, double, 2), 240.5e6, 0);
  near (g_array_index (b->residuals, double, 3), -108, 0);
  near (sp_width_u_db (&b->scale), 0.1, 1e-12);
  g_autoptr (SpAnalyzer) c = analyzer_from (example), bare = analyzer_from ("[analyzer]\nname=Bare\n");
  ck_assert_str_ne (a->sha256, c->sha256);
  g_autoptr (SpAnalyzer) again = analyzer_from (bare->text); /* what was assumed stays assumed */
  ck_assert (again->accuracy.assumed);
  ck_assert_uint_eq (again->warnings->len, bare->warnings->len);
}
END_TEST

START_TEST (noise)
{
  g_autoptr (SpAnalyzer) power = analyzer_from ("[analyzer]\ndanl_dbm_hz=-150\nfilter=flat\n"),
                         none = analyzer_from ("[analyzer]\nname=x\n"),
                         log = analyzer_from ("[analyzer]\ndanl_dbm_hz=-150\ndanl_average=log\nfilter=gaussian\n");
  near (sp_analyzer_noise_dbm (power, 1e8, 1e4, 0), -110, 1e-9);
  near (sp_analyzer_noise_dbm (power, 1e8, 1e4, 20), -90, 1e-9);
  near (sp_analyzer_noise_dbm (log, 1e8, 1e4, 0), -110 + 2.5068 + 10 * log10 (1.0644670), 1e-6);
  ck_assert (isnan (sp_analyzer_noise_dbm (none, 1e8, 1e4, 0)));
}
END_TEST

START_TEST (product)
{
  g_autoptr (SpAnalyzer) a = analyzer_from ("[analyzer]\nsecond_intercept_dbm=10MHz 40; 1GHz 50\nthird_order_intercept_dbm=12\n"
                                            "harmonic_intercepts_dbm=4 30; 15 20\n");
  near (sp_analyzer_product_dbm (a, 2, 100e6, -30), 2 * -30 - 45, 1e-9);
  near (sp_analyzer_product_dbm (a, 3, 100e6, -30), 3 * -30 - 2 * (12 + 4.7712), 1e-9);
  near (sp_analyzer_product_dbm (a, 4, 100e6, -30), 4 * -30 - 3 * 30, 1e-9);
  near (sp_analyzer_product_dbm (a, 15, 100e6, -30), 15 * -30 - 14 * 20, 1e-9);
  ck_assert (isnan (sp_analyzer_product_dbm (a, 5, 100e6, -30)));
  ck_assert (isnan (sp_analyzer_product_dbm (a, 1, 100e6, -30)));
  ck_assert (isnan (sp_analyzer_product_dbm (a, 99, 100e6, -30)));
  /* Ten dB less at the mixer: the nth falls by n times as much. */
  for (guint n = 2; n <= 4; n++)
    near (sp_analyzer_product_dbm (a, n, 1e8, -30) - sp_analyzer_product_dbm (a, n, 1e8, -40), 10.0 * n, 1e-9);
}
END_TEST

START_TEST (phase_noise)
{
  g_autoptr (SpAnalyzer) a = analyzer_from (example), none = analyzer_from ("[analyzer]\nname=x\n");
  gboolean held = TRUE;
  near (sp_analyzer_phase_noise (a, 100e3, &held), -110, 1e-12);
  ck_assert (!held);
  near (sp_analyzer_phase_noise (a, -100e3, &held), -110, 1e-12);
  near (sp_analyzer_phase_noise (a, sqrt (1e4 * 1e5), &held), -102.5, 1e-9);
  near (sp_analyzer_phase_noise (a, 50e6, &held), -125, 1e-12);
  ck_assert (held);
  near (sp_analyzer_phase_noise (a, 100, &held), -95, 1e-12);
  ck_assert (held);
  ck_assert (isnan (sp_analyzer_phase_noise (none, 1e5, &held)));
}
END_TEST

START_TEST (damage)
{
  g_autoptr (SpAnalyzer) any = analyzer_from ("[analyzer]\ndamage_dbm=20\n"),
                         at10 = analyzer_from ("[analyzer]\ndamage_dbm=27\ndamage_attenuation_db=10\n"),
                         none = analyzer_from ("[analyzer]\nname=x\n");
  near (sp_analyzer_damage_dbm (any, 0), 20, 0);
  near (sp_analyzer_damage_dbm (any, NAN), 20, 0);
  near (sp_analyzer_damage_dbm (at10, 10), 27, 0);
  near (sp_analyzer_damage_dbm (at10, 30), 27, 0);
  near (sp_analyzer_damage_dbm (at10, 4), 21, 0);
  near (sp_analyzer_damage_dbm (at10, NAN), 17, 0); /* not known: as at 0 dB */
  ck_assert (isnan (sp_analyzer_damage_dbm (none, 10)));
}
END_TEST

START_TEST (filter_shapes)
{
  for (int k = 0; k < 3; k++) {
    SpFilter filter = (SpFilter) k;
    double last = 0;
    near (sp_filter_response_db (filter, 0, 1e3), 0, 0);
    for (double x = 0; x < 6; x += 0.05) {
      double db = sp_filter_response_db (filter, x * 1e3, 1e3);
      ck_assert (db <= last);
      ck_assert (db == sp_filter_response_db (filter, -x * 1e3, 1e3));
      last = db;
    }
    ck_assert_double_ge (sp_filter_nbw_ratio (filter), 1);
  }
}
END_TEST

static const struct {
  const char *text, *place, *says;
} bad[] = {
  { "", "t.analyzer:1:1: ", "[analyzer]" },
  { "[analyzer]\ndamage_dbm=hot\n", "t.analyzer:2:12: ", "hot" },
  { "[analyzer]\naccuracy_db=-0.1\n", "t.analyzer:2:13: ", "0" },
  { "[analyzer]\naccuracy_kind=gauss\n", "t.analyzer:2:15: ", "normal2" },
  { "[analyzer]\ndanl_dbm_hz=1GHz -150; 10MHz -148\n", "t.analyzer:2:24: ", "ascending" },
  { "[analyzer]\ndanl_dbm_hz=1GHz\n", "t.analyzer:2:13: ", "frequency" },
  { "[analyzer]\nphase_noise_dbc_hz=-100\n", "t.analyzer:2:20: ", "frequency" },
  { "[analyzer]\nthird_harmonic_intercept_dbm=20\nthird_order_intercept_dbm=15\n", "t.analyzer:3:27: ", "third_harmonic" },
  { "[analyzer]\nharmonic_intercepts_dbm=3 30\n", "t.analyzer:2:25: ", "4" },
  { "[analyzer]\nharmonic_intercepts_dbm=4.5 30\n", "t.analyzer:2:25: ", "whole" },
  { "[analyzer]\nharmonic_intercepts_dbm=4 30; 16 30\n", "t.analyzer:2:31: ", "15" },
  { "[analyzer]\nattenuator_steps_db=0;10;5\n", "t.analyzer:2:26: ", "ascending" },
  { "[analyzer]\nattenuator_steps_db=-5;10\n", "t.analyzer:2:21: ", "-5" },
  { "[analyzer]\nrbw_steps=1kHz;0\n", "t.analyzer:2:16: ", "0" },
  { "[analyzer]\nvswr=0.5\n", "t.analyzer:2:6: ", "1" },
  { "[analyzer]\npoints_max=1\n", "t.analyzer:2:12: ", "2" },
  { "[analyzer]\nsweep_s=10kHz 1GHz\n", "t.analyzer:2:9: ", "seconds" },
  { "[analyzer]\nsweep_s=10kHz 1GHz 3; 10kHz 1GHz 4\n", "t.analyzer:2:23: ", "ascending" },
  { "[analyzer]\nsweep_s=10kHz 1GHz 0\n", "t.analyzer:2:9: ", "10kHz 1GHz 0" },
  { "[analyzer]\nfilter=brickwall\n", "t.analyzer:2:8: ", "sync4" },
  { "[analyzer]\nfrequency_ppm=-1\n", "t.analyzer:2:15: ", "0" },
  { "[analyzer]\nintercept_u_db=-1\n", "t.analyzer:2:16: ", "0" },
  { "[analyzer]\ndamage_dbm=20\ndamage_dbm=30\n", "t.analyzer:3:", "damage_dbm" },
};

START_TEST (place_and_sense)
{
  g_autoptr (GError) error = NULL;
  ck_assert_ptr_null (analyzer_try (bad[_i].text, &error));
  ck_assert_ptr_nonnull (error);
  ck_assert_msg (g_str_has_prefix (error->message, bad[_i].place), "%s: not at %s", error->message, bad[_i].place);
  ck_assert_msg (strstr (error->message, bad[_i].says) != NULL, "%s: says nothing of %s", error->message, bad[_i].says);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("analyzer/analyzer");
  TCase *t = tcase_create ("profile");
  tcase_add_test (t, every_key);
  tcase_add_test (t, warnings);
  tcase_add_test (t, kinds_of_width);
  tcase_add_test (t, text_is_a_fixed_point);
  tcase_add_test (t, noise);
  tcase_add_test (t, product);
  tcase_add_test (t, phase_noise);
  tcase_add_test (t, damage);
  tcase_add_test (t, filter_shapes);
  tcase_add_loop_test (t, place_and_sense, 0, G_N_ELEMENTS (bad));
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
