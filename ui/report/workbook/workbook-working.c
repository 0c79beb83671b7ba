/* workbook-working.c - behind a condition's levels: how each adds up, and its uncertainty term by term */
#include "ui/report/workbook/workbook-private.h"

#include "ui/words/words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static void
write_row_of_working (Page *page, const SpConditionFindings *found, guint condition, guint i)
{
  const Places *places = &page->work->places[condition];
  const SpEmission *e = &found->emissions[i];
  g_autofree char *name = sp_words_emission (e, SP_HAND_MACHINE), *guarded = workbook_quoted (_ ("guarded"));
  gboolean is_guarded = page->work->findings->bench->decision_rule == SP_DECISION_RULE_GUARDED;
  double expanded = isnan (e->margin_db) ? NAN : e->budget.k_margin * e->budget.u_margin_db;
  gboolean swept = e->swept;
  page_text (page, 0, name, STYLE_TEXT);
  page_number (page, 1, e->frequency_hz, STYLE_HERTZ);
  page_text (page, 2, workbook_yes (swept), STYLE_TEXT);
  page_text (page, 3, swept ? workbook_yes (e->calibrated) : NULL, STYLE_TEXT);
  page_number (page, 4, e->reading_dbm, STYLE_FINE);
  page_number (page, 5, swept ? e->line_db : NAN, STYLE_FINE);
  page_number (page, 6, swept ? e->near_noise_db : NAN, STYLE_FINE);
  page_formula (page, 7, e->loss_db, STYLE_FINE, "=%s", page->work->losses[condition][i]);
  page_number (page, 8, swept ? e->correction_db : NAN, STYLE_FINE);
  page_number (page, 9, swept ? e->shift_db : NAN, STYLE_FINE);
  page_number (page, 10, swept ? e->sampling_loss_db : NAN, STYLE_FINE);
  page_number (page, 11, isnan (e->limit_dbm) ? NAN : e->limit_slope, STYLE_PLAIN);
  page_number (page, 12, e->radio_low_dbm, STYLE_FINE);
  page_number (page, 13, e->radio_high_dbm, STYLE_FINE);
  page_formula (page, 14, is_guarded || isnan (expanded) ? expanded : 0, STYLE_FINE, "=IF($B$%u=%s,L%u,0)", places->facts + FACT_RULE + 1,
                guarded, places->ledger + i + 1);
  page_text (page, 15, e->limit_rule, STYLE_TEXT);
  guint q = places->uncertainty + i + 1;
  double low = isnan (e->margin_db) ? NAN : e->budget.k_margin_low * e->budget.u_margin_low_db;
  page_formula (page, 16, is_guarded || isnan (low) ? low : 0, STYLE_FINE, "=IF($B$%u=%s,K%u*L%u,0)", places->facts + FACT_RULE + 1,
                guarded, q, q);
  page_number (page, 17, swept ? e->excess_db : NAN, STYLE_FINE);
  page->row++;
}

void
workbook_working (Page *page, guint condition)
{
  const SpConditionFindings *found = &page->work->findings->conditions[condition];
  const char *const heads[] = { _ ("Level = reading and all up to the shift"),
                                _ ("Frequency, Hz"),
                                _ ("Swept"),
                                _ ("In calibration"),
                                _ ("Reading (not seen: floor) at the analyzer, dBm"),
                                _ ("Between points, dB"),
                                _ ("Near noise, dB"),
                                _ ("Chain's loss, dB"),
                                _ ("Analyzer's correction, dB"),
                                _ ("Warm stages and meter, dB"),
                                _ ("Sampling loss, dB"),
                                _ ("Limit's slope with P"),
                                _ ("Radio's part from, dBm"),
                                _ ("to, dBm"),
                                _ ("Guard, dB"),
                                _ ("Mask's rule"),
                                _ ("Guard towards exceeds, dB"),
                                _ ("May read too high by, dB") };
  page->row++;
  page_section (page, _ ("How the levels add up"));
  page_heads (page, heads, G_N_ELEMENTS (heads));
  for (guint i = 0; i < found->n_emissions; i++)
    write_row_of_working (page, found, condition, i);
}

/* u, k and degrees of freedom of one quantity; `letter` is that of its terms. */
static void
write_sum (Page *page, lxw_col_t column, char letter, guint first, guint n, double u, double k, double dof)
{
  if (n)
    page_formula (page, column, u, STYLE_FINE, "=SQRT(SUMSQ(%c%u:%c%u))", letter, first, letter, first + n - 1);
  else
    page_number (page, column, u, STYLE_FINE);
  page_number (page, column + 1, k, STYLE_FINE);
  page_number (page, column + 2, dof, STYLE_WHOLE);
}

void
workbook_uncertainty (Page *page, guint condition)
{
  const SpConditionFindings *found = &page->work->findings->conditions[condition];
  const char *const heads[] = { _ ("Emission"),
                                _ ("u of level, dB"),
                                _ ("k"),
                                _ ("Degrees of freedom"),
                                _ ("u of dBc, dB"),
                                _ ("k"),
                                _ ("Degrees of freedom"),
                                _ ("u of margin, dB"),
                                _ ("k"),
                                _ ("Degrees of freedom"),
                                _ ("u of margin towards exceeds, dB"),
                                _ ("k"),
                                _ ("Degrees of freedom") };
  page->row++;
  page_section (page, _ ("Uncertainty: u is the root of the sum of squares of the terms below, U = k u at 95.45 %"));
  page_heads (page, heads, G_N_ELEMENTS (heads));
  for (guint i = 0; i < found->n_emissions; i++) {
    const SpBudget *b = &found->emissions[i].budget;
    g_autofree char *name = sp_words_emission (&found->emissions[i], SP_HAND_MACHINE);
    guint first = page->work->places[condition].terms[i] + 1;
    page_text (page, 0, name, STYLE_TEXT);
    if (found->emissions[i].swept) {
      write_sum (page, 1, 'C', first, b->n, b->u_level_db, b->k_level, b->dof_level);
      write_sum (page, 4, 'D', first, b->n, b->u_dbc_db, b->k_dbc, b->dof_dbc);
      write_sum (page, 7, 'E', first, b->n, b->u_margin_db, b->k_margin, b->dof_margin);
      write_sum (page, 10, 'H', first, b->n, b->u_margin_low_db, b->k_margin_low, b->dof_margin_low);
    }
    page->row++;
  }
}

void
workbook_terms (Page *page, guint condition)
{
  const SpConditionFindings *found = &page->work->findings->conditions[condition];
  const char *heads[] = { NULL,
                          _ ("Distribution"),
                          _ ("u of level, dB"),
                          _ ("u of dBc, dB"),
                          _ ("u of margin, dB"),
                          _ ("Degrees of freedom"),
                          _ ("Assumed"),
                          _ ("u of margin towards exceeds, dB") };
  page->row++;
  page_section (page, _ ("The terms; * nobody stated it: common practice"));
  for (guint i = 0; i < found->n_emissions; i++) {
    if (!found->emissions[i].budget.n) /* not swept */
      continue;
    g_autofree char *name = sp_words_emission (&found->emissions[i], SP_HAND_MACHINE);
    heads[0] = name;
    page_heads (page, heads, G_N_ELEMENTS (heads));
    for (guint j = 0; j < found->emissions[i].budget.n; j++) {
      const SpTerm *term = &found->emissions[i].budget.terms[j];
      g_autofree char *marked = g_strconcat (sp_words_term (term->kind), term->assumed ? " *" : NULL, NULL);
      g_autofree char *assumed = term->assumed_stage ? g_strdup_printf ("%s, %s", workbook_yes (TRUE), term->assumed_stage) : NULL;
      page_text (page, 0, marked, STYLE_TEXT);
      page_text (page, 1, sp_words_distribution (term->distribution), STYLE_TEXT);
      page_number (page, 2, term->u_level_db, STYLE_FINE);
      page_number (page, 3, term->u_dbc_db, STYLE_FINE);
      page_number (page, 4, term->u_margin_db, STYLE_FINE);
      page_number (page, 5, term->dof, STYLE_WHOLE);
      page_text (page, 6, assumed ? assumed : workbook_yes (term->assumed), STYLE_TEXT);
      page_number (page, 7, term->u_margin_low_db, STYLE_FINE);
      page->row++;
    }
  }
}
