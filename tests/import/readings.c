/* Many names at once: the pattern that is proposed, the ways in which they can be read, what one may mean; each name the same as by itself. */
#include "core/bench/proposals/propose.h"
#include "core/bench/sheet/sheet.h"
#include "tests/suite.h"

/* "Mirrick|2m;Askerby|70cm", by a pattern. */
static char *
means (const char *const *names, const char *pattern)
{
  GString *text = g_string_new (NULL);
  for (guint i = 0; names[i]; i++) {
    SpProposal said;
    sp_propose (names[i], pattern, &said);
    g_string_append_printf (text, "%s%s|%s", i ? ";" : "", said.radio, said.condition);
    sp_proposal_clear (&said);
  }
  return g_string_free (text, FALSE);
}

START_TEST (the_plainest_way_is_proposed)
{
  static const struct {
    const char *names[5], *pattern, *first, *second;
  } cases[] = {
    { { "mirrick_2m_high.csv", "mirrick_70cm.csv", "room.csv" }, "", "Mirrick|2m high;Mirrick|70cm;|", NULL },
    { { "20261128_mirrick_2m.csv", "20261128_askerby_70cm.csv" },
      "{any}_{radio}[_{condition}][_{purpose}]",
      "Mirrick|2m;Askerby|70cm",
      NULL },
    { { "loft_mirrick.csv", "6m_mirrick.csv" }, "", "Loft|mirrick;Mirrick|6m", "Mirrick|loft;Mirrick|6m" },
    { { "mirrick-1.csv", "mirrick-2.csv" }, "", "Mirrick|;Mirrick|", "Mirrick-1|;Mirrick-2|" },
    { { "club_mirrick_2m.csv", "club_askerby_6m.csv" }, "", "Club|mirrick 2m;Club|askerby 6m", "Mirrick|2m;Askerby|6m" },
    { { "keyed_mirrick_2m.csv", "unkeyed_mirrick_2m.csv" }, "", "Mirrick|2m;Mirrick|2m", NULL },
    { { "/evening/kit/160m_5W.csv", "/evening/kit/6m-100W-cw.csv" }, "", "Kit|160m 5W;Kit|6m 100W cw", NULL },
    { { "\xff_\xfe.csv" }, "", "\xef\xbf\xbd|\xef\xbf\xbd", NULL },
  };
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
    g_autoptr (GPtrArray) ways = sp_propose_readings (cases[i].names, g_strv_length ((char **) cases[i].names));
    const SpNamesReading *first = ways->pdata[0], *second = ways->len > 1 ? ways->pdata[1] : NULL;
    g_autofree char *one = means (cases[i].names, first->pattern), *other = second ? means (cases[i].names, second->pattern) : NULL;
    ck_assert_str_eq (first->pattern, cases[i].pattern);
    ck_assert_str_eq (one, cases[i].first);
    ck_assert_msg (g_strcmp0 (other, cases[i].second) == 0, "%u: %s", i, other);
    for (guint k = 0; k < ways->len; k++)
      ck_assert (sp_propose_check_pattern (((const SpNamesReading *) ways->pdata[k])->pattern, NULL));
  }
}
END_TEST

START_TEST (the_example_is_a_name_that_differs)
{
  static const char *const names[] = { "6m_mirrick.csv", "loft_mirrick.csv", NULL };
  g_autoptr (GPtrArray) ways = sp_propose_readings (names, 2), none = sp_propose_readings (names, 0);
  ck_assert_uint_eq (((const SpNamesReading *) ways->pdata[1])->example, 1);
  ck_assert_uint_eq (none->len, 1);
  ck_assert_str_eq (((const SpNamesReading *) none->pdata[0])->pattern, "");
}
END_TEST

/* The bench has a say: what both readings find there is one. */
START_TEST (what_one_name_may_mean)
{
  static const char *const names[] = { "tulvannick-1.csv", "6m_mirrick.csv", "loft_mirrick.csv", NULL };
  g_autofree char *path = sp_test_path ("samples/club.sheet");
  g_autoptr (SpBench) bench = sp_bench_read (path, NULL);
  g_autoptr (SpKnownNames) known = sp_known_names_new (bench);
  g_autoptr (GPtrArray) ways = sp_propose_readings (names + 1, 2);
  g_autoptr (GPtrArray) numbered = sp_propose_meanings (known, names[0], "", NULL), loft = sp_propose_meanings (known, names[2], "", ways),
                        plain = sp_propose_meanings (known, names[1], "", ways);
  ck_assert_uint_eq (numbered->len, 2);
  ck_assert_str_eq (((SpProposal *) numbered->pdata[0])->radio, "Tulvannick");
  ck_assert_str_eq (((SpProposal *) numbered->pdata[1])->radio, "Tulvannick-1");
  ck_assert_uint_eq (loft->len, 2);
  ck_assert_str_eq (((SpProposal *) loft->pdata[1])->radio, "Mirrick");
  ck_assert_uint_eq (plain->len, 1);
}
END_TEST

/* One by one, and by a bench that was looked through once. */
START_TEST (known_once_is_known_as_ever)
{
  static const char *const radios[] = { "tulvannick", "DORNIMEL", "dornimel 70 cm", "nobody", "" }, *const conditions[] = { "", "2m", "70",
                                                                                                                            "7 cm" };
  g_autofree char *path = sp_test_path ("samples/club.sheet");
  g_autoptr (SpBench) bench = sp_bench_read (path, NULL);
  g_autoptr (SpKnownNames) known = sp_known_names_new (bench);
  for (guint i = 0; i < G_N_ELEMENTS (radios) * G_N_ELEMENTS (conditions); i++) {
    SpProposal one = { 0 }, other = { 0 };
    sp_proposal_aim (&one, radios[i % G_N_ELEMENTS (radios)], conditions[i / G_N_ELEMENTS (radios)]);
    sp_proposal_aim (&other, one.radio, one.condition);
    sp_propose_known (bench, &one);
    sp_known_names_aim (known, &other);
    ck_assert_str_eq (one.radio, other.radio);
    ck_assert_str_eq (one.condition, other.condition);
    sp_proposal_clear (&one), sp_proposal_clear (&other);
  }
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("import/readings");
  TCase *t = tcase_create ("readings");
  tcase_add_test (t, the_plainest_way_is_proposed);
  tcase_add_test (t, the_example_is_a_name_that_differs);
  tcase_add_test (t, what_one_name_may_mean);
  tcase_add_test (t, known_once_is_known_as_ever);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
