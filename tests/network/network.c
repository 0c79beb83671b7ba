#include "core/network/network.h"
#include "core/network/one-port.h"
#include "core/network/touchstone.h"
#include "core/quantity/error.h"
#include "tests/suite.h"

#include <string.h>

#define ROW "1 .1 0 .9 0 .8 0 .2 0\n"

static SpTwoPort *
parse (const char *text)
{
  g_autoptr (GError) error = NULL;
  SpTwoPort *two_port = sp_two_port_parse (text, strlen (text), "t.s2p", &error);
  sp_no_error (error);
  return two_port;
}

/* All these say the same two points. */
START_TEST (spellings)
{
  static const char *const texts[] = {
    "# MHz S MA R 50\n100 .1 0 .9 0 .8 0 .2 0\n200 .1 90 .5 0 .4 0 .2 0\n",
    "#mhz s ma r 50\r\n100 .1 0 .9 0 .8 0 .2 0\r\n200 .1 90 .5 0 .4 0 .2 0\r\n",
    "# R 50 MA MHz S\r100 .1 0 .9 0 .8 0 .2 0\r200 .1 90 .5 0 .4 0 .2 0",
    "\xEF\xBB\xBF! caf\xe9\n\n#\n.1 .1 0 .9 0 .8 0 .2 0 ! na\xefve\n# Hz S RI R 75\n.2 .1 90 .5 0 .4 0 .2 0\n.2 1 .5 20 .3\n.4 1 .5 20 "
    ".3\n",
    "# Hz S RI R 50.0   \n\t1.0E+08\t.1 0 .9 0 .8 0 .2 0\n 2e8 0 .1 .5 0 .4 0 .2 0\n",
    "# kHz S DB\n100000 -20 0 -0.91514981121350 0 -1.93820026016113 0 -13.9794000867204 0\n"
    "200000 -20 90 -6.02059991327962 0 -7.95880017344075 0 -13.9794000867204 0\n",
    "! c\n[Version] 2.0\n# MHz S MA R 75\n[Number of Ports] 2\n[Two-Port Data Order] 21_12\n[Reference] 50\n 50\n[Begin Information]\nwhat "
    "ever\n"
    "[End Information]\n[Matrix Format] Full\n[Network Data]\n100 .1 0 .9 0 .8 0 .2 0\n200 .1 90 .5 0 .4 0 .2 0\n[End]\n! c\n",
    "[version] 2.1\n# MHz S MA R 50 50\n[NUMBER OF PORTS] 2\n[two-port data order] 12_21\n[Number of Frequencies] 2\n[Network Data]\n"
    "100 .1 0 .8 0 .9 0 .2 0\n200 .1 90 .4 0 .5 0 .2 0\n[End]",
  };

  for (guint i = 0; i < G_N_ELEMENTS (texts); i++) {
    g_autoptr (SpTwoPort) t = parse (texts[i]);
    ck_assert_uint_eq (t->n, 2);
    ck_assert (t->frequency_hz[0] == 1e8 && t->frequency_hz[1] == 2e8 && t->reference_ohm == 50);
    const struct {
      complex double got;
      double re, im;
    } rows[] = {
      { t->s11[0], .1, 0 }, { t->s21[0], .9, 0 }, { t->s12[0], .8, 0 }, { t->s22[0], .2, 0 },
      { t->s11[1], 0, .1 }, { t->s21[1], .5, 0 }, { t->s12[1], .4, 0 },
    };
    for (guint k = 0; k < G_N_ELEMENTS (rows); k++)
      ck_assert_msg (fabs (creal (rows[k].got) - rows[k].re) < 1e-12 && fabs (cimag (rows[k].got) - rows[k].im) < 1e-12,
                     "text %u, number %u: %.15g %.15g", i, k, creal (rows[k].got), cimag (rows[k].got));
    ck_assert_uint_eq (strlen (t->sha256), 64);
  }
}
END_TEST

START_TEST (bad_input)
{
  static const struct {
    const char *text, *message;
  } rows[] = {
    { "", "t.s2p: the file ends without data; expected lines of 9 numbers after the option line" },
    { "# GHz\n! only\n", "t.s2p:2: the file ends without data; expected lines of 9 numbers after the option line" },
    { ROW, "t.s2p:1:1: data before the option line; expected one first, such as # MHz S DB R 50" },
    { "# THz S MA R 50\n" ROW, "t.s2p:1:3: found “THz”; expected Hz, kHz, MHz or GHz, S, MA, DB or RI, or R and the reference in ohm" },
    { "# kHz H MA R 1\n" ROW, "t.s2p:1:7: found “H”; expected S: only scattering parameters are read; convert the file" },
    { "! x\n# GHz S MA R 0\n" ROW, "t.s2p:2:14: found “0”; expected a reference in ohm, above 0, such as 50" },
    { "# GHz S MA R 50 -50\n" ROW, "t.s2p:1:17: found “-50”; expected a reference in ohm, above 0, such as 50" },
    { "# GHz S MA R\n" ROW, "t.s2p:1:13: the line ends here; expected a number" },
    { "#\n1 .1 0 .9 0 .8 0 .2\n",
      "t.s2p:2:1: a line of 8 numbers, as of three or four ports; expected 9: the frequency and S11, S21, S12, S22, each as a pair" },
    { "#\n1 .1 0\n", "t.s2p:2:1: a line of 3 numbers, as of a one-port; expected 9: the frequency and S11, S21, S12, S22, each as a pair" },
    { "#\n 1 .1 0 .9 0 .8 0 .2 0 7\n",
      "t.s2p:2:2: a line of 10 numbers; expected 9: the frequency and S11, S21, S12, S22, each as a pair" },
    { "#\n1 .1 0 .9 x .8 0 .2 0\n", "t.s2p:2:11: found “x”; expected a number" },
    { "#\n1 .1 0 .9 nan .8 0 .2 0\n", "t.s2p:2:11: found “nan”; expected a number" },
    { "#\n1 .1 0 0,9 0 .8 0 .2 0\n", "t.s2p:2:8: found “0,9”; expected a number" },
    { "#\n-1 .1 0 .9 0 .8 0 .2 0\n", "t.s2p:2:1: found “-1”; expected a frequency, not below 0" },
    { "# DB\n1 .1 0 99999 0 .8 0 .2 0\n", "t.s2p:2:8: found “99999”; expected a magnitude that a number can hold" },
    { "#\n2 .1 0 .9 0 .8 0 .2 0\n" ROW, "t.s2p:3:1: found “1”; expected a frequency above that of the line before" },
    { "#\n" ROW ROW, "t.s2p:3:1: found “1”; expected a frequency above that of the line before" },
    { "#\n" ROW "2 1 .5 20 .3\n", "t.s2p:3:1: a line of 5 numbers; expected 9: the frequency and S11, S21, S12, S22, each as a pair" },
    { "#\n" ROW "1 1 .5 20 .3\n2 .1 0 .9 0 .8 0 .2 0\n",
      "t.s2p:4:1: a line of 9 fields; expected the noise block's 5 (frequencies of S-parameters must ascend)" },
    { "#\n" ROW "1 1 .5 x .3\n", "t.s2p:3:8: found “x”; expected a number" },
    { "# \xc2\xb5Hz\n", "t.s2p:1:3: the byte 0xC2; expected plain ASCII text" },
    { "\x89PNG\r\n", "t.s2p:1:1: the byte 0x89; expected plain ASCII text" },
    { "[Number of Ports] 2\n", "t.s2p:1:1: a keyword before [Version] 2.0" },
    { "[Version] 1.0\n", "t.s2p:1:11: found “1.0”; expected 2.0 or 2.1" },
    { "[Version]\n", "t.s2p:1:10: the line ends here; expected 2.0 or 2.1" },
    { "[Version] 2.0\n[Number of Ports] 4\n", "t.s2p:2:19: found “4”; expected 2: a two-port is wanted here; more than two are not read" },
    { "[Version] 2.0\n[Number of Ports] 1\n", "t.s2p:2:19: found “1”; expected 2: a two-port is wanted here; more than two are not read" },
    { "[Version] 2.0\n#\n[Network Data]\n" ROW, "t.s2p:4:1: expected [Two-Port Data Order] 21_12 or 12_21 before the data" },
    { "[Version] 2.0\n[Two-Port Data Order] 21\n", "t.s2p:2:23: found “21”; expected 21_12 or 12_21" },
    { "[Version] 2.0\n#\n[Two-Port Data Order] 21_12\n[Reference] 50 inf\n[Network Data]\n" ROW,
      "t.s2p:4:16: found “inf”; expected a number" },
    { "[Version] 2.0\n#\n[Reference] 50\n[Network Data]\n", "t.s2p:4:1: [Reference] has 1 values; expected 2, one for each port" },
    { "[Version] 2.0\n#\n[Reference] 50 50 50\n", "t.s2p:3:19: found “50”; expected two references, one for each port" },
    { "[Version] 2.0\n#\n" ROW, "t.s2p:3:1: found “1”; expected a keyword, such as [Network Data]" },
    { "[Version] 2.0\n#\n[Two-Port Data Order] 21_12\n[Number of Frequencies] 3\n[Network Data]\n" ROW,
      "t.s2p:4: [Number of Frequencies] says 3, but there are 1" },
    { "[Version] 2.0\n[Number of Frequencies] 1e9\n",
      "t.s2p:2:25: found “1e9”; expected how many frequencies there are, from 1 to 200000" },
    { "[Version] 2.0\n[Matrix Format] Middle\n", "t.s2p:2:17: found “Middle”; expected Full, Lower or Upper" },
    { "[Version] 2.0\n#\n[Matrix Format] Lower\n[Network Data]\n" ROW,
      "t.s2p:5:1: a line of 9 numbers; expected 7: the frequency and three pairs, as [Matrix Format] says" },
    { "[Version] 2.0\n[Mixed-Mode Order] D2,3\n", "t.s2p:2:20: found “D2,3”; expected no mixed-mode parameters: they are not read" },
    { "[Version] 2.0\n [Whatever]\n", "t.s2p:2:2: found “[Whatever]”; expected a keyword of Touchstone 2" },
    { "[Version 2.0\n", "t.s2p:1:1: a keyword without its ]" },
    { "[Version] 2.0\n#\n[Two-Port Data Order] 21_12\n[Network Data]\n" ROW "[End]\n2 3\n",
      "t.s2p:7:1: found “2”; expected nothing after [End]" },
    { "[Version] 2.0\n[End]\n[End]\n", "t.s2p:3:1: a keyword after [End]" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    g_autoptr (GError) error = NULL;
    ck_assert_msg (!sp_two_port_parse (rows[i].text, strlen (rows[i].text), "t.s2p", &error), "taken: %s", rows[i].text);
    ck_assert_str_eq (error->message, rows[i].message);
    ck_assert_int_eq (error->code, SP_ERROR_INPUT);
  }
}
END_TEST

/* One side's reflection, in each of the ways a file may say it. */
START_TEST (one_port)
{
  static const char *const texts[] = {
    "# MHz S MA R 50\n100 .5 0\n200 .2 90\n",
    "# MHz S RI\n100 .5 0 ! at the plug\n200 0 .2\n",
    "[Version] 2.1\n# MHz S MA R 75\n[Number of Ports] 1\n[Number of Frequencies] 2\n[Reference] 50\n[Network Data]\n100 .5 0\n200 .2 "
    "90\n[End]\n",
    /* 150 ohm is .5 in 50 ohm and 1/3 in 75; 50 (1 + .2i)/(1 - .2i) ohm in 75 */
    "# MHz S RI R 75\n100 .33333333333333333 0\n200 -.20766773162939298 .19169329073482428\n",
  };

  for (guint i = 0; i < G_N_ELEMENTS (texts); i++) {
    g_autoptr (GError) error = NULL;
    g_autoptr (SpOnePort) t = sp_one_port_parse (texts[i], strlen (texts[i]), "t.s1p", &error);
    sp_no_error (error);
    ck_assert (t->n == 2 && t->frequency_hz[0] == 1e8 && t->frequency_hz[1] == 2e8);
    ck_assert_double_eq_tol (creal (t->s11[0]), .5, 1e-12);
    ck_assert_double_eq_tol (cimag (t->s11[0]), 0, 1e-12);
    ck_assert_msg (fabs (creal (t->s11[1])) < 1e-12 && fabs (cimag (t->s11[1]) - .2) < 1e-12, "text %u: %.15g %.15g", i, creal (t->s11[1]),
                   cimag (t->s11[1]));
    g_autoptr (SpCurve) vswr = sp_one_port_vswr (t, &error);
    ck_assert_double_eq_tol (sp_curve_at (vswr, 1e8, 0).value, 3, 1e-12);
    ck_assert_double_eq_tol (sp_curve_at (vswr, 2e8, 0).value, 1.5, 1e-12);
  }
}
END_TEST

START_TEST (bad_one_port)
{
  static const struct {
    const char *text, *name, *message;
  } rows[] = {
    { "#\n" ROW, "t.s1p", "t.s1p:2:1: a line of 9 numbers, as of a two-port; expected 3: the frequency and S11 as a pair" },
    { "#\n1 .1\n", "t.s1p", "t.s1p:2:1: a line of 2 numbers; expected 3: the frequency and S11 as a pair" },
    { "#\n2 .1 0\n1 .1 0\n", "t.s1p", "t.s1p:3:1: found “1”; expected a frequency above that of the line before" },
    { "#\n1 .1 0\n", "t.s2p", "t.s2p: by its name a file of 2 ports; expected a one-port (.s1p or .ts)" },
    { "[Version] 2.0\n[Number of Ports] 2\n", "t.ts", "t.ts:2:19: found “2”; expected 1: a one-port is wanted here" },
    { "[Version] 2.0\n#\n[Reference] 50 50\n", "t.ts", "t.ts:3:16: found “50”; expected one reference" },
    { "# R 75\n1 -5 0\n", "t.s1p", "t.s1p: at 1000000000 Hz the parameters cannot be converted from 75 ohm to 50 ohm" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    g_autoptr (GError) error = NULL;
    ck_assert_ptr_null (sp_one_port_parse (rows[i].text, strlen (rows[i].text), rows[i].name, &error));
    ck_assert_str_eq (error->message, rows[i].message);
  }
}
END_TEST

/* To another reference and back is where one was; pads of known resistors say what lies between. */
START_TEST (another_reference)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (5);

  for (guint round = 0; round < 500; round++) {
    const double fifty[2] = { 50, 50 }, z = g_rand_double_range (rand, 5, 500), other[2] = { z, z };
    complex double s[4], was[4];
    for (guint k = 0; k < 4; k++)
      was[k] = s[k] = g_rand_double_range (rand, -.45, .45) + g_rand_double_range (rand, -.45, .45) * I;
    sp_two_port_refer (s, fifty, z);
    ck_assert (cabs (s[0] - was[0]) > 0);
    sp_two_port_refer (s, other, 50);
    for (guint k = 0; k < 4; k++)
      ck_assert_msg (cabs (s[k] - was[k]) < 1e-12, "round %u", round);
  }
  /* a series resistor of 100 ohm: S11 = R/(R + 2Z), S21 = 2Z/(R + 2Z) */
  g_autoptr (SpTwoPort) t = parse ("# MHz S RI R 75\n1 .4 0 .6 0 .6 0 .4 0\n");
  ck_assert_double_eq_tol (creal (t->s11[0]), .5, 1e-12);
  ck_assert_double_eq_tol (creal (t->s21[0]), .5, 1e-12);
  /* the same between 50 and 200 ohm: S11 = (R + Zb - Za)/(R + Za + Zb), S22 with a and b exchanged, S21 = 2 sqrt(Za Zb)/(R + Za + Zb) */
  g_autoptr (SpTwoPort) unlike = parse ("[Version] 2.0\n# MHz S RI\n[Two-Port Data Order] 21_12\n[Reference] 50 200\n[Network Data]\n"
                                        "1 .714285714285714 0 .571428571428571 0 .571428571428571 0 -.142857142857143 0\n");
  ck_assert_double_eq_tol (creal (unlike->s11[0]), .5, 1e-12);
  ck_assert_double_eq_tol (creal (unlike->s21[0]), .5, 1e-12);
  ck_assert_double_eq_tol (creal (unlike->s12[0]), .5, 1e-12);
  ck_assert_double_eq_tol (creal (unlike->s22[0]), .5, 1e-12);
  ck_assert_double_eq (unlike->reference_ohm, 50);
}
END_TEST

START_TEST (half_matrix)
{
  for (guint i = 0; i < 2; i++) {
    g_autofree char *text = g_strdup_printf ("[Version] 2.0\n# MHz S RI\n[Number of Ports] 2\n[Matrix Format] %s\n[Network Data]\n"
                                             "1 .1 .2 .3 .4 .5 .6\n",
                                             i ? "Upper" : "Lower");
    g_autoptr (SpTwoPort) t = parse (text);
    ck_assert (cimag (t->s11[0]) == .2 && creal (t->s21[0]) == .3 && creal (t->s12[0]) == .3 && cimag (t->s12[0]) == .4
               && creal (t->s22[0]) == .5);
  }
}
END_TEST

START_TEST (other_ports_by_name)
{
  static const struct {
    const char *name;
    gboolean good;
  } rows[] = {
    { "pad.s2p", TRUE },       { "PAD.S2P", TRUE },  { "pad.ts", TRUE },   { "pad", TRUE },
    { "a.s2p/pad.txt", TRUE }, { "pad.s1p", FALSE }, { "pad.s4p", FALSE }, { "pad.S12P", FALSE },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    g_autoptr (GError) error = NULL;
    g_autoptr (SpTwoPort) t = sp_two_port_parse ("#\n" ROW, strlen ("#\n" ROW), rows[i].name, &error);
    ck_assert_msg ((t != NULL) == rows[i].good, "%s", rows[i].name);
    ck_assert (rows[i].good || strstr (error->message, "expected a two-port"));
  }
}
END_TEST

START_TEST (between_and_beyond)
{
  g_autoptr (SpTwoPort) t = parse ("# MHz S RI\n100 0 0 1 0 0 1 .5 .5\n200 .2 -.4 0 1 0 0 .5 .5\n400 .2 -.4 0 3 0 0 .5 .5\n");
  static const struct {
    double f, re, im;
    gboolean inside;
  } s21[] = {
    { 1e8, 1, 0, TRUE }, { 1.5e8, .5, .5, TRUE },   { 2e8, 0, 1, TRUE },  { 3e8, 0, 2, TRUE },
    { 4e8, 0, 3, TRUE }, { 5e8, 0, 3, FALSE },      { 1e7, 1, 0, FALSE }, { 0, 1, 0, FALSE },
    { -1, 1, 0, FALSE }, { INFINITY, 0, 3, FALSE }, { NAN, 1, 0, FALSE },
  };

  for (guint i = 0; i < G_N_ELEMENTS (s21); i++) {
    complex double s[4];
    gboolean inside = !s21[i].inside;
    sp_two_port_at (t, s21[i].f, s, &inside);
    ck_assert_double_eq_tol (creal (s[SP_S21]), s21[i].re, 1e-12);
    ck_assert_double_eq_tol (cimag (s[SP_S21]), s21[i].im, 1e-12);
    ck_assert_double_eq_tol (cimag (s[SP_S22]), .5, 1e-12);
    ck_assert_int_eq (inside, s21[i].inside);
    sp_two_port_at (t, s21[i].f, s, NULL);
  }
  g_autoptr (SpTwoPort) one = parse ("#\n" ROW);
  complex double s[4];
  sp_two_port_at (one, 5e9, s, NULL);
  ck_assert_double_eq_tol (creal (s[SP_S21]), .9, 1e-12);
}
END_TEST

START_TEST (through_changes_nothing)
{
  const complex double through[4] = { 0, 1, 1, 0 }, some[4] = { .1 + .2 * I, .5 - .3 * I, .4 + .1 * I, -.2 + .3 * I };
  complex double out[4];

  for (guint turn = 0; turn < 2; turn++) {
    sp_two_port_cascade (turn ? through : some, turn ? some : through, out);
    for (guint i = 0; i < 4; i++)
      ck_assert (fabs (creal (out[i]) - creal (some[i])) < 1e-15 && fabs (cimag (out[i]) - cimag (some[i])) < 1e-15);
  }
}
END_TEST

START_TEST (files_and_limits)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GString) many = g_string_new ("# Hz\n");
  g_autofree char *large = g_strnfill (64 * 1024 * 1024 + 1, '\r');

  ck_assert_ptr_null (sp_two_port_read ("/nowhere/pad.s2p", &error));
  ck_assert (g_error_matches (error, SP_ERROR, SP_ERROR_IO));
  g_clear_error (&error);
  for (guint i = 1; i <= 200001; i++)
    g_string_append_printf (many, "%u .1 0 .9 0 .8 0 .2 0\n", i);
  ck_assert_ptr_null (sp_two_port_parse (many->str, many->len, "t.s2p", &error));
  ck_assert_str_eq (error->message, "t.s2p:200002: more than the 200000 frequencies that are read of such a file");
  g_clear_error (&error);
  ck_assert_ptr_null (sp_two_port_parse (large, strlen (large), "t.s2p", &error));
  ck_assert (g_error_matches (error, SP_ERROR, SP_ERROR_LIMIT));
  g_clear_error (&error);
  ck_assert_ptr_null (sp_two_port_parse (large, 10 * 1024 * 1024, "t.s2p", &error)); /* ten million empty lines: ends, and soon */
  ck_assert_ptr_null (sp_two_port_parse ("#\n1\0", 4, "t.s2p", NULL));
}
END_TEST

START_TEST (random_bytes)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (11);
  static const char *const words[] = { "#",
                                       "\n",
                                       " ",
                                       "1 .1 0 .9 0 .8 0 .2 0\n",
                                       "2 .1 0 .9 0 .8 0 .2 0\n",
                                       "1 1 1 1 1\n",
                                       "[Version] 2.0\n",
                                       "[",
                                       "]",
                                       "!",
                                       "MHz",
                                       "R",
                                       "50",
                                       "[Reference]",
                                       "[Network Data]\n",
                                       "[Two-Port Data Order] 21_12\n",
                                       "\r",
                                       "\t",
                                       "1e999",
                                       "-",
                                       "[Begin Information]\n",
                                       "[End Information]\n",
                                       "[Noise Data]\n",
                                       "[End]\n",
                                       "\xff" };

  for (guint i = 0; i < 60000; i++) {
    g_autoptr (GString) text = g_string_new (i % 2 ? "#\n" : "");
    guint n = g_rand_int_range (rand, 0, 16);
    for (guint k = 0; k < n; k++)
      if (i % 5)
        g_string_append (text, words[g_rand_int_range (rand, 0, G_N_ELEMENTS (words))]);
      else
        g_string_append_c (text, (char) g_rand_int_range (rand, 0, 256));
    g_autoptr (GError) error = NULL;
    g_autofree char *exact = g_memdup2 (text->str, MAX (text->len, 1));
    g_autoptr (SpTwoPort) t = sp_two_port_parse (exact, text->len, "t", &error);
    ck_assert ((t != NULL) != (error != NULL));
    ck_assert (t || (g_str_has_prefix (error->message, "t:") && g_utf8_validate (error->message, -1, NULL)));
  }
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("network/network");
  TCase *tests = tcase_create ("two-ports");

  tcase_set_timeout (tests, 0);
  tcase_add_test (tests, spellings);
  tcase_add_test (tests, bad_input);
  tcase_add_test (tests, one_port);
  tcase_add_test (tests, bad_one_port);
  tcase_add_test (tests, another_reference);
  tcase_add_test (tests, half_matrix);
  tcase_add_test (tests, other_ports_by_name);
  tcase_add_test (tests, between_and_beyond);
  tcase_add_test (tests, through_changes_nothing);
  tcase_add_test (tests, files_and_limits);
  tcase_add_test (tests, random_bytes);
  suite_add_tcase (s, tests);
  return s;
}

SP_MAIN (suite)
