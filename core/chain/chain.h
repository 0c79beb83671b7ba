/* chain.h - the stages between the radio's antenna socket and the analyzer, in order, with their losses
 *
 * Loss of the chain = sum of the stages (dB). Neighbours with full S-parameters are cascaded exactly instead (interaction_db).
 * Files: .chain (core/docs/files.md, section 3). Immutable, reference counted.
 */
#pragma once

#include "core/curve/curve.h"
#include "core/network/network.h"
#include "core/picture/captioned.h"
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

/* Used with a warning if a stage or the radio states none (common practice, no source) */
#define SP_VSWR_ASSUMED 1.2
#define SP_POINT_U_ASSUMED_DB 0.3 /* u of a point without u in a stage without u_db (common practice, no source) */
#define SP_ALPHA_U_ASSUMED 0.0004 /* u in dB/dB/K of an unknown temperature coefficient (typical data sheet, from memory) */
#define SP_CHAIN_MAX_STAGES 64    /* bounds time: every pair of stages is worked out */
#define SP_CHAIN_MAX_PAIRS (SP_CHAIN_MAX_STAGES * (SP_CHAIN_MAX_STAGES - 1) / 2) /* pairs of reflections; room for all */
#define SP_ROOM_TEMPERATURE_C 25.0 /* for derating if the bench states no temperature (common practice, no source) */
#define SP_BETA_ASSUMED 0.005      /* greatest unknown power coefficient, dB/dB/W; the least is 0 (typical data sheet, from memory) */
/* Temperature rise of a part at its rated power: its hottest 125 C at 25 C (common practice, no source) */
#define SP_RISE_ASSUMED_K 100.0

typedef struct {
  double temperature_c, rating_w;
} SpDerating;

typedef struct {
  char *name;
  SpStageKind kind;
  double label_db, label_tolerance_db;  /* NaN: not given; the tolerance is a rectangular half-width */
  double span_low_hz, span_high_hz;     /* validity of the label; NaN */
  SpCurve *loss;                        /* measured: points, -20 lg|S21| of the Touchstone file, or from the run; NULL: label only */
  SpTwoPort *two_port;                  /* full S-parameters; NULL */
  char *touchstone;                     /* path as written; NULL */
  SpRun *run;                           /* key run: the substitution run with the loss and its budget; NULL */
  char *run_name;                       /* path as written; NULL */
  double *loss_dof;                     /* for each point of loss, infinite: not known; NULL: all infinite */
  double u_db;                          /* for points without u; NaN */
  double common_u_db;                   /* the part common to all stages and frequencies; 0 */
  double connector_u_db;                /* repeatability; 0 */
  SpCurve *vswr;                        /* NULL: assumed */
  double rating_w;                      /* greatest input power; NaN: not stated */
  GArray *derating;                     /* of SpDerating, temperature ascending; empty */
  gboolean directional;                 /* power may only go in one way */
  gboolean passes_dc;                   /* key passes_dc; default: yes for a cable and an adapter, else no */
  double load_rating_w;                 /* key load_rating_w: rating of a coupler's load; NaN */
  double temperature_coefficient;       /* dB/dB/K; NaN: 0 with u SP_ALPHA_U_ASSUMED */
  double temperature_coefficient_u;     /* standard; NaN: 0 if the coefficient is stated */
  double power_coefficient;             /* dB/dB/W; NaN: one-sided from 0 to sp_stage_power_coefficient_assumed() */
  double calibrated_day, temperature_c; /* NaN: the chain's */
  GArray *pictures;                     /* of SpCaptioned, "picture=FILE caption"; NULL: none. Not part of the hash */
} SpStage;

/* A file that a stage names, of its loss or of a picture; a book keeps it with the chain. A run counts as its canonical text. */
typedef struct {
  const char *name, *sha256;
  GBytes *bytes;
  char *key;           /* that names it */
  const char *caption; /* behind a picture's name; NULL */
  gboolean picture;
} SpStageFile;
/* All files that the stage names: of SpStageFile, cleared with the array; its members hold as long as the stage. (transfer full) */
GArray *sp_stage_files (const SpStage *stage);
/* The value of its key where it is called `name`. (transfer full) */
char *sp_stage_file_value (const SpStageFile *file, const char *name);

typedef struct {
  char *name;
  char *file;            /* path it was read from; NULL */
  guint n;               /* >= 1 */
  SpStage **stages;      /* in order from the radio */
  double calibrated_day; /* Julian day; NaN */
  double interval_days;  /* NaN */
  double temperature_c;  /* at calibration; NaN: no temperature term */
  GPtrArray *warnings;   /* SpReason*: unknown keys, label used, assumed values, ratings missing */
  char *text;            /* the rewritten file: canonical order, all digits, unknown keys kept, no comments */
  /* Hash of `text` with the hash of each Touchstone file's bytes and of each run's text in place of its path, and with the points that
   * a run gave. */
  char *sha256;
} SpChain;

/* Reads a .chain file and the files it names. Required: [chain] stages, each stage's group and its kind. Ranges: losses -0.5 to 300
 * dB, uncertainties 0 to 100 dB, VSWR from 1, ratings over 0.
 * A stage with two of points, touchstone and run, or listed twice, is an error. A stage group that `stages` does not list is kept,
 * with a warning.
 * run=FILE.run replaces points: it gives the loss, u and degrees of freedom at each frequency, and, if the stage does not state them,
 * its date, temperature and stage_vswr, and the meter's linearity as common_u_db. vswr may name a one-port Touchstone file (.s1p).
 * Warnings: LABEL_USED, NOT_CALIBRATED, U_ASSUMED ("loss"), VSWR_ASSUMED, RATING_MISSING, UNKNOWN_KEY; those of its runs' results.
 * (transfer full) */
SpChain *sp_chain_read (const char *path, GError **error);
SpChain *sp_chain_parse (SpKeyFile *file, GError **error);

/* Source of the files that `touchstone=`, `run=` and `picture=` name, if not the file's folder: `find` and `find_run` return the one called `name`
 * (as written), (transfer full); NULL and an error. find_run NULL: a run is an error. files: a VSWR may name a file. */
typedef struct {
  SpTwoPort *(*find) (gpointer data, const char *name, GError **error);
  gpointer data;
  SpRun *(*find_run) (gpointer data, const char *name, GError **error);
  gboolean files;
  SpPicture *(*find_picture) (gpointer data, const char *name, GError **error); /* decoded; NULL: a picture is an error */
} SpTwoPorts;
/* `two_ports` NULL: files. (transfer full) */
SpChain *sp_chain_parse_with (SpKeyFile *file, const SpTwoPorts *two_ports, GError **error);
SpChain *sp_chain_ref (const SpChain *chain);
void sp_chain_unref (SpChain *chain);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpChain, sp_chain_unref)

/* Loss of one stage at one frequency (core/docs/computation.md, section 2): loss = curve(f), else the label, else 0 dB (never
 * calibrated); + loss alpha (T - T_cal) if both temperatures are known; + loss beta P if beta is stated.
 * u of the label: tolerance / sqrt 3 (rectangular; JCGM 100, 4.3.7), else u_db, else SP_POINT_U_ASSUMED_DB. u of temperature: loss
 * u(alpha) (T - T_cal). u of self-heating with unknown beta: loss beta_assumed P / sqrt 3 (common practice), beta_assumed from
 * sp_stage_power_coefficient_assumed(). */
typedef struct {
  double loss_db;
  double u_db; /* this stage alone, all terms except mismatch: printed for a stage by `chain --json` */
  /* Calibration and shape (or the label's tolerance), without common_u_db */
  double u_curve_db;
  /* Of u_curve_db, not truncated: u_curve^4 over the greater u^4/dof of the two points about f; infinite */
  double dof;
  double u_common_db; /* added linearly over the stages, then squared */
  double u_connector_db;
  /* With its sign: loss * u(alpha) * dT; fully correlated between frequencies */
  double u_temperature_db;
  double u_heating_db; /* equal at all frequencies, so it cancels in dBc */
  gboolean calibrated; /* f > 0, inside its measured points, or inside the label's span with a tolerance */
  gboolean from_label;
  gboolean curve_assumed;       /* u_curve_db is SP_POINT_U_ASSUMED_DB, wholly or from one of the two points about f */
  gboolean temperature_assumed; /* u_temperature_db uses SP_ALPHA_U_ASSUMED */
  gboolean heating_assumed;     /* u_heating_db uses an assumed coefficient: TRUE if it is not 0 */
} SpStageLoss;

/* Greatest power coefficient, dB/dB/W, of a stage that states none: SP_BETA_ASSUMED, that of a small pad, but bounded by the rating.
 * Temperature rises as power, and at rated power a part is as hot as allowed: SP_RISE_ASSUMED_K over the room, or the temperature
 * where its derating reaches zero less SP_ROOM_TEMPERATURE_C. So its loss changes there by at most that rise times its temperature
 * coefficient (the greater of SP_ALPHA_U_ASSUMED and |temperature_coefficient|): 0.04 dB per dB, 1.2 dB for a 30 dB pad of any rating
 * (common practice, no source). Without a rating there is no bound. */
double sp_stage_power_coefficient_assumed (const SpStage *stage);

/* temperature_c: the bench's; NaN: calibration temperature. power_w: average power into the stage; 0 or NaN: no self-heating. */
SpStageLoss sp_stage_loss (const SpChain *chain, guint index, double frequency_hz, double temperature_c, double power_w);

/* Loss of the whole chain and the parts of its uncertainty. Curves, connectors, temperature (each stage has its own coefficient) and
 * self-heating add in square over the stages, the common parts linearly.
 * Mismatch: every output side of a stage against every input side of a later one, m = |Gi||Gj| 10^(-2 L/20) with L the loss of the
 * stages between them, u = 8.686 m / sqrt 2 (EA-4/02 S7.6; Harris and Warner 1981); pairs inside one exact cascade are left out.
 * Exact cascade: consecutive stages with a Touchstone file; 20 lg|1 - S22 S11| at each joint (Pozar 4.4) is interaction_db. */
typedef struct {
  double loss_db;
  double u_db;             /* root sum of squares of the parts below */
  double u_independent_db; /* curves, labels, connectors: independent between two frequencies */
  /* Of u_independent_db: Welch-Satterthwaite over the stages (JCGM 100, G.2b), not truncated; infinite */
  double dof_independent;
  double u_common_db;      /* equal at all frequencies */
  double u_temperature_db; /* fully correlated between frequencies */
  double u_heating_db;     /* equal at all frequencies */
  double u_mismatch_db;    /* all pairs between the stages */
  double interaction_db;   /* total minus sum of stages: not 0 in an exact cascade */
  gboolean calibrated;
  int uncalibrated_stage; /* index of the first uncalibrated stage; -1 */
  gboolean curve_assumed; /* a part of u_independent_db is a point's assumed u */
  /* Index of the stage with the largest assumed share of u_temperature_db; -1: none */
  int temperature_stage;
  int heating_stage; /* the same of u_heating_db */
} SpChainLoss;

/* power_w: average power of the radio, reduced from stage to stage by the losses at frequency_hz; behind a notch that is too high for
 * the harmonics, which is safe. 0 or NaN: none. `stages` is NULL or chain->n long. */
SpChainLoss sp_chain_loss (const SpChain *chain, double frequency_hz, double temperature_c, double power_w, SpStageLoss *stages);

/* level[i] += loss at frequency[i], n ascending points. Within 1e-6 dB of sp_chain_loss. */
void sp_chain_correct (const SpChain *chain, double temperature_c, guint64 n, const double *frequency_hz, double *level_db);

/* Standard uncertainty of the mismatch between a source (|G| = source_g) before the chain and the input sides of all stages; and
 * between the load behind it (|G| = load_g) and the output sides of all stages and the source. Not part of the chain's u. Judging
 * takes their pairs (below); tests hold these against published sums. */
double sp_chain_source_mismatch_u_db (const SpChain *chain, double frequency_hz, double temperature_c, double source_g);
double sp_chain_load_mismatch_u_db (const SpChain *chain, double frequency_hz, double temperature_c, double source_g, double load_g);

/* Pairs of reflections of these mismatches, or of the chain's inner one: standard uncertainty of each in dB; their squares add up to
 * that of the whole. Each pair has its own unknown phase. Order and number are equal at every frequency.
 * `u_db` holds SP_CHAIN_MAX_PAIRS; returns their number. `stages`: from sp_chain_loss. */
guint sp_chain_source_pairs (const SpChain *chain, double frequency_hz, double temperature_c, double source_g, double *u_db);
guint sp_chain_load_pairs (const SpChain *chain, double frequency_hz, double temperature_c, double source_g, double load_g, double *u_db);
guint sp_chain_inner_pairs (const SpChain *chain, double frequency_hz, const SpStageLoss *stages, double *u_db);

/* |G| of a stage's input or output side: |S11| or |S22| of its Touchstone file, else from its VSWR (for both sides), else from
 * SP_VSWR_ASSUMED. */
double sp_stage_reflection (const SpStage *stage, double frequency_hz, gboolean output);
/* TRUE if a stage of the chain uses SP_VSWR_ASSUMED, and so all mismatch terms. */
gboolean sp_chain_vswr_assumed (const SpChain *chain);

/* Greatest input power of a stage at a temperature (NaN: SP_ROOM_TEMPERATURE_C): the lesser of rating_w and the derating table, which
 * is linear between its rows, constant below, continued with its last slope above, and never under 0. NaN: not stated. */
double sp_stage_rating_w (const SpStage *stage, double temperature_c);

/* The keys of [chain] and of [stage NAME]. */
extern const SpKeySpec sp_chain_keys[], sp_stage_keys[];

const char *sp_stage_kind_name (SpStageKind kind);
/* Heading of a stage's group in SpChain.text: "stage patch". (transfer full) */
char *sp_stage_heading (const char *name);
