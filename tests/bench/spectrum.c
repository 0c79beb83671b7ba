/* spectrum.c - running median and peaks of N points beside R's runmed and scipy's find_peaks, on the same trace in the same run: all peaks,
 * and those over a height, which is what judging asks for
 *
 * usage: bench-spectrum [points]. Prints a line for each: what, our time, theirs in ms, ratio, goal (facts on speed). Medians of five runs.
 */
#include "core/detection/spectrum.h"

#include <glib/gstdio.h>
#include <gsl/gsl_randist.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#define RUNS 9

static int
by_value (const void *a, const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;
  return (x > y) - (x < y);
}

/* Runs a program on the trace's file; it prints its own median time in ms, after all else. */
static double
theirs_ms (const char *const *argv, guint64 *count)
{
  g_autofree char *out = NULL;
  g_autoptr (GError) error = NULL;
  int status;

  if (!g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH | G_SPAWN_STDERR_TO_DEV_NULL, NULL, NULL, &out, NULL, &status, &error)
      || status != 0)
    return NAN;
  char *end;
  *count = g_ascii_strtoull (out, &end, 10);
  return g_ascii_strtod (end, NULL);
}

static void
line (const char *what, double ours_ms, double them_ms, double goal)
{
  if (isnan (them_ms))
    printf ("%-45s %8.1f ms  no ratio: the other is not installed (apt-get install r-base-core python3-scipy)\n", what, ours_ms);
  else
    printf ("%-45s %8.1f ms  %8.1f ms  %5.1fx  (goal %gx)\n", what, ours_ms, them_ms, them_ms / ours_ms, goal);
}

typedef struct {
  guint64 n;
  double *x, *out, *height;
  guint64 found;
} Work;

static void
run_median (Work *w)
{
  sp_running_quantile (w->n, w->x, NULL, 200, 0.5, w->out);
}

static void
run_floor (Work *w)
{
  SpNoiseWindow window = { .half = 200, .least = 25, .p = 0.5, .exclude_db = 12, .guard = 5, .agree_db = 1.6 };
  sp_noise_floor (w->n, w->x, &window, w->out);
}

static void
run_peaks (Work *w)
{
  g_autoptr (GArray) peaks = sp_find_peaks (w->n, w->x, w->height, 0, 6);
  w->found = peaks->len;
}

static double
ours_ms (void (*run) (Work *), Work *w)
{
  double ms[RUNS];

  for (int i = 0; i < RUNS; i++) {
    clock_t start = clock (); /* processor time, as theirs is: others may be at work on the machine */
    run (w);
    ms[i] = (double) (clock () - start) * 1e3 / CLOCKS_PER_SEC;
  }
  qsort (ms, RUNS, sizeof *ms, by_value);
  return ms[RUNS / 2];
}

/* FALSE where the two find different numbers of peaks. */
static gboolean
compare_peaks (const char *what, Work *w, double height, const char *path)
{
  g_autofree char *script
      = g_strdup_printf ("import sys, time, numpy as np; from scipy.signal import find_peaks\nx = np.fromfile(sys.argv[1]); t = []\n"
                         "for i in range(5):\n  a = time.process_time(); p = find_peaks(x, height=np.full(len(x), %g), prominence=6)[0]\n"
                         "  t.append(time.process_time() - a)\nprint(len(p), 1000*sorted(t)[2])",
                         height);
  const char *python[] = { "/usr/bin/python3", "-c", script, path, NULL };
  guint64 found = 0;

  for (guint64 i = 0; i < w->n; i++)
    w->height[i] = height;
  double ours = ours_ms (run_peaks, w), theirs = theirs_ms (python, &found);
  line (what, ours, theirs, 10);
  if (isnan (theirs) || found == w->found)
    return TRUE;
  fprintf (stderr, "peaks differ: %" G_GUINT64_FORMAT " here, %" G_GUINT64_FORMAT " in scipy\n", w->found, found);
  return FALSE;
}

int
main (int argc, char **argv)
{
  Work w = { .n = argc > 1 ? g_ascii_strtoull (argv[1], NULL, 10) : 1000000 };
  g_autofree double *x = g_new (double, w.n), *out = g_new (double, w.n), *height = g_new (double, w.n);
  g_autofree char *path = g_build_filename (g_get_tmp_dir (), "bench-spectrum.f64", NULL);
  gsl_rng *rng = gsl_rng_alloc (gsl_rng_mt19937);
  guint64 n_runmed = 0;

  w.x = x;
  w.out = out;
  w.height = height;
  for (guint64 i = 0; i < w.n; i++)
    x[i] = -100 + 10 * log10 (gsl_ran_exponential (rng, 1)) + (i % 10007 == 0 ? 50 : 0);
  gsl_rng_free (rng);
  if (!g_file_set_contents (path, (const char *) x, (gssize) (w.n * sizeof *x), NULL))
    return EXIT_FAILURE;

  const char *r[] = {
    "Rscript", "-e",
    "a <- commandArgs(TRUE); x <- readBin(a[1], 'double', 1e8)\n"
    "t <- replicate(5, sum(system.time(runmed(x, 401, algorithm='Turlach'))[c('user.self', 'sys.self')])); cat(length(x), 1000*median(t))",
    path, NULL
  };
  line ("running median, window 401 / R runmed", ours_ms (run_median, &w), theirs_ms (r, &n_runmed), 3);
  gboolean same = compare_peaks ("all peaks with prominence / scipy find_peaks", &w, -1000, path);
  same &= compare_peaks ("peaks over a height / scipy find_peaks", &w, -90, path);
  g_unlink (path);
  printf ("%-45s %8.1f ms\n", "noise floor, two passes", ours_ms (run_floor, &w));
  return same ? EXIT_SUCCESS : EXIT_FAILURE;
}
