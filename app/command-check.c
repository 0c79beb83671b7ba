/* command-check.c - what is to be added to an analyzer's readings, from a check against a known level */
#include "app/command.h"

#include "core/check/check.h"
#include "core/quantity/error.h"
#include "ui/report/json.h"
#include "ui/report/table.h"
#include "ui/words/words.h"

/* --analyzer, or what the check names. (transfer full) */
static SpAnalyzer *
profile_of (const Arguments *arguments, const SpCheck *check, GError **error)
{
  const char *path = arguments_text (arguments, "analyzer");
  return path ? sp_analyzer_read (path, error) : sp_check_analyzer (check, error);
}

int
command_check (const Arguments *arguments, GError **error)
{
  double day;
  if (!input_rest (arguments, "check", 1, 1, error) || !input_day (arguments, &day, error))
    return FAILED;
  const char *path = g_ptr_array_index (arguments->rest, 0);
  g_autoptr (SpCheck) check = sp_check_read (path, error);
  g_autoptr (SpAnalyzer) analyzer = check ? profile_of (arguments, check, error) : NULL;
  if (!analyzer)
    return FAILED;
  if (!check->analyzer || !*check->analyzer) { /* --analyzer alone says whose */
    g_free (check->analyzer);
    check->analyzer = g_strdup (analyzer->name);
  }
  g_autoptr (SpCheckResult) result = sp_check_result (check, analyzer, day);
  if (result->missing->len > 0) {
    g_autofree char *why = sp_words_reason (g_ptr_array_index (result->missing, 0), SP_HAND_MACHINE);
    sp_fail (error, SP_ERROR_INPUT, "%s: %s", path, why);
    return FAILED;
  }
  gboolean json = arguments_have (arguments, "json");
  g_autofree char *text = json ? sp_json_check (check, result, analyzer) : sp_table_check (check, result, analyzer);
  return (json ? output_machine (arguments, text, error) : output_text (arguments, text, error)) ? DONE : FAILED;
}
