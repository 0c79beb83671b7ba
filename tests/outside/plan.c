/* plan.c - dynamic range against its formulas */
#include "tests/suite.h"

#include "core/plan/plan.h"

START_TEST (test_dynamic_range)
{
  double mixer;
  double second = 35, third = 12.5, noise = -110; /* SHI, TOI, N in 10 kHz */
  sp_outside ("second-order range", "calculated: (SHI - N)/2", sp_dynamic_range_db (2, second, noise, 0, 0, &mixer), 72.5, 0.05);
  sp_outside ("mixer level of it", "calculated: (SHI + N)/2 = -37.5 dBm", mixer, -37.5, 1e-9);
  sp_outside ("third-order range", "calculated: 2/3 (TOI - N)", sp_dynamic_range_db (3, third, noise, 0, 0, &mixer), 81.7, 0.05);
  sp_outside ("mixer level of it", "calculated: (2 TOI + N)/3 = -28.333 dBm", mixer, -28.3333, 1e-4);
  sp_outside ("third-order range at a tenth of the RBW", "calculated: 2/3 (12.5 + 120)",
              sp_dynamic_range_db (3, third, noise - 10, 0, 0, NULL), 88.3333, 1e-4);
  sp_outside ("second order with 1.3 dB of error allowed", "calculated: 72.5 - (5 + 18)/2",
              sp_dynamic_range_db (2, second, noise, 5, 18, NULL), 61.0, 0.05);
  sp_outside ("third order with 1.3 dB of error allowed", "calculated: 81.667 - (2 x 5 + 18)/3",
              sp_dynamic_range_db (3, third, noise, 5, 18, NULL), 72.3333, 1e-3);
  double ten = sp_dynamic_range_db (2, second, noise - 10, 0, 0, NULL) - sp_dynamic_range_db (2, second, noise, 0, 0, NULL);
  sp_outside ("second order gains half of less noise", "calculated: 10/2", ten, 5, 1e-9);
  ten = sp_dynamic_range_db (3, third, noise - 10, 0, 0, NULL) - sp_dynamic_range_db (3, third, noise, 0, 0, NULL);
  sp_outside ("third order gains two thirds of less noise", "calculated: 2/3 of 10", ten, 20.0 / 3, 1e-9);
  sp_outside ("third-order range in 1 Hz", "calculated: 2/3 (10 + 135) = 96.667 dB", sp_dynamic_range_db (3, 10, -135, 0, 0, NULL), 96.7,
              0.05);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("plan against published values");
  TCase *t = tcase_create ("plan");
  tcase_add_test (t, test_dynamic_range);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
