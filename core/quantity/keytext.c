/* keytext.c - one key, or one group, changed in a text of our syntax: line by line, so that all else stays as it stands */
#include "core/quantity/keyfile.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "core/quantity/error.h"
#include "core/quantity/writer.h"

static SpKeyFile *
parse (const char *text, GError **error)
{
  return sp_key_file_parse (text, strlen (text), "", error);
}

static const SpKey *
find_key (SpGroup *group, const char *key)
{
  return group ? sp_group_find (group, key) : NULL;
}

/* The line that the next group begins with; G_MAXUINT for the last. */
static guint
line_behind (SpKeyFile *file, const SpGroup *group)
{
  guint line = G_MAXUINT;
  for (guint i = 0; i < sp_key_file_n_groups (file); i++) {
    const SpGroup *other = sp_key_file_group (file, i);
    if (other->line > group->line)
      line = MIN (line, other->line);
  }
  return line;
}

/* Lines [from, to) left out, `instead` put in their place. */
static char *
replace_lines (const char *text, guint from, guint to, const char *instead)
{
  GString *out = g_string_new (NULL);
  guint line = 0;
  for (const char *p = text, *end; *p; p = end) {
    end = strchr (p, '\n');
    end = end ? end + 1 : p + strlen (p);
    if (++line == from)
      g_string_append (out, instead);
    if (line >= from && line < to)
      continue;
    g_string_append_len (out, p, end - p);
    if (end[-1] != '\n')
      g_string_append_c (out, '\n');
  }
  if (line < from)
    g_string_append (out, instead);
  return g_string_free (out, FALSE);
}

static gboolean
check_value (const char *key, const char *value, GError **error)
{
  const char *name = strchr (key, '.'); /* what stands behind it is somebody's own word */
  for (const char *p = key; *p && p != name; p++)
    if (!g_ascii_islower (*p) && !g_ascii_isdigit (*p) && *p != '_')
      return sp_fail (error, SP_ERROR_USAGE, _ ("found the key “%s”; expected small letters, digits and _"), key);
  for (const char *p = name; p && *p; p++)
    if ((guchar) *p < ' ' || strchr ("=#\"[]", *p))
      return sp_fail (error, SP_ERROR_USAGE, _ ("found the key “%s”; expected a name without = # [ ] and quotes behind the dot"), key);
  if (!*key)
    return sp_fail (error, SP_ERROR_USAGE, _ ("a key without a name"));
  if (!g_utf8_validate (value, -1, NULL))
    return sp_fail (error, SP_ERROR_USAGE, _ ("%s: this text is not UTF-8"), key);
  for (const char *p = value; *p; p++)
    if ((guchar) *p < ' ' && *p != '\t')
      return sp_fail (error, SP_ERROR_USAGE, _ ("%s: found a line's end or a control character; expected text on one line"), key);
  return TRUE;
}

char *
sp_key_text_get (const char *text, const char *group, const char *key)
{
  g_autoptr (SpKeyFile) file = parse (text, NULL);
  const SpKey *found = file ? find_key (sp_key_file_find (file, group), key) : NULL;
  return found ? g_strdup (found->value) : NULL;
}

char *
sp_key_text_set (const char *text, const char *group, const char *key, const char *value, GError **error)
{
  g_autoptr (SpKeyFile) file = parse (text, error);
  if (!file || !check_value (key, value ? value : "", error))
    return NULL;
  SpGroup *found = sp_key_file_find (file, group);
  if (!found) {
    sp_fail (error, SP_ERROR_USAGE, _ ("there is no group [%s] here"), group);
    return NULL;
  }
  const SpKey *old = find_key (found, key), *last = found->keys->len ? found->keys->pdata[found->keys->len - 1] : NULL;
  g_autoptr (GString) line = g_string_new (NULL);
  if (value && *value)
    sp_write_text (line, key, value);
  guint from = old ? old->line : (last ? last->line : found->line) + 1;
  g_autofree char *out = replace_lines (text, from, old ? from + 1 : from, line->str);
  g_autofree char *again = sp_key_text_get (out, group, key);
  if (value && *value && g_strcmp0 (again, value) != 0) {
    sp_fail (error, SP_ERROR_USAGE,
             _ ("%s: a # behind a blank begins a comment and blanks at the ends are dropped; with double quotes in the same text "
                "that cannot be helped. Leave the quotes out"),
             key);
    return NULL;
  }
  return g_steal_pointer (&out);
}

char *
sp_key_text_remove (const char *text, const char *group)
{
  g_autoptr (SpKeyFile) file = parse (text, NULL);
  const SpGroup *found = file ? sp_key_file_find (file, group) : NULL;
  return found ? replace_lines (text, found->line, line_behind (file, found), "") : g_strdup (text);
}

char *
sp_key_text_copy (const char *text, const char *group, const char *heading)
{
  g_autoptr (SpKeyFile) file = parse (text, NULL);
  const SpGroup *found = file ? sp_key_file_find (file, group) : NULL;
  if (!found)
    return NULL;
  GString *out = g_string_new (NULL);
  g_string_append_printf (out, "[%s]\n", heading);
  for (guint i = 0; i < found->keys->len; i++) {
    const SpKey *key = found->keys->pdata[i];
    g_string_append_printf (out, "%s=%s\n", key->key, key->raw);
  }
  return g_string_free (out, FALSE);
}
