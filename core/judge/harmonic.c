/* harmonic.c - a harmonic as the sweeps show it: the greatest line in its window or, of a carrier that may be modulated, the band there */
#include "core/judge/case.h"

#include <math.h>

/* The limit where the sweep's own P decides; 0 where all sweeps stand on the same, and only levels differ. */
static double
own_limit_dbm (const SpCase *c, const SpCaseSweep *s, double frequency_hz)
{
  if (!c->carriers_differ)
    return 0;
  double p = sp_watt_from_dbm (sp_case_power_dbm (c, s));
  double limit = sp_mask_limit (c->mask, c->out->fundamental_hz, p, c->out->necessary_bandwidth_hz, 0, frequency_hz).limit_dbm;
  return isnan (limit) ? 0 : limit;
}

/* A sight that outranks another: seen in any sweep counts, the highest over its limit stands; of floors the lowest. See settle () for what agrees. */
static gboolean
outranks (const SpSight *a, double limit_a, const SpSight *b, double limit_b)
{
  if (a->detected != b->detected)
    return a->detected;
  return a->detected ? a->level_dbm - limit_a > b->level_dbm - limit_b : a->floor_dbm - limit_a < b->floor_dbm - limit_b;
}

/* A window that the carrier or another harmonic reads in: what stands there is no harmonic's level, and all that one could hide under. */
static void
leave_unresolved (SpCase *c, SpEmission *e, guint k)
{
  double frequency_hz = e->frequency_hz;
  SpSight sight = sp_case_sight (c, &c->sweeps[k], frequency_hz, e->order * c->carrier_half_hz, 0);
  sight.level_dbm = sight.floor_dbm = fmax (sight.floor_dbm, sight.level_dbm);
  sight.cause = SP_CAUSE_SKIRT;
  sight.detected = FALSE;
  sight.frequency_hz = frequency_hz;
  sp_case_fill (c, e, &sight, k);
  e->unresolved = TRUE;
}

void
sp_case_harmonic (SpCase *c, SpEmission *e, guint order)
{
  sp_emission_init (e, order, order * c->out->fundamental_hz);
  e->power_dbm = c->out->power_dbm;
  SpSight best = { 0 };
  double best_limit = 0;
  int from = -1, unresolved = -1;
  for (guint k = 0; k < c->n; k++) {
    SpCaseSweep *s = &c->sweeps[k];
    if (!sp_case_holds (s, e->frequency_hz))
      continue;
    if (sp_case_unresolved (c, s, order, NULL)) {
      unresolved = (int) k;
      continue;
    }
    SpSight sight = sp_case_sight (c, s, e->frequency_hz, order * c->carrier_half_hz, sp_case_width_hz (c, s, order, e->frequency_hz));
    double limit = own_limit_dbm (c, s, e->frequency_hz);
    if (from < 0 || outranks (&sight, limit, &best, best_limit)) {
      best = sight;
      best_limit = limit;
      from = (int) k;
    }
  }
  if (from >= 0)
    sp_case_fill (c, e, &best, (guint) from);
  else if (unresolved >= 0)
    leave_unresolved (c, e, (guint) unresolved);
  else
    e->loss_db = sp_chain_loss (c->chain, e->frequency_hz, c->bench->temperature_c, 0, NULL).loss_db;
}
