/* command-compare.c - conditions side by side; or what moved between two judgings */
#include "app/command.h"

#include "core/book/book.h"
#include "core/judge/judge.h"
#include "core/quantity/error.h"
#include "ui/report/json.h"
#include "ui/report/pivot.h"
#include "ui/report/table.h"

#include <glib/gi18n.h>
#include <string.h>

/* Text sums up what moves alike unless it is asked for more; JSON is for machines and holds every row. */
static gboolean
asked_rows (const Arguments *arguments, gboolean json, SpMovesShown *shown, GError **error)
{
  static const char *const names[] = { "alike", "each", "notable" };
  const char *asked = arguments_text (arguments, "show");
  *shown = json ? SP_MOVES_EACH : SP_MOVES_ALIKE;
  if (!asked)
    return TRUE;
  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    if (strcmp (asked, names[i]) == 0) {
      *shown = (SpMovesShown) i;
      return TRUE;
    }
  return sp_fail (error, SP_ERROR_USAGE, _ ("--show %s: expected alike, each or notable"), asked);
}

/* --pivot: in which form, and of what. */
static gboolean
pivot_asked (const Arguments *arguments, SpPivotForm *form, guint64 *order, GError **error)
{
  static const char *const names[] = { "text", "csv", "html" };
  const char *asked = arguments_text (arguments, "format");
  *order = 0;
  if (arguments_have (arguments, "json") || arguments_have (arguments, "with"))
    return sp_fail (error, SP_ERROR_USAGE, _ ("--pivot: without --json, which holds it anyway, and without --with"));
  if (arguments_have (arguments, "dbc") && !arguments_count (arguments, "dbc", 2, SP_MAX_ORDER, order, error))
    return FALSE;
  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    if (!asked || strcmp (asked, names[i]) == 0) {
      *form = (SpPivotForm) i;
      return TRUE;
    }
  return sp_fail (error, SP_ERROR_USAGE, _ ("--format %s: expected text, csv or html"), asked);
}

static int
write_pivot (const Arguments *arguments, const SpComparison *comparison, GError **error)
{
  SpPivotForm form = SP_PIVOT_TEXT;
  guint64 order;
  if (!pivot_asked (arguments, &form, &order, error))
    return FAILED;
  g_autofree char *text = sp_report_pivot (comparison, (guint) order, form);
  return (form == SP_PIVOT_TEXT ? output_text (arguments, text, error) : output_machine (arguments, text, error)) ? DONE : FAILED;
}

int
command_compare (const Arguments *arguments, GError **error)
{
  gboolean json = arguments_have (arguments, "json");
  SpMovesShown shown;
  if (!asked_rows (arguments, json, &shown, error))
    return FAILED;
  const char *with = arguments_text (arguments, "with");
  g_autoptr (SpBench) bench = input_bench (arguments, error);
  g_autoptr (SpBench) other = bench && with ? sp_bench_beside (bench, with, arguments_have (arguments, "rule"), error) : NULL;
  if (!bench || (with && !other))
    return FAILED;
  g_autoptr (SpFindings) findings = sp_judge (bench);
  g_autoptr (SpFindings) after = other ? sp_judge (other) : NULL;
  g_autoptr (SpComparison) comparison = sp_compare (findings);
  if (arguments_have (arguments, "pivot"))
    return write_pivot (arguments, comparison, error);
  g_autoptr (SpMoves) moves = after ? sp_compare_moves (findings, after) : NULL;
  g_autofree char *text = json ? sp_json_compare (comparison, moves, shown) : sp_table_compare (comparison, moves, shown);
  if (!(json ? output_machine (arguments, text, error) : output_text (arguments, text, error)))
    return FAILED;
  return DONE;
}
