/* radios.c - the list of radios and conditions */
#include "ui/window/pages/radios.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "ui/figure/pen/names.h"
#include "ui/window/import/import.h"
#include "ui/window/pages/radio-row.h"
#include "ui/window/pages/wants.h"
#include "ui/window/session/preferences.h"
#include "ui/window/widgets/drawing-area.h"
#include "ui/window/widgets/entry.h"
#include "ui/window/widgets/tooltip.h"
#include "ui/words/help.h"

#define WANTS_LOW_ROWS 8 /* with more rows than this, a low window has no space for them */
#define MANY 10          /* radios: with a search, and the rows take the space of what is wanted */
#define BANDS_APART "list-bands"

struct _SpRadios {
  GtkBox parent_instance;
  SpSession *session;
  gboolean low;
  gboolean had_focus;
  gboolean following; /* the selection is being set to what the session says */
  GHashTable *folded; /* of SpWaveband, static ones */
  char *sought;       /* folded case; NULL: all */
  gboolean asked;     /* for the search, where few radios have none */
  /* of the template */
  GMenuModel *menu;  /* of a row */
  GListStore *store; /* SpFoundItem, SpBandItem */
  GtkSingleSelection *selection;
  GtkWidget *title, *order, *unit, *search, *list, *view, *keys, *open, *unsettled, *wants_head, *wants, *drop;
};

G_DEFINE_FINAL_TYPE (SpRadios, sp_radios, GTK_TYPE_BOX)

/* ---- what is still wanted ---- */

static void
show_wants (SpRadios *self)
{
  SpFindings *findings = sp_session_findings (self->session);
  const SpConditionFindings *found = sp_session_found (self->session);
  g_autofree char *wants = found ? sp_wants_text (found) : g_strdup ("");
  g_autofree char *name = found ? sp_name_short (findings, sp_session_condition (self->session)) : NULL,
                  *head = found ? g_strdup_printf (_ ("%s still wants"), name) : NULL,
                  *unsettled = found ? sp_words_unsettled (found, SP_HAND_SCREEN) : NULL,
                  *gap = found ? sp_words_not_shown (found, SP_HAND_SCREEN) : NULL;
  g_autofree char *open = g_strjoin (unsettled && gap ? "\n" : "", unsettled ? unsettled : "", gap ? gap : "", NULL);
  gboolean space = findings && findings->n < MANY && !(self->low && findings->n > WANTS_LOW_ROWS);
  gtk_label_set_text (GTK_LABEL (self->wants_head), head ? head : "");
  gtk_label_set_text (GTK_LABEL (self->wants), wants);
  gtk_label_set_text (GTK_LABEL (self->unsettled), open);
  gtk_widget_set_visible (self->open, space && (*open || *wants));
  gtk_widget_set_visible (self->unsettled, *open && space);
  gtk_widget_set_visible (self->wants_head, *wants && space);
  gtk_widget_set_visible (self->wants, *wants && space);
}

/* ---- rows ---- */

static void
set_up (GtkSignalListItemFactory *factory, GtkListItem *list_item, SpRadios *self)
{
  (void) factory, (void) self;
  gtk_list_item_set_child (list_item, NULL);
}

/* A row of the other kind is made anew: few change theirs. */
static void
bind (GtkSignalListItemFactory *factory, GtkListItem *list_item, SpRadios *self)
{
  gpointer item = gtk_list_item_get_item (list_item);
  GtkWidget *child = gtk_list_item_get_child (list_item);
  gboolean band = SP_IS_BAND_ITEM (item);
  (void) factory;
  if (!child || SP_IS_BAND_ROW (child) != band) {
    child = band ? sp_band_row_new (self->session) : sp_radio_row_new (self->session, self->menu);
    gtk_list_item_set_child (list_item, child);
  }
  gtk_list_item_set_selectable (list_item, !band);
  gtk_widget_set_focusable (child, band); /* the list gives the focus only to rows that can be selected (GTK 4.8) */
  if (band)
    sp_band_row_set (SP_BAND_ROW (child), item);
  else
    sp_radio_row_set (SP_RADIO_ROW (child), item);
}

static void
unbind (GtkSignalListItemFactory *factory, GtkListItem *list_item, SpRadios *self)
{
  (void) factory, (void) self;
  GtkWidget *child = gtk_list_item_get_child (list_item);
  if (SP_IS_BAND_ROW (child))
    sp_band_row_set (SP_BAND_ROW (child), NULL);
  else
    sp_radio_row_set (SP_RADIO_ROW (child), NULL);
}

static gboolean
is_sought (SpRadios *self, SpFindings *findings, guint condition)
{
  if (!self->sought)
    return TRUE;
  g_autofree char *band = sp_words_waveband (sp_compare_waveband (findings, condition));
  g_autofree char *all = g_strjoin (" ", sp_view_radio_name (findings, condition), sp_view_condition_name (findings, condition), band,
                                    sp_words_verdict (findings->conditions[condition].verdict), NULL);
  g_autofree char *text = g_utf8_casefold (all, -1);
  return strstr (text, self->sought) != NULL;
}

/* From two bands on each has a head; what is folded or not sought has no row. */
static void
add_rows (SpRadios *self, SpFindings *findings, GPtrArray *items)
{
  gboolean bands = sp_session_by_band (self->session) && sp_compare_n_wavebands (findings) > 1, first = TRUE, folded = FALSE;
  const SpWaveband *waveband = NULL;
  g_autofree guint *order = g_new (guint, findings->n + 1);
  sp_compare_order (findings, sp_session_order (self->session), sp_session_by_band (self->session), order);
  for (guint k = 0; k < findings->n; k++) {
    const SpWaveband *its = sp_compare_waveband (findings, order[k]);
    if (!is_sought (self, findings, order[k]))
      continue;
    if (bands && (first || its != waveband)) {
      folded = !self->sought && g_hash_table_contains (self->folded, its);
      g_ptr_array_add (items, sp_band_item_new (findings, its, folded));
    }
    first = FALSE;
    waveband = its;
    if (!folded)
      g_ptr_array_add (items, sp_found_item_new (findings, order[k], -1));
  }
}

static int
position_of (SpRadios *self, guint condition)
{
  GListModel *model = G_LIST_MODEL (self->store);
  for (guint i = 0; i < g_list_model_get_n_items (model); i++) {
    g_autoptr (GObject) item = g_list_model_get_item (model, i);
    if (SP_IS_FOUND_ITEM (item) && sp_found_item_condition (SP_FOUND_ITEM (item)) == condition)
      return (int) i;
  }
  return -1;
}

static void
follow_choice (SpRadios *self)
{
  int position = position_of (self, sp_session_condition (self->session));
  self->following = TRUE;
  gtk_single_selection_set_selected (self->selection, position < 0 ? GTK_INVALID_LIST_POSITION : (guint) position);
  self->following = FALSE;
  show_wants (self);
}

/* On the chosen row; the list alone would begin at its first (GTK 4.8). */
static void
focus_rows (SpRadios *self)
{
  gtk_widget_grab_focus (self->view);
  for (GtkWidget *row = gtk_widget_get_first_child (self->view); row; row = gtk_widget_get_next_sibling (row))
    if (gtk_widget_get_state_flags (row) & GTK_STATE_FLAG_SELECTED)
      gtk_widget_grab_focus (row);
}

/* Once, as soon as there are rows to be seen: Down goes to the next radio. */
static void
take_focus (SpRadios *self)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  if (self->had_focus || !root || !gtk_widget_get_mapped (GTK_WIDGET (self)) || g_list_model_get_n_items (G_LIST_MODEL (self->store)) == 0
      || GTK_IS_EDITABLE (gtk_root_get_focus (root)))
    return;
  self->had_focus = TRUE;
  focus_rows (self);
}

/* A row that goes while it has the focus swallows the next keys (GTK 4.8). TRUE: one had it. */
static gboolean
let_go_of_focus (SpRadios *self)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  GtkWidget *focus = root ? gtk_root_get_focus (root) : NULL;
  if (!focus || !gtk_widget_is_ancestor (focus, self->view))
    return FALSE;
  gtk_root_set_focus (root, NULL);
  return TRUE;
}

static const char *
order_words (SpOrder order)
{
  static const char *const words[] = { N_ ("list order"), N_ ("worst first"), N_ ("by name") };
  return _ (words[order]);
}

static void
follow_findings (SpRadios *self)
{
  SpFindings *findings = sp_session_findings (self->session);
  g_autoptr (GPtrArray) items = g_ptr_array_new_with_free_func (g_object_unref);
  const char *only = findings ? sp_name_only_radio (findings) : NULL;
  gboolean many = findings && findings->n >= MANY;
  if (!many && !self->asked)
    g_clear_pointer (&self->sought, g_free);
  if (findings)
    add_rows (self, findings, items);
  gboolean within = let_go_of_focus (self);
  self->following = TRUE;
  g_list_store_splice (self->store, 0, g_list_model_get_n_items (G_LIST_MODEL (self->store)), items->pdata, items->len);
  self->following = FALSE;
  gtk_widget_set_visible (self->search, many || self->asked);
  many ? gtk_widget_add_css_class (GTK_WIDGET (self), "many") : gtk_widget_remove_css_class (GTK_WIDGET (self), "many");
  gtk_widget_queue_resize (self->drop); /* the class alone leaves a height from before in use (GTK 4.8) */
  gtk_widget_set_visible (self->keys, many && !self->low);
  gtk_label_set_text (GTK_LABEL (self->title), only ? only : _ ("Radios"));
  gtk_menu_button_set_label (GTK_MENU_BUTTON (self->order), order_words (sp_session_order (self->session)));
  follow_choice (self);
  if (within)
    focus_rows (self);
  take_focus (self);
}

static void
selected (SpRadios *self)
{
  gpointer item = gtk_single_selection_get_selected_item (self->selection);
  if (self->following || !SP_IS_FOUND_ITEM (item))
    return;
  guint i = sp_found_item_condition (item);
  if (i != sp_session_condition (self->session))
    sp_session_choose (self->session, i, SP_DECIDING_EMISSION);
}

/* ---- folding, showing, searching ---- */

static void
set_folded (SpRadios *self, const SpWaveband *waveband, gboolean folded)
{
  if (folded)
    g_hash_table_add (self->folded, (gpointer) waveband);
  else
    g_hash_table_remove (self->folded, waveband);
  follow_findings (self);
}

static void
activated (SpRadios *self, guint position)
{
  g_autoptr (GObject) item = g_list_model_get_item (G_LIST_MODEL (self->store), position);
  if (!SP_IS_BAND_ITEM (item))
    return;
  const SpWaveband *waveband = sp_band_item_waveband (SP_BAND_ITEM (item));
  set_folded (self, waveband, !g_hash_table_contains (self->folded, waveband));
}

/* The head of a band that has the focus; NULL. */
static SpBandItem *
focused_band (SpRadios *self)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  GtkWidget *row = root ? gtk_root_get_focus (root) : NULL;
  return row && SP_IS_BAND_ROW (row) ? sp_band_row_item (SP_BAND_ROW (row)) : NULL;
}

static gboolean
band_shown (SpRadios *self, SpFindings *findings, const SpWaveband *waveband)
{
  for (guint i = 0; i < findings->n; i++)
    if (sp_compare_waveband (findings, i) == waveband && !sp_session_shows (self->session, i))
      return FALSE;
  return TRUE;
}

/* Onto a band's head, which the list's own keys stop before. FALSE: another row is next. */
static gboolean
go_to_band (SpRadios *self, gboolean down)
{
  GtkWidget *row = gtk_widget_get_focus_child (self->view);
  GtkWidget *next = !row ? NULL : down ? gtk_widget_get_next_sibling (row) : gtk_widget_get_prev_sibling (row);
  return next && SP_IS_BAND_ROW (gtk_widget_get_first_child (next)) && gtk_widget_grab_focus (next);
}

/* Before the list's own keys, which take the space bar to select. */
static gboolean
key_pressed (GtkEventControllerKey *keys, guint key, guint code, GdkModifierType state, SpRadios *self)
{
  SpFindings *findings = sp_session_findings (self->session);
  SpBandItem *band = focused_band (self);
  guint condition = sp_session_condition (self->session);
  (void) keys, (void) code;
  if (state & (GDK_CONTROL_MASK | GDK_ALT_MASK | GDK_SHIFT_MASK) || !findings)
    return FALSE;
  if (key == GDK_KEY_Insert)
    gtk_widget_activate_action (GTK_WIDGET (self), "win.add-radio", NULL);
  else if (key == GDK_KEY_space && band)
    sp_session_show_waveband (self->session, sp_band_item_waveband (band), !band_shown (self, findings, sp_band_item_waveband (band)));
  else if (key == GDK_KEY_space)
    sp_session_show (self->session, condition, !sp_session_shows (self->session, condition));
  else if (key == GDK_KEY_Down || key == GDK_KEY_Up)
    return go_to_band (self, key == GDK_KEY_Down);
  else if (band && (key == GDK_KEY_Left || key == GDK_KEY_Right))
    set_folded (self, sp_band_item_waveband (band), key == GDK_KEY_Left);
  else
    return FALSE;
  return TRUE;
}

static void
sought (SpRadios *self)
{
  const char *text = gtk_editable_get_text (GTK_EDITABLE (self->search));
  g_free (self->sought);
  self->sought = *text ? g_utf8_casefold (text, -1) : NULL;
  follow_findings (self);
}

/* Until here Ctrl+Z is the typing's; from here on there is nothing to ask about when the window closes. */
static void
search_left (SpRadios *self)
{
  g_autofree char *text = sp_entry_text (self->search);
  sp_entry_fill (self->search, text);
}

static void
choose_first (SpRadios *self)
{
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (self->store)); i++) {
    g_autoptr (GObject) item = g_list_model_get_item (G_LIST_MODEL (self->store), i);
    if (SP_IS_FOUND_ITEM (item)) {
      gtk_single_selection_set_selected (self->selection, i);
      return;
    }
  }
}

/* Escape: all rows again, and the focus in them; Down: to what was found; Enter: chooses the first of it. */
static gboolean
left_search (GtkEventControllerKey *keys, guint key, guint code, GdkModifierType state, SpRadios *self)
{
  (void) keys, (void) code, (void) state;
  if (key != GDK_KEY_Escape && key != GDK_KEY_Down && key != GDK_KEY_Return && key != GDK_KEY_KP_Enter)
    return FALSE;
  if (key == GDK_KEY_Escape) {
    self->asked = FALSE;
    sp_entry_fill (self->search, "");
    sought (self);
  } else if (key != GDK_KEY_Down) {
    choose_first (self);
  }
  focus_rows (self);
  return TRUE;
}

void
sp_radios_find (SpRadios *self)
{
  self->asked = TRUE;
  gtk_widget_set_visible (self->search, TRUE);
  gtk_widget_grab_focus (self->search);
}

/* ---- the order ---- */

static void
set_order (GtkWidget *widget, const char *action, GVariant *target)
{
  SpSession *session = SP_RADIOS (widget)->session;
  (void) action;
  sp_session_set_order (session, (SpOrder) g_variant_get_int32 (target));
}

static void
toggle_bands (GtkWidget *widget, const char *action, GVariant *target)
{
  SpSession *session = SP_RADIOS (widget)->session;
  (void) action, (void) target;
  sp_session_set_by_band (session, !sp_session_by_band (session));
  sp_preferences_set (BANDS_APART, sp_session_by_band (session) ? NULL : "apart");
}

/* ---- the list ---- */

static gboolean
dropped (GtkDropTarget *target, const GValue *value, double x, double y, gpointer data)
{
  SpRadios *self = data;
  (void) target, (void) x, (void) y;
  sp_import_dropped (GTK_WIDGET (self), self->session, value, -1);
  return TRUE;
}

static void
take_drops (SpRadios *self, GtkWidget *widget)
{
  GtkDropTarget *target = gtk_drop_target_new (GDK_TYPE_FILE_LIST, GDK_ACTION_COPY);
  g_signal_connect (target, "drop", G_CALLBACK (dropped), self);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (target));
}

static void
sp_radios_finalize (GObject *object)
{
  g_hash_table_unref (SP_RADIOS (object)->folded);
  g_free (SP_RADIOS (object)->sought);
  g_clear_object (&SP_RADIOS (object)->session);
  G_OBJECT_CLASS (sp_radios_parent_class)->finalize (object);
}

static void
sp_radios_class_init (SpRadiosClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  sp_pages_style ();
  G_OBJECT_CLASS (klass)->finalize = sp_radios_finalize;
  gtk_widget_class_set_template_from_resource (widget, "/spurproof/pages/radios.ui");
#define PART(name) gtk_widget_class_bind_template_child (widget, SpRadios, name)
  PART (menu), PART (store), PART (selection), PART (unit), PART (list), PART (open), PART (unsettled), PART (wants_head), PART (wants);
  PART (drop), PART (title), PART (order), PART (search), PART (view), PART (keys);
#undef PART
#define DOES(name) gtk_widget_class_bind_template_callback (widget, name)
  DOES (set_up), DOES (bind), DOES (unbind), DOES (selected), DOES (activated), DOES (key_pressed), DOES (sought), DOES (left_search);
#undef DOES
  gtk_widget_class_install_action (widget, "radios.order", "i", set_order);
  gtk_widget_class_install_action (widget, "radios.bands", NULL, toggle_bands);
}

static void
sp_radios_init (SpRadios *self)
{
  self->folded = g_hash_table_new (NULL, NULL);
  gtk_widget_init_template (GTK_WIDGET (self));
  GtkEventController *focus = gtk_event_controller_focus_new ();
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (search_left), self);
  gtk_widget_add_controller (self->search, focus);
  sp_tip_set (self->unit, sp_words_meaning (SP_WORD_ROOM));
  GtkLabel *text = GTK_LABEL (gtk_button_get_child (GTK_BUTTON (self->drop))); /* the button's own, which names it */
  gtk_label_set_wrap (text, TRUE);
  gtk_label_set_justify (text, GTK_JUSTIFY_CENTER);
  take_drops (self, self->list);
  take_drops (self, self->drop);
  g_signal_connect (self, "map", G_CALLBACK (take_focus), NULL);
}

void
sp_radios_set_low (SpRadios *self, gboolean low)
{
  self->low = low;
  if (low)
    gtk_widget_add_css_class (GTK_WIDGET (self), "low");
  else
    gtk_widget_remove_css_class (GTK_WIDGET (self), "low");
  gtk_button_set_label (GTK_BUTTON (self->drop), low || gtk_widget_get_visible (self->search)
                                                     ? _ ("Drop trace exports here")
                                                     : _ ("Drop trace exports here: on a row, for that radio. Insert: a new radio"));
  gtk_widget_set_visible (self->keys, gtk_widget_get_visible (self->search) && !low);
  show_wants (self);
}

GtkWidget *
sp_radios_new (SpSession *session)
{
  SpRadios *self = g_object_new (SP_TYPE_RADIOS, NULL);
  g_autofree char *apart = sp_preferences_get (BANDS_APART);
  self->session = g_object_ref (session);
  sp_session_set_by_band (session, !apart);
  g_signal_connect_object (session, "notify::findings", G_CALLBACK (follow_findings), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "notify::order", G_CALLBACK (follow_findings), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "notify::condition", G_CALLBACK (follow_choice), self, G_CONNECT_SWAPPED);
  follow_findings (self);
  return GTK_WIDGET (self);
}
