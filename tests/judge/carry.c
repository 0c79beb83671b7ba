/* carry.c - an order that the profile is silent on: one condition's step test settles weaker ones of the bench, and no other; and where none was taken, which would */
#include "core/judge/judge.h"
#include "tests/suite.h"

#include "tests/judge/workshop.h"
#include "ui/words/words.h"

#define F0 146e6
#define ORDER 4
#define LIMIT_DBC 60.0
#define CHAIN_DB 40.0
#define ANALYZER "second_intercept_dbm=60\nthird_harmonic_intercept_dbm=50\nbest_mixer_dbm=-20\nattenuator_steps_db=0;10;20;30;40\n"
#define MASK                                                                                                                               \
  "[mask]\nname=Test limit\nharmonics=5\n[rule 1]\nfundamental=30MHz 225MHz\npower_w=0 inf\nemission=200MHz 3GHz\nattenuation_db=60\n"

/* A radio keyed at a power, and what stands at its 4th harmonic, both as the analyzer's input gets them: its own, and what the mixer makes at 20 dB. */
typedef struct {
  double f0, carrier_dbm, own_dbm, made_dbm, phase, attenuation_db;
} World;

/* At so much more attenuation the mixer makes 3 dB less a dB, at the input. */
static void
put_world (const char *shop, const char *name, const World *w, double step_db, guint32 seed)
{
  double r = pow (10, w->own_dbm / 20), q = pow (10, (w->made_dbm - (ORDER - 1) * step_db) / 20);
  double sum = sqrt (r * r + q * q + 2 * r * q * cos (w->phase));
  Sweep s = { .start_hz = 100e6,
              .stop_hz = 800e6,
              .points = 7001,
              .rbw_hz = 300e3,
              .attenuation_db = w->attenuation_db + step_db,
              .detector = "sample",
              .noise_dbm = -105 + step_db,
              .lines = { { w->f0, w->carrier_dbm }, { ORDER * w->f0, 20 * log10 (sum + 1e-12) } },
              .seed = seed };
  shop_put_sweep (shop, name, &s);
}

static SpFindings *
judged (const char *shop, const char *radios)
{
  shop_put (shop, "t.mask", MASK);
  g_autofree char *sheet
      = g_strdup_printf ("[bench]\nchain=t.chain\nanalyzer=t.analyzer\nmask=t.mask\nradio_vswr=1\nradio_harmonic_vswr=1\nmodulation=none\n"
                         "necessary_bandwidth=16kHz\n%s",
                         radios);
  g_autoptr (SpBench) bench = shop_bench (shop, ANALYZER, sheet);
  return sp_judge (bench);
}

static const SpEmission *
fourth (const SpFindings *f, guint condition)
{
  return &f->conditions[condition].emissions[ORDER - 2];
}

static const World strong = { F0, -3, -60, -150, 0, 20 }, weak = { F0, -8, -64, -150, 0, 20 };
#define STRONG "[radio Strong]\nfundamental=146MHz\nkeyed=s.csv\n"
#define WEAK "[radio Weak]\nfundamental=146MHz\nkeyed=w.csv\n"

/* The weak one stands 4 dB over its limit, and is the radio's own: that the strong one's step tells. */
START_TEST (the_strongest_step_settles_the_weaker)
{
  char *shop = shop_open ();
  put_world (shop, "s.csv", &strong, 0, 3);
  put_world (shop, "a.csv", &strong, 10, 5);
  put_world (shop, "w.csv", &weak, 0, 7);
  g_autoptr (SpFindings) alone = judged (shop, STRONG WEAK);
  for (guint i = 0; i < 2; i++) {
    ck_assert_int_eq (fourth (alone, i)->origin, SP_ORIGIN_UNTESTED);
    ck_assert_int_eq (fourth (alone, i)->verdict, SP_VERDICT_NOT_PROVEN);
  }
  g_autoptr (SpFindings) f = judged (shop, STRONG "step=a.csv 10\n" WEAK);
  const SpEmission *e = fourth (f, 1);
  ck_assert_int_eq (fourth (f, 0)->origin_basis, SP_BASIS_STEP);
  ck_assert_int_eq (e->origin, SP_ORIGIN_RADIO);
  ck_assert_int_eq (e->origin_basis, SP_BASIS_PREDICTED);
  ck_assert_int_eq (e->verdict, SP_VERDICT_EXCEEDS);
  ck_assert (sp_reasons_have (f->conditions[1].warnings, SP_REASON_PRODUCT_CARRIED));
  ck_assert (!sp_reasons_have (f->conditions[0].warnings, SP_REASON_PRODUCT_CARRIED));
  /* by hand: at the mixer 5 dB less than there, where the upper end of the analyzer's part was that; u of the step 0.2 and 0.05 dB over root 3 */
  double there = fourth (f, 0)->evidence->analyzer_high_dbm, u = hypot (0.2, 0.05) / sqrt (3);
  ck_assert_double_eq_tol (e->product_high_dbm, there - ORDER * 5 + 2 * ORDER * u, 0.2); /* the carriers as read, with their noise */
  shop_close (shop);
}
END_TEST

/* The same whichever stands first on the sheet, and the tested one is as it was. */
START_TEST (order_on_the_sheet_does_not_matter)
{
  char *shop = shop_open ();
  put_world (shop, "s.csv", &strong, 0, 3);
  put_world (shop, "a.csv", &strong, 10, 5);
  put_world (shop, "w.csv", &weak, 0, 7);
  g_autoptr (SpFindings) a = judged (shop, STRONG "step=a.csv 10\n" WEAK), b = judged (shop, WEAK STRONG "step=a.csv 10\n");
  g_autoptr (SpFindings) only = judged (shop, STRONG "step=a.csv 10\n");
  ck_assert_double_eq (fourth (a, 1)->product_high_dbm, fourth (b, 0)->product_high_dbm);
  ck_assert_int_eq (fourth (a, 1)->verdict, fourth (b, 0)->verdict);
  ck_assert_double_eq (fourth (a, 0)->radio_high_dbm, fourth (only, 0)->radio_high_dbm);
  ck_assert_int_eq (fourth (a, 0)->verdict, fourth (only, 0)->verdict);
  shop_close (shop);
}
END_TEST

/* What the test says nothing about stays untested. */
static const struct {
  const char *why;
  World tested, other;
  const char *other_analyzer;
} rows[] = {
  { "more at the mixer than was tested", { F0, -8, -64, -150, 0, 20 }, { F0, -3, -60, -150, 0, 20 }, NULL },
  { "another band", { 100.1e6, -3, -60, -150, 0, 20 }, { F0, -8, -64, -150, 0, 20 }, NULL },
  { "more attenuation there", { F0, 7, -60, -150, 0, 30 }, { F0, -8, -64, -150, 0, 20 }, NULL },
  { "overdriven there", { F0, 5, -60, -150, 0, 20 }, { F0, -8, -64, -150, 0, 20 }, NULL },
  { "another analyzer", { F0, -3, -60, -150, 0, 20 }, { F0, -8, -64, -150, 0, 20 }, "analyzer=u.analyzer\n" },
};
START_TEST (what_it_says_nothing_of_stays_untested)
{
  char *shop = shop_open ();
  put_world (shop, "s.csv", &rows[_i].tested, 0, 3);
  put_world (shop, "a.csv", &rows[_i].tested, 10, 5);
  put_world (shop, "w.csv", &rows[_i].other, 0, 7);
  shop_put (shop, "u.analyzer", SHOP_ANALYZER ANALYZER "frequency_ppm=3\n");
  g_autofree char *sheet = g_strdup_printf ("[radio Tested]\nfundamental=%.0f\nkeyed=s.csv\nstep=a.csv 10\n" WEAK "%s", rows[_i].tested.f0,
                                            rows[_i].other_analyzer ? rows[_i].other_analyzer : "");
  g_autoptr (SpFindings) f = judged (shop, sheet);
  ck_assert_msg (fourth (f, 0)->evidence && fourth (f, 0)->evidence->n == 2, "%s: no test", rows[_i].why);
  ck_assert_msg (fourth (f, 1)->origin == SP_ORIGIN_UNTESTED, "%s", rows[_i].why);
  ck_assert_int_eq (fourth (f, 1)->verdict, SP_VERDICT_NOT_PROVEN);
  shop_close (shop);
}
END_TEST

/* Any mix of the radio's own and the mixer's, in any phase: what is carried never turns the mixer's into the radio's, nor hides the radio's. */
START_TEST (nothing_is_settled_wrongly)
{
  char *shop = shop_open ();
  g_autoptr (GRand) rand = g_rand_new_with_seed (41);
  guint exceeds = 0, open = 0;
  for (guint i = 0; i < 120; i++) {
    double made = g_rand_double_range (rand, -90, -50), less = g_rand_double_range (rand, 0, 12);
    World a = { F0, -3, g_rand_double_range (rand, -75, -50), made, g_rand_double_range (rand, 0, 2 * G_PI), 20 };
    World b = {
      F0, -3 - less, g_rand_double_range (rand, -80, -55) - less, made - ORDER * less, g_rand_double_range (rand, 0, 2 * G_PI), 20
    };
    put_world (shop, "s.csv", &a, 0, 1000 + i);
    put_world (shop, "a.csv", &a, 10, 2000 + i);
    put_world (shop, "w.csv", &b, 0, 3000 + i);
    g_autoptr (SpFindings) f = judged (shop, STRONG "step=a.csv 10\n" WEAK);
    const SpEmission *e = fourth (f, 1);
    double over = b.own_dbm - b.carrier_dbm + LIMIT_DBC; /* of the radio's own part */
    ck_assert_msg (e->verdict != SP_VERDICT_EXCEEDS || over > -0.5, "%u: exceeds, and lies %.1f dB under", i, -over);
    ck_assert_msg (e->verdict != SP_VERDICT_COMPLIES || over < 0.5, "%u: complies, and lies %.1f dB over", i, over);
    exceeds += e->verdict == SP_VERDICT_EXCEEDS && e->origin_basis == SP_BASIS_PREDICTED;
    open += e->verdict == SP_VERDICT_NOT_PROVEN;
  }
  ck_assert_uint_ge (exceeds, 15);
  ck_assert_uint_ge (open, 1);
  shop_close (shop);
}
END_TEST

/* Three of one band at three powers, none tested: a step at the strongest would settle all, and each of them says so. */
START_TEST (it_is_said_which_step_would_settle_several)
{
  static const World middle = { F0, -6, -62, -150, 0, 20 };
  char *shop = shop_open ();
  put_world (shop, "s.csv", &strong, 0, 3);
  put_world (shop, "m.csv", &middle, 0, 5);
  put_world (shop, "w.csv", &weak, 0, 7);
  g_autoptr (SpFindings) f = judged (shop, WEAK STRONG "[radio Middle]\nfundamental=146MHz\nkeyed=m.csv\n");
  for (guint i = 0; i < 3; i++) {
    const SpReason *step = fourth (f, i)->would_prove;
    ck_assert_int_eq (step->code, SP_REASON_PROVE_STEP);
    ck_assert_str_eq (step->PROVE_STEP.condition, "Strong");
    ck_assert_double_eq (step->PROVE_STEP.settles, 3);
    g_autofree char *sentence = sp_words_reason (step, SP_HAND_MACHINE);
    ck_assert_ptr_nonnull (strstr (sentence, " One step sweep of Strong would settle 3 conditions."));
  }
  g_autoptr (SpFindings) two = judged (shop, WEAK);
  ck_assert_pstr_eq (fourth (two, 0)->would_prove->PROVE_STEP.condition, NULL);
  shop_close (shop);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("carry");
  TCase *t = tcase_create ("carry");
  tcase_set_timeout (t, 120);
  tcase_add_test (t, the_strongest_step_settles_the_weaker);
  tcase_add_test (t, order_on_the_sheet_does_not_matter);
  tcase_add_loop_test (t, what_it_says_nothing_of_stays_untested, 0, G_N_ELEMENTS (rows));
  tcase_add_test (t, nothing_is_settled_wrongly);
  tcase_add_test (t, it_is_said_which_step_would_settle_several);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
