/* gaps.c - finds the ranges where no sweep shows compliance: not swept, or not seen deep enough */
#include "core/judge/emission/emission.h"
#include "core/judge/sweep/sweep.h"
#include "core/judge/verdict/clear.h"
#include "core/judge/verdict/verdict.h"

#include <math.h>

static void
add_gap (GArray *gaps, const SpGap *gap)
{
  SpGap *last = gaps->len ? &g_array_index (gaps, SpGap, gaps->len - 1) : NULL;
  if (!(gap->to_hz > gap->from_hz))
    return;
  if (!last || last->why != gap->why || gap->from_hz > last->to_hz) {
    g_array_append_val (gaps, *gap);
    return;
  }
  last->to_hz = fmax (last->to_hz, gap->to_hz);
  if (sp_gap_missing_db (gap) > sp_gap_missing_db (last)) {
    last->floor_dbm = gap->floor_dbm;
    last->guard_db = gap->guard_db;
    last->limit_dbm = gap->limit_dbm;
  }
}

static gboolean
limited_between (const SpJudging *c, double low, double high)
{
  for (guint i = 0; c->out->limit && i < c->out->limit->len; i++) {
    const SpLimitSegment *g = &g_array_index (c->out->limit, SpLimitSegment, i);
    if (!isnan (g->limit_dbm) && g->from_hz < high && g->to_hz > low)
      return TRUE;
  }
  return FALSE;
}

/* ---- gaps of all sweeps together ---- */

/* The stretches of all sweeps, and all their ends. */
typedef struct {
  const SpJudging *c;
  GArray **stretches; /* one for each sweep */
  guint *at;          /* for each sweep, the first stretch that does not end below the current frequency */
  GArray *cuts;       /* of double, ascending */
  double room_db;     /* least room so far in clear ranges; INFINITY */
} Union;

static int
by_value (const void *a, const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;
  return (x > y) - (x < y);
}

static void
cut_at (Union *u, double from_hz, double to_hz)
{
  g_array_append_val (u->cuts, from_hz);
  g_array_append_val (u->cuts, to_hz);
}

static void
gather (Union *u)
{
  const SpJudging *c = u->c;
  for (guint k = 0; k < c->n; k++) {
    u->stretches[k] = sp_judging_stretches (c, k);
    for (guint j = 0; j < u->stretches[k]->len; j++) {
      const SpStretch *stretch = &g_array_index (u->stretches[k], SpStretch, j);
      cut_at (u, stretch->from_hz, stretch->to_hz);
    }
  }
  for (guint j = 0; c->out->limit && j < c->out->limit->len; j++) {
    const SpLimitSegment *segment = &g_array_index (c->out->limit, SpLimitSegment, j);
    cut_at (u, segment->from_hz, segment->to_hz);
  }
  if (!isnan (c->mask->search_low_hz))
    cut_at (u, c->mask->search_low_hz, c->mask->search_high_hz);
  g_array_sort (u->cuts, by_value);
}

/* Sweep k's stretch at a frequency; NULL: not covered. */
static const SpStretch *
stretch_at (Union *u, guint k, double frequency_hz)
{
  const GArray *stretches = u->stretches[k];
  while (u->at[k] < stretches->len && g_array_index (stretches, SpStretch, u->at[k]).to_hz < frequency_hz)
    u->at[k]++;
  const SpStretch *stretch = u->at[k] < stretches->len ? &g_array_index (stretches, SpStretch, u->at[k]) : NULL;
  return stretch && stretch->from_hz <= frequency_hz ? stretch : NULL;
}

/* Order of severity: above the limit, then not visible, then not swept. */
static guint
rank (SpReasonCode why)
{
  static const SpReasonCode order[] = { SP_REASON_OUTSIDE_CALIBRATION, SP_REASON_ZERO_HERTZ,        SP_REASON_TOO_WIDE,
                                        SP_REASON_UNDERSAMPLED,        SP_REASON_FLOOR_ABOVE_LIMIT, SP_REASON_TRACE_ABOVE_LIMIT };
  for (guint i = 0; i < G_N_ELEMENTS (order); i++)
    if (order[i] == why)
      return i + 1;
  return 0;
}

/* One range between two cuts. A signal above the limit in one sweep counts even if another does not show it: it is intermittent. */
static void
open_range (Union *u, double from_hz, double to_hz, GArray *gaps)
{
  const SpJudging *c = u->c;
  double f = (from_hz + to_hz) / 2;
  double room_db = -INFINITY; /* of the deepest sweep */
  gboolean clear = FALSE, above = FALSE, hidden = FALSE, searched = f >= c->mask->search_low_hz && f <= c->mask->search_high_hz;
  const SpStretch *worst = NULL;
  for (guint k = 0; k < c->n; k++) {
    const SpStretch *stretch = stretch_at (u, k, f);
    if (!stretch)
      continue;
    clear |= stretch->why == SP_CLEAR;
    if (stretch->why == SP_CLEAR)
      room_db = fmax (room_db, stretch->limit_dbm - stretch->floor_dbm);
    above |= stretch->why == SP_REASON_TRACE_ABOVE_LIMIT;
    hidden |= stretch->why == SP_REASON_ZERO_HERTZ && stretch->above; /* the response at zero hertz or a line in it: unknown */
    if (stretch->why != SP_CLEAR && (!worst || rank (stretch->why) > rank (worst->why)))
      worst = stretch;
  }
  gboolean wanted = isnan (c->mask->search_low_hz) || searched || above || hidden;
  if (clear && !above && wanted)
    u->room_db = fmin (u->room_db, room_db);
  if ((clear && !above) || !wanted || (!worst && !searched))
    return;
  SpGap gap = { from_hz, to_hz, SP_REASON_NOT_SWEPT, NAN, NAN, NAN, NULL };
  if (worst)
    gap = (SpGap){ from_hz, to_hz, worst->why, worst->floor_dbm, worst->guard_db, worst->limit_dbm, NULL };
  add_gap (gaps, &gap);
}

/* Adds the ranges with a numeric limit. */
static void
open_between (const SpJudging *c, SpGaps *found)
{
  Union u = { c, g_new0 (GArray *, c->n + 1), g_new0 (guint, c->n + 1), g_array_new (FALSE, FALSE, sizeof (double)), INFINITY };
  gather (&u);
  for (guint i = 0; i + 1 < u.cuts->len; i++) {
    double from = g_array_index (u.cuts, double, i), to = g_array_index (u.cuts, double, i + 1);
    if (to > from && sp_judging_segment (c, (from + to) / 2))
      open_range (&u, from, to, found->gaps);
  }
  found->clear_room_db = isfinite (u.room_db) ? u.room_db : NAN;
  for (guint k = 0; k < c->n; k++)
    g_array_unref (u.stretches[k]);
  g_free (u.stretches);
  g_free (u.at);
  g_array_unref (u.cuts);
}

/* Absolute limits of the search range were met, but others depend on an unknown P. */
static gboolean
limit_unknown (const SpJudging *c)
{
  gboolean complies = FALSE;
  for (guint i = 0; i < c->out->n_emissions; i++)
    complies |= c->out->emissions[i].verdict == SP_VERDICT_COMPLIES;
  return complies && isnan (sp_judging_limit_power_w (c));
}

/* Noise that climbs towards the carrier with more total power than the limit, where the rule is for whole powers. For a reference
 * bandwidth the floor includes it. */
static void
climbs (const SpJudging *c, GArray *gaps)
{
  for (guint i = 0; i < c->climbs->len; i++) {
    const SpClimb *climb = &g_array_index (c->climbs, SpClimb, i);
    double middle = (climb->from_hz + climb->to_hz) / 2;
    const SpLimitSegment *segment = sp_judging_segment (c, middle);
    double limit = segment ? sp_limit_segment_dbm (segment, middle) : NAN;
    SpGap gap = { climb->from_hz, climb->to_hz, SP_REASON_TRACE_ABOVE_LIMIT, climb->power_dbm, 0, limit, NULL };
    if (segment && isnan (segment->rule->reference_bandwidth_hz) && climb->power_dbm > limit)
      add_gap (gaps, &gap);
  }
}

/* A harmonic outside every sweep and every search range. */
static void
missing_harmonics (const SpJudging *c, GArray *gaps)
{
  for (guint i = 0; i < c->out->n_emissions; i++) {
    const SpEmission *e = &c->out->emissions[i];
    double half = e->order * c->carrier_half_hz + c->out->necessary_bandwidth_hz / 2;
    gboolean searched = e->frequency_hz >= c->mask->search_low_hz && e->frequency_hz <= c->mask->search_high_hz;
    SpGap gap = { e->frequency_hz - half, e->frequency_hz + half, SP_REASON_NOT_SWEPT, NAN, NAN, NAN, NULL };
    if (!e->swept && e->verdict == SP_VERDICT_NOT_PROVEN && !searched)
      add_gap (gaps, &gap);
  }
}

static int
by_place (const void *a, const void *b)
{
  const SpGap *x = a, *y = b;
  return (x->from_hz > y->from_hz) - (x->from_hz < y->from_hz);
}

SpGaps
sp_judging_gaps (const SpJudging *c)
{
  SpGaps found = { .gaps = g_array_new (FALSE, FALSE, sizeof (SpGap)), .clear_room_db = NAN };
  double low = c->mask->search_low_hz, high = c->mask->search_high_hz;
  gboolean known = !isnan (sp_judging_limit_power_w (c)) && !isnan (c->out->fundamental_hz);
  if (known) {
    open_between (c, &found);
    climbs (c, found.gaps);
  }
  SpGap unknown = { low, high, SP_REASON_NO_POWER, NAN, NAN, NAN, NULL };
  if (!isnan (low) && limit_unknown (c))
    add_gap (found.gaps, &unknown);
  missing_harmonics (c, found.gaps);
  g_array_sort (found.gaps, by_place);
  found.searched = known && !isnan (low) && limited_between (c, low, high);
  return found;
}
