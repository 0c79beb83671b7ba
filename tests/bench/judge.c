/* How the time of judging grows with the points, and how it stands beside copying and sorting the same numbers: ratios within one run, processor
 * time. */
#include "core/judge/judge.h"
#include "core/bench/sheet/sheet.h"
#include "core/findings/findings.h"

#include <gsl/gsl_rng.h>
#include <gsl/gsl_sort.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <time.h>

#define RUNS 5

static SpBench *
bench_of (guint64 n)
{
  g_autofree double *f = g_new (double, n), *level = g_new (double, n);
  gsl_rng *rng = gsl_rng_alloc (gsl_rng_mt19937);
  for (guint64 i = 0; i < n; i++) {
    f[i] = 1e6 + 1.6e9 * (double) i / (double) (n - 1);
    double line = -4 - 12.0412 * pow ((f[i] - 146.2e6) / (3.2e9 / (double) n), 2),
           noise = -90 + 10 * log10 (-log (gsl_rng_uniform_pos (rng)));
    level[i] = fmax (line, noise);
  }
  gsl_rng_free (rng);
  g_autofree char *file = NULL;
  g_autoptr (GString) text = g_string_new ("RBW,");
  g_string_append_printf (text, "%.0f Hz\nAttenuation,20 dB\nDetector,sample\nFrequency (Hz),Level (dBm)\n", 3.2e9 / (double) n);
  for (guint64 i = 0; i < n; i++)
    g_string_append_printf (text, "%.1f,%.2f\n", f[i], level[i]);
  g_autofree char *folder = g_dir_make_tmp ("spurproof-bench-XXXXXX", NULL);
  file = g_build_filename (folder, "k.csv", NULL);
  g_assert_true (g_file_set_contents (file, text->str, (gssize) text->len, NULL));
  g_autoptr (GError) error = NULL;
  g_autofree char *radio = g_strdup_printf ("A=%s", file);
  const char *radios[] = { radio, NULL };
  g_autoptr (SpChain) chain = sp_chain_read ("samples/club.chain", &error);
  g_autoptr (SpAnalyzer) analyzer = sp_analyzer_read ("samples/club.analyzer", &error);
  g_autoptr (SpMask) mask = sp_mask_load ("us-amateur", &error);
  SpBench *bench = sp_bench_from_radios (radios, chain, analyzer, mask, &error);
  if (!bench)
    g_error ("%s", error->message);
  remove (file);
  remove (folder);
  return bench;
}

static int
compare (const void *a, const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;
  return (x > y) - (x < y);
}

static double
median_ms (double *ms)
{
  qsort (ms, RUNS, sizeof (double), compare);
  return ms[RUNS / 2];
}

static double
time_judge (const SpBench *bench)
{
  double ms[RUNS];
  for (int i = 0; i < RUNS; i++) {
    clock_t start = clock ();
    sp_findings_unref (sp_judge (bench));
    ms[i] = (double) (clock () - start) * 1e3 / CLOCKS_PER_SEC;
  }
  return median_ms (ms);
}

static double
time_sort (const SpTrace *trace)
{
  double ms[RUNS];
  g_autofree double *copy = g_new (double, trace->n);
  for (int i = 0; i < RUNS; i++) {
    memcpy (copy, trace->reading_dbm, trace->n * sizeof (double));
    clock_t start = clock ();
    gsl_sort (copy, 1, trace->n);
    ms[i] = (double) (clock () - start) * 1e3 / CLOCKS_PER_SEC;
  }
  return median_ms (ms);
}

int
main (void)
{
  g_autoptr (SpBench) small = bench_of (100000);
  g_autoptr (SpBench) large = bench_of (1000000);
  double few = time_judge (small), many = time_judge (large), sort = time_sort (large->conditions[0].sweeps[0].trace);
  printf ("%-52s %8.2f ms / %8.2f ms = %5.2fx  (goal 10x: linear)\n", "judge: 1e6 points / 1e5 points", many, few, many / few);
  printf ("%-52s %8.2f ms / %8.2f ms = %5.2fx  (goal under 1x)\n", "judge of 1e6 points / GSL's sort of them", many, sort, many / sort);
  return 0;
}
