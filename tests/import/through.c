/* The import window in a display: a step or notched sweep is given the chain that it came through, before it is taken. */
#include "tests/import/sheet.h"

#include "ui/window/widgets/ask-file.h"

static gboolean
has_read_chains (void)
{
  return sheet->chains_read == 0 && is_ready ();
}

static void
answer_chain (const char *path)
{
  sp_ask_file_answer (g_file_new_for_path (path));
  g_signal_emit_by_name (sheet->through_ask, "clicked");
  wait_until (has_read_chains);
}

static void
make_notched (const char *name)
{
  choose (name);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (sheet->purpose), SP_PURPOSE_NOTCHED);
  wait_until (is_ready);
}

static const char *
says (GtkWidget *label)
{
  return gtk_label_get_text (GTK_LABEL (label));
}

/* What the sample says with its sheet, said here through the window: the notched pass proves what the plain one cannot. */
START_TEST (a_notched_sweep_comes_with_its_chain)
{
  g_autofree char *chain = sp_test_path ("samples/stub.chain");
  char *paths[] = { sample_file ("fennimarch.dat"), sample_file ("fennimarch-stub.dat"), NULL };
  open_files ("samples/pocket.sheet", -1, paths);
  const SpBench *before = sp_session_bench (session);
  guint n = before->n_conditions;
  make_notched ("fennimarch-stub.dat");
  SpArrivalItem *item = item_named ("fennimarch-stub.dat");
  sp_proposal_aim (&item->to, "Fennimarch", "again");
  sp_proposal_aim (&item_named ("fennimarch.dat")->to, "Fennimarch", "again");
  item->take = item_named ("fennimarch.dat")->take = TRUE; /* the bench has both already */
  item->target_said = item_named ("fennimarch.dat")->target_said = TRUE;
  sp_import_window_settle (sheet);
  wait_until (is_ready);
  ck_assert (gtk_widget_get_mapped (sheet->through));
  ck_assert (!gtk_widget_get_mapped (sheet->through_common));
  ck_assert_ptr_nonnull (strstr (says (sheet->through_name), "not used before it has a chain"));
  answer_chain (chain);
  ck_assert_str_eq (says (sheet->trouble), "");
  ck_assert_str_eq (says (sheet->through_name), "through Course chain with the stub");
  accept_all ();
  ck_assert_ptr_null (sheet);
  const SpBench *bench = sp_session_bench (session);
  ck_assert_uint_eq (bench->n_conditions, n + 1);
  guint at = 0;
  while (!g_str_equal (bench->conditions[at].name, "again"))
    at++;
  ck_assert_uint_eq (bench->conditions[at].n_sweeps, 2);
  const SpSweep *sweep = &bench->conditions[at].sweeps[1];
  ck_assert_int_eq (sweep->purpose, SP_PURPOSE_NOTCHED);
  ck_assert_str_eq (sweep->chain->name, "Course chain with the stub");
  undo_and_compare ();
  close_all ();
}
END_TEST

/* The loss of the notch alone is put behind the stages of where the sweep goes, and both sweeps of that purpose have it. */
START_TEST (a_loss_is_put_behind_the_chain)
{
  g_autofree char *loss = write_file ("trap.csv", "Frequency (MHz),Loss (dB)\n1,0.2\n2,30\n3,0.3\n");
  char *paths[] = { write_sweep ("mirrick.csv", "", -10), write_sweep ("mirrick-notch-1.csv", "", -50),
                    write_sweep ("mirrick-notch-2.csv", "", -51), NULL };
  open_files ("samples/club.sheet", -1, paths);
  choose ("mirrick-notch-1.csv");
  ck_assert (gtk_widget_get_mapped (sheet->through));
  answer_chain (loss);
  ck_assert_str_eq (says (sheet->trouble), "");
  const SpChain *bench_chain = sp_session_bench (session)->chain, *own = item_named ("mirrick-notch-1.csv")->to.chain;
  ck_assert_uint_eq (own->n, bench_chain->n + 1);
  ck_assert_int_eq (own->stages[own->n - 1]->kind, SP_STAGE_NOTCH);
  ck_assert_ptr_eq (item_named ("mirrick-notch-2.csv")->to.chain, own);
  ck_assert_ptr_null (item_named ("mirrick.csv")->to.chain);
  g_signal_emit_by_name (sheet->through_common, "clicked");
  wait_until (is_ready);
  ck_assert_ptr_null (item_named ("mirrick-notch-2.csv")->to.chain);
  ck_assert (!gtk_widget_get_mapped (sheet->through_common));
  close_all ();
}
END_TEST

START_TEST (a_bad_chain_is_told_and_changes_nothing)
{
  g_autofree char *bad = write_file ("bad.chain", "[chain]\nname=Bad\nstages=tail\n[stage tail]\nkind=hose\n");
  g_autofree char *good = sp_test_path ("samples/stub.chain");
  char *paths[] = { write_sweep ("mirrick.csv", "", -10), write_sweep ("mirrick-notch.csv", "", -50), NULL };
  open_files ("samples/club.sheet", -1, paths);
  choose ("mirrick-notch.csv");
  answer_chain (good);
  answer_chain (bad);
  ck_assert_msg (strstr (says (sheet->trouble), "bad.chain:5") != NULL, "“%s”", says (sheet->trouble));
  ck_assert_str_eq (item_named ("mirrick-notch.csv")->to.chain->name, "Course chain with the stub");
  sp_ask_file_answer (g_file_new_for_path (bad)); /* closed while it is being read */
  g_signal_emit_by_name (sheet->through_ask, "clicked");
  gtk_window_close (GTK_WINDOW (sheet));
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
  close_all ();
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("import/through");
  TCase *t = tcase_create ("through");
  tcase_add_checked_fixture (t, make_folder, remove_folder);
  tcase_set_timeout (t, 240);
  tcase_add_test (t, a_notched_sweep_comes_with_its_chain);
  tcase_add_test (t, a_loss_is_put_behind_the_chain);
  tcase_add_test (t, a_bad_chain_is_told_and_changes_nothing);
  suite_add_tcase (s, t);
  return s;
}

PAGES_MAIN (suite)
