/* terms.c - the terms of a budget, one function for each */
#include "core/budget/budget-private.h"

#include <math.h>

#include "core/quantity/coverage.h"
#include "core/quantity/units.h"

static double
divisor_of (SpDistribution distribution)
{
  return distribution == SP_DISTRIBUTION_NORMAL ? 1 : distribution == SP_DISTRIBUTION_U_SHAPED ? M_SQRT2 : sqrt (3);
}

/* One source's shares of the level, P and their difference. NULL: no contribution. */
static SpTerm *
add_term (GArray *terms, SpTermKind kind, SpBudgetSource source, SpDistribution distribution, double level, double power, double dbc)
{
  if (!(level > 0 || power > 0 || dbc > 0))
    return NULL;
  double divisor = divisor_of (distribution), acts = level > 0 ? level : dbc > 0 ? dbc : power;
  SpTerm term = { .kind = kind,
                  .distribution = distribution,
                  .u_level_db = level,
                  .u_power_db = power,
                  .u_dbc_db = dbc,
                  .dof = INFINITY,
                  .width_db = acts * divisor,
                  .divisor = divisor,
                  .source = source,
                  .side = distribution == SP_DISTRIBUTION_ONE_SIDED,
                  .dof_power = INFINITY,
                  .dof_dbc = INFINITY,
                  .dof_margin = INFINITY };
  g_array_append_val (terms, term);
  return &g_array_index (terms, SpTerm, terms->len - 1);
}

/* A limit of error from the analyzer's profile. */
static void
add_width (GArray *terms, SpTermKind kind, const SpWidth *width, double level, double power, double dbc)
{
  gboolean rectangular = width->kind == SP_WIDTH_RECTANGULAR;
  SpTerm *term = add_term (terms, kind, SP_BUDGET_FROM_PROFILE, rectangular ? SP_DISTRIBUTION_RECTANGULAR : SP_DISTRIBUTION_NORMAL, level,
                           power, dbc);
  if (!term)
    return;
  term->assumed = width->assumed;
  term->width_db = width->width_db;
  term->divisor = rectangular ? sqrt (3) : width->kind == SP_WIDTH_NORMAL2 ? 2 : 1;
}

/* What the absolute level at one frequency is uncertain by. Where the correction was found against a known level, its u stands for accuracy and, among
 * its points, flatness; beyond them flatness counts at the point and at the end of the points, and switching counts: only the checked setting was. */
typedef struct {
  double accuracy, flatness, correction, switched;
} Absolute;

static Absolute
absolute_at (const SpAnalyzer *a, double frequency_hz)
{
  gboolean inside, checked = sp_analyzer_checked (a);
  double flatness = sp_width_u_db (&a->flatness), u = sp_analyzer_correction_u_db (a, frequency_hz, &inside);
  return (Absolute){ .accuracy = checked ? 0 : sp_width_u_db (&a->accuracy),
                     .flatness = inside    ? 0
                                 : checked ? M_SQRT2 * flatness
                                           : flatness,
                     .correction = u,
                     .switched = checked ? 1 : 0 };
}

/* P's; where f0 is not known only what is the same at all frequencies. */
static Absolute
absolute_of_power (const SpBudgetView *view)
{
  Absolute at = absolute_at (view->analyzer, view->fundamental_hz);
  if (isnan (view->fundamental_hz) && sp_analyzer_checked (view->analyzer))
    at = (Absolute){ 0, 0, 0, 0 };
  return at;
}

/* Accuracy is equal at all frequencies of a sweep and cancels in dBc; flatness counts for both; scale and repeatability once. */
static void
analyzer_terms (GArray *terms, const SpBudgetView *view, double frequency_hz)
{
  const SpAnalyzer *a = view->analyzer;
  Absolute at = absolute_at (a, frequency_hz), at0 = absolute_of_power (view);
  double scale = sp_width_u_db (&a->scale), repeatability = sp_width_u_db (&a->repeatability);
  add_width (terms, SP_TERM_ACCURACY, &a->accuracy, at.accuracy, at0.accuracy, 0);
  add_width (terms, SP_TERM_FLATNESS, &a->flatness, at.flatness, at0.flatness, hypot (at.flatness, at0.flatness));
  add_term (terms, SP_TERM_CORRECTION, SP_BUDGET_FROM_PROFILE, SP_DISTRIBUTION_NORMAL, at.correction, at0.correction,
            hypot (at.correction, at0.correction));
  add_width (terms, SP_TERM_SCALE, &a->scale, scale, scale, scale);
  add_width (terms, SP_TERM_REPEATABILITY, &a->repeatability, repeatability, repeatability, repeatability);
}

/* A mismatch at the level's frequency and at P's, from their pairs of reflections. */
typedef struct {
  guint n, n0;
  double u_db[SP_CHAIN_MAX_PAIRS], u0_db[SP_CHAIN_MAX_PAIRS];
} Pairs;

static SpTerm *
add_mismatch (GArray *terms, SpTermKind kind, SpBudgetSource source, const Pairs *p, double level, double power, GArray *kept)
{
  SpTerm *term = add_term (terms, kind, source, SP_DISTRIBUTION_U_SHAPED, level, power, hypot (level, power));
  if (!term || !kept)
    return term;
  term->first_pair = kept->len;
  term->n_level_pairs = p->n;
  term->n_power_pairs = p->n0;
  g_array_append_vals (kept, p->u_db, p->n);
  g_array_append_vals (kept, p->u0_db, p->n0);
  return term;
}

/* `stage` as SpChainLoss.heating_stage. */
static void
assume (SpTerm *term, const SpChain *chain, int stage)
{
  if (!term || stage < 0)
    return;
  term->assumed = TRUE;
  term->assumed_stage = chain->stages[stage]->name;
}

static void
chain_terms (GArray *terms, const SpChain *of, const SpChain *of0, const SpChainLoss *at, const SpChainLoss *at0)
{
  SpTerm *chain = add_term (terms, SP_TERM_CHAIN, SP_BUDGET_FROM_CHAIN, SP_DISTRIBUTION_NORMAL, at->u_independent_db, at0->u_independent_db,
                            hypot (at->u_independent_db, at0->u_independent_db));
  if (chain) {
    double shares[] = { at->u_independent_db, at0->u_independent_db }, dofs[] = { at->dof_independent, at0->dof_independent };
    chain->estimate_db = at->loss_db;
    chain->dof = at->dof_independent;
    chain->dof_power = at0->dof_independent;
    chain->dof_dbc = sp_effective_dof (2, shares, dofs);
    chain->assumed = at->curve_assumed || at0->curve_assumed;
  }
  add_term (terms, SP_TERM_COMMON, SP_BUDGET_FROM_CHAIN, SP_DISTRIBUTION_NORMAL, at->u_common_db, at0->u_common_db,
            fabs (at->u_common_db - at0->u_common_db));
  SpTerm *temperature = add_term (terms, SP_TERM_TEMPERATURE, SP_BUDGET_FROM_CHAIN, SP_DISTRIBUTION_NORMAL, fabs (at->u_temperature_db),
                                  fabs (at0->u_temperature_db), fabs (at->u_temperature_db - at0->u_temperature_db));
  assume (temperature, at->temperature_stage >= 0 ? of : of0, at->temperature_stage >= 0 ? at->temperature_stage : at0->temperature_stage);
  SpTerm *heating = add_term (terms, SP_TERM_SELF_HEATING, SP_BUDGET_FROM_CHAIN, SP_DISTRIBUTION_ONE_SIDED, at->u_heating_db,
                              at0->u_heating_db, fabs (at->u_heating_db - at0->u_heating_db));
  assume (heating, at0->heating_stage >= 0 ? of0 : of, at0->heating_stage >= 0 ? at0->heating_stage : at->heating_stage);
}

/* The radio's reflection: as stated at f0; elsewhere its output filter reflects nearly everything unless stated. */
static double
radio_reflection (const SpBudgetView *view, gboolean at_fundamental)
{
  double vswr = at_fundamental ? view->radio_vswr : view->radio_harmonic_vswr;
  if (isnan (vswr))
    vswr = at_fundamental ? SP_VSWR_ASSUMED : INFINITY;
  return sp_reflection_from_vswr (vswr);
}

static double
analyzer_reflection (const SpBudgetView *view, double frequency_hz)
{
  return sp_reflection_from_vswr (view->analyzer->vswr ? sp_curve_at (view->analyzer->vswr, frequency_hz, 0).value : SP_VSWR_ASSUMED);
}

static double
root_of_squares (guint n, const double *u_db)
{
  double sum = 0;
  for (guint i = 0; i < n; i++)
    sum += u_db[i] * u_db[i];
  return sqrt (sum);
}

static SpBudgetView
view_of_carrier (const SpBudgetView *view)
{
  SpBudgetView carrier = *view;
  if (view->carrier_chain)
    carrier.chain = view->carrier_chain;
  return carrier;
}

static void
mismatch_terms (GArray *terms, const SpBudgetView *view, double frequency_hz, gboolean at_fundamental, GArray *kept)
{
  SpBudgetView carrier = view_of_carrier (view);
  double f0 = view->fundamental_hz, source = radio_reflection (view, at_fundamental), source0 = radio_reflection (view, TRUE);
  gboolean p = !isnan (f0);
  Pairs pairs;
  pairs.n = sp_chain_source_pairs (view->chain, frequency_hz, view->temperature_c, source, pairs.u_db);
  pairs.n0 = p ? sp_chain_source_pairs (carrier.chain, f0, view->temperature_c, source0, pairs.u0_db) : 0;
  gboolean stages_silent = sp_chain_vswr_assumed (view->chain) || (p && sp_chain_vswr_assumed (carrier.chain));
  SpTerm *term = add_mismatch (terms, SP_TERM_MISMATCH_RADIO, SP_BUDGET_FROM_RADIO, &pairs, root_of_squares (pairs.n, pairs.u_db),
                               root_of_squares (pairs.n0, pairs.u0_db), kept);
  if (term)
    term->assumed = stages_silent || isnan (view->radio_vswr) || (!at_fundamental && isnan (view->radio_harmonic_vswr));
  pairs.n = sp_chain_load_pairs (view->chain, frequency_hz, view->temperature_c, source, analyzer_reflection (view, frequency_hz),
                                 pairs.u_db);
  pairs.n0 = p ? sp_chain_load_pairs (carrier.chain, f0, view->temperature_c, source0, analyzer_reflection (view, f0), pairs.u0_db) : 0;
  term = add_mismatch (terms, SP_TERM_MISMATCH_ANALYZER, SP_BUDGET_FROM_PROFILE, &pairs, root_of_squares (pairs.n, pairs.u_db),
                       root_of_squares (pairs.n0, pairs.u0_db), kept);
  if (term)
    term->assumed = !view->analyzer->vswr || stages_silent;
}

/* The chain's loss, and its inner pairs of reflections if kept. */
static SpChainLoss
loss_at (const SpBudgetView *view, double frequency_hz, gboolean kept, guint *n, double *pair_u_db)
{
  SpStageLoss stages[SP_CHAIN_MAX_STAGES];
  SpChainLoss loss = sp_chain_loss (view->chain, frequency_hz, view->temperature_c, view->average_w, stages);
  *n = kept ? sp_chain_inner_pairs (view->chain, frequency_hz, stages, pair_u_db) : 0;
  return loss;
}

GArray *
sp_budget_terms (const SpBudgetView *view, double frequency_hz, gboolean at_fundamental, GArray *kept)
{
  GArray *terms = g_array_new (FALSE, TRUE, sizeof (SpTerm));
  Pairs inner;
  SpBudgetView carrier = view_of_carrier (view);
  SpChainLoss at = loss_at (view, frequency_hz, kept != NULL, &inner.n, inner.u_db);
  SpChainLoss at0 = { .dof_independent = INFINITY, .temperature_stage = -1, .heating_stage = -1 };
  inner.n0 = 0;
  if (!isnan (view->fundamental_hz)) {
    at0 = loss_at (&carrier, view->fundamental_hz, kept != NULL, &inner.n0, inner.u0_db);
    at.u_heating_db = at0.u_heating_db; /* heated by the carrier's power at f0, so it cancels in dBc */
  }
  analyzer_terms (terms, view, frequency_hz);
  chain_terms (terms, view->chain, carrier.chain, &at, &at0);
  SpTerm *mismatch = add_mismatch (terms, SP_TERM_MISMATCH_INNER, SP_BUDGET_FROM_CHAIN, &inner, at.u_mismatch_db, at0.u_mismatch_db, kept);
  if (mismatch)
    mismatch->assumed = sp_chain_vswr_assumed (view->chain) || sp_chain_vswr_assumed (carrier.chain);
  mismatch_terms (terms, view, frequency_hz, at_fundamental, kept);
  return terms;
}

static SpDistribution
repeats_distribution (const SpBudgetReadings *r)
{
  return r->power_repeat_dof > 0 ? SP_DISTRIBUTION_NORMAL : SP_DISTRIBUTION_RECTANGULAR;
}

void
sp_budget_add_readings (GArray *terms, const SpBudgetReadings *r)
{
  double loss = r->loss_db / sqrt (3), loss0 = r->carrier_loss_db / sqrt (3);
  add_term (terms, SP_TERM_NOISE, SP_BUDGET_FROM_SWEEP, SP_DISTRIBUTION_NORMAL, r->noise_u_db, r->carrier_noise_u_db,
            hypot (r->noise_u_db, r->carrier_noise_u_db));
  SpTerm *sampling = add_term (terms, SP_TERM_SAMPLING, SP_BUDGET_FROM_SWEEP, SP_DISTRIBUTION_ONE_SIDED, loss, loss0, hypot (loss, loss0));
  if (sampling)
    sampling->lifts = TRUE;
  SpTerm *repeats = add_term (terms, SP_TERM_REPEATS, SP_BUDGET_FROM_SWEEP, repeats_distribution (r), 0, r->power_repeat_u_db,
                              r->power_repeat_u_db);
  if (repeats && r->power_repeat_dof > 0)
    repeats->dof_power = repeats->dof_dbc = r->power_repeat_dof;
  double product = r->product_db / M_SQRT2;
  SpTerm *term = add_term (terms, SP_TERM_PRODUCT, r->product_by_step ? SP_BUDGET_FROM_STEP : SP_BUDGET_FROM_PROFILE,
                           SP_DISTRIBUTION_U_SHAPED, product, 0, product);
  if (term)
    term->by_part = TRUE;
}

static void
add_meter (GArray *terms, const SpBudgetView *view, double level, double dbc)
{
  SpTerm *term = add_term (terms, SP_TERM_METER, SP_BUDGET_FROM_METER, SP_DISTRIBUTION_NORMAL, level, view->meter_u_db, dbc);
  if (term)
    term->assumed = view->meter_assumed;
}

GArray *
sp_budget_carrier_terms (const SpBudgetView *view, const SpBudgetReadings *r, GArray *kept)
{
  if (view->meter != SP_METER_NOT_USED) {
    GArray *meter = g_array_new (FALSE, TRUE, sizeof (SpTerm));
    add_meter (meter, view, view->meter_u_db, 0);
    return meter;
  }
  GArray *terms = sp_budget_terms (view, view->fundamental_hz, TRUE, kept);
  add_term (terms, SP_TERM_NOISE, SP_BUDGET_FROM_SWEEP, SP_DISTRIBUTION_NORMAL, r->carrier_noise_u_db, 0, 0);
  SpTerm *repeats = add_term (terms, SP_TERM_REPEATS, SP_BUDGET_FROM_SWEEP, repeats_distribution (r), r->power_repeat_u_db, 0, 0);
  if (repeats && r->power_repeat_dof > 0)
    repeats->dof = r->power_repeat_dof;
  add_term (terms, SP_TERM_SAMPLING, SP_BUDGET_FROM_SWEEP, SP_DISTRIBUTION_ONE_SIDED, r->carrier_loss_db / sqrt (3), 0, 0);
  sp_budget_add_own_switching (terms, view, view->fundamental_hz);
  sp_budget_add_drift (terms, view);
  return terms;
}

void
sp_budget_add_drift (GArray *terms, const SpBudgetView *view)
{
  double u = fabs (view->drift_u_db);
  SpTerm *term = add_term (terms, SP_TERM_CHECK_DRIFT, SP_BUDGET_FROM_CHECK, SP_DISTRIBUTION_ONE_SIDED, u, u, view->sweep_differs ? u : 0);
  if (term)
    term->side = view->drift_u_db > 0 ? -1 : 1; /* a higher later reading means that the analyzer reads too high */
}

static void
add_switch (GArray *terms, SpTermKind kind, const SpWidth *width, gboolean differs, const Absolute *at, const Absolute *at0)
{
  double u = sp_width_u_db (width);
  add_width (terms, kind, width, u * at->switched, u * at0->switched, differs ? u : 0);
}

/* Sweeps with unequal settings do not share their reference: the switching terms count between them. So they do between a check and any sweep. */
void
sp_budget_add_switching (GArray *terms, const SpBudgetView *view, double frequency_hz)
{
  const SpAnalyzer *a = view->analyzer;
  Absolute at = absolute_at (a, frequency_hz), at0 = absolute_of_power (view);
  add_switch (terms, SP_TERM_ATTENUATOR_SWITCH, &a->attenuator_switch, view->attenuation_differs, &at, &at0);
  add_switch (terms, SP_TERM_RBW_SWITCH, &a->rbw_switch, view->rbw_differs, &at, &at0);
}

/* Of a level alone there is no other sweep. */
void
sp_budget_add_own_switching (GArray *terms, const SpBudgetView *view, double frequency_hz)
{
  SpBudgetView alone = *view;
  alone.attenuation_differs = alone.rbw_differs = FALSE;
  sp_budget_add_switching (terms, &alone, frequency_hz);
}

void
sp_budget_put_meter (GArray *terms, const SpBudgetView *view)
{
  if (view->meter == SP_METER_NOT_USED)
    return;
  gboolean shifts = view->meter == SP_METER_SHIFTS;
  for (guint i = 0; i < terms->len; i++) {
    SpTerm *t = &g_array_index (terms, SpTerm, i);
    if (shifts) {
      t->u_level_db = t->u_dbc_db;
      t->dof = t->dof_dbc;
      t->n_level_pairs += t->n_power_pairs; /* a dBc has the reflections of both frequencies */
      t->n_power_pairs = 0;
    } else {
      t->u_dbc_db = t->u_level_db;
      t->dof_dbc = t->dof;
    }
    t->u_power_db = 0;
  }
  add_meter (terms, view, shifts ? view->meter_u_db : 0, shifts ? 0 : view->meter_u_db);
}
