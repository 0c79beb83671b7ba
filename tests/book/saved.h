/* saved.h - what the tests of a saved book share: the book, its journal, and a file beside it that nobody named */
#pragma once

#include "tests/book/files.h"

static char *path, *journal, *victim;

static void
set_up (void)
{
  make_folder ();
  path = shelf_path ("a.benchbook");
  journal = shelf_path ("a.benchbook-journal");
  victim = shelf_path ("victim");
  put ("victim", "a file that nobody named");
  g_autoptr (SpBench) bench = shelf_bench ();
  g_autoptr (SpBook) book = sp_book_new (bench);
  good (sp_book_save_as (book, path, &error));
}

static void
tear_down (void)
{
  g_clear_pointer (&path, g_free);
  g_clear_pointer (&journal, g_free);
  g_clear_pointer (&victim, g_free);
  remove_folder ();
}

static void
edit (SpBook *book, const char *title)
{
  g_autoptr (SpBench) next = good_bench (sp_bench_set (sp_book_bench (book), "title", title, &error));
  sp_book_edit (book, next, title);
}
