/* mask.c - the built-in masks against the published rules
 *
 * The vectors are exact mathematics of the formulas of the clauses named (47 CFR, eCFR 2026-09-23 and the editions in the masks; AFV 17(2);
 * the figures of the Radio Regulations, Appendix 3, category A, from memory and secondary sources): four decimals, so 5e-5. */
#include "tests/mask/masks.h"

#include <string.h>

#include "core/mask/mask.h"

#define BANDWIDTH 16e3
#define TOLERANCE 5e-5
#define PART97 "47 CFR 97.307(d), (e), eCFR 2026-09-23; calculated"
#define APPENDIX3 "Radio Regulations, Appendix 3, category A, from memory; calculated"
#define AFV "AFV 17(2), since 2008-11-13; calculated: max(PEP - A, B)"

static double
limit (const SpMask *mask, double f0, double p, double f)
{
  return sp_mask_limit (mask, f0, p, BANDWIDTH, NAN, f).limit_dbm;
}

static double
dbm (double p)
{
  return 10 * log10 (p) + 30;
}

/* P; Pd; HF after 2003; before 2003: L, A; 30-225 MHz: L, A; strict: L, A; ITU below 30 MHz: L, A; above: L, A */
static const double rows[][13] = {
  { 0.05, 16.9897, -26.0103, -13.0103, 30, -20, 36.9897, -20, 36.9897, -13, 29.9897, -13, 29.9897 },
  { 0.1, 20, -23, -10, 30, -20, 40, -20, 40, -13, 33, -13, 33 },
  { 0.2, 23.0103, -19.9897, -6.9897, 30, -16.9897, 40, -20, 43.0103, -13, 36.0103, -13, 36.0103 },
  { 0.25, 23.9794, -19.0206, -6.0206, 30, -16.0206, 40, -20, 43.9794, -13, 36.9794, -13, 36.9794 },
  { 0.5, 26.9897, -16.0103, -3.0103, 30, -16.0206, 43.0103, -20, 46.9897, -13, 39.9897, -13, 39.9897 },
  { 1, 30, -13, 0, 30, -16.0206, 46.0206, -20, 50, -13, 43, -13, 43 },
  { 5, 36.9897, -6.0103, -3.0103, 40, -16.0206, 53.0103, -20, 56.9897, -13, 49.9897, -13, 49.9897 },
  { 8, 39.0309, -3.9691, -0.9691, 40, -16.0206, 55.0515, -20, 59.0309, -10.9691, 50, -13, 52.0309 },
  { 25, 43.9794, 0.9794, 3.9794, 40, -16.0206, 60, -16.0206, 60, -6.0206, 50, -13, 56.9794 },
  { 25.001, 43.9796, 0.9796, 3.9796, 40, -16.0204, 60, -16.0204, 60, -6.0204, 50, -13, 56.9796 },
  { 50, 46.9897, 3.9897, 6.9897, 40, -13.0103, 60, -13.0103, 60, -3.0103, 50, -13, 59.9897 },
  { 100, 50, 7, 10, 40, -10, 60, -10, 60, 0, 50, -13, 63 },
  { 1500, 61.7609, 18.7609, 16.9897, 44.7712, 1.7609, 60, 1.7609, 60, 11.7609, 50, -8.2391, 70 },
};

static void
check_pair (const char *what, const char *source, const SpMask *mask, double f0, const double *row, int column)
{
  double level = limit (mask, f0, row[0], 3 * f0);
  sp_outside (what, source, level, row[column], TOLERANCE);
  sp_outside (what, source, dbm (row[0]) - level, row[column + 1], TOLERANCE);
}

START_TEST (part_97_table)
{
  g_autoptr (SpMask) now = load ("us-amateur");
  g_autoptr (SpMask) before = load ("us-amateur-before-2003");
  g_autoptr (SpMask) strict = load ("us-amateur-strict");
  g_autoptr (SpMask) advisory = load ("us-amateur-uhf-advisory");
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    const double *row = rows[i];
    sp_outside ("power in dBm", "calculated: 10 lg P + 30", dbm (row[0]), row[1], TOLERANCE);
    sp_outside ("us-amateur, HF", PART97, limit (now, 14.2e6, row[0], 28.4e6), row[2], TOLERANCE);
    sp_outside ("us-amateur, HF, attenuation", PART97, dbm (row[0]) - limit (now, 14.2e6, row[0], 28.4e6), 43, TOLERANCE);
    check_pair ("us-amateur-before-2003, HF", PART97, before, 14.2e6, row, 3);
    check_pair ("us-amateur, 30-225 MHz", PART97, now, 146e6, row, 5);
    check_pair ("us-amateur-before-2003, 30-225 MHz", PART97, before, 146e6, row, 5);
    check_pair ("us-amateur-strict, 30-225 MHz", PART97 ", optional reading", strict, 146e6, row, 7);
    check_pair ("us-amateur-uhf-advisory", "the figures of 97.307(e), advisory", advisory, 446e6, row, 5);
    ck_assert (isnan (limit (now, 446e6, row[0], 892e6)));
    ck_assert (isnan (limit (before, 446e6, row[0], 892e6)));
    ck_assert (isnan (limit (strict, 446e6, row[0], 892e6)));
    ck_assert (isnan (limit (advisory, 146e6, row[0], 292e6)));
  }
}
END_TEST

START_TEST (appendix_3_table)
{
  /* "less stringent of 43 + 10 lg P and 50 dB" is a relief: no rule of its own is needed for it */
  g_autoptr (SpMask) mask = parse (
      "[mask]\npower=pep\nexclude=2.5\n[rule below 30 MHz]\nfundamental=0 <30MHz\nattenuation_db=50\nrelief_dbm=-13\n"
      "[rule above]\nfundamental=30MHz inf\nattenuation_db=70\nrelief_dbm=-13\n");
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    check_pair ("category A below 30 MHz", APPENDIX3, mask, 14.2e6, rows[i], 9);
    check_pair ("category A above 30 MHz", APPENDIX3, mask, 146e6, rows[i], 11);
    check_pair ("category A above 225 MHz", APPENDIX3, mask, 446e6, rows[i], 11);
  }
}
END_TEST

START_TEST (edges)
{
  g_autoptr (SpMask) now = load ("us-amateur");
  g_autoptr (SpMask) before = load ("us-amateur-before-2003");
  sp_outside ("just under 5 W", PART97, limit (before, 7e6, 4.999, 21e6), 6.9888, TOLERANCE);
  sp_outside ("5 W", PART97, limit (before, 7e6, 5, 21e6), -3.0103, TOLERANCE);
  sp_outside ("499 W", PART97, limit (before, 7e6, 499, 21e6), 16.9810, TOLERANCE);
  sp_outside ("500 W", PART97, limit (before, 7e6, 500, 21e6), 16.9897, TOLERANCE);
  sp_outside ("501 W", PART97, limit (before, 7e6, 501, 21e6), 16.9897, TOLERANCE);
  /* (d) says "below 30 MHz", (e) "30-225 MHz" */
  sp_outside ("29.999999 MHz", PART97, limit (now, 29.999999e6, 5, 60e6), -6.0103, TOLERANCE);
  sp_outside ("30 MHz", PART97, limit (now, 30e6, 5, 60e6), -16.0206, TOLERANCE);
  sp_outside ("222-225 MHz", PART97, limit (now, 224.9e6, 5, 450e6), -16.0206, TOLERANCE);
  sp_outside ("225 MHz", PART97, limit (now, 225e6, 5, 450e6), -16.0206, TOLERANCE);
  ck_assert (isnan (limit (now, 225.000001e6, 5, 450e6)));
  /* the fundamental picks the clause, not the place of the emission */
  sp_outside ("42 MHz from 14 MHz", PART97, limit (now, 14e6, 5, 42e6), -6.0103, TOLERANCE);
  sp_outside ("438 MHz from 146 MHz", PART97, limit (now, 146e6, 5, 438e6), -16.0206, TOLERANCE);
}
END_TEST

/* The rule once more, as a function: an oracle that shares nothing with the mask. */
static int
us_amateur (double f_hz, double p_w, int before_2003, double *l)
{
  double d = 10 * log10 (p_w) + 30, cap25 = 10 * log10 (25e-6) + 30;
  if (f_hz < 30e6) {
    *l = !before_2003 ? d - 43 : p_w < 5 ? d - 30 : fmin (10 * log10 (.05) + 30, d - 40);
    return 1;
  }
  if (f_hz > 225e6)
    return 0;
  *l = p_w > 25 ? d - 60 : fmax (-20, fmin (cap25, d - 40));
  return 1;
}

START_TEST (oracle)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (97307);
  g_autoptr (SpMask) now = load ("us-amateur");
  g_autoptr (SpMask) before = load ("us-amateur-before-2003");
  static const double exact_p[] = { 0.1, 0.25, 4.9999999999, 5, 25, 25.0000000001, 500 },
                      exact_f[] = { 1.8e6, 29999999, 30e6, 225e6, 225000001 };
  double worst = 0;
  for (int i = 0; i < 200000; i++) {
    double p = i % 3 ? pow (10, g_rand_double_range (rand, -3, 3.5)) : exact_p[g_rand_int_range (rand, 0, G_N_ELEMENTS (exact_p))];
    double f0 = i % 5 ? 1e6 * pow (10, g_rand_double_range (rand, 0, 3)) : exact_f[g_rand_int_range (rand, 0, G_N_ELEMENTS (exact_f))];
    double f = f0 * g_rand_double_range (rand, 1.5, 12), want = NAN, got = limit (i & 1 ? before : now, f0, p, f);
    if (us_amateur (f0, p, i & 1, &want))
      worst = fmax (worst, isnan (got) ? INFINITY : fabs (got - want));
    else
      ck_assert_msg (isnan (got), "f0 %.17g P %.17g: a limit of %g where the rule sets none", f0, p, got);
  }
  sp_outside ("us_amateur() over 200,000 random f0, P", PART97, worst, 0, 1e-9);
}
END_TEST

typedef struct {
  const char *mask, *source;
  double f0_hz, p_w, offset_hz, want_dbm;
} Near;

#define FRS "47 CFR 95.579, 2018-10-01"
#define RC "47 CFR 95.779, 2024-09-30"
#define MARINE "47 CFR 80.211(a), 2014-10-01"

static const Near nears[] = {
  { "us-frs", FRS, 462.5625e6, 0.5, 6.25e3, 1.9897 },
  { "us-frs", FRS, 462.5625e6, 0.5, 10e3, 1.9897 },
  { "us-frs", FRS, 462.5625e6, 0.5, 12.5e3, -8.0103 },
  { "us-frs", FRS, 462.5625e6, 0.5, -20e3, -8.0103 },
  { "us-frs", FRS, 462.5625e6, 0.5, 31.25e3, -8.0103 },
  { "us-frs", FRS, 462.5625e6, 0.5, 31.251e3, -13 },
  { "us-frs", FRS, 467.7125e6, 2, 10e3, 8.0103 },
  { "us-frs", FRS, 467.7125e6, 2, -20e3, -1.9897 },
  { "us-frs", FRS, 467.7125e6, 2, 467.7125e6, -13 },
  { "us-frs", FRS, 467.7125e6, 0.1, 1e6, -13 },
  { "us-frs", FRS, 462.7e6, 0.1, 20e3, -15 },
  { "us-frs", FRS, 462.7e6, 0.5, 6.249e3, NAN },
  { "us-frs", FRS, 440e6, 0.5, 1e6, NAN },
  { "us-rc-27", RC, 27.145e6, 4, 6e3, 11.0206 },
  { "us-rc-27", RC, 27.145e6, 4, 8e3, 1.0206 },
  { "us-rc-27", RC, 27.145e6, 4, -15e3, 1.0206 },
  { "us-rc-27", RC, 27.145e6, 4, 20e3, 1.0206 },
  { "us-rc-27", RC, 27.145e6, 4, 27.145e6, -13 },
  { "us-rc-27", RC, 27.145e6, 4, 3.999e3, NAN },
  { "us-rc-72", RC, 72.5e6, 0.75, 6e3, 3.7506 },
  { "us-rc-72", RC, 72.5e6, 0.75, 9e3, -16.2494 },
  { "us-rc-72", RC, 72.5e6, 0.75, 10e3, -26.2494 },
  { "us-rc-72", RC, 75.5e6, 0.75, -15e3, -26.2494 },
  { "us-rc-72", RC, 75.5e6, 0.75, 75.5e6, -26 },
  { "us-marine-ssb", MARINE, 4.125e6, 100, 2e3, 22 },
  { "us-marine-ssb", MARINE, 4.125e6, 100, -4.5e3, 22 },
  { "us-marine-ssb", MARINE, 4.125e6, 100, 5e3, 15 },
  { "us-marine-ssb", MARINE, 4.125e6, 100, 7.5e3, 15 },
  { "us-marine-ssb", MARINE, 4.125e6, 100, 7.6e3, -13 },
  { "us-marine-ssb", MARINE, 4.125e6, 100, 4.125e6, -13 },
  { "us-marine-ssb", MARINE, 4.125e6, 100, 1.4e3, NAN },
};

START_TEST (near_the_channel)
{
  for (guint i = 0; i < G_N_ELEMENTS (nears); i++) {
    const Near *n = &nears[i];
    g_autoptr (SpMask) mask = load (n->mask);
    double got = sp_mask_limit (mask, n->f0_hz, n->p_w, 3e3, NAN, n->f0_hz + n->offset_hz).limit_dbm;
    if (isnan (n->want_dbm))
      ck_assert_msg (isnan (got), "%s at %g Hz: %g dBm where the rule sets none", n->mask, n->offset_hz, got);
    else
      sp_outside (n->mask, n->source, got, n->want_dbm, TOLERANCE);
  }
}
END_TEST

/* PEP; then the limits at 1, 14, 40, 300, 1300 MHz */
static const double austria[][6] = { { 5, -23.0103, -3.0103, -10.4971, -23.0103, -23.0103 },
                                     { 0.1, -36, -20, -27.4868, -36, -30 },
                                     { 1, -30, -10, -17.4868, -30, -30 },
                                     { 100, -10, 10, 2.5132, -10, -10 } };

START_TEST (afv_table)
{
  static const double at_hz[] = { 1e6, 14e6, 40e6, 300e6, 1300e6 };
  g_autoptr (SpMask) mask = load ("at-amateur");
  for (guint i = 0; i < G_N_ELEMENTS (austria); i++)
    for (guint k = 0; k < G_N_ELEMENTS (at_hz); k++)
      sp_outside ("at-amateur", AFV, limit (mask, 7.1e6, austria[i][0], at_hz[k]), austria[i][k + 1], TOLERANCE);
  sp_outside ("A at 40 MHz", AFV, dbm (5) - limit (mask, 7.1e6, 5, 40e6), 47.4868, TOLERANCE);
  sp_outside ("A at 45 MHz", AFV, dbm (5) - limit (mask, 7.1e6, 5, 45e6), 54.0906, TOLERANCE);
  sp_outside ("1.7 MHz takes the stricter row", AFV, limit (mask, 7.1e6, 5, 1.7e6), -23.0103, TOLERANCE);
  sp_outside ("35 MHz", AFV, limit (mask, 7.1e6, 5, 35e6), -3.0103, TOLERANCE);
  sp_outside ("just under 50 MHz", AFV, dbm (5) - limit (mask, 7.1e6, 5, 50e6 - 1e-3), 59.9978, TOLERANCE);
  sp_outside ("1 GHz takes the stricter row", AFV, limit (mask, 7.1e6, 0.1, 1e9), -36, TOLERANCE);
  ck_assert (isnan (limit (mask, 7.1e6, 5, 0.149e6)));
  ck_assert (isnan (limit (mask, 7.1e6, 5, 40.001e9)));
  ck_assert_int_eq (mask->rules[0].power, SP_POWER_PEP);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("masks against the rules");
  TCase *t = tcase_create ("all");
  tcase_set_timeout (t, 120);
  tcase_add_test (t, part_97_table);
  tcase_add_test (t, appendix_3_table);
  tcase_add_test (t, edges);
  tcase_add_test (t, oracle);
  tcase_add_test (t, near_the_channel);
  tcase_add_test (t, afv_table);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
