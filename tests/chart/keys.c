/* keys.c - from emission to emission, by key and by mouse, and what is said of them */
#include "tests/chart/window.h"

#include "core/judge/judge.h"
#include "ui/words/words.h"

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
    sp_session_set_view (session, NAN, NAN, NAN, NAN);
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

/* Levels that are zoomed follow the choice, as far as they must. */
START_TEST (walking_moves_the_levels)
{
  guint moved = 0;
  sp_session_choose (session, 1, -1);
  const SpConditionFindings *c = chosen_condition ();
  sp_session_set_pointer (session, NAN);
  for (guint i = 0; i < 4; i++)
    act ("chart.levels-in");
  shown ();
  double span = sp_chart_levels (chart)->to - sp_chart_levels (chart)->from, low = sp_chart_levels (chart)->from;
  for (int chosen = -2; chosen != sp_session_emission (session);) {
    chosen = sp_session_emission (session);
    press ("n");
    shown ();
    ck_assert_int_ge (sp_session_emission (session), 0);
    double level = c->emissions[sp_session_emission (session)].level_dbm;
    const SpAxis *levels = sp_chart_levels (chart);
    ck_assert_double_eq_tol (levels->to - levels->from, span, 1e-6);
    ck_assert (isnan (level) || (level >= levels->from && level <= levels->to));
    moved += levels->from != low;
    low = levels->from;
  }
  ck_assert_uint_gt (moved, 0);
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
    if (!c->emissions[i].detected || !sp_chart_place (chart, sp_session_condition (session), &c->emissions[i], &x, &y))
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

/* The lent analyzer's Orbanick: two steps, and what stands there unkeyed. The first of them is kept, the second is superseded. */
START_TEST (all_sweeps_or_the_judged_ones)
{
  g_autoptr (SpBench) bench = sample_of ("samples/pocket.sheet");
  guint step = 0;
  for (guint i = 0; i < bench->conditions[0].n_sweeps; i++)
    step = bench->conditions[0].sweeps[i].purpose == SP_PURPOSE_STEP ? i : step;
  open_with (sp_bench_set_purpose (bench, 0, step, SP_PURPOSE_SUPERSEDED, NAN, NULL));
  sp_session_choose (session, 0, -1);
  wait_for_draw ();
  g_autofree char *all = sp_chart_description (chart);
  ck_assert_msg (g_str_has_suffix (all, "Faint beside it: superseded, +10\342\200\257dB, unkeyed."), "%s", all);
  for (guint i = 0; i < 2; i++) {
    guint built = sp_chart_layers_built (chart, SP_LAYER_TRACES);
    press ("a");
    ck_assert_int_eq (sp_session_all_sweeps (session), i);
    wait_for_draw ();
    ck_assert_uint_gt (sp_chart_layers_built (chart, SP_LAYER_TRACES), built);
    g_autofree char *text = sp_chart_description (chart);
    ck_assert_int_eq (strstr (text, "Faint") != NULL, i);
    ck_assert_int_eq (strcmp (text, all) == 0, i);
  }
  tear_down ();
}
END_TEST

START_TEST (a_ruler_to_read_against)
{
  press ("n");
  double place = sp_session_pointer_hz (session);
  press ("r");
  ck_assert_double_eq (sp_session_ruler_hz (session), place);
  press ("<Shift>Right");
  SpBetween between = sp_findings_between (sp_session_findings (session), sp_session_condition (session), place,
                                           sp_session_pointer_hz (session));
  ck_assert_double_eq (between.apart_hz, sp_session_pointer_hz (session) - place);
  g_autofree char *text = sp_chart_description (chart), *level = sp_words_signed (between.level_db, 1, SP_HAND_SCREEN);
  const char *said = strstr (text, "From the ruler +");
  ck_assert_msg (said && strstr (said, level), "%s lacks %s", text, level);
  press ("Escape"); /* the ruler first, then the pointer */
  ck_assert_double_nan (sp_session_ruler_hz (session));
  ck_assert (!isnan (sp_session_pointer_hz (session)));
  press ("r");
  press ("r");
  ck_assert_double_nan (sp_session_ruler_hz (session));
}
END_TEST

static GtkWidget *
note_entry (void)
{
  GtkWidget *popover = gtk_widget_get_last_child (GTK_WIDGET (chart));
  ck_assert (GTK_IS_POPOVER (popover));
  return gtk_widget_get_last_child (gtk_popover_get_child (GTK_POPOVER (popover)));
}

/* The mouse stands somewhere over the chart: when the popover closes, the pointer is there. */
static void
write_note (double place, const char *text)
{
  sp_session_set_pointer (session, place);
  press ("t");
  gtk_editable_set_text (GTK_EDITABLE (note_entry ()), text);
  g_signal_emit_by_name (note_entry (), "activate");
  wait_until (is_judged);
  wait_for_draw ();
}

static const GArray *
notes (void)
{
  return sp_session_bench (session)->conditions[sp_session_condition (session)].pinned;
}

START_TEST (a_note_is_pinned_changed_and_taken_off)
{
  press ("n");
  double place = sp_session_pointer_hz (session);
  guint built = sp_chart_layers_built (chart, SP_LAYER_LADDER);
  write_note (place, "the neighbour's; 50 %");
  ck_assert_uint_eq (notes ()->len, 1);
  const SpPinnedNote *note = &g_array_index (notes (), SpPinnedNote, 0);
  ck_assert_str_eq (note->text, "the neighbour's; 50 %");
  ck_assert_double_eq (note->frequency_hz, place);
  ck_assert_double_eq (note->level_dbm, sp_findings_at (sp_session_findings (session), sp_session_condition (session), place).level_dbm);
  ck_assert_uint_gt (sp_chart_layers_built (chart, SP_LAYER_LADDER), built);
  sp_session_set_pointer (session, place);
  press ("t");
  ck_assert_str_eq (gtk_editable_get_text (GTK_EDITABLE (note_entry ())), "the neighbour's; 50 %");
  gtk_popover_popdown (GTK_POPOVER (gtk_widget_get_last_child (GTK_WIDGET (chart))));
  write_note (place, "mine");
  ck_assert_uint_eq (notes ()->len, 1);
  ck_assert_str_eq (g_array_index (notes (), SpPinnedNote, 0).text, "mine");
  write_note (place, "");
  ck_assert_ptr_null (notes ());
  sp_session_undo (session);
  wait_until (is_judged);
  ck_assert_str_eq (g_array_index (notes (), SpPinnedNote, 0).text, "mine");
}
END_TEST

static gboolean
is_copied (void)
{
  GdkClipboard *clipboard = gtk_widget_get_clipboard (GTK_WIDGET (chart));
  return gdk_content_formats_contain_gtype (gdk_clipboard_get_formats (clipboard), GDK_TYPE_TEXTURE);
}

START_TEST (a_picture_to_paste_and_a_menu)
{
  press ("<Control>c");
  wait_until (is_copied);
  press ("Menu");
  ck_assert (gtk_widget_get_visible (chart->menu));
  gtk_popover_popdown (GTK_POPOVER (chart->menu));
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("chart/keys");
  TCase *t = tcase_create ("keys");
  tcase_add_checked_fixture (t, set_up, tear_down);
  tcase_add_test (t, walking);
  tcase_add_test (t, walking_moves_the_levels);
  tcase_add_test (t, keys_move_the_pointer);
  tcase_add_test (t, choosing);
  tcase_add_test (t, told_to_a_screen_reader);
  tcase_add_test (t, a_ruler_to_read_against);
  tcase_add_test (t, a_note_is_pinned_changed_and_taken_off);
  tcase_add_test (t, a_picture_to_paste_and_a_menu);
  suite_add_tcase (s, t);
  TCase *own = tcase_create ("a bench of its own");
  tcase_add_test (own, all_sweeps_or_the_judged_ones);
  suite_add_tcase (s, own);
  return s;
}

int
main (void)
{
  return run (suite ());
}
