/* usable.c - which steps and unkeyed sweeps tell whose an emission is, and what is said of those that do not */
#include "tests/judge/found.h"

#define HEAD                                                                                                                               \
  "[bench]\ntitle=t\nchain=t.chain\nanalyzer=t.analyzer\nmask=us-amateur\ntemperature_c=23\nnecessary_bandwidth=16kHz\nradio_vswr=1.0\n"   \
  "radio_harmonic_vswr=1.0\n"
#define SHEET(condition) HEAD "[radio Testling]\nfundamental=146.2MHz\n" condition "\n"

/* 5 W through 40 dB: -3.01 dBm at the input; limit -16.02 dBm at the socket: -56.02 at the input. */
static const Sweep clean = { 1e6, 801e6, 16001, 100e3, 20, "sample", -95, { { 146.2e6, -3.01 } }, 7 };
#define SECOND 292.4e6
#define THIRD 438.6e6
#define LIMIT -16.0206

/* So much more attenuation, noise that rises with it; carrier and second harmonic as they read. */
static Sweep
swept (double more_db, double carrier_dbm, double second_dbm, guint32 seed)
{
  Sweep w = clean;
  w.attenuation_db += more_db;
  w.noise_dbm += more_db;
  w.lines[0].level_dbm = carrier_dbm;
  w.lines[1] = (Line){ SECOND, second_dbm };
  w.seed = seed;
  return w;
}

static void
put (const char *shop, const char *name, Sweep w)
{
  shop_put_sweep (shop, name, &w);
}

static gboolean
tested (const SpFindings *f)
{
  const SpEmission *e = harmonic (f, 2);
  return e->evidence && e->evidence->n > 0;
}

/* The second harmonic is the radio's: -10 dBm, 6 dB over. A pad of 10 dB outside, given as the analyzer's own attenuation, takes 10 dB from it and
 * from the carrier alike, as a product of the second order would fall. */
START_TEST (a_pad_outside_is_no_step_of_the_analyzers)
{
  char *shop = shop_open ();
  Sweep pad = swept (0, -13.01, -60, 8);
  pad.attenuation_db = 30; /* as somebody wrote it */
  put (shop, "k.csv", swept (0, -3.01, -50, 7));
  put (shop, "s.csv", pad);
  const char *sheet = SHEET ("keyed=k.csv\nstep=s.csv 10");
  g_autoptr (SpFindings) quiet = shop_judge (shop, SHOP_INTERCEPTS, sheet);
  expect_origin (harmonic (quiet, 2), SP_ORIGIN_RADIO, SP_BASIS_PREDICTED, SP_VERDICT_EXCEEDS);
  const SpReason *why = warning (quiet, SP_REASON_STEP_CARRIER);
  ck_assert (why && g_str_has_suffix (why->STEP_CARRIER.file, "s.csv") && g_str_has_suffix (why->STEP_CARRIER.keyed_file, "k.csv")
             && !tested (quiet));
  ck_assert_double_eq_tol (why->STEP_CARRIER.carrier_dbm, 26.99, 0.1);
  ck_assert_double_eq_tol (why->STEP_CARRIER.keyed_dbm, 36.99, 0.1);
  ck_assert_double_eq (why->STEP_CARRIER.step_db, 10);
  ck_assert (!warning (quiet, SP_REASON_COMPRESSION));
  g_autoptr (SpFindings) loud = shop_judge (shop, "second_intercept_dbm=30\n", sheet);
  expect_origin (harmonic (loud, 2), SP_ORIGIN_MIXED, SP_BASIS_PREDICTED, SP_VERDICT_NOT_PROVEN);
  g_autoptr (SpFindings) unknown = shop_judge (shop, "", sheet);
  expect_origin (harmonic (unknown, 2), SP_ORIGIN_UNTESTED, SP_BASIS_NONE, SP_VERDICT_NOT_PROVEN);
  shop_close (shop);
}
END_TEST

/* Carrier in the step against the keyed one's, dB; U of the difference is 0.3. */
static SpFindings *
with_carrier_moved (const char *shop, const char *analyzer, double moved_db)
{
  put (shop, "k.csv", swept (0, -3.01, -46, 7));
  put (shop, "s.csv", swept (10, -3.01 + moved_db, -46, 8));
  return shop_judge (shop, analyzer, SHEET ("keyed=k.csv\nstep=s.csv 10"));
}

START_TEST (a_carrier_stands_still_drifts_or_was_compressed)
{
  static const struct {
    double moved_db;
    const char *analyzer;
    gboolean tested, said;
  } cases[] = {
    { 0, "", TRUE, FALSE },
    { -0.15, "", TRUE, FALSE },
    { -0.6, "", TRUE, TRUE }, /* drift: said, and allowed for */
    { -1.2, "", FALSE, FALSE },
    { 2, "", TRUE, TRUE },
    { 4, "", FALSE, FALSE },
    { 2, "best_mixer_dbm=-30\n", TRUE, TRUE },   /* -23 dBm at the mixer: compressed */
    { 2, "best_mixer_dbm=-20\n", FALSE, FALSE }, /* that is no overload: the radio's power changed */
  };
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
    char *shop = shop_open ();
    g_autoptr (SpFindings) f = with_carrier_moved (shop, cases[i].analyzer, cases[i].moved_db);
    ck_assert_msg (tested (f) == cases[i].tested, "moved by %g dB", cases[i].moved_db);
    ck_assert_msg ((warning (f, SP_REASON_STEP_CARRIER) != NULL) == !cases[i].tested, "moved by %g dB", cases[i].moved_db);
    ck_assert_msg ((warning (f, SP_REASON_COMPRESSION) != NULL) == cases[i].said, "moved by %g dB", cases[i].moved_db);
    shop_close (shop);
  }
}
END_TEST

/* Where it is the radio's power that may have moved the readings differ by as much, times the order: 2 * 0.6/sqrt 3 = 0.69 dB. */
START_TEST (what_moved_is_allowed_for)
{
  char *shop = shop_open ();
  g_autoptr (SpFindings) still = with_carrier_moved (shop, "", 0), drifts = with_carrier_moved (shop, "", -0.6);
  ck_assert_double_lt (harmonic (still, 2)->evidence->points[1].u_db, 0.25);
  ck_assert_double_eq_tol (harmonic (drifts, 2)->evidence->points[1].u_db, 0.69, 0.08);
  ck_assert_double_eq_tol (harmonic (drifts, 2)->evidence->points[0].u_db, harmonic (still, 2)->evidence->points[0].u_db, 1e-9);
  g_autoptr (SpFindings) compressed = with_carrier_moved (shop, "best_mixer_dbm=-30\n", 2);
  ck_assert_double_lt (harmonic (compressed, 2)->evidence->points[1].u_db, 0.25);
  shop_close (shop);
}
END_TEST

/* A step that begins above the carrier: its noise must have risen by the step. */
START_TEST (without_a_carrier_the_noise_tells)
{
  char *shop = shop_open ();
  Sweep above = swept (10, -3.01, -46, 8);
  above.start_hz = 201e6;
  above.points = 12001;
  put (shop, "k.csv", swept (0, -3.01, -46, 7));
  put (shop, "s.csv", above);
  const char *sheet = SHEET ("keyed=k.csv\nstep=s.csv 10");
  g_autoptr (SpFindings) rises = shop_judge (shop, "", sheet);
  expect_origin (harmonic (rises, 2), SP_ORIGIN_RADIO, SP_BASIS_STEP, SP_VERDICT_EXCEEDS);
  ck_assert (!warning (rises, SP_REASON_STEP_UNCHECKED) && !warning (rises, SP_REASON_STEP_NOISE));
  above.noise_dbm -= 10; /* the attenuator was never turned */
  put (shop, "s.csv", above);
  g_autoptr (SpFindings) stays = shop_judge (shop, "", sheet);
  expect_origin (harmonic (stays, 2), SP_ORIGIN_UNTESTED, SP_BASIS_NONE, SP_VERDICT_NOT_PROVEN);
  ck_assert (warning (stays, SP_REASON_STEP_UNCHECKED) && warning (stays, SP_REASON_STEP_UNCHECKED)->STEP_UNCHECKED.step_db == 10);
  above.noise_dbm += 10;
  above.rbw_hz = 90e3; /* not to be compared */
  put (shop, "s.csv", above);
  g_autoptr (SpFindings) unlike = shop_judge (shop, "", sheet);
  ck_assert (warning (unlike, SP_REASON_STEP_UNCHECKED) && !tested (unlike));
  shop_close (shop);
}
END_TEST

/* The keyed noise 10 dB over the analyzer's own: in the step, where that alone rises, both read alike. */
START_TEST (noise_that_does_not_follow_the_step)
{
  char *shop = shop_open ();
  Sweep keyed = swept (0, -3.01, -46, 7);
  keyed.noise_dbm += 10;
  put (shop, "k.csv", keyed);
  put (shop, "s.csv", swept (10, -3.01, -46, 8));
  const char *sheet = SHEET ("keyed=k.csv\nstep=s.csv 10");
  g_autoptr (SpFindings) f = shop_judge (shop, "", sheet);
  const SpReason *why = warning (f, SP_REASON_STEP_NOISE);
  ck_assert (why && tested (f)); /* said; the carrier stands still */
  ck_assert_double_eq_tol (why->STEP_NOISE.short_db, 10, 0.5);
  ck_assert_double_eq_tol (why->STEP_NOISE.step_db, 10, 1e-9);
  put (shop, "k.csv", swept (0, -3.01, -46, 7));
  g_autoptr (SpFindings) follows = shop_judge (shop, "", sheet);
  ck_assert (!warning (follows, SP_REASON_STEP_NOISE));
  g_autoptr (SpFindings) turned = shop_judge (shop, "", SHEET ("keyed=s.csv\nstep=k.csv -10")); /* less attenuation in the step */
  ck_assert (!warning (turned, SP_REASON_STEP_NOISE));
  shop_close (shop);
}
END_TEST

/* One export in two roles, or twice in one, is one sweep; also by another name, and as the bench's unkeyed one. */
START_TEST (one_export_is_one_sweep)
{
  char *shop = shop_open ();
  Sweep silent = swept (0, -3.01, -50, 7);
  silent.attenuation_db = NAN;
  put (shop, "k.csv", silent);
  put (shop, "copy.csv", silent);
  static const char *const sheets[] = { SHEET ("keyed=k.csv\nstep=k.csv 10"), SHEET ("keyed=k.csv\nstep=k.csv?attenuation=30 10"),
                                        SHEET ("keyed=k.csv; copy.csv"), SHEET ("keyed=k.csv\nunkeyed=k.csv"),
                                        HEAD "unkeyed=copy.csv\n[radio Testling]\nfundamental=146.2MHz\nkeyed=k.csv\n" };
  static const SpPurpose role[] = { SP_PURPOSE_STEP, SP_PURPOSE_STEP, SP_PURPOSE_KEYED, SP_PURPOSE_UNKEYED, SP_PURPOSE_UNKEYED };
  for (guint i = 0; i < G_N_ELEMENTS (sheets); i++) {
    g_autoptr (SpFindings) f = shop_judge (shop, "", sheets[i]);
    const SpReason *why = warning (f, SP_REASON_SAME_EXPORT);
    ck_assert_msg (why != NULL, "%s", sheets[i]);
    ck_assert_int_eq (why->SAME_EXPORT.purpose, (int) role[i]);
    ck_assert (g_str_has_suffix (why->SAME_EXPORT.other_file, "k.csv"));
    expect_origin (harmonic (f, 2), SP_ORIGIN_UNTESTED, SP_BASIS_NONE, SP_VERDICT_NOT_PROVEN);
    ck_assert (f->conditions[0].n_corrected == 1 && f->conditions[0].n_compared == 0 && harmonic (f, 2)->repeats == 1);
  }
  put (shop, "k.csv", swept (0, -3.01, -50, 7));
  put (shop, "copy.csv", swept (0, -3.01, -50, 8));
  g_autoptr (SpFindings) two = shop_judge (shop, "", sheets[2]);
  ck_assert (!warning (two, SP_REASON_SAME_EXPORT) && harmonic (two, 2)->repeats == 2);
  shop_close (shop);
}
END_TEST

/* A keyed sweep swept again, given as unkeyed: nothing else stands at f0 with 5 W. */
START_TEST (an_unkeyed_sweep_with_the_carrier_in_it)
{
  char *shop = shop_open ();
  put (shop, "k.csv", swept (0, -3.01, -45, 7));
  put (shop, "u.csv", swept (0, -3.01, -45, 8));
  const char *sheet = SHEET ("keyed=k.csv\nunkeyed=u.csv");
  g_autoptr (SpFindings) f = shop_judge (shop, SHOP_INTERCEPTS, sheet);
  expect_origin (harmonic (f, 2), SP_ORIGIN_RADIO, SP_BASIS_PREDICTED, SP_VERDICT_EXCEEDS);
  const SpReason *why = warning (f, SP_REASON_UNKEYED_CARRIER);
  ck_assert_ptr_nonnull (why);
  ck_assert_double_eq_tol (why->UNKEYED_CARRIER.carrier_dbm, 36.99, 0.1);
  ck_assert_double_eq_tol (why->UNKEYED_CARRIER.power_dbm, 36.99, 0.1);
  ck_assert (!harmonic (f, 2)->evidence);
  put (shop, "u.csv", swept (0, -50, -45, 8)); /* a trace of it at rest, 47 dB down: not keyed */
  g_autoptr (SpFindings) rest = shop_judge (shop, SHOP_INTERCEPTS, sheet);
  ck_assert (!warning (rest, SP_REASON_UNKEYED_CARRIER));
  expect_origin (harmonic (rest, 2), SP_ORIGIN_AMBIENT, SP_BASIS_UNKEYED, SP_VERDICT_NOT_PROVEN);
  shop_close (shop);
}
END_TEST

/* Seen at -10, unkeyed at -13.4, so up to -10.4: the radio's own lies within -10 less and more that, in amplitude: -37 and -4.2 dBm. No step
 * of attenuation tells the two apart, and no probability stands beside a verdict that the part decided. */
START_TEST (what_stands_there_unkeyed_may_be_a_part)
{
  char *shop = shop_open ();
  put (shop, "k.csv", swept (0, -3.01, -50, 7));
  Sweep room = swept (0, -3.01, -53.4, 8);
  room.lines[0].level_dbm = -150;
  put (shop, "u.csv", room);
  const char *sheet = SHEET ("keyed=k.csv\nunkeyed=u.csv");
  g_autoptr (SpFindings) f = shop_judge (shop, SHOP_INTERCEPTS, sheet);
  const SpEmission *e = harmonic (f, 2);
  expect_origin (e, SP_ORIGIN_RADIO, SP_BASIS_PREDICTED, SP_VERDICT_INCONCLUSIVE);
  ck_assert_int_eq (e->reason->code, SP_REASON_AMBIENT_PART);
  ck_assert_double_eq_tol (e->reason->AMBIENT_PART.ambient_dbm, -13.4, 0.2);
  ck_assert_double_eq_tol (e->reason->AMBIENT_PART.part_high_dbm, 20 * log10 (pow (10, -10 / 20.) + pow (10, -10.4 / 20)), 0.3);
  ck_assert_int_eq (e->would_prove->code, SP_REASON_PROVE_AMBIENT);
  ck_assert_int_eq (e->decision, SP_DECISION_PART_HIGH);
  ck_assert (isnan (sp_emission_deciding_conformity (e)));
  /* 30 dB below it is still a part, but one that decides nothing: 6 dB over, by the level, whose probability is the radio's own
   * (core/docs/computation.md, section 13: none where the origin is mixed, analyzer or ambient, and no others) */
  room.lines[1].level_dbm = -80;
  put (shop, "u.csv", room);
  g_autoptr (SpFindings) faint = shop_judge (shop, SHOP_INTERCEPTS, sheet);
  expect_origin (harmonic (faint, 2), SP_ORIGIN_RADIO, SP_BASIS_PREDICTED, SP_VERDICT_EXCEEDS);
  ck_assert_int_eq (harmonic (faint, 2)->decision, SP_DECISION_LEVEL);
  ck_assert (sp_emission_deciding_conformity (harmonic (faint, 2)) < 0.001);
  room.lines[1].level_dbm = -150;
  put (shop, "u.csv", room);
  g_autoptr (SpFindings) none = shop_judge (shop, SHOP_INTERCEPTS, sheet);
  ck_assert (!isnan (harmonic (none, 2)->conformity));
  shop_close (shop);
}
END_TEST

/* 1 dB under the limit, with -22 dBm unkeyed: the radio's may reach -11.9. Not to know the attenuation must not make it comply. */
START_TEST (to_know_less_does_not_help)
{
  char *shop = shop_open ();
  Sweep keyed = swept (0, -3.01, -57, 7), room = swept (0, -150, -62, 8);
  for (guint known = 0; known < 2; known++) {
    keyed.attenuation_db = known ? 20 : NAN;
    put (shop, "k.csv", keyed);
    put (shop, "u.csv", room);
    g_autoptr (SpFindings) f = shop_judge (shop, SHOP_INTERCEPTS, SHEET ("keyed=k.csv\nunkeyed=u.csv"));
    const SpEmission *e = harmonic (f, 2);
    ck_assert_str_eq (sp_verdict_name (e->verdict), sp_verdict_name (known ? SP_VERDICT_INCONCLUSIVE : SP_VERDICT_NOT_PROVEN));
    ck_assert_int_eq (e->reason->code, SP_REASON_AMBIENT_PART);
    ck_assert_int_eq (e->would_prove->code, SP_REASON_PROVE_AMBIENT);
    ck_assert_double_eq_tol (e->radio_high_dbm, 20 * log10 (pow (10, -17 / 20.) + pow (10, -19 / 20.)), 0.4);
    ck_assert ((isinf (e->radio_low_dbm) != 0) == !known && isnan (sp_emission_deciding_conformity (e)) == known);
  }
  shop_close (shop);
}
END_TEST

/* Within U of the limit it is U that leaves it open, whatever faint line the air has there. */
START_TEST (a_faint_line_is_not_to_blame)
{
  char *shop = shop_open ();
  put (shop, "k.csv", swept (0, -3.01, -56.1, 7));
  put (shop, "u.csv", swept (0, -150, -86, 8));
  g_autoptr (SpFindings) f = shop_judge (shop, SHOP_INTERCEPTS, SHEET ("keyed=k.csv\nunkeyed=u.csv"));
  ck_assert_int_eq (harmonic (f, 2)->verdict, SP_VERDICT_INCONCLUSIVE);
  ck_assert_int_eq (harmonic (f, 2)->reason->code, SP_REASON_WITHIN_UNCERTAINTY);
  shop_close (shop);
}
END_TEST

/* 10 dB over by the reading, of which the analyzer may make up to q_high: the radio's own part is o - q in amplitude at the least. */
START_TEST (how_far_over_the_radios_part_is)
{
  char *shop = shop_open ();
  put (shop, "k.csv", swept (0, -3.01, -46, 7));
  g_autoptr (SpFindings) f = shop_judge (shop, "second_intercept_dbm=30\nintercept_u_db=0\n", SHEET ("keyed=k.csv"));
  const SpEmission *e = harmonic (f, 2);
  expect_origin (e, SP_ORIGIN_RADIO, SP_BASIS_PREDICTED, SP_VERDICT_EXCEEDS);
  ck_assert_int_eq (e->reason->code, SP_REASON_ABOVE_LIMIT);
  ck_assert_double_eq_tol (e->reason->ABOVE_LIMIT.over_db, -6 - LIMIT, 0.3);
  double low = 20 * log10 (pow (10, e->level_dbm / 20) - pow (10, e->product_high_dbm / 20));
  ck_assert_double_eq_tol (e->reason->ABOVE_LIMIT.part_over_db, low - LIMIT, 0.01);
  ck_assert (e->reason->ABOVE_LIMIT.part_over_db > 3 && e->reason->ABOVE_LIMIT.part_over_db < 7);
  g_autoptr (SpFindings) all = shop_judge (shop, SHOP_INTERCEPTS, SHEET ("keyed=k.csv"));
  ck_assert (isnan (harmonic (all, 2)->reason->ABOVE_LIMIT.part_over_db)); /* the reading is the radio's, within U */
  shop_close (shop);
}
END_TEST

/* Steps that test nothing say why, where a verdict is open. */
START_TEST (steps_that_do_not_tell)
{
  char *shop = shop_open ();
  put (shop, "k.csv", swept (0, -3.01, -50, 7));
  Sweep below = swept (10, -3.01, -50, 8), small = swept (2, -3.01, -50, 9), deaf = swept (10, -3.01, -150, 10);
  below.stop_hz = 201e6;
  below.points = 4001;
  deaf.noise_dbm = -62;
  put (shop, "below.csv", below);
  put (shop, "small.csv", small);
  put (shop, "deaf.csv", deaf);
  g_autoptr (SpFindings) span = shop_judge (shop, "", SHEET ("keyed=k.csv\nstep=below.csv 10"));
  ck_assert (warning (span, SP_REASON_STEP_SPAN) && !tested (span));
  ck_assert_double_eq_tol (warning (span, SP_REASON_STEP_SPAN)->STEP_SPAN.at_hz, SECOND, 50e3);
  g_autoptr (SpFindings) least = shop_judge (shop, "", SHEET ("keyed=k.csv\nstep=small.csv 2"));
  ck_assert (warning (least, SP_REASON_STEP_SMALL) && !tested (least));
  ck_assert_double_eq (warning (least, SP_REASON_STEP_SMALL)->STEP_SMALL.moves_db, 2);
  g_autoptr (SpFindings) shallow = shop_judge (shop, "", SHEET ("keyed=k.csv\nstep=deaf.csv 10"));
  ck_assert (warning (shallow, SP_REASON_STEP_FLOOR) && !tested (shallow));
  double could = warning (shallow, SP_REASON_STEP_FLOOR)->STEP_FLOOR.detection_dbm;
  ck_assert (could > -22 + 11.4 - 0.5
             && could < -22 + 13.5); /* L_D of 3 and of 1001 points over the noise (core/docs/computation.md, section 8): it is 5 */
  ck_assert_double_eq_tol (warning (shallow, SP_REASON_STEP_FLOOR)->STEP_FLOOR.level_dbm, -10, 0.3);
  /* nothing to say where another step told */
  put (shop, "s.csv", swept (10, -3.01, -50, 11));
  g_autoptr (SpFindings) told = shop_judge (shop, "", SHEET ("keyed=k.csv\nstep=below.csv 10; s.csv 10"));
  ck_assert (tested (told) && !warning (told, SP_REASON_STEP_SPAN));
  shop_close (shop);
}
END_TEST

/* The step's chain has a pad of 10 dB more, the sheet says 20: the chain counts, and it is said. */
START_TEST (a_pad_of_another_size)
{
  char *shop = shop_open ();
  put (shop, "k.csv", swept (0, -3.01, -46, 7));
  Sweep pad = swept (0, -13.01, -56, 8);
  put (shop, "s.csv", pad);
  g_autofree char *chain = g_strdup (SHOP_CHAIN);
  memcpy (strstr (chain, "10.0 0.05; 3GHz 10.0"), "20.0 0.05; 3GHz 20.0", 20);
  shop_put (shop, "p.chain", chain);
  g_autoptr (SpFindings) wrong = shop_judge (shop, "", SHEET ("keyed=k.csv\nstep=s.csv 20\nstep_chain=p.chain"));
  const SpReason *why = warning (wrong, SP_REASON_STEP_PAD);
  ck_assert (why && why->STEP_PAD.step_db == 20 && fabs (why->STEP_PAD.chain_db - 10) < 1e-9);
  expect_origin (harmonic (wrong, 2), SP_ORIGIN_RADIO, SP_BASIS_STEP, SP_VERDICT_EXCEEDS);
  ck_assert_double_eq_tol (harmonic (wrong, 2)->evidence->points[1].attenuation_db, 10, 1e-9);
  g_autoptr (SpFindings) right = shop_judge (shop, "", SHEET ("keyed=k.csv\nstep=s.csv 10\nstep_chain=p.chain"));
  ck_assert (!warning (right, SP_REASON_STEP_PAD) && !warning (right, SP_REASON_STEP_CARRIER));
  /* and the carrier must stand still through that chain too */
  put (shop, "s.csv", swept (0, -23.01, -66, 9));
  g_autoptr (SpFindings) fell = shop_judge (shop, "", SHEET ("keyed=k.csv\nstep=s.csv 10\nstep_chain=p.chain"));
  ck_assert (warning (fell, SP_REASON_STEP_CARRIER) && isnan (warning (fell, SP_REASON_STEP_CARRIER)->STEP_CARRIER.step_db)
             && !tested (fell));
  shop_close (shop);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("judge/usable");
  TCase *c = tcase_create ("usable");
  tcase_set_timeout (c, 60);
  tcase_add_test (c, a_pad_outside_is_no_step_of_the_analyzers);
  tcase_add_test (c, a_carrier_stands_still_drifts_or_was_compressed);
  tcase_add_test (c, what_moved_is_allowed_for);
  tcase_add_test (c, without_a_carrier_the_noise_tells);
  tcase_add_test (c, noise_that_does_not_follow_the_step);
  tcase_add_test (c, one_export_is_one_sweep);
  tcase_add_test (c, an_unkeyed_sweep_with_the_carrier_in_it);
  tcase_add_test (c, what_stands_there_unkeyed_may_be_a_part);
  tcase_add_test (c, to_know_less_does_not_help);
  tcase_add_test (c, a_faint_line_is_not_to_blame);
  tcase_add_test (c, how_far_over_the_radios_part_is);
  tcase_add_test (c, steps_that_do_not_tell);
  tcase_add_test (c, a_pad_of_another_size);
  suite_add_tcase (s, c);
  return s;
}

SP_MAIN (suite)
