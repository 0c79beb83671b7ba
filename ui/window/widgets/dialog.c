/* dialog.c - what the small dialogs that edit the bench share */
#include "ui/window/widgets/dialog.h"

#include "ui/window/widgets/drawing-area.h"
#include "ui/window/widgets/entry.h"

const SpCondition *
sp_dialog_condition (SpDialog *dialog)
{
  SpBench *bench = sp_session_bench (dialog->session);
  return dialog->condition >= 0 && (guint) dialog->condition < bench->n_conditions ? &bench->conditions[dialog->condition] : NULL;
}

gboolean
sp_dialog_edit (SpDialog *dialog, SpBench *bench, char *label)
{
  g_autofree char *owned = label;
  return bench && sp_session_edit (dialog->session, bench, owned, NULL);
}

static gboolean
follow_soon (gpointer data)
{
  SpDialog *dialog = data;
  dialog->follow_source = 0;
  if (dialog->condition >= 0 && !sp_dialog_condition (dialog)) { /* undone with the condition */
    gtk_window_destroy (GTK_WINDOW (dialog->window));
    return G_SOURCE_REMOVE;
  }
  for (guint i = 0; i < dialog->forms->len; i++)
    sp_fields_refresh (dialog->forms->pdata[i], FALSE);
  if (dialog->follow)
    dialog->follow (dialog);
  return G_SOURCE_REMOVE;
}

/* Not at once: the change may come from one of the dialog's own widgets. */
static void
follow_bench (SpDialog *dialog)
{
  SpBench *bench = sp_session_bench (dialog->session);
  if (bench != dialog->seen && !dialog->follow_source)
    dialog->follow_source = g_idle_add_full (G_PRIORITY_HIGH, follow_soon, dialog, NULL);
  dialog->seen = bench;
}

static void
dialog_free (gpointer data)
{
  SpDialog *dialog = data;
  g_clear_handle_id (&dialog->follow_source, g_source_remove);
  g_signal_handlers_disconnect_by_data (dialog->session, dialog);
  g_ptr_array_unref (dialog->forms);
  g_object_unref (dialog->session);
  g_free (dialog);
}

static gboolean
on_close (GtkWindow *window, SpDialog *dialog)
{
  if (dialog->keeps_typing) {
    gtk_window_set_focus (window, NULL);
    return FALSE;
  }
  g_autofree char *text = sp_entry_not_taken (window);
  if (!text)
    return FALSE;
  gtk_label_set_text (GTK_LABEL (dialog->not_taken), text);
  gtk_widget_set_visible (dialog->not_taken, TRUE);
  g_signal_connect_object (gtk_window_get_focus (window), "changed", G_CALLBACK (gtk_widget_hide), dialog->not_taken, G_CONNECT_SWAPPED);
  return TRUE;
}

static gboolean
on_escape (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  (void) widget;
  (void) arguments;
  gtk_window_close (data);
  return TRUE;
}

static void
add_keys (SpDialog *dialog)
{
  GtkEventController *shortcuts = gtk_shortcut_controller_new ();
  gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (shortcuts),
                                        gtk_shortcut_new (gtk_keyval_trigger_new (GDK_KEY_Escape, 0),
                                                          gtk_callback_action_new (on_escape, dialog->window, NULL)));
  gtk_widget_add_controller (dialog->window, shortcuts);
  sp_entry_add_undo_keys (dialog->window, dialog->session);
}

static GtkWidget *
new_not_taken (void)
{
  GtkWidget *label = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_widget_set_margin_start (label, 24);
  gtk_widget_set_margin_end (label, 24);
  gtk_widget_set_margin_top (label, 8);
  gtk_widget_set_margin_bottom (label, 8);
  gtk_widget_add_css_class (label, "wrong");
  gtk_widget_set_visible (label, FALSE);
  return label;
}

static void
forget_parent (GtkWindow *parent, GtkWindow *window)
{
  (void) parent;
  gtk_window_set_transient_for (window, NULL);
}

void
sp_dialog_set_parent (GtkWindow *window, GtkWindow *parent)
{
  gtk_window_set_transient_for (window, parent);
  if (parent)
    g_signal_connect_object (parent, "destroy", G_CALLBACK (forget_parent), window, 0);
}

SpDialog *
sp_dialog_new (GtkWindow *parent, SpSession *session, const char *title, int width, int height)
{
  sp_pages_style ();
  SpDialog *dialog = g_new0 (SpDialog, 1);
  GtkWidget *scrolled = gtk_scrolled_window_new (), *viewport = gtk_viewport_new (NULL, NULL),
            *whole = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  dialog->session = g_object_ref (session);
  dialog->forms = g_ptr_array_new ();
  dialog->condition = -1;
  dialog->seen = sp_session_bench (session);
  dialog->window = gtk_window_new ();
  dialog->content = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  dialog->not_taken = new_not_taken ();
  gtk_window_set_title (GTK_WINDOW (dialog->window), title);
  sp_dialog_set_parent (GTK_WINDOW (dialog->window), parent);
  gtk_window_set_modal (GTK_WINDOW (dialog->window), TRUE);
  gtk_window_set_destroy_with_parent (GTK_WINDOW (dialog->window), TRUE);
  gtk_window_set_default_size (GTK_WINDOW (dialog->window), width, height);
  gtk_widget_add_css_class (dialog->window, "sheet");
  gtk_widget_add_css_class (dialog->window, "forms");
  gtk_viewport_set_scroll_to_focus (GTK_VIEWPORT (viewport), TRUE);
  gtk_widget_set_margin_start (dialog->content, 24);
  gtk_widget_set_margin_end (dialog->content, 24);
  gtk_widget_set_margin_top (dialog->content, 16);
  gtk_widget_set_margin_bottom (dialog->content, 24);
  gtk_viewport_set_child (GTK_VIEWPORT (viewport), dialog->content);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scrolled), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), viewport);
  gtk_widget_set_vexpand (scrolled, TRUE);
  gtk_box_append (GTK_BOX (whole), scrolled);
  gtk_box_append (GTK_BOX (whole), dialog->not_taken);
  gtk_window_set_child (GTK_WINDOW (dialog->window), whole);
  g_signal_connect_swapped (session, "notify::title", G_CALLBACK (follow_bench), dialog);
  g_signal_connect (dialog->window, "close-request", G_CALLBACK (on_close), dialog);
  add_keys (dialog);
  g_object_set_data_full (G_OBJECT (dialog->window), "dialog", dialog, dialog_free);
  return dialog;
}

void
sp_dialog_add_heading (SpDialog *dialog, const char *text)
{
  GtkWidget *label = gtk_label_new (text);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_add_css_class (label, "heading");
  gtk_widget_add_css_class (label, "underlined");
  if (gtk_widget_get_first_child (dialog->content))
    gtk_widget_set_margin_top (label, 16);
  gtk_box_append (GTK_BOX (dialog->content), label);
}

SpFormFields *
sp_dialog_add_fields (SpDialog *dialog, const SpKeySpec *keys, const SpFormField *fields, guint n, guint columns, const SpFormOwner *owner)
{
  GtkWidget *form = sp_fields_new (keys, fields, n, columns, owner);
  gtk_box_append (GTK_BOX (dialog->content), form);
  g_ptr_array_add (dialog->forms, form);
  return SP_FIELDS (form);
}

GtkWidget *
sp_dialog_button_new (const char *text, const char *tip)
{
  GtkWidget *button = gtk_button_new_with_mnemonic (text);
  gtk_button_set_has_frame (GTK_BUTTON (button), FALSE);
  gtk_widget_set_tooltip_text (button, tip);
  gtk_accessible_reset_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL); /* its label names it */
  return button;
}

GtkWidget *
sp_dialog_label_new (const char *text, const char *style)
{
  GtkWidget *label = gtk_label_new (text);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_widget_add_css_class (label, style);
  return label;
}

void
sp_dialog_present (SpDialog *dialog)
{
  for (guint i = 0; i < dialog->forms->len; i++)
    sp_fields_refresh (dialog->forms->pdata[i], TRUE);
  if (dialog->follow)
    dialog->follow (dialog);
  gtk_window_present (GTK_WINDOW (dialog->window));
}
