/* book-private.h - what the files of this room share: the file behind a book, and what is kept in it */
#pragma once

#include <sqlite3.h>

#include "core/book/book.h"

#define SP_BOOK_HEAD_BYTES 100 /* by which a book is known (SQLite's file format, 1.3) */
#define SP_BOOK_COPY_MAX G_GINT64_CONSTANT (4000000000)
#define SP_BOOK_RAW_MAX 1000000000 /* of one file: SQLite's limit for a value */
#define SP_BOOK_SHEET_MAX 16777216 /* of a state's sheet, as of a sheet's file */

/* One bench of the history. */
typedef struct {
  SpBench *bench; /* NULL: still in the file only */
  char *label;
  gint64 ordinal; /* its row; 0: not saved yet */
} SpState;

/* The file that a book has open. */
typedef struct SpBookLock SpBookLock;

struct SpBook {
  char *path;        /* NULL: in memory only */
  SpBookLock *lock;  /* NULL: in memory only, or only looked at */
  sqlite3 *db;       /* to the file; to a copy in memory without lock; NULL: none, or it is to be opened anew */
  gboolean keep_all; /* what states use was not whole: no bytes are forgotten */
  GPtrArray *states; /* of SpState, oldest first */
  guint present;
  GArray *dropped; /* of gint64: rows that belong to no state any more */
  gint64 last;     /* the greatest ordinal ever given */
  gint64 saved;    /* the present one's, as the file has it */
};

/* Takes a reference to the bench, if there is one. (transfer full) */
SpState *sp_state_new (SpBench *bench, const char *label, gint64 ordinal);
void sp_state_free (SpState *state);
SpState *sp_state_at (const SpBook *book, guint index);
SpBook *sp_book_empty (void); /* without a state */

/* ---- book-open.c ---- */

/* A connection to a copy in memory as between two saves, all of it checked; nothing is written. A journal that does not fit is DAMAGED and named. */
sqlite3 *sp_book_connect_copy (const char *path, gboolean *whole, GError **error);

/* Locks the file at its path and connects to it. */
gboolean sp_book_take_file (SpBook *book, GError **error);
/* The connection is there, anew where a failed save closed it. FALSE too for a book that never had a file: without an error. */
gboolean sp_book_reconnect (SpBook *book, GError **error);

/* ---- book-file.c: the file ---- */

/* Always FALSE: an SpBookError with `path` before the sentence. */
gboolean sp_book_fail (GError **error, SpBookError code, const char *path, const char *format, ...) G_GNUC_PRINTF (4, 5);
/* DAMAGED, `what` in brackets, and what to do. */
gboolean sp_book_fail_damaged (GError **error, const char *path, const char *what);
/* The same with what SQLite says, its code turned into ours. */
gboolean sp_book_fail_sql (sqlite3 *db, const char *path, GError **error);

/* Four bytes of SQLite's files. */
guint32 sp_book_number (const guint8 *at);
/* What the first bytes are, `length` of SP_BOOK_HEAD_BYTES: a bench book's that this program reads? */
gboolean sp_book_check_bytes (const guint8 *head, gssize length, const char *path, GError **error);
/* A connection with its settings; nothing is read, checked or locked yet. `path`: ":memory:" too; `meant` is the file that messages name. */
sqlite3 *sp_book_connect (const char *path, const char *meant, GError **error);
/* Checks all of it, brings its schema up to date; *whole: what states use is there, and nothing else. `exact`: nothing may stand behind its end either. */
gboolean sp_book_check_file (sqlite3 *db, gint64 length, gboolean exact, const char *path, gboolean *whole, GError **error);
gboolean sp_book_check_hashes (sqlite3 *db);
/* A book without states, in memory. */
sqlite3 *sp_book_memory_new (const char *meant, GError **error);

gboolean sp_book_run (sqlite3 *db, const char *sql);
sqlite3_stmt *sp_book_prepare (sqlite3 *db, const char *sql);
/* Binds what `types` says (i: gint64, t: const char *, b: GBytes *), steps once and finalizes. TRUE where that went well. */
gboolean sp_book_do (sqlite3 *db, const char *sql, const char *types, ...);
gboolean sp_book_do_list (sqlite3 *db, const char *sql, const char *types, va_list values);

/* ---- book-lock.c: which file it is, and whose ---- */

typedef struct {
  guint8 *bytes; /* sqlite3_malloc()'s */
  gssize length;
  gboolean hot; /* a save was broken off: the journal is to be played back */
  GBytes *journal;
} SpBookBytes;

/* Looks at the first bytes only: a bench book that this program reads? */
gboolean sp_book_check_head (const char *path, GError **error);
/* All bytes as they stand between two saves, whoever has the book open; writes nothing. sp_book_bytes_clear() in any case. */
gboolean sp_book_copy (const char *path, SpBookBytes *copy, GError **error);
/* Opens it for good and locks it; LOCKED where anybody has it. (transfer full) */
SpBookLock *sp_book_lock_take (const char *path, GError **error);
void sp_book_lock_free (SpBookLock *lock); /* after the connection to it is closed */
/* GONE where the file is not there any more, or not as this program left it. */
gboolean sp_book_lock_check (SpBookLock *lock, GError **error);
/* Around every change of the file, once it is checked: nobody copies it before the end. */
gboolean sp_book_lock_begin (SpBookLock *lock, GError **error);
void sp_book_lock_end (SpBookLock *lock);
/* The bytes are still those that this program left, wherever the file is. */
gboolean sp_book_lock_is_ours (const SpBookLock *lock);
/* The journal beside `path` was begun just now for the book that is open there. */
void sp_book_lock_note_journal (const char *path);
/* It is not the journal of such a book: that one is gone from there, and another stands in its place. */
gboolean sp_book_lock_is_anothers_journal (const char *path);

/* ---- book-journal.c, book-vfs.c: what may stand beside ---- */

/* (transfer full) */
char *sp_book_journal (const char *path);
/* The journal beside, if any, is one of ours; *hot: it is to be played back. */
gboolean sp_book_check_beside (const char *path, gboolean *hot, GError **error);
gboolean sp_book_fail_journal (const char *path, GError **error);
gboolean sp_book_read_journal (const char *path, SpBookBytes *copy, GError **error);
/* In place of a copy that was left in the middle of a save, that before the save. */
gboolean sp_book_bytes_play_back (SpBookBytes *copy, const char *path, GError **error);
void sp_book_bytes_clear (SpBookBytes *copy);
/* The name of the VFS that books are opened with; NULL where there was no memory to make it. */
const char *sp_book_vfs (void);

/* ---- book-store.c: benches in it ---- */

/* The name of a file without its folders, be they anybody's; never empty, 200 bytes at most. (transfer full) */
char *sp_book_base_name (const char *file);
/* The name under which a part is kept: SHA256/NAME. (transfer full) */
char *sp_book_reference (SpPartKind kind, gconstpointer part);
/* A chain's text with other names for its Touchstone files and runs. (transfer full) */
typedef char *(*SpPortName) (gpointer data, const SpStageFile *file);
char *sp_book_chain_text (const SpChain *chain, SpPortName name, gpointer data);

/* A row for the state, and what it refers to where that is not there yet. Inside a transaction; FALSE and an error. */
gboolean sp_book_put_state (sqlite3 *db, const char *path, const SpState *state, gint64 ordinal, GError **error);
/* The bench of a row; parts that `like` (may be NULL) has are shared with it. (transfer full) */
SpBench *sp_book_get_bench (sqlite3 *db, const char *path, gint64 ordinal, const SpBench *like, GError **error);
