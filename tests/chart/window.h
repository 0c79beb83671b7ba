/* window.h - the chart in a real window on the sample, for its suites: every GTK warning is fatal. Skipped (77) where there is no
 * display. */
#pragma once

#include "core/bench/edit/edit.h"
#include "core/bench/sheet/sheet.h"
#include "tests/wait.h"
#include "ui/window/chart/chart-private.h"

/* Libraries below GTK keep memory for good, some of them unloaded by then: leaks are looked for by hand (ASAN_OPTIONS=detect_leaks=1),
 * none is ours. */
const char *__asan_default_options (void);
const char *
__asan_default_options (void)
{
  return "detect_leaks=0";
}

#define WIDTH 900
#define HEIGHT 520

static SpSession *session;
static GtkWidget *window;
static SpChart *chart;

static inline gboolean
is_so (gpointer done)
{
  return (*(gboolean (**) (void)) done) ();
}

static inline void
wait_until (gboolean (*done) (void))
{
  ck_assert_msg (sp_comes (is_so, &done), "waited in vain");
}

static inline gboolean
is_judged (void)
{
  return !sp_session_judging (session);
}

static inline gboolean
is_laid_out (void)
{
  return gtk_widget_get_width (GTK_WIDGET (chart)) > 0 && gtk_widget_get_mapped (GTK_WIDGET (chart));
}

static inline gboolean
is_settled (void)
{
  return chart->settle_source == 0;
}

static inline gboolean
has_faded (void)
{
  return chart->before == NULL;
}

static inline void
wait_for_draw (void)
{
  gtk_test_widget_wait_for_draw (GTK_WIDGET (chart));
}

static inline SpBench *
sample_of (const char *sheet)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = sp_test_path (sheet);
  SpBench *bench = sp_bench_read (path, &error);
  sp_no_error (error);
  return bench;
}

static inline SpBench *
sample (void)
{
  return sample_of ("samples/club.sheet");
}

/* Radios left in, conditions out: down to `left`. */
static inline SpBench *
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
static inline void
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

static inline void
set_up (void)
{
  open_with (sample ());
}

static inline void
tear_down (void)
{
  gtk_window_destroy (GTK_WINDOW (window));
  g_clear_object (&session);
}

static inline const SpConditionFindings *
chosen_condition (void)
{
  return &sp_session_findings (session)->conditions[sp_session_condition (session)];
}

static inline void
act (const char *action)
{
  ck_assert_msg (gtk_widget_activate_action (GTK_WIDGET (chart), action, NULL), "no action %s", action);
}

static inline GListModel *
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
static inline void
press (const char *key)
{
  GListModel *shortcuts = controller (GTK_TYPE_SHORTCUT_CONTROLLER);
  for (guint i = 0; i < g_list_model_get_n_items (shortcuts); i++) {
    g_autoptr (GtkShortcut) shortcut = g_list_model_get_item (shortcuts, i);
    g_autofree char *name = gtk_shortcut_trigger_to_string (gtk_shortcut_get_trigger (shortcut));
    if (!g_str_equal (name, key))
      continue;
    ck_assert (
        gtk_shortcut_action_activate (gtk_shortcut_get_action (shortcut), 0, GTK_WIDGET (chart), gtk_shortcut_get_arguments (shortcut)));
    return;
  }
  ck_abort_msg ("no key %s", key);
}

static inline SpAxis
shown (void)
{
  const SpAxis *axis = sp_chart_axis (chart);
  ck_assert_ptr_nonnull (axis);
  ck_assert (isfinite (axis->from) && isfinite (axis->to) && axis->from < axis->to);
  return *axis;
}

static inline void
scroll (double dx, double dy)
{
  gboolean stopped = FALSE;
  g_signal_emit_by_name (controller (GTK_TYPE_EVENT_CONTROLLER_SCROLL), "scroll", dx, dy, &stopped);
  ck_assert (stopped);
}

static inline void
move_to (double x)
{
  g_signal_emit_by_name (controller (GTK_TYPE_EVENT_CONTROLLER_MOTION), "motion", x, 200.0);
}

/* main() of a suite. */
static inline int
run (Suite *suite)
{
  if (!gtk_init_check ())
    return 77;
  g_log_set_always_fatal (G_LOG_LEVEL_ERROR | G_LOG_LEVEL_CRITICAL | G_LOG_LEVEL_WARNING);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
