/* radio-part.c - what of the chosen condition's readings is not the radio's: a pipe down to the radio's part, the steps beside it, and words */
#include "ui/figure/plot/plot-private.h"

#include "ui/figure/pen/mark.h"
#include "ui/figure/pen/names.h"
#include "ui/words/words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define PIPE 10            /* width */
#define LEAST_PIPE 4       /* where a fan leaves less */
#define LEAST_PIPE_DB 1    /* a shorter one would hide behind the mark */
#define STEP 17            /* from one step's reading to the next */
#define MOST_STEPS 4       /* shown */
#define WORDS_WITHIN_DB 20 /* of the limit: further below it nobody asks whose it is */

static gboolean
is_foreign (const SpEmission *e)
{
  return e->detected && e->origin != SP_ORIGIN_NONE && e->origin != SP_ORIGIN_RADIO;
}

static gboolean
place_of (const SpPlot *plot, guint condition, const SpEmission *e, double *x, double *y)
{
  return is_foreign (e) && sp_plot_emission_place (plot, condition, e, x, y);
}

/* ---- the pipe ---- */

/* The level down to which the reading is not the radio's for sure, or of a mixed one, may not be; NaN: not known. */
static double
pipe_foot_dbm (const SpEmission *e)
{
  return e->origin == SP_ORIGIN_MIXED ? e->radio_low_dbm : e->radio_high_dbm;
}

/* Dashed where nothing but the profile tells. */
static void
draw_pipe (SpPlot *plot, SpPen *pen, guint condition, const SpEmission *e, double x, double y)
{
  double wide = plot->by_harmonic ? MIN (PIPE, MAX (plot->aside - 2, LEAST_PIPE)) : PIPE;
  double foot_dbm = pipe_foot_dbm (e), foot = isinf (foot_dbm) ? plot->area.y + plot->area.height : sp_plot_y (plot, foot_dbm);
  if (isnan (foot_dbm) || !(e->level_dbm - foot_dbm > LEAST_PIPE_DB))
    return;
  SpRect pipe = { x - wide / 2, y, wide, foot - y };
  sp_mark_pipe (pen, &pipe, &pen->palette->trace[sp_view_ink (condition)],
                e->origin_basis == SP_BASIS_PREDICTED || e->origin == SP_ORIGIN_UNTESTED);
  sp_plot_take (plot, &pipe);
}

static void
draw_bar (const SpPlot *plot, SpPen *pen, const SpEmission *e, double x)
{
  if (!isfinite (e->radio_high_dbm) || !(e->radio_high_dbm >= plot->y.from && e->radio_high_dbm <= plot->y.to))
    return;
  sp_mark_most (pen, x, sp_plot_y (plot, e->radio_high_dbm));
}

/* ---- the steps ---- */

static guint
steps_shown (const SpEmission *e)
{
  return e->evidence && e->evidence->n > 1 ? MIN (e->evidence->n - 1, MOST_STEPS) : 0;
}

/* TRUE if the steps end before the next emission that is seen, and before the carrier. */
static gboolean
has_room (const SpPlot *plot, const SpEmission *e, double x)
{
  double end = x + steps_shown (e) * STEP + PIPE, carrier = sp_axis_at (&plot->x, plot->chosen->fundamental_hz);
  if (e->frequency_hz < plot->chosen->fundamental_hz && carrier < end)
    return FALSE;
  for (guint i = 0; i < plot->chosen->n_emissions; i++) {
    const SpEmission *other = &plot->chosen->emissions[i];
    double there = other->detected && other->frequency_hz > e->frequency_hz ? sp_axis_at (&plot->x, other->frequency_hz) : INFINITY;
    if (there < end)
      return FALSE;
  }
  return end < plot->area.x + plot->area.width;
}

/* From the reading to the steps, down to the first that does not show it. */
static void
draw_fall (const SpPlot *plot, SpPen *pen, const SpEmission *e, double x, double y)
{
  sp_pen_colour (pen, &pen->palette->ink, 0.7);
  cairo_move_to (pen->cr, x, y);
  for (guint k = 1; k <= steps_shown (e); k++) {
    cairo_line_to (pen->cr, x + k * STEP, sp_plot_y (plot, e->evidence->points[k].level_dbm));
    if (!e->evidence->points[k].seen)
      break;
  }
  cairo_set_line_width (pen->cr, 1);
  cairo_stroke (pen->cr);
}

/* Each reading with more attenuation, to the right of the first, on a falling line; dotted, where the radio's own would stay. */
static void
draw_steps (SpPlot *plot, SpPen *pen, const SpEmission *e, double x, double y)
{
  guint n = steps_shown (e);
  if (n == 0 || !has_room (plot, e, x))
    return;
  draw_fall (plot, pen, e, x, y);
  for (guint k = 1; k <= n; k++) {
    const SpEvidencePoint *point = &e->evidence->points[k];
    double at_x = x + k * STEP, at_y = sp_plot_y (plot, point->level_dbm);
    g_autofree char *more = sp_words_signed (point->attenuation_db, 0, SP_HAND_SCREEN);
    sp_mark_step (pen, at_x, at_y, point->seen);
    SpRect mark = { at_x - 6, at_y - 6, 12, 16 };
    sp_plot_take (plot, &mark);
    const SpSpot beside[] = { { at_x + 8, at_y + 4 }, { at_x - 8, at_y + 20 } };
    sp_plot_write (plot, pen, SP_TEXT_TINY, &pen->palette->ink, more, beside, G_N_ELEMENTS (beside));
  }
}

/* ---- the words ---- */

static gboolean
deserves_words (const SpEmission *e)
{
  return isnan (e->limit_dbm) ? FALSE : e->level_dbm > e->limit_dbm - WORDS_WITHIN_DB;
}

/* What the words of `i` say of further emissions too: their names, joined; *words is the sentence on all. Returns the last of them. */
static guint
join_names (const SpPlot *plot, guint i, char **words)
{
  const SpEmission *e = plot->chosen->emissions;
  g_autofree char *names = sp_name_emission (&e[i]), *alone = sp_words_whose (&e[i], "", SP_HAND_SCREEN);
  guint last = i;
  for (guint k = i + 1; k < plot->chosen->n_emissions && e[k].order == e[i].order + (k - i) && e[i].order > 0; k++) {
    g_autofree char *other = sp_words_whose (&e[k], "", SP_HAND_SCREEN);
    if (!is_foreign (&e[k]) || !deserves_words (&e[k]) || g_strcmp0 (alone, other) != 0)
      break;
    g_autofree char *name = sp_name_emission (&e[k]), *so_far = g_steal_pointer (&names);
    names = g_strdup_printf ("%s, %s", so_far, name);
    last = k;
  }
  *words = sp_words_whose (&e[i], names, SP_HAND_SCREEN);
  return last;
}

static void
write_words (SpPlot *plot, SpPen *pen, const SpEmission *e, const char *words)
{
  double x, y;
  if (!words || !place_of (plot, plot->view.condition, e, &x, &y))
    return;
  double width = sp_pen_text_width (pen, SP_TEXT_BOLD, words), beyond = x + steps_shown (e) * STEP + 18;
  const SpSpot places[] = {
    { beyond, y + 4.5 },         { x + 11, y - 10 },         { x - 11 - width, y - 10 }, { x + 11, y - 26 },
    { x - 11 - width, y + 4.5 }, { x - 11 - width, y - 26 }, { x + 11, y - 42 },         { x - width / 2, y - 42 },
    { x + 11, y - 58 },          { x - 11 - width, y - 58 }, { x + 11, y - 74 },
  };
  sp_plot_write (plot, pen, SP_TEXT_BOLD, &pen->palette->ink, words, places, G_N_ELEMENTS (places));
}

/* ---- for the ladder ---- */

void
sp_plot_draw_parts (SpPlot *plot, SpPen *pen, guint condition)
{
  const SpConditionFindings *c = &plot->findings->conditions[condition];
  for (guint i = 0; i < c->n_emissions; i++) {
    const SpEmission *e = &c->emissions[i];
    double x, y;
    if (!place_of (plot, condition, e, &x, &y))
      continue;
    draw_pipe (plot, pen, condition, e, x, y);
    draw_bar (plot, pen, e, x);
  }
}

void
sp_plot_draw_steps (SpPlot *plot, SpPen *pen)
{
  for (guint i = 0; plot->chosen_shown && (!plot->by_harmonic || plot->n_shown == 1) && i < plot->chosen->n_emissions; i++) {
    const SpEmission *e = &plot->chosen->emissions[i];
    double x, y;
    if (place_of (plot, plot->view.condition, e, &x, &y) && deserves_words (e))
      draw_steps (plot, pen, e, x, y);
  }
}

void
sp_plot_write_whose (SpPlot *plot, SpPen *pen)
{
  for (guint i = 0; plot->chosen_shown && i < plot->chosen->n_emissions; i++) {
    const SpEmission *e = &plot->chosen->emissions[i];
    if (!is_foreign (e) || !deserves_words (e))
      continue;
    g_autofree char *words = NULL;
    guint last = join_names (plot, i, &words);
    write_words (plot, pen, &plot->chosen->emissions[last], words);
    i = last;
  }
}
