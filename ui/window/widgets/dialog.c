/* dialog.c - what the small dialogs that edit the bench share */
#include "ui/window/widgets/dialog.h"

#include "ui/window/widgets/drawing-area.h"
#include "ui/window/widgets/entry.h"

G_DEFINE_TYPE (SpDialog, sp_dialog, GTK_TYPE_WINDOW)

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

static void
show_bench (SpDialog *dialog, gboolean all)
{
  SpDialogClass *klass = G_TYPE_INSTANCE_GET_CLASS (dialog, SP_TYPE_DIALOG, SpDialogClass);
  for (guint i = 0; i < dialog->forms->len; i++)
    sp_fields_refresh (dialog->forms->pdata[i], all);
  if (klass->follow)
    klass->follow (dialog);
}

static gboolean
follow_soon (gpointer data)
{
  SpDialog *dialog = data;
  dialog->follow_source = 0;
  if (dialog->condition >= 0 && !sp_dialog_condition (dialog)) { /* undone with the condition */
    gtk_window_destroy (GTK_WINDOW (dialog));
    return G_SOURCE_REMOVE;
  }
  show_bench (dialog, FALSE);
  return G_SOURCE_REMOVE;
}

/* Runs when idle: the change may come from one of the dialog's own widgets. */
static void
follow_bench (SpDialog *dialog)
{
  SpBench *bench = sp_session_bench (dialog->session);
  if (bench != dialog->seen && !dialog->follow_source)
    dialog->follow_source = g_idle_add_full (G_PRIORITY_HIGH, follow_soon, dialog, NULL);
  dialog->seen = bench;
}

static gboolean
sp_dialog_close_request (GtkWindow *window)
{
  SpDialog *dialog = SP_DIALOG (window);
  GtkWindowClass *parent = GTK_WINDOW_CLASS (sp_dialog_parent_class);
  if (dialog->keeps_typing) {
    gtk_window_set_focus (window, NULL);
    return parent->close_request (window);
  }
  g_autofree char *text = sp_entry_not_taken (window);
  if (!text)
    return parent->close_request (window);
  gtk_label_set_text (GTK_LABEL (dialog->not_taken), text);
  gtk_widget_set_visible (dialog->not_taken, TRUE);
  g_signal_connect_object (gtk_window_get_focus (window), "changed", G_CALLBACK (gtk_widget_hide), dialog->not_taken, G_CONNECT_SWAPPED);
  return TRUE;
}

/* The session stays until finalize: entries that lose the focus while the window goes still edit it. */
static void
sp_dialog_dispose (GObject *object)
{
  SpDialog *dialog = SP_DIALOG (object);
  g_clear_handle_id (&dialog->follow_source, g_source_remove);
  if (dialog->session)
    g_signal_handlers_disconnect_by_data (dialog->session, dialog);
  G_OBJECT_CLASS (sp_dialog_parent_class)->dispose (object);
}

static void
sp_dialog_finalize (GObject *object)
{
  SpDialog *dialog = SP_DIALOG (object);
  g_ptr_array_unref (dialog->forms);
  g_clear_object (&dialog->session);
  G_OBJECT_CLASS (sp_dialog_parent_class)->finalize (object);
}

static void
sp_dialog_class_init (SpDialogClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  sp_pages_style ();
  G_OBJECT_CLASS (klass)->dispose = sp_dialog_dispose;
  G_OBJECT_CLASS (klass)->finalize = sp_dialog_finalize;
  GTK_WINDOW_CLASS (klass)->close_request = sp_dialog_close_request;
  gtk_widget_class_set_template_from_resource (widget, "/spurproof/pages/dialog.ui");
  gtk_widget_class_bind_template_child (widget, SpDialog, content);
  gtk_widget_class_bind_template_child (widget, SpDialog, not_taken);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_Escape, 0, "window.close", NULL);
}

static void
sp_dialog_init (SpDialog *dialog)
{
  gtk_widget_init_template (GTK_WIDGET (dialog));
  dialog->forms = g_ptr_array_new ();
  dialog->condition = -1;
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

gpointer
sp_dialog_new (GType type, GtkWindow *parent, SpSession *session, const char *title, int width, int height)
{
  SpDialog *dialog = g_object_new (type, "title", title, "default-width", width, "default-height", height, NULL);
  dialog->session = g_object_ref (session);
  dialog->seen = sp_session_bench (session);
  sp_dialog_set_parent (GTK_WINDOW (dialog), parent);
  g_signal_connect_swapped (session, "notify::title", G_CALLBACK (follow_bench), dialog);
  sp_entry_add_undo_keys (GTK_WIDGET (dialog), session);
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
  show_bench (dialog, TRUE);
  gtk_window_present (GTK_WINDOW (dialog));
}
