/* chart.c - layers, views, and what an empty chart shows */
#include "core/bench/edit/edit.h"
#include "tests/chart/window.h"

START_TEST (the_pointer_draws_no_curve)
{
  SpAxis axis = shown ();
  guint before = sp_chart_layers_built (chart, SP_LAYER_TRACES);
  for (guint i = 0; i < 20; i++) {
    move_to (axis.start + 5 + 13 * i);
    wait_for_draw ();
    ck_assert_double_eq_tol (sp_session_pointer_hz (session), sp_axis_value (&axis, axis.start + 5 + 13 * i), 1);
  }
  sp_session_choose (session, sp_session_condition (session), 1);
  wait_for_draw ();
  for (SpLayer i = 0; i < SP_N_LAYERS; i++)
    ck_assert_uint_eq (sp_chart_layers_built (chart, i), before);
  sp_session_set_view (session, 100e6, 200e6, NAN, NAN);
  wait_for_draw ();
  for (SpLayer i = 0; i < SP_N_LAYERS; i++)
    ck_assert_uint_eq (sp_chart_layers_built (chart, i), before + 1);
  g_signal_emit_by_name (controller (GTK_TYPE_EVENT_CONTROLLER_MOTION), "leave");
  ck_assert_double_nan (sp_session_pointer_hz (session));
}
END_TEST

START_TEST (what_drops_the_layers)
{
  guint before = sp_chart_layers_built (chart, SP_LAYER_TRACES);
  sp_chart_set_dark (chart, TRUE);
  wait_for_draw ();
  ck_assert_uint_eq (sp_chart_layers_built (chart, SP_LAYER_TRACES), before + 1);
  sp_chart_set_dark (chart, TRUE);
  gtk_widget_queue_draw (GTK_WIDGET (chart));
  wait_for_draw ();
  ck_assert_uint_eq (sp_chart_layers_built (chart, SP_LAYER_TRACES), before + 1);
  gtk_widget_set_margin_start (GTK_WIDGET (chart), 20);
  wait_for_draw ();
  ck_assert_uint_eq (sp_chart_layers_built (chart, SP_LAYER_TRACES), before + 2);
  sp_session_choose (session, 1, -1);
  wait_for_draw ();
  ck_assert_uint_eq (sp_chart_layers_built (chart, SP_LAYER_TRACES), before + 3);
}
END_TEST

START_TEST (the_wheel_zooms_about_the_pointer)
{
  SpAxis whole = shown ();
  double x = whole.start + 200, under = sp_axis_value (&whole, x);
  move_to (x);
  for (guint i = 0; i < 5; i++) {
    scroll (0, -1);
    SpAxis axis = shown ();
    ck_assert_double_lt (axis.to - axis.from, whole.to - whole.from);
    ck_assert_double_eq_tol (sp_axis_value (&axis, x), under, 1e-6 * under);
    ck_assert_double_eq_tol (sp_session_pointer_hz (session), under, 1e-6 * under);
  }
  ck_assert_double_nan (sp_session_from_hz (session)); /* no step yet */
  wait_until (is_settled);
  SpAxis axis = shown ();
  ck_assert_double_eq (sp_session_from_hz (session), axis.from);
  ck_assert_double_eq (sp_session_to_hz (session), axis.to);
  ck_assert (sp_session_back (session)); /* five notches are one step */
  ck_assert_double_nan (sp_session_from_hz (session));
  ck_assert (!sp_session_back (session));
}
END_TEST

START_TEST (not_past_the_points)
{
  SpAxis whole = shown ();
  const SpConditionFindings *chosen = chosen_condition ();
  double spacing = INFINITY; /* of the sweep close by the carrier: the finest that is there */
  for (guint k = 0; k < chosen->n_corrected; k++) {
    const SpCorrected *sweep = &chosen->corrected[k];
    spacing = fmin (spacing, (sweep->frequency_hz[sweep->n - 1] - sweep->frequency_hz[0]) / (double) (sweep->n - 1));
  }
  for (guint i = 0; i < 100; i++)
    act ("chart.zoom-in");
  SpAxis axis = shown ();
  ck_assert_double_ge (axis.to - axis.from, 9.9 * spacing);
  ck_assert_double_le (axis.to - axis.from, 16 * spacing);
  sp_chart_box (chart, axis.start + 100, axis.start + 101, NAN, NAN);
  sp_chart_box (chart, axis.start + 100, axis.start + 100, NAN, NAN);
  axis = shown ();
  ck_assert_double_ge (axis.to - axis.from, 9.9 * spacing);
  for (guint i = 0; i < 100; i++)
    act ("chart.zoom-out");
  axis = shown ();
  ck_assert_double_eq (axis.from, whole.from);
  ck_assert_double_eq (axis.to, whole.to);
  ck_assert_double_nan (sp_session_from_hz (session));
}
END_TEST

START_TEST (nonsense_changes_nothing)
{
  sp_session_set_view (session, 100e6, 200e6, NAN, NAN);
  const double wild[] = { NAN, INFINITY, -INFINITY };
  for (guint i = 0; i < G_N_ELEMENTS (wild); i++) {
    sp_chart_show (chart, wild[i], 150e6);
    sp_chart_show (chart, 150e6, wild[i]);
    sp_chart_zoom (chart, 300, wild[i]);
  }
  sp_chart_zoom (chart, 300, 0);
  sp_chart_zoom (chart, 300, -1);
  sp_chart_show (chart, 150e6, 150e6);
  sp_chart_show (chart, 180e6, 120e6);
  SpAxis axis = shown ();
  ck_assert_double_eq (axis.from, 100e6);
  ck_assert_double_eq (axis.to, 200e6);
}
END_TEST

START_TEST (panning_stops_at_the_ends)
{
  SpAxis whole = shown ();
  sp_session_set_view (session, 100e6, 200e6, NAN, NAN);
  SpAxis start = shown ();
  sp_chart_pan (chart, &start, (start.end - start.start) / 10);
  SpAxis axis = shown ();
  ck_assert_double_eq_tol (axis.from, 90e6, 1);
  ck_assert_double_eq_tol (axis.to, 190e6, 1);
  sp_chart_pan (chart, &start, 1e6);
  axis = shown ();
  ck_assert_double_eq (axis.from, whole.from);
  ck_assert_double_eq_tol (axis.to - axis.from, 100e6, 1);
  sp_chart_pan (chart, &start, -1e6);
  axis = shown ();
  ck_assert_double_eq (axis.to, whole.to);
  ck_assert_double_eq_tol (axis.to - axis.from, 100e6, 1);
}
END_TEST

START_TEST (dragging)
{
  GtkGesture *drag = GTK_GESTURE (controller (GTK_TYPE_GESTURE_DRAG));
  sp_session_set_view (session, 100e6, 200e6, NAN, NAN);
  SpAxis start = shown ();
  g_signal_emit_by_name (drag, "drag-begin", start.start + 300, 200.0);
  g_signal_emit_by_name (drag, "drag-update", 2.0, 0.0); /* a hand that shakes */
  ck_assert_double_eq (shown ().from, start.from);
  g_signal_emit_by_name (drag, "drag-update", 50.0, 3.0);
  g_signal_emit_by_name (drag, "drag-update", 60.0, 3.0);
  double here = shown ().from;
  ck_assert_double_eq_tol (here, start.from - 60 * 100e6 / (start.end - start.start), 1);
  ck_assert_double_eq (sp_session_from_hz (session), 100e6);
  g_signal_emit_by_name (drag, "drag-end", 60.0, 3.0);
  ck_assert_double_eq (sp_session_from_hz (session), here);
  sp_chart_box (chart, start.start + 100, start.start + 50, NAN, NAN);
  SpAxis axis = shown ();
  ck_assert_double_eq_tol (axis.from, here + 50 * 100e6 / (start.end - start.start), 1);
  ck_assert_double_eq_tol (axis.to, here + 100 * 100e6 / (start.end - start.start), 1);
}
END_TEST

START_TEST (fit_back_and_forward)
{
  SpAxis whole = shown ();
  sp_session_set_view (session, 100e6, 200e6, NAN, NAN);
  act ("chart.zoom-in");
  SpAxis near = shown ();
  act ("chart.fit");
  ck_assert_double_eq (shown ().to, whole.to);
  act ("chart.back");
  ck_assert_double_eq (shown ().from, near.from);
  act ("chart.back");
  ck_assert_double_eq (shown ().from, 100e6);
  act ("chart.forward");
  ck_assert_double_eq (shown ().to, near.to);
  act ("chart.forward");
  act ("chart.forward");
  ck_assert_double_eq (shown ().to, whole.to);
  sp_session_set_view (session, 100e6, 200e6, NAN, NAN);
  g_signal_emit_by_name (controller (GTK_TYPE_GESTURE_CLICK), "pressed", 2, 300.0, 200.0);
  ck_assert_double_eq (shown ().to, whole.to);
}
END_TEST

START_TEST (levels_stay_while_zooming)
{
  sp_chart_axis (chart);
  SpAxis before = *sp_plot_level_axis (chart->plot);
  act ("chart.zoom-in");
  sp_chart_axis (chart);
  ck_assert_double_eq (sp_plot_level_axis (chart->plot)->from, before.from);
  ck_assert_double_eq (sp_plot_level_axis (chart->plot)->to, before.to);
}
END_TEST

START_TEST (logarithmic)
{
  act ("chart.logarithmic");
  ck_assert (sp_session_logarithmic (session));
  SpAxis axis = shown ();
  ck_assert_ptr_eq (axis.scale, &sp_scale_logarithmic);
  ck_assert_double_gt (axis.from, 0);
  double x = axis.start + 150, under = sp_axis_value (&axis, x);
  sp_chart_zoom (chart, x, 0.5);
  axis = shown ();
  ck_assert_double_eq_tol (sp_axis_value (&axis, x), under, 1e-6 * under);
  wait_for_draw ();
  press ("l");
  ck_assert (!sp_session_logarithmic (session));
  ck_assert_ptr_eq (shown ().scale, &sp_scale_linear);
}
END_TEST

/* How far the picture stands off its sheet, on the mean, 0..1. */
static double
contrast (void)
{
  GtkSnapshot *snapshot = gtk_snapshot_new ();
  int width = gtk_widget_get_width (GTK_WIDGET (chart)), height = gtk_widget_get_height (GTK_WIDGET (chart));
  sp_chart_draw (chart, snapshot);
  g_autoptr (GskRenderNode) node = gtk_snapshot_free_to_node (snapshot);
  cairo_surface_t *image = cairo_image_surface_create (CAIRO_FORMAT_RGB24, width, height);
  cairo_t *cr = cairo_create (image);
  gsk_render_node_draw (node, cr);
  cairo_destroy (cr);
  cairo_surface_flush (image);
  const unsigned char *data = cairo_image_surface_get_data (image);
  double sum = 0, sheet = 255 * sp_palette (FALSE)->sheet.green;
  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++)
      sum += fabs (data[y * cairo_image_surface_get_stride (image) + 4 * x + 1] - sheet);
  cairo_surface_destroy (image);
  return sum / 255 / width / height;
}

START_TEST (what_is_not_current_is_dimmed)
{
  wait_until (has_faded);
  double current = contrast ();
  ck_assert_double_gt (current, 0.01);
  g_autoptr (SpBench) old = sp_bench_ref (sp_session_bench (session));
  ck_assert (sp_session_edit (session, sp_bench_with (old, NULL, NULL, NULL, -1), "Nothing", NULL));
  ck_assert (sp_session_judging (session));
  double stale = contrast ();
  ck_assert_double_lt (stale, 0.6 * current);
  wait_until (is_judged);
  wait_until (has_faded);
  ck_assert_double_eq_tol (contrast (), current, 0.01 * current);
}
END_TEST

/* Asked not to move, it does not; asked nothing, it fades for a moment. */
START_TEST (fading)
{
  for (int moves = 0; moves <= 1; moves++) {
    g_object_set (gtk_settings_get_default (), "gtk-enable-animations", moves, NULL);
    g_autoptr (SpBench) old = sp_bench_ref (sp_session_bench (session));
    sp_session_edit (session, sp_bench_with (old, NULL, NULL, NULL, -1), "Nothing", NULL);
    wait_until (is_judged);
    ck_assert_int_eq (chart->before != NULL, moves);
    wait_for_draw ();
  }
  wait_until (has_faded);
}
END_TEST

START_TEST (small_and_large)
{
  gtk_window_set_default_size (GTK_WINDOW (window), 320, 200);
  wait_for_draw ();
  act ("chart.zoom-in");
  sp_session_set_pointer (session, sp_axis_value (sp_chart_axis (chart), 100));
  wait_for_draw ();
  gtk_window_set_default_size (GTK_WINDOW (window), 1400, 880);
  wait_for_draw ();
  shown ();
}
END_TEST

static gboolean
levels_are (double low_dbm, double high_dbm)
{
  const SpAxis *levels = sp_chart_levels (chart);
  return fabs (levels->from - low_dbm) < 1e-9 && fabs (levels->to - high_dbm) < 1e-9;
}

START_TEST (levels_zoom_within_the_whole)
{
  shown ();
  SpAxis whole = *sp_chart_levels (chart);
  double middle = (whole.from + whole.to) / 2;
  sp_session_choose (session, sp_session_condition (session), -1);
  act ("chart.levels-in");
  SpAxis near = *sp_chart_levels (chart);
  ck_assert_double_eq_tol ((near.from + near.to) / 2, middle, 1e-9);
  ck_assert_double_eq_tol (near.to - near.from, 0.667 * (whole.to - whole.from), 1e-9);
  ck_assert_double_eq (sp_session_top_dbm (session), near.to);
  for (guint i = 0; i < 20; i++)
    act ("chart.levels-up");
  ck_assert (levels_are (whole.to - (near.to - near.from), whole.to)); /* and no further */
  ck_assert (sp_session_back (session));
  for (guint i = 0; i < 40; i++)
    act ("chart.levels-in");
  ck_assert_double_ge (sp_chart_levels (chart)->to - sp_chart_levels (chart)->from, 4 - 1e-9);
  act ("chart.fit");
  ck_assert (levels_are (whole.from, whole.to));
  ck_assert_double_nan (sp_session_bottom_dbm (session));
  act ("chart.levels-in");
  act ("chart.levels-out");
  ck_assert (levels_are (whole.from, whole.to));
}
END_TEST

START_TEST (a_tall_box_takes_levels_too)
{
  SpAxis axis = shown (), levels = *sp_chart_levels (chart);
  double upper = levels.end + 40, lower = levels.end + 140;
  sp_chart_box (chart, axis.start + 50, axis.start + 250, upper, lower);
  ck_assert (levels_are (sp_axis_value (&levels, lower), sp_axis_value (&levels, upper)));
  sp_chart_fit (chart);
  sp_chart_box (chart, axis.start + 50, axis.start + 250, NAN, NAN);
  ck_assert (levels_are (levels.from, levels.to));
}
END_TEST

START_TEST (levels_in_dbc_move_no_curve)
{
  shown ();
  SpAxis levels = *sp_chart_levels (chart);
  guint before = sp_chart_layers_built (chart, SP_LAYER_GROUND);
  act ("chart.relative");
  wait_for_draw ();
  ck_assert (sp_session_relative (session));
  ck_assert_uint_gt (sp_chart_layers_built (chart, SP_LAYER_GROUND), before);
  ck_assert (levels_are (levels.from, levels.to));
}
END_TEST

/* No findings, then none with a condition: words stand there, and nothing that is called comes to harm. */
START_TEST (an_empty_bench)
{
  open_with (with_fewer (0));
  ck_assert_ptr_null (sp_chart_axis (chart));
  static const char *const actions[] = { "chart.zoom-in",           "chart.zoom-out",    "chart.fit",        "chart.back",
                                         "chart.forward",           "chart.logarithmic", "chart.all-sweeps", "chart.next-emission",
                                         "chart.previous-emission", "chart.levels-in",   "chart.levels-out", "chart.levels-up",
                                         "chart.levels-down",       "chart.relative" };
  for (guint i = 0; i < G_N_ELEMENTS (actions); i++)
    act (actions[i]);
  press ("Escape");
  move_to (100);
  sp_chart_pick (chart, 100, 100);
  sp_chart_show (chart, 1e6, 2e6);
  g_signal_emit_by_name (controller (GTK_TYPE_GESTURE_DRAG), "drag-begin", 100.0, 100.0);
  g_signal_emit_by_name (controller (GTK_TYPE_GESTURE_DRAG), "drag-update", 50.0, 0.0);
  g_signal_emit_by_name (controller (GTK_TYPE_GESTURE_DRAG), "drag-end", 50.0, 0.0);
  wait_for_draw ();
  ck_assert_double_gt (contrast (), 1e-4);
  g_autofree char *text = sp_chart_description (chart);
  ck_assert_str_ne (text, "");
  tear_down ();
}
END_TEST

/* A radio that was not measured yet: the axes stand, and words say what to do. */
START_TEST (nothing_swept_yet)
{
  g_autoptr (SpBench) one = with_fewer (1);
  SpBench *bench = sp_bench_ref (one);
  while (bench->conditions[0].n_sweeps) {
    g_autoptr (GError) error = NULL;
    g_autoptr (SpBench) before = bench;
    bench = sp_bench_remove_sweep (before, 0, 0, &error);
    sp_no_error (error);
  }
  open_with (bench);
  shown ();
  act ("chart.zoom-in");
  press ("n");
  press ("p");
  press ("Right");
  wait_for_draw ();
  shown ();
  tear_down ();
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("chart");
  TCase *t = tcase_create ("chart"), *empty = tcase_create ("empty");
  tcase_add_checked_fixture (t, set_up, tear_down);
  tcase_add_test (t, the_pointer_draws_no_curve);
  tcase_add_test (t, what_drops_the_layers);
  tcase_add_test (t, the_wheel_zooms_about_the_pointer);
  tcase_add_test (t, not_past_the_points);
  tcase_add_test (t, nonsense_changes_nothing);
  tcase_add_test (t, panning_stops_at_the_ends);
  tcase_add_test (t, dragging);
  tcase_add_test (t, fit_back_and_forward);
  tcase_add_test (t, levels_stay_while_zooming);
  tcase_add_test (t, logarithmic);
  tcase_add_test (t, what_is_not_current_is_dimmed);
  tcase_add_test (t, fading);
  tcase_add_test (t, small_and_large);
  tcase_add_test (t, levels_zoom_within_the_whole);
  tcase_add_test (t, a_tall_box_takes_levels_too);
  tcase_add_test (t, levels_in_dbc_move_no_curve);
  tcase_add_test (empty, an_empty_bench);
  tcase_add_test (empty, nothing_swept_yet);
  suite_add_tcase (s, t);
  suite_add_tcase (s, empty);
  return s;
}

int
main (void)
{
  return run (suite ());
}
