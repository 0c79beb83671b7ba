/* pivot.h - wavebands down and powers across, as text for a terminal, CSV or an HTML table to paste elsewhere
 *
 * One table for each radio, in a cell the room (or the harmonic's dBc), the emission and the mark of its verdict; the worst of each row
 * and column at the edge. Below: spurs that do not follow the carrier.
 */
#pragma once

#include "ui/words/words.h"

/* A table of words, row by row; the heads are its first row. */
typedef struct {
  guint columns;
  GPtrArray *cells; /* char* */
} SpPivotWords;

/* `apart`: value and emission in columns of their own, so that numbers are numbers. The mark of a verdict
 * stands by the machine's hand alone: a screen has glyphs. (transfer full) */
SpPivotWords *sp_pivot_words (const SpPivot *pivot, const SpFindings *findings, gboolean apart, SpHand hand);
void sp_pivot_words_free (SpPivotWords *words);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpPivotWords, sp_pivot_words_free)
char *sp_pivot_title (const SpPivot *pivot); /* (transfer full) */

typedef enum { SP_PIVOT_TEXT, SP_PIVOT_CSV, SP_PIVOT_HTML } SpPivotForm;

/* order 0: room; from 2: that harmonic in dBc. UTF-8; in CSV no field begins as a formula does. (transfer full) */
char *sp_report_pivot (const SpComparison *comparison, guint order, SpPivotForm form);
