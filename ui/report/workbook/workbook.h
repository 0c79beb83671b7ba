/* workbook.h - findings as a spreadsheet that works them again: levels, margins and verdicts are formulas
 *
 * Sheets: Summary (what is unsafe first), Figure (ours, and a chart of the chosen condition), one a condition (emissions, their working,
 * uncertainty term by term, reasons), Chain (the losses that those sheets refer to), the corrected sweeps of each, Provenance.
 * A formula's stored value is the core's own. Text stays text, whatever it begins with. Equal findings and view give equal bytes.
 */
#pragma once

#include "ui/figure/pen/view.h"

#define SP_WORKBOOK_ROWS_MAX 20000 /* of a sweep: a longer one keeps the least and greatest of each of half as many runs */

/* The .xlsx file as bytes; `view` chooses the condition of the picture and the chart. NULL and an error where the temporary folder is full
 * or closed, or the figure cannot be drawn. Any thread, any locale. (transfer full) */
GBytes *sp_workbook_export (const SpFindings *findings, const SpView *view, GError **error);
