/* pivot.c - one radio's conditions by waveband and power, and spurs that do not follow the carrier: the fixture's radios made one */
#include "tests/figure/fixture.h"
#include "tests/suite.h"

#include "core/compare/pivot.h"

#define FOUR 4
static SpFindings *findings;
static SpComparison *comparison;

/* The four with a limit become one radio: 5 W and 25 W (rated) on 2 m, 5.3 W (measured only) and 25 W on 70 cm. */
static void
set_up (void)
{
  static const double f0_hz[FOUR] = { 146.2e6, 146.2e6, 433e6, 433e6 }, rated_w[FOUR] = { 5, 25, NAN, 25 },
                      power_dbm[FOUR] = { 36.8, 44, 37.2428, 43.8 };
  findings = fixture_findings (101);
  for (guint i = 0; i < FOUR; i++) {
    SpConditionFindings *c = &findings->conditions[i];
    SpCondition *condition = &findings->bench->conditions[c->condition];
    condition->radio = 0;
    condition->rated_w = rated_w[i];
    c->fundamental_hz = f0_hz[i];
    c->power_dbm = power_dbm[i];
  }
  comparison = sp_compare (findings);
}

static void
tear_down (void)
{
  sp_comparison_unref (comparison);
  sp_findings_unref (findings);
}

START_TEST (bands_down_powers_across)
{
  g_autoptr (GPtrArray) pivots = sp_compare_pivots (comparison, 0);
  ck_assert_uint_eq (pivots->len, 1); /* the fifth has one condition only */
  const SpPivot *pivot = g_ptr_array_index (pivots, 0);
  ck_assert_uint_eq (pivot->n_rows, 2);
  ck_assert_uint_eq (pivot->n_columns, 2); /* 5.3 W measured stands 0.25 dB from 5 W rated */
  ck_assert_str_eq (pivot->wavebands[0]->name, "2 m");
  ck_assert_str_eq (pivot->wavebands[1]->name, "70 cm");
  ck_assert_double_eq (pivot->power_w[0], 5);
  ck_assert_double_eq (pivot->power_w[1], 25);
  for (guint i = 0; i < FOUR; i++) {
    const SpPivotCell *cell = sp_pivot_cell (pivot, i / 2, i % 2);
    ck_assert_uint_eq (cell->n, 1);
    ck_assert_uint_eq (cell->condition, i);
    double room_db = sp_findings_deciding_margin_db (&findings->conditions[i]);
    ck_assert (cell->value_db == room_db || (isnan (cell->value_db) && isnan (room_db)));
  }
  /* the second exceeds: the worst of its row and of its column */
  ck_assert_uint_eq (sp_pivot_worst_of_row (pivot, 0)->condition, 1);
  ck_assert_uint_eq (sp_pivot_worst_of_column (pivot, 1)->condition, 1);
}
END_TEST

START_TEST (one_cell_holds_the_worst_of_several)
{
  findings->conditions[2].fundamental_hz = 145e6; /* now as the first: not the carrier's frequency, its waveband counts */
  g_autoptr (GPtrArray) pivots = sp_compare_pivots (comparison, 0);
  const SpPivot *pivot = g_ptr_array_index (pivots, 0);
  const SpPivotCell *cell = sp_pivot_cell (pivot, 0, 0);
  ck_assert_uint_eq (cell->n, 2);
  ck_assert_uint_eq (cell->condition, sp_compare_is_worse (&findings->conditions[2], &findings->conditions[0]) ? 2 : 0);
  ck_assert_uint_eq (sp_pivot_cell (pivot, 1, 0)->n, 0);
  ck_assert (!sp_pivot_worst_of_row (pivot, 1)); /* one cell is the worst of nothing */
}
END_TEST

START_TEST (what_is_not_known_comes_last)
{
  findings->conditions[0].fundamental_hz = NAN;
  findings->bench->conditions[findings->conditions[0].condition].rated_w = NAN;
  findings->conditions[0].power_dbm = NAN;
  sp_comparison_unref (comparison);
  comparison = sp_compare (findings);
  g_autoptr (GPtrArray) pivots = sp_compare_pivots (comparison, 0);
  const SpPivot *pivot = g_ptr_array_index (pivots, 0);
  ck_assert_uint_eq (pivot->n_rows, 3);
  ck_assert_ptr_null (pivot->wavebands[2]);
  ck_assert (isnan (pivot->power_w[pivot->n_columns - 1]));
  ck_assert_uint_eq (sp_pivot_cell (pivot, 2, pivot->n_columns - 1)->condition, 0);
}
END_TEST

static SpEmission *
emission (guint condition, guint order)
{
  SpConditionFindings *c = &findings->conditions[condition];
  for (guint k = 0; k < c->n_emissions; k++)
    if (c->emissions[k].order == order)
      return &c->emissions[k];
  ck_abort_msg ("no such harmonic");
  return NULL;
}

START_TEST (a_seen_harmonic_before_a_floor)
{
  findings->conditions[2].fundamental_hz = 145e6;
  SpEmission *seen = emission (0, 2), *hidden = emission (2, 2);
  seen->swept = hidden->swept = seen->detected = TRUE;
  hidden->detected = FALSE;
  seen->level_dbc = -60;
  hidden->level_dbc = -50;
  g_autoptr (GPtrArray) pivots = sp_compare_pivots (comparison, 2);
  const SpPivotCell *cell = sp_pivot_cell (g_ptr_array_index (pivots, 0), 0, 0);
  ck_assert_uint_eq (cell->condition, 0);
  ck_assert_double_eq (cell->value_db, -60);
}
END_TEST

/* An emission of each of the four turned into a spur at this frequency. */
static void
put_spurs (const double frequency_hz[FOUR])
{
  for (guint i = 0; i < FOUR; i++) {
    SpEmission *e = emission (i, 2);
    e->order = 0;
    e->detected = e->swept = TRUE;
    e->frequency_hz = frequency_hz[i];
    e->frequency_half_hz = 3e3;
  }
}

START_TEST (a_clock_is_one_spur)
{
  put_spurs ((double[FOUR]){ 30.7214e6, 30.7184e6, 30.7201e6, 31e6 });
  g_autoptr (GPtrArray) steady = sp_compare_steady_spurs (comparison);
  ck_assert_uint_eq (steady->len, 1);
  const SpSteadySpur *spur = g_ptr_array_index (steady, 0);
  ck_assert_uint_eq (spur->n, 3);
  /* the part that all three intervals share: from the highest's lower end to the lowest's upper end */
  ck_assert_double_eq_tol (spur->low_hz, 30.7184e6, 1e-3);
  ck_assert_double_eq_tol (spur->high_hz, 30.7214e6, 1e-3);
}
END_TEST

START_TEST (one_carrier_shows_no_clock)
{
  put_spurs ((double[FOUR]){ 30.72e6, 30.72e6, 30.72e6, 30.72e6 });
  for (guint i = 0; i < FOUR; i++)
    findings->conditions[i].fundamental_hz = 146e6;
  g_autoptr (GPtrArray) steady = sp_compare_steady_spurs (comparison);
  ck_assert_uint_eq (steady->len, 0);
}
END_TEST

static Suite *
suite (void)
{
  Suite *all = suite_create ("pivot");
  TCase *one = tcase_create ("pivot");
  tcase_add_checked_fixture (one, set_up, tear_down);
  tcase_add_test (one, bands_down_powers_across);
  tcase_add_test (one, one_cell_holds_the_worst_of_several);
  tcase_add_test (one, what_is_not_known_comes_last);
  tcase_add_test (one, a_seen_harmonic_before_a_floor);
  tcase_add_test (one, a_clock_is_one_spur);
  tcase_add_test (one, one_carrier_shows_no_clock);
  suite_add_tcase (all, one);
  return all;
}

SP_MAIN (suite)
