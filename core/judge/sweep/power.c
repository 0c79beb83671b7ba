/* power.c - the radio's power from the sweeps that hold its carrier */
#include "core/judge/sweep/sweep.h"

#include <math.h>

#define LESS_PRESSED_DB 3.0 /* so much lower a mixer level, too high as well, is believed before another (common practice, no source) */
#define STEADY_DB 0.5       /* drift of a radio's power between sweeps (common practice, no source) */

gboolean
sp_judging_carrier_is_whole (const SpJudgedSweep *s)
{
  return sp_judging_has_carrier (s) && !s->carrier.blurred && !s->carrier.clipped;
}

static gboolean
is_fair (const SpJudgedSweep *s)
{
  return sp_judging_carrier_is_whole (s) && !s->carrier.elsewhere && s->purpose == SP_PURPOSE_KEYED;
}

static double
at_mixer_dbm (const SpJudgedSweep *s)
{
  return s->carrier.reading_dbm - s->trace->settings.attenuation_db;
}

/* The mixer level is over the profile's recommendation: the carrier may read low. */
static gboolean
is_pressed (const SpJudging *c, const SpJudgedSweep *s)
{
  return at_mixer_dbm (s) > c->analyzer->best_mixer_dbm;
}

/* It reads higher though less is at the mixer: the other one is compressed, or may be. */
static gboolean
tells_better (const SpJudging *c, const SpJudgedSweep *s, const SpJudgedSweep *other)
{
  return is_fair (s) && (!is_pressed (c, s) || at_mixer_dbm (s) < at_mixer_dbm (other) - LESS_PRESSED_DB)
         && sp_judging_carrier_dbm (s) > sp_judging_carrier_dbm (other);
}

/* A carrier that may be compressed counts only if it still reads highest, or no other was less pressed. */
static gboolean
is_good (const SpJudging *c, const SpJudgedSweep *s)
{
  if (!is_fair (s))
    return FALSE;
  for (guint k = 0; is_pressed (c, s) && k < c->n; k++)
    if (tells_better (c, &c->sweeps[k], s))
      return FALSE;
  return TRUE;
}

/* TRUE if this carrier agrees with the first, within the uncertainty of two readings and a radio's drift. */
static gboolean
agrees (const SpJudging *c, const SpJudgedSweep *first, const SpJudgedSweep *s, GPtrArray *warnings)
{
  double noise = hypot (first->carrier.noise_u_db, s->carrier.noise_u_db),
         apart = sp_judging_carrier_dbm (s) - sp_judging_carrier_dbm (first);
  double expanded = SP_COMPARE_K * hypot (noise, sp_judging_differential_u_db (c, first, s, first->carrier.frequency_hz)) + STEADY_DB;
  double lost = apart > 0 ? first->carrier.loss_db : s->carrier.loss_db; /* loss of the lower one */
  if (fabs (apart) <= expanded + lost)
    return TRUE;
  sp_reasons_add (warnings, sp_reason (CARRIERS_DIFFER, .file = s->trace->file, .first_file = first->trace->file,
                                       .carrier_dbm = sp_judging_carrier_dbm (s), .first_dbm = sp_judging_carrier_dbm (first),
                                       .expanded_db = expanded + lost));
  return FALSE;
}

/* No carrier is good: one at the stated frequency, else any; -1. */
static int
any_carrier (const SpJudging *c)
{
  for (guint k = 0; k < 2 * c->n; k++) {
    const SpJudgedSweep *s = &c->sweeps[k % c->n];
    if (sp_judging_has_carrier (s) && s->purpose == SP_PURPOSE_KEYED && (k >= c->n || !s->carrier.elsewhere))
      return (int) (k % c->n);
  }
  return -1;
}

/* Of one more occasion about a mean of n: s sqrt (1 + 1/n), the variance of the difference of independent values (JCGM 100, 4.2 and 5.1.2). Of few,
 * a rectangle with their greatest distance from the first as half-width. */
static double
occasion_u_db (guint n, double squared_deviations, double most)
{
  if (n < SP_LEAST_TYPE_A)
    return n > 1 ? most / sqrt (3) : 0;
  return sqrt (fmax (0, squared_deviations) / (n - 1) * (1 + 1.0 / n));
}

/* Mean and type A (JCGM 100, 4.2.1 and 4.2.3) of the carriers. */
static void
average (const SpJudging *c, SpTracePower *power)
{
  double sum = 0, squares = 0, most = 0, first = sp_judging_carrier_dbm (&c->sweeps[power->sweep]);
  guint n = 0;
  for (guint k = 0; k < c->n; k++)
    if (is_good (c, &c->sweeps[k])) {
      double over = sp_judging_carrier_dbm (&c->sweeps[k]) - first;
      sum += over;
      squares += over * over;
      most = fmax (most, fabs (over));
      n++;
    }
  power->repeats = MAX (n, 1);
  if (n == 0 || power->carriers_differ) {
    power->level_dbm = first;
    power->repeat_u_db = n > 1 ? most / sqrt (3) : NAN; /* rectangular: any value between the extremes is possible */
    return;
  }
  power->level_dbm = first + sum / n;
  power->occasion_u_db = occasion_u_db (n, squares - sum * sum / n, most);
  if (n > 1)
    power->repeat_u_db = sqrt (fmax (0, squares - sum * sum / n) / (n - 1) / n);
}

static double
leaves_open_db (const SpJudgedSweep *s)
{
  return hypot (s->carrier.noise_u_db, s->carrier.loss_db / sqrt (3));
}

/* Of the good carriers the one with the least u, independent of their order: dBc and uncertainty are based on it; -1. */
static int
best_carrier (const SpJudging *c)
{
  int best = -1;
  for (guint k = 0; k < c->n; k++) {
    const SpJudgedSweep *s = &c->sweeps[k];
    if (is_good (c, s) && (best < 0 || leaves_open_db (s) < leaves_open_db (&c->sweeps[best])))
      best = (int) k;
  }
  return best;
}

SpTracePower
sp_judging_combine (const SpJudging *c, GPtrArray *warnings)
{
  SpTracePower power = { .fundamental_hz = c->condition->fundamental_hz, .level_dbm = NAN, .repeat_u_db = NAN };
  int best = best_carrier (c);
  for (guint k = 0; k < c->n && best >= 0; k++)
    if ((int) k != best && is_good (c, &c->sweeps[k]))
      power.carriers_differ |= !agrees (c, &c->sweeps[best], &c->sweeps[k], warnings);
  power.sweep = best >= 0 ? best : any_carrier (c);
  if (power.sweep < 0)
    return power;
  const SpSweepCarrier *carrier = &c->sweeps[power.sweep].carrier;
  power.fundamental_hz = carrier->frequency_hz;
  power.half_hz = carrier->half_hz;
  average (c, &power);
  return power;
}

/* The radio's power while the sweep ran is told by its own carrier, where that leaves no more open than the carriers scatter. */
gboolean
sp_judging_has_own_power (const SpJudging *c, const SpJudgedSweep *s)
{
  return !c->out->by_meter && is_good (c, s) && (c->carriers_differ || leaves_open_db (s) <= c->occasion_u_db);
}

double
sp_judging_power_dbm (const SpJudging *c, const SpJudgedSweep *s)
{
  double alike = INFINITY, least = INFINITY;
  if (sp_judging_has_own_power (c, s))
    return sp_judging_carrier_dbm (s);
  if (!c->carriers_differ || c->out->by_meter)
    return c->out->power_dbm;
  for (guint k = 0; k < c->n; k++) {
    const SpJudgedSweep *other = &c->sweeps[k];
    if (!is_good (c, other))
      continue;
    least = fmin (least, sp_judging_carrier_dbm (other));
    if (sp_judging_equal_settings (s, other))
      alike = fmin (alike, sp_judging_carrier_dbm (other));
  }
  return isfinite (alike) ? alike : least;
}
