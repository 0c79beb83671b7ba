/* dialog.c - what the small dialogs that edit the bench share */
#include "ui/window/widgets/dialog.h"

#include "ui/window/widgets/drawing-area.h"
#include "ui/window/widgets/entry.h"
#include "ui/window/widgets/theme.h"

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
  GtkWidget *focus = gtk_window_get_focus (window);
  gpointer changes = GTK_IS_TEXT_VIEW (focus) ? (gpointer) gtk_text_view_get_buffer (GTK_TEXT_VIEW (focus)) : (gpointer) focus;
  g_signal_connect_object (changes, "changed", G_CALLBACK (gtk_widget_hide), dialog->not_taken, G_CONNECT_SWAPPED);
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
  gtk_widget_class_bind_template_child_internal (widget, SpDialog, content); /* the templates of dialogs fill it */
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

/* A side of a window in the desktop's text size; the parent's, where that would be larger. */
static int
side_of (int side, int of_parent)
{
  return MIN (sp_theme_text_px (side), MAX (side, of_parent));
}

void
sp_dialog_set_parent (GtkWindow *window, GtkWindow *parent)
{
  int width, height;
  gtk_window_get_default_size (window, &width, &height);
  if (parent)
    gtk_window_set_default_size (window, side_of (width, gtk_widget_get_width (GTK_WIDGET (parent))),
                                 side_of (height, gtk_widget_get_height (GTK_WIDGET (parent))));
  gtk_window_set_transient_for (window, parent);
  if (parent)
    g_signal_connect_object (parent, "destroy", G_CALLBACK (forget_parent), window, 0);
}

gpointer
sp_dialog_new (GType type, GtkWindow *parent, SpSession *session)
{
  SpDialog *dialog = g_object_new (type, NULL);
  dialog->session = g_object_ref (session);
  dialog->seen = sp_session_bench (session);
  sp_dialog_set_parent (GTK_WINDOW (dialog), parent);
  g_signal_connect_swapped (session, "notify::title", G_CALLBACK (follow_bench), dialog);
  sp_entry_add_undo_keys (GTK_WIDGET (dialog), session);
  return dialog;
}

void
sp_dialog_fill (SpDialog *dialog, SpFormFields *form, const SpKeySpec *keys, const SpFormField *fields, guint n, guint columns,
                const SpFormOwner *owner)
{
  sp_fields_fill (form, keys, fields, n, columns, owner);
  g_ptr_array_add (dialog->forms, form);
}

/* GTK 4.8 would have a screen reader say the mnemonic's underscore: a button's label names it without. */
static void
name_buttons (GtkWidget *widget)
{
  if (GTK_IS_BUTTON (widget) && gtk_button_get_use_underline (GTK_BUTTON (widget)))
    gtk_accessible_reset_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL);
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child; child = gtk_widget_get_next_sibling (child))
    name_buttons (child);
}

void
sp_dialog_init_template (SpDialog *dialog)
{
  gtk_widget_init_template (GTK_WIDGET (dialog));
  name_buttons (GTK_WIDGET (dialog));
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

GtkWidget *
sp_dialog_row_new (const char *title, const char *says, gboolean wrong)
{
  GtkWidget *row = gtk_list_box_row_new (), *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  g_autofree char *name = g_strdup_printf ("%s, %s", title, says);
  gtk_box_append (GTK_BOX (box), sp_dialog_label_new (title, "strong"));
  gtk_box_append (GTK_BOX (box), sp_dialog_label_new (says, wrong ? "wrong" : "soft"));
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  return row;
}

void
sp_dialog_present (SpDialog *dialog)
{
  show_bench (dialog, TRUE);
  gtk_window_present (GTK_WINDOW (dialog));
}

gpointer
sp_dialog_over (GtkWindow *parent, GType type)
{
  GListModel *all = gtk_window_get_toplevels ();
  for (guint i = 0; i < g_list_model_get_n_items (all); i++) {
    g_autoptr (GtkWindow) one = g_list_model_get_item (all, i);
    if (G_TYPE_CHECK_INSTANCE_TYPE (one, type) && gtk_window_get_transient_for (one) == parent)
      return one;
  }
  return NULL;
}
