/* typing.h - every entry of a window, and keys into it: what GTK would run for a key is run in its order, from the window down and back up */
#pragma once

#include "tests/pages/room.h"

#include "ui/window/widgets/entry.h"

/* ---- all entries ---- */

static inline gboolean
can_be_edited (GtkWidget *widget)
{
  gboolean editable = GTK_IS_TEXT_VIEW (widget) ? gtk_text_view_get_editable (GTK_TEXT_VIEW (widget))
                                                : gtk_editable_get_editable (GTK_EDITABLE (widget));
  return gtk_widget_get_mapped (widget) && gtk_widget_is_sensitive (widget) && editable;
}

static inline void
add_entries (GtkWidget *widget, GPtrArray *entries)
{
  if (GTK_IS_EXPANDER (widget))
    gtk_expander_set_expanded (GTK_EXPANDER (widget), TRUE);
  if (GTK_IS_EDITABLE_LABEL (widget) || GTK_IS_TEXT (widget) || GTK_IS_TEXT_VIEW (widget)) {
    if (can_be_edited (widget))
      g_ptr_array_add (entries, g_object_ref (widget));
    return;
  }
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child; child = gtk_widget_get_next_sibling (child))
    add_entries (child, entries);
}

/* GtkText, GtkTextView and GtkEditableLabel, whatever they are part of. (transfer full) */
static inline GPtrArray *
entries_in (GtkWidget *widget)
{
  GPtrArray *entries = g_ptr_array_new_with_free_func (g_object_unref);
  add_entries (widget, entries);
  return entries;
}

static inline const char *
text_in (GtkWidget *entry)
{
  g_autofree char *text = sp_entry_text (entry);
  return g_intern_string (text);
}

/* ---- keys ---- */

static inline gboolean
runs (GtkWidget *widget, GtkPropagationPhase phase, guint key, GdkModifierType modifiers)
{
  g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (widget);
  for (guint i = 0; i < g_list_model_get_n_items (controllers); i++) {
    g_autoptr (GtkEventController) controller = g_list_model_get_item (controllers, i);
    if (!GTK_IS_SHORTCUT_CONTROLLER (controller) || gtk_event_controller_get_propagation_phase (controller) != phase)
      continue;
    for (guint k = 0; k < g_list_model_get_n_items (G_LIST_MODEL (controller)); k++) {
      g_autoptr (GtkShortcut) shortcut = g_list_model_get_item (G_LIST_MODEL (controller), k);
      GtkShortcutTrigger *trigger = gtk_shortcut_get_trigger (shortcut);
      if (GTK_IS_KEYVAL_TRIGGER (trigger) && gtk_keyval_trigger_get_keyval (GTK_KEYVAL_TRIGGER (trigger)) == key
          && gtk_keyval_trigger_get_modifiers (GTK_KEYVAL_TRIGGER (trigger)) == modifiers
          && gtk_shortcut_action_activate (gtk_shortcut_get_action (shortcut), 0, widget, gtk_shortcut_get_arguments (shortcut)))
        return TRUE;
    }
  }
  return FALSE;
}

static inline gboolean
comes_down (GtkWidget *widget, guint key, GdkModifierType modifiers)
{
  GtkWidget *parent = gtk_widget_get_parent (widget);
  return (parent && comes_down (parent, key, modifiers)) || runs (widget, GTK_PHASE_CAPTURE, key, modifiers);
}

static inline void
press_key (GtkWidget *in, guint key, GdkModifierType modifiers)
{
  GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (in)), *target = focus ? focus : in;
  if (!comes_down (target, key, modifiers))
    for (GtkWidget *widget = target; widget && !runs (widget, GTK_PHASE_BUBBLE, key, modifiers); widget = gtk_widget_get_parent (widget))
      ;
}

static inline void
press_undo (GtkWidget *in)
{
  press_key (in, GDK_KEY_z, GDK_CONTROL_MASK);
}

static inline void
press_redo (GtkWidget *in)
{
  press_key (in, GDK_KEY_z, GDK_CONTROL_MASK | GDK_SHIFT_MASK);
}

static inline void
enter (GtkWidget *entry)
{
  if (GTK_IS_EDITABLE_LABEL (entry))
    gtk_editable_label_start_editing (GTK_EDITABLE_LABEL (entry));
  else
    gtk_widget_grab_focus (entry);
}

/* Tab. */
static inline void
leave (GtkWidget *in)
{
  gtk_widget_child_focus (in, GTK_DIR_TAB_FORWARD);
  settle ();
}

/* In place of what stands there, letter by letter into what has the focus. */
static inline void
type_over (GtkWidget *in, const char *text)
{
  GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (in));
  GtkTextBuffer *lines = GTK_IS_TEXT_VIEW (focus) ? gtk_text_view_get_buffer (GTK_TEXT_VIEW (focus)) : NULL;
  ck_assert_msg (lines || GTK_IS_TEXT (focus), "the focus is in %s", focus ? G_OBJECT_TYPE_NAME (focus) : "nothing");
  if (lines)
    g_signal_emit_by_name (focus, "select-all", TRUE);
  else
    gtk_editable_select_region (GTK_EDITABLE (focus), 0, -1);
  if (*text_in (focus))
    g_signal_emit_by_name (focus, "backspace");
  for (; *text; text++)
    g_signal_emit_by_name (focus, "insert-at-cursor", (const char[]){ *text, '\0' });
}
