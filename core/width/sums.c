/* sums.c - readings as a density over frequency: its sums, and where it falls below a level */
#include "core/width/width.h"

#include <math.h>

/* All: common practice, no source */
#define MOST_STRETCHES 20
#define LEAST_STRETCHES 4
#define STRETCH_READINGS 8
/* The lowest of twenty lies some two of its u low: what lies as far over the mean is four above it; calculated */
#define STRETCH_U 4.0

double
sp_width_noise_mw (const SpReadings *r, double looks)
{
  guint stretches = (guint) CLAMP (r->n / STRETCH_READINGS, LEAST_STRETCHES, MOST_STRETCHES);
  double mean[MOST_STRETCHES], least = INFINITY, sum = 0;
  guint alike = 0;
  for (guint k = 0; k < stretches; k++) {
    guint64 from = k * r->n / stretches, to = (k + 1) * r->n / stretches;
    mean[k] = 0;
    for (guint64 i = from; i < to; i++)
      mean[k] += sp_ratio_from_db (r->level_dbm[i]) / (double) (to - from);
    least = fmin (least, mean[k]);
  }
  double most = least * (1 + STRETCH_U / sqrt (fmax (1, looks * (double) r->n / stretches)));
  for (guint k = 0; k < stretches; k++)
    if (mean[k] <= most) {
      sum += mean[k];
      alike++;
    }
  return sum / alike;
}

/* The bin of a reading reaches halfway to its neighbours, at the ends as far outwards as inwards. */
static double
edge (const SpReadings *r, guint64 i)
{
  const double *f = r->frequency_hz;
  if (i == 0)
    return f[0] - (f[1] - f[0]) / 2;
  if (i == r->n)
    return f[r->n - 1] + (f[r->n - 1] - f[r->n - 2]) / 2;
  return (f[i - 1] + f[i]) / 2;
}

static double
density (const SpReadings *r, guint64 i, double noise_mw)
{
  return sp_ratio_from_db (r->level_dbm[i]) - noise_mw;
}

double
sp_width_sum (const SpReadings *r, double noise_mw, double from_hz, double to_hz)
{
  double sum = 0;
  for (guint64 i = 0; i < r->n; i++) {
    double low = fmax (from_hz, edge (r, i)), high = fmin (to_hz, edge (r, i + 1));
    if (high > low)
      sum += density (r, i, noise_mw) * (high - low);
  }
  return sum;
}

void
sp_width_occupied (const SpReadings *r, double noise_mw, double share, double *low_hz, double *high_hz)
{
  g_autofree double *sum = g_new (double, r->n + 1); /* up to each edge */
  guint64 peak = 0;
  sum[0] = 0;
  for (guint64 i = 0; i < r->n; i++) {
    sum[i + 1] = sum[i] + density (r, i, noise_mw) * (edge (r, i + 1) - edge (r, i));
    peak = r->level_dbm[i] > r->level_dbm[peak] ? i : peak;
  }
  double total = sum[r->n], below = (1 - share) / 2 * total, above = total - below;
  *low_hz = *high_hz = NAN;
  if (!(total > 0))
    return;
  guint64 i = peak;
  while (i > 0 && sum[i] > below)
    i--;
  while (sum[i + 1] <= below)
    i++;
  *low_hz = edge (r, i) + (edge (r, i + 1) - edge (r, i)) * fmin (1, (below - sum[i]) / (sum[i + 1] - sum[i]));
  i = peak + 1;
  while (i < r->n && sum[i] < above)
    i++;
  while (sum[i - 1] >= above)
    i--;
  *high_hz = edge (r, i) - (edge (r, i) - edge (r, i - 1)) * fmin (1, (sum[i] - above) / (sum[i] - sum[i - 1]));
}

/* Between readings a and b, of which a lies below `level` and b does not. */
static double
crossing (const SpReadings *r, guint64 a, guint64 b, double level)
{
  double share = (level - r->level_dbm[a]) / (r->level_dbm[b] - r->level_dbm[a]);
  return r->frequency_hz[a] + share * (r->frequency_hz[b] - r->frequency_hz[a]);
}

void
sp_width_drop (const SpReadings *r, double peak_dbm, double drop_db, double *low_hz, double *high_hz)
{
  double level = peak_dbm - drop_db;
  guint64 first = 0, last = r->n;
  while (first < r->n && r->level_dbm[first] < level)
    first++;
  while (last > first && r->level_dbm[last - 1] < level)
    last--;
  *low_hz = first > 0 && first < r->n ? crossing (r, first - 1, first, level) : NAN;
  *high_hz = last > first && last < r->n ? crossing (r, last, last - 1, level) : NAN;
}
