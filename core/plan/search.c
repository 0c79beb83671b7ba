/* search.c - the least change of today's sweep that would prove an emission */
#include "core/plan/plan-private.h"

#include <math.h>
#include <stdlib.h>

#define NOTCH_DB_FOR_ONE 10.0 /* depth of a notch that costs as much as one changed setting (common practice, no source) */

typedef struct {
  SpSetting setting;
  double cost, effort_s, step_db;
} Candidate;

/* Number of changed settings. */
static guint
changes (const SpSetting *a, const SpSetting *b)
{
  gboolean average = a->averages != b->averages || a->average != b->average;
  return (a->attenuation_db != b->attenuation_db) + (a->rbw_hz != b->rbw_hz) + (a->detector != b->detector) + average
         + (a->points != b->points) + (a->parts != b->parts) + (a->hold != b->hold) + (a->pad_db != b->pad_db);
}

/* A changed setting costs as much as ten times the effort. */
static double
cost_of (const SpPlan *plan, const SpSetting *today, const SpSetting *s)
{
  return changes (today, s) + fmax (0, log10 (sp_plan_effort_s (plan, s) / sp_plan_effort_s (plan, today)));
}

static int
compare_candidates (const void *a, const void *b)
{
  const Candidate *x = a, *y = b;
  if (x->cost != y->cost)
    return x->cost < y->cost ? -1 : 1;
  if (x->effort_s != y->effort_s)
    return x->effort_s < y->effort_s ? -1 : 1;
  if (x->step_db != y->step_db)
    return x->step_db < y->step_db ? -1 : 1;
  if (x->setting.rbw_hz != y->setting.rbw_hz)
    return x->setting.rbw_hz > y->setting.rbw_hz ? -1 : 1;
  if (x->setting.attenuation_db != y->setting.attenuation_db)
    return x->setting.attenuation_db > y->setting.attenuation_db ? -1 : 1;
  return (x->setting.pad_db > y->setting.pad_db) - (x->setting.pad_db < y->setting.pad_db);
}

static void
add_candidate (const SpPlan *plan, GArray *all, const SpSettingChoices *means, const SpSetting *today, double attenuation_db, double rbw_hz,
               double pad_db)
{
  for (guint way = 0; way < SP_WAYS; way++) {
    Candidate c = { .setting = *today };
    c.setting.attenuation_db = attenuation_db;
    c.setting.rbw_hz = rbw_hz;
    c.setting.pad_db = pad_db;
    if (!sp_setting_choice (means, way, &c.setting) || !sp_plan_fit_key_down (plan, &c.setting))
      continue;
    c.cost = cost_of (plan, today, &c.setting);
    c.effort_s = sp_plan_effort_s (plan, &c.setting);
    c.step_db = fabs (attenuation_db - today->attenuation_db);
    g_array_append_val (all, c);
  }
}

/* All settings that the user can choose, the least change first. (transfer full) */
static GArray *
candidates (const SpPlan *plan, const SpSetting *today)
{
  GArray *all = g_array_new (FALSE, FALSE, sizeof (Candidate));
  SpSettingChoices means = sp_plan_setting_choices (plan, today);
  for (guint pad = 0; pad <= plan->task.n_pads; pad++)
    for (guint i = 0; i <= means.n_attenuations; i++) /* the last round keeps today's, listed or not */
      for (guint j = 0; j <= means.n_rbws; j++)
        add_candidate (plan, all, &means, today, i < means.n_attenuations ? means.attenuations_db[i] : today->attenuation_db,
                       j < means.n_rbws ? means.rbws_hz[j] : today->rbw_hz, today->pad_db + (pad ? plan->pads[pad - 1].loss_db : 0));
  qsort (all->data, all->len, sizeof (Candidate), compare_candidates);
  return all;
}

static gboolean
with_notch (SpPlan *plan, const SpSetting *today, SpSetting s, double depth_db, const SpPlanLine *p)
{
  s.notch_db = today->notch_db + depth_db;
  s.notch_loss_db = today->notch_loss_db + SP_NOTCH_LOSS_DB;
  return sp_plan_proves (plan, &s, p->order, p->frequency_hz);
}

/* The least whole depth up to `most` that proves, since a deeper notch never proves less; 0: none. */
static double
least_depth (SpPlan *plan, const SpSetting *today, const SpSetting *s, double most, const SpPlanLine *p)
{
  if (most < 1 || !with_notch (plan, today, *s, most, p))
    return 0;
  double low = 0, high = most; /* low does not prove, high does */
  while (high - low > 1) {
    double middle = floor ((low + high) / 2);
    if (with_notch (plan, today, *s, middle, p))
      high = middle;
    else
      low = middle;
  }
  return high;
}

/* TRUE if a notch helps; *found is then the cheapest setting with one. */
static gboolean
search_notch (SpPlan *plan, const SpSetting *today, const GArray *all, const SpPlanLine *p, SpSetting *found)
{
  double best = INFINITY, free_db = SP_NOTCH_MOST_DB;
  for (guint i = 0; i < all->len; i++) {
    const Candidate *c = &g_array_index (all, Candidate, i);
    if (c->cost + 1 / NOTCH_DB_FOR_ONE >= best)
      break;
    double most = isfinite (best) ? ceil (NOTCH_DB_FOR_ONE * (best - c->cost)) - 1 : free_db;
    double depth = least_depth (plan, today, &c->setting, fmin (most, free_db), p);
    if (depth > 0) {
      best = c->cost + depth / NOTCH_DB_FOR_ONE;
      *found = c->setting;
      found->notch_db += depth;
      found->notch_loss_db += SP_NOTCH_LOSS_DB;
    }
  }
  return isfinite (best);
}

/* NaN: unchanged. */
static double
if_changed (double now, double before)
{
  return now == before ? NAN : now;
}

SpReason *
sp_plan_change (const SpPlan *plan, const SpSetting *today, const SpSetting *s, SpReasonCode code, double level_dbm)
{
  gboolean notch = s->notch_db != today->notch_db;
  SpKeying k = sp_plan_keying (plan, s);
  SpReason change = { .PROVE_SETTING = { .code = code, /* the three codes have equal members */
                                         .detector = s->detector == today->detector ? SP_NO_WORD : (int) s->detector,
                                         .average = s->average == today->average ? SP_NO_WORD : (int) s->average,
                                         .no_hold = s->hold != today->hold,
                                         .attenuation_db = if_changed (s->attenuation_db, today->attenuation_db),
                                         .rbw_hz = if_changed (s->rbw_hz, today->rbw_hz),
                                         .points = if_changed (s->points, today->points),
                                         .averages = if_changed (s->averages, today->averages),
                                         .parts = if_changed (s->parts, today->parts),
                                         .pad_db = notch ? s->notch_db - today->notch_db
                                                         : if_changed (s->pad_db, today->pad_db) - today->pad_db,
                                         .floor_dbm = level_dbm,
                                         .key_down_parts = k.parts,
                                         .key_down_s = k.key_down_s,
                                         .pause_s = k.pause_s,
                                         .basis = k.basis } };
  return sp_reason_new (&change);
}

static SpReason *
reason_of (SpPlan *plan, const SpSetting *today, const SpSetting *s, const SpPlanLine *p)
{
  SpOutlook o = sp_plan_outlook (plan, s, p, sp_plan_points (plan, s, p->order));
  return sp_plan_change (plan, today, s, s->notch_db != today->notch_db ? SP_REASON_PROVE_NOTCH : SP_REASON_PROVE_SETTING, o.floor_dbm);
}

static gboolean
seek (SpPlan *plan, const GArray *all, const SpPlanLine *p, SpPlanAccepts accepts, gpointer data, SpSetting *found)
{
  for (guint i = 0; i < all->len; i++) {
    const SpSetting *s = &g_array_index (all, Candidate, i).setting;
    if (sp_plan_unsafe (plan, s) != SP_UNSAFE_NOT)
      continue;
    SpOutlook o = sp_plan_outlook (plan, s, p, sp_plan_points (plan, s, p->order));
    if (o.calibrated && o.swept && o.resolved && !sp_setting_undersamples (s) && accepts (data, s, &o)) {
      *found = *s;
      return TRUE;
    }
  }
  return FALSE;
}

gboolean
sp_plan_seek (SpPlan *plan, const SpSetting *today, guint order, double frequency_hz, SpPlanAccepts accepts, gpointer data,
              SpSetting *found)
{
  g_autoptr (GArray) all = candidates (plan, today);
  return seek (plan, all, sp_plan_line (plan, order, frequency_hz), accepts, data, found);
}

static SpReason *
search (SpPlan *plan, const SpSetting *today, const SpPlanLine *p, const SpOutlook *o, SpSetting *found)
{
  double missing_db = o->floor_dbm + o->expanded_db + SP_PROVE_RESERVE_DB - o->limit_dbm;
  *found = *today;
  if (plan->stage_unsafe)
    return sp_reason (PROVE_FLOOR, .cause = o->cause, .unsafe = TRUE, .missing_db = missing_db);
  g_autoptr (GArray) all = candidates (plan, today);
  gboolean any = FALSE;
  for (guint i = 0; i < all->len && !any; i++) {
    *found = g_array_index (all, Candidate, i).setting;
    any = sp_plan_proves (plan, found, p->order, p->frequency_hz);
  }
  if (any || search_notch (plan, today, all, p, found))
    return reason_of (plan, today, found, p);
  *found = *today;
  if (!o->resolved) /* judging requires it too; about twice what sp_is_unresolved() asks (calculated) */
    return sp_reason (PROVE_RESOLVE, .spacing_hz = plan->task.fundamental_hz / (4 + 2 * p->order),
                      .rbw_hz = today->rbw_hz <= plan->task.fundamental_hz / 8 ? NAN : plan->task.fundamental_hz / 8);
  return sp_reason (PROVE_FLOOR, .cause = o->cause, .unsafe = FALSE, .missing_db = missing_db);
}

SpReason *
sp_plan_prove (SpPlan *plan, const SpSetting *today, guint order, double frequency_hz, SpSetting *found)
{
  SpPlanLine *p = sp_plan_line (plan, order, frequency_hz);
  SpOutlook o = sp_plan_outlook (plan, today, p, sp_plan_points (plan, today, p->order));
  SpSetting unused;
  if (!found)
    found = &unused;
  *found = *today;
  if (isnan (o.limit_dbm))
    return NULL;
  if (!p->calibrated)
    return sp_reason (PROVE_CALIBRATION, .at_hz = plan->carrier_calibrated ? p->frequency_hz : plan->task.fundamental_hz);
  if (!o.swept)
    return sp_reason (PROVE_SWEEP, .to_hz = p->frequency_hz);
  if (isnan (o.floor_dbm) || sp_plan_proves (plan, today, order, frequency_hz))
    return NULL;
  return search (plan, today, p, &o, found);
}
