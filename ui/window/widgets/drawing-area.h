/* drawing-area.h - a place of a page on which a figure is drawn, light or dark as the page is
 */
#pragma once

#include <gtk/gtk.h>

#include "ui/figure/pen/glyph.h"

typedef void (*SpPaperDraw) (SpPen *pen, const SpRect *rect, gpointer owner);

/* A drawing that fills its allocation; gtk_widget_queue_draw() when what it shows has changed. `owner` outlives it. */
GtkWidget *sp_paper_new (SpPaperDraw draw, gpointer owner);

/* A verdict's glyph; the word stands beside it in a label. sp_glyph_widget_set() shows another; `there` FALSE: nothing. */
GtkWidget *sp_glyph_widget_new (void);
void sp_glyph_widget_set (GtkWidget *widget, gboolean there, SpVerdict verdict);

/* The resource with the pages' templates, and their part of the style, on the display. Any number of times. */
void sp_pages_style (void);

/* TRUE where the style writes light on dark. */
gboolean sp_widget_is_dark (GtkWidget *widget);
