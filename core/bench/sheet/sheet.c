/* sheet.c - the reader of .sheet files: the bench, its radios, and the files they name */
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/bench/sheet/sheet-private.h"
#include "core/quantity/error.h"
#include "core/quantity/text.h"
#include "core/quantity/writer.h"
#include "core/trace/read/read.h"

/* ---- the resources that the sheet names ---- */

/* A built-in mask's name goes before a file of that name. */
static gpointer
read_resource (SpSheet *sheet, SpResourceKind kind, const char *name, const SpTraceOptions *options, GError **error)
{
  if (sheet->resources)
    return sheet->resources->find (sheet->resources->data, kind, name, options, error);
  g_autofree char *path = sp_key_file_resolve (sheet->file, name);
  switch (kind) {
  case SP_RESOURCE_CHAIN: return sp_chain_read (path, error);
  case SP_RESOURCE_ANALYZER: return sp_analyzer_read (path, error);
  case SP_RESOURCE_MASK: return sp_mask_load (g_strv_contains (sp_mask_names (), name) ? name : path, error);
  case SP_RESOURCE_TRACE: return sp_trace_read_hashed (path, options, error);
  case SP_RESOURCE_DOCUMENT: return sp_document_read (path, error);
  case SP_RESOURCE_PICTURE: return sp_picture_read (path, error);
  case SP_RESOURCE_KINDS: break;
  }
  g_return_val_if_reached (NULL);
}

/* `id`: the name, with the options of a trace as they are written. (transfer full) */
static gpointer
resource_once (SpSheet *sheet, SpResourceKind kind, const char *id, const char *name, const SpTraceOptions *options, GError **error)
{
  gpointer resource = g_hash_table_lookup (sheet->known[kind], id);
  if (!resource && (resource = read_resource (sheet, kind, name, options, error)))
    g_hash_table_insert (sheet->known[kind], g_strdup (id), resource);
  return resource ? sp_resource_ref (kind, resource) : NULL;
}

gpointer
sp_sheet_named (SpSheet *sheet, SpResourceKind kind, const char *name, GError **error)
{
  return resource_once (sheet, kind, name, name, NULL, error);
}

/* The message of the file named, behind the place where the sheet names it. Always FALSE. */
static gboolean
fail_behind (SpSheet *sheet, SpGroup *group, const SpKey *key, guint offset, GError *cause, GError **error)
{
  sp_key_fail (sheet->file, group, key, offset, error, "%s", cause->message);
  g_error_free (cause);
  return FALSE;
}

gpointer
sp_sheet_resource (SpSheet *sheet, SpGroup *group, const char *name, SpResourceKind kind, gboolean *good, GError **error)
{
  const SpKey *key = sp_group_find (group, name);
  GError *cause = NULL;
  *good = TRUE;
  if (!key)
    return NULL;
  if (!*key->value) {
    *good = sp_key_fail (sheet->file, group, key, 0, error, _ ("nothing stands here; expected a file's name, or no such key"));
    return NULL;
  }
  g_autofree char *decoded = sp_unescape (key->value);
  gpointer resource = resource_once (sheet, kind, decoded, decoded, NULL, &cause);
  *good = resource || fail_behind (sheet, group, key, 0, cause, error);
  return resource;
}

gboolean
sp_sheet_read_resource (const SpKeySpec *spec, G_GNUC_UNUSED SpKeyFile *file, SpGroup *group, gpointer object, gpointer context,
                        GError **error)
{
  gpointer *place = sp_key_member (spec, object);
  gboolean good;
  gpointer resource = sp_sheet_resource (context, group, spec->key, GPOINTER_TO_INT (spec->format), &good, error);
  *place = resource ? resource : *place;
  return good;
}

char *
sp_sheet_trace_id (const char *name, const char *reference)
{
  const char *question = strchr (reference, '?');
  return g_strconcat (name, "?", question ? question + 1 : "", NULL);
}

SpTrace *
sp_sheet_trace (SpSheet *sheet, SpGroup *group, const SpKey *key, guint offset, const char *reference, GError **error)
{
  SpTraceOptions options;
  GError *cause = NULL;
  g_autofree char *name = NULL;
  SpTrace *trace = NULL;

  sp_trace_options_init (&options);
  if (sp_trace_options_parse (reference, &name, &options, &cause)) {
    g_autofree char *id = sp_sheet_trace_id (name, reference);
    trace = resource_once (sheet, SP_RESOURCE_TRACE, id, name, &options, &cause);
  }
  sp_trace_options_clear (&options);
  if (!trace)
    fail_behind (sheet, group, key, offset, cause, error);
  return trace;
}

/* ---- [bench] ---- */

gboolean
sp_sheet_read_unkeyed (const SpKeySpec *spec, G_GNUC_UNUSED SpKeyFile *file, SpGroup *group, gpointer object, gpointer context,
                       GError **error)
{
  SpSheet *sheet = context;
  SpBench *bench = object;
  const SpKey *key = sp_group_find (group, spec->key);
  if (!key)
    return TRUE;
  g_autoptr (GArray) items = sp_key_items (key);
  if (items->len != 1)
    return sp_key_fail (sheet->file, group, key, 0, error, _ ("%u files stand here; expected one unkeyed sweep for all"), items->len);
  SpItem *item = &g_array_index (items, SpItem, 0);
  bench->unkeyed = sp_sheet_trace (sheet, group, key, item->offset, item->text, error);
  if (bench->unkeyed && sp_trace_is_first_stretch (bench->unkeyed))
    return sp_key_fail (sheet->file, group, key, item->offset, error,
                        _ ("%s holds several sweeps, one behind the other; expected one unkeyed sweep for all: name it, as in ?table=1"),
                        item->text);
  return bench->unkeyed != NULL;
}

/* ---- [radio NAME], [condition RADIO/NAME] ---- */

/* What stands behind `kind` and a blank in a group's name; NULL where the group is of another kind. */
static const char *
name_of (const SpGroup *group, const char *kind)
{
  gsize length = strlen (kind);
  if (strncmp (group->name, kind, length) != 0 || (group->name[length] && group->name[length] != ' '))
    return NULL;
  return group->name[length] ? group->name + length + 1 : "";
}

static int
find_radio (const SpBench *bench, const char *name)
{
  for (guint i = 0; i < bench->n_radios; i++)
    if (strcmp (bench->radios[i].name, name) == 0)
      return i;
  return -1;
}

static gboolean
fail_group (SpSheet *sheet, const SpGroup *group, GError **error, const char *why)
{
  return sp_fail_at (error, sp_key_file_name (sheet->file), group->line, 1, "[%s]: %s", group->name, why);
}

static gboolean
read_radio (SpSheet *sheet, SpGroup *group, const char *written, GError **error)
{
  g_autofree char *name = sp_unescape (written);
  group->used = TRUE;
  if (!*name)
    return fail_group (sheet, group, error, _ ("a radio has a name; expected [radio NAME]"));
  if (strchr (name, '/'))
    return fail_group (sheet, group, error,
                       _ ("a radio's name has no / in it: that divides radio and condition; expected another character"));
  if (find_radio (sheet->bench, name) >= 0)
    return fail_group (sheet, group, error, _ ("there is a radio of this name already; expected another name"));
  SpRadio *radio = sp_bench_add_radio (sheet->bench, g_steal_pointer (&name));
  return sp_keys_read (sp_radio_keys, sheet->file, group, radio, sheet, error);
}

/* The condition's radio as an index, and its name (transfer full); -1 and an error. */
static int
split_condition (SpSheet *sheet, SpGroup *group, const char *written, char **name, GError **error)
{
  const char *slash = strchr (written, '/');
  group->used = TRUE;
  if (!slash || slash == written) {
    fail_group (sheet, group, error, _ ("expected [condition RADIO/NAME]"));
    return -1;
  }
  g_autofree char *raw = g_strndup (written, slash - written), *folded = sp_unescape (g_strstrip (raw));
  int radio = find_radio (sheet->bench, folded);
  if (radio < 0) {
    g_autofree char *why = g_strdup_printf (_ ("there is no [radio %s]; expected such a group, or the name of one that is there"), folded);
    fail_group (sheet, group, error, why);
    return -1;
  }
  g_autofree char *rest = g_strstrip (g_strdup (slash + 1));
  *name = sp_unescape (rest);
  return radio;
}

/* What nobody asked for, to be kept; NULL. (transfer full) */
static char *
unknown_keys (const SpGroup *group)
{
  g_autofree char *lines = sp_group_leftover (group);
  return *lines ? g_steal_pointer (&lines) : NULL;
}

static gboolean
read_condition (SpSheet *sheet, SpGroup *group, const char *written, GError **error)
{
  SpBench *bench = sheet->bench;
  g_autofree char *name = NULL;
  int radio = split_condition (sheet, group, written, &name, error);
  if (radio < 0)
    return FALSE;
  for (guint i = 0; i < bench->n_conditions; i++)
    if (bench->conditions[i].radio == (guint) radio && strcmp (bench->conditions[i].name, name) == 0)
      return fail_group (sheet, group, error, _ ("this radio has a condition of that name already; expected another name"));
  SpCondition *condition = sp_bench_add_condition (bench, radio, g_steal_pointer (&name));
  gboolean good = sp_keys_read (sp_condition_keys, sheet->file, group, condition, sheet, error);
  condition->unknown = unknown_keys (group);
  return good;
}

/* The first key in `group` that only a condition may have; NULL. */
static const SpKey *
find_condition_key (SpGroup *group)
{
  const SpKey *key = NULL;
  for (const SpKeySpec *spec = sp_condition_keys; !key && spec->key; spec++)
    key = spec->named ? NULL : sp_group_find (group, spec->key); /* a radio has named keys too */
  return key;
}

/* A radio without condition groups is one condition, whose keys stand in the radio's own group. */
static gboolean
read_own_condition (SpSheet *sheet, SpGroup *group, guint radio, const gboolean *has_groups, GError **error)
{
  if (!has_groups[radio]) {
    SpCondition *condition = sp_bench_add_condition (sheet->bench, radio, g_strdup (""));
    return sp_keys_read (sp_condition_keys, sheet->file, group, condition, sheet, error);
  }
  const SpKey *key = find_condition_key (group);
  return !key
         || sp_key_fail (sheet->file, group, key, 0, error,
                         _ ("this radio has [condition ...] groups and a key of a condition; expected the key in one of those groups"));
}

static gboolean
read_radios (SpSheet *sheet, GError **error)
{
  for (guint i = 0; i < sp_key_file_n_groups (sheet->file); i++) {
    SpGroup *group = sp_key_file_group (sheet->file, i);
    const char *name = name_of (group, "radio");
    if (name && !read_radio (sheet, group, name, error))
      return FALSE;
  }
  return TRUE;
}

static gboolean
read_conditions (SpSheet *sheet, GError **error)
{
  g_autofree gboolean *has_groups = g_new0 (gboolean, sheet->bench->n_radios + 1);
  guint n = sp_key_file_n_groups (sheet->file), radio = 0;
  for (guint i = 0; i < n; i++) {
    SpGroup *group = sp_key_file_group (sheet->file, i);
    const char *written = name_of (group, "condition");
    g_autofree char *name = NULL;
    int owner = written ? split_condition (sheet, group, written, &name, error) : -1;
    if (written && owner < 0)
      return FALSE;
    if (written)
      has_groups[owner] = TRUE;
  }
  for (guint i = 0; i < n; i++) {
    SpGroup *group = sp_key_file_group (sheet->file, i);
    const char *condition = name_of (group, "condition");
    if (condition && !read_condition (sheet, group, condition, error))
      return FALSE;
    if (!name_of (group, "radio"))
      continue;
    if (!read_own_condition (sheet, group, radio, has_groups, error))
      return FALSE;
    sheet->bench->radios[radio++].unknown = unknown_keys (group);
  }
  return TRUE;
}

/* A radio's own condition counts where it has no groups. */
static gboolean
check_number (SpSheet *sheet)
{
  guint n = sp_key_file_n_groups (sheet->file), radios = 0, conditions = 0;
  for (guint i = 0; i < n; i++) {
    radios += name_of (sp_key_file_group (sheet->file, i), "radio") != NULL;
    conditions += name_of (sp_key_file_group (sheet->file, i), "condition") != NULL;
  }
  return radios <= SP_CONDITIONS_MAX && conditions <= SP_CONDITIONS_MAX && n <= SP_SHEET_GROUPS_MAX;
}

static gboolean
read_sheet (SpSheet *sheet, GError **error)
{
  const char *name = sp_key_file_name (sheet->file);
  SpGroup *group = sp_key_file_find (sheet->file, "bench");
  if (!group)
    return sp_fail_at (error, name, 1, 1, _ ("there is no group [bench]; expected a sheet, which has one"));
  if (!check_number (sheet))
    return sp_fail (error, SP_ERROR_LIMIT, _ ("%s: more than %d radios or conditions; make several sheets of it"), name, SP_CONDITIONS_MAX);
  if (!sheet->resources)
    sp_sheet_read_ahead (sheet);
  if (!sp_keys_read (sp_bench_keys, sheet->file, group, sheet->bench, sheet, error) || !read_radios (sheet, error)
      || !read_conditions (sheet, error))
    return FALSE;
  if (sheet->bench->n_conditions == 0 && !(sheet->bench->chain && sheet->bench->analyzer && sheet->bench->mask))
    return fail_group (sheet, group, error, _ ("expected chain=, analyzer= and mask=, or radios that have their own"));
  g_autoptr (GString) groups = g_string_new (NULL);
  sp_write_unused_groups (groups, sheet->file);
  sheet->bench->unknown = unknown_keys (group);
  sheet->bench->unknown_groups = groups->len ? g_strdup (groups->str) : NULL;
  sp_sheet_warn (sheet);
  return TRUE;
}

SpBench *
sp_bench_parse (SpKeyFile *file, const SpResources *resources, GError **error)
{
  static const GDestroyNotify unref[] = { (GDestroyNotify) sp_chain_unref,    (GDestroyNotify) sp_analyzer_unref,
                                          (GDestroyNotify) sp_mask_unref,     (GDestroyNotify) sp_trace_unref,
                                          (GDestroyNotify) sp_document_unref, (GDestroyNotify) sp_picture_unref };
  g_autoptr (SpBench) bench = sp_bench_new (MIN (sp_key_file_n_groups (file), SP_SHEET_GROUPS_MAX));
  SpSheet sheet = { file, bench, resources, { NULL } };
  for (guint kind = 0; kind < SP_RESOURCE_KINDS; kind++)
    sheet.known[kind] = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, unref[kind]);
  bench->file = g_strdup (sp_key_file_name (file));
  gboolean good = read_sheet (&sheet, error);
  for (guint kind = 0; kind < SP_RESOURCE_KINDS; kind++)
    g_hash_table_unref (sheet.known[kind]);
  if (!good)
    return NULL;
  sp_bench_finish (bench);
  return g_steal_pointer (&bench);
}

SpBench *
sp_bench_read (const char *path, GError **error)
{
  g_autoptr (SpKeyFile) file = sp_key_file_read (path, error);
  return file ? sp_bench_parse (file, NULL, error) : NULL;
}
