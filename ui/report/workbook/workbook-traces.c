/* workbook-traces.c - the corrected sweeps of a condition, side by side: those that are judged, then those that bear witness; and a chart over the former */
#include "ui/report/workbook/workbook-private.h"

#include "ui/report/workbook/workbook.h"
#include "ui/words/words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define BLOCK 7 /* columns of a sweep: six and a blank one */
#define FIRST_ROW 5
#define COLUMNS_PRINTED 12 /* at least: a narrow table is not blown up to the page */
#define SWEEPS_MOST 200
#define ROWS_PRINTED 60 /* nobody wants four hundred sheets of paper by mistake; another print area is two clicks away */
#define MARKS_MOST 6    /* sweeps in the chart */

static guint
sweeps_shown (const SpConditionFindings *found)
{
  return MIN (found->n_corrected + found->n_compared, SWEEPS_MOST);
}

static const SpCorrected *
sweep_shown (const SpConditionFindings *found, guint k)
{
  return k < found->n_corrected ? &found->corrected[k] : &found->compared[k - found->n_corrected];
}

static lxw_row_t
rows_of (const SpCorrected *sweep)
{
  return (lxw_row_t) MIN (sweep->n, SP_WORKBOOK_ROWS_MAX);
}

/* Which point stands in which row: all of them, or the least and the greatest level of each of SP_WORKBOOK_ROWS_MAX / 2 runs of points. */
static guint64 *
points_of (const SpCorrected *sweep)
{
  lxw_row_t rows = rows_of (sweep);
  guint64 *points = g_new (guint64, rows);
  for (lxw_row_t i = 0; i < rows; i++)
    points[i] = i;
  for (guint64 run = 0; sweep->n > rows && run < rows / 2; run++) {
    guint64 from = run * sweep->n / (rows / 2), to = (run + 1) * sweep->n / (rows / 2), least = from, greatest = from;
    for (guint64 i = from; i < to; i++) {
      least = sweep->level_dbm[i] < sweep->level_dbm[least] ? i : least;
      greatest = sweep->level_dbm[i] > sweep->level_dbm[greatest] ? i : greatest;
    }
    if (least == greatest) /* a run of equal levels: its ends */
      greatest = to - 1;
    points[2 * run] = MIN (least, greatest);
    points[2 * run + 1] = MAX (least, greatest);
  }
  return points;
}

/* A sweep on its way down the sheet. */
typedef struct {
  const SpCorrected *sweep;
  const SpTrace *trace;
  SpPurpose purpose;
  double step_db;
  lxw_row_t rows;
  guint64 *points;
  guint segment; /* of the limit: where the last row was */
} Column;

static Column
column_of (const SpBench *bench, const SpConditionFindings *found, guint k)
{
  const SpCondition *condition = &bench->conditions[found->condition];
  const SpCorrected *sweep = sweep_shown (found, k);
  Column column = { .sweep = sweep,
                    .trace = bench->unkeyed,
                    .purpose = SP_PURPOSE_UNKEYED,
                    .step_db = NAN,
                    .rows = rows_of (sweep),
                    .points = points_of (sweep) };
  if (sweep->sweep != G_MAXUINT) { /* else the bench's own */
    column.trace = condition->sweeps[sweep->sweep].trace;
    column.purpose = condition->sweeps[sweep->sweep].purpose;
    column.step_db = condition->sweeps[sweep->sweep].step_db;
  }
  return column;
}

static double
limit_at (Column *column, const GArray *limit, double frequency_hz)
{
  while (limit && column->segment < limit->len && g_array_index (limit, SpLimitSegment, column->segment).to_hz < frequency_hz)
    column->segment++;
  if (!limit || column->segment == limit->len || g_array_index (limit, SpLimitSegment, column->segment).from_hz > frequency_hz)
    return NAN;
  return sp_limit_segment_dbm (&g_array_index (limit, SpLimitSegment, column->segment), frequency_hz);
}

static void
write_row (Page *page, Column *column, const GArray *limit, lxw_row_t row, lxw_col_t at)
{
  guint64 i = column->points[row];
  const SpCorrected *sweep = column->sweep;
  page_number (page, at, sweep->frequency_hz[i], STYLE_HERTZ);
  page_number (page, at + 1, column->trace->reading_dbm[i], STYLE_DB);
  page_number (page, at + 2, sweep->level_dbm[i], STYLE_DB);
  page_number (page, at + 3, sweep->noise_dbm[i], STYLE_DB);
  page_number (page, at + 4, sweep->floor_dbm[i], STYLE_DB);
  page_number (page, at + 5, limit_at (column, limit, sweep->frequency_hz[i]), STYLE_DB);
}

static void
write_heads (Page *page, const Column *columns, guint n)
{
  const char *const heads[] = { _ ("Frequency, Hz"),   _ ("Reading, dBm"), _ ("Level at the socket, dBm"),
                                _ ("Mean noise, dBm"), _ ("Floor, dBm"),   _ ("Limit, dBm") };
  for (guint k = 0; k < n; k++) {
    g_autofree char *name = columns[k].trace->column ? g_strdup_printf ("%s (%s)", columns[k].trace->file, columns[k].trace->column)
                                                     : g_strdup (columns[k].trace->file);
    page_text (page, (lxw_col_t) (k * BLOCK), name, STYLE_STRONG);
  }
  page->row++;
  for (guint k = 0; k < n; k++) {
    g_autofree char *step = columns[k].purpose == SP_PURPOSE_STEP ? sp_words_signed (columns[k].step_db, 0, SP_HAND_MACHINE) : NULL;
    g_autofree char *purpose = g_strconcat (sp_purpose_name (columns[k].purpose), step ? ", " : "", step, step ? " dB" : "", NULL);
    g_autofree char *points = g_strdup_printf ("%" G_GUINT64_FORMAT, columns[k].sweep->n);
    g_autofree char *all = g_strdup_printf (_ ("%s: all %s points"), purpose, points);
    g_autofree char *some = g_strdup_printf (_ ("%s: %s points; shown: the least and the greatest of each of %u runs of them"), purpose,
                                             points, (guint) columns[k].rows / 2);
    page_text (page, (lxw_col_t) (k * BLOCK), columns[k].sweep->n > columns[k].rows ? some : all, STYLE_TEXT);
  }
  page->row++;
  workbook_note (worksheet_set_row (page->sheet, page->row, 30, NULL));
  for (guint k = 0; k < n; k++)
    for (guint i = 0; i < G_N_ELEMENTS (heads); i++)
      page_text (page, (lxw_col_t) (k * BLOCK + i), heads[i], STYLE_HEAD);
  page->row++;
}

gboolean
workbook_traces (const Workbook *work, guint condition)
{
  const SpConditionFindings *found = &work->findings->conditions[condition];
  guint n = sweeps_shown (found);
  lxw_row_t rows = 0;
  Page page;
  if (!workbook_page (work, work->trace_names[condition], &page))
    return FALSE;
  g_autofree Column *columns = g_new0 (Column, n + 1);
  for (guint k = 0; k < n; k++) {
    columns[k] = column_of (work->findings->bench, found, k);
    rows = MAX (rows, columns[k].rows);
    workbook_note (worksheet_set_column (page.sheet, (lxw_col_t) (k * BLOCK), (lxw_col_t) (k * BLOCK), 15, NULL));
    workbook_note (worksheet_set_column (page.sheet, (lxw_col_t) (k * BLOCK + 1), (lxw_col_t) (k * BLOCK + 5), 11, NULL));
    workbook_note (worksheet_set_column (page.sheet, (lxw_col_t) (k * BLOCK + 6), (lxw_col_t) (k * BLOCK + 6), 3, NULL));
  }
  page_text (&page, 0, found->name, STYLE_TITLE);
  page.row++;
  g_autofree char *printed
      = g_strdup_printf (_ ("Sweeps, corrected to the radio's socket. Keyed and notched ones are judged; steps and unkeyed ones bear "
                            "witness. Of a long one the first %d rows are printed."),
                         ROWS_PRINTED);
  page_text (&page, 0, printed, STYLE_TEXT);
  page.row++;
  write_heads (&page, columns, n);
  for (lxw_row_t row = 0; row < rows; row++, page.row++)
    for (guint k = 0; k < n; k++)
      if (row < columns[k].rows)
        write_row (&page, &columns[k], found->limit, row, (lxw_col_t) (k * BLOCK));
  page_finish (&page, FIRST_ROW - 1, FIRST_ROW - 1, 0);
  if (rows > ROWS_PRINTED)
    worksheet_print_area (page.sheet, 0, 0, FIRST_ROW + ROWS_PRINTED - 1, (lxw_col_t) MAX (n * BLOCK - 2, COLUMNS_PRINTED));
  for (guint k = 0; k < n; k++)
    g_free (columns[k].points);
  return TRUE;
}

static void
add_series (lxw_chart *chart, const char *sheet, const SpCorrected *sweep, guint k, guint of_block, const char *name,
            const SpColour *colour, double width)
{
  char fx[LXW_MAX_CELL_RANGE_LENGTH], fy[LXW_MAX_CELL_RANGE_LENGTH];
  lxw_row_t last = FIRST_ROW + rows_of (sweep) - 1;
  lxw_rowcol_to_range_abs (fx, FIRST_ROW, (lxw_col_t) (k * BLOCK), last, (lxw_col_t) (k * BLOCK));
  lxw_rowcol_to_range_abs (fy, FIRST_ROW, (lxw_col_t) (k * BLOCK + of_block), last, (lxw_col_t) (k * BLOCK + of_block));
  g_autofree char *x = g_strdup_printf ("=%s!%s", sheet, fx), *y = g_strdup_printf ("=%s!%s", sheet, fy);
  lxw_chart_series *series = chart_add_series (chart, x, y);
  lxw_chart_line line = { .color = workbook_colour (colour), .width = (float) width };
  chart_series_set_name (series, name);
  chart_series_set_line (series, &line);
}

lxw_chart *
workbook_chart (const Workbook *work, guint condition)
{
  const SpConditionFindings *found = &work->findings->conditions[condition];
  const SpPalette *palette = sp_palette (FALSE);
  const SpCondition *bench_condition = &work->findings->bench->conditions[found->condition];
  guint n = MIN (found->n_corrected, MARKS_MOST);
  if (!n || !work->traces)
    return NULL;
  lxw_chart *chart = workbook_add_chart (work->book, LXW_CHART_SCATTER_STRAIGHT);
  g_autofree char *sheet = workbook_sheet_reference (work->trace_names[condition]);
  g_autofree char *plain = workbook_text (found->name), *title = g_strdup_printf (_ ("Levels at the socket: %s"), plain);
  for (guint k = 0; k < n; k++) {
    gboolean notched = bench_condition->sweeps[found->corrected[k].sweep].purpose == SP_PURPOSE_NOTCHED;
    g_autofree char *name = g_strdup_printf (notched ? _ ("notched sweep %u") : _ ("keyed sweep %u"), k + 1);
    add_series (chart, sheet, &found->corrected[k], k, 2, name, &palette->trace[k % SP_TRACE_INKS], 1);
  }
  add_series (chart, sheet, &found->corrected[0], 0, 4, _ ("floor"), &palette->floor_edge, 1);
  if (found->limit)
    add_series (chart, sheet, &found->corrected[0], 0, 5, _ ("limit"), &palette->limit, 2);
  char family[] = WORKBOOK_FONT;
  lxw_chart_font head = { .name = family, .size = 12, .bold = LXW_TRUE }, words = { .name = family };
  lxw_chart_line grid = { .color = workbook_colour (&palette->fog), .width = 0.5 };
  chart_title_set_name (chart, title);
  chart_title_set_name_font (chart, &head);
  chart_axis_major_gridlines_set_line (chart->y_axis, &grid);
  chart_axis_set_name (chart->x_axis, _ ("Frequency, MHz"));
  chart_axis_set_num_format (chart->x_axis, "0,,");
  chart_axis_set_name (chart->y_axis, _ ("dBm"));
  chart_axis_set_num_format (chart->y_axis, "0");
  chart_axis_set_label_position (chart->x_axis, LXW_CHART_AXIS_LABEL_POSITION_LOW);
  chart_axis_set_crossing_min (chart->y_axis);
  chart_legend_set_position (chart, LXW_CHART_LEGEND_BOTTOM);
  chart_legend_set_font (chart, &words);
  for (guint i = 0; i < 2; i++) {
    lxw_chart_axis *axis = i ? chart->y_axis : chart->x_axis;
    chart_axis_set_name_font (axis, &words);
    chart_axis_set_num_font (axis, &words);
  }
  return chart;
}
