/* ladder.c - a rung at each harmonic, a mark at each emission, and all that is written on the chart */
#include "ui/figure/plot/plot-private.h"

#include "ui/figure/pen/glyph.h"
#include "ui/figure/pen/names.h"
#include "ui/words/words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define CALL_TRIES 12 /* heights at which a call-out may stand */
#define HEAD_GAP 17   /* between the numbers on top of neighbouring rungs */

static const SpEmission *
emission_of_order (const SpConditionFindings *c, guint order)
{
  for (guint i = 0; i < c->n_emissions; i++)
    if (c->emissions[i].order == order)
      return &c->emissions[i];
  return NULL;
}

static guint
highest_order (const SpConditionFindings *c)
{
  guint highest = 1;
  for (guint i = 0; i < c->n_emissions; i++)
    highest = MAX (highest, c->emissions[i].order);
  return highest;
}

/* By harmonic the middle of the order's fan. */
static gboolean
rung_x (const SpPlot *plot, guint order, double *x)
{
  if (plot->by_harmonic) {
    *x = sp_plot_order_x (plot, order);
    return *x >= plot->area.x && *x <= plot->area.x + plot->area.width;
  }
  double f = order * plot->chosen->fundamental_hz;
  *x = f > 0 ? sp_axis_at (&plot->x, f) : -1;
  return f >= plot->x.from && f <= plot->x.to;
}

/* Where rungs crowd, the worse verdicts keep their heads. */
static void
draw_heads (SpPlot *plot, SpPen *pen)
{
  guint n = highest_order (plot->chosen);
  g_autoptr (GArray) heads = g_array_new (FALSE, FALSE, sizeof (double));
  for (int verdict = SP_VERDICT_EXCEEDS + 1; verdict >= 0; verdict--)
    for (guint order = 1; order <= n; order++) {
      const SpEmission *emission = emission_of_order (plot->chosen, order);
      int rank = order == 1 ? SP_VERDICT_EXCEEDS + 1 : emission ? (int) emission->verdict : 0; /* the carrier anchors the row */
      double x;
      if (rank != verdict || !rung_x (plot, order, &x))
        continue;
      gboolean crowded = FALSE;
      for (guint i = 0; i < heads->len; i++)
        crowded |= fabs (g_array_index (heads, double, i) - x) < HEAD_GAP;
      if (crowded)
        continue;
      g_array_append_val (heads, x);
      g_autofree char *number = g_strdup_printf ("%u", order);
      sp_pen_text (pen, x, plot->area.y - 26, SP_TEXT_BOLD, &pen->palette->ink, 0.5, number);
      if (emission && plot->chosen_shown)
        sp_glyph_verdict (pen, x, plot->area.y - 12, 13, emission->verdict);
    }
}

static void
draw_rungs (SpPlot *plot, SpPen *pen)
{
  guint n = highest_order (plot->chosen);
  double x;
  sp_pen_colour (pen, &pen->palette->soft, 0.7);
  for (guint order = 1; order <= n; order++)
    if (rung_x (plot, order, &x) && plot->by_harmonic)
      sp_pen_line (pen, x - sp_plot_fan (plot), plot->area.y - 3, x + sp_plot_fan (plot), plot->area.y - 3, 1);
    else if (rung_x (plot, order, &x))
      sp_pen_dotted (pen, x, plot->area.y - 3, x, plot->area.y + plot->area.height, 1, 5);
}

#define SEAM_HEIGHT 16
#define SEAM_FOOT 6

/* Where sweeps are joined: a post on the frequency axis whose foot points into the sweep that begins or ends there. */
static void
draw_seams (SpPlot *plot, SpPen *pen)
{
  double bottom = plot->area.y + plot->area.height;
  sp_pen_colour (pen, &pen->palette->soft, 1);
  for (guint i = 0; plot->chosen_shown && i < plot->chosen->n_seams; i++) {
    const SpSeam *seam = &plot->chosen->seams[i];
    if (!(seam->frequency_hz >= plot->x.from && seam->frequency_hz <= plot->x.to))
      continue;
    double x = floor (sp_axis_at (&plot->x, seam->frequency_hz)) + 0.5;
    cairo_move_to (pen->cr, x, bottom);
    cairo_line_to (pen->cr, x, bottom - SEAM_HEIGHT);
    cairo_rel_line_to (pen->cr, seam->begins ? SEAM_FOOT : -SEAM_FOOT, 0);
    cairo_set_line_width (pen->cr, 1);
    cairo_stroke (pen->cr);
  }
}

/* Left of the first rung's head, or not at all. */
static void
write_ladder_name (SpPlot *plot, SpPen *pen)
{
  g_autofree char *own = sp_plot_label (plot, plot->view.condition);
  g_autofree char *name = plot->chosen_shown ? g_strdup (own) : g_strdup_printf (_ ("%s, hidden"), own);
  double x = INFINITY;
  double width = MAX (sp_pen_text_width (pen, SP_TEXT_SMALL, _ ("harmonic")), MIN (120, sp_pen_text_width (pen, SP_TEXT_SMALL, name)));
  guint n = highest_order (plot->chosen), order = 1;
  while (order <= n && !rung_x (plot, order, &x))
    order++;
  if (order <= n && x - plot->area.x <= width + 14)
    return;
  sp_pen_text (pen, plot->area.x, plot->area.y - 26, SP_TEXT_SMALL, &pen->palette->soft, 0, _ ("harmonic"));
  sp_pen_text_fit (pen, plot->area.x, plot->area.y - 9, SP_TEXT_SMALL, &pen->palette->soft, 120, name);
}

/* Nothing is written across the carrier. */
static void
take_carrier (SpPlot *plot)
{
  double x, half = plot->by_harmonic ? sp_plot_fan (plot) : 5;
  if (!rung_x (plot, 1, &x))
    return;
  SpRect rect = { x - half, plot->area.y, 2 * half, plot->area.height };
  sp_plot_take (plot, &rect);
}

/* Nor across the limit and its ticks. */
static void
take_limit (SpPlot *plot)
{
  for (guint i = 0; i < plot->n; i += 16) {
    double limit_dbm = sp_plot_ground (plot)->limit_dbm[i];
    SpRect rect = { sp_plot_column_x (plot, i), sp_plot_y (plot, limit_dbm) - 9, 16 * plot->area.width / plot->n, 11 };
    if (!isnan (limit_dbm))
      sp_plot_take (plot, &rect);
  }
}

static char *
what_exceeds (const SpPlot *plot, guint condition, const SpEmission *emission)
{
  g_autofree char *what = sp_name_emission (emission), *name = sp_name_short (plot->findings, condition);
  g_autofree char *over = sp_words_number (-sp_emission_deciding_margin_db (emission), 1, SP_HAND_SCREEN);
  g_autofree char *u = sp_words_number (sp_emission_deciding_expanded_db (emission), 1, SP_HAND_SCREEN);
  return g_strdup_printf (_ ("%s, %s: over by %s \xc2\xb1 %s\342\200\257dB"), name, what, over, u);
}

typedef struct {
  double x, y;
  char *text;
} Exceeding;

static void
clear_exceeding (void *data)
{
  g_free (((Exceeding *) data)->text);
}

static int
from_the_right (const void *a, const void *b)
{
  double difference = ((const Exceeding *) b)->x - ((const Exceeding *) a)->x;
  return (difference > 0) - (difference < 0);
}

/* From the right to the left: what is called out first stands lowest, so that no leader crosses another's words. */
static GArray *
gather_exceeding (const SpPlot *plot)
{
  GArray *found = g_array_new (FALSE, FALSE, sizeof (Exceeding));
  g_array_set_clear_func (found, clear_exceeding);
  for (guint i = 0; i < plot->findings->n; i++) {
    const SpConditionFindings *c = &plot->findings->conditions[i];
    for (guint k = 0; sp_plot_draws (plot, i) && k < c->n_emissions; k++) {
      Exceeding one = { 0 };
      if (c->emissions[k].verdict != SP_VERDICT_EXCEEDS || !sp_plot_emission_place (plot, i, &c->emissions[k], &one.x, &one.y))
        continue;
      one.text = what_exceeds (plot, i, &c->emissions[k]);
      g_array_append_val (found, one);
    }
  }
  if (plot->by_harmonic)
    g_array_sort (found, from_the_right);
  return found;
}

/* Over all marks, with a leader down to its own: beside it stand the others of the fan. */
static void
call_out (SpPlot *plot, SpPen *pen, const Exceeding *one)
{
  double width = sp_pen_text_width (pen, SP_TEXT_BOLD, one->text), left = one->x + 15;
  SpSpot places[CALL_TRIES];
  if (left + width > plot->area.x + plot->area.width)
    left = one->x - 15 - width;
  for (guint i = 0; i < CALL_TRIES; i++)
    places[i] = (SpSpot){ left, one->y - 40 - i * 15 };
  int at = sp_plot_write (plot, pen, SP_TEXT_BOLD, &pen->palette->ink, one->text, places, CALL_TRIES);
  if (at < 0)
    return;
  double level = places[at].baseline - 4;
  sp_pen_colour (pen, &pen->palette->ink, 1);
  sp_pen_line (pen, one->x, one->y - 20, one->x, level, 1);
  sp_pen_line (pen, one->x, level, left < one->x ? left + width + 3 : left - 4, level, 1);
}

static void
write_beside (SpPlot *plot, SpPen *pen, const Exceeding *one)
{
  double width = sp_pen_text_width (pen, SP_TEXT_BOLD, one->text), x = one->x, y = one->y;
  const SpSpot places[] = { { x + 11, y - 12 },         { x - 11 - width, y - 12 }, { x + 11, y - 30 },
                            { x - 11 - width, y - 30 }, { x + 11, y - 48 },         { x - 11 - width, y - 48 },
                            { x + 12, y + 5 },          { x - 12 - width, y + 5 },  { x - width / 2, y - 66 } };
  sp_plot_write (plot, pen, SP_TEXT_BOLD, &pen->palette->ink, one->text, places, G_N_ELEMENTS (places));
}

static void
write_exceeding (SpPlot *plot, SpPen *pen)
{
  g_autoptr (GArray) found = gather_exceeding (plot);
  for (guint i = 0; i < found->len; i++)
    (plot->by_harmonic ? call_out : write_beside) (plot, pen, &g_array_index (found, Exceeding, i));
}

void
sp_plot_draw_ladder (SpPlot *plot, SpPen *pen)
{
  if (!plot->chosen)
    return;
  cairo_save (pen->cr);
  g_array_set_size (plot->taken, 0);
  draw_rungs (plot, pen);
  draw_seams (plot, pen);
  draw_heads (plot, pen);
  if (!plot->view.alone)
    write_ladder_name (plot, pen);
  sp_plot_draw_marks (plot, pen);
  sp_plot_take_pins (plot);
  sp_plot_number_carriers (plot, pen);
  sp_plot_take_pointer (plot, pen);
  take_carrier (plot);
  if (!plot->by_harmonic)
    sp_plot_write_blind (plot, pen);
  sp_plot_draw_steps (plot, pen);
  write_exceeding (plot, pen);
  sp_plot_number_marks (plot, pen);
  if (plot->by_harmonic)
    sp_plot_write_blind (plot, pen);
  sp_plot_write_limit (plot, pen);
  take_limit (plot);
  sp_plot_draw_pins (plot, pen);
  sp_plot_write_whose (plot, pen);
  sp_plot_draw_causes (plot, pen);
  sp_plot_name_traces (plot, pen);
  cairo_restore (pen->cr);
}
