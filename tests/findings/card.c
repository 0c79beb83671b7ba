/* card.c - what is wanted of a radio follows from what would prove it, is ticked by what there is, and nothing is keyed that would burn */
#include "core/findings/card.h"

#include "core/bench/edit/edit.h"
#include "core/bench/sheet/sheet.h"
#include "core/judge/judge.h"
#include "tests/suite.h"

#define QUELLDRIN 2 /* of the sample's conditions: keyed at 10 dB, a step of 10 dB, the bench's unkeyed sweep */

static SpBench *
sample (void)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = sp_test_path ("samples/pocket.sheet");
  SpBench *bench = sp_bench_read (path, &error);
  sp_no_error (error);
  return bench;
}

/* Takes `bench`. */
static SpFindings *
judged (SpBench *bench)
{
  SpFindings *findings = sp_judge (bench);
  sp_bench_unref (bench);
  return findings;
}

static SpBench *
with (SpBench *bench, guint condition, const char *key, const char *value)
{
  g_autoptr (GError) error = NULL;
  SpBench *edited = sp_bench_set_condition (bench, condition, key, value, &error);
  sp_no_error (error);
  sp_bench_unref (bench);
  return edited;
}

static SpBench *
with_purpose (SpBench *bench, guint condition, guint sweep, SpPurpose purpose)
{
  g_autoptr (GError) error = NULL;
  SpBench *edited = sp_bench_set_purpose (bench, condition, sweep, purpose, NAN, &error);
  sp_no_error (error);
  sp_bench_unref (bench);
  return edited;
}

static guint
count (const SpCard *card, SpWantedKind kind, gboolean done)
{
  guint n = 0;
  for (guint i = 0; i < card->n; i++)
    n += card->wanted[i].kind == kind && !card->wanted[i].done == !done;
  return n;
}

/* ---- one emission that asks for one thing, by hand ---- */

/* Other settings, a pad beside the sweep, a notch: each keyed for 7 s. */
static SpReason *
other_attenuation (void)
{
  return sp_reason (PROVE_SETTING, .detector = SP_NO_WORD, .average = SP_NO_WORD, .no_hold = FALSE, .attenuation_db = 20, .rbw_hz = NAN,
                    .points = NAN, .averages = NAN, .parts = NAN, .pad_db = NAN, .floor_dbm = -20, .key_down_parts = 1, .key_down_s = 7,
                    .pause_s = 0, .basis = SP_TIME_PROFILE);
}

static SpReason *
beside (void)
{
  return sp_reason (PROVE_BESIDE, .detector = SP_NO_WORD, .average = SP_NO_WORD, .no_hold = FALSE, .attenuation_db = 20, .rbw_hz = NAN,
                    .points = NAN, .averages = NAN, .parts = NAN, .pad_db = NAN, .part_dbm = -20, .key_down_parts = 1, .key_down_s = 7,
                    .pause_s = 0, .basis = SP_TIME_PROFILE);
}

static SpReason *
a_notch (void)
{
  return sp_reason (PROVE_NOTCH, .detector = SP_NO_WORD, .average = SP_NO_WORD, .no_hold = FALSE, .attenuation_db = NAN, .rbw_hz = NAN,
                    .points = NAN, .averages = NAN, .parts = NAN, .notch_db = 17, .floor_dbm = -20, .key_down_parts = 1, .key_down_s = 7,
                    .pause_s = 0, .basis = SP_TIME_PROFILE);
}

typedef struct {
  SpFindings findings;
  SpConditionFindings conditions[1];
  SpEmission emission;
  SpGap gap;
} Hand;

/* Quelldrin's sweeps as they are, one emission, and perhaps a gap. Takes the reasons. */
static void
by_hand (Hand *hand, const SpFindings *from, SpReason *would_prove, SpReason *would_close)
{
  *hand = (Hand){ .findings = *from };
  hand->conditions[0] = from->conditions[QUELLDRIN];
  hand->emission = hand->conditions[0].emissions[0];
  hand->emission.would_prove = would_prove;
  hand->gap = (SpGap){ .why = SP_REASON_TOO_WIDE, .would_close = would_close };
  hand->conditions[0].emissions = &hand->emission;
  hand->conditions[0].n_emissions = 1;
  hand->conditions[0].gaps = &hand->gap;
  hand->conditions[0].n_gaps = would_close ? 1 : 0;
  hand->findings.conditions = hand->conditions;
  hand->findings.n = 1;
}

static void
hand_clear (Hand *hand)
{
  g_clear_pointer (&hand->emission.would_prove, sp_reason_unref);
  g_clear_pointer (&hand->gap.would_close, sp_reason_unref);
}

/* What the reason makes wanted, beside the three sweeps that there are. Takes it. */
static SpWantedSweep
asked_by (const SpFindings *findings, SpReason *reason, int *now)
{
  Hand hand;
  by_hand (&hand, findings, reason, NULL);
  g_autoptr (SpCard) card = sp_card_new (&hand.findings, 0);
  ck_assert_uint_eq (card->n, 4);
  SpWantedSweep open = { 0 };
  for (guint i = 0; i < card->n; i++)
    if (!card->wanted[i].done)
      open = card->wanted[i];
  ck_assert_ptr_eq (open.reason, reason);
  ck_assert_int_eq (card->next, -1);
  *now = card->now;
  hand_clear (&hand);
  return open;
}

START_TEST (each_reason_asks_for_its_sweep)
{
  g_autoptr (SpFindings) findings = judged (sample ());
  const struct {
    SpReason *reason;
    SpWantedKind kind;
    SpPurpose purpose;
  } cases[] = {
    { sp_reason (PROVE_SWEEP, .to_hz = 1e9), SP_WANTED_AGAIN, SP_PURPOSE_KEYED },
    { sp_reason (PROVE_SAMPLING, .spacing_hz = 1e4, .points = 1001), SP_WANTED_AGAIN, SP_PURPOSE_KEYED },
    { sp_reason (PROVE_RESOLVE, .spacing_hz = 1e4, .rbw_hz = 1e4), SP_WANTED_AGAIN, SP_PURPOSE_KEYED },
    { sp_reason (PROVE_NARROWER, .rbw_hz = 1e4), SP_WANTED_AGAIN, SP_PURPOSE_KEYED },
    { sp_reason (PROVE_REFERENCE, .reading_dbm = -10), SP_WANTED_AGAIN, SP_PURPOSE_KEYED },
    { sp_reason (PROVE_RBW, .rbw_hz = 1e4), SP_WANTED_AGAIN, SP_PURPOSE_KEYED },
    { sp_reason (PROVE_STEP_NOISE, .pad = FALSE, .step_db = 10, .noise_db = 6), SP_WANTED_AGAIN, SP_PURPOSE_KEYED },
    { other_attenuation (), SP_WANTED_AGAIN, SP_PURPOSE_KEYED },
    { sp_reason (PROVE_STEP, .pad = FALSE, .condition = NULL, .step_db = 20, .order = 2, .settles = NAN), SP_WANTED_STEP, SP_PURPOSE_STEP },
    { sp_reason (PROVE_STEP_PAD, .pad_db = 6), SP_WANTED_STEP, SP_PURPOSE_STEP },
    { beside (), SP_WANTED_STEP, SP_PURPOSE_STEP },
    { a_notch (), SP_WANTED_NOTCHED, SP_PURPOSE_NOTCHED },
    { sp_reason (PROVE_AMBIENT, .at_hz = 99e6), SP_WANTED_SILENCE, SP_PURPOSE_KEYED },
    { sp_reason (PROVE_CALIBRATION, .at_hz = 1e9), SP_WANTED_ELSEWHERE, SP_PURPOSE_KEYED },
    { sp_reason (PROVE_RESIDUAL, .at_hz = 1e8), SP_WANTED_ELSEWHERE, SP_PURPOSE_KEYED },
  };
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
    int now;
    SpWantedSweep open = asked_by (findings, cases[i].reason, &now);
    ck_assert_msg (open.kind == cases[i].kind, "case %u: %s", i, sp_wanted_name (open.kind));
    ck_assert_int_eq (sp_wanted_purpose (open.kind), cases[i].purpose);
    ck_assert_msg ((now >= 0) == (open.kind != SP_WANTED_ELSEWHERE), "case %u", i); /* nobody keys what the desk has to do */
  }
}
END_TEST

/* Their numbers, and how long the key is down: as the advice says, else as long as the sweep that there is. */
START_TEST (numbers_are_the_advice_s)
{
  g_autoptr (SpFindings) findings = judged (sample ());
  int now;
  SpWantedSweep notch = asked_by (findings, a_notch (), &now);
  ck_assert (notch.notch_db == 17 && notch.key_down_s == 7 && notch.parts == 1);
  SpWantedSweep step = asked_by (findings,
                                 sp_reason (PROVE_STEP, .pad = TRUE, .condition = NULL, .step_db = 20, .order = 2, .settles = NAN), &now);
  ck_assert (step.more_db == 20 && step.pad);
  const SpTrace *keyed = findings->bench->conditions[QUELLDRIN].sweeps[0].trace;
  double span = keyed->frequency_hz[keyed->n - 1] - keyed->frequency_hz[0], rbw = keyed->settings.rbw_hz;
  sp_near ("key-down time", "2.5 span / RBW^2, common practice, no source", step.key_down_s, 2.5 * span / (rbw * rbw),
           0.01 * step.key_down_s);
}
END_TEST

START_TEST (a_stretch_comes_after_the_whole)
{
  g_autoptr (SpFindings) findings = judged (sample ());
  Hand hand;
  SpReason *close = sp_reason (PROVE_SPAN, .detector = SP_DETECTOR_PEAK, .average = SP_NO_WORD, .basis = SP_TIME_PROFILE, .from_hz = 144e6,
                               .to_hz = 148e6, .points = 1001, .parts = 3, .rbw_hz = 300, .attenuation_db = 20, .averages = NAN,
                               .notch_db = NAN, .key_down_s = 12, .pause_s = 12, .floor_dbm = -20);
  by_hand (&hand, findings, sp_reason (PROVE_STEP_PAD, .pad_db = 6), close);
  g_autoptr (SpCard) card = sp_card_new (&hand.findings, 0);
  const SpWantedSweep *last = &card->wanted[card->n - 1];
  ck_assert_int_eq (last->kind, SP_WANTED_STRETCH);
  ck_assert (last->from_hz == 144e6 && last->to_hz == 148e6 && last->parts == 3 && last->key_down_s == 12 && last->pause_s == 12);
  ck_assert_int_eq (card->wanted[card->now].kind, SP_WANTED_STEP);
  ck_assert_str_eq (sp_card_now_name (card), "step");
  hand.conditions[0].verdict = SP_VERDICT_EXCEEDS; /* a radio that exceeds does so whatever else is seen */
  g_autoptr (SpCard) settled = sp_card_new (&hand.findings, 0);
  ck_assert_int_eq (settled->now, -1);
  ck_assert_str_eq (sp_card_now_name (settled), "done");
  hand_clear (&hand);
}
END_TEST

/* ---- the sample's evening ---- */

START_TEST (what_there_is_is_ticked)
{
  g_autoptr (SpFindings) findings = judged (sample ());
  g_autoptr (SpCard) quelldrin = sp_card_new (findings, QUELLDRIN), orbanick = sp_card_new (findings, 0), stub = sp_card_new (findings, 5),
                     harrobeck = sp_card_new (findings, 7);
  ck_assert_uint_eq (count (quelldrin, SP_WANTED_KEYED, TRUE), 1);
  ck_assert (quelldrin->wanted[0].attenuation_db == 10);
  ck_assert_uint_eq (count (quelldrin, SP_WANTED_STEP, TRUE), 1);
  ck_assert_uint_eq (count (quelldrin, SP_WANTED_STEP, FALSE), 1); /* 20 dB, as its verdict asks */
  ck_assert_uint_eq (count (quelldrin, SP_WANTED_UNKEYED, TRUE), 1);
  ck_assert_str_eq (findings->conditions[quelldrin->next].name, "Morvenlick");
  ck_assert_str_eq (sp_card_now_name (orbanick), "done");
  ck_assert_int_eq (orbanick->next, QUELLDRIN); /* Tamsary exceeds: nothing more is wanted of it */
  ck_assert_uint_eq (count (stub, SP_WANTED_NOTCHED, TRUE), 1);
  ck_assert_uint_eq (harrobeck->wanted[0].n, 5);
  ck_assert_int_eq (harrobeck->next, QUELLDRIN); /* behind the last comes the first */
}
END_TEST

/* A superseded sweep is no sweep: without the step a notch would tell. And with none at all, the first comes first. */
START_TEST (what_is_gone_is_wanted)
{
  g_autoptr (SpFindings) without = judged (with_purpose (sample (), QUELLDRIN, 1, SP_PURPOSE_SUPERSEDED));
  g_autoptr (SpCard) card = sp_card_new (without, QUELLDRIN);
  ck_assert_uint_eq (count (card, SP_WANTED_STEP, TRUE), 0);
  ck_assert_str_eq (sp_card_now_name (card), "notched");
  ck_assert (card->wanted[card->now].notch_db > 10 && card->wanted[card->now].key_down_s > 0);
  g_autoptr (SpFindings) none = judged (
      with_purpose (with_purpose (sample (), QUELLDRIN, 1, SP_PURPOSE_SUPERSEDED), QUELLDRIN, 0, SP_PURPOSE_SUPERSEDED));
  g_autoptr (SpCard) first = sp_card_new (none, QUELLDRIN);
  const SpWantedSweep *now = &first->wanted[first->now];
  ck_assert_str_eq (sp_card_now_name (first), "keyed");
  ck_assert_uint_eq (count (first, SP_WANTED_KEYED, FALSE), 1);
  ck_assert (now->attenuation_db >= 0 && now->key_down_s > 0); /* as the plan advises */
  ck_assert (sp_card_keys (first));
}
END_TEST

/* A radio that exceeds and was never swept with the key up: what stands there may come from the air. */
START_TEST (the_key_up_is_wanted_where_it_may_tell)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = sp_test_path ("samples/club.sheet");
  g_autoptr (SpBench) bench = sp_bench_read (path, &error);
  sp_no_error (error);
  g_autoptr (SpFindings) findings = sp_judge (bench);
  g_autoptr (SpCard) clean = sp_card_new (findings, 0), over = sp_card_new (findings, 1);
  ck_assert_str_eq (sp_card_now_name (clean), "done");
  ck_assert_str_eq (sp_card_now_name (over), "unkeyed");
  ck_assert (!sp_card_keys (over));
}
END_TEST

/* 40 W through 0.2 dB of cable onto a pad that takes 25 W. */
START_TEST (nothing_is_keyed_that_would_burn)
{
  g_autoptr (SpFindings) findings = judged (with (sample (), QUELLDRIN, "rated_w", "40"));
  g_autoptr (SpCard) card = sp_card_new (findings, QUELLDRIN), before = sp_card_new (findings, 1);
  ck_assert_str_eq (sp_card_now_name (card), "do-not-key");
  ck_assert (sp_card_forbids (card) && !sp_card_keys (card));
  ck_assert (card->power_w == 40);
  ck_assert_str_eq (card->burns->UNSAFE.place, "brick");
  sp_outside ("power into the pad", "calculated: 40 W * 10^(-0.2 dB / 10)", card->burns->UNSAFE.power_w, 38.2, 0.2);
  ck_assert (card->burns->UNSAFE.rating_w == 25);
  ck_assert_int_eq (before->next, QUELLDRIN); /* and whoever looks at the one before it is told */
  ck_assert_ptr_nonnull (before->next_burns);
  ck_assert (before->next_power_w == 40 && !before->burns);
}
END_TEST

/* Nobody stated power and frequency: no number is invented. */
START_TEST (what_nobody_stated_is_not_known)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SpBench) bench = sample ();
  SpBench *added = sp_bench_add_radio_named (bench, "Wimmerholt", &error);
  sp_no_error (error);
  g_autoptr (SpFindings) findings = judged (added);
  g_autoptr (SpCard) card = sp_card_new (findings, findings->n - 1);
  ck_assert_str_eq (sp_card_now_name (card), "keyed");
  ck_assert (isnan (card->power_w) && isnan (card->wanted[0].key_down_s) && isnan (card->wanted[0].attenuation_db));
  ck_assert (!card->burns);
}
END_TEST

/* What an analyzer shows whose noise nobody stated nobody can foresee: no time is told for a sweep that nobody advises. */
START_TEST (no_time_without_advice)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = sp_test_path ("samples/blank.sheet");
  g_autoptr (SpBench) bench = sp_bench_read (path, &error);
  sp_no_error (error);
  SpBench *added = sp_bench_add_radio_named (bench, "Wimmerholt", &error);
  sp_no_error (error);
  g_autoptr (SpFindings) findings = judged (with (with (added, 0, "rated_w", "5"), 0, "fundamental", "435MHz"));
  g_autoptr (SpCard) card = sp_card_new (findings, 0);
  ck_assert_str_eq (sp_card_now_name (card), "keyed");
  ck_assert (card->power_w == 5 && isnan (card->wanted[card->now].key_down_s));
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("card");
  TCase *t = tcase_create ("card");
  tcase_set_timeout (t, 60);
  tcase_add_test (t, each_reason_asks_for_its_sweep);
  tcase_add_test (t, numbers_are_the_advice_s);
  tcase_add_test (t, a_stretch_comes_after_the_whole);
  tcase_add_test (t, what_there_is_is_ticked);
  tcase_add_test (t, what_is_gone_is_wanted);
  tcase_add_test (t, the_key_up_is_wanted_where_it_may_tell);
  tcase_add_test (t, nothing_is_keyed_that_would_burn);
  tcase_add_test (t, what_nobody_stated_is_not_known);
  tcase_add_test (t, no_time_without_advice);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
