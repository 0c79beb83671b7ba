/* compare-charts.c - small charts: which, in what order, against whom, and the drawing that holds them */
#include "ui/window/pages/compare-charts.h"

#include <glib/gi18n-lib.h>

#include "ui/figure/pen/names.h"
#include "ui/figure/small-charts.h"
#include "ui/window/widgets/drawing-area.h"
#include "ui/words/words.h"

#define LEAST_WIDTH 640 /* before there is a width */

#define SP_TYPE_COMPARE_CHARTS (sp_compare_charts_get_type ())
G_DECLARE_FINAL_TYPE (SpCompareCharts, sp_compare_charts, SP, COMPARE_CHARTS, GtkBox)

struct _SpCompareCharts {
  GtkBox parent_instance;
  SpSession *session;
  SpComparison *comparison; /* NULL until the first findings */
  SpPyramids *pyramids;     /* of its findings */
  guint *order;             /* the conditions whose charts are drawn */
  guint n;
  GArray *wavebands; /* const SpWaveband*: what the choice of a band holds, after "all bands" */
  gboolean following;
  GtkWidget *bands, *against, *whole, *drawing, *samples;
};

G_DEFINE_FINAL_TYPE (SpCompareCharts, sp_compare_charts, GTK_TYPE_BOX)

static int
reference_of (SpCompareCharts *self)
{
  guint selected = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->against));
  return selected == GTK_INVALID_LIST_POSITION ? -1 : (int) selected - 1; /* the first is nobody */
}

static SpSmallCharts
charts_of (SpCompareCharts *self)
{
  return (SpSmallCharts){ .comparison = self->comparison,
                          .conditions = self->order,
                          .n = self->n,
                          .reference = reference_of (self),
                          .chosen = (int) sp_session_condition (self->session),
                          .row = sp_session_rows (self->session),
                          .dark = sp_widget_is_dark (self->drawing),
                          .pyramids = self->pyramids };
}

static void
draw (SpPen *pen, const SpRect *rect, gpointer owner)
{
  SpCompareCharts *self = owner;
  if (!self->comparison || !sp_session_rows (self->session))
    return;
  SpSmallCharts charts = charts_of (self);
  sp_small_charts_draw (pen, &charts, rect);
}

/* ---- what a screen reader is told: a chart each ---- */

/* "1 Farlith: exceeds, room -6.4 dB" */
static char *
name_of (SpCompareCharts *self, guint i)
{
  const guint *rows = sp_session_rows (self->session);
  const SpConditionFindings *c = self->comparison->rows[self->order[i]].found;
  g_autofree char *room = sp_words_deciding_margin (c, SP_HAND_SCREEN);
  return g_strdup_printf (_ ("%u %s: %s, room %s dB"), rows ? rows[self->order[i]] : i + 1, c->name, sp_words_verdict (c->verdict),
                          *room ? room : "\xe2\x80\x93");
}

/* The statement, and the level of each harmonic. */
static char *
description_of (SpCompareCharts *self, guint i)
{
  const SpCompareRow *row = &self->comparison->rows[self->order[i]];
  g_autofree char *said = sp_words_statement (row->found, SP_HAND_SCREEN);
  g_autoptr (GString) text = g_string_new (said);
  for (guint order = 2; order <= self->comparison->most_order; order++) {
    const SpEmission *e = sp_compare_harmonic (row, order);
    g_autofree char *name = e ? sp_words_emission (e, SP_HAND_SCREEN) : NULL,
                    *level = e ? sp_words_seen (e, e->level_dbm, SP_HAND_SCREEN) : NULL;
    if (e)
      g_string_append_printf (text, _ (" %s %s dBm."), name, level);
  }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

/* Over its chart, to be told of and not to be seen: the drawing below takes what is pointed at. */
static GtkWidget *
new_told (void)
{
  GtkWidget *told = g_object_new (GTK_TYPE_DRAWING_AREA, "accessible-role", GTK_ACCESSIBLE_ROLE_IMG, NULL);
  gtk_widget_set_can_target (told, FALSE);
  return told;
}

static void
describe (SpCompareCharts *self)
{
  GtkWidget *one = gtk_widget_get_next_sibling (self->drawing);
  for (guint i = 0; i < self->n; i++, one = gtk_widget_get_next_sibling (one)) {
    g_autofree char *name = name_of (self, i), *description = description_of (self, i);
    if (!one)
      gtk_overlay_add_overlay (GTK_OVERLAY (self->whole), one = new_told ());
    gtk_accessible_update_property (GTK_ACCESSIBLE (one), GTK_ACCESSIBLE_PROPERTY_LABEL, name, GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                    description, -1);
    if (self->order[i] == sp_session_condition (self->session)) /* the drawing has the focus */
      gtk_accessible_update_property (GTK_ACCESSIBLE (self->drawing), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, name, -1);
  }
  while (one) {
    GtkWidget *next = gtk_widget_get_next_sibling (one);
    gtk_overlay_remove_overlay (GTK_OVERLAY (self->whole), one);
    one = next;
  }
}

static gboolean
place_told (GtkOverlay *overlay, GtkWidget *told, GdkRectangle *place, SpCompareCharts *self)
{
  (void) overlay;
  guint i = 0; /* its chart */
  for (GtkWidget *one = gtk_widget_get_prev_sibling (told); one && one != self->drawing; one = gtk_widget_get_prev_sibling (one))
    i++;
  if (!self->comparison || i >= self->n)
    return FALSE;
  SpSmallCharts charts = charts_of (self);
  SpRect rect = { 0, 0, gtk_widget_get_width (self->drawing), gtk_widget_get_height (self->drawing) };
  SpRect at = sp_small_charts_place (&charts, &rect, i);
  *place = (GdkRectangle){ (int) at.x, (int) at.y, MAX (1, (int) at.width), MAX (1, (int) at.height) };
  return TRUE;
}

static gboolean
fit_height (gpointer charts)
{
  SpCompareCharts *self = charts;
  int height = (int) sp_small_charts_height (MAX (gtk_widget_get_width (self->drawing), LEAST_WIDTH), self->n);
  gtk_drawing_area_set_content_height (GTK_DRAWING_AREA (self->drawing), height);
  return G_SOURCE_REMOVE;
}

/* The worst first, of the band that is asked for. */
static void
choose_charts (SpCompareCharts *self)
{
  guint band = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->bands)), all = self->comparison ? self->comparison->n : 0;
  g_autofree guint *order = g_new (guint, all + 1);
  g_free (self->order);
  self->order = g_new (guint, all + 1);
  self->n = 0;
  if (self->comparison)
    sp_compare_order (self->comparison->findings, SP_ORDER_WORST, FALSE, order);
  for (guint i = 0; i < all; i++)
    if (band == 0 || band > self->wavebands->len
        || sp_compare_waveband (self->comparison->findings, order[i]) == g_array_index (self->wavebands, const SpWaveband *, band - 1))
      self->order[self->n++] = order[i];
  fit_height (self);
  gtk_widget_queue_draw (self->drawing);
  describe (self);
}

static void
chosen_anew (SpCompareCharts *self)
{
  if (!self->following)
    choose_charts (self);
}

static void
offer (GtkWidget *drop_down, GPtrArray *words, guint selected)
{
  g_ptr_array_add (words, NULL);
  g_autoptr (GtkStringList) list = gtk_string_list_new ((const char *const *) words->pdata);
  gtk_drop_down_set_model (GTK_DROP_DOWN (drop_down), G_LIST_MODEL (list));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (drop_down), selected);
}

static void
offer_bands (SpCompareCharts *self, SpFindings *findings)
{
  g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);
  g_autofree guint *order = g_new (guint, findings->n + 1);
  g_array_set_size (self->wavebands, 0);
  g_ptr_array_add (words, g_strdup (_ ("all bands")));
  sp_compare_order (findings, SP_ORDER_BENCH, TRUE, order);
  for (guint i = 0; i < findings->n; i++) {
    const SpWaveband *its = sp_compare_waveband (findings, order[i]);
    if (i > 0 && its == sp_compare_waveband (findings, order[i - 1]))
      continue;
    g_array_append_val (self->wavebands, its);
    g_ptr_array_add (words, sp_words_waveband (its));
  }
  offer (self->bands, words, 0);
  gtk_widget_set_visible (self->bands, self->wavebands->len > 1);
}

static void
offer_references (SpCompareCharts *self, SpFindings *findings)
{
  g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);
  int before = reference_of (self);
  g_ptr_array_add (words, g_strdup (_ ("against nobody")));
  for (guint i = 0; i < findings->n; i++) {
    g_autofree char *name = sp_name_short (findings, i);
    g_ptr_array_add (words, g_strdup_printf (_ ("against %s"), name));
  }
  offer (self->against, words, before + 1 > (int) findings->n ? 0 : (guint) (before + 1));
}

static void
follow_findings (SpCompareCharts *self)
{
  SpFindings *findings = sp_session_findings (self->session);
  g_clear_pointer (&self->pyramids, sp_pyramids_free);
  g_clear_pointer (&self->comparison, sp_comparison_unref);
  self->comparison = findings ? sp_compare (findings) : NULL;
  self->pyramids = sp_pyramids_new ();
  self->following = TRUE;
  if (findings) {
    offer_bands (self, findings);
    offer_references (self, findings);
  }
  self->following = FALSE;
  sp_compare_samples_set (self->samples, findings);
  choose_charts (self);
}

/* After the allocation, not within it. */
static void
resized (SpCompareCharts *self)
{
  g_idle_add_full (G_PRIORITY_HIGH_IDLE, fit_height, g_object_ref (self), g_object_unref);
}

/* ---- choosing one ---- */

static void
choose (SpCompareCharts *self, int chart)
{
  if (chart >= 0 && chart < (int) self->n)
    sp_session_choose (self->session, self->order[chart], SP_DECIDING_EMISSION);
}

static void
clicked (GtkGestureClick *gesture, int n, double x, double y, SpCompareCharts *self)
{
  (void) gesture, (void) n;
  SpSmallCharts charts = charts_of (self);
  SpRect rect = { 0, 0, gtk_widget_get_width (self->drawing), gtk_widget_get_height (self->drawing) };
  gtk_widget_grab_focus (self->drawing);
  if (self->comparison)
    choose (self, sp_small_charts_at (&charts, &rect, x, y));
}

static gboolean
key_pressed (GtkEventControllerKey *keys, guint key, guint code, GdkModifierType state, SpCompareCharts *self)
{
  (void) keys, (void) code;
  int columns = (int) sp_small_charts_columns (gtk_widget_get_width (self->drawing), self->n), at = 0;
  while (at < (int) self->n && self->order[at] != sp_session_condition (self->session))
    at++;
  if (state & (GDK_CONTROL_MASK | GDK_ALT_MASK))
    return FALSE;
  switch (key) {
  case GDK_KEY_Left: choose (self, at - 1); return TRUE;
  case GDK_KEY_Right: choose (self, at + 1); return TRUE;
  case GDK_KEY_Up: choose (self, at - columns); return TRUE;
  case GDK_KEY_Down: choose (self, at + columns); return TRUE;
  default: return FALSE;
  }
}

/* ---- the parts ---- */

static GtkWidget *
choice (SpCompareCharts *self, const char *name)
{
  GtkWidget *drop_down = gtk_drop_down_new (NULL, NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (drop_down), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_signal_connect_swapped (drop_down, "notify::selected", G_CALLBACK (chosen_anew), self);
  return drop_down;
}

static void
add_keys (SpCompareCharts *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkGesture *click = gtk_gesture_click_new ();
  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_pressed), self);
  g_signal_connect (click, "pressed", G_CALLBACK (clicked), self);
  gtk_widget_add_controller (self->drawing, keys);
  gtk_widget_add_controller (self->drawing, GTK_EVENT_CONTROLLER (click));
}

static void
sp_compare_charts_finalize (GObject *object)
{
  SpCompareCharts *self = SP_COMPARE_CHARTS (object);
  g_clear_pointer (&self->pyramids, sp_pyramids_free);
  g_clear_pointer (&self->comparison, sp_comparison_unref);
  g_clear_object (&self->session);
  g_array_unref (self->wavebands);
  g_free (self->order);
  G_OBJECT_CLASS (sp_compare_charts_parent_class)->finalize (object);
}

static void
sp_compare_charts_class_init (SpCompareChartsClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = sp_compare_charts_finalize;
}

static void
sp_compare_charts_init (SpCompareCharts *self)
{
  GtkWidget *choices = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 16), *scrolled = gtk_scrolled_window_new (),
            *below = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
  gtk_box_set_spacing (GTK_BOX (self), 8);
  self->wavebands = g_array_new (FALSE, FALSE, sizeof (const SpWaveband *));
  self->bands = choice (self, _ ("Of which band"));
  self->against = choice (self, _ ("Against which radio"));
  self->drawing = sp_paper_new (draw, self);
  sp_paper_add_copying (self->drawing, draw, self);
  self->samples = sp_compare_samples_new ();
  gtk_widget_set_focusable (self->drawing, TRUE);
  gtk_widget_add_css_class (self->drawing, "chart");
  gtk_widget_set_hexpand (self->drawing, TRUE);
  gtk_widget_set_vexpand (self->drawing, TRUE); /* what height there is, they share */
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->drawing), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("A small chart for each condition"),
                                  -1);
  g_signal_connect_swapped (self->drawing, "resize", G_CALLBACK (resized), self);
  add_keys (self);
  gtk_box_append (GTK_BOX (choices), self->bands);
  gtk_box_append (GTK_BOX (choices), self->against);
  self->whole = gtk_overlay_new ();
  gtk_overlay_set_child (GTK_OVERLAY (self->whole), self->drawing);
  g_signal_connect (self->whole, "get-child-position", G_CALLBACK (place_told), self);
  gtk_box_append (GTK_BOX (below), self->whole);
  gtk_box_append (GTK_BOX (below), self->samples);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), below);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scrolled), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_widget_set_vexpand (scrolled, TRUE);
  gtk_box_append (GTK_BOX (self), choices);
  gtk_box_append (GTK_BOX (self), scrolled);
}

static void
redraw (SpCompareCharts *self)
{
  gtk_widget_queue_draw (self->drawing);
  describe (self);
}

GtkWidget *
sp_compare_charts_new (SpSession *session)
{
  SpCompareCharts *self = g_object_new (SP_TYPE_COMPARE_CHARTS, NULL);
  self->session = g_object_ref (session);
  g_signal_connect_object (session, "notify::findings", G_CALLBACK (follow_findings), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "notify::order", G_CALLBACK (redraw), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "notify::condition", G_CALLBACK (redraw), self, G_CONNECT_SWAPPED);
  follow_findings (self);
  return GTK_WIDGET (self);
}
