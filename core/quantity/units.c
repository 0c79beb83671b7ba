/* units.c - conversions between watts, decibels and volts */
#include "core/quantity/units.h"

#include <math.h>

double
sp_dbm_from_watt (double power_w)
{
  return 10 * log10 (power_w) + 30;
}

double
sp_watt_from_dbm (double level_dbm)
{
  return pow (10, (level_dbm - 30) / 10);
}

double
sp_db_from_ratio (double ratio)
{
  return 10 * log10 (ratio);
}

double
sp_ratio_from_db (double db)
{
  return pow (10, db / 10);
}

double
sp_add_powers_dbm (double a_dbm, double b_dbm)
{
  if (isnan (a_dbm) || isnan (b_dbm))
    return NAN;
  /* The greater first: the same bits in either order, and no overflow. */
  double high = MAX (a_dbm, b_dbm), low = MIN (a_dbm, b_dbm);
  if (isinf (high) || low == -INFINITY)
    return high;
  return high + 10 / M_LN10 * log1p (pow (10, (low - high) / 10));
}

double
sp_dbm_from_reading (double reading, SpLevelUnit unit, double scale, double ohm)
{
  switch (unit) {
  case SP_UNIT_DBM: return reading;
  case SP_UNIT_DBMV: return reading + 60 - 90 - 10 * log10 (ohm);
  case SP_UNIT_DBUV: return reading - 90 - 10 * log10 (ohm);
  case SP_UNIT_VOLT: return 20 * log10 (reading * scale) + 30 - 10 * log10 (ohm);
  case SP_UNIT_WATT: return sp_dbm_from_watt (reading * scale);
  default: return NAN;
  }
}

const char *
sp_level_unit_name (SpLevelUnit unit)
{
  static const char *const names[] = { "dBm", "dBmV", "dBuV", "V", "W" };
  return (guint) unit < G_N_ELEMENTS (names) ? names[unit] : NULL;
}

double
sp_reflection_from_vswr (double vswr)
{
  return isinf (vswr) ? 1 : (vswr - 1) / (vswr + 1);
}

double
sp_mismatch_u_db (double m)
{
  return SP_DB_PER_NEPER * m / M_SQRT2;
}

void
sp_mismatch_limits_db (double m, double *plus_db, double *minus_db)
{
  *plus_db = SP_DB_PER_NEPER * log1p (m);
  *minus_db = SP_DB_PER_NEPER * log1p (-m);
}
