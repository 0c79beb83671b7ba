#include "tests/simulate/emit.h"

#include <gsl/gsl_fft_complex.h>
#include <gsl/gsl_sf_bessel.h>
#include <math.h>
#include <string.h>

#define LEFT_OUT 1e-6      /* of the power, in all the lines that are not taken */
#define SPEECH_N 16384     /* points of a period */
#define SPEECH_PERIOD 0.04 /* s, of the fundamental; the nth harmonic's lines stay as many */
#define LOWEST_TONE 300.0
#define HIGHEST_TONE 3000.0
#define NOISE_LINES 64        /* at the least */
#define GAUSS_WIDTH 5.1516586 /* sigma, 99 % (core/docs/metrology.md, section 8) */
#define WIDE_RBWS 40

const char *
sim_kind_name (SimKind kind)
{
  static const char *const names[] = { "a line", "FM by a tone", "FM by speech", "AM by a tone", "keying", "flat noise", "Gaussian noise" };
  return names[kind];
}

SimEmission
sim_emission_harmonic (const SimEmission *carrier, guint order, double level_dbm)
{
  SimEmission e = *carrier;
  e.frequency_hz *= order;
  e.deviation_hz *= order;
  e.level_dbm = level_dbm;
  return e;
}

static void
add_line (GArray *lines, const SimEmission *e, double offset_hz, double share, double phase)
{
  SimLine line = { e->frequency_hz + offset_hz, e->level_dbm + 10 * log10 (share), phase };
  if (share > 0)
    g_array_append_val (lines, line);
}

/* exp (j b sin wt) = sum of J_k(b) exp (j k wt) */
static void
fm_tone (const SimEmission *e, GArray *lines)
{
  double index = e->deviation_hz / e->tone_hz, held = 0;
  for (int k = 0; held < 1 - LEFT_OUT; k++) {
    double j = gsl_sf_bessel_Jn (k, index), share = j * j;
    held += k ? 2 * share : share;
    add_line (lines, e, k * e->tone_hz, share, j < 0 ? G_PI : 0);
    if (k)
      add_line (lines, e, -k * e->tone_hz, share, (j < 0) != (k % 2 == 1) ? G_PI : 0); /* J_-k = (-1)^k J_k */
  }
}

/* One period of the modulation in time, then a Fourier transform. Its tones stand the further apart the greater the deviation, so that a
 * harmonic has as many lines as its fundamental. */
static void
fm_speech (const SimEmission *e, GArray *lines)
{
  double period = SPEECH_PERIOD * fmin (1, 2000 / e->deviation_hz), spacing = 1 / period, power = 0;
  SimChance chance = sim_chance (4711);
  g_autofree double *v = g_new0 (double, 2 * SPEECH_N), *angle = g_new0 (double, SPEECH_N);
  guint tones = 0;
  for (double f = ceil (LOWEST_TONE / spacing) * spacing; f <= HIGHEST_TONE; f += spacing)
    tones++;
  for (double f = ceil (LOWEST_TONE / spacing) * spacing; f <= HIGHEST_TONE; f += spacing) {
    double start = sim_between (&chance, 0, 2 * G_PI), swing = e->deviation_hz * sqrt (2. / tones) / f,
           step = 2 * G_PI * f * period / SPEECH_N;
    double x = cos (start), y = sin (start), turn_x = cos (step), turn_y = sin (step);
    for (guint i = 0; i < SPEECH_N; i++) {
      double next = x * turn_x - y * turn_y;
      angle[i] += swing * y;
      y = x * turn_y + y * turn_x;
      x = next;
    }
  }
  for (guint i = 0; i < SPEECH_N; i++) {
    v[2 * i] = cos (angle[i]);
    v[2 * i + 1] = sin (angle[i]);
  }
  gsl_fft_complex_radix2_forward (v, 1, SPEECH_N);
  for (guint i = 0; i < SPEECH_N; i++)
    power += v[2 * i] * v[2 * i] + v[2 * i + 1] * v[2 * i + 1];
  for (guint i = 0; i < SPEECH_N; i++) {
    double share = (v[2 * i] * v[2 * i] + v[2 * i + 1] * v[2 * i + 1]) / power;
    if (share > LEFT_OUT / 100)
      add_line (lines, e, (i < SPEECH_N / 2 ? (double) i : (double) i - SPEECH_N) * spacing, share, atan2 (v[2 * i + 1], v[2 * i]));
  }
}

static void
am_tone (const SimEmission *e, GArray *lines)
{
  double whole = 1 + e->depth * e->depth / 2, side = e->depth * e->depth / 4 / whole;
  add_line (lines, e, 0, 1 / whole, 0);
  add_line (lines, e, e->tone_hz, side, 0);
  add_line (lines, e, -e->tone_hz, side, 0);
}

/* A square wave's lines fall with 1/k: those to the 41st hold 99 %; their edges are as soft as that. */
static void
keying (const SimEmission *e, GArray *lines)
{
  double whole = 0.25;
  for (int k = 1; k <= 41; k += 2)
    whole += 2 / (G_PI * G_PI * k * k);
  add_line (lines, e, 0, 0.25 / whole, 0);
  for (int k = 1; k <= 41; k += 2) {
    add_line (lines, e, k * e->tone_hz, 1 / (G_PI * G_PI * k * k * whole), k % 4 == 1 ? 0 : G_PI); /* sin (k pi/2) / (k pi) */
    add_line (lines, e, -k * e->tone_hz, 1 / (G_PI * G_PI * k * k * whole), k % 4 == 1 ? 0 : G_PI);
  }
}

/* Share of the power below an offset. */
static double
noise_below (const SimEmission *e, double offset_hz)
{
  if (e->kind == SIM_NOISE_FLAT)
    return CLAMP (offset_hz / e->width_hz + 0.5, 0, 1);
  return 0.5 * (1 + erf (offset_hz / (e->width_hz / GAUSS_WIDTH) * G_SQRT2 / 2));
}

static void
noise_lines (const SimEmission *e, double step_hz, GArray *lines)
{
  double half = e->kind == SIM_NOISE_FLAT ? e->width_hz / 2 : 4 * e->width_hz / GAUSS_WIDTH;
  guint n = (guint) fmax (NOISE_LINES, ceil (2 * half / step_hz));
  double step = 2 * half / n, whole = noise_below (e, half) - noise_below (e, -half);
  for (guint i = 0; i < n; i++)
    add_line (lines, e, (i + 0.5) * step - half, (noise_below (e, (i + 1) * step - half) - noise_below (e, i * step - half)) / whole, 0);
}

static gboolean
is_noise (const SimEmission *e)
{
  return e->kind == SIM_NOISE_FLAT || e->kind == SIM_NOISE_GAUSS;
}

GArray *
sim_emission_lines (const SimEmission *e, double step_hz)
{
  GArray *lines = g_array_new (FALSE, FALSE, sizeof (SimLine));
  switch (e->kind) {
  case SIM_FM_TONE: fm_tone (e, lines); break;
  case SIM_FM_SPEECH: fm_speech (e, lines); break;
  case SIM_AM_TONE: am_tone (e, lines); break;
  case SIM_KEYING: keying (e, lines); break;
  case SIM_CW: add_line (lines, e, 0, 1, 0); break;
  default: noise_lines (e, step_hz, lines);
  }
  return lines;
}

/* -- truth -- */

static int
by_frequency (const void *a, const void *b)
{
  double x = ((const SimLine *) a)->frequency_hz, y = ((const SimLine *) b)->frequency_hz;
  return (x > y) - (x < y);
}

static double
watt_ratio (double db)
{
  return pow (10, db / 10);
}

double
sim_emission_width_hz (const SimEmission *e)
{
  if (is_noise (e))
    return e->kind == SIM_NOISE_FLAT ? 0.99 * e->width_hz : e->width_hz;
  g_autoptr (GArray) lines = sim_emission_lines (e, 1);
  double half = 0, held = 0, whole = watt_ratio (e->level_dbm);
  while (held < 0.99 * whole) { /* the next line outwards, until it is in it */
    double next = INFINITY, in = 0;
    for (guint i = 0; i < lines->len; i++) {
      const SimLine *line = &g_array_index (lines, SimLine, i);
      double away = fabs (line->frequency_hz - e->frequency_hz);
      if (away <= half * (1 + 1e-9))
        in += watt_ratio (line->level_dbm);
      else
        next = fmin (next, away);
    }
    held = in;
    if (held < 0.99 * whole)
      half = next;
  }
  return 2 * half;
}

static double
noise_in (const SimEmission *e, double window_hz)
{
  return e->level_dbm + 10 * log10 (noise_below (e, window_hz / 2) - noise_below (e, -window_hz / 2));
}

double
sim_emission_in_dbm (const SimEmission *e, double window_hz, gboolean edges)
{
  if (isnan (window_hz) || e->kind == SIM_CW)
    return e->level_dbm;
  if (is_noise (e))
    return noise_in (e, window_hz);
  g_autoptr (GArray) lines = sim_emission_lines (e, 1);
  qsort (lines->data, lines->len, sizeof (SimLine), by_frequency);
  double wide = window_hz * (edges ? 1 + 1e-6 : 1 - 1e-6), most = 0;
  for (guint i = 0; i < lines->len; i++) {
    double sum = 0, from = g_array_index (lines, SimLine, i).frequency_hz;
    for (guint j = i; j < lines->len && g_array_index (lines, SimLine, j).frequency_hz <= from + wide; j++)
      sum += watt_ratio (g_array_index (lines, SimLine, j).level_dbm);
    most = fmax (most, sum);
  }
  return fmin (e->level_dbm, 10 * log10 (most));
}

/* -- received -- */

typedef struct {
  guint n;
  const SimEmission *emissions;
  double rbw_hz, noise_bandwidth_hz, noise_dbm;
} Ground;

/* What is too wide for lines: its density through a filter is that of a Gaussian whose variance is the filter's. */
static gboolean
too_wide (const SimEmission *e, double rbw_hz)
{
  return is_noise (e) && e->width_hz > WIDE_RBWS * rbw_hz;
}

static double
ground_db (double f, gconstpointer data)
{
  const Ground *g = data;
  double over = 1, blur = g->rbw_hz / (2 * sqrt (2 * G_LN2));
  for (guint k = 0; k < g->n; k++) {
    const SimEmission *e = &g->emissions[k];
    if (!too_wide (e, g->rbw_hz))
      continue;
    double away = f - e->frequency_hz, in_filter;
    if (e->kind == SIM_NOISE_FLAT) {
      double half = e->width_hz / 2, s = blur * G_SQRT2;
      in_filter = g->noise_bandwidth_hz / e->width_hz * 0.5 * (erf ((away + half) / s) - erf ((away - half) / s));
    } else {
      double s = hypot (e->width_hz / GAUSS_WIDTH, blur);
      in_filter = g->noise_bandwidth_hz * exp (-away * away / (2 * s * s)) / (s * sqrt (2 * G_PI));
    }
    over += watt_ratio (e->level_dbm - g->noise_dbm) * in_filter;
  }
  return 10 * log10 (over);
}

/* A sweep begins at any moment of the modulation; noise is another each time. */
static void
start_at_random (const SimEmission *e, SimChance *chance, const GArray *rest, GArray *lines)
{
  double start = sim_between (chance, 0, 2 * G_PI), moment = sim_uniform (chance); /* s: every modulation here repeats within it */
  for (guint i = 0; i < rest->len; i++) {
    SimLine line = g_array_index (rest, SimLine, i);
    if (is_noise (e)) {
      double re, im;
      sim_normal_pair (chance, &re, &im);
      line.level_dbm += 10 * log10 ((re * re + im * im) / 2);
      line.phase = atan2 (im, re);
    } else {
      line.phase += start + 2 * G_PI * fmod ((line.frequency_hz - e->frequency_hz) * moment * 1e3, 1);
    }
    g_array_append_val (lines, line);
  }
}

static gboolean
in_view (const SimSettings *s, const SimEmission *e)
{
  double half = e->kind == SIM_CW ? 0 : 2 * e->deviation_hz + 50 * e->tone_hz + e->width_hz, reach = 5 * s->rbw_hz + half;
  return e->frequency_hz > s->start_hz - reach && e->frequency_hz < s->stop_hz + reach;
}

static double
put_in (const SimSettings *s, double so_far, double level_dbm)
{
  double power = watt_ratio (level_dbm);
  if (s->max_hold)
    return fmax (so_far, power);
  return so_far + (s->average == SP_AVERAGE_LOG ? level_dbm : s->average == SP_AVERAGE_VOLTAGE ? sqrt (power) : power);
}

static double
take_out (const SimSettings *s, double sum)
{
  double mean = sum / s->averages;
  if (s->max_hold)
    return 10 * log10 (sum);
  return s->average == SP_AVERAGE_LOG ? mean : s->average == SP_AVERAGE_VOLTAGE ? 20 * log10 (mean) : 10 * log10 (mean);
}

static guint64
mix_seed (guint64 seed, guint64 index)
{
  return (seed + 1) * 0x9E3779B97F4A7C15ULL ^ (index + 1) * 0xD1B54A32D192ED03ULL;
}

void
sim_receive_emissions (guint64 seed, const SimSettings *settings, guint n, const SimEmission *emissions, double noise_dbm, double *out_dbm)
{
  SimSettings once = *settings;
  Ground ground = { n, emissions, settings->rbw_hz, sim_noise_bandwidth_ratio () * settings->rbw_hz, noise_dbm };
  once.averages = 1;
  for (guint k = 0; k < n; k++)
    if (too_wide (&emissions[k], settings->rbw_hz) && in_view (settings, &emissions[k])) {
      once.ground_db = ground_db;
      once.ground = &ground;
    }
  g_autofree GArray **rest = g_new0 (GArray *, n + 1);
  g_autofree SimChance *chance = g_new (SimChance, n + 1);
  for (guint k = 0; k < n; k++) {
    chance[k] = sim_chance (mix_seed (seed, k));
    if (!too_wide (&emissions[k], settings->rbw_hz) && in_view (settings, &emissions[k]))
      rest[k] = sim_emission_lines (&emissions[k], settings->rbw_hz / 8);
  }
  chance[n] = sim_chance (mix_seed (seed, G_MAXUINT32));
  g_autofree double *level = g_new (double, settings->points), *sum = g_new0 (double, settings->points);
  for (guint sweep = 0; sweep < settings->averages; sweep++) {
    g_autoptr (GArray) lines = g_array_new (FALSE, FALSE, sizeof (SimLine));
    for (guint k = 0; k < n; k++)
      if (rest[k])
        start_at_random (&emissions[k], &chance[k], rest[k], lines);
    sim_receive (&chance[n], &once, lines->len, (const SimLine *) (const void *) lines->data, noise_dbm, level);
    for (guint i = 0; i < settings->points; i++)
      sum[i] = put_in (settings, sum[i], level[i]);
  }
  for (guint i = 0; i < settings->points; i++)
    out_dbm[i] = take_out (settings, sum[i]);
  for (guint k = 0; k < n; k++)
    if (rest[k])
      g_array_unref (rest[k]);
}

double
sim_sum_dbm (const SimSettings *s, const double *level_dbm, double from_hz, double to_hz)
{
  double sum = 0, spacing = (s->stop_hz - s->start_hz) / (s->points - 1);
  for (guint i = 0; i < s->points; i++)
    if (sim_frequency (s, i) >= from_hz && sim_frequency (s, i) <= to_hz)
      sum += watt_ratio (level_dbm[i]);
  return 10 * log10 (sum * spacing / (sim_noise_bandwidth_ratio () * s->rbw_hz));
}
