/* command-calibrate.c - what a stage loses, from a substitution run */
#include "app/command.h"

#include "core/quantity/error.h"
#include "core/quantity/text.h"
#include "core/run/run.h"
#include "ui/report/json.h"
#include "ui/report/table.h"
#include "ui/words/words.h"

#include <glib/gi18n.h>
#include <math.h>

/* --on, or today. */
static gboolean
day_asked (const Arguments *arguments, double *day, GError **error)
{
  const char *text = arguments_text (arguments, "on");
  guint32 julian = 0;
  if (text && !sp_parse_date (text, &julian, error)) {
    g_prefix_error (error, "--on %s: ", text);
    return FALSE;
  }
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();
  GDate today;
  g_date_set_dmy (&today, (GDateDay) g_date_time_get_day_of_month (now), (GDateMonth) g_date_time_get_month (now),
                  (GDateYear) g_date_time_get_year (now));
  *day = text ? julian : g_date_get_julian (&today);
  return TRUE;
}

int
command_calibrate (const Arguments *arguments, GError **error)
{
  double day;
  if (!input_rest (arguments, "calibrate", 1, 1, error) || !day_asked (arguments, &day, error))
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
