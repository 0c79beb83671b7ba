/* plan-line.c - the part of a plan that does not depend on the setting */
#include "core/plan/plan-private.h"

#include <math.h>

#include "core/headroom/headroom.h"
#include "core/quantity/units.h"

static double
correction_db (const SpPlan *plan, double frequency_hz)
{
  const SpCurve *curve = plan->task.analyzer->amplitude_correction_db;
  return curve ? sp_curve_at (curve, frequency_hz, 0).value : 0;
}

/* U of the margin of an unseen emission: without a noise term, since L_D includes the noise. For one sweep, or for two with unequal
 * settings. */
static double
margin_expanded_db (const SpPlan *plan, double frequency_hz, double slope, gboolean unequal)
{
  const SpTask *task = &plan->task;
  SpBudgetView view = { .chain = task->chain,
                        .analyzer = task->analyzer,
                        .temperature_c = task->temperature_c,
                        .average_w = task->power_w * task->duty,
                        .radio_vswr = task->radio_vswr,
                        .radio_harmonic_vswr = task->radio_harmonic_vswr,
                        .fundamental_hz = task->fundamental_hz,
                        .attenuation_differs = unequal,
                        .rbw_differs = unequal,
                        .sweep_differs = unequal,
                        .drift_u_db = task->drift_u_db };
  SpBudgetReadings readings = { 0 };
  SpBudget budget;
  sp_budget (&view, frequency_hz, &readings, slope, &budget);
  g_free (budget.terms);
  return budget.expanded_margin_db;
}

static void
make_place (const SpPlan *plan, SpPlanLine *p, guint order, double frequency_hz)
{
  const SpTask *task = &plan->task;
  const SpAnalyzer *a = task->analyzer;
  gboolean held;
  p->order = order;
  p->shown_dbm = NAN;
  p->frequency_hz = frequency_hz;
  p->limit = sp_mask_limit_with_u (task->mask, task->fundamental_hz, task->power_w, task->power_expanded_db, task->necessary_bandwidth_hz,
                                   NAN, frequency_hz, NULL);
  SpChainLoss loss = sp_chain_loss (task->chain, frequency_hz, task->temperature_c, 0, NULL);
  p->loss_db = loss.loss_db + plan->warm_db;
  p->to_socket_db = p->loss_db + correction_db (plan, frequency_hz);
  p->calibrated = loss.calibrated && (plan->carrier_calibrated || p->limit.slope == 0);
  p->reference_hz = p->limit.rule ? p->limit.rule->reference_bandwidth_hz : NAN;
  p->width_hz = fmax (task->signal_hz * (task->signal_folds ? MAX (order, 1) : 1), isnan (p->reference_hz) ? 0 : p->reference_hz);
  p->density_dbm_hz = sp_analyzer_noise_dbm (a, frequency_hz, 1, 0) - sp_db_from_ratio (sp_filter_nbw_ratio (a->filter));
  double phase = sp_analyzer_phase_noise (a, frequency_hz - task->fundamental_hz, &held);
  p->phase_dbc_hz = isnan (phase) ? -INFINITY : phase;
  p->profile_density_dbm_hz = p->density_dbm_hz;
  p->profile_phase_dbc_hz = p->phase_dbc_hz;
  gboolean known = order >= 2 && order <= SP_MAX_ORDER && a->intercept_dbm[order];
  p->intercept_dbm = known ? sp_curve_at (a->intercept_dbm[order], task->fundamental_hz, 0).value : NAN;
  p->expanded_db = p->profile_expanded_db = margin_expanded_db (plan, frequency_hz, p->limit.slope, FALSE);
  p->notched_expanded_db = p->profile_notched_expanded_db = margin_expanded_db (plan, frequency_hz, p->limit.slope, TRUE);
}

SpPlanLine
sp_plan_line_at (const SpPlan *plan, double frequency_hz)
{
  SpPlanLine place = { 0 };
  make_place (plan, &place, 0, frequency_hz);
  return place;
}

SpPlanLine *
sp_plan_line (SpPlan *plan, guint order, double frequency_hz)
{
  order = order <= plan->harmonics ? order : 0;
  SpPlanLine *p = &plan->places[order];
  if (order < 2) {
    p = &plan->places[0];
    if (p->frequency_hz != frequency_hz)
      make_place (plan, p, 0, frequency_hz);
  }
  return p;
}

void
sp_plan_measured_mixer (SpPlan *plan, const SpSetting *today, double mixer_dbm, double mixer_u_db)
{
  double moved_db = mixer_dbm - sp_plan_mixer_dbm (plan, today);
  if (isnan (moved_db) || isnan (mixer_u_db))
    return;
  plan->carrier_to_socket_db -= moved_db;
  plan->mixer_u_db = mixer_u_db;
}

void
sp_plan_measured_u (SpPlan *plan, guint order, double frequency_hz, double expanded_db)
{
  SpPlanLine *p = sp_plan_line (plan, order, frequency_hz);
  p->expanded_db = isnan (expanded_db) ? p->profile_expanded_db : expanded_db;
  p->notched_expanded_db = isnan (expanded_db) ? p->profile_notched_expanded_db : fmax (expanded_db, p->profile_notched_expanded_db);
}

void
sp_plan_measured_product (SpPlan *plan, guint order, double frequency_hz, const SpSetting *today, guint product_order,
                          double product_high_dbm)
{
  SpPlanLine *p = sp_plan_line (plan, order, frequency_hz);
  p->shown_order = product_order;
  p->shown_dbm = product_high_dbm - product_order * sp_plan_mixer_dbm (plan, today) - today->attenuation_db - today->pad_db
                 - today->notch_loss_db;
}

/* Splits the measured noise into the profile's phase noise, as far as it fits, and the analyzer's noise, at least a hundredth of the
 * total. */
void
sp_plan_measured (SpPlan *plan, guint order, double frequency_hz, const SpSetting *today, double noise_dbm)
{
  SpPlanLine *p = sp_plan_line (plan, order, frequency_hz);
  p->density_dbm_hz = p->profile_density_dbm_hz;
  p->phase_dbc_hz = p->profile_phase_dbc_hz;
  double nbw_db = sp_db_from_ratio (sp_plan_nbw_hz (plan, today)), way = sp_plan_input_to_socket_db (today, p);
  double carrier = sp_plan_mixer_dbm (plan, today), density = noise_dbm - way - nbw_db;
  if (isnan (density) || isnan (carrier))
    return;
  double phase = p->phase_dbc_hz + carrier; /* per hertz, at the mixer like the density */
  double excess = fmax (0, phase - density);
  p->phase_dbc_hz -= excess;
  double rest = 1 - sp_ratio_from_db (phase - excess - density);
  /* A hundredth at the least: phase noise hides the rest (common practice, no source). */
  p->density_dbm_hz = density + sp_db_from_ratio (fmax (0.01, rest));
}

static void
find_stage_loads (SpPlan *plan)
{
  const SpTask *task = &plan->task;
  SpHeadroom *headroom = sp_headroom (task->chain, task->analyzer, task->power_w, task->fundamental_hz, task->temperature_c, task->duty,
                                      NAN);
  for (guint i = 0; i < headroom->n_nodes; i++) {
    const SpNode *node = &headroom->nodes[i];
    if (node->stage >= 0 && node->headroom_db < 0)
      plan->stage_unsafe = TRUE;
    if (node->stage >= 0 && node->power_w / node->rating_w > plan->heat)
      plan->heat = node->power_w / node->rating_w;
    if (node->stage < 0)
      plan->input_dbm = node->level_dbm;
  }
  if (headroom->notch_return_loss_db < SP_RETURN_LOSS_LEAST_DB)
    plan->stage_unsafe = TRUE;
  sp_headroom_free (headroom);
}

/* The pad must be rated for the power that the analyzer gets now. */
static void
take_pads (SpPlan *plan)
{
  double average_w = sp_watt_from_dbm (plan->input_dbm) * plan->task.duty;
  plan->pads = g_new (SpPad, plan->task.n_pads + 1);
  guint n = 0;
  for (guint i = 0; i < plan->task.n_pads; i++)
    if (plan->task.pads[i].rating_w > average_w)
      plan->pads[n++] = plan->task.pads[i];
  plan->task.n_pads = n;
  plan->task.pads = plan->pads;
}

SpPlan *
sp_plan_new (const SpTask *task)
{
  SpPlan *plan = g_new0 (SpPlan, 1);
  plan->task = *task;
  sp_chain_ref ((SpChain *) task->chain);
  sp_analyzer_ref ((SpAnalyzer *) task->analyzer);
  sp_mask_ref ((SpMask *) task->mask);
  plan->power_dbm = sp_dbm_from_watt (task->power_w);
  SpChainLoss loss = sp_chain_loss (task->chain, task->fundamental_hz, task->temperature_c, task->power_w * task->duty, NULL);
  plan->carrier_u_db = loss.u_db;
  plan->warm_db = loss.loss_db - sp_chain_loss (task->chain, task->fundamental_hz, task->temperature_c, 0, NULL).loss_db;
  plan->carrier_calibrated = loss.calibrated;
  plan->carrier_to_socket_db = loss.loss_db + correction_db (plan, task->fundamental_hz);
  plan->mixer_u_db = sp_predict_mixer_u_db (task->analyzer);
  plan->harmonics = CLAMP (task->mask->harmonics, 2, SP_MAX_ORDER);
  find_stage_loads (plan);
  take_pads (plan);
  plan->places[0].frequency_hz = NAN;
  for (guint order = 2; order <= plan->harmonics; order++)
    make_place (plan, &plan->places[order], order, order * task->fundamental_hz);
  return plan;
}

void
sp_plan_free (SpPlan *plan)
{
  if (!plan)
    return;
  sp_chain_unref ((SpChain *) plan->task.chain);
  sp_analyzer_unref ((SpAnalyzer *) plan->task.analyzer);
  sp_mask_unref ((SpMask *) plan->task.mask);
  g_free (plan->pads);
  g_free (plan);
}

guint
sp_plan_harmonics (const SpPlan *plan)
{
  return plan->harmonics;
}
