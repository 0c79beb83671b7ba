/* chain.c - any bytes as a chain, what it names in memory; its losses are numbers, also far beyond its points */
#include "tests/fuzz/key-file.h"

static gpointer
read_chain (SpKeyFile *file, GError **error)
{
  return sp_chain_parse_with (file, &fuzz_named, error);
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  static const double frequency_hz[] = { 1, 1e6, 146e6, 1e9, 1e12 };
  g_autoptr (SpChain) chain = fuzz_key_file (read_chain, (const char *) data, size);

  if (!chain)
    return 0;
  FUZZ_READ_AGAIN (SpChain, read_chain, chain);
  for (guint i = 0; i < G_N_ELEMENTS (frequency_hz); i++)
    for (guint k = 0; k < chain->n; k++) {
      SpStageLoss loss = sp_stage_loss (chain, k, frequency_hz[i], 20, 5);
      FUZZ_MUST (isfinite (loss.loss_db) && loss.u_db >= 0);
    }
  return 0;
}
