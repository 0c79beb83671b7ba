/* radio-row.c - a condition in the list: number, swatch, name and room; tick, glyph, word, what to mind, number line */
#include "ui/window/pages/radio-row.h"

#include <glib/gi18n-lib.h>

#include "core/findings/mind.h"
#include "ui/figure/panels.h"
#include "ui/figure/pen/mark.h"
#include "ui/figure/pen/names.h"
#include "ui/window/import/import.h"
#include "ui/window/pages/radio-move.h"
#include "ui/window/widgets/drawing-area.h"
#include "ui/window/widgets/tooltip.h"
#include "ui/words/words.h"

#define NUMBER 20 /* of the drawing's width, for the row's number */

struct _SpRadioRow {
  GtkGrid parent_instance;
  SpSession *session;
  GMenuModel *menu;
  SpFoundItem *item; /* bound now; NULL */
  gboolean following;
  /* of the template */
  SpGlyph *glyph;
  GtkWidget *name, *condition, *margin, *verdict, *mind, *swatch, *line, *tick;
};

G_DEFINE_FINAL_TYPE (SpRadioRow, sp_radio_row, GTK_TYPE_GRID)

static void
draw_swatch (SpPen *pen, const SpRect *rect, gpointer data)
{
  const SpRadioRow *row = data;
  const guint *rows = sp_session_rows (row->session);
  if (!row->item || !rows)
    return;
  guint condition = sp_found_item_condition (row->item);
  g_autofree char *number = g_strdup_printf ("%u", rows[condition]);
  sp_pen_text (pen, NUMBER - 6, rect->height / 2 + 4.5, SP_TEXT_BODY, &pen->palette->ink, 1, number);
  sp_mark_swatch (pen, NUMBER, rect->height / 2, SP_SWATCH_LENGTH, condition);
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
  sp_margin_line_draw (pen, 2, rect->height / 2, rect->width - 4, sp_emission_room_db (e), sp_emission_deciding_expanded_db (e));
}

static gboolean
dropped (GtkDropTarget *target, const GValue *value, double x, double y, gpointer data)
{
  const SpRadioRow *row = data;
  (void) target, (void) x, (void) y;
  sp_import_dropped (GTK_WIDGET (row), row->session, value, row->item ? (int) sp_found_item_condition (row->item) : -1);
  return TRUE;
}

/* ---- dragged to another row ---- */

static GdkContentProvider *
prepare_drag (GtkDragSource *source, double x, double y, SpRadioRow *row)
{
  g_autoptr (GdkPaintable) picture = gtk_widget_paintable_new (GTK_WIDGET (row));
  gtk_drag_source_set_icon (source, picture, (int) x, (int) y);
  return row->item ? gdk_content_provider_new_typed (SP_TYPE_FOUND_ITEM, row->item) : NULL;
}

/* Of another window's list, or of findings that are gone: nothing. */
static gboolean
row_dropped (GtkDropTarget *target, const GValue *value, double x, double y, gpointer data)
{
  const SpRadioRow *row = data;
  SpFoundItem *from = g_value_get_object (value);
  (void) target, (void) x, (void) y;
  if (!row->item || !from || sp_found_item_findings (from) != sp_session_findings (row->session)
      || !sp_radio_may_move (row->session, sp_found_item_condition (from), sp_found_item_condition (row->item)))
    return FALSE;
  sp_radio_move (row->session, sp_found_item_condition (from), sp_found_item_condition (row->item));
  return TRUE;
}

static void
take_part_in_drags (SpRadioRow *row)
{
  GtkDragSource *source = gtk_drag_source_new ();
  GtkDropTarget *target = gtk_drop_target_new (SP_TYPE_FOUND_ITEM, GDK_ACTION_MOVE);
  gtk_drag_source_set_actions (source, GDK_ACTION_MOVE);
  g_signal_connect (source, "prepare", G_CALLBACK (prepare_drag), row);
  g_signal_connect (target, "drop", G_CALLBACK (row_dropped), row);
  gtk_widget_add_controller (GTK_WIDGET (row), GTK_EVENT_CONTROLLER (source));
  gtk_widget_add_controller (GTK_WIDGET (row), GTK_EVENT_CONTROLLER (target));
}

static void
show_menu (GtkGestureClick *gesture, int n, double x, double y, SpRadioRow *row)
{
  (void) gesture, (void) n;
  if (row->item)
    sp_session_choose (row->session, sp_found_item_condition (row->item), SP_DECIDING_EMISSION);
  GtkWidget *popover = gtk_popover_menu_new_from_model (row->menu);
  gtk_widget_set_parent (popover, GTK_WIDGET (row));
  gtk_popover_set_pointing_to (GTK_POPOVER (popover), &(GdkRectangle){ (int) x, (int) y, 1, 1 });
  gtk_popover_set_has_arrow (GTK_POPOVER (popover), FALSE);
  g_signal_connect (popover, "closed", G_CALLBACK (gtk_widget_unparent), NULL);
  gtk_popover_popup (GTK_POPOVER (popover));
}

/* The tick follows the session, and the user's click on it goes there. */
static void
follow_shown (SpRadioRow *row)
{
  if (!row->item)
    return;
  gboolean shown = sp_session_shows (row->session, sp_found_item_condition (row->item));
  row->following = TRUE;
  gtk_check_button_set_active (GTK_CHECK_BUTTON (row->tick), shown);
  row->following = FALSE;
  shown ? gtk_widget_remove_css_class (GTK_WIDGET (row), "not-shown") : gtk_widget_add_css_class (GTK_WIDGET (row), "not-shown");
  gtk_widget_queue_draw (row->swatch);
}

static void
ticked (SpRadioRow *row)
{
  if (!row->following && row->item)
    sp_session_show (row->session, sp_found_item_condition (row->item), gtk_check_button_get_active (GTK_CHECK_BUTTON (row->tick)));
}

static void
sp_radio_row_dispose (GObject *object)
{
  SpRadioRow *row = SP_RADIO_ROW (object);
  row->item = NULL;
  g_clear_object (&row->session);
  G_OBJECT_CLASS (sp_radio_row_parent_class)->dispose (object);
}

static void
sp_radio_row_class_init (SpRadioRowClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  g_type_ensure (SP_TYPE_GLYPH);
  G_OBJECT_CLASS (klass)->dispose = sp_radio_row_dispose;
  gtk_widget_class_set_template_from_resource (widget, "/spurproof/pages/radio-row.ui");
#define PART(name) gtk_widget_class_bind_template_child (widget, SpRadioRow, name)
  PART (glyph), PART (name), PART (condition), PART (margin), PART (verdict), PART (mind), PART (swatch), PART (line), PART (tick);
#undef PART
  gtk_widget_class_bind_template_callback (widget, show_menu);
  gtk_widget_class_bind_template_callback (widget, ticked);
}

static void
sp_radio_row_init (SpRadioRow *row)
{
  gtk_widget_init_template (GTK_WIDGET (row));
  sp_paper_set (row->swatch, draw_swatch, row);
  sp_paper_set (row->line, draw_line, row);
  GtkDropTarget *target = gtk_drop_target_new (GDK_TYPE_FILE_LIST, GDK_ACTION_COPY);
  g_signal_connect (target, "drop", G_CALLBACK (dropped), row);
  gtk_widget_add_controller (GTK_WIDGET (row), GTK_EVENT_CONTROLLER (target));
  take_part_in_drags (row);
}

GtkWidget *
sp_radio_row_new (SpSession *session, GMenuModel *menu)
{
  SpRadioRow *row = g_object_new (SP_TYPE_RADIO_ROW, NULL);
  row->session = g_object_ref (session);
  row->menu = menu;
  g_signal_connect_object (session, "notify::shown", G_CALLBACK (follow_shown), row, G_CONNECT_SWAPPED);
  return GTK_WIDGET (row);
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

/* What a screen reader says of the row, and what the pointer is told. */
static void
tell (SpRadioRow *row, const SpConditionFindings *found, const char *margin)
{
  g_autofree char *unsettled = sp_words_unsettled (found, SP_HAND_SCREEN);
  g_autofree char *said = g_strdup_printf (_ ("%s: %s, room %s dB%s%s"), found->name, sp_words_verdict (found->verdict),
                                           *margin ? margin : "–", unsettled ? ". " : "", unsettled ? unsettled : "");
  gtk_accessible_update_property (GTK_ACCESSIBLE (gtk_widget_get_parent (GTK_WIDGET (row))), GTK_ACCESSIBLE_PROPERTY_LABEL, said,
                                  -1); /* the row has the focus */
  g_autofree char *tick = g_strdup_printf (_ ("%s on the chart"), found->name);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row->tick), GTK_ACCESSIBLE_PROPERTY_LABEL, tick, -1);
  g_autofree char *occupied = sp_words_occupied (found, SP_HAND_SCREEN);
  g_autofree char *statement = sp_words_statement (found, SP_HAND_SCREEN);
  g_autofree char *more = occupied ? g_strdup_printf (_ ("%s. %s Occupied bandwidth %s."), found->name, statement, occupied)
                                   : g_strdup_printf ("%s. %s", found->name, statement);
  sp_tip_set (GTK_WIDGET (row), more);
}

void
sp_radio_row_set (SpRadioRow *row, SpFoundItem *item)
{
  row->item = item;
  if (!item)
    return;
  const SpConditionFindings *found = sp_found_item_found (item);
  const SpFindings *findings = sp_found_item_findings (item);
  guint i = sp_found_item_condition (item);
  g_autofree char *margin = sp_words_deciding_margin (found, SP_HAND_SCREEN);
  gtk_label_set_text (GTK_LABEL (row->name), sp_name_lead (findings, i));
  gtk_label_set_text (GTK_LABEL (row->condition), sp_name_rest (findings, i));
  gtk_label_set_text (GTK_LABEL (row->margin), margin);
  gtk_label_set_text (GTK_LABEL (row->verdict), sp_words_verdict (found->verdict));
  sp_glyph_set (row->glyph, TRUE, found->verdict);
  show_mind (row);
  tell (row, found, margin);
  follow_shown (row);
  gtk_widget_queue_draw (row->line);
}
