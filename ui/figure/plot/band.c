/* band.c - draws a curve straight into the pixels of an image */
#include "ui/figure/plot/band.h"

#include <math.h>

#define CELLS 4 /* of a pixel's width */

typedef struct {
  float low, high;
} Span; /* rows of the image; low > high: empty */

struct SpBand {
  cairo_surface_t *image;
  double scale, x0, y0;         /* points to pixels: pixel = point * scale + x0 */
  int left, top, width, height; /* what may be drawn on, in pixels */
  int n;                        /* cells */
  Span *spans, *spare;
  float *part, *whole; /* one column's coverage: of a row, and where full rows begin and end */
};

static const Span empty = { INFINITY, -INFINITY };

static void
clear (SpBand *band)
{
  for (int i = 0; i < band->n; i++)
    band->spans[i] = empty;
}

static gboolean
is_plain_image (cairo_t *cr, cairo_matrix_t *matrix)
{
  cairo_surface_t *target = cairo_get_target (cr);
  if (cairo_surface_get_type (target) != CAIRO_SURFACE_TYPE_IMAGE || cairo_get_group_target (cr) != target)
    return FALSE;
  cairo_format_t format = cairo_image_surface_get_format (target);
  cairo_get_matrix (cr, matrix);
  return (format == CAIRO_FORMAT_ARGB32 || format == CAIRO_FORMAT_RGB24) && matrix->xy == 0 && matrix->yx == 0 && matrix->xx == matrix->yy
         && matrix->xx > 0;
}

/* The clip and cairo's own, in whole pixels of the image. */
static void
find_limits (SpBand *band, cairo_t *cr, const SpRect *clip)
{
  double x1, y1, x2, y2;
  cairo_clip_extents (cr, &x1, &y1, &x2, &y2);
  x1 = MAX (x1, clip->x), y1 = MAX (y1, clip->y), x2 = MIN (x2, clip->x + clip->width), y2 = MIN (y2, clip->y + clip->height);
  int right = (int) MIN (round (x2 * band->scale + band->x0), cairo_image_surface_get_width (band->image));
  int bottom = (int) MIN (round (y2 * band->scale + band->y0), cairo_image_surface_get_height (band->image));
  band->left = (int) MAX (0, round (x1 * band->scale + band->x0));
  band->top = (int) MAX (0, round (y1 * band->scale + band->y0));
  band->width = MAX (0, right - band->left);
  band->height = MAX (0, bottom - band->top);
}

SpBand *
sp_band_new (SpPen *pen, const SpRect *clip)
{
  cairo_matrix_t matrix;
  if (pen->vector || !is_plain_image (pen->cr, &matrix))
    return NULL;
  double scale_x, scale_y, offset_x, offset_y;
  cairo_surface_t *image = cairo_get_target (pen->cr);
  cairo_surface_get_device_scale (image, &scale_x, &scale_y);
  cairo_surface_get_device_offset (image, &offset_x, &offset_y);
  if (scale_x != scale_y || !(scale_x > 0))
    return NULL;
  SpBand *band = g_new0 (SpBand, 1);
  band->image = cairo_surface_reference (image);
  band->scale = matrix.xx * scale_x;
  band->x0 = matrix.x0 * scale_x + offset_x;
  band->y0 = matrix.y0 * scale_x + offset_y;
  find_limits (band, pen->cr, clip);
  band->n = band->width * CELLS;
  band->spans = g_new (Span, band->n + 1);
  band->spare = g_new (Span, band->n + 1);
  band->part = g_new0 (float, band->height + 2);
  band->whole = g_new0 (float, band->height + 2);
  clear (band);
  return band;
}

void
sp_band_free (SpBand *band)
{
  if (!band)
    return;
  cairo_surface_destroy (band->image);
  g_free (band->spans);
  g_free (band->spare);
  g_free (band->part);
  g_free (band->whole);
  g_free (band);
}

static double
cell_at (const SpBand *band, double x)
{
  return (x * band->scale + band->x0 - band->left) * CELLS;
}

static float
row_at (const SpBand *band, double y)
{
  return (float) CLAMP (y * band->scale + band->y0 - band->top, -1e6, 1e6);
}

static void
join (Span *span, float low, float high)
{
  span->low = low < span->low ? low : span->low;
  span->high = high > span->high ? high : span->high;
}

void
sp_band_line (SpBand *band, double x1, double y1, double x2, double y2)
{
  if (x2 < x1) {
    sp_band_line (band, x2, y2, x1, y1);
    return;
  }
  double from = cell_at (band, x1), to = cell_at (band, x2);
  float start = row_at (band, y1), end = row_at (band, y2), slope = to > from ? (end - start) / (float) (to - from) : 0;
  if (!(to >= 0) || !(from < band->n))
    return;
  int first = (int) MAX (0, floor (from)), last = (int) MIN (band->n - 1, floor (to));
  for (int i = first; i <= last; i++) {
    float a = i > from ? start + slope * (float) (i - from) : start, b = i + 1 < to ? start + slope * (float) (i + 1 - from) : end;
    join (&band->spans[i], MIN (a, b), MAX (a, b));
  }
}

void
sp_band_box (SpBand *band, double x, double width, double top, double bottom)
{
  int first = (int) MAX (0, round (cell_at (band, x))), last = (int) MIN (band->n, round (cell_at (band, x + width)));
  for (int i = first; i < last; i++)
    join (&band->spans[i], row_at (band, top), row_at (band, bottom));
}

void
sp_band_thicken (SpBand *band, double width)
{
  double radius = width * band->scale / 2, across = MAX (0.5, radius * CELLS - 0.5); /* a cell has half its own width to either side */
  int reach = (int) floor (across);
  for (int i = 0; i < band->n; i++)
    band->spare[i] = empty;
  for (int offset = -reach; offset <= reach; offset++) {
    float more = (float) (radius * sqrt (1 - offset * offset / (across * across)));
    int first = MAX (0, -offset), last = MIN (band->n, band->n - offset);
    for (int i = first; i < last; i++) {
      float low = band->spans[i + offset].low - more, high = band->spans[i + offset].high + more;
      band->spare[i].low = low < band->spare[i].low ? low : band->spare[i].low;
      band->spare[i].high = high > band->spare[i].high ? high : band->spare[i].high;
    }
  }
  Span *spans = band->spans;
  band->spans = band->spare;
  band->spare = spans;
}

void
sp_band_dash (SpBand *band, const SpDash *dash)
{
  double period = 0;
  for (int k = 0; k < dash->n; k++)
    period += dash->points[k];
  for (int i = 0; i < band->n; i++) {
    double at = fmod (i / (band->scale * CELLS), period);
    int k = 0;
    while (k + 1 < dash->n && at >= dash->points[k])
      at -= dash->points[k++];
    if (k % 2)
      band->spans[i] = empty;
  }
}

/* What one cell covers of its column's rows. */
static void
cover (SpBand *band, const Span *span, int *first, int *last)
{
  float low = MAX (span->low, 0), high = MIN (span->high, (float) band->height);
  if (!(low < high))
    return;
  int from = (int) low, to = (int) high;
  if (from == to) {
    band->part[from] += (high - low) / CELLS;
  } else {
    band->part[from] += ((float) (from + 1) - low) / CELLS;
    band->part[to] += (high - (float) to) / CELLS;
    band->whole[from + 1] += 1.0f / CELLS;
    band->whole[to] -= 1.0f / CELLS;
  }
  *first = MIN (*first, from);
  *last = MAX (*last, to);
}

/* Colour over what is there, `share` of 255; two channels at a time. */
static guint32
blend (guint32 there, guint32 colour, guint32 share)
{
  const guint32 mask = 0x00ff00ff, half = 0x00800080;
  guint32 low = (colour & mask) * share + (there & mask) * (255 - share) + half;
  guint32 high = (colour >> 8 & mask) * share + (there >> 8 & mask) * (255 - share) + half;
  low = (low + (low >> 8 & mask)) >> 8 & mask;
  high = (high + (high >> 8 & mask)) & ~mask;
  return low | high;
}

static guint32
opaque (const SpColour *colour)
{
  return 0xff000000u | (guint32) lround (colour->red * 255) << 16 | (guint32) lround (colour->green * 255) << 8
         | (guint32) lround (colour->blue * 255);
}

void
sp_band_fill (SpBand *band, const SpColour *colour, double opacity)
{
  cairo_surface_flush (band->image);
  guint32 ink = opaque (colour);
  int stride = cairo_image_surface_get_stride (band->image);
  unsigned char *data = cairo_image_surface_get_data (band->image) + (gsize) band->top * stride + (gsize) band->left * 4;
  for (int column = 0; column < band->width; column++) {
    int first = band->height, last = -1;
    for (int i = 0; i < CELLS; i++)
      cover (band, &band->spans[column * CELLS + i], &first, &last);
    float whole = 0;
    for (int row = first; row <= last; row++) {
      whole += band->whole[row];
      guint32 share = (guint32) (MIN (whole + band->part[row], 1.0f) * opacity * 255 + 0.5);
      band->whole[row] = band->part[row] = 0;
      if (row < band->height && share) {
        guint32 *pixel = (guint32 *) (void *) (data + (gsize) row * stride) + column;
        *pixel = blend (*pixel, ink, share);
      }
    }
  }
  cairo_surface_mark_dirty (band->image);
  clear (band);
}
