/* block.c - reads a block of binary or ASCII values as an instrument sends it */
#include "core/trace/read/block.h"

#include "core/quantity/error.h"
#include "core/trace/limits.h"
#include "core/trace/text/decimal.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#define NOT_A_NUMBER 9.9e37 /* SCPI: 9.91E37 is not a number, 9.9E37 an infinity (from memory) */

typedef struct {
  const char *start;
  gsize length, trailing;
} Body;

/* The bytes between header and end. *header 0: there is none. */
static gboolean
find_body (const char *data, gsize length, const char *file, Body *body, GError **error)
{
  gsize digits, claimed = 0;

  if (length < 2 || data[0] != '#' || !g_ascii_isdigit (data[1]))
    return sp_fail_at (error, file, 1, 1, _ ("no block; expected ‘#’ and the count of length digits first (IEEE 488.2)"));
  digits = (gsize) (data[1] - '0');
  if (digits == 0) {
    *body = (Body){ data + 2, length - 2, 0 };
    return TRUE;
  }
  for (gsize i = 0; i < digits; i++) {
    if (2 + i >= length || !g_ascii_isdigit (data[2 + i]))
      return sp_fail_at (error, file, 1, (guint) (3 + i), _ ("a digit of the block's length is missing; expected %u of them"),
                         (guint) digits);
    claimed = claimed * 10 + (gsize) (data[2 + i] - '0');
  }
  gsize left = length - 2 - digits;
  if (claimed > left)
    return sp_fail_at (error, file, 1, 1,
                       _ ("the block says it has %" G_GSIZE_FORMAT " bytes, and %" G_GSIZE_FORMAT " follow; the export is cut off: take "
                          "it again"),
                       claimed, left);
  *body = (Body){ data + 2 + digits, claimed, left - claimed };
  const char *behind = body->start + claimed;
  for (; body->trailing > 0 && (*behind == '\n' || *behind == '\r'); behind++)
    body->trailing--;
  return TRUE;
}

static double
real_at (const char *p, gsize size, gboolean little_endian)
{
  if (size == 4) {
    guint32 bits;
    float value;
    memcpy (&bits, p, 4);
    bits = little_endian ? GUINT32_FROM_LE (bits) : GUINT32_FROM_BE (bits);
    memcpy (&value, &bits, 4);
    return value;
  }
  guint64 bits;
  double value;
  memcpy (&bits, p, 8);
  bits = little_endian ? GUINT64_FROM_LE (bits) : GUINT64_FROM_BE (bits);
  memcpy (&value, &bits, 8);
  return value;
}

static gboolean
check_value (double value, guint64 index, const char *file, GError **error)
{
  if (isfinite (value) && fabs (value) < NOT_A_NUMBER)
    return TRUE;
  return sp_fail (error, SP_ERROR_INPUT,
                  _ ("%s: value %" G_GUINT64_FORMAT " of the block is %g, not a number; if all look odd, the byte order is the other: "
                     "?order=big or ?order=little"),
                  file, index + 1, value);
}

static gboolean
too_many (const char *file, GError **error)
{
  return sp_fail (error, SP_ERROR_LIMIT, _ ("%s: more than %" G_GUINT64_FORMAT " points, the limit; export a narrower span"), file,
                  SP_LIMIT_POINTS);
}

static double *
read_reals (Body body, gsize size, gboolean little_endian, const char *file, guint64 *n, GError **error)
{
  if (body.length % size == 1 && body.start[body.length - 1] == '\n')
    body.length--;
  if (body.length % size != 0) {
    sp_fail (error, SP_ERROR_INPUT,
             _ ("%s: the block has %" G_GSIZE_FORMAT " bytes, no whole number of values of %u bytes; expected the "
                "other format, or the export is cut off"),
             file, body.length, (guint) size);
    return NULL;
  }
  *n = body.length / size;
  if (*n > SP_LIMIT_POINTS) {
    too_many (file, error);
    return NULL;
  }
  g_autofree double *values = g_new (double, *n + 1);
  for (guint64 i = 0; i < *n; i++) {
    values[i] = real_at (body.start + i * size, size, little_endian);
    if (!check_value (values[i], i, file, error))
      return NULL;
  }
  return g_steal_pointer (&values);
}

/* Place of a byte as line and column, for messages about lists. */
static gboolean
fail_in_list (const char *start, const char *at, const char *end, const char *file, GError **error)
{
  guint line = 1;
  const char *line_start = start;

  for (const char *p = start; p < at; p++)
    if (*p == '\n') {
      line++;
      line_start = p + 1;
    }
  g_autofree char *text = g_utf8_make_valid (at, MIN (end - at, 20));
  text[strcspn (text, ", \t\r\n")] = '\0';
  return sp_fail_at (error, file, line, (guint) MIN (at - line_start + 1, G_MAXINT),
                     _ ("‘%s’ is not a number; expected a list of levels between commas"), text);
}

static double *
read_list (Body body, const char *whole, const char *file, guint64 *n, GError **error)
{
  const char *p = body.start, *end = p + body.length, *blanks = " \t\r\n";
  g_autoptr (GArray) values = g_array_sized_new (FALSE, FALSE, sizeof (double), 16);
  double value;

  while (TRUE) {
    while (p < end && strchr (blanks, *p) && *p)
      p++;
    if (p == end)
      break;
    const char *first = p;
    if (!sp_decimal_read (&p, end, '.', 0, 0, &value) || (p < end && (*p == '\0' || !strchr (", \t\r\n", *p)))) {
      fail_in_list (whole, first, end, file, error);
      return NULL;
    }
    if (!check_value (value, values->len, file, error))
      return NULL;
    if (values->len >= SP_LIMIT_POINTS) {
      too_many (file, error);
      return NULL;
    }
    g_array_append_val (values, value);
    while (p < end && strchr (blanks, *p) && *p)
      p++;
    if (p < end && *p == ',')
      p++;
  }
  *n = values->len;
  return (double *) (gpointer) g_array_free (g_steal_pointer (&values), FALSE);
}

double *
sp_block_values (GBytes *bytes, const char *file, SpBlockFormat format, gboolean little_endian, guint64 *n, gsize *trailing, GError **error)
{
  gsize length;
  const char *data = g_bytes_get_data (bytes, &length);
  Body body = { data, length, 0 };

  if (!(format == SP_BLOCK_ASCII && !(length && data[0] == '#')) && !find_body (data, length, file, &body, error))
    return NULL;
  *trailing = body.trailing;
  if (format == SP_BLOCK_ASCII)
    return read_list (body, data, file, n, error);
  return read_reals (body, format == SP_BLOCK_REAL32 ? 4 : 8, little_endian, file, n, error);
}

gboolean
sp_block_detect (GBytes *bytes)
{
  gsize length;
  const char *data = g_bytes_get_data (bytes, &length);
  Body body;

  return length > 2 && data[0] == '#' && data[1] >= '1' && data[1] <= '9' && find_body (data, length, "", &body, NULL)
         && body.trailing == 0;
}
