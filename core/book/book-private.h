/* book-private.h - declarations shared by the files of this folder: the file of a book, and its contents */
#pragma once

#include <sqlite3.h>

#include "core/book/book.h"

#define SP_BOOK_HEAD_BYTES 100                          /* they identify a book (SQLite's file format, 1.3) */
#define SP_BOOK_COPY_MAX G_GINT64_CONSTANT (4000000000) /* bounds memory */
#define SP_BOOK_RAW_MAX 1000000000                      /* one file: SQLite's limit for a value; bounds memory */
#define SP_BOOK_SHEET_MAX 16777216                      /* a state's sheet, as for a sheet's file; bounds memory */

/* One bench of the history. */
typedef struct {
  SpBench *bench; /* NULL: only in the file so far */
  char *label;
  gint64 ordinal; /* its row; 0: not saved yet */
} SpState;

/* The locked file of an open book. */
typedef struct SpBookLock SpBookLock;

struct SpBook {
  char *path;       /* NULL: in memory only */
  SpBookLock *lock; /* NULL: in memory only, or opened for reading */
  /* To the file; without a lock to a copy in memory; NULL: none, or to be reopened */
  sqlite3 *db;
  gboolean keep_all; /* states had missing resources: no bytes are deleted */
  GPtrArray *states; /* of SpState, oldest first */
  guint present;
  GArray *dropped; /* rows (gint64) that no state uses any more */
  gint64 last;     /* greatest ordinal ever used */
  gint64 saved;    /* ordinal of the present state in the file */
};

/* Takes a reference to the bench unless it is NULL. (transfer full) */
SpState *sp_state_new (SpBench *bench, const char *label, gint64 ordinal);
void sp_state_free (SpState *state);
SpState *sp_state_at (const SpBook *book, guint index);
SpBook *sp_book_empty (void); /* without a state */

/* ---- book-open.c ---- */

/* A connection to a checked copy in memory of the last save; writes nothing. A journal that does not fit is DAMAGED, and the message
 * names it. */
sqlite3 *sp_book_connect_copy (const char *path, gboolean *whole, GError **error);

/* Locks the file at its path and connects to it. */
gboolean sp_book_take_file (SpBook *book, GError **error);
/* Reopens the connection if a failed save closed it. FALSE without an error for a book that never had a file. */
gboolean sp_book_reconnect (SpBook *book, GError **error);

/* ---- book-file.c: the file ---- */

/* Sets an SpBookError with `path` before the sentence. Always FALSE. */
gboolean sp_book_fail (GError **error, SpBookError code, const char *path, const char *format, ...) G_GNUC_PRINTF (4, 5);
/* Sets DAMAGED, with `what` in brackets and advice. Always FALSE. */
gboolean sp_book_fail_damaged (GError **error, const char *path, const char *what);
/* Sets SQLite's message, with its code mapped to ours. Always FALSE. */
/* errno of the last read or write of a book's file that failed in this thread since this was asked last; 0: none. */
int sp_book_take_cause (void);
gboolean sp_book_fail_sql (sqlite3 *db, const char *path, GError **error);

/* A four-byte number in SQLite's files. */
guint32 sp_book_number (const guint8 *at);
/* TRUE if the first `length` bytes, at most SP_BOOK_HEAD_BYTES, are those of a bench book that this program reads. */
gboolean sp_book_check_bytes (const guint8 *head, gssize length, const char *path, GError **error);
/* A connection with its settings; nothing is read, checked or locked. `path` may be ":memory:"; messages name `meant`. */
sqlite3 *sp_book_connect (const char *path, const char *meant, GError **error);
/* Checks the whole file and upgrades its schema; *whole: states and resources match exactly. `exact`: no bytes after its end either. */
gboolean sp_book_check_file (sqlite3 *db, gint64 length, gboolean exact, const char *path, gboolean *whole, GError **error);
gboolean sp_book_check_hashes (sqlite3 *db);
/* A book without states, in memory. */
sqlite3 *sp_book_memory_new (const char *meant, GError **error);

gboolean sp_book_run (sqlite3 *db, const char *sql);
sqlite3_stmt *sp_book_prepare (sqlite3 *db, const char *sql);
/* Binds arguments by `types` (i: gint64, t: const char *, b: GBytes *), steps once and finalizes. TRUE if all succeeded. */
gboolean sp_book_do (sqlite3 *db, const char *sql, const char *types, ...);
gboolean sp_book_do_list (sqlite3 *db, const char *sql, const char *types, va_list values);

/* ---- book-lock.c: identity and owner of the file ---- */

typedef struct {
  guint8 *bytes; /* from sqlite3_malloc() */
  gssize length;
  gboolean hot; /* a save was interrupted: the journal is to be played back */
  GBytes *journal;
} SpBookBytes;

/* Checks only the first bytes: TRUE for a bench book that this program reads. */
gboolean sp_book_check_head (const char *path, GError **error);
/* All bytes between two saves, even if the book is open elsewhere; writes nothing. Always call sp_book_bytes_clear(). */
gboolean sp_book_copy (const char *path, SpBookBytes *copy, GError **error);
/* Opens and locks the file; LOCKED if it is open anywhere. (transfer full) */
SpBookLock *sp_book_lock_take (const char *path, GError **error);
void sp_book_lock_free (SpBookLock *lock); /* after closing the connection */
/* GONE if the file is missing or was changed by another program. */
gboolean sp_book_lock_check (SpBookLock *lock, GError **error);
/* Call around every change of the checked file: nobody copies it before the end. */
gboolean sp_book_lock_begin (SpBookLock *lock, GError **error);
void sp_book_lock_end (SpBookLock *lock);
/* TRUE if the bytes are those that this program wrote, even if the file was moved. */
gboolean sp_book_lock_is_ours (const SpBookLock *lock);
/* Notes that the journal beside `path` was begun for the book that is open there. */
void sp_book_lock_note_journal (const char *path);
/* TRUE if another file replaced the open book, and the journal belongs to that one. */
gboolean sp_book_lock_is_anothers_journal (const char *path);

/* ---- book-journal.c, book-vfs.c: files beside the book ---- */

/* (transfer full) */
char *sp_book_journal (const char *path);
/* FALSE and an error where no journal can stand beside it: such a book can be looked at, never saved. */
gboolean sp_book_check_name (const char *path, GError **error);
/* TRUE if there is no journal beside it, or one of ours; *hot: to be played back. */
gboolean sp_book_check_beside (const char *path, gboolean *hot, GError **error);
gboolean sp_book_fail_journal (const char *path, GError **error);
gboolean sp_book_read_journal (const char *path, SpBookBytes *copy, GError **error);
/* Replaces a copy taken in the middle of a save by the state before the save. */
gboolean sp_book_bytes_play_back (SpBookBytes *copy, const char *path, GError **error);
void sp_book_bytes_clear (SpBookBytes *copy);
/* The name of the VFS that books are opened with; NULL where there was no memory to make it. */
const char *sp_book_vfs (void);

/* ---- book-store.c: benches in the file ---- */

/* The name of a file without its folders, of any system; never empty, 200 bytes at most. (transfer full) */
char *sp_book_base_name (const char *file);
/* The key of a resource in the file: SHA256/NAME. (transfer full) */
char *sp_book_reference (SpResourceKind kind, gconstpointer resource);
/* The text of a chain or a report with the files that it names renamed. (transfer full) */
typedef char *(*SpPortName) (gpointer data, const SpStageFile *file);
char *sp_book_chain_text (const SpChain *chain, SpPortName name, gpointer data);
char *sp_book_document_text (const SpDocument *document, SpPortName name, gpointer data);

/* Writes the state's row and missing resources. Inside a transaction; FALSE and an error. */
gboolean sp_book_put_state (sqlite3 *db, const char *path, const SpState *state, gint64 ordinal, GError **error);
/* The bench of a row; shares the resources that `like` (may be NULL) already has. (transfer full) */
SpBench *sp_book_get_bench (sqlite3 *db, const char *path, gint64 ordinal, const SpBench *like, GError **error);
