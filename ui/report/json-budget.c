/* json-budget.c - every term behind one level as JSON */
#include "ui/report/json.h"
#include "ui/report/writer.h"

#include "ui/words/words.h"

#include <math.h>

/* "level" is dBm at the socket, and in its old names without a word: u_db, dof. */
static void
write_columns (JsonBuilder *b, const SpTerm *term)
{
  static const char *const u[SP_BUDGET_COLUMNS] = { "u_db", "power_u_db", "dbc_u_db", "margin_u_db" };
  static const char *const dof[SP_BUDGET_COLUMNS] = { "dof", "power_dof", "dbc_dof", "margin_dof" };
  for (guint i = 0; i < SP_BUDGET_COLUMNS; i++) {
    json_number (b, u[i], sp_term_u_db (term, (SpBudgetColumn) i));
    json_number (b, dof[i], sp_term_dof (term, (SpBudgetColumn) i));
  }
}

static void
write_term (JsonBuilder *b, const SpTerm *term)
{
  json_builder_begin_object (b);
  json_text (b, "term", sp_term_name (term->kind));
  json_text (b, "text", sp_words_term (term->kind));
  json_number (b, "estimate_db", term->estimate_db);
  json_text (b, "distribution", sp_distribution_name (term->distribution));
  json_number (b, "width_db", term->width_db);
  json_number (b, "divisor", term->divisor);
  json_number (b, "sensitivity", 1);
  write_columns (b, term);
  json_number (b, "margin_low_u_db", term->u_margin_low_db);
  json_text (b, "source", sp_budget_source_name (term->source));
  json_yes (b, "assumed", term->assumed);
  json_yes (b, "in_radio_part", term->by_part);
  json_text (b, "assumed_stage", term->assumed_stage);
  json_yes (b, "cancels_in_dbc", sp_term_cancels (term));
  json_builder_end_object (b);
}

static void
write_sums (JsonBuilder *b, const SpBudget *budget)
{
  json_object (b, "sums");
  for (guint i = 0; i < SP_BUDGET_COLUMNS; i++) {
    SpSum sum = sp_budget_sum (budget, (SpBudgetColumn) i);
    json_object (b, sp_budget_column_name ((SpBudgetColumn) i));
    json_number (b, "u_db", sum.u_db);
    json_number (b, "dof", sum.dof);
    json_number (b, "k", sum.k);
    json_number (b, "expanded_db", sum.expanded_db);
    if (i == SP_BUDGET_MARGIN)
      json_number (b, "expanded_low_db", budget->expanded_margin_low_db);
    json_builder_end_object (b);
  }
  json_builder_end_object (b);
}

static void
write_drawn (JsonBuilder *b, const SpBudgetDrawn *drawn, guint64 n, guint64 seed, gboolean judged)
{
  json_object (b, "monte_carlo");
  json_count (b, "draws", (gint64) n);
  json_count (b, "seed", (gint64) seed);
  for (guint i = 0; i < SP_BUDGET_COLUMNS; i++) {
    const SpPropagated *p = &drawn->column[i];
    json_object (b, sp_budget_column_name ((SpBudgetColumn) i));
    json_number (b, "mean_db", p->mean);
    json_number (b, "u_db", p->u);
    json_number (b, "low_db", p->low);
    json_number (b, "high_db", p->high);
    json_number (b, "shortest_low_db", p->shortest_low);
    json_number (b, "shortest_high_db", p->shortest_high);
    json_builder_end_object (b);
  }
  json_number (b, "conformity", judged ? drawn->column[SP_BUDGET_MARGIN].above_zero : NAN);
  json_builder_end_object (b);
}

static void
write_emission (JsonBuilder *b, const SpUncertaintySource *source)
{
  const SpEmission *e = source->emission;
  json_order (b, e ? e->order : 1);
  json_number (b, "frequency_hz", source->frequency_hz);
  json_number (b, "level_dbm", source->level_dbm);
  json_number (b, "level_dbc", source->level_dbc);
  json_number (b, "limit_dbm", e ? e->limit_dbm : NAN);
  json_number (b, "limit_slope", e ? e->limit_slope : NAN);
  json_number (b, "margin_db", source->margin_db);
  json_number (b, "deciding_margin_db", e ? sp_emission_deciding_margin_db (e) : NAN);
  json_text (b, "verdict", e ? sp_verdict_name (e->verdict) : NULL);
  json_number (b, "conformity", e ? e->conformity : NAN);
}

char *
sp_json_budget (const SpUncertaintySource *source, const SpChain *chain, const SpBudgetDrawn *drawn, guint64 n_draws, guint64 seed)
{
  JsonBuilder *b = json_begin ();
  json_text (b, "name", source->found->name);
  write_emission (b, source);
  json_text (b, "chain_sha256", chain ? chain->sha256 : NULL);
  json_array (b, "terms");
  for (guint i = 0; i < source->budget->n; i++)
    write_term (b, &source->budget->terms[i]);
  json_builder_end_array (b);
  write_sums (b, source->budget);
  if (drawn)
    write_drawn (b, drawn, n_draws, seed, source->emission && !isnan (source->emission->conformity));
  return json_end (b);
}
