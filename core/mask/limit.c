/* limit.c - a mask evaluated: at a point, over a power's uncertainty, as segments */
#include "core/mask/mask.h"

#include <math.h>

/* What a rule is asked about. `side` tells the class just below (-1), at (0) or just above (+1) the power. */
typedef struct {
  double f0_hz, power_w, bandwidth_hz, rbw_hz;
  int side;
} Case;

#define STEP_DB 0.01 /* two classes that differ by less at their common edge make no step worth a warning */

static gboolean
above (SpEdge low, double x)
{
  return x > low.value || (low.closed && x == low.value);
}

static gboolean
below (SpEdge high, double x)
{
  return x < high.value || (high.closed && x == high.value);
}

static gboolean
in_class (const SpRule *rule, double p, int side)
{
  if (side < 0)
    return p > rule->p_low.value && p <= rule->p_high.value;
  if (side > 0)
    return p >= rule->p_low.value && p < rule->p_high.value;
  return isnan (p) || (above (rule->p_low, p) && below (rule->p_high, p));
}

static gboolean
any_power (const SpRule *rule)
{
  return rule->p_low.value == 0 && isinf (rule->p_high.value);
}

static gboolean
applies (const SpRule *rule, const Case *c)
{
  return above (rule->f0_low, c->f0_hz) && below (rule->f0_high, c->f0_hz) && in_class (rule, c->power_w, c->side);
}

static gboolean
reaches (const SpRule *rule, const Case *c, double f)
{
  double x = rule->range == SP_RANGE_ABSOLUTE ? f : fabs (f - c->f0_hz);
  if (rule->range == SP_RANGE_BANDWIDTHS)
    x /= c->bandwidth_hz;
  return above (rule->low, x) && below (rule->high, x);
}

static double
half_width_hz (double bandwidths, const Case *c)
{
  return fmax (bandwidths * c->bandwidth_hz, 3 * c->rbw_hz); /* fmax passes a NaN over */
}

static double
attenuation_db (const SpRule *rule, double f)
{
  if (isnan (rule->a_end_db))
    return rule->a_db;
  return rule->a_db + (rule->a_end_db - rule->a_db) * log (f / rule->low.value) / log (rule->high.value / rule->low.value);
}

/* P - attenuation before ceiling and relief. With b = 10 the power drops out: an absolute level that needs no P. */
static double
raw_limit_dbm (const SpRule *rule, const Case *c, double f)
{
  double follow = rule->b_db == 10 ? 0 : (10 - rule->b_db) * log10 (c->power_w);
  return rule->has_attenuation ? 30 - attenuation_db (rule, f) + follow : INFINITY;
}

static double
rule_limit_dbm (const SpRule *rule, const Case *c, double f, double *slope)
{
  double level = raw_limit_dbm (rule, c, f);
  *slope = rule->has_attenuation ? 1 - rule->b_db / 10 : 0;
  if (isnan (c->power_w) && !any_power (rule))
    return NAN;
  if (level > rule->ceiling_dbm) {
    level = rule->ceiling_dbm;
    *slope = 0;
  }
  if (level < rule->relief_dbm) {
    level = rule->relief_dbm;
    *slope = 0;
  }
  return level;
}

/* Not known counts as the strictest: nothing may be proven by leaving P out. */
static gboolean
stricter (double a, double b)
{
  return !isnan (b) && (isnan (a) || a < b);
}

static double
exclude_hz (const SpMask *mask, const Case *c)
{
  double least = INFINITY;
  for (guint i = 0; i < mask->n; i++)
    if (applies (&mask->rules[i], c))
      least = MIN (least, half_width_hz (mask->rules[i].exclude_bandwidths, c));
  return isinf (least) ? half_width_hz (mask->exclude_bandwidths, c) : least;
}

static SpLimit
evaluate (const SpMask *mask, const Case *c, double f)
{
  SpLimit best = { NAN, 0, NULL, FALSE };
  double offset = fabs (f - c->f0_hz);
  for (guint i = 0; i < mask->n; i++) {
    const SpRule *rule = &mask->rules[i];
    if (!applies (rule, c) || !reaches (rule, c, f) || offset < half_width_hz (rule->exclude_bandwidths, c))
      continue;
    double slope, level = rule_limit_dbm (rule, c, f, &slope);
    if (!best.rule || stricter (level, best.limit_dbm))
      best = (SpLimit) { level, slope, rule, FALSE };
  }
  best.excluded = !best.rule && offset < exclude_hz (mask, c);
  return best;
}

SpLimit
sp_mask_limit (const SpMask *mask, double fundamental_hz, double power_w, double necessary_bandwidth_hz, double rbw_hz, double frequency_hz)
{
  Case c = { fundamental_hz, power_w, necessary_bandwidth_hz, rbw_hz, 0 };
  return evaluate (mask, &c, frequency_hz);
}

double
sp_mask_exclude_hz (const SpMask *mask, double fundamental_hz, double power_w, double necessary_bandwidth_hz, double rbw_hz)
{
  Case c = { fundamental_hz, power_w, necessary_bandwidth_hz, rbw_hz, 0 };
  return exclude_hz (mask, &c);
}

/* The classes that meet at `edge`: the strictest of them joins `best`. Below and above count only where P - U, P + U reach that far. */
static void
try_edge (const SpMask *mask, Case c, double edge, double low, double high, double f, SpLimit *best, gboolean *step)
{
  double least = INFINITY, most = -INFINITY;
  c.power_w = edge;
  for (c.side = -1; c.side <= 1; c.side++) {
    if ((c.side < 0 && edge == low) || (c.side > 0 && edge == high))
      continue;
    SpLimit there = evaluate (mask, &c, f);
    if (!there.rule)
      continue;
    least = MIN (least, there.limit_dbm);
    most = MAX (most, there.limit_dbm);
    if (!best->rule || there.limit_dbm < best->limit_dbm)
      *best = (SpLimit) { there.limit_dbm, 0, there.rule, FALSE };
  }
  *step = most - least > STEP_DB;
}

SpLimit
sp_mask_limit_with_u (const SpMask *mask, double fundamental_hz, double power_w, double expanded_db, double necessary_bandwidth_hz,
                      double rbw_hz, double frequency_hz, gboolean *straddles, double *edge_w)
{
  Case c = { fundamental_hz, power_w, necessary_bandwidth_hz, rbw_hz, 0 };
  SpLimit best = evaluate (mask, &c, frequency_hz);
  double ratio = expanded_db > 0 ? pow (10, expanded_db / 10) : 1;
  double low = power_w / ratio, high = power_w * ratio;
  if (straddles)
    *straddles = FALSE;
  if (edge_w)
    *edge_w = NAN;
  for (guint i = 0; ratio > 1 && i < 2 * mask->n; i++) {
    const SpRule *rule = &mask->rules[i / 2];
    double edge = i % 2 ? rule->p_high.value : rule->p_low.value;
    gboolean step;
    if (!(edge >= low && edge <= high) || isinf (edge))
      continue;
    try_edge (mask, c, edge, low, high, frequency_hz, &best, &step);
    if (step && straddles)
      *straddles = TRUE;
    if (step && edge_w)
      *edge_w = edge;
  }
  return best;
}

/* ---- segments: the axis cut wherever a rule begins, ends, bends or crosses another; between two cuts one rule governs, straight over log f */

static void
add_cut (GArray *cuts, double f, double from, double to)
{
  if (f > from && f < to)
    g_array_append_val (cuts, f);
}

static int
by_value (gconstpointer a, gconstpointer b)
{
  double x = *(const double *) a, y = *(const double *) b;
  return (x > y) - (x < y);
}

/* Where a sloped attenuation meets a level. */
static double
bend_hz (const SpRule *rule, const Case *c, double level)
{
  double first = raw_limit_dbm (rule, c, rule->low.value), last = raw_limit_dbm (rule, c, rule->high.value);
  return rule->low.value * pow (rule->high.value / rule->low.value, (level - first) / (last - first));
}

static void
cut_at_rule (GArray *cuts, const SpRule *rule, const Case *c, double from, double to)
{
  double unit = rule->range == SP_RANGE_BANDWIDTHS ? c->bandwidth_hz : 1, exclude = half_width_hz (rule->exclude_bandwidths, c);
  double edges[] = { rule->low.value * unit, rule->high.value * unit };
  for (guint i = 0; i < 2; i++) {
    if (rule->range == SP_RANGE_ABSOLUTE)
      add_cut (cuts, edges[i], from, to);
    else {
      add_cut (cuts, c->f0_hz - edges[i], from, to);
      add_cut (cuts, c->f0_hz + edges[i], from, to);
    }
  }
  add_cut (cuts, c->f0_hz - exclude, from, to);
  add_cut (cuts, c->f0_hz + exclude, from, to);
  if (!isnan (rule->a_end_db)) {
    add_cut (cuts, bend_hz (rule, c, rule->ceiling_dbm), from, to);
    add_cut (cuts, bend_hz (rule, c, rule->relief_dbm), from, to);
  }
}

static double
middle_hz (double a, double b)
{
  return a > 0 ? sqrt (a) * sqrt (b) : b / 2;
}

static gboolean
governs_at (const SpRule *rule, const Case *c, double f)
{
  return applies (rule, c) && reaches (rule, c, f) && fabs (f - c->f0_hz) >= half_width_hz (rule->exclude_bandwidths, c);
}

/* Between the cuts a and b a sloped rule may cross others. Only absolute ranges with a low edge above zero slope, so a > 0 there. */
static void
cut_at_crossings (GArray *cuts, const SpMask *mask, const Case *c, double a, double b)
{
  for (guint i = 0; i < mask->n; i++) {
    const SpRule *sloped = &mask->rules[i];
    if (isnan (sloped->a_end_db) || !governs_at (sloped, c, middle_hz (a, b)))
      continue;
    for (guint j = 0; j < mask->n; j++) {
      const SpRule *other = &mask->rules[j];
      double slope;
      if (j == i || !governs_at (other, c, middle_hz (a, b)))
        continue;
      double at_a = rule_limit_dbm (sloped, c, a, &slope) - rule_limit_dbm (other, c, a, &slope);
      double at_b = rule_limit_dbm (sloped, c, b, &slope) - rule_limit_dbm (other, c, b, &slope);
      if (at_a * at_b < 0)
        add_cut (cuts, a * pow (b / a, at_a / (at_a - at_b)), a, b);
    }
  }
}

static void
append_segment (GArray *segments, const SpMask *mask, const Case *c, double a, double b)
{
  SpLimit limit = evaluate (mask, c, middle_hz (a, b));
  SpLimitSegment segment = { a, b, NAN, NAN, limit.rule };
  double slope;
  if (limit.rule) {
    segment.limit_dbm = rule_limit_dbm (limit.rule, c, a, &slope);
    segment.limit_end_dbm = rule_limit_dbm (limit.rule, c, b, &slope);
  }
  SpLimitSegment *last = segments->len ? &g_array_index (segments, SpLimitSegment, segments->len - 1) : NULL;
  gboolean flat = isnan (segment.limit_dbm) || segment.limit_dbm == segment.limit_end_dbm;
  if (last && flat && last->rule == limit.rule
      && (isnan (segment.limit_dbm) || (last->limit_dbm == segment.limit_dbm && last->limit_end_dbm == segment.limit_dbm)))
    last->to_hz = b;
  else
    g_array_append_val (segments, segment);
}

double
sp_limit_segment_dbm (const SpLimitSegment *segment, double frequency_hz)
{
  if (segment->limit_dbm == segment->limit_end_dbm || !(segment->from_hz > 0) || !(frequency_hz > segment->from_hz))
    return segment->limit_dbm;
  double along = log (frequency_hz / segment->from_hz) / log (segment->to_hz / segment->from_hz);
  return segment->limit_dbm + (segment->limit_end_dbm - segment->limit_dbm) * along;
}

GArray *
sp_mask_segments (const SpMask *mask, double fundamental_hz, double power_w, double necessary_bandwidth_hz, double rbw_hz, double from_hz,
                  double to_hz)
{
  Case c = { fundamental_hz, power_w, necessary_bandwidth_hz, rbw_hz, 0 };
  GArray *segments = g_array_new (FALSE, FALSE, sizeof (SpLimitSegment));
  g_autoptr (GArray) cuts = g_array_new (FALSE, FALSE, sizeof (double));
  if (!(from_hz < to_hz))
    return segments;
  g_array_append_val (cuts, from_hz);
  g_array_append_val (cuts, to_hz);
  for (guint i = 0; i < mask->n; i++)
    if (applies (&mask->rules[i], &c))
      cut_at_rule (cuts, &mask->rules[i], &c, from_hz, to_hz);
  g_array_sort (cuts, by_value);
  for (guint i = 0, n = cuts->len; i + 1 < n; i++)
    cut_at_crossings (cuts, mask, &c, g_array_index (cuts, double, i), g_array_index (cuts, double, i + 1));
  g_array_sort (cuts, by_value);
  for (guint i = 0; i + 1 < cuts->len; i++)
    if (g_array_index (cuts, double, i) < g_array_index (cuts, double, i + 1))
      append_segment (segments, mask, &c, g_array_index (cuts, double, i), g_array_index (cuts, double, i + 1));
  return segments;
}
