/* points.h - curves and rows of numbers as our text files write them: "50MHz 0.21 0.03; 150MHz 0.37 0.03", or one bare number
 *
 * Shared by .chain and .analyzer. Errors name file, line, column, group and key, and point at the item that is wrong.
 */
#pragma once

#include "core/curve/curve.h"
#include "core/quantity/keyspec.h"

#define SP_ROW_MAX 3 /* room for the longest row */

typedef struct {
  double number[SP_ROW_MAX]; /* NaN beyond n */
  guint n;
  guint offset; /* of the row, characters into the key's value */
} SpRow;

typedef struct {
  const char *expected;         /* for messages: "f loss u" */
  guint least, most;            /* numbers in a row, 1..SP_ROW_MAX */
  gboolean frequency;           /* the first is a frequency ("50MHz", a bare number is Hz); else a number */
  gboolean ascending;           /* the first ascends strictly from row to row */
  double low, high;             /* closed range of the second number (of the only one where a row has one) */
  double first_low, first_high; /* closed range of the first where it is no frequency */
} SpRowFormat;

/* The rows of a key, at least one; NULL where the key is absent (TRUE all the same). (transfer full), of SpRow */
gboolean sp_group_rows (SpKeyFile *file, SpGroup *group, const char *key, const SpRowFormat *format, GArray **rows, GError **error);

typedef struct {
  SpCurveKind kind;
  const char *value;  /* what the value is, for messages: "loss" */
  double low, high;   /* closed range of the values */
  gboolean with_u;    /* a third number, the standard uncertainty in dB (>= 0), may follow */
  gboolean or_number; /* one bare number stands for every frequency (SP_CURVE_LINEAR) */
} SpCurveFormat;

/* A key's curve over frequency (or offset frequency); *out left alone where the key is absent. */
gboolean sp_group_curve (SpKeyFile *file, SpGroup *group, const char *key, const SpCurveFormat *format, SpCurve **out, GError **error);

/* Appends what sp_group_curve reads back to the same bits: bare Hz, all digits, u left out where it is NaN. */
void sp_curve_append_text (const SpCurve *curve, GString *text);
/* The same as a line `key=...` of a key file; NULL: no line. */
void sp_curve_write (GString *text, const char *key, const SpCurve *curve);

/* Readers and writers for tables of keys (sp_keys_read). A curve: the row's format is what its value is, N_() for messages; in the second form a bare number
 * stands for every frequency, in the third a point may have its u besides. Rows: its format is an SpRowFormat (its `expected` N_()), its value a GArray of doubles, or of structs of nothing
 * else, that takes all numbers of all rows. */
gboolean sp_key_read_curve (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, gpointer context, GError **error);
gboolean sp_key_read_curve_or_number (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, gpointer context,
                                      GError **error);
gboolean sp_key_read_curve_with_u (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, gpointer context,
                                   GError **error);
void sp_key_write_curve (const SpKeySpec *spec, GString *text, gconstpointer object, gconstpointer context);
gboolean sp_key_read_rows (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, gpointer context, GError **error);
void sp_key_write_rows (const SpKeySpec *spec, GString *text, gconstpointer object, gconstpointer context);
