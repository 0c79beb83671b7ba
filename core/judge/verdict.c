#include "core/judge/case.h"

#include <math.h>

#define PROVE_RESERVE_DB 3.0      /* what a better sweep should have in hand beyond U (common practice, no source) */
#define STEP_DB 10.0              /* the customary attenuation step */

static void
decide (SpEmission *e, SpVerdict verdict, SpReason *why, SpReason *prove)
{
  e->verdict = verdict;
  e->reason = why;
  e->would_prove = prove;
}

static double
power_w (const SpCase *c)
{
  if (!isnan (c->out->power_dbm))
    return sp_watt_from_dbm (c->out->power_dbm);
  return c->condition->rated_w; /* only to say which limit would apply: see judge_without_power */
}

static void
find_limit (SpCase *c, SpEmission *e)
{
  double p = power_w (c), f0 = c->out->fundamental_hz;
  e->limit_dbm = NAN;
  if (isnan (p) || isnan (f0))
    return;
  double expanded = isnan (c->out->power_u_db) ? 0 : c->out->power_expanded_db, edge = NAN;
  gboolean straddles = FALSE;
  double rbw = e->swept ? c->sweeps[e->case_sweep].rbw_hz : NAN;
  SpLimit limit = sp_mask_limit_with_u (c->mask, f0, p, expanded, c->out->necessary_bandwidth_hz, rbw, e->frequency_hz, &straddles, &edge);
  e->limit_dbm = limit.limit_dbm;
  e->limit_slope = limit.slope;
  e->limit_rule = limit.rule ? g_strdup (limit.rule->name) : NULL;
  double reference = limit.rule ? limit.rule->reference_bandwidth_hz : NAN;
  if (fabs (reference - rbw) > 0.01 * rbw) /* a line is read as it stands; what is noise-like would read otherwise in the rule's bandwidth */
    sp_case_warn (c, sp_reason_new (SP_REASON_REFERENCE_BANDWIDTH, limit.rule->name, NULL, NULL, 2, reference, rbw));
  if (straddles)
    sp_case_warn (c, sp_reason_new (SP_REASON_POWER_CLASS, c->mask->name, NULL, NULL, 3, p, expanded, edge));
}

/* Where P is not known no limit can be told, unless the mask has none for any power. */
static gboolean
limit_needs_power (const SpCase *c, const SpEmission *e)
{
  static const double probe_w[] = { 0.05, 1, 10, 100, 1000 };
  for (guint i = 0; i < G_N_ELEMENTS (probe_w); i++)
    if (!isnan (sp_mask_limit (c->mask, c->out->fundamental_hz, probe_w[i], c->out->necessary_bandwidth_hz, NAN, e->frequency_hz).limit_dbm))
      return TRUE;
  return FALSE;
}

static SpReason *
prove_uncertainty (const SpEmission *e)
{
  const SpTerm *largest = NULL;
  for (guint i = 0; i < e->budget.n; i++)
    if (!largest || e->budget.terms[i].u_margin_db > largest->u_margin_db)
      largest = &e->budget.terms[i];
  return sp_reason_new (SP_REASON_PROVE_UNCERTAINTY, largest ? largest->name : "", NULL, NULL, 1, fabs (e->margin_db));
}

static void
judge_not_seen (const SpCase *c, SpEmission *e, double guard_db, double expanded_db)
{
  const SpCaseSweep *s = &c->sweeps[e->case_sweep];
  if (sp_emission_is_blind (e)) {
    double span = s->trace->frequency_hz[s->trace->n - 1] - s->trace->frequency_hz[0];
    SpReason *prove = isnan (s->rbw_hz) ? NULL : sp_reason_new (SP_REASON_PROVE_SAMPLING, NULL, NULL, NULL, 2, s->rbw_hz, ceil (span / s->rbw_hz) + 1);
    decide (e, SP_VERDICT_NOT_PROVEN,
            sp_reason_new (SP_REASON_UNDERSAMPLED, s->trace->file, NULL, NULL, 3, s->spacing_hz, s->rbw_hz, e->sampling_loss_db), prove);
    return;
  }
  if (e->floor_dbm + guard_db <= e->limit_dbm) {
    decide (e, SP_VERDICT_COMPLIES, sp_reason_new (SP_REASON_FLOOR_BELOW_LIMIT, NULL, NULL, NULL, 3, e->floor_dbm, e->limit_dbm, expanded_db), NULL);
    return;
  }
  double missing = e->floor_dbm + guard_db - e->limit_dbm;
  decide (e, SP_VERDICT_NOT_PROVEN,
          sp_reason_new (SP_REASON_FLOOR_ABOVE_LIMIT, sp_floor_cause_name (e->floor_cause), NULL, NULL, 4, e->floor_dbm, e->limit_dbm, expanded_db,
                         missing),
          sp_reason_new (SP_REASON_PROVE_FLOOR, NULL, NULL, NULL, 1, missing + PROVE_RESERVE_DB));
}

/* The ends of what can be the radio's own: the reading itself where nothing else is known. */
static void
own_part (const SpEmission *e, double *low, double *high)
{
  *low = isnan (e->radio_high_dbm) ? e->level_dbm : e->radio_low_dbm;
  *high = isnan (e->radio_high_dbm) ? e->level_dbm : e->radio_high_dbm;
}

/* Complies: by the level itself, or because what of it can be the radio's own lies low enough. */
static SpReason *
below_limit (const SpEmission *e, double high, double guard_db, double expanded_db)
{
  if (e->level_dbm + guard_db <= e->limit_dbm)
    return sp_reason_new (SP_REASON_BELOW_LIMIT, NULL, NULL, NULL, 2, e->margin_db, expanded_db);
  return sp_reason_new (SP_REASON_RADIO_PART_BELOW, NULL, NULL, NULL, 4, high, e->limit_dbm, expanded_db, e->level_dbm);
}

static void
judge_ambient (SpEmission *e)
{
  decide (e, SP_VERDICT_NOT_PROVEN, sp_reason_new (SP_REASON_AMBIENT_POSSIBLE, NULL, NULL, NULL, 2, e->level_dbm, e->evidence->ambient_dbm),
          sp_reason_new (SP_REASON_PROVE_AMBIENT, NULL, NULL, NULL, 1, e->frequency_hz));
}

/* One more step, beyond those that were taken. */
static SpReason *
prove_step (const SpEmission *e)
{
  double most = 0;
  for (guint k = 0; e->evidence && k < e->evidence->n; k++)
    most = fmax (most, e->evidence->points[k].attenuation_db);
  return sp_reason_new (SP_REASON_PROVE_STEP, NULL, NULL, NULL, 1, most + STEP_DB);
}

static void
judge_seen (SpEmission *e, double guard_db, double expanded_db)
{
  double low, high;
  own_part (e, &low, &high);
  if (high + guard_db <= e->limit_dbm) {
    decide (e, SP_VERDICT_COMPLIES, below_limit (e, high, guard_db, expanded_db), NULL);
    return;
  }
  if (e->origin == SP_ORIGIN_AMBIENT) {
    judge_ambient (e);
    return;
  }
  SpReason *step = prove_step (e);
  if (e->origin == SP_ORIGIN_UNTESTED) {
    decide (e, SP_VERDICT_NOT_PROVEN,
            sp_reason_new (SP_REASON_UNTESTED, NULL, NULL, NULL, 3, e->level_dbm, e->limit_dbm, expanded_db), step);
  } else if (low - guard_db > e->limit_dbm) {
    sp_reason_unref (step);
    decide (e, SP_VERDICT_EXCEEDS, sp_reason_new (SP_REASON_ABOVE_LIMIT, NULL, NULL, NULL, 2, -e->margin_db, expanded_db), NULL);
  } else if (e->origin == SP_ORIGIN_RADIO && fabs (e->margin_db) > expanded_db) { /* it is not U that leaves it open */
    decide (e, SP_VERDICT_INCONCLUSIVE, sp_reason_new (SP_REASON_RADIO_PART_STRADDLES, NULL, NULL, NULL, 4, low, high, e->limit_dbm, expanded_db), step);
  } else if (e->origin == SP_ORIGIN_RADIO) {
    sp_reason_unref (step);
    decide (e, SP_VERDICT_INCONCLUSIVE, sp_reason_new (SP_REASON_WITHIN_UNCERTAINTY, NULL, NULL, NULL, 2, e->margin_db, expanded_db),
            prove_uncertainty (e));
  } else {
    decide (e, SP_VERDICT_NOT_PROVEN,
            sp_reason_new (SP_REASON_ANALYZER_POSSIBLE, NULL, NULL, NULL, 5, e->level_dbm,
                           e->origin_basis == SP_BASIS_STEP ? NAN : e->distortion_high_dbm, low, high, expanded_db), step);
  }
}

static SpReason *
outside_calibration (double frequency_hz)
{
  return sp_reason_new (SP_REASON_OUTSIDE_CALIBRATION, NULL, NULL, NULL, 1, frequency_hz);
}

/* Outside calibration nothing complies; a gross excess of the radio's own is one all the same. */
static void
judge_uncalibrated (SpEmission *e, double frequency_hz, double expanded_db)
{
  double low, high;
  own_part (e, &low, &high);
  if (e->detected && e->origin != SP_ORIGIN_UNTESTED && low > e->limit_dbm + expanded_db + SP_UNCALIBRATED_EXTRA_DB)
    decide (e, SP_VERDICT_EXCEEDS, sp_reason_new (SP_REASON_ABOVE_LIMIT, NULL, NULL, NULL, 2, -e->margin_db, expanded_db), NULL);
  else
    decide (e, SP_VERDICT_NOT_PROVEN, outside_calibration (frequency_hz),
            sp_reason_new (SP_REASON_PROVE_CALIBRATION, NULL, NULL, NULL, 1, frequency_hz));
}

/* p = T((limit - level)/u); of what may be the analyzer's or the air's own no such probability can be told. */
static void
find_conformity (SpEmission *e)
{
  if (!e->detected || isnan (e->limit_dbm) || (e->origin != SP_ORIGIN_RADIO && e->origin != SP_ORIGIN_UNTESTED))
    return;
  double u = e->budget.u_margin_db;
  e->conformity = u > 0 ? sp_student_below (e->margin_db / u, e->budget.dof_margin) : e->margin_db >= 0;
}

void
sp_case_verdict (SpCase *c, SpEmission *e)
{
  find_limit (c, e);
  sp_case_budget (c, e);
  gboolean no_power = isnan (c->out->power_dbm) && !isnan (c->out->fundamental_hz) && limit_needs_power (c, e);
  if (e->swept && !isnan (e->limit_dbm))
    e->margin_db = e->limit_dbm - e->level_dbm;
  find_conformity (e);
  double expanded = e->budget.expanded_margin_db;
  double guard = c->bench->rule == SP_RULE_GUARDED ? expanded : 0;
  if (isnan (e->limit_dbm) && !no_power)
    decide (e, SP_VERDICT_NO_LIMIT, sp_reason_new (SP_REASON_NO_NUMBER, NULL, NULL, NULL, 0), NULL);
  else if (!e->swept)
    decide (e, SP_VERDICT_NOT_PROVEN, sp_reason_new (SP_REASON_NOT_SWEPT, NULL, NULL, NULL, 1, e->frequency_hz),
            sp_reason_new (SP_REASON_PROVE_SWEEP, NULL, NULL, NULL, 1, e->frequency_hz));
  else if (no_power)
    decide (e, SP_VERDICT_NOT_PROVEN, sp_reason_new (SP_REASON_NO_POWER, NULL, NULL, NULL, 0), NULL);
  else if (!c->carrier_calibrated && e->limit_slope != 0 && !c->out->by_meter)
    decide (e, SP_VERDICT_NOT_PROVEN, outside_calibration (c->out->fundamental_hz),
            sp_reason_new (SP_REASON_PROVE_CALIBRATION, NULL, NULL, NULL, 1, c->out->fundamental_hz));
  else if (!e->calibrated)
    judge_uncalibrated (e, e->frequency_hz, expanded);
  else if (e->detected)
    judge_seen (e, guard, expanded);
  else
    judge_not_seen (c, e, guard, expanded);
}

/* What decides comes first: the worse verdict, then blindness, then the lesser margin. */
static gboolean
decides_before (const SpEmission *a, const SpEmission *b)
{
  if (a->verdict != b->verdict)
    return a->verdict > b->verdict;
  double margin_a = sp_emission_deciding_margin_db (a), margin_b = sp_emission_deciding_margin_db (b);
  if (sp_emission_is_blind (a) != sp_emission_is_blind (b))
    return sp_emission_is_blind (a);
  return margin_a < margin_b;
}

void
sp_case_summary (SpCase *c)
{
  SpConditionFindings *out = c->out;
  sp_case_gaps (c);
  sp_case_seams (c);
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
  gboolean blind = out->n_gaps > 0 || isnan (out->fundamental_hz);
  if (blind && out->verdict < SP_VERDICT_NOT_PROVEN)
    out->verdict = SP_VERDICT_NOT_PROVEN;
}
