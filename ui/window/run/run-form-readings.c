/* run-form-readings.c - the readings: a row for each frequency, and one more that is empty */
#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/quantity/text.h"
#include "core/quantity/typed.h"
#include "ui/window/run/run-form-private.h"
#include "ui/words/words.h"

static const SpFormColumn columns[] = {
  { N_ ("frequency"), N_ ("Of the readings in this row, such as 146MHz."), 9, FALSE },
  { N_ ("before, dB@min"), N_ ("What the meter read without the stage, before: -0.02@0; -0.03@1, each with its minute, or all without."),
    13, FALSE },
  { N_ ("inserted, dB@min"), N_ ("What it read with the stage put in; repeat it, opening and closing the plugs: -30.11@3; -30.13@5."), 19,
    TRUE },
  { N_ ("after, dB@min"), N_ ("What it read without the stage again: what drifted meanwhile shows."), 13, FALSE },
  { N_ ("loss, dB"), N_ ("Reference at the moment of each inserted reading, less that reading; the mean of them."), 0, FALSE },
  { N_ ("\xc2\xb1 U, dB"), N_ ("Expanded uncertainty, 95.45 %."), 0, FALSE },
};

/* The budget below is that of the row that is being typed. */
static void
on_entered (gpointer owner, SpFormRow *row)
{
  SpRunForm *form = owner;
  form->chosen_hz = row->frequency_hz;
  sp_run_form_show_result (form);
}

void
sp_run_form_set_up_table (SpRunForm *form)
{
  form->table.owner = form;
  form->table.typed = (void (*) (gpointer)) sp_run_form_typed;
  form->table.entered = on_entered;
  sp_form_table_init (&form->table, form->readings, columns, SP_RUN_CELLS, 2);
}

/* ---- read, and shown ---- */

static void
read_list (SpRunForm *form, const SpFormRow *row, guint column, GArray **list)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *typed = sp_typed_rows (sp_form_row_text (row, column), NULL, SP_TYPED_NO_FREQUENCY, sp_words_decimal_mark (), &error);
  GArray *readings = typed ? sp_run_parse_readings (typed, NULL, &error) : NULL;
  sp_form_mark (&form->wrong, row->said, row->cell[column], _ (columns[column].what), error ? error->message : NULL);
  if (!readings)
    return;
  g_array_unref (*list);
  *list = readings;
}

/* A row of which only the frequency is known is one that is yet to be read. */
static void
read_row (SpRunForm *form, SpRun *run, SpFormRow *row)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *frequency = sp_typed_frequency (sp_form_row_text (row, SP_RUN_FREQUENCY), sp_words_decimal_mark (), &error);
  gboolean empty = sp_form_row_is_empty (&form->table, row, SP_RUN_BEFORE);
  row->frequency_hz = NAN;
  if (frequency && *frequency && !sp_parse_frequency (frequency, &row->frequency_hz, &error))
    row->frequency_hz = NAN;
  if (frequency && !*frequency && !empty)
    error = sp_form_wants_frequency ();
  sp_form_mark (&form->wrong, row->said, row->cell[SP_RUN_FREQUENCY], _ (columns[SP_RUN_FREQUENCY].what), error ? error->message : NULL);
  if (empty) {
    for (guint i = SP_RUN_BEFORE; i < SP_RUN_CELLS; i++)
      sp_form_mark (&form->wrong, row->said, row->cell[i], NULL, NULL);
    return;
  }
  SpRunAt *at = sp_run_add_at (run, row->frequency_hz);
  at->heading = g_strconcat ("at ", frequency ? frequency : "", NULL);
  read_list (form, row, SP_RUN_BEFORE, &at->before);
  read_list (form, row, SP_RUN_INSERTED, &at->inserted);
  read_list (form, row, SP_RUN_AFTER, &at->after);
}

void
sp_run_form_read_rows (SpRunForm *form, SpRun *run)
{
  for (guint i = 0; i < form->table.rows->len; i++)
    read_row (form, run, form->table.rows->pdata[i]);
}

static void
show_row (SpRunForm *form, const SpFormRow *row)
{
  const SpRunPoint *point = NULL;
  for (guint i = 0; i < form->result->n && !sp_form_row_is_empty (&form->table, row, SP_RUN_BEFORE); i++)
    if (form->result->points[i].frequency_hz == row->frequency_hz)
      point = &form->result->points[i];
  g_autofree char *loss = point ? sp_words_number (point->loss_db, 3, SP_HAND_SCREEN) : g_strdup ("");
  g_autofree char *expanded = point ? sp_words_number (point->sum.expanded_db, 3, SP_HAND_SCREEN) : g_strdup ("");
  gtk_label_set_text (GTK_LABEL (row->result[0]), loss);
  gtk_label_set_text (GTK_LABEL (row->result[1]), expanded);
}

void
sp_run_form_show_rows (SpRunForm *form)
{
  for (guint i = 0; i < form->table.rows->len; i++)
    show_row (form, form->table.rows->pdata[i]);
}
