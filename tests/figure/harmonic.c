/* harmonic.c - the chart by harmonic: each condition over its own carrier and a step aside, and only what is shown */
#include "tests/figure/fixture.h"
#include "tests/figure/leaks.h"
#include "tests/suite.h"
#include "ui/figure/figure.h"
#include "ui/figure/pen/mark.h"
#include "ui/figure/pen/names.h"
#include "ui/figure/plot/plot-private.h"
#include "ui/figure/small-charts.h"

#define BLIND 2  /* Askerby */
#define CHOSEN 1 /* Mirrick */
#define ON_UHF 4 /* Quillow, 70 cm */
#define WIDTH 1200
#define HEIGHT 500

static SpFindings *findings;
static cairo_surface_t *surface;
static SpPen *pen;
static SpPlot *plot;
static SpView view;

static void
set_up (void)
{
  findings = fixture_findings (4001);
  sp_view_init (&view);
  view.condition = CHOSEN;
  view.by_harmonic = TRUE;
}

static void
clear_plot (void)
{
  g_clear_pointer (&plot, sp_plot_free);
  g_clear_pointer (&pen, sp_pen_free);
  g_clear_pointer (&surface, cairo_surface_destroy);
}

static void
tear_down (void)
{
  clear_plot ();
  g_clear_pointer (&findings, sp_findings_unref);
}

static void
lay (void)
{
  clear_plot ();
  surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, WIDTH, HEIGHT);
  cairo_t *cr = cairo_create (surface);
  pen = sp_pen_new (cr, FALSE, NULL);
  sp_pen_colour (pen, &pen->palette->sheet, 1);
  cairo_paint (cr);
  cairo_destroy (cr);
  plot = sp_plot_new (pen, findings, &view, &(SpRect){ 0, 0, WIDTH, HEIGHT });
}

static guint32
pixel (double x, double y)
{
  cairo_surface_flush (surface);
  const guint8 *row = cairo_image_surface_get_data (surface) + cairo_image_surface_get_stride (surface) * (int) y;
  return ((const guint32 *) (const void *) row)[(int) x] & 0xffffff;
}

static guint32
as_pixel (const SpColour *colour)
{
  return (guint32) (round (colour->red * 255)) << 16 | (guint32) (round (colour->green * 255)) << 8 | (guint32) round (colour->blue * 255);
}

/* Where a condition's n-th harmonic stands. */
static double
harmonic_x (guint condition, guint order)
{
  SpAxis axis = sp_plot_axis_of (plot, condition);
  return sp_axis_at (&axis, order * findings->conditions[condition].fundamental_hz);
}

START_TEST (harmonics_stand_under_their_number_a_step_aside_in_list_order)
{
  static const guint rows[] = { 3, 1, 5, 2, 4 };
  view.row = rows;
  lay ();
  double step = harmonic_x (3, 1) - harmonic_x (1, 1); /* rows 2 and 1 */
  ck_assert (step > 2 && step <= 10);
  for (guint order = 1; order <= 4; order++)
    for (guint i = 0; i < FIXTURE_N; i++) {
      double aside = harmonic_x (i, order) - sp_plot_order_x (plot, order);
      ck_assert_double_eq_tol (aside, (rows[i] - 3.0) * step, 1e-6); /* row 3 of five in the middle */
      ck_assert_double_le (fabs (aside), sp_plot_fan (plot) + 1e-6);
    }
  ck_assert_double_gt (sp_plot_order_x (plot, 2) - sp_plot_order_x (plot, 1), 2 * sp_plot_fan (plot)); /* no fan in the next */
}
END_TEST

START_TEST (a_zoom_keeps_the_fans_together)
{
  double f0 = findings->conditions[CHOSEN].fundamental_hz;
  view.from_hz = 1.5 * f0;
  view.to_hz = 3.5 * f0;
  lay ();
  const SpAxis *axis = sp_plot_frequency_axis (plot);
  ck_assert_double_eq (axis->from, view.from_hz);
  ck_assert_double_eq (axis->to, view.to_hz);
  ck_assert_double_eq_tol (harmonic_x (CHOSEN, 2), axis->start + (axis->end - axis->start) / 4, 1e-6);
  ck_assert_double_eq_tol (harmonic_x (ON_UHF, 2) - harmonic_x (BLIND, 2), 2 * plot->aside, 1e-6);
}
END_TEST

START_TEST (what_is_hidden_leaves_no_space_and_nothing_else)
{
  static const gboolean hidden[] = { FALSE, FALSE, TRUE, TRUE, FALSE };
  view.hidden = hidden;
  lay ();
  ck_assert (sp_plot_draws (plot, 0) && sp_plot_draws (plot, CHOSEN) && sp_plot_draws (plot, ON_UHF));
  ck_assert (!sp_plot_draws (plot, BLIND) && !sp_plot_draws (plot, 3));
  ck_assert_double_eq_tol (harmonic_x (ON_UHF, 1) - harmonic_x (CHOSEN, 1), plot->aside, 1e-6);
  for (guint i = 0; i < plot->grounds->len; i++)
    ck_assert_uint_ne (g_array_index (plot->grounds, SpPlotGround, i).condition, BLIND);
  static const gboolean all[] = { TRUE, TRUE, TRUE, TRUE, TRUE };
  view.hidden = all;
  lay ();
  sp_plot_draw (plot, pen); /* axes only */
  const SpColour *ink = &pen->palette->trace[sp_view_ink (CHOSEN)];
  for (double x = plot->area.x; x < plot->area.x + plot->area.width; x++)
    for (double y = plot->area.y; y < plot->area.y + plot->area.height; y++)
      ck_assert (pixel (x, y) != as_pixel (ink) && pixel (x, y) != as_pixel (&pen->palette->limit));
}
END_TEST

/* Fog round the middle of what lies between the blind one's limit and floor, between two fans. */
static guint
fog (void)
{
  guint n = 0;
  double middle = sp_plot_order_x (plot, 5.5), y = sp_plot_y (plot, FIXTURE_LIMIT_DBM + 2);
  sp_plot_draw_ground (plot, pen);
  for (double x = middle - 10; x < middle + 10; x++)
    n += pixel (x, y) == as_pixel (&pen->palette->fog) ? 1 : 0;
  return n;
}

START_TEST (the_blind_zone_of_another_is_there_while_it_is_shown)
{
  lay ();
  ck_assert_uint_gt (fog (), 10); /* but for its dots */
  static const gboolean hidden[] = { FALSE, FALSE, TRUE, FALSE, FALSE };
  view.hidden = hidden;
  lay ();
  ck_assert_uint_eq (fog (), 0);
}
END_TEST

/* The colours of a row of pixels as a string: '#' ink, '.' other. */
static char *
pattern (guint condition, double width)
{
  GString *text = g_string_new (NULL);
  sp_pen_colour (pen, &pen->palette->sheet, 1);
  cairo_paint (pen->cr);
  sp_mark_swatch (pen, 10, 20, width, condition);
  guint32 ink = as_pixel (&pen->palette->trace[sp_view_ink (condition)]);
  for (double x = 10; x < 10 + width; x++)
    g_string_append_c (text, pixel (x, 20) == ink ? '#' : '.');
  g_string_append_printf (text, " %06x", ink);
  return g_string_free (text, FALSE);
}

START_TEST (twenty_four_swatches_differ)
{
  lay ();
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  for (guint i = 0; i < SP_TRACE_INKS * SP_TRACE_DASHES; i++) {
    char *text = pattern (i, SP_SWATCH_LENGTH);
    ck_assert_ptr_nonnull (strchr (text, '#'));
    ck_assert (i < SP_TRACE_INKS || strchr (text, '.'));
    ck_assert_msg (g_hash_table_add (seen, text), "two swatches are alike: %u", i);
  }
}
END_TEST

START_TEST (the_part_that_differs_leads)
{
  ck_assert_str_eq (sp_name_lead (findings, 0), "Tolvane");
  ck_assert_str_eq (sp_name_rest (findings, 0), "2 m, high");
  ck_assert_str_eq (sp_name_lead (findings, ON_UHF), "70 cm, high"); /* Quillow has two */
  ck_assert_str_eq (sp_name_rest (findings, ON_UHF), "Quillow");
  g_autofree char *label = sp_name_short (findings, ON_UHF), *alone = sp_name_short (findings, 0);
  ck_assert_str_eq (label, "70 cm, high Quillow");
  ck_assert_str_eq (alone, "Tolvane");
  ck_assert_ptr_null (sp_name_only_radio (findings));
}
END_TEST

/* (transfer full) */
static char *
small_charts (const SpSmallCharts *charts, SpRect *rect)
{
  lay ();
  *rect = (SpRect){ 0, 0, WIDTH, sp_small_charts_height (WIDTH, charts->n) };
  sp_small_charts_draw (pen, charts, rect);
  cairo_surface_flush (surface);
  return g_compute_checksum_for_data (G_CHECKSUM_SHA256, cairo_image_surface_get_data (surface),
                                      HEIGHT * (gsize) cairo_image_surface_get_stride (surface));
}

START_TEST (small_charts_stand_side_by_side)
{
  static const guint order[] = { 1, 3, 2, 0, 4 };
  g_autoptr (SpComparison) comparison = sp_compare (findings);
  SpSmallCharts charts = { .comparison = comparison, .conditions = order, .n = FIXTURE_N, .reference = -1, .chosen = -1 };
  SpRect rect;
  g_autofree char *alone = small_charts (&charts, &rect), *again = small_charts (&charts, &rect);
  ck_assert_str_eq (alone, again);
  charts.reference = 0;
  g_autofree char *against = small_charts (&charts, &rect);
  ck_assert_str_ne (alone, against);
  guint columns = sp_small_charts_columns (WIDTH, FIXTURE_N);
  ck_assert_uint_eq (columns, 4);
  double wide = (WIDTH - 34) / 4.0, high = rect.height / 2;
  for (guint i = 0; i < FIXTURE_N; i++)
    ck_assert_int_eq (sp_small_charts_at (&charts, &rect, 34 + (i % 4 + 0.4) * wide, (i / 4 + 0.4) * high), (int) i);
  ck_assert_int_eq (sp_small_charts_at (&charts, &rect, WIDTH - 20, 1.5 * high), -1); /* two rows, five charts */
  ck_assert_uint_eq (sp_small_charts_columns (300, FIXTURE_N), 1);
}
END_TEST

/* Eight crowded notes on the chosen one's chart. */
static void
pin (void)
{
  SpCondition *c = &findings->bench->conditions[CHOSEN];
  double f0 = findings->conditions[CHOSEN].fundamental_hz;
  c->pinned = g_array_new (FALSE, FALSE, sizeof (SpPinnedNote));
  for (guint i = 0; i < 8; i++) {
    SpPinnedNote note = { (1 + i / 2) * f0 * (1 + i % 2 * 0.01), -30 - 3.0 * i, (char *) "the neighbour's radio, as it was heard" };
    g_array_append_val (c->pinned, note);
  }
}

static guint
words_taken (double width)
{
  guint n = 0;
  for (guint i = 0; i < plot->taken->len; i++) {
    const SpRect *a = &g_array_index (plot->taken, SpRect, i);
    if (fabs (a->width - width - 4) > 1e-9)
      continue;
    n++;
    for (guint k = 0; k < plot->taken->len; k++) {
      const SpRect *b = &g_array_index (plot->taken, SpRect, k);
      gboolean apart = a->x + a->width <= b->x || b->x + b->width <= a->x || a->y + a->height <= b->y || b->y + b->height <= a->y;
      ck_assert_msg (i == k || apart || b->height > plot->area.height / 2, "words over %.0f %.0f", b->x, b->y);
    }
  }
  return n;
}

START_TEST (every_pinned_note_has_its_words_and_they_lie_over_nothing)
{
  pin ();
  for (guint i = 0; i < 2; i++) {
    view.by_harmonic = i == 0;
    lay ();
    sp_plot_draw (plot, pen);
    ck_assert_uint_eq (words_taken (sp_pen_text_width (pen, SP_TEXT_SMALL, "the neighbour's radio, as it was heard")), 8);
  }
}
END_TEST

/* Of many radios too: from 0.8 to 1.2 of the carrier at the most. */
START_TEST (every_carrier_is_plainly_at_one)
{
  for (double width = 500; width <= 2000; width += 500) {
    lay ();
    SpRect rect = { 0, 0, width, HEIGHT };
    sp_plot_free (plot);
    plot = sp_plot_new (pen, findings, &view, &rect);
    double order = sp_plot_order_x (plot, 2) - sp_plot_order_x (plot, 1);
    for (guint i = 0; i < FIXTURE_N; i++)
      ck_assert_double_le (fabs (harmonic_x (i, 1) - sp_plot_order_x (plot, 1)), 0.2 * order);
  }
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("harmonic");
  TCase *t = tcase_create ("harmonic");
  tcase_add_checked_fixture (t, set_up, tear_down);
  tcase_add_test (t, harmonics_stand_under_their_number_a_step_aside_in_list_order);
  tcase_add_test (t, a_zoom_keeps_the_fans_together);
  tcase_add_test (t, what_is_hidden_leaves_no_space_and_nothing_else);
  tcase_add_test (t, the_blind_zone_of_another_is_there_while_it_is_shown);
  tcase_add_test (t, twenty_four_swatches_differ);
  tcase_add_test (t, the_part_that_differs_leads);
  tcase_add_test (t, every_pinned_note_has_its_words_and_they_lie_over_nothing);
  tcase_add_test (t, every_carrier_is_plainly_at_one);
  tcase_add_test (t, small_charts_stand_side_by_side);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
