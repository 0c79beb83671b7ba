/* run.c - the life of a run, and its text */
#include "core/run/run-private.h"

#include <math.h>

#include "core/curve/points.h"
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
  run->day = run->interval_days = run->temperature_c = run->temperature_u_c = run->temperature_coefficient = NAN;
  run->line_m = run->line_velocity = run->meter_linearity_db = run->meter_resolution_db = run->meter_floor_dbm = NAN;
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
  g_free (run->stage);
  g_free (run->note);
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

static void
write_extra (GString *text, const GArray *extra)
{
  g_autoptr (GString) value = g_string_new (NULL);
  char u[32], dof[32];
  for (guint i = 0; i < extra->len; i++) {
    const SpRunExtra *term = &g_array_index (extra, SpRunExtra, i);
    g_autofree char *name = sp_escape (term->name);
    g_string_append_printf (value, "%s%s %s", i ? "; " : "", name, sp_format_exact (term->u_db, u));
    if (isfinite (term->dof))
      g_string_append_printf (value, " %s", sp_format_exact (term->dof, dof));
  }
  if (extra->len > 0)
    sp_write_text (text, "extra", value->str);
}

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
write_readings (GString *text, const char *key, const GArray *readings)
{
  g_autofree char *value = sp_run_readings_text (readings);
  if (readings->len > 0)
    sp_write_text (text, key, value);
}

static void
write_at (GString *text, const SpRunAt *at)
{
  char digits[32];
  g_autofree char *heading = at->heading ? g_strdup (at->heading) : g_strdup_printf ("at %s", sp_format_exact (at->frequency_hz, digits));
  sp_write_group (text, heading);
  write_readings (text, "before", at->before);
  write_readings (text, "inserted", at->inserted);
  write_readings (text, "after", at->after);
}

char *
sp_run_text (const SpRun *run)
{
  g_autoptr (GString) text = g_string_new (NULL);
  sp_write_group (text, "run");
  sp_write_text (text, "stage", run->stage);
  sp_write_day (text, "date", run->day);
  sp_write_number (text, "interval_days", run->interval_days);
  sp_write_number (text, "temperature_c", run->temperature_c);
  sp_write_number (text, "temperature_u_c", run->temperature_u_c);
  sp_write_number (text, "temperature_coefficient", run->temperature_coefficient);
  sp_curve_write (text, "source_vswr", run->source_vswr);
  sp_curve_write (text, "meter_vswr", run->meter_vswr);
  sp_curve_write (text, "stage_vswr", run->stage_vswr);
  sp_curve_write (text, "stage_output_vswr", run->stage_output_vswr);
  sp_curve_write (text, "reference_vswr", run->reference_vswr);
  sp_curve_write (text, "reference_output_vswr", run->reference_output_vswr);
  sp_write_number (text, "line_m", run->line_m);
  sp_write_number (text, "line_velocity", run->line_velocity);
  sp_write_number (text, "meter_linearity_db", run->meter_linearity_db);
  sp_write_number (text, "meter_resolution_db", run->meter_resolution_db);
  sp_write_number (text, "meter_floor_dbm", run->meter_floor_dbm);
  if (run->correction_db != 0)
    sp_write_number (text, "correction_db", run->correction_db);
  write_extra (text, run->extra);
  sp_write_text (text, "note", run->note);
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
                            g_ascii_formatd (u, sizeof u, "%.4f", point->u_db));
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

const char *
sp_run_shape_name (SpRunShape shape)
{
  static const char *const names[] = { "normal", "student", "rectangular", "U-shaped" };
  g_return_val_if_fail ((guint) shape < G_N_ELEMENTS (names), NULL);
  return names[shape];
}
