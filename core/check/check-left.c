/* check-left.c - what a check replaces of the stated errors, and the lines that the profile gets from it */
#include "core/check/check-private.h"

#include <gsl/gsl_cdf.h>
#include <math.h>
#include <string.h>

#include "core/quantity/error.h"
#include "core/quantity/text.h"
#include "core/quantity/writer.h"

double
sp_check_limit_db (const SpWidth *width)
{
  return width->kind == SP_WIDTH_STANDARD ? 2 * width->width_db : width->width_db;
}

/* ---- the correction's setting ---- */

static guint
count_of (const SpCheckResult *result, double attenuation_db)
{
  guint n = 0;
  for (guint i = 0; i < result->n; i++)
    n += sp_check_same_setting (result->points[i].attenuation_db, attenuation_db);
  return n;
}

static double
main_setting (const SpCheckResult *result)
{
  double best = NAN;
  guint most = 0;
  for (guint i = 0; i < result->n; i++) {
    guint n = count_of (result, result->points[i].attenuation_db);
    if (n > most) {
      most = n;
      best = result->points[i].attenuation_db;
    }
  }
  return best;
}

/* Its point at that frequency; NULL. */
static const SpCheckPoint *
main_point (const SpCheckResult *result, double frequency_hz)
{
  for (guint i = 0; i < result->n; i++)
    if (result->points[i].frequency_hz == frequency_hz && sp_check_same_setting (result->points[i].attenuation_db, result->attenuation_db))
      return &result->points[i];
  return NULL;
}

/* Other settings were read, and tell another uncertainty of switching than is stated. */
static gboolean
tells_switching (const SpCheckResult *result, const SpAnalyzer *analyzer)
{
  return !isnan (result->switch_u_db) && result->switch_u_db != sp_width_u_db (&analyzer->attenuator_switch);
}

/* ---- what is left ---- */

/* Half of U: as a standard uncertainty of infinite degrees of freedom it expands to the same U. */
static double
half_expanded_db (const SpCheckPoint *point)
{
  return point->sum.expanded_db / 2;
}

/* Differences as great come once in twenty where the statement is right: only then do they speak against it. */
#define SPEAKS_AGAINST 0.95 /* common practice, no source */

static gboolean
speaks_against (double rms_db, guint n, double stated_u_db)
{
  return n * pow (rms_db / stated_u_db, 2) > gsl_cdf_chisq_Pinv (SPEAKS_AGAINST, n);
}

/* Of a statement that is reliable to a quarter (JCGM 100, G.4.2, its example). */
#define STATED_DOF 8

/* What n differences whose root mean square is `rms` say of the next one: widened by Student's factor for n (JCGM 100, G.3), for their mean is
 * known to be 0; no more than what is stated. Where they speak against that it still tells how wrong a thing so made may be: one difference alone,
 * which knows nothing but itself, would be taken seven times. */
static double
seen_or_stated (double rms_db, guint n, double stated_u_db)
{
  if (n == 0)
    return stated_u_db;
  if (speaks_against (rms_db, n, stated_u_db))
    return rms_db * sp_coverage_factor (n + STATED_DOF) / 2;
  return fmin (rms_db * sp_coverage_factor (n) / 2, stated_u_db);
}

/* How far each point lies from the line through its neighbours, against the logarithm of the frequency; their root mean square. */
static double
between_db (guint n, const double *frequency_hz, const double *value_db, guint *n_seen)
{
  double squares = 0;
  *n_seen = n > 2 ? n - 2 : 0;
  for (guint i = 1; i + 1 < n; i++) {
    double t = log (frequency_hz[i] / frequency_hz[i - 1]) / log (frequency_hz[i + 1] / frequency_hz[i - 1]);
    squares += pow (value_db[i] - value_db[i - 1] * (1 - t) - value_db[i + 1] * t, 2);
  }
  return *n_seen ? sqrt (squares / *n_seen) : 0;
}

/* The most that interpolation can be out by what is stated: the point and both its neighbours have each their own flatness. */
#define BETWEEN_THREE sqrt (1.5) /* halfway: 1 + 1/4 + 1/4; calculated */

/* *n_seen: of the misses that it is told by; 0: it is what is stated. */
static double
flatness_left (const SpCurve *curve, const SpAnalyzer *analyzer, guint *n_seen)
{
  double rms = between_db (curve->n, curve->frequency_hz, curve->value, n_seen),
         stated = BETWEEN_THREE * sp_width_u_db (&analyzer->flatness);
  double left = curve->n < 2 ? 0 : seen_or_stated (rms, *n_seen, stated);
  if (left == stated)
    *n_seen = 0;
  return left;
}

/* Of the correction's points, where the next two are farthest apart. */
static guint
widest_gap (const SpCurve *curve)
{
  guint widest = 0;
  for (guint i = 1; i + 1 < curve->n; i++)
    if (curve->frequency_hz[i + 1] / curve->frequency_hz[i] > curve->frequency_hz[widest + 1] / curve->frequency_hz[widest])
      widest = i;
  return widest;
}

/* Where it is more than what the readings themselves leave, more of them help. */
static void
say_between (const SpCheckResult *result, const SpAnalyzer *analyzer, double accuracy_u_db, guint n_seen)
{
  const SpCurve *curve = result->correction;
  if (result->between_u_db <= accuracy_u_db)
    return;
  guint widest = widest_gap (curve);
  sp_reasons_add (result->warnings, sp_reason (CHECK_BETWEEN, .of = analyzer->name, .u_db = result->between_u_db, .points = n_seen,
                                               .low_hz = curve->frequency_hz[widest], .high_hz = curve->frequency_hz[widest + 1]));
}

static void
find_correction (SpCheckResult *result, const SpAnalyzer *analyzer, double *accuracy)
{
  g_autofree double *f = g_new (double, result->n + 1), *value = g_new (double, result->n + 1), *u = g_new (double, result->n + 1);
  guint n = 0, n_seen;
  *accuracy = 0;
  for (guint i = 0; i < result->n; i++) {
    SpCheckPoint *point = &result->points[i];
    point->on_curve = sp_check_same_setting (point->attenuation_db, result->attenuation_db);
    if (!point->on_curve)
      continue;
    f[n] = point->frequency_hz;
    value[n] = point->correction_db;
    u[n] = half_expanded_db (point);
    *accuracy = fmax (*accuracy, u[n++]);
  }
  if (n == 0)
    return;
  result->correction = sp_curve_new (SP_CURVE_LINEAR, n, f, value, u, NULL, NULL);
  result->between_u_db = flatness_left (result->correction, analyzer, &n_seen);
  say_between (result, analyzer, *accuracy, n_seen);
}

/* A profile has one correction: what the other settings differ by has no place in it but the uncertainty of switching. */
static void
say_switching (const SpCheckResult *result, const SpAnalyzer *analyzer, double least_db, double most_db)
{
  sp_reasons_add (result->warnings,
                  sp_reason (CHECK_SWITCHING, .of = analyzer->name, .attenuation_db = result->attenuation_db, .least_db = least_db,
                             .most_db = most_db, .u_db = result->switch_u_db, .stated = !tells_switching (result, analyzer)));
}

/* The known level, the lead and the mismatch are the same with each setting and drop out. */
static void
find_switching (SpCheckResult *result, const SpAnalyzer *analyzer)
{
  double squares = 0, least_db = NAN, most_db = NAN;
  result->switch_u_db = NAN;
  for (guint i = 0; i < result->n; i++) {
    const SpCheckPoint *point = &result->points[i], *at = main_point (result, point->frequency_hz);
    if (at == point)
      continue;
    if (!at || isnan (point->attenuation_db) || isnan (at->attenuation_db)) {
      sp_reasons_add (result->warnings, sp_reason (CHECK_SETTING, .at_hz = point->frequency_hz, .attenuation_db = point->attenuation_db,
                                                   .others_db = result->attenuation_db));
      continue;
    }
    double apart_db = point->correction_db - at->correction_db;
    squares += apart_db * apart_db;
    least_db = fmin (least_db, apart_db);
    most_db = fmax (most_db, apart_db);
    result->n_differences++;
  }
  if (result->n_differences == 0)
    return;
  result->switch_u_db = seen_or_stated (sqrt (squares / result->n_differences), result->n_differences,
                                        sp_width_u_db (&analyzer->attenuator_switch));
  say_switching (result, analyzer, least_db, most_db);
}

static void
leave (SpCheckResult *result, const char *term, const SpWidth *stated, double left_u_db)
{
  double u = sp_width_u_db (stated);
  result->left[result->n_left++] = (SpCheckLeft){ term, u, isnan (left_u_db) ? u : left_u_db, stated->assumed };
}

void
sp_check_find_left (SpCheckResult *result, const SpAnalyzer *analyzer)
{
  double accuracy;
  result->accuracy_db = sp_check_limit_db (&analyzer->accuracy);
  result->flatness_db = sp_check_limit_db (&analyzer->flatness);
  result->attenuation_db = main_setting (result);
  find_correction (result, analyzer, &accuracy);
  find_switching (result, analyzer);
  if (result->n == 0)
    return;
  leave (result, "accuracy", &analyzer->accuracy, accuracy);
  gboolean one = result->correction->n < 2; /* elsewhere the flatness counts at both ends (core/docs/computation.md, section 13) */
  leave (result, "flatness", &analyzer->flatness, one ? M_SQRT2 * sp_width_u_db (&analyzer->flatness) : result->between_u_db);
  leave (result, "attenuator-switch", &analyzer->attenuator_switch, result->switch_u_db);
  leave (result, "rbw-switch", &analyzer->rbw_switch, NAN);
  leave (result, "scale", &analyzer->scale, NAN);
  leave (result, "repeatability", &analyzer->repeatability, NAN);
}

/* ---- for the profile ---- */

static void
write_decimals (GString *text, const char *key, double value)
{
  char digits[G_ASCII_DTOSTR_BUF_SIZE];
  sp_write_text (text, key, g_ascii_formatd (digits, sizeof digits, "%.4f", value));
}

static void
write_correction (GString *text, const SpCurve *curve)
{
  g_autoptr (GString) points = g_string_new (NULL);
  char value[G_ASCII_DTOSTR_BUF_SIZE], u[G_ASCII_DTOSTR_BUF_SIZE];
  for (guint i = 0; i < curve->n; i++) {
    g_autofree char *f = sp_spell_frequency (curve->frequency_hz[i]);
    g_string_append_printf (points, "%s%s %s %s", i ? "; " : "", f, g_ascii_formatd (value, sizeof value, "%.4f", curve->value[i]),
                            g_ascii_formatd (u, sizeof u, "%.4f", curve->u[i]));
  }
  sp_write_text (text, "amplitude_correction", points->str);
}

char *
sp_check_lines (const SpCheck *check, const SpCheckResult *result, const SpAnalyzer *analyzer)
{
  GString *text = g_string_new (NULL);
  sp_write_group (text, "analyzer");
  sp_write_day (text, "checked", check->day);
  sp_write_number (text, "interval_days", check->interval_days);
  if (result->correction)
    write_correction (text, result->correction);
  if (result->between_u_db > 0)
    write_decimals (text, "correction_between_u_db", result->between_u_db);
  if (tells_switching (result, analyzer)) {
    write_decimals (text, "attenuator_switch_db", result->switch_u_db * sqrt (3));
    sp_write_text (text, "attenuator_switch_kind", "rectangular");
  }
  return g_string_free (text, FALSE);
}

/* (transfer full) */
static char *
without_check (const SpAnalyzer *analyzer)
{
  return g_strndup (analyzer->text, strlen (analyzer->text) - (analyzer->check_text ? strlen (analyzer->check_text) : 0));
}

SpAnalyzer *
sp_check_take_over (const SpCheck *check, const SpCheckResult *result, const SpAnalyzer *analyzer, GError **error)
{
  static const char *const keys[] = {
    "checked", "interval_days", "amplitude_correction", "correction_between_u_db", "attenuator_switch_db", "attenuator_switch_kind"
  };
  g_autofree char *lines = sp_check_lines (check, result, analyzer), *text = without_check (analyzer);
  for (guint i = 0; i < G_N_ELEMENTS (keys); i++) {
    g_autofree char *value = sp_key_text_get (lines, "analyzer", keys[i]);
    if (!value && strstr (keys[i], "switch"))
      continue; /* what is stated of it stays */
    char *edited = sp_key_text_set (text, "analyzer", keys[i], value, error);
    if (!edited)
      return NULL;
    g_free (text);
    text = edited;
  }
  g_autofree char *readings = sp_check_readings (check), *whole = g_strconcat (text, readings, NULL);
  g_autoptr (SpKeyFile) file = sp_key_file_parse (whole, strlen (whole), analyzer->file ? analyzer->file : "", error);
  SpAnalyzer *edited = file ? sp_analyzer_parse (file, error) : NULL;
  if (edited && !analyzer->file)
    g_clear_pointer (&edited->file, g_free);
  return edited;
}
