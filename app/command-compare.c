/* command-compare.c - conditions side by side; or what moved between two judgings */
#include "app/command.h"

#include "core/book/book.h"
#include "ui/report/json.h"
#include "ui/report/table.h"

int
command_compare (const Arguments *arguments, GError **error)
{
  const char *with = arguments_text (arguments, "with");
  g_autoptr (SpBench) bench = input_bench (arguments, error);
  g_autoptr (SpBench) other = bench && with ? sp_bench_beside (bench, with, arguments_have (arguments, "rule"), error) : NULL;
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
