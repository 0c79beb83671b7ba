/* kept.c - bench books without a name, in a folder of the program's own */
#include "ui/window/session/kept.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <string.h>
#include <time.h>

#include "core/book/book.h"
#include "core/quantity/error.h"

#define ENDING ".benchbook"
#define LEFTOVER_S (24 * 3600) /* what a killed save left beside is no one's after a day */

/* As a book says where it is. */
static char *
folder_path (void)
{
  g_autofree char *path = g_build_filename (g_get_user_data_dir (), "spurproof", "books", NULL);
  return g_canonicalize_filename (path, NULL);
}

char *
sp_kept_new_path (void)
{
  g_autofree char *folder = folder_path (), *unique = g_uuid_string_random (), *name = g_strconcat (unique, ENDING, NULL);
  return g_build_filename (folder, name, NULL);
}

gboolean
sp_kept_make_folder (GError **error)
{
  g_autofree char *folder = folder_path ();
  return g_mkdir_with_parents (folder, 0700) == 0
         || sp_fail (error, SP_ERROR_IO, _ ("%s: a book without a name cannot be kept there: %s. Save it elsewhere"), folder,
                     g_strerror (errno));
}

gboolean
sp_kept_is (const char *path)
{
  g_autofree char *folder = folder_path (), *within = path ? g_path_get_dirname (path) : NULL;
  return g_strcmp0 (folder, within) == 0;
}

/* ---- what is there ---- */

static void
kept_free (gpointer data)
{
  SpKept *kept = data;
  g_free (kept->path);
  g_free (kept->title);
  g_free (kept->wrong);
  g_free (kept);
}

static int
later_first (gconstpointer a, gconstpointer b)
{
  const SpKept *one = *(SpKept *const *) a, *other = *(SpKept *const *) b;
  return one->changed_us != other->changed_us ? (one->changed_us < other->changed_us ? 1 : -1) : strcmp (one->path, other->path);
}

/* Another program that starts may be looking through them too: it has each only for a moment. */
static SpBook *
open_patiently (const char *path, GError **error)
{
  SpBook *book = NULL;
  for (guint tries = 0; tries < 3 && !book; tries++) {
    g_autoptr (GError) why = NULL;
    if (tries > 0)
      g_usleep (100 * 1000);
    book = sp_book_open (path, &why);
    if (!book && (tries == 2 || !g_error_matches (why, SP_BOOK_ERROR, SP_BOOK_ERROR_LOCKED))) {
      g_propagate_error (error, g_steal_pointer (&why));
      break;
    }
  }
  return book;
}

/* NULL: somebody has it open. */
static SpKept *
look_at (char *path, gint64 changed_us)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SpBook) book = open_patiently (path, &error);
  if (!book && g_error_matches (error, SP_BOOK_ERROR, SP_BOOK_ERROR_LOCKED)) {
    g_free (path);
    return NULL;
  }
  SpKept *kept = g_new0 (SpKept, 1);
  const SpBench *bench = book ? sp_book_bench (book) : NULL;
  kept->path = path;
  kept->changed_us = changed_us;
  kept->title = g_strdup (bench && bench->title ? bench->title : "");
  kept->n_radios = bench ? bench->n_radios : 0;
  kept->wrong = book ? NULL : g_strdup (error->message);
  return kept;
}

GPtrArray *
sp_kept_read (void)
{
  static GMutex one_at_a_time; /* else they find each other's locks */
  g_autoptr (GMutexLocker) locker = g_mutex_locker_new (&one_at_a_time);
  GPtrArray *found = g_ptr_array_new_with_free_func (kept_free);
  g_autofree char *folder = folder_path ();
  g_autoptr (GDir) entries = g_dir_open (folder, 0, NULL);
  for (const char *name; entries && (name = g_dir_read_name (entries));) {
    char *path = g_build_filename (folder, name, NULL);
    GStatBuf status;
    gboolean regular = g_lstat (path, &status) == 0 && S_ISREG (status.st_mode);
    SpKept *kept = NULL;
    if (regular && *name == '.' && time (NULL) - status.st_mtime > LEFTOVER_S)
      g_unlink (path);
    if (regular && *name != '.' && g_str_has_suffix (name, ENDING))
      kept = look_at (g_steal_pointer (&path), status.st_mtim.tv_sec * G_USEC_PER_SEC + status.st_mtim.tv_nsec / 1000);
    if (kept)
      g_ptr_array_add (found, kept);
    g_free (path);
  }
  g_ptr_array_sort (found, later_first);
  return found;
}

/* ---- out of it ---- */

void
sp_kept_remove (const char *path)
{
  g_autofree char *journal = g_strconcat (path, "-journal", NULL);
  g_return_if_fail (sp_kept_is (path));
  g_unlink (path);
  g_unlink (journal);
}

static gboolean
rename_to (const char *from, const char *to, GError **error)
{
  return (!g_file_test (to, G_FILE_TEST_EXISTS) && g_rename (from, to) == 0)
         || sp_fail (error, SP_ERROR_IO, _ ("%s: cannot be called %s: %s"), from, to, g_strerror (errno));
}

gboolean
sp_kept_put_away (const char *path, GError **error)
{
  g_autofree char *aside = g_strconcat (path, "~", NULL);
  g_return_val_if_fail (sp_kept_is (path), FALSE);
  return rename_to (path, aside, error);
}

gboolean
sp_kept_put_back (const char *path, GError **error)
{
  g_autofree char *aside = g_strconcat (path, "~", NULL);
  g_return_val_if_fail (sp_kept_is (path), FALSE);
  return rename_to (aside, path, error);
}
