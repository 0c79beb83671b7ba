/* coder.c - pictures by GdkPixbuf: all pixels are there, the way up is right, the size is what is kept; and pixels to draw */
#include "ui/picture/coder.h"

#include <gdk-pixbuf/gdk-pixbuf.h>
#include <glib/gi18n-lib.h>
#include <string.h>

#include "core/picture/picture.h"
#include "core/quantity/error.h"

#define JPEG_QUALITY "88"     /* no edge is seen to suffer on paper (common practice, no source) */
#define DRAWING_BYTES 1048576 /* a PNG beyond is a photograph, which JPEG keeps in a tenth (common practice, no source) */

/* ---- pixels ---- */

typedef struct {
  const SpPictureParts *parts;
  gboolean last_row;
} Decoding;

static gboolean
is_png (const SpPictureParts *parts)
{
  return g_str_equal (parts->mime, "image/png");
}

/* Before the library takes memory for them. A JPEG is decoded smaller at once; of a PNG all pixels are needed anyway. */
static void
bound_size (GdkPixbufLoader *loader, int width, int height, gpointer data)
{
  const SpPictureParts *parts = ((Decoding *) data)->parts;
  int longer = MAX (width, height);
  if ((guint) width != parts->width || (guint) height != parts->height)
    gdk_pixbuf_loader_set_size (loader, 0, 0); /* it is not what its head said: nothing is decoded */
  else if (longer > SP_PICTURE_SIDE && !is_png (parts))
    gdk_pixbuf_loader_set_size (loader, MAX (1, width * SP_PICTURE_SIDE / longer), MAX (1, height * SP_PICTURE_SIDE / longer));
}

/* The library calls a PNG good whose coded rows end early. */
static void
note_rows (G_GNUC_UNUSED GdkPixbufLoader *loader, G_GNUC_UNUSED int x, int y, G_GNUC_UNUSED int width, int height, gpointer data)
{
  Decoding *decoding = data;
  decoding->last_row |= (guint) (y + height) >= decoding->parts->height;
}

static GdkPixbuf *
decode (const SpPictureParts *parts, const GByteArray *bytes, GError **error)
{
  Decoding decoding = { parts, !is_png (parts) };
  g_autoptr (GdkPixbufLoader) loader = gdk_pixbuf_loader_new_with_mime_type (parts->mime, error);
  if (!loader)
    return NULL;
  g_signal_connect (loader, "size-prepared", G_CALLBACK (bound_size), &decoding);
  g_signal_connect (loader, "area-updated", G_CALLBACK (note_rows), &decoding);
  gboolean written = gdk_pixbuf_loader_write (loader, bytes->data, bytes->len, error);
  gboolean whole = gdk_pixbuf_loader_close (loader, written ? error : NULL);
  GdkPixbuf *pixels = written && whole && decoding.last_row ? gdk_pixbuf_loader_get_pixbuf (loader) : NULL;
  if (!pixels && error && !*error)
    sp_fail (error, SP_ERROR_INPUT, _ ("its pixels are not all there"));
  return pixels ? g_object_ref (pixels) : NULL;
}

/* ---- the kept file ---- */

static gboolean
may_stay (const SpPictureParts *parts, GdkPixbuf *pixels)
{
  const char *way_up = gdk_pixbuf_get_option (pixels, "orientation");
  gboolean small = MAX (parts->width, parts->height) <= SP_PICTURE_SIDE && parts->kept->len <= SP_PICTURE_KEPT;
  return small && !parts->four_inks && (!way_up || g_str_equal (way_up, "1"))
         && (!is_png (parts) || parts->transparent || parts->kept->len <= DRAWING_BYTES);
}

static GByteArray *
encode (GdkPixbuf *pixels, const char *format, GError **error)
{
  gboolean jpeg = g_str_equal (format, "jpeg");
  char *bytes = NULL;
  gsize length = 0;
  gboolean done = gdk_pixbuf_save_to_buffer (pixels, &bytes, &length, format, error, jpeg ? "quality" : "compression",
                                             jpeg ? JPEG_QUALITY : "9", NULL);
  return done ? g_byte_array_new_take ((guint8 *) bytes, length) : NULL;
}

static GByteArray *
encode_small (const SpPictureParts *parts, GdkPixbuf *pixels, GError **error)
{
  gboolean png = is_png (parts);
  g_autoptr (GByteArray) drawn = png ? encode (pixels, "png", error) : NULL;
  if (drawn && (parts->transparent || drawn->len <= DRAWING_BYTES))
    return g_steal_pointer (&drawn);
  return png && !drawn ? NULL : encode (pixels, "jpeg", error);
}

/* No longer than it may be; what is already stays. (transfer full) */
static GdkPixbuf *
fit (GdkPixbuf *pixels)
{
  int width = gdk_pixbuf_get_width (pixels), height = gdk_pixbuf_get_height (pixels), longer = MAX (width, height);
  if (longer <= SP_PICTURE_SIDE)
    return g_object_ref (pixels);
  return gdk_pixbuf_scale_simple (pixels, MAX (1, width * SP_PICTURE_SIDE / longer), MAX (1, height * SP_PICTURE_SIDE / longer),
                                  GDK_INTERP_BILINEAR);
}

static GByteArray *
code (const SpPictureParts *parts, GError **error)
{
  g_autoptr (GdkPixbuf) pixels = decode (parts, parts->upright, error);
  if (!pixels || may_stay (parts, pixels))
    return pixels ? g_byte_array_ref (parts->kept) : NULL;
  g_autoptr (GdkPixbuf) upright = gdk_pixbuf_apply_embedded_orientation (pixels);
  g_autoptr (GdkPixbuf) small = upright ? fit (upright) : NULL;
  return small ? encode_small (parts, small, error) : NULL;
}

void
sp_picture_start (void)
{
  sp_picture_set_coder (code);
}

/* ---- to draw ---- */

/* One that stands twice in a PDF is in the file once. */
static void
name_it (const SpPicture *picture, cairo_surface_t *surface)
{
  char *name = g_strdup (picture->sha256);
  if (cairo_surface_set_mime_data (surface, CAIRO_MIME_TYPE_UNIQUE_ID, (const guint8 *) name, strlen (name), g_free, name))
    g_free (name);
}

/* 0xAARRGGBB, colours times alpha, as cairo has them. */
static void
copy_pixels (GdkPixbuf *from, cairo_surface_t *to)
{
  int n = gdk_pixbuf_get_n_channels (from), from_stride = gdk_pixbuf_get_rowstride (from), to_stride = cairo_image_surface_get_stride (to);
  const guint8 *source = gdk_pixbuf_read_pixels (from);
  guint8 *target = cairo_image_surface_get_data (to);
  for (int y = 0; y < gdk_pixbuf_get_height (from); y++)
    for (int x = 0; x < gdk_pixbuf_get_width (from); x++) {
      const guint8 *p = source + (gsize) y * from_stride + (gsize) x * n;
      guint32 alpha = n == 4 ? p[3] : 255, *q = (guint32 *) (gpointer) (target + (gsize) y * to_stride) + x;
      *q = alpha << 24 | p[0] * alpha / 255 << 16 | p[1] * alpha / 255 << 8 | p[2] * alpha / 255;
    }
}

static void
pass_jpeg_on (const SpPicture *picture, cairo_surface_t *surface)
{
  gsize length = 0;
  GBytes *bytes = g_bytes_ref (picture->bytes);
  const guint8 *data = g_bytes_get_data (bytes, &length);
  if (cairo_surface_set_mime_data (surface, CAIRO_MIME_TYPE_JPEG, data, length, (cairo_destroy_func_t) g_bytes_unref, bytes))
    g_bytes_unref (bytes);
}

cairo_surface_t *
sp_picture_surface (const SpPicture *picture)
{
  SpPictureParts parts = { .mime = picture->mime, .width = (guint) picture->width, .height = (guint) picture->height };
  gsize length = 0;
  gconstpointer data = g_bytes_get_data (picture->bytes, &length);
  g_autoptr (GByteArray) bytes = g_byte_array_append (g_byte_array_new (), data, (guint) length);
  g_autoptr (GdkPixbuf) pixels = decode (&parts, bytes, NULL);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, picture->width, picture->height);
  if (pixels && cairo_surface_status (surface) == CAIRO_STATUS_SUCCESS) {
    cairo_surface_flush (surface);
    copy_pixels (pixels, surface);
    cairo_surface_mark_dirty (surface);
  }
  name_it (picture, surface);
  if (!is_png (&parts))
    pass_jpeg_on (picture, surface);
  return surface;
}
