/* output.c - where results go: all of them or nothing */
#include "app/command.h"

#include "core/quantity/clean.h"
#include "core/quantity/error.h"
#include "core/quantity/file.h"
#include "ui/figure/pen/pen.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n.h>
#include <glib/gstdio.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

static gboolean
write_stream (FILE *stream, const char *name, const char *bytes, gsize length, GError **error)
{
  if (fwrite (bytes, 1, length, stream) != length || fflush (stream) != 0)
    return sp_fail (error, SP_ERROR_IO, "%s: %s", name, g_strerror (errno));
  return TRUE;
}

void
output_say_type (void)
{
  g_autofree char *other = sp_pen_other_type (NULL);
  if (other)
    g_printerr (
        _ ("spurproof-batch: the font Inter is not installed, or cannot be read: the picture is written in %s, and what does not fit is "
           "cut. Install it (fonts-inter), and draw again\n"),
        other);
}

/* As every program that writes into a pipe does, we wait for whoever reads it; but not without a word. Opened once only: whoever reads would take a
 * second opening for all there is. */
static FILE *
open_pipe (const char *path)
{
  int descriptor = open (path, O_WRONLY | O_NONBLOCK | O_CLOEXEC);
  if (descriptor >= 0 && fcntl (descriptor, F_SETFL, 0) == 0)
    return fdopen (descriptor, "wb");
  if (descriptor >= 0)
    close (descriptor);
  if (errno == ENXIO)
    g_printerr (_ ("spurproof-batch: %s: is a pipe that nobody reads; waiting for a reader\n"), path);
  return g_fopen (path, "wb");
}

/* A device or a pipe cannot be renamed over: it is written as it stands. */
static gboolean
write_special (const char *path, gboolean pipe, const char *bytes, gsize length, GError **error)
{
  FILE *stream = pipe ? open_pipe (path) : g_fopen (path, "wb");
  if (!stream)
    return sp_fail (error, SP_ERROR_IO, "%s: %s", path, g_strerror (errno));
  gboolean done = write_stream (stream, path, bytes, length, error);
  fclose (stream);
  return done;
}

/* A book's history cannot be had again, nor a raw export: neither gives way to a result, by whatever name it is reached. */
gboolean
output_may_replace (const char *path, GError **error)
{
  static const char head[] = "SQLite format 3";
  char found[sizeof head] = { 0 };
  int descriptor = open (path, O_RDONLY | O_CLOEXEC);
  gboolean book = descriptor >= 0 && read (descriptor, found, sizeof found) == sizeof found && memcmp (found, head, sizeof head) == 0;
  if (descriptor >= 0)
    close (descriptor);
  if (book)
    return sp_fail (error, SP_ERROR_IO, _ ("%s: is a bench book with its history, and was left as it is; give -o another name"), path);
  return !sp_file_was_read (path)
         || sp_fail (error, SP_ERROR_IO, _ ("%s: is one of the files that this command reads, and was left as it is; give -o another name"),
                     path);
}

gboolean
output_plain (const char *text, GError **error)
{
  return write_stream (stdout, _ ("standard output"), text, strlen (text), error);
}

gboolean
output_bytes (const Arguments *arguments, const char *bytes, gsize length, GError **error)
{
  const char *path = arguments_text (arguments, "output");
  GStatBuf is;
  if (!path || strcmp (path, "-") == 0)
    return write_stream (stdout, _ ("standard output"), bytes, length, error);
  if (g_stat (path, &is) == 0 && !S_ISREG (is.st_mode) && !S_ISDIR (is.st_mode))
    return write_special (path, S_ISFIFO (is.st_mode), bytes, length, error);
  return output_may_replace (path, error) && sp_file_write (path, bytes, length, error);
}

gboolean
output_machine (const Arguments *arguments, const char *text, GError **error)
{
  return output_bytes (arguments, text, strlen (text), error);
}

gboolean
output_text (const Arguments *arguments, const char *text, GError **error)
{
  g_autofree char *clean = sp_clean_lines (text);
  return output_machine (arguments, clean, error);
}

int
output_made (const Arguments *arguments, GBytes *made, GError **error)
{
  g_autoptr (GBytes) owned = made;
  if (!made) {
    g_prefix_error (error, "%s: ", arguments_text (arguments, "output"));
    return FAILED;
  }
  gsize length;
  const char *bytes = g_bytes_get_data (made, &length);
  output_say_type ();
  return output_bytes (arguments, bytes, length, error) ? DONE : FAILED;
}
