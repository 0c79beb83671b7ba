/* book.h - the bench book: one measurement job in one SQLite file, with its history of benches and every raw byte
 *
 * A book is a document, not a value: one owner, one thread at a time (the benches it hands out may go anywhere). Every edit is a new bench; undo and
 * redo walk the list of them. The file: application id SP_BOOK_APPLICATION_ID, schema version in user_version, rollback journal, raw bytes once by SHA-256,
 * texts of chains, analyzers and masks likewise; one transaction for a save, so that a kill at any instant leaves the old state or the new one.
 * Schema upgrades go by numbered steps. Files of strangers: opened with limits and without trusting their schema; a name from a book is data, never a path.
 * Every text and every raw file is checked against its hash when it is read. Parts that benches have in common are in memory once, also after opening.
 * While a book is open, an empty FILE-journal may stand beside it; a full one, left by a kill, is what the next opening repairs the book with. A FILE-journal
 * that this program cannot have written is refused with the book, before SQLite sees it; a write-ahead log beside is not looked at.
 */
#pragma once

#include "core/bench/bench.h"

#define SP_BOOK_APPLICATION_ID 0x5370726f /* "Spro" */
#define SP_BOOK_SCHEMA 1
#define SP_BOOK_STATES_MAX 1000 /* undo reaches this far back; older states are forgotten, their unused bytes with them */

typedef enum {
  SP_BOOK_ERROR_FOREIGN, /* not a bench book: another file, an empty one, a folder */
  SP_BOOK_ERROR_NEWER,   /* written by a newer program */
  SP_BOOK_ERROR_DAMAGED,
  SP_BOOK_ERROR_LOCKED, /* another window or program has it open; the message says who */
  SP_BOOK_ERROR_GONE,   /* its file is not there any more, or another stands in its place, or somebody wrote into it */
  SP_BOOK_ERROR_IO      /* cannot be read or written; more than 10^9 bytes in one raw file; no file yet */
} SpBookError;
#define SP_BOOK_ERROR (sp_book_error_quark ())
GQuark sp_book_error_quark (void);

typedef struct SpBook SpBook;

/* TRUE where a file's first bytes are a bench book's, whatever it is called, and whatever else is wrong with it. */
gboolean sp_book_is_one (const char *path);

/* A book that is in memory only, until sp_book_save_as(). (transfer full) */
SpBook *sp_book_new (SpBench *bench);
/* Opens a file and locks it as long as it is open, so that a second opening is refused (LOCKED), in this program too. All of the file is checked, and its
 * present bench is read; older ones are read when they are gone to. Refused files are never written. A file that may not be written is looked at, under its
 * path; saving fails then. Messages begin with the path and say what to do. (transfer full) */
SpBook *sp_book_open (const char *path, GError **error);
/* A copy in memory of what was saved last, with its history, whoever has the book open; writes nothing, beside the file either. It has no path: like a new
 * book it gets one by sp_book_save_as(). Larger than 4 GB: IO. (transfer full) */
SpBook *sp_book_look (const char *path, GError **error);
void sp_book_close (SpBook *book); /* saves nothing: sp_book_save() first */
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpBook, sp_book_close)

const char *sp_book_path (const SpBook *book); /* NULL: in memory only */
SpBench *sp_book_bench (const SpBook *book);   /* the present one; (transfer none) */

/* A new present state; what could be redone is dropped. `label` names the edit for the menu ("Remove Mirrick"). Takes a reference. */
void sp_book_edit (SpBook *book, SpBench *bench, const char *label);
/* The label of what would be undone or redone; NULL: nothing. (transfer none) */
const char *sp_book_undo_label (const SpBook *book);
const char *sp_book_redo_label (const SpBook *book);
/* FALSE: there is nothing, or that bench cannot be read any more; the present one stays. */
gboolean sp_book_undo (SpBook *book);
gboolean sp_book_redo (SpBook *book);

/* TRUE where a save would write: new or forgotten states, another one present, or no file yet. */
gboolean sp_book_unsaved (const SpBook *book);
/* All that is new since the last save, in one transaction; unchanged traces are not copied. On error nothing in the file has changed, the book in memory is
 * as it was, and saving may be tried again. GONE, also where there is nothing new: nothing is
 * written, sp_book_save_as() keeps it. */
gboolean sp_book_save (SpBook *book, GError **error);
/* Writes a whole new file with all the history (beside it, then renamed into place) and goes on with that one; the file it had stays as last saved. An
 * existing file is replaced only if it is a bench book that nobody has open and this program reads. On error the book is as it was. Where its old file
 * cannot be read any more, the history begins with the oldest state that was gone to. */
gboolean sp_book_save_as (SpBook *book, const char *path, GError **error);

/* A sheet with all it names to a book, and back: DIR/bench.sheet and DIR/raw/NN-name, sweeps and Touchstone files byte for byte, chains, analyzers and
 * masks as their canonical text; DIR must not exist or be empty, and is left so on error. Unpacking what was packed from an unpacked folder gives that
 * folder, byte for byte. */
gboolean sp_book_pack (const char *sheet, const char *book_path, GError **error);
gboolean sp_book_unpack (const char *book_path, const char *directory, GError **error);

/* A sheet, or a book's present bench as last saved, by its path. (transfer full) */
SpBench *sp_bench_at (const char *path, GError **error);
/* What a bench is held against: itself with the chain of a .chain file in place of its own, or the bench at that path, with the first one's rule
 * if same_rule. (transfer full) */
SpBench *sp_bench_beside (const SpBench *bench, const char *path, gboolean same_rule, GError **error);
