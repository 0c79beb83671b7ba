#include "ui/window/run-form.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/quantity/text.h"
#include "ui/window/ask-file.h"
#include "ui/window/chain-edit.h"
#include "ui/window/run-form-private.h"
#include "ui/words/words.h"

#define DRAFTS "run-drafts" /* of the session: stage -> texts that were typed and not taken */

static SpRunForm *
form_of (GtkWindow *window)
{
  return g_object_get_data (G_OBJECT (window), "run-form");
}

static void
say_trouble (SpRunForm *form, const char *message)
{
  gtk_label_set_text (GTK_LABEL (form->trouble), message ? message : "");
  gtk_widget_set_visible (form->trouble, message != NULL);
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
  gtk_accessible_update_state (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_STATE_INVALID, message ? GTK_ACCESSIBLE_INVALID_TRUE : GTK_ACCESSIBLE_INVALID_FALSE,
                               -1);
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
  form->result = sp_run_result (run, sp_session_bench (form->dialog->session)->date_day);
  sp_run_form_show_rows (form);
  sp_run_form_show_result (form);
  say_trouble (form, form->wrong);
  gboolean whole = !form->wrong && form->result->n > 0 && form->result->missing->len == 0;
  gboolean there = sp_chain_stage_named (sp_chain_in_use (form->dialog->session), form->stage) >= 0;
  gtk_widget_set_sensitive (form->take, whole && there && form->touched);
  gtk_widget_set_sensitive (form->save, whole);
  gtk_widget_set_sensitive (form->anew, form->touched);
}

void
sp_run_form_typed (SpRunForm *form)
{
  if (form->filling)
    return;
  form->touched = TRUE;
  sp_run_form_compute (form);
}

/* ---- what the form shows: the texts of a run, of what was typed before, or of a stage without a run ---- */

static void
set_key (SpRunForm *form, guint i, const char *text)
{
  gtk_editable_set_text (GTK_EDITABLE (form->key[i]), text ? text : "");
}

static void
begin_filling (SpRunForm *form)
{
  form->filling = TRUE;
  form->chosen_hz = NAN;
  g_clear_pointer (&form->leftover, g_free);
  sp_run_form_clear_rows (form);
}

static void
end_filling (SpRunForm *form, gboolean touched)
{
  if (form->rows->len < SP_RUN_FORM_ROWS)
    sp_run_form_add_row (form, NULL);
  form->filling = FALSE;
  form->touched = touched;
  sp_run_form_compute (form);
}

static void
show_at (SpRunForm *form, const SpRunAt *at)
{
  g_autofree char *before = sp_run_readings_text (at->before), *inserted = sp_run_readings_text (at->inserted), *after = sp_run_readings_text (at->after);
  g_autofree char *frequency = at->heading ? g_strdup (at->heading + strlen ("at ")) : sp_spell_frequency (at->frequency_hz);
  sp_run_form_add_row (form, (const char *[]) { frequency, before, inserted, after });
}

static void
show_run (SpRunForm *form, const SpRun *run, gboolean touched)
{
  g_autofree char *text = sp_run_text (run);
  begin_filling (form);
  form->leftover = g_strdup (run->leftover);
  for (guint i = 0; i < SP_RUN_FORM_KEYS; i++) {
    g_autofree char *value = sp_key_text_get (text, "run", sp_run_form_key (i)), *spelled = value ? sp_spell_value (value, SP_SPELL_ROWS) : NULL;
    set_key (form, i, g_str_has_suffix (sp_run_form_key (i), "vswr") ? spelled : value);
  }
  for (guint i = 0; i < run->at->len; i++)
    show_at (form, run->at->pdata[i]);
  end_filling (form, touched);
}

/* The last run of another stage: most likely the same meter on the same evening. */
static const SpRun *
run_beside (const SpChain *chain, guint stage)
{
  for (guint i = chain->n; i-- > 0;)
    if (i != stage && chain->stages[i]->run)
      return chain->stages[i]->run;
  return NULL;
}

static char *
key_to_begin_with (const SpChain *chain, guint stage, const SpRun *beside, const char *key)
{
  static const char *const of_meter[] = { "interval_days", "temperature_c", "temperature_u_c", "source_vswr", "meter_vswr", "line_m", "line_velocity",
                                          "meter_linearity_db", "meter_resolution_db", "meter_floor_dbm", NULL };
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();
  g_autofree char *value = NULL;
  if (strcmp (key, "date") == 0)
    return g_date_time_format (now, "%Y-%m-%d");
  if (strcmp (key, "stage_vswr") == 0)
    value = sp_chain_get (chain, (int) stage, "vswr");
  else if (beside && g_strv_contains (of_meter, key))
    value = sp_key_text_get (beside->text, "run", key);
  return value && g_str_has_suffix (key, "vswr") ? sp_spell_value (value, SP_SPELL_ROWS) : g_steal_pointer (&value);
}

static void
add_frequency (SpRunForm *form, double frequency_hz)
{
  g_autofree char *frequency = sp_spell_frequency (frequency_hz);
  sp_run_form_add_row (form, (const char *[]) { frequency, NULL, NULL, NULL });
}

/* Today; the stage's VSWR; meter and source of another stage's run; the frequencies that it, else that other stage, was measured at. */
static void
show_empty (SpRunForm *form, const SpChain *chain, guint stage)
{
  const SpCurve *loss = chain->stages[stage]->loss;
  const SpRun *beside = run_beside (chain, stage);
  begin_filling (form);
  for (guint i = 0; i < SP_RUN_FORM_KEYS; i++) {
    g_autofree char *text = key_to_begin_with (chain, stage, beside, sp_run_form_key (i));
    set_key (form, i, text);
  }
  for (guint i = 0; loss && !chain->stages[stage]->two_port && i < loss->n && i < SP_RUN_FORM_ROWS; i++)
    add_frequency (form, loss->frequency_hz[i]);
  for (guint i = 0; !loss && beside && i < beside->at->len && i < SP_RUN_FORM_ROWS; i++)
    add_frequency (form, ((SpRunAt *) beside->at->pdata[i])->frequency_hz);
  end_filling (form, FALSE);
}

static void
show_stage (SpRunForm *form)
{
  SpChain *chain = sp_chain_in_use (form->dialog->session);
  int stage = sp_chain_stage_named (chain, form->stage);
  const SpRun *run = stage >= 0 ? chain->stages[stage]->run : NULL;
  if (run && run->at->len <= SP_RUN_FORM_ROWS)
    show_run (form, run, FALSE);
  else if (stage >= 0)
    show_empty (form, chain, (guint) stage);
  if (run && run->at->len > SP_RUN_FORM_ROWS)
    say_trouble (form, _("This stage's run has more frequencies than the 200 that are shown here; its file can be edited and dropped on the stage again."));
}

/* ---- drafts: closing loses nothing ---- */

static GHashTable *
drafts_of (SpSession *session)
{
  GHashTable *drafts = g_object_get_data (G_OBJECT (session), DRAFTS);
  if (drafts)
    return drafts;
  drafts = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify) g_strfreev);
  g_object_set_data_full (G_OBJECT (session), DRAFTS, drafts, (GDestroyNotify) g_hash_table_unref);
  return drafts;
}

static void
keep_draft (SpRunForm *form)
{
  g_autoptr (GStrvBuilder) texts = g_strv_builder_new ();
  if (!form->touched) {
    g_hash_table_remove (drafts_of (form->dialog->session), form->stage);
    return;
  }
  g_strv_builder_add (texts, form->leftover ? form->leftover : "");
  for (guint i = 0; i < SP_RUN_FORM_KEYS; i++)
    g_strv_builder_add (texts, gtk_editable_get_text (GTK_EDITABLE (form->key[i])));
  for (guint k = 0; k + 1 < form->rows->len || (k < form->rows->len && k + 1 == SP_RUN_FORM_ROWS); k++)
    for (guint i = 0; i < SP_RUN_CELLS; i++)
      g_strv_builder_add (texts, gtk_editable_get_text (GTK_EDITABLE (((SpRunRow *) form->rows->pdata[k])->cell[i])));
  g_hash_table_insert (drafts_of (form->dialog->session), g_strdup (form->stage), g_strv_builder_end (texts));
}

static gboolean
show_draft (SpRunForm *form)
{
  char **texts = g_hash_table_lookup (drafts_of (form->dialog->session), form->stage);
  guint n = texts ? g_strv_length (texts) : 0, at = 1 + SP_RUN_FORM_KEYS;
  if (n < at)
    return FALSE;
  begin_filling (form);
  form->leftover = *texts[0] ? g_strdup (texts[0]) : NULL;
  for (guint i = 0; i < SP_RUN_FORM_KEYS; i++)
    set_key (form, i, texts[1 + i]);
  for (; at + SP_RUN_CELLS <= n; at += SP_RUN_CELLS)
    sp_run_form_add_row (form, (const char *const *) texts + at);
  end_filling (form, TRUE);
  return TRUE;
}

/* ---- actions ---- */

static void
take (SpRunForm *form)
{
  SpSession *session = form->dialog->session;
  SpChain *chain = sp_chain_in_use (session);
  int stage = sp_chain_stage_named (chain, form->stage);
  g_autoptr (GError) error = NULL;
  if (stage < 0 || !gtk_widget_get_sensitive (form->take))
    return;
  SpChain *edited = sp_chain_set_run (chain, (guint) stage, form->run, &error);
  g_autofree char *label = g_strdup_printf (_("Calibrate %s by substitution"), form->stage);
  if (!edited) {
    say_trouble (form, error->message);
    return;
  }
  form->touched = !sp_chain_edit_in_use (session, edited, label, NULL);
  gtk_window_close (GTK_WINDOW (form->dialog->window));
}

static void
open_file (GtkWindow *window, GFile *file)
{
  SpRunForm *form = form_of (window);
  g_autofree char *path = g_file_get_path (file);
  g_autoptr (GError) error = NULL;
  g_autoptr (SpRun) run = path ? sp_run_read (path, &error) : NULL;
  if (!run)
    say_trouble (form, error ? error->message : _("Only a file on this computer can be read."));
  else if (run->at->len > SP_RUN_FORM_ROWS)
    say_trouble (form, _("It has more frequencies than the 200 that are shown here; drop the file on the stage."));
  else
    show_run (form, run, TRUE);
  if (run && run->at->len <= SP_RUN_FORM_ROWS && g_strcmp0 (run->stage, form->stage) != 0) {
    g_autofree char *text = g_strdup_printf (_("This file was read for a stage “%s”; it is shown for %s."), run->stage, form->stage);
    say_trouble (form, text);
  }
}

static void
ask_open (SpRunForm *form)
{
  sp_ask_file (GTK_WINDOW (form->dialog->window), _("A substitution run"), "*.run", open_file);
}

static void
save_file (GtkWindow *window, GFile *file)
{
  SpRunForm *form = form_of (window);
  g_autoptr (GError) error = NULL;
  g_autofree char *text = sp_run_text (form->run);
  if (!g_file_replace_contents (file, text, strlen (text), NULL, FALSE, G_FILE_CREATE_NONE, NULL, NULL, &error))
    say_trouble (form, error->message);
}

static void
ask_save (SpRunForm *form)
{
  g_autofree char *escaped = sp_escape (form->stage), *name = g_strconcat (escaped, ".run", NULL);
  if (gtk_widget_get_sensitive (form->save))
    sp_ask_save (GTK_WINDOW (form->dialog->window), _("Save the run"), "*.run", name, save_file);
}

static void
start_anew (SpRunForm *form)
{
  show_stage (form);
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
  GtkWidget *button = gtk_button_new_with_mnemonic (text), *window = form->dialog->window;
  GtkEventController *keys = gtk_shortcut_controller_new ();
  gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (keys), gtk_shortcut_new (gtk_shortcut_trigger_parse_string (key),
                                                                                          gtk_callback_action_new (on_key, button, NULL)));
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  gtk_widget_add_controller (window, keys);
  gtk_button_set_has_frame (GTK_BUTTON (button), FALSE);
  gtk_widget_set_tooltip_text (button, tip);
  g_signal_connect_swapped (button, "clicked", G_CALLBACK (run), form);
  gtk_box_append (GTK_BOX (box), button);
  return button;
}

static GtkWidget *
new_buttons (SpRunForm *form)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  form->take = add_button (form, box, _("_Take into the stage"), "<Control>Return", _("The stage's loss comes from these readings from now on (Ctrl+Enter)."), take);
  gtk_widget_add_css_class (form->take, "strong");
  add_button (form, box, _("_Open a run\xe2\x80\xa6"), "<Control>o", _("Fills the form from a .run file (Ctrl+O)."), ask_open);
  form->save = add_button (form, box, _("_Save as a file\xe2\x80\xa6"), "<Control>s", _("Writes the form as a .run file (Ctrl+S)."), ask_save);
  form->anew = add_button (form, box, _("Start a_new"), "<Control>n", _("Drops what was typed and shows what the stage has (Ctrl+N)."), start_anew);
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
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8), *scrolled = gtk_scrolled_window_new (), *viewport = gtk_viewport_new (NULL, NULL);
  GtkWidget *keys = sp_run_form_new_keys (form);
  g_autofree char *title = g_strdup_printf (_("%s, by substitution"), form->stage);
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
  gtk_widget_set_hexpand (box, TRUE);
  gtk_box_append (GTK_BOX (box), new_heading (_("The meter's readings, dBm or dB of one reference; behind each @ its minute")));
  gtk_box_append (GTK_BOX (box), sp_run_form_new_readings (form));
  gtk_box_append (GTK_BOX (box), sp_run_form_new_result (form));
  gtk_box_append (GTK_BOX (box), form->trouble);
  gtk_box_append (GTK_BOX (box), new_buttons (form));
  return box;
}

static void
form_free (gpointer data)
{
  SpRunForm *form = data;
  g_clear_pointer (&form->run, sp_run_unref);
  g_clear_pointer (&form->result, sp_run_result_free);
  g_ptr_array_unref (form->rows);
  g_free (form->stage);
  g_free (form->leftover);
  g_free (form->wrong);
  g_free (form);
}

static gboolean
on_close (GtkWindow *window, SpRunForm *form)
{
  (void) window;
  keep_draft (form);
  form->filling = TRUE;
  return FALSE;
}

/* The bench was undone or redone behind the form. */
static void
follow (gpointer data)
{
  SpDialog *dialog = data;
  SpRunForm *form = form_of (GTK_WINDOW (dialog->window));
  if (form->touched)
    sp_run_form_compute (form);
  else
    show_stage (form);
}

void
sp_run_form_present (GtkWindow *parent, SpSession *session, guint stage)
{
  const SpChain *chain = sp_chain_in_use (session);
  g_return_if_fail (chain && stage < chain->n);
  g_autofree char *title = g_strdup_printf (_("%s, by substitution"), chain->stages[stage]->name);
  int width = CLAMP (gtk_widget_get_width (GTK_WIDGET (parent)) - 24, 960, 1200), height = CLAMP (gtk_widget_get_height (GTK_WIDGET (parent)) - 24, 560, 780);
  SpRunForm *form = g_new0 (SpRunForm, 1);
  form->dialog = sp_dialog_new (parent, session, title, width, height);
  form->stage = g_strdup (chain->stages[stage]->name);
  form->filling = TRUE;
  g_object_set_data_full (G_OBJECT (form->dialog->window), "run-form", form, form_free);
  GtkWidget *whole = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 24);
  gtk_widget_set_margin_start (whole, 24);
  gtk_widget_set_margin_end (whole, 24);
  gtk_widget_set_margin_top (whole, 16);
  gtk_widget_set_margin_bottom (whole, 16);
  gtk_box_append (GTK_BOX (whole), new_left (form));
  gtk_box_append (GTK_BOX (whole), new_right (form));
  gtk_window_set_child (GTK_WINDOW (form->dialog->window), whole);
  form->dialog->content = whole;
  g_signal_connect (form->dialog->window, "close-request", G_CALLBACK (on_close), form);
  if (!show_draft (form))
    show_stage (form);
  form->dialog->follow = follow;
  gtk_window_present (GTK_WINDOW (form->dialog->window));
}
