/* why-view.c - one verdict explained in eight cells */
#include "ui/window/begin/why-view.h"

#include <glib/gi18n-lib.h>

#include "ui/figure/why.h"
#include "ui/window/begin/cells-layout.h"
#include "ui/window/widgets/drawing-area.h"
#include "ui/window/widgets/theme.h"
#include "ui/words/help.h"

#define SP_TYPE_WHY_VIEW (sp_why_view_get_type ())
G_DECLARE_FINAL_TYPE (SpWhyView, sp_why_view, SP, WHY_VIEW, GtkWidget)

typedef struct {
  SpWhyView *view;
  SpWhyStep step;
  GtkWidget *figure, *picture, *says;
} Cell;

struct _SpWhyView {
  GtkWidget parent_instance;
  SpSession *session;
  SpWhy *why; /* as shown; NULL: nothing is chosen */
  Cell cell[SP_WHY_STEPS];
  /* of the template */
  GtkWidget *whole, *title, *statement, *before, *after, *scroller, *cells;
  SpGlyph *glyph;
};

G_DEFINE_FINAL_TYPE (SpWhyView, sp_why_view, GTK_TYPE_WIDGET)

static void
draw (SpPen *pen, const SpRect *rect, gpointer data)
{
  const Cell *cell = data;
  if (cell->view->why)
    sp_why_draw (pen, cell->view->why, cell->step, rect);
}

/* ---- what is shown ---- */

static void
show_title (SpWhyView *self)
{
  const SpWhy *why = self->why;
  const SpEmission *e = why->emission;
  g_autofree char *name = sp_words_emission (e, SP_HAND_SCREEN), *place = sp_words_frequency (e->frequency_hz, 1e5, SP_HAND_SCREEN);
  g_autofree char *asked = g_strdup_printf (_ ("Why %s?"), sp_words_verdict (e->verdict));
  g_autofree char *what = e->order ? g_strdup_printf (_ ("%s, %s at %s"), why->found->name, name, place)
                                   : g_strdup_printf ("%s, %s", why->found->name, name);
  g_autofree char *markup = g_markup_printf_escaped ("<b>%s</b>  <span weight=\"normal\">%s</span>", asked, what),
                  *spoken = g_strdup_printf ("%s %s", asked, what);
  sp_glyph_set (self->glyph, TRUE, e->verdict);
  gtk_label_set_markup (GTK_LABEL (self->title), markup);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken, -1);
}

/* Where the condition has another verdict than its emission: what it goes by is not on this page. */
static void
show_statement (SpWhyView *self)
{
  const SpConditionFindings *found = self->why->found;
  g_autofree char *said = sp_words_statement (found, SP_HAND_SCREEN), *of = g_strdup_printf (_ ("%s as a whole: %s"), found->name, said);
  gtk_label_set_text (GTK_LABEL (self->statement), of);
  gtk_widget_set_visible (self->statement, found->verdict != self->why->emission->verdict);
}

static void
show_cell (Cell *cell)
{
  const SpWhy *why = cell->view->why;
  g_autofree char *figure = sp_words_why_figure (why, cell->step, SP_HAND_SCREEN),
                  *says = sp_words_why_says (why, cell->step, SP_HAND_SCREEN);
  gtk_label_set_text (GTK_LABEL (cell->figure), figure);
  gtk_label_set_text (GTK_LABEL (cell->says), says);
  if (!cell->picture)
    return;
  gtk_accessible_update_property (GTK_ACCESSIBLE (cell->picture), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, says, -1);
  gtk_widget_queue_draw (cell->picture);
}

static void
follow (SpWhyView *self)
{
  SpFindings *findings = sp_session_findings (self->session);
  if (!gtk_widget_get_mapped (GTK_WIDGET (self)))
    return;
  g_clear_pointer (&self->why, sp_why_free);
  self->why = findings ? sp_why (findings, sp_session_condition (self->session), sp_session_emission (self->session)) : NULL;
  gtk_widget_set_visible (self->scroller, self->why != NULL);
  if (!self->why) {
    sp_glyph_set (self->glyph, FALSE, SP_VERDICT_NO_LIMIT);
    gtk_widget_set_visible (self->statement, FALSE);
    gtk_label_set_text (GTK_LABEL (self->title), _ ("No emission is chosen."));
    return;
  }
  show_title (self);
  show_statement (self);
  for (int step = 0; step < SP_WHY_STEPS; step++)
    show_cell (&self->cell[step]);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "why.before", self->why->index > 0);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "why.after", self->why->index + 1 < (int) self->why->found->n_emissions);
}

static void
step_emission (GtkWidget *widget, const char *action, GVariant *parameter)
{
  SpWhyView *self = SP_WHY_VIEW (widget);
  (void) parameter;
  int next = self->why ? self->why->index + (g_str_has_suffix (action, "after") ? 1 : -1) : -1;
  if (next >= 0 && next < (int) self->why->found->n_emissions)
    sp_session_choose (self->session, self->why->condition, next);
}

static void
follow_theme (gpointer view)
{
  SpWhyView *self = view;
  for (int step = 0; step < SP_WHY_STEPS; step++)
    if (self->cell[step].picture)
      gtk_widget_queue_draw (self->cell[step].picture);
}

/* ---- the cells ---- */

static GtkWidget *
new_label (const char *text, const char *style)
{
  GtkWidget *label = gtk_label_new (text);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_add_css_class (label, style);
  return label;
}

static GtkWidget *
new_head (Cell *cell)
{
  GtkWidget *head = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  g_autofree char *number = g_strdup_printf ("%d", cell->step + 1);
  GtkWidget *title = new_label (sp_words_why_title (cell->step), "strong");
  cell->figure = new_label ("", "strong");
  gtk_widget_set_hexpand (title, TRUE);
  gtk_label_set_ellipsize (GTK_LABEL (title), PANGO_ELLIPSIZE_END);
  gtk_label_set_ellipsize (GTK_LABEL (cell->figure), PANGO_ELLIPSIZE_END);
  gtk_box_append (GTK_BOX (head), new_label (number, "why-number"));
  gtk_box_append (GTK_BOX (head), title);
  gtk_box_append (GTK_BOX (head), cell->figure);
  gtk_widget_add_css_class (head, "underlined");
  return head;
}

static GtkWidget *
new_button (const char *text, const char *action)
{
  GtkWidget *button = gtk_button_new_with_label (text);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), action);
  gtk_widget_add_css_class (button, "boxed");
  return button;
}

static GtkWidget *
new_buttons (void)
{
  GtkWidget *buttons = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  gtk_box_append (GTK_BOX (buttons), new_button (_ ("All terms…"), "win.budget"));
  gtk_box_append (GTK_BOX (buttons), new_button (_ ("What would move…"), "win.moves"));
  gtk_widget_set_margin_top (buttons, 8);
  return buttons;
}

static GtkWidget *
new_cell (SpWhyView *self, SpWhyStep step)
{
  Cell *cell = &self->cell[step];
  GtkWidget *box = g_object_new (GTK_TYPE_BOX, "orientation", GTK_ORIENTATION_VERTICAL, "spacing", 6, "accessible-role",
                                 GTK_ACCESSIBLE_ROLE_GROUP, NULL);
  cell->view = self;
  cell->step = step;
  gtk_box_append (GTK_BOX (box), new_head (cell));
  if (step != SP_WHY_SETTLE) {
    cell->picture = sp_paper_new (draw, cell);
    gtk_widget_set_size_request (cell->picture, -1, sp_theme_text_px (SP_WHY_PICTURE_HEIGHT));
    gtk_widget_set_vexpand (cell->picture, TRUE);
    gtk_accessible_update_property (GTK_ACCESSIBLE (cell->picture), GTK_ACCESSIBLE_PROPERTY_LABEL, sp_words_why_title (step), -1);
    gtk_box_append (GTK_BOX (box), cell->picture);
  }
  cell->says = new_label ("", "why-says");
  gtk_label_set_wrap (GTK_LABEL (cell->says), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (cell->says), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_yalign (GTK_LABEL (cell->says), 0);
  gtk_box_append (GTK_BOX (box), cell->says);
  if (step == SP_WHY_SETTLE)
    gtk_box_append (GTK_BOX (box), new_buttons ());
  gtk_accessible_update_property (GTK_ACCESSIBLE (box), GTK_ACCESSIBLE_PROPERTY_LABEL, sp_words_why_title (step), -1);
  return box;
}

/* It scrolls by keys then. */
static gboolean
sp_why_view_grab_focus (GtkWidget *widget)
{
  return gtk_widget_grab_focus (SP_WHY_VIEW (widget)->scroller);
}

static void
sp_why_view_dispose (GObject *object)
{
  SpWhyView *self = SP_WHY_VIEW (object);
  gtk_widget_dispose_template (GTK_WIDGET (object), SP_TYPE_WHY_VIEW);
  g_clear_pointer (&self->why, sp_why_free);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (sp_why_view_parent_class)->dispose (object);
}

static void
sp_why_view_class_init (SpWhyViewClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  sp_pages_style ();
  g_type_ensure (SP_TYPE_GLYPH);
  G_OBJECT_CLASS (klass)->dispose = sp_why_view_dispose;
  widget->grab_focus = sp_why_view_grab_focus;
  gtk_widget_class_set_accessible_role (widget, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_widget_class_set_template_from_resource (widget, "/spurproof/pages/why-view.ui");
#define PART(name) gtk_widget_class_bind_template_child (widget, SpWhyView, name)
  PART (whole), PART (title), PART (statement), PART (before), PART (after), PART (scroller), PART (cells), PART (glyph);
#undef PART
  gtk_widget_class_install_action (widget, "why.before", NULL, step_emission);
  gtk_widget_class_install_action (widget, "why.after", NULL, step_emission);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_Left, 0, "why.before", NULL);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_Right, 0, "why.after", NULL);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_Escape, 0, "win.page", "s", "spectrum");
}

static void
sp_why_view_init (SpWhyView *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  gtk_widget_set_layout_manager (self->cells, sp_cells_layout_new ());
  for (int step = 0; step < SP_WHY_STEPS; step++)
    gtk_box_append (GTK_BOX (self->cells), new_cell (self, (SpWhyStep) step));
  g_signal_connect_after (self, "map", G_CALLBACK (follow), NULL);
}

GtkWidget *
sp_why_view_new (SpSession *session)
{
  SpWhyView *self = g_object_new (SP_TYPE_WHY_VIEW, NULL);
  self->session = g_object_ref (session);
  g_signal_connect_object (session, "notify::findings", G_CALLBACK (follow), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "notify::condition", G_CALLBACK (follow), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "notify::emission", G_CALLBACK (follow), self, G_CONNECT_SWAPPED);
  sp_theme_watch (G_OBJECT (self), follow_theme);
  return GTK_WIDGET (self);
}
