#include "core/judge/case.h"

#include <math.h>

static void
add_gap (GArray *gaps, double from_hz, double to_hz, SpReasonCode why)
{
  SpGap *last = gaps->len ? &g_array_index (gaps, SpGap, gaps->len - 1) : NULL;
  if (last && last->why == why && from_hz <= last->to_hz) {
    last->to_hz = fmax (last->to_hz, to_hz);
    return;
  }
  SpGap gap = { from_hz, to_hz, why };
  if (to_hz > from_hz)
    g_array_append_val (gaps, gap);
}

/* A gap counts where the mask sets a number. */
static void
add_limited_gap (const SpCase *c, GArray *gaps, double from_hz, double to_hz, SpReasonCode why)
{
  for (guint i = 0; c->out->limit && i < c->out->limit->len; i++) {
    const SpLimitSegment *g = &g_array_index (c->out->limit, SpLimitSegment, i);
    if (!isnan (g->limit_dbm))
      add_gap (gaps, fmax (from_hz, g->from_hz), fmin (to_hz, g->to_hz), why);
  }
}

static int
compare_sweeps (const void *a, const void *b)
{
  double x = (*(SpCaseSweep *const *) a)->trace->frequency_hz[0], y = (*(SpCaseSweep *const *) b)->trace->frequency_hz[0];
  return (x > y) - (x < y);
}

/* What of [low, high] no sweep covers. */
static void
unswept (const SpCase *c, GArray *gaps, double low, double high)
{
  g_autofree SpCaseSweep **order = g_new (SpCaseSweep *, c->n + 1);
  for (guint k = 0; k < c->n; k++)
    order[k] = &c->sweeps[k];
  qsort (order, c->n, sizeof *order, compare_sweeps);
  double at = low;
  for (guint k = 0; k < c->n && at < high; k++) {
    const SpTrace *t = order[k]->trace;
    double first = t->frequency_hz[0], last = t->frequency_hz[t->n - 1], reach = order[k]->spacing_hz / 2;
    if (last < at)
      continue;
    if (first - reach > at)
      add_limited_gap (c, gaps, at, fmin (first, high), SP_REASON_NOT_SWEPT);
    at = fmax (at, last + reach);
  }
  if (at < high)
    add_limited_gap (c, gaps, at, high, SP_REASON_NOT_SWEPT);
}

static gboolean
limited_between (const SpCase *c, double low, double high)
{
  for (guint i = 0; c->out->limit && i < c->out->limit->len; i++) {
    const SpLimitSegment *g = &g_array_index (c->out->limit, SpLimitSegment, i);
    if (!isnan (g->limit_dbm) && g->from_hz < high && g->to_hz > low)
      return TRUE;
  }
  return FALSE;
}

/* Floor for a spur anywhere in the sweep at this index: more looked-at points, so a higher threshold than a harmonic's window. */
static double
spur_floor (SpCaseSweep *s, guint64 i, double extra_db)
{
  return s->out->floor_dbm[i] + extra_db;
}

static double
whole_sweep_extra (SpCaseSweep *s)
{
  return sp_case_look (s, (double) s->trace->n).limit_db - s->look.limit_db;
}

/* Does another sweep see under the limit here? */
static gboolean
seen_elsewhere (const SpCase *c, const SpCaseSweep *except, double frequency_hz, double level_dbm)
{
  for (guint k = 0; k < c->n; k++) {
    SpCaseSweep *s = &c->sweeps[k];
    guint64 i = sp_trace_find (s->trace, frequency_hz);
    if (s == except || i == 0 || i == s->trace->n)
      continue;
    if (spur_floor (s, i, whole_sweep_extra (s)) <= level_dbm && spur_floor (s, i - 1, whole_sweep_extra (s)) <= level_dbm)
      return TRUE;
  }
  return FALSE;
}

static double
greatest_u (const SpCase *c)
{
  double u = 0;
  for (guint i = 0; i < c->out->n_emissions; i++)
    if (c->out->emissions[i].swept)
      u = fmax (u, c->out->emissions[i].budget.expanded_margin_db);
  return u;
}

/* Stretches of a search range that were swept, but not deep enough: nothing seen there means nothing. */
static void
blind (const SpCase *c, SpCaseSweep *s, GArray *gaps, double low, double high)
{
  double p = sp_case_judging_power_w (c), f0 = c->out->fundamental_hz, extra = whole_sweep_extra (s);
  double guard = c->bench->rule == SP_RULE_GUARDED ? greatest_u (c) : 0;
  if (isnan (p) || isnan (f0))
    return;
  for (guint64 i = sp_trace_find (s->trace, low); i < s->trace->n && s->trace->frequency_hz[i] <= high; i++) {
    double f = s->trace->frequency_hz[i], reach = sp_case_spacing (s, i) / 2;
    if (fabs (f - f0) <= c->out->exclude_hz)
      continue;
    double limit = sp_mask_limit (c->mask, f0, p, c->out->necessary_bandwidth_hz, s->rbw_hz, f).limit_dbm;
    if (spur_floor (s, i, extra) + guard > limit && !seen_elsewhere (c, s, f, limit - guard))
      add_gap (gaps, fmax (low, f - reach), fmin (high, f + reach), SP_REASON_FLOOR_ABOVE_LIMIT);
  }
}

/* Some limits are absolute and were met; what those that follow an unknown P would be over the search range nobody knows. */
static gboolean
limit_unknown (const SpCase *c)
{
  gboolean complies = FALSE;
  for (guint i = 0; i < c->out->n_emissions; i++)
    complies |= c->out->emissions[i].verdict == SP_VERDICT_COMPLIES;
  return complies && isnan (sp_case_judging_power_w (c));
}

/* A search range must be seen into, all of it; a harmonic outside every sweep is a gap too. */
void
sp_case_gaps (SpCase *c)
{
  g_autoptr (GArray) gaps = g_array_new (FALSE, FALSE, sizeof (SpGap));
  double low = c->mask->search_low_hz, high = c->mask->search_high_hz;
  if (!isnan (low) && limited_between (c, low, high)) {
    unswept (c, gaps, low, high);
    for (guint k = 0; k < c->n; k++)
      blind (c, &c->sweeps[k], gaps, low, high);
  }
  if (!isnan (low) && limit_unknown (c))
    add_gap (gaps, low, high, SP_REASON_NO_POWER);
  for (guint i = 0; i < c->out->n_emissions; i++) {
    const SpEmission *e = &c->out->emissions[i];
    double half = e->order * c->carrier_half_hz + c->out->necessary_bandwidth_hz / 2;
    gboolean searched = e->frequency_hz >= low && e->frequency_hz <= high;
    if (!e->swept && e->verdict == SP_VERDICT_NOT_PROVEN && !searched)
      add_gap (gaps, e->frequency_hz - half, e->frequency_hz + half, SP_REASON_NOT_SWEPT);
  }
  c->out->n_gaps = gaps->len;
  c->out->gaps = (SpGap *) g_array_steal (gaps, NULL);
}
