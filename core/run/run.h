/* run.h - a substitution run: what a stage loses, from a meter's readings without it and with it
 *
 * At each frequency: reference readings without the stage before (and, if taken, after), inserted readings with it; readings are dBm, or dB of
 * any one reference, times are minutes from any one moment. From a file (.run: core/docs/files.md, section 6) or made in memory, as a form
 * does while somebody types: sp_run_new(), fields, sp_run_add_at(), then sp_run_result() as often as wanted.
 * Keys of ours: interval_days, temperature_u_c, temperature_coefficient, stage_vswr, stage_output_vswr, reference_vswr,
 * reference_output_vswr, line_velocity, correction_db, extra. A VSWR is a number, pairs of f and value, or the name of a one-port
 * Touchstone file (.s1p). Immutable once made, reference counted.
 */
#pragma once

#include "core/curve/curve.h"
#include "core/quantity/keyspec.h"
#include "core/run/sum.h"

#define SP_RUN_VSWR_ASSUMED 1.2            /* source, meter, stage: with a warning where none is stated (common practice, no source) */
#define SP_RUN_LINEARITY_ASSUMED_DB 0.1    /* half-width, a power meter over tens of dB, with a warning (common practice, no source) */
#define SP_RUN_RESOLUTION_ASSUMED_DB 0.005 /* half-width, a display of two decimals, with a warning (common practice, no source) */
#define SP_RUN_DRIFT_ASSUMED_DB 0.05   /* half-width, where no reference was read afterwards, with a warning (common practice, no source) */
#define SP_RUN_SCATTER_ASSUMED_DB 0.05 /* standard, of one reading where none was repeated, with a warning (common practice, no source) */
#define SP_RUN_ALPHA_ASSUMED 0.0004    /* dB/dB/K, the stage's temperature coefficient at most (typical data sheet, from memory) */
#define SP_RUN_TEMPERATURE_U_C 1.0     /* standard, of temperature_c; 3 K where none is stated (common practice, no source) */
#define SP_RUN_VELOCITY_ASSUMED 0.66   /* of a cable's wave over light's: solid polyethylene (handbook value, from memory) */

typedef struct {
  double value_db;
  double minutes; /* NaN in all three lists of a frequency: not timed, then equal steps in the order written */
} SpMeterReading;

typedef struct {
  double frequency_hz;
  GArray *before, *inserted, *after; /* of SpMeterReading; `after` may be empty */
  char *heading;                     /* of its group as the file spells it, "at 146MHz"; NULL */
} SpRunAt;

/* A further term of the budget: leakage, the standard's own certificate ... */
typedef struct {
  char *name;
  double u_db, dof; /* standard; dof infinite where not stated */
} SpRunExtra;

typedef struct {
  char *stage;                                     /* whose loss; NULL: not yet said */
  char *note, *file;                               /* NULL */
  double day, interval_days;                       /* Julian day of the readings, and how long they count; NaN */
  double temperature_c, temperature_u_c;           /* of the stage; standard; NaN */
  double temperature_coefficient;                  /* dB/dB/K; NaN: 0 +- SP_RUN_ALPHA_ASSUMED */
  SpCurve *source_vswr, *meter_vswr;               /* NULL: assumed */
  SpCurve *stage_vswr, *stage_output_vswr;         /* seen from the source, from the meter; output NULL: the same */
  SpCurve *reference_vswr, *reference_output_vswr; /* of what stood in the stage's place at the reference; NULL: nothing did */
  double line_m;                                   /* of the line between source and meter; NaN: not known */
  double line_velocity;                            /* of its wave over light's; NaN: SP_RUN_VELOCITY_ASSUMED */
  double meter_linearity_db, meter_resolution_db;  /* half-widths; NaN: assumed */
  double meter_floor_dbm;                          /* NaN */
  double correction_db;                            /* added to the loss, as a certificate states it; 0 */
  GArray *extra;                                   /* of SpRunExtra */
  GPtrArray *at;                                   /* SpRunAt*, any order */
  GPtrArray *warnings;                             /* SpReason*: unknown keys */
  char *leftover;                                  /* keys and groups that no reader asked for; NULL */
  char *text, *sha256;                             /* read from a file: as sp_run_text() gives it, and the hash of that; else NULL */
} SpRun;

/* The keys of [run] and of [at F]. */
extern const SpKeySpec sp_run_keys[], sp_run_at_keys[];

/* Nothing known yet. Texts are given with g_strdup, curves with a reference of their own. (transfer full) */
SpRun *sp_run_new (void);
/* One more frequency, without readings. (transfer none) */
SpRunAt *sp_run_add_at (SpRun *run, double frequency_hz);
/* One more reading; for tests that make a run without a file. */
void sp_run_at_add (GArray *readings, double value_db, double minutes);
void sp_run_add_extra (SpRun *run, const char *name, double u_db, double dof);
/* A key of [run] that was not set before, from the text that a file or a form's field has for it, checked as the file's reader checks it; "": left
 * alone. FALSE and a sentence that says what was expected. Only while nobody else has the run. */
gboolean sp_run_set (SpRun *run, const char *key, const char *value, GError **error);
SpRun *sp_run_ref (const SpRun *run);
void sp_run_unref (SpRun *run);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpRun, sp_run_unref)

/* Reads a .run file. Required: [run] stage, and an [at F] group with before and inserted. Errors name file, line, column, group, key: a frequency
 * given twice, readings without a number, times that run back, some readings timed and others not. Ranges: readings -300 to 300 dB,
 * half-widths and uncertainties 0 to 100 dB, VSWR from 1. At most 10,000 frequencies, 10,000 readings in a list. (transfer full) */
SpRun *sp_run_read (const char *path, GError **error);
/* files FALSE: a VSWR that names a file is an error (what is read came from a stranger's book). (transfer full) */
SpRun *sp_run_parse (SpKeyFile *file, gboolean files, GError **error);
/* The same from bytes in memory; `name` stands for the file. (transfer full) */
SpRun *sp_run_parse_bytes (const char *bytes, gsize length, const char *name, gboolean files, GError **error);
/* "-30.11@3; -30.13@4": readings as a file or a form's field spells them. NULL and a sentence that says what was expected; *offset (may
 * be NULL) characters into the text. "" is an empty list. (transfer full), of SpMeterReading */
GArray *sp_run_parse_readings (const char *text, guint *offset, GError **error);
/* The reverse. (transfer full) */
char *sp_run_readings_text (const GArray *readings);
/* As a .run file: canonical order, all digits, comments gone, reads back to an equal run. (transfer full) */
char *sp_run_text (const SpRun *run);

/* -- the result -- */

/* Its terms: "repeatability" "reference" "drift" "linearity" "resolution" "mismatch-reference" "mismatch-source" "mismatch-meter"
 * "mismatch-through" "temperature", then the extra ones by their own names. */
typedef struct {
  double frequency_hz;
  double loss_db;
  SpRunSum sum;       /* of what the loss is uncertain by */
  double drift_db;    /* reference after minus before; NaN where none was read after */
  double scatter_db;  /* experimental standard deviation of one inserted reading; NaN for one */
  double common_u_db; /* of its u: the meter's linearity, the same meter behind every stage */
} SpRunPoint;

typedef struct {
  guint n;
  SpRunPoint *points;  /* ascending; only the frequencies that are complete */
  GPtrArray *missing;  /* SpReason* RUN_WANTS: why there is not (yet) more; empty when all is there */
  GPtrArray *warnings; /* SpReason*: VSWR_ASSUMED, U_ASSUMED, REPEATS_WANDER, LINE_LENGTH, METER_FLOOR, CALIBRATION_OLD; the run's own */
} SpRunResult;

/* Never NULL; any run, however unfinished. `day`: today's Julian day, for the age against interval_days; NaN: not looked at.
 *   reference(t) = the straight line through the means of `before` and `after` at their mean times; without `after` the mean of `before`
 *   loss = mean of reference(t_i) - inserted_i, each taken at its own time (so what drifts with both cancels; JCGM 100, H.2, approach 2), + correction_db
 * Type A (JCGM 100, 4.2.3): "repeatability" s/sqrt n of those differences, n - 1; "reference" the scatter of the reference readings about
 *   their line, pooled, at the inserted readings' mean time. Where only one of the two was repeated its scatter stands for the other
 *   too, both then being the one term "repeatability".
 * Type B: "drift" |after - before| / (2 sqrt 3): the line has it right at both ends, nobody saw how it went between (rectangular, common
 *   practice); "linearity" a/sqrt 3; "resolution" a sqrt 2 / sqrt 3, once in each state (JCGM 100, 4.3.7); "temperature" loss alpha u(T);
 *   mismatch (EA-4/02 M S7.6; Harris and Warner 1981), each 8.686 m / sqrt 2: "-reference" what stands in at the reference (source
 *   and meter facing each other where nothing does), "-source" |Gs||S11|, "-meter" |Gm||S22|, "-through" |Gs||Gm||S21|^2. */
SpRunResult *sp_run_result (const SpRun *run, double day);
void sp_run_result_free (SpRunResult *result);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpRunResult, sp_run_result_free)

/* What is the same behind every stage that this meter measured: its linearity, as a standard uncertainty. */
double sp_run_common_u_db (const SpRun *run);
/* Loss and u over frequency. NULL and an error where no point is there, or no curve goes through (see sp_curve_new). (transfer full) */
SpCurve *sp_run_curve (const SpRunResult *result, SpCurveKind kind, GError **error);
/* The lines of the stage's group in a .chain, to four decimals, for a person to paste: heading, calibrated, temperature_c, common_u_db, points. (transfer full) */
char *sp_run_stage_text (const SpRun *run, const SpRunResult *result);
