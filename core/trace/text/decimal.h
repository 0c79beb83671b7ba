/* decimal.h - decimal text to double, exactly: the double nearest to what is written, as strtod gives it in the C locale
 *
 * Up to 19 digits make an integer m. If it is at most 2^53, and the power of ten within +-22, then m and 10^|e| are exact doubles and
 * m * 10^e or m / 10^-e is rounded once (Clinger 1990, "How to read floating point numbers accurately"). Other m go through
 * sp_decimal_nearest, all else through strtod. `shift` is added to the exponent before rounding: 146.52 MHz is exactly 146520000 Hz.
 * Written by hand because strtod has no `shift` and follows the locale, and takes several times as long (tests/bench/read compares them).
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

/* The double nearest to m * 10^exponent, for all 64 bits of m. FALSE where it does not apply (m 0, exponents that no export has) or cannot
 * tell: rarely. */
gboolean sp_decimal_nearest (guint64 m, int exponent, double *value);

#define SP_DECIMAL_READ_AHEAD 8 /* room for the reader of eight digits at once */

#define SP_DECIMAL_ZEROS G_GUINT64_CONSTANT (0x3030303030303030) /* the format of eight digits in ASCII */

/* Eight characters as a word, first in the lowest byte, with '0' taken off each. Not 0 where one is no digit. */
static inline guint64
sp_decimal_not_digits (guint64 word)
{
  return ((word + G_GUINT64_CONSTANT (0x7676767676767676)) | word) & G_GUINT64_CONSTANT (0x8080808080808080);
}

/* The number that eight such digits make: pairs, fours, eight at once. */
static inline guint64
sp_decimal_join (guint64 word)
{
  const guint64 every_fourth = G_GUINT64_CONSTANT (0x000000ff000000ff);

  word = word * 10 + (word >> 8);
  return ((word & every_fourth) * G_GUINT64_CONSTANT (0x000f424000000064)
          + ((word >> 16) & every_fourth) * G_GUINT64_CONSTANT (0x0000271000000001))
         >> 32;
}

/* Eight digits at p, as a number; FALSE where not all eight are digits. */
static inline gboolean
sp_decimal_eight (const char *p, guint64 *m)
{
  guint64 word;

  memcpy (&word, p, 8);
  word = GUINT64_FROM_LE (word) ^ SP_DECIMAL_ZEROS;
  if (sp_decimal_not_digits (word))
    return FALSE;
  *m = sp_decimal_join (word);
  return TRUE;
}

/* The same without marks of thousands and without strtod, inlined into the loop over a million lines: *text must lead to a byte that cannot
 * belong to a number, and SP_DECIMAL_READ_AHEAD bytes behind that one be there. FALSE where it does not apply; that says nothing about the
 * text. (Digits one by one but for whole eights: such branches are foreseen, while counting digits in a word makes each step wait for the
 * one before; measured 10 against 14 ns a line.) */
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
  double magnitude = (double) (gint64) m;
  /* 15 digits are below 2^53, and 19 fit into 64 bits. */
  if (G_LIKELY (digits - 1 <= 14 && (guint) (shift + 22) <= 44))
    magnitude = shift < 0 ? magnitude / sp_powers_of_ten[-shift] : magnitude * sp_powers_of_ten[shift];
  else if (digits == 0 || digits > 19 || !sp_decimal_nearest (m, shift, &magnitude))
    return FALSE;
  *value = negative ? -magnitude : magnitude;
  *text = p;
  return TRUE;
}
