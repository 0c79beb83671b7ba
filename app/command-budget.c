/* command-budget.c - every term behind one level */
#include "app/command.h"

#include "core/judge/judge.h"
#include "core/quantity/error.h"
#include "ui/report/json.h"
#include "ui/report/table.h"
#include "ui/words/words.h"

#include <glib/gi18n.h>
#include <math.h>

#define MOST_DRAWS 10000000 /* of four columns */

/* Which level is asked for; -2 and an error that says which there are. */
static int
asked_emission (const Arguments *arguments, const SpFindings *findings, guint condition, GError **error)
{
  const SpConditionFindings *found = &findings->conditions[condition];
  guint64 order = 0;
  double at_hz = NAN;
  if (!arguments_count (arguments, "order", 1, 1000, &order, error) || !arguments_frequency (arguments, "at", &at_hz, error))
    return -2;
  if ((order > 0) == !isnan (at_hz)) {
    sp_fail (error, SP_ERROR_USAGE, _ ("which level is asked for: --order N (1: the fundamental) or --at F"));
    return -2;
  }
  int emission = order ? sp_findings_of_order (findings, condition, (guint) order) : sp_findings_nearest (findings, condition, at_hz);
  double most_hz = fmax (found->necessary_bandwidth_hz, found->exclude_hz);
  if (emission == -2 && order)
    sp_fail (error, SP_ERROR_USAGE, _ ("%s: there is no level of order %u in it"), found->name, (guint) order);
  else if (emission == -2 || (!order && fabs (sp_uncertainty_source (findings, condition, emission).frequency_hz - at_hz) > most_hz)) {
    g_autofree char *at = sp_words_frequency (at_hz, 0, SP_HAND_MACHINE);
    sp_fail (error, SP_ERROR_USAGE, _ ("%s: no level was found near %s (judge lists them)"), found->name, at);
    emission = -2;
  }
  return emission;
}

int
command_budget (const Arguments *arguments, GError **error)
{
  guint64 n_draws = 0, seed = 1;
  const char *radio = input_radio_named (arguments);
  if (!arguments_count (arguments, "monte-carlo", 1000, MOST_DRAWS, &n_draws, error)
      || !arguments_count (arguments, "seed", 0, G_MAXINT64, &seed, error))
    return FAILED;
  g_autoptr (SpBench) bench = input_bench (arguments, error);
  int condition = !bench ? -1 : radio ? input_condition (bench, radio, error) : 0;
  if (condition < 0)
    return FAILED;
  if (!radio && bench->n_conditions != 1) {
    sp_fail (error, SP_ERROR_USAGE, _ ("whose level: --radio NAME"));
    return FAILED;
  }
  g_autoptr (SpFindings) findings = sp_judge (bench);
  int emission = asked_emission (arguments, findings, (guint) condition, error);
  if (emission < SP_SOURCE_POWER)
    return FAILED;
  SpUncertaintySource source = sp_uncertainty_source (findings, (guint) condition, emission);
  const SpChain *chain = sp_uncertainty_source_chain (findings, &source);
  SpBudgetDrawn drawn;
  gboolean draws = n_draws && sp_budget_draw (source.budget, source.slope, source.margin_db, n_draws, seed, NULL, &drawn);
  gboolean json = arguments_have (arguments, "json");
  g_autofree char *text = json ? sp_json_budget (&source, chain, draws ? &drawn : NULL, n_draws, seed)
                               : sp_table_budget (&source, chain, draws ? &drawn : NULL, n_draws, seed);
  return (json ? output_machine (arguments, text, error) : output_text (arguments, text, error)) ? DONE : FAILED;
}
