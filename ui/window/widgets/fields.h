/* fields.h - the keys of one group as a form: what the file holds, checked by the file's own reader when an entry is left
 *
 * Enter or leaving an entry sets the key; a value that is refused stays in the entry with the reader's sentence below it, the old value holds
 * until it is right; Escape brings the old value back. Of several lines Ctrl+Enter does what Enter does of one. Keys with few words are drop-downs. A form says of each key what it is called and what it is for;
 * unit, range, words and spelling are those of the file's own table of keys.
 */
#pragma once

#include <gtk/gtk.h>

#include "core/quantity/keyspec.h"

typedef struct {
  const char *key;          /* as the file spells it */
  const char *what;         /* N_(): what it is, in lower case: "greatest input power" */
  const char *tip;          /* N_(): one sentence in the trade's words; the range is put behind it */
  const char *const *words; /* N_(): what is read for each word of the key, NULL: not offered. NULL: the words themselves */
  const char *left_out;     /* N_(): what is read where the key is left out; NULL: that cannot be chosen */
  /* Of a key that no table has: */
  const char *unit; /* "W", "dB", or NULL */
  SpSpelling spelling;
  const char *const *choices; /* as the file spells them, NULL-terminated; NULL: an entry */
  const char *context;        /* of NC_() where the words are marked by that; NULL */
  const char *hint;           /* N_(): what an empty entry stands for; NULL */
  gboolean lines;             /* a text of several, which the file folds into one */
} SpFormField;

typedef struct {
  /* What a key holds now, NULL: nothing. (transfer full) */
  char *(*get) (gpointer owner, const char *key);
  /* One undoable edit; value "": the key is taken out. FALSE and an error: nothing has changed. */
  gboolean (*set) (gpointer owner, const SpFormField *field, const char *value, GError **error);
  gpointer owner;
} SpFormOwner;

#define SP_TYPE_FIELDS (sp_fields_get_type ())
G_DECLARE_FINAL_TYPE (SpFormFields, sp_fields, SP, FIELDS, GtkGrid)

/* What is read for each word of modulation=. */
extern const char *const sp_modulation_words[];

/* `keys`: the table that the fields' keys stand in (one that does not is the group's name), NULL: none. `fields` outlive it; `columns` of them stand
 * side by side. */
GtkWidget *sp_fields_new (const SpKeySpec *keys, const SpFormField *fields, guint n, guint columns, const SpFormOwner *owner);
/* The same for a form that a template made, once. */
void sp_fields_fill (SpFormFields *form, const SpKeySpec *keys, const SpFormField *fields, guint n, guint columns,
                     const SpFormOwner *owner);
/* Shows what the keys hold now. What is being typed stays, unless the key's own value is another than before, or `all`: another thing is shown. */
void sp_fields_refresh (SpFormFields *fields, gboolean all);
/* Says below an entry what came to be known of its value later, as when a file was read with it; message NULL: nothing is wrong. */
void sp_fields_tell (SpFormFields *fields, const char *key, const char *message);
/* The button in a drop-down of strings, which has the focus, says what it is and what is chosen: GTK 4.8 leaves it without a name. */
void sp_drop_down_speak (GtkWidget *drop_down, const char *what);
/* "rating, W": what a key is called, with its unit; its tip with the range. `spec` NULL: the field's own unit, no range. (transfer full) */
char *sp_field_label (const SpFormField *field, const SpKeySpec *spec);
char *sp_field_tip (const SpFormField *field, const SpKeySpec *spec);
/* The widget that edits a key: for tests and for focus. (transfer none); NULL: no such key. */
GtkWidget *sp_fields_widget (SpFormFields *fields, const char *key);
