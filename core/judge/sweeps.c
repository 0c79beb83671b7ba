/* sweeps.c - takes the sweeps of a condition through judge/sweep, and puts each result in place */
#include "core/judge/condition.h"
#include "core/judge/sweep/sweep.h"

#include <math.h>
#include <string.h>

/* ---- which sweeps ---- */

/* Where the sweep's arrays belong in the findings. */
static SpCorrected *
corrected_of (SpConditionWork *w, guint k)
{
  return k < w->judging.n ? &w->out->corrected[k] : &w->out->compared[k - w->judging.n];
}

static void
add_sweep (SpConditionWork *w, SpPurpose purpose, const SpTrace *trace, const SpChain *chain, guint index)
{
  gboolean judged = purpose == SP_PURPOSE_KEYED || purpose == SP_PURPOSE_NOTCHED;
  guint k = w->judging.n_all++;
  if (judged)
    w->out->n_corrected = ++w->judging.n;
  else
    w->out->n_compared++;
  SpCorrected *out = corrected_of (w, k);
  out->sweep = index;
  w->sweeps[k] = (SpJudgedSweep){ .purpose = purpose, .trace = trace, .chain = chain ? chain : w->judging.chain, .out = out };
}

/* Noise never repeats exactly: two sweeps with identical readings are one export under two names. */
static const SpTrace *
same_readings (const SpJudging *c, const SpTrace *trace)
{
  gsize size = trace->n * sizeof (double);
  for (guint k = 0; k < c->n_all; k++) {
    const SpTrace *t = c->sweeps[k].trace;
    if (t->n == trace->n && memcmp (t->reading_dbm, trace->reading_dbm, size) == 0
        && memcmp (t->frequency_hz, trace->frequency_hz, size) == 0)
      return t;
  }
  return NULL;
}

/* An export counts once. In a second role it would confirm itself, and as its own repeat it would show no scatter. */
static void
add_once (SpConditionWork *w, SpPurpose purpose, const SpTrace *trace, const SpChain *chain, guint index)
{
  const SpTrace *same = same_readings (&w->judging, trace);
  if (same)
    sp_reasons_add (w->out->warnings, sp_reason (SAME_EXPORT, .file = trace->file, .purpose = purpose, .other_file = same->file));
  else
    add_sweep (w, purpose, trace, chain, index);
}

static void
add_purpose (SpConditionWork *w, SpPurpose purpose)
{
  const SpCondition *condition = w->judging.condition;
  for (guint i = 0; i < condition->n_sweeps; i++) {
    const SpSweep *sweep = &condition->sweeps[i];
    if (sweep->purpose != purpose)
      continue;
    if (purpose == SP_PURPOSE_NOTCHED && !sweep->chain) /* the notch's loss at the harmonics is not known */
      sp_reasons_add (w->out->warnings, sp_reason (SWEEP_NOT_USED, .file = sweep->trace->file, .purpose = purpose));
    else
      add_once (w, purpose, sweep->trace, sweep->chain, i);
  }
}

static const SpSweep *
sheet_sweep (const SpJudging *c, const SpJudgedSweep *s)
{
  return s->out->sweep == G_MAXUINT ? NULL : &c->condition->sweeps[s->out->sweep];
}

/* Attenuation of each sweep relative to the first keyed one: from the settings, or for a step from the sheet if they are missing. */
static double
attenuation_of (const SpJudging *c, guint k)
{
  const SpJudgedSweep *s = &c->sweeps[k];
  const SpSweep *sweep = sheet_sweep (c, s);
  double first = c->n > 0 ? c->sweeps[0].trace->settings.attenuation_db : NAN, known = s->trace->settings.attenuation_db - first;
  gboolean outside = sweep && sweep->chain;
  if (s->purpose == SP_PURPOSE_STEP && !outside)
    return sweep->step_db;
  return isnan (known) && (k == 0 || outside) ? 0 : known;
}

/* Sweeps with other spans or settings are not repeats: together they form one spectrum. */
static void
warn_repeats (SpConditionWork *w, guint keyed)
{
  guint repeats = 0;
  for (guint k = 0; k < keyed; k++) {
    gboolean repeated = FALSE;
    for (guint j = 0; j < keyed; j++)
      repeated |= j != k && sp_judging_are_repeats (&w->sweeps[k], &w->sweeps[j]);
    repeats += repeated;
  }
  if (repeats > 1)
    sp_reasons_add (w->out->warnings, sp_reason (REPEATS, .sweeps = repeats));
}

/* Judged sweeps first: keyed, then notched. Evidence follows: the steps and the unkeyed sweep. */
void
sp_condition_take_sweeps (SpConditionWork *w)
{
  SpJudging *c = &w->judging;
  guint most = c->condition->n_sweeps + 2;
  c->sweeps = w->sweeps = g_new0 (SpJudgedSweep, most);
  w->out->corrected = g_new0 (SpCorrected, most);
  w->out->compared = g_new0 (SpCorrected, most);
  w->warned = g_new0 (guint8, most);
  add_purpose (w, SP_PURPOSE_KEYED);
  guint keyed = c->n;
  add_purpose (w, SP_PURPOSE_NOTCHED);
  add_purpose (w, SP_PURPOSE_STEP);
  add_purpose (w, SP_PURPOSE_UNKEYED);
  if (c->bench->unkeyed && (c->n_all == 0 || c->sweeps[c->n_all - 1].purpose != SP_PURPOSE_UNKEYED))
    add_once (w, SP_PURPOSE_UNKEYED, c->bench->unkeyed, NULL, G_MAXUINT);
  for (guint k = 0; k < c->n_all; k++)
    w->sweeps[k].attenuation_db = attenuation_of (c, k);
  warn_repeats (w, keyed);
  for (guint k = 0; k < c->n_all; k++)
    w->sweeps[k] = sp_judging_levels (c, &w->sweeps[k], corrected_of (w, k));
  sp_judging_settings_warnings (c, w->out->warnings);
}

/* ---- carrier, P and levels ---- */

static void
find_carriers (SpConditionWork *w, gboolean keyed, double frequency_hz)
{
  for (guint k = 0; k < w->judging.n_all; k++)
    if ((w->sweeps[k].purpose == SP_PURPOSE_KEYED) == keyed)
      w->sweeps[k].carrier = sp_judging_carrier (&w->judging, &w->sweeps[k], frequency_hz, w->out->warnings);
}

/* If one sweep has the carrier, a line beside the stated frequency in another is not it. */
static void
find_no_carrier (SpConditionWork *w, const SpTracePower *power)
{
  w->judging.no_carrier = w->no_carrier = sp_judging_no_carrier (&w->judging, power, w->out->warnings);
  for (guint k = 0; k < w->judging.n; k++)
    w->sweeps[k].foreign = w->sweeps[k].carrier.elsewhere && (int) k != power->sweep;
}

/* Keyed sweeps first: without a frequency in the sheet, a notched sweep's greatest line may be a harmonic. */
static SpTracePower
find_trace_power (SpConditionWork *w)
{
  SpJudging *c = &w->judging;
  SpConditionFindings *out = w->out;
  find_carriers (w, TRUE, c->condition->fundamental_hz);
  SpTracePower keyed = sp_judging_combine (c, out->warnings);
  find_no_carrier (w, &keyed);
  find_carriers (w, FALSE, keyed.fundamental_hz);
  SpTracePower power = sp_judging_power_from_step (c, &keyed, out->warnings);
  c->keyed_carrier = keyed.sweep;
  c->carrier_sweep = power.sweep;
  c->carriers_differ = power.carriers_differ;
  c->occasion_u_db = power.occasion_u_db;
  c->carrier_half_hz = power.half_hz;
  out->has_fundamental = power.sweep >= 0;
  out->fundamental_hz = power.fundamental_hz;
  out->fundamental_u_hz = power.sweep < 0 ? NAN : power.half_hz / sqrt (3);
  out->power_repeats = power.repeats;
  out->power_repeat_u_db = power.repeat_u_db;
  return power;
}

static void
find_signal (SpConditionWork *w)
{
  SpJudging *c = &w->judging;
  SpConditionFindings *out = w->out;
  for (guint k = 0; k < c->n_all; k++)
    w->sweeps[k].signal = w->sweeps[k].carrier.signal;
  SpOccupied occupied = sp_judging_occupied (c);
  const SpSweepSignal *signal = &occupied.signal;
  if (c->carrier_sweep >= 0)
    w->sweeps[c->carrier_sweep].signal = *signal;
  out->occupied_low_hz = signal->from_hz;
  out->occupied_high_hz = signal->to_hz;
  out->occupied_hz = signal->told ? signal->to_hz - signal->from_hz : NAN;
  out->occupied_by_line_hz = occupied.by_line_hz;
  out->occupied_by_filter = signal->told && !signal->modulated;
  SpSignal all = sp_judging_signal (c, out->warnings);
  c->signal_hz = out->signal_hz = all.width_hz;
  c->folds = out->signal_folds = all.folds;
  c->signal_shown = all.shown;
}

static void
find_meter_power (SpConditionWork *w)
{
  SpJudging *c = &w->judging;
  SpMeteredPower power = sp_judging_meter (c, w->out->warnings);
  c->meter_u_db = power.u_db;
  c->power_at_least = power.at_least;
  w->out->power_dbm = power.power_dbm;
  w->out->by_meter = power.by_meter;
  w->out->anchored = power.anchored;
}

/* A new array in place of the sweep's, and of the view for sums. */
static void
put_array (double **place, const double **view, double *array)
{
  g_free (*place);
  *view = *place = array;
}

static void
shift_sweep (SpConditionWork *w, guint k)
{
  SpJudgedSweep *s = &w->sweeps[k];
  SpCorrected *out = corrected_of (w, k);
  SpShift shift = sp_judging_shift (&w->judging, s);
  s->shift_db = shift.shift_db;
  s->to_socket_db = shift.to_socket_db;
  if (shift.level_dbm) {
    put_array (&out->level_dbm, &s->band.level_dbm, shift.level_dbm);
    put_array (&out->noise_dbm, &s->band.noise_dbm, shift.noise_dbm);
  }
}

static void
find_mixer_level (SpConditionWork *w, guint k)
{
  SpCorrected *out = corrected_of (w, k);
  SpMixerLevel mixer = sp_judging_mixer_level (&w->judging, &w->sweeps[k]);
  w->sweeps[k].mixer = mixer;
  out->mixer_dbm = mixer.dbm;
  out->mixer_u_db = mixer.u_db;
}

static void
find_power_budget (SpConditionWork *w)
{
  SpConditionFindings *out = w->out;
  out->power_budget = sp_judging_power_budget (&w->judging);
  out->power_u_db = out->power_budget.u_power_db;
  out->power_k = out->power_budget.k_power;
  out->power_dof = out->power_budget.dof_power;
  out->power_expanded_db = out->power_budget.expanded_power_db;
}

static void
find_superseded (SpConditionWork *w)
{
  const SpCondition *condition = w->judging.condition;
  SpConditionFindings *out = w->out;
  out->superseded = g_new0 (SpCorrected, condition->n_sweeps + 1);
  for (guint i = 0; i < condition->n_sweeps; i++)
    if (condition->sweeps[i].purpose == SP_PURPOSE_SUPERSEDED)
      out->superseded[out->n_superseded++] = sp_judging_superseded (&w->judging, i);
}

void
sp_condition_find_power (SpConditionWork *w)
{
  SpJudging *c = &w->judging;
  SpTracePower power = find_trace_power (w);
  find_signal (w);
  c->carrier_calibrated = w->out->power_calibrated = sp_judging_calibrated (c, w->out->warnings);
  for (guint k = 0; k < c->n_all; k++)
    w->sweeps[k].warm_db = sp_judging_warm_db (c, &w->sweeps[k], &power);
  w->out->trace_level_dbm = power.level_dbm + (power.sweep < 0 ? 0 : w->sweeps[power.sweep].warm_db);
  find_meter_power (w);
  for (guint k = 0; k < c->n_all; k++)
    shift_sweep (w, k);
  find_power_budget (w);
  for (guint k = 0; k < c->n_all; k++)
    find_mixer_level (w, k);
  w->out->mixer_dbm = sp_judging_most_mixer_dbm (c);
  sp_judging_power_warnings (c, w->out->warnings);
  sp_judging_profile_warnings (c, w->out->warnings);
  find_superseded (w);
}

/* ---- floor ---- */

void
sp_condition_find_floors (SpConditionWork *w)
{
  for (guint k = 0; k < w->judging.n_all; k++) {
    SpCorrected *out = corrected_of (w, k);
    SpSweepFloor found = sp_judging_floor (&w->judging, &w->sweeps[k], w->out->warnings);
    out->floor_dbm = found.floor_dbm;
    out->floor_cause = found.cause;
    if (found.noise_dbm)
      put_array (&out->noise_dbm, &w->sweeps[k].band.noise_dbm, found.noise_dbm);
  }
}

void
sp_condition_work_free (SpConditionWork *w)
{
  g_clear_pointer (&w->no_carrier, sp_reason_unref);
  g_clear_pointer (&w->climbs, g_array_unref);
  for (guint k = 0; k < w->judging.n_all; k++) {
    g_free (w->sweeps[k].cache->ground.noise_dbm);
    g_free (w->sweeps[k].cache);
  }
  g_free (w->sweeps);
  g_free (w->warned);
  g_free (w);
}
