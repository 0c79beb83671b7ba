/* plan.c - dynamic range against published worked examples */
#include "tests/suite.h"

#include "core/plan/plan.h"

#define AN150 "AN 150, spectrum analysis basics"

START_TEST (test_dynamic_range)
{
  double mixer;
  double second = 35, third = 12.5,
         noise = -110; /* d2 -75 dBc at -40 dBm (from memory), d3 -85 dBc at -30 dBm, DANL -110 dBm in 10 kHz (from memory) */
  sp_outside ("second-order range", AN150 ", p. 79: 72.5 dB", sp_dynamic_range_db (2, second, noise, 0, 0, &mixer), 72.5, 0.05);
  sp_outside ("mixer level of it", AN150 ", figure 6-2; calculated -37.5 dBm", mixer, -37.5, 1e-9);
  sp_outside ("third-order range", AN150 ", p. 79: 81.7 dB", sp_dynamic_range_db (3, third, noise, 0, 0, &mixer), 81.7, 0.05);
  sp_outside ("mixer level of it", "calculated: (2 TOI + N)/3 = -28.333 dBm", mixer, -28.3333, 1e-4);
  sp_outside ("third-order range at a tenth of the RBW", AN150 ", p. 76: about 88 dB",
              sp_dynamic_range_db (3, third, noise - 10, 0, 0, NULL), 88, 0.5);
  sp_outside ("second order with 1.3 dB of error allowed", AN150 ", p. 79: 61.0 dB", sp_dynamic_range_db (2, second, noise, 5, 18, NULL),
              61.0, 0.05);
  sp_outside ("third order with 1.3 dB of error allowed", AN150 ", p. 79: 72.7 dB", sp_dynamic_range_db (3, third, noise, 5, 18, NULL),
              72.7, 0.5);
  double ten = sp_dynamic_range_db (2, second, noise - 10, 0, 0, NULL) - sp_dynamic_range_db (2, second, noise, 0, 0, NULL);
  sp_outside ("second order gains half of less noise", AN150 ", p. 75", ten, 5, 1e-9);
  ten = sp_dynamic_range_db (3, third, noise - 10, 0, 0, NULL) - sp_dynamic_range_db (3, third, noise, 0, 0, NULL);
  sp_outside ("third order gains two thirds of less noise", AN150 ", p. 75", ten, 20.0 / 3, 1e-9);
  sp_outside ("third-order range in 1 Hz", "an analyzer's specification sheet: 2/3 (10 + 135) = 96.7 dB",
              sp_dynamic_range_db (3, 10, -135, 0, 0, NULL), 96.7, 0.05);
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
