/* touchstone.h - what the files of the reader of Touchstone share; not for other folders */
#pragma once

#include "core/network/network.h"

#define SP_REFERENCE_OHM 50.0 /* default of the format */

/* All bound memory: files come from strangers. Larger than any analyzer writes. */
#define SP_NETWORK_BYTES (64 * 1024 * 1024)
#define SP_NETWORK_POINTS 200000
#define SP_NETWORK_FIELDS 16 /* more than any line that is accepted has */

typedef enum { FORMAT_MA, FORMAT_DB, FORMAT_RI } Format;
typedef enum { IN_HEADER, IN_INFORMATION, IN_REFERENCE, IN_NETWORK, IN_NOISE, AT_END } Section;

typedef struct {
  char *text;
  guint column;
} Field;

typedef struct {
  guint ports; /* wanted: 1 or 2 */
  const char *name;
  guint line;
  Field field[SP_NETWORK_FIELDS];
  guint n;          /* fields of this line; those beyond SP_NETWORK_FIELDS are only counted */
  guint end_column; /* behind the last of them */

  gboolean version2, has_options, has_order;
  Section section;
  const char *unit;
  Format format;
  gboolean order_12_21;
  gboolean half;    /* [Matrix Format] Lower or Upper: S12 = S21 stands once */
  guint references; /* how many values [Reference] has had */
  double reference_ohm[2];
  gint64 declared; /* [Number of Frequencies]; -1 */
  guint declared_line;

  GArray *frequency_hz, *s[4];
} Reader;

/* Reads into frequency_hz and s[] (s[0] alone of a one-port), referred to 50 ohm. On failure they are freed and the error is set. */
gboolean sp_touchstone_read (Reader *reader, const char *bytes, gsize length, GError **error);

/* What a matrix says in another reference, both real: b = S a in `from` ohm becomes (M + P S)(P + M S)^-1 with P, M = (from +- to) / (2 sqrt (from to)),
 * port by port (from the definition of power waves, Kurokawa 1965). Works in place. */
void sp_one_port_refer (complex double *s11, double from_ohm, double to_ohm);
void sp_two_port_refer (complex double s[4], const double from_ohm[2], double to_ohm);

/* Cuts `text`, which begins at `column`, into the reader's fields; ends them in place. */
void sp_touchstone_split (Reader *reader, char *text, guint column);
/* Field i as a number; an error with its place. */
gboolean sp_touchstone_number (const Reader *reader, guint i, double *value, GError **error);
/* Always FALSE: what stands at field i, and what was expected. */
gboolean sp_touchstone_fail (const Reader *reader, guint i, GError **error, const char *expected);

/* What follows the # of an option line; only the first such line counts. */
gboolean sp_touchstone_options (Reader *reader, char *text, guint column, GError **error);
/* A line that begins with [. */
gboolean sp_touchstone_keyword (Reader *reader, char *text, guint column, GError **error);
/* A line of values that belong to [Reference]. */
gboolean sp_touchstone_references (Reader *reader, GError **error);
