/* drawing-area.c - a place of a page on which a figure is drawn */
#include "ui/window/widgets/drawing-area.h"

#include "pages-resources.h"

typedef struct {
  SpPaperDraw draw;
  gpointer owner;
} Paper;

void
sp_pages_style (void)
{
  static gsize done;
  if (!g_once_init_enter (&done))
    return;
  g_resources_register (sp_pages_get_resource ());
  g_autoptr (GtkCssProvider) provider = gtk_css_provider_new ();
  gtk_css_provider_load_from_resource (provider, "/spurproof/pages/pages.css");
  gtk_style_context_add_provider_for_display (gdk_display_get_default (), GTK_STYLE_PROVIDER (provider),
                                              GTK_STYLE_PROVIDER_PRIORITY_APPLICATION + 1);
  g_once_init_leave (&done, 1);
}

gboolean
sp_widget_is_dark (GtkWidget *widget)
{
  GdkRGBA ink;
  gtk_style_context_get_color (gtk_widget_get_style_context (widget), &ink);
  return 0.3 * ink.red + 0.59 * ink.green + 0.11 * ink.blue > 0.5;
}

static void
draw_paper (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  const Paper *paper = data;
  g_autoptr (SpPen) pen = sp_pen_new (cr, sp_widget_is_dark (GTK_WIDGET (area)), NULL);
  SpRect rect = { 0, 0, width, height };
  paper->draw (pen, &rect, paper->owner);
}

GtkWidget *
sp_paper_new (SpPaperDraw draw, gpointer owner)
{
  GtkWidget *area = g_object_new (GTK_TYPE_DRAWING_AREA, "accessible-role", GTK_ACCESSIBLE_ROLE_IMG, NULL);
  Paper *paper = g_new (Paper, 1);
  *paper = (Paper){ draw, owner };
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (area), draw_paper, paper, g_free);
  return area;
}

static void
draw_glyph (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  int verdict = GPOINTER_TO_INT (g_object_get_data (G_OBJECT (area), "verdict")) - 1;
  (void) data;
  if (verdict < 0)
    return;
  g_autoptr (SpPen) pen = sp_pen_new (cr, sp_widget_is_dark (GTK_WIDGET (area)), NULL);
  sp_glyph_verdict (pen, width / 2.0, height / 2.0, 13, (SpVerdict) verdict);
}

GtkWidget *
sp_glyph_widget_new (void)
{
  GtkWidget *area = g_object_new (GTK_TYPE_DRAWING_AREA, "accessible-role", GTK_ACCESSIBLE_ROLE_PRESENTATION, NULL);
  gtk_drawing_area_set_content_width (GTK_DRAWING_AREA (area), 16);
  gtk_drawing_area_set_content_height (GTK_DRAWING_AREA (area), 16);
  gtk_widget_set_valign (area, GTK_ALIGN_CENTER);
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (area), draw_glyph, NULL, NULL);
  return area;
}

void
sp_glyph_widget_set (GtkWidget *widget, gboolean there, SpVerdict verdict)
{
  g_object_set_data (G_OBJECT (widget), "verdict", GINT_TO_POINTER (there ? (int) verdict + 1 : 0));
  gtk_widget_queue_draw (widget);
}
