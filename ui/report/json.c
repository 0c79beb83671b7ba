/* json.c - chain, mask, headroom and traces as JSON */
#include "ui/report/json.h"
#include "core/trace/read/understood.h"
#include "ui/report/writer.h"

#include "ui/words/words.h"

#include <math.h>

static void
write_loss (JsonBuilder *b, const SpChain *chain, double frequency_hz)
{
  g_autofree SpStageLoss *stages = g_new0 (SpStageLoss, chain->n);
  SpChainLoss loss = sp_chain_loss (chain, frequency_hz, NAN, NAN, stages);
  json_builder_begin_object (b);
  json_number (b, "frequency_hz", frequency_hz);
  json_number (b, "loss_db", loss.loss_db);
  json_number (b, "u_db", loss.u_db);
  json_yes (b, "calibrated", loss.calibrated);
  json_number (b, "interaction_db", loss.interaction_db);
  json_array (b, "stages");
  for (guint i = 0; i < chain->n; i++) {
    json_builder_begin_object (b);
    json_text (b, "name", chain->stages[i]->name);
    json_number (b, "loss_db", stages[i].loss_db);
    json_number (b, "u_db", stages[i].u_db);
    json_yes (b, "calibrated", stages[i].calibrated);
    json_builder_end_object (b);
  }
  json_builder_end_array (b);
  json_builder_end_object (b);
}

char *
sp_json_chain (const SpChain *chain, guint n, const double *frequency_hz)
{
  JsonBuilder *b = json_begin ();
  json_text (b, "name", chain->name);
  json_text (b, "sha256", chain->sha256);
  json_array (b, "stages");
  for (guint i = 0; i < chain->n; i++) {
    json_builder_begin_object (b);
    json_text (b, "name", chain->stages[i]->name);
    json_yes (b, "from_label", chain->stages[i]->loss == NULL);
    json_text (b, "kind", sp_stage_kind_name (chain->stages[i]->kind));
    json_number (b, "label_db", chain->stages[i]->label_db);
    json_builder_end_object (b);
  }
  json_builder_end_array (b);
  json_array (b, "at");
  for (guint i = 0; i < n; i++)
    write_loss (b, chain, frequency_hz[i]);
  json_builder_end_array (b);
  json_warnings (b, "warnings", chain->warnings);
  return json_end (b);
}

static void
write_origin (JsonBuilder *b, const SpMask *mask)
{
  json_text (b, "name", mask->name);
  json_text (b, "title", mask->title);
  json_text (b, "authority", mask->authority);
  json_text (b, "clause", mask->clause);
  json_text (b, "edition", mask->edition);
  json_text (b, "note", mask->note);
  json_yes (b, "advisory", mask->advisory);
}

char *
sp_json_masks (GPtrArray *masks)
{
  JsonBuilder *b = json_begin ();
  json_array (b, "masks");
  for (guint i = 0; i < masks->len; i++) {
    json_builder_begin_object (b);
    write_origin (b, g_ptr_array_index (masks, i));
    json_builder_end_object (b);
  }
  json_builder_end_array (b);
  return json_end (b);
}

char *
sp_json_mask (const SpMask *mask, GArray *segments, const SpReason *none)
{
  JsonBuilder *b = json_begin ();
  write_origin (b, mask);
  json_array (b, "points");
  for (guint i = 0; i < segments->len; i++) {
    const SpLimitSegment *segment = &g_array_index (segments, SpLimitSegment, i);
    json_builder_begin_object (b);
    json_number (b, "from_hz", segment->from_hz);
    json_number (b, "to_hz", segment->to_hz);
    json_number (b, "limit_dbm", segment->limit_dbm);
    json_number (b, "limit_end_dbm", segment->limit_end_dbm);
    json_text (b, "rule", segment->rule ? segment->rule->name : NULL);
    json_builder_end_object (b);
  }
  json_builder_end_array (b);
  g_autoptr (GPtrArray) warnings = sp_reasons_new ();
  sp_reasons_extend (warnings, mask->warnings);
  if (none)
    sp_reasons_add (warnings, sp_reason_ref (none));
  json_warnings (b, "warnings", warnings);
  return json_end (b);
}

static void
write_fault (JsonBuilder *b, const SpFault *fault, const SpChain *chain)
{
  g_autofree char *what = sp_words_fault (fault, chain);
  json_builder_begin_object (b);
  json_text (b, "kind", sp_fault_kind_name (fault->kind));
  json_text (b, "what", what);
  json_array (b, "stages");
  for (guint i = 0; i < 2; i++)
    if (fault->stages[i] >= 0)
      json_word (b, chain->stages[fault->stages[i]]->name);
  json_builder_end_array (b);
  json_text (b, "worst_node", fault->worst_node);
  json_number (b, "power_w", fault->power_w);
  json_number (b, "rating_w", fault->rating_w);
  json_number (b, "headroom_db", fault->headroom_db);
  json_number (b, "return_loss_db", fault->return_loss_db);
  json_yes (b, "throws_back", fault->reflects);
  json_builder_end_object (b);
}

char *
sp_json_headroom (const SpHeadroom *headroom, const SpChain *chain)
{
  JsonBuilder *b = json_begin ();
  json_yes (b, "safe", headroom->safe);
  json_array (b, "nodes");
  for (guint i = 0; i < headroom->n_nodes; i++) {
    const SpNode *node = &headroom->nodes[i];
    json_builder_begin_object (b);
    json_text (b, "name", node->name);
    json_number (b, "level_dbm", node->level_dbm);
    json_number (b, "power_w", node->power_w);
    json_number (b, "rating_w", node->rating_w);
    json_number (b, "headroom_db", node->headroom_db);
    json_builder_end_object (b);
  }
  json_builder_end_array (b);
  json_array (b, "faults");
  for (guint i = 0; i < headroom->n_faults; i++)
    write_fault (b, &headroom->faults[i], chain);
  json_builder_end_array (b);
  json_number (b, "mixer_dbm", headroom->mixer_dbm);
  json_number (b, "notch_return_loss_db", headroom->notch_return_loss_db);
  json_warnings (b, "warnings", headroom->reasons);
  return json_end (b);
}

/* How the file was read; null for a block. */
static void
write_understood (JsonBuilder *b, const SpUnderstood *look)
{
  json_text (b, "encoding", look ? look->encoding : NULL);
  json_text (b, "delimiter", look ? look->delimiter : NULL);
  json_text (b, "decimal", look ? look->mark : NULL);
  json_text (b, "frequency_column", look ? look->frequency : NULL);
}

static void
write_trace (JsonBuilder *b, const SpTrace *trace, const SpUnderstood *look)
{
  const SpSettings *settings = &trace->settings;
  g_autofree char *unit = sp_words_unit (trace->unit_read, trace->unit_scale);
  json_builder_begin_object (b);
  json_text (b, "file", trace->file);
  json_text (b, "column", trace->column);
  json_count (b, "points", (gint64) trace->n);
  json_number (b, "first_hz", trace->frequency_hz[0]);
  json_number (b, "last_hz", trace->frequency_hz[trace->n - 1]);
  json_text (b, "level_unit_read", unit);
  write_understood (b, look);
  json_number (b, "rbw_hz", settings->rbw_hz);
  json_number (b, "vbw_hz", settings->vbw_hz);
  json_number (b, "attenuation_db", settings->attenuation_db);
  json_text (b, "detector", sp_detector_name (settings->detector));
  json_text (b, "average", sp_average_name (settings->average));
  json_number (b, "averages", settings->averages);
  json_number (b, "reference_dbm", settings->reference_dbm);
  json_number (b, "sweep_time_s", settings->sweep_time_s);
  json_count (b, "skipped_lines", (gint64) trace->skipped_lines);
  json_text (b, "sha256", sp_trace_sha256 (trace));
  json_warnings (b, "warnings", trace->warnings);
  json_builder_end_object (b);
}

char *
sp_json_traces (GPtrArray *traces)
{
  JsonBuilder *b = json_begin ();
  json_array (b, "traces");
  g_autoptr (SpUnderstood) look = NULL;
  for (guint i = 0; i < traces->len; i++) {
    const SpTrace *trace = g_ptr_array_index (traces, i), *before = i > 0 ? g_ptr_array_index (traces, i - 1) : NULL;
    if (before && before->raw == trace->raw)
      sp_trace_share_sha256 (before, trace);
    else {
      g_clear_pointer (&look, sp_trace_understood_free);
      look = sp_trace_understood_at (trace);
    }
    write_trace (b, trace, look);
  }
  json_builder_end_array (b);
  return json_end (b);
}
