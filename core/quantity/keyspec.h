/* keyspec.h - the keys of one kind of group, each declared once
 *
 * A table has one row a key, in the order in which a file is written, and ends with a row without a name. Reader, writer, hash, edits, forms and the
 * list that documentation is held against (tests/keys) all walk it, so a new key is one row. A key counts in the hash unless its row says not_hashed.
 */
#pragma once

#include "core/quantity/keyfile.h"
#include "core/quantity/spell.h"

typedef enum {
  SP_KEY_TEXT,      /* char *; NULL where absent */
  SP_KEY_DATE,      /* double, Julian day */
  SP_KEY_NUMBER,    /* double, from low to high */
  SP_KEY_POSITIVE,  /* double, above 0, up to high */
  SP_KEY_COUNT,     /* guint, a whole number from low to high */
  SP_KEY_FREQUENCY, /* double, Hz, above 0, up to high where that is not 0 */
  SP_KEY_WORD,      /* an enum or gboolean: the place of its word in `words` */
  SP_KEY_YES_NO,    /* gboolean */
  /* The next are read and written by functions of their row, or together with another row where it has none. */
  SP_KEY_LIST,    /* rows divided by `;` */
  SP_KEY_CURVE,   /* one number, or rows of a frequency and a value */
  SP_KEY_SPAN,    /* the lower and the upper end */
  SP_KEY_FORMULA, /* a number of dB, or one that follows the power */
  /* What names something else is read and hashed behind all values. */
  SP_KEY_GROUPS, /* other groups of the file */
  SP_KEY_FILE,
  SP_KEY_FILES
} SpKeyKind;

typedef struct SpKeySpec SpKeySpec;

struct SpKeySpec {
  const char *key; /* as the file spells it; NULL ends a table */
  SpKeyKind kind;
  gsize offset;     /* of its value in the struct */
  const char *unit; /* "dB"; NULL: none, or the value brings it (frequencies) */
  double low, high; /* closed; infinite where open; of a curve: of its values */
  double absent;    /* the value where the key is left out */
  const char *const *words;
  const char *example;  /* of a frequency, for messages */
  gconstpointer format; /* for functions of the row */
  SpSpelling spelling;  /* of the frequencies in it */
  gboolean or_infinite; /* the number may be `inf` */
  gboolean named;       /* several keys of one table: KEY.NAME=value, read and written by functions of the row */
  gboolean not_hashed;
  gboolean written_absent, hashed_absent; /* put down even where the value is the absent one */

  /* `context` is what the walk was given. NULL: as the kind has it. */
  gboolean (*read) (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, gpointer context, GError **error);
  void (*write) (const SpKeySpec *spec, GString *text, gconstpointer object, gconstpointer context);
};

/* NULL where the table has no such key; KEY.NAME finds a row that is `named`. */
const SpKeySpec *sp_keys_find (const SpKeySpec *keys, const char *key);
SpSpelling sp_key_spelling (const SpKeySpec *spec);
/* The place of a row's value. */
gpointer sp_key_member (const SpKeySpec *spec, gconstpointer object);

/* Every value of `object` as it is where its key is left out. A row with both functions sees to its value itself. */
void sp_keys_init (const SpKeySpec *keys, gpointer object);
/* The texts of a struct that was copied become its own, and are freed. */
void sp_keys_copy_texts (const SpKeySpec *keys, gpointer object);
void sp_keys_free_texts (const SpKeySpec *keys, gpointer object);

/* Reads all keys of a group: the values in the table's order, then what names something else. A key that is not there leaves its value alone. */
gboolean sp_keys_read (const SpKeySpec *keys, SpKeyFile *file, SpGroup *group, gpointer object, gpointer context, GError **error);
/* One key of `group` from the text that a form's field has for it, read as the file's reader reads it; "": left alone. FALSE and a sentence that
 * says what was expected, without place, group and key. */
gboolean sp_keys_set (const SpKeySpec *keys, const char *group, gpointer object, gpointer context, const char *key, const char *value,
                      GError **error);
/* Appends a `key=value` line for each value that is not the absent one, in the table's order. */
void sp_keys_write (const SpKeySpec *keys, GString *text, gconstpointer object, gconstpointer context);
/* Appends what the hash is made of: the values in the table's order, then what names something else. */
void sp_keys_hash (const SpKeySpec *keys, GString *text, gconstpointer object, gconstpointer context);
