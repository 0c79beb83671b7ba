/* radios.c - the conditions, a row each */
#include "ui/figure/panels.h"

#include "ui/figure/pen/glyph.h"
#include "ui/figure/pen/mark.h"
#include "ui/figure/pen/names.h"
#include "ui/words/words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define ROW 43
#define LEAST_ROW 36
#define HEAD 30
#define NUMBER 22         /* the rows' numbers */
#define LINE_SPAN_DB 15.0 /* a number line reaches so far to either side of the limit */

/* The line and the limit's tick; returns where the margin stands, within the line. */
static double
line_and_limit (SpPen *pen, double x, double y, double width, double margin_db)
{
  double half = width / 2, middle = x + half;
  sp_pen_colour (pen, &pen->palette->soft, 0.35);
  sp_pen_line (pen, x, y, x + width, y, 1);
  sp_pen_colour (pen, &pen->palette->limit, 1);
  sp_pen_line (pen, middle, y - 8, middle, y + 8, 2);
  return middle - CLAMP (margin_db / LINE_SPAN_DB, -1, 1) * half;
}

void
sp_margin_line_draw_most (SpPen *pen, double x, double y, double width, double margin_db)
{
  double place = line_and_limit (pen, x, y, width, margin_db);
  sp_pen_colour (pen, &pen->palette->ink, 1);
  sp_pen_dotted (pen, x, y, place, y, 1.8, 3);
  sp_pen_line (pen, place, y - 5, place, y + 5, 2);
}

void
sp_margin_line_draw (SpPen *pen, double x, double y, double width, double margin_db, double expanded_db)
{
  double half = width / 2, place = line_and_limit (pen, x, y, width, margin_db);
  if (isnan (margin_db))
    return;
  sp_pen_colour (pen, &pen->palette->ink, 1);
  if (expanded_db > 0 && fabs (margin_db) <= LINE_SPAN_DB && isfinite (expanded_db)) {
    double reach = expanded_db / LINE_SPAN_DB * half;
    sp_pen_line (pen, MAX (x, place - reach), y, MIN (x + width, place + reach), y, 1.5);
  }
  if (fabs (margin_db) <= LINE_SPAN_DB) {
    cairo_arc (pen->cr, place, y, 2.6, 0, 2 * G_PI);
  } else { /* further off than the line is long */
    double out = margin_db > 0 ? -1 : 1;
    cairo_move_to (pen->cr, place + out * 4, y);
    cairo_line_to (pen->cr, place - out * 2, y - 3.2);
    cairo_line_to (pen->cr, place - out * 2, y + 3.2);
  }
  cairo_fill (pen->cr);
}

static double
worst_expanded (const SpConditionFindings *c)
{
  if (c->worst_emission < 0)
    return NAN;
  return sp_emission_deciding_expanded_db (&c->emissions[c->worst_emission]);
}

static void
draw_row (SpPen *pen, const SpFindings *findings, const SpView *view, guint i, const SpRect *row)
{
  gboolean chosen = i == view->condition;
  const SpConditionFindings *c = &findings->conditions[i];
  const SpPalette *palette = pen->palette;
  double right = row->x + row->width, first = row->y + row->height / 2 - 5, second = first + 18;
  if (chosen) {
    SpRect wash = { row->x - 10, row->y + 1, row->width + 20, row->height - 1 };
    sp_pen_colour (pen, &palette->floor_edge, 0.15);
    sp_pen_box (pen, &wash);
  }
  g_autofree char *number = g_strdup_printf ("%u", sp_view_row (view, i));
  sp_pen_text (pen, row->x + NUMBER - 6, first, SP_TEXT_BODY, &palette->ink, 1, number);
  sp_mark_swatch (pen, row->x + NUMBER, first - 4.5, SP_SWATCH_LENGTH, i);
  g_autofree char *margin = sp_words_deciding_margin (c, SP_HAND_SCREEN);
  double taken = *margin ? sp_pen_text (pen, right, first, SP_TEXT_BODY, &palette->ink, 1, margin) : 0;
  double left = row->x + NUMBER + SP_SWATCH_LENGTH + 7, x = left;
  x += sp_pen_text_fit (pen, x, first, SP_TEXT_HEAD, &palette->ink, right - taken - 8 - x, sp_name_lead (findings, i)) + 7;
  sp_pen_text_fit (pen, x, first, SP_TEXT_SMALL, &palette->soft, right - taken - 8 - x, sp_name_rest (findings, i));
  sp_glyph_verdict (pen, row->x + NUMBER + SP_SWATCH_LENGTH / 2, second - 4, 14, c->verdict);
  sp_pen_text (pen, left, second, SP_TEXT_BODY, &palette->ink, 0, sp_words_verdict (c->verdict));
  double line = CLAMP (right - left - 84, 36, 92);
  if (c->verdict != SP_VERDICT_NO_LIMIT)
    sp_margin_line_draw (pen, right - line, second - 4.5, line, sp_findings_room_db (c), worst_expanded (c));
  sp_pen_colour (pen, &palette->soft, 0.3);
  sp_pen_line (pen, row->x, row->y + row->height, right, row->y + row->height, 1);
}

/* What the chosen one still wants: of each kind of proposal the one that asks most, for it serves the others too. */
static guint
gather_wants (const SpConditionFindings *c, const SpReason **wants, guint most)
{
  guint n = 0;
  if (c->n_gaps > 0 && c->gaps[0].would_close)
    wants[n++] = c->gaps[0].would_close;
  for (guint i = 0; i < c->n_emissions; i++) {
    const SpReason *proof = (int) i == c->unsettled_emission ? NULL : c->emissions[i].would_prove; /* its sentence has it */
    guint k = 0;
    while (proof && k < n && wants[k]->code != proof->code)
      k++;
    if (!proof || k == most)
      continue;
    if (k == n)
      wants[n++] = proof;
    else if (sp_would_prove_asks_more (proof, wants[k]))
      wants[k] = proof;
  }
  return n;
}

/* What stands above its limit unsettled while another made the verdict, and what no sweep shows; returns its height. */
static double
draw_unsettled (SpPen *pen, const SpFindings *findings, const SpView *view, double x, double y, double width, double bottom)
{
  double line = sp_pen_line_height (SP_TEXT_SMALL) + 1;
  const SpConditionFindings *found = view->condition < findings->n ? &findings->conditions[view->condition] : NULL;
  g_autofree char *unsettled = found ? sp_words_unsettled (found, SP_HAND_SCREEN) : NULL,
                  *gap = found ? sp_words_not_shown (found, SP_HAND_SCREEN) : NULL;
  const char *sentences[] = { unsettled, gap };
  double top = y;
  for (guint i = 0; i < G_N_ELEMENTS (sentences); i++)
    if (sentences[i] && y + line <= bottom)
      y += sp_pen_text_wrap (pen, x, y, SP_TEXT_SMALL, &pen->palette->ink, width, (guint) ((bottom - y) / line + 1), sentences[i]) * line
           + 4;
  return y - top;
}

static void
draw_wants (SpPen *pen, const SpFindings *findings, const SpView *view, const SpRect *rect)
{
  const SpReason *wants[4];
  guint n = view->condition < findings->n ? gather_wants (&findings->conditions[view->condition], wants, G_N_ELEMENTS (wants)) : 0;
  double y = rect->y + 24, bottom = rect->y + rect->height, line = sp_pen_line_height (SP_TEXT_SMALL) + 1;
  y += draw_unsettled (pen, findings, view, rect->x, y, rect->width, bottom);
  if (n == 0 || y + 2 * line > bottom)
    return;
  g_autofree char *name = sp_name_short (findings, view->condition), *head = g_strdup_printf (_ ("%s still wants"), name);
  sp_pen_text_fit (pen, rect->x, y, SP_TEXT_BOLD, &pen->palette->ink, rect->width, head);
  y += line + 4;
  for (guint i = 0; i < n && y + line < bottom; i++) {
    g_autofree char *sentence = sp_words_reason (wants[i], SP_HAND_SCREEN);
    sp_pen_text (pen, rect->x, y, SP_TEXT_SMALL, &pen->palette->ink, 0, "\xc2\xb7");
    guint space = (guint) ((bottom - y) / line + 1);
    y += sp_pen_text_wrap (pen, rect->x + 10, y, SP_TEXT_SMALL, &pen->palette->ink, rect->width - 10, space, sentence) * line + 4;
  }
}

void
sp_radios_draw (SpPen *pen, const SpFindings *findings, const SpView *view, const SpRect *rect)
{
  guint shown = 0, drawn = 0;
  for (guint i = 0; i < findings->n; i++)
    shown += sp_view_shows (view, findings, i) ? 1 : 0;
  double row = CLAMP ((rect->height - HEAD) / MAX (shown, 1), LEAST_ROW, ROW), right = rect->x + rect->width;
  guint fit = (guint) MAX (1, (rect->height - HEAD) / row);
  if (fit < shown)
    fit = MAX (fit, 2) - 1; /* space to say how many more */
  cairo_save (pen->cr);
  const char *only = sp_name_only_radio (findings);
  sp_pen_text (pen, rect->x, rect->y + 15, SP_TEXT_HEAD, &pen->palette->ink, 0, only ? only : _ ("Radios"));
  sp_pen_text (pen, right, rect->y + 15, SP_TEXT_SMALL, &pen->palette->soft, 1, _ ("room, dB"));
  sp_pen_colour (pen, &pen->palette->ink, 0.8);
  sp_pen_line (pen, rect->x, rect->y + HEAD - 5, right, rect->y + HEAD - 5, 1);
  double y = rect->y + HEAD - 5;
  g_autofree guint *order = g_new (guint, findings->n + 1);
  sp_view_order (view, findings, order);
  for (guint k = 0; k < findings->n && drawn < fit; k++) {
    guint i = order[k];
    if (!sp_view_shows (view, findings, i))
      continue;
    SpRect place = { rect->x, y, rect->width, row };
    draw_row (pen, findings, view, i, &place);
    y += row;
    drawn++;
  }
  if (drawn < shown) {
    g_autofree char *more = g_strdup_printf (_ ("and %u more"), shown - drawn);
    sp_pen_text (pen, rect->x, y + 18, SP_TEXT_SMALL, &pen->palette->soft, 0, more);
    y += 24;
  }
  SpRect below = { rect->x, y, rect->width, rect->y + rect->height - y };
  draw_wants (pen, findings, view, &below);
  cairo_restore (pen->cr);
}
