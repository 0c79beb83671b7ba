/* What must hold for any chain, whatever the numbers: drawn at random, seeded. */
#include "tests/chain/bench.h"

#include "core/headroom/headroom.h"

static SpAnalyzer *
plain_analyzer (void)
{
  static const char text[] = "[analyzer]\nname=Any\ndamage_dbm=30\n";
  g_autoptr (SpKeyFile) file = sp_key_file_parse (text, strlen (text), "a.analyzer", NULL);
  g_autoptr (GError) error = NULL;
  SpAnalyzer *analyzer = sp_analyzer_parse (file, &error);
  sp_no_error (error);
  return analyzer;
}

/* Pads of random losses, in the order given; every uncertainty times `scale`. */
static SpChain *
pads (const double *loss_db, const double *u_db, const guint *order, guint n, double scale)
{
  g_autoptr (GString) text = g_string_new ("[chain]\nstages=");
  for (guint i = 0; i < n; i++)
    g_string_append_printf (text, "%sp%u", i ? ";" : "", order[i]);
  for (guint i = 0; i < n; i++)
    g_string_append_printf (
        text, "\n[stage p%u]\nkind=pad\nrating_w=1000\nvswr=1\nconnector_u_db=%.17g\npower_coefficient=0\npoints=100MHz %.17g %.17g\n", i,
        0.01 * scale, loss_db[i], u_db[i] * scale);
  return chain_from (text->str);
}

START_TEST (order_changes_the_nodes_alone)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (12);
  g_autoptr (SpAnalyzer) analyzer = plain_analyzer ();
  static const guint there[] = { 0, 1, 2, 3 }, back[] = { 3, 2, 1, 0 };
  for (guint round = 0; round < 100; round++) {
    double loss[4], u[4];
    for (guint i = 0; i < 4; i++)
      loss[i] = g_rand_double_range (rand, 1, 15), u[i] = g_rand_double_range (rand, 0, 0.2);
    g_autoptr (SpChain) a = pads (loss, u, there, 4, 1), b = pads (loss, u, back, 4, 1);
    g_autoptr (SpHeadroom) x = sp_headroom (a, analyzer, 5, 100e6, NAN, 1, 10), y = sp_headroom (b, analyzer, 5, 100e6, NAN, 1, 10);
    near (x->nodes[4].level_dbm, y->nodes[4].level_dbm, 1e-9); /* at the analyzer */
    near (x->nodes[0].level_dbm, y->nodes[0].level_dbm, 1e-12);
    near (x->nodes[1].level_dbm - x->nodes[0].level_dbm, -loss[0], 1e-9);
    near (y->nodes[1].level_dbm - y->nodes[0].level_dbm, -loss[3], 1e-9);
    near (sp_chain_loss (a, 100e6, NAN, 0, NULL).loss_db, sp_chain_loss (b, 100e6, NAN, 0, NULL).loss_db, 1e-12);
    near (sp_chain_loss (a, 100e6, NAN, 0, NULL).u_db, sp_chain_loss (b, 100e6, NAN, 0, NULL).u_db, 1e-12);
  }
}
END_TEST

START_TEST (scaling_all_u_scales_u)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (13);
  static const guint order[] = { 0, 1, 2 };
  for (guint round = 0; round < 100; round++) {
    double loss[3], u[3], scale = g_rand_double_range (rand, 0, 10);
    for (guint i = 0; i < 3; i++)
      loss[i] = g_rand_double_range (rand, 0, 40), u[i] = g_rand_double_range (rand, 0, 0.5);
    g_autoptr (SpChain) one = pads (loss, u, order, 3, 1), scaled = pads (loss, u, order, 3, scale);
    near (sp_chain_loss (scaled, 100e6, NAN, 0, NULL).u_db, scale * sp_chain_loss (one, 100e6, NAN, 0, NULL).u_db, 1e-12);
  }
}
END_TEST

static char *
put_pad (const char *folder, const char *name, double loss_db, double degrees, double s11)
{
  g_autofree char *text
      = g_strdup_printf ("# MHz S MA R 50\n1 %.17g 30 %.17g %.17g %.17g %.17g %.17g -70\n1000 %.17g 30 %.17g %.17g %.17g %.17g %.17g -70\n",
                         s11, pow (10, -loss_db / 20), degrees, pow (10, -loss_db / 20), degrees, s11, s11, pow (10, -loss_db / 20),
                         degrees, pow (10, -loss_db / 20), degrees, s11);
  return put_file (folder, name, text);
}

/* A pad that reflects nothing, cascaded exactly, is its loss in dB and no more: in front of anything, behind it, many of them. */
START_TEST (matched_pad_is_a_scalar)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (14);
  for (guint round = 0; round < 40; round++) {
    char *folder = new_folder ();
    double loss[3] = { g_rand_double_range (rand, 0, 40), g_rand_double_range (rand, 0, 40), g_rand_double_range (rand, 0, 40) };
    double s11 = g_rand_double_range (rand, 0, 0.5);
    g_autofree char *a = put_pad (folder, "a.s2p", loss[0], -40, 0), *b = put_pad (folder, "b.s2p", loss[1], 77, s11),
                    *c = put_pad (folder, "c.s2p", loss[2], 123, 0),
                    *path = put_file (folder, "m.chain",
                                      "[chain]\nstages=a;b;c\n[stage a]\nkind=pad\ntouchstone=a.s2p\nu_db=0.1\n[stage b]\n"
                                      "kind=pad\ntouchstone=b.s2p\nu_db=0.1\n[stage c]\nkind=pad\ntouchstone=c.s2p\nu_db=0.1\n");
    g_autoptr (GError) error = NULL;
    g_autoptr (SpChain) chain = sp_chain_read (path, &error);
    sp_no_error (error);
    SpChainLoss at = sp_chain_loss (chain, 137e6, NAN, 0, NULL);
    near (at.loss_db, loss[0] + loss[1] + loss[2], 1e-9);
    near (at.interaction_db, 0, 1e-9);
    complex double x[4], y[4], z[4];
    sp_two_port_at (chain->stages[0]->two_port, 1e6, x, NULL);
    sp_two_port_at (chain->stages[1]->two_port, 1e6, y, NULL);
    sp_two_port_cascade (x, y, z);
    near (cabs (z[SP_S11]), s11 * pow (10, -loss[0] / 10), 1e-12); /* return loss grows by twice the pad */
    drop_folder (folder);
  }
}
END_TEST

static SpCurve *
random_curve (GRand *rand, SpCurveKind kind, gboolean rising, guint *n, double *f, double *value)
{
  double u[20];
  *n = (guint) g_rand_int_range (rand, 3, 20);
  for (guint i = 0; i < *n; i++) {
    f[i] = i ? f[i - 1] * g_rand_double_range (rand, 1.01, 5) : 1e6;
    value[i] = rising && i ? value[i - 1] + (g_rand_boolean (rand) ? g_rand_double_range (rand, 0, 3) : 0)
                           : g_rand_double_range (rand, 0, 3);
    u[i] = g_rand_double_range (rand, 0.01, 0.2);
  }
  return sp_curve_new (kind, *n, f, value, u, NULL, NULL);
}

START_TEST (monotone_data_never_overshoots)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (15);
  for (guint round = 0; round < 400; round++) {
    double f[20], value[20], dense[2000], out[2000] = { 0 };
    guint n;
    g_autoptr (SpCurve) curve = random_curve (rand, round % 2 ? SP_CURVE_SMOOTH : SP_CURVE_LINEAR, TRUE, &n, f, value);
    for (guint i = 0; i < 2000; i++)
      dense[i] = f[0] * pow (f[n - 1] / f[0], i / 1999.0);
    sp_curve_add_to (curve, 2000, dense, out);
    for (guint i = 1; i < 2000; i++)
      ck_assert_msg (out[i] >= out[i - 1] - 1e-8 && out[i] <= value[n - 1] + 1e-8 && out[i] >= value[0] - 1e-8, "round %u at %g", round,
                     dense[i]);
  }
}
END_TEST

START_TEST (u_never_falls_outside)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (16);
  for (guint round = 0; round < 300; round++) {
    double f[20], value[20];
    guint n;
    g_autoptr (SpCurve) curve = random_curve (rand, round % 3, FALSE, &n, f, value);
    double up = sp_curve_at (curve, f[n - 1], 0.3).u, down = sp_curve_at (curve, f[0], 0.3).u;
    for (double k = 1.01; k < 1e5; k *= 1.5) {
      SpCurveAt above = sp_curve_at (curve, f[n - 1] * k, 0.3), below = sp_curve_at (curve, f[0] / k, 0.3);
      ck_assert (above.u >= up - 1e-12 && below.u >= down - 1e-12 && !above.inside && !below.inside);
      up = above.u;
      down = below.u;
    }
  }
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("chain/properties");
  TCase *t = tcase_create ("properties");
  tcase_set_timeout (t, 0);
  tcase_add_test (t, order_changes_the_nodes_alone);
  tcase_add_test (t, scaling_all_u_scales_u);
  tcase_add_test (t, matched_pad_is_a_scalar);
  tcase_add_test (t, monotone_data_never_overshoots);
  tcase_add_test (t, u_never_falls_outside);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
