/* deciding-margins.c - draws the deciding margins of all conditions over the harmonics */
#include "ui/figure/deciding-margins.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "ui/figure/pen/glyph.h"
#include "ui/figure/pen/mark.h"
#include "ui/figure/pen/names.h"
#include "ui/figure/pen/scale.h"
#include "ui/figure/pen/view.h"
#include "ui/words/words.h"

#define LEFT 52
#define RIGHT 168 /* names */
#define HEAD 22
#define FOOT 22
#define LEAST_DB 10.0 /* least reach of the axis to either side of the limit */
#define MOST_ORDER 15
#define NAME_LINE 15
#define SWATCH 20 /* as long as two dashes and their gap */

typedef struct {
  SpPen *pen;
  const SpComparison *comparison;
  int chosen;
  guint most_order;
  SpRect area;
  SpAxis x, y;
} Drawing;

/* A blind sweep's margin is no bound, and its scale would compress all others. */
static gboolean
has_margin (const SpEmission *e)
{
  return e && isfinite (sp_emission_room_db (e));
}

static void
make_axes (Drawing *d)
{
  double low = -LEAST_DB, high = LEAST_DB;
  for (guint i = 0; i < d->comparison->n; i++)
    for (guint order = 2; order <= d->most_order; order++) {
      const SpEmission *e = sp_compare_harmonic (&d->comparison->rows[i], order);
      if (has_margin (e)) {
        double room_db = sp_emission_room_db (e);
        low = MIN (low, room_db);
        high = MAX (high, room_db);
      }
    }
  double space = (high - low) * 0.08;
  d->y = (SpAxis){ &sp_scale_linear, low - space, high + space, d->area.y + d->area.height, d->area.y };
  d->x = (SpAxis){ &sp_scale_linear, 1.5, d->most_order + 0.5, d->area.x, d->area.x + d->area.width };
}

static void
draw_axes (Drawing *d)
{
  SpPen *pen = d->pen;
  const SpPalette *palette = pen->palette;
  SpTick ticks[SP_TICKS_MAX];
  double right = d->area.x + d->area.width, bottom = d->area.y + d->area.height;
  guint n = sp_scale_linear.ticks (d->y.from, d->y.to, (guint) MAX (2, d->area.height / 28), ticks);
  for (guint i = 0; i < n; i++) {
    double y = sp_axis_at (&d->y, ticks[i].value);
    g_autofree char *text = sp_words_signed (ticks[i].value, 0, SP_HAND_SCREEN);
    sp_pen_colour (pen, &palette->floor_edge, 0.2);
    sp_pen_line (pen, d->area.x, y, right, y, 1);
    sp_pen_text (pen, d->area.x - 8, y + 4, SP_TEXT_SMALL, &palette->soft, 1, text);
  }
  for (guint order = 2; order <= d->most_order; order++) {
    double x = sp_axis_at (&d->x, order);
    g_autofree char *text = g_strdup_printf ("%u", order);
    sp_pen_text (pen, x, bottom + 16, SP_TEXT_SMALL, &palette->soft, 0.5, text);
    sp_pen_colour (pen, &palette->ink, 0.8);
    sp_pen_line (pen, x, bottom, x, bottom - 4, 1);
  }
  sp_pen_text (pen, d->area.x, d->area.y - 8, SP_TEXT_SMALL, &palette->soft, 0,
               _ ("room to the limit in dB, by harmonic; open square: the analyzer's own, half filled: partly, ring: not tested, antenna: "
                  "from the air"));
  sp_pen_colour (pen, &palette->ink, 0.8);
  sp_pen_line (pen, d->area.x, d->area.y, d->area.x, bottom, 1);
  sp_pen_line (pen, d->area.x, bottom, right, bottom, 1);
}

/* Ticks hang on the forbidden side, which is below here. */
static void
draw_limit (Drawing *d)
{
  SpPen *pen = d->pen;
  double y = sp_axis_at (&d->y, 0), right = d->area.x + d->area.width;
  sp_pen_colour (pen, &pen->palette->limit, 1);
  sp_pen_line (pen, d->area.x, y, right, y, 2);
  for (double x = d->area.x + 8; x < right; x += 12)
    sp_pen_line (pen, x, y, x - 5, y + 6, 1);
}

/* Rows are slightly shifted, so that whiskers of the same harmonic do not overlap. */
static double
place_x (const Drawing *d, guint row, guint order)
{
  double between = (d->area.width / (d->most_order - 1)) * 0.6;
  return sp_axis_at (&d->x, order) + (row + 0.5 - d->comparison->n / 2.0) * between / MAX (d->comparison->n, 6);
}

static void
draw_seen (Drawing *d, double x, const SpEmission *e, const SpColour *ink)
{
  double expanded = sp_emission_margin_expanded_db (e), room_db = sp_emission_room_db (e), top = d->area.y,
         bottom = d->area.y + d->area.height;
  if (isfinite (expanded)) {
    double high = MAX (top, sp_axis_at (&d->y, room_db + expanded)), low = MIN (bottom, sp_axis_at (&d->y, room_db - expanded));
    sp_pen_line (d->pen, x, high, x, low, 1);
  }
  SpOrigin origin = e->origin == SP_ORIGIN_NONE ? SP_ORIGIN_RADIO : e->origin;
  sp_glyph_origin (d->pen, x, sp_axis_at (&d->y, room_db), 3, origin, ink);
}

static void
draw_unseen (Drawing *d, double x, const SpEmission *e)
{
  cairo_t *cr = d->pen->cr;
  double y = sp_axis_at (&d->y, sp_emission_room_db (e));
  cairo_new_path (cr);
  cairo_set_line_width (cr, 1.25);
  cairo_move_to (cr, x - 3.5, y);
  cairo_line_to (cr, x + 3.5, y);
  cairo_move_to (cr, x, y);
  cairo_line_to (cr, x, y - 7);
  cairo_move_to (cr, x - 2.5, y - 4);
  cairo_line_to (cr, x, y - 7);
  cairo_line_to (cr, x + 2.5, y - 4);
  cairo_stroke (cr);
}

static double
strength (const Drawing *d, guint row)
{
  return d->chosen < 0 || d->chosen == (int) row ? 1 : 0.7;
}

static void
draw_row (Drawing *d, guint row)
{
  cairo_t *cr = d->pen->cr;
  gboolean drawing = FALSE;
  sp_pen_colour (d->pen, &d->pen->palette->trace[sp_view_ink (row)], strength (d, row) * 0.6);
  sp_pen_dash (d->pen, sp_view_dash (d->pen->palette, row), 0);
  cairo_set_line_width (cr, d->chosen == (int) row ? 2 : 1);
  cairo_new_path (cr);
  for (guint order = 2; order <= d->most_order; order++) {
    const SpEmission *e = sp_compare_harmonic (&d->comparison->rows[row], order);
    gboolean there = has_margin (e);
    if (there && drawing)
      cairo_line_to (cr, place_x (d, row, order), sp_axis_at (&d->y, sp_emission_room_db (e)));
    else if (there)
      cairo_move_to (cr, place_x (d, row, order), sp_axis_at (&d->y, sp_emission_room_db (e)));
    drawing = there;
  }
  cairo_stroke (cr);
  cairo_set_dash (cr, NULL, 0, 0);
  sp_pen_colour (d->pen, &d->pen->palette->trace[sp_view_ink (row)], strength (d, row));
  for (guint order = 2; order <= d->most_order; order++) {
    const SpEmission *e = sp_compare_harmonic (&d->comparison->rows[row], order);
    if (!has_margin (e))
      continue;
    if (e->detected)
      draw_seen (d, place_x (d, row, order), e, &d->pen->palette->trace[sp_view_ink (row)]);
    else
      draw_unseen (d, place_x (d, row, order), e);
  }
}

/* The last margin of a row, where its name is attached; NaN: none. */
static double
last_margin (const Drawing *d, guint row, double *x)
{
  for (guint order = d->most_order; order >= 2; order--) {
    const SpEmission *e = sp_compare_harmonic (&d->comparison->rows[row], order);
    if (has_margin (e)) {
      *x = place_x (d, row, order);
      return sp_emission_room_db (e);
    }
  }
  return NAN;
}

/* Text beside the name of a row that is not drawn. (transfer full) */
static char *
without_margin (const SpConditionFindings *found)
{
  if (found->verdict == SP_VERDICT_NO_LIMIT)
    return g_strdup_printf (_ ("%s: no limit"), found->name);
  gboolean blind = found->worst_emission >= 0 && sp_emission_is_blind (&found->emissions[found->worst_emission]);
  return g_strdup_printf (blind ? _ ("%s: blind") : _ ("%s: no room known"), found->name);
}

typedef struct {
  guint row;
  double x, y, place;
} Name;

static int
by_height (gconstpointer a, gconstpointer b)
{
  double p = ((const Name *) a)->y, q = ((const Name *) b)->y;
  return (p > q) - (p < q);
}

/* Names at the line's end, pushed apart downwards and then back up where they would leave the paper; a hairline ties each to its end. */
static void
draw_names (Drawing *d)
{
  const SpComparison *comparison = d->comparison;
  g_autofree Name *names = g_new (Name, comparison->n + 1);
  double right = d->area.x + d->area.width, bottom = d->area.y + d->area.height;
  guint n = 0, left_out = 0;
  for (guint i = 0; i < comparison->n; i++) {
    double x = right, margin = last_margin (d, i, &x);
    names[n++] = (Name){ i, x, isnan (margin) ? bottom + FOOT : sp_axis_at (&d->y, margin), 0 };
  }
  qsort (names, n, sizeof *names, by_height);
  for (guint i = 0; i < n; i++)
    names[i].place = MAX (names[i].y, i ? names[i - 1].place + NAME_LINE : d->area.y);
  for (guint i = n; i-- > 0;)
    names[i].place = MIN (names[i].place, i + 1 < n ? names[i + 1].place - NAME_LINE : bottom + FOOT - 6);
  for (guint i = 0; i < n; i++) {
    const SpCompareRow *row = &comparison->rows[names[i].row];
    gboolean none = names[i].y > bottom + 1;
    if (names[i].place < d->area.y - 4) { /* more names than space */
      left_out++;
      continue;
    }
    g_autofree char *text = none ? without_margin (row->found) : sp_name_short (comparison->findings, names[i].row);
    sp_pen_colour (d->pen, &d->pen->palette->trace[sp_view_ink (names[i].row)], strength (d, names[i].row));
    if (!none) {
      cairo_set_line_width (d->pen->cr, 0.75);
      cairo_move_to (d->pen->cr, names[i].x + 5, names[i].y);
      cairo_line_to (d->pen->cr, right + 12, names[i].place);
      cairo_stroke (d->pen->cr);
    }
    sp_mark_swatch (d->pen, right + 12, names[i].place, SWATCH, names[i].row);
    sp_pen_text_fit (d->pen, right + 18 + SWATCH, names[i].place + 4, SP_TEXT_SMALL, &d->pen->palette->ink, RIGHT - 20 - SWATCH, text);
  }
  if (left_out) {
    g_autofree char *more = g_strdup_printf (_ ("and %u more, in the table"), left_out);
    sp_pen_text (d->pen, right + 12, d->area.y - 8, SP_TEXT_SMALL, &d->pen->palette->soft, 0, more);
  }
}

void
sp_deciding_margins_draw (SpPen *pen, const SpComparison *comparison, int chosen, const SpRect *rect)
{
  if (!comparison || comparison->n == 0 || comparison->most_order < 2 || rect->width < LEFT + RIGHT + 120
      || rect->height < HEAD + FOOT + 40)
    return;
  Drawing d = { pen,
                comparison,
                chosen,
                MIN (comparison->most_order, MOST_ORDER),
                { rect->x + LEFT, rect->y + HEAD, rect->width - LEFT - RIGHT, rect->height - HEAD - FOOT } };
  make_axes (&d);
  cairo_save (pen->cr);
  draw_axes (&d);
  draw_limit (&d);
  for (guint i = 0; i < comparison->n; i++)
    if ((int) i != chosen)
      draw_row (&d, i);
  if (chosen >= 0 && chosen < (int) comparison->n)
    draw_row (&d, (guint) chosen);
  draw_names (&d);
  cairo_restore (pen->cr);
}
