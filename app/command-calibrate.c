/* command-calibrate.c - what a stage loses, from a substitution run */
#include "app/command.h"

#include "core/quantity/error.h"
#include "core/run/run.h"
#include "ui/report/json.h"
#include "ui/report/table.h"
#include "ui/words/words.h"

int
command_calibrate (const Arguments *arguments, GError **error)
{
  double day;
  if (!input_rest (arguments, "calibrate", 1, 1, error) || !input_day (arguments, &day, error))
    return FAILED;
  const char *path = g_ptr_array_index (arguments->rest, 0);
  g_autoptr (SpRun) run = sp_run_read (path, error);
  if (!run)
    return FAILED;
  g_autoptr (SpRunResult) result = sp_run_result (run, day);
  if (result->missing->len > 0) {
    g_autofree char *why = sp_words_reason (g_ptr_array_index (result->missing, 0), SP_HAND_MACHINE);
    sp_fail (error, SP_ERROR_INPUT, "%s: %s", path, why);
    return FAILED;
  }
  gboolean json = arguments_have (arguments, "json");
  g_autofree char *text = json ? sp_json_run (run, result) : sp_table_run (run, result);
  return (json ? output_machine (arguments, text, error) : output_text (arguments, text, error)) ? DONE : FAILED;
}
