/* check-form.c - the window in which an analyzer's check is typed: what its buttons do, and the result worked out at each key */
#include "ui/window/run/check-form.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "core/quantity/file.h"
#include "core/quantity/text.h"
#include "ui/window/run/check-form-private.h"
#include "ui/window/session/reading.h"
#include "ui/window/widgets/ask-file.h"
#include "ui/window/widgets/theme.h"
#include "ui/words/words.h"

#define SIDE_BY_SIDE 1280 /* pixels at the usual text size, of which the table with the curve beside it needs that many */
#define CURVE_BELOW 180

G_DEFINE_FINAL_TYPE (SpCheckForm, sp_check_form, SP_TYPE_DIALOG)

static void
say_trouble (SpCheckForm *form, const char *message)
{
  gtk_label_set_text (GTK_LABEL (form->trouble), message ? message : "");
  gtk_widget_set_visible (form->trouble, message != NULL);
}

static void
say_note (SpCheckForm *form)
{
  g_autofree char *full = g_strdup_printf (_ ("At most %d rows are typed here."), SP_FORM_ROWS);
  const char *text = form->restored ? _ ("What was typed before stands here; it is not taken over yet.")
                     : form->last   ? _ ("This check was taken over. What is typed changes it; “Start anew” begins another.")
                     : form->table.rows->len == SP_FORM_ROWS
                         ? full
                         : _ ("145.6 MHz, -10,03 and -10.03 dBm are all understood. Enter: the row below.");
  gtk_label_set_text (GTK_LABEL (form->note), text);
}

SpAnalyzer *
sp_check_form_analyzer (SpCheckForm *form)
{
  SpDialog *dialog = SP_DIALOG (form);
  const SpCondition *condition = sp_dialog_condition (dialog);
  SpBench *bench = sp_session_bench (dialog->session);
  return condition ? sp_condition_analyzer (bench, condition) : bench->analyzer;
}

/* ---- computing ---- */

static void
work_out (SpCheckForm *form, SpCheck *check, SpAnalyzer *analyzer)
{
  g_clear_pointer (&form->check, sp_check_unref);
  g_clear_pointer (&form->result, sp_check_result_free);
  g_clear_pointer (&form->analyzer, sp_analyzer_unref);
  form->check = check;
  form->analyzer = sp_analyzer_ref (analyzer);
  form->result = sp_check_result (check, analyzer, sp_session_bench (SP_DIALOG (form)->session)->date_day);
}

void
sp_check_form_compute (SpCheckForm *form)
{
  SpAnalyzer *analyzer = sp_check_form_analyzer (form);
  if (!analyzer)
    return;
  SpCheck *check = sp_check_new ();
  check->analyzer = g_strdup (analyzer->name);
  check->leftover = g_strdup (form->leftover);
  form->wrong = FALSE;
  sp_check_form_read (form, check);
  work_out (form, check, analyzer);
  sp_check_form_show_rows (form);
  sp_check_form_show_result (form);
  say_trouble (form, NULL);
  gboolean whole = !form->wrong && form->result->n > 0 && form->result->missing->len == 0;
  gtk_widget_action_set_enabled (GTK_WIDGET (form), "check.take", whole && form->touched);
  gtk_widget_action_set_enabled (GTK_WIDGET (form), "check.save", whole);
  gtk_widget_action_set_enabled (GTK_WIDGET (form), "check.anew", form->touched || form->last);
  say_note (form);
  sp_check_form_ask_effect (form);
}

void
sp_check_form_typed (gpointer owner)
{
  SpCheckForm *form = owner;
  if (form->table.filling)
    return;
  form->touched = TRUE;
  form->changes++;
  sp_check_form_compute (form);
  sp_check_form_keep_draft (form);
}

/* ---- actions ---- */

static void
take (GtkWidget *widget, const char *action, GVariant *parameter)
{
  (void) action, (void) parameter;
  SpCheckForm *form = SP_CHECK_FORM (widget);
  SpDialog *dialog = SP_DIALOG (form);
  SpAnalyzer *analyzer = sp_check_form_analyzer (form);
  g_autoptr (GError) error = NULL;
  g_autoptr (SpAnalyzer) edited = analyzer ? sp_check_take_over (form->check, form->result, analyzer, &error) : NULL;
  if (!edited) {
    say_trouble (form, error ? error->message : NULL);
    return;
  }
  g_autofree char *done = g_strdup_printf (_ ("The correction of %s is taken over."), analyzer->name);
  char *label = g_strdup_printf (_ ("Check %s against a known level"), analyzer->name);
  form->touched = !sp_dialog_edit (dialog, sp_bench_replace_analyzer (sp_session_bench (dialog->session), analyzer, edited), label);
  if (!form->touched) {
    sp_check_form_keep_taken (form);
    g_signal_emit_by_name (dialog->session, "done", done);
  }
  gtk_window_close (GTK_WINDOW (form));
}

static gpointer
read_check (const char *path, gpointer asked, GError **error)
{
  (void) asked;
  return sp_check_read (path, error);
}

/* Shows a file whole or not at all. Returns what there is to say of it, or NULL. (transfer full) */
static char *
show_file (SpCheckForm *form, const SpCheck *check)
{
  if (check->at->len > SP_FORM_ROWS)
    return g_strdup_printf (_ ("%s has %u places, more than the %d that are typed here."), check->file, check->at->len, SP_FORM_ROWS);
  sp_check_form_show (form, check, TRUE);
  sp_check_form_keep_draft (form);
  return NULL;
}

static void
on_check (gpointer window, gpointer changes, gpointer value, GError *why)
{
  SpCheckForm *form = SP_CHECK_FORM (window);
  g_autoptr (SpCheck) check = value;
  g_autoptr (GError) error = why;
  gboolean typed = form->changes != GPOINTER_TO_UINT (changes);
  g_autofree char *says = !check  ? g_strdup (error->message)
                          : typed ? g_strdup (_ ("Something was typed while the file was read: open it once more to have it in its place."))
                                  : show_file (form, check);
  gtk_widget_action_set_enabled (window, "check.open", TRUE);
  if (says)
    say_trouble (form, says);
}

static void
open_file (GtkWidget *window, GFile *file)
{
  static const SpFileReading reading = { read_check, (GDestroyNotify) sp_check_unref, on_check, NULL };
  gtk_widget_action_set_enabled (window, "check.open", FALSE);
  sp_reading_begin (window, file, &reading, GUINT_TO_POINTER (SP_CHECK_FORM (window)->changes));
}

static void
ask_open (GtkWidget *widget, const char *action, GVariant *parameter)
{
  (void) action, (void) parameter;
  sp_ask_file (widget, _ ("A check of an analyzer"), "*.run", open_file);
}

static void
save_file (GtkWidget *window, GFile *file)
{
  SpCheckForm *form = SP_CHECK_FORM (window);
  g_autoptr (GError) error = NULL;
  g_autofree char *text = sp_check_text (form->check), *path = sp_ask_file_path (file);
  if (!sp_file_write (path, text, strlen (text), &error))
    say_trouble (form, error->message);
}

static void
ask_save (GtkWidget *widget, const char *action, GVariant *parameter)
{
  (void) action, (void) parameter;
  g_autofree char *escaped = sp_escape (SP_CHECK_FORM (widget)->check->analyzer), *name = g_strconcat (escaped, "-check.run", NULL);
  sp_ask_save (widget, _ ("Save the check"), "*.run", name, ".run", save_file);
}

static void
start_anew (GtkWidget *widget, const char *action, GVariant *parameter)
{
  (void) action, (void) parameter;
  sp_check_form_show_empty (SP_CHECK_FORM (widget));
  sp_check_form_keep_draft (SP_CHECK_FORM (widget));
}

/* ---- the window ---- */

/* Keeps the draft however the window goes, even with the program's last one. */
static void
sp_check_form_unmap (GtkWidget *widget)
{
  SpCheckForm *form = SP_CHECK_FORM (widget);
  GTK_WIDGET_CLASS (sp_check_form_parent_class)->unmap (widget);
  sp_check_form_keep_draft (form);
  sp_drafts_write_now (sp_session_drafts (SP_DIALOG (form)->session));
  form->table.filling = TRUE;
  g_clear_handle_id (&form->effect_source, g_source_remove);
}

/* The bench was undone or redone behind the form. */
static void
follow (SpDialog *dialog)
{
  sp_check_form_compute (SP_CHECK_FORM (dialog));
}

static void
sp_check_form_finalize (GObject *object)
{
  SpCheckForm *form = SP_CHECK_FORM (object);
  g_clear_pointer (&form->check, sp_check_unref);
  g_clear_pointer (&form->result, sp_check_result_free);
  g_clear_pointer (&form->analyzer, sp_analyzer_unref);
  g_ptr_array_unref (form->table.rows);
  g_free (form->leftover);
  G_OBJECT_CLASS (sp_check_form_parent_class)->finalize (object);
}

static void
sp_check_form_class_init (SpCheckFormClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  G_OBJECT_CLASS (klass)->finalize = sp_check_form_finalize;
  widget->unmap = sp_check_form_unmap;
  SP_DIALOG_CLASS (klass)->follow = follow;
  gtk_widget_class_install_action (widget, "check.take", NULL, take);
  gtk_widget_class_install_action (widget, "check.open", NULL, ask_open);
  gtk_widget_class_install_action (widget, "check.save", NULL, ask_save);
  gtk_widget_class_install_action (widget, "check.anew", NULL, start_anew);
  gtk_widget_class_set_template_from_resource (widget, "/spurproof/pages/check-form.ui");
#define PART(name) gtk_widget_class_bind_template_child (widget, SpCheckForm, name)
  PART (heading), PART (keys), PART (cautions), PART (readings), PART (note), PART (sum), PART (budget), PART (reasons), PART (trouble);
  PART (curve_holder), PART (left), PART (effect), PART (sides), PART (curve_side), PART (result_box);
#undef PART
}

static void
sp_check_form_init (SpCheckForm *form)
{
  SP_DIALOG (form)->keeps_typing = TRUE; /* as a draft */
  form->table.filling = TRUE;
  form->table.rows = g_ptr_array_new_with_free_func (g_free);
  sp_dialog_init_template (SP_DIALOG (form));
  gtk_label_set_text (GTK_LABEL (form->cautions), sp_words_check_cautions ());
  sp_check_form_set_up (form);
  sp_check_form_set_up_result (form);
}

/* Where there is no room beside the table the curve stands with the result below it. */
static void
put_curve_below (SpCheckForm *form)
{
  g_object_ref (form->curve_side);
  gtk_box_remove (GTK_BOX (form->sides), form->curve_side);
  gtk_box_insert_child_after (GTK_BOX (form->result_box), form->curve_side, form->sum);
  gtk_drawing_area_set_content_height (GTK_DRAWING_AREA (form->curve), sp_theme_text_px (CURVE_BELOW));
  g_object_unref (form->curve_side);
}

void
sp_check_form_present (GtkWindow *parent, SpSession *session)
{
  SpCheckForm *form = sp_dialog_new (SP_TYPE_CHECK_FORM, parent, session);
  SpDialog *dialog = SP_DIALOG (form);
  dialog->condition = sp_session_bench (session)->n_conditions ? (int) sp_session_condition (session) : -1;
  const SpAnalyzer *analyzer = sp_check_form_analyzer (form);
  if (!analyzer) {
    gtk_window_destroy (GTK_WINDOW (form));
    return;
  }
  g_autofree char *title = g_strdup_printf (_ ("Check %s"), analyzer->name);
  GtkWidget *whole = GTK_WIDGET (gtk_window_get_transient_for (GTK_WINDOW (form)));
  int width = CLAMP (gtk_widget_get_width (whole) - 24, 960, sp_theme_text_px (1390)),
      height = CLAMP (gtk_widget_get_height (whole) - 24, 560, sp_theme_text_px (860));
  if (width < sp_theme_text_px (SIDE_BY_SIDE))
    put_curve_below (form);
  gtk_window_set_title (GTK_WINDOW (form), title);
  gtk_window_set_default_size (GTK_WINDOW (form), width, height);
  gtk_label_set_text (GTK_LABEL (form->heading), title);
  g_autofree char *unreadable = sp_check_form_restore (form) ? NULL : sp_check_form_show_last (form);
  if (unreadable)
    say_trouble (form, unreadable);
  gtk_window_present (GTK_WINDOW (form));
}
