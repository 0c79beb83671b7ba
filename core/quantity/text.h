/* text.h - frequencies, powers, numbers and dates as a person writes them in our files and on the command line
 *
 * A decimal point only, never the locale's mark. The whole text must be used up; leading and trailing blanks are allowed.
 */
#pragma once

#include <glib.h>

/* All bound what can be meant; a number beyond is refused with SP_ERROR_LIMIT, as out of range. */
#define SP_NUMBER_MOST 1e30        /* either way; nor is a number so small that a double holds it with fewer digits */
#define SP_FREQUENCY_LEAST_HZ 1e-6 /* but for 0: a period of eleven days */
#define SP_FREQUENCY_MOST_HZ 1e15  /* green light is 0.6e15 Hz */
#define SP_POWER_LEAST_W 1e-15     /* -120 dBm; no transmitter has so little */
#define SP_POWER_MOST_W 1e9        /* 120 dBm; a thousand times the strongest broadcaster's */

/* "146.52MHz", "146.52 MHz", "1e6", "9kHz", "3GHz", "0": Hz. A bare number is Hz. Prefixes k M G (K too); "Hz" in any case.
 * 0, or from SP_FREQUENCY_LEAST_HZ to _MOST_HZ; else FALSE and `error` (SP_ERROR_USAGE, SP_ERROR_LIMIT where it is out of range; one sentence without
 * a place: the caller knows it). */
gboolean sp_parse_frequency (const char *text, double *frequency_hz, GError **error);

/* "5W", "500mW", "25uW", "1.5kW", "37dBm": W (> 0). A bare number is W. Prefixes n u m k, W and m in any case. */
gboolean sp_parse_power (const char *text, double *power_w, GError **error);

/* A decimal number within SP_NUMBER_MOST, e.g. "-12.5", "1e-3"; no hex, no "nan", no "inf". */
gboolean sp_parse_number (const char *text, double *number, GError **error);

/* "2026-09-12" to a Julian day (GDate); a date that does not exist is an error. */
gboolean sp_parse_date (const char *text, guint32 *julian_day, GError **error);

/* Shortest of "%.15g", "%.16g", "%.17g" that reads back equal. `buffer` of at least 32 bytes; returns it. */
const char *sp_format_exact (double number, char *buffer);
/* The same for people, without an exponent from 1e-12 to 1e15: "0.000000001". */
const char *sp_format_written (double number, char *buffer);

/* "146.52 MHz" with as many digits as are needed to tell `resolution_hz` apart (0: six significant); decimal point.
 * For files, JSON and reasons; screens localize on their own. (transfer full) */
char *sp_format_frequency (double frequency_hz, double resolution_hz);

/* A path or name from our files: %3F %26 %3B %23 %25 %20 (any %XX) decoded; a bad escape, and %00, is kept as it is. (transfer full) */
char *sp_unescape (const char *text);
/* The reverse: `? & ; # %`, double quotes, brackets, blanks, control characters and what is not UTF-8 are written as %XX, so that it always comes back. (transfer full) */
char *sp_escape (const char *text);

/* Lines in a value of one line: `\n` ends one, `\\` is a backslash. (transfer full) */
char *sp_unfold_lines (const char *value);
char *sp_fold_lines (const char *lines);

/* What stands in a file, for a message: at most 40 characters, cleaned. (transfer full) */
char *sp_excerpt (const char *text);
/* The same of a file that is none of ours, and may be anything: enough to know it by. At most 8 characters. (transfer full) */
char *sp_excerpt_foreign (const char *text);
/* Of a path the end: at most 120 characters. (transfer full) */
char *sp_excerpt_path (const char *path);

/* A name in a heading: as people write it, blanks and all, but for what the reader would take for something else. (transfer full) */
char *sp_escape_heading (const char *name);
