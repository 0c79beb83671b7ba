/* command-pack.c - a sheet to a bench book, and back */
#include "app/command.h"

#include "core/bench/proposals/list.h"
#include "core/bench/sheet/sheet.h"
#include "core/book/book.h"
#include "core/quantity/error.h"
#include "core/trace/text/bytes.h"

#include <glib/gi18n.h>

/* The bench of the sheet with the radios of a list, and of an earlier bench. NULL and an error. (transfer full) */
static SpBench *
listed (const Arguments *arguments, const char *sheet, GError **error)
{
  const char *path = arguments_text (arguments, "list"), *earlier_path = arguments_text (arguments, "radios-of");
  g_autoptr (SpBench) bench = sp_bench_read (sheet, error);
  g_autoptr (SpBench) earlier = bench && earlier_path ? sp_bench_at (earlier_path, error) : NULL;
  if (!bench || (earlier_path && !earlier))
    return NULL;
  g_autoptr (SpBench) with = earlier ? sp_bench_with_radios_of (bench, earlier, error) : g_steal_pointer (&bench);
  if (!with || !path)
    return g_steal_pointer (&with);
  g_autoptr (GBytes) bytes = sp_bytes_read (path, FALSE, error);
  g_autoptr (SpList) list = bytes ? sp_list_parse (bytes, path, arguments_text (arguments, "conditions")) : NULL;
  return list ? sp_bench_with_list (with, list, error) : NULL;
}

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
  const char *sheet = g_ptr_array_index (arguments->rest, 0);
  if (arguments_have (arguments, "conditions") && !arguments_have (arguments, "list")) {
    sp_fail (error, SP_ERROR_USAGE, _ ("--conditions is of the radios of a list: --list F is needed"));
    return FAILED;
  }
  if (sp_book_is_one (sheet) || !(arguments_have (arguments, "list") || arguments_have (arguments, "radios-of")))
    return sp_book_pack (sheet, book, error) ? DONE : FAILED;
  g_autoptr (SpBench) bench = listed (arguments, sheet, error);
  g_autoptr (SpBook) made = bench ? sp_book_new (bench) : NULL;
  return made && sp_book_save_as (made, book, error) ? DONE : FAILED;
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
