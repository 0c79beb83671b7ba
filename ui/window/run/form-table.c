/* form-table.c - a table of entries that has one empty row more than what was typed */
#include "ui/window/run/form-parts.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/quantity/error.h"
#include "core/quantity/keyfile.h"
#include "ui/window/session/drafts.h"
#include "ui/window/widgets/entry.h"
#include "ui/window/widgets/tooltip.h"

#define LEFTOVER "leftover"

const char *
sp_form_row_text (const SpFormRow *row, guint cell)
{
  return gtk_editable_get_text (GTK_EDITABLE (row->cell[cell]));
}

static gboolean
is_blank (const char *text)
{
  while (g_ascii_isspace (*text))
    text++;
  return !*text;
}

gboolean
sp_form_row_is_empty (const SpFormTable *table, const SpFormRow *row, guint from)
{
  for (guint i = from; i < table->n_cells; i++)
    if (!is_blank (sp_form_row_text (row, i)))
      return FALSE;
  return TRUE;
}

GError *
sp_form_wants_frequency (void)
{
  return g_error_new_literal (SP_ERROR, SP_ERROR_USAGE, _ ("none for the readings of this row; write one such as 145.6 MHz"));
}

static SpFormRow *
row_of (SpFormTable *table, GtkWidget *cell, guint *index, guint *column)
{
  for (*index = 0; *index < table->rows->len; ++*index) {
    SpFormRow *row = table->rows->pdata[*index];
    for (*column = 0; *column < table->n_cells; ++*column)
      if (row->cell[*column] == cell)
        return row;
  }
  return NULL;
}

static void
on_changed (GtkWidget *cell, SpFormTable *table)
{
  SpFormRow *last = table->rows->len ? table->rows->pdata[table->rows->len - 1] : NULL;
  (void) cell;
  if (table->filling)
    return;
  if (last && !sp_form_row_is_empty (table, last, 0) && table->rows->len < SP_FORM_ROWS)
    sp_form_table_add (table, NULL);
  table->typed (table->owner);
}

/* Enter goes on in the row below, as down a column of readings. */
static void
on_activate (GtkWidget *cell, SpFormTable *table)
{
  guint index, column;
  if (row_of (table, cell, &index, &column) && index + 1 < table->rows->len)
    gtk_widget_grab_focus (((SpFormRow *) table->rows->pdata[index + 1])->cell[column]);
}

static void
on_enter (GtkEventControllerFocus *focus, SpFormTable *table)
{
  guint index, column;
  SpFormRow *row = row_of (table, gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (focus)), &index, &column);
  if (row && !table->filling && !isnan (row->frequency_hz))
    table->entered (table->owner, row);
}

static GtkWidget *
new_cell (SpFormTable *table, guint column, guint line, const char *text)
{
  const SpFormColumn *about = &table->columns[column];
  GtkWidget *cell = gtk_entry_new ();
  g_autofree char *name = g_strdup_printf (_ ("%s, row %u"), _ (about->what), line);
  gtk_editable_set_width_chars (GTK_EDITABLE (cell), about->width);
  if (!about->wide)
    gtk_editable_set_max_width_chars (GTK_EDITABLE (cell), about->width + 2);
  gtk_widget_set_hexpand (cell, about->wide);
  gtk_widget_add_css_class (cell, "plain");
  gtk_accessible_update_property (GTK_ACCESSIBLE (cell), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  sp_tip_set (cell, _ (about->tip));
  if (text)
    sp_entry_fill (cell, text);
  g_signal_connect (cell, "changed", G_CALLBACK (on_changed), table);
  g_signal_connect (cell, "activate", G_CALLBACK (on_activate), table);
  GtkEventController *focus = gtk_event_controller_focus_new ();
  g_signal_connect (focus, "enter", G_CALLBACK (on_enter), table);
  gtk_widget_add_controller (cell, focus);
  return cell;
}

SpFormRow *
sp_form_table_add (SpFormTable *table, const char *const *texts)
{
  SpFormRow *row = g_new0 (SpFormRow, 1);
  int line = 2 * (int) table->rows->len + 1; /* below each, what is wrong with it */
  row->frequency_hz = NAN;
  for (guint i = 0; i < table->n_cells; i++) {
    row->cell[i] = new_cell (table, i, table->rows->len + 1, texts ? texts[i] : NULL);
    gtk_grid_attach (table->grid, row->cell[i], (int) i, line, 1, 1);
  }
  for (guint i = 0; i < table->n_results; i++) {
    row->result[i] = sp_form_label_new ("", 1, i == 0 ? "strong" : NULL);
    gtk_label_set_width_chars (GTK_LABEL (row->result[i]), 6);
    gtk_grid_attach (table->grid, row->result[i], (int) (table->n_cells + i), line, 1, 1);
  }
  row->said = sp_form_said_new (row->cell, table->n_cells);
  gtk_grid_attach (table->grid, GTK_WIDGET (row->said), 0, line + 1, (int) (table->n_cells + table->n_results), 1);
  g_ptr_array_add (table->rows, row);
  return row;
}

void
sp_form_table_clear (SpFormTable *table)
{
  while (table->rows->len > 0) {
    for (int line = 2; line > 0; line--)
      gtk_grid_remove_row (table->grid, 2 * (int) table->rows->len - 2 + line);
    g_ptr_array_set_size (table->rows, (int) table->rows->len - 1);
  }
}

void
sp_form_table_init (SpFormTable *table, GtkWidget *grid, const SpFormColumn *columns, guint n_cells, guint n_results)
{
  table->grid = GTK_GRID (grid);
  table->columns = columns;
  table->n_cells = n_cells;
  table->n_results = n_results;
  for (guint i = 0; i < n_cells + n_results; i++) {
    GtkWidget *label = sp_form_label_new (_ (columns[i].what), i < n_cells ? 0 : 1, "soft");
    sp_tip_set (label, _ (columns[i].tip));
    gtk_grid_attach (table->grid, label, (int) i, 0, 1, 1);
  }
}

/* ---- as texts ---- */

static char *
cell_name (const char *column, guint row)
{
  return g_strdup_printf ("%s-%u", column, row + 1);
}

/* The last row is empty, unless there can be no more. */
static guint
rows_typed (const SpFormTable *table)
{
  return table->rows->len > 0 && table->rows->len < SP_FORM_ROWS ? table->rows->len - 1 : table->rows->len;
}

static void
keep_cells (const SpFormTable *table, const char *const *names, GHashTable *texts)
{
  for (guint k = 0; k < rows_typed (table); k++)
    for (guint i = 0; i < table->n_cells; i++)
      g_hash_table_insert (texts, cell_name (names[i], k), g_strdup (sp_form_row_text (table->rows->pdata[k], i)));
}

/* FALSE: no such row. */
static gboolean
restore_row (SpFormTable *table, const char *const *names, GHashTable *texts, guint row)
{
  const char *cells[SP_FORM_CELLS];
  gboolean there = FALSE;
  for (guint i = 0; i < table->n_cells; i++) {
    g_autofree char *name = cell_name (names[i], row);
    const char *text = g_hash_table_lookup (texts, name);
    cells[i] = text ? text : "";
    there = there || text;
  }
  if (there)
    sp_form_table_add (table, cells);
  return there;
}

GHashTable *
sp_form_draft (const SpFormTexts *form, const char *leftover)
{
  GHashTable *texts = sp_draft_new ();
  if (leftover)
    g_hash_table_insert (texts, g_strdup (LEFTOVER), g_strdup (leftover));
  for (guint i = 0; i < form->n_entries; i++)
    g_hash_table_insert (texts, g_strdup (form->key (i)), g_strdup (gtk_editable_get_text (GTK_EDITABLE (form->entries[i]))));
  keep_cells (form->table, form->names, texts);
  return texts;
}

void
sp_form_restore (const SpFormTexts *form, GHashTable *draft, char **leftover)
{
  const char *lines = g_hash_table_lookup (draft, LEFTOVER);
  g_autoptr (SpKeyFile) read = lines ? sp_key_file_parse (lines, strlen (lines), LEFTOVER, NULL) : NULL;
  *leftover = read ? g_strdup (lines) : NULL;
  for (guint i = 0; i < form->n_entries; i++) {
    const char *text = g_hash_table_lookup (draft, form->key (i));
    sp_entry_fill (form->entries[i], text ? text : "");
  }
  for (guint row = 0; row < SP_FORM_ROWS && restore_row (form->table, form->names, draft, row); row++)
    ;
}
