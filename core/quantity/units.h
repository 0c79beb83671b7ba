/* units.h - levels, powers and what a plane of 50 ohm makes of them
 *
 * Levels are dBm unless the name says otherwise; a power ratio in dB is 10 lg. NaN in gives NaN out.
 * Source: ISO 80000-3 / IEC 60027-3 (level of a power quantity); the rest is arithmetic.
 */
#pragma once

#include <glib.h>

#define SP_LN10_OVER_10 0.23025850929940456840 /* ln(10)/10; calculated */
#define SP_DB_PER_NEPER 8.6858896380650365530  /* 20/ln(10); calculated */

/* Power in W (> 0) to dBm: 10 lg(P / 1 mW). 0 W gives -infinity. */
double sp_dbm_from_watt (double power_w);
double sp_watt_from_dbm (double level_dbm);

/* A ratio of powers to dB and back. */
double sp_db_from_ratio (double ratio);
double sp_ratio_from_db (double db);

/* Sum of two powers given as levels; -infinity is no power at all. Commutative to the last bit. */
double sp_add_powers_dbm (double a_dbm, double b_dbm);

typedef enum { SP_UNIT_DBM, SP_UNIT_DBMV, SP_UNIT_DBUV, SP_UNIT_VOLT, SP_UNIT_WATT } SpLevelUnit;

/* Reading -> dBm. `scale` is the SI prefix's factor for V and W (1e-3 for mW, mV; 1 for the dB units).
 * Voltages are rms across `ohm` (50 or 75): dBm = dBuV - 90 - 10 lg(ohm); at 50 ohm 0 dBm is 106.9897 dBuV.
 * A negative or zero V or W gives NaN or -infinity: the caller reports it. */
double sp_dbm_from_reading (double reading, SpLevelUnit unit, double scale, double ohm);

/* "dBm", "dBmV", "dBuV", "V", "W": ASCII. */
const char *sp_level_unit_name (SpLevelUnit unit);

/* Reflection and standing-wave ratio, |G| = (s - 1)/(s + 1); s >= 1, infinity gives 1. */
double sp_reflection_from_vswr (double vswr);
/* Standard uncertainty in dB of the mismatch between two facing reflections whose magnitudes are known and whose phase is not:
 * U-shaped, u = 8.686 m / sqrt 2, m = |G1||G2| (EA-4/02 S7.6; Harris and Warner 1981). */
double sp_mismatch_u_db (double m);
/* The mismatch's limits: 20 lg(1 + m) and 20 lg(1 - m) (core/docs/metrology.md, section 3). */
void sp_mismatch_limits_db (double m, double *plus_db, double *minus_db);
