/* workbook-chain.c - the chains: stages, and their losses where something is looked for; the conditions' sheets refer to the sums here */
#include "ui/report/workbook/workbook-private.h"

#include "ui/words/words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define FACTS 4
#define FIRST_STAGE 3 /* column of the first stage's loss */

static SpChain *
chain_of (const SpFindings *findings, const SpConditionFindings *found, const SpEmission *emission)
{
  const SpCondition *condition = &findings->bench->conditions[found->condition];
  const SpChain *own = emission && emission->sweep >= 0 ? condition->sweeps[emission->sweep].chain : NULL;
  return own ? (SpChain *) own : sp_condition_chain (findings->bench, condition);
}

/* A line of the table of losses: a condition's fundamental (emission -1) or an emission. */
typedef struct {
  guint condition;
  int emission;
} Line;

static GArray *
lines_of (const SpFindings *findings, const SpChain *chain)
{
  GArray *lines = g_array_new (FALSE, FALSE, sizeof (Line));
  for (guint i = 0; i < findings->n; i++) {
    const SpConditionFindings *found = &findings->conditions[i];
    if (isfinite (found->fundamental_hz) && chain_of (findings, found, NULL) == chain)
      g_array_append_vals (lines, &(Line){ i, -1 }, 1);
    for (guint j = 0; j < found->n_emissions; j++)
      if (chain_of (findings, found, &found->emissions[j]) == chain)
        g_array_append_vals (lines, &(Line){ i, (int) j }, 1);
  }
  return lines;
}

/* Rows from a chain's name to its first line of losses: facts, blank, heads, stages, blank, heads. */
static lxw_row_t
rows_before_losses (const SpChain *chain)
{
  return 1 + FACTS + 1 + 1 + chain->n + 1 + 1;
}

void
workbook_plan_losses (Workbook *work, const char *sheet)
{
  const SpFindings *findings = work->findings;
  g_autofree char *reference = workbook_sheet_reference (sheet);
  lxw_row_t row = 2;
  work->chains = g_ptr_array_new ();
  work->losses = g_new0 (char **, findings->n + 1);
  for (guint i = 0; i < findings->n; i++) {
    work->losses[i] = g_new0 (char *, findings->conditions[i].n_emissions + 1);
    for (int j = -1; j < (int) findings->conditions[i].n_emissions; j++) {
      SpChain *chain = chain_of (findings, &findings->conditions[i], j < 0 ? NULL : &findings->conditions[i].emissions[j]);
      if (!g_ptr_array_find (work->chains, chain, NULL))
        g_ptr_array_add (work->chains, chain);
    }
  }
  for (guint c = 0; c < work->chains->len; c++) {
    const SpChain *chain = g_ptr_array_index (work->chains, c);
    g_autoptr (GArray) lines = lines_of (findings, chain);
    row += rows_before_losses (chain);
    for (guint i = 0; i < lines->len; i++, row++) {
      const Line *line = &g_array_index (lines, Line, i);
      char cell[LXW_MAX_CELL_NAME_LENGTH];
      lxw_rowcol_to_cell_abs (cell, row, (lxw_col_t) (FIRST_STAGE + chain->n + 1), TRUE, TRUE);
      if (line->emission >= 0)
        work->losses[line->condition][line->emission] = g_strdup_printf ("%s!%s", reference, cell);
    }
    row += 2;
  }
}

static void
write_stages (Page *page, const SpChain *chain)
{
  const char *const heads[] = { _ ("Stage"),
                                _ ("Kind"),
                                _ ("Loss is from"),
                                _ ("Label, dB"),
                                _ ("Label's half-width, dB"),
                                _ ("Rating, W"),
                                _ ("u of a plugging, dB"),
                                _ ("Common u, dB") };
  double temperature = page->work->findings->bench->temperature_c;
  page_heads (page, heads, G_N_ELEMENTS (heads));
  for (guint i = 0; i < chain->n; i++) {
    const SpStage *stage = chain->stages[i];
    page_text (page, 0, stage->name, STYLE_TEXT);
    page_text (page, 1, sp_stage_kind_name (stage->kind), STYLE_TEXT);
    const char *from = stage->two_port           ? _ ("measured two-port")
                       : stage->loss             ? _ ("measured")
                       : isnan (stage->label_db) ? _ ("nothing")
                                                 : _ ("label");
    page_text (page, 2, from, STYLE_TEXT);
    page_number (page, 3, stage->label_db, STYLE_DB);
    page_number (page, 4, stage->label_tolerance_db, STYLE_DB);
    page_number (page, 5, sp_stage_rating_w (stage, temperature), STYLE_PLAIN);
    page_number (page, 6, stage->connector_u_db, STYLE_FINE);
    page_number (page, 7, stage->common_u_db, STYLE_FINE);
    page->row++;
  }
}

static void
write_heads_of_losses (Page *page, const SpChain *chain)
{
  g_autoptr (GPtrArray) heads = g_ptr_array_new_with_free_func (g_free);
  g_ptr_array_add (heads, g_strdup (_ ("Radio and condition")));
  g_ptr_array_add (heads, g_strdup (_ ("Emission")));
  g_ptr_array_add (heads, g_strdup (_ ("Frequency, Hz")));
  for (guint i = 0; i < chain->n; i++)
    g_ptr_array_add (heads, g_strdup_printf (_ ("Loss of %s, dB"), chain->stages[i]->name));
  g_ptr_array_add (heads, g_strdup (_ ("Interaction, dB")));
  g_ptr_array_add (heads, g_strdup (_ ("Chain's loss, dB")));
  for (guint i = 0; i < chain->n; i++)
    g_ptr_array_add (heads, g_strdup_printf (_ ("u of %s, dB"), chain->stages[i]->name));
  g_ptr_array_add (heads, g_strdup (_ ("u of chain, dB")));
  g_ptr_array_add (heads, g_strdup (_ ("In calibration")));
  page_heads (page, (const char *const *) heads->pdata, heads->len);
}

static void
write_loss (Page *page, const SpChain *chain, const Line *line)
{
  const SpFindings *findings = page->work->findings;
  const SpConditionFindings *found = &findings->conditions[line->condition];
  const SpEmission *emission = line->emission < 0 ? NULL : &found->emissions[line->emission];
  double f = emission ? emission->frequency_hz : found->fundamental_hz;
  SpStageLoss stages[SP_CHAIN_MAX_STAGES];
  SpChainLoss loss = sp_chain_loss (chain, f, findings->bench->temperature_c, 0, stages);
  g_autofree char *name = emission ? sp_words_emission (emission, SP_HAND_MACHINE) : g_strdup (_ ("fundamental"));
  char first[LXW_MAX_CELL_NAME_LENGTH], last[LXW_MAX_CELL_NAME_LENGTH];
  lxw_col_t column = FIRST_STAGE;
  page_text (page, 0, found->name, STYLE_TEXT);
  page_text (page, 1, name, STYLE_TEXT);
  page_number (page, 2, f, STYLE_HERTZ);
  for (guint i = 0; i < chain->n; i++)
    page_number (page, column++, stages[i].loss_db, STYLE_FINE);
  page_number (page, column, loss.interaction_db, STYLE_FINE);
  lxw_rowcol_to_cell (first, page->row, FIRST_STAGE);
  lxw_rowcol_to_cell (last, page->row, column++);
  page_formula (page, column++, loss.loss_db, STYLE_FINE, "=SUM(%s:%s)", first, last);
  for (guint i = 0; i < chain->n; i++)
    page_number (page, column++, stages[i].u_db, STYLE_FINE);
  page_number (page, column++, loss.u_db, STYLE_FINE);
  page_text (page, column, workbook_yes (loss.calibrated), STYLE_TEXT);
  page->row++;
}

static void
write_chain (Page *page, const SpChain *chain)
{
  g_autoptr (GArray) lines = lines_of (page->work->findings, chain);
  page_section (page, chain->name);
  page_fact (page, _ ("File"), chain->file);
  page_fact (page, _ ("SHA-256"), chain->sha256);
  page_fact_number (page, _ ("Calibrated at, \302\260C"), chain->temperature_c, STYLE_PLAIN);
  page_fact_number (page, _ ("Days between calibrations"), chain->interval_days, STYLE_PLAIN);
  page->row++;
  write_stages (page, chain);
  page->row++;
  write_heads_of_losses (page, chain);
  for (guint i = 0; i < lines->len; i++)
    write_loss (page, chain, &g_array_index (lines, Line, i));
  page->row += 2;
}

gboolean
workbook_chain (const Workbook *work, const char *name)
{
  static const double widths[] = { 28, 20, 15 };
  Page page;
  if (!workbook_page (work, name, &page))
    return FALSE;
  page_widths (&page, widths, G_N_ELEMENTS (widths));
  workbook_note (worksheet_set_column (page.sheet, FIRST_STAGE, FIRST_STAGE + 2 * SP_CHAIN_MAX_STAGES + 3, 12, NULL));
  page_text (&page, 0, _ ("Chain: from the radio's socket to the analyzer"), STYLE_TITLE);
  page.row = 2;
  for (guint i = 0; i < work->chains->len; i++)
    write_chain (&page, g_ptr_array_index (work->chains, i));
  page_finish (&page, 0, 0, 1);
  return TRUE;
}
