/* analyzer.c - any bytes as an analyzer's profile */
#include "core/analyzer/analyzer.h"
#include "tests/fuzz/key-file.h"

static gpointer
read_analyzer (SpKeyFile *file, GError **error)
{
  return sp_analyzer_parse (file, error);
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  static const double frequency_hz[] = { 1, 1e6, 146e6, 1e9, 1e12 };
  g_autoptr (SpAnalyzer) analyzer = fuzz_key_file (read_analyzer, (const char *) data, size);

  if (!analyzer)
    return 0;
  FUZZ_READ_AGAIN (SpAnalyzer, read_analyzer, analyzer);
  for (guint i = 0; i < G_N_ELEMENTS (frequency_hz); i++)
    FUZZ_MUST (!isinf (sp_analyzer_noise_dbm (analyzer, frequency_hz[i], 1e4, 10)));
  FUZZ_MUST (!isinf (sp_analyzer_damage_dbm (analyzer, 10)));
  return 0;
}
