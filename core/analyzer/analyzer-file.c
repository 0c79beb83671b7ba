/* analyzer-file.c - reads a .analyzer file, and writes it back */
#include "core/analyzer/analyzer-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/quantity/error.h"
#include "core/quantity/writer.h"

static void
warn (SpAnalyzer *analyzer, SpKeyFile *file)
{
  sp_analyzer_warn_assumed (analyzer);
  if (!analyzer->vswr)
    sp_reasons_add (analyzer->warnings, sp_reason (VSWR_ASSUMED, .of = analyzer->name, .vswr = SP_INPUT_VSWR_ASSUMED));
  if (isnan (analyzer->damage_dbm))
    sp_reasons_add (analyzer->warnings, sp_reason (RATING_MISSING, .place = analyzer->name));
  sp_key_file_unknown (file, analyzer->warnings);
}

static SpAnalyzer *
analyzer_new (const SpKeyFile *file)
{
  SpAnalyzer *analyzer = g_atomic_rc_box_new0 (SpAnalyzer);
  analyzer->file = g_strdup (sp_key_file_name (file));
  sp_keys_init (sp_analyzer_keys, analyzer);
  analyzer->attenuator_steps_db = g_array_new (FALSE, FALSE, sizeof (double));
  analyzer->rbw_steps_hz = g_array_new (FALSE, FALSE, sizeof (double));
  analyzer->sweep_times = g_array_new (FALSE, FALSE, sizeof (double));
  analyzer->residuals = g_array_new (FALSE, FALSE, sizeof (double));
  analyzer->warnings = sp_reasons_new ();
  return analyzer;
}

/* The groups of a check are another reader's: kept as they are. */
static void
set_check_aside (SpAnalyzer *analyzer, SpKeyFile *file)
{
  g_autoptr (GString) text = g_string_new (NULL);
  for (guint i = 0; i < sp_key_file_n_groups (file); i++) {
    SpGroup *group = sp_key_file_group (file, i);
    if (!g_str_equal (group->name, "check") && !g_str_has_prefix (group->name, "at "))
      continue;
    sp_write_group (text, group->name);
    sp_write_unused_keys (text, group);
    for (guint k = 0; k < group->keys->len; k++)
      ((SpKey *) group->keys->pdata[k])->used = TRUE;
    group->used = TRUE;
  }
  analyzer->check_text = text->len ? g_strdup (text->str) : NULL;
}

/* Text and hash; unknown keys of `group` and groups of `file` are kept. */
static void
write_text (SpAnalyzer *analyzer, SpKeyFile *file, const SpGroup *group)
{
  GString *text = g_string_new (NULL);
  sp_write_group (text, "analyzer");
  sp_keys_write (sp_analyzer_keys, text, analyzer, NULL);
  sp_write_unused_keys (text, group);
  sp_write_unused_groups (text, file);
  if (analyzer->check_text)
    g_string_append (text, analyzer->check_text);
  analyzer->text = g_string_free (text, FALSE);
  analyzer->sha256 = g_compute_checksum_for_string (G_CHECKSUM_SHA256, analyzer->text, -1);
}

SpAnalyzer *
sp_analyzer_parse (SpKeyFile *file, GError **error)
{
  g_autoptr (SpAnalyzer) analyzer = analyzer_new (file);
  SpGroup *group = sp_key_file_find (file, "analyzer");
  if (!group) {
    sp_fail_at (error, sp_key_file_name (file), 1, 1, _ ("there is no group [analyzer] in this file; an analyzer's file begins with it"));
    return NULL;
  }
  if (!sp_keys_read (sp_analyzer_keys, file, group, analyzer, NULL, error))
    return NULL;
  if (!analyzer->name)
    analyzer->name = g_path_get_basename (sp_key_file_name (file));
  set_check_aside (analyzer, file);
  warn (analyzer, file);
  write_text (analyzer, file, group);
  return g_steal_pointer (&analyzer);
}

SpAnalyzer *
sp_analyzer_read (const char *path, GError **error)
{
  g_autoptr (SpKeyFile) file = sp_key_file_read (path, error);
  return file ? sp_analyzer_parse (file, error) : NULL;
}

SpAnalyzer *
sp_analyzer_blank (const char *name)
{
  g_autoptr (GString) text = g_string_new (NULL);
  sp_write_group (text, "analyzer");
  sp_write_text (text, "name", name);
  g_autoptr (SpKeyFile) file = sp_key_file_parse (text->str, text->len, "", NULL);
  if (!file) /* a name that no file can hold */
    file = sp_key_file_parse ("[analyzer]\n", strlen ("[analyzer]\n"), "", NULL);
  SpAnalyzer *analyzer = sp_analyzer_parse (file, NULL);
  g_clear_pointer (&analyzer->file, g_free);
  return analyzer;
}
