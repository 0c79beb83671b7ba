/* window.c - one bench book in one window */
#include "ui/window/shell/window.h"

#include <glib/gi18n-lib.h>
#include <string.h>
#include <sys/stat.h>

#include "ui/window/import/import.h"
#include "ui/window/session/preferences.h"
#include "ui/window/session/reading.h"
#include "ui/window/session/recent.h"
#include "ui/window/session/startup.h"
#include "ui/window/shell/kept-dialog.h"
#include "ui/window/shell/window-private.h"
#include "ui/window/widgets/ask-file.h"
#include "ui/window/widgets/ask-user.h"
#include "ui/window/widgets/bar.h"
#include "ui/window/widgets/entry.h"
#include "ui/window/widgets/theme.h"
#include "ui/window/widgets/tooltip.h"
#include "window-resources.h"

#define FILE_FROM_WIDTH 1250
#define FINDINGS_WITHIN_MS 60 /* about a frame's worth of work: longer, and the window says that it is being judged */

static const char *const toggles[] = { "logarithmic", "by-harmonic", "relative",
                                       "all-sweeps" }; /* of the session: properties, and win.* of the same name */

G_DEFINE_FINAL_TYPE (SpWindow, sp_window, GTK_TYPE_APPLICATION_WINDOW)

/* How the book stands, in two words; `tip`: at length. */
static const char *
state_of (SpWindow *self, const char **tip)
{
  SpBook *book = sp_session_book (self->session);
  const char *trouble = sp_session_save_trouble (self->session);
  gboolean kept = sp_session_is_kept (self->session);
  *tip = trouble ? trouble
         : kept
             ? _ ("On disk in a folder of the program's own, and offered at the next start: Save as… gives it a name and a place (Ctrl+S)")
         : sp_book_path (book) ? sp_book_path (book)
                               : _ ("In memory, and on disk from the first edit on: Save as… gives it a name and a place (Ctrl+S)");
  if (trouble)
    return _ ("not saved");
  if (!sp_book_path (book))
    return self->copy ? _ ("a copy") : _ ("not saved yet");
  return sp_book_unsaved (book) ? _ ("saving…") : kept ? _ ("kept, no name") : _ ("saved");
}

/* The bench's title, and the name of the book's file where the user gave it one: two new books differ by it. */
static void
show_names (SpWindow *self, const char *title)
{
  const char *path = sp_book_path (sp_session_book (self->session));
  g_autofree char *base = path && !sp_session_is_kept (self->session) ? g_path_get_basename (path) : NULL,
                  *file = base ? g_filename_display_name (base) : NULL,
                  *both = file ? g_strdup_printf (_ ("%s – %s"), title, file) : g_strdup (title);
  gtk_label_set_text (GTK_LABEL (self->book_title), title);
  gtk_label_set_text (GTK_LABEL (self->book_file), file ? file : "");
  gtk_widget_set_visible (self->book_file, file != NULL && self->wide);
  gtk_window_set_title (GTK_WINDOW (self), both);
}

static void
follow_book (SpWindow *self)
{
  SpBook *book = sp_session_book (self->session);
  const char *title = sp_session_bench (self->session)->title, *undo = sp_book_undo_label (book), *redo = sp_book_redo_label (book), *tip;
  gtk_label_set_text (GTK_LABEL (self->book_state), state_of (self, &tip));
  sp_tip_set (self->book_state, tip);
  show_names (self, title && *title ? title : _ ("Bench book"));
  g_autofree char *undo_tip = undo ? g_strdup_printf (_ ("Undo: %s (Ctrl+Z)"), undo) : NULL;
  g_autofree char *redo_tip = redo ? g_strdup_printf (_ ("Redo: %s (Ctrl+Shift+Z)"), redo) : NULL;
  sp_tip_set (self->undo_button, undo_tip);
  sp_tip_set (self->redo_button, redo_tip);
  sp_window_update_actions (self);
}

static gboolean
follow_width (gpointer window)
{
  follow_book (window);
  return G_SOURCE_REMOVE;
}

/* A narrow window has no room for the file's name: asked for after the allocation, not within it. */
static void
sp_window_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  SpWindow *self = SP_WINDOW (widget);
  gboolean wide = width >= sp_theme_text_px (FILE_FROM_WIDTH);
  GTK_WIDGET_CLASS (sp_window_parent_class)->size_allocate (widget, width, height, baseline);
  if (wide != self->wide)
    g_idle_add_full (G_PRIORITY_HIGH_IDLE, follow_width, g_object_ref (self), g_object_unref);
  self->wide = wide;
}

/* ---- bars ---- */

/* Two sentences as one text; the first may come without its end. */
static char *
join (const char *what, const char *to_do)
{
  gsize length = strlen (what);
  gboolean ended = length > 0 && strchr (".?!:", what[length - 1]);
  return to_do && *to_do ? g_strconcat (what, ended ? " " : ". ", to_do, NULL) : g_strdup (what);
}

static void
say (GtkWidget *bar, GtkWidget *label, const char *what, const char *to_do)
{
  g_autofree char *text = join (what, to_do);
  gtk_label_set_text (GTK_LABEL (label), text);
  gtk_accessible_update_property (GTK_ACCESSIBLE (label), GTK_ACCESSIBLE_PROPERTY_LABEL, text, -1);
  gtk_widget_set_visible (bar, TRUE);
}

static void
on_trouble (SpWindow *self, const char *what, const char *to_do)
{
  say (self->trouble_bar, self->trouble_text, what, to_do);
}

static void
on_done (SpWindow *self, const char *what)
{
  sp_toast_show (self->toast, what, _ ("Undo"), "win.undo", NULL);
}

/* Stands as long as the book cannot be saved. */
static void
follow_unsaved (SpWindow *self)
{
  const char *trouble = sp_session_save_trouble (self->session);
  g_autofree char *what = trouble ? g_strdup_printf (_ ("Not saved: %s"), trouble) : NULL;
  if (what)
    say (self->unsaved_bar, self->unsaved_text, what, _ ("All of it is here in the window; saving is tried again by itself."));
  else
    gtk_widget_set_visible (self->unsaved_bar, FALSE);
}

/* Hides the bar too, if it speaks of the copy. */
static void
forget_copy (SpWindow *self)
{
  if (self->copy && strcmp (gtk_label_get_text (GTK_LABEL (self->trouble_text)), self->copy) == 0)
    gtk_widget_set_visible (self->trouble_bar, FALSE);
  g_clear_pointer (&self->copy, g_free);
}

static void
show_copy (SpWindow *self, const char *held)
{
  forget_copy (self);
  if (held) {
    self->copy = join (held, _ ("This is a copy, as it was last saved: look at it; edited, it becomes a book of its own."));
    on_trouble (self, self->copy, NULL);
  }
  follow_book (self);
}

/* Once it is edited it is kept, or that is told as trouble. */
static void
follow_copy (SpWindow *self)
{
  if (sp_book_path (sp_session_book (self->session)) || sp_session_save_trouble (self->session))
    forget_copy (self);
}

static gpointer
read_kept (const char *path, gpointer asked, GError **error)
{
  (void) path, (void) asked, (void) error;
  return sp_kept_read ();
}

static void
on_kept (gpointer window, gpointer asked, gpointer value, GError *error)
{
  SpWindow *self = window;
  g_autoptr (GPtrArray) kept = value;
  (void) asked, (void) error;
  g_autofree char *text = kept->len > 0 ? sp_kept_sentence (kept) : NULL;
  if (text)
    say (self->kept_bar, self->kept_text, text, NULL);
}

void
sp_window_offer_kept (SpWindow *self)
{
  static const SpFileReading reading = { read_kept, (GDestroyNotify) g_ptr_array_unref, on_kept, NULL };
  sp_reading_begin (self, NULL, &reading, NULL);
}

/* The next start without an argument goes on with the book of this window; one without a name is offered instead. */
static void
remember_book (SpWindow *self)
{
  const char *path = sp_book_path (sp_session_book (self->session));
  g_autofree char *whole = path ? g_canonicalize_filename (path, NULL) : NULL;
  if (!whole || sp_session_is_kept (self->session))
    return;
  sp_preferences_set ("book", whole);
  sp_recent_add (whole, sp_session_bench (self->session), sp_session_findings (self->session));
}

/* Once for each book: how it stands is known by then. */
static void
remember_findings (SpWindow *self)
{
  if (self->remembered || sp_session_judging (self->session) || !sp_session_findings (self->session))
    return;
  self->remembered = TRUE;
  remember_book (self);
}

/* ---- closing: a book that cannot be saved is asked about ---- */

static void
save_and_close (GtkWidget *window, GFile *file)
{
  if (sp_window_save_as (SP_WINDOW (window), file))
    gtk_window_close (GTK_WINDOW (window));
}

static void
keep_answered (GtkWindow *window, SpKeep keep)
{
  SpWindow *self = SP_WINDOW (window);
  if (keep == SP_KEEP_SAVE) {
    sp_window_ask_save (self, save_and_close);
  } else if (keep == SP_KEEP_DROP) {
    sp_session_drop (self->session);
    gtk_window_destroy (window);
  }
}

static gboolean
sp_window_close_request (GtkWindow *window)
{
  SpWindow *self = SP_WINDOW (window);
  g_autoptr (GError) error = NULL;
  sp_window_leave_help (self); /* a word that is looked for there is not lost */
  g_autofree char *not_taken = sp_entry_not_taken (window);
  if (not_taken) {
    on_trouble (self, not_taken, NULL);
    return TRUE;
  }
  if (sp_window_awaits_reports (self))
    return TRUE;
  if (sp_session_save_now (self->session, &error)) {
    remember_book (self);
    return GTK_WINDOW_CLASS (sp_window_parent_class)->close_request (window);
  }
  sp_ask_keep (window, _ ("This bench book cannot be saved. Keep it elsewhere?"), error->message, keep_answered);
  return TRUE;
}

/* ---- books ---- */

SpBook *
sp_window_book_from (GFile *file, char **held, GError **error)
{
  g_autofree char *path = g_file_get_path (file);
  *held = NULL;
  if (path)
    return sp_early_book (path, held, error);
  g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_NOT_SUPPORTED, _ ("Only files on this machine can be opened: copy it here first."));
  return NULL;
}

gboolean
sp_window_save_as (SpWindow *self, GFile *file)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = g_file_get_path (file);
  if (!path) {
    on_trouble (self, _ ("A bench book is saved on this machine only: choose a folder here."), NULL);
    return FALSE;
  }
  if (!sp_session_save_as (self->session, path, &error)) {
    gboolean foreign = g_error_matches (error, SP_BOOK_ERROR, SP_BOOK_ERROR_FOREIGN);
    on_trouble (self, error->message, foreign ? _ ("It was left as it is: save under another name.") : NULL);
    return FALSE;
  }
  remember_book (self);
  return TRUE;
}

void
sp_window_ask_save (SpWindow *self, void (*chosen) (GtkWidget *window, GFile *file))
{
  sp_ask_save (GTK_WIDGET (self), _ ("Save the bench book as"), "*.benchbook", _ ("bench.benchbook"), ".benchbook", chosen);
}

/* What a file that was asked for turned out to be. */
typedef struct {
  char *held; /* as sp_early_read() */
} Opening;

static void
opening_free (gpointer data)
{
  Opening *opening = data;
  g_free (opening->held);
  g_free (opening);
}

static gpointer
read_book (const char *path, gpointer asked, GError **error)
{
  Opening *opening = asked;
  return sp_early_read (path, &opening->held, error);
}

static void
on_book (gpointer window, gpointer asked, gpointer value, GError *why)
{
  SpWindow *self = window;
  const char *held = ((Opening *) asked)->held;
  g_autoptr (GError) error = why;
  g_autoptr (SpBook) book = value;
  gtk_widget_action_set_enabled (window, "win.open", TRUE);
  gtk_widget_set_cursor (window, NULL);
  if (!book) {
    on_trouble (self, error->message, _ ("The present book stays open."));
    return;
  }
  gtk_window_set_focus (window, NULL); /* what is still being typed is the present book's */
  gboolean saved = sp_session_save_now (self->session, NULL);
  if (!saved || sp_session_is_kept (self->session)) {
    SpWindow *other = sp_window_new (gtk_window_get_application (GTK_WINDOW (self)), g_steal_pointer (&book), held);
    gtk_window_present (GTK_WINDOW (other));
    return;
  }
  remember_book (self);
  self->remembered = FALSE;
  if (!sp_session_set_book (self->session, book, NULL))
    return; /* the bar says why */
  g_steal_pointer (&book);
  show_copy (self, held);
  remember_book (self);
  gtk_widget_set_visible (self->hint_bar, FALSE); /* it speaks of the sample */
}

static gboolean
is_own_file (SpWindow *self, GFile *file)
{
  const char *path = sp_book_path (sp_session_book (self->session));
  g_autofree char *other = g_file_get_path (file);
  struct stat a, b;
  return path && other && stat (path, &a) == 0 && stat (other, &b) == 0 && a.st_dev == b.st_dev && a.st_ino == b.st_ino;
}

void
sp_window_open (SpWindow *self, GFile *file)
{
  static const SpFileReading reading = { read_book, (GDestroyNotify) sp_book_close, on_book, opening_free };
  if (sp_import_resource (GTK_WINDOW (self), self->session, file))
    return;
  if (is_own_file (self, file)) {
    on_trouble (self, _ ("This window shows that book already."), NULL);
    return;
  }
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.open", FALSE);
  gtk_widget_set_cursor_from_name (GTK_WIDGET (self), "progress");
  sp_reading_begin (self, file, &reading, g_new0 (Opening, 1));
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
sp_window_new (GtkApplication *application, SpBook *book, const char *held)
{
  SpWindow *self = g_object_new (SP_TYPE_WINDOW, "application", application, NULL);
  self->session = sp_session_new (book);
  sp_window_add_pages (self);
  g_signal_connect_object (self->session, "notify::undo-label", G_CALLBACK (sp_toast_hide), self->toast, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->session, "done", G_CALLBACK (on_done), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->session, "trouble", G_CALLBACK (on_trouble), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->session, "notify::saved", G_CALLBACK (follow_copy), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->session, "notify::saved", G_CALLBACK (follow_book), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->session, "notify::save-trouble", G_CALLBACK (follow_unsaved), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->session, "notify::findings", G_CALLBACK (follow_book), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->session, "notify::judging", G_CALLBACK (remember_findings), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->session, "notify::condition", G_CALLBACK (sp_window_update_actions), self, G_CONNECT_SWAPPED);
  add_toggles (self);
  sp_entry_add_undo_keys (GTK_WIDGET (self), self->session);
  gtk_widget_add_tick_callback (GTK_WIDGET (self), before_first_frame, NULL, NULL);
  show_copy (self, held);
  remember_book (self);
  return self;
}

static void
sp_window_dispose (GObject *object)
{
  gtk_window_set_focus (GTK_WINDOW (object), NULL); /* an entry that loses it still has a session to tell */
  for (guint i = 0; i < G_N_ELEMENTS (toggles); i++)
    g_action_map_remove_action (G_ACTION_MAP (object), toggles[i]); /* it keeps the session, and that the book's lock */
  g_clear_handle_id (&SP_WINDOW (object)->reports_slow, g_source_remove);
  g_clear_object (&SP_WINDOW (object)->reports_stop);
  g_clear_object (&SP_WINDOW (object)->session);
  g_clear_pointer (&SP_WINDOW (object)->copy, g_free);
  g_clear_pointer (&SP_WINDOW (object)->before_help, g_free);
  G_OBJECT_CLASS (sp_window_parent_class)->dispose (object);
}

static void
sp_window_class_init (SpWindowClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  g_type_ensure (SP_TYPE_TOAST);
  g_resources_register (sp_window_get_resource ());
  G_OBJECT_CLASS (klass)->dispose = sp_window_dispose;
  widget->size_allocate = sp_window_size_allocate;
  widget->measure = sp_window_measure;
  GTK_WINDOW_CLASS (klass)->close_request = sp_window_close_request;
  gtk_widget_class_set_template_from_resource (widget, "/spurproof/window/window.ui");
  gtk_widget_class_bind_template_child (widget, SpWindow, pages);
  gtk_widget_class_bind_template_child (widget, SpWindow, book_title);
  gtk_widget_class_bind_template_child (widget, SpWindow, book_file);
  gtk_widget_class_bind_template_child (widget, SpWindow, book_state);
  gtk_widget_class_bind_template_child (widget, SpWindow, undo_button);
  gtk_widget_class_bind_template_child (widget, SpWindow, redo_button);
  gtk_widget_class_bind_template_child (widget, SpWindow, trouble_bar);
  gtk_widget_class_bind_template_child (widget, SpWindow, trouble_text);
  gtk_widget_class_bind_template_child (widget, SpWindow, trouble_close);
  gtk_widget_class_bind_template_child (widget, SpWindow, hint_bar);
  gtk_widget_class_bind_template_child (widget, SpWindow, unsaved_bar);
  gtk_widget_class_bind_template_child (widget, SpWindow, unsaved_text);
  gtk_widget_class_bind_template_child (widget, SpWindow, kept_bar);
  gtk_widget_class_bind_template_child (widget, SpWindow, kept_text);
  gtk_widget_class_bind_template_child (widget, SpWindow, toast);
  gtk_widget_class_bind_template_child (widget, SpWindow, menu_button);
  gtk_widget_class_bind_template_child (widget, SpWindow, report_button);
  gtk_widget_class_bind_template_child (widget, SpWindow, menu);
  gtk_widget_class_bind_template_child (widget, SpWindow, report_menu);
  gtk_widget_class_bind_template_child (widget, SpWindow, recent);
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
  gtk_menu_button_set_create_popup_func (GTK_MENU_BUTTON (self->menu_button), sp_window_open_menu, self, NULL);
  gtk_menu_button_set_create_popup_func (GTK_MENU_BUTTON (self->report_button), open_menu, self->report_menu, NULL);
  GtkWidget *bars[] = { self->trouble_bar, self->unsaved_bar, self->kept_bar, self->hint_bar };
  for (guint i = 0; i < G_N_ELEMENTS (bars); i++)
    gtk_widget_set_layout_manager (bars[i], sp_bar_layout_new ());
}
