/* book-private.h - what the files of this room share: the file behind a book, and what is kept in it */
#pragma once

#include <sqlite3.h>

#include "core/book/book.h"

#define SP_BOOK_RAW_MAX 1000000000   /* of one file: SQLite's limit for a value */
#define SP_BOOK_SHEET_MAX 16777216   /* of a state's sheet, as of a sheet's file */

/* One bench of the history. */
typedef struct {
  SpBench *bench; /* NULL: still in the file only */
  char *label;
  gint64 ordinal; /* its row; 0: not saved yet */
} SpState;

struct SpBook {
  char *path;
  sqlite3 *db;        /* NULL: in memory only */
  GPtrArray *states;  /* of SpState, oldest first */
  guint present;
  GArray *dropped;    /* of gint64: rows that belong to no state any more */
  gint64 last;        /* the greatest ordinal ever given */
  gint64 saved;       /* the present one's, as the file has it */
};

void sp_state_free (SpState *state);

/* ---- book-file.c: the file ---- */

/* Always FALSE: an SpBookError with `path` before the sentence. */
gboolean sp_book_fail (GError **error, SpBookError code, const char *path, const char *format, ...) G_GNUC_PRINTF (4, 5);
/* The same with what SQLite says, its code turned into ours. */
gboolean sp_book_fail_sql (sqlite3 *db, const char *path, GError **error);

/* Looks at the first bytes only: a bench book that this program reads? Touches nothing. */
gboolean sp_book_check_head (const char *path, GError **error);
/* Opens a file that sp_book_check_head() let pass, holds its lock, checks all of it, brings its schema up to date. */
/* The connection with its settings; nothing is read, checked or locked yet. */
sqlite3 *sp_book_connect (const char *path, GError **error);
sqlite3 *sp_book_file_open (const char *path, GError **error);
/* An empty file becomes a book without states. */
sqlite3 *sp_book_file_create (const char *path, GError **error);

gboolean sp_book_run (sqlite3 *db, const char *sql);
sqlite3_stmt *sp_book_prepare (sqlite3 *db, const char *sql);
/* Binds what `types` says (i: gint64, t: const char *, b: GBytes *), steps once and finalizes. TRUE where that went well. */
gboolean sp_book_do (sqlite3 *db, const char *sql, const char *types, ...);

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
