/* card.c - the card's words are short and say the numbers that the card has */
#include "ui/words/card.h"

#include "core/bench/edit/edit.h"
#include "core/bench/sheet/sheet.h"
#include "core/judge/judge.h"
#include "tests/suite.h"

#define QUELLDRIN 2

static SpWantedSweep
wanted (SpWantedKind kind)
{
  SpWantedSweep w = { .kind = kind };
  w.attenuation_db = w.more_db = w.notch_db = w.from_hz = w.to_hz = w.at_hz = w.parts = w.key_down_s = w.pause_s = NAN;
  return w;
}

static void
expect_wanted (SpWantedSweep w, const char *words)
{
  g_autofree char *said = sp_words_wanted (&w, SP_HAND_MACHINE);
  ck_assert_str_eq (said, words);
}

START_TEST (wanted_sweeps_in_words)
{
  SpWantedSweep keyed = wanted (SP_WANTED_KEYED), step = wanted (SP_WANTED_STEP), notch = wanted (SP_WANTED_NOTCHED),
                stretch = wanted (SP_WANTED_STRETCH);
  expect_wanted (keyed, "sweep with the key down");
  keyed.attenuation_db = 10;
  expect_wanted (keyed, "sweep at 10 dB of attenuation");
  keyed.done = TRUE;
  keyed.n = 5;
  expect_wanted (keyed, "sweep at 10 dB of attenuation, 5 times");
  expect_wanted (step, "one more with more attenuation");
  step.more_db = 10;
  expect_wanted (step, "one more with 10 dB more");
  expect_wanted (wanted (SP_WANTED_UNKEYED), "sweep with the key up");
  notch.notch_db = 17;
  expect_wanted (notch, "with the notch, 17 dB deep");
  stretch.from_hz = 144e6;
  stretch.to_hz = 148e6;
  expect_wanted (stretch, "144 MHz to 148 MHz alone");
}
END_TEST

/* As what asks for it has it. */
START_TEST (reasons_in_short)
{
  g_autoptr (SpReason) silence = sp_reason (PROVE_AMBIENT, .at_hz = 99e6), loss = sp_reason (PROVE_CALIBRATION, .at_hz = 1e9),
                       pad = sp_reason (PROVE_STEP, .pad = TRUE, .condition = NULL, .step_db = 6, .order = 2, .settles = NAN);
  SpWantedSweep w = wanted (SP_WANTED_SILENCE);
  w.reason = silence;
  expect_wanted (w, "both again where 99 MHz is silent");
  w = wanted (SP_WANTED_ELSEWHERE);
  w.reason = loss;
  expect_wanted (w, "at the desk: the chain’s loss at 1 GHz");
  w = wanted (SP_WANTED_STEP);
  w.reason = pad;
  expect_wanted (w, "one more with 6 dB more pad");
}
END_TEST

/* Whatever a verdict may ask for has words for the card, not the sentence that stands elsewhere. */
START_TEST (every_advice_has_short_words)
{
  guint n = 0;
  for (int code = 0; code < SP_N_REASONS; code++) {
    if (!g_str_has_prefix (sp_reason_name ((SpReasonCode) code), "prove-"))
      continue;
    g_autoptr (SpReason) reason = sp_reason_new (&(SpReason){ .code = (SpReasonCode) code });
    SpWantedSweep w = wanted (SP_WANTED_ELSEWHERE);
    w.reason = reason;
    g_autofree char *words = sp_words_wanted (&w, SP_HAND_MACHINE), *sentence = sp_words_reason (reason, SP_HAND_MACHINE);
    ck_assert_str_ne (words, sentence);
    ck_assert_msg (!strchr (words, '{') && !g_ascii_isupper (*words) && !g_str_has_suffix (words, "."), "%s", words);
    n++;
  }
  ck_assert_uint_eq (n, 19);
}
END_TEST

/* ---- what to do now ---- */

static SpFindings *
judged (const char *key, const char *value)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = sp_test_path ("samples/pocket.sheet");
  g_autoptr (SpBench) bench = sp_bench_read (path, &error);
  sp_no_error (error);
  g_autoptr (SpBench) edited = key ? sp_bench_set_condition (bench, QUELLDRIN, key, value, &error) : sp_bench_ref (bench);
  sp_no_error (error);
  return sp_judge (edited);
}

static void
expect_now (const SpFindings *findings, const SpCard *card, SpCardState state, const char *first, const char *second)
{
  char *lines[2];
  sp_words_card_now (findings, card, state, lines, SP_HAND_MACHINE);
  g_autofree char *one = lines[0], *other = lines[1];
  ck_assert_str_eq (one, first);
  ck_assert_int_eq (g_strcmp0 (other, second), 0);
}

/* One thing at a time, however the card came to it. */
START_TEST (now_in_two_lines)
{
  g_autoptr (SpFindings) findings = judged (NULL, NULL);
  SpWantedSweep w = wanted (SP_WANTED_KEYED);
  SpCard card = { .condition = QUELLDRIN, .n = 1, .wanted = &w, .next = 3 };
  expect_now (findings, &card, SP_CARD_READY, "Key now.", NULL);
  w.key_down_s = 8;
  w.parts = 1;
  w.pause_s = 0;
  expect_now (findings, &card, SP_CARD_READY, "Key now: 8 s.", NULL);
  ck_assert_str_eq (sp_words_card_mind (&card, SP_CARD_READY), "Connectors tight, hands off the line.");
  w.parts = 3;
  w.pause_s = 12;
  expect_now (findings, &card, SP_CARD_READY, "Key 8 s, 3 times, 12 s between.", NULL);
  w.parts = 1;
  w.kind = SP_WANTED_NOTCHED;
  expect_now (findings, &card, SP_CARD_READY, "Put the notch in.", "Then key 8 s.");
  w.kind = SP_WANTED_STEP;
  w.more_db = 10;
  expect_now (findings, &card, SP_CARD_READY, "Once more, with 10 dB more.", "Then key 8 s.");
  expect_now (findings, &card, SP_CARD_WAITS, "Keyed, exported:", "waiting for the file.");
  w.kind = SP_WANTED_UNKEYED;
  expect_now (findings, &card, SP_CARD_READY, "Now with the key up.", NULL);
  ck_assert_ptr_null (sp_words_card_mind (&card, SP_CARD_READY)); /* nobody keys */
  w.done = TRUE;
  card.now = -1;
  expect_now (findings, &card, SP_CARD_READY, "Done.", "Next: Morvenlick.");
  card.next = -1;
  expect_now (findings, &card, SP_CARD_READY, "Done.", NULL);
}
END_TEST

START_TEST (what_would_burn_is_said)
{
  g_autoptr (SpFindings) findings = judged ("rated_w", "40");
  g_autoptr (SpCard) card = sp_card_new (findings, QUELLDRIN);
  g_autofree char *burns = sp_words_card_burns (card->burns, card->power_w, SP_HAND_MACHINE), *whole = NULL;
  ck_assert_str_eq (burns, "40 W would put 38.2 W on brick, rated 25 W: do not key.");
  expect_now (findings, card, SP_CARD_READY, "Do not key.", NULL);
  ck_assert_ptr_null (sp_words_card_mind (card, SP_CARD_READY));
  whole = sp_words_card (findings, card, SP_CARD_READY);
  ck_assert_ptr_nonnull (strstr (whole, "do not key"));
  ck_assert_ptr_null (strstr (whole, "Then key"));
}
END_TEST

/* Whoever hears it has all of it, and before the first keying the cautions too. */
START_TEST (the_whole_card_is_said)
{
  g_autoptr (SpFindings) findings = judged (NULL, NULL);
  g_autoptr (SpCard) card = sp_card_new (findings, QUELLDRIN);
  g_autofree char *whole = sp_words_card (findings, card, SP_CARD_READY), *careful = sp_words_card (findings, card, SP_CARD_CAUTIONS);
  static const char *const parts[] = { "Quelldrin, 2 m, ", "Once more, with 20",           "Connectors tight",        "not proven, ",
                                       "room, U ",         "Done: sweep with the key up.", "Wanted: one more with 20" };
  for (guint i = 0; i < G_N_ELEMENTS (parts); i++)
    ck_assert_msg (strstr (whole, parts[i]) != NULL, "%s: %s", parts[i], whole);
  guint n;
  const char *const *cautions = sp_words_keying_cautions (&n);
  for (guint i = 0; i < n; i++)
    ck_assert (strstr (careful, cautions[i]) && !strstr (whole, cautions[i]));
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("card");
  TCase *t = tcase_create ("card");
  tcase_set_timeout (t, 60);
  tcase_add_test (t, wanted_sweeps_in_words);
  tcase_add_test (t, reasons_in_short);
  tcase_add_test (t, every_advice_has_short_words);
  tcase_add_test (t, now_in_two_lines);
  tcase_add_test (t, what_would_burn_is_said);
  tcase_add_test (t, the_whole_card_is_said);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
