/* seams.c - finds where sweeps of unequal span begin and end inside the total range */
#include "core/judge/verdict/verdict.h"

static int
by_frequency (const void *a, const void *b)
{
  const SpSeam *x = a, *y = b;
  return (x->frequency_hz > y->frequency_hz) - (x->frequency_hz < y->frequency_hz);
}

/* TRUE if there is a seam of this kind within a point's spacing: repeats share their ends. */
static gboolean
listed (const SpSeam *seams, guint n, const SpSeam *one, double reach_hz)
{
  for (guint i = 0; i < n; i++)
    if (seams[i].begins == one->begins && seams[i].frequency_hz <= one->frequency_hz + reach_hz
        && seams[i].frequency_hz >= one->frequency_hz - reach_hz)
      return TRUE;
  return FALSE;
}

/* The end of a sweep strictly inside another's range. */
static gboolean
inside_another (const SpJudging *c, guint except, double frequency_hz, double reach_hz)
{
  for (guint k = 0; k < c->n; k++) {
    const SpTrace *t = c->sweeps[k].trace;
    if (k != except && t->frequency_hz[0] < frequency_hz - reach_hz && t->frequency_hz[t->n - 1] > frequency_hz + reach_hz)
      return TRUE;
  }
  return FALSE;
}

/* Two sweeps that only touch: one ends where the other begins. */
static gboolean
touches (const SpJudging *c, guint except, double frequency_hz, double reach_hz)
{
  for (guint k = 0; k < c->n; k++) {
    double first = c->sweeps[k].trace->frequency_hz[0];
    if (k != except && first >= frequency_hz - reach_hz && first <= frequency_hz + reach_hz)
      return TRUE;
  }
  return FALSE;
}

SpSeam *
sp_judging_seams (const SpJudging *c, guint *n_seams)
{
  SpSeam *seams = g_new (SpSeam, 2 * c->n + 1);
  guint n = 0;
  for (guint k = 0; k < c->n; k++) {
    const SpTrace *t = c->sweeps[k].trace;
    double reach = 1.5 * c->sweeps[k].spacing_hz; /* the next point, and rounding (common practice, no source) */
    SpSeam ends[] = { { t->frequency_hz[0], k, TRUE }, { t->frequency_hz[t->n - 1], k, FALSE } };
    for (guint i = 0; i < 2; i++) {
      gboolean seam = inside_another (c, k, ends[i].frequency_hz, reach)
                      || (!ends[i].begins && touches (c, k, ends[i].frequency_hz, reach));
      if (seam && !listed (seams, n, &ends[i], reach))
        seams[n++] = ends[i];
    }
  }
  qsort (seams, n, sizeof *seams, by_frequency);
  *n_seams = n;
  return seams;
}
