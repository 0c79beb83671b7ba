/* edit-chain.c - a chain or an analyzer with one thing changed: in its canonical text, which its own reader then reads again (a loss from elsewhere: edit-loss.c) */
#include <glib/gi18n-lib.h>
#include <string.h>

#include "core/bench/edit/edit-private.h"
#include "core/quantity/error.h"
#include "core/quantity/file.h"
#include "core/quantity/text.h"

typedef struct {
  const SpChain *chain;
  SpKeyFile *file;
  const SpLossSource *source; /* one that is being put in; NULL */
} Ports;

/* A two-port that the chain has is taken over; a new name is a file's, as in the chain's own file. */
static SpTwoPort *
find_two_port (gpointer data, const char *name, GError **error)
{
  const Ports *ports = data;
  if (ports->source && ports->source->two_port && strcmp (ports->source->name, name) == 0)
    return sp_two_port_ref (ports->source->two_port);
  for (guint i = 0; i < ports->chain->n; i++) {
    const SpStage *stage = ports->chain->stages[i];
    if (stage->two_port && strcmp (stage->touchstone, name) == 0)
      return sp_two_port_ref (stage->two_port);
  }
  g_autofree char *path = sp_key_file_resolve (ports->file, name);
  if (sp_file_is_missing (path)) {
    sp_fail (error, SP_ERROR_USAGE, _ ("there is no file “%s”; expected a two-port Touchstone file"), path);
    return NULL;
  }
  return sp_two_port_read (path, error);
}

/* Likewise a run. */
static SpRun *
find_run (gpointer data, const char *name, GError **error)
{
  const Ports *ports = data;
  if (ports->source && ports->source->run && strcmp (ports->source->name, name) == 0)
    return sp_run_ref (ports->source->run);
  for (guint i = 0; i < ports->chain->n; i++) {
    const SpStage *stage = ports->chain->stages[i];
    if (stage->run && strcmp (stage->run_name, name) == 0)
      return sp_run_ref (stage->run);
  }
  g_autofree char *path = sp_key_file_resolve (ports->file, name);
  if (sp_file_is_missing (path)) {
    sp_fail (error, SP_ERROR_USAGE, _ ("there is no file “%s”; expected a substitution run"), path);
    return NULL;
  }
  return sp_run_read (path, error);
}

static SpPicture *
picture_named (const GArray *pictures, const char *name)
{
  for (guint i = 0; pictures && i < pictures->len; i++) {
    const SpCaptioned *one = &g_array_index (pictures, SpCaptioned, i);
    if (g_strcmp0 (one->name, name) == 0)
      return sp_picture_ref (one->picture);
  }
  return NULL;
}

/* Likewise a picture. */
static SpPicture *
find_picture (gpointer data, const char *name, GError **error)
{
  const Ports *ports = data;
  SpPicture *picture = ports->source ? picture_named (ports->source->pictures, name) : NULL;
  for (guint i = 0; i < ports->chain->n && !picture; i++)
    picture = picture_named (ports->chain->stages[i]->pictures, name);
  if (picture)
    return picture;
  g_autofree char *path = sp_key_file_resolve (ports->file, name);
  return sp_picture_read (path, error);
}

SpChain *
sp_chain_read_edited (const SpChain *chain, const char *text, const SpLossSource *source, GError **error)
{
  const char *name = chain->file ? chain->file : "";
  GError *cause = NULL;
  g_autoptr (SpKeyFile) file = sp_key_file_parse (text, strlen (text), name, &cause);
  Ports ports = { chain, file, source };
  SpTwoPorts two_ports = { find_two_port, &ports, find_run, TRUE, find_picture };
  SpChain *edited = file ? sp_chain_parse_with (file, &two_ports, &cause) : NULL;
  if (!edited) {
    sp_error_drop_place (cause, name);
    g_propagate_error (error, cause);
    return NULL;
  }
  if (!chain->file)
    g_clear_pointer (&edited->file, g_free);
  return edited;
}

static SpChain *
read_chain (const SpChain *chain, const char *text, GError **error)
{
  return sp_chain_read_edited (chain, text, NULL, error);
}

static char *
group_of (const SpChain *chain, int stage)
{
  return stage < 0 ? g_strdup ("chain") : sp_stage_heading (chain->stages[stage]->name);
}

SpChain *
sp_chain_set (const SpChain *chain, int stage, const char *key, const char *value, GError **error)
{
  g_return_val_if_fail (stage < (int) chain->n, NULL);
  g_autofree char *group = group_of (chain, stage), *text = sp_key_text_set (chain->text, group, key, value, error);
  return text ? read_chain (chain, text, error) : NULL;
}

char *
sp_chain_get (const SpChain *chain, int stage, const char *key)
{
  g_return_val_if_fail (stage < (int) chain->n, NULL);
  g_autofree char *group = group_of (chain, stage);
  return sp_key_text_get (chain->text, group, key);
}

/* ---- the order of the stages ---- */

static GPtrArray *
stage_names (const SpChain *chain)
{
  GPtrArray *names = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; i < chain->n; i++)
    g_ptr_array_add (names, sp_escape (chain->stages[i]->name));
  return names;
}

/* `text` with the stages in the order of `names` (taken), read. */
static SpChain *
with_stages (const SpChain *chain, const char *text, GPtrArray *names, const SpLossSource *source, GError **error)
{
  g_ptr_array_add (names, NULL);
  g_autofree char *list = g_strjoinv (";", (char **) names->pdata), *changed = sp_key_text_set (text, "chain", "stages", list, error);
  g_ptr_array_unref (names);
  return changed ? sp_chain_read_edited (chain, changed, source, error) : NULL;
}

SpChain *
sp_chain_move_stage (const SpChain *chain, guint from, guint to, GError **error)
{
  g_return_val_if_fail (from < chain->n && to < chain->n, NULL);
  GPtrArray *names = stage_names (chain);
  g_ptr_array_insert (names, (int) to, g_ptr_array_steal_index (names, from));
  return with_stages (chain, chain->text, names, NULL, error);
}

SpChain *
sp_chain_remove_stage (const SpChain *chain, guint stage, GError **error)
{
  g_return_val_if_fail (stage < chain->n, NULL);
  if (chain->n == 1) {
    sp_fail (error, SP_ERROR_USAGE, _ ("a chain has at least one stage; expected another one before this is removed"));
    return NULL;
  }
  g_autofree char *group = group_of (chain, (int) stage), *text = sp_key_text_remove (chain->text, group);
  GPtrArray *names = stage_names (chain);
  g_ptr_array_remove_index (names, stage);
  return with_stages (chain, text, names, NULL, error);
}

SpChain *
sp_chain_insert_group (const SpChain *chain, guint at, const char *name, const char *group, const SpLossSource *source, GError **error)
{
  g_autofree char *text = g_strconcat (chain->text, "\n", group, NULL);
  GPtrArray *names = stage_names (chain);
  g_ptr_array_insert (names, (int) at, sp_escape (name));
  return with_stages (chain, text, names, source, error);
}

gboolean
sp_chain_check_stage_name (const SpChain *chain, const char *name, GError **error)
{
  g_autofree char *heading = sp_stage_heading (name), *there = sp_key_text_copy (chain->text, heading, "-");
  if (!*name)
    return sp_fail (error, SP_ERROR_USAGE, _ ("a stage has a name; nothing stands here"));
  return !there || sp_fail (error, SP_ERROR_USAGE, _ ("there is a stage “%s” already; expected another name"), name);
}

SpChain *
sp_chain_add_stage (const SpChain *chain, guint before, const char *name, SpStageKind kind, GError **error)
{
  g_return_val_if_fail (before <= chain->n, NULL);
  g_autofree char *clean = g_strstrip (g_strdup (name));
  if (!sp_chain_check_stage_name (chain, clean, error))
    return NULL;
  g_autofree char *heading = sp_stage_heading (clean), *group = g_strdup_printf ("[%s]\nkind=%s\n", heading, sp_stage_kind_name (kind));
  return sp_chain_insert_group (chain, before, clean, group, NULL, error);
}

SpChain *
sp_chain_duplicate_stage (const SpChain *chain, guint stage, const char *name, GError **error)
{
  g_return_val_if_fail (stage < chain->n, NULL);
  g_autofree char *clean = g_strstrip (g_strdup (name));
  if (!sp_chain_check_stage_name (chain, clean, error))
    return NULL;
  g_autofree char *heading = sp_stage_heading (clean), *old = group_of (chain, (int) stage);
  g_autofree char *group = sp_key_text_copy (chain->text, old, heading);
  return sp_chain_insert_group (chain, stage + 1, clean, group, NULL, error);
}

/* ---- analyzer ---- */

SpAnalyzer *
sp_analyzer_set (const SpAnalyzer *analyzer, const char *key, const char *value, GError **error)
{
  const char *name = analyzer->file ? analyzer->file : "";
  GError *cause = NULL;
  g_autofree char *text = sp_key_text_set (analyzer->text, "analyzer", key, value, error);
  if (!text)
    return NULL;
  g_autoptr (SpKeyFile) file = sp_key_file_parse (text, strlen (text), name, &cause);
  SpAnalyzer *edited = file ? sp_analyzer_parse (file, &cause) : NULL;
  if (!edited) {
    sp_error_drop_place (cause, name);
    g_propagate_error (error, cause);
    return NULL;
  }
  if (!analyzer->file)
    g_clear_pointer (&edited->file, g_free);
  return edited;
}

char *
sp_analyzer_get (const SpAnalyzer *analyzer, const char *key)
{
  return sp_key_text_get (analyzer->text, "analyzer", key);
}
