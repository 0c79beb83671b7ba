/* staircase.c - the chain as a staircase: level against place, from the radio down to the mixer */
#include "ui/figure/panels.h"

#include "ui/figure/pen/names.h"
#include "ui/figure/pen/scale.h"
#include "ui/words/words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define LEFT 46
#define HEAD 20 /* one line of words above */
#define FOOT 42 /* two below: name and number of each place */
#define HATCH 6
#define TOOTH 5

typedef struct {
  SpPen *pen;
  const SpFindings *findings;
  const SpView *view;
  const SpConditionFindings *chosen;
  const SpHeadroom *headroom;
  const SpChain *chain;
  const SpAnalyzer *analyzer;
  SpRect area;
  SpAxis y;
  double place; /* width of one: the radio, each stage, the analyzer */
} Stair;

static double
place_x (const Stair *stair, guint place)
{
  return stair->area.x + place * stair->place;
}

/* The riser stands in the middle of its stage. */
static double
riser_x (const Stair *stair, guint place)
{
  return place_x (stair, place) + stair->place / 2;
}

static const SpNode *
node_at (const Stair *stair, guint place)
{
  return place > 0 && place <= stair->headroom->n_nodes ? &stair->headroom->nodes[place - 1] : NULL;
}

static const char *
node_name (const Stair *stair, const SpNode *node)
{
  return node->stage >= 0 ? node->name : stair->analyzer ? stair->analyzer->name : _ ("analyzer");
}

static double
rating_dbm (const SpNode *node)
{
  return node->level_dbm + node->headroom_db; /* headroom = rating - level */
}

/* A fault is drawn where it harms; else the sentence alone says that none does. */
static const SpFault *
worst_fault (const Stair *stair)
{
  return stair->headroom->n_faults ? &stair->headroom->faults[0] : NULL;
}

static gboolean
is_harmful (const SpFault *fault)
{
  return fault && (fault->headroom_db < 0 || fault->reflects);
}

static void
level_range (Stair *stair)
{
  double low = INFINITY, high = -INFINITY;
  for (guint i = 0; i < stair->headroom->n_nodes; i++) {
    const SpNode *node = &stair->headroom->nodes[i];
    low = MIN (low, node->level_dbm);
    high = MAX (high, node->level_dbm);
    if (!isnan (node->headroom_db))
      high = MAX (high, rating_dbm (node));
  }
  const SpFault *fault = worst_fault (stair);
  for (guint i = 0; is_harmful (fault) && i < fault->n_nodes; i++)
    high = MAX (high, fault->nodes[i].level_dbm);
  if (!isnan (stair->headroom->mixer_dbm))
    low = MIN (low, stair->headroom->mixer_dbm);
  double space = MAX (6, (high - low) * 0.07);
  stair->y = (SpAxis){ &sp_scale_linear, low - space, high + space * 1.4, stair->area.y + stair->area.height, stair->area.y };
}

static void
draw_axis (Stair *stair)
{
  SpPen *pen = stair->pen;
  SpTick ticks[SP_TICKS_MAX];
  guint n = sp_scale_linear.ticks (stair->y.from, stair->y.to, (guint) MAX (2, stair->area.height / 20), ticks);
  for (guint i = 0; i < n; i++) {
    double y = sp_axis_at (&stair->y, ticks[i].value);
    sp_pen_colour (pen, &pen->palette->floor_edge, 0.2);
    sp_pen_line (pen, stair->area.x, y, stair->area.x + stair->area.width, y, 1);
    g_autofree char *text = sp_words_signed (ticks[i].value, 0, SP_HAND_SCREEN);
    sp_pen_text (pen, stair->area.x - 8, y + 4, SP_TEXT_SMALL, &pen->palette->soft, 1, text);
  }
}

/* One tread at a level from `left` to `right`, where too much goes in as teeth. */
static void
draw_tread (Stair *stair, double left, double right, double y, gboolean over)
{
  SpPen *pen = stair->pen;
  if (!over) {
    sp_pen_colour (pen, &pen->palette->ink, 1);
    sp_pen_line (pen, left, y, right, y, 2);
    return;
  }
  sp_pen_colour (pen, &pen->palette->limit, 1);
  guint n = (guint) MAX (1, (right - left) / (2 * TOOTH));
  double step = (right - left) / n;
  cairo_move_to (pen->cr, left, y);
  for (guint i = 0; i < n; i++) {
    cairo_line_to (pen->cr, left + (i + 0.5) * step, y - TOOTH);
    cairo_line_to (pen->cr, left + (i + 1) * step, y);
  }
  cairo_set_line_width (pen->cr, 2);
  cairo_stroke (pen->cr);
}

/* The riser's thickness tells the uncertainty of the loss: 2 points and 6 more for a dB. */
static double
riser_thickness (double u_db)
{
  return CLAMP (2 + 6 * (isnan (u_db) ? 0 : u_db), 2, 9);
}

static double
level_after (const Stair *stair, guint place)
{
  const SpNode *next = node_at (stair, place + 1);
  return next ? next->level_dbm : stair->headroom->mixer_dbm;
}

static void
draw_stair (Stair *stair)
{
  SpPen *pen = stair->pen;
  const guint last = stair->headroom->n_nodes;
  double first = stair->headroom->nodes[0].level_dbm;
  draw_tread (stair, place_x (stair, 0), place_x (stair, 1), sp_axis_at (&stair->y, first), FALSE);
  for (guint place = 1; place <= last; place++) {
    const SpNode *node = node_at (stair, place);
    double y = sp_axis_at (&stair->y, node->level_dbm), after = level_after (stair, place), middle = riser_x (stair, place);
    draw_tread (stair, place_x (stair, place), middle, y, node->headroom_db < 0);
    if (isnan (after)) /* the attenuation is not known: where the mixer stands nobody can say */
      continue;
    double below = sp_axis_at (&stair->y, after);
    sp_pen_colour (pen, &pen->palette->ink, 1);
    sp_pen_line (pen, middle, MIN (y, below) - 1, middle, MAX (y, below) + 1, riser_thickness (node->u_db));
    draw_tread (stair, middle, place_x (stair, place + 1), below, FALSE);
  }
}

static void
draw_arrow (SpPen *pen, double x, double top, double bottom)
{
  double head = MIN (3.5, (bottom - top) / 3);
  sp_pen_line (pen, x, top, x, bottom, 1);
  cairo_set_line_width (pen->cr, 1);
  cairo_move_to (pen->cr, x - head, top + head);
  cairo_line_to (pen->cr, x, top);
  cairo_line_to (pen->cr, x + head, top + head);
  cairo_move_to (pen->cr, x - head, bottom - head);
  cairo_line_to (pen->cr, x, bottom);
  cairo_line_to (pen->cr, x + head, bottom - head);
  cairo_stroke (pen->cr);
}

static void
draw_dimension (Stair *stair, const SpNode *node, double left, double ceiling)
{
  SpPen *pen = stair->pen;
  double tread = sp_axis_at (&stair->y, node->level_dbm), x = left + 12;
  g_autofree char *number = sp_words_number (node->headroom_db, 1, SP_HAND_SCREEN);
  sp_pen_colour (pen, &pen->palette->soft, 1);
  if (tread - ceiling > 12)
    draw_arrow (pen, x, ceiling + 2, tread - 2);
  else
    x -= 8;
  double below = tread + 14, foot = stair->area.y + stair->area.height + 2; /* the names stand there */
  double baseline = tread - ceiling > 14 ? (tread + ceiling) / 2 + 4 : below <= foot ? below : ceiling - HATCH - 3;
  sp_pen_text_halo (pen, x + 7, baseline, SP_TEXT_SMALL, &pen->palette->soft, 0, number, &pen->palette->sheet);
}

static void
write_over (Stair *stair, const SpNode *node, double left)
{
  SpPen *pen = stair->pen;
  g_autofree char *takes = sp_words_power (node->power_w, SP_HAND_SCREEN), *rated = sp_words_power (node->rating_w, SP_HAND_SCREEN);
  g_autofree char *text = g_strdup_printf (_ ("takes %s, rated %s"), takes, rated);
  double y = sp_axis_at (&stair->y, node->level_dbm);
  sp_pen_text_halo (pen, left + 2, MAX (y - 9, stair->area.y + 10), SP_TEXT_BOLD, &pen->palette->limit, 0, text, &pen->palette->sheet);
}

static void
draw_ceiling (Stair *stair, guint place)
{
  SpPen *pen = stair->pen;
  const SpNode *node = node_at (stair, place);
  double left = place_x (stair, place), right = left + stair->place * 0.91;
  if (isnan (node->headroom_db)) {
    if (!(node->rating_w > 0) && stair->place > 90)
      sp_pen_text_halo (pen, left + 4, sp_axis_at (&stair->y, node->level_dbm) - 6, SP_TEXT_TINY, &pen->palette->soft, 0, _ ("no rating"),
                        &pen->palette->sheet);
    return;
  }
  double y = sp_axis_at (&stair->y, rating_dbm (node));
  sp_pen_colour (pen, node->headroom_db < 0 ? &pen->palette->limit : &pen->palette->soft, 1);
  sp_pen_line (pen, left, y, right, y, 1);
  cairo_set_line_width (pen->cr, 0.8);
  for (double x = left + 2; x + 4 < right; x += HATCH) {
    cairo_move_to (pen->cr, x, y - 0.5);
    cairo_line_to (pen->cr, x + 4, y - 5);
  }
  cairo_stroke (pen->cr);
  if (node->headroom_db >= 0)
    draw_dimension (stair, node, left, y);
  else
    write_over (stair, node, left);
}

/* In which place of the drawing the k-th node of the altered chain stands: one left out leaves its place empty. */
static guint
ghost_place (const SpFault *fault, guint k)
{
  return k + 1 + (fault->kind == SP_FAULT_LEFT_OUT && (int) k >= fault->stages[0] ? 1 : 0);
}

/* From the fault on, the levels as they would be: dotted, red where more goes in than a part is rated for. */
static void
draw_ghost (Stair *stair, const SpFault *fault)
{
  SpPen *pen = stair->pen;
  guint start = (guint) MAX (fault->stages[0], 0);
  double x = riser_x (stair, start + 1), level = start < fault->n_nodes ? fault->nodes[start].level_dbm : NAN;
  for (guint k = start; k < fault->n_nodes; k++) {
    const SpNode *node = &fault->nodes[k];
    guint place = ghost_place (fault, k);
    double middle = riser_x (stair, place), y = sp_axis_at (&stair->y, node->level_dbm), above = sp_axis_at (&stair->y, level);
    sp_pen_colour (pen, &pen->palette->soft, 1);
    if (fabs (above - y) > 1)
      sp_pen_dotted (pen, x, above, x, y, 1.5, 3.5);
    sp_pen_dotted (pen, x, y, place_x (stair, place), y, 1.5, 3.5);
    sp_pen_colour (pen, node->headroom_db < 0 ? &pen->palette->limit : &pen->palette->soft, 1);
    sp_pen_dotted (pen, place_x (stair, place), y, middle, y, node->headroom_db < 0 ? 2.2 : 1.5, 3);
    x = middle;
    level = node->level_dbm;
  }
}

/* "the stub": the other chains that sweeps came through. (transfer full) */
static char *
words_of_ways (const SpConditionFindings *chosen)
{
  g_autoptr (GString) names = g_string_new (NULL);
  for (guint i = 0; i < chosen->n_ways; i++)
    g_string_append_printf (names, "%s%s", i ? ", " : "", chosen->ways[i].chain->name);
  return g_string_free (g_steal_pointer (&names), FALSE);
}

static void
write_head (Stair *stair, const SpRect *rect)
{
  SpPen *pen = stair->pen;
  double right = rect->x + rect->width, space = stair->area.width;
  g_autofree char *f = sp_words_frequency (stair->chosen->fundamental_hz, stair->chosen->fundamental_hz * 1e-5, SP_HAND_SCREEN);
  g_autofree char *unsafe = sp_words_safety (stair->findings, SP_HAND_SCREEN);
  sp_pen_text (pen, stair->area.x - 8, rect->y + 13, SP_TEXT_SMALL, &pen->palette->soft, 1, _ ("dBm"));
  if (unsafe) {
    sp_pen_text_fit (pen, stair->area.x, rect->y + 13, SP_TEXT_BOLD, &pen->palette->limit, space, unsafe);
    return;
  }
  g_autofree char *unrated = sp_words_unrated (stair->chosen), *ways = words_of_ways (stair->chosen);
  g_autofree char *head = unrated ? g_strdup_printf (_ ("at %s \xc2\xb7 no rating known for %s"), f, unrated)
                          : *ways ? g_strdup_printf (_ ("at %s \xc2\xb7 safe as drawn, and through %s"), f, ways)
                                  : g_strdup_printf (_ ("at %s \xc2\xb7 safe as drawn"), f);
  double taken = sp_pen_text_fit (pen, stair->area.x, rect->y + 13, SP_TEXT_BODY, &pen->palette->ink, space, head) + 24;
  const SpFault *fault = worst_fault (stair);
  if (!fault)
    return;
  g_autofree char *sentence = sp_words_faults (stair->headroom, stair->chain, is_harmful (fault), SP_HAND_SCREEN);
  double width = MIN (sp_pen_text_width (pen, SP_TEXT_BODY, sentence), space - taken);
  sp_pen_text_fit (pen, right - width - 1, rect->y + 13, SP_TEXT_BODY, is_harmful (fault) ? &pen->palette->limit : &pen->palette->soft,
                   width + 1, sentence);
}

/* The power that the chain is drawn for, and where that figure comes from. */
static char *
words_of_power (const Stair *stair)
{
  const SpConditionFindings *chosen = stair->chosen;
  g_autofree char *level = sp_words_level (stair->headroom->nodes[0].level_dbm, 1, SP_HAND_SCREEN);
  return g_strdup_printf (chosen->headroom_by_rating ? _ ("%s, rated")
                          : chosen->by_meter         ? _ ("%s, by the meter")
                                                     : _ ("%s, measured"),
                          level);
}

/* Where the mixer gets more than its best level, that is said, at full length where there is room. */
static char *
words_of_mixer (const Stair *stair, double space)
{
  const SpHeadroom *headroom = stair->headroom;
  if (isnan (headroom->mixer_dbm))
    return g_strdup (_ ("attenuation not known"));
  g_autofree char *level = sp_words_level (headroom->mixer_dbm, 1, SP_HAND_SCREEN);
  if (!(headroom->mixer_over_db > 0))
    return g_strdup_printf (_ ("mixer %s"), level);
  g_autofree char *over = sp_words_number (headroom->mixer_over_db, 0, SP_HAND_SCREEN);
  g_autofree char *text = g_strdup_printf (_ ("mixer %s, %s\xe2\x80\xaf%s over its best"), level, over, _ ("dB"));
  if (sp_pen_text_width (stair->pen, SP_TEXT_SMALL, text) <= space)
    return g_steal_pointer (&text);
  return g_strdup_printf (_ ("mixer %s\xe2\x80\xaf%s over"), over, _ ("dB"));
}

static char *
words_of_loss (const SpNode *node)
{
  g_autofree char *loss = sp_words_number (node->loss_db, 2, SP_HAND_SCREEN);
  return g_strdup_printf ("%s\xe2\x80\xaf%s", loss, _ ("dB"));
}

static void
write_place (Stair *stair, guint place)
{
  SpPen *pen = stair->pen;
  const SpNode *node = node_at (stair, place);
  double x = place_x (stair, place), y = stair->area.y + stair->area.height + 17, space = stair->place - 6;
  gboolean stage = place > 0 && node->stage >= 0, over = place > 0 && !stage && stair->headroom->mixer_over_db > 0;
  g_autofree char *text = stage ? words_of_loss (node) : place == 0 ? words_of_power (stair) : words_of_mixer (stair, space);
  sp_pen_text_fit (pen, x + 1, y, SP_TEXT_BOLD, &pen->palette->ink, space,
                   place == 0 ? sp_view_radio_name (stair->findings, stair->view->condition) : node_name (stair, node));
  sp_pen_text_fit (pen, x + 1, y + 16, SP_TEXT_SMALL, over ? &pen->palette->ink : &pen->palette->soft, space, text);
}

static const SpHeadroom *
headroom_of (const SpFindings *findings, const SpView *view)
{
  const SpHeadroom *headroom = view->condition < findings->n ? findings->conditions[view->condition].headroom : NULL;
  return headroom && headroom->n_nodes ? headroom : NULL;
}

/* Nobody knows what goes in: the stages in their order, with what stands on their labels, and why there are no stairs. */
/* What lacks, of power and frequency: a chain takes what it takes at a frequency. */
static const char *
not_known (const Stair *stair)
{
  const SpCondition *condition = &stair->findings->bench->conditions[stair->chosen->condition];
  return isnan (stair->chosen->fundamental_hz) && condition->rated_w > 0
             ? _ ("The frequency of this radio is not known, so nobody can say what the chain takes: a sweep tells it, or its form (F2).")
             : _ ("The power of this radio is not known, so nobody can say what the chain takes.");
}

static void
draw_without_power (Stair *stair, const SpRect *rect)
{
  SpPen *pen = stair->pen;
  const SpBench *bench = stair->findings->bench;
  const SpChain *chain = stair->chosen ? sp_condition_chain (bench, &bench->conditions[stair->chosen->condition]) : bench->chain;
  guint n = chain ? chain->n : 0;
  double foot = stair->area.y + stair->area.height, middle = stair->area.y + stair->area.height / 2;
  sp_pen_text_fit (pen, stair->area.x, rect->y + 13, SP_TEXT_BODY, &pen->palette->soft, stair->area.width,
                   stair->chosen ? not_known (stair)
                   : n           ? _ ("No radio yet: with its power, stairs show here what arrives at each stage, and what that takes.")
                                 : _ ("No radio and no chain yet: stairs show here what arrives at each stage, and what that takes."));
  stair->place = stair->area.width / (n + 1);
  for (guint i = 0; i < n; i++) {
    const SpStage *stage = chain->stages[i];
    g_autofree char *loss = isnan (stage->label_db) ? NULL : sp_words_number (stage->label_db, 1, SP_HAND_SCREEN),
                    *rating = isnan (stage->rating_w) ? g_strdup (_ ("no rating")) : sp_words_power (stage->rating_w, SP_HAND_SCREEN);
    g_autofree char *text = loss ? g_strdup_printf (_ ("label %s dB, %s"), loss, rating) : g_strdup (rating);
    double x = place_x (stair, i);
    sp_pen_colour (pen, &pen->palette->soft, 1);
    sp_pen_dotted (pen, x, middle, x + stair->place, middle, 1.5, 4);
    sp_pen_line (pen, riser_x (stair, i), middle - 7, riser_x (stair, i), middle + 7, 2);
    sp_pen_text_fit (pen, x + 1, foot + 17, SP_TEXT_BOLD, &pen->palette->ink, stair->place - 6, stage->name);
    sp_pen_text_fit (pen, x + 1, foot + 33, SP_TEXT_SMALL, &pen->palette->soft, stair->place - 6, text);
  }
  if (n > 0)
    sp_pen_text_fit (pen, place_x (stair, n) + 1, foot + 17, SP_TEXT_BOLD, &pen->palette->ink, stair->place - 6,
                     bench->analyzer ? bench->analyzer->name : _ ("analyzer"));
}

static SpRect
area_of (const SpRect *rect)
{
  return (SpRect){ rect->x + LEFT, rect->y + HEAD, rect->width - LEFT, MAX (20, rect->height - HEAD - FOOT) };
}

gboolean
sp_staircase_place (const SpFindings *findings, const SpView *view, const SpRect *rect, int stage, SpRect *place)
{
  const SpHeadroom *headroom = headroom_of (findings, view);
  SpRect area = area_of (rect);
  for (guint i = 0; headroom && i < headroom->n_nodes; i++)
    if (headroom->nodes[i].stage == stage && stage >= 0) {
      double width = area.width / (headroom->n_nodes + 1);
      *place = (SpRect){ area.x + (i + 1) * width, area.y, width, rect->height - HEAD };
      return TRUE;
    }
  return FALSE;
}

int
sp_staircase_stage_at (const SpFindings *findings, const SpView *view, const SpRect *rect, double x)
{
  const SpHeadroom *headroom = headroom_of (findings, view);
  SpRect place;
  for (guint i = 0; headroom && i < headroom->n_nodes; i++)
    if (sp_staircase_place (findings, view, rect, headroom->nodes[i].stage, &place) && x >= place.x && x < place.x + place.width)
      return headroom->nodes[i].stage;
  return -1;
}

void
sp_staircase_draw (SpPen *pen, const SpFindings *findings, const SpView *view, const SpRect *rect)
{
  const SpConditionFindings *c = view->condition < findings->n ? &findings->conditions[view->condition] : NULL;
  Stair stair = { pen, findings, view, c };
  stair.area = area_of (rect);
  cairo_save (pen->cr);
  if (!headroom_of (findings, view)) {
    draw_without_power (&stair, rect);
    cairo_restore (pen->cr);
    return;
  }
  const SpCondition *condition = &findings->bench->conditions[c->condition];
  stair.headroom = c->headroom;
  stair.chain = sp_condition_chain (findings->bench, condition);
  stair.analyzer = sp_condition_analyzer (findings->bench, condition);
  stair.place = stair.area.width / (c->headroom->n_nodes + 1);
  level_range (&stair);
  draw_axis (&stair);
  if (is_harmful (worst_fault (&stair)))
    draw_ghost (&stair, worst_fault (&stair));
  draw_stair (&stair);
  for (guint place = 1; place <= c->headroom->n_nodes; place++)
    draw_ceiling (&stair, place);
  for (guint place = 0; place <= c->headroom->n_nodes; place++)
    write_place (&stair, place);
  write_head (&stair, rect);
  cairo_restore (pen->cr);
}
