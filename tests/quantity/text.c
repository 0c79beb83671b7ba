#include "core/quantity/text.h"
#include "core/quantity/error.h"
#include "tests/suite.h"

#include <string.h>

typedef gboolean (*Parse) (const char *text, double *value, GError **error);

typedef struct {
  const char *text;
  double value;    /* NaN: refused */
  gboolean beyond; /* as out of range */
} Row;

static void
check_rows (Parse parse, const Row *rows, guint n, const char *expected)
{
  for (guint i = 0; i < n; i++) {
    g_autoptr (GError) error = NULL;
    double value = -77;
    gboolean good = parse (rows[i].text, &value, &error);
    if (isnan (rows[i].value)) {
      ck_assert_msg (!good, "“%s” was taken for %g", rows[i].text, value);
      ck_assert_int_eq (error->code, rows[i].beyond ? SP_ERROR_LIMIT : SP_ERROR_USAGE);
      ck_assert ((strstr (error->message, "out of range") != NULL) == rows[i].beyond);
      ck_assert_msg (strstr (error->message, expected) != NULL, "%s", error->message);
      ck_assert_double_eq (value, -77);
    } else {
      sp_no_error (error);
      ck_assert_msg (good && value == rows[i].value, "“%s” gave %.17g", rows[i].text, value);
    }
  }
}

START_TEST (frequencies)
{
  static const Row rows[] = {
    { "146.52MHz", 146520000 },
    { "146.52 MHz", 146520000 },
    { "  1e6 ", 1e6 },
    { "9kHz", 9000 },
    { "9KHZ", 9000 },
    { "3GHz", 3e9 },
    { "0", 0 },
    { "433.92mhz", NAN },
    { "2437.123456MHz", 2437123456 },
    { "0.1GHz", 1e8 },
    { "1.1kHz", 1100 },
    { "-0", 0 },
    { "+5Hz", 5 },
    { ".5MHz", 5e5 },
    { "5.", 5 },
    { "1e-3GHz", 1e6 },
    { "50\tMHz", 5e7 },
    { "3hz", 3 },
    { "", NAN },
    { " ", NAN },
    { "MHz", NAN },
    { "-1", NAN },
    { "1,5MHz", NAN },
    { "1.5 M Hz", NAN },
    { "1MHz x", NAN },
    { "nan", NAN },
    { "inf", NAN },
    { "0x10", NAN },
    { "1e400", NAN, TRUE },
    { "1e308GHz", NAN, TRUE },
    { "1e15", 1e15 },
    { "1.1e15Hz", NAN, TRUE },
    { "1e-6", 1e-6 },
    { "9e-7", NAN, TRUE },
    { "1e-320", NAN, TRUE },
    { "1e", NAN },
    { "1e+Hz", NAN },
    { "--1", NAN },
    { "1e99999999999999999999", NAN, TRUE },
    { "5W", NAN },
    { "1.2.3", NAN },
    { "5\xC2\xA0MHz", NAN } /* no-break space */,
  };
  check_rows (sp_parse_frequency, rows, G_N_ELEMENTS (rows), "expected a frequency");
}
END_TEST

START_TEST (powers)
{
  static const Row rows[] = {
    { "5W", 5 },    { "500mW", .5 },  { "500 mw", .5 },        { "25uW", 25e-6 },  { "25µW", 25e-6 }, { "1.5kW", 1500 }, { "7", 7 },
    { "30dBm", 1 }, { "0dBm", 1e-3 }, { "30 dbm", 1 },         { "30dBM", 1 },     { "0", NAN },      { "0W", NAN },     { "-5W", NAN },
    { "5MW", NAN }, { "dBm", NAN },   { "1e9dBm", NAN, TRUE }, { "-1e9dBm", NAN }, { "5MHz", NAN },   { "", NAN },       { "30dB", NAN },
  };
  check_rows (sp_parse_power, rows, G_N_ELEMENTS (rows), "expected a power");
}
END_TEST

START_TEST (numbers)
{
  static const Row rows[] = {
    { "-12.5", -12.5 },     { "1e-3", 1e-3 },
    { "1E+3", 1e3 },        { " 7\t", 7 },
    { "0.1", 0.1 },         { "4.9e-324", NAN, TRUE },
    { "1e-999", 0 },        { "123456789012345678901234567890", 123456789012345678901234567890. },
    { "nan", NAN },         { "infinity", NAN },
    { "0x1p3", NAN },       { "1,5", NAN },
    { "1 2", NAN },         { "", NAN },
    { "e5", NAN },          { ".", NAN },
    { "1e999", NAN, TRUE }, { "-1e31", NAN, TRUE },
  };
  check_rows (sp_parse_number, rows, G_N_ELEMENTS (rows), "expected a number");
}
END_TEST

START_TEST (prefix_is_exact)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (2);

  /* Hz with all digits and the same figure in MHz are the same double. */
  for (guint i = 0; i < 200000; i++) {
    guint32 mhz = g_rand_int_range (rand, 0, 6000), hz = g_rand_int_range (rand, 0, 1000000);
    double a, b;
    g_autofree char *in_mhz = g_strdup_printf ("%u.%06uMHz", mhz, hz), *plain = g_strdup_printf ("%u%06u", mhz, hz);
    ck_assert (sp_parse_frequency (in_mhz, &a, NULL) && sp_parse_frequency (plain, &b, NULL));
    ck_assert_msg (a == b, "%s: %.17g, %s: %.17g", in_mhz, a, plain, b);
  }
}
END_TEST

START_TEST (dates)
{
  static const struct {
    const char *text;
    guint32 day;
  } rows[] = {
    { "2026-09-12", 739871 }, { " 2000-02-29 ", 730179 }, { "1900-02-29", 0 }, { "2026-02-30", 0 },
    { "2026-13-01", 0 },      { "2026-00-10", 0 },        { "0000-01-01", 0 }, { "12.09.2026", 0 },
    { "2026-9-12", 0 },       { "2026-09-12x", 0 },       { "", 0 },           { "2026-09", 0 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    g_autoptr (GError) error = NULL;
    guint32 day = 0;
    ck_assert_msg (sp_parse_date (rows[i].text, &day, &error) == (rows[i].day != 0), "%s", rows[i].text);
    ck_assert_msg (day == rows[i].day, "%s gave %u", rows[i].text, day);
    ck_assert ((error != NULL) == (rows[i].day == 0));
  }
}
END_TEST

START_TEST (exact_digits)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (3);
  char buffer[32];

  ck_assert_str_eq (sp_format_exact (0.1, buffer), "0.1");
  ck_assert_str_eq (sp_format_exact (146520000, buffer), "146520000");
  ck_assert_str_eq (sp_format_exact (1.0 / 3, buffer), "0.3333333333333333");
  ck_assert_str_eq (sp_format_written (1e-9, buffer), "0.000000001");
  ck_assert_str_eq (sp_format_written (-2.5e-7, buffer), "-0.00000025");
  ck_assert_str_eq (sp_format_written (1e6, buffer), "1000000");
  ck_assert_str_eq (sp_format_written (1e15, buffer), "1000000000000000");
  ck_assert_str_eq (sp_format_written (0.25, buffer), "0.25");
  ck_assert_str_eq (sp_format_written (1e300, buffer), "1e+300");
  for (guint i = 0; i < 200000; i++) {
    union {
      guint64 bits;
      double number;
    } any = { .bits = (guint64) g_rand_int (rand) << 32 | g_rand_int (rand) };
    if (isfinite (any.number))
      ck_assert (g_ascii_strtod (sp_format_exact (any.number, buffer), NULL) == any.number);
  }
}
END_TEST

START_TEST (frequency_text)
{
  static const struct {
    double hz, step;
    const char *text;
  } rows[] = {
    { 146.52e6, 0, "146.52 MHz" },
    { 146.52e6, 10, "146.52 MHz" },
    { 146521234, 1e3, "146.521 MHz" },
    { 146521234, 1, "146.521234 MHz" },
    { 0, 0, "0 Hz" },
    { 999999.9, 0, "1 MHz" },
    { 999.9996, 0, "1 kHz" },
    { 2.4e9, 1e6, "2.4 GHz" },
    { 1296e6, 0, "1.296 GHz" },
    { 9000, 0, "9 kHz" },
    { -25e3, 0, "-25 kHz" },
    { 5e13, 0, "50000 GHz" },
    { 100e6, 1e9, "100 MHz" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    g_autofree char *text = sp_format_frequency (rows[i].hz, rows[i].step);
    ck_assert_str_eq (text, rows[i].text);
  }
  for (guint i = 0; i < 4; i++) { /* whatever comes, it ends */
    g_autofree char *text = sp_format_frequency ((double[]){ NAN, INFINITY, -INFINITY, 1.7e308 }[i], i ? 1e-300 : NAN);
    ck_assert (*text);
  }
}
END_TEST

START_TEST (escapes)
{
  g_autofree char *back = sp_unescape ("a%20b%3f%3F%zz%4%00%");
  g_autofree char *there = sp_escape ("a b?&;#%\"=\tü");
  ck_assert_str_eq (back, "a b??%zz%4%00%");
  ck_assert_str_eq (there, "a%20b%3F%26%3B%23%25%22=%09ü");

  g_autoptr (GRand) rand = g_rand_new_with_seed (4);
  for (guint i = 0; i < 20000; i++) {
    char any[24] = { 0 };
    for (guint k = 0; k < sizeof any - 1; k++)
      any[k] = (char) g_rand_int_range (rand, 1, 256);
    g_autofree char *escaped = sp_escape (any), *again = sp_unescape (escaped);
    ck_assert_str_eq (again, any);
    ck_assert_ptr_null (strpbrk (escaped, " ?&;#\""));
  }
}
END_TEST

START_TEST (excerpts)
{
  g_autofree char *shown = sp_excerpt ("a\tb\x1b[2J");
  g_autofree char *broken = sp_excerpt ("\xff\xfe");
  g_autofree char *long_text = g_strnfill (100000, 'x'), *cut = sp_excerpt (long_text), *end = sp_excerpt_path (long_text);
  g_autofree char *foreign = sp_excerpt_foreign ("a password of mine"), *path = sp_excerpt_path ("/a/\xff.csv"),
                  *turned = sp_excerpt ("\342\200\256a\xef\xbf\xbe");

  ck_assert_str_eq (shown, "a b [2J");
  ck_assert (g_utf8_validate (broken, -1, NULL));
  ck_assert_int_eq (g_utf8_strlen (cut, -1), 41);
  ck_assert_int_eq (g_utf8_strlen (end, -1), 121);
  ck_assert (g_str_has_prefix (end, "…x") && g_str_has_suffix (cut, "x…"));
  ck_assert_str_eq (foreign, "a passwo…");
  ck_assert_str_eq (path, "/a/%FF.csv");
  ck_assert_str_eq (turned, " a\xef\xbf\xbd");
}
END_TEST

START_TEST (places_of_errors)
{
  static const struct {
    const char *file;
    guint line, column;
    const char *message;
  } rows[] = {
    { "a.chain", 3, 7, "a.chain:3:7: no" },
    { "a.chain", 3, 0, "a.chain:3: no" },
    { "a.chain", 0, 0, "a.chain: no" },
    { NULL, 3, 7, "3:7: no" },
    { NULL, 0, 0, "no" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    g_autoptr (GError) error = NULL;
    ck_assert (!sp_fail_at (&error, rows[i].file, rows[i].line, rows[i].column, "%s", "no"));
    ck_assert_str_eq (error->message, rows[i].message);
  }
  ck_assert (!sp_fail_at (NULL, "x", 1, 1, "no") && !sp_fail (NULL, SP_ERROR_IO, "no"));
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("quantity/text");
  TCase *tests = tcase_create ("text");

  tcase_add_test (tests, frequencies);
  tcase_add_test (tests, powers);
  tcase_add_test (tests, numbers);
  tcase_add_test (tests, prefix_is_exact);
  tcase_add_test (tests, dates);
  tcase_add_test (tests, exact_digits);
  tcase_add_test (tests, frequency_text);
  tcase_add_test (tests, escapes);
  tcase_add_test (tests, excerpts);
  tcase_add_test (tests, places_of_errors);
  suite_add_tcase (s, tests);
  return s;
}

SP_MAIN (suite)
