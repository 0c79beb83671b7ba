/* setting-choices.c - the settings that the user can choose, by the profile */
#include "core/plan/plan-private.h"

#include <math.h>

#define POINTS_ASSUMED 1001.0 /* if neither the profile nor a sweep states it (common practice, no source) */

static const double *
steps_or (const GArray *steps, const double *usual, guint n_usual, guint *n)
{
  gboolean listed = steps && steps->len;
  *n = listed ? steps->len : n_usual;
  return listed ? (const double *) (void *) steps->data : usual;
}

const double *
sp_plan_attenuations_db (const SpAnalyzer *analyzer, guint *n)
{
  static const double usual[] = { 0, 10, 20, 30, 40 }; /* common practice, no source */
  return steps_or (analyzer->attenuator_steps_db, usual, G_N_ELEMENTS (usual), n);
}

static guint
copy_steps (const double *from, guint n, double *out, guint most)
{
  n = MIN (n, most);
  for (guint i = 0; i < n; i++)
    out[i] = from[i];
  return n;
}

/* Where nobody states what the analyzer's input survives, no less attenuation is a choice than it has stood; without a sweep the most that there is. */
static void
drop_untried (const SpAnalyzer *analyzer, const SpSetting *today, SpSettingChoices *means)
{
  if (!isnan (analyzer->damage_dbm) || means->n_attenuations == 0)
    return;
  double stood_db = today ? today->attenuation_db : NAN, least_db = means->attenuations_db[means->n_attenuations - 1];
  if (stood_db <= least_db)
    least_db = stood_db;
  guint kept = 0;
  for (guint i = 0; i < means->n_attenuations; i++)
    if (means->attenuations_db[i] >= least_db)
      means->attenuations_db[kept++] = means->attenuations_db[i];
  means->n_attenuations = kept;
}

SpSettingChoices
sp_plan_setting_choices (const SpPlan *plan, const SpSetting *today)
{
  static const double rbws[] = { 100, 300, 1e3, 3e3, 1e4, 3e4, 1e5, 3e5, 1e6 }; /* common practice, no source */
  const SpAnalyzer *a = plan->task.analyzer;
  SpSettingChoices means = { 0 };
  guint n;
  const double *steps = sp_plan_attenuations_db (a, &n);
  means.n_attenuations = copy_steps (steps, n, means.attenuations_db, G_N_ELEMENTS (means.attenuations_db));
  drop_untried (a, today, &means);
  steps = steps_or (a->rbw_steps_hz, rbws, G_N_ELEMENTS (rbws), &n);
  means.n_rbws = copy_steps (steps, n, means.rbws_hz, G_N_ELEMENTS (means.rbws_hz));
  means.points = isnan (a->points_max) ? (today ? today->points : POINTS_ASSUMED) : a->points_max;
  return means;
}

/* Points within half an RBW lose under a decibel of a line with any detector. A setting that has them is not changed. */
static gboolean
divide (const SpSettingChoices *means, SpSetting *s)
{
  if (sp_setting_spacing_hz (s) <= s->rbw_hz / 2 * (1 + 1e-9))
    return s->parts <= SP_PARTS_MOST;
  s->points = means->points;
  s->parts = fmax (1, ceil ((s->stop_hz - s->start_hz) / ((means->points - 1) * s->rbw_hz / 2) - 1e-9));
  return s->parts <= SP_PARTS_MOST;
}

gboolean
sp_setting_choice (const SpSettingChoices *means, guint way, SpSetting *s)
{
  static const double averages[SP_WAYS] = { 1, 1, 1, 10, SP_AVERAGES_MOST }; /* common practice, no source */
  if (way == 0)
    return TRUE;
  s->hold = SP_HOLD_NONE;
  s->averages = averages[way];
  s->average = averages[way] > 1 ? SP_AVERAGE_POWER : SP_AVERAGE_NONE;
  s->detector = way == 1 ? SP_DETECTOR_PEAK : SP_DETECTOR_SAMPLE;
  if (way > 1)
    return divide (means, s);
  s->points = means->points;
  s->parts = 1;
  return TRUE;
}
