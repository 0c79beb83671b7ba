/* edit-parts.c - a chain or an analyzer with one thing changed: in its canonical text, which its own reader then reads again */
#include <glib/gi18n-lib.h>
#include <string.h>

#include "core/bench/edit-private.h"
#include "core/quantity/error.h"
#include "core/quantity/text.h"

typedef struct {
  const SpChain *chain;
  SpKeyFile *file;
  const SpRun *run; /* one that is being put in, known by its name; NULL */
  const char *run_name;
} Ports;

/* A two-port that the chain has is taken over; a new name is a file's, as in the chain's own file. */
static SpTwoPort *
find_two_port (gpointer data, const char *name, GError **error)
{
  const Ports *ports = data;
  for (guint i = 0; i < ports->chain->n; i++) {
    const SpStage *stage = ports->chain->stages[i];
    if (stage->two_port && strcmp (stage->touchstone, name) == 0)
      return sp_two_port_ref (stage->two_port);
  }
  g_autofree char *path = sp_key_file_resolve (ports->file, name);
  if (!g_file_test (path, G_FILE_TEST_IS_REGULAR)) {
    sp_fail (error, SP_ERROR_USAGE, _("there is no file “%s”; expected a two-port Touchstone file"), path);
    return NULL;
  }
  return sp_two_port_read (path, error);
}

/* Likewise a run. */
static SpRun *
find_run (gpointer data, const char *name, GError **error)
{
  const Ports *ports = data;
  if (ports->run && strcmp (ports->run_name, name) == 0)
    return sp_run_ref (ports->run);
  for (guint i = 0; i < ports->chain->n; i++) {
    const SpStage *stage = ports->chain->stages[i];
    if (stage->run && strcmp (stage->run_name, name) == 0)
      return sp_run_ref (stage->run);
  }
  g_autofree char *path = sp_key_file_resolve (ports->file, name);
  if (!g_file_test (path, G_FILE_TEST_IS_REGULAR)) {
    sp_fail (error, SP_ERROR_USAGE, _("there is no file “%s”; expected a substitution run"), path);
    return NULL;
  }
  return sp_run_read (path, error);
}

static SpChain *
read_with_run (const SpChain *chain, const char *text, const SpRun *run, const char *run_name, GError **error)
{
  const char *name = chain->file ? chain->file : "";
  GError *cause = NULL;
  g_autoptr (SpKeyFile) file = sp_key_file_parse (text, strlen (text), name, &cause);
  Ports ports = { chain, file, run, run_name };
  SpTwoPorts two_ports = { find_two_port, &ports, find_run, TRUE };
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
  return read_with_run (chain, text, NULL, NULL, error);
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

/* A name for the run's text that no run of the chain has but this stage's own. (transfer full) */
static char *
run_name (const SpChain *chain, guint stage)
{
  for (guint n = 1;; n++) {
    g_autofree char *plain = n == 1 ? g_strdup (chain->stages[stage]->name) : g_strdup_printf ("%s-%u", chain->stages[stage]->name, n);
    g_autofree char *with = g_strconcat (plain, ".run", NULL);
    char *name = sp_escape (with);
    gboolean taken = FALSE;
    for (guint i = 0; i < chain->n; i++)
      taken = taken || (i != stage && g_strcmp0 (chain->stages[i]->run_name, name) == 0);
    if (!taken)
      return name;
    g_free (name);
  }
}

SpChain *
sp_chain_set_run (const SpChain *chain, guint stage, const SpRun *run, GError **error)
{
  g_return_val_if_fail (stage < chain->n, NULL);
  g_autofree char *group = group_of (chain, (int) stage), *name = run_name (chain, stage), *said = sp_run_text (run);
  g_autoptr (SpRun) whole = sp_run_parse_bytes (said, strlen (said), name, FALSE, error);
  static const char *const of_run[] = { "points", "touchstone", "calibrated", "temperature_c", "common_u_db" };
  g_autofree char *text = whole ? sp_key_text_set (chain->text, group, "run", name, error) : NULL;
  for (guint i = 0; text && i < G_N_ELEMENTS (of_run); i++) {
    g_autofree char *old = text;
    text = sp_key_text_set (old, group, of_run[i], NULL, error);
  }
  return text ? read_with_run (chain, text, whole, name, error) : NULL;
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
with_stages (const SpChain *chain, const char *text, GPtrArray *names, GError **error)
{
  g_ptr_array_add (names, NULL);
  g_autofree char *list = g_strjoinv (";", (char **) names->pdata), *changed = sp_key_text_set (text, "chain", "stages", list, error);
  g_ptr_array_unref (names);
  return changed ? read_chain (chain, changed, error) : NULL;
}

SpChain *
sp_chain_move_stage (const SpChain *chain, guint from, guint to, GError **error)
{
  g_return_val_if_fail (from < chain->n && to < chain->n, NULL);
  GPtrArray *names = stage_names (chain);
  g_ptr_array_insert (names, (int) to, g_ptr_array_steal_index (names, from));
  return with_stages (chain, chain->text, names, error);
}

SpChain *
sp_chain_remove_stage (const SpChain *chain, guint stage, GError **error)
{
  g_return_val_if_fail (stage < chain->n, NULL);
  if (chain->n == 1) {
    sp_fail (error, SP_ERROR_USAGE, _("a chain has at least one stage; expected another one before this is removed"));
    return NULL;
  }
  g_autofree char *group = group_of (chain, (int) stage), *text = sp_key_text_remove (chain->text, group);
  GPtrArray *names = stage_names (chain);
  g_ptr_array_remove_index (names, stage);
  return with_stages (chain, text, names, error);
}

/* A group that is appended to the text, and its stage put into the list. */
static SpChain *
insert_stage (const SpChain *chain, guint at, const char *name, const char *group, GError **error)
{
  g_autofree char *text = g_strconcat (chain->text, "\n", group, NULL);
  GPtrArray *names = stage_names (chain);
  g_ptr_array_insert (names, (int) at, sp_escape (name));
  return with_stages (chain, text, names, error);
}

static gboolean
check_stage_name (const SpChain *chain, const char *name, GError **error)
{
  g_autofree char *heading = sp_stage_heading (name), *there = sp_key_text_copy (chain->text, heading, "-");
  if (!*name)
    return sp_fail (error, SP_ERROR_USAGE, _("a stage has a name; nothing stands here"));
  return !there || sp_fail (error, SP_ERROR_USAGE, _("there is a stage “%s” already; expected another name"), name);
}

SpChain *
sp_chain_add_stage (const SpChain *chain, guint before, const char *name, SpStageKind kind, GError **error)
{
  g_return_val_if_fail (before <= chain->n, NULL);
  g_autofree char *clean = g_strstrip (g_strdup (name));
  if (!check_stage_name (chain, clean, error))
    return NULL;
  g_autofree char *heading = sp_stage_heading (clean), *group = g_strdup_printf ("[%s]\nkind=%s\n", heading, sp_stage_kind_name (kind));
  return insert_stage (chain, before, clean, group, error);
}

SpChain *
sp_chain_duplicate_stage (const SpChain *chain, guint stage, const char *name, GError **error)
{
  g_return_val_if_fail (stage < chain->n, NULL);
  g_autofree char *clean = g_strstrip (g_strdup (name));
  if (!check_stage_name (chain, clean, error))
    return NULL;
  g_autofree char *heading = sp_stage_heading (clean), *old = group_of (chain, (int) stage);
  g_autofree char *group = sp_key_text_copy (chain->text, old, heading);
  return insert_stage (chain, stage + 1, clean, group, error);
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
