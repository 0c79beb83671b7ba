/* pictures.c - photographs put on the bench, beside a radio and over the papers: chosen, dropped, described, taken off, undone; and refused */
#include "tests/pages/chain-room.h"
#include "tests/picture/made.h"

#include <glib/gstdio.h>

#include "ui/picture/coder.h"
#include "ui/window/dialogs/bench-dialog.h"
#include "ui/window/dialogs/condition-dialog.h"
#include "ui/window/dialogs/paper-words.h"
#include "ui/window/import/import.h"
#include "ui/window/pages/compare-page.h"
#include "ui/window/widgets/ask-file.h"
#include "ui/window/widgets/dialog.h"
#include "ui/window/widgets/pictures.h"

static char *folder, *photograph, *broken, *words;

static char *
laid (const char *name, const void *bytes, gsize length)
{
  char *path = g_build_filename (folder, name, NULL);
  ck_assert (g_file_set_contents (path, bytes, (gssize) length, NULL));
  return path;
}

static void
lay_files (void)
{
  static const char report[] = "[report]\ntitle=An evening of theirs\nintroduction=One.\\nTwo.\nletterhead=shed.jpg\n";
  g_autoptr (GByteArray) jpeg = picture_bytes (64, 48, "jpeg", FALSE, FALSE);
  sp_picture_start ();
  folder = g_dir_make_tmp ("pictures-XXXXXX", NULL);
  put_exif (jpeg, 6);
  photograph = laid ("shed.jpg", jpeg->data, jpeg->len);
  broken = laid ("half.jpg", jpeg->data, jpeg->len / 2);
  words = laid ("club.report", report, strlen (report));
}

static void
open_page (void)
{
  lay_files ();
  open_with (sp_compare_page_new);
}

static void
open_stages (void)
{
  lay_files ();
  open_chain ();
}

static void
close_page (void)
{
  char *paths[] = { photograph, broken, words };
  for (guint i = 0; i < G_N_ELEMENTS (paths); i++) {
    g_remove (paths[i]);
    g_free (paths[i]);
  }
  g_rmdir (folder);
  g_free (folder);
  tear_down ();
}

static SpDialog *
the_dialog (void)
{
  GListModel *all = gtk_window_get_toplevels ();
  settle ();
  for (guint i = 0; i < g_list_model_get_n_items (all); i++) {
    g_autoptr (GtkWidget) one = g_list_model_get_item (all, i);
    if (SP_IS_DIALOG (one))
      return SP_DIALOG (one);
  }
  ck_abort_msg ("no dialog is open");
}

static void
press (SpDialog *dialog, const char *label)
{
  GtkWidget *button = find (GTK_WIDGET (dialog), is_button, label);
  ck_assert_msg (button != NULL, "no button %s", label);
  g_signal_emit_by_name (button, "clicked");
  settle ();
}

static const SpBench *
bench (void)
{
  return sp_session_bench (session);
}

static void
import (const char *path, int condition)
{
  g_autoptr (GListStore) files = g_list_store_new (G_TYPE_FILE);
  g_autoptr (GFile) file = g_file_new_for_path (path);
  g_list_store_append (files, file);
  sp_import_begin (GTK_WINDOW (window), session, G_LIST_MODEL (files), condition);
  settle ();
}

static gboolean
is_list (GtkWidget *widget, const char *text)
{
  (void) text;
  return SP_IS_PICTURES (widget);
}

static void
say (SpPictures *list, const char *text)
{
  GtkWidget *entry = sp_pictures_entry (list, 0);
  ck_assert_ptr_nonnull (entry);
  gtk_editable_set_text (GTK_EDITABLE (entry), text);
  g_signal_emit_by_name (entry, "activate");
  settle ();
}

static const char *
said (SpPictures *list)
{
  return gtk_editable_get_text (GTK_EDITABLE (sp_pictures_entry (list, 0)));
}

/* Chosen in the form, described, undone word by word, taken off. */
START_TEST (in_a_form)
{
  for (guint of_radio = 0; of_radio < 2; of_radio++) {
    if (of_radio)
      sp_condition_dialog_present (GTK_WINDOW (window), session, 1);
    else
      sp_bench_dialog_present (GTK_WINDOW (window), session);
    SpDialog *dialog = the_dialog ();
    SpPictures *list = SP_PICTURES (find (GTK_WIDGET (dialog), is_list, NULL));
    sp_ask_file_answer (g_file_new_for_path (photograph));
    press (dialog, "Add pictures\xe2\x80\xa6");
    const SpRadio *radio = &bench ()->radios[bench ()->conditions[1].radio];
    const GArray *pictures = of_radio ? radio->pictures : bench ()->pictures;
    ck_assert (pictures && pictures->len == 1 && !(of_radio ? bench ()->pictures : radio->pictures));
    const SpPicture *kept = g_array_index (pictures, SpCaptioned, 0).picture;
    ck_assert (kept->width == 48 && !has_words (g_bytes_get_data (kept->bytes, NULL), g_bytes_get_size (kept->bytes), PLACE));
    say (list, "The shed, from the door");
    pictures = of_radio ? bench ()->radios[bench ()->conditions[1].radio].pictures : bench ()->pictures;
    ck_assert_str_eq (g_array_index (pictures, SpCaptioned, 0).caption, "The shed, from the door");
    sp_session_undo (session);
    settle ();
    ck_assert_str_eq (said (list), "");
    sp_session_redo (session);
    settle ();
    ck_assert_str_eq (said (list), "The shed, from the door");
    g_signal_emit_by_name (find (GTK_WIDGET (list), is_button, "Remove"), "clicked");
    settle ();
    ck_assert (!bench ()->pictures && !bench ()->radios[bench ()->conditions[1].radio].pictures && !sp_pictures_entry (list, 0));
    for (guint i = 0; i < 3; i++)
      sp_session_undo (session);
    settle ();
    ck_assert_str_eq (bench ()->sha256, hash);
    gtk_window_destroy (GTK_WINDOW (dialog));
  }
  ck_assert_uint_eq (troubles, 0);
}
END_TEST

/* On a radio's row it is the radio's, elsewhere the bench's; a broken one is told and leaves all as it is. */
START_TEST (dropped)
{
  guint radio = bench ()->conditions[2].radio;
  import (photograph, 2);
  ck_assert (bench ()->radios[radio].pictures && !bench ()->pictures);
  import (photograph, -1);
  ck_assert (bench ()->pictures && bench ()->pictures->len == 1);
  import (photograph, -1);
  ck_assert_uint_eq (bench ()->pictures->len, 2);
  const SpBench *before = bench ();
  import (broken, -1);
  ck_assert (bench () == before && troubles == 1);
}
END_TEST

START_TEST (a_letterhead)
{
  sp_paper_words_present (GTK_WINDOW (window), session);
  SpDialog *dialog = the_dialog ();
  sp_ask_file_answer (g_file_new_for_path (photograph));
  press (dialog, "Choose\xe2\x80\xa6");
  ck_assert_ptr_nonnull (bench ()->letterhead);
  ck_assert_ptr_nonnull (find (GTK_WIDGET (dialog), is_label, "shed.jpg"));
  press (dialog, "Remove");
  ck_assert_ptr_null (bench ()->letterhead);
  sp_session_undo (session);
  ck_assert_ptr_nonnull (bench ()->letterhead);
  gtk_window_destroy (GTK_WINDOW (dialog));
}
END_TEST

/* A report's file is offered; taken, its words stand in the form as lines. */
START_TEST (a_reports_words)
{
  import (words, -1);
  GListModel *all = gtk_window_get_toplevels ();
  GtkWidget *use = NULL;
  for (guint i = 0; i < g_list_model_get_n_items (all) && !use; i++) {
    g_autoptr (GtkWidget) one = g_list_model_get_item (all, i);
    use = find (one, is_button, "Use it");
  }
  ck_assert_ptr_nonnull (use);
  g_signal_emit_by_name (use, "clicked");
  settle ();
  ck_assert (bench ()->document && strcmp (bench ()->document->introduction, "One.\nTwo.") == 0);
  sp_paper_words_present (GTK_WINDOW (window), session);
  SpDialog *dialog = the_dialog ();
  GtkTextBuffer *lines = gtk_text_view_get_buffer (GTK_TEXT_VIEW (sp_fields_widget (dialog->forms->pdata[0], "introduction")));
  ck_assert_int_eq (gtk_text_buffer_get_line_count (lines), 2);
  ck_assert_ptr_nonnull (find (GTK_WIDGET (dialog), is_label, "shed.jpg"));
  press (dialog, "Remove");
  ck_assert (!sp_bench_letterhead (bench ()) && bench ()->document->introduction != NULL);
  sp_session_undo (session);
  ck_assert (sp_bench_letterhead (bench ())->width == bench ()->document->letterhead->width);
  gtk_window_destroy (GTK_WINDOW (dialog));
  sp_session_undo (session);
  ck_assert_ptr_null (bench ()->document);
}
END_TEST

/* On the chain's page: the file that is chosen for a stage is its picture by its ending, and nothing of its loss. */
START_TEST (of_a_stage)
{
  SpPictures *list = chain_page->pictures;
  choose_stage (1);
  sp_chain_take_file_at (session, chain_page->place, 1, g_file_new_for_path (photograph));
  settle ();
  ck_assert_uint_eq (chain ()->stages[1]->pictures->len, 1);
  say (list, "Its label");
  ck_assert_str_eq (g_array_index (chain ()->stages[1]->pictures, SpCaptioned, 0).caption, "Its label");
  choose_stage (0);
  ck_assert_ptr_null (sp_pictures_entry (list, 0));
  choose_stage (1);
  ck_assert_str_eq (said (list), "Its label");
  g_signal_emit_by_name (find (GTK_WIDGET (list), is_button, "Remove"), "clicked");
  settle ();
  ck_assert_ptr_null (chain ()->stages[1]->pictures);
  for (guint i = 0; i < 3; i++)
    sp_session_undo (session);
  settle ();
  ck_assert_str_eq (bench ()->sha256, hash);
  ck_assert_uint_eq (troubles, 0);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("pictures in the window");
  TCase *t = tcase_create ("pictures");
  tcase_add_checked_fixture (t, open_page, close_page);
  tcase_add_test (t, in_a_form);
  tcase_add_test (t, dropped);
  tcase_add_test (t, a_letterhead);
  tcase_add_test (t, a_reports_words);
  suite_add_tcase (s, t);
  t = tcase_create ("chain");
  tcase_add_checked_fixture (t, open_stages, close_page);
  tcase_add_test (t, of_a_stage);
  suite_add_tcase (s, t);
  return s;
}

PAGES_MAIN (suite)
