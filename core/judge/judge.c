/* judge.c - judges a bench: takes each condition through judging, and puts what is found in place */
#include "core/judge/judge.h"
#include "core/judge/advice/advice.h"
#include "core/judge/condition.h"
#include "core/judge/emission/emission.h"
#include "core/judge/origin/origin.h"
#include "core/judge/sweep/sweep.h"
#include "core/judge/verdict/verdict.h"

#include <gsl/gsl_errno.h>
#include <math.h>

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

/* TRUE for the first sweep through a chain that is not the condition's. */
static gboolean
another_chain (const SpJudging *c, guint k)
{
  for (guint j = 0; j < k; j++)
    if (c->sweeps[j].chain == c->sweeps[k].chain)
      return FALSE;
  return c->sweeps[k].chain != c->chain;
}

/* P or the rated power, whichever is greater; NaN: neither is known. */
static double
power_at_most_w (const SpJudging *c)
{
  double measured = sp_watt_from_dbm (c->out->power_dbm), rated = c->condition->rated_w;
  return isnan (measured) ? rated : isnan (rated) ? measured : fmax (measured, rated);
}

/* Checks the chain as drawn and every other path of the radio's power: a step's pad, a notch, another attenuator setting. */
static void
find_headroom (SpConditionWork *w)
{
  const SpJudging *c = &w->judging;
  double power = power_at_most_w (c), f0 = c->out->fundamental_hz, temperature = c->bench->temperature_c;
  w->out->safe = TRUE;
  if (isnan (power) || !(power > 0) || isnan (f0))
    return;
  double attenuation = c->n > 0 ? c->sweeps[0].trace->settings.attenuation_db : NAN;
  w->out->headroom = sp_headroom (c->chain, c->analyzer, power, f0, temperature, c->condition->duty, attenuation);
  w->out->headroom_by_rating = !(power <= sp_watt_from_dbm (c->out->power_dbm));
  w->out->safe = w->out->headroom->safe;
  sp_reasons_extend (w->out->warnings, w->out->headroom->reasons);
  w->out->ways = g_new0 (SpWay, c->n_all + 1);
  for (guint k = 1; k < c->n_all; k++) {
    const SpJudgedSweep *s = &c->sweeps[k];
    if (s->purpose == SP_PURPOSE_UNKEYED || !another_way (c, k))
      continue;
    g_autoptr (SpHeadroom) way = sp_headroom (s->chain, c->analyzer, power, f0, temperature, c->condition->duty,
                                              s->trace->settings.attenuation_db);
    w->out->safe &= way->safe;
    sp_reasons_extend (w->out->warnings, way->reasons);
    if (another_chain (c, k))
      w->out->ways[w->out->n_ways++] = (SpWay){ s->chain, g_steal_pointer (&way) };
  }
}

/* (transfer full) NULL: not known. */
static GArray *
limit_drawn (const SpJudging *c)
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
  if (!(high > low) || isnan (p) || isnan (c->out->fundamental_hz))
    return NULL;
  return sp_mask_segments (c->mask, c->out->fundamental_hz, p, c->out->necessary_bandwidth_hz, 0, low, high);
}

/* Warns that no rule of the mask covers this radio: the verdict "no limit" alone does not tell that. */
static void
warn_of_other_radios (const SpJudging *c, GPtrArray *warnings)
{
  double p = c->out->power_dbm, u = isnan (c->out->power_u_db) ? 0 : c->out->power_expanded_db, f0 = c->out->fundamental_hz;
  if (!isnan (f0) && !sp_mask_applies (c->mask, f0, sp_watt_from_dbm (p - u), sp_watt_from_dbm (p + u)))
    sp_reasons_add (warnings, sp_reason (CLASSES_NONE, .mask = c->mask->name, .fundamental_hz = f0, .power_w = sp_watt_from_dbm (p)));
}

static void
mask_warnings (const SpJudging *c, GPtrArray *warnings)
{
  warn_of_other_radios (c, warnings);
  if (isnan (c->mask->search_low_hz))
    sp_reasons_add (warnings, sp_reason (HARMONICS_ONLY, .mask = c->mask->name));
  for (guint i = 0; i < c->mask->n; i++)
    if (isnan (c->mask->rules[i].reference_bandwidth_hz)) {
      sp_reasons_add (warnings, sp_reason (NO_REFERENCE_BANDWIDTH, .mask = c->mask->name));
      break;
    }
}

static void
find_bandwidth (SpConditionWork *w)
{
  const SpJudging *c = &w->judging;
  gboolean assumed;
  w->out->necessary_bandwidth_hz = sp_condition_bandwidth_hz (c->bench, c->condition, &assumed);
  if (assumed)
    sp_reasons_add (w->out->warnings, sp_reason (BANDWIDTH_ASSUMED, .assumed_hz = w->out->necessary_bandwidth_hz));
  if (isnan (c->bench->radio_vswr))
    sp_reasons_add (w->out->warnings, sp_reason (VSWR_ASSUMED, .of = "radio", .vswr = SP_VSWR_ASSUMED));
}

static void
find_emissions (SpConditionWork *w)
{
  w->climbs = g_array_new (FALSE, FALSE, sizeof (SpClimb));
  GArray *found = sp_judging_emissions (&w->judging, w->climbs, w->out->warnings);
  w->judging.climbs = w->climbs;
  w->out->n_emissions = found->len;
  w->out->emissions = (SpEmission *) (void *) g_array_free (found, FALSE);
}

/* A sweep is compared with the keyed ones: without any, it tells nothing. */
static void
find_usable_steps (SpConditionWork *w)
{
  for (guint k = 0; k < w->judging.n_all && w->judging.n > 0; k++)
    w->sweeps[k].use = sp_judging_usability (&w->judging, &w->sweeps[k], w->out->warnings);
}

/* Relation, repeats and step evidence of an emission. */
static void
examine_emission (SpConditionWork *w, SpEmission *e)
{
  e->relation = sp_judging_relation (&w->judging, e);
  SpRepeats repeats = sp_judging_repeats (&w->judging, e);
  e->repeats = repeats.n;
  e->repeat_scatter_db = repeats.scatter_db;
  e->repeat_mean_dbm = repeats.mean_dbm;
  e->repeat_u_db = repeats.u_db;
  e->evidence = sp_judging_evidence (&w->judging, e, w->out->warnings);
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
take_limit (SpConditionWork *w, SpEmission *e)
{
  SpLimitThere there = sp_judging_limit (&w->judging, e);
  e->limit_dbm = there.limit_dbm;
  e->limit_slope = there.slope;
  e->limit_rule = g_strdup (there.rule);
  if (there.warning)
    sp_reasons_add (w->out->warnings, there.warning);
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

/* Origin, limit, U and verdict of an emission. */
static void
judge_emission (SpConditionWork *w, const SpFindings *all, SpEmission *e)
{
  SpReason *carried = sp_judging_carry (&w->judging, all, e);
  if (carried) { /* the profile gives no product of this order */
    e->product_high_dbm = carried->PRODUCT_CARRIED.product_dbm;
    sp_reasons_add (w->out->warnings, carried);
  }
  take_origin (e);
  take_limit (w, e);
  e->budget = sp_judging_budget (&w->judging, e);
  take_verdict (&w->judging, e);
  sp_judging_agreement (&w->judging, e, w->out->warnings);
  sp_judging_untested_steps (&w->judging, e, w->warned, w->out->warnings);
}

static void
take_would_prove (SpConditionWork *w)
{
  g_autofree SpReason **proofs = sp_judging_prove (&w->judging);
  for (guint i = 0; i < w->out->n_emissions; i++)
    w->out->emissions[i].would_prove = proofs[i];
}

static void
take_gaps (SpConditionWork *w)
{
  SpGaps found = sp_judging_gaps (&w->judging);
  w->out->clear_room_db = found.clear_room_db;
  w->out->searched = found.searched;
  w->out->n_gaps = found.gaps->len;
  w->out->gaps = (SpGap *) (void *) g_array_free (found.gaps, FALSE);
  g_autofree SpReason **closes = sp_judging_prove_gaps (&w->judging, w->out->warnings);
  for (guint i = 0; i < w->out->n_gaps; i++)
    w->out->gaps[i].would_close = closes[i];
}

static void
take_summary (SpConditionWork *w)
{
  SpSummary found = sp_judging_summary (&w->judging);
  w->out->verdict = found.verdict;
  w->out->worst_margin_db = found.worst_margin_db;
  w->out->worst_emission = found.worst_emission;
  w->out->unsettled_emission = sp_judging_unsettled (w->out);
}

static SpConditionWork *
work_of (const SpBench *bench, guint index, SpConditionFindings *out)
{
  const SpCondition *condition = &bench->conditions[index];
  SpConditionWork *w = g_new0 (SpConditionWork, 1);
  w->judging.bench = bench;
  w->judging.condition = condition;
  w->judging.out = w->out = out;
  w->judging.chain = sp_condition_chain (bench, condition);
  w->judging.analyzer = sp_condition_analyzer (bench, condition);
  w->judging.mask = sp_condition_mask (bench, condition);
  out->condition = index;
  out->name = sp_condition_name (bench, condition);
  out->warnings = sp_reasons_new ();
  out->power_dbm = out->trace_level_dbm = out->mixer_dbm = out->fundamental_u_hz = NAN;
  return w;
}

/* The part that needs no other condition: emissions and their evidence. (transfer full) */
static SpConditionWork *
examine_condition (const SpBench *bench, guint index, SpConditionFindings *out)
{
  SpConditionWork *w = work_of (bench, index, out);
  find_bandwidth (w);
  sp_condition_take_sweeps (w);
  sp_condition_find_power (w);
  out->exclude_hz = exclude_half (&w->judging);
  out->limit = limit_drawn (&w->judging);
  sp_condition_find_floors (w);
  find_headroom (w);
  mask_warnings (&w->judging, out->warnings);
  find_emissions (w);
  find_usable_steps (w);
  sp_judging_overload_signs (&w->judging, out->warnings);
  for (guint i = 0; i < out->n_emissions; i++)
    examine_emission (w, &out->emissions[i]);
  return w;
}

/* The verdicts, which may use the other conditions' step tests of the analyzer. */
static void
judge_condition (SpConditionWork *w, const SpFindings *all)
{
  for (guint i = 0; i < w->out->n_emissions; i++)
    judge_emission (w, all, &w->out->emissions[i]);
  take_would_prove (w);
  take_gaps (w);
  w->out->seams = sp_judging_seams (&w->judging, &w->out->n_seams);
  take_summary (w);
  sp_judging_assumed (&w->judging, w->out->warnings);
  sp_judging_overloads (&w->judging, w->out->warnings);
  w->out->statement = sp_judging_statement (&w->judging);
}

/* A step of one condition that would settle others too is said in place of theirs. */
static void
share_steps (SpFindings *findings, SpConditionWork *const *works)
{
  g_autofree const SpJudging **judgings = g_new (const SpJudging *, findings->n + 1);
  for (guint i = 0; i < findings->n; i++)
    judgings[i] = &works[i]->judging;
  g_autoptr (GArray) shared = sp_judgings_share_steps (findings, judgings);
  for (guint i = 0; i < shared->len; i++) {
    const SpSharedStep *step = &g_array_index (shared, SpSharedStep, i);
    SpEmission *e = &findings->conditions[step->condition].emissions[step->emission];
    sp_reason_unref (e->would_prove);
    e->would_prove = step->would_prove;
  }
}

static SpFindings *
judge_to_masks (const SpBench *bench)
{
  SpFindings *findings = g_atomic_rc_box_new0 (SpFindings);
  findings->bench = sp_bench_ref (bench);
  findings->n = bench->n_conditions;
  findings->conditions = g_new0 (SpConditionFindings, bench->n_conditions + 1);
  findings->warnings = sp_reasons_new ();
  sp_reasons_extend (findings->warnings, bench->warnings);
  findings->safe = TRUE;
  g_autofree SpConditionWork **works = g_new0 (SpConditionWork *, findings->n + 1);
  for (guint i = 0; i < findings->n; i++)
    works[i] = examine_condition (bench, i, &findings->conditions[i]);
  for (guint i = 0; i < findings->n; i++) {
    judge_condition (works[i], findings);
    findings->safe &= findings->conditions[i].safe;
  }
  share_steps (findings, works);
  for (guint i = 0; i < findings->n; i++)
    sp_condition_work_free (works[i]);
  return findings;
}

/* Judged whole, and not only compared with other numbers: limit, U of what follows P, floors that suffice, gaps and advice all go by the mask. */
SpFindings *
sp_judge (const SpBench *bench)
{
  gsl_set_error_handler_off ();
  SpFindings *findings = judge_to_masks (bench);
  g_autoptr (SpBench) second = sp_bench_second (bench);
  if (second)
    findings->second = judge_to_masks (second);
  return findings;
}
