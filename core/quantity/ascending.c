/* ascending.c - finds places in ascending numbers, such as a trace's frequencies */
#include "core/quantity/ascending.h"

guint64
sp_ascending_first (guint64 n, const double *x, double value)
{
  guint64 low = 0, high = n;
  while (low < high) {
    guint64 middle = low + (high - low) / 2;
    if (x[middle] < value)
      low = middle + 1;
    else
      high = middle;
  }
  return low;
}

guint64
sp_ascending_nearest (guint64 n, const double *x, double value)
{
  guint64 i = sp_ascending_first (n, x, value);
  if (i == n)
    return n - 1;
  return i > 0 && value - x[i - 1] < x[i] - value ? i - 1 : i;
}
