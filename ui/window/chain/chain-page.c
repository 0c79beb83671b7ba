/* chain-page.c - a chain of the bench, at first that of the chosen condition: its stages, the chosen one's keys, points and curve, and what all of it loses */
#include "ui/window/chain/chain-page.h"

#include <glib/gi18n-lib.h>

#include "ui/figure/losscurve.h"
#include "ui/window/chain/chain-page-private.h"
#include "ui/window/widgets/drawing-area.h"

G_DEFINE_FINAL_TYPE (SpChainPage, sp_chain_page, GTK_TYPE_WIDGET)

const SpStage *
sp_chain_page_stage (SpChainPage *self)
{
  return self->chain && self->stage < self->chain->n ? self->chain->stages[self->stage] : NULL;
}

gboolean
sp_chain_page_edit (SpChainPage *self, SpChain *edited, const char *label)
{
  return sp_chain_edit_at (self->session, self->place, edited, label, NULL);
}

/* Typed by hand; those of a two-port or a run are its own. */
gboolean
sp_chain_page_has_points (SpChainPage *self)
{
  const SpStage *stage = sp_chain_page_stage (self);
  return stage && !stage->two_port && !stage->run;
}

static void
draw_curve (SpPen *pen, const SpRect *rect, gpointer owner)
{
  SpChainPage *self = owner;
  if (self->chain)
    sp_loss_curve_draw (pen, self->chain, self->stage, rect);
}

static void
show_stage (SpChainPage *self, gboolean another)
{
  const SpStage *stage = sp_chain_page_stage (self);
  g_autofree char *says = stage ? sp_loss_curve_says (self->chain, self->stage) : NULL;
  gtk_label_set_text (GTK_LABEL (self->stage_name), stage ? stage->name : "");
  gtk_widget_set_sensitive (self->stage_fields, stage != NULL);
  sp_fields_refresh (SP_FIELDS (self->stage_fields), another);
  gtk_widget_set_sensitive (GTK_WIDGET (self->pictures), stage != NULL);
  sp_pictures_follow (self->pictures);
  sp_chain_page_fill_points (self);
  gtk_widget_set_visible (self->points_buttons, sp_chain_page_has_points (self));
  gtk_widget_set_visible (self->run_buttons, stage && stage->run);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->curve), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Loss against frequency"),
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, says ? says : "", -1);
  gtk_widget_queue_draw (self->curve);
}

static void
enable_actions (SpChainPage *self)
{
  static const char *const names[] = { "add",          "duplicate",    "remove",    "up",          "down",     "add-point",
                                       "remove-point", "paste-points", "calibrate", "keep-points", "take-file" };
  guint n = self->chain ? self->chain->n : 0;
  const SpStage *stage = sp_chain_page_stage (self);
  gboolean points = sp_chain_page_has_points (self), run = stage && stage->run;
  gboolean enabled[] = {
    n > 0,         stage != NULL, n > 1,        self->stage > 0 && n > 0, self->stage + 1 < n, points, points && stage->loss, points,
    stage != NULL, run,           stage != NULL
  };
  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    g_simple_action_set_enabled (G_SIMPLE_ACTION (g_action_map_lookup_action (self->actions, names[i])), enabled[i]);
}

/* Than is shown: another book, chain or stage; not another index of the same. */
static gboolean
is_another (SpChainPage *self)
{
  const SpStage *stage = sp_chain_page_stage (self);
  char *now = g_strdup_printf ("%p %d %d %s %s", (void *) sp_session_book (self->session), self->place.condition, (int) self->place.purpose,
                               self->chain ? self->chain->name : "", stage ? stage->name : "");
  gboolean another = g_strcmp0 (now, self->shown) != 0;
  g_free (self->shown);
  self->shown = now;
  return another;
}

void
sp_chain_page_choose (SpChainPage *self, guint stage)
{
  self->stage = stage;
  show_stage (self, is_another (self));
  enable_actions (self);
  sp_chain_page_fill_totals (self);
}

void
sp_chain_page_show_stage (GtkWidget *page, guint stage)
{
  SpChainPage *self = SP_CHAIN_PAGE (page);
  self->place = sp_chain_place_in_use (self->session); /* the staircase's */
  sp_chain_page_follow_chain (self);
  if (!self->chain || stage >= self->chain->n)
    return;
  sp_chain_page_choose (self, stage);
  sp_chain_page_fill_stages (self);
  gtk_widget_grab_focus (GTK_WIDGET (gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), (int) stage)));
}

/* Another bench, another condition with a chain of its own, another place; a place that went with an undo gives way to the condition's. */
void
sp_chain_page_follow_chain (SpChainPage *self)
{
  if (!sp_chain_at (self->session, self->place))
    self->place = sp_chain_place_in_use (self->session);
  sp_chain_page_fill_places (self);
  SpChain *chain = sp_chain_at (self->session, self->place);
  if (chain == self->chain)
    return;
  g_clear_pointer (&self->chain, sp_chain_unref);
  self->chain = chain ? sp_chain_ref (chain) : NULL;
  if (self->stage >= (chain ? chain->n : 0))
    self->stage = chain ? chain->n - 1 : 0;
  gtk_label_set_text (GTK_LABEL (self->chain_name), chain ? chain->name : _ ("No chain on this bench"));
  gtk_widget_set_sensitive (self->chain_fields, chain != NULL);
  gboolean another = is_another (self);
  sp_fields_refresh (SP_FIELDS (self->chain_fields), another);
  sp_chain_page_fill_stages (self);
  show_stage (self, another);
  enable_actions (self);
  sp_chain_page_fill_totals (self);
}

static void
follow_findings (SpChainPage *self)
{
  sp_chain_page_fill_stages (self);
  sp_chain_page_fill_totals (self);
}

static void
follow_judging (SpChainPage *self)
{
  if (sp_session_judging (self->session))
    gtk_widget_add_css_class (self->totals, "judging");
  else
    gtk_widget_remove_css_class (self->totals, "judging");
}

static void
follow_condition (SpChainPage *self)
{
  if ((guint) self->place.condition != sp_session_condition (self->session)) /* else it was chosen with this place */
    self->place = sp_chain_place_in_use (self->session);
  sp_chain_page_follow_chain (self);
  follow_findings (self);
}

GtkWidget *
sp_chain_page_new (SpSession *session)
{
  SpChainPage *self = g_object_new (SP_TYPE_CHAIN_PAGE, NULL);
  self->session = g_object_ref (session);
  g_signal_connect_object (session, "notify::title", G_CALLBACK (sp_chain_page_follow_chain), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "notify::condition", G_CALLBACK (follow_condition), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "notify::findings", G_CALLBACK (follow_findings), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "notify::judging", G_CALLBACK (follow_judging), self, G_CONNECT_SWAPPED);
  self->place = sp_chain_place_in_use (session);
  sp_chain_page_follow_chain (self);
  follow_judging (self);
  return GTK_WIDGET (self);
}

/* Coming from outside, the chosen stage is first: before the page has a size, GTK cannot tell what is. */
static gboolean
sp_chain_page_focus (GtkWidget *widget, GtkDirectionType direction)
{
  SpChainPage *self = SP_CHAIN_PAGE (widget);
  GtkListBoxRow *row = gtk_list_box_get_selected_row (GTK_LIST_BOX (self->list));
  if (row && direction == GTK_DIR_TAB_FORWARD && !gtk_widget_get_focus_child (widget) && gtk_widget_grab_focus (GTK_WIDGET (row)))
    return TRUE;
  return GTK_WIDGET_CLASS (sp_chain_page_parent_class)->focus (widget, direction);
}

static void
sp_chain_page_dispose (GObject *object)
{
  SpChainPage *self = SP_CHAIN_PAGE (object);
  g_clear_handle_id (&self->points_source, g_source_remove);
  gtk_widget_dispose_template (GTK_WIDGET (self), SP_TYPE_CHAIN_PAGE);
  g_clear_object (&self->actions);
  g_clear_object (&self->points);
  g_clear_object (&self->points_selection);
  G_OBJECT_CLASS (sp_chain_page_parent_class)->dispose (object);
}

static void
sp_chain_page_finalize (GObject *object)
{
  SpChainPage *self = SP_CHAIN_PAGE (object);
  g_clear_pointer (&self->chain, sp_chain_unref);
  g_clear_pointer (&self->place_list, g_array_unref);
  g_free (self->shown);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (sp_chain_page_parent_class)->finalize (object);
}

#define BIND(member) gtk_widget_class_bind_template_child (widget, SpChainPage, member)

static void
sp_chain_page_class_init (SpChainPageClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  G_OBJECT_CLASS (klass)->dispose = sp_chain_page_dispose;
  G_OBJECT_CLASS (klass)->finalize = sp_chain_page_finalize;
  widget->focus = sp_chain_page_focus;
  sp_pages_style ();
  gtk_widget_class_set_css_name (widget, "chainpage");
  gtk_widget_class_set_layout_manager_type (widget, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget, "/spurproof/pages/chain-page.ui");
  BIND (whole); /* only a bound child is taken down with the template */
  BIND (chain_name);
  BIND (places);
  BIND (list);
  BIND (analyzer_line);
  BIND (add_button);
  BIND (chain_holder);
  BIND (stage_name);
  BIND (curve_holder);
  BIND (points_view);
  BIND (points_trouble);
  BIND (points_buttons);
  BIND (run_buttons);
  BIND (stage_holder);
  BIND (totals);
}

static void
sp_chain_page_init (SpChainPage *self)
{
  self->actions = G_ACTION_MAP (g_simple_action_group_new ());
  gtk_widget_init_template (GTK_WIDGET (self));
  self->curve = sp_paper_new (draw_curve, self);
  gtk_drawing_area_set_content_height (GTK_DRAWING_AREA (self->curve), 152);
  gtk_widget_set_hexpand (self->curve, TRUE);
  gtk_widget_set_vexpand (self->curve, TRUE);
  gtk_box_append (GTK_BOX (self->curve_holder), self->curve);
  sp_chain_page_set_up_places (self);
  sp_chain_page_set_up_fields (self);
  sp_chain_page_set_up_points (self);
  sp_chain_page_set_up_stages (self);
  sp_chain_page_set_up_files (self);
}
