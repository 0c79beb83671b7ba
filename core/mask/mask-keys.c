/* mask-keys.c - the keys of a mask and of its rules, each declared once, with those that are more than one value */
#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/mask/mask-private.h"
#include "core/quantity/error.h"
#include "core/quantity/text.h"
#include "core/quantity/writer.h"

#define EXCLUDE_BANDWIDTHS 2.5 /* ITU-R SM.1539: the out-of-band domain ends at 250 % of the necessary bandwidth */
#define HARMONICS 10           /* as 47 CFR 2.1057(a)(1) for equipment below 10 GHz */
#define EDGE "([^\\s<>]+(?:\\s+[kMG]?Hz)?)"
#define NUMBER "([-+]?[0-9.]+)"

/* What a rule's range is over, by SpRangeKind. */
static const char *const places[] = { "emission", "offset", "offset_bandwidths" };

/* ---- ranges ---- */

#define EDGE_MOST 1e9 /* W, or bandwidths; bounds what can be meant */

typedef gboolean (*ParseEdge) (const char *text, double *value, GError **error);

/* An error that shows the value and says why not, or what was expected. Always FALSE. */
static gboolean
fail_value (SpKeyFile *file, SpGroup *group, const SpKey *key, GError **error, const char *why)
{
  g_autofree char *excerpt = sp_excerpt (key->value);
  return sp_key_fail (file, group, key, 0, error, _ ("found “%s”; %s"), excerpt, why);
}

static gboolean
parse_finite (const char *text, double *value, GError **error)
{
  if (!sp_parse_number (text, value, error))
    return FALSE;
  return (*value >= 0 && *value <= EDGE_MOST)
         || sp_fail (error, SP_ERROR_USAGE, _ ("found “%s”; expected at least 0, and at most %g or inf"), text, EDGE_MOST);
}

/* One edge of a range, whose place in the value is that of the match's group `index`. */
static gboolean
read_edge (SpKeyFile *file, SpGroup *group, const SpKey *key, GMatchInfo *match, int index, ParseEdge parse, SpEdge *edge, GError **error)
{
  g_autofree char *sign = g_match_info_fetch (match, index), *text = g_match_info_fetch (match, index + 1);
  g_autoptr (GError) why = NULL;
  int start = 0;
  g_match_info_fetch_pos (match, index + 1, &start, NULL);
  guint offset = g_utf8_strlen (key->value, start);
  if (*sign)
    edge->closed = strchr (sign, '=') != NULL;
  if (g_ascii_strcasecmp (text, "inf") == 0)
    edge->value = INFINITY;
  else if (!parse (text, &edge->value, &why))
    return sp_key_fail (file, group, key, offset, error, "%s", why->message);
  return TRUE;
}

/* `LOW HIGH` with an optional sign of comparison before each. */
static gboolean
read_range (SpKeyFile *file, SpGroup *group, const char *name, ParseEdge parse, SpEdge *low, SpEdge *high, GError **error)
{
  const SpKey *key = sp_group_find (group, name);
  if (!key)
    return TRUE;
  g_autoptr (GRegex) regex = g_regex_new ("^(>=?|)\\s*" EDGE "(?:\\s+|(?=<))(<=?|)\\s*" EDGE "$", G_REGEX_CASELESS, 0, NULL);
  g_autoptr (GMatchInfo) match = NULL;
  if (!g_regex_match (regex, key->value, 0, &match))
    return fail_value (file, group, key, error,
                       parse == sp_parse_frequency ? _ ("expected two edges, the lower first, such as 30MHz 225MHz")
                                                   : _ ("expected two edges, the lower first, such as 0 25"));
  if (!read_edge (file, group, key, match, 1, parse, low, error) || !read_edge (file, group, key, match, 3, parse, high, error))
    return FALSE;
  if (!(low->value < high->value))
    return fail_value (file, group, key, error, _ ("an empty or reversed range; expected the lower edge first"));
  return TRUE;
}

/* An edge's mark is written only where it is not what the key means without it. */
static void
put_range (GString *out, const char *key, SpEdge low, SpEdge high, gboolean low_closed)
{
  char a[32], b[32];
  sp_format_exact (low.value, a);
  sp_format_exact (high.value, b);
  g_string_append_printf (out, "%s=%s%s %s%s\n", key,
                          low.closed == low_closed ? ""
                          : low.closed             ? ">="
                                                   : ">",
                          a, high.closed ? "" : "<", isinf (high.value) ? "inf" : b);
}

static gboolean
read_search (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, G_GNUC_UNUSED gpointer context, GError **error)
{
  SpMask *mask = object;
  SpEdge low = { mask->search_low_hz, TRUE }, high = { mask->search_high_hz, TRUE };
  if (!read_range (file, group, spec->key, sp_parse_frequency, &low, &high, error))
    return FALSE;
  if (isinf (high.value))
    return sp_key_fail (file, group, sp_group_find (group, spec->key), 0, error,
                        _ ("a range to be swept has an end; expected two frequencies"));
  mask->search_low_hz = low.value;
  mask->search_high_hz = high.value;
  return TRUE;
}

static void
write_search (const SpKeySpec *spec, GString *text, gconstpointer object, G_GNUC_UNUSED gconstpointer context)
{
  const SpMask *mask = object;
  if (!isnan (mask->search_low_hz))
    put_range (text, spec->key, (SpEdge){ mask->search_low_hz, TRUE }, (SpEdge){ mask->search_high_hz, TRUE }, TRUE);
}

/* The fundamental, and the power class, whose lower edge is outside where no mark says otherwise. */
static gboolean
read_edges (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, G_GNUC_UNUSED gpointer context, GError **error)
{
  SpEdges *edges = sp_key_member (spec, object);
  return read_range (file, group, spec->key, spec->unit ? parse_finite : sp_parse_frequency, &edges->low, &edges->high, error);
}

static void
write_edges (const SpKeySpec *spec, GString *text, gconstpointer object, G_GNUC_UNUSED gconstpointer context)
{
  const SpEdges *edges = sp_key_member (spec, object);
  put_range (text, spec->key, edges->low, edges->high, !spec->unit);
}

/* `emission`, `offset` or `offset_bandwidths`: one of them, or the whole spectrum. */
static gboolean
read_place (G_GNUC_UNUSED const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, G_GNUC_UNUSED gpointer context,
            GError **error)
{
  SpMaskRule *rule = object;
  const char *first = NULL;
  for (guint i = 0; i < G_N_ELEMENTS (places); i++) {
    const SpKey *key = sp_group_find (group, places[i]);
    if (!key)
      continue;
    if (first)
      return sp_key_fail (file, group, key, 0, error,
                          _ ("the rule has %s= already; a rule reaches over one kind of range, make two rules of it"), first);
    first = places[i];
    rule->range = i;
    if (!read_range (file, group, first, i == SP_RANGE_BANDWIDTHS ? parse_finite : sp_parse_frequency, &rule->low, &rule->high, error))
      return FALSE;
  }
  return TRUE;
}

static void
write_place (G_GNUC_UNUSED const SpKeySpec *spec, GString *text, gconstpointer object, G_GNUC_UNUSED gconstpointer context)
{
  const SpMaskRule *rule = object;
  put_range (text, places[rule->range], rule->low, rule->high, TRUE);
}

/* ---- attenuation ---- */

/* "43 + 10 log P" */
static gboolean
parse_with_power (const char *text, double *a, double *b)
{
  g_autoptr (GRegex) regex = g_regex_new ("^" NUMBER "\\s*([-+])\\s*([0-9.]+)\\s*\\*?\\s*(?:log|lg)(?:10)?\\s*\\(?\\s*P\\s*\\)?$",
                                          G_REGEX_CASELESS, 0, NULL);
  g_autoptr (GMatchInfo) match = NULL;
  if (!g_regex_match (regex, text, 0, &match))
    return FALSE;
  g_autofree char *first = g_match_info_fetch (match, 1), *sign = g_match_info_fetch (match, 2), *second = g_match_info_fetch (match, 3);
  if (!sp_parse_number (first, a, NULL) || !sp_parse_number (second, b, NULL))
    return FALSE;
  *b = *sign == '-' ? -*b : *b;
  return TRUE;
}

/* "40", or "40 60": from the first to the last frequency of emission. */
static gboolean
parse_plain (const char *text, double *first, double *last)
{
  g_auto (GStrv) parts = g_regex_split_simple ("\\s+", text, 0, 0);
  guint n = g_strv_length (parts);
  if (n < 1 || n > 2 || !sp_parse_number (parts[0], first, NULL))
    return FALSE;
  return n == 1 || sp_parse_number (parts[1], last, NULL);
}

static gboolean
read_attenuation (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, G_GNUC_UNUSED gpointer context, GError **error)
{
  SpMaskRule *rule = object;
  const SpKey *key = sp_group_find (group, spec->key);
  if (!key)
    return TRUE;
  rule->has_attenuation = TRUE;
  if (!parse_with_power (key->value, &rule->a_db, &rule->b_db) && !parse_plain (key->value, &rule->a_db, &rule->a_end_db))
    return fail_value (file, group, key, error, _ ("expected a number of dB (40), `43 + 10 log P`, or two numbers (40 60)"));
  if (fabs (rule->a_db) > 300 || fabs (rule->b_db) > 300 || fabs (rule->a_end_db) > 300)
    return fail_value (file, group, key, error, _ ("expected numbers within 300 dB"));
  if ((rule->b_db == 0 && rule->a_db < 0) || rule->a_end_db < 0)
    return fail_value (file, group, key, error, _ ("a limit above the carrier; expected an attenuation of 0 to 300 dB"));
  if (!isnan (rule->a_end_db) && (rule->range != SP_RANGE_ABSOLUTE || !(rule->low.value > 0) || isinf (rule->high.value)))
    return fail_value (file, group, key, error, _ ("two attenuations run along log f; expected emission= with both its edges, above 0 Hz"));
  return TRUE;
}

static void
write_attenuation (const SpKeySpec *spec, GString *text, gconstpointer object, G_GNUC_UNUSED gconstpointer context)
{
  const SpMaskRule *rule = object;
  char a[32], b[32];
  sp_format_exact (rule->a_db, a);
  if (!rule->has_attenuation)
    return;
  if (rule->b_db != 0)
    g_string_append_printf (text, "%s=%s %c %s log P\n", spec->key, a, rule->b_db < 0 ? '-' : '+', sp_format_exact (fabs (rule->b_db), b));
  else if (!isnan (rule->a_end_db))
    g_string_append_printf (text, "%s=%s %s\n", spec->key, a, sp_format_exact (rule->a_end_db, b));
  else
    sp_write_number (text, spec->key, rule->a_db);
}

/* ---- what a rule has of [mask] where it does not say it itself ---- */

static gboolean
read_reference_bandwidth (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, G_GNUC_UNUSED gpointer context,
                          GError **error)
{
  double *bandwidth_hz = sp_key_member (spec, object);
  return sp_group_frequency (file, group, spec->key, bandwidth_hz, error)
         && (*bandwidth_hz != 0
             || sp_key_fail (file, group, sp_group_find (group, spec->key), 0, error,
                             _ ("a bandwidth of 0 Hz; expected more, or no such key")));
}

/* The context is the mask's warnings. */
static gboolean
read_detector (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, gpointer context, GError **error)
{
  SpMaskRule *rule = object;
  int detector = -1;
  if (!sp_group_choice (file, group, spec->key, spec->words, &detector, error))
    return FALSE;
  if (detector < 0)
    return TRUE;
  const SpKey *key = sp_group_find (group, spec->key);
  g_free (rule->detector);
  rule->detector = g_strdup (spec->words[detector]);
  sp_reasons_add (context,
                  sp_reason (NOT_YET_USED, .file = sp_key_file_name (file), .group = group->name, .key = spec->key, .line = key->line));
  return TRUE;
}

static void
write_detector (const SpKeySpec *spec, GString *text, gconstpointer object, G_GNUC_UNUSED gconstpointer context)
{
  sp_write_text (text, spec->key, ((const SpMaskRule *) object)->detector);
}

/* ---- the tables ---- */

static const char *const detectors[] = { "peak", "sample", "rms", "average", "negative", "normal", "quasi-peak", NULL };
static const char *const powers[] = { "mean", "pep", NULL };

#define MASK(member) G_STRUCT_OFFSET (SpMask, member)
#define RULE(member) G_STRUCT_OFFSET (SpMaskRule, member)

/* by hand: a table that reads by its columns */
/* clang-format off */
const SpKeySpec sp_mask_keys[] = {
  { "name",                SP_KEY_TEXT,      MASK (title) },
  { "authority",           SP_KEY_TEXT,      MASK (authority) },
  { "clause",              SP_KEY_TEXT,      MASK (clause) },
  { "edition",             SP_KEY_TEXT,      MASK (edition) },
  { "note",                SP_KEY_TEXT,      MASK (note) },
  { "harmonics",           SP_KEY_COUNT,     MASK (harmonics), NULL, 1, 100, HARMONICS, .written_absent = TRUE },
  { "search",              SP_KEY_SPAN,      MASK (search_low_hz), .spelling = SP_SPELL_FREQUENCIES, .read = read_search, .write = write_search },
  { "exclude",             SP_KEY_NUMBER,    MASK (exclude_bandwidths), NULL, 0, 1000, EXCLUDE_BANDWIDTHS, .written_absent = TRUE },
  { "advisory",            SP_KEY_YES_NO,    MASK (advisory) },
  { NULL }
};

const SpKeySpec sp_mask_rule_keys[] = {
  { "fundamental",         SP_KEY_SPAN,      RULE (f0), .spelling = SP_SPELL_FREQUENCIES, .read = read_edges, .write = write_edges },
  { "power_w",             SP_KEY_SPAN,      RULE (p), "W", 0, INFINITY, .read = read_edges, .write = write_edges },
  { "emission",            SP_KEY_SPAN,      RULE (low), .spelling = SP_SPELL_FREQUENCIES, .read = read_place, .write = write_place },
  { "offset",              SP_KEY_SPAN,      RULE (low), .spelling = SP_SPELL_FREQUENCIES },
  { "offset_bandwidths",   SP_KEY_SPAN,      RULE (low) },
  { "attenuation_db",      SP_KEY_FORMULA,   RULE (a_db), "dB", -300, 300, .read = read_attenuation, .write = write_attenuation },
  { "ceiling_dbm",         SP_KEY_NUMBER,    RULE (ceiling_dbm), "dBm", -300, 300, NAN },
  { "relief_dbm",          SP_KEY_NUMBER,    RULE (relief_dbm), "dBm", -300, 300, NAN },
  { NULL }
};

const SpKeySpec sp_mask_shared_keys[] = {
  { "reference_bandwidth", SP_KEY_FREQUENCY, RULE (reference_bandwidth_hz), .absent = NAN, .read = read_reference_bandwidth },
  { "detector",            SP_KEY_WORD,      RULE (detector), .words = detectors, .read = read_detector, .write = write_detector },
  { "power",               SP_KEY_WORD,      RULE (power), .words = powers, .written_absent = TRUE },
  { "exclude",             SP_KEY_NUMBER,    RULE (exclude_bandwidths), NULL, 0, 1000, EXCLUDE_BANDWIDTHS, .written_absent = TRUE },
  { NULL }
};
/* clang-format on */
