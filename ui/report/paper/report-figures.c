/* report-figures.c - figures that stand by themselves beside the report's: all conditions against each other */
#include "ui/report/paper/compose.h"

#include "core/compare/compare.h"

#include <glib/gi18n-lib.h>

static SpPaperFigure *
add_figure (GPtrArray *blocks, SpFigureKind kind, const SpFindings *findings, const char *heading, const char *aside, const char *said)
{
  paper_heading (blocks, heading, aside);
  SpPaperBlock *block = paper_add (blocks, SP_BLOCK_FIGURES);
  block->abreast = 1;
  block->least = 140;
  block->best = 230;
  paper_run (block, _ ("What to see."), TRUE);
  paper_run (block, said, FALSE);
  return paper_figure (block, kind, findings, 0);
}

/* The worst first, as in the report's table. */
static void
order_worst (SpPaperFigure *figure, const SpFindings *findings)
{
  figure->n_conditions = findings->n;
  figure->conditions = g_new (guint, findings->n);
  figure->rows = g_new (guint, findings->n);
  sp_compare_order (findings, SP_ORDER_WORST, FALSE, figure->conditions);
  for (guint k = 0; k < findings->n; k++)
    figure->rows[figure->conditions[k]] = k + 1;
}

/* A statement for each condition. (transfer full) */
static char *
alt_of (const SpPaperFigure *figure, const SpFindings *findings)
{
  g_autoptr (GString) alt = g_string_new (NULL);
  for (guint k = 0; k < figure->n_conditions; k++) {
    const SpConditionFindings *found = &findings->conditions[figure->conditions[k]];
    g_autofree char *statement = sp_words_statement (found, SP_HAND_SCREEN);
    g_string_append_printf (alt, "%s%u, %s: %s", k ? " " : "", k + 1, found->name, statement);
  }
  return g_string_free (g_steal_pointer (&alt), FALSE);
}

SpPaper *
sp_paper_figures (const SpFindings *findings)
{
  SpPaper *paper = sp_paper_report (findings, -1);
  g_autoptr (SpComparison) comparison = sp_compare (findings);
  if (findings->n < 2 || comparison->most_order < 2)
    return paper;
  paper_page (paper->blocks, _ ("All conditions"), "all-conditions");
  SpPaperFigure *room
      = add_figure (paper->blocks, SP_FIGURE_MARGINS, findings, _ ("Room of all conditions"), _ ("dB to the limit, by harmonic"),
                    _ (" Above the line there is room, below it the limit is exceeded. Dots: seen, with U; arrows: not seen, "
                       "so at least so much."));
  SpPaperFigure *small = add_figure (
      paper->blocks, SP_FIGURE_SMALL, findings, _ ("All conditions, a small chart each"), _ ("level at the socket, dBm, over f / f0"),
      _ (" All have the same axes, and stand in the order of the table, the worst first. Grey with dots: there "
         "that sweep would have shown nothing."));
  order_worst (room, findings);
  order_worst (small, findings);
  room->alt = alt_of (room, findings);
  small->alt = alt_of (small, findings);
  return paper;
}
