/* decimal.c - numbers read as strtod reads them in the C locale, to the last bit, over millions of random spellings */
#include "core/trace/limits.h"
#include "core/trace/read/same-format.h"
#include "tests/suite.h"

#include <string.h>

static guint64 state = 0x2545f4914f6cdd1d;

static guint64
next (void)
{
  state ^= state << 13;
  state ^= state >> 7;
  state ^= state << 17;
  return state;
}

static guint
below (guint n)
{
  return (guint) (next () % n);
}

static char *
digits (char *p, guint n)
{
  while (n--)
    *p++ = (char) ('0' + below (10));
  return p;
}

/* A number in one of many spellings, `out` of 128 bytes. */
static void
spell (char *out)
{
  double any;
  guint64 bits;
  char *p = out;

  switch (below (6)) {
  case 0: /* what exports hold */
    g_snprintf (out, 128, "%.*f", (int) below (8), ((double) (next () >> 11) / 9007199254740992.0 - 0.5) * 400);
    return;
  case 1: g_snprintf (out, 128, "%.*f", (int) below (7), (double) (next () % 30000000000u) / (1 + below (1000))); return;
  case 2: /* any double, with as many digits as it takes, and fewer and more */
    bits = next ();
    memcpy (&any, &bits, 8);
    g_snprintf (out, 128, "%.*e", (int) (10 + below (15)), isfinite (any) ? any : 1);
    return;
  case 3: /* round the edges of the fast path */
    bits = (G_GUINT64_CONSTANT (1) << 53) + below (9) - 4;
    g_snprintf (out, 128, "%" G_GUINT64_FORMAT "e%d", bits, (int) below (60) - 30);
    return;
  default: /* digits anyhow */
    if (below (3) == 0)
      *p++ = "+-"[below (2)];
    p = digits (p, below (22));
    if (below (2)) {
      *p++ = '.';
      p = digits (p, 1 + below (22));
    }
    if (p == out || !g_ascii_isdigit (p[-1]))
      *p++ = '7';
    if (below (3) == 0)
      p += g_snprintf (
          p, 16, "%c%s%u", "eE" [below (2)], (const char *[]) { "", "+", "-" }[below (3)], below (330));
    *p = '\0';
  }
}

static void
check (const char *text, const char *exact, int shift)
{
  char with_shift[160], padded[160 + SP_DECIMAL_READ_AHEAD] = { 0 }; /* what the fast path may look at behind a number */
  const char *p = padded, *end = text + strlen (text);
  double want, got = NAN, fast = NAN;

  /* strtod on the same digits with the exponent moved in the text */
  const char *e = strpbrk (exact, "eE");
  g_snprintf (with_shift, sizeof with_shift, "%.*se%d", (int) (e ? e - exact : (long) strlen (exact)), exact,
              shift + (e ? atoi (e + 1) : 0));
  want = g_ascii_strtod (with_shift, NULL);
  ck_assert_msg (sp_decimal_all (text, end, '.', 0, shift, &got), "not read: %s", text);
  ck_assert_msg (memcmp (&want, &got, sizeof want) == 0, "%s shifted by %d: %.17g, strtod %.17g", text, shift, got, want);
  g_strlcpy (padded, text, 160);
  if (sp_decimal_fast (&p, '.', shift, &fast)) {
    ck_assert_msg (memcmp (&want, &fast, sizeof want) == 0, "%s shifted by %d, fast path: %.17g, strtod %.17g", text, shift, fast, want);
    ck_assert_ptr_eq (p, padded + strlen (text));
  }
}

static guint
rounds (void)
{
  const char *longer = g_getenv ("SP_LONG");
  return longer && *longer ? 50000000 : 2000000;
}

START_TEST (equal_to_strtod)
{
  guint n = rounds (), fast = 0;
  char text[160];
  double value;

  for (guint i = 0; i < n; i++) {
    const char *p = text;
    spell (text);
    check (text, text, (int[]){ 0, 0, 3, 6, 9 }[below (5)]);
    fast += sp_decimal_fast (&p, '.', 0, &value);
  }
  printf ("%u numbers equal to strtod, %u of them by the fast path\n", n, fast);
  ck_assert_uint_gt (fast, n / 4); /* else the comparison says nothing about it */
  ck_assert_uint_lt (fast, n - n / 8);
}
END_TEST

/* As many digits as fit into 64 bits, and just beyond: sp_decimal_nearest, for every exponent that it has and its neighbours. */
START_TEST (many_digits)
{
  guint n = rounds () / 4, asked = 0;
  char text[64];
  double value;

  for (guint i = 0; i < n; i++) {
    char *p = digits (text, 14 + below (6));
    int exponent = (int) below (106) - 63;
    g_snprintf (p, 32, "e%d", exponent);
    check (text, text, 0);
    *p = '\0';
    asked += exponent >= -60 && exponent <= 40 && !sp_decimal_nearest (g_ascii_strtoull (text, NULL, 10), exponent, &value);
  }
  printf ("%u of %u numbers of 14 to 19 digits left to strtod\n", asked, n);
  ck_assert_uint_lt (asked, n / 100); /* most of them integers that lie halfway */
}
END_TEST

/* Halfway between two doubles, and the least bit beside. */
START_TEST (halfway)
{
  for (guint i = 0; i < rounds () / 100; i++) {
    char text[64];
    guint bits = 54 + below (10);
    guint64 m = (next () >> (64 - bits)) | G_GUINT64_CONSTANT (1) << (bits - 1);
    m = (m >> (bits - 54) | 1) << (bits - 54);
    g_snprintf (text, sizeof text, "%" G_GUINT64_FORMAT "%s", m + below (3) - 1, (const char *[]){ "", "e0", "e5", "e-3" }[below (4)]);
    check (text, text, 0);
  }
}
END_TEST

/* A column as exports write it, now and then with a number of another look or a spoilt character: each number is read as sp_decimal_fast
 * reads it, and most without that. */
START_TEST (columns)
{
  guint n = rounds () / 100, same_look = 0, read = 0;

  for (guint column = 0; column < n; column++) {
    char text[SP_SAME_FORMAT_READ_BEHIND + 100 * 64 + 64] = { 0 }, *p = text + SP_SAME_FORMAT_READ_BEHIND;
    guint decimals = below (9), starts[100];
    double low = (double) below (2000) - 1000, span = pow (10, (double) below (9) - 2);
    int shift = (int[]){ 0, 0, 3, 6, 9 }[below (5)];
    SpSameFormat alike;
    for (guint i = 0; i < 100; i++) {
      starts[i] = (guint) (p - text);
      if (below (20) == 0)
        spell (p);
      else
        g_snprintf (p, 60, "%.*f", (int) decimals, low + span * (double) (next () >> 11) / 9007199254740992.0);
      p += strlen (p);
      *p++ = ",\n\r \t;"[below (8) ? 0 : below (6)];
    }
    if (below (4) == 0)
      text[SP_SAME_FORMAT_READ_BEHIND + below ((guint) (p - text) - SP_SAME_FORMAT_READ_BEHIND - 1)] = ".,-+eE /:;0\x80\xb0"[below (13)];
    sp_same_format_init (&alike, text);
    for (guint i = 0; i < 100; i++) {
      double want = 0, got = 0;
      const char *start = text + starts[i], *want_end = start, *end;
      gboolean good = sp_decimal_fast (&want_end, '.', shift, &want);
      guint before = alike.differing;
      end = sp_same_format_read (&alike, start, '.', shift, &got);
      ck_assert_msg (end == (good ? want_end : NULL) && memcmp (&want, &got, sizeof want) == 0, "%.40s: %.17g, expected %.17g", start, got,
                     want);
      read += good;
      same_look += good && alike.differing == before && alike.length > 0;
    }
  }
  printf ("%u numbers in columns, %u written like the one before\n", read, same_look);
  ck_assert_uint_gt (same_look, read / 2);
}
END_TEST

START_TEST (halfway_and_extreme)
{
  static const char *const texts[] = { "9007199254740993",
                                       "9007199254740992.5",
                                       "1.7976931348623157e308",
                                       "1.7976931348623159e308",
                                       "4.9e-324",
                                       "2.4e-324",
                                       "2.2250738585072011e-308",
                                       "0.1",
                                       "-0",
                                       "-0.0e5",
                                       "123456789012345678901234567890",
                                       "1e22",
                                       "1e23",
                                       "8.5e-23",
                                       "00000000000000000000001.5" };
  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    check (texts[i], texts[i], 0);
}
END_TEST

static double
parsed (const char *text, char mark, char group)
{
  double value;
  return sp_decimal_all (text, text + strlen (text), mark, group, 0, &value) ? value : NAN;
}

START_TEST (marks)
{
  ck_assert_double_eq (parsed ("1,5", ',', 0), 1.5);
  ck_assert (isnan (parsed ("1,5", '.', 0)));
  ck_assert_double_eq (parsed ("1,234", '.', ','), 1234);
  ck_assert_double_eq (parsed ("1.234.567,5", ',', '.'), 1234567.5);
  ck_assert_double_eq (parsed ("12'345.5", '.', '\''), 12345.5);
  ck_assert_double_eq (parsed ("1\302\240234,5", ',', ' '), 1234.5);
  ck_assert_double_eq (parsed ("-1\342\200\257234", ',', ' '), -1234);
  ck_assert_double_eq (parsed ("\342\210\2227.5", '.', 0), -7.5);
  ck_assert_double_eq (parsed ("1.5D+03", '.', 0), 1500);
  ck_assert_double_eq (parsed ("5.", '.', 0), 5);
  ck_assert_double_eq (parsed (".5", '.', 0), 0.5);
}
END_TEST

START_TEST (no_numbers)
{
  static const char *const texts[] = {
    "",    "-",   "+",   ".",  "-.",    "e5",     "1e",       "1e+",       "1.2.3", "1 2",      "0x10",
    "nan", "inf", "--1", "1-", "12,34", "1,2345", "1234,567", "0,123,456", "1_000", "\xc2\xa0", "1e5e5"
  };
  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    ck_assert_msg (isnan (parsed (texts[i], '.', ',')), "read as a number: %s", texts[i]);
  ck_assert (isnan (parsed ("5,", ',', 0)));
}
END_TEST

START_TEST (length)
{
  g_autofree char *most = g_strnfill (SP_LIMIT_NUMBER_BYTES, '9'), *more = g_strnfill (SP_LIMIT_NUMBER_BYTES + 1, '9');
  g_autofree char *huge = g_strnfill (10000, '0');

  ck_assert (isinf (parsed (most, '.', 0)));
  ck_assert (isnan (parsed (more, '.', 0)));
  ck_assert (isnan (parsed (huge, '.', 0)));
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("decimal");
  TCase *tc = tcase_create ("decimal");
  tcase_set_timeout (tc, 600);
  tcase_add_test (tc, equal_to_strtod);
  tcase_add_test (tc, many_digits);
  tcase_add_test (tc, halfway);
  tcase_add_test (tc, columns);
  tcase_add_test (tc, halfway_and_extreme);
  tcase_add_test (tc, marks);
  tcase_add_test (tc, no_numbers);
  tcase_add_test (tc, length);
  suite_add_tcase (s, tc);
  return s;
}

SP_MAIN (suite)
