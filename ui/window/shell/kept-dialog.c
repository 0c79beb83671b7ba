/* kept-dialog.c - the books that were kept without a name: opened again, or put away */
#include "ui/window/shell/kept-dialog.h"

#include <glib/gi18n-lib.h>

#include "ui/window/session/reading.h"
#include "ui/window/widgets/dialog.h"

#define SP_TYPE_KEPT_DIALOG (sp_kept_dialog_get_type ())
G_DECLARE_FINAL_TYPE (SpKeptDialog, sp_kept_dialog, SP, KEPT_DIALOG, SpDialog)

struct _SpKeptDialog {
  SpDialog parent_instance;
  SpWindow *window; /* it stands before the dialog, and outlives it */
  GPtrArray *kept;  /* of SpKept, as the list shows them */
  char *away;       /* path of the one that was put away last; NULL */
  GtkWidget *list, *open, *put_away, *put_back, *says;
};

G_DEFINE_FINAL_TYPE (SpKeptDialog, sp_kept_dialog, SP_TYPE_DIALOG)

/* ---- in words ---- */

static const char *
title_of (const SpKept *kept)
{
  return *kept->title ? kept->title : _ ("Bench book");
}

static char *
moment_of (const SpKept *kept)
{
  g_autoptr (GDateTime) moment = g_date_time_new_from_unix_local (kept->changed_us / G_USEC_PER_SEC);
  return moment ? g_date_time_format (moment, "%Y-%m-%d %H:%M") : g_strdup ("-");
}

char *
sp_kept_sentence (const GPtrArray *kept)
{
  g_autofree char *moment = moment_of (kept->pdata[0]);
  return g_strdup_printf (ngettext ("%u bench book without a name is kept: “%s”, last changed %s.",
                                    "%u bench books without a name are kept, the last changed one “%s”, %s.", kept->len),
                          kept->len, title_of (kept->pdata[0]), moment);
}

static char *
line_of (const SpKept *kept)
{
  g_autofree char *moment = moment_of (kept);
  return kept->wrong ? g_strdup (kept->wrong)
                     : g_strdup_printf (ngettext ("%u radio, last changed %s", "%u radios, last changed %s", kept->n_radios),
                                        kept->n_radios, moment);
}

/* ---- the list ---- */

static GtkWidget *
new_row (const SpKept *kept)
{
  GtkWidget *row = gtk_list_box_row_new (), *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  g_autofree char *line = line_of (kept), *name = g_strdup_printf ("%s, %s", title_of (kept), line);
  gtk_box_append (GTK_BOX (box), sp_dialog_label_new (title_of (kept), "strong"));
  gtk_box_append (GTK_BOX (box), sp_dialog_label_new (line, kept->wrong ? "wrong" : "soft"));
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  return row;
}

static SpKept *
chosen (SpKeptDialog *self)
{
  GtkListBoxRow *row = gtk_list_box_get_selected_row (GTK_LIST_BOX (self->list));
  guint index = row ? (guint) gtk_list_box_row_get_index (row) : G_MAXUINT;
  return self->kept && index < self->kept->len ? self->kept->pdata[index] : NULL;
}

static void
update (SpKeptDialog *self)
{
  SpKept *kept = chosen (self);
  gtk_widget_set_sensitive (self->open, kept && !kept->wrong);
  gtk_widget_set_sensitive (self->put_away, kept != NULL);
  gtk_widget_set_sensitive (self->put_back, self->away != NULL);
}

static void
say (SpKeptDialog *self, const char *text)
{
  gtk_label_set_text (GTK_LABEL (self->says), text);
  gtk_widget_set_visible (self->says, *text);
}

static void
fill (SpKeptDialog *self)
{
  GtkListBox *list = GTK_LIST_BOX (self->list);
  for (GtkListBoxRow *row; (row = gtk_list_box_get_row_at_index (list, 0));)
    gtk_list_box_remove (list, GTK_WIDGET (row));
  for (guint i = 0; i < self->kept->len; i++)
    gtk_list_box_append (list, new_row (self->kept->pdata[i]));
  gtk_list_box_set_placeholder (list, sp_dialog_label_new (_ ("No book without a name is waiting."), "soft"));
  GtkListBoxRow *first = gtk_list_box_get_row_at_index (list, 0);
  gtk_list_box_select_row (list, first);
  if (first)
    gtk_widget_grab_focus (GTK_WIDGET (first));
  update (self);
}

static gpointer
read_kept (const char *path, gpointer asked, GError **error)
{
  (void) path, (void) asked, (void) error;
  return sp_kept_read ();
}

static void
on_read (gpointer window, gpointer asked, gpointer value, GError *error)
{
  SpKeptDialog *self = SP_KEPT_DIALOG (window);
  (void) asked, (void) error;
  g_clear_pointer (&self->kept, g_ptr_array_unref);
  self->kept = value;
  fill (self);
}

static void
read_anew (SpKeptDialog *self)
{
  static const SpFileReading reading = { read_kept, (GDestroyNotify) g_ptr_array_unref, on_read, NULL };
  sp_reading_begin (self, NULL, &reading, NULL);
}

/* ---- actions ---- */

static void
open_chosen (SpKeptDialog *self)
{
  SpKept *kept = chosen (self);
  SpWindow *window = self->window;
  if (!kept || kept->wrong)
    return;
  g_autoptr (GFile) file = g_file_new_for_path (kept->path);
  gtk_window_close (GTK_WINDOW (self));
  sp_window_open (window, file);
}

static void
put_away (SpKeptDialog *self)
{
  SpKept *kept = chosen (self);
  g_autoptr (GError) error = NULL;
  if (!kept)
    return;
  if (!sp_kept_put_away (kept->path, &error)) {
    say (self, error->message);
    return;
  }
  g_autofree char *text = g_strdup_printf (_ ("It is called %s~ from now on and not offered any more; “Put back” brings it back."),
                                           kept->path);
  g_free (self->away);
  self->away = g_strdup (kept->path);
  say (self, text);
  read_anew (self);
}

static void
put_back (SpKeptDialog *self)
{
  g_autoptr (GError) error = NULL;
  if (!self->away)
    return;
  gboolean done = sp_kept_put_back (self->away, &error);
  if (done)
    g_clear_pointer (&self->away, g_free);
  say (self, done ? "" : error->message);
  read_anew (self);
}

static gboolean
on_key (GtkWidget *list, GVariant *arguments, gpointer data)
{
  (void) list, (void) arguments;
  put_away (data);
  return TRUE;
}

/* ---- the window ---- */

static void
add_list (SpKeptDialog *self)
{
  GtkEventController *keys = gtk_shortcut_controller_new ();
  self->list = gtk_list_box_new ();
  gtk_list_box_set_selection_mode (GTK_LIST_BOX (self->list), GTK_SELECTION_BROWSE);
  gtk_list_box_set_activate_on_single_click (GTK_LIST_BOX (self->list), FALSE);
  gtk_widget_add_css_class (self->list, "rows");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->list), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Books without a name"), -1);
  g_signal_connect_swapped (self->list, "row-selected", G_CALLBACK (update), self);
  g_signal_connect_swapped (self->list, "row-activated", G_CALLBACK (open_chosen), self);
  gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (keys), gtk_shortcut_new (gtk_keyval_trigger_new (GDK_KEY_Delete, 0),
                                                                                          gtk_callback_action_new (on_key, self, NULL)));
  gtk_widget_add_controller (self->list, keys);
  gtk_box_append (GTK_BOX (SP_DIALOG (self)->content), self->list);
}

static GtkWidget *
add_button (SpKeptDialog *self, GtkWidget *line, const char *text, const char *tip, GCallback clicked)
{
  GtkWidget *button = sp_dialog_button_new (text, tip);
  g_signal_connect_swapped (button, "clicked", clicked, self);
  gtk_box_append (GTK_BOX (line), button);
  return button;
}

static void
sp_kept_dialog_dispose (GObject *object)
{
  SpKeptDialog *self = SP_KEPT_DIALOG (object);
  if (self->list)
    g_signal_handlers_disconnect_by_data (self->list, self); /* rows that go are not chosen any more */
  self->list = NULL;
  G_OBJECT_CLASS (sp_kept_dialog_parent_class)->dispose (object);
}

static void
sp_kept_dialog_finalize (GObject *object)
{
  SpKeptDialog *self = SP_KEPT_DIALOG (object);
  g_clear_pointer (&self->kept, g_ptr_array_unref);
  g_free (self->away);
  G_OBJECT_CLASS (sp_kept_dialog_parent_class)->finalize (object);
}

static void
sp_kept_dialog_class_init (SpKeptDialogClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sp_kept_dialog_dispose;
  G_OBJECT_CLASS (klass)->finalize = sp_kept_dialog_finalize;
}

static void
sp_kept_dialog_init (SpKeptDialog *self)
{
  (void) self;
}

void
sp_kept_dialog_present (SpWindow *window)
{
  SpKeptDialog *self = sp_dialog_new (SP_TYPE_KEPT_DIALOG, GTK_WINDOW (window), sp_window_session (window), _ ("Books without a name"), 640,
                                      420);
  GtkBox *content = GTK_BOX (SP_DIALOG (self)->content);
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  self->window = window;
  gtk_box_append (content,
                  sp_dialog_label_new (
                      _ ("What was edited and not saved under a name is kept. Save as… gives an open one its name and place."), "soft"));
  add_list (self);
  gtk_widget_add_css_class (line, "tight");
  self->open = add_button (self, line, _ ("_Open"), _ ("Goes on with the chosen book (Enter)."), G_CALLBACK (open_chosen));
  self->put_away = add_button (self, line, _ ("_Put away"), _ ("Keeps the chosen book's file, and offers it no more (Delete)."),
                               G_CALLBACK (put_away));
  self->put_back = add_button (self, line, _ ("Put _back"), _ ("Brings back the one that was put away last."), G_CALLBACK (put_back));
  gtk_box_append (content, line);
  self->says = sp_dialog_label_new ("", "soft");
  gtk_box_append (content, self->says);
  update (self);
  say (self, "");
  sp_dialog_present (SP_DIALOG (self));
  read_anew (self);
}
