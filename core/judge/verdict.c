/* verdict.c - the verdict on an emission, its reason, and the condition's own verdict */
#include "core/judge/judging.h"

#include <math.h>

static void
decide (SpEmission *e, SpVerdict verdict, SpReason *why, SpReason *prove)
{
  e->verdict = verdict;
  e->reason = why;
  e->would_prove = prove;
}

static SpReason *
prove_uncertainty (const SpEmission *e)
{
  const SpTerm *largest = NULL;
  for (guint i = 0; i < e->budget.n; i++)
    if (!largest || e->budget.terms[i].u_margin_db > largest->u_margin_db)
      largest = &e->budget.terms[i];
  const SpTerm *assumed = sp_budget_assumed_of_weight (&e->budget, SP_BUDGET_MARGIN);
  return sp_reason (PROVE_UNCERTAINTY, .largest = largest ? largest->name : "", .assumed = assumed ? assumed->name : NULL,
                    .stage = assumed ? assumed->assumed_stage : NULL, .below_db = fabs (e->margin_db));
}

/* NULL where the RBW is not known. */
static SpReason *
prove_sampling (const SpJudgedSweep *s)
{
  double span = s->trace->frequency_hz[s->trace->n - 1] - s->trace->frequency_hz[0];
  return isnan (s->rbw_hz) ? NULL : sp_reason (PROVE_SAMPLING, .spacing_hz = s->rbw_hz, .points = ceil (span / s->rbw_hz) + 1);
}

static void
judge_undersampled (const SpJudging *c, SpEmission *e)
{
  const SpJudgedSweep *s = &c->sweeps[e->case_sweep];
  decide (e, SP_VERDICT_NOT_PROVEN,
          sp_reason (UNDERSAMPLED, .file = s->trace->file, .seen = e->detected, .spacing_hz = s->spacing_hz, .rbw_hz = s->rbw_hz,
                     .loss_db = e->sampling_loss_db),
          prove_sampling (s));
}

static void
judge_not_seen (const SpJudging *c, SpEmission *e, double guard_db, double expanded_db)
{
  if (sp_emission_is_blind (e)) {
    judge_undersampled (c, e);
    return;
  }
  if (e->floor_dbm + guard_db <= e->limit_dbm) {
    decide (e, SP_VERDICT_COMPLIES,
            sp_reason (FLOOR_BELOW_LIMIT, .floor_dbm = e->floor_dbm, .limit_dbm = e->limit_dbm, .expanded_db = expanded_db), NULL);
    return;
  }
  double missing = e->floor_dbm + guard_db - e->limit_dbm;
  decide (e, SP_VERDICT_NOT_PROVEN,
          sp_reason (FLOOR_ABOVE_LIMIT, .cause = e->floor_cause, .floor_dbm = e->floor_dbm, .limit_dbm = e->limit_dbm,
                     .expanded_db = expanded_db, .missing_db = missing),
          sp_reason (PROVE_FLOOR, .cause = e->floor_cause, .unsafe = FALSE, .missing_db = missing + SP_PROVE_RESERVE_DB));
}

/* What U allows. Towards *complies* the whole of it, with what a line between two points may have lost; towards *exceeds* without: such a line only ever
 * reads low (core/budget/budget.h). The guards are 0 under the simple rule. */
typedef struct {
  double guard_db, expanded_db;
  double guard_low_db, expanded_low_db;
} Allowed;

static Allowed
allowed (const SpJudging *c, const SpEmission *e)
{
  Allowed a = { .expanded_db = e->budget.expanded_margin_db, .expanded_low_db = e->budget.expanded_margin_low_db };
  if (c->bench->rule == SP_RULE_GUARDED) {
    a.guard_db = a.expanded_db;
    a.guard_low_db = a.expanded_low_db;
  }
  return a;
}

/* The ends of what can be the radio's own: the reading itself where nothing else is known. */
static void
radio_part (const SpEmission *e, double *low, double *high)
{
  *low = isnan (e->radio_high_dbm) ? e->level_dbm : e->radio_low_dbm;
  *high = isnan (e->radio_high_dbm) ? e->level_dbm : e->radio_high_dbm;
}

/* Complies: by the level itself, or because what can be the radio's own lies low enough: less than the level, or more where the rest cancels some. */
static SpReason *
below_limit (const SpEmission *e, double high, double guard_db, double expanded_db)
{
  gboolean hides_more = high > e->level_dbm + expanded_db
                        && (e->origin == SP_ORIGIN_ANALYZER || e->origin == SP_ORIGIN_MIXED || e->origin == SP_ORIGIN_AMBIENT);
  if (e->level_dbm + guard_db <= e->limit_dbm && !hides_more)
    return sp_reason (BELOW_LIMIT, .margin_db = e->margin_db, .expanded_db = expanded_db);
  return sp_reason (RADIO_PART_BELOW, .part_dbm = high, .limit_dbm = e->limit_dbm, .expanded_db = expanded_db, .level_dbm = e->level_dbm);
}

static void
judge_ambient (SpEmission *e)
{
  decide (e, SP_VERDICT_NOT_PROVEN, sp_reason (AMBIENT_POSSIBLE, .level_dbm = e->level_dbm, .ambient_dbm = e->evidence->ambient_dbm),
          sp_reason (PROVE_AMBIENT, .at_hz = e->frequency_hz));
}

/* Over the limit: by the reading, and by so much of the radio's own part at the least, where that is not the reading within U or the reading would not
 * exceed. */
static SpReason *
above_limit (const SpEmission *e, double low, double expanded_db)
{
  return sp_reason (ABOVE_LIMIT, .over_db = -e->margin_db, .expanded_db = expanded_db,
                    .part_over_db = fabs (low - e->level_dbm) > expanded_db || -e->margin_db <= expanded_db ? low - e->limit_dbm : NAN);
}

/* Does what stands there unkeyed leave it open by itself, and more than U does? No step of attenuation could tell that from the radio's. */
static gboolean
ambient_leaves_open (const SpEmission *e, double guard_db)
{
  double low, high;
  if (!sp_judging_less_ambient (e, &low, &high) || (fabs (e->margin_db) <= guard_db && e->level_dbm - low <= guard_db))
    return FALSE;
  return high + guard_db > e->limit_dbm && low - guard_db <= e->limit_dbm;
}

static void
judge_ambient_part (SpEmission *e, double low, double high, double expanded_db)
{
  decide (e, e->origin == SP_ORIGIN_RADIO ? SP_VERDICT_INCONCLUSIVE : SP_VERDICT_NOT_PROVEN,
          sp_reason (AMBIENT_PART, .level_dbm = e->level_dbm, .ambient_dbm = e->evidence->ambient_dbm, .part_low_dbm = low,
                     .part_high_dbm = high, .expanded_db = expanded_db),
          sp_reason (PROVE_AMBIENT, .at_hz = e->frequency_hz));
}

/* One more step; which one advice.c says. */
static SpReason *
prove_step (const SpEmission *e)
{
  return sp_reason (PROVE_STEP, .pad = FALSE, .condition = NULL, .step_db = NAN, .order = e->order, .settles = NAN);
}

/* A line seen in a sweep too coarse to prove anything, or one that only what it may have lost between the points keeps from complying: what is wanted is
 * points, not a lesser U. */
static gboolean
sampling_leaves_open (const SpJudging *c, const SpEmission *e, double high_dbm, const Allowed *u)
{
  const SpJudgedSweep *s = &c->sweeps[e->case_sweep];
  guint64 i = MIN (sp_trace_find (s->trace, e->frequency_hz), s->trace->n - 1);
  if (!(e->sampling_loss_db <= SP_BLIND_LOSS_DB))
    return TRUE;
  return e->sampling_loss_db > 0 && sp_judging_blurred (s, i) && high_dbm + u->guard_db > e->limit_dbm
         && high_dbm + u->guard_low_db <= e->limit_dbm;
}

/* Read as a bound, and the limit lies between what it may be at the least and at the most: another sweep is wanted, not a lesser U. */
static gboolean
bound_leaves_open (const SpEmission *e, double low_dbm, double high_dbm, const Allowed *u)
{
  gboolean only_excess = e->excess_db > 0 && low_dbm - u->guard_low_db > e->limit_dbm;
  gboolean only_more = e->sampling_loss_db > 0 && high_dbm + u->guard_low_db <= e->limit_dbm;
  return only_excess || only_more;
}

static void
judge_bound (const SpJudging *c, SpEmission *e, const Allowed *u)
{
  double rbw = c->sweeps[e->case_sweep].rbw_hz, reference = e->reference_bandwidth_hz;
  decide (e, SP_VERDICT_NOT_PROVEN,
          sp_reason (BOUND_STRADDLES, .level_dbm = e->level_dbm, .low_dbm = e->level_dbm - e->excess_db,
                     .high_dbm = e->level_dbm + e->sampling_loss_db, .limit_dbm = e->limit_dbm, .expanded_db = u->expanded_low_db,
                     .reference_hz = reference, .rbw_hz = rbw),
          sp_reason (PROVE_NARROWER, .rbw_hz = fmin (rbw, isnan (reference) ? rbw : reference)));
}

static double
of_margin (const SpEmission *e, const Allowed *u)
{
  return e->margin_db < 0 ? u->expanded_low_db : u->expanded_db;
}

/* Of one that has neither complied nor exceeded. */
static void
judge_open (SpEmission *e, double low, double high, const Allowed *u)
{
  SpReason *step = prove_step (e);
  double expanded_db = of_margin (e, u);
  gboolean cancels = e->evidence && e->evidence->may_cancel;
  if (e->origin == SP_ORIGIN_RADIO && fabs (e->margin_db) > expanded_db) { /* it is not U that leaves it open */
    decide (e, SP_VERDICT_INCONCLUSIVE,
            sp_reason (RADIO_PART_STRADDLES, .part_low_dbm = low, .part_high_dbm = high, .limit_dbm = e->limit_dbm,
                       .expanded_db = expanded_db),
            step);
  } else if (e->origin == SP_ORIGIN_RADIO) {
    sp_reason_unref (step);
    decide (e, SP_VERDICT_INCONCLUSIVE, sp_reason (WITHIN_UNCERTAINTY, .margin_db = e->margin_db, .expanded_db = expanded_db),
            prove_uncertainty (e));
  } else {
    decide (e, SP_VERDICT_NOT_PROVEN,
            sp_reason (ANALYZER_POSSIBLE, .may_cancel = cancels, .level_dbm = e->level_dbm,
                       .product_dbm = e->origin_basis == SP_BASIS_STEP && !cancels ? NAN : e->distortion_high_dbm, .part_low_dbm = low,
                       .part_high_dbm = high, .expanded_db = expanded_db),
            step);
  }
}

static void
judge_seen (const SpJudging *c, SpEmission *e, const Allowed *u)
{
  double low, high;
  radio_part (e, &low, &high);
  gboolean over = low - e->excess_db - u->guard_low_db > e->limit_dbm;
  if (!over && sampling_leaves_open (c, e, high, u))
    judge_undersampled (c, e);
  else if (high + u->guard_db <= e->limit_dbm)
    decide (e, SP_VERDICT_COMPLIES, below_limit (e, high, u->guard_db, u->expanded_db), NULL);
  else if (e->origin == SP_ORIGIN_AMBIENT)
    judge_ambient (e);
  else if (ambient_leaves_open (e, u->guard_db) && !over)
    judge_ambient_part (e, low, high, u->expanded_db);
  else if (e->origin == SP_ORIGIN_UNTESTED) /* no step of so coarse a sweep would test anything */
    decide (e, SP_VERDICT_NOT_PROVEN,
            sp_reason (UNTESTED, .level_dbm = e->level_dbm, .limit_dbm = e->limit_dbm, .expanded_db = of_margin (e, u)),
            e->sampling_loss_db <= SP_BLIND_LOSS_DB ? prove_step (e) : prove_sampling (&c->sweeps[e->case_sweep]));
  else if (over)
    decide (e, SP_VERDICT_EXCEEDS, above_limit (e, low - e->excess_db, u->expanded_low_db), NULL);
  else if (bound_leaves_open (e, low, high, u))
    judge_bound (c, e, u);
  else
    judge_open (e, low, high, u);
}

static SpReason *
outside_calibration (double frequency_hz)
{
  return sp_reason (OUTSIDE_CALIBRATION, .stage = NULL, .at_hz = frequency_hz);
}

/* Outside calibration nothing complies; a gross excess of the radio's own is one all the same. */
static void
judge_uncalibrated (SpEmission *e, double frequency_hz, double expanded_low_db)
{
  double low, high;
  radio_part (e, &low, &high);
  if (e->detected && e->origin != SP_ORIGIN_UNTESTED && low > e->limit_dbm + expanded_low_db + SP_UNCALIBRATED_EXTRA_DB)
    decide (e, SP_VERDICT_EXCEEDS, above_limit (e, low, expanded_low_db), NULL);
  else
    decide (e, SP_VERDICT_NOT_PROVEN, outside_calibration (frequency_hz), sp_reason (PROVE_CALIBRATION, .at_hz = frequency_hz));
}

/* p = T((limit - level)/u); of what may be the analyzer's or the air's own, in part or whole, no such probability can be told. A trace of the air's in
 * what is the radio's widens its part, and decides where that does (decision.c). */
static void
find_conformity (SpEmission *e)
{
  gboolean own = e->origin == SP_ORIGIN_RADIO || e->origin == SP_ORIGIN_UNTESTED;
  if (!e->detected || isnan (e->limit_dbm) || !own)
    return;
  gboolean over = e->margin_db < 0; /* a level that may only be higher is no likelier to comply for that */
  double u = over ? e->budget.u_margin_low_db : e->budget.u_margin_db, dof = over ? e->budget.dof_margin_low : e->budget.dof_margin;
  e->conformity = u > 0 ? sp_student_below (e->margin_db / u, dof) : e->margin_db >= 0;
}

/* Points and RBW that would tell the harmonics apart, with some to spare (harmonic-resolution.c): the further up, the more a coarse point of f0 itself costs. */
static void
judge_unresolved (const SpJudging *c, SpEmission *e)
{
  const SpJudgedSweep *s = &c->sweeps[e->case_sweep];
  double f0 = c->out->fundamental_hz, spacing = f0 / (4 + 2 * e->order), rbw = f0 / 8;
  guint other = 0;
  sp_judging_unresolved (c, s, e->order, &other);
  decide (e, SP_VERDICT_NOT_PROVEN,
          sp_reason (NOT_RESOLVED, .file = s->trace->file, .at_hz = e->frequency_hz, .spacing_hz = s->spacing_hz, .rbw_hz = s->rbw_hz,
                     .beside_order = other),
          sp_reason (PROVE_RESOLVE, .spacing_hz = spacing, .rbw_hz = s->rbw_hz <= rbw ? NAN : rbw));
}

static void
withdraw (SpEmission *e, SpReason *why, SpReason *prove)
{
  g_clear_pointer (&e->reason, sp_reason_unref);
  g_clear_pointer (&e->would_prove, sp_reason_unref);
  decide (e, SP_VERDICT_NOT_PROVEN, why, prove);
}

/* P is at least so much: does what was decided hold for every power from there on? */
static void
hold_for_more_power (SpJudging *c, SpEmission *e, const Allowed *u)
{
  double p = sp_watt_from_dbm (c->out->power_dbm), low, high, part_low, part_high;
  if (e->verdict == SP_VERDICT_NOT_PROVEN || e->verdict == SP_VERDICT_NO_LIMIT || isnan (e->limit_dbm)
      || !sp_judging_limit_range (c, e, p, fmax (p, SP_MOST_RADIO_W), &low, &high))
    return;
  radio_part (e, &part_low, &part_high);
  double most = fmin (e->level_dbm, part_high);
  gboolean holds = e->verdict == SP_VERDICT_COMPLIES  ? most + u->guard_db <= low
                   : e->verdict == SP_VERDICT_EXCEEDS ? part_low - u->guard_low_db > high
                                                      : low == high;
  if (!holds)
    withdraw (e,
              sp_reason (POWER_LOWER_BOUND, .power_dbm = c->out->power_dbm, .limit_dbm = e->limit_dbm, .limit_low_dbm = low,
                         .limit_high_dbm = isinf (high) ? NAN : high),
              sp_reason (PROVE_REFERENCE, .reading_dbm = c->sweeps[c->carrier_sweep].carrier_reading_dbm));
}

/* No sweep shows the radio where it was said to send: nothing complies, and nothing exceeds a limit that its power makes. */
static void
doubt (SpJudging *c, SpEmission *e)
{
  double low, high;
  if (e->verdict == SP_VERDICT_NOT_PROVEN || e->verdict == SP_VERDICT_NO_LIMIT)
    return;
  gboolean absolute = !sp_judging_limit_range (c, e, SP_LEAST_RADIO_W, SP_MOST_RADIO_W, &low, &high) || low == high || c->out->by_meter;
  if (e->verdict == SP_VERDICT_COMPLIES || !absolute)
    withdraw (e, sp_reason_ref (c->doubt),
              c->doubt->code == SP_REASON_FUNDAMENTAL_NEAR_ZERO ? sp_reason (PROVE_RBW, .rbw_hz = c->doubt->FUNDAMENTAL_NEAR_ZERO.rbw_hz)
                                                                : NULL);
}

static void
judge_swept (SpJudging *c, SpEmission *e, const Allowed *u)
{
  if (sp_judging_limit_needs_power (c, e))
    decide (e, SP_VERDICT_NOT_PROVEN, sp_reason_bare (NO_POWER), NULL);
  else if (!c->carrier_calibrated && e->limit_slope != 0 && !c->out->by_meter)
    decide (e, SP_VERDICT_NOT_PROVEN, outside_calibration (c->out->fundamental_hz),
            sp_reason (PROVE_CALIBRATION, .at_hz = c->out->fundamental_hz));
  else if (!e->calibrated)
    judge_uncalibrated (e, e->frequency_hz, u->expanded_low_db);
  else if (e->detected)
    judge_seen (c, e, u);
  else
    judge_not_seen (c, e, u->guard_db, u->expanded_db);
  if (c->power_at_least)
    hold_for_more_power (c, e, u);
  if (c->doubt)
    doubt (c, e);
}

void
sp_judging_verdict (SpJudging *c, SpEmission *e)
{
  sp_judging_limit (c, e);
  sp_judging_budget (c, e);
  if (e->swept && !e->unresolved && !isnan (e->limit_dbm))
    e->margin_db = e->limit_dbm - e->level_dbm;
  find_conformity (e);
  Allowed u = allowed (c, e);
  if (isnan (e->limit_dbm) && !sp_judging_limit_needs_power (c, e))
    decide (e, SP_VERDICT_NO_LIMIT, sp_reason_bare (NO_NUMBER), NULL);
  else if (!e->swept)
    decide (e, SP_VERDICT_NOT_PROVEN, sp_reason (NOT_SWEPT, .at_hz = e->frequency_hz), sp_reason (PROVE_SWEEP, .to_hz = e->frequency_hz));
  else if (e->unresolved)
    judge_unresolved (c, e);
  else
    judge_swept (c, e, &u);
  sp_judging_decision (e, u.guard_db, u.guard_low_db);
}

/* What decides comes first: the worse verdict, then blindness, then the lesser room; one that has none last. */
static gboolean
decides_before (const SpEmission *a, const SpEmission *b)
{
  if (a->verdict != b->verdict)
    return a->verdict > b->verdict;
  double margin_a = sp_emission_deciding_margin_db (a), margin_b = sp_emission_deciding_margin_db (b);
  if (sp_emission_is_blind (a) != sp_emission_is_blind (b))
    return sp_emission_is_blind (a);
  return margin_a < margin_b || (isnan (margin_b) && !isnan (margin_a));
}

void
sp_judging_summary (SpJudging *c)
{
  SpConditionFindings *out = c->out;
  sp_judging_gaps (c);
  sp_judging_prove_gaps (c);
  sp_judging_seams (c);
  out->power_calibrated = c->carrier_calibrated;
  out->verdict = SP_VERDICT_NO_LIMIT;
  out->worst_margin_db = NAN;
  out->worst_emission = -1;
  for (guint i = 0; i < out->n_emissions; i++) {
    const SpEmission *e = &out->emissions[i];
    if (!isnan (e->margin_db) && !(e->margin_db >= out->worst_margin_db))
      out->worst_margin_db = e->margin_db;
    const SpEmission *worst = out->worst_emission < 0 ? NULL : &out->emissions[out->worst_emission];
    if (!worst || decides_before (e, worst))
      out->worst_emission = (int) i;
    out->verdict = MAX (out->verdict, e->verdict);
  }
  if (out->searched && out->n_gaps == 0) /* all that the mask wants swept is clear, harmonics or not */
    out->verdict = MAX (out->verdict, SP_VERDICT_COMPLIES);
  out->unsettled_emission = sp_judging_unsettled (out);
  gboolean blind = out->n_gaps > 0 || isnan (out->fundamental_hz);
  if (blind && out->verdict < SP_VERDICT_NOT_PROVEN)
    out->verdict = SP_VERDICT_NOT_PROVEN;
}
