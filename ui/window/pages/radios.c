/* radios.c - the list of radios and conditions */
#include "ui/window/pages/radios.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "ui/figure/parts.h"
#include "ui/window/import/import.h"
#include "ui/window/widgets/drawing-area.h"
#include "ui/window/widgets/items.h"
#include "ui/window/widgets/theme.h"
#include "ui/window/widgets/tooltip.h"
#include "ui/words/words.h"

#define WANTS_MOST 3
#define WANTS_OF_GAPS 2  /* of these at most */
#define WANTS_LOW_ROWS 8 /* with more rows than this, a low window has no room for them */

typedef struct {
  SpSession *session;
  GListStore *store;
  GtkSingleSelection *selection;
  GtkWidget *view, *unsettled, *wants_head, *wants, *drop;
  gboolean low;
  GMenuModel *menu;
  gboolean following; /* the selection is being set to what the session says */
} Radios;

/* ---- a row ---- */

typedef struct {
  GtkWidget *name, *condition, *margin, *glyph, *verdict, *swatch, *line;
  SpFoundItem *item; /* bound now; NULL */
} Row;

static void
draw_swatch (SpPen *pen, const SpRect *rect, gpointer data)
{
  Row *row = data;
  if (!row->item)
    return;
  guint ink = sp_view_ink (sp_found_item_condition (row->item));
  double y = rect->height / 2;
  sp_pen_colour (pen, &pen->palette->trace[ink % SP_TRACE_INKS], 1);
  if (ink >= SP_TRACE_INKS)
    sp_pen_dotted (pen, 0, y, rect->width, y, 3, 5);
  else
    sp_pen_line (pen, 0, y, rect->width, y, 3);
}

static void
draw_line (SpPen *pen, const SpRect *rect, gpointer data)
{
  Row *row = data;
  if (!row->item)
    return;
  const SpConditionFindings *found = sp_found_item_found (row->item);
  if (found->verdict == SP_VERDICT_NO_LIMIT || found->worst_emission < 0)
    return;
  const SpEmission *e = &found->emissions[found->worst_emission];
  sp_margin_line_draw (pen, 2, rect->height / 2, rect->width - 4, sp_emission_deciding_margin_db (e), sp_emission_deciding_expanded_db (e));
}

static GtkWidget *
label (GtkWidget *grid, const char *class, int column, int line, float align)
{
  GtkWidget *widget = gtk_label_new ("");
  gtk_label_set_xalign (GTK_LABEL (widget), align);
  gtk_label_set_ellipsize (GTK_LABEL (widget), PANGO_ELLIPSIZE_END);
  if (class)
    gtk_widget_add_css_class (widget, class);
  gtk_grid_attach (GTK_GRID (grid), widget, column, line, 1, 1);
  return widget;
}

static gboolean
dropped (GtkDropTarget *target, const GValue *value, double x, double y, gpointer data)
{
  (void) x, (void) y;
  Radios *self = g_object_get_data (G_OBJECT (gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (target))), "radios");
  Row *row = data;
  g_autoptr (GListStore) files = g_list_store_new (G_TYPE_FILE);
  for (GSList *l = g_value_get_boxed (value); l; l = l->next)
    g_list_store_append (files, l->data);
  GtkRoot *root = gtk_widget_get_root (self->view);
  int condition = row && row->item ? (int) sp_found_item_condition (row->item) : -1;
  sp_import_begin (GTK_WINDOW (root), self->session, G_LIST_MODEL (files), condition);
  return TRUE;
}

static void
take_drops (Radios *self, GtkWidget *widget, Row *row)
{
  GtkDropTarget *target = gtk_drop_target_new (GDK_TYPE_FILE_LIST, GDK_ACTION_COPY);
  g_object_set_data (G_OBJECT (widget), "radios", self);
  g_signal_connect (target, "drop", G_CALLBACK (dropped), row);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (target));
}

static void
show_menu (GtkGestureClick *gesture, int n, double x, double y, gpointer data)
{
  (void) n;
  Radios *self = data;
  GtkWidget *box = gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (gesture));
  Row *row = g_object_get_data (G_OBJECT (box), "row");
  if (row->item)
    sp_session_choose (self->session, sp_found_item_condition (row->item), -1);
  GtkWidget *popover = gtk_popover_menu_new_from_model (self->menu);
  gtk_widget_set_parent (popover, box);
  gtk_popover_set_pointing_to (GTK_POPOVER (popover), &(GdkRectangle){ (int) x, (int) y, 1, 1 });
  gtk_popover_set_has_arrow (GTK_POPOVER (popover), FALSE);
  g_signal_connect (popover, "closed", G_CALLBACK (gtk_widget_unparent), NULL);
  gtk_popover_popup (GTK_POPOVER (popover));
}

static void
set_up (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer data)
{
  (void) factory;
  Radios *self = data;
  Row *row = g_new0 (Row, 1);
  GtkWidget *grid = gtk_grid_new ();
  gtk_grid_set_column_spacing (GTK_GRID (grid), 6);
  gtk_widget_set_margin_start (grid, 8);
  gtk_widget_set_margin_end (grid, 8);
  row->swatch = sp_paper_new (draw_swatch, row);
  gtk_widget_set_size_request (row->swatch, 24, 16);
  gtk_grid_attach (GTK_GRID (grid), row->swatch, 0, 0, 1, 1);
  row->name = label (grid, "strong", 1, 0, 0);
  row->condition = label (grid, "soft", 2, 0, 0);
  gtk_widget_set_hexpand (row->condition, TRUE);
  row->margin = label (grid, NULL, 3, 0, 1);
  row->glyph = sp_glyph_widget_new ();
  gtk_grid_attach (GTK_GRID (grid), row->glyph, 0, 1, 1, 1);
  row->verdict = label (grid, NULL, 1, 1, 0);
  row->line = sp_paper_new (draw_line, row);
  gtk_widget_set_size_request (row->line, 84, 16);
  gtk_widget_set_halign (row->line, GTK_ALIGN_END);
  gtk_grid_attach (GTK_GRID (grid), row->line, 2, 1, 2, 1);
  gtk_widget_set_valign (grid, GTK_ALIGN_CENTER);
  g_object_set_data_full (G_OBJECT (grid), "row", row, g_free);
  take_drops (self, grid, row);
  GtkGesture *click = gtk_gesture_click_new ();
  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (click), GDK_BUTTON_SECONDARY);
  g_signal_connect (click, "pressed", G_CALLBACK (show_menu), self);
  gtk_widget_add_controller (grid, GTK_EVENT_CONTROLLER (click));
  gtk_list_item_set_child (item, grid);
}

static void
bind (GtkSignalListItemFactory *factory, GtkListItem *list_item, gpointer data)
{
  (void) factory, (void) data;
  GtkWidget *grid = gtk_list_item_get_child (list_item);
  Row *row = g_object_get_data (G_OBJECT (grid), "row");
  row->item = gtk_list_item_get_item (list_item);
  const SpConditionFindings *found = sp_found_item_found (row->item);
  const SpFindings *findings = sp_found_item_findings (row->item);
  guint i = sp_found_item_condition (row->item);
  g_autofree char *margin = sp_words_deciding_margin (found, SP_HAND_SCREEN);
  gtk_label_set_text (GTK_LABEL (row->name), sp_view_radio_name (findings, i));
  gtk_label_set_text (GTK_LABEL (row->condition), sp_view_condition_name (findings, i));
  gtk_label_set_text (GTK_LABEL (row->margin), margin);
  gtk_label_set_text (GTK_LABEL (row->verdict), sp_words_verdict (found->verdict));
  sp_glyph_widget_set (row->glyph, TRUE, found->verdict);
  g_autofree char *unsettled = sp_words_unsettled (found, SP_HAND_SCREEN);
  g_autofree char *said = g_strdup_printf (_ ("%s: %s, room %s dB%s%s"), found->name, sp_words_verdict (found->verdict),
                                           *margin ? margin : "–", unsettled ? ". " : "", unsettled ? unsettled : "");
  gtk_accessible_update_property (GTK_ACCESSIBLE (gtk_widget_get_parent (grid)), GTK_ACCESSIBLE_PROPERTY_LABEL, said,
                                  -1); /* the row has the focus */
  g_autofree char *occupied = sp_words_occupied (found, SP_HAND_SCREEN);
  g_autofree char *more = occupied ? g_strdup_printf (_ ("%s; occupied bandwidth %s"), said, occupied) : g_strdup (said);
  sp_tip_set (grid, more);
  gtk_widget_queue_draw (row->swatch);
  gtk_widget_queue_draw (row->line);
}

static void
unbind (GtkSignalListItemFactory *factory, GtkListItem *list_item, gpointer data)
{
  (void) factory, (void) data;
  Row *row = g_object_get_data (G_OBJECT (gtk_list_item_get_child (list_item)), "row");
  row->item = NULL;
}

/* ---- the list ---- */

static guint
add_want (GString *text, guint n, const SpReason *want)
{
  g_autofree char *sentence = sp_words_reason (want, SP_HAND_SCREEN);
  g_string_append_printf (text, "%s· %s", n ? "\n" : "", sentence);
  return n + 1;
}

/* What would close the chosen one's first gaps, and prove its open harmonics: one sentence of a kind, the deciding emission's first. */
static void
show_wants (Radios *self)
{
  SpFindings *findings = sp_session_findings (self->session);
  guint chosen = sp_session_condition (self->session);
  g_autoptr (GString) text = g_string_new (NULL);
  guint n = 0;
  gboolean said[SP_N_REASONS] = { FALSE };
  if (findings && chosen < findings->n) {
    const SpConditionFindings *found = &findings->conditions[chosen];
    const SpReason *before = NULL; /* both sides of the carrier share one */
    for (guint i = 0; i < found->n_gaps && n < WANTS_OF_GAPS; i++) {
      const SpReason *close = found->gaps[i].would_close;
      if (close && close != before)
        n = add_want (text, n, close);
      before = close ? close : before;
    }
    for (int pass = 0; pass < 2; pass++)
      for (guint i = 0; i < found->n_emissions && n < WANTS_MOST; i++) {
        const SpEmission *e = &found->emissions[i];
        if (!e->would_prove || e == sp_findings_unsettled (found) || (pass == 0) != ((int) i == found->worst_emission))
          continue;
        if (said[e->would_prove->code])
          continue;
        said[e->would_prove->code] = TRUE;
        n = add_want (text, n, e->would_prove);
      }
    g_autofree char *head = g_strdup_printf (_ ("%s still wants"), found->name);
    gtk_label_set_text (GTK_LABEL (self->wants_head), head);
  }
  gtk_label_set_text (GTK_LABEL (self->wants), text->str);
  g_autofree char *unsettled = findings && chosen < findings->n ? sp_words_unsettled (&findings->conditions[chosen], SP_HAND_SCREEN) : NULL;
  g_autofree char *gap = findings && chosen < findings->n ? sp_words_not_shown (&findings->conditions[chosen], SP_HAND_SCREEN) : NULL;
  g_autofree char *open = g_strjoin (unsettled && gap ? "\n" : "", unsettled ? unsettled : "", gap ? gap : "", NULL);
  gtk_label_set_text (GTK_LABEL (self->unsettled), open);
  gtk_widget_set_visible (self->unsettled, *open && !(self->low && findings->n > WANTS_LOW_ROWS));
  gboolean room = n > 0 && !(self->low && findings->n > WANTS_LOW_ROWS);
  gtk_widget_set_visible (self->wants_head, room);
  gtk_widget_set_visible (self->wants, room);
}

static void
follow_choice (Radios *self)
{
  self->following = TRUE;
  if (sp_session_condition (self->session) < g_list_model_get_n_items (G_LIST_MODEL (self->store)))
    gtk_single_selection_set_selected (self->selection, sp_session_condition (self->session));
  self->following = FALSE;
  show_wants (self);
}

static void
follow_findings (Radios *self)
{
  SpFindings *findings = sp_session_findings (self->session);
  g_autoptr (GPtrArray) items = g_ptr_array_new_with_free_func (g_object_unref);
  for (guint i = 0; findings && i < findings->n; i++)
    g_ptr_array_add (items, sp_found_item_new (findings, i, -1));
  self->following = TRUE;
  g_list_store_splice (self->store, 0, g_list_model_get_n_items (G_LIST_MODEL (self->store)), items->pdata, items->len);
  self->following = FALSE;
  follow_choice (self);
}

static void
selected (Radios *self)
{
  guint i = gtk_single_selection_get_selected (self->selection);
  SpFindings *findings = sp_session_findings (self->session);
  if (!self->following && findings && i < findings->n && i != sp_session_condition (self->session))
    sp_session_choose (self->session, i, findings->conditions[i].worst_emission); /* row, rung and ledger light up together */
}

static GMenuModel *
row_menu (void)
{
  static const struct {
    const char *label, *action;
  } entries[] = {
    { N_ ("Edit…"), "win.edit-condition" }, { N_ ("Import sweeps…"), "win.import-here" }, { N_ ("Duplicate"), "win.duplicate" },
    { N_ ("Move up"), "win.move-up" },      { N_ ("Move down"), "win.move-down" },        { N_ ("Remove"), "win.remove" },
  };
  GMenu *menu = g_menu_new ();
  for (guint i = 0; i < G_N_ELEMENTS (entries); i++)
    g_menu_append (menu, _ (entries[i].label), entries[i].action);
  return G_MENU_MODEL (menu);
}

static void
radios_free (gpointer data)
{
  Radios *self = data;
  g_object_unref (self->menu);
  g_object_unref (self->session);
  g_free (self);
}

static GtkWidget *
list_of (Radios *self)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();
  g_signal_connect (factory, "setup", G_CALLBACK (set_up), self);
  g_signal_connect (factory, "bind", G_CALLBACK (bind), self);
  g_signal_connect (factory, "unbind", G_CALLBACK (unbind), self);
  self->store = g_list_store_new (SP_TYPE_FOUND_ITEM);
  self->selection = gtk_single_selection_new (G_LIST_MODEL (self->store));
  gtk_single_selection_set_autoselect (self->selection, FALSE);
  self->view = gtk_list_view_new (GTK_SELECTION_MODEL (self->selection), factory);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->view), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Radios"), -1);
  g_signal_connect_swapped (self->selection, "notify::selected", G_CALLBACK (selected), self);
  GtkWidget *scroller = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), self->view);
  gtk_widget_set_vexpand (scroller, TRUE);
  return scroller;
}

static GtkWidget *
wrapped (const char *text, const char *class)
{
  GtkWidget *widget = gtk_label_new (text);
  gtk_label_set_wrap (GTK_LABEL (widget), TRUE);
  gtk_label_set_xalign (GTK_LABEL (widget), 0);
  gtk_label_set_max_width_chars (GTK_LABEL (widget), 30);
  gtk_widget_add_css_class (widget, class);
  gtk_widget_set_margin_start (widget, 8);
  gtk_widget_set_margin_end (widget, 8);
  return widget;
}

static void
on_findings (GObject *box)
{
  follow_findings (g_object_get_data (box, "state"));
}

static void
on_choice (GObject *box)
{
  follow_choice (g_object_get_data (box, "state"));
}

void
sp_radios_set_low (GtkWidget *radios, gboolean low)
{
  Radios *self = g_object_get_data (G_OBJECT (radios), "state");
  self->low = low;
  if (low)
    gtk_widget_add_css_class (radios, "low");
  else
    gtk_widget_remove_css_class (radios, "low");
  gtk_button_set_label (GTK_BUTTON (self->drop),
                        low ? _ ("Drop trace exports here") : _ ("Drop trace exports here: on a row, for that radio"));
  show_wants (self);
}

GtkWidget *
sp_radios_new (SpSession *session)
{
  Radios *self = g_new0 (Radios, 1);
  self->session = g_object_ref (session);
  self->menu = row_menu ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4), *head = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  gtk_widget_add_css_class (box, "radios");
  gtk_widget_set_size_request (box, 252, -1);
  gtk_widget_set_hexpand (box, FALSE); /* its labels want the width within, not more of it */
  GtkWidget *title = gtk_label_new (_ ("Radios")), *unit = gtk_label_new (_ ("room, dB"));
  gtk_widget_set_hexpand (title, TRUE);
  gtk_label_set_xalign (GTK_LABEL (title), 0);
  gtk_widget_add_css_class (unit, "soft");
  sp_tip_set (unit, _ ("The limit minus what the verdict goes by, for the emission that decides: its level, or the end of the radio's own "
                       "part. Positive is "
                       "good."));
  gtk_widget_add_css_class (head, "head");
  gtk_widget_set_margin_start (head, 8);
  gtk_widget_set_margin_end (head, 8);
  gtk_box_append (GTK_BOX (head), title);
  gtk_box_append (GTK_BOX (head), unit);
  GtkWidget *list = list_of (self),
            *drop = self->drop = gtk_button_new_with_label (_ ("Drop trace exports here: on a row, for that radio"));
  self->wants_head = wrapped ("", "strong");
  self->wants = wrapped ("", "small");
  gtk_widget_add_css_class (drop, "drop-place");
  gtk_actionable_set_action_name (GTK_ACTIONABLE (drop), "win.import");
  gtk_label_set_wrap (GTK_LABEL (gtk_button_get_child (GTK_BUTTON (drop))), TRUE);
  gtk_label_set_justify (GTK_LABEL (gtk_button_get_child (GTK_BUTTON (drop))), GTK_JUSTIFY_CENTER);
  gtk_widget_set_margin_start (drop, 8);
  gtk_widget_set_margin_end (drop, 8);
  take_drops (self, list, NULL);
  take_drops (self, drop, NULL);
  self->unsettled = wrapped ("", "small");
  GtkWidget *parts[] = { head, list, self->unsettled, self->wants_head, self->wants, drop };
  for (guint i = 0; i < G_N_ELEMENTS (parts); i++)
    gtk_box_append (GTK_BOX (box), parts[i]);
  g_object_set_data_full (G_OBJECT (box), "state", self, radios_free);
  g_signal_connect_object (session, "notify::findings", G_CALLBACK (on_findings), G_OBJECT (box), G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "notify::condition", G_CALLBACK (on_choice), G_OBJECT (box), G_CONNECT_SWAPPED);
  follow_findings (self);
  return box;
}
