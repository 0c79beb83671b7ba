/* file-write.c - a file written beside its place and renamed into it */
#include "core/quantity/file.h"

#include "core/quantity/error.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>

/* What is on the way to its place. */
typedef struct {
  char *folder, *name; /* name: NULL while it has none */
  int descriptor;
} NewFile;

static gboolean
put (int descriptor, const char *bytes, gsize length)
{
  while (length > 0) {
    gssize done = write (descriptor, bytes, length);
    if (done < 0 && errno != EINTR)
      return FALSE;
    bytes += MAX (done, 0);
    length -= (gsize) MAX (done, 0);
  }
  return TRUE;
}

/* A file that is there keeps its permissions. */
static gboolean
settle (int descriptor, const struct stat *old)
{
  return (!old || fchmod (descriptor, old->st_mode & 07777) == 0) && fsync (descriptor) == 0;
}

/* Gives a file without a name one that nobody has, as mkstemp would. */
static gboolean
give_name (NewFile *file)
{
  g_autofree char *open_file = g_strdup_printf ("/proc/self/fd/%d", file->descriptor);

  for (guint tries = 0; tries < 100; tries++) {
    g_autofree char *unique = g_strdup_printf (".spurproof-%08x", g_random_int ());
    g_autofree char *name = g_build_filename (file->folder, unique, NULL);
    if (linkat (AT_FDCWD, open_file, AT_FDCWD, name, AT_SYMLINK_FOLLOW) == 0) {
      file->name = g_steal_pointer (&name);
      return TRUE;
    }
    if (errno != EEXIST)
      return FALSE;
  }
  return FALSE;
}

/* A file without a name needs no taking away, not even after a kill. */
static gboolean
write_nameless (NewFile *file, gconstpointer bytes, gsize length, const struct stat *old)
{
  file->descriptor = open (file->folder, O_TMPFILE | O_RDWR | O_CLOEXEC, 0666);
  return file->descriptor >= 0 && put (file->descriptor, bytes, length) && settle (file->descriptor, old) && give_name (file);
}

static gboolean
write_named (NewFile *file, gconstpointer bytes, gsize length, const struct stat *old)
{
  g_autofree char *name = g_build_filename (file->folder, ".spurproof-XXXXXX", NULL);
  file->descriptor = g_mkstemp_full (name, O_RDWR | O_CLOEXEC, 0666);
  if (file->descriptor < 0)
    return FALSE;
  file->name = g_steal_pointer (&name);
  return put (file->descriptor, bytes, length) && settle (file->descriptor, old);
}

/* The file system, or a system without /proc, has no files without a name. */
static gboolean
needs_name (int cause)
{
  return cause == EOPNOTSUPP || cause == EISDIR || cause == EINVAL || cause == ENOENT || cause == EPERM || cause == EXDEV;
}

static gboolean
write_some_way (NewFile *file, gconstpointer bytes, gsize length, const struct stat *old)
{
  if (write_nameless (file, bytes, length, old))
    return TRUE;
  if (!needs_name (errno))
    return FALSE;
  if (file->descriptor >= 0)
    close (file->descriptor);
  return write_named (file, bytes, length, old);
}

/* So that a power cut leaves the new name. Not every file system can, and a folder that may be written to need not be readable: then the system
 * does it when it will. */
static gboolean
sync_folder (const char *folder)
{
  int descriptor = open (folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (descriptor < 0)
    return errno == EACCES;
  gboolean good = fsync (descriptor) == 0 || errno == EINVAL || errno == ENOTSUP;
  int cause = errno;
  close (descriptor);
  errno = cause;
  return good;
}

static gboolean
refuse (const char *path, GError **error)
{
  return sp_fail (error, SP_ERROR_IO, _ ("%s: cannot be written: %s; nothing was changed"), path, g_strerror (errno));
}

static gboolean
write_beside (const char *path, const char *target, const struct stat *old, gconstpointer bytes, gsize length, GError **error)
{
  g_autofree char *folder = g_path_get_dirname (target);
  NewFile file = { .folder = folder, .descriptor = -1 };
  gboolean good = write_some_way (&file, bytes, length, old) && g_rename (file.name, target) == 0;

  if (good)
    g_clear_pointer (&file.name, g_free);
  else
    refuse (path, error);
  if (good && !sync_folder (folder))
    good = sp_fail (error, SP_ERROR_IO,
                    _ ("%s: is written, but the disk did not confirm its name: %s. After a power failure the old one may stand there"),
                    path, g_strerror (errno));
  if (file.name)
    g_unlink (file.name);
  if (file.descriptor >= 0)
    close (file.descriptor);
  g_free (file.name);
  return good;
}

/* Where a link's file is to be made that is not there yet; `path` itself where it is no link. NULL and errno. (transfer full) */
static char *
behind_links (const char *path)
{
  char *at = g_strdup (path);
  for (guint links = 0; links < 40; links++) { /* as many as the system follows */
    g_autofree char *target = g_file_read_link (at, NULL), *folder = g_path_get_dirname (at);
    if (!target)
      return at;
    g_free (at);
    at = g_path_is_absolute (target) ? g_steal_pointer (&target) : g_build_filename (folder, target, NULL);
  }
  g_free (at);
  errno = ELOOP;
  return NULL;
}

gboolean
sp_file_write (const char *path, gconstpointer bytes, gsize length, GError **error)
{
  struct stat old;
  gboolean there = stat (path, &old) == 0;

  if (there && !S_ISREG (old.st_mode))
    return sp_fail (error, SP_ERROR_IO,
                    S_ISDIR (old.st_mode) ? _ ("%s: is a folder; expected the name of a file")
                                          : _ ("%s: is no regular file; expected the name of a file"),
                    path);
  g_autofree char *target = there ? realpath (path, NULL) : errno == ENOENT ? behind_links (path) : NULL;
  return target ? write_beside (path, target, there ? &old : NULL, bytes, length, error) : refuse (path, error);
}
