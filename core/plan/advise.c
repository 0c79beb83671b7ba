/* advise.c - chooses the sweep to make before anything was keyed */
#include "core/plan/plan-private.h"

#include <math.h>

#define BELOW_F0 0.9    /* common practice, no source */
#define ABOVE_TOP 1.02  /* common practice, no source */
#define REACH_PLACES 32 /* bounds time */

/* Highest order that the sweep should reach: a harmonic that no sweep can prove need not be reached. */
static guint
top_order (const SpPlan *plan)
{
  for (guint order = plan->harmonics; order > 2; order--)
    if (plan->places[order].calibrated)
      return order;
  return plan->harmonics; /* the carrier is probably not calibrated either: ignore calibration */
}

static void
put_span (const SpPlan *plan, SpSetting *s)
{
  const SpTask *task = &plan->task;
  const SpMask *mask = task->mask;
  s->start_hz = fmin (BELOW_F0 * task->fundamental_hz, isnan (mask->search_low_hz) ? INFINITY : mask->search_low_hz);
  s->start_hz = fmin (fmax (s->start_hz, SP_ZERO_HERTZ_RBWS * s->rbw_hz), task->fundamental_hz / 2);
  s->stop_hz = fmax (ABOVE_TOP * top_order (plan) * task->fundamental_hz, isnan (mask->search_high_hz) ? 0 : mask->search_high_hz);
}

/* The outlook for a spur anywhere in the sweep: its threshold is higher, and a swept range that is not seen into is a gap. */
static SpOutlook
between (SpPlan *plan, const SpSetting *s, const SpPlanLine *p)
{
  SpPlanLine spur = *p;
  spur.order = 0;
  spur.intercept_dbm = spur.shown_dbm = NAN;
  spur.width_hz = fmax (plan->task.signal_hz, isnan (p->reference_hz) ? 0 : p->reference_hz);
  return sp_plan_outlook (plan, s, &spur, s->points);
}

/* TRUE if nothing over a limit could hide at this offset on either side of the carrier; `by_carrier`: only behind its skirt or the
 * analyzer's phase noise. */
static gboolean
clear_at (SpPlan *plan, const SpSetting *s, double offset_hz, gboolean by_carrier)
{
  for (int sign = -1; sign <= 1; sign += 2) {
    double f = plan->task.fundamental_hz + sign * offset_hz;
    if (!(f >= s->start_hz && f <= s->stop_hz))
      continue;
    SpOutlook o = sp_plan_spur (plan, s, f);
    if (!isnan (o.limit_dbm) && o.calibrated && !sp_outlook_proves (plan, s, &o) && !(by_carrier && o.cause == SP_CAUSE_NOISE))
      return FALSE;
  }
  return TRUE;
}

static double
exclude_hz (const SpPlan *plan, double rbw_hz)
{
  const SpTask *task = &plan->task;
  return sp_mask_exclude_hz (task->mask, task->fundamental_hz, task->power_w, task->necessary_bandwidth_hz, rbw_hz);
}

/* Half the zone round the carrier that judging leaves out in this sweep. */
static double
zone_hz (const SpPlan *plan, const SpSetting *s)
{
  return fmax (exclude_hz (plan, s->rbw_hz), fmax (s->rbw_hz, sp_setting_spacing_hz (s)) + sp_plan_carrier_half_hz (plan, s));
}

/* TRUE if the mask has a numeric limit between its own exclusion and the sweep's. Rows by offset may begin anywhere there, from a
 * ten-thousandth on (common practice, no source). */
static gboolean
limited_within (SpPlan *plan, const SpSetting *s, double signal_hz, double zone_hz)
{
  double f0 = plan->task.fundamental_hz, from = fmax (signal_hz, zone_hz / 1e4);
  for (guint i = 0; from < zone_hz && i < REACH_PLACES; i++) {
    double offset = from * pow (zone_hz / from, (double) i / REACH_PLACES);
    if (!isnan (sp_plan_spur (plan, s, f0 + offset).limit_dbm) || !isnan (sp_plan_spur (plan, s, f0 - offset).limit_dbm))
      return TRUE;
  }
  return FALSE;
}

/* TRUE if the sweep sees all limited offsets beside the carrier, in spite of skirt and phase noise. */
static gboolean
proves_beside (SpPlan *plan, const SpSetting *s)
{
  double edge = exclude_hz (plan, NAN) * (1 + 1e-9); /* of the mask's exclusion */
  return !limited_within (plan, s, edge, zone_hz (plan, s)) && clear_at (plan, s, edge, FALSE);
}

/* Offset up to which skirt or phase noise of the carrier hide emissions. Further off the noise is the same everywhere. */
static double
blind_reach_hz (SpPlan *plan, const SpSetting *s)
{
  double from = zone_hz (plan, s), to = plan->task.fundamental_hz / 2, reach = from;
  for (guint i = 0; from < to && i <= REACH_PLACES; i++) {
    double offset = from * pow (to / from, (double) i / REACH_PLACES);
    if (!clear_at (plan, s, offset * (1 + 1e-9), TRUE))
      reach = from * pow (to / from, fmin (1, (double) (i + 1) / REACH_PLACES));
  }
  return reach + sp_setting_spacing_hz (s); /* a point covers the range up to the next */
}

/* A sweep and what it proves: a bit for each order; bit 0 for the offsets beside the carrier, without a second sweep. */
typedef struct {
  SpSetting setting;
  guint32 proves;
  double missing_db[SP_MAX_ORDER + 1];
  guint8 cause[SP_MAX_ORDER + 1]; /* SpFloorCause; UNRESOLVED */
  double effort_s;
} Weighed;
#define UNRESOLVED 255 /* in place of a number */

static void
weigh (SpPlan *plan, Weighed *w)
{
  w->proves = proves_beside (plan, &w->setting) ? 1 : 0;
  w->effort_s = sp_plan_effort_s (plan, &w->setting)
                + (w->proves ? 0 : SP_PART_S + SP_SHORT_S); /* adds a second sweep close to the carrier */
  for (guint order = 2; order <= plan->harmonics; order++) {
    const SpPlanLine *p = &plan->places[order];
    w->missing_db[order] = NAN;
    if (isnan (p->limit.limit_dbm))
      continue;
    SpOutlook o = sp_plan_outlook (plan, &w->setting, p, sp_plan_points (plan, &w->setting, order));
    SpOutlook spur = between (plan, &w->setting, p);
    const SpOutlook *worse = spur.missing_db > o.missing_db ? &spur : &o;
    gboolean proves = sp_outlook_proves (plan, &w->setting, &o);
    w->missing_db[order] = worse->missing_db;
    w->cause[order] = !o.resolved ? UNRESOLVED : !proves && o.missing_db <= -SP_PROVE_RESERVE_DB ? SP_CAUSE_PRODUCT : (guint8) worse->cause;
    if (proves && sp_outlook_proves (plan, &w->setting, &spur))
      w->proves |= 1u << order;
  }
}

/* Greatest missing_db of the orders in a set. */
static double
worst_of (const Weighed *w, guint32 orders, guint *order)
{
  double worst = NAN;
  for (guint n = 2; n <= SP_MAX_ORDER; n++)
    if (orders & 1u << n && !(w->missing_db[n] <= worst)) {
      worst = w->missing_db[n];
      if (order)
        *order = n;
    }
  return worst;
}

/* Preference: proves all that is wanted, quickest first; else proves most; else misses least; then the quickest. */
static gboolean
is_better (const Weighed *a, const Weighed *b, guint32 wanted)
{
  guint proves = (guint) __builtin_popcount (a->proves & wanted), other = (guint) __builtin_popcount (b->proves & wanted);
  if (proves != other)
    return proves > other;
  if ((a->proves & wanted) != 0 && a->effort_s != b->effort_s)
    return a->effort_s < b->effort_s;
  double missing = worst_of (a, wanted, NULL), less = worst_of (b, wanted, NULL);
  if (missing != less && !(isnan (missing) && isnan (less)))
    return missing < less;
  return a->effort_s < b->effort_s;
}

/* All sweeps that are safe and within the radio's key-down time. (transfer full), of Weighed */
static GArray *
weigh_all (SpPlan *plan)
{
  GArray *all = g_array_new (FALSE, FALSE, sizeof (Weighed));
  SpSettingChoices means = sp_plan_setting_choices (plan, NULL);
  for (guint i = 0; i < means.n_rbws; i++)
    for (guint way = 1; way < SP_WAYS; way++) {
      Weighed w = { .setting = { .rbw_hz = means.rbws_hz[i], .parts = 1, .averages = 1, .points = means.points } };
      put_span (plan, &w.setting);
      if (!sp_setting_choice (&means, way, &w.setting) || !sp_plan_fit_key_down (plan, &w.setting))
        continue;
      for (guint j = 0; j < means.n_attenuations; j++) {
        w.setting.attenuation_db = means.attenuations_db[j];
        if (sp_plan_unsafe (plan, &w.setting) != SP_UNSAFE_NOT)
          continue;
        weigh (plan, &w);
        g_array_append_val (all, w);
      }
    }
  return all;
}

/* Obstacle and missing dB of the best sweep for this order. */
static SpUnprovable
unprovable (const SpPlan *plan, const GArray *all, guint order)
{
  SpUnprovable u = { .order = order, .missing_db = NAN, .obstacle = SP_OBSTACLE_CALIBRATION };
  if (!plan->places[order].calibrated)
    return u;
  for (guint i = 0; i < all->len; i++) {
    const Weighed *w = &g_array_index (all, Weighed, i);
    gboolean first = isnan (u.missing_db), resolves = w->cause[order] != UNRESOLVED;
    if (!resolves && !first)
      continue;
    if (!first && !(w->missing_db[order] < u.missing_db) && u.obstacle != SP_OBSTACLE_NOT_RESOLVED)
      continue;
    u.missing_db = w->missing_db[order];
    u.obstacle = resolves ? sp_obstacle_of_cause ((SpFloorCause) w->cause[order]) : SP_OBSTACLE_NOT_RESOLVED;
  }
  return u;
}

/* The orders with a limit that some sweep proves; the advice lists the others with their reasons. */
static guint32
set_apart (const SpPlan *plan, const GArray *all, SpAdvice *a)
{
  guint32 any = 0, wanted = 0;
  for (guint i = 0; i < all->len; i++)
    any |= g_array_index (all, Weighed, i).proves;
  for (guint order = 2; order <= plan->harmonics; order++) {
    if (isnan (plan->places[order].limit.limit_dbm))
      continue;
    if (any & 1u << order)
      wanted |= 1u << order;
    else
      a->unprovable[a->n_unprovable++] = unprovable (plan, all, order);
  }
  return wanted;
}

/* If nothing can be proven: the calibrated orders that miss least. */
static guint32
of_calibrated (const SpPlan *plan)
{
  guint32 all = 0, calibrated = 0;
  for (guint order = 2; order <= plan->harmonics; order++) {
    if (isnan (plan->places[order].limit.limit_dbm))
      continue;
    all |= 1u << order;
    calibrated |= plan->places[order].calibrated ? 1u << order : 0;
  }
  return calibrated ? calibrated : all;
}

static void
describe (SpPlan *plan, const Weighed *best, guint32 wanted, guint32 shown, SpAdvice *a)
{
  a->any = TRUE;
  a->setting = best->setting;
  a->proves = (best->proves & wanted) == wanted && (wanted != 0 || a->n_unprovable == 0);
  a->mixer_dbm = sp_plan_mixer_dbm (plan, &a->setting);
  a->keying = sp_plan_keying (plan, &a->setting);
  a->time_s = a->keying.keyed_s;
  a->worst_missing_db = worst_of (best, shown, &a->worst_order);
  a->noise_known = TRUE;
  for (guint order = 2; order <= plan->harmonics; order++) {
    if (isnan (plan->places[order].limit.limit_dbm))
      continue;
    SpOutlook o = sp_plan_harmonic (plan, &a->setting, order);
    a->noise_known = a->noise_known && !isnan (o.noise_dbm);
    a->unpredicted += isnan (o.product_high_dbm);
  }
}

/* Adds the sweep close to the carrier for the offsets that this one cannot show. */
static void
add_close_sweep (SpPlan *plan, SpAdvice *a)
{
  double f0 = plan->task.fundamental_hz, reach = blind_reach_hz (plan, &a->setting);
  g_autoptr (SpReason) why = NULL;
  a->close_by = sp_plan_close (plan, &a->setting, f0 - reach, f0 + reach, NAN, &a->close, &why);
  if (!a->close_by && why)
    a->close_obstacle = why->code == SP_REASON_PROVE_CALIBRATION ? SP_OBSTACLE_CALIBRATION : (SpObstacle) why->PROVE_SPAN_NOT.obstacle;
  if (a->close_by)
    a->close_keying = sp_plan_keying (plan, &a->close);
}

SpAdvice
sp_plan_advise (SpPlan *plan)
{
  SpAdvice a = { .worst_missing_db = NAN };
  g_autoptr (GArray) all = weigh_all (plan);
  guint32 wanted = set_apart (plan, all, &a), shown = wanted ? wanted : of_calibrated (plan);
  const Weighed *best = NULL;
  for (guint i = 0; i < all->len; i++) {
    const Weighed *w = &g_array_index (all, Weighed, i);
    if (!best || is_better (w, best, shown))
      best = w;
  }
  if (best)
    describe (plan, best, wanted, shown, &a);
  if (best && a.noise_known && !(best->proves & 1))
    add_close_sweep (plan, &a);
  return a;
}

SpSetting
sp_plan_setting (SpPlan *plan, const SpTrace *trace, double rbw_hz, double attenuation_db)
{
  SpAdvice advice = sp_plan_advise (plan);
  SpSetting s = trace ? sp_setting_of_trace (trace) : advice.setting;
  double f0 = plan->task.fundamental_hz;
  if (!advice.any) { /* nothing is safe: still gives a sweep to look at (common practice, no source) */
    advice.setting = (SpSetting){ .rbw_hz = 10e3, .attenuation_db = 20, .detector = SP_DETECTOR_PEAK, .averages = 1, .parts = 1 };
    advice.setting.points = sp_plan_setting_choices (plan, NULL).points;
    put_span (plan, &advice.setting);
    s = trace ? s : advice.setting;
  }
  s.rbw_hz = !isnan (rbw_hz) ? rbw_hz : isnan (s.rbw_hz) ? advice.setting.rbw_hz : s.rbw_hz;
  s.attenuation_db = !isnan (attenuation_db) ? attenuation_db : isnan (s.attenuation_db) ? advice.setting.attenuation_db : s.attenuation_db;
  if (trace && !(s.start_hz <= f0 && f0 <= s.stop_hz))
    put_span (plan, &s);
  return s;
}
