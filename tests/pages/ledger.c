/* ledger.c - what the table of emissions shows of itself: the chosen row where the user chose it, else the first rows */
#include "tests/pages/room.h"

#include "ui/window/pages/ledger.h"

#define LOW 150 /* pixels: a few rows */

static void
open_ledger (void)
{
  open_with ((GtkWidget * (*) (SpSession *) ) sp_ledger_new);
  gtk_window_set_default_size (GTK_WINDOW (window), 1024, LOW);
  settle ();
}

static gboolean
is_scrolled_window (GtkWidget *widget, const char *text)
{
  (void) text;
  return GTK_IS_SCROLLED_WINDOW (widget);
}

/* Frames enough for rows to have their height and be scrolled to. */
static double
scrolled (void)
{
  GtkScrolledWindow *view = GTK_SCROLLED_WINDOW (find (page, is_scrolled_window, NULL));
  for (guint i = 0; i < 10; i++) {
    gtk_widget_queue_draw (window);
    gtk_test_widget_wait_for_draw (window);
    settle ();
  }
  return gtk_adjustment_get_value (gtk_scrolled_window_get_vadjustment (view));
}

START_TEST (only_a_row_that_was_picked_is_scrolled_to)
{
  const SpFindings *findings = sp_session_findings (session);
  guint condition = 0;
  for (guint i = 0; i < findings->n; i++) /* whose deciding row stands lowest */
    if (findings->conditions[i].worst_emission > findings->conditions[condition].worst_emission)
      condition = i;
  const SpConditionFindings *c = &findings->conditions[condition];
  ck_assert_int_gt (c->worst_emission, 4);
  sp_session_choose (session, condition, SP_DECIDING_EMISSION);
  ck_assert (sp_session_chose_deciding (session));
  ck_assert_int_eq (sp_session_emission (session), c->worst_emission);
  ck_assert_double_eq (scrolled (), 0);
  sp_session_choose (session, condition, 0);
  ck_assert (!sp_session_chose_deciding (session));
  sp_session_choose (session, condition, c->worst_emission);
  ck_assert_double_gt (scrolled (), 0);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("ledger");
  TCase *t = tcase_create ("ledger");
  tcase_add_checked_fixture (t, open_ledger, tear_down);
  tcase_add_test (t, only_a_row_that_was_picked_is_scrolled_to);
  suite_add_tcase (s, t);
  return s;
}

PAGES_MAIN (suite)
