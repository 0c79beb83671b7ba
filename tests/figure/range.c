/* Range against mixer level and an emission's evidence: places, what is drawn where, and what is said. */
#include "tests/figure/leaks.h"
#include "tests/suite.h"

#include "ui/figure/evidence.h"
#include "ui/figure/range.h"

#include <string.h>

#define WIDTH 900
#define HEIGHT 480
#define LEVELS 81 /* -70 .. 10 dBm */

static cairo_surface_t *surface;
static SpPen *pen;
static const SpRect rect = { 0, 0, WIDTH, HEIGHT };

static double mixer[LEVELS], noise[2][LEVELS], own[2][LEVELS], sum[2][LEVELS];
static SpRangeCurve curves[2];
static SpRange range;

/* Noise at -80 dBm, intercepts 40 and 20 dBm: the second harmonic's limit at -50 dBc, the third's at -90. */
static void
fill (void)
{
  static const double intercept[2] = { 40, 20 }, limit[2] = { -50, -90 };
  for (guint k = 0; k < 2; k++)
    for (guint i = 0; i < LEVELS; i++) {
      mixer[i] = -70.0 + i;
      noise[k][i] = -80 - mixer[i];
      own[k][i] = (k + 1) * (mixer[i] - intercept[k]);
      sum[k][i] = 20 * log10 (pow (10, noise[k][i] / 20) + pow (10, own[k][i] / 20));
    }
  for (guint k = 0; k < 2; k++)
    curves[k] = (SpRangeCurve){ k + 2, limit[k], noise[k], own[k], sum[k], -20, -60 };
  range = (SpRange){ LEVELS, mixer, 2, curves, -45, -20, 5, -10 };
}

static void
set_up (void)
{
  fill ();
  surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, WIDTH, HEIGHT);
  cairo_t *cr = cairo_create (surface);
  pen = sp_pen_new (cr, FALSE, NULL);
  cairo_destroy (cr);
}

static void
tear_down (void)
{
  sp_pen_free (pen);
  cairo_surface_destroy (surface);
}

static guint32
word (const SpColour *c)
{
  return 0xff000000u | (guint32) lround (c->red * 255) << 16 | (guint32) lround (c->green * 255) << 8 | (guint32) lround (c->blue * 255);
}

static guint32
pixel (int x, int y)
{
  return *(guint32 *) (gpointer) (cairo_image_surface_get_data (surface) + y * cairo_image_surface_get_stride (surface) + x * 4);
}

/* How many pixels of this very colour stand in a box. */
static guint
count (const SpColour *colour, int x1, int y1, int x2, int y2)
{
  guint n = 0;
  cairo_surface_flush (surface);
  for (int y = MAX (y1, 0); y < MIN (y2, HEIGHT); y++)
    for (int x = MAX (x1, 0); x < MIN (x2, WIDTH); x++)
      n += pixel (x, y) == word (colour);
  return n;
}

static void
paint_range (const SpRangeView *view)
{
  sp_pen_colour (pen, &pen->palette->sheet, 1);
  cairo_paint (pen->cr);
  sp_range_draw (pen, view, &rect);
}

/* The first and the last x at which the point can stand. */
static void
area_of (const SpRangeView *view, int *left, int *right)
{
  for (*left = 0; sp_range_at (view, &rect, *left, 200) == sp_range_at (view, &rect, 0, 200); ++*left)
    ;
  for (*right = WIDTH - 1; sp_range_at (view, &rect, *right, 200) < 0; --*right)
    ;
}

START_TEST (a_place_is_a_level_of_the_grid)
{
  SpRangeView view = { &range, NULL, 0, 25 };
  int before = -1, left, right;
  area_of (&view, &left, &right);
  for (int x = 0; x < right; x++) {
    int at = sp_range_at (&view, &rect, x, 200);
    ck_assert_int_ge (at, MAX (before, 0));
    ck_assert_int_le (at - MAX (before, 0), 1); /* every one can be reached */
    before = at;
  }
  ck_assert_int_eq (before, LEVELS - 1);
  ck_assert_int_eq (sp_range_at (&view, &rect, WIDTH - 5, 200), -1);
  ck_assert_int_eq (sp_range_column_at (&view, &rect, WIDTH - 60, 200), 0);
  ck_assert_int_eq (sp_range_column_at (&view, &rect, WIDTH - 10, 200), 1);
  ck_assert_int_eq (sp_range_column_at (&view, &rect, 100, 200), -1);
  ck_assert_uint_eq (sp_range_nearest (&range, -44.6), 25);
  ck_assert_uint_eq (sp_range_nearest (&range, 1000), LEVELS - 1);
  ck_assert_uint_eq (sp_range_nearest (&range, NAN), 0);
}
END_TEST

START_TEST (the_best_is_no_more_than_is_advised)
{
  ck_assert_double_eq (sp_range_best (&range), -20);
  range.safe_mixer_dbm = -30;
  ck_assert_double_eq (sp_range_best (&range), -30);
  range.best_mixer_dbm = NAN;
  ck_assert (isnan (sp_range_best (&range)));
}
END_TEST

/* Noise crosses -50 dBc at -30 dBm at the mixer: left of it there is fog, just right of it none; the third harmonic is blind everywhere. */
START_TEST (fog_lies_where_the_floor_is_over_the_limit)
{
  SpRangeView view = { &range, NULL, 0, 25 };
  int left, right;
  area_of (&view, &left, &right);
  double a_level = (right - left) / (double) (LEVELS - 1);
  paint_range (&view);
  const SpColour *fog = &pen->palette->fog;
  ck_assert_uint_gt (count (fog, left + 2, 40, left + (int) (20 * a_level), HEIGHT), 1000);
  ck_assert_uint_eq (count (fog, left + (int) (42 * a_level), 40, left + (int) (50 * a_level), HEIGHT), 0);
  view.chosen = 1;
  paint_range (&view);
  ck_assert_uint_gt (count (fog, left + (int) (42 * a_level), 40, left + (int) (50 * a_level), HEIGHT), 1000);
}
END_TEST

/* Dragged to the best level the second harmonic's column is free of fog, the third's is not. */
START_TEST (columns_are_of_the_point)
{
  SpOutlook outlook[2] = { { .missing_db = 12 }, { .missing_db = 30 } };
  SpRangeView view = { &range, outlook, 0, 25 };
  const SpPalette *palette = pen->palette;
  paint_range (&view);
  guint second = count (&palette->fog, WIDTH - 92, 40, WIDTH - 48, HEIGHT), third = count (&palette->fog, WIDTH - 44, 40, WIDTH, HEIGHT);
  ck_assert_uint_gt (second, 200);
  ck_assert_uint_gt (third, second);
  guint drawn = 92 * 45 - count (&palette->sheet, WIDTH - 92, 0, WIDTH, 45);
  view.outlook = NULL;
  paint_range (&view);
  ck_assert_uint_gt (drawn, 92 * 45 - count (&palette->sheet, WIDTH - 92, 0, WIDTH, 45) + 40); /* two glyphs */
  view.outlook = outlook;
  outlook[0].missing_db = -8;
  view.at = sp_range_nearest (&range, -20);
  paint_range (&view);
  ck_assert_uint_eq (count (&palette->fog, WIDTH - 92, 40, WIDTH - 48, HEIGHT), 0);
  ck_assert_uint_gt (count (&palette->fog, WIDTH - 44, 40, WIDTH, HEIGHT), 200);
  ck_assert_uint_gt (count (&palette->verdict[SP_VERDICT_COMPLIES], WIDTH - 92, 0, WIDTH - 46, 45), 20);
}
END_TEST

START_TEST (without_a_limit_there_is_no_red_and_no_fog)
{
  SpRangeView view = { &range, NULL, 0, 25 };
  curves[0].limit_dbc = curves[1].limit_dbc = NAN;
  paint_range (&view);
  ck_assert_uint_eq (count (&pen->palette->limit, 0, 0, WIDTH, HEIGHT), 0);
  ck_assert_uint_eq (count (&pen->palette->fog, 0, 0, WIDTH, HEIGHT), 0);
  ck_assert_uint_gt (count (&pen->palette->floor_edge, 0, 0, WIDTH, HEIGHT), 50);
}
END_TEST

START_TEST (what_cannot_be_drawn_is_not)
{
  SpRangeView views[] = { { NULL, NULL, 0, 0 }, { &range, NULL, 2, 0 }, { &range, NULL, 0, LEVELS } };
  for (guint i = 0; i < G_N_ELEMENTS (views); i++) {
    paint_range (&views[i]);
    ck_assert_uint_eq (count (&pen->palette->sheet, 0, 0, WIDTH, HEIGHT), WIDTH * HEIGHT);
    ck_assert_int_eq (sp_range_at (&views[i], &rect, 200, 200), -1);
  }
  curves[0].product_dbc = NULL; /* no intercept of the order */
  for (guint i = 0; i < LEVELS; i++)
    sum[0][i] = NAN; /* no DANL */
  SpRangeView view = { &range, NULL, 0, 25 };
  paint_range (&view);
  SpRect small = { 0, 0, 90, 60 };
  sp_range_draw (pen, &view, &small);
}
END_TEST

START_TEST (range_is_said)
{
  SpRangeView view = { &range, NULL, 1, 25 };
  g_autofree char *text = sp_range_says (&view);
  for (const char **want = (const char *[]){ "−45.0", "3rd harmonic", "−35.0", "−90.0", "−20.0", NULL }; *want; want++)
    ck_assert_msg (strstr (text, *want), "%s is not in: %s", *want, text);
}
END_TEST

/* ---- evidence ---- */

static SpEvidencePoint points[3] = {
  { 0, 0, TRUE, -24, 0.2, 0, -24, -24.4, -23.6 },
  { 2, 20, FALSE, -30, 0.4, -40, -24.2, -25, -23.4 },
  { 1, 10, TRUE, -24.3, 0.3, -20, -24.1, -24.6, -23.5 },
};

static SpEmission
with_evidence (SpEvidence *e)
{
  *e = (SpEvidence){ .n = 3,
                     .points = points,
                     .order = 3,
                     .radio_low_dbm = -24.8,
                     .radio_dbm = -24.1,
                     .radio_high_dbm = -23.5,
                     .analyzer_low_dbm = -INFINITY,
                     .analyzer_dbm = -42,
                     .analyzer_high_dbm = -37,
                     .ambient_dbm = -41 };
  return (SpEmission){ .order = 3, .level_dbm = -24, .radio_low_dbm = NAN, .radio_high_dbm = NAN, .evidence = e };
}

static guint
ink_of (const SpEmission *emission)
{
  sp_pen_colour (pen, &pen->palette->sheet, 1);
  cairo_paint (pen->cr);
  sp_evidence_draw (pen, emission, &rect);
  return WIDTH * HEIGHT - count (&pen->palette->sheet, 0, 0, WIDTH, HEIGHT);
}

START_TEST (evidence_is_drawn)
{
  SpEvidence e;
  SpEmission emission = with_evidence (&e);
  guint all = ink_of (&emission);
  ck_assert_uint_gt (all, 3000);
  points[1].seen = TRUE; /* a dot and a whisker, no arrow */
  ck_assert_uint_ne (ink_of (&emission), all);
  points[1].seen = FALSE;
  e.ambient_dbm = NAN;
  ck_assert_uint_ne (ink_of (&emission), all);
  e.n = 0;
  ck_assert_uint_eq (ink_of (&emission), 0); /* nothing to show is left */
  e.ambient_dbm = -41;
  ck_assert_uint_gt (ink_of (&emission), 300);
  emission.evidence = NULL;
  ck_assert_uint_eq (ink_of (&emission), 0);
  ck_assert_uint_eq (ink_of (NULL), 0);
}
END_TEST

/* The fit's band: between its ends at 20 dB, at the last third of the width, its wash stands. */
START_TEST (a_wider_band_takes_more_room)
{
  SpEvidence e;
  SpEmission emission = with_evidence (&e);
  guint narrow = ink_of (&emission);
  double was = points[1].fit_low_dbm;
  points[1].fit_low_dbm = -INFINITY;
  ck_assert_uint_gt (ink_of (&emission), narrow + 2000);
  points[1].fit_low_dbm = was;
}
END_TEST

START_TEST (evidence_is_said)
{
  SpEvidence e;
  SpEmission emission = with_evidence (&e);
  g_autofree char *text = sp_evidence_says (&emission);
  for (const char **want = (const char *[]){ "−24.0", "below −30.0", "−24.8", "at most −37.0", "−41.0", NULL }; *want; want++)
    ck_assert_msg (strstr (text, *want), "%s is not in: %s", *want, text);
  emission.radio_low_dbm = -INFINITY; /* judged with what stands there unkeyed: that part is said, not the steps' own */
  emission.radio_high_dbm = -21.7;
  g_autofree char *judged = sp_evidence_says (&emission);
  ck_assert_msg (strstr (judged, "at most −21.7") && !strstr (judged, "−24.8"), "%s", judged);
  emission.evidence = NULL;
  ck_assert_ptr_null (sp_evidence_says (&emission));
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("range");
  TCase *t = tcase_create ("range");
  tcase_add_checked_fixture (t, set_up, tear_down);
  tcase_add_test (t, a_place_is_a_level_of_the_grid);
  tcase_add_test (t, the_best_is_no_more_than_is_advised);
  tcase_add_test (t, fog_lies_where_the_floor_is_over_the_limit);
  tcase_add_test (t, columns_are_of_the_point);
  tcase_add_test (t, without_a_limit_there_is_no_red_and_no_fog);
  tcase_add_test (t, what_cannot_be_drawn_is_not);
  tcase_add_test (t, range_is_said);
  tcase_add_test (t, evidence_is_drawn);
  tcase_add_test (t, a_wider_band_takes_more_room);
  tcase_add_test (t, evidence_is_said);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
