/* touchstone.h - what the parts of the reader of Touchstone files share; not for other rooms */
#pragma once

#include "core/network/network.h"

#define SP_REFERENCE_OHM 50.0

/* Files from strangers: larger than any analyzer writes. */
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
  guint references;                 /* how many values [Reference] has had */
  guint wrong_line, wrong_column;   /* a reference that is not 50 ohm; 0: none */
  double wrong_ohm;
  gint64 declared;                  /* [Number of Frequencies]; -1 */
  guint declared_line;

  GArray *frequency_hz, *s[4];
} Reader;

/* Takes all the arrays and the bytes. (transfer full) */
SpTwoPort *sp_two_port_new (guint n, double *frequency_hz, SpComplex *const s[4], GBytes *raw);

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
