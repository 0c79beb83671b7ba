/* card.c - draws the card: the radio, what is to be done now, how it stands, what is wanted, who is next */
#include "ui/figure/card.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "ui/figure/panels.h"
#include "ui/figure/pen/glyph.h"
#include "ui/words/words.h"

/* The sheet that it is drawn for, and where things stand on it. */
#define WIDTH 1440.0
#define HEIGHT 900.0
#define SIDE 56.0
#define RULE 240.0       /* under the radio's name */
#define MIDDLE 556.0     /* under what is to be done */
#define FOOT 124.0       /* from the last hairline down */
#define SPLIT 0.553      /* of the width: where "so far" begins */
#define SMALLEST 34.0    /* read from two metres */
#define BURNS 0.72       /* of the width, for what the next radio would burn */
#define KEYING 20.0      /* read by who sits at the keys */
#define TYPE 12.5        /* points of the pen's body and bold type */
#define ROW 62.0         /* of what is wanted */
#define CLOSEST_ROW 44.0 /* of it, where there are many */

typedef struct {
  SpPen *pen;
  const SpCardView *view;
  double width, height; /* of the sheet, in its own points */
} Card;

/* ---- type of any size ---- */

static double
width_of (const Card *c, double size, gboolean bold, const char *text)
{
  return sp_pen_text_width (c->pen, bold ? SP_TEXT_BOLD : SP_TEXT_BODY, text) * size / TYPE;
}

/* Smaller where it is too long, down to what can be read, then cut. Returns its width. */
static double
put (const Card *c, double x, double baseline, double size, gboolean bold, const SpColour *colour, double most, const char *text)
{
  SpTextStyle style = bold ? SP_TEXT_BOLD : SP_TEXT_BODY;
  double wide = width_of (c, size, bold, text);
  double scale = (wide > most ? fmax (fmin (size, SMALLEST), size * most / wide) : size) / TYPE;
  cairo_save (c->pen->cr);
  cairo_translate (c->pen->cr, x, baseline);
  cairo_scale (c->pen->cr, scale, scale);
  double got = sp_pen_text_fit (c->pen, 0, 0, style, colour, most / scale + 0.5, text) * scale;
  cairo_restore (c->pen->cr);
  return got;
}

static double
put_right (const Card *c, double right, double baseline, double size, gboolean bold, const SpColour *colour, double most, const char *text)
{
  double wide = fmin (most, width_of (c, size, bold, text));
  return put (c, right - wide, baseline, size, bold, colour, most, text);
}

/* Returns the number of lines. */
static guint
put_lines (const Card *c, double x, double baseline, double size, const SpColour *colour, double most, guint lines, const char *text)
{
  double scale = size / TYPE;
  cairo_save (c->pen->cr);
  cairo_translate (c->pen->cr, x, baseline);
  cairo_scale (c->pen->cr, scale, scale);
  guint n = sp_pen_text_wrap (c->pen, 0, 0, SP_TEXT_BODY, colour, most / scale, lines, text);
  cairo_restore (c->pen->cr);
  return n;
}

static double
line_height (double size)
{
  return size * sp_pen_line_height (SP_TEXT_BODY) / TYPE;
}

static void
hairline (const Card *c, double x1, double y1, double x2, double y2)
{
  sp_pen_colour (c->pen, &c->pen->palette->soft, 0.4);
  sp_pen_line (c->pen, x1, y1, x2, y2, 1.5);
}

/* ---- the radio ---- */

static const SpCondition *
condition_of (const Card *c, guint condition)
{
  const SpFindings *findings = c->view->findings;
  return &findings->bench->conditions[findings->conditions[condition].condition];
}

static const char *
radio_of (const Card *c, guint condition)
{
  return c->view->findings->bench->radios[condition_of (c, condition)->radio].name;
}

static void
draw_head (const Card *c)
{
  const SpPalette *p = c->pen->palette;
  const SpFindings *findings = c->view->findings;
  guint condition = c->view->card->condition;
  double right = c->width - SIDE;
  g_autofree char *place = g_strdup_printf (_ ("%u of %u"), condition + 1, findings->n), *band = sp_words_card_band (findings, condition),
                  *power = sp_words_power (condition_of (c, condition)->rated_w, SP_HAND_SCREEN);
  double taken = put (c, SIDE, 70, SMALLEST, FALSE, &p->soft, 300, place);
  if (findings->bench->title)
    put_right (c, right, 70, SMALLEST, FALSE, &p->soft, right - SIDE - taken - 40, findings->bench->title);
  double power_wide = width_of (c, 76, FALSE, power), room = right - SIDE - power_wide - 40, most_band = fmin (room * 0.4, 420);
  double band_wide = fmin (width_of (c, 76, FALSE, band), most_band);
  double name = put (c, SIDE, 206, 132, TRUE, &p->ink, room - band_wide - 36, radio_of (c, condition));
  put (c, SIDE + name + 36, 206, 76, FALSE, &p->ink, most_band, band);
  put_right (c, right, 206, 76, FALSE, &p->soft, power_wide + 1, power);
  sp_pen_colour (c->pen, &p->ink, 1);
  sp_pen_line (c->pen, SIDE, RULE, right, RULE, 4);
}

/* ---- what is to be done ---- */

static void
draw_now (const Card *c)
{
  const SpPalette *p = c->pen->palette;
  const SpCardView *v = c->view;
  double most = c->width * SPLIT - 36 - SIDE, y = 374;
  gboolean forbids = sp_card_forbids (v->card);
  char *lines[2];
  g_autofree char *unknown = sp_words_card_unknown (v->findings, v->card);
  const char *mind = sp_words_card_mind (v->card, v->state);
  sp_words_card_now (v->findings, v->card, v->state, lines, SP_HAND_SCREEN);
  put (c, SIDE, 293, SMALLEST, FALSE, &p->soft, most, _ ("now"));
  for (guint i = 0; i < 2 && lines[i]; i++, y += 82)
    put (c, SIDE, y, 76, TRUE, forbids ? &p->limit : &p->ink, most, lines[i]);
  y -= 82 - 56;
  if (forbids) {
    g_autofree char *burns = sp_words_card_burns (v->card->burns, v->card->power_w, SP_HAND_SCREEN);
    put_lines (c, SIDE, y, 40, &p->limit, most, 3, burns);
  } else if (mind && !unknown) {
    put (c, SIDE, y, 40, FALSE, &p->ink, most, mind);
  } else if (mind) { /* what nobody knows goes before what everybody should */
    put_lines (c, SIDE, y, SMALLEST, &p->ink, most, lines[1] ? 1 : 3, unknown);
  }
  g_free (lines[0]);
  g_free (lines[1]);
}

/* The number line of the lists, larger. */
static void
draw_line (const Card *c, double x, double y, double width, const SpEmission *deciding)
{
  double scale = 2.4, room_db = sp_emission_room_db (deciding);
  gboolean most = deciding->decision == SP_DECISION_FLOOR || deciding->decision == SP_DECISION_PART_HIGH;
  cairo_save (c->pen->cr);
  cairo_translate (c->pen->cr, x, y);
  cairo_scale (c->pen->cr, scale, scale);
  if (most)
    sp_margin_line_draw_most (c->pen, 0, 0, width / scale, room_db);
  else
    sp_margin_line_draw (c->pen, 0, 0, width / scale, room_db, sp_emission_deciding_expanded_db (deciding));
  cairo_restore (c->pen->cr);
}

static void
draw_so_far (const Card *c)
{
  const SpPalette *p = c->pen->palette;
  const SpCardView *v = c->view;
  const SpConditionFindings *found = &v->findings->conditions[v->card->condition];
  const SpEmission *deciding = sp_findings_deciding (found);
  double x = c->width * SPLIT + 36, right = c->width - SIDE, word_from = x;
  g_autofree char *word = NULL, *room = NULL, *about = NULL;
  sp_words_card_so_far (found, v->card, &word, &room, &about, SP_HAND_SCREEN);
  hairline (c, c->width * SPLIT, 268, c->width * SPLIT, 528);
  put (c, x, 293, SMALLEST, FALSE, &p->soft, right - x, v->stale ? _ ("being judged") : _ ("so far"));
  if (v->stale)
    cairo_push_group (c->pen->cr);
  if (v->card->wanted[0].done) {
    sp_glyph_verdict (c->pen, x + 44, 350, 80, found->verdict);
    word_from += 106;
  }
  put (c, word_from, 374, 76, TRUE, &p->ink, right - word_from, word);
  if (room) {
    double wide = put (c, x, 456, 64, TRUE, &p->ink, right - x, room);
    put (c, x + wide + 24, 456, 38, FALSE, &p->soft, right - x - wide - 24, about);
    draw_line (c, x, 506, right - x, deciding);
  }
  if (v->stale) {
    cairo_pop_group_to_source (c->pen->cr);
    cairo_paint_with_alpha (c->pen->cr, 0.4);
  }
}

/* ---- what is wanted ---- */

static void
draw_tick (const Card *c, double x, double y, double size, gboolean done)
{
  sp_pen_colour (c->pen, &c->pen->palette->soft, 1);
  cairo_set_line_width (c->pen->cr, 1.5);
  cairo_rectangle (c->pen->cr, x, y - size, size, size);
  cairo_stroke (c->pen->cr);
  if (!done)
    return;
  cairo_set_line_width (c->pen->cr, size / 13);
  cairo_move_to (c->pen->cr, x + size * 0.25, y - size * 0.5);
  cairo_line_to (c->pen->cr, x + size * 0.43, y - size * 0.28);
  cairo_line_to (c->pen->cr, x + size * 0.76, y - size * 0.74);
  cairo_stroke (c->pen->cr);
}

/* Where one of them stands, and whether it takes both columns: its words are never cut where that helps. */
typedef struct {
  guint row, column;
  gboolean wide;
} Place;

/* Places those from `first` on; returns the rows. */
static guint
place_them (const Card *c, guint first, double most, Place *places)
{
  const SpCard *card = c->view->card;
  guint row = 0, column = 0;
  for (guint i = first; i < card->n; i++) {
    g_autofree char *words = sp_words_wanted (&card->wanted[i], SP_HAND_SCREEN);
    gboolean wide = width_of (c, SMALLEST, TRUE, words) > most;
    if (wide && column == 1)
      row++, column = 0;
    places[i] = (Place){ row, column, wide };
    row += wide || column == 1 ? 1 : 0;
    column = wide ? 0 : 1 - column;
  }
  return row + column;
}

static void
draw_one (const Card *c, guint i, double x, double y, double size, double most)
{
  const SpPalette *p = c->pen->palette;
  const SpCard *card = c->view->card;
  gboolean now = card->now == (int) i, done = card->wanted[i].done;
  g_autofree char *words = sp_words_wanted (&card->wanted[i], SP_HAND_SCREEN);
  draw_tick (c, x, y + size * 0.06, size * 0.76, done);
  put (c, x + size * 1.2, y, size, now, done ? &p->soft : &p->ink, most, words);
}

/* Where there are too many, those that are done go first, and behind them the last are counted. */
static void
draw_wanted (const Card *c)
{
  const SpCard *card = c->view->card;
  double top = 634, bottom = c->height - FOOT - 8, half = (c->width - 2 * SIDE) / 2, most = half - SMALLEST * 1.2 - 24;
  g_autofree Place *places = g_new0 (Place, card->n + 1);
  guint fit = (guint) fmax (1, (bottom - top) / CLOSEST_ROW), first = 0, rows = place_them (c, 0, most, places), left = 0;
  while (rows > fit && card->wanted[first].done)
    rows = place_them (c, ++first, most, places);
  double row = CLAMP ((bottom - top) / MIN (rows, fit), CLOSEST_ROW, ROW), size = fmin (42, fmax (SMALLEST, 42 * row / ROW));
  for (guint i = first; i < card->n; i++) {
    const Place *at = &places[i];
    double room = at->wide ? c->width - 2 * SIDE - size * 1.2 : half - size * 1.2 - 24;
    left += at->row >= fit ? 1 : 0;
    if (at->row < fit)
      draw_one (c, i, SIDE + at->column * half, top + at->row * row + row * 0.72, size, room);
  }
  g_autofree char *more = left ? g_strdup_printf (_ ("wanted, and %u more"), left) : g_strdup (_ ("wanted"));
  put (c, SIDE, 612, SMALLEST, FALSE, &c->pen->palette->soft, half, more);
}

/* Before a radio's first keying, in the stead of all that it is asked for. */
static void
draw_cautions (const Card *c)
{
  const SpPalette *p = c->pen->palette;
  const SpCardView *v = c->view;
  guint n;
  const char *const *cautions = sp_words_keying_cautions (&n);
  double y = 366, most = c->width - 2 * SIDE, line = line_height (40);
  g_autofree char *unknown = sp_words_card_unknown (v->findings, v->card);
  put (c, SIDE, 293, SMALLEST, FALSE, &p->soft, most, _ ("before it is keyed"));
  for (guint i = 0; i < n; i++, y += 18)
    y += line * put_lines (c, SIDE, y, 40, &p->ink, most, 2, _ (cautions[i]));
  if (unknown)
    put_lines (c, SIDE, y, 40, &p->ink, most, 2, unknown);
}

/* ---- who is next, and the keys ---- */

static void
draw_next (const Card *c, double baseline, double most)
{
  const SpPalette *p = c->pen->palette;
  const SpCard *card = c->view->card;
  double x = SIDE + put (c, SIDE, baseline, SMALLEST, FALSE, &p->soft, 160, _ ("next")) + 52, right = SIDE + most;
  if (card->next < 0) {
    put (c, x, baseline, 42, FALSE, &p->soft, right - x, card->now < 0 ? _ ("nobody: all is done") : _ ("no other"));
    return;
  }
  guint next = (guint) card->next;
  g_autofree char *band = sp_words_card_band (c->view->findings, next),
                  *power = sp_words_power (condition_of (c, next)->rated_w, SP_HAND_SCREEN),
                  *rest = isnan (condition_of (c, next)->rated_w) ? g_strdup (band) : g_strdup_printf ("%s, %s", band, power);
  double name = put (c, x, baseline, 52, TRUE, &p->ink, (right - x) * 0.6, radio_of (c, next));
  put (c, x + name + 24, baseline, 42, FALSE, &p->soft, right - x - name - 24, rest);
  if (card->next_burns) {
    g_autofree char *burns = sp_words_card_burns (card->next_burns, card->next_power_w, SP_HAND_SCREEN);
    put (c, SIDE, baseline + 46, SMALLEST, FALSE, &p->limit, (c->width - 2 * SIDE) * BURNS, burns);
  }
}

static const char *
space_does (const SpCardView *v)
{
  switch (v->state) {
  case SP_CARD_CAUTIONS: return _ ("read and seen to");
  case SP_CARD_WAITS:
  case SP_CARD_RETAKES: return _ ("not yet");
  default:
    return v->card->now < 0                                          ? _ ("next radio")
           : sp_card_forbids (v->card)                               ? NULL
           : v->card->wanted[v->card->now].kind == SP_WANTED_UNKEYED ? _ ("exported")
                                                                     : _ ("keyed, exported");
  }
}

/* From the right: each key bold, then what it does. Returns where they begin. */
static double
draw_keys (const Card *c, double baseline)
{
  const SpCardView *v = c->view;
  const struct {
    const char *key, *does;
  } keys[] = { { _ ("Esc"), _ ("window") },
               { _ ("Right, Left"), _ ("another") },
               { "R", v->state == SP_CARD_READY && v->card->again ? _ ("again") : NULL },
               { _ ("Space"), space_does (v) } };
  double x = c->width - SIDE;
  for (guint i = 0; i < G_N_ELEMENTS (keys); i++) {
    if (!keys[i].does)
      continue;
    x -= put_right (c, x, baseline, KEYING, FALSE, &c->pen->palette->soft, 600, keys[i].does) + 8;
    x -= put_right (c, x, baseline, KEYING, TRUE, &c->pen->palette->ink, 600, keys[i].key) + 22;
  }
  return x;
}

static void
draw_foot (const Card *c)
{
  double top = c->height - FOOT, keys = draw_keys (c, top + 60);
  hairline (c, SIDE, top, c->width - SIDE, top);
  draw_next (c, top + 62, keys - SIDE - 20);
  double room = (c->width - 2 * SIDE) * (c->view->card->next_burns ? 0.98 - BURNS : 1);
  if (c->view->came)
    put_right (c, c->width - SIDE, top + 98, KEYING, FALSE, &c->pen->palette->soft, room, c->view->came);
}

void
sp_card_draw (SpPen *pen, const SpCardView *view, const SpRect *rect)
{
  double scale = fmin (rect->width / WIDTH, rect->height / HEIGHT);
  if (!(scale > 0))
    return;
  Card c = { pen, view, rect->width / scale, rect->height / scale };
  sp_pen_colour (pen, &pen->palette->sheet, 1);
  sp_pen_box (pen, rect);
  cairo_save (pen->cr);
  cairo_translate (pen->cr, rect->x, rect->y);
  cairo_scale (pen->cr, scale, scale);
  draw_head (&c);
  if (view->state == SP_CARD_CAUTIONS) {
    draw_cautions (&c);
  } else {
    draw_now (&c);
    draw_so_far (&c);
    hairline (&c, SIDE, MIDDLE, c.width - SIDE, MIDDLE);
    draw_wanted (&c);
  }
  draw_foot (&c);
  cairo_restore (pen->cr);
}
