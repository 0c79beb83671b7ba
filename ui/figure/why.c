/* why.c - draws the steps from a reading to its verdict */
#include "ui/figure/why.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "ui/figure/evidence.h"
#include "ui/figure/pen/fog.h"
#include "ui/figure/pen/frame.h"
#include "ui/figure/pen/glyph.h"
#include "ui/figure/pen/mark.h"
#include "ui/figure/pen/view.h"
#include "ui/words/help.h"

#define AROUND 0.055 /* of the frequency, either side, that the reading's picture shows */
#define ROW 19
#define BAR_SHARE 0.2 /* of the width: the greatest bar of the budget */
#define LEAST_HALF_DB 4.0
#define DOT 4
#define WIDE 440 /* for the whole plot of the evidence */

typedef struct {
  SpPen *pen;
  const SpWhy *why;
  const SpEmission *e;
  const SpColour *ink; /* of the trace */
  SpFrame frame;
} Drawing;

static double
x_of (const Drawing *d, double value)
{
  return sp_axis_at (&d->frame.x, value);
}

static double
y_of (const Drawing *d, double value)
{
  return CLAMP (sp_axis_at (&d->frame.y, value), d->frame.area.y, d->frame.area.y + d->frame.area.height);
}

static SpRect
area_of (const SpRect *rect)
{
  return (SpRect){ rect->x + 42, rect->y + 20, rect->width - 58, rect->height - 54 };
}

static void
dot (const Drawing *d, double x, double y)
{
  cairo_new_path (d->pen->cr);
  cairo_arc (d->pen->cr, x, y, DOT, 0, 2 * G_PI);
  sp_pen_colour (d->pen, &d->pen->palette->ink, 1);
  cairo_fill (d->pen->cr);
}

/* A value in bold, to the right of its place or, where that ends, to the left. */
static void
name_value (const Drawing *d, double x, double y, const char *text)
{
  double width = sp_pen_text_width (d->pen, SP_TEXT_BOLD, text);
  gboolean left = x + 9 + width > d->frame.area.x + d->frame.area.width;
  sp_pen_text_halo (d->pen, left ? x - 9 : x + 9, y + 4, SP_TEXT_BOLD, &d->pen->palette->ink, left ? 1 : 0, text, &d->pen->palette->sheet);
}

static void
name_level (const Drawing *d, double x, double y, double level_dbm)
{
  g_autofree char *text = sp_words_number (level_dbm, 1, SP_HAND_SCREEN);
  name_value (d, x, y, text);
}

/* Nothing to be drawn: fog, and why. */
static void
draw_fog (SpPen *pen, const SpRect *rect, const char *text)
{
  SpRect fog = { rect->x, rect->y + 12, rect->width, rect->height - 24 };
  cairo_save (pen->cr);
  cairo_rectangle (pen->cr, fog.x, fog.y, fog.width, fog.height);
  cairo_clip (pen->cr);
  sp_fog (pen, &fog);
  cairo_restore (pen->cr);
  sp_pen_text (pen, fog.x + fog.width / 2, fog.y + fog.height / 2 + 4, SP_TEXT_BOLD, &pen->palette->fog_ink, 0.5, text);
}

/* ---- curves ---- */

typedef struct {
  guint64 n;
  const double *x, *y;
  double per_unit; /* x over this is the axis' value */
} Curve;

static guint64
first_at (const Curve *curve, double value)
{
  guint64 low = 0, high = curve->n;
  while (low < high) {
    guint64 middle = low + (high - low) / 2;
    if (curve->x[middle] / curve->per_unit < value)
      low = middle + 1;
    else
      high = middle;
  }
  return low;
}

static void
range_of (const Curve *curve, double from, double to, double *low, double *high)
{
  for (guint64 i = first_at (curve, from); i < curve->n && curve->x[i] / curve->per_unit <= to; i++) {
    *low = MIN (*low, curve->y[i]);
    *high = MAX (*high, curve->y[i]);
  }
}

/* The points of one column as one stroke from the lowest to the highest. */
static void
draw_curve (Drawing *d, const Curve *curve)
{
  cairo_t *cr = d->pen->cr;
  cairo_save (cr);
  sp_frame_clip (&d->frame, d->pen);
  cairo_new_path (cr);
  guint64 i = first_at (curve, d->frame.x.from);
  while (i < curve->n && curve->x[i] / curve->per_unit <= d->frame.x.to) {
    double x = x_of (d, curve->x[i] / curve->per_unit), column = floor (x), low = curve->y[i], high = low, last = low;
    for (; i < curve->n && floor (x_of (d, curve->x[i] / curve->per_unit)) == column; i++) {
      last = curve->y[i];
      low = MIN (low, last);
      high = MAX (high, last);
    }
    cairo_line_to (cr, x, sp_axis_at (&d->frame.y, low));
    cairo_line_to (cr, x, sp_axis_at (&d->frame.y, high));
    cairo_line_to (cr, x, sp_axis_at (&d->frame.y, last));
  }
  sp_pen_colour (d->pen, d->ink, 1);
  cairo_set_line_width (cr, 1.1);
  cairo_stroke (cr);
  cairo_restore (cr);
}

static void
draw_read (Drawing *d, const SpRect *rect)
{
  const SpEmission *e = d->e;
  if (!e->swept) {
    draw_fog (d->pen, rect, _ ("not swept"));
    return;
  }
  const SpTrace *trace = d->why->findings->bench->conditions[d->why->found->condition].sweeps[e->sweep].trace;
  Curve curve = { trace->n, trace->frequency_hz, trace->reading_dbm, 1e6 };
  SpRect area = area_of (rect);
  double place = e->frequency_hz / 1e6, low = e->reading_dbm, high = e->reading_dbm;
  range_of (&curve, place * (1 - AROUND), place * (1 + AROUND), &low, &high);
  double space = MAX ((high - low) * 0.18, 4);
  sp_frame_init (&d->frame, &area, place * (1 - AROUND), place * (1 + AROUND), low - space, high + space);
  sp_frame_draw (&d->frame, d->pen, "dBm", "MHz");
  draw_curve (d, &curve);
  double x = x_of (d, place), y = y_of (d, e->reading_dbm);
  if (e->detected) {
    dot (d, x, y);
  } else {
    sp_pen_colour (d->pen, &d->pen->palette->floor_edge, 1);
    sp_pen_dotted (d->pen, area.x, y, area.x + area.width, y, 1.2, 3);
  }
  name_level (d, x, y - (e->detected ? 0 : 8), e->reading_dbm);
}

/* ---- what the chain took ---- */

static void
draw_chain (Drawing *d, const SpRect *rect)
{
  const SpWhy *why = d->why;
  if (!d->e->swept) {
    draw_fog (d->pen, rect, _ ("not swept"));
    return;
  }
  SpRect area = area_of (rect);
  double from = d->e->reading_dbm, low = from, high = from, slot = area.width / (why->n_stages + 1);
  for (guint i = 0; i < why->n_stages; i++) {
    low = MIN (low, why->stages[i].level_dbm);
    high = MAX (high, why->stages[i].level_dbm);
  }
  double space = MAX ((high - low) * 0.14, 2);
  sp_frame_init (&d->frame, &area, 0, why->n_stages + 1, low - space, high + space);
  sp_frame_draw (&d->frame, d->pen, "dBm", NULL);
  double y = y_of (d, from);
  sp_pen_colour (d->pen, &d->pen->palette->ink, 1);
  for (guint i = 0; i < why->n_stages; i++) {
    double x = area.x + (i + 1) * slot, next = y_of (d, why->stages[i].level_dbm);
    g_autofree char *loss = sp_words_signed (why->stages[i].loss_db, 1, SP_HAND_SCREEN);
    sp_pen_colour (d->pen, &d->pen->palette->ink, 1);
    sp_pen_line (d->pen, x - slot, y, x, y, 2);
    sp_pen_line (d->pen, x, y, x, next, 2);
    sp_pen_text_halo (d->pen, x - 4, next - y < -24 ? (y + next) / 2 + 4 : next - 6, SP_TEXT_BOLD, &d->pen->palette->ink, 1, loss,
                      &d->pen->palette->sheet);
    sp_pen_text_fit (d->pen, x + 3, area.y + area.height + 15, SP_TEXT_SMALL, &d->pen->palette->soft, slot - 4, why->stages[i].stage->name);
    y = next;
  }
  sp_pen_colour (d->pen, &d->pen->palette->ink, 1);
  sp_pen_line (d->pen, area.x + area.width - slot, y, area.x + area.width, y, 2);
  dot (d, area.x, y_of (d, from));
  dot (d, area.x + area.width, y);
  sp_pen_text_fit (d->pen, area.x, area.y + area.height + 15, SP_TEXT_SMALL, &d->pen->palette->soft, slot - 4, _ ("analyzer"));
  sp_pen_text (d->pen, area.x + area.width, y + 18, SP_TEXT_SMALL, &d->pen->palette->soft, 1, _ ("socket"));
}

/* ---- level at the socket ---- */

static void
draw_level (Drawing *d, const SpRect *rect)
{
  const SpConditionFindings *found = d->why->found;
  const SpEmission *e = d->e;
  if (!e->swept || e->corrected >= found->n_corrected) {
    draw_fog (d->pen, rect, _ ("not swept"));
    return;
  }
  const SpCorrected *corrected = &found->corrected[e->corrected];
  gboolean times = found->fundamental_hz > 0;
  Curve curve = { corrected->n, corrected->frequency_hz, corrected->level_dbm, times ? found->fundamental_hz : 1e6 };
  double place = e->frequency_hz / curve.per_unit, from = times ? 0.5 : corrected->frequency_hz[0] / 1e6, to = MAX (place, 2) + 0.9;
  double low = e->level_dbm, high = e->level_dbm;
  SpRect area = area_of (rect);
  range_of (&curve, from, to, &low, &high);
  double space = MAX ((high - low) * 0.14, 3);
  sp_frame_init (&d->frame, &area, from, to, low - space, high + space);
  sp_frame_draw (&d->frame, d->pen, "dBm", times ? "f/f0" : "MHz");
  draw_curve (d, &curve);
  if (times && !isnan (found->power_dbm))
    name_level (d, x_of (d, 1), y_of (d, found->power_dbm) + 4, found->power_dbm);
  if (e->detected)
    dot (d, x_of (d, place), y_of (d, e->level_dbm));
  else
    sp_mark_step (d->pen, x_of (d, place), y_of (d, e->level_dbm), FALSE);
  name_level (d, x_of (d, place), y_of (d, e->level_dbm), e->level_dbm);
}

/* ---- whose ---- */

static void
draw_bar (Drawing *d, double x, double level_dbm, const char *name, gboolean own)
{
  double y = y_of (d, level_dbm), foot = d->frame.area.y + d->frame.area.height;
  SpRect bar = { x - 5, y, 10, foot - y };
  if (own) {
    sp_mark_pipe (d->pen, &bar, d->ink, FALSE);
    sp_glyph_origin (d->pen, x, y, DOT, SP_ORIGIN_ANALYZER, &d->pen->palette->ink);
  } else {
    sp_pen_colour (d->pen, d->ink, 1);
    sp_pen_box (d->pen, &bar);
    dot (d, x, y);
  }
  sp_pen_text (d->pen, x, foot + 15, SP_TEXT_SMALL, &d->pen->palette->soft, 0.5, name);
}

/* The readings of the step test against the added attenuation, without the parts that a wider plot has beside them. */
static void
draw_fan (Drawing *d, const SpRect *area)
{
  const SpEvidence *evidence = d->e->evidence;
  double low = d->e->level_dbm, high = low, most = 10;
  for (guint i = 0; i < evidence->n; i++) {
    low = MIN (low, evidence->points[i].level_dbm);
    high = MAX (high, evidence->points[i].level_dbm);
    most = MAX (most, evidence->points[i].attenuation_db);
  }
  double space = MAX ((high - low) * 0.2, 3);
  sp_frame_init (&d->frame, area, -0.15 * most, 1.15 * most, low - space, high + space);
  sp_frame_draw (&d->frame, d->pen, "dBm", _ ("dB more attenuation"));
  double y = y_of (d, d->e->level_dbm);
  const char *stays = _ ("the radio's own would stay");
  sp_pen_colour (d->pen, &d->pen->palette->soft, 1);
  sp_pen_dotted (d->pen, x_of (d, 0), y, area->x + area->width, y, 1, 3);
  sp_pen_text (d->pen, area->x + area->width, y - 6, SP_TEXT_TINY, &d->pen->palette->soft, 1, stays);
  for (guint i = 0; i < evidence->n; i++) {
    const SpEvidencePoint *point = &evidence->points[i];
    double x = x_of (d, point->attenuation_db), reading = y_of (d, point->level_dbm);
    g_autofree char *level = sp_words_number (point->level_dbm, 1, SP_HAND_SCREEN);
    g_autofree char *text = point->seen ? g_strdup (level) : g_strdup_printf ("< %s", level);
    if (i == 0)
      dot (d, x, reading);
    else
      sp_mark_step (d->pen, x, reading, point->seen);
    /* below the line where the radio's own would stay, and its words; an arrow down has its number above */
    sp_pen_text_halo (d->pen, x, point->seen ? reading + 17 : reading - 6, SP_TEXT_SMALL, &d->pen->palette->ink, 0.5, text,
                      &d->pen->palette->sheet);
  }
}

static void
draw_whose (Drawing *d, const SpRect *rect)
{
  const SpEmission *e = d->e;
  SpRect area = area_of (rect);
  if (e->origin == SP_ORIGIN_NONE) {
    draw_fog (d->pen, rect, e->swept ? _ ("nothing seen") : _ ("not swept"));
    return;
  }
  if (e->evidence && (e->evidence->n > 0 || !isnan (e->evidence->ambient_dbm))) {
    if (e->evidence->n > 0 && rect->width < WIDE)
      draw_fan (d, &area);
    else
      sp_evidence_draw (d->pen, e, rect);
    return;
  }
  gboolean foretold = isfinite (e->product_high_dbm);
  double other = foretold ? e->product_high_dbm : e->level_dbm - 20; /* as good as any: only the bar's foot */
  sp_frame_init (&d->frame, &area, 0, 1, MIN (e->level_dbm, other) - 8, MAX (e->level_dbm, other) + 6);
  sp_frame_draw (&d->frame, d->pen, "dBm", NULL);
  double seen = area.x + area.width * 0.28, own = area.x + area.width * 0.7;
  draw_bar (d, seen, e->level_dbm, _ ("seen"), FALSE);
  if (!foretold)
    return;
  draw_bar (d, own, other, _ ("its own, foretold"), TRUE);
  sp_pen_colour (d->pen, &d->pen->palette->soft, 1);
  sp_pen_dotted (d->pen, seen + 6, y_of (d, e->level_dbm), own + 6, y_of (d, e->level_dbm), 1, 3);
  g_autofree char *number = sp_words_number (fabs (d->why->under_product_db), 0, SP_HAND_SCREEN),
                  *text = g_strdup_printf (_ ("%s dB"), number);
  name_value (d, own, (y_of (d, e->level_dbm) + y_of (d, other)) / 2, text);
}

/* ---- the limit ---- */

static void
draw_limit (Drawing *d, const SpRect *rect)
{
  const SpEmission *e = d->e;
  const SpColour *red = &d->pen->palette->limit;
  SpRect area = area_of (rect);
  if (isnan (e->limit_dbm)) {
    draw_fog (d->pen, rect, _ ("no limit"));
    return;
  }
  double decides = isfinite (d->why->decides_dbm) ? d->why->decides_dbm : e->limit_dbm,
         space = MAX (fabs (decides - e->limit_dbm) * 0.5, LEAST_HALF_DB);
  sp_frame_init (&d->frame, &area, 0, 1, MIN (decides, e->limit_dbm) - space, MAX (decides, e->limit_dbm) + space);
  sp_frame_draw (&d->frame, d->pen, "dBm", NULL);
  double y = y_of (d, e->limit_dbm), x = area.x + area.width * 0.38;
  sp_pen_colour (d->pen, red, 1);
  for (double tick = area.x; tick < area.x + area.width - 6; tick += 9)
    sp_pen_line (d->pen, tick, y, tick + 4, y - 6, 1);
  sp_pen_line (d->pen, area.x, y, area.x + area.width, y, 2);
  sp_pen_text (d->pen, area.x + area.width, y + 15, SP_TEXT_BOLD, red, 1, _ ("limit"));
  if (!isfinite (d->why->decides_dbm))
    return;
  g_autofree char *room = sp_words_signed (d->why->room_db, 1, SP_HAND_SCREEN), *text = g_strdup_printf (_ ("room %s dB"), room);
  if (e->decision == SP_DECISION_FLOOR)
    sp_mark_step (d->pen, x, y_of (d, decides), FALSE);
  else
    draw_bar (d, x, decides, "", e->decision == SP_DECISION_PART_HIGH);
  name_value (d, x + 4, y_of (d, decides) + (d->why->room_db < 0 ? -8 : 12), text);
}

/* ---- how sure ---- */

static void
draw_sure (Drawing *d, const SpRect *rect)
{
  const SpWhy *why = d->why;
  guint fit = (guint) MAX (1, (rect->height - ROW) / ROW), n = MIN (why->n_terms, fit);
  double bars = rect->x + rect->width * 0.67, numbers = bars - 12, y = rect->y + 12;
  if (why->n_terms == 0) {
    draw_fog (d->pen, rect, _ ("no U"));
    return;
  }
  sp_pen_text (d->pen, numbers, y, SP_TEXT_TINY, &d->pen->palette->soft, 1, _ ("u, dB"));
  sp_pen_text (d->pen, bars, y, SP_TEXT_TINY, &d->pen->palette->soft, 0, _ ("share of the square"));
  for (guint i = 0; i < n; i++) {
    const SpWhyTerm *term = &why->terms[i];
    g_autofree char *u = sp_words_number (term->u_db, 2, SP_HAND_SCREEN),
                    *per_cent = sp_words_number (100 * term->share, 0, SP_HAND_SCREEN), *share = g_strdup_printf (_ ("%s %%"), per_cent);
    SpTextStyle style = i == 0 ? SP_TEXT_BOLD : SP_TEXT_BODY;
    y += ROW;
    sp_pen_text_fit (d->pen, rect->x, y, style, &d->pen->palette->ink, numbers - rect->x - 34, sp_words_term (term->term->kind));
    sp_pen_text (d->pen, numbers, y, style, &d->pen->palette->ink, 1, u);
    SpRect bar = { bars, y - 9, MAX (2, term->share / why->terms[0].share * rect->width * BAR_SHARE), 9 };
    sp_pen_colour (d->pen, i == 0 ? &d->pen->palette->ink : &d->pen->palette->soft, 0.75);
    sp_pen_box (d->pen, &bar);
    sp_pen_text (d->pen, bar.x + bar.width + 6, y, SP_TEXT_SMALL, &d->pen->palette->ink, 0, share);
  }
}

/* ---- the word ---- */

/* A glyph over its word. */
static void
name_zone (const Drawing *d, double x, double y, SpVerdict verdict)
{
  gboolean chosen = d->e->verdict == verdict;
  sp_pen_text (d->pen, x, y, chosen ? SP_TEXT_BOLD : SP_TEXT_SMALL, chosen ? &d->pen->palette->ink : &d->pen->palette->soft, 0.5,
               sp_words_verdict (verdict));
  sp_glyph_verdict (d->pen, x, y + 17, 16, verdict);
}

static void
draw_ruler (const Drawing *d, const SpRect *band)
{
  SpTick ticks[SP_TICKS_MAX];
  guint n = d->frame.x.scale->ticks (d->frame.x.from, d->frame.x.to, 5, ticks);
  for (guint i = 0; i < n; i++) {
    g_autofree char *text = sp_words_signed (-ticks[i].value, 0, SP_HAND_SCREEN);
    if (ticks[i].labelled)
      sp_pen_text (d->pen, x_of (d, ticks[i].value), band->y + band->height + 15, SP_TEXT_SMALL, &d->pen->palette->soft, 0.5,
                   ticks[i].value == 0 ? "0" : text);
  }
  sp_pen_text (d->pen, band->x + band->width, band->y + band->height + 30, SP_TEXT_SMALL, &d->pen->palette->soft, 1, _ ("room, dB"));
}

/* Good is at the left: the axis is over less the room. */
static void
draw_word (Drawing *d, const SpRect *rect)
{
  const SpWhy *why = d->why;
  double over = -why->room_db, u = why->expanded_db;
  if (!isfinite (over) || !isfinite (u)) {
    sp_glyph_verdict (d->pen, rect->x + rect->width / 2, rect->y + rect->height / 2 - 8, 44, d->e->verdict);
    sp_pen_text (d->pen, rect->x + rect->width / 2, rect->y + rect->height / 2 + 40, SP_TEXT_HEAD, &d->pen->palette->ink, 0.5,
                 sp_words_verdict (d->e->verdict));
    return;
  }
  double half = MAX (LEAST_HALF_DB, 1.25 * (fabs (over) + u));
  SpRect band = { rect->x + 8, rect->y + 58, rect->width - 16, 42 };
  sp_frame_init (&d->frame, &band, -half, half, 0, 1);
  double middle = x_of (d, 0), y = band.y + band.height / 2;
  sp_pen_colour (d->pen, &d->pen->palette->soft, 0.12);
  sp_pen_box (d->pen, &band);
  SpRect guard = { x_of (d, -why->guard_db), band.y, x_of (d, why->guard_db) - x_of (d, -why->guard_db), band.height };
  sp_pen_colour (d->pen, &d->pen->palette->fog, 1);
  sp_pen_box (d->pen, &guard);
  sp_pen_colour (d->pen, &d->pen->palette->limit, 1);
  sp_pen_line (d->pen, middle, band.y - 6, middle, band.y + band.height + 4, 2);
  sp_pen_colour (d->pen, &d->pen->palette->ink, 1);
  sp_pen_line (d->pen, x_of (d, over - u), y, x_of (d, over + u), y, 1.5);
  sp_pen_line (d->pen, x_of (d, over - u), y - 5, x_of (d, over - u), y + 5, 1.5);
  sp_pen_line (d->pen, x_of (d, over + u), y - 5, x_of (d, over + u), y + 5, 1.5);
  if (d->e->decision == SP_DECISION_FLOOR || d->e->decision == SP_DECISION_PART_HIGH) { /* at most there */
    sp_pen_dotted (d->pen, band.x, y, x_of (d, over), y, 1.5, 4);
    sp_pen_line (d->pen, x_of (d, over), y - 8, x_of (d, over), y + 8, 2.2);
  } else {
    dot (d, x_of (d, over), y);
  }
  draw_ruler (d, &band);
  name_zone (d, band.x + band.width * 0.16, rect->y + 14, SP_VERDICT_COMPLIES);
  name_zone (d, middle, rect->y + 14, d->e->verdict == SP_VERDICT_NOT_PROVEN ? SP_VERDICT_NOT_PROVEN : SP_VERDICT_INCONCLUSIVE);
  name_zone (d, band.x + band.width * 0.84, rect->y + 14, SP_VERDICT_EXCEEDS);
}

void
sp_why_draw (SpPen *pen, const SpWhy *why, SpWhyStep step, const SpRect *rect)
{
  static void (*const draw[SP_WHY_STEPS]) (Drawing * d, const SpRect *rect) = { draw_read,  draw_chain, draw_level, draw_whose,
                                                                                draw_limit, draw_sure,  draw_word,  NULL };
  Drawing d = { .pen = pen, .why = why, .e = why->emission, .ink = &pen->palette->trace[sp_view_ink (why->condition)] };
  if (!draw[step] || rect->width < 120 || rect->height < 90)
    return;
  cairo_save (pen->cr);
  draw[step](&d, rect);
  cairo_restore (pen->cr);
}
