/* run-form.c - the window in which a substitution run is typed: its layout, what its buttons do, and the result worked out at each key */
#include "ui/window/run/run-form.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "core/quantity/file.h"
#include "core/quantity/text.h"
#include "ui/window/run/run-form-private.h"
#include "ui/window/session/reading.h"
#include "ui/window/widgets/ask-file.h"
#include "ui/window/widgets/theme.h"
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
    g_string_append_printf (note, _ ("Of the %u frequencies of its points the first %d stand here. "), form->points_n, SP_FORM_ROWS);
  if (form->run_n || form->points_n || form->table.rows->len == SP_FORM_ROWS)
    g_string_append_printf (note,
                            _ ("At most %d frequencies are typed here: for more, write a .run file and take it on the chain's page, "
                               "From a file\xe2\x80\xa6 (F8)."),
                            SP_FORM_ROWS);
  gtk_label_set_text (GTK_LABEL (form->note), g_strchomp (note->str));
  gtk_widget_set_visible (form->note, *note->str);
}

/* ---- computing ---- */

void
sp_run_form_compute (SpRunForm *form)
{
  SpRun *run = sp_run_new ();
  run->stage = g_strdup (form->stage);
  run->leftover = g_strdup (form->leftover);
  form->wrong = FALSE;
  sp_run_form_read_keys (form, run);
  sp_run_form_read_rows (form, run);
  g_clear_pointer (&form->run, sp_run_unref);
  g_clear_pointer (&form->result, sp_run_result_free);
  form->run = run;
  form->result = sp_run_result (run, sp_session_bench (SP_DIALOG (form)->session)->date_day);
  sp_run_form_show_rows (form);
  sp_run_form_show_result (form);
  say_trouble (form, NULL);
  gboolean whole = !form->wrong && form->result->n > 0 && form->result->missing->len == 0;
  gboolean there = sp_chain_stage_named (sp_chain_at (SP_DIALOG (form)->session, form->place), form->stage) >= 0;
  gtk_widget_action_set_enabled (GTK_WIDGET (form), "run.take", whole && there && form->touched);
  gtk_widget_action_set_enabled (GTK_WIDGET (form), "run.save", whole);
  gtk_widget_action_set_enabled (GTK_WIDGET (form), "run.anew", form->touched);
  show_note (form);
}

void
sp_run_form_typed (SpRunForm *form)
{
  if (form->table.filling)
    return;
  form->touched = TRUE;
  form->changes++;
  sp_run_form_compute (form);
  sp_run_form_keep_draft (form);
}

/* ---- actions ---- */

static void
take (GtkWidget *widget, const char *action, GVariant *parameter)
{
  (void) action, (void) parameter;
  SpRunForm *form = SP_RUN_FORM (widget);
  SpSession *session = SP_DIALOG (form)->session;
  SpChain *chain = sp_chain_at (session, form->place);
  int stage = sp_chain_stage_named (chain, form->stage);
  g_autoptr (GError) error = NULL;
  if (stage < 0)
    return;
  SpChain *edited = sp_chain_set_run (chain, (guint) stage, form->run, &error);
  g_autofree char *label = g_strdup_printf (_ ("Calibrate %s by substitution"), form->stage);
  if (!edited) {
    say_trouble (form, error->message);
    return;
  }
  form->touched = !sp_chain_edit_at (session, form->place, edited, label, NULL);
  if (!form->touched)
    sp_run_form_keep_taken (form);
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
  if (run->at->len > SP_FORM_ROWS)
    return g_strdup_printf (
        _ ("%s has %u frequencies, more than the %d that are typed here: close this window and take it with From a file\xe2\x80\xa6 (F8)."),
        run->file, run->at->len, SP_FORM_ROWS);
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
  gtk_widget_action_set_enabled (window, "run.open", TRUE);
  if (says)
    say_trouble (form, says);
}

static void
open_file (GtkWidget *window, GFile *file)
{
  static const SpFileReading reading = { read_run, (GDestroyNotify) sp_run_unref, on_run, NULL };
  SpRunForm *form = SP_RUN_FORM (window);
  gtk_widget_action_set_enabled (window, "run.open", FALSE);
  sp_reading_begin (window, file, &reading, GUINT_TO_POINTER (form->changes));
}

static void
ask_open (GtkWidget *widget, const char *action, GVariant *parameter)
{
  (void) action, (void) parameter;
  sp_ask_file (widget, _ ("A substitution run"), "*.run", open_file);
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
ask_save (GtkWidget *widget, const char *action, GVariant *parameter)
{
  (void) action, (void) parameter;
  g_autofree char *escaped = sp_escape (SP_RUN_FORM (widget)->stage), *name = g_strconcat (escaped, ".run", NULL);
  sp_ask_save (widget, _ ("Save the run"), "*.run", name, ".run", save_file);
}

static void
start_anew (GtkWidget *widget, const char *action, GVariant *parameter)
{
  (void) action, (void) parameter;
  sp_run_form_show_stage (SP_RUN_FORM (widget));
  sp_run_form_keep_draft (SP_RUN_FORM (widget));
}

/* ---- the window ---- */

/* Keeps the draft however the window goes, even with the program's last one. */
static void
sp_run_form_unmap (GtkWidget *widget)
{
  SpRunForm *form = SP_RUN_FORM (widget);
  GTK_WIDGET_CLASS (sp_run_form_parent_class)->unmap (widget);
  sp_run_form_keep_draft (form);
  sp_drafts_write_now (sp_session_drafts (SP_DIALOG (form)->session));
  form->table.filling = TRUE;
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
  g_ptr_array_unref (form->table.rows);
  g_free (form->chain);
  g_free (form->stage);
  g_free (form->leftover);
  G_OBJECT_CLASS (sp_run_form_parent_class)->finalize (object);
}

static void
sp_run_form_class_init (SpRunFormClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  G_OBJECT_CLASS (klass)->finalize = sp_run_form_finalize;
  widget->unmap = sp_run_form_unmap;
  SP_DIALOG_CLASS (klass)->follow = follow;
  gtk_widget_class_install_action (widget, "run.take", NULL, take);
  gtk_widget_class_install_action (widget, "run.open", NULL, ask_open);
  gtk_widget_class_install_action (widget, "run.save", NULL, ask_save);
  gtk_widget_class_install_action (widget, "run.anew", NULL, start_anew);
  gtk_widget_class_set_template_from_resource (widget, "/spurproof/pages/run-form.ui");
#define PART(name) gtk_widget_class_bind_template_child (widget, SpRunForm, name)
  PART (heading), PART (keys), PART (cautions), PART (readings), PART (note), PART (sum), PART (budget), PART (reasons), PART (trouble);
#undef PART
}

static void
sp_run_form_init (SpRunForm *form)
{
  SP_DIALOG (form)->keeps_typing = TRUE; /* as a draft */
  form->table.filling = TRUE;
  form->table.rows = g_ptr_array_new_with_free_func (g_free);
  sp_dialog_init_template (SP_DIALOG (form));
  gtk_label_set_text (GTK_LABEL (form->cautions), sp_words_run_cautions ());
  sp_run_form_add_keys (form);
  sp_run_form_set_up_table (form);
}

void
sp_run_form_present (GtkWindow *parent, SpSession *session, SpChainPlace place, guint stage)
{
  const SpChain *chain = sp_chain_at (session, place);
  g_return_if_fail (chain && stage < chain->n);
  g_autofree char *title = g_strdup_printf (_ ("%s, by substitution"), chain->stages[stage]->name);
  int width = CLAMP (gtk_widget_get_width (GTK_WIDGET (parent)) - 24, 960, sp_theme_text_px (1200)),
      height = CLAMP (gtk_widget_get_height (GTK_WIDGET (parent)) - 24, 560, sp_theme_text_px (780));
  SpRunForm *form = sp_dialog_new (SP_TYPE_RUN_FORM, parent, session);
  form->place = place;
  form->chain = g_strdup (chain->name);
  form->stage = g_strdup (chain->stages[stage]->name);
  gtk_window_set_title (GTK_WINDOW (form), title);
  gtk_window_set_default_size (GTK_WINDOW (form), width, height);
  gtk_label_set_text (GTK_LABEL (form->heading), title);
  if (!sp_run_form_restore (form))
    sp_run_form_show_stage (form);
  gtk_window_present (GTK_WINDOW (form));
}
