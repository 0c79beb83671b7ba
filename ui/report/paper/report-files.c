/* report-files.c - where every number comes from: files with their settings and hashes, profile, rules, warnings */
#include "ui/report/paper/compose.h"

#include "core/quantity/text.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static char *
span_of (const SpTrace *trace)
{
  g_autofree char *from = sp_words_number (trace->frequency_hz[0] / 1e6, 1, SP_HAND_SCREEN),
                  *to = sp_words_number (trace->frequency_hz[trace->n - 1] / 1e6, 1, SP_HAND_SCREEN);
  return g_strdup_printf (_ ("%s to %s"), from, to);
}

static void
add_sweep (SpPaperTable *table, const char *whose, const SpTrace *trace, SpPurpose purpose)
{
  const SpSettings *set = &trace->settings;
  g_autofree char *file = g_path_get_basename (trace->file);
  const char *detector = sp_words_of_detector (set->detector);
  paper_word (table, whose, FALSE);
  paper_word (table, sp_words_purpose (purpose), FALSE);
  paper_word (table, file, FALSE);
  paper_cell (table, span_of (trace));
  paper_cell (table, g_strdup_printf ("%" G_GUINT64_FORMAT, trace->n));
  paper_cell (table, isnan (set->rbw_hz) ? NULL : sp_words_frequency (set->rbw_hz, 0, SP_HAND_SCREEN));
  paper_cell (table, isnan (set->attenuation_db) ? NULL : sp_words_number (set->attenuation_db, 0, SP_HAND_SCREEN));
  paper_word (table, detector ? detector : "", FALSE);
}

static void
add_sweeps (GPtrArray *blocks, const SpFindings *findings, int radio)
{
  paper_heading (blocks, _ ("Sweeps, as they were exported"), NULL);
  SpPaperTable *table = paper_table (blocks, _ ("Sweeps and their settings"));
  paper_head (table, _ ("radio, condition"), FALSE, TRUE);
  paper_head (table, _ ("purpose"), FALSE, TRUE);
  paper_head (table, _ ("file"), FALSE, TRUE);
  paper_head (table, _ ("MHz"), FALSE, FALSE);
  paper_head (table, _ ("points"), TRUE, FALSE);
  paper_head (table, _ ("RBW"), TRUE, FALSE);
  paper_head (table, _ ("att., dB"), TRUE, FALSE);
  paper_head (table, _ ("detector"), FALSE, FALSE);
  for (guint i = 0; i < findings->n; i++) {
    const SpCondition *condition = &findings->bench->conditions[findings->conditions[i].condition];
    for (guint k = 0; paper_is_of (findings, i, radio) && k < condition->n_sweeps; k++)
      add_sweep (table, findings->conditions[i].name, condition->sweeps[k].trace, condition->sweeps[k].purpose);
  }
  if (findings->bench->unkeyed)
    add_sweep (table, _ ("bench"), findings->bench->unkeyed, SP_PURPOSE_UNKEYED);
}

typedef struct {
  SpPaperTable *table;
  GHashTable *told;
} Hashes;

static void
add_hash (Hashes *hashes, const char *what, const char *name, const char *sha256)
{
  if (!sha256 || !g_hash_table_add (hashes->told, (gpointer) sha256))
    return;
  paper_word (hashes->table, what, FALSE);
  paper_word (hashes->table, name ? name : "", FALSE);
  paper_word (hashes->table, sha256, FALSE);
}

static void
add_trace_hash (Hashes *hashes, const SpTrace *trace)
{
  g_autofree char *file = g_path_get_basename (trace->file);
  add_hash (hashes, _ ("export"), file, sp_trace_sha256 (trace));
}

static void
add_hashes (GPtrArray *blocks, const SpFindings *findings, int radio)
{
  const SpBench *bench = findings->bench;
  paper_heading (blocks, _ ("SHA-256 of all that was judged by"), NULL);
  Hashes hashes = { paper_table (blocks, _ ("Hashes")), g_hash_table_new (g_str_hash, g_str_equal) };
  paper_head (hashes.table, _ ("what"), FALSE, FALSE);
  paper_head (hashes.table, _ ("name; clause and edition; file"), FALSE, TRUE);
  paper_head (hashes.table, _ ("SHA-256"), FALSE, FALSE);
  add_hash (&hashes, _ ("bench"), bench->title, bench->sha256);
  g_autoptr (GPtrArray) chains = sp_bench_chains (findings->bench, radio);
  for (guint i = 0; i < chains->len; i++)
    add_hash (&hashes, _ ("chain"), ((const SpChain *) g_ptr_array_index (chains, i))->name,
              ((const SpChain *) g_ptr_array_index (chains, i))->sha256);
  for (guint i = 0; i < findings->n; i++) {
    const SpCondition *condition = &bench->conditions[findings->conditions[i].condition];
    const SpMask *masks[] = { sp_condition_mask (bench, condition), sp_condition_second_mask (bench, condition) };
    const SpAnalyzer *analyzer = sp_condition_analyzer (bench, condition);
    if (!paper_is_of (findings, i, radio))
      continue;
    for (guint k = 0; k < G_N_ELEMENTS (masks) && masks[k]; k++) {
      g_autofree char *clause = sp_words_mask (masks[k]),
                      *whole = g_strdup_printf ("%s, %s", clause, masks[k]->edition ? masks[k]->edition : _ ("no edition"));
      add_hash (&hashes, _ ("limits"), whole, masks[k]->sha256);
    }
    add_hash (&hashes, _ ("analyzer"), analyzer->name, analyzer->sha256);
    for (guint k = 0; k < condition->n_sweeps; k++)
      add_trace_hash (&hashes, condition->sweeps[k].trace);
  }
  if (bench->unkeyed)
    add_trace_hash (&hashes, bench->unkeyed);
  g_hash_table_unref (hashes.told);
}

/* What several conditions are warned of alike stands once, after their names. */
static void
add_warning (GPtrArray *sentences, GHashTable *names, const char *whose, const SpReason *reason)
{
  char *said = sp_words_reason (reason, SP_HAND_SCREEN);
  GString *before = g_hash_table_lookup (names, said);
  if (before) {
    g_string_append_printf (before, ", %s", whose);
    g_free (said);
    return;
  }
  g_hash_table_insert (names, said, g_string_new (whose));
  g_ptr_array_add (sentences, said);
}

static void
free_string (void *string)
{
  g_string_free (string, TRUE);
}

static void
add_warnings (GPtrArray *blocks, const SpFindings *findings, int radio)
{
  g_autoptr (GPtrArray) sentences = g_ptr_array_new ();
  g_autoptr (GHashTable) names = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, free_string);
  for (guint i = 0; radio < 0 && i < findings->warnings->len; i++)
    add_warning (sentences, names, _ ("Bench"), g_ptr_array_index (findings->warnings, i));
  for (guint i = 0; i < findings->n; i++)
    for (guint k = 0; paper_is_of (findings, i, radio) && k < findings->conditions[i].warnings->len; k++)
      if (radio < 0 || ((const SpReason *) g_ptr_array_index (findings->conditions[i].warnings, k))->code != SP_REASON_PRODUCT_CARRIED)
        add_warning (sentences, names, findings->conditions[i].name, g_ptr_array_index (findings->conditions[i].warnings, k));
  paper_heading (blocks, _ ("Warnings"), sentences->len ? NULL : _ ("none"));
  for (guint i = 0; i < sentences->len; i++) {
    const char *said = g_ptr_array_index (sentences, i);
    g_autofree char *whose = g_strdup_printf ("%s:", ((GString *) g_hash_table_lookup (names, said))->str);
    paper_paragraph (blocks, SP_ROLE_NOTE, whose, g_strdup (said));
  }
}

void
paper_files_page (GPtrArray *blocks, const SpFindings *findings, int radio)
{
  paper_page (blocks, _ ("The files"), "files");
  SpPaperBlock *name = paper_add (blocks, SP_BLOCK_NAME);
  name->text = g_strdup (_ ("Where the numbers come from"));
  add_sweeps (blocks, findings, radio);
  add_hashes (blocks, findings, radio);
  add_warnings (blocks, findings, radio);
}
