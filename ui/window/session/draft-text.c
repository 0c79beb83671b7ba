/* draft-text.c - a key file of a group for each form, beside one that says of which book */
#include "ui/window/session/draft-text.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "core/quantity/error.h"

#define HEAD "draft"
#define TAKEN "-taken"  /* no field is called so */
#define TEXT_MOST 65535 /* characters, as many as an entry takes */

GHashTable *
sp_draft_new (void)
{
  return g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
}

void
sp_draft_mark_taken (GHashTable *draft)
{
  g_hash_table_insert (draft, g_strdup (TAKEN), g_strdup (""));
}

gboolean
sp_draft_is_taken (GHashTable *draft)
{
  return draft && g_hash_table_contains (draft, TAKEN);
}

GHashTable *
sp_drafts_new (void)
{
  return g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify) g_hash_table_unref);
}

guint
sp_drafts_untaken (GHashTable *drafts)
{
  GHashTableIter forms;
  gpointer draft;
  guint n = 0;
  g_hash_table_iter_init (&forms, drafts);
  while (g_hash_table_iter_next (&forms, NULL, &draft))
    n += !sp_draft_is_taken (draft);
  return n;
}

char *
sp_drafts_key (const char *chain, const char *stage)
{
  return g_strconcat (chain ? chain : "", "\n", stage ? stage : "", NULL);
}

/* One form's texts. */
static GHashTable *
read_draft (GKeyFile *file, const char *group, char **key)
{
  g_autofree char *chain = g_key_file_get_string (file, group, "chain", NULL), *stage = g_key_file_get_string (file, group, "stage", NULL);
  g_auto (GStrv) names = g_key_file_get_keys (file, group, NULL, NULL);
  GHashTable *texts = sp_draft_new ();
  *key = sp_drafts_key (chain, stage);
  for (guint i = 0; names && names[i]; i++) {
    char *text = g_key_file_get_string (file, group, names[i], NULL);
    if (text && g_utf8_strlen (text, -1) <= TEXT_MOST)
      g_hash_table_insert (texts, g_strdup (names[i]), text);
    else
      g_free (text);
  }
  return texts;
}

GHashTable *
sp_drafts_parse (const char *text, gsize length, const char *book, GError **error)
{
  g_autoptr (GKeyFile) file = g_key_file_new ();
  if (!g_key_file_load_from_data (file, text, length, G_KEY_FILE_NONE, error))
    return NULL;
  g_autofree char *of = g_key_file_get_string (file, HEAD, "book", NULL);
  if (g_strcmp0 (of, book) != 0) {
    sp_fail (error, SP_ERROR_INPUT, _ ("not of this book"));
    return NULL;
  }
  GHashTable *drafts = sp_drafts_new ();
  g_auto (GStrv) groups = g_key_file_get_groups (file, NULL);
  for (guint i = 0; groups[i] && g_hash_table_size (drafts) < SP_DRAFTS_MOST; i++) {
    char *key;
    if (strcmp (groups[i], HEAD) == 0)
      continue;
    GHashTable *texts = read_draft (file, groups[i], &key);
    g_hash_table_insert (drafts, key, texts);
  }
  return drafts;
}

char *
sp_drafts_text (GHashTable *drafts, const char *book, gsize *length)
{
  g_autoptr (GKeyFile) file = g_key_file_new ();
  GHashTableIter forms, texts;
  gpointer key, draft, name, text;
  guint n = 0;
  g_key_file_set_string (file, HEAD, "book", book);
  g_hash_table_iter_init (&forms, drafts);
  while (g_hash_table_iter_next (&forms, &key, &draft)) {
    if (sp_draft_is_taken (draft))
      continue;
    g_auto (GStrv) names = g_strsplit (key, "\n", 2);
    g_autofree char *group = g_strdup_printf ("run %u", ++n);
    g_hash_table_iter_init (&texts, draft);
    while (g_hash_table_iter_next (&texts, &name, &text))
      g_key_file_set_string (file, group, name, text);
    g_key_file_set_string (file, group, "chain", names[0]);
    g_key_file_set_string (file, group, "stage", names[1]);
  }
  return g_key_file_to_data (file, length, NULL);
}
