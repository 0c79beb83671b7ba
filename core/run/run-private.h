/* run-private.h - what the files of this folder share */
#pragma once

#include "core/run/run.h"

/* All bound what can be meant; the two numbers of rows, time. */
#define SP_RUN_READING_DB 300.0 /* greatest reading either way */
#define SP_RUN_MINUTES 1e6
#define SP_RUN_U_DB 100.0
#define SP_RUN_LOSS_LOW_DB (-0.5) /* as a chain's (common practice, no source) */
#define SP_RUN_LOSS_HIGH_DB 300.0
#define SP_RUN_FREQUENCIES 10000
#define SP_RUN_READINGS 10000

/* Where the readings' times are bad; NULL: all timed in order, or none timed. */
typedef struct {
  const GArray *list;
  guint index;
  gboolean untimed;
} SpRunTimes;
gboolean sp_run_times_good (const SpRunAt *at, SpRunTimes *bad);

/* Reads a list of readings (sp_keys_read); one that has a format is needed. */
gboolean sp_run_read_readings (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, gpointer context, GError **error);

/* All warnings but those of one frequency's readings. */
void sp_run_warn (const SpRun *run, double day, GPtrArray *warnings);
/* The warnings of one frequency's readings. */
void sp_run_warn_at (const SpRun *run, const SpRunAt *at, GPtrArray *warnings);

/* A straight line through one frequency's repeats. */
typedef struct {
  double frequency_hz, slope, change_db; /* dB a minute, and from the first to the last */
  double spread;    /* root of the sum of the squares of the times about their mean: slope * spread has the readings' own u */
  double rest, dof; /* squares about the line; n - 2 */
} SpRunLine;
/* loss_db[i] was read at minutes[i]. FALSE: fewer than three, or all at once. */
gboolean sp_run_line (guint n, const double *loss_db, const double *minutes, SpRunLine *line);
/* `lines`: GArray of SpRunLine, one for each frequency that has one. */
void sp_run_warn_wander (const SpRun *run, const GArray *lines, GPtrArray *warnings);
