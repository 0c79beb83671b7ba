/* power.c - the radio's power from the sweeps that hold its carrier */
#include "core/judge/sweep/sweep-stages.h"

#include <math.h>

#define STEADY_DB 0.5 /* drift of a radio's power between sweeps (common practice, no source) */

gboolean
sp_judging_carrier_is_whole (const SpJudgedSweep *s)
{
  return s->has_carrier && !s->carrier_blurred && !s->carrier_clipped;
}

static gboolean
is_fair (const SpJudgedSweep *s)
{
  return sp_judging_carrier_is_whole (s) && !s->carrier_elsewhere && s->purpose == SP_PURPOSE_KEYED;
}

/* The mixer level is over the profile's recommendation: the carrier may read low. */
static gboolean
is_pressed (const SpJudging *c, const SpJudgedSweep *s)
{
  return s->carrier_reading_dbm - s->trace->settings.attenuation_db > c->analyzer->best_mixer_dbm;
}

/* A carrier that may be compressed counts only if all are, or if it still reads higher. */
static gboolean
is_good (const SpJudging *c, const SpJudgedSweep *s)
{
  if (!is_fair (s))
    return FALSE;
  for (guint k = 0; is_pressed (c, s) && k < c->n; k++)
    if (is_fair (&c->sweeps[k]) && !is_pressed (c, &c->sweeps[k]) && c->sweeps[k].carrier_dbm > s->carrier_dbm)
      return FALSE;
  return TRUE;
}

/* TRUE if this carrier agrees with the first, within the uncertainty of two readings and a radio's drift. */
static gboolean
agrees (SpJudging *c, const SpJudgedSweep *first, const SpJudgedSweep *s)
{
  double noise = hypot (first->carrier_noise_u_db, s->carrier_noise_u_db), apart = s->carrier_dbm - first->carrier_dbm;
  double expanded = 2 * hypot (noise, sp_judging_differential_u_db (c, first, s, first->carrier_hz)) + STEADY_DB;
  double lost = apart > 0 ? first->carrier_loss_db : s->carrier_loss_db; /* loss of the lower one */
  if (fabs (apart) <= expanded + lost)
    return TRUE;
  sp_judging_warn (c, sp_reason (CARRIERS_DIFFER, .file = s->trace->file, .first_file = first->trace->file, .carrier_dbm = s->carrier_dbm,
                                 .first_dbm = first->carrier_dbm, .expanded_db = expanded + lost));
  return FALSE;
}

/* No carrier is good: takes one at the stated frequency, else any. */
static void
take_any (SpJudging *c)
{
  for (guint k = 0; k < 2 * c->n && c->carrier_sweep < 0; k++) {
    const SpJudgedSweep *s = &c->sweeps[k % c->n];
    if (s->has_carrier && s->purpose == SP_PURPOSE_KEYED && (k >= c->n || !s->carrier_elsewhere))
      c->carrier_sweep = (int) (k % c->n);
  }
}

/* Mean and type A (JCGM 100, 4.2.1 and 4.2.3) of the carriers. */
static void
average (SpJudging *c)
{
  double sum = 0, squares = 0, most = 0, first = c->sweeps[c->carrier_sweep].carrier_dbm;
  guint n = 0;
  for (guint k = 0; k < c->n; k++)
    if (is_good (c, &c->sweeps[k])) {
      double over = c->sweeps[k].carrier_dbm - first;
      sum += over;
      squares += over * over;
      most = fmax (most, fabs (over));
      n++;
    }
  c->out->power_repeats = MAX (n, 1);
  if (n == 0 || c->carriers_differ) {
    c->out->trace_level_dbm = first;
    c->out->power_repeat_u_db = n > 1 ? most / sqrt (3) : NAN; /* rectangular: any value between the extremes is possible */
    return;
  }
  c->out->trace_level_dbm = first + sum / n;
  if (n > 1)
    c->out->power_repeat_u_db = sqrt (fmax (0, squares - sum * sum / n) / (n - 1) / n);
}

static double
leaves_open_db (const SpJudgedSweep *s)
{
  return hypot (s->carrier_noise_u_db, s->carrier_loss_db / sqrt (3));
}

/* Of the good carriers the one with the least u, independent of their order: dBc and uncertainty are based on it. */
static void
choose_carrier (SpJudging *c)
{
  for (guint k = 0; k < c->n; k++) {
    const SpJudgedSweep *s = &c->sweeps[k];
    if (is_good (c, s) && (c->carrier_sweep < 0 || leaves_open_db (s) < leaves_open_db (&c->sweeps[c->carrier_sweep])))
      c->carrier_sweep = (int) k;
  }
}

void
sp_judging_combine (SpJudging *c)
{
  c->out->power_repeat_u_db = NAN;
  choose_carrier (c);
  for (guint k = 0; k < c->n && c->carrier_sweep >= 0; k++)
    if ((int) k != c->carrier_sweep && is_good (c, &c->sweeps[k]))
      c->carriers_differ |= !agrees (c, &c->sweeps[c->carrier_sweep], &c->sweeps[k]);
  take_any (c);
  if (c->carrier_sweep < 0)
    return;
  const SpJudgedSweep *s = &c->sweeps[c->carrier_sweep];
  c->out->has_fundamental = TRUE;
  c->out->fundamental_hz = s->carrier_hz;
  c->carrier_half_hz = s->carrier_half_hz;
  c->out->fundamental_u_hz = s->carrier_half_hz / sqrt (3);
  average (c);
}

double
sp_judging_power_dbm (const SpJudging *c, const SpJudgedSweep *s)
{
  double alike = INFINITY, least = INFINITY;
  if (!c->carriers_differ || c->out->by_meter)
    return c->out->power_dbm;
  if (is_good (c, s))
    return s->carrier_dbm;
  for (guint k = 0; k < c->n; k++) {
    const SpJudgedSweep *other = &c->sweeps[k];
    if (!is_good (c, other))
      continue;
    least = fmin (least, other->carrier_dbm);
    if (sp_judging_equal_settings (s, other))
      alike = fmin (alike, other->carrier_dbm);
  }
  return isfinite (alike) ? alike : least;
}
