/* json-compare.c - conditions side by side, and what moved, as JSON */
#include "ui/report/json.h"

#include "core/compare/pivot.h"
#include "ui/report/writer.h"

#include <math.h>

static void
write_level (JsonBuilder *b, const SpEmission *emission)
{
  json_builder_begin_object (b);
  json_order (b, emission->order);
  json_number (b, "frequency_hz", emission->frequency_hz);
  json_yes (b, "detected", emission->detected);
  json_number (b, "level_dbm", emission->level_dbm);
  json_number (b, "expanded_db", sp_emission_level_expanded_db (emission));
  json_number (b, "margin_db", emission->margin_db);
  json_number (b, "margin_expanded_db", sp_emission_margin_expanded_db (emission));
  json_number (b, "deciding_margin_db", sp_emission_deciding_margin_db (emission));
  json_text (b, "verdict", sp_verdict_name (emission->verdict));
  json_builder_end_object (b);
}

static void
write_row (JsonBuilder *b, const SpCompareRow *row)
{
  const SpConditionFindings *found = row->found;
  json_builder_begin_object (b);
  json_text (b, "name", found->name);
  json_text (b, "radio", row->radio);
  json_text (b, "condition", row->condition);
  json_text (b, "verdict", sp_verdict_name (found->verdict));
  json_number (b, "worst_margin_db", found->worst_margin_db);
  json_number (b, "worst_margin_expanded_db", row->worst_expanded_db);
  json_number (b, "deciding_margin_db", sp_findings_deciding_margin_db (found));
  json_number (b, "fundamental_hz", found->fundamental_hz);
  json_number (b, "power_dbm", found->power_dbm);
  json_number (b, "power_w", row->power_w);
  json_array (b, "levels");
  for (guint i = 0; i < found->n_emissions; i++)
    write_level (b, &found->emissions[i]);
  json_builder_end_array (b);
  json_builder_end_object (b);
}

static void
write_then (JsonBuilder *b, const SpVerdictThen *before, const SpVerdictThen *after)
{
  json_text (b, "verdict_before", before->there ? sp_verdict_name (before->verdict) : NULL);
  json_text (b, "verdict_after", after->there ? sp_verdict_name (after->verdict) : NULL);
}

static void
write_span (JsonBuilder *b, const char *name, SpSpan span)
{
  json_array (b, name);
  for (guint i = 0; i < 2; i++) {
    double value = i ? span.high_db : span.low_db;
    if (isfinite (value))
      json_builder_add_double_value (b, value);
    else
      json_builder_add_null_value (b);
  }
  json_builder_end_array (b);
}

/* What moves alike, summed up: the rows name their group by its index. */
static void
write_alike (JsonBuilder *b, const SpMoves *moves)
{
  json_array (b, "alike");
  for (guint i = 0; moves && i < moves->n_alike; i++) {
    const SpAlike *group = &moves->alike[i];
    json_builder_begin_object (b);
    json_count (b, "emissions", group->n);
    write_span (b, "level_change_db", group->level);
    write_span (b, "limit_change_db", group->limit);
    write_span (b, "margin_change_db", group->margin);
    write_span (b, "expanded_change_db", group->u);
    json_builder_end_object (b);
  }
  json_builder_end_array (b);
}

static void
write_moves (JsonBuilder *b, const SpMoves *moves, SpMovesShown shown)
{
  json_array (b, "moved");
  for (guint i = 0; moves && i < moves->n_moved; i++) {
    const SpMove *move = &moves->moved[i];
    if (!sp_move_is_shown (move, shown))
      continue;
    json_builder_begin_object (b);
    json_text (b, "name", move->name);
    json_order (b, move->order);
    json_number (b, "frequency_hz", move->frequency_hz);
    json_number (b, "level_change_db", move->level_change_db);
    json_number (b, "limit_change_db", move->limit_change_db);
    json_number (b, "margin_change_db", move->margin_change_db);
    json_number (b, "expanded_before_db", move->expanded_before_db);
    json_number (b, "expanded_after_db", move->expanded_after_db);
    write_then (b, &move->before, &move->after);
    json_yes (b, "flips", move->flips);
    json_yes (b, "notable", move->notable);
    if (move->alike >= 0)
      json_count (b, "alike", move->alike);
    json_builder_end_object (b);
  }
  json_builder_end_array (b);
  write_alike (b, moves);
  json_array (b, "conditions_moved");
  for (guint i = 0; moves && i < moves->n_conditions; i++) {
    const SpConditionMove *move = &moves->conditions[i];
    if (shown == SP_MOVES_NOTABLE && !move->notable)
      continue;
    json_builder_begin_object (b);
    json_text (b, "name", move->name);
    json_number (b, "power_change_db", move->power_change_db);
    json_number (b, "worst_margin_change_db", move->worst_margin_change_db);
    write_then (b, &move->before, &move->after);
    json_yes (b, "flips", move->flips);
    json_yes (b, "notable", move->notable);
    json_text (b, "chain_before_sha256", move->chain_before_sha256);
    json_text (b, "chain_after_sha256", move->chain_after_sha256);
    json_builder_end_object (b);
  }
  json_builder_end_array (b);
}

static void
write_cell (JsonBuilder *b, const SpComparison *comparison, const SpPivot *pivot, guint k)
{
  const SpPivotCell *cell = &pivot->cells[k];
  const SpWaveband *waveband = pivot->wavebands[k / pivot->n_columns];
  json_builder_begin_object (b);
  json_text (b, "band", waveband ? waveband->name : NULL);
  json_number (b, "band_from_hz", waveband ? waveband->from_hz : NAN);
  json_number (b, "band_to_hz", waveband ? waveband->to_hz : NAN);
  json_number (b, "power_w", pivot->power_w[k % pivot->n_columns]);
  json_count (b, "conditions", cell->n);
  json_text (b, "name", comparison->rows[cell->condition].found->name);
  json_text (b, "verdict", sp_verdict_name (comparison->rows[cell->condition].found->verdict));
  if (cell->emission)
    json_order (b, cell->emission->order);
  json_number (b, "frequency_hz", cell->emission ? cell->emission->frequency_hz : NAN);
  json_number (b, "deciding_margin_db", cell->emission ? sp_emission_deciding_margin_db (cell->emission) : NAN);
  json_yes (b, "room_known", cell->emission && sp_emission_room_is_known (cell->emission));
  json_number (b, "deciding_expanded_db", cell->expanded_db);
  json_yes (b, "worst_of_band", cell->worst_in_row);
  json_yes (b, "worst_of_power", cell->worst_in_column);
  json_builder_end_object (b);
}

/* Rooms by waveband and power. */
static void
write_pivots (JsonBuilder *b, const SpComparison *comparison)
{
  g_autoptr (GPtrArray) pivots = sp_compare_pivots (comparison, 0);
  json_array (b, "pivots");
  for (guint i = 0; i < pivots->len; i++) {
    const SpPivot *pivot = g_ptr_array_index (pivots, i);
    json_builder_begin_object (b);
    json_text (b, "radio", pivot->radio);
    json_array (b, "cells");
    for (guint k = 0; k < pivot->n_rows * pivot->n_columns; k++) {
      const SpPivotCell *cell = &pivot->cells[k];
      if (cell->n)
        write_cell (b, comparison, pivot, k);
    }
    json_builder_end_array (b);
    json_builder_end_object (b);
  }
  json_builder_end_array (b);
}

static void
write_steady (JsonBuilder *b, const SpComparison *comparison)
{
  g_autoptr (GPtrArray) steady = sp_compare_steady_spurs (comparison);
  json_array (b, "steady_spurs");
  for (guint i = 0; i < steady->len; i++) {
    const SpSteadySpur *spur = g_ptr_array_index (steady, i);
    json_builder_begin_object (b);
    json_text (b, "radio", spur->radio);
    json_number (b, "low_hz", spur->low_hz);
    json_number (b, "high_hz", spur->high_hz);
    json_count (b, "swept", spur->of);
    json_array (b, "conditions");
    for (guint k = 0; k < spur->n; k++)
      json_builder_add_string_value (b, comparison->rows[spur->conditions[k]].found->name);
    json_builder_end_array (b);
    json_builder_end_object (b);
  }
  json_builder_end_array (b);
}

char *
sp_json_compare (const SpComparison *comparison, const SpMoves *moves, SpMovesShown shown)
{
  JsonBuilder *b = json_begin ();
  json_array (b, "rows");
  for (guint i = 0; i < comparison->n; i++)
    write_row (b, &comparison->rows[i]);
  json_builder_end_array (b);
  write_pivots (b, comparison);
  write_steady (b, comparison);
  write_moves (b, moves, shown);
  return json_end (b);
}
