/* whose.c - the mark and the word of what is not the radio's */
#include "ui/window/pages/whose.h"

#include "ui/window/widgets/drawing-area.h"
#include "ui/words/words.h"

#define MARK 14

struct _SpWhose {
  GtkBox parent_instance;
  SpOrigin origin;
  GtkWidget *mark, *word;
};

G_DEFINE_FINAL_TYPE (SpWhose, sp_whose, GTK_TYPE_BOX)

static void
draw_mark (SpPen *pen, const SpRect *rect, gpointer owner)
{
  const SpWhose *self = owner;
  sp_glyph_origin (pen, rect->width / 2, rect->height / 2, 3.5, self->origin, &pen->palette->ink);
}

static void
sp_whose_class_init (SpWhoseClass *klass)
{
  (void) klass;
}

static void
sp_whose_init (SpWhose *self)
{
  self->mark = sp_paper_new (draw_mark, self);
  self->word = gtk_label_new ("");
  gtk_drawing_area_set_content_width (GTK_DRAWING_AREA (self->mark), MARK);
  gtk_drawing_area_set_content_height (GTK_DRAWING_AREA (self->mark), MARK);
  gtk_widget_set_valign (self->mark, GTK_ALIGN_CENTER);
  gtk_widget_add_css_class (self->word, "soft");
  gtk_box_append (GTK_BOX (self), self->mark);
  gtk_box_append (GTK_BOX (self), self->word);
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}

GtkWidget *
sp_whose_new (void)
{
  return g_object_new (SP_TYPE_WHOSE, NULL);
}

void
sp_whose_set (SpWhose *self, SpOrigin origin)
{
  self->origin = origin;
  gtk_label_set_text (GTK_LABEL (self->word), sp_words_origin (origin));
  gtk_widget_set_visible (GTK_WIDGET (self), origin != SP_ORIGIN_NONE && origin != SP_ORIGIN_RADIO);
  gtk_widget_queue_draw (self->mark);
}
