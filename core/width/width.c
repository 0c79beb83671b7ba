/* width.c - occupied bandwidth, x dB widths, power in a channel and beside it */
#include "core/width/width.h"

#include "core/detection/spectrum.h"
#include "core/quantity/error.h"

#include <glib/gi18n-lib.h>
#include <gsl/gsl_math.h>
#include <math.h>

/* All: common practice, no source; the channels of land mobile radio (from memory) */
#define LEAST_READINGS 8
#define NARROW_HZ 11e3
#define LAND_MOBILE_HZ 16e3
/* A width is the filter's, not the signal's, where a line would show this much of it (common practice, no source). */
#define OF_FILTER 0.5

/* Fluctuation of the noise left in a sum, over the signal, from which a half per cent point is no longer known (a fifth of it). */
#define NOISE_SHARE 1e-3 /* calculated: 0.2 x 0.005 */

static const double drops[SP_WIDTH_DROPS] = { 6, 26, 40, 60 }; /* 26: ITU-R SM.328; common practice, no source */

double
sp_width_line_occupied_hz (SpFilter filter, double rbw_hz)
{
  return rbw_hz * (filter == SP_FILTER_GAUSSIAN ? 2.187830 : filter == SP_FILTER_SYNC4 ? 3.040788 : SP_WIDTH_SHARE);
}

double
sp_width_line_drop_hz (SpFilter filter, double rbw_hz, double drop_db)
{
  if (filter == SP_FILTER_FLAT)
    return rbw_hz;
  if (filter == SP_FILTER_GAUSSIAN)
    return rbw_hz * sqrt (drop_db / 3.0103);
  return rbw_hz * sqrt ((pow (10, drop_db / 40) - 1) / (pow (2, 0.25) - 1));
}

double
sp_width_sum_error_db (const SpSettings *set, const SpDetectorLaw *law)
{
  if (sp_detector_traits (set->detector)->extreme || set->hold != SP_HOLD_NONE)
    return NAN;
  /* The mean of a bucket, and nobody says of what: powers would be right, so the worst of the kinds counts. */
  if (set->detector == SP_DETECTOR_AVERAGE && set->average == SP_AVERAGE_NONE)
    return -SP_LOG_NOISE_DB;
  return law->average == SP_AVERAGE_LOG ? -SP_LOG_NOISE_DB : law->average == SP_AVERAGE_VOLTAGE ? 10 * log10 (M_PI / 4) : 0;
}

void
sp_width_asked_init (SpWidthAsked *asked)
{
  *asked = (SpWidthAsked){ NAN, NAN, NAN, NAN, NAN, SP_FILTER_GAUSSIAN };
}

/* What is measured, and with it what noise shows. */
typedef struct {
  const SpTrace *trace;
  SpReadings readings;
  SpDetectorLaw law;
  double noise_mw, nbw_hz;
  double in_noise_mw; /* fluctuation of one reading of noise */
} Work;

static void
warn (SpWidths *w, SpReason *reason)
{
  sp_reasons_add (w->warnings, reason);
}

static gboolean
take_readings (SpWidths *w, Work *work, const SpWidthAsked *asked, GError **error)
{
  const SpTrace *t = work->trace;
  w->rbw_hz = t->settings.rbw_hz;
  double from = SP_ZERO_HERTZ_RBWS * (isfinite (w->rbw_hz) ? w->rbw_hz : t->frequency_hz[1] - t->frequency_hz[0]);
  guint64 first = sp_trace_find (t, isnan (asked->from_hz) ? from : fmax (from, asked->from_hz)), last = t->n;
  if (!isnan (asked->to_hz))
    for (last = sp_trace_find (t, asked->to_hz); last < t->n && t->frequency_hz[last] <= asked->to_hz;)
      last++;
  if (last < first + LEAST_READINGS)
    return sp_fail (error, SP_ERROR_USAGE,
                    _ ("%s: %s points lie there, and a width needs 8 at least: sweep a narrower span, or ask for a wider one"), t->file,
                    last <= first ? "0" : ((const char *[]){ "0", "1", "2", "3", "4", "5", "6", "7" })[last - first]);
  work->readings = (SpReadings){ last - first, t->frequency_hz + first, t->reading_dbm + first };
  w->n = last - first;
  w->from_hz = t->frequency_hz[first];
  w->to_hz = t->frequency_hz[last - 1];
  w->spacing_hz = sp_trace_spacing_hz (t, w->from_hz, w->to_hz);
  if (w->spacing_hz > w->rbw_hz)
    return sp_fail (error, SP_ERROR_USAGE,
                    _ ("%s is undersampled: its points lie %.9g Hz apart and its RBW is %.9g Hz, so that a sum misses what lies "
                       "between them: take a narrower span, more points, or a wider RBW"),
                    t->file, w->spacing_hz, w->rbw_hz);
  return TRUE;
}

static void
find_noise (SpWidths *w, Work *work, const SpWidthAsked *asked)
{
  const SpSettings *set = &work->trace->settings;
  gboolean assumed;
  work->nbw_hz = w->rbw_hz * sp_filter_nbw_ratio (asked->filter);
  work->law = sp_law_of (set, w->spacing_hz, work->nbw_hz, &assumed);
  double looks = work->law.max_hold || work->law.min_hold || work->law.detector == SP_DETECTOR_PEAK ? 1
                                                                                                    : work->law.looks * work->law.averages;
  double together = isfinite (work->nbw_hz) ? fmin (1, w->spacing_hz / work->nbw_hz) : 1;
  work->noise_mw = sp_width_noise_mw (&work->readings, looks * together);
  w->noise_dbm = sp_db_from_ratio (work->noise_mw);
  work->in_noise_mw = work->noise_mw / sqrt (looks);
  double wrong = sp_width_sum_error_db (set, &work->law);
  if (isnan (w->rbw_hz))
    warn (w, sp_reason (RBW_UNKNOWN, .file = w->file));
  if (assumed)
    warn (w, sp_reason (DETECTOR_UNKNOWN, .file = w->file));
  if (work->law.kind_open)
    warn (w, sp_reason (AVERAGE_KIND_UNKNOWN, .file = w->file));
  if (wrong != 0)
    warn (w, sp_reason (SUM_DETECTOR, .file = w->file, .wrong_db = wrong));
  if (w->spacing_hz > w->rbw_hz / 2)
    warn (w, sp_reason (WIDTH_COARSE, .file = w->file, .spacing_hz = w->spacing_hz, .rbw_hz = w->rbw_hz,
                        .loss_db = sp_sampling_loss_db (set->detector, set->average, w->spacing_hz, w->rbw_hz,
                                                        sp_filter_nbw_ratio (asked->filter))));
}

static gboolean
find_peak (SpWidths *w, const Work *work, GError **error)
{
  const SpReadings *r = &work->readings;
  guint64 peak = 0;
  for (guint64 i = 1; i < r->n; i++)
    if (r->level_dbm[i] > r->level_dbm[peak])
      peak = i;
  w->peak_hz = r->frequency_hz[peak];
  w->peak_dbm = r->level_dbm[peak];
  double noise_db = w->noise_dbm - sp_law_noise_mean_db (&work->law);
  if (w->peak_dbm > noise_db + sp_law_threshold_db (&work->law, (double) r->n))
    return TRUE;
  return sp_fail (error, SP_ERROR_USAGE, _ ("%s: nothing stands out of its noise, so there is no signal whose width could be told"),
                  w->file);
}

static void
find_occupied (SpWidths *w, const Work *work, const SpWidthAsked *asked)
{
  const SpReadings *r = &work->readings;
  sp_width_occupied (r, work->noise_mw, SP_WIDTH_SHARE, &w->occupied_low_hz, &w->occupied_high_hz);
  w->occupied_hz = w->occupied_high_hz - w->occupied_low_hz;
  w->occupied_by_line_hz = sp_width_line_occupied_hz (asked->filter, w->rbw_hz);
  if (w->occupied_by_line_hz > OF_FILTER * w->occupied_hz)
    warn (w, sp_reason (WIDTH_OF_FILTER, .file = w->file, .occupied_hz = w->occupied_hz, .line_hz = w->occupied_by_line_hz,
                        .rbw_hz = w->rbw_hz));
  /* readings that lie closer than NBW fluctuate together */
  double step = isfinite (work->nbw_hz) ? fmax (w->spacing_hz, work->nbw_hz) : w->spacing_hz;
  double span = w->to_hz - w->from_hz, left = work->in_noise_mw * sqrt (span / step) * step;
  double sum = sp_width_sum (r, work->noise_mw, -INFINITY, INFINITY);
  if (!(left <= NOISE_SHARE * sum))
    warn (w, sp_reason (WIDTH_NOISE, .file = w->file, .over_db = w->peak_dbm - w->noise_dbm, .left_percent = 100 * left / sum));
}

/* An x dB width stands on the greatest single reading: what noise reaches anywhere hides it. */
static void
find_drops (SpWidths *w, const Work *work, const SpWidthAsked *asked)
{
  const SpReadings *r = &work->readings;
  double noise_top = w->noise_dbm - sp_law_noise_mean_db (&work->law) + sp_law_threshold_db (&work->law, (double) r->n);
  for (guint k = 0; k < SP_WIDTH_DROPS; k++) {
    SpDropWidth *d = &w->drop[k];
    d->drop_db = drops[k];
    sp_width_drop (r, w->peak_dbm, drops[k], &d->low_hz, &d->high_hz);
    d->of_line_hz = sp_width_line_drop_hz (asked->filter, w->rbw_hz, drops[k]);
    d->hidden = isnan (d->high_hz - d->low_hz) || w->peak_dbm - drops[k] <= noise_top;
    d->width_hz = d->hidden ? NAN : d->high_hz - d->low_hz;
  }
}

static gboolean
choose_channel (SpWidths *w, const SpWidthAsked *asked, GError **error)
{
  double channel = asked->channel_hz, spacing = asked->spacing_hz;
  w->channel_chosen = isnan (channel) && isnan (spacing);
  if (w->channel_chosen) {
    double b = w->occupied_hz;
    channel = b <= NARROW_HZ ? 8.5e3 : b <= LAND_MOBILE_HZ ? 16e3 : b;
    spacing = b <= NARROW_HZ ? 12.5e3 : b <= LAND_MOBILE_HZ ? 25e3 : b / SP_CHANNEL_SHARE;
  }
  w->channel_hz = isnan (channel) ? spacing * SP_CHANNEL_SHARE : channel;
  w->channel_spacing_hz = isnan (spacing) ? channel / SP_CHANNEL_SHARE : spacing;
  w->center_hz = isnan (asked->center_hz) ? (w->occupied_low_hz + w->occupied_high_hz) / 2 : asked->center_hz;
  if (!(w->channel_hz > 0) || !(w->channel_spacing_hz > 0))
    return sp_fail (error, SP_ERROR_USAGE, _ ("a channel and the spacing of channels must be greater than 0 Hz"));
  return TRUE;
}

/* Power within a channel; where noise is all that stands there, the noise's own, and TRUE. */
static gboolean
channel_power (const SpWidths *w, const Work *work, double center_hz, double *sum)
{
  double half = w->channel_hz / 2, all = sp_width_sum (&work->readings, 0, center_hz - half, center_hz + half);
  double step = isfinite (work->nbw_hz) ? fmax (w->spacing_hz, work->nbw_hz) : w->spacing_hz;
  double noise = work->noise_mw * w->channel_hz,
         left = work->in_noise_mw * sqrt (fmax (1, w->channel_hz / step)) * fmin (step, w->channel_hz);
  gboolean in_noise = all - noise <= 3 * left; /* three u (common practice, no source) */
  *sum = in_noise ? fmax (all, noise) : all - noise;
  return in_noise;
}

static void
find_channels (SpWidths *w, const Work *work)
{
  static const int steps[SP_WIDTH_BESIDE] = { -2, -1, 1, 2 };
  double channel, half = w->channel_hz / 2;
  channel_power (w, work, w->center_hz, &channel);
  w->channel_dbm = sp_db_from_ratio (channel / work->nbw_hz);
  for (guint k = 0; k < SP_WIDTH_BESIDE; k++) {
    SpBeside *b = &w->beside[k];
    b->step = steps[k];
    b->center_hz = w->center_hz + steps[k] * w->channel_spacing_hz;
    b->swept = b->center_hz - half >= w->from_hz - w->spacing_hz / 2 && b->center_hz + half <= w->to_hz + w->spacing_hz / 2;
    b->power_dbm = b->relative_db = NAN;
    if (!b->swept)
      continue;
    double sum;
    b->in_noise = channel_power (w, work, b->center_hz, &sum);
    b->power_dbm = sp_db_from_ratio (sum / work->nbw_hz);
    b->relative_db = sp_db_from_ratio (sum / channel);
  }
}

SpWidths *
sp_widths_measure (const SpTrace *trace, const SpWidthAsked *asked, GError **error)
{
  g_autoptr (SpWidths) w = g_new0 (SpWidths, 1);
  Work work = { .trace = trace };
  w->file = g_strdup (trace->file);
  w->warnings = sp_reasons_new ();
  sp_reasons_extend (w->warnings, trace->warnings);
  if (!take_readings (w, &work, asked, error))
    return NULL;
  find_noise (w, &work, asked);
  if (!find_peak (w, &work, error))
    return NULL;
  find_occupied (w, &work, asked);
  find_drops (w, &work, asked);
  if (!choose_channel (w, asked, error))
    return NULL;
  find_channels (w, &work);
  return g_steal_pointer (&w);
}

void
sp_widths_free (SpWidths *widths)
{
  if (!widths)
    return;
  g_clear_pointer (&widths->warnings, g_ptr_array_unref);
  g_free (widths->file);
  g_free (widths);
}
