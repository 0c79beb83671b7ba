/* check.h - a check of an analyzer: what it shows of levels that are known, the correction that follows, and what is left of its stated errors
 *
 * One steady source, one lead; a power meter and the analyzer in turn at its end, or the lead between what is known and the analyzer. At each
 * frequency the known level and what the analyzer shows of it, dBm; at one frequency perhaps with several settings of its attenuator. From a file
 * (.run with [check] in place of [run]: core/docs/files.md, section 6) or made in memory, as a form does: sp_check_new(), sp_check_set(),
 * sp_check_add_at(), then sp_check_result() as often as wanted. Immutable once read, reference counted.
 */
#pragma once

#include "core/analyzer/analyzer.h"
#include "core/run/run.h"

#define SP_CHECK_LEVEL_U_ASSUMED_DB                                                                                                        \
  0.5 /* standard, of a known level of which nobody says how well, as of a meter (common practice, no source) */
#define SP_CHECK_LEAD_U_ASSUMED_DB 0.3 /* standard, of a point of the lead without one, as of a stage's (common practice, no source) */

#define SP_CHECK_ATTENUATION_DB 200.0 /* bounds what can be meant */

typedef struct {
  double frequency_hz;
  double attenuation_db; /* the setting; NaN: not said */
  double level_dbm;      /* known; NaN: not yet */
  GArray *shows;         /* of double, dBm */
  char *heading;         /* of its group as the file spells it, "at 146MHz 20dB"; NULL */
} SpCheckAt;

typedef struct {
  char *analyzer;       /* its name, or its file (NAME.analyzer); NULL: not yet said */
  char *note, *file;    /* NULL */
  guint line;           /* of [check] in it */
  double day;           /* Julian day of the readings; NaN */
  double interval_days; /* how long they count; NaN */
  double temperature_c; /* NaN */
  double level_u_db;    /* standard, of the known level; NaN: assumed */
  SpCurve *lead_loss;   /* taken off the known level; NULL: nothing */
  SpCurve *source_vswr; /* looking back into what feeds the analyzer; NULL: assumed */
  SpCurve *meter_vswr;  /* NULL: level_u_db has it in it */
  double resolution_db; /* half-width of what it shows; NaN: half of the last digit of its readings */
  GPtrArray *at;        /* SpCheckAt*, any order */
  GPtrArray *warnings;  /* SpReason*: unknown keys */
  char *leftover;       /* keys and groups that no reader asked for; NULL */
  char *text, *sha256;  /* read from a file: as sp_check_text() gives it, and the hash of that; else NULL */
} SpCheck;

/* The keys of [check] and of [at F]. */
extern const SpKeySpec sp_check_keys[], sp_check_at_keys[];

/* Nothing known yet. (transfer full) */
SpCheck *sp_check_new (void);
/* TRUE: a setting that an attenuator can have, 0 to SP_CHECK_ATTENUATION_DB. */
gboolean sp_check_is_setting (double attenuation_db);
/* One more frequency and setting (NaN: not said), without readings. (transfer none) */
SpCheckAt *sp_check_add_at (SpCheck *check, double frequency_hz, double attenuation_db);
/* A key of [check] that was not set before, or of [at F], as sp_run_set(). */
gboolean sp_check_set (SpCheck *check, const char *key, const char *value, GError **error);
gboolean sp_check_at_set (SpCheckAt *at, const char *key, const char *value, GError **error);
SpCheck *sp_check_ref (const SpCheck *check);
void sp_check_unref (SpCheck *check);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpCheck, sp_check_unref)

/* Reads a file. Required: an [at F] or [at F A] group with level and shows. Errors name file, line, column, group, key: a frequency
 * given twice with one setting ... Ranges: levels -300 to 300 dBm, uncertainties and half-widths 0 to 100 dB, VSWR from 1, attenuation 0 to 200 dB. At
 * most 10,000 places, 10,000 readings in a list. (transfer full) */
SpCheck *sp_check_read (const char *path, GError **error);
/* files FALSE: a VSWR that names a file is an error. (transfer full) */
SpCheck *sp_check_parse (SpKeyFile *file, gboolean files, GError **error);
/* As its file: canonical order, all digits, comments gone, reads back to an equal check. (transfer full) */
char *sp_check_text (const SpCheck *check);
/* The check whose readings a profile keeps (check_text), as the last one taken over; NULL without an error: it keeps none. (transfer full) */
SpCheck *sp_check_of_analyzer (const SpAnalyzer *analyzer, GError **error);
/* Where analyzer= names a file, that profile; else a blank one of that name. (transfer full) */
SpAnalyzer *sp_check_analyzer (const SpCheck *check, GError **error);

/* -- the result -- */

/* Terms of `sum`: "repeatability" "level" "lead" "mismatch" "mismatch-meter" "resolution". */
typedef struct {
  double frequency_hz, attenuation_db;
  double correction_db; /* to be added to what it shows */
  SpRunSum sum;
  double scatter_db; /* experimental standard deviation of one reading; NaN for one */
  double middle_db;  /* 0, or the maker's own correction */
  double stated_db;  /* how far from that accuracy and flatness together let it be */
  gboolean beyond;   /* it is farther */
  gboolean on_curve; /* of the correction's setting */
} SpCheckPoint;

/* What the check leaves of a stated error, standard uncertainties. */
typedef struct {
  const char *term; /* as a budget names it: "accuracy" "flatness" "attenuator-switch" "rbw-switch" "scale" "repeatability" */
  double stated_u_db, left_u_db;
  gboolean assumed; /* nobody stated it */
} SpCheckLeft;

typedef struct {
  guint n;
  SpCheckPoint *points;  /* ascending by frequency, then setting; only those that are complete */
  double attenuation_db; /* the setting that most frequencies were read with: the correction's; NaN: not said */
  SpCurve
      *correction; /* of that setting: value, and half of U as u, so that 2 u is U whatever the degrees of freedom; NULL: no point yet */
  double between_u_db; /* what flatness may add to that midway between two points; 0 for a single one */
  double switch_u_db;  /* of another setting of the attenuator, by what the settings differ; NaN: read with one only */
  guint n_differences; /* its degrees of freedom */
  SpCheckLeft left[6];
  guint n_left;
  double accuracy_db, flatness_db; /* the corridor's two parts, half-widths as stated or assumed */
  GPtrArray *missing;              /* SpReason* RUN_WANTS */
  /* SpReason*: CHECK_BEYOND, CHECK_SETTING, CHECK_SWITCHING, CHECK_BETWEEN, U_ASSUMED, VSWR_ASSUMED, CALIBRATION_OLD; the check's own */
  GPtrArray *warnings;
} SpCheckResult;

/* Never NULL; any check, however unfinished. `day` as in sp_run_result().
 *   correction = known level - loss of the lead - mean of what it shows
 * Type A (JCGM 100, 4.2.3): s/sqrt n, n - 1; a reading that was not repeated has the scatter of all that were, pooled, then SP_RUN_SCATTER_ASSUMED_DB.
 * Type B: the known level's u; the lead's; mismatch of source and analyzer, and of source and meter where meter_vswr is stated (EA-4/02 M S7.6);
 * resolution a/sqrt 3 (JCGM 100, 4.3.7). Dof by Welch-Satterthwaite (JCGM 100, G.4). What is left of the stated errors: core/docs/computation.md,
 * section 4. */
SpCheckResult *sp_check_result (const SpCheck *check, const SpAnalyzer *analyzer, double day);
void sp_check_result_free (SpCheckResult *result);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpCheckResult, sp_check_result_free)

typedef struct {
  double frequency_hz, value_db, low_db, high_db; /* the ends of U */
} SpCheckSample;
/* The curve at n >= 2 frequencies from the first of its points to the last, even in the logarithm, with U as the profile has it between them; of a
 * single point over a decade. */
void sp_check_sample (const SpCheckResult *result, guint n, SpCheckSample *out);

/* The lines of the profile that the check gives, to four decimals: [analyzer], checked, interval_days, amplitude_correction, correction_between_u_db and,
 * where several settings were read and tell more than is stated, attenuator_switch_db. (transfer full) */
char *sp_check_lines (const SpCheck *check, const SpCheckResult *result, const SpAnalyzer *analyzer);
/* The profile with these lines in place of its own, and with the check's readings. (transfer full) */
SpAnalyzer *sp_check_take_over (const SpCheck *check, const SpCheckResult *result, const SpAnalyzer *analyzer, GError **error);
