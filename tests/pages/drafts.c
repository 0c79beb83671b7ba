/* drafts.c - what is typed into a run's form and not taken: kept in a file beside the book, there again in another session, gone when it is taken */
#include "tests/pages/form-room.h"

#include "ui/window/session/drafts.h"
#include "ui/window/widgets/ask-file.h"

#define AWKWARD " # \"q\\n\" ; [x]=\\s \xc2\xb5 \xe2\x88\x92" /* what a key file might take for its own */

/* The book is opened once more, as by another start: nothing is handed over but the file. */
static SpSession *
another_session (void)
{
  return sp_session_new (sp_book_new (sp_bench_ref (sp_session_bench (session))));
}

static void
go_on_with (SpBook *book)
{
  GError *error = NULL;
  gboolean done = sp_session_set_book (session, book, &error);
  sp_no_error (error);
  ck_assert (done);
}

static const char *
kept_text (SpSession *in, const char *stage, const char *name)
{
  GHashTable *texts = sp_drafts_get (sp_session_drafts (in), sp_session_bench (in)->chain->name, stage);
  return texts ? g_hash_table_lookup (texts, name) : NULL;
}

static gboolean
is_draft (gpointer there)
{
  g_autofree char *path = draft_file (".draft");
  return (path != NULL) == GPOINTER_TO_INT (there);
}

/* It is written a moment after the last key. */
static char *
wait_for_draft (gboolean there)
{
  ck_assert_msg (sp_comes (is_draft, GINT_TO_POINTER (there)), "the draft %s", there ? "is not written" : "stays");
  return draft_file (".draft");
}

START_TEST (it_is_kept_while_one_types)
{
  choose_stage (2);
  SpRunForm *form = open_form ();
  ck_assert (!gtk_widget_get_visible (form->note));
  type_key (form, "note", AWKWARD);
  type_cell (form, 1, SP_RUN_BEFORE, "0.01@0; 0.02@1");
  g_autofree char *path = wait_for_draft (TRUE); /* the form stands open: it may be killed now */
  SpSession *other = another_session ();
  ck_assert_str_eq (kept_text (other, "thimble", "note"), AWKWARD);
  ck_assert_str_eq (kept_text (other, "thimble", "before-2"), "0.01@0; 0.02@1");
  ck_assert_ptr_null (kept_text (other, "brick", "note"));
  g_object_unref (other);
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
  close_window (GTK_WIDGET (form));
  form = open_form ();
  ck_assert_str_eq (gtk_editable_get_text (GTK_EDITABLE (entry_of (form, "note"))), AWKWARD);
  ck_assert_ptr_nonnull (strstr (says (form->note), "typed before stands here"));
  press (GTK_WIDGET (form), "Start a_new");
  ck_assert (!gtk_widget_get_visible (form->note));
  close_window (GTK_WIDGET (form));
  ck_assert_ptr_null (draft_file (".draft")); /* dropped: at once */
}
END_TEST

/* The program goes with its last window, the form with that: no time for what comes a moment later. */
START_TEST (it_is_kept_when_all_is_closed)
{
  choose_stage (1);
  SpRunForm *form = open_form ();
  type_key (form, "note", "the last key");
  gtk_window_destroy (GTK_WINDOW (form));
  g_autofree char *path = draft_file (".draft");
  ck_assert_ptr_nonnull (path);
  SpSession *other = another_session ();
  ck_assert_str_eq (kept_text (other, "brick", "note"), "the last key");
  g_object_unref (other);
}
END_TEST

START_TEST (taking_it_removes_it)
{
  choose_stage (2);
  SpRunForm *form = open_form ();
  type_cell (form, 0, SP_RUN_BEFORE, "0.01");
  type_cell (form, 0, SP_RUN_INSERTED, "-9.97; -9.98");
  g_autofree char *path = wait_for_draft (TRUE);
  press (GTK_WIDGET (form), "_Take into the stage");
  ck_assert_ptr_null (other_window ());
  ck_assert_ptr_null (draft_file (""));
  expect_edit ("Calibrate thimble by substitution");
  undo_and_compare ();
}
END_TEST

START_TEST (it_goes_with_the_book_to_another_file)
{
  g_autofree char *book = g_build_filename (home, "evening.benchbook", NULL), *before = NULL, *after = NULL;
  g_autoptr (GError) error = NULL;
  choose_stage (2);
  SpRunForm *form = open_form ();
  type_key (form, "note", "half done");
  close_window (GTK_WIDGET (form));
  before = draft_file (".draft");
  ck_assert (sp_session_save_as (session, book, &error));
  after = draft_file (".draft");
  ck_assert_str_ne (before, after);
  ck_assert (!g_file_test (before, G_FILE_TEST_EXISTS)); /* who begins with the sample again finds nothing of it */
  go_on_with (sp_book_new (sp_bench_ref (sp_session_bench (session))));
  settle ();
  ck_assert_ptr_null (kept_text (session, "thimble", "note"));
  go_on_with (sp_book_open (book, &error));
  sp_no_error (error);
  settle ();
  ck_assert_str_eq (kept_text (session, "thimble", "note"), "half done");
  go_on_with (sp_book_new (sp_bench_ref (sp_session_bench (session))));
  ck_assert_int_eq (g_unlink (book), 0);
}
END_TEST

START_TEST (it_follows_a_book_without_a_name)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *book = g_build_filename (home, "named.benchbook", NULL), *nameless = NULL, *before = NULL, *after = NULL;
  choose_stage (2);
  SpRunForm *form = open_form ();
  type_key (form, "note", "half done");
  close_window (GTK_WIDGET (form));
  type_into (SP_FIELDS (chain_page->stage_fields), "rating_w", "20");
  ck_assert (sp_session_save_now (session, &error));
  sp_no_error (error);
  ck_assert (sp_session_is_kept (session));
  nameless = g_strdup (sp_book_path (sp_session_book (session)));
  before = draft_file (".draft"); /* the only one */
  ck_assert (sp_session_save_as (session, book, &error));
  ck_assert (!sp_session_is_kept (session));
  ck_assert (!g_file_test (nameless, G_FILE_TEST_EXISTS));
  after = draft_file (".draft");
  ck_assert_str_ne (before, after);
  ck_assert (!g_file_test (before, G_FILE_TEST_EXISTS));
  ck_assert_str_eq (kept_text (session, "thimble", "note"), "half done");
  remove_drafts ();
  ck_assert_int_eq (g_unlink (book), 0);
}
END_TEST

START_TEST (it_is_called_as_its_stage_is)
{
  choose_stage (2);
  SpRunForm *form = open_form ();
  type_key (form, "note", "half done");
  close_window (GTK_WIDGET (form));
  type_into (SP_FIELDS (chain_page->stage_fields), "name", "thumb");
  type_into (SP_FIELDS (chain_page->chain_fields), "name", "Another shelf");
  ck_assert_str_eq (chain ()->stages[2]->name, "thumb");
  ck_assert_str_eq (kept_text (session, "thumb", "note"), "half done");
  form = open_form ();
  ck_assert_str_eq (gtk_editable_get_text (GTK_EDITABLE (entry_of (form, "note"))), "half done");
  press (GTK_WIDGET (form), "Start a_new");
  close_window (GTK_WIDGET (form));
  ck_assert_ptr_null (draft_file (""));
}
END_TEST

/* ---- files that are no drafts ---- */

static void
put_draft (const char *path, const char *text, gssize length)
{
  ck_assert (g_file_set_contents (path, text, length, NULL));
}

/* Opened with that file: told, put aside, and the form shows what the stage has. */
static void
expect_refused (const char *path, const char *text, gssize length)
{
  remove_drafts ();
  put_draft (path, text, length);
  go_on_with (sp_book_new (sp_bench_ref (sp_session_bench (session))));
  guint before = troubles;
  ck_assert_ptr_null (kept_text (session, "thimble", "note"));
  settle ();
  ck_assert_uint_eq (troubles, before + 1);
  g_autofree char *aside = draft_file (".draft~");
  ck_assert_ptr_nonnull (aside);
  ck_assert_ptr_null (draft_file (".draft"));
  SpRunForm *form = open_form ();
  ck_assert_str_eq (gtk_editable_get_text (GTK_EDITABLE (entry_of (form, "note"))), "");
  close_window (GTK_WIDGET (form));
}

START_TEST (what_is_no_draft_is_put_aside)
{
  g_autofree char *long_one = g_strnfill (SP_DRAFTS_BYTES_MOST + 1, '#'), *good = NULL;
  choose_stage (2);
  SpRunForm *form = open_form ();
  type_key (form, "note", "half done");
  close_window (GTK_WIDGET (form));
  g_autofree char *path = draft_file (".draft");
  ck_assert (g_file_get_contents (path, &good, NULL, NULL));
  g_autofree char *other = g_strdup_printf ("%s\n[draft]\nbook=/another/book\n", good); /* the last one of a group counts */
  expect_refused (path, long_one, -1);
  expect_refused (path, "a letter to a friend\n", -1);
  expect_refused (path, "", 0);
  expect_refused (path, "\0\0\xff\xfe[run", 9);
  expect_refused (path, other, -1);
  remove_drafts ();
  ck_assert_int_eq (g_mkdir (path, 0700), 0);
  guint before = troubles;
  go_on_with (sp_book_new (sp_bench_ref (sp_session_bench (session))));
  ck_assert_ptr_null (kept_text (session, "thimble", "note"));
  settle ();
  ck_assert_uint_eq (troubles, before + 1);
}
END_TEST

/* Of this book by its head, and nonsense in it: no more than texts in entries comes of it. */
START_TEST (nonsense_in_a_draft_is_text)
{
  g_autoptr (GString) text = g_string_new (NULL);
  g_autofree char *good = NULL, *huge = g_strnfill (70000, 'x');
  choose_stage (2);
  SpRunForm *form = open_form ();
  type_key (form, "note", "half done");
  close_window (GTK_WIDGET (form));
  g_autofree char *path = draft_file (".draft");
  ck_assert (g_file_get_contents (path, &good, NULL, NULL));
  char *cut = strstr (good, "\n[run");
  ck_assert_ptr_nonnull (cut);
  *cut = 0;
  g_string_append_printf (text, "%s\n[run 1]\nchain=%s\nstage=thimble\nleftover=[not\\na key file\nnote=%s\nextra=\xff\xfe\ndate=1\\n2\n",
                          good, chain ()->name, huge);
  for (guint i = 1; i <= 300; i++)
    g_string_append_printf (text, "frequency-%u=%u\n", i, i);
  g_string_append (text, "[run 2]\n[empty]\nstage=\n");
  put_draft (path, text->str, -1);
  go_on_with (sp_book_new (sp_bench_ref (sp_session_bench (session))));
  settle ();
  form = open_form ();
  ck_assert_uint_eq (form->table.rows->len, SP_FORM_ROWS);
  ck_assert_str_eq (shown_cell (form, 199, SP_RUN_FREQUENCY), "200");
  ck_assert_ptr_null (form->leftover);
  ck_assert_str_eq (gtk_editable_get_text (GTK_EDITABLE (entry_of (form, "note"))), "");
  ck_assert_uint_eq (troubles, 0);
  close_window (GTK_WIDGET (form));
}
END_TEST

/* ---- no more than 200 frequencies ---- */

static char *
run_of (guint frequencies)
{
  g_autoptr (GString) text = g_string_new ("[run]\nstage=thimble\n");
  char *path = g_build_filename (home, "many.run", NULL);
  for (guint i = 0; i < frequencies; i++)
    g_string_append_printf (text, "[at %uMHz]\nbefore=0.01\ninserted=-9.97; -9.98\n", i + 1);
  ck_assert (g_file_set_contents (path, text->str, -1, NULL));
  return path;
}

START_TEST (more_than_the_form_has_is_said)
{
  g_autofree char *most = run_of (SP_FORM_ROWS);
  choose_stage (2);
  SpRunForm *form = open_form ();
  sp_ask_file_answer (g_file_new_for_path (most));
  press (GTK_WIDGET (form), "_Open a run\xe2\x80\xa6");
  ck_assert_uint_eq (form->result->n, SP_FORM_ROWS); /* whole */
  ck_assert_ptr_nonnull (strstr (says (form->note), "At most 200"));
  press (GTK_WIDGET (form), "Start a_new");
  guint rows = form->table.rows->len;
  g_autofree char *more = run_of (SP_FORM_ROWS + 1);
  sp_ask_file_answer (g_file_new_for_path (more));
  press (GTK_WIDGET (form), "_Open a run\xe2\x80\xa6");
  ck_assert_ptr_nonnull (find (GTK_WIDGET (form), is_trouble, "201 frequencies, more than the 200"));
  ck_assert_uint_eq (form->table.rows->len, rows); /* none of it */
  sp_ask_file_answer (g_file_new_for_path (most));
  g_signal_emit_by_name (find (GTK_WIDGET (form), is_button, "_Open a run\xe2\x80\xa6"), "clicked");
  type_key (form, "note", "meanwhile"); /* while it is read */
  settle ();
  ck_assert_ptr_nonnull (find (GTK_WIDGET (form), is_trouble, "typed while the file was read"));
  ck_assert_str_eq (gtk_editable_get_text (GTK_EDITABLE (entry_of (form, "note"))), "meanwhile");
  press (GTK_WIDGET (form), "Start a_new");
  sp_ask_file_answer (g_file_new_for_path (more));
  g_signal_emit_by_name (find (GTK_WIDGET (form), is_button, "_Open a run\xe2\x80\xa6"), "clicked");
  close_window (GTK_WIDGET (form)); /* while it is read: nothing comes of it */
  sp_ask_file_answer (g_file_new_for_path (more));
  act ("chain.take-file");
  expect_edit ("Take the loss of thimble from a file");
  ck_assert_uint_eq (chain ()->stages[2]->run->at->len, SP_FORM_ROWS + 1);
  form = open_form ();
  ck_assert_ptr_nonnull (strstr (says (form->note), "run has 201 frequencies"));
  ck_assert (!can_take (form));
  close_window (GTK_WIDGET (form));
  act ("chain.keep-points");
  form = open_form ();
  ck_assert_ptr_nonnull (strstr (says (form->note), "Of the 201 frequencies"));
  close_window (GTK_WIDGET (form));
  sp_session_undo (session);
  undo_and_compare ();
  ck_assert_int_eq (g_unlink (more), 0);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("drafts");
  TCase *t = tcase_create ("drafts");
  tcase_add_checked_fixture (t, open_without_drafts, tear_down);
  tcase_add_test (t, it_is_kept_while_one_types);
  tcase_add_test (t, it_is_kept_when_all_is_closed);
  tcase_add_test (t, taking_it_removes_it);
  tcase_add_test (t, it_goes_with_the_book_to_another_file);
  tcase_add_test (t, it_follows_a_book_without_a_name);
  tcase_add_test (t, it_is_called_as_its_stage_is);
  tcase_add_test (t, what_is_no_draft_is_put_aside);
  tcase_add_test (t, nonsense_in_a_draft_is_text);
  tcase_add_test (t, more_than_the_form_has_is_said);
  suite_add_tcase (s, t);
  return s;
}

PAGES_MAIN (suite)
