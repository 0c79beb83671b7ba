/* released.c - a book of every schema that was ever released: opened, brought up to date in a copy, its history whole, judged as its sheet is today
 *
 * `tests/book/released/schema-N.benchbook`, three states of the shelf's bench each. Who adds a step to the schema runs this test with SP_RELEASE=1 before:
 * it writes the book of the schema as it is.
 */
#include "core/bench/sheet/sheet.h"
#include "core/findings/findings.h"
#include "core/judge/judge.h"
#include "tests/book/files.h"

static char *
released (guint schema)
{
  g_autofree char *name = g_strdup_printf ("tests/book/released/schema-%u.benchbook", schema);
  return sp_test_path (name);
}

START_TEST (release)
{
  g_autofree char *path = released (SP_BOOK_SCHEMA);
  g_autoptr (SpBench) bench = shelf_bench ();
  g_autoptr (SpBook) book = sp_book_new (bench);
  for (guint i = 1; i < 3; i++) {
    g_autofree char *title = g_strdup_printf ("Night %u", i);
    g_autoptr (SpBench) next = good_bench (sp_bench_set (bench, "title", title, &error));
    sp_book_edit (book, next, title);
  }
  good (sp_book_save_as (book, path, &error));
}
END_TEST

static void
check_judged_alike (const SpBench *a, const SpBench *b)
{
  g_autoptr (SpFindings) one = sp_judge (a), other = sp_judge (b);
  ck_assert_str_eq (a->sha256, b->sha256);
  ck_assert_uint_eq (one->n, other->n);
  for (guint i = 0; i < one->n; i++) {
    const SpConditionFindings *x = &one->conditions[i], *y = &other->conditions[i];
    ck_assert (x->verdict == y->verdict && x->n_emissions == y->n_emissions);
    for (guint k = 0; k < x->n_emissions; k++)
      ck_assert (x->emissions[k].verdict == y->emissions[k].verdict
                 && memcmp (&x->emissions[k].level_dbm, &y->emissions[k].level_dbm, sizeof (double)) == 0);
  }
}

static void
check_history (SpBook *book)
{
  ck_assert_str_eq (sp_book_bench (book)->title, "Night 2");
  ck_assert_str_eq (sp_book_undo_label (book), "Night 2");
  ck_assert (sp_book_undo (book) && sp_book_undo (book) && !sp_book_undo_label (book));
  ck_assert_str_eq (sp_book_bench (book)->title, "Night");
  ck_assert (sp_book_redo (book) && sp_book_redo (book) && !sp_book_redo_label (book));
}

START_TEST (every_schema)
{
  for (guint schema = 1; schema <= SP_BOOK_SCHEMA; schema++) {
    g_autofree char *path = released (schema), *copy = shelf_path ("old.benchbook"), *out = shelf_path ("out"),
                    *sheet = shelf_path ("out/bench.sheet");
    g_autofree char *bytes = NULL, *still = NULL;
    gsize length, length_still;
    ck_assert_msg (g_file_get_contents (path, &bytes, &length, NULL), "%s is missing: every schema has its book", path);
    SpBook *book = good_book (sp_book_look (path, &error));
    check_history (book);
    good (sp_book_unpack (path, out, &error));
    g_autoptr (SpBench) today = good_bench (sp_bench_read (sheet, &error));
    check_judged_alike (sp_book_bench (book), today);
    sp_book_close (book);
    ck_assert (g_file_get_contents (path, &still, &length_still, NULL) && length == length_still && memcmp (bytes, still, length) == 0);
    ck_assert (g_file_set_contents (copy, bytes, (gssize) length, NULL));
    book = good_book (sp_book_open (copy, &error));
    check_history (book);
    g_autoptr (SpBench) next = good_bench (sp_bench_set (sp_book_bench (book), "title", "Later", &error));
    sp_book_edit (book, next, "Later");
    good (sp_book_save (book, &error));
    sp_book_close (book);
    check_answer (copy, "PRAGMA user_version", G_STRINGIFY (SP_BOOK_SCHEMA));
    check_answer (copy, "PRAGMA integrity_check", "ok");
    check_answer (copy, "SELECT count(*) FROM state", "4");
    remove_folder ();
    make_folder ();
  }
}
END_TEST

/* A newer program's book: refused by every way in, unharmed. */
START_TEST (newer)
{
  g_autofree char *path = released (SP_BOOK_SCHEMA), *copy = shelf_path ("newer.benchbook"), *out = shelf_path ("out"), *bytes = NULL;
  gsize length;
  ck_assert (g_file_get_contents (path, &bytes, &length, NULL) && g_file_set_contents (copy, bytes, (gssize) length, NULL));
  alter (copy, "CREATE TABLE more (a); PRAGMA user_version = 99");
  g_autofree char *before = snapshot ();
  for (guint way = 0; way < 5; way++) {
    g_autoptr (SpBench) bench = shelf_bench ();
    g_autoptr (SpBook) mine = sp_book_new (bench), book = way == 0   ? sp_book_open (copy, &error)
                                                          : way == 1 ? sp_book_look (copy, &error)
                                                                     : NULL;
    g_autoptr (SpBench) at = way == 2 ? sp_bench_at (copy, &error) : NULL;
    ck_assert (!book && !at && !(way == 3 && sp_book_unpack (copy, out, &error)) && !(way == 4 && sp_book_save_as (mine, copy, &error)));
    ck_assert_msg (g_error_matches (error, SP_BOOK_ERROR, SP_BOOK_ERROR_NEWER) && strstr (error->message, "99"), "%u: %s", way,
                   error->message);
    g_clear_error (&error);
  }
  g_autofree char *after = snapshot ();
  ck_assert_str_eq (after, before);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("released");
  TCase *c = tcase_create ("released");
  tcase_add_checked_fixture (c, make_folder, remove_folder);
  if (g_getenv ("SP_RELEASE"))
    tcase_add_test (c, release);
  tcase_add_test (c, every_schema);
  tcase_add_test (c, newer);
  suite_add_tcase (s, c);
  return s;
}

SP_MAIN (suite)
