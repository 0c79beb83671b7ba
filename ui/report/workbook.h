/* workbook.h - findings as a spreadsheet that works them again: levels, margins and verdicts are formulas over the readings and losses
 *
 * Sheets: Summary (what is unsafe first; conditions, our figure, a chart of the chosen condition), one a condition (emissions, their working,
 * uncertainty term by term, reasons), Chain (the losses that those sheets refer to), the corrected sweeps of each condition, Provenance.
 * A formula's stored value is the core's own. Text stays text, whatever it begins with. Equal findings and view give equal bytes.
 */
#pragma once

#include "ui/figure/view.h"

#define SP_WORKBOOK_ROWS_MAX 20000 /* of a sweep: a longer one keeps the least and greatest of each of half as many runs of points, and says so */

/* The .xlsx file as bytes; `view` chooses the condition of the picture and the chart. NULL and an error (SP_ERROR_IO) where the temporary folder
 * is full or closed; SP_ERROR_INPUT where there are more rows than a sheet holds. Any thread, any locale. (transfer full) */
GBytes *sp_workbook_export (const SpFindings *findings, const SpView *view, GError **error);
