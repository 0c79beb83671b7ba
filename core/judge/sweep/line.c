/* line.c - level and frequency of a line from the points that show it (core/docs/computation.md, section 7) */
#include "core/judge/sweep/sweep.h"

#include <math.h>

#define NOISE_U_DB 5.57 /* standard deviation of log-Rayleigh noise (core/docs/metrology.md, section 4.1) */
#define NARROWER 1.2    /* a filter may be this much narrower than its name (common practice, no source) */
#define BEND_SHARE 0.6  /* greatest relative difference from a Gaussian's curvature for a line, by simulation (tests/simulate/levels.c) */
/* Below this the greatest of several noisy points is biased, by 0.2 dB there, 1.2 dB at 15 dB, by simulation (tests/simulate/levels.c) */
#define NEAR_DB 25.0
#define MEAN_POINTS 1.8 /* least number of points in an RBW for a mean (common practice, no source) */
#define MEAN_RBW 0.4    /* half-width of the range that the mean is taken over (common practice, no source) */
#define WIDE_RBW 1.5    /* half-width beyond which a line has no power (common practice, no source) */
#define WIDE_RATIO 1.5  /* more than this many times a line's power there: not a line (common practice, no source) */
/* u of the mean if the filter is 10 % wider or narrower than its name; calculated: +0.10, -0.13 dB; the worse, as u */
#define WIDTH_U_DB 0.13

/* The filter's response at an offset. Every filter is Gaussian near its middle, and only that part is used. */
static double
falls_db (const SpJudgedSweep *s, double offset_hz)
{
  return -sp_filter_response_db (SP_FILTER_GAUSSIAN, offset_hz, s->rbw_hz);
}

/* TRUE if the three points fit a line through the filter. Noise bends them too, by up to three of its u (common practice, no source). */
static gboolean
is_bent_like_a_line (const SpJudgedSweep *s, guint64 i, double spacing_hz)
{
  const double *level = s->out->level_dbm;
  double expected = -2 * falls_db (s, spacing_hz), u_db, correction;
  sp_judging_near_noise (s, level[i] - s->out->noise_dbm[i], &correction, &u_db);
  double lowest = fmin (level[i - 1], level[i + 1]), worst = fmin (NOISE_U_DB, u_db * pow (10, (level[i] - lowest) / 20));
  double u_bend = isfinite (u_db) ? sqrt (4 * u_db * u_db + 2 * worst * worst) : INFINITY;
  return fabs (level[i - 1] - 2 * level[i] + level[i + 1] - expected) <= BEND_SHARE * -expected + 3 * u_bend;
}

static gboolean
has_vertex (const SpJudgedSweep *s, guint64 i)
{
  const double *f = s->trace->frequency_hz, *level = s->out->level_dbm;
  if (!sp_detector_traits (s->trace->settings.detector)->follows_a_line || !sp_judging_narrow (s, i) || i == 0 || i + 1 >= s->trace->n)
    return FALSE;
  double spacing_hz = sp_judging_spacing (s, i), before = f[i] - f[i - 1], after = f[i + 1] - f[i];
  return fabs (before - after) <= 0.01 * spacing_hz && level[i - 1] <= level[i] && level[i + 1] <= level[i]
         && is_bent_like_a_line (s, i, spacing_hz);
}

void
sp_judging_line (const SpJudgedSweep *s, guint64 i, double *frequency_hz, double *level_dbm, double *half_hz)
{
  const double *level = s->out->level_dbm;
  SpDetector d = s->trace->settings.detector;
  double spacing_hz = sp_judging_spacing (s, i);
  *frequency_hz = s->trace->frequency_hz[i];
  *level_dbm = level[i];
  *half_hz = (sp_detector_traits (d)->alternates ? 1.5 : 0.5) * spacing_hz;
  if (!has_vertex (s, i))
    return;
  double offset, vertex_dbm;
  sp_parabola (level[i - 1], level[i], level[i + 1], &offset, &vertex_dbm);
  *level_dbm = fmin (vertex_dbm, level[i] + falls_db (s, NARROWER * spacing_hz / 2));
  *frequency_hz += offset * spacing_hz;
  *half_hz = spacing_hz / 10;  /* error of the vertex by noise and by a filter that is not quite Gaussian (common practice, no source) */
  if (d != SP_DETECTOR_SAMPLE) /* a bucket smears the line: mean response over half of it on either side */
    *level_dbm += sp_sampling_loss_db (d, s->trace->settings.average, spacing_hz / 2, s->rbw_hz, s->nbw_hz / s->rbw_hz);
}

double
sp_judging_line_loss (const SpJudging *c, const SpJudgedSweep *s, guint64 i)
{
  gboolean shown = sp_detector_traits (s->trace->settings.detector)->shows_greatest && sp_judging_narrow (s, i);
  double loss = shown || has_vertex (s, i) ? 0 : sp_judging_sampling_loss (c, s, i);
  return isfinite (loss) ? loss : SP_MOST_LOSS_DB;
}

double
sp_judging_vertex_u_db (const SpJudgedSweep *s, guint64 i, double frequency_hz, double least_u_db)
{
  double offset = (frequency_hz - s->trace->frequency_hz[i]) / sp_judging_spacing (s, i), u_db, correction;
  sp_judging_near_noise (s, s->out->level_dbm[i] - s->out->noise_dbm[i], &correction, &u_db);
  if (!isfinite (u_db) || offset == 0)
    return least_u_db;
  double weight[] = { offset * (offset - 1) / 2, 1 - offset * offset, offset * (offset + 1) / 2 }, square = 0;
  for (int j = 0; j < 3; j++) {
    double over = sp_ratio_from_db (s->out->level_dbm[i] - s->out->level_dbm[i + j - 1]); /* u of a point is inverse to its amplitude */
    square += weight[j] * weight[j] * u_db * u_db * fmin (over, NOISE_U_DB * NOISE_U_DB / (u_db * u_db));
  }
  return fmax (least_u_db, sqrt (square));
}

/* ---- near the noise: the mean power, without the noise's ---- */

typedef struct {
  const SpJudgedSweep *s;
  double noise_dbm;
  guint64 from, to; /* points within the widest range */
} Around;

/* Power over the noise's, in its multiples: E |s + n|^2 - E |n|^2 = |s|^2, for any number of points and any correlation of their noise. */
static double
power_over (const Around *a, guint64 k)
{
  return sp_ratio_from_db (a->s->out->level_dbm[k] - a->noise_dbm) - 1;
}

static double
response (const Around *a, guint64 k, double centre_hz)
{
  return sp_ratio_from_db (-falls_db (a->s, a->s->trace->frequency_hz[k] - centre_hz));
}

/* The power of a line at `centre_hz` with the same power within +-`half_hz` as the points there. */
static double
power_within (const Around *a, double centre_hz, double half_hz)
{
  double sum = 0, weight = 0;
  for (guint64 k = a->from; k < a->to; k++)
    if (fabs (a->s->trace->frequency_hz[k] - centre_hz) <= half_hz) {
      sum += power_over (a, k);
      weight += response (a, k, centre_hz);
    }
  return weight > 0 ? sum / weight : NAN;
}

/* The centre of power within an RBW, no further than half a point or 0.15 RBW from the greatest (common practice, no source). */
static double
centre_of (const Around *a, guint64 i)
{
  const double *f = a->s->trace->frequency_hz;
  double sum = 0, weight = 0, reach = fmax (sp_judging_spacing (a->s, i), 0.3 * a->s->rbw_hz) / 2;
  for (guint64 k = a->from; k < a->to; k++)
    if (fabs (f[k] - f[i]) <= a->s->rbw_hz) {
      double p = fmax (power_over (a, k), 0);
      sum += p * (f[k] - f[i]);
      weight += p;
    }
  return f[i] + (weight > 0 ? CLAMP (sum / weight, -reach, reach) : 0);
}

gboolean
sp_judging_line_near_noise (const SpJudgedSweep *s, guint64 i, double *frequency_hz, double *level_dbm, double *u_db)
{
  const SpDetectorLaw *law = &s->law;
  double over_db = s->out->level_dbm[i] - s->out->noise_dbm[i], correction;
  gboolean one_look = s->trace->settings.detector == SP_DETECTOR_SAMPLE && law->averages <= 1 && !law->max_hold;
  if (!one_look || over_db > NEAR_DB || !(sp_judging_spacing (s, i) * MEAN_POINTS <= s->rbw_hz))
    return FALSE;
  const double *f = s->trace->frequency_hz;
  double reach = (WIDE_RBW + 0.2) * s->rbw_hz; /* room for the centre to move */
  Around around = { s, s->out->noise_dbm[i], sp_trace_find (s->trace, f[i] - reach), sp_trace_find (s->trace, f[i] + reach) };
  double centre = centre_of (&around, i), power = power_within (&around, centre, MEAN_RBW * s->rbw_hz);
  if (!(power >= 1) || power_within (&around, centre, WIDE_RBW * s->rbw_hz) > WIDE_RATIO * power)
    return FALSE;
  *frequency_hz = centre;
  *level_dbm = around.noise_dbm + sp_db_from_ratio (power);
  sp_law_near_noise (law, sp_db_from_ratio (power), &correction, u_db);
  *u_db = hypot (*u_db, WIDTH_U_DB);
  return isfinite (*u_db);
}
