/* range.c - range against mixer level; the columns at the right are range-columns.c's */
#include "ui/figure/range-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "ui/figure/pen/fog.h"
#include "ui/words/words.h"

#define COLUMN_MOST 46
#define COLUMN_LEAST 26
#define GAP 26 /* between the area and the columns */
#define AREA_LEAST 260
#define ROOM_DB 12
#define HATCH 9

static const SpRangeCurve *
chosen (const SpRangeDrawing *d)
{
  return &d->view->range->curves[d->view->chosen];
}

/* ---- layout ---- */

static void
take (double value, double *low, double *high)
{
  if (!isfinite (value))
    return;
  *low = MIN (*low, value);
  *high = MAX (*high, value);
}

/* What must be in sight: limits, each harmonic's floor where it is best, the floors at the point and today. */
static void
levels (const SpRangeView *view, double *low, double *high)
{
  const SpRange *range = view->range;
  guint today = sp_range_nearest (range, range->today_mixer_dbm);
  *low = INFINITY;
  *high = -INFINITY;
  for (guint i = 0; i < range->n_curves; i++) {
    take (range->curves[i].limit_dbc, low, high);
    take (range->curves[i].best_floor_dbc, low, high);
    take (range->curves[i].floor_dbc[view->at], low, high);
    take (range->curves[i].floor_dbc[today], low, high);
  }
  if (*low > *high)
    *low = -100, *high = 0;
  *low -= 2 * ROOM_DB;
  *high = MAX (*high + ROOM_DB, *low + 60);
}

static gboolean
lay_out (SpRangeDrawing *d, SpPen *pen, const SpRangeView *view, const SpRect *rect)
{
  const SpRange *range = view->range;
  if (!range || range->n < 2 || range->n_curves == 0 || view->at >= range->n || view->chosen >= range->n_curves)
    return FALSE;
  double low, high, space = rect->width - SP_FRAME_LEFT - AREA_LEAST - GAP, width = MIN (COLUMN_MOST, space / range->n_curves);
  *d = (SpRangeDrawing){ .pen = pen, .view = view, .column_width = width >= COLUMN_LEAST ? width : 0 };
  double taken = d->column_width > 0 ? GAP + d->column_width * range->n_curves : 8;
  SpRect area = { rect->x + SP_FRAME_LEFT, rect->y + SP_FRAME_HEAD + 18, rect->width - SP_FRAME_LEFT - taken,
                  rect->height - SP_FRAME_HEAD - 18 - SP_FRAME_FOOT };
  if (area.width < 80 || area.height < 60)
    return FALSE;
  levels (view, &low, &high);
  sp_frame_init (&d->frame, &area, range->mixer_dbm[0], range->mixer_dbm[range->n - 1], low, high);
  d->columns = (SpRect){ area.x + area.width + GAP, area.y, d->column_width * range->n_curves, area.height };
  return TRUE;
}

/* ---- curves ---- */

static void
path (SpRangeDrawing *d, const double *level_dbc)
{
  const SpRange *range = d->view->range;
  cairo_new_path (d->pen->cr);
  for (guint i = 0; i < range->n; i++)
    if (!isnan (level_dbc[i]))
      cairo_line_to (d->pen->cr, sp_axis_at (&d->frame.x, range->mixer_dbm[i]), sp_range_y (d, level_dbc[i]));
}

static void
stroke (SpRangeDrawing *d, const double *level_dbc, const SpColour *colour, double opacity, double width)
{
  path (d, level_dbc);
  sp_pen_colour (d->pen, colour, opacity);
  cairo_set_line_width (d->pen->cr, width);
  cairo_stroke (d->pen->cr);
}

/* Under the chosen floor nothing can be seen: a wash, as on the spectrum. */
static void
draw_wash (SpRangeDrawing *d)
{
  const SpRect *area = &d->frame.area;
  path (d, chosen (d)->floor_dbc);
  cairo_line_to (d->pen->cr, area->x + area->width, area->y + area->height);
  cairo_line_to (d->pen->cr, area->x, area->y + area->height);
  cairo_close_path (d->pen->cr);
  sp_pen_colour (d->pen, &d->pen->palette->floor_edge, 0.13);
  cairo_fill (d->pen->cr);
}

static void
draw_others (SpRangeDrawing *d)
{
  const SpRange *range = d->view->range;
  const SpPalette *palette = d->pen->palette;
  for (guint i = 0; i < range->n_curves; i++) {
    const SpRangeCurve *curve = &range->curves[i];
    if (curve == chosen (d))
      continue;
    stroke (d, curve->floor_dbc, &palette->floor_edge, 0.35, 1);
    if (curve->product_dbc && curve->order <= 3)
      stroke (d, curve->product_dbc, &palette->soft, 0.55, 1);
  }
}

static gboolean
is_free (const SpRangeDrawing *d, const SpRect *r)
{
  const SpRect *area = &d->frame.area;
  if (r->x < area->x + 2 || r->y < area->y || r->x + r->width > area->x + area->width - 2 || r->y + r->height > area->y + area->height - 2)
    return FALSE;
  for (guint i = 0; i < d->n_written; i++) {
    const SpRect *w = &d->written[i];
    if (r->x < w->x + w->width && w->x < r->x + r->width && r->y < w->y + w->height && w->y < r->y + r->height)
      return FALSE;
  }
  return TRUE;
}

/* Beside a line, from its end at the top on down, at the first place that is free. */
static void
write_along (SpRangeDrawing *d, const double *level_dbc, gboolean rising, const char *text)
{
  const SpRange *range = d->view->range;
  double width = sp_pen_text_width (d->pen, SP_TEXT_SMALL, text), height = sp_pen_line_height (SP_TEXT_SMALL);
  for (guint k = 0; k < range->n && d->n_written < G_N_ELEMENTS (d->written); k++) {
    guint i = rising ? range->n - 1 - k : k;
    double x = sp_axis_at (&d->frame.x, range->mixer_dbm[i]), y = sp_range_y (d, level_dbc[i]);
    SpRect place = { rising ? x - 6 - width : x + 6, y + 4 - height, width, height };
    if (!is_free (d, &place))
      continue;
    sp_pen_text_halo (d->pen, place.x, y + 3, SP_TEXT_SMALL, &d->pen->palette->soft, 0, text, &d->pen->palette->sheet);
    d->written[d->n_written++] = place;
    return;
  }
}

static void
draw_parts (SpRangeDrawing *d)
{
  const SpRangeCurve *curve = chosen (d);
  const SpPalette *palette = d->pen->palette;
  stroke (d, curve->noise_dbc, &palette->soft, 1, 1);
  if (curve->product_dbc)
    stroke (d, curve->product_dbc, &palette->soft, 1, 1);
  stroke (d, curve->floor_dbc, &palette->floor_edge, 1, 2);
}

static char *
ordinal_of (guint order)
{
  SpEmission harmonic = { .order = order };
  return sp_words_emission (&harmonic, SP_HAND_SCREEN);
}

static void
write_parts (SpRangeDrawing *d)
{
  const SpRange *range = d->view->range;
  write_along (d, chosen (d)->noise_dbc, FALSE, _ ("noise"));
  for (guint i = 0; i < range->n_curves; i++) {
    if (!range->curves[i].product_dbc || (range->curves[i].order > 3 && i != d->view->chosen))
      continue;
    g_autofree char *name = ordinal_of (range->curves[i].order), *text = g_strdup_printf (_ ("own %s"), name);
    write_along (d, range->curves[i].product_dbc, TRUE, text);
  }
}

/* ---- the limit, and what cannot be seen above it ---- */

static void
draw_fog (SpRangeDrawing *d)
{
  const SpRange *range = d->view->range;
  const SpRect *area = &d->frame.area;
  double limit = sp_range_y (d, chosen (d)->limit_dbc);
  cairo_save (d->pen->cr);
  cairo_new_path (d->pen->cr);
  cairo_rectangle (d->pen->cr, area->x, area->y, area->width, MAX (0, limit - area->y));
  cairo_clip (d->pen->cr);
  path (d, chosen (d)->floor_dbc);
  cairo_line_to (d->pen->cr, sp_axis_at (&d->frame.x, range->mixer_dbm[range->n - 1]), area->y + area->height);
  cairo_line_to (d->pen->cr, area->x, area->y + area->height);
  cairo_close_path (d->pen->cr);
  cairo_clip (d->pen->cr);
  sp_fog (d->pen, area);
  cairo_restore (d->pen->cr);
}

/* The widest run on the grid where the floor lies above the limit. */
static gboolean
widest_blind (SpRangeDrawing *d, guint *from, guint *to)
{
  const SpRangeCurve *curve = chosen (d);
  guint n = d->view->range->n;
  *from = *to = 0;
  for (guint i = 0, end; i < n; i = end + 1) {
    for (end = i; end < n && curve->floor_dbc[end] > curve->limit_dbc; end++)
      ;
    if (end - i > *to - *from)
      *from = i, *to = end;
  }
  return *to > *from;
}

static void
write_fog (SpRangeDrawing *d)
{
  guint from, to;
  if (!widest_blind (d, &from, &to))
    return;
  g_autofree char *name = ordinal_of (chosen (d)->order), *text = g_strdup_printf (_ ("blind for the %s"), name);
  double left = sp_axis_at (&d->frame.x, d->view->range->mixer_dbm[from]),
         right = sp_axis_at (&d->frame.x, d->view->range->mixer_dbm[to - 1]);
  double width = sp_pen_text_width (d->pen, SP_TEXT_BOLD, text), limit = sp_range_y (d, chosen (d)->limit_dbc);
  if (right - left > width + 24 && limit - d->frame.area.y > 30)
    sp_pen_text (d->pen, left + 14, limit - 10, SP_TEXT_BOLD, &d->pen->palette->fog_ink, 0, text);
}

static void
draw_limit (SpRangeDrawing *d)
{
  const SpRect *area = &d->frame.area;
  const SpPalette *palette = d->pen->palette;
  double y = sp_range_y (d, chosen (d)->limit_dbc);
  sp_pen_colour (d->pen, &palette->limit, 1);
  sp_pen_line (d->pen, area->x, y, area->x + area->width, y, 2);
  g_autofree char *level = sp_words_number (chosen (d)->limit_dbc, 1, SP_HAND_SCREEN), *text = g_strdup_printf (_ ("limit %s dBc"), level);
  double width = sp_pen_text_halo (d->pen, area->x + area->width - 6, y + 16, SP_TEXT_BOLD, &palette->limit, 1, text, &palette->sheet);
  d->written[d->n_written++] = (SpRect){ area->x + area->width - 6 - width, y, width, 20 };
}

/* More at the mixer than is advised: not to be used. */
static void
draw_unsafe (SpRangeDrawing *d)
{
  const SpRect *area = &d->frame.area;
  double from = sp_axis_at (&d->frame.x, d->view->range->safe_mixer_dbm), right = area->x + area->width;
  if (!(from < right))
    return;
  from = MAX (from, area->x);
  sp_pen_colour (d->pen, &d->pen->palette->soft, 0.8);
  sp_pen_line (d->pen, from, area->y, from, area->y + area->height, 1);
  cairo_save (d->pen->cr);
  cairo_new_path (d->pen->cr);
  cairo_rectangle (d->pen->cr, from, area->y, right - from, area->height);
  cairo_clip (d->pen->cr);
  sp_pen_colour (d->pen, &d->pen->palette->soft, 0.28);
  cairo_set_line_width (d->pen->cr, 1);
  for (double x = from - area->height; x < right; x += HATCH) {
    cairo_move_to (d->pen->cr, x, area->y + area->height);
    cairo_line_to (d->pen->cr, x + area->height, area->y);
  }
  cairo_stroke (d->pen->cr);
  cairo_restore (d->pen->cr);
}

static void
write_unsafe (SpRangeDrawing *d)
{
  const SpRect *area = &d->frame.area;
  double from = sp_axis_at (&d->frame.x, d->view->range->safe_mixer_dbm);
  const char *text = d->view->range->safe_assumed ? _ ("more is not advised (assumed)") : _ ("more is not advised");
  if (from > area->x && from + 12 + sp_pen_text_width (d->pen, SP_TEXT_SMALL, text) < area->x + area->width)
    sp_pen_text_halo (d->pen, from + 6, area->y + area->height - 8, SP_TEXT_SMALL, &d->pen->palette->soft, 0, text,
                      &d->pen->palette->sheet);
}

/* ---- today, the best, the point ---- */

static void
dot (SpRangeDrawing *d, double x, double y, double radius, gboolean filled)
{
  cairo_new_path (d->pen->cr);
  cairo_arc (d->pen->cr, x, y, radius, 0, 2 * G_PI);
  sp_pen_colour (d->pen, filled ? &d->pen->palette->ink : &d->pen->palette->sheet, 1);
  cairo_fill_preserve (d->pen->cr);
  sp_pen_colour (d->pen, &d->pen->palette->ink, 1);
  cairo_set_line_width (d->pen->cr, 1.5);
  cairo_stroke (d->pen->cr);
}

/* A name above the area, in one of two lines; it moves aside at the ends. */
static void
flag (SpRangeDrawing *d, double x, double align, const char *text, SpTextStyle style, const SpColour *colour, int line)
{
  const SpRect *area = &d->frame.area;
  double width = sp_pen_text_width (d->pen, style, text);
  sp_pen_text (d->pen, CLAMP (x - align * width, area->x, area->x + area->width - width), area->y - 6 - 15 * line, style, colour, 0, text);
}

static void
draw_marks (SpRangeDrawing *d)
{
  const SpRange *range = d->view->range;
  const SpRect *area = &d->frame.area;
  const SpPalette *palette = d->pen->palette;
  double bottom = area->y + area->height, today = sp_axis_at (&d->frame.x, range->today_mixer_dbm),
         best = sp_axis_at (&d->frame.x, sp_range_best (range));
  if (best >= area->x && best <= area->x + area->width) {
    double y = sp_range_y (d, chosen (d)->floor_dbc[sp_range_nearest (range, sp_range_best (range))]);
    sp_pen_colour (d->pen, &palette->ink, 0.8);
    sp_pen_dotted (d->pen, best, y, best, bottom, 1, 3);
    dot (d, best, y, 4, FALSE);
    flag (d, best > today ? MAX (best, today + 3) : MIN (best, today - 3), best > today ? 0 : 1,
          sp_range_best_is_assumed (range) ? _ ("best, assumed") : _ ("best"), SP_TEXT_SMALL, &palette->soft, 0);
  }
  if (today >= area->x && today <= area->x + area->width) {
    double y = sp_range_y (d, chosen (d)->floor_dbc[sp_range_nearest (range, range->today_mixer_dbm)]);
    sp_pen_colour (d->pen, &palette->ink, 0.8);
    sp_pen_dotted (d->pen, today, area->y, today, bottom, 1, 5);
    dot (d, today, y, 3, TRUE);
    flag (d, best > today ? today - 3 : today + 3, best > today ? 1 : 0, _ ("today"), SP_TEXT_SMALL, &palette->soft, 0);
  }
}

static void
draw_point (SpRangeDrawing *d)
{
  const SpRange *range = d->view->range;
  const SpRect *area = &d->frame.area;
  double x = sp_axis_at (&d->frame.x, range->mixer_dbm[d->view->at]), y = sp_range_y (d, chosen (d)->floor_dbc[d->view->at]);
  sp_pen_colour (d->pen, &d->pen->palette->ink, 1);
  sp_pen_line (d->pen, x, area->y, x, area->y + area->height, 1);
  if (!isnan (y))
    dot (d, x, CLAMP (y, area->y, area->y + area->height), 6, TRUE);
  g_autofree char *text = sp_words_level (range->mixer_dbm[d->view->at], 1, SP_HAND_SCREEN);
  flag (d, x, 0.5, text, SP_TEXT_BOLD, &d->pen->palette->ink, 1);
}

void
sp_range_draw (SpPen *pen, const SpRangeView *view, const SpRect *rect)
{
  SpRangeDrawing d;
  if (!lay_out (&d, pen, view, rect))
    return;
  gboolean limited = !isnan (chosen (&d)->limit_dbc);
  cairo_save (pen->cr);
  sp_frame_draw (&d.frame, pen, "dBc", _ ("dBm at the mixer"));
  cairo_save (pen->cr);
  sp_frame_clip (&d.frame, pen);
  draw_unsafe (&d);
  draw_wash (&d);
  draw_others (&d);
  if (limited)
    draw_fog (&d);
  draw_parts (&d);
  if (limited)
    draw_limit (&d);
  cairo_restore (pen->cr);
  write_parts (&d);
  write_unsafe (&d);
  if (limited)
    write_fog (&d);
  draw_marks (&d);
  draw_point (&d);
  if (d.column_width > 0)
    sp_range_draw_columns (&d);
  cairo_restore (pen->cr);
}

/* ---- places and words ---- */

double
sp_range_best (const SpRange *range)
{
  return isnan (range->best_mixer_dbm) ? NAN : fmin (range->best_mixer_dbm, range->safe_mixer_dbm);
}

gboolean
sp_range_best_is_assumed (const SpRange *range)
{
  return range->safe_assumed && !(range->best_mixer_dbm < range->safe_mixer_dbm);
}

guint
sp_range_nearest (const SpRange *range, double mixer_dbm)
{
  double unit = sp_scale_linear.to_unit (mixer_dbm, range->mixer_dbm[0], range->mixer_dbm[range->n - 1]);
  return isnan (unit) ? 0 : (guint) CLAMP (round (unit * (range->n - 1)), 0, range->n - 1);
}

int
sp_range_at (const SpRangeView *view, const SpRect *rect, double x, double y)
{
  SpRangeDrawing d;
  if (!lay_out (&d, NULL, view, rect) || x > d.frame.area.x + d.frame.area.width + GAP / 2.0
      || y > d.frame.area.y + d.frame.area.height + SP_FRAME_FOOT)
    return -1;
  return (int) sp_range_nearest (view->range, sp_axis_value (&d.frame.x, x));
}

int
sp_range_column_at (const SpRangeView *view, const SpRect *rect, double x, double y)
{
  SpRangeDrawing d;
  (void) y;
  if (!lay_out (&d, NULL, view, rect) || d.column_width <= 0 || x < d.columns.x || x >= d.columns.x + d.columns.width)
    return -1;
  return (int) MIN ((x - d.columns.x) / d.column_width, view->range->n_curves - 1);
}

char *
sp_range_says (const SpRangeView *view)
{
  const SpRangeCurve *curve = &view->range->curves[view->chosen];
  g_autofree char *mixer = sp_words_level (view->range->mixer_dbm[view->at], 1, SP_HAND_SCREEN), *name = ordinal_of (curve->order);
  g_autofree char *floor = sp_words_number (curve->floor_dbc[view->at], 1, SP_HAND_SCREEN),
                  *limit = sp_words_number (curve->limit_dbc, 1, SP_HAND_SCREEN);
  g_autofree char *best = sp_words_best_mixer (sp_range_best (view->range), sp_range_best_is_assumed (view->range), SP_HAND_SCREEN);
  return g_strdup_printf (_ ("At %s at the mixer the floor for the %s is %s dBc, its limit %s dBc; the best mixer level is %s."), mixer,
                          name, floor, limit, best);
}
