/* ledger-cells.h - columns of the ledger: what stands in their cells, and their order (private to the ledger) */
#pragma once

#include <gtk/gtk.h>

#include "ui/window/pages/ledger.h"
#include "ui/window/widgets/table.h"

typedef enum { NAME, LEVEL, U, LIMIT, ROOM, ORIGIN, VERDICT, BECAUSE, PLACE, DBC, FLOOR, P, N_COLUMNS } Column;

typedef struct {
  const char *title, *tip;
  int width, narrow; /* -1: what is left */
  gboolean number;
  const char *action; /* shows and hides it; NULL: always there */
} SpLedgerColumn;
extern const SpLedgerColumn sp_ledger_columns[N_COLUMNS];
extern const SpTableCells sp_ledger_cells;

/* Of SpFoundItem, by a column (a GCompareDataFunc). */
int sp_ledger_compare (const void *a, const void *b, gpointer column);
/* What has no number stands last. */
int sp_ledger_compare_numbers (double a, double b);
/* TRUE if all rows are of one condition, which then need not be named. */
gboolean sp_ledger_is_of_one (SpLedger *ledger);
