/* cells.h - the cells of a spreadsheet, read back from it, and written again by the bare library */
#pragma once

#include <glib.h>

typedef struct {
  guint sheet, row, column, format;
  char *text, *formula; /* NULL: none; of a formula its stored value, if that is text */
  double number;
} Cell;

/* As a workbook of libxlsxwriter's in constant memory holds them. (transfer full) */
GArray *cells_of (GBytes *workbook);
/* With as many formats and a picture, in constant memory; returns how many bytes the file has. */
gsize cells_write (const GArray *cells, GBytes *picture);
