/* sample.c - a stage's loss as a picture of it needs it */
#include "tests/suite.h"

#include "core/chain/sample.h"

#include <string.h>

static SpChain *
chain_of (const char *stage)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *text = g_strconcat ("[chain]\nstages=one\n[stage one]\nkind=pad\n", stage, NULL);
  g_autoptr (SpKeyFile) file = sp_key_file_parse (text, strlen (text), "t.chain", &error);
  sp_no_error (error);
  SpChain *chain = sp_chain_parse (file, &error);
  sp_no_error (error);
  return chain;
}

START_TEST (samples_are_the_stages_loss)
{
  g_autoptr (SpChain) chain = chain_of ("label_db=30\npoints=10MHz 30.1 0.05; 100MHz 30.3 0.05; 1GHz 30.2 0.08\nconnector_u_db=0.02\n");
  const double frequency_hz[] = { 10e6, 50e6, 1e9, 2e9 };
  SpStageSample s[4];
  sp_stage_sample (chain, 0, 4, frequency_hz, s);
  for (guint i = 0; i < 4; i++) {
    SpStageLoss loss = sp_stage_loss (chain, 0, frequency_hz[i], NAN, 0);
    ck_assert_double_eq (s[i].loss_db, loss.loss_db);
    ck_assert_double_eq (s[i].u_db, loss.u_db);
    ck_assert_double_eq (s[i].expanded_db, 2 * loss.u_db);
    ck_assert_double_eq (s[i].low_db, loss.loss_db - 2 * loss.u_db);
    ck_assert_double_eq (s[i].high_db, loss.loss_db + 2 * loss.u_db);
    ck_assert_double_eq_tol (s[i].off_label_db, loss.loss_db - 30, 1e-12);
    ck_assert_int_eq (s[i].calibrated, frequency_hz[i] <= 1e9);
  }
  ck_assert_int_eq (sp_stage_sample_furthest (3, s), 1); /* 50 MHz, 0.24 dB; the ends 0.1 and 0.2 */
}
END_TEST

START_TEST (without_a_label_none_is_furthest)
{
  g_autoptr (SpChain) chain = chain_of ("points=10MHz 30.1 0.05; 1GHz 30.2 0.08\n");
  const double frequency_hz[] = { 10e6, 1e9 };
  SpStageSample s[2];
  sp_stage_sample (chain, 0, 2, frequency_hz, s);
  ck_assert (isnan (s[0].off_label_db));
  ck_assert_int_eq (sp_stage_sample_furthest (2, s), -1);
}
END_TEST

START_TEST (spans)
{
  static const struct {
    const char *stage;
    double low, high;
  } cases[] = {
    { "points=10MHz 1 .1; 1GHz 2 .1\n", 10e6, 1e9 },
    { "label_db=3\nlabel_tolerance_db=0.3\nspan=0 3GHz\n", 1e6, 3e9 },
    { "label_db=3\nlabel_tolerance_db=0.3\nspan=100MHz 200MHz\n", 100e6, 200e6 },
    { "label_db=3\n", 1e6, 3e9 },
    { "points=100MHz 1 .1\n", 80e6, 125e6 },
    { "label_db=3\nlabel_tolerance_db=0.3\nspan=0 100kHz\n", 100, 100e3 },
  };
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
    g_autoptr (SpChain) chain = chain_of (cases[i].stage);
    double low, high, grid[11];
    sp_stage_sample_span (chain, 0, &low, &high);
    ck_assert_double_eq_tol (low, cases[i].low, 1e-6);
    ck_assert_double_eq_tol (high, cases[i].high, 1e-6);
    sp_stage_sample_grid (low, high, 11, grid);
    ck_assert_double_eq (grid[0], low);
    ck_assert_double_eq (grid[10], high);
    for (guint k = 1; k < 11; k++)
      ck_assert_double_eq_tol (grid[k] / grid[k - 1], pow (high / low, 0.1), 1e-9);
  }
}
END_TEST

START_TEST (one_more_point_lies_between)
{
  g_autoptr (SpChain) chain = chain_of ("points=150MHz 1 .1; 300MHz 2 .1; 301MHz 2 .1; 301.0001MHz 2 .1\n");
  static const struct {
    int after;
    double hz;
  } cases[] = { { 0, 212e6 }, { 1, 300.5e6 }, { 2, 301.00005e6 }, { 3, 426e6 }, { -1, 426e6 }, { 9, 426e6 } };
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
    double hz;
    sp_stage_sample_between (chain, 0, cases[i].after, &hz);
    ck_assert_double_eq_tol (hz, cases[i].hz, 1);
  }
  g_autoptr (SpChain) bare = chain_of ("label_db=3\n");
  double hz;
  sp_stage_sample_between (bare, 0, -1, &hz);
  ck_assert_double_eq (hz, 100e6);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("sample");
  TCase *t = tcase_create ("sample");
  tcase_add_test (t, samples_are_the_stages_loss);
  tcase_add_test (t, without_a_label_none_is_furthest);
  tcase_add_test (t, spans);
  tcase_add_test (t, one_more_point_lies_between);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
