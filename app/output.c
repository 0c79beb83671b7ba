/* output.c - where results go: all of them or nothing */
#include "app/command.h"

#include "core/quantity/error.h"

#include <errno.h>
#include <glib/gi18n.h>
#include <stdio.h>
#include <string.h>

gboolean
output_bytes (const Arguments *arguments, const char *bytes, gsize length, GError **error)
{
  const char *path = arguments_text (arguments, "output");
  if (path && strcmp (path, "-") != 0)
    return g_file_set_contents_full (path, bytes, (gssize) length, G_FILE_SET_CONTENTS_CONSISTENT, 0666, error);
  if (fwrite (bytes, 1, length, stdout) != length || fflush (stdout) != 0)
    return sp_fail (error, SP_ERROR_IO, _("standard output: %s"), g_strerror (errno));
  return TRUE;
}

gboolean
output_machine (const Arguments *arguments, const char *text, GError **error)
{
  return output_bytes (arguments, text, strlen (text), error);
}

gboolean
output_text (const Arguments *arguments, const char *text, GError **error)
{
  GString *safe = g_string_new (NULL);
  g_autofree char *valid = g_utf8_make_valid (text, -1);
  for (const char *c = valid; *c; c = g_utf8_next_char (c)) {
    gunichar character = g_utf8_get_char (c);
    g_string_append_unichar (safe, g_unichar_iscntrl (character) && character != '\n' ? ' ' : character);
  }
  g_autofree char *bytes = g_string_free (safe, FALSE);
  return output_machine (arguments, bytes, error);
}
