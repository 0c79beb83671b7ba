/* run.c - any bytes as a substitution run; whatever the readings, the result is finite, or it is said what is wanting */
#include "tests/fuzz/key-file.h"

static gpointer
read_run (SpKeyFile *file, GError **error)
{
  return sp_run_parse (file, FALSE, error);
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  g_autoptr (SpRun) run = fuzz_key_file (read_run, (const char *) data, size);

  if (!run)
    return 0;
  FUZZ_READ_AGAIN (SpRun, read_run, run);
  g_autoptr (SpRunResult) result = sp_run_result (run, 740000);
  FUZZ_MUST (result->n > 0 || result->missing->len > 0);
  for (guint i = 0; i < result->n; i++)
    FUZZ_MUST (isfinite (result->points[i].loss_db) && result->points[i].sum.u_db >= 0 && result->points[i].sum.expanded_db >= 0
               && result->points[i].sum.expanded_db < 1e9);
  return 0;
}
