/* decimal.h - decimal text to double, exactly: the double nearest to what is written, as strtod gives it in the C locale
 *
 * The fast path: up to 19 digits whose integer m is at most 2^53, and a power of ten within +-22. Then m and 10^|e| are exact
 * doubles and m * 10^e or m / 10^-e is rounded once (Clinger 1990, "How to read floating point numbers accurately"). All else
 * goes through strtod. `shift` is added to the exponent before rounding, so that 146.52 MHz is exactly 146520000 Hz.
 */
#pragma once

#include <glib.h>
#include <string.h>

/* A number: [+-] digits [mark digits] [eEdD [+-] digits], at least one digit; ".5" counts, "5." only with the point. A sign may
 * be U+2212 too. With a `group` (0: none) marks of thousands may stand in the integer part: 1 to 3 digits, then groups of three.
 * Reads at *text, no further than `end`; moves *text behind what it used. FALSE (and *text left) where no number stands, or it is
 * longer than SP_LIMIT_NUMBER_BYTES. Too large a number gives an infinity: the caller reports it. */
gboolean sp_decimal_read (const char **text, const char *end, char mark, char group, int shift, double *value);

/* TRUE where all of [text, end) is one number. */
gboolean sp_decimal_all (const char *text, const char *end, char mark, char group, int shift, double *value);

extern const double sp_powers_of_ten[23];

#define SP_DECIMAL_READ_AHEAD 8

/* Eight digits at p, as a number; FALSE where not all eight are digits. */
static inline gboolean
sp_decimal_eight (const char *p, guint64 *m)
{
  guint64 word;

  memcpy (&word, p, 8);
  word = GUINT64_FROM_LE (word) ^ G_GUINT64_CONSTANT (0x3030303030303030); /* a digit's value, or more than 9 */
  if (((word + G_GUINT64_CONSTANT (0x7676767676767676)) | word) & G_GUINT64_CONSTANT (0x8080808080808080))
    return FALSE;
  word = word * 10 + (word >> 8); /* pairs, fours, eight */
  *m = (((word & G_GUINT64_CONSTANT (0x000000ff000000ff)) * G_GUINT64_CONSTANT (0x000f424000000064))
        + (((word >> 16) & G_GUINT64_CONSTANT (0x000000ff000000ff)) * G_GUINT64_CONSTANT (0x0000271000000001))) >> 32;
  return TRUE;
}

/* The fast path alone, inlined into the loop over a million lines: *text must lead to a byte that cannot belong to a number, and
 * SP_DECIMAL_READ_AHEAD bytes behind that one be there. FALSE where it does not apply; that says nothing about the text. (Digits one by one
 * but for whole eights: such branches are foreseen, while counting digits in a word makes each step wait for the one before; measured 10
 * against 14 ns a line.) */
static inline gboolean
sp_decimal_fast (const char **text, char mark, int shift, double *value)
{
  const char *p = *text, *first;
  gboolean negative = *p == '-';
  guint64 m = 0;
  guint digit;

  p += *p == '-' || *p == '+';
  first = p;
  if (sp_decimal_eight (p, &m))
    p += 8;
  for (; (digit = (guint) (*p - '0')) <= 9; p++)
    m = m * 10 + digit;
  guint64 digits = (guint64) (p - first);
  if (*p == mark) {
    for (first = ++p; (digit = (guint) (*p - '0')) <= 9; p++)
      m = m * 10 + digit;
    if (p == first)
      return FALSE;
    digits += (guint64) (p - first);
    shift -= (int) (p - first);
  }
  if (G_UNLIKELY ((guint) ((*p | 32) - 'd') <= 1)) { /* d or e; "1d3" is for the slow path */
    gboolean down = p[1] == '-';
    int power = 0;
    if ((*p | 32) == 'd')
      return FALSE;
    p += 1 + (down || p[1] == '+');
    if (!g_ascii_isdigit (*p))
      return FALSE;
    for (; g_ascii_isdigit (*p) && power < 1000; p++)
      power = power * 10 + (*p - '0');
    shift += down ? -power : power;
  }
  /* 15 digits are below 2^53, and 19 fit into 64 bits. */
  if (G_UNLIKELY (digits - 1 > 14) && (digits == 0 || digits > 19 || m > (G_GUINT64_CONSTANT (1) << 53)))
    return FALSE;
  if ((guint) (shift + 22) > 44)
    return FALSE;
  double magnitude = (double) (gint64) m;
  magnitude = shift < 0 ? magnitude / sp_powers_of_ten[-shift] : magnitude * sp_powers_of_ten[shift];
  *value = negative ? -magnitude : magnitude;
  *text = p;
  return TRUE;
}
