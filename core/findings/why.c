/* why.c - the walk from a reading to its verdict */
#include "core/findings/why.h"

#include <math.h>
#include <stdlib.h>

#include "core/quantity/units.h"

static void
lay_stages (SpWhy *why)
{
  SpUncertaintySource source = sp_uncertainty_source (why->findings, why->condition, why->index);
  g_autofree SpUncertaintyStage *stages = sp_uncertainty_source_stages (why->findings, &source, &why->n_stages);
  double level = why->emission->reading_dbm, sum = 0;
  why->stages = g_new0 (SpWhyStage, MAX (why->n_stages, 1));
  for (guint i = 0; i < why->n_stages; i++) {
    const SpUncertaintyStage *s = &stages[why->n_stages - 1 - i];
    level += s->loss_db;
    sum += s->loss_db;
    why->stages[i] = (SpWhyStage){ s->stage, s->from, s->loss_db, level };
  }
  why->interaction_db = why->emission->loss_db - sum;
}

/* The point of its sweep that is nearest to a frequency. */
static guint64
nearest (const SpCorrected *corrected, double frequency_hz)
{
  guint64 low = 0, high = corrected->n - 1;
  while (high - low > 1) {
    guint64 middle = low + (high - low) / 2;
    *(corrected->frequency_hz[middle] <= frequency_hz ? &low : &high) = middle;
  }
  return frequency_hz - corrected->frequency_hz[low] < corrected->frequency_hz[high] - frequency_hz ? low : high;
}

static double
over_noise (const SpConditionFindings *found, const SpEmission *e)
{
  if (!e->detected || e->corrected >= found->n_corrected || !found->corrected[e->corrected].noise_dbm)
    return NAN;
  const SpCorrected *corrected = &found->corrected[e->corrected];
  return e->level_dbm - corrected->noise_dbm[nearest (corrected, e->frequency_hz)];
}

static int
greater_first (const void *a, const void *b)
{
  const SpWhyTerm *x = a, *y = b;
  return (x->u_db < y->u_db) - (x->u_db > y->u_db);
}

static gboolean
is_repeated (SpTermKind kind)
{
  return kind == SP_TERM_NOISE || kind == SP_TERM_REPEATABILITY || kind == SP_TERM_REPEATS;
}

/* Of the margin: the sum that the deciding U is of (sp_emission_deciding_expanded_db). */
static void
lay_terms (SpWhy *why)
{
  const SpBudget *b = &why->emission->budget;
  gboolean low = why->emission->margin_db < 0;
  double squares = 0;
  why->terms = g_new0 (SpWhyTerm, MAX (b->n, 1));
  for (guint i = 0; i < b->n; i++) {
    double u = fabs (low ? b->terms[i].u_margin_low_db : b->terms[i].u_margin_db);
    if (!(u > 0))
      continue;
    why->terms[why->n_terms++] = (SpWhyTerm){ &b->terms[i], u, 0 };
    squares += u * u;
  }
  qsort (why->terms, why->n_terms, sizeof *why->terms, greater_first);
  for (guint i = 0; i < why->n_terms; i++) {
    why->terms[i].share = why->terms[i].u_db * why->terms[i].u_db / squares;
    why->repeat_share += is_repeated (why->terms[i].term->kind) ? why->terms[i].share : 0;
  }
  why->u_db = low ? b->u_margin_low_db : b->u_margin_db;
  why->k = low ? b->k_margin_low : b->k_margin;
  why->expanded_db = sp_emission_deciding_expanded_db (why->emission);
  why->without_first_db = why->n_terms > 1 ? why->k * sqrt (squares * (1 - why->terms[0].share)) : NAN;
}

static void
lay_word (SpWhy *why)
{
  const SpEmission *e = why->emission;
  why->room_db = sp_emission_room_db (e);
  why->decides_dbm = e->limit_dbm - why->room_db;
  why->guard_db = why->findings->bench->decision_rule == SP_DECISION_RULE_SIMPLE ? 0 : why->expanded_db;
  why->per_cent_under = 100 * sp_emission_deciding_conformity (e);
  why->short_db = why->guard_db > why->room_db ? why->guard_db - why->room_db : NAN;
  why->over_db = e->verdict == SP_VERDICT_EXCEEDS ? -why->room_db : NAN;
  gboolean by_u = e->row == SP_ROW_WITHIN_UNCERTAINTY
                  || (why->room_db > 0 && (e->row == SP_ROW_FLOOR_ABOVE || e->row == SP_ROW_PART_STRADDLES));
  why->settling_u_db = by_u ? fabs (why->room_db) : NAN;
}

SpWhy *
sp_why (const SpFindings *findings, guint condition, int emission)
{
  if (condition >= findings->n || emission < 0 || emission >= (int) findings->conditions[condition].n_emissions)
    return NULL;
  SpWhy *why = g_new0 (SpWhy, 1);
  const SpEmission *e = &findings->conditions[condition].emissions[emission];
  why->findings = sp_findings_ref (findings);
  why->condition = condition;
  why->index = emission;
  why->found = &findings->conditions[condition];
  why->emission = e;
  why->over_noise_db = over_noise (why->found, e);
  why->others_db = e->level_dbm - e->reading_dbm - e->loss_db;
  why->level_w = sp_watt_from_dbm (e->level_dbm);
  why->under_carrier_db = why->found->power_dbm - e->level_dbm;
  why->under_product_db = e->level_dbm - e->product_high_dbm;
  why->fall = sp_evidence_fall (e->evidence);
  lay_stages (why);
  lay_terms (why);
  lay_word (why);
  return why;
}

void
sp_why_free (SpWhy *why)
{
  if (!why)
    return;
  g_free (why->stages);
  g_free (why->terms);
  sp_findings_unref ((SpFindings *) why->findings);
  g_free (why);
}
