/* arguments.c - the command line taken apart */
#include "app/arguments.h"

#include "core/quantity/error.h"
#include "core/quantity/text.h"

#include <glib/gi18n.h>
#include <string.h>

static const Option *
option_find (const Option *options, const char *name)
{
  for (; options->name; options++)
    if (strcmp (options->name, name) == 0)
      return options;
  return NULL;
}

static char *
option_names (const Option *options)
{
  GString *names = g_string_new (NULL);
  for (; options->name; options++)
    g_string_append_printf (names, "%s--%s", names->len ? ", " : "", options->name);
  return g_string_free (names, FALSE);
}

/* One option at words[*i]; its value may be the next word. */
static gboolean
take_option (Arguments *arguments, char *const *words, guint *i, const Option *options, GError **error)
{
  const char *word = words[*i];
  const char *equals = strchr (word, '=');
  const char *letter = g_str_equal (word, "-o") ? "output" : g_str_equal (word, "-d") ? "directory" : NULL;
  g_autofree char *name = letter ? g_strdup (letter) : equals ? g_strndup (word + 2, (gsize) (equals - word - 2)) : g_strdup (word + 2);
  const Option *option = word[1] == '-' || letter ? option_find (options, name) : NULL;
  if (!option) {
    g_autofree char *names = option_names (options);
    return sp_fail (error, SP_ERROR_USAGE, _ ("there is no option %s here: the options are %s"), word, names);
  }
  const char *value = equals && word[1] == '-' ? equals + 1 : NULL;
  if (!option->value && value)
    return sp_fail (error, SP_ERROR_USAGE, _ ("--%s takes no value"), name);
  if (option->value && !value) {
    value = words[*i + 1];
    if (!value || g_str_has_prefix (value, "--"))
      return sp_fail (error, SP_ERROR_USAGE, _ ("--%s needs a value: --%s %s"), name, name, option->value);
    (*i)++;
  }
  GPtrArray *values = g_hash_table_lookup (arguments->options, option->name);
  if (values && !option->repeats)
    return sp_fail (error, SP_ERROR_USAGE, _ ("--%s is given twice"), name);
  if (!values) {
    values = g_ptr_array_new_with_free_func (g_free);
    g_hash_table_insert (arguments->options, (char *) option->name, values);
  }
  g_ptr_array_add (values, g_strdup (value ? value : ""));
  return TRUE;
}

Arguments *
arguments_parse (char *const *words, const Option *options, GError **error)
{
  g_autoptr (Arguments) arguments = g_new0 (Arguments, 1);
  arguments->rest = g_ptr_array_new_with_free_func (g_free);
  arguments->options = g_hash_table_new_full (g_str_hash, g_str_equal, NULL, (GDestroyNotify) g_ptr_array_unref);
  gboolean only_rest = FALSE;
  for (guint i = 0; words[i]; i++)
    if (only_rest || words[i][0] != '-' || !words[i][1])
      g_ptr_array_add (arguments->rest, g_strdup (words[i]));
    else if (strcmp (words[i], "--") == 0)
      only_rest = TRUE;
    else if (!take_option (arguments, words, &i, options, error))
      return NULL;
  return g_steal_pointer (&arguments);
}

void
arguments_free (Arguments *arguments)
{
  g_ptr_array_unref (arguments->rest);
  g_hash_table_unref (arguments->options);
  g_free (arguments);
}

gboolean
arguments_have (const Arguments *arguments, const char *name)
{
  return g_hash_table_contains (arguments->options, name);
}

const char *
arguments_text (const Arguments *arguments, const char *name)
{
  GPtrArray *values = g_hash_table_lookup (arguments->options, name);
  return values ? g_ptr_array_index (values, 0) : NULL;
}

char **
arguments_texts (const Arguments *arguments, const char *name)
{
  GPtrArray *values = g_hash_table_lookup (arguments->options, name);
  guint n = values ? values->len : 0;
  char **texts = g_new0 (char *, n + 1);
  for (guint i = 0; i < n; i++)
    texts[i] = g_ptr_array_index (values, i);
  return texts;
}

typedef gboolean (*Parser) (const char *text, double *number, GError **error);

static gboolean
parsed (const Arguments *arguments, const char *name, Parser parser, double *number, GError **error)
{
  const char *text = arguments_text (arguments, name);
  if (!text || parser (text, number, error))
    return TRUE;
  g_prefix_error (error, "--%s %s: ", name, text);
  return FALSE;
}

gboolean
arguments_frequency (const Arguments *arguments, const char *name, double *frequency_hz, GError **error)
{
  return parsed (arguments, name, sp_parse_frequency, frequency_hz, error);
}

gboolean
arguments_power (const Arguments *arguments, const char *name, double *power_w, GError **error)
{
  return parsed (arguments, name, sp_parse_power, power_w, error);
}

gboolean
arguments_number (const Arguments *arguments, const char *name, double *number, GError **error)
{
  return parsed (arguments, name, sp_parse_number, number, error);
}

gboolean
arguments_count (const Arguments *arguments, const char *name, guint64 least, guint64 most, guint64 *count, GError **error)
{
  const char *text = arguments_text (arguments, name);
  if (!text || g_ascii_string_to_unsigned (text, 10, least, most, count, NULL))
    return TRUE;
  g_autofree char *low = g_strdup_printf ("%" G_GUINT64_FORMAT, least), *high = g_strdup_printf ("%" G_GUINT64_FORMAT, most);
  return sp_fail (error, SP_ERROR_USAGE, _ ("--%s %s: a whole number from %s to %s was expected"), name, text, low, high);
}
