/* mask.c - where masks come from (built in, or a file), their life, and their canonical text */
#include "core/mask/mask-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "core/quantity/error.h"
#include "core/quantity/file.h"
#include "core/quantity/text.h"
#include "core/quantity/writer.h"
#include "mask-resources.h"

#define FOLDER "/spurproof/masks/"
#define SUFFIX ".mask"

/* The resource is asked for by its own function: a constructor alone would be left out of a static library by the linker. */
static int
by_name (const void *a, const void *b)
{
  return strcmp (*(char *const *) a, *(char *const *) b);
}

static char **
list_names (void)
{
  char **names = g_resource_enumerate_children (sp_mask_get_resource (), FOLDER, G_RESOURCE_LOOKUP_FLAGS_NONE, NULL);
  for (guint i = 0; names && names[i]; i++)
    names[i][strlen (names[i]) - strlen (SUFFIX)] = '\0';
  if (names)
    qsort (names, g_strv_length (names), sizeof *names, by_name);
  return names;
}

const char *const *
sp_mask_names (void)
{
  static gsize names; /* made once, kept for the life of the process */
  if (g_once_init_enter (&names))
    g_once_init_leave (&names, (gsize) list_names ());
  return (const char *const *) names;
}

static SpMask *
parse_built_in (const char *text, gsize length, const char *name, GError **error)
{
  g_autoptr (SpKeyFile) file = sp_key_file_parse (text, length, name, error);
  SpMask *mask = file ? sp_mask_parse (file, error) : NULL;
  if (mask) {
    g_free (mask->name);
    mask->name = g_strdup (name);
    g_clear_pointer (&mask->file, g_free);
  }
  return mask;
}

static SpMask *
load_built_in (const char *name, GError **error)
{
  g_autofree char *path = g_strconcat (FOLDER, name, SUFFIX, NULL);
  g_autoptr (GBytes) bytes = g_resource_lookup_data (sp_mask_get_resource (), path, G_RESOURCE_LOOKUP_FLAGS_NONE, error);
  if (!bytes)
    return NULL;
  return parse_built_in (g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes), name, error);
}

SpMask *
sp_mask_restore (const char *text, const char *name, gboolean built_in, GError **error)
{
  if (built_in)
    return parse_built_in (text, strlen (text), name, error);
  g_autoptr (SpKeyFile) file = sp_key_file_parse (text, strlen (text), name, error);
  return file ? sp_mask_parse (file, error) : NULL;
}

SpMask *
sp_mask_load (const char *name_or_path, GError **error)
{
  if (g_strv_contains (sp_mask_names (), name_or_path))
    return load_built_in (name_or_path, error);
  if (sp_file_is_missing (name_or_path)) {
    g_autofree char *names = g_strjoinv (", ", (char **) sp_mask_names ());
    sp_fail (error, SP_ERROR_USAGE, _ ("there is no mask or file named “%s”; built-in masks: %s"), name_or_path, names);
    return NULL;
  }
  g_autoptr (SpKeyFile) file = sp_key_file_read (name_or_path, error);
  return file ? sp_mask_parse (file, error) : NULL;
}

SpMask *
sp_mask_ref (const SpMask *mask)
{
  return g_atomic_rc_box_acquire ((SpMask *) mask);
}

static void
clear (gpointer data)
{
  SpMask *mask = data;
  for (guint i = 0; i < mask->n; i++) {
    g_free (mask->rules[i].name);
    g_free (mask->rules[i].detector);
  }
  char *texts[] = { mask->name, mask->file, mask->text, mask->sha256 };
  sp_keys_free_texts (sp_mask_keys, mask);
  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    g_free (texts[i]);
  g_free (mask->rules);
  g_clear_pointer (&mask->warnings, g_ptr_array_unref);
}

void
sp_mask_unref (SpMask *mask)
{
  g_atomic_rc_box_release_full (mask, clear);
}

/* ---- the canonical text ---- */

static void
put_rule (GString *out, const SpMaskRule *rule)
{
  sp_write_group (out, rule->name);
  sp_keys_write (sp_mask_rule_keys, out, rule, NULL);
  sp_keys_write (sp_mask_shared_keys, out, rule, NULL);
}

char *
sp_mask_text (const SpMask *mask, SpKeyFile *file)
{
  GString *out = g_string_new (NULL);
  sp_write_group (out, "mask");
  sp_keys_write (sp_mask_keys, out, mask, NULL);
  sp_write_unused_keys (out, sp_key_file_find (file, "mask"));
  for (guint i = 0; i < mask->n; i++) {
    put_rule (out, &mask->rules[i]);
    sp_write_unused_keys (out, sp_key_file_find (file, mask->rules[i].name));
  }
  sp_write_unused_groups (out, file);
  return g_string_free (out, FALSE);
}
