/* pointer.c - the read-out at the pointer, flush under one rule */
#include "core/judge/judge.h"
#include "ui/figure/pen/names.h"
#include "ui/figure/plot/plot-private.h"

#include "ui/words/words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define ROW 18
#define NAME_WIDTH 96
#define ROWS_MAX 10

typedef struct {
  char *name, *value;
} Row;

static char *
with_u (double value, double expanded_db, int decimals, const char *unit)
{
  g_autofree char *number = sp_words_number (value, 1, SP_HAND_SCREEN);
  if (isnan (expanded_db))
    return g_strdup_printf ("%s\xe2\x80\xaf%s", number, unit);
  g_autofree char *u = sp_words_number (expanded_db, decimals, SP_HAND_SCREEN);
  return g_strdup_printf ("%s \xc2\xb1 %s\xe2\x80\xaf%s", number, u, unit);
}

static char *
level_row (const SpAt *at)
{
  if (!at->swept || isnan (at->level_dbm))
    return g_strdup (_ ("not swept"));
  g_autofree char *level = with_u (at->level_dbm, at->expanded_db, 1, _ ("dBm"));
  if (isnan (at->level_dbc))
    return g_steal_pointer (&level);
  g_autofree char *relative = sp_words_number (at->level_dbc, 1, SP_HAND_SCREEN);
  return g_strdup_printf ("%s     %s\xe2\x80\xaf%s", level, relative, _ ("dBc"));
}

/* Whose it is, and the verdict with the figure that it goes by; NULL: no emission with a verdict stands there. */
static char *
verdict_row (const SpPlot *plot, const SpAt *at)
{
  const SpEmission *e = at->emission < 0 ? NULL : &plot->chosen->emissions[at->emission];
  if (!e || e->decision == SP_DECISION_NONE)
    return NULL;
  g_autofree char *room = sp_words_room_u (e, SP_HAND_SCREEN);
  const char *origin = e->origin == SP_ORIGIN_NONE ? NULL : sp_words_origin (e->origin);
  g_autofree char *whose = origin ? g_strdup_printf (_ ("%s, "), origin) : g_strdup ("");
  if (isnan (sp_emission_room_db (e)))
    return g_strdup_printf ("%s%s: %s", whose, room, sp_words_verdict (e->verdict));
  return g_strdup_printf (_ ("%sroom %s\342\200\257dB: %s"), whose, room, sp_words_verdict (e->verdict));
}

/* Between which levels the radio's part lies where not all that is seen is the radio's; NULL: all of it is, or nobody knows. */
static char *
part_row (const SpPlot *plot, const SpAt *at)
{
  const SpEmission *e = at->emission < 0 ? NULL : &plot->chosen->emissions[at->emission];
  gboolean shared = e && (e->origin == SP_ORIGIN_ANALYZER || e->origin == SP_ORIGIN_MIXED || e->origin == SP_ORIGIN_AMBIENT);
  if (!shared || !isfinite (e->radio_high_dbm))
    return NULL;
  g_autofree char *high = sp_words_level (e->radio_high_dbm, 1, SP_HAND_SCREEN);
  if (!isfinite (e->radio_low_dbm))
    return g_strdup_printf (_ ("at most %s"), high);
  g_autofree char *low = sp_words_number (e->radio_low_dbm, 1, SP_HAND_SCREEN);
  return g_strdup_printf (_ ("%s to %s"), low, high);
}

char *
sp_plot_says_between (const SpFindings *findings, guint condition, double ruler_hz, double frequency_hz)
{
  SpBetween between = sp_findings_between (findings, condition, ruler_hz, frequency_hz);
  g_autofree char *apart = sp_words_frequency (fabs (between.apart_hz), 0, SP_HAND_SCREEN),
                  *level = isnan (between.level_db) ? g_strdup ("\xe2\x80\x93") : sp_words_signed (between.level_db, 1, SP_HAND_SCREEN);
  return g_strdup_printf ("%s%s     %s\xe2\x80\xaf%s", between.apart_hz < 0 ? "\xe2\x88\x92" : "+", apart, level, _ ("dB"));
}

static guint
make_rows (const SpPlot *plot, const SpAt *at, Row *rows)
{
  double resolution = MIN ((plot->x.to - plot->x.from) / plot->n, at->frequency_hz * 1e-4); /* five digits at least */
  SpEmission order = { .order = at->order > 1 ? (guint) at->order : 0 };
  guint n = 0;
  rows[n++] = (Row){ sp_words_frequency (at->frequency_hz, resolution, SP_HAND_SCREEN),
                     order.order ? sp_words_emission (&order, SP_HAND_SCREEN) : g_strdup (at->order == 1 ? _ ("fundamental") : "") };
  if (plot->by_harmonic) /* each radio has a scale of its own there */
    rows[n++] = (Row){ g_strdup (_ ("scale of")), sp_plot_label (plot, plot->view.condition) };
  rows[n++] = (Row){ sp_name_short (plot->findings, plot->view.condition), level_row (at) };
  char *part = part_row (plot, at);
  if (part)
    rows[n++] = (Row){ g_strdup (_ ("radio's part")), part };
  char *occupied = at->order == 1 ? sp_words_occupied (plot->chosen, SP_HAND_SCREEN) : NULL;
  if (occupied)
    rows[n++] = (Row){ g_strdup (_ ("99 % width")), occupied };
  rows[n++] = (Row){ g_strdup (_ ("chain")), with_u (at->loss_db, at->loss_expanded_db, 2, _ ("dB")) };
  if (!isnan (at->floor_dbm)) {
    g_autofree char *level = sp_words_level (at->floor_dbm, 1, SP_HAND_SCREEN);
    rows[n++] = (Row){ g_strdup (_ ("floor")), at->blind ? g_strdup (_ ("blind: points too far apart"))
                                                         : g_strdup_printf ("%s, %s", level, sp_words_cause (at->floor_cause)) };
  }
  if (isnan (at->limit_dbm)) {
    rows[n++] = (Row){ g_strdup (_ ("limit")), g_strdup (_ ("none here")) };
  } else {
    g_autofree char *level = sp_words_level (at->limit_dbm, 1, SP_HAND_SCREEN),
                    *margin = sp_words_signed (at->margin_db, 1, SP_HAND_SCREEN);
    gboolean judged = at->emission >= 0
                      && plot->chosen->emissions[at->emission].decision != SP_DECISION_NONE; /* then its room stands below */
    char *text = isnan (at->margin_db) || judged ? g_strdup (level) : g_strdup_printf (_ ("%s     margin %s\342\200\257dB"), level, margin);
    rows[n++] = (Row){ g_strdup (_ ("limit")), text };
  }
  if (!isnan (plot->view.ruler_hz))
    rows[n++] = (Row){ g_strdup (_ ("from the ruler")),
                       sp_plot_says_between (plot->findings, plot->view.condition, plot->view.ruler_hz, at->frequency_hz) };
  char *verdict = verdict_row (plot, at);
  if (verdict)
    rows[n++] = (Row){ g_strdup (_ ("verdict")), verdict };
  return n;
}

/* Beside the pointer, on the other side where the right has no room. */
static SpRect
box_rect (const SpPlot *plot, SpPen *pen, double x, const Row *rows, guint n)
{
  double widest = 150;
  for (guint i = 0; i < n; i++)
    widest = MAX (widest, sp_pen_text_width (pen, SP_TEXT_BODY, rows[i].value));
  double width = NAME_WIDTH + widest + 16, left = x + 9;
  if (left + width > plot->area.x + plot->area.width)
    left = MAX (plot->area.x + 8, x - 9 - width);
  return (SpRect){ left, plot->area.y + 6, width, n * ROW + 9 };
}

static void
draw_rows (SpPen *pen, const SpRect *box, const Row *rows, guint n)
{
  sp_pen_colour (pen, &pen->palette->sheet, 1);
  sp_pen_box (pen, box);
  sp_pen_colour (pen, &pen->palette->ink, 1);
  sp_pen_line (pen, box->x, box->y, box->x + box->width, box->y, 1.5);
  for (guint i = 0; i < n; i++) {
    double baseline = box->y + 18 + i * ROW;
    sp_pen_text_fit (pen, box->x + 6, baseline, i ? SP_TEXT_BODY : SP_TEXT_BOLD, i ? &pen->palette->soft : &pen->palette->ink,
                     NAME_WIDTH - 8, rows[i].name);
    sp_pen_text (pen, box->x + NAME_WIDTH, baseline, SP_TEXT_BODY, &pen->palette->ink, 0, rows[i].value);
  }
}

static void
free_rows (Row *rows, guint n)
{
  for (guint i = 0; i < n; i++) {
    g_free (rows[i].name);
    g_free (rows[i].value);
  }
}

/* Rows of what stands at the pointer; 0 where there is none in view. */
static guint
rows_at (const SpPlot *plot, double frequency_hz, Row *rows)
{
  if (!plot->chosen || isnan (frequency_hz) || frequency_hz < plot->x.from || frequency_hz > plot->x.to)
    return 0;
  SpAt at = sp_findings_at (plot->findings, plot->view.condition, frequency_hz);
  return make_rows (plot, &at, rows);
}

void
sp_plot_take_pointer (SpPlot *plot, SpPen *pen)
{
  Row rows[ROWS_MAX];
  guint n = rows_at (plot, plot->view.pointer_hz, rows);
  if (n == 0)
    return;
  SpRect box = box_rect (plot, pen, sp_axis_at (&plot->x, plot->view.pointer_hz), rows, n);
  sp_plot_take (plot, &box);
  free_rows (rows, n);
}

gboolean
sp_plot_pointer_box (SpPlot *plot, SpPen *pen, double frequency_hz, SpRect *box)
{
  Row rows[ROWS_MAX];
  guint n = rows_at (plot, frequency_hz, rows);
  if (n == 0)
    return FALSE;
  *box = box_rect (plot, pen, sp_axis_at (&plot->x, frequency_hz), rows, n);
  free_rows (rows, n);
  return TRUE;
}

void
sp_plot_draw_pointer (SpPlot *plot, SpPen *pen, double frequency_hz)
{
  Row rows[ROWS_MAX];
  guint n = rows_at (plot, frequency_hz, rows);
  if (n == 0)
    return;
  double x = sp_axis_at (&plot->x, frequency_hz);
  SpRect box = box_rect (plot, pen, x, rows, n);
  cairo_save (pen->cr);
  sp_pen_colour (pen, &pen->palette->ink, 1);
  sp_pen_line (pen, x, plot->area.y - 3, x, plot->area.y + plot->area.height, 1);
  draw_rows (pen, &box, rows, n);
  cairo_restore (pen->cr);
  free_rows (rows, n);
}
