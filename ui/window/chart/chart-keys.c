/* chart-keys.c - the chart's actions, and the keys that call them while it has the focus */
#include "ui/window/chart/chart-private.h"
#include "ui/window/widgets/drawing-area.h"

#include <math.h>

/* Left and right move the pointer (with Shift in big steps), Home and End to the edges; n and p, or Ctrl with left and right, walk from
 * emission to emission; plus, minus, 0; Ctrl with up and down for the levels, Page Up and Page Down along them; Alt with left and right go back and forward; l for the logarithmic scale, d for levels in dBc, a for
 * all sweeps; r for the ruler, t for a note; Escape leaves, one thing at a time. */

#define KEY_ZOOM 0.667
#define KEY_PART 0.25
#define BIG_STEP 24 /* pixels */

/* Keys and menus zoom about the pointer, the chosen emission, or the middle. */
static void
zoom_by (SpChart *self, double factor)
{
  const SpAxis *axis = sp_chart_axis (self);
  const SpEmission *chosen = sp_chart_chosen (self);
  if (!axis)
    return;
  double pointer = sp_session_pointer_hz (self->session), x, y;
  if (!isnan (pointer) && pointer >= axis->from && pointer <= axis->to)
    x = sp_axis_at (axis, pointer);
  else if (!chosen || !sp_chart_place (self, sp_session_condition (self->session), chosen, &x, &y))
    x = (axis->start + axis->end) / 2;
  sp_chart_zoom (self, x, factor);
  sp_chart_settle (self);
}

/* About the chosen emission, or the middle. */
static void
zoom_levels_by (SpChart *self, double factor)
{
  const SpAxis *axis = sp_chart_levels (self);
  const SpEmission *chosen = sp_chart_chosen (self);
  double x, y;
  if (!axis)
    return;
  if (!chosen || !sp_chart_place (self, sp_session_condition (self->session), chosen, &x, &y))
    y = (axis->start + axis->end) / 2;
  sp_chart_zoom_levels (self, y, factor);
  sp_chart_settle (self);
}

static void
pan_levels_by (SpChart *self, double part)
{
  const SpAxis *axis = sp_chart_levels (self);
  if (!axis)
    return;
  SpAxis start = *axis;
  sp_chart_pan_levels (self, &start, part * (start.start - start.end));
  sp_chart_settle (self);
}

/* By key: at the pointer, or in the middle. */
static void
open_menu (SpChart *self)
{
  const SpAxis *axis = sp_chart_axis (self);
  double pointer = sp_session_pointer_hz (self->session);
  double x = axis && pointer >= axis->from && pointer <= axis->to ? sp_axis_at (axis, pointer)
                                                                  : sp_widget_paper (GTK_WIDGET (self)).width / 2;
  sp_chart_open_menu (self, x, sp_widget_paper (GTK_WIDGET (self)).height / 2);
}

static void
act (GtkWidget *widget, const char *name, GVariant *parameter)
{
  SpChart *self = SP_CHART (widget);
  (void) parameter;
  if (g_str_equal (name, "chart.zoom-in"))
    zoom_by (self, KEY_ZOOM);
  else if (g_str_equal (name, "chart.zoom-out"))
    zoom_by (self, 1 / KEY_ZOOM);
  else if (g_str_equal (name, "chart.levels-in"))
    zoom_levels_by (self, KEY_ZOOM);
  else if (g_str_equal (name, "chart.levels-out"))
    zoom_levels_by (self, 1 / KEY_ZOOM);
  else if (g_str_equal (name, "chart.levels-up"))
    pan_levels_by (self, KEY_PART);
  else if (g_str_equal (name, "chart.levels-down"))
    pan_levels_by (self, -KEY_PART);
  else if (g_str_equal (name, "chart.fit"))
    sp_chart_fit (self);
  else if (g_str_equal (name, "chart.ruler"))
    sp_chart_rule (self);
  else if (g_str_equal (name, "chart.note"))
    sp_chart_write_note (self);
  else if (g_str_equal (name, "chart.copy"))
    sp_chart_copy (self);
  else if (g_str_equal (name, "chart.menu"))
    open_menu (self);
  else if (g_str_equal (name, "chart.next-emission"))
    sp_chart_walk (self, 1);
  else if (g_str_equal (name, "chart.previous-emission"))
    sp_chart_walk (self, -1);
  else {
    if (self->settle_source)
      sp_chart_settle (self); /* what is on show is a step of its own */
    if (g_str_equal (name, "chart.back"))
      sp_session_back (self->session);
    else
      sp_session_forward (self->session);
  }
}

/* By whole pixels; ±infinity: to the edge. Without a pointer it begins at the carrier, or in the middle. */
static gboolean
move_pointer (GtkWidget *widget, GVariant *pixels, void *data)
{
  SpChart *self = SP_CHART (widget);
  (void) data;
  const SpAxis *axis = sp_chart_axis (self);
  if (!axis)
    return FALSE;
  double pointer = sp_session_pointer_hz (self->session), x;
  if (isnan (pointer) || pointer < axis->from || pointer > axis->to) {
    const SpEmission *chosen = sp_chart_chosen (self);
    gboolean seen = chosen && chosen->frequency_hz >= axis->from && chosen->frequency_hz <= axis->to;
    x = seen ? sp_axis_at (axis, chosen->frequency_hz) : (axis->start + axis->end) / 2;
  } else {
    x = sp_axis_at (axis, pointer);
  }
  sp_session_set_pointer (self->session, sp_axis_value (axis, CLAMP (x + g_variant_get_double (pixels), axis->start, axis->end)));
  return TRUE;
}

/* A box that is being drawn, the ruler, the pointer, the choice, the focus. */
static gboolean
leave (GtkWidget *widget, GVariant *arguments, void *data)
{
  SpChart *self = SP_CHART (widget);
  (void) arguments, (void) data;
  GtkRoot *root = gtk_widget_get_root (widget);
  if (self->boxing)
    sp_chart_drop_box (self);
  else if (!isnan (sp_session_ruler_hz (self->session)))
    sp_session_set_ruler (self->session, NAN);
  else if (!isnan (sp_session_pointer_hz (self->session)))
    sp_session_set_pointer (self->session, NAN);
  else if (sp_session_emission (self->session) >= 0)
    sp_session_choose (self->session, sp_session_condition (self->session), -1);
  else if (root)
    gtk_root_set_focus (root, NULL);
  return TRUE;
}

static const char *const names[] = { "chart.zoom-in",
                                     "chart.zoom-out",
                                     "chart.fit",
                                     "chart.back",
                                     "chart.forward",
                                     "chart.next-emission",
                                     "chart.previous-emission",
                                     "chart.levels-in",
                                     "chart.levels-out",
                                     "chart.levels-up",
                                     "chart.levels-down",
                                     "chart.ruler",
                                     "chart.note",
                                     "chart.copy",
                                     "chart.menu" };

static const struct {
  guint key;
  GdkModifierType with;
  const char *action;
} keys[] = {
  { GDK_KEY_plus, 0, "chart.zoom-in" },
  { GDK_KEY_equal, 0, "chart.zoom-in" },
  { GDK_KEY_KP_Add, 0, "chart.zoom-in" },
  { GDK_KEY_minus, 0, "chart.zoom-out" },
  { GDK_KEY_KP_Subtract, 0, "chart.zoom-out" },
  { GDK_KEY_Up, GDK_CONTROL_MASK, "chart.levels-in" },
  { GDK_KEY_Down, GDK_CONTROL_MASK, "chart.levels-out" },
  { GDK_KEY_Page_Up, 0, "chart.levels-up" },
  { GDK_KEY_Page_Down, 0, "chart.levels-down" },
  { GDK_KEY_d, 0, "chart.relative" },
  { GDK_KEY_0, 0, "chart.fit" },
  { GDK_KEY_KP_0, 0, "chart.fit" },
  { GDK_KEY_Left, GDK_ALT_MASK, "chart.back" },
  { GDK_KEY_Right, GDK_ALT_MASK, "chart.forward" },
  { GDK_KEY_n, 0, "chart.next-emission" },
  { GDK_KEY_Right, GDK_CONTROL_MASK, "chart.next-emission" },
  { GDK_KEY_p, 0, "chart.previous-emission" },
  { GDK_KEY_Left, GDK_CONTROL_MASK, "chart.previous-emission" },
  { GDK_KEY_l, 0, "chart.logarithmic" },
  { GDK_KEY_a, 0, "chart.all-sweeps" },
  { GDK_KEY_r, 0, "chart.ruler" },
  { GDK_KEY_t, 0, "chart.note" },
  { GDK_KEY_c, GDK_CONTROL_MASK, "chart.copy" },
  { GDK_KEY_Menu, 0, "chart.menu" },
  { GDK_KEY_F10, GDK_SHIFT_MASK, "chart.menu" },
};
static const struct {
  guint key;
  GdkModifierType with;
  double pixels;
} moves[] = {
  { GDK_KEY_Left, 0, -1 },
  { GDK_KEY_Right, 0, 1 },
  { GDK_KEY_Left, GDK_SHIFT_MASK, -BIG_STEP },
  { GDK_KEY_Right, GDK_SHIFT_MASK, BIG_STEP },
  { GDK_KEY_Home, 0, -INFINITY },
  { GDK_KEY_End, 0, INFINITY },
};

void
sp_chart_class_add_keys (GtkWidgetClass *widget)
{
  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    gtk_widget_class_install_action (widget, names[i], NULL, act);
  gtk_widget_class_install_property_action (widget, "chart.logarithmic", "logarithmic");
  gtk_widget_class_install_property_action (widget, "chart.by-harmonic", "by-harmonic");
  gtk_widget_class_install_property_action (widget, "chart.relative", "relative");
  gtk_widget_class_install_property_action (widget, "chart.all-sweeps", "all-sweeps");
  for (guint i = 0; i < G_N_ELEMENTS (keys); i++)
    gtk_widget_class_add_binding_action (widget, keys[i].key, keys[i].with, keys[i].action, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (moves); i++)
    gtk_widget_class_add_binding (widget, moves[i].key, moves[i].with, move_pointer, "d", moves[i].pixels);
  gtk_widget_class_add_binding (widget, GDK_KEY_Escape, 0, leave, NULL);
}
