/* form-parts.h - what the forms of a run and of an analyzer's check are made of: fields, a table that grows with its last row, a budget */
#pragma once

#include <gtk/gtk.h>

#include "core/run/sum.h"
#include "ui/window/widgets/fields.h"

#define SP_FORM_CELLS 5
#define SP_FORM_RESULTS 2
#define SP_FORM_ROWS 200 /* rows that are shown to be edited */

typedef struct {
  const char *what, *tip; /* N_() */
  int width;              /* characters; 0: the result of a row */
  gboolean wide;          /* takes what the others leave */
} SpFormColumn;

/* What is wrong with an entry, or with those of a row: not shown as long as nothing is. */
#define SP_TYPE_FORM_SAID (sp_form_said_get_type ())
G_DECLARE_FINAL_TYPE (SpFormSaid, sp_form_said, SP, FORM_SAID, GtkBox)
SpFormSaid *sp_form_said_new (GtkWidget *const *entries, guint n);

typedef struct {
  GtkWidget *cell[SP_FORM_CELLS];
  GtkWidget *result[SP_FORM_RESULTS];
  SpFormSaid *said;
  double frequency_hz; /* as it is read; NaN */
} SpFormRow;

typedef struct {
  GtkGrid *grid;
  const SpFormColumn *columns; /* its cells', then its results' */
  guint n_cells, n_results;
  GPtrArray *rows;  /* SpFormRow*; the last is empty */
  gboolean filling; /* texts are set by the program */
  gpointer owner;
  void (*typed) (gpointer owner);
  void (*entered) (gpointer owner, SpFormRow *row); /* the focus has come into it */
} SpFormTable;

/* `columns` outlive it. */
void sp_form_table_init (SpFormTable *table, GtkWidget *grid, const SpFormColumn *columns, guint n_cells, guint n_results);
void sp_form_table_clear (SpFormTable *table);
/* texts NULL: empty. (transfer none) */
SpFormRow *sp_form_table_add (SpFormTable *table, const char *const *texts);
const char *sp_form_row_text (const SpFormRow *row, guint cell);
/* From that cell on. */
gboolean sp_form_row_is_empty (const SpFormTable *table, const SpFormRow *row, guint from);
GError *sp_form_wants_frequency (void); /* of readings that stand in a row without one. (transfer full) */

/* What was typed and not taken: the text of each field by its key, of each cell by "NAME-ROW", and lines of keys that nobody knows. */
typedef struct {
  SpFormTable *table;
  const char *const *names; /* of the cells' columns */
  GtkWidget *const *entries;
  const char *(*key) (guint entry);
  guint n_entries;
} SpFormTexts;
/* As a draft (session/drafts.h). leftover NULL: none. (transfer full) */
GHashTable *sp_form_draft (const SpFormTexts *form, const char *leftover);
/* The way back, into an empty table; *leftover (transfer full) only where it is lines of keys: a draft's file may be anybody's. */
void sp_form_restore (const SpFormTexts *form, GHashTable *draft, char **leftover);

/* Labels and entries of the fields, a row each; entries[i] becomes that of fields[i]. `typed` (owner) is called at each change. */
void sp_form_add_fields (GtkWidget *grid, const SpKeySpec *keys, const SpFormField *fields, guint n, GtkWidget **entries,
                         void (*typed) (gpointer owner), gpointer owner);
/* Reads each of them as people type it into `object` by `set`; what cannot be read is marked. */
typedef gboolean (*SpFormSet) (gpointer object, const char *key, const char *value, GError **error);
void sp_form_read_fields (const SpKeySpec *keys, const SpFormField *fields, guint n, GtkWidget *const *entries, SpFormSet set,
                          gpointer object, gboolean *wrong);
/* A text that cannot be read: the entry is marked, `said` below it says it (with `what` before it where it is not NULL, for several entries may
 * share one), and *wrong becomes TRUE. message NULL: it can. */
void sp_form_mark (gboolean *wrong, SpFormSaid *said, GtkWidget *entry, const char *what, const char *message);

/* The terms and their sum; sum NULL: nothing. `words`: what a term is called. */
void sp_form_show_budget (GtkWidget *grid, const SpRunSum *sum, const char *(*words) (const char *name));
/* "∞", or whole degrees of freedom. (transfer full) */
char *sp_form_dof (double dof);
/* Sentences, below those that are there; at most a dozen in all. */
void sp_form_add_reasons (GtkWidget *box, const GPtrArray *reasons, const char *style);
void sp_form_clear_box (GtkWidget *box);
GtkWidget *sp_form_label_new (const char *text, float xalign, const char *style);
