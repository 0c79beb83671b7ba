/* warn.c - what a run says about itself: what was assumed, and what looks wrong */
#include "core/run/run-private.h"

#include <math.h>

#include "core/quantity/coverage.h"

#define LIGHT_M_S 299792458.0
#define NEAR_EIGHTH 0.8            /* "near": from a tenth of a wave on (common practice, no source) */
#define METER_FLOOR_NEAR_DB 10.0
#define MATCHED_REFLECTION 0.0244  /* VSWR 1.05: as good as matched (common practice, no source) */

static void
assume_vswr (GPtrArray *warnings, const SpCurve *vswr, const char *whose)
{
  if (!vswr)
    sp_reasons_add (warnings, sp_reason_new (SP_REASON_VSWR_ASSUMED, whose, NULL, NULL, 1, SP_RUN_VSWR_ASSUMED));
}

static void
assume_u (GPtrArray *warnings, gboolean assumed, const char *what, const char *whose, double u_db)
{
  if (assumed)
    sp_reasons_add (warnings, sp_reason_new (SP_REASON_U_ASSUMED, what, whose, NULL, 1, u_db));
}

/* Longest line of all the frequencies, in waves. */
static void
warn_line (const SpRun *run, GPtrArray *warnings)
{
  double velocity = isnan (run->line_velocity) ? SP_RUN_VELOCITY_ASSUMED : run->line_velocity, lowest = INFINITY;
  for (guint i = 0; i < run->at->len; i++) {
    double f = ((SpRunAt *) run->at->pdata[i])->frequency_hz;
    if (f > 0 && run->line_m >= NEAR_EIGHTH * velocity * LIGHT_M_S / f / 8
        && sp_run_reflection (run->meter_vswr, f, SP_RUN_VSWR_ASSUMED) > MATCHED_REFLECTION)
      lowest = fmin (lowest, f);
  }
  if (isfinite (lowest))
    sp_reasons_add (warnings, sp_reason_new (SP_REASON_LINE_LENGTH, run->stage, NULL, NULL, 3, lowest, run->line_m,
                                             velocity * LIGHT_M_S / lowest / 8));
}

static gboolean
any (const SpRun *run, gboolean (*is) (const SpRunAt *at))
{
  for (guint i = 0; i < run->at->len; i++) {
    const SpRunAt *at = run->at->pdata[i];
    if (at->before->len > 0 && at->inserted->len > 0 && is (at))
      return TRUE;
  }
  return FALSE;
}

static gboolean
not_read_after (const SpRunAt *at)
{
  return at->after->len == 0;
}

static gboolean
not_repeated (const SpRunAt *at)
{
  return at->inserted->len == 1 && at->before->len == 1 && at->after->len <= 1;
}

void
sp_run_warn (const SpRun *run, double day, GPtrArray *warnings)
{
  const char *stage = run->stage ? run->stage : "";
  sp_reasons_extend (warnings, run->warnings);
  assume_vswr (warnings, run->source_vswr, "source");
  assume_vswr (warnings, run->meter_vswr, "meter");
  assume_vswr (warnings, run->stage_vswr, stage);
  assume_u (warnings, isnan (run->meter_linearity_db), "linearity", "meter", SP_RUN_LINEARITY_ASSUMED_DB);
  assume_u (warnings, isnan (run->meter_resolution_db), "resolution", "meter", SP_RUN_RESOLUTION_ASSUMED_DB);
  assume_u (warnings, any (run, not_read_after), "drift", stage, SP_RUN_DRIFT_ASSUMED_DB);
  assume_u (warnings, any (run, not_repeated), "repeatability", stage, SP_RUN_SCATTER_ASSUMED_DB);
  warn_line (run, warnings);
  if (day - run->day > run->interval_days)
    sp_reasons_add (warnings, sp_reason_new (SP_REASON_CALIBRATION_OLD, stage, NULL, NULL, 2, day - run->day, run->interval_days));
}

static double
lowest_reading (const SpRunAt *at)
{
  const GArray *const lists[] = { at->before, at->inserted, at->after };
  double lowest = INFINITY;
  for (guint k = 0; k < 3; k++)
    for (guint i = 0; i < lists[k]->len; i++)
      lowest = fmin (lowest, g_array_index (lists[k], SpReading, i).value_db);
  return lowest;
}

/* Repeats that run away: a straight line through them whose slope stands out of their scatter about it (Student's t of a slope, n - 2), and
 * which makes more than a digit of the meter. */
static void
warn_wander (const SpRun *run, const SpRunAt *at, const double *loss_db, const double *minutes, GPtrArray *warnings)
{
  guint n = at->inserted->len;
  double t = 0, y = 0, tt = 0, ty = 0, rest = 0;
  for (guint i = 0; i < n; i++)
    t += minutes[i] / n, y += loss_db[i] / n;
  for (guint i = 0; i < n; i++)
    tt += (minutes[i] - t) * (minutes[i] - t), ty += (minutes[i] - t) * (loss_db[i] - y);
  if (n < 3 || !(tt > 0))
    return;
  double slope = ty / tt, change = slope * (minutes[n - 1] - minutes[0]);
  double digit = 2 * (isnan (run->meter_resolution_db) ? SP_RUN_RESOLUTION_ASSUMED_DB : run->meter_resolution_db);
  for (guint i = 0; i < n; i++)
    rest += pow (loss_db[i] - y - slope * (minutes[i] - t), 2);
  double scatter = sqrt (rest / (n - 2));
  if (fabs (slope) * sqrt (tt) > sp_student_k (n - 2) * scatter && fabs (change) > digit * (1 + 1e-9))
    sp_reasons_add (warnings, sp_reason_new (SP_REASON_REPEATS_WANDER, run->stage, NULL, NULL, 3, at->frequency_hz, change, scatter));
}

void
sp_run_warn_at (const SpRun *run, const SpRunAt *at, const double *loss_db, const double *minutes, GPtrArray *warnings)
{
  double lowest = lowest_reading (at);
  warn_wander (run, at, loss_db, minutes, warnings);
  if (lowest < run->meter_floor_dbm + METER_FLOOR_NEAR_DB)
    sp_reasons_add (warnings, sp_reason_new (SP_REASON_METER_FLOOR, run->stage, NULL, NULL, 3, at->frequency_hz, lowest, run->meter_floor_dbm));
}
