/* keyfile.h - the reader of our own text files: groups and keys with their line and column
 *
 * Syntax (shared by .chain, .analyzer, .mask, .sheet and .run): UTF-8; a line is `[group]`, `key=value`, blank or a comment; `#` at a
 * line's start or after a blank, outside double quotes, begins a comment. LF or CRLF; a byte order mark is skipped. A group or
 * a key given twice is an error. Blanks round names and values are dropped; a value may be empty. Double quotes only shield a `#`;
 * they are removed where they enclose the whole value. One that is not closed shields nothing (3" cable), but is an error where it
 * begins a value. Control characters other than the tab are an error. A group's name holds no brackets; a key's no `=`.
 * A key that nobody asks for is left over: sp_key_file_unknown() makes the warning, and it is kept when the file is rewritten.
 * Written by hand because GLib's GKeyFile tells no column, takes a group or key twice, and keeps `# ...` behind a value as part of it.
 * Limits: 16 MiB a file, 100,000 lines, 65,536 characters a line (a person writes these files).
 */
#pragma once

#include "core/quantity/reason.h"

typedef struct SpKeyFile SpKeyFile;

typedef struct {
  char *key, *value;
  char *raw;          /* the value as written, its quotes on */
  guint line, column; /* of the value's first character, from 1 */
  gboolean used;      /* somebody asked for it */
} SpKey;

typedef struct {
  char *name; /* "chain", "stage patch": as written, blanks folded to one */
  guint line;
  GPtrArray *keys; /* SpKey*, in the file's order */
  gboolean used;
} SpGroup;

/* Reads `path`, whole. NULL and an error with line and column. (transfer full) */
SpKeyFile *sp_key_file_read (const char *path, GError **error);
/* The same from memory; `name` stands for the file in messages. (transfer full) */
SpKeyFile *sp_key_file_parse (const char *bytes, gsize length, const char *name, GError **error);
void sp_key_file_free (SpKeyFile *file);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpKeyFile, sp_key_file_free)

const char *sp_key_file_name (const SpKeyFile *file);
/* A path in this file, relative to the file's folder. (transfer full) */
char *sp_key_file_resolve (const SpKeyFile *file, const char *path);

guint sp_key_file_n_groups (const SpKeyFile *file);
SpGroup *sp_key_file_group (SpKeyFile *file, guint index);
/* NULL where there is none; marks it used. */
SpGroup *sp_key_file_find (SpKeyFile *file, const char *group);

/* Key of a group, NULL where absent or `group` is NULL; marks it and its group used (so do the typed readers below). */
const SpKey *sp_group_find (SpGroup *group, const char *key);

/* Typed readers. TRUE and *out left alone where the key is absent; FALSE and an error with place, group, key and what was
 * expected where it is wrong. Ranges are closed; pass -INFINITY/INFINITY for none. */
gboolean sp_group_number (SpKeyFile *file, SpGroup *group, const char *key, double low, double high, double *out, GError **error);
gboolean sp_group_frequency (SpKeyFile *file, SpGroup *group, const char *key, double *out, GError **error);
/* A number above 0, at most `high`; a frequency above 0, at most `high` where that is not 0, such as `example`. */
gboolean sp_group_positive (SpKeyFile *file, SpGroup *group, const char *key, double high, double *out, GError **error);
gboolean sp_group_positive_frequency (SpKeyFile *file, SpGroup *group, const char *key, double high, const char *example, double *out,
                                      GError **error);
/* `words` NULL-terminated; *out becomes the index of the matching word. */
gboolean sp_group_choice (SpKeyFile *file, SpGroup *group, const char *key, const char *const *words, int *out, GError **error);
gboolean sp_group_yes_no (SpKeyFile *file, SpGroup *group, const char *key, gboolean *out, GError **error);
gboolean sp_group_date (SpKeyFile *file, SpGroup *group, const char *key, guint32 *julian_day, GError **error);
/* A copy of the text, unquoted; frees what *out held. */
gboolean sp_group_text (SpKeyFile *file, SpGroup *group, const char *key, char **out, GError **error);

/* An error at a key's value: "FILE:LINE:COLUMN: [group] key: TEXT". Always FALSE. `offset` characters into the value. */
gboolean sp_key_fail (SpKeyFile *file, const SpGroup *group, const SpKey *key, guint offset, GError **error, const char *format, ...)
    G_GNUC_PRINTF (6, 7);

/* The items of a value separated by `;`, trimmed; empty items are dropped, `offset` their place in the value. (transfer full) */
typedef struct {
  char *text;
  guint offset;
} SpItem;
GArray *sp_key_items (const SpKey *key); /* of SpItem, cleared with the array */

/* Adds an SP_REASON_UNKNOWN_KEY for every group and key that nobody asked for to `warnings` (of SpReason*). */
void sp_key_file_unknown (const SpKeyFile *file, GPtrArray *warnings);
/* The unasked groups and keys as text of this syntax, for sp_key_file_join(); "" if none. (transfer full) */
char *sp_key_file_leftover (const SpKeyFile *file);
/* Of one group: "key=value" lines to be written under its heading; "" if none. (transfer full) */
char *sp_group_leftover (const SpGroup *group);
/* `written`, a text of this syntax, with what `leftover` holds: its keys under the heading of their group where that is there, its
 * other groups at the end (appending would repeat headings). Both must parse and share no key. (transfer full) */
char *sp_key_file_join (const char *written, const char *leftover);

/* `text`, of this syntax, with one key of a group set (NULL or "": taken out); all else as it stands. SP_ERROR_USAGE where the group is
 * not there, or where the value cannot be written on one line (control characters; quotes and a # that begins a comment). (transfer full) */
char *sp_key_text_set (const char *text, const char *group, const char *key, const char *value, GError **error);
/* What it holds, unquoted; NULL where absent or where `text` does not parse. (transfer full) */
char *sp_key_text_get (const char *text, const char *group, const char *key);
/* `text` without a group and its keys. (transfer full) */
char *sp_key_text_remove (const char *text, const char *group);
/* The lines of a group under another heading, ready to be appended; NULL where it is absent. (transfer full) */
char *sp_key_text_copy (const char *text, const char *group, const char *heading);
