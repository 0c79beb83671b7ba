/* figure-files.c - every figure of a paper as a file of its own, and their captions */
#include "ui/paper/private.h"

#include "core/quantity/clean.h"
#include "core/quantity/error.h"
#include "core/quantity/file.h"
#include "ui/figure/pdf.h"
#include "ui/paper/figure-sheets.h"

#include <cairo-pdf.h>
#include <errno.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <string.h>

#define MM_PER_INCH 25.4
#define POINTS_PER_INCH 72.0

void
sp_figures_asked_init (SpFiguresAsked *asked)
{
  *asked = (SpFiguresAsked){ TRUE, TRUE, TRUE, 160, 300, SP_FIGURES_PAPER };
}

/* ---- one drawing ---- */

typedef struct {
  const SpPaper *paper;
  const SpFiguresAsked *asked;
  const FigureSheet *sheet;
} Drawing;

static const SpPalette *
palette_of (const Drawing *d)
{
  gboolean alone = d->sheet->figure->kind != SP_FIGURE_OVERLAY && d->sheet->figure->kind != SP_FIGURE_MARGINS;
  switch (d->asked->ink) {
  case SP_FIGURES_DARK: return sp_palette (TRUE);
  case SP_FIGURES_GREY: return sp_palette_grey (alone);
  default: return sp_palette_paper (alone);
  }
}

static void
paint_sheet (cairo_t *cr, const Drawing *d)
{
  const SpColour *sheet = &palette_of (d)->sheet;
  cairo_set_source_rgb (cr, sheet->red, sheet->green, sheet->blue);
  cairo_paint (cr);
}

static gboolean
draw (cairo_t *cr, gpointer data)
{
  const Drawing *d = data;
  const FigureSheet *sheet = d->sheet;
  return draw_figure_as (cr, d->paper->findings, sheet->figure, &sheet->axes, palette_of (d), sheet->width, sheet->height);
}

static gboolean
draw_on_sheet (cairo_t *cr, gpointer data)
{
  paint_sheet (cr, data);
  return draw (cr, data);
}

static cairo_status_t
append (void *bytes, const unsigned char *data, unsigned length)
{
  g_byte_array_append (bytes, data, length);
  return CAIRO_STATUS_SUCCESS;
}

/* ---- SVG, PDF, PNG ---- */

static gboolean
make_svg (const Drawing *d, GByteArray *bytes)
{
  const FigureSheet *sheet = d->sheet;
  char sides[2][G_ASCII_DTOSTR_BUF_SIZE];
  g_ascii_formatd (sides[0], sizeof sides[0], "%.6g", d->asked->width_mm);
  g_ascii_formatd (sides[1], sizeof sides[1], "%.6g", sheet->height * MM_PER_INCH / POINTS_PER_INCH);
  g_autofree char *size = g_strdup_printf ("width=\"%smm\" height=\"%smm\"", sides[0], sides[1]);
  g_autoptr (GString) svg = g_string_new ("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
  gboolean drawn = svg_add (svg, 1, size, sheet->width, sheet->height, sheet->title, sheet->alt, draw_on_sheet, (gpointer) d);
  append (bytes, (const unsigned char *) svg->str, (unsigned) svg->len);
  return drawn;
}

static gboolean
make_pdf (const Drawing *d, GByteArray *bytes)
{
  const FigureSheet *sheet = d->sheet;
  cairo_surface_t *surface = cairo_pdf_surface_create_for_stream (append, bytes, sheet->width, sheet->height);
  pdf_describe (surface, d->paper, sheet->title, sheet->caption);
  cairo_t *cr = cairo_create (surface);
  if (d->asked->ink == SP_FIGURES_DARK) /* else the paper is its own sheet; before the tags: pages.c says why */
    paint_sheet (cr, d);
  cairo_tag_begin (cr, "Document", NULL);
  cairo_tag_begin (cr, "Figure", NULL);
  gboolean drawn = draw (cr, (gpointer) d);
  cairo_tag_end (cr, "Figure");
  cairo_tag_end (cr, "Document");
  drawn = drawn && cairo_status (cr) == CAIRO_STATUS_SUCCESS;
  cairo_destroy (cr);
  cairo_surface_finish (surface);
  drawn = drawn && cairo_surface_status (surface) == CAIRO_STATUS_SUCCESS && sp_pdf_is_whole ((const char *) bytes->data, bytes->len);
  cairo_surface_destroy (surface);
  g_autoptr (GPtrArray) alts = g_ptr_array_new ();
  g_ptr_array_add (alts, sheet->alt);
  if (drawn)
    pdf_speak (bytes, d->paper->language, alts);
  return drawn;
}

/* CRC-32 of a PNG's chunk (ISO/IEC 15948, annex D, from memory; tests read it back by another program). */
static guint32
crc_of (const guint8 *data, gsize n)
{
  guint32 crc = 0xffffffffu;
  for (gsize i = 0; i < n; i++) {
    crc ^= data[i];
    for (int bit = 0; bit < 8; bit++)
      crc = crc & 1 ? crc >> 1 ^ 0xedb88320u : crc >> 1;
  }
  return ~crc;
}

static void
put_number (guint8 *at, guint32 number)
{
  guint32 big = GUINT32_TO_BE (number);
  memcpy (at, &big, sizeof big);
}

/* Says how large it is meant, which cairo leaves out: a chunk pHYs after the first, in pixels a metre. */
static void
state_size (GByteArray *png, double dpi)
{
  enum { HEAD = 8 + 25, CHUNK = 21 }; /* signature and IHDR; length, name, 9 bytes, CRC */
  guint8 chunk[CHUNK] = { 0, 0, 0, 9, 'p', 'H', 'Y', 's' };
  guint32 a_metre = (guint32) round (dpi * 1000 / MM_PER_INCH);
  put_number (chunk + 8, a_metre);
  put_number (chunk + 12, a_metre);
  chunk[16] = 1; /* the metre */
  put_number (chunk + 17, crc_of (chunk + 4, 13));
  guint rest = png->len - HEAD;
  g_byte_array_set_size (png, png->len + CHUNK);
  memmove (png->data + HEAD + CHUNK, png->data + HEAD, rest);
  memcpy (png->data + HEAD, chunk, CHUNK);
}

static gboolean
make_png (const Drawing *d, GByteArray *bytes)
{
  double scale = d->asked->dpi / POINTS_PER_INCH;
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int) round (d->sheet->width * scale),
                                                         (int) round (d->sheet->height * scale));
  cairo_t *cr = cairo_create (surface);
  cairo_scale (cr, scale, scale);
  gboolean drawn = draw_on_sheet (cr, (gpointer) d) && cairo_status (cr) == CAIRO_STATUS_SUCCESS;
  cairo_destroy (cr);
  drawn = drawn && cairo_surface_write_to_png_stream (surface, append, bytes) == CAIRO_STATUS_SUCCESS;
  cairo_surface_destroy (surface);
  if (drawn)
    state_size (bytes, d->asked->dpi);
  return drawn;
}

/* ---- all of them ---- */

typedef struct {
  char *path;
  GByteArray *bytes;
} Made;

static void
clear_made (void *data)
{
  g_free (((Made *) data)->path);
  g_byte_array_unref (((Made *) data)->bytes);
}

static GByteArray *
add_made (GArray *all, const char *folder, const char *file)
{
  Made made = { g_build_filename (folder, file, NULL), g_byte_array_new () };
  g_array_append_val (all, made);
  return made.bytes;
}

/* Of a caption the sentences that the alternative text does not hold too: settings, a staircase's whole. (transfer full) */
static char *
not_in (const char *caption, const char *alt)
{
  g_auto (GStrv) sentences = g_strsplit (caption ? caption : "", ". ", -1);
  g_autoptr (GString) left = g_string_new (NULL);
  for (char **sentence = sentences; *sentence; sentence++) {
    gsize n = strlen (*sentence);
    g_autofree char *bare = g_strndup (*sentence, n && (*sentence)[n - 1] == '.' ? n - 1 : n);
    if (*bare && !(alt && strstr (alt, bare)))
      g_string_append_printf (left, "%s%s", left->len ? ". " : "", bare);
  }
  return g_string_free (g_steal_pointer (&left), FALSE);
}

/* A line; no character in it ends one. */
static void
add_caption (GString *captions, const char *file, const FigureSheet *sheet)
{
  g_autofree char *caption = not_in (sheet->caption, sheet->alt);
  const char *said[] = { sheet->title, caption, sheet->alt };
  g_string_append_printf (captions, "%s:", file);
  for (guint i = 0; i < G_N_ELEMENTS (said); i++) {
    g_autofree char *clean = sp_clean (said[i]);
    if (clean && *clean)
      g_string_append_printf (captions, " %s%s", clean, strchr (".?!", clean[strlen (clean) - 1]) ? "" : ".");
  }
  g_string_append_c (captions, '\n');
}

static gboolean
make_sheet (const Drawing *d, GArray *all, const char *folder, GString *captions, GError **error)
{
  const struct {
    const char *ending;
    gboolean asked;
    gboolean (*make) (const Drawing *d, GByteArray *bytes);
  } formats[] = { { "svg", d->asked->svg, make_svg }, { "pdf", d->asked->pdf, make_pdf }, { "png", d->asked->png, make_png } };
  for (guint i = 0; i < G_N_ELEMENTS (formats); i++) {
    if (!formats[i].asked)
      continue;
    g_autofree char *file = g_strconcat (d->sheet->name, ".", formats[i].ending, NULL);
    errno = 0; /* want of memory is read from it */
    if (!formats[i].make (d, add_made (all, folder, file)) || errno == ENOMEM)
      return sp_fail (error, SP_ERROR_IO, _ ("%s: the figure could not be drawn: too large for the memory, or for a picture"), file);
    add_caption (captions, file, d->sheet);
  }
  return TRUE;
}

static gboolean
make_all (const SpFindings *findings, const char *folder, const SpFiguresAsked *asked, GArray *all, GCancellable *stop, GError **error)
{
  g_autoptr (SpPaper) paper = sp_paper_figures (findings);
  g_autoptr (GArray) sheets = figure_sheets (paper, asked->width_mm * POINTS_PER_INCH / MM_PER_INCH);
  g_autoptr (GString) captions = g_string_new (NULL);
  for (guint i = 0; i < sheets->len; i++) {
    Drawing d = { paper, asked, &g_array_index (sheets, FigureSheet, i) };
    if (g_cancellable_set_error_if_cancelled (stop, error) || !make_sheet (&d, all, folder, captions, error))
      return FALSE;
  }
  g_byte_array_append (add_made (all, folder, "captions.txt"), (const guint8 *) captions->str, (guint) captions->len);
  return TRUE;
}

gboolean
sp_paper_write_figures (const SpFindings *findings, const char *folder, const SpFiguresAsked *asked, SpPaperMay may_replace,
                        GCancellable *stop, GError **error)
{
  g_autoptr (GArray) all = g_array_new (FALSE, FALSE, sizeof (Made));
  g_array_set_clear_func (all, clear_made);
  if (!make_all (findings, folder, asked, all, stop, error))
    return FALSE;
  if (g_mkdir_with_parents (folder, 0777) != 0)
    return sp_fail (error, SP_ERROR_IO, "%s: %s", folder, g_strerror (errno));
  for (guint i = 0; i < all->len && may_replace; i++)
    if (!may_replace (g_array_index (all, Made, i).path, error))
      return FALSE;
  for (guint i = 0; i < all->len; i++) {
    const Made *made = &g_array_index (all, Made, i);
    if (!sp_file_write (made->path, made->bytes->data, made->bytes->len, error))
      return FALSE;
  }
  return TRUE;
}
