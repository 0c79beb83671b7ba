/* sheet-ahead.c - reads the sweeps that a sheet names on all processors, ahead of the sheet's own reader */
#include "core/bench/sheet/sheet-private.h"

#include <string.h>

#include "core/quantity/text.h"
#include "core/trace/read/read-parallel.h"

/* What cannot be read is left to the sheet's reader, which tells its error in the sheet's order and at its place. */

typedef struct {
  SpSheet *sheet;
  GHashTable *seen;
  GPtrArray *ids;        /* as resource_once() knows them */
  GPtrArray *references; /* the same to be read: path from the sheet's folder, and options */
} Ahead;

static void
want (Ahead *ahead, const char *reference)
{
  g_autofree char *name = NULL;
  SpTraceOptions options;

  if (!sp_trace_options_parse (reference, &name, &options, NULL))
    return;
  sp_trace_options_clear (&options);
  char *id = sp_sheet_trace_id (name, reference);
  if (g_hash_table_contains (ahead->seen, id)) {
    g_free (id);
    return;
  }
  const char *question = strchr (reference, '?');
  g_autofree char *path = sp_key_file_resolve (ahead->sheet->file, name), *escaped = sp_escape (path);
  g_hash_table_add (ahead->seen, id);
  g_ptr_array_add (ahead->ids, id);
  g_ptr_array_add (ahead->references, g_strconcat (escaped, question ? question : "", NULL));
}

/* FILE?options;FILE?options, each of a step with its dB behind the last blank. The keys are looked at, not asked for. */
static void
want_all (Ahead *ahead, const SpKey *key)
{
  g_autoptr (GArray) items = sp_key_items (key);

  for (guint i = 0; i < items->len; i++) {
    char *text = g_array_index (items, SpItem, i).text, *blank = strrchr (text, ' ');
    if (strcmp (key->key, "step") == 0 && blank)
      *blank = '\0';
    want (ahead, g_strchomp (text));
  }
}

void
sp_sheet_read_ahead (SpSheet *sheet)
{
  static const char *const keys[] = { "keyed", "step", "notched", "unkeyed", "superseded", NULL };
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);
  g_autoptr (GPtrArray) ids = g_ptr_array_new_with_free_func (g_free), references = g_ptr_array_new_with_free_func (g_free);
  Ahead ahead = { sheet, seen, ids, references };

  for (guint g = 0; g < sp_key_file_n_groups (sheet->file); g++) {
    const SpGroup *group = sp_key_file_group (sheet->file, g);
    gboolean ours = strcmp (group->name, "bench") == 0 || g_str_has_prefix (group->name, "radio ")
                    || g_str_has_prefix (group->name, "condition ");
    for (guint k = 0; ours && k < group->keys->len; k++)
      if (g_strv_contains (keys, ((const SpKey *) group->keys->pdata[k])->key))
        want_all (&ahead, group->keys->pdata[k]);
  }
  if (references->len < 2)
    return;
  g_ptr_array_add (references, NULL);
  g_autoptr (GPtrArray) readings = sp_trace_read_many ((const char *const *) references->pdata, SP_MANY_KEEP_GOING);
  for (guint i = 0; i < readings->len; i++) {
    const SpTraceReading *reading = readings->pdata[i];
    if (reading->traces)
      g_hash_table_insert (sheet->known[SP_RESOURCE_TRACE], g_strdup (ids->pdata[i]), sp_trace_ref (reading->traces->pdata[0]));
  }
}
