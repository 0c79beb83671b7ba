/* A run behind a stage: its loss, u and degrees of freedom in the chain, what is hashed, and edits. */
#include "tests/substitution/run.h"

#include "core/bench/edit/edit.h"
#include "core/chain/sample.h"
#include "core/quantity/coverage.h"

static const char *const pad_run
    = "[run]\nstage=pad\ndate=2026-09-12\ntemperature_c=22.5\nsource_vswr=1.05\nmeter_vswr=1.05\nstage_vswr=1.08\nmeter_linearity_db=0.02\n"
      "meter_resolution_db=0.005\n"
      "[at 100MHz]\nbefore=0.00@0; 0.01@1\ninserted=-30.11@3; -30.15@4; -30.12@5\nafter=0.02@7\n"
      "[at 400MHz]\nbefore=0.00@0; 0.00@1\ninserted=-30.31@3; -30.31@4; -30.40@5\nafter=0.00@7\n";
static const char *const chain_text = "[chain]\nname=Two\nstages=pad;lead\n[stage pad]\nkind=pad\nrating_w=5\nrun=pad.run\n"
                                      "[stage lead]\nkind=cable\nrating_w=5\nvswr=1.1\npoints=100MHz 0.2 0.03; 400MHz 0.4 0.03\n";

static SpChain *
read_in (const char *folder, const char *run, const char *chain, GError **error)
{
  g_autofree char *run_path = put_file (folder, "pad.run", run), *path = put_file (folder, "two.chain", chain);
  return sp_chain_read (path, error);
}

START_TEST (loss_u_and_dof)
{
  char *folder = new_folder ();
  g_autoptr (GError) error = NULL;
  g_autoptr (SpChain) chain = read_in (folder, pad_run, chain_text, &error);
  sp_no_error (error);
  g_autoptr (SpRun) run = run_from (pad_run);
  g_autoptr (SpRunResult) result = sp_run_result (run, NAN);
  const SpRunPoint *low = &result->points[0], *high = &result->points[1];
  SpStageLoss at = sp_stage_loss (chain, 0, 100e6, NAN, 0), top = sp_stage_loss (chain, 0, 400e6, NAN, 0);
  near (at.loss_db, low->loss_db, 1e-12);
  near (at.u_db, low->sum.u_db, 1e-12);
  near (at.u_common_db, 0.02 / sqrt (3), 1e-12);
  ck_assert (at.calibrated && !at.from_label);
  /* u^4/dof is what the repeats bring; the common part, known as it is, brings none */
  near (pow (at.u_curve_db, 4) / at.dof / (pow (low->sum.u_db, 4) / low->sum.dof), 1, 1e-9);
  near (pow (top.u_curve_db, 4) / top.dof / (pow (high->sum.u_db, 4) / high->sum.dof), 1, 1e-9);
  /* between two points the greater of the two holds */
  SpStageLoss between = sp_stage_loss (chain, 0, 200e6, NAN, 0);
  double most = fmax (pow (low->sum.u_db, 4) / low->sum.dof, pow (high->sum.u_db, 4) / high->sum.dof);
  near (pow (between.u_curve_db, 4) / between.dof / most, 1, 1e-9);
  ck_assert (sp_stage_loss (chain, 0, 800e6, NAN, 0).dof > 1);
  ck_assert (isinf (sp_stage_loss (chain, 1, 100e6, NAN, 0).dof));

  /* U as a picture shows it is the run's own: k by the repeats' degrees of freedom */
  SpStageSample own, whole;
  sp_stage_sample (chain, 0, 1, &high->frequency_hz, &own);
  sp_chain_sample (chain, 1, &high->frequency_hz, &whole);
  ck_assert_double_gt (high->sum.k, 2.01);
  near (own.expanded_db, high->sum.expanded_db, 1e-9);
  near (whole.loss_db, own.loss_db + 0.4, 1e-9);
  ck_assert_double_gt (whole.u_db, own.u_db);
  ck_assert_double_gt (whole.expanded_db, 2 * whole.u_db);

  SpChainLoss loss = sp_chain_loss (chain, 400e6, NAN, 0, NULL);
  near (loss.dof_independent / (pow (loss.u_independent_db, 4) / (pow (top.u_curve_db, 4) / top.dof)), 1, 1e-9);
  ck_assert (loss.dof_independent >= top.dof && isfinite (loss.dof_independent));

  near (chain->stages[0]->calibrated_day, run->day, 0);
  near (chain->stages[0]->temperature_c, 22.5, 0);
  near (sp_stage_reflection (chain->stages[0], 1e8, TRUE), 0.08 / 2.08, 1e-12);
  ck_assert_ptr_null (find_reason (chain->warnings, SP_REASON_VSWR_ASSUMED, NULL, NULL));
  ck_assert_ptr_null (find_reason (chain->warnings, SP_REASON_U_ASSUMED, NULL, NULL));
  drop_folder (folder);
}
END_TEST

/* What the stage says itself wins; what the run says is not written twice. */
START_TEST (the_stage_wins)
{
  char *folder = new_folder ();
  g_autoptr (GError) error = NULL;
  g_autofree char *own = g_strconcat (chain_text, "[stage spare]\nkind=pad\n", NULL);
  g_autofree char *more = g_strdup (
      "[chain]\nname=Two\nstages=pad\n[stage pad]\nkind=pad\nrating_w=5\nrun=pad.run\ncommon_u_db=0\nvswr=1.3\n"
      "calibrated=2026-01-01\ntemperature_c=20\ncurve=smooth\n");
  g_autoptr (SpChain) plain = read_in (folder, pad_run, own, &error), chain = read_in (folder, pad_run, more, &error);
  sp_no_error (error);
  near (sp_stage_loss (chain, 0, 100e6, NAN, 0).u_common_db, 0, 0);
  near (sp_stage_reflection (chain->stages[0], 1e8, TRUE), 0.3 / 2.3, 1e-12);
  near (chain->stages[0]->temperature_c, 20, 0);
  ck_assert (strstr (chain->text, "common_u_db=0\n") && strstr (chain->text, "vswr=1.3\n")
             && strstr (chain->text, "calibrated=2026-01-01\n"));
  ck_assert (strstr (plain->text, "run=pad.run\n") && !strstr (plain->text, "calibrated")
             && !strstr (plain->text, "[stage pad]\nkind=pad\npoints"));
  ck_assert (!strstr (plain->text, "common_u_db") && !strstr (plain->text, "1.08"));
  drop_folder (folder);
}
END_TEST

START_TEST (hash_holds_the_run)
{
  char *folder = new_folder ();
  g_autoptr (GError) error = NULL;
  g_autoptr (SpChain) one = read_in (folder, pad_run, chain_text, &error), same = read_in (folder, pad_run, chain_text, &error);
  g_autofree char *comment = g_strconcat ("# the same, with a comment\n", pad_run, NULL), *other = g_strdup (pad_run);
  memcpy (strstr (other, "-30.15"), "-30.16", 6);
  g_autoptr (SpChain) commented = read_in (folder, comment, chain_text, &error);
  sp_no_error (error);
  ck_assert_str_eq (one->sha256, same->sha256);
  ck_assert_str_eq (one->sha256, commented->sha256);
  g_autoptr (SpChain) changed = read_in (folder, other, chain_text, &error);
  sp_no_error (error);
  ck_assert_str_ne (one->sha256, changed->sha256);
  ck_assert_str_eq (one->text, changed->text);
  drop_folder (folder);
}
END_TEST

START_TEST (refused)
{
  static const struct {
    const char *stage, *run, *message;
  } rows[] = {
    { "points=1MHz 30 0.1\nrun=pad.run\n", NULL, "two.chain:7:5: [stage pad] run: this stage has points too; keep one of the two" },
    { "touchstone=a.s2p\nrun=pad.run\n", NULL,
      "two.chain:7:5: [stage pad] run: this stage has a touchstone file too; keep one of the two" },
    { "run=none.run\n", NULL, "two.chain:6:5: [stage pad] run: there is no file “" },
    { "run=pad.run\n", "[run]\nstage=pad\n[at 1MHz]\nbefore=-30\ninserted=0\n",
      "two.chain:6:5: [stage pad] run: at 1000000 Hz the run gives no loss from -0.5 to 300 dB: are reference and inserted exchanged?" },
    { "run=pad.run\n", "[run]\nstage=pad\n[at 1MHz]\nbefore=x\ninserted=0\n",
      "pad.run:4:8: [at 1MHz] before: found “x”; expected a reading" },
  };
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    char *folder = new_folder ();
    g_autoptr (GError) error = NULL;
    g_autofree char *text = g_strconcat ("[chain]\nstages=pad\n[stage pad]\nkind=pad\nrating_w=1\n", rows[i].stage, NULL);
    ck_assert_ptr_null (read_in (folder, rows[i].run ? rows[i].run : pad_run, text, &error));
    ck_assert_msg (strstr (error->message, rows[i].message) != NULL, "%s", error->message);
    drop_folder (folder);
  }
  g_autoptr (SpKeyFile) file = sp_key_file_parse (chain_text, strlen (chain_text), "t.chain", NULL);
  g_autoptr (GError) error = NULL;
  const SpTwoPorts none = { NULL, NULL, NULL, FALSE };
  ck_assert_ptr_null (sp_chain_parse_with (file, &none, &error));
  ck_assert_str_eq (error->message, "t.chain:7:5: [stage pad] run: a run cannot be named here; expected points");
  g_clear_error (&error);
  static const char *const named = "[chain]\nstages=a\n[stage a]\nkind=pad\nvswr=secret.s1p\n";
  g_autoptr (SpKeyFile) again = sp_key_file_parse (named, strlen (named), "t.chain", NULL);
  ck_assert_ptr_null (sp_chain_parse_with (again, &none, &error)); /* a book from a stranger opens no file */
  ck_assert_msg (strstr (error->message, "names a file, which cannot be done here") != NULL, "%s", error->message);
}
END_TEST

/* From a form's values into a stage that had points, and out again; the other stage is not read anew. */
START_TEST (edits)
{
  g_autoptr (SpChain) chain = chain_from (
      "[chain]\nstages=pad;lead\n[stage pad]\nkind=pad\nrating_w=5\ncommon_u_db=0.2\ncalibrated=2020-01-01\n"
      "points=1MHz 3 0.1\n[stage lead]\nkind=cable\nvswr=1\npoints=1MHz 0.1 0.1\n");
  g_autoptr (SpRun) typed = bare_run ();
  SpRunAt *at = sp_run_add_at (typed, 2e6);
  g_autoptr (GError) error = NULL;
  ck_assert_ptr_null (sp_chain_set_run (chain, 0, typed, &error)); /* not complete yet */
  ck_assert_msg (strstr (error->message, "before") != NULL, "%s", error->message);
  g_clear_error (&error);
  sp_run_at_add (at->before, 0, NAN);
  sp_run_at_add (at->inserted, -3.2, NAN);
  sp_run_at_add (at->inserted, -3.3, NAN);
  g_autoptr (SpChain) set = sp_chain_set_run (chain, 0, typed, &error);
  sp_no_error (error);
  near (sp_stage_loss (set, 0, 2e6, NAN, 0).loss_db, 3.25, 1e-12);
  near (sp_stage_loss (set, 0, 2e6, NAN, 0).u_common_db, 0, 0);
  ck_assert (isnan (set->stages[0]->calibrated_day));
  g_autofree char *name = sp_chain_get (set, 0, "run");
  ck_assert_str_eq (name, "pad.run");

  g_autoptr (SpChain) rated = sp_chain_set (set, 0, "rating_w", "7", &error), moved = sp_chain_move_stage (rated, 0, 1, &error);
  g_autoptr (SpChain) doubled = sp_chain_duplicate_stage (moved, 1, "pad two", &error),
                      twice = sp_chain_set_run (doubled, 2, typed, &error);
  sp_no_error (error);
  ck_assert_ptr_eq (rated->stages[0]->run, set->stages[0]->run);
  near (sp_stage_loss (moved, 1, 2e6, NAN, 0).loss_db, 3.25, 1e-12);
  near (sp_stage_loss (twice, 2, 2e6, NAN, 0).loss_db, 3.25, 1e-12);
  ck_assert_str_ne (twice->stages[1]->run_name, twice->stages[2]->run_name);

  g_autoptr (SpChain) bare = sp_chain_set (set, 0, "run", NULL, &error), back = sp_chain_set (bare, 0, "points", "1MHz 3 0.1", &error);
  sp_no_error (error);
  ck_assert (!bare->stages[0]->loss && !back->stages[0]->run && back->stages[0]->loss);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("chain/run-stage");
  TCase *t = tcase_create ("runs behind stages");
  tcase_add_test (t, loss_u_and_dof);
  tcase_add_test (t, the_stage_wins);
  tcase_add_test (t, hash_holds_the_run);
  tcase_add_test (t, refused);
  tcase_add_test (t, edits);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
