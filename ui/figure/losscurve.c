/* losscurve.c - a stage's loss against frequency */
#include "ui/figure/losscurve.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/chain/sample.h"
#include "ui/figure/pen/frame.h"
#include "ui/words/words.h"

#define LEFT 52
#define RIGHT 12
#define HEAD 24 /* the sentence */
#define FOOT 24
#define GRID 241 /* samples over the width: smooth at any size a window has */
#define LEAST_SPAN_DB 0.2

typedef struct {
  SpPen *pen;
  const SpStage *stage;
  SpRect area;
  SpAxis x, y;
  SpStageSample grid[GRID];
  guint n_points;
  SpStageSample *points; /* at the measured frequencies */
} Drawing;

static void
level_axis (Drawing *d)
{
  double low = INFINITY, high = -INFINITY;
  for (guint i = 0; i < GRID; i++) {
    low = MIN (low, d->grid[i].low_db);
    high = MAX (high, d->grid[i].high_db);
  }
  if (!isnan (d->stage->label_db)) {
    low = MIN (low, d->stage->label_db);
    high = MAX (high, d->stage->label_db);
  }
  double space = MAX ((high - low) * 0.12, LEAST_SPAN_DB);
  /* more loss is further down, as on the staircase */
  d->y = (SpAxis){ &sp_scale_linear, low - space, high + space, d->area.y, d->area.y + d->area.height };
}

static void
sample (Drawing *d, const SpChain *chain, guint stage)
{
  double low_hz, high_hz, frequency_hz[GRID];
  sp_stage_sample_span (chain, stage, &low_hz, &high_hz);
  sp_stage_sample_grid (low_hz, high_hz, GRID, frequency_hz);
  sp_stage_sample (chain, stage, GRID, frequency_hz, d->grid);
  d->x = (SpAxis){ &sp_scale_logarithmic, low_hz, high_hz, d->area.x, d->area.x + d->area.width };
  if (d->stage->loss) {
    d->n_points = d->stage->loss->n;
    d->points = g_new (SpStageSample, d->n_points);
    sp_stage_sample (chain, stage, d->n_points, d->stage->loss->frequency_hz, d->points);
  }
  level_axis (d);
}

static void
draw_axes (Drawing *d)
{
  SpPen *pen = d->pen;
  const SpPalette *palette = pen->palette;
  SpTick ticks[SP_TICKS_MAX];
  double right = d->area.x + d->area.width;
  guint most = (guint) MAX (2, d->area.height / 28), n = sp_scale_linear.ticks (d->y.from, d->y.to, most, ticks);
  int decimals = sp_frame_decimals (sp_nice_step (d->y.to - d->y.from, most));
  for (guint i = 0; i < n; i++) {
    double y = sp_axis_at (&d->y, ticks[i].value);
    g_autofree char *text = sp_words_number (ticks[i].value, decimals, SP_HAND_SCREEN);
    sp_pen_colour (pen, &palette->floor_edge, 0.2);
    sp_pen_line (pen, d->area.x, y, right, y, 1);
    sp_pen_text (pen, d->area.x - 8, y + 4, SP_TEXT_SMALL, &palette->soft, 1, text);
  }
  sp_frame_frequencies (pen, &d->area, &d->x);
  sp_pen_text (pen, d->area.x - 8, d->area.y - 8, SP_TEXT_SMALL, &palette->soft, 1, "dB");
}

static void
draw_label (Drawing *d)
{
  SpPen *pen = d->pen;
  if (isnan (d->stage->label_db))
    return;
  double y = sp_axis_at (&d->y, d->stage->label_db), right = d->area.x + d->area.width;
  g_autofree char *number = sp_words_number (d->stage->label_db, 1, SP_HAND_SCREEN);
  g_autofree char *text = g_strdup_printf (_ ("label %s dB"), number);
  sp_pen_colour (pen, &pen->palette->soft, 1);
  sp_pen_dotted (pen, d->area.x, y, right, y, 1, 4);
  /* on the side where the curve is not */
  double end = sp_axis_at (&d->y, d->grid[GRID - 1].loss_db);
  sp_pen_text_halo (pen, right - 4, end > y ? y - 5 : y + 14, SP_TEXT_SMALL, &pen->palette->soft, 1, text, &pen->palette->sheet);
}

static void
draw_band (Drawing *d)
{
  cairo_t *cr = d->pen->cr;
  cairo_new_path (cr); /* writing leaves a point behind */
  for (guint i = 0; i < GRID; i++)
    cairo_line_to (cr, sp_axis_at (&d->x, d->grid[i].frequency_hz), sp_axis_at (&d->y, d->grid[i].high_db));
  for (guint i = GRID; i-- > 0;)
    cairo_line_to (cr, sp_axis_at (&d->x, d->grid[i].frequency_hz), sp_axis_at (&d->y, d->grid[i].low_db));
  cairo_close_path (cr);
  sp_pen_colour (d->pen, &d->pen->palette->floor_edge, 0.22);
  cairo_fill (cr);
}

static void
draw_curve (Drawing *d)
{
  static const double dots[] = { 1, 3 };
  cairo_t *cr = d->pen->cr;
  sp_pen_colour (d->pen, &d->pen->palette->ink, 1);
  cairo_set_line_width (cr, 1.5);
  for (guint from = 0; from + 1 < GRID;) { /* runs that are calibrated or not, as one stroke each */
    guint to = from + 1;
    while (to + 1 < GRID && d->grid[to].calibrated == d->grid[from].calibrated)
      to++;
    cairo_new_path (cr);
    for (guint i = from; i <= to; i++)
      cairo_line_to (cr, sp_axis_at (&d->x, d->grid[i].frequency_hz), sp_axis_at (&d->y, d->grid[i].loss_db));
    cairo_set_dash (cr, dots, d->grid[from].calibrated ? 0 : 2, 0);
    cairo_stroke (cr);
    from = to;
  }
  cairo_set_dash (cr, NULL, 0, 0);
}

static void
draw_points (Drawing *d)
{
  SpPen *pen = d->pen;
  gboolean many = d->n_points > 60; /* a Touchstone file's own grid: a point each would be a bar */
  for (guint i = 0; i < d->n_points && !many; i++) {
    double x = sp_axis_at (&d->x, MAX (d->points[i].frequency_hz, d->x.from)), y = sp_axis_at (&d->y, d->points[i].loss_db);
    double low = sp_axis_at (&d->y, d->points[i].low_db), high = sp_axis_at (&d->y, d->points[i].high_db);
    sp_pen_colour (pen, &pen->palette->ink, 1);
    sp_pen_line (pen, x, low, x, high, 1);
    sp_pen_line (pen, x - 3, low, x + 3, low, 1);
    sp_pen_line (pen, x - 3, high, x + 3, high, 1);
    cairo_new_path (pen->cr);
    cairo_arc (pen->cr, x, y, 2.8, 0, 2 * G_PI);
    cairo_fill (pen->cr);
  }
}

static char *
says_deviation (const SpChain *chain, guint stage)
{
  double low_hz, high_hz, grid_hz[GRID];
  SpStageSample samples[GRID];
  const SpCurve *curve = chain->stages[stage]->loss;
  const double *frequency_hz = curve ? curve->frequency_hz : grid_hz;
  guint n = curve ? MIN (curve->n, GRID) : GRID;
  sp_stage_sample_span (chain, stage, &low_hz, &high_hz);
  sp_stage_sample_grid (low_hz, high_hz, GRID, grid_hz);
  sp_stage_sample (chain, stage, n, frequency_hz, samples);
  int furthest = sp_stage_sample_furthest (n, samples);
  if (!curve)
    return g_strdup (furthest >= 0 ? _ ("never measured: the label is used") : _ ("never measured, and no label: no loss is known"));
  if (furthest < 0)
    return g_strdup (_ ("no label to compare with"));
  g_autofree char *off = sp_words_signed (samples[furthest].off_label_db, 2, SP_HAND_SCREEN);
  g_autofree char *at = sp_words_frequency (samples[furthest].frequency_hz, 0, SP_HAND_SCREEN);
  return g_strdup_printf (_ ("off its label by %s dB at most, at %s"), off, at);
}

char *
sp_loss_curve_says (const SpChain *chain, guint stage)
{
  g_autofree char *deviation = says_deviation (chain, stage);
  const SpCurve *curve = chain->stages[stage]->loss;
  if (!curve)
    return g_steal_pointer (&deviation);
  g_autofree char *points = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u point", "%u points", curve->n), curve->n);
  return g_strdup_printf ("%s, %s", points, deviation);
}

void
sp_loss_curve_draw (SpPen *pen, const SpChain *chain, guint stage, const SpRect *rect)
{
  if (!chain || stage >= chain->n || rect->width < LEFT + RIGHT + 40 || rect->height < HEAD + FOOT + 40)
    return;
  g_autofree char *sentence = sp_loss_curve_says (chain, stage), *says = g_strdup_printf (_ ("%s; the band is U"), sentence);
  Drawing d = { .pen = pen,
                .stage = chain->stages[stage],
                .area = { rect->x + LEFT, rect->y + HEAD + 8, rect->width - LEFT - RIGHT, rect->height - HEAD - 8 - FOOT } };
  sample (&d, chain, stage);
  cairo_save (pen->cr);
  sp_pen_text_fit (pen, d.area.x + 4, rect->y + 15, SP_TEXT_SMALL, &pen->palette->soft, d.area.width - 4, says);
  draw_axes (&d);
  draw_band (&d);
  draw_label (&d);
  draw_curve (&d);
  draw_points (&d);
  cairo_restore (pen->cr);
  g_free (d.points);
}
