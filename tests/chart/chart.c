/* chart.c - the chart in a real window on the sample: every GTK warning is fatal here. Skipped where there is no display. */
#include "tests/suite.h"
#include "core/bench/edit.h"
#include "ui/window/chart-private.h"

/* GTK and what lies below it keep much for good; what is ours is told of all the same */
const char *__lsan_default_suppressions (void);
const char *
__lsan_default_suppressions (void)
{
  return "leak:libfontconfig\nleak:libgtk-4\nleak:libgdk\nleak:libpango\nleak:libcairo\n";
}

#define WIDTH 900
#define HEIGHT 520

static SpSession *session;
static GtkWidget *window;
static SpChart *chart;

static void
wait_until (gboolean (*done) (void))
{
  gint64 end = g_get_monotonic_time () + 60 * G_TIME_SPAN_SECOND;
  while (!done ()) {
    ck_assert_msg (g_get_monotonic_time () < end, "waited in vain");
    g_main_context_iteration (NULL, FALSE);
    g_usleep (500);
  }
}

static gboolean
is_judged (void)
{
  return !sp_session_judging (session);
}

static gboolean
is_laid_out (void)
{
  return gtk_widget_get_width (GTK_WIDGET (chart)) > 0 && gtk_widget_get_mapped (GTK_WIDGET (chart));
}

static gboolean
is_settled (void)
{
  return chart->settle_source == 0;
}

static gboolean
has_faded (void)
{
  return chart->before == NULL;
}

static void
wait_for_draw (void)
{
  gtk_test_widget_wait_for_draw (GTK_WIDGET (chart));
}

static SpBench *
sample (void)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = sp_test_path ("samples/club.sheet");
  SpBench *bench = sp_bench_read (path, &error);
  sp_no_error (error);
  return bench;
}

/* Radios left in, conditions out: down to `left`. */
static SpBench *
with_fewer (guint left)
{
  SpBench *bench = sample ();
  while (bench->n_conditions > left) {
    g_autoptr (GError) error = NULL;
    g_autoptr (SpBench) before = bench;
    bench = sp_bench_remove_condition (before, 0, &error);
    sp_no_error (error);
  }
  return bench;
}

/* Takes the bench over. */
static void
open_with (SpBench *bench)
{
  session = sp_session_new (sp_book_new (bench));
  sp_bench_unref (bench);
  chart = SP_CHART (sp_chart_new (session));
  window = gtk_window_new ();
  gtk_window_set_decorated (GTK_WINDOW (window), FALSE);
  gtk_window_set_default_size (GTK_WINDOW (window), WIDTH, HEIGHT);
  gtk_window_set_child (GTK_WINDOW (window), GTK_WIDGET (chart));
  gtk_window_present (GTK_WINDOW (window));
  wait_until (is_laid_out);
  wait_until (is_judged);
  wait_for_draw ();
}

static void
set_up (void)
{
  open_with (sample ());
}

static void
tear_down (void)
{
  gtk_window_destroy (GTK_WINDOW (window));
  g_clear_object (&session);
}

static const SpConditionFindings *
chosen_condition (void)
{
  return &sp_session_findings (session)->conditions[sp_session_condition (session)];
}

static void
act (const char *action)
{
  ck_assert_msg (gtk_widget_activate_action (GTK_WIDGET (chart), action, NULL), "no action %s", action);
}

static GListModel *
controller (GType type)
{
  g_autoptr (GListModel) all = gtk_widget_observe_controllers (GTK_WIDGET (chart));
  for (guint i = 0; i < g_list_model_get_n_items (all); i++) {
    g_autoptr (GObject) item = g_list_model_get_item (all, i);
    if (G_TYPE_CHECK_INSTANCE_TYPE (item, type))
      return (GListModel *) item; /* the widget keeps it */
  }
  ck_abort_msg ("no %s", g_type_name (type));
  return NULL;
}

/* The key's own shortcut, as the widget has it. */
static void
press (const char *key)
{
  GListModel *shortcuts = controller (GTK_TYPE_SHORTCUT_CONTROLLER);
  for (guint i = 0; i < g_list_model_get_n_items (shortcuts); i++) {
    g_autoptr (GtkShortcut) shortcut = g_list_model_get_item (shortcuts, i);
    g_autofree char *name = gtk_shortcut_trigger_to_string (gtk_shortcut_get_trigger (shortcut));
    if (!g_str_equal (name, key))
      continue;
    ck_assert (gtk_shortcut_action_activate (gtk_shortcut_get_action (shortcut), 0, GTK_WIDGET (chart), gtk_shortcut_get_arguments (shortcut)));
    return;
  }
  ck_abort_msg ("no key %s", key);
}

static SpAxis
shown (void)
{
  const SpAxis *axis = sp_chart_axis (chart);
  ck_assert_ptr_nonnull (axis);
  ck_assert (isfinite (axis->from) && isfinite (axis->to) && axis->from < axis->to);
  return *axis;
}

static void
scroll (double dx, double dy)
{
  gboolean stopped = FALSE;
  g_signal_emit_by_name (controller (GTK_TYPE_EVENT_CONTROLLER_SCROLL), "scroll", dx, dy, &stopped);
  ck_assert (stopped);
}

static void
move_to (double x)
{
  g_signal_emit_by_name (controller (GTK_TYPE_EVENT_CONTROLLER_MOTION), "motion", x, 200.0);
}

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
  sp_session_set_view (session, 100e6, 200e6);
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
  ck_assert (sp_session_back (session));               /* five notches are one step */
  ck_assert_double_nan (sp_session_from_hz (session));
  ck_assert (!sp_session_back (session));
}
END_TEST

START_TEST (not_past_the_points)
{
  SpAxis whole = shown ();
  const SpCorrected *sweep = &chosen_condition ()->corrected[0];
  double spacing = (sweep->frequency_hz[sweep->n - 1] - sweep->frequency_hz[0]) / (double) (sweep->n - 1);
  for (guint i = 0; i < 100; i++)
    act ("chart.zoom-in");
  SpAxis axis = shown ();
  ck_assert_double_ge (axis.to - axis.from, 9.9 * spacing);
  ck_assert_double_le (axis.to - axis.from, 16 * spacing);
  sp_chart_box (chart, axis.start + 100, axis.start + 101);
  sp_chart_box (chart, axis.start + 100, axis.start + 100);
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
  sp_session_set_view (session, 100e6, 200e6);
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
  sp_session_set_view (session, 100e6, 200e6);
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
  sp_session_set_view (session, 100e6, 200e6);
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
  sp_chart_box (chart, start.start + 100, start.start + 50);
  SpAxis axis = shown ();
  ck_assert_double_eq_tol (axis.from, here + 50 * 100e6 / (start.end - start.start), 1);
  ck_assert_double_eq_tol (axis.to, here + 100 * 100e6 / (start.end - start.start), 1);
}
END_TEST

START_TEST (fit_back_and_forward)
{
  SpAxis whole = shown ();
  sp_session_set_view (session, 100e6, 200e6);
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
  sp_session_set_view (session, 100e6, 200e6);
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

static guint
in_range (const SpConditionFindings *c)
{
  guint n = 0;
  for (guint i = 0; i < c->n_emissions; i++)
    n += c->emissions[i].frequency_hz >= chart->fit.from && c->emissions[i].frequency_hz <= chart->fit.to;
  return n;
}

/* Up through all that can be seen, each once and higher than the last; then the same way back. */
START_TEST (walking)
{
  for (guint k = 0; k < sp_session_findings (session)->n; k++) {
    sp_session_set_pointer (session, NAN);
    sp_session_choose (session, k, -1);
    sp_session_set_view (session, NAN, NAN);
    act ("chart.zoom-in");
    act ("chart.zoom-in"); /* so that the view must follow */
    sp_session_set_pointer (session, NAN);
    const SpConditionFindings *c = chosen_condition ();
    g_autoptr (GArray) seen = g_array_new (FALSE, FALSE, sizeof (int));
    double last = -INFINITY;
    for (int chosen = -1;;) {
      press ("n");
      if (sp_session_emission (session) == chosen)
        break;
      chosen = sp_session_emission (session);
      double f = c->emissions[chosen].frequency_hz;
      ck_assert_double_ge (f, last);
      ck_assert_double_eq (sp_session_pointer_hz (session), f);
      SpAxis axis = shown ();
      ck_assert (f >= axis.from && f <= axis.to);
      last = f;
      g_array_append_val (seen, chosen);
    }
    ck_assert_uint_eq (seen->len, in_range (c));
    for (guint i = seen->len; i-- > 1;) {
      press ("<Control>Left");
      ck_assert_int_eq (sp_session_emission (session), g_array_index (seen, int, i - 1));
    }
    press ("p");
    ck_assert_int_eq (sp_session_emission (session), g_array_index (seen, int, 0));
  }
}
END_TEST

START_TEST (keys_move_the_pointer)
{
  SpAxis axis = shown ();
  press ("Right");
  double x = sp_axis_at (&axis, sp_session_pointer_hz (session));
  press ("Right");
  ck_assert_double_eq_tol (sp_axis_at (&axis, sp_session_pointer_hz (session)), x + 1, 1e-6);
  press ("<Shift>Left");
  ck_assert_double_lt (sp_axis_at (&axis, sp_session_pointer_hz (session)), x - 10);
  press ("Home");
  ck_assert_double_eq_tol (sp_session_pointer_hz (session), axis.from, 1);
  press ("Left");
  ck_assert_double_eq_tol (sp_session_pointer_hz (session), axis.from, 1);
  press ("End");
  ck_assert_double_eq_tol (sp_session_pointer_hz (session), axis.to, 1);
  press ("n"); /* above the last there is none */
  press ("p");
  ck_assert_int_ge (sp_session_emission (session), 0);
  gtk_widget_grab_focus (GTK_WIDGET (chart));
  press ("Escape");
  ck_assert_double_nan (sp_session_pointer_hz (session));
  ck_assert_int_ge (sp_session_emission (session), 0);
  press ("Escape");
  ck_assert_int_eq (sp_session_emission (session), -1);
  ck_assert (gtk_widget_is_focus (GTK_WIDGET (chart)));
  press ("Escape");
  ck_assert (!gtk_widget_is_focus (GTK_WIDGET (chart)));
}
END_TEST

START_TEST (choosing)
{
  guint tried = 0;
  sp_session_choose (session, 1, -1);
  const SpConditionFindings *c = chosen_condition ();
  for (guint i = 0; i < c->n_emissions; i++) {
    double x, y;
    if (!c->emissions[i].detected || !sp_chart_place (chart, &c->emissions[i], &x, &y))
      continue;
    sp_session_choose (session, 1, -1);
    g_signal_emit_by_name (controller (GTK_TYPE_GESTURE_CLICK), "released", 1, x + 1, y + 1);
    ck_assert_int_eq (sp_session_emission (session), (int) i);
    ck_assert_uint_eq (sp_session_condition (session), 1);
    if (c->emissions[i].order) { /* its rung, at the head */
      sp_session_choose (session, 1, -1);
      ck_assert (sp_chart_pick (chart, x + 2, 20));
      ck_assert_uint_eq (c->emissions[sp_session_emission (session)].order, c->emissions[i].order);
    }
    tried++;
  }
  ck_assert_uint_gt (tried, 0);
  sp_session_choose (session, 1, -1);
  ck_assert (!sp_chart_pick (chart, -500, -500));
  ck_assert_int_eq (sp_session_emission (session), -1);
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

static gboolean
is_described (void)
{
  return chart->describe_source == 0;
}

START_TEST (told_to_a_screen_reader)
{
  ck_assert (gtk_test_accessible_has_role (GTK_ACCESSIBLE (chart), GTK_ACCESSIBLE_ROLE_IMG));
  ck_assert (gtk_widget_get_focusable (GTK_WIDGET (chart)));
  char *wrong = gtk_test_accessible_check_property (GTK_ACCESSIBLE (chart), GTK_ACCESSIBLE_PROPERTY_LABEL, "Spectrum");
  ck_assert_msg (wrong == NULL, "label: %s", wrong);
  press ("n");
  wait_until (is_described);
  g_autofree char *text = sp_chart_description (chart);
  wrong = gtk_test_accessible_check_property (GTK_ACCESSIBLE (chart), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, text);
  ck_assert_msg (wrong == NULL, "description: %s", wrong);
  wrong = gtk_test_accessible_check_property (GTK_ACCESSIBLE (chart), GTK_ACCESSIBLE_PROPERTY_VALUE_TEXT, text);
  ck_assert_msg (wrong == NULL, "value: %s", wrong);
  ck_assert_ptr_nonnull (strstr (text, chosen_condition ()->name));
  ck_assert_ptr_nonnull (strstr (text, "MHz"));
  press ("Right");
  g_autofree char *beside = sp_chart_description (chart);
  ck_assert_str_ne (text, beside);
  ck_assert_ptr_nonnull (strstr (beside, "At "));
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

/* No findings, then none with a condition: words stand there, and nothing that is called comes to harm. */
START_TEST (an_empty_bench)
{
  open_with (with_fewer (0));
  ck_assert_ptr_null (sp_chart_axis (chart));
  static const char *const actions[] = { "chart.zoom-in", "chart.zoom-out", "chart.fit", "chart.back", "chart.forward", "chart.logarithmic",
                                         "chart.next-emission", "chart.previous-emission" };
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
  tcase_add_test (t, walking);
  tcase_add_test (t, keys_move_the_pointer);
  tcase_add_test (t, choosing);
  tcase_add_test (t, what_is_not_current_is_dimmed);
  tcase_add_test (t, fading);
  tcase_add_test (t, told_to_a_screen_reader);
  tcase_add_test (t, small_and_large);
  tcase_add_test (empty, an_empty_bench);
  tcase_add_test (empty, nothing_swept_yet);
  suite_add_tcase (s, t);
  suite_add_tcase (s, empty);
  return s;
}

int
main (void)
{
  if (!gtk_init_check ())
    return 77;
  g_log_set_always_fatal (G_LOG_LEVEL_ERROR | G_LOG_LEVEL_CRITICAL | G_LOG_LEVEL_WARNING);
  SRunner *runner = srunner_create (suite ());
  srunner_run_all (runner, CK_ENV);
  int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
