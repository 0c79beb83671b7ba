/* chain-edit.c - the chains of a bench: where each is used, and their undoable edits */
#include "ui/window/session/chain-edit.h"

#include <glib/gi18n-lib.h>

#include "ui/window/session/reading.h"

/* ---- where chains are ---- */

static const SpPurpose purposes[] = { SP_PURPOSE_KEYED, SP_PURPOSE_STEP, SP_PURPOSE_NOTCHED };

SpChainPlace
sp_chain_place_in_use (SpSession *session)
{
  guint condition = sp_session_condition (session);
  return (SpChainPlace){ condition < sp_session_bench (session)->n_conditions ? (int) condition : -1, SP_PURPOSE_KEYED };
}

static SpChain *
chain_of_sweeps (const SpCondition *condition, SpPurpose purpose)
{
  for (guint i = 0; i < condition->n_sweeps; i++)
    if (condition->sweeps[i].purpose == purpose && condition->sweeps[i].chain)
      return condition->sweeps[i].chain;
  return NULL;
}

SpChain *
sp_chain_at (SpSession *session, SpChainPlace place)
{
  SpBench *bench = sp_session_bench (session);
  if (place.condition < 0)
    return bench->chain;
  if ((guint) place.condition >= bench->n_conditions)
    return NULL;
  const SpCondition *condition = &bench->conditions[place.condition];
  return place.purpose == SP_PURPOSE_KEYED ? sp_condition_chain (bench, condition) : chain_of_sweeps (condition, place.purpose);
}

SpChain *
sp_chain_in_use (SpSession *session)
{
  return sp_chain_at (session, sp_chain_place_in_use (session));
}

GArray *
sp_chain_places (SpSession *session)
{
  GArray *places = g_array_new (FALSE, FALSE, sizeof (SpChainPlace));
  g_autoptr (GHashTable) seen = g_hash_table_new (NULL, NULL);
  for (int i = -1; i < (int) sp_session_bench (session)->n_conditions; i++)
    for (guint k = 0; k < (i < 0 ? 1 : G_N_ELEMENTS (purposes)); k++) {
      SpChainPlace place = { i, purposes[k] };
      SpChain *chain = sp_chain_at (session, place);
      if (chain && g_hash_table_add (seen, chain))
        g_array_append_val (places, place);
    }
  return places;
}

/* In how many places it is. */
static guint
times_used (SpSession *session, const SpChain *chain)
{
  guint n = 0;
  for (int i = 0; i < (int) sp_session_bench (session)->n_conditions; i++)
    for (guint k = 0; k < G_N_ELEMENTS (purposes); k++)
      n += sp_chain_at (session, (SpChainPlace){ i, purposes[k] }) == chain;
  return n;
}

char *
sp_chain_place_says (SpSession *session, SpChainPlace place)
{
  const SpBench *bench = sp_session_bench (session);
  if (place.condition < 0 || (guint) place.condition >= bench->n_conditions)
    return g_strdup (_ ("of the bench"));
  g_autofree char *name = sp_condition_name (bench, &bench->conditions[place.condition]);
  g_autofree char *says = g_strdup_printf (place.purpose == SP_PURPOSE_STEP      ? _ ("of %s, steps")
                                           : place.purpose == SP_PURPOSE_NOTCHED ? _ ("of %s, notched")
                                                                                 : _ ("of %s"),
                                           name);
  guint n = times_used (session, sp_chain_at (session, place));
  return n > 1 ? g_strdup_printf (ngettext ("%s, and %u more", "%s, and %u more", n - 1), says, n - 1) : g_steal_pointer (&says);
}

/* ---- edits ---- */

int
sp_chain_stage_named (const SpChain *chain, const char *name)
{
  for (guint i = 0; chain && i < chain->n; i++)
    if (g_strcmp0 (chain->stages[i]->name, name) == 0)
      return (int) i;
  return -1;
}

gboolean
sp_chain_edit_at (SpSession *session, SpChainPlace place, SpChain *edited, const char *label, GError *error)
{
  g_autoptr (SpChain) chain = edited;
  SpChain *old = sp_chain_at (session, place);
  if (chain && !old)
    return FALSE; /* it went with an undo */
  SpBench *bench = chain ? sp_bench_replace_chain (sp_session_bench (session), old, chain) : NULL;
  return sp_session_edit (session, bench, label, error);
}

gboolean
sp_chain_move_at (SpSession *session, SpChainPlace place, guint from, guint to)
{
  SpChain *chain = sp_chain_at (session, place);
  GError *error = NULL;
  if (!chain || from >= chain->n || to >= chain->n || from == to)
    return FALSE;
  g_autofree char *label = g_strdup_printf (_ ("Move %s"), chain->stages[from]->name);
  SpChain *edited = sp_chain_move_stage (chain, from, to, &error);
  return sp_chain_edit_at (session, place, edited, label, error);
}

/* ---- files ---- */

/* A stage's loss on its way from a file into a chain. */
typedef struct {
  SpChainPlace place;
  SpChain *chain;
  guint stage;
  gboolean picture;
} Taking;

static void
taking_free (gpointer data)
{
  Taking *taking = data;
  sp_chain_unref (taking->chain);
  g_free (taking);
}

static gpointer
take_loss (const char *path, gpointer asked, GError **error)
{
  const Taking *taking = asked;
  return sp_chain_take_loss (taking->chain, taking->stage, path, error);
}

static void
on_taken (gpointer owner, gpointer asked, gpointer edited, GError *error)
{
  const Taking *taking = asked;
  if (edited && sp_chain_at (owner, taking->place) != taking->chain) {
    sp_chain_unref (edited);
    sp_session_trouble (owner, _ ("The chain was changed while the file was read."), _ ("Take the file once more."));
    return;
  }
  g_autofree char *label = g_strdup_printf (taking->picture ? _ ("Take a picture for %s") : _ ("Take the loss of %s from a file"),
                                            taking->chain->stages[taking->stage]->name);
  sp_chain_edit_at (owner, taking->place, edited, label, error);
}

static gpointer
take_picture (const char *path, gpointer asked, GError **error)
{
  const Taking *taking = asked;
  g_autoptr (SpPicture) picture = sp_picture_read (path, error);
  g_autoptr (GArray) pictures = sp_captioned_copy (taking->chain->stages[taking->stage]->pictures);
  if (!picture)
    return NULL;
  sp_captioned_add (pictures, picture, NULL);
  return sp_chain_set_pictures (taking->chain, taking->stage, pictures, error);
}

static gboolean
take_at (SpSession *session, SpChainPlace place, guint stage, GFile *file, gboolean picture)
{
  static const SpFileReading losses = { take_loss, (GDestroyNotify) sp_chain_unref, on_taken, taking_free };
  static const SpFileReading pictures = { take_picture, (GDestroyNotify) sp_chain_unref, on_taken, taking_free };
  SpChain *chain = sp_chain_at (session, place);
  if (!chain || stage >= chain->n)
    return FALSE;
  Taking *taking = g_new (Taking, 1);
  *taking = (Taking){ place, sp_chain_ref (chain), stage, picture };
  sp_reading_begin (session, file, picture ? &pictures : &losses, taking);
  return TRUE;
}

gboolean
sp_chain_take_file_at (SpSession *session, SpChainPlace place, guint stage, GFile *file)
{
  g_autofree char *name = g_file_get_basename (file);
  return take_at (session, place, stage, file, name && sp_picture_is_named (name));
}

gboolean
sp_chain_take_files_at (SpSession *session, SpChainPlace place, guint stage, const GValue *file_list)
{
  GSList *files = g_value_get_boxed (file_list);
  return files && sp_chain_take_file_at (session, place, stage, files->data);
}
