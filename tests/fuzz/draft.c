/* draft.c - any bytes as what is kept of runs' forms: what is read is written and read again the same */
#include "ui/window/session/draft-text.h"

#include <string.h>

#include "tests/fuzz/fuzz.h"

#define BOOK "/home/any/evening.benchbook" /* corpus and dictionary name it */

static GHashTable *
parse (const char *text, gsize length)
{
  g_autoptr (GError) error = NULL;
  GHashTable *drafts = sp_drafts_parse (text, length, BOOK, &error);
  FUZZ_MUST_ANSWER (drafts, error);
  return drafts;
}

/* But for their names, which stand beside the texts as well. */
static gboolean
are_alike (GHashTable *texts, GHashTable *others)
{
  GHashTableIter all;
  gpointer name, text;

  g_hash_table_iter_init (&all, texts);
  while (g_hash_table_iter_next (&all, &name, &text))
    if (strcmp (name, "chain") != 0 && strcmp (name, "stage") != 0 && g_strcmp0 (g_hash_table_lookup (others, name), text) != 0)
      return FALSE;
  return TRUE;
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  g_autoptr (GHashTable) drafts = parse ((const char *) data, size);
  GHashTableIter all;
  gpointer key, texts;
  gsize length;

  if (!drafts)
    return 0;
  FUZZ_MUST (g_hash_table_size (drafts) <= SP_DRAFTS_MOST);
  g_autofree char *text = sp_drafts_text (drafts, BOOK, &length);
  g_autoptr (GHashTable) again = parse (text, length);
  FUZZ_MUST (again && g_hash_table_size (again) == g_hash_table_size (drafts));
  g_hash_table_iter_init (&all, drafts);
  while (g_hash_table_iter_next (&all, &key, &texts)) {
    GHashTable *others = g_hash_table_lookup (again, key);
    FUZZ_MUST (others && are_alike (texts, others) && are_alike (others, texts));
  }
  return 0;
}
