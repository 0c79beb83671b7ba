/* chain-page-points.c - the measured points of a stage as a table whose cells are edited in place, and pasted as lines */
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/chain/sample.h"
#include "core/quantity/error.h"
#include "core/quantity/text.h"
#include "ui/window/chain/chain-page-private.h"
#include "ui/window/widgets/entry.h"
#include "ui/window/widgets/table.h"
#include "ui/words/words.h"

/* ---- a row of the table: texts as the file spells them ---- */

enum { FREQUENCY, LOSS, U, N_TEXTS, OFF_LABEL = N_TEXTS };

#define SP_TYPE_POINT (sp_point_get_type ())
G_DECLARE_FINAL_TYPE (SpPoint, sp_point, SP, POINT, GObject)

struct _SpPoint {
  GObject parent_instance;
  char *text[N_TEXTS];
  char *off_label; /* for people */
};

G_DEFINE_FINAL_TYPE (SpPoint, sp_point, G_TYPE_OBJECT)

static void
sp_point_finalize (GObject *object)
{
  SpPoint *self = SP_POINT (object);
  for (guint i = 0; i < N_TEXTS; i++)
    g_free (self->text[i]);
  g_free (self->off_label);
  G_OBJECT_CLASS (sp_point_parent_class)->finalize (object);
}

static guint point_changed; /* signal: the row holds other texts */

static void
sp_point_class_init (SpPointClass *klass)
{
  point_changed = g_signal_new ("changed", SP_TYPE_POINT, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  G_OBJECT_CLASS (klass)->finalize = sp_point_finalize;
}

static void
sp_point_init (SpPoint *self)
{
  (void) self;
}

/* ---- edits ---- */

/* All rows as the key's value; row `row` with another text in a column, or, `text` NULL, left out; -1: as they are. (transfer full) */
static char *
value_of_rows (SpChainPage *self, int row, guint column, const char *text, GError **error)
{
  g_autoptr (GString) lines = g_string_new (NULL);
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (self->points)); i++) {
    g_autoptr (SpPoint) point = g_list_model_get_item (G_LIST_MODEL (self->points), i);
    const char *words[N_TEXTS] = { point->text[FREQUENCY], point->text[LOSS], point->text[U] };
    if ((int) i == row && !text)
      continue;
    if ((int) i == row)
      words[column] = text;
    if (!*words[FREQUENCY] || !*words[LOSS]) { /* else what stands next would take its place */
      sp_fail (error, SP_ERROR_INPUT, _ ("nothing stands here; a point has a frequency and a loss"));
      return NULL;
    }
    g_string_append_printf (lines, "%s %s %s\n", words[FREQUENCY], words[LOSS], words[U]);
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

/* The key "points" set; `label` names the edit. Takes both texts. */
static gboolean
set_points (SpChainPage *self, char *value, char *label, GError *error)
{
  g_autofree char *points = value, *name = label;
  g_autoptr (GError) why = error;
  SpChain *edited = points ? sp_chain_set (self->chain, (int) self->stage, "points", points, &why) : NULL;
  say_trouble (self, edited ? NULL : why ? why->message : "");
  return edited && sp_chain_page_edit (self, edited, name);
}

static gboolean
edit_cell (SpChainPage *self, guint row, guint column, const char *text)
{
  static const char *const what[] = { N_ ("Change the frequency of a point of %s at %s"), N_ ("Change the loss of %s at %s"),
                                      N_ ("Change the u of %s at %s") };
  const SpStage *stage = sp_chain_page_stage (self);
  g_autoptr (SpPoint) point = g_list_model_get_item (G_LIST_MODEL (self->points), row);
  GError *error = NULL;
  if (!sp_chain_page_has_points (self) || !point)
    return FALSE;
  char *value = value_of_rows (self, (int) row, column, text, &error);
  g_autofree char *spelled = g_strdup (point->text[FREQUENCY]);
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
  set_points (self, value, g_strdup_printf (_ ("Remove a point of %s at %s"), stage->name, point->text[FREQUENCY]), error);
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

/* ---- cells ---- */

/* With what it shows the cell keeps of which point that is. */
static void
restore_cell (GtkWidget *label, const SpPoint *point, guint column)
{
  g_object_set_data_full (G_OBJECT (label), "shown", g_strconcat (point->text[FREQUENCY], " ", point->text[column], NULL), g_free);
  sp_entry_fill (label, point->text[column]);
}

static gboolean
shows (GtkWidget *label, const SpPoint *point, guint column)
{
  g_autofree char *now = g_strconcat (point->text[FREQUENCY], " ", point->text[column], NULL);
  return g_strcmp0 (now, g_object_get_data (G_OBJECT (label), "shown")) == 0;
}

static void
on_editing (GtkEditableLabel *label, GParamSpec *pspec, SpChainPage *self)
{
  GtkListItem *item = g_object_get_data (G_OBJECT (label), "item");
  guint column = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (label), "column"));
  SpPoint *point = item ? gtk_list_item_get_item (item) : NULL;
  const char *text = gtk_editable_get_text (GTK_EDITABLE (label));
  (void) pspec;
  if (gtk_editable_label_get_editing (label)) { /* its text was set into its entry by GTK */
    sp_entry_fill (GTK_WIDGET (label), text);
    return;
  }
  if (point && g_strcmp0 (text, point->text[column]) != 0 && !edit_cell (self, gtk_list_item_get_position (item), column, text))
    restore_cell (GTK_WIDGET (label), point, column);
}

/* GTK 4.8: leaving by the Tab key moves the focus but leaves the label in editing. */
static void
on_leave (GtkEventControllerFocus *focus, GtkEditableLabel *label)
{
  g_autoptr (GtkEditableLabel) held = g_object_ref (label); /* an edit may take its row away */
  (void) focus;
  gtk_editable_label_stop_editing (held, TRUE);
}

/* GTK 4.8: a tenth of a second after the focus has left, the label looks at itself once more, even where it is gone by then. on_leave() has done all there
 * is to do, so it is not told. */
static void
spare_second_look (GtkWidget *label)
{
  g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (label);
  for (guint i = 0; i < g_list_model_get_n_items (controllers); i++) {
    g_autoptr (GtkEventController) controller = g_list_model_get_item (controllers, i);
    if (GTK_IS_EVENT_CONTROLLER_FOCUS (controller))
      g_signal_handlers_disconnect_by_data (controller, label);
  }
}

static void
tear_down_cell (GtkSignalListItemFactory *factory, GtkListItem *item)
{
  GtkWidget *label = gtk_list_item_get_child (item);
  (void) factory;
  if (label)
    g_object_set_data (G_OBJECT (label), "item", NULL);
}

static void
set_up_cell (GtkSignalListItemFactory *factory, GtkListItem *item, SpChainPage *self)
{
  GtkWidget *label = gtk_editable_label_new ("");
  gtk_editable_set_alignment (GTK_EDITABLE (label), 1);
  gtk_editable_set_width_chars (GTK_EDITABLE (label), 6);
  g_object_set_data (G_OBJECT (label), "item", item);
  g_object_set_data (G_OBJECT (label), "column", g_object_get_data (G_OBJECT (factory), "column"));
  g_object_set_data (G_OBJECT (label), "page", self);
  g_signal_connect (label, "notify::editing", G_CALLBACK (on_editing), self);
  spare_second_look (label);
  GtkEventController *focus = gtk_event_controller_focus_new ();
  g_signal_connect (focus, "leave", G_CALLBACK (on_leave), label);
  gtk_widget_add_controller (label, focus);
  gtk_list_item_set_child (item, label);
}

static void
show_cell (SpPoint *point, GtkWidget *label)
{
  static const char *const what[] = { N_ ("frequency"), N_ ("loss in dB"), N_ ("standard uncertainty in dB") };
  guint column = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (label), "column"));
  g_autofree char *name = g_strdup_printf (_ ("%s at %s"), _ (what[column]), point->text[FREQUENCY]);
  if (!gtk_editable_label_get_editing (GTK_EDITABLE_LABEL (label)) || !shows (label, point, column)) /* else what is being typed stays */
    restore_cell (label, point, column);
  gtk_editable_set_editable (GTK_EDITABLE (label), sp_chain_page_has_points (g_object_get_data (G_OBJECT (label), "page")));
  gtk_accessible_update_property (GTK_ACCESSIBLE (label), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
}

static void
set_up_off_label (GtkSignalListItemFactory *factory, GtkListItem *item)
{
  GtkWidget *label = gtk_label_new ("");
  (void) factory;
  gtk_label_set_xalign (GTK_LABEL (label), 1);
  gtk_widget_add_css_class (label, "soft");
  gtk_list_item_set_child (item, label);
}

static void
show_off_label (SpPoint *point, GtkWidget *label)
{
  gtk_label_set_text (GTK_LABEL (label), point->off_label);
}

static void
bind (GtkSignalListItemFactory *factory, GtkListItem *item)
{
  guint column = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (factory), "column"));
  void (*show) (SpPoint * point, GtkWidget * label) = column == OFF_LABEL ? show_off_label : show_cell;
  GtkWidget *label = gtk_list_item_get_child (item);
  SpPoint *point = gtk_list_item_get_item (item);
  g_object_set_data (G_OBJECT (label), "shown", NULL);
  show (point, label);
  g_signal_connect (point, "changed", G_CALLBACK (show), label);
}

static void
unbind (GtkSignalListItemFactory *factory, GtkListItem *item)
{
  (void) factory;
  g_signal_handlers_disconnect_by_data (gtk_list_item_get_item (item), gtk_list_item_get_child (item));
}

static void
add_column (SpChainPage *self, const char *title, guint column)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();
  g_object_set_data (G_OBJECT (factory), "column", GUINT_TO_POINTER (column));
  g_signal_connect (factory, "setup", column == OFF_LABEL ? G_CALLBACK (set_up_off_label) : G_CALLBACK (set_up_cell), self);
  if (column != OFF_LABEL)
    g_signal_connect (factory, "teardown", G_CALLBACK (tear_down_cell), NULL);
  g_signal_connect (factory, "bind", G_CALLBACK (bind), NULL);
  g_signal_connect (factory, "unbind", G_CALLBACK (unbind), NULL);
  g_autoptr (GtkColumnViewColumn) made = gtk_column_view_column_new (title, factory);
  gtk_column_view_column_set_expand (made, TRUE);
  gtk_column_view_append_column (GTK_COLUMN_VIEW (self->points_view), made);
}

/* ---- what the stage holds ---- */

static SpPoint *
new_point (char *const *words, const SpStageSample *sample)
{
  SpPoint *point = g_object_new (SP_TYPE_POINT, NULL);
  guint n = g_strv_length ((char **) words);
  for (guint i = 0; i < N_TEXTS; i++)
    point->text[i] = i >= n ? g_strdup ("") : i == FREQUENCY ? set_apart (words[i]) : g_strdup (words[i]);
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

/* Rows stay where they can: with them the focus. */
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
    for (guint k = 0; k < N_TEXTS; k++)
      swap (&old->text[k], &new->text[k]);
    swap (&old->off_label, &new->off_label);
    g_signal_emit (old, point_changed, 0);
  }
}

/* As the chain's file has them; those of a two-port or a run, which it has not, to the digits that matter. (transfer full) */
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

/* Not at once: the change may come from one of the table's own cells. */
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
  add_column (self, _ ("frequency"), FREQUENCY);
  add_column (self, _ ("loss, dB"), LOSS);
  add_column (self, _ ("u, dB"), U);
  add_column (self, _ ("off label, dB"), OFF_LABEL);
  sp_table_align_titles (GTK_COLUMN_VIEW (self->points_view), "rrrr");
  sp_table_name (GTK_COLUMN_VIEW (self->points_view), _ ("Measured points of the stage"));
  GtkEventController *shortcuts = gtk_shortcut_controller_new ();
  for (guint i = 0; i < G_N_ELEMENTS (keys); i++)
    gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (shortcuts),
                                          gtk_shortcut_new (gtk_shortcut_trigger_parse_string (keys[i].key),
                                                            gtk_shortcut_action_parse_string (keys[i].action)));
  gtk_widget_add_controller (self->points_view, shortcuts);
}
