/* command-pack.c - a sheet to a bench book, and back */
#include "app/command.h"

#include "core/book/book.h"
#include "core/quantity/error.h"

#include <glib/gi18n.h>

int
command_pack (const Arguments *arguments, GError **error)
{
  const char *book = arguments_text (arguments, "output");
  if (!input_rest (arguments, "pack", 1, 1, error))
    return FAILED;
  if (!book || g_str_equal (book, "-")) {
    sp_fail (error, SP_ERROR_USAGE, _ ("pack makes a file: -o BOOK.benchbook is needed"));
    return FAILED;
  }
  return sp_book_pack (g_ptr_array_index (arguments->rest, 0), book, error) ? DONE : FAILED;
}

int
command_unpack (const Arguments *arguments, GError **error)
{
  const char *directory = arguments_text (arguments, "directory");
  if (!input_rest (arguments, "unpack", 1, 1, error))
    return FAILED;
  if (!directory) {
    sp_fail (error, SP_ERROR_USAGE, _ ("unpack makes a folder: -d DIR is needed"));
    return FAILED;
  }
  return sp_book_unpack (g_ptr_array_index (arguments->rest, 0), directory, error) ? DONE : FAILED;
}
