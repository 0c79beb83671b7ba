/* lineends.c - the names at the ends of the lines */
#include "ui/figure/plot/plot-private.h"

#include "ui/figure/pen/mark.h"
#include "ui/figure/pen/names.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define NAME_GAP 15
#define CLOSE_MOST 3 /* more lines that end together share a name: 'the other ten' */
#define SWATCH 12

typedef struct {
  guint condition;
  char *other;   /* the name of a sweep that is not judged, or of several lines; NULL: the condition's own */
  guint sharing; /* more than one: how many lines share the name */
  double x, y;   /* where the line ends */
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
  *end = (LineEnd){ .condition = trace->condition,
                    .other = trace->judged ? NULL : sp_name_other (plot->findings, trace->condition, trace->corrected),
                    .x = plot->area.x + (last + 1) * plot->area.width / trace->n,
                    .y = sp_plot_y (plot, sum / n) };
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
    if (g_array_index (ends, LineEnd, i).other && !g_array_index (ends, LineEnd, i).sharing)
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
    const SpReduced *trace = &g_array_index (plot->traces, SpReduced, i);
    if ((plot->view.alone && trace->judged) || !line_end (plot, trace, &end))
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

/* A line that ends inside the sheet carries its name there; by harmonic its number stands at its marks. */
static gboolean
name_inside (SpPlot *plot, SpPen *pen, const LineEnd *end)
{
  if (end->x > plot->area.x + plot->area.width - 40)
    return FALSE;
  if (plot->by_harmonic)
    return end->other || end->condition != plot->view.condition;
  g_autofree char *own = sp_plot_label (plot, end->condition);
  const char *name = end->other ? end->other : own;
  const SpSpot places[] = { { end->x + 5, end->y + 4.5 }, { end->x + 5, end->y - 12 }, { end->x + 5, end->y + 21 },
                            { end->x + 5, end->y - 28 },  { end->x + 5, end->y + 38 }, { end->x + 5, end->y + 54 },
                            { end->x + 5, end->y + 70 } };
  sp_plot_write (plot, pen, end->other ? SP_TEXT_SMALL : SP_TEXT_BODY, end->other ? &pen->palette->soft : &pen->palette->ink, name, places,
                 G_N_ELEMENTS (places));
  return TRUE;
}

/* ---- lines that end together ---- */

static gboolean
may_share (const SpPlot *plot, const LineEnd *end)
{
  return !end->other && end->condition != plot->view.condition;
}

/* How many from `first` on end no further apart than a name is high. */
static guint
together (GArray *ends, guint first, guint all)
{
  guint n = 1;
  while (first + n < all && g_array_index (ends, LineEnd, first + n).y - g_array_index (ends, LineEnd, first + n - 1).y < NAME_GAP)
    n++;
  return n;
}

/* One name for those of `n` ends that are not the chosen one's: "the other 10". */
static void
share_name (const SpPlot *plot, GArray *ends, guint first, guint n)
{
  LineEnd shared = { 0 };
  for (guint i = first + n; i-- > first;) {
    LineEnd *end = &g_array_index (ends, LineEnd, i);
    if (!may_share (plot, end))
      continue;
    shared.condition = end->condition;
    shared.x = MAX (shared.x, end->x);
    shared.y += end->y;
    shared.sharing++;
    g_array_remove_index (ends, i);
  }
  shared.y = shared.label_y = shared.y / shared.sharing;
  g_array_append_val (ends, shared);
}

static void
share_names (const SpPlot *plot, GArray *ends)
{
  guint groups = 0, all = ends->len;
  for (guint first = 0; first < all;) { /* what is appended is no part of it */
    guint n = together (ends, first, all), sharing = 0;
    for (guint i = first; i < first + n; i++)
      sharing += may_share (plot, &g_array_index (ends, LineEnd, i)) ? 1 : 0;
    if (sharing > CLOSE_MOST)
      share_name (plot, ends, first, n);
    groups += sharing > CLOSE_MOST ? 1 : 0;
    all -= sharing > CLOSE_MOST ? sharing : 0;
    first += sharing > CLOSE_MOST ? n - sharing : n;
  }
  for (guint i = 0; i < ends->len; i++) {
    LineEnd *end = &g_array_index (ends, LineEnd, i);
    if (end->sharing)
      end->other = g_strdup_printf (groups == 1 ? _ ("the other %u") : _ ("%u others"), end->sharing);
  }
  g_array_sort (ends, by_height);
}

/* ---- the names ---- */

char *
sp_plot_label (const SpPlot *plot, guint condition)
{
  g_autofree char *name = sp_name_short (plot->findings, condition);
  return plot->by_harmonic ? g_strdup_printf ("%u %s", sp_view_row (&plot->view, condition), name) : g_steal_pointer (&name);
}

/* The radio's name where its condition leads; a condition alone needs no more than its radio's name. */
static const char *
rest_of (const SpPlot *plot, guint condition)
{
  const char *lead = sp_name_lead (plot->findings, condition);
  return lead == sp_view_condition_name (plot->findings, condition) ? sp_name_rest (plot->findings, condition) : "";
}

double
sp_plot_name_width (const SpPlot *plot, SpPen *pen, guint condition)
{
  double width = SWATCH + 5 + sp_pen_text_width (pen, SP_TEXT_BOLD, "88 ")
                 + sp_pen_text_width (pen, SP_TEXT_BOLD, sp_name_lead (plot->findings, condition));
  const char *rest = rest_of (plot, condition);
  return *rest ? width + sp_pen_text_width (pen, SP_TEXT_SMALL, rest) + 5 : width;
}

static void
name_at_edge (SpPlot *plot, SpPen *pen, const LineEnd *end)
{
  gboolean is_chosen = &plot->findings->conditions[end->condition] == plot->chosen && !end->sharing;
  double right = plot->area.x + plot->area.width, stop = plot->outer.x + plot->outer.width - sp_plot_scale_width (plot) - 2, x = right + 11;
  const SpColour *ink = end->sharing ? &pen->palette->soft : &pen->palette->trace[sp_view_ink (end->condition)];
  sp_pen_colour (pen, ink, end->other ? 0.5 : is_chosen ? 1 : 0.8);
  cairo_set_line_width (pen->cr, 1);
  cairo_move_to (pen->cr, right + 2, end->y);
  cairo_line_to (pen->cr, right + 8, end->label_y);
  cairo_stroke (pen->cr);
  if (end->other) {
    sp_pen_text_fit (pen, x, end->label_y + 4, SP_TEXT_SMALL, &pen->palette->soft, stop - x, end->other);
    return;
  }
  sp_mark_swatch (pen, x - 2, end->label_y, SWATCH, end->condition);
  g_autofree char *row = g_strdup_printf ("%u", sp_view_row (&plot->view, end->condition));
  x += SWATCH + 2;
  x += sp_pen_text_fit (pen, x, end->label_y + 4.5, SP_TEXT_BOLD, &pen->palette->ink, stop - x, row) + 4;
  x += sp_pen_text_fit (pen, x, end->label_y + 4.5, is_chosen ? SP_TEXT_BOLD : SP_TEXT_BODY, &pen->palette->ink, stop - x,
                        sp_name_lead (plot->findings, end->condition))
       + 4;
  sp_pen_text_fit (pen, x, end->label_y + 4.5, SP_TEXT_SMALL, &pen->palette->soft, stop - x, rest_of (plot, end->condition));
}

void
sp_plot_name_traces (SpPlot *plot, SpPen *pen)
{
  g_autoptr (GArray) ends = gather_ends (plot);
  for (guint i = ends->len; i-- > 0;)
    if (name_inside (plot, pen, &g_array_index (ends, LineEnd, i)))
      g_array_remove_index (ends, i);
  share_names (plot, ends);
  drop_what_has_no_room (plot, ends);
  spread (plot, ends);
  for (guint i = 0; i < ends->len; i++)
    name_at_edge (plot, pen, &g_array_index (ends, LineEnd, i));
}
