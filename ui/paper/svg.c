/* svg.c - a drawing as SVG with a name and a description, as an element of a page or of a file */
#include "ui/paper/private.h"

#include "core/quantity/clean.h"

#include <cairo-svg.h>
#include <string.h>

static cairo_status_t
append (void *bytes, const unsigned char *data, unsigned length)
{
  g_string_append_len (bytes, (const char *) data, length);
  return CAIRO_STATUS_SUCCESS;
}

/* Every name in an SVG of cairo's becomes its own figure's, for several stand in one page, and is numbered as it comes: cairo goes on counting from one
 * drawing to the next. Names stand in id="x", in links "#x" and in url(#x). */
static void
add_renamed (GString *out, guint drawing, const char *svg)
{
  static const char *const marks[] = { " id=\"", "href=\"#", "url(#" };
  g_autoptr (GHashTable) names = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  while (*svg) {
    gsize next = strlen (svg), length = 0;
    for (guint i = 0; i < G_N_ELEMENTS (marks); i++) {
      const char *at = strstr (svg, marks[i]);
      if (at && (gsize) (at - svg) < next) {
        next = (gsize) (at - svg);
        length = strlen (marks[i]);
      }
    }
    g_string_append_len (out, svg, (gssize) (next + length));
    svg += next + length;
    if (length == 0)
      break;
    char *name = g_strndup (svg, strcspn (svg, "\")"));
    svg += strlen (name);
    guint number = GPOINTER_TO_UINT (g_hash_table_lookup (names, name));
    if (number == 0)
      number = g_hash_table_size (names) + 1;
    g_hash_table_insert (names, name, GUINT_TO_POINTER (number));
    g_string_append_printf (out, "f%u-%u", drawing, number);
  }
}

static void
element (GString *out, const char *name, const char *text)
{
  g_autofree char *clean = sp_clean (text ? text : ""), *escaped = g_markup_escape_text (clean, -1);
  g_string_append_printf (out, "<%s>%s</%s>", name, escaped, name);
}

gboolean
svg_add (GString *out, guint drawing, const char *size, double width, double height, const char *title, const char *alt, SvgDraw draw,
         gpointer data)
{
  g_autoptr (GString) svg = g_string_new (NULL);
  char sides[2][G_ASCII_DTOSTR_BUF_SIZE];
  cairo_surface_t *surface = cairo_svg_surface_create_for_stream (append, svg, width, height);
  cairo_t *cr = cairo_create (surface);
  gboolean drawn = draw (cr, data) && cairo_status (cr) == CAIRO_STATUS_SUCCESS;
  cairo_destroy (cr);
  cairo_surface_finish (surface);
  drawn = drawn && cairo_surface_status (surface) == CAIRO_STATUS_SUCCESS;
  cairo_surface_destroy (surface);
  const char *begin = strstr (svg->str, "<svg"), *inside = begin ? strchr (begin, '>') : NULL;
  if (!inside)
    return FALSE;
  g_ascii_formatd (sides[0], sizeof sides[0], "%.6g", width);
  g_ascii_formatd (sides[1], sizeof sides[1], "%.6g", height);
  g_string_append_printf (out,
                          "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" %s "
                          "viewBox=\"0 0 %s %s\" %s>",
                          size, sides[0], sides[1], alt ? "role=\"img\"" : "aria-hidden=\"true\"");
  if (alt) {
    element (out, "title", title);
    element (out, "desc", alt);
  }
  add_renamed (out, drawing, inside + 1);
  return drawn;
}
