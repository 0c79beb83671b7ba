/* analyzer-keys.c - the keys of an analyzer's profile, each declared once, with those that are more than one value */
#include "core/analyzer/analyzer-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/curve/points.h"
#include "core/quantity/text.h"
#include "core/quantity/writer.h"

/* All bound what can be meant. */
#define DBM_LOW -300.0
#define DBM_HIGH 200.0
#define SWEEP_MOST_S 1e6

/* ---- intercepts ---- */

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
read_two_tone (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, G_GNUC_UNUSED gpointer context, GError **error)
{
  SpAnalyzer *analyzer = object;
  const SpKey *key = sp_group_find (group, spec->key);
  SpCurveFormat format = { SP_CURVE_LINEAR, _ ((const char *) spec->format), spec->low, spec->high, FALSE, TRUE };
  g_autoptr (SpCurve) two_tone = NULL;
  if (!key)
    return TRUE;
  if (analyzer->intercept_dbm[3])
    return sp_key_fail (file, group, key, 0, error,
                        _ ("the third harmonic intercept (third_harmonic_intercept_dbm) is given too, and says the same 4.77 dB higher; "
                           "keep one of the two"));
  if (!sp_group_curve (file, group, spec->key, &format, &two_tone, error))
    return FALSE;
  analyzer->intercept_dbm[3] = shifted (two_tone, SP_TWO_TONE_TO_HARMONIC_DB);
  return TRUE;
}

static gboolean
read_higher_intercepts (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, G_GNUC_UNUSED gpointer context,
                        GError **error)
{
  SpAnalyzer *analyzer = object;
  SpRowFormat format = {
    _ ("an order and its intercept in dBm, such as 4 30; 5 28"), 2, 2, FALSE, TRUE, spec->low, spec->high, 4, SP_MAX_ORDER
  };
  g_autoptr (GArray) rows = NULL;
  if (!sp_group_rows (file, group, spec->key, &format, &rows, error))
    return FALSE;
  for (guint i = 0; rows && i < rows->len; i++) {
    const SpRow *row = &g_array_index (rows, SpRow, i);
    if (row->number[0] != floor (row->number[0]))
      return sp_key_fail (file, group, sp_group_find (group, spec->key), row->offset, error,
                          _ ("found the order %g; expected a whole number"), row->number[0]);
    analyzer->intercept_dbm[(guint) row->number[0]] = sp_curve_new_constant (row->number[1], NAN);
  }
  return TRUE;
}

/* Orders from the 4th share one key, which takes one number an order. */
static void
write_higher_intercepts (const SpKeySpec *spec, GString *text, gconstpointer object, G_GNUC_UNUSED gconstpointer context)
{
  const SpAnalyzer *analyzer = object;
  g_autoptr (GString) value = g_string_new (NULL);
  char digits[32];
  for (guint order = 4; order <= SP_MAX_ORDER; order++)
    if (analyzer->intercept_dbm[order])
      g_string_append_printf (value, "%s%u %s", value->len ? "; " : "", order,
                              sp_format_exact (analyzer->intercept_dbm[order]->value[0], digits));
  sp_write_text (text, spec->key, value->len ? value->str : NULL);
}

/* ---- limits of error ---- */

/* A width that is left out is the row's absent value, and assumed. */
static gboolean
read_width (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, G_GNUC_UNUSED gpointer context, GError **error)
{
  SpWidth *width = sp_key_member (spec, object);
  width->assumed = sp_group_find (group, spec->key) == NULL;
  width->width_db = spec->absent;
  return sp_group_number (file, group, spec->key, spec->low, spec->high, &width->width_db, error);
}

/* What was assumed is left out again: a rewritten file keeps its warnings. */
static void
write_width (const SpKeySpec *spec, GString *text, gconstpointer object, G_GNUC_UNUSED gconstpointer context)
{
  const SpWidth *width = sp_key_member (spec, object);
  if (!width->assumed)
    sp_write_number (text, spec->key, width->width_db);
}

void
sp_analyzer_warn_assumed (const SpAnalyzer *analyzer)
{
  for (const SpKeySpec *spec = sp_analyzer_keys; spec->key; spec++) {
    const SpWidth *width = spec->read == read_width ? sp_key_member (spec, analyzer) : NULL;
    if (!width || !width->assumed)
      continue;
    g_autofree char *stem = g_strndup (spec->key, strlen (spec->key) - strlen ("_db"));
    sp_reasons_add (analyzer->warnings, sp_reason (U_ASSUMED, .what = stem, .of = analyzer->name, .assumed_db = width->width_db));
  }
}

/* ---- sweep times ---- */

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
read_sweep_times (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, G_GNUC_UNUSED gpointer context, GError **error)
{
  SpAnalyzer *analyzer = object;
  const SpKey *key = sp_group_find (group, spec->key);
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

/* ---- the table ---- */

static const char *const averages[] = { "power", "log", NULL };
static const char *const filters[] = { "gaussian", "sync4", "flat", NULL };
static const char *const width_kinds[] = { "rectangular", "normal2", "standard", NULL };
static const SpRowFormat attenuator_steps = { N_ ("attenuator settings in dB, ascending"), 1, 1, FALSE, TRUE, 0, 200, 0, 200 };
static const SpRowFormat rbw_steps = { N_ ("bandwidths, ascending, such as 1kHz;3kHz"), 1, 1, TRUE, TRUE, 1e-3, 1e12, 0, 0 };
static const SpRowFormat residuals = {
  N_ ("a frequency and a level in dBm, such as 120MHz -105"), 2, 2, TRUE, TRUE, DBM_LOW, DBM_HIGH, 0, 0
};
static const SpRowFormat sweep_times = { .most = 3 };

#define AT(member) G_STRUCT_OFFSET (SpAnalyzer, member)
#define CURVE(what) .format = what, .spelling = SP_SPELL_ROWS, .read = sp_key_read_curve, .write = sp_key_write_curve
#define CURVE_OR_NUMBER(what) .format = what, .spelling = SP_SPELL_ROWS, .read = sp_key_read_curve_or_number, .write = sp_key_write_curve
#define LEVEL N_ ("a level in dB")
#define ROWS(rows) .format = &rows, .read = sp_key_read_rows, .write = sp_key_write_rows
#define WIDTH(stem, member, assumed_db)                                                                                                    \
  { stem "_db", SP_KEY_NUMBER, AT (member), "dB", 0, 100, assumed_db, .read = read_width, .write = write_width },                          \
  {                                                                                                                                        \
    stem "_kind", SP_KEY_WORD, AT (member.kind), .words = width_kinds                                                                      \
  }

/* by hand: a table that reads by its columns */
/* clang-format off */
const SpKeySpec sp_analyzer_keys[] = {
  { "name",                         SP_KEY_TEXT,   AT (name) },
  { "damage_dbm",                   SP_KEY_NUMBER, AT (damage_dbm), "dBm", -100, 100, NAN },
  { "damage_attenuation_db",        SP_KEY_NUMBER, AT (damage_attenuation_db), "dB", 0, 200, NAN },
  { "max_dc_v",                     SP_KEY_NUMBER, AT (max_dc_v), "V", 0, 1e5, NAN },
  { "best_mixer_dbm",               SP_KEY_NUMBER, AT (best_mixer_dbm), "dBm", -200, 100, NAN },
  { "danl_dbm_hz",                  SP_KEY_CURVE,  AT (danl_dbm_hz), "dBm/Hz", DBM_LOW, DBM_HIGH, CURVE_OR_NUMBER (LEVEL) },
  { "danl_average",                 SP_KEY_WORD,   AT (danl_log_averaged), .words = averages, .written_absent = TRUE },
  { "second_intercept_dbm",         SP_KEY_CURVE,  AT (intercept_dbm[2]), "dBm", DBM_LOW, DBM_HIGH, CURVE_OR_NUMBER (LEVEL) },
  { "third_harmonic_intercept_dbm", SP_KEY_CURVE,  AT (intercept_dbm[3]), "dBm", DBM_LOW, DBM_HIGH, CURVE_OR_NUMBER (LEVEL) },
  /* Kept and written as the harmonic one. */
  { "third_order_intercept_dbm",    SP_KEY_CURVE,  AT (intercept_dbm[3]), "dBm", DBM_LOW, DBM_HIGH, .format = LEVEL, .spelling = SP_SPELL_ROWS, .read = read_two_tone },
  { "harmonic_intercepts_dbm",      SP_KEY_LIST,   AT (intercept_dbm[4]), "dBm", DBM_LOW, DBM_HIGH, .read = read_higher_intercepts, .write = write_higher_intercepts },
  { "intercept_u_db",               SP_KEY_NUMBER, AT (intercept_u_db), "dB", 0, 100, 1, .written_absent = TRUE },
  { "phase_noise_dbc_hz",           SP_KEY_CURVE,  AT (phase_noise_dbc_hz), "dBc/Hz", DBM_LOW, DBM_HIGH, CURVE (LEVEL) },
  WIDTH ("accuracy", accuracy, 1.5),
  WIDTH ("flatness", flatness, 1.0),
  WIDTH ("scale", scale, 0.5),
  WIDTH ("repeatability", repeatability, 0.05),
  WIDTH ("attenuator_switch", attenuator_switch, 0.5),
  WIDTH ("rbw_switch", rbw_switch, 0.5),
  { "amplitude_correction",         SP_KEY_CURVE,  AT (amplitude_correction_db), "dB", -200, 200, .format = N_ ("a correction in dB"), .spelling = SP_SPELL_ROWS, .read = sp_key_read_curve_with_u, .write = sp_key_write_curve },
  { "correction_between_u_db",      SP_KEY_NUMBER, AT (correction_between_u_db), "dB", 0, 100, 0 },
  { "checked",                      SP_KEY_DATE,   AT (checked_day), .absent = NAN },
  { "interval_days",                SP_KEY_NUMBER, AT (interval_days), N_ ("days"), 1, 100000, NAN },
  { "frequency_ppm",                SP_KEY_NUMBER, AT (frequency_ppm), "ppm", 0, 1e5, NAN },
  { "vswr",                         SP_KEY_CURVE,  AT (vswr), NULL, 1, 1e6, CURVE_OR_NUMBER (N_ ("a VSWR")) },
  { "attenuator_steps_db",          SP_KEY_LIST,   AT (attenuator_steps_db), "dB", ROWS (attenuator_steps) },
  { "rbw_steps",                    SP_KEY_LIST,   AT (rbw_steps_hz), .spelling = SP_SPELL_FREQUENCIES, ROWS (rbw_steps) },
  { "points_max",                   SP_KEY_NUMBER, AT (points_max), NULL, 2, 1e9, NAN },
  { "filter",                       SP_KEY_WORD,   AT (filter), .words = filters, .written_absent = TRUE },
  { "sweep_s",                      SP_KEY_LIST,   AT (sweep_times), "s", .format = &sweep_times, .read = read_sweep_times, .write = sp_key_write_rows },
  { "residuals",                    SP_KEY_LIST,   AT (residuals), "dBm", .spelling = SP_SPELL_ROWS, ROWS (residuals) },
  { NULL }
};
/* clang-format on */
