/* export.c - the figure as the bytes of a file */
#include "ui/figure/figure.h"

#include "core/quantity/clean.h"
#include "core/quantity/error.h"
#include "ui/figure/few-colours.h"
#include "ui/figure/pdf.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <errno.h>
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#define PIXELS_A_POINT 2 /* of a plot alone: for paper */

gboolean
sp_figure_format_of (const char *path, SpFigureFormat *format, GError **error)
{
  static const char *const endings[] = { ".png", ".svg", ".pdf" };
  g_autofree char *lower = g_ascii_strdown (path, -1);
  for (guint i = 0; i < G_N_ELEMENTS (endings); i++)
    if (g_str_has_suffix (lower, endings[i])) {
      *format = (SpFigureFormat) i;
      return TRUE;
    }
  return sp_fail (error, SP_ERROR_USAGE, _ ("%s: the ending says what is drawn: .png, .svg or .pdf"), path);
}

static cairo_status_t
append (void *bytes, const unsigned char *data, unsigned length)
{
  g_byte_array_append (bytes, data, length);
  return CAIRO_STATUS_SUCCESS;
}

static void
describe (cairo_surface_t *surface, const SpBench *bench)
{
  g_autofree char *title = sp_clean (bench->title);
  if (title)
    cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_TITLE, title);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATOR, "Spurproof " SP_VERSION);
  /* Never the clock, so that the same bench gives the same bytes. An empty text leaves the date out. */
  g_autofree char *date = bench->date ? g_strconcat (bench->date, "T00:00:00Z", NULL) : g_strdup ("");
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATE_DATE, date);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_MOD_DATE, date);
}

static cairo_surface_t *
make_surface (SpFigureFormat format, double width, double height, GByteArray *bytes, const SpBench *bench)
{
  cairo_surface_t *surface;
  switch (format) {
  case SP_FIGURE_SVG:
    surface = cairo_svg_surface_create_for_stream (append, bytes, width, height);
    cairo_svg_surface_set_document_unit (surface, CAIRO_SVG_UNIT_PX);
    return surface;
  case SP_FIGURE_PDF:
    surface = cairo_pdf_surface_create_for_stream (append, bytes, width, height);
    describe (surface, bench);
    return surface;
  default: return cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int) round (width), (int) round (height));
  }
}

static gboolean
is_size (double width, double height, GError **error)
{
  if (width >= SP_FIGURE_LEAST_WIDTH && height >= SP_FIGURE_LEAST_HEIGHT && width <= SP_FIGURE_MOST && height <= SP_FIGURE_MOST)
    return TRUE;
  return sp_fail (error, SP_ERROR_USAGE, _ ("a figure of %.0fx%.0f: from %dx%d up to %dx%d can be drawn"), width, height,
                  SP_FIGURE_LEAST_WIDTH, SP_FIGURE_LEAST_HEIGHT, SP_FIGURE_MOST, SP_FIGURE_MOST);
}

/* The formats of pictures; of the others all was written while it was drawn. */
static cairo_status_t
write_picture (SpFigureFormat format, cairo_surface_t *surface, GByteArray *bytes)
{
  if (format == SP_FIGURE_PNG)
    return cairo_surface_write_to_png_stream (surface, append, bytes);
  if (format != SP_FIGURE_PNG_SMALL)
    return CAIRO_STATUS_SUCCESS;
  g_autoptr (GBytes) small = sp_png_of_few_colours (surface);
  if (!small)
    return CAIRO_STATUS_NO_MEMORY;
  g_byte_array_append (bytes, g_bytes_get_data (small, NULL), (guint) g_bytes_get_size (small));
  return CAIRO_STATUS_SUCCESS;
}

typedef gboolean (*Draw) (cairo_t *cr, double width, double height, const SpFindings *findings, const SpView *view);

static GBytes *
write_out (Draw draw, SpFigureFormat format, double width, double height, const SpFindings *findings, const SpView *view, GError **error)
{
  if (!is_size (width, height, error))
    return NULL;
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  errno = 0; /* sp_pen_failed () goes by it */
  cairo_surface_t *surface = make_surface (format, width, height, bytes, findings->bench);
  cairo_t *cr = cairo_create (surface);
  gboolean drawn = draw (cr, width, height, findings, view);
  cairo_status_t status = drawn ? cairo_status (cr) : CAIRO_STATUS_NO_MEMORY;
  if (status == CAIRO_STATUS_SUCCESS)
    status = write_picture (format, surface, bytes);
  cairo_destroy (cr);
  cairo_surface_finish (surface);
  if (status == CAIRO_STATUS_SUCCESS)
    status = cairo_surface_status (surface);
  cairo_surface_destroy (surface);
  if (status == CAIRO_STATUS_SUCCESS && errno == ENOMEM) /* pen.c says why */
    status = CAIRO_STATUS_NO_MEMORY;
  if (status == CAIRO_STATUS_SUCCESS && format == SP_FIGURE_PDF && !sp_pdf_is_whole ((const char *) bytes->data, bytes->len))
    status = CAIRO_STATUS_NO_MEMORY;
  if (status != CAIRO_STATUS_SUCCESS) {
    sp_fail (error, SP_ERROR_IO, _ ("the figure could not be drawn: %s"), cairo_status_to_string (status));
    return NULL;
  }
  return g_byte_array_free_to_bytes (g_steal_pointer (&bytes));
}

GBytes *
sp_figure_export (SpFigureFormat format, double width, double height, const SpFindings *findings, const SpView *view, GError **error)
{
  return write_out (sp_figure_draw, format, width, height, findings, view, error);
}

static gboolean
draw_plot (cairo_t *cr, double width, double height, const SpFindings *findings, const SpView *view)
{
  g_autoptr (SpPen) pen = sp_pen_new (cr, FALSE, view->font);
  SpRect sheet = { 0, 0, width / PIXELS_A_POINT, height / PIXELS_A_POINT };
  cairo_scale (cr, PIXELS_A_POINT, PIXELS_A_POINT);
  pen->palette = sp_palette_paper (TRUE);
  sp_pen_colour (pen, &pen->palette->sheet, 1);
  sp_pen_box (pen, &sheet);
  g_autoptr (SpPlot) plot = sp_plot_new (pen, findings, view, &sheet);
  sp_plot_draw (plot, pen);
  return !sp_pen_failed (pen);
}

GBytes *
sp_figure_export_plot (double width, double height, const SpFindings *findings, const SpView *view, GError **error)
{
  return write_out (draw_plot, SP_FIGURE_PNG_SMALL, width * PIXELS_A_POINT, height * PIXELS_A_POINT, findings, view, error);
}
