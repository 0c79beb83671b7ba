/* result.c - a run's loss at each frequency, and the budget behind it */
#include "core/run/run-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/quantity/coverage.h"
#include "core/quantity/error.h"
#include "core/quantity/units.h"

#define TEMPERATURE_U_UNKNOWN_C 3.0 /* K, of a temperature that nobody stated (common practice, no source) */

static double
square (double x)
{
  return x * x;
}

static double
or_else (double value, double assumed)
{
  return isnan (value) ? assumed : value;
}

static const SpMeterReading *
reading (const GArray *list, guint i)
{
  return &g_array_index (list, SpMeterReading, i);
}

/* -- readings and times -- */

gboolean
sp_run_times_good (const SpRunAt *at, SpRunTimes *bad)
{
  const GArray *const lists[] = { at->before, at->inserted, at->after };
  gboolean known = FALSE, timed = FALSE;
  double last = -INFINITY;
  for (guint k = 0; k < 3; k++)
    for (guint i = 0; i < lists[k]->len; i++) {
      double minutes = reading (lists[k], i)->minutes;
      if (!known)
        timed = !isnan (minutes);
      known = TRUE;
      if (isnan (minutes) == timed || minutes < last) {
        *bad = (SpRunTimes){ lists[k], i, isnan (minutes) == timed };
        return FALSE;
      }
      last = timed ? minutes : last;
    }
  return TRUE;
}

/* Means of one list: of its values and of its times; times not given are steps from `first`. */
typedef struct {
  double value_db, minutes;
} Mean;

static double
minutes_of (const GArray *list, guint i, guint first)
{
  double minutes = reading (list, i)->minutes;
  return isnan (minutes) ? first + i : minutes;
}

static Mean
mean_of (const GArray *list, guint first)
{
  Mean mean = { 0, 0 };
  for (guint i = 0; i < list->len; i++) {
    mean.value_db += reading (list, i)->value_db / list->len;
    mean.minutes += minutes_of (list, i, first) / list->len;
  }
  return mean;
}

/* The reference as a line in time, and what its own readings scatter about it. */
typedef struct {
  Mean before, after;
  guint n_before, n_after;
  double slope;        /* dB a minute */
  double squares, dof; /* of the residuals */
} Reference;

static double
reference_at (const Reference *r, double minutes)
{
  return r->before.value_db + r->slope * (minutes - r->before.minutes);
}

static void
add_residuals (Reference *r, const GArray *list, guint first, Mean mean)
{
  for (guint i = 0; i < list->len; i++)
    r->squares += square (reading (list, i)->value_db - mean.value_db - r->slope * (minutes_of (list, i, first) - mean.minutes));
  r->dof += list->len > 0 ? list->len - 1 : 0;
}

static Reference
reference_of (const SpRunAt *at)
{
  guint behind = at->before->len + at->inserted->len;
  Reference r = { .before = mean_of (at->before, 0), .n_before = at->before->len, .n_after = at->after->len };
  r.after = r.n_after ? mean_of (at->after, behind) : r.before;
  if (r.after.minutes > r.before.minutes)
    r.slope = (r.after.value_db - r.before.value_db) / (r.after.minutes - r.before.minutes);
  add_residuals (&r, at->before, 0, r.before);
  add_residuals (&r, at->after, behind, r.after);
  return r;
}

/* Variance of the line at a time, in units of one reading's. */
static double
leverage (const Reference *r, double minutes)
{
  if (!r->n_after)
    return 1.0 / r->n_before;
  double span = r->after.minutes - r->before.minutes, late = span > 0 ? (minutes - r->before.minutes) / span : 0.5;
  return square (1 - late) / r->n_before + square (late) / r->n_after;
}

/* -- budget -- */

/* Type A. Where only one side was repeated, its scatter is the other's too, and the two are one term: it is one estimate. */
static void
type_a (GArray *terms, guint n, double scatter_db, const Reference *r, double minutes)
{
  double mean_share = 1.0 / n, line = leverage (r, minutes);
  if (n > 1 && r->dof > 0) {
    sp_run_add_term (terms, "repeatability", scatter_db * sqrt (mean_share), n - 1, SP_DISTRIBUTION_STUDENT);
    sp_run_add_term (terms, "reference", sqrt (r->squares / r->dof * line), r->dof, SP_DISTRIBUTION_STUDENT);
  } else if (n > 1) {
    sp_run_add_term (terms, "repeatability", scatter_db * sqrt (mean_share + line), n - 1, SP_DISTRIBUTION_STUDENT);
  } else if (r->dof > 0) {
    sp_run_add_term (terms, "repeatability", sqrt (r->squares / r->dof * (mean_share + line)), r->dof, SP_DISTRIBUTION_STUDENT);
  } else {
    sp_run_add_term (terms, "repeatability", SP_RUN_SCATTER_ASSUMED_DB * sqrt (mean_share + line), INFINITY, SP_DISTRIBUTION_NORMAL);
  }
}

static void
mismatch (GArray *terms, const SpRun *run, double f, double loss_db)
{
  double source = sp_run_reflection (run->source_vswr, f, SP_RUN_VSWR_ASSUMED);
  double meter = sp_run_reflection (run->meter_vswr, f, SP_RUN_VSWR_ASSUMED);
  double in = sp_run_reflection (run->stage_vswr, f, SP_RUN_VSWR_ASSUMED);
  double out = run->stage_output_vswr ? sp_run_reflection (run->stage_output_vswr, f, 1) : in;
  double first = sp_run_reflection (run->reference_vswr, f, 1);
  double last = run->reference_output_vswr ? sp_run_reflection (run->reference_output_vswr, f, 1) : first;
  double reference = sqrt (square (source * first) + square (meter * last) + square (source * meter));
  sp_run_add_mismatch (terms, "mismatch-reference", reference);
  sp_run_add_mismatch (terms, "mismatch-source", source * in);
  sp_run_add_mismatch (terms, "mismatch-meter", meter * out);
  sp_run_add_mismatch (terms, "mismatch-through", source * meter * pow (10, -loss_db / 10));
}

static void
type_b (GArray *terms, const SpRun *run, const SpRunPoint *point)
{
  double drift = isnan (point->drift_db) ? SP_RUN_DRIFT_ASSUMED_DB : point->drift_db / 2;
  double resolution = or_else (run->meter_resolution_db, SP_RUN_RESOLUTION_ASSUMED_DB);
  double alpha = or_else (run->temperature_coefficient, SP_RUN_ALPHA_ASSUMED);
  double u_t = or_else (run->temperature_u_c, isnan (run->temperature_c) ? TEMPERATURE_U_UNKNOWN_C : SP_RUN_TEMPERATURE_U_C);
  sp_run_add_term (terms, "drift", drift / sqrt (3), INFINITY, SP_DISTRIBUTION_RECTANGULAR);
  sp_run_add_term (terms, "linearity", point->common_u_db, INFINITY, SP_DISTRIBUTION_RECTANGULAR);
  sp_run_add_term (terms, "resolution", resolution * sqrt (2.0 / 3), INFINITY, SP_DISTRIBUTION_RECTANGULAR);
  mismatch (terms, run, point->frequency_hz, point->loss_db);
  sp_run_add_term (terms, "temperature", point->loss_db * alpha * u_t, INFINITY, SP_DISTRIBUTION_NORMAL);
  for (guint i = 0; i < run->extra->len; i++) {
    const SpRunExtra *extra = &g_array_index (run->extra, SpRunExtra, i);
    sp_run_add_term (terms, extra->name, extra->u_db, extra->dof, isfinite (extra->dof) ? SP_DISTRIBUTION_STUDENT : SP_DISTRIBUTION_NORMAL);
  }
}

double
sp_run_common_u_db (const SpRun *run)
{
  return or_else (run->meter_linearity_db, SP_RUN_LINEARITY_ASSUMED_DB) / sqrt (3);
}

/* -- one frequency -- */

static void
want (GPtrArray *missing, const char *what, double frequency_hz)
{
  sp_reasons_add (missing, sp_reason (RUN_WANTS, .what = what, .at_hz = frequency_hz));
}

static gboolean
readings_good (const GArray *list)
{
  for (guint i = 0; i < list->len; i++)
    if (!(fabs (reading (list, i)->value_db) <= SP_RUN_READING_DB))
      return FALSE;
  return TRUE;
}

/* What keeps this frequency from a result; NULL. */
static const char *
lacks (const SpRunAt *at)
{
  SpRunTimes bad;
  if (!(at->frequency_hz > 0 && isfinite (at->frequency_hz)))
    return "frequency";
  if (at->before->len == 0 || !readings_good (at->before))
    return "before";
  if (at->inserted->len == 0 || !readings_good (at->inserted))
    return "inserted";
  if (!readings_good (at->after))
    return "after";
  return sp_run_times_good (at, &bad) ? NULL : "times";
}

static gboolean
work_at (const SpRun *run, const SpRunAt *at, SpRunPoint *point, GArray *lines, GPtrArray *warnings)
{
  guint n = at->inserted->len;
  Reference r = reference_of (at);
  Mean inserted = mean_of (at->inserted, at->before->len);
  g_autofree double *loss_db = g_new (double, n), *minutes = g_new (double, n);
  for (guint i = 0; i < n; i++) {
    minutes[i] = minutes_of (at->inserted, i, at->before->len);
    loss_db[i] = reference_at (&r, minutes[i]) - reading (at->inserted, i)->value_db;
  }
  double scatter, mean = sp_run_mean (n, loss_db, &scatter);
  *point = (SpRunPoint){ .frequency_hz = at->frequency_hz,
                         .loss_db = mean + run->correction_db,
                         .scatter_db = scatter,
                         .drift_db = r.n_after ? r.after.value_db - r.before.value_db : NAN,
                         .common_u_db = sp_run_common_u_db (run) };
  if (!(point->loss_db >= SP_RUN_LOSS_LOW_DB && point->loss_db <= SP_RUN_LOSS_HIGH_DB))
    return FALSE;
  GArray *terms = g_array_new (FALSE, FALSE, sizeof (SpRunTerm));
  type_a (terms, n, point->scatter_db, &r, inserted.minutes);
  type_b (terms, run, point);
  point->sum = sp_run_sum (terms);
  SpRunLine line;
  if (sp_run_line (n, loss_db, minutes, &line)) {
    line.frequency_hz = at->frequency_hz;
    g_array_append_val (lines, line);
  }
  sp_run_warn_at (run, at, warnings);
  return TRUE;
}

/* -- the whole -- */

static int
by_frequency (gconstpointer a, gconstpointer b)
{
  double x = (*(SpRunAt *const *) a)->frequency_hz, y = (*(SpRunAt *const *) b)->frequency_hz;
  return (x > y) - (x < y);
}

/* The frequencies that can be worked out, ascending; the rest is said. (transfer container) */
static GPtrArray *
complete (const SpRun *run, GPtrArray *missing)
{
  GPtrArray *all = g_ptr_array_new (), *once = g_ptr_array_new ();
  for (guint i = 0; i < run->at->len; i++) {
    SpRunAt *at = run->at->pdata[i];
    const char *what = lacks (at);
    if (what)
      want (missing, what, at->frequency_hz);
    else
      g_ptr_array_add (all, at);
  }
  g_ptr_array_sort (all, by_frequency);
  for (guint i = 0; i < all->len; i++) {
    SpRunAt *at = all->pdata[i];
    if (i > 0 && ((SpRunAt *) all->pdata[i - 1])->frequency_hz == at->frequency_hz)
      want (missing, "frequency-once", at->frequency_hz);
    else
      g_ptr_array_add (once, at);
  }
  g_ptr_array_unref (all);
  return once;
}

static gboolean
width_good (double width)
{
  return isnan (width) || (width >= 0 && width <= SP_RUN_U_DB);
}

/* What a file's reader would refuse: nothing is computed with it. */
static const char *
header_lacks (const SpRun *run)
{
  if (!width_good (run->meter_linearity_db))
    return "meter_linearity_db";
  if (!width_good (run->meter_resolution_db))
    return "meter_resolution_db";
  if (!width_good (run->temperature_u_c))
    return "temperature_u_c";
  if (!(fabs (run->correction_db) <= SP_RUN_U_DB))
    return "correction_db";
  for (guint i = 0; i < run->extra->len; i++) {
    const SpRunExtra *extra = &g_array_index (run->extra, SpRunExtra, i);
    if (!extra->name || !(extra->u_db >= 0 && extra->u_db <= SP_RUN_U_DB) || !(extra->dof >= 1))
      return "extra";
  }
  return NULL;
}

SpRunResult *
sp_run_result (const SpRun *run, double day)
{
  SpRunResult *result = g_new0 (SpRunResult, 1);
  result->missing = sp_reasons_new ();
  result->warnings = sp_reasons_new ();
  const char *bad = header_lacks (run);
  g_autoptr (GPtrArray) at = complete (run, result->missing);
  if (!run->stage || !*run->stage)
    want (result->missing, "stage", NAN);
  if (run->at->len == 0)
    want (result->missing, "frequency", NAN);
  if (bad)
    want (result->missing, bad, NAN);
  result->points = g_new0 (SpRunPoint, MAX (at->len, 1));
  g_autoptr (GArray) lines = g_array_new (FALSE, FALSE, sizeof (SpRunLine));
  for (guint i = 0; !bad && i < at->len; i++)
    if (work_at (run, at->pdata[i], &result->points[result->n], lines, result->warnings))
      result->n++;
    else
      want (result->missing, "loss", ((SpRunAt *) at->pdata[i])->frequency_hz);
  sp_run_warn_wander (run, lines, result->warnings);
  sp_run_warn (run, day, result->warnings);
  return result;
}

void
sp_run_result_free (SpRunResult *result)
{
  for (guint i = 0; i < result->n; i++)
    sp_run_sum_clear (&result->points[i].sum);
  g_free (result->points);
  g_ptr_array_unref (result->missing);
  g_ptr_array_unref (result->warnings);
  g_free (result);
}

SpCurve *
sp_run_curve (const SpRunResult *result, SpCurveKind kind, GError **error)
{
  g_autofree double *f = g_new (double, result->n + 1), *loss = g_new (double, result->n + 1), *u = g_new (double, result->n + 1);
  for (guint i = 0; i < result->n; i++) {
    f[i] = result->points[i].frequency_hz;
    loss[i] = result->points[i].loss_db;
    u[i] = result->points[i].sum.u_db;
  }
  if (result->n == 0) {
    sp_fail (error, SP_ERROR_USAGE, _ ("no frequency of this run is complete; expected before and inserted readings at one at least"));
    return NULL;
  }
  return sp_curve_new (kind, result->n, f, loss, u, NULL, error);
}
