/* chain-page-stages.c - the list of stages: its rows, and how they are added, doubled, removed and moved */
#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/quantity/spell.h"
#include "core/quantity/typed.h"
#include "ui/window/chain/chain-page-private.h"
#include "ui/words/words.h"

static const char *const kind_words[] = { N_ ("cable"),  N_ ("pad"),   N_ ("adapter"), N_ ("coupler"),
                                          N_ ("filter"), N_ ("notch"), N_ ("limiter") };

/* ---- a row ---- */

#define SP_TYPE_STAGE_ROW (sp_stage_row_get_type ())
G_DECLARE_FINAL_TYPE (SpStageRow, sp_stage_row, SP, STAGE_ROW, GtkListBoxRow)

struct _SpStageRow {
  GtkListBoxRow parent_instance;
  SpChainPage *page;
  /* of the template */
  GtkWidget *name, *kind, *says, *level, *headroom;
};

G_DEFINE_FINAL_TYPE (SpStageRow, sp_stage_row, GTK_TYPE_LIST_BOX_ROW)

static void
say_key (SpChainPage *self, GString *line, guint stage, const char *key, SpSpelling spelling, const char *format)
{
  g_autofree char *value = sp_chain_get (self->chain, (int) stage, key), *spelled = value ? sp_spell_value (value, spelling) : NULL;
  g_autofree char *shown = spelled ? sp_typed_shown (spelled, sp_words_decimal_mark ()) : NULL;
  g_autofree char *text = shown ? g_strdup_printf (format, shown) : NULL;
  if (text)
    g_string_append_printf (line, "%s%s", line->len ? " \xc2\xb7 " : "", text);
}

/* "label 30 dB · 25 W · VSWR 1.1 · 2026-10-17" */
static char *
stage_says (SpChainPage *self, guint stage)
{
  GString *line = g_string_new (NULL);
  say_key (self, line, stage, "label_db", SP_SPELL_AS_IT_IS, _ ("label %s dB"));
  say_key (self, line, stage, "rating_w", SP_SPELL_AS_IT_IS, _ ("%s W"));
  say_key (self, line, stage, "vswr", SP_SPELL_ROWS, _ ("VSWR %s"));
  say_key (self, line, stage, "calibrated", SP_SPELL_AS_IT_IS, "%s");
  if (self->chain->stages[stage]->run)
    g_string_append_printf (line, "%s%s", line->len ? " \xc2\xb7 " : "", _ ("by substitution"));
  if (!self->chain->stages[stage]->loss)
    g_string_append_printf (line, "%s%s", line->len ? " \xc2\xb7 " : "", _ ("not measured"));
  return g_string_free (line, FALSE);
}

static const SpNode *
node_of (SpChainPage *self, int stage)
{
  const SpConditionFindings *found = sp_chain_page_found (self);
  for (guint i = 0; sp_chain_page_in_use (self) && found && found->headroom && i < found->headroom->n_nodes; i++)
    if (found->headroom->nodes[i].stage == stage)
      return &found->headroom->nodes[i];
  return NULL;
}

static void
show_levels (SpStageRow *row, const SpNode *node)
{
  g_autofree char *level = node ? sp_words_signed (node->level_dbm, 1, SP_HAND_SCREEN) : g_strdup ("");
  g_autofree char *headroom = node ? sp_words_number (node->headroom_db, 1, SP_HAND_SCREEN) : g_strdup ("");
  gboolean over = node && node->headroom_db < 0;
  g_autofree char *text = over ? g_strdup_printf (_ ("over: %s"), headroom) : g_strdup (headroom);
  gtk_label_set_text (GTK_LABEL (row->level), level);
  gtk_label_set_text (GTK_LABEL (row->headroom), text);
  gtk_widget_remove_css_class (row->headroom, over ? "soft" : "wrong");
  gtk_widget_add_css_class (row->headroom, over ? "wrong" : "soft");
}

static void
show_stage (SpChainPage *self, SpStageRow *row, guint stage)
{
  const SpStage *value = self->chain->stages[stage];
  const char *kind = _ (kind_words[value->kind]);
  g_autofree char *says = stage_says (self, stage), *name = g_strdup_printf ("%s, %s, %s", value->name, kind, says);
  gtk_label_set_text (GTK_LABEL (row->name), value->name);
  gtk_label_set_text (GTK_LABEL (row->kind), kind);
  gtk_label_set_text (GTK_LABEL (row->says), says);
  gtk_widget_set_tooltip_text (row->says, says);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  show_levels (row, node_of (self, (int) stage));
}

/* ---- moved by dragging ---- */

static void
move_stage (SpChainPage *self, guint from, guint to)
{
  guint chosen = self->stage;
  self->stage = to; /* the choice goes along */
  if (!sp_chain_move_at (self->session, self->place, from, to))
    self->stage = chosen;
}

static GdkContentProvider *
on_prepare (GtkDragSource *source, double x, double y, GtkListBoxRow *row)
{
  (void) source;
  (void) x;
  (void) y;
  return gdk_content_provider_new_typed (G_TYPE_INT, gtk_list_box_row_get_index (row));
}

/* Another stage takes the place; a file gives the stage its loss. */
static gboolean
on_drop (GtkDropTarget *target, const GValue *value, double x, double y, SpStageRow *row)
{
  SpChainPage *self = row->page;
  int to = gtk_list_box_row_get_index (GTK_LIST_BOX_ROW (row));
  (void) target, (void) x, (void) y;
  if (to < 0)
    return FALSE;
  if (!G_VALUE_HOLDS_INT (value)) {
    sp_chain_page_choose (self, (guint) to);
    return sp_chain_take_files_at (self->session, self->place, (guint) to, value);
  }
  if (g_value_get_int (value) < 0)
    return FALSE;
  move_stage (self, (guint) g_value_get_int (value), (guint) to);
  return TRUE;
}

static void
sp_stage_row_class_init (SpStageRowClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  gtk_widget_class_set_template_from_resource (widget, "/spurproof/pages/stage-row.ui");
#define PART(name) gtk_widget_class_bind_template_child (widget, SpStageRow, name)
  PART (name), PART (kind), PART (says), PART (level), PART (headroom);
#undef PART
  gtk_widget_class_bind_template_callback (widget, on_prepare);
}

static void
sp_stage_row_init (SpStageRow *row)
{
  GType dropped[] = { G_TYPE_INT, GDK_TYPE_FILE_LIST };
  GtkDropTarget *target = gtk_drop_target_new (G_TYPE_INVALID, GDK_ACTION_MOVE | GDK_ACTION_COPY);
  gtk_widget_init_template (GTK_WIDGET (row));
  gtk_drop_target_set_gtypes (target, dropped, G_N_ELEMENTS (dropped));
  g_signal_connect (target, "drop", G_CALLBACK (on_drop), row);
  gtk_widget_add_controller (GTK_WIDGET (row), GTK_EVENT_CONTROLLER (target));
}

static GtkWidget *
new_row (SpChainPage *self)
{
  SpStageRow *row = g_object_new (SP_TYPE_STAGE_ROW, NULL);
  row->page = self;
  return GTK_WIDGET (row);
}

/* ---- the list ---- */

static void
show_analyzer (SpChainPage *self)
{
  const SpNode *node = node_of (self, -1);
  const SpConditionFindings *found = sp_chain_page_found (self);
  if (!node) {
    gtk_label_set_text (GTK_LABEL (self->analyzer_line),
                        self->chain && !sp_chain_page_in_use (self)
                            ? _ ("Levels are worked out for the chain of the chosen condition's keyed sweep.")
                            : _ ("Levels stand here once the power is known."));
    return;
  }
  g_autofree char *level = sp_words_level (node->level_dbm, 1, SP_HAND_SCREEN);
  g_autofree char *headroom = sp_words_number (node->headroom_db, 1, SP_HAND_SCREEN);
  g_autofree char *mixer = sp_words_level (found->headroom->mixer_dbm, 1, SP_HAND_SCREEN);
  g_autofree char *text = g_strdup_printf (_ ("analyzer %s, headroom %s dB, mixer %s"), level, headroom, mixer);
  gtk_label_set_text (GTK_LABEL (self->analyzer_line), text);
}

/* Keeps rows where it can, and with them the focus and what is being dragged. */
void
sp_chain_page_fill_stages (SpChainPage *self)
{
  GtkListBox *list = GTK_LIST_BOX (self->list);
  guint n = self->chain ? self->chain->n : 0, i = 0;
  gboolean focused = gtk_widget_get_focus_child (self->list) != NULL;
  self->filling = TRUE;
  for (; i < n; i++) {
    if (!gtk_list_box_get_row_at_index (list, (int) i))
      gtk_list_box_append (list, new_row (self));
    show_stage (self, SP_STAGE_ROW (gtk_list_box_get_row_at_index (list, (int) i)), i);
  }
  GtkListBoxRow *chosen = gtk_list_box_get_row_at_index (list, (int) self->stage);
  gtk_list_box_select_row (list, chosen);
  if (chosen && focused)
    gtk_widget_grab_focus (GTK_WIDGET (chosen));
  for (GtkListBoxRow *row; (row = gtk_list_box_get_row_at_index (list, (int) n));)
    gtk_list_box_remove (list, GTK_WIDGET (row));
  self->filling = FALSE;
  show_analyzer (self);
}

static void
on_row_selected (GtkListBox *list, GtkListBoxRow *row, SpChainPage *self)
{
  (void) list;
  if (!self->filling && row)
    sp_chain_page_choose (self, (guint) gtk_list_box_row_get_index (row));
}

/* ---- actions ---- */

/* `edited` (transfer full) with `error`, or the new chain, whose stage `stage` is chosen then. */
static void
apply (SpChainPage *self, SpChain *edited, GError *error, guint stage, char *label)
{
  g_autofree char *owned = label;
  g_autoptr (GError) why = error;
  if (!edited) {
    sp_session_trouble (self->session, why ? why->message : "", NULL);
    return;
  }
  self->stage = stage;
  sp_chain_page_edit (self, edited, owned);
  sp_fields_refresh (SP_FIELDS (self->stage_fields), TRUE);
}

static void
on_add (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  SpChainPage *self = data;
  SpStageKind kind = (SpStageKind) CLAMP (g_variant_get_int32 (parameter), 0, (int) G_N_ELEMENTS (kind_words) - 1);
  GError *error = NULL;
  (void) action;
  if (!self->chain)
    return;
  g_autofree char *name = sp_chain_free_name (self->chain, _ (kind_words[kind]));
  guint before = MIN (self->stage + 1, self->chain->n);
  SpChain *edited = sp_chain_add_stage (self->chain, before, name, kind, &error);
  apply (self, edited, error, before, g_strdup_printf (_ ("Add %s"), name));
  GtkWidget *entry = edited ? sp_fields_widget (SP_FIELDS (self->stage_fields), "name") : NULL;
  if (entry)
    gtk_widget_grab_focus (entry); /* its name is what is typed next */
}

static void
on_duplicate (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  SpChainPage *self = data;
  const SpStage *stage = sp_chain_page_stage (self);
  GError *error = NULL;
  (void) action;
  (void) parameter;
  if (!stage)
    return;
  g_autofree char *name = sp_chain_free_name (self->chain, stage->name);
  SpChain *edited = sp_chain_duplicate_stage (self->chain, self->stage, name, &error);
  apply (self, edited, error, self->stage + 1, g_strdup_printf (_ ("Duplicate %s"), stage->name));
}

static void
on_remove (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  SpChainPage *self = data;
  const SpStage *stage = sp_chain_page_stage (self);
  GError *error = NULL;
  (void) action;
  (void) parameter;
  if (!stage)
    return;
  SpChain *edited = sp_chain_remove_stage (self->chain, self->stage, &error);
  guint next = edited && self->stage >= edited->n ? edited->n - 1 : self->stage;
  apply (self, edited, error, next, g_strdup_printf (_ ("Remove %s"), stage->name));
}

static void
on_up (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  SpChainPage *self = data;
  (void) action;
  (void) parameter;
  if (self->stage > 0)
    move_stage (self, self->stage, self->stage - 1);
}

static void
on_down (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  SpChainPage *self = data;
  (void) action;
  (void) parameter;
  move_stage (self, self->stage, self->stage + 1);
}

static void
add_shortcut (GtkEventController *keys, const char *trigger, const char *action)
{
  g_autofree char *text = g_strdup_printf ("action(%s)", action);
  gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (keys), gtk_shortcut_new (gtk_shortcut_trigger_parse_string (trigger),
                                                                                          gtk_shortcut_action_parse_string (text)));
}

static gboolean
on_insert (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  SpChainPage *self = data;
  (void) widget;
  (void) arguments;
  gtk_menu_button_popup (GTK_MENU_BUTTON (self->add_button));
  return TRUE;
}

static void
set_up_menu (SpChainPage *self)
{
  g_autoptr (GMenu) menu = g_menu_new ();
  for (int i = 0; i < (int) G_N_ELEMENTS (kind_words); i++) {
    g_autoptr (GMenuItem) item = g_menu_item_new (_ (kind_words[i]), NULL);
    g_menu_item_set_action_and_target (item, "chain.add", "i", i);
    g_menu_append_item (menu, item);
  }
  gtk_menu_button_set_menu_model (GTK_MENU_BUTTON (self->add_button), G_MENU_MODEL (menu));
}

void
sp_chain_page_set_up_stages (SpChainPage *self)
{
  static const GActionEntry entries[] = {
    { "add", on_add, "i", NULL, NULL, { 0 } },        { "duplicate", on_duplicate, NULL, NULL, NULL, { 0 } },
    { "remove", on_remove, NULL, NULL, NULL, { 0 } }, { "up", on_up, NULL, NULL, NULL, { 0 } },
    { "down", on_down, NULL, NULL, NULL, { 0 } },
  };
  g_action_map_add_action_entries (self->actions, entries, G_N_ELEMENTS (entries), self);
  gtk_widget_insert_action_group (GTK_WIDGET (self), "chain", G_ACTION_GROUP (self->actions));
  GtkEventController *keys = gtk_shortcut_controller_new ();
  add_shortcut (keys, "Delete", "chain.remove");
  add_shortcut (keys, "<Control>d", "chain.duplicate");
  add_shortcut (keys, "<Alt>Up", "chain.up");
  add_shortcut (keys, "<Alt>Down", "chain.down");
  gtk_widget_add_controller (self->list, keys);
  gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (keys), gtk_shortcut_new (gtk_keyval_trigger_new (GDK_KEY_Insert, 0),
                                                                                          gtk_callback_action_new (on_insert, self, NULL)));
  g_signal_connect (self->list, "row-selected", G_CALLBACK (on_row_selected), self);
  set_up_menu (self);
}
