/* trace.h - a trace: the points of one exported sweep and the settings it was taken with, never altered
 *
 * Immutable, reference counted, readable from any thread. Read by core/trace/read/read.h.
 */
#pragma once

#include "core/quantity/reason.h"
#include "core/quantity/units.h"

typedef enum {
  SP_DETECTOR_UNKNOWN,
  SP_DETECTOR_PEAK,
  SP_DETECTOR_SAMPLE,
  SP_DETECTOR_RMS,
  SP_DETECTOR_AVERAGE, /* average over the bucket; SpAverage says of what (none: nobody knows, the worst counts) */
  SP_DETECTOR_NEGATIVE,
  SP_DETECTOR_NORMAL, /* alternating greatest and least */
  SP_DETECTOR_QUASI_PEAK
} SpDetector;

typedef enum { SP_AVERAGE_NONE, SP_AVERAGE_POWER, SP_AVERAGE_LOG, SP_AVERAGE_VOLTAGE } SpAverage;
typedef enum { SP_HOLD_NONE, SP_HOLD_MAX, SP_HOLD_MIN } SpHold;

/* The words of files (core/docs/files.md, section 7): "peak" "sample" "rms" "average" "negative" "normal" "quasi-peak", NULL for unknown;
 * "none" "power" ... */
const char *sp_detector_name (SpDetector detector);
const char *sp_average_name (SpAverage average);

/* NaN where the export does not say; else within core/trace/limits.h. */
typedef struct {
  double rbw_hz, vbw_hz; /* above 0 */
  double attenuation_db; /* the analyzer's own, already allowed for in the readings */
  double reference_dbm;
  double sweep_time_s; /* above 0 */
  SpDetector detector;
  SpAverage average;
  double averages; /* number of sweeps averaged or held, >= 1; NaN */
  SpHold hold;
} SpSettings;

typedef struct {
  char *file;                 /* as it was named: path without the options */
  char *column;               /* header or number of the level column read */
  guint64 n;                  /* >= 2 */
  const double *frequency_hz; /* n, strictly ascending, 0 to SP_LIMIT_FREQUENCY_HZ */
  const double *reading_dbm;  /* n, dBm at the analyzer's input, within SP_LIMIT_LEVEL_DBM either way */
  SpLevelUnit unit_read;
  double unit_scale; /* 1e-3 for mW, mV */
  SpSettings settings;
  guint64 skipped_lines;
  GArray *skipped;     /* of guint64: their numbers, from 1, the first SP_LIMIT_SKIPPED_LISTED; NULL if none */
  GPtrArray *warnings; /* of SpReason* */
  GBytes *raw;         /* the file's bytes; NULL only in tests */
  char *options;       /* canonical text of the options it was read with ("rbw=10000&unit=dBm"), "" for none */
} SpTrace;

/* What FILE?key=value&... says; zero or NULL or NaN for what is not given. */
typedef struct {
  SpSettings settings; /* given values win over the file's; average_given and hold_given tell 'none' from absent */
  gboolean average_given, hold_given;
  double start_hz, stop_hz; /* from start= stop= or center= span=; NaN */
  int unit;                 /* SpLevelUnit, -1 not given */
  double unit_scale;        /* with unit: 1e-3 for mW */
  double frequency_unit_hz; /* of a frequency column and of bare numbers: 1, 1e3, 1e6, 1e9; 0 not given */
  char decimal;             /* '.' ',' or 0 */
  char delimiter;           /* ',' ';' '\t' ' ' or 0 */
  int format;               /* SpBlockFormat, 0 not given */
  gboolean little_endian;
  char *column;           /* number from 1 among the file's columns, or a header's text: of the levels */
  char *frequency_column; /* the same, of the frequencies */
  guint table;            /* number from 1 among tables that stand one below the other; 0 not given */
  double from_hz, to_hz;  /* only the points from here to there count, ends included; NaN: all */
  gboolean skip_bad;
  gboolean pipe; /* the user himself named the file on the command line: a pipe will do. Of no text */
} SpTraceOptions;

typedef enum { SP_BLOCK_NONE, SP_BLOCK_REAL32, SP_BLOCK_REAL64, SP_BLOCK_ASCII } SpBlockFormat;

void sp_trace_options_init (SpTraceOptions *options);
void sp_trace_options_clear (SpTraceOptions *options);
/* Splits "FILE?rbw=10kHz&attenuation=20" into the decoded file name (*path, transfer full) and options. An unknown option, a value
 * that is not understood, or one given twice is an error (SP_ERROR_USAGE) that names it and what was expected. */
gboolean sp_trace_options_parse (const char *reference, char **path, SpTraceOptions *options, GError **error);
/* The same of a word on the command line: where a file has the whole word as its name, that file without options. It may be a pipe. */
gboolean sp_trace_operand_parse (const char *word, char **path, SpTraceOptions *options, GError **error);

/* The options as text that parses to the same: "rbw=10000&unit=mW", in a fixed order; "" for none. (transfer full) */
char *sp_trace_options_text (const SpTraceOptions *options);
/* The same from the text behind the question mark alone: "rbw=10kHz&attenuation=20"; "" for none. */
gboolean sp_trace_options_from_text (const char *text, SpTraceOptions *options, GError **error);
/* One key of such a text: what it says (NULL: nothing; transfer full), and the text with it said otherwise, value NULL or "": taken out.
 * The text is canonical then; NULL and an error where it would not be understood. (transfer full) */
char *sp_trace_options_get (const char *text, const char *key);
char *sp_trace_options_set (const char *text, const char *key, const char *value, GError **error);

/* A trace from arrays (copied), for simulation and tests; the same rules for points and settings. `settings` NULL: all unknown. (transfer full) */
SpTrace *sp_trace_new (const char *name, guint64 n, const double *frequency_hz, const double *level_dbm, const SpSettings *settings,
                       GError **error);

/* SHA-256 of the raw bytes (of the levels where there are none), 64 lower-case hex digits. Worked out when it is first asked for: it takes
 * longer than the reading. From any thread. */
const char *sp_trace_sha256 (const SpTrace *trace);
/* The same, told from another trace of the very same raw bytes (compared by pointer, else nothing is done): columns of one file are hashed
 * once. */
void sp_trace_share_sha256 (const SpTrace *known, const SpTrace *trace);

SpTrace *sp_trace_ref (const SpTrace *trace);
void sp_trace_unref (SpTrace *trace);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpTrace, sp_trace_unref)

/* Where the spacing of the points jumps, by a factor of two and more, spans were exported one behind the other, and nothing says that they were
 * taken alike: each is a trace of its own, of the same file, its options naming its points with from= and to=. The point where two meet is
 * in both. NULL: there is but one. Found once, kept with the trace. From any thread. (transfer none), of SpTrace* */
GPtrArray *sp_trace_stretches (const SpTrace *trace);
/* The trace is but the first of its stretches: the others lie beyond its points. */
gboolean sp_trace_is_first_stretch (const SpTrace *trace);

/* Greatest distance in Hz between neighbouring points over the intervals that [from, to] touches, at least one. */
double sp_trace_spacing_hz (const SpTrace *trace, double from_hz, double to_hz);
/* Index of the first point with frequency >= f; n if none. */
guint64 sp_trace_find (const SpTrace *trace, double frequency_hz);

void sp_settings_init (SpSettings *settings); /* everything unknown */
