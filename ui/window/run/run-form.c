/* run-form.c - the window in which a substitution run is typed: its layout, what its buttons do, and the result worked out at each key */
#include "ui/window/run/run-form.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "core/quantity/file.h"
#include "core/quantity/text.h"
#include "ui/window/run/run-form-private.h"
#include "ui/window/session/reading.h"
#include "ui/window/widgets/ask-file.h"
#include "ui/words/words.h"

G_DEFINE_FINAL_TYPE (SpRunForm, sp_run_form, SP_TYPE_DIALOG)

static void
say_trouble (SpRunForm *form, const char *message)
{
  gtk_label_set_text (GTK_LABEL (form->trouble), message ? message : "");
  gtk_widget_set_visible (form->trouble, message != NULL);
}

/* Says what holds of the whole form: it shows what was typed before, or not all frequencies, or has no room for more. */
static void
show_note (SpRunForm *form)
{
  g_autoptr (GString) note = g_string_new (form->restored ? _ ("What was typed before stands here; it is not in the stage yet. ") : NULL);
  if (form->run_n > 0)
    g_string_append_printf (note, _ ("This stage's run has %u frequencies and stays until other readings are taken. "), form->run_n);
  if (form->points_n > 0)
    g_string_append_printf (note, _ ("Of the %u frequencies of its points the first %d stand here. "), form->points_n, SP_RUN_FORM_ROWS);
  if (form->run_n || form->points_n || form->rows->len == SP_RUN_FORM_ROWS)
    g_string_append_printf (note,
                            _ ("At most %d frequencies are typed here: for more, write a .run file and take it on the chain's page, "
                               "From a file\xe2\x80\xa6 (F8)."),
                            SP_RUN_FORM_ROWS);
  gtk_label_set_text (GTK_LABEL (form->note), g_strchomp (note->str));
  gtk_widget_set_visible (form->note, *note->str);
}

/* ---- computing ---- */

void
sp_run_form_mark (SpRunForm *form, GtkWidget *entry, const char *what, const char *message)
{
  if (message && !form->wrong)
    form->wrong = g_strdup_printf ("%s: %s", what, message);
  if (message)
    gtk_widget_add_css_class (entry, "error");
  else
    gtk_widget_remove_css_class (entry, "error");
  gtk_accessible_update_state (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_STATE_INVALID,
                               message ? GTK_ACCESSIBLE_INVALID_TRUE : GTK_ACCESSIBLE_INVALID_FALSE, -1);
}

void
sp_run_form_compute (SpRunForm *form)
{
  SpRun *run = sp_run_new ();
  run->stage = g_strdup (form->stage);
  run->leftover = g_strdup (form->leftover);
  g_clear_pointer (&form->wrong, g_free);
  sp_run_form_read_keys (form, run);
  sp_run_form_read_rows (form, run);
  g_clear_pointer (&form->run, sp_run_unref);
  g_clear_pointer (&form->result, sp_run_result_free);
  form->run = run;
  form->result = sp_run_result (run, sp_session_bench (SP_DIALOG (form)->session)->date_day);
  sp_run_form_show_rows (form);
  sp_run_form_show_result (form);
  say_trouble (form, form->wrong);
  gboolean whole = !form->wrong && form->result->n > 0 && form->result->missing->len == 0;
  gboolean there = sp_chain_stage_named (sp_chain_at (SP_DIALOG (form)->session, form->place), form->stage) >= 0;
  gtk_widget_set_sensitive (form->take, whole && there && form->touched);
  gtk_widget_set_sensitive (form->save, whole);
  gtk_widget_set_sensitive (form->anew, form->touched);
  show_note (form);
}

void
sp_run_form_typed (SpRunForm *form)
{
  if (form->filling)
    return;
  form->touched = TRUE;
  form->changes++;
  sp_run_form_compute (form);
  sp_run_form_keep_draft (form);
}

/* ---- actions ---- */

static void
take (SpRunForm *form)
{
  SpSession *session = SP_DIALOG (form)->session;
  SpChain *chain = sp_chain_at (session, form->place);
  int stage = sp_chain_stage_named (chain, form->stage);
  g_autoptr (GError) error = NULL;
  if (stage < 0 || !gtk_widget_get_sensitive (form->take))
    return;
  SpChain *edited = sp_chain_set_run (chain, (guint) stage, form->run, &error);
  g_autofree char *label = g_strdup_printf (_ ("Calibrate %s by substitution"), form->stage);
  if (!edited) {
    say_trouble (form, error->message);
    return;
  }
  form->touched = !sp_chain_edit_at (session, form->place, edited, label, NULL);
  gtk_window_close (GTK_WINDOW (form));
}

static gpointer
read_run (const char *path, gpointer asked, GError **error)
{
  (void) asked;
  return sp_run_read (path, error);
}

/* Shows a file whole or not at all. Returns what there is to say of it, or NULL. (transfer full) */
static char *
show_file (SpRunForm *form, const SpRun *run)
{
  if (run->at->len > SP_RUN_FORM_ROWS)
    return g_strdup_printf (
        _ ("%s has %u frequencies, more than the %d that are typed here: close this window and take it with From a file\xe2\x80\xa6 (F8)."),
        run->file, run->at->len, SP_RUN_FORM_ROWS);
  sp_run_form_show_run (form, run, TRUE);
  sp_run_form_keep_draft (form);
  return g_strcmp0 (run->stage, form->stage) == 0
             ? NULL
             : g_strdup_printf (_ ("This file was read for a stage “%s”; it is shown for %s."), run->stage, form->stage);
}

static void
on_run (gpointer window, gpointer changes, gpointer value, GError *why)
{
  SpRunForm *form = SP_RUN_FORM (window);
  g_autoptr (SpRun) run = value;
  g_autoptr (GError) error = why;
  gboolean typed = form->changes != GPOINTER_TO_UINT (changes);
  g_autofree char *says = !run    ? g_strdup (error->message)
                          : typed ? g_strdup (_ ("Something was typed while the file was read: open it once more to have it in its place."))
                                  : show_file (form, run);
  gtk_widget_set_sensitive (form->open, TRUE);
  if (says)
    say_trouble (form, says);
}

static void
open_file (GtkWidget *window, GFile *file)
{
  static const SpFileReading reading = { read_run, (GDestroyNotify) sp_run_unref, on_run, NULL };
  SpRunForm *form = SP_RUN_FORM (window);
  gtk_widget_set_sensitive (form->open, FALSE);
  sp_reading_begin (window, file, &reading, GUINT_TO_POINTER (form->changes));
}

static void
ask_open (SpRunForm *form)
{
  sp_ask_file (GTK_WIDGET (form), _ ("A substitution run"), "*.run", open_file);
}

static void
save_file (GtkWidget *window, GFile *file)
{
  SpRunForm *form = SP_RUN_FORM (window);
  g_autoptr (GError) error = NULL;
  g_autofree char *text = sp_run_text (form->run);
  g_autofree char *path = sp_ask_file_path (file);
  if (!sp_file_write (path, text, strlen (text), &error))
    say_trouble (form, error->message);
}

static void
ask_save (SpRunForm *form)
{
  g_autofree char *escaped = sp_escape (form->stage), *name = g_strconcat (escaped, ".run", NULL);
  if (gtk_widget_get_sensitive (form->save))
    sp_ask_save (GTK_WIDGET (form), _ ("Save the run"), "*.run", name, ".run", save_file);
}

static void
start_anew (SpRunForm *form)
{
  sp_run_form_show_stage (form);
  sp_run_form_keep_draft (form);
}

static gboolean
on_key (GtkWidget *widget, GVariant *arguments, gpointer button)
{
  (void) widget;
  (void) arguments;
  if (gtk_widget_is_sensitive (button))
    g_signal_emit_by_name (button, "clicked");
  return TRUE;
}

/* ---- the window ---- */

static GtkWidget *
add_button (SpRunForm *form, GtkWidget *box, const char *text, const char *key, const char *tip, void (*run) (SpRunForm *))
{
  GtkWidget *button = sp_dialog_button_new (text, tip);
  GtkEventController *keys = gtk_shortcut_controller_new ();
  gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (keys), gtk_shortcut_new (gtk_shortcut_trigger_parse_string (key),
                                                                                          gtk_callback_action_new (on_key, button, NULL)));
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  gtk_widget_add_controller (GTK_WIDGET (form), keys);
  g_signal_connect_swapped (button, "clicked", G_CALLBACK (run), form);
  gtk_box_append (GTK_BOX (box), button);
  return button;
}

static GtkWidget *
new_buttons (SpRunForm *form)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  form->take = add_button (form, box, _ ("_Take into the stage"), "<Control>Return",
                           _ ("The stage's loss comes from these readings from now on (Ctrl+Enter)."), take);
  gtk_widget_add_css_class (form->take, "strong");
  form->open = add_button (form, box, _ ("_Open a run\xe2\x80\xa6"), "<Control>o", _ ("Fills the form from a .run file (Ctrl+O)."),
                           ask_open);
  form->save = add_button (form, box, _ ("_Save as a file\xe2\x80\xa6"), "<Control>s", _ ("Writes the form as a .run file (Ctrl+S)."),
                           ask_save);
  form->anew = add_button (form, box, _ ("Start a_new"), "<Control>n", _ ("Drops what was typed and shows what the stage has (Ctrl+N)."),
                           start_anew);
  return box;
}

static GtkWidget *
new_cautions (void)
{
  GtkWidget *label = gtk_label_new (sp_words_run_cautions ());
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_max_width_chars (GTK_LABEL (label), 36);
  gtk_widget_add_css_class (label, "cautions");
  gtk_widget_add_css_class (label, "overlined");
  return label;
}

static GtkWidget *
new_heading (const char *text)
{
  GtkWidget *label = gtk_label_new (text);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
  gtk_widget_add_css_class (label, "heading");
  return label;
}

static GtkWidget *
new_left (SpRunForm *form)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8), *scrolled = gtk_scrolled_window_new (),
            *viewport = gtk_viewport_new (NULL, NULL);
  GtkWidget *keys = sp_run_form_new_keys (form);
  g_autofree char *title = g_strdup_printf (_ ("%s, by substitution"), form->stage);
  gtk_widget_set_margin_end (keys, 12);
  gtk_viewport_set_child (GTK_VIEWPORT (viewport), keys);
  gtk_viewport_set_scroll_to_focus (GTK_VIEWPORT (viewport), TRUE);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), viewport);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scrolled), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_widget_set_vexpand (scrolled, TRUE);
  gtk_widget_set_size_request (box, 268, -1);
  gtk_widget_set_hexpand (box, FALSE);
  gtk_box_append (GTK_BOX (box), new_heading (title));
  gtk_box_append (GTK_BOX (box), scrolled);
  gtk_box_append (GTK_BOX (box), new_cautions ());
  return box;
}

static GtkWidget *
new_right (SpRunForm *form)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  form->trouble = gtk_label_new ("");
  gtk_label_set_wrap (GTK_LABEL (form->trouble), TRUE);
  gtk_label_set_xalign (GTK_LABEL (form->trouble), 0);
  gtk_widget_add_css_class (form->trouble, "wrong");
  form->note = gtk_label_new ("");
  gtk_label_set_wrap (GTK_LABEL (form->note), TRUE);
  gtk_label_set_xalign (GTK_LABEL (form->note), 0);
  gtk_widget_add_css_class (form->note, "soft");
  gtk_widget_set_hexpand (box, TRUE);
  gtk_box_append (GTK_BOX (box), new_heading (_ ("The meter's readings, dBm or dB of one reference; behind each @ its minute")));
  gtk_box_append (GTK_BOX (box), sp_run_form_new_readings (form));
  gtk_box_append (GTK_BOX (box), form->note);
  gtk_box_append (GTK_BOX (box), sp_run_form_new_result (form));
  gtk_box_append (GTK_BOX (box), form->trouble);
  gtk_box_append (GTK_BOX (box), new_buttons (form));
  return box;
}

/* Keeps the draft however the window goes, even with the program's last one. */
static void
sp_run_form_unmap (GtkWidget *widget)
{
  SpRunForm *form = SP_RUN_FORM (widget);
  GTK_WIDGET_CLASS (sp_run_form_parent_class)->unmap (widget);
  sp_run_form_keep_draft (form);
  sp_drafts_write_now (sp_session_drafts (SP_DIALOG (form)->session));
  form->filling = TRUE;
}

/* The bench was undone or redone behind the form. */
static void
follow (SpDialog *dialog)
{
  SpRunForm *form = SP_RUN_FORM (dialog);
  if (form->touched)
    sp_run_form_compute (form);
  else
    sp_run_form_show_stage (form);
}

static void
sp_run_form_finalize (GObject *object)
{
  SpRunForm *form = SP_RUN_FORM (object);
  g_clear_pointer (&form->run, sp_run_unref);
  g_clear_pointer (&form->result, sp_run_result_free);
  g_ptr_array_unref (form->rows);
  g_free (form->chain);
  g_free (form->stage);
  g_free (form->leftover);
  g_free (form->wrong);
  G_OBJECT_CLASS (sp_run_form_parent_class)->finalize (object);
}

static void
sp_run_form_class_init (SpRunFormClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = sp_run_form_finalize;
  GTK_WIDGET_CLASS (klass)->unmap = sp_run_form_unmap;
  SP_DIALOG_CLASS (klass)->follow = follow;
}

static void
sp_run_form_init (SpRunForm *form)
{
  SP_DIALOG (form)->keeps_typing = TRUE; /* as a draft */
  form->filling = TRUE;
}

void
sp_run_form_present (GtkWindow *parent, SpSession *session, SpChainPlace place, guint stage)
{
  const SpChain *chain = sp_chain_at (session, place);
  g_return_if_fail (chain && stage < chain->n);
  g_autofree char *title = g_strdup_printf (_ ("%s, by substitution"), chain->stages[stage]->name);
  int width = CLAMP (gtk_widget_get_width (GTK_WIDGET (parent)) - 24, 960, 1200),
      height = CLAMP (gtk_widget_get_height (GTK_WIDGET (parent)) - 24, 560, 780);
  SpRunForm *form = sp_dialog_new (SP_TYPE_RUN_FORM, parent, session, title, width, height);
  form->place = place;
  form->chain = g_strdup (chain->name);
  form->stage = g_strdup (chain->stages[stage]->name);
  GtkWidget *whole = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 24);
  gtk_widget_set_margin_start (whole, 24);
  gtk_widget_set_margin_end (whole, 24);
  gtk_widget_set_margin_top (whole, 16);
  gtk_widget_set_margin_bottom (whole, 16);
  gtk_box_append (GTK_BOX (whole), new_left (form));
  gtk_box_append (GTK_BOX (whole), new_right (form));
  gtk_window_set_child (GTK_WINDOW (form), whole);
  if (!sp_run_form_restore (form))
    sp_run_form_show_stage (form);
  gtk_window_present (GTK_WINDOW (form));
}
