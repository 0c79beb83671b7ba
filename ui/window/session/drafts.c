/* drafts.c - what was typed into runs' forms and not taken yet, kept beside the book */
#include "ui/window/session/drafts.h"

#include <gio/gio.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <string.h>

#include "core/quantity/error.h"
#include "ui/window/session/kept.h"
#include "ui/window/session/session.h"

#define WRITE_AFTER_MS 300
#define IN_MEMORY "sha256:" /* begins what stands for a book without a file */

/* Where they are, and which version is there: an older one never takes a newer one's place. */
typedef struct {
  GMutex lock;
  char *path;
  guint64 written;
} Place;

/* Counted, on the main thread: the reader and each writing keep it until they have reported. */
struct SpDrafts {
  Place *place;       /* counted: a thread may still write there */
  char *book;         /* of which: its path, or the hash of the bench it was begun with */
  GThread *reader;    /* gives the drafts; NULL: they are read */
  GHashTable *drafts; /* "chain\nstage" -> texts */
  guint64 version;
  guint write_source;
  SpSession *session; /* NULL: closed */
  char *wrong;        /* what the reader has to tell */
};

/* ---- where ---- */

static void
place_clear (gpointer data)
{
  Place *place = data;
  g_mutex_clear (&place->lock);
  g_free (place->path);
}

static void
place_unref (gpointer place)
{
  g_atomic_rc_box_release_full (place, place_clear);
}

static Place *
place_new (const char *book)
{
  Place *place = g_atomic_rc_box_new0 (Place);
  g_autofree char *hash = g_compute_checksum_for_string (G_CHECKSUM_SHA256, book, -1), *name = g_strconcat (hash, ".draft", NULL);
  g_mutex_init (&place->lock);
  place->path = g_build_filename (g_get_user_data_dir (), "spurproof", "drafts", name, NULL);
  return place;
}

static char *
book_named (const char *path, const char *sha256)
{
  return path ? g_canonicalize_filename (path, NULL) : g_strconcat (IN_MEMORY, sha256, NULL);
}

/* ---- read, in a thread ---- */

static GHashTable *
load (const char *path, const char *book, GError **error)
{
  GStatBuf status;
  g_autofree char *text = NULL;
  gsize length;
  if (g_stat (path, &status) == 0 && !S_ISREG (status.st_mode))
    sp_fail (error, SP_ERROR_IO, _ ("no ordinary file"));
  else if (g_stat (path, &status) == 0 && status.st_size > SP_DRAFTS_BYTES_MOST)
    sp_fail (error, SP_ERROR_LIMIT, _ ("longer than the %d bytes that are read"), SP_DRAFTS_BYTES_MOST);
  else if (g_file_get_contents (path, &text, &length, error))
    return sp_drafts_parse (text, length, book, error);
  return NULL;
}

static GHashTable *
read_all (SpDrafts *self)
{
  const char *path = self->place->path;
  g_autoptr (GError) error = NULL;
  GHashTable *drafts = g_file_test (path, G_FILE_TEST_EXISTS) ? load (path, self->book, &error) : NULL;
  if (error) {
    g_autofree char *aside = g_strconcat (path, "~", NULL);
    g_rename (path, aside);
    self->wrong = g_strdup_printf (_ ("%s cannot be used: %s."), path, error->message);
  }
  return drafts ? drafts : sp_drafts_new ();
}

/* A person is slower than this thread. */
static GHashTable *
all (SpDrafts *self)
{
  if (self->reader)
    self->drafts = g_thread_join (g_steal_pointer (&self->reader));
  return self->drafts;
}

static void
drafts_clear (gpointer data)
{
  SpDrafts *self = data;
  g_hash_table_unref (all (self));
  place_unref (self->place);
  g_free (self->book);
  g_free (self->wrong);
}

static void
drafts_unref (SpDrafts *self)
{
  g_rc_box_release_full (self, drafts_clear);
}

static gboolean
tell (gpointer data)
{
  SpDrafts *self = data;
  all (self);
  if (self->wrong && self->session)
    sp_session_trouble (self->session, self->wrong,
                        _ ("It is put aside with a ~ at its end; what was typed into a run's form may stand in it."));
  drafts_unref (self);
  return G_SOURCE_REMOVE;
}

static gpointer
read_in_thread (gpointer data)
{
  GHashTable *drafts = read_all (data);
  g_idle_add (tell, data);
  return drafts;
}

static void
begin (SpDrafts *self, const char *book)
{
  g_free (self->book);
  self->book = g_strdup (book);
  self->place = place_new (book);
}

SpDrafts *
sp_drafts_open (SpSession *session, const char *path, const char *sha256)
{
  SpDrafts *self = g_rc_box_new0 (SpDrafts);
  g_autofree char *book = book_named (path, sha256);
  self->session = session;
  begin (self, book);
  self->reader = g_thread_new ("drafts", read_in_thread, g_rc_box_acquire (self));
  return self;
}

/* ---- written, in a thread ---- */

/* One version on its way to the disk. */
typedef struct {
  Place *place;
  guint64 version;
  char *text; /* NULL: nothing is left to be kept */
  gsize length;
  guint forms;
} Version;

static void
version_free (gpointer data)
{
  Version *version = data;
  place_unref (version->place);
  g_free (version->text);
  g_free (version);
}

static Version *
version_new (SpDrafts *self)
{
  Version *version = g_new0 (Version, 1);
  version->place = g_atomic_rc_box_acquire (self->place);
  version->version = ++self->version;
  version->forms = sp_drafts_untaken (all (self));
  if (version->forms > 0)
    version->text = sp_drafts_text (all (self), self->book, &version->length);
  return version;
}

static gboolean
put (const char *path, const Version *version, GError **error)
{
  g_autofree char *folder = g_path_get_dirname (path);
  if (!version->text) {
    g_unlink (path);
    return TRUE;
  }
  if (version->length > SP_DRAFTS_BYTES_MOST || version->forms > SP_DRAFTS_MOST)
    return sp_fail (error, SP_ERROR_LIMIT, _ ("more than %d forms were begun and not taken, or more than %d bytes in them"), SP_DRAFTS_MOST,
                    SP_DRAFTS_BYTES_MOST);
  g_mkdir_with_parents (folder, 0700);
  return g_file_set_contents_full (path, version->text, (gssize) version->length, G_FILE_SET_CONTENTS_CONSISTENT, 0600, error);
}

static gboolean
version_write (const Version *version, GError **error)
{
  Place *place = version->place;
  gboolean done = TRUE;
  g_mutex_lock (&place->lock);
  if (version->version > place->written) {
    place->written = version->version;
    done = put (place->path, version, error);
  }
  g_mutex_unlock (&place->lock);
  return done;
}

static void
say_unwritten (SpDrafts *self, const GError *error)
{
  if (!self->session)
    return;
  g_autofree char *what = g_strdup_printf (_ ("What is typed into the run's form is not kept over the program's end: %s."), error->message);
  sp_session_trouble (self->session, what, _ ("Take it into the stage or save it as a file."));
}

static void
write_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  GError *error = NULL;
  (void) source, (void) cancellable;
  if (version_write (data, &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

static void
on_written (GObject *source, GAsyncResult *result, gpointer data)
{
  SpDrafts *self = data;
  g_autoptr (GError) error = NULL;
  (void) source;
  if (!g_task_propagate_boolean (G_TASK (result), &error))
    say_unwritten (self, error);
  drafts_unref (self);
}

static gboolean
write_soon (gpointer data)
{
  SpDrafts *self = data;
  self->write_source = 0;
  g_autoptr (GTask) task = g_task_new (NULL, NULL, on_written, g_rc_box_acquire (self));
  g_task_set_task_data (task, version_new (self), version_free);
  g_task_run_in_thread (task, write_in_thread);
  return G_SOURCE_REMOVE;
}

static void
write_here (SpDrafts *self)
{
  g_autoptr (GError) error = NULL;
  Version *version = version_new (self);
  g_clear_handle_id (&self->write_source, g_source_remove);
  if (!version_write (version, &error))
    say_unwritten (self, error);
  version_free (version);
}

/* One that a thread has not come to yet is written here, one that it is writing is waited for. */
void
sp_drafts_write_now (SpDrafts *self)
{
  g_mutex_lock (&self->place->lock);
  gboolean behind = self->place->written < self->version;
  g_mutex_unlock (&self->place->lock);
  if (self->write_source || behind)
    write_here (self);
}

void
sp_drafts_close (SpDrafts *self)
{
  self->session = NULL;
  sp_drafts_write_now (self);
  drafts_unref (self);
}

void
sp_drafts_move (SpDrafts *self, const char *path)
{
  g_autofree char *book = book_named (path, NULL), *before = g_strdup (self->book);
  Place *old = self->place;
  all (self); /* of the old place */
  if (strcmp (book, before) == 0)
    return;
  begin (self, book);
  write_here (self);
  if (g_str_has_prefix (before, IN_MEMORY) || sp_kept_is (before)) { /* who begins with that bench again begins another book */
    Version none = { old, G_MAXUINT64, NULL, 0, 0 };
    version_write (&none, NULL);
  }
  place_unref (old);
}

void
sp_drafts_drop (SpDrafts *self)
{
  g_hash_table_remove_all (all (self));
  write_here (self);
}

/* ---- one form's ---- */

GHashTable *
sp_drafts_get (SpDrafts *self, const char *chain, const char *stage)
{
  g_autofree char *key = sp_drafts_key (chain, stage);
  return g_hash_table_lookup (all (self), key);
}

void
sp_drafts_set (SpDrafts *self, const char *chain, const char *stage, GHashTable *texts)
{
  char *key = sp_drafts_key (chain, stage);
  gboolean changed = texts || g_hash_table_contains (all (self), key);
  if (texts)
    g_hash_table_insert (all (self), g_steal_pointer (&key), texts);
  else
    g_hash_table_remove (all (self), key);
  g_free (key);
  if (changed && !self->write_source)
    self->write_source = g_timeout_add (WRITE_AFTER_MS, write_soon, self);
}

void
sp_drafts_rename (SpDrafts *self, const char *chain, const char *stage, const char *name)
{
  g_autofree char *from = sp_drafts_key (chain, stage);
  g_autoptr (GList) keys = g_hash_table_get_keys (all (self));
  for (GList *one = keys; one; one = one->next) {
    if (strcmp (name, stage ? stage : chain) == 0 || (stage ? strcmp (one->data, from) != 0 : !g_str_has_prefix (one->data, from)))
      continue;
    GHashTable *texts = g_hash_table_ref (g_hash_table_lookup (all (self), one->data));
    sp_drafts_set (self, stage ? chain : name, stage ? name : (const char *) one->data + strlen (from), texts);
    g_hash_table_remove (all (self), one->data);
  }
}
