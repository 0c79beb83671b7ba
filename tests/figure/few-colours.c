/* few-colours.c - a small PNG holds the picture that was drawn: read back by cairo, which reads through libpng */
#include "ui/figure/few-colours.h"

#include "tests/suite.h"

#include <stdlib.h>
#include <string.h>

#define SIDE 96
#define INKS 60 /* fewer than the palette has */

typedef struct {
  const unsigned char *bytes;
  gsize left;
} Reading;

static cairo_status_t
take (void *data, unsigned char *into, unsigned length)
{
  Reading *r = data;
  if (length > r->left)
    return CAIRO_STATUS_READ_ERROR;
  memcpy (into, r->bytes, length);
  r->bytes += length, r->left -= length;
  return CAIRO_STATUS_SUCCESS;
}

static guint32 *
row_of (cairo_surface_t *surface, int y)
{
  return (guint32 *) (void *) (cairo_image_surface_get_data (surface) + y * cairo_image_surface_get_stride (surface));
}

static cairo_surface_t *
picture (guint32 (*colour) (int x, int y))
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, SIDE, SIDE);
  for (int y = 0; y < SIDE; y++)
    for (int x = 0; x < SIDE; x++)
      row_of (surface, y)[x] = 0xFF000000 | colour (x, y);
  cairo_surface_mark_dirty (surface);
  return surface;
}

/* The greatest difference of any channel of any pixel. */
static int
apart (cairo_surface_t *drawn)
{
  g_autoptr (GBytes) bytes = sp_png_of_few_colours (drawn), again = sp_png_of_few_colours (drawn);
  ck_assert (bytes && again && g_bytes_equal (bytes, again));
  Reading reading = { g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes) };
  cairo_surface_t *read = cairo_image_surface_create_from_png_stream (take, &reading);
  ck_assert_int_eq (cairo_surface_status (read), CAIRO_STATUS_SUCCESS);
  ck_assert_int_eq (cairo_image_surface_get_width (read), SIDE);
  int most = 0;
  for (int y = 0; y < SIDE; y++)
    for (int x = 0; x < SIDE; x++)
      for (guint c = 0; c < 24; c += 8)
        most = MAX (most, abs ((int) (row_of (read, y)[x] >> c & 0xFF) - (int) (row_of (drawn, y)[x] >> c & 0xFF)));
  cairo_surface_destroy (read);
  cairo_surface_destroy (drawn);
  return most;
}

static guint32
few (int x, int y)
{
  return (guint32) ((x * 7 + y * 13) % INKS) * 0x010305;
}

/* A sheet in one colour with greys at an edge: 256 shades, more than the palette has. */
static guint32
edge (int x, int y)
{
  return y > SIDE / 2 ? 0xF7F4EC : (guint32) ((x + y * SIDE) % 256) * 0x010101;
}

START_TEST (few_colours_stay_as_they_are)
{
  ck_assert_int_eq (apart (picture (few)), 0);
}
END_TEST

/* The sheet keeps its colour, and each grey becomes the nearest of those that were kept. */
START_TEST (a_shade_beyond_takes_the_nearest)
{
  cairo_surface_t *drawn = picture (edge);
  g_autoptr (GBytes) bytes = sp_png_of_few_colours (drawn);
  Reading reading = { g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes) };
  cairo_surface_t *read = cairo_image_surface_create_from_png_stream (take, &reading);
  for (int x = 0; x < SIDE; x++) /* the most frequent colour is exact */
    ck_assert_uint_eq (row_of (read, SIDE - 1)[x] & 0xFFFFFF, 0xF7F4EC);
  g_autoptr (GHashTable) kept = g_hash_table_new (NULL, NULL);
  for (int y = 0; y < SIDE; y++)
    for (int x = 0; x < SIDE; x++)
      g_hash_table_add (kept, GUINT_TO_POINTER (row_of (read, y)[x] & 0xFFFFFF));
  for (int y = 0; y <= SIDE / 2; y++)
    for (int x = 0; x < SIDE; x++) {
      int grey = (int) (row_of (drawn, y)[x] & 0xFF), got = (int) (row_of (read, y)[x] & 0xFF);
      for (int off = 0; off < abs (grey - got); off++) /* no grey that was kept lies nearer */
        ck_assert (!g_hash_table_contains (kept, GUINT_TO_POINTER ((guint) (grey - off) * 0x010101))
                   && !g_hash_table_contains (kept, GUINT_TO_POINTER ((guint) (grey + off) * 0x010101)));
    }
  cairo_surface_destroy (read);
  cairo_surface_destroy (drawn);
}
END_TEST

static Suite *
suite (void)
{
  Suite *all = suite_create ("few colours");
  TCase *pictures = tcase_create ("pictures");
  tcase_add_test (pictures, few_colours_stay_as_they_are);
  tcase_add_test (pictures, a_shade_beyond_takes_the_nearest);
  suite_add_tcase (all, pictures);
  return all;
}

SP_MAIN (suite)
