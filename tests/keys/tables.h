/* tables.h - all tables of keys, with the groups that they belong to */
#pragma once

#include "core/bench/bench.h"
#include "core/check/check.h"

static const struct {
  const char *group;
  const SpKeySpec *keys;
} key_tables[] = {
  { "bench", sp_bench_keys },      { "radio", sp_radio_keys },      { "condition", sp_condition_keys },
  { "chain", sp_chain_keys },      { "stage", sp_stage_keys },      { "analyzer", sp_analyzer_keys },
  { "mask", sp_mask_keys },        { "mask", sp_mask_shared_keys }, { "rule", sp_mask_rule_keys },
  { "rule", sp_mask_shared_keys }, { "run", sp_run_keys },          { "at", sp_run_at_keys },
  { "report", sp_document_keys },  { "remark", sp_remark_keys },    { "check", sp_check_keys },
  { "at", sp_check_at_keys },
};
