#include "ui/figure/figure.h"
#include "tests/figure/fixture.h"
#include "tests/figure/leaks.h"
#include "tests/suite.h"
#include "ui/figure/pen/glyph.h"

#include <cairo-svg.h>
#include <string.h>

#define BLIND 2   /* Askerby */
#define EXCEEDS 1 /* Mirrick */
#define NO_LIMIT 4

static SpFindings *findings;

static void
set_up (void)
{
  findings = fixture_findings (4001);
}

static void
tear_down (void)
{
  g_clear_pointer (&findings, sp_findings_unref);
}

static SpView
view_of (guint condition)
{
  SpView view;
  sp_view_init (&view);
  view.condition = condition;
  return view;
}

static GBytes *export(SpFigureFormat format, double width, double height, const SpView *view)
{
  g_autoptr (GError) error = NULL;
  GBytes *bytes = sp_figure_export (format, width, height, findings, view, &error);
  sp_no_error (error);
  ck_assert_ptr_nonnull (bytes);
  return bytes;
}

START_TEST (svg_parses)
{
  SpView view = view_of (BLIND);
  g_autoptr (GBytes) svg = export(SP_FIGURE_SVG, 1600, 900, &view);
  gsize size;
  const char *text = g_bytes_get_data (svg, &size);
  const GMarkupParser parser = { 0 };
  g_autoptr (GMarkupParseContext) context = g_markup_parse_context_new (&parser, 0, NULL, NULL);
  g_autoptr (GError) error = NULL;
  ck_assert (g_markup_parse_context_parse (context, text, (gssize) size, &error) && g_markup_parse_context_end_parse (context, &error));
  ck_assert_ptr_nonnull (g_strstr_len (text, 400, "viewBox=\"0 0 1600 900\""));
  ck_assert_ptr_null (g_strstr_len (text, (gssize) size, "<image")); /* shapes throughout, no picture inside */
}
END_TEST

START_TEST (png_has_its_size_and_repeats)
{
  SpView view = view_of (EXCEEDS);
  view.dark = TRUE;
  g_autoptr (GBytes) png = export(SP_FIGURE_PNG, 1024, 640, &view), again = export(SP_FIGURE_PNG, 1024, 640, &view);
  const guint8 *bytes = g_bytes_get_data (png, NULL);
  ck_assert (memcmp (bytes, "\x89PNG", 4) == 0);
  ck_assert_uint_eq (bytes[18] << 8 | bytes[19], 1024);
  ck_assert_uint_eq (bytes[22] << 8 | bytes[23], 640);
  ck_assert (g_bytes_equal (png, again));
}
END_TEST

START_TEST (refusals)
{
  SpView view = view_of (0);
  const double sizes[][2] = { { 10, 10 }, { 1600, 20000 }, { NAN, 900 }, { INFINITY, 900 }, { -1600, 900 } };
  for (guint i = 0; i < G_N_ELEMENTS (sizes); i++) {
    g_autoptr (GError) error = NULL;
    ck_assert_ptr_null (sp_figure_export (SP_FIGURE_PNG, sizes[i][0], sizes[i][1], findings, &view, &error));
    ck_assert_ptr_nonnull (error);
  }
  g_autoptr (GError) error = NULL;
  SpFigureFormat format;
  ck_assert (sp_figure_format_of ("a/b.PNG", &format, NULL) && format == SP_FIGURE_PNG);
  ck_assert (sp_figure_format_of ("x.svg", &format, NULL) && format == SP_FIGURE_SVG);
  ck_assert (sp_figure_format_of ("x.y.pdf", &format, NULL) && format == SP_FIGURE_PDF);
  ck_assert (!sp_figure_format_of ("x.jpg", &format, &error));
  ck_assert_ptr_nonnull (strstr (error->message, ".png, .svg or .pdf"));
}
END_TEST

START_TEST (choosing)
{
  SpView view = view_of (0);
  ck_assert (sp_view_choose (&view, findings, NULL) && view.condition == EXCEEDS);
  ck_assert (sp_view_choose (&view, findings, "Quillow") && view.condition == 3);
  ck_assert (sp_view_shows (&view, findings, 3) && sp_view_shows (&view, findings, 4) && !sp_view_shows (&view, findings, 0));
  ck_assert (sp_view_choose (&view, findings, "Quillow/70 cm, high") && view.condition == NO_LIMIT && !sp_view_shows (&view, findings, 3));
  ck_assert (!sp_view_choose (&view, findings, "Nobody") && view.condition == NO_LIMIT);
}
END_TEST

typedef struct {
  cairo_surface_t *surface;
  SpPen *pen;
  SpPlot *plot;
} Canvas;

static Canvas
canvas (const SpView *view)
{
  Canvas c = { cairo_image_surface_create (CAIRO_FORMAT_RGB24, 1200, 500) };
  cairo_t *cr = cairo_create (c.surface);
  SpRect rect = { 0, 0, 1200, 500 };
  c.pen = sp_pen_new (cr, view->dark, NULL);
  sp_pen_colour (c.pen, &c.pen->palette->sheet, 1);
  sp_pen_box (c.pen, &rect);
  c.plot = sp_plot_new (c.pen, findings, view, &rect);
  cairo_destroy (cr);
  return c;
}

static void
put_away (Canvas *c)
{
  sp_plot_free (c->plot);
  sp_pen_free (c->pen);
  cairo_surface_destroy (c->surface);
}

static guint32
pixel (const Canvas *c, double x, double y)
{
  cairo_surface_flush (c->surface);
  const guint8 *row = cairo_image_surface_get_data (c->surface) + cairo_image_surface_get_stride (c->surface) * (int) y;
  return ((const guint32 *) (const void *) row)[(int) x] & 0xffffff;
}

static guint32
as_pixel (const SpColour *colour)
{
  return (guint32) (round (colour->red * 255)) << 16 | (guint32) (round (colour->green * 255)) << 8 | (guint32) round (colour->blue * 255);
}

static gboolean
in_runs (const SpBlindRun *runs, guint n, double f)
{
  for (guint i = 0; i < n; i++)
    if (f >= runs[i].from_hz && f <= runs[i].to_hz)
      return TRUE;
  return FALSE;
}

/* At every place on the axis: blind just where the fixture's floor lies above the limit. Within a column of where that changes nobody can
 * ask. */
static void
check_blind (const Canvas *c, guint condition)
{
  guint n;
  const SpBlindRun *runs = sp_plot_blind_runs (c->plot, &n);
  const SpAxis *axis = sp_plot_frequency_axis (c->plot);
  double column = (axis->to - axis->from) / (axis->end - axis->start), f0 = fixture_radios[condition].f0_hz;
  guint blind = 0, sure = 0;
  for (double f = 12e6; f < axis->to - 2 * column; f += column / 3) {
    SpFloorCause cause;
    guint above = 0;
    for (int k = -4; k <= 4; k++)
      above += fixture_floor (&fixture_radios[condition], f + k * column / 2, &cause) > FIXTURE_LIMIT_DBM ? 1 : 0;
    if ((above != 0 && above != 9) || fabs (fabs (f - f0) - 300e3) < 2 * column)
      continue;
    gboolean expected = above == 9 && fabs (f - f0) > 300e3 && fixture_radios[condition].verdict != SP_VERDICT_NO_LIMIT;
    ck_assert_msg (in_runs (runs, n, f) == expected, "condition %u at %.3f MHz: %s", condition, f / 1e6,
                   expected ? "should be blind" : "is not blind");
    blind += expected ? 1 : 0;
    sure++;
  }
  ck_assert_uint_gt (sure, 1000);
  ck_assert (condition == BLIND ? blind > sure / 2 : blind < sure / 20);
  for (guint i = 0; i < n; i++)
    ck_assert_double_gt (runs[i].least_floor_dbm, FIXTURE_LIMIT_DBM);
}

START_TEST (the_blind_zone_is_where_the_floor_is_above_the_limit)
{
  for (guint condition = 0; condition < FIXTURE_N; condition++) {
    SpView view = view_of (condition);
    Canvas c = canvas (&view);
    check_blind (&c, condition);
    put_away (&c);
  }
}
END_TEST

/* Share of the pixels between limit and floor at 600..700 MHz that are fog. */
static double
fog_share (guint condition, gboolean dark)
{
  SpView view = view_of (condition);
  view.dark = dark;
  Canvas c = canvas (&view);
  sp_plot_draw_ground (c.plot, c.pen);
  double top = sp_axis_at (sp_plot_level_axis (c.plot), -12.2), bottom = sp_axis_at (sp_plot_level_axis (c.plot), -15);
  double left = sp_axis_at (sp_plot_frequency_axis (c.plot), 600e6), right = sp_axis_at (sp_plot_frequency_axis (c.plot), 700e6);
  guint fog = 0, all = 0;
  for (double y = top + 1; y < bottom; y++)
    for (double x = left; x < right; x++) {
      fog += pixel (&c, x, y) == as_pixel (&c.pen->palette->fog) ? 1 : 0;
      all++;
    }
  put_away (&c);
  ck_assert_uint_gt (all, 100);
  return (double) fog / all;
}

START_TEST (the_paper_is_missing_there)
{
  for (guint dark = 0; dark < 2; dark++) {
    ck_assert_double_gt (fog_share (BLIND, dark), 0.85); /* but for the dots: no grid, no wash */
    ck_assert_double_lt (fog_share (EXCEEDS, dark), 0.01);
    ck_assert_double_lt (fog_share (NO_LIMIT, dark), 0.01);
  }
}
END_TEST

START_TEST (layers_only_draw)
{
  SpView view = view_of (BLIND);
  Canvas c = canvas (&view);
  sp_plot_draw (c.plot, c.pen);
  guint32 once = 0, twice = 0;
  for (int round = 0; round < 2; round++) {
    cairo_set_source_rgb (c.pen->cr, 1, 1, 1);
    cairo_paint (c.pen->cr);
    sp_plot_draw (c.plot, c.pen);
    cairo_surface_flush (c.surface);
    g_autofree char *sum = g_compute_checksum_for_data (G_CHECKSUM_SHA256, cairo_image_surface_get_data (c.surface),
                                                        500 * (gsize) cairo_image_surface_get_stride (c.surface));
    *(round ? &twice : &once) = g_str_hash (sum);
  }
  ck_assert_uint_eq (once, twice);
  put_away (&c);
}
END_TEST

static guint
count (const GString *text, const char *what)
{
  guint n = 0;
  for (const char *at = text->str; (at = strstr (at, what)); at += strlen (what))
    n++;
  return n;
}

static cairo_status_t
append (void *string, const unsigned char *data, unsigned length)
{
  g_string_append_len (string, (const char *) data, (gssize) length);
  return CAIRO_STATUS_SUCCESS;
}

/* Path points that one trace of n points leaves in a vector file, for each column of it. */
static double
points_a_column (guint64 n)
{
  g_autoptr (SpFindings) one = fixture_findings_one (n, 0);
  g_autoptr (GString) text = g_string_new (NULL);
  cairo_surface_t *surface = cairo_svg_surface_create_for_stream (append, text, 1200, 500);
  cairo_t *cr = cairo_create (surface);
  SpPen *pen = sp_pen_new (cr, FALSE, NULL);
  SpView view;
  sp_view_init (&view);
  view.radio = "Tolvane";
  SpRect rect = { 0, 0, 1200, 500 };
  SpPlot *plot = sp_plot_new (pen, one, &view, &rect);
  sp_plot_draw_traces (plot, pen);
  double columns = sp_plot_area (plot)->width / pen->column;
  sp_plot_free (plot);
  sp_pen_free (pen);
  cairo_destroy (cr);
  cairo_surface_finish (surface);
  cairo_surface_destroy (surface);
  return (count (text, "L ") + count (text, "M ")) / columns;
}

START_TEST (a_million_points_leave_three_a_column)
{
  double few = points_a_column (20000), many = points_a_column (1000000);
  ck_assert_double_lt (many, 3.3);
  ck_assert_double_lt (many, few * 1.1);
  ck_assert_double_gt (many, 1.5); /* something was drawn */
}
END_TEST

#define GLYPH 64

/* What a glyph covers, without its colour. */
static void
glyph_mask (SpVerdict verdict, SpOrigin origin, guint8 *mask)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, GLYPH, GLYPH);
  cairo_t *cr = cairo_create (surface);
  SpPen *pen = sp_pen_new (cr, FALSE, NULL);
  guint32 sheet = as_pixel (&pen->palette->sheet);
  sp_pen_colour (pen, &pen->palette->sheet, 1);
  cairo_paint (cr);
  if (origin == SP_ORIGIN_NONE)
    sp_glyph_verdict (pen, GLYPH / 2, GLYPH / 2, GLYPH * 0.8, verdict);
  else
    sp_glyph_origin (pen, GLYPH / 2, GLYPH / 2, GLYPH * 0.35, origin, &pen->palette->ink);
  cairo_surface_flush (surface);
  for (int y = 0; y < GLYPH; y++)
    for (int x = 0; x < GLYPH; x++) {
      const guint8 *row = cairo_image_surface_get_data (surface) + cairo_image_surface_get_stride (surface) * y;
      mask[y * GLYPH + x] = (((const guint32 *) (const void *) row)[x] & 0xffffff) != sheet;
    }
  sp_pen_free (pen);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
}

/* Pixels that belong to one and not to the other, over those that belong to either. */
static double
difference (const guint8 *a, const guint8 *b)
{
  guint only = 0, either = 0;
  for (guint i = 0; i < GLYPH * GLYPH; i++) {
    only += a[i] != b[i] ? 1 : 0;
    either += a[i] || b[i] ? 1 : 0;
  }
  return either ? (double) only / either : 0;
}

START_TEST (glyphs_differ_in_shape)
{
  static guint8 verdicts[5][GLYPH * GLYPH], origins[6][GLYPH * GLYPH];
  for (guint i = 0; i < 5; i++)
    glyph_mask (i, SP_ORIGIN_NONE, verdicts[i]);
  for (guint i = 1; i < 6; i++)
    glyph_mask (0, i, origins[i]);
  for (guint i = 0; i < 5; i++)
    for (guint k = 0; k < i; k++)
      ck_assert_msg (difference (verdicts[i], verdicts[k]) > 0.3, "verdicts %u and %u: %.2f", k, i, difference (verdicts[i], verdicts[k]));
  for (guint i = 1; i < 6; i++)
    for (guint k = 1; k < i; k++)
      ck_assert_msg (difference (origins[i], origins[k]) > 0.15, "origins %u and %u: %.2f", k, i, difference (origins[i], origins[k]));
}
END_TEST

/* Whatever is missing from the findings, a sheet comes out. */
START_TEST (poor_findings_still_draw)
{
  SpConditionFindings *c = &findings->conditions[BLIND];
  for (guint64 i = 0; i < c->corrected[0].n; i++)
    c->corrected[0].floor_dbm[i] = i % 7 ? INFINITY : c->corrected[0].floor_dbm[i];
  SpConditionFindings *bare = &findings->conditions[0];
  g_clear_pointer (&bare->headroom, sp_headroom_free);
  bare->power_dbm = bare->fundamental_hz = bare->worst_margin_db = NAN;
  bare->worst_emission = -1;
  bare->n_corrected = 0;
  findings->safe = FALSE;
  SpGap gap = { 500e6, 700e6, SP_REASON_NOT_SWEPT };
  c->gaps = g_memdup2 (&gap, sizeof gap);
  c->n_gaps = 1;
  for (guint condition = 0; condition < FIXTURE_N; condition++)
    for (guint logarithmic = 0; logarithmic < 2; logarithmic++) {
      SpView view = view_of (condition);
      view.logarithmic = logarithmic;
      view.pointer_hz = 438.6e6;
      g_bytes_unref (export(SP_FIGURE_PNG, 640, 400, &view));
      g_bytes_unref (export(SP_FIGURE_SVG, 1600, 900, &view));
    }
  bare->n_corrected = 1; /* it goes as it came */
}
END_TEST

START_TEST (odd_views_still_draw)
{
  const double ranges[][2] = { { 0, 1e3 }, { 100e6, 100.2e6 }, { 2e9, 3e9 }, { 5e8, 1e8 }, { 0, 0 }, { 146.2e6, 146.2000001e6 } };
  for (guint i = 0; i < G_N_ELEMENTS (ranges); i++)
    for (guint logarithmic = 0; logarithmic < 2; logarithmic++) {
      SpView view = view_of (BLIND);
      view.from_hz = ranges[i][0];
      view.to_hz = ranges[i][1];
      view.logarithmic = logarithmic;
      view.pointer_hz = 146.2e6;
      g_bytes_unref (export(SP_FIGURE_PNG, 1024, 640, &view));
    }
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("figure/figure");
  TCase *t = tcase_create ("figure");
  tcase_add_checked_fixture (t, set_up, tear_down);
  tcase_set_timeout (t, 120);
  tcase_add_test (t, svg_parses);
  tcase_add_test (t, png_has_its_size_and_repeats);
  tcase_add_test (t, refusals);
  tcase_add_test (t, choosing);
  tcase_add_test (t, the_blind_zone_is_where_the_floor_is_above_the_limit);
  tcase_add_test (t, the_paper_is_missing_there);
  tcase_add_test (t, layers_only_draw);
  tcase_add_test (t, a_million_points_leave_three_a_column);
  tcase_add_test (t, glyphs_differ_in_shape);
  tcase_add_test (t, poor_findings_still_draw);
  tcase_add_test (t, odd_views_still_draw);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
