/* file.c - files of strangers opened and read */
#include "core/quantity/file.h"

#include "core/quantity/error.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <linux/magic.h>
#include <poll.h>
#include <sys/stat.h>
#include <sys/statfs.h>
#include <unistd.h>

static gboolean
refuse (GError **error, SpErrorCode code, const char *path, const char *what)
{
  return sp_fail (error, code, "%s: %s", path, what);
}

static gboolean
refuse_kind (GError **error, const char *path, mode_t mode)
{
  const char *what = S_ISDIR (mode)    ? _ ("is a folder; expected a file")
                     : S_ISFIFO (mode) ? _ ("is a pipe; expected a file. Save what comes through it as a file first")
                     : S_ISREG (mode)
                         ? _ ("is shown by the system and is no file on a disk; expected a file. Copy what stands in it into one first")
                         : _ ("is a device; expected a file");
  return refuse (error, SP_ERROR_IO, path, what);
}

static gboolean
refuse_size (GError **error, const char *path, gsize limit)
{
  g_autofree char *what = g_strdup_printf (_ ("is larger than the %" G_GSIZE_FORMAT " bytes that are read of such a file"), limit);
  return refuse (error, SP_ERROR_LIMIT, path, what);
}

/* Special files say that they are empty, and may wait or go on for ever. */
static gboolean
is_on_disk (int descriptor)
{
  struct statfs system;
  return fstatfs (descriptor, &system) != 0 || system.f_type != PROC_SUPER_MAGIC;
}

/* From here on reads wait. One that has had no writer yet would end at once: it is waited for. Nothing is said meanwhile, because without taking
 * a byte it cannot be told from one whose writer is at work. */
static gboolean
take_pipe (int descriptor, gsize *length)
{
  struct pollfd writer = { .fd = descriptor, .events = POLLIN };
  int flags = fcntl (descriptor, F_GETFL);

  *length = G_MAXSIZE;
  while (poll (&writer, 1, -1) < 0 && errno == EINTR)
    ;
  return flags >= 0 && fcntl (descriptor, F_SETFL, flags & ~O_NONBLOCK) == 0;
}

/* ---- what was read ---- */

static GMutex was_read_lock;
static GHashTable *was_read; /* "DEVICE:INODE" */

static char *
identity (const struct stat *status)
{
  return g_strdup_printf ("%" G_GUINT64_FORMAT ":%" G_GUINT64_FORMAT, (guint64) status->st_dev, (guint64) status->st_ino);
}

static void
note_read (const struct stat *status)
{
  g_mutex_lock (&was_read_lock);
  if (!was_read)
    was_read = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_hash_table_add (was_read, identity (status));
  g_mutex_unlock (&was_read_lock);
}

gboolean
sp_file_is_missing (const char *path)
{
  struct stat status;
  return stat (path, &status) != 0 && errno == ENOENT;
}

gboolean
sp_file_was_read (const char *path)
{
  struct stat status;
  if (stat (path, &status) != 0)
    return FALSE;
  g_autofree char *wanted = identity (&status);
  g_mutex_lock (&was_read_lock);
  gboolean found = was_read && g_hash_table_contains (was_read, wanted);
  g_mutex_unlock (&was_read_lock);
  return found;
}

int
sp_file_open (const char *path, gboolean pipe, gsize limit, gsize *length, GError **error)
{
  int descriptor = open (path, O_RDONLY | O_CLOEXEC | O_NOCTTY | O_NONBLOCK);
  struct stat status;
  gboolean good;

  if (descriptor < 0 || fstat (descriptor, &status) != 0) {
    g_autofree char *what = errno == ENXIO ? g_strdup (_ ("is a socket, or a device that is not there; expected a file"))
                                           : g_strdup_printf (_ ("cannot be opened: %s"), g_strerror (errno));
    good = refuse (error, SP_ERROR_IO, path, what);
  } else if (S_ISFIFO (status.st_mode) && pipe)
    good = take_pipe (descriptor, length) || refuse (error, SP_ERROR_IO, path, g_strerror (errno));
  else if (!S_ISREG (status.st_mode) || !is_on_disk (descriptor))
    good = refuse_kind (error, path, status.st_mode);
  else {
    *length = (gsize) status.st_size;
    good = *length <= limit || refuse_size (error, path, limit);
  }
  if (good) {
    note_read (&status);
    return descriptor;
  }
  if (descriptor >= 0)
    close (descriptor);
  return -1;
}

gboolean
sp_file_is_still (int descriptor, const char *path, gsize length, GError **error)
{
  struct stat status;
  return (fstat (descriptor, &status) == 0 && (gsize) status.st_size == length)
         || refuse (error, SP_ERROR_IO, path, _ ("was written to while it was read; try again when it is whole"));
}

/* FALSE and errno where it fails; a file that has become shorter is found by its length. */
static gboolean
read_fully (int descriptor, char *bytes, gsize length)
{
  for (gsize done = 0; done < length;) {
    gssize got = read (descriptor, bytes + done, length - done);
    if (got < 0 && errno != EINTR)
      return FALSE;
    if (got == 0)
      break;
    done += (gsize) MAX (got, 0);
  }
  return TRUE;
}

char *
sp_file_read (const char *path, gsize limit, gsize *length, GError **error)
{
  int descriptor = sp_file_open (path, FALSE, limit, length, error);
  if (descriptor < 0)
    return NULL;
  g_autofree char *bytes = g_malloc0 (*length + 1);
  gboolean good = read_fully (descriptor, bytes, *length);
  if (good)
    good = sp_file_is_still (descriptor, path, *length, error);
  else {
    g_autofree char *what = g_strdup_printf (_ ("cannot be read: %s"), g_strerror (errno));
    refuse (error, SP_ERROR_IO, path, what);
  }
  close (descriptor);
  return good ? g_steal_pointer (&bytes) : NULL;
}
