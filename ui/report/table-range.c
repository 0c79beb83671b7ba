/* table-range.c - a plan at one setting as a text table */
#include "ui/report/lines.h"
#include "ui/report/table.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static void
lines_of_setting (GString *out, SpPlan *plan, const SpSetting *s)
{
  g_autofree char *rbw = sp_words_frequency (s->rbw_hz, 0, SP_HAND_MACHINE), *from = sp_words_frequency (s->start_hz, 0, SP_HAND_MACHINE);
  g_autofree char *to = sp_words_frequency (s->stop_hz, 0, SP_HAND_MACHINE),
                  *mixer = sp_words_level (sp_plan_mixer_dbm (plan, s), 1, SP_HAND_MACHINE);
  gboolean assumed;
  double best_dbm = sp_plan_best_mixer_dbm (plan, s, &assumed);
  g_autofree char *best = sp_words_best_mixer (best_dbm, assumed, SP_HAND_MACHINE);
  const char *detector = sp_words_of_detector (s->detector);
  g_string_append_printf (out, _ ("RBW %s, attenuation %g dB, detector %s, average %s of %g, %g points from %s to %s"), rbw,
                          s->attenuation_db, detector ? detector : "-", sp_average_name (s->average), s->averages, s->points, from, to);
  if (s->parts > 1)
    g_string_append_printf (out, _ (", in %g sweeps side by side"), s->parts);
  SpKeying k = sp_plan_keying (plan, s);
  g_autofree char *key = sp_words_key_down (k.parts, k.key_down_s, k.pause_s, k.basis, SP_HAND_MACHINE);
  g_string_append_printf (out, ", %s\n", key);
  g_string_append_printf (out, _ ("At the mixer %s; best %s.\n"), mixer, best);
}

static void
lines_of_unsafe (GString *out, SpPlan *plan, const SpSetting *s)
{
  switch (sp_plan_unsafe (plan, s)) {
  case SP_UNSAFE_MIXER: g_string_append (out, _ ("! More than recommended at the mixer.\n")); break;
  case SP_UNSAFE_INPUT: g_string_append (out, _ ("! Over the analyzer's damage level.\n")); break;
  case SP_UNSAFE_STAGE:
    g_string_append (out, _ ("! Unsafe: a stage of the chain is over its rating, or throws the carrier back.\n"));
    break;
  case SP_UNSAFE_NOT: break;
  }
}

static void
row_of_harmonic (Columns *columns, SpPlan *plan, const SpSetting *setting, guint order)
{
  SpOutlook o = sp_plan_harmonic (plan, setting, order);
  g_autoptr (SpReason) reason = sp_plan_settled (plan, setting, order, o.frequency_hz)
                                    ? NULL
                                    : sp_plan_prove (plan, setting, order, o.frequency_hz, NULL);
  columns_add (columns, g_strdup_printf ("%u", order));
  cell_frequency (columns, o.frequency_hz);
  cell_db (columns, o.limit_dbm, 1);
  columns_add (columns, sp_words_floor (&o, SP_HAND_MACHINE));
  const char *cause = sp_words_outlook_cause (&o);
  cell_word (columns, *cause ? cause : NULL);
  cell_db (columns, o.expanded_db, 1);
  columns_add (columns, sp_words_missing (&o, SP_HAND_MACHINE));
  columns_add (columns, reason ? sp_words_reason (reason, SP_HAND_MACHINE) : g_strdup ("-"));
}

char *
sp_table_range (SpPlan *plan, const SpSetting *setting)
{
  GString *out = g_string_new (NULL);
  lines_of_unsafe (out, plan, setting);
  lines_of_setting (out, plan, setting);
  g_string_append_c (out, '\n');
  Columns *columns = columns_new ("rrrrlrrl", _ ("order"), _ ("frequency"), _ ("limit dBm"), _ ("floor dBm"), _ ("cause"), _ ("U dB"),
                                  _ ("missing dB"), _ ("what would prove it"), NULL);
  for (guint order = 2; order <= sp_plan_harmonics (plan); order++)
    row_of_harmonic (columns, plan, setting, order);
  columns_finish (columns, 0, out);
  SpAdvice advice = sp_plan_advise (plan);
  g_autofree char *sentence = sp_words_advice (&advice, " ", SP_HAND_MACHINE);
  g_string_append_printf (out, "\n%s\n\n%s\n", sentence, sp_words_cautions ());
  return g_string_free (out, FALSE);
}
