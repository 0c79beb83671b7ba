/* book.c - the history and its way to the file and back; pack and unpack */
#include <signal.h>
#include <sys/resource.h>
#include <unistd.h>

#include "core/bench/sheet/sheet.h"
#include "core/trace/read/read.h"
#include "tests/book/files.h"

static SpBench *bench;

static void
set_up (void)
{
  make_folder ();
  bench = shelf_bench ();
}

static void
tear_down (void)
{
  g_clear_pointer (&bench, sp_bench_unref);
  remove_folder ();
}

/* A bench of its own for each number. (transfer full) */
static SpBench *
numbered (guint n)
{
  g_autofree char *title = g_strdup_printf ("Night %u", n), *degrees = g_strdup_printf ("%u", n % 100);
  g_autoptr (SpBench) titled = good_bench (sp_bench_set (bench, "title", title, &error));
  return good_bench (sp_bench_set (titled, "temperature_c", degrees, &error));
}

/* The same for judging, and for people. */
static void
check_equal (const SpBench *got, const SpBench *want)
{
  ck_assert_str_eq (got->sha256, want->sha256);
  ck_assert_pstr_eq (got->title, want->title);
  ck_assert_pstr_eq (got->operator_name, want->operator_name);
  ck_assert_pstr_eq (got->unknown, want->unknown);
  ck_assert_pstr_eq (got->unknown_groups, want->unknown_groups);
  ck_assert_str_eq (got->chain->text ? got->chain->sha256 : "", want->chain->sha256);
  ck_assert_uint_eq (got->n_radios, want->n_radios);
  for (guint i = 0; i < got->n_radios; i++) {
    ck_assert_pstr_eq (got->radios[i].owner, want->radios[i].owner);
    ck_assert_pstr_eq (got->radios[i].serial, want->radios[i].serial);
    ck_assert_pstr_eq (got->radios[i].note, want->radios[i].note);
    ck_assert_pstr_eq (got->radios[i].unknown, want->radios[i].unknown);
  }
  ck_assert_str_eq (got->mask->name, want->mask->name);
  ck_assert ((got->mask->file == NULL) == (want->mask->file == NULL));
}

START_TEST (in_memory)
{
  g_autoptr (SpBook) book = sp_book_new (bench);
  g_autoptr (SpBench) one = numbered (1);
  g_autoptr (SpBench) two = numbered (2);
  g_autoptr (SpBench) three = numbered (3);
  ck_assert_ptr_null (sp_book_path (book));
  ck_assert_ptr_eq (sp_book_bench (book), bench);
  ck_assert (!sp_book_undo_label (book) && !sp_book_redo_label (book) && !sp_book_undo (book) && !sp_book_redo (book));
  sp_book_edit (book, one, "First");
  sp_book_edit (book, two, "Second");
  ck_assert_str_eq (sp_book_undo_label (book), "Second");
  ck_assert (sp_book_undo (book));
  ck_assert_ptr_eq (sp_book_bench (book), one);
  ck_assert_str_eq (sp_book_undo_label (book), "First");
  ck_assert_str_eq (sp_book_redo_label (book), "Second");
  ck_assert (sp_book_redo (book) && sp_book_bench (book) == two && !sp_book_redo (book));
  ck_assert (sp_book_undo (book) && sp_book_undo (book) && sp_book_bench (book) == bench);
  sp_book_edit (book, three, "Third");
  ck_assert_ptr_null (sp_book_redo_label (book));
  ck_assert (sp_book_undo (book) && sp_book_bench (book) == bench);
  ck_assert (sp_book_unsaved (book));
  ck_assert (!sp_book_save (book, &error) && g_error_matches (error, SP_BOOK_ERROR, SP_BOOK_ERROR_IO));
  g_clear_error (&error);
}
END_TEST

START_TEST (history_kept)
{
  g_autofree char *path = shelf_path ("a.benchbook");
  SpBook *book = sp_book_new (bench);
  for (guint i = 1; i <= 3; i++) {
    g_autoptr (SpBench) next = numbered (i);
    g_autofree char *label = g_strdup_printf ("Edit %u", i);
    sp_book_edit (book, next, label);
  }
  ck_assert (sp_book_undo (book));
  good (sp_book_save_as (book, path, &error));
  ck_assert_str_eq (sp_book_path (book), path);
  ck_assert (!sp_book_unsaved (book));
  good (sp_book_save (book, &error));
  sp_book_close (book);

  book = good_book (sp_book_open (path, &error));
  g_autoptr (SpBench) two = numbered (2);
  g_autoptr (SpBench) three = numbered (3);
  check_equal (sp_book_bench (book), two);
  ck_assert_str_eq (sp_book_undo_label (book), "Edit 2");
  ck_assert_str_eq (sp_book_redo_label (book), "Edit 3");
  ck_assert (!sp_book_unsaved (book));
  SpTrace *shared = sp_book_bench (book)->conditions[0].sweeps[0].trace;
  ck_assert (sp_book_redo (book));
  check_equal (sp_book_bench (book), three);
  ck_assert_ptr_eq (sp_book_bench (book)->conditions[0].sweeps[0].trace, shared); /* read once */
  ck_assert (sp_book_unsaved (book));
  ck_assert (sp_book_undo (book) && sp_book_undo (book) && sp_book_undo (book) && !sp_book_undo (book));
  check_equal (sp_book_bench (book), bench);
  g_autoptr (SpBench) nine = good_bench (sp_bench_set (sp_book_bench (book), "title", "Nine", &error)); /* edits of what was read */
  sp_book_edit (book, nine, "Nine");
  good (sp_book_save (book, &error));
  sp_book_close (book);
  book = good_book (sp_book_open (path, &error));
  ck_assert_str_eq (sp_book_bench (book)->title, "Nine");
  ck_assert (!sp_book_redo_label (book) && sp_book_undo (book) && !sp_book_undo_label (book));
  check_equal (sp_book_bench (book), bench);
  sp_book_close (book);
  check_answer (path, "SELECT count(*) FROM state", "2");
}
END_TEST

START_TEST (random_walk)
{
  g_autofree char *path = shelf_path ("walk.benchbook");
  g_autoptr (GRand) rand = g_rand_new_with_seed (11);
  g_autoptr (GPtrArray) hashes = g_ptr_array_new_with_free_func (g_free); /* what a book should remember */
  guint present = 0, next = 1;
  SpBook *book = sp_book_new (bench);
  good (sp_book_save_as (book, path, &error));
  g_ptr_array_add (hashes, g_strdup (bench->sha256));
  for (guint i = 0; i < 300; i++) {
    int what = g_rand_int_range (rand, 0, 6);
    if (what <= 1) {
      g_autoptr (SpBench) edited = numbered (next++);
      sp_book_edit (book, edited, "x");
      g_ptr_array_set_size (hashes, (int) present + 1);
      g_ptr_array_add (hashes, g_strdup (edited->sha256));
      present++;
    } else if (what == 2) {
      ck_assert (sp_book_undo (book) == (present > 0));
      present -= present > 0;
    } else if (what == 3) {
      ck_assert (sp_book_redo (book) == (present + 1 < hashes->len));
      present += present + 1 < hashes->len;
    } else if (what == 4)
      good (sp_book_save (book, &error));
    else {
      good (sp_book_save (book, &error));
      sp_book_close (book);
      book = good_book (sp_book_open (path, &error));
    }
    ck_assert_str_eq (sp_book_bench (book)->sha256, hashes->pdata[present]);
    ck_assert ((sp_book_redo_label (book) != NULL) == (present + 1 < hashes->len));
  }
  sp_book_close (book);
  check_answer (path, "PRAGMA integrity_check", "ok");
  check_answer (path, "SELECT count(*) FROM part WHERE sha256 NOT IN (SELECT sha256 FROM used)", "0");
}
END_TEST

START_TEST (bytes_once)
{
  g_autofree char *path = shelf_path ("once.benchbook");
  GString *rows = g_string_new ("Frequency (Hz),Level (dBm)\n");
  for (guint i = 0; i < 60000; i++)
    g_string_append_printf (rows, "%u,-%u.25\n", 1000 + i, 50 + i % 40);
  g_autoptr (GBytes) long_bytes = g_string_free_to_bytes (rows);
  g_autoptr (SpTrace) trace = sp_trace_read_bytes (long_bytes, "long.csv", NULL, &error);
  sp_no_error (error);
  g_autoptr (SpBench) with = good_bench (sp_bench_add_sweep (bench, 0, SP_PURPOSE_KEYED, trace, NAN, &error));
  g_autoptr (SpBook) book = sp_book_new (with);
  good (sp_book_save_as (book, path, &error));
  GStatBuf one, other;
  ck_assert_int_eq (g_stat (path, &one), 0);
  ck_assert_int_gt (one.st_size, (goffset) g_bytes_get_size (long_bytes));
  for (guint i = 0; i < 20; i++) {
    g_autofree char *title = g_strdup_printf ("Title %u", i);
    g_autoptr (SpBench) next = good_bench (sp_bench_set (sp_book_bench (book), "title", title, &error));
    sp_book_edit (book, next, "Title");
    good (sp_book_save (book, &error));
  }
  ck_assert_int_eq (g_stat (path, &other), 0);
  ck_assert_int_lt (other.st_size - one.st_size, 200000); /* twenty sheets, and not twenty sweeps */
  sp_book_close (g_steal_pointer (&book));
  check_answer (path, "SELECT count(*) FROM raw", "8"); /* k1 k2 s10 s20 a_b room, the two-port, long: named ten times */
}
END_TEST

/* The oldest of more than a thousand states goes, and what only it used. */
START_TEST (thousand_states)
{
  g_autofree char *path = shelf_path ("long.benchbook");
  g_autoptr (SpBench) less = good_bench (sp_bench_remove_sweep (bench, 1, 1, &error)); /* without s20.csv */
  SpBook *book = sp_book_new (bench);
  good (sp_book_save_as (book, path, &error));
  for (guint i = 0; i < SP_BOOK_STATES_MAX - 1; i++) {
    g_autofree char *title = g_strdup_printf ("Title %u", i);
    g_autoptr (SpBench) next = good_bench (sp_bench_set (less, "title", title, &error));
    sp_book_edit (book, next, title);
  }
  good (sp_book_save (book, &error));
  sp_book_close (book);
  check_answer (path, "SELECT count(*) FROM state", "1000");
  check_answer (path, "SELECT count(*) FROM raw", "7");
  book = good_book (sp_book_open (path, &error));
  sp_book_edit (book, less, "Last");
  good (sp_book_save (book, &error));
  sp_book_close (book);
  check_answer (path, "SELECT count(*) FROM state", "1000");
  check_answer (path, "SELECT count(*) FROM raw", "6");
  check_answer (path, "PRAGMA integrity_check", "ok");
  check_answer (path, "PRAGMA freelist_count", "0");
  book = good_book (sp_book_open (path, &error));
  guint back = 0;
  while (sp_book_undo (book))
    back++;
  ck_assert_uint_eq (back, SP_BOOK_STATES_MAX - 1);
  ck_assert_str_eq (sp_book_bench (book)->title, "Title 0");
  sp_book_close (book);
}
END_TEST

/* ---- save as ---- */

START_TEST (under_another_name)
{
  g_autofree char *a = shelf_path ("a.benchbook"), *b = shelf_path ("b.benchbook"), *nowhere = shelf_path ("no/such/c.benchbook");
  g_autofree char *text = shelf_path ("k1.csv"), *journal = shelf_path ("b.benchbook-journal");
  SpBook *book = sp_book_new (bench);
  g_autoptr (SpBench) one = numbered (1);
  g_autoptr (SpBench) two = numbered (2);
  good (sp_book_save_as (book, a, &error));
  sp_book_edit (book, one, "One");
  put ("b.benchbook-journal", "a stranger's notes");
  ck_assert (!sp_book_save_as (book, b, &error) && strstr (error->message, "b.benchbook-journal")
             && g_file_test (journal, G_FILE_TEST_EXISTS));
  g_clear_error (&error);
  put ("b.benchbook-journal", "\xd9\xd5\x05\xf9\x20\xa1\x63\xd7 of a book that was moved away and may need it");
  ck_assert (!sp_book_save_as (book, b, &error) && strstr (error->message, "b.benchbook-journal")
             && g_file_test (journal, G_FILE_TEST_EXISTS));
  g_clear_error (&error);
  put ("b.benchbook-journal", "");          /* left behind by a book that is no more */
  good (sp_book_save_as (book, b, &error)); /* with the history, and the edit that a never saw */
  ck_assert_str_eq (sp_book_path (book), b);
  ck_assert (!sp_book_unsaved (book) && !g_file_test (journal, G_FILE_TEST_EXISTS));
  check_answer (a, "SELECT count(*) FROM state", "1");

  g_autofree char *before = snapshot ();
  ck_assert (!sp_book_save_as (book, text, &error) && g_error_matches (error, SP_BOOK_ERROR, SP_BOOK_ERROR_FOREIGN));
  g_clear_error (&error);
  ck_assert (!sp_book_save_as (book, folder, &error) && g_error_matches (error, SP_BOOK_ERROR, SP_BOOK_ERROR_FOREIGN));
  g_clear_error (&error);
  ck_assert (!sp_book_save_as (book, nowhere, &error) && g_error_matches (error, SP_BOOK_ERROR, SP_BOOK_ERROR_IO));
  g_clear_error (&error);
  g_autoptr (SpBook) other = good_book (sp_book_open (a, &error));
  ck_assert (!sp_book_save_as (book, a, &error) && g_error_matches (error, SP_BOOK_ERROR, SP_BOOK_ERROR_LOCKED));
  g_clear_error (&error);
  g_autofree char *after = snapshot ();
  ck_assert_str_eq (after, before);
  ck_assert_str_eq (sp_book_path (book), b);
  sp_book_close (g_steal_pointer (&other));

  sp_book_edit (book, two, "Two");
  good (sp_book_save_as (book, b, &error)); /* its own name: saved */
  good (sp_book_save_as (book, a, &error)); /* a book is replaced */
  sp_book_close (book);
  book = good_book (sp_book_open (a, &error));
  check_equal (sp_book_bench (book), two);
  ck_assert (sp_book_undo (book) && sp_book_undo (book));
  check_equal (sp_book_bench (book), bench);
  sp_book_close (book);
}
END_TEST

/* Saving fails where the file may not grow: nothing has changed, and once it may, it is saved. */
START_TEST (no_room)
{
  g_autofree char *path = shelf_path ("full.benchbook");
  GString *rows = g_string_new ("Frequency (Hz),Level (dBm)\n");
  for (guint i = 0; i < 20000; i++)
    g_string_append_printf (rows, "%u,-%u.25\n", 1000 + i, 50 + i % 40);
  g_autoptr (GBytes) bytes = g_string_free_to_bytes (rows);
  g_autoptr (SpTrace) trace = sp_trace_read_bytes (bytes, "long.csv", NULL, &error);
  g_autoptr (SpBench) with = good_bench (sp_bench_add_sweep (bench, 0, SP_PURPOSE_KEYED, trace, NAN, &error));
  SpBook *book = sp_book_new (bench);
  good (sp_book_save_as (book, path, &error));
  g_autofree char *bytes_before = NULL, *bytes_after = NULL;
  gsize length_before, length_after;
  ck_assert (g_file_get_contents (path, &bytes_before, &length_before, NULL));
  sp_book_edit (book, with, "More");
  struct rlimit was, tight;
  getrlimit (RLIMIT_FSIZE, &was);
  tight = (struct rlimit){ length_before + 8192, was.rlim_max };
  signal (SIGXFSZ, SIG_IGN);
  setrlimit (RLIMIT_FSIZE, &tight);
  gboolean saved = sp_book_save (book, &error);
  g_autofree char *other = shelf_path ("other.benchbook");
  g_autoptr (GError) as_error = NULL;
  gboolean saved_as = sp_book_save_as (book, other, &as_error);
  setrlimit (RLIMIT_FSIZE, &was);
  ck_assert (!saved && g_error_matches (error, SP_BOOK_ERROR, SP_BOOK_ERROR_IO));
  ck_assert (!saved_as && g_error_matches (as_error, SP_BOOK_ERROR, SP_BOOK_ERROR_IO));
  ck_assert (!g_file_test (other, G_FILE_TEST_EXISTS));
  g_clear_error (&error);
  ck_assert (g_file_get_contents (path, &bytes_after, &length_after, NULL));
  ck_assert (length_after == length_before && memcmp (bytes_before, bytes_after, length_after) == 0);
  ck_assert (sp_book_unsaved (book));
  good (sp_book_save (book, &error));
  sp_book_close (book);
  book = good_book (sp_book_open (path, &error));
  check_equal (sp_book_bench (book), with);
  sp_book_close (book);
}
END_TEST

/* ---- pack and unpack ---- */

static void
check_same_bytes (const char *a, const char *b)
{
  g_autofree char *one = NULL, *other = NULL;
  gsize n, m;
  ck_assert (g_file_get_contents (a, &one, &n, NULL) && g_file_get_contents (b, &other, &m, NULL));
  ck_assert_msg (n == m && memcmp (one, other, n) == 0, "%s and %s differ", a, b);
}

START_TEST (pack_and_unpack)
{
  static const char *const raws[][2] = { { "lead wire.s2p", "02-lead_wire.s2p" },
                                         { "room.csv", "04-room.csv" },
                                         { "k1.csv", "05-k1.csv" },
                                         { "k2.csv", "06-k2.csv" },
                                         { "s10.csv", "10-s10.csv" },
                                         { "s20.csv", "11-s20.csv" },
                                         { "a b;c?.csv", "12-a_b_c_.csv" } };
  g_autofree char *sheet = shelf_path ("night.sheet"), *path = shelf_path ("a.benchbook"), *out = shelf_path ("out"),
                  *again = shelf_path ("again");
  g_autofree char *unpacked = shelf_path ("out/bench.sheet"), *again_sheet = shelf_path ("again/bench.sheet"),
                  *second = shelf_path ("b.benchbook");
  good (sp_book_pack (sheet, path, &error));
  good (sp_book_unpack (path, out, &error));
  for (guint i = 0; i < G_N_ELEMENTS (raws); i++) {
    g_autofree char *from = shelf_path (raws[i][0]), *to = g_build_filename (out, "raw", raws[i][1], NULL);
    check_same_bytes (from, to);
  }
  g_autoptr (SpBench) read = good_bench (sp_bench_read (unpacked, &error));
  check_equal (read, bench);
  good (sp_book_pack (unpacked, second, &error));
  ck_assert_int_eq (g_mkdir (again, 0777), 0); /* an empty folder will do */
  good (sp_book_unpack (second, again, &error));
  check_same_bytes (unpacked, again_sheet);
  for (guint i = 0; i < G_N_ELEMENTS (raws); i++) {
    g_autofree char *from = g_build_filename (out, "raw", raws[i][1], NULL), *to = g_build_filename (again, "raw", raws[i][1], NULL);
    check_same_bytes (from, to);
  }
  g_autofree char *before = snapshot ();
  ck_assert (!sp_book_unpack (path, out, &error) && strstr (error->message, "not empty"));
  g_clear_error (&error);
  ck_assert (!sp_book_unpack (path, sheet, &error));
  g_clear_error (&error);
  ck_assert (!sp_book_pack (sheet, unpacked, &error) && g_error_matches (error, SP_BOOK_ERROR, SP_BOOK_ERROR_FOREIGN));
  g_clear_error (&error);
  g_autofree char *after = snapshot ();
  ck_assert_str_eq (after, before);
}
END_TEST

/* Whatever a name is, it is a name: nothing is written outside DIR, and nothing in it is a link, hidden or above. */
START_TEST (names_are_data)
{
  static const char *const names[] = {
    "../../evil.csv", "/etc/evil.csv",    "..", ".", "", "a\\..\\evil.csv", "-rf", "x\ny", "con:aux|?*", ".hidden",
    "\xff\xfe",       "caf\xc3\xa9 1.csv"
  };
  g_autofree char *path = shelf_path ("evil.benchbook"), *out = shelf_path ("deep"), *raw = shelf_path ("deep/raw");
  g_autoptr (SpBench) now = sp_bench_ref (bench);
  for (guint i = 0; i < G_N_ELEMENTS (names); i++) {
    g_autofree char *text = g_strdup_printf ("Frequency (Hz),Level (dBm)\n1000,-80\n2000,-81.%u\n", i);
    g_autoptr (GBytes) bytes = g_bytes_new (text, strlen (text));
    g_autoptr (SpTrace) trace = sp_trace_read_bytes (bytes, names[i], NULL, &error);
    sp_no_error (error);
    SpBench *more = good_bench (sp_bench_add_sweep (now, 0, SP_PURPOSE_KEYED, trace, NAN, &error));
    sp_bench_unref (now);
    now = more;
  }
  g_autoptr (SpBook) book = sp_book_new (now);
  good (sp_book_save_as (book, path, &error));
  sp_book_close (g_steal_pointer (&book));
  alter (
      path,
      "UPDATE state SET sheet = replace (sheet, '/k1.csv', '/..%2F..%2F..%2Fk1.csv'); UPDATE state SET sha256 = sha256 (sheet)"); /* a stranger's own */
  g_autofree char *before = snapshot ();
  good (sp_book_unpack (path, out, &error));
  g_autoptr (GDir) dir = g_dir_open (raw, 0, NULL);
  guint n = 0;
  for (const char *name; (name = g_dir_read_name (dir)); n++)
    ck_assert_msg (g_ascii_isdigit (name[0]) && g_ascii_isdigit (name[1]) && name[2] == '-' && !strpbrk (name, "/\\:*?\n"), "%s", name);
  ck_assert_uint_eq (n, 12 + G_N_ELEMENTS (names));
  g_autofree char *unpacked = shelf_path ("deep/bench.sheet");
  g_autoptr (SpBench) read = good_bench (sp_bench_read (unpacked, &error));
  ck_assert_str_eq (read->sha256, now->sha256);
  empty_folder (out);
  g_autofree char *after = snapshot ();
  ck_assert_str_eq (after, before);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("book");
  TCase *c = tcase_create ("book");
  tcase_set_timeout (c, 120);
  tcase_add_checked_fixture (c, set_up, tear_down);
  tcase_add_test (c, in_memory);
  tcase_add_test (c, history_kept);
  tcase_add_test (c, random_walk);
  tcase_add_test (c, bytes_once);
  tcase_add_test (c, thousand_states);
  tcase_add_test (c, under_another_name);
  tcase_add_test (c, no_room);
  tcase_add_test (c, pack_and_unpack);
  tcase_add_test (c, names_are_data);
  suite_add_tcase (s, c);
  return s;
}

SP_MAIN (suite)
