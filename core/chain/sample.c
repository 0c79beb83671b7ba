/* sample.c - samples a stage's loss for a picture or a table */
#include "core/chain/sample.h"

#include <math.h>

#include "core/quantity/coverage.h"

/* All: common practice, no source */
#define SPAN_LOW_HZ 1e6 /* lower end if the stage's range is unknown */
#define SPAN_HIGH_HZ 3e9
#define FIRST_POINT_HZ 1e8
#define SPAN_LEAST 1.25 /* least ratio high/low, for a single point */

/* Degrees of freedom of u, of which a part has finite ones: Welch-Satterthwaite, the rest infinite. */
static double
expanded (double u_db, double part_u_db, double dof)
{
  return sp_coverage_factor (part_u_db > 0 ? dof * pow (u_db / part_u_db, 4) : INFINITY) * u_db;
}

double
sp_chain_loss_expanded_db (const SpChainLoss *loss)
{
  return expanded (loss->u_db, loss->u_independent_db, loss->dof_independent);
}

void
sp_stage_sample (const SpChain *chain, guint index, guint n, const double *frequency_hz, SpStageSample *out)
{
  const SpStage *stage = chain->stages[index];
  for (guint i = 0; i < n; i++) {
    SpStageLoss loss = sp_stage_loss (chain, index, frequency_hz[i], NAN, 0);
    double expanded_db = expanded (loss.u_db, loss.u_curve_db, loss.dof);
    out[i] = (SpStageSample){ frequency_hz[i],
                              loss.loss_db,
                              loss.u_db,
                              expanded_db,
                              loss.loss_db - expanded_db,
                              loss.loss_db + expanded_db,
                              loss.loss_db - stage->label_db,
                              loss.calibrated };
  }
}

void
sp_chain_sample (const SpChain *chain, guint n, const double *frequency_hz, SpStageSample *out)
{
  for (guint i = 0; i < n; i++) {
    SpChainLoss loss = sp_chain_loss (chain, frequency_hz[i], NAN, 0, NULL);
    double expanded_db = sp_chain_loss_expanded_db (&loss);
    out[i] = (SpStageSample){
      frequency_hz[i], loss.loss_db, loss.u_db, expanded_db, loss.loss_db - expanded_db, loss.loss_db + expanded_db, NAN, loss.calibrated
    };
  }
}

void
sp_stage_sample_span (const SpChain *chain, guint index, double *low_hz, double *high_hz)
{
  const SpStage *stage = chain->stages[index];
  *low_hz = SPAN_LOW_HZ;
  *high_hz = SPAN_HIGH_HZ;
  if (stage->loss) {
    *low_hz = stage->loss->frequency_hz[0];
    *high_hz = stage->loss->frequency_hz[stage->loss->n - 1];
  } else if (stage->span_high_hz > 0) {
    *low_hz = stage->span_low_hz;
    *high_hz = stage->span_high_hz;
  }
  if (!(*high_hz > 0)) /* one point at 0 Hz is valid at every frequency */
    *high_hz = SPAN_HIGH_HZ;
  if (!(*low_hz > 0))
    *low_hz = fmin (SPAN_LOW_HZ, *high_hz / 1000);
  if (*high_hz < *low_hz * SPAN_LEAST) {
    *low_hz /= SPAN_LEAST;
    *high_hz *= SPAN_LEAST;
  }
}

void
sp_stage_sample_grid (double low_hz, double high_hz, guint n, double *frequency_hz)
{
  for (guint i = 0; i < n; i++)
    frequency_hz[i] = low_hz * pow (high_hz / low_hz, i / (n - 1.0));
  frequency_hz[0] = low_hz;
  frequency_hz[n - 1] = high_hz;
}

int
sp_stage_sample_furthest (guint n, const SpStageSample *samples)
{
  int furthest = -1;
  for (guint i = 0; i < n; i++)
    if (!isnan (samples[i].off_label_db) && (furthest < 0 || fabs (samples[i].off_label_db) > fabs (samples[furthest].off_label_db)))
      furthest = (int) i;
  return furthest;
}

/* Three digits: a suggestion to be corrected, not a measured frequency. */
static double
rounded (double frequency_hz)
{
  double digit = pow (10, floor (log10 (frequency_hz)) - 2);
  return round (frequency_hz / digit) * digit;
}

void
sp_stage_sample_between (const SpChain *chain, guint index, int after, double *frequency_hz)
{
  const SpCurve *curve = chain->stages[index]->loss;
  if (!curve) {
    *frequency_hz = FIRST_POINT_HZ;
    return;
  }
  guint i = after < 0 || (guint) after >= curve->n ? curve->n - 1 : (guint) after;
  double low = curve->frequency_hz[i], high = i + 1 < curve->n ? curve->frequency_hz[i + 1] : low * 2;
  double middle = low > 0 ? rounded (sqrt (low * high)) : high > 0 ? rounded (high / 2) : FIRST_POINT_HZ;
  *frequency_hz = middle > low && (i + 1 == curve->n || middle < high) ? middle : (low + high) / 2;
}
