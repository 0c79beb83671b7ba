/* ledger.c - the table of emissions */
#include "ui/window/pages/ledger.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "ui/figure/parts.h"
#include "ui/window/widgets/drawing-area.h"
#include "ui/window/widgets/items.h"
#include "ui/window/widgets/table.h"
#include "ui/window/widgets/tooltip.h"
#include "ui/words/words.h"

struct _SpLedger {
  GtkWidget parent_instance;
  SpSession *session;
  gboolean following; /* the selection is being set to what the session says */
  GPtrArray *rest;    /* of SpFoundItem: rows still to come */
  guint rest_source;
  /* of the template */
  GListStore *store;
  GtkSortListModel *sorted;
  GtkSingleSelection *selection;
  GtkWidget *scroller, *view;
};

G_DEFINE_FINAL_TYPE (SpLedger, sp_ledger, GTK_TYPE_WIDGET)

#define FIRST_ROWS 6
#define REST_AFTER_MS 120

typedef enum { NAME, PLACE, LEVEL, U, DBC, ORIGIN, ROOM, P, VERDICT, BECAUSE, N_COLUMNS } Column;

static const struct {
  const char *title, *tip;
  int width, narrow; /* -1: what is left. narrow: for the verdict to be in sight at 1024, the sentence by scrolling */
  gboolean number;
} columns[N_COLUMNS] = {
  { N_ ("emission"), N_ ("One component that was found, or looked for."), 198, 182, FALSE },
  { N_ ("MHz"), N_ ("Where it was found, or where it would be."), 74, 64, TRUE },
  { N_ ("dBm"), N_ ("Level at the radio's socket; after <, the floor: nothing below it could have been seen."), 76, 62, TRUE },
  { N_ ("± U"), N_ ("Expanded uncertainty of the level, 95 % coverage."), 46, 42, TRUE },
  { N_ ("dBc"), N_ ("Level relative to the fundamental."), 72, 66, TRUE },
  { N_ ("origin"), N_ ("Whose emission it is: the radio's, the analyzer's own, both, or not tested."), 78, 72, FALSE },
  { N_ ("room"),
    N_ ("What the verdict goes by: limit minus level, or minus the end of the radio's own part that decided. Positive is good."), 140, 114,
    TRUE },
  { N_ ("p"),
    N_ ("Probability that the level lies below the limit, from the reading and its uncertainty; none where the radio's part decided."), 48,
    48, TRUE },
  { N_ ("verdict"), N_ ("What can be said of it under the rule that was chosen."), 96, 92, FALSE },
  { N_ ("because"), N_ ("Why the verdict is what it is, and the least that would settle it."), -1, 640, FALSE },
};

static char *
because (const SpEmission *e)
{
  g_autofree char *why = e->reason ? sp_words_reason (e->reason, SP_HAND_SCREEN) : g_strdup ("");
  g_autofree char *prove = e->would_prove ? sp_words_reason (e->would_prove, SP_HAND_SCREEN) : g_strdup ("");
  g_autofree char *relation = e->relation ? sp_words_reason (e->relation, SP_HAND_SCREEN) : NULL;
  gboolean settles = e->would_prove && e->verdict != SP_VERDICT_COMPLIES;
  return g_strconcat (settles ? prove : "", settles ? " " : "", why, relation ? " " : "", relation, NULL);
}

static char *
name_of (SpFoundItem *item)
{
  const SpEmission *e = sp_found_item_at (item);
  g_autofree char *emission = sp_words_emission (e, SP_HAND_SCREEN);
  return g_strdup_printf ("%s %s", sp_found_item_found (item)->name, emission);
}

static char *
cell_text (SpFoundItem *item, Column column)
{
  const SpEmission *e = sp_found_item_at (item);
  double conformity = sp_emission_deciding_conformity (e);
  switch (column) {
  case NAME: return name_of (item);
  case PLACE: return sp_words_number (e->frequency_hz / 1e6, 2, SP_HAND_SCREEN);
  case LEVEL: return e->swept ? sp_words_seen (e, e->level_dbm, SP_HAND_SCREEN) : g_strdup ("");
  case U: return e->swept ? sp_words_number (e->budget.expanded_level_db, 1, SP_HAND_SCREEN) : g_strdup ("");
  case DBC: return isnan (e->level_dbc) ? g_strdup ("") : sp_words_seen (e, e->level_dbc, SP_HAND_SCREEN);
  case ROOM: return sp_words_room (e, SP_HAND_SCREEN);
  case P: return isnan (conformity) ? g_strdup ("") : sp_words_number (conformity, 3, SP_HAND_SCREEN);
  case ORIGIN: return g_strdup (e->origin == SP_ORIGIN_NONE ? "" : sp_words_origin (e->origin));
  case VERDICT: return g_strdup (sp_words_verdict (e->verdict));
  default: return because (e);
  }
}

/* ---- cells ---- */

static void
draw_margin (SpPen *pen, const SpRect *rect, gpointer list_item)
{
  SpFoundItem *item = gtk_list_item_get_item (list_item);
  const SpEmission *e = item ? sp_found_item_at (item) : NULL;
  if (e && !isnan (e->limit_dbm) && e->swept && !sp_emission_is_blind (e))
    sp_margin_line_draw (pen, 2, rect->height / 2, rect->width - 4, sp_emission_deciding_margin_db (e),
                         sp_emission_deciding_expanded_db (e));
}

static void
set_up (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer data)
{
  Column column = GPOINTER_TO_UINT (data);
  (void) factory;
  GtkWidget *label = gtk_label_new (""), *box = label; /* a label alone where nothing stands beside it: rows are made by the dozen */
  if (column == NAME || column == ROOM)
    box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  if (column == NAME)
    gtk_box_append (GTK_BOX (box), sp_glyph_new ());
  if (column == ROOM) {
    GtkWidget *line = sp_paper_new (draw_margin, item);
    gtk_widget_set_size_request (line, 40, 16); /* what the number leaves */
    gtk_widget_set_hexpand (line, TRUE);
    gtk_label_set_width_chars (GTK_LABEL (label), 6);
    gtk_box_append (GTK_BOX (box), line);
  }
  gtk_label_set_xalign (GTK_LABEL (label), columns[column].number ? 1 : 0);
  gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
  gtk_widget_set_hexpand (label, column != ROOM);
  if (column == NAME || column == VERDICT)
    gtk_widget_add_css_class (label, "strong");
  if (column == BECAUSE)
    gtk_widget_add_css_class (label, "small");
  if (box != label)
    gtk_box_append (GTK_BOX (box), label);
  gtk_list_item_set_child (item, box);
}

/* Returns the reading's margin as a sentence where something else decided; NULL: the reading did. */
static char *
reading_beside (const SpEmission *e)
{
  if (e->decision != SP_DECISION_PART_HIGH && e->decision != SP_DECISION_PART_LOW)
    return NULL;
  g_autofree char *margin = sp_words_signed (e->margin_db, 1, SP_HAND_SCREEN), *limit = sp_words_level (e->limit_dbm, 1, SP_HAND_SCREEN),
                  *level = sp_words_level (e->level_dbm, 1, SP_HAND_SCREEN), *part = sp_words_radio_part (e, SP_HAND_SCREEN);
  return g_strdup_printf (_ ("The radio's own part decided: %s dBm. The reading's margin is %s dB: limit %s less %s."), part, margin, limit,
                          level);
}

static void
bind (GtkSignalListItemFactory *factory, GtkListItem *list_item, gpointer data)
{
  Column column = GPOINTER_TO_UINT (data);
  (void) factory;
  SpFoundItem *item = gtk_list_item_get_item (list_item);
  GtkWidget *box = gtk_list_item_get_child (list_item), *label = GTK_IS_LABEL (box) ? box : gtk_widget_get_last_child (box);
  g_autofree char *text = cell_text (item, column);
  gtk_label_set_text (GTK_LABEL (label), text);
  g_autofree char *reading = column == ROOM ? reading_beside (sp_found_item_at (item)) : NULL;
  sp_tip_set (box, column == BECAUSE || column == NAME ? text : reading);
  if (column == NAME)
    sp_glyph_set (SP_GLYPH (gtk_widget_get_first_child (box)), TRUE, sp_found_item_at (item)->verdict);
  if (column == ROOM)
    gtk_widget_queue_draw (gtk_widget_get_first_child (box));
}

/* ---- order ---- */

static int
compare_numbers (double a, double b)
{
  if (isnan (a) || isnan (b))
    return isnan (a) - isnan (b); /* what has no number stands last */
  return (a > b) - (a < b);
}

static double
sort_number (const SpEmission *e, Column column)
{
  switch (column) {
  case PLACE: return e->frequency_hz;
  case LEVEL: return e->level_dbm;
  case U: return e->budget.expanded_level_db;
  case DBC: return e->level_dbc;
  case P: return sp_emission_deciding_conformity (e);
  case VERDICT: return -(double) e->verdict;
  case ORIGIN: return e->origin;
  default: return sp_emission_deciding_margin_db (e);
  }
}

static int
compare (const void *a, const void *b, gpointer data)
{
  Column column = (Column) GPOINTER_TO_UINT (data);
  SpFoundItem *x = (SpFoundItem *) a, *y = (SpFoundItem *) b;
  if (column == NAME || column == BECAUSE) {
    g_autofree char *s = cell_text (x, column), *t = cell_text (y, column);
    return g_utf8_collate (s, t);
  }
  return compare_numbers (sort_number (sp_found_item_at (x), column), sort_number (sp_found_item_at (y), column));
}

static gboolean
is_unsettled (SpFoundItem *item)
{
  return sp_findings_unsettled (sp_found_item_found (item)) == sp_found_item_at (item);
}

/* Sorts the store: first what stands above its limit unsettled beside a verdict, then the worst verdict, then the least room. */
static int
worst_first (const void *a, const void *b)
{
  SpFoundItem *first = *(SpFoundItem *const *) a, *second = *(SpFoundItem *const *) b;
  const SpEmission *x = sp_found_item_at (first), *y = sp_found_item_at (second);
  int unsettled = (int) is_unsettled (second) - (int) is_unsettled (first), verdict = (int) y->verdict - (int) x->verdict;
  if (unsettled)
    return unsettled;
  return verdict ? verdict : compare_numbers (sp_emission_deciding_margin_db (x), sp_emission_deciding_margin_db (y));
}

/* ---- follow the session ---- */

static void
scroll_to (SpLedger *self, guint position)
{
  for (GtkWidget *child = gtk_widget_get_first_child (self->view); child; child = gtk_widget_get_next_sibling (child))
    if (GTK_IS_LIST_BASE (child)) /* 4.8 has no call for it; the inner list has the action */
      gtk_widget_activate_action (child, "list.scroll-to-item", "u", position);
}

static void
follow_choice (SpLedger *self)
{
  guint condition = sp_session_condition (self->session);
  int emission = sp_session_emission (self->session);
  self->following = TRUE;
  gtk_single_selection_set_selected (self->selection, GTK_INVALID_LIST_POSITION);
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (self->sorted)); i++) {
    g_autoptr (SpFoundItem) item = g_list_model_get_item (G_LIST_MODEL (self->sorted), i);
    if (sp_found_item_condition (item) != condition || sp_found_item_emission (item) != emission)
      continue;
    gtk_single_selection_set_selected (self->selection, i);
    scroll_to (self, i);
    break;
  }
  self->following = FALSE;
}

/* Adds the rows below the fold after the first frame: a row is ten cells of widgets. */
static gboolean
add_rest (gpointer data)
{
  SpLedger *self = data;
  self->rest_source = 0;
  self->following = TRUE;
  g_list_store_splice (self->store, g_list_model_get_n_items (G_LIST_MODEL (self->store)), 0, self->rest->pdata, self->rest->len);
  self->following = FALSE;
  g_ptr_array_set_size (self->rest, 0);
  follow_choice (self);
  return G_SOURCE_REMOVE;
}

static void
follow_findings (SpLedger *self)
{
  SpFindings *findings = sp_session_findings (self->session);
  g_autoptr (GPtrArray) items = g_ptr_array_new_with_free_func (g_object_unref);
  for (guint i = 0; findings && i < findings->n; i++)
    for (guint j = 0; j < findings->conditions[i].n_emissions; j++)
      g_ptr_array_add (items, sp_found_item_new (findings, i, (int) j));
  g_ptr_array_sort (items, worst_first);
  self->following = TRUE;
  guint first = MIN (items->len, FIRST_ROWS);
  g_list_store_splice (self->store, 0, g_list_model_get_n_items (G_LIST_MODEL (self->store)), items->pdata, first);
  self->following = FALSE;
  g_ptr_array_set_size (self->rest, 0);
  for (guint i = first; i < items->len; i++)
    g_ptr_array_add (self->rest, g_object_ref (g_ptr_array_index (items, i)));
  if (self->rest->len > 0 && self->rest_source == 0)
    self->rest_source = g_timeout_add (REST_AFTER_MS, add_rest, self);
  follow_choice (self);
}

static void
selected (SpLedger *self)
{
  g_autoptr (SpFoundItem) item = NULL;
  if (self->following || !gtk_single_selection_get_selected_item (self->selection))
    return;
  item = g_object_ref (gtk_single_selection_get_selected_item (self->selection));
  sp_session_choose (self->session, sp_found_item_condition (item), sp_found_item_emission (item));
}

/* Enter or a double click shows the evidence. */
static void
activated (GtkColumnView *view, guint position, SpLedger *self)
{
  (void) position, (void) self;
  gtk_widget_activate_action (GTK_WIDGET (view), "win.evidence", NULL);
}

static void
add_column (SpLedger *self, Column column)
{
  static const SpTableCells cells = { set_up, bind, NULL };
  GtkColumnViewColumn *view_column = sp_table_add_column (GTK_COLUMN_VIEW (self->view), _ (columns[column].title), columns[column].width,
                                                          &cells, column);
  g_autoptr (GtkSorter) sorter = GTK_SORTER (gtk_custom_sorter_new (compare, GUINT_TO_POINTER (column), NULL));
  gtk_column_view_column_set_sorter (view_column, sorter);
  gtk_column_view_column_set_resizable (view_column, TRUE);
}

void
sp_ledger_set_narrow (SpLedger *self, gboolean narrow)
{
  GListModel *shown = gtk_column_view_get_columns (GTK_COLUMN_VIEW (self->view));
  for (Column column = 0; column < N_COLUMNS; column++) {
    g_autoptr (GtkColumnViewColumn) view_column = g_list_model_get_item (shown, column);
    gtk_column_view_column_set_fixed_width (view_column, narrow ? columns[column].narrow : columns[column].width);
  }
}

static void
sp_ledger_dispose (GObject *object)
{
  SpLedger *self = SP_LEDGER (object);
  g_clear_handle_id (&self->rest_source, g_source_remove);
  gtk_widget_dispose_template (GTK_WIDGET (self), SP_TYPE_LEDGER);
  G_OBJECT_CLASS (sp_ledger_parent_class)->dispose (object);
}

static void
sp_ledger_finalize (GObject *object)
{
  SpLedger *self = SP_LEDGER (object);
  g_ptr_array_unref (self->rest);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (sp_ledger_parent_class)->finalize (object);
}

static void
sp_ledger_class_init (SpLedgerClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  sp_pages_style ();
  g_type_ensure (SP_TYPE_FOUND_ITEM);
  G_OBJECT_CLASS (klass)->dispose = sp_ledger_dispose;
  G_OBJECT_CLASS (klass)->finalize = sp_ledger_finalize;
  gtk_widget_class_set_layout_manager_type (widget, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget, "/spurproof/pages/ledger.ui");
#define PART(name) gtk_widget_class_bind_template_child (widget, SpLedger, name)
  PART (store), PART (sorted), PART (selection), PART (scroller), PART (view);
#undef PART
  gtk_widget_class_bind_template_callback (widget, selected);
  gtk_widget_class_bind_template_callback (widget, activated);
}

static void
sp_ledger_init (SpLedger *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->rest = g_ptr_array_new_with_free_func (g_object_unref);
  gtk_sort_list_model_set_sorter (self->sorted, gtk_column_view_get_sorter (GTK_COLUMN_VIEW (self->view)));
  sp_table_name (GTK_COLUMN_VIEW (self->view), _ ("Emissions"));
  for (Column column = 0; column < N_COLUMNS; column++)
    add_column (self, column);
  sp_table_align_titles (GTK_COLUMN_VIEW (self->view), "lrrrrlrrll");
  for (Column column = 0; column < N_COLUMNS; column++)
    sp_table_explain_title (GTK_COLUMN_VIEW (self->view), column, _ (columns[column].tip));
}

GtkWidget *
sp_ledger_new (SpSession *session)
{
  SpLedger *self = g_object_new (SP_TYPE_LEDGER, NULL);
  self->session = g_object_ref (session);
  g_signal_connect_object (session, "notify::findings", G_CALLBACK (follow_findings), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "notify::emission", G_CALLBACK (follow_choice), self, G_CONNECT_SWAPPED);
  follow_findings (self);
  return GTK_WIDGET (self);
}
