/* harmonic.c - a harmonic as the sweeps show it: the greatest line in its window or, of a carrier that may be modulated, the band there */
#include "core/judge/emission/emission-stages.h"
#include "core/judge/sweep/sweep-stages.h"

#include <math.h>

/* The limit where the sweep's own P decides; 0 where all sweeps stand on the same, and only levels differ. */
static double
harmonic_limit_dbm (const SpJudging *c, const SpJudgedSweep *s, double frequency_hz)
{
  if (!c->carriers_differ)
    return 0;
  double p = sp_watt_from_dbm (sp_judging_power_dbm (c, s));
  double limit = sp_mask_limit (c->mask, c->out->fundamental_hz, p, c->out->necessary_bandwidth_hz, 0, frequency_hz).limit_dbm;
  return isnan (limit) ? 0 : limit;
}

/* A sight that outranks another: seen in any sweep counts, the highest over its limit stands; of floors the lowest. See settle () for what agrees. */
static gboolean
outranks (const SpDetection *a, double limit_a, const SpDetection *b, double limit_b)
{
  if (a->detected != b->detected)
    return a->detected;
  return a->detected ? a->level_dbm - limit_a > b->level_dbm - limit_b : a->floor_dbm - limit_a < b->floor_dbm - limit_b;
}

/* A window that the carrier or another harmonic reads in: what stands there is no harmonic's level, and all that one could hide under. */
static void
leave_unresolved (SpJudging *c, SpEmission *e, guint k)
{
  double frequency_hz = e->frequency_hz;
  SpDetection detection = sp_judging_detect (c, &c->sweeps[k], frequency_hz, e->order * c->carrier_half_hz, 0);
  detection.level_dbm = detection.floor_dbm = fmax (detection.floor_dbm, detection.level_dbm);
  detection.cause = SP_CAUSE_SKIRT;
  detection.detected = FALSE;
  detection.frequency_hz = frequency_hz;
  sp_judging_fill (c, e, &detection, k);
  e->unresolved = TRUE;
}

void
sp_judging_harmonic (SpJudging *c, SpEmission *e, guint order)
{
  sp_emission_init (e, order, order * c->out->fundamental_hz);
  e->power_dbm = c->out->power_dbm;
  SpDetection best = { 0 };
  double best_limit = 0;
  int from = -1, unresolved = -1;
  for (guint k = 0; k < c->n; k++) {
    SpJudgedSweep *s = &c->sweeps[k];
    if (!sp_judging_holds (s, e->frequency_hz))
      continue;
    if (sp_judging_unresolved (c, s, order, NULL)) {
      unresolved = (int) k;
      continue;
    }
    SpDetection detection = sp_judging_detect (c, s, e->frequency_hz, order * c->carrier_half_hz,
                                               sp_judging_width_hz (c, s, order, e->frequency_hz));
    double limit = harmonic_limit_dbm (c, s, e->frequency_hz);
    if (from < 0 || outranks (&detection, limit, &best, best_limit)) {
      best = detection;
      best_limit = limit;
      from = (int) k;
    }
  }
  if (from >= 0)
    sp_judging_fill (c, e, &best, (guint) from);
  else if (unresolved >= 0)
    leave_unresolved (c, e, (guint) unresolved);
  else
    e->loss_db = sp_chain_loss (c->chain, e->frequency_hz, c->bench->temperature_c, 0, NULL).loss_db;
}
