/* chart.c - the chart as a widget */
#include "ui/window/chart/chart-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define LEAST_WIDTH 320
#define LEAST_HEIGHT 200
#define NATURAL_WIDTH 800
#define NATURAL_HEIGHT 480

G_DEFINE_FINAL_TYPE (SpChart, sp_chart, GTK_TYPE_WIDGET)

enum { PROP_LOGARITHMIC = 1, PROP_RELATIVE, PROP_ALL_SWEEPS, PROP_BY_HARMONIC, N_PROPS };
static GParamSpec *props[N_PROPS];

static void
findings_changed (SpChart *self)
{
  sp_chart_begin_fade (self);
  sp_chart_drop_findings (self);
  sp_chart_describe_soon (self);
}

/* A choice of another emission of the same condition is told as both. */
static void
condition_changed (SpChart *self)
{
  if (self->condition != sp_session_condition (self->session))
    sp_chart_drop_fit (self);
  self->condition = sp_session_condition (self->session);
  sp_chart_describe_soon (self);
}

static void
choice_changed (SpChart *self)
{
  sp_chart_describe_soon (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
ruler_changed (SpChart *self)
{
  sp_chart_drop_layers (self);
  sp_chart_describe_soon (self);
}

static void
judging_changed (SpChart *self)
{
  gtk_accessible_update_state (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_STATE_BUSY, sp_session_judging (self->session), -1);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static gboolean
same (double a, double b)
{
  return a == b || (isnan (a) && isnan (b));
}

static void
view_changed (SpChart *self)
{
  g_clear_handle_id (&self->settle_source, g_source_remove);
  double from = sp_session_from_hz (self->session), to = sp_session_to_hz (self->session);
  double low = sp_session_bottom_dbm (self->session), high = sp_session_top_dbm (self->session);
  if (same (from, self->from_hz) && same (to, self->to_hz) && same (low, self->bottom_dbm) && same (high, self->top_dbm))
    return;
  self->from_hz = from;
  self->to_hz = to;
  self->bottom_dbm = low;
  self->top_dbm = high;
  sp_chart_drop_layers (self);
}

static void
logarithmic_changed (SpChart *self)
{
  sp_chart_drop_fit (self);
  g_object_notify_by_pspec (G_OBJECT (self), props[PROP_LOGARITHMIC]);
}

static void
by_harmonic_changed (SpChart *self)
{
  sp_chart_drop_fit (self);
  g_object_notify_by_pspec (G_OBJECT (self), props[PROP_BY_HARMONIC]);
}

static void
shown_changed (SpChart *self)
{
  sp_chart_drop_fit (self);
  sp_chart_describe_soon (self);
}

static void
relative_changed (SpChart *self)
{
  sp_chart_drop_layers (self);
  g_object_notify_by_pspec (G_OBJECT (self), props[PROP_RELATIVE]);
}

static void
all_sweeps_changed (SpChart *self)
{
  sp_chart_drop_fit (self);
  sp_chart_describe_soon (self);
  g_object_notify_by_pspec (G_OBJECT (self), props[PROP_ALL_SWEEPS]);
}

static void
follow (SpChart *self, SpSession *session)
{
  static const struct {
    const char *signal;
    void (*changed) (SpChart *);
  } followed[] = {
    { "notify::findings", findings_changed },
    { "notify::judging", judging_changed },
    { "notify::condition", condition_changed },
    { "notify::emission", choice_changed },
    { "notify::from-hz", view_changed },
    { "notify::to-hz", view_changed },
    { "notify::pointer-hz", choice_changed },
    { "notify::ruler-hz", ruler_changed },
    { "notify::logarithmic", logarithmic_changed },
    { "notify::all-sweeps", all_sweeps_changed },
    { "notify::relative", relative_changed },
    { "notify::bottom-dbm", view_changed },
    { "notify::top-dbm", view_changed },
    { "notify::by-harmonic", by_harmonic_changed },
    { "notify::shown", shown_changed },
    { "notify::order", shown_changed },
  };
  self->session = g_object_ref (session);
  for (guint i = 0; i < G_N_ELEMENTS (followed); i++)
    g_signal_connect_object (session, followed[i].signal, G_CALLBACK (followed[i].changed), self, G_CONNECT_SWAPPED);
  view_changed (self);
  condition_changed (self);
}

GtkWidget *
sp_chart_new (SpSession *session)
{
  SpChart *self = g_object_new (SP_TYPE_CHART, NULL);
  follow (self, session);
  return GTK_WIDGET (self);
}

void
sp_chart_set_dark (SpChart *self, gboolean dark)
{
  if (self->dark == !!dark)
    return;
  self->dark = !!dark;
  sp_chart_drop_layers (self);
}

static void
sp_chart_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  sp_chart_draw (SP_CHART (widget), snapshot);
}

static void
sp_chart_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *least, int *natural, int *least_baseline,
                  int *natural_baseline)
{
  (void) widget, (void) for_size;
  *least = orientation == GTK_ORIENTATION_HORIZONTAL ? LEAST_WIDTH : LEAST_HEIGHT;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? NATURAL_WIDTH : NATURAL_HEIGHT;
  *least_baseline = *natural_baseline = -1;
}

static void
sp_chart_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  SpChart *self = SP_CHART (widget);
  (void) baseline;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child; child = gtk_widget_get_next_sibling (child))
    gtk_popover_present (GTK_POPOVER (child)); /* it has no other children */
  if (width == self->width && height == self->height)
    return;
  self->width = width;
  self->height = height;
  sp_chart_drop_layers (self);
}

/* The focus ring is drawn here. */
static void
sp_chart_state_flags_changed (GtkWidget *widget, GtkStateFlags before)
{
  GTK_WIDGET_CLASS (sp_chart_parent_class)->state_flags_changed (widget, before);
  gtk_widget_queue_draw (widget);
}

static void
sp_chart_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  SpChart *self = SP_CHART (object);
  if (id == PROP_LOGARITHMIC)
    g_value_set_boolean (value, self->session && sp_session_logarithmic (self->session));
  else if (id == PROP_RELATIVE)
    g_value_set_boolean (value, self->session && sp_session_relative (self->session));
  else if (id == PROP_ALL_SWEEPS)
    g_value_set_boolean (value, !self->session || sp_session_all_sweeps (self->session));
  else if (id == PROP_BY_HARMONIC)
    g_value_set_boolean (value, self->session && sp_session_by_harmonic (self->session));
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
}

static void
sp_chart_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  if (id == PROP_LOGARITHMIC)
    sp_session_set_logarithmic (SP_CHART (object)->session, g_value_get_boolean (value));
  else if (id == PROP_RELATIVE)
    sp_session_set_relative (SP_CHART (object)->session, g_value_get_boolean (value));
  else if (id == PROP_ALL_SWEEPS)
    sp_session_set_all_sweeps (SP_CHART (object)->session, g_value_get_boolean (value));
  else if (id == PROP_BY_HARMONIC)
    sp_session_set_by_harmonic (SP_CHART (object)->session, g_value_get_boolean (value));
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
}

static void
sp_chart_dispose (GObject *object)
{
  SpChart *self = SP_CHART (object);
  g_clear_handle_id (&self->settle_source, g_source_remove);
  g_clear_handle_id (&self->describe_source, g_source_remove);
  g_clear_pointer (&self->menu, gtk_widget_unparent);
  sp_chart_end_fade (self);
  sp_chart_drop_findings (self);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (sp_chart_parent_class)->dispose (object);
}

static void
sp_chart_class_init (SpChartClass *klass)
{
  GObjectClass *object = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  object->get_property = sp_chart_get_property;
  object->set_property = sp_chart_set_property;
  object->dispose = sp_chart_dispose;
  widget->snapshot = sp_chart_snapshot;
  widget->measure = sp_chart_measure;
  widget->size_allocate = sp_chart_size_allocate;
  widget->state_flags_changed = sp_chart_state_flags_changed;
  props[PROP_LOGARITHMIC] = g_param_spec_boolean ("logarithmic", NULL, NULL, FALSE,
                                                  G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS | G_PARAM_EXPLICIT_NOTIFY);
  props[PROP_RELATIVE] = g_param_spec_boolean ("relative", NULL, NULL, FALSE,
                                               G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS | G_PARAM_EXPLICIT_NOTIFY);
  props[PROP_ALL_SWEEPS] = g_param_spec_boolean ("all-sweeps", NULL, NULL, TRUE,
                                                 G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS | G_PARAM_EXPLICIT_NOTIFY);
  props[PROP_BY_HARMONIC] = g_param_spec_boolean ("by-harmonic", NULL, NULL, FALSE,
                                                  G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS | G_PARAM_EXPLICIT_NOTIFY);
  g_object_class_install_properties (object, N_PROPS, props);
  gtk_widget_class_set_css_name (widget, "chart");
  gtk_widget_class_set_accessible_role (widget, GTK_ACCESSIBLE_ROLE_IMG);
  sp_chart_class_add_keys (widget);
}

static void
sp_chart_init (SpChart *self)
{
  self->from_hz = self->to_hz = self->bottom_dbm = self->top_dbm = NAN;
  self->mouse_x = self->mouse_y = NAN;
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Spectrum"), -1);
  g_signal_connect (self, "notify::scale-factor", G_CALLBACK (sp_chart_drop_layers), NULL);
  sp_chart_add_gestures (self);
}
