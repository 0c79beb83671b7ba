/* staircase.c - the chain's staircase as a widget */
#include "ui/window/chart/staircase.h"

#include <glib/gi18n-lib.h>

#include "ui/figure/panels.h"
#include "ui/window/session/chain-edit.h"
#include "ui/window/widgets/drawing-area.h"
#include "ui/window/widgets/items.h"
#include "ui/window/widgets/theme.h"
#include "ui/words/words.h"

struct _SpStaircase {
  GtkDrawingArea parent_instance;
  SpSession *session;
  int chosen; /* stage; -1 */
  int over;   /* stage that something is being dragged over; -1 */
};

G_DEFINE_FINAL_TYPE (SpStaircase, sp_staircase, GTK_TYPE_DRAWING_AREA)

static gboolean
is_drawn (const SpStaircase *self)
{
  SpFindings *findings = sp_session_findings (self->session);
  return findings && findings->n > 0;
}

static SpRect
inner (double width, double height)
{
  return (SpRect){ 16, 8, width - 32, height - 8 };
}

static SpRect
inner_now (SpStaircase *self)
{
  SpRect paper = sp_widget_paper (GTK_WIDGET (self));
  return inner (paper.width, paper.height);
}

/* ---- drawn ---- */

static void
draw_mark (SpPen *pen, const SpFindings *findings, const SpView *view, const SpRect *rect, int stage, gboolean strong)
{
  static const double dashes[] = { 4, 3 };
  SpRect place;
  if (!sp_staircase_place (findings, view, rect, stage, &place))
    return;
  cairo_new_path (pen->cr);
  cairo_rectangle (pen->cr, place.x - 2.5, place.y + 0.5, place.width - 2, place.height - 2);
  sp_pen_colour (pen, strong ? &pen->palette->ink : &pen->palette->soft, 1);
  cairo_set_line_width (pen->cr, strong ? 2 : 1);
  cairo_set_dash (pen->cr, dashes, 2, 0);
  cairo_stroke (pen->cr);
  cairo_set_dash (pen->cr, NULL, 0, 0);
}

static void
draw (SpPen *pen, const SpRect *rect, gpointer owner)
{
  SpStaircase *self = owner;
  SpFindings *findings = sp_session_findings (self->session);
  SpView view;
  if (!findings)
    return;
  sp_session_figure_view (self->session, &view);
  SpRect space = inner (rect->width, rect->height);
  sp_staircase_draw (pen, findings, &view, &space);
  if (gtk_widget_has_focus (GTK_WIDGET (self)))
    draw_mark (pen, findings, &view, &space, self->chosen, FALSE);
  if (self->over >= 0)
    draw_mark (pen, findings, &view, &space, self->over, TRUE);
}

/* Tells a screen reader the chosen tread and the power at each place. */
static void
describe (SpStaircase *self)
{
  const SpConditionFindings *found = sp_session_found (self->session);
  const SpHeadroom *h = found ? found->headroom : NULL;
  g_autoptr (GString) text = g_string_new (NULL);
  for (guint i = 0; h && i < h->n_nodes; i++)
    if (h->nodes[i].stage >= 0 && h->nodes[i].stage == self->chosen)
      g_string_append_printf (text, _ ("chosen: %s; "), h->nodes[i].name);
  for (guint i = 0; h && i < h->n_nodes; i++) {
    g_autofree char *level = sp_words_level (h->nodes[i].level_dbm, 1, SP_HAND_SCREEN),
                    *left = sp_words_number (h->nodes[i].headroom_db, 1, SP_HAND_SCREEN);
    g_string_append_printf (text, _ ("into %s %s, headroom %s dB; "), h->nodes[i].name, level, left);
  }
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Chain"), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                  text->str, -1);
}

static void
show (SpStaircase *self)
{
  SpChain *chain = sp_chain_in_use (self->session);
  if (!chain || self->chosen >= (int) chain->n)
    self->chosen = chain ? (int) chain->n - 1 : -1;
  describe (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* ---- edited ---- */

static int
stage_at (SpStaircase *self, double x)
{
  SpView view;
  SpRect space = inner_now (self);
  if (!is_drawn (self) || sp_session_judging (self->session)) /* what is drawn is not the bench that would be edited */
    return -1;
  sp_session_figure_view (self->session, &view);
  return sp_staircase_stage_at (sp_session_findings (self->session), &view, &space, x / sp_theme_text_scale ());
}

static void
edit (SpStaircase *self, int stage)
{
  if (stage >= 0)
    gtk_widget_activate_action (GTK_WIDGET (self), "win.edit-stage", "i", stage);
}

static void
move (SpStaircase *self, int from, int to)
{
  if (from >= 0 && to >= 0 && sp_chain_move_at (self->session, sp_chain_place_in_use (self->session), (guint) from, (guint) to))
    self->chosen = to;
  show (self);
}

static void
on_click (GtkGestureClick *click, int n, double x, double y, SpStaircase *self)
{
  (void) click, (void) n, (void) y;
  int stage = stage_at (self, x);
  if (stage < 0)
    return;
  self->chosen = stage;
  gtk_widget_grab_focus (GTK_WIDGET (self));
  show (self);
  edit (self, stage);
}

static GdkContentProvider *
on_prepare (GtkDragSource *source, double x, double y, SpStaircase *self)
{
  (void) source, (void) y;
  int stage = stage_at (self, x);
  return stage < 0 ? NULL : gdk_content_provider_new_typed (G_TYPE_INT, stage);
}

static GdkDragAction
on_motion (GtkDropTarget *target, double x, double y, SpStaircase *self)
{
  (void) target, (void) y;
  int over = stage_at (self, x);
  if (over != self->over)
    gtk_widget_queue_draw (GTK_WIDGET (self));
  self->over = over;
  return over < 0 ? 0 : gtk_drop_target_get_actions (target) & GDK_ACTION_MOVE ? GDK_ACTION_MOVE : GDK_ACTION_COPY;
}

static void
on_leave (GtkDropTarget *target, SpStaircase *self)
{
  (void) target;
  self->over = -1;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static gboolean
on_drop (GtkDropTarget *target, const GValue *value, double x, double y, SpStaircase *self)
{
  int to = stage_at (self, x);
  on_leave (target, self);
  (void) y;
  if (to < 0)
    return FALSE;
  if (!G_VALUE_HOLDS_INT (value))
    return sp_chain_take_files_at (self->session, sp_chain_place_in_use (self->session), (guint) to, value);
  move (self, g_value_get_int (value), to);
  return TRUE;
}

/* What a key does; its argument says how far it goes. */
enum { CHOOSE, MOVE, EDIT };

static gboolean
on_key (GtkWidget *area, GVariant *arguments, gpointer data)
{
  SpStaircase *self = SP_STAIRCASE (area);
  SpChain *chain = sp_chain_in_use (self->session);
  int what, by;
  (void) data;
  g_variant_get (arguments, "(ii)", &what, &by);
  int to = self->chosen < 0 ? 0 : self->chosen + by;
  if (!chain || to < 0 || to >= (int) chain->n)
    return TRUE;
  if (what == MOVE)
    move (self, self->chosen, to);
  else
    self->chosen = to;
  show (self);
  if (what == EDIT)
    edit (self, to);
  return TRUE;
}

static void
add_keys (SpStaircase *self)
{
  static const struct {
    guint key;
    GdkModifierType modifiers;
    int what, by;
  } keys[] = {
    { GDK_KEY_Left, 0, CHOOSE, -1 },
    { GDK_KEY_Right, 0, CHOOSE, 1 },
    { GDK_KEY_Left, GDK_SHIFT_MASK, MOVE, -1 },
    { GDK_KEY_Right, GDK_SHIFT_MASK, MOVE, 1 },
    { GDK_KEY_Return, 0, EDIT, 0 },
    { GDK_KEY_KP_Enter, 0, EDIT, 0 },
  };
  GtkEventController *shortcuts = gtk_shortcut_controller_new ();
  for (guint i = 0; i < G_N_ELEMENTS (keys); i++) {
    GtkShortcut *shortcut = gtk_shortcut_new (gtk_keyval_trigger_new (keys[i].key, keys[i].modifiers),
                                              gtk_callback_action_new (on_key, NULL, NULL));
    gtk_shortcut_set_arguments (shortcut, g_variant_new ("(ii)", keys[i].what, keys[i].by));
    gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (shortcuts), shortcut);
  }
  gtk_widget_add_controller (GTK_WIDGET (self), shortcuts);
}

static void
add_pointer (SpStaircase *self)
{
  GType dropped[] = { G_TYPE_INT, GDK_TYPE_FILE_LIST };
  GtkGesture *click = gtk_gesture_click_new ();
  g_signal_connect (click, "released", G_CALLBACK (on_click), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (click));
  GtkDragSource *source = gtk_drag_source_new ();
  gtk_drag_source_set_actions (source, GDK_ACTION_MOVE);
  g_signal_connect (source, "prepare", G_CALLBACK (on_prepare), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (source));
  GtkDropTarget *target = gtk_drop_target_new (G_TYPE_INVALID, GDK_ACTION_MOVE | GDK_ACTION_COPY);
  gtk_drop_target_set_gtypes (target, dropped, G_N_ELEMENTS (dropped));
  g_signal_connect (target, "motion", G_CALLBACK (on_motion), self);
  g_signal_connect (target, "leave", G_CALLBACK (on_leave), self);
  g_signal_connect (target, "drop", G_CALLBACK (on_drop), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (target));
  GtkEventController *focus = gtk_event_controller_focus_new ();
  g_signal_connect_swapped (focus, "enter", G_CALLBACK (gtk_widget_queue_draw), self);
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (gtk_widget_queue_draw), self);
  gtk_widget_add_controller (GTK_WIDGET (self), focus);
}

static void
sp_staircase_finalize (GObject *object)
{
  g_clear_object (&SP_STAIRCASE (object)->session);
  G_OBJECT_CLASS (sp_staircase_parent_class)->finalize (object);
}

static void
sp_staircase_class_init (SpStaircaseClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = sp_staircase_finalize;
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (klass), GTK_ACCESSIBLE_ROLE_IMG);
}

static void
sp_staircase_init (SpStaircase *self)
{
  GtkWidget *widget = GTK_WIDGET (self);
  self->over = -1;
  sp_paper_set (widget, draw, self);
  sp_paper_add_copying (widget, draw, self);
  gtk_widget_set_focusable (widget, TRUE);
  gtk_widget_set_tooltip_text (
      widget,
      _ ("Drag a tread to reorder the chain, click it to edit its stage, drop a loss table, a two-port or a run on it. Keys: Left, Right, "
         "Shift with them, Enter; Ctrl+C copies the picture."));
  add_pointer (self);
  add_keys (self);
}

GtkWidget *
sp_staircase_new (SpSession *session)
{
  SpStaircase *self = g_object_new (SP_TYPE_STAIRCASE, NULL);
  self->session = g_object_ref (session);
  g_signal_connect_object (session, "notify::findings", G_CALLBACK (show), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "notify::condition", G_CALLBACK (show), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "notify::pointer-hz", G_CALLBACK (gtk_widget_queue_draw), self, G_CONNECT_SWAPPED);
  show (self);
  return GTK_WIDGET (self);
}

int
sp_staircase_chosen (SpStaircase *self)
{
  return self->chosen;
}
