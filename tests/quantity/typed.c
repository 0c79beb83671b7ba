/* typed.c - values as people type them, turned into a file's spelling, or refused where they may mean two things */
#include "core/quantity/typed.h"
#include "core/quantity/error.h"

#include "tests/suite.h"

#include <string.h>

typedef struct {
  const char *typed, *is; /* NULL: refused */
} Case;

static void
check_typed (const char *typed, const char *is, char *got, GError *error)
{
  if (is) {
    ck_assert_msg (got && strcmp (got, is) == 0, "“%s”: “%s”, not “%s”", typed, got ? got : error->message, is);
    ck_assert_ptr_null (error);
  } else {
    ck_assert_msg (!got, "“%s”: “%s”, not refused", typed, got);
    ck_assert (g_error_matches (error, SP_ERROR, SP_ERROR_USAGE));
  }
  g_free (got);
  g_clear_error (&error);
}

#define EACH(cases, call)                                                                                                                  \
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {                                                                                       \
    const char *text = (cases)[i].typed;                                                                                                   \
    GError *error = NULL;                                                                                                                  \
    char *got = (call);                                                                                                                    \
    check_typed (text, (cases)[i].is, got, error);                                                                                         \
  }

START_TEST (numbers)
{
  static const Case decibels[] = { { "30 dB", "30" },
                                   { "30dB", "30" },
                                   { " 0,4 ", "0.4" },
                                   { "0.4", "0.4" },
                                   { "-3,25 DB", "-3.25" },
                                   { "\342\210\2225", "-5" },
                                   { "5\302\240dB", "5" },
                                   { "1e-3", "1e-3" },
                                   { "", "" },
                                   { "0,125", "0.125" },
                                   { "12,5", "12.5" },
                                   { "1,234", NULL },
                                   { "-12,345 dB", NULL },
                                   { "1.234", "1.234" },
                                   { "1,2345", "1.2345" },
                                   { "1,234,567", "1,234,567" },
                                   { "1.234,5", "1.234,5" },
                                   { "inf", "inf" },
                                   { "30 W", "30 W" } };
  static const Case watts[] = { { "5W", "5" },       { "25 W", "25" }, { "500 mW", "0.5" },
                                { "0,5 kW", "500" }, { "30dBm", "1" }, { "five", "five" } };
  static const Case comma[] = { { "1,234", "1.234" }, { "-12,345 dB", "-12.345" } };
  EACH (decibels, sp_typed_number (text, "dB", '.', &error))
  EACH (watts, sp_typed_number (text, "W", '.', &error))
  EACH (comma, sp_typed_number (text, "dB", ',', &error))
}
END_TEST

START_TEST (frequencies)
{
  static const Case cases[] = { { "145.6 MHz", "145.6MHz" }, { "145,6MHz", "145.6MHz" }, { "150", NULL }, { "0", "0" }, { "1e6", NULL },
                                { "145,600 MHz", NULL },     { "9kHz", "9kHz" },         { "", "" },      { "x", "x" } };
  EACH (cases, sp_typed_frequency (text, '.', &error))
}
END_TEST

START_TEST (rows)
{
  static const Case points[] = { { "50 MHz 1,05; 1 GHz 1,2", "50MHz 1.05; 1GHz 1.2" },
                                 { "1,2", "1.2" },
                                 { "50 1.05", NULL },
                                 { "50MHz 1.05 dB;1GHz 1.2 dB 0,1", "50MHz 1.05; 1GHz 1.2 0.1" } };
  static const Case ends[] = {
    { "0 3 GHz", "0 3GHz" }, { "1kHz; 3 kHz", "1kHz; 3kHz" }, { "1 3GHz", NULL }, { "30 dB", "30 dB" }, { "26 MHz; 30 dB", "26MHz; 30 dB" }
  };
  static const Case readings[] = { { "-30,11@3; \342\210\22230.13 @4", "-30.11@3; -30.13 @4" } };
  EACH (points, sp_typed_rows (text, "dB", SP_TYPED_FIRST_FREQUENCY, '.', &error))
  EACH (ends, sp_typed_rows (text, NULL, SP_TYPED_FREQUENCIES, '.', &error))
  EACH (readings, sp_typed_rows (text, NULL, SP_TYPED_NO_FREQUENCY, '.', &error))
}
END_TEST

START_TEST (by_the_keys_row)
{
  static const SpKeySpec text_key = { .key = "note", .kind = SP_KEY_TEXT }, number = { .key = "u_db", .kind = SP_KEY_NUMBER, .unit = "dB" },
                         frequency = { .key = "fundamental", .kind = SP_KEY_FREQUENCY },
                         count = { .key = "harmonics", .kind = SP_KEY_COUNT };
  static const Case notes[] = { { "at 1,5 m ", "at 1,5 m " } }, numbers_typed[] = { { "0,4 dB", "0.4" } },
                    frequencies_typed[] = { { "150", NULL } }, counts[] = { { " 10 ", "10" } };
  EACH (notes, sp_typed_value (&text_key, text, '.', &error))
  EACH (numbers_typed, sp_typed_value (&number, text, '.', &error))
  EACH (frequencies_typed, sp_typed_value (&frequency, text, '.', &error))
  EACH (counts, sp_typed_value (&count, text, '.', &error))
}
END_TEST

/* Shown with a comma, and typed again as it stands there. */
START_TEST (there_and_back)
{
  static const SpKeySpec text_key = { .key = "note", .kind = SP_KEY_TEXT }, number = { .key = "u_db", .kind = SP_KEY_NUMBER, .unit = "dB" },
                         frequency = { .key = "fundamental", .kind = SP_KEY_FREQUENCY },
                         points = { .key = "points", .kind = SP_KEY_LIST, .unit = "dB", .spelling = SP_SPELL_ROWS };
  static const struct {
    const SpKeySpec *spec;
    const char *file, *shown;
  } cases[] = {
    { &text_key, "at 1.5 m", "at 1.5 m" },
    { &number, "-0.35", "-0,35" },
    { &number, "1.234", "1,234" },
    { &number, "", "" },
    { &frequency, "145.625MHz", "145,625MHz" },
    { &points, "10MHz 10.05 0.05; 1GHz 10.3 .1", "10MHz 10,05 0,05; 1GHz 10,3 ,1" },
  };
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
    g_autofree char *shown = sp_typed_value_shown (cases[i].spec, cases[i].file, ','),
                    *back = sp_typed_value (cases[i].spec, shown, ',', NULL),
                    *same = sp_typed_value_shown (cases[i].spec, cases[i].file, '.');
    ck_assert_str_eq (shown, cases[i].shown);
    ck_assert_str_eq (back, cases[i].file);
    ck_assert_str_eq (same, cases[i].file);
  }
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("quantity/typed");
  TCase *tc = tcase_create ("typed");
  tcase_add_test (tc, numbers);
  tcase_add_test (tc, frequencies);
  tcase_add_test (tc, rows);
  tcase_add_test (tc, by_the_keys_row);
  tcase_add_test (tc, there_and_back);
  suite_add_tcase (s, tc);
  return s;
}

SP_MAIN (suite)
