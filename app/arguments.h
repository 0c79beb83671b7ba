/* arguments.h - the command line taken apart: options in any order, each with its place in a command's list
 *
 * `--name value` or `--name=value`; `-o` is `--output`, `-d` `--directory`; `--` ends the options; `-` alone is an argument (standard output).
 * Written by hand because GOptionContext tells no place of a word, and neither which command has an option nor what its values may be.
 */
#pragma once

#include <glib.h>

typedef struct {
  const char *name;  /* without the dashes; NULL ends a list */
  const char *value; /* what it takes, for the help: "F"; NULL: nothing */
  gboolean repeats;
  const char *help;
} Option;

typedef struct {
  GPtrArray *rest;     /* what is no option, char* */
  GHashTable *options; /* name -> GPtrArray of char* */
} Arguments;

/* Errors (SP_ERROR_USAGE) name the option and list those that exist. (transfer full) */
Arguments *arguments_parse (char *const *words, const Option *options, GError **error);
void arguments_free (Arguments *arguments);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Arguments, arguments_free)

gboolean arguments_have (const Arguments *arguments, const char *name);
/* NULL where not given. (transfer none) */
const char *arguments_text (const Arguments *arguments, const char *name);
/* NULL-terminated. (transfer container) */
char **arguments_texts (const Arguments *arguments, const char *name);

/* TRUE and *out left alone where not given; FALSE and an error that names the option. */
gboolean arguments_frequency (const Arguments *arguments, const char *name, double *frequency_hz, GError **error);
gboolean arguments_power (const Arguments *arguments, const char *name, double *power_w, GError **error);
gboolean arguments_number (const Arguments *arguments, const char *name, double *number, GError **error);
gboolean arguments_count (const Arguments *arguments, const char *name, guint64 least, guint64 most, guint64 *count, GError **error);
