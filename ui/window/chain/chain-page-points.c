/* chain-page-points.c - the measured points of a stage: filled into the table, edited, added, removed, pasted as lines */
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/chain/sample.h"
#include "core/quantity/error.h"
#include "core/quantity/text.h"
#include "core/quantity/typed.h"
#include "ui/window/chain/chain-page-private.h"
#include "ui/words/words.h"

/* ---- edits ---- */

/* Returns all rows as the key's value. Row `row` gets another text in a column, or is left out if `text` is NULL; -1: none. (transfer full) */
static char *
value_of_rows (SpChainPage *self, int row, guint column, const char *text, GError **error)
{
  g_autoptr (GString) lines = g_string_new (NULL);
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (self->points)); i++) {
    g_autoptr (SpPoint) point = g_list_model_get_item (G_LIST_MODEL (self->points), i);
    const char *words[SP_POINT_TEXTS] = { point->text[SP_POINT_FREQUENCY], point->text[SP_POINT_LOSS], point->text[SP_POINT_U] };
    if ((int) i == row && !text)
      continue;
    if ((int) i == row)
      words[column] = text;
    if (!*words[SP_POINT_FREQUENCY] || !*words[SP_POINT_LOSS]) { /* else what stands next would take its place */
      sp_fail (error, SP_ERROR_INPUT, _ ("nothing stands here; a point has a frequency and a loss"));
      return NULL;
    }
    g_string_append_printf (lines, "%s %s %s\n", words[SP_POINT_FREQUENCY], words[SP_POINT_LOSS], words[SP_POINT_U]);
  }
  return lines->len ? sp_points_from_lines (lines->str, error) : g_strdup ("");
}

/* "150MHz" with a blank before its unit, as labels and cells show it. (transfer full) */
static char *
set_apart (const char *frequency)
{
  gsize digits = strcspn (frequency, "GMkH");
  return g_strdup_printf ("%.*s%s%s", (int) digits, frequency, frequency[digits] ? " " : "", frequency + digits);
}

static void
say_trouble (SpChainPage *self, const char *message)
{
  gtk_label_set_text (GTK_LABEL (self->points_trouble), message ? message : "");
  gtk_widget_set_visible (self->points_trouble, message != NULL);
}

/* Sets the key "points"; `label` names the edit. Takes both texts. */
static gboolean
set_points (SpChainPage *self, char *value, char *label, GError *error)
{
  g_autofree char *points = value, *name = label;
  g_autoptr (GError) why = error;
  SpChain *edited = points ? sp_chain_set (self->chain, (int) self->stage, "points", points, &why) : NULL;
  say_trouble (self, edited ? NULL : why ? why->message : "");
  return edited && sp_chain_page_edit (self, edited, name);
}

gboolean
sp_chain_page_edit_point (SpChainPage *self, guint row, guint column, const char *text)
{
  static const char *const what[] = { N_ ("Change the frequency of a point of %s at %s"), N_ ("Change the loss of %s at %s"),
                                      N_ ("Change the u of %s at %s") };
  const SpStage *stage = sp_chain_page_stage (self);
  g_autoptr (SpPoint) point = g_list_model_get_item (G_LIST_MODEL (self->points), row);
  GError *error = NULL;
  if (!sp_chain_page_has_points (self) || !point)
    return FALSE;
  char mark = sp_words_decimal_mark ();
  g_autofree char *typed = column == SP_POINT_FREQUENCY ? sp_typed_frequency (text, mark, &error)
                                                        : sp_typed_number (text, "dB", mark, &error);
  char *value = typed ? value_of_rows (self, (int) row, column, typed, &error) : NULL;
  g_autofree char *spelled = g_strdup (point->text[SP_POINT_FREQUENCY]);
  char *label = g_strdup_printf (_ (what[column]), stage->name, spelled);
  return set_points (self, value, label, error);
}

static void
on_add_point (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  SpChainPage *self = data;
  const SpStage *stage = sp_chain_page_stage (self);
  SpStageSample sample;
  double frequency_hz;
  (void) action;
  (void) parameter;
  if (!sp_chain_page_has_points (self))
    return;
  guint chosen = gtk_single_selection_get_selected (self->points_selection);
  sp_stage_sample_between (self->chain, self->stage, chosen == GTK_INVALID_LIST_POSITION ? -1 : (int) chosen, &frequency_hz);
  sp_stage_sample (self->chain, self->stage, 1, &frequency_hz, &sample);
  g_autofree char *frequency = sp_spell_frequency (frequency_hz), *loss = sp_words_number (sample.loss_db, 2, SP_HAND_MACHINE);
  g_autofree char *u = sp_words_number (sample.u_db, 2, SP_HAND_MACHINE);
  g_autofree char *row = g_strdup_printf ("%s %s %s", frequency, loss, u);
  g_autofree char *value = value_of_rows (self, -1, 0, NULL, NULL),
                  *with = value && *value ? g_strdup_printf ("%s; %s", value, row) : g_strdup (row);
  GError *error = NULL;
  char *sorted = sp_points_from_lines (with, &error);
  g_autofree char *apart = set_apart (frequency);
  set_points (self, sorted, g_strdup_printf (_ ("Add a point of %s at %s"), stage->name, apart), error);
}

static void
on_remove_point (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  SpChainPage *self = data;
  const SpStage *stage = sp_chain_page_stage (self);
  guint chosen = gtk_single_selection_get_selected (self->points_selection);
  g_autoptr (SpPoint) point = g_list_model_get_item (G_LIST_MODEL (self->points), chosen);
  GError *error = NULL;
  (void) action;
  (void) parameter;
  if (!stage || !point)
    return;
  char *value = value_of_rows (self, (int) chosen, 0, NULL, &error);
  set_points (self, value, g_strdup_printf (_ ("Remove a point of %s at %s"), stage->name, point->text[SP_POINT_FREQUENCY]), error);
}

static void
on_clipboard (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (SpChainPage) self = data;
  GError *error = NULL;
  const SpStage *stage = sp_chain_page_stage (self);
  g_autofree char *text = gdk_clipboard_read_text_finish (GDK_CLIPBOARD (source), result, &error);
  if (!stage || !self->actions) {
    g_clear_error (&error);
    return;
  }
  char *value = text || !error ? sp_points_from_lines (text ? text : "", &error) : NULL;
  set_points (self, value, g_strdup_printf (_ ("Paste the points of %s"), stage->name), error);
}

static void
on_paste_points (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  GtkWidget *self = data;
  (void) action;
  (void) parameter;
  gdk_clipboard_read_text_async (gtk_widget_get_clipboard (self), NULL, on_clipboard, g_object_ref (self));
}

/* ---- what the stage holds ---- */

static SpPoint *
new_point (char *const *words, const SpStageSample *sample)
{
  SpPoint *point = g_object_new (SP_TYPE_POINT, NULL);
  guint n = g_strv_length ((char **) words);
  for (guint i = 0; i < SP_POINT_TEXTS; i++)
    point->text[i] = i >= n ? g_strdup ("") : i == SP_POINT_FREQUENCY ? set_apart (words[i]) : g_strdup (words[i]);
  point->off_label = isnan (sample->off_label_db) ? g_strdup ("") : sp_words_signed (sample->off_label_db, 2, SP_HAND_SCREEN);
  return point;
}

static void
swap (char **a, char **b)
{
  char *held = *a;
  *a = *b;
  *b = held;
}

/* Keeps rows where it can, and the focus with them. */
static void
show_points (SpChainPage *self, GPtrArray *points)
{
  guint chosen = gtk_single_selection_get_selected (self->points_selection), n = g_list_model_get_n_items (G_LIST_MODEL (self->points));
  if (points->len != n) {
    g_list_store_splice (self->points, 0, n, points->pdata, points->len);
    if (chosen < points->len)
      gtk_single_selection_set_selected (self->points_selection, chosen);
    return;
  }
  for (guint i = 0; i < n; i++) {
    g_autoptr (SpPoint) old = g_list_model_get_item (G_LIST_MODEL (self->points), i);
    SpPoint *new = points->pdata[i];
    for (guint k = 0; k < SP_POINT_TEXTS; k++)
      swap (&old->text[k], &new->text[k]);
    swap (&old->off_label, &new->off_label);
    g_signal_emit_by_name (old, "changed");
  }
}

/* Spells the points as the chain's file does, or those of a two-port or a run to the digits that matter. (transfer full) */
static char **
rows_of (SpChainPage *self, const SpStage *stage)
{
  g_autoptr (GStrvBuilder) rows = g_strv_builder_new ();
  if (sp_chain_page_has_points (self)) {
    g_autofree char *value = sp_chain_get (self->chain, (int) self->stage, "points"),
                    *spelled = value ? sp_spell_value (value, SP_SPELL_ROWS) : NULL;
    return g_strsplit (spelled ? spelled : "", "; ", -1);
  }
  for (guint i = 0; stage && stage->loss && i < stage->loss->n; i++) {
    g_autofree char *frequency = sp_spell_frequency (stage->loss->frequency_hz[i]),
                    *loss = sp_words_number (stage->loss->value[i], 3, SP_HAND_MACHINE);
    g_autofree char *u = isnan (stage->loss->u[i]) ? g_strdup ("") : sp_words_number (stage->loss->u[i], 3, SP_HAND_MACHINE);
    g_autofree char *row = g_strdup_printf ("%s %s %s", frequency, loss, u);
    g_strv_builder_add (rows, row);
  }
  return g_strv_builder_end (rows);
}

static gboolean
fill_soon (gpointer data)
{
  SpChainPage *self = data;
  const SpStage *stage = sp_chain_page_stage (self);
  g_auto (GStrv) rows = rows_of (self, stage);
  g_autoptr (GPtrArray) points = g_ptr_array_new_with_free_func (g_object_unref);
  self->points_source = 0;
  for (guint i = 0; stage && stage->loss && rows[i] && i < stage->loss->n; i++) {
    g_auto (GStrv) words = g_strsplit (rows[i], " ", -1);
    SpStageSample sample;
    sp_stage_sample (self->chain, self->stage, 1, &stage->loss->frequency_hz[i], &sample);
    g_ptr_array_add (points, new_point (words, &sample));
  }
  show_points (self, points);
  return G_SOURCE_REMOVE;
}

/* Runs when idle: the change may come from one of the table's own cells. */
void
sp_chain_page_fill_points (SpChainPage *self)
{
  say_trouble (self, NULL);
  if (!self->points_source)
    self->points_source = g_idle_add_full (G_PRIORITY_HIGH, fill_soon, self, NULL);
}

void
sp_chain_page_set_up_points (SpChainPage *self)
{
  static const GActionEntry entries[] = {
    { "add-point", on_add_point, NULL, NULL, NULL, { 0 } },
    { "remove-point", on_remove_point, NULL, NULL, NULL, { 0 } },
    { "paste-points", on_paste_points, NULL, NULL, NULL, { 0 } },
  };
  static const struct {
    const char *key, *action;
  } keys[] = { { "Insert", "action(chain.add-point)" },
               { "Delete", "action(chain.remove-point)" },
               { "<Control>v", "action(chain.paste-points)" } };
  g_action_map_add_action_entries (self->actions, entries, G_N_ELEMENTS (entries), self);
  self->points = g_list_store_new (SP_TYPE_POINT);
  self->points_selection = gtk_single_selection_new (g_object_ref (G_LIST_MODEL (self->points)));
  gtk_column_view_set_model (GTK_COLUMN_VIEW (self->points_view), GTK_SELECTION_MODEL (self->points_selection));
  sp_chain_page_add_point_columns (self);
  GtkEventController *shortcuts = gtk_shortcut_controller_new ();
  for (guint i = 0; i < G_N_ELEMENTS (keys); i++)
    gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (shortcuts),
                                          gtk_shortcut_new (gtk_shortcut_trigger_parse_string (keys[i].key),
                                                            gtk_shortcut_action_parse_string (keys[i].action)));
  gtk_widget_add_controller (self->points_view, shortcuts);
}
