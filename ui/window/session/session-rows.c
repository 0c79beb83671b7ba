/* session-rows.c - which conditions are shown, and the order of the list */
#include "ui/window/session/session-private.h"

static gboolean
is_hidden (SpSession *self, guint condition)
{
  return g_hash_table_contains (self->hidden_names, self->findings->conditions[condition].name);
}

void
sp_session_take_rows (SpSession *self)
{
  guint n = self->findings ? self->findings->n : 0;
  g_clear_pointer (&self->hidden, g_free);
  g_clear_pointer (&self->rows, g_free);
  if (!self->findings)
    return;
  self->hidden = g_new0 (gboolean, n + 1);
  self->rows = g_new0 (guint, n + 1);
  g_autofree guint *order = g_new (guint, n + 1);
  sp_compare_order (self->findings, self->order, self->by_band, order);
  for (guint i = 0; i < n; i++) {
    self->hidden[i] = is_hidden (self, i);
    self->rows[order[i]] = i + 1;
  }
}

/* A name that no condition has any more is forgotten with the book. */
static void
hide (SpSession *self, guint condition, gboolean hidden)
{
  if (hidden)
    g_hash_table_add (self->hidden_names, g_strdup (self->findings->conditions[condition].name));
  else
    g_hash_table_remove (self->hidden_names, self->findings->conditions[condition].name);
}

static void
shown_changed (SpSession *self)
{
  sp_session_take_rows (self);
  g_object_notify (G_OBJECT (self), "shown");
}

guint
sp_session_n_shown (SpSession *self)
{
  guint n = 0;
  for (guint i = 0; self->findings && i < self->findings->n; i++)
    n += self->hidden[i] ? 0 : 1;
  return n;
}

gboolean
sp_session_shows (SpSession *self, guint condition)
{
  return self->findings && condition < self->findings->n && !self->hidden[condition];
}

void
sp_session_show (SpSession *self, guint condition, gboolean shown)
{
  if (!self->findings || condition >= self->findings->n || sp_session_shows (self, condition) == !!shown)
    return;
  hide (self, condition, !shown);
  shown_changed (self);
}

void
sp_session_show_waveband (SpSession *self, const SpWaveband *waveband, gboolean shown)
{
  for (guint i = 0; self->findings && i < self->findings->n; i++)
    if (sp_compare_waveband (self->findings, i) == waveband)
      hide (self, i, !shown);
  shown_changed (self);
}

/* Shows just those that `wanted` has; where that is so, all. */
static void
show_only (SpSession *self, const gboolean *wanted)
{
  gboolean already = TRUE;
  for (guint i = 0; i < self->findings->n; i++)
    already &= wanted[i] == !self->hidden[i];
  for (guint i = 0; i < self->findings->n; i++)
    hide (self, i, !already && !wanted[i]);
  shown_changed (self);
}

void
sp_session_show_only (SpSession *self, guint condition)
{
  if (!self->findings || condition >= self->findings->n)
    return;
  g_autofree gboolean *wanted = g_new0 (gboolean, self->findings->n);
  wanted[condition] = TRUE;
  show_only (self, wanted);
}

void
sp_session_show_only_waveband (SpSession *self, const SpWaveband *waveband)
{
  if (!self->findings || self->findings->n == 0)
    return;
  g_autofree gboolean *wanted = g_new0 (gboolean, self->findings->n);
  for (guint i = 0; i < self->findings->n; i++)
    wanted[i] = sp_compare_waveband (self->findings, i) == waveband;
  show_only (self, wanted);
}

SpOrder
sp_session_order (SpSession *self)
{
  return self->order;
}

void
sp_session_set_order (SpSession *self, SpOrder order)
{
  if (self->order == order)
    return;
  self->order = order;
  sp_session_take_rows (self);
  g_object_notify (G_OBJECT (self), "order");
}

gboolean
sp_session_by_band (SpSession *self)
{
  return self->by_band;
}

void
sp_session_set_by_band (SpSession *self, gboolean by_band)
{
  if (self->by_band == !!by_band)
    return;
  self->by_band = !!by_band;
  sp_session_take_rows (self);
  g_object_notify (G_OBJECT (self), "order");
}

const gboolean *
sp_session_hidden (SpSession *self)
{
  return self->hidden;
}

const guint *
sp_session_rows (SpSession *self)
{
  return self->rows;
}
