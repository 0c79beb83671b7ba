/* spell.c - frequencies spelled as a person would, and read back to the same bits */
#include "tests/suite.h"

#include "core/quantity/spell.h"
#include "core/quantity/text.h"

START_TEST (frequencies)
{
  static const struct {
    double hz;
    const char *text;
  } cases[] = {
    { 0, "0" },
    { 1, "1Hz" },
    { 999, "999Hz" },
    { 1000, "1kHz" },
    { 12.5e3, "12.5kHz" },
    { 146.52e6, "146.52MHz" },
    { 3e9, "3GHz" },
    { 1.4646e9, "1.4646GHz" },
    { 0.5, "0.5" },
  };
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
    g_autofree char *text = sp_spell_frequency (cases[i].hz);
    ck_assert_str_eq (text, cases[i].text);
  }
}
END_TEST

START_TEST (any_frequency_comes_back)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (7);
  for (guint i = 0; i < 20000; i++) {
    double hz = pow (10, g_rand_double_range (rand, -3, 12)), back;
    g_autofree char *text = sp_spell_frequency (hz);
    ck_assert (sp_parse_frequency (text, &back, NULL));
    ck_assert_double_eq (back, hz);
  }
}
END_TEST

START_TEST (values)
{
  static const struct {
    SpSpelling spelling;
    const char *value, *text;
  } cases[] = {
    { SP_SPELL_AS_IT_IS, "25 25; 100 5", "25 25; 100 5" },
    { SP_SPELL_FREQUENCY, "16000", "16kHz" },
    { SP_SPELL_FREQUENCIES, "0 3000000000", "0 3GHz" },
    { SP_SPELL_FREQUENCIES, "1000;3000", "1kHz; 3kHz" },
    { SP_SPELL_ROWS, "50000000 0.21 0.03; 150000000 0.37", "50MHz 0.21 0.03; 150MHz 0.37" },
    { SP_SPELL_ROWS, "1.1", "1.1" },
    { SP_SPELL_ROWS, "whatever this is", "whatever this is" },
    { SP_SPELL_ROWS, "", "" },
  };
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
    g_autofree char *text = sp_spell_value (cases[i].value, cases[i].spelling);
    ck_assert_str_eq (text, cases[i].text);
  }
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("spell");
  TCase *t = tcase_create ("spell");
  tcase_add_test (t, frequencies);
  tcase_add_test (t, any_frequency_comes_back);
  tcase_add_test (t, values);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
