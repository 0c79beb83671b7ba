/* nearest.c - the double nearest to m * 10^e, for more digits than a double holds exactly */
#include "core/trace/text/decimal.h"
#include "core/trace/text/powers.inc"

/* The method of Eisel and Lemire (D. Lemire, "Number parsing at a gigabyte per second", Software: Practice and Experience 51, 2021): m is
 * multiplied by the first binary digits of 10^e. These are rounded down, so that the true product lies between what comes out and one unit
 * more in its last place times m; where both would round to the same double, it is that one. Where they might not, or where the product
 * could be halfway between two doubles, the caller asks strtod: less than one number in a hundred thousand. */

__extension__ typedef unsigned __int128 Wide;

/* The first 128 binary digits of the product, of which the lower are uncertain; FALSE where that could matter for the double. */
static gboolean
multiply (guint64 m, const guint64 *power, guint64 *high, guint64 *low)
{
  Wide product = (Wide) m * power[0];

  /* All digits below the double's are ones, and the next power digits could carry over: count them in. */
  if (((guint64) (product >> 64) & 0x1ff) == 0x1ff && (guint64) product + m < m) {
    Wide rest = (Wide) m * power[1];
    product += rest >> 64;
    if (((guint64) (product >> 64) & 0x1ff) == 0x1ff && (guint64) product == G_MAXUINT64 && (guint64) rest + m < m)
      return FALSE;
  }
  *high = (guint64) (product >> 64);
  *low = (guint64) product;
  return TRUE;
}

gboolean
sp_decimal_nearest (guint64 m, int exponent, double *value)
{
  guint64 high, low;

  if (m == 0 || exponent < LEAST || exponent > GREATEST)
    return FALSE;
  int zeros = __builtin_clzll (m);
  if (!multiply (m << zeros, powers[exponent - LEAST], &high, &low))
    return FALSE;
  /* 54 digits: the double's 53 and one to round by. */
  int top = (int) (high >> 63);
  guint64 digits = high >> (top + 9);
  if (low == 0 && (high & 0x1ff) == 0 && (digits & 3) == 1)
    return FALSE;
  digits = (digits + (digits & 1)) >> 1;
  /* 217706 / 2^16 is log2 (10), near enough to round down rightly for all exponents here; all results are normal numbers. A double does
   * not store its first digit: here it adds one to the exponent, and a carry beyond it another. */
  int binary = ((217706 * exponent) >> 16) + 63 - zeros + top;
  guint64 bits = ((guint64) (binary + 1022) << 52) + digits;
  memcpy (value, &bits, sizeof bits);
  return TRUE;
}
