/* json-findings.c - findings as JSON: every key maps to one field of SpFindings */
#include "ui/report/json-card.h"
#include "ui/report/json-second.h"
#include "ui/report/json.h"
#include "ui/report/writer.h"

#include "ui/words/words.h"

#include <math.h>
#include <string.h>

typedef struct {
  guint64 n, seed;
} Draws;

static void
write_uncertainty (JsonBuilder *b, const SpEmission *emission)
{
  const SpBudget *budget = &emission->budget;
  double level = emission->swept ? budget->u_level_db : NAN, margin = isnan (emission->margin_db) ? NAN : budget->u_margin_db;
  json_number (b, "u_db", level);
  json_number (b, "expanded_db", isnan (level) ? NAN : budget->expanded_level_db);
  json_number (b, "k", isnan (level) ? NAN : budget->k_level);
  json_number (b, "dof", isnan (level) ? NAN : budget->dof_level);
  json_number (b, "dbc_expanded_db", emission->swept ? budget->expanded_dbc_db : NAN);
  json_number (b, "margin_u_db", margin);
  json_number (b, "margin_expanded_db", isnan (margin) ? NAN : budget->expanded_margin_db);
  json_number (b, "margin_expanded_low_db", isnan (margin) ? NAN : budget->expanded_margin_low_db);
  json_number (b, "margin_k", isnan (margin) ? NAN : budget->k_margin);
  json_number (b, "margin_dof", isnan (margin) ? NAN : budget->dof_margin);
}

/* The terms of its budget that nobody stated, by name. */
static void
write_assumed (JsonBuilder *b, const SpBudget *budget)
{
  json_array (b, "assumed");
  for (guint i = 0; i < budget->n; i++)
    if (budget->terms[i].assumed)
      json_word (b, sp_term_name (budget->terms[i].kind));
  json_builder_end_array (b);
}

static void
write_why (JsonBuilder *b, const SpEmission *emission)
{
  json_text (b, "verdict", sp_verdict_name (emission->verdict));
  json_reason (b, "relation", emission->relation);
  json_reason (b, "reason", emission->reason);
  json_reason (b, "would_prove", emission->would_prove);
}

static void
write_draws (JsonBuilder *b, const SpEmission *emission, const Draws *draws)
{
  if (!draws->n || isnan (emission->margin_db))
    return;
  SpMonteCarlo drawn = sp_emission_monte_carlo (emission, draws->n, draws->seed);
  json_object (b, "monte_carlo");
  json_count (b, "draws", (gint64) draws->n);
  json_number (b, "margin_u_db", drawn.margin_u_db);
  json_number (b, "margin_expanded_db", drawn.margin_expanded_db);
  json_number (b, "conformity", isnan (emission->conformity) ? NAN : drawn.conformity);
  json_builder_end_object (b);
}

static void
write_part (JsonBuilder *b, const char *name, double low, double middle, double high)
{
  json_object (b, name);
  json_number (b, "low_dbm", low);
  json_number (b, "dbm", middle);
  json_number (b, "high_dbm", high);
  json_builder_end_object (b);
}

static void
write_step (JsonBuilder *b, const SpEvidence *evidence)
{
  json_count (b, "order", evidence->order);
  json_array (b, "readings");
  for (guint i = 0; i < evidence->n; i++) {
    const SpEvidencePoint *p = &evidence->points[i];
    json_builder_begin_object (b);
    json_number (b, "attenuation_db", p->attenuation_db);
    json_yes (b, "seen", p->seen);
    json_number (b, "level_dbm", p->level_dbm);
    json_number (b, "u_db", p->u_db);
    json_number (b, "own_db", p->product_shift_db);
    json_number (b, "fit_low_dbm", p->fit_low_dbm);
    json_number (b, "fit_dbm", p->fit_dbm);
    json_number (b, "fit_high_dbm", p->fit_high_dbm);
    json_builder_end_object (b);
  }
  json_builder_end_array (b);
  write_part (b, "radio", evidence->radio_low_dbm, evidence->radio_dbm, evidence->radio_high_dbm);
  write_part (b, "analyzer", evidence->analyzer_low_dbm, evidence->analyzer_dbm, evidence->analyzer_high_dbm);
  json_number (b, "p_radio", evidence->p_radio);
  json_number (b, "p_analyzer", evidence->p_analyzer);
  json_number (b, "misfit", evidence->misfit);
  json_yes (b, "contradicts", evidence->contradicts);
  json_yes (b, "may_cancel", evidence->may_cancel);
}

/* null where neither a step nor an unkeyed sweep says anything of it; "readings" only of a step test. */
static void
write_evidence (JsonBuilder *b, const SpEmission *emission)
{
  const SpEvidence *evidence = emission->evidence;
  if (!evidence) {
    json_text (b, "evidence", NULL);
    return;
  }
  json_object (b, "evidence");
  if (evidence->n > 0)
    write_step (b, evidence);
  json_number (b, "ambient_dbm", evidence->ambient_dbm);
  json_yes (b, "ambient_seen", evidence->ambient_seen);
  json_yes (b, "ambient_known", evidence->ambient_known);
  json_builder_end_object (b);
}

/* What the level is the power of, and what it bounds. */
static void
write_band (JsonBuilder *b, const SpEmission *emission)
{
  static const char *const kinds[] = { "line", "modulated", "noise" };
  gboolean seen = emission->detected, wide = seen && emission->to_hz > emission->from_hz;
  json_text (b, "kind", seen ? kinds[emission->kind] : NULL);
  json_number (b, "bandwidth_hz", wide ? emission->bandwidth_hz : NAN);
  json_number (b, "band_from_hz", wide ? emission->from_hz : NAN);
  json_number (b, "band_to_hz", wide ? emission->to_hz : NAN);
  json_text (b, "level_by", !seen ? NULL : emission->summed ? "integrated" : "line");
  json_number (b, "level_in_hz", emission->reference_bandwidth_hz);
  json_number (b, "may_be_higher_by_db", seen ? emission->sampling_loss_db : NAN);
  json_number (b, "may_be_lower_by_db", seen ? emission->excess_db : NAN);
}

static void
write_emission (JsonBuilder *b, const SpEmission *emission, const SpConditionFindings *second, const Draws *draws)
{
  json_builder_begin_object (b);
  json_order (b, emission->order);
  json_number (b, "frequency_hz", emission->frequency_hz);
  json_number (b, "frequency_half_hz", emission->frequency_half_hz);
  json_yes (b, "detected", emission->detected);
  write_band (b, emission);
  json_number (b, "level_dbm", emission->level_dbm);
  json_number (b, "level_dbc", emission->level_dbc);
  write_uncertainty (b, emission);
  json_number (b, "floor_dbm", emission->floor_dbm);
  json_text (b, "floor_cause", emission->swept ? sp_floor_cause_name (emission->floor_cause) : NULL);
  json_number (b, "limit_dbm", emission->limit_dbm);
  json_text (b, "limit_rule", emission->limit_rule);
  json_number (b, "margin_db", emission->margin_db);
  json_number (b, "conformity", emission->conformity);
  json_text (b, "decision", sp_decision_name (emission->decision));
  json_number (b, "deciding_margin_db", sp_emission_deciding_margin_db (emission));
  json_yes (b, "room_known", sp_emission_room_is_known (emission));
  json_number (b, "deciding_expanded_db", sp_emission_deciding_expanded_db (emission));
  json_number (b, "deciding_conformity", sp_emission_deciding_conformity (emission));
  write_assumed (b, &emission->budget);
  json_text (b, "origin", sp_origin_name (emission->origin));
  json_text (b, "origin_basis", sp_origin_basis_name (emission->origin_basis));
  json_number (b, "radio_part_low_dbm", emission->radio_low_dbm);
  json_number (b, "radio_part_high_dbm", emission->radio_high_dbm);
  write_evidence (b, emission);
  json_count (b, "repeats", emission->repeats);
  json_number (b, "repeat_mean_dbm", emission->repeat_mean_dbm);
  json_number (b, "repeat_u_db", emission->repeat_u_db);
  json_yes (b, "calibrated", emission->calibrated);
  write_why (b, emission);
  json_second_emission (b, second, emission);
  write_draws (b, emission, draws);
  json_builder_end_object (b);
}

/* What stands above its limit unsettled while another decides; null: nothing. */
static void
write_unsettled (JsonBuilder *b, const SpConditionFindings *found)
{
  const SpEmission *unsettled = sp_findings_unsettled (found);
  if (!unsettled) {
    json_text (b, "unsettled", NULL);
    return;
  }
  g_autofree char *sentence = sp_words_unsettled (found, SP_HAND_MACHINE);
  json_object (b, "unsettled");
  json_number (b, "frequency_hz", unsettled->frequency_hz);
  json_order (b, unsettled->order);
  json_number (b, "over_by_db", -unsettled->margin_db);
  json_text (b, "sentence", sentence);
  json_builder_end_object (b);
}

static void
write_fundamental (JsonBuilder *b, const SpConditionFindings *found)
{
  gboolean known = isfinite (found->power_dbm);
  json_object (b, "fundamental");
  json_number (b, "frequency_hz", found->fundamental_hz);
  json_number (b, "level_dbm", found->power_dbm);
  json_number (b, "trace_level_dbm", found->trace_level_dbm);
  json_number (b, "power_w", known ? sp_watt_from_dbm (found->power_dbm) : NAN);
  json_text (b, "basis", !known ? NULL : found->by_meter ? "meter" : "trace");
  json_number (b, "occupied_bandwidth_hz", found->occupied_hz);
  json_number (b, "occupied_bandwidth_of_a_line_hz", found->occupied_by_line_hz);
  json_yes (b, "occupied_bandwidth_is_the_filters", found->occupied_by_filter);
  json_number (b, "u_db", found->power_u_db);
  json_number (b, "expanded_db", found->power_expanded_db);
  json_number (b, "k", found->power_k);
  json_number (b, "dof", found->power_dof);
  json_builder_end_object (b);
}

static void
write_sweep (JsonBuilder *b, const SpConditionFindings *found, const SpTrace *trace, SpPurpose purpose, double step_db)
{
  json_builder_begin_object (b);
  json_text (b, "file", trace->file);
  json_text (b, "purpose", sp_purpose_name (purpose));
  json_number (b, "step_db", step_db);
  json_text (b, "sha256", sp_trace_sha256 (trace));
  json_yes (b, "used", sp_findings_use (found, trace, purpose));
  json_builder_end_object (b);
}

static void
write_sweeps (JsonBuilder *b, const SpBench *bench, const SpConditionFindings *found)
{
  const SpCondition *condition = &bench->conditions[found->condition];
  const SpTrace *unkeyed = sp_condition_unkeyed (bench, condition);
  json_array (b, "sweeps");
  for (guint i = 0; i < condition->n_sweeps; i++) {
    const SpSweep *sweep = &condition->sweeps[i];
    write_sweep (b, found, sweep->trace, sweep->purpose, sweep->step_db);
    if (sweep->trace == unkeyed)
      unkeyed = NULL;
  }
  if (unkeyed)
    write_sweep (b, found, unkeyed, SP_PURPOSE_UNKEYED, NAN);
  json_builder_end_array (b);
}

static void
write_seams (JsonBuilder *b, const SpBench *bench, const SpConditionFindings *found)
{
  const SpCondition *condition = &bench->conditions[found->condition];
  json_array (b, "seams");
  for (guint i = 0; i < found->n_seams; i++) {
    const SpSeam *seam = &found->seams[i];
    json_builder_begin_object (b);
    json_number (b, "frequency_hz", seam->frequency_hz);
    json_text (b, "file", condition->sweeps[found->corrected[seam->corrected].sweep].trace->file);
    json_yes (b, "begins", seam->begins);
    json_builder_end_object (b);
  }
  json_builder_end_array (b);
}

static void
write_gaps (JsonBuilder *b, const SpConditionFindings *found)
{
  json_array (b, "gaps");
  for (guint i = 0; i < found->n_gaps; i++) {
    const SpGap *gap = &found->gaps[i];
    json_builder_begin_object (b);
    json_number (b, "from_hz", gap->from_hz);
    json_number (b, "to_hz", gap->to_hz);
    json_text (b, "why", sp_reason_name (gap->why));
    json_number (b, "floor_dbm", gap->floor_dbm);
    json_number (b, "guard_db", gap->guard_db);
    json_number (b, "limit_dbm", gap->limit_dbm);
    g_autofree char *text = sp_words_gap (gap, SP_HAND_MACHINE);
    json_text (b, "text", text);
    json_reason (b, "would_close", gap->would_close);
    json_builder_end_object (b);
  }
  json_builder_end_array (b);
}

/* What somebody wrote beside it under names of his own. */
static void
write_fields (JsonBuilder *b, const char *of, const GArray *fields)
{
  for (guint i = 0; fields && i < fields->len; i++) {
    const SpNamedField *field = &g_array_index (fields, SpNamedField, i);
    json_builder_begin_object (b);
    json_text (b, "of", of);
    json_text (b, "name", field->name);
    json_text (b, "value", field->value);
    json_builder_end_object (b);
  }
}

static void
write_condition (JsonBuilder *b, const SpFindings *findings, guint i, const Draws *draws)
{
  const SpBench *bench = findings->bench;
  const SpConditionFindings *found = &findings->conditions[i];
  const SpCondition *condition = &bench->conditions[found->condition];
  json_builder_begin_object (b);
  json_text (b, "name", found->name);
  json_text (b, "radio", bench->radios[condition->radio].name);
  json_text (b, "condition", condition->name);
  json_array (b, "fields");
  write_fields (b, "radio", bench->radios[condition->radio].fields);
  write_fields (b, "condition", condition->fields);
  json_builder_end_array (b);
  json_text (b, "verdict", sp_verdict_name (found->verdict));
  json_number (b, "worst_margin_db", found->worst_margin_db);
  json_number (b, "deciding_margin_db", sp_findings_deciding_margin_db (found));
  const SpEmission *deciding = sp_findings_deciding (found);
  json_yes (b, "room_known", !deciding || sp_emission_room_is_known (deciding));
  g_autofree char *statement = sp_words_statement (found, SP_HAND_MACHINE), *explanation = sp_words_explanation (found, SP_HAND_MACHINE);
  json_reason_said (b, "statement", found->statement, statement);
  json_text (b, "explanation", explanation);
  write_unsettled (b, found);
  json_text (b, "mask", sp_condition_mask (bench, condition)->name);
  json_text (b, "mask_sha256", sp_condition_mask (bench, condition)->sha256);
  json_text (b, "chain_sha256", sp_condition_chain (bench, condition)->sha256);
  json_text (b, "analyzer_sha256", sp_condition_analyzer (bench, condition)->sha256);
  json_second (b, findings, i);
  write_gaps (b, found);
  json_warnings (b, "warnings", found->warnings);
  write_fundamental (b, found);
  write_sweeps (b, bench, found);
  write_seams (b, bench, found);
  json_card (b, findings, i);
  json_array (b, "emissions");
  for (guint k = 0; k < found->n_emissions; k++)
    write_emission (b, &found->emissions[k], sp_findings_second (findings, i), draws);
  json_builder_end_array (b);
  json_builder_end_object (b);
}

/* Names and hashes; the pictures themselves are in the book, and beside the sheet. `radio`, `stage` NULL: none's. */
static void
write_pictures (JsonBuilder *b, const char *radio, const char *stage, const GArray *pictures)
{
  for (guint i = 0; pictures && i < pictures->len; i++) {
    const SpCaptioned *one = &g_array_index (pictures, SpCaptioned, i);
    g_autofree char *name = g_path_get_basename (one->picture->file ? one->picture->file : "-");
    json_builder_begin_object (b);
    json_text (b, "radio", radio);
    json_text (b, "stage", stage);
    json_text (b, "name", name);
    json_text (b, "caption", one->caption);
    json_text (b, "sha256", one->picture->sha256);
    json_builder_end_object (b);
  }
}

static void
write_pictures_of_chain (JsonBuilder *b, const SpChain *chain, GHashTable *done)
{
  for (guint i = 0; i < chain->n; i++)
    if (g_hash_table_add (done, chain->stages[i])) /* a stage that several chains have is listed once */
      write_pictures (b, NULL, chain->stages[i]->name, chain->stages[i]->pictures);
}

/* Of the bench's chain and of every other that a sweep came through. */
static void
write_pictures_of_stages (JsonBuilder *b, const SpBench *bench)
{
  g_autoptr (GPtrArray) chains = sp_bench_chains (bench, -1);
  g_autoptr (GHashTable) done = g_hash_table_new (NULL, NULL);
  if (bench->chain)
    write_pictures_of_chain (b, bench->chain, done);
  for (guint i = 0; i < chains->len; i++)
    write_pictures_of_chain (b, chains->pdata[i], done);
}

static void
write_all_pictures (JsonBuilder *b, const SpBench *bench)
{
  const SpPicture *letterhead = sp_bench_letterhead (bench);
  json_text (b, "letterhead_sha256", letterhead ? letterhead->sha256 : NULL);
  json_array (b, "pictures");
  write_pictures (b, NULL, NULL, bench->pictures);
  write_pictures_of_stages (b, bench);
  for (guint i = 0; i < bench->n_radios; i++)
    write_pictures (b, bench->radios[i].name, NULL, bench->radios[i].pictures);
  json_builder_end_array (b);
}

char *
sp_json_findings (const SpFindings *findings, guint64 n_draws, guint64 seed)
{
  const SpBench *bench = findings->bench;
  const SpCondition *first = bench->n_conditions ? bench->conditions : NULL; /* where the bench itself names no part */
  const SpMask *mask = bench->mask || !first ? bench->mask : sp_condition_mask (bench, first);
  const SpChain *chain = bench->chain || !first ? bench->chain : sp_condition_chain (bench, first);
  const SpAnalyzer *analyzer = bench->analyzer || !first ? bench->analyzer : sp_condition_analyzer (bench, first);
  Draws draws = { n_draws, seed };
  JsonBuilder *b = json_begin ();
  json_text (b, "program", "spurproof " SP_VERSION);
  json_text (b, "mask", mask ? mask->name : NULL);
  json_text (b, "rule", sp_decision_rule_name (bench->decision_rule));
  json_text (b, "bench_sha256", bench->sha256);
  json_text (b, "mask_sha256", mask ? mask->sha256 : NULL);
  json_text (b, "chain_sha256", chain ? chain->sha256 : NULL);
  json_text (b, "analyzer_sha256", analyzer ? analyzer->sha256 : NULL);
  json_warnings (b, "warnings", findings->warnings);
  json_yes (b, "safe", findings->safe);
  json_array (b, "radios");
  for (guint i = 0; i < findings->n; i++)
    write_condition (b, findings, i, &draws);
  json_builder_end_array (b);
  write_all_pictures (b, bench);
  return json_end (b);
}
