/* session-save.c - the book's way to the disk: by itself after an edit, and again while that fails */
#include "ui/window/session/session-private.h"

#include <string.h>

#include "ui/window/session/kept.h"

/* Saved means on the disk: a failed save stays in `save-trouble`, in a bar that does not close, until one succeeds. */

#define SAVE_AFTER_MS 150
#define AGAIN_AFTER_S 5

/* The cause is told when it changes, not at every try. */
static void
note_trouble (SpSession *self, const GError *error)
{
  const char *text = error ? error->message : NULL;
  if (g_strcmp0 (text, self->save_trouble) != 0) {
    g_free (self->save_trouble);
    self->save_trouble = g_strdup (text);
    g_object_notify (G_OBJECT (self), "save-trouble");
  }
  g_object_notify (G_OBJECT (self), "saved");
}

/* The book is another file from now on. */
static gboolean
move_to (SpSession *self, const char *path, GError **error)
{
  if (!sp_book_save_as (self->book, path, error))
    return FALSE;
  sp_drafts_move (self->drafts, path);
  return TRUE;
}

/* Under no name; one place for all tries. */
static gboolean
keep (SpSession *self, GError **error)
{
  if (!self->place)
    self->place = sp_kept_new_path ();
  if (!sp_kept_make_folder (error) || !move_to (self, self->place, error))
    return FALSE;
  g_clear_pointer (&self->place, g_free);
  return TRUE;
}

static gboolean
write_book (SpSession *self, GError **error)
{
  const char *path = sp_book_path (self->book);
  g_autoptr (GError) why = NULL;
  if (!path)
    return !self->edited || keep (self, error);
  if (sp_book_save (self->book, &why))
    return TRUE;
  if (sp_kept_is (path) && g_error_matches (why, SP_BOOK_ERROR, SP_BOOK_ERROR_GONE) && keep (self, NULL))
    return TRUE; /* somebody tidied up the folder */
  g_propagate_error (error, g_steal_pointer (&why));
  return FALSE;
}

static gboolean
on_time (void *data)
{
  SpSession *self = data;
  self->save_source = 0;
  sp_session_save_now (self, NULL);
  return G_SOURCE_REMOVE;
}

void
sp_session_save_soon (SpSession *self)
{
  self->edited = TRUE;
  if (self->save_trouble)
    g_clear_handle_id (&self->save_source, g_source_remove);
  if (!self->save_source)
    self->save_source = g_timeout_add_full (G_PRIORITY_HIGH, SAVE_AFTER_MS, on_time, self, NULL); /* before lists are filled and drawn */
}

gboolean
sp_session_save_now (SpSession *self, GError **error)
{
  g_autoptr (GError) why = NULL;
  g_clear_handle_id (&self->save_source, g_source_remove);
  gboolean done = write_book (self, &why);
  note_trouble (self, why);
  if (done)
    return TRUE;
  self->save_source = g_timeout_add_seconds (AGAIN_AFTER_S, on_time, self);
  g_propagate_error (error, g_steal_pointer (&why));
  return FALSE;
}

gboolean
sp_session_save_as (SpSession *self, const char *path, GError **error)
{
  /* a file that could not be saved to may be another's by now */
  g_autofree char *kept = sp_session_is_kept (self) && !self->save_trouble ? g_strdup (sp_book_path (self->book)) : NULL;
  if (!move_to (self, path, error))
    return FALSE;
  if (kept && strcmp (kept, sp_book_path (self->book)) != 0)
    sp_kept_remove (kept);
  g_clear_handle_id (&self->save_source, g_source_remove);
  note_trouble (self, NULL);
  g_object_notify (G_OBJECT (self), "title");
  return TRUE;
}

void
sp_session_end (SpSession *self)
{
  sp_session_save_now (self, NULL);
  sp_drafts_write_now (self->drafts);
  g_clear_pointer (&self->book, sp_book_close);
}

void
sp_session_drop (SpSession *self)
{
  g_clear_handle_id (&self->save_source, g_source_remove);
  self->dropped = TRUE;
  if (!sp_book_path (self->book))
    sp_drafts_drop (self->drafts);
}

const char *
sp_session_save_trouble (SpSession *self)
{
  return self->save_trouble;
}

gboolean
sp_session_is_kept (SpSession *self)
{
  return sp_kept_is (sp_book_path (self->book));
}
