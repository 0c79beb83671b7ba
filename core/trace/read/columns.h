/* columns.h - which column is the frequency, which are levels, and in what units */
#pragma once

#include "core/trace/read/header.h"
#include "core/trace/read/preamble.h"

typedef struct {
  guint field;     /* from 0 */
  char *name;      /* header's text, else the field's number from 1 */
  SpUnitWord unit; /* of kind SP_UNIT_KIND_LEVEL */
  gboolean unit_assumed;
  SpHold hold; /* as its name says */
} SpLevelColumn;

typedef struct {
  int frequency;         /* field from 0; -1: levels alone */
  int exponent;          /* of ten: its unit in Hz */
  gboolean unit_open;    /* nothing tells its unit: Hz if the numbers allow, see SP_BARE_HZ */
  gboolean decided;      /* other columns go one way too; it is the one for its large numbers, or as it does not merely count */
  guint n_level_columns; /* in the file */
  GArray *levels;        /* of SpLevelColumn, those to be read */
} SpColumns;

/* options->column picks one; without it all level columns are taken. Errors name the columns there are and the option that settles it. */
gboolean sp_columns_find (const SpDialect *dialect, const SpHeader *header, const SpPreamble *preamble, const SpTraceOptions *options,
                          gboolean sweep, const char *file, SpColumns *columns, GError **error);
void sp_columns_clear (SpColumns *columns);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SpColumns, sp_columns_clear)

/* "2 (Level), 3 (Max hold)". (transfer full) */
char *sp_columns_list (const SpColumns *columns);
