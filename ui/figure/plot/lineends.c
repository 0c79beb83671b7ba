/* lineends.c - the names at the ends of the lines */
#include "ui/figure/plot/plot-private.h"

#include "ui/figure/pen/names.h"

#include <math.h>

#define NAME_GAP 15

typedef struct {
  guint condition;
  char *other; /* the name of a sweep that is not judged; NULL: the condition's own */
  double x, y; /* where the line ends */
  double label_y;
} LineEnd;

static void
clear_end (void *end)
{
  g_free (((LineEnd *) end)->other);
}

static gboolean
same_name (const LineEnd *a, const LineEnd *b)
{
  return a->condition == b->condition && g_strcmp0 (a->other, b->other) == 0;
}

static gboolean
line_end (const SpPlot *plot, const SpReduced *trace, LineEnd *end)
{
  double sum = 0;
  guint n = 0, last = 0;
  for (guint i = trace->n; i-- > 0 && n < 12;)
    if (trace->columns[i].count) {
      last = n ? last : i;
      sum += trace->columns[i].middle;
      n++;
    }
  if (!n)
    return FALSE;
  *end = (LineEnd){ trace->condition, trace->judged ? NULL : sp_name_other (plot->findings, trace->condition, trace->corrected),
                    plot->area.x + (last + 1) * plot->area.width / trace->n, sp_plot_y (plot, sum / n), 0 };
  end->label_y = end->y;
  return TRUE;
}

static int
by_height (const void *a, const void *b)
{
  double difference = ((const LineEnd *) a)->y - ((const LineEnd *) b)->y;
  int order = (int) ((const LineEnd *) a)->condition - (int) ((const LineEnd *) b)->condition;
  return difference ? (difference > 0) - (difference < 0)
         : order    ? order
                    : g_strcmp0 (((const LineEnd *) a)->other, ((const LineEnd *) b)->other);
}

/* Moves labels apart, each as little as it takes; then back up where the last would leave the sheet. */
static void
spread (const SpPlot *plot, GArray *ends)
{
  double lowest = plot->area.y + plot->area.height - 4;
  for (guint round = 0; round < 40; round++)
    for (guint i = 0; i + 1 < ends->len; i++) {
      LineEnd *upper = &g_array_index (ends, LineEnd, i), *lower = upper + 1;
      double overlap = NAME_GAP - (lower->label_y - upper->label_y);
      if (overlap > 0) {
        upper->label_y -= overlap / 2;
        lower->label_y += overlap / 2;
      }
    }
  for (guint i = ends->len; i-- > 0;) {
    LineEnd *end = &g_array_index (ends, LineEnd, i);
    end->label_y = MIN (end->label_y, lowest);
    lowest = end->label_y - NAME_GAP;
  }
}

/* More names than there is room for: those that are not judged go first. */
static void
drop_what_has_no_room (const SpPlot *plot, GArray *ends)
{
  for (guint i = ends->len; i-- > 0 && ends->len * NAME_GAP > plot->area.height;)
    if (g_array_index (ends, LineEnd, i).other)
      g_array_remove_index (ends, i);
}

/* The furthest end of the lines of each name, from the top down. */
static GArray *
gather_ends (const SpPlot *plot)
{
  GArray *ends = g_array_new (FALSE, FALSE, sizeof (LineEnd));
  g_array_set_clear_func (ends, clear_end);
  for (guint i = 0; i < plot->traces->len; i++) {
    LineEnd end;
    if (!line_end (plot, &g_array_index (plot->traces, SpReduced, i), &end))
      continue;
    guint k = 0;
    while (k < ends->len && !same_name (&g_array_index (ends, LineEnd, k), &end))
      k++;
    if (k < ends->len && end.x > g_array_index (ends, LineEnd, k).x)
      g_array_remove_index (ends, k), k = ends->len;
    if (k == ends->len)
      g_array_append_val (ends, end);
    else
      clear_end (&end);
  }
  g_array_sort (ends, by_height);
  return ends;
}

/* A line that ends inside the sheet carries its name there. */
static gboolean
name_inside (SpPlot *plot, SpPen *pen, const LineEnd *end)
{
  if (end->x > plot->area.x + plot->area.width - 40)
    return FALSE;
  const char *name = end->other ? end->other : plot->findings->conditions[end->condition].name;
  const SpSpot places[] = { { end->x + 5, end->y + 4.5 }, { end->x + 5, end->y - 12 }, { end->x + 5, end->y + 21 },
                            { end->x + 5, end->y - 28 },  { end->x + 5, end->y + 38 }, { end->x + 5, end->y + 54 },
                            { end->x + 5, end->y + 70 } };
  sp_plot_write (plot, pen, end->other ? SP_TEXT_SMALL : SP_TEXT_BODY, end->other ? &pen->palette->soft : &pen->palette->ink, name, places,
                 G_N_ELEMENTS (places));
  return TRUE;
}

static void
name_at_edge (SpPlot *plot, SpPen *pen, const LineEnd *end)
{
  gboolean is_chosen = &plot->findings->conditions[end->condition] == plot->chosen;
  double right = plot->area.x + plot->area.width, stop = plot->outer.x + plot->outer.width - SP_PLOT_DBC_WIDTH - 2, x = right + 11;
  sp_pen_colour (pen, &pen->palette->trace[sp_view_ink (end->condition)], end->other ? 0.5 : is_chosen ? 1 : 0.8);
  cairo_set_line_width (pen->cr, 1);
  cairo_move_to (pen->cr, right + 2, end->y);
  cairo_line_to (pen->cr, right + 8, end->label_y);
  cairo_stroke (pen->cr);
  if (end->other) {
    sp_pen_text_fit (pen, x, end->label_y + 4, SP_TEXT_SMALL, &pen->palette->soft, stop - x, end->other);
    return;
  }
  x += sp_pen_text_fit (pen, x, end->label_y + 4.5, is_chosen ? SP_TEXT_BOLD : SP_TEXT_BODY, &pen->palette->ink, stop - x,
                        sp_view_radio_name (plot->findings, end->condition))
       + 4;
  if (sp_name_is_shared (&plot->view, plot->findings, end->condition))
    sp_pen_text_fit (pen, x, end->label_y + 4.5, SP_TEXT_SMALL, &pen->palette->soft, stop - x,
                     sp_view_condition_name (plot->findings, end->condition));
}

void
sp_plot_name_traces (SpPlot *plot, SpPen *pen)
{
  g_autoptr (GArray) ends = gather_ends (plot);
  for (guint i = ends->len; i-- > 0;)
    if (name_inside (plot, pen, &g_array_index (ends, LineEnd, i)))
      g_array_remove_index (ends, i);
  drop_what_has_no_room (plot, ends);
  spread (plot, ends);
  for (guint i = 0; i < ends->len; i++)
    name_at_edge (plot, pen, &g_array_index (ends, LineEnd, i));
}
