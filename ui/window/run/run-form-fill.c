/* run-form-fill.c - fills a run's form: from a run, from what was typed before, or with what a stage without a run begins with */
#include <math.h>
#include <string.h>

#include "core/quantity/text.h"
#include "ui/window/run/run-form-private.h"
#include "ui/window/widgets/entry.h"

static void
set_key (SpRunForm *form, guint i, const char *text)
{
  sp_entry_fill (form->key[i], text ? text : "");
}

static void
begin_filling (SpRunForm *form)
{
  form->table.filling = TRUE;
  form->chosen_hz = NAN;
  form->restored = FALSE;
  form->run_n = form->points_n = 0;
  g_clear_pointer (&form->leftover, g_free);
  sp_form_table_clear (&form->table);
}

static void
end_filling (SpRunForm *form, gboolean touched)
{
  if (form->table.rows->len < SP_FORM_ROWS)
    sp_form_table_add (&form->table, NULL);
  form->table.filling = FALSE;
  form->touched = touched;
  form->changes++;
  sp_run_form_compute (form);
}

static void
show_at (SpRunForm *form, const SpRunAt *at)
{
  g_autofree char *before = sp_run_readings_text (at->before), *inserted = sp_run_readings_text (at->inserted),
                  *after = sp_run_readings_text (at->after);
  g_autofree char *frequency = at->heading ? g_strdup (at->heading + strlen ("at ")) : sp_spell_frequency (at->frequency_hz);
  sp_form_table_add (&form->table, (const char *[]){ frequency, before, inserted, after });
}

void
sp_run_form_show_run (SpRunForm *form, const SpRun *run, gboolean touched)
{
  g_autofree char *text = sp_run_text (run);
  begin_filling (form);
  form->leftover = g_strdup (run->leftover);
  for (guint i = 0; i < SP_RUN_FORM_KEYS; i++) {
    g_autofree char *value = sp_key_text_get (text, "run", sp_run_form_key (i)),
                    *spelled = value ? sp_spell_value (value, SP_SPELL_ROWS) : NULL;
    set_key (form, i, g_str_has_suffix (sp_run_form_key (i), "vswr") ? spelled : value);
  }
  for (guint i = 0; i < run->at->len; i++)
    show_at (form, run->at->pdata[i]);
  end_filling (form, touched);
}

/* The last run of another stage, most likely taken with the same meter on the same evening. */
static const SpRun *
run_beside (const SpChain *chain, guint stage)
{
  for (guint i = chain->n; i-- > 0;)
    if (i != stage && chain->stages[i]->run)
      return chain->stages[i]->run;
  return NULL;
}

static char *
key_to_begin_with (const SpChain *chain, guint stage, const SpRun *beside, const char *key)
{
  static const char *const of_meter[] = {
    "interval_days", "temperature_c",      "temperature_u_c",     "source_vswr",     "meter_vswr", "line_m",
    "line_velocity", "meter_linearity_db", "meter_resolution_db", "meter_floor_dbm", NULL
  };
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();
  g_autofree char *value = NULL;
  if (strcmp (key, "date") == 0)
    return g_date_time_format (now, "%Y-%m-%d");
  if (strcmp (key, "stage_vswr") == 0)
    value = sp_chain_get (chain, (int) stage, "vswr");
  else if (beside && g_strv_contains (of_meter, key))
    value = sp_key_text_get (beside->text, "run", key);
  return value && g_str_has_suffix (key, "vswr") ? sp_spell_value (value, SP_SPELL_ROWS) : g_steal_pointer (&value);
}

static void
add_frequency (SpRunForm *form, double frequency_hz)
{
  g_autofree char *frequency = sp_spell_frequency (frequency_hz);
  sp_form_table_add (&form->table, (const char *[]){ frequency, NULL, NULL, NULL });
}

/* Begins with today's date, the stage's VSWR and frequencies, and what another stage's run says of meter and source.
 * A run of more frequencies than the form has rows is not shown at all: taking the first of them would change it. */
static void
show_empty (SpRunForm *form, const SpChain *chain, guint stage)
{
  const SpCurve *loss = chain->stages[stage]->loss;
  const SpRun *beside = run_beside (chain, stage);
  begin_filling (form);
  for (guint i = 0; i < SP_RUN_FORM_KEYS; i++) {
    g_autofree char *text = key_to_begin_with (chain, stage, beside, sp_run_form_key (i));
    set_key (form, i, text);
  }
  gboolean points = loss && !chain->stages[stage]->two_port && !chain->stages[stage]->run;
  for (guint i = 0; points && i < loss->n && i < SP_FORM_ROWS; i++)
    add_frequency (form, loss->frequency_hz[i]);
  form->points_n = points && loss->n > SP_FORM_ROWS ? loss->n : 0;
  form->run_n = chain->stages[stage]->run ? chain->stages[stage]->run->at->len : 0;
  for (guint i = 0; !loss && beside && i < beside->at->len && i < SP_FORM_ROWS; i++)
    add_frequency (form, ((SpRunAt *) beside->at->pdata[i])->frequency_hz);
  end_filling (form, FALSE);
}

void
sp_run_form_show_stage (SpRunForm *form)
{
  SpChain *chain = sp_chain_at (SP_DIALOG (form)->session, form->place);
  int stage = sp_chain_stage_named (chain, form->stage);
  const SpRun *run = stage >= 0 ? chain->stages[stage]->run : NULL;
  if (run && run->at->len <= SP_FORM_ROWS)
    sp_run_form_show_run (form, run, FALSE);
  else if (stage >= 0)
    show_empty (form, chain, (guint) stage);
}

gboolean
sp_run_form_restore (SpRunForm *form)
{
  begin_filling (form);
  form->restored = sp_run_form_show_draft (form);
  if (form->restored)
    end_filling (form, TRUE);
  return form->restored;
}
