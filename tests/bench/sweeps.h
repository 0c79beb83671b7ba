/* sweeps.h - what several measures share: a bench of sweeps of many points, and the median of their runs */
#pragma once

#include "core/bench/sheet/sheet.h"
#include "core/findings/findings.h"
#include "core/judge/judge.h"

#include <stdio.h>
#include <unistd.h>

#define RUNS 7

/* `n` radios, each with one sweep of `points` points. */
static inline SpFindings *
findings_of_sweeps (guint n, guint points)
{
  g_autoptr (GString) text = g_string_new ("RBW,100 kHz\nAttenuation,20 dB\nDetector,positive peak\nFrequency (Hz),Level (dBm)\n");
  for (guint i = 0; i < points; i++) /* 145.9 MHz is a point */
    g_string_append_printf (text, "%.1f,%.2f\n", 1e6 + 144.9e6 / 1000 * i, i == 1000 ? -4.0 : -88 - (i * 7919 % 1009) / 200.0);
  g_autofree char *folder = g_dir_make_tmp ("spurproof-bench-XXXXXX", NULL), *file = g_build_filename (folder, "k.csv", NULL);
  g_assert_true (g_file_set_contents (file, text->str, (gssize) text->len, NULL));
  g_autoptr (GError) error = NULL;
  g_auto (GStrv) radios = g_new0 (char *, n + 1);
  for (guint i = 0; i < n; i++)
    radios[i] = g_strdup_printf ("Radio %u=%s", i + 1, file);
  g_autoptr (SpChain) chain = sp_chain_read ("samples/club.chain", &error);
  g_autoptr (SpAnalyzer) analyzer = sp_analyzer_read ("samples/club.analyzer", &error);
  g_autoptr (SpMask) mask = sp_mask_load ("us-amateur", &error);
  g_autoptr (SpBench) bench = sp_bench_from_radios ((const char *const *) radios, chain, analyzer, mask, &error);
  if (!bench)
    g_error ("%s", error->message);
  remove (file);
  remove (folder);
  return sp_judge (bench);
}

static inline int
compare (const void *a, const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;
  return (x > y) - (x < y);
}

static inline double
median (double *values)
{
  qsort (values, RUNS, sizeof (double), compare);
  return values[RUNS / 2];
}
