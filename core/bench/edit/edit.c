/* edit.c - a bench with one thing changed */
#include "core/bench/edit/edit.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/bench/build.h"
#include "core/bench/edit/edit-private.h"
#include "core/bench/sheet/sheet.h"
#include "core/bench/sheet/write.h"
#include "core/quantity/error.h"
#include "core/quantity/text.h"

/* An edit changes a copy or its sheet, and the sheet's own reader then reads that with the same resources: so every rule of a sheet holds for an edit
 * too, and the sentences are the reader's. No file is read again. */

/* ---- the resources of a bench by names that tell them apart ---- */

typedef struct {
  GHashTable *names;     /* resource -> name */
  GHashTable *resources; /* kind, name and options -> resource */
} Names;

static void
names_init (Names *names)
{
  names->names = g_hash_table_new_full (NULL, NULL, NULL, g_free);
  names->resources = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
}

static void
names_clear (Names *names)
{
  g_hash_table_unref (names->names);
  g_hash_table_unref (names->resources);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Names, names_clear)

static const char *
first_name (SpResourceKind kind, gconstpointer resource)
{
  const SpChain *chain = resource;
  const SpAnalyzer *analyzer = resource;
  const SpMask *mask = resource;
  switch (kind) {
  case SP_RESOURCE_CHAIN: return chain->file ? chain->file : chain->name;
  case SP_RESOURCE_ANALYZER: return analyzer->file ? analyzer->file : analyzer->name;
  case SP_RESOURCE_MASK: return mask->file ? mask->file : mask->name;
  case SP_RESOURCE_TRACE: return ((const SpTrace *) resource)->file;
  case SP_RESOURCE_DOCUMENT: return ((const SpDocument *) resource)->file;
  case SP_RESOURCE_PICTURE: return ((const SpPicture *) resource)->file;
  case SP_RESOURCE_KINDS: break;
  }
  g_return_val_if_reached (NULL);
}

static char *
resource_id (SpResourceKind kind, const char *name, const char *options)
{
  return g_strdup_printf ("%d:%s?%s", kind, name, options ? options : "");
}

static char *
name_resource (gpointer data, SpResourceKind kind, gconstpointer resource)
{
  Names *names = data;
  const char *known = g_hash_table_lookup (names->names, resource);
  if (known)
    return g_strdup (known);
  const char *first = first_name (kind, resource), *options = kind == SP_RESOURCE_TRACE ? ((const SpTrace *) resource)->options : NULL;
  g_autofree char *name = g_strdup (first && *first ? first : "-");
  g_autofree char *id = resource_id (kind, name, options);
  for (guint n = 2; g_hash_table_contains (names->resources, id); n++) {
    g_free (name);
    g_free (id);
    name = g_strdup_printf ("%s (%u)", first, n);
    id = resource_id (kind, name, options);
  }
  g_hash_table_insert (names->resources, g_steal_pointer (&id), (gpointer) resource);
  g_hash_table_insert (names->names, (gpointer) resource, g_strdup (name));
  return g_steal_pointer (&name);
}

static gpointer
find_resource (gpointer data, SpResourceKind kind, const char *name, const SpTraceOptions *options, GError **error)
{
  Names *names = data;
  g_autofree char *text = options ? sp_trace_options_text (options) : NULL, *id = resource_id (kind, name, text);
  gpointer resource = g_hash_table_lookup (names->resources, id);
  if (resource)
    return sp_resource_ref (kind, resource);
  if (kind == SP_RESOURCE_MASK && g_strv_contains (sp_mask_names (), name))
    return sp_mask_load (name, error);
  sp_fail (error, SP_ERROR_USAGE, _ ("“%s” is not on this bench; expected something that is, or bring the file in first"), name);
  return NULL;
}

/* ---- reading it again ---- */

void
sp_error_drop_place (GError *error, const char *file)
{
  g_autofree char *display = g_filename_display_name (file);
  char *message = error->message, *p = message;
  if (*display && g_str_has_prefix (p, display) && p[strlen (display)] == ':')
    p += strlen (display) + 1;
  while (g_ascii_isdigit (*p)) {
    while (g_ascii_isdigit (*p))
      p++;
    if (*p != ':')
      return;
    p++;
  }
  while (*p == ' ')
    p++;
  memmove (message, p, strlen (p) + 1);
}

/* `text`: a sheet of `bench`, changed. Its places mean nothing to anybody and are left out of the message. */
static SpBench *
read_again (const SpBench *bench, const char *text, Names *names, GError **error)
{
  const char *name = bench->file ? bench->file : "";
  SpResources resources = { find_resource, names };
  GError *cause = NULL;
  g_autoptr (SpKeyFile) file = sp_key_file_parse (text, strlen (text), name, &cause);
  SpBench *edited = file ? sp_bench_parse (file, &resources, &cause) : NULL;
  if (!edited) {
    sp_error_drop_place (cause, name);
    g_propagate_error (error, cause);
    return NULL;
  }
  if (!bench->file)
    g_clear_pointer (&edited->file, g_free);
  return edited;
}

SpBench *
sp_bench_settle (SpBench *changed, GError **error)
{
  g_autoptr (SpBench) copy = changed;
  g_auto (Names) names;
  names_init (&names);
  g_autofree char *text = sp_bench_write (copy, TRUE, name_resource, &names);
  return read_again (copy, text, &names, error);
}

/* ---- keys ---- */

static SpBench *
set_key (const SpBench *bench, const char *heading, const SpKeySpec *keys, const char *key, const char *value, GError **error)
{
  if (!sp_keys_find (keys, key) && value && *value) {
    sp_fail (error, SP_ERROR_USAGE, _ ("[%s] has no key “%s”"), heading, key);
    return NULL;
  }
  g_auto (Names) names;
  names_init (&names);
  g_autofree char *text = sp_bench_write (bench, TRUE, name_resource, &names);
  g_autofree char *changed = sp_key_text_set (text, heading, key, value, error);
  return changed ? read_again (bench, changed, &names, error) : NULL;
}

static char *
get_key (const SpBench *bench, const char *heading, const char *key)
{
  g_auto (Names) names;
  names_init (&names);
  g_autofree char *text = sp_bench_write (bench, TRUE, name_resource, &names);
  return sp_key_text_get (text, heading, key);
}

SpBench *
sp_bench_set (const SpBench *bench, const char *key, const char *value, GError **error)
{
  return set_key (bench, "bench", sp_bench_keys, key, value, error);
}

SpBench *
sp_bench_set_radio (const SpBench *bench, guint radio, const char *key, const char *value, GError **error)
{
  g_return_val_if_fail (radio < bench->n_radios, NULL);
  g_autofree char *heading = sp_radio_heading (&bench->radios[radio]);
  return set_key (bench, heading, sp_radio_keys, key, value, error);
}

SpBench *
sp_bench_set_condition (const SpBench *bench, guint condition, const char *key, const char *value, GError **error)
{
  g_return_val_if_fail (condition < bench->n_conditions, NULL);
  g_autofree char *heading = sp_condition_heading (bench, &bench->conditions[condition]);
  return set_key (bench, heading, sp_condition_keys, key, value, error);
}

/* ---- several keys at once ---- */

/* A sheet's groups one by one: each as a text of its own, since setting a key reads the text that it stands in. */
typedef struct {
  GPtrArray *groups;  /* of char *, in the sheet's order */
  GHashTable *places; /* heading -> place + 1 */
} Parts;

static void
parts_clear (Parts *parts)
{
  g_ptr_array_unref (parts->groups);
  g_hash_table_unref (parts->places);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Parts, parts_clear)

static Parts
parts_of (const char *text)
{
  Parts parts = { g_ptr_array_new_with_free_func (g_free), g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL) };
  for (const char *from = text, *next; *from; from = next) {
    const char *close = *from == '[' ? strchr (from, ']') : NULL;
    next = strstr (from, "\n[");
    next = next ? next + 1 : from + strlen (from);
    g_ptr_array_add (parts.groups, g_strndup (from, (gsize) (next - from)));
    if (close)
      g_hash_table_insert (parts.places, g_strndup (from + 1, (gsize) (close - from - 1)), GUINT_TO_POINTER (parts.groups->len));
  }
  return parts;
}

static gboolean
set_one (const SpBench *bench, const Parts *parts, const SpKeyValue *one, GError **error)
{
  g_autofree char *heading = one->of_radio ? sp_radio_heading (&bench->radios[one->index])
                                           : sp_condition_heading (bench, &bench->conditions[one->index]);
  guint place = GPOINTER_TO_UINT (g_hash_table_lookup (parts->places, heading));
  if (!place || !sp_keys_find (one->of_radio ? sp_radio_keys : sp_condition_keys, one->key))
    return sp_fail (error, SP_ERROR_USAGE, _ ("[%s] has no key “%s”"), heading, one->key);
  char **group = (char **) &parts->groups->pdata[place - 1], *old = *group;
  char *changed = sp_key_text_set (old, heading, one->key, one->value, error);
  if (!changed)
    return FALSE;
  g_free (old);
  *group = changed;
  return TRUE;
}

/* The first `n` of them. */
static SpBench *
with_several (const SpBench *bench, const SpKeyValue *values, guint n, GError **error)
{
  g_auto (Names) names;
  names_init (&names);
  g_autofree char *text = sp_bench_write (bench, TRUE, name_resource, &names), *changed = NULL;
  g_auto (Parts) parts = parts_of (text);
  for (guint i = 0; i < n; i++)
    if (!set_one (bench, &parts, &values[i], error))
      return NULL;
  g_ptr_array_add (parts.groups, NULL);
  changed = g_strjoinv ("", (char **) parts.groups->pdata);
  return read_again (bench, changed, &names, error);
}

SpBench *
sp_bench_set_several (const SpBench *bench, const SpKeyValue *values, guint n, guint *failed, GError **error)
{
  SpBench *all = with_several (bench, values, n, error);
  guint good = 0, bad = all || !failed ? 0 : n;
  while (bad > good + 1) { /* halved until it is one: reading takes its time */
    guint middle = good + (bad - good) / 2;
    g_autoptr (SpBench) some = with_several (bench, values, middle, NULL);
    *(some ? &good : &bad) = middle;
  }
  if (failed)
    *failed = all || n == 0 ? n : bad - 1;
  return all;
}

SpBench *
sp_bench_pin_note (const SpBench *bench, guint condition, double frequency_hz, double level_dbm, const char *text, GError **error)
{
  g_return_val_if_fail (condition < bench->n_conditions, NULL);
  char hertz[32], level[32];
  g_autofree char *others = sp_pinned_text (bench->conditions[condition].pinned, G_MAXUINT), *words = sp_escape (text);
  g_autofree char *value = g_strdup_printf ("%s%s%s %s %s", others ? others : "", others ? "; " : "", sp_format_exact (frequency_hz, hertz),
                                            sp_format_exact (level_dbm, level), words);
  return sp_bench_set_condition (bench, condition, "pinned", value, error);
}

SpBench *
sp_bench_unpin_note (const SpBench *bench, guint condition, guint note, GError **error)
{
  g_return_val_if_fail (condition < bench->n_conditions, NULL);
  const GArray *pinned = bench->conditions[condition].pinned;
  g_return_val_if_fail (pinned && note < pinned->len, NULL);
  g_autofree char *value = sp_pinned_text (pinned, note);
  return sp_bench_set_condition (bench, condition, "pinned", value, error);
}

char *
sp_bench_get (const SpBench *bench, const char *key)
{
  return get_key (bench, "bench", key);
}

char *
sp_bench_get_radio (const SpBench *bench, guint radio, const char *key)
{
  g_return_val_if_fail (radio < bench->n_radios, NULL);
  g_autofree char *heading = sp_radio_heading (&bench->radios[radio]);
  return get_key (bench, heading, key);
}

char *
sp_bench_get_condition (const SpBench *bench, guint condition, const char *key)
{
  g_return_val_if_fail (condition < bench->n_conditions, NULL);
  g_autofree char *heading = sp_condition_heading (bench, &bench->conditions[condition]);
  return get_key (bench, heading, key);
}

/* ---- resources ---- */

static SpBench *
finish (SpBench *copy)
{
  sp_bench_finish (copy);
  return copy;
}

SpBench *
sp_bench_set_mask (const SpBench *bench, SpMask *mask)
{
  SpBench *copy = sp_bench_copy (bench, 0);
  g_clear_pointer (&copy->mask, sp_mask_unref);
  copy->mask = sp_mask_ref (mask);
  return finish (copy);
}

SpBench *
sp_bench_set_second_mask (const SpBench *bench, int condition, SpMask *mask)
{
  g_return_val_if_fail (condition < (int) bench->n_conditions, NULL);
  SpBench *copy = sp_bench_copy (bench, 0);
  SpMask **place = condition < 0 ? &copy->second_mask : &copy->conditions[condition].second_mask;
  g_clear_pointer (place, sp_mask_unref);
  *place = mask ? sp_mask_ref (mask) : NULL;
  return finish (copy);
}

SpBench *
sp_bench_set_document (const SpBench *bench, SpDocument *document)
{
  SpBench *copy = sp_bench_copy (bench, 0);
  g_clear_pointer (&copy->document, sp_document_unref);
  copy->document = document ? sp_document_ref (document) : NULL;
  return finish (copy);
}

static void
replace_chain (SpChain **place, const SpChain *old, SpChain *chain)
{
  if (*place != old)
    return;
  sp_chain_unref (*place);
  *place = sp_chain_ref (chain);
}

SpBench *
sp_bench_replace_chain (const SpBench *bench, const SpChain *old, SpChain *chain)
{
  SpBench *copy = sp_bench_copy (bench, 0);
  g_return_val_if_fail (old, finish (copy));
  replace_chain (&copy->chain, old, chain);
  for (guint i = 0; i < copy->n_conditions; i++) {
    SpCondition *condition = &copy->conditions[i];
    replace_chain (&condition->chain, old, chain);
    for (guint k = 0; k < condition->n_sweeps; k++)
      replace_chain (&condition->sweeps[k].chain, old, chain);
  }
  return finish (copy);
}

static void
replace_analyzer (SpAnalyzer **place, const SpAnalyzer *old, SpAnalyzer *analyzer)
{
  if (*place != old)
    return;
  sp_analyzer_unref (*place);
  *place = sp_analyzer_ref (analyzer);
}

SpBench *
sp_bench_replace_analyzer (const SpBench *bench, const SpAnalyzer *old, SpAnalyzer *analyzer)
{
  SpBench *copy = sp_bench_copy (bench, 0);
  g_return_val_if_fail (old, finish (copy));
  replace_analyzer (&copy->analyzer, old, analyzer);
  for (guint i = 0; i < copy->n_conditions; i++)
    replace_analyzer (&copy->conditions[i].analyzer, old, analyzer);
  return finish (copy);
}

SpBench *
sp_bench_with (const SpBench *bench, SpChain *chain, SpAnalyzer *analyzer, SpMask *mask, int rule)
{
  SpBench *copy = sp_bench_copy (bench, 0);
  if (chain) {
    g_clear_pointer (&copy->chain, sp_chain_unref);
    copy->chain = sp_chain_ref (chain);
  }
  if (analyzer) {
    g_clear_pointer (&copy->analyzer, sp_analyzer_unref);
    copy->analyzer = sp_analyzer_ref (analyzer);
  }
  if (mask) {
    g_clear_pointer (&copy->mask, sp_mask_unref);
    copy->mask = sp_mask_ref (mask);
  }
  for (guint i = 0; i < copy->n_conditions; i++) {
    if (chain)
      g_clear_pointer (&copy->conditions[i].chain, sp_chain_unref);
    if (analyzer)
      g_clear_pointer (&copy->conditions[i].analyzer, sp_analyzer_unref);
    if (mask)
      g_clear_pointer (&copy->conditions[i].mask, sp_mask_unref);
  }
  if (rule >= 0)
    copy->decision_rule = (SpDecisionRule) rule;
  sp_bench_finish (copy);
  return copy;
}
