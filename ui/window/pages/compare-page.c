/* compare-page.c - the conditions side by side: a table that sorts, and all their margins on one sheet */
#include "ui/window/pages/compare-page.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/compare/compare.h"
#include "ui/figure/deciding-margins.h"
#include "ui/report/table.h"
#include "ui/window/pages/compare-charts.h"
#include "ui/window/pages/compare-pivot.h"
#include "ui/window/pages/whose.h"
#include "ui/window/widgets/drawing-area.h"
#include "ui/window/widgets/table.h"
#include "ui/window/widgets/theme.h"
#include "ui/words/words.h"

/* ---- a row: an index into a comparison that it keeps ---- */

#define SP_TYPE_COMPARE_ITEM (sp_compare_item_get_type ())
G_DECLARE_FINAL_TYPE (SpCompareItem, sp_compare_item, SP, COMPARE_ITEM, GObject)

struct _SpCompareItem {
  GObject parent_instance;
  SpComparison *comparison;
  const SpCompareRow *row;
  guint index;
};

G_DEFINE_FINAL_TYPE (SpCompareItem, sp_compare_item, G_TYPE_OBJECT)

static void
sp_compare_item_finalize (GObject *object)
{
  sp_comparison_unref (SP_COMPARE_ITEM (object)->comparison);
  G_OBJECT_CLASS (sp_compare_item_parent_class)->finalize (object);
}

static void
sp_compare_item_class_init (SpCompareItemClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = sp_compare_item_finalize;
}

static void
sp_compare_item_init (SpCompareItem *self)
{
  (void) self;
}

/* ---- the page ---- */

#define WIDE 1200 /* for all harmonics with the words beside them */

#define SP_TYPE_COMPARE_PAGE (sp_compare_page_get_type ())
G_DECLARE_FINAL_TYPE (SpComparePage, sp_compare_page, SP, COMPARE_PAGE, GtkWidget)

struct _SpComparePage {
  GtkWidget parent_instance;
  SpSession *session;
  SpComparison *comparison; /* NULL until the first findings */
  GListStore *rows;
  GtkSingleSelection *selection;
  gboolean following; /* the selection follows the session, not the user */
  gboolean narrow;    /* the word whose an emission is stands below its number */
  GtkWidget *plot;
  GtkWidget *whole, *table, *plot_holder, *views, *charts_shown, *pivot_shown;
  GtkWidget *charts, *pivot; /* NULL until they are asked for */
};

G_DEFINE_FINAL_TYPE (SpComparePage, sp_compare_page, GTK_TYPE_WIDGET)

/* ---- columns ---- */

typedef enum { RADIO, CONDITION, FUNDAMENTAL, POWER, VERDICT, MARGIN, FIRST_HARMONIC } Column; /* + order - 2 */
#define LAST_ORDER 10
#define RADIO_CHARS 8
#define CONDITION_CHARS 5

static guint
order_of (guint column)
{
  return column - FIRST_HARMONIC + 2;
}

static char *
cell_text (const SpCompareRow *row, guint column)
{
  switch (column) {
  case RADIO: return g_strdup (row->radio);
  case CONDITION: return g_strdup (row->condition);
  case FUNDAMENTAL: return sp_words_frequency (row->found->fundamental_hz, 1e4, SP_HAND_SCREEN);
  case POWER: return sp_words_power (row->power_w, SP_HAND_SCREEN);
  case VERDICT: return g_strdup (sp_words_verdict (row->found->verdict));
  case MARGIN: return sp_words_deciding_margin (row->found, SP_HAND_SCREEN);
  default: break;
  }
  const SpEmission *e = sp_compare_harmonic (row, order_of (column));
  return e ? sp_words_seen (e, e->level_dbm, SP_HAND_SCREEN) : sp_words_number (NAN, 1, SP_HAND_SCREEN);
}

/* "rated 5 W, measured 4.4 W"; NULL: no rated power is stated. */
static char *
power_tip (const SpCompareItem *item)
{
  double rated_w = item->comparison->findings->bench->conditions[item->row->found->condition].rated_w;
  if (isnan (rated_w) || isnan (item->row->power_w))
    return NULL;
  g_autofree char *rated = sp_words_power (rated_w, SP_HAND_SCREEN), *measured = sp_words_power (item->row->power_w, SP_HAND_SCREEN);
  return g_strdup_printf (_ ("rated %s, measured %s"), rated, measured);
}

/* The sentence behind a cell; NULL: none. */
static char *
cell_tip (const SpCompareItem *item, guint column)
{
  const SpCompareRow *row = item->row;
  const SpConditionFindings *found = row->found;
  if (column == POWER)
    return power_tip (item);
  if (column == RADIO || column == CONDITION)
    return g_strdup (found->name);
  const SpEmission *e = column >= FIRST_HARMONIC ? sp_compare_harmonic (row, order_of (column))
                        : (column == VERDICT || column == MARGIN) && found->worst_emission >= 0 ? &found->emissions[found->worst_emission]
                                                                                                : NULL;
  if (!e || !e->reason)
    return NULL;
  g_autofree char *name = sp_words_emission (e, SP_HAND_SCREEN), *why = sp_words_reason (e->reason, SP_HAND_SCREEN);
  g_autofree char *unsettled = column < FIRST_HARMONIC ? sp_words_unsettled (found, SP_HAND_SCREEN) : NULL;
  return g_strdup_printf ("%s, %s: %s%s%s", name, sp_words_verdict (e->verdict), why, unsettled ? "\n" : "", unsettled ? unsettled : "");
}

static gboolean
has_glyph (guint column)
{
  return column == VERDICT || column >= FIRST_HARMONIC;
}

static GtkWidget *
new_label (guint column)
{
  GtkWidget *label = gtk_label_new ("");
  gtk_label_set_xalign (GTK_LABEL (label), column == RADIO || column == CONDITION || column == VERDICT ? 0 : 1);
  gtk_widget_set_hexpand (label, TRUE);
  if (column == RADIO || column == VERDICT)
    gtk_widget_add_css_class (label, "strong");
  if (column == CONDITION)
    gtk_widget_add_css_class (label, "soft");
  if (column == RADIO || column == CONDITION) { /* what expands may also give way */
    gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
    gtk_label_set_width_chars (GTK_LABEL (label), column == RADIO ? RADIO_CHARS : CONDITION_CHARS);
  }
  return label;
}

/* A glyph and a label; with whose it is behind them, or below where the page is narrow. */
static void
set_up (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer data)
{
  guint column = GPOINTER_TO_UINT (data);
  (void) factory;
  GtkWidget *cell = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0), *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 2);
  if (has_glyph (column))
    gtk_box_append (GTK_BOX (box), sp_glyph_new ());
  gtk_box_append (GTK_BOX (box), new_label (column));
  gtk_box_append (GTK_BOX (cell), box);
  if (column >= FIRST_HARMONIC) {
    GtkWidget *whose = sp_whose_new ();
    gtk_widget_set_halign (whose, GTK_ALIGN_END);
    gtk_box_append (GTK_BOX (cell), whose);
  }
  gtk_list_item_set_child (item, cell);
}

/* What a screen reader says of a harmonic; NULL: as it is written. */
static char *
spoken (const SpEmission *e, const char *text)
{
  gboolean foreign = e && e->origin != SP_ORIGIN_NONE && e->origin != SP_ORIGIN_RADIO;
  return foreign ? g_strdup_printf (_ ("%s dBm, %s: %s"), text, sp_words_origin (e->origin), sp_words_verdict (e->verdict))
         : e     ? g_strdup_printf (_ ("%s dBm, %s"), text, sp_words_verdict (e->verdict))
                 : NULL;
}

static void
bind (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer data)
{
  guint column = GPOINTER_TO_UINT (data);
  (void) factory;
  const SpCompareRow *row = SP_COMPARE_ITEM (gtk_list_item_get_item (item))->row;
  GtkWidget *cell = gtk_list_item_get_child (item), *box = gtk_widget_get_first_child (cell), *glyph = gtk_widget_get_first_child (box),
            *label = gtk_widget_get_last_child (box), *page = gtk_widget_get_ancestor (cell, SP_TYPE_COMPARE_PAGE);
  gboolean narrow = page && SP_COMPARE_PAGE (page)->narrow;
  const SpEmission *e = column >= FIRST_HARMONIC ? sp_compare_harmonic (row, order_of (column)) : NULL;
  g_autofree char *text = cell_text (row, column), *tip = cell_tip (SP_COMPARE_ITEM (gtk_list_item_get_item (item)), column);
  gtk_orientable_set_orientation (GTK_ORIENTABLE (cell), narrow ? GTK_ORIENTATION_VERTICAL : GTK_ORIENTATION_HORIZONTAL);
  gtk_label_set_text (GTK_LABEL (label), text);
  gtk_widget_set_tooltip_text (cell, tip);
  if (has_glyph (column))
    sp_glyph_set (SP_GLYPH (glyph), column == VERDICT || e, e ? e->verdict : row->found->verdict);
  if (column >= FIRST_HARMONIC)
    sp_whose_set (SP_WHOSE (gtk_widget_get_next_sibling (box)), e ? e->origin : SP_ORIGIN_NONE);
  g_autofree char *said = spoken (e, text);
  gtk_accessible_update_property (GTK_ACCESSIBLE (label), GTK_ACCESSIBLE_PROPERTY_LABEL, said ? said : text, -1);
}

static double
sort_value (const SpCompareRow *row, guint column)
{
  switch (column) {
  case FUNDAMENTAL: return row->found->fundamental_hz;
  case POWER: return row->power_w;
  case VERDICT: return row->found->verdict;
  case MARGIN: return sp_findings_room_db (row->found);
  default: break;
  }
  const SpEmission *e = sp_compare_harmonic (row, order_of (column));
  return e ? e->level_dbm : NAN;
}

/* What is not known comes last. */
static int
compare_rows (gconstpointer a, gconstpointer b, gpointer data)
{
  const SpCompareRow *p = SP_COMPARE_ITEM ((gpointer) a)->row, *q = SP_COMPARE_ITEM ((gpointer) b)->row;
  guint column = GPOINTER_TO_UINT (data);
  if (column == RADIO || column == CONDITION)
    return g_utf8_collate (column == RADIO ? p->radio : p->condition, column == RADIO ? q->radio : q->condition);
  double x = sort_value (p, column), y = sort_value (q, column);
  if (isnan (x) || isnan (y))
    return isnan (x) - isnan (y);
  return (x > y) - (x < y);
}

static void
add_column (SpComparePage *self, const char *title, guint column)
{
  static const SpTableCells cells = { set_up, bind, NULL };
  int width = column == RADIO || column == CONDITION ? -1 : 0;
  g_autoptr (GtkSorter) sorter = GTK_SORTER (gtk_custom_sorter_new (compare_rows, GUINT_TO_POINTER (column), NULL));
  gtk_column_view_column_set_sorter (sp_table_add_column (GTK_COLUMN_VIEW (self->table), title, width, &cells, column), sorter);
}

static void
add_columns (SpComparePage *self)
{
  static const char *const titles[] = { N_ ("radio"), N_ ("condition"), N_ ("fundamental"), N_ ("power"), N_ ("verdict"), N_ ("room, dB") };
  for (guint i = 0; i < G_N_ELEMENTS (titles); i++)
    add_column (self, _ (titles[i]), i);
  for (guint order = 2; order <= LAST_ORDER; order++) {
    g_autofree char *title = g_strdup_printf ("%u", order);
    add_column (self, title, FIRST_HARMONIC + order - 2);
  }
  sp_table_align_titles (GTK_COLUMN_VIEW (self->table), "llrrlrrrrrrrrrr");
  sp_table_name (GTK_COLUMN_VIEW (self->table), _ ("Conditions with their verdicts, room and harmonics"));
}

/* ---- what the session says ---- */

static void
draw_margins (SpPen *pen, const SpRect *rect, gpointer owner)
{
  SpComparePage *self = owner;
  if (self->comparison)
    sp_deciding_margins_draw (pen, self->comparison, (int) sp_session_condition (self->session), rect);
}

static void
follow_condition (SpComparePage *self)
{
  guint condition = sp_session_condition (self->session);
  GListModel *model = G_LIST_MODEL (self->selection);
  self->following = TRUE;
  for (guint i = 0; i < g_list_model_get_n_items (model); i++) {
    g_autoptr (SpCompareItem) item = g_list_model_get_item (model, i);
    if (item->index == condition)
      gtk_single_selection_set_selected (self->selection, i);
  }
  self->following = FALSE;
  gtk_widget_queue_draw (self->plot);
}

static void
follow_findings (SpComparePage *self)
{
  SpFindings *findings = sp_session_findings (self->session);
  g_autoptr (GPtrArray) items = g_ptr_array_new_with_free_func (g_object_unref);
  g_clear_pointer (&self->comparison, sp_comparison_unref);
  self->comparison = findings ? sp_compare (findings) : NULL;
  for (guint i = 0; self->comparison && i < self->comparison->n; i++) {
    SpCompareItem *item = g_object_new (SP_TYPE_COMPARE_ITEM, NULL);
    item->comparison = sp_comparison_ref (self->comparison);
    item->row = &self->comparison->rows[i];
    item->index = i;
    g_ptr_array_add (items, item);
  }
  self->following = TRUE;
  g_list_store_splice (self->rows, 0, g_list_model_get_n_items (G_LIST_MODEL (self->rows)), items->pdata, items->len);
  self->following = FALSE;
  follow_condition (self);
}

static void
follow_judging (SpComparePage *self)
{
  if (sp_session_judging (self->session))
    gtk_widget_add_css_class (self->whole, "judging");
  else
    gtk_widget_remove_css_class (self->whole, "judging");
}

static void
on_selected (SpComparePage *self)
{
  SpCompareItem *item = gtk_single_selection_get_selected_item (self->selection);
  if (!self->following && item && item->index != sp_session_condition (self->session))
    sp_session_choose (self->session, item->index, SP_DECIDING_EMISSION);
}

static gboolean
is_pressed (GtkWidget *button)
{
  return gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (button));
}

static void
on_copy (GtkWidget *widget, const char *name, GVariant *parameter)
{
  SpComparePage *self = SP_COMPARE_PAGE (widget);
  gboolean pivot = is_pressed (self->pivot_shown);
  g_autoptr (GdkContentProvider) forms = pivot ? sp_compare_pivot_copied (SP_COMPARE_PIVOT (self->pivot)) : NULL;
  g_autofree char *text = !pivot && self->comparison ? sp_table_compare (self->comparison, NULL, SP_MOVES_ALIKE) : NULL;
  (void) name, (void) parameter;
  if (forms)
    gdk_clipboard_set_content (gtk_widget_get_clipboard (widget), forms);
  if (text)
    gdk_clipboard_set_text (gtk_widget_get_clipboard (widget), text);
}

static GtkWidget *
view_of (SpComparePage *self, GtkWidget **view, GtkWidget *(*make) (SpSession *) )
{
  if (!*view) {
    *view = make (self->session);
    gtk_stack_add_child (GTK_STACK (self->views), *view);
  }
  return *view;
}

/* One button goes up as another goes down; with none down the table is shown. A view is made when it is asked for first. */
static void
show_view (SpComparePage *self, GtkToggleButton *pressed)
{
  GtkWidget *other = GTK_WIDGET (pressed) == self->charts_shown ? self->pivot_shown : self->charts_shown;
  if (gtk_toggle_button_get_active (pressed))
    gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (other), FALSE);
  GtkStack *stack = GTK_STACK (self->views);
  if (is_pressed (self->charts_shown))
    gtk_stack_set_visible_child (stack, view_of (self, &self->charts, sp_compare_charts_new));
  else if (is_pressed (self->pivot_shown))
    gtk_stack_set_visible_child (stack, view_of (self, &self->pivot, sp_compare_pivot_new));
  else
    gtk_stack_set_visible_child_name (stack, "table");
}

static void
toggle_view (GtkWidget *widget, const char *name, GVariant *parameter)
{
  SpComparePage *self = SP_COMPARE_PAGE (widget);
  GtkWidget *button = g_str_has_suffix (name, "charts") ? self->charts_shown : self->pivot_shown;
  (void) parameter;
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (button), !is_pressed (button));
}

GtkWidget *
sp_compare_page_new (SpSession *session)
{
  SpComparePage *self = g_object_new (SP_TYPE_COMPARE_PAGE, NULL);
  self->session = g_object_ref (session);
  g_signal_connect_object (session, "notify::findings", G_CALLBACK (follow_findings), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "notify::condition", G_CALLBACK (follow_condition), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "notify::judging", G_CALLBACK (follow_judging), self, G_CONNECT_SWAPPED);
  follow_findings (self);
  follow_judging (self);
  return GTK_WIDGET (self);
}

static gboolean
fit (gpointer page)
{
  SpComparePage *self = page;
  gboolean narrow = gtk_widget_get_width (page) < sp_theme_text_px (WIDE);
  if (narrow != self->narrow) {
    self->narrow = narrow;
    narrow ? gtk_widget_add_css_class (page, "narrow") : gtk_widget_remove_css_class (page, "narrow");
    gtk_widget_set_margin_start (self->whole, narrow ? 4 : 24);
    gtk_widget_set_margin_end (self->whole, narrow ? 4 : 24);
    follow_findings (self);
  }
  return G_SOURCE_REMOVE;
}

/* Asked for after the allocation, not within it. */
static void
sp_compare_page_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  if ((gtk_widget_get_width (widget) < sp_theme_text_px (WIDE)) != SP_COMPARE_PAGE (widget)->narrow)
    g_idle_add_full (G_PRIORITY_HIGH_IDLE, fit, g_object_ref (widget), g_object_unref);
  GTK_WIDGET_CLASS (sp_compare_page_parent_class)->snapshot (widget, snapshot);
}

static void
sp_compare_page_dispose (GObject *object)
{
  SpComparePage *self = SP_COMPARE_PAGE (object);
  if (self->selection)
    g_signal_handlers_disconnect_by_data (self->selection, self);
  gtk_widget_dispose_template (GTK_WIDGET (self), SP_TYPE_COMPARE_PAGE);
  g_clear_object (&self->rows);
  g_clear_object (&self->selection);
  G_OBJECT_CLASS (sp_compare_page_parent_class)->dispose (object);
}

static void
sp_compare_page_finalize (GObject *object)
{
  SpComparePage *self = SP_COMPARE_PAGE (object);
  g_clear_pointer (&self->comparison, sp_comparison_unref);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (sp_compare_page_parent_class)->finalize (object);
}

#define BIND(member) gtk_widget_class_bind_template_child (widget, SpComparePage, member)

static void
sp_compare_page_class_init (SpComparePageClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  G_OBJECT_CLASS (klass)->dispose = sp_compare_page_dispose;
  G_OBJECT_CLASS (klass)->finalize = sp_compare_page_finalize;
  widget->snapshot = sp_compare_page_snapshot;
  sp_pages_style ();
  gtk_widget_class_set_css_name (widget, "comparepage");
  gtk_widget_class_set_layout_manager_type (widget, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget, "/spurproof/pages/compare-page.ui");
  gtk_widget_class_install_action (widget, "compare.copy", NULL, on_copy);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_c, GDK_CONTROL_MASK, "compare.copy", NULL);
  BIND (whole);
  BIND (table);
  BIND (plot_holder);
  BIND (views);
  BIND (charts_shown);
  BIND (pivot_shown);
  gtk_widget_class_bind_template_callback (widget, show_view);
  gtk_widget_class_install_action (widget, "compare.charts", NULL, toggle_view); /* their keys: window-pages.c */
  gtk_widget_class_install_action (widget, "compare.pivot", NULL, toggle_view);
}

static void
sp_compare_page_init (SpComparePage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->plot = sp_paper_new (draw_margins, self);
  gtk_drawing_area_set_content_height (GTK_DRAWING_AREA (self->plot), 248);
  gtk_widget_set_hexpand (self->plot, TRUE);
  gtk_widget_set_vexpand (self->plot, TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->plot), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Room of all conditions, by harmonic"),
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, _ ("The same numbers as the table's."), -1);
  gtk_box_append (GTK_BOX (self->plot_holder), self->plot);
  self->rows = g_list_store_new (SP_TYPE_COMPARE_ITEM);
  add_columns (self);
  GtkSorter *sorter = gtk_column_view_get_sorter (GTK_COLUMN_VIEW (self->table));
  GtkSortListModel *sorted = gtk_sort_list_model_new (g_object_ref (G_LIST_MODEL (self->rows)), g_object_ref (sorter));
  self->selection = gtk_single_selection_new (G_LIST_MODEL (sorted));
  gtk_column_view_set_model (GTK_COLUMN_VIEW (self->table), GTK_SELECTION_MODEL (self->selection));
  g_signal_connect_swapped (self->selection, "notify::selected", G_CALLBACK (on_selected), self);
}
