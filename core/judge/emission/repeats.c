/* repeats.c - mean, scatter and agreement of the repeats of a sweep */
#include "core/judge/emission/emission.h"
#include "core/judge/sweep/sweep.h"

#include <math.h>

/* Mean and experimental standard deviation of the mean (JCGM 100, 4.2.1 and 4.2.3). The verdict uses the highest reading. */
SpRepeats
sp_judging_repeats (const SpJudging *c, const SpEmission *e)
{
  SpRepeats found = { .n = e->detected, .scatter_db = 0, .mean_dbm = NAN, .u_db = NAN };
  double sum = 0, squares = 0;
  guint n = 0;
  for (guint k = 0; e->detected && k < c->n; k++) {
    const SpJudgedSweep *s = &c->sweeps[k];
    if (!sp_judging_equal_settings (s, &c->sweeps[e->corrected]) || !sp_judging_could_see (c, s, e))
      continue;
    SpDetection detection = sp_judging_detect_emission (c, s, e);
    if (!detection.detected)
      continue;
    double from_first = detection.level_dbm - e->level_dbm;
    sum += from_first;
    squares += from_first * from_first;
    n++;
  }
  if (n < 2)
    return found;
  found.n = n;
  found.scatter_db = hypot (e->noise_u_db, sp_width_u_db (&c->analyzer->repeatability));
  found.mean_dbm = e->level_dbm + sum / n;
  found.u_db = sqrt (fmax (0, squares - sum * sum / n) / (n - 1) / n);
  return found;
}

/* Less carrier at the mixer lowers the analyzer's products: only the radio's emissions must agree in both sweeps. */
static gboolean
comparable (const SpJudgedSweep *a, const SpJudgedSweep *b, const SpEmission *e)
{
  return e->origin == SP_ORIGIN_RADIO || (a->chain == b->chain && fabs (a->attenuation_db - b->attenuation_db) < SP_SAME_SETTING_DB);
}

/* Names distinguish two columns of one file. */
static char *
sweep_name (const SpJudgedSweep *s, const SpJudgedSweep *other)
{
  return g_str_equal (s->trace->file, other->trace->file) && s->trace->column ? g_strdup_printf ("%s: %s", s->trace->file, s->trace->column)
                                                                              : g_strdup (s->trace->file);
}

void
sp_judging_agreement (const SpJudging *c, const SpEmission *e, GPtrArray *warnings)
{
  const SpJudgedSweep *first = &c->sweeps[e->corrected];
  for (guint k = 0; e->detected && k < c->n; k++) {
    const SpJudgedSweep *s = &c->sweeps[k];
    if (s == first || !sp_judging_could_see (c, s, e) || !comparable (first, s, e))
      continue;
    SpDetection detection = sp_judging_detect_emission (c, s, e);
    double noise = detection.detected ? hypot (e->noise_u_db, detection.noise_u_db) : e->noise_u_db;
    double expanded = SP_COMPARE_K * hypot (noise, sp_judging_differential_u_db (c, first, s, e->frequency_hz)) + e->sampling_loss_db
                      + detection.loss_db;
    if (!(e->level_dbm - detection.level_dbm > expanded))
      continue;
    g_autofree char *stands = sweep_name (first, s), *other = sweep_name (s, first);
    sp_reasons_add (warnings, sp_reason (SWEEPS_DISAGREE, .file = stands, .other_file = other, .at_hz = e->frequency_hz,
                                         .level_dbm = e->level_dbm, .other_dbm = detection.level_dbm, .expanded_db = expanded));
  }
}
