/* Running quantile and peaks against scipy, run here on random traces; the parabola against exact mathematics. */
#include "core/detection/spectrum.h"
#include "tests/suite.h"

#include <glib/gstdio.h>
#include <gsl/gsl_randist.h>

#define N 20000

/* Runs a script on doubles in a file; it leaves doubles in another. (transfer full) */
static double *
scipy (const char *script, const double *x, guint n, gsize *n_out)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *folder = g_dir_make_tmp ("spectrum-XXXXXX", &error), *errors = NULL, *out = NULL;
  sp_no_error (error);
  g_autofree char *in_path = g_build_filename (folder, "in", NULL), *out_path = g_build_filename (folder, "out", NULL);
  const char *argv[] = { "/usr/bin/python3", "-c", script, in_path, out_path, NULL };
  int status;

  g_file_set_contents (in_path, (const char *) x, n * sizeof *x, &error);
  sp_no_error (error);
  g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_DEFAULT, NULL, NULL, NULL, &errors, &status, &error);
  sp_no_error (error);
  ck_assert_msg (status == 0, "python3-scipy is needed: %s", errors);
  g_file_get_contents (out_path, &out, n_out, &error);
  sp_no_error (error);
  *n_out /= sizeof (double);
  g_unlink (in_path);
  g_unlink (out_path);
  g_rmdir (folder);
  return (double *) g_steal_pointer (&out);
}

/* Noise on a slope, some lines; rounded to `step` dB where it is > 0. */
static void
trace (double *x, double step, gulong seed)
{
  gsl_rng *rng = gsl_rng_alloc (gsl_rng_mt19937);

  gsl_rng_set (rng, seed);
  for (guint i = 0; i < N; i++) {
    x[i] = -100 + i * 1e-3 + (i > N / 2 ? 7 : 0) + 10 * log10 (gsl_ran_exponential (rng, 1))
           + (i % 997 == 0 ? gsl_rng_uniform (rng) * 60 : 0);
    if (step > 0)
      x[i] = round (x[i] / step) * step;
  }
  gsl_rng_free (rng);
}

static void
check_quantile (const char *what, const char *script, double p)
{
  g_autofree double *x = g_new (double, N), *got = g_new (double, N);
  gsize n;

  trace (x, 0, 3);
  g_autofree double *want = scipy (script, x, N, &n);
  ck_assert_uint_eq (n, N);
  sp_running_quantile (N, x, NULL, 200, p, got);
  double worst = 0;
  for (guint i = 200; i < N - 200; i++)
    worst = fmax (worst, fabs (got[i] - want[i]));
  sp_outside (what, "scipy.ndimage, run in the test; greatest difference over the trace, dB", worst, 0, 0.01);
}

START_TEST (quantiles)
{
  check_quantile (
      "running median, window 401",
      "import sys, numpy as np; from scipy.ndimage import median_filter\nmedian_filter(np.fromfile(sys.argv[1]), 401).tofile(sys.argv[2])",
      0.5);
  check_quantile ("running 20 % quantile, window 401",
                  "import sys, numpy as np; from scipy.ndimage import percentile_filter\npercentile_filter(np.fromfile(sys.argv[1]), 20, "
                  "401).tofile(sys.argv[2])",
                  0.2);
}
END_TEST

START_TEST (peaks)
{
  static const double steps[] = { 0, 0.01, 1, 5 };
  g_autofree double *x = g_new (double, N), *height = g_new (double, N);
  gsize n;

  trace (x, steps[_i], 40 + _i);
  for (guint i = 0; i < N; i++)
    height[i] = -100 + i * 1e-3 - 3;
  g_autofree double *want
      = scipy ("import sys, numpy as np; from scipy.signal import find_peaks\nx = np.fromfile(sys.argv[1])\n"
               "find_peaks(x, height=-100 + np.arange(len(x))*1e-3 - 3, prominence=6)[0].astype(float).tofile(sys.argv[2])",
               x, N, &n);
  g_autoptr (GArray) got = sp_find_peaks (N, x, height, 0, 6);
  sp_outside ("number of peaks", "scipy.signal.find_peaks, run in the test", got->len, n, 0.5);
  guint different = 0;
  for (gsize i = 0; i < n; i++)
    different += g_array_index (got, guint64, i) != (guint64) want[i];
  sp_outside ("peaks elsewhere", "scipy.signal.find_peaks, run in the test", different, 0, 0.5);
  ck_assert_uint_gt (n, 100);
}
END_TEST

START_TEST (parabola)
{
  double offset, level;

  sp_parabola (-20.5, -20.0, -21.1, &offset, &level);
  sp_outside ("parabola's offset", "calculated", offset, -0.1875, 1e-12);
  sp_outside ("parabola's level", "calculated", level, -19.971875, 1e-12);
  for (double true_offset = -0.5; true_offset <= 0.5; true_offset += 0.125)
    for (double s = 0.25; s <= 1; s *= 2) /* spacing over the 3 dB bandwidth */
    {
      double y[3];
      for (int i = 0; i < 3; i++)
        y[i] = -7 - 12.041199826559248 * pow ((i - 1 - true_offset) * s, 2);
      sp_parabola (y[0], y[1], y[2], &offset, &level);
      sp_outside ("line between points, Gaussian filter: offset", "calculated: exact", offset, true_offset, 1e-9);
      sp_outside ("line between points, Gaussian filter: level", "calculated: exact", level, -7, 1e-9);
    }
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("outside/spectrum");
  TCase *c = tcase_create ("all");

  tcase_set_timeout (c, 60);
  tcase_add_test (c, quantiles);
  tcase_add_loop_test (c, peaks, 0, 4);
  tcase_add_test (c, parabola);
  suite_add_tcase (s, c);
  return s;
}

SP_MAIN (suite)
