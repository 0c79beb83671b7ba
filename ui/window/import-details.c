/* import-details.c - what was understood of one file, where it goes, and how to correct it */
#include "ui/window/import-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/quantity/text.h"
#include "core/trace/look.h"
#include "ui/words/words.h"

#define LINES_SHOWN 12
#define LINE_SHOWN_BYTES 160

static const SpPurpose purposes[] = { SP_PURPOSE_KEYED, SP_PURPOSE_UNKEYED, SP_PURPOSE_STEP, SP_PURPOSE_NOTCHED, SP_PURPOSE_SUPERSEDED };
static const char *const purpose_words[] = { N_("keyed"), N_("unkeyed"), N_("step: more attenuation"), N_("notched"), N_("superseded"), NULL };
static const char *const detector_words[] = { "", "peak", "sample", "rms", "average", "negative", "normal", "quasi-peak", NULL };

/* ---- what was understood ---- */

static void
add_line (GString *text, const char *what, const char *value)
{
  g_string_append_printf (text, "%s%s: %s", text->len ? "\n" : "", what, value && *value ? value : _("not said"));
}

static char *
frequency_or_nothing (double hz)
{
  return isnan (hz) ? NULL : sp_words_frequency (hz, 0, SP_HAND_SCREEN);
}

static char *
understood (const SpTrace *t)
{
  GString *text = g_string_new (NULL);
  const SpSettings *s = &t->settings;
  g_autofree char *first = sp_words_frequency (t->frequency_hz[0], 1e3, SP_HAND_SCREEN), *last = sp_words_frequency (t->frequency_hz[t->n - 1], 1e3, SP_HAND_SCREEN);
  g_autofree char *unit = sp_words_unit (t->unit_read, t->unit_scale), *rbw = frequency_or_nothing (s->rbw_hz), *vbw = frequency_or_nothing (s->vbw_hz);
  g_autofree char *points = g_strdup_printf (_("%" G_GUINT64_FORMAT " points, %s to %s"), t->n, first, last);
  g_autofree char *column = g_strdup_printf (_("%s, read as %s"), t->column ? t->column : "–", unit);
  g_autofree char *attenuation = isnan (s->attenuation_db) ? NULL : sp_words_number (s->attenuation_db, 1, SP_HAND_SCREEN);
  g_autofree char *reference = isnan (s->reference_dbm) ? NULL : sp_words_level (s->reference_dbm, 1, SP_HAND_SCREEN);
  add_line (text, _("Sweep"), points);
  add_line (text, _("Level"), column);
  add_line (text, _("RBW"), rbw);
  add_line (text, _("VBW"), vbw);
  add_line (text, _("Attenuation, dB"), attenuation);
  add_line (text, _("Detector"), sp_detector_name (s->detector));
  add_line (text, _("Average"), sp_average_name (s->average));
  add_line (text, _("Reference level"), reference);
  if (t->skipped_lines)
    g_string_append_printf (text, "\n%s: %" G_GUINT64_FORMAT, _("Lines skipped"), t->skipped_lines);
  return g_string_free (text, FALSE);
}

static char *
sentences (const SpArrivalItem *item)
{
  GString *text = g_string_new (item->known ? _("This book has these bytes already.") : NULL);
  for (guint i = 0; item->trace && i < item->trace->warnings->len; i++) {
    g_autofree char *sentence = sp_words_reason (g_ptr_array_index (item->trace->warnings, i), SP_HAND_SCREEN);
    g_string_append_printf (text, "%s%s", text->len ? "\n" : "", sentence);
  }
  return g_string_free (text, FALSE);
}

/* The first lines as they stand in the file. */
static char *
first_lines (GBytes *bytes)
{
  GString *text = g_string_new (NULL);
  gsize size, at = 0;
  const char *raw = bytes ? g_bytes_get_data (bytes, &size) : NULL;
  for (int line = 0; raw && line < LINES_SHOWN && at < size; line++) {
    gsize end = at;
    while (end < size && raw[end] != '\n' && raw[end] != '\r')
      end++;
    g_autofree char *valid = g_utf8_make_valid (raw + at, (gssize) MIN (end - at, LINE_SHOWN_BYTES));
    for (char *p = valid; *p; p++)
      if (g_ascii_iscntrl (*p) && *p != '\t')
        *p = ' ';
    g_string_append_printf (text, "%s%2d  %s", line ? "\n" : "", line + 1, valid);
    at = end + (end + 1 < size && raw[end] == '\r' && raw[end + 1] == '\n' ? 2 : 1);
  }
  return g_string_free (text, FALSE);
}

/* ---- settings that all files of one shape lack ---- */

static char *
sp_item_shape (SpArrivalItem *item)
{
  g_autoptr (SpTraceLook) look = sp_trace_look (item->bytes, NULL, item->trace);
  return g_strdup (look->shape);
}

static guint
of_this_shape (SpImportWindow *self, SpArrivalItem *chosen, GPtrArray *out)
{
  g_autofree char *shape = chosen && chosen->trace ? sp_item_shape (chosen) : NULL;
  for (guint i = 0; shape && i < g_list_model_get_n_items (G_LIST_MODEL (self->items)); i++) {
    g_autoptr (SpArrivalItem) item = g_list_model_get_item (G_LIST_MODEL (self->items), i);
    g_autofree char *other = item->trace ? sp_item_shape (item) : NULL;
    if (g_strcmp0 (shape, other) == 0)
      g_ptr_array_add (out, item);
  }
  return out->len;
}

static void
fill_missing (SpImportWindow *self, SpArrivalItem *item)
{
  const SpSettings *s = item && item->trace ? &item->trace->settings : NULL;
  gboolean rbw = s && isnan (s->rbw_hz), attenuation = s && isnan (s->attenuation_db), detector = s && s->detector == SP_DETECTOR_UNKNOWN;
  gtk_widget_set_visible (self->missing, rbw || attenuation || detector);
  if (!rbw && !attenuation && !detector)
    return;
  g_autoptr (GPtrArray) same = g_ptr_array_new ();
  guint n = of_this_shape (self, item, same);
  g_autofree char *text = g_strdup_printf (ngettext ("%u file does not say:", "%u files of this shape do not say:", n), n);
  gtk_label_set_text (GTK_LABEL (self->missing_text), text);
  gtk_widget_set_visible (self->missing_rbw, rbw);
  gtk_widget_set_visible (self->missing_attenuation, attenuation);
  gtk_widget_set_visible (self->missing_detector, detector);
}

static void
append_option (GString *options, const char *key, const char *value)
{
  if (value && *value)
    g_string_append_printf (options, "%s%s=%s", options->len ? "&" : "", key, value);
}

static void
set_missing (SpImportWindow *self)
{
  g_autoptr (GPtrArray) same = g_ptr_array_new ();
  of_this_shape (self, sp_import_window_chosen (self), same);
  guint detector = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->missing_detector));
  for (guint i = 0; i < same->len; i++) {
    SpArrivalItem *item = g_ptr_array_index (same, i);
    g_autoptr (GString) options = g_string_new (item->options);
    const SpSettings *s = &item->trace->settings;
    if (isnan (s->rbw_hz))
      append_option (options, "rbw", gtk_editable_get_text (GTK_EDITABLE (self->missing_rbw)));
    if (isnan (s->attenuation_db))
      append_option (options, "attenuation", gtk_editable_get_text (GTK_EDITABLE (self->missing_attenuation)));
    if (s->detector == SP_DETECTOR_UNKNOWN)
      append_option (options, "detector", detector_words[detector]);
    sp_arrival_item_reread (item, options->str);
  }
}

/* ---- the form ---- */

static void
set_text (GtkWidget *entry, const char *text)
{
  if (g_strcmp0 (gtk_editable_get_text (GTK_EDITABLE (entry)), text) != 0)
    gtk_editable_set_text (GTK_EDITABLE (entry), text ? text : "");
}

static void
show_label (GtkWidget *label, const char *text)
{
  gtk_label_set_text (GTK_LABEL (label), text ? text : "");
  gtk_widget_set_visible (label, text && *text);
}

void
sp_import_details_fill (SpImportWindow *self)
{
  SpArrivalItem *item = sp_import_window_chosen (self);
  gtk_widget_set_visible (self->details, item != NULL);
  if (!item)
    return;
  self->filling = TRUE;
  char number[32] = "";
  g_autofree char *known = item->trace ? understood (item->trace) : NULL, *said = sentences (item), *lines = first_lines (item->bytes);
  show_label (self->head, item->name);
  show_label (self->error, item->error);
  show_label (self->option_error, item->option_error);
  show_label (self->understood, known);
  show_label (self->said, said);
  show_label (self->lines, lines);
  set_text (self->radio, item->to.radio);
  set_text (self->condition_entry, item->to.condition);
  set_text (self->options, item->options);
  set_text (self->step, isnan (item->to.step_db) ? "" : sp_format_exact (item->to.step_db, number));
  for (guint i = 0; i < G_N_ELEMENTS (purposes); i++)
    if (purposes[i] == item->to.purpose)
      gtk_drop_down_set_selected (GTK_DROP_DOWN (self->purpose), i);
  gtk_widget_set_sensitive (self->step, item->to.purpose == SP_PURPOSE_STEP);
  gtk_widget_set_sensitive (self->options, item->bytes != NULL);
  fill_missing (self, item);
  self->filling = FALSE;
}

static void
take_form (SpImportWindow *self)
{
  SpArrivalItem *item = sp_import_window_chosen (self);
  double step = NAN;
  if (self->filling || !item)
    return;
  sp_proposal_clear (&item->to);
  item->to.radio = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->radio))));
  item->to.condition = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->condition_entry))));
  item->to.purpose = purposes[gtk_drop_down_get_selected (GTK_DROP_DOWN (self->purpose))];
  sp_parse_number (gtk_editable_get_text (GTK_EDITABLE (self->step)), &step, NULL);
  item->to.step_db = step;
  gtk_widget_set_sensitive (self->step, item->to.purpose == SP_PURPOSE_STEP);
  self->typing = TRUE;
  sp_arrival_item_changed (item);
  self->typing = FALSE;
}

static void
correct (SpImportWindow *self)
{
  SpArrivalItem *item = sp_import_window_chosen (self);
  if (item)
    sp_arrival_item_reread (item, gtk_editable_get_text (GTK_EDITABLE (self->options)));
}

static GtkWidget *
label (SpImportWindow *self, const char *class)
{
  GtkWidget *widget = gtk_label_new ("");
  gtk_label_set_xalign (GTK_LABEL (widget), 0);
  gtk_label_set_wrap (GTK_LABEL (widget), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (widget), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_selectable (GTK_LABEL (widget), TRUE);
  if (class)
    gtk_widget_add_css_class (widget, class);
  gtk_box_append (GTK_BOX (self->details), widget);
  return widget;
}

static GtkWidget *
field (GtkWidget *grid, int line, const char *name, const char *tip, GtkWidget *widget)
{
  GtkWidget *title = gtk_label_new (name);
  gtk_label_set_xalign (GTK_LABEL (title), 0);
  gtk_widget_add_css_class (title, "soft");
  gtk_label_set_mnemonic_widget (GTK_LABEL (title), widget);
  gtk_widget_set_tooltip_text (widget, tip);
  gtk_widget_set_hexpand (widget, TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  gtk_grid_attach (GTK_GRID (grid), title, 0, line, 1, 1);
  gtk_grid_attach (GTK_GRID (grid), widget, 1, line, 1, 1);
  return widget;
}

static GtkWidget *
words (const char *const *list)
{
  g_autoptr (GPtrArray) said = g_ptr_array_new ();
  for (; *list; list++)
    g_ptr_array_add (said, (gpointer) (**list ? _(*list) : _("not said")));
  g_ptr_array_add (said, NULL);
  return gtk_drop_down_new_from_strings ((const char *const *) said->pdata);
}

static void
build_missing (SpImportWindow *self)
{
  GtkWidget *set = gtk_button_new_with_label (_("Set for all of them"));
  self->missing = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  self->missing_text = gtk_label_new ("");
  self->missing_rbw = gtk_entry_new ();
  self->missing_attenuation = gtk_entry_new ();
  self->missing_detector = words (detector_words);
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->missing_rbw), _("RBW, as 10kHz"));
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->missing_attenuation), _("attenuation, dB"));
  gtk_widget_set_tooltip_text (self->missing_detector, _("The detector: how many looks within a point became one reading."));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->missing_rbw), GTK_ACCESSIBLE_PROPERTY_LABEL, _("RBW of all"), -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->missing_attenuation), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Attenuation of all"), -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->missing_detector), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Detector of all"), -1);
  gtk_widget_add_css_class (self->missing, "trouble");
  g_signal_connect_swapped (set, "clicked", G_CALLBACK (set_missing), self);
  GtkWidget *parts[] = { self->missing_text, self->missing_rbw, self->missing_attenuation, self->missing_detector, set };
  for (guint i = 0; i < G_N_ELEMENTS (parts); i++)
    gtk_box_append (GTK_BOX (self->missing), parts[i]);
  gtk_box_append (GTK_BOX (self->details), self->missing);
}

void
sp_import_details_build (SpImportWindow *self)
{
  GtkWidget *grid = gtk_grid_new ();
  gtk_grid_set_column_spacing (GTK_GRID (grid), 12);
  gtk_grid_set_row_spacing (GTK_GRID (grid), 4);
  self->head = label (self, "strong");
  self->error = label (self, "wrong");
  build_missing (self);
  gtk_box_append (GTK_BOX (self->details), grid);
  self->radio = field (grid, 0, _("Radio"), _("The transmitter; a new name makes a new one. Empty with unkeyed: one for all."), gtk_entry_new ());
  self->condition_entry = field (grid, 1, _("Condition"), _("Band and power, as ‘2 m, high’; may be empty where a radio has one."), gtk_entry_new ());
  self->purpose = field (grid, 2, _("Purpose"), _("What the sweep was taken for: the radio keyed, not keyed, with more attenuation, behind a notch."), words (purpose_words));
  self->step = field (grid, 3, _("Step, dB"), _("How much more attenuation than in the keyed sweep."), gtk_entry_new ());
  self->options = field (grid, 4, _("Corrections"), _("As rbw=10kHz&attenuation=20&detector=rms&unit=dBuV; Enter reads the file again."), gtk_entry_new ());
  self->option_error = label (self, "wrong");
  self->understood = label (self, NULL);
  self->said = label (self, "soft");
  self->lines = label (self, "monospace");
  g_signal_connect_swapped (self->radio, "changed", G_CALLBACK (take_form), self);
  g_signal_connect_swapped (self->condition_entry, "changed", G_CALLBACK (take_form), self);
  g_signal_connect_swapped (self->purpose, "notify::selected", G_CALLBACK (take_form), self);
  g_signal_connect_swapped (self->step, "changed", G_CALLBACK (take_form), self);
  g_signal_connect_swapped (self->options, "activate", G_CALLBACK (correct), self);
}
