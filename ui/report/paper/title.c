/* title.c - the title block and the foot: when, where, by which rule, through which chain, and the hashes of what it was worked out from */
#include "ui/report/paper/compose.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define MOST_HASHES 6 /* of exports in the title block; all stand in the report's files (bounds what a cell holds) */

static const SpCondition *
first_condition (const SpFindings *findings, int radio)
{
  for (guint i = 0; i < findings->n; i++)
    if (paper_is_of (findings, i, radio))
      return &findings->bench->conditions[findings->conditions[i].condition];
  return NULL;
}

static const char *
clause_of (const SpMask *mask)
{
  return mask->clause && *mask->clause ? mask->clause : mask->title ? mask->title : mask->name;
}

/* The clauses of all conditions' masks, each once, with the edition. */
static char *
limits_of (const SpFindings *findings, int radio)
{
  g_autoptr (GPtrArray) told = g_ptr_array_new ();
  g_autoptr (GString) text = g_string_new (NULL);
  for (guint i = 0; i < findings->n; i++) {
    const SpMask *mask = sp_condition_mask (findings->bench, &findings->bench->conditions[findings->conditions[i].condition]);
    if (!paper_is_of (findings, i, radio) || g_ptr_array_find (told, mask, NULL))
      continue;
    g_ptr_array_add (told, (gpointer) mask);
    g_string_append_printf (text, "%s%s, %s", text->len ? "; " : "", clause_of (mask),
                            mask->edition && *mask->edition ? mask->edition : _ ("no edition"));
  }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static char *
analyzers_of (const SpFindings *findings, int radio)
{
  g_autoptr (GPtrArray) told = g_ptr_array_new ();
  g_autoptr (GString) text = g_string_new (NULL);
  for (guint i = 0; i < findings->n; i++) {
    const SpAnalyzer *analyzer = sp_condition_analyzer (findings->bench, &findings->bench->conditions[findings->conditions[i].condition]);
    if (!paper_is_of (findings, i, radio) || g_ptr_array_find (told, analyzer, NULL))
      continue;
    g_ptr_array_add (told, (gpointer) analyzer);
    g_string_append_printf (text, "%s%s, %.6s", text->len ? "; " : "", analyzer->name, analyzer->sha256);
  }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

/* That radio's exports by what they are for: no file's name, which may be another radio's. */
static char *
exports_of (const SpFindings *findings, int radio)
{
  g_autoptr (GHashTable) told = g_hash_table_new (g_str_hash, g_str_equal);
  g_autoptr (GString) text = g_string_new (NULL);
  guint n = 0;
  for (guint i = 0; i < findings->n; i++) {
    const SpCondition *condition = &findings->bench->conditions[findings->conditions[i].condition];
    for (guint k = 0; paper_is_of (findings, i, radio) && k < condition->n_sweeps; k++) {
      const char *sha256 = sp_trace_sha256 (condition->sweeps[k].trace);
      if (!g_hash_table_add (told, (gpointer) sha256))
        continue;
      if (n++ < MOST_HASHES)
        g_string_append_printf (text, "%s%.8s", text->len ? " " : "", sha256);
    }
  }
  if (n > MOST_HASHES)
    g_string_append_printf (text, _ ("; %u more in the report"), n - MOST_HASHES);
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static char *
temperature_of (const SpBench *bench)
{
  if (isnan (bench->temperature_c))
    return NULL;
  g_autofree char *number = sp_words_number (bench->temperature_c, 0, SP_HAND_SCREEN);
  return g_strdup_printf ("%s\342\200\257\302\260C", number);
}

static char *
date_of (const SpBench *bench)
{
  return g_strdup (bench->date ? bench->date : _ ("no date given"));
}

static void
add_chains (SpPaperBlock *block, const SpFindings *findings, int radio, guint row)
{
  g_autoptr (GPtrArray) chains = sp_bench_chains (findings->bench, radio);
  for (guint i = 0; i < chains->len; i++) {
    gboolean alone = chains->len == 1 || (i + 1 == chains->len && i % 2 == 0);
    paper_fact (block, row + i / 2, alone ? 1 : 0.5, _ ("chain, and when its losses were measured"),
                sp_words_chain_age (findings->bench, g_ptr_array_index (chains, i)));
  }
}

void
paper_title_block (GPtrArray *blocks, const SpFindings *findings, int radio, SpPaperSize size)
{
  const SpBench *bench = findings->bench;
  SpPaperBlock *block = paper_add (blocks, SP_BLOCK_TITLE);
  guint row = 0;
  paper_fact (block, row, 0.36, _ ("bench"), g_strdup (bench->title));
  paper_fact (block, row, 0.16, _ ("date"), date_of (bench));
  paper_fact (block, row, 0.26, _ ("place"), g_strdup (bench->place));
  if (size == SP_PAPER_A5)
    row++;
  paper_fact (block, row, 0.22, _ ("operator"), g_strdup (bench->operator_name));
  if (size != SP_PAPER_A5)
    row++;
  paper_fact (block, row, size == SP_PAPER_A5 ? 0.78 : 0.56, _ ("limit: clause, edition"), limits_of (findings, radio));
  if (size == SP_PAPER_A5)
    row++;
  paper_fact (block, row, 0.22, _ ("rule"), sp_words_rule (bench));
  paper_fact (block, row, 0.22, _ ("temperature"), temperature_of (bench));
  if (size != SP_PAPER_A5)
    row++;
  paper_fact (block, row, 0.36, _ ("analyzer"), first_condition (findings, radio) ? analyzers_of (findings, radio) : NULL);
  if (size == SP_PAPER_A5)
    row++;
  if (radio >= 0)
    paper_fact (block, row, 0.3, _ ("this radio's exports, SHA-256"), exports_of (findings, radio));
  paper_fact (block, row, 0.18, _ ("program"), g_strdup ("Spurproof " SP_VERSION));
  paper_fact (block, row, 0.16, _ ("bench's SHA-256"), g_strdup_printf ("%.8s", bench->sha256));
  add_chains (block, findings, radio, row + 1);
}

char *
paper_foot (const SpFindings *findings, const char *what)
{
  const SpBench *bench = findings->bench;
  g_autofree char *date = date_of (bench);
  return g_strdup_printf (_ ("%s  \302\267  %s  \302\267  bench %.8s"), what, date, bench->sha256);
}
