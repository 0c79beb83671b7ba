/* window-actions.c - what can be done in the window, and its keys */
#include "ui/window/shell/window-private.h"

#include <glib/gi18n-lib.h>

#include "core/bench/edit/edit.h"
#include "ui/window/chart/chart.h"
#include "ui/window/chart/evidence.h"
#include "ui/window/chart/marks.h"
#include "ui/window/dialogs/analyzer-dialog.h"
#include "ui/window/dialogs/bench-dialog.h"
#include "ui/window/dialogs/budget.h"
#include "ui/window/dialogs/condition-dialog.h"
#include "ui/window/dialogs/condition-table.h"
#include "ui/window/dialogs/paper-words.h"
#include "ui/window/dialogs/whatif.h"
#include "ui/window/import/import.h"
#include "ui/window/import/list-dialog.h"
#include "ui/window/pages/paper-page.h"
#include "ui/window/pages/radio-move.h"
#include "ui/window/pages/radios.h"
#include "ui/window/pages/spectrum-page.h"
#include "ui/window/run/check-form.h"
#include "ui/window/session/preferences.h"
#include "ui/window/shell/kept-dialog.h"
#include "ui/window/widgets/ask-file.h"
#include "ui/window/widgets/items.h"

/* ---- the chosen condition ---- */

static gboolean
chosen (SpWindow *self, guint *condition)
{
  *condition = sp_session_condition (self->session);
  return *condition < sp_session_bench (self->session)->n_conditions;
}

static char *
name_chosen (SpWindow *self)
{
  const SpBench *bench = sp_session_bench (self->session);
  return sp_condition_name (bench, &bench->conditions[sp_session_condition (self->session)]);
}

/* "Remove Mirrick" as one undoable edit. */
static void
edit (SpWindow *self, SpBench *bench, const char *format, GError *error)
{
  g_autofree char *name = name_chosen (self);
  g_autoptr (GString) label = g_string_new (format);
  g_string_replace (label, "%s", name, 1);
  sp_session_edit (self->session, bench, label->str, error);
}

static void
undo (GtkWidget *widget, const char *action, GVariant *parameter)
{
  (void) action, (void) parameter;
  sp_session_undo (SP_WINDOW (widget)->session);
}

static void
redo (GtkWidget *widget, const char *action, GVariant *parameter)
{
  (void) action, (void) parameter;
  sp_session_redo (SP_WINDOW (widget)->session);
}

static void
duplicate (GtkWidget *widget, const char *action, GVariant *parameter)
{
  (void) action, (void) parameter;
  SpWindow *self = SP_WINDOW (widget);
  guint i;
  if (!chosen (self, &i))
    return;
  const SpBench *bench = sp_session_bench (self->session);
  GError *error = NULL;
  SpBench *new = NULL;
  for (int n = 2; n < 100 && !new; n++) { /* the first name that is free */
    g_autofree char *name = g_strdup_printf ("%s %d", *bench->conditions[i].name ? bench->conditions[i].name : _ ("copy"), n);
    g_clear_error (&error);
    new = sp_bench_duplicate_condition (bench, i, name, &error);
  }
  gboolean done = new != NULL;
  edit (self, new, _ ("Duplicate %s"), error);
  if (done)
    sp_session_choose (self->session, i + 1, SP_DECIDING_EMISSION);
}

static void
move_up (GtkWidget *widget, const char *action, GVariant *parameter)
{
  (void) action, (void) parameter;
  sp_radio_move_chosen (SP_WINDOW (widget)->session, -1);
}

static void
move_down (GtkWidget *widget, const char *action, GVariant *parameter)
{
  (void) action, (void) parameter;
  sp_radio_move_chosen (SP_WINDOW (widget)->session, 1);
}

static void
remove_chosen (GtkWidget *widget, const char *action, GVariant *parameter)
{
  (void) action, (void) parameter;
  SpWindow *self = SP_WINDOW (widget);
  guint i;
  GError *error = NULL;
  if (!chosen (self, &i))
    return;
  SpBench *new = sp_bench_remove_condition (sp_session_bench (self->session), i, &error);
  g_autofree char *name = name_chosen (self), *done = g_strdup_printf (_ ("%s removed."), name);
  gboolean gone = new != NULL;
  edit (self, new, _ ("Remove %s"), error);
  if (gone)
    sp_session_done (self->session, done);
}

static void
add_radio (GtkWidget *widget, const char *action, GVariant *parameter)
{
  (void) action, (void) parameter;
  SpWindow *self = SP_WINDOW (widget);
  const SpBench *bench = sp_session_bench (self->session);
  guint n = bench->n_conditions, before = sp_session_condition (self->session);
  GError *error = NULL;
  SpBench *new = NULL;
  for (guint i = bench->n_radios + 1; i < bench->n_radios + 100 && !new; i++) {
    g_autofree char *name = g_strdup_printf (_ ("Radio %u"), i);
    g_clear_error (&error);
    new = sp_bench_add_radio_named (bench, name, &error);
  }
  if (!sp_session_edit (self->session, new, _ ("Add a radio"), error))
    return;
  sp_session_choose (self->session, n, SP_DECIDING_EMISSION);
  sp_condition_dialog_present_added (GTK_WINDOW (self), self->session, n, before);
}

static void
take_list (GtkWidget *widget, const char *action, GVariant *parameter)
{
  (void) action, (void) parameter;
  sp_list_dialog_present (GTK_WINDOW (widget), SP_WINDOW (widget)->session);
}

static void
show_table (GtkWidget *widget, const char *action, GVariant *parameter)
{
  (void) action, (void) parameter;
  sp_condition_table_present (GTK_WINDOW (widget), SP_WINDOW (widget)->session);
}

static void
edit_condition (GtkWidget *widget, const char *action, GVariant *parameter)
{
  (void) action, (void) parameter;
  guint i;
  if (chosen (SP_WINDOW (widget), &i))
    sp_condition_dialog_present (GTK_WINDOW (widget), SP_WINDOW (widget)->session, i);
}

static void
edit_bench (GtkWidget *widget, const char *action, GVariant *parameter)
{
  (void) action, (void) parameter;
  sp_bench_dialog_present (GTK_WINDOW (widget), SP_WINDOW (widget)->session);
}

static void
edit_words (GtkWidget *widget, const char *action, GVariant *parameter)
{
  (void) action, (void) parameter;
  sp_paper_words_present (GTK_WINDOW (widget), SP_WINDOW (widget)->session);
}

static void
edit_analyzer (GtkWidget *widget, const char *action, GVariant *parameter)
{
  (void) action, (void) parameter;
  sp_analyzer_dialog_present (GTK_WINDOW (widget), SP_WINDOW (widget)->session);
}

static void
check_analyzer (GtkWidget *widget, const char *action, GVariant *parameter)
{
  (void) action, (void) parameter;
  sp_check_form_present (GTK_WINDOW (widget), SP_WINDOW (widget)->session);
}

/* ---- files ---- */

static void
open_file (GtkWidget *window, GFile *file)
{
  sp_window_open (SP_WINDOW (window), file);
}

static void
open (GtkWidget *widget, const char *action, GVariant *parameter)
{
  (void) action, (void) parameter;
  sp_ask_file (widget, _ ("Open a bench book or a sheet"), "*.benchbook *.sheet *.chain *.analyzer *.mask *.report", open_file);
}

static void
open_path (GtkWidget *widget, const char *action, GVariant *path)
{
  g_autoptr (GFile) file = g_file_new_for_path (g_variant_get_string (path, NULL));
  (void) action;
  open_file (widget, file);
}

static void
save_to (GtkWidget *window, GFile *file)
{
  sp_window_save_as (SP_WINDOW (window), file);
}

static void
save_as (GtkWidget *widget, const char *action, GVariant *parameter)
{
  (void) action, (void) parameter;
  sp_window_ask_save (SP_WINDOW (widget), save_to);
}

static void
import_files (GtkWidget *window, GListModel *files)
{
  sp_import_begin (GTK_WINDOW (window), SP_WINDOW (window)->session, files, -1);
}

static void
import_here_files (GtkWidget *window, GListModel *files)
{
  guint i;
  sp_import_begin (GTK_WINDOW (window), SP_WINDOW (window)->session, files, chosen (SP_WINDOW (window), &i) ? (int) i : -1);
}

static void
import (GtkWidget *widget, const char *action, GVariant *parameter)
{
  (void) parameter;
  gboolean here = g_str_has_suffix (action, "-here") || sp_session_expects (SP_WINDOW (widget)->session).any;
  sp_ask_files (widget, _ ("Import exported sweeps"), "*", here ? import_here_files : import_files);
}

static void
spreadsheet (GtkWidget *widget, const char *action, GVariant *parameter)
{
  (void) parameter;
  sp_window_ask_spreadsheet (SP_WINDOW (widget), g_str_has_suffix (action, "-sweeps"));
}

static void
picture (GtkWidget *widget, const char *action, GVariant *parameter)
{
  (void) action, (void) parameter;
  sp_window_ask_picture (SP_WINDOW (widget));
}

static void
figures (GtkWidget *widget, const char *action, GVariant *parameter)
{
  (void) action, (void) parameter;
  sp_window_ask_figures (SP_WINDOW (widget));
}

/* ---- the rest ---- */

static void
close_bar (GtkWidget *widget, const char *action, GVariant *parameter)
{
  (void) parameter;
  SpWindow *self = SP_WINDOW (widget);
  gboolean hint = g_str_has_suffix (action, "hint"), kept = g_str_has_suffix (action, "kept");
  gtk_widget_set_visible (hint ? self->hint_bar : kept ? self->kept_bar : self->trouble_bar, FALSE);
  if (hint)
    sp_preferences_set ("hint", "read");
}

static void
show_kept (GtkWidget *widget, const char *action, GVariant *parameter)
{
  (void) action, (void) parameter;
  gtk_widget_set_visible (SP_WINDOW (widget)->kept_bar, FALSE);
  sp_kept_dialog_present (SP_WINDOW (widget));
}

/* To the page of radios, into its search. */
static void
find_radio (GtkWidget *widget, const char *action, GVariant *parameter)
{
  SpWindow *self = SP_WINDOW (widget);
  (void) action, (void) parameter;
  gtk_widget_activate_action (widget, "win.page", "s", "spectrum");
  sp_radios_find (SP_RADIOS (sp_spectrum_page_radios (self->spectrum)));
}

static void
show_evidence (GtkWidget *widget, const char *action, GVariant *parameter)
{
  SpWindow *self = SP_WINDOW (widget);
  GtkWidget *ledger = sp_spectrum_page_ledger (self->spectrum);
  (void) action, (void) parameter;
  sp_evidence_popup (gtk_widget_get_mapped (ledger) ? ledger : sp_window_page_on_show (self), self->session);
}

static void
show_marks (GtkWidget *widget, const char *action, GVariant *parameter)
{
  (void) action, (void) parameter;
  sp_marks_popup (sp_window_page_on_show (SP_WINDOW (widget)));
}

static void
show_budget (GtkWidget *widget, const char *action, GVariant *parameter)
{
  (void) action, (void) parameter;
  sp_budget_present (GTK_WINDOW (widget), SP_WINDOW (widget)->session);
}

static void
moves_file (GtkWidget *window, GFile *file)
{
  sp_moves_show (GTK_WINDOW (window), SP_WINDOW (window)->session, file);
}

static void
ask_moves (GtkWidget *widget, const char *action, GVariant *parameter)
{
  (void) action, (void) parameter;
  sp_ask_file (widget, _ ("What would move with another chain, or another book"), "*.chain *.benchbook *.sheet", moves_file);
}

static void
chart_action (GtkWidget *widget, const char *action, GVariant *parameter)
{
  (void) parameter;
  g_autofree char *name = g_strconcat ("chart.", strchr (action, '-') + 1, NULL);
  gtk_widget_activate_action (sp_spectrum_page_chart (SP_WINDOW (widget)->spectrum), name, NULL);
}

void
sp_window_update_actions (SpWindow *self)
{
  GtkWidget *widget = GTK_WIDGET (self);
  SpBook *book = sp_session_book (self->session);
  const SpBench *bench = sp_session_bench (self->session);
  guint i;
  gboolean some = chosen (self, &i), found = sp_session_findings (self->session) != NULL;
  static const char *const of_condition[] = { "win.edit-condition", "win.duplicate", "win.remove", "win.import-here" };
  for (guint j = 0; j < G_N_ELEMENTS (of_condition); j++)
    gtk_widget_action_set_enabled (widget, of_condition[j], some);
  gtk_widget_action_set_enabled (widget, "win.undo", sp_book_undo_label (book) != NULL);
  gtk_widget_action_set_enabled (widget, "win.redo", sp_book_redo_label (book) != NULL);
  gtk_widget_action_set_enabled (widget, "win.move-up", some && i > 0);
  gtk_widget_action_set_enabled (widget, "win.move-down", some && i + 1 < bench->n_conditions);
  static const char *const of_findings[] = { "win.spreadsheet", "win.spreadsheet-sweeps", "win.picture", "win.figures" };
  for (guint j = 0; j < G_N_ELEMENTS (of_findings); j++)
    gtk_widget_action_set_enabled (widget, of_findings[j], found && bench->n_conditions > 0);
  gtk_widget_action_set_enabled (widget, "win.moves", found);
}

/* GTK's own action of this name would have the window of keys made with every window. */
static void
show_keys (GtkWidget *widget, const char *action, GVariant *parameter)
{
  (void) action, (void) parameter;
  g_autoptr (GtkBuilder) builder = gtk_builder_new_from_resource ("/spurproof/window/shortcuts.ui");
  GtkWindow *keys = GTK_WINDOW (gtk_builder_get_object (builder, "help_overlay"));
  gtk_window_set_transient_for (keys, GTK_WINDOW (widget));
  gtk_window_set_destroy_with_parent (keys, TRUE);
  gtk_window_present (keys);
}

static void
add_pages (GtkWidgetClass *klass)
{
  static const char *const pages[] = { "spectrum", "chain", "range", "compare", "report" };
  gtk_widget_class_install_action (klass, "win.page", "s", sp_window_go_to_page);
  for (guint i = 0; i < G_N_ELEMENTS (pages); i++)
    gtk_widget_class_add_binding_action (klass, GDK_KEY_1 + i, GDK_ALT_MASK, "win.page", "s", pages[i]);
}

static const struct {
  const char *name;
  GtkWidgetActionActivateFunc run;
  guint key;
  GdkModifierType modifiers;
} actions[] = {
  { "win.open", open, GDK_KEY_o, GDK_CONTROL_MASK },
  { "win.save-as", save_as, GDK_KEY_s, GDK_CONTROL_MASK },
  { "win.kept", show_kept, GDK_KEY_o, GDK_CONTROL_MASK | GDK_SHIFT_MASK },
  { "win.import", import, GDK_KEY_i, GDK_CONTROL_MASK },
  { "win.import-here", import, GDK_KEY_i, GDK_CONTROL_MASK | GDK_ALT_MASK }, /* with Shift it is the toolkit's inspector */
  { "win.watch", sp_window_watch, GDK_KEY_w, GDK_CONTROL_MASK | GDK_SHIFT_MASK },
  { "win.watch-again", sp_window_watch_again, GDK_KEY_r, GDK_CONTROL_MASK | GDK_SHIFT_MASK },
  { "win.watch-look", sp_window_watch_look, GDK_KEY_t, GDK_CONTROL_MASK | GDK_SHIFT_MASK },
  { "win.spreadsheet", spreadsheet, GDK_KEY_e, GDK_CONTROL_MASK },
  { "win.spreadsheet-sweeps", spreadsheet, GDK_KEY_e, GDK_CONTROL_MASK | GDK_ALT_MASK },
  { "win.picture", picture, GDK_KEY_e, GDK_CONTROL_MASK | GDK_SHIFT_MASK },
  { "win.figures", figures, GDK_KEY_g, GDK_CONTROL_MASK },
  { "win.paper", sp_window_show_paper, GDK_KEY_p, GDK_CONTROL_MASK },
  { "win.paper-words", edit_words, GDK_KEY_p, GDK_CONTROL_MASK | GDK_ALT_MASK },
  { "win.stop-report", sp_window_stop_report, GDK_KEY_period, GDK_CONTROL_MASK },
  { "win.find", find_radio, GDK_KEY_f, GDK_CONTROL_MASK },
  { "win.add-radio", add_radio, GDK_KEY_n, GDK_CONTROL_MASK | GDK_SHIFT_MASK },
  { "win.list", take_list, GDK_KEY_t, GDK_CONTROL_MASK },
  { "win.table", show_table, GDK_KEY_c, GDK_CONTROL_MASK | GDK_SHIFT_MASK },
  { "win.edit-condition", edit_condition, GDK_KEY_F2, 0 },
  { "win.duplicate", duplicate, GDK_KEY_d, GDK_CONTROL_MASK },
  { "win.move-up", move_up, GDK_KEY_Up, GDK_ALT_MASK },
  { "win.move-down", move_down, GDK_KEY_Down, GDK_ALT_MASK },
  { "win.remove", remove_chosen, GDK_KEY_Delete, GDK_CONTROL_MASK },
  { "win.edit-bench", edit_bench, GDK_KEY_b, GDK_CONTROL_MASK },
  { "win.edit-analyzer", edit_analyzer, GDK_KEY_b, GDK_CONTROL_MASK | GDK_SHIFT_MASK },
  { "win.check-analyzer", check_analyzer, GDK_KEY_k, GDK_CONTROL_MASK },
  { "win.close-trouble", close_bar, GDK_KEY_Escape, GDK_SHIFT_MASK },
  { "win.close-hint", close_bar, GDK_KEY_Escape, GDK_SHIFT_MASK | GDK_CONTROL_MASK },
  { "win.close-kept", close_bar, GDK_KEY_Escape, GDK_SHIFT_MASK | GDK_ALT_MASK },
  { "win.card", sp_window_card, GDK_KEY_F11, 0 },
  { "win.help", sp_window_help, GDK_KEY_F1, 0 },
  { "win.cautions", sp_window_cautions, GDK_KEY_F1, GDK_CONTROL_MASK },
  { "win.about", sp_window_about, GDK_KEY_F1, GDK_SHIFT_MASK },
  { "win.next-step", sp_window_next_step, GDK_KEY_Return, GDK_SHIFT_MASK },
  { "win.why", sp_window_why, GDK_KEY_w, 0 },
  { "win.evidence", show_evidence, GDK_KEY_F4, 0 },
  { "win.marks", show_marks, GDK_KEY_F12, 0 },
  { "win.budget", show_budget, GDK_KEY_F5, 0 },
  { "win.moves", ask_moves, GDK_KEY_m, GDK_CONTROL_MASK },
  { "win.chart-zoom-in", chart_action, GDK_KEY_plus, GDK_CONTROL_MASK },
  { "win.chart-zoom-out", chart_action, GDK_KEY_minus, GDK_CONTROL_MASK },
  { "win.chart-fit", chart_action, GDK_KEY_0, GDK_CONTROL_MASK },
  { "win.chart-back", chart_action, GDK_KEY_Left, GDK_ALT_MASK },
  { "win.chart-forward", chart_action, GDK_KEY_Right, GDK_ALT_MASK },
};

void
sp_window_class_add_actions (GtkWidgetClass *klass)
{
  for (guint i = 0; i < G_N_ELEMENTS (actions); i++) {
    gtk_widget_class_install_action (klass, actions[i].name, NULL, actions[i].run);
    gtk_widget_class_add_binding_action (klass, actions[i].key, actions[i].modifiers, actions[i].name, NULL);
  }
  gtk_widget_class_add_binding_action (klass, GDK_KEY_l, GDK_CONTROL_MASK, "win.logarithmic", NULL); /* the session's properties */
  gtk_widget_class_add_binding_action (klass, GDK_KEY_l, GDK_CONTROL_MASK | GDK_SHIFT_MASK, "win.all-sweeps", NULL);
  gtk_widget_class_add_binding_action (klass, GDK_KEY_h, GDK_CONTROL_MASK, "win.by-harmonic", NULL);
  gtk_widget_class_add_binding_action (klass, GDK_KEY_r, GDK_CONTROL_MASK, "win.relative", NULL);
  gtk_widget_class_install_action (klass, "win.show-help-overlay", NULL, show_keys); /* its key: application.c */
  gtk_widget_class_install_action (klass, "win.undo", NULL, undo);                   /* their keys: entry.c */
  gtk_widget_class_install_action (klass, "win.redo", NULL, redo);
  gtk_widget_class_install_action (klass, "win.open-written", "s", sp_window_open_written);               /* of the toast */
  gtk_widget_class_install_action (klass, "win.write-paper", SP_PAPER_ASKED_TYPE, sp_window_write_paper); /* of paper-page.c */
  gtk_widget_class_install_action (klass, "win.edit-stage", "i", sp_window_edit_stage);                   /* its key: staircase.c */
  gtk_widget_class_install_action (klass, "win.step", "i", sp_window_step);                               /* a row of steps.c */
  gtk_widget_class_install_action (klass, "win.open-path", "s", open_path);                               /* of begin-page.c */
  gtk_widget_class_add_binding (klass, GDK_KEY_v, 0, sp_window_turn_compare, "s", "compare.charts");
  gtk_widget_class_add_binding (klass, GDK_KEY_v, GDK_SHIFT_MASK, sp_window_turn_compare, "s", "compare.pivot");
  add_pages (klass);
}
