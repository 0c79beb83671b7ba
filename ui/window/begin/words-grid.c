/* words-grid.c - verdicts and origins with their marks, words and meanings */
#include "ui/window/begin/words-grid.h"

#include "ui/window/widgets/drawing-area.h"
#include "ui/window/widgets/theme.h"
#include "ui/words/help.h"

#define MARK 22 /* wide */
#define LINE 18 /* high */

static void
draw_origin (SpPen *pen, const SpRect *rect, gpointer origin)
{
  sp_glyph_origin (pen, rect->width / 2, rect->height / 2, 4.5, (SpOrigin) GPOINTER_TO_INT (origin), &pen->palette->ink);
}

static void
add_row (GtkGrid *grid, int row, GtkWidget *mark, const char *word, const char *means)
{
  GtkWidget *name = gtk_label_new (word), *text = gtk_label_new (means);
  gtk_widget_set_size_request (mark, sp_theme_text_px (MARK), sp_theme_text_px (LINE));
  gtk_widget_set_valign (mark, GTK_ALIGN_START);
  gtk_label_set_xalign (GTK_LABEL (name), 0);
  gtk_label_set_yalign (GTK_LABEL (name), 0);
  gtk_widget_add_css_class (name, "strong");
  gtk_label_set_xalign (GTK_LABEL (text), 0);
  gtk_label_set_yalign (GTK_LABEL (text), 0);
  gtk_label_set_wrap (GTK_LABEL (text), TRUE);
  gtk_label_set_width_chars (GTK_LABEL (text), 16);
  gtk_label_set_max_width_chars (GTK_LABEL (text), 46);
  gtk_grid_attach (grid, mark, 0, row, 1, 1);
  gtk_grid_attach (grid, name, 1, row, 1, 1);
  gtk_grid_attach (grid, text, 2, row, 1, 1);
}

void
sp_words_grid_verdicts (GtkGrid *grid)
{
  static const SpVerdict order[] = { SP_VERDICT_COMPLIES, SP_VERDICT_EXCEEDS, SP_VERDICT_INCONCLUSIVE, SP_VERDICT_NOT_PROVEN,
                                     SP_VERDICT_NO_LIMIT };
  for (int i = 0; i < (int) G_N_ELEMENTS (order); i++) {
    GtkWidget *glyph = sp_glyph_new ();
    sp_glyph_set (SP_GLYPH (glyph), TRUE, order[i]);
    add_row (grid, i, glyph, sp_words_verdict (order[i]), sp_words_verdict_means (order[i]));
  }
}

void
sp_words_grid_origins (GtkGrid *grid)
{
  for (int origin = SP_ORIGIN_RADIO; origin <= SP_ORIGIN_UNTESTED; origin++) {
    GtkWidget *mark = sp_paper_new (draw_origin, GINT_TO_POINTER (origin));
    gtk_accessible_update_property (GTK_ACCESSIBLE (mark), GTK_ACCESSIBLE_PROPERTY_LABEL, sp_words_origin ((SpOrigin) origin), -1);
    add_row (grid, origin, mark, sp_words_origin ((SpOrigin) origin), sp_words_origin_means ((SpOrigin) origin));
  }
}
