/* harmonic.c - a harmonic in the sweeps: the greatest line in its window, or the band there if the carrier may be modulated */
#include "core/judge/emission/emission.h"
#include "core/judge/sweep/sweep.h"

#include <math.h>

/* The limit for the sweep's P. 0 where the mask has none: only levels are compared then. */
static double
harmonic_limit_dbm (const SpJudging *c, const SpJudgedSweep *s, double frequency_hz)
{
  double p = sp_watt_from_dbm (sp_judging_power_dbm (c, s));
  double limit = sp_mask_limit (c->mask, c->out->fundamental_hz, p, c->out->necessary_bandwidth_hz, 0, frequency_hz).limit_dbm;
  return isnan (limit) ? 0 : limit;
}

/* A detection in any sweep counts; the highest over its limit wins, and the lowest of floors. settle() in emission.c handles sweeps
 * that agree. */
static gboolean
outranks (const SpDetection *a, double limit_a, const SpDetection *b, double limit_b)
{
  if (a->detected != b->detected)
    return a->detected;
  return a->detected ? a->level_dbm - limit_a > b->level_dbm - limit_b : a->floor_dbm - limit_a < b->floor_dbm - limit_b;
}

/* The carrier or another harmonic reads inside the window: the greatest level there is no harmonic's level but the floor for one. */
static void
leave_unresolved (const SpJudging *c, SpEmission *e, guint k, GPtrArray *warnings)
{
  double frequency_hz = e->frequency_hz;
  SpDetection detection = sp_judging_detect (c, &c->sweeps[k], frequency_hz, e->order * c->carrier_half_hz, 0);
  detection.level_dbm = detection.floor_dbm = fmax (detection.floor_dbm, detection.level_dbm);
  detection.cause = SP_CAUSE_SKIRT;
  detection.detected = FALSE;
  detection.frequency_hz = frequency_hz;
  sp_judging_fill (c, e, &detection, k, warnings);
  e->unresolved = TRUE;
}

SpEmission
sp_judging_harmonic (const SpJudging *c, guint order, GPtrArray *warnings)
{
  SpEmission e;
  sp_emission_init (&e, order, order * c->out->fundamental_hz);
  e.power_dbm = c->out->power_dbm;
  SpDetection best = { 0 };
  double best_limit = 0;
  int from = -1, unresolved = -1;
  for (guint k = 0; k < c->n; k++) {
    const SpJudgedSweep *s = &c->sweeps[k];
    if (!sp_judging_holds (s, e.frequency_hz))
      continue;
    if (sp_judging_unresolved (c, s, order, NULL)) {
      unresolved = (int) k;
      continue;
    }
    SpDetection detection = sp_judging_detect (c, s, e.frequency_hz, order * c->carrier_half_hz,
                                               sp_judging_width_hz (c, s, order, e.frequency_hz));
    double limit = harmonic_limit_dbm (c, s, e.frequency_hz);
    if (from < 0 || outranks (&detection, limit, &best, best_limit)) {
      best = detection;
      best_limit = limit;
      from = (int) k;
    }
  }
  if (from >= 0)
    sp_judging_fill (c, &e, &best, (guint) from, warnings);
  else if (unresolved >= 0)
    leave_unresolved (c, &e, (guint) unresolved, warnings);
  else
    e.loss_db = sp_chain_loss (c->chain, e.frequency_hz, c->bench->temperature_c, 0, NULL).loss_db;
  return e;
}
