/* A chain whose stage has a substitution run: in a book and out of it again with every number, and no file named by a stranger's book is read. */
#include "tests/chain/bench.h"

#include "core/bench/edit/edit.h"
#include "core/bench/sheet/sheet.h"
#include "core/book/book.h"

static const char *const files[][2] = {
  { "run.chain", "[chain]\nname=By run\nstages=pad\n[stage pad]\nkind=pad\nrating_w=10\nrun=tail end.run\nvswr=tail.s1p\n" },
  { "tail.s1p", "# MHz S MA R 50\n1 .05 0\n1000 .1 0\n" },
  { "tail end.run", "[run]\nstage=pad\ndate=2026-02-01\nmood=calm\nmeter_vswr=tail.s1p\n[at 1MHz]\nbefore=0@0\ninserted=-40.1@1;-40.12@2\n"
                    "after=0.01@3\n[at 1GHz]\nbefore=0@0\ninserted=-40.5@1;-40.55@2\n" },
  { "a.analyzer", "[analyzer]\nname=One\ndamage_dbm=20\n" },
  { "k.csv", "Attenuation,10 dB\nRBW,10 kHz\nDetector,Sample\nFrequency (Hz),Level (dBm)\n9000000,-80\n10000000,-10\n11000000,-80\n" },
  { "run.sheet", "[bench]\nchain=run.chain\nanalyzer=a.analyzer\nmask=us-amateur\n[radio One]\nfundamental=10MHz\nkeyed=k.csv\n" },
};

static char *
shelf (void)
{
  char *folder = new_folder ();
  for (guint i = 0; i < G_N_ELEMENTS (files); i++)
    g_free (put_file (folder, files[i][0], files[i][1]));
  return folder;
}

static void
same (const SpBench *a, const SpBench *b)
{
  ck_assert_str_eq (a->sha256, b->sha256);
  ck_assert_str_eq (a->chain->sha256, b->chain->sha256);
  for (double f = 1e6; f <= 1e9; f *= 10) {
    SpChainLoss x = sp_chain_loss (a->chain, f, NAN, 0, NULL), y = sp_chain_loss (b->chain, f, NAN, 0, NULL);
    ck_assert (x.loss_db == y.loss_db && x.u_db == y.u_db && x.dof_independent == y.dof_independent && isfinite (x.dof_independent));
  }
  ck_assert (a->chain->stages[0]->run && b->chain->stages[0]->run);
  ck_assert_str_eq (a->chain->stages[0]->run->text, b->chain->stages[0]->run->text);
}

START_TEST (there_and_back)
{
  char *folder = shelf ();
  g_autofree char *sheet = g_build_filename (folder, "run.sheet", NULL), *path = g_build_filename (folder, "run.benchbook", NULL);
  g_autofree char *out = g_build_filename (folder, "out", NULL), *again = g_build_filename (out, "bench.sheet", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (SpBench) bench = sp_bench_read (sheet, &error);
  sp_no_error (error);
  sp_book_pack (sheet, path, &error);
  sp_no_error (error);
  sp_book_unpack (path, out, &error);
  sp_no_error (error);
  g_autoptr (SpBook) book = sp_book_open (path, &error);
  sp_no_error (error);
  same (bench, sp_book_bench (book));
  g_autoptr (SpBench) unpacked = sp_bench_read (again, &error);
  sp_no_error (error);
  same (bench, unpacked);

  /* an edit does not read the run again */
  g_autoptr (SpChain) rated = sp_chain_set (sp_book_bench (book)->chain, 0, "rating_w", "20", &error);
  sp_no_error (error);
  ck_assert_ptr_eq (rated->stages[0]->run, sp_book_bench (book)->chain->stages[0]->run);
  g_autofree char *raw = g_build_filename (out, "raw", NULL);
  drop_folder (g_steal_pointer (&raw));
  drop_folder (g_steal_pointer (&out));
  drop_folder (folder);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("book/stage-run");
  TCase *t = tcase_create ("runs in books");
  tcase_add_test (t, there_and_back);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
