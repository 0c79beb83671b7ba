/* keys.c - what each table of keys declares holds: a value that is set is hashed (or not) as its row says, is written and read back, and is refused
 * beyond its range */
#include "tests/book/shelf.h"

#include "tests/keys/tables.h"

#include "core/bench/edit/edit.h"

/* ---- one value for every kind ---- */

static double
inside (const SpKeySpec *spec)
{
  double low = fmax (spec->low, -1000), high = fmin (spec->high, 1000);
  double value = low + (high - low) / 4;
  return spec->kind == SP_KEY_COUNT ? floor (value) : value;
}

/* In the file's spelling; NULL: of this kind nothing is tried here. (transfer full) */
static char *
sample (const SpKeySpec *spec)
{
  static const struct {
    const char *key, *value;
  } own[] = {
    { "pads_at_hand", "10 2; 20 5" },
    { "clocks", "26000000;19200000" },
    { "parts", "conditions; front" },
    { "language", "en" },
    { "pinned", "292000000 -30 the neighbour" },
    { "field", "2.14, \303\251lan # 3" },
    { "mask", "us-frs" },
    { "second_mask", "us-frs" },
    { "span", "0 3000000000" },
    { "harmonic_intercepts_dbm", "4 30; 5 28" },
    { "derating", "25 25; 100 5" },
    { "attenuator_steps_db", "0; 10" },
    { "rbw_steps", "1000; 3000" },
    { "sweep_s", "10000 1000000000 12" },
    { "residuals", "120000000 -105" },
    { "extra", "leakage 0.002" },
    { "before", "-30.5@1" },
    { "inserted", "-40.5@2" },
    { "after", "-30.25@3" },
    { "shows", "-10.5; -10.25" },
    { "search", "1000000 3000000000" },
    { "fundamental", "1000000 30000000" },
    { "power_w", "0 25" },
    { "emission", "1000000 3000000000" },
    { "offset", "0 1000000" },
    { "offset_bandwidths", "0 2.5" },
    { "attenuation_db", "43 + 10 log P" },
  };
  gboolean simple = spec->kind < SP_KEY_LIST;
  for (guint i = 0; i < G_N_ELEMENTS (own) && !simple; i++)
    if (strcmp (own[i].key, spec->key) == 0)
      return g_strdup (own[i].value);
  switch (spec->kind) {
  case SP_KEY_TEXT: return g_strdup ("another");
  case SP_KEY_DATE: return g_strdup ("2024-02-29");
  case SP_KEY_NUMBER:
  case SP_KEY_POSITIVE:
  case SP_KEY_COUNT: return g_strdup_printf ("%.15g", inside (spec));
  case SP_KEY_FREQUENCY: return g_strdup ("12345");
  case SP_KEY_WORD: return g_strdup (spec->words[g_strv_length ((char **) spec->words) - 1]);
  case SP_KEY_YES_NO: return g_strdup ("yes");
  case SP_KEY_CURVE: return g_strdup_printf ("1000000 %.15g; 2000000 %.15g", inside (spec), inside (spec));
  default: return NULL;
  }
}

/* A value that the row forbids; NULL: it forbids none. (transfer full) */
static char *
beyond (const SpKeySpec *spec)
{
  gboolean number = spec->kind == SP_KEY_NUMBER || spec->kind == SP_KEY_POSITIVE || spec->kind == SP_KEY_COUNT;
  if (spec->kind == SP_KEY_WORD || spec->kind == SP_KEY_YES_NO)
    return g_strdup ("perhaps");
  if (spec->kind == SP_KEY_FREQUENCY)
    return spec->high > 0 ? g_strdup_printf ("%.15g", spec->high * 2) : g_strdup ("0");
  if (number && isfinite (spec->high))
    return g_strdup_printf ("%.15g", spec->high * 2 + 1);
  return number ? g_strdup_printf ("%.15g", spec->low - 1) : NULL;
}

/* ---- the sheet, by edits ---- */

static SpBench *
set_in_sheet (const SpBench *bench, const SpKeySpec *keys, const char *key, const char *value, GError **error)
{
  return keys == sp_bench_keys   ? sp_bench_set (bench, key, value, error)
         : keys == sp_radio_keys ? sp_bench_set_radio (bench, 0, key, value, error)
                                 : sp_bench_set_condition (bench, 0, key, value, error);
}

static char *
get_from_sheet (const SpBench *bench, const SpKeySpec *keys, const char *key)
{
  return keys == sp_bench_keys   ? sp_bench_get (bench, key)
         : keys == sp_radio_keys ? sp_bench_get_radio (bench, 0, key)
                                 : sp_bench_get_condition (bench, 0, key);
}

static void
try_in_sheet (const SpBench *bench, const SpKeySpec *keys, const SpKeySpec *spec)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *value = sample (spec), *wrong = beyond (spec);
  g_autofree char *key = spec->named ? g_strconcat (spec->key, ".Firmware (of 2)", NULL) : g_strdup (spec->key);
  gboolean sheet_frequency = spec->kind == SP_KEY_FREQUENCY;
  if (value) {
    g_autoptr (SpBench) without = set_in_sheet (bench, keys, key, NULL, NULL); /* NULL: it cannot do without */
    const SpBench *plain = without ? without : bench;
    g_autoptr (SpBench) edited = set_in_sheet (plain, keys, key, value, &error);
    sp_no_error (error);
    g_autofree char *got = get_from_sheet (edited, keys, key);
    ck_assert_msg (g_strcmp0 (got, value) == 0, "%s: wrote %s, read %s", spec->key, value, got);
    ck_assert_msg (g_str_equal (edited->sha256, plain->sha256) == spec->not_hashed, "%s: the hash %s", spec->key,
                   spec->not_hashed ? "changes" : "does not change");
  }
  if (wrong) {
    ck_assert_msg (!set_in_sheet (bench, keys, key, wrong, &error), "%s takes %s", spec->key, wrong);
    ck_assert_ptr_nonnull (strstr (error->message, sheet_frequency ? "greater than 0" : "expected"));
  }
}

START_TEST (a_sheets_keys)
{
  make_folder ();
  g_autoptr (SpBench) bench = shelf_bench ();
  static const SpKeySpec *const tables[] = { sp_bench_keys, sp_radio_keys, sp_condition_keys };
  for (guint i = 0; i < G_N_ELEMENTS (tables); i++)
    for (const SpKeySpec *spec = tables[i]; spec->key; spec++)
      try_in_sheet (bench, tables[i], spec);
  remove_folder ();
}
END_TEST

/* ---- the other files, by their text ---- */

typedef struct {
  const char *group, *text;
  const SpKeySpec *keys;
} Kind;

static const Kind file_kinds[] = {
  { "chain", "[chain]\nname=c\nstages=s\n[stage s]\nkind=cable\n", sp_chain_keys },
  { "stage s", "[chain]\nname=c\nstages=s\n[stage s]\nkind=pad\npoints=1MHz 1; 2MHz 1.5\n", sp_stage_keys },
  { "analyzer", "[analyzer]\nname=a\n", sp_analyzer_keys },
  { "mask", "[mask]\nname=m\n[rule r]\nceiling_dbm=-30\n", sp_mask_keys },
  { "mask", "[mask]\nname=m\n[rule r]\nceiling_dbm=-30\n", sp_mask_shared_keys },
  { "rule r", "[mask]\nname=m\n[rule r]\nceiling_dbm=-30\n", sp_mask_rule_keys },
  { "rule r", "[mask]\nname=m\n[rule r]\nceiling_dbm=-30\n", sp_mask_shared_keys },
  { "report", "[report]\n", sp_document_keys },
  { "remark A b", "[report]\n[remark A b]\n", sp_remark_keys },
  { "run", "[run]\nstage=s\n[at 1MHz]\nbefore=-1@1\ninserted=-2@2\n", sp_run_keys },
  { "at 1MHz", "[run]\nstage=s\n[at 1MHz]\nbefore=-1@1\ninserted=-2@2\n", sp_run_at_keys },
  { "check", "[check]\nanalyzer=a\n[at 1MHz]\nlevel=-10\nshows=-10.5\n", sp_check_keys },
  { "at 1MHz", "[check]\nanalyzer=a\n[at 1MHz]\nlevel=-10\nshows=-10.5\n", sp_check_at_keys },
};

/* The canonical text and its hash; NULL and an error. (transfer full) */
static char *
read_text (const char *text, char **hash, GError **error)
{
  g_autoptr (SpKeyFile) file = sp_key_file_parse (text, strlen (text), "kind", error);
  sp_no_error (*error);
  if (g_str_has_prefix (text, "[check]")) {
    g_autoptr (SpCheck) check = sp_check_parse (file, FALSE, error);
    *hash = check ? g_strdup (check->sha256) : NULL;
    return check ? g_strdup (check->text) : NULL;
  }
  if (g_str_has_prefix (text, "[report]")) {
    g_autoptr (SpDocument) document = sp_document_parse (text, strlen (text), "kind", NULL, error);
    *hash = document ? g_strdup (document->sha256) : NULL;
    return document ? g_strdup (document->text) : NULL;
  }
  if (text[1] == 'c') {
    g_autoptr (SpChain) chain = sp_chain_parse (file, error);
    *hash = chain ? g_strdup (chain->sha256) : NULL;
    return chain ? g_strdup (chain->text) : NULL;
  }
  if (text[1] == 'a') {
    g_autoptr (SpAnalyzer) analyzer = sp_analyzer_parse (file, error);
    *hash = analyzer ? g_strdup (analyzer->sha256) : NULL;
    return analyzer ? g_strdup (analyzer->text) : NULL;
  }
  if (text[1] == 'm') {
    g_autoptr (SpMask) mask = sp_mask_parse (file, error);
    *hash = mask ? g_strdup (mask->sha256) : NULL;
    return mask ? g_strdup (mask->text) : NULL;
  }
  g_autoptr (SpRun) run = sp_run_parse (file, FALSE, error);
  *hash = run ? g_strdup (run->sha256) : NULL;
  return run ? g_strdup (run->text) : NULL;
}

/* TRUE where the value comes back from the file's own text as it was set. */
static gboolean
comes_back (const Kind *kind, const SpKeySpec *spec, const char *value, const char *text)
{
  gboolean of_rule = kind->keys == sp_mask_shared_keys, kept_as_another = g_str_equal (spec->key, "third_order_intercept_dbm");
  g_autofree char *got = sp_key_text_get (text, of_rule ? "rule r" : kind->group, spec->key);
  return kept_as_another ? got == NULL : g_strcmp0 (got, value) == 0;
}

static void
try_in_text (const Kind *kind, const SpKeySpec *spec)
{
  g_autofree char *value = sample (spec), *wrong = beyond (spec), *before = NULL, *after = NULL, *none = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *plain = read_text (kind->text, &before, &error);
  if (value) {
    g_autofree char *changed = sp_key_text_set (kind->text, kind->group, spec->key, value, &error);
    g_autofree char *text = read_text (changed, &after, &error);
    sp_no_error (error);
    ck_assert_msg (comes_back (kind, spec, value, text), "[%s] %s: wrote %s, read back\n%s", kind->group, spec->key, value, text);
    ck_assert_msg (!g_str_equal (before, after), "[%s] %s: the hash does not change", kind->group, spec->key);
  }
  if (wrong) {
    g_autofree char *changed = sp_key_text_set (kind->text, kind->group, spec->key, wrong, &error);
    ck_assert_msg (!read_text (changed, &none, &error), "[%s] %s takes %s", kind->group, spec->key, wrong);
    g_autofree char *place = g_strdup_printf ("[%s] %s: ", kind->group, spec->key);
    ck_assert_msg (strstr (error->message, place) != NULL, "%s: %s", place, error->message);
  }
}

START_TEST (keys_of_a_file)
{
  for (const SpKeySpec *spec = file_kinds[_i].keys; spec->key; spec++)
    try_in_text (&file_kinds[_i], spec);
}
END_TEST

/* ---- the tables themselves ---- */

START_TEST (a_table_is_sound)
{
  const SpKeySpec *keys = key_tables[_i].keys;
  for (const SpKeySpec *spec = keys; spec->key; spec++) {
    g_autofree char *key = spec->named ? g_strconcat (spec->key, ".x", NULL) : g_strdup (spec->key);
    ck_assert_msg (sp_keys_find (keys, key) == spec, "%s stands there twice", spec->key);
    ck_assert_msg ((spec->kind == SP_KEY_WORD) == (spec->words != NULL), "%s: words", spec->key);
    if (spec->kind == SP_KEY_NUMBER || spec->kind == SP_KEY_POSITIVE || spec->kind == SP_KEY_COUNT || spec->kind == SP_KEY_CURVE)
      ck_assert_msg (spec->low < spec->high, "%s has no range", spec->key);
    if (spec->kind == SP_KEY_FREQUENCY)
      ck_assert_msg (spec->example || spec->read, "%s has no example", spec->key);
  }
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("keys");
  TCase *t = tcase_create ("keys");
  tcase_add_loop_test (t, a_table_is_sound, 0, G_N_ELEMENTS (key_tables));
  tcase_add_test (t, a_sheets_keys);
  tcase_add_loop_test (t, keys_of_a_file, 0, G_N_ELEMENTS (file_kinds));
  tcase_set_timeout (t, 120);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
