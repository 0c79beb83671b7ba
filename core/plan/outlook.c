/* outlook.c - predicts noise, floor and margin at one frequency for one setting */
#include "core/plan/plan-private.h"

#include <math.h>

#include "core/quantity/units.h"

#define SAME_LEVEL_DB 1e-9 /* no more than rounding parts them; calculated */
#define NEVER_DB 20.0      /* this far below the threshold nothing shows, by any law (common practice, no source) */

double
sp_plan_nbw_hz (const SpPlan *plan, const SpSetting *setting)
{
  return setting->rbw_hz * sp_filter_nbw_ratio (plan->task.analyzer->filter);
}

double
sp_plan_input_to_socket_db (const SpSetting *setting, const SpPlanLine *place)
{
  return place->to_socket_db + setting->attenuation_db + setting->pad_db + setting->notch_loss_db;
}

double
sp_plan_mixer_dbm (const SpPlan *plan, const SpSetting *setting)
{
  return plan->power_dbm - plan->carrier_to_socket_db - setting->pad_db - setting->notch_db - setting->attenuation_db;
}

double
sp_plan_attenuation_db (const SpPlan *plan, const SpSetting *setting, double mixer_dbm)
{
  double more_db = sp_plan_mixer_dbm (plan, setting) - mixer_dbm;
  return fabs (more_db) < SAME_LEVEL_DB ? setting->attenuation_db : setting->attenuation_db + more_db;
}

SpUnsafe
sp_plan_unsafe (const SpPlan *plan, const SpSetting *setting)
{
  if (plan->stage_unsafe)
    return SP_UNSAFE_STAGE;
  if (plan->input_dbm - setting->pad_db - setting->notch_db > sp_analyzer_damage_dbm (plan->task.analyzer, setting->attenuation_db))
    return SP_UNSAFE_INPUT;
  return sp_plan_mixer_dbm (plan, setting) > sp_plan_safe_mixer_dbm (plan->task.analyzer) + SAME_LEVEL_DB ? SP_UNSAFE_MIXER : SP_UNSAFE_NOT;
}

static gboolean
same_law (const SpDetectorLaw *a, const SpDetectorLaw *b)
{
  return a->detector == b->detector && a->average == b->average && a->looks == b->looks && a->averages == b->averages
         && a->max_hold == b->max_hold && a->min_hold == b->min_hold;
}

/* Threshold and detection limit over mean noise; cached, since they take up to milliseconds. */
static SpPlanThresholds
look (SpPlan *plan, const SpDetectorLaw *law, double points)
{
  for (guint i = 0; i < plan->n_looks; i++)
    if (plan->looks[i].points == points && same_law (&plan->looks[i].law, law))
      return plan->looks[i];
  SpPlanThresholds found = { .law = *law, .points = points };
  found.threshold_db = sp_law_threshold_db (law, points);
  found.detection_limit_db = sp_law_detection_limit_db (law, found.threshold_db);
  plan->looks[plan->next_look] = found;
  plan->next_look = (plan->next_look + 1) % SP_PLAN_LOOKS;
  plan->n_looks = MIN (plan->n_looks + 1, SP_PLAN_LOOKS);
  return found;
}

/* Half-width of the carrier's uncertain frequency: as this sweep shows it to judging, or as known already. */
static double
carrier_half_hz (const SpPlan *plan, const SpSetting *s, double spacing_hz)
{
  double half = sp_predict_line_half_hz (s->detector, spacing_hz, s->rbw_hz), known = plan->task.fundamental_half_hz;
  return isnan (known) ? half : fmin (half, known);
}

double
sp_plan_carrier_half_hz (const SpPlan *plan, const SpSetting *setting)
{
  return carrier_half_hz (plan, setting, sp_setting_spacing_hz (setting));
}

double
sp_plan_points (const SpPlan *plan, const SpSetting *s, guint order)
{
  double spacing = sp_setting_spacing_hz (s);
  if (order < 2)
    return s->points;
  double half = fmax (s->rbw_hz, spacing) + order * carrier_half_hz (plan, s, spacing);
  return fmin (1 + 2 * floor (half / spacing + 1e-9), s->points);
}

static double
skirt_dbm (const SpPlan *plan, const SpSetting *s, double frequency_hz)
{
  double spacing = sp_setting_spacing_hz (s);
  return sp_predict_skirt_dbm (plan->task.analyzer, plan->power_dbm - s->notch_db, frequency_hz - plan->task.fundamental_hz, spacing,
                               carrier_half_hz (plan, s, spacing), s->rbw_hz);
}

static void
put_product (const SpPlan *plan, const SpSetting *s, const SpPlanLine *p, SpOutlook *o)
{
  double n = p->order, mixer = sp_plan_mixer_dbm (plan, s);
  o->product_dbm = n * mixer - (n - 1) * p->intercept_dbm + s->attenuation_db + s->pad_db + s->notch_loss_db + p->loss_db;
  double u_mixer = s->notch_db > 0 ? hypot (plan->carrier_u_db, plan->task.power_expanded_db / 2) : plan->mixer_u_db;
  o->product_high_dbm = o->product_dbm + sp_predict_product_reserve_db (plan->task.analyzer, p->order, u_mixer);
  double shown = p->shown_dbm + p->shown_order * mixer + s->attenuation_db + s->pad_db + s->notch_loss_db;
  o->product_by_step = shown > o->product_high_dbm || (isnan (o->product_high_dbm) && !isnan (shown));
  o->product_high_dbm = fmax (o->product_high_dbm, shown); /* a test outranks the profile; NaN: no test */
}

static gboolean
is_resolved (const SpPlan *plan, const SpSetting *s, guint order)
{
  double spacing = sp_setting_spacing_hz (s), zero = SP_ZERO_HERTZ_RBWS * s->rbw_hz;
  return order < 2
         || !sp_is_unresolved (order, plan->task.fundamental_hz, s->rbw_hz, spacing, carrier_half_hz (plan, s, spacing), zero, NULL);
}

static void
put_floor (SpOutlook *o)
{
  gboolean by_phase_noise = o->phase_noise_dbm >= o->noise_dbm - SP_HALF_DB;
  o->floor_dbm = sp_floor_dbm (o->detection_dbm, by_phase_noise, o->skirt_dbm, o->product_high_dbm, &o->cause);
}

/* Cached: for an unknown detector the worst of several laws takes 20 ms to find. */
static SpPlanLaw
law_of (SpPlan *plan, const SpSetting *s)
{
  double ratio = sp_setting_spacing_hz (s) / sp_plan_nbw_hz (plan, s);
  for (guint i = 0; i < plan->n_laws; i++) {
    const SpPlanLaw *k = &plan->laws[i];
    if (k->detector == s->detector && k->average == s->average && k->hold == s->hold && k->averages == s->averages && k->ratio == ratio)
      return *k;
  }
  SpSettings settings = { .rbw_hz = s->rbw_hz, .detector = s->detector, .average = s->average, .averages = s->averages, .hold = s->hold };
  gboolean assumed;
  SpPlanLaw found = { s->detector, s->average, s->hold, s->averages, ratio, sp_law_of (&settings, ratio, 1, &assumed), FALSE, 0, 0 };
  found.greatest = assumed || sp_detector_traits (s->detector)->extreme || s->hold != SP_HOLD_NONE;
  found.median_u_db = sp_law_median_u_db (&found.law);
  found.mean_db = sp_law_noise_mean_db (&found.law);
  plan->laws[plan->next_law] = found;
  plan->next_law = (plan->next_law + 1) % SP_PLAN_LAWS;
  plan->n_laws = MIN (plan->n_laws + 1, SP_PLAN_LAWS);
  return found;
}

SpOutlook
sp_plan_outlook_by (SpPlan *plan, const SpSetting *s, const SpPlanLine *p, double points, const SpDetectorLaw *given)
{
  const SpTask *task = &plan->task;
  double spacing = sp_setting_spacing_hz (s), ratio = sp_filter_nbw_ratio (task->analyzer->filter), nbw = s->rbw_hz * ratio;
  double nbw_db = sp_db_from_ratio (nbw), way = sp_plan_input_to_socket_db (s, p);
  SpPlanLaw used = given ? (SpPlanLaw){ .law = *given } : law_of (plan, s);
  SpDetectorLaw law = used.law;
  SpPlanThresholds seen = look (plan, &law, points);
  SpOutlook o = { .order = p->order, .frequency_hz = p->frequency_hz, .limit_dbm = p->limit.limit_dbm, .calibrated = p->calibrated };
  o.limit_rule = p->limit.rule ? p->limit.rule->name : NULL;
  o.phase_noise_dbm = sp_plan_mixer_dbm (plan, s) + p->phase_dbc_hz + nbw_db + way;
  o.noise_dbm = sp_add_powers_dbm (p->density_dbm_hz + nbw_db + way, o.phase_noise_dbm);
  o.sampling_loss_db = fmin (SP_MOST_LOSS_DB, sp_sampling_loss_db (s->detector, s->average, spacing, s->rbw_hz, ratio));
  o.threshold_dbm = o.noise_dbm + seen.threshold_db;
  o.detection_dbm = o.noise_dbm + seen.detection_limit_db + o.sampling_loss_db;
  o.skirt_dbm = skirt_dbm (plan, s, p->frequency_hz);
  put_product (plan, s, p, &o);
  put_floor (&o);
  if (!given)
    sp_plan_band (plan, s, p, &used, &o);
  o.expanded_db = s->notch_db > 0 ? p->notched_expanded_db : p->expanded_db;
  o.missing_db = o.floor_dbm + (task->decision_rule == SP_DECISION_RULE_GUARDED ? o.expanded_db : 0) - o.limit_dbm;
  o.resolved = is_resolved (plan, s, p->order);
  o.swept = p->frequency_hz >= s->start_hz && p->frequency_hz <= s->stop_hz;
  return o;
}

gboolean
sp_outlook_is_blind (const SpOutlook *outlook)
{
  return outlook->sampling_loss_db > SP_BLIND_LOSS_DB;
}

gboolean
sp_outlook_is_by_step (const SpOutlook *outlook)
{
  return outlook->product_by_step && outlook->cause == SP_CAUSE_PRODUCT;
}

SpOutlook
sp_plan_outlook (SpPlan *plan, const SpSetting *s, const SpPlanLine *p, double points)
{
  return sp_plan_outlook_by (plan, s, p, points, NULL);
}

SpOutlook
sp_plan_harmonic (SpPlan *plan, const SpSetting *setting, guint order)
{
  SpPlanLine *p = sp_plan_line (plan, order, order * plan->task.fundamental_hz);
  return sp_plan_outlook (plan, setting, p, sp_plan_points (plan, setting, p->order));
}

SpOutlook
sp_plan_spur (SpPlan *plan, const SpSetting *setting, double frequency_hz)
{
  return sp_plan_outlook (plan, setting, sp_plan_line (plan, 0, frequency_hz), sp_plan_points (plan, setting, 0));
}

/* TRUE if the analyzer's product may be seen. Slightly below the threshold noise still lifts it over sometimes. */
static gboolean
may_show (SpPlan *plan, const SpSetting *s, const SpOutlook *o)
{
  double q = o->product_high_dbm;
  if (!(q > o->threshold_dbm - NEVER_DB))
    return FALSE;
  SpDetectorLaw law = law_of (plan, s).law;
  return q >= o->threshold_dbm || sp_law_exceed (&law, o->threshold_dbm - o->noise_dbm, q - o->noise_dbm) > 1 - SP_DETECTION;
}

/* Upper end of the radio's part if a product shows: its level, which noise may lift to about the detection limit, plus the product in
 * phase. Far over the noise that is q_high + 6.02 dB. */
static double
worst_radio_part_dbm (const SpOutlook *o)
{
  double q = o->product_high_dbm, seen = fmax (q, o->detection_dbm - o->sampling_loss_db);
  return 20 * log10 (pow (10, q / 20) + pow (10, seen / 20));
}

gboolean
sp_setting_undersamples (const SpSetting *s)
{
  return s->detector != SP_DETECTOR_PEAK && sp_setting_spacing_hz (s) > s->rbw_hz;
}

gboolean
sp_outlook_proves (SpPlan *plan, const SpSetting *s, const SpOutlook *o)
{
  double most_dbm = o->limit_dbm - o->expanded_db - SP_PROVE_RESERVE_DB;
  if (!(o->floor_dbm <= most_dbm) || !o->calibrated || !o->swept || !o->resolved || sp_setting_undersamples (s))
    return FALSE;
  return !(worst_radio_part_dbm (o) > most_dbm) || !may_show (plan, s, o);
}

/* A power average has the lowest detection limit for a given number of samples. If even that cannot prove the line at a single point,
 * no other law can. */
gboolean
sp_plan_may_prove (SpPlan *plan, const SpSetting *s, const SpPlanLine *p)
{
  gboolean plain = sp_detector_traits (s->detector)->law_known && s->detector != SP_DETECTOR_AVERAGE;
  if (plain && s->average != SP_AVERAGE_LOG && s->average != SP_AVERAGE_VOLTAGE)
    return TRUE;
  double ratio = sp_setting_spacing_hz (s) / sp_plan_nbw_hz (plan, s);
  SpDetectorLaw law = { SP_DETECTOR_RMS, SP_AVERAGE_POWER, fmax (1, ratio), fmax (1, s->averages), FALSE };
  SpOutlook o = sp_plan_outlook_by (plan, s, p, 1, &law);
  return o.floor_dbm <= o.limit_dbm - o.expanded_db - SP_PROVE_RESERVE_DB;
}

gboolean
sp_plan_settled (SpPlan *plan, const SpSetting *s, guint order, double frequency_hz)
{
  SpPlanLine *p = sp_plan_line (plan, order, frequency_hz);
  SpOutlook o = sp_plan_outlook (plan, s, p, sp_plan_points (plan, s, p->order));
  if (isnan (o.limit_dbm))
    return TRUE;
  double most_dbm = o.floor_dbm - o.missing_db; /* the limit, less U if the rule is guarded */
  return o.missing_db <= 0 && o.calibrated && o.swept && o.resolved && (!(worst_radio_part_dbm (&o) > most_dbm) || !may_show (plan, s, &o));
}

gboolean
sp_plan_proves (SpPlan *plan, const SpSetting *setting, guint order, double frequency_hz)
{
  SpPlanLine *p = sp_plan_line (plan, order, frequency_hz);
  if (sp_plan_unsafe (plan, setting) != SP_UNSAFE_NOT || !sp_plan_may_prove (plan, setting, p))
    return FALSE;
  SpOutlook o = sp_plan_outlook (plan, setting, p, sp_plan_points (plan, setting, p->order));
  return sp_outlook_proves (plan, setting, &o);
}
