/* mask.h - a limit as data: rules that apply to a fundamental, a power and a place in the spectrum
 *
 * limit = max(relief, min(ceiling, P - attenuation)); attenuation = a + b lg(P/W) dB, or linear over log f from a1 to a2. Several rules
 * match: the strictest governs and is named (of equal ones the first). Where no rule reaches there is no limit: NaN.
 * Regulations that give the looser of an attenuation A and a fixed level L need no rule of their own: "43 + 10 lg P or A dB, whichever is
 * less" is the relief L = -13 dBm with the attenuation A, because the lesser attenuation is the higher limit (max(P - A, L)).
 * A rule holds outside f0 +- max(exclude * necessary bandwidth, 3 RBW). Immutable, reference counted, readable from any thread.
 *
 * Files: .mask (core/docs/files.md, section 5). A range is `LOW HIGH`: power is low < P <= high, other ranges hold both their edges; `>`,
 * `>=`, `<`, `<=` before an edge say otherwise; `inf` may stand for the second. Keys of ours beyond that list: `advisory=yes` in [mask].
 * Limits: 100 rules a mask.
 */
#pragma once

#include "core/quantity/keyspec.h"

typedef enum { SP_RANGE_ABSOLUTE, SP_RANGE_OFFSET, SP_RANGE_BANDWIDTHS } SpRangeKind;
typedef enum { SP_POWER_MEAN, SP_POWER_PEP } SpPowerKind;

typedef struct {
  double value;    /* may be infinite at the top */
  gboolean closed; /* the edge belongs to the range */
} SpEdge;

typedef struct {
  SpEdge low, high;
} SpEdges;

typedef struct {
  char *name; /* "rule 1" */
  SpEdges f0; /* fundamental, Hz */
  SpEdges p;  /* W; by default low < P <= high */
  SpRangeKind range;
  SpEdge low, high; /* emission: Hz, offset Hz, or necessary bandwidths */
  gboolean has_attenuation;
  double a_db, b_db;              /* a + b lg P */
  double a_end_db;                /* NaN, or the value at `high`, linear over log f */
  double ceiling_dbm, relief_dbm; /* NaN: none */
  double reference_bandwidth_hz;  /* NaN: the rule sets none */
  char *detector;                 /* "rms" ...; NULL: the rule sets none */
  SpPowerKind power;
  double exclude_bandwidths; /* either side of f0; 2.5 where the file says nothing (ITU-R SM.1539: 250 % of the necessary bandwidth) */
} SpMaskRule;

typedef struct {
  char *name;  /* a built-in's name ("us-amateur"), or a file's name= (its base name where it gives none) */
  char *title; /* name= as it stands, for people */
  char *authority, *clause, *edition, *note;
  char *file;                           /* NULL: built in */
  double exclude_bandwidths;            /* of [mask]: holds where no rule applies */
  guint harmonics;                      /* look for harmonics up to this order; 10 */
  double search_low_hz, search_high_hz; /* NaN: harmonics only */
  gboolean advisory;
  guint n;
  SpMaskRule *rules;
  GPtrArray *warnings;
  char *text, *sha256; /* the file rewritten: canonical, unknown keys kept, comments and order not; and its hash */
} SpMask;

/* The keys of [mask]; of [rule NAME]; and those that may stand in either, where the rule's win. Their structs are SpMask, SpMaskRule and SpMaskRule. */
extern const SpKeySpec sp_mask_keys[], sp_mask_rule_keys[], sp_mask_shared_keys[];

/* A built-in's name or a file's path. Unknown: an error (SP_ERROR_USAGE) that lists the names. (transfer full) */
SpMask *sp_mask_load (const char *name_or_path, GError **error);
/* Errors carry FILE:LINE:COLUMN, group, key and what was expected. (transfer full) */
SpMask *sp_mask_parse (SpKeyFile *file, GError **error);
/* A mask from its canonical text, as a bench book keeps it. `built_in`: `name` is the built-in's, as it was when the book was written: it
 * goes on being judged by what it said then. Else `name` stands for the file. (transfer full) */
SpMask *sp_mask_restore (const char *text, const char *name, gboolean built_in, GError **error);
SpMask *sp_mask_ref (const SpMask *mask);
void sp_mask_unref (SpMask *mask);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpMask, sp_mask_unref)

/* Names of the built-in masks, NULL-terminated, sorted. (transfer none) */
const char *const *sp_mask_names (void);

typedef struct {
  double limit_dbm;       /* NaN: no limit here */
  double slope;           /* d limit / d P in dB/dB: 1 - b/10 where it follows P, 0 where it is absolute */
  const SpMaskRule *rule; /* the governing one; NULL */
  gboolean excluded;      /* within f0 +- exclude and no rule reaches: the fundamental's own */
} SpLimit;

/* f0 and f in Hz, power in W, necessary bandwidth and RBW in Hz (rbw NaN: 0). Power NaN (not known): rules of every power class match, and
 * one that follows P or belongs to a class gives limit NaN with its rule named. A date of installation is chosen by mask, not here. */
SpLimit sp_mask_limit (const SpMask *mask, double fundamental_hz, double power_w, double necessary_bandwidth_hz, double rbw_hz,
                       double frequency_hz);

/* Does any rule hold for this fundamental and a power of low_w to high_w (either NaN: of any class)? Else the mask says nothing of the radio. */
gboolean sp_mask_applies (const SpMask *mask, double fundamental_hz, double low_w, double high_w);

/* An edge between two classes that P straddles: what governs on either side of it. A rule is NULL where that class sets no limit. */
typedef struct {
  double power_w; /* NaN: P straddles none */
  const SpMaskRule *below, *above;
} SpClassEdge;

/* The stricter of the limits for P - U, P and P + U where they fall in different power classes. A class that only P - U or P + U reaches
 * counts with the limit it gives at its own edge power (slope 0: that power is a number of the rule); P's own class counts at P, with
 * its own slope. An edge is one only where limit or slope change across it at this place, for this fundamental: a class elsewhere in the
 * mask, or one whose neighbour asks the same, moves nothing, nor does the order of the rules. *straddled (may be NULL) is the edge that
 * decided, else one at which the limit steps; edges that move the limit by less than 0.01 dB and make no such step are not told. */
SpLimit sp_mask_limit_with_u (const SpMask *mask, double fundamental_hz, double power_w, double expanded_db, double necessary_bandwidth_hz,
                              double rbw_hz, double frequency_hz, SpClassEdge *straddled);

/* Half-width in Hz of what is the fundamental's own: the least of the rules that apply to f0 and P, the mask's where none does. */
double sp_mask_exclude_hz (const SpMask *mask, double fundamental_hz, double power_w, double necessary_bandwidth_hz, double rbw_hz);

/* The limit as segments over [from, to]: each with its ends' values (linear over log f between them). Gaps have NaN. */
typedef struct {
  double from_hz, to_hz, limit_dbm, limit_end_dbm;
  const SpMaskRule *rule;
} SpLimitSegment;
/* The segment's value at a frequency inside it: a straight line over log f. */
double sp_limit_segment_dbm (const SpLimitSegment *segment, double frequency_hz);
/* (transfer full) GArray of SpLimitSegment, ascending, covering the whole range. */
GArray *sp_mask_segments (const SpMask *mask, double fundamental_hz, double power_w, double necessary_bandwidth_hz, double rbw_hz,
                          double from_hz, double to_hz);
