/* leftover.c - keys that nobody asked for: warned about, and kept */
#include "core/quantity/keyfile.h"

#include <string.h>

static void
warn (const SpKeyFile *file, const SpGroup *group, const char *key, guint line, GPtrArray *warnings)
{
  /* Straight in: line and name make each of them unlike all others, and there may be a hundred thousand. */
  g_ptr_array_add (warnings, sp_reason (UNKNOWN_KEY, .file = sp_key_file_name (file), .group = group->name, .key = key, .line = line,
                                        .home = SP_KEY_OF_NOBODY));
}

void
sp_key_file_unknown (const SpKeyFile *file, GPtrArray *warnings)
{
  for (guint i = 0; i < sp_key_file_n_groups (file); i++) {
    const SpGroup *group = sp_key_file_group ((SpKeyFile *) file, i);
    if (!group->used)
      warn (file, group, "", group->line, warnings);
    for (guint k = 0; group->used && k < group->keys->len; k++) {
      const SpKey *key = group->keys->pdata[k];
      if (!key->used)
        warn (file, group, key->key, key->line, warnings);
    }
  }
}

char *
sp_group_leftover (const SpGroup *group)
{
  GString *out = g_string_new (NULL);

  for (guint i = 0; i < group->keys->len; i++) {
    const SpKey *key = group->keys->pdata[i];
    if (!key->used || !group->used)
      g_string_append_printf (out, "%s=%s\n", key->key, key->raw);
  }
  return g_string_free (out, FALSE);
}

char *
sp_key_file_leftover (const SpKeyFile *file)
{
  GString *out = g_string_new (NULL);

  for (guint i = 0; i < sp_key_file_n_groups (file); i++) {
    const SpGroup *group = sp_key_file_group ((SpKeyFile *) file, i);
    g_autofree char *keys = sp_group_leftover (group);
    if (*keys || !group->used)
      g_string_append_printf (out, "[%s]\n%s", group->name, keys);
  }
  return g_string_free (out, FALSE);
}

char *
sp_key_file_join (const char *written, const char *leftover)
{
  g_autoptr (SpKeyFile) there = sp_key_file_parse (written, strlen (written), "", NULL);
  g_autoptr (SpKeyFile) more = sp_key_file_parse (leftover, strlen (leftover), "", NULL);
  GString *out = g_string_new (NULL);
  guint line = 0;

  g_return_val_if_fail (there && more, g_string_free (out, FALSE));
  for (const char *p = written, *end; *p; p = end) {
    end = strchr (p, '\n');
    end = end ? end + 1 : p + strlen (p);
    g_string_append_len (out, p, end - p);
    if (end[-1] != '\n')
      g_string_append_c (out, '\n');
    line++;
    for (guint i = 0; i < sp_key_file_n_groups (there); i++) {
      const SpGroup *group = sp_key_file_group (there, i);
      SpGroup *mine = group->line == line ? sp_key_file_find (more, group->name) : NULL;
      if (mine) {
        mine->used = FALSE; /* so that its keys are all written; emptied below */
        g_autofree char *keys = sp_group_leftover (mine);
        g_string_append (out, keys);
        g_ptr_array_set_size (mine->keys, 0);
        mine->used = TRUE;
      }
    }
  }
  g_autofree char *rest = sp_key_file_leftover (more);
  if (*rest)
    g_string_append_printf (out, "%s%s", out->len ? "\n" : "", rest);
  return g_string_free (out, FALSE);
}
