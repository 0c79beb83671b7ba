/* report-condition.c - one condition's page: its sentence, its chart, whose each emission is, all emissions, the budget of the one that decides */
#include "ui/report/paper/compose.h"

#include "core/findings/why.h"
#include "core/quantity/units.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define EVIDENCE_MOST 4
#define WARNINGS_MOST 6 /* in full; the files' page has them all */

/* ---- head and chart ---- */

static void
add_head (GPtrArray *blocks, const SpFindings *findings, guint condition)
{
  const SpConditionFindings *found = &findings->conditions[condition];
  const SpCondition *c = &findings->bench->conditions[found->condition];
  const SpRadio *radio = &findings->bench->radios[c->radio];
  SpPaperBlock *name = paper_add (blocks, SP_BLOCK_NAME);
  g_autofree char *f = sp_words_frequency (found->fundamental_hz, 1e4, SP_HAND_SCREEN);
  name->text = g_strdup (radio->name);
  name->aside = c->name && *c->name ? g_strdup (c->name) : NULL;
  paper_fact (name, 0, 0, _ ("serial"), g_strdup (radio->serial));
  paper_fact (name, 0, 0, _ ("carrier"), c->mode ? g_strdup_printf ("%s, %s", f, c->mode) : g_strdup (f));
  paper_fact (name, 1, 0, _ ("owner"), g_strdup (radio->owner));
  paper_fact (name, 1, 0, _ ("power"), sp_words_power_measured (sp_watt_from_dbm (found->power_dbm), found));
  paper_fact (name, 2, 0, _ ("swept"), sp_words_swept (findings, condition));
  paper_fields (blocks, name, radio, c);
  if (!found->safe)
    paper_paragraph (blocks, SP_ROLE_ALARM, _ ("This chain is not safe as drawn:"),
                     g_strdup (_ ("more power goes into a part of it than it is rated for. Do not key again before it is changed.")));
  SpPaperBlock *verdict = paper_add (blocks, SP_BLOCK_VERDICT);
  g_autofree char *lead = sp_words_lead (found->verdict, c->name), *tail = sp_words_statement_tail (found, SP_HAND_SCREEN);
  verdict->verdict = found->verdict;
  paper_run (verdict, lead, TRUE);
  paper_run (verdict, " ", FALSE);
  paper_run (verdict, tail, FALSE);
  paper_second (blocks, findings, condition);
}

static void
add_chart (GPtrArray *blocks, const SpFindings *findings, guint condition)
{
  const SpConditionFindings *found = &findings->conditions[condition];
  SpPaperBlock *block = paper_add (blocks, SP_BLOCK_FIGURES);
  block->abreast = 1;
  block->least = 140;
  block->best = 230;
  SpPaperFigure *figure = paper_figure (block, SP_FIGURE_CHART, findings, condition);
  figure->all_sweeps = TRUE;
  g_autofree char *said = sp_words_to_see (found, found->n_compared > 0), *settings = sp_words_keyed_settings (findings, condition);
  g_autofree char *whole = g_strdup_printf (" %s %s.", said, settings);
  paper_run (block, _ ("What to see."), TRUE);
  paper_run (block, whole, FALSE);
}

/* ---- whose is it ---- */

static int
by_room (gconstpointer a, gconstpointer b, gpointer emissions)
{
  const SpEmission *e = emissions, *x = &e[*(const guint *) a], *y = &e[*(const guint *) b];
  double p = isnan (x->margin_db) ? INFINITY : x->margin_db, q = isnan (y->margin_db) ? INFINITY : y->margin_db;
  return (p > q) - (p < q);
}

/* Of those that more attenuation or a sweep with the key up speaks of, the nearest to the limit or over it. */
static void
add_evidence (GPtrArray *blocks, const SpFindings *findings, guint condition)
{
  const SpConditionFindings *found = &findings->conditions[condition];
  g_autoptr (GArray) shown = g_array_new (FALSE, FALSE, sizeof (guint));
  for (guint i = 0; i < found->n_emissions; i++) { /* a sweep with the key up alone is no plot's worth, but of what decides */
    const SpEmission *e = &found->emissions[i];
    if (e->detected && e->evidence && (e->evidence->n > 1 || e == sp_findings_deciding (found)))
      g_array_append_val (shown, i);
  }
  if (shown->len == 0)
    return;
  g_array_sort_with_data (shown, by_room, found->emissions);
  paper_heading (blocks, _ ("Whose is it?"), _ ("level at the socket, dBm, against attenuation added before the mixer, dB"));
  SpPaperBlock *block = paper_add (blocks, SP_BLOCK_FIGURES);
  block->abreast = CLAMP (shown->len, 2, EVIDENCE_MOST);
  block->least = 84;
  block->best = 122;
  for (guint i = 0; i < shown->len && i < EVIDENCE_MOST; i++) {
    const SpEmission *e = &found->emissions[g_array_index (shown, guint, i)];
    SpPaperFigure *figure = paper_figure (block, SP_FIGURE_EVIDENCE, findings, condition);
    g_autofree char *name = sp_words_emission (e, SP_HAND_SCREEN);
    figure->emission = (int) g_array_index (shown, guint, i);
    figure->title = g_steal_pointer (&name);
  }
  paper_run (block, _ ("What to see."), TRUE);
  paper_run (block,
             _ (" What the radio makes would stay level; what the analyzer's mixer makes of the carrier falls by n \342\210\222 1 dB for "
                "each dB added; "
                "noise rises with it. Dots are readings with U, an arrow: no longer seen. At the right of each plot: what can be the "
                "radio's, what "
                "the analyzer's, and what stands there with the key up."),
             FALSE);
}

/* ---- the table ---- */

static void
add_row (SpPaperTable *table, const SpConditionFindings *found, const SpDigestRow *row)
{
  const SpEmission *e = &found->emissions[row->emission];
  paper_cell (table, sp_words_row_name (found, row))->strong = TRUE;
  paper_cell (table, row->n > 1 ? NULL : sp_words_number (e->frequency_hz / 1e6, 1, SP_HAND_SCREEN));
  paper_cell (table, sp_words_seen (e, e->level_dbm, SP_HAND_SCREEN));
  paper_cell (table, e->swept ? sp_words_number (e->budget.expanded_level_db, 1, SP_HAND_SCREEN) : NULL);
  paper_cell (table, sp_words_seen (e, e->level_dbc, SP_HAND_SCREEN));
  paper_cell (table, sp_words_number (e->limit_dbm, 1, SP_HAND_SCREEN));
  const char *basis = sp_words_origin_basis (e->origin_basis);
  SpCell *origin = paper_cell (table, e->detected
                                          ? g_strdup_printf ("%s%s%s", sp_words_origin (e->origin), basis ? ", " : "", basis ? basis : "")
                                          : g_strdup (e->swept ? _ ("not seen") : _ ("not swept")));
  origin->kind = SP_CELL_ORIGIN;
  origin->origin = e->detected ? e->origin : SP_ORIGIN_NONE;
  paper_cell (table, e->detected && !isnan (e->radio_high_dbm) ? sp_words_radio_part (e, SP_HAND_SCREEN) : NULL);
  paper_cell (table, sp_words_room_u (e, SP_HAND_SCREEN));
  paper_verdict_cell (table, e->verdict);
}

static void
add_table (GPtrArray *blocks, const SpConditionFindings *found)
{
  guint n;
  g_autofree SpDigestRow *rows = sp_digest_whole (found, &n);
  SpPaperTable *table = paper_table (blocks, _ ("All emissions"));
  paper_head (table, _ ("emission"), FALSE, TRUE);
  paper_head (table, _ ("MHz"), TRUE, FALSE);
  paper_head (table, _ ("seen, dBm"), TRUE, FALSE);
  paper_head (table, _ ("\302\261 U"), TRUE, FALSE);
  paper_head (table, _ ("dBc"), TRUE, FALSE);
  paper_head (table, _ ("limit"), TRUE, FALSE);
  paper_head (table, _ ("origin, by what"), FALSE, TRUE);
  paper_head (table, _ ("radio's part"), TRUE, FALSE);
  paper_head (table, _ ("room \302\261 U"), TRUE, FALSE);
  paper_head (table, _ ("verdict"), FALSE, FALSE);
  for (guint i = 0; i < n; i++)
    add_row (table, found, &rows[i]);
}

/* ---- the budget ---- */

static void
add_term (SpPaperTable *table, const SpWhyTerm *term)
{
  const SpTerm *t = term->term;
  paper_word (table, sp_words_term (t->kind), FALSE);
  paper_cell (table, sp_words_number (t->width_db, 3, SP_HAND_SCREEN));
  paper_word (table, sp_words_distribution (t->distribution), FALSE);
  paper_cell (table, sp_words_number (t->divisor, 3, SP_HAND_SCREEN));
  paper_cell (table, sp_words_number (term->u_db, 3, SP_HAND_SCREEN));
  SpCell *bar = paper_cell (table, NULL);
  bar->kind = SP_CELL_SHARE;
  bar->value = term->share;
  paper_cell (table, term->share < 0.01 ? g_strdup ("< 1") : sp_words_number (100 * term->share, 0, SP_HAND_SCREEN));
  g_autofree char *from = g_strdup_printf (t->assumed ? _ ("%s, assumed") : "%s", sp_words_budget_source (t->source));
  paper_word (table, from, FALSE);
}

void
paper_budget (GPtrArray *blocks, const SpFindings *findings, guint condition)
{
  const SpConditionFindings *found = &findings->conditions[condition];
  g_autoptr (SpWhy) why = sp_why (findings, condition, found->worst_emission);
  if (!why || why->n_terms == 0)
    return;
  g_autofree char *name = sp_words_emission (why->emission, SP_HAND_SCREEN), *k = sp_words_number (why->k, 2, SP_HAND_SCREEN),
                  *u = sp_words_number (why->u_db, 3, SP_HAND_SCREEN), *expanded = sp_words_number (why->expanded_db, 2, SP_HAND_SCREEN);
  g_autofree char *of = g_strdup_printf (_ ("%s, of its room: u = %s\342\200\257dB, k = %s, so U = %s\342\200\257dB"), name, u, k,
                                         expanded);
  paper_heading (blocks, found->name, of);
  SpPaperTable *table = paper_table (blocks, _ ("Uncertainty budget"));
  paper_head (table, _ ("term"), FALSE, TRUE);
  paper_head (table, _ ("width, dB"), TRUE, FALSE);
  paper_head (table, _ ("taken as"), FALSE, FALSE);
  paper_head (table, _ ("divisor"), TRUE, FALSE);
  paper_head (table, _ ("u, dB"), TRUE, FALSE);
  paper_head (table, _ ("share of u\302\262"), FALSE, FALSE);
  paper_head (table, "%", TRUE, FALSE);
  paper_head (table, _ ("from"), FALSE, TRUE);
  for (guint i = 0; i < why->n_terms; i++)
    add_term (table, &why->terms[i]);
}

/* ---- to note ---- */

static void
add_notes (GPtrArray *blocks, const SpFindings *findings, guint condition, gboolean alone)
{
  const SpConditionFindings *found = &findings->conditions[condition];
  paper_add (blocks, SP_BLOCK_RULE);
  SpPaperBlock *columns = paper_add (blocks, SP_BLOCK_COLUMNS);
  g_autoptr (GString) text = g_string_new (NULL);
  for (guint i = 0; i < found->warnings->len && i < WARNINGS_MOST; i++) {
    const SpReason *warning = g_ptr_array_index (found->warnings, i);
    if (alone && warning->code == SP_REASON_PRODUCT_CARRIED) /* from another radio's steps */
      continue;
    g_autofree char *said = sp_words_reason (warning, SP_HAND_SCREEN);
    g_string_append_printf (text, "%s%s", text->len ? " " : "", said);
  }
  if (found->warnings->len > WARNINGS_MOST)
    g_string_append_printf (text, _ (" And %u more, with the files."), found->warnings->len - WARNINGS_MOST);
  paper_paragraph (paper_column (columns), SP_ROLE_SMALL, _ ("To note."), text->len ? g_strdup (text->str) : g_strdup (_ ("Nothing.")));
  paper_paragraph (paper_column (columns), SP_ROLE_SMALL, alone ? _ ("What would settle it.") : _ ("Why, and what would settle it."),
                   alone ? sp_words_settle (findings, condition) : sp_words_explanation (found, SP_HAND_SCREEN));
}

void
paper_condition_page (GPtrArray *blocks, const SpFindings *findings, guint condition, gboolean alone, gboolean whose)
{
  const SpBench *bench = findings->bench;
  const SpRadio *radio = &bench->radios[bench->conditions[findings->conditions[condition].condition].radio];
  add_head (blocks, findings, condition);
  paper_words (blocks, _ ("Remark."), sp_document_remark (bench->document, radio->name));
  add_chart (blocks, findings, condition);
  if (whose)
    add_evidence (blocks, findings, condition);
  if (findings->conditions[condition].n_emissions)
    add_table (blocks, &findings->conditions[condition]);
  add_notes (blocks, findings, condition, alone);
}
