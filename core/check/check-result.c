/* check-result.c - the correction at each place of a check, and the budget behind it */
#include "core/check/check-private.h"

#include <math.h>
#include <string.h>

#include "core/quantity/text.h"

#define DIGITS_MOST 6 /* places behind the point that a display has; bounds what can be meant */

static void
want (GPtrArray *missing, const char *what, double frequency_hz)
{
  sp_reasons_add (missing, sp_reason (RUN_WANTS, .what = what, .at_hz = frequency_hz));
}

static const double *
readings_of (const SpCheckAt *at)
{
  return (const double *) (const void *) at->shows->data;
}

/* ---- what all places share ---- */

/* Half of the last digit that any of the readings has. */
static double
resolution_of (const SpCheck *check)
{
  guint places = 0;
  char digits[32];
  if (!isnan (check->resolution_db))
    return check->resolution_db;
  for (guint i = 0; i < check->at->len; i++) {
    const SpCheckAt *at = check->at->pdata[i];
    for (guint k = 0; k < at->shows->len; k++) {
      const char *point = strchr (sp_format_exact (readings_of (at)[k], digits), '.');
      places = MAX (places, point && !strchr (point, 'e') ? (guint) strlen (point + 1) : 0);
    }
  }
  return 0.5 * pow (10, -(double) MIN (places, DIGITS_MOST));
}

/* The scatter of all readings that were repeated, pooled (JCGM 100, 4.2.4); dof 0: none was. */
typedef struct {
  double scatter_db, dof;
  double resolution_db;
} Shared;

static Shared
shared_by (const SpCheck *check)
{
  Shared shared = { .resolution_db = resolution_of (check) };
  double squares = 0, scatter;
  for (guint i = 0; i < check->at->len; i++) {
    const SpCheckAt *at = check->at->pdata[i];
    if (at->shows->len < 2)
      continue;
    sp_run_mean (at->shows->len, readings_of (at), &scatter);
    squares += scatter * scatter * (at->shows->len - 1);
    shared.dof += at->shows->len - 1;
  }
  shared.scatter_db = shared.dof > 0 ? sqrt (squares / shared.dof) : SP_RUN_SCATTER_ASSUMED_DB;
  return shared;
}

/* ---- one place ---- */

static void
add_repeatability (GArray *terms, guint n, double scatter_db, const Shared *shared)
{
  gboolean own = n > 1, any = own || shared->dof > 0;
  sp_run_add_term (terms, "repeatability", (own ? scatter_db : shared->scatter_db) / sqrt (n),
                   own   ? n - 1
                   : any ? shared->dof
                         : INFINITY,
                   any ? SP_DISTRIBUTION_STUDENT : SP_DISTRIBUTION_NORMAL);
}

static double
level_u_db (const SpCheck *check)
{
  return isnan (check->level_u_db) ? SP_CHECK_LEVEL_U_ASSUMED_DB : check->level_u_db;
}

static SpCheckPoint
point_at (const SpCheck *check, const SpAnalyzer *analyzer, const SpCheckAt *at, const Shared *shared)
{
  double f = at->frequency_hz, scatter, shown = sp_run_mean (at->shows->len, readings_of (at), &scatter);
  SpCurveAt lead = { 0, 0, TRUE };
  if (check->lead_loss)
    lead = sp_curve_at (check->lead_loss, f, SP_CHECK_LEAD_U_ASSUMED_DB);
  double source = sp_run_reflection (check->source_vswr, f, SP_RUN_VSWR_ASSUMED);
  GArray *terms = g_array_new (FALSE, FALSE, sizeof (SpRunTerm));
  add_repeatability (terms, at->shows->len, scatter, shared);
  sp_run_add_term (terms, "level", level_u_db (check), INFINITY, SP_DISTRIBUTION_NORMAL);
  if (check->lead_loss)
    sp_run_add_term (terms, "lead", lead.u, INFINITY, SP_DISTRIBUTION_NORMAL);
  sp_run_add_mismatch (terms, "mismatch", source * sp_run_reflection (analyzer->vswr, f, SP_INPUT_VSWR_ASSUMED));
  if (check->meter_vswr)
    sp_run_add_mismatch (terms, "mismatch-meter", source * sp_run_reflection (check->meter_vswr, f, 1));
  sp_run_add_term (terms, "resolution", shared->resolution_db / sqrt (3), INFINITY, SP_DISTRIBUTION_RECTANGULAR);
  return (SpCheckPoint){ .frequency_hz = f,
                         .attenuation_db = at->attenuation_db,
                         .correction_db = at->level_dbm - lead.value - shown,
                         .scatter_db = scatter,
                         .sum = sp_run_sum (terms) };
}

/* The maker's own correction is what a reading is stated with; one of an earlier check is not his. */
static void
hold_against_stated (SpCheckPoint *point, const SpAnalyzer *analyzer)
{
  const SpCurve *makers = sp_analyzer_checked (analyzer) ? NULL : analyzer->amplitude_correction_db;
  point->middle_db = makers ? sp_curve_at (makers, point->frequency_hz, 0).value : 0;
  point->stated_db = sp_check_limit_db (&analyzer->accuracy) + sp_check_limit_db (&analyzer->flatness);
  point->beyond = fabs (point->correction_db - point->middle_db) > point->stated_db;
}

/* ---- the whole ---- */

/* What keeps this place from a result; NULL. */
static const char *
lacks (const SpCheckAt *at)
{
  if (!(at->frequency_hz > 0 && isfinite (at->frequency_hz)))
    return "frequency";
  if (!(fabs (at->level_dbm) <= SP_CHECK_LEVEL_DBM))
    return "level";
  return at->shows->len > 0 ? NULL : "shows";
}

static int
by_place (gconstpointer a, gconstpointer b)
{
  const SpCheckAt *x = *(SpCheckAt *const *) a, *y = *(SpCheckAt *const *) b;
  if (x->frequency_hz != y->frequency_hz)
    return x->frequency_hz > y->frequency_hz ? 1 : -1;
  double p = isnan (x->attenuation_db) ? -1 : x->attenuation_db, q = isnan (y->attenuation_db) ? -1 : y->attenuation_db;
  return (p > q) - (p < q);
}

/* The places that can be worked out, ascending; the rest is said. (transfer container) */
static GPtrArray *
complete (const SpCheck *check, GPtrArray *missing)
{
  GPtrArray *all = g_ptr_array_new ();
  for (guint i = 0; i < check->at->len; i++) {
    const char *what = lacks (check->at->pdata[i]);
    if (what)
      want (missing, what, ((SpCheckAt *) check->at->pdata[i])->frequency_hz);
    else
      g_ptr_array_add (all, check->at->pdata[i]);
  }
  g_ptr_array_sort (all, by_place);
  for (guint i = 1; i < all->len;) {
    const SpCheckAt *at = all->pdata[i], *before = all->pdata[i - 1];
    if (at->frequency_hz == before->frequency_hz && sp_check_same_setting (at->attenuation_db, before->attenuation_db)) {
      want (missing, "frequency-once", at->frequency_hz);
      g_ptr_array_remove_index (all, i);
    } else
      i++;
  }
  return all;
}

static void
warn_assumed (const SpCheck *check, const SpAnalyzer *analyzer, const Shared *shared, GPtrArray *warnings)
{
  const char *of = analyzer->name;
  gboolean lead = FALSE;
  for (guint i = 0; check->lead_loss && i < check->lead_loss->n; i++)
    lead = lead || isnan (check->lead_loss->u[i]);
  if (isnan (check->level_u_db))
    sp_reasons_add (warnings, sp_reason (U_ASSUMED, .what = "level", .of = "meter", .assumed_db = SP_CHECK_LEVEL_U_ASSUMED_DB));
  if (lead)
    sp_reasons_add (warnings, sp_reason (U_ASSUMED, .what = "loss", .of = "lead", .assumed_db = SP_CHECK_LEAD_U_ASSUMED_DB));
  if (!(shared->dof > 0))
    sp_reasons_add (warnings, sp_reason (U_ASSUMED, .what = "repeatability", .of = of, .assumed_db = SP_RUN_SCATTER_ASSUMED_DB));
  if (!check->source_vswr)
    sp_reasons_add (warnings, sp_reason (VSWR_ASSUMED, .of = "source", .vswr = SP_RUN_VSWR_ASSUMED));
  if (!analyzer->vswr)
    sp_reasons_add (warnings, sp_reason (VSWR_ASSUMED, .of = of, .vswr = SP_INPUT_VSWR_ASSUMED));
}

static void
warn (const SpCheck *check, const SpAnalyzer *analyzer, const SpCheckResult *result, double day)
{
  for (guint i = 0; i < result->n; i++) {
    const SpCheckPoint *point = &result->points[i];
    double f = point->frequency_hz;
    if (point->beyond)
      sp_reasons_add (result->warnings, sp_reason (CHECK_BEYOND, .of = analyzer->name, .at_hz = f, .attenuation_db = point->attenuation_db,
                                                   .correction_db = point->correction_db, .stated_db = point->stated_db));
    if (check->lead_loss && !sp_curve_at (check->lead_loss, f, 0).inside)
      sp_reasons_add (result->warnings, sp_reason (OUTSIDE_CALIBRATION, .stage = "lead", .at_hz = f));
  }
  if (day - check->day > check->interval_days)
    sp_reasons_add (result->warnings,
                    sp_reason (CALIBRATION_OLD, .of = analyzer->name, .age_days = day - check->day, .interval_days = check->interval_days));
}

SpCheckResult *
sp_check_result (const SpCheck *check, const SpAnalyzer *analyzer, double day)
{
  SpCheckResult *result = g_new0 (SpCheckResult, 1);
  result->missing = sp_reasons_new ();
  result->warnings = sp_reasons_new ();
  g_autoptr (GPtrArray) at = complete (check, result->missing);
  if (!check->analyzer || !*check->analyzer)
    want (result->missing, "analyzer", NAN);
  if (check->at->len == 0)
    want (result->missing, "frequency", NAN);
  Shared shared = shared_by (check);
  result->points = g_new0 (SpCheckPoint, MAX (at->len, 1));
  for (result->n = 0; result->n < at->len; result->n++) {
    SpCheckPoint *point = &result->points[result->n];
    *point = point_at (check, analyzer, at->pdata[result->n], &shared);
    hold_against_stated (point, analyzer);
  }
  sp_reasons_extend (result->warnings, check->warnings);
  sp_check_find_left (result, analyzer);
  warn (check, analyzer, result, day);
  warn_assumed (check, analyzer, &shared, result->warnings);
  return result;
}

void
sp_check_sample (const SpCheckResult *result, guint n, SpCheckSample *out)
{
  const SpCurve *curve = result->correction;
  g_return_if_fail (curve && n >= 2);
  gboolean one = curve->n == 1;
  double low = curve->low_hz / (one ? sqrt (10) : 1), high = curve->high_hz * (one ? sqrt (10) : 1);
  for (guint i = 0; i < n; i++) {
    double f = low * pow (high / low, (double) i / (n - 1));
    SpCurveAt at = sp_curve_at (curve, CLAMP (f, curve->low_hz, curve->high_hz), 0);
    double expanded = 2 * hypot (at.u, result->between_u_db * sp_curve_between (curve, f));
    out[i] = (SpCheckSample){ f, at.value, at.value - expanded, at.value + expanded };
  }
}

void
sp_check_result_free (SpCheckResult *result)
{
  for (guint i = 0; i < result->n; i++)
    sp_run_sum_clear (&result->points[i].sum);
  g_free (result->points);
  g_clear_pointer (&result->correction, sp_curve_unref);
  g_ptr_array_unref (result->missing);
  g_ptr_array_unref (result->warnings);
  g_free (result);
}
