/* bench-keys.c - the keys of a sheet's groups, each declared once, with those that are more than one value */
#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/bench/sheet/sheet-private.h"
#include "core/curve/points.h"
#include "core/quantity/text.h"
#include "core/quantity/writer.h"

#define KEY_DOWN_MOST_S 86400.0 /* a day; bounds what can be meant */
#define BANDWIDTH_MOST_HZ 20e6  /* beyond any emission of a station; wider, harmonics would count as its own; common practice, no source */
#define CLOCKS_MAX 16           /* bounds time: each is tried */
#define PINNED_MOST_DBM 400.0   /* either way; beyond any chart; bounds what can be meant */
#define RADIO_VSWR_MOST 1e6     /* of a number; what is beyond may as well be inf; bounds what can be meant */

/* ---- date: as it is written, and as a day ---- */

static gboolean
read_date (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, G_GNUC_UNUSED gpointer context, GError **error)
{
  SpBench *bench = object;
  guint32 day = 0;
  if (!sp_group_date (file, group, spec->key, &day, error))
    return FALSE;
  bench->date_day = day ? day : bench->date_day;
  return sp_group_text (file, group, spec->key, &bench->date, error);
}

static void
write_date (const SpKeySpec *spec, GString *text, gconstpointer object, gconstpointer context)
{
  const SpBench *bench = object;
  const SpSheetWriter *writer = context;
  if (writer->hashed)
    sp_write_day (text, spec->key, bench->date_day);
  else
    sp_write_text (text, spec->key, bench->date);
}

/* ---- pads_at_hand ---- */

static gboolean
read_pads (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, G_GNUC_UNUSED gpointer context, GError **error)
{
  SpBench *bench = object;
  SpRowFormat format = {
    _ ("pads as a loss in dB and a rating in W, divided by ; such as 10 2; 20 5"), 2, 2, FALSE, FALSE, spec->low, spec->high, 0.1, 200
  };
  g_autoptr (GArray) rows = NULL;
  if (!sp_group_rows (file, group, spec->key, &format, &rows, error))
    return FALSE;
  if (rows && rows->len > SP_PADS_MAX)
    return sp_key_fail (file, group, sp_group_find (group, spec->key), 0, error, _ ("%u pads; expected %u at most"), rows->len,
                        SP_PADS_MAX);
  if (rows)
    bench->pads = g_array_new (FALSE, FALSE, sizeof (SpPad));
  for (guint i = 0; rows && i < rows->len; i++) {
    const SpRow *row = &g_array_index (rows, SpRow, i);
    SpPad pad = { row->number[0], row->number[1] };
    g_array_append_val (bench->pads, pad);
  }
  return TRUE;
}

static void
write_pads (const SpKeySpec *spec, GString *text, gconstpointer object, G_GNUC_UNUSED gconstpointer context)
{
  const SpBench *bench = object;
  g_autoptr (GString) value = g_string_new (NULL);
  char loss[32], rating[32];
  for (guint i = 0; bench->pads && i < bench->pads->len; i++) {
    const SpPad *pad = &g_array_index (bench->pads, SpPad, i);
    g_string_append_printf (value, "%s%s %s", i ? "; " : "", sp_format_exact (pad->loss_db, loss), sp_format_exact (pad->rating_w, rating));
  }
  sp_write_text (text, spec->key, value->len ? value->str : NULL);
}

/* ---- clocks ---- */

static gboolean
read_clocks (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, G_GNUC_UNUSED gpointer context, GError **error)
{
  SpCondition *condition = object;
  const SpKey *key = sp_group_find (group, spec->key);
  if (!key)
    return TRUE;
  g_autoptr (GArray) items = sp_key_items (key), clocks = g_array_new (FALSE, FALSE, sizeof (double));
  for (guint i = 0; i < items->len; i++) {
    const SpItem *item = &g_array_index (items, SpItem, i);
    g_autofree char *found = sp_excerpt (item->text);
    double frequency_hz = 0;
    if (!sp_parse_frequency (item->text, &frequency_hz, NULL) || frequency_hz == 0)
      return sp_key_fail (file, group, key, item->offset, error,
                          _ ("found “%s”; expected frequencies greater than 0, divided by ; such as 26MHz; 19.2MHz"), found);
    g_array_append_val (clocks, frequency_hz);
  }
  if (clocks->len > CLOCKS_MAX)
    return sp_key_fail (file, group, key, 0, error, _ ("%u frequencies; expected %u at most"), clocks->len, CLOCKS_MAX);
  if (clocks->len > 0)
    condition->clocks_hz = g_steal_pointer (&clocks);
  return TRUE;
}

static void
write_clocks (const SpKeySpec *spec, GString *text, gconstpointer object, G_GNUC_UNUSED gconstpointer context)
{
  const SpCondition *condition = object;
  g_autoptr (GString) value = g_string_new (NULL);
  char digits[32];
  for (guint i = 0; condition->clocks_hz && i < condition->clocks_hz->len; i++)
    g_string_append_printf (value, "%s%s", i ? ";" : "", sp_format_exact (g_array_index (condition->clocks_hz, double, i), digits));
  sp_write_text (text, spec->key, value->len ? value->str : NULL);
}

/* ---- pinned ---- */

static void
clear_pinned (gpointer note)
{
  g_free (((SpPinnedNote *) note)->text);
}

/* "292.4MHz -30 words": blanks within the words are written as they are, `;` and `%` as %XX. */
static gboolean
parse_pinned (const char *item, SpPinnedNote *note)
{
  g_auto (GStrv) parts = g_strsplit (item, " ", 3);
  if (g_strv_length (parts) < 3 || !sp_parse_frequency (parts[0], &note->frequency_hz, NULL)
      || !sp_parse_number (parts[1], &note->level_dbm, NULL) || fabs (note->level_dbm) > PINNED_MOST_DBM)
    return FALSE;
  g_autofree char *text = g_strstrip (sp_unescape (parts[2]));
  glong length = g_utf8_strlen (text, -1);
  if (length < 1 || length > SP_PINNED_CHARACTERS)
    return FALSE;
  note->text = g_steal_pointer (&text);
  return TRUE;
}

static gboolean
read_pinned (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, G_GNUC_UNUSED gpointer context, GError **error)
{
  SpCondition *condition = object;
  const SpKey *key = sp_group_find (group, spec->key);
  if (!key)
    return TRUE;
  g_autoptr (GArray) items = sp_key_items (key), notes = g_array_new (FALSE, FALSE, sizeof (SpPinnedNote));
  g_array_set_clear_func (notes, clear_pinned);
  for (guint i = 0; i < items->len; i++) {
    const SpItem *item = &g_array_index (items, SpItem, i);
    g_autofree char *found = sp_excerpt (item->text);
    SpPinnedNote note;
    if (!parse_pinned (item->text, &note))
      return sp_key_fail (file, group, key, item->offset, error,
                          _ ("found “%s”; expected a frequency, a level in dBm and at most %u characters of words, such as 292MHz -30 "
                             "the neighbour's radio; a ; among them is written %%3B"),
                          found, SP_PINNED_CHARACTERS);
    g_array_append_val (notes, note);
  }
  if (notes->len > SP_PINNED_MAX)
    return sp_key_fail (file, group, key, 0, error, _ ("%u notes; expected %u at most"), notes->len, SP_PINNED_MAX);
  if (notes->len > 0)
    condition->pinned = g_steal_pointer (&notes);
  return TRUE;
}

static void
write_pinned (const SpKeySpec *spec, GString *text, gconstpointer object, G_GNUC_UNUSED gconstpointer context)
{
  const SpCondition *condition = object;
  g_autofree char *value = sp_pinned_text (condition->pinned, G_MAXUINT);
  sp_write_text (text, spec->key, value);
}

char *
sp_pinned_text (const GArray *pinned, guint without)
{
  g_autoptr (GString) value = g_string_new (NULL);
  char hertz[32], level[32];
  for (guint i = 0; pinned && i < pinned->len; i++) {
    const SpPinnedNote *note = &g_array_index (pinned, SpPinnedNote, i);
    g_autoptr (GString) words = g_string_new (NULL);
    g_autofree char *escaped = sp_escape (note->text);
    g_string_assign (words, escaped);
    g_string_replace (words, "%20", " ", 0); /* they come last, so a blank ends nothing */
    if (i != without)
      g_string_append_printf (value, "%s%s %s %s", value->len ? "; " : "", sp_format_exact (note->frequency_hz, hertz),
                              sp_format_exact (note->level_dbm, level), words->str);
  }
  return value->len ? g_string_free (g_steal_pointer (&value), FALSE) : NULL;
}

/* ---- the tables ---- */

static const char *const rules[] = { "guarded", "simple", NULL };
static const char *const meter_uses[] = { "anchor", "check", NULL };

#define BENCH(member) G_STRUCT_OFFSET (SpBench, member)
#define RADIO(member) G_STRUCT_OFFSET (SpRadio, member)
#define CONDITION(member) G_STRUCT_OFFSET (SpCondition, member)
#define RESOURCE(kind) .format = GINT_TO_POINTER (kind), .read = sp_sheet_read_resource, .write = sp_sheet_write_resource
#define FIELDS .named = TRUE, .not_hashed = TRUE, .read = sp_sheet_read_fields, .write = sp_sheet_write_fields
#define PICTURES .not_hashed = TRUE, .read = sp_sheet_read_pictures, .write = sp_sheet_write_pictures
#define DEGREES_C "\302\260C"

/* by hand: a table that reads by its columns */
/* clang-format off */
const SpKeySpec sp_bench_keys[] = {
  { "title",               SP_KEY_TEXT,      BENCH (title), .not_hashed = TRUE },
  { "date",                SP_KEY_DATE,      BENCH (date_day), .read = read_date, .write = write_date },
  { "operator",            SP_KEY_TEXT,      BENCH (operator_name), .not_hashed = TRUE },
  { "place",               SP_KEY_TEXT,      BENCH (place), .not_hashed = TRUE },
  { "note",                SP_KEY_TEXT,      BENCH (note), .not_hashed = TRUE },
  { "chain",               SP_KEY_FILE,      BENCH (chain), RESOURCE (SP_RESOURCE_CHAIN) },
  { "analyzer",            SP_KEY_FILE,      BENCH (analyzer), RESOURCE (SP_RESOURCE_ANALYZER) },
  { "mask",                SP_KEY_FILE,      BENCH (mask), RESOURCE (SP_RESOURCE_MASK) },
  { "second_mask",         SP_KEY_FILE,      BENCH (second_mask), RESOURCE (SP_RESOURCE_MASK) },
  { "rule",                SP_KEY_WORD,      BENCH (decision_rule), .words = rules, .written_absent = TRUE, .hashed_absent = TRUE },
  { "modulation",          SP_KEY_WORD,      BENCH (modulation), .words = sp_modulation_names },
  { "temperature_c",       SP_KEY_NUMBER,    BENCH (temperature_c), DEGREES_C, -100, 200, NAN },
  { "necessary_bandwidth", SP_KEY_FREQUENCY, BENCH (necessary_bandwidth_hz), .high = BANDWIDTH_MOST_HZ, .absent = NAN, .example = "16kHz" },
  { "unkeyed",             SP_KEY_FILE,      BENCH (unkeyed), .read = sp_sheet_read_unkeyed, .write = sp_sheet_write_unkeyed },
  { "radio_vswr",          SP_KEY_NUMBER,    BENCH (radio_vswr), NULL, 1, RADIO_VSWR_MOST, NAN, .or_infinite = TRUE },
  { "radio_harmonic_vswr", SP_KEY_NUMBER,    BENCH (radio_harmonic_vswr), NULL, 1, RADIO_VSWR_MOST, INFINITY, .or_infinite = TRUE, .hashed_absent = TRUE },
  { "check_before_dbm",    SP_KEY_NUMBER,    BENCH (check_before_dbm), "dBm", -200, 100, NAN },
  { "check_after_dbm",     SP_KEY_NUMBER,    BENCH (check_after_dbm), "dBm", -200, 100, NAN },
  { "pads_at_hand",        SP_KEY_LIST,      BENCH (pads), "dB, W", 1e-6, 1e6, .read = read_pads, .write = write_pads },
  { "document",            SP_KEY_FILE,      BENCH (document), .not_hashed = TRUE, RESOURCE (SP_RESOURCE_DOCUMENT) },
  { "letterhead",          SP_KEY_FILE,      BENCH (letterhead), .not_hashed = TRUE, RESOURCE (SP_RESOURCE_PICTURE) },
  { "picture",             SP_KEY_FILES,     BENCH (pictures), PICTURES },
  { NULL }
};

const SpKeySpec sp_radio_keys[] = {
  { "owner",               SP_KEY_TEXT,      RADIO (owner), .not_hashed = TRUE },
  { "serial",              SP_KEY_TEXT,      RADIO (serial), .not_hashed = TRUE },
  { "installed",           SP_KEY_DATE,      RADIO (installed_day), .absent = NAN },
  { "longest_key_down_s",  SP_KEY_POSITIVE,  RADIO (longest_key_down_s), "s", 0, KEY_DOWN_MOST_S, NAN },
  { "note",                SP_KEY_TEXT,      RADIO (note), .not_hashed = TRUE },
  { "field",               SP_KEY_LIST,      RADIO (fields), FIELDS },
  { "picture",             SP_KEY_FILES,     RADIO (pictures), PICTURES },
  { NULL }
};

/* All sweeps are read, written and hashed together, in the sheet's order, by the first of their rows. */
const SpKeySpec sp_condition_keys[] = {
  { "fundamental",         SP_KEY_FREQUENCY, CONDITION (fundamental_hz), .absent = NAN, .example = "146.52MHz" },
  { "rated_w",             SP_KEY_POSITIVE,  CONDITION (rated_w), "W", 0, 1e9, NAN },
  { "meter_dbm",           SP_KEY_NUMBER,    CONDITION (meter_dbm), "dBm", -200, 100, NAN },
  { "meter_u_db",          SP_KEY_NUMBER,    CONDITION (meter_u_db), "dB", 0, 100, NAN },
  { "meter",               SP_KEY_WORD,      CONDITION (meter_use), .words = meter_uses, .hashed_absent = TRUE },
  { "mode",                SP_KEY_TEXT,      CONDITION (mode) },
  { "modulation",          SP_KEY_WORD,      CONDITION (modulation), .words = sp_modulation_names },
  { "tone_hz",             SP_KEY_FREQUENCY, CONDITION (tone_hz), .absent = NAN, .example = "1kHz" },
  { "deviation_hz",        SP_KEY_FREQUENCY, CONDITION (deviation_hz), .absent = NAN, .example = "5kHz" },
  { "duty",                SP_KEY_POSITIVE,  CONDITION (duty), NULL, 0, 1, 1, .hashed_absent = TRUE },
  { "necessary_bandwidth", SP_KEY_FREQUENCY, CONDITION (necessary_bandwidth_hz), .high = BANDWIDTH_MOST_HZ, .absent = NAN, .example = "16kHz" },
  { "clocks",              SP_KEY_LIST,      CONDITION (clocks_hz), .spelling = SP_SPELL_FREQUENCIES, .read = read_clocks, .write = write_clocks },
  { "pinned",              SP_KEY_LIST,      CONDITION (pinned), .not_hashed = TRUE, .read = read_pinned, .write = write_pinned },
  { "field",               SP_KEY_LIST,      CONDITION (fields), FIELDS },
  { "chain",               SP_KEY_FILE,      CONDITION (chain), RESOURCE (SP_RESOURCE_CHAIN) },
  { "analyzer",            SP_KEY_FILE,      CONDITION (analyzer), RESOURCE (SP_RESOURCE_ANALYZER) },
  { "mask",                SP_KEY_FILE,      CONDITION (mask), RESOURCE (SP_RESOURCE_MASK) },
  { "second_mask",         SP_KEY_FILE,      CONDITION (second_mask), RESOURCE (SP_RESOURCE_MASK) },
  { "keyed",               SP_KEY_FILES,     CONDITION (sweeps), .read = sp_sheet_read_sweeps, .write = sp_sheet_write_sweeps },
  { "unkeyed",             SP_KEY_FILES,     CONDITION (sweeps) },
  { "step",                SP_KEY_FILES,     CONDITION (sweeps), "dB" },
  { "step_chain",          SP_KEY_FILE,      CONDITION (sweeps) },
  { "notched",             SP_KEY_FILES,     CONDITION (sweeps) },
  { "notched_chain",       SP_KEY_FILE,      CONDITION (sweeps) },
  { "superseded",          SP_KEY_FILES,     CONDITION (sweeps) },
  { NULL }
};
/* clang-format on */

const char *
sp_decision_rule_name (SpDecisionRule rule)
{
  return rules[rule];
}
