/* band.c - the floor for an emission wider than the filter, by judging's rules (core/judge/sweep/detect-band.c, clear.c) */
#include "core/plan/plan-private.h"

#include <math.h>

#include "core/detection/band.h"
#include "core/detection/spectrum.h"
#include "core/quantity/units.h"

/* Cached: the inverse of the gamma distribution takes microseconds, and neighbouring attenuations ask for the same. */
static double
floor_db (SpPlan *plan, const SpBandView *view, double width_hz)
{
  SpPlanBand found = { width_hz / view->nbw_hz,
                       view->spacing_hz / view->nbw_hz,
                       view->noise_u,
                       view->averages,
                       isnan (view->noise_error_db) ? view->greatest_db : NAN,
                       0 };
  for (guint i = 0; i < plan->n_bands; i++) {
    const SpPlanBand *b = &plan->bands[i];
    gboolean same = b->greatest_db == found.greatest_db || (isnan (b->greatest_db) && isnan (found.greatest_db));
    if (same && b->width == found.width && b->spacing == found.spacing && b->noise_u == found.noise_u && b->averages == found.averages)
      return b->floor_db;
  }
  found.floor_db = sp_band_floor_db (view, width_hz);
  plan->bands[plan->next_band] = found;
  plan->next_band = (plan->next_band + 1) % SP_PLAN_BANDS;
  plan->n_bands = MIN (plan->n_bands + 1, SP_PLAN_BANDS);
  return found.floor_db;
}

static SpBandView
view_of (const SpPlan *plan, const SpSetting *s, const SpPlanLaw *used)
{
  double spacing = sp_setting_spacing_hz (s), per_rbw = s->rbw_hz / spacing;
  double readings = 2. * (double) sp_noise_level_half ((guint64) s->points, per_rbw) + 1;
  SpBandView view = { .spacing_hz = spacing,
                      .rbw_hz = s->rbw_hz,
                      .nbw_hz = sp_plan_nbw_hz (plan, s),
                      .noise_error_db = used->greatest ? NAN : 0,
                      .greatest_db = used->mean_db,
                      .averages = sp_law_looks_averaged (&used->law) };
  view.noise_u = sp_noise_reading_u_db (used->median_u_db, per_rbw) * SP_LN10_OVER_10 / sqrt (readings);
  return view;
}

/* An emission may read this much too low. */
static void
may_lack (SpOutlook *o, double loss_db)
{
  double more = fmax (0, loss_db - o->sampling_loss_db);
  o->detection_dbm += more;
  o->floor_dbm += more;
}

/* The greatest reading may be only a part. */
static void
add_spread (const SpTask *task, const SpSetting *s, const SpPlanLine *p, const SpBandView *view, SpOutlook *o)
{
  gboolean slow = isnan (view->noise_error_db) && sp_band_is_slow (p->width_hz, task->signal_folds ? task->signal_hz : 0, s->rbw_hz);
  may_lack (o, slow ? 0 : sp_band_spread_db (p->width_hz, view->nbw_hz));
}

/* TRUE if an intermittent signal leaves no trace: in the least of several looks, and nearly so in a mean of decibels. */
static gboolean
bounds_nothing (const SpTask *task, const SpSetting *s)
{
  return task->signal_hz > 0 && (sp_detector_traits (s->detector)->least || s->hold == SP_HOLD_MIN || s->average == SP_AVERAGE_LOG);
}

static void
lift (SpOutlook *o, double band_db)
{
  double floor_dbm = o->noise_dbm + band_db;
  o->detection_dbm = fmax (o->detection_dbm, floor_dbm);
  if (!(floor_dbm > o->floor_dbm))
    return;
  o->floor_dbm = floor_dbm;
  o->cause = o->phase_noise_dbm >= o->noise_dbm - SP_HALF_DB ? SP_CAUSE_PHASE_NOISE : SP_CAUSE_NOISE;
}

void
sp_plan_band (SpPlan *plan, const SpSetting *s, const SpPlanLine *p, const SpPlanLaw *law, SpOutlook *o)
{
  if (!(p->width_hz > SP_BAND_LINE_RBWS * s->rbw_hz))
    return;
  SpBandView view = view_of (plan, s, law);
  if (!p->order)
    lift (o, floor_db (plan, &view, p->width_hz));
  else if (view.nbw_hz > p->reference_hz)
    return;
  else if (bounds_nothing (&plan->task, s))
    may_lack (o, SP_MOST_LOSS_DB);
  else if (sp_band_can_sum (&view))
    lift (o, floor_db (plan, &view, isnan (p->reference_hz) ? p->width_hz : fmin (p->width_hz, p->reference_hz)));
  else
    add_spread (&plan->task, s, p, &view, o);
}
