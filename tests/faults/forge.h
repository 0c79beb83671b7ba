/* forge.h - sound bench books of several kinds, and what a stranger may do to their tables, their pages, and what stands beside them */
#pragma once

#include <check.h>
#include <glib/gstdio.h>
#include <sqlite3.h>

typedef struct {
  char *name;
  char *bytes;
  gsize length;
} Sound;

/* Sound books in other forms: page sizes, encodings, auto_vacuum modes, with and without a freelist. (transfer full, of Sound) */
GPtrArray *forge_sound (const char *path);
/* Statements that forge a book's schema or its rows, one list of them for every table and column. (transfer full) */
char **forge_statements (void);
/* Runs them on the file with all of SQLite's safeguards off; what fails is let go. */
void forge_sql (const char *path, const char *sql);
/* Some bytes of a book changed where they matter: heads of file and pages, cells, pointers, freelist; pages swapped, cut, added. (transfer full) */
char *forge_pages (const Sound *sound, GRand *rand, gsize *length);
/* FILE-journal, -wal or -shm of the book: random, or such as SQLite would play back, or remove `other` for. */
void forge_beside (const char *path, const char *other, GRand *rand);
