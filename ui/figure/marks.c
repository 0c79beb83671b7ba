/* marks.c - the key to the marks of the chart: each with what it means */
#include "ui/figure/marks.h"

#include "ui/figure/pen/fog.h"
#include "ui/figure/pen/glyph.h"
#include "ui/figure/pen/mark.h"
#include "ui/words/help.h"

#include <glib/gi18n-lib.h>

#define ROW 26
#define MARK 34 /* width of the mark's place */
#define GUTTER 20

typedef struct {
  void (*draw) (SpPen *pen, double x, double y, int which);
  int which;
  const char *name, *means; /* means NULL: what the glossary says */
} Mark;

static void
verdict (SpPen *pen, double x, double y, int which)
{
  sp_glyph_verdict (pen, x, y, 14, (SpVerdict) which);
}

static void
origin (SpPen *pen, double x, double y, int which)
{
  sp_glyph_origin (pen, x, y, 3.5, (SpOrigin) which, &pen->palette->ink);
}

static void
whisker (SpPen *pen, double x, double y, int which)
{
  (void) which;
  sp_pen_colour (pen, &pen->palette->ink, 1);
  sp_pen_line (pen, x, y - 8, x, y + 8, 1.2);
  sp_pen_line (pen, x - 4, y - 8, x + 4, y - 8, 1.2);
  sp_pen_line (pen, x - 4, y + 8, x + 4, y + 8, 1.2);
  sp_glyph_origin (pen, x, y, 3.5, SP_ORIGIN_RADIO, &pen->palette->ink);
}

static void
hatched_pipe (SpPen *pen, double x, double y, int guessed)
{
  SpRect rect = { x - 5, y - 9, 10, 17 };
  sp_mark_pipe (pen, &rect, &pen->palette->trace[0], guessed);
  sp_mark_most (pen, x, y + 8);
}

static void
step (SpPen *pen, double x, double y, int seen)
{
  sp_mark_step (pen, x, seen ? y : y - 4, seen);
}

static void
limit (SpPen *pen, double x, double y, int which)
{
  (void) which;
  sp_pen_colour (pen, &pen->palette->limit, 1);
  for (int i = 0; i < 4; i++)
    sp_pen_line (pen, x - 14 + 8 * i, y, x - 10 + 8 * i, y - 6, 1);
  sp_pen_line (pen, x - 15, y, x + 15, y, 2);
}

static void
detection_floor (SpPen *pen, double x, double y, int which)
{
  SpRect below = { x - 15, y - 2, 30, 10 };
  (void) which;
  sp_pen_colour (pen, &pen->palette->floor_edge, 0.22);
  sp_pen_box (pen, &below);
  sp_pen_colour (pen, &pen->palette->floor_edge, 1);
  sp_pen_line (pen, x - 15, y - 2, x + 15, y - 2, 1);
}

static void
fog (SpPen *pen, double x, double y, int which)
{
  SpRect zone = { x - 15, y - 9, 30, 18 };
  (void) which;
  cairo_save (pen->cr);
  cairo_rectangle (pen->cr, zone.x, zone.y, zone.width, zone.height);
  cairo_clip (pen->cr);
  sp_fog (pen, &zone);
  cairo_restore (pen->cr);
}

static void
curve (SpPen *pen, double x, double y, int other)
{
  sp_pen_colour (pen, &pen->palette->trace[0], other ? 0.35 : 1);
  sp_pen_line (pen, x - 15, y, x + 15, y, other ? 1 : 2);
}

static void
reference (SpPen *pen, double x, double y, int which)
{
  (void) which;
  sp_mark_reference (pen, x, y);
}

/* As a row's number stands beside its mark. */
static void
row_number (SpPen *pen, double x, double y, int row)
{
  g_autofree char *number = g_strdup_printf ("%d", row);
  sp_glyph_origin (pen, x, y + 5, 3, SP_ORIGIN_RADIO, &pen->palette->ink);
  sp_pen_text (pen, x, y - 1, SP_TEXT_TINY, &pen->palette->ink, 0.5, number);
}

static void
pin (SpPen *pen, double x, double y, int which)
{
  (void) which;
  sp_mark_pin (pen, x - 8, y + 4);
  sp_pen_line (pen, x - 5, y + 2, x + 8, y - 5, 0.8);
}

/* by hand: one mark a row */
/* clang-format off */
static const Mark marks[] = {
  { verdict, SP_VERDICT_COMPLIES,     N_ ("hangs below the bar"),       NULL },
  { verdict, SP_VERDICT_EXCEEDS,      N_ ("pierces the bar"),           NULL },
  { verdict, SP_VERDICT_INCONCLUSIVE, N_ ("cut by the bar"),            NULL },
  { verdict, SP_VERDICT_NOT_PROVEN,   N_ ("dotted below the bar"),      NULL },
  { verdict, SP_VERDICT_NO_LIMIT,     N_ ("no bar"),                    NULL },
  { whisker, 0,                       N_ ("dot with a whisker"),        N_ ("an emission's level, and its U") },
  { origin, SP_ORIGIN_RADIO,          N_ ("dot"),                       NULL },
  { origin, SP_ORIGIN_ANALYZER,       N_ ("open square"),               NULL },
  { origin, SP_ORIGIN_MIXED,          N_ ("half-filled square"),        NULL },
  { origin, SP_ORIGIN_AMBIENT,        N_ ("antenna"),                   NULL },
  { origin, SP_ORIGIN_UNTESTED,       N_ ("small ring"),                NULL },
  { hatched_pipe, FALSE,                      N_ ("hatched pipe"),              N_ ("not the radio's; the bar below is the most that is") },
  { hatched_pipe, TRUE,                       N_ ("dashed pipe"),               N_ ("perhaps not the radio's: only the profile says so") },
  { step, TRUE,                       N_ ("diamond"),                   N_ ("read again with more attenuation") },
  { step, FALSE,                      N_ ("bar with an arrow"),         N_ ("with more attenuation not seen: at most there") },
  { limit, 0,                         N_ ("hatched line"),              N_ ("the limit; the hatched side is forbidden") },
  { detection_floor, 0,               N_ ("shaded from below"),         N_ ("the floor: nothing below it would have been seen") },
  { fog, 0,                           N_ ("fog"),                       N_ ("blind: the floor lies above the limit") },
  { curve, FALSE,                     N_ ("full curve"),                N_ ("the chosen radio's readings, referred to its socket") },
  { curve, TRUE,                      N_ ("faint curve"),               N_ ("other radios, steps, unkeyed") },
  { row_number, 3,                    N_ ("small figure"),              N_ ("its radio's row in the list (by harmonic, small charts)") },
  { reference, 0,                     N_ ("ring with a cross"),         N_ ("the reference that the others are held against") },
  { pin, 0,                           N_ ("ring with a leader"),        N_ ("a note that somebody pinned there (T)") },
};
/* clang-format on */

/* (transfer full) */
static char *
meaning_of (const Mark *mark)
{
  if (mark->means)
    return g_strdup (_ (mark->means));
  if (mark->draw == origin)
    return g_strdup (sp_words_origin_means ((SpOrigin) mark->which));
  return g_strdup_printf (_ ("%s: %s"), sp_words_verdict ((SpVerdict) mark->which), sp_words_verdict_means ((SpVerdict) mark->which));
}

#define ROWS ((G_N_ELEMENTS (marks) + 1) / 2)

double
sp_marks_height (void)
{
  return ROWS * ROW;
}

void
sp_marks_draw (SpPen *pen, const SpRect *rect)
{
  double width = (rect->width - GUTTER) / 2;
  for (guint i = 0; i < G_N_ELEMENTS (marks); i++) {
    double x = rect->x + (i / ROWS) * (width + GUTTER), y = rect->y + (i % ROWS + 0.5) * ROW;
    g_autofree char *means = meaning_of (&marks[i]);
    cairo_save (pen->cr);
    marks[i].draw (pen, x + MARK / 2.0, y, marks[i].which);
    cairo_restore (pen->cr);
    sp_pen_text_fit (pen, x + MARK + 8, y + 4.5, SP_TEXT_BODY, &pen->palette->ink, width - MARK - 8, means);
  }
}

char *
sp_marks_says (void)
{
  GString *says = g_string_new (NULL);
  for (guint i = 0; i < G_N_ELEMENTS (marks); i++) {
    g_autofree char *means = meaning_of (&marks[i]);
    g_string_append_printf (says, "%s%s: %s.", i > 0 ? " " : "", _ (marks[i].name), means);
  }
  return g_string_free (says, FALSE);
}
