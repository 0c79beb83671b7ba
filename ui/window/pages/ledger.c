/* ledger.c - the table of emissions */
#include "ui/window/pages/ledger-cells.h"

#include <glib/gi18n-lib.h>

#include "ui/figure/pen/names.h"
#include "ui/window/session/preferences.h"
#include "ui/window/widgets/drawing-area.h"
#include "ui/window/widgets/items.h"
#include "ui/window/widgets/theme.h"

/* Whose rows stand in it. */
typedef enum { CHOSEN, NEAREST, ALL } Rows;
static const char *const rows_names[] = { "chosen", "nearest", "all", NULL };
#define ROWS_PREFERENCE "ledger-rows"

struct _SpLedger {
  GtkWidget parent_instance;
  SpSession *session;
  Rows rows;
  gboolean following; /* the selection is being set to what the session says */
  GPtrArray *rest;    /* of SpFoundItem: rows still to come */
  guint rest_source;
  int frames_to_scroll; /* left until the chosen row is scrolled to */
  /* of the template */
  GListStore *store;
  GtkSortListModel *sorted;
  GtkSingleSelection *selection;
  GtkWidget *whole, *view, *shows, *says;
  GtkColumnViewColumn *columns[N_COLUMNS]; /* also those that are not shown */
};

G_DEFINE_FINAL_TYPE (SpLedger, sp_ledger, GTK_TYPE_WIDGET)

#define FIRST_ROWS 6
#define REST_AFTER_MS 120
#define FRAMES_TO_SCROLL 3
#define SAYS_WIDE 30 /* characters of what is listed */
#define SAYS_TIGHT 9

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
  return verdict ? verdict : sp_ledger_compare_numbers (sp_emission_room_db (x), sp_emission_room_db (y));
}

/* ---- follow the session ---- */

/* Some frames later: rows that were just added have no height yet. */
static gboolean
scroll_to_selected (GtkWidget *widget, GdkFrameClock *clock, void *data)
{
  SpLedger *self = SP_LEDGER (widget);
  guint position = gtk_single_selection_get_selected (self->selection);
  (void) clock, (void) data;
  if (--self->frames_to_scroll > 0)
    return G_SOURCE_CONTINUE;
  for (GtkWidget *child = gtk_widget_get_first_child (self->view); child; child = gtk_widget_get_next_sibling (child))
    if (GTK_IS_LIST_BASE (child) && position != GTK_INVALID_LIST_POSITION) /* 4.8 has no call for it; the inner list has the action */
      gtk_widget_activate_action (child, "list.scroll-to-item", "u", position);
  return G_SOURCE_REMOVE;
}

static void
scroll_soon (SpLedger *self)
{
  if (self->frames_to_scroll <= 0)
    gtk_widget_add_tick_callback (GTK_WIDGET (self), scroll_to_selected, NULL, NULL);
  self->frames_to_scroll = FRAMES_TO_SCROLL;
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
    if (!sp_session_chose_deciding (self->session)) /* otherwise the first rows would be out of sight at the start */
      scroll_soon (self);
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

static gboolean
has_row (const SpLedger *self, const SpConditionFindings *found, guint condition, guint emission)
{
  switch (self->rows) {
  case CHOSEN: return condition == sp_session_condition (self->session);
  case NEAREST: return (int) emission == found->worst_emission || (int) emission == found->unsettled_emission;
  case ALL: return TRUE;
  }
  g_return_val_if_reached (FALSE);
}

/* The rows that are asked for: of one condition in the order of frequency, else the worst first. (transfer full) */
static GPtrArray *
gather_items (const SpLedger *self)
{
  SpFindings *findings = sp_session_findings (self->session);
  GPtrArray *items = g_ptr_array_new_with_free_func (g_object_unref);
  for (guint i = 0; findings && i < findings->n; i++)
    for (guint j = 0; j < findings->conditions[i].n_emissions; j++)
      if (has_row (self, &findings->conditions[i], i, j))
        g_ptr_array_add (items, sp_found_item_new (findings, i, (int) j));
  if (self->rows != CHOSEN)
    g_ptr_array_sort (items, worst_first);
  return items;
}

/* "Orbanick", "nearest of each", "all 80" */
static void
show_what_it_shows (SpLedger *self, guint n)
{
  const SpConditionFindings *found = sp_session_found (self->session);
  g_autofree char *all = g_strdup_printf (_ ("all %u"), n),
                  *name = found ? sp_name_short (sp_session_findings (self->session), sp_session_condition (self->session))
                                : g_strdup (_ ("the chosen radio"));
  const char *says = self->rows == CHOSEN ? name : self->rows == NEAREST ? _ ("nearest of each") : all;
  gtk_label_set_text (GTK_LABEL (self->says), says);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->shows), GTK_ACCESSIBLE_PROPERTY_LABEL, says, -1);
}

static void
follow_findings (SpLedger *self)
{
  g_autoptr (GPtrArray) items = gather_items (self);
  self->following = TRUE;
  guint first = MIN (items->len, FIRST_ROWS);
  g_list_store_splice (self->store, 0, g_list_model_get_n_items (G_LIST_MODEL (self->store)), items->pdata, first);
  self->following = FALSE;
  g_ptr_array_set_size (self->rest, 0);
  for (guint i = first; i < items->len; i++)
    g_ptr_array_add (self->rest, g_object_ref (g_ptr_array_index (items, i)));
  if (self->rest->len > 0 && self->rest_source == 0)
    self->rest_source = g_timeout_add (REST_AFTER_MS, add_rest, self);
  show_what_it_shows (self, items->len);
  follow_choice (self);
}

gboolean
sp_ledger_is_of_one (SpLedger *self)
{
  return self->rows == CHOSEN;
}

static void
follow_condition (SpLedger *self)
{
  if (self->rows == CHOSEN)
    follow_findings (self);
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
  GtkColumnViewColumn *view_column = sp_table_add_column (GTK_COLUMN_VIEW (self->view), _ (sp_ledger_columns[column].title),
                                                          sp_ledger_columns[column].width, &sp_ledger_cells, column);
  g_autoptr (GtkSorter) sorter = GTK_SORTER (gtk_custom_sorter_new (sp_ledger_compare, GUINT_TO_POINTER (column), NULL));
  gtk_column_view_column_set_sorter (view_column, sorter);
  gtk_column_view_column_set_resizable (view_column, TRUE);
  self->columns[column] = g_object_ref (view_column);
}

void
sp_ledger_fit (SpLedger *self, gboolean narrow, gboolean tight)
{
  for (Column column = 0; column < N_COLUMNS; column++)
    gtk_column_view_column_set_fixed_width (self->columns[column],
                                            sp_theme_text_px (narrow ? sp_ledger_columns[column].narrow : sp_ledger_columns[column].width));
  gtk_label_set_max_width_chars (GTK_LABEL (self->says), tight ? SAYS_TIGHT : SAYS_WIDE); /* or it would run into the last title */
}

/* ---- what is shown ---- */

static void
set_rows (SpLedger *self, const char *name)
{
  for (guint i = 0; rows_names[i]; i++)
    if (g_strcmp0 (rows_names[i], name) == 0)
      self->rows = (Rows) i;
  sp_preferences_set (ROWS_PREFERENCE, self->rows == CHOSEN ? NULL : rows_names[self->rows]);
  follow_findings (self);
}

static void
sp_ledger_set_property (GObject *object, guint id, const GValue *value, GParamSpec *spec)
{
  (void) id, (void) spec;
  set_rows (SP_LEDGER (object), g_value_get_string (value));
}

static void
sp_ledger_get_property (GObject *object, guint id, GValue *value, GParamSpec *spec)
{
  (void) id, (void) spec;
  g_value_set_static_string (value, rows_names[SP_LEDGER (object)->rows]);
}

/* A column that is hidden would keep its width (GTK 4.8): it is taken out, and put back at its place. */
static void
show_column (GSimpleAction *action, GVariant *state, gpointer ledger)
{
  SpLedger *self = ledger;
  guint before = 0;
  g_simple_action_set_state (action, state);
  for (Column column = 0; column < N_COLUMNS; column++) {
    GtkColumnViewColumn *one = self->columns[column];
    gboolean there = gtk_column_view_column_get_column_view (one) != NULL;
    if (g_strcmp0 (sp_ledger_columns[column].action, g_action_get_name (G_ACTION (action))) != 0)
      before += there;
    else if (g_variant_get_boolean (state) && !there)
      gtk_column_view_insert_column (GTK_COLUMN_VIEW (self->view), before, one);
    else if (!g_variant_get_boolean (state) && there)
      gtk_column_view_remove_column (GTK_COLUMN_VIEW (self->view), one);
  }
}

/* The actions of the menu: whose rows, and each column that may go. */
static void
add_actions (SpLedger *self)
{
  g_autoptr (GSimpleActionGroup) group = g_simple_action_group_new ();
  g_autoptr (GPropertyAction) rows = g_property_action_new ("rows", self, "rows");
  g_action_map_add_action (G_ACTION_MAP (group), G_ACTION (rows));
  for (Column column = 0; column < N_COLUMNS; column++) {
    if (!sp_ledger_columns[column].action)
      continue;
    g_autoptr (GSimpleAction) shown = g_simple_action_new_stateful (sp_ledger_columns[column].action, NULL, g_variant_new_boolean (FALSE));
    g_signal_connect (shown, "change-state", G_CALLBACK (show_column), self);
    g_action_map_add_action (G_ACTION_MAP (group), G_ACTION (shown));
    gtk_column_view_remove_column (GTK_COLUMN_VIEW (self->view), self->columns[column]);
  }
  gtk_widget_insert_action_group (GTK_WIDGET (self), "ledger", G_ACTION_GROUP (group));
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
  for (Column column = 0; column < N_COLUMNS; column++)
    g_clear_object (&self->columns[column]);
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
  G_OBJECT_CLASS (klass)->set_property = sp_ledger_set_property;
  G_OBJECT_CLASS (klass)->get_property = sp_ledger_get_property;
  g_object_class_install_property (G_OBJECT_CLASS (klass), 1,
                                   g_param_spec_string ("rows", NULL, NULL, NULL, G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS));
  gtk_widget_class_set_layout_manager_type (widget, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget, "/spurproof/pages/ledger.ui");
#define PART(name) gtk_widget_class_bind_template_child (widget, SpLedger, name)
  PART (whole), PART (store), PART (sorted), PART (selection), PART (view), PART (shows), PART (says);
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
  sp_table_align_titles (GTK_COLUMN_VIEW (self->view), "lrrrrlllrrrr");
  for (Column column = 0; column < N_COLUMNS; column++)
    sp_table_explain_title (GTK_COLUMN_VIEW (self->view), column, _ (sp_ledger_columns[column].tip));
  add_actions (self);
}

GtkWidget *
sp_ledger_new (SpSession *session)
{
  SpLedger *self = g_object_new (SP_TYPE_LEDGER, NULL);
  self->session = g_object_ref (session);
  g_signal_connect_object (session, "notify::findings", G_CALLBACK (follow_findings), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "notify::emission", G_CALLBACK (follow_choice), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "notify::condition", G_CALLBACK (follow_condition), self, G_CONNECT_SWAPPED);
  g_autofree char *rows = sp_preferences_get (ROWS_PREFERENCE);
  set_rows (self, rows);
  return GTK_WIDGET (self);
}
