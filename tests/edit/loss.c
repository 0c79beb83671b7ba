/* loss.c - where a stage's loss comes from: a run from a form's texts, tables, files dropped on a stage; stages of other chains, and the shelf */
#include "tests/substitution/run.h"

#include "core/bench/edit/edit.h"
#include "core/bench/shelf/shelf.h"
#include "core/chain/loss-table.h"

static const char *const chain_text
    = "[chain]\nname=Two\nstages=pad;lead\ncalibrated=2026-09-12\ninterval_days=365\ntemperature_c=21\n"
      "[stage pad]\nkind=pad\nlabel_db=30\nrating_w=5\nvswr=1.1\npoints=100MHz 30.1 0.05; 400MHz 30.2 0.05\nowner=club\n"
      "[stage lead]\nkind=cable\nrating_w=5\nvswr=1.1\npoints=100MHz 0.2 0.03; 400MHz 0.4 0.03\n";
static const char *const run_text
    = "[run]\nstage=pad\ndate=2026-10-01\ntemperature_c=22.5\nsource_vswr=1.05\nmeter_vswr=1.05\nstage_vswr=1.08\n"
      "meter_linearity_db=0.02\nmeter_resolution_db=0.005\n"
      "[at 100MHz]\nbefore=0.00@0; 0.01@1\ninserted=-30.11@3; -30.15@4; -30.12@5\nafter=0.02@7\n"
      "[at 400MHz]\nbefore=0.00@0; 0.00@1\ninserted=-30.31@3; -30.31@4; -30.40@5\nafter=0.00@7\n";
static const char *const two_port_text = "# MHz S DB R 50\n100 -30 0 -20.3 10 -20.3 10 -30 0\n400 -30 0 -20.4 20 -20.4 20 -30 0\n";

static char *folder;
static SpChain *chain;
static GError *error;

static void
set_up (void)
{
  folder = new_folder ();
  chain = chain_from (chain_text);
  error = NULL;
}

static void
tear_down (void)
{
  drop_folder (folder);
  g_clear_pointer (&chain, sp_chain_unref);
}

#define refused(call, part)                                                                                                                \
  {                                                                                                                                        \
    ck_assert (!(call));                                                                                                                   \
    ck_assert_msg (error &&strstr (error->message, part), "“%s” lacks “%s”", error ? error->message : "", part);                           \
    g_clear_error (&error);                                                                                                                \
  }

/* ---- a run's key from a text ---- */

START_TEST (keys_of_a_run)
{
  g_autoptr (SpRun) run = sp_run_new ();
  ck_assert (sp_run_set (run, "stage", "pad", &error) && sp_run_set (run, "date", "2026-10-01", &error));
  ck_assert (sp_run_set (run, "source_vswr", "100MHz 1.1; 400MHz 1.2", &error) && sp_run_set (run, "meter_floor_dbm", "-45", &error));
  ck_assert (sp_run_set (run, "line_m", "", &error) && sp_run_set (run, "extra", "leakage 0.002 7", &error));
  ck_assert_str_eq (run->stage, "pad");
  near (run->meter_floor_dbm, -45, 0);
  ck_assert (isnan (run->line_m) && run->source_vswr->n == 2 && run->extra->len == 1);
  refused (sp_run_set (run, "meter_vswr", "0.5", &error), "0.5");
  refused (sp_run_set (run, "temperature_c", "warm", &error), "found “warm”");
  refused (sp_run_set (run, "date", "2026-02-30", &error), "2026-02-30");
  ck_assert (isnan (run->temperature_c));
}
END_TEST

/* ---- tables ---- */

START_TEST (tables)
{
  static const struct {
    const char *table, *points;
  } good[] = {
    { "150MHz 30.09 0.05\n100MHz 30.08\n", "100MHz 30.08; 150MHz 30.09 0.05" },
    { "frequency,loss\n150000000,30.09\n", "150000000 30.09" },
    { "\xef\xbb\xbf\"Frequency (MHz)\";\"Loss (dB)\";\"u\"\r\n150;30.09;0.05\r\n\r\n50;30.07;0.05\r\n",
      "50MHz 30.07 0.05; 150MHz 30.09 0.05" },
    { "# of the pad\n! MHz\nf/GHz\tdB\n1\t30.2\n2.5GHz\t30.4\n", "1GHz 30.2; 2.5GHz 30.4" },
    { "150 MHz 30.09 0.05\n", "150MHz 30.09 0.05" },
    { "1e6,0.1,,\n", "1e6 0.1" },
    { "150 MHz;30.09\n", "150MHz 30.09" },
  };
  for (guint i = 0; i < G_N_ELEMENTS (good); i++) {
    g_autofree char *points = sp_loss_table_parse (good[i].table, strlen (good[i].table), "t.csv", &error);
    sp_no_error (error);
    ck_assert_str_eq (points, good[i].points);
  }
}
END_TEST

START_TEST (bad_tables)
{
  static const struct {
    const char *table, *says;
  } bad[] = {
    { "", "no line of it is a point" },
    { "f,loss\n", "no line of it is a point" },
    { "f,loss\n100MHz,30\n200MHz,much\n", "t.csv:3:8: found “much”" },
    { "150MHz;30,09;0,05\n", "t.csv:1:8: found “30,09”" },
    { "a\nb\n", "t.csv:2:1" },
    { "150MHz\n", "t.csv:1:1" },
    { "150MHz,30,u\n", "t.csv:1:11: found “u”" },
    { "MHz,S21 dB\n100,-30.1\n200,-30.2\n", "2 of its losses are negative" },
    { "100MHz nan\n", "found “nan”" },
    { "-5MHz,30\n50MHz,30\n", "t.csv:1:1: found “-5MHz”" },
  };
  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    refused (sp_loss_table_parse (bad[i].table, strlen (bad[i].table), "t.csv", &error), bad[i].says);
  refused (sp_loss_table_parse ("1\0002", 3, "t.csv", &error), "no text");
  GString *many = g_string_new (NULL);
  for (guint i = 0; i < 10001; i++)
    g_string_append_printf (many, "%u 1\n", i + 1);
  refused (sp_loss_table_parse (many->str, many->len, "t.csv", &error), "more than the 10000");
  g_string_free (many, TRUE);
}
END_TEST

/* ---- files on a stage ---- */

START_TEST (a_loss_from_a_file)
{
  g_autofree char *run = put_file (folder, "a.run", run_text), *ports = put_file (folder, "a b#.s2p", two_port_text);
  g_autofree char *table = put_file (folder, "a.csv", "MHz,dB\n100,30.5\n"), *bad = put_file (folder, "b.csv", "100MHz 30\n100MHz 31\n");
  g_autoptr (SpChain) with_run = sp_chain_take_loss (chain, 0, run, &error);
  sp_no_error (error);
  ck_assert (with_run->stages[0]->run && with_run->stages[0]->loss->n == 2 && !with_run->stages[1]->run);
  near (with_run->stages[0]->temperature_c, 22.5, 0);
  g_autoptr (SpChain) with_ports = sp_chain_take_loss (with_run, 0, ports, &error);
  sp_no_error (error);
  ck_assert (with_ports->stages[0]->two_port && !with_ports->stages[0]->run);
  near (with_ports->stages[0]->loss->value[0], 20.3, 1e-9);
  g_autoptr (SpChain) with_points = sp_chain_take_loss (with_ports, 0, table, &error);
  sp_no_error (error);
  ck_assert (!with_points->stages[0]->two_port && with_points->stages[0]->loss->n == 1);
  near (with_points->stages[0]->loss->value[0], 30.5, 0);
  refused (sp_chain_take_loss (chain, 0, bad, &error), "100");
  refused (sp_chain_take_loss (chain, 0, "/no/such.csv", &error), "/no/such.csv");
  refused (sp_chain_take_loss (chain, 0, folder, &error), "no file");
}
END_TEST

/* Points that a run gave, without it: the same loss, the same budget outside, and the edit goes on. */
START_TEST (points_without_their_run)
{
  g_autoptr (SpRun) run = run_from (run_text);
  g_autoptr (SpChain) with_run = sp_chain_set_run (chain, 0, run, &error), plain = sp_chain_keep_points (with_run, 0, &error);
  sp_no_error (error);
  ck_assert (!plain->stages[0]->run && plain->stages[0]->loss->n == 2);
  for (guint i = 0; i < 2; i++) {
    near (plain->stages[0]->loss->value[i], with_run->stages[0]->loss->value[i], 0);
    near (plain->stages[0]->loss->u[i], with_run->stages[0]->loss->u[i], 0);
  }
  near (plain->stages[0]->common_u_db, with_run->stages[0]->common_u_db, 0);
  near (plain->stages[0]->calibrated_day, run->day, 0);
  near (plain->stages[0]->temperature_c, 22.5, 0);
  refused (sp_chain_keep_points (chain, 0, &error), "pad");
}
END_TEST

/* ---- stages of other chains ---- */

START_TEST (a_stage_of_another_chain)
{
  g_autoptr (SpRun) run = run_from (run_text);
  g_autoptr (SpChain) from = sp_chain_set_run (chain, 0, run, &error);
  g_autoptr (SpChain) to = chain_from ("[chain]\nname=Other\nstages=pad\ncalibrated=2026-01-01\n[stage pad]\nkind=pad\nlabel_db=3\n");
  refused (sp_chain_take_stage (to, 1, from, 0, "pad", &error), "pad");
  refused (sp_chain_take_stage (to, 1, from, 0, " ", &error), "name");
  g_autofree char *name = sp_chain_free_name (to, "pad");
  ck_assert_str_eq (name, "pad 2");
  g_autoptr (SpChain) with = sp_chain_take_stage (to, 1, from, 0, name, &error),
                      both = sp_chain_take_stage (with, 0, from, 1, "lead", &error);
  g_autoptr (SpChain) twice = sp_chain_take_stage (both, 3, from, 0, "third", &error);
  sp_no_error (error);
  ck_assert_uint_eq (twice->n, 4);
  near (twice->stages[2]->loss->value[0], from->stages[0]->loss->value[0], 0);
  near (twice->stages[2]->calibrated_day, run->day, 0);              /* the run's own */
  near (twice->stages[0]->calibrated_day, chain->calibrated_day, 0); /* its chain's */
  near (twice->stages[0]->temperature_c, 21, 0);
  ck_assert_str_ne (twice->stages[2]->run_name, twice->stages[3]->run_name);
}
END_TEST

START_TEST (the_shelf)
{
  g_autofree char *shelf = g_build_filename (folder, "shelf", NULL);
  g_autoptr (SpRun) run = run_from (run_text);
  g_autoptr (SpChain) from = sp_chain_set_run (chain, 0, run, &error);
  g_autoptr (GPtrArray) empty = sp_shelf_read (shelf, SP_SHELF_STAGES, &error);
  ck_assert_uint_eq (empty->len, 0);
  ck_assert (sp_shelf_put (shelf, from, 0, "../my pad; 5 W", FALSE, &error) && sp_shelf_put (shelf, from, 1, "lead", FALSE, &error));
  sp_no_error (error);
  refused (sp_shelf_put (shelf, from, 0, "lead", FALSE, &error), "on the shelf already");
  refused (sp_shelf_put (shelf, from, 0, "  ", FALSE, &error), "name");
  g_autoptr (GPtrArray) two = sp_shelf_read (shelf, SP_SHELF_STAGES, &error);
  ck_assert_uint_eq (two->len, 2);
  SpShelfItem *pad = two->pdata[0], *lead = two->pdata[1];
  ck_assert_str_eq (pad->name, "../my pad; 5 W");
  ck_assert_str_eq (lead->name, "lead");
  ck_assert_ptr_nonnull (strstr (lead->chain->text, "points="));
  ck_assert_str_eq (pad->chain->stages[0]->run->sha256, from->stages[0]->run->sha256);
  near (pad->chain->stages[0]->loss->value[1], from->stages[0]->loss->value[1], 0);
  ck_assert_ptr_nonnull (strstr (pad->chain->text, "owner=club"));
  near (lead->chain->interval_days, 365, 0);
  /* replaced, taken away, put back */
  ck_assert (sp_shelf_put (shelf, from, 0, "lead", TRUE, &error));
  g_autoptr (GPtrArray) replaced = sp_shelf_read (shelf, SP_SHELF_STAGES, &error);
  SpShelfItem *now = replaced->pdata[1];
  ck_assert_ptr_nonnull (now->chain->stages[0]->run);
  ck_assert (sp_shelf_has (shelf, SP_SHELF_STAGES, "lead") && sp_shelf_remove (shelf, now, &error));
  ck_assert (!sp_shelf_has (shelf, SP_SHELF_STAGES, "lead") && sp_shelf_put_back (now->path, &error)
             && sp_shelf_has (shelf, SP_SHELF_STAGES, "lead"));
  refused (sp_shelf_put_back (now->path, &error), "another stage");
  drop_folder (g_steal_pointer (&shelf));
}
END_TEST

/* What others put into the folder: said, each by itself, and nothing outside of it is looked at. */
START_TEST (a_hostile_shelf)
{
  g_autofree char *outside = put_file (folder, "secret.run", run_text), *within = g_build_filename (folder, "shelf", NULL);
  ck_assert_int_eq (g_mkdir (within, 0700), 0);
  const struct {
    const char *file, *text, *says;
  } cases[] = {
    { "a.chain", "\001\002", "a.chain:1:" },
    { "b.chain", "[chain]\nstages=x\n[stage x]\nkind=pad\nrun=../secret.run\n", "does not lie on the shelf" },
    { "c.chain", "[chain]\nstages=x\n[stage x]\nkind=pad\nrun=%2e%2e%2fsecret.run\n", "does not lie on the shelf" },
    { "d.chain", "[chain]\nstages=x;y\n[stage x]\nkind=pad\n[stage y]\nkind=pad\n", "2 stages" },
    { "e.chain", "[chain]\nstages=x\n[stage x]\nkind=pad\nvswr=secret.s1p\n", "e.chain:5" },
    { "f.chain", "[chain]\nstages=x\n[stage x]\nkind=pad\npoints=200MHz 1; 100MHz 2\n", "f.chain:5" },
  };
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    g_free (put_file (within, cases[i].file, cases[i].text));
  g_free (put_file (within, "good.chain", "[chain]\nname=z\nstages=z\n[stage z]\nkind=pad\nlabel_db=3\n"));
  g_autoptr (GPtrArray) items = sp_shelf_read (within, SP_SHELF_STAGES, &error);
  sp_no_error (error);
  ck_assert_uint_eq (items->len, G_N_ELEMENTS (cases) + 1);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
    SpShelfItem *item = items->pdata[i];
    ck_assert_str_eq (item->name, cases[i].file);
    ck_assert_msg (!item->chain && strstr (item->error->message, cases[i].says), "%s: %s", item->name,
                   item->error ? item->error->message : "read");
  }
  ck_assert_ptr_nonnull (((SpShelfItem *) items->pdata[6])->chain);
  drop_folder (g_steal_pointer (&within));
}
END_TEST

START_TEST (analyzers_on_the_shelf)
{
  g_autofree char *within = g_dir_make_tmp ("sp-shelf-XXXXXX", NULL);
  g_autoptr (SpAnalyzer) box = sp_analyzer_blank ("box"), stated = sp_analyzer_set (box, "accuracy_db", "0.7", &error);
  ck_assert (sp_shelf_put_analyzer (within, stated, " my box ", FALSE, &error) && sp_shelf_has (within, SP_SHELF_ANALYZERS, "my box"));
  ck_assert (!sp_shelf_put_analyzer (within, box, "my box", FALSE, &error));
  ck_assert_ptr_nonnull (strstr (error->message, "an analyzer “my box”"));
  g_clear_error (&error);
  ck_assert (!sp_shelf_put_analyzer (within, box, "", FALSE, &error));
  g_clear_error (&error);
  g_autoptr (GPtrArray) items = sp_shelf_read (within, SP_SHELF_ANALYZERS, &error),
                        stages = sp_shelf_read (within, SP_SHELF_STAGES, &error);
  ck_assert (items->len == 1 && stages->len == 0);
  SpShelfItem *item = items->pdata[0];
  ck_assert_str_eq (item->name, "my box");
  ck_assert (item->analyzer->accuracy.width_db == 0.7 && !item->error);
  ck_assert (sp_shelf_remove (within, item, &error) && !sp_shelf_has (within, SP_SHELF_ANALYZERS, "my box"));
  ck_assert (sp_shelf_put_back (item->path, &error));
  ck_assert (g_file_set_contents (item->path, "[chain]\n", -1, NULL));
  g_autoptr (GPtrArray) bad = sp_shelf_read (within, SP_SHELF_ANALYZERS, &error);
  ck_assert (((SpShelfItem *) bad->pdata[0])->error && !((SpShelfItem *) bad->pdata[0])->analyzer);
  g_remove (item->path);
  g_rmdir (within);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("losses");
  TCase *t = tcase_create ("losses");
  tcase_add_checked_fixture (t, set_up, tear_down);
  tcase_add_test (t, keys_of_a_run);
  tcase_add_test (t, analyzers_on_the_shelf);
  tcase_add_test (t, tables);
  tcase_add_test (t, bad_tables);
  tcase_add_test (t, a_loss_from_a_file);
  tcase_add_test (t, points_without_their_run);
  tcase_add_test (t, a_stage_of_another_chain);
  tcase_add_test (t, the_shelf);
  tcase_add_test (t, a_hostile_shelf);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
