/* run-form-draft.c - what was typed and not taken, as the drafts of the book keep it: each field's text by its key, each cell's by column and row */
#include <string.h>

#include "core/quantity/keyfile.h"
#include "ui/window/run/run-form-private.h"
#include "ui/window/widgets/entry.h"

#define LEFTOVER "leftover"

static const char *const columns[SP_RUN_CELLS] = { "frequency", "before", "inserted", "after" };

static GHashTable *
texts_of (const SpRunForm *form)
{
  GHashTable *texts = sp_draft_new ();
  if (form->leftover)
    g_hash_table_insert (texts, g_strdup (LEFTOVER), g_strdup (form->leftover));
  for (guint i = 0; i < SP_RUN_FORM_KEYS; i++)
    g_hash_table_insert (texts, g_strdup (sp_run_form_key (i)), g_strdup (gtk_editable_get_text (GTK_EDITABLE (form->key[i]))));
  sp_form_table_keep (&form->table, columns, texts);
  return texts;
}

void
sp_run_form_keep_draft (SpRunForm *form)
{
  sp_drafts_set (sp_session_drafts (SP_DIALOG (form)->session), form->chain, form->stage, form->touched ? texts_of (form) : NULL);
}

/* Keys that nobody knows, if they are that: a draft's file may be anybody's. (transfer full); NULL: none */
static char *
leftover_in (GHashTable *texts)
{
  const char *text = g_hash_table_lookup (texts, LEFTOVER);
  g_autoptr (SpKeyFile) read = text ? sp_key_file_parse (text, strlen (text), LEFTOVER, NULL) : NULL;
  return read ? g_strdup (text) : NULL;
}

gboolean
sp_run_form_show_draft (SpRunForm *form)
{
  GHashTable *texts = sp_drafts_get (sp_session_drafts (SP_DIALOG (form)->session), form->chain, form->stage);
  if (!texts)
    return FALSE;
  form->leftover = leftover_in (texts);
  for (guint i = 0; i < SP_RUN_FORM_KEYS; i++) {
    const char *text = g_hash_table_lookup (texts, sp_run_form_key (i));
    sp_entry_fill (form->key[i], text ? text : "");
  }
  for (guint row = 0; row < SP_FORM_ROWS && sp_form_table_restore (&form->table, columns, texts, row); row++)
    ;
  return TRUE;
}
