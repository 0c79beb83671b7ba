/* command-judge.c - emissions and verdicts */
#include "app/command.h"

#include "core/budget/propagate.h"
#include "core/findings/findings.h"
#include "core/judge/judge.h"
#include "ui/report/json.h"
#include "ui/report/table.h"

int
command_judge (const Arguments *arguments, GError **error)
{
  guint64 n_draws = 0, seed = 1;
  if (!arguments_count (arguments, "monte-carlo", 1000, SP_DRAWS_MOST, &n_draws, error)
      || !arguments_count (arguments, "seed", 0, G_MAXUINT64, &seed, error))
    return FAILED;
  g_autoptr (SpBench) bench = input_bench (arguments, error);
  if (!bench)
    return FAILED;
  g_autoptr (SpFindings) findings = sp_judge (bench);
  if (arguments_have (arguments, "json")) {
    g_autofree char *json = sp_json_findings (findings, n_draws, seed);
    if (!output_machine (arguments, json, error))
      return FAILED;
  } else {
    g_autofree char *table = sp_table_findings (findings, n_draws, seed);
    if (!output_text (arguments, table, error))
      return FAILED;
  }
  for (guint i = 0; arguments_have (arguments, "strict") && i < findings->n; i++)
    if (findings->conditions[i].verdict != SP_VERDICT_COMPLIES)
      return NOT_ALL_COMPLY;
  return DONE;
}
