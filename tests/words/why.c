/* why.c - each step of the walk says something of every emission, in whole sentences with numbers, and the job's steps have words */
#include "ui/words/help.h"

#include "core/bench/sheet/sheet.h"
#include "core/judge/judge.h"
#include "tests/suite.h"

#include <string.h>

static void
expect_sentences (const char *text, const SpWhy *why, int step)
{
  gsize length = strlen (text);
  const char *never[] = { "nan", "(null)", "{", "inf" };
  ck_assert_msg (length > 10 && strchr (".?!", text[length - 1]), "step %d of %s: “%s”", step, why->found->name, text);
  for (guint i = 0; i < G_N_ELEMENTS (never); i++)
    ck_assert_msg (!strstr (text, never[i]), "step %d of %s: “%s”", step, why->found->name, text);
}

/* Of both evenings, each emission: seen, not seen, the analyzer's, from the air, without a limit. */
START_TEST (every_emission_is_explained)
{
  static const char *const sheets[] = { "samples/club.sheet", "samples/pocket.sheet" };
  guint n = 0;
  for (guint s = 0; s < G_N_ELEMENTS (sheets); s++) {
    g_autoptr (GError) error = NULL;
    g_autofree char *path = sp_test_path (sheets[s]);
    g_autoptr (SpBench) bench = sp_bench_read (path, &error);
    sp_no_error (error);
    g_autoptr (SpFindings) findings = sp_judge (bench);
    for (guint c = 0; c < findings->n; c++)
      for (guint i = 0; i < findings->conditions[c].n_emissions; i++)
        for (int step = 0; step < SP_WHY_STEPS; step++, n++) {
          g_autoptr (SpWhy) why = sp_why (findings, c, (int) i);
          g_autofree char *says = sp_words_why_says (why, (SpWhyStep) step, SP_HAND_SCREEN),
                          *figure = sp_words_why_figure (why, (SpWhyStep) step, SP_HAND_SCREEN);
          expect_sentences (says, why, step);
          ck_assert (*figure && !strstr (figure, "nan") && *sp_words_why_title ((SpWhyStep) step));
        }
  }
  ck_assert_uint_gt (n, 500);
}
END_TEST

/* Every word, verdict, origin and step has its words, and no two the same. */
START_TEST (every_word_has_a_meaning)
{
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);
  for (int word = 0; word < SP_N_WORDS; word++) {
    ck_assert (strlen (sp_words_word ((SpGlossaryWord) word)) > 0 && strlen (sp_words_meaning ((SpGlossaryWord) word)) > 20);
    ck_assert (g_hash_table_add (seen, (gpointer) sp_words_word ((SpGlossaryWord) word)));
    ck_assert (g_hash_table_add (seen, (gpointer) sp_words_meaning ((SpGlossaryWord) word)));
  }
  for (int verdict = SP_VERDICT_NO_LIMIT; verdict <= SP_VERDICT_EXCEEDS; verdict++)
    ck_assert (g_hash_table_add (seen, (gpointer) sp_words_verdict_means ((SpVerdict) verdict)));
  for (int origin = SP_ORIGIN_RADIO; origin <= SP_ORIGIN_UNTESTED; origin++)
    ck_assert (g_hash_table_add (seen, (gpointer) sp_words_origin_means ((SpOrigin) origin)));
  for (int step = 0; step < SP_JOB_STEPS; step++)
    ck_assert (g_hash_table_add (seen, (gpointer) sp_words_job_step ((SpJobStep) step)) && *sp_words_job_about ((SpJobStep) step));
}
END_TEST

/* No topic is empty, and the cautions name the dangers. */
START_TEST (topics)
{
  static const char *const dangers[] = { "burns the skin", "rated", "analyzer's input burns", "licence", "Local rules" };
  guint n;
  const SpHelpTopic *all = sp_help_topics (&n);
  g_autoptr (GString) cautions = g_string_new (NULL);
  for (guint i = 0; i < n; i++) {
    ck_assert (*all[i].title && all[i].paragraphs[0]);
    for (guint k = 0; all[i].paragraphs[k] && strcmp (all[i].id, "cautions") == 0; k++)
      g_string_append (cautions, all[i].paragraphs[k]);
  }
  for (guint i = 0; i < G_N_ELEMENTS (dangers); i++)
    ck_assert_msg (strstr (cautions->str, dangers[i]) != NULL, "%s", dangers[i]);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("why");
  TCase *t = tcase_create ("why");
  tcase_set_timeout (t, 60);
  tcase_add_test (t, every_emission_is_explained);
  tcase_add_test (t, every_word_has_a_meaning);
  tcase_add_test (t, topics);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
