/* Levels, powers, voltages and mismatch against published and calculated values. */
#include "core/quantity/text.h"
#include "core/quantity/units.h"
#include "tests/suite.h"

#define EXACT "calculated: 10 lg(P/1 mW)"

START_TEST (dbm_and_watt)
{
  static const struct {
    double watt, dbm;
  } rows[] = {
    { 50e-3, 16.9897 },  { 2.5e-3, 3.9794 }, { 25e-6, -16.0206 }, { 10e-6, -20 },    { 1e-6, -30 },  { 0.25e-6, -36.0206 },
    { 20e-9, -46.9897 }, { 4e-9, -53.9794 }, { 2e-9, -56.9897 },  { 0.05, 16.9897 }, { 0.1, 20 },    { 0.2, 23.0103 },
    { 0.25, 23.9794 },   { 0.5, 26.9897 },   { 1, 30 },           { 5, 36.9897 },    { 8, 39.0309 }, { 25, 43.9794 },
    { 25.001, 43.9796 }, { 50, 46.9897 },    { 100, 50 },         { 1500, 61.7609 },
  };
  static const struct {
    double dbm, watt, last_digit;
  } back[] = {
    { -13, 50.1187e-6, 5e-11 },  { -23, 5.0119e-6, 5e-11 },  { -25, 3.1623e-6, 5e-11 },
    { -36, 0.251189e-6, 5e-13 }, { -47, 19.9526e-9, 5e-14 }, { -57, 1.99526e-9, 5e-15 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    sp_outside ("dBm of a power", EXACT, sp_dbm_from_watt (rows[i].watt), rows[i].dbm, 5e-5);
    sp_outside ("power and back", "calculated: identity", sp_watt_from_dbm (sp_dbm_from_watt (rows[i].watt)) / rows[i].watt, 1, 1e-12);
  }
  for (guint i = 0; i < G_N_ELEMENTS (back); i++)
    sp_outside ("power of a level", EXACT, sp_watt_from_dbm (back[i].dbm), back[i].watt, back[i].last_digit);
}
END_TEST

START_TEST (power_text)
{
  static const struct {
    const char *text;
    double watt;
  } rows[] = { { "25uW", 25e-6 }, { "20 nW", 20e-9 }, { "1.5kW", 1500 }, { "37dBm", 5.011872336272722 } };
  double watt;

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    ck_assert (sp_parse_power (rows[i].text, &watt, NULL));
    sp_outside ("power as text", "calculated: SI prefixes, 10^((L-30)/10)", watt / rows[i].watt, 1, 1e-12);
  }
}
END_TEST

START_TEST (voltages)
{
  sp_outside ("0 dBm at 50 ohm in dBuV", "calculated: 90 + 10 lg 50", -sp_dbm_from_reading (0, SP_UNIT_DBUV, 1, 50), 106.98970004336019,
              1e-9);
  sp_outside ("0 dBm at 50 ohm in dBmV", "calculated: 30 + 10 lg 50", -sp_dbm_from_reading (0, SP_UNIT_DBMV, 1, 50), 46.98970004336019,
              1e-9);
  sp_outside ("0 dBm at 75 ohm in dBuV", "calculated: 90 + 10 lg 75", -sp_dbm_from_reading (0, SP_UNIT_DBUV, 1, 75), 108.75061263391700,
              1e-9);
  sp_outside ("0 dBm at 50 ohm in mV", "calculated: sqrt(1 mW x 50 ohm) = 223.6068 mV",
              sp_dbm_from_reading (223.60679774997897, SP_UNIT_VOLT, 1e-3, 50), 0, 1e-9);
  sp_outside ("1 V at 50 ohm", "calculated: 1 V^2 / 50 ohm = 20 mW", sp_dbm_from_reading (1, SP_UNIT_VOLT, 1, 50), 13.010299956639813,
              1e-9);
  sp_outside ("2 mW", EXACT, sp_dbm_from_reading (2, SP_UNIT_WATT, 1e-3, 50), 3.0102999566398120, 1e-9);
}
END_TEST

START_TEST (sums)
{
  static const struct {
    double below, over;
  } rows[] = {
    { 0, 3.0103 }, { 1, 2.5390 }, { 3, 1.7643 }, { 6, .9732 },  { 10, .4139 },
    { 12, .2657 }, { 15, .1352 }, { 18, .0683 }, { 20, .0432 }, { 40, .0004 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    sp_outside ("sum of two powers", "calculated: 10 lg(1 + 10^(-d/10))", sp_add_powers_dbm (-30, -30 - rows[i].below) + 30, rows[i].over,
                5e-5);
  sp_outside ("noise and distortion equal", "calculated: two equal powers, 10 lg 2", sp_add_powers_dbm (-72.5, -72.5), -69.4897, 5e-5);
}
END_TEST

START_TEST (reflection)
{
  static const struct {
    double swr, g, return_loss, mismatch_loss;
  } rows[] = {
    { 1.05, .02439, 32.256, .0026 }, { 1.10, .04762, 26.444, .0099 }, { 1.15, .06977, 23.127, .0212 }, { 1.20, .09091, 20.828, .0360 },
    { 1.25, .11111, 19.085, .0540 }, { 1.30, .13043, 17.692, .0745 }, { 1.40, .16667, 15.563, .1223 }, { 1.50, .20000, 13.979, .1773 },
    { 1.70, .25926, 11.725, .3022 }, { 2.00, .33333, 9.542, .5115 },  { 2.50, .42857, 7.360, .8814 },  { 3.00, .50000, 6.021, 1.2494 },
    { 5.00, .66667, 3.522, 2.5527 },
  };
  static const struct {
    double swr, rho;
  } sheet[] = { { 1.05, .02 }, { 1.10, .05 }, { 1.20, .09 }, { 1.50, .20 }, { 2.00, .33 }, { 3.00, .50 } };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    double g = sp_reflection_from_vswr (rows[i].swr);
    sp_outside ("reflection", "calculated: (s-1)/(s+1)", g, rows[i].g, 5e-6);
    sp_outside ("return loss", "calculated: -20 lg|G|", -sp_db_from_ratio (g * g), rows[i].return_loss, 5e-4);
    sp_outside ("mismatch loss", "calculated: -10 lg(1-|G|^2)", -sp_db_from_ratio (1 - g * g), rows[i].mismatch_loss, 5e-5);
  }
  for (guint i = 0; i < G_N_ELEMENTS (sheet); i++)
    sp_outside ("reflection", "calculated: (s-1)/(s+1), to two digits", sp_reflection_from_vswr (sheet[i].swr), sheet[i].rho, 5e-3);
}
END_TEST

START_TEST (mismatch)
{
  static const struct {
    double a, b, m, plus, minus, u;
  } rows[] = {
    { 1.05, 1.05, .000595, .0052, -.0052, .0037 }, { 1.2, 1.4, .015152, .1306, -.1326, .0931 },
    { 1.5, 1.2, .018182, .1565, -.1594, .1117 },   { 2.0, 1.2, .030303, .2593, -.2673, .1861 },
    { 1.5, 1.5, .040000, .3407, -.3546, .2457 },   { 2.0, 1.5, .066667, .5606, -.5993, .4095 },
    { 2.0, 2.0, .111111, .9151, -1.0231, .6824 },  { 3.0, 2.0, .166667, 1.3389, -1.5836, 1.0236 },
  };
  double plus, minus;

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    double m = sp_reflection_from_vswr (rows[i].a) * sp_reflection_from_vswr (rows[i].b);
    sp_mismatch_limits_db (m, &plus, &minus);
    sp_outside ("|G1||G2|", "calculated: product of (s-1)/(s+1)", m, rows[i].m, 5e-7);
    sp_outside ("mismatch, upper limit", "calculated: 20 lg(1+m)", plus, rows[i].plus, 5e-5);
    sp_outside ("mismatch, lower limit", "calculated: 20 lg(1-m)", minus, rows[i].minus, 5e-5);
    sp_outside ("mismatch, u", "calculated: 8.686 m/sqrt 2 (EA-4/02 S7.6; Harris and Warner 1981)", sp_mismatch_u_db (m), rows[i].u, 5e-5);
  }
  sp_mismatch_limits_db (sp_reflection_from_vswr (1.2) * sp_reflection_from_vswr (1.4), &plus, &minus);
  sp_outside ("mismatch of SWR 1.2 and 1.4, +", "calculated: 20 lg(1 +- m), to two digits", plus, .13, 5e-3);
  sp_outside ("mismatch of SWR 1.2 and 1.4, -", "calculated: 20 lg(1 +- m), to two digits", minus, -.13, 5e-3);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("outside/quantity");
  TCase *tests = tcase_create ("units");

  tcase_add_test (tests, dbm_and_watt);
  tcase_add_test (tests, power_text);
  tcase_add_test (tests, voltages);
  tcase_add_test (tests, sums);
  tcase_add_test (tests, reflection);
  tcase_add_test (tests, mismatch);
  suite_add_tcase (s, tests);
  return s;
}

SP_MAIN (suite)
