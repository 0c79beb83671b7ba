/* mask-file.c - the reader of .mask files */
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/mask/mask-private.h"
#include "core/quantity/error.h"
#include "core/quantity/text.h"

#define RULES_MAX 100 /* a person writes these; segments grow with the square of it; bounds time */

/* A rule without a number: what it has in its place may be a key that was taken for ours. Always FALSE. */
static gboolean
fail_no_number (SpKeyFile *file, SpGroup *group, GError **error)
{
  g_autoptr (GString) unknown = g_string_new (NULL);
  guint line = group->line;
  for (guint i = 0; i < group->keys->len; i++) {
    const SpKey *key = group->keys->pdata[i];
    if (key->used)
      continue;
    line = unknown->len ? line : key->line;
    g_string_append_printf (unknown, "%s%s=", unknown->len ? ", " : "", key->key);
  }
  if (unknown->len)
    return sp_fail_at (
        error, sp_key_file_name (file), line, 1,
        _ ("[%s] sets no number, and a rule has no key %s; expected attenuation_db= or ceiling_dbm= (relief_dbm alone asks nothing)"),
        group->name, unknown->str);
  return sp_fail_at (error, sp_key_file_name (file), group->line, 1,
                     _ ("[%s] sets no number; expected attenuation_db= or ceiling_dbm= (relief_dbm alone asks nothing)"), group->name);
}

static gboolean
read_rule (SpKeyFile *file, SpGroup *group, SpMaskRule *rule, GPtrArray *warnings, GError **error)
{
  group->used = TRUE;
  rule->name = g_strdup (group->name);
  sp_keys_init (sp_mask_rule_keys, rule);
  rule->f0.low = rule->low = (SpEdge){ 0, TRUE };
  rule->f0.high = rule->p.high = rule->high = (SpEdge){ INFINITY, TRUE };
  rule->p.low = (SpEdge){ 0, FALSE };
  rule->a_end_db = NAN;
  if (!sp_keys_read (sp_mask_rule_keys, file, group, rule, NULL, error)
      || !sp_keys_read (sp_mask_shared_keys, file, group, rule, warnings, error))
    return FALSE;
  if (!rule->has_attenuation && isnan (rule->ceiling_dbm))
    return fail_no_number (file, group, error);
  return TRUE;
}

static gboolean
read_rules (SpKeyFile *file, SpMask *mask, const SpMaskRule *defaults, GError **error)
{
  guint n = sp_key_file_n_groups (file);
  mask->rules = g_new0 (SpMaskRule, MIN (n, RULES_MAX));
  for (guint i = 0; i < n; i++) {
    SpGroup *group = sp_key_file_group (file, i);
    if (!g_str_has_prefix (group->name, "rule ") && strcmp (group->name, "rule") != 0)
      continue;
    if (mask->n == RULES_MAX)
      return sp_fail_at (error, sp_key_file_name (file), group->line, 1, _ ("more than %d rules; split the mask in two"), RULES_MAX);
    SpMaskRule *rule = &mask->rules[mask->n++];
    *rule = *defaults;
    rule->detector = g_strdup (defaults->detector);
    if (!read_rule (file, group, rule, mask->warnings, error))
      return FALSE;
  }
  return mask->n > 0
         || sp_fail_at (error, sp_key_file_name (file), 0, 0, _ ("the mask has no rule; expected at least one group [rule NAME]"));
}

static gboolean
read_mask (SpKeyFile *file, SpMask *mask, GError **error)
{
  SpMaskRule defaults = { NULL };
  sp_keys_init (sp_mask_keys, mask);
  sp_keys_init (sp_mask_shared_keys, &defaults);
  mask->search_low_hz = mask->search_high_hz = NAN;
  SpGroup *head = sp_key_file_find (file, "mask");
  if (!head)
    return sp_fail_at (error, sp_key_file_name (file), 1, 1, _ ("there is no group [mask]; expected a mask file, which begins with it"));
  gboolean good = sp_keys_read (sp_mask_keys, file, head, mask, NULL, error)
                  && sp_keys_read (sp_mask_shared_keys, file, head, &defaults, mask->warnings, error)
                  && read_rules (file, mask, &defaults, error);
  g_free (defaults.detector);
  return good;
}

SpMask *
sp_mask_parse (SpKeyFile *file, GError **error)
{
  g_autoptr (SpMask) mask = g_atomic_rc_box_new0 (SpMask);
  mask->warnings = sp_reasons_new ();
  mask->file = g_strdup (sp_key_file_name (file));
  if (!read_mask (file, mask, error))
    return NULL;
  if (mask->title && *mask->title)
    mask->name = g_strdup (mask->title);
  else {
    mask->name = g_path_get_basename (mask->file);
    char *dot = strrchr (mask->name, '.');
    if (dot && dot > mask->name)
      *dot = '\0';
  }
  sp_key_file_unknown (file, mask->warnings);
  mask->text = sp_mask_text (mask, file);
  mask->sha256 = g_compute_checksum_for_string (G_CHECKSUM_SHA256, mask->text, -1);
  return g_steal_pointer (&mask);
}
