/* drawing-area.h - a place of a page on which a figure is drawn, light or dark as the page is */
#pragma once

#include <gtk/gtk.h>

#include "ui/figure/pen/glyph.h"

typedef void (*SpPaperDraw) (SpPen *pen, const SpRect *rect, gpointer owner);

/* A drawing that fills its allocation; gtk_widget_queue_draw() when what it shows has changed. `owner` outlives it. */
GtkWidget *sp_paper_new (SpPaperDraw draw, gpointer owner);
/* The same of an area that a template made. */
void sp_paper_set (GtkWidget *drawing_area, SpPaperDraw draw, gpointer owner);

/* Ctrl+C, where it has the focus, copies what is drawn as a picture. */
void sp_paper_add_copying (GtkWidget *drawing_area, SpPaperDraw draw, gpointer owner);

#define SP_TYPE_GLYPH (sp_glyph_get_type ())
G_DECLARE_FINAL_TYPE (SpGlyph, sp_glyph, SP, GLYPH, GtkDrawingArea)

/* A verdict's glyph, at first none; the word stands beside it in a label. */
GtkWidget *sp_glyph_new (void);
/* Shows another; `there` FALSE: nothing. */
void sp_glyph_set (SpGlyph *glyph, gboolean there, SpVerdict verdict);

/* The resource with the pages' templates, and their part of the style, on the display. Any number of times. */
void sp_pages_style (void);

/* A pen whose points are the desktop's text size and whose colours its contrast; and the rectangle of a widget in these points. A place that GTK gives is
 * divided by sp_theme_text_scale(). */
SpPen *sp_widget_pen (cairo_t *cr, gboolean dark);
SpRect sp_widget_paper (GtkWidget *area);

/* TRUE where the style writes light on dark. */
gboolean sp_widget_is_dark (GtkWidget *widget);
