/* workshop.h - small benches made on the spot: files in a folder of their own, traces from a stated truth */
#pragma once

#include "core/bench/sheet/sheet.h"
#include "core/findings/findings.h"

#include <glib/gstdio.h>
#include <math.h>

typedef struct {
  double frequency_hz, level_dbm; /* as the analyzer reads it, at its input */
} Line;

typedef struct {
  double start_hz, stop_hz;
  guint points;
  double rbw_hz, attenuation_db; /* NaN: the export does not say */
  const char *detector;          /* NULL: the export does not say */
  double noise_dbm;              /* mean noise power in the RBW, at the input */
  Line lines[12];                /* ended by frequency 0 */
  guint32 seed;
} Sweep;

static inline char *
shop_open (void)
{
  return g_dir_make_tmp ("spurproof-judge-XXXXXX", NULL);
}

static inline void
shop_put (const char *shop, const char *name, const char *text)
{
  g_autofree char *path = g_build_filename (shop, name, NULL);
  g_assert_true (g_file_set_contents (path, text, -1, NULL));
}

/* Gaussian filter, complex Gaussian noise, one look a point. */
static inline void
shop_put_sweep (const char *shop, const char *name, const Sweep *w)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (w->seed ? w->seed : 1);
  g_autoptr (GString) text = g_string_new (NULL);
  if (!isnan (w->rbw_hz))
    g_string_append_printf (text, "RBW,%.0f Hz\n", w->rbw_hz);
  if (!isnan (w->attenuation_db))
    g_string_append_printf (text, "Attenuation,%.0f dB\n", w->attenuation_db);
  if (w->detector)
    g_string_append_printf (text, "Detector,%s\n", w->detector);
  g_string_append (text, "Frequency (Hz),Level (dBm)\n");
  for (guint i = 0; i < w->points; i++) {
    double f = w->start_hz + (w->stop_hz - w->start_hz) * i / (w->points - 1), re = 0;
    double sigma = sqrt (pow (10, w->noise_dbm / 10) / 2);
    for (const Line *l = w->lines; l->frequency_hz > 0; l++)
      re += pow (10, (l->level_dbm - 12.0412 * pow ((f - l->frequency_hz) / w->rbw_hz, 2)) / 20);
    double r = sqrt (-2 * log (1 - g_rand_double (rand))), a = 2 * G_PI * g_rand_double (rand);
    double x = re + sigma * r * cos (a), y = sigma * r * sin (a);
    g_string_append_printf (text, "%.1f,%.4f\n", f, 10 * log10 (x * x + y * y));
  }
  shop_put (shop, name, text->str);
}

static inline void
shop_close (char *shop)
{
  g_autoptr (GDir) dir = g_dir_open (shop, 0, NULL);
  for (const char *name; (name = g_dir_read_name (dir));) {
    g_autofree char *path = g_build_filename (shop, name, NULL);
    g_unlink (path);
  }
  g_rmdir (shop);
  g_free (shop);
}

/* A chain of 40 dB with small, known uncertainties; no reflections unless stated. */
#define SHOP_CHAIN                                                                                                                         \
  "[chain]\nname=Test chain\nstages=pad;small\n"                                                                                           \
  "[stage pad]\nkind=pad\nrating_w=50\nvswr=1.0\npoints=1MHz 30.0 0.05; 3GHz 30.0 0.05\n"                                                  \
  "temperature_coefficient=0\ntemperature_coefficient_u=0\npower_coefficient=0\n"                                                          \
  "[stage small]\nkind=pad\nrating_w=2\nvswr=1.0\npoints=1MHz 10.0 0.05; 3GHz 10.0 0.05\n"                                                 \
  "temperature_coefficient=0\ntemperature_coefficient_u=0\npower_coefficient=0\n"
#define SHOP_ANALYZER                                                                                                                      \
  "[analyzer]\nname=Test analyzer\ndamage_dbm=30\ndanl_dbm_hz=10MHz -150; 3GHz -150\nvswr=1.0\n"                                           \
  "accuracy_db=0.4\nflatness_db=0.3\nscale_db=0.2\nrepeatability_db=0.05\nattenuator_switch_db=0.2\nrbw_switch_db=0.1\n"
#define SHOP_INTERCEPTS                                                                                                                    \
  "second_intercept_dbm=60\nthird_harmonic_intercept_dbm=50\nharmonic_intercepts_dbm=4 40; 5 40; 6 40; 7 40; 8 40; 9 40; 10 40\n"

static inline SpBench *
shop_bench (const char *shop, const char *analyzer_extra, const char *sheet)
{
  g_autofree char *analyzer = g_strconcat (SHOP_ANALYZER, analyzer_extra, NULL);
  shop_put (shop, "t.chain", SHOP_CHAIN);
  shop_put (shop, "t.analyzer", analyzer);
  shop_put (shop, "t.sheet", sheet);
  g_autofree char *path = g_build_filename (shop, "t.sheet", NULL);
  g_autoptr (GError) error = NULL;
  SpBench *bench = sp_bench_read (path, &error);
  if (!bench)
    g_error ("%s", error->message);
  return bench;
}
