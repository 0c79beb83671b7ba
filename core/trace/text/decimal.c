/* decimal.c - reads decimal numbers exactly, as fast as the bytes come */
#include "core/trace/text/decimal.h"

#include "core/trace/limits.h"

#include <string.h>

const double sp_powers_of_ten[23] = { 1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,  1e8,  1e9,  1e10, 1e11,
                                      1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22 };

/* What the text says, before it is a number: digits without marks, and the power of ten of the last one. */
typedef struct {
  char digits[SP_LIMIT_NUMBER_BYTES + 1];
  guint n;
  gboolean negative;
  long exponent;
} Parts;

static gboolean
is_digit (const char *p, const char *end)
{
  return p < end && g_ascii_isdigit (*p);
}

static gboolean
take_digits (Parts *parts, const char **p, const char *end)
{
  const char *first = *p;

  for (; is_digit (*p, end); (*p)++) {
    if (parts->n >= SP_LIMIT_NUMBER_BYTES)
      return FALSE;
    parts->digits[parts->n++] = **p;
  }
  return *p > first;
}

/* "\u00a0" and "\u202f", no-break blanks, stand for a thousands mark that is a blank. */
static gsize
group_mark (const char *p, const char *end, char group)
{
  if (p < end && *p == group)
    return 1;
  if (group == ' ' && end - p >= 2 && memcmp (p, "\xc2\xa0", 2) == 0)
    return 2;
  if (group == ' ' && end - p >= 3 && memcmp (p, "\xe2\x80\xaf", 3) == 0)
    return 3;
  return 0;
}

static gboolean
take_integer (Parts *parts, const char **p, const char *end, char group)
{
  const char *first = *p;
  gsize mark;

  if (!take_digits (parts, p, end))
    return FALSE;
  if (!group || (mark = group_mark (*p, end, group)) == 0)
    return TRUE;
  if (*p - first > 3 || *first == '0')
    return FALSE;
  while ((mark = group_mark (*p, end, group)) > 0) {
    const char *three = *p + mark;
    if (!is_digit (three, end) || !is_digit (three + 1, end) || !is_digit (three + 2, end) || is_digit (three + 3, end))
      return FALSE;
    *p = three;
    if (!take_digits (parts, p, end))
      return FALSE;
  }
  return TRUE;
}

static void
take_sign (const char **p, const char *end, gboolean *negative)
{
  *negative = FALSE;
  if (*p < end && (**p == '-' || **p == '+'))
    *negative = *(*p)++ == '-';
  else if (end - *p >= 3 && memcmp (*p, "\xe2\x88\x92", 3) == 0) { /* U+2212, minus sign */
    *negative = TRUE;
    *p += 3;
  }
}

static void
take_exponent (Parts *parts, const char **p, const char *end)
{
  const char *q = *p;
  gboolean negative;
  long exponent = 0;

  if (q >= end || !strchr ("eEdD", *q) || !*q)
    return;
  q++;
  take_sign (&q, end, &negative);
  if (!is_digit (q, end))
    return;
  for (; is_digit (q, end); q++)
    exponent = MIN (exponent * 10 + (*q - '0'), 100000); /* beyond any double, and no overflow */
  parts->exponent += negative ? -exponent : exponent;
  *p = q;
}

/* The same as in sp_decimal_fast, from digits already apart. */
static gboolean
to_double_fast (const Parts *parts, double *value)
{
  guint64 m = 0;

  if (parts->n > 19 || ABS (parts->exponent) > G_MAXINT16)
    return FALSE;
  for (guint i = 0; i < parts->n; i++)
    m = m * 10 + (guint64) (parts->digits[i] - '0');
  if (parts->n <= 15 && ABS (parts->exponent) <= 22)
    *value = parts->exponent < 0 ? (double) m / sp_powers_of_ten[-parts->exponent] : (double) m * sp_powers_of_ten[parts->exponent];
  else if (!sp_decimal_nearest (m, (int) parts->exponent, value))
    return FALSE;
  *value = parts->negative ? -*value : *value;
  return TRUE;
}

static double
to_double (const Parts *parts)
{
  double value;
  if (to_double_fast (parts, &value))
    return value;
  char text[SP_LIMIT_NUMBER_BYTES + 32];
  g_snprintf (text, sizeof text, "%s%se%ld", parts->negative ? "-" : "", parts->digits, parts->exponent);
  return g_ascii_strtod (text, NULL);
}

gboolean
sp_decimal_read (const char **text, const char *end, char mark, char group, int shift, double *value)
{
  const char *p = *text;
  Parts parts;

  parts.n = 0;
  parts.exponent = shift;
  take_sign (&p, end, &parts.negative);
  gboolean integer = is_digit (p, end);
  if (integer && !take_integer (&parts, &p, end, group))
    return FALSE;
  if (p < end && *p == mark) {
    const char *fraction = p + 1;
    gboolean any = is_digit (fraction, end);
    if (any) {
      p = fraction;
      if (!take_digits (&parts, &p, end) || is_digit (p, end))
        return FALSE;
      parts.exponent -= (long) (p - fraction);
    } else if (integer && mark == '.')
      p = fraction;
  }
  if (parts.n == 0 || is_digit (p, end))
    return FALSE;
  take_exponent (&parts, &p, end);
  parts.digits[parts.n] = '\0';
  *value = to_double (&parts);
  *text = p;
  return TRUE;
}

gboolean
sp_decimal_all (const char *text, const char *end, char mark, char group, int shift, double *value)
{
  return sp_decimal_read (&text, end, mark, group, shift, value) && text == end;
}
