/* card.c - the card keeps within its sheet at every size and in every state, and is red for the limit and for what would burn alone */
#include "ui/figure/card.h"
#include "core/bench/edit/edit.h"
#include "core/bench/sheet/sheet.h"
#include "core/judge/judge.h"
#include "tests/suite.h"

#define QUELLDRIN 2
#define MORVENLICK 3
#define SIDE 0.034 /* of a sheet's least measure: nothing stands nearer to its left and right edge */
#define LOWER 0.65 /* of the height: below it there is no number line */

static SpBench *bench;

static void
set_up (void)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = sp_test_path ("samples/pocket.sheet");
  bench = sp_bench_read (path, &error);
  sp_no_error (error);
}

static void
tear_down (void)
{
  g_clear_pointer (&bench, sp_bench_unref);
}

/* Takes `edited`. */
static void
edit_to (SpBench *edited, GError *error)
{
  sp_no_error (error);
  sp_bench_unref (bench);
  bench = edited;
}

typedef struct {
  guint32 *pixels;
  int width, height;
} Picture;

static Picture
drawn (const SpFindings *findings, guint condition, SpCardState state, int width, int height)
{
  g_autoptr (SpCard) card = sp_card_new (findings, condition);
  Picture p = { g_new0 (guint32, (gsize) width * height), width, height };
  cairo_surface_t *surface = cairo_image_surface_create_for_data ((unsigned char *) p.pixels, CAIRO_FORMAT_RGB24, width, height, width * 4);
  cairo_t *cr = cairo_create (surface);
  SpPen *pen = sp_pen_new (cr, TRUE, NULL);
  const SpRect rect = { 0, 0, width, height };
  const SpCardView view = { findings, card, state, FALSE, "quelldrin-20.csv was taken: Quelldrin, 2 m, step" };
  sp_card_draw (pen, &view, &rect);
  sp_pen_free (pen);
  cairo_destroy (cr);
  cairo_surface_finish (surface);
  cairo_surface_destroy (surface);
  for (int i = 0; i < width * height; i++)
    p.pixels[i] &= 0xffffff;
  return p;
}

static guint32
as_pixel (const SpColour *c)
{
  return (guint32) round (c->red * 255) << 16 | (guint32) round (c->green * 255) << 8 | (guint32) round (c->blue * 255);
}

/* Pixels of that colour, or with `other` of any other, in a part of the sheet. */
static guint
count (const Picture *p, double x0, double x1, double y0, double y1, guint32 colour, gboolean other)
{
  guint n = 0;
  for (int y = (int) (y0 * p->height); y < (int) (y1 * p->height); y++)
    for (int x = (int) (x0 * p->width); x < (int) (x1 * p->width); x++)
      n += (p->pixels[y * p->width + x] == colour) != other;
  return n;
}

static void
expect_edges (const SpFindings *findings, guint condition, SpCardState state, int width, int height)
{
  Picture p = drawn (findings, condition, state, width, height);
  guint32 sheet = as_pixel (&sp_palette (TRUE)->sheet);
  double side = SIDE * fmin (width / 1440.0, height / 900.0) * 1440 / width;
  ck_assert_msg (count (&p, 0, side, 0, 1, sheet, TRUE) == 0, "left, %u, %d, %dx%d", condition, state, width, height);
  ck_assert_msg (count (&p, 1 - side, 1, 0, 1, sheet, TRUE) == 0, "right, %u, %d, %dx%d", condition, state, width, height);
  ck_assert_msg (count (&p, 0, 1, 0.99, 1, sheet, TRUE) == 0, "bottom, %u, %d, %dx%d", condition, state, width, height);
  ck_assert_uint_gt (count (&p, 0, 1, 0, 1, sheet, TRUE), (guint) (width * height / 40));
  g_free (p.pixels);
}

static void
expect_all_edges (void)
{
  static const int sizes[][2] = { { 1440, 900 }, { 1024, 640 }, { 1920, 1080 }, { 800, 1000 } };
  g_autoptr (SpFindings) findings = sp_judge (bench);
  for (guint condition = 0; condition < findings->n; condition++)
    for (guint i = 0; i < G_N_ELEMENTS (sizes); i++)
      for (SpCardState state = SP_CARD_READY; state <= SP_CARD_RETAKES; state++)
        expect_edges (findings, condition, state, sizes[i][0], sizes[i][1]);
}

START_TEST (it_keeps_within_its_sheet)
{
  expect_all_edges ();
}
END_TEST

/* Names that are as long as people make them. */
START_TEST (long_names_do_too)
{
  GError *error = NULL;
  SpBench *named = sp_bench_rename_radio (bench, QUELLDRIN, "Quelldrin-Obermayrhofer Handfunkgerät mit Zusatzakku", &error);
  edit_to (named, error);
  named = sp_bench_rename_condition (bench, QUELLDRIN, "2 m, hohe Leistung, mit dem zweiten Akku", &error);
  edit_to (named, error);
  g_autoptr (SpFindings) findings = sp_judge (bench);
  expect_edges (findings, QUELLDRIN, SP_CARD_READY, 1440, 900);
  expect_edges (findings, QUELLDRIN - 1, SP_CARD_READY, 1024, 640); /* it is the next one there */
}
END_TEST

static guint
red_below (const SpFindings *findings, guint condition)
{
  Picture p = drawn (findings, condition, SP_CARD_READY, 1440, 900);
  guint n = count (&p, 0, 1, LOWER, 1, as_pixel (&sp_palette (TRUE)->limit), FALSE);
  g_free (p.pixels);
  return n;
}

/* Of the radio that is to be connected next it is said before. */
START_TEST (red_is_for_what_would_burn)
{
  g_autoptr (SpFindings) calm = sp_judge (bench);
  ck_assert_uint_eq (red_below (calm, QUELLDRIN), 0);
  GError *error = NULL;
  SpBench *rated = sp_bench_set_condition (bench, MORVENLICK, "rated_w", "40", &error);
  edit_to (rated, error);
  g_autoptr (SpFindings) hot = sp_judge (bench);
  ck_assert_uint_gt (red_below (hot, QUELLDRIN), 100);
  Picture p = drawn (hot, MORVENLICK, SP_CARD_READY, 1440, 900), before = drawn (calm, MORVENLICK, SP_CARD_READY, 1440, 900);
  guint32 red = as_pixel (&sp_palette (TRUE)->limit);
  ck_assert_uint_gt (count (&p, 0, 0.5, 0.3, 0.6, red, FALSE), 1000);
  ck_assert_uint_eq (count (&before, 0, 0.5, 0.3, 0.6, red, FALSE), 0);
  g_free (p.pixels);
  g_free (before.pixels);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("card");
  TCase *t = tcase_create ("card");
  tcase_set_timeout (t, 60);
  tcase_add_checked_fixture (t, set_up, tear_down);
  tcase_add_test (t, it_keeps_within_its_sheet);
  tcase_add_test (t, long_names_do_too);
  tcase_add_test (t, red_is_for_what_would_burn);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
