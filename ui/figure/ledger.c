/* ledger.c - the emissions that matter as a table without vertical rules */
#include "ui/figure/panels.h"

#include "ui/figure/pen/glyph.h"
#include "ui/figure/pen/names.h"
#include "ui/words/words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define ROW 27
#define HEAD 26

typedef struct {
  guint condition;
  const SpEmission *emission;
  gboolean leads; /* its condition's worst, or unsettled above its limit beside that */
  gboolean unsettled;
} Line;

/* Columns by importance: the last to come is the first to go on a narrow sheet. */
typedef enum { COL_NAME, COL_MHZ, COL_DBM, COL_U, COL_DBC, COL_ORIGIN, COL_LINE, COL_ROOM, COL_P, COL_VERDICT, COL_WHY, N_COLUMNS } Column;

typedef struct {
  double x[N_COLUMNS], width[N_COLUMNS];
} Columns;

static const struct {
  double width;
  double align;
  double least_sheet;
} column_style[N_COLUMNS] = {
  [COL_NAME] = { 134, 0, 0 },    [COL_MHZ] = { 58, 1, 0 },     [COL_DBM] = { 66, 1, 0 },  [COL_U] = { 40, 1, 0 },
  [COL_DBC] = { 66, 1, 1150 },   [COL_LINE] = { 64, 0, 860 },  [COL_ROOM] = { 82, 1, 0 }, [COL_P] = { 50, 1, 1300 },
  [COL_ORIGIN] = { 76, 0, 900 }, [COL_VERDICT] = { 92, 0, 0 }, [COL_WHY] = { 0, 0, 0 },
};

static void
lay_out (const SpRect *rect, Columns *columns)
{
  double x = rect->x + 20, tight = rect->width < 900 ? 0.7 : 1;
  for (guint i = 0; i < N_COLUMNS; i++) {
    gboolean shown = rect->width >= column_style[i].least_sheet;
    double gap = i == COL_LINE || i == COL_ORIGIN || i == COL_VERDICT || i == COL_WHY ? 18 : i == COL_ROOM ? 4 : 8;
    columns->width[i] = shown ? column_style[i].width : 0;
    if (shown && i > 0)
      x += gap * tight;
    columns->x[i] = x;
    x += columns->width[i];
  }
  columns->width[COL_WHY] = MAX (0, rect->x + rect->width - columns->x[COL_WHY]);
}

static void
put (SpPen *pen, const Columns *columns, Column column, double baseline, SpTextStyle style, const SpColour *colour, const char *text)
{
  double width = columns->width[column], x = columns->x[column];
  if (!(width > 0) || !text)
    return;
  if (column_style[column].align > 0)
    sp_pen_text (pen, x + width, baseline, style, colour, 1, text);
  else
    sp_pen_text_fit (pen, x, baseline, style, colour, width, text);
}

static int
worst_first (const void *a, const void *b)
{
  const Line *x = a, *y = b;
  if (x->unsettled != y->unsettled)
    return x->unsettled ? -1 : 1;
  if (x->emission->verdict != y->emission->verdict)
    return (int) y->emission->verdict - (int) x->emission->verdict;
  double p = sp_emission_room_db (x->emission), q = sp_emission_room_db (y->emission);
  p = isnan (p) ? INFINITY : p;
  q = isnan (q) ? INFINITY : q;
  if (p != q)
    return p < q ? -1 : 1;
  return x->condition != y->condition ? (x->condition < y->condition ? -1 : 1) : (x->emission > y->emission) - (x->emission < y->emission);
}

/* Who gets a row: leaders first, then the chosen condition's, then the rest; each group the worst first. */
static int
deserves (const void *a, const void *b)
{
  const Line *x = a, *y = b;
  return x->leads != y->leads ? (x->leads ? -1 : 1) : worst_first (a, b);
}

static GArray *
choose_lines (const SpFindings *findings, const SpView *view, guint most)
{
  GArray *lines = g_array_new (FALSE, FALSE, sizeof (Line));
  for (guint i = 0; i < findings->n; i++) {
    const SpConditionFindings *c = &findings->conditions[i];
    if (!sp_view_shows (view, findings, i))
      continue;
    for (guint k = 0; k < c->n_emissions; k++) {
      gboolean unsettled = (int) k == c->unsettled_emission;
      Line line = { i, &c->emissions[k], (int) k == c->worst_emission || unsettled, unsettled };
      if (line.leads || c->emissions[k].verdict != SP_VERDICT_NO_LIMIT)
        g_array_append_val (lines, line);
    }
  }
  g_array_sort (lines, deserves);
  if (lines->len > most)
    g_array_set_size (lines, most);
  g_array_sort (lines, worst_first);
  return lines;
}

static void
draw_head (SpPen *pen, const Columns *columns, const SpRect *rect)
{
  const char *names[N_COLUMNS] = { _ ("emission"),
                                   _ ("MHz"),
                                   _ ("dBm"),
                                   _ ("\xc2\xb1 U"),
                                   _ ("dBc"),
                                   _ ("origin"),
                                   NULL,
                                   _ ("room"),
                                   _ ("p"),
                                   _ ("verdict"),
                                   _ ("because, and what would prove it") };
  for (guint i = 0; i < N_COLUMNS; i++)
    put (pen, columns, i, rect->y + 14, SP_TEXT_SMALL, &pen->palette->soft, names[i]);
  sp_pen_colour (pen, &pen->palette->ink, 0.8);
  sp_pen_line (pen, rect->x, rect->y + HEAD - 4, rect->x + rect->width, rect->y + HEAD - 4, 1);
}

static void
draw_numbers (SpPen *pen, const Columns *columns, const SpEmission *emission, double baseline)
{
  const SpColour *ink = &pen->palette->ink;
  g_autofree char *mhz = sp_words_number (emission->frequency_hz / 1e6, emission->frequency_hz < 100e6 ? 2 : 1, SP_HAND_SCREEN);
  gboolean blind = sp_emission_is_blind (emission);
  g_autofree char *dbm = sp_words_seen (emission, emission->level_dbm, SP_HAND_SCREEN),
                  *dbc = sp_words_seen (emission, emission->level_dbc, SP_HAND_SCREEN);
  g_autofree char *u = sp_words_number (emission->budget.expanded_level_db, 1, SP_HAND_SCREEN);
  double conformity = sp_emission_deciding_conformity (emission);
  g_autofree char *room = sp_words_room_u (emission, SP_HAND_SCREEN),
                  *p = isnan (conformity) ? NULL : sp_words_number (conformity, 3, SP_HAND_SCREEN);
  put (pen, columns, COL_MHZ, baseline, SP_TEXT_BODY, ink, mhz);
  put (pen, columns, COL_DBM, baseline, SP_TEXT_BODY, ink, dbm);
  if (emission->swept)
    put (pen, columns, COL_U, baseline, SP_TEXT_BODY, ink, u);
  put (pen, columns, COL_DBC, baseline, SP_TEXT_BODY, ink, dbc);
  put (pen, columns, COL_ROOM, baseline, SP_TEXT_BODY, ink, room);
  put (pen, columns, COL_P, baseline, SP_TEXT_BODY, ink, p);
  if (columns->width[COL_LINE] > 0 && !isnan (emission->limit_dbm) && !blind)
    sp_margin_line_draw (pen, columns->x[COL_LINE], baseline - 4.5, columns->width[COL_LINE], sp_emission_room_db (emission),
                         sp_emission_deciding_expanded_db (emission));
}

/* Both sentences where they fit; else what would prove it, because the numbers beside it already say why. */
static void
draw_why (SpPen *pen, const Columns *columns, const SpEmission *emission, double baseline)
{
  g_autofree char *reason = emission->reason ? sp_words_reason (emission->reason, SP_HAND_SCREEN) : g_strdup ("");
  g_autofree char *proof = emission->would_prove ? sp_words_reason (emission->would_prove, SP_HAND_SCREEN) : NULL;
  g_autofree char *both = proof ? g_strdup_printf ("%s %s", reason, proof) : g_strdup (reason);
  double width = columns->width[COL_WHY], x = columns->x[COL_WHY];
  const char *text = !proof || sp_pen_text_lines (pen, SP_TEXT_TINY, width, both) <= 2 ? both : proof;
  if (sp_pen_text_width (pen, SP_TEXT_BODY, text) <= width)
    sp_pen_text (pen, x, baseline, SP_TEXT_BODY, &pen->palette->ink, 0, text);
  else
    sp_pen_text_wrap (pen, x, baseline - 6, SP_TEXT_TINY, &pen->palette->ink, width, 2, text);
}

static void
draw_line (SpPen *pen, const SpFindings *findings, const SpView *view, const Columns *columns, const Line *line, const SpRect *row)
{
  const SpEmission *emission = line->emission;
  double baseline = row->y + 18;
  if (line->condition == view->condition) {
    SpRect wash = { row->x - 10, row->y + 1, row->width + 10, row->height - 1 };
    sp_pen_colour (pen, &pen->palette->floor_edge, 0.15);
    sp_pen_box (pen, &wash);
  }
  g_autofree char *what = sp_name_emission (emission);
  g_autofree char *whose = sp_name_short (findings, line->condition), *name = g_strdup_printf ("%s %s", whose, what);
  sp_glyph_verdict (pen, row->x + 7, baseline - 4, 13, emission->verdict);
  put (pen, columns, COL_NAME, baseline, SP_TEXT_BOLD, &pen->palette->ink, name);
  draw_numbers (pen, columns, emission, baseline);
  put (pen, columns, COL_ORIGIN, baseline, SP_TEXT_BODY, &pen->palette->ink,
       emission->origin == SP_ORIGIN_NONE ? NULL : sp_words_origin (emission->origin));
  put (pen, columns, COL_VERDICT, baseline, SP_TEXT_BOLD, &pen->palette->ink, sp_words_verdict (emission->verdict));
  draw_why (pen, columns, emission, baseline);
  sp_pen_colour (pen, &pen->palette->soft, 0.3);
  sp_pen_line (pen, row->x, row->y + row->height, row->x + row->width, row->y + row->height, 1);
}

double
sp_ledger_height (guint rows)
{
  return HEAD + rows * ROW;
}

void
sp_ledger_draw (SpPen *pen, const SpFindings *findings, const SpView *view, const SpRect *rect)
{
  Columns columns;
  lay_out (rect, &columns);
  g_autoptr (GArray) lines = choose_lines (findings, view, (guint) MAX (0, (rect->height - HEAD) / ROW));
  cairo_save (pen->cr);
  draw_head (pen, &columns, rect);
  for (guint i = 0; i < lines->len; i++) {
    SpRect row = { rect->x, rect->y + HEAD - 4 + i * ROW, rect->width, ROW };
    draw_line (pen, findings, view, &columns, &g_array_index (lines, Line, i), &row);
  }
  cairo_restore (pen->cr);
}
