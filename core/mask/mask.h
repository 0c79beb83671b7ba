/* mask.h - a limit as data: rules that apply to a fundamental, a power and a place in the spectrum
 *
 * limit = max(relief, min(ceiling, P - attenuation)); attenuation = a + b lg(P/W) dB, or linear over log f from a1 to a2. Several rules
 * match: the strictest governs and is named. Where no rule reaches there is no limit: NaN. Immutable, reference counted.
 */
#pragma once

#include "core/quantity/keyfile.h"

typedef enum { SP_RANGE_ABSOLUTE, SP_RANGE_OFFSET, SP_RANGE_BANDWIDTHS } SpRangeKind;
typedef enum { SP_POWER_MEAN, SP_POWER_PEP } SpPowerKind;

typedef struct {
  double value;     /* may be infinite at the top */
  gboolean closed;  /* the edge belongs to the range */
} SpEdge;

typedef struct {
  char *name;                     /* "rule 1" */
  SpEdge f0_low, f0_high;         /* fundamental, Hz */
  SpEdge p_low, p_high;           /* W; by default low < P <= high */
  SpRangeKind range;
  SpEdge low, high;               /* emission: Hz, offset Hz, or necessary bandwidths */
  gboolean has_attenuation;
  double a_db, b_db;              /* a + b lg P */
  double a_end_db;                /* NaN, or the value at `high`, linear over log f */
  double ceiling_dbm, relief_dbm; /* NaN: none */
  double reference_bandwidth_hz;  /* NaN: the rule sets none */
  SpPowerKind power;
  double exclude_bandwidths;      /* either side of f0 */
  int combine;                    /* -1 strictest of what matches (default); +1 "looser": see mask.c */
} SpRule;

typedef struct {
  char *name, *title;
  char *authority, *clause, *edition, *note;
  char *file;                     /* NULL: built in */
  guint harmonics;                /* look for harmonics up to this order; 10 */
  double search_low_hz, search_high_hz; /* NaN: harmonics only */
  gboolean advisory;
  guint n;
  SpRule *rules;
  GPtrArray *warnings;
  char *text, *sha256;
} SpMask;

/* A built-in's name or a file's path. (transfer full) */
SpMask *sp_mask_load (const char *name_or_path, GError **error);
SpMask *sp_mask_parse (SpKeyFile *file, GError **error);
SpMask *sp_mask_ref (const SpMask *mask);
void sp_mask_unref (SpMask *mask);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpMask, sp_mask_unref)

/* Names of the built-in masks, NULL-terminated, sorted. (transfer none) */
const char *const *sp_mask_names (void);

typedef struct {
  double limit_dbm;           /* NaN: no limit here */
  double slope;               /* d limit / d P in dB/dB: 1 - b/10 where it follows P, 0 where it is absolute */
  const SpRule *rule;         /* the governing one; NULL */
  gboolean excluded;          /* within f0 +- exclude: the fundamental's own */
} SpLimit;

/* f0 and f in Hz, power in W, necessary bandwidth and RBW in Hz (rbw NaN: 0). `before` = installed on or before the rule's date
 * is chosen by mask, not here. */
SpLimit sp_mask_limit (const SpMask *mask, double fundamental_hz, double power_w, double necessary_bandwidth_hz, double rbw_hz, double frequency_hz);

/* The stricter of the limits for P - U, P and P + U where they fall in different power classes (*straddles, edge in W). A class
 * that only P - U or P + U reaches counts with the limit it gives at its own edge power. */
SpLimit sp_mask_limit_with_u (const SpMask *mask, double fundamental_hz, double power_w, double expanded_db, double necessary_bandwidth_hz,
                              double rbw_hz, double frequency_hz, gboolean *straddles, double *edge_w);

/* The limit as segments over [from, to]: each with its ends' values (linear over log f between them). Gaps have NaN. */
typedef struct {
  double from_hz, to_hz, limit_dbm, limit_end_dbm;
  const SpRule *rule;
} SpLimitSegment;
/* (transfer full) GArray of SpLimitSegment, ascending, covering the whole range. */
GArray *sp_mask_segments (const SpMask *mask, double fundamental_hz, double power_w, double necessary_bandwidth_hz, double rbw_hz, double from_hz, double to_hz);
