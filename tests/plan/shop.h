/* shop.h - a task on a small bench, and the sweep of any setting that its profile would make */
#pragma once

#include "core/bench/sheet/sheet.h"
#include "core/plan/plan.h"
#include "core/quantity/units.h"
#include "tests/judge/workshop.h"

#define F0 146e6
#define PLAN_MASK                                                                                                                          \
  "[mask]\nname=Test limit\nharmonics=5\n[rule 1]\nfundamental=30MHz 225MHz\npower_w=0 inf\nemission=30MHz 3GHz\nattenuation_db=60\n"
#define PLAN_INTERCEPTS "second_intercept_dbm=40\nthird_harmonic_intercept_dbm=20\nharmonic_intercepts_dbm=4 20; 5 20\n"
#define PLAN_MEANS "best_mixer_dbm=-20\nattenuator_steps_db=0;10;20;30;40\nrbw_steps=1kHz;3kHz;10kHz;30kHz;100kHz\npoints_max=1001\n"

typedef struct {
  char *folder;
  SpBench *bench;
  SpTask task;
} Shop;

/* A bench read from files, and its task at 5 W on 146 MHz. */
static inline Shop
plan_shop (const char *analyzer_extra, const char *mask)
{
  Shop s = { .folder = shop_open () };
  shop_put (s.folder, "t.mask", mask);
  shop_put (s.folder, "k.csv", "RBW,100 kHz\nAttenuation,20 dB\nDetector,sample\nFrequency (Hz),Level (dBm)\n1e6,-90\n2e6,-90\n");
  s.bench = shop_bench (s.folder, analyzer_extra,
                        "[bench]\nchain=t.chain\nanalyzer=t.analyzer\nmask=t.mask\nradio_vswr=1\nradio_harmonic_vswr=1\n"
                        "necessary_bandwidth=16kHz\nmodulation=none\n[radio A]\nfundamental=146MHz\nkeyed=k.csv\n");
  s.task = (SpTask){ .chain = s.bench->chain,
                     .analyzer = s.bench->analyzer,
                     .mask = s.bench->mask,
                     .power_w = 5,
                     .fundamental_hz = F0,
                     .fundamental_half_hz = SP_STATED_RELATIVE * F0,
                     .necessary_bandwidth_hz = 16e3,
                     .temperature_c = NAN,
                     .duty = 1,
                     .radio_vswr = 1,
                     .radio_harmonic_vswr = 1,
                     .signal_hz = 16e3,
                     .signal_folds = TRUE }; /* as the sheet leaves it */
  return s;
}

static inline void
plan_shop_close (Shop *s)
{
  sp_bench_unref (s->bench);
  shop_close (s->folder);
}

static inline SpSetting
everyday (void)
{
  return (SpSetting){ .rbw_hz = 100e3,
                      .attenuation_db = 20,
                      .start_hz = 100e6,
                      .stop_hz = 800e6,
                      .points = 1001,
                      .parts = 1,
                      .detector = SP_DETECTOR_PEAK,
                      .averages = 1 };
}

/* One reading of complex Gaussian noise with a line: the mean, or the greatest, of so many independent powers. */
static inline double
reading_dbm (GRand *rand, double line_dbm, double noise_dbm, double looks, gboolean greatest)
{
  double amplitude = pow (10, line_dbm / 20), sigma = sqrt (pow (10, noise_dbm / 10) / 2), sum = 0, most = 0;
  guint n = (guint) fmax (1, round (looks));
  for (guint k = 0; k < n; k++) {
    double r = sqrt (-2 * log (1 - g_rand_double (rand))), a = 2 * G_PI * g_rand_double (rand);
    double x = amplitude + sigma * r * cos (a), y = sigma * r * sin (a), power = x * x + y * y;
    sum += power;
    most = fmax (most, power);
  }
  return 10 * log10 (greatest ? most : sum / n);
}

/* The sweep of a setting, as files "NAME-1.csv" ..: carrier, the analyzer's own products, profile noise. Returns the names, joined by ';'. */
static inline char *
plan_put_sweeps (const Shop *shop, SpPlan *plan, const SpSetting *s, const char *name, guint32 seed)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (seed);
  GString *names = g_string_new (NULL);
  double nbw = s->rbw_hz * sp_filter_nbw_ratio (shop->task.analyzer->filter), spacing = sp_setting_spacing_hz (s);
  gboolean peak = s->detector == SP_DETECTOR_PEAK;
  double mixer = sp_plan_mixer_dbm (plan, s), looks = peak ? fmax (1, spacing / nbw) : s->average == SP_AVERAGE_POWER ? s->averages : 1;
  double noise = sp_analyzer_noise_dbm (shop->task.analyzer, 500e6, s->rbw_hz, s->attenuation_db);
  for (guint part = 0; part < s->parts; part++) {
    double width = (s->stop_hz - s->start_hz) / s->parts, start = s->start_hz + part * width;
    GString *text = g_string_new (NULL);
    g_string_append_printf (text, "RBW,%.0f Hz\nAttenuation,%.0f dB\nDetector,%s\n", s->rbw_hz, s->attenuation_db,
                            sp_detector_name (s->detector));
    if (s->average == SP_AVERAGE_POWER)
      g_string_append_printf (text, "Average type,power\nAverages,%.0f\n", s->averages);
    g_string_append (text, "Frequency (Hz),Level (dBm)\n");
    for (guint i = 0; i < s->points; i++) {
      double f = start + width * i / (s->points - 1), line = 0, bucket = peak ? spacing / 2 : 0;
      for (guint n = 1; n <= 5; n++) {
        double level = n == 1 ? mixer : n * mixer - (n - 1) * sp_curve_at (shop->task.analyzer->intercept_dbm[n], F0, 0).value;
        double away = fmax (0, fabs (f - n * F0) - bucket);
        line += pow (10, (level + s->attenuation_db - 12.0412 * pow (away / s->rbw_hz, 2)) / 20);
      }
      g_string_append_printf (text, "%.1f,%.4f\n", f, reading_dbm (rand, 20 * log10 (line + 1e-30), noise, looks, peak));
    }
    g_autofree char *file = g_strdup_printf ("%s-%u.csv", name, part + 1);
    shop_put (shop->folder, file, text->str);
    g_string_free (text, TRUE);
    g_string_append_printf (names, "%s%s", part ? ";" : "", file);
  }
  return g_string_free (names, FALSE);
}

/* The same bench with those sweeps as the radio's. (transfer full) */
static inline SpBench *
plan_bench_of (const Shop *shop, const char *names)
{
  g_autofree char *sheet
      = g_strdup_printf ("[bench]\nchain=t.chain\nanalyzer=t.analyzer\nmask=t.mask\nradio_vswr=1\nradio_harmonic_vswr=1\n"
                         "necessary_bandwidth=16kHz\nmodulation=none\n[radio A]\nfundamental=146MHz\nkeyed=%s\n",
                         names);
  shop_put (shop->folder, "again.sheet", sheet);
  g_autofree char *path = g_build_filename (shop->folder, "again.sheet", NULL);
  g_autoptr (GError) error = NULL;
  SpBench *bench = sp_bench_read (path, &error);
  if (!bench)
    g_error ("%s", error->message);
  return bench;
}
