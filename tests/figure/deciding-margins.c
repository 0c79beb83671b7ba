/* The margins of all conditions: a sweep that was blind has none, is said to be, and squeezes nobody else's. */
#include "tests/figure/fixture.h"
#include "tests/figure/leaks.h"
#include "tests/suite.h"

#include "ui/figure/deciding-margins.h"

#define WIDTH 900
#define HEIGHT 480
#define ROW 2

/* (transfer full) */
static guint32 *
drawn (const SpFindings *findings)
{
  guint32 *pixels = g_new0 (guint32, WIDTH * HEIGHT);
  SpRect rect = { 0, 0, WIDTH, HEIGHT };
  g_autoptr (SpComparison) comparison = sp_compare (findings);
  cairo_surface_t *surface = cairo_image_surface_create_for_data ((unsigned char *) pixels, CAIRO_FORMAT_RGB24, WIDTH, HEIGHT, WIDTH * 4);
  cairo_t *cr = cairo_create (surface);
  SpPen *pen = sp_pen_new (cr, FALSE, NULL);
  sp_deciding_margins_draw (pen, comparison, -1, &rect);
  sp_pen_free (pen);
  cairo_destroy (cr);
  cairo_surface_finish (surface);
  cairo_surface_destroy (surface);
  return pixels;
}

/* Points that differ left of the names. */
static guint
differ (const guint32 *a, const guint32 *b)
{
  guint n = 0;
  for (guint i = 0; i < WIDTH * HEIGHT; i++)
    n += i % WIDTH < WIDTH - 190 && a[i] != b[i];
  return n;
}

static void
leave (SpConditionFindings *found, double margin_db, double loss_db)
{
  for (guint i = 0; i < found->n_emissions; i++) {
    found->emissions[i].margin_db = margin_db;
    found->emissions[i].sampling_loss_db = loss_db;
    found->emissions[i].detected = FALSE;
    found->emissions[i].decision = loss_db > SP_BLIND_LOSS_DB ? SP_DECISION_BLIND
                                   : isnan (margin_db)        ? SP_DECISION_NONE
                                                              : SP_DECISION_FLOOR;
  }
}

START_TEST (what_was_blind_has_no_margin)
{
  g_autoptr (SpFindings) findings = fixture_findings (101);
  SpConditionFindings *found = &findings->conditions[ROW];
  leave (found, NAN, 0);
  g_autofree guint32 *without = drawn (findings);
  leave (found, -90, SP_BLIND_LOSS_DB);
  g_autofree guint32 *low = drawn (findings);
  leave (found, -90, SP_BLIND_LOSS_DB + 1);
  g_autofree guint32 *blind = drawn (findings);
  ck_assert_uint_gt (differ (without, low), 1000); /* the axis reaches down to it */
  ck_assert_uint_eq (differ (without, blind), 0);
  ck_assert_int_ne (memcmp (without, blind, WIDTH * HEIGHT * sizeof *blind), 0); /* its name says why */
}
END_TEST

/* The analyzer made what was read 25 dB above the limit; the radio's own part lies 10 dB below it, and that is drawn. */
START_TEST (the_part_that_decided_is_drawn)
{
  g_autoptr (SpFindings) findings = fixture_findings (101);
  SpConditionFindings *found = &findings->conditions[ROW];
  leave (found, 10, 0);
  g_autofree guint32 *level = drawn (findings);
  leave (found, -25, 0);
  for (guint i = 0; i < found->n_emissions; i++) {
    found->emissions[i].decision = SP_DECISION_PART_HIGH;
    found->emissions[i].radio_high_dbm = found->emissions[i].limit_dbm - 10;
  }
  g_autofree guint32 *part = drawn (findings);
  ck_assert_uint_eq (differ (level, part), 0);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("figure/deciding-margins");
  TCase *t = tcase_create ("margins");
  tcase_add_test (t, what_was_blind_has_no_margin);
  tcase_add_test (t, the_part_that_decided_is_drawn);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
