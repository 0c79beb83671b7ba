/* workbook-provenance.c - where every number comes from: program, parts, files with their hashes and settings, warnings */
#include "ui/report/workbook/workbook-private.h"

#include "ui/words/words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define LAST_COLUMN 13
#define HASH_COLUMN 7

static void
write_program (Page *page)
{
  const SpBench *bench = page->work->findings->bench;
  page_fact (page, _ ("Program"), "spurproof " SP_VERSION);
  page_fact (page, _ ("Bench"), bench->file);
  page_fact (page, _ ("Bench, SHA-256 of all that counts"), bench->sha256);
  page_fact_number (page, _ ("Temperature, \302\260C"), bench->temperature_c, STYLE_PLAIN);
  page_fact_number (page, _ ("Radio's VSWR at the fundamental"), bench->radio_vswr, STYLE_PLAIN);
  page_fact_number (page, _ ("Radio's VSWR elsewhere"), bench->radio_harmonic_vswr, STYLE_PLAIN);
}

/* Masks, chains and analyzers that count, each once. */
static GPtrArray *
parts_of (const SpBench *bench, gconstpointer (*part) (const SpBench *, const SpCondition *))
{
  GPtrArray *parts = g_ptr_array_new ();
  for (guint i = 0; i < bench->n_conditions; i++) {
    gpointer value = (gpointer) part (bench, &bench->conditions[i]);
    if (value && !g_ptr_array_find (parts, value, NULL))
      g_ptr_array_add (parts, value);
  }
  return parts;
}

/* The chains that the Chain sheet shows, and those that a sweep has of its own and no emission stands on. */
static GPtrArray *
chains_of (const Workbook *work)
{
  const SpBench *bench = work->findings->bench;
  GPtrArray *chains = g_ptr_array_copy (work->chains, NULL, NULL);
  for (guint i = 0; i < bench->n_conditions; i++)
    for (guint j = 0; j < bench->conditions[i].n_sweeps; j++) {
      SpChain *chain = bench->conditions[i].sweeps[j].chain;
      if (chain && !g_ptr_array_find (chains, chain, NULL))
        g_ptr_array_add (chains, chain);
    }
  return chains;
}

static gconstpointer
mask_of (const SpBench *bench, const SpCondition *condition)
{
  return sp_condition_mask (bench, condition);
}
static gconstpointer
second_mask_of (const SpBench *bench, const SpCondition *condition)
{
  return sp_condition_second_mask (bench, condition);
}
static gconstpointer
analyzer_of (const SpBench *bench, const SpCondition *condition)
{
  return sp_condition_analyzer (bench, condition);
}

/* A part in two rows: what it is called with its hash, and its file. Long texts run over the empty cells at their right. */
static void
write_part (Page *page, const char *what, const char *name, const char *file, const char *hash)
{
  page_text (page, 0, what, STYLE_TEXT);
  page_text (page, 1, name, STYLE_TEXT);
  page_text (page, HASH_COLUMN, hash, STYLE_TEXT);
  page->row++;
  page_text (page, 1, file, STYLE_TEXT);
  page->row++;
}

static void
write_parts (Page *page)
{
  const SpBench *bench = page->work->findings->bench;
  const char *const heads[LAST_COLUMN + 1] = { [0] = _ ("Part"), [1] = _ ("Name, clause, edition; file"), [HASH_COLUMN] = _ ("SHA-256") };
  g_autoptr (GPtrArray) masks = parts_of (bench, mask_of), seconds = parts_of (bench, second_mask_of),
                        analyzers = parts_of (bench, analyzer_of), chains = chains_of (page->work);
  for (guint i = 0; i < seconds->len; i++)
    if (!g_ptr_array_find (masks, seconds->pdata[i], NULL))
      g_ptr_array_add (masks, seconds->pdata[i]);
  page_section (page, _ ("Mask, chain, analyzer"));
  page_heads (page, heads, G_N_ELEMENTS (heads));
  for (guint i = 0; i < masks->len; i++) {
    const SpMask *mask = g_ptr_array_index (masks, i);
    g_autofree char *name = g_strjoin (", ", mask->title ? mask->title : mask->name, mask->clause ? mask->clause : _ ("no clause"),
                                       mask->edition ? mask->edition : _ ("no edition"), NULL);
    write_part (page, _ ("mask"), name, mask->file ? mask->file : _ ("built in"), mask->sha256);
  }
  for (guint i = 0; i < chains->len; i++) {
    const SpChain *chain = g_ptr_array_index (chains, i);
    write_part (page, _ ("chain"), chain->name, chain->file, chain->sha256);
  }
  for (guint i = 0; i < analyzers->len; i++) {
    const SpAnalyzer *analyzer = g_ptr_array_index (analyzers, i);
    write_part (page, _ ("analyzer"), analyzer->name, analyzer->file, analyzer->sha256);
  }
  page->row++;
}

/* A sweep of a condition: its own, or the bench's unkeyed one. */
typedef struct {
  const char *condition;
  const SpTrace *trace;
  SpPurpose purpose;
  double step_db;
} File;

static GArray *
files_of (const SpFindings *findings)
{
  GArray *files = g_array_new (FALSE, FALSE, sizeof (File));
  for (guint i = 0; i < findings->n; i++) {
    const SpConditionFindings *found = &findings->conditions[i];
    const SpCondition *condition = &findings->bench->conditions[found->condition];
    const SpTrace *unkeyed = sp_condition_unkeyed (findings->bench, condition);
    for (guint j = 0; j < condition->n_sweeps; j++) {
      const SpSweep *sweep = &condition->sweeps[j];
      g_array_append_vals (files, &(File){ found->name, sweep->trace, sweep->purpose, sweep->step_db }, 1);
      if (sweep->trace == unkeyed)
        unkeyed = NULL;
    }
    if (unkeyed)
      g_array_append_vals (files, &(File){ found->name, unkeyed, SP_PURPOSE_UNKEYED, NAN }, 1);
  }
  return files;
}

static void
write_hashes (Page *page, const GArray *files)
{
  const char *const heads[LAST_COLUMN + 1] = {
    [0] = _ ("Radio and condition"), [1] = _ ("Purpose"), [2] = _ ("File?options (column)"), [HASH_COLUMN] = _ ("SHA-256 of its bytes")
  };
  page_section (page, _ ("Sweeps, as they were exported"));
  if (!page->work->traces)
    page_sentence (page, 0, LAST_COLUMN, _ ("Their points are not in this spreadsheet: it can be written with them."), STYLE_TEXT);
  page_heads (page, heads, G_N_ELEMENTS (heads));
  for (guint i = 0; i < files->len; i++) {
    const File *file = &g_array_index (files, File, i);
    const SpTrace *trace = file->trace;
    gboolean asked = trace->options && *trace->options;
    g_autofree char *column = trace->column ? g_strdup_printf (" (%s)", trace->column) : g_strdup ("");
    g_autofree char *name = g_strconcat (trace->file, asked ? "?" : "", asked ? trace->options : "", column, NULL);
    page_text (page, 0, file->condition, STYLE_TEXT);
    page_text (page, 1, sp_purpose_name (file->purpose), STYLE_TEXT);
    page_text (page, 2, name, STYLE_TEXT);
    page_text (page, HASH_COLUMN, sp_trace_sha256 (trace), STYLE_TEXT);
    page->row++;
  }
  page->row++;
}

static void
write_settings (Page *page, const GArray *files)
{
  const char *const heads[] = {
    _ ("Radio and condition"), _ ("Purpose"),        _ ("Points"),   _ ("From, Hz"), _ ("To, Hz"),   _ ("RBW, Hz"),  _ ("VBW, Hz"),
    _ ("Attenuation, dB"),     _ ("Reference, dBm"), _ ("Detector"), _ ("Average"),  _ ("Averages"), _ ("Step, dB"), _ ("Unit read")
  };
  page_section (page, _ ("Settings that they were taken with"));
  page_heads (page, heads, G_N_ELEMENTS (heads));
  for (guint i = 0; i < files->len; i++) {
    const File *file = &g_array_index (files, File, i);
    const SpTrace *trace = file->trace;
    const SpSettings *set = &trace->settings;
    g_autofree char *unit = sp_words_unit (trace->unit_read, trace->unit_scale);
    page_text (page, 0, file->condition, STYLE_TEXT);
    page_text (page, 1, sp_purpose_name (file->purpose), STYLE_TEXT);
    page_number (page, 2, (double) trace->n, STYLE_WHOLE);
    page_number (page, 3, trace->frequency_hz[0], STYLE_HERTZ);
    page_number (page, 4, trace->frequency_hz[trace->n - 1], STYLE_HERTZ);
    page_number (page, 5, set->rbw_hz, STYLE_HERTZ);
    page_number (page, 6, set->vbw_hz, STYLE_HERTZ);
    page_number (page, 7, set->attenuation_db, STYLE_PLAIN);
    page_number (page, 8, set->reference_dbm, STYLE_PLAIN);
    page_text (page, 9, sp_words_of_detector (set->detector), STYLE_TEXT);
    page_text (page, 10, sp_average_name (set->average), STYLE_TEXT);
    page_number (page, 11, set->averages, STYLE_WHOLE);
    page_number (page, 12, file->step_db, STYLE_PLAIN);
    page_text (page, 13, unit, STYLE_TEXT);
    page->row++;
  }
  page->row++;
}

static void
write_warnings (Page *page, const char *whose, GPtrArray *warnings)
{
  for (guint i = 0; i < warnings->len; i++) {
    const SpReason *reason = g_ptr_array_index (warnings, i);
    g_autofree char *sentence = sp_words_reason (reason, SP_HAND_MACHINE);
    page_text (page, 0, whose, STYLE_TEXT);
    page_text (page, 1, sp_reason_name (reason->code), STYLE_TEXT);
    page_sentence (page, 2, LAST_COLUMN, sentence, STYLE_WRAP);
  }
}

gboolean
workbook_provenance (const Workbook *work, const char *name)
{
  static const double widths[] = { 28, 24, 9, 14, 14, 12, 12, 11, 11, 11, 11, 10, 10, 10 };
  Page page;
  if (!workbook_page (work, name, &page))
    return FALSE;
  page_widths (&page, widths, G_N_ELEMENTS (widths));
  page_text (&page, 0, _ ("Provenance"), STYLE_TITLE);
  page.row = 2;
  write_program (&page);
  page.row++;
  write_parts (&page);
  g_autoptr (GArray) files = files_of (work->findings);
  write_hashes (&page, files);
  write_settings (&page, files);
  page_section (&page, _ ("Warnings"));
  write_warnings (&page, _ ("bench"), work->findings->warnings);
  for (guint i = 0; i < work->findings->n; i++)
    write_warnings (&page, work->findings->conditions[i].name, work->findings->conditions[i].warnings);
  page_finish (&page, 0, 0, 0);
  return TRUE;
}
