/* chain.h - what stands between the radio's antenna socket and the analyzer: stages with measured losses, in order
 *
 * Loss of the chain = sum of the stages (dB). Neighbours with full S-parameters are cascaded exactly instead (interaction_db).
 * Files: .chain (core/docs/files.md, section 3). Immutable, reference counted.
 */
#pragma once

#include "core/curve/curve.h"
#include "core/network/network.h"
#include "core/quantity/keyspec.h"
#include "core/run/run.h"

typedef enum {
  SP_STAGE_CABLE,
  SP_STAGE_PAD,
  SP_STAGE_ADAPTER,
  SP_STAGE_COUPLER,
  SP_STAGE_FILTER,
  SP_STAGE_NOTCH,
  SP_STAGE_LIMITER
} SpStageKind;

#define SP_VSWR_ASSUMED 1.2       /* with a warning, where a stage or the radio states none (common practice, no source) */
#define SP_POINT_U_ASSUMED_DB 0.3 /* a point without u in a stage without u_db (common practice, no source) */
#define SP_ALPHA_U_ASSUMED 0.0004 /* dB/dB/K, temperature coefficient unknown (typical data sheet, from memory) */
#define SP_CHAIN_MAX_STAGES 64
#define SP_CHAIN_MAX_PAIRS (SP_CHAIN_MAX_STAGES * (SP_CHAIN_MAX_STAGES - 1) / 2) /* of reflections */
#define SP_ROOM_TEMPERATURE_C 25.0 /* where a derating table is read when the bench states no temperature */
#define SP_BETA_ASSUMED 0.005      /* dB/dB/W, power coefficient unknown: 0 to this (typical data sheet, from memory) */
#define SP_RISE_ASSUMED_K 100.0    /* a part at its rated power, over the room: its hottest 125 C at 25 C (common practice, no source) */

typedef struct {
  double temperature_c, rating_w;
} SpDerating;

typedef struct {
  char *name;
  SpStageKind kind;
  double label_db, label_tolerance_db;  /* NaN where not given; tolerance a rectangular half-width */
  double span_low_hz, span_high_hz;     /* where the label holds; NaN */
  SpCurve *loss;                        /* measured: points, -20 lg|S21| of the Touchstone file, or the run's; NULL: label */
  SpTwoPort *two_port;                  /* full S-parameters; NULL */
  char *touchstone;                     /* path as written, NULL */
  SpRun *run;                           /* key run: the substitution run that gave the loss, its budget with it; NULL */
  char *run_name;                       /* path as written, NULL */
  double *loss_dof;                     /* of the loss's points, loss->n, infinite where not known; NULL: all infinite */
  double u_db;                          /* for points without u; NaN */
  double common_u_db;                   /* part common to all stages and frequencies; 0 */
  double connector_u_db;                /* repeatability; 0 */
  SpCurve *vswr;                        /* NULL: assumed */
  double rating_w;                      /* greatest input power; NaN: not stated */
  GArray *derating;                     /* of SpDerating, temperature ascending; empty */
  gboolean directional;                 /* the power goes in one way only */
  gboolean passes_dc;                   /* key passes_dc; left out: yes for a cable and an adapter, no otherwise */
  double load_rating_w;                 /* key load_rating_w: what a coupler's own load takes; NaN */
  double temperature_coefficient;       /* dB/dB/K; NaN: 0 with u SP_ALPHA_U_ASSUMED */
  double temperature_coefficient_u;     /* standard; NaN: 0 where the coefficient is stated */
  double power_coefficient;             /* dB/dB/W; NaN: one-sided from 0 to sp_stage_power_coefficient_assumed() */
  double calibrated_day, temperature_c; /* NaN: the chain's */
} SpStage;

/* The file that a stage names (a stage has one at most): what a book keeps with the chain. A run counts as its canonical text. */
typedef struct {
  const char *key, *name, *sha256;
  GBytes *bytes;
} SpStageFile;
/* FALSE: none. bytes (transfer full), the rest (transfer none). */
gboolean sp_stage_file (const SpStage *stage, SpStageFile *out);

typedef struct {
  char *name;
  char *file;            /* where it was read from; NULL */
  guint n;               /* >= 1 */
  SpStage **stages;      /* in order from the radio */
  double calibrated_day; /* Julian day; NaN */
  double interval_days;  /* NaN */
  double temperature_c;  /* at calibration; NaN: no temperature term */
  GPtrArray *warnings;   /* SpReason*: unknown keys, label used, assumed values, ratings missing */
  char *text;            /* the file, rewritten: canonical order, all digits, unknown keys kept, comments gone */
  char *sha256;          /* of text with the hash of each Touchstone file's bytes, and of each run's text, in place of its path, and the
                                points that a run gave */
} SpChain;

/* Reads a .chain file (and the files it names). Required: [chain] stages, each stage's group and its kind. Ranges: losses -0.5 to 300 dB,
 * uncertainties 0 to 100 dB, VSWR from 1, ratings over 0. A stage with two of points, touchstone and run, or listed twice, is an error; a stage
 * group that `stages` does not list is kept, and warned about as unknown. Keys of ours: passes_dc, load_rating_w, run=FILE.run instead of
 * points: its loss, u and degrees of freedom at each frequency; where the stage does not state them itself, its date, its temperature, its
 * stage_vswr, and the meter's linearity as common_u_db. vswr may name a one-port Touchstone file (.s1p).
 * Warnings: LABEL_USED, NOT_CALIBRATED, U_ASSUMED ("loss"), VSWR_ASSUMED, RATING_MISSING, UNKNOWN_KEY; those of its runs' results. (transfer full) */
SpChain *sp_chain_read (const char *path, GError **error);
SpChain *sp_chain_parse (SpKeyFile *file, GError **error);

/* Where the two-ports and runs come from that `touchstone=` and `run=` name, where not from the file's folder: `find` and `find_run` give the one
 * called `name` (as written), (transfer full); NULL and an error. find_run NULL: a run is an error. files: a VSWR may name a file. */
typedef struct {
  SpTwoPort *(*find) (gpointer data, const char *name, GError **error);
  gpointer data;
  SpRun *(*find_run) (gpointer data, const char *name, GError **error);
  gboolean files;
} SpTwoPorts;
/* `two_ports` NULL: files. (transfer full) */
SpChain *sp_chain_parse_with (SpKeyFile *file, const SpTwoPorts *two_ports, GError **error);
SpChain *sp_chain_ref (const SpChain *chain);
void sp_chain_unref (SpChain *chain);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpChain, sp_chain_unref)

/* Loss of one stage at one frequency (core/docs/computation.md, section 2):
 * loss = curve(f), else the label, 0 dB where there is neither (then never calibrated);
 *        + loss alpha (T - T_cal) where both temperatures are known; + loss beta P where beta is stated.
 * u of the label: tolerance / sqrt 3 (rectangular; JCGM 100, 4.3.7), else u_db, else SP_POINT_U_ASSUMED_DB.
 * u of temperature: loss u(alpha) (T - T_cal). u of self-heating, beta unknown: loss beta_assumed P / sqrt 3 (common practice), with
 * beta_assumed as sp_stage_power_coefficient_assumed() has it. What nobody stated is marked as assumed. */
typedef struct {
  double loss_db;
  double u_db;        /* of this stage alone, all terms but mismatch: what `chain --json` prints for a stage */
  double u_curve_db;  /* calibration and shape (label tolerance where the label is used), without common_u_db */
  double dof;         /* of u_curve_db, not truncated: u_curve^4 over the greater u^4/dof of the two points about f; infinite */
  double u_common_db; /* summed over stages before it is squared */
  double u_connector_db;
  double u_temperature_db; /* signed sensitivity kept: loss * u(alpha) * dT; fully correlated between frequencies */
  double u_heating_db;     /* equal at all frequencies: cancels in dBc */
  gboolean calibrated;     /* f > 0, inside its measured points, or inside the label's stated span with a tolerance */
  gboolean from_label;
  gboolean curve_assumed;       /* u_curve_db is SP_POINT_U_ASSUMED_DB, in whole or from one of the two points about f */
  gboolean temperature_assumed; /* u_temperature_db is SP_ALPHA_U_ASSUMED's */
  gboolean heating_assumed;     /* u_heating_db is of a coefficient that nobody stated: wherever it is not 0 */
} SpStageLoss;

/* The greatest power coefficient, dB/dB/W, of a stage whose own nobody stated: SP_BETA_ASSUMED, a small pad's, but bounded by the rating. A part's
 * temperature rises as its power, and at its rated power it is as hot as its maker allows: SP_RISE_ASSUMED_K over the room, or the temperature at
 * which its derating reaches nothing less SP_ROOM_TEMPERATURE_C. So its loss changes there by that rise times its temperature coefficient (the
 * greater of SP_ALPHA_U_ASSUMED and |temperature_coefficient|) at the most: 0.04 dB for each dB, 1.2 dB of a 30 dB pad whatever its
 * rating (common practice, no source). Without a rating there is no bound. */
double sp_stage_power_coefficient_assumed (const SpStage *stage);

/* temperature_c: the bench's own; NaN: that of the calibration. power_w: average power into the stage; 0 or NaN: no self-heating. */
SpStageLoss sp_stage_loss (const SpChain *chain, guint index, double frequency_hz, double temperature_c, double power_w);

/* Loss of the whole chain and its uncertainty, taken apart as judging needs it.
 * Curves, connectors, temperature (each stage has its own coefficient) and self-heating add in square over the stages, the common
 * parts linearly. Mismatch: every output side of a stage against every input side of a later one, m = |Gi||Gj| 10^(-2 L/20) with L the
 * loss of the stages between them, u = 8.686 m / sqrt 2 (EA-4/02 S7.6; Harris and Warner 1981), pairs inside one exact cascade left out.
 * Exact cascade: stages with a Touchstone file that follow each other; 20 lg|1 - S22 S11| at each joint (Pozar 4.4) is interaction_db. */
typedef struct {
  double loss_db;
  double u_db;             /* all that is the chain's own: root of the squares below */
  double u_independent_db; /* curves, labels, connectors: independent between two frequencies */
  double dof_independent;  /* of that: Welch-Satterthwaite over the stages (JCGM 100, G.2b), not truncated; infinite */
  double u_common_db;      /* the same at all frequencies */
  double u_temperature_db; /* fully correlated between frequencies */
  double u_heating_db;     /* equal at all frequencies */
  double u_mismatch_db;    /* between the stages, all pairs */
  double interaction_db;   /* total minus sum of stages: not 0 in an exact cascade */
  gboolean calibrated;
  int uncalibrated_stage; /* index of the first that is not; -1 */
  gboolean curve_assumed; /* some of u_independent_db is a point's u that nobody stated */
  int temperature_stage;  /* index of the stage that brings most of what is assumed of u_temperature_db; -1: none of it is */
  int heating_stage;      /* likewise of u_heating_db */
} SpChainLoss;

/* power_w: average power out of the radio; it goes down the chain by the losses at frequency_hz (so behind a notch it is too high for the
 * harmonics, on the safe side); 0 or NaN: none. `stages` NULL or chain->n long. */
SpChainLoss sp_chain_loss (const SpChain *chain, double frequency_hz, double temperature_c, double power_w, SpStageLoss *stages);

/* level[i] += loss at frequency[i], n ascending points. Within 1e-6 dB of sp_chain_loss. */
void sp_chain_correct (const SpChain *chain, double temperature_c, guint64 n, const double *frequency_hz, double *level_db);

/* Standard uncertainty of the mismatch between a source of reflection |G| = source_g in front of the chain, and the input sides of all
 * stages behind it; and between the load behind (|G| = load_g) and the output sides of all stages, and the source. Not part of the
 * chain's own u: judging adds them. */
double sp_chain_source_mismatch_u_db (const SpChain *chain, double frequency_hz, double temperature_c, double source_g);
double sp_chain_load_mismatch_u_db (const SpChain *chain, double frequency_hz, double temperature_c, double source_g, double load_g);

/* The pairs of reflections that these mismatches, and the chain's inner one, are made of: the standard uncertainty of each in dB, whose squares
 * add up to that of the whole. Each pair has a phase of its own, which nobody knows. The same pairs in the same order at every frequency.
 * `u_db` holds SP_CHAIN_MAX_PAIRS; returns how many. `stages`: as sp_chain_loss gave them. */
guint sp_chain_source_pairs (const SpChain *chain, double frequency_hz, double temperature_c, double source_g, double *u_db);
guint sp_chain_load_pairs (const SpChain *chain, double frequency_hz, double temperature_c, double source_g, double load_g, double *u_db);
guint sp_chain_inner_pairs (const SpChain *chain, double frequency_hz, const SpStageLoss *stages, double *u_db);

/* |G| of a stage's input or output side: |S11| or |S22| of its Touchstone file, else from its VSWR (one number serves both sides),
 * else from SP_VSWR_ASSUMED. */
double sp_stage_reflection (const SpStage *stage, double frequency_hz, gboolean output);
/* A stage of the chain has SP_VSWR_ASSUMED: so have all mismatch terms. */
gboolean sp_chain_vswr_assumed (const SpChain *chain);

/* Greatest input power of a stage at a temperature (NaN: SP_ROOM_TEMPERATURE_C): the lesser of rating_w and the derating table, linear
 * between its rows, held below, its last slope continued above, never under 0. NaN where none is stated. */
double sp_stage_rating_w (const SpStage *stage, double temperature_c);

/* The keys of [chain] and of [stage NAME]. */
extern const SpKeySpec sp_chain_keys[], sp_stage_keys[];

const char *sp_stage_kind_name (SpStageKind kind);
/* The name of a stage's group in SpChain.text: "stage patch". (transfer full) */
char *sp_stage_heading (const char *name);
