/* close.c - finds the single sweep that shows what a gap may hide */
#include "core/plan/plan-private.h"

#include <math.h>

#include "core/quantity/units.h"

/* Offsets checked on each side of the carrier, evenly spaced in their logarithm; bounds time */
#define SIDE_PLACES 9
#define MOST_PLACES 256 /* room for the places that are checked */
/* A range whose near end is closer to the carrier than this part of its far end is swept symmetrically about the carrier */
#define NEARBY 0.5        /* common practice, no source */
#define ABOUT_CARRIER 1.1 /* extension beyond the range, so that its ends have noise on both sides (common practice, no source) */
#define BESIDE 0.05       /* the same for a range away from the carrier (common practice, no source) */
#define JUST 1e-9         /* just inside an edge, far over rounding (calculated) */

const char *
sp_obstacle_name (SpObstacle obstacle)
{
  static const char *const names[] = { "",       "noise",   "phase noise",         "skirt",       "distortion", "zero hertz", "time",
                                       "unsafe", "unknown", "outside-calibration", "not-resolved" };
  g_return_val_if_fail ((guint) obstacle < G_N_ELEMENTS (names), NULL);
  return names[obstacle];
}

typedef struct {
  SpPlan *plan;
  const SpSetting *today;
  double from_hz, to_hz;       /* the part with a limit, as far as known */
  double nearest_hz, reach_hz; /* distance of the near and far end from the carrier */
  guint n;
  SpPlanLine places[MOST_PLACES];
  /* Best setting so far. */
  gboolean any;
  SpSetting best;
  double best_effort_s, best_floor_dbm;
  guint best_changes;
  /* Obstacle of the setting that misses least. */
  SpObstacle obstacle;
  double missing_db, at_hz, key_down_s;
} Close;

static int
compare_places (const void *a, const void *b)
{
  double x = ((const SpPlanLine *) a)->frequency_hz, y = ((const SpPlanLine *) b)->frequency_hz;
  return (x > y) - (x < y);
}

static void
add_place (Close *w, double frequency_hz, double limit_dbm)
{
  if (w->n == MOST_PLACES || !(frequency_hz > 0) || frequency_hz < w->from_hz || frequency_hz > w->to_hz)
    return;
  SpPlanLine p = sp_plan_line_at (w->plan, frequency_hz);
  if (!isnan (limit_dbm) && !isnan (p.limit.limit_dbm))
    p.limit.limit_dbm = limit_dbm;
  if (!isnan (p.limit.limit_dbm))
    w->places[w->n++] = p;
}

/* Offsets from `near` to `far` on one side of the carrier; sign is -1 or 1. */
static void
add_side (Close *w, double sign, double near_hz, double far_hz, double limit_dbm)
{
  double f0 = w->plan->task.fundamental_hz;
  if (!(far_hz >= near_hz))
    return;
  for (guint i = 0; i < SIDE_PLACES; i++)
    add_place (w, f0 + sign * near_hz * pow (far_hz / near_hz, (double) i / (SIDE_PLACES - 1)), limit_dbm);
}

/* Frequencies to check: the range's ends, both ends of each stretch of the limit, and between. */
static void
find_places (Close *w, double limit_dbm)
{
  const SpTask *task = &w->plan->task;
  double f0 = task->fundamental_hz;
  double nearest = sp_mask_exclude_hz (task->mask, f0, task->power_w, task->necessary_bandwidth_hz, NAN) * (1 + JUST);
  nearest = fmax (nearest, JUST * f0);
  add_side (w, -1, fmax (nearest, f0 - w->to_hz), f0 - w->from_hz, limit_dbm);
  add_side (w, 1, fmax (nearest, w->from_hz - f0), w->to_hz - f0, limit_dbm);
  add_place (w, w->from_hz, limit_dbm);
  add_place (w, w->to_hz, limit_dbm);
  g_autoptr (GArray) segments = sp_mask_segments (task->mask, f0, task->power_w, task->necessary_bandwidth_hz, NAN, w->from_hz, w->to_hz);
  for (guint i = 0; i < segments->len; i++) {
    const SpLimitSegment *g = &g_array_index (segments, SpLimitSegment, i);
    add_place (w, g->from_hz * (1 + JUST), limit_dbm);
    add_place (w, g->to_hz * (1 - JUST), limit_dbm);
  }
  qsort (w->places, w->n, sizeof *w->places, compare_places);
  w->nearest_hz = INFINITY;
  w->reach_hz = 0;
  for (guint i = 0; i < w->n; i++) {
    double away = fabs (w->places[i].frequency_hz - f0);
    w->nearest_hz = fmin (w->nearest_hz, away);
    w->reach_hz = fmax (w->reach_hz, away);
  }
}

static void
put_span (const Close *w, SpSetting *s)
{
  double f0 = w->plan->task.fundamental_hz, low = w->places[0].frequency_hz, high = w->places[w->n - 1].frequency_hz;
  double zero = SP_ZERO_HERTZ_RBWS * s->rbw_hz;
  gboolean about = w->nearest_hz <= NEARBY * w->reach_hz || (low < f0 && high > f0);
  double reach = ABOUT_CARRIER * w->reach_hz, beside_hz = BESIDE * (high - low);
  s->start_hz = fmax (about ? f0 - reach : low - beside_hz, fmin (zero, low));
  s->stop_hz = about ? f0 + reach : high + beside_hz;
}

/* Keeps the obstacle of the best failing setting: `missing_db` INFINITY if no level would help. */
static void
hinder (Close *w, SpObstacle obstacle, double missing_db, double at_hz, double key_down_s)
{
  if (w->obstacle != SP_OBSTACLE_NONE && !(missing_db < w->missing_db))
    return;
  w->obstacle = obstacle;
  w->missing_db = missing_db;
  w->at_hz = at_hz;
  w->key_down_s = key_down_s;
}

/* TRUE if the zone that judging leaves out ends before the range begins. */
static gboolean
stands_clear (Close *w, const SpSetting *s)
{
  const SpTask *task = &w->plan->task;
  double spacing = sp_setting_spacing_hz (s), window = fmax (s->rbw_hz, spacing) + sp_plan_carrier_half_hz (w->plan, s);
  double zone = fmax (window,
                      sp_mask_exclude_hz (task->mask, task->fundamental_hz, task->power_w, task->necessary_bandwidth_hz, s->rbw_hz));
  if (zone > w->nearest_hz * (1 + JUST)) {
    hinder (w, SP_OBSTACLE_SKIRT, INFINITY, task->fundamental_hz, NAN);
    return FALSE;
  }
  if (SP_ZERO_HERTZ_RBWS * s->rbw_hz > w->places[0].frequency_hz * (1 + JUST)) {
    hinder (w, SP_OBSTACLE_ZERO_HERTZ, INFINITY, w->places[0].frequency_hz, NAN);
    return FALSE;
  }
  return TRUE;
}

SpObstacle
sp_obstacle_of_cause (SpFloorCause cause)
{
  static const SpObstacle of[] = { SP_OBSTACLE_NOISE, SP_OBSTACLE_PHASE_NOISE, SP_OBSTACLE_SKIRT, SP_OBSTACLE_PRODUCT };
  return of[cause];
}

/* Worst missing dB over the range, and the least margin under the limit. */
static double
worst_missing_db (Close *w, const SpSetting *s, double *floor_dbm, double *at_hz, SpObstacle *obstacle)
{
  double worst = -INFINITY;
  for (guint i = 0; i < w->n; i++) {
    SpOutlook o = sp_plan_outlook (w->plan, s, &w->places[i], s->points);
    double missing = o.missing_db + SP_PROVE_RESERVE_DB;
    if (isnan (missing))
      return NAN;
    if (missing > worst) {
      worst = missing;
      *floor_dbm = o.floor_dbm;
      *at_hz = o.frequency_hz;
      *obstacle = sp_obstacle_of_cause (o.cause);
    }
  }
  return worst;
}

static guint
changes (const Close *w, const SpSetting *s)
{
  const SpSetting *t = w->today;
  return t ? (t->attenuation_db != s->attenuation_db) + (t->rbw_hz != s->rbw_hz) + (t->detector != s->detector)
                 + (t->averages != s->averages)
           : 0;
}

static void
try (Close *w, const SpSetting *s)
{
  double floor_dbm = NAN, at_hz = NAN;
  SpObstacle obstacle = SP_OBSTACLE_UNKNOWN;
  double effort = sp_plan_effort_s (w->plan, s);
  guint changed = changes (w, s);
  if (w->any && (effort > w->best_effort_s || (effort == w->best_effort_s && changed >= w->best_changes)))
    return;
  double missing = worst_missing_db (w, s, &floor_dbm, &at_hz, &obstacle);
  if (isnan (missing)) {
    hinder (w, SP_OBSTACLE_UNKNOWN, INFINITY, NAN, NAN);
    return;
  }
  if (missing > 0) {
    hinder (w, obstacle, missing, at_hz, NAN);
    return;
  }
  if (s->parts > SP_PARTS_MOST) { /* better than any that misses in level; of these the quickest counts */
    double keyed_s = sp_plan_keying (w->plan, s).keyed_s;
    hinder (w, SP_OBSTACLE_TIME, -1 / keyed_s, NAN, keyed_s);
    return;
  }
  w->any = TRUE;
  w->best = *s;
  w->best_effort_s = effort;
  w->best_changes = changed;
  w->best_floor_dbm = floor_dbm;
}

static gboolean
notch_serves (Close *w, SpSetting *s, double depth_db)
{
  double floor_dbm, at_hz;
  SpObstacle obstacle;
  s->notch_db = depth_db;
  return sp_plan_unsafe (w->plan, s) == SP_UNSAFE_NOT && worst_missing_db (w, s, &floor_dbm, &at_hz, &obstacle) <= 0;
}

/* The least whole depth that works; a deeper notch is never worse. */
static void
try_notched (Close *w, SpSetting s)
{
  double low = 0, high = SP_NOTCH_MOST_DB;
  s.notch_loss_db = SP_NOTCH_LOSS_DB;
  if (!notch_serves (w, &s, high))
    return;
  while (high - low > 1) {
    double middle = floor ((low + high) / 2);
    if (notch_serves (w, &s, middle))
      high = middle;
    else
      low = middle;
  }
  s.notch_db = high;
  try (w, &s);
}

static void
try_all (Close *w, gboolean notch)
{
  SpSettingChoices means = sp_plan_setting_choices (w->plan, w->today);
  for (guint i = 0; i < means.n_rbws; i++)
    for (guint way = 1; way < SP_WAYS; way++) {
      SpSetting s = { .rbw_hz = means.rbws_hz[i], .parts = 1, .averages = 1, .points = means.points };
      put_span (w, &s);
      if (!(s.stop_hz > s.start_hz) || !sp_setting_choice (&means, way, &s) || !stands_clear (w, &s))
        continue;
      sp_plan_fit_key_down (w->plan, &s); /* too many parts are reported later */
      for (guint j = 0; j < means.n_attenuations; j++) {
        s.attenuation_db = means.attenuations_db[j];
        if (notch)
          try_notched (w, s);
        else if (sp_plan_unsafe (w->plan, &s) == SP_UNSAFE_NOT)
          try (w, &s);
        else
          hinder (w, SP_OBSTACLE_UNSAFE, INFINITY, NAN, NAN);
      }
    }
}

/* Reports the obstacle without a notch. */
static void
try_with_notch (Close *w)
{
  SpObstacle obstacle = w->obstacle;
  double missing = w->missing_db, at = w->at_hz;
  try_all (w, TRUE);
  w->obstacle = obstacle;
  w->missing_db = missing;
  w->at_hz = at;
}

static SpReason *
reason_of (const Close *w)
{
  const SpSetting *s = &w->best;
  if (!w->any)
    return sp_reason (PROVE_SPAN_NOT, .obstacle = w->obstacle, .from_hz = w->from_hz, .to_hz = w->to_hz,
                      .missing_db = w->obstacle == SP_OBSTACLE_TIME || !isfinite (w->missing_db) ? NAN : w->missing_db, .at_hz = w->at_hz,
                      .key_down_s = w->key_down_s,
                      .longest_s = w->obstacle == SP_OBSTACLE_TIME ? sp_plan_keying (w->plan, s).longest_s : NAN);
  return sp_plan_span_reason (w->plan, s, w->best_floor_dbm);
}

SpReason *
sp_plan_span_reason (const SpPlan *plan, const SpSetting *s, double floor_dbm)
{
  SpKeying k = sp_plan_keying (plan, s);
  return sp_reason (PROVE_SPAN, .detector = s->detector, .average = s->average, .basis = k.basis, .from_hz = s->start_hz,
                    .to_hz = s->stop_hz, .points = s->points, .parts = s->parts, .rbw_hz = s->rbw_hz, .attenuation_db = s->attenuation_db,
                    .averages = s->averages, .notch_db = s->notch_db > 0 ? s->notch_db : NAN, .key_down_s = k.key_down_s,
                    .pause_s = k.pause_s, .floor_dbm = floor_dbm);
}

gboolean
sp_plan_close (SpPlan *plan, const SpSetting *today, double from_hz, double to_hz, double limit_dbm, SpSetting *found, SpReason **why)
{
  g_autofree Close *w = g_new0 (Close, 1); /* too large for the stack */
  w->plan = plan;
  w->today = today;
  w->from_hz = from_hz;
  w->to_hz = to_hz;
  w->missing_db = INFINITY;
  w->best.rbw_hz = w->best.parts = w->best.averages = 1;
  if (why)
    *why = NULL;
  find_places (w, limit_dbm);
  if (w->n == 0)
    return FALSE;
  for (guint i = 0; i < w->n; i++)
    if (!w->places[i].calibrated) {
      if (why)
        *why = sp_reason (PROVE_CALIBRATION, .at_hz = plan->carrier_calibrated || w->places[i].limit.slope == 0
                                                          ? w->places[i].frequency_hz
                                                          : plan->task.fundamental_hz);
      return FALSE;
    }
  if (plan->stage_unsafe)
    hinder (w, SP_OBSTACLE_UNSAFE, INFINITY, NAN, NAN);
  else if (plan->task.analyzer->danl_dbm_hz) {
    try_all (w, FALSE);
    if (!w->any && w->obstacle != SP_OBSTACLE_TIME && w->nearest_hz >= SP_NOTCH_NEAR * plan->task.fundamental_hz)
      try_with_notch (w);
  }
  if (w->any && found)
    *found = w->best;
  if (why && (w->any || plan->stage_unsafe || plan->task.analyzer->danl_dbm_hz)) /* else nothing can be foreseen */
    *why = reason_of (w);
  return w->any;
}
