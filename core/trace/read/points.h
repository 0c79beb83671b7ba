/* points.h - rows -> numbers, each checked; the loop that a million lines go through */
#pragma once

#include "core/trace/read/columns.h"

#define SP_TRACE_OHM 50 /* what voltages are across (common practice, no source) */

typedef struct {
  guint64 n;
  double *frequency_hz; /* as they stand in the file: ascending or descending; NULL for levels alone */
  guint n_levels;
  double **level; /* [n_levels][n], in their columns' units */
  gboolean descends;
  guint64 skipped;        /* lines left out with ?bad=skip */
  GArray *skipped_lines;  /* of guint64, the first SP_LIMIT_SKIPPED_LISTED */
  guint64 trailing_line;  /* where a block begins that is not read; 0: none */
  char *trailing_text;    /* its first words */
  SpTextLines next_table; /* set to read the line where another table begins; .next NULL: none */
} SpPoints;

/* The header's rows, up to the text's end, to a block that is no table, or to another table of the same form: such a one begins behind a
 * line of text or a blank line, goes back in frequency, and has at least half as many rows; or behind lines, comments too, that give settings
 * of a sweep, wherever in frequency its rows go on. A header repeated among rows that go on is passed over.
 * The first bad line is an error that names its column and what stands there; with `skip_bad` it is counted instead.
 * `points` is to be cleared even then. */
gboolean sp_points_read (const SpDialect *dialect, const SpColumns *columns, const SpHeader *header, gboolean skip_bad, const char *file,
                         SpPoints *points, GError **error);
void sp_points_clear (SpPoints *points);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SpPoints, sp_points_clear)
