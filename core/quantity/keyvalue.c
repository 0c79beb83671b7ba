/* keyvalue.c - typed values of a key file */
#include "core/quantity/error.h"
#include "core/quantity/keyfile.h"
#include "core/quantity/text.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#define POSITIVE_LEAST 1e-12 /* bounds what can be meant: below it a number counts as 0 */

static gboolean
fail_with (SpKeyFile *file, const SpGroup *group, const SpKey *key, guint offset, GError **error, const char *text)
{
  return sp_fail_at (error, sp_key_file_name (file), key->line, key->column + offset, "[%s] %s: %s", group->name, key->key, text);
}

gboolean
sp_key_fail (SpKeyFile *file, const SpGroup *group, const SpKey *key, guint offset, GError **error, const char *format, ...)
{
  va_list arguments;

  va_start (arguments, format);
  g_autofree char *text = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  return fail_with (file, group, key, offset, error, text);
}

/* Where the value's own parser failed: its sentence with the place before it. */
static gboolean
fail_because (SpKeyFile *file, const SpGroup *group, const SpKey *key, GError *cause, GError **error)
{
  fail_with (file, group, key, 0, error, cause->message);
  g_error_free (cause);
  return FALSE;
}

static char *
describe_range (double low, double high)
{
  char from[32], to[32];

  sp_format_written (low, from);
  sp_format_written (high, to);
  if (isfinite (low) && isfinite (high))
    return g_strdup_printf (_ ("a number from %s to %s"), from, to);
  if (isfinite (low))
    return g_strdup_printf (_ ("a number of at least %s"), from);
  if (isfinite (high))
    return g_strdup_printf (_ ("a number of at most %s"), to);
  return g_strdup (_ ("a number"));
}

gboolean
sp_group_number (SpKeyFile *file, SpGroup *group, const char *name, double low, double high, double *out, GError **error)
{
  const SpKey *key = sp_group_find (group, name);
  double value;
  GError *cause = NULL;

  if (!key)
    return TRUE;
  gboolean number = sp_parse_number (key->value, &value, &cause), beyond = g_error_matches (cause, SP_ERROR, SP_ERROR_LIMIT);
  if (!number && !beyond && low < 0)
    return fail_because (file, group, key, cause, error);
  g_clear_error (&cause);
  if (!number || !(value >= low && value <= high)) {
    g_autofree char *excerpt = sp_excerpt (key->value), *range = describe_range (low, high);
    if (!*excerpt)
      return sp_key_fail (file, group, key, 0, error, _ ("nothing stands here; expected %s"), range);
    return sp_key_fail (file, group, key, 0, error, _ ("found “%s”; expected %s"), excerpt, range);
  }
  *out = value;
  return TRUE;
}

gboolean
sp_group_frequency (SpKeyFile *file, SpGroup *group, const char *name, double *out, GError **error)
{
  const SpKey *key = sp_group_find (group, name);
  GError *cause = NULL;

  if (key && !sp_parse_frequency (key->value, out, &cause))
    return fail_because (file, group, key, cause, error);
  return TRUE;
}

gboolean
sp_group_positive (SpKeyFile *file, SpGroup *group, const char *name, double high, double *out, GError **error)
{
  const SpKey *key = sp_group_find (group, name);
  double value = NAN;
  if (key && !(sp_parse_number (key->value, &value, NULL) && value >= POSITIVE_LEAST && value <= high)) {
    char most[32];
    g_autofree char *found = sp_excerpt (key->value);
    if (value > 0 && value < POSITIVE_LEAST)
      return sp_key_fail (file, group, key, 0, error, _ ("found “%s”, which counts as 0; expected a number greater than 0 and at most %s"),
                          found, sp_format_written (high, most));
    return sp_key_fail (file, group, key, 0, error, _ ("found “%s”; expected a number greater than 0 and at most %s"), found,
                        sp_format_written (high, most));
  }
  *out = key ? value : *out;
  return TRUE;
}

gboolean
sp_group_positive_frequency (SpKeyFile *file, SpGroup *group, const char *name, double high, const char *example, double *out,
                             GError **error)
{
  const SpKey *key = sp_group_find (group, name);
  GError *cause = NULL;
  double value = NAN;
  gboolean good = !key || (sp_parse_frequency (key->value, &value, &cause) && value > 0);
  if (g_error_matches (cause, SP_ERROR, SP_ERROR_LIMIT))
    return fail_because (file, group, key, cause, error);
  g_clear_error (&cause);
  if (good && key && high > 0 && value > high) {
    g_autofree char *found = sp_excerpt (key->value), *most = sp_format_frequency (high, 0);
    return sp_key_fail (file, group, key, 0, error, _ ("found “%s”; expected a frequency greater than 0 and at most %s, such as %s"), found,
                        most, example);
  }
  if (!good) {
    g_autofree char *found = sp_excerpt (key->value);
    return sp_key_fail (file, group, key, 0, error, _ ("found “%s”; expected a frequency greater than 0, such as %s (Hz, kHz, MHz, GHz)"),
                        found, example);
  }
  *out = key ? value : *out;
  return TRUE;
}

gboolean
sp_group_choice (SpKeyFile *file, SpGroup *group, const char *name, const char *const *words, int *out, GError **error)
{
  const SpKey *key = sp_group_find (group, name);

  if (!key)
    return TRUE;
  for (int i = 0; words[i]; i++)
    if (strcmp (key->value, words[i]) == 0) {
      *out = i;
      return TRUE;
    }
  g_autofree char *excerpt = sp_excerpt (key->value), *list = g_strjoinv (", ", (char **) words);
  return sp_key_fail (file, group, key, 0, error, _ ("found “%s”; expected one of: %s"), excerpt, list);
}

gboolean
sp_group_yes_no (SpKeyFile *file, SpGroup *group, const char *name, gboolean *out, GError **error)
{
  static const char *const words[] = { "no", "yes", NULL };
  int answer = *out;

  if (!sp_group_choice (file, group, name, words, &answer, error))
    return FALSE;
  *out = answer;
  return TRUE;
}

gboolean
sp_group_date (SpKeyFile *file, SpGroup *group, const char *name, guint32 *julian_day, GError **error)
{
  const SpKey *key = sp_group_find (group, name);
  GError *cause = NULL;

  if (key && !sp_parse_date (key->value, julian_day, &cause))
    return fail_because (file, group, key, cause, error);
  return TRUE;
}

gboolean
sp_group_text (G_GNUC_UNUSED SpKeyFile *file, SpGroup *group, const char *name, char **out, G_GNUC_UNUSED GError **error)
{
  const SpKey *key = sp_group_find (group, name);

  if (key) {
    g_free (*out);
    *out = g_strdup (key->value);
  }
  return TRUE;
}

static void
clear_item (gpointer item)
{
  g_free (((SpItem *) item)->text);
}

GArray *
sp_key_items (const SpKey *key)
{
  GArray *items = g_array_new (FALSE, FALSE, sizeof (SpItem));
  guint offset = 0; /* of `from`, in characters */

  g_array_set_clear_func (items, clear_item);
  for (const char *from = key->value;;) {
    gsize length = strcspn (from, ";"), blanks = strspn (from, " \t");
    if (blanks < length) {
      SpItem item = { g_strchomp (g_strndup (from + blanks, length - blanks)), offset + (guint) blanks };
      g_array_append_val (items, item);
    }
    if (!from[length])
      return items;
    offset += (guint) g_utf8_strlen (from, length) + 1;
    from += length + 1;
  }
}
