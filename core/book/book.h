/* book.h - the bench book: one measurement job in one SQLite file, with its history of benches and every raw byte
 *
 * A book is a document, not a value: one owner, one thread at a time; its benches may be used anywhere. Every edit is a new bench;
 * undo and redo walk the list of them.
 * The file has the application id SP_BOOK_APPLICATION_ID, the schema version in user_version, and a rollback journal. Raw bytes are
 * stored once by SHA-256, and so are texts of chains, analyzers and masks. A save is one transaction: a kill at any instant leaves the
 * old state or the new one. Schema upgrades are numbered steps. Resources that benches share are in memory once, also after opening.
 * Files from outside are opened with limits and without trusting their schema; a name from a book is data, never a path. Every text
 * and raw file is verified against its hash when read.
 * An open book may have an empty FILE-journal beside it. A full one, left by a kill, repairs the book at the next opening. A
 * FILE-journal that this program cannot have written is refused with the book, before SQLite sees it. A write-ahead log is ignored.
 */
#pragma once

#include "core/bench/bench.h"

#define SP_BOOK_APPLICATION_ID 0x5370726f /* "Spro"; marks our format */
#define SP_BOOK_SCHEMA 1                  /* number of our format */
#define SP_BOOK_STATES_MAX 1000           /* depth of undo; older states are deleted with their unused bytes; bounds memory */

typedef enum {
  SP_BOOK_ERROR_FOREIGN, /* not a bench book: another file, an empty one, a folder */
  SP_BOOK_ERROR_NEWER,   /* written by a newer program */
  SP_BOOK_ERROR_DAMAGED,
  SP_BOOK_ERROR_LOCKED, /* open in another window or program, which the message names */
  SP_BOOK_ERROR_GONE,   /* the file is missing, replaced, or changed by another program */
  SP_BOOK_ERROR_IO      /* not readable or writable; more than 10^9 bytes in one raw file; no file yet */
} SpBookError;
#define SP_BOOK_ERROR (sp_book_error_quark ())
GQuark sp_book_error_quark (void);

typedef struct SpBook SpBook;

/* TRUE if the file begins like a bench book, whatever its name and its other contents. */
gboolean sp_book_is_one (const char *path);

/* A book in memory only, until sp_book_save_as(). (transfer full) */
SpBook *sp_book_new (SpBench *bench);
/* Opens and locks a file until the book is closed: a second opening is refused (LOCKED), in this program too. Checks the whole file
 * and reads the present bench; older ones are read on undo. Never writes a refused file. A read-only file, and one whose name is too long for
 * a journal beside it, is opened for reading under its path; saving then fails. Messages begin with the path and give advice. (transfer full) */
SpBook *sp_book_open (const char *path, GError **error);
/* A copy in memory of the last save with its history, even if the book is open elsewhere; writes nothing. It has no path until
 * sp_book_save_as(), like a new book. Larger than 4 GB: IO. (transfer full) */
SpBook *sp_book_look (const char *path, GError **error);
void sp_book_close (SpBook *book); /* does not save: call sp_book_save() first */
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpBook, sp_book_close)

const char *sp_book_path (const SpBook *book); /* NULL: in memory only */
SpBench *sp_book_bench (const SpBook *book);   /* the present bench; (transfer none) */

/* Adds a new present state and drops the states that could be redone. `label` names the edit for the menu ("Remove Mirrick"). Takes a
 * reference. */
void sp_book_edit (SpBook *book, SpBench *bench, const char *label);
/* Label of the edit that undo or redo would change; NULL: none. (transfer none) */
const char *sp_book_undo_label (const SpBook *book);
const char *sp_book_redo_label (const SpBook *book);
/* FALSE: nothing to undo, or that bench is unreadable; the present one stays. */
gboolean sp_book_undo (SpBook *book);
gboolean sp_book_redo (SpBook *book);

/* TRUE if a save would write: new or forgotten states, another present one, or no file yet. */
gboolean sp_book_unsaved (const SpBook *book);
/* Saves all changes in one transaction; unchanged traces are not copied. On error the file and the book in memory are unchanged, and
 * saving may be tried again. GONE, even without changes: nothing is written; sp_book_save_as() keeps the book. */
gboolean sp_book_save (SpBook *book, GError **error);
/* Writes a whole new file with all history (beside its place, then renamed) and continues with it; the old file stays as last saved.
 * Replaces an existing file only if it is a bench book that nobody has open and this program reads. On error the book is unchanged. If
 * its old file is unreadable, the history begins with the oldest state in memory. */
gboolean sp_book_save_as (SpBook *book, const char *path, GError **error);

/* Packs a sheet with all files it names into a book, and unpacks it: DIR/bench.sheet and DIR/raw/NN-name, sweeps and Touchstone files
 * byte for byte, chains, analyzers and masks as canonical text. DIR must not exist or be empty, and is left so on error. Packing an
 * unpacked folder and unpacking it again gives the same folder, byte for byte. */
gboolean sp_book_pack (const char *sheet, const char *book_path, GError **error);
gboolean sp_book_unpack (const char *book_path, const char *directory, GError **error);

/* The bench of a sheet, or a book's present bench as last saved. (transfer full) */
SpBench *sp_bench_at (const char *path, GError **error);
/* The bench to compare with: the same with the chain of a .chain file, or the bench at that path, with the first one's rule if
 * same_rule. (transfer full) */
SpBench *sp_bench_beside (const SpBench *bench, const char *path, gboolean same_rule, GError **error);
