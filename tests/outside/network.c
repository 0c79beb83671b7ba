/* Touchstone examples of the specification, a simulator's file, and cascades worked out by chain matrices. */
#include "core/network/network.h"
#include "tests/suite.h"

#include <complex.h>
#include <string.h>

static SpTwoPort *
parse (const char *text)
{
  g_autoptr (GError) error = NULL;
  SpTwoPort *two_port = sp_two_port_parse (text, strlen (text), "t.s2p", &error);
  sp_no_error (error);
  return two_port;
}

static void
check_complex (const char *what, const char *source, complex double got, double re, double im, double tolerance)
{
  sp_outside (what, source, creal (got), re, tolerance);
  sp_outside (what, source, cimag (got), im, tolerance);
}

static double
db (complex double s)
{
  return 20 * log10 (cabs (s));
}

static double
degrees (complex double s)
{
  return atan2 (cimag (s), creal (s)) * 180 / G_PI;
}

static const char example_18[] = "!2-port network, S-parameter and noise data\n#\n! NETWORK PARAMETERS\n2 .95 -26 3.57 157 .04 76 .66 -14\n"
                                 "22 .60 -144 1.30 40 .14 40 .56 -85\n! NOISE PARAMETERS\n4 .7 .64 69 .38\n18 2.7 .46 -33 .40\n";
static const char example_17[] = "[Version] 2.0\n#\n[Number of Ports] 2\n[Two-Port Data Order] 21_12\n[Number of Frequencies] 2\n"
                                 "[Number of Noise Frequencies] 2\n[Reference] 50 50.0\n[Network Data]\n2 .95 -26 3.57 157 .04 76 .66 -14\n"
                                 "22 .60 -144 1.30 40 .14 40 .56 -85\n[Noise Data]\n4 .7 .64 69 19\n18 2.7 .46 -33 20\n";

START_TEST (specification)
{
  /* Example 17 names a second reference of 25 ohm, which is refused; with 50 it must read as its twin 18 does. */
  const struct {
    const char *text, *source;
  } files[] = { { example_18, "Touchstone 1.1, example 18" }, { example_17, "Touchstone 2.0, example 17" } };

  for (guint i = 0; i < 2; i++) {
    const char *source = files[i].source;
    g_autoptr (SpTwoPort) t = parse (files[i].text);
    ck_assert_uint_eq (t->n, 2);
    sp_outside ("first frequency", source, t->frequency_hz[0], 2e9, 1e-3);
    sp_outside ("second frequency", source, t->frequency_hz[1], 22e9, 1e-3);
    check_complex ("S11", source, t->s11[0], .853854, -.416453, 1e-6);
    check_complex ("S21", source, t->s21[0], -3.286202, 1.394910, 1e-6);
    check_complex ("S12", source, t->s12[0], .009677, .038812, 1e-6);
    check_complex ("S22", source, t->s22[0], .640395, -.159668, 1e-6);
    sp_outside ("S11 in dB", source, db (t->s11[0]), -.4455, 5e-5);
    sp_outside ("S21 in dB", source, db (t->s21[0]), 11.0534, 5e-5);
    sp_outside ("S12 in dB", source, db (t->s12[0]), -27.9588, 5e-5);
    sp_outside ("S22 in dB", source, db (t->s22[0]), -3.6091, 5e-5);
  }
  g_autoptr (SpTwoPort) t = parse ("# GHz S RI R 50.0   \n1.0000 0.3926 -0.1211 -0.0003 -0.0021 -0.0003 -0.0021 0.3926 -0.1211  \n"
                                   "10.000 0.3419 0.3336 -0.0134 0.0379 -0.0134 0.0379 0.3419 0.3336\n");
  sp_outside ("second frequency", "Touchstone 1.1, example 13", t->frequency_hz[1], 10e9, 1e-3);
  check_complex ("S21", "Touchstone 1.1, example 13", t->s21[1], -.0134, .0379, 1e-12);
  check_complex ("S22", "Touchstone 1.1, example 13", t->s22[0], .3926, -.1211, 1e-12);
}
END_TEST

START_TEST (simulator_file)
{
  static const char *source = "a pad as written by ngspice 39.3 (wrs2p)";
  g_autoptr (SpTwoPort) t = parse ("# Hz S RI R 50\n"
                                   " 1.000000e+08   2.038219e-02   4.132465e-02   6.905020e-01  -4.112208e-02   6.905020e-01  "
                                   "-4.112208e-02   1.876513e-02   4.092050e-02\n"
                                   " 3.000000e+08   3.946153e-02   1.205652e-01   6.715162e-01  -1.199742e-01   6.715162e-01  "
                                   "-1.199742e-01   3.765787e-02   1.193861e-01\n");

  sp_outside ("S21 in dB", source, db (t->s21[0]), -3.2013, 5e-5);
  sp_outside ("S21 in degrees", source, degrees (t->s21[0]), -3.408, 5e-4);
  sp_outside ("S21 in dB", source, db (t->s21[1]), -3.3224, 5e-5);
  sp_outside ("S21 in degrees", source, degrees (t->s21[1]), -10.130, 5e-4);
  sp_outside ("S11 in dB", source, db (t->s11[0]), -26.7302, 5e-5);
  sp_outside ("S11 in dB", source, db (t->s11[1]), -17.9336, 5e-5);
}
END_TEST

/* -- cascades by chain matrices, which know nothing of S-parameters -- */

typedef struct {
  complex double a, b, c, d;
} Abcd;

static Abcd
pi_pad (complex double shunt1, complex double series, complex double shunt2)
{
  return (Abcd){ 1 + series / shunt2, series, 1 / shunt1 + 1 / shunt2 + series / (shunt1 * shunt2), 1 + series / shunt1 };
}

static Abcd
product (Abcd p, Abcd q)
{
  return (Abcd){ p.a * q.a + p.b * q.c, p.a * q.b + p.b * q.d, p.c * q.a + p.d * q.c, p.c * q.b + p.d * q.d };
}

static void
to_s (Abcd m, complex double s[4])
{
  const double ohm = 50;
  complex double den = m.a + m.b / ohm + m.c * ohm + m.d, det = m.a * m.d - m.b * m.c;
  complex double all[4] = { (m.a + m.b / ohm - m.c * ohm - m.d) / den, 2 / den, 2 * det / den, (-m.a + m.b / ohm - m.c * ohm + m.d) / den };
  for (guint i = 0; i < 4; i++)
    s[i] = all[i];
}

START_TEST (cascade_of_pads)
{
  static const char *source = "ngspice .sp and chain matrices of a 10 dB pad and a 300/20/290 ohm pad";
  complex double first[4], second[4], both[4], twice[4];

  to_s (pi_pad (96.2475, 71.1512, 96.2475), first);
  to_s (pi_pad (300, 20, 290), second);
  sp_outside ("10 dB pad, S21", "ngspice .sp", creal (first[SP_S21]), .3162278, 2e-7);
  sp_outside ("second pad, S11", source, creal (second[SP_S11]), .0179211, 5e-8);
  sp_outside ("second pad, S21", source, creal (second[SP_S21]), .6929510, 5e-8);
  sp_outside ("second pad, S22", source, creal (second[SP_S22]), .0163282, 5e-8);
  sp_two_port_cascade (first, second, both);
  sp_outside ("cascade, S21", source, creal (both[SP_S21]), .2191304, 1e-7);
  sp_outside ("cascade, S21 in dB", source, db (both[SP_S21]), -13.18595, 5e-6);
  sp_outside ("cascade, S11", source, creal (both[SP_S11]), .0017919, 1e-7);
  sp_outside ("cascade, S22", source, creal (both[SP_S22]), .0163281, 1e-7);
  sp_two_port_cascade (second, second, twice);
  sp_outside ("second pad twice, dB", source, db (twice[SP_S21]), -6.3693565, 5e-8);
  sp_outside ("second pad twice, without interaction", source, 2 * db (second[SP_S21]), -6.3718986, 5e-8);
  sp_outside ("interaction", source, db (twice[SP_S21]) - 2 * db (second[SP_S21]), .0025420, 5e-8);
}
END_TEST

START_TEST (cascade_at_random)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (10);

  for (guint round = 0; round < 200; round++) {
    complex double z[6];
    complex double a[4], b[4], whole[4];
    for (guint i = 0; i < 6; i++)
      z[i] = g_rand_double_range (rand, 1, 500) + I * g_rand_double_range (rand, -300, 300);
    Abcd p = pi_pad (z[0], z[1], z[2]), q = pi_pad (z[3], z[4], z[5]);
    to_s (p, a);
    to_s (q, b);
    to_s (product (p, q), whole);
    sp_two_port_cascade (a, b, a);
    double off = 0;
    for (guint i = 0; i < 4; i++)
      off += cabs (a[i] - whole[i]);
    sp_outside ("cascade of complex two-ports", "calculated: product of chain matrices (Pozar 4.4)", off, 0, 1e-12);
  }
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("outside/network");
  TCase *tests = tcase_create ("two-ports");

  tcase_add_test (tests, specification);
  tcase_add_test (tests, simulator_file);
  tcase_add_test (tests, cascade_of_pads);
  tcase_add_test (tests, cascade_at_random);
  suite_add_tcase (s, tests);
  return s;
}

SP_MAIN (suite)
