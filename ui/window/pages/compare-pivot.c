/* compare-pivot.c - tables of labels: a radio's conditions by band and power */
#include "ui/window/pages/compare-pivot.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "ui/report/pivot.h"
#include "ui/window/widgets/drawing-area.h"
#include "ui/words/words.h"

#define BUTTON_INSET 8 /* a cell's words stand that far within it */

struct _SpComparePivot {
  GtkBox parent_instance;
  SpSession *session;
  SpComparison *comparison; /* NULL until the first findings */
  gboolean following;
  GtkWidget *of, *tables;
};

G_DEFINE_FINAL_TYPE (SpComparePivot, sp_compare_pivot, GTK_TYPE_BOX)

/* 0: the room; else the harmonic. */
static guint
order_of (SpComparePivot *self)
{
  guint selected = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->of));
  return selected == GTK_INVALID_LIST_POSITION || selected == 0 ? 0 : selected + 1;
}

/* ---- a table ---- */

static GtkWidget *
label_of (const char *text, const char *css_class)
{
  GtkWidget *label = gtk_label_new (text);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  if (css_class)
    gtk_widget_add_css_class (label, css_class);
  return label;
}

static void
choose (GtkWidget *button, const char *action, GVariant *condition)
{
  (void) action;
  SpComparePivot *self = SP_COMPARE_PIVOT (button);
  sp_session_choose (self->session, g_variant_get_uint32 (condition), SP_DECIDING_EMISSION);
}

/* Glyph and words; a click chooses the condition. By keys the list of radios does: a hundred stops for Tab are none. */
static GtkWidget *
cell_of (SpComparePivot *self, const SpPivot *pivot, const SpPivotCell *cell, const char *text)
{
  const SpConditionFindings *found = &self->comparison->findings->conditions[cell->condition];
  GtkWidget *button = gtk_button_new (), *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 4), *glyph = sp_glyph_new ();
  SpVerdict verdict = pivot->order && cell->emission ? cell->emission->verdict : found->verdict;
  gboolean worst = cell->worst_in_row || cell->worst_in_column;
  g_autofree char *said = g_strdup_printf (_ ("%s: %s, %s%s"), found->name, text, sp_words_verdict (verdict),
                                           worst ? _ (", the worst of its row or column") : "");
  sp_glyph_set (SP_GLYPH (glyph), TRUE, verdict);
  gtk_box_append (GTK_BOX (box), glyph);
  gtk_box_append (GTK_BOX (box), label_of (text, worst ? "strong" : NULL));
  gtk_button_set_child (GTK_BUTTON (button), box);
  gtk_button_set_has_frame (GTK_BUTTON (button), FALSE);
  gtk_widget_set_focusable (button, FALSE);
  gtk_widget_set_halign (button, GTK_ALIGN_START);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), "pivot.choose");
  gtk_actionable_set_action_target (GTK_ACTIONABLE (button), "u", cell->condition);
  gtk_widget_set_tooltip_text (button, said);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, said, -1);
  return button;
}

static GtkWidget *
table_of (SpComparePivot *self, const SpPivot *pivot)
{
  g_autoptr (SpPivotWords) words = sp_pivot_words (pivot, self->comparison->findings, FALSE, SP_HAND_SCREEN);
  GtkWidget *grid = gtk_grid_new ();
  gtk_grid_set_column_spacing (GTK_GRID (grid), 20);
  gtk_grid_set_row_spacing (GTK_GRID (grid), 2);
  for (guint i = 0; i < words->cells->len; i++) {
    guint row = i / words->columns, column = i % words->columns;
    const char *text = g_ptr_array_index (words->cells, i);
    gboolean inner = row > 0 && row <= pivot->n_rows && column > 0 && column <= pivot->n_columns;
    const SpPivotCell *cell = inner ? sp_pivot_cell (pivot, row - 1, column - 1) : NULL;
    gboolean edge = row == 0 || row > pivot->n_rows || column > pivot->n_columns;
    GtkWidget *widget = cell && cell->n ? cell_of (self, pivot, cell, text) : label_of (text, edge ? "soft" : "strong");
    gtk_widget_set_margin_start (widget, column && !(cell && cell->n) ? BUTTON_INSET : 0);
    gtk_grid_attach (GTK_GRID (grid), widget, (int) column, (int) row, 1, 1);
  }
  return grid;
}

static GtkWidget *
sentence_of (const char *text)
{
  GtkWidget *label = label_of (text, "soft");
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  return label;
}

static void
fill (SpComparePivot *self)
{
  GtkWidget *child;
  while ((child = gtk_widget_get_first_child (self->tables)))
    gtk_box_remove (GTK_BOX (self->tables), child);
  if (!self->comparison)
    return;
  g_autoptr (GPtrArray) pivots = sp_compare_pivots (self->comparison, order_of (self));
  g_autoptr (GPtrArray) steady = sp_compare_steady_spurs (self->comparison);
  for (guint i = 0; i < pivots->len; i++) {
    g_autofree char *title = sp_pivot_title (g_ptr_array_index (pivots, i));
    gtk_box_append (GTK_BOX (self->tables), label_of (title, "heading"));
    gtk_box_append (GTK_BOX (self->tables), table_of (self, g_ptr_array_index (pivots, i)));
  }
  if (!pivots->len)
    gtk_box_append (GTK_BOX (self->tables), sentence_of (_ ("No radio has two conditions: nothing stands beside each other.")));
  for (guint i = 0; i < steady->len; i++) {
    g_autofree char *said = sp_words_steady_spur (g_ptr_array_index (steady, i), SP_HAND_SCREEN);
    gtk_box_append (GTK_BOX (self->tables), sentence_of (said));
  }
}

/* ---- what is in it ---- */

static void
follow_findings (SpComparePivot *self)
{
  SpFindings *findings = sp_session_findings (self->session);
  guint order = order_of (self), most = 1;
  g_autoptr (GtkStringList) choices = gtk_string_list_new (NULL);
  g_clear_pointer (&self->comparison, sp_comparison_unref);
  self->comparison = findings ? sp_compare (findings) : NULL;
  gtk_string_list_append (choices, _ ("room"));
  for (most = 2; self->comparison && most <= self->comparison->most_order; most++) {
    SpEmission harmonic = { .order = most };
    g_autofree char *name = sp_words_emission (&harmonic, SP_HAND_SCREEN), *choice = g_strdup_printf (_ ("%s, dBc"), name);
    gtk_string_list_append (choices, choice);
  }
  self->following = TRUE;
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->of), G_LIST_MODEL (choices));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->of), order && order < most ? order - 1 : 0);
  self->following = FALSE;
  fill (self);
}

static void
chosen_anew (SpComparePivot *self)
{
  if (!self->following)
    fill (self);
}

static GdkContentProvider *
bytes_of (SpComparePivot *self, SpPivotForm form, const char *type)
{
  char *text = sp_report_pivot (self->comparison, order_of (self), form);
  g_autoptr (GBytes) bytes = g_bytes_new_take (text, strlen (text));
  return gdk_content_provider_new_for_bytes (type, bytes);
}

GdkContentProvider *
sp_compare_pivot_copied (SpComparePivot *self)
{
  if (!self->comparison)
    return NULL;
  GdkContentProvider *forms[] = { bytes_of (self, SP_PIVOT_HTML, "text/html"), bytes_of (self, SP_PIVOT_CSV, "text/csv"),
                                  bytes_of (self, SP_PIVOT_TEXT, "text/plain;charset=utf-8"),
                                  bytes_of (self, SP_PIVOT_TEXT, "text/plain") };
  return gdk_content_provider_new_union (forms, G_N_ELEMENTS (forms));
}

static void
sp_compare_pivot_finalize (GObject *object)
{
  SpComparePivot *self = SP_COMPARE_PIVOT (object);
  g_clear_pointer (&self->comparison, sp_comparison_unref);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (sp_compare_pivot_parent_class)->finalize (object);
}

static void
sp_compare_pivot_class_init (SpComparePivotClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = sp_compare_pivot_finalize;
  gtk_widget_class_install_action (GTK_WIDGET_CLASS (klass), "pivot.choose", "u", choose);
}

static void
sp_compare_pivot_init (SpComparePivot *self)
{
  GtkWidget *choices = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8), *scrolled = gtk_scrolled_window_new ();
  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
  gtk_box_set_spacing (GTK_BOX (self), 8);
  self->of = gtk_drop_down_new (NULL, NULL);
  self->tables = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->of), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("What the table holds"), -1);
  g_signal_connect_swapped (self->of, "notify::selected", G_CALLBACK (chosen_anew), self);
  gtk_box_append (GTK_BOX (choices), label_of (_ ("in each cell"), "soft"));
  gtk_box_append (GTK_BOX (choices), self->of);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), self->tables);
  gtk_widget_set_vexpand (scrolled, TRUE);
  gtk_box_append (GTK_BOX (self), choices);
  gtk_box_append (GTK_BOX (self), scrolled);
}

GtkWidget *
sp_compare_pivot_new (SpSession *session)
{
  SpComparePivot *self = g_object_new (SP_TYPE_COMPARE_PIVOT, NULL);
  self->session = g_object_ref (session);
  g_signal_connect_object (session, "notify::findings", G_CALLBACK (follow_findings), self, G_CONNECT_SWAPPED);
  follow_findings (self);
  return GTK_WIDGET (self);
}
