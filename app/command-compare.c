/* command-compare.c - conditions side by side; or what moved between two judgings */
#include "app/command.h"

#include "ui/report/json.h"
#include "ui/report/table.h"

#include <string.h>

/* The bench of --with: a chain in place of the input's own, or another sheet or book; a rule that was asked for is for both. (transfer full) */
static SpBench *
other_bench (const Arguments *arguments, const SpBench *bench, const char *path, GError **error)
{
  if (!g_str_has_suffix (path, ".chain")) {
    g_autoptr (SpBench) other = input_bench_at (path, error);
    return other ? sp_bench_with (other, NULL, NULL, NULL, arguments_have (arguments, "rule") ? (int) bench->rule : -1) : NULL;
  }
  g_autoptr (SpChain) chain = sp_chain_read (path, error);
  return chain ? sp_bench_with (bench, chain, NULL, NULL, -1) : NULL;
}

int
command_compare (const Arguments *arguments, GError **error)
{
  const char *with = arguments_text (arguments, "with");
  g_autoptr (SpBench) bench = input_bench (arguments, error);
  g_autoptr (SpBench) other = bench && with ? other_bench (arguments, bench, with, error) : NULL;
  if (!bench || (with && !other))
    return FAILED;
  g_autoptr (SpFindings) findings = sp_judge (bench);
  g_autoptr (SpFindings) after = other ? sp_judge (other) : NULL;
  g_autoptr (SpComparison) comparison = sp_compare (findings);
  g_autoptr (SpMoves) moves = after ? sp_compare_moves (findings, after) : NULL;
  gboolean json = arguments_have (arguments, "json");
  g_autofree char *text = json ? sp_json_compare (comparison, moves) : sp_table_compare (comparison, moves);
  if (!(json ? output_machine (arguments, text, error) : output_text (arguments, text, error)))
    return FAILED;
  return DONE;
}
