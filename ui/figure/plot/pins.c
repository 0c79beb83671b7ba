/* pins.c - the ruler, and the words that somebody pinned to places of the chosen condition's chart */
#include "ui/figure/plot/plot-private.h"

#include "core/judge/judge.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define RING 3.5
#define STEM 16
#define WORDS_WIDTH 240 /* more is read at the pin */
#define NEAR 10

static const GArray *
pinned (const SpPlot *plot)
{
  return plot->chosen ? plot->findings->bench->conditions[plot->chosen->condition].pinned : NULL;
}

static gboolean
place_of (const SpPlot *plot, const SpPinnedNote *note, double *x, double *y)
{
  const SpRect *area = &plot->area;
  *x = sp_axis_at (&plot->x, note->frequency_hz);
  *y = sp_axis_at (&plot->y, note->level_dbm);
  return *x >= area->x && *x <= area->x + area->width && *y >= area->y && *y <= area->y + area->height;
}

int
sp_plot_note_at (const SpPlot *plot, double x, double y)
{
  const GArray *notes = pinned (plot);
  int nearest = -1;
  double least = NEAR;
  for (guint i = 0; notes && i < notes->len; i++) {
    double its_x, its_y;
    if (!place_of (plot, &g_array_index (notes, SpPinnedNote, i), &its_x, &its_y))
      continue;
    double off = isnan (y) ? fabs (x - its_x) : hypot (x - its_x, y - its_y);
    if (off <= least) {
      least = off;
      nearest = (int) i;
    }
  }
  return nearest;
}

/* Cut with an ellipsis where it is long. (transfer full) */
static char *
short_words (SpPen *pen, const char *text)
{
  char *words = g_strdup (text);
  for (glong n = g_utf8_strlen (text, -1); n > 1 && sp_pen_text_width (pen, SP_TEXT_SMALL, words) > WORDS_WIDTH; n--) {
    g_autofree char *start = g_utf8_substring (text, 0, n - 1);
    g_free (words);
    words = g_strconcat (g_strchomp (start), "\xe2\x80\xa6", NULL);
  }
  return words;
}

static void
draw_note (SpPlot *plot, SpPen *pen, const SpPinnedNote *note)
{
  double x, y;
  if (!place_of (plot, note, &x, &y))
    return;
  g_autofree char *words = short_words (pen, note->text);
  double width = sp_pen_text_width (pen, SP_TEXT_SMALL, words);
  const SpSpot spots[] = { { x + 8, y - STEM },     { x - 8 - width, y - STEM },
                           { x + 8, y + STEM + 8 }, { x - 8 - width, y + STEM + 8 },
                           { x + 8, y - 2 * STEM }, { x - 8 - width, y - 2 * STEM } };
  int at = sp_plot_write (plot, pen, SP_TEXT_SMALL, &pen->palette->ink, words, spots, G_N_ELEMENTS (spots));
  sp_pen_colour (pen, &pen->palette->ink, 1);
  if (at >= 0) {
    double end = spots[at].x > x ? spots[at].x - 2 : spots[at].x + width + 2;
    cairo_new_path (pen->cr);
    cairo_move_to (pen->cr, x, spots[at].baseline < y ? y - RING : y + RING);
    cairo_line_to (pen->cr, end, spots[at].baseline - 4);
    cairo_set_line_width (pen->cr, 0.8);
    cairo_stroke (pen->cr);
  }
  cairo_new_path (pen->cr);
  cairo_arc (pen->cr, x, y, RING, 0, 2 * G_PI);
  sp_pen_colour (pen, &pen->palette->sheet, 1);
  cairo_fill_preserve (pen->cr);
  sp_pen_colour (pen, &pen->palette->ink, 1);
  cairo_set_line_width (pen->cr, 1.2);
  cairo_stroke (pen->cr);
}

static void
draw_ruler (SpPlot *plot, SpPen *pen)
{
  const SpRect *area = &plot->area;
  double ruler = plot->view.ruler_hz, foot = area->y + area->height;
  if (!(ruler >= plot->x.from && ruler <= plot->x.to))
    return;
  double x = sp_axis_at (&plot->x, ruler);
  SpAt at = sp_findings_at (plot->findings, plot->view.condition, ruler);
  sp_pen_colour (pen, &pen->palette->ink, 1);
  sp_pen_dotted (pen, x, area->y - 3, x, foot, 1, 4);
  if (at.swept)
    sp_pen_line (pen, x - 6, sp_plot_y (plot, at.level_dbm), x + 6, sp_plot_y (plot, at.level_dbm), 1.5);
  const char *name = _ ("ruler");
  double width = sp_pen_text_width (pen, SP_TEXT_TINY, name);
  const SpSpot spots[] = { { x + 4, foot - 6 }, { x - 4 - width, foot - 6 } };
  sp_plot_write (plot, pen, SP_TEXT_TINY, &pen->palette->ink, name, spots, G_N_ELEMENTS (spots));
}

void
sp_plot_draw_pins (SpPlot *plot, SpPen *pen)
{
  const GArray *notes = pinned (plot);
  draw_ruler (plot, pen);
  for (guint i = 0; notes && i < notes->len; i++)
    draw_note (plot, pen, &g_array_index (notes, SpPinnedNote, i));
}
