/* What is not judged itself: faint lines behind the chosen radio's traces, each kind with its own dashes and name, as the view says. */
#include "tests/figure/fixture.h"
#include "tests/figure/leaks.h"
#include "tests/suite.h"
#include "ui/figure/figure.h"
#include "ui/figure/pen/names.h"

#define WIDTH 1200
#define HEIGHT 500
#define CHOSEN 1 /* Mirrick */

static SpFindings *findings;

static void
add (guint condition, SpPurpose purpose, double step_db, double level_dbm)
{
  fixture_add_other (findings, condition, purpose, step_db, level_dbm);
}

static void
set_up (void)
{
  findings = fixture_findings (8001);
}

static void
tear_down (void)
{
  g_clear_pointer (&findings, sp_findings_unref);
}

static SpView
view_of (guint condition, gboolean all_sweeps)
{
  SpView view;
  sp_view_init (&view);
  view.condition = condition;
  view.all_sweeps = all_sweeps;
  view.bottom_dbm = -80;
  view.top_dbm = 60;
  return view;
}

typedef struct {
  guint32 *pixels;
  SpRect area;
  SpAxis y;
} Picture;

static Picture
drawn (const SpView *view, gboolean written)
{
  Picture p = { .pixels = g_new0 (guint32, WIDTH * HEIGHT) };
  cairo_surface_t *surface = cairo_image_surface_create_for_data ((unsigned char *) p.pixels, CAIRO_FORMAT_RGB24, WIDTH, HEIGHT, WIDTH * 4);
  cairo_t *cr = cairo_create (surface);
  SpRect rect = { 0, 0, WIDTH, HEIGHT };
  SpPen *pen = sp_pen_new (cr, view->dark, NULL);
  sp_pen_colour (pen, &pen->palette->sheet, 1);
  sp_pen_box (pen, &rect);
  SpPlot *plot = sp_plot_new (pen, findings, view, &rect);
  sp_plot_draw_traces (plot, pen);
  if (written)
    sp_plot_draw_ladder (plot, pen);
  p.area = *sp_plot_area (plot);
  p.y = *sp_plot_level_axis (plot);
  sp_plot_free (plot);
  sp_pen_free (pen);
  cairo_destroy (cr);
  cairo_surface_finish (surface);
  cairo_surface_destroy (surface);
  for (guint i = 0; i < WIDTH * HEIGHT; i++)
    p.pixels[i] &= 0xffffff;
  return p;
}

static guint32
as_pixel (const SpColour *colour)
{
  return (guint32) (round (colour->red * 255)) << 16 | (guint32) (round (colour->green * 255)) << 8 | (guint32) round (colour->blue * 255);
}

/* Share of the columns from `from` on in which something stands within two pixels of that level; *step is the longest run of them. */
static double
share_at (const Picture *p, double level_dbm, guint *longest)
{
  guint32 sheet = as_pixel (&sp_palette (FALSE)->sheet);
  guint all = 0, inked = 0, run = 0, middle = (guint) sp_axis_at (&p->y, level_dbm);
  *longest = 0;
  for (guint x = (guint) p->area.x + 300; x < p->area.x + p->area.width - 60; x++, all++) {
    gboolean ink = FALSE;
    for (guint y = middle - 2; y <= middle + 2; y++)
      ink |= p->pixels[y * WIDTH + x] != sheet;
    inked += ink ? 1 : 0;
    run = ink ? run + 1 : 0;
    *longest = MAX (*longest, run);
  }
  return (double) inked / all;
}

static const struct {
  SpPurpose purpose;
  double level_dbm, least, most;
} kinds[] = {
  { SP_PURPOSE_UNKEYED, 53, 0.3, 0.75 },
  { SP_PURPOSE_STEP, 48, 0.45, 0.85 },
  { SP_PURPOSE_SUPERSEDED, 43, 0.7, 0.95 },
};

START_TEST (each_kind_has_its_dashes)
{
  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    add (CHOSEN, kinds[i].purpose, 10, kinds[i].level_dbm);
  SpView view = view_of (CHOSEN, TRUE);
  Picture p = drawn (&view, FALSE);
  guint before = 0;
  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++) {
    guint longest;
    double share = share_at (&p, kinds[i].level_dbm, &longest);
    ck_assert_msg (share > kinds[i].least && share < kinds[i].most, "kind %u: %.2f of the line", i, share);
    ck_assert_msg (longest > before, "kind %u: dashes of %u after %u", i, longest, before);
    before = longest;
  }
  g_free (p.pixels);
}
END_TEST

START_TEST (not_by_the_flag_and_not_of_others)
{
  add (CHOSEN, SP_PURPOSE_STEP, 10, 48);
  const SpView views[] = { view_of (CHOSEN, FALSE), view_of (0, TRUE) };
  for (guint i = 0; i < G_N_ELEMENTS (views); i++) {
    guint longest;
    Picture p = drawn (&views[i], FALSE);
    ck_assert_double_eq (share_at (&p, 48, &longest), 0);
    g_free (p.pixels);
  }
  SpView hidden = view_of (CHOSEN, TRUE); /* chosen, but not of the radio that is shown */
  hidden.radio = "Tolvane";
  ck_assert_ptr_null (sp_view_other (&hidden, findings, 0));
  g_autoptr (SpFindings) plain = g_steal_pointer (&findings);
  findings = fixture_findings (8001);
  Picture without = drawn (&views[0], FALSE), never = { 0 };
  SpView all = view_of (CHOSEN, TRUE);
  never = drawn (&all, FALSE);
  ck_assert_mem_eq (without.pixels, never.pixels, WIDTH * HEIGHT * sizeof (guint32)); /* nothing to show: the same picture */
  g_free (without.pixels);
  g_free (never.pixels);
}
END_TEST

/* Alike, but for the rounding of what lies under an edge. */
static gboolean
alike (guint32 a, guint32 b)
{
  for (guint shift = 0; shift < 24; shift += 8)
    if (abs ((int) (a >> shift & 0xff) - (int) (b >> shift & 0xff)) > 3)
      return FALSE;
  return TRUE;
}

/* An old sweep that is the judged one again lies behind it: no pixel of full ink becomes another. */
START_TEST (behind_the_traces_and_faint)
{
  SpView view = view_of (CHOSEN, TRUE);
  Picture before = drawn (&view, FALSE);
  add (CHOSEN, SP_PURPOSE_SUPERSEDED, NAN, NAN);
  add (CHOSEN, SP_PURPOSE_STEP, 10, 48);
  Picture after = drawn (&view, FALSE);
  guint32 ink = as_pixel (&sp_palette (FALSE)->trace[sp_view_ink (CHOSEN)]);
  guint full = 0;
  for (guint x = (guint) before.area.x; x < before.area.x + before.area.width - 60; x++)
    for (guint y = (guint) before.area.y; y < before.area.y + before.area.height; y++)
      if (before.pixels[y * WIDTH + x] == ink) {
        ck_assert (alike (after.pixels[y * WIDTH + x], ink));
        full++;
      }
  ck_assert_uint_gt (full, 100);
  guint middle = (guint) sp_axis_at (&after.y, 48);
  for (guint y = middle - 2; y <= middle + 2; y++)
    for (guint x = (guint) after.area.x + 300; x < after.area.x + after.area.width - 60; x++)
      ck_assert_uint_gt (after.pixels[y * WIDTH + x] >> 8 & 0xff, 0x90); /* the ink's green is 0x47, the sheet's 0xf4 */
  g_free (before.pixels);
  g_free (after.pixels);
}
END_TEST

/* Lines of writing right of the axes, each with a blank row above. */
static guint
names_at_the_edge (const Picture *p)
{
  guint32 sheet = as_pixel (&sp_palette (FALSE)->sheet);
  guint n = 0;
  gboolean blank = TRUE;
  for (guint y = (guint) p->area.y; y < HEIGHT; y++) {
    gboolean ink = FALSE;
    for (guint x = (guint) (p->area.x + p->area.width) + 10; x < WIDTH - 54; x++)
      ink |= p->pixels[y * WIDTH + x] != sheet;
    n += ink && blank ? 1 : 0;
    blank = !ink;
  }
  return n;
}

START_TEST (every_name_stands_apart)
{
  SpView view = view_of (CHOSEN, TRUE);
  Picture plain = drawn (&view, TRUE);
  ck_assert_uint_eq (names_at_the_edge (&plain), FIXTURE_N);
  add (CHOSEN, SP_PURPOSE_SUPERSEDED, NAN, NAN); /* all at the very place of the judged one */
  add (CHOSEN, SP_PURPOSE_STEP, 10, NAN);
  add (CHOSEN, SP_PURPOSE_STEP, 20, NAN);
  add (CHOSEN, SP_PURPOSE_UNKEYED, NAN, NAN);
  Picture more = drawn (&view, TRUE);
  ck_assert_uint_eq (names_at_the_edge (&more), FIXTURE_N + 4);
  add (CHOSEN, SP_PURPOSE_SUPERSEDED, NAN, NAN); /* one name for what is called the same */
  Picture twice = drawn (&view, TRUE);
  ck_assert_uint_eq (names_at_the_edge (&twice), FIXTURE_N + 4);
  for (guint i = 0; i < 40; i++) /* more than the sheet is high: the radios keep theirs */
    add (CHOSEN, SP_PURPOSE_STEP, i + 21, NAN);
  Picture crowd = drawn (&view, TRUE);
  ck_assert_uint_gt (names_at_the_edge (&crowd), FIXTURE_N + 4);
  ck_assert_double_le (names_at_the_edge (&crowd) * 15, crowd.area.height);
  g_free (plain.pixels);
  g_free (more.pixels);
  g_free (twice.pixels);
  g_free (crowd.pixels);
}
END_TEST

START_TEST (what_they_are_called)
{
  add (CHOSEN, SP_PURPOSE_STEP, 10, 48);
  add (CHOSEN, SP_PURPOSE_STEP, -2.5, 48);
  add (CHOSEN, SP_PURPOSE_STEP, NAN, 48);
  add (CHOSEN, SP_PURPOSE_UNKEYED, NAN, 48);
  add (CHOSEN, SP_PURPOSE_SUPERSEDED, NAN, 48);
  SpConditionFindings *c = &findings->conditions[CHOSEN];
  static const char *const names[] = { "superseded", "+10\342\200\257dB", "\342\210\2222.5\342\200\257dB", "step", "unkeyed", "unkeyed" };
  c->compared = g_renew (SpCorrected, c->compared, 5);
  c->compared[4] = c->compared[3]; /* the bench's own */
  c->compared[4].sweep = G_MAXUINT;
  c->n_compared = 5;
  SpView view = view_of (CHOSEN, TRUE);
  for (guint k = 0; k < G_N_ELEMENTS (names); k++) {
    g_autofree char *name = sp_name_other (findings, CHOSEN, sp_view_other (&view, findings, k));
    ck_assert_str_eq (name, names[k]);
  }
  ck_assert_ptr_null (sp_view_other (&view, findings, G_N_ELEMENTS (names)));
  ck_assert_ptr_null (sp_name_other (findings, CHOSEN, &c->corrected[0]));
  c->n_compared = 4; /* it goes as it came */
}
END_TEST

START_TEST (the_axes_hold_them_too)
{
  SpView view = view_of (CHOSEN, TRUE);
  view.bottom_dbm = view.top_dbm = NAN;
  add (CHOSEN, SP_PURPOSE_SUPERSEDED, NAN, 75);
  Picture p = drawn (&view, FALSE);
  ck_assert_double_gt (p.y.to, 75);
  g_free (p.pixels);
  view.all_sweeps = FALSE;
  p = drawn (&view, FALSE);
  ck_assert_double_lt (p.y.to, 60);
  g_free (p.pixels);
}
END_TEST

/* In every format, linear and logarithmic, in both papers. */
START_TEST (exported)
{
  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    add (CHOSEN, kinds[i].purpose, 10, NAN);
  for (guint i = 0; i < 12; i++) {
    SpView all = view_of (CHOSEN, TRUE), judged = view_of (CHOSEN, FALSE);
    all.dark = judged.dark = i & 1;
    all.logarithmic = judged.logarithmic = (i >> 1) & 1;
    SpFigureFormat format = i >> 2;
    g_autoptr (GBytes) with = sp_figure_export (format, 1024, 640, findings, &all, NULL),
                       without = sp_figure_export (format, 1024, 640, findings, &judged, NULL);
    ck_assert (with && without && !g_bytes_equal (with, without));
  }
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("figure/others");
  TCase *t = tcase_create ("others");
  tcase_add_checked_fixture (t, set_up, tear_down);
  tcase_set_timeout (t, 120);
  tcase_add_test (t, each_kind_has_its_dashes);
  tcase_add_test (t, not_by_the_flag_and_not_of_others);
  tcase_add_test (t, behind_the_traces_and_faint);
  tcase_add_test (t, every_name_stands_apart);
  tcase_add_test (t, what_they_are_called);
  tcase_add_test (t, the_axes_hold_them_too);
  tcase_add_test (t, exported);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
