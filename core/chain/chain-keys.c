/* chain-keys.c - declares each key of a chain and of a stage once, with readers and writers for complex values */
#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/chain/chain-private.h"
#include "core/curve/points.h"
#include "core/network/one-port.h"
#include "core/quantity/error.h"
#include "core/quantity/text.h"
#include "core/quantity/writer.h"

/* All bound what can be meant. */
#define U_HIGH_DB 100.0
#define WATT_LOW 1e-9
#define WATT_HIGH 1e6

/* ---- readers; the context is the SpTwoPorts ---- */

static gboolean
read_kind (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, G_GNUC_UNUSED gpointer context, GError **error)
{
  SpStage *stage = object;
  int kind = -1;
  if (!sp_group_choice (file, group, spec->key, spec->words, &kind, error))
    return FALSE;
  if (kind < 0)
    return sp_fail_at (error, sp_key_file_name (file), group->line, 1,
                       _ ("[%s] has no kind; add kind=cable, pad, adapter, coupler, filter, "
                          "notch or limiter"),
                       group->name);
  stage->kind = kind;
  stage->passes_dc = kind == SP_STAGE_CABLE || kind == SP_STAGE_ADAPTER;
  return TRUE;
}

/* "0 3GHz": two frequencies, the second above the first. */
static gboolean
read_span (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, G_GNUC_UNUSED gpointer context, GError **error)
{
  SpStage *stage = object;
  const SpKey *key = sp_group_find (group, spec->key);
  if (!key)
    return TRUE;
  gsize first = strcspn (key->value, " \t");
  g_autofree char *low = g_strndup (key->value, first);
  double low_hz, high_hz;
  if (!sp_parse_frequency (low, &low_hz, NULL) || !sp_parse_frequency (key->value + first, &high_hz, NULL) || high_hz <= low_hz) {
    g_autofree char *excerpt = sp_excerpt (key->value);
    return sp_key_fail (file, group, key, 0, error, _ ("found “%s”; expected two frequencies, the second above the first, such as 0 3GHz"),
                        excerpt);
  }
  stage->span_low_hz = low_hz;
  stage->span_high_hz = high_hz;
  return TRUE;
}

static gboolean
read_vswr (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, gpointer context, GError **error)
{
  const SpTwoPorts *two_ports = context;
  return sp_group_vswr (file, group, spec->key, !two_ports || two_ports->files, sp_key_member (spec, object), error);
}

/* ---- writers; the context is whether the text is hashed: a file is its path in the text, its hash (and a run's results) in the
 * hashed text ---- */

static void
write_stages (const SpKeySpec *spec, GString *text, gconstpointer object, G_GNUC_UNUSED gconstpointer context)
{
  const SpChain *chain = object;
  g_autoptr (GString) stages = g_string_new (NULL);
  for (guint i = 0; i < chain->n; i++) {
    g_autofree char *name = sp_escape (chain->stages[i]->name);
    g_string_append_printf (stages, "%s%s", i ? ";" : "", name);
  }
  sp_write_text (text, spec->key, stages->str);
}

static void
write_span (const SpKeySpec *spec, GString *text, gconstpointer object, G_GNUC_UNUSED gconstpointer context)
{
  const SpStage *stage = object;
  char low[32], high[32];
  if (isnan (stage->span_low_hz))
    return;
  g_autofree char *span = g_strdup_printf ("%s %s", sp_format_exact (stage->span_low_hz, low), sp_format_exact (stage->span_high_hz, high));
  sp_write_text (text, spec->key, span);
}

static void
write_curve (const SpKeySpec *spec, GString *text, gconstpointer object, G_GNUC_UNUSED gconstpointer context)
{
  const SpStage *stage = object;
  sp_write_text (text, spec->key, stage->loss ? spec->words[stage->loss->kind] : NULL);
}

static void
write_touchstone (const SpKeySpec *spec, GString *text, gconstpointer object, gconstpointer context)
{
  const SpStage *stage = object;
  if (stage->two_port)
    sp_write_text (text, spec->key, context ? stage->two_port->sha256 : stage->touchstone);
}

static void
write_run (const SpKeySpec *spec, GString *text, gconstpointer object, gconstpointer context)
{
  const SpStage *stage = object;
  if (stage->run)
    sp_write_text (text, spec->key, context ? stage->run->sha256 : stage->run_name);
}

static void
write_points (const SpKeySpec *spec, GString *text, gconstpointer object, gconstpointer context)
{
  const SpStage *stage = object;
  if (!stage->two_port && (context || !stage->run))
    sp_curve_write (text, spec->key, stage->loss);
}

/* A value from the run is not written, so that another run in its place brings its own. */
static double
unless_of_run (const SpStage *stage, double value, double of_run)
{
  return stage->run && value == of_run ? NAN : value;
}

static void
write_common (const SpKeySpec *spec, GString *text, gconstpointer object, G_GNUC_UNUSED gconstpointer context)
{
  const SpStage *stage = object;
  double unsaid_db = stage->run ? sp_run_common_u_db (stage->run) : spec->absent;
  sp_write_number (text, spec->key, stage->common_u_db == unsaid_db ? NAN : stage->common_u_db);
}

static void
write_vswr (const SpKeySpec *spec, GString *text, gconstpointer object, G_GNUC_UNUSED gconstpointer context)
{
  const SpStage *stage = object;
  if (!stage->run || stage->vswr != stage->run->stage_vswr)
    sp_curve_write (text, spec->key, stage->vswr);
}

static void
write_calibrated (const SpKeySpec *spec, GString *text, gconstpointer object, G_GNUC_UNUSED gconstpointer context)
{
  const SpStage *stage = object;
  sp_write_day (text, spec->key, unless_of_run (stage, stage->calibrated_day, stage->run ? stage->run->day : NAN));
}

static void
write_temperature (const SpKeySpec *spec, GString *text, gconstpointer object, G_GNUC_UNUSED gconstpointer context)
{
  const SpStage *stage = object;
  sp_write_number (text, spec->key, unless_of_run (stage, stage->temperature_c, stage->run ? stage->run->temperature_c : NAN));
}

/* ---- pictures ---- */

static SpPicture *
find_none (G_GNUC_UNUSED gpointer data, G_GNUC_UNUSED const char *name, GError **error)
{
  sp_fail (error, SP_ERROR_USAGE, _ ("a picture cannot be named here; expected no such key"));
  return NULL;
}

static gboolean
read_pictures (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, gpointer context, GError **error)
{
  const SpTwoPorts *named = context;
  SpPictureSource source = sp_pictures_beside (file);
  if (named)
    source = (SpPictureSource){ named->find_picture ? named->find_picture : find_none, named->data };
  return sp_captioned_read (&source, file, group, sp_key_member (spec, object), error);
}

/* `context`: the text is the hash's, to which no picture counts. */
static void
write_pictures (const SpKeySpec *spec, GString *text, gconstpointer object, gconstpointer context)
{
  GArray *const *pictures = sp_key_member (spec, object);
  for (guint i = 0; !context && *pictures && i < (*pictures)->len; i++) {
    const SpCaptioned *one = &g_array_index (*pictures, SpCaptioned, i);
    g_autofree char *key = sp_captioned_key (i), *value = sp_captioned_value (one->name, one->caption);
    sp_write_text (text, key, value);
  }
}

/* ---- the tables ---- */

static const char *const kinds[] = { "cable", "pad", "adapter", "coupler", "filter", "notch", "limiter", NULL };
static const char *const curves[] = { "linear", "smooth", "sqrt", NULL };
static const SpRowFormat derating = {
  N_ ("a temperature in deg C and a rating in W, such as 25 25; 100 5"), 2, 2, FALSE, TRUE, 0, WATT_HIGH, -100, 500
};

#define CHAIN(member) G_STRUCT_OFFSET (SpChain, member)
#define STAGE(member) G_STRUCT_OFFSET (SpStage, member)
#define DEGREES_C "\302\260C"
#define LOSS_DB "dB", SP_STAGE_LOSS_LOW_DB, SP_STAGE_LOSS_HIGH_DB
#define U_DB "dB", 0, U_HIGH_DB
#define WATT "W", WATT_LOW, WATT_HIGH

/* by hand: a table that reads by its columns */
/* clang-format off */
const SpKeySpec sp_chain_keys[] = {
  { "name",                      SP_KEY_TEXT,   CHAIN (name) },
  { "stages",                    SP_KEY_GROUPS, CHAIN (stages), .read = sp_chain_read_stages, .write = write_stages },
  { "calibrated",                SP_KEY_DATE,   CHAIN (calibrated_day), .absent = NAN },
  { "interval_days",             SP_KEY_NUMBER, CHAIN (interval_days), N_ ("days"), 1, 100000, NAN },
  { "temperature_c",             SP_KEY_NUMBER, CHAIN (temperature_c), DEGREES_C, -100, 200, NAN },
  { NULL }
};

/* `curve` comes first: a run brings values that later keys may override. */
const SpKeySpec sp_stage_keys[] = {
  { "kind",                      SP_KEY_WORD,   STAGE (kind), .words = kinds, .written_absent = TRUE, .read = read_kind },
  { "label_db",                  SP_KEY_NUMBER, STAGE (label_db), LOSS_DB, NAN },
  { "label_tolerance_db",        SP_KEY_NUMBER, STAGE (label_tolerance_db), U_DB, NAN },
  { "span",                      SP_KEY_SPAN,   STAGE (span_low_hz), .spelling = SP_SPELL_FREQUENCIES, .read = read_span, .write = write_span },
  { "curve",                     SP_KEY_WORD,   STAGE (loss), .words = curves, .read = sp_stage_read_loss, .write = write_curve },
  { "touchstone",                SP_KEY_FILE,   STAGE (touchstone), .write = write_touchstone },
  { "run",                       SP_KEY_FILE,   STAGE (run_name), .write = write_run },
  { "points",                    SP_KEY_CURVE,  STAGE (loss), LOSS_DB, .spelling = SP_SPELL_ROWS, .write = write_points },
  { "u_db",                      SP_KEY_NUMBER, STAGE (u_db), U_DB, NAN },
  { "common_u_db",               SP_KEY_NUMBER, STAGE (common_u_db), U_DB, 0, .write = write_common },
  { "connector_u_db",            SP_KEY_NUMBER, STAGE (connector_u_db), U_DB, 0 },
  { "vswr",                      SP_KEY_CURVE,  STAGE (vswr), NULL, 1, SP_VSWR_HIGH, .spelling = SP_SPELL_ROWS, .read = read_vswr, .write = write_vswr },
  { "rating_w",                  SP_KEY_NUMBER, STAGE (rating_w), WATT, NAN },
  { "derating",                  SP_KEY_LIST,   STAGE (derating), DEGREES_C ", W", .format = &derating, .read = sp_key_read_rows, .write = sp_key_write_rows },
  { "directional",               SP_KEY_YES_NO, STAGE (directional), .written_absent = TRUE },
  { "passes_dc",                 SP_KEY_YES_NO, STAGE (passes_dc), .written_absent = TRUE },
  { "load_rating_w",             SP_KEY_NUMBER, STAGE (load_rating_w), WATT, NAN },
  { "temperature_coefficient",   SP_KEY_NUMBER, STAGE (temperature_coefficient), "dB/dB/K", -0.1, 0.1, NAN },
  { "temperature_coefficient_u", SP_KEY_NUMBER, STAGE (temperature_coefficient_u), "dB/dB/K", 0, 0.1, NAN },
  { "power_coefficient",         SP_KEY_NUMBER, STAGE (power_coefficient), "dB/dB/W", 0, 1, NAN },
  { "calibrated",                SP_KEY_DATE,   STAGE (calibrated_day), .absent = NAN, .write = write_calibrated },
  { "temperature_c",             SP_KEY_NUMBER, STAGE (temperature_c), DEGREES_C, -100, 200, NAN, .write = write_temperature },
  { "picture",                   SP_KEY_FILES,  STAGE (pictures), .not_hashed = TRUE, .read = read_pictures, .write = write_pictures },
  { NULL }
};
/* clang-format on */

const char *
sp_stage_kind_name (SpStageKind kind)
{
  g_return_val_if_fail ((guint) kind + 1 < G_N_ELEMENTS (kinds), NULL);
  return kinds[kind];
}
