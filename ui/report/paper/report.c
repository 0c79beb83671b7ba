/* report.c - the club's report: the page in front, then a page a condition, the bands, the chains, the files */
#include "ui/report/paper/compose.h"

#include "core/compare/compare.h"
#include "core/compare/order.h"
#include "ui/words/help.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define OVERLAY_MOST 6  /* conditions on one sheet: more cannot be told apart (common practice) */
#define FRONT_OVERLAY 8 /* more conditions and chains leave no room for one in front */

typedef struct {
  const SpFindings *findings;
  int radio; /* -1: all */
  guint n;
  guint *order; /* conditions, the worst first */
  guint *rows;  /* of each condition of the findings: its number in that order */
  SpComparison *comparison;
  GPtrArray *blocks;
  const SpDocument *document; /* NULL: none */
  const SpDocumentPart *parts;
  guint n_parts;
  gboolean open; /* the page that was begun last is of tables and charts that others may follow */
} Report;

static gboolean
has (const Report *report, SpDocumentPart part)
{
  for (guint i = 0; i < report->n_parts; i++)
    if (report->parts[i] == part)
      return TRUE;
  return FALSE;
}

static const SpConditionFindings *
found_of (const Report *report, guint k)
{
  return &report->findings->conditions[report->order[k]];
}

static const SpCondition *
condition_of (const Report *report, guint k)
{
  return &report->findings->bench->conditions[found_of (report, k)->condition];
}

static void
gather (Report *report)
{
  const SpFindings *findings = report->findings;
  g_autofree guint *all = g_new (guint, findings->n + 1);
  report->order = g_new0 (guint, findings->n + 1);
  report->rows = g_new0 (guint, findings->n + 1);
  sp_compare_order (findings, SP_ORDER_WORST, FALSE, all);
  for (guint k = 0; k < findings->n; k++)
    if (paper_is_of (findings, all[k], report->radio))
      report->order[report->n++] = all[k];
  guint rest = report->n;
  for (guint k = 0; k < findings->n; k++)
    if (!paper_is_of (findings, all[k], report->radio))
      report->rows[all[k]] = ++rest;
  for (guint k = 0; k < report->n; k++)
    report->rows[report->order[k]] = k + 1;
}

/* ---- the page in front ---- */

static void
run_of_summary (gpointer block, const char *text, gboolean strong)
{
  paper_run (block, text, strong);
}

static void
add_tally (const Report *report, SpPaperBlock *columns)
{
  guint tally[SP_VERDICT_EXCEEDS + 1];
  SpPaperBlock *block = paper_add (paper_column (columns), SP_BLOCK_TALLY);
  sp_digest_tally (report->findings, report->order, report->n, tally);
  for (int verdict = SP_VERDICT_EXCEEDS; verdict >= 0; verdict--) {
    g_autofree char *label = g_strdup_printf ("%s\n%s", sp_words_verdict ((SpVerdict) verdict),
                                              sp_words_verdict_means ((SpVerdict) verdict));
    paper_fact (block, (guint) verdict, 0, label, g_strdup_printf ("%u", tally[verdict]));
  }
}

static const char *
title_of (const Report *report)
{
  const char *stated = report->document ? report->document->title : NULL, *of_bench = report->findings->bench->title;
  return stated && *stated ? stated : of_bench && *of_bench ? of_bench : _ ("Bench without a title");
}

static void
add_title (const Report *report)
{
  const SpBench *bench = report->findings->bench;
  SpPaperBlock *name = paper_add (report->blocks, SP_BLOCK_NAME);
  name->text = g_strdup (title_of (report));
  g_autofree char *counts = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u condition", "%u conditions", report->n), report->n);
  name->aside = g_strdup_printf ("%s%s%s  \302\267  %s", bench->date ? bench->date : _ ("no date given"), bench->place ? ", " : "",
                                 bench->place ? bench->place : "", counts);
}

static void
add_unsafe (const Report *report)
{
  g_autofree char *unsafe = sp_words_safety (report->findings, SP_HAND_SCREEN);
  if (unsafe)
    paper_paragraph (report->blocks, SP_ROLE_ALARM, _ ("This chain is not safe as drawn:"), g_strdup (unsafe));
}

static void
add_summary (const Report *report)
{
  SpPaperBlock *columns = paper_add (report->blocks, SP_BLOCK_COLUMNS);
  SpPaperBlock *summary = paper_paragraph (paper_column (columns), SP_ROLE_SUMMARY, NULL, g_strdup (""));
  sp_words_summary (report->findings, report->order, report->n, run_of_summary, summary);
  add_tally (report, columns);
}

static char *
anchor_of (guint condition)
{
  return g_strdup_printf ("condition-%u", condition + 1);
}

/* "2nd", or a spur by its frequency. */
static char *
deciding_name (const SpEmission *e)
{
  return e->order ? sp_words_emission_short (e, SP_HAND_SCREEN) : sp_words_frequency (e->frequency_hz, 0, SP_HAND_SCREEN);
}

static void
add_row (const Report *report, SpPaperTable *table, guint k)
{
  const SpConditionFindings *found = found_of (report, k);
  const SpEmission *deciding = sp_findings_deciding (found);
  const char *condition = condition_of (report, k)->name;
  const char *radio = report->findings->bench->radios[condition_of (report, k)->radio].name;
  paper_cell (table, g_strdup_printf ("%u", k + 1));
  paper_verdict_cell (table, found->verdict);
  paper_word (table, radio, TRUE);
  paper_word (table, condition ? condition : "", FALSE);
  paper_cell (table, sp_words_number (found->fundamental_hz / 1e6, 2, SP_HAND_SCREEN));
  paper_cell (table, sp_words_number (report->comparison->rows[report->order[k]].power_w, 1, SP_HAND_SCREEN));
  paper_cell (table,
              deciding ? deciding_name (deciding) : g_strdup (found->verdict == SP_VERDICT_NO_LIMIT ? _ ("no number in the rule") : ""));
  paper_cell (table, deciding ? sp_words_seen (deciding, deciding->level_dbm, SP_HAND_SCREEN) : NULL);
  if (!report->findings->second) /* whose column takes the place of this one: U of the level stands on the condition's page */
    paper_cell (table, deciding && deciding->swept ? sp_words_number (deciding->budget.expanded_level_db, 1, SP_HAND_SCREEN) : NULL);
  paper_cell (table, deciding ? sp_words_number (deciding->limit_dbm, 1, SP_HAND_SCREEN) : NULL);
  SpCell *line = paper_cell (table, NULL);
  line->kind = deciding && !isnan (deciding->limit_dbm) ? SP_CELL_ROOM : SP_CELL_TEXT;
  line->value = deciding ? sp_emission_room_db (deciding) : NAN;
  line->expanded = deciding ? sp_emission_deciding_expanded_db (deciding) : NAN;
  line->at_least = deciding && !deciding->detected;
  paper_cell (table, sp_words_deciding_margin (found, SP_HAND_SCREEN));
  const SpConditionFindings *second = sp_findings_second (report->findings, report->order[k]);
  g_autofree char *by_second = second ? sp_words_deciding_margin (second, SP_HAND_SCREEN) : NULL;
  if (second) {
    SpCell *cell = paper_cell (table, g_steal_pointer (&by_second)); /* the glyph alone: the word has no room */
    cell->kind = SP_CELL_VERDICT;
    cell->verdict = second->verdict;
  } else if (report->findings->second) {
    paper_cell (table, NULL);
  }
  SpCell *page = paper_cell (table, NULL);
  page->link = has (report, SP_DOCUMENT_CONDITIONS) ? anchor_of (report->order[k]) : NULL;
}

static void
add_table (const Report *report)
{
  SpPaperTable *table = paper_table (report->blocks, _ ("Verdicts, the worst first"));
  table->open = TRUE;
  paper_head (table, "", TRUE, FALSE);
  paper_head (table, _ ("verdict"), FALSE, FALSE);
  paper_head (table, _ ("radio"), FALSE, TRUE);
  paper_head (table, _ ("condition"), FALSE, TRUE);
  paper_head (table, _ ("MHz"), TRUE, FALSE);
  paper_head (table, _ ("W"), TRUE, FALSE);
  paper_head (table, _ ("decided by"), FALSE, TRUE);
  paper_head (table, _ ("dBm"), TRUE, FALSE);
  if (!report->findings->second)
    paper_head (table, _ ("\302\261 U"), TRUE, FALSE);
  paper_head (table, _ ("limit"), TRUE, FALSE);
  paper_head (table, _ ("under | over"), FALSE, FALSE);
  paper_head (table, _ ("room"), TRUE, FALSE);
  if (report->findings->second)
    paper_head (table, _ ("second"), FALSE, FALSE);
  paper_head (table, _ ("page"), TRUE, FALSE);
  for (guint k = 0; k < report->n; k++)
    add_row (report, table, k);
  SpPaperBlock *note = paper_paragraph (
      report->blocks, SP_ROLE_NOTE, NULL,
      g_strdup (
          _ ("Room: limit less level, or less what can at most be the radio's; drawn with under the limit to the left, \302\261 "
             "20\342\200\257dB wide, U as whisker. Dotted up to a bar: not seen, may stand anywhere up to it. < : would not have shown "
             "under this.")));
  if (report->findings->second)
    paper_run (note, _ (" Second: the room to the second mask, behind the sign of what that would have."), FALSE);
}

/* ---- overlays ---- */

/* Conditions [from, to) of one band. */
static void
add_overlay (const Report *report, const SpWaveband *band, const guint *conditions, guint n)
{
  g_autofree char *name = sp_words_waveband (band);
  g_autofree char *title = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s: %u condition on one sheet", "%s: %u conditions on one sheet",
                                                         n),
                                            name ? name : _ ("no carrier"), n);
  paper_heading (report->blocks, title, _ ("level at the socket over f / f0"));
  SpPaperBlock *block = paper_add (report->blocks, SP_BLOCK_FIGURES);
  block->abreast = 1;
  block->least = 128;
  block->best = 205;
  SpPaperFigure *figure = paper_figure (block, SP_FIGURE_OVERLAY, report->findings, conditions[0]);
  figure->n_conditions = n;
  figure->conditions = g_memdup2 (conditions, n * sizeof *conditions);
  figure->rows = g_memdup2 (report->rows, report->findings->n * sizeof *report->rows);
  g_autoptr (GString) alt = g_string_new (title);
  for (guint i = 0; i < n; i++) {
    g_autofree char *statement = sp_words_statement (&report->findings->conditions[conditions[i]], SP_HAND_SCREEN);
    g_string_append_printf (alt, " %u, %s: %s", report->rows[conditions[i]], report->findings->conditions[conditions[i]].name, statement);
  }
  figure->alt = g_strdup (alt->str);
  paper_run (block, _ ("What to see."), TRUE);
  paper_run (
      block,
      _ (" Each sweep is drawn against its own carrier, so that harmonics stand under their number, and a step to the right of the one "
         "before, so that all can be told apart; the small figures are the rows of the table. Each has a dash of its own. Grey with "
         "dots: there that sweep would have shown nothing."),
      FALSE);
}

/* All bands with at least two conditions; in front the first sheet of that with most. */
static void
add_overlays (Report *report, gboolean front)
{
  g_autofree guint *of_band = g_new (guint, report->n + 1);
  const SpWaveband *fullest = NULL;
  guint most = 1;
  for (guint k = 0; k < report->n; k++) {
    guint n = 0;
    for (guint i = 0; i < report->n; i++)
      n += sp_compare_waveband (report->findings, report->order[i]) == sp_compare_waveband (report->findings, report->order[k]) ? 1 : 0;
    if (n > most && sp_compare_waveband (report->findings, report->order[k]))
      most = n, fullest = sp_compare_waveband (report->findings, report->order[k]);
  }
  g_autoptr (GPtrArray) chains = sp_bench_chains (report->findings->bench, report->radio);
  gboolean one_in_front = has (report, SP_DOCUMENT_FRONT) && report->n + chains->len <= FRONT_OVERLAY;
  for (guint k = 0; k < report->n; k++) {
    const SpWaveband *band = sp_compare_waveband (report->findings, report->order[k]);
    guint n = 0;
    gboolean first = TRUE, is_front = one_in_front && band == fullest && band;
    for (guint i = 0; i < report->n; i++)
      if (sp_compare_waveband (report->findings, report->order[i]) == band) {
        first = first && i >= k;
        of_band[n++] = report->order[i];
      }
    if (!first || n < 2 || !band || (front && !is_front))
      continue;
    guint sheets = (n + OVERLAY_MOST - 1) / OVERLAY_MOST, each = (n + sheets - 1) / sheets;
    for (guint from = !front && is_front ? each : 0; from < (front ? each : n); from += each) { /* the first of them stands in front */
      if (!front && !report->open)
        paper_page (report->blocks, _ ("Sweeps on one sheet"), "overlays");
      report->open = !front;
      add_overlay (report, band, of_band + from, MIN (n - from, each));
    }
  }
}

static void
add_paragraph (SpPaperBlock *columns, const char *heading, char *text)
{
  GPtrArray *list = paper_column (columns);
  paper_heading (list, heading, NULL);
  paper_paragraph (list, SP_ROLE_BODY, NULL, text);
}

static void
add_method (const Report *report)
{
  SpPaperBlock *columns = paper_add (report->blocks, SP_BLOCK_COLUMNS);
  add_paragraph (columns, _ ("How it was measured"), sp_words_method (report->findings->bench));
  add_paragraph (columns, _ ("How a verdict is given"), sp_words_rule_named (report->findings->bench));
  if (report->n)
    add_paragraph (columns, _ ("Not looked at"), sp_words_not_looked_at_by_any (report->findings, report->order, report->n));
}

/* Behind the front, or what stands on its page, it has no page of its own. */
static gboolean
is_method_in_front (const Report *report)
{
  guint i = 0;
  while (i < report->n_parts && (report->parts[i] == SP_DOCUMENT_FRONT || report->parts[i] == SP_DOCUMENT_OVERLAYS))
    i++;
  return i > 0 && i < report->n_parts && report->parts[i] == SP_DOCUMENT_METHOD && has (report, SP_DOCUMENT_FRONT);
}

/* Title, what was written, whether the chain is safe, and the cautions stand first, whatever parts were chosen. A report of one radio has no words that
 * were written of all. */
static void
add_front (Report *report)
{
  const SpDocument *document = report->radio < 0 ? report->document : NULL;
  gboolean whole = has (report, SP_DOCUMENT_FRONT);
  paper_letterhead (report->blocks, report->findings->bench);
  add_title (report);
  add_unsafe (report);
  paper_words (report->blocks, NULL, document ? document->introduction : NULL);
  if (whole) {
    add_summary (report);
    add_table (report);
  }
  if (document && document->conclusions) {
    paper_heading (report->blocks, _ ("Conclusions"), NULL)->keep = TRUE;
    paper_words (report->blocks, NULL, document->conclusions);
  }
  if (whole && has (report, SP_DOCUMENT_OVERLAYS))
    add_overlays (report, TRUE);
  if (is_method_in_front (report))
    add_method (report);
  paper_paragraph (report->blocks, SP_ROLE_SMALL, _ ("Cautions."), g_strdup (sp_words_key_cautions ()));
  paper_title_block (report->blocks, report->findings, report->radio, SP_PAPER_A4);
}

/* ---- side by side ---- */

#define SIDE_BY_SIDE 10 /* the last order that has a column */

static void
add_comparison (Report *report)
{
  guint last = MIN (report->comparison->most_order, SIDE_BY_SIDE);
  if (report->n < 2 || last < 2)
    return; /* there is nothing to be compared */
  report->open = TRUE;
  paper_page (report->blocks, _ ("Side by side, and the uncertainty"), "comparison");
  paper_heading (report->blocks, _ ("Harmonics side by side"),
                 _ ("level at the socket, dBm; < : not seen, it would have shown from there on"));
  SpPaperTable *table = paper_table (report->blocks, _ ("Harmonics side by side"));
  paper_head (table, _ ("radio, condition"), FALSE, TRUE);
  for (guint order = 2; order <= last; order++) {
    SpEmission one = { .order = order };
    g_autofree char *name = sp_words_emission_short (&one, SP_HAND_SCREEN);
    paper_head (table, name, TRUE, FALSE);
  }
  for (guint k = 0; k < report->n; k++) {
    paper_word (table, found_of (report, k)->name, TRUE);
    for (guint order = 2; order <= last; order++) {
      const SpEmission *e = sp_compare_harmonic (&report->comparison->rows[report->order[k]], order);
      paper_cell (table, e ? sp_words_seen (e, e->level_dbm, SP_HAND_SCREEN) : NULL);
    }
  }
}

/* The budget of each emission that decides. */
static void
add_budgets (Report *report)
{
  gboolean any = FALSE;
  for (guint k = 0; k < report->n; k++) {
    const SpEmission *deciding = sp_findings_deciding (found_of (report, k));
    any = any || (deciding && deciding->budget.n > 0);
  }
  if (!any)
    return;
  if (!report->open) /* else they go on below the comparison */
    paper_page (report->blocks, _ ("The uncertainty"), "budgets");
  SpPaperBlock *name = paper_add (report->blocks, SP_BLOCK_NAME);
  name->text = g_strdup (_ ("Where the uncertainty comes from"));
  name->keep = TRUE;
  paper_paragraph (report->blocks, SP_ROLE_BODY, NULL,
                   g_strdup (_ ("Of each verdict, the budget of the emission that it hangs on, the largest term first.")))
      ->keep
      = TRUE;
  for (guint k = 0; k < report->n; k++)
    paper_budget (report->blocks, report->findings, report->order[k]);
}

static void
add_conditions (Report *report)
{
  for (guint k = 0; k < report->n; k++) {
    g_autofree char *anchor = anchor_of (report->order[k]);
    paper_page (report->blocks, report->findings->conditions[report->order[k]].name, anchor);
    paper_condition_page (report->blocks, report->findings, report->order[k], report->radio >= 0, has (report, SP_DOCUMENT_WHOSE));
  }
}

static void
add_chains (Report *report)
{
  g_autoptr (GPtrArray) chains = sp_bench_chains (report->findings->bench, report->radio);
  for (guint i = 0; i < chains->len; i++)
    paper_chain_page (report->blocks, report->findings, g_ptr_array_index (chains, i), report->radio);
}

static void
add_part (Report *report, SpDocumentPart part)
{
  switch (part) {
  case SP_DOCUMENT_OVERLAYS: add_overlays (report, FALSE); return;
  case SP_DOCUMENT_COMPARISON: add_comparison (report); return;
  case SP_DOCUMENT_BUDGET: add_budgets (report); return;
  case SP_DOCUMENT_CONDITIONS: add_conditions (report); break;
  case SP_DOCUMENT_CHAIN: add_chains (report); break;
  case SP_DOCUMENT_FILES: paper_files_page (report->blocks, report->findings, report->radio); break;
  case SP_DOCUMENT_METHOD:
    if (is_method_in_front (report))
      return;
    paper_page (report->blocks, _ ("How it was measured"), "method");
    add_method (report);
    break;
  case SP_DOCUMENT_PICTURES: paper_pictures_page (report->blocks, report->findings, report->radio); break;
  default: return; /* the front is there; whose an emission is stands with its condition */
  }
  report->open = FALSE;
}

SpPaper *
sp_paper_report (const SpFindings *findings, int radio)
{
  static const SpDocumentPart all[] = { SP_DOCUMENT_FRONT,      SP_DOCUMENT_METHOD,   SP_DOCUMENT_CONDITIONS, SP_DOCUMENT_WHOSE,
                                        SP_DOCUMENT_COMPARISON, SP_DOCUMENT_OVERLAYS, SP_DOCUMENT_BUDGET,     SP_DOCUMENT_CHAIN,
                                        SP_DOCUMENT_PICTURES,   SP_DOCUMENT_FILES };
  SpPaper *paper = paper_new (findings);
  const SpDocument *document = findings->bench->document;
  const GArray *chosen = document ? document->parts : NULL;
  Report report = {
    .findings = findings, .radio = radio, .comparison = sp_compare (findings), .blocks = paper->blocks, .document = document
  };
  report.parts = chosen ? (const SpDocumentPart *) (gconstpointer) chosen->data : all;
  report.n_parts = chosen ? chosen->len : G_N_ELEMENTS (all);
  gather (&report);
  paper->title = g_strdup (title_of (&report));
  paper->subject = g_strdup (_ ("Emissions of transmitters at their antenna sockets, measured and judged"));
  paper->head = g_strdup (paper->title);
  paper->head_aside = g_strdup (paper->subject);
  paper->foot = paper_foot (findings, paper->title);
  add_front (&report);
  for (guint i = 0; i < report.n_parts; i++)
    add_part (&report, report.parts[i]);
  g_free (report.order);
  g_free (report.rows);
  sp_comparison_unref (report.comparison);
  return paper;
}
