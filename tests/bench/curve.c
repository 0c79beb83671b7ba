/* curve.c - a 20-point loss curve added to N ascending frequencies beside GSL's interpolation with accelerator, numpy.interp and a copy
 *
 * usage: bench-curve [points]. Prints a line for each: what, our time, theirs in ms, ratio; the best of 15 runs in the same process
 * (numpy: of 15 in its own). Goal (linear curve): five times faster than GSL and numpy over log f.
 */
#include "core/curve/curve.h"

#include <gsl/gsl_interp.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define RUNS 15
#define KNOTS 20

typedef struct {
  guint64 n;
  double *f, *out;
  SpCurve *curve;
  double x[KNOTS], y[KNOTS];
} Work;

static void
run_curve (Work *w)
{
  sp_curve_add_to (w->curve, w->n, w->f, w->out);
}

static void
run_copy (Work *w)
{
  memcpy (w->out, w->f, w->n * sizeof *w->f);
}

static void
run_gsl (Work *w)
{
  gsl_interp_accel *accelerator = gsl_interp_accel_alloc ();
  gsl_interp *interpolation = gsl_interp_alloc (gsl_interp_linear, KNOTS);

  gsl_interp_init (interpolation, w->x, w->y, KNOTS);
  for (guint64 i = 0; i < w->n; i++)
    w->out[i] += gsl_interp_eval (interpolation, w->x, w->y, log (w->f[i]), accelerator);
  gsl_interp_free (interpolation);
  gsl_interp_accel_free (accelerator);
}

static double
best_ms (void (*run) (Work *w), Work *w)
{
  double best = INFINITY;

  for (guint i = 0; i < RUNS; i++) {
    gint64 from = g_get_monotonic_time ();
    run (w);
    best = fmin (best, (g_get_monotonic_time () - from) / 1e3);
  }
  return best;
}

static double
numpy_ms (guint64 n)
{
  g_autofree char *script = g_strdup_printf ("import numpy as n, time\nf = n.linspace(1e4, 2.5e9, %" G_GUINT64_FORMAT
                                             ")\nx = n.log(n.geomspace(1e4, 2.5e9, %d))\ny = x * 1.5\n"
                                             "o = f * 0\nb = 1e9\nfor _ in range(%d):\n  t = time.perf_counter(); o += n.interp(n.log(f), "
                                             "x, y); b = min(b, time.perf_counter() - t)\n"
                                             "print(b * 1e3)\n",
                                             n, KNOTS, RUNS);
  char *command[] = { "/usr/bin/python3", "-c", script, NULL };
  g_autofree char *out = NULL;
  int status;

  if (!g_spawn_sync (NULL, command, NULL, G_SPAWN_STDERR_TO_DEV_NULL, NULL, NULL, &out, NULL, &status, NULL) || status != 0)
    return NAN;
  return g_ascii_strtod (out, NULL);
}

static void
line (const char *what, double ours_ms, double them_ms)
{
  printf ("%-45s %8.2f ms  %8.2f ms  %5.1fx\n", what, ours_ms, them_ms, them_ms / ours_ms);
}

int
main (int argc, char **argv)
{
  static const char *const names[] = { "linear", "smooth", "cable law" };
  Work w = { .n = argc > 1 ? g_ascii_strtoull (argv[1], NULL, 10) : 1000000 };
  double knots[KNOTS];

  w.f = g_new (double, w.n);
  w.out = g_new0 (double, w.n);
  for (guint64 i = 0; i < w.n; i++)
    w.f[i] = 1e4 + i * ((2.5e9 - 1e4) / w.n);
  for (guint i = 0; i < KNOTS; i++) {
    knots[i] = 1e4 * pow (2.5e5, i / (KNOTS - 1.0));
    w.x[i] = log (knots[i]);
    w.y[i] = .1 + .02 * i * i;
  }
  w.x[KNOTS - 1] += 1e-12; /* GSL refuses what lies a rounding beyond the end */
  double copy = best_ms (run_copy, &w), gsl = best_ms (run_gsl, &w), numpy = numpy_ms (w.n);
  for (guint k = 0; k < G_N_ELEMENTS (names); k++) {
    w.curve = sp_curve_new ((SpCurveKind) k, KNOTS, knots, w.y, NULL, NULL, NULL);
    double ours = best_ms (run_curve, &w);
    g_autofree char *what = g_strdup_printf ("%s curve, beside GSL linear over log f", names[k]);
    line (what, ours, gsl);
    line ("  beside numpy.interp over log f", ours, numpy);
    line ("  beside a copy", ours, copy);
    sp_curve_unref (w.curve);
  }
  g_free (w.f);
  g_free (w.out);
  return EXIT_SUCCESS;
}
