/* mind.c - the warnings of the chosen condition and of the bench, under the radios */
#include "ui/window/pages/mind.h"

#include <glib/gi18n-lib.h>

#include "core/findings/mind.h"
#include "ui/figure/pen/names.h"
#include "ui/window/widgets/drawing-area.h"
#include "ui/window/widgets/theme.h"
#include "ui/words/words.h"

#define CHARS 34 /* of a line beside the chart */
#define POPOVER_CHARS 60
#define MOST_HEIGHT 84 /* of the list; more is scrolled to */
#define FRAMES 10      /* in which the sentences are laid out, or are not to be seen */

#define SP_TYPE_MIND_LIST (sp_mind_list_get_type ())
G_DECLARE_FINAL_TYPE (SpMindList, sp_mind_list, SP, MIND_LIST, GtkWidget)

struct _SpMindList {
  GtkWidget parent_instance;
  SpSession *session;
  GtkWidget *whole, *head, *all, *scroller, *bench, *of_bench;
  gboolean low;
  guint ending; /* until the scroller ends on a whole line */
  int frames;   /* left for that */
};

G_DEFINE_FINAL_TYPE (SpMindList, sp_mind_list, GTK_TYPE_WIDGET)

static char *
sentence_of (const SpMind *mind)
{
  g_autofree char *said = sp_words_reason (mind->reason, SP_HAND_SCREEN);
  guint more = mind->n - 1;
  return more ? g_strdup_printf (ngettext ("%s (And %u more like it.)", "%s (And %u more like it.)", more), said, more)
              : g_steal_pointer (&said);
}

/* One label for each, wrapped at `chars`. (transfer full: floating) */
static GtkWidget *
sentences (const GArray *minds, int chars)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  gtk_widget_set_margin_start (box, 8);
  gtk_widget_set_margin_end (box, 8);
  gtk_widget_set_margin_bottom (box, 4);
  for (guint i = 0; i < minds->len; i++) {
    const SpMind *mind = &g_array_index (minds, SpMind, i);
    g_autofree char *said = sentence_of (mind);
    GtkWidget *label = gtk_label_new (said);
    gtk_label_set_wrap (GTK_LABEL (label), TRUE);
    gtk_label_set_xalign (GTK_LABEL (label), 0);
    gtk_label_set_width_chars (GTK_LABEL (label), chars);
    gtk_label_set_max_width_chars (GTK_LABEL (label), chars);
    gtk_widget_add_css_class (label, "small");
    if (mind->weighs)
      gtk_widget_add_css_class (label, "strong");
    gtk_box_append (GTK_BOX (box), label);
  }
  return box;
}

/* The greatest height up to the most that ends below a whole line of a sentence; 0: not laid out yet. */
static int
whole_lines (GtkWidget *box, int most)
{
  double best = 0;
  for (GtkWidget *label = gtk_widget_get_first_child (box); label; label = gtk_widget_get_next_sibling (label)) {
    int x, y;
    double left, top;
    gtk_label_get_layout_offsets (GTK_LABEL (label), &x, &y);
    if (!gtk_widget_translate_coordinates (label, box, 0, 0, &left, &top))
      continue;
    PangoLayoutIter *lines = pango_layout_get_iter (gtk_label_get_layout (GTK_LABEL (label)));
    do {
      PangoRectangle line;
      pango_layout_iter_get_line_extents (lines, NULL, &line);
      double bottom = top + y + PANGO_PIXELS_CEIL (line.y + line.height) + 1;
      best = bottom <= most ? MAX (best, bottom) : best;
    } while (pango_layout_iter_next_line (lines));
    pango_layout_iter_free (lines);
  }
  return gtk_widget_get_height (box) > 0 ? (int) best : 0;
}

/* Once the sentences are laid out. */
static gboolean
end_on_a_line (GtkWidget *widget, GdkFrameClock *clock, void *data)
{
  SpMindList *self = SP_MIND_LIST (widget);
  GtkWidget *viewport = gtk_scrolled_window_get_child (GTK_SCROLLED_WINDOW (self->scroller)),
            *box = viewport ? gtk_viewport_get_child (GTK_VIEWPORT (viewport)) : NULL;
  (void) clock, (void) data;
  int height = box ? whole_lines (box, sp_theme_text_px (MOST_HEIGHT)) : 0;
  if (height <= 0 && --self->frames > 0)
    return G_SOURCE_CONTINUE;
  if (height > 0)
    gtk_scrolled_window_set_max_content_height (GTK_SCROLLED_WINDOW (self->scroller), height);
  self->ending = 0;
  return G_SOURCE_REMOVE;
}

static void
show_head (GtkWidget *button, GtkWidget *popover, const GArray *minds, char *head)
{
  g_autofree char *text = head;
  gtk_menu_button_set_label (GTK_MENU_BUTTON (button), text);
  gtk_widget_set_visible (button, minds->len > 0);
  gtk_popover_set_child (GTK_POPOVER (popover), sentences (minds, POPOVER_CHARS));
}

static void
end_soon (SpMindList *self)
{
  if (self->ending)
    gtk_widget_remove_tick_callback (GTK_WIDGET (self), self->ending);
  self->frames = FRAMES;
  self->ending = gtk_widget_add_tick_callback (GTK_WIDGET (self), end_on_a_line, NULL, NULL);
}

static void
follow (SpMindList *self)
{
  SpFindings *findings = sp_session_findings (self->session);
  const SpConditionFindings *found = sp_session_found (self->session);
  gtk_widget_set_visible (GTK_WIDGET (self), found != NULL);
  if (!found)
    return;
  g_autoptr (GArray) own = sp_findings_mind (findings, sp_session_condition (self->session));
  g_autoptr (GArray) of_all = sp_findings_mind (findings, SP_MIND_BENCH);
  g_autofree char *name = sp_name_short (findings, sp_session_condition (self->session));
  show_head (self->head, self->all, own,
             g_strdup_printf (ngettext ("%s: %u thing to mind", "%s: %u things to mind", own->len), name, own->len));
  show_head (self->bench, self->of_bench, of_all, g_strdup_printf (_ ("For the whole bench: %u"), of_all->len));
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->scroller), sentences (own, CHARS));
  gtk_widget_set_visible (self->scroller, own->len > 0 && !self->low);
  if (gtk_widget_get_mapped (GTK_WIDGET (self)))
    end_soon (self);
}

static void
sp_mind_list_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), SP_TYPE_MIND_LIST);
  g_clear_object (&SP_MIND_LIST (object)->session);
  G_OBJECT_CLASS (sp_mind_list_parent_class)->dispose (object);
}

static void
sp_mind_list_class_init (SpMindListClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  sp_pages_style ();
  G_OBJECT_CLASS (klass)->dispose = sp_mind_list_dispose;
  gtk_widget_class_set_template_from_resource (widget, "/spurproof/pages/mind.ui");
  gtk_widget_class_bind_template_child (widget, SpMindList, whole); /* what is not bound is not disposed of */
  gtk_widget_class_bind_template_child (widget, SpMindList, head);
  gtk_widget_class_bind_template_child (widget, SpMindList, all);
  gtk_widget_class_bind_template_child (widget, SpMindList, scroller);
  gtk_widget_class_bind_template_child (widget, SpMindList, bench);
  gtk_widget_class_bind_template_child (widget, SpMindList, of_bench);
}

static void
sp_mind_list_init (SpMindList *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

void
sp_mind_set_low (GtkWidget *mind, gboolean low)
{
  SpMindList *self = SP_MIND_LIST (mind);
  self->low = low;
  follow (self);
}

GtkWidget *
sp_mind_new (SpSession *session)
{
  SpMindList *self = g_object_new (SP_TYPE_MIND_LIST, NULL);
  self->session = g_object_ref (session);
  gtk_scrolled_window_set_max_content_height (GTK_SCROLLED_WINDOW (self->scroller), sp_theme_text_px (MOST_HEIGHT));
  g_signal_connect (self, "map", G_CALLBACK (end_soon), NULL);
  g_signal_connect_object (session, "notify::findings", G_CALLBACK (follow), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "notify::condition", G_CALLBACK (follow), self, G_CONNECT_SWAPPED);
  follow (self);
  return GTK_WIDGET (self);
}
