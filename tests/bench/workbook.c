/* workbook.c - the spreadsheet of twenty sweeps of 10,000 points, beside a bare program that writes the cells of the same sweeps, and that of twelve conditions
 * without sweeps beside one that writes the same cells: ratios within one run. The whole workbook counts on our side, with native chart, ledgers and formulas;
 * drawing its pictures is told apart. */
#include "ui/report/workbook/workbook.h"
#include "tests/bench/cells.h"
#include "tests/bench/sweeps.h"
#include "ui/figure/figure.h"

#include <math.h>
#include <stdio.h>
#include <unistd.h>
#include <xlsxwriter.h>

#define SHEETS 20
#define POINTS 10000
#define CONDITIONS 12

static double
time_ours (const SpFindings *findings, gboolean traces)
{
  SpView view;
  sp_view_init (&view);
  gint64 start = g_get_monotonic_time ();
  g_autoptr (GBytes) bytes = sp_workbook_export (findings, &view, traces, NULL);
  g_assert_nonnull (bytes);
  return (double) (g_get_monotonic_time () - start) / 1000;
}

/* As the workbook draws them: the figure, and a chart on each condition's page. */
static double
time_pictures (const SpFindings *findings)
{
  SpView view;
  sp_view_init (&view);
  gint64 start = g_get_monotonic_time ();
  g_autoptr (GBytes) figure = sp_figure_export (SP_FIGURE_PNG_SMALL, 1600, 900, findings, &view, NULL);
  g_autofree gboolean *hidden = g_new (gboolean, findings->n);
  view.hidden = hidden;
  view.alone = TRUE;
  for (view.condition = 0; view.condition < findings->n; view.condition++) {
    for (guint i = 0; i < findings->n; i++)
      hidden[i] = i != view.condition;
    g_autoptr (GBytes) chart = sp_figure_export_plot (760, 400, findings, &view, NULL);
    g_assert_true (figure && chart);
  }
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
  lxw_workbook_options options = { .constant_memory = LXW_TRUE, .tmpdir = (char *) g_get_tmp_dir () };
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

static void
tell (const char *what, double a, double b, const char *goal)
{
  printf ("%-52s %8.2f ms / %8.2f ms = %5.2fx  (goal %s)\n", what, a, b, a / b, goal);
}

static void
measure_sweeps (void)
{
  g_autoptr (SpFindings) findings = findings_of_sweeps (SHEETS, POINTS);
  double ours[RUNS], plain[RUNS], pictures[RUNS];
  for (guint i = 0; i < RUNS; i++) {
    plain[i] = time_plain (findings);
    ours[i] = time_ours (findings, TRUE);
    pictures[i] = time_pictures (findings);
  }
  double a = median (ours), b = median (plain), c = median (pictures);
  tell ("workbook 20 x 10,000 rows: ours, pictures aside / bare", a - c, b, "1.15x at most");
  tell ("the same with pictures / bare", a, b, "-");
}

/* Without sweeps: the very cells of ours, read back from it, and its picture as bytes. */
static void
measure_cells (void)
{
  g_autoptr (SpFindings) findings = findings_of_sweeps (CONDITIONS, POINTS);
  SpView view;
  sp_view_init (&view);
  g_autoptr (GBytes) bytes = sp_workbook_export (findings, &view, FALSE, NULL);
  g_autoptr (GArray) cells = cells_of (bytes);
  g_autoptr (GBytes) picture = sp_figure_export (SP_FIGURE_PNG, 1600, 900, findings, &view, NULL);
  double ours[RUNS], plain[RUNS], pictures[RUNS];
  for (guint i = 0; i < RUNS; i++) {
    gint64 start = g_get_monotonic_time ();
    g_assert_cmpuint (cells_write (cells, picture), >, g_bytes_get_size (bytes) / 4); /* it holds them */
    plain[i] = (double) (g_get_monotonic_time () - start) / 1000;
    ours[i] = time_ours (findings, FALSE);
    pictures[i] = time_pictures (findings);
  }
  double a = median (ours), b = median (plain), c = median (pictures);
  tell ("workbook of 12 conditions: ours, pictures aside / bare", a - c, b, "1.15x at most");
  tell ("the same with pictures / bare", a, b, "-");
  printf ("%-52s %8.1f kB (goal under 1000)\n", "its size", (double) g_bytes_get_size (bytes) / 1000);
}

int
main (void)
{
  measure_sweeps ();
  measure_cells ();
  return 0;
}
