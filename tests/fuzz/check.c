/* check.c - any bytes as a check of an analyzer; whatever the readings, the result is finite, or it is said what is wanting */
#include "core/check/check.h"

#include <math.h>

#include "tests/fuzz/key-file.h"

static gpointer
read_check (SpKeyFile *file, GError **error)
{
  return sp_check_parse (file, FALSE, error);
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  g_autoptr (SpCheck) check = fuzz_key_file (read_check, (const char *) data, size);

  if (!check)
    return 0;
  FUZZ_READ_AGAIN (SpCheck, read_check, check);
  g_autoptr (SpAnalyzer) blank = sp_analyzer_blank (check->analyzer);
  g_autoptr (SpCheckResult) result = sp_check_result (check, blank, 740000);
  FUZZ_MUST (result->n > 0 && result->correction);
  for (guint i = 0; i < result->n; i++)
    FUZZ_MUST (isfinite (result->points[i].correction_db) && result->points[i].sum.u_db >= 0 && result->points[i].sum.expanded_db < 1e9);
  g_autoptr (SpAnalyzer) taken = sp_check_take_over (check, result, blank, NULL);
  FUZZ_MUST (taken == NULL || sp_analyzer_checked (taken));
  return 0;
}
