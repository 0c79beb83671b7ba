/* table-findings.c - the verdicts, and behind each the emissions, as text tables */
#include "ui/report/lines.h"
#include "ui/report/table.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* "mask NAME (CLAUSE, HASH)": two masks of one name and clause may ask different figures. */
static char *
part_of_mask (const SpMask *mask)
{
  return g_strdup_printf (_ ("mask %s (%s%s%.12s)"), mask->name, mask->clause ? mask->clause : "", mask->clause ? ", " : "", mask->sha256);
}

/* What a condition has of its own, in place of the bench's. */
static void
line_of_own_parts (GString *out, const SpBench *bench, const SpCondition *condition)
{
  const SpMask *mask = sp_condition_mask (bench, condition);
  const SpChain *chain = sp_condition_chain (bench, condition);
  const SpAnalyzer *analyzer = sp_condition_analyzer (bench, condition);
  g_autoptr (GPtrArray) parts = g_ptr_array_new_with_free_func (g_free);
  if (mask && mask != bench->mask)
    g_ptr_array_add (parts, part_of_mask (mask));
  if (chain && chain != bench->chain)
    g_ptr_array_add (parts, g_strdup_printf (_ ("chain %s (%.12s)"), chain->name, chain->sha256));
  if (analyzer && analyzer != bench->analyzer)
    g_ptr_array_add (parts, g_strdup_printf (_ ("analyzer %s (%.12s)"), analyzer->name, analyzer->sha256));
  for (guint i = 0; i < parts->len; i++)
    add_cleaned (out, g_strdup_printf ("%s%s", i ? ", " : "  ", (const char *) parts->pdata[i]));
  if (parts->len)
    g_string_append_c (out, '\n');
}

static void
line_of_bench (GString *out, const SpBench *bench)
{
  if (bench->title)
    g_string_append_printf (out, "%s%s%s\n", bench->title, bench->date ? ", " : "", bench->date ? bench->date : "");
  const SpMask *mask = bench->mask;
  if (mask) {
    g_autofree char *part = part_of_mask (mask);
    add_cleaned (out, g_strdup_printf ("%s, ", part));
  }
  g_string_append_printf (out, _ ("rule %s"), sp_decision_rule_name (bench->decision_rule));
  if (bench->chain)
    add_cleaned (out, g_strdup_printf (_ (", chain %s (%.12s)"), bench->chain->name, bench->chain->sha256));
  if (bench->analyzer)
    add_cleaned (out, g_strdup_printf (_ (", analyzer %s (%.12s)"), bench->analyzer->name, bench->analyzer->sha256));
  g_string_append (out, "\n\n");
}

static void
table_of_verdicts (GString *out, const SpFindings *findings)
{
  Columns *columns = columns_new ("llrrrrrrl", _ ("verdict"), _ ("radio"), _ ("fundamental"), _ ("99 % width"), _ ("power"), "dBm",
                                  _ ("U dB"), _ ("room dB"), _ ("decided by"), NULL);
  for (guint i = 0; i < findings->n; i++) {
    const SpConditionFindings *found = &findings->conditions[i];
    cell_word (columns, sp_words_verdict (found->verdict));
    cell_word (columns, found->name);
    cell_frequency (columns, found->fundamental_hz);
    g_autofree char *occupied = sp_words_occupied (found, SP_HAND_MACHINE);
    cell_word (columns, occupied);
    cell_power (columns, isnan (found->power_dbm) ? NAN : sp_watt_from_dbm (found->power_dbm));
    cell_db (columns, found->power_dbm, 1);
    cell_db (columns, found->power_expanded_db, 1);
    cell_margin (columns, found);
    if (found->worst_emission >= 0)
      columns_add (columns, sp_words_emission (&found->emissions[found->worst_emission], SP_HAND_MACHINE));
    else
      cell_word (columns, NULL);
  }
  columns_finish (columns, 0, out);
}

/* Which columns a condition's table has besides those of every table. */
typedef struct {
  guint64 n_draws, seed;
  gboolean evidence; /* a step test or an unkeyed sweep has something to say */
} Extent;

/* Of what was not seen a bound, as its level is. */
static void
cell_dbc (Columns *columns, const SpEmission *emission)
{
  if (sp_emission_is_blind (emission) || isnan (emission->level_dbc))
    cell_word (columns, NULL);
  else
    columns_add (columns, sp_words_seen (emission, emission->level_dbc, SP_HAND_MACHINE));
}

static void
cell_level (Columns *columns, const SpEmission *emission)
{
  columns_add (columns, sp_words_seen (emission, emission->level_dbm, SP_HAND_MACHINE));
}

/* What stands there while nothing is keyed; under its floor where nothing was seen. */
static void
cell_unkeyed (Columns *columns, const SpEvidence *evidence)
{
  if (!evidence || isnan (evidence->ambient_dbm)) {
    cell_word (columns, NULL);
    return;
  }
  g_autofree char *level = sp_words_number (evidence->ambient_dbm, 1, SP_HAND_MACHINE);
  columns_add (columns, g_strconcat (evidence->ambient_seen ? "" : "<", level, NULL));
}

static void
row_of_emission (Columns *columns, const SpEmission *emission, const Extent *extent)
{
  gboolean blind = sp_emission_is_blind (emission), judged = !isnan (emission->margin_db) && !blind;
  const SpBudget *budget = &emission->budget;
  columns_add (columns, sp_words_emission (emission, SP_HAND_MACHINE));
  cell_frequency (columns, emission->frequency_hz);
  cell_level (columns, emission);
  cell_db (columns, emission->swept ? budget->expanded_level_db : NAN, 1);
  cell_dbc (columns, emission);
  cell_db (columns, blind ? NAN : emission->floor_dbm, 1);
  cell_word (columns, emission->swept && !blind ? sp_words_cause (emission->floor_cause) : NULL);
  cell_db (columns, emission->limit_dbm, 1);
  gboolean by_part = emission->decision == SP_DECISION_PART_HIGH || emission->decision == SP_DECISION_PART_LOW;
  gboolean guessed = !sp_emission_room_is_known (emission);
  cell_signed (columns, blind || by_part || guessed
                            ? NAN
                            : emission->margin_db); /* beside a verdict that the radio's part made only its room stands */
  cell_db (columns, judged ? sp_emission_deciding_expanded_db (emission) : NAN, 1);
  cell_db (columns, sp_emission_deciding_conformity (emission), 3);
  if (extent->n_draws) {
    SpMonteCarlo drawn = judged ? sp_emission_monte_carlo (emission, extent->n_draws, extent->seed) : (SpMonteCarlo){ NAN, NAN, NAN };
    cell_db (columns, drawn.margin_expanded_db, 2);
    cell_db (columns, isnan (sp_emission_deciding_conformity (emission)) ? NAN : drawn.conformity, 3);
  }
  cell_word (columns, emission->origin == SP_ORIGIN_NONE ? NULL : sp_words_origin (emission->origin));
  cell_word (columns, sp_words_origin_basis (emission->origin_basis));
  if (extent->evidence) {
    columns_add (columns, sp_words_radio_part (emission, SP_HAND_MACHINE));
    cell_unkeyed (columns, emission->evidence);
  }
  g_autofree char *room = sp_words_room (emission, SP_HAND_MACHINE);
  cell_word (columns, *room ? room : NULL);
  cell_word (columns, sp_words_verdict (emission->verdict));
}

static void
table_of_emissions (GString *out, const SpConditionFindings *found, guint64 n_draws, guint64 seed)
{
  Extent extent = { n_draws, seed, FALSE };
  for (guint i = 0; i < found->n_emissions; i++)
    extent.evidence |= found->emissions[i].evidence != NULL;
  const struct {
    const char *head;
    char alignment;
    gboolean shown;
  } all[] = {
    { _ ("emission"), 'l', TRUE },
    { _ ("at"), 'r', TRUE },
    { "dBm", 'r', TRUE },
    { _ ("U"), 'r', TRUE },
    { "dBc", 'r', TRUE },
    { _ ("floor"), 'r', TRUE },
    { _ ("made of"), 'l', TRUE },
    { _ ("limit"), 'r', TRUE },
    { _ ("margin"), 'r', TRUE },
    { _ ("U"), 'r', TRUE },
    { "p", 'r', TRUE },
    { _ ("drawn U"), 'r', n_draws > 0 },
    { _ ("drawn p"), 'r', n_draws > 0 },
    { _ ("origin"), 'l', TRUE },
    { _ ("by"), 'l', TRUE },
    { _ ("radio's part"), 'r', extent.evidence },
    { _ ("unkeyed"), 'r', extent.evidence },
    { _ ("room"), 'r', TRUE },
    { _ ("verdict"), 'l', TRUE },
  };
  const char *heads[G_N_ELEMENTS (all)];
  char alignment[G_N_ELEMENTS (all) + 1] = "";
  guint n = 0;
  for (guint i = 0; i < G_N_ELEMENTS (all); i++)
    if (all[i].shown) {
      heads[n] = all[i].head;
      alignment[n++] = all[i].alignment;
    }
  Columns *columns = columns_new_heads (alignment, heads);
  const SpEmission *unsettled = sp_findings_unsettled (found);
  if (unsettled)
    row_of_emission (columns, unsettled, &extent);
  for (guint i = 0; i < found->n_emissions; i++)
    if (&found->emissions[i] != unsettled)
      row_of_emission (columns, &found->emissions[i], &extent);
  columns_finish (columns, 2, out);
}

static gboolean
leaves_something_to_say (const SpEmission *emission)
{
  return emission->reason && emission->verdict != SP_VERDICT_COMPLIES && emission->verdict != SP_VERDICT_NO_LIMIT;
}

/* Of those with the reason of emission `i`: the one with the least room (the first where there is none), and how many there are; 0 where
 * an earlier emission has that reason too. */
static guint
worst_of_reason (const SpConditionFindings *found, guint i, guint *worst)
{
  guint n = 0;
  *worst = i;
  for (guint j = 0; j < found->n_emissions; j++) {
    const SpEmission *other = &found->emissions[j];
    if (!leaves_something_to_say (other) || other->reason->code != found->emissions[i].reason->code)
      continue;
    if (j < i)
      return 0;
    n++;
    if (sp_emission_deciding_margin_db (other) < sp_emission_deciding_margin_db (&found->emissions[*worst]))
      *worst = j;
  }
  return n;
}

/* Why, and what would prove it, where a verdict leaves something to say: once for each reason, for the emission it weighs most on. */
static void
lines_of_why (GString *out, const SpConditionFindings *found)
{
  for (guint i = 0; i < found->n_emissions; i++) {
    guint worst, n = leaves_something_to_say (&found->emissions[i]) ? worst_of_reason (found, i, &worst) : 0;
    const SpEmission *emission = n ? &found->emissions[worst] : NULL;
    if (!n || (n == 1 && emission == sp_findings_unsettled (found))) /* that has been said */
      continue;
    g_autofree char *name = sp_words_emission (emission, SP_HAND_MACHINE);
    g_autofree char *why = sp_words_reason (emission->reason, SP_HAND_MACHINE);
    g_autofree char *proof = emission->would_prove ? sp_words_reason (emission->would_prove, SP_HAND_MACHINE) : NULL;
    g_autofree char *more = n == 1
                                ? g_strdup ("")
                                : g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, " (and %u more like it)", " (and %u more like it)", n - 1),
                                                   n - 1);
    g_string_append_printf (out, "  %s%s: %s%s%s\n", name, more, why, proof ? " " : "", proof ? proof : "");
  }
}

static void
lines_of_relations (GString *out, const SpConditionFindings *found)
{
  for (guint i = 0; i < found->n_emissions; i++) {
    const SpEmission *emission = &found->emissions[i];
    if (!emission->relation)
      continue;
    g_autofree char *name = sp_words_emission (emission, SP_HAND_MACHINE),
                    *relation = sp_words_reason (emission->relation, SP_HAND_MACHINE);
    g_string_append_printf (out, "  %s: %s\n", name, relation);
  }
}

/* Repeats and step readings: what a row of the table has no room for. */
static void
lines_of_evidence (GString *out, const SpConditionFindings *found)
{
  for (guint i = 0; i < found->n_emissions; i++) {
    const SpEmission *emission = &found->emissions[i];
    g_autofree char *name = sp_words_emission (emission, SP_HAND_MACHINE);
    if (emission->repeats > 1) {
      g_autofree char *mean = sp_words_level (emission->repeat_mean_dbm, 1, SP_HAND_MACHINE);
      g_autofree char *u = sp_words_number (emission->repeat_u_db, 2, SP_HAND_MACHINE);
      g_string_append_printf (out, _ ("  %s: %u sweeps of equal settings, mean %s, type A u %s dB\n"), name, emission->repeats, mean, u);
    }
    for (guint k = 0; emission->evidence && k < emission->evidence->n; k++) {
      const SpEvidencePoint *point = &emission->evidence->points[k];
      g_autofree char *step = sp_words_signed (point->attenuation_db, 0, SP_HAND_MACHINE);
      g_autofree char *level = sp_words_number (point->level_dbm, 1, SP_HAND_MACHINE);
      if (k == 0)
        g_string_append_printf (out, _ ("  %s, dBm by steps of attenuation:"), name);
      g_string_append_printf (out, "%s %s dB %s%s", k ? "," : "", step, point->seen ? "" : "<", level);
    }
    if (emission->evidence && emission->evidence->n)
      g_string_append_c (out, '\n');
  }
}

#define GAPS_SHOWN 12u

static void
lines_of_gaps (GString *out, const SpConditionFindings *found)
{
  for (guint i = 0; i < found->n_gaps && i < GAPS_SHOWN; i++) {
    const SpGap *gap = &found->gaps[i];
    g_autofree char *from = sp_words_frequency (gap->from_hz, 0, SP_HAND_MACHINE);
    g_autofree char *to = sp_words_frequency (gap->to_hz, 0, SP_HAND_MACHINE);
    g_autofree char *why = sp_words_gap (gap, SP_HAND_MACHINE);
    g_string_append_printf (out, _ ("  gap from %s to %s: %s\n"), from, to, why);
    const SpReason *before = i > 0 ? found->gaps[i - 1].would_close : NULL;
    g_autofree char *close = gap->would_close && gap->would_close != before ? sp_words_reason (gap->would_close, SP_HAND_MACHINE) : NULL;
    if (close)
      g_string_append_printf (out, "    %s\n", close);
  }
  if (found->n_gaps > GAPS_SHOWN)
    g_string_append_printf (out, ngettext ("  and %u gap more\n", "  and %u gaps more\n", found->n_gaps - GAPS_SHOWN),
                            found->n_gaps - GAPS_SHOWN);
}

/* The sentences of each condition's warnings, and in how many conditions each stands. (transfer full) */
static GHashTable *
count_warnings (const SpFindings *findings)
{
  GHashTable *counts = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  for (guint i = 0; i < findings->n; i++)
    for (guint j = 0; j < findings->conditions[i].warnings->len; j++) {
      char *sentence = sp_words_reason (g_ptr_array_index (findings->conditions[i].warnings, j), SP_HAND_MACHINE);
      guint n = GPOINTER_TO_UINT (g_hash_table_lookup (counts, sentence));
      g_hash_table_insert (counts, sentence, GUINT_TO_POINTER (n + 1));
    }
  return counts;
}

/* A condition's warnings that all `n` conditions share, or the others. */
static void
lines_of_warnings (GString *out, const SpConditionFindings *found, GHashTable *counts, guint n, gboolean shared, guint indent)
{
  for (guint i = 0; i < found->warnings->len; i++) {
    g_autofree char *sentence = sp_words_reason (g_ptr_array_index (found->warnings, i), SP_HAND_MACHINE);
    gboolean everywhere = n > 1 && GPOINTER_TO_UINT (g_hash_table_lookup (counts, sentence)) == n;
    if (everywhere == shared)
      g_string_append_printf (out, "%*s! %s\n", (int) indent, "", sentence);
  }
}

char *
sp_table_findings (const SpFindings *findings, guint64 n_draws, guint64 seed)
{
  GString *out = g_string_new (NULL);
  g_autofree char *safety = sp_words_safety (findings, SP_HAND_MACHINE);
  g_autoptr (GHashTable) counts = count_warnings (findings);
  if (safety)
    g_string_append_printf (out, "%s\n\n", safety);
  line_of_bench (out, findings->bench);
  table_of_verdicts (out, findings);
  for (guint i = 0; i < findings->n; i++) {
    const SpConditionFindings *found = &findings->conditions[i];
    g_autofree char *unsettled = sp_words_unsettled (found, SP_HAND_MACHINE), *statement = sp_words_statement (found, SP_HAND_MACHINE);
    g_string_append_c (out, '\n');
    add_cleaned (out, g_strdup_printf ("%s: %s", found->name, sp_words_verdict (found->verdict)));
    g_string_append_printf (out, "\n%s\n", statement);
    if (unsettled)
      g_string_append_printf (out, "%s\n", unsettled);
    g_autofree char *second = sp_words_second (findings, i, SP_HAND_MACHINE);
    if (second)
      g_string_append_printf (out, "%s\n", second);
    line_of_own_parts (out, findings->bench, &findings->bench->conditions[found->condition]);
    table_of_emissions (out, found, n_draws, seed);
    lines_of_relations (out, found);
    lines_of_evidence (out, found);
    lines_of_why (out, found);
    lines_of_gaps (out, found);
    lines_of_warnings (out, found, counts, findings->n, FALSE, 2);
  }
  g_string_append_c (out, '\n');
  if (findings->n)
    lines_of_warnings (out, findings->conditions, counts, findings->n, TRUE, 0);
  lines_of_reasons (out, findings->warnings, 0);
  return g_string_free (out, FALSE);
}
