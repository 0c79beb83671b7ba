/* chain-file.c - reads a .chain file */
#include "core/chain/chain-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/quantity/error.h"
#include "core/quantity/text.h"

#define STAGE_PREFIX "stage "

/* The group of a stage named in `stages`, as written or with its %XX decoded; NULL. */
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
add_stage (SpChain *chain, SpKeyFile *file, SpGroup *header, const SpKey *key, const SpItem *item, GPtrArray *groups,
           const SpTwoPorts *two_ports, GError **error)
{
  g_autofree char *name = g_strstrip (sp_unescape (item->text));
  g_autofree char *excerpt = sp_excerpt (name);
  SpGroup *group = find_stage (file, name);
  if (!group)
    return sp_key_fail (file, header, key, item->offset, error, _ ("there is no group [stage %s] in this file; add it, or take “%s” out"),
                        excerpt, excerpt);
  if (g_ptr_array_find (groups, group, NULL))
    return sp_key_fail (file, header, key, item->offset, error, _ ("“%s” is listed twice; give each stage its own name and group"),
                        excerpt);
  SpStage *stage = chain->stages[chain->n++] = sp_stage_new (name);
  group->used = TRUE;
  g_ptr_array_add (groups, group);
  return sp_stage_parse (stage, file, group, two_ports, error);
}

static gboolean
parse_stages (SpChain *chain, SpKeyFile *file, SpGroup *header, GPtrArray *groups, const SpTwoPorts *two_ports, GError **error)
{
  const SpKey *key = sp_group_find (header, "stages");
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
    if (!add_stage (chain, file, header, key, &g_array_index (items, SpItem, i), groups, two_ports, error))
      return FALSE;
  return TRUE;
}

static gboolean
parse_header (SpChain *chain, SpKeyFile *file, SpGroup *header, GError **error)
{
  guint32 day = 0;
  if (!sp_group_text (file, header, "name", &chain->name, error) || !sp_group_date (file, header, "calibrated", &day, error)
      || !sp_group_number (file, header, "interval_days", 1, 100000, &chain->interval_days, error)
      || !sp_group_number (file, header, "temperature_c", -100, 200, &chain->temperature_c, error))
    return FALSE;
  if (day > 0)
    chain->calibrated_day = day;
  if (!chain->name)
    chain->name = g_path_get_basename (sp_key_file_name (file));
  return TRUE;
}

static SpChain *
chain_new (const SpKeyFile *file)
{
  SpChain *chain = g_atomic_rc_box_new0 (SpChain);
  chain->file = g_strdup (sp_key_file_name (file));
  chain->calibrated_day = chain->interval_days = chain->temperature_c = NAN;
  chain->warnings = sp_reasons_new ();
  return chain;
}

SpChain *
sp_chain_parse_with (SpKeyFile *file, const SpTwoPorts *two_ports, GError **error)
{
  g_autoptr (SpChain) chain = chain_new (file);
  g_autoptr (GPtrArray) groups = g_ptr_array_new ();
  SpGroup *header = sp_key_file_find (file, "chain");
  if (!header) {
    sp_fail_at (error, sp_key_file_name (file), 1, 1, _ ("there is no group [chain] in this file; a chain file begins with it"));
    return NULL;
  }
  if (!parse_header (chain, file, header, error) || !parse_stages (chain, file, header, groups, two_ports, error))
    return NULL;
  for (guint i = 0; i < chain->n; i++)
    sp_stage_warn (chain->stages[i], chain->warnings);
  sp_key_file_unknown (file, chain->warnings);
  sp_chain_write_text (chain, file, header, (SpGroup *const *) groups->pdata);
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
