/* samples.c - the tolerance factor against published and calculated values */
#include "core/compare/samples.h"
#include "tests/suite.h"

#define SCIPY "calculated: scipy 1.10.1, nct.ppf (0.95, n - 1, sqrt (n) norm.ppf (0.95)) / sqrt (n)"
#define ISO "ISO 16269-6:2014, one-sided, share 95 %, confidence 95 % (from memory)"

START_TEST (one_sided_factors)
{
  static const struct {
    guint n;
    double k, published;
  } rows[] = { { 2, 26.25967398303447, 26.260 },  { 3, 7.655900133153338, 7.656 },   { 4, 5.143874860989298, 5.144 },
               { 5, 4.202680741256176, 4.203 },   { 7, 3.399468980315697, 3.400 },   { 10, 2.9109634130781665, 2.911 },
               { 20, 2.3960016837521687, 2.396 }, { 50, 2.0649934177439753, 2.065 }, { 100, 1.9265388505123142, 1.927 } };
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    sp_outside ("tolerance factor", SCIPY, sp_tolerance_factor (rows[i].n), rows[i].k, 1e-6 * rows[i].k);
    sp_outside ("tolerance factor", ISO, sp_tolerance_factor (rows[i].n), rows[i].published, 6e-4);
  }
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("samples, from outside");
  TCase *t = tcase_create ("samples");
  tcase_add_test (t, one_sided_factors);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
