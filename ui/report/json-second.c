/* json-second.c - what a second mask would have of a condition and of its emissions, as JSON */
#include "ui/report/json-second.h"

#include "ui/words/words.h"

#include <math.h>

static void
write_outcome (JsonBuilder *b, const SpEmission *emission)
{
  json_number (b, "limit_dbm", emission->limit_dbm);
  json_text (b, "limit_rule", emission->limit_rule);
  json_number (b, "margin_db", emission->margin_db);
  json_number (b, "margin_expanded_db", isnan (emission->margin_db) ? NAN : emission->budget.expanded_margin_db);
  json_text (b, "decision", sp_decision_name (emission->decision));
  json_number (b, "deciding_margin_db", sp_emission_deciding_margin_db (emission));
  json_number (b, "deciding_expanded_db", sp_emission_deciding_expanded_db (emission));
  json_yes (b, "room_known", sp_emission_room_is_known (emission));
  json_text (b, "verdict", sp_verdict_name (emission->verdict));
  json_reason (b, "reason", emission->reason);
  json_reason (b, "would_prove", emission->would_prove);
}

void
json_second_emission (JsonBuilder *b, const SpConditionFindings *second, const SpEmission *emission)
{
  const SpEmission *same = second ? sp_second_emission (second, emission) : NULL;
  if (!same) {
    json_text (b, "second", NULL);
    return;
  }
  json_object (b, "second");
  write_outcome (b, same);
  json_builder_end_object (b);
}

/* Orders above those that the deciding mask looks for: else they would be nowhere. */
static void
write_besides (JsonBuilder *b, const SpConditionFindings *found, const SpConditionFindings *second)
{
  json_array (b, "emissions_besides");
  for (guint i = 0; i < second->n_emissions; i++) {
    const SpEmission *emission = &second->emissions[i];
    if (sp_second_emission (found, emission))
      continue;
    json_builder_begin_object (b);
    json_order (b, emission->order);
    json_number (b, "frequency_hz", emission->frequency_hz);
    json_yes (b, "detected", emission->detected);
    json_number (b, "level_dbm", emission->level_dbm);
    write_outcome (b, emission);
    json_builder_end_object (b);
  }
  json_builder_end_array (b);
}

void
json_second (JsonBuilder *b, const SpFindings *findings, guint condition)
{
  const SpConditionFindings *second = sp_findings_second (findings, condition);
  if (!second) {
    json_text (b, "second", NULL);
    return;
  }
  const SpMask *mask = sp_condition_second_mask (findings->bench, &findings->bench->conditions[condition]);
  const SpEmission *deciding = sp_findings_deciding (second);
  g_autofree char *statement = sp_words_statement (second, SP_HAND_MACHINE);
  json_object (b, "second");
  json_text (b, "mask", mask->name);
  json_text (b, "mask_sha256", mask->sha256);
  json_text (b, "verdict", sp_verdict_name (second->verdict));
  json_number (b, "worst_margin_db", second->worst_margin_db);
  json_number (b, "deciding_margin_db", sp_findings_deciding_margin_db (second));
  json_yes (b, "room_known", !deciding || sp_emission_room_is_known (deciding));
  json_reason_said (b, "statement", second->statement, statement);
  json_count (b, "gaps", second->n_gaps);
  write_besides (b, &findings->conditions[condition], second);
  json_builder_end_object (b);
}
