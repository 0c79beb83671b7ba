/* ages.c - how old the calibration of a chain is on the bench's day, and the check of an analyzer */
#include "core/bench/build.h"

#include <math.h>

static void
warn_of_age (const SpBench *bench, double interval_days, const char *name, double calibrated_day)
{
  double age = bench->date_day - calibrated_day; /* a NaN in it passes both questions by */
  if (age > interval_days)
    sp_reasons_add (bench->warnings, sp_reason (CALIBRATION_OLD, .of = name, .age_days = age, .interval_days = interval_days));
  if (age < 0)
    sp_reasons_add (bench->warnings, sp_reason (CALIBRATION_LATER, .of = name, .later_days = -age));
}

/* A run may be good for less or more than the chain. */
static double
interval_of (const SpChain *chain, const SpStage *stage)
{
  return stage->run && !isnan (stage->run->interval_days) ? stage->run->interval_days : chain->interval_days;
}

/* Somebody wrote down when it was calibrated, or for how long that counts. */
static gboolean
has_dates (const SpChain *chain)
{
  gboolean any = !isnan (chain->calibrated_day) || !isnan (chain->interval_days);
  for (guint i = 0; i < chain->n && !any; i++)
    any = !isnan (chain->stages[i]->calibrated_day) || !isnan (interval_of (chain, chain->stages[i]));
  return any;
}

void
sp_bench_warn_chain (const SpBench *bench, const SpChain *chain)
{
  gboolean by_chain = FALSE;
  if (!chain)
    return;
  sp_reasons_extend (bench->warnings, chain->warnings);
  if (isnan (bench->date_day) && has_dates (chain))
    sp_reasons_add (bench->warnings, sp_reason (AGES_UNCHECKED, .chain = chain->name));
  for (guint i = 0; i < chain->n; i++)
    if (isnan (chain->stages[i]->calibrated_day))
      by_chain = TRUE;
    else
      warn_of_age (bench, interval_of (chain, chain->stages[i]), chain->stages[i]->name, chain->stages[i]->calibrated_day);
  if (by_chain)
    warn_of_age (bench, chain->interval_days, chain->name, chain->calibrated_day);
}

void
sp_bench_warn_analyzer (const SpBench *bench, const SpAnalyzer *analyzer)
{
  sp_reasons_extend (bench->warnings, analyzer->warnings);
  warn_of_age (bench, analyzer->interval_days, analyzer->name, analyzer->checked_day);
}
