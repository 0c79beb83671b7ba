/* table-budget.c - every term behind one level as a text table */
#include "ui/report/lines.h"
#include "ui/report/table.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Of P there is only the level. */
static guint
columns_of (const SpUncertaintySource *source)
{
  return source->emission ? SP_BUDGET_COLUMNS : SP_BUDGET_POWER;
}

static void
line_of_level (GString *out, const SpUncertaintySource *source)
{
  g_autofree char *name = source->emission ? sp_words_emission (source->emission, SP_HAND_MACHINE) : g_strdup (_ ("fundamental"));
  g_autofree char *at = sp_words_frequency (source->frequency_hz, 0, SP_HAND_MACHINE);
  g_autofree char *level = sp_words_number (source->level_dbm, 2, SP_HAND_MACHINE);
  g_autofree char *u = sp_words_number (source->budget->expanded_level_db, 2, SP_HAND_MACHINE);
  g_autofree char *room = source->emission ? sp_words_room (source->emission, SP_HAND_MACHINE) : NULL;
  add_cleaned (out, g_strdup_printf (_ ("%s, %s at %s: %s dBm, U %s dB"), source->found->name, name, at, level, u));
  if (!isnan (source->margin_db)) {
    g_autofree char *margin = sp_words_number (source->margin_db, 2, SP_HAND_MACHINE);
    g_autofree char *margin_u = sp_words_number (source->budget->expanded_margin_db, 2, SP_HAND_MACHINE);
    g_string_append_printf (out, _ ("; margin %s dB, U %s dB"), margin, margin_u);
    if (source->budget->expanded_margin_low_db != source->budget->expanded_margin_db) {
      g_autofree char *low = sp_words_number (source->budget->expanded_margin_low_db, 2, SP_HAND_MACHINE);
      g_string_append_printf (out, _ (" (%s dB towards exceeds: what sampling may have lost only lifts it)"), low);
    }
  }
  if (source->emission && *room)
    g_string_append_printf (out, _ ("; %s, room %s dB"), sp_words_verdict (source->emission->verdict), room);
  g_string_append (out, "\n\n");
}

static void
cell_dof (Columns *columns, double dof)
{
  columns_add (columns, isfinite (dof) ? sp_words_number (floor (dof), 0, SP_HAND_MACHINE) : g_strdup (_ ("inf")));
}

static void
row_of_term (Columns *columns, const SpTerm *term, guint n)
{
  columns_add (columns, g_strdup_printf ("%s%s", sp_term_name (term->kind), term->assumed ? " *" : ""));
  cell_db (columns, term->estimate_db, 2);
  cell_db (columns, term->width_db, 4);
  cell_word (columns, sp_distribution_name (term->distribution));
  cell_db (columns, term->divisor, 3);
  cell_word (columns, "1");
  for (guint i = 0; i < n; i++)
    if (i == SP_BUDGET_DBC && sp_term_cancels (term))
      cell_word (columns, _ ("cancels"));
    else if (i == SP_BUDGET_MARGIN && term->by_part)
      cell_word (columns, _ ("in its part"));
    else
      cell_db (columns, sp_term_u_db (term, (SpBudgetColumn) i), 4);
  cell_dof (columns, term->dof);
  const char *source = sp_budget_source_name (term->source);
  columns_add (columns, term->assumed_stage ? g_strdup_printf ("%s, %s", source, term->assumed_stage) : g_strdup (source));
}

/* A sum under each column: what u, dof, k and U are is the row's name. */
static void
row_of_sums (Columns *columns, const SpBudget *budget, guint n, guint which)
{
  const char *const names[] = { "u", _ ("degrees of freedom"), "k", "U" };
  const int decimals[] = { 4, 0, 3, 4 };
  cell_word (columns, names[which]);
  for (guint i = 0; i < 5; i++)
    cell_word (columns, "");
  for (guint i = 0; i < n; i++) {
    SpSum sum = sp_budget_sum (budget, (SpBudgetColumn) i);
    const double value[] = { sum.u_db, sum.dof, sum.k, sum.expanded_db };
    if (which == 1)
      cell_dof (columns, value[which]);
    else
      cell_db (columns, value[which], decimals[which]);
  }
  cell_word (columns, "");
  cell_word (columns, "");
}

static void
table_of_terms (GString *out, const SpUncertaintySource *source)
{
  const char *const all[] = { _ ("term"),   _ ("estimate dB"), _ ("width dB"), _ ("distribution"), _ ("divisor"), "c", _ ("u dBm"),
                              _ ("u of P"), _ ("u dBc"),       _ ("u margin"), _ ("dof"),          _ ("source"),  NULL };
  const char *const alone[] = { _ ("term"), _ ("estimate dB"), _ ("width dB"), _ ("distribution"), _ ("divisor"),
                                "c",        _ ("u dBm"),       _ ("dof"),      _ ("source"),       NULL };
  guint n = columns_of (source);
  Columns *columns = n == SP_BUDGET_COLUMNS ? columns_new_heads ("lrrlrrrrrrrl", all) : columns_new_heads ("lrrlrrrrl", alone);
  for (guint i = 0; i < source->budget->n; i++)
    row_of_term (columns, &source->budget->terms[i], n);
  for (guint which = 0; which < 4; which++)
    row_of_sums (columns, source->budget, n, which);
  columns_finish (columns, 0, out);
  g_string_append (out, _ ("u = width / divisor, c the sensitivity; dof of the level's share.  * nobody stated it: common practice\n"));
  for (guint i = 0; i < source->budget->n; i++)
    if (source->budget->terms[i].by_part)
      g_string_append (out, _ ("in its part: a verdict goes by the ends of the radio's own part, which hold it\n"));
}

static void
table_of_drawn (GString *out, const SpUncertaintySource *source, const SpBudgetDrawn *drawn, guint64 n_draws, guint64 seed)
{
  const char *const names[SP_BUDGET_COLUMNS] = { _ ("level dBm"), _ ("P"), _ ("level dBc"), _ ("margin") };
  Columns *columns = columns_new ("lrrrrrr", _ ("drawn, dB"), _ ("mean"), "u", _ ("from"), _ ("to"), _ ("shortest from"), _ ("to"), NULL);
  for (guint i = 0; i < columns_of (source); i++) {
    const SpPropagated *p = &drawn->column[i];
    const double value[] = { p->mean, p->u, p->low, p->high, p->shortest_low, p->shortest_high };
    cell_word (columns, names[i]);
    for (guint j = 0; j < G_N_ELEMENTS (value); j++)
      cell_db (columns, value[j], 4);
  }
  g_string_append_c (out, '\n');
  columns_finish (columns, 0, out);
  g_string_append_printf (
      out,
      _ ("%" G_GUINT64_FORMAT " draws, seed %" G_GUINT64_FORMAT
         ": deviations from the estimates, and the margin itself; 95.45 %%; mismatch and noise as they are, not straightened\n"),
      n_draws, seed);
}

char *
sp_table_budget (const SpUncertaintySource *source, const SpChain *chain, const SpBudgetDrawn *drawn, guint64 n_draws, guint64 seed)
{
  GString *out = g_string_new (NULL);
  line_of_level (out, source);
  if (source->budget->n)
    table_of_terms (out, source);
  else
    g_string_append (out, _ ("Nothing was swept there, so there is no level to be unsure of.\n"));
  if (drawn && source->budget->n)
    table_of_drawn (out, source, drawn, n_draws, seed);
  if (chain) {
    g_string_append_c (out, '\n');
    add_cleaned (out, g_strdup_printf (_ ("chain %s (%.12s)"), chain->name, chain->sha256));
    g_string_append_c (out, '\n');
  }
  return g_string_free (out, FALSE);
}
