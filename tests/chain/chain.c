/* Loss of a stage and of the chain: what each term does, and what must hold for any chain. */
#include "tests/chain/bench.h"

static const char *const three
    = "[chain]\nname=Three\nstages=patch;pad;lead\ntemperature_c=20\n"
      "[stage patch]\nkind=cable\nrating_w=100\nvswr=1.1\npoints=100MHz 0.3 0.05; 1GHz 0.9 0.05\nconnector_u_db=0.02\n"
      "[stage pad]\nkind=pad\nrating_w=25\nvswr=1.2\npoints=100MHz 30 0.1; 1GHz 31 0.1\ncommon_u_db=0.06\ntemperature_coefficient=0.0004\n"
      "temperature_coefficient_u=0.0001\npower_coefficient=0.001\n"
      "[stage lead]\nkind=cable\nrating_w=50\nvswr=1.3\npoints=100MHz 0.5 0.05; 1GHz 1.5 "
      "0.05\ncommon_u_db=0.03\ntemperature_coefficient=0\n";

START_TEST (losses_add)
{
  g_autoptr (SpChain) chain = chain_from (three);
  SpStageLoss stages[3];
  SpChainLoss loss = sp_chain_loss (chain, 100e6, NAN, 0, stages);
  near (loss.loss_db, 30.8, 1e-12);
  near (stages[1].loss_db, 30, 1e-12);
  near (loss.interaction_db, 0, 0);
  ck_assert (loss.calibrated && loss.uncalibrated_stage == -1);
  /* half way in log f */
  near (sp_chain_loss (chain, sqrt (100e6 * 1e9), NAN, 0, NULL).loss_db, 0.6 + 30.5 + 1.0, 1e-9);
}
END_TEST

START_TEST (uncertainty_taken_apart)
{
  g_autoptr (SpChain) chain = chain_from (three);
  SpStageLoss stages[3];
  SpChainLoss loss = sp_chain_loss (chain, 100e6, NAN, 0, stages);
  near (stages[1].u_common_db, 0.06, 1e-12);
  near (stages[1].u_curve_db, 0.08, 1e-12); /* sqrt (0.1^2 - 0.06^2) */
  near (stages[1].u_db, 0.1, 1e-12);
  near (stages[0].u_db, sqrt (0.05 * 0.05 + 0.02 * 0.02), 1e-12);
  near (loss.u_common_db, 0.09, 1e-12); /* summed before it is squared */
  double independent = 0.05 * 0.05 + 0.02 * 0.02 + 0.08 * 0.08 + 0.04 * 0.04;
  near (loss.u_independent_db, sqrt (independent), 1e-12);
  near (loss.u_db, sqrt (independent + 0.09 * 0.09 + loss.u_mismatch_db * loss.u_mismatch_db), 1e-12);
  near (loss.u_temperature_db, 0, 0);
  near (loss.u_heating_db, 0, 0);
}
END_TEST

START_TEST (common_is_of_it)
{
  g_autoptr (SpChain) chain = chain_from ("[chain]\nstages=a\n[stage a]\nkind=pad\npoints=1MHz 10 0.02; 1GHz 10 0.02\ncommon_u_db=0.5\n");
  SpStageLoss stage = sp_stage_loss (chain, 0, 10e6, NAN, 0);
  near (stage.u_curve_db, 0, 0);
  near (stage.u_db, 0.02, 1e-12);
}
END_TEST

START_TEST (mismatch_of_all_pairs)
{
  g_autoptr (SpChain) chain = chain_from (three);
  double g1 = 0.1 / 2.1, g2 = 0.2 / 2.2, g3 = 0.3 / 2.3;
  /* patch-pad and pad-lead face each other with nothing between; patch-lead look at each other through the pad, twice. */
  double m[3] = { g1 * g2, g2 * g3, g1 * g3 * pow (10, -2 * 30.0 / 20) }, sum = 0;
  for (int i = 0; i < 3; i++)
    sum += pow (8.685889638 * m[i] / sqrt (2), 2);
  near (sp_chain_loss (chain, 100e6, NAN, 0, NULL).u_mismatch_db, sqrt (sum), 1e-9);

  double source[3] = { 0.5 * g1, 0.5 * g2 * pow (10, -0.03), 0.5 * g3 * pow (10, -3.03) };
  double load[4] = { 0.2 * g3, 0.2 * g2 * pow (10, -0.05), 0.2 * g1 * pow (10, -3.05), 0.2 * 0.5 * pow (10, -3.08) };
  double s2 = 0, l2 = 0;
  for (int i = 0; i < 3; i++)
    s2 += pow (8.685889638 * source[i] / sqrt (2), 2);
  for (int i = 0; i < 4; i++)
    l2 += pow (8.685889638 * load[i] / sqrt (2), 2);
  near (sp_chain_source_mismatch_u_db (chain, 100e6, NAN, 0.5), sqrt (s2), 1e-9);
  near (sp_chain_load_mismatch_u_db (chain, 100e6, NAN, 0.5, 0.2), sqrt (l2), 1e-9);
}
END_TEST

START_TEST (vswr_over_frequency_or_assumed)
{
  g_autoptr (SpChain) chain = chain_from ("[chain]\nstages=a;b\n[stage a]\nkind=pad\nlabel_db=3\n"
                                          "[stage b]\nkind=pad\nlabel_db=3\nvswr=10MHz 1.0; 1GHz 1.4\n");
  near (sp_stage_reflection (chain->stages[0], 1e6, TRUE), 0.2 / 2.2, 1e-12);
  near (sp_stage_reflection (chain->stages[1], 100e6, FALSE), 0.2 / 2.2, 1e-9);
  near (sp_stage_reflection (chain->stages[1], 1e9, TRUE), 0.4 / 2.4, 1e-12);
}
END_TEST

START_TEST (label_only_where_nothing_is_measured)
{
  g_autoptr (SpChain) chain = chain_from (
      "[chain]\nstages=m;t;n\n[stage m]\nkind=pad\nlabel_db=10\nlabel_tolerance_db=0.5\nspan=0 3GHz\npoints=10MHz 9.8 0.03; 1GHz 9.9 0.03\n"
      "[stage t]\nkind=pad\nlabel_db=20\nlabel_tolerance_db=0.6\nspan=1MHz 3GHz\n[stage n]\nkind=pad\nlabel_db=6\n");
  SpStageLoss m = sp_stage_loss (chain, 0, 10e6, NAN, 0), t = sp_stage_loss (chain, 1, 10e6, NAN, 0);
  SpStageLoss n = sp_stage_loss (chain, 2, 10e6, NAN, 0);
  near (m.loss_db, 9.8, 1e-12);
  ck_assert (!m.from_label && m.calibrated);
  near (t.loss_db, 20, 0);
  near (t.u_db, 0.6 / sqrt (3), 1e-12);
  ck_assert (t.from_label && t.calibrated);
  near (n.loss_db, 6, 0);
  near (n.u_db, 0.3, 1e-12);
  ck_assert (n.from_label && !n.calibrated);
  ck_assert (!sp_stage_loss (chain, 1, 4e9, NAN, 0).calibrated);
  near (sp_stage_loss (chain, 1, 4e9, NAN, 0).loss_db, 20, 0);
  SpChainLoss loss = sp_chain_loss (chain, 10e6, NAN, 0, NULL);
  ck_assert (!loss.calibrated && loss.uncalibrated_stage == 2);
}
END_TEST

START_TEST (outside_calibration)
{
  g_autoptr (SpChain) chain = chain_from (three);
  static const double odd[] = { 1e9 + 1, 99e6, 1, 0, -5, 1e300 };
  for (guint i = 0; i < G_N_ELEMENTS (odd); i++) {
    SpChainLoss loss = sp_chain_loss (chain, odd[i], 25, 5, NULL);
    ck_assert_msg (!loss.calibrated, "%g", odd[i]);
    ck_assert (isfinite (loss.loss_db) && isfinite (loss.u_db));
  }
  near (sp_stage_loss (chain, 0, 2e9, NAN, 0).loss_db, 0.9, 1e-12);
  /* |end slope| |ln f ratio| joins: 0.6 dB a decade, so 0.6 lg 2 at twice the end */
  near (sp_stage_loss (chain, 0, 2e9, NAN, 0).u_curve_db, hypot (0.05, 0.6 * log10 (2)), 1e-9);
}
END_TEST

START_TEST (temperature)
{
  g_autoptr (SpChain) chain = chain_from (three);
  SpStageLoss pad = sp_stage_loss (chain, 1, 100e6, 35, 0), patch = sp_stage_loss (chain, 0, 100e6, 35, 0);
  SpStageLoss lead = sp_stage_loss (chain, 2, 100e6, 5, 0);
  near (pad.loss_db, 30 * (1 + 0.0004 * 15), 1e-12);
  near (pad.u_temperature_db, 30 * 0.0001 * 15, 1e-12);
  near (patch.loss_db, 0.3, 1e-12); /* coefficient not known: 0, with an uncertainty */
  near (patch.u_temperature_db, 0.3 * SP_ALPHA_U_ASSUMED * 15, 1e-12);
  near (lead.u_temperature_db, 0, 0); /* a stated one without u */
  near (sp_stage_loss (chain, 0, 100e6, 5, 0).u_temperature_db, -0.3 * SP_ALPHA_U_ASSUMED * 15, 1e-12);
  near (sp_stage_loss (chain, 1, 100e6, NAN, 0).loss_db, 30, 1e-12);

  g_autoptr (SpChain) own = chain_from ("[chain]\nstages=a;b\ntemperature_c=20\n[stage a]\nkind=pad\nlabel_db=40\ntemperature_c=30\n"
                                        "temperature_coefficient=0.001\n[stage b]\nkind=pad\nlabel_db=40\ntemperature_coefficient=0.001\n");
  near (sp_stage_loss (own, 0, 1e6, 30, 0).loss_db, 40, 1e-12); /* its own calibration's temperature */
  near (sp_stage_loss (own, 1, 1e6, 30, 0).loss_db, 40.4, 1e-12);
  g_autoptr (SpChain) none = chain_from ("[chain]\nstages=a\n[stage a]\nkind=pad\nlabel_db=40\ntemperature_coefficient=0.001\n");
  near (sp_stage_loss (none, 0, 1e6, 30, 0).loss_db, 40, 0);
  near (sp_stage_loss (none, 0, 1e6, 30, 0).u_temperature_db, 0, 0);
}
END_TEST

START_TEST (self_heating)
{
  g_autoptr (SpChain) chain = chain_from (three);
  SpStageLoss stages[3];
  sp_chain_loss (chain, 100e6, NAN, 10, stages);
  near (stages[0].loss_db, 0.3, 1e-12);                                     /* coefficient not known: level not moved */
  near (stages[0].u_heating_db, 0.3 * (0.04 / 100) * 10 / sqrt (3), 1e-12); /* rated 100 W: 0.04 dB/dB there, a tenth of it here */
  double into_pad = 10 * pow (10, -0.03);
  near (stages[1].loss_db, 30 * (1 + 0.001 * into_pad), 1e-9);
  near (stages[1].u_heating_db, 0, 0);
  double into_lead = into_pad * pow (10, -stages[1].loss_db / 10);
  near (stages[2].u_heating_db, 0.5 * (0.04 / 50) * into_lead / sqrt (3), 1e-12);
  ck_assert (stages[0].heating_assumed && !stages[1].heating_assumed && stages[2].heating_assumed);
  ck_assert_int_eq (sp_chain_loss (chain, 100e6, NAN, 10, NULL).heating_stage, 0);
  ck_assert_int_eq (sp_chain_loss (chain, 100e6, NAN, 0, NULL).heating_stage, -1);
}
END_TEST

/* A pad of 40 dB at `power_w`: how far an assumed self-heating may move it. `keys`: what is stated of it besides. */
static double
assumed_change_db (const char *keys, double power_w)
{
  g_autofree char *text = g_strdup_printf ("[chain]\nstages=a\n[stage a]\nkind=pad\npoints=1MHz 40 0.05; 1GHz 40 0.05\n%s", keys);
  g_autoptr (SpChain) chain = chain_from (text);
  return sp_stage_loss (chain, 0, 100e6, NAN, power_w).u_heating_db * sqrt (3);
}

/* What its maker allows is as hot as it gets: 0.0004 dB/dB/K times 100 K, 1.6 dB of 40, not the 10 dB that 0.005 dB/dB/W would make. */
START_TEST (the_rating_bounds_an_assumed_self_heating)
{
  near (assumed_change_db ("rating_w=50\n", 50), 1.6, 1e-12);
  near (assumed_change_db ("rating_w=50\n", 5), 0.16, 1e-12); /* a tenth of the heat */
  near (assumed_change_db ("rating_w=2\n", 1), 0.2, 1e-12);   /* a small pad: 0.005 dB/dB/W is the less */
  near (assumed_change_db ("rating_w=8\n", 8), 1.6, 1e-12);   /* here both meet */
  near (assumed_change_db ("", 50), 10, 1e-12);               /* nobody says what it takes, nor how hot it is */
  near (assumed_change_db ("rating_w=50\ntemperature_coefficient=0.001\n", 50), 4, 1e-12);
  /* 50 W at 25 C, falling to nothing at 165 C: 140 K; to 10 W at 105 C, so to nothing at 125 C */
  near (assumed_change_db ("derating=25 50; 165 0\n", 50), 40 * 0.0004 * 140, 1e-12);
  near (assumed_change_db ("derating=25 50; 105 10\n", 50), 1.6, 1e-12);
  near (assumed_change_db ("rating_w=50\nderating=25 50; 40 50\n", 50), 1.6,
        1e-12); /* a table that does not fall says nothing of its end */
}
END_TEST

/* Only what nobody stated is marked, each kind by itself. */
START_TEST (what_is_assumed_is_marked)
{
  g_autoptr (SpChain) chain = chain_from (
      "[chain]\nstages=a;b;c\ntemperature_c=20\n"
      "[stage a]\nkind=pad\nrating_w=50\nvswr=1.1\npoints=1MHz 30; 1GHz 30 0.05\ntemperature_coefficient=0.0004\n"
      "[stage b]\nkind=pad\nrating_w=2\npoints=1MHz 10 0.05; 1GHz 10 0.05\npower_coefficient=0\n"
      "[stage c]\nkind=pad\nrating_w=2\nvswr=1.1\nlabel_db=3\nlabel_tolerance_db=0.3\nspan=1MHz 1GHz\n"
      "temperature_coefficient_u=0.0001\n");
  SpStageLoss at[3];
  SpChainLoss loss = sp_chain_loss (chain, 100e6, 30, 10, at);
  ck_assert (at[0].curve_assumed && !at[1].curve_assumed && !at[2].curve_assumed && loss.curve_assumed);
  ck_assert (!sp_stage_loss (chain, 0, 1e9, 30, 10).curve_assumed); /* at its other point u is stated */
  ck_assert (!at[0].temperature_assumed && at[1].temperature_assumed && !at[2].temperature_assumed);
  ck_assert_int_eq (loss.temperature_stage, 1);
  ck_assert_int_eq (sp_chain_loss (chain, 100e6, 20, 10, NULL).temperature_stage, -1); /* as warm as when it was calibrated */
  ck_assert (at[0].heating_assumed && !at[1].heating_assumed && at[2].heating_assumed);
  ck_assert_int_eq (loss.heating_stage, 0);
  ck_assert (sp_chain_vswr_assumed (chain));
}
END_TEST

static double
random_in (GRand *rand, double low, double high)
{
  return g_rand_double_range (rand, low, high);
}

/* A chain of n random measured stages; u is multiplied by `scale`; the stages stand in the order given. */
static SpChain *
random_chain (guint32 seed, guint n, const guint *order, double scale)
{
  g_autoptr (GString) text = g_string_new ("[chain]\nname=R\ntemperature_c=20\nstages=");
  for (guint i = 0; i < n; i++)
    g_string_append_printf (text, "s%u;", order[i]);
  for (guint i = 0; i < n; i++) {
    GRand *rand = g_rand_new_with_seed (seed + i);
    static const char *const curves[] = { "linear", "smooth", "sqrt" };
    g_string_append_printf (text, "\n[stage s%u]\nkind=pad\ncurve=%s\ntemperature_coefficient=%.6f\npoints=", i, curves[i % 3],
                            random_in (rand, -0.001, 0.001));
    double f = 1e6, loss = random_in (rand, 0.1, 20);
    for (int k = 0; k < 12; k++) {
      g_string_append_printf (text, "%s%.1f %.6f %.17g", k ? "; " : "", f, loss, scale * random_in (rand, 0.01, 0.1));
      f *= random_in (rand, 1.2, 2.5);
      loss += random_in (rand, -0.05, 0.3);
    }
    g_rand_free (rand);
  }
  g_string_append_c (text, '\n');
  return chain_from (text->str);
}

START_TEST (order_does_not_change_the_total)
{
  static const guint there[] = { 0, 1, 2, 3, 4 }, back[] = { 3, 0, 4, 2, 1 };
  for (guint32 seed = 1; seed < 40; seed++) {
    g_autoptr (SpChain) a = random_chain (seed * 100, 5, there, 1), b = random_chain (seed * 100, 5, back, 1);
    for (double f = 1.1e6; f < 1e9; f *= 1.7) {
      SpChainLoss x = sp_chain_loss (a, f, 27, 0, NULL), y = sp_chain_loss (b, f, 27, 0, NULL);
      near (x.loss_db, y.loss_db, 1e-10);
      near (x.u_independent_db, y.u_independent_db, 1e-10);
    }
  }
}
END_TEST

START_TEST (u_scales_and_never_falls_outside)
{
  static const guint order[] = { 0, 1 }; /* linear and smooth; the cable law rules outside */
  for (guint32 seed = 1; seed < 40; seed++) {
    g_autoptr (SpChain) chain = random_chain (seed * 77, 2, order, 1);
    double last = 0;
    for (double f = chain->stages[0]->loss->high_hz * 1.0001; f < 1e12; f *= 1.3) {
      double u = sp_stage_loss (chain, 0, f, NAN, 0).u_curve_db;
      ck_assert_double_ge (u, last - 1e-12);
      last = u;
    }
    /* At a measured point there is no shape term: the stage's u is the point's, and follows its scale. */
    g_autoptr (SpChain) thrice = random_chain (seed * 77, 2, order, 3);
    for (guint k = 0; k < 12; k++) {
      double f = chain->stages[0]->loss->frequency_hz[k];
      near (sp_stage_loss (thrice, 0, f, NAN, 0).u_db, 3 * sp_stage_loss (chain, 0, f, NAN, 0).u_db, 1e-9);
    }
  }
}
END_TEST

static void
check_correct (const SpChain *chain, double temperature_c, guint64 n, double from, double to)
{
  g_autofree double *f = g_new (double, n), *level = g_new0 (double, n);
  for (guint64 i = 0; i < n; i++)
    f[i] = from + (to - from) * i / (n - 1);
  sp_chain_correct (chain, temperature_c, n, f, level);
  for (guint64 i = 0; i < n; i += 1 + n / 5000)
    near (level[i], sp_chain_loss (chain, f[i], temperature_c, 0, NULL).loss_db, 1e-6);
}

START_TEST (correct_is_dense_loss)
{
  static const guint order[] = { 0, 1, 2 };
  for (guint32 seed = 1; seed < 20; seed++) {
    g_autoptr (SpChain) chain = random_chain (seed * 991, 3, order, 1);
    check_correct (chain, NAN, 20001, 0, 3e9);
    check_correct (chain, 31.5, 501, 5e5, 2e8);
    check_correct (chain, 31.5, 2, 5e5, 2e8);
  }
}
END_TEST

/* Two reflecting stages with a phase that turns with frequency, on a coarse grid from 0 Hz. */
static SpChain *
joined_chain (const char *folder)
{
  for (int k = 0; k < 3; k++) {
    g_autoptr (GString) text = g_string_new ("# MHz S MA R 50\n");
    for (int i = 0; i <= 60; i++)
      g_string_append_printf (text, "%d %g %g %.9f %g %.9f %g %g %g\n", i * (50 + k), 0.3 - 0.002 * i, -40.0 * i * (k + 1), 0.7 - 0.003 * i,
                              -30.0 * i, 0.7 - 0.003 * i, -30.0 * i, 0.25 + 0.002 * i, 60 - 35.0 * i);
    g_autofree char *name = g_strdup_printf ("p%d.s2p", k), *path = put_file (folder, name, text->str);
  }
  g_autofree char *path = put_file (folder, "t.chain",
                                    "[chain]\nstages=a;b;mid;c\n[stage a]\nkind=pad\ntouchstone=p0.s2p\nu_db=0.1\n"
                                    "[stage b]\nkind=pad\ntouchstone=p1.s2p\nu_db=0.1\n[stage mid]\nkind=pad\n"
                                    "label_db=3\n"
                                    "vswr=1.3\n[stage c]\nkind=pad\ntouchstone=p2.s2p\nu_db=0.1\n");
  g_autoptr (GError) error = NULL;
  SpChain *chain = sp_chain_read (path, &error);
  sp_no_error (error);
  return chain;
}

START_TEST (exact_cascade)
{
  char *folder = new_folder ();
  g_autoptr (SpChain) chain = joined_chain (folder);
  SpStageLoss stages[4];
  for (double f = 13e6; f < 2.9e9; f += 61.7e6) {
    complex double a[4], b[4], ab[4];
    gboolean inside;
    SpChainLoss loss = sp_chain_loss (chain, f, NAN, 0, stages);
    sp_two_port_at (chain->stages[0]->two_port, f, a, &inside);
    sp_two_port_at (chain->stages[1]->two_port, f, b, &inside);
    sp_two_port_cascade (a, b, ab);
    double want = -20 * log10 (cabs (ab[1]) / cabs (a[1]) / cabs (b[1]));
    near (loss.interaction_db, want, 1e-9);
    near (loss.loss_db, stages[0].loss_db + stages[1].loss_db + 3 + stages[3].loss_db + want, 1e-9);
    ck_assert_double_gt (fabs (want), 0); /* c stands alone: not joined through the pad */
    /* Inner mismatch: all pairs but a-b. */
    double sum = 0, out_a = cabs (a[3]), out_b = cabs (b[3]), mid = 0.3 / 2.3;
    double in_c = sp_stage_reflection (chain->stages[3], f, FALSE);
    double m[5] = { out_a * mid * pow (10, -stages[1].loss_db / 10), out_a * in_c * pow (10, -(stages[1].loss_db + 3) / 10), out_b * mid,
                    out_b * in_c * pow (10, -0.3), mid * in_c };
    for (int k = 0; k < 5; k++)
      sum += pow (8.685889638 * m[k] / sqrt (2), 2);
    near (loss.u_mismatch_db, sqrt (sum), 1e-8);
  }
  check_correct (chain, NAN, 200001, 0, 3.2e9);
  check_correct (chain, NAN, 1001, 30e6, 1e9);
  check_correct (chain, NAN, 7, 30e6, 31e6);
  drop_folder (folder);
}
END_TEST

START_TEST (derating)
{
  g_autoptr (SpChain) chain = chain_from ("[chain]\nstages=a;b;c\n[stage a]\nkind=pad\nlabel_db=30\nrating_w=25\nderating=25 25; 100 5\n"
                                          "[stage b]\nkind=pad\nlabel_db=30\nrating_w=7\n[stage c]\nkind=pad\nlabel_db=3\n");
  SpStage *a = chain->stages[0];
  near (sp_stage_rating_w (a, -10), 25, 0);
  near (sp_stage_rating_w (a, NAN), 25, 0);
  near (sp_stage_rating_w (a, 62.5), 15, 1e-12);
  near (sp_stage_rating_w (a, 100), 5, 1e-12);
  near (sp_stage_rating_w (a, 110), 5 - 10 * 20.0 / 75, 1e-12);
  near (sp_stage_rating_w (a, 200), 0, 0);
  near (sp_stage_rating_w (chain->stages[1], 90), 7, 0);
  ck_assert (isnan (sp_stage_rating_w (chain->stages[2], 25)));
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("chain/chain");
  TCase *t = tcase_create ("loss");
  tcase_add_test (t, losses_add);
  tcase_add_test (t, uncertainty_taken_apart);
  tcase_add_test (t, common_is_of_it);
  tcase_add_test (t, mismatch_of_all_pairs);
  tcase_add_test (t, vswr_over_frequency_or_assumed);
  tcase_add_test (t, label_only_where_nothing_is_measured);
  tcase_add_test (t, outside_calibration);
  tcase_add_test (t, temperature);
  tcase_add_test (t, self_heating);
  tcase_add_test (t, the_rating_bounds_an_assumed_self_heating);
  tcase_add_test (t, what_is_assumed_is_marked);
  tcase_add_test (t, order_does_not_change_the_total);
  tcase_add_test (t, u_scales_and_never_falls_outside);
  tcase_add_test (t, correct_is_dense_loss);
  tcase_add_test (t, exact_cascade);
  tcase_add_test (t, derating);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
