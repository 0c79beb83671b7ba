/* overloaded.c - warns of each sweep whose carrier stands over the mixer's best level, and says whether steps show an overload */
#include "core/judge/sweep/sweep.h"
#include "core/judge/verdict/verdict.h"

#include <math.h>

/* Steps tell that the sweep was overloaded: its carrier reads too low, or one of its emissions is the analyzer's. */
static gboolean
is_shown (const SpJudging *c, guint sweep)
{
  for (guint k = 0; k < c->n_all && (int) sweep == c->keyed_carrier; k++)
    if (c->sweeps[k].use.shows_compression)
      return TRUE;
  for (guint i = 0; i < c->out->n_emissions; i++) {
    const SpEmission *e = &c->out->emissions[i];
    if (e->detected && e->corrected == sweep && e->origin == SP_ORIGIN_ANALYZER && e->origin_basis == SP_BASIS_STEP)
      return TRUE;
  }
  return FALSE;
}

/* The analyzer's least setting of at least `least_db`; NaN: it has none, or its settings are not stated. */
static double
setting_from (const SpAnalyzer *analyzer, double least_db)
{
  for (guint i = 0; i < analyzer->attenuator_steps_db->len; i++) {
    double setting_db = g_array_index (analyzer->attenuator_steps_db, double, i);
    if (setting_db >= least_db)
      return setting_db;
  }
  return NAN;
}

void
sp_judging_overloads (const SpJudging *c, GPtrArray *warnings)
{
  double best_dbm = c->analyzer->best_mixer_dbm;
  int n = 0;
  for (guint k = 0; k < c->n; k++) {
    const SpJudgedSweep *s = &c->sweeps[k];
    double attenuation_db = s->trace->settings.attenuation_db, mixer_dbm = sp_judging_least_mixer_dbm (s), over_db = mixer_dbm - best_dbm;
    if (!(over_db > 0))
      continue;
    SpReason *reason = sp_reason (OVERLOAD, .file = s->trace->file, .mixer_dbm = mixer_dbm, .best_mixer_dbm = best_dbm,
                                  .shown = is_shown (c, k), .over_db = over_db,
                                  .attenuation_db = setting_from (c->analyzer, attenuation_db + over_db));
    g_ptr_array_insert (warnings, n++, reason);
  }
}
