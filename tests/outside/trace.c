/* trace.c - the reader against what others published: RFC 4180, IEEE 488.2 blocks, levels in voltage units */
#include "core/trace/read/block.h"
#include "core/trace/read/read.h"
#include "core/trace/text/fields.h"
#include "tests/suite.h"

#include <string.h>

#define RFC "RFC 4180, section 2"

/* A file's records as "[a][b]|[c]|". */
static char *
records_of (const char *text, char delimiter)
{
  g_auto (SpTextFields) fields;
  GString *out = g_string_new (NULL);
  SpTextLines lines;
  SpTextLine line;

  sp_fields_init (&fields);
  sp_lines_init (&lines, text, strlen (text));
  while (sp_lines_next_record (&lines, &line)) {
    guint n = sp_fields_split (&fields, &line, delimiter);
    for (guint i = 0; i < n; i++) {
      g_autofree char *field = sp_field_text (sp_fields_get (&fields, i));
      g_string_append_printf (out, "[%s]", field);
    }
    g_string_append_c (out, '|');
  }
  return g_string_free (out, FALSE);
}

static void
check_records (const char *what, const char *text, const char *want)
{
  g_autofree char *got = records_of (text, ',');
  sp_outside (what, RFC, strcmp (got, want) == 0, 1, 1e-9);
}

START_TEST (rfc_4180)
{
  check_records ("two records, the last without a line end", "aaa,bbb,ccc\r\nzzz,yyy,xxx", "[aaa][bbb][ccc]|[zzz][yyy][xxx]|");
  check_records ("two records with line ends", "aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n", "[aaa][bbb][ccc]|[zzz][yyy][xxx]|");
  check_records ("quoted fields", "\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx", "[aaa][bbb][ccc]|[zzz][yyy][xxx]|");
  check_records ("a line break in a quoted field", "\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx", "[aaa][b\r\nbb][ccc]|[zzz][yyy][xxx]|");
  check_records ("a doubled quote", "\"aaa\",\"b\"\"bb\",\"ccc\"", "[aaa][b\"bb][ccc]|");
  check_records ("an empty field", "a,,c\r\n", "[a][][c]|");
}
END_TEST

/* 14 single-precision values as IEEE 754 has them, little-endian. */
static const unsigned char sent[56] = { 0x00, 0x00, 0xa1, 0xc2, 0x00, 0x80, 0x9e, 0xc2, 0x00, 0x00, 0x00, 0x00, 0x00, 0x00,
                                        0x80, 0x3f, 0x00, 0x00, 0x80, 0xbf, 0xcd, 0xcc, 0xcc, 0x3d, 0xcd, 0xcc, 0xcc, 0xbd,
                                        0xdb, 0x0f, 0x49, 0x40, 0x6f, 0x12, 0x83, 0x3a, 0x00, 0x50, 0xc3, 0xc6, 0x79, 0xe9,
                                        0xf6, 0x42, 0x00, 0xc0, 0xc7, 0xc2, 0xf9, 0xf4, 0xfe, 0x66, 0x00, 0x00, 0xc0, 0xbf };
static const double values[14] = { -80.5,
                                   -79.25,
                                   0.0,
                                   1.0,
                                   -1.0,
                                   0.10000000149011612,
                                   -0.10000000149011612,
                                   3.1415927410125732,
                                   0.0010000000474974513,
                                   -25000.0,
                                   123.45600128173828,
                                   -99.875,
                                   6.020000172718952e+23,
                                   -1.5 };

static double *
block (const char *header, gsize length, guint64 *n, GError **error)
{
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  gsize trailing;

  g_byte_array_append (bytes, (const guint8 *) header, (guint) strlen (header));
  g_byte_array_append (bytes, sent, (guint) length);
  g_autoptr (GBytes) whole = g_byte_array_free_to_bytes (g_steal_pointer (&bytes));
  return sp_block_values (whole, "file", SP_BLOCK_REAL32, TRUE, n, &trailing, error);
}

START_TEST (ieee_488_2)
{
  static const char *const headers[] = { "#256", "#0" };
  guint64 n;

  for (guint h = 0; h < G_N_ELEMENTS (headers); h++) {
    g_autofree double *got = block (headers[h], sizeof sent, &n, NULL);
    ck_assert_ptr_nonnull (got);
    ck_assert_uint_eq (n, 14);
    for (guint i = 0; i < n; i++)
      sp_outside ("a value of a block of 14", "IEEE 488.2 arbitrary block; IEEE 754 singles", got[i], values[i], 1e-8);
  }
  g_autofree double *none = block ("#10", sizeof sent, &n, NULL);
  sp_outside ("values in an empty block with bytes behind it", "the same", (double) n, 0, 1e-9);
  sp_outside ("a block cut off is an error", "the same", block ("#256", 40, &n, NULL) == NULL, 1, 1e-9);
  sp_outside ("bytes without ‘#’ are an error", "the same", block ("", sizeof sent, &n, NULL) == NULL, 1, 1e-9);
}
END_TEST

/* 0 dBm in 50 ohm is 106.99 dBuV, 46.99 dBmV, 223.6 mV, 1 mW. */
START_TEST (zero_dbm)
{
  static const struct {
    const char *unit, *level;
    double tolerance;
  } rows[] = {
    { "dBuV", "106.99", 0.005 }, { "dBmV", "46.99", 0.005 }, { "mV", "223.6", 0.005 }, { "mW", "1", 1e-12 }, { "W", "0.001", 1e-12 }
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    g_autofree char *text = g_strdup_printf ("Frequency (Hz);Level (%s)\n1000000;%s\n2000000;%s\n", rows[i].unit, rows[i].level,
                                             rows[i].level);
    g_autoptr (GBytes) bytes = g_bytes_new (text, strlen (text));
    g_autoptr (SpTrace) trace = sp_trace_read_bytes (bytes, "file", NULL, NULL);
    ck_assert_ptr_nonnull (trace);
    sp_outside ("0 dBm in 50 ohm, read from other units", "calculated: P = U^2 / 50 ohm, printed to 4 digits in any handbook",
                trace->reading_dbm[0], 0, rows[i].tolerance);
  }
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("outside trace");
  TCase *tc = tcase_create ("outside");
  tcase_add_test (tc, rfc_4180);
  tcase_add_test (tc, ieee_488_2);
  tcase_add_test (tc, zero_dbm);
  suite_add_tcase (s, tc);
  return s;
}

SP_MAIN (suite)
