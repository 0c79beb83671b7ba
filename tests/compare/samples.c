/* samples.c - what samples of one model have in common: a bench of three alike, one not, and what is not the radio's own */
#include "tests/figure/fixture.h"
#include "tests/suite.h"

#include "core/compare/samples.h"

static SpFindings *findings;
static SpComparison *comparison;

/* Tolvane, Mirrick and Askerby of the fixture become three samples, with a second harmonic each. */
static void
set_up (void)
{
  static const char *const names[] = { "Corvane 1", "Corvane 2", "Corvane 3" };
  static const double level_dbm[] = { -20.9, -19.1, -22.4 }, power_dbm[] = { 36.4, 36.1, 36.2 };
  findings = fixture_findings (101);
  for (guint i = 0; i < 3; i++) {
    SpConditionFindings *c = &findings->conditions[i];
    SpRadio *radio = &findings->bench->radios[findings->bench->conditions[c->condition].radio];
    g_free (radio->name);
    radio->name = g_strdup (names[i]);
    c->power_dbm = power_dbm[i];
    for (guint k = 0; k < c->n_emissions; k++) {
      c->emissions[k].detected = c->emissions[k].order == 2;
      c->emissions[k].origin = SP_ORIGIN_RADIO;
      if (c->emissions[k].order == 2)
        c->emissions[k].level_dbm = level_dbm[i];
    }
  }
  comparison = sp_compare (findings);
}

static void
tear_down (void)
{
  sp_comparison_unref (comparison);
  sp_findings_unref (findings);
}

static SpEmission *
second (guint condition)
{
  SpConditionFindings *c = &findings->conditions[condition];
  for (guint k = 0; k < c->n_emissions; k++)
    if (c->emissions[k].order == 2)
      return &c->emissions[k];
  ck_abort_msg ("no second harmonic");
  return NULL;
}

START_TEST (three_samples_by_hand)
{
  g_autoptr (GPtrArray) models = sp_compare_samples (comparison);
  ck_assert_uint_eq (models->len, 1);
  const SpSamples *samples = g_ptr_array_index (models, 0);
  ck_assert_str_eq (samples->model, "Corvane");
  ck_assert_uint_eq (samples->n, 3);
  ck_assert_uint_eq (samples->n_levels, 2); /* the carrier and the second: no other is seen */
  const SpSampleLevel *carrier = &samples->levels[0], *level = &samples->levels[1];
  ck_assert (carrier->order == 1 && level->order == 2);
  ck_assert_double_eq_tol (level->mean_dbm, -20.8, 1e-9);
  ck_assert_double_eq_tol (level->s_db, sqrt ((0.01 + 2.89 + 2.56) / 2), 1e-9);
  ck_assert_double_eq_tol (level->mean_within_db, 4.302652729911275 * level->s_db / sqrt (3), 1e-9); /* t of 2 degrees, 97.5 % */
  ck_assert_double_eq_tol (level->most_dbm, -20.8 + 7.655900133153338 * level->s_db, 1e-5);
  ck_assert_double_eq_tol (level->room_db, FIXTURE_LIMIT_DBM + 20.8, 1e-9);
  ck_assert_double_lt (carrier->most_dbm, carrier->mean_dbm); /* what it reaches at least */
  ck_assert (samples->worst == 1);
  ck_assert_double_eq_tol (samples->worst_over_db, level->most_dbm - FIXTURE_LIMIT_DBM, 1e-9);
  ck_assert (!samples->all_comply); /* one exceeds, one is not proven */
}
END_TEST

START_TEST (what_is_not_the_radios_is_no_sample_of_it)
{
  second (1)->origin = SP_ORIGIN_ANALYZER;
  g_autoptr (GPtrArray) models = sp_compare_samples (comparison);
  const SpSampleLevel *level = &((SpSamples *) g_ptr_array_index (models, 0))->levels[1];
  ck_assert_uint_eq (level->n_seen, 2);
  ck_assert (isnan (level->level_dbm[1]) && isnan (level->mean_dbm) && isnan (level->most_dbm));
}
END_TEST

START_TEST (differences_to_a_reference)
{
  ck_assert_double_eq_tol (sp_compare_over_db (&comparison->rows[0], &comparison->rows[1], 2), -1.8, 1e-9);
  second (0)->detected = FALSE;
  ck_assert (isnan (sp_compare_over_db (&comparison->rows[0], &comparison->rows[1], 2)));
  ck_assert (isnan (sp_compare_over_db (&comparison->rows[0], &comparison->rows[1], 99)));
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("samples");
  TCase *t = tcase_create ("samples");
  tcase_add_checked_fixture (t, set_up, tear_down);
  tcase_add_test (t, three_samples_by_hand);
  tcase_add_test (t, what_is_not_the_radios_is_no_sample_of_it);
  tcase_add_test (t, differences_to_a_reference);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
