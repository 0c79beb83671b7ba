/* decision.c - the figure beside a verdict is the one that it goes by, and what stands above the limit unsettled is not hidden behind it */
#include "tests/judge/found.h"

#include "core/judge/judge.h"
#include "core/judge/verdict/verdict.h"

#define LIMIT (-16.0)
#define U 0.9

static const SpGuard guarded = { U, U, U, U };

/* What was read, what can be the radio's own, whose it is; and what must be said of it. `shown` NaN: no figure. */
typedef struct {
  const char *what;
  double level, low, high;
  SpOrigin origin;
  SpVerdict verdict;
  double guard;
  SpDecision decision;
  double shown;
  double excess; /* a bound may read this much too high */
} Case;

static const Case cases[] = {
  { "the reading lies below, its own part above: the carrier's product took 3 dB off", -17, -14, -12, SP_ORIGIN_RADIO, SP_VERDICT_EXCEEDS,
    U, SP_DECISION_PART_LOW, -2 },
  { "the same read as a bound, 0.5 dB too much at most: that does not count against the radio", -17, -14, -12, SP_ORIGIN_RADIO,
    SP_VERDICT_EXCEEDS, U, SP_DECISION_PART_LOW, -1.5, 0.5 },
  { "the analyzer's, 25 dB above the limit", 9, -INFINITY, -26, SP_ORIGIN_ANALYZER, SP_VERDICT_COMPLIES, U, SP_DECISION_PART_HIGH, 10 },
  { "the radio's in part, above the limit, and that part below it", -14, -25, -18, SP_ORIGIN_RADIO, SP_VERDICT_COMPLIES, U,
    SP_DECISION_PART_HIGH, 2 },
  { "over by the level, and by its part too", -10, -11, -9, SP_ORIGIN_RADIO, SP_VERDICT_EXCEEDS, U, SP_DECISION_LEVEL, -6 },
  { "below by the level, and by its part too", -30, -31, -29, SP_ORIGIN_RADIO, SP_VERDICT_COMPLIES, U, SP_DECISION_LEVEL, 14 },
  { "the limit lies within its part", -19, -25, -15, SP_ORIGIN_RADIO, SP_VERDICT_INCONCLUSIVE, U, SP_DECISION_PART_HIGH, -1 },
  { "the limit lies within U", -16.2, -16.5, -15.9, SP_ORIGIN_RADIO, SP_VERDICT_INCONCLUSIVE, U, SP_DECISION_LEVEL, 0.2 },
  { "by the simple rule the level complies and its part does not", -16.2, -16.5, -15.9, SP_ORIGIN_RADIO, SP_VERDICT_INCONCLUSIVE, 0,
    SP_DECISION_PART_HIGH, -0.1 },
  { "whose it is nobody knows", -8, NAN, NAN, SP_ORIGIN_UNTESTED, SP_VERDICT_NOT_PROVEN, U, SP_DECISION_LEVEL, -8 },
  { "nor with what stands there unkeyed", -8, -INFINITY, -6, SP_ORIGIN_UNTESTED, SP_VERDICT_NOT_PROVEN, U, SP_DECISION_LEVEL, -8 },
  { "the radio's or the analyzer's", -18, -INFINITY, -14, SP_ORIGIN_MIXED, SP_VERDICT_NOT_PROVEN, U, SP_DECISION_PART_HIGH, -2 },
  { "from the air, and below the limit with all that fading could add", -29.5, -INFINITY, -21.7, SP_ORIGIN_AMBIENT, SP_VERDICT_COMPLIES, U,
    SP_DECISION_PART_HIGH, 5.7 },
  { "the radio's, but its power is not known", -30, -31, -29, SP_ORIGIN_RADIO, SP_VERDICT_NOT_PROVEN, U, SP_DECISION_LEVEL, 14 },
};

static SpEmission
emission_of (const Case *c)
{
  SpEmission e = { .order = 2, .swept = TRUE, .detected = TRUE, .calibrated = TRUE, .level_dbm = c->level, .limit_dbm = LIMIT };
  e.radio_low_dbm = c->low;
  e.radio_high_dbm = c->high;
  e.excess_db = c->excess;
  e.margin_db = LIMIT - c->level;
  e.conformity = 0.5;
  e.origin = c->origin;
  e.verdict = c->verdict;
  e.budget.expanded_margin_db = e.budget.expanded_margin_low_db = U;
  return e;
}

START_TEST (the_figure_is_what_the_verdict_goes_by)
{
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
    SpEmission e = emission_of (&cases[i]);
    SpGuard guard = { cases[i].guard, U, cases[i].guard, U };
    e.decision = sp_judging_decision (&e, &guard);
    ck_assert_msg (e.decision == cases[i].decision, "%s: %s, not %s", cases[i].what, sp_decision_name (e.decision),
                   sp_decision_name (cases[i].decision));
    double room = sp_emission_deciding_margin_db (&e);
    ck_assert_msg (fabs (room - cases[i].shown) < 1e-9, "%s: %g, not %g", cases[i].what, room, cases[i].shown);
    ck_assert_msg (e.verdict != SP_VERDICT_COMPLIES || room >= cases[i].guard, "%s: complies with %g", cases[i].what, room);
    ck_assert_msg (e.verdict != SP_VERDICT_EXCEEDS || room < -cases[i].guard, "%s: exceeds with %g", cases[i].what, room);
    ck_assert_msg (isnan (sp_emission_deciding_conformity (&e)) == (e.decision != SP_DECISION_LEVEL), "%s: p beside a part", cases[i].what);
  }
}
END_TEST

/* Outside calibration only 6 dB beyond U exceed, by the part as by the level. */
START_TEST (outside_calibration_the_part_may_decide_too)
{
  Case c = { "", -7, -12, -5, SP_ORIGIN_RADIO, SP_VERDICT_NOT_PROVEN, U, SP_DECISION_PART_HIGH, -11 };
  SpEmission e = emission_of (&c);
  e.calibrated = FALSE;
  e.decision = sp_judging_decision (&e, &guarded);
  ck_assert_int_eq (e.decision, SP_DECISION_PART_HIGH);
  e.level_dbm = -13; /* the level alone would not exceed either */
  e.decision = sp_judging_decision (&e, &guarded);
  ck_assert_int_eq (e.decision, SP_DECISION_LEVEL);
}
END_TEST

/* A loss that nobody measured leaves no room to be told, whatever the number is; nor a probability. */
START_TEST (by_a_guessed_loss_there_is_no_room)
{
  static const SpVerdictRow rows[] = { SP_ROW_UNCALIBRATED, SP_ROW_POWER_UNCALIBRATED, SP_ROW_GROSS_EXCESS };
  Case c = { "", -30, NAN, NAN, SP_ORIGIN_UNTESTED, SP_VERDICT_NOT_PROVEN, U, SP_DECISION_LEVEL, 14 };
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    SpEmission e = emission_of (&c);
    gboolean guessed = rows[i] != SP_ROW_GROSS_EXCESS;
    SpConditionFindings found = { .n_emissions = 1, .emissions = &e, .worst_emission = 0 };
    e.row = rows[i];
    e.conformity = 0.9;
    e.decision = sp_judging_decision (&e, &guarded);
    ck_assert_double_eq (sp_emission_deciding_margin_db (&e), 14);
    ck_assert_int_eq (sp_emission_room_is_known (&e), !guessed);
    ck_assert_int_eq (isnan (sp_emission_room_db (&e)), guessed);
    ck_assert_int_eq (isnan (sp_findings_room_db (&found)), guessed);
    ck_assert_int_eq (isnan (sp_emission_deciding_conformity (&e)), guessed);
  }
}
END_TEST

START_TEST (where_nothing_was_seen_the_floor_or_nothing)
{
  Case c = { "", -30, NAN, NAN, SP_ORIGIN_NONE, SP_VERDICT_COMPLIES, U, SP_DECISION_FLOOR, 14 };
  SpEmission e = emission_of (&c);
  e.detected = FALSE;
  e.decision = sp_judging_decision (&e, &guarded);
  ck_assert_int_eq (e.decision, SP_DECISION_FLOOR);
  ck_assert_double_eq (sp_emission_deciding_margin_db (&e), 14);
  e.verdict = SP_VERDICT_NOT_PROVEN;
  e.sampling_loss_db = SP_BLIND_LOSS_DB + 1;
  e.decision = sp_judging_decision (&e, &guarded);
  ck_assert_int_eq (e.decision, SP_DECISION_BLIND);
  ck_assert (isnan (sp_emission_deciding_margin_db (&e)));
  e.verdict = SP_VERDICT_NO_LIMIT;
  e.limit_dbm = e.margin_db = NAN;
  e.decision = sp_judging_decision (&e, &guarded);
  ck_assert_int_eq (e.decision, SP_DECISION_NONE);
}
END_TEST

/* ---- what stands above the limit unsettled ---- */

#define SHEET                                                                                                                              \
  "[bench]\nchain=t.chain\nanalyzer=t.analyzer\nmask=us-amateur\ntemperature_c=23\nnecessary_bandwidth=16kHz\nradio_vswr=1.0\n"            \
  "radio_harmonic_vswr=1.0\n[radio Testling]\nfundamental=146.2MHz\nkeyed=k.csv\n"

static SpFindings *
judged (const char *shop, double second_dbm, double spur_dbm)
{
  Sweep w = { 1e6, 1601e6,   32001, 100e3,
              20,  "sample", -90,   { { 146.2e6, -3.01 }, { 292.4e6, second_dbm }, { 500e6, spur_dbm }, { 700e6, spur_dbm - 3 } },
              7 };
  shop_put_sweep (shop, "k.csv", &w);
  return shop_judge (shop, SHOP_INTERCEPTS, SHEET);
}

/* The limit is -16.02 dBm, the chain 40 dB. The 2nd harmonic 0.2 dB below it is inconclusive, which is the worse verdict; a spur 8 dB above it, and
 * another 5 dB above, have no origin that anybody knows. The higher of the two is said, whatever makes the headline. */
START_TEST (what_stands_above_the_limit_unsettled_is_said)
{
  char *shop = shop_open ();
  g_autoptr (SpFindings) f = judged (shop, -56.2, -48.0);
  const SpConditionFindings *c = &f->conditions[0];
  ck_assert_str_eq (sp_verdict_name (c->verdict), "inconclusive");
  ck_assert_uint_eq (sp_findings_deciding (c)->order, 2);
  const SpEmission *unsettled = sp_findings_unsettled (c);
  ck_assert_ptr_nonnull (unsettled);
  ck_assert_double_eq_tol (unsettled->frequency_hz, 500e6, 100e3);
  ck_assert_double_eq_tol (-unsettled->margin_db, 8.0, 0.3);
  ck_assert_str_eq (sp_verdict_name (unsettled->verdict), "not proven");
  /* also beside one that exceeds */
  g_autoptr (SpFindings) over = judged (shop, -40, -48.0);
  ck_assert_str_eq (sp_verdict_name (over->conditions[0].verdict), "exceeds");
  ck_assert_double_eq_tol (sp_findings_unsettled (&over->conditions[0])->frequency_hz, 500e6, 100e3);
  shop_close (shop);
}
END_TEST

/* Nothing besides: the one that decides has the first sentence, and what lies below its limit, or was not seen, wants none. */
START_TEST (else_there_is_no_second_sentence)
{
  char *shop = shop_open ();
  g_autoptr (SpFindings) below = judged (shop, -56.2, -70);
  ck_assert_ptr_null (sp_findings_unsettled (&below->conditions[0]));
  Sweep w = { 1e6, 1601e6, 32001, 100e3, 20, "sample", -90, { { 146.2e6, -3.01 }, { 292.4e6, -70 }, { 500e6, -48 } }, 7 };
  shop_put_sweep (shop, "k.csv", &w);
  g_autoptr (SpFindings) alone = shop_judge (shop, SHOP_INTERCEPTS, SHEET);
  ck_assert_str_eq (sp_verdict_name (alone->conditions[0].verdict), "not proven");
  ck_assert_double_eq_tol (sp_findings_deciding (&alone->conditions[0])->frequency_hz, 500e6, 100e3);
  ck_assert_ptr_null (sp_findings_unsettled (&alone->conditions[0]));
  shop_close (shop);
}
END_TEST

/* What a pointer reads out is the emission's verdict and room, not the margin of the point under it. */
START_TEST (at_an_emission_its_verdict_counts)
{
  char *shop = shop_open ();
  g_autoptr (SpFindings) f = judged (shop, -56.2, -48.0);
  const SpConditionFindings *c = &f->conditions[0];
  SpAt second = sp_findings_at (f, 0, 292.41e6), spur = sp_findings_at (f, 0, 500.02e6), nothing = sp_findings_at (f, 0, 600e6);
  ck_assert_int_eq (second.emission, 0);
  ck_assert_double_eq (second.order, 2);
  ck_assert_int_ge (spur.emission, 0);
  ck_assert_ptr_eq (&c->emissions[spur.emission], sp_findings_unsettled (c));
  ck_assert_int_eq (nothing.emission, -1);
  ck_assert_int_eq (sp_findings_at (f, 0, 146.2e6).emission, -1);
  shop_close (shop);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("judge/decision");
  TCase *t = tcase_create ("decision");
  tcase_set_timeout (t, 60);
  tcase_add_test (t, the_figure_is_what_the_verdict_goes_by);
  tcase_add_test (t, by_a_guessed_loss_there_is_no_room);
  tcase_add_test (t, outside_calibration_the_part_may_decide_too);
  tcase_add_test (t, where_nothing_was_seen_the_floor_or_nothing);
  tcase_add_test (t, what_stands_above_the_limit_unsettled_is_said);
  tcase_add_test (t, else_there_is_no_second_sentence);
  tcase_add_test (t, at_an_emission_its_verdict_counts);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
