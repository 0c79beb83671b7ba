#include "ui/window/window.h"

#include <glib/gi18n-lib.h>

#include "ui/window/ask-file.h"
#include "ui/window/ask-user.h"
#include "ui/window/bar.h"
#include "ui/window/early.h"
#include "ui/window/entry.h"
#include "ui/window/pages.h"
#include "ui/window/preferences.h"
#include "ui/window/reading.h"
#include "ui/window/spectrum-page.h"
#include "ui/window/tip.h"
#include "ui/window/window-private.h"
#include "window-resources.h"

#define FINDINGS_WITHIN_MS 60 /* about a frame's worth of work: longer, and the window says that it is being judged */

static const char *const toggles[] = { "logarithmic", "all-sweeps" }; /* of the session: properties, and win.* of the same name */

G_DEFINE_FINAL_TYPE (SpWindow, sp_window, GTK_TYPE_APPLICATION_WINDOW)

static void
follow_book (SpWindow *self)
{
  SpBook *book = sp_session_book (self->session);
  const char *title = sp_session_bench (self->session)->title, *undo = sp_book_undo_label (book), *redo = sp_book_redo_label (book);
  const char *state = !sp_book_path (book) ? _("not saved yet") : sp_book_unsaved (book) ? _("saving…") : _("saved");
  gtk_label_set_text (GTK_LABEL (self->book_title), title && *title ? title : _("Bench book"));
  gtk_label_set_text (GTK_LABEL (self->book_state), state);
  sp_tip_set (self->book_state, sp_book_path (book) ? sp_book_path (book) : _("In memory only: Save as… keeps it (Ctrl+S)"));
  gtk_window_set_title (GTK_WINDOW (self), title && *title ? title : _("Spurproof"));
  g_autofree char *undo_tip = undo ? g_strdup_printf (_("Undo: %s (Ctrl+Z)"), undo) : NULL;
  g_autofree char *redo_tip = redo ? g_strdup_printf (_("Redo: %s (Ctrl+Shift+Z)"), redo) : NULL;
  sp_tip_set (self->undo_button, undo_tip);
  sp_tip_set (self->redo_button, redo_tip);
  sp_window_update_actions (self);
}

static void
on_trouble (SpWindow *self, const char *what, const char *to_do)
{
  g_autofree char *text = to_do && *to_do ? g_strdup_printf ("%s %s", what, to_do) : g_strdup (what);
  gtk_label_set_text (GTK_LABEL (self->trouble_text), text);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->trouble_text), GTK_ACCESSIBLE_PROPERTY_LABEL, text, -1);
  gtk_widget_set_visible (self->trouble_bar, TRUE);
}

/* ---- closing: a book that lives in memory only is asked about ---- */

static gboolean
would_be_lost (SpWindow *self)
{
  SpBook *book = sp_session_book (self->session);
  return !sp_book_path (book) && sp_book_undo_label (book);
}

static void
save_and_close (GtkWindow *window, GFile *file)
{
  if (sp_window_save_as (SP_WINDOW (window), file))
    gtk_window_close (window);
}

static void
keep_answered (GtkWindow *window, SpKeep keep)
{
  SpWindow *self = SP_WINDOW (window);
  if (keep == SP_KEEP_SAVE) {
    sp_window_ask_save (self, save_and_close);
  } else if (keep == SP_KEEP_DROP) {
    self->closing = TRUE;
    sp_drafts_drop (sp_session_drafts (self->session));
    gtk_window_close (window);
  }
}

static gboolean
sp_window_close_request (GtkWindow *window)
{
  SpWindow *self = SP_WINDOW (window);
  g_autoptr (GError) error = NULL;
  g_autofree char *not_taken = sp_entry_not_taken (window);
  if (!self->closing && not_taken) {
    on_trouble (self, not_taken, NULL);
    return TRUE;
  }
  if (!self->closing && would_be_lost (self)) {
    sp_ask_keep (window, _("This bench book has not been saved. Keep it?"), keep_answered);
    return TRUE;
  }
  if (!self->closing && !sp_session_save_now (self->session, &error)) {
    on_trouble (self, error->message, _("Nothing was closed: save it elsewhere with Save as…"));
    return TRUE;
  }
  return GTK_WINDOW_CLASS (sp_window_parent_class)->close_request (window);
}

/* ---- books ---- */

SpBook *
sp_window_book_from (GFile *file, GError **error)
{
  g_autofree char *path = g_file_get_path (file);
  if (path)
    return sp_early_book (path, error);
  g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_NOT_SUPPORTED, _("Only files on this machine can be opened: copy it here first."));
  return NULL;
}

/* The next start without an argument goes on with the book of this window. */
static void
remember_book (SpWindow *self)
{
  const char *path = sp_book_path (sp_session_book (self->session));
  g_autofree char *whole = path ? g_canonicalize_filename (path, NULL) : NULL;
  if (whole)
    sp_preferences_set ("book", whole);
}

gboolean
sp_window_save_as (SpWindow *self, GFile *file)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = g_file_get_path (file), *named = NULL;
  if (!path) {
    on_trouble (self, _("A bench book is saved on this machine only: choose a folder here."), NULL);
    return FALSE;
  }
  named = g_str_has_suffix (path, ".benchbook") ? g_strdup (path) : g_strconcat (path, ".benchbook", NULL);
  if (!sp_session_save_as (self->session, named, &error)) {
    on_trouble (self, error->message, NULL);
    return FALSE;
  }
  remember_book (self);
  return TRUE;
}

void
sp_window_ask_save (SpWindow *self, void (*chosen) (GtkWindow *window, GFile *file))
{
  sp_ask_save (GTK_WINDOW (self), _("Save the bench book as"), "*.benchbook", _("bench.benchbook"), chosen);
}

static gpointer
read_book (const char *path, gpointer asked, GError **error)
{
  (void) asked;
  return sp_early_read (path, error);
}

static void
on_book (gpointer window, gpointer asked, gpointer value, GError *why)
{
  SpWindow *self = window;
  g_autoptr (GError) error = why;
  g_autoptr (SpBook) book = value;
  (void) asked;
  gtk_widget_action_set_enabled (window, "win.open", TRUE);
  gtk_widget_set_cursor (window, NULL);
  gtk_window_set_focus (window, NULL); /* what is still being typed is this book's */
  if (!book || !sp_session_save_now (self->session, &error)) {
    on_trouble (self, error->message, book ? _("The present book stays open: save it elsewhere with Save as…") : _("The present book stays open."));
    return;
  }
  if (would_be_lost (self)) { /* nobody said what becomes of it: it keeps its window */
    SpWindow *other = sp_window_new (gtk_window_get_application (GTK_WINDOW (self)), g_steal_pointer (&book));
    gtk_window_present (GTK_WINDOW (other));
    return;
  }
  sp_session_set_book (self->session, g_steal_pointer (&book));
  remember_book (self);
  gtk_widget_set_visible (self->hint_bar, FALSE); /* it speaks of the sample */
}

void
sp_window_open (SpWindow *self, GFile *file)
{
  static const SpFileReading reading = { read_book, (GDestroyNotify) sp_book_close, on_book, NULL };
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.open", FALSE);
  gtk_widget_set_cursor_from_name (GTK_WIDGET (self), "progress");
  sp_reading_begin (self, file, &reading, NULL);
}

SpSession *
sp_window_session (SpWindow *self)
{
  return self->session;
}

void
sp_window_show_hint (SpWindow *self)
{
  gtk_widget_set_visible (self->hint_bar, TRUE);
}

static void
add_page (SpWindow *self, GtkWidget *page, const char *name, const char *title)
{
  gtk_stack_add_titled (GTK_STACK (self->pages), page, name, title);
}

/* A page that is first turned to is made then: the window's first frame does not wait for it. */
static void
fill_page (SpWindow *self)
{
  GtkWidget *place = gtk_stack_get_visible_child (GTK_STACK (self->pages));
  if (place == self->spectrum || gtk_widget_get_first_child (place))
    return;
  GtkWidget *page = place == self->chain   ? sp_chain_page_new (self->session)
                    : place == self->range ? sp_range_page_new (self->session)
                                           : sp_compare_page_new (self->session);
  gtk_widget_set_hexpand (page, TRUE);
  gtk_box_append (GTK_BOX (place), page);
}

/* A first frame without findings would only be painted again. */
static gboolean
before_first_frame (GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
  (void) clock, (void) data;
  sp_session_settle (SP_WINDOW (widget)->session, FINDINGS_WITHIN_MS);
  return G_SOURCE_REMOVE;
}

static void
remember_sweeps (SpSession *session)
{
  sp_preferences_set ("all-sweeps", sp_session_all_sweeps (session) ? NULL : "no");
}

/* What of the chart is the session's, as actions with a check mark in the menu. */
static void
add_toggles (SpWindow *self)
{
  g_autofree char *all = sp_preferences_get ("all-sweeps");
  sp_session_set_all_sweeps (self->session, g_strcmp0 (all, "no") != 0);
  g_signal_connect (self->session, "notify::all-sweeps", G_CALLBACK (remember_sweeps), NULL);
  for (guint i = 0; i < G_N_ELEMENTS (toggles); i++) {
    g_autoptr (GPropertyAction) toggle = g_property_action_new (toggles[i], self->session, toggles[i]);
    g_action_map_add_action (G_ACTION_MAP (self), G_ACTION (toggle));
  }
}

SpWindow *
sp_window_new (GtkApplication *application, SpBook *book)
{
  SpWindow *self = g_object_new (SP_TYPE_WINDOW, "application", application, NULL);
  self->session = sp_session_new (book);
  self->spectrum = sp_spectrum_page_new (self->session);
  self->chain = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  self->range = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  self->compare = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  add_page (self, self->spectrum, "spectrum", _("Spectrum"));
  add_page (self, self->chain, "chain", _("Chain"));
  add_page (self, self->range, "range", _("Range"));
  add_page (self, self->compare, "compare", _("Compare"));
  g_signal_connect_object (self->pages, "notify::visible-child", G_CALLBACK (fill_page), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->session, "trouble", G_CALLBACK (on_trouble), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->session, "notify::saved", G_CALLBACK (follow_book), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->session, "notify::findings", G_CALLBACK (follow_book), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->session, "notify::condition", G_CALLBACK (sp_window_update_actions), self, G_CONNECT_SWAPPED);
  add_toggles (self);
  sp_entry_add_undo_keys (GTK_WIDGET (self), self->session);
  gtk_widget_add_tick_callback (GTK_WIDGET (self), before_first_frame, NULL, NULL);
  follow_book (self);
  remember_book (self);
  return self;
}

static void
sp_window_dispose (GObject *object)
{
  gtk_window_set_focus (GTK_WINDOW (object), NULL); /* an entry that loses it still has a session to tell */
  for (guint i = 0; i < G_N_ELEMENTS (toggles); i++)
    g_action_map_remove_action (G_ACTION_MAP (object), toggles[i]); /* it keeps the session, and that the book's lock */
  g_clear_object (&SP_WINDOW (object)->session);
  G_OBJECT_CLASS (sp_window_parent_class)->dispose (object);
}

static void
sp_window_class_init (SpWindowClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  g_resources_register (sp_window_get_resource ());
  G_OBJECT_CLASS (klass)->dispose = sp_window_dispose;
  GTK_WINDOW_CLASS (klass)->close_request = sp_window_close_request;
  gtk_widget_class_set_template_from_resource (widget, "/spurproof/window/window.ui");
  gtk_widget_class_bind_template_child (widget, SpWindow, pages);
  gtk_widget_class_bind_template_child (widget, SpWindow, book_title);
  gtk_widget_class_bind_template_child (widget, SpWindow, book_state);
  gtk_widget_class_bind_template_child (widget, SpWindow, undo_button);
  gtk_widget_class_bind_template_child (widget, SpWindow, redo_button);
  gtk_widget_class_bind_template_child (widget, SpWindow, trouble_bar);
  gtk_widget_class_bind_template_child (widget, SpWindow, trouble_text);
  gtk_widget_class_bind_template_child (widget, SpWindow, trouble_close);
  gtk_widget_class_bind_template_child (widget, SpWindow, hint_bar);
  gtk_widget_class_bind_template_child (widget, SpWindow, menu_button);
  gtk_widget_class_bind_template_child (widget, SpWindow, report_button);
  gtk_widget_class_bind_template_child (widget, SpWindow, menu);
  gtk_widget_class_bind_template_child (widget, SpWindow, report_menu);
  sp_window_class_add_actions (widget);
}

/* A menu's widgets are made when it is opened. */
static void
open_menu (GtkMenuButton *button, gpointer menu)
{
  if (!gtk_menu_button_get_menu_model (button))
    gtk_menu_button_set_menu_model (button, menu);
}

static void
sp_window_init (SpWindow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  gtk_menu_button_set_create_popup_func (GTK_MENU_BUTTON (self->menu_button), open_menu, self->menu, NULL);
  gtk_menu_button_set_create_popup_func (GTK_MENU_BUTTON (self->report_button), open_menu, self->report_menu, NULL);
  gtk_widget_set_layout_manager (self->hint_bar, sp_bar_layout_new ());
  gtk_widget_set_layout_manager (self->trouble_bar, sp_bar_layout_new ());
}
