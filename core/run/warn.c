/* warn.c - what a run says about itself: what was assumed, and what looks wrong */
#include "core/run/run-private.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

#include "core/quantity/coverage.h"

#define LIGHT_M_S 299792458.0    /* speed of light (definition of the metre, from memory) */
#define NEAR_EIGHTH 0.8          /* "near": from a tenth of a wave on (common practice, no source) */
#define METER_FLOOR_NEAR_DB 10.0 /* core/docs/computation.md, section 4 */
#define ONE_STEP 1.5             /* digits: a line through many readings that step once by a digit halfway rises by 3/2 of it; calculated */
#define DOF_MANY 1000.0 /* Student's law is the normal one there to 2 parts in a thousand; its inverse fails far beyond; calculated */
#define MATCHED_REFLECTION 0.0244 /* VSWR 1.05: as good as matched (common practice, no source) */

static void
assume_vswr (GPtrArray *warnings, const SpCurve *vswr, const char *whose)
{
  if (!vswr)
    sp_reasons_add (warnings, sp_reason (VSWR_ASSUMED, .of = whose, .vswr = SP_RUN_VSWR_ASSUMED));
}

static void
assume_u (GPtrArray *warnings, gboolean assumed, const char *what, const char *whose, double u_db)
{
  if (assumed)
    sp_reasons_add (warnings, sp_reason (U_ASSUMED, .what = what, .of = whose, .assumed_db = u_db));
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
    sp_reasons_add (warnings, sp_reason (LINE_LENGTH, .stage = run->stage, .from_hz = lowest, .line_m = run->line_m,
                                         .eighth_m = velocity * LIGHT_M_S / lowest / 8));
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
    sp_reasons_add (warnings, sp_reason (CALIBRATION_OLD, .of = stage, .age_days = day - run->day, .interval_days = run->interval_days));
}

static double
lowest_reading (const SpRunAt *at)
{
  const GArray *const lists[] = { at->before, at->inserted, at->after };
  double lowest = INFINITY;
  for (guint k = 0; k < 3; k++)
    for (guint i = 0; i < lists[k]->len; i++)
      lowest = fmin (lowest, g_array_index (lists[k], SpMeterReading, i).value_db);
  return lowest;
}

gboolean
sp_run_line (guint n, const double *loss_db, const double *minutes, SpRunLine *line)
{
  double t = 0, y = 0, tt = 0, ty = 0;
  for (guint i = 0; i < n; i++)
    t += minutes[i] / n, y += loss_db[i] / n;
  for (guint i = 0; i < n; i++)
    tt += (minutes[i] - t) * (minutes[i] - t), ty += (minutes[i] - t) * (loss_db[i] - y);
  if (n < 3 || !(tt > 0))
    return FALSE;
  *line = (SpRunLine){ .slope = ty / tt, .change_db = ty / tt * (minutes[n - 1] - minutes[0]), .spread = sqrt (tt), .dof = n - 2 };
  for (guint i = 0; i < n; i++)
    line->rest += pow (loss_db[i] - y - line->slope * (minutes[i] - t), 2);
  return TRUE;
}

/* Student's factor that one of `tests` independent slopes passes by chance as rarely as one alone passes SP_COVERAGE (Sidak). */
static double
student_of (guint tests, double dof)
{
  return gsl_cdf_tdist_Pinv ((1 + pow (SP_COVERAGE, 1.0 / tests)) / 2, fmin (dof, DOF_MANY));
}

/* Repeats that run away: a line whose slope stands out of the scatter. The scatter is that of all the run's repeats about their lines, for the
 * same meter and the same hands took them, and three readings alone tell little; it is never less than the display's own rounding (a
 * rectangle). And the change makes more than one step of the display could: a line through that rises by up to one and a half digits. */
void
sp_run_warn_wander (const SpRun *run, const GArray *lines, GPtrArray *warnings)
{
  double half_digit = isnan (run->meter_resolution_db) ? SP_RUN_RESOLUTION_ASSUMED_DB : run->meter_resolution_db, rest = 0, dof = 0;
  for (guint i = 0; i < lines->len; i++) {
    rest += g_array_index (lines, SpRunLine, i).rest;
    dof += g_array_index (lines, SpRunLine, i).dof;
  }
  if (lines->len == 0)
    return;
  double scatter = fmax (sqrt (rest / dof), half_digit / sqrt (3)), k = student_of (lines->len, dof);
  for (guint i = 0; i < lines->len; i++) {
    const SpRunLine *line = &g_array_index (lines, SpRunLine, i);
    if (fabs (line->slope) * line->spread > k * scatter && fabs (line->change_db) > ONE_STEP * 2 * half_digit * (1 + 1e-9))
      sp_reasons_add (warnings, sp_reason (REPEATS_WANDER, .stage = run->stage, .at_hz = line->frequency_hz, .change_db = line->change_db,
                                           .scatter_db = scatter));
  }
}

void
sp_run_warn_at (const SpRun *run, const SpRunAt *at, GPtrArray *warnings)
{
  double lowest = lowest_reading (at);
  if (lowest < run->meter_floor_dbm + METER_FLOOR_NEAR_DB)
    sp_reasons_add (warnings, sp_reason (METER_FLOOR, .stage = run->stage, .at_hz = at->frequency_hz, .reading_dbm = lowest,
                                         .floor_dbm = run->meter_floor_dbm));
}
