/* session-view.c - what is in view: the range with its way back and forward, scale, sweeps, pointer */
#include "ui/window/session/session-private.h"

#include <math.h>

#define VIEWS_MOST 100

double
sp_session_from_hz (SpSession *self)
{
  return self->view.from_hz;
}

double
sp_session_to_hz (SpSession *self)
{
  return self->view.to_hz;
}

double
sp_session_bottom_dbm (SpSession *self)
{
  return self->view.bottom_dbm;
}

double
sp_session_top_dbm (SpSession *self)
{
  return self->view.top_dbm;
}

static gboolean
same (double a, double b)
{
  return a == b || (isnan (a) && isnan (b));
}

static gboolean
same_view (SpSessionView a, SpSessionView b)
{
  return same (a.from_hz, b.from_hz) && same (a.to_hz, b.to_hz) && same (a.bottom_dbm, b.bottom_dbm) && same (a.top_dbm, b.top_dbm);
}

static void
show_view (SpSession *self, SpSessionView view)
{
  self->view = view;
  g_object_notify (G_OBJECT (self), "from-hz");
  g_object_notify (G_OBJECT (self), "to-hz");
  g_object_notify (G_OBJECT (self), "bottom-dbm");
  g_object_notify (G_OBJECT (self), "top-dbm");
}

void
sp_session_set_view (SpSession *self, double from_hz, double to_hz, double bottom_dbm, double top_dbm)
{
  SpSessionView view = { from_hz, to_hz, bottom_dbm, top_dbm };
  if (same_view (view, self->view))
    return;
  if (self->back->len == VIEWS_MOST)
    g_array_remove_index (self->back, 0);
  g_array_append_val (self->back, self->view);
  g_array_set_size (self->forward, 0);
  show_view (self, view);
}

static gboolean
step_view (SpSession *self, GArray *from, GArray *to)
{
  if (from->len == 0)
    return FALSE;
  g_array_append_val (to, self->view);
  SpSessionView view = g_array_index (from, SpSessionView, from->len - 1);
  g_array_set_size (from, from->len - 1);
  show_view (self, view);
  return TRUE;
}

gboolean
sp_session_back (SpSession *self)
{
  return step_view (self, self->back, self->forward);
}

gboolean
sp_session_forward (SpSession *self)
{
  return step_view (self, self->forward, self->back);
}

gboolean
sp_session_logarithmic (SpSession *self)
{
  return self->logarithmic_set ? self->logarithmic : self->findings && sp_compare_is_wide (self->findings);
}

void
sp_session_set_logarithmic (SpSession *self, gboolean logarithmic)
{
  gboolean before = sp_session_logarithmic (self);
  self->logarithmic_set = TRUE;
  self->logarithmic = !!logarithmic;
  if (self->logarithmic == before)
    return;
  g_object_notify (G_OBJECT (self), "logarithmic");
}

gboolean
sp_session_relative (SpSession *self)
{
  return self->relative;
}

void
sp_session_set_relative (SpSession *self, gboolean relative)
{
  if (self->relative == !!relative)
    return;
  self->relative = !!relative;
  g_object_notify (G_OBJECT (self), "relative");
}

gboolean
sp_session_all_sweeps (SpSession *self)
{
  return self->all_sweeps;
}

void
sp_session_set_all_sweeps (SpSession *self, gboolean all_sweeps)
{
  if (self->all_sweeps == !!all_sweeps)
    return;
  self->all_sweeps = !!all_sweeps;
  g_object_notify (G_OBJECT (self), "all-sweeps");
}

gboolean
sp_session_by_harmonic (SpSession *self)
{
  return self->by_harmonic;
}

/* What was zoomed to on the one axis is nothing on the other. */
void
sp_session_set_by_harmonic (SpSession *self, gboolean by_harmonic)
{
  if (self->by_harmonic == !!by_harmonic)
    return;
  self->by_harmonic = !!by_harmonic;
  g_array_set_size (self->back, 0);
  g_array_set_size (self->forward, 0);
  g_object_notify (G_OBJECT (self), "by-harmonic");
  show_view (self, (SpSessionView){ NAN, NAN, self->view.bottom_dbm, self->view.top_dbm });
}

static void
scale (SpSessionView *view, double ratio)
{
  view->from_hz *= ratio;
  view->to_hz *= ratio;
}

void
sp_session_scale_views (SpSession *self, double ratio)
{
  if (!(ratio > 0) || !isfinite (ratio))
    return;
  for (guint i = 0; i < self->back->len; i++)
    scale (&g_array_index (self->back, SpSessionView, i), ratio);
  for (guint i = 0; i < self->forward->len; i++)
    scale (&g_array_index (self->forward, SpSessionView, i), ratio);
  SpSessionView view = self->view;
  scale (&view, ratio);
  show_view (self, view);
  sp_session_set_pointer (self, self->pointer_hz * ratio);
  sp_session_set_ruler (self, self->ruler_hz * ratio);
}

double
sp_session_pointer_hz (SpSession *self)
{
  return self->pointer_hz;
}

void
sp_session_set_pointer (SpSession *self, double pointer_hz)
{
  if (same (pointer_hz, self->pointer_hz))
    return;
  self->pointer_hz = pointer_hz;
  g_object_notify (G_OBJECT (self), "pointer-hz");
}

double
sp_session_ruler_hz (SpSession *self)
{
  return self->ruler_hz;
}

void
sp_session_set_ruler (SpSession *self, double ruler_hz)
{
  if (same (ruler_hz, self->ruler_hz))
    return;
  self->ruler_hz = ruler_hz;
  g_object_notify (G_OBJECT (self), "ruler-hz");
}
