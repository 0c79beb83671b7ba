/* chart-gestures.c - what the mouse, the touchpad and fingers do */
#include "ui/window/chart/chart-private.h"
#include "ui/window/widgets/theme.h"

#include <math.h>

/* Wheel: nearer and further about the pointer; with Shift, or sideways: along; with Ctrl: the levels nearer and further. Two fingers: nearer and further about their middle. Drag:
 * along, and up and down where the levels are near. Drag with the right button, or with Shift: a box that fills the chart, of all levels where it is flat. Click: chooses the emission or rung near by. Double
 * click: the whole. */

#define NOTCH 0.8       /* a notch of the wheel */
#define NOTCH_PIXELS 40 /* of a touchpad, for as much */
#define DRAG_LEAST 4
#define BOX_LEAST 6
#define BOX_TALL 24 /* a box less tall is of all levels */

/* The chart's places are points (chart-layers.c), GTK's are pixels. */
static double
points (double pixels)
{
  return pixels / sp_theme_text_scale ();
}

static void
point_at (SpChart *self, double x)
{
  const SpAxis *axis = sp_chart_axis (self);
  if (axis && x >= axis->start && x <= axis->end)
    sp_session_set_pointer (self->session, sp_axis_value (axis, x));
  else
    sp_session_set_pointer (self->session, NAN);
}

/* Another frequency has come under the mouse. */
static void
point_anew (SpChart *self)
{
  if (!isnan (self->mouse_x))
    point_at (self, self->mouse_x);
}

static void
moved (GtkEventControllerMotion *motion, double x, double y, SpChart *self)
{
  (void) motion;
  self->mouse_x = points (x);
  self->mouse_y = points (y);
  if (!self->panning)
    point_at (self, self->mouse_x);
}

static void
left (GtkEventControllerMotion *motion, SpChart *self)
{
  (void) motion;
  self->mouse_x = self->mouse_y = NAN;
  sp_session_set_pointer (self->session, NAN);
}

static gboolean
scrolled (GtkEventControllerScroll *scroll, double dx, double dy, SpChart *self)
{
  const SpAxis *axis = sp_chart_axis (self);
  if (!axis)
    return GDK_EVENT_PROPAGATE;
  double notch = gtk_event_controller_scroll_get_unit (scroll) == GDK_SCROLL_UNIT_SURFACE ? NOTCH_PIXELS : 1;
  GdkModifierType state = gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (scroll));
  double along = state & GDK_SHIFT_MASK ? dx + dy : dx;
  if (along != 0) {
    SpAxis start = *axis;
    sp_chart_pan (self, &start, -along / notch * (start.end - start.start) / 12);
  }
  const SpAxis *levels = sp_chart_levels (self);
  if (dy != 0 && (state & GDK_CONTROL_MASK))
    sp_chart_zoom_levels (self, isnan (self->mouse_y) ? (levels->start + levels->end) / 2 : self->mouse_y, pow (NOTCH, -dy / notch));
  else if (dy != 0 && !(state & GDK_SHIFT_MASK))
    sp_chart_zoom (self, isnan (self->mouse_x) ? (axis->start + axis->end) / 2 : self->mouse_x, pow (NOTCH, -dy / notch));
  point_anew (self);
  sp_chart_settle_soon (self);
  return GDK_EVENT_STOP;
}

static void
pinch_began (GtkGesture *pinch, GdkEventSequence *sequence, SpChart *self)
{
  (void) sequence;
  const SpAxis *axis = sp_chart_axis (self);
  if (!axis)
    return;
  self->pinch_axis = *axis;
  gtk_gesture_set_state (pinch, GTK_EVENT_SEQUENCE_CLAIMED);
}

static void
pinched (GtkGestureZoom *pinch, double scale, SpChart *self)
{
  double x, y;
  if (!sp_chart_axis (self) || !self->pinch_axis.scale || !(scale > 0)
      || !gtk_gesture_get_bounding_box_center (GTK_GESTURE (pinch), &x, &y))
    return;
  const SpAxis *start = &self->pinch_axis;
  double unit = CLAMP ((points (x) - start->start) / (start->end - start->start), 0, 1);
  double from = unit * (1 - 1 / scale), to = unit + (1 - unit) / scale;
  sp_chart_show (self, start->scale->from_unit (from, start->from, start->to), start->scale->from_unit (to, start->from, start->to));
}

static void
pinch_ended (GtkGesture *pinch, GdkEventSequence *sequence, SpChart *self)
{
  (void) pinch, (void) sequence;
  sp_chart_settle (self);
}

static void
drag_began (GtkGestureDrag *drag, double x, double y, SpChart *self)
{
  const SpAxis *axis = sp_chart_axis (self);
  guint button = gtk_gesture_single_get_current_button (GTK_GESTURE_SINGLE (drag));
  GdkModifierType state = gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (drag));
  if (!axis || (button == GDK_BUTTON_MIDDLE)) {
    gtk_gesture_set_state (GTK_GESTURE (drag), GTK_EVENT_SEQUENCE_DENIED);
    return;
  }
  self->drag_axis = *axis;
  self->drag_levels = *sp_chart_levels (self);
  self->drag_x = points (x);
  self->drag_y = points (y);
  self->box_from_y = self->box_to_y = NAN;
  self->boxing = button == GDK_BUTTON_SECONDARY || (state & GDK_SHIFT_MASK);
  self->box_from_x = self->box_to_x = CLAMP (self->drag_x, axis->start, axis->end);
}

static void
dragged (GtkGestureDrag *drag, double dx_px, double dy_px, SpChart *self)
{
  double dx = points (dx_px), dy = points (dy_px);
  gboolean began = self->panning || fabs (dx) >= DRAG_LEAST || (!self->boxing && !isnan (self->bottom_dbm) && fabs (dy) >= DRAG_LEAST);
  if (!self->drag_axis.scale || (!began && self->box_to_x == self->box_from_x))
    return;
  gtk_gesture_set_state (GTK_GESTURE (drag), GTK_EVENT_SEQUENCE_CLAIMED);
  if (self->boxing) {
    const SpAxis *levels = &self->drag_levels; /* from the foot up */
    gboolean tall = fabs (dy) >= BOX_TALL;
    self->box_to_x = CLAMP (self->drag_x + dx, self->drag_axis.start, self->drag_axis.end);
    self->box_from_y = tall ? CLAMP (self->drag_y, levels->end, levels->start) : NAN;
    self->box_to_y = tall ? CLAMP (self->drag_y + dy, levels->end, levels->start) : NAN;
    gtk_widget_queue_draw (GTK_WIDGET (self));
    return;
  }
  self->panning = TRUE;
  sp_chart_pan (self, &self->drag_axis, dx);
  sp_chart_pan_levels (self, &self->drag_levels, dy);
}

void
sp_chart_drop_box (SpChart *self)
{
  self->panning = self->boxing = FALSE;
  self->drag_axis.scale = NULL;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
drag_ended (GtkGestureDrag *drag, double dx, double dy, SpChart *self)
{
  (void) dx, (void) dy;
  gboolean boxed = self->boxing && fabs (self->box_to_x - self->box_from_x) >= BOX_LEAST;
  gboolean second = gtk_gesture_single_get_current_button (GTK_GESTURE_SINGLE (drag)) == GDK_BUTTON_SECONDARY;
  if (boxed)
    sp_chart_box (self, self->box_from_x, self->box_to_x, self->box_from_y, self->box_to_y);
  else if (self->boxing && second) /* a click */
    sp_chart_open_menu (self, self->drag_x, self->drag_y);
  if (self->boxing || self->panning)
    sp_chart_settle (self);
  sp_chart_drop_box (self);
  point_anew (self);
}

static void
drag_cancelled (GtkGesture *drag, GdkEventSequence *sequence, SpChart *self)
{
  (void) drag, (void) sequence;
  if (self->panning && self->drag_axis.scale) {
    sp_chart_show (self, self->drag_axis.from, self->drag_axis.to);
    sp_chart_pan_levels (self, &self->drag_levels, 0);
  }
  sp_chart_drop_box (self);
}

static void
pressed (GtkGestureClick *click, int n, double x, double y, SpChart *self)
{
  (void) click, (void) x, (void) y;
  gtk_widget_grab_focus (GTK_WIDGET (self));
  if (n == 2) {
    sp_chart_fit (self);
    point_anew (self);
  }
}

static void
released (GtkGestureClick *click, int n, double x, double y, SpChart *self)
{
  (void) click;
  if (n == 1 && !sp_chart_pick (self, points (x), points (y)))
    point_at (self, points (x)); /* a finger has no other way to point */
}

void
sp_chart_add_gestures (SpChart *self)
{
  GtkEventController *motion = gtk_event_controller_motion_new ();
  g_signal_connect (motion, "enter", G_CALLBACK (moved), self);
  g_signal_connect (motion, "motion", G_CALLBACK (moved), self);
  g_signal_connect (motion, "leave", G_CALLBACK (left), self);
  GtkEventController *scroll = gtk_event_controller_scroll_new (GTK_EVENT_CONTROLLER_SCROLL_BOTH_AXES);
  g_signal_connect (scroll, "scroll", G_CALLBACK (scrolled), self);
  GtkGesture *pinch = gtk_gesture_zoom_new (), *drag = gtk_gesture_drag_new (), *click = gtk_gesture_click_new ();
  g_signal_connect (pinch, "begin", G_CALLBACK (pinch_began), self);
  g_signal_connect (pinch, "scale-changed", G_CALLBACK (pinched), self);
  g_signal_connect (pinch, "end", G_CALLBACK (pinch_ended), self);
  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (drag), 0);
  g_signal_connect (drag, "drag-begin", G_CALLBACK (drag_began), self);
  g_signal_connect (drag, "drag-update", G_CALLBACK (dragged), self);
  g_signal_connect (drag, "drag-end", G_CALLBACK (drag_ended), self);
  g_signal_connect (drag, "cancel", G_CALLBACK (drag_cancelled), self);
  g_signal_connect (click, "pressed", G_CALLBACK (pressed), self);
  g_signal_connect (click, "released", G_CALLBACK (released), self);
  gtk_widget_add_controller (GTK_WIDGET (self), motion);
  gtk_widget_add_controller (GTK_WIDGET (self), scroll);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (pinch));
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (drag));
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (click));
}
