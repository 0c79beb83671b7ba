/* The chain's arithmetic against published sums, tables and an independent simulation. */
#include <complex.h>

#include "tests/chain/bench.h"

/* EA-4/02 S7: the budget's terms as stages that reflect nothing: chain->loss is their sum, u the root of the sum of squares. */
START_TEST (sum_of_a_published_budget)
{
  static const double x[9] = { 30.040, 0.003 }, u[9] = { .0090, .0025, .0011, .0200, .0017, .0003, .0003, .0019, .0020 };
  g_autoptr (GString) text = g_string_new ("[chain]\nstages=t0;t1;t2;t3;t4;t5;t6;t7;t8\n");
  for (int i = 0; i < 9; i++)
    g_string_append_printf (text, "[stage t%d]\nkind=pad\nvswr=1\npoints=10GHz %g %g\n", i, x[i], u[i]);
  g_autoptr (SpChain) chain = chain_from (text->str);
  SpChainLoss loss = sp_chain_loss (chain, 10e9, NAN, 0, NULL);
  sp_outside ("attenuator's loss, sum of the budget", "EA-4/02 M:2022 S7", loss.loss_db, 30.043, 5e-4);
  sp_outside ("attenuator's u, root of the sum of squares", "EA-4/02 M:2022 S7", loss.u_db, 0.0224, 1e-4);
  sp_outside ("the same", "calculated: RSS of the nine printed terms", loss.u_db, 0.0223414, 5e-8);
}
END_TEST

static SpChain *
one_two_port (const char *folder, double s11, double s21, double s22)
{
  g_autofree char *text = g_strdup_printf ("# GHz S MA R 50\n10 %.17g 0 %.17g 0 %.17g 0 %.17g 0\n", s11, s21, s21, s22),
                  *s2p = put_file (folder, "a.s2p", text),
                  *path = put_file (folder, "a.chain", "[chain]\nstages=a\n[stage a]\nkind=pad\ntouchstone=a.s2p\nu_db=0.01\n");
  g_autoptr (GError) error = NULL;
  SpChain *chain = sp_chain_read (path, &error);
  sp_no_error (error);
  return chain;
}

/* EA-4/02 S7.6: six independent mismatch terms of an attenuator in its two settings, between a source and a load. */
START_TEST (mismatch_of_an_attenuator)
{
  char *folder = new_folder ();
  double sum = 0, g = 0.03;
  static const double setting[2][3] = { { 0.05, 1, 0.01 }, { 0.09, 0.03162277660168379, 0.01 } };
  for (int k = 0; k < 2; k++) {
    g_autoptr (SpChain) chain = one_two_port (folder, setting[k][0], setting[k][1], setting[k][2]);
    sum += pow (sp_chain_source_mismatch_u_db (chain, 10e9, NAN, g), 2) + pow (sp_chain_load_mismatch_u_db (chain, 10e9, NAN, g, g), 2);
  }
  sp_outside ("mismatch of a step attenuator, printed", "EA-4/02 M:2022 S7 (inputs from memory)", sqrt (sum), 0.02, 5e-4);
  sp_outside ("mismatch of a step attenuator", "calculated: EA-4/02 S7.6; Harris and Warner 1981", sqrt (sum), 0.0199303, 5e-8);
  drop_folder (folder);
}
END_TEST

START_TEST (mismatch_of_two_stages)
{
  static const double row[][3] = { { 1.05, 1.05, .0037 }, { 1.2, 1.4, .0931 }, { 1.5, 1.2, .1117 }, { 2.0, 1.2, .1861 },
                                   { 1.5, 1.5, .2457 },   { 2.0, 1.5, .4095 }, { 2.0, 2.0, .6824 }, { 3.0, 2.0, 1.0236 } };
  for (guint i = 0; i < G_N_ELEMENTS (row); i++) {
    g_autofree char *text = g_strdup_printf ("[chain]\nstages=a;b\n[stage a]\nkind=pad\nlabel_db=3\nvswr=%g\n[stage b]\nkind=pad\n"
                                             "label_db=3\nvswr=%g\n",
                                             row[i][0], row[i][1]);
    g_autoptr (SpChain) chain = chain_from (text);
    sp_outside ("u of two facing VSWRs, dB", "calculated: 8.686 |G1||G2| / sqrt 2", sp_chain_loss (chain, 1e8, NAN, 0, NULL).u_mismatch_db,
                row[i][2], 5.1e-5);
  }
}
END_TEST

/* -- all pairs against a ladder of reflections with random phases, in wave-transfer matrices -- */

typedef struct {
  double complex a, b, c, d;
} Transfer;

static Transfer
times (Transfer x, Transfer y)
{
  return (Transfer){ x.a * y.a + x.b * y.c, x.a * y.b + x.b * y.d, x.c * y.a + x.d * y.c, x.c * y.b + x.d * y.d };
}

/* [b1 a1] = T [a2 b2]: T22 = 1/S21 (Pozar, Microwave Engineering, problem section of 4.4, from memory; derived from the definition). */
static Transfer
transfer (double complex s11, double complex s21, double complex s12, double complex s22)
{
  return (Transfer){ s12 - s11 * s22 / s21, s11 / s21, -s22 / s21, 1 / s21 };
}

static double complex
turned (GRand *rand, double magnitude)
{
  return magnitude * cexp (I * g_rand_double_range (rand, 0, 2 * G_PI));
}

/* Standard deviation, in dB, of what a load takes from a source through n stages of which only the magnitudes are known. Source and
 * load stand in the ladder as thin discontinuities that transmit all of it (their own mismatch loss is constant). */
static double
ladder_sd (guint n, const double *g, const double *loss_db, double source_g, double load_g, guint draws)
{
  GRand *rand = g_rand_new_with_seed (20);
  double sum = 0, squares = 0;
  for (guint k = 0; k < draws; k++) {
    Transfer ladder = transfer (0, 1, 1, turned (rand, source_g));
    for (guint i = 0; i < n; i++) {
      double complex s21 = turned (rand, pow (10, -loss_db[i] / 20));
      ladder = times (ladder, transfer (turned (rand, g[i]), s21, s21, turned (rand, g[i])));
    }
    ladder = times (ladder, transfer (turned (rand, load_g), 1, 1, 0));
    double db = -20 * log10 (cabs (ladder.d));
    sum += db;
    squares += db * db;
  }
  g_rand_free (rand);
  return sqrt (squares / draws - pow (sum / draws, 2));
}

START_TEST (all_pairs_against_a_ladder)
{
  static const double vswr[5] = { 1.3, 1.5, 1.2, 1.6, 1.4 }, loss[5] = { 0.3, 1.5, 0.5, 3, 0.2 };
  double g[5];
  g_autoptr (GString) text = g_string_new ("[chain]\nstages=s0;s1;s2;s3;s4\n");
  for (int i = 0; i < 5; i++) {
    g[i] = (vswr[i] - 1) / (vswr[i] + 1);
    g_string_append_printf (text, "[stage s%d]\nkind=pad\nlabel_db=%g\nvswr=%g\n", i, loss[i], vswr[i]);
  }
  g_autoptr (SpChain) chain = chain_from (text->str);
  double inner = sp_chain_loss (chain, 1e8, NAN, 0, NULL).u_mismatch_db;
  double source = sp_chain_source_mismatch_u_db (chain, 1e8, NAN, 0.2), load = sp_chain_load_mismatch_u_db (chain, 1e8, NAN, 0.2, 0.1);
  double sd = ladder_sd (5, g, loss, 0, 0, 200000), all = ladder_sd (5, g, loss, 0.2, 0.1, 200000);
  const char *how = "calculated: 200,000 random-phase ladders in wave-transfer matrices";
  sp_near ("inner mismatch over the ladder's", how, inner / sd, 1, 0.02);
  sp_near ("mismatch with source and load over the ladder's", how, sqrt (inner * inner + source * source + load * load) / all, 1, 0.02);
  /* Neighbours alone would not do. */
  double neighbours = 0;
  for (int i = 0; i < 4; i++)
    neighbours += pow (8.685889638 * g[i] * g[i + 1] / sqrt (2), 2);
  ck_assert_double_lt (sqrt (neighbours) / sd, 0.9);
}
END_TEST

START_TEST (temperature_of_an_attenuator)
{
  g_autoptr (SpChain) chain = chain_from ("[chain]\nstages=a;b\ntemperature_c=20\n[stage a]\nkind=pad\nlabel_db=30\n"
                                          "temperature_coefficient=0.0004\n"
                                          "[stage b]\nkind=pad\nlabel_db=40\ntemperature_coefficient=0.0004\n");
  const char *source = "calculated: 0.0004 dB/dB/K of the loss";
  sp_outside ("30 dB, 10 K warmer", source, sp_stage_loss (chain, 0, 1e8, 30, 0).loss_db - 30, 0.12, 1e-9);
  sp_outside ("40 dB, 15 K warmer", source, sp_stage_loss (chain, 1, 1e8, 35, 0).loss_db - 40, 0.24, 1e-9);
}
END_TEST

START_TEST (cascade_of_resistive_pads)
{
  char *folder = new_folder ();
  g_autofree char *pi = put_file (folder, "pi.s2p", "# MHz S RI R 50\n1 0.0179211 0 0.6929510 0 0.6929510 0 0.0163282 0\n"),
                  *ten = put_file (folder, "ten.s2p", "# MHz S RI R 50\n1 -1.97e-7 0 0.3162278 0 0.3162278 0 -1.97e-7 0\n"),
                  *twice = put_file (folder, "twice.chain",
                                     "[chain]\nstages=a;b\n[stage a]\nkind=pad\ntouchstone=pi.s2p\nu_db=0.1\n"
                                     "[stage b]\nkind=pad\ntouchstone=pi.s2p\nu_db=0.1\n"),
                  *both = put_file (folder, "both.chain",
                                    "[chain]\nstages=a;b\n[stage a]\nkind=pad\ntouchstone=ten.s2p\nu_db=0.1\n"
                                    "[stage b]\nkind=pad\ntouchstone=pi.s2p\nu_db=0.1\n");
  g_autoptr (GError) error = NULL;
  g_autoptr (SpChain) a = sp_chain_read (twice, &error), b = sp_chain_read (both, &error);
  sp_no_error (error);
  const char *source = "calculated: ABCD matrices of 300/20/290 ohm";
  sp_outside ("mismatched pad twice, dB", source, sp_chain_loss (a, 1e6, NAN, 0, NULL).loss_db, 6.3693565, 2e-6);
  sp_outside ("total minus sum of the stages, dB", source, sp_chain_loss (a, 1e6, NAN, 0, NULL).interaction_db, -0.0025420, 1e-7);
  sp_outside ("10 dB pad and mismatched pad, dB", source, sp_chain_loss (b, 1e6, NAN, 0, NULL).loss_db, 13.18595, 1e-5);
  near (sp_chain_loss (a, 1e6, NAN, 0, NULL).u_mismatch_db, 0, 0);
  drop_folder (folder);
}
END_TEST

START_TEST (cable_law)
{
  g_autoptr (SpChain) chain = chain_from (
      "[chain]\nstages=c\n[stage c]\nkind=cable\ncurve=sqrt\n"
      "points=10MHz 0.4; 30MHz 0.7; 50MHz 0.9; 150MHz 1.7; 220MHz 2; 450MHz 2.9; 900MHz 4.3; 2500MHz 7.5\n");
  static const double at[][2] = {
    { 10, 0.4 }, { 30, 0.7 }, { 50, 0.9 }, { 150, 1.7 }, { 220, 2 }, { 450, 2.9 }, { 900, 4.3 }, { 2500, 7.5 }
  };
  for (guint i = 0; i < G_N_ELEMENTS (at); i++) {
    double f = at[i][0], got = sp_stage_loss (chain, 0, f * 1e6, NAN, 0).loss_db;
    sp_outside ("a cable's loss as printed", "calculated: 0.13 sqrt f + 0.0004 f, rounded to 0.1 dB", got, at[i][1], 0.06);
    sp_outside ("cable law by least squares", "calculated: normal equations of those eight", got,
                0.129674242675 * sqrt (f) + 0.000410122386 * f, 1e-6);
  }
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("outside/chain");
  TCase *t = tcase_create ("chain");
  tcase_set_timeout (t, 60);
  tcase_add_test (t, sum_of_a_published_budget);
  tcase_add_test (t, mismatch_of_an_attenuator);
  tcase_add_test (t, mismatch_of_two_stages);
  tcase_add_test (t, all_pairs_against_a_ladder);
  tcase_add_test (t, temperature_of_an_attenuator);
  tcase_add_test (t, cascade_of_resistive_pads);
  tcase_add_test (t, cable_law);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
