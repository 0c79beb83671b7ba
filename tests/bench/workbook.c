/* The spreadsheet of twenty sweeps of 10,000 points, beside a bare program that writes the cells of the same sweeps: a ratio within one
 * run. The whole workbook counts on our side: figure, chart, ledgers, formulas. */
#include "ui/report/workbook/workbook.h"
#include "tests/bench/sweeps.h"
#include "ui/figure/figure.h"

#include <math.h>
#include <stdio.h>
#include <unistd.h>
#include <xlsxwriter.h>

#define SHEETS 20
#define POINTS 10000

static double
time_ours (const SpFindings *findings)
{
  SpView view;
  sp_view_init (&view);
  gint64 start = g_get_monotonic_time ();
  g_autoptr (GBytes) bytes = sp_workbook_export (findings, &view, TRUE, NULL);
  g_assert_nonnull (bytes);
  return (double) (g_get_monotonic_time () - start) / 1000;
}

static double
time_figure (const SpFindings *findings)
{
  SpView view;
  sp_view_init (&view);
  gint64 start = g_get_monotonic_time ();
  g_autoptr (GBytes) bytes = sp_figure_export (SP_FIGURE_PNG, 1600, 900, findings, &view, NULL);
  g_assert_nonnull (bytes);
  return (double) (g_get_monotonic_time () - start) / 1000;
}

static void
write_cells (lxw_worksheet *sheet, const SpConditionFindings *found, const SpTrace *trace, lxw_format *hertz, lxw_format *db)
{
  const SpCorrected *sweep = &found->corrected[0];
  for (guint i = 0; i < POINTS; i++) {
    worksheet_write_number (sheet, i, 0, sweep->frequency_hz[i], hertz);
    worksheet_write_number (sheet, i, 1, trace->reading_dbm[i], db);
    worksheet_write_number (sheet, i, 2, sweep->level_dbm[i], db);
    worksheet_write_number (sheet, i, 3, sweep->noise_dbm[i], db);
    worksheet_write_number (sheet, i, 4, sweep->floor_dbm[i], db);
    worksheet_write_number (sheet, i, 5, -16.0206, db);
  }
}

static double
time_plain (const SpFindings *findings)
{
  g_autofree char *path = NULL;
  close (g_file_open_tmp ("spurproof-XXXXXX.xlsx", &path, NULL));
  gint64 start = g_get_monotonic_time ();
  lxw_workbook_options options = { .constant_memory = LXW_TRUE };
  lxw_workbook *book = workbook_new_opt (path, &options);
  lxw_format *hertz = workbook_add_format (book), *db = workbook_add_format (book);
  format_set_num_format (hertz, "#,##0");
  format_set_num_format (db, "0.00");
  for (guint k = 0; k < findings->n; k++)
    write_cells (workbook_add_worksheet (book, NULL), &findings->conditions[k], findings->bench->conditions[k].sweeps[0].trace, hertz, db);
  workbook_close (book);
  double ms = (double) (g_get_monotonic_time () - start) / 1000;
  remove (path);
  return ms;
}

int
main (void)
{
  g_autoptr (SpFindings) findings = findings_of_sweeps (SHEETS, POINTS);
  double ours[RUNS], plain[RUNS], figure[RUNS];
  for (guint i = 0; i < RUNS; i++) {
    plain[i] = time_plain (findings);
    ours[i] = time_ours (findings);
    figure[i] = time_figure (findings);
  }
  double a = median (ours), b = median (plain), c = median (figure);
  printf ("%-52s %8.2f ms / %8.2f ms = %5.2fx  (goal %s)\n", "workbook 20 x 10,000 rows: ours, figure aside / bare", a - c, b, (a - c) / b,
          "1.15x at most");
  printf ("%-52s %8.2f ms / %8.2f ms = %5.2fx  (goal %s)\n", "the same with figure, PNG / bare", a, b, a / b, "-");
  return 0;
}
