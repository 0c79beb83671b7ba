/* gone.c - a book that was removed, moved, replaced or written over while it was open, and a copy of one that is held */
#include <fcntl.h>
#include <sys/stat.h>

#include "tests/book/saved.h"

static void
check_gone (SpBook *book)
{
  for (guint i = 0; i < 2; i++) { /* at every save, not the first time only */
    ck_assert (!sp_book_save (book, &error));
    ck_assert_msg (g_error_matches (error, SP_BOOK_ERROR, SP_BOOK_ERROR_GONE), "%s", error->message);
    g_clear_error (&error);
    ck_assert (sp_book_unsaved (book));
  }
}

static guint
n_states (const char *file)
{
  g_autofree char *n = ask (file, "SELECT count(*) FROM state");
  return (guint) atoi (n);
}

static SpBook *
with_history (void)
{
  SpBook *book = good_book (sp_book_open (path, &error));
  edit (book, "One");
  good (sp_book_save (book, &error));
  sp_book_close (book);
  book = good_book (sp_book_open (path, &error)); /* the first state is in the file only */
  edit (book, "Two");
  good (sp_book_save (book, &error));
  edit (book, "Three");
  return book;
}

START_TEST (gone)
{
  g_autofree char *elsewhere = shelf_path ("elsewhere.benchbook"), *moved = shelf_path ("moved.benchbook"), *notes = shelf_path ("notes");
  for (guint how = 0; how < 4; how++) {
    SpBook *book = with_history ();
    g_autofree char *bytes = NULL;
    gsize length;
    if (how == 0)
      g_unlink (path);
    else if (how == 1)
      g_rename (path, moved);
    else {
      g_autoptr (SpBench) bench = shelf_bench ();
      g_autoptr (SpBook) another = sp_book_new (bench);
      good (sp_book_save_as (another, moved, &error));
      sp_book_close (g_steal_pointer (&another));
      if (how == 2)
        g_rename (moved, path); /* as a synchronising program does */
      else {
        ck_assert (g_file_get_contents (moved, &bytes, &length, NULL));
        FILE *stream = fopen (path, "wb"); /* as cp does */
        ck_assert (stream && fwrite (bytes, 1, length, stream) == length && fclose (stream) == 0);
      }
    }
    put ("a.benchbook-journal", "of whoever is there now");
    g_autofree char *before = how == 0 ? NULL : ask (how == 1 ? moved : path, "SELECT count(*) FROM state");
    check_gone (book);
    good (sp_book_save_as (book, elsewhere, &error));
    ck_assert (!sp_book_unsaved (book));
    ck_assert_str_eq (sp_book_path (book), elsewhere);
    edit (book, "Four");
    good (sp_book_save (book, &error));
    while (sp_book_undo (book))
      ;
    ck_assert_uint_eq (n_states (elsewhere), how == 3 ? 4 : 5); /* what was overwritten was in memory from "One" on */
    sp_book_close (book);
    if (before)
      ck_assert_uint_eq (n_states (how == 1 ? moved : path), (guint) atoi (before));
    ck_assert_msg (g_file_test (journal, G_FILE_TEST_EXISTS), "%u: the journal of whoever is there now is deleted", how);
    g_unlink (journal);
    book = good_book (sp_book_open (elsewhere, &error));
    ck_assert (sp_book_redo_label (book) || sp_book_undo_label (book));
    sp_book_close (book);
    g_unlink (elsewhere);
    g_unlink (path);
    g_unlink (moved);
    g_autoptr (SpBench) bench = shelf_bench ();
    g_autoptr (SpBook) anew = sp_book_new (bench);
    good (sp_book_save_as (anew, path, &error));
  }
}
END_TEST

/* Nothing new, or new and undone: a book that is gone is not told as saved. */
START_TEST (gone_unedited)
{
  g_autoptr (SpBook) book = with_history ();
  good (sp_book_save (book, &error));
  g_unlink (path);
  ck_assert (!sp_book_save (book, &error) && g_error_matches (error, SP_BOOK_ERROR, SP_BOOK_ERROR_GONE));
  g_clear_error (&error);
  ck_assert (sp_book_undo (book));
  check_gone (book);
  ck_assert (sp_book_redo (book) && !sp_book_save (book, &error) && g_error_matches (error, SP_BOOK_ERROR, SP_BOOK_ERROR_GONE));
  g_clear_error (&error);
}
END_TEST

/* Bytes of it written over in place, its length and beginning as they were; and a file that was only touched, which is as good as before. */
START_TEST (written_over)
{
  g_autofree char *elsewhere = shelf_path ("elsewhere.benchbook");
  SpBook *book = with_history ();
  struct timespec times[2] = { { 1000000000, 0 }, { 1000000000, 0 } };
  ck_assert_int_eq (utimensat (AT_FDCWD, path, times, 0), 0);
  good (sp_book_save (book, &error));
  edit (book, "Four");
  FILE *stream = fopen (path, "r+b");
  ck_assert_ptr_nonnull (stream);
  for (long at = 5000; at < 40000; at += 500) /* in what is used and in what is not */
    ck_assert (fseek (stream, at, SEEK_SET) == 0 && fwrite ("scribble", 1, 8, stream) == 8);
  ck_assert_int_eq (fclose (stream), 0);
  check_gone (book);
  good (sp_book_save_as (book, elsewhere, &error));
  sp_book_close (book);
  book = good_book (sp_book_open (elsewhere, &error));
  ck_assert_str_eq (sp_book_bench (book)->title, "Four");
  sp_book_close (book);
}
END_TEST

/* Something laid where the journal goes, while the book is open: it is named, and stays. */
START_TEST (journal_taken)
{
  g_autoptr (SpBook) book = good_book (sp_book_open (path, &error));
  edit (book, "One");
  put ("a.benchbook-journal", "notes of mine");
  ck_assert (!sp_book_save (book, &error) && strstr (error->message, "a.benchbook-journal"));
  g_clear_error (&error);
  g_autofree char *text = NULL;
  ck_assert (g_file_get_contents (journal, &text, NULL, NULL));
  ck_assert_str_eq (text, "notes of mine");
  g_unlink (journal);
  good (sp_book_save (book, &error));
}
END_TEST

/* Its own name is free again: it may be saved there. */
START_TEST (gone_and_back)
{
  SpBook *book = with_history ();
  g_unlink (path);
  check_gone (book);
  good (sp_book_save_as (book, path, &error));
  ck_assert (!g_file_test (journal, G_FILE_TEST_EXISTS));
  edit (book, "Four");
  good (sp_book_save (book, &error));
  sp_book_close (book);
  ck_assert_uint_eq (n_states (path), 5);
}
END_TEST

/* ---- a copy ---- */

START_TEST (copy)
{
  g_autofree char *other = shelf_path ("other.benchbook");
  g_autoptr (SpBook) book = with_history ();
  g_autofree char *before = snapshot ();
  g_autoptr (SpBook) look = good_book (sp_book_look (path, &error));
  ck_assert_str_eq (sp_book_bench (look)->title, "Two"); /* as last saved */
  ck_assert (sp_book_undo (look) && sp_book_undo (look) && !sp_book_undo_label (look) && sp_book_redo (look));
  ck_assert_str_eq (sp_book_bench (look)->title, "One");
  ck_assert (!sp_book_path (look) && sp_book_unsaved (look) && !sp_book_save (look, &error));
  g_clear_error (&error);
  edit (look, "Mine");
  g_autofree char *after = snapshot ();
  ck_assert_str_eq (after, before);
  ck_assert (!sp_book_save_as (look, path, &error) && g_error_matches (error, SP_BOOK_ERROR, SP_BOOK_ERROR_LOCKED));
  g_clear_error (&error);
  good (sp_book_save_as (look, other, &error));
  ck_assert_uint_eq (n_states (other), 3); /* "Two" was dropped by the edit */
  good (sp_book_save (book, &error));
  ck_assert_uint_eq (n_states (path), 4);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("gone");
  TCase *c = tcase_create ("gone");
  tcase_set_timeout (c, 120);
  tcase_add_checked_fixture (c, set_up, tear_down);
  tcase_add_test (c, gone);
  tcase_add_test (c, gone_unedited);
  tcase_add_test (c, written_over);
  tcase_add_test (c, journal_taken);
  tcase_add_test (c, gone_and_back);
  tcase_add_test (c, copy);
  suite_add_tcase (s, c);
  return s;
}

SP_MAIN (suite)
