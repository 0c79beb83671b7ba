/* Bad checks: each is refused with its place, what stands there, and what was expected. And unfinished ones say what is wanting. */
#include "tests/check/check.h"

#define HEAD "[check]\nanalyzer=a\n"
#define AT "[at 146MHz]\nlevel=-10\nshows=-10.4\n"

static const struct {
  const char *text, *message;
} rows[] = {
  { "", "t.run:1:1: there is no group [check] in this file" },
  { HEAD, "t.run:1:1: there is no group [at FREQUENCY] in this file" },
  { HEAD "[at noon]\nlevel=0\nshows=0\n", "t.run:3:1: [at noon]: found “noon”" },
  { HEAD "[at 0]\nlevel=0\nshows=0\n", "t.run:3:1: [at 0]: expected a frequency above 0" },
  { HEAD "[at 146MHz tendB]\nlevel=0\nshows=0\n", "t.run:3:1: [at 146MHz tendB]: expected a frequency and a setting" },
  { HEAD "[at 146MHz -5dB]\nlevel=0\nshows=0\n", "t.run:3:1: [at 146MHz -5dB]: expected a frequency and a setting" },
  { HEAD "[at 146MHz]\nshows=0\n", "t.run:3:1: [at 146MHz] has no level" },
  { HEAD "[at 146MHz]\nlevel=0\n", "t.run:3:1: [at 146MHz] has no shows" },
  { HEAD "[at 146MHz]\nlevel=ten\nshows=0\n", "t.run:4:7: [at 146MHz] level: found “ten”" },
  { HEAD "[at 146MHz]\nlevel=0\nshows=-10; ten\n", "t.run:5:12: [at 146MHz] shows: " },
  { HEAD "[at 146MHz]\nlevel=0\nshows=-301\n", "t.run:5:7: [at 146MHz] shows: " },
  { HEAD AT "[at 146000kHz]\nlevel=0\nshows=0\n", "t.run:6:1: [at 146000kHz] is the frequency of [at 146MHz] again" },
  { HEAD "level_u_db=-1\n" AT, "t.run:3:12: [check] level_u_db: found “-1”" },
  { HEAD "lead_loss=1MHz 400\n" AT, "t.run:3:11: [check] lead_loss: " },
  { HEAD "source_vswr=secret.s1p\n" AT, "t.run:3:13: [check] source_vswr: names a file" },
};

START_TEST (refused)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SpKeyFile) file = sp_key_file_parse (rows[_i].text, strlen (rows[_i].text), "t.run", &error);
  sp_no_error (error);
  ck_assert_ptr_null (sp_check_parse (file, FALSE, &error));
  ck_assert_msg (g_str_has_prefix (error->message, rows[_i].message), "%s", error->message);
}
END_TEST

/* Who reads it may say whose it is; nobody else does. */
START_TEST (of_no_analyzer)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SpCheck) check = check_from ("[check]\n" AT);
  ck_assert_ptr_null (sp_check_analyzer (check, &error));
  ck_assert_msg (g_str_has_prefix (error->message, "t.run:1:1: [check] has no analyzer; add analyzer="), "%s", error->message);
}
END_TEST

START_TEST (settings_and_text)
{
  g_autoptr (SpCheck) check = check_from (HEAD AT "[at 146 MHz 20 dB]\nlevel=-10\nshows=-10.5\n[at 146MHz 0dB]\nlevel=-10\nshows=-10\n"
                                                  "[odd]\nkey=kept\n");
  ck_assert_uint_eq (check->at->len, 3);
  ck_assert (((SpCheckAt *) check->at->pdata[1])->attenuation_db == 20 && isnan (((SpCheckAt *) check->at->pdata[0])->attenuation_db));
  ck_assert_uint_eq (check->warnings->len, 1);
  g_autoptr (SpCheck) again = check_from (check->text);
  ck_assert_str_eq (again->text, check->text);
  ck_assert_ptr_nonnull (strstr (check->text, "key=kept"));
}
END_TEST

static const char *
wants (const SpCheck *check)
{
  g_autoptr (SpAnalyzer) blank = sp_analyzer_blank ("box");
  g_autoptr (SpCheckResult) result = sp_check_result (check, blank, NAN);
  const SpReason *first = result->missing->len ? result->missing->pdata[0] : NULL;
  ck_assert (result->n == 0 && !result->correction && result->n_left == 0);
  return first ? g_intern_string (first->RUN_WANTS.what) : NULL;
}

START_TEST (unfinished)
{
  g_autoptr (SpCheck) check = sp_check_new ();
  g_autoptr (GError) error = NULL;
  ck_assert_str_eq (wants (check), "analyzer");
  ck_assert (sp_check_set (check, "analyzer", "box", &error));
  ck_assert_str_eq (wants (check), "frequency");
  SpCheckAt *at = sp_check_add_at (check, 146e6, 10);
  ck_assert_str_eq (wants (check), "level");
  ck_assert (sp_check_at_set (at, "level", "-10", &error));
  ck_assert_str_eq (wants (check), "shows");
  ck_assert (!sp_check_at_set (at, "shows", "ten", &error));
  ck_assert_msg (!strstr (error->message, "[at]"), "%s", error->message);
  g_clear_error (&error);
  ck_assert (sp_check_at_set (at, "shows", "-10.4; -10.5", &error) && sp_check_at_set (at, "shows", "-10.5", &error));
  ck_assert_uint_eq (at->shows->len, 1);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("check-bad");
  TCase *t = tcase_create ("check-bad");
  tcase_add_loop_test (t, refused, 0, G_N_ELEMENTS (rows));
  tcase_add_test (t, of_no_analyzer);
  tcase_add_test (t, settings_and_text);
  tcase_add_test (t, unfinished);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
