/* book.c - the history of benches */
#include "core/book/book-private.h"

void
sp_state_free (SpState *state)
{
  g_clear_pointer (&state->bench, sp_bench_unref);
  g_free (state->label);
  g_free (state);
}

SpState *
sp_state_new (SpBench *bench, const char *label, gint64 ordinal)
{
  SpState *state = g_new0 (SpState, 1);
  state->bench = bench ? sp_bench_ref (bench) : NULL;
  state->label = g_strdup (label ? label : "");
  state->ordinal = ordinal;
  return state;
}

SpState *
sp_state_at (const SpBook *book, guint index)
{
  return book->states->pdata[index];
}

SpBook *
sp_book_empty (void)
{
  SpBook *book = g_new0 (SpBook, 1);
  book->states = g_ptr_array_new_with_free_func ((GDestroyNotify) sp_state_free);
  book->dropped = g_array_new (FALSE, FALSE, sizeof (gint64));
  return book;
}

SpBook *
sp_book_new (SpBench *bench)
{
  SpBook *book = sp_book_empty ();
  g_ptr_array_add (book->states, sp_state_new (bench, NULL, 0));
  return book;
}

void
sp_book_close (SpBook *book)
{
  if (!book)
    return;
  sqlite3_close (book->db);
  sp_book_lock_free (book->lock); /* after the connection: closing that drops POSIX locks */
  g_ptr_array_unref (book->states);
  g_array_unref (book->dropped);
  g_free (book->path);
  g_free (book);
}

const char *
sp_book_path (const SpBook *book)
{
  return book->path;
}

SpBench *
sp_book_bench (const SpBook *book)
{
  return sp_state_at (book, book->present)->bench;
}

/* ---- the history ---- */

/* Removes state `index`; the next save deletes its row, if any. */
static void
drop_state (SpBook *book, guint index)
{
  gint64 ordinal = sp_state_at (book, index)->ordinal;
  if (ordinal > 0)
    g_array_append_val (book->dropped, ordinal);
  g_ptr_array_remove_index (book->states, index);
}

void
sp_book_edit (SpBook *book, SpBench *bench, const char *label)
{
  g_return_if_fail (bench);
  while (book->states->len > book->present + 1)
    drop_state (book, book->states->len - 1);
  g_ptr_array_add (book->states, sp_state_new (bench, label, 0));
  while (book->states->len > SP_BOOK_STATES_MAX)
    drop_state (book, 0);
  book->present = book->states->len - 1;
}

const char *
sp_book_undo_label (const SpBook *book)
{
  return book->present > 0 ? sp_state_at (book, book->present)->label : NULL;
}

const char *
sp_book_redo_label (const SpBook *book)
{
  return book->present + 1 < book->states->len ? sp_state_at (book, book->present + 1)->label : NULL;
}

static gboolean
go_to (SpBook *book, guint index)
{
  SpState *state = sp_state_at (book, index);
  if (!state->bench && sp_book_reconnect (book, NULL))
    state->bench = sp_book_get_bench (book->db, book->path, state->ordinal, sp_book_bench (book), NULL);
  if (!state->bench)
    return FALSE;
  book->present = index;
  return TRUE;
}

gboolean
sp_book_undo (SpBook *book)
{
  return book->present > 0 && go_to (book, book->present - 1);
}

gboolean
sp_book_redo (SpBook *book)
{
  return book->present + 1 < book->states->len && go_to (book, book->present + 1);
}
