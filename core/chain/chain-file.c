/* chain-file.c - reads and writes a .chain file */
#include "core/chain/chain-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "core/quantity/error.h"
#include "core/quantity/text.h"
#include "core/quantity/writer.h"

#define STAGE_PREFIX "stage "

/* Context for reading the stages. */
typedef struct {
  GPtrArray *groups; /* SpGroup* of each stage, in the stages' order */
  const SpTwoPorts *two_ports;
} Stages;

/* The group of a stage in `stages`, by its name as written or with %XX decoded; NULL. */
static SpGroup *
find_stage (SpKeyFile *file, const char *name)
{
  for (guint i = 0; i < sp_key_file_n_groups (file); i++) {
    SpGroup *group = sp_key_file_group (file, i);
    if (!g_str_has_prefix (group->name, STAGE_PREFIX))
      continue;
    g_autofree char *decoded = sp_unescape (group->name + strlen (STAGE_PREFIX));
    if (strcmp (g_strstrip (decoded), name) == 0)
      return group;
  }
  return NULL;
}

static gboolean
add_stage (SpChain *chain, SpKeyFile *file, SpGroup *header, const SpKey *key, const SpItem *item, Stages *stages, GError **error)
{
  g_autofree char *name = g_strstrip (sp_unescape (item->text));
  g_autofree char *excerpt = sp_excerpt (name);
  SpGroup *group = find_stage (file, name);
  if (!group)
    return sp_key_fail (file, header, key, item->offset, error, _ ("there is no group [stage %s] in this file; add it, or take “%s” out"),
                        excerpt, excerpt);
  if (g_ptr_array_find (stages->groups, group, NULL))
    return sp_key_fail (file, header, key, item->offset, error, _ ("“%s” is listed twice; give each stage its own name and group"),
                        excerpt);
  SpStage *stage = chain->stages[chain->n++] = sp_stage_new (name);
  group->used = TRUE;
  g_ptr_array_add (stages->groups, group);
  return sp_keys_read (sp_stage_keys, file, group, stage, (gpointer) stages->two_ports, error);
}

gboolean
sp_chain_read_stages (const SpKeySpec *spec, SpKeyFile *file, SpGroup *header, gpointer object, gpointer context, GError **error)
{
  SpChain *chain = object;
  const SpKey *key = sp_group_find (header, spec->key);
  if (!key)
    return sp_fail_at (error, sp_key_file_name (file), header->line, 1,
                       _ ("[chain] has no stages; add stages=NAME;NAME in order from the radio"));
  g_autoptr (GArray) items = sp_key_items (key);
  if (items->len == 0)
    return sp_key_fail (file, header, key, 0, error,
                        _ ("nothing stands here; expected the stages' names, separated by ;, from the radio on"));
  if (items->len > SP_CHAIN_MAX_STAGES)
    return sp_key_fail (file, header, key, 0, error, _ ("found %u stages; expected %d at most"), items->len, SP_CHAIN_MAX_STAGES);
  chain->stages = g_new0 (SpStage *, items->len);
  for (guint i = 0; i < items->len; i++)
    if (!add_stage (chain, file, header, key, &g_array_index (items, SpItem, i), context, error))
      return FALSE;
  return TRUE;
}

static SpChain *
chain_new (const SpKeyFile *file)
{
  SpChain *chain = g_atomic_rc_box_new0 (SpChain);
  chain->file = g_strdup (sp_key_file_name (file));
  sp_keys_init (sp_chain_keys, chain);
  chain->warnings = sp_reasons_new ();
  return chain;
}

char *
sp_stage_heading (const char *name)
{
  g_autofree char *escaped = sp_escape (name);
  return g_strconcat ("stage ", escaped, NULL);
}

/* The chain's file text; `hashed`: the text that its hash is made of. */
static char *
chain_text (const SpChain *chain, SpKeyFile *file, const SpGroup *header, const GPtrArray *groups, gboolean hashed)
{
  GString *text = g_string_new (NULL);
  sp_write_group (text, "chain");
  sp_keys_write (sp_chain_keys, text, chain, GINT_TO_POINTER (hashed));
  sp_write_unused_keys (text, header);
  for (guint i = 0; i < chain->n; i++) {
    g_autofree char *heading = sp_stage_heading (chain->stages[i]->name);
    sp_write_group (text, heading);
    sp_keys_write (sp_stage_keys, text, chain->stages[i], GINT_TO_POINTER (hashed));
    sp_write_unused_keys (text, groups->pdata[i]);
  }
  sp_write_unused_groups (text, file);
  return g_string_free (text, FALSE);
}

static void
write_text (SpChain *chain, SpKeyFile *file, const SpGroup *header, const GPtrArray *groups)
{
  g_autofree char *hashed = chain_text (chain, file, header, groups, TRUE);
  chain->text = chain_text (chain, file, header, groups, FALSE);
  chain->sha256 = g_compute_checksum_for_string (G_CHECKSUM_SHA256, hashed, -1);
}

SpChain *
sp_chain_parse_with (SpKeyFile *file, const SpTwoPorts *two_ports, GError **error)
{
  g_autoptr (SpChain) chain = chain_new (file);
  g_autoptr (GPtrArray) groups = g_ptr_array_new ();
  Stages stages = { groups, two_ports };
  SpGroup *header = sp_key_file_find (file, "chain");
  if (!header) {
    sp_fail_at (error, sp_key_file_name (file), 1, 1, _ ("there is no group [chain] in this file; a chain file begins with it"));
    return NULL;
  }
  if (!sp_keys_read (sp_chain_keys, file, header, chain, &stages, error))
    return NULL;
  if (!chain->name)
    chain->name = g_path_get_basename (sp_key_file_name (file));
  for (guint i = 0; i < chain->n; i++)
    sp_stage_warn (chain->stages[i], chain->warnings);
  sp_key_file_unknown (file, chain->warnings);
  write_text (chain, file, header, groups);
  return g_steal_pointer (&chain);
}

SpChain *
sp_chain_parse (SpKeyFile *file, GError **error)
{
  return sp_chain_parse_with (file, NULL, error);
}

SpChain *
sp_chain_read (const char *path, GError **error)
{
  g_autoptr (SpKeyFile) file = sp_key_file_read (path, error);
  return file ? sp_chain_parse (file, error) : NULL;
}
