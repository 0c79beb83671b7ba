/* correct.c - corrects each sweep's levels, and finds its detector law, noise and thresholds */
#include "core/judge/sweep/sweep.h"

#include "core/quantity/large.h"
#include "core/width/width.h"

#include <math.h>
#include <string.h>

/* Both are what a side of the noise window keeps, whatever is excluded: RBW, points (common practice, no source). */
#define LEAST_RBWS 5.0
#define LEAST_POINTS 25
/* Narrower windows may fail to follow noise that climbs towards a carrier (common practice, no source). */
#define BLUNT_RBWS 20.0
/* Excluded on either side of a signal: the foot of a Gaussian filter's response, -12 dB there (calculated). */
#define GUARD_RBWS 1.0
#define SPAN_JUMPS 1.9 /* ratio of two spans' spacings, two but for rounding (common practice, no source) */

double
sp_judging_spacing (const SpJudgedSweep *s, guint64 i)
{
  if (s->uniform)
    return s->spacing_hz;
  const double *f = s->trace->frequency_hz;
  double before = i > 0 ? f[i] - f[i - 1] : 0, after = i + 1 < s->trace->n ? f[i + 1] - f[i] : 0;
  return fmax (before, after);
}

/* TRUE if the points are no further apart than the RBW, within 0.1 % for rounded frequencies. */
gboolean
sp_judging_narrow (const SpJudgedSweep *s, guint64 i)
{
  return sp_judging_spacing (s, i) <= s->rbw_hz * 1.001;
}

static void
measure_spacing (SpJudgedSweep *s)
{
  const double *f = s->trace->frequency_hz;
  double least = INFINITY, most = 0;
  for (guint64 i = 1; i < s->trace->n; i++) {
    double d = f[i] - f[i - 1];
    least = d < least ? d : least; /* faster than fmin(), which is a call */
    most = d > most ? d : most;
  }
  s->spacing_hz = most;
  s->uniform = most - least <= 0.01 * most;
}

guint64
sp_judging_greatest (const SpJudgedSweep *s, double from_hz, double to_hz)
{
  guint64 n = s->trace->n, best = n;
  for (guint64 i = sp_trace_find (s->trace, from_hz); i < n && s->trace->frequency_hz[i] <= to_hz; i++)
    if (best == n || s->out->level_dbm[i] > s->out->level_dbm[best])
      best = i;
  return best;
}

gboolean
sp_judging_blurred (const SpJudgedSweep *s, guint64 i)
{
  SpDetector d = s->trace->settings.detector;
  return sp_detector_traits (d)->least || (d != SP_DETECTOR_PEAK && !sp_judging_narrow (s, i));
}

double
sp_judging_sampling_loss (const SpJudging *c, const SpJudgedSweep *s, guint64 i)
{
  const SpSettings *set = &s->trace->settings;
  double loss = sp_sampling_loss_db (set->detector, set->average, sp_judging_spacing (s, i), s->rbw_hz,
                                     sp_filter_nbw_ratio (c->analyzer->filter));
  return isfinite (loss) ? fmin (loss, SP_MOST_LOSS_DB) : loss;
}

/* Averages a running median over a longer range where the noise is level, which lowers its u by the root of the ratio. Level: near the
 * mean, with equal means on both sides. A plain mean would blur the edges of a step.
 * `square`: greatest squared difference of the two sides, for one reading each. The ring keeps only the sums that the range needs, so
 * they stay in the cache. */
static void
steady (guint64 n, double *median, guint64 half, double step_db, double square)
{
  guint64 mask = ((guint64) 1 << g_bit_storage (2 * half + 1)) - 1, summed = 0;
  g_autofree double *ring = g_new (double, mask + 1); /* ring[i & mask]: sum of median[0 .. i) */
  double sum = ring[0] = 0;
  for (guint64 i = 0; i < n; i++) {
    guint64 from = i > half ? i - half : 0, to = MIN (n, i + half + 1);
    while (summed < to) {
      sum += median[summed++];
      ring[summed & mask] = sum;
    }
    double mean = (sum - ring[from & mask]) / (double) (to - from);
    if (fabs (median[i] - mean) > step_db)
      continue;
    double below = (double) (i + 1 - from), above = (double) (to - i), lower = ring[(i + 1) & mask] - ring[from & mask],
           upper = sum - ring[i & mask];
    double apart = lower * above - upper * below; /* difference of the two means, times both numbers */
    if (apart * apart <= square * (below + above) * below * above)
      median[i] = mean;
  }
}

/* The points as core/width sums them; relative u of the noise is that of a median of this many readings. */
static void
view_band (SpJudgedSweep *s, guint64 half, guint64 level_half, double reading_u_db)
{
  double readings = 2. * (double) level_half + 1;
  s->band = (SpBandView){ .n = s->trace->n,
                          .frequency_hz = s->trace->frequency_hz,
                          .level_dbm = s->out->level_dbm,
                          .noise_dbm = s->out->noise_dbm,
                          .spacing_hz = s->spacing_hz,
                          .rbw_hz = s->rbw_hz,
                          .nbw_hz = s->nbw_hz,
                          .noise_reach_hz = (double) half * s->spacing_hz,
                          .noise_u = reading_u_db * SP_LN10_OVER_10 / sqrt (readings),
                          .noise_error_db = 0 - sp_width_sum_error_db (&s->trace->settings, &s->law),
                          .greatest_db = sp_law_noise_mean_db (&s->law),
                          .averages = sp_law_looks_averaged (&s->law) };
  if (s->law_assumed)
    s->band.noise_error_db = NAN;
}

/* Mean noise power under the trace, at the socket. */
static void
find_noise (SpJudgedSweep *s, double *noise_dbm)
{
  guint64 n = s->trace->n;
  double per_rbw = isfinite (s->rbw_hz) ? s->rbw_hz / s->spacing_hz : 1, extra_db;
  guint64 level_half = sp_noise_level_half (n, per_rbw);
  SpNoiseWindow w = {
    .half = sp_noise_half (n, per_rbw, SP_NOISE_RBWS),
    .guard = 1 + (guint64) fmin (ceil (GUARD_RBWS * per_rbw), (double) n),
    .exclude_db = sp_law_threshold_db (&s->law, (double) n) - s->quantile_db,
  };
  w.least = MAX (MIN (LEAST_POINTS, w.half), (guint64) fmin (LEAST_RBWS * per_rbw, (double) w.half));
  double reading_u_db = sp_noise_reading_u_db (sp_law_median_u_db (&s->law), per_rbw);
  w.agree_db = M_SQRT2 * SP_NOISE_APART_U * reading_u_db / sqrt ((double) w.half);
  s->noise_window_hz = (double) sp_noise_half (n, per_rbw, BLUNT_RBWS) * s->spacing_hz;
  sp_noise_place (&s->trace->settings, &w.p, &extra_db);
  view_band (s, w.half, level_half, reading_u_db);
  sp_noise_floor (n, s->trace->reading_dbm, &w, noise_dbm);
  steady (n, noise_dbm, level_half, SP_NOISE_APART_U * reading_u_db / sqrt (2. * (double) w.half + 1),
          SP_NOISE_APART_U * SP_NOISE_APART_U * reading_u_db * reading_u_db);
  for (guint64 i = 0; i < n; i++)
    noise_dbm[i] += s->out->level_dbm[i] - s->trace->reading_dbm[i] - s->quantile_db + extra_db;
}

SpThresholds
sp_judging_thresholds (const SpJudgedSweep *s, double points)
{
  if (points == s->thresholds.points)
    return s->thresholds;
  if (points != s->cache->last_thresholds.points) {
    double threshold = sp_law_threshold_db (&s->law, points);
    s->cache->last_thresholds = (SpThresholds){ points, threshold, sp_law_detection_limit_db (&s->law, threshold) };
  }
  return s->cache->last_thresholds;
}

void
sp_judging_correct_levels (const SpJudging *c, const SpChain *chain, const SpTrace *trace, SpCorrected *out)
{
  out->n = trace->n;
  out->frequency_hz = trace->frequency_hz;
  out->level_dbm = memcpy (sp_large_new (double, trace->n), trace->reading_dbm, trace->n * sizeof (double));
  sp_chain_correct (chain, c->bench->temperature_c, trace->n, trace->frequency_hz, out->level_dbm);
  if (c->analyzer->amplitude_correction_db)
    sp_curve_add_to (c->analyzer->amplitude_correction_db, trace->n, trace->frequency_hz, out->level_dbm);
}

static double
mean_spacing (const SpTrace *t)
{
  return (t->frequency_hz[t->n - 1] - t->frequency_hz[0]) / (double) (t->n - 1);
}

/* A file with several spans but one RBW: the RBW belongs to the narrowest spacing. For a wider one it is unknown unless an option
 * states it for that span. */
static gboolean
is_of_another_span (const SpJudging *c, const SpTrace *t)
{
  g_autofree char *stated = t->options ? sp_trace_options_get (t->options, "rbw") : NULL;
  for (guint k = 0; k < c->n_all && !stated; k++) {
    const SpTrace *other = c->sweeps[k].trace;
    gboolean same_file = other != t && other->raw && t->raw && g_strcmp0 (other->column, t->column) == 0;
    if (same_file && other->settings.rbw_hz == t->settings.rbw_hz && mean_spacing (t) > SPAN_JUMPS * mean_spacing (other)
        && g_bytes_equal (other->raw, t->raw))
      return TRUE;
  }
  return FALSE;
}

/* The sampling loss that the floor of an even sweep includes; INFINITY: points too far apart for an unknown RBW. */
static double
loss_between_db (const SpJudging *c, const SpJudgedSweep *s)
{
  const SpSettings *set = &s->trace->settings;
  double nbw_ratio = sp_filter_nbw_ratio (c->analyzer->filter);
  double loss = fmin (SP_MOST_LOSS_DB, sp_sampling_loss_db (set->detector, set->average, s->spacing_hz, s->rbw_hz, nbw_ratio));
  return isnan (s->rbw_hz) && loss > 0 ? INFINITY : loss;
}

/* What the trace's settings imply for its readings. */
static void
take_settings (const SpJudging *c, SpJudgedSweep *s)
{
  const SpTrace *t = s->trace;
  s->rbw_hz = is_of_another_span (c, t) ? NAN : t->settings.rbw_hz;
  s->nbw_hz = s->rbw_hz * sp_filter_nbw_ratio (c->analyzer->filter);
  measure_spacing (s);
  s->law = sp_law_of (&t->settings, s->spacing_hz, s->nbw_hz, &s->law_assumed);
  s->quantile_db = sp_law_noise_quantile_db (&s->law, 0.5);
  double window_hz = fmax (isfinite (s->rbw_hz) ? s->rbw_hz : 0, s->spacing_hz);
  s->cache = g_new0 (SpSweepCache, 1);
  s->thresholds = sp_judging_thresholds (s, 1 + 2 * floor (window_hz / s->spacing_hz + 1e-9));
  s->sweep_threshold_db = sp_law_threshold_db (&s->law, (double) t->n);
  s->signal = SP_NO_SIGNAL;
}

SpJudgedSweep
sp_judging_levels (const SpJudging *c, const SpJudgedSweep *taken, SpCorrected *out)
{
  SpJudgedSweep s = *taken;
  take_settings (c, &s);
  sp_judging_correct_levels (c, s.chain, s.trace, out);
  out->noise_dbm = sp_large_new (double, s.trace->n);
  out->threshold_db = s.thresholds.threshold_db;
  out->detection_db = s.thresholds.detection_limit_db;
  out->loss_between_db = loss_between_db (c, &s);
  s.out = out;
  find_noise (&s, out->noise_dbm);
  return s;
}

void
sp_judging_settings_warnings (const SpJudging *c, GPtrArray *warnings)
{
  for (guint k = 0; k < c->n_all; k++) {
    const SpJudgedSweep *s = &c->sweeps[k];
    const char *file = s->trace->file;
    if (isnan (s->rbw_hz))
      sp_reasons_add (warnings, sp_reason (RBW_UNKNOWN, .file = file));
    if (s->law_assumed)
      sp_reasons_add (warnings, sp_reason (DETECTOR_UNKNOWN, .file = file));
    if (s->law.kind_open)
      sp_reasons_add (warnings, sp_reason (AVERAGE_KIND_UNKNOWN, .file = file));
    if (isnan (s->trace->settings.attenuation_db))
      sp_reasons_add (warnings, sp_reason (ATTENUATION_UNKNOWN, .file = file));
    if (s->out->loss_between_db > 0 && s->spacing_hz > s->rbw_hz)
      sp_reasons_add (warnings, sp_reason (UNDERSAMPLED, .file = file, .seen = FALSE, .spacing_hz = s->spacing_hz, .rbw_hz = s->rbw_hz,
                                           .loss_db = s->out->loss_between_db));
  }
}
