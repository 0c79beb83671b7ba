/* preamble.h - the lines before the table -> settings */
#pragma once

#include "core/trace/read/dialect.h"
#include "core/trace/unit-words.h"

typedef struct {
  SpSettings settings;
  double start_hz, stop_hz, center_hz, span_hz; /* NaN where not said */
  gboolean reference_bare;                      /* settings.reference_dbm is a number without a unit: in the level column's own */
  gboolean sweep_unit_said;                     /* one of them came with a unit */
  double points;                                /* NaN */
  guint64 points_line;
  SpUnitWord frequency_unit, level_unit; /* kind NONE where not said */
  char *level_unit_text;                 /* as written, where it is none we know; NULL */
  guint64 level_unit_line;
} SpPreamble;

/* Reads key and value in each line up to `end`: separated by the table's delimiter, another one, ':' or '=', or a blank; the unit in the key
 * ("RBW [kHz]"), in the value ("10 kHz") or behind it; or a line of keys alone above one of as many values, with one of units between them
 * or not. Of numbers whose decimal mark is not clear, and of words that are not
 * known, it says setting-ignored; of a bare frequency, taken as Hz (or in `frequency_unit_hz` where that is not 0), unit-assumed. The same
 * setting twice with two values counts as not said, with setting-ignored. `warnings` may be NULL. */
void sp_preamble_read (const SpText *text, const char *end, const SpDialect *dialect, double frequency_unit_hz, const char *file,
                       SpPreamble *preamble, GPtrArray *warnings);
/* What it does not say, as another says it: a table further down keeps the settings of the first. */
void sp_preamble_inherit (SpPreamble *preamble, const SpPreamble *first);
void sp_preamble_clear (SpPreamble *preamble);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SpPreamble, sp_preamble_clear)

/* Start and stop, from either pair. FALSE where neither is whole. */
gboolean sp_preamble_sweep (const SpPreamble *preamble, double *start_hz, double *stop_hz);
