/* import-details.c - one sweep: where it goes, what was understood of it, the first lines of its file */
#include "ui/window/import/import-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/quantity/text.h"
#include "core/quantity/typed.h"
#include "ui/figure/preview.h"
#include "ui/window/widgets/drawing-area.h"
#include "ui/window/widgets/entry.h"
#include "ui/words/words.h"

static void
show_label (GtkWidget *label, const char *text)
{
  gtk_label_set_text (GTK_LABEL (label), text ? text : "");
  gtk_widget_set_visible (label, text && *text);
}

/* ---- what was understood ---- */

static void
add (GString *text, char *line)
{
  g_autofree char *owned = line;
  g_string_append_printf (text, "%s%s", text->len ? "\n" : "", owned);
}

static char *
understood (const SpArrivalItem *item)
{
  GString *text = g_string_new (NULL);
  const SpTrace *trace = item->trace;
  const SpUnderstood *look = item->look;
  if (trace) {
    g_autofree char *first = sp_words_frequency (trace->frequency_hz[0], 1e3, SP_HAND_SCREEN);
    g_autofree char *last = sp_words_frequency (trace->frequency_hz[trace->n - 1], 1e3, SP_HAND_SCREEN);
    g_autofree char *unit = sp_words_unit (trace->unit_read, trace->unit_scale);
    add (text, g_strdup_printf (_ ("%" G_GUINT64_FORMAT " points, %s to %s"), trace->n, first, last));
    if (look && look->frequency)
      add (text, g_strdup_printf (_ ("frequency from column %s; level from column %s, read in %s"), look->frequency, trace->column, unit));
    else
      add (text, g_strdup_printf (_ ("level from column %s, read in %s; frequencies from start and stop"), trace->column, unit));
    if (trace->skipped_lines)
      add (text, g_strdup_printf (_ ("%" G_GUINT64_FORMAT " lines left out"), trace->skipped_lines));
  }
  if (look && g_strcmp0 (look->delimiter, "none") == 0)
    add (text, g_strdup_printf (_ ("text in %s, one value a line, decimal mark %s"), look->encoding, look->mark));
  else if (look && look->delimiter)
    add (text, g_strdup_printf (_ ("text in %s, divided by %s, decimal mark %s"), look->encoding, look->delimiter, look->mark));
  return g_string_free (text, FALSE);
}

static void
draw_preview (SpPen *pen, const SpRect *rect, gpointer owner)
{
  const SpArrivalItem *item = sp_import_window_chosen (owner);
  if (item && item->trace)
    sp_preview_draw (pen, item->trace, rect);
}

static void
show_preview (SpImportWindow *self, const SpArrivalItem *item)
{
  const char *says = item->shows; /* worked out aside, with the reading: a long sweep takes longer than a frame */
  gtk_widget_set_visible (self->preview, says != NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->preview), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("the sweep as it was read"),
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, says ? says : "", -1);
  gtk_widget_queue_draw (self->preview);
}

static char *
sentences (const SpArrivalItem *item)
{
  GString *text = g_string_new (NULL);
  if (item->known)
    add (text, g_strdup_printf ("%s.", item->known));
  for (guint i = 0; item->trace && i < item->trace->warnings->len; i++)
    add (text, sp_words_reason (item->trace->warnings->pdata[i], SP_HAND_SCREEN));
  return g_string_free (text, FALSE);
}

/* ---- the file's first lines ---- */

static const struct {
  const char *mark, *before, *behind;
} line_marks[] = {
  [SP_LINE_NOT_READ] = { " ", "<span alpha=\"60%\">", "</span>" },
  [SP_LINE_SETTING] = { "\302\267", "", "" },
  [SP_LINE_HEADER] = { "\342\226\253", "<b>", "</b>" },
  [SP_LINE_DATA] = { "\342\226\252", "", "" },
  [SP_LINE_SKIPPED] = { "\303\227", "<s>", "</s>" },
};

static char *
first_lines (const SpUnderstood *look)
{
  GString *text = g_string_new (NULL);
  for (guint i = 0; look && i < look->n; i++) {
    const SpUnderstoodLine *line = &look->lines[i];
    g_autofree char *escaped = g_markup_escape_text (line->text, -1);
    if (i > 0 && line->number != look->lines[i - 1].number + 1)
      g_string_append (text, "\n   \342\200\246");
    g_string_append_printf (text, "%s%4" G_GUINT64_FORMAT " %s %s%s%s", i ? "\n" : "", line->number, line_marks[line->role].mark,
                            line_marks[line->role].before, escaped, line_marks[line->role].behind);
  }
  return g_string_free (text, FALSE);
}

/* ---- where it goes ---- */

static SpProposal *
new_target (const char *radio, const char *condition)
{
  SpProposal *target = g_new0 (SpProposal, 1);
  target->radio = g_strdup (radio);
  target->condition = g_strdup (condition);
  return target;
}

static void
free_target (gpointer data)
{
  sp_proposal_clear (data);
  g_free (data);
}

static gboolean
is_target (const SpProposal *target, const SpProposal *to)
{
  return g_str_equal (target->radio, to->radio) && g_str_equal (target->condition, to->condition);
}

static guint
place_of (GPtrArray *targets, const SpProposal *to)
{
  for (guint i = 0; i < targets->len; i++)
    if (is_target (targets->pdata[i], to))
      return i;
  return GTK_INVALID_LIST_POSITION;
}

/* The bench's targets, then the new ones of this import. */
static GPtrArray *
list_targets (SpImportWindow *self, guint *n_bench)
{
  const SpBench *bench = sp_session_bench (self->session);
  GPtrArray *targets = g_ptr_array_new_with_free_func (free_target);
  g_autoptr (GHashTable) there = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  for (guint i = 0; i < bench->n_conditions; i++) {
    const SpCondition *condition = &bench->conditions[i];
    g_ptr_array_add (targets, new_target (bench->radios[condition->radio].name, condition->name));
    g_hash_table_add (there, g_strdup_printf ("%s\n%s", bench->radios[condition->radio].name, condition->name));
  }
  *n_bench = targets->len;
  for (guint i = 0; i < sp_import_window_count (self); i++) {
    const SpArrivalItem *item = sp_import_window_item (self, i);
    if (item->trace && *item->to.radio && g_hash_table_add (there, g_strdup_printf ("%s\n%s", item->to.radio, item->to.condition)))
      g_ptr_array_add (targets, new_target (item->to.radio, item->to.condition));
  }
  return targets;
}

static gboolean
same_targets (GPtrArray *a, GPtrArray *b)
{
  if (!a || a->len != b->len)
    return FALSE;
  for (guint i = 0; i < a->len; i++)
    if (!is_target (a->pdata[i], b->pdata[i]))
      return FALSE;
  return TRUE;
}

/* What is being typed stays, but not for another sweep. */
static void
fill_entry (SpImportWindow *self, const SpArrivalItem *item, GtkWidget *entry, const char *text)
{
  if (item != self->shown || !gtk_widget_has_focus (GTK_WIDGET (gtk_editable_get_delegate (GTK_EDITABLE (entry)))))
    sp_entry_fill (entry, text);
}

static void
fill_target (SpImportWindow *self, const SpArrivalItem *item)
{
  guint n_bench;
  g_autoptr (GPtrArray) targets = list_targets (self, &n_bench);
  guint place = place_of (targets, &item->to), for_all = targets->len;
  if (!*item->to.radio && item->to.purpose == SP_PURPOSE_UNKEYED)
    place = for_all;
  g_ptr_array_add (targets, new_target ("", ""));
  g_ptr_array_add (targets, new_target ("", ""));
  if (!same_targets (self->targets, targets)) {
    g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);
    for (guint i = 0; i < for_all; i++) {
      g_autofree char *name = sp_import_target_name (targets->pdata[i]);
      g_autofree char *new_name = i < n_bench ? NULL : g_strdup_printf (_ ("%s (new)"), name);
      gtk_string_list_append (names, new_name ? new_name : name);
    }
    gtk_string_list_append (names, _ ("all radios, not keyed"));
    gtk_string_list_append (names, _ ("another name\342\200\246"));
    gtk_drop_down_set_model (GTK_DROP_DOWN (self->target), G_LIST_MODEL (names));
    g_clear_pointer (&self->targets, g_ptr_array_unref);
    self->targets = g_ptr_array_ref (targets);
  }
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->target), place == GTK_INVALID_LIST_POSITION ? for_all + 1 : place);
  gtk_widget_set_visible (self->new_name, place >= n_bench && place != for_all);
  fill_entry (self, item, self->radio, item->to.radio);
  fill_entry (self, item, self->condition_name, item->to.condition);
}

static void
aim (SpImportWindow *self, const char *radio, const char *condition)
{
  SpArrivalItem *item = sp_import_window_chosen (self);
  g_autofree char *new_radio = g_strstrip (g_strdup (radio)), *new_condition = g_strstrip (g_strdup (condition));
  if (!item || (g_str_equal (new_radio, item->to.radio) && g_str_equal (new_condition, item->to.condition)))
    return;
  sp_proposal_aim (&item->to, new_radio, new_condition);
  item->target_said = TRUE;
  sp_import_window_settle (self); /* not at once: the drop-down gets another list, and a step is one only beside its keyed sweep */
}

static void
on_target (SpImportWindow *self)
{
  guint place = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->target));
  SpArrivalItem *item = sp_import_window_chosen (self);
  if (self->filling || !item || !self->targets || place >= self->targets->len)
    return;
  gboolean for_all = place == self->targets->len - 2, another = place == self->targets->len - 1;
  if (another) {
    gtk_widget_set_visible (self->new_name, TRUE);
    gtk_widget_grab_focus (self->radio);
    return;
  }
  if (for_all) {
    item->to.purpose = SP_PURPOSE_UNKEYED;
    item->purpose_said = TRUE;
  }
  const SpProposal *target = self->targets->pdata[place];
  g_autofree char *radio = g_strdup (target->radio), *condition = g_strdup (target->condition);
  aim (self, radio, condition);
}

static void
on_name (SpImportWindow *self)
{
  if (!self->filling && gtk_widget_get_visible (self->new_name))
    aim (self, gtk_editable_get_text (GTK_EDITABLE (self->radio)), gtk_editable_get_text (GTK_EDITABLE (self->condition_name)));
}

/* ---- what for ---- */

static void
fill_purpose (SpImportWindow *self, const SpArrivalItem *item)
{
  char number[32] = "";
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->purpose), item->to.purpose);
  gtk_widget_set_visible (self->step_box, item->to.purpose == SP_PURPOSE_STEP);
  gtk_widget_set_visible (self->retake, *item->to.radio && item->to.purpose != SP_PURPOSE_SUPERSEDED);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (self->retake), item->to.retake);
  if (!isnan (item->to.step_db))
    sp_format_exact (item->to.step_db, number);
  g_autofree char *shown = sp_typed_shown (number, sp_words_decimal_mark ());
  fill_entry (self, item, self->step, shown);
  if (*number)
    gtk_widget_remove_css_class (self->step, "error");
}

static void
on_purpose (SpImportWindow *self)
{
  SpArrivalItem *item = sp_import_window_chosen (self);
  guint purpose = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->purpose));
  if (self->filling || !item || purpose > SP_PURPOSE_SUPERSEDED)
    return;
  item->to.purpose = (SpPurpose) purpose;
  item->purpose_said = TRUE;
  item->to.step_db = NAN;
  sp_arrival_item_changed (item);
  sp_import_window_settle (self);
}

static void
on_retake (SpImportWindow *self)
{
  SpArrivalItem *item = sp_import_window_chosen (self);
  if (self->filling || !item)
    return;
  item->to.retake = gtk_check_button_get_active (GTK_CHECK_BUTTON (self->retake));
  item->purpose_said = TRUE;
  sp_arrival_item_changed (item);
}

static void
on_step (SpImportWindow *self)
{
  SpArrivalItem *item = sp_import_window_chosen (self);
  g_autofree char *text = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->step))));
  double step_db = NAN;
  if (self->filling || !item || item->to.purpose != SP_PURPOSE_STEP)
    return;
  gboolean good = sp_typed_read (text, "dB", sp_words_decimal_mark (), &step_db, NULL);
  if (good || !*text)
    gtk_widget_remove_css_class (self->step, "error");
  else
    gtk_widget_add_css_class (self->step, "error");
  item->to.step_db = good ? step_db : NAN;
  item->purpose_said = TRUE;
  sp_arrival_item_changed (item);
}

/* ---- the whole ---- */

void
sp_import_details_fill (SpImportWindow *self)
{
  SpArrivalItem *item = sp_import_window_chosen (self);
  gtk_widget_set_visible (self->details, item != NULL);
  gtk_widget_set_visible (self->placeholder, item == NULL);
  if (!item)
    return;
  g_autofree char *title = sp_arrival_item_title (item), *known = understood (item);
  g_autofree char *said = sentences (item), *lines = first_lines (item->look);
  self->filling = TRUE;
  show_label (self->title, title);
  show_label (self->error, item->error);
  show_label (self->understood, known);
  show_preview (self, item);
  show_label (self->said, said);
  gtk_label_set_markup (GTK_LABEL (self->lines), lines);
  gtk_widget_set_visible (self->lines, *lines != '\0');
  gtk_widget_set_visible (self->lines_legend, *lines != '\0');
  fill_target (self, item);
  fill_purpose (self, item);
  sp_import_names_fill (self, item);
  sp_import_through_fill (self, item);
  gtk_widget_set_visible (self->goes_to, item->trace != NULL);
  gtk_widget_set_visible (self->new_name, item->trace && gtk_widget_get_visible (self->new_name));
  sp_import_settings_fill (self);
  self->shown = item;
  self->filling = FALSE;
}

static void
commit_on_leave (SpImportWindow *self, GtkWidget *entry, GCallback commit)
{
  GtkEventController *focus = gtk_event_controller_focus_new ();
  g_signal_connect_swapped (focus, "leave", commit, self);
  gtk_widget_add_controller (entry, focus);
  g_signal_connect_swapped (entry, "activate", commit, self);
}

void
sp_import_details_set_up (SpImportWindow *self)
{
  g_autoptr (GtkStringList) purposes = gtk_string_list_new (NULL);
  for (int purpose = SP_PURPOSE_KEYED; purpose <= SP_PURPOSE_SUPERSEDED; purpose++)
    gtk_string_list_append (purposes, sp_words_purpose ((SpPurpose) purpose));
  self->filling = TRUE;
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->purpose), G_LIST_MODEL (purposes));
  self->filling = FALSE;
  sp_paper_set (self->preview, draw_preview, self);
  sp_drop_down_speak (self->target, _ ("radio and condition"));
  sp_drop_down_speak (self->purpose, _ ("purpose of the sweep"));
  g_signal_connect_swapped (self->target, "notify::selected", G_CALLBACK (on_target), self);
  g_signal_connect_swapped (self->purpose, "notify::selected", G_CALLBACK (on_purpose), self);
  g_signal_connect_swapped (self->retake, "toggled", G_CALLBACK (on_retake), self);
  commit_on_leave (self, self->radio, G_CALLBACK (on_name));
  commit_on_leave (self, self->condition_name, G_CALLBACK (on_name));
  g_signal_connect_swapped (self->step, "changed", G_CALLBACK (on_step), self);
  sp_import_through_set_up (self);
}
