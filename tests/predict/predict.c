/* predict.c - a carrier's effects by the profile: phase noise, skirt, what the floor is made of, and which neighbour hides a harmonic */
#include "core/predict/predict.h"
#include "tests/suite.h"

#include <math.h>
#include <string.h>

static SpAnalyzer *
profile (void)
{
  GError *error = NULL;
  const char *text = "[analyzer]\nname=A\nphase_noise_dbc_hz=10kHz -90; 100kHz -110\n";
  g_autoptr (SpKeyFile) file = sp_key_file_parse (text, strlen (text), "a.analyzer", &error);
  sp_no_error (error);
  SpAnalyzer *analyzer = sp_analyzer_parse (file, &error);
  sp_no_error (error);
  return analyzer;
}

/* Carrier + L + 10 lg NBW: 0 dBm, -90 dBc/Hz, 1 kHz; constant beyond the table's ends. */
START_TEST (phase_noise_is_carrier_and_table_and_bandwidth)
{
  g_autoptr (SpAnalyzer) analyzer = profile ();
  ck_assert_double_eq_tol (sp_predict_phase_noise_dbm (analyzer, 0, 10e3, 1e3), -60, 1e-9);
  ck_assert_double_eq_tol (sp_predict_phase_noise_dbm (analyzer, 20, 1e6, 10), -80, 1e-9);
  ck_assert_double_eq_tol (sp_predict_phase_noise_dbm (analyzer, 0, 1e3, 1), -90, 1e-9);
}
END_TEST

/* A vertex is fitted to a tenth of the spacing where points lie within the RBW, else the line is anywhere in half of it. */
START_TEST (a_lines_frequency_is_known_to_the_spacing)
{
  ck_assert_double_eq_tol (sp_predict_line_half_hz (SP_DETECTOR_SAMPLE, 100, 1000), 10, 1e-9);
  ck_assert_double_eq_tol (sp_predict_line_half_hz (SP_DETECTOR_SAMPLE, 2000, 1000), 1000, 1e-9);
  ck_assert_double_eq_tol (sp_predict_line_half_hz (SP_DETECTOR_PEAK, 100, 1000), 50, 1e-9);
  ck_assert_double_eq_tol (sp_predict_line_half_hz (SP_DETECTOR_NORMAL, 100, 1000), 150, 1e-9); /* as judging has it (section 7) */
  ck_assert_double_eq_tol (sp_predict_line_half_hz (SP_DETECTOR_UNKNOWN, 100, 1000), 150, 1e-9);
}
END_TEST

/* The floor is their sum in amplitude with the product, at least as high as each, and its cause the largest. */
START_TEST (the_floor_names_its_largest_part)
{
  static const struct {
    double detection_dbm, skirt_dbm, product_dbm;
    gboolean by_phase_noise;
    SpFloorCause cause;
  } rows[] = {
    { -80, -INFINITY, NAN, FALSE, SP_CAUSE_NOISE },
    { -80, -INFINITY, NAN, TRUE, SP_CAUSE_PHASE_NOISE },
    { -80, -60, NAN, FALSE, SP_CAUSE_SKIRT },
    { -80, -90, -70, FALSE, SP_CAUSE_PRODUCT },
  };
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    SpFloorCause cause;
    double floor = sp_floor_dbm (rows[i].detection_dbm, rows[i].by_phase_noise, rows[i].skirt_dbm, rows[i].product_dbm, &cause);
    ck_assert_int_eq (cause, rows[i].cause);
    ck_assert_double_ge (floor, fmax (fmax (rows[i].detection_dbm, rows[i].skirt_dbm), rows[i].product_dbm));
  }
}
END_TEST

/* 10 MHz, its second harmonic: an RBW of 1 kHz separates all; of 3 MHz the carrier reads in the window. Zero hertz ends at 19 MHz: it does. */
START_TEST (a_neighbour_in_the_window_is_named)
{
  guint other = 99;
  ck_assert (!sp_is_unresolved (2, 10e6, 1e3, 1e3, 0, 0, &other));
  ck_assert (sp_is_unresolved (2, 10e6, 3e6, 1e3, 0, 0, &other));
  ck_assert_uint_eq (other, 1);
  ck_assert (sp_is_unresolved (2, 10e6, 1e3, 1e3, 0, 20e6, &other));
  ck_assert_uint_eq (other, 0);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("predict");
  TCase *t = tcase_create ("predict");
  tcase_add_test (t, phase_noise_is_carrier_and_table_and_bandwidth);
  tcase_add_test (t, a_lines_frequency_is_known_to_the_spacing);
  tcase_add_test (t, the_floor_names_its_largest_part);
  tcase_add_test (t, a_neighbour_in_the_window_is_named);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
