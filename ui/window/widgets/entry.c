/* entry.c - text that the program sets into an entry, and whose Ctrl+Z is then */
#include "ui/window/widgets/entry.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* State of a GtkText or a GtkTextView, whose types are not ours: it hangs on the widget under one quark. */
typedef struct {
  char *stood; /* what was set last; NULL: nothing */
  char *told;  /* what was told not to have been taken; NULL */
} Filled;

static G_DEFINE_QUARK (sp - entry - filled, filled)

    static void filled_free (gpointer data)
{
  Filled *filled = data;
  g_free (filled->stood);
  g_free (filled->told);
  g_free (filled);
}

static Filled *
filled_of (GtkWidget *text)
{
  Filled *filled = g_object_get_qdata (G_OBJECT (text), filled_quark ());
  if (!filled) {
    filled = g_new0 (Filled, 1);
    g_object_set_qdata_full (G_OBJECT (text), filled_quark (), filled, filled_free);
  }
  return filled;
}

/* GtkEntry, GtkSpinButton and GtkEditableLabel hold one. */
static GtkWidget *
text_of (GtkWidget *entry)
{
  if (GTK_IS_TEXT_VIEW (entry))
    return entry;
  GtkEditable *text = GTK_EDITABLE (entry);
  for (GtkEditable *inner; (inner = gtk_editable_get_delegate (text));)
    text = inner;
  return GTK_WIDGET (text);
}

static GtkTextBuffer *
lines_of (GtkWidget *text)
{
  return GTK_IS_TEXT_VIEW (text) ? gtk_text_view_get_buffer (GTK_TEXT_VIEW (text)) : NULL;
}

char *
sp_entry_text (GtkWidget *entry)
{
  GtkTextBuffer *lines = lines_of (entry);
  GtkTextIter from, to;
  if (!lines)
    return g_strdup (gtk_editable_get_text (GTK_EDITABLE (entry)));
  gtk_text_buffer_get_bounds (lines, &from, &to);
  return gtk_text_buffer_get_text (lines, &from, &to, FALSE);
}

static gboolean
is_untouched (GtkWidget *text)
{
  g_autofree char *stands = sp_entry_text (text);
  const char *stood = filled_of (text)->stood;
  return strcmp (stands, stood ? stood : "") == 0;
}

/* GTK forgets what can be undone and redone when undo is switched off. */
static void
forget_typing (GtkWidget *text)
{
  GtkTextBuffer *lines = lines_of (text);
  if (lines) {
    gtk_text_buffer_set_enable_undo (lines, FALSE);
    gtk_text_buffer_set_enable_undo (lines, TRUE);
    return;
  }
  gtk_editable_set_enable_undo (GTK_EDITABLE (text), FALSE);
  gtk_editable_set_enable_undo (GTK_EDITABLE (text), TRUE);
}

void
sp_entry_fill (GtkWidget *entry, const char *text)
{
  GtkWidget *inner = text_of (entry);
  Filled *filled = filled_of (inner);
  g_autofree char *stands = sp_entry_text (inner);
  if (strcmp (stands, text) != 0 && lines_of (inner))
    gtk_text_buffer_set_text (lines_of (inner), text, -1);
  else if (strcmp (stands, text) != 0)
    gtk_editable_set_text (GTK_EDITABLE (entry), text);
  char *stood = g_strdup (text); /* which may be what stood */
  g_free (filled->stood);
  filled->stood = stood;
  g_clear_pointer (&filled->told, g_free);
  forget_typing (inner);
}

/* ---- what would be lost ---- */

GtkWidget *
sp_entry_standing (GtkWidget *widget)
{
  if (!gtk_widget_get_mapped (widget))
    return NULL;
  if (GTK_IS_TEXT (widget) || GTK_IS_TEXT_VIEW (widget))
    return is_untouched (widget) ? NULL : widget;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child; child = gtk_widget_get_next_sibling (child)) {
    GtkWidget *found = sp_entry_standing (child);
    if (found)
      return found;
  }
  return NULL;
}

char *
sp_entry_not_taken (GtkWindow *window)
{
  gtk_window_set_focus (window, NULL);
  GtkWidget *text = sp_entry_standing (GTK_WIDGET (window));
  Filled *filled = text ? filled_of (text) : NULL;
  g_autofree char *stands = text ? sp_entry_text (text) : NULL;
  if (!text || g_strcmp0 (stands, filled->told) == 0)
    return NULL;
  g_free (filled->told);
  filled->told = g_strdup (stands);
  gtk_widget_grab_focus (text);
  return g_strdup_printf (_ ("“%s” was not taken: correct it, or close once more without it."), stands);
}

/* ---- numbers ---- */

/* GTK's own output would leave the value before to be undone. */
static gboolean
show_value (GtkSpinButton *spin, gpointer data)
{
  g_autofree char *text = g_strdup_printf ("%.0f", gtk_spin_button_get_value (spin));
  (void) data;
  sp_entry_fill (GTK_WIDGET (spin), text);
  return TRUE;
}

GtkWidget *
sp_entry_spin_new (const char *name, double least, double most, double step, double value)
{
  GtkWidget *spin = gtk_spin_button_new_with_range (least, most, step);
  g_signal_connect (spin, "output", G_CALLBACK (show_value), NULL);
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (spin), value);
  gtk_spin_button_update (GTK_SPIN_BUTTON (spin)); /* where the value is the least it has not been shown yet */
  gtk_accessible_update_property (GTK_ACCESSIBLE (spin), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  return spin;
}

/* ---- several lines ---- */

GtkWidget *
sp_entry_lines_new (const char *name)
{
  GtkWidget *view = gtk_text_view_new ();
  gtk_text_view_set_wrap_mode (GTK_TEXT_VIEW (view), GTK_WRAP_WORD_CHAR);
  gtk_text_view_set_accepts_tab (GTK_TEXT_VIEW (view), FALSE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (view), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  return view;
}

/* ---- keys ---- */

/* Returns FALSE if nothing is typed. Over typed text a redo never reaches the book: the text would stand in another state's form. */
static gboolean
take_back (GtkWidget *text, gboolean redo)
{
  gboolean untouched = is_untouched (text);
  if (untouched && !redo) {
    forget_typing (text); /* else the next redo would be of older typing, not of the edit that is undone now */
    return FALSE;
  }
  if (lines_of (text))
    (redo ? gtk_text_buffer_redo : gtk_text_buffer_undo) (lines_of (text));
  else
    gtk_widget_activate_action (text, redo ? "text.redo" : "text.undo", NULL);
  return !untouched || !is_untouched (text);
}

static gboolean
on_key (GtkWidget *window, GVariant *arguments, gpointer session)
{
  GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (window));
  gboolean redo = g_variant_get_boolean (arguments);
  if (focus && (GTK_IS_TEXT (focus) || GTK_IS_TEXT_VIEW (focus)) && take_back (focus, redo))
    return TRUE;
  if (redo)
    sp_session_redo (session);
  else
    sp_session_undo (session);
  return TRUE;
}

/* Runs before the entry itself, which in GTK 4.8 takes the keys even if it has nothing to undo. */
void
sp_entry_add_undo_keys (GtkWidget *window, SpSession *session)
{
  static const struct {
    const char *keys;
    gboolean redo;
  } keys[] = { { "<Control>z", FALSE }, { "<Control><Shift>z", TRUE } };
  GtkEventController *shortcuts = gtk_shortcut_controller_new ();
  gtk_event_controller_set_propagation_phase (shortcuts, GTK_PHASE_CAPTURE);
  for (guint i = 0; i < G_N_ELEMENTS (keys); i++) {
    GtkShortcut *shortcut = gtk_shortcut_new (gtk_shortcut_trigger_parse_string (keys[i].keys),
                                              gtk_callback_action_new (on_key, session, NULL));
    gtk_shortcut_set_arguments (shortcut, g_variant_new_boolean (keys[i].redo));
    gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (shortcuts), shortcut);
  }
  gtk_widget_add_controller (window, shortcuts);
}
