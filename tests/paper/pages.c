/* pages.c - what the layouter places: everything on the sheet, nothing over anything else, as many pages as there should be */
#include "tests/figure/leaks.h"
#include "tests/paper/evening.h"

#include "ui/paper/export.h"
#include "ui/paper/pages.h"

#include <string.h>

#define TOUCH 0.75 /* points: lines of type may touch so far */

static gboolean
overlap (const SpRect *a, const SpRect *b)
{
  return a->x + TOUCH < b->x + b->width && b->x + TOUCH < a->x + a->width && a->y + TOUCH < b->y + b->height
         && b->y + TOUCH < a->y + a->height;
}

static guint
check_boxes (const char *what, const SpPaper *paper, SpPaperSize size)
{
  guint n;
  g_autoptr (SpPages) pages = sp_pages_new (paper, size);
  g_autofree SpPageBox *boxes = sp_pages_boxes (pages, &n);
  SpRect inside = sp_pages_inside (pages);
  ck_assert_msg (n > 20, "%s: %u boxes", what, n);
  for (guint i = 0; i < n; i++) {
    const SpRect *r = &boxes[i].rect;
    ck_assert_msg (r->x >= inside.x - TOUCH && r->y >= inside.y - TOUCH && r->x + r->width <= inside.x + inside.width + TOUCH
                       && r->y + r->height <= inside.y + inside.height + TOUCH,
                   "%s, %s, page %u: '%.60s' at %.1f %.1f, %.1f x %.1f leaves the margins", what, sp_paper_size_name (size),
                   boxes[i].page + 1, boxes[i].text, r->x, r->y, r->width, r->height);
    for (guint k = i + 1; k < n && boxes[k].page == boxes[i].page; k++)
      ck_assert_msg (!overlap (r, &boxes[k].rect),
                     "%s, %s, page %u: '%.60s' (%.1f %.1f, %.1f x %.1f) and '%.60s' (%.1f %.1f, %.1f x %.1f) overlap", what,
                     sp_paper_size_name (size), boxes[i].page + 1, boxes[i].text, r->x, r->y, r->width, r->height, boxes[k].text,
                     boxes[k].rect.x, boxes[k].rect.y, boxes[k].rect.width, boxes[k].rect.height);
  }
  return sp_pages_count (pages);
}

static const struct {
  const char *what;
  guint radios, conditions, length;
  gboolean bare;
  guint slip_pages[SP_N_PAPERS]; /* 0: as many as it takes */
} cases[] = {
  { "one condition", 1, 1, 8, FALSE, { 1, 1, 1 } },  { "two conditions", 1, 2, 8, FALSE, { 1, 1, 0 } },
  { "six conditions", 1, 6, 8, FALSE, { 1, 1, 0 } }, { "twelve conditions", 1, 12, 8, FALSE, { 2, 2, 0 } },
  { "long names", 2, 2, 60, FALSE, { 1, 1, 0 } },    { "nothing stated", 2, 1, 8, TRUE, { 1, 1, 1 } },
};

START_TEST (a_slip_stands_within_its_margins)
{
  g_autoptr (SpFindings) findings = evening (cases[_i].radios, cases[_i].conditions, cases[_i].length, cases[_i].bare);
  for (guint size = 0; size < SP_N_PAPERS; size++) {
    g_autoptr (SpPaper) slip = sp_paper_slip (findings, 0, (SpPaperSize) size);
    guint pages = check_boxes (cases[_i].what, slip, (SpPaperSize) size);
    if (cases[_i].slip_pages[size])
      ck_assert_msg (pages == cases[_i].slip_pages[size], "%s, %s: %u pages", cases[_i].what, sp_paper_size_name ((SpPaperSize) size),
                     pages);
  }
}
END_TEST

START_TEST (a_report_stands_within_its_margins)
{
  g_autoptr (SpFindings) findings = evening (cases[_i].radios, cases[_i].conditions, cases[_i].length, cases[_i].bare);
  g_autoptr (SpPaper) report = sp_paper_report (findings, -1);
  check_boxes (cases[_i].what, report, SP_PAPER_A4);
  if (_i == 1)
    check_boxes (cases[_i].what, report, SP_PAPER_LETTER);
}
END_TEST

/* The table of verdicts goes on over the page, and no row is lost. */
START_TEST (forty_radios_go_on_over_the_page)
{
  g_autoptr (SpFindings) findings = evening (40, 1, 24, FALSE);
  g_autoptr (SpPaper) report = sp_paper_report (findings, -1);
  guint n, told = 0;
  check_boxes ("forty radios", report, SP_PAPER_A4);
  g_autoptr (SpPages) pages = sp_pages_new (report, SP_PAPER_A4);
  g_autofree SpPageBox *boxes = sp_pages_boxes (pages, &n);
  g_autoptr (GHashTable) names = g_hash_table_new (g_str_hash, g_str_equal);
  for (guint i = 0; i < n; i++)
    if (boxes[i].page < 3)
      g_hash_table_add (names, (gpointer) boxes[i].text);
  for (guint i = 0; i < findings->bench->n_radios; i++)
    told += g_hash_table_contains (names, findings->bench->radios[i].name) ? 1 : 0;
  ck_assert_uint_eq (told, 40);
  ck_assert_uint_gt (sp_pages_count (pages), 40);
}
END_TEST

static gboolean
box_is (const SpPageBox *a, const SpPageBox *b)
{
  return a->page == b->page && strcmp (a->text, b->text) == 0 && memcmp (&a->rect, &b->rect, sizeof (SpRect)) == 0;
}

/* What is shown while the other pages are laid stands where it will stay; numbers of pages alone are not told before they are known. */
START_TEST (the_first_page_stands_before_the_others)
{
  g_autoptr (SpFindings) findings = evening (12, 1, 8, FALSE);
  g_autoptr (SpPaper) report = sp_paper_report (findings, -1);
  g_autoptr (SpPaper) slip = sp_paper_slip (findings, 0, SP_PAPER_A4);
  g_autoptr (SpPages) pages = sp_pages_first (report, SP_PAPER_A4);
  g_autoptr (SpPages) all = sp_pages_new (report, SP_PAPER_A4);
  g_autoptr (SpPages) alone = sp_pages_first (slip, SP_PAPER_A4);
  guint n_first, n_all, n, others = 0;
  g_autofree SpPageBox *first = sp_pages_boxes (pages, &n_first), *whole = sp_pages_boxes (all, &n_all);
  ck_assert (sp_pages_are_all (alone) && !sp_pages_are_all (pages));
  ck_assert_uint_eq (sp_pages_count (pages), 1);
  ck_assert (n_first < n_all && whole[n_first].page == 1 && whole[n_first - 1].page == 0);
  for (guint i = 0; i < n_first; i++)
    if (!box_is (&first[i], &whole[i])) {
      ck_assert_msg (strcmp (first[i].text, "page 1") == 0 || strcmp (first[i].text, "\u2007\u2007") == 0, "'%s'", first[i].text);
      others++;
    }
  ck_assert_uint_eq (others, 13); /* the foot's, and that of each condition */
  sp_pages_go_on (pages);
  g_autofree SpPageBox *rest = sp_pages_boxes (pages, &n);
  ck_assert (sp_pages_are_all (pages) && n == n_all);
  for (guint i = 0; i < n; i++)
    ck_assert_msg (box_is (&rest[i], &whole[i]), "'%s', '%s'", rest[i].text, whole[i].text);
}
END_TEST

/* A bench without a sweep still has its paper. */
START_TEST (no_sweep_is_said)
{
  g_autoptr (SpFindings) findings = evening (1, 0, 8, FALSE);
  g_autoptr (SpPaper) slip = sp_paper_slip (findings, 0, SP_PAPER_A4);
  g_autoptr (SpPaper) report = sp_paper_report (findings, -1);
  g_autoptr (SpPages) pages = sp_pages_new (slip, SP_PAPER_A4);
  g_autoptr (SpPages) more = sp_pages_new (report, SP_PAPER_A4);
  ck_assert_uint_eq (sp_pages_count (pages), 1);
  ck_assert_uint_gt (sp_pages_count (more), 1);
}
END_TEST

START_TEST (equal_findings_equal_bytes)
{
  g_autoptr (SpFindings) findings = evening (2, 1, 8, FALSE);
  g_autoptr (SpFindings) again = evening (2, 1, 8, FALSE);
  for (int format = SP_PAPER_PDF; format <= SP_PAPER_HTML; format++) {
    g_autoptr (SpPaper) one = sp_paper_report (findings, -1);
    g_autoptr (SpPaper) two = sp_paper_report (again, -1);
    g_autoptr (GBytes) a = sp_paper_export (one, (SpPaperFormat) format, SP_PAPER_A4, NULL);
    g_autoptr (GBytes) b = sp_paper_export (two, (SpPaperFormat) format, SP_PAPER_A4, NULL);
    ck_assert (a && b && g_bytes_equal (a, b));
  }
}
END_TEST

/* On grey paper: every ink of a paper for one radio is black but the limit's, and the verdicts' signs are shapes. */
START_TEST (one_radio_is_drawn_in_ink)
{
  const SpPalette *paper = sp_palette_paper (TRUE);
  for (guint i = 0; i < SP_TRACE_INKS; i++)
    ck_assert (paper->trace[i].red == 0 && paper->trace[i].green == 0 && paper->trace[i].blue == 0);
  for (guint i = 0; i < G_N_ELEMENTS (paper->verdict); i++)
    ck_assert (paper->verdict[i].red == 0 && paper->verdict[i].green == 0 && paper->verdict[i].blue == 0);
  ck_assert (paper->limit.red > paper->limit.green && paper->sheet.red == 1);
  const SpPalette *several = sp_palette_paper (FALSE);
  ck_assert_uint_eq (several->dash_each, 1);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("paper/pages");
  TCase *tc = tcase_create ("pages");
  tcase_set_timeout (tc, 120);
  tcase_add_loop_test (tc, a_slip_stands_within_its_margins, 0, (int) G_N_ELEMENTS (cases));
  tcase_add_loop_test (tc, a_report_stands_within_its_margins, 0, (int) G_N_ELEMENTS (cases));
  tcase_add_test (tc, forty_radios_go_on_over_the_page);
  tcase_add_test (tc, the_first_page_stands_before_the_others);
  tcase_add_test (tc, no_sweep_is_said);
  tcase_add_test (tc, equal_findings_equal_bytes);
  tcase_add_test (tc, one_radio_is_drawn_in_ink);
  suite_add_tcase (s, tc);
  return s;
}

SP_MAIN (suite)
