/* evidence.c - draws an emission's readings against the added attenuation */
#include "ui/figure/evidence.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "ui/figure/pen/frame.h"
#include "ui/figure/pen/glyph.h"
#include "ui/words/words.h"

#define PART_WIDTH 64        /* of a column at the right */
#define NARROW_PART_WIDTH 20 /* and where several plots stand abreast: its sign alone tells whose it is */
#define NAMES_WIDTH 80       /* of the plot: below it the directions' names would stand over each other */
#define LEAST_WIDTH 48       /* of the plot itself */
#define LEAST_SPAN_DB 6.0
#define LEAST_ADDED_DB 3.0
#define WHISKER 2 /* times u: the coverage of every whisker of the sheet */
#define ARROW 13

typedef struct {
  SpPen *pen;
  const SpEvidence *e;
  double keyed_dbm; /* without a step test: the level in the keyed sweep */
  SpFrame frame;
  guint *order;      /* of the points, by attenuation */
  double part_width; /* of each column */
} Drawing;

static gboolean
is_narrow (const Drawing *d)
{
  return d->part_width < PART_WIDTH;
}

static const SpEvidencePoint *
point (const Drawing *d, guint i)
{
  return &d->e->points[d->order[i]];
}

static int
by_attenuation (gconstpointer a, gconstpointer b, gpointer points)
{
  const SpEvidencePoint *p = points;
  double x = p[*(const guint *) a].attenuation_db, y = p[*(const guint *) b].attenuation_db;
  return (x > y) - (x < y);
}

/* ---- the axes ---- */

static void
take (double value, double *low, double *high)
{
  if (!isfinite (value))
    return;
  *low = MIN (*low, value);
  *high = MAX (*high, value);
}

static void
lay_out (Drawing *d, const SpRect *area)
{
  const SpEvidence *e = d->e;
  double low = INFINITY, high = -INFINITY, left = 0, right = LEAST_ADDED_DB;
  for (guint i = 0; i < e->n; i++) {
    take (e->points[i].level_dbm - WHISKER * e->points[i].u_db, &low, &high);
    take (e->points[i].level_dbm + WHISKER * e->points[i].u_db, &low, &high);
    take (e->points[i].fit_dbm, &low, &high);
    take (e->points[i].attenuation_db, &left, &right);
  }
  take (e->radio_high_dbm, &low, &high);
  take (e->analyzer_high_dbm, &low, &high);
  take (e->ambient_dbm, &low, &high);
  take (d->keyed_dbm, &low, &high);
  double space = MAX ((high - low) * 0.15, LEAST_SPAN_DB / 2);
  sp_frame_init (&d->frame, area, left - (right - left) * 0.06, right + (right - left) * 0.06, low - space, high + space);
}

/* ---- directions ---- */

static void
direction (Drawing *d, double to_x_db, double to_y_db, const char *name)
{
  const SpEvidencePoint *first = &d->e->points[0];
  const SpRect *area = &d->frame.area;
  double x1 = sp_axis_at (&d->frame.x, first->attenuation_db), y1 = sp_axis_at (&d->frame.y, first->level_dbm);
  double x2 = sp_axis_at (&d->frame.x, to_x_db), y2 = sp_axis_at (&d->frame.y, first->level_dbm + to_y_db);
  sp_pen_colour (d->pen, &d->pen->palette->soft, 0.9);
  cairo_save (d->pen->cr);
  sp_frame_clip (&d->frame, d->pen);
  sp_pen_dotted (d->pen, x1, y1, x2, y2, 1, 3);
  cairo_restore (d->pen->cr);
  if (area->width < NAMES_WIDTH)
    return;
  /* labelled where the line leaves the area, or ends */
  double share = 1;
  if (y1 == y2) /* level: it leaves the area nowhere */
    share = 1;
  else if (y2 < area->y + 14)
    share = (area->y + 14 - y1) / (y2 - y1);
  else if (y2 > area->y + area->height - 8)
    share = (area->y + area->height - 8 - y1) / (y2 - y1);
  double x = x1 + (x2 - x1) * share, y = y1 + (y2 - y1) * share, width = sp_pen_text_width (d->pen, SP_TEXT_TINY, name);
  sp_pen_text_halo (d->pen, MAX (area->x + 6, MIN (x - 4 - width, area->x + area->width - width - 2)), y - 4, SP_TEXT_TINY,
                    &d->pen->palette->soft, 0, name, &d->pen->palette->sheet);
}

static void
draw_directions (Drawing *d)
{
  const SpEvidencePoint *last = point (d, d->e->n - 1);
  direction (d, last->attenuation_db, 0, _ ("radio"));
  direction (d, last->attenuation_db, last->attenuation_db - d->e->points[0].attenuation_db,
             d->e->order ? _ ("noise") : _ ("analyzer, noise"));
  if (d->e->order)
    direction (d, last->attenuation_db, last->product_shift_db, _ ("analyzer"));
}

/* ---- the fit ---- */

static double
bounded (const Drawing *d, double level_dbm)
{
  return sp_axis_at (&d->frame.y, CLAMP (level_dbm, d->frame.y.from - 100, d->frame.y.to + 100)); /* -INFINITY is below the area */
}

static void
draw_fit (Drawing *d)
{
  cairo_t *cr = d->pen->cr;
  if (isnan (point (d, 0)->fit_dbm))
    return;
  cairo_save (cr);
  sp_frame_clip (&d->frame, d->pen);
  cairo_new_path (cr);
  for (guint i = 0; i < d->e->n; i++)
    cairo_line_to (cr, sp_axis_at (&d->frame.x, point (d, i)->attenuation_db), bounded (d, point (d, i)->fit_high_dbm));
  for (guint i = d->e->n; i-- > 0;)
    cairo_line_to (cr, sp_axis_at (&d->frame.x, point (d, i)->attenuation_db), bounded (d, point (d, i)->fit_low_dbm));
  cairo_close_path (cr);
  sp_pen_colour (d->pen, &d->pen->palette->floor_edge, 0.24);
  cairo_fill (cr);
  for (guint i = 0; i < d->e->n; i++)
    cairo_line_to (cr, sp_axis_at (&d->frame.x, point (d, i)->attenuation_db), bounded (d, point (d, i)->fit_dbm));
  sp_pen_colour (d->pen, &d->pen->palette->ink, 1);
  cairo_set_line_width (cr, 1.25);
  cairo_stroke (cr);
  cairo_restore (cr);
}

/* ---- readings ---- */

static void
whisker (SpPen *pen, double x, double low, double high)
{
  sp_pen_line (pen, x, low, x, high, 1);
  sp_pen_line (pen, x - 3, low, x + 3, low, 1);
  sp_pen_line (pen, x - 3, high, x + 3, high, 1);
}

/* Nothing seen: the level is somewhere below. */
static void
down_arrow (SpPen *pen, double x, double y)
{
  sp_pen_line (pen, x - 5, y, x + 5, y, 1.5);
  sp_pen_line (pen, x, y, x, y + ARROW - 4, 1);
  cairo_new_path (pen->cr);
  cairo_move_to (pen->cr, x, y + ARROW);
  cairo_line_to (pen->cr, x - 3, y + ARROW - 5);
  cairo_line_to (pen->cr, x + 3, y + ARROW - 5);
  cairo_close_path (pen->cr);
  cairo_fill (pen->cr);
}

static void
draw_readings (Drawing *d)
{
  SpPen *pen = d->pen;
  for (guint i = 0; i < d->e->n; i++) {
    const SpEvidencePoint *p = &d->e->points[i];
    double x = sp_axis_at (&d->frame.x, p->attenuation_db), y = sp_axis_at (&d->frame.y, p->level_dbm);
    sp_pen_colour (pen, &pen->palette->ink, 1);
    if (!p->seen) {
      down_arrow (pen, x, y);
      continue;
    }
    whisker (pen, x, sp_axis_at (&d->frame.y, p->level_dbm - WHISKER * p->u_db),
             sp_axis_at (&d->frame.y, p->level_dbm + WHISKER * p->u_db));
    cairo_new_path (pen->cr);
    cairo_arc (pen->cr, x, y, 3.2, 0, 2 * G_PI);
    cairo_fill (pen->cr);
  }
}

static void
draw_keyed (Drawing *d)
{
  double x = d->frame.area.x + d->frame.area.width / 2, y = sp_axis_at (&d->frame.y, d->keyed_dbm);
  cairo_new_path (d->pen->cr);
  cairo_arc (d->pen->cr, x, y, 3.2, 0, 2 * G_PI);
  sp_pen_colour (d->pen, &d->pen->palette->ink, 1);
  cairo_fill (d->pen->cr);
  sp_pen_text (d->pen, x, d->frame.area.y + d->frame.area.height + 15, SP_TEXT_SMALL, &d->pen->palette->soft, 0.5, _ ("keyed"));
}

/* ---- parts, at the right ---- */

static void
column_head (Drawing *d, double x, SpOrigin origin, const char *name)
{
  if (!is_narrow (d))
    sp_pen_text (d->pen, x, d->frame.area.y + d->frame.area.height + 15, SP_TEXT_SMALL, &d->pen->palette->soft, 0.5, name);
  sp_pen_colour (d->pen, &d->pen->palette->ink, 1);
  sp_glyph_origin (d->pen, x, d->frame.area.y - 12, 3.5, origin, &d->pen->palette->ink);
}

static void
draw_part (Drawing *d, double x, SpOrigin origin, double low_dbm, double middle_dbm, double high_dbm)
{
  SpPen *pen = d->pen;
  double top = bounded (d, high_dbm), bottom = MIN (bounded (d, low_dbm), d->frame.area.y + d->frame.area.height),
         middle = bounded (d, middle_dbm);
  column_head (d, x, origin, origin == SP_ORIGIN_RADIO ? _ ("radio's") : _ ("analyzer's"));
  if (top >= bottom)
    return;
  sp_pen_colour (pen, &pen->palette->floor_edge, 0.5);
  SpRect bar = { x - 4, top, 8, bottom - top };
  sp_pen_box (pen, &bar);
  sp_pen_colour (pen, &pen->palette->ink, 1);
  if (middle < bottom)
    sp_pen_line (pen, x - 5, middle, x + 5, middle, 1.5);
}

static void
draw_ambient (Drawing *d, double x)
{
  double y = bounded (d, d->e->ambient_dbm);
  column_head (d, x, SP_ORIGIN_AMBIENT, _ ("unkeyed"));
  if (d->e->ambient_seen)
    sp_glyph_origin (d->pen, x, y, 4, SP_ORIGIN_AMBIENT, &d->pen->palette->ink);
  else
    down_arrow (d->pen, x, y);
  g_autofree char *level = sp_words_number (d->e->ambient_dbm, 1, SP_HAND_SCREEN);
  g_autofree char *text = d->e->ambient_seen ? g_strdup (level) : g_strdup_printf ("< %s", level);
  if (!is_narrow (d))
    sp_pen_text (d->pen, x, y - 8, SP_TEXT_TINY, &d->pen->palette->ink, 0.5, text);
}

void
sp_evidence_draw (SpPen *pen, const SpEmission *emission, const SpRect *rect)
{
  const SpEvidence *e = emission ? emission->evidence : NULL;
  gboolean ambient = e && !isnan (e->ambient_dbm);
  guint columns = e ? (e->n ? 2 : 0) + ambient : 0;
  double part = rect->width < SP_FRAME_LEFT + columns * PART_WIDTH + 8 + LEAST_WIDTH ? NARROW_PART_WIDTH : PART_WIDTH,
         taken = SP_FRAME_LEFT + columns * part + 8;
  if (columns == 0 || rect->width < taken + LEAST_WIDTH || rect->height < SP_FRAME_HEAD + SP_FRAME_FOOT + 50)
    return;
  g_autofree guint *order = g_new (guint, MAX (e->n, 1));
  for (guint i = 0; i < e->n; i++)
    order[i] = i;
  g_qsort_with_data (order, (int) e->n, sizeof *order, by_attenuation, e->points);
  Drawing d = { .pen = pen, .e = e, .order = order, .keyed_dbm = e->n ? NAN : emission->level_dbm, .part_width = part };
  SpRect area = { rect->x + SP_FRAME_LEFT, rect->y + SP_FRAME_HEAD, rect->width - taken, rect->height - SP_FRAME_HEAD - SP_FRAME_FOOT };
  lay_out (&d, &area);
  cairo_save (pen->cr);
  sp_frame_draw (&d.frame, pen, "dBm", !e->n ? NULL : is_narrow (&d) ? _ ("dB added") : _ ("dB of attenuation added"));
  if (!e->n)
    draw_keyed (&d);
  double x = area.x + area.width + part / 2 + 4;
  if (e->n) {
    draw_directions (&d);
    draw_fit (&d);
    draw_readings (&d);
    draw_part (&d, x, SP_ORIGIN_RADIO, e->radio_low_dbm, e->radio_dbm, e->radio_high_dbm);
    draw_part (&d, x + part, SP_ORIGIN_ANALYZER, e->analyzer_low_dbm, e->analyzer_dbm, e->analyzer_high_dbm);
    x += 2 * part;
  }
  if (ambient)
    draw_ambient (&d, x);
  cairo_restore (pen->cr);
}

/* ---- in words ---- */

static void
say_part (GString *text, const char *format, double low_dbm, double high_dbm)
{
  if (isnan (high_dbm))
    return;
  g_autofree char *high = sp_words_level (high_dbm, 1, SP_HAND_SCREEN),
                  *low = isfinite (low_dbm) ? sp_words_number (low_dbm, 1, SP_HAND_SCREEN) : NULL;
  g_autofree char *span = low ? g_strdup_printf (_ ("%s to %s"), low, high) : g_strdup_printf (_ ("at most %s"), high);
  g_autofree char *sentence = g_strdup_printf (format, span);
  g_string_append_printf (text, " %s", sentence);
}

char *
sp_evidence_says (const SpEmission *emission)
{
  const SpEvidence *e = emission ? emission->evidence : NULL;
  if (!e)
    return NULL;
  g_autoptr (GString) text = g_string_new (NULL);
  for (guint i = 0; i < e->n; i++) {
    g_autofree char *added = sp_words_signed (e->points[i].attenuation_db, 1, SP_HAND_SCREEN),
                    *level = sp_words_level (e->points[i].level_dbm, 1, SP_HAND_SCREEN);
    g_string_append_printf (text, "%s%s dB: %s%s", i ? "; " : "", added, e->points[i].seen ? "" : _ ("below "), level);
  }
  if (e->n) {
    g_string_append_c (text, '.');
    gboolean judged = !isnan (emission->radio_high_dbm); /* includes the unkeyed level */
    say_part (text, _ ("The radio's own part: %s."), judged ? emission->radio_low_dbm : e->radio_low_dbm,
              judged ? emission->radio_high_dbm : e->radio_high_dbm);
    say_part (text, _ ("The analyzer's: %s."), e->analyzer_low_dbm, e->analyzer_high_dbm);
  }
  if (!isnan (e->ambient_dbm)) {
    g_autofree char *level = sp_words_level (e->ambient_dbm, 1, SP_HAND_SCREEN);
    g_string_append_printf (text, e->ambient_seen ? _ (" Unkeyed there stands %s.") : _ (" Unkeyed nothing stands there above %s."), level);
  }
  return g_strdup (g_strstrip (text->str));
}
