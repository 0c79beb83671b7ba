/* json-range.c - a plan at one setting as JSON */
#include "ui/report/json.h"
#include "ui/report/writer.h"

#include "ui/words/words.h"

#include <math.h>

static void
write_setting (JsonBuilder *b, const SpSetting *s)
{
  json_number (b, "start_hz", s->start_hz);
  json_number (b, "stop_hz", s->stop_hz);
  json_count (b, "points", (gint64) s->points);
  json_count (b, "parts", (gint64) s->parts);
  json_number (b, "rbw_hz", s->rbw_hz);
  json_number (b, "attenuation_db", s->attenuation_db);
  json_text (b, "detector", sp_detector_name (s->detector));
  json_text (b, "average", sp_average_name (s->average));
  json_count (b, "averages", (gint64) s->averages);
}

static void
write_harmonic (JsonBuilder *b, SpPlan *plan, const SpSetting *setting, guint order)
{
  SpOutlook o = sp_plan_harmonic (plan, setting, order);
  g_autoptr (SpReason) reason = sp_plan_settled (plan, setting, order, o.frequency_hz)
                                    ? NULL
                                    : sp_plan_prove (plan, setting, order, o.frequency_hz, NULL);
  json_builder_begin_object (b);
  json_count (b, "order", order);
  json_number (b, "frequency_hz", o.frequency_hz);
  json_number (b, "limit_dbm", o.limit_dbm);
  json_text (b, "limit_rule", o.limit_rule);
  json_number (b, "floor_dbm", o.floor_dbm);
  json_text (b, "floor_cause", isnan (o.floor_dbm) ? NULL : sp_floor_cause_name (o.cause));
  json_number (b, "noise_dbm", o.noise_dbm);
  json_number (b, "threshold_dbm", o.threshold_dbm);
  json_number (b, "detection_dbm", o.detection_dbm);
  json_number (b, "sampling_loss_db", o.sampling_loss_db);
  json_number (b, "distortion_dbm", o.product_dbm);
  json_number (b, "distortion_high_dbm", o.product_high_dbm);
  json_number (b, "margin_expanded_db", o.expanded_db);
  json_number (b, "missing_db", o.missing_db);
  json_yes (b, "calibrated", o.calibrated);
  json_yes (b, "swept", o.swept);
  json_yes (b, "resolved", o.resolved);
  json_reason (b, "would_prove", reason);
  json_builder_end_object (b);
}

static void
write_keying (JsonBuilder *b, const SpKeying *k)
{
  json_number (b, "key_down_s", k->keyed_s);
  json_number (b, "key_down_each_s", k->key_down_s);
  json_number (b, "pause_s", k->pause_s);
  json_text (b, "time_basis", sp_time_basis_name (k->basis));
  json_number (b, "longest_key_down_s", k->longest_s);
  json_yes (b, "longest_key_down_assumed", k->longest_assumed);
}

static void
write_unprovable (JsonBuilder *b, const SpAdvice *advice)
{
  json_array (b, "unprovable");
  for (guint i = 0; i < advice->n_unprovable; i++) {
    const SpUnprovable *u = &advice->unprovable[i];
    json_builder_begin_object (b);
    json_count (b, "order", u->order);
    json_text (b, "why", sp_obstacle_name (u->obstacle));
    json_number (b, "missing_db", u->missing_db);
    json_builder_end_object (b);
  }
  json_builder_end_array (b);
}

/* The advised sweep, or the one that misses least where none would prove everything. */
static void
write_advice (JsonBuilder *b, SpPlan *plan)
{
  SpAdvice advice = sp_plan_advise (plan);
  g_autofree char *sentence = sp_words_advice (&advice, " ", SP_HAND_MACHINE);
  const char *const keys[] = { "sweep", "deepest_sweep" };
  for (guint i = 0; i < G_N_ELEMENTS (keys); i++) {
    if (!advice.any || (i == 0 && !advice.proves)) {
      json_text (b, keys[i], NULL);
      continue;
    }
    json_object (b, keys[i]);
    write_setting (b, &advice.setting);
    json_number (b, "mixer_dbm", advice.mixer_dbm);
    json_number (b, "sweep_time_s", advice.time_s);
    write_keying (b, &advice.keying);
    json_builder_end_object (b);
  }
  if (advice.any && advice.close_by) {
    json_object (b, "close_sweep");
    write_setting (b, &advice.close);
    write_keying (b, &advice.close_keying);
    json_builder_end_object (b);
  } else {
    json_text (b, "close_sweep", NULL);
  }
  write_unprovable (b, &advice);
  json_text (b, "beside_why", advice.any && advice.close_obstacle ? sp_obstacle_name (advice.close_obstacle) : NULL);
  json_text (b, "advice", sentence);
}

char *
sp_json_range (SpPlan *plan, const SpSetting *setting)
{
  static const char *const unsafe[] = { NULL, "mixer", "input", "stage" };
  JsonBuilder *b = json_begin ();
  gboolean assumed;
  double best_dbm = sp_plan_best_mixer_dbm (plan, setting, &assumed);
  json_array (b, "harmonics");
  for (guint order = 2; order <= sp_plan_harmonics (plan); order++)
    write_harmonic (b, plan, setting, order);
  json_builder_end_array (b);
  json_number (b, "best_mixer_dbm", best_dbm);
  json_yes (b, "best_mixer_assumed", assumed);
  json_number (b, "mixer_dbm", sp_plan_mixer_dbm (plan, setting));
  json_text (b, "unsafe", unsafe[sp_plan_unsafe (plan, setting)]);
  json_object (b, "settings");
  write_setting (b, setting);
  json_builder_end_object (b);
  write_advice (b, plan);
  return json_end (b);
}
