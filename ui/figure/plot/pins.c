/* pins.c - the ruler, and the words that somebody pinned to places of the chosen condition's chart */
#include "ui/figure/plot/plot-private.h"

#include "core/judge/judge.h"
#include "ui/figure/pen/mark.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <stdlib.h>

#define STEM 16
#define WORDS_WIDTH 240 /* more is read at the pin */
#define WORDS_LEAST 50  /* less says nothing */
#define LINES 14        /* above the pin, and as many below */
#define ASIDES 7
#define LEADER_PARTS 12
#define DETOUR 120
#define ASIDE 9 /* times the square of the step */
#define N_SPOTS (2 * 2 * LINES * ASIDES)
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
short_words (SpPen *pen, const char *text, double most)
{
  char *words = g_strdup (text);
  for (glong n = g_utf8_strlen (text, -1); n > 1 && sp_pen_text_width (pen, SP_TEXT_SMALL, words) > most; n--) {
    g_autofree char *start = g_utf8_substring (text, 0, n - 1);
    g_free (words);
    words = g_strconcat (g_strchomp (start), "\xe2\x80\xa6", NULL);
  }
  return words;
}

/* A possible start of a note's words, and how far it is from the pin. */
typedef struct {
  SpSpot spot;
  double off;
} Place;

static int
nearest_first (const void *a, const void *b)
{
  double difference = ((const Place *) a)->off - ((const Place *) b)->off;
  return (difference > 0) - (difference < 0);
}

/* Above and below the pin, at its right and left and further and further aside; the nearest first. (transfer full) */
static SpSpot *
spots_round (double x, double y, double width)
{
  Place places[N_SPOTS];
  SpSpot *spots = g_new (SpSpot, N_SPOTS);
  for (guint i = 0; i < N_SPOTS; i++) {
    guint up = i % (2 * LINES), aside = i / (2 * LINES) % ASIDES;
    double rise = (up / 2 + 1) * STEM, along = 8 + aside * aside * ASIDE;
    places[i].spot = (SpSpot){ i < N_SPOTS / 2 ? x + along : x - along - width, up % 2 ? y + rise + 8 : y - rise };
    places[i].off = rise + along + up % 2 + (i < N_SPOTS / 2 ? 0 : 0.5);
  }
  qsort (places, N_SPOTS, sizeof *places, nearest_first);
  for (guint i = 0; i < N_SPOTS; i++)
    spots[i] = places[i].spot;
  return spots;
}

/* From the pin to its words. */
static void
draw_leader (SpPen *pen, double x, double y, const SpSpot *spot, double width)
{
  double end = spot->x > x ? spot->x - 2 : spot->x + width + 2;
  sp_pen_colour (pen, &pen->palette->ink, 1);
  cairo_new_path (pen->cr);
  cairo_move_to (pen->cr, x, spot->baseline < y ? y - SP_PIN_RADIUS : y + SP_PIN_RADIUS);
  cairo_line_to (pen->cr, end, spot->baseline - 4);
  cairo_set_line_width (pen->cr, 0.8);
  cairo_stroke (pen->cr);
}

/* The leader keeps off words and marks but its own pin. */
static gboolean
leads_clear (const SpPlot *plot, double x, double y, const SpSpot *spot, double width)
{
  double end = spot->x > x ? spot->x - 2 : spot->x + width + 2, foot = spot->baseline - 4;
  for (guint i = 1; i < LEADER_PARTS; i++) {
    double part = (double) i / LEADER_PARTS, at_x = x + (end - x) * part, at_y = y + (foot - y) * part;
    SpRect dot = { at_x, at_y, 1, 1 };
    if (hypot (at_x - x, at_y - y) > 2 * SP_PIN_RADIUS && hypot (at_x - end, at_y - foot) > SP_PIN_RADIUS && !sp_plot_is_free (plot, &dot))
      return FALSE;
  }
  return TRUE;
}

/* The nearest place for words of that width, better one not much further whose leader crosses nothing; FALSE: none is free. */
static gboolean
find_spot (const SpPlot *plot, double x, double y, double width, SpSpot *found)
{
  g_autofree SpSpot *spots = spots_round (x, y, width);
  gboolean any = FALSE;
  double nearest = INFINITY;
  for (guint i = 0; i < N_SPOTS; i++) {
    SpRect rect;
    double off = MIN (fabs (spots[i].x - x), fabs (spots[i].x + width - x)) + fabs (spots[i].baseline - y);
    if (off > nearest + DETOUR || !sp_plot_has_place (plot, SP_TEXT_SMALL, width, &spots[i], &rect))
      continue;
    gboolean clear = leads_clear (plot, x, y, &spots[i], width);
    if (clear || !any)
      *found = spots[i];
    nearest = any ? nearest : off;
    any = TRUE;
    if (clear)
      break;
  }
  return any;
}

/* Where the whole words have no place, their beginning may. */
static void
write_note (SpPlot *plot, SpPen *pen, const SpPinnedNote *note)
{
  double x, y;
  gboolean written = !place_of (plot, note, &x, &y);
  for (double most = WORDS_WIDTH; !written && most >= WORDS_LEAST; most /= 2) {
    g_autofree char *words = short_words (pen, note->text, most);
    double width = sp_pen_text_width (pen, SP_TEXT_SMALL, words);
    SpSpot spot;
    written = find_spot (plot, x, y, width, &spot) && sp_plot_write (plot, pen, SP_TEXT_SMALL, &pen->palette->ink, words, &spot, 1) == 0;
    if (written)
      draw_leader (pen, x, y, &spot, width);
  }
}

static void
draw_ring (SpPlot *plot, SpPen *pen, const SpPinnedNote *note)
{
  double x, y;
  if (place_of (plot, note, &x, &y))
    sp_mark_pin (pen, x, y);
}

void
sp_plot_take_pins (SpPlot *plot)
{
  const GArray *notes = pinned (plot);
  double x, y;
  for (guint i = 0; notes && i < notes->len; i++) {
    if (!place_of (plot, &g_array_index (notes, SpPinnedNote, i), &x, &y))
      continue;
    SpRect ring = { x - SP_PIN_RADIUS - 1, y - SP_PIN_RADIUS - 1, 2 * SP_PIN_RADIUS + 2, 2 * SP_PIN_RADIUS + 2 };
    sp_plot_take (plot, &ring);
  }
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
    write_note (plot, pen, &g_array_index (notes, SpPinnedNote, i));
  for (guint i = 0; notes && i < notes->len; i++) /* no leader crosses a pin */
    draw_ring (plot, pen, &g_array_index (notes, SpPinnedNote, i));
}
