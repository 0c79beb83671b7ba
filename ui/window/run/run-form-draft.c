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
  SpDrafts *drafts = sp_session_drafts (SP_DIALOG (form)->session);
  SpFormTexts texts = texts_of (form);
  if (form->touched || !sp_draft_is_taken (sp_drafts_get (drafts, form->chain, form->stage)))
    sp_drafts_set (drafts, form->chain, form->stage, form->touched ? sp_form_draft (&texts, form->leftover) : NULL);
}

void
sp_run_form_keep_taken (SpRunForm *form)
{
  SpFormTexts texts = texts_of (form);
  GHashTable *draft = sp_form_draft (&texts, form->leftover);
  sp_draft_mark_taken (draft);
  sp_drafts_set (sp_session_drafts (SP_DIALOG (form)->session), form->chain, form->stage, draft);
}

static gboolean
stage_has_run (SpRunForm *form)
{
  const SpChain *chain = sp_chain_at (SP_DIALOG (form)->session, form->place);
  int stage = chain ? sp_chain_stage_named (chain, form->stage) : -1;
  return stage >= 0 && chain->stages[stage]->run;
}

gboolean
sp_run_form_show_draft (SpRunForm *form)
{
  GHashTable *draft = sp_drafts_get (sp_session_drafts (SP_DIALOG (form)->session), form->chain, form->stage);
  SpFormTexts texts = texts_of (form);
  if (!draft || (stage_has_run (form) && sp_draft_is_taken (draft)))
    return FALSE;
  sp_form_restore (&texts, draft, &form->leftover);
  return TRUE;
}
