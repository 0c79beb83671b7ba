/* chain-loss.c - loss of a stage and of the chain, with its uncertainty */
#include "core/chain/chain-private.h"

#include <math.h>

#include "core/quantity/coverage.h"
#include "core/quantity/units.h"

static double
square (double x)
{
  return x * x;
}

double
sp_stage_temperature_factor (const SpChain *chain, const SpStage *stage, double temperature_c, double *dt_k)
{
  double dt = temperature_c - (isnan (stage->temperature_c) ? chain->temperature_c : stage->temperature_c);
  *dt_k = isnan (dt) ? 0 : dt;
  return isnan (stage->temperature_coefficient) ? 1 : 1 + stage->temperature_coefficient * *dt_k;
}

static double
temperature_u (const SpStage *stage)
{
  if (!isnan (stage->temperature_coefficient_u))
    return stage->temperature_coefficient_u;
  return isnan (stage->temperature_coefficient) ? SP_ALPHA_U_ASSUMED : 0;
}

/* Loss as measured or labelled, at its calibration temperature, with u; tells whether f is inside the calibrated range. */
static SpCurveAt
nominal_loss (const SpStage *stage, double frequency_hz)
{
  double u_default = isnan (stage->u_db) ? SP_POINT_U_ASSUMED_DB : stage->u_db;
  if (stage->loss)
    return sp_curve_at (stage->loss, frequency_hz, u_default);
  gboolean toleranced = !isnan (stage->label_db) && !isnan (stage->label_tolerance_db);
  SpCurveAt at = { isnan (stage->label_db) ? 0 : stage->label_db, toleranced ? stage->label_tolerance_db / sqrt (3) : u_default, FALSE };
  /* comparisons with the NaN of a missing span are false */
  at.inside = toleranced && frequency_hz > 0 && frequency_hz >= stage->span_low_hz && frequency_hz <= stage->span_high_hz;
  return at;
}

/* The two points of a curve about f; one if f is a point or outside. */
static void
points_about (const SpCurve *curve, double frequency_hz, guint *from, guint *to)
{
  guint above = 0;
  while (above < curve->n && curve->frequency_hz[above] < frequency_hz)
    above++;
  *to = MIN (above, curve->n - 1);
  *from = above > 0 && curve->frequency_hz[*to] != frequency_hz ? above - 1 : *to;
}

/* TRUE if the u of nominal_loss() is SP_POINT_U_ASSUMED_DB. */
static gboolean
curve_assumed (const SpStage *stage, double frequency_hz)
{
  if (!isnan (stage->u_db))
    return FALSE;
  if (!stage->loss)
    return isnan (stage->label_db) || isnan (stage->label_tolerance_db);
  guint from, to;
  points_about (stage->loss, frequency_hz, &from, &to);
  return isnan (stage->loss->u[from]) || isnan (stage->loss->u[to]);
}

static double
fourth (double u, double dof)
{
  return isfinite (dof) ? square (square (u)) / dof : 0;
}

/* The greater u^4/dof of the two points about f, for the stage's dof; 0: none known. */
static double
fourths_at (const SpStage *stage, double frequency_hz)
{
  const SpCurve *curve = stage->loss;
  if (!curve || !stage->loss_dof)
    return 0;
  guint from, to;
  points_about (curve, frequency_hz, &from, &to);
  return fmax (fourth (curve->u[from], stage->loss_dof[from]), fourth (curve->u[to], stage->loss_dof[to]));
}

static void
add_heating (const SpStage *stage, double power_w, SpStageLoss *out)
{
  if (!(power_w > 0))
    return;
  if (isnan (stage->power_coefficient)) {
    out->u_heating_db = fabs (out->loss_db) * sp_stage_power_coefficient_assumed (stage) * power_w / sqrt (3);
    out->heating_assumed = out->u_heating_db > 0;
  } else
    out->loss_db += out->loss_db * stage->power_coefficient * power_w;
}

SpStageLoss
sp_stage_loss (const SpChain *chain, guint index, double frequency_hz, double temperature_c, double power_w)
{
  SpStageLoss out = { NAN };
  g_return_val_if_fail (index < chain->n, out);
  const SpStage *stage = chain->stages[index];
  SpCurveAt at = nominal_loss (stage, frequency_hz);
  double dt_k, factor = sp_stage_temperature_factor (chain, stage, temperature_c, &dt_k);

  out.loss_db = at.value * factor;
  out.u_temperature_db = at.value * temperature_u (stage) * dt_k;
  out.temperature_assumed = isnan (stage->temperature_coefficient) && isnan (stage->temperature_coefficient_u) && out.u_temperature_db != 0;
  out.curve_assumed = curve_assumed (stage, frequency_hz);
  out.u_common_db = fmin (stage->common_u_db, at.u); /* a part of u cannot exceed it */
  out.u_curve_db = sqrt (fmax (0, square (at.u) - square (out.u_common_db)));
  double fourths = fourths_at (stage, frequency_hz);
  out.dof = out.u_curve_db > 0 ? sp_dof_from_fourths (square (square (out.u_curve_db)), fourths) : INFINITY;
  out.u_connector_db = stage->connector_u_db;
  out.calibrated = at.inside;
  out.from_label = !stage->loss;
  add_heating (stage, power_w, &out);
  out.u_db = sqrt (square (out.u_curve_db) + square (out.u_common_db) + square (out.u_connector_db) + square (out.u_temperature_db)
                   + square (out.u_heating_db));
  return out;
}

/* -- reflections -- */

gboolean
sp_chain_is_joined (const SpChain *chain, guint i)
{
  return i + 1 < chain->n && chain->stages[i]->two_port && chain->stages[i + 1]->two_port;
}

double
sp_chain_interaction_db (const SpChain *chain, double frequency_hz)
{
  double interaction_db = 0;
  complex double run[4]; /* the cascade so far: the next stage sees its S22 */
  for (guint i = 0; i + 1 < chain->n; i++) {
    if (!sp_chain_is_joined (chain, i))
      continue;
    complex double next[4];
    if (i == 0 || !sp_chain_is_joined (chain, i - 1))
      sp_two_port_at (chain->stages[i]->two_port, frequency_hz, run, NULL);
    sp_two_port_at (chain->stages[i + 1]->two_port, frequency_hz, next, NULL);
    complex double loop = 1 - run[SP_S22] * next[SP_S11];
    interaction_db += 10 * log10 (creal (loop) * creal (loop) + cimag (loop) * cimag (loop));
    complex double joined[4];
    sp_two_port_cascade (run, next, joined);
    for (int k = 0; k < 4; k++)
      run[k] = joined[k];
  }
  return interaction_db;
}

/* |Gi||Gj| and the path between them, both ways, as a standard uncertainty. */
static double
pair_u (double gi, double gj, double between_db)
{
  return sp_mismatch_u_db (gi * gj * pow (10, -between_db / 10));
}

static double
root_of_squares (guint n, const double *u_db)
{
  double sum = 0;
  for (guint i = 0; i < n; i++)
    sum += square (u_db[i]);
  return sqrt (sum);
}

guint
sp_chain_inner_pairs (const SpChain *chain, double frequency_hz, const SpStageLoss *stages, double *u_db)
{
  double input[SP_CHAIN_MAX_STAGES];
  guint n = 0;
  for (guint j = 1; j < chain->n; j++)
    input[j] = sp_stage_reflection (chain->stages[j], frequency_hz, FALSE);
  for (guint i = 0; i + 1 < chain->n; i++) {
    double output = sp_stage_reflection (chain->stages[i], frequency_hz, TRUE), between_db = 0;
    gboolean exact = TRUE;
    for (guint j = i + 1; j < chain->n; j++) {
      exact = exact && sp_chain_is_joined (chain, j - 1);
      if (!exact)
        u_db[n++] = pair_u (output, input[j], between_db);
      between_db += stages[j].loss_db;
    }
  }
  return n;
}

guint
sp_chain_source_pairs (const SpChain *chain, double frequency_hz, double temperature_c, double source_g, double *u_db)
{
  double before_db = 0;
  for (guint j = 0; j < chain->n; j++) {
    u_db[j] = pair_u (source_g, sp_stage_reflection (chain->stages[j], frequency_hz, FALSE), before_db);
    before_db += sp_stage_loss (chain, j, frequency_hz, temperature_c, 0).loss_db;
  }
  return chain->n;
}

guint
sp_chain_load_pairs (const SpChain *chain, double frequency_hz, double temperature_c, double source_g, double load_g, double *u_db)
{
  double behind_db = 0;
  guint n = 0;
  for (guint i = chain->n; i-- > 0;) {
    u_db[n++] = pair_u (load_g, sp_stage_reflection (chain->stages[i], frequency_hz, TRUE), behind_db);
    behind_db += sp_stage_loss (chain, i, frequency_hz, temperature_c, 0).loss_db;
  }
  u_db[n++] = pair_u (load_g, source_g, behind_db);
  return n;
}

double
sp_chain_source_mismatch_u_db (const SpChain *chain, double frequency_hz, double temperature_c, double source_g)
{
  double pairs[SP_CHAIN_MAX_PAIRS];
  return root_of_squares (sp_chain_source_pairs (chain, frequency_hz, temperature_c, source_g, pairs), pairs);
}

double
sp_chain_load_mismatch_u_db (const SpChain *chain, double frequency_hz, double temperature_c, double source_g, double load_g)
{
  double pairs[SP_CHAIN_MAX_PAIRS];
  return root_of_squares (sp_chain_load_pairs (chain, frequency_hz, temperature_c, source_g, load_g, pairs), pairs);
}

/* -- the whole chain -- */

/* TRUE if this stage's assumed part is the greatest so far. */
static void
keep_greatest (gboolean assumed, double u_db, guint index, double *most_db, int *stage)
{
  if (!assumed || !(fabs (u_db) > *most_db))
    return;
  *most_db = fabs (u_db);
  *stage = (int) index;
}

SpChainLoss
sp_chain_loss (const SpChain *chain, double frequency_hz, double temperature_c, double power_w, SpStageLoss *stages)
{
  SpChainLoss out = { .calibrated = TRUE, .uncalibrated_stage = -1, .temperature_stage = -1, .heating_stage = -1 };
  SpStageLoss each_alone[SP_CHAIN_MAX_STAGES], *each = stages ? stages : each_alone;
  double pairs[SP_CHAIN_MAX_PAIRS], independent = 0, fourths = 0, temperature = 0, heating = 0, most_temperature = 0, most_heating = 0;
  for (guint i = 0; i < chain->n; i++) {
    SpStageLoss stage = sp_stage_loss (chain, i, frequency_hz, temperature_c, power_w);
    out.loss_db += stage.loss_db;
    out.u_common_db += stage.u_common_db;
    independent += square (stage.u_curve_db) + square (stage.u_connector_db);
    fourths += fourth (stage.u_curve_db, stage.dof);
    temperature += square (stage.u_temperature_db);
    heating += square (stage.u_heating_db);
    out.curve_assumed |= stage.curve_assumed;
    keep_greatest (stage.temperature_assumed, stage.u_temperature_db, i, &most_temperature, &out.temperature_stage);
    keep_greatest (stage.heating_assumed, stage.u_heating_db, i, &most_heating, &out.heating_stage);
    if (!stage.calibrated && out.calibrated) {
      out.calibrated = FALSE;
      out.uncalibrated_stage = (int) i;
    }
    power_w *= pow (10, -stage.loss_db / 10);
    each[i] = stage;
  }
  out.interaction_db = sp_chain_interaction_db (chain, frequency_hz);
  out.loss_db += out.interaction_db;
  out.u_independent_db = sqrt (independent);
  out.dof_independent = sp_dof_from_fourths (square (independent), fourths);
  out.u_temperature_db = sqrt (temperature);
  out.u_heating_db = sqrt (heating);
  out.u_mismatch_db = root_of_squares (sp_chain_inner_pairs (chain, frequency_hz, each, pairs), pairs);
  out.u_db = sqrt (independent + temperature + heating + square (out.u_common_db) + square (out.u_mismatch_db));
  return out;
}
