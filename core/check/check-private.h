/* check-private.h - what the files of this folder share */
#pragma once

#include "core/check/check.h"

/* All bound what can be meant; the two numbers of rows, time. */
#define SP_CHECK_LEVEL_DBM 300.0 /* greatest level either way */
#define SP_CHECK_U_DB 100.0
#define SP_CHECK_LEAD_LOW_DB (-0.5) /* as a chain's (common practice, no source) */
#define SP_CHECK_LEAD_HIGH_DB 300.0
#define SP_CHECK_PLACES 10000
#define SP_CHECK_READINGS 10000

/* As sp_check_text(), without what no reader asked for. (transfer full) */
char *sp_check_readings (const SpCheck *check);
/* Equal, or both not said. */
gboolean sp_check_same_setting (double a_db, double b_db);

/* The setting of the correction, its curve, and what is left of the stated errors: from the points. */
void sp_check_find_left (SpCheckResult *result, const SpAnalyzer *analyzer);
/* A stated half-width as a limit: what a reading is nearly never beyond. */
double sp_check_limit_db (const SpWidth *width);
