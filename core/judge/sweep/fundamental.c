/* fundamental.c - the carrier of each sweep, P, anchoring to a meter, mixer levels */
#include "core/judge/sweep/sweep-stages.h"
#include "core/width/width.h"

#include <math.h>

/* Error of a modulated carrier's frequency, taken as the middle of its power, relative to its width (common practice, no source) */
#define CENTRE_SHARE 0.05

/* A modulated carrier: power and middle of its band. */
static void
measure_band (SpJudging *c, SpJudgedSweep *s, double from_hz, double to_hz)
{
  double beside = SP_BAND_LINE_RBWS * s->rbw_hz, wrong = -s->band.noise_error_db;
  SpBandView view = sp_judging_view_at (s, MIN (sp_trace_find (s->trace, s->carrier_hz), s->trace->n - 1));
  SpBandSum sum = sp_band_sum (&view, from_hz - beside, to_hz + beside, NAN);
  if (isnan (wrong)) /* the sum of the greatest of several looks is an upper bound, and the greatest reading may be the whole */
    s->carrier_spread_db = sp_judging_is_slow (c, s, s->signal_hz)
                               ? 0
                               : fmax (0, fmin (sum.power_dbm - s->carrier_dbm, sp_band_spread_db (s->signal_hz, s->nbw_hz)));
  else
    s->carrier_dbm = sum.power_dbm;
  s->carrier_hz = sum.middle_hz;
  s->carrier_half_hz = fmax (s->spacing_hz / 2, CENTRE_SHARE * s->signal_hz);
  if (wrong != 0 && s->purpose == SP_PURPOSE_KEYED)
    sp_judging_warn (c, sp_reason (SUM_DETECTOR, .file = s->trace->file, .wrong_db = wrong));
}

static void
measure_power (SpJudging *c, SpJudgedSweep *s, guint64 i)
{
  double from, to;
  sp_judging_line (s, i, &s->carrier_hz, &s->carrier_dbm, &s->carrier_half_hz);
  gboolean told = sp_judging_signal_of_sweep (c, s, &from, &to);
  double most = told ? 0 : sp_condition_signal_hz (c->bench, c->condition, c->out->necessary_bandwidth_hz);
  if (told && s->modulated)
    measure_band (c, s, from, to);
  else if (isnan (s->band.noise_error_db) && !sp_judging_is_slow (c, s, most)) /* the reading may be only a part of a modulated carrier */
    s->carrier_spread_db = sp_band_spread_db (most, s->nbw_hz);
}

/* Occupied bandwidth in the sweep that P is based on. */
static void
find_occupied (SpJudging *c)
{
  SpConditionFindings *out = c->out;
  out->occupied_hz = out->occupied_low_hz = out->occupied_high_hz = out->occupied_by_line_hz = NAN;
  SpJudgedSweep *s = c->carrier_sweep < 0 ? NULL : &c->sweeps[c->carrier_sweep];
  if (!s || !sp_judging_signal_of_sweep (c, s, &out->occupied_low_hz, &out->occupied_high_hz))
    return;
  out->occupied_hz = out->occupied_high_hz - out->occupied_low_hz;
  out->occupied_by_line_hz = sp_width_line_occupied_hz (c->analyzer->filter, s->rbw_hz);
  out->occupied_by_filter = !s->modulated;
}

/* A clipped carrier: its level is at least the top's, its frequency the middle, known to half the width. */
static void
take_plateau (SpJudgedSweep *s, const SpCarrier *at)
{
  const double *f = s->trace->frequency_hz;
  s->carrier_dbm = s->out->level_dbm[at->index];
  if (at->first == at->last)
    return;
  s->carrier_hz = (f[at->first] + f[at->last]) / 2;
  s->carrier_half_hz = fmax (s->carrier_half_hz, (f[at->last] - f[at->first]) / 2);
}

/* Warns of faults of a keyed sweep's carrier that P depends on. */
static void
warn_carrier (SpJudging *c, const SpJudgedSweep *s, const SpCarrier *at)
{
  const SpTrace *t = s->trace;
  double reference = t->settings.reference_dbm, reading = t->level_dbm[at->index], f0 = t->frequency_hz[at->index];
  if (s->carrier_blurred)
    sp_judging_warn (c, sp_reason (CARRIER_UNDERSAMPLED, .file = t->file, .spacing_hz = sp_judging_spacing (s, at->index),
                                   .rbw_hz = s->rbw_hz, .loss_db = s->carrier_loss_db));
  if (at->clipped)
    sp_judging_warn (c, sp_reason (CLIPPED, .file = t->file, .reading_dbm = reading,
                                   .reference_dbm = reading >= reference ? reference : NAN, .points = at->last - at->first + 1));
  if (at->beside < t->n)
    sp_judging_warn (c, sp_reason (LINE_BESIDE, .file = t->file, .carrier_hz = f0, .line_hz = t->frequency_hz[at->beside],
                                   .over_db = s->out->level_dbm[at->beside] - s->out->level_dbm[at->index]));
}

static void
prefer_stated (const SpJudging *c, SpJudgedSweep *s)
{
  double stated = c->condition->fundamental_hz, half = stated * SP_STATED_RELATIVE;
  double reach = s->carrier_half_hz
                 + (isfinite (s->rbw_hz) ? s->rbw_hz : 0); /* midway between two points the noise decides which reads higher */
  if (s->carrier_half_hz > half && fabs (s->carrier_hz - stated) <= reach) {
    s->carrier_hz = stated;
    s->carrier_half_hz = half;
  }
}

static void
measure_carrier (SpJudging *c, SpJudgedSweep *s, const SpCarrier *at)
{
  guint64 i = at->index;
  s->has_carrier = TRUE;
  s->carrier_clipped = at->clipped;
  s->carrier_elsewhere = at->elsewhere;
  s->carrier_room_hz = at->beside < s->trace->n ? fabs (s->trace->frequency_hz[at->beside] - s->trace->frequency_hz[i]) / 2 : INFINITY;
  measure_power (c, s, i);
  if (at->clipped)
    take_plateau (s, at);
  prefer_stated (c, s);
  s->carrier_reading_dbm = s->carrier_dbm - (s->out->level_dbm[i] - s->trace->level_dbm[i]);
  double correction;
  sp_judging_near_noise (s, s->out->level_dbm[i] - s->out->noise_dbm[i], &correction, &s->carrier_noise_u_db);
  s->carrier_loss_db = fmax (s->carrier_spread_db, sp_judging_line_loss (c, s, i));
  s->carrier_blurred = sp_judging_blurred (s, i);
  if (s->purpose == SP_PURPOSE_KEYED) /* other sweeps give no power */
    warn_carrier (c, s, at);
}

static void
shift_sweep (SpJudgedSweep *s, double shift_db)
{
  s->shift_db += shift_db;
  for (guint64 i = 0; i < s->trace->n; i++) {
    s->out->level_dbm[i] += shift_db;
    s->out->noise_dbm[i] += shift_db;
  }
}

static void
check_calibration (SpJudging *c)
{
  const SpChain *chain = c->carrier_sweep >= 0 ? c->sweeps[c->carrier_sweep].chain : c->chain;
  double f0 = c->out->fundamental_hz;
  c->carrier_calibrated = TRUE;
  if (isnan (f0))
    return;
  SpChainLoss loss = sp_chain_loss (chain, f0, c->bench->temperature_c, 0, NULL);
  c->carrier_calibrated = loss.calibrated;
  if (!loss.calibrated && loss.uncalibrated_stage >= 0)
    sp_judging_warn (c, sp_reason (OUTSIDE_CALIBRATION, .stage = chain->stages[loss.uncalibrated_stage]->name, .at_hz = f0));
}

/* Shift for stages with a stated power coefficient, which lose more when warm: equal at every frequency of the sweep. */
static void
allow_for_heating (SpJudging *c)
{
  double f0 = c->out->fundamental_hz, temperature = c->bench->temperature_c;
  if (c->carrier_sweep < 0)
    return;
  double average_w = sp_watt_from_dbm (c->out->trace_level_dbm) * c->condition->duty;
  for (guint k = 0; k < c->n_all; k++) {
    SpJudgedSweep *s = &c->sweeps[k];
    if (s->purpose == SP_PURPOSE_UNKEYED)
      continue;
    double warm = sp_chain_loss (s->chain, f0, temperature, average_w, NULL).loss_db
                  - sp_chain_loss (s->chain, f0, temperature, 0, NULL).loss_db;
    shift_sweep (s, warm);
    s->carrier_dbm += warm;
    if ((int) k == c->carrier_sweep)
      c->out->trace_level_dbm += warm;
  }
}

/* A meter at the socket knows P better than the analyzer: all levels shift with it (core/docs/computation.md, section 6). */
static void
use_meter (SpJudging *c)
{
  double meter = c->condition->meter_dbm;
  /* Anchoring needs a good carrier: the error of an undersampled, clipped, foreign or uncalibrated one would enter every level. */
  gboolean well = c->carrier_sweep >= 0 && sp_judging_carrier_is_whole (&c->sweeps[c->carrier_sweep]) && c->carrier_calibrated
                  && !c->no_carrier;
  c->out->power_dbm = c->out->trace_level_dbm;
  c->power_at_least = c->carrier_sweep >= 0 && c->sweeps[c->carrier_sweep].carrier_clipped;
  if (isnan (meter))
    return;
  c->meter_u_db = c->condition->meter_u_db;
  if (isnan (c->meter_u_db)) {
    c->meter_u_db = SP_CARRIER_U_METER_DB;
    sp_judging_warn (c, sp_reason (U_ASSUMED, .what = "meter_u_db", .of = c->out->name, .assumed_db = c->meter_u_db));
  }
  if (well) {
    double u = hypot (c->meter_u_db, sp_judging_level_u (c, &c->sweeps[c->carrier_sweep], c->out->fundamental_hz));
    if (fabs (meter - c->out->trace_level_dbm) > 2 * u)
      sp_judging_warn (c, sp_reason (METER_DISAGREES, .meter_dbm = meter, .trace_dbm = c->out->trace_level_dbm, .expanded_db = 2 * u));
  }
  if (c->condition->meter_use == SP_METER_CHECK) /* for comparison only */
    return;
  c->out->power_dbm = meter;
  c->out->by_meter = TRUE;
  c->power_at_least = FALSE;
  c->out->anchored = well;
  for (guint k = 0; k < c->n_all && well; k++) {
    SpJudgedSweep *s = &c->sweeps[k];
    gboolean whole = sp_judging_carrier_is_whole (s) && s->purpose == SP_PURPOSE_KEYED;
    shift_sweep (s, meter - (whole ? s->carrier_dbm : c->out->trace_level_dbm));
  }
}

/* The mixer level from this sweep's carrier; from P only if there is none or it is clipped (core/docs/computation.md, section 9). A
 * clipped level is a lower bound and would predict too small products. */
static void
find_mixer_level (SpJudging *c, SpJudgedSweep *s)
{
  double attenuation = s->trace->settings.attenuation_db, f0 = c->out->fundamental_hz;
  if (sp_judging_carrier_is_whole (s)) {
    s->mixer_dbm = s->carrier_reading_dbm - attenuation;
    s->mixer_u_db = sp_predict_mixer_u_db (c->analyzer);
  } else if (!isnan (c->out->power_dbm) && !c->power_at_least && (c->out->by_meter || !s->has_carrier || s->carrier_clipped)) {
    SpChainLoss loss = sp_chain_loss (s->chain, f0, c->bench->temperature_c, sp_watt_from_dbm (c->out->power_dbm), NULL);
    s->mixer_dbm = c->out->power_dbm - loss.loss_db - attenuation;
    s->mixer_u_db = hypot (loss.u_db, c->out->power_u_db);
  }
}

static void
find_mixer_levels (SpJudging *c)
{
  for (guint k = 0; k < c->n_all; k++) {
    SpJudgedSweep *s = &c->sweeps[k];
    double attenuation = s->trace->settings.attenuation_db;
    if (isnan (attenuation) || isnan (c->out->fundamental_hz) || s->purpose == SP_PURPOSE_UNKEYED)
      continue;
    find_mixer_level (c, s);
    double least = isnan (s->mixer_dbm) && s->carrier_clipped ? s->carrier_reading_dbm - attenuation : s->mixer_dbm;
    if (k < c->n && least > c->analyzer->best_mixer_dbm)
      sp_judging_warn (c, sp_reason (OVERLOAD, .file = s->trace->file, .mixer_dbm = least, .best_mixer_dbm = c->analyzer->best_mixer_dbm));
    if (k < c->n && (isnan (c->out->mixer_dbm) || s->mixer_dbm > c->out->mixer_dbm))
      c->out->mixer_dbm = s->mixer_dbm;
  }
}

static void
refer_to_socket (SpJudging *c)
{
  double f0 = c->out->fundamental_hz;
  const SpCurve *correction = c->analyzer->amplitude_correction_db;
  for (guint k = 0; k < c->n_all; k++) {
    SpJudgedSweep *s = &c->sweeps[k];
    s->to_socket_db = isnan (f0) ? NAN : sp_chain_loss (s->chain, f0, c->bench->temperature_c, 0, NULL).loss_db + s->shift_db;
    if (correction && !isnan (f0))
      s->to_socket_db += sp_curve_at (correction, f0, 0).value;
  }
}

static void
warn_power (SpJudging *c)
{
  double p = c->out->power_dbm, rated = c->condition->rated_w, u = c->out->power_expanded_db, over = p - sp_dbm_from_watt (rated);
  gboolean may_be_more = c->power_at_least && over < 0; /* P of a clipped carrier */
  if (!c->out->has_fundamental && !sp_reasons_have (c->out->warnings, SP_REASON_FUNDAMENTAL_NEAR_ZERO))
    sp_judging_warn (c, sp_reason (NO_FUNDAMENTAL, .sought_hz = c->condition->fundamental_hz));
  if (fabs (over) > u && !may_be_more) /* FALSE for NaN */
    sp_judging_warn (c, sp_reason (RATED_POWER, .power_w = sp_watt_from_dbm (p), .rated_w = rated, .over_db = over, .expanded_db = u));
}

/* Keyed sweeps first: without a frequency in the sheet, a notched sweep's greatest line may be a harmonic. */
static void
find_carriers (SpJudging *c, gboolean keyed)
{
  for (guint k = 0; k < c->n_all; k++) {
    SpJudgedSweep *s = &c->sweeps[k];
    if ((s->purpose == SP_PURPOSE_KEYED) != keyed || s->purpose == SP_PURPOSE_UNKEYED || (!keyed && isnan (c->out->fundamental_hz)))
      continue;
    SpCarrier at;
    if (sp_judging_find_carrier (c, s, keyed ? c->condition->fundamental_hz : c->out->fundamental_hz, &at) && (keyed || !at.elsewhere))
      measure_carrier (c, s, &at);
  }
}

/* A keyed sweep covers the stated frequency but shows no carrier: the radio may be another. NULL also if a meter read power and this
 * sweep may have missed it. */
static SpReason *
not_shown_in (SpJudging *c, const SpJudgedSweep *s, gboolean metered)
{
  double f0 = c->condition->fundamental_hz, zero = sp_judging_zero_hertz_end (s);
  if (s->purpose != SP_PURPOSE_KEYED || isnan (f0) || !sp_judging_holds (s, f0))
    return NULL;
  guint64 i = MIN (sp_trace_find (s->trace, f0), s->trace->n - 1);
  gboolean near_zero = f0 <= zero;
  g_autoptr (SpReason) why = near_zero ? sp_reason (FUNDAMENTAL_NEAR_ZERO, .file = s->trace->file, .stated_hz = f0, .response_hz = zero,
                                                    .rbw_hz = f0 / SP_ZERO_HERTZ_RBWS)
                                       : sp_reason (NO_FUNDAMENTAL, .sought_hz = f0);
  sp_judging_warn (c, sp_reason_ref (why));
  gboolean may_miss = near_zero || !sp_judging_narrow (s, i) || c->condition->meter_dbm <= s->out->noise_dbm[i] + s->sweep_threshold_db;
  return metered && may_miss ? NULL : g_steal_pointer (&why);
}

/* Sets no_carrier if P comes from a line at another frequency, or if no line is visible where one should be. */
static void
find_no_carrier (SpJudging *c)
{
  gboolean metered = !isnan (c->condition->meter_dbm) && c->condition->meter_use != SP_METER_CHECK;
  const SpJudgedSweep *carrier = c->carrier_sweep < 0 ? NULL : &c->sweeps[c->carrier_sweep];
  for (guint k = 0; k < c->n; k++) {
    SpJudgedSweep *s = &c->sweeps[k];
    if (!carrier && !c->no_carrier)
      c->no_carrier = not_shown_in (c, s, metered);
    if (!s->carrier_elsewhere)
      continue;
    SpReason *why = sp_reason (FUNDAMENTAL_ELSEWHERE, .file = s->trace->file, .stated_hz = c->condition->fundamental_hz,
                               .line_hz = s->carrier_hz, .line_dbm = s->carrier_dbm);
    sp_judging_warn (c, sp_reason_ref (why));
    if (s == carrier) {
      c->no_carrier = why;
    } else { /* another sweep has the carrier, so this line is not it */
      s->has_carrier = FALSE;
      sp_reason_unref (why);
    }
  }
}

/* ---- P if every keyed carrier is clipped ---- */

/* TRUE if the step's path to the socket is known: a chain of its own, or the analyzer's attenuator, which it corrects for. A pad
 * without a chain is not known, and a reading below the clipped top proves the path wrong. */
static gboolean
shows_power (const SpJudging *c, const SpJudgedSweep *keyed, const SpJudgedSweep *s)
{
  if (s->purpose != SP_PURPOSE_STEP || !sp_judging_carrier_is_whole (s) || s->carrier_elsewhere)
    return FALSE;
  double f0 = c->out->fundamental_hz, inside = s->trace->settings.attenuation_db - keyed->trace->settings.attenuation_db;
  gboolean known = s->chain != keyed->chain ? sp_chain_loss (s->chain, f0, c->bench->temperature_c, 0, NULL).calibrated
                                            : fabs (inside - (s->attenuation_db - keyed->attenuation_db)) < SP_SAME_SETTING_DB;
  double u = hypot (sp_judging_differential_u_db (c, keyed, s, f0), s->carrier_noise_u_db);
  return known && s->carrier_dbm + s->carrier_loss_db + 2 * u >= keyed->carrier_dbm;
}

/* P comes from the step with the least u against the keyed sweep, since a clipped top is only a bound. Levels stay the keyed sweep's;
 * its mixer level follows from P (find_mixer_level). */
static void
take_power_from_step (SpJudging *c)
{
  c->keyed_carrier = c->carrier_sweep;
  if (c->carrier_sweep < 0 || !c->sweeps[c->carrier_sweep].carrier_clipped || c->no_carrier)
    return;
  const SpJudgedSweep *keyed = &c->sweeps[c->carrier_sweep];
  double least = INFINITY;
  for (guint k = c->n; k < c->n_all; k++) {
    const SpJudgedSweep *s = &c->sweeps[k];
    double u = hypot (sp_judging_differential_u_db (c, keyed, s, c->out->fundamental_hz), s->carrier_noise_u_db);
    if (u < least && shows_power (c, keyed, s)) {
      least = u;
      c->carrier_sweep = (int) k;
    }
  }
  const SpJudgedSweep *s = &c->sweeps[c->carrier_sweep];
  if (s == keyed)
    return;
  c->out->fundamental_hz = s->carrier_hz;
  c->out->trace_level_dbm = s->carrier_dbm;
  c->carrier_half_hz = s->carrier_half_hz;
  c->out->fundamental_u_hz = s->carrier_half_hz / sqrt (3);
  sp_judging_warn (c, sp_reason (POWER_FROM_STEP, .file = s->trace->file, .keyed_file = keyed->trace->file, .power_dbm = s->carrier_dbm,
                                 .clipped_dbm = keyed->carrier_dbm));
}

void
sp_judging_fundamental (SpJudging *c)
{
  c->carrier_sweep = -1;
  c->out->fundamental_hz = c->condition->fundamental_hz;
  find_carriers (c, TRUE);
  sp_judging_combine (c);
  find_no_carrier (c);
  find_carriers (c, FALSE);
  take_power_from_step (c);
  find_occupied (c);
  sp_judging_signal (c);
  check_calibration (c);
  allow_for_heating (c);
  use_meter (c);
  refer_to_socket (c);
  sp_judging_power_budget (c);
  find_mixer_levels (c);
  warn_power (c);
}
