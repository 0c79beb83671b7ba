/* check-file.c - reads a check of an analyzer: a .run file with [check] */
#include "core/check/check-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/quantity/error.h"
#include "core/quantity/text.h"

#define AT_PREFIX "at "
#define PROFILE ".analyzer"

/* "146MHz 20dB": the setting off the end, its blanks too; NaN: none is said. FALSE: it is no number. */
static gboolean
take_setting (char *place, double *attenuation_db)
{
  gsize length = strlen (place);
  *attenuation_db = NAN;
  if (length < 3 || g_ascii_strcasecmp (place + length - 2, "dB") != 0)
    return TRUE;
  place[length - 2] = '\0';
  g_strchomp (place);
  char *number = strrchr (place, ' ');
  if (!number || !sp_parse_number (number + 1, attenuation_db, NULL))
    return FALSE;
  *number = '\0';
  return sp_check_is_setting (*attenuation_db);
}

static gboolean
check_twice (const SpCheck *check, SpKeyFile *file, const SpGroup *group, double frequency_hz, double attenuation_db, GError **error)
{
  if (check->at->len == SP_CHECK_PLACES)
    return sp_fail_at (error, sp_key_file_name (file), group->line, 1, _ ("more frequencies than the %d that are read"), SP_CHECK_PLACES);
  for (guint i = 0; i < check->at->len; i++) {
    const SpCheckAt *at = check->at->pdata[i];
    if (at->frequency_hz == frequency_hz && sp_check_same_setting (at->attenuation_db, attenuation_db))
      return sp_fail_at (error, sp_key_file_name (file), group->line, 1,
                         _ ("[%s] is the frequency of [%s] again; put their readings into one group"), group->name, at->heading);
  }
  return TRUE;
}

static gboolean
check_whole (const SpCheckAt *at, SpKeyFile *file, const SpGroup *group, GError **error)
{
  if (isnan (at->level_dbm))
    return sp_fail_at (error, sp_key_file_name (file), group->line, 1, _ ("[%s] has no level; add level=, what is known to arrive, in dBm"),
                       group->name);
  return at->shows->len > 0
         || sp_fail_at (error, sp_key_file_name (file), group->line, 1,
                        _ ("[%s] has no shows; add shows=, what the analyzer shows, in dBm, several separated by ;"), group->name);
}

static gboolean
read_at (SpCheck *check, SpKeyFile *file, SpGroup *group, GError **error)
{
  double frequency_hz, attenuation_db;
  g_autoptr (GError) why = NULL;
  g_autofree char *place = g_strdup (group->name + strlen (AT_PREFIX));
  if (!take_setting (place, &attenuation_db))
    return sp_fail_at (error, sp_key_file_name (file), group->line, 1,
                       _ ("[%s]: expected a frequency and a setting of the attenuator from 0 to %g dB, such as [at 146MHz 20dB]"),
                       group->name, SP_CHECK_ATTENUATION_DB);
  if (!sp_parse_frequency (place, &frequency_hz, &why))
    return sp_fail_at (error, sp_key_file_name (file), group->line, 1, _ ("[%s]: %s"), group->name, why->message);
  if (!(frequency_hz > 0))
    return sp_fail_at (error, sp_key_file_name (file), group->line, 1, _ ("[%s]: expected a frequency above 0"), group->name);
  if (!check_twice (check, file, group, frequency_hz, attenuation_db, error))
    return FALSE;
  SpCheckAt *at = sp_check_add_at (check, frequency_hz, attenuation_db);
  at->heading = g_strdup (group->name);
  group->used = TRUE;
  return sp_keys_read (sp_check_at_keys, file, group, at, NULL, error) && check_whole (at, file, group, error);
}

static gboolean
read_groups (SpCheck *check, SpKeyFile *file, gboolean files, GError **error)
{
  SpGroup *header = sp_key_file_find (file, "check");
  if (!header)
    return sp_fail_at (error, sp_key_file_name (file), 1, 1,
                       _ ("there is no group [check] in this file; a check of an analyzer begins with it"));
  check->line = (guint) header->line;
  if (!sp_keys_read (sp_check_keys, file, header, check, GINT_TO_POINTER (files), error))
    return FALSE;
  for (guint i = 0; i < sp_key_file_n_groups (file); i++) {
    SpGroup *group = sp_key_file_group (file, i);
    if (g_str_has_prefix (group->name, AT_PREFIX) && !read_at (check, file, group, error))
      return FALSE;
  }
  return check->at->len > 0
         || sp_fail_at (error, sp_key_file_name (file), header->line, 1,
                        _ ("there is no group [at FREQUENCY] in this file; add one, such as [at 146MHz], with level= and shows="));
}

SpCheck *
sp_check_of_analyzer (const SpAnalyzer *analyzer, GError **error)
{
  if (!analyzer->check_text)
    return NULL;
  g_autoptr (SpKeyFile) file = sp_key_file_parse (analyzer->check_text, strlen (analyzer->check_text),
                                                  analyzer->file ? analyzer->file : analyzer->name, error);
  return file ? sp_check_parse (file, FALSE, error) : NULL;
}

SpCheck *
sp_check_parse (SpKeyFile *file, gboolean files, GError **error)
{
  g_autoptr (SpCheck) check = sp_check_new ();
  check->file = g_strdup (sp_key_file_name (file));
  if (!read_groups (check, file, files, error))
    return NULL;
  sp_key_file_unknown (file, check->warnings);
  check->leftover = sp_key_file_leftover (file);
  check->text = sp_check_text (check);
  check->sha256 = g_compute_checksum_for_string (G_CHECKSUM_SHA256, check->text, -1);
  return g_steal_pointer (&check);
}

SpCheck *
sp_check_read (const char *path, GError **error)
{
  g_autoptr (SpKeyFile) file = sp_key_file_read (path, error);
  return file ? sp_check_parse (file, TRUE, error) : NULL;
}

SpAnalyzer *
sp_check_analyzer (const SpCheck *check, GError **error)
{
  if (!check->analyzer || !*check->analyzer) {
    sp_fail_at (error, check->file, check->line, 1, _ ("[check] has no analyzer; add analyzer=, its name or its file, or give --analyzer"));
    return NULL;
  }
  if (!check->file || !g_str_has_suffix (check->analyzer, PROFILE))
    return sp_analyzer_blank (check->analyzer);
  g_autofree char *name = sp_unescape (check->analyzer), *folder = g_path_get_dirname (check->file);
  g_autofree char *path = g_path_is_absolute (name) ? g_strdup (name) : g_build_filename (folder, name, NULL);
  return sp_analyzer_read (path, error);
}
