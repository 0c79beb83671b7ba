#include "core/judge/case.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

#define COVERAGE 0.954499736103642 /* erf(sqrt 2): k = 2 for a normal law */

double
sp_coverage_factor (double dof)
{
  return isfinite (dof) ? gsl_cdf_tdist_Pinv (0.5 + COVERAGE / 2, fmax (floor (dof), 1)) : 2;
}

double
sp_student_below (double t, double dof)
{
  return isfinite (dof) ? gsl_cdf_tdist_P (t, dof) : gsl_cdf_ugaussian_P (t);
}

/* What one source does to the level, to P and to their difference. */
static void
add_term (GArray *terms, const char *name, SpDistribution distribution, double level, double power, double dbc, gboolean assumed)
{
  SpTerm term = { name, distribution, level, power, dbc, 0, INFINITY, assumed };
  if (level > 0 || power > 0 || dbc > 0)
    g_array_append_val (terms, term);
}

static SpDistribution
width_distribution (const SpWidth *width)
{
  return width->kind == SP_WIDTH_RECTANGULAR ? SP_DISTRIBUTION_RECTANGULAR : SP_DISTRIBUTION_NORMAL;
}

/* Accuracy is the same at every frequency of a sweep and cancels in dBc; flatness counts for both; scale and repeatability once. */
static void
analyzer_terms (GArray *terms, const SpAnalyzer *a)
{
  double accuracy = sp_width_u_db (&a->accuracy), flatness = sp_width_u_db (&a->flatness);
  double scale = sp_width_u_db (&a->scale), repeatability = sp_width_u_db (&a->repeatability);
  add_term (terms, "accuracy", width_distribution (&a->accuracy), accuracy, accuracy, 0, a->accuracy.assumed);
  add_term (terms, "flatness", width_distribution (&a->flatness), flatness, flatness, flatness * M_SQRT2, a->flatness.assumed);
  add_term (terms, "scale", width_distribution (&a->scale), scale, scale, scale, a->scale.assumed);
  add_term (terms, "repeatability", width_distribution (&a->repeatability), repeatability, repeatability, repeatability, a->repeatability.assumed);
}

static void
chain_terms (GArray *terms, const SpChainLoss *at, const SpChainLoss *at0)
{
  add_term (terms, "chain", SP_DISTRIBUTION_NORMAL, at->u_independent_db, at0->u_independent_db,
            hypot (at->u_independent_db, at0->u_independent_db), FALSE);
  add_term (terms, "common", SP_DISTRIBUTION_NORMAL, at->u_common_db, at0->u_common_db, fabs (at->u_common_db - at0->u_common_db), FALSE);
  add_term (terms, "temperature", SP_DISTRIBUTION_NORMAL, fabs (at->u_temperature_db), fabs (at0->u_temperature_db),
            fabs (at->u_temperature_db - at0->u_temperature_db), FALSE);
  add_term (terms, "self-heating", SP_DISTRIBUTION_ONE_SIDED, at->u_heating_db, at0->u_heating_db, fabs (at->u_heating_db - at0->u_heating_db),
            FALSE);
  add_term (terms, "mismatch-inner", SP_DISTRIBUTION_U_SHAPED, at->u_mismatch_db, at0->u_mismatch_db,
            hypot (at->u_mismatch_db, at0->u_mismatch_db), FALSE);
}

/* The radio's reflection: as stated at f0; at other frequencies its output filter turns nearly all back unless stated. */
static double
radio_reflection (const SpCase *c, gboolean at_fundamental)
{
  double vswr = at_fundamental ? c->bench->radio_vswr : c->bench->radio_harmonic_vswr;
  if (isnan (vswr))
    vswr = at_fundamental ? SP_VSWR_ASSUMED : INFINITY;
  return sp_reflection_from_vswr (vswr);
}

static void
mismatch_at (const SpCase *c, const SpCaseSweep *s, double frequency_hz, gboolean at_fundamental, double *radio, double *analyzer)
{
  double source = radio_reflection (c, at_fundamental), temperature = c->bench->temperature_c;
  double vswr = c->analyzer->vswr ? sp_curve_at (c->analyzer->vswr, frequency_hz, 0).value : SP_VSWR_ASSUMED;
  *radio = sp_chain_source_mismatch_u_db (s->chain, frequency_hz, temperature, source);
  *analyzer = sp_chain_load_mismatch_u_db (s->chain, frequency_hz, temperature, source, sp_reflection_from_vswr (vswr));
}

static void
mismatch_terms (GArray *terms, const SpCase *c, const SpCaseSweep *s, double frequency_hz, double f0, gboolean at_fundamental)
{
  double radio, analyzer, radio0 = 0, analyzer0 = 0;
  gboolean assumed = !c->analyzer->vswr;
  mismatch_at (c, s, frequency_hz, at_fundamental, &radio, &analyzer);
  if (!isnan (f0))
    mismatch_at (c, s, f0, TRUE, &radio0, &analyzer0);
  add_term (terms, "mismatch-radio", SP_DISTRIBUTION_U_SHAPED, radio, radio0, hypot (radio, radio0), FALSE);
  add_term (terms, "mismatch-analyzer", SP_DISTRIBUTION_U_SHAPED, analyzer, analyzer0, hypot (analyzer, analyzer0), assumed);
}

/* Sweeps of unequal settings do not share their reference: the switching terms stand between them. */
static void
switching_terms (GArray *terms, const SpCase *c, const SpCaseSweep *s)
{
  if (c->carrier_sweep < 0 || s == &c->sweeps[c->carrier_sweep])
    return;
  const SpSettings *a = &s->trace->settings, *b = &c->sweeps[c->carrier_sweep].trace->settings;
  if (!(a->attenuation_db == b->attenuation_db))
    add_term (terms, "attenuator-switch", width_distribution (&c->analyzer->attenuator_switch), 0, 0,
              sp_width_u_db (&c->analyzer->attenuator_switch), c->analyzer->attenuator_switch.assumed);
  if (!(a->rbw_hz == b->rbw_hz))
    add_term (terms, "rbw-switch", width_distribution (&c->analyzer->rbw_switch), 0, 0, sp_width_u_db (&c->analyzer->rbw_switch),
              c->analyzer->rbw_switch.assumed);
}

/* Where a meter gives P: anchored levels are the meter's plus a dBc; levels that were not shifted share nothing with it. */
static void
put_meter (GArray *terms, const SpCase *c)
{
  if (!c->out->by_meter)
    return;
  for (guint i = 0; i < terms->len; i++) {
    SpTerm *t = &g_array_index (terms, SpTerm, i);
    if (c->out->anchored)
      t->u_level_db = t->u_dbc_db;
    else
      t->u_dbc_db = t->u_level_db;
    t->u_power_db = 0;
  }
  double u = c->meter_u_db;
  add_term (terms, "meter", SP_DISTRIBUTION_NORMAL, c->out->anchored ? u : 0, u, c->out->anchored ? 0 : u, isnan (c->condition->meter_u_db));
}

/* Welch-Satterthwaite (JCGM 100, G.4.1) over one column of the terms; dof truncated to a whole number (G.4.2). */
static void
sum_column (const GArray *terms, gsize column, double *u, double *k, double *dof, double *expanded)
{
  double squares = 0, fourths = 0;
  for (guint i = 0; i < terms->len; i++) {
    const SpTerm *t = &g_array_index (terms, SpTerm, i);
    double v = *(const double *) ((const char *) t + column);
    squares += v * v;
    if (isfinite (t->dof))
      fourths += v * v * v * v / t->dof;
  }
  *u = sqrt (squares);
  *dof = fourths > 0 ? fmax (1, floor (squares * squares / fourths)) : INFINITY;
  *k = sp_coverage_factor (*dof);
  *expanded = *k * *u;
}

static void
finish (GArray *terms, double slope, SpBudget *out)
{
  for (guint i = 0; i < terms->len; i++) {
    SpTerm *t = &g_array_index (terms, SpTerm, i);
    double l = t->u_level_db * t->u_level_db, p = t->u_power_db * t->u_power_db, d = t->u_dbc_db * t->u_dbc_db;
    /* u^2(level) + k^2 u^2(P) - 2 k cov, with cov = (l + p - d)/2 */
    t->u_margin_db = sqrt (fmax (0, (1 - slope) * l + slope * (slope - 1) * p + slope * d));
  }
  sum_column (terms, G_STRUCT_OFFSET (SpTerm, u_level_db), &out->u_level_db, &out->k_level, &out->dof_level, &out->expanded_level_db);
  sum_column (terms, G_STRUCT_OFFSET (SpTerm, u_power_db), &out->u_power_db, &out->k_power, &out->dof_power, &out->expanded_power_db);
  sum_column (terms, G_STRUCT_OFFSET (SpTerm, u_dbc_db), &out->u_dbc_db, &out->k_dbc, &out->dof_dbc, &out->expanded_dbc_db);
  sum_column (terms, G_STRUCT_OFFSET (SpTerm, u_margin_db), &out->u_margin_db, &out->k_margin, &out->dof_margin, &out->expanded_margin_db);
  out->n = terms->len;
  out->terms = (SpTerm *) g_array_steal (terms, NULL);
}

static SpChainLoss
loss_at (const SpCase *c, const SpCaseSweep *s, double frequency_hz)
{
  double power = isnan (c->out->power_dbm) ? 0 : sp_watt_from_dbm (c->out->power_dbm) * c->condition->duty;
  return sp_chain_loss (s->chain, frequency_hz, c->bench->temperature_c, power, NULL);
}

static GArray *
terms_at (const SpCase *c, const SpCaseSweep *s, double frequency_hz, gboolean at_fundamental)
{
  GArray *terms = g_array_new (FALSE, TRUE, sizeof (SpTerm));
  double f0 = c->out->has_fundamental ? c->out->fundamental_hz : NAN;
  SpChainLoss at = loss_at (c, s, frequency_hz), at0 = { 0 };
  if (!isnan (f0)) {
    at0 = loss_at (c, s, f0);
    at.u_heating_db = at0.u_heating_db; /* the carrier's power at f0 heats, whatever is looked at: it cancels in dBc */
  }
  analyzer_terms (terms, c->analyzer);
  chain_terms (terms, &at, &at0);
  mismatch_terms (terms, c, s, frequency_hz, f0, at_fundamental);
  return terms;
}

static double
carrier_noise (const SpCase *c)
{
  return c->carrier_sweep < 0 ? 0 : c->sweeps[c->carrier_sweep].carrier_noise_u_db;
}

void
sp_case_budget (const SpCase *c, SpEmission *e)
{
  if (!e->swept) {
    SpBudget *b = &e->budget;
    b->u_level_db = b->k_level = b->dof_level = b->expanded_level_db = NAN;
    b->u_power_db = b->k_power = b->dof_power = b->expanded_power_db = NAN;
    b->u_dbc_db = b->k_dbc = b->dof_dbc = b->expanded_dbc_db = NAN;
    b->u_margin_db = b->k_margin = b->dof_margin = b->expanded_margin_db = NAN;
    return;
  }
  const SpCaseSweep *s = &c->sweeps[e->case_sweep];
  GArray *terms = terms_at (c, s, e->frequency_hz, FALSE);
  double noise = e->detected ? e->noise_u_db : 0, loss = e->detected ? e->sampling_loss_db / sqrt (3) : 0;
  double loss0 = c->carrier_sweep < 0 ? 0 : c->sweeps[c->carrier_sweep].carrier_loss_db / sqrt (3);
  add_term (terms, "noise", SP_DISTRIBUTION_NORMAL, noise, carrier_noise (c), hypot (noise, carrier_noise (c)), FALSE);
  add_term (terms, "sampling", SP_DISTRIBUTION_ONE_SIDED, loss, loss0, hypot (loss, loss0), FALSE);
  switching_terms (terms, c, s);
  put_meter (terms, c);
  finish (terms, e->limit_slope, &e->budget);
  g_array_unref (terms);
}

void
sp_case_power_budget (SpCase *c)
{
  SpConditionFindings *out = c->out;
  out->power_u_db = out->power_k = out->power_dof = out->power_expanded_db = NAN;
  if (isnan (out->power_dbm))
    return;
  if (out->by_meter) {
    out->power_u_db = c->meter_u_db;
    out->power_dof = INFINITY;
    out->power_k = 2;
    out->power_expanded_db = 2 * c->meter_u_db;
    return;
  }
  const SpCaseSweep *s = &c->sweeps[c->carrier_sweep];
  GArray *terms = terms_at (c, s, out->fundamental_hz, TRUE);
  add_term (terms, "noise", SP_DISTRIBUTION_NORMAL, s->carrier_noise_u_db, 0, 0, FALSE);
  add_term (terms, "sampling", SP_DISTRIBUTION_ONE_SIDED, s->carrier_loss_db / sqrt (3), 0, 0, FALSE);
  sum_column (terms, G_STRUCT_OFFSET (SpTerm, u_level_db), &out->power_u_db, &out->power_k, &out->power_dof, &out->power_expanded_db);
  g_array_unref (terms);
}

double
sp_case_level_u (const SpCase *c, const SpCaseSweep *s, double frequency_hz)
{
  gboolean at_fundamental = fabs (frequency_hz - c->out->fundamental_hz) <= c->out->necessary_bandwidth_hz;
  GArray *terms = terms_at (c, s, frequency_hz, at_fundamental);
  put_meter (terms, c);
  double u, k, dof, expanded;
  sum_column (terms, G_STRUCT_OFFSET (SpTerm, u_level_db), &u, &k, &dof, &expanded);
  g_array_unref (terms);
  return u;
}

double
sp_findings_level_u (const SpFindings *findings, guint condition, double frequency_hz)
{
  const SpBench *bench = findings->bench;
  SpConditionFindings *out = &findings->conditions[condition];
  const SpCondition *value = &bench->conditions[out->condition];
  SpCase c = { .bench = bench, .condition = value, .analyzer = sp_condition_analyzer (bench, value), .out = out };
  SpCaseSweep s = { .chain = sp_condition_chain (bench, value) };
  c.meter_u_db = out->by_meter ? out->power_u_db : NAN;
  return sp_case_level_u (&c, &s, frequency_hz);
}
