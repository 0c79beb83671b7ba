/* correction.c - an analyzer's correction against frequency, and what is left of its stated errors as bars */
#include "ui/figure/correction.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "ui/figure/pen/frame.h"
#include "ui/words/words.h"

#define LEFT 52
#define RIGHT 16
#define HEAD 26
#define FOOT 24
#define LINE 15
#define GRID 161 /* samples over the width: smooth at any size a window has */
#define LEAST_SPAN_DB 0.2
#define DOT 3.2

typedef struct {
  SpPen *pen;
  const SpCheckResult *result;
  SpRect area;
  SpAxis x, y;
  SpCheckSample grid[GRID];
} Drawing;

static const SpCheckPoint *
worst (const SpCheckResult *result)
{
  const SpCheckPoint *found = NULL;
  for (guint i = 0; i < result->n; i++) {
    const SpCheckPoint *point = &result->points[i];
    if (!found || fabs (point->correction_db - point->middle_db) > fabs (found->correction_db - found->middle_db))
      found = point;
  }
  return found;
}

char *
sp_correction_says (const SpCheckResult *result)
{
  const SpCheckPoint *point = worst (result);
  if (!point)
    return g_strdup (_ ("nothing was read yet"));
  g_autofree char *value = sp_words_signed (point->correction_db, 2, SP_HAND_SCREEN);
  g_autofree char *at = sp_words_frequency (point->frequency_hz, 0, SP_HAND_SCREEN);
  return g_strdup_printf (point->beyond ? _ ("%s dB at %s: beyond what is stated") : _ ("%s dB at most, at %s"), value, at);
}

static void
set_axes (Drawing *d)
{
  double low = INFINITY, high = -INFINITY;
  for (guint i = 0; i < GRID; i++) {
    low = MIN (low, d->grid[i].low_db);
    high = MAX (high, d->grid[i].high_db);
  }
  for (guint i = 0; i < d->result->n; i++) {
    const SpCheckPoint *point = &d->result->points[i];
    low = MIN (low, MIN (point->correction_db, point->middle_db - point->stated_db));
    high = MAX (high, MAX (point->correction_db, point->middle_db + point->stated_db));
  }
  double space = MAX ((high - low) * 0.1, LEAST_SPAN_DB);
  d->x = (SpAxis){ &sp_scale_logarithmic, d->grid[0].frequency_hz, d->grid[GRID - 1].frequency_hz, d->area.x + 8,
                   d->area.x + d->area.width - 8 };
  d->y = (SpAxis){ &sp_scale_linear, low - space, high + space, d->area.y + d->area.height, d->area.y };
}

static void
draw_levels (Drawing *d)
{
  SpPen *pen = d->pen;
  SpTick ticks[SP_TICKS_MAX];
  guint most = (guint) MAX (2, d->area.height / 32), n = sp_scale_linear.ticks (d->y.from, d->y.to, most, ticks);
  int decimals = sp_nice_step (d->y.to - d->y.from, most) >= 1 ? 0 : 1;
  for (guint i = 0; i < n; i++) {
    double y = sp_axis_at (&d->y, ticks[i].value);
    gboolean zero = fabs (ticks[i].value) < 1e-9;
    g_autofree char *text = zero ? g_strdup ("0") : sp_words_signed (ticks[i].value, decimals, SP_HAND_SCREEN);
    sp_pen_colour (pen, zero ? &pen->palette->ink : &pen->palette->floor_edge, zero ? 0.5 : 0.2);
    sp_pen_line (pen, d->area.x, y, d->area.x + d->area.width, y, 1);
    sp_pen_text (pen, d->area.x - 8, y + 4, SP_TEXT_SMALL, &pen->palette->soft, 1, text);
  }
}

/* Both ends of what is stated, through the points, for the maker's own correction may be its middle. */
static void
draw_corridor (Drawing *d)
{
  static const double dashes[] = { 5, 4 };
  cairo_t *cr = d->pen->cr;
  sp_pen_colour (d->pen, &d->pen->palette->limit, 1);
  cairo_set_line_width (cr, 1);
  cairo_set_dash (cr, dashes, 2, 0);
  for (int side = -1; side <= 1; side += 2) {
    cairo_new_path (cr);
    for (guint i = 0; i < d->result->n; i++) {
      const SpCheckPoint *point = &d->result->points[i];
      double y = sp_axis_at (&d->y, point->middle_db + side * point->stated_db);
      if (i == 0)
        cairo_move_to (cr, d->area.x, y);
      cairo_line_to (cr, sp_axis_at (&d->x, point->frequency_hz), y);
      if (i + 1 == d->result->n)
        cairo_line_to (cr, d->area.x + d->area.width, y);
    }
    cairo_stroke (cr);
  }
  cairo_set_dash (cr, NULL, 0, 0);
}

static void
draw_curve (Drawing *d)
{
  cairo_t *cr = d->pen->cr;
  cairo_new_path (cr); /* writing leaves a point behind */
  for (guint i = 0; i < GRID; i++)
    cairo_line_to (cr, sp_axis_at (&d->x, d->grid[i].frequency_hz), sp_axis_at (&d->y, d->grid[i].high_db));
  for (guint i = GRID; i-- > 0;)
    cairo_line_to (cr, sp_axis_at (&d->x, d->grid[i].frequency_hz), sp_axis_at (&d->y, d->grid[i].low_db));
  cairo_close_path (cr);
  sp_pen_colour (d->pen, &d->pen->palette->trace[0], 0.2);
  cairo_fill (cr);
  for (guint i = 0; i < GRID; i++)
    cairo_line_to (cr, sp_axis_at (&d->x, d->grid[i].frequency_hz), sp_axis_at (&d->y, d->grid[i].value_db));
  sp_pen_colour (d->pen, &d->pen->palette->trace[0], 1);
  cairo_set_line_width (cr, 1.5);
  cairo_stroke (cr);
}

/* The curve's setting as a dot, another as a diamond; beyond what is stated in the limit's red and larger. */
static void
draw_point (Drawing *d, const SpCheckPoint *point)
{
  cairo_t *cr = d->pen->cr;
  double x = sp_axis_at (&d->x, point->frequency_hz), y = sp_axis_at (&d->y, point->correction_db), r = point->beyond ? DOT + 1.2 : DOT;
  gboolean own = point->attenuation_db == d->result->attenuation_db || isnan (point->attenuation_db);
  cairo_new_path (cr);
  if (own)
    cairo_arc (cr, x, y, r, 0, 2 * G_PI);
  else
    for (guint i = 0; i < 4; i++)
      cairo_line_to (cr, x + (i == 1 ? r : i == 3 ? -r : 0) * 1.3, y + (i == 0 ? -r : i == 2 ? r : 0) * 1.3);
  cairo_close_path (cr);
  sp_pen_colour (d->pen, point->beyond ? &d->pen->palette->limit : own ? &d->pen->palette->trace[0] : &d->pen->palette->ink, 1);
  cairo_set_line_width (cr, 1.2);
  if (own)
    cairo_fill (cr);
  else
    cairo_stroke (cr);
}

static void
draw_words (Drawing *d, const SpRect *rect)
{
  const SpCheckPoint *point = worst (d->result);
  SpPen *pen = d->pen;
  double right = d->area.x + d->area.width;
  g_autofree char *number = sp_words_number (point->stated_db, 1, SP_HAND_SCREEN),
                  *stated = g_strdup_printf (_ ("stated: ± %s dB"), number);
  sp_pen_text (pen, right, rect->y + 15, SP_TEXT_SMALL, &pen->palette->soft, 1, stated);
  sp_pen_text (pen, rect->x, rect->y + 15, SP_TEXT_BOLD, &pen->palette->ink, 0, _ ("correction, dB, with U of the curve"));
  if (!point->beyond)
    return;
  g_autofree char *says = sp_correction_says (d->result);
  sp_pen_text_fit (pen, rect->x, rect->y + 15 + LINE, SP_TEXT_BOLD, &pen->palette->limit, rect->width, says);
}

void
sp_correction_draw (SpPen *pen, const SpCheckResult *result, const SpRect *rect)
{
  if (!result->correction || rect->width < LEFT + RIGHT + 60 || rect->height < HEAD + FOOT + 40)
    return;
  /* The words stand above the curve: beside their point they stood on lines and ran out of the chart. */
  double head = HEAD + (worst (result)->beyond ? LINE : 0);
  Drawing d = { .pen = pen,
                .result = result,
                .area = { rect->x + LEFT, rect->y + head, rect->width - LEFT - RIGHT, rect->height - head - FOOT } };
  sp_check_sample (result, GRID, d.grid);
  set_axes (&d);
  cairo_save (pen->cr);
  draw_levels (&d);
  sp_frame_frequencies (pen, &d.area, &d.x);
  draw_corridor (&d);
  draw_curve (&d);
  for (guint i = 0; i < result->n; i++)
    draw_point (&d, &result->points[i]);
  draw_words (&d, rect);
  cairo_restore (pen->cr);
}

void
sp_correction_draw_left (SpPen *pen, const SpCheckResult *result, guint left, const SpRect *rect)
{
  double most = 0;
  if (left >= result->n_left)
    return;
  for (guint i = 0; i < result->n_left; i++)
    most = fmax (most, fmax (result->left[i].stated_u_db, result->left[i].left_u_db));
  const double u[] = { result->left[left].stated_u_db, result->left[left].left_u_db };
  double height = MIN (rect->height, 9);
  for (guint i = 0; i < 2 && most > 0; i++) {
    SpRect bar = { rect->x, rect->y + (rect->height - height) / 2, rect->width * u[i] / most, height };
    sp_pen_colour (pen, i == 0 ? &pen->palette->floor_edge : &pen->palette->ink, i == 0 ? 0.4 : 0.85);
    sp_pen_box (pen, &bar);
  }
}
