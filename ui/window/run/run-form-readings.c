/* run-form-readings.c - the readings: a row for each frequency, and one more that is empty */
#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/quantity/text.h"
#include "core/quantity/typed.h"
#include "ui/window/run/run-form-private.h"
#include "ui/window/widgets/entry.h"
#include "ui/window/widgets/tooltip.h"
#include "ui/words/words.h"

static const struct {
  const char *what, *tip;
  int width;
} columns[SP_RUN_CELLS] = {
  { N_ ("frequency"), N_ ("Of the readings in this row, such as 146MHz."), 9 },
  { N_ ("before, dB@min"), N_ ("What the meter read without the stage, before: -0.02@0; -0.03@1, each with its minute, or all without."),
    13 },
  { N_ ("inserted, dB@min"), N_ ("What it read with the stage put in; repeat it, opening and closing the plugs: -30.11@3; -30.13@5."), 19 },
  { N_ ("after, dB@min"), N_ ("What it read without the stage again: what drifted meanwhile shows."), 13 },
};

static const char *
text_of (const SpRunRow *row, guint i)
{
  return gtk_editable_get_text (GTK_EDITABLE (row->cell[i]));
}

static gboolean
is_blank (const char *text)
{
  while (g_ascii_isspace (*text))
    text++;
  return !*text;
}

static gboolean
is_empty (const SpRunRow *row, guint from)
{
  for (guint i = from; i < SP_RUN_CELLS; i++)
    if (!is_blank (text_of (row, i)))
      return FALSE;
  return TRUE;
}

static SpRunRow *
row_of (SpRunForm *form, GtkWidget *cell, guint *index, guint *column)
{
  for (*index = 0; *index < form->rows->len; ++*index) {
    SpRunRow *row = form->rows->pdata[*index];
    for (*column = 0; *column < SP_RUN_CELLS; ++*column)
      if (row->cell[*column] == cell)
        return row;
  }
  return NULL;
}

static void
on_changed (GtkWidget *cell, SpRunForm *form)
{
  SpRunRow *last = form->rows->len ? form->rows->pdata[form->rows->len - 1] : NULL;
  (void) cell;
  if (form->filling)
    return;
  if (last && !is_empty (last, 0) && form->rows->len < SP_RUN_FORM_ROWS)
    sp_run_form_add_row (form, NULL);
  sp_run_form_typed (form);
}

/* Enter goes on in the row below, as down a column of readings. */
static void
on_activate (GtkWidget *cell, SpRunForm *form)
{
  guint index, column;
  if (row_of (form, cell, &index, &column) && index + 1 < form->rows->len)
    gtk_widget_grab_focus (((SpRunRow *) form->rows->pdata[index + 1])->cell[column]);
}

/* The budget below is that of the row that is being typed. */
static void
on_enter (GtkEventControllerFocus *focus, SpRunForm *form)
{
  guint index, column;
  SpRunRow *row = row_of (form, gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (focus)), &index, &column);
  if (!row || form->filling || isnan (row->frequency_hz))
    return;
  form->chosen_hz = row->frequency_hz;
  sp_run_form_show_result (form);
}

static GtkWidget *
new_cell (SpRunForm *form, guint column, guint line, const char *text)
{
  GtkWidget *cell = gtk_entry_new ();
  g_autofree char *name = g_strdup_printf (_ ("%s, row %u"), _ (columns[column].what), line);
  gtk_editable_set_width_chars (GTK_EDITABLE (cell), columns[column].width);
  if (column != SP_RUN_INSERTED)
    gtk_editable_set_max_width_chars (GTK_EDITABLE (cell), columns[column].width + 2);
  gtk_widget_set_hexpand (cell, column == SP_RUN_INSERTED);
  gtk_widget_add_css_class (cell, "plain");
  gtk_accessible_update_property (GTK_ACCESSIBLE (cell), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  sp_tip_set (cell, _ (columns[column].tip));
  if (text)
    sp_entry_fill (cell, text);
  g_signal_connect (cell, "changed", G_CALLBACK (on_changed), form);
  g_signal_connect (cell, "activate", G_CALLBACK (on_activate), form);
  GtkEventController *focus = gtk_event_controller_focus_new ();
  g_signal_connect (focus, "enter", G_CALLBACK (on_enter), form);
  gtk_widget_add_controller (cell, focus);
  return cell;
}

static GtkWidget *
new_number (void)
{
  GtkWidget *label = gtk_label_new ("");
  gtk_label_set_xalign (GTK_LABEL (label), 1);
  gtk_label_set_width_chars (GTK_LABEL (label), 6);
  return label;
}

SpRunRow *
sp_run_form_add_row (SpRunForm *form, const char *const *texts)
{
  SpRunRow *row = g_new0 (SpRunRow, 1);
  int line = (int) form->rows->len + 1;
  row->frequency_hz = NAN;
  for (guint i = 0; i < SP_RUN_CELLS; i++) {
    row->cell[i] = new_cell (form, i, (guint) line, texts ? texts[i] : NULL);
    gtk_grid_attach (GTK_GRID (form->readings), row->cell[i], (int) i, line, 1, 1);
  }
  row->loss = new_number ();
  row->expanded = new_number ();
  gtk_widget_add_css_class (row->loss, "strong");
  gtk_grid_attach (GTK_GRID (form->readings), row->loss, SP_RUN_CELLS, line, 1, 1);
  gtk_grid_attach (GTK_GRID (form->readings), row->expanded, SP_RUN_CELLS + 1, line, 1, 1);
  g_ptr_array_add (form->rows, row);
  return row;
}

void
sp_run_form_clear_rows (SpRunForm *form)
{
  while (form->rows->len > 0) {
    gtk_grid_remove_row (GTK_GRID (form->readings), (int) form->rows->len);
    g_ptr_array_set_size (form->rows, (int) form->rows->len - 1);
  }
}

static void
add_title (SpRunForm *form, int column, const char *text, const char *tip)
{
  GtkWidget *label = gtk_label_new (text);
  gtk_label_set_xalign (GTK_LABEL (label), column < SP_RUN_CELLS ? 0 : 1);
  gtk_widget_add_css_class (label, "soft");
  sp_tip_set (label, tip);
  gtk_grid_attach (GTK_GRID (form->readings), label, column, 0, 1, 1);
}

void
sp_run_form_add_titles (SpRunForm *form)
{
  for (int i = 0; i < SP_RUN_CELLS; i++)
    add_title (form, i, _ (columns[i].what), _ (columns[i].tip));
  add_title (form, SP_RUN_CELLS, _ ("loss, dB"),
             _ ("Reference at the moment of each inserted reading, less that reading; the mean of them."));
  add_title (form, SP_RUN_CELLS + 1, _ ("\xc2\xb1 U, dB"), _ ("Expanded uncertainty, 95.45 %."));
}

/* ---- read, and shown ---- */

static void
read_list (SpRunForm *form, const SpRunRow *row, guint column, GArray **list)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *typed = sp_typed_rows (text_of (row, column), NULL, SP_TYPED_NO_FREQUENCY, sp_words_decimal_mark (), &error);
  GArray *readings = typed ? sp_run_parse_readings (typed, NULL, &error) : NULL;
  sp_run_form_mark (form, row->cell[column], _ (columns[column].what), error ? error->message : NULL);
  if (!readings)
    return;
  g_array_unref (*list);
  *list = readings;
}

/* A row of which only the frequency is known is one that is yet to be read. */
static void
read_row (SpRunForm *form, SpRun *run, SpRunRow *row)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *frequency = sp_typed_frequency (text_of (row, SP_RUN_FREQUENCY), sp_words_decimal_mark (), &error);
  gboolean empty = is_empty (row, SP_RUN_BEFORE);
  row->frequency_hz = NAN;
  if (frequency && *frequency && !sp_parse_frequency (frequency, &row->frequency_hz, &error))
    row->frequency_hz = NAN;
  sp_run_form_mark (form, row->cell[SP_RUN_FREQUENCY], _ (columns[SP_RUN_FREQUENCY].what), error ? error->message : NULL);
  if (empty) {
    for (guint i = SP_RUN_BEFORE; i < SP_RUN_CELLS; i++)
      sp_run_form_mark (form, row->cell[i], NULL, NULL);
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
  for (guint i = 0; i < form->rows->len; i++)
    read_row (form, run, form->rows->pdata[i]);
}

static void
show_row (SpRunForm *form, const SpRunRow *row)
{
  const SpRunPoint *point = NULL;
  for (guint i = 0; i < form->result->n && !is_empty (row, SP_RUN_BEFORE); i++)
    if (form->result->points[i].frequency_hz == row->frequency_hz)
      point = &form->result->points[i];
  g_autofree char *loss = point ? sp_words_number (point->loss_db, 3, SP_HAND_SCREEN) : g_strdup ("");
  g_autofree char *expanded = point ? sp_words_number (point->sum.expanded_db, 3, SP_HAND_SCREEN) : g_strdup ("");
  gtk_label_set_text (GTK_LABEL (row->loss), loss);
  gtk_label_set_text (GTK_LABEL (row->expanded), expanded);
}

void
sp_run_form_show_rows (SpRunForm *form)
{
  for (guint i = 0; i < form->rows->len; i++)
    show_row (form, form->rows->pdata[i]);
}
