/* pdf.c - pages as a PDF: text as text, outline, links, structure, metadata */
#include "ui/paper/private.h"

#include "core/quantity/clean.h"
#include "core/quantity/error.h"
#include "ui/figure/pdf.h"
#include "ui/paper/pages.h"

#include <cairo-pdf.h>
#include <errno.h>
#include <glib/gi18n-lib.h>

static cairo_status_t
append (void *bytes, const unsigned char *data, unsigned length)
{
  g_byte_array_append (bytes, data, length);
  return CAIRO_STATUS_SUCCESS;
}

/* What SOURCE_DATE_EPOCH says, else the bench's date, else none: an empty text leaves it out. */
static char *
date_of (const SpBench *bench)
{
  const char *epoch = g_getenv ("SOURCE_DATE_EPOCH");
  gint64 seconds;
  if (epoch && g_ascii_string_to_signed (epoch, 10, 0, G_GINT64_CONSTANT (253402300799), &seconds, NULL)) { /* to the end of 9999 */
    g_autoptr (GDateTime) time = g_date_time_new_from_unix_utc (seconds);
    return g_date_time_format (time, "%Y-%m-%dT%H:%M:%SZ");
  }
  return bench->date ? g_strconcat (bench->date, "T00:00:00Z", NULL) : g_strdup ("");
}

void
pdf_describe (cairo_surface_t *surface, const SpPaper *paper, const char *title, const char *subject)
{
  g_autofree char *clean = sp_clean (title), *about = sp_clean (subject), *date = date_of (paper->findings->bench);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_TITLE, clean);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_SUBJECT, about);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATOR, "Spurproof " SP_VERSION);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATE_DATE, date);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_MOD_DATE, date);
}

static void
add_outline (cairo_surface_t *surface, const SpPaper *paper, const SpPages *pages)
{
  for (guint i = 0; i < sp_pages_count (pages); i++) {
    const char *title = sp_pages_title (pages, i);
    g_autofree char *to = g_strdup_printf ("page=%u", i + 1), *clean = title ? sp_clean (*title ? title : paper->title) : NULL;
    if (clean)
      cairo_pdf_surface_add_outline (surface, CAIRO_PDF_OUTLINE_ROOT, clean, to, 0);
  }
}

static cairo_status_t
draw_all (cairo_surface_t *surface, const SpPaper *paper, const SpPages *pages)
{
  cairo_t *cr = cairo_create (surface);
  gboolean drawn = TRUE;
  cairo_tag_begin (cr, "Document", NULL);
  for (guint i = 0; i < sp_pages_count (pages); i++) {
    drawn = sp_pages_draw_tagged (pages, i, cr) && drawn;
    if (i + 1 < sp_pages_count (pages))
      cairo_show_page (cr);
  }
  cairo_tag_end (cr, "Document");
  add_outline (surface, paper, pages);
  cairo_show_page (cr);
  cairo_status_t status = drawn ? cairo_status (cr) : cairo_status (cr) ? cairo_status (cr) : CAIRO_STATUS_NO_MEMORY;
  cairo_destroy (cr);
  cairo_surface_finish (surface);
  return status ? status : cairo_surface_status (surface);
}

GBytes *
paper_to_pdf (const SpPaper *paper, SpPaperSize size, GError **error)
{
  double width, height;
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  errno = 0; /* want of memory is read from it */
  sp_pages_sheet (size, &width, &height);
  g_autoptr (SpPages) pages = sp_pages_new (paper, size);
  cairo_surface_t *surface = cairo_pdf_surface_create_for_stream (append, bytes, width, height);
  pdf_describe (surface, paper, paper->title, paper->subject);
  cairo_status_t status = draw_all (surface, paper, pages);
  cairo_surface_destroy (surface);
  if (status == CAIRO_STATUS_SUCCESS && (errno == ENOMEM || !sp_pdf_is_whole ((const char *) bytes->data, bytes->len)))
    status = CAIRO_STATUS_NO_MEMORY;
  if (status != CAIRO_STATUS_SUCCESS) {
    sp_fail (error, SP_ERROR_IO, _ ("the paper could not be drawn: %s"), cairo_status_to_string (status));
    return NULL;
  }
  g_autoptr (GPtrArray) alts = sp_pages_alts (pages);
  pdf_speak (bytes, paper->language, alts); /* a later cairo's that is written otherwise stays as it is */
  return g_byte_array_free_to_bytes (g_steal_pointer (&bytes));
}

GBytes *
sp_paper_export (const SpPaper *paper, SpPaperFormat format, SpPaperSize size, GError **error)
{
  return format == SP_PAPER_PDF ? paper_to_pdf (paper, size, error) : paper_to_html (paper, size, error);
}
