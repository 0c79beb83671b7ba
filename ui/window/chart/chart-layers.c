/* chart-layers.c - the chart's pictures: rastered once, kept as render nodes, put together at each frame */
#include "ui/window/chart/chart-private.h"

#include "ui/window/widgets/drawing-area.h"
#include "ui/window/widgets/items.h"
#include "ui/window/widgets/theme.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* A cairo node only records, and what it recorded is drawn again at each repaint. So a layer is first rastered into an image at the
 * screen's own resolution, and its node records no more than the copying of that. A texture node would do with a GPU; cairo's renderer
 * copies the whole of a texture at each repaint, of an image no more than is repainted: twelve times sooner where only the pointer moves
 * (tests/bench). */

#define FADE_US 120000
#define DIM 0.55f /* of the sheet over what is no longer current */
#define EDGE 8    /* round the plot */

static GdkRGBA
rgba (const SpColour *colour, double opacity)
{
  return (GdkRGBA){ (float) colour->red, (float) colour->green, (float) colour->blue, (float) opacity };
}

static void
fill (GtkSnapshot *snapshot, const SpColour *colour, double opacity, double x, double y, double width, double height)
{
  GdkRGBA shown = rgba (colour, opacity);
  gtk_snapshot_append_color (snapshot, &shown, &GRAPHENE_RECT_INIT ((float) x, (float) y, (float) width, (float) height));
}

/* Places are points, which grow with the desktop's text: so many pixels of the screen is one. */
static double
pixels (SpChart *self)
{
  return gtk_widget_get_scale_factor (GTK_WIDGET (self)) * sp_theme_text_scale ();
}

static const SpPalette *
palette_of (SpChart *self)
{
  return sp_theme_is_strong () ? sp_palette_strong (self->dark) : sp_palette (self->dark);
}

static SpPen *
pen_of (SpChart *self, cairo_t *cr)
{
  SpPen *pen = sp_pen_new (cr, self->dark, NULL);
  pen->palette = palette_of (self);
  return pen;
}

static cairo_t *
canvas_new (SpChart *self, double width, double height)
{
  double scale = pixels (self);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, (int) ceil (width * scale), (int) ceil (height * scale));
  cairo_surface_set_device_scale (surface, scale, scale);
  cairo_t *cr = cairo_create (surface);
  cairo_surface_destroy (surface);
  return cr;
}

static SpPlot *
lay_out (SpChart *self, double from_hz, double to_hz)
{
  SpRect paper = sp_widget_paper (GTK_WIDGET (self));
  cairo_t *cr = canvas_new (self, 1, 1);
  g_autoptr (SpPen) pen = pen_of (self, cr);
  cairo_destroy (cr);
  SpRect rect = { EDGE, 2, MAX (1, paper.width - 2 * EDGE), MAX (1, paper.height - 2 - EDGE) };
  SpView view;
  sp_session_figure_view (self->session, &view);
  view.from_hz = from_hz;
  view.to_hz = to_hz;
  view.bottom_dbm = view.top_dbm = NAN;
  view.dark = self->dark;
  if (self->fit_known) {
    view.bottom_dbm = isnan (self->bottom_dbm) ? self->fit_bottom_dbm : self->bottom_dbm;
    view.top_dbm = isnan (self->top_dbm) ? self->fit_top_dbm : self->top_dbm;
  }
  if (!self->pyramids)
    self->pyramids = sp_pyramids_new ();
  return sp_plot_new_again (pen, sp_session_findings (self->session), &view, &rect, self->pyramids);
}

static void
find_fit (SpChart *self)
{
  if (self->fit_known)
    return;
  g_autoptr (SpPlot) whole = lay_out (self, NAN, NAN);
  self->fit = *sp_plot_frequency_axis (whole);
  self->fit_bottom_dbm = sp_plot_level_axis (whole)->from;
  self->fit_top_dbm = sp_plot_level_axis (whole)->to;
  self->fit_known = TRUE;
}

static gboolean
has_something (SpChart *self)
{
  const SpFindings *findings = self->session ? sp_session_findings (self->session) : NULL;
  return findings && sp_session_condition (self->session) < findings->n && gtk_widget_get_width (GTK_WIDGET (self)) > 0;
}

const SpAxis *
sp_chart_axis (SpChart *self)
{
  if (!has_something (self))
    return NULL;
  if (!self->plot) {
    find_fit (self);
    if (!(self->from_hz < self->fit.to && self->to_hz > self->fit.from)) /* the whole; or other findings have nothing there */
      self->plot = lay_out (self, NAN, NAN);
    else
      self->plot = lay_out (self, MAX (self->from_hz, self->fit.from), MIN (self->to_hz, self->fit.to));
  }
  return sp_plot_frequency_axis (self->plot);
}

void
sp_chart_drop_layers (SpChart *self)
{
  g_clear_pointer (&self->plot, sp_plot_free);
  for (guint i = 0; i < SP_N_LAYERS; i++) {
    g_clear_pointer (&self->layer[i], gsk_render_node_unref);
    g_clear_pointer (&self->surface[i], cairo_surface_destroy);
  }
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
sp_chart_drop_fit (SpChart *self)
{
  sp_chart_drop_layers (self);
  self->fit_known = FALSE;
}

void
sp_chart_drop_findings (SpChart *self)
{
  sp_chart_drop_fit (self);
  g_clear_pointer (&self->pyramids, sp_pyramids_free);
}

guint
sp_chart_layers_built (SpChart *self, SpLayer layer)
{
  return self->built[layer];
}

/* The curves fill no more than the area inside the axes. */
static graphene_rect_t
layer_bounds (SpChart *self, SpLayer layer)
{
  const SpRect *area = sp_plot_area (self->plot);
  SpRect paper = sp_widget_paper (GTK_WIDGET (self));
  if (layer != SP_LAYER_TRACES)
    return GRAPHENE_RECT_INIT (0, 0, (float) paper.width, (float) paper.height);
  double left = floor (area->x), top = floor (area->y);
  return GRAPHENE_RECT_INIT ((float) left, (float) top, (float) (ceil (area->x + area->width) - left),
                             (float) (ceil (area->y + area->height) - top));
}

static GskRenderNode *
raster (SpChart *self, SpLayer layer)
{
  static void (*const draw[SP_N_LAYERS]) (SpPlot *, SpPen *) = { sp_plot_draw_ground, sp_plot_draw_traces, sp_plot_draw_ladder };
  graphene_rect_t bounds = layer_bounds (self, layer);
  cairo_t *cr = canvas_new (self, bounds.size.width, bounds.size.height);
  cairo_translate (cr, -bounds.origin.x, -bounds.origin.y);
  SpPen *pen = pen_of (self, cr);
  draw[layer](self->plot, pen);
  self->built[layer]++;
  GskRenderNode *node = gsk_cairo_node_new (&bounds);
  cairo_t *copy = gsk_cairo_node_get_draw_context (node);
  cairo_set_source_surface (copy, cairo_get_target (cr), bounds.origin.x, bounds.origin.y);
  cairo_paint (copy);
  cairo_destroy (copy);
  sp_pen_free (pen);
  self->surface[layer] = cairo_surface_reference (cairo_get_target (cr));
  cairo_destroy (cr);
  return node;
}

static void
draw_layers (SpChart *self, GtkSnapshot *snapshot)
{
  for (SpLayer i = 0; i < SP_N_LAYERS; i++) {
    if (!self->layer[i])
      self->layer[i] = raster (self, i);
    gtk_snapshot_append_node (snapshot, self->layer[i]);
  }
}

/* The chosen emission: its rung drawn through, a ring round its mark. */
static void
draw_choice (SpChart *self, GtkSnapshot *snapshot, const SpPalette *palette)
{
  const SpEmission *chosen = sp_chart_chosen (self);
  double x, y;
  if (!chosen || !sp_chart_place (self, sp_session_condition (self->session), chosen, &x, &y))
    return;
  const SpRect *area = sp_plot_area (self->plot);
  fill (snapshot, &palette->ink, 0.35, round (x) - 1, area->y - 3, 2, area->height + 3);
  if (isnan (y))
    return;
  GskRoundedRect ring;
  GdkRGBA ink = rgba (&palette->ink, 1);
  gsk_rounded_rect_init_from_rect (&ring, &GRAPHENE_RECT_INIT ((float) x - 8, (float) y - 8, 16, 16), 8);
  gtk_snapshot_append_border (snapshot, &ring, (float[4]){ 1.5f, 1.5f, 1.5f, 1.5f }, (GdkRGBA[4]){ ink, ink, ink, ink });
}

/* Two small nodes: of what the pointer has left and where it is now, no more than this is repainted. */
static void
draw_pointer (SpChart *self, GtkSnapshot *snapshot, const SpPalette *palette)
{
  double pointer = sp_session_pointer_hz (self->session);
  const SpAxis *axis = sp_plot_frequency_axis (self->plot);
  const SpRect *area = sp_plot_area (self->plot);
  if (!(pointer >= axis->from && pointer <= axis->to))
    return;
  cairo_t *cr = canvas_new (self, 1, 1);
  SpPen *pen = pen_of (self, cr);
  SpRect box;
  gboolean told = sp_plot_pointer_box (self->plot, pen, pointer, &box);
  sp_pen_free (pen);
  cairo_destroy (cr);
  double scale = pixels (self);
  fill (snapshot, &palette->ink, 1, round ((sp_axis_at (axis, pointer) - 0.5) * scale) / scale, area->y - 3, 1, area->height + 3);
  if (!told)
    return;
  graphene_rect_t bounds = GRAPHENE_RECT_INIT ((float) floor (box.x) - 1, (float) floor (box.y) - 2, (float) ceil (box.width) + 3,
                                               (float) ceil (box.height) + 4);
  cr = gtk_snapshot_append_cairo (snapshot, &bounds);
  pen = pen_of (self, cr);
  sp_plot_draw_pointer (self->plot, pen, pointer);
  sp_pen_free (pen);
  cairo_destroy (cr);
}

static void
draw_box (SpChart *self, GtkSnapshot *snapshot, const SpPalette *palette)
{
  if (!self->boxing || self->box_from_x == self->box_to_x)
    return;
  const SpRect *area = sp_plot_area (self->plot);
  double from = round (MIN (self->box_from_x, self->box_to_x)), to = round (MAX (self->box_from_x, self->box_to_x));
  gboolean tall = !isnan (self->box_from_y);
  double top = tall ? round (MIN (self->box_from_y, self->box_to_y)) : area->y;
  double foot = tall ? round (MAX (self->box_from_y, self->box_to_y)) : area->y + area->height;
  fill (snapshot, &palette->ink, 0.1, from, top, to - from, foot - top);
  fill (snapshot, &palette->ink, 1, from, top, 1, foot - top);
  fill (snapshot, &palette->ink, 1, to, top, 1, foot - top);
  if (tall) {
    fill (snapshot, &palette->ink, 1, from, top, to - from, 1);
    fill (snapshot, &palette->ink, 1, from, foot, to - from, 1);
  }
}

/* Where nothing is to be seen, what would change that. */
static void
draw_words (SpChart *self, GtkSnapshot *snapshot, const SpPalette *palette)
{
  GtkWidget *widget = GTK_WIDGET (self);
  const SpFindings *findings = sp_session_findings (self->session);
  const char *text = findings ? _ ("Drop exports of the analyzer here: each becomes a radio's sweep.") : _ ("Being judged\xe2\x80\xa6");
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  PangoRectangle taken;
  g_autoptr (PangoLayout) layout = gtk_widget_create_pango_layout (widget, text);
  pango_layout_set_width (layout, MAX (1, width - 64) * PANGO_SCALE);
  pango_layout_set_alignment (layout, PANGO_ALIGN_CENTER);
  pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
  pango_layout_get_pixel_extents (layout, NULL, &taken);
  GdkRGBA soft = rgba (&palette->soft, 1);
  gtk_snapshot_save (snapshot);
  gtk_snapshot_scale (snapshot, (float) (1 / sp_theme_text_scale ()), (float) (1 / sp_theme_text_scale ())); /* it is in pixels */
  gtk_snapshot_translate (snapshot, &GRAPHENE_POINT_INIT (32, (float) (height - taken.height) / 2));
  fill (snapshot, &palette->sheet, 1, taken.x - 8, -6, taken.width + 16, taken.height + 12);
  gtk_snapshot_append_layout (snapshot, layout, &soft);
  gtk_snapshot_restore (snapshot);
}

/* Like words over an empty sheet, but below them the axes stand. */
static gboolean
nothing_swept (SpChart *self)
{
  const SpFindings *findings = sp_session_findings (self->session);
  for (guint i = 0; i < findings->n; i++)
    if (findings->conditions[i].n_corrected)
      return FALSE;
  return TRUE;
}

static gboolean
fade_on (GtkWidget *widget, GdkFrameClock *clock, void *data)
{
  SpChart *self = SP_CHART (widget);
  (void) data;
  gtk_widget_queue_draw (widget);
  if (gdk_frame_clock_get_frame_time (clock) - self->fade_start < FADE_US)
    return G_SOURCE_CONTINUE;
  self->fade_tick = 0;
  g_clear_pointer (&self->before, gsk_render_node_unref);
  return G_SOURCE_REMOVE;
}

void
sp_chart_begin_fade (SpChart *self)
{
  gboolean moves = TRUE;
  GdkFrameClock *clock = gtk_widget_get_frame_clock (GTK_WIDGET (self));
  g_object_get (gtk_widget_get_settings (GTK_WIDGET (self)), "gtk-enable-animations", &moves, NULL);
  if (!moves || !clock || !gtk_widget_get_mapped (GTK_WIDGET (self)) || !self->layer[SP_LAYER_LADDER])
    return;
  sp_chart_end_fade (self);
  self->before = gsk_container_node_new (self->layer, SP_N_LAYERS);
  self->fade_start = gdk_frame_clock_get_frame_time (clock);
  self->fade_tick = gtk_widget_add_tick_callback (GTK_WIDGET (self), fade_on, NULL, NULL);
}

void
sp_chart_end_fade (SpChart *self)
{
  if (self->fade_tick)
    gtk_widget_remove_tick_callback (GTK_WIDGET (self), self->fade_tick);
  self->fade_tick = 0;
  g_clear_pointer (&self->before, gsk_render_node_unref);
}

static double
fade_progress (SpChart *self)
{
  GdkFrameClock *clock = gtk_widget_get_frame_clock (GTK_WIDGET (self));
  return clock ? CLAMP ((double) (gdk_frame_clock_get_frame_time (clock) - self->fade_start) / FADE_US, 0, 1) : 1;
}

static void
draw_plot (SpChart *self, GtkSnapshot *snapshot, const SpPalette *palette)
{
  if (self->before) {
    gtk_snapshot_push_cross_fade (snapshot, fade_progress (self));
    gtk_snapshot_append_node (snapshot, self->before);
    gtk_snapshot_pop (snapshot);
  }
  draw_layers (self, snapshot);
  if (self->before)
    gtk_snapshot_pop (snapshot);
  if (sp_session_judging (self->session)) /* of an older bench: never shown as current */
    fill (snapshot, &palette->sheet, DIM, 0, 0, sp_widget_paper (GTK_WIDGET (self)).width, sp_widget_paper (GTK_WIDGET (self)).height);
  draw_choice (self, snapshot, palette);
  draw_pointer (self, snapshot, palette);
  draw_box (self, snapshot, palette);
  if (nothing_swept (self))
    draw_words (self, snapshot, palette);
}

static void
draw_focus (SpChart *self, GtkSnapshot *snapshot, const SpPalette *palette)
{
  GskRoundedRect ring;
  GdkRGBA ink = rgba (&palette->ink, 1);
  int width = gtk_widget_get_width (GTK_WIDGET (self)), height = gtk_widget_get_height (GTK_WIDGET (self));
  if (!gtk_widget_has_visible_focus (GTK_WIDGET (self)))
    return;
  gsk_rounded_rect_init_from_rect (&ring, &GRAPHENE_RECT_INIT (1, 1, (float) width - 2, (float) height - 2), 0);
  gtk_snapshot_append_border (snapshot, &ring, (float[4]){ 1, 1, 1, 1 }, (GdkRGBA[4]){ ink, ink, ink, ink });
}

void
sp_chart_draw (SpChart *self, GtkSnapshot *snapshot)
{
  const SpPalette *palette = palette_of (self);
  float scale = (float) sp_theme_text_scale ();
  fill (snapshot, &palette->sheet, 1, 0, 0, gtk_widget_get_width (GTK_WIDGET (self)), gtk_widget_get_height (GTK_WIDGET (self)));
  gtk_snapshot_save (snapshot);
  gtk_snapshot_scale (snapshot, scale, scale);
  if (sp_chart_axis (self))
    draw_plot (self, snapshot, palette);
  else if (self->session)
    draw_words (self, snapshot, palette);
  gtk_snapshot_restore (snapshot);
  draw_focus (self, snapshot, palette);
}
