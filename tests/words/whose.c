/* whose.c - what the chart says beside an emission that is not the radio's alone */
#include "core/judge/judge.h"
#include "tests/suite.h"
#include "ui/words/words.h"

static void
is_whose (const SpEmission *e, const char *expected)
{
  g_autofree char *said = sp_words_whose (e, "2nd", SP_HAND_MACHINE);
  ck_assert_pstr_eq (said, expected);
}

START_TEST (test_whose_it_is)
{
  SpEvidencePoint points[4] = { { .attenuation_db = 0, .seen = TRUE, .level_dbm = 2.1 },
                                { .attenuation_db = 10, .seen = TRUE, .level_dbm = -7.8 },
                                { .attenuation_db = 20, .seen = TRUE, .level_dbm = -18.8 },
                                { .attenuation_db = 30, .seen = FALSE, .level_dbm = -20 } };
  SpEvidence evidence = { .n = 3, .points = points };
  SpEmission e = { .order = 2, .origin = SP_ORIGIN_RADIO, .origin_basis = SP_BASIS_STEP, .evidence = &evidence };
  is_whose (&e, NULL);
  e.origin = SP_ORIGIN_ANALYZER;
  is_whose (&e, "2nd, analyzer's own: falls 20.9 dB with 20 dB more");
  evidence.n = 4;
  is_whose (&e, "2nd, analyzer's own: gone with 30 dB more");
  points[1].seen = FALSE; /* the least attenuation without it counts */
  is_whose (&e, "2nd, analyzer's own: gone with 10 dB more");
  e.origin_basis = SP_BASIS_PREDICTED;
  e.radio_high_dbm = -22.8;
  is_whose (&e, "2nd, analyzer's own by its profile: at most -22.8 dBm is the radio's");
  e.origin = SP_ORIGIN_MIXED;
  e.radio_low_dbm = -30.04;
  is_whose (&e, "2nd: partly the analyzer's, -30.0 to -22.8 dBm is the radio's");
  e.radio_low_dbm = -INFINITY;
  is_whose (&e, "2nd: partly the analyzer's, at most -22.8 dBm is the radio's");
  e.origin = SP_ORIGIN_AMBIENT;
  is_whose (&e, "2nd: there with the key up too");
  e.origin = SP_ORIGIN_UNTESTED;
  is_whose (&e, "2nd: could be the analyzer's own, nothing tells yet");
  g_autoptr (SpReason) step = sp_reason (PROVE_STEP, .pad = FALSE, .condition = NULL, .step_db = 10, .order = 2, .settles = NAN);
  e.would_prove = step;
  is_whose (&e, "2nd: could be the analyzer's own, nothing tells yet: sweep once more with 10 dB more");
}
END_TEST

static Suite *
suite (void)
{
  Suite *all = suite_create ("whose");
  TCase *sentences = tcase_create ("whose");
  tcase_add_test (sentences, test_whose_it_is);
  suite_add_tcase (all, sentences);
  return all;
}

SP_MAIN (suite)
