/* run-file.c - reads a .run file */
#include "core/run/run-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/quantity/error.h"
#include "core/quantity/text.h"

#define AT_PREFIX "at "

/* -- readings -- */

static gboolean
parse_reading (const char *item, SpMeterReading *reading, GError **error)
{
  const char *at = strchr (item, '@');
  g_autofree char *value = at ? g_strndup (item, (gsize) (at - item)) : g_strdup (item), *excerpt = sp_excerpt (item);
  reading->minutes = NAN;
  if (!sp_parse_number (value, &reading->value_db, NULL) || (at && !sp_parse_number (at + 1, &reading->minutes, NULL)))
    return sp_fail (error, SP_ERROR_USAGE,
                    _ ("found “%s”; expected a reading in dB and its minute, such as -30.11@3, several separated by ;"), excerpt);
  if (fabs (reading->value_db) > SP_RUN_READING_DB || fabs (reading->minutes) > SP_RUN_MINUTES)
    return sp_fail (error, SP_ERROR_USAGE, _ ("found “%s”; expected a reading from %g to %g dB within %g minutes"), excerpt,
                    -SP_RUN_READING_DB, SP_RUN_READING_DB, SP_RUN_MINUTES);
  return TRUE;
}

/* Items with their place in the value; `offset` that of one that is bad. */
static GArray *
readings_from (const GArray *items, guint *offset, GError **error)
{
  g_autoptr (GArray) readings = g_array_new (FALSE, FALSE, sizeof (SpMeterReading));
  *offset = 0;
  if (items->len > SP_RUN_READINGS) {
    sp_fail (error, SP_ERROR_USAGE, _ ("found %u readings; expected %d at most"), items->len, SP_RUN_READINGS);
    return NULL;
  }
  for (guint i = 0; i < items->len; i++) {
    const SpItem *item = &g_array_index (items, SpItem, i);
    SpMeterReading reading;
    if (!parse_reading (item->text, &reading, error)) {
      *offset = item->offset;
      return NULL;
    }
    g_array_append_val (readings, reading);
  }
  return g_steal_pointer (&readings);
}

GArray *
sp_run_parse_readings (const char *text, guint *offset, GError **error)
{
  guint unused;
  SpKey key = { .value = (char *) text };
  g_autoptr (GArray) items = sp_key_items (&key);
  return readings_from (items, offset ? offset : &unused, error);
}

gboolean
sp_run_read_readings (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, G_GNUC_UNUSED gpointer context,
                      GError **error)
{
  const char *name = spec->key;
  GArray **out = sp_key_member (spec, object);
  gboolean needed = spec->format != NULL;
  const SpKey *key = sp_group_find (group, name);
  g_autoptr (GError) why = NULL;
  guint offset;
  if (!key)
    return !needed
           || sp_fail_at (error, sp_key_file_name (file), group->line, 1,
                          _ ("[%s] has no %s; add %s=READING@MINUTE, several separated by ;"), group->name, name, name);
  g_autoptr (GArray) items = sp_key_items (key);
  GArray *readings = readings_from (items, &offset, &why);
  if (!readings)
    return sp_key_fail (file, group, key, offset, error, "%s", why->message);
  if (needed && readings->len == 0) {
    g_array_unref (readings);
    return sp_key_fail (file, group, key, 0, error, _ ("nothing stands here; expected readings such as -30.11@3, several separated by ;"));
  }
  g_array_unref (*out);
  *out = readings;
  return TRUE;
}

static gboolean
check_times (SpKeyFile *file, SpGroup *group, const SpRunAt *at, GError **error)
{
  SpRunTimes bad;
  if (sp_run_times_good (at, &bad))
    return TRUE;
  const SpKey *key = sp_group_find (group, bad.list == at->before ? "before" : bad.list == at->inserted ? "inserted" : "after");
  g_autoptr (GArray) items = sp_key_items (key);
  const SpItem *item = &g_array_index (items, SpItem, bad.index);
  g_autofree char *excerpt = sp_excerpt (item->text);
  return sp_key_fail (file, group, key, item->offset, error,
                      bad.untimed
                          ? _ (
                              "found “%s”, of which the minute is not known as it is of others; expected a minute behind every reading, or "
                              "behind none")
                          : _ ("found “%s”, which runs back in time; expected the minutes to ascend from before through inserted to after"),
                      excerpt);
}

static gboolean
read_at (SpRun *run, SpKeyFile *file, SpGroup *group, GError **error)
{
  double frequency_hz;
  g_autoptr (GError) why = NULL;
  if (!sp_parse_frequency (group->name + strlen (AT_PREFIX), &frequency_hz, &why))
    return sp_fail_at (error, sp_key_file_name (file), group->line, 1, _ ("[%s]: %s"), group->name, why->message);
  if (!(frequency_hz > 0))
    return sp_fail_at (error, sp_key_file_name (file), group->line, 1, _ ("[%s]: expected a frequency above 0"), group->name);
  if (run->at->len == SP_RUN_FREQUENCIES)
    return sp_fail_at (error, sp_key_file_name (file), group->line, 1, _ ("more frequencies than the %d that are read"),
                       SP_RUN_FREQUENCIES);
  for (guint i = 0; i < run->at->len; i++)
    if (((SpRunAt *) run->at->pdata[i])->frequency_hz == frequency_hz)
      return sp_fail_at (error, sp_key_file_name (file), group->line, 1,
                         _ ("[%s] is the frequency of [%s] again; put their readings into one group"), group->name,
                         ((SpRunAt *) run->at->pdata[i])->heading);
  SpRunAt *at = sp_run_add_at (run, frequency_hz);
  at->heading = g_strdup (group->name);
  group->used = TRUE;
  return sp_keys_read (sp_run_at_keys, file, group, at, NULL, error) && check_times (file, group, at, error);
}

/* -- [run] -- */

static gboolean
read_header (SpRun *run, SpKeyFile *file, SpGroup *group, gboolean files, GError **error)
{
  if (!sp_keys_read (sp_run_keys, file, group, run, GINT_TO_POINTER (files), error))
    return FALSE;
  return (run->stage && *run->stage)
         || sp_fail_at (error, sp_key_file_name (file), group->line, 1, _ ("[run] has no stage; add stage=NAME, as the chain calls it"));
}

static gboolean
read_groups (SpRun *run, SpKeyFile *file, gboolean files, GError **error)
{
  SpGroup *header = sp_key_file_find (file, "run");
  if (!header)
    return sp_fail_at (error, sp_key_file_name (file), 1, 1, _ ("there is no group [run] in this file; a run's file begins with it"));
  if (!read_header (run, file, header, files, error))
    return FALSE;
  for (guint i = 0; i < sp_key_file_n_groups (file); i++) {
    SpGroup *group = sp_key_file_group (file, i);
    if (g_str_has_prefix (group->name, AT_PREFIX) && !read_at (run, file, group, error))
      return FALSE;
  }
  return run->at->len > 0
         || sp_fail_at (error, sp_key_file_name (file), header->line, 1,
                        _ ("there is no group [at FREQUENCY] in this file; add one, such as [at 146MHz], with before= and inserted="));
}

SpRun *
sp_run_parse (SpKeyFile *file, gboolean files, GError **error)
{
  g_autoptr (SpRun) run = sp_run_new ();
  run->file = g_strdup (sp_key_file_name (file));
  if (!read_groups (run, file, files, error))
    return NULL;
  sp_key_file_unknown (file, run->warnings);
  run->leftover = sp_key_file_leftover (file);
  run->text = sp_run_text (run);
  run->sha256 = g_compute_checksum_for_string (G_CHECKSUM_SHA256, run->text, -1);
  return g_steal_pointer (&run);
}

SpRun *
sp_run_parse_bytes (const char *bytes, gsize length, const char *name, gboolean files, GError **error)
{
  g_autoptr (SpKeyFile) file = sp_key_file_parse (bytes, length, name, error);
  return file ? sp_run_parse (file, files, error) : NULL;
}

SpRun *
sp_run_read (const char *path, GError **error)
{
  g_autoptr (SpKeyFile) file = sp_key_file_read (path, error);
  return file ? sp_run_parse (file, TRUE, error) : NULL;
}

gboolean
sp_run_set (SpRun *run, const char *key, const char *value, GError **error)
{
  return sp_keys_set (sp_run_keys, "run", run, GINT_TO_POINTER (TRUE), key, value, error);
}
