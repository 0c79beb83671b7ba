/* typed.h - values as people type them into a field, turned into the spelling of our files
 *
 * A file has one spelling: a decimal point, no unit where the key has one. People type "0,4", "30 dB", "5W", "145,6 MHz" and a real minus sign. What may be
 * read in two ways is refused with both: "1,234" where the decimal mark is a point, and a frequency without a unit. What is not understood is passed on as
 * it stands, so that the file's own reader says what is wrong.
 */
#pragma once

#include "core/quantity/keyspec.h"

/* `mark`: the decimal mark of the person's language, '.' or ','. NULL and an error (SP_ERROR_USAGE, one sentence without a place) where there is doubt.
 * (transfer full) */

/* A number that is in `unit` ("dB", "W"; NULL: none). Of watts also "25mW", "37dBm". */
char *sp_typed_number (const char *text, const char *unit, char mark, GError **error);
/* The same read, as core/quantity/text.h reads a number. */
gboolean sp_typed_read (const char *text, const char *unit, char mark, double *number, GError **error);
/* A frequency: only 0 goes without its unit. */
char *sp_typed_frequency (const char *text, char mark, GError **error);

typedef enum {
  SP_TYPED_NO_FREQUENCY,
  SP_TYPED_FIRST_FREQUENCY, /* the first where there are several in a row: "50 MHz 1,05; 1 GHz 1,2" */
  SP_TYPED_FREQUENCIES      /* all */
} SpTypedRow;

/* Several values, rows divided by `;`; what is no frequency is in `unit`. */
char *sp_typed_rows (const char *text, const char *unit, SpTypedRow row, char mark, GError **error);
/* The way back: a number of a file, or several, with the person's decimal mark; and the value of a key, by its row's kind. Read again by the functions here
 * it is the same. (transfer full) */
char *sp_typed_shown (const char *text, char mark);
char *sp_typed_value_shown (const SpKeySpec *spec, const char *text, char mark);
/* The value of a key, by its row's kind; texts, words, dates and names of files as they stand. */
char *sp_typed_value (const SpKeySpec *spec, const char *text, char mark, GError **error);
