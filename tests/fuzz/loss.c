/* loss.c - any bytes as a table of losses: what it says is a stage's points, or refused with a place; those points as a table say the same */
#include "core/bench/edit/edit.h"
#include "core/chain/loss-table.h"
#include "tests/fuzz/key-file.h"

static const char pad[] = "[chain]\nstages=pad\n[stage pad]\nkind=pad\nlabel_db=10\n";

static gpointer
read_chain (SpKeyFile *file, GError **error)
{
  return sp_chain_parse (file, error);
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  g_autoptr (GError) error = NULL, stage_error = NULL;
  g_autofree char *points = sp_loss_table_parse ((const char *) data, size, "file", &error);

  FUZZ_MUST_SAY (points, error);
  if (!points)
    return 0;
  g_autofree char *table = g_strdelimit (g_strdup (points), ";", '\n'), *again = sp_loss_table_parse (table, strlen (table), "file", NULL);
  FUZZ_MUST (again && strcmp (again, points) == 0);
  g_autoptr (SpChain) bare = fuzz_key_file (read_chain, pad, strlen (pad)), chain = sp_chain_set (bare, 0, "points", points, &stage_error);
  FUZZ_MUST_ANSWER (chain, stage_error);
  FUZZ_MUST (!chain || chain->stages[0]);
  return 0;
}
