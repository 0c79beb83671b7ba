/* error.c - errors with file, line, column and what was expected */
#include "core/quantity/error.h"

#include "core/quantity/clean.h"

#include <stdarg.h>

/* by hand: the formatter takes the name for a subtraction, and the name is kept as it is written */
/* clang-format off */
G_DEFINE_QUARK (sp-error-quark, sp_error)
/* clang-format on */

/* A sentence in one line, whatever names and values of strangers stand in it. */
static gboolean
fail (GError **error, SpErrorCode code, const char *message)
{
  g_autofree char *clean = sp_clean (message);
  g_set_error_literal (error, SP_ERROR, code, clean);
  return FALSE;
}

static void
append_place (GString *message, const char *file, guint line, guint column)
{
  if (file)
    g_string_append (message, file);
  if (line > 0)
    g_string_append_printf (message, "%s%u", message->len ? ":" : "", line);
  if (column > 0)
    g_string_append_printf (message, "%s%u", message->len ? ":" : "", column);
  if (message->len)
    g_string_append (message, ": ");
}

gboolean
sp_fail_at (GError **error, const char *file, guint line, guint column, const char *format, ...)
{
  va_list arguments;
  g_autoptr (GString) message = g_string_new (NULL);

  append_place (message, file, line, column);
  va_start (arguments, format);
  g_string_append_vprintf (message, format, arguments);
  va_end (arguments);
  return fail (error, SP_ERROR_INPUT, message->str);
}

gboolean
sp_fail (GError **error, SpErrorCode code, const char *format, ...)
{
  va_list arguments;

  va_start (arguments, format);
  g_autofree char *message = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  return fail (error, code, message);
}
