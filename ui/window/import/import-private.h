/* import-private.h - what the files of the import window share */
#pragma once

#include "ui/window/import/import-item.h"
#include "ui/window/import/import.h"
#include "ui/window/widgets/fields.h"

#define SP_IMPORT_SWEEPS_MOST 2000 /* rows of the list: a bench holds half as many conditions */

#define SP_TYPE_IMPORT_WINDOW (sp_import_window_get_type ())
G_DECLARE_FINAL_TYPE (SpImportWindow, sp_import_window, SP, IMPORT_WINDOW, GtkWindow)

struct _SpImportWindow {
  GtkWindow parent_instance;
  SpSession *session;
  GListStore *items; /* of SpArrivalItem, in the files' order */
  GtkSingleSelection *selection;
  GCancellable *cancellable; /* while files are being read; NULL afterwards, or where it was cancelled */
  GHashTable *known;         /* identity of a sweep -> where it is, for people */
  guint read, of, left_out;
  int condition; /* dropped on this one; -1 */
  guint settle_source, refresh_source;
  gboolean filling;  /* the widgets are being filled: what they say is not the user's */
  guint chains_read; /* files of chains that are being read */
  gboolean proposing, closed;
  gboolean naming, pattern_said;  /* the names' ways are being looked for; somebody has typed or chosen the pattern */
  GPtrArray *names, *ways;        /* of char *: the files'; of SpNamesReading; NULL */
  GPtrArray *targets;             /* of SpProposal*: what the drop-down lists; the last two are "for all" and "another name" */
  GPtrArray *asks;                /* of Ask*: what was asked for a shape */
  SpArrivalItem *shown;           /* the one that the right half shows; borrowed, compared only */
  SpArrivalItem *asked;           /* the one whose chain's file is asked for; NULL */
  GtkWidget *settings, *readings; /* SpFormFields */
  /* of the template */
  GtkWidget *pattern, *pattern_trouble, *ways_box, *ways_list, *meanings_box, *meanings, *progress, *progress_text, *asks_scrolled,
      *asks_box, *list, *details, *trouble, *accept, *title, *error, *goes_to, *target, *new_name, *radio, *condition_name, *purpose,
      *retake, *step_box, *step, *through, *through_name, *through_ask, *through_common, *understood, *preview, *settings_holder,
      *readings_holder, *expander, *said, *lines, *lines_legend, *placeholder;
};

/* import.c */
SpArrivalItem *sp_import_window_chosen (SpImportWindow *self);        /* (transfer none); NULL */
SpArrivalItem *sp_import_window_item (SpImportWindow *self, guint i); /* (transfer none) */
guint sp_import_window_count (SpImportWindow *self);
/* Proposes again whatever nobody has said, and shows it, soon and once. */
void sp_import_window_settle (SpImportWindow *self);
/* Buttons and counts, soon and once. */
void sp_import_window_refresh (SpImportWindow *self);
/* What went wrong, below both halves; NULL: nothing. */
void sp_import_window_trouble (SpImportWindow *self, const char *text);

/* import-names.c: what the names say */
void sp_import_names_set_up (SpImportWindow *self);
void sp_import_names_propose (SpImportWindow *self, SpArrivalItem *item);
void sp_import_names_propose_all (SpImportWindow *self);
/* Once all files are read: a pattern is proposed, and every way in which the names can be read is offered. */
void sp_import_names_find (SpImportWindow *self);
/* What the chosen one's name may mean besides. */
void sp_import_names_fill (SpImportWindow *self, SpArrivalItem *item);

/* import-list.c: the left half */
void sp_import_list_set_up (SpImportWindow *self);
/* "Mirrick, 2 m", or "all radios". (transfer full) */
char *sp_import_target_name (const SpProposal *to);
/* "Abc 1, 2 m · step, +10 dB". (transfer full) */
char *sp_import_target_words (const SpProposal *to);

/* import-details.c: the right half, filled from the chosen item */
void sp_import_details_set_up (SpImportWindow *self);
void sp_import_details_fill (SpImportWindow *self);

/* import-through.c: the chain that a step or a notched sweep came through */
void sp_import_through_set_up (SpImportWindow *self);
void sp_import_through_fill (SpImportWindow *self, const SpArrivalItem *item);

/* import-settings.c: what an export says of itself, corrected one by one or for all of a shape */
void sp_import_settings_set_up (SpImportWindow *self);
void sp_import_settings_fill (SpImportWindow *self);
/* Asks once for what all files of a shape lack. */
void sp_import_settings_ask (SpImportWindow *self);
/* What was said of files of its shape at an earlier import is said of this one too, where it lacks that; it is then being read again. FALSE: nothing is. */
gboolean sp_import_settings_as_before (SpArrivalItem *item);
