/* The level of a line among its points: the parabola and its bounds, points that are no line, the least of a bucket. */
#include "core/judge/judge.h"
#include "tests/judge/workshop.h"
#include "tests/suite.h"

#define SHEET                                                                                                                              \
  "[bench]\ntitle=t\nchain=t.chain\nanalyzer=t.analyzer\nmask=t.mask\ntemperature_c=23\nnecessary_bandwidth=16kHz\nmodulation="            \
  "none\nradio_vswr=1.0\n"                                                                                                                 \
  "radio_harmonic_vswr=1.0\n\n[radio Testling]\nfundamental=146MHz\nkeyed=k.csv\n"
#define MASK                                                                                                                               \
  "[mask]\nname=own\nharmonics=2\nexclude=0.5\n[rule 1]\nfundamental=1kHz 1GHz\npower_w=0 inf\nemission=1kHz 3GHz\nceiling_dbm=-16\n"
#define RBW_HZ 100e3
#define CHAIN_DB 40.0

typedef double (*Response) (double from_line_rbws, double step_rbws);

static double
at_point (double x, double step)
{
  (void) step;
  return -12.0412 * x * x;
}

/* Gaussian: the far end of the bucket is the least. */
static double
least_of_bucket (double x, double step)
{
  return at_point (fabs (x) + step / 2, step);
}

/* Carrier of 37 dBm at 146 MHz and a second harmonic `offset` steps beyond a point, both as `response` reads them; no noise but a quiet ripple. */
static SpFindings *
judged (const char *detector, double step_rbws, double offset, double second_dbm, Response response, const double *three)
{
  char *shop = shop_open ();
  double step = step_rbws * RBW_HZ, second = 292e6 + offset * step;
  g_autoptr (GString) text = g_string_new (NULL);
  g_string_append_printf (text, "RBW,%.0f Hz\nAttenuation,10 dB\nDetector,%s\nFrequency (Hz),Level (dBm)\n", RBW_HZ, detector);
  for (int side = 0; side < 2; side++)
    for (int i = -300; i <= 300; i++) {
      double line = side ? second : 146e6, f = (side ? 292e6 : 146e6) + i * step, top = side ? second_dbm - CHAIN_DB : 37 - CHAIN_DB;
      double level = fmax (top + response ((f - line) / RBW_HZ, step_rbws), -110 + 0.3 * (abs (i) % 5));
      if (side && three && abs (i) <= 1)
        level = three[i + 1] - CHAIN_DB;
      g_string_append_printf (text, "%.1f,%.4f\n", f, level);
    }
  shop_put (shop, "k.csv", text->str);
  shop_put (shop, "t.mask", MASK);
  g_autoptr (SpBench) bench = shop_bench (shop, SHOP_INTERCEPTS, SHEET);
  SpFindings *findings = sp_judge (bench);
  shop_close (shop);
  return findings;
}

static const SpEmission *
second_of (const SpFindings *f)
{
  ck_assert_uint_eq (f->conditions[0].emissions[0].order, 2);
  ck_assert (f->conditions[0].emissions[0].detected);
  return &f->conditions[0].emissions[0];
}

START_TEST (the_vertex_of_a_gaussian_is_its_line)
{
  static const double steps[] = { 0.1, 0.25, 0.5, 1 }, offsets[] = { 0, 0.2, 0.499 };
  for (guint i = 0; i < G_N_ELEMENTS (steps); i++)
    for (guint k = 0; k < G_N_ELEMENTS (offsets); k++) {
      g_autoptr (SpFindings) f = judged ("sample", steps[i], offsets[k], -13, at_point, NULL);
      const SpEmission *e = second_of (f);
      ck_assert_double_eq_tol (e->level_dbm, -13, 0.002);
      ck_assert_double_eq_tol (e->frequency_hz, 292e6 + offsets[k] * steps[i] * RBW_HZ, 0.01 * steps[i] * RBW_HZ);
      ck_assert_double_eq (e->sampling_loss_db, 0);
      ck_assert_int_eq (e->verdict, SP_VERDICT_EXCEEDS);
    }
}
END_TEST

/* At half an RBW a Gaussian rises by 12.04/16 = 0.75 dB at most over the greatest point; points that claim more are no line. */
START_TEST (the_vertex_is_bounded)
{
  static const double narrow[] = { -16.51, -16.5,
                                   -24.8 }; /* bends by 8.3 dB where 6.0 is a Gaussian's: vertex 1.04 dB up, within 20 % of the width */
  static const double no_line[] = { -17.05, -17, -35 }; /* bends by 18 dB: 2.3 dB up, as the parabola has it */
  g_autoptr (SpFindings) within = judged ("sample", 0.5, 0, -17, at_point, narrow),
                         beyond = judged ("sample", 0.5, 0, -17, at_point, no_line);
  ck_assert_double_le (second_of (within)->level_dbm, -16.5 + 12.0412 * 0.3 * 0.3 + 1e-9);
  ck_assert_double_ge (second_of (within)->level_dbm, -16.5 + 0.9);
  ck_assert_double_eq_tol (second_of (beyond)->level_dbm, -17, 1e-4);
  ck_assert_double_eq_tol (second_of (beyond)->sampling_loss_db, 12.0412 / 16, 1e-4); /* what it may have lost all the same */
  ck_assert_int_ne (second_of (beyond)->verdict, SP_VERDICT_EXCEEDS);
  ck_assert_int_ne (second_of (beyond)->verdict, SP_VERDICT_COMPLIES); /* -17.0 + 0.75 is not below -16 */
}
END_TEST

/* The least of a bucket is up to 12.04 (s/B)^2 low also where the points are no further apart than the RBW. */
START_TEST (negative_peaks_lose_between_points)
{
  static const double steps[] = { 0.5, 0.7, 0.94, 1 };
  for (guint i = 0; i < G_N_ELEMENTS (steps); i++) {
    g_autoptr (SpFindings) f = judged ("negative", steps[i], 0.5, -13, least_of_bucket, NULL);
    const SpEmission *e = second_of (f);
    double loss = 12.0412 * steps[i] * steps[i];
    ck_assert_double_eq_tol (e->level_dbm, -13 - loss, 0.01);
    ck_assert_double_eq_tol (e->sampling_loss_db, loss, 0.01);
    ck_assert_int_ne (e->verdict, SP_VERDICT_COMPLIES);
    ck_assert_double_ge (e->level_dbm + e->budget.expanded_level_db, -13);
  }
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("judge/line");
  TCase *t = tcase_create ("line");
  tcase_add_test (t, the_vertex_of_a_gaussian_is_its_line);
  tcase_add_test (t, the_vertex_is_bounded);
  tcase_add_test (t, negative_peaks_lose_between_points);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
