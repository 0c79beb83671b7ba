#include "ui/figure/pdf.h"
#include "tests/figure/fixture.h"
#include "tests/figure/leaks.h"
#include "tests/suite.h"
#include "ui/figure/figure.h"

#include <glib/gstdio.h>
#include <string.h>
#include <unistd.h>

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

/* (transfer full) */
static GBytes *
exported (void)
{
  SpView view;
  sp_view_init (&view);
  g_autoptr (GError) error = NULL;
  GBytes *bytes = sp_figure_export (SP_FIGURE_PDF, 1600, 900, findings, &view, &error);
  sp_no_error (error);
  return bytes;
}

/* What pdfinfo tells of it. (transfer full) */
static char *
info_of (GBytes *pdf)
{
  g_autofree char *path = g_build_filename (g_get_tmp_dir (), "spurproof-figure-XXXXXX", NULL),
                  *program = g_find_program_in_path ("pdfinfo");
  ck_assert_msg (program != NULL, "pdfinfo is missing: app/install-packages test");
  close (g_mkstemp (path));
  ck_assert (g_file_set_contents (path, g_bytes_get_data (pdf, NULL), (gssize) g_bytes_get_size (pdf), NULL));
  char *argv[] = { program, path, NULL }, *out = NULL;
  int status = 1;
  ck_assert (g_spawn_sync (NULL, argv, NULL, 0, NULL, NULL, &out, NULL, &status, NULL) && status == 0);
  g_unlink (path);
  return out;
}

START_TEST (pdf_is_one_and_its_date_is_the_bench_s)
{
  g_autoptr (GBytes) pdf = exported (), again = exported ();
  gsize size;
  const char *text = g_bytes_get_data (pdf, &size);
  ck_assert (size > 1000 && memcmp (text, "%PDF", 4) == 0);
  ck_assert (g_bytes_equal (pdf, again));
  g_autofree char *info = info_of (pdf);
  ck_assert_ptr_nonnull (strstr (info, "1600 x 900 pts"));
  ck_assert_ptr_nonnull (strstr (info, "Autumn bench night"));
  ck_assert_ptr_nonnull (strstr (info, "CreationDate"));
  ck_assert_ptr_nonnull (strstr (info, "Oct  3"));
}
END_TEST

/* A clock in the file would make each export another. */
START_TEST (a_pdf_without_a_date_has_none)
{
  fixture_date = NULL;
  sp_findings_unref (findings);
  findings = fixture_findings (4001);
  fixture_date = "2026-10-03";
  g_autoptr (GBytes) pdf = exported ();
  g_autofree char *info = info_of (pdf);
  ck_assert_ptr_nonnull (strstr (info, "1600 x 900 pts"));
  ck_assert_ptr_null (strstr (info, "Date"));
}
END_TEST

/* Any loss: an object's beginning or end, the table's row, the file's end. */
START_TEST (a_pdf_that_lacks_an_object_is_not_whole)
{
  g_autoptr (GBytes) pdf = exported ();
  gsize size;
  const char *data = g_bytes_get_data (pdf, &size);
  ck_assert (sp_pdf_is_whole (data, size));
  const char *const marks[] = { "\nendobj\n", " 0 obj\n", "/FontDescriptor\n", " 00000 n \n", "xref\n0 ", "trailer\n", "startxref\n" };
  for (guint i = 0; i < G_N_ELEMENTS (marks); i++) {
    const char *found = memmem (data, size, marks[i], strlen (marks[i]));
    ck_assert_msg (found != NULL, "%s", marks[i]);
    g_autofree char *spoilt = g_memdup2 (data, size);
    spoilt[found - data + 1] = '#';
    ck_assert_msg (sp_pdf_is_whole (spoilt, size) == (i == 2), "%s", marks[i]); /* inside an object nothing is looked at */
    gsize at = (gsize) (found - data), without = size - at - strlen (marks[i]);
    memmove (spoilt + at, spoilt + at + strlen (marks[i]), without);
    ck_assert_msg (!sp_pdf_is_whole (spoilt, at + without), "%s left out", marks[i]);
  }
  for (gsize cut = 1; cut <= 100; cut++) {
    g_autofree char *part = g_memdup2 (data, size - cut); /* a copy, so that reading past its end is seen */
    ck_assert (!sp_pdf_is_whole (part, size - cut));
  }
  ck_assert (!sp_pdf_is_whole ("", 0));
  g_autofree char *astray = g_memdup2 (data, size);
  char *root = memmem (astray, size, "/Root ", 6);
  ck_assert_ptr_nonnull (root);
  for (char *digit = root + 6; g_ascii_isdigit (*digit); digit++)
    *digit = digit[1] == ' ' ? '0' : ' ';
  ck_assert_msg (!sp_pdf_is_whole (astray, size), "%.20s", root);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("figure/pdf");
  TCase *t = tcase_create ("pdf");
  tcase_add_checked_fixture (t, set_up, tear_down);
  tcase_set_timeout (t, 120);
  tcase_add_test (t, pdf_is_one_and_its_date_is_the_bench_s);
  tcase_add_test (t, a_pdf_without_a_date_has_none);
  tcase_add_test (t, a_pdf_that_lacks_an_object_is_not_whole);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
