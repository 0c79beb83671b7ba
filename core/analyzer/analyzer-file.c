/* analyzer-file.c - reads a .analyzer file */
#include "core/analyzer/analyzer-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/curve/points.h"
#include "core/quantity/error.h"
#include "core/quantity/text.h"

#define DBM_LOW -300.0
#define DBM_HIGH 200.0
#define SWEEP_MOST_S 1e6
#define INTERCEPT_U_ASSUMED_DB 1.0 /* design: left out, 1 dB */

const SpWidthKey sp_width_keys[] = {
  { "accuracy", 1.5, G_STRUCT_OFFSET (SpAnalyzer, accuracy) },
  { "flatness", 1.0, G_STRUCT_OFFSET (SpAnalyzer, flatness) },
  { "scale", 0.5, G_STRUCT_OFFSET (SpAnalyzer, scale) },
  { "repeatability", 0.05, G_STRUCT_OFFSET (SpAnalyzer, repeatability) },
  { "attenuator_switch", 0.5, G_STRUCT_OFFSET (SpAnalyzer, attenuator_switch) },
  { "rbw_switch", 0.5, G_STRUCT_OFFSET (SpAnalyzer, rbw_switch) },
};
const guint sp_n_width_keys = G_N_ELEMENTS (sp_width_keys);
const char *const sp_width_kind_words[] = { "rectangular", "normal2", "standard", NULL };
const char *const sp_filter_words[] = { "gaussian", "sync4", "flat", NULL };

/* Pairs of a frequency and a level, or one number for all frequencies. */
static gboolean
parse_levels (SpKeyFile *file, SpGroup *group, const char *key, gboolean or_number, SpCurve **out, GError **error)
{
  SpCurveFormat format = { SP_CURVE_LINEAR, _ ("a level in dB"), DBM_LOW, DBM_HIGH, FALSE, or_number };
  return sp_group_curve (file, group, key, &format, out, error);
}

static gboolean
parse_survival (SpAnalyzer *analyzer, SpKeyFile *file, SpGroup *group, GError **error)
{
  return sp_group_text (file, group, "name", &analyzer->name, error)
         && sp_group_number (file, group, "damage_dbm", -100, 100, &analyzer->damage_dbm, error)
         && sp_group_number (file, group, "damage_attenuation_db", 0, 200, &analyzer->damage_attenuation_db, error)
         && sp_group_number (file, group, "max_dc_v", 0, 1e5, &analyzer->max_dc_v, error)
         && sp_group_number (file, group, "best_mixer_dbm", -200, 100, &analyzer->best_mixer_dbm, error);
}

static gboolean
parse_noise (SpAnalyzer *analyzer, SpKeyFile *file, SpGroup *group, GError **error)
{
  static const char *const averages[] = { "power", "log", NULL };
  int average = 0;
  if (!parse_levels (file, group, "danl_dbm_hz", TRUE, &analyzer->danl_dbm_hz, error)
      || !sp_group_choice (file, group, "danl_average", averages, &average, error)
      || !parse_levels (file, group, "phase_noise_dbc_hz", FALSE, &analyzer->phase_noise_dbc_hz, error))
    return FALSE;
  analyzer->danl_log_averaged = average == 1;
  return TRUE;
}

static SpCurve *
shifted (const SpCurve *curve, double by_db)
{
  if (curve->n == 1 && isinf (curve->high_hz))
    return sp_curve_new_constant (curve->value[0] + by_db, NAN);
  g_autofree double *value = g_new (double, curve->n);
  for (guint i = 0; i < curve->n; i++)
    value[i] = curve->value[i] + by_db;
  return sp_curve_new (curve->kind, curve->n, curve->frequency_hz, value, NULL, NULL, NULL);
}

/* third_order_intercept_dbm is a two-tone figure; the harmonic one is kept. */
static gboolean
parse_two_tone (SpAnalyzer *analyzer, SpKeyFile *file, SpGroup *group, GError **error)
{
  const SpKey *key = sp_group_find (group, "third_order_intercept_dbm");
  g_autoptr (SpCurve) two_tone = NULL;
  if (!key)
    return TRUE;
  if (analyzer->intercept_dbm[3])
    return sp_key_fail (file, group, key, 0, error, _ ("third_harmonic_intercept_dbm is given too; keep one of the two"));
  if (!parse_levels (file, group, "third_order_intercept_dbm", TRUE, &two_tone, error))
    return FALSE;
  analyzer->intercept_dbm[3] = shifted (two_tone, SP_TWO_TONE_TO_HARMONIC_DB);
  return TRUE;
}

static gboolean
parse_higher_intercepts (SpAnalyzer *analyzer, SpKeyFile *file, SpGroup *group, GError **error)
{
  const char *name = "harmonic_intercepts_dbm";
  SpRowFormat format = {
    _ ("an order and its intercept in dBm, such as 4 30; 5 28"), 2, 2, FALSE, TRUE, DBM_LOW, DBM_HIGH, 4, SP_MAX_ORDER
  };
  g_autoptr (GArray) rows = NULL;
  if (!sp_group_rows (file, group, name, &format, &rows, error))
    return FALSE;
  for (guint i = 0; rows && i < rows->len; i++) {
    const SpRow *row = &g_array_index (rows, SpRow, i);
    if (row->number[0] != floor (row->number[0]))
      return sp_key_fail (file, group, sp_group_find (group, name), row->offset, error, _ ("found the order %g; expected a whole number"),
                          row->number[0]);
    analyzer->intercept_dbm[(guint) row->number[0]] = sp_curve_new_constant (row->number[1], NAN);
  }
  return TRUE;
}

static gboolean
parse_intercepts (SpAnalyzer *analyzer, SpKeyFile *file, SpGroup *group, GError **error)
{
  return parse_levels (file, group, "second_intercept_dbm", TRUE, &analyzer->intercept_dbm[2], error)
         && parse_levels (file, group, "third_harmonic_intercept_dbm", TRUE, &analyzer->intercept_dbm[3], error)
         && parse_two_tone (analyzer, file, group, error) && parse_higher_intercepts (analyzer, file, group, error)
         && sp_group_number (file, group, "intercept_u_db", 0, 100, &analyzer->intercept_u_db, error);
}

static gboolean
parse_widths (SpAnalyzer *analyzer, SpKeyFile *file, SpGroup *group, GError **error)
{
  for (guint i = 0; i < sp_n_width_keys; i++) {
    SpWidth *width = G_STRUCT_MEMBER_P (analyzer, sp_width_keys[i].offset);
    g_autofree char *db = g_strconcat (sp_width_keys[i].stem, "_db", NULL);
    g_autofree char *kind_key = g_strconcat (sp_width_keys[i].stem, "_kind", NULL);
    int kind = SP_WIDTH_RECTANGULAR;
    width->assumed = sp_group_find (group, db) == NULL;
    width->width_db = sp_width_keys[i].assumed_db;
    if (!sp_group_number (file, group, db, 0, 100, &width->width_db, error)
        || !sp_group_choice (file, group, kind_key, sp_width_kind_words, &kind, error))
      return FALSE;
    width->kind = kind;
  }
  return TRUE;
}

/* The first `columns` numbers of each row, one after another. */
static gboolean
parse_list (SpKeyFile *file, SpGroup *group, const char *key, const SpRowFormat *format, GArray *out, GError **error)
{
  g_autoptr (GArray) rows = NULL;
  if (!sp_group_rows (file, group, key, format, &rows, error))
    return FALSE;
  for (guint i = 0; rows && i < rows->len; i++)
    g_array_append_vals (out, g_array_index (rows, SpRow, i).number, format->most);
  return TRUE;
}

/* "10kHz 1GHz 12": an RBW, a span and the seconds of one sweep. */
static gboolean
parse_sweep_time (const char *text, double out[3])
{
  g_auto (GStrv) word = g_strsplit_set (text, " \t", -1);
  guint n = 0;
  for (guint i = 0; word[i]; i++) {
    if (!*word[i])
      continue;
    if (n == 3 || !(n < 2 ? sp_parse_frequency (word[i], &out[n], NULL) : sp_parse_number (word[i], &out[n], NULL)))
      return FALSE;
    n++;
  }
  return n == 3 && out[0] >= 1e-3 && out[0] <= 1e12 && out[1] > 0 && out[2] > 0 && out[2] <= SWEEP_MOST_S;
}

static gboolean
parse_sweep_times (SpAnalyzer *analyzer, SpKeyFile *file, SpGroup *group, GError **error)
{
  const SpKey *key = sp_group_find (group, "sweep_s");
  g_autoptr (GArray) items = key ? sp_key_items (key) : NULL;
  double before_hz = 0;
  for (guint i = 0; items && i < items->len; i++) {
    const SpItem *item = &g_array_index (items, SpItem, i);
    double triple[3];
    if (!parse_sweep_time (item->text, triple) || !(triple[0] > before_hz))
      return sp_key_fail (file, group, key, item->offset, error,
                          _ ("found \"%s\"; expected an RBW, a span and the seconds of one sweep, by ascending RBW, such as 10kHz 1GHz 12; "
                             "100kHz 1GHz 0.3"),
                          item->text);
    before_hz = triple[0];
    g_array_append_vals (analyzer->sweep_times, triple, 3);
  }
  return TRUE;
}

static gboolean
parse_means (SpAnalyzer *analyzer, SpKeyFile *file, SpGroup *group, GError **error)
{
  int filter = SP_FILTER_GAUSSIAN;
  SpRowFormat steps = { _ ("attenuator settings in dB, ascending"), 1, 1, FALSE, TRUE, 0, 200, 0, 200 };
  SpRowFormat widths = { _ ("bandwidths, ascending, such as 1kHz;3kHz"), 1, 1, TRUE, TRUE, 1e-3, 1e12, 0, 0 };
  SpRowFormat residuals = { _ ("a frequency and a level in dBm, such as 120MHz -105"), 2, 2, TRUE, TRUE, DBM_LOW, DBM_HIGH, 0, 0 };
  if (!parse_list (file, group, "attenuator_steps_db", &steps, analyzer->attenuator_steps_db, error)
      || !parse_list (file, group, "rbw_steps", &widths, analyzer->rbw_steps_hz, error)
      || !parse_list (file, group, "residuals", &residuals, analyzer->residuals, error)
      || !sp_group_number (file, group, "points_max", 2, 1e9, &analyzer->points_max, error)
      || !parse_sweep_times (analyzer, file, group, error) || !sp_group_choice (file, group, "filter", sp_filter_words, &filter, error))
    return FALSE;
  analyzer->filter = filter;
  return TRUE;
}

static gboolean
parse_input (SpAnalyzer *analyzer, SpKeyFile *file, SpGroup *group, GError **error)
{
  SpCurveFormat correction = { SP_CURVE_LINEAR, _ ("a correction in dB"), -200, 200, FALSE, TRUE };
  SpCurveFormat vswr = { SP_CURVE_LINEAR, _ ("a VSWR"), 1, 1e6, FALSE, TRUE };
  return sp_group_curve (file, group, "amplitude_correction", &correction, &analyzer->amplitude_correction_db, error)
         && sp_group_number (file, group, "frequency_ppm", 0, 1e5, &analyzer->frequency_ppm, error)
         && sp_group_curve (file, group, "vswr", &vswr, &analyzer->vswr, error);
}

static void
warn (SpAnalyzer *analyzer, SpKeyFile *file)
{
  for (guint i = 0; i < sp_n_width_keys; i++) {
    const SpWidth *width = G_STRUCT_MEMBER_P (analyzer, sp_width_keys[i].offset);
    if (width->assumed)
      sp_reasons_add (analyzer->warnings,
                      sp_reason (U_ASSUMED, .what = sp_width_keys[i].stem, .of = analyzer->name, .assumed_db = width->width_db));
  }
  if (!analyzer->vswr)
    sp_reasons_add (analyzer->warnings, sp_reason (VSWR_ASSUMED, .of = analyzer->name, .vswr = SP_INPUT_VSWR_ASSUMED));
  if (isnan (analyzer->damage_dbm))
    sp_reasons_add (analyzer->warnings, sp_reason (RATING_MISSING, .place = analyzer->name));
  sp_key_file_unknown (file, analyzer->warnings);
}

static SpAnalyzer *
analyzer_new (const SpKeyFile *file)
{
  SpAnalyzer *analyzer = g_atomic_rc_box_new0 (SpAnalyzer);
  analyzer->file = g_strdup (sp_key_file_name (file));
  analyzer->damage_dbm = analyzer->damage_attenuation_db = analyzer->max_dc_v = analyzer->best_mixer_dbm = NAN;
  analyzer->frequency_ppm = analyzer->points_max = NAN;
  analyzer->intercept_u_db = INTERCEPT_U_ASSUMED_DB;
  analyzer->attenuator_steps_db = g_array_new (FALSE, FALSE, sizeof (double));
  analyzer->rbw_steps_hz = g_array_new (FALSE, FALSE, sizeof (double));
  analyzer->sweep_times = g_array_new (FALSE, FALSE, sizeof (double));
  analyzer->residuals = g_array_new (FALSE, FALSE, sizeof (double));
  analyzer->warnings = sp_reasons_new ();
  return analyzer;
}

SpAnalyzer *
sp_analyzer_parse (SpKeyFile *file, GError **error)
{
  g_autoptr (SpAnalyzer) analyzer = analyzer_new (file);
  SpGroup *group = sp_key_file_find (file, "analyzer");
  if (!group) {
    sp_fail_at (error, sp_key_file_name (file), 1, 1, _ ("there is no group [analyzer] in this file; an analyzer's file begins with it"));
    return NULL;
  }
  if (!parse_survival (analyzer, file, group, error) || !parse_noise (analyzer, file, group, error)
      || !parse_intercepts (analyzer, file, group, error) || !parse_widths (analyzer, file, group, error)
      || !parse_input (analyzer, file, group, error) || !parse_means (analyzer, file, group, error))
    return NULL;
  if (!analyzer->name)
    analyzer->name = g_path_get_basename (sp_key_file_name (file));
  warn (analyzer, file);
  sp_analyzer_write_text (analyzer, file, group);
  return g_steal_pointer (&analyzer);
}

SpAnalyzer *
sp_analyzer_read (const char *path, GError **error)
{
  g_autoptr (SpKeyFile) file = sp_key_file_read (path, error);
  return file ? sp_analyzer_parse (file, error) : NULL;
}
