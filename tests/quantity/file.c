/* What may be read, and how a file is written: core/quantity/file.h. Nothing here may wait for ever, so each test has an alarm. */
#include "core/quantity/file.h"

#include "core/quantity/error.h"
#include "tests/suite.h"

#include <fcntl.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/socket.h>
#include <sys/stat.h>
#include <sys/un.h>
#include <unistd.h>

#define LONGEST_S 60

static char *folder;

static void
begin (void)
{
  alarm (LONGEST_S);
  folder = g_dir_make_tmp ("spurproof-file-XXXXXX", NULL);
}

static void
end (void)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  for (const char *name; (name = g_dir_read_name (dir));) {
    g_autofree char *path = g_build_filename (folder, name, NULL);
    g_remove (path);
  }
  g_rmdir (folder);
  g_clear_pointer (&folder, g_free);
  alarm (0);
}

static char *
place (const char *name)
{
  return g_build_filename (folder, name, NULL);
}

static guint
count (void)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  guint n = 0;
  while (g_dir_read_name (dir))
    n++;
  return n;
}

static void
refused (const char *path, gboolean pipe, const char *what)
{
  g_autoptr (GError) error = NULL;
  gsize length;
  ck_assert_int_eq (sp_file_open (path, pipe, 1000, &length, &error), -1);
  ck_assert_msg (strstr (error->message, what) && g_str_has_prefix (error->message, path), "%s: %s", path, error->message);
}

START_TEST (only_regular_files)
{
  g_autofree char *fifo = place ("fifo"), *socket_path = place ("socket"), *link = place ("link"), *sparse = place ("sparse"),
                  *gone = place ("gone"), *file = place ("file"), *fair = place ("fair");
  struct sockaddr_un address = { .sun_family = AF_UNIX };
  gsize length;

  ck_assert_int_eq (mkfifo (fifo, 0600), 0);
  g_strlcpy (address.sun_path, socket_path, sizeof address.sun_path);
  int listening = socket (AF_UNIX, SOCK_STREAM, 0);
  ck_assert_int_eq (bind (listening, (struct sockaddr *) &address, sizeof address), 0);
  ck_assert_int_eq (symlink (fifo, link), 0);
  ck_assert (g_file_set_contents (sparse, "x", 1, NULL));
  ck_assert_int_eq (truncate (sparse, (off_t) 10 << 40), 0);
  refused (fifo, FALSE, "is a pipe");
  refused (link, FALSE, "is a pipe");
  refused (socket_path, TRUE, "is a socket");
  refused (folder, TRUE, "is a folder");
  refused ("/dev/zero", TRUE, "is a device");
  refused ("/dev/tty", TRUE, "");
  refused ("/proc/self/status", TRUE, "shown by the system");
  refused ("/proc/kmsg", TRUE, "");
  refused (sparse, TRUE, "is larger than the 1000 bytes");
  refused (gone, TRUE, "cannot be opened");
  ck_assert (g_file_set_contents (file, "some text", -1, NULL));
  ck_assert_int_eq (symlink ("file", fair), 0);
  g_autofree char *read = sp_file_read (fair, 1000, &length, NULL);
  ck_assert_str_eq (read, "some text");
  close (listening);
}
END_TEST

static gpointer
feed (gpointer path)
{
  int out = open (path, O_WRONLY);
  ck_assert_int_eq (write (out, "one ", 4), 4);
  g_usleep (1000);
  ck_assert_int_eq (write (out, "two", 3), 3);
  close (out);
  return NULL;
}

/* Also where it is opened before anyone writes to it. */
START_TEST (a_pipe_of_the_user)
{
  g_autofree char *fifo = place ("fifo");
  char all[16] = "";
  gsize length, got = 0;
  ck_assert_int_eq (mkfifo (fifo, 0600), 0);
  GThread *writer = g_thread_new ("feed", feed, fifo);
  int in = sp_file_open (fifo, TRUE, 1000, &length, NULL);
  ck_assert (in >= 0 && length == G_MAXSIZE);
  for (gssize more; (more = read (in, all + got, sizeof all - got)) > 0;)
    got += (gsize) more;
  ck_assert_str_eq (all, "one two");
  g_thread_join (writer);
  close (in);
}
END_TEST

START_TEST (half_a_file_is_told)
{
  g_autofree char *file = place ("file");
  g_autoptr (GError) error = NULL;
  gsize length;
  ck_assert (g_file_set_contents (file, "1,-7", -1, NULL));
  int in = sp_file_open (file, FALSE, 1000, &length, NULL);
  ck_assert (sp_file_is_still (in, file, length, NULL));
  int out = open (file, O_WRONLY | O_APPEND);
  ck_assert_int_eq (write (out, "1\n", 2), 2);
  ck_assert (!sp_file_is_still (in, file, length, &error));
  ck_assert (strstr (error->message, "was written to while it was read"));
  close (out);
  close (in);
}
END_TEST

static void
stands (const char *path, const char *text)
{
  g_autofree char *there = NULL;
  ck_assert (g_file_get_contents (path, &there, NULL, NULL));
  ck_assert_str_eq (there, text);
}

START_TEST (written_whole)
{
  g_autofree char *file = place ("file"), *link = place ("link"), *astray = place ("astray"), *fifo = place ("fifo"),
                  *nowhere = g_build_filename (folder, "no", "where", NULL);
  g_autoptr (GError) error = NULL;
  GStatBuf status;

  umask (022);
  ck_assert (sp_file_write (file, "first", 5, NULL));
  ck_assert (g_stat (file, &status) == 0 && (status.st_mode & 07777) == 0644);
  ck_assert_int_eq (g_chmod (file, 0640), 0);
  ck_assert_int_eq (symlink ("file", link), 0);
  ck_assert (sp_file_write (link, "second", 6, NULL)); /* the link stays, and so do the permissions */
  stands (file, "second");
  ck_assert (g_file_test (link, G_FILE_TEST_IS_SYMLINK) && g_stat (file, &status) == 0 && (status.st_mode & 07777) == 0640);
  ck_assert (sp_file_write (file, "", 0, NULL));
  stands (file, "");
  ck_assert_uint_eq (count (), 2);
  ck_assert_int_eq (symlink ("file", astray), 0);
  ck_assert_int_eq (mkfifo (fifo, 0600), 0);
  const struct {
    const char *path, *what;
  } bad[] = { { folder, "is a folder" },
              { fifo, "is no regular file" },
              { "/dev/null", "is no regular file" },
              { nowhere, "cannot be written: No such file" } };
  for (guint i = 0; i < G_N_ELEMENTS (bad); i++) {
    ck_assert (!sp_file_write (bad[i].path, "x", 1, &error));
    ck_assert_msg (g_str_has_prefix (error->message, bad[i].path) && strstr (error->message, bad[i].what), "%s", error->message);
    g_clear_error (&error);
  }
  ck_assert_uint_eq (count (), 4);
}
END_TEST

/* A link that leads nowhere yet is as fair as any; one that leads back to itself is nobody's to replace. */
START_TEST (written_behind_links)
{
  g_autofree char *file = place ("file"), *link = place ("link"), *whole = place ("whole"), *circle = place ("circle"),
                  *back = place ("back"), *into = place ("into");
  g_autoptr (GError) error = NULL;

  ck_assert (symlink ("whole", link) == 0 && symlink (file, whole) == 0);
  ck_assert (sp_file_write (link, "made", 4, NULL));
  stands (file, "made");
  ck_assert (symlink ("back", circle) == 0 && symlink ("circle", back) == 0 && symlink ("no/where", into) == 0);
  ck_assert (!sp_file_write (circle, "x", 1, &error) && strstr (error->message, "cannot be written: Too many levels of symbolic links"));
  g_clear_error (&error);
  ck_assert (!sp_file_write (into, "x", 1, &error) && strstr (error->message, "cannot be written: No such file"));
  char *const links[] = { link, whole, circle, back, into };
  for (guint i = 0; i < G_N_ELEMENTS (links); i++)
    ck_assert (g_file_test (links[i], G_FILE_TEST_IS_SYMLINK));
  ck_assert_uint_eq (count (), 6);
}
END_TEST

static Suite *
suite (void)
{
  Suite *suite = suite_create ("quantity/file");
  TCase *tests = tcase_create ("files");
  tcase_add_checked_fixture (tests, begin, end);
  tcase_add_test (tests, only_regular_files);
  tcase_add_test (tests, a_pipe_of_the_user);
  tcase_add_test (tests, half_a_file_is_told);
  tcase_add_test (tests, written_whole);
  tcase_add_test (tests, written_behind_links);
  suite_add_tcase (suite, tests);
  return suite;
}

SP_MAIN (suite)
