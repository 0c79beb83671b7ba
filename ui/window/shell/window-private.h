/* window-private.h - what the files of the window share */
#pragma once

#include "ui/window/shell/window.h"
#include "ui/window/widgets/toast.h"

struct _SpWindow {
  GtkApplicationWindow parent_instance;
  SpSession *session;
  GtkWidget *pages, *spectrum, *chain, *range, *compare;
  GtkWidget *book_title, *book_state, *undo_button, *redo_button, *trouble_bar, *trouble_text, *trouble_close, *hint_bar, *menu_button,
      *report_button;
  SpToast *toast;
  GtkWidget *unsaved_bar, *unsaved_text, *kept_bar, *kept_text;
  GMenuModel *menu, *report_menu;
  char *copy;    /* what the bar says of a book that somebody has open; NULL: it is none, or was edited */
  guint reports; /* that are being written */
  gboolean close_after_reports;
};

/* Actions and their keys, on the class. */
void sp_window_class_add_actions (GtkWidgetClass *klass);
/* One place sets what can be done now. */
void sp_window_update_actions (SpWindow *window);
/* Asks where to save the book. */
void sp_window_ask_save (SpWindow *window, void (*chosen) (GtkWidget *window, GFile *file));
/* Saves it there. FALSE: said in the bar. */
gboolean sp_window_save_as (SpWindow *window, GFile *file);

/* ---- window-report.c ---- */

void sp_window_ask_spreadsheet (SpWindow *window);
void sp_window_ask_picture (SpWindow *window);
void sp_window_open_written (GtkWidget *window, const char *action, GVariant *uri);
/* TRUE: one is still being written; the bar says so, and the window closes by itself once all are there. */
gboolean sp_window_awaits_reports (SpWindow *window);
