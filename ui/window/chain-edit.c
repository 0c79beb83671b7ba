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

/* A stage's loss on its way from a file into a chain. */
typedef struct {
  SpChain *chain;
  guint stage;
  char *path;
} Taking;

static void
taking_free (gpointer data)
{
  Taking *taking = data;
  sp_chain_unref (taking->chain);
  g_free (taking->path);
  g_free (taking);
}

/* A table may be as long as an export. */
static void
take_loss (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  const Taking *taking = data;
  GError *error = NULL;
  (void) source, (void) cancellable;
  SpChain *edited = sp_chain_take_loss (taking->chain, taking->stage, taking->path, &error);
  if (edited)
    g_task_return_pointer (task, edited, (GDestroyNotify) sp_chain_unref);
  else
    g_task_return_error (task, error);
}

static void
on_taken (GObject *source, GAsyncResult *result, gpointer data)
{
  SpSession *session = SP_SESSION (source);
  const Taking *taking = g_task_get_task_data (G_TASK (result));
  GError *error = NULL;
  SpChain *edited = g_task_propagate_pointer (G_TASK (result), &error);
  (void) data;
  if (edited && sp_chain_in_use (session) != taking->chain) {
    sp_chain_unref (edited);
    sp_session_trouble (session, _("The chain was changed while the file was read."), _("Take the file once more."));
    return;
  }
  g_autofree char *label = g_strdup_printf (_("Take the loss of %s from a file"), taking->chain->stages[taking->stage]->name);
  sp_chain_edit_in_use (session, edited, label, error);
}

gboolean
sp_chain_take_file_in_use (SpSession *session, guint stage, GFile *file)
{
  SpChain *chain = sp_chain_in_use (session);
  g_autofree char *path = g_file_get_path (file);
  if (!chain || stage >= chain->n)
    return FALSE;
  if (!path) {
    sp_session_trouble (session, _("Only a file on this computer can be read."), _("Copy it here and drop it again."));
    return FALSE;
  }
  Taking *taking = g_new (Taking, 1);
  *taking = (Taking) { sp_chain_ref (chain), stage, g_steal_pointer (&path) };
  g_autoptr (GTask) task = g_task_new (session, NULL, on_taken, NULL);
  g_task_set_task_data (task, taking, taking_free);
  g_task_run_in_thread (task, take_loss);
  return TRUE;
}

gboolean
sp_chain_take_files_in_use (SpSession *session, guint stage, const GValue *file_list)
{
  GSList *files = g_value_get_boxed (file_list);
  return files && sp_chain_take_file_in_use (session, stage, files->data);
}
