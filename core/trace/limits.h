/* limits.h - how much a reader of traces accepts, and why; files come from strangers
 *
 * Beyond a limit a reader refuses with SP_ERROR_LIMIT, names the limit and stops: bounded time, bounded memory.
 */
#pragma once

#include <glib.h>

#include "core/quantity/text.h"

/* All bound what can be meant: beyond these a number is a misread column, a time stamp, or a wrong unit. */
#define SP_LIMIT_FREQUENCY_HZ SP_FREQUENCY_MOST_HZ
#define SP_LIMIT_LEAST_HZ SP_FREQUENCY_LEAST_HZ /* but for 0 */
#define SP_LIMIT_LEVEL_DBM 400.0                /* either way: noise in 1 Hz at 290 K is -174 dBm, the Sun radiates 296 dBm */
#define SP_LIMIT_ATTENUATION_DB 200.0           /* either way: an amplifier's is negative */
#define SP_LIMIT_REFERENCE_DBM 1000.0           /* either way */
#define SP_LIMIT_AVERAGES 1e9
#define SP_LIMIT_SWEEP_S 1e9 /* thirty years */

/* All bound memory and time. */
#define SP_LIMIT_FILE_BYTES ((gsize) 1 << 30) /* 1 GiB: ten million points at 100 characters a line */
#define SP_LIMIT_POINTS ((guint64) 10000000)  /* 10 million: a thousand points a MHz over 10 GHz; 160 MB as doubles */
#define SP_LIMIT_VALUES ((guint64) 40000000)  /* levels of all columns of a file together: 320 MB as doubles */
#define SP_LIMIT_LINE_BYTES ((gsize) 1 << 20) /* 1 MiB: SP_LIMIT_COLUMNS fields of 4096 characters; longer is not a table */
#define SP_LIMIT_COLUMNS 256                  /* traces on one screen are ten at most; beyond that the delimiter is misread */
#define SP_LIMIT_PREAMBLE_LINES 100000        /* a second's work to look through; no preamble comes near it */
#define SP_LIMIT_NUMBER_BYTES 400             /* the longest exact decimal of a double has 767 digits; nobody prints half of that */
#define SP_LIMIT_PREAMBLE_WARNINGS 100        /* settings not understood, listed of one preamble: nobody reads more */
#define SP_LIMIT_QUOTED_LINES 1000            /* lines that one quoted field may run over: an unclosed quote is found early */
#define SP_LIMIT_STRETCHES 64                 /* of one trace by their spacing; what jumps more often is a list of points, no spans */
#define SP_LIMIT_TABLES 1000                  /* one below the other in a file; each is a trace or more, kept with its settings */

/* All bound time or memory: bytes read again where a file of several traces has bad lines, and each column is read alone, as one file of the greatest
 * length (a table has its cost however short it is); line numbers kept of lines that ?bad=skip left out (all are counted). */
#define SP_LIMIT_AGAIN_BYTES SP_LIMIT_FILE_BYTES
#define SP_LIMIT_AGAIN_TABLE ((gsize) 1 << 16)
#define SP_LIMIT_SKIPPED_LISTED 1000

G_STATIC_ASSERT (SP_LIMIT_POINTS <= SP_LIMIT_VALUES);
G_STATIC_ASSERT (SP_LIMIT_LINE_BYTES >= SP_LIMIT_COLUMNS * SP_LIMIT_NUMBER_BYTES);
