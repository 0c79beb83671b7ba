#include "ui/window/chain-edit.h"

#include <glib/gi18n-lib.h>

SpChain *
sp_chain_in_use (SpSession *session)
{
  SpBench *bench = sp_session_bench (session);
  guint condition = sp_session_condition (session);
  return condition < bench->n_conditions ? sp_condition_chain (bench, &bench->conditions[condition]) : bench->chain;
}

int
sp_chain_stage_named (const SpChain *chain, const char *name)
{
  for (guint i = 0; chain && i < chain->n; i++)
    if (g_strcmp0 (chain->stages[i]->name, name) == 0)
      return (int) i;
  return -1;
}

gboolean
sp_chain_edit_in_use (SpSession *session, SpChain *edited, const char *label, GError *error)
{
  g_autoptr (SpChain) chain = edited;
  SpBench *bench = chain ? sp_bench_replace_chain (sp_session_bench (session), sp_chain_in_use (session), chain) : NULL;
  return sp_session_edit (session, bench, label, error);
}

gboolean
sp_chain_move_in_use (SpSession *session, guint from, guint to)
{
  SpChain *chain = sp_chain_in_use (session);
  GError *error = NULL;
  if (!chain || from >= chain->n || to >= chain->n || from == to)
    return FALSE;
  g_autofree char *label = g_strdup_printf (_("Move %s"), chain->stages[from]->name);
  SpChain *edited = sp_chain_move_stage (chain, from, to, &error);
  return sp_chain_edit_in_use (session, edited, label, error);
}

gboolean
sp_chain_take_file_in_use (SpSession *session, guint stage, GFile *file)
{
  SpChain *chain = sp_chain_in_use (session);
  g_autofree char *path = g_file_get_path (file);
  GError *error = NULL;
  if (!chain || stage >= chain->n)
    return FALSE;
  if (!path) {
    sp_session_trouble (session, _("Only a file on this computer can be read."), _("Copy it here and drop it again."));
    return FALSE;
  }
  g_autofree char *label = g_strdup_printf (_("Take the loss of %s from a file"), chain->stages[stage]->name);
  SpChain *edited = sp_chain_take_loss (chain, stage, path, &error);
  return sp_chain_edit_in_use (session, edited, label, error);
}

gboolean
sp_chain_take_files_in_use (SpSession *session, guint stage, const GValue *file_list)
{
  GSList *files = g_value_get_boxed (file_list);
  return files && sp_chain_take_file_in_use (session, stage, files->data);
}
