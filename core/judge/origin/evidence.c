/* evidence.c - evidence from the steps and the unkeyed sweep on an emission */
#include "core/judge/origin/origin.h"
#include "core/judge/origin/step.h"
#include "core/judge/sweep/sweep.h"

#include <gsl/gsl_cdf.h>
#include <math.h>
#include <string.h>

/* Highest analyzer product considered, over q_high (core/docs/computation.md, section 10) */
#define Q_RESERVE_DB 10.0
#define CONTRADICTS_P 0.999 /* once in a thousand by chance (common practice, no source) */
/* Higher ends than the fit's count only from here on: no step would be taken for less (common practice, no source) */
#define HIGHER_DB 0.5
#define AMBIENT_DB 3.0 /* levels within this can be the same signal (core/docs/computation.md, section 10) */

/* Additional loss before the mixer relative to reading 0, at f and at f0. At the socket the product of order n moves by at_f - n
 * at_f0: less carrier at the mixer lowers it, more loss at f raises it. Order 0: a residual, independent of the signal. */
static void
attenuation_over (const SpJudging *c, const SpJudgedSweep *first, const SpJudgedSweep *s, double frequency_hz, double *at_f, double *at_f0)
{
  double temperature = c->bench->temperature_c, f0 = c->out->fundamental_hz;
  *at_f = *at_f0 = s->attenuation_db - first->attenuation_db;
  if (s->chain == first->chain)
    return;
  *at_f0 += sp_chain_loss (s->chain, f0, temperature, 0, NULL).loss_db - sp_chain_loss (first->chain, f0, temperature, 0, NULL).loss_db;
  *at_f += sp_chain_loss (s->chain, frequency_hz, temperature, 0, NULL).loss_db
           - sp_chain_loss (first->chain, frequency_hz, temperature, 0, NULL).loss_db;
}

/* Possible orders of a product: a harmonic's own order; several for another spur; 0 for a residual. */
static guint
possible_orders (const SpEmission *e, guint *orders)
{
  static const guint unknown[] = { 0, 2, 3, 4, 5 };
  if (e->order) {
    orders[0] = e->order;
    return 1;
  }
  memcpy (orders, unknown, sizeof unknown);
  return G_N_ELEMENTS (unknown);
}

typedef struct {
  guint n, n_orders, orders[SP_STEP_MOST_ORDERS];
  gboolean tells; /* another reading shifts enough, and is seen or should have been */
  SpStepReading readings[SP_STEP_MOST_READINGS];
  SpEvidencePoint points[SP_STEP_MOST_READINGS];
} Gathered;

/* TRUE for equal filter, detector and frequencies, whatever the attenuation. */
static gboolean
reads_alike (const SpJudgedSweep *a, const SpJudgedSweep *b)
{
  const SpSettings *x = &a->trace->settings, *y = &b->trace->settings;
  return x->rbw_hz == y->rbw_hz && x->detector == y->detector && x->average == y->average && x->hold == y->hold
         && a->trace->n == b->trace->n && a->trace->frequency_hz[0] == b->trace->frequency_hz[0] && a->spacing_hz == b->spacing_hz;
}

static void
add_reading (const SpJudging *c, const SpJudgedSweep *s, const SpJudgedSweep *first, const SpEmission *e, Gathered *g)
{
  if (!sp_judging_could_see (c, s, e))
    return;
  SpDetection detection = sp_judging_detect_emission (c, s, e);
  SpStepReading *r = &g->readings[g->n];
  /* If the carrier changed, the radio's power may have changed. Both parts then move by the same dB, the product by up to order times
   * that. */
  double moved = s->use.carrier_moved_db * MAX (1, g->orders[g->n_orders - 1]) / sqrt (3);
  double u = hypot (sp_judging_differential_u_db (c, first, s, e->frequency_hz), moved);
  if (s == first) { /* the emission's level is already known */
    detection.detected = TRUE;
    detection.level_dbm = e->level_dbm;
    detection.noise_u_db = e->noise_u_db;
    detection.loss_db = e->sampling_loss_db;
  }
  if (!isfinite (detection.loss_db) || detection.loss_db > SP_BLIND_LOSS_DB || !isfinite (detection.noise_u_db))
    return;
  double at_f, at_f0, most = 0;
  attenuation_over (c, first, s, e->frequency_hz, &at_f, &at_f0);
  for (guint i = 0; i < g->n_orders; i++) {
    r->product_shift_db[i] = at_f - g->orders[i] * at_f0;
    most = fmax (most, fabs (r->product_shift_db[i]));
  }
  double loss = reads_alike (first, s) ? 0 : detection.loss_db; /* a loss common to both readings makes no difference */
  r->seen = detection.detected;
  r->level_dbm = detection.detected ? detection.level_dbm : detection.threshold_dbm + detection.loss_db / 2;
  r->u_db = detection.detected ? hypot (hypot (u, detection.noise_u_db), loss / sqrt (3))
                               : hypot (u, (detection.detection_limit_dbm - r->level_dbm) / 2);
  g->points[g->n] = (SpEvidencePoint){
    .sweep = s->out->sweep, .seen = r->seen, .level_dbm = r->level_dbm, .u_db = r->u_db, .attenuation_db = at_f0
  };
  g->tells |= most >= SP_STEP_TELLS_DB && (r->seen || detection.detection_limit_dbm < e->level_dbm);
  g->n++;
}

/* Reading 0 is the emission's own sweep; every other keyed, notched or step sweep that covers the frequency follows. */
static void
gather (const SpJudging *c, const SpEmission *e, Gathered *g)
{
  const SpJudgedSweep *first = &c->sweeps[e->corrected];
  g->n_orders = possible_orders (e, g->orders);
  if (e->summed && isnan (first->band.noise_error_db)) /* found from the noise under the readings: no other sweep can show it that way */
    return;
  add_reading (c, first, first, e, g);
  for (guint k = 0; k < c->n_all && !first->use.not_usable && g->n > 0 && g->n < SP_STEP_MOST_READINGS; k++) {
    const SpJudgedSweep *s = &c->sweeps[k];
    double apart = s->attenuation_db - first->attenuation_db;
    if (s != first && s->purpose != SP_PURPOSE_UNKEYED && !s->use.not_usable && !isnan (apart) && sp_judging_holds (s, e->frequency_hz))
      add_reading (c, s, first, e, g);
  }
}

/* Chi-square that n readings exceed once in a thousand. */
static double
unlikely (guint n)
{
  return gsl_cdf_chisq_Pinv (CONTRADICTS_P, n - 1);
}

static void
take_fit (SpEvidence *out, const Gathered *g, const SpStepFit *fit)
{
  out->n = g->n;
  out->points = g_memdup2 (g->points, g->n * sizeof *g->points);
  out->order = g->orders[fit->order];
  out->radio_low_dbm = fit->radio.low;
  out->radio_dbm = fit->radio.middle;
  out->radio_high_dbm = fit->radio.high;
  out->analyzer_low_dbm = fit->analyzer.low;
  out->analyzer_dbm = fit->analyzer.middle;
  out->analyzer_high_dbm = fit->analyzer.high;
  out->p_radio = fit->p_radio;
  out->p_analyzer = fit->p_analyzer;
  out->misfit = fit->chi_square / (g->n - 1);
  out->contradicts = fit->chi_square > unlikely (g->n);
  for (guint k = 0; k < g->n; k++) {
    SpEvidencePoint *p = &out->points[k];
    p->product_shift_db = g->readings[k].product_shift_db[fit->order];
    p->fit_low_dbm = fit->fit[k].low;
    p->fit_dbm = fit->fit[k].middle;
    p->fit_high_dbm = fit->fit[k].high;
  }
}

/* If the readings are far below the profile's prediction, two parts may nearly cancel. One step cannot exclude that: at a ratio of 1.5
 * a 10 dB step reverses the difference and both readings are equal.
 * Widens the radio's part to every possible cancellation. If some parts are within 6 dB of each other, the origin stays open for one
 * more step: two steps with little noise leave only the true solution. A spur without an order has no prediction. */
static void
take_cancellation (const SpEmission *e, const Gathered *g, SpEvidence *out, double chi_square)
{
  const SpStepReading *most = &g->readings[0];
  SpStepEnds ends;
  for (guint k = 1; k < g->n; k++)
    if (g->readings[k].product_shift_db[0] > most->product_shift_db[0])
      most = &g->readings[k];
  if (out->contradicts || !(most->level_dbm + SP_STEP_CANCELS_DB <= e->product_high_dbm + most->product_shift_db[0])
      || !sp_step_ends (g->n, g->readings, g->n_orders, e->product_high_dbm, chi_square, &ends))
    return;
  gboolean decided = out->p_radio >= SP_STEP_SURE || out->p_analyzer >= SP_STEP_SURE,
           higher = ends.high_dbm > out->radio_high_dbm + HIGHER_DB;
  out->may_cancel = ends.close && (decided || higher); /* otherwise the fit already shows it */
  out->radio_low_dbm = fmin (out->radio_low_dbm, ends.low_dbm);
  out->radio_high_dbm = fmax (out->radio_high_dbm, ends.high_dbm);
}

static void
step_test (const SpJudging *c, const SpEmission *e, SpEvidence *out, GPtrArray *warnings)
{
  Gathered g = { 0 };
  SpStepFit fit;
  if (isnan (c->out->fundamental_hz))
    return;
  gather (c, e, &g);
  if (g.n < 2 || !g.tells)
    return;
  double q_most = isnan (e->product_high_dbm) ? INFINITY : e->product_high_dbm + Q_RESERVE_DB;
  gboolean fits = sp_step_fit (g.n, g.readings, g.n_orders, q_most, &fit);
  if (!fits || fit.chi_square > unlikely (g.n)) /* a test outranks a prediction: the analyzer may be worse than its profile */
    fits = sp_step_fit (g.n, g.readings, g.n_orders, INFINITY, &fit);
  if (!fits)
    return;
  take_fit (out, &g, &fit);
  if (isinf (out->analyzer_dbm)) /* no product at all: the profile's bound stands */
    out->analyzer_high_dbm = e->product_high_dbm;
  take_cancellation (e, &g, out, fit.chi_square);
  if (!out->contradicts && out->analyzer_dbm > q_most)
    sp_reasons_add (warnings, sp_reason (WORSE_THAN_PROFILE, .order = e->order, .at_hz = e->frequency_hz, .product_dbm = out->analyzer_dbm,
                                         .profile_dbm = e->product_high_dbm));
  if (out->contradicts)
    sp_reasons_add (warnings, sp_reason (STEPS_CONTRADICT, .order = e->order, .at_hz = e->frequency_hz, .misfit = out->misfit));
}

/* Why the step did not test the emission. NULL: it did, or the step is not usable, or it is blind (UNDERSAMPLED). */
static SpReason *
why_not (const SpJudging *c, const SpEmission *e, const SpJudgedSweep *s)
{
  const SpJudgedSweep *first = &c->sweeps[e->corrected];
  double f = e->frequency_hz, at_f, at_f0, most = 0;
  guint orders[SP_STEP_MOST_ORDERS], n_orders = possible_orders (e, orders);
  if (s->purpose != SP_PURPOSE_STEP || s->use.not_usable || isnan (s->attenuation_db - first->attenuation_db))
    return NULL;
  if (!sp_judging_holds (s, f))
    return sp_reason (STEP_SPAN, .file = s->trace->file, .at_hz = f);
  attenuation_over (c, first, s, f, &at_f, &at_f0);
  for (guint i = 0; i < n_orders; i++)
    most = fmax (most, fabs (at_f - orders[i] * at_f0));
  if (most < SP_STEP_TELLS_DB)
    return sp_reason (STEP_SMALL, .file = s->trace->file, .at_hz = f, .moves_db = most, .wanted_db = SP_STEP_TELLS_DB);
  SpDetection detection = sp_judging_detect_emission (c, s, e);
  if (detection.detected || !(detection.detection_limit_dbm >= e->level_dbm) || !(detection.loss_db <= SP_BLIND_LOSS_DB))
    return NULL;
  return sp_reason (STEP_FLOOR, .file = s->trace->file, .at_hz = f, .detection_dbm = detection.detection_limit_dbm,
                    .level_dbm = e->level_dbm);
}

void
sp_judging_untested_steps (const SpJudging *c, const SpEmission *e, guint8 *told, GPtrArray *warnings)
{
  gboolean open = e->verdict == SP_VERDICT_NOT_PROVEN || e->verdict == SP_VERDICT_INCONCLUSIVE;
  if (!open || !e->detected || e->unresolved || (e->evidence && e->evidence->n > 0) || isnan (c->out->fundamental_hz))
    return;
  for (guint k = c->n; k < c->n_all; k++) {
    const SpJudgedSweep *s = &c->sweeps[k];
    SpReason *why = told[k] ? NULL : why_not (c, e, s);
    if (!why)
      continue;
    told[k] = TRUE;
    sp_reasons_add (warnings, why);
  }
}

/* An ambient signal enters before the chain, or leaks in behind it and reads the same through any chain. If the two sweeps have
 * different chains, the hypothesis with the higher level counts. */
static double
chain_difference_db (const SpJudging *c, const SpJudgedSweep *unkeyed, const SpJudgedSweep *seen, double frequency_hz)
{
  if (unkeyed->chain == seen->chain)
    return 0;
  double temperature = c->bench->temperature_c;
  return fmax (0, sp_chain_loss (seen->chain, frequency_hz, temperature, 0, NULL).loss_db
                      - sp_chain_loss (unkeyed->chain, frequency_hz, temperature, 0, NULL).loss_db);
}

/* Level in the unkeyed sweep. A sweep with a floor above the emission shows nothing. */
static void
ambient_test (const SpJudging *c, const SpEmission *e, SpEvidence *out, GPtrArray *warnings)
{
  const SpJudgedSweep *s = c->n_all > 0 ? &c->sweeps[c->n_all - 1] : NULL;
  out->ambient_dbm = NAN;
  if (!s || s->purpose != SP_PURPOSE_UNKEYED || s->use.not_usable)
    return;
  if (!sp_judging_holds (s, e->frequency_hz)) {
    sp_reasons_add (warnings, sp_reason (UNKEYED_SPAN, .file = s->trace->file, .at_hz = e->frequency_hz));
    return;
  }
  SpDetection detection = sp_judging_detect (c, s, e->frequency_hz, 0, e->to_hz - e->from_hz);
  double other = chain_difference_db (c, s, &c->sweeps[e->corrected], e->frequency_hz);
  detection.level_dbm += other;
  detection.floor_dbm += other;
  out->ambient_dbm = detection.level_dbm;
  out->ambient_seen = detection.detected;
  out->ambient_known = detection.detected || detection.floor_dbm <= e->level_dbm - AMBIENT_DB;
  if (!out->ambient_known)
    sp_reasons_add (warnings, sp_reason (UNKEYED_FLOOR, .file = s->trace->file, .at_hz = e->frequency_hz, .floor_dbm = detection.floor_dbm,
                                         .level_dbm = e->level_dbm));
}

/* Stores the upper end of the analyzer's product at the mixer, for other conditions (carry.c). */
static void
keep_product (const SpJudging *c, const SpEmission *e, SpEvidence *out)
{
  const SpJudgedSweep *s = &c->sweeps[e->corrected];
  double loss = sp_chain_loss (s->chain, e->frequency_hz, c->bench->temperature_c, 0, NULL).loss_db;
  out->mixer_dbm = s->mixer.dbm;
  out->attenuation_db = s->trace->settings.attenuation_db;
  out->product_at_mixer_dbm = NAN;
  if (out->n >= 2 && !out->contradicts && s->purpose == SP_PURPOSE_KEYED)
    out->product_at_mixer_dbm = out->analyzer_high_dbm - out->attenuation_db - loss - s->shift_db;
}

SpEvidence *
sp_judging_evidence (const SpJudging *c, const SpEmission *e, GPtrArray *warnings)
{
  SpEvidence evidence = { .misfit = NAN };
  if (!e->detected)
    return NULL;
  step_test (c, e, &evidence, warnings);
  ambient_test (c, e, &evidence, warnings);
  if (evidence.n == 0 && isnan (evidence.ambient_dbm))
    return NULL;
  keep_product (c, e, &evidence);
  return g_memdup2 (&evidence, sizeof evidence);
}
