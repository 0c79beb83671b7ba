/* workbook.h - writes findings as a spreadsheet that recomputes them: levels, margins and verdicts are formulas
 *
 * Sheets: Summary (unsafe chains first), Figure (ours, and a chart of the chosen condition), one for each condition (emissions, their
 * working, uncertainty term by term, reasons), Chain (the losses that those sheets refer to), the corrected sweeps of each if asked for
 * (they are the most of its bytes; the chart is made from them), Provenance.
 * A formula's stored value is core's. Text stays text, whatever it begins with. Equal findings and view give equal bytes.
 */
#pragma once

#include "ui/figure/pen/view.h"

/* Most rows of a sweep; a longer one keeps the least and greatest of each of half as many runs */
#define SP_WORKBOOK_ROWS_MAX 20000

/* The .xlsx file as bytes; `view` chooses the condition of the picture and the chart; `traces`: the sweeps too, and the chart. NULL and an error if the temporary folder is
 * full or not writable, or the figure cannot be drawn. Any thread, any locale. (transfer full) */
GBytes *sp_workbook_export (const SpFindings *findings, const SpView *view, gboolean traces, GError **error);
