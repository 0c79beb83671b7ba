/* report-chain.c - a chain's page: where the power goes, its parts and their losses, how old they are */
#include "ui/report/paper/compose.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define ORDERS 5

static const guint orders[ORDERS] = { 1, 2, 3, 5, 10 };

/* The condition whose carrier the losses are told at: the worst that was swept through it. */
static int
spokesman (const SpFindings *findings, const SpChain *chain, int radio)
{
  int found = -1;
  for (guint i = 0; i < findings->n; i++) {
    const SpCondition *condition = &findings->bench->conditions[findings->conditions[i].condition];
    gboolean through = sp_condition_chain (findings->bench, condition) == chain;
    for (guint k = 0; k < condition->n_sweeps; k++)
      through = through || condition->sweeps[k].chain == chain;
    if (through && paper_is_of (findings, i, radio) && findings->conditions[i].fundamental_hz > 0
        && (found < 0 || findings->conditions[i].verdict > findings->conditions[found].verdict))
      found = (int) i;
  }
  return found;
}

static void
add_staircase (GPtrArray *blocks, const SpFindings *findings, const SpChain *chain, guint condition)
{
  const SpConditionFindings *found = &findings->conditions[condition];
  if (sp_condition_chain (findings->bench, &findings->bench->conditions[found->condition]) != chain || !found->headroom)
    return;
  g_autofree char *f = sp_words_frequency (found->fundamental_hz, 1e4, SP_HAND_SCREEN);
  g_autofree char *aside = g_strdup_printf (_ ("%s at %s. Drops are losses, to scale; hatched: ratings; between: headroom, dB"),
                                            found->name, f);
  paper_heading (blocks, _ ("Where the power goes"), aside);
  SpPaperBlock *block = paper_add (blocks, SP_BLOCK_FIGURES);
  block->abreast = 1;
  block->least = 120;
  block->best = 150;
  SpPaperFigure *figure = paper_figure (block, SP_FIGURE_STAIRCASE, findings, condition);
  g_autofree char *faults = sp_words_faults (found->headroom, chain, FALSE, SP_HAND_SCREEN), *unrated = sp_words_unrated (found);
  g_autofree char *what = unrated ? g_strdup_printf (_ (" No rating is known for %s."), unrated) : g_strdup ("");
  g_autofree char *said = g_strdup_printf (_ (" Worst mistakes: %s.%s"), faults ? faults : _ ("none does harm"), what);
  figure->alt = g_strdup_printf ("%s: %s", aside, said);
  paper_run (block, found->headroom->safe ? _ ("Safe as drawn.") : _ ("Not safe as drawn."), TRUE);
  paper_run (block, said, FALSE);
}

/* Of a stage, or of the whole chain (-1). */
static void
add_losses (SpPaperTable *table, const SpBench *bench, const SpChain *chain, int stage, double f0_hz)
{
  for (guint k = 0; k < ORDERS; k++)
    paper_cell (table, sp_words_number (sp_digest_loss (bench, chain, stage, f0_hz, orders[k]).loss_db, 2, SP_HAND_SCREEN))->strong = stage
                                                                                                                                      < 0;
  paper_cell (table, sp_words_number (sp_digest_loss (bench, chain, stage, f0_hz, 2).expanded_db, 2, SP_HAND_SCREEN));
}

static void
add_stage (SpPaperTable *table, const SpBench *bench, const SpChain *chain, guint i, double f0_hz)
{
  const SpStage *stage = chain->stages[i];
  SpAge age = sp_digest_stage_age (bench, chain, i);
  paper_word (table, stage->name, TRUE);
  paper_word (table, sp_stage_kind_name (stage->kind), FALSE);
  paper_cell (table, isnan (stage->label_db) ? NULL : sp_words_number (stage->label_db, 1, SP_HAND_SCREEN));
  add_losses (table, bench, chain, (int) i, f0_hz);
  paper_cell (table, isnan (stage->rating_w) ? NULL : sp_words_power (sp_stage_rating_w (stage, bench->temperature_c), SP_HAND_SCREEN));
  paper_cell (table, isnan (age.day) ? NULL : sp_words_day (age.day));
  g_autofree char *days = sp_words_number (age.age_days, 0, SP_HAND_SCREEN);
  paper_cell (table, age.overdue ? g_strdup_printf (_ ("%s, overdue"), days) : g_strdup (days))->strong = age.overdue;
}

static void
add_parts (GPtrArray *blocks, const SpBench *bench, const SpChain *chain, double f0_hz)
{
  paper_heading (blocks, _ ("Its parts"), _ ("loss in dB at the carrier and its harmonics, MHz"));
  SpPaperTable *table = paper_table (blocks, _ ("Parts of the chain"));
  paper_head (table, _ ("part"), FALSE, TRUE);
  paper_head (table, _ ("kind"), FALSE, FALSE);
  paper_head (table, _ ("label"), TRUE, FALSE);
  for (guint k = 0; k < ORDERS; k++) {
    g_autofree char *f = sp_words_number (sp_digest_loss (bench, chain, -1, f0_hz, orders[k]).frequency_hz / 1e6, 1, SP_HAND_SCREEN);
    paper_head (table, f, TRUE, FALSE);
  }
  paper_head (table, _ ("\302\261 U"), TRUE, FALSE);
  paper_head (table, _ ("rated"), TRUE, FALSE);
  paper_head (table, _ ("measured"), TRUE, FALSE);
  paper_head (table, _ ("age, days"), TRUE, FALSE);
  for (guint i = 0; i < chain->n; i++)
    add_stage (table, bench, chain, i, f0_hz);
  paper_rule_above_next (table);
  paper_word (table, _ ("whole chain"), TRUE);
  paper_cell (table, NULL);
  paper_cell (table, NULL);
  add_losses (table, bench, chain, -1, f0_hz);
  for (guint k = 0; k < 3; k++)
    paper_cell (table, NULL);
  paper_paragraph (blocks, SP_ROLE_NOTE, NULL,
                   g_strdup (_ (
                       "\302\261 U: 95\342\200\257%, at the 2nd harmonic. Label: as printed on the part. Sums are made before rounding.")));
}

#define CURVES_ABREAST 2

static void
add_curves (GPtrArray *blocks, const SpFindings *findings, const SpChain *chain)
{
  paper_heading (blocks, _ ("Loss against frequency"), _ ("dB; dots as measured, band U, dotted outside what was measured"));
  SpPaperBlock *block = paper_add (blocks, SP_BLOCK_FIGURES);
  block->abreast = CURVES_ABREAST;
  block->least = 76;
  block->best = 104;
  for (guint i = 0; i < chain->n; i++) {
    SpPaperFigure *figure = paper_figure (block, SP_FIGURE_LOSS, findings, 0);
    figure->chain = chain;
    figure->stage = i;
    figure->title = g_strdup (chain->stages[i]->name);
  }
}

void
paper_chain_page (GPtrArray *blocks, const SpFindings *findings, const SpChain *chain, int radio)
{
  int condition = spokesman (findings, chain, radio);
  g_autofree char *anchor = g_strdup_printf ("chain-%.6s", chain->sha256), *hash = g_strdup_printf ("%.6s", chain->sha256);
  paper_page (blocks, _ ("The chain"), anchor);
  SpPaperBlock *name = paper_add (blocks, SP_BLOCK_NAME);
  SpAge age = sp_digest_chain_age (findings->bench, chain);
  g_autofree char *when = sp_words_age (&age);
  name->text = g_strdup (chain->name);
  name->aside = g_steal_pointer (&hash);
  paper_paragraph (blocks, SP_ROLE_BODY, NULL,
                   g_strdup_printf (_ ("What stood between the radio's socket and the analyzer, in order; %s."), when));
  if (condition >= 0) {
    add_staircase (blocks, findings, chain, (guint) condition);
    add_parts (blocks, findings->bench, chain, findings->conditions[condition].fundamental_hz);
  }
  add_curves (blocks, findings, chain);
}
