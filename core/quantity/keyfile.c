/* keyfile.c - reads a key file into groups and keys, each with its place */
#include "core/quantity/keyfile.h"

#include "core/quantity/error.h"
#include "core/quantity/file.h"
#include "core/quantity/text.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* All bound memory and time. */
#define FILE_BYTES (16 * 1024 * 1024)
#define FILE_LINES 100000
#define LINE_CHARACTERS 65536

struct SpKeyFile {
  char *name;
  GPtrArray *groups; /* SpGroup* */
};

/* One reading: where it stands, and what was there before. */
typedef struct {
  SpKeyFile *file;
  SpGroup *group;    /* the one being filled */
  GHashTable *seen;  /* "group" and "group\nkey" -> line */
  const char *start; /* of the line, for columns */
  guint line;
} Reader;

static void
key_free (gpointer data)
{
  SpKey *key = data;
  g_free (key->key);
  g_free (key->value);
  g_free (key->raw);
  g_free (key);
}

static void
group_free (gpointer data)
{
  SpGroup *group = data;
  g_free (group->name);
  g_ptr_array_unref (group->keys);
  g_free (group);
}

void
sp_key_file_free (SpKeyFile *file)
{
  g_free (file->name);
  g_ptr_array_unref (file->groups);
  g_free (file);
}

static gboolean
is_blank (char c)
{
  return c == ' ' || c == '\t';
}

/* Column, from 1, of a byte of the reader's line. */
static guint
column_of (const Reader *reader, const char *at)
{
  return (guint) g_utf8_strlen (reader->start, at - reader->start) + 1;
}

static void
trim (const char **from, const char **to)
{
  while (*from < *to && is_blank (**from))
    (*from)++;
  while (*to > *from && is_blank ((*to)[-1]))
    (*to)--;
}

static char *
fold_blanks (const char *from, const char *to)
{
  GString *out = g_string_new (NULL);

  for (const char *p = from; p < to; p++)
    if (!is_blank (*p))
      g_string_append_c (out, *p);
    else if (!is_blank (p[-1]))
      g_string_append_c (out, ' ');
  return g_string_free (out, FALSE);
}

/* Where the comment of a line begins, else its end. A double quote shields up to the next one; one that has none shields nothing. */
static const char *
find_comment (const char *from, const char *to)
{
  for (const char *p = from; p < to; p++) {
    if (*p == '#' && (p == from || is_blank (p[-1])))
      return p;
    if (*p == '"') {
      const char *close = memchr (p + 1, '"', to - p - 1);
      p = close ? close : p;
    }
  }
  return to;
}

/* FALSE and the error where `name` was there before; `what` as it is to be shown. */
static gboolean
note_first (Reader *reader, char *name, const char *what, const char *at, GError **error)
{
  guint before = GPOINTER_TO_UINT (g_hash_table_lookup (reader->seen, name));

  if (before) {
    g_autofree char *excerpt = sp_excerpt (what);
    g_free (name);
    return sp_fail_at (error, reader->file->name, reader->line, column_of (reader, at),
                       _ ("%s stands here a second time, the first is in line %u; keep one of them"), excerpt, before);
  }
  g_hash_table_insert (reader->seen, name, GUINT_TO_POINTER (reader->line));
  return TRUE;
}

static gboolean
read_heading (Reader *reader, const char *from, const char *to, GError **error)
{
  const char *name = reader->file->name, *close = from + 1;

  while (close < to && *close != ']' && *close != '[')
    close++;
  if (close == to || *close != ']')
    return sp_fail_at (error, name, reader->line, column_of (reader, close), _ ("expected ] to end the group's name"));
  if (close + 1 < to) {
    const char *rest = close + 1;
    trim (&rest, &to);
    g_autofree char *found = g_strndup (rest, to - rest);
    g_autofree char *excerpt = sp_excerpt (found);
    return sp_fail_at (error, name, reader->line, column_of (reader, rest),
                       _ ("found “%s” behind a group's name; expected the end of the line, or # and a comment after a blank"), excerpt);
  }
  const char *first = from + 1, *last = close;
  trim (&first, &last);
  if (first == last)
    return sp_fail_at (error, name, reader->line, column_of (reader, first), _ ("a group without a name; expected one, such as [chain]"));

  SpGroup *group = g_new0 (SpGroup, 1);
  group->name = fold_blanks (first, last);
  group->line = reader->line;
  group->keys = g_ptr_array_new_with_free_func (key_free);
  g_ptr_array_add (reader->file->groups, group);
  reader->group = group;
  g_autofree char *shown = g_strdup_printf ("[%s]", group->name);
  return note_first (reader, g_strdup (group->name), shown, from, error);
}

/* Takes the quotes off where one pair encloses the whole value. */
static gboolean
unquote (Reader *reader, const char **from, const char **to, GError **error)
{
  if (*from == *to || **from != '"')
    return TRUE;
  const char *close = memchr (*from + 1, '"', *to - *from - 1);
  if (!close)
    return sp_fail_at (error, reader->file->name, reader->line, column_of (reader, *from), _ ("a double quote without its second"));
  if (close + 1 == *to) {
    (*from)++;
    (*to)--;
  }
  return TRUE;
}

static gboolean
read_key (Reader *reader, const char *from, const char *to, GError **error)
{
  const char *file = reader->file->name, *equals = memchr (from, '=', to - from);

  if (!equals) {
    g_autofree char *found = g_strndup (from, to - from);
    g_autofree char *excerpt = reader->group ? sp_excerpt (found) : sp_excerpt_foreign (found);
    return sp_fail_at (error, file, reader->line, column_of (reader, from),
                       _ ("found “%s”; expected [group], key=value or # and a comment"), excerpt);
  }
  const char *name = from, *name_end = equals, *value = equals + 1, *value_end = to;
  trim (&name, &name_end);
  trim (&value, &value_end);
  if (name == name_end)
    return sp_fail_at (error, file, reader->line, column_of (reader, equals), _ ("expected a key's name before ="));
  if (!reader->group)
    return sp_fail_at (error, file, reader->line, column_of (reader, from), _ ("a key before the first group; expected [group]"));

  SpKey *key = g_new0 (SpKey, 1);
  g_ptr_array_add (reader->group->keys, key);
  key->key = g_strndup (name, name_end - name);
  key->raw = g_strndup (value, value_end - value);
  key->line = reader->line;
  gboolean good = unquote (reader, &value, &value_end, error);
  key->value = g_strndup (value, value_end - value);
  key->column = column_of (reader, value);
  return good && note_first (reader, g_strdup_printf ("%s\n%s", reader->group->name, key->key), key->key, from, error);
}

static gboolean
check_characters (const Reader *reader, const char *to, GError **error)
{
  const char *bad;

  if (!g_utf8_validate (reader->start, to - reader->start, &bad))
    return sp_fail_at (error, reader->file->name, reader->line, column_of (reader, bad),
                       _ ("the byte 0x%02X is not UTF-8; save the file as UTF-8 text"), (guint) (guchar) *bad);
  for (const char *p = reader->start; p < to; p++)
    if ((guchar) *p < ' ' && *p != '\t')
      return sp_fail_at (error, reader->file->name, reader->line, column_of (reader, p),
                         _ ("the control character 0x%02X; expected text whose lines end with LF or CRLF"), (guint) (guchar) *p);
  if (to - reader->start > LINE_CHARACTERS && g_utf8_strlen (reader->start, to - reader->start) > LINE_CHARACTERS)
    return sp_fail (error, SP_ERROR_LIMIT, _ ("%s:%u: longer than the %d characters that a line may have"), reader->file->name,
                    reader->line, LINE_CHARACTERS);
  return TRUE;
}

static gboolean
read_line (Reader *reader, const char *to, GError **error)
{
  const char *from = reader->start;

  if (to > from && to[-1] == '\r')
    to--;
  if (!check_characters (reader, to, error))
    return FALSE;
  to = find_comment (from, to);
  trim (&from, &to);
  if (from == to)
    return TRUE;
  return *from == '[' ? read_heading (reader, from, to, error) : read_key (reader, from, to, error);
}

SpKeyFile *
sp_key_file_parse (const char *bytes, gsize length, const char *name, GError **error)
{
  g_autoptr (SpKeyFile) file = g_new0 (SpKeyFile, 1);
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  Reader reader = { .file = file, .seen = seen };
  const char *end = bytes + length, *next;

  file->name = g_strdup (name);
  file->groups = g_ptr_array_new_with_free_func (group_free);
  if (length > FILE_BYTES) {
    sp_fail (error, SP_ERROR_LIMIT, _ ("%s: is larger than the %d bytes that are read of such a file"), name, FILE_BYTES);
    return NULL;
  }
  if (length >= 3 && memcmp (bytes, "\xEF\xBB\xBF", 3) == 0)
    bytes += 3;
  for (const char *line = bytes; line < end; line = next) {
    const char *to = memchr (line, '\n', end - line);
    to = to ? to : end;
    next = to + 1;
    reader.start = line;
    if (++reader.line > FILE_LINES) {
      sp_fail (error, SP_ERROR_LIMIT, _ ("%s: has more than the %d lines that are read of such a file"), name, FILE_LINES);
      return NULL;
    }
    if (!read_line (&reader, to, error))
      return NULL;
  }
  return g_steal_pointer (&file);
}

SpKeyFile *
sp_key_file_read (const char *path, GError **error)
{
  gsize length;
  g_autofree char *bytes = sp_file_read (path, FILE_BYTES, &length, error);

  return bytes ? sp_key_file_parse (bytes, length, path, error) : NULL;
}

const char *
sp_key_file_name (const SpKeyFile *file)
{
  return file->name;
}

char *
sp_key_file_resolve (const SpKeyFile *file, const char *path)
{
  if (g_path_is_absolute (path) || !strchr (file->name, G_DIR_SEPARATOR))
    return g_strdup (path);
  g_autofree char *folder = g_path_get_dirname (file->name);
  return g_build_filename (folder, path, NULL);
}

guint
sp_key_file_n_groups (const SpKeyFile *file)
{
  return file->groups->len;
}

SpGroup *
sp_key_file_group (SpKeyFile *file, guint index)
{
  g_assert (index < file->groups->len);
  return file->groups->pdata[index];
}

SpGroup *
sp_key_file_find (SpKeyFile *file, const char *name)
{
  for (guint i = 0; i < file->groups->len; i++) {
    SpGroup *group = file->groups->pdata[i];
    if (strcmp (group->name, name) == 0) {
      group->used = TRUE;
      return group;
    }
  }
  return NULL;
}

const SpKey *
sp_group_find (SpGroup *group, const char *name)
{
  if (!group)
    return NULL;
  group->used = TRUE;
  for (guint i = 0; i < group->keys->len; i++) {
    SpKey *key = group->keys->pdata[i];
    if (strcmp (key->key, name) == 0) {
      key->used = TRUE;
      return key;
    }
  }
  return NULL;
}
