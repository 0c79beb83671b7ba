/* job.c - the job's steps are done when nothing of them is left, in the bench and in its findings */
#include "core/findings/job.h"

#include "core/bench/edit/edit.h"
#include "core/bench/sheet/sheet.h"
#include "core/judge/judge.h"
#include "tests/suite.h"

#include <glib/gstdio.h>

static SpBench *
bench_of (const char *sheet)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = sp_test_path (sheet);
  SpBench *bench = sp_bench_read (path, &error);
  sp_no_error (error);
  return bench;
}

/* The bench with another chain of that text; takes `bench`. */
static SpBench *
with_chain (SpBench *bench, const char *text)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SpKeyFile) file = sp_key_file_parse (text, strlen (text), "t.chain", &error);
  sp_no_error (error);
  g_autoptr (SpChain) chain = sp_chain_parse (file, &error);
  sp_no_error (error);
  SpBench *edited = sp_bench_replace_chain (bench, bench->chain, chain);
  sp_bench_unref (bench);
  return edited;
}

static SpJob
job_of (const SpBench *bench)
{
  g_autoptr (SpFindings) findings = sp_judge (bench);
  return sp_job (bench, findings, FALSE);
}

/* A new book: nothing of the chain is stated, nothing is swept, and what asks of findings is not done for want of them. */
START_TEST (a_new_book)
{
  g_autoptr (SpBench) bench = bench_of ("samples/blank.sheet");
  SpJob job = job_of (bench);
  ck_assert (!job.begun);
  ck_assert_int_eq (job.next, SP_JOB_CHAIN);
  ck_assert_uint_eq (job.open[SP_JOB_CHAIN], 1);
  ck_assert_uint_eq (job.open[SP_JOB_LOSSES], 1);
  ck_assert_uint_eq (job.open[SP_JOB_SWEEPS], 1);
  static const SpJobStep open[] = { SP_JOB_CHAIN, SP_JOB_SAFE, SP_JOB_LOSSES, SP_JOB_SWEEPS, SP_JOB_WHOSE, SP_JOB_VERDICTS, SP_JOB_PAPER };
  for (guint i = 0; i < G_N_ELEMENTS (open); i++)
    ck_assert (!job.done[open[i]]);
}
END_TEST

/* A label draws a stage and does not measure it; points do both. */
START_TEST (a_label_draws_and_does_not_measure)
{
  static const struct {
    const char *keys;
    guint without_loss, not_measured;
  } cases[] = {
    { "", 1, 1 },
    { "label_db=10\n", 0, 1 },
    { "points=50MHz 10.1 0.05; 1600MHz 10.2 0.08\n", 0, 0 },
  };
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
    g_autofree char *text
        = g_strdup_printf ("[chain]\nname=C\nstages=pad;lead\n[stage pad]\nkind=pad\nrating_w=2\n%s[stage lead]\nkind=cable\n"
                           "points=50MHz 0.2 0.05; 1600MHz 0.4 0.08\nrating_w=50\n",
                           cases[i].keys);
    g_autoptr (SpBench) bench = with_chain (bench_of ("samples/blank.sheet"), text);
    SpJob job = job_of (bench);
    ck_assert_uint_eq (job.open[SP_JOB_CHAIN], cases[i].without_loss);
    ck_assert_uint_eq (job.open[SP_JOB_LOSSES], cases[i].not_measured);
    ck_assert_int_eq (job.done[SP_JOB_CHAIN], cases[i].without_loss == 0);
    ck_assert_int_eq (sp_job_stage (bench->chain, SP_JOB_LOSSES), cases[i].not_measured ? 0 : -1);
    ck_assert_int_eq (sp_job_stage (bench->chain, SP_JOB_SAFE), -1);
  }
}
END_TEST

/* A notched sweep goes through a chain of its own: that is to be drawn and measured too, and a superseded one's is not. */
START_TEST (chains_of_sweeps_count)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *folder = g_dir_make_tmp ("sp-job-XXXXXX", NULL);
  static const char *const files[][2] = {
    { "a.csv", "RBW,10 kHz\nAttenuation,20 dB\nDetector,peak\nFrequency (Hz),Level (dBm)\n1e6,-90\n2e6,-91\n3e6,-90\n" },
    { "own.chain", "[chain]\nname=Own\nstages=pad;stub\n[stage pad]\nkind=pad\nrating_w=2\nlabel_db=10\n[stage stub]\nkind=notch\n" },
    { "t.chain", "[chain]\nname=T\nstages=pad\n[stage pad]\nkind=pad\nrating_w=2\npoints=1MHz 10 0.1; 1GHz 10 0.1\n" },
    { "t.analyzer", "[analyzer]\nname=T\n" },
    { "t.sheet",
      "[bench]\nchain=t.chain\nanalyzer=t.analyzer\nmask=us-amateur\n[radio A]\nkeyed=a.csv\nnotched=a.csv\nnotched_chain=own.chain\n" },
  };
  for (guint i = 0; i < G_N_ELEMENTS (files); i++) {
    g_autofree char *path = g_build_filename (folder, files[i][0], NULL);
    ck_assert (g_file_set_contents (path, files[i][1], -1, NULL));
  }
  g_autofree char *sheet = g_build_filename (folder, "t.sheet", NULL);
  g_autoptr (SpBench) bench = sp_bench_read (sheet, &error);
  sp_no_error (error);
  SpJob job = sp_job (bench, NULL, FALSE);
  ck_assert_uint_eq (job.open[SP_JOB_CHAIN], 1);  /* the stub */
  ck_assert_uint_eq (job.open[SP_JOB_LOSSES], 2); /* and the pad by its label */
  for (guint i = 0; i < G_N_ELEMENTS (files); i++) {
    g_autofree char *path = g_build_filename (folder, files[i][0], NULL);
    g_unlink (path);
  }
  g_rmdir (folder);
}
END_TEST

/* The sample: all is drawn, measured and swept; what is open is what its verdicts leave open. */
START_TEST (a_finished_evening)
{
  g_autoptr (SpBench) bench = bench_of ("samples/club.sheet");
  g_autoptr (SpFindings) findings = sp_judge (bench);
  SpJob job = sp_job (bench, findings, FALSE);
  guint open = 0, condition;
  int emission;
  for (guint i = 0; i < findings->n; i++)
    open += findings->conditions[i].verdict == SP_VERDICT_NOT_PROVEN || findings->conditions[i].verdict == SP_VERDICT_INCONCLUSIVE;
  ck_assert_uint_gt (open, 0);
  ck_assert (job.begun && job.done[SP_JOB_CHAIN] && job.done[SP_JOB_SAFE] && job.done[SP_JOB_LOSSES] && job.done[SP_JOB_SWEEPS]);
  ck_assert_uint_eq (job.open[SP_JOB_VERDICTS], open);
  ck_assert (!job.done[SP_JOB_VERDICTS]);
  ck_assert (sp_job_place (findings, SP_JOB_VERDICTS, &condition, &emission));
  ck_assert (findings->conditions[condition].verdict == SP_VERDICT_NOT_PROVEN
             || findings->conditions[condition].verdict == SP_VERDICT_INCONCLUSIVE);
  ck_assert (!job.done[SP_JOB_PAPER] && sp_job (bench, findings, TRUE).done[SP_JOB_PAPER]);
}
END_TEST

/* Findings of another bench, or none, tell nothing: what asks them is not done. */
START_TEST (findings_of_another_bench)
{
  g_autoptr (SpBench) bench = bench_of ("samples/club.sheet"), other = bench_of ("samples/pocket.sheet");
  g_autoptr (SpFindings) findings = sp_judge (other);
  const SpFindings *none[] = { NULL, findings };
  for (guint i = 0; i < G_N_ELEMENTS (none); i++) {
    SpJob job = sp_job (bench, none[i], FALSE);
    ck_assert (!job.done[SP_JOB_SAFE] && !job.done[SP_JOB_WHOSE] && !job.done[SP_JOB_VERDICTS]);
    ck_assert_uint_eq (job.open[SP_JOB_WHOSE] + job.open[SP_JOB_VERDICTS], 0);
    ck_assert (job.done[SP_JOB_SWEEPS]);
  }
}
END_TEST

/* An overloaded analyzer: whose an emission is stays open exactly where a seen one's verdict does, and the radio's own are none of them. */
START_TEST (whose)
{
  g_autoptr (SpBench) bench = bench_of ("samples/pocket.sheet");
  g_autoptr (SpFindings) findings = sp_judge (bench);
  SpJob job = sp_job (bench, findings, FALSE);
  guint condition;
  int emission;
  gboolean open = sp_job_place (findings, SP_JOB_WHOSE, &condition, &emission);
  ck_assert_int_eq (open, job.open[SP_JOB_WHOSE] > 0);
  ck_assert (open);
  const SpEmission *e = &findings->conditions[condition].emissions[emission];
  ck_assert (e->detected && e->origin != SP_ORIGIN_RADIO && (e->verdict == SP_VERDICT_NOT_PROVEN || e->verdict == SP_VERDICT_INCONCLUSIVE));
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("job");
  TCase *t = tcase_create ("job");
  tcase_set_timeout (t, 60);
  tcase_add_test (t, a_new_book);
  tcase_add_test (t, a_label_draws_and_does_not_measure);
  tcase_add_test (t, chains_of_sweeps_count);
  tcase_add_test (t, a_finished_evening);
  tcase_add_test (t, findings_of_another_bench);
  tcase_add_test (t, whose);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
