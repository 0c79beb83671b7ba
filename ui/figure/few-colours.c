/* few-colours.c - writes a picture with a palette of its most frequent colours */
#include "ui/figure/few-colours.h"

#include <png.h>
#include <stdlib.h>

#define COLOURS 64 /* a chart's inks and the shades at their edges; a PNG's palette has up to 256 (ISO/IEC 15948, 11.2.2) */
#define CHANNELS 3

typedef struct {
  guint32 rgb;
  guint pixels;
} Colour;

static const guint32 *
row_of (cairo_surface_t *surface, int y)
{
  return (const guint32 *) (const void *) (cairo_image_surface_get_data (surface) + y * cairo_image_surface_get_stride (surface));
}

static GHashTable *
count (cairo_surface_t *surface)
{
  GHashTable *counted = g_hash_table_new (NULL, NULL);
  int width = cairo_image_surface_get_width (surface), height = cairo_image_surface_get_height (surface);
  for (int y = 0; y < height; y++) {
    const guint32 *row = row_of (surface, y);
    for (int x = 0, run = 1; x < width; x += run) {
      gpointer key = GUINT_TO_POINTER (row[x] & 0xFFFFFF);
      for (run = 1; x + run < width && row[x + run] == row[x];)
        run++;
      g_hash_table_insert (counted, key, GUINT_TO_POINTER (GPOINTER_TO_UINT (g_hash_table_lookup (counted, key)) + (guint) run));
    }
  }
  return counted;
}

static int
by_pixels (gconstpointer a, gconstpointer b)
{
  const Colour *x = a, *y = b;
  if (x->pixels != y->pixels)
    return x->pixels > y->pixels ? -1 : 1;
  return x->rgb < y->rgb ? -1 : x->rgb > y->rgb;
}

static guint
part (guint32 rgb, guint channel)
{
  return rgb >> (8 * (CHANNELS - 1 - channel)) & 0xFF;
}

static guint
nearest (const GArray *colours, guint32 rgb)
{
  guint best = 0, least = G_MAXUINT;
  for (guint i = 0; i < MIN (colours->len, COLOURS); i++) {
    guint distance = 0;
    for (guint c = 0; c < CHANNELS; c++) {
      int apart = (int) part (g_array_index (colours, Colour, i).rgb, c) - (int) part (rgb, c);
      distance += (guint) (apart * apart);
    }
    if (distance < least)
      best = i, least = distance;
  }
  return best;
}

/* Each colour's place in the palette. */
static GHashTable *
place (const GArray *colours)
{
  GHashTable *places = g_hash_table_new (NULL, NULL);
  for (guint i = 0; i < colours->len; i++) {
    guint32 rgb = g_array_index (colours, Colour, i).rgb;
    g_hash_table_insert (places, GUINT_TO_POINTER (rgb), GUINT_TO_POINTER (i < COLOURS ? i : nearest (colours, rgb)));
  }
  return places;
}

static GArray *
rank (GHashTable *counted)
{
  GArray *colours = g_array_new (FALSE, FALSE, sizeof (Colour));
  GHashTableIter iter;
  gpointer rgb, pixels;
  g_hash_table_iter_init (&iter, counted);
  while (g_hash_table_iter_next (&iter, &rgb, &pixels)) {
    Colour one = { GPOINTER_TO_UINT (rgb), GPOINTER_TO_UINT (pixels) };
    g_array_append_val (colours, one);
  }
  g_array_sort (colours, by_pixels);
  return colours;
}

static void
fill (cairo_surface_t *surface, GHashTable *places, guint8 *indexes)
{
  int width = cairo_image_surface_get_width (surface);
  for (int y = 0; y < cairo_image_surface_get_height (surface); y++) {
    const guint32 *row = row_of (surface, y);
    for (int x = 0; x < width; x++) {
      gboolean as_before = x > 0 && row[x] == row[x - 1];
      gsize at = (gsize) y * (gsize) width + (gsize) x;
      indexes[at] = as_before ? indexes[at - 1]
                              : (guint8) GPOINTER_TO_UINT (g_hash_table_lookup (places, GUINT_TO_POINTER (row[x] & 0xFFFFFF)));
    }
  }
}

GBytes *
sp_png_of_few_colours (cairo_surface_t *surface)
{
  cairo_surface_flush (surface);
  png_image image = { .version = PNG_IMAGE_VERSION,
                      .width = (guint) cairo_image_surface_get_width (surface),
                      .height = (guint) cairo_image_surface_get_height (surface),
                      .format = PNG_FORMAT_RGB_COLORMAP };
  g_autoptr (GHashTable) counted = count (surface);
  g_autoptr (GArray) colours = rank (counted);
  g_autoptr (GHashTable) places = place (colours);
  guint8 palette[COLOURS * CHANNELS];
  image.colormap_entries = MIN (colours->len, COLOURS);
  for (guint i = 0; i < image.colormap_entries * CHANNELS; i++)
    palette[i] = (guint8) part (g_array_index (colours, Colour, i / CHANNELS).rgb, i % CHANNELS);
  g_autofree guint8 *indexes = g_try_malloc ((gsize) image.width * image.height);
  png_alloc_size_t size = PNG_IMAGE_PNG_SIZE_MAX (image);
  guint8 *bytes = indexes ? g_try_malloc (size) : NULL;
  if (!bytes)
    return NULL;
  fill (surface, places, indexes);
  if (!png_image_write_to_memory (&image, bytes, &size, 0, indexes, 0, palette)) {
    g_free (bytes);
    return NULL;
  }
  return g_bytes_new_take (g_realloc (bytes, size), size);
}
