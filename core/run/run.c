/* run.c - the life of a run, and its text */
#include "core/run/run-private.h"

#include <math.h>

#include "core/quantity/text.h"
#include "core/quantity/writer.h"

static void
clear_extra (gpointer data)
{
  g_free (((SpRunExtra *) data)->name);
}

static void
free_at (gpointer data)
{
  SpRunAt *at = data;
  g_array_unref (at->before);
  g_array_unref (at->inserted);
  g_array_unref (at->after);
  g_free (at->heading);
  g_free (at);
}

SpRun *
sp_run_new (void)
{
  SpRun *run = g_atomic_rc_box_new0 (SpRun);
  sp_keys_init (sp_run_keys, run);
  run->extra = g_array_new (FALSE, FALSE, sizeof (SpRunExtra));
  g_array_set_clear_func (run->extra, clear_extra);
  run->at = g_ptr_array_new_with_free_func (free_at);
  run->warnings = sp_reasons_new ();
  return run;
}

SpRunAt *
sp_run_add_at (SpRun *run, double frequency_hz)
{
  SpRunAt *at = g_new0 (SpRunAt, 1);
  at->frequency_hz = frequency_hz;
  at->before = g_array_new (FALSE, FALSE, sizeof (SpMeterReading));
  at->inserted = g_array_new (FALSE, FALSE, sizeof (SpMeterReading));
  at->after = g_array_new (FALSE, FALSE, sizeof (SpMeterReading));
  g_ptr_array_add (run->at, at);
  return at;
}

void
sp_run_at_add (GArray *readings, double value_db, double minutes)
{
  SpMeterReading reading = { value_db, minutes };
  g_array_append_val (readings, reading);
}

void
sp_run_add_extra (SpRun *run, const char *name, double u_db, double dof)
{
  SpRunExtra extra = { g_strdup (name), u_db, dof };
  g_array_append_val (run->extra, extra);
}

SpRun *
sp_run_ref (const SpRun *run)
{
  return g_atomic_rc_box_acquire ((SpRun *) run);
}

static void
clear (gpointer data)
{
  SpRun *run = data;
  SpCurve **const curves[] = { &run->source_vswr,       &run->meter_vswr,     &run->stage_vswr,
                               &run->stage_output_vswr, &run->reference_vswr, &run->reference_output_vswr };
  for (guint i = 0; i < G_N_ELEMENTS (curves); i++)
    g_clear_pointer (curves[i], sp_curve_unref);
  g_array_unref (run->extra);
  g_ptr_array_unref (run->at);
  g_ptr_array_unref (run->warnings);
  sp_keys_free_texts (sp_run_keys, run);
  g_free (run->file);
  g_free (run->leftover);
  g_free (run->text);
  g_free (run->sha256);
}

void
sp_run_unref (SpRun *run)
{
  g_atomic_rc_box_release_full (run, clear);
}

/* -- text -- */

char *
sp_run_readings_text (const GArray *readings)
{
  GString *text = g_string_new (NULL);
  char value[32], minutes[32];
  for (guint i = 0; i < readings->len; i++) {
    const SpMeterReading *reading = &g_array_index (readings, SpMeterReading, i);
    g_string_append_printf (text, "%s%s", i ? "; " : "", sp_format_exact (reading->value_db, value));
    if (!isnan (reading->minutes))
      g_string_append_printf (text, "@%s", sp_format_exact (reading->minutes, minutes));
  }
  return g_string_free (text, FALSE);
}

static void
write_at (GString *text, const SpRunAt *at)
{
  char digits[32];
  g_autofree char *heading = at->heading ? g_strdup (at->heading) : g_strdup_printf ("at %s", sp_format_exact (at->frequency_hz, digits));
  sp_write_group (text, heading);
  sp_keys_write (sp_run_at_keys, text, at, NULL);
}

char *
sp_run_text (const SpRun *run)
{
  g_autoptr (GString) text = g_string_new (NULL);
  sp_write_group (text, "run");
  sp_keys_write (sp_run_keys, text, run, NULL);
  for (guint i = 0; i < run->at->len; i++)
    write_at (text, run->at->pdata[i]);
  return run->leftover && *run->leftover ? sp_key_file_join (text->str, run->leftover) : g_strdup (text->str);
}

/* -- for the stage -- */

static void
append_frequency (GString *text, double frequency_hz)
{
  char digits[32];
  if (frequency_hz >= 1e6 && frequency_hz / 1e6 * 1e6 == frequency_hz)
    g_string_append_printf (text, "%sMHz", sp_format_exact (frequency_hz / 1e6, digits));
  else
    g_string_append (text, sp_format_exact (frequency_hz, digits));
}

char *
sp_run_stage_text (const SpRun *run, const SpRunResult *result)
{
  GString *text = g_string_new (NULL);
  g_autoptr (GString) points = g_string_new (NULL);
  g_autofree char *name = sp_escape (run->stage ? run->stage : "-"), *heading = g_strconcat ("stage ", name, NULL);
  char loss[G_ASCII_DTOSTR_BUF_SIZE], u[G_ASCII_DTOSTR_BUF_SIZE], common[G_ASCII_DTOSTR_BUF_SIZE];
  for (guint i = 0; i < result->n; i++) {
    const SpRunPoint *point = &result->points[i];
    g_string_append (points, i ? "; " : "");
    append_frequency (points, point->frequency_hz);
    g_string_append_printf (points, " %s %s", g_ascii_formatd (loss, sizeof loss, "%.4f", point->loss_db),
                            g_ascii_formatd (u, sizeof u, "%.4f", point->sum.u_db));
  }
  sp_write_group (text, heading);
  sp_write_day (text, "calibrated", run->day);
  sp_write_number (text, "temperature_c", run->temperature_c);
  if (result->n > 0 && result->points[0].common_u_db > 0)
    sp_write_text (text, "common_u_db", g_ascii_formatd (common, sizeof common, "%.4f", result->points[0].common_u_db));
  if (result->n > 0)
    sp_write_text (text, "points", points->str);
  return g_string_free (text, FALSE);
}
