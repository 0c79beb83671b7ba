/* advice-step.c - the attenuation step that separates the radio's part from the analyzer's product */
#include "core/judge/advice/advice.h"
#include "core/judge/origin/step.h"
#include "core/judge/sweep/sweep.h"

#include <math.h>

/* Usual step; the usable step nearest to it is chosen (common practice, no source) */
#define STEP_DB 10.0
/* A line this far over the detection limit reads well enough for a comparison (common practice, no source) */
#define STANDS_OUT_DB 3.0
#define MOST_NOISE_U_DB 6.0 /* greatest u of a seen reading (common practice, no source) */
/* The threshold is about this far below the detection limit; an unseen reading bounds the level no better */
#define UNSEEN_BELOW_DB 3.0 /* core/docs/metrology.md, section 4.1 */
#define MOST_STEP_DB 100.0  /* bounds time: more is never advised */

/* Requirements on a step at the emission's frequency. */
typedef struct {
  const SpJudging *c;
  const SpEmission *e;
  const SpJudgedSweep *s;
  double taken_db;  /* greatest step taken so far */
  double most_db;   /* a greater step hides the line in noise */
  double per_db;    /* least shift of a product against the radio's part per dB */
  gboolean between; /* a step between those taken helps too */
} Wanted;

/* u of a reading at that level after the step, against the others. The noise stays, so its share grows as the level falls. */
static double
reading_u_db (const SpJudging *c, const SpEmission *e, double step_db, double level_dbm)
{
  const SpAnalyzer *a = c->analyzer;
  double noise = e->noise_u_db * pow (10, (step_db + e->level_dbm - level_dbm) / 20);
  double u = hypot (sp_width_u_db (&a->repeatability), hypot (sp_width_u_db (&a->scale), sp_width_u_db (&a->attenuator_switch)));
  return hypot (u, fmin (noise, MOST_NOISE_U_DB));
}

/* ---- one more reading added to a step test ---- */

static SpStepReading
foreseen (const SpJudging *c, const SpEmission *e, double step_db, double detection_dbm)
{
  const SpEvidence *v = e->evidence;
  double product = step_db * (1 - (double) v->order), level = v->analyzer_dbm + product;
  SpStepReading r = {
    .seen = level >= detection_dbm, .level_dbm = level, .u_db = reading_u_db (c, e, step_db, level), .product_shift_db = { product }
  };
  if (!r.seen) {
    r.level_dbm = detection_dbm - UNSEEN_BELOW_DB;
    r.u_db = UNSEEN_BELOW_DB / 2;
  }
  return r;
}

double
sp_judging_foreseen_part_dbm (const SpJudging *c, const SpEmission *e, double step_db, double detection_dbm)
{
  const SpEvidence *v = e->evidence;
  SpStepReading readings[SP_STEP_MOST_READINGS];
  SpStepFit fit;
  if (v->n >= SP_STEP_MOST_READINGS)
    return INFINITY;
  for (guint k = 0; k < v->n; k++) {
    const SpEvidencePoint *p = &v->points[k];
    readings[k] = (SpStepReading){
      .seen = p->seen, .level_dbm = p->level_dbm, .u_db = p->u_db, .product_shift_db = { p->product_shift_db }
    };
  }
  readings[v->n] = foreseen (c, e, step_db, detection_dbm);
  return sp_step_fit (v->n + 1, readings, 1, INFINITY, &fit) ? fit.radio.high : INFINITY;
}

/* ---- one more step ---- */

/* Distance of a step from those taken: beyond the greatest, or between them. */
static double
apart_db (const Wanted *w, double step_db)
{
  const SpEvidence *v = w->e->evidence;
  double apart = fabs (step_db);
  if (!w->between)
    return step_db - w->taken_db;
  for (guint k = 0; k < v->n; k++)
    apart = fmin (apart, fabs (step_db - v->points[k].attenuation_db));
  return apart;
}

/* Far enough apart to be a test, and for a product to move by three times u of the readings (common practice, no source). */
static gboolean
tells (const Wanted *w, double step_db)
{
  double u = hypot (w->e->noise_u_db, reading_u_db (w->c, w->e, step_db, w->e->level_dbm));
  return apart_db (w, step_db) >= fmax (SP_STEP_TELLS_DB, 3 * u / w->per_db);
}

/* *best and *least are NaN until a step was taken. */
static void
take_step (const Wanted *w, double step_db, double *best, double *least)
{
  double wish = w->taken_db + STEP_DB;
  if (!(step_db > (w->between ? 0 : w->taken_db)) || !tells (w, step_db))
    return;
  *least = fmin (*least, step_db);
  if (step_db <= w->most_db && !(fabs (*best - wish) <= fabs (step_db - wish)))
    *best = step_db;
}

/* *least: the least step that would tell, even if it hides the line. */
static double
by_attenuator (const Wanted *w, double *least)
{
  double best = NAN, now = w->s->trace->settings.attenuation_db;
  guint n;
  const double *steps = sp_plan_attenuations_db (w->c->analyzer, &n);
  for (guint i = 0; i < n; i++)
    take_step (w, steps[i] - (isnan (now) ? steps[0] : now), &best, least);
  return best;
}

/* The pad must be rated for the power that the analyzer gets now. */
static double
by_pad (const Wanted *w, double *least)
{
  double best = NAN, average_dbm = w->c->out->power_dbm - w->s->to_socket_db + sp_db_from_ratio (w->c->condition->duty);
  const GArray *pads = w->c->bench->pads;
  for (guint i = 0; pads && i < pads->len; i++) {
    const SpPad *pad = &g_array_index (pads, SpPad, i);
    if (sp_dbm_from_watt (pad->rating_w) > average_dbm)
      take_step (w, pad->loss_db, &best, least);
  }
  return best;
}

/* No available attenuator step or pad works: suggests a pad value, or else less noise first. */
static SpReason *
what_is_wanting (const Wanted *w, double attenuator_db, double pad_db)
{
  double least = ceil (w->taken_db + SP_STEP_TELLS_DB), wish = fmin (w->taken_db + STEP_DB, floor (w->most_db));
  while (!tells (w, least) && least < w->taken_db + MOST_STEP_DB)
    least++;
  if (wish >= least)
    return sp_reason (PROVE_STEP_PAD, .pad_db = wish);
  gboolean pad = isnan (attenuator_db);
  double step = !pad ? attenuator_db : isnan (pad_db) ? least : pad_db;
  return sp_reason (PROVE_STEP_NOISE, .pad = pad, .step_db = step, .noise_db = fmax (1, ceil (step - w->most_db)));
}

static Wanted
wanted_of (const SpJudging *c, const SpEmission *e)
{
  const SpJudgedSweep *s = &c->sweeps[e->corrected];
  guint64 i = MIN (sp_trace_find (s->trace, e->frequency_hz), s->trace->n - 1);
  Wanted w = { .c = c, .e = e, .s = s, .per_db = fmax (1, e->order - 1.0) };
  w.most_db = e->level_dbm - STANDS_OUT_DB - (s->out->noise_dbm[i] + s->thresholds.detection_limit_db + sp_judging_sampling_loss (c, s, i));
  w.between = e->evidence && e->evidence->may_cancel;
  for (guint k = 0; e->evidence && k < e->evidence->n; k++)
    w.taken_db = fmax (w.taken_db, e->evidence->points[k].attenuation_db);
  return w;
}

SpReason *
sp_judging_prove_step (const SpJudging *c, const SpEmission *e)
{
  Wanted w = wanted_of (c, e);
  double least = NAN, least_pad = NAN, step = by_attenuator (&w, &least);
  gboolean pad = isnan (step);
  if (pad)
    step = by_pad (&w, &least_pad);
  if (isnan (step))
    return what_is_wanting (&w, least, least_pad);
  return sp_reason (PROVE_STEP, .pad = pad, .condition = NULL, .step_db = step, .order = e->order, .settles = NAN);
}
