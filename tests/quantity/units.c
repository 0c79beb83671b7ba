#include "core/quantity/units.h"
#include "core/quantity/ascending.h"
#include "core/quantity/reason.h"
#include "tests/suite.h"

START_TEST (edges_of_levels)
{
  ck_assert_double_eq (sp_dbm_from_watt (0), -INFINITY);
  ck_assert_double_eq (sp_watt_from_dbm (-INFINITY), 0);
  ck_assert (isnan (sp_dbm_from_watt (NAN)) && isnan (sp_watt_from_dbm (NAN)) && isnan (sp_dbm_from_watt (-1)));
  ck_assert_double_eq (sp_dbm_from_reading (0, SP_UNIT_VOLT, 1, 50), -INFINITY);
  ck_assert (isnan (sp_dbm_from_reading (-1e-3, SP_UNIT_VOLT, 1, 50)) && isnan (sp_dbm_from_reading (-1, SP_UNIT_WATT, 1, 50)));
  ck_assert_double_eq (sp_dbm_from_reading (-73.25, SP_UNIT_DBM, 1, 75), -73.25);
}
END_TEST

START_TEST (sum_of_powers)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (1);

  for (guint i = 0; i < 100000; i++) {
    double a = g_rand_double_range (rand, -200, 60), b = g_rand_double_range (rand, -200, 60), sum = sp_add_powers_dbm (a, b);
    ck_assert (sum == sp_add_powers_dbm (b, a));
    ck_assert (sum >= MAX (a, b) && sum <= MAX (a, b) + 3.0102999566398130);
    double direct = sp_dbm_from_watt (sp_watt_from_dbm (a) + sp_watt_from_dbm (b));
    ck_assert_double_eq_tol (sum, direct, 1e-10);
  }
  ck_assert_double_eq (sp_add_powers_dbm (-40, -INFINITY), -40);
  ck_assert_double_eq (sp_add_powers_dbm (-INFINITY, -INFINITY), -INFINITY);
  ck_assert (isnan (sp_add_powers_dbm (NAN, 3)) && isnan (sp_add_powers_dbm (3, NAN)));
}
END_TEST

START_TEST (reflections)
{
  ck_assert_double_eq (sp_reflection_from_vswr (1), 0);
  ck_assert_double_eq (sp_reflection_from_vswr (INFINITY), 1);
  double plus, minus;
  sp_mismatch_limits_db (1, &plus, &minus);
  ck_assert_double_eq (minus, -INFINITY);
  ck_assert_double_eq_tol (plus, 6.020599913279624, 1e-12);
  ck_assert_str_eq (sp_level_unit_name (SP_UNIT_DBUV), "dBuV");
  ck_assert_ptr_null (sp_level_unit_name ((SpLevelUnit) 99));
}
END_TEST

START_TEST (reason_lists)
{
  g_autoptr (GPtrArray) reasons = sp_reasons_new (), more = sp_reasons_new ();

  sp_reasons_add (reasons, sp_reason (LABEL_USED, .stage = "pad", .label_db = 10.0, .tolerance_db = NAN));
  sp_reasons_add (reasons, sp_reason (LABEL_USED, .stage = "pad", .label_db = 10.0, .tolerance_db = NAN));
  ck_assert_uint_eq (reasons->len, 1);
  sp_reasons_add (reasons, sp_reason (LABEL_USED, .stage = "pad", .label_db = 11.0, .tolerance_db = NAN));
  sp_reasons_add (reasons, sp_reason (LABEL_USED, .stage = "other pad", .label_db = 10.0, .tolerance_db = NAN));
  ck_assert_uint_eq (reasons->len, 3);
  const SpReason *first = reasons->pdata[0];
  ck_assert (first->LABEL_USED.label_db == 10 && isnan (first->LABEL_USED.tolerance_db));
  ck_assert_str_eq (first->LABEL_USED.stage, "pad");

  sp_reasons_add (more, sp_reason (CLIPPED, .file = "a.csv", .reading_dbm = NAN, .reference_dbm = NAN, .points = NAN));
  sp_reasons_extend (more, reasons);
  sp_reasons_extend (more, reasons);
  ck_assert_uint_eq (more->len, 4);
  ck_assert (sp_reasons_have (more, SP_REASON_CLIPPED) && !sp_reasons_have (reasons, SP_REASON_CLIPPED));
  ck_assert_str_eq (sp_reason_name (SP_REASON_LABEL_USED), "label-used");
  ck_assert_ptr_null (sp_reason_name (SP_N_REASONS));
  for (guint i = 0; i < SP_N_REASONS; i++)
    for (guint k = 0; k < i; k++)
      ck_assert_str_ne (sp_reason_name (i), sp_reason_name (k));
}
END_TEST

START_TEST (places_in_ascending_numbers)
{
  static const double x[] = { 1, 2, 2, 4, 7 };
  static const struct {
    double value;
    guint64 first, nearest;
  } rows[] = { { 0, 0, 0 }, { 1, 0, 0 }, { 1.4, 1, 0 }, { 1.5, 1, 1 }, { 2, 1, 1 }, { 3, 3, 3 }, { 5, 4, 3 }, { 7, 4, 4 }, { 8, 5, 4 } };
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    ck_assert_uint_eq (sp_ascending_first (5, x, rows[i].value), rows[i].first);
    ck_assert_uint_eq (sp_ascending_nearest (5, x, rows[i].value), rows[i].nearest);
  }
  ck_assert_uint_eq (sp_ascending_first (0, x, 1), 0);
  ck_assert_uint_eq (sp_ascending_nearest (1, x, 9), 0);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("quantity/units");
  TCase *tests = tcase_create ("units");

  tcase_add_test (tests, edges_of_levels);
  tcase_add_test (tests, sum_of_powers);
  tcase_add_test (tests, reflections);
  tcase_add_test (tests, reason_lists);
  tcase_add_test (tests, places_in_ascending_numbers);
  suite_add_tcase (s, tests);
  return s;
}

SP_MAIN (suite)
