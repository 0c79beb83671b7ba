/* shelf.c - stages and analyzers kept for the next bench: a folder of their files */
#include "core/bench/shelf/shelf.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <string.h>

#include "core/quantity/error.h"
#include "core/quantity/file.h"
#include "core/quantity/text.h"
#include "core/quantity/writer.h"

static const char *const endings[] = { [SP_SHELF_STAGES] = ".chain", [SP_SHELF_ANALYZERS] = ".analyzer" };
#define STEM_MOST 160 /* bytes of a file's name, its ending and a resource's hash beside; bounds what a file may be called */

static void
item_free (gpointer data)
{
  SpShelfItem *item = data;
  g_free (item->name);
  g_free (item->path);
  g_clear_pointer (&item->chain, sp_chain_unref);
  g_clear_pointer (&item->analyzer, sp_analyzer_unref);
  g_clear_error (&item->error);
  g_free (item);
}

/* A name as a file's: no slash, nothing that a shell or another system would trip over. (transfer full) */
static char *
stem_of (const char *name)
{
  char *escaped = g_uri_escape_string (name, " ", TRUE);
  if (strlen (escaped) <= STEM_MOST)
    return escaped;
  g_free (escaped);
  return g_compute_checksum_for_string (G_CHECKSUM_SHA256, name, -1);
}

static char *
path_of (const char *folder, SpShelfKind kind, const char *name)
{
  g_autofree char *stem = stem_of (name), *file = g_strconcat (stem, endings[kind], NULL);
  return g_build_filename (folder, file, NULL);
}

gboolean
sp_shelf_has (const char *folder, SpShelfKind kind, const char *name)
{
  g_autofree char *path = path_of (folder, kind, name);
  return g_file_test (path, G_FILE_TEST_EXISTS);
}

/* ---- reading ---- */

/* What a stage names lies beside it: nothing else of this computer is looked at. (transfer full) */
static char *
beside (const char *folder, const char *name, GError **error)
{
  g_autofree char *file = sp_unescape (name), *path = g_build_filename (folder, file, NULL);
  if (strchr (file, '/') || !g_file_test (path, G_FILE_TEST_EXISTS)) {
    g_autofree char *excerpt = sp_excerpt_path (file);
    sp_fail (error, SP_ERROR_INPUT, _ ("it names “%s”, which does not lie on the shelf beside it; put the stage there again"), excerpt);
    return NULL;
  }
  return g_steal_pointer (&path);
}

static SpTwoPort *
find_two_port (gpointer folder, const char *name, GError **error)
{
  g_autofree char *path = beside (folder, name, error);
  return path ? sp_two_port_read (path, error) : NULL;
}

static SpRun *
find_run (gpointer folder, const char *name, GError **error)
{
  g_autofree char *path = beside (folder, name, error);
  return path ? sp_run_read (path, error) : NULL;
}

static SpPicture *
find_picture (gpointer folder, const char *name, GError **error)
{
  g_autofree char *path = beside (folder, name, error);
  return path ? sp_picture_read (path, error) : NULL;
}

static SpChain *
read_stage (const char *folder, const char *path, GError **error)
{
  SpTwoPorts finds = { find_two_port, (gpointer) folder, find_run, FALSE, find_picture };
  g_autoptr (SpKeyFile) file = sp_key_file_read (path, error);
  g_autoptr (SpChain) chain = file ? sp_chain_parse_with (file, &finds, error) : NULL;
  if (!chain || chain->n == 1)
    return g_steal_pointer (&chain);
  sp_fail_at (error, path, 0, 0, _ ("there are %u stages in it; expected one, as the shelf keeps them"), chain->n);
  return NULL;
}

/* Its name is then what it holds; of one that cannot be read, the file's. */
static void
read_item (SpShelfItem *item, const char *folder, SpShelfKind kind, const char *file)
{
  if (!g_file_test (item->path, G_FILE_TEST_IS_REGULAR))
    sp_fail_at (&item->error, item->path, 0, 0, _ ("this is no plain file; take it out of the folder"));
  else if (kind == SP_SHELF_STAGES)
    item->chain = read_stage (folder, item->path, &item->error);
  else
    item->analyzer = sp_analyzer_read (item->path, &item->error);
  item->name = item->chain      ? g_strdup (item->chain->stages[0]->name)
               : item->analyzer ? g_strdup (item->analyzer->name)
                                : g_filename_display_name (file);
}

static int
by_name (gconstpointer a, gconstpointer b)
{
  return g_utf8_collate ((*(SpShelfItem *const *) a)->name, (*(SpShelfItem *const *) b)->name);
}

GPtrArray *
sp_shelf_read (const char *folder, SpShelfKind kind, GError **error)
{
  g_autoptr (GPtrArray) items = g_ptr_array_new_with_free_func (item_free);
  if (!g_file_test (folder, G_FILE_TEST_EXISTS))
    return g_steal_pointer (&items);
  GDir *dir = g_dir_open (folder, 0, error);
  if (!dir)
    return NULL;
  for (const char *file; items->len < SP_SHELF_MOST && (file = g_dir_read_name (dir));) {
    if (!g_str_has_suffix (file, endings[kind]))
      continue;
    SpShelfItem *item = g_new0 (SpShelfItem, 1);
    item->path = g_build_filename (folder, file, NULL);
    read_item (item, folder, kind, file);
    g_ptr_array_add (items, item);
  }
  g_dir_close (dir);
  g_ptr_array_sort (items, by_name);
  return g_steal_pointer (&items);
}

/* ---- writing ---- */

static const char *
ending_of (const SpStage *stage, const SpStageFile *file)
{
  gboolean jpeg = !file->picture || g_bytes_get_size (file->bytes) == 0 || *(const guint8 *) g_bytes_get_data (file->bytes, NULL) == 0xff;
  return file->picture ? (jpeg ? ".jpg" : ".png") : stage->run ? ".run" : ".s2p";
}

/* The files that the stage names, under names of their own by their contents, so that a stage put away before keeps what it had. `text` (taken) with
 * these names; NULL and an error. (transfer full) */
static char *
write_files (const char *folder, const SpStage *stage, const char *stem, const char *heading, char *text, GError **error)
{
  g_autoptr (GArray) files = sp_stage_files (stage);
  for (guint i = 0; i < files->len && text; i++) {
    const SpStageFile *kept = &g_array_index (files, SpStageFile, i);
    g_autofree char *file = g_strdup_printf ("%s-%.8s%s", stem, kept->sha256, ending_of (stage, kept)),
                    *path = g_build_filename (folder, file, NULL), *escaped = sp_escape (file), *before = text;
    g_autofree char *value = sp_stage_file_value (kept, kept->picture ? file : escaped);
    gsize length;
    const char *data = g_bytes_get_data (kept->bytes, &length);
    text = sp_file_write (path, data, length, error) ? sp_key_text_set (before, heading, kept->key, value, error) : NULL;
  }
  return text;
}

/* A chain of that one stage, as its file. (transfer full) */
static char *
stage_text (const SpChain *chain, guint stage, const char *name)
{
  static const char *const kept[] = { "calibrated", "interval_days", "temperature_c" };
  g_autofree char *old = sp_stage_heading (chain->stages[stage]->name), *heading = sp_stage_heading (name), *listed = sp_escape (name);
  g_autofree char *group = sp_key_text_copy (chain->text, old, heading);
  g_autoptr (GString) text = g_string_new (NULL);
  sp_write_group (text, "chain");
  sp_write_text (text, "name", name);
  sp_write_text (text, "stages", listed);
  for (guint i = 0; i < G_N_ELEMENTS (kept); i++) {
    g_autofree char *value = sp_key_text_get (chain->text, "chain", kept[i]);
    if (value)
      sp_write_text (text, kept[i], value);
  }
  g_string_append_printf (text, "\n%s", group);
  return g_strdup (text->str);
}

/* FALSE: there is none, or it cannot be kept, and an error. */
static gboolean
keep_old (const char *path, GError **error)
{
  g_autofree char *bytes = NULL, *kept = g_strconcat (path, "~", NULL);
  gsize length;
  return !g_file_test (path, G_FILE_TEST_EXISTS)
         || ((bytes = sp_file_read (path, G_MAXINT32, &length, error)) && sp_file_write (kept, bytes, length, error));
}

/* Its place, once it may be written there: a good name, nothing of it there or to be replaced, which is kept then. (transfer full); NULL and an error. */
static char *
place_for (const char *folder, SpShelfKind kind, const char *name, gboolean replace, GError **error)
{
  g_autofree char *path = path_of (folder, kind, name);
  gboolean stage = kind == SP_SHELF_STAGES, there = g_file_test (path, G_FILE_TEST_EXISTS);
  if (!*name)
    sp_fail (error, SP_ERROR_USAGE,
             stage ? _ ("a stage has a name; nothing stands here") : _ ("an analyzer has a name; nothing stands here"));
  else if (!replace && there)
    sp_fail (error, SP_ERROR_USAGE,
             stage ? _ ("there is a stage “%s” on the shelf already; expected another name")
                   : _ ("there is an analyzer “%s” on the shelf already; expected another name"),
             name);
  else if (g_mkdir_with_parents (folder, 0700) != 0)
    sp_fail (error, SP_ERROR_IO, _ ("the folder %s cannot be made: %s"), folder, g_strerror (errno));
  else if (keep_old (path, error))
    return g_steal_pointer (&path);
  return NULL;
}

gboolean
sp_shelf_put (const char *folder, const SpChain *chain, guint stage, const char *name, gboolean replace, GError **error)
{
  g_return_val_if_fail (stage < chain->n, FALSE);
  g_autofree char *clean = g_strstrip (g_strdup (name)), *stem = stem_of (clean), *heading = sp_stage_heading (clean);
  g_autofree char *path = place_for (folder, SP_SHELF_STAGES, clean, replace, error);
  if (!path)
    return FALSE;
  g_autofree char *text = write_files (folder, chain->stages[stage], stem, heading, stage_text (chain, stage, clean), error);
  return text && sp_file_write (path, text, strlen (text), error);
}

gboolean
sp_shelf_put_analyzer (const char *folder, const SpAnalyzer *analyzer, const char *name, gboolean replace, GError **error)
{
  g_autofree char *clean = g_strstrip (g_strdup (name)), *text = sp_key_text_set (analyzer->text, "analyzer", "name", clean, error);
  g_autofree char *path = text ? place_for (folder, SP_SHELF_ANALYZERS, clean, replace, error) : NULL;
  return path && sp_file_write (path, text, strlen (text), error);
}

static gboolean
rename_to (const char *from, const char *to, GError **error)
{
  return g_rename (from, to) == 0 || sp_fail (error, SP_ERROR_IO, _ ("%s cannot be renamed: %s"), from, g_strerror (errno));
}

gboolean
sp_shelf_remove (const char *folder, const SpShelfItem *item, GError **error)
{
  g_autofree char *kept = g_strconcat (item->path, "~", NULL), *within = g_path_get_dirname (item->path);
  g_return_val_if_fail (strcmp (within, folder) == 0, FALSE);
  return rename_to (item->path, kept, error);
}

gboolean
sp_shelf_put_back (const char *path, GError **error)
{
  g_autofree char *kept = g_strconcat (path, "~", NULL);
  if (g_file_test (path, G_FILE_TEST_EXISTS))
    return sp_fail (error, SP_ERROR_USAGE,
                    g_str_has_suffix (path, endings[SP_SHELF_STAGES])
                        ? _ ("there is another stage of that name on the shelf by now; take it away or give it another name first")
                        : _ ("there is another analyzer of that name on the shelf by now; take it away or give it another name first"));
  return rename_to (kept, path, error);
}
