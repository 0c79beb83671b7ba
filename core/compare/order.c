/* order.c - conditions by waveband, then as in the bench, by verdict or by name */
#include "core/compare/order.h"

#include <math.h>

gboolean
sp_compare_is_worse (const SpConditionFindings *a, const SpConditionFindings *b)
{
  if (a->verdict != b->verdict)
    return a->verdict > b->verdict;
  double margin_a = sp_findings_deciding_margin_db (a), margin_b = sp_findings_deciding_margin_db (b);
  return !isnan (margin_a) && (isnan (margin_b) || margin_a < margin_b);
}

const SpWaveband *
sp_compare_waveband (const SpFindings *findings, guint condition)
{
  return sp_waveband_of (findings->conditions[condition].fundamental_hz);
}

typedef struct {
  const SpFindings *findings;
  SpOrder by;
  gboolean by_waveband;
} Sorting;

static int
compare_wavebands (const SpWaveband *a, const SpWaveband *b)
{
  if (!a || !b)
    return (a == NULL) - (b == NULL);
  return (a->from_hz > b->from_hz) - (a->from_hz < b->from_hz);
}

static int
compare (const void *a, const void *b, void *data)
{
  const Sorting *sorting = data;
  guint p = *(const guint *) a, q = *(const guint *) b;
  const SpConditionFindings *first = &sorting->findings->conditions[p], *second = &sorting->findings->conditions[q];
  int order = 0;
  if (sorting->by_waveband)
    order = compare_wavebands (sp_compare_waveband (sorting->findings, p), sp_compare_waveband (sorting->findings, q));
  if (!order && sorting->by == SP_ORDER_WORST)
    order = sp_compare_is_worse (second, first) - sp_compare_is_worse (first, second);
  if (!order && sorting->by == SP_ORDER_NAME)
    order = g_utf8_collate (first->name, second->name);
  return order ? order : (p > q) - (p < q);
}

void
sp_compare_order (const SpFindings *findings, SpOrder by, gboolean by_waveband, guint *order)
{
  Sorting sorting = { findings, by, by_waveband };
  for (guint i = 0; i < findings->n; i++)
    order[i] = i;
  if (findings->n > 1)
    g_qsort_with_data (order, (int) findings->n, sizeof *order, compare, &sorting);
}

guint
sp_compare_n_wavebands (const SpFindings *findings)
{
  guint n = 0;
  for (guint i = 0; i < findings->n; i++) {
    guint k = 0;
    while (k < i && sp_compare_waveband (findings, k) != sp_compare_waveband (findings, i))
      k++;
    n += k == i ? 1 : 0;
  }
  return n;
}

/* Highest over lowest frequency above zero; 0: no sweep. */
static double
ratio_of (const SpConditionFindings *c)
{
  double low = INFINITY, high = 0;
  for (guint k = 0; k < c->n_corrected; k++) {
    const SpCorrected *sweep = &c->corrected[k];
    guint64 first = sweep->n && !(sweep->frequency_hz[0] > 0) ? 1 : 0;
    if (first < sweep->n) {
      low = MIN (low, sweep->frequency_hz[first]);
      high = MAX (high, sweep->frequency_hz[sweep->n - 1]);
    }
  }
  return high / low;
}

gboolean
sp_compare_is_wide (const SpFindings *findings)
{
  guint n = 0;
  for (guint i = 0; i < findings->n; i++) {
    double ratio = ratio_of (&findings->conditions[i]);
    if (ratio > 0 && ratio < SP_WIDE_RATIO)
      return FALSE;
    n += ratio > 0 ? 1 : 0;
  }
  return n > 0;
}
