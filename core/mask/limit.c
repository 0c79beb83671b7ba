/* limit.c - a mask evaluated: at a point, over a power's uncertainty, as segments */
#include "core/mask/mask.h"

#include <math.h>

/* What a rule is asked about. */
typedef struct {
  double f0_hz, power_w, bandwidth_hz, rbw_hz;
} Case;

#define STEP_DB 0.01 /* what moves a limit by less is not worth a warning (common practice, no source) */
#define SAME_DB 1e-9 /* two limits, or two slopes, are one within rounding; bounds what rounding does */
#define BESIDE 1e-11 /* just below and just above an edge power: 4e-11 dB off, far over rounding, far under any class's width; calculated */

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
in_class (const SpMaskRule *rule, double p)
{
  return isnan (p) || (above (rule->p.low, p) && below (rule->p.high, p));
}

static gboolean
any_power (const SpMaskRule *rule)
{
  return rule->p.low.value == 0 && isinf (rule->p.high.value);
}

static gboolean
applies (const SpMaskRule *rule, const Case *c)
{
  return above (rule->f0.low, c->f0_hz) && below (rule->f0.high, c->f0_hz) && in_class (rule, c->power_w);
}

static gboolean
reaches (const SpMaskRule *rule, const Case *c, double f)
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
attenuation_db (const SpMaskRule *rule, double f)
{
  if (isnan (rule->a_end_db))
    return rule->a_db;
  return rule->a_db + (rule->a_end_db - rule->a_db) * log (f / rule->low.value) / log (rule->high.value / rule->low.value);
}

/* P - attenuation before ceiling and relief. With b = 10 the power drops out: an absolute level that needs no P. */
static double
raw_limit_dbm (const SpMaskRule *rule, const Case *c, double f)
{
  double follow = rule->b_db == 10 ? 0 : (10 - rule->b_db) * log10 (c->power_w);
  return rule->has_attenuation ? 30 - attenuation_db (rule, f) + follow : INFINITY;
}

static double
rule_limit_dbm (const SpMaskRule *rule, const Case *c, double f, double *slope)
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
    const SpMaskRule *rule = &mask->rules[i];
    if (!applies (rule, c) || !reaches (rule, c, f) || offset < half_width_hz (rule->exclude_bandwidths, c))
      continue;
    double slope, level = rule_limit_dbm (rule, c, f, &slope);
    if (!best.rule || stricter (level, best.limit_dbm))
      best = (SpLimit){ level, slope, rule, FALSE };
  }
  best.excluded = !best.rule && offset < exclude_hz (mask, c);
  return best;
}

SpLimit
sp_mask_limit (const SpMask *mask, double fundamental_hz, double power_w, double necessary_bandwidth_hz, double rbw_hz, double frequency_hz)
{
  Case c = { fundamental_hz, power_w, necessary_bandwidth_hz, rbw_hz };
  return evaluate (mask, &c, frequency_hz);
}

double
sp_mask_exclude_hz (const SpMask *mask, double fundamental_hz, double power_w, double necessary_bandwidth_hz, double rbw_hz)
{
  Case c = { fundamental_hz, power_w, necessary_bandwidth_hz, rbw_hz };
  return exclude_hz (mask, &c);
}

gboolean
sp_mask_applies (const SpMask *mask, double fundamental_hz, double low_w, double high_w)
{
  for (guint i = 0; i < mask->n; i++) {
    const SpMaskRule *rule = &mask->rules[i];
    gboolean class = isnan (low_w) || isnan (high_w) || (above (rule->p.low, high_w) && below (rule->p.high, low_w));
    if (class && above (rule->f0.low, fundamental_hz) && below (rule->f0.high, fundamental_hz))
      return TRUE;
  }
  return FALSE;
}

/* What governs just beside an edge power, `side` -1 below and +1 above it. Really beside it: of rules that meet there the one that goes on
 * governing is found, with its own slope, whatever their order in the file. */
static SpLimit
beside (const SpMask *mask, Case c, double edge, int side, double f)
{
  c.power_w = edge * (1 + side * BESIDE);
  return evaluate (mask, &c, f);
}

/* No class ends here for this fundamental and this place: limit and slope go on as if there were no edge. */
static gboolean
goes_on (const SpLimit *below, const SpLimit *above)
{
  if (!below->rule || !above->rule)
    return below->rule == above->rule;
  return fabs (below->limit_dbm - above->limit_dbm) <= SAME_DB && fabs (below->slope - above->slope) <= SAME_DB;
}

static void
take_stricter (SpLimit *best, const SpMaskRule *rule, Case c, double edge, double f)
{
  double slope;
  if (!rule)
    return;
  c.power_w = edge;
  double level = rule_limit_dbm (rule, &c, f, &slope);
  if (!best->rule || level < best->limit_dbm)
    *best = (SpLimit){ level, 0, rule, FALSE };
}

/* The class beyond `edge`, seen from P, joins `best` with its limit at the edge. */
static void
try_edge (const SpMask *mask, const Case *c, double edge, double f, SpLimit *best, SpClassEdge *named)
{
  SpLimit below = beside (mask, *c, edge, -1, f), above = beside (mask, *c, edge, 1, f), before = *best;
  if (goes_on (&below, &above))
    return;
  if (edge <= c->power_w)
    take_stricter (best, below.rule, *c, edge, f);
  if (edge >= c->power_w)
    take_stricter (best, above.rule, *c, edge, f);
  gboolean step = !below.rule || !above.rule || fabs (below.limit_dbm - above.limit_dbm) > STEP_DB;
  gboolean moved = best->rule && !(before.rule && before.limit_dbm - best->limit_dbm <= STEP_DB);
  if (moved || (step && isnan (named->power_w)))
    *named = (SpClassEdge){ edge, below.rule, above.rule };
}

/* The class edges from `low` to `high`, the nearest to `power_w` first: which one is told does not hang on the order of the rules.
 * Returns how many stand in `edges`, which holds two for each rule. */
static guint
edges_near (const SpMask *mask, double power_w, double low, double high, double *edges)
{
  guint n = 0;
  for (guint i = 0; i < 2 * mask->n; i++) {
    const SpMaskRule *rule = &mask->rules[i / 2];
    double edge = i % 2 ? rule->p.high.value : rule->p.low.value;
    if (!(edge >= low && edge <= high) || isinf (edge))
      continue;
    guint k = n++;
    for (; k > 0 && fabs (log (edges[k - 1] / power_w)) > fabs (log (edge / power_w)); k--)
      edges[k] = edges[k - 1];
    edges[k] = edge;
  }
  return n;
}

SpLimit
sp_mask_limit_with_u (const SpMask *mask, double fundamental_hz, double power_w, double expanded_db, double necessary_bandwidth_hz,
                      double rbw_hz, double frequency_hz, SpClassEdge *straddled)
{
  Case c = { fundamental_hz, power_w, necessary_bandwidth_hz, rbw_hz };
  SpLimit best = evaluate (mask, &c, frequency_hz);
  SpClassEdge named = { NAN, NULL, NULL };
  double ratio = expanded_db > 0 ? pow (10, expanded_db / 10) : 1;
  double *edges = g_newa (double, 2 * mask->n);
  guint n = ratio > 1 ? edges_near (mask, power_w, power_w / ratio, power_w * ratio, edges) : 0;
  for (guint i = 0; i < n; i++)
    try_edge (mask, &c, edges[i], frequency_hz, &best, &named);
  if (straddled)
    *straddled = named;
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
bend_hz (const SpMaskRule *rule, const Case *c, double level)
{
  double first = raw_limit_dbm (rule, c, rule->low.value), last = raw_limit_dbm (rule, c, rule->high.value);
  return rule->low.value * pow (rule->high.value / rule->low.value, (level - first) / (last - first));
}

static void
cut_at_rule (GArray *cuts, const SpMaskRule *rule, const Case *c, double from, double to)
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
governs_at (const SpMaskRule *rule, const Case *c, double f)
{
  return applies (rule, c) && reaches (rule, c, f) && fabs (f - c->f0_hz) >= half_width_hz (rule->exclude_bandwidths, c);
}

/* Between the cuts a and b a sloped rule may cross others. Only absolute ranges with a low edge above zero slope, so a > 0 there. */
static void
cut_at_crossings (GArray *cuts, const SpMask *mask, const Case *c, double a, double b)
{
  for (guint i = 0; i < mask->n; i++) {
    const SpMaskRule *sloped = &mask->rules[i];
    if (isnan (sloped->a_end_db) || !governs_at (sloped, c, middle_hz (a, b)))
      continue;
    for (guint j = 0; j < mask->n; j++) {
      const SpMaskRule *other = &mask->rules[j];
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
  Case c = { fundamental_hz, power_w, necessary_bandwidth_hz, rbw_hz };
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
