/* run-form-draft.c - what was typed and not taken, as the drafts of the book keep it: each field's text by its key, each cell's by column and row */
#include "ui/window/run/run-form-private.h"

static const char *const columns[SP_RUN_CELLS] = { "frequency", "before", "inserted", "after" };

static SpFormTexts
texts_of (SpRunForm *form)
{
  return (SpFormTexts){ &form->table, columns, form->key, sp_run_form_key, SP_RUN_FORM_KEYS };
}

void
sp_run_form_keep_draft (SpRunForm *form)
{
  SpFormTexts texts = texts_of (form);
  sp_drafts_set (sp_session_drafts (SP_DIALOG (form)->session), form->chain, form->stage,
                 form->touched ? sp_form_draft (&texts, form->leftover) : NULL);
}

gboolean
sp_run_form_show_draft (SpRunForm *form)
{
  GHashTable *draft = sp_drafts_get (sp_session_drafts (SP_DIALOG (form)->session), form->chain, form->stage);
  SpFormTexts texts = texts_of (form);
  if (!draft)
    return FALSE;
  sp_form_restore (&texts, draft, &form->leftover);
  return TRUE;
}
