/* drawing-area.c - a place of a page on which a figure is drawn */
#include "ui/window/widgets/drawing-area.h"

#include "ui/window/widgets/theme.h"

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

SpPen *
sp_widget_pen (cairo_t *cr, gboolean dark)
{
  double scale = sp_theme_text_scale ();
  cairo_scale (cr, scale, scale);
  SpPen *pen = sp_pen_new (cr, dark, NULL);
  if (sp_theme_is_strong ())
    pen->palette = sp_palette_strong (dark);
  return pen;
}

SpRect
sp_widget_paper (GtkWidget *area)
{
  double scale = sp_theme_text_scale ();
  return (SpRect){ 0, 0, gtk_widget_get_width (area) / scale, gtk_widget_get_height (area) / scale };
}

static void
draw_paper (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  const Paper *paper = data;
  (void) width, (void) height;
  g_autoptr (SpPen) pen = sp_widget_pen (cr, sp_widget_is_dark (GTK_WIDGET (area)));
  SpRect rect = sp_widget_paper (GTK_WIDGET (area));
  paper->draw (pen, &rect, paper->owner);
}

/* As it stands on the screen, with its sheet. */
static gboolean
copy_picture (GtkWidget *area, GVariant *arguments, gpointer data)
{
  const Paper *paper = data;
  int scale = gtk_widget_get_scale_factor (area), width = gtk_widget_get_width (area) * scale,
      height = gtk_widget_get_height (area) * scale;
  (void) arguments;
  if (width <= 0 || height <= 0)
    return FALSE;
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, width, height);
  cairo_t *cr = cairo_create (surface);
  cairo_scale (cr, scale, scale);
  SpPen *pen = sp_widget_pen (cr, sp_widget_is_dark (area));
  SpRect rect = sp_widget_paper (area);
  sp_pen_colour (pen, &pen->palette->sheet, 1);
  cairo_paint (cr);
  paper->draw (pen, &rect, paper->owner);
  sp_pen_free (pen);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  gsize stride = (gsize) cairo_image_surface_get_stride (surface);
  if (cairo_surface_status (surface) == CAIRO_STATUS_SUCCESS) {
    g_autoptr (GBytes) bytes = g_bytes_new (cairo_image_surface_get_data (surface), stride * (gsize) height);
    g_autoptr (GdkTexture) texture = gdk_memory_texture_new (width, height, GDK_MEMORY_DEFAULT, bytes, stride);
    gdk_clipboard_set_texture (gtk_widget_get_clipboard (area), texture);
  }
  cairo_surface_destroy (surface);
  return TRUE;
}

void
sp_paper_add_copying (GtkWidget *drawing_area, SpPaperDraw draw, gpointer owner)
{
  Paper *paper = g_new (Paper, 1);
  *paper = (Paper){ draw, owner };
  GtkEventController *keys = gtk_shortcut_controller_new ();
  GtkShortcut *copy = gtk_shortcut_new (gtk_keyval_trigger_new (GDK_KEY_c, GDK_CONTROL_MASK),
                                        gtk_callback_action_new (copy_picture, paper, g_free));
  gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (keys), copy);
  gtk_widget_add_controller (drawing_area, keys);
}

void
sp_paper_set (GtkWidget *drawing_area, SpPaperDraw draw, gpointer owner)
{
  Paper *paper = g_new (Paper, 1);
  *paper = (Paper){ draw, owner };
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (drawing_area), draw_paper, paper, g_free);
}

GtkWidget *
sp_paper_new (SpPaperDraw draw, gpointer owner)
{
  GtkWidget *area = g_object_new (GTK_TYPE_DRAWING_AREA, "accessible-role", GTK_ACCESSIBLE_ROLE_IMG, NULL);
  sp_paper_set (area, draw, owner);
  return area;
}

/* ---- a verdict's glyph ---- */

struct _SpGlyph {
  GtkDrawingArea parent_instance;
  gboolean there;
  SpVerdict verdict;
};

G_DEFINE_FINAL_TYPE (SpGlyph, sp_glyph, GTK_TYPE_DRAWING_AREA)

static void
draw_glyph (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  const SpGlyph *self = SP_GLYPH (area);
  (void) data, (void) width, (void) height;
  if (!self->there)
    return;
  g_autoptr (SpPen) pen = sp_widget_pen (cr, sp_widget_is_dark (GTK_WIDGET (area)));
  SpRect rect = sp_widget_paper (GTK_WIDGET (area));
  sp_glyph_verdict (pen, rect.width / 2, rect.height / 2, 13, self->verdict);
}

static void
sp_glyph_class_init (SpGlyphClass *klass)
{
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (klass), GTK_ACCESSIBLE_ROLE_PRESENTATION);
}

static void
sp_glyph_init (SpGlyph *self)
{
  GtkDrawingArea *area = GTK_DRAWING_AREA (self);
  gtk_drawing_area_set_content_width (area, sp_theme_text_px (16));
  gtk_drawing_area_set_content_height (area, sp_theme_text_px (16));
  gtk_widget_set_valign (GTK_WIDGET (self), GTK_ALIGN_CENTER);
  gtk_drawing_area_set_draw_func (area, draw_glyph, NULL, NULL);
}

GtkWidget *
sp_glyph_new (void)
{
  return g_object_new (SP_TYPE_GLYPH, NULL);
}

void
sp_glyph_set (SpGlyph *glyph, gboolean there, SpVerdict verdict)
{
  glyph->there = there;
  glyph->verdict = verdict;
  gtk_widget_queue_draw (GTK_WIDGET (glyph));
}
