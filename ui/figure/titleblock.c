/* titleblock.c - what a drawing says of itself, so that it can be checked again in a year */
#include "ui/figure/panels.h"

#include "ui/words/words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define HASH_DIGITS 6

static char *
rule_text (const SpBench *bench)
{
  return g_strdup (bench->decision_rule == SP_DECISION_RULE_SIMPLE ? _ ("simple, U\302\24095\xe2\x80\xaf%")
                                                                   : _ ("guarded, U\302\24095\xe2\x80\xaf%"));
}

static char *
sweep_text (const SpConditionFindings *c, const SpCondition *condition)
{
  if (!c->n_corrected)
    return g_strdup ("\xe2\x80\x93");
  const SpTrace *trace = condition->sweeps[c->corrected[0].sweep].trace;
  const SpSettings *s = &trace->settings;
  g_autofree char *rbw = isnan (s->rbw_hz) ? g_strdup (_ ("not stated")) : sp_words_frequency (s->rbw_hz, 0, SP_HAND_SCREEN);
  g_autofree char *attenuation = isnan (s->attenuation_db) ? g_strdup (_ ("not stated"))
                                                           : sp_words_number (s->attenuation_db, 0, SP_HAND_SCREEN);
  const char *detector = sp_words_of_detector (s->detector);
  g_autofree char *more = detector ? g_strdup_printf (", %s", detector) : g_strdup ("");
  if (isnan (s->attenuation_db))
    return g_strdup_printf (_ ("RBW %s, attenuation %s%s"), rbw, attenuation, more);
  return g_strdup_printf (_ ("RBW %s, att. %s\342\200\257dB%s"), rbw, attenuation, more);
}

/* "Course chain c29d02, also 1a2b3c": of the other chains that sweeps came through the hashes alone. */
static char *
chains_text (const SpChain *chain, const SpConditionFindings *c)
{
  g_autoptr (GString) others = g_string_new (NULL);
  for (guint i = 0; i < c->n_ways; i++)
    g_string_append_printf (others, "%s%.*s", i ? ", " : "", HASH_DIGITS, c->ways[i].chain->sha256 ? c->ways[i].chain->sha256 : "");
  return g_strdup_printf (_ ("%s %.*s, also %s"), chain->name, HASH_DIGITS, chain->sha256 ? chain->sha256 : "", others->str);
}

/* The hash ends it, or begins it where a long name would push it out. */
static char *
chain_text (SpPen *pen, const SpChain *chain, const SpConditionFindings *c, double width)
{
  if (!chain)
    return g_strdup ("\xe2\x80\x93");
  if (c && c->n_ways)
    return chains_text (chain, c);
  const char *hash = chain->sha256 ? chain->sha256 : "";
  g_autofree char *text = g_strdup_printf ("%s  %.*s", chain->name, HASH_DIGITS, hash);
  if (sp_pen_text_lines (pen, SP_TEXT_TINY, width, text) <= 2)
    return g_steal_pointer (&text);
  return g_strdup_printf ("%.*s  %s", HASH_DIGITS, hash, chain->name);
}

static void
cell (SpPen *pen, const SpRect *rect, const char *name, const char *value, gboolean bold)
{
  double width = rect->width - 12, foot = rect->y + rect->height;
  SpTextStyle style = bold ? SP_TEXT_BOLD : SP_TEXT_BODY;
  sp_pen_text_fit (pen, rect->x + 7, rect->y + 13, SP_TEXT_TINY, &pen->palette->soft, width, name);
  if (sp_pen_text_width (pen, style, value) <= width)
    sp_pen_text (pen, rect->x + 7, foot - MAX (9, rect->height * 0.28), style, &pen->palette->ink, 0, value);
  else if (sp_pen_text_lines (pen, SP_TEXT_TINY, width, value) < 2)
    sp_pen_text (pen, rect->x + 7, foot - MAX (9, rect->height * 0.28), SP_TEXT_TINY, &pen->palette->ink, 0, value);
  else
    sp_pen_text_wrap (pen, rect->x + 7, foot - 17, SP_TEXT_TINY, &pen->palette->ink, width, 2, value);
}

void
sp_title_block_draw (SpPen *pen, const SpFindings *findings, const SpView *view, const SpRect *rect)
{
  const SpBench *bench = findings->bench;
  double split = rect->width * 0.6, row = rect->height / 3;
  const SpConditionFindings *c = view->condition < findings->n ? &findings->conditions[view->condition] : NULL;
  const SpCondition *condition = c ? &bench->conditions[c->condition] : NULL;
  const SpMask *mask = condition && condition->mask ? condition->mask : bench->mask;
  g_autofree char *limit = mask ? sp_words_mask (mask) : g_strdup ("\xe2\x80\x93"), *rule = rule_text (bench);
  g_autofree char *sweep = c ? sweep_text (c, condition) : g_strdup ("\xe2\x80\x93");
  g_autofree char *chain = chain_text (pen, condition && condition->chain ? condition->chain : bench->chain, c, rect->width - split - 12);
  const char *cells[3][2][2] = {
    { { _ ("bench"), bench->title ? bench->title : "\xe2\x80\x93" }, { _ ("date"), bench->date ? bench->date : "\xe2\x80\x93" } },
    { { _ ("limit"), limit }, { _ ("rule"), rule } },
    { { _ ("sweep"), sweep }, { _ ("chain"), chain } },
  };
  cairo_save (pen->cr);
  for (guint i = 0; i < 3; i++) {
    SpRect left = { rect->x, rect->y + i * row, split, row }, right = { rect->x + split, left.y, rect->width - split, row };
    cell (pen, &left, cells[i][0][0], cells[i][0][1], i == 0);
    cell (pen, &right, cells[i][1][0], cells[i][1][1], FALSE);
  }
  sp_pen_colour (pen, &pen->palette->ink, 1);
  for (guint i = 0; i <= 3; i++)
    sp_pen_line (pen, rect->x, rect->y + i * row, rect->x + rect->width, rect->y + i * row, 1);
  sp_pen_line (pen, rect->x, rect->y, rect->x, rect->y + rect->height, 1);
  sp_pen_line (pen, rect->x + split, rect->y, rect->x + split, rect->y + rect->height, 1);
  sp_pen_line (pen, rect->x + rect->width, rect->y, rect->x + rect->width, rect->y + rect->height, 1);
  cairo_restore (pen->cr);
}
