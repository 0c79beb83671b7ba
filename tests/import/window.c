/* The import window in a display: files come in, are corrected, asked for, taken in one edit and taken back. */
#include "tests/import/sheet.h"

/* ---- tests ---- */

START_TEST (the_sample_comes_in_by_one_edit)
{
  static const char bad[] = "Frequency (MHz),Level (dBm)\n1,-50\n2,oops\n3,-50\n";
  char *paths[] = { sample_file ("brundlow.dat"), sample_file ("vaskerry.csv"), sample_file ("zelbridor.csv"), write_file ("bad.csv", bad),
                    NULL };
  open_files ("samples/blank.sheet", -1, paths);
  ck_assert_uint_eq (sp_import_window_count (sheet), 6); /* three columns in one */
  ck_assert_str_eq (gtk_button_get_label (GTK_BUTTON (sheet->accept)), "Import 5 sweeps");
  ck_assert_ptr_nonnull (strstr (item_named ("bad.csv")->error, "bad.csv:3:3: "));
  choose ("zelbridor.csv");
  enter (sheet->settings, "rbw", "wide");
  ck_assert_ptr_nonnull (find (sheet->settings, is_trouble, "rbw=wide"));
  ck_assert_double_eq (item_named ("zelbridor.csv")->trace->settings.rbw_hz, 10e3);
  enter (sheet->settings, "rbw", "30 kHz");
  ck_assert_ptr_null (find (sheet->settings, is_trouble, ""));
  ck_assert_double_eq (item_named ("zelbridor.csv")->trace->settings.rbw_hz, 30e3);
  accept_all ();
  ck_assert_ptr_null (sheet);
  expect_edit ("Import 5 sweeps");
  const SpBench *bench = sp_session_bench (session);
  ck_assert_uint_eq (bench->n_radios, 3);
  ck_assert_str_eq (bench->radios[2].name, "Zelbridor");
  ck_assert_uint_eq (bench->conditions[1].n_sweeps, 3);
  ck_assert_str_eq (bench->conditions[1].sweeps[2].trace->options, "column=4");
  ck_assert_str_eq (bench->conditions[2].sweeps[0].trace->options, "rbw=30000");
  undo_and_compare ();
  close_all ();
}
END_TEST

/* Every sweep is read again from the bytes in the book, by its own options. */
START_TEST (what_came_in_is_in_the_book)
{
  char *paths[] = { sample_file ("vaskerry.csv"), sample_file ("dornimel-70cm.dat"), NULL };
  g_autofree char *path = g_build_filename (folder, "a.benchbook", NULL), *before = NULL;
  g_autoptr (GError) error = NULL;
  open_files ("samples/blank.sheet", -1, paths);
  enter (first_ask (), "rbw", "300kHz");
  accept_all ();
  before = g_strdup (sp_session_bench (session)->sha256);
  ck_assert_msg (sp_session_save_as (session, path, &error), "%s", error ? error->message : "");
  close_all ();
  SpBook *book = sp_book_open (path, &error);
  sp_no_error (error);
  ck_assert_str_eq (sp_book_bench (book)->sha256, before);
  sp_book_close (book);
}
END_TEST

START_TEST (what_a_shape_lacks_is_asked_once)
{
  char *paths[] = { write_sweep ("a.csv", "", -10), write_sweep ("b.csv", "", -11), write_sweep ("c.csv", "RBW,10 kHz\n", -12), NULL };
  open_files ("samples/blank.sheet", -1, paths);
  ck_assert (gtk_widget_get_visible (sheet->asks_scrolled));
  const char *text = gtk_label_get_text (GTK_LABEL (gtk_widget_get_first_child (sheet->asks_box)));
  ck_assert_msg (strstr (text, "2 files of this shape") && strstr (text, "Frequency (MHz), Level (dBm)"), "%s", text);
  enter (first_ask (), "rbw", "high");
  ck_assert_ptr_nonnull (find (first_ask (), is_trouble, "rbw=high"));
  enter (first_ask (), "rbw", "3 kHz");
  enter (first_ask (), "attenuation", "20");
  ck_assert_str_eq (item_named ("a.csv")->trace->options, "rbw=3000&attenuation=20");
  ck_assert_str_eq (item_named ("b.csv")->trace->options, "rbw=3000&attenuation=20");
  ck_assert_str_eq (item_named ("c.csv")->trace->options, ""); /* another shape: it says its RBW */
  ck_assert_str_eq (gtk_editable_get_text (GTK_EDITABLE (sp_fields_widget (SP_FIELDS (first_ask ()), "rbw"))), "3kHz");
  close_all ();

  char *later[] = { write_sweep ("d.csv", "", -13), NULL };
  open_files ("samples/blank.sheet", -1, later);
  text = gtk_label_get_text (GTK_LABEL (gtk_widget_get_first_child (sheet->asks_box)));
  ck_assert_msg (strstr (text, "d.csv does not say: RBW, attenuation") && strstr (text, "as at the last import"), "%s", text);
  ck_assert_str_eq (item_named ("d.csv")->trace->options, "rbw=3000&attenuation=20");
  enter (first_ask (), "rbw", "");
  enter (first_ask (), "attenuation", "");
  ck_assert_str_eq (item_named ("d.csv")->trace->options, ""); /* forgotten too */
  close_all ();
  char *last[] = { write_sweep ("e.csv", "", -14), NULL };
  open_files ("samples/blank.sheet", -1, last);
  ck_assert_str_eq (item_named ("e.csv")->trace->options, "");
  close_all ();
}
END_TEST

/* The date is told before it is taken, comes with the sweeps in one edit, and goes with them. */
START_TEST (a_new_bench_is_dated_by_its_exports)
{
  char *stated[] = { write_sweep ("a.csv", "Date,2026-11-27\nRBW,10 kHz\n", -10),
                     write_sweep ("b.csv", "Date,2026-11-28\nRBW,10 kHz\n", -11), NULL };
  open_files ("samples/blank.sheet", -1, stated);
  ck_assert_ptr_nonnull (strstr (gtk_label_get_text (GTK_LABEL (sheet->progress_text)), "dated 2026-11-28, as the exports say"));
  accept_all ();
  ck_assert_str_eq (sp_session_bench (session)->date, "2026-11-28");
  undo_and_compare ();
  close_all ();
  char *silent[] = { write_sweep ("c.csv", "RBW,10 kHz\n", -12), NULL };
  GDate today;
  g_date_clear (&today, 1);
  g_date_set_time_t (&today, time (NULL)); /* it was written just now */
  open_files ("samples/blank.sheet", -1, silent);
  ck_assert_ptr_nonnull (strstr (gtk_label_get_text (GTK_LABEL (sheet->progress_text)), "no export states a day"));
  accept_all ();
  ck_assert_double_le (fabs (sp_session_bench (session)->date_day - g_date_get_julian (&today)), 1);
  close_all ();
  char *late[] = { write_sweep ("d.csv", "Date,2027-01-01\nRBW,10 kHz\n", -13), NULL };
  open_files ("samples/club.sheet", -1, late);
  accept_all ();
  ck_assert_str_eq (sp_session_bench (session)->date, "2026-11-28"); /* it has a date */
  close_all ();
}
END_TEST

START_TEST (names_come_by_words_or_by_a_pattern)
{
  char *paths[] = { write_sweep ("loft_mirrick.csv", "", -10), write_sweep ("room.csv", "", -90),
                    write_sweep ("6m_mirrick_unkeyed.csv", "", -91), NULL };
  open_files ("samples/blank.sheet", -1, paths);
  goes_to ("loft_mirrick.csv", "Loft", "mirrick", SP_PURPOSE_KEYED);
  goes_to ("room.csv", "", "", SP_PURPOSE_UNKEYED);
  gtk_editable_set_text (GTK_EDITABLE (sheet->pattern), "{condition}_{model}");
  wait_until (is_ready);
  ck_assert (gtk_widget_get_visible (sheet->pattern_trouble));
  gtk_editable_set_text (GTK_EDITABLE (sheet->pattern), "{condition}_{radio}");
  wait_until (is_ready);
  ck_assert (!gtk_widget_get_visible (sheet->pattern_trouble));
  goes_to ("loft_mirrick.csv", "Mirrick", "loft", SP_PURPOSE_KEYED);
  choose ("loft_mirrick.csv"); /* by hand: no pattern changes it any more */
  gtk_editable_set_text (GTK_EDITABLE (sheet->radio), "Askerby");
  gtk_editable_set_text (GTK_EDITABLE (sheet->condition_name), "2 m");
  g_signal_emit_by_name (sheet->radio, "activate");
  gtk_drop_down_set_selected (GTK_DROP_DOWN (sheet->purpose), SP_PURPOSE_NOTCHED);
  gtk_editable_set_text (GTK_EDITABLE (sheet->pattern), "");
  wait_until (is_ready);
  goes_to ("loft_mirrick.csv", "Askerby", "2 m", SP_PURPOSE_NOTCHED);
  goes_to ("6m_mirrick_unkeyed.csv", "Mirrick", "6m", SP_PURPOSE_UNKEYED);
  close_all ();
}
END_TEST

/* A pattern is proposed over all; where names can be read in two ways both are said, and one is chosen: of one name, or of all. */
START_TEST (what_names_may_mean_is_chosen)
{
  char *paths[] = { write_sweep ("20261128_mirrick_2m.csv", "", -10), write_sweep ("20261128_askerby_6m.csv", "", -11), NULL };
  open_files ("samples/blank.sheet", -1, paths);
  ck_assert_str_eq (gtk_editable_get_text (GTK_EDITABLE (sheet->pattern)), "{any}_{radio}[_{condition}][_{purpose}]");
  goes_to ("20261128_askerby_6m.csv", "Askerby", "6m", SP_PURPOSE_KEYED);
  ck_assert (!gtk_widget_get_visible (sheet->ways_box));
  close_all ();
  char *both[] = { write_sweep ("mirrick-1.csv", "", -10), write_sweep ("mirrick-2.csv", "", -11), NULL };
  open_files ("samples/blank.sheet", -1, both);
  ck_assert (gtk_widget_get_visible (sheet->ways_box));
  goes_to ("mirrick-2.csv", "Mirrick", "", SP_PURPOSE_KEYED);
  choose ("mirrick-2.csv");
  ck_assert (gtk_widget_get_visible (sheet->meanings_box));
  ck_assert_uint_eq (item_named ("mirrick-2.csv")->meanings->len, 2);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (sheet->meanings), 1);
  wait_until (is_ready);
  goes_to ("mirrick-2.csv", "Mirrick-2", "", SP_PURPOSE_KEYED);
  goes_to ("mirrick-1.csv", "Mirrick", "", SP_PURPOSE_KEYED);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (sheet->ways_list), 1);
  wait_until (is_ready);
  ck_assert_str_eq (gtk_editable_get_text (GTK_EDITABLE (sheet->pattern)), "{radio}");
  goes_to ("mirrick-1.csv", "Mirrick-1", "", SP_PURPOSE_KEYED);
  close_all ();
}
END_TEST

START_TEST (more_attenuation_becomes_a_step)
{
  char *paths[] = { write_sweep ("mirrick-1.csv", "Attenuation,20 dB\n", -10), write_sweep ("mirrick-2.csv", "Attenuation,10 dB\n", -10),
                    NULL };
  open_files ("samples/blank.sheet", -1, paths);
  goes_to ("mirrick-1.csv", "Mirrick", "", SP_PURPOSE_STEP);
  ck_assert_double_eq (item_named ("mirrick-1.csv")->to.step_db, 10);
  choose ("mirrick-1.csv");
  ck_assert_str_eq (gtk_editable_get_text (GTK_EDITABLE (sheet->step)), "10");
  enter (sheet->settings, "attenuation", "10"); /* corrected: it is no step then */
  goes_to ("mirrick-1.csv", "Mirrick", "", SP_PURPOSE_KEYED);
  enter (sheet->settings, "attenuation", "");
  goes_to ("mirrick-1.csv", "Mirrick", "", SP_PURPOSE_STEP);
  gtk_editable_set_text (GTK_EDITABLE (sheet->step), "7"); /* the files say otherwise: refused, and nothing is taken */
  wait_until (is_ready);
  accept_all ();
  ck_assert_ptr_nonnull (sheet);
  const char *trouble = gtk_label_get_text (GTK_LABEL (sheet->trouble));
  ck_assert_msg (strstr (trouble, "mirrick-1.csv: ") != NULL, "“%s”", trouble);
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
  gtk_editable_set_text (GTK_EDITABLE (sheet->step), "10");
  accept_all ();
  ck_assert_double_eq (sp_session_bench (session)->conditions[0].sweeps[1].step_db, 10);
  close_all ();
}
END_TEST

START_TEST (what_the_bench_has_is_not_taken_again)
{
  char *paths[] = { sample_file ("zelbridor.csv"), sample_file ("vaskerry.csv"), sample_file ("zelbridor.csv"), NULL };
  open_files ("samples/club.sheet", -1, paths);
  for (guint i = 0; i < sp_import_window_count (sheet); i++)
    ck_assert (!sp_import_window_item (sheet, i)->take && sp_import_window_item (sheet, i)->known);
  goes_to ("zelbridor.csv", "Zelbridor", "6 m", SP_PURPOSE_KEYED); /* the radio's only condition */
  ck_assert (!gtk_widget_get_sensitive (sheet->accept));
  ck_assert (!gtk_widget_get_visible (sheet->asks_scrolled));
  accept_all ();
  ck_assert_ptr_nonnull (sheet);
  item_named ("zelbridor.csv")->take = TRUE;
  sp_arrival_item_changed (item_named ("zelbridor.csv"));
  accept_all ();
  expect_edit ("Import 1 sweep");
  ck_assert_uint_eq (sp_session_bench (session)->conditions[0].n_sweeps, 3);
  undo_and_compare ();
  close_all ();
}
END_TEST

START_TEST (dropped_on_a_radio_it_is_for_that_one)
{
  char *paths[] = { write_sweep ("mirrick.csv", "", -10), write_sweep ("mirrick-unkeyed.csv", "", -90), NULL };
  open_files ("samples/club.sheet", 6, paths);
  goes_to ("mirrick.csv", "Dornimel", "70 cm", SP_PURPOSE_KEYED);
  goes_to ("mirrick-unkeyed.csv", "Dornimel", "70 cm", SP_PURPOSE_UNKEYED);
  close_all ();
}
END_TEST

START_TEST (a_target_is_chosen_from_the_list)
{
  char *paths[] = { write_sweep ("mirrick.csv", "", -10), NULL };
  open_files ("samples/club.sheet", -1, paths);
  GListModel *names = gtk_drop_down_get_model (GTK_DROP_DOWN (sheet->target));
  ck_assert_uint_eq (g_list_model_get_n_items (names), 7 + 1 + 2);
  ck_assert_uint_eq (gtk_drop_down_get_selected (GTK_DROP_DOWN (sheet->target)), 7);
  ck_assert (gtk_widget_get_visible (sheet->new_name));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (sheet->target), 2);
  wait_until (is_ready);
  goes_to ("mirrick.csv", "Larquedon", "2 m", SP_PURPOSE_KEYED);
  ck_assert (!gtk_widget_get_visible (sheet->new_name));
  names = gtk_drop_down_get_model (GTK_DROP_DOWN (sheet->target));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (sheet->target), g_list_model_get_n_items (names) - 2);
  wait_until (is_ready);
  goes_to ("mirrick.csv", "", "", SP_PURPOSE_UNKEYED);
  accept_all ();
  ck_assert_ptr_nonnull (sp_session_bench (session)->unkeyed);
  undo_and_compare ();
  close_all ();
}
END_TEST

/* What is refused may be all right when read another way. */
START_TEST (a_refused_file_is_mended)
{
  static const char bad[] = "Frequency (MHz),Level (dBm)\n1,-50\n2,oops\n3,-50\n4,-51\n", bare[] = "1 -50\n2 -51\n3 -52\n";
  char *paths[] = { write_file ("bad.csv", bad), write_file ("bare.txt", bare), NULL };
  open_files ("samples/blank.sheet", -1, paths);
  choose ("bad.csv");
  ck_assert (gtk_expander_get_expanded (GTK_EXPANDER (sheet->expander)));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (sp_fields_widget (SP_FIELDS (sheet->readings), "bad")), 1);
  wait_until (is_ready);
  ck_assert_ptr_null (item_named ("bad.csv")->error);
  ck_assert_int_eq (item_named ("bad.csv")->trace->skipped_lines, 1);
  ck_assert_ptr_nonnull (strstr (gtk_label_get_text (GTK_LABEL (sheet->lines)), "3 \303\227 2,oops"));
  choose ("bare.txt");
  ck_assert_ptr_nonnull (strstr (item_named ("bare.txt")->error, "frequency_unit"));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (sp_fields_widget (SP_FIELDS (sheet->readings), "frequency_unit")), 3);
  wait_until (is_ready);
  ck_assert_double_eq (item_named ("bare.txt")->trace->frequency_hz[2], 3e6);
  enter (sheet->readings, "start", "1 GHz"); /* beside a column of frequencies it changes nothing, and harms nothing */
  /* a semicolon: nothing is left of it */
  gtk_drop_down_set_selected (GTK_DROP_DOWN (sp_fields_widget (SP_FIELDS (sheet->readings), "delimiter")), 2);
  wait_until (is_ready);
  ck_assert_ptr_nonnull (find (sheet->readings, is_trouble, "bare.txt"));
  ck_assert_ptr_nonnull (item_named ("bare.txt")->trace); /* the old reading stands */
  close_all ();
}
END_TEST

START_TEST (a_folder_gives_its_files)
{
  char *paths[] = { g_strdup (folder), NULL };
  g_autofree char *below = g_build_filename (folder, "below", NULL), *hidden = write_sweep (".hidden.csv", "", -10), *pipe = NULL;
  g_free (write_sweep ("a10.csv", "", -10));
  g_free (write_sweep ("a9.csv", "", -11));
  g_mkdir (below, 0700);
  open_files ("samples/blank.sheet", -1, paths);
  ck_assert_uint_eq (sp_import_window_count (sheet), 2);
  ck_assert_str_eq (sp_import_window_item (sheet, 0)->name, "a9.csv"); /* as a person counts */
  close_all ();
  g_rmdir (below);
}
END_TEST

START_TEST (nothing_waits_for_a_pipe_or_a_missing_file)
{
  char *pipe = g_build_filename (folder, "pipe", NULL);
  char *paths[] = { pipe, g_build_filename (folder, "gone.csv", NULL), write_file ("empty.csv", ""), write_sweep ("a.csv", "", -10), NULL };
  ck_assert_int_eq (mkfifo (pipe, 0600), 0);
  open_files ("samples/blank.sheet", -1, paths);
  ck_assert_uint_eq (sp_import_window_count (sheet), 4);
  for (guint i = 0; i < 3; i++) {
    const SpArrivalItem *item = sp_import_window_item (sheet, i);
    ck_assert_msg (item->error && strstr (item->error, item->name), "%s", item->error);
    gtk_single_selection_set_selected (sheet->selection, i);
  }
  accept_all ();
  expect_edit ("Import 1 sweep");
  close_all ();
}
END_TEST

static gboolean
is_gone (gpointer held)
{
  return *(gpointer *) held == NULL;
}

/* While files are read, and while one is read again. */
START_TEST (cancelled_it_is_as_if_nothing_had_happened)
{
  for (int when = 0; when < 3; when++) {
    char *paths[] = { sample_file ("brundlow.dat"), sample_file ("tulvannick.csv"), sample_file ("vaskerry.csv"), NULL };
    start ("samples/blank.sheet", -1, paths);
    if (when > 0)
      wait_until (is_ready);
    if (when > 1) {
      ck_assert (sp_arrival_item_set (item_named ("brundlow.dat"), "rbw", "1kHz", NULL));
      gtk_widget_activate_action (GTK_WIDGET (sheet), "import.accept", NULL); /* not with what is still being read */
    }
    gpointer held = sheet; /* by those that read for it */
    g_object_add_weak_pointer (G_OBJECT (sheet), &held);
    gtk_window_close (GTK_WINDOW (sheet));
    ck_assert_msg (sp_comes (is_gone, &held), "somebody keeps it");
    settle ();
    g_autofree char *label = undo_label ();
    ck_assert_ptr_null (label);
    ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
    close_all ();
    for (char **path = paths; *path; path++)
      g_free (*path);
  }
}
END_TEST

/* ---- how long the window stands still: told, not judged ---- */

static gint64 last_beat, longest;

static gboolean
beat (gpointer data)
{
  gint64 now = g_get_monotonic_time ();
  (void) data;
  longest = MAX (longest, now - last_beat);
  last_beat = now;
  return G_SOURCE_CONTINUE;
}

START_TEST (a_hundred_files)
{
  char *paths[101] = { NULL };
  g_autoptr (GString) text = g_string_new (NULL);
  for (int i = 0; i < 100; i++) {
    char name[32];
    g_snprintf (name, sizeof name, "radio%d-2m.csv", i);
    g_string_assign (text, "Frequency (MHz),Level (dBm)\n");
    for (int k = 0; k < 1001; k++)
      g_string_append_printf (text, "%.1f,%.2f\n", 1 + k / 10.0, -90 + (k * 7 + i) % 200 / 3.0);
    paths[i] = write_file (name, text->str);
  }
  gint64 began = g_get_monotonic_time ();
  start ("samples/blank.sheet", -1, paths);
  last_beat = g_get_monotonic_time ();
  longest = 0;
  guint source = g_timeout_add (4, beat, NULL);
  wait_until (is_ready);
  gint64 read = g_get_monotonic_time ();
  printf ("100 files of 1001 points: read in %.0f ms, longest gap of the main loop %.1f ms\n", (double) (read - began) / 1e3,
          (double) longest / 1e3);
  ck_assert_uint_eq (sp_import_window_count (sheet), 100);
  longest = 0;
  enter (first_ask (), "rbw", "100 kHz");
  printf ("read again with an RBW: longest gap %.1f ms\n", (double) longest / 1e3);
  gint64 before = g_get_monotonic_time ();
  gtk_widget_activate_action (GTK_WIDGET (sheet), "import.accept", NULL);
  printf ("accepting: %.1f ms\n", (double) (g_get_monotonic_time () - before) / 1e3);
  g_source_remove (source);
  ck_assert_uint_eq (sp_session_bench (session)->n_conditions, 100);
  ck_assert_double_eq (sp_session_bench (session)->conditions[99].sweeps[0].trace->settings.rbw_hz, 100e3);
  close_all ();
  for (int i = 0; i < 100; i++)
    g_free (paths[i]);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("import/window");
  TCase *t = tcase_create ("window");
  tcase_add_checked_fixture (t, make_folder, remove_folder);
  tcase_set_timeout (t, 240);
  tcase_add_test (t, the_sample_comes_in_by_one_edit);
  tcase_add_test (t, what_came_in_is_in_the_book);
  tcase_add_test (t, what_a_shape_lacks_is_asked_once);
  tcase_add_test (t, a_new_bench_is_dated_by_its_exports);
  tcase_add_test (t, names_come_by_words_or_by_a_pattern);
  tcase_add_test (t, what_names_may_mean_is_chosen);
  tcase_add_test (t, more_attenuation_becomes_a_step);
  tcase_add_test (t, what_the_bench_has_is_not_taken_again);
  tcase_add_test (t, dropped_on_a_radio_it_is_for_that_one);
  tcase_add_test (t, a_target_is_chosen_from_the_list);
  tcase_add_test (t, a_refused_file_is_mended);
  tcase_add_test (t, a_folder_gives_its_files);
  tcase_add_test (t, nothing_waits_for_a_pipe_or_a_missing_file);
  tcase_add_test (t, cancelled_it_is_as_if_nothing_had_happened);
  tcase_add_test (t, a_hundred_files);
  suite_add_tcase (s, t);
  return s;
}

PAGES_MAIN (suite)
