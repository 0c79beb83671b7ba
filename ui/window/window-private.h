/* window-private.h - what window.c and window-actions.c share
 */
#pragma once

#include "ui/window/window.h"

struct _SpWindow {
  GtkApplicationWindow parent_instance;
  SpSession *session;
  GtkWidget *pages, *spectrum, *chain, *range, *compare;
  GtkWidget *book_title, *book_state, *undo_button, *redo_button, *trouble_bar, *trouble_text, *trouble_close, *hint_bar, *menu_button, *report_button;
  GMenuModel *menu, *report_menu;
  gboolean closing; /* the user has said what becomes of an unsaved book */
};

/* Actions and their keys, on the class. */
void sp_window_class_add_actions (GtkWidgetClass *klass);
/* One place sets what can be done now. */
void sp_window_update_actions (SpWindow *window);
/* Asks where the book shall be saved. */
void sp_window_ask_save (SpWindow *window, void (*chosen) (GtkWindow *window, GFile *file));
/* Saves it there. FALSE: said in the bar. */
gboolean sp_window_save_as (SpWindow *window, GFile *file);
