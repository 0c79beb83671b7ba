/* window-private.h - what the files of the window share */
#pragma once

#include "ui/window/shell/window.h"
#include "ui/window/widgets/toast.h"

#define SP_WINDOW_NOTES 3 /* pages that have nothing to show before there is a radio */

struct _SpWindow {
  GtkApplicationWindow parent_instance;
  SpSession *session;
  GtkWidget *pages, *spectrum, *chain, *range, *compare, *report;
  GtkWidget *place;                  /* of the spectrum, or of what stands in its stead: */
  GtkWidget *begin, *why, *help;     /* made when they are shown first; NULL */
  GtkWidget *card;                   /* likewise */
  const char *before_card;           /* the page that it was asked for on; interned */
  GtkWidget *notes[SP_WINDOW_NOTES]; /* in the stead of pages without a radio; NULL */
  char *before_help;                 /* the page that help was asked for on */
  GtkWidget *book_title, *book_file, *book_state, *undo_button, *redo_button, *trouble_bar, *trouble_text, *trouble_close, *hint_bar,
      *menu_button, *report_button;
  SpToast *toast;
  GtkWidget *unsaved_bar, *unsaved_text, *kept_bar, *kept_text;
  GtkWidget *watch_bar; /* NULL: no folder is watched */
  GMenuModel *menu, *report_menu;
  GMenu *recent; /* of the menu */
  char *copy;    /* what the bar says of a book that somebody has open; NULL: it is none, or was edited */
  guint reports; /* that are being written */
  gboolean close_after_reports;
  guint reports_slow;         /* says so */
  GCancellable *reports_stop; /* NULL: none is being written */
  gboolean remembered;        /* among the recent books, with its verdict */
  gboolean wide;              /* room for the file's name */
};

/* Actions and their keys, on the class. */
void sp_window_class_add_actions (GtkWidgetClass *klass);
/* One place sets what can be done now. */
void sp_window_update_actions (SpWindow *window);
/* Asks where to save the book. */
void sp_window_ask_save (SpWindow *window, void (*chosen) (GtkWidget *window, GFile *file));
/* Saves it there. FALSE: said in the bar. */
gboolean sp_window_save_as (SpWindow *window, GFile *file);

/* ---- window-pages.c ---- */

void sp_window_add_pages (SpWindow *window);
/* What a popover may belong to: the stack itself may not have one. */
GtkWidget *sp_window_page_on_show (SpWindow *window);
/* Back to the page before it. FALSE: it is not on show. */
gboolean sp_window_leave_help (SpWindow *window);
/* Activations of actions. */
void sp_window_go_to_page (GtkWidget *window, const char *action, GVariant *page);
/* V, wherever the focus is while Compare is on show. */
void sp_window_measure (GtkWidget *window, GtkOrientation to, int across, int *least, int *best, int *least_baseline, int *best_baseline);
gboolean sp_window_turn_compare (GtkWidget *window, GVariant *action, gpointer data);
void sp_window_edit_stage (GtkWidget *window, const char *action, GVariant *stage);
void sp_window_why (GtkWidget *window, const char *action, GVariant *nothing);
void sp_window_help (GtkWidget *window, const char *action, GVariant *nothing); /* or back */
void sp_window_cautions (GtkWidget *window, const char *action, GVariant *nothing);
void sp_window_about (GtkWidget *window, const char *action, GVariant *nothing);
void sp_window_step (GtkWidget *window, const char *action, GVariant *step);
void sp_window_next_step (GtkWidget *window, const char *action, GVariant *nothing);

/* ---- window-card.c ---- */

void sp_window_card (GtkWidget *window, const char *action, GVariant *nothing); /* or back */
/* A folder is watched now, or is not any more. */
void sp_window_card_follow_watch (SpWindow *window);

/* ---- window-recent.c ---- */

void sp_window_open_menu (GtkMenuButton *button, gpointer window);

/* ---- window-watch.c ---- */

void sp_window_watch (GtkWidget *window, const char *action, GVariant *nothing); /* or stops */
void sp_window_watch_again (GtkWidget *window, const char *action, GVariant *nothing);
void sp_window_watch_look (GtkWidget *window, const char *action, GVariant *nothing);

/* ---- window-report.c ---- */

void sp_window_ask_spreadsheet (SpWindow *window, gboolean traces);
void sp_window_ask_picture (SpWindow *window);
void sp_window_ask_figures (SpWindow *window);
void sp_window_open_written (GtkWidget *window, const char *action, GVariant *uri);
void sp_window_write_paper (GtkWidget *window, const char *action, GVariant *asked);
void sp_window_show_paper (GtkWidget *window, const char *action, GVariant *nothing);
void sp_window_stop_report (GtkWidget *window, const char *action, GVariant *parameter);
/* TRUE: one is still being written; the bar says so, and the window closes by itself once all are there. */
gboolean sp_window_awaits_reports (SpWindow *window);
