/* keyspec.c - walks a table of keys: reads, writes and hashes the values of a struct */
#include "core/quantity/keyspec.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/quantity/error.h"
#include "core/quantity/text.h"
#include "core/quantity/writer.h"

const SpKeySpec *
sp_keys_find (const SpKeySpec *keys, const char *key)
{
  for (const SpKeySpec *spec = keys; spec->key; spec++) {
    gsize length = strlen (spec->key);
    if (spec->named ? strncmp (spec->key, key, length) == 0 && key[length] == '.' : strcmp (spec->key, key) == 0)
      return spec;
  }
  return NULL;
}

gpointer
sp_key_member (const SpKeySpec *spec, gconstpointer object)
{
  return (char *) object + spec->offset;
}

SpSpelling
sp_key_spelling (const SpKeySpec *spec)
{
  return spec->kind == SP_KEY_FREQUENCY ? SP_SPELL_FREQUENCY : spec->spelling;
}

static gboolean
is_name (const SpKeySpec *spec)
{
  return spec->kind >= SP_KEY_GROUPS;
}

static gboolean
is_double (const SpKeySpec *spec)
{
  return spec->kind == SP_KEY_DATE || spec->kind == SP_KEY_NUMBER || spec->kind == SP_KEY_POSITIVE || spec->kind == SP_KEY_FREQUENCY;
}

static gboolean
is_whole (const SpKeySpec *spec)
{
  return spec->kind == SP_KEY_COUNT || spec->kind == SP_KEY_WORD || spec->kind == SP_KEY_YES_NO;
}

/* ---- the values of a struct ---- */

void
sp_keys_init (const SpKeySpec *keys, gpointer object)
{
  for (const SpKeySpec *spec = keys; spec->key; spec++)
    if (spec->read && spec->write)
      continue;
    else if (is_double (spec))
      *(double *) sp_key_member (spec, object) = spec->absent;
    else if (is_whole (spec))
      *(int *) sp_key_member (spec, object) = (int) spec->absent;
}

void
sp_keys_copy_texts (const SpKeySpec *keys, gpointer object)
{
  for (const SpKeySpec *spec = keys; spec->key; spec++)
    if (spec->kind == SP_KEY_TEXT) {
      char **text = sp_key_member (spec, object);
      *text = g_strdup (*text);
    }
}

void
sp_keys_free_texts (const SpKeySpec *keys, gpointer object)
{
  for (const SpKeySpec *spec = keys; spec->key; spec++)
    if (spec->kind == SP_KEY_TEXT)
      g_free (*(char **) sp_key_member (spec, object));
}

/* ---- reading ---- */

static gboolean
read_date (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, double *day, GError **error)
{
  guint32 julian_day = 0;
  if (!sp_group_date (file, group, spec->key, &julian_day, error))
    return FALSE;
  if (julian_day)
    *day = julian_day;
  return TRUE;
}

static gboolean
read_number (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, double *number, GError **error)
{
  const SpKey *key = spec->or_infinite ? sp_group_find (group, spec->key) : NULL;
  if (key && g_ascii_strcasecmp (key->value, "inf") == 0) {
    *number = INFINITY;
    return TRUE;
  }
  return sp_group_number (file, group, spec->key, spec->low, spec->high, number, error);
}

static gboolean
read_count (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, guint *count, GError **error)
{
  double number = *count;
  if (!sp_group_number (file, group, spec->key, spec->low, spec->high, &number, error))
    return FALSE;
  char low[32], high[32];
  if (number != floor (number))
    return sp_key_fail (file, group, sp_group_find (group, spec->key), 0, error, _ ("expected a whole number, %s to %s"),
                        sp_format_written (spec->low, low), sp_format_written (spec->high, high));
  *count = (guint) number;
  return TRUE;
}

static gboolean
read_key (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, gpointer context, GError **error)
{
  gpointer member = sp_key_member (spec, object);
  if (spec->read)
    return spec->read (spec, file, group, object, context, error);
  switch (spec->kind) {
  case SP_KEY_TEXT: return sp_group_text (file, group, spec->key, member, error);
  case SP_KEY_DATE: return read_date (spec, file, group, member, error);
  case SP_KEY_NUMBER: return read_number (spec, file, group, member, error);
  case SP_KEY_POSITIVE: return sp_group_positive (file, group, spec->key, spec->high, member, error);
  case SP_KEY_COUNT: return read_count (spec, file, group, member, error);
  case SP_KEY_FREQUENCY: return sp_group_positive_frequency (file, group, spec->key, spec->high, spec->example, member, error);
  case SP_KEY_WORD: return sp_group_choice (file, group, spec->key, spec->words, member, error);
  case SP_KEY_YES_NO: return sp_group_yes_no (file, group, spec->key, member, error);
  default: return TRUE;
  }
}

gboolean
sp_keys_read (const SpKeySpec *keys, SpKeyFile *file, SpGroup *group, gpointer object, gpointer context, GError **error)
{
  for (int names = 0; names <= 1; names++)
    for (const SpKeySpec *spec = keys; spec->key; spec++)
      if (is_name (spec) == names && !read_key (spec, file, group, object, context, error))
        return FALSE;
  return TRUE;
}

/* In a file of that one key; of the message what is about the value is left. */
gboolean
sp_keys_set (const SpKeySpec *keys, const char *group, gpointer object, gpointer context, const char *key, const char *value,
             GError **error)
{
  GError *cause = NULL;
  g_autofree char *empty = g_strdup_printf ("[%s]\n", group), *text = sp_key_text_set (empty, group, key, value, error),
                  *place = g_strdup_printf ("[%s] %s: ", group, key);
  if (!text)
    return FALSE;
  g_autoptr (SpKeyFile) file = sp_key_file_parse (text, strlen (text), "", &cause);
  if (file && sp_keys_read (keys, file, sp_key_file_find (file, group), object, context, &cause))
    return TRUE;
  const char *said = strstr (cause->message, place);
  sp_fail (error, SP_ERROR_USAGE, "%s", said ? said + strlen (place) : cause->message);
  g_error_free (cause);
  return FALSE;
}

/* ---- writing ---- */

static gboolean
is_absent (const SpKeySpec *spec, gconstpointer object)
{
  gconstpointer member = sp_key_member (spec, object);
  return is_double (spec) ? *(const double *) member == spec->absent : is_whole (spec) && *(const int *) member == (int) spec->absent;
}

/* A number that is not known and a text that is not there are left out by their writers. */
static void
write_value (const SpKeySpec *spec, GString *text, gconstpointer member)
{
  switch (spec->kind) {
  case SP_KEY_TEXT: sp_write_text (text, spec->key, *(char *const *) member); return;
  case SP_KEY_DATE: sp_write_day (text, spec->key, *(const double *) member); return;
  case SP_KEY_NUMBER:
  case SP_KEY_POSITIVE:
  case SP_KEY_FREQUENCY: sp_write_number (text, spec->key, *(const double *) member); return;
  case SP_KEY_COUNT: sp_write_number (text, spec->key, *(const guint *) member); return;
  case SP_KEY_WORD: sp_write_text (text, spec->key, spec->words[*(const int *) member]); return;
  case SP_KEY_YES_NO: sp_write_yes_no (text, spec->key, *(const gboolean *) member); return;
  default: return;
  }
}

static void
write_key (const SpKeySpec *spec, GString *text, gconstpointer object, gconstpointer context, gboolean absent_too)
{
  if (spec->write)
    spec->write (spec, text, object, context);
  else if (absent_too || !is_absent (spec, object))
    write_value (spec, text, sp_key_member (spec, object));
}

void
sp_keys_write (const SpKeySpec *keys, GString *text, gconstpointer object, gconstpointer context)
{
  for (const SpKeySpec *spec = keys; spec->key; spec++)
    write_key (spec, text, object, context, spec->written_absent);
}

void
sp_keys_hash (const SpKeySpec *keys, GString *text, gconstpointer object, gconstpointer context)
{
  for (int names = 0; names <= 1; names++)
    for (const SpKeySpec *spec = keys; spec->key; spec++)
      if (is_name (spec) == names && !spec->not_hashed)
        write_key (spec, text, object, context, spec->hashed_absent);
}
