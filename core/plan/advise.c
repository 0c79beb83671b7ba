/* advise.c - the sweep to take before anything was keyed */
#include "core/plan/plan-private.h"

#include <math.h>

#define BELOW_F0 0.9
#define ABOVE_TOP 1.02

/* Where no sweep can prove a harmonic none has to reach it. */
static guint
top_order (const SpPlan *plan)
{
  for (guint order = plan->harmonics; order > 2; order--)
    if (plan->places[order].calibrated)
      return order;
  return plan->harmonics; /* then the carrier is not either, most likely: as if it were */
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

/* A spur anywhere in the sweep crosses a higher threshold; where the mask asks for a whole range that floor counts, too. */
static gboolean
proves_between (SpPlan *plan, const SpSetting *s, const SpPlace *p)
{
  if (isnan (plan->task.mask->search_low_hz))
    return TRUE;
  SpOutlook o = sp_plan_outlook (plan, s, p, s->points);
  return sp_outlook_proves (plan, s, &o);
}

/* So does the place beside the carrier where the mask begins: skirt and phase noise stand there. */
static gboolean
proves_beside (SpPlan *plan, const SpSetting *s)
{
  const SpTask *task = &plan->task;
  double beside = task->fundamental_hz + sp_mask_exclude_hz (task->mask, task->fundamental_hz, task->power_w, task->necessary_bandwidth_hz, s->rbw_hz);
  if (!(task->mask->search_low_hz <= beside && beside <= task->mask->search_high_hz))
    return TRUE;
  SpOutlook o = sp_plan_spur (plan, s, beside * (1 + 1e-9));
  return isnan (o.limit_dbm) || sp_outlook_proves (plan, s, &o);
}

/* A sweep, and what it proves: a bit for each order, bit 0 for beside the carrier. */
typedef struct {
  SpSetting setting;
  guint32 proves;
  double missing_db[SP_MAX_ORDER + 1];
  guint8 cause[SP_MAX_ORDER + 1];     /* SpFloorCause; UNRESOLVED */
  double effort_s;
} Weighed;
#define UNRESOLVED 255

static void
weigh (SpPlan *plan, Weighed *w)
{
  w->proves = proves_beside (plan, &w->setting) ? 1 : 0;
  w->effort_s = sp_plan_effort_s (plan, &w->setting);
  for (guint order = 2; order <= plan->harmonics; order++) {
    const SpPlace *p = &plan->places[order];
    w->missing_db[order] = NAN;
    if (isnan (p->limit.limit_dbm))
      continue;
    SpOutlook o = sp_plan_outlook (plan, &w->setting, p, sp_plan_points (plan, &w->setting, order));
    w->missing_db[order] = o.missing_db;
    w->cause[order] = o.resolved ? (guint8) o.cause : UNRESOLVED;
    if (sp_outlook_proves (plan, &w->setting, &o) && proves_between (plan, &w->setting, p))
      w->proves |= 1u << order;
  }
}

/* The least to spare of the orders in a set. */
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

/* What proves all that is wanted goes first, the quickest of those; else what proves most; else what misses least, and of equals again the quickest. */
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

/* All that is safe and within the radio's key-down time. (transfer full), of Weighed */
static GArray *
weigh_all (SpPlan *plan)
{
  GArray *all = g_array_new (FALSE, FALSE, sizeof (Weighed));
  SpMeans means = sp_plan_means (plan, NULL);
  for (guint i = 0; i < means.n_rbws; i++)
    for (guint way = 1; way < SP_WAYS; way++) {
      Weighed w = { .setting = { .rbw_hz = means.rbws_hz[i], .parts = 1, .averages = 1, .points = means.points } };
      put_span (plan, &w.setting);
      if (!sp_means_way (&means, way, &w.setting) || !sp_plan_fit_key_down (plan, &w.setting))
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

/* What the best of all sweeps for this order lacks, and why. */
static SpUnprovable
unprovable (const SpPlan *plan, const GArray *all, guint order)
{
  SpUnprovable u = { .order = order, .missing_db = NAN, .why = "outside-calibration" };
  if (!plan->places[order].calibrated)
    return u;
  for (guint i = 0; i < all->len; i++) {
    const Weighed *w = &g_array_index (all, Weighed, i);
    gboolean first = isnan (u.missing_db), resolves = w->cause[order] != UNRESOLVED;
    if (!resolves && !first)
      continue;
    if (!first && !(w->missing_db[order] < u.missing_db) && !g_str_equal (u.why, "not-resolved"))
      continue;
    u.missing_db = w->missing_db[order];
    u.why = resolves ? sp_floor_cause_name ((SpFloorCause) w->cause[order]) : "not-resolved";
  }
  return u;
}

/* The orders with a limit that some sweep proves; the others go into the advice, each with its reason. Beside the carrier likewise. */
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
  a->beside_unprovable = !(any & 1);
  return wanted | (any & 1);
}

/* Where nothing can be proven at all, what misses least of what is calibrated. */
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
  a->proves = (best->proves & wanted) == wanted && ((wanted & ~1u) != 0 || a->n_unprovable == 0);
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
    a->unpredicted += isnan (o.distortion_high_dbm);
  }
}

SpAdvice
sp_plan_advise (SpPlan *plan)
{
  SpAdvice a = { .worst_missing_db = NAN };
  g_autoptr (GArray) all = weigh_all (plan);
  guint32 wanted = set_apart (plan, all, &a), shown = wanted & ~1u ? wanted : of_calibrated (plan);
  const Weighed *best = NULL;
  for (guint i = 0; i < all->len; i++) {
    const Weighed *w = &g_array_index (all, Weighed, i);
    if (!best || is_better (w, best, shown | (wanted & 1)))
      best = w;
  }
  if (best)
    describe (plan, best, wanted, shown, &a);
  return a;
}

SpSetting
sp_plan_setting (SpPlan *plan, const SpTrace *trace, double rbw_hz, double attenuation_db)
{
  SpAdvice advice = sp_plan_advise (plan);
  SpSetting s = trace ? sp_setting_of_trace (trace) : advice.setting;
  double f0 = plan->task.fundamental_hz;
  if (!advice.any) { /* nothing is safe: something to look at all the same */
    advice.setting = (SpSetting){ .rbw_hz = 10e3, .attenuation_db = 20, .detector = SP_DETECTOR_PEAK, .averages = 1, .parts = 1 };
    advice.setting.points = sp_plan_means (plan, NULL).points;
    put_span (plan, &advice.setting);
    s = trace ? s : advice.setting;
  }
  s.rbw_hz = !isnan (rbw_hz) ? rbw_hz : isnan (s.rbw_hz) ? advice.setting.rbw_hz : s.rbw_hz;
  s.attenuation_db = !isnan (attenuation_db) ? attenuation_db : isnan (s.attenuation_db) ? advice.setting.attenuation_db : s.attenuation_db;
  if (trace && !(s.start_hz <= f0 && f0 <= s.stop_hz))
    put_span (plan, &s);
  return s;
}
