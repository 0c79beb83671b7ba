/* kept-dialog.c - the books that were kept without a name: opened again, or put away */
#include "ui/window/shell/kept-dialog.h"

#include <glib/gi18n-lib.h>

#include "ui/window/session/reading.h"
#include "ui/window/widgets/dialog.h"

#define SP_TYPE_KEPT_DIALOG (sp_kept_dialog_get_type ())
G_DECLARE_FINAL_TYPE (SpKeptDialog, sp_kept_dialog, SP, KEPT_DIALOG, SpDialog)

struct _SpKeptDialog {
  SpDialog parent_instance;
  SpWindow *window;                                    /* it stands before the dialog, and outlives it */
  GPtrArray *kept;                                     /* of SpKept, as the list shows them */
  char *away;                                          /* path of the one that was put away last; NULL */
  GtkWidget *list, *open, *put_away, *put_back, *says; /* of the template */
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
  g_autofree char *line = line_of (kept);
  return sp_dialog_row_new (title_of (kept), line, kept->wrong != NULL);
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
on_open (SpKeptDialog *self)
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
on_put_away (SpKeptDialog *self)
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
on_put_back (SpKeptDialog *self)
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
on_list_key (SpKeptDialog *self, guint key)
{
  if (key != GDK_KEY_Delete)
    return FALSE;
  on_put_away (self);
  return TRUE;
}

/* ---- the window ---- */

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
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  G_OBJECT_CLASS (klass)->dispose = sp_kept_dialog_dispose;
  G_OBJECT_CLASS (klass)->finalize = sp_kept_dialog_finalize;
  gtk_widget_class_set_template_from_resource (widget, "/spurproof/pages/kept-dialog.ui");
#define PART(name) gtk_widget_class_bind_template_child (widget, SpKeptDialog, name)
  PART (list), PART (open), PART (put_away), PART (put_back), PART (says);
#undef PART
#define DOES(name) gtk_widget_class_bind_template_callback (widget, name)
  DOES (update), DOES (on_open), DOES (on_put_away), DOES (on_put_back), DOES (on_list_key);
#undef DOES
}

static void
sp_kept_dialog_init (SpKeptDialog *self)
{
  sp_dialog_init_template (SP_DIALOG (self));
}

void
sp_kept_dialog_present (SpWindow *window)
{
  SpKeptDialog *self = sp_dialog_new (SP_TYPE_KEPT_DIALOG, GTK_WINDOW (window), sp_window_session (window));
  self->window = window;
  update (self);
  sp_dialog_present (SP_DIALOG (self));
  read_anew (self);
}
