#include "ui/figure/plot/band.h"
#include "tests/figure/leaks.h"
#include "tests/suite.h"

#define WIDTH 200
#define HEIGHT 120

static cairo_surface_t *
image_new (int scale)
{
  cairo_surface_t *image = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, WIDTH * scale, HEIGHT * scale);
  cairo_surface_set_device_scale (image, scale, scale);
  return image;
}

static SpPen *
pen_on (cairo_surface_t *image)
{
  cairo_t *cr = cairo_create (image);
  SpPen *pen = sp_pen_new (cr, FALSE, NULL);
  cairo_destroy (cr);
  return pen;
}

static double
alpha_at (cairo_surface_t *image, int x, int y)
{
  cairo_surface_flush (image);
  const unsigned char *data = cairo_image_surface_get_data (image) + (gsize) y * cairo_image_surface_get_stride (image);
  return (((const guint32 *) (const void *) data)[x] >> 24) / 255.0;
}

static const SpRect everything = { 0, 0, WIDTH, HEIGHT };
static const SpColour black = { 0, 0, 0 };

/* What cairo's own stroke covers is the measure: alike in sum, and nowhere far off. */
static void
check_like_a_stroke (int scale, guint n, const double *x, const double *y, double width, double worst)
{
  cairo_surface_t *ours = image_new (scale), *theirs = image_new (scale);
  SpPen *pen = pen_on (ours), *other = pen_on (theirs);
  SpBand *band = sp_band_new (pen, &everything);
  for (guint i = 0; i + 1 < n; i++)
    sp_band_line (band, x[i], y[i], x[i + 1], y[i + 1]);
  sp_band_thicken (band, width);
  sp_band_fill (band, &black, 1);
  sp_pen_colour (other, &black, 1);
  cairo_set_line_width (other->cr, width);
  cairo_set_line_join (other->cr, CAIRO_LINE_JOIN_ROUND);
  for (guint i = 0; i < n; i++)
    cairo_line_to (other->cr, x[i], y[i]);
  cairo_stroke (other->cr);
  double ours_sum = 0, theirs_sum = 0, most = 0;
  for (int row = 0; row < HEIGHT * scale; row++)
    for (int column = 4 * scale; column < (WIDTH - 4) * scale; column++) { /* its ends are cut otherwise */
      double a = alpha_at (ours, column, row), b = alpha_at (theirs, column, row);
      ours_sum += a;
      theirs_sum += b;
      most = MAX (most, fabs (a - b));
    }
  ck_assert_double_gt (theirs_sum, WIDTH);
  ck_assert_double_eq_tol (ours_sum / theirs_sum, 1, 0.06);
  ck_assert_double_le (most, worst);
  sp_band_free (band);
  sp_pen_free (pen);
  sp_pen_free (other);
  cairo_surface_destroy (ours);
  cairo_surface_destroy (theirs);
}

START_TEST (lines_like_cairo_s_own)
{
  double x[WIDTH + 1], y[WIDTH + 1];
  g_autoptr (GRand) rand = g_rand_new_with_seed (8);
  for (guint i = 0; i <= WIDTH; i++) {
    x[i] = i;
    y[i] = 60 + 25 * sin (i / 9.0);
  }
  for (int scale = 1; scale <= 2; scale++) {
    check_like_a_stroke (scale, WIDTH + 1, x, y, 1.25, 0.1);
    const double ends_x[] = { 0, 90, WIDTH }, ends_y[] = { 10.3, 100.9, 20 };
    check_like_a_stroke (scale, 3, ends_x, ends_y, 1.25, 0.15);
  }
  for (guint i = 0; i <= WIDTH; i++)
    y[i] = g_rand_double_range (rand, 30, 90);
  check_like_a_stroke (1, WIDTH + 1, x, y, 1.25, 0.3);
  check_like_a_stroke (2, WIDTH + 1, x, y, 1.25, 0.5);
}
END_TEST

START_TEST (boxes_to_the_pixel)
{
  cairo_surface_t *image = image_new (1);
  SpPen *pen = pen_on (image);
  const SpRect clip = { 10, 10, 100, 60 };
  SpBand *band = sp_band_new (pen, &clip);
  sp_band_box (band, 20, 5, 30.25, 50);
  sp_band_box (band, 0, WIDTH, -1e30, 12);
  sp_band_fill (band, &black, 0.5);
  ck_assert_double_eq_tol (alpha_at (image, 22, 40), 0.5, 0.005);
  ck_assert_double_eq_tol (alpha_at (image, 22, 30), 0.5, 0.005); /* the second box has joined it to the top */
  ck_assert_double_eq_tol (alpha_at (image, 50, 11), 0.5, 0.005);
  ck_assert_double_eq (alpha_at (image, 50, 12), 0);
  ck_assert_double_eq (alpha_at (image, 22, 50), 0);
  ck_assert_double_eq (alpha_at (image, 25, 40), 0);
  ck_assert_double_eq (alpha_at (image, 9, 11), 0); /* the clip holds */
  ck_assert_double_eq (alpha_at (image, 110, 11), 0);
  ck_assert_double_eq (alpha_at (image, 50, 9), 0);
  sp_band_box (band, 60, 2, 40.25, 41);
  sp_band_fill (band, &black, 1); /* began anew */
  ck_assert_double_eq_tol (alpha_at (image, 60, 40), 0.75, 0.005);
  ck_assert_double_eq (alpha_at (image, 60, 20), 0);
  sp_band_free (band);
  sp_pen_free (pen);
  cairo_surface_destroy (image);
}
END_TEST

START_TEST (wild_values_stay_inside)
{
  cairo_surface_t *image = image_new (1);
  SpPen *pen = pen_on (image);
  SpBand *band = sp_band_new (pen, &everything);
  sp_band_line (band, -1e9, -1e30, 1e9, 1e30);
  sp_band_line (band, 50, NAN, 60, 20);
  sp_band_line (band, 80, -INFINITY, 70, INFINITY);
  sp_band_thicken (band, 1.25);
  sp_band_dash (band, &(SpDash){ 2, { 6, 3 } });
  sp_band_fill (band, &black, 1);
  ck_assert_double_eq (alpha_at (image, 7, 60), 0); /* a gap */
  sp_band_free (band);
  const SpRect none = { 500, 500, 10, 10 };
  band = sp_band_new (pen, &none);
  sp_band_line (band, 0, 0, WIDTH, HEIGHT);
  sp_band_thicken (band, 2);
  sp_band_fill (band, &black, 1);
  sp_band_free (band);
  sp_pen_free (pen);
  cairo_surface_destroy (image);
}
END_TEST

START_TEST (only_on_images)
{
  cairo_surface_t *recording = cairo_recording_surface_create (CAIRO_CONTENT_COLOR_ALPHA, NULL), *image = image_new (1);
  SpPen *pen = pen_on (recording);
  ck_assert_ptr_null (sp_band_new (pen, &everything));
  sp_pen_free (pen);
  pen = pen_on (image);
  cairo_rotate (pen->cr, 0.1);
  ck_assert_ptr_null (sp_band_new (pen, &everything));
  cairo_identity_matrix (pen->cr);
  cairo_push_group (pen->cr);
  ck_assert_ptr_null (sp_band_new (pen, &everything));
  sp_pen_free (pen);
  cairo_surface_destroy (recording);
  cairo_surface_destroy (image);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("figure/band");
  TCase *t = tcase_create ("band");
  tcase_add_test (t, lines_like_cairo_s_own);
  tcase_add_test (t, boxes_to_the_pixel);
  tcase_add_test (t, wild_values_stay_inside);
  tcase_add_test (t, only_on_images);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
