/* mask-file.c - the reader of .mask files */
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/mask/mask-private.h"
#include "core/quantity/error.h"
#include "core/quantity/text.h"

#define RULES_MAX 100          /* a person writes these; segments grow with the square of it */
#define EXCLUDE_BANDWIDTHS 2.5 /* ITU-R SM.1539: the out-of-band domain ends at 250 % of the necessary bandwidth */
#define HARMONICS 10           /* as 47 CFR 2.1057(a)(1) for equipment below 10 GHz */
#define EDGE "([^\\s<>]+(?:\\s+[kMG]?Hz)?)"
#define NUMBER "([-+]?[0-9.]+)"

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
  return *value >= 0 || sp_fail (error, SP_ERROR_USAGE, _ ("found “%s”; expected at least 0"), text);
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

/* `emission`, `offset` or `offset_bandwidths`: one of them, or the whole spectrum. */
static gboolean
read_place (SpKeyFile *file, SpGroup *group, SpRule *rule, GError **error)
{
  static const char *const names[] = { "emission", "offset", "offset_bandwidths" };
  const char *first = NULL;
  for (guint i = 0; i < G_N_ELEMENTS (names); i++) {
    const SpKey *key = sp_group_find (group, names[i]);
    if (!key)
      continue;
    if (first)
      return sp_key_fail (file, group, key, 0, error,
                          _ ("the rule has %s= already; a rule reaches over one kind of range, make two rules of it"), first);
    first = names[i];
    rule->range = i;
    if (!read_range (file, group, first, i == SP_RANGE_BANDWIDTHS ? parse_finite : sp_parse_frequency, &rule->low, &rule->high, error))
      return FALSE;
  }
  return TRUE;
}

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
read_attenuation (SpKeyFile *file, SpGroup *group, SpRule *rule, GError **error)
{
  const SpKey *key = sp_group_find (group, "attenuation_db");
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

/* The keys that may stand in [mask] and in a rule, where they win. */
static gboolean
read_shared (SpKeyFile *file, SpGroup *group, SpRule *rule, GPtrArray *warnings, GError **error)
{
  static const char *const detectors[] = { "peak", "sample", "rms", "average", "negative", "normal", "quasi-peak", NULL };
  static const char *const powers[] = { "mean", "pep", NULL };
  int detector = -1, power = rule->power;
  if (!sp_group_frequency (file, group, "reference_bandwidth", &rule->reference_bandwidth_hz, error)
      || !sp_group_choice (file, group, "detector", detectors, &detector, error)
      || !sp_group_choice (file, group, "power", powers, &power, error)
      || !sp_group_number (file, group, "exclude", 0, 1000, &rule->exclude_bandwidths, error))
    return FALSE;
  if (rule->reference_bandwidth_hz == 0)
    return sp_key_fail (file, group, sp_group_find (group, "reference_bandwidth"), 0, error,
                        _ ("a bandwidth of 0 Hz; expected more, or no such key"));
  rule->power = power;
  if (detector >= 0) {
    const SpKey *key = sp_group_find (group, "detector");
    g_free (rule->detector);
    rule->detector = g_strdup (detectors[detector]);
    sp_reasons_add (warnings,
                    sp_reason (NOT_YET_USED, .file = sp_key_file_name (file), .group = group->name, .key = "detector", .line = key->line));
  }
  return TRUE;
}

/* A rule without a number: what it has in its place may be a key that was taken for ours. Always FALSE. */
static gboolean
fail_no_number (SpKeyFile *file, SpGroup *group, GError **error)
{
  g_autoptr (GString) unknown = g_string_new (NULL);
  guint line = group->line;
  for (guint i = 0; i < group->keys->len; i++) {
    const SpKey *key = group->keys->pdata[i];
    if (key->used)
      continue;
    line = unknown->len ? line : key->line;
    g_string_append_printf (unknown, "%s%s=", unknown->len ? ", " : "", key->key);
  }
  if (unknown->len)
    return sp_fail_at (
        error, sp_key_file_name (file), line, 1,
        _ ("[%s] sets no number, and a rule has no key %s; expected attenuation_db= or ceiling_dbm= (relief_dbm alone asks nothing)"),
        group->name, unknown->str);
  return sp_fail_at (error, sp_key_file_name (file), group->line, 1,
                     _ ("[%s] sets no number; expected attenuation_db= or ceiling_dbm= (relief_dbm alone asks nothing)"), group->name);
}

static gboolean
read_rule (SpKeyFile *file, SpGroup *group, SpRule *rule, GPtrArray *warnings, GError **error)
{
  group->used = TRUE;
  rule->name = g_strdup (group->name);
  rule->f0_low = rule->low = (SpEdge){ 0, TRUE };
  rule->f0_high = rule->p_high = rule->high = (SpEdge){ INFINITY, TRUE };
  rule->p_low = (SpEdge){ 0, FALSE };
  rule->a_end_db = rule->ceiling_dbm = rule->relief_dbm = NAN;
  if (!read_range (file, group, "fundamental", sp_parse_frequency, &rule->f0_low, &rule->f0_high, error)
      || !read_range (file, group, "power_w", parse_finite, &rule->p_low, &rule->p_high, error) || !read_place (file, group, rule, error)
      || !read_attenuation (file, group, rule, error) || !sp_group_number (file, group, "ceiling_dbm", -300, 300, &rule->ceiling_dbm, error)
      || !sp_group_number (file, group, "relief_dbm", -300, 300, &rule->relief_dbm, error)
      || !read_shared (file, group, rule, warnings, error))
    return FALSE;
  if (!rule->has_attenuation && isnan (rule->ceiling_dbm))
    return fail_no_number (file, group, error);
  return TRUE;
}

static gboolean
read_head (SpKeyFile *file, SpGroup *group, SpMask *mask, SpRule *defaults, GError **error)
{
  double harmonics = HARMONICS;
  SpEdge low = { NAN, TRUE }, high = { NAN, TRUE };
  if (!sp_group_text (file, group, "name", &mask->title, error) || !sp_group_text (file, group, "authority", &mask->authority, error)
      || !sp_group_text (file, group, "clause", &mask->clause, error) || !sp_group_text (file, group, "edition", &mask->edition, error)
      || !sp_group_text (file, group, "note", &mask->note, error) || !sp_group_yes_no (file, group, "advisory", &mask->advisory, error)
      || !sp_group_number (file, group, "harmonics", 1, 100, &harmonics, error)
      || !read_range (file, group, "search", sp_parse_frequency, &low, &high, error)
      || !read_shared (file, group, defaults, mask->warnings, error))
    return FALSE;
  if (harmonics != floor (harmonics))
    return sp_key_fail (file, group, sp_group_find (group, "harmonics"), 0, error, _ ("expected a whole number, 1 to 100"));
  if (isinf (high.value))
    return sp_key_fail (file, group, sp_group_find (group, "search"), 0, error,
                        _ ("a range to be swept has an end; expected two frequencies"));
  mask->harmonics = harmonics;
  mask->search_low_hz = low.value;
  mask->search_high_hz = high.value;
  mask->exclude_bandwidths = defaults->exclude_bandwidths;
  return TRUE;
}

static gboolean
read_rules (SpKeyFile *file, SpMask *mask, const SpRule *defaults, GError **error)
{
  guint n = sp_key_file_n_groups (file);
  mask->rules = g_new0 (SpRule, MIN (n, RULES_MAX));
  for (guint i = 0; i < n; i++) {
    SpGroup *group = sp_key_file_group (file, i);
    if (!g_str_has_prefix (group->name, "rule ") && strcmp (group->name, "rule") != 0)
      continue;
    if (mask->n == RULES_MAX)
      return sp_fail_at (error, sp_key_file_name (file), group->line, 1, _ ("more than %d rules; split the mask in two"), RULES_MAX);
    SpRule *rule = &mask->rules[mask->n++];
    *rule = *defaults;
    rule->detector = g_strdup (defaults->detector);
    if (!read_rule (file, group, rule, mask->warnings, error))
      return FALSE;
  }
  return mask->n > 0
         || sp_fail_at (error, sp_key_file_name (file), 0, 0, _ ("the mask has no rule; expected at least one group [rule NAME]"));
}

static gboolean
read_mask (SpKeyFile *file, SpMask *mask, GError **error)
{
  SpRule defaults = { .reference_bandwidth_hz = NAN, .exclude_bandwidths = EXCLUDE_BANDWIDTHS };
  SpGroup *head = sp_key_file_find (file, "mask");
  if (!head)
    return sp_fail_at (error, sp_key_file_name (file), 1, 1, _ ("there is no group [mask]; expected a mask file, which begins with it"));
  gboolean good = read_head (file, head, mask, &defaults, error) && read_rules (file, mask, &defaults, error);
  g_free (defaults.detector);
  return good;
}

SpMask *
sp_mask_parse (SpKeyFile *file, GError **error)
{
  g_autoptr (SpMask) mask = g_atomic_rc_box_new0 (SpMask);
  mask->warnings = sp_reasons_new ();
  mask->file = g_strdup (sp_key_file_name (file));
  if (!read_mask (file, mask, error))
    return NULL;
  if (mask->title && *mask->title)
    mask->name = g_strdup (mask->title);
  else {
    mask->name = g_path_get_basename (mask->file);
    char *dot = strrchr (mask->name, '.');
    if (dot && dot > mask->name)
      *dot = '\0';
  }
  sp_key_file_unknown (file, mask->warnings);
  mask->text = sp_mask_text (mask, file);
  mask->sha256 = g_compute_checksum_for_string (G_CHECKSUM_SHA256, mask->text, -1);
  return g_steal_pointer (&mask);
}
