/* blind.c - the blind zone: removes the paper where the floor is above the limit */
#include "ui/figure/plot/plot-private.h"

#include "ui/figure/pen/fog.h"
#include "ui/words/words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* The main message of the chart: outside it, "nothing seen" means that nothing is there. */

#define TEAR_STEP 3.5 /* points between the teeth of the torn edge */
#define TEAR_DEPTH 2.6
#define STRIP 44      /* of another condition that is blind for everything */
#define LEAST_ZONE 40 /* narrower zones, such as a carrier's skirt, need no text */

static gboolean
is_blind (const SpPlotGround *ground, guint column)
{
  return ground->floor_dbm[column] > ground->limit_dbm[column]; /* FALSE for NaN */
}

void
sp_plot_find_blind (SpPlot *plot, SpPlotGround *ground)
{
  ground->blind = g_array_new (FALSE, FALSE, sizeof (SpBlindRun));
  for (guint from = 0, to; from < plot->n; from = to + 1) {
    double least = INFINITY;
    for (to = from; to < plot->n && is_blind (ground, to); to++)
      least = MIN (least, ground->floor_dbm[to]);
    if (to == from)
      continue;
    double half = plot->area.width / plot->n / 2;
    SpBlindRun run = { sp_axis_value (&ground->x, sp_plot_column_x (plot, from) - half),
                       sp_axis_value (&ground->x, sp_plot_column_x (plot, to - 1) + half), least };
    g_array_append_val (ground->blind, run);
  }
}

const SpBlindRun *
sp_plot_blind_runs (const SpPlot *plot, guint *n)
{
  *n = sp_plot_ground (plot)->blind->len;
  return (const SpBlindRun *) (void *) sp_plot_ground (plot)->blind->data;
}

static guint
column_at (const SpPlot *plot, double x)
{
  return (guint) CLAMP ((x - plot->area.x) / plot->area.width * plot->n, 0, plot->n - 1);
}

/* A fixed pseudo-random value 0..1 for each tooth, so that the paper tears the same way each time. */
static double
tooth (guint i)
{
  guint32 hash = i * 2654435761u;
  hash ^= hash >> 15;
  hash *= 2246822519u;
  hash ^= hash >> 13;
  return (hash & 0xffff) / 65535.0;
}

/* The top of the fog. A floor beyond the levels on show would have it cover the sheet, and others' marks: of another condition a strip stands for that. */
static double
top_y (const SpPlot *plot, const SpPlotGround *ground, guint column)
{
  double y = sp_plot_y (plot, ground->floor_dbm[column]);
  gboolean whole = ground->floor_dbm[column] <= plot->y.to || ground->condition == plot->view.condition;
  return whole ? y : MAX (y, sp_plot_y (plot, ground->limit_dbm[column]) - STRIP);
}

/* The torn edge stays below the floor: no fog where there is none. */
static void
torn_edge (const SpPlot *plot, SpPen *pen, const SpPlotGround *ground, double left, double right)
{
  cairo_line_to (pen->cr, left, top_y (plot, ground, column_at (plot, left + 0.1)));
  for (guint i = 1; left + i * TEAR_STEP < right; i++) {
    double x = left + i * TEAR_STEP;
    guint column = column_at (plot, x);
    double floor_y = top_y (plot, ground, column), limit_y = sp_plot_y (plot, ground->limit_dbm[column]);
    cairo_line_to (pen->cr, x, MIN (floor_y + TEAR_DEPTH * tooth (i + (guint) left), limit_y));
  }
  cairo_line_to (pen->cr, right, top_y (plot, ground, column_at (plot, right - 0.1)));
}

static void
zone_path (const SpPlot *plot, SpPen *pen, const SpPlotGround *ground, double left, double right)
{
  cairo_new_path (pen->cr);
  torn_edge (plot, pen, ground, left, right);
  for (guint i = column_at (plot, right - 0.1) + 1; i-- > column_at (plot, left + 0.1);)
    cairo_line_to (pen->cr, CLAMP (sp_plot_column_x (plot, i), left, right), sp_plot_y (plot, ground->limit_dbm[i]));
  cairo_close_path (pen->cr);
}

static void
draw_zone (const SpPlot *plot, SpPen *pen, const SpPlotGround *ground, const SpBlindRun *run)
{
  double left = sp_axis_at (&ground->x, run->from_hz), right = sp_axis_at (&ground->x, run->to_hz), top, bottom, dummy;
  cairo_save (pen->cr);
  zone_path (plot, pen, ground, left, right);
  cairo_path_extents (pen->cr, &dummy, &top, &dummy, &bottom);
  cairo_clip (pen->cr);
  SpRect rect = { left, top, right - left, bottom - top };
  sp_fog (pen, &rect);
  cairo_restore (pen->cr);
  cairo_new_path (pen->cr);
  torn_edge (plot, pen, ground, left, right);
  sp_pen_colour (pen, &pen->palette->fog_ink, 0.55);
  cairo_set_line_width (pen->cr, 1);
  cairo_set_line_join (pen->cr, CAIRO_LINE_JOIN_BEVEL);
  cairo_stroke (pen->cr);
}

/* A range to be searched but not swept: missing from top to bottom. */
static void
draw_gap (SpPlot *plot, SpPen *pen, const SpGap *gap)
{
  double left = MAX (sp_axis_at (&plot->x, MAX (gap->from_hz, plot->x.from)), plot->area.x + 1);
  double right = MIN (sp_axis_at (&plot->x, MIN (gap->to_hz, plot->x.to)), plot->area.x + plot->area.width);
  if (gap->why != SP_REASON_NOT_SWEPT || !(right - left > 1))
    return;
  SpRect rect = { left, plot->area.y, right - left, plot->area.height };
  cairo_save (pen->cr);
  cairo_rectangle (pen->cr, rect.x, rect.y, rect.width, rect.height);
  cairo_clip (pen->cr);
  sp_fog (pen, &rect);
  cairo_restore (pen->cr);
  if (rect.width > 60 && !plot->view.bare)
    sp_pen_text (pen, left + rect.width / 2, plot->area.y + plot->area.height * 0.3, SP_TEXT_BOLD, &pen->palette->fog_ink, 0.5,
                 _ ("not swept"));
}

void
sp_plot_draw_blind (SpPlot *plot, SpPen *pen)
{
  cairo_save (pen->cr);
  cairo_rectangle (pen->cr, plot->area.x, plot->area.y, plot->area.width, plot->area.height);
  cairo_clip (pen->cr);
  for (guint i = 0; plot->chosen_shown && i < plot->chosen->n_gaps; i++)
    draw_gap (plot, pen, &plot->chosen->gaps[i]);
  for (guint k = plot->grounds->len; k-- > 0;) {
    const SpPlotGround *ground = &g_array_index (plot->grounds, SpPlotGround, k);
    for (guint i = 0; i < ground->blind->len; i++)
      draw_zone (plot, pen, ground, &g_array_index (ground->blind, SpBlindRun, i));
  }
  cairo_restore (pen->cr);
}

static const SpBlindRun *
widest_run (const SpPlotGround *ground)
{
  const SpBlindRun *best = NULL;
  double most = 0;
  for (guint i = 0; i < ground->blind->len; i++) {
    const SpBlindRun *run = &g_array_index (ground->blind, SpBlindRun, i);
    double width = sp_axis_at (&ground->x, run->to_hz) - sp_axis_at (&ground->x, run->from_hz);
    if (width > most)
      most = width, best = run;
  }
  return best;
}

/* The lowest floor for a harmonic within a run; NaN: no harmonic, INFINITY: no usable floor. */
static double
harmonic_floor (const SpConditionFindings *c, const SpBlindRun *run)
{
  double least = NAN;
  for (guint i = 0; i < c->n_emissions; i++) {
    const SpEmission *e = &c->emissions[i];
    if (e->order && sp_emission_is_blind (e) && e->frequency_hz >= run->from_hz && e->frequency_hz <= run->to_hz)
      return INFINITY;
    if (e->order && e->swept && !e->detected && e->frequency_hz >= run->from_hz && e->frequency_hz <= run->to_hz
        && !(e->floor_dbm >= least))
      least = e->floor_dbm;
  }
  return least;
}

static char *
blind_sentence (const SpPlot *plot, const SpPlotGround *ground, const SpBlindRun *run)
{
  g_autofree char *name = sp_plot_label (plot, ground->condition);
  double harmonic = harmonic_floor (&plot->findings->conditions[ground->condition], run),
         least = isnan (harmonic) ? run->least_floor_dbm : harmonic;
  if (!isfinite (least))
    return g_strdup_printf (_ ("blind for %s: nothing could have been seen"), name);
  g_autofree char *level = sp_words_level (least, 1, SP_HAND_SCREEN);
  return isnan (harmonic) ? g_strdup_printf (_ ("blind for %s: nothing below %s could have been seen"), name, level)
                          : g_strdup_printf (_ ("blind for %s: no harmonic below %s could have been seen"), name, level);
}

/* Inside the fog if it is deep enough for a line of text from x on, else on its edge. */
static SpSpot
spot_in_fog (const SpPlot *plot, const SpPlotGround *ground, double x, double width, gboolean *inside)
{
  double deepest = -INFINITY, limit_y = INFINITY, top = INFINITY;
  for (guint k = column_at (plot, x); k <= column_at (plot, x + width); k++)
    if (is_blind (ground, k)) {
      double y = top_y (plot, ground, k);
      deepest = MAX (deepest, y);
      top = MIN (top, y);
      limit_y = MIN (limit_y, sp_plot_y (plot, ground->limit_dbm[k]));
    }
  *inside = limit_y - deepest >= 15;
  return (SpSpot){ x, *inside ? MIN ((limit_y + deepest) / 2 + 4.5, deepest + 17) : top - 6 };
}

/* Tries in turn: inside the fog or on its edge, above other drawings, under the limit. */
static gboolean
write_at (SpPlot *plot, SpPen *pen, const char *text, SpSpot spot, gboolean inside, double width)
{
  double height = sp_pen_line_height (SP_TEXT_BOLD);
  SpRect rect = { spot.x - 3, spot.baseline - height + 4, width + 6, height };
  if (rect.y < plot->area.y || rect.x + rect.width > plot->area.x + plot->area.width + 4 || !sp_plot_is_free (plot, &rect))
    return FALSE;
  sp_plot_take (plot, &rect);
  sp_pen_text_halo (pen, spot.x, spot.baseline, SP_TEXT_BOLD, &pen->palette->fog_ink, 0, text,
                    inside ? &pen->palette->fog : &pen->palette->sheet);
  return TRUE;
}

static void
write_ground (SpPlot *plot, SpPen *pen, const SpPlotGround *ground)
{
  const SpBlindRun *run = widest_run (ground);
  if (!run)
    return;
  double left = sp_axis_at (&ground->x, run->from_hz), right = sp_axis_at (&ground->x, run->to_hz), low = plot->area.x + 4;
  if (right - left < LEAST_ZONE)
    return;
  g_autofree char *text = blind_sentence (plot, ground, run);
  double width = sp_pen_text_width (pen, SP_TEXT_BOLD, text), high = MAX (low, plot->area.x + plot->area.width - width - 4);
  static const double parts[] = { 0.35, 0.5, 0.2, 0.65, 0.8, 0.05, 0.95 };
  for (guint i = 0; i < 3 * G_N_ELEMENTS (parts); i++) {
    guint round = i / G_N_ELEMENTS (parts);
    gboolean inside;
    double x = left + 6 + MAX (0, right - left - width - 12) * parts[i % G_N_ELEMENTS (parts)];
    SpSpot spot = spot_in_fog (plot, ground, CLAMP (x, low, high), width, &inside);
    if (round == 1)
      spot.baseline -= 18;
    else if (round == 2)
      spot.baseline = sp_plot_y (plot, ground->limit_dbm[column_at (plot, (left + right) / 2)]) + 17;
    if (write_at (plot, pen, text, spot, inside && round == 0, width))
      return;
  }
}

void
sp_plot_write_blind (SpPlot *plot, SpPen *pen)
{
  for (guint k = 0; k < plot->grounds->len; k++)
    write_ground (plot, pen, &g_array_index (plot->grounds, SpPlotGround, k));
}
