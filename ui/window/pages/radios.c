/* radios.c - the list of radios and conditions */
#include "ui/window/pages/radios.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/findings/mind.h"
#include "ui/figure/panels.h"
#include "ui/window/import/import.h"
#include "ui/window/widgets/drawing-area.h"
#include "ui/window/widgets/items.h"
#include "ui/window/widgets/theme.h"
#include "ui/window/widgets/tooltip.h"
#include "ui/words/help.h"

#define WANTS_MOST 3
#define WANTS_OF_GAPS 2  /* of these at most */
#define WANTS_LOW_ROWS 8 /* with more rows than this, a low window has no space for them */

struct _SpRadios {
  GtkBox parent_instance;
  SpSession *session;
  gboolean low;
  gboolean had_focus;
  gboolean following; /* the selection is being set to what the session says */
  /* of the template */
  GMenuModel *menu; /* of a row */
  GListStore *store;
  GtkSingleSelection *selection;
  GtkWidget *unit, *list, *view, *unsettled, *wants_head, *wants, *drop;
};

G_DEFINE_FINAL_TYPE (SpRadios, sp_radios, GTK_TYPE_BOX)

/* ---- a row ---- */

#define SP_TYPE_RADIO_ROW (sp_radio_row_get_type ())
G_DECLARE_FINAL_TYPE (SpRadioRow, sp_radio_row, SP, RADIO_ROW, GtkGrid)

struct _SpRadioRow {
  GtkGrid parent_instance;
  SpRadios *radios;
  SpFoundItem *item; /* bound now; NULL */
  /* of the template */
  SpGlyph *glyph;
  GtkWidget *name, *condition, *margin, *verdict, *mind, *swatch, *line;
};

G_DEFINE_FINAL_TYPE (SpRadioRow, sp_radio_row, GTK_TYPE_GRID)

static void
draw_swatch (SpPen *pen, const SpRect *rect, gpointer data)
{
  const SpRadioRow *row = data;
  if (!row->item)
    return;
  guint condition = sp_found_item_condition (row->item);
  double y = rect->height / 2;
  sp_pen_colour (pen, &pen->palette->trace[sp_view_ink (condition)], 1);
  if (condition >= SP_TRACE_INKS) /* the inks start again */
    sp_pen_dotted (pen, 0, y, rect->width, y, 3, 5);
  else
    sp_pen_line (pen, 0, y, rect->width, y, 3);
}

static void
draw_line (SpPen *pen, const SpRect *rect, gpointer data)
{
  const SpRadioRow *row = data;
  if (!row->item)
    return;
  const SpConditionFindings *found = sp_found_item_found (row->item);
  if (found->verdict == SP_VERDICT_NO_LIMIT || found->worst_emission < 0)
    return;
  const SpEmission *e = &found->emissions[found->worst_emission];
  sp_margin_line_draw (pen, 2, rect->height / 2, rect->width - 4, sp_emission_deciding_margin_db (e), sp_emission_deciding_expanded_db (e));
}

static void
take_files (SpRadios *self, const GValue *value, int condition)
{
  g_autoptr (GListStore) files = g_list_store_new (G_TYPE_FILE);
  for (GSList *l = g_value_get_boxed (value); l; l = l->next)
    g_list_store_append (files, l->data);
  sp_import_begin (GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (self))), self->session, G_LIST_MODEL (files), condition);
}

static gboolean
dropped_on_row (GtkDropTarget *target, const GValue *value, double x, double y, gpointer data)
{
  const SpRadioRow *row = data;
  (void) target, (void) x, (void) y;
  take_files (row->radios, value, row->item ? (int) sp_found_item_condition (row->item) : -1);
  return TRUE;
}

static gboolean
dropped (GtkDropTarget *target, const GValue *value, double x, double y, gpointer data)
{
  (void) target, (void) x, (void) y;
  take_files (data, value, -1);
  return TRUE;
}

static void
take_drops (GtkWidget *widget, GCallback drop, gpointer data)
{
  GtkDropTarget *target = gtk_drop_target_new (GDK_TYPE_FILE_LIST, GDK_ACTION_COPY);
  g_signal_connect (target, "drop", drop, data);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (target));
}

static void
show_menu (GtkGestureClick *gesture, int n, double x, double y, SpRadioRow *row)
{
  (void) gesture, (void) n;
  if (row->item)
    sp_session_choose (row->radios->session, sp_found_item_condition (row->item), SP_DECIDING_EMISSION);
  GtkWidget *popover = gtk_popover_menu_new_from_model (row->radios->menu);
  gtk_widget_set_parent (popover, GTK_WIDGET (row));
  gtk_popover_set_pointing_to (GTK_POPOVER (popover), &(GdkRectangle){ (int) x, (int) y, 1, 1 });
  gtk_popover_set_has_arrow (GTK_POPOVER (popover), FALSE);
  g_signal_connect (popover, "closed", G_CALLBACK (gtk_widget_unparent), NULL);
  gtk_popover_popup (GTK_POPOVER (popover));
}

static void
sp_radio_row_class_init (SpRadioRowClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  g_type_ensure (SP_TYPE_GLYPH);
  gtk_widget_class_set_template_from_resource (widget, "/spurproof/pages/radio-row.ui");
#define PART(name) gtk_widget_class_bind_template_child (widget, SpRadioRow, name)
  PART (glyph), PART (name), PART (condition), PART (margin), PART (verdict), PART (mind), PART (swatch), PART (line);
#undef PART
  gtk_widget_class_bind_template_callback (widget, show_menu);
}

static void
sp_radio_row_init (SpRadioRow *row)
{
  gtk_widget_init_template (GTK_WIDGET (row));
  sp_paper_set (row->swatch, draw_swatch, row);
  sp_paper_set (row->line, draw_line, row);
  take_drops (GTK_WIDGET (row), G_CALLBACK (dropped_on_row), row);
}

static void
set_up (GtkSignalListItemFactory *factory, GtkListItem *list_item, SpRadios *self)
{
  SpRadioRow *row = g_object_new (SP_TYPE_RADIO_ROW, NULL);
  (void) factory;
  row->radios = self;
  gtk_list_item_set_child (list_item, GTK_WIDGET (row));
}

/* How many things there are to mind; filled where one of them can change the verdict. */
static void
show_mind (SpRadioRow *row)
{
  g_autoptr (GArray) minds = sp_findings_mind (sp_found_item_findings (row->item), sp_found_item_condition (row->item));
  g_autofree char *count = g_strdup_printf ("%u", minds->len);
  gboolean weighs = minds->len > 0 && g_array_index (minds, SpMind, 0).weighs; /* those come first */
  gtk_label_set_text (GTK_LABEL (row->mind), count);
  gtk_widget_set_visible (row->mind, minds->len > 0);
  weighs ? gtk_widget_add_css_class (row->mind, "weighs") : gtk_widget_remove_css_class (row->mind, "weighs");
}

static void
bind (GtkSignalListItemFactory *factory, GtkListItem *list_item, SpRadios *self)
{
  (void) factory, (void) self;
  SpRadioRow *row = SP_RADIO_ROW (gtk_list_item_get_child (list_item));
  row->item = gtk_list_item_get_item (list_item);
  const SpConditionFindings *found = sp_found_item_found (row->item);
  const SpFindings *findings = sp_found_item_findings (row->item);
  guint i = sp_found_item_condition (row->item);
  g_autofree char *margin = sp_words_deciding_margin (found, SP_HAND_SCREEN);
  gtk_label_set_text (GTK_LABEL (row->name), sp_view_radio_name (findings, i));
  gtk_label_set_text (GTK_LABEL (row->condition), sp_view_condition_name (findings, i));
  gtk_label_set_text (GTK_LABEL (row->margin), margin);
  gtk_label_set_text (GTK_LABEL (row->verdict), sp_words_verdict (found->verdict));
  sp_glyph_set (row->glyph, TRUE, found->verdict);
  show_mind (row);
  g_autofree char *unsettled = sp_words_unsettled (found, SP_HAND_SCREEN);
  g_autofree char *said = g_strdup_printf (_ ("%s: %s, room %s dB%s%s"), found->name, sp_words_verdict (found->verdict),
                                           *margin ? margin : "–", unsettled ? ". " : "", unsettled ? unsettled : "");
  gtk_accessible_update_property (GTK_ACCESSIBLE (gtk_widget_get_parent (GTK_WIDGET (row))), GTK_ACCESSIBLE_PROPERTY_LABEL, said,
                                  -1); /* the row has the focus */
  g_autofree char *occupied = sp_words_occupied (found, SP_HAND_SCREEN);
  g_autofree char *statement = sp_words_statement (found, SP_HAND_SCREEN);
  g_autofree char *more = occupied ? g_strdup_printf (_ ("%s. %s Occupied bandwidth %s."), found->name, statement, occupied)
                                   : g_strdup_printf ("%s. %s", found->name, statement);
  sp_tip_set (GTK_WIDGET (row), more);
  gtk_widget_queue_draw (row->swatch);
  gtk_widget_queue_draw (row->line);
}

static void
unbind (GtkSignalListItemFactory *factory, GtkListItem *list_item, SpRadios *self)
{
  (void) factory, (void) self;
  SP_RADIO_ROW (gtk_list_item_get_child (list_item))->item = NULL;
}

/* ---- the list ---- */

static guint
add_want (GString *text, guint n, const SpReason *want)
{
  g_autofree char *sentence = sp_words_reason (want, SP_HAND_SCREEN);
  g_string_append_printf (text, "%s· %s", n ? "\n" : "", sentence);
  return n + 1;
}

/* What would close the first gaps. */
static guint
add_wants_of_gaps (GString *text, const SpConditionFindings *found)
{
  const SpReason *before = NULL; /* both sides of the carrier share one */
  guint n = 0;
  for (guint i = 0; i < found->n_gaps && n < WANTS_OF_GAPS; i++) {
    const SpReason *close = found->gaps[i].would_close;
    if (close && close != before)
      n = add_want (text, n, close);
    before = close ? close : before;
  }
  return n;
}

/* Adds to `n` what would prove the open harmonics: one sentence of a kind, the deciding emission's first. */
static guint
add_wants_of_emissions (GString *text, guint n, const SpConditionFindings *found)
{
  gboolean said[SP_N_REASONS] = { FALSE };
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
  return n;
}

static void
show_wants (SpRadios *self)
{
  SpFindings *findings = sp_session_findings (self->session);
  const SpConditionFindings *found = sp_session_found (self->session);
  g_autoptr (GString) text = g_string_new (NULL);
  guint n = found ? add_wants_of_emissions (text, add_wants_of_gaps (text, found), found) : 0;
  g_autofree char *head = found ? g_strdup_printf (_ ("%s still wants"), found->name) : NULL,
                  *unsettled = found ? sp_words_unsettled (found, SP_HAND_SCREEN) : NULL,
                  *gap = found ? sp_words_not_shown (found, SP_HAND_SCREEN) : NULL;
  g_autofree char *open = g_strjoin (unsettled && gap ? "\n" : "", unsettled ? unsettled : "", gap ? gap : "", NULL);
  gboolean space = !(self->low && findings && findings->n > WANTS_LOW_ROWS);
  gtk_label_set_text (GTK_LABEL (self->wants_head), head ? head : "");
  gtk_label_set_text (GTK_LABEL (self->wants), text->str);
  gtk_label_set_text (GTK_LABEL (self->unsettled), open);
  gtk_widget_set_visible (self->unsettled, *open && space);
  gtk_widget_set_visible (self->wants_head, n > 0 && space);
  gtk_widget_set_visible (self->wants, n > 0 && space);
}

static void
follow_choice (SpRadios *self)
{
  self->following = TRUE;
  if (sp_session_condition (self->session) < g_list_model_get_n_items (G_LIST_MODEL (self->store)))
    gtk_single_selection_set_selected (self->selection, sp_session_condition (self->session));
  self->following = FALSE;
  show_wants (self);
}

/* Once, as soon as there are rows to be seen: Down goes to the next radio. */
static void
take_focus (SpRadios *self)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  if (self->had_focus || !root || !gtk_widget_get_mapped (GTK_WIDGET (self)) || g_list_model_get_n_items (G_LIST_MODEL (self->store)) == 0
      || GTK_IS_EDITABLE (gtk_root_get_focus (root)))
    return;
  self->had_focus = TRUE;
  gtk_widget_grab_focus (self->view);
}

/* A row that goes while it has the focus swallows the next keys (GTK 4.8). TRUE: one had it. */
static gboolean
let_go_of_focus (SpRadios *self)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  GtkWidget *focus = root ? gtk_root_get_focus (root) : NULL;
  if (!focus || !gtk_widget_is_ancestor (focus, self->view))
    return FALSE;
  gtk_root_set_focus (root, NULL);
  return TRUE;
}

static void
follow_findings (SpRadios *self)
{
  SpFindings *findings = sp_session_findings (self->session);
  g_autoptr (GPtrArray) items = g_ptr_array_new_with_free_func (g_object_unref);
  for (guint i = 0; findings && i < findings->n; i++)
    g_ptr_array_add (items, sp_found_item_new (findings, i, -1));
  gboolean within = let_go_of_focus (self);
  self->following = TRUE;
  g_list_store_splice (self->store, 0, g_list_model_get_n_items (G_LIST_MODEL (self->store)), items->pdata, items->len);
  self->following = FALSE;
  follow_choice (self);
  if (within)
    gtk_widget_grab_focus (self->view);
  take_focus (self);
}

static void
selected (SpRadios *self)
{
  guint i = gtk_single_selection_get_selected (self->selection);
  SpFindings *findings = sp_session_findings (self->session);
  if (!self->following && findings && i < findings->n && i != sp_session_condition (self->session))
    sp_session_choose (self->session, i, SP_DECIDING_EMISSION);
}

static void
sp_radios_finalize (GObject *object)
{
  g_clear_object (&SP_RADIOS (object)->session);
  G_OBJECT_CLASS (sp_radios_parent_class)->finalize (object);
}

static void
sp_radios_class_init (SpRadiosClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  sp_pages_style ();
  g_type_ensure (SP_TYPE_FOUND_ITEM);
  G_OBJECT_CLASS (klass)->finalize = sp_radios_finalize;
  gtk_widget_class_set_template_from_resource (widget, "/spurproof/pages/radios.ui");
#define PART(name) gtk_widget_class_bind_template_child (widget, SpRadios, name)
  PART (menu), PART (store), PART (selection), PART (unit), PART (list), PART (view), PART (unsettled), PART (wants_head), PART (wants);
  PART (drop);
#undef PART
#define DOES(name) gtk_widget_class_bind_template_callback (widget, name)
  DOES (set_up), DOES (bind), DOES (unbind), DOES (selected);
#undef DOES
}

static void
sp_radios_init (SpRadios *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  sp_tip_set (self->unit, sp_words_meaning (SP_WORD_ROOM));
  GtkLabel *text = GTK_LABEL (gtk_button_get_child (GTK_BUTTON (self->drop))); /* the button's own, which names it */
  gtk_label_set_wrap (text, TRUE);
  gtk_label_set_justify (text, GTK_JUSTIFY_CENTER);
  take_drops (self->list, G_CALLBACK (dropped), self);
  take_drops (self->drop, G_CALLBACK (dropped), self);
  g_signal_connect (self, "map", G_CALLBACK (take_focus), NULL);
}

void
sp_radios_set_low (SpRadios *self, gboolean low)
{
  self->low = low;
  if (low)
    gtk_widget_add_css_class (GTK_WIDGET (self), "low");
  else
    gtk_widget_remove_css_class (GTK_WIDGET (self), "low");
  gtk_button_set_label (GTK_BUTTON (self->drop),
                        low ? _ ("Drop trace exports here") : _ ("Drop trace exports here: on a row, for that radio"));
  show_wants (self);
}

GtkWidget *
sp_radios_new (SpSession *session)
{
  SpRadios *self = g_object_new (SP_TYPE_RADIOS, NULL);
  self->session = g_object_ref (session);
  g_signal_connect_object (session, "notify::findings", G_CALLBACK (follow_findings), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "notify::condition", G_CALLBACK (follow_choice), self, G_CONNECT_SWAPPED);
  follow_findings (self);
  return GTK_WIDGET (self);
}
