/* import-private.h - what the import window and its right half share
 */
#pragma once

#include "ui/window/arrival.h"
#include "ui/window/import.h"

#define SP_TYPE_IMPORT_WINDOW (sp_import_window_get_type ())
G_DECLARE_FINAL_TYPE (SpImportWindow, sp_import_window, SP, IMPORT_WINDOW, GtkWindow)

struct _SpImportWindow {
  GtkWindow parent_instance;
  SpSession *session;
  GListStore *items; /* of SpArrivalItem */
  GtkSingleSelection *selection;
  GCancellable *cancellable;
  guint read, of;
  int condition; /* dropped on this one; -1 */
  gboolean filling; /* the forms are being filled, not typed into */
  gboolean typing;  /* the change comes from the forms: what is being typed stays as it is */
  GtkWidget *pattern, *progress, *progress_text, *list, *details, *trouble, *accept;
  /* details */
  GtkWidget *head, *error, *radio, *condition_entry, *purpose, *step, *options, *option_error, *understood, *said, *lines;
  GtkWidget *missing, *missing_text, *missing_rbw, *missing_attenuation, *missing_detector;
};

SpArrivalItem *sp_import_window_chosen (SpImportWindow *self); /* (transfer none); NULL */
/* The right half: made once, filled from the chosen item. */
void sp_import_details_build (SpImportWindow *self);
void sp_import_details_fill (SpImportWindow *self);
/* Buttons, counts. */
void sp_import_window_refresh (SpImportWindow *self);
