/* judge.c - judges a bench: takes each condition's sweeps through all stages */
#include "core/judge/judge.h"
#include "core/judge/advice/advice-stages.h"
#include "core/judge/emission/emission-stages.h"
#include "core/judge/origin/origin-stages.h"
#include "core/judge/sweep/sweep-stages.h"
#include "core/judge/verdict/verdict-stages.h"

#include <gsl/gsl_errno.h>
#include <math.h>
#include <string.h>

static void
add_sweep (SpJudging *c, SpPurpose purpose, const SpTrace *trace, const SpChain *chain, guint index)
{
  SpJudgedSweep *s = &c->sweeps[c->n_all++];
  s->purpose = purpose;
  s->trace = trace;
  s->chain = chain ? chain : c->chain;
  s->attenuation_db = NAN;
  s->out = purpose == SP_PURPOSE_KEYED || purpose == SP_PURPOSE_NOTCHED ? &c->out->corrected[c->n++]
                                                                        : &c->out->evidence[c->out->n_evidence++];
  s->out->sweep = index;
}

/* Noise never repeats exactly: two sweeps with identical readings are one export under two names. */
static const SpTrace *
same_readings (const SpJudging *c, const SpTrace *trace)
{
  gsize size = trace->n * sizeof (double);
  for (guint k = 0; k < c->n_all; k++) {
    const SpTrace *t = c->sweeps[k].trace;
    if (t->n == trace->n && memcmp (t->level_dbm, trace->level_dbm, size) == 0 && memcmp (t->frequency_hz, trace->frequency_hz, size) == 0)
      return t;
  }
  return NULL;
}

/* An export counts once. In a second role it would confirm itself, and as its own repeat it would show no scatter. */
static void
add_once (SpJudging *c, SpPurpose purpose, const SpTrace *trace, const SpChain *chain, guint index)
{
  const SpTrace *same = same_readings (c, trace);
  if (same)
    sp_judging_warn (c, sp_reason (SAME_EXPORT, .file = trace->file, .purpose = purpose, .other_file = same->file));
  else
    add_sweep (c, purpose, trace, chain, index);
}

static void
add_purpose (SpJudging *c, SpPurpose purpose)
{
  const SpCondition *condition = c->condition;
  for (guint i = 0; i < condition->n_sweeps; i++) {
    const SpSweep *sweep = &condition->sweeps[i];
    if (sweep->purpose != purpose)
      continue;
    if (purpose == SP_PURPOSE_NOTCHED && !sweep->chain) /* the notch's loss at the harmonics is not known */
      sp_judging_warn (c, sp_reason (SWEEP_NOT_USED, .file = sweep->trace->file, .purpose = purpose));
    else
      add_once (c, purpose, sweep->trace, sweep->chain, i);
  }
}

static const SpSweep *
sheet_sweep (const SpJudging *c, const SpJudgedSweep *s)
{
  return s->out->sweep == G_MAXUINT ? NULL : &c->condition->sweeps[s->out->sweep];
}

/* Attenuation of each sweep relative to the first keyed one: from the settings, or for a step from the sheet if they are missing. */
static void
find_attenuations (SpJudging *c)
{
  double first = c->n > 0 ? c->sweeps[0].trace->settings.attenuation_db : NAN;
  for (guint k = 0; k < c->n_all; k++) {
    SpJudgedSweep *s = &c->sweeps[k];
    const SpSweep *sweep = sheet_sweep (c, s);
    double known = s->trace->settings.attenuation_db - first;
    gboolean outside = sweep && sweep->chain;
    if (s->purpose == SP_PURPOSE_STEP && !outside)
      s->attenuation_db = sweep->step_db;
    else if (isnan (known) && (k == 0 || outside))
      s->attenuation_db = 0;
    else
      s->attenuation_db = known;
  }
}

/* Sweeps with other spans or settings are not repeats: together they form one spectrum. */
static void
warn_repeats (SpJudging *c, guint keyed)
{
  guint repeats = 0;
  for (guint k = 0; k < keyed; k++) {
    gboolean repeated = FALSE;
    for (guint j = 0; j < keyed; j++)
      repeated |= j != k && sp_judging_are_repeats (&c->sweeps[k], &c->sweeps[j]);
    repeats += repeated;
  }
  if (repeats > 1)
    sp_judging_warn (c, sp_reason (REPEATS, .sweeps = repeats));
}

/* Judged sweeps first: keyed, then notched. Evidence follows: the steps and the unkeyed sweep. */
static void
take_sweeps (SpJudging *c)
{
  guint most = c->condition->n_sweeps + 2;
  c->sweeps = g_new0 (SpJudgedSweep, most);
  c->out->corrected = g_new0 (SpCorrected, most);
  c->out->evidence = g_new0 (SpCorrected, most);
  add_purpose (c, SP_PURPOSE_KEYED);
  guint keyed = c->n;
  add_purpose (c, SP_PURPOSE_NOTCHED);
  add_purpose (c, SP_PURPOSE_STEP);
  add_purpose (c, SP_PURPOSE_UNKEYED);
  if (c->bench->unkeyed && (c->n_all == 0 || c->sweeps[c->n_all - 1].purpose != SP_PURPOSE_UNKEYED))
    add_once (c, SP_PURPOSE_UNKEYED, c->bench->unkeyed, NULL, G_MAXUINT);
  c->out->n_corrected = c->n;
  find_attenuations (c);
  warn_repeats (c, keyed);
}

static double
exclude_half (const SpJudging *c)
{
  return sp_mask_exclude_hz (c->mask, c->out->fundamental_hz, sp_watt_from_dbm (c->out->power_dbm), c->out->necessary_bandwidth_hz, 0);
}

/* TRUE for the first sweep with its chain and attenuation: later ones give the same result. */
static gboolean
another_way (const SpJudging *c, guint k)
{
  for (guint j = 0; j < k; j++) {
    double a = c->sweeps[j].trace->settings.attenuation_db, b = c->sweeps[k].trace->settings.attenuation_db;
    if (c->sweeps[j].chain == c->sweeps[k].chain && (a == b || (isnan (a) && isnan (b))))
      return FALSE;
  }
  return TRUE;
}

/* Checks the chain as drawn and every other path of the radio's power: a step's pad, a notch, another attenuator setting. */
static void
find_headroom (SpJudging *c)
{
  double measured = sp_watt_from_dbm (c->out->power_dbm), rated = c->condition->rated_w, f0 = c->out->fundamental_hz;
  double power = isnan (measured) ? rated : isnan (rated) ? measured : fmax (measured, rated);
  c->out->safe = TRUE;
  if (isnan (power) || !(power > 0) || isnan (f0))
    return;
  double attenuation = c->n > 0 ? c->sweeps[0].trace->settings.attenuation_db : NAN;
  c->out->headroom = sp_headroom (c->chain, c->analyzer, power, f0, c->bench->temperature_c, c->condition->duty, attenuation);
  c->out->safe = c->out->headroom->safe;
  sp_reasons_extend (c->out->warnings, c->out->headroom->reasons);
  for (guint k = 1; k < c->n_all; k++) {
    const SpJudgedSweep *s = &c->sweeps[k];
    if (s->purpose == SP_PURPOSE_UNKEYED || !another_way (c, k))
      continue;
    g_autoptr (SpHeadroom) way = sp_headroom (s->chain, c->analyzer, power, f0, c->bench->temperature_c, c->condition->duty,
                                              s->trace->settings.attenuation_db);
    c->out->safe &= way->safe;
    sp_reasons_extend (c->out->warnings, way->reasons);
  }
}

static void
draw_limit (SpJudging *c)
{
  double low = INFINITY, high = 0, p = sp_watt_from_dbm (c->out->power_dbm);
  for (guint k = 0; k < c->n; k++) {
    const SpTrace *t = c->sweeps[k].trace;
    low = fmin (low, t->frequency_hz[0]);
    high = fmax (high, t->frequency_hz[t->n - 1]);
  }
  low = fmin (low, c->mask->search_low_hz);
  high = fmax (high, c->mask->search_high_hz);
  if (isnan (p))
    p = isnan (c->condition->rated_w) ? sp_judging_limit_power_w (c) : c->condition->rated_w;
  if (high > low && !isnan (p) && !isnan (c->out->fundamental_hz))
    c->out->limit = sp_mask_segments (c->mask, c->out->fundamental_hz, p, c->out->necessary_bandwidth_hz, 0, low, high);
}

/* Warns that no rule of the mask covers this radio: the verdict "no limit" alone does not tell that. */
static void
warn_of_other_radios (SpJudging *c)
{
  double p = c->out->power_dbm, u = isnan (c->out->power_u_db) ? 0 : c->out->power_expanded_db, f0 = c->out->fundamental_hz;
  if (!isnan (f0) && !sp_mask_applies (c->mask, f0, sp_watt_from_dbm (p - u), sp_watt_from_dbm (p + u)))
    sp_judging_warn (c, sp_reason (CLASSES_NONE, .mask = c->mask->name, .fundamental_hz = f0, .power_w = sp_watt_from_dbm (p)));
}

static void
mask_warnings (SpJudging *c)
{
  warn_of_other_radios (c);
  if (isnan (c->mask->search_low_hz))
    sp_judging_warn (c, sp_reason (HARMONICS_ONLY, .mask = c->mask->name));
  for (guint i = 0; i < c->mask->n; i++)
    if (isnan (c->mask->rules[i].reference_bandwidth_hz)) {
      sp_judging_warn (c, sp_reason (NO_REFERENCE_BANDWIDTH, .mask = c->mask->name));
      break;
    }
}

static void
assumed_warnings (SpJudging *c)
{
  gboolean assumed;
  c->out->necessary_bandwidth_hz = sp_condition_bandwidth_hz (c->bench, c->condition, &assumed);
  if (assumed)
    sp_judging_warn (c, sp_reason (BANDWIDTH_ASSUMED, .assumed_hz = c->out->necessary_bandwidth_hz));
  if (isnan (c->bench->radio_vswr))
    sp_judging_warn (c, sp_reason (VSWR_ASSUMED, .of = "radio", .vswr = SP_VSWR_ASSUMED));
}

/* Relation, repeats and step evidence of an emission. */
static void
examine_emission (SpJudging *c, SpEmission *e)
{
  e->relation = sp_judging_relation (c, e);
  SpRepeats repeats = sp_judging_repeats (c, e);
  e->repeats = repeats.n;
  e->repeat_scatter_db = repeats.scatter_db;
  e->repeat_mean_dbm = repeats.mean_dbm;
  e->repeat_u_db = repeats.u_db;
  e->evidence = sp_judging_evidence (c, e);
}

static void
take_origin (SpEmission *e)
{
  SpWhose whose = sp_judging_origin (e);
  e->origin = whose.origin;
  e->origin_basis = whose.basis;
  e->radio_low_dbm = whose.radio_low_dbm;
  e->radio_high_dbm = whose.radio_high_dbm;
}

static void
take_limit (SpJudging *c, SpEmission *e)
{
  SpLimitThere there = sp_judging_limit (c, e);
  e->limit_dbm = there.limit_dbm;
  e->limit_slope = there.slope;
  e->limit_rule = g_strdup (there.rule);
  if (there.warning)
    sp_judging_warn (c, there.warning);
}

static void
take_verdict (const SpJudging *c, SpEmission *e)
{
  SpDecided decided = sp_judging_verdict (c, e);
  e->margin_db = decided.margin_db;
  e->conformity = decided.conformity;
  e->facts = decided.facts;
  e->row = decided.row;
  e->verdict = decided.verdict;
  e->decision = decided.decision;
  e->reason = decided.reason;
}

/* Origin, limit, U and verdict of an emission. Each stage reads the earlier results and changes none. */
static void
judge_emission (SpJudging *c, const SpFindings *all, SpEmission *e)
{
  SpReason *carried = sp_judging_carry (c, all, e);
  if (carried) { /* the profile gives no product of this order */
    e->distortion_high_dbm = carried->PRODUCT_CARRIED.product_dbm;
    sp_judging_warn (c, carried);
  }
  take_origin (e);
  take_limit (c, e);
  e->budget = sp_judging_budget (c, e);
  take_verdict (c, e);
  sp_judging_agreement (c, e);
  sp_judging_untested_steps (c, e);
}

/* The part that needs no other condition: emissions and their evidence. (transfer full) */
static SpJudging *
examine_condition (const SpBench *bench, guint index, SpConditionFindings *out)
{
  const SpCondition *condition = &bench->conditions[index];
  SpJudging *c = g_new0 (SpJudging, 1);
  c->bench = bench;
  c->condition = condition;
  c->out = out;
  c->chain = sp_condition_chain (bench, condition);
  c->analyzer = sp_condition_analyzer (bench, condition);
  c->mask = sp_condition_mask (bench, condition);
  out->condition = index;
  out->name = sp_condition_name (bench, condition);
  out->warnings = sp_reasons_new ();
  out->power_dbm = out->trace_level_dbm = out->mixer_dbm = out->fundamental_u_hz = NAN;

  assumed_warnings (c);
  take_sweeps (c);
  sp_judging_correct (c);
  sp_judging_settings_warnings (c);
  sp_judging_fundamental (c);
  sp_judging_profile_warnings (c);
  sp_judging_superseded (c);
  out->exclude_hz = exclude_half (c);
  draw_limit (c);
  sp_judging_floor (c);
  find_headroom (c);
  mask_warnings (c);
  sp_judging_emissions (c);
  sp_judging_usable_steps (c);
  sp_judging_overload_signs (c);
  for (guint i = 0; i < out->n_emissions; i++) {
    examine_emission (c, &out->emissions[i]);
  }
  return c;
}

/* The verdicts, which may use the other conditions' step tests of the analyzer. */
static void
judge_condition (SpJudging *c, const SpFindings *all)
{
  SpConditionFindings *out = c->out;
  for (guint i = 0; i < out->n_emissions; i++) {
    judge_emission (c, all, &out->emissions[i]);
  }
  sp_judging_prove (c);
  sp_judging_gaps (c);
  sp_judging_prove_gaps (c);
  sp_judging_seams (c);
  sp_judging_summary (c);
  sp_judging_assumed (c);
  out->statement = sp_judging_statement (c);
}

static void
judging_free (SpJudging *c)
{
  g_clear_pointer (&c->no_carrier, sp_reason_unref);
  g_array_unref (c->climbs);
  for (guint k = 0; k < c->n_all; k++) {
    g_free (c->sweeps[k].ground.noise_dbm);
    g_free (c->sweeps[k].near);
  }
  g_free (c->sweeps);
  g_free (c);
}

SpFindings *
sp_judge (const SpBench *bench)
{
  gsl_set_error_handler_off ();
  SpFindings *findings = g_atomic_rc_box_new0 (SpFindings);
  findings->bench = sp_bench_ref (bench);
  findings->n = bench->n_conditions;
  findings->conditions = g_new0 (SpConditionFindings, bench->n_conditions + 1);
  findings->warnings = sp_reasons_new ();
  sp_reasons_extend (findings->warnings, bench->warnings);
  findings->safe = TRUE;
  g_autofree SpJudging **judgings = g_new0 (SpJudging *, findings->n + 1);
  for (guint i = 0; i < findings->n; i++)
    judgings[i] = examine_condition (bench, i, &findings->conditions[i]);
  for (guint i = 0; i < findings->n; i++) {
    judge_condition (judgings[i], findings);
    findings->safe &= findings->conditions[i].safe;
  }
  sp_judgings_share_steps (findings, judgings);
  for (guint i = 0; i < findings->n; i++)
    judging_free (judgings[i]);
  return findings;
}
