/* words.c - sentences read as they should, and numbers are written in the hand that was asked for */
#include "tests/suite.h"

#include "core/findings/mind.h"
#include "ui/words/words.h"

#include <math.h>
#include <string.h>

static void
reads (SpReason *taken, const char *expected)
{
  g_autoptr (SpReason) reason = taken;
  g_autofree char *sentence = sp_words_reason (reason, SP_HAND_MACHINE);
  ck_assert_str_eq (sentence, expected);
}

START_TEST (test_numbers_stand_in_their_places)
{
  reads (sp_reason (FLOOR_ABOVE_LIMIT, .cause = SP_NO_WORD, .floor_dbm = -11.9, .limit_dbm = -16.0206, .expanded_db = 0.9,
                    .missing_db = 5.02),
         "Not seen, but only levels above -11.9 dBm would have been: 5.0 dB short of proving the limit of -16.0 dBm with U 0.9 dB.");
  reads (sp_reason (FAULT_REFLECTS, .kind = SP_FAULT_LEFT_OUT, .stages = "small", .reflector = "notch", .return_loss_db = 0.4),
         "Unsafe with small left out: notch would throw the carrier back; the radio would see a return loss of only 0.4 dB.");
  reads (sp_reason (FAULT_REFLECTS, .kind = SP_FAULT_SWAPPED, .stages = "small, notch", .reflector = "notch", .return_loss_db = 20.0),
         "Unsafe with small, notch swapped: notch would stand first and throw the carrier back at the radio.");
  reads (sp_reason (FAULT_REVERSED, .stage = "brick", .power_w = 5.0, .rating_w = 50.0),
         "With brick the wrong way round, 5 W would go into its far end, which has no rating: its 50 W hold the right way round only.");
  reads (sp_reason (POWER_CLASS, .mask = "m", .below = NULL, .above = "rule b", .power_w = 4.8, .expanded_db = 0.7, .edge_w = 5.0),
         "m: the power of 4.8 W with U 0.7 dB straddles the class edge at 5 W, between \"no limit\" and \"rule b\"; the stricter class "
         "counts.");
  reads (sp_reason (UNKNOWN_KEY, .file = "n.sheet", .group = "bench", .key = "tone_hz", .line = 3.0, .home = SP_KEY_OF_CONDITION),
         "n.sheet, line 3: tone_hz stands in [bench], which has no such key: it belongs in [condition RADIO/NAME]. Here it is kept as it "
         "stands and not used.");
  reads (sp_reason (TONE_UNLIKE, .condition = "A", .modulation = SP_MODULATION_SPEECH, .tone_hz = 1000.0),
         "A is said to be modulated with speech, and a tone of 1 kHz is given (tone_hz): one of the two is not so.");
  reads (sp_reason (RATED_POWER, .power_w = 3.0, .rated_w = 5.0, .over_db = -2.2185, .expanded_db = 0.69),
         "The measured power of 3 W is 2.2 dB less than the rated 5 W; its U is 0.7 dB.");
  reads (sp_reason (U_ASSUMED, .what = "resolution", .of = "meter", .assumed_db = 0.005),
         "No uncertainty is given for resolution of meter: 0.005 dB is assumed.");
  reads (sp_reason (U_ASSUMED, .what = "scale_db", .of = "Shelf", .assumed_db = 0.5),
         "No uncertainty is given for scale_db of Shelf: 0.50 dB is assumed.");
  reads (sp_reason (PROVE_FLOOR, .cause = SP_NO_WORD, .unsafe = FALSE, .missing_db = 7.94),
         "Lower the floor by 7.9 dB: less attenuation, a narrower RBW, or a notch on the fundamental.");
  reads (sp_reason (PROVE_FLOOR, .cause = SP_CAUSE_NOISE, .unsafe = FALSE, .missing_db = 7.94),
         "Lower the floor by 7.9 dB: less attenuation, a narrower RBW, or a power average.");
  reads (sp_reason (PROVE_FLOOR, .cause = SP_CAUSE_SKIRT, .unsafe = FALSE, .missing_db = 7.94),
         "Lower the floor by 7.9 dB: a narrower RBW, or a notch on the fundamental.");
  reads (sp_reason (PROVE_FLOOR, .cause = SP_CAUSE_PHASE_NOISE, .unsafe = FALSE, .missing_db = 7.94),
         "Lower the floor by 7.9 dB: a notch on the fundamental, a narrower RBW, or an analyzer with less phase noise.");
  reads (
      sp_reason (PROVE_FLOOR, .cause = SP_CAUSE_PRODUCT, .unsafe = TRUE, .missing_db = 43.7),
      "Make the chain safe first. Lower the floor by 43.7 dB: more attenuation, a pad before the analyzer, or a notch on the fundamental.");
  reads (sp_reason (PROVE_BESIDE, .detector = SP_NO_WORD, .average = SP_AVERAGE_POWER, .no_hold = FALSE, .attenuation_db = 40.0,
                    .rbw_hz = NAN, .points = NAN, .averages = 100.0, .parts = NAN, .pad_db = NAN, .part_dbm = -24.8, .key_down_parts = NAN,
                    .key_down_s = NAN, .pause_s = NAN, .basis = SP_NO_WORD),
         "Sweep once more with 40 dB of attenuation, a power average of 100 sweeps, and give it as a step beside this sweep: together they "
         "would show "
         "that the radio's part is at most -24.8 dBm.");
  reads (sp_reason (PROVE_BESIDE, .detector = SP_NO_WORD, .average = SP_NO_WORD, .no_hold = FALSE, .attenuation_db = NAN, .rbw_hz = NAN,
                    .points = NAN, .averages = NAN, .parts = NAN, .pad_db = 10.0, .part_dbm = -24.8, .key_down_parts = NAN,
                    .key_down_s = NAN, .pause_s = NAN, .basis = SP_NO_WORD),
         "Sweep once more with 10 dB more pad before the analyzer, its loss measured, and give it as a step beside this sweep: together "
         "they would show "
         "that the radio's part is at most -24.8 dBm.");
  reads (sp_reason (PROVE_STEP, .pad = FALSE, .condition = NULL, .step_db = 5.0, .order = 2.0, .settles = NAN),
         "Sweep once more with 5 dB more attenuation, and give it as a step: what the radio emits stays where it is, what the analyzer "
         "makes falls.");
  reads (sp_reason (PROVE_STEP, .pad = TRUE, .condition = NULL, .step_db = 6.0, .order = 0.0, .settles = NAN),
         "Sweep once more with the pad of 6 dB before the analyzer, its loss measured, and give it as a step: what the radio emits stays "
         "where it is, "
         "what the analyzer makes falls, or rises with the attenuation.");
  reads (sp_reason (PROVE_STEP_NOISE, .pad = TRUE, .step_db = 3.0, .noise_db = 6.0),
         "A pad of 3 dB before the analyzer would tell whose it is, but would drown it: first lower the noise by 6 dB, with a narrower RBW "
         "or a power "
         "average, then sweep with and without that pad.");
  reads (sp_reason (PROVE_SETTING, .detector = SP_NO_WORD, .average = SP_AVERAGE_POWER, .no_hold = FALSE, .attenuation_db = NAN,
                    .rbw_hz = NAN, .points = NAN, .averages = NAN, .parts = NAN, .pad_db = NAN, .floor_dbm = -23.3, .key_down_parts = NAN,
                    .key_down_s = NAN, .pause_s = NAN, .basis = SP_NO_WORD),
         "Sweep with a power average: the floor would be -23.3 dBm.");
  reads (sp_reason (PROVE_SETTING, .detector = SP_NO_WORD, .average = SP_NO_WORD, .no_hold = TRUE, .attenuation_db = NAN, .rbw_hz = NAN,
                    .points = NAN, .averages = NAN, .parts = NAN, .pad_db = NAN, .floor_dbm = -23.3, .key_down_parts = NAN,
                    .key_down_s = NAN, .pause_s = NAN, .basis = SP_NO_WORD),
         "Sweep with no hold: the floor would be -23.3 dBm.");
  reads (sp_reason (PROVE_SETTING, .detector = SP_DETECTOR_PEAK, .average = SP_AVERAGE_NONE, .no_hold = FALSE, .attenuation_db = 0.0,
                    .rbw_hz = 1e3, .points = NAN, .averages = NAN, .parts = NAN, .pad_db = NAN, .floor_dbm = -35.2, .key_down_parts = NAN,
                    .key_down_s = NAN, .pause_s = NAN, .basis = SP_NO_WORD),
         "Sweep with 0 dB of attenuation, an RBW of 1 kHz, positive peak detection: the floor would be -35.2 dBm.");
  reads (sp_reason (PROVE_SETTING, .detector = SP_DETECTOR_SAMPLE, .average = SP_AVERAGE_POWER, .no_hold = FALSE, .attenuation_db = NAN,
                    .rbw_hz = NAN, .points = 1001.0, .averages = 10.0, .parts = 4.0, .pad_db = NAN, .floor_dbm = -35.2,
                    .key_down_parts = NAN, .key_down_s = NAN, .pause_s = NAN, .basis = SP_NO_WORD),
         "Sweep with sample detection, a power average of 10 sweeps, 1001 points, the span in 4 sweeps side by side: the floor would be "
         "-35.2 dBm.");
  reads (sp_reason (PROVE_SETTING, .detector = SP_DETECTOR_NORMAL, .average = SP_AVERAGE_NONE, .no_hold = FALSE, .attenuation_db = NAN,
                    .rbw_hz = 1e3, .points = NAN, .averages = NAN, .parts = NAN, .pad_db = NAN, .floor_dbm = -35.2, .key_down_parts = NAN,
                    .key_down_s = NAN, .pause_s = NAN, .basis = SP_NO_WORD),
         "Sweep with an RBW of 1 kHz, detector greatest and least in turn: the floor would be -35.2 dBm.");
  reads (sp_reason (PROVE_SETTING, .detector = SP_NO_WORD, .average = SP_NO_WORD, .no_hold = FALSE, .attenuation_db = NAN, .rbw_hz = NAN,
                    .points = NAN, .averages = NAN, .parts = NAN, .pad_db = 10.0, .floor_dbm = -35.2, .key_down_parts = NAN,
                    .key_down_s = NAN, .pause_s = NAN, .basis = SP_NO_WORD),
         "Sweep with 10 dB more pad before the analyzer: the floor would be -35.2 dBm.");
  reads (sp_reason (PROVE_NOTCH, .detector = SP_NO_WORD, .average = SP_NO_WORD, .no_hold = FALSE, .attenuation_db = 10.0, .rbw_hz = NAN,
                    .points = NAN, .averages = NAN, .parts = NAN, .notch_db = 25.0, .floor_dbm = -35.2, .key_down_parts = NAN,
                    .key_down_s = NAN, .pause_s = NAN, .basis = SP_NO_WORD),
         "Sweep once more with a notch on the fundamental, 25 dB deep, and 10 dB of attenuation: the floor would be -35.2 dBm.");
  reads (sp_reason (PROVE_SPAN, .detector = SP_DETECTOR_PEAK, .average = SP_AVERAGE_NONE, .basis = SP_TIME_PROFILE, .from_hz = 131.4e6,
                    .to_hz = 297.84e6, .points = 1001.0, .parts = 1.0, .rbw_hz = 30e3, .attenuation_db = 20.0, .averages = 1.0,
                    .notch_db = NAN, .key_down_s = 12.2, .pause_s = 0.0, .floor_dbm = -35.2),
         "Sweep from 131.4 MHz to 297.84 MHz with 20 dB of attenuation, an RBW of 30 kHz, positive peak detection, 1001 points, key down "
         "13 s: the floor "
         "would be -35.2 dBm.");
  reads (sp_reason (PROVE_SPAN, .detector = SP_DETECTOR_SAMPLE, .average = SP_AVERAGE_POWER, .basis = SP_TIME_ASSUMED, .from_hz = 7e6,
                    .to_hz = 7.2e6, .points = 401.0, .parts = 4.0, .rbw_hz = 1e3, .attenuation_db = 10.0, .averages = 10.0,
                    .notch_db = 25.0, .key_down_s = 130.0, .pause_s = 40.0, .floor_dbm = NAN),
         "Sweep from 7 MHz to 7.2 MHz with 10 dB of attenuation, an RBW of 1 kHz, sample detection, 401 points, a power average of 10 "
         "sweeps, in 4 parts "
         "side by side, a notch on the fundamental 25 dB deep, key down 2.2 min in each of 4 parts, 40 s of pause between them (sweep time "
         "by common "
         "practice).");
  reads (sp_reason (PROVE_SPAN_NOT, .obstacle = SP_OBSTACLE_PHASE_NOISE, .from_hz = 7.0e6, .to_hz = 7.1e6, .missing_db = 6.04,
                    .at_hz = 7.09e6, .key_down_s = NAN, .longest_s = NAN),
         "No sweep with this analyzer shows what stands from 7 MHz to 7.1 MHz: its own phase noise lies 6.0 dB too high at 7.09 MHz. An "
         "analyzer with less "
         "phase noise would show it.");
  reads (sp_reason (PROVE_SPAN_NOT, .obstacle = SP_OBSTACLE_TIME, .from_hz = 7.0e6, .to_hz = 7.1e6, .missing_db = NAN, .at_hz = NAN,
                    .key_down_s = 6000.0, .longest_s = 60.0),
         "A sweep that shows what stands from 7 MHz to 7.1 MHz would keep the key down for 100 min in all, and the radio can be keyed for "
         "60 s at a time: too "
         "many parts. State a longer key-down time if it has one.");
  reads (sp_reason (UNSAFE, .place = "small-pad", .throws_back = FALSE, .power_w = 5.0, .rating_w = 2.0, .level_dbm = 36.99,
                    .headroom_db = -3.98, .return_loss_db = NAN),
         "Unsafe: small-pad takes 5 W, rated 2 W: -4.0 dB of headroom.");
  reads (sp_reason (ABOVE_LIMIT, .over_db = 0.04, .expanded_db = 0.9, .part_over_db = NAN), "0.04 dB above the limit, U 0.9 dB.");
  reads (sp_reason (ABOVE_LIMIT, .over_db = 9.7, .expanded_db = 0.4, .part_over_db = 4.2),
         "Seen 9.7 dB above the limit, U 0.4 dB; the radio's own part lies at least 4.2 dB above it.");
  reads (
      sp_reason (AMBIENT_PART, .level_dbm = -10.0, .ambient_dbm = -13.4, .part_low_dbm = -36.1, .part_high_dbm = -4.2, .expanded_db = 0.4),
      "Seen at -10.0 dBm, and at -13.4 dBm with the radio not keyed: the radio's own part lies between -36.1 dBm and -4.2 dBm, U 0.4 dB.");
  reads (sp_reason (STEP_CARRIER, .file = "s.csv", .keyed_file = "k.csv", .carrier_dbm = 27.0, .keyed_dbm = 37.0, .expanded_db = 0.3,
                    .step_db = NAN),
         "s.csv tests nothing: the carrier, which is the radio's and must stand still, reads 27.0 dBm there and 37.0 dBm in k.csv, more "
         "than the 0.3 dB that "
         "could be chance. The chain given for it may not be the one it was taken through; else sweep again with the same power.");
  reads (sp_reason (STEP_NOISE, .file = "s.csv", .keyed_file = "k.csv", .short_db = 8.3, .step_db = 10.0, .at_hz = 656e6),
         "s.csv: a step of 10.0 dB lifts the analyzer's own noise by as much over that of k.csv; it stands 8.3 dB lower, beyond what phase "
         "noise explains, "
         "most at 656 MHz: the attenuation is not what is stated, the analyzer's input was overloaded, or the transmitter's own noise is "
         "broad.");
  reads (sp_reason (STEP_PAD, .file = "s.csv", .step_db = 20.0, .chain_db = 10.0),
         "s.csv is given as a step of 20.0 dB, but its chain loses 10.0 dB more than that of the keyed sweep: the chain counts.");
  reads (sp_reason (FAULT, .kind = SP_FAULT_SWAPPED, .stages = "a and b", .worst_place = "b", .headroom_db = -3.0, .power_w = 4.0,
                    .rating_w = 2.0),
         "With a and b swapped, b would get 4 W, rated 2 W: -3.0 dB of headroom.");
}
END_TEST

/* Of what is not known it is said that it is not. */
START_TEST (test_advice_says_what_is_not_known)
{
  SpAdvice advice = { .any = TRUE,
                      .proves = TRUE,
                      .noise_known = TRUE,
                      .mixer_dbm = -20,
                      .worst_order = 3,
                      .worst_missing_db = -5,
                      .unpredicted = 2,
                      .setting = { .rbw_hz = 1e4,
                                   .attenuation_db = 10,
                                   .start_hz = 1e8,
                                   .stop_hz = 8e8,
                                   .points = 1001,
                                   .parts = 1,
                                   .averages = 1,
                                   .detector = SP_DETECTOR_PEAK } };
  g_autofree char *blind = sp_words_advice (&advice, " ", SP_HAND_MACHINE);
  ck_assert_ptr_nonnull (strstr (blind, "At 2 of the harmonics what the analyzer's own mixer makes is not known"));
  advice.unpredicted = 0;
  g_autofree char *known = sp_words_advice (&advice, " ", SP_HAND_MACHINE);
  ck_assert_ptr_null (strstr (known, "not known"));
  advice.noise_known = FALSE;
  g_autofree char *deaf = sp_words_advice (&advice, " ", SP_HAND_MACHINE);
  ck_assert_str_eq (deaf, "How to sweep cannot be foreseen: the analyzer's profile states no noise (danl_dbm_hz).");
}
END_TEST

typedef char *(*Writer) (double value, int decimals, SpHand hand);

static void
writes (Writer writer, double value, int decimals, SpHand hand, const char *expected)
{
  g_autofree char *text = writer (value, decimals, hand);
  ck_assert_str_eq (text, expected);
}

START_TEST (test_numbers)
{
  writes (sp_words_number, -12.34, 1, SP_HAND_MACHINE, "-12.3");
  writes (sp_words_number, -12.34, 1, SP_HAND_SCREEN, "\342\210\22212.3");
  writes (sp_words_number, -0.04, 1, SP_HAND_MACHINE, "0.0");
  writes (sp_words_number, NAN, 1, SP_HAND_MACHINE, "-");
  writes (sp_words_number, NAN, 1, SP_HAND_SCREEN, "\xe2\x80\x93");
  writes (sp_words_number, -INFINITY, 1, SP_HAND_SCREEN, "\xe2\x88\x92\xe2\x88\x9e");
  writes (sp_words_signed, 8.2, 1, SP_HAND_MACHINE, "+8.2");
  writes (sp_words_signed, 0.01, 1, SP_HAND_MACHINE, "0.0");
  writes (sp_words_level, -11.9, 1, SP_HAND_MACHINE, "-11.9 dBm");
  writes (sp_words_level, 36.99, 1, SP_HAND_SCREEN, "37.0\342\200\257dBm");
  writes (sp_words_level, NAN, 1, SP_HAND_MACHINE, "-");
}
END_TEST

START_TEST (test_powers)
{
  static const struct {
    double watt;
    const char *text;
  } rows[] = {
    { 4.93, "4.9 W" },     { 25e-6, "25 uW" }, { 25.37, "25.4 W" }, { 1500, "1.5 kW" }, { 999.6, "1 kW" },   { 2.5e-3, "2.5 mW" },
    { 0.25e-6, "250 nW" }, { 100, "100 W" },   { 0, "0 W" },        { NAN, "-" },       { INFINITY, "inf" },
  };
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    g_autofree char *text = sp_words_power (rows[i].watt, SP_HAND_MACHINE);
    ck_assert_str_eq (text, rows[i].text);
  }
  g_autofree char *screen = sp_words_power (25e-6, SP_HAND_SCREEN);
  ck_assert_str_eq (screen, "25\xe2\x80\xaf\xc2\xb5W");
}
END_TEST

START_TEST (test_emissions)
{
  SpEmission emission = { .order = 2, .frequency_hz = 293e6 };
  g_autofree char *second = sp_words_emission (&emission, SP_HAND_MACHINE);
  emission.order = 11;
  g_autofree char *eleventh = sp_words_emission (&emission, SP_HAND_MACHINE);
  emission.order = 21;
  g_autofree char *high = sp_words_emission (&emission, SP_HAND_MACHINE);
  emission.order = 0;
  emission.frequency_hz = 98.3e6;
  g_autofree char *spur = sp_words_emission (&emission, SP_HAND_MACHINE);
  ck_assert_str_eq (second, "2nd harmonic");
  ck_assert_str_eq (eleventh, "11th harmonic");
  ck_assert_str_eq (high, "harmonic of order 21");
  ck_assert_msg (g_str_has_prefix (spur, "spur at 98.3"), "%s", spur);
}
END_TEST

START_TEST (test_what_was_seen)
{
  SpEmission emission = { .swept = TRUE, .detected = TRUE, .level_dbm = -12.34, .sampling_loss_db = SP_BLIND_LOSS_DB };
  SpConditionFindings found = { .worst_emission = 0, .emissions = &emission, .n_emissions = 1 };
  emission.margin_db = 9.94;
  emission.decision = SP_DECISION_LEVEL;
  g_autofree char *seen = sp_words_seen (&emission, emission.level_dbm, SP_HAND_MACHINE),
                  *margin = sp_words_deciding_margin (&found, SP_HAND_MACHINE);
  emission.row = SP_ROW_UNCALIBRATED;
  g_autofree char *guessed = sp_words_deciding_margin (&found, SP_HAND_MACHINE);
  ck_assert_str_eq (guessed, "unknown");
  emission.row = SP_ROW_LEVEL_BELOW;
  emission.detected = FALSE;
  g_autofree char *not_seen = sp_words_seen (&emission, emission.level_dbm, SP_HAND_MACHINE);
  emission.sampling_loss_db = nextafter (SP_BLIND_LOSS_DB, INFINITY);
  emission.decision = SP_DECISION_BLIND;
  g_autofree char *blind = sp_words_seen (&emission, emission.level_dbm, SP_HAND_MACHINE),
                  *none = sp_words_deciding_margin (&found, SP_HAND_MACHINE);
  emission.swept = FALSE;
  g_autofree char *not_swept = sp_words_seen (&emission, NAN, SP_HAND_MACHINE);
  ck_assert_str_eq (seen, "-12.3");
  ck_assert_str_eq (margin, "+9.9");
  ck_assert_str_eq (not_seen, "<-12.3");
  ck_assert_str_eq (blind, "blind");
  ck_assert_str_eq (none, "blind");
  ck_assert_str_eq (not_swept, "-");
}
END_TEST

START_TEST (test_what_would_be_seen)
{
  SpOutlook o = { .floor_dbm = -33.14, .missing_db = 2.06, .sampling_loss_db = SP_BLIND_LOSS_DB };
  g_autofree char *floor = sp_words_floor (&o, SP_HAND_MACHINE), *missing = sp_words_missing (&o, SP_HAND_MACHINE);
  o.sampling_loss_db = nextafter (SP_BLIND_LOSS_DB, INFINITY);
  g_autofree char *blind = sp_words_floor (&o, SP_HAND_MACHINE), *none = sp_words_missing (&o, SP_HAND_MACHINE);
  ck_assert_str_eq (floor, "-33.1");
  ck_assert_str_eq (missing, "+2.1");
  ck_assert_str_eq (blind, "blind");
  ck_assert_str_eq (none, "-");
}
END_TEST

START_TEST (test_the_radios_part)
{
  static const struct {
    double low, high;
    const char *text;
  } cases[] = { { -3.62, -1.71, "-3.6 .. -1.7" }, { -INFINITY, -22.79, "<-22.8" }, { NAN, NAN, "-" } };
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
    SpEmission emission = { .radio_low_dbm = cases[i].low, .radio_high_dbm = cases[i].high };
    g_autofree char *text = sp_words_radio_part (&emission, SP_HAND_MACHINE);
    ck_assert_str_eq (text, cases[i].text);
  }
  ck_assert_ptr_null (sp_words_origin_basis (SP_BASIS_NONE));
  for (int basis = SP_BASIS_PREDICTED; basis <= SP_BASIS_UNKEYED; basis++) /* not translated here */
    ck_assert_str_eq (sp_words_origin_basis ((SpOriginBasis) basis), sp_origin_basis_name ((SpOriginBasis) basis));
}
END_TEST

START_TEST (test_units)
{
  static const struct {
    SpLevelUnit unit;
    double scale;
    const char *text;
  } rows[] = {
    { SP_UNIT_DBM, 1, "dBm" },    { SP_UNIT_DBUV, 1, "dBuV" }, { SP_UNIT_WATT, 1e-3, "mW" },
    { SP_UNIT_VOLT, 1e-6, "uV" }, { SP_UNIT_WATT, 1, "W" },
  };
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    g_autofree char *text = sp_words_unit (rows[i].unit, rows[i].scale);
    ck_assert_str_eq (text, rows[i].text);
  }
}
END_TEST

static void
check_named (const char *of, guint i, const char *name, const char *words)
{
  ck_assert_msg (name && *name, "%s %u of a budget has no name", of, i);
  ck_assert_msg (words && *words, "%s has no words", name);
  ck_assert_str_ne (words, name);
}

/* Every term that a budget may hold, and everyone who may state it, by a name and by other words. */
static void
check_terms (void)
{
  g_autoptr (GHashTable) names = g_hash_table_new (g_str_hash, g_str_equal);
  for (guint i = 0; i < SP_N_TERMS; i++) {
    check_named ("term", i, sp_term_name (i), sp_words_term (i));
    g_hash_table_add (names, (gpointer) sp_term_name (i));
  }
  for (guint i = 0; i < SP_N_BUDGET_SOURCES; i++)
    check_named ("source", i, sp_budget_source_name (i), sp_words_budget_source (i));
  ck_assert_uint_eq (g_hash_table_size (names), SP_N_TERMS);
}

/* Every term of a budget and every verdict has words; cautions name the five dangers. */
START_TEST (test_words)
{
  check_terms ();
  for (int verdict = SP_VERDICT_NO_LIMIT; verdict <= SP_VERDICT_EXCEEDS; verdict++)
    ck_assert_str_eq (sp_words_verdict ((SpVerdict) verdict), sp_verdict_name ((SpVerdict) verdict));
  static const char *const dangers[] = { "burns", "rated", "analyzer", "licence", "local rules" };
  for (guint i = 0; i < G_N_ELEMENTS (dangers); i++)
    ck_assert_ptr_nonnull (strstr (sp_words_cautions (), dangers[i]));
}
END_TEST

/* The figure's head over the chain: the worst of each kind of harm, the first as it is drawn. */
START_TEST (test_what_a_condition_states)
{
  reads (sp_reason (STATES_BELOW, .order = 2, .at_hz = 292e6, .off_db = 9.94, .expanded_db = 0.98),
         "nearest to the limit is the 2nd harmonic, 9.9 dB under it, known to \302\261 1.0 dB.");
  reads (sp_reason (STATES_UNSEEN, .order = 5, .at_hz = 730e6, .nothing_seen = TRUE, .off_db = 21.6, .expanded_db = 1),
         "nothing was seen, and a harmonic 21.6 dB under the limit would have shown, U 1.0 dB.");
  reads (sp_reason (STATES_PART_BELOW, .order = 3, .at_hz = 438e6, .analyzer = TRUE, .over_db = 25.2, .level_dbm = 9.2, .part_dbm = -25.9,
                    .off_db = 9.9, .expanded_db = 1.7),
         "what stands over the limit at the 3rd harmonic is the analyzer's own. At most -25.9 dBm of it is the radio's, 9.9 dB under the "
         "limit, U 1.7 dB.");
  reads (
      sp_reason (STATES_PART_BELOW, .order = 0, .at_hz = 99e6, .analyzer = FALSE, .over_db = NAN, .level_dbm = -29.5, .part_dbm = -21.7,
                 .off_db = 5.7, .expanded_db = 1.8),
      "nearest to the limit is the spur at 99 MHz. It reads -29.5 dBm and is not the radio's alone; as much as -21.7 dBm may be, since two "
      "signals can weaken each other: 5.7 dB under the limit, U 1.8 dB.");
  reads (sp_reason (STATES_FLOOR, .order = 4, .at_hz = 584e6, .proven_order = 3, .over = FALSE, .off_db = 0.9, .expanded_db = 1,
                    .short_db = 0.1),
         "clean up to its 3rd harmonic, but the 4th harmonic was not seen, and would have shown from 0.9 dB under the limit on: with U 1.0 "
         "dB that is 0.1 dB short.");
  reads (sp_reason (STATES_NOT_SWEPT, .order = 4, .at_hz = 584e6, .proven_order = 3, .swept_to_hz = 500e6),
         "clean up to its 3rd harmonic, but the sweep ends at 500 MHz, below the 4th harmonic at 584 MHz.");
  reads (sp_reason (STATES_NOT_SWEPT, .order = 2, .at_hz = 292e6, .proven_order = NAN, .swept_to_hz = NAN), "no sweep was taken.");
  reads (sp_reason (STATES_GAP, .proven_order = NAN, .from_hz = 30e6, .to_hz = 100e6, .why = SP_REASON_NOT_SWEPT, .short_db = NAN,
                    .others = 1),
         "nothing is shown from 30 MHz to 100 MHz and in one other stretch (not swept).");
}
END_TEST

static void
minds_are (const SpFindings *findings, guint condition, const char *expected)
{
  g_autoptr (GArray) minds = sp_findings_mind (findings, condition);
  g_autoptr (GString) said = g_string_new (NULL);
  for (guint i = 0; i < minds->len; i++) {
    const SpMind *mind = &g_array_index (minds, SpMind, i);
    g_string_append_printf (said, "%s%s %u%s", i ? ", " : "", sp_reason_name (mind->reason->code), mind->n, mind->weighs ? "!" : "");
  }
  ck_assert_str_eq (said->str, expected);
}

START_TEST (test_what_is_to_be_minded)
{
  SpConditionFindings conditions[2] = { { .warnings = sp_reasons_new () }, { .warnings = sp_reasons_new () } };
  SpFindings findings = { .n = 2, .conditions = conditions, .warnings = sp_reasons_new () };
  for (guint i = 0; i < 2; i++)
    sp_reasons_add (conditions[i].warnings, sp_reason (HARMONICS_ONLY, .mask = "m"));
  sp_reasons_add (conditions[0].warnings, sp_reason (REPEATS, .sweeps = 3));
  sp_reasons_add (conditions[0].warnings, sp_reason (OVERLOAD, .file = "a", .mixer_dbm = -4.7, .best_mixer_dbm = -30, .shown = FALSE,
                                                     .over_db = NAN, .attenuation_db = NAN));
  sp_reasons_add (conditions[0].warnings, sp_reason (OVERLOAD, .file = "b", .mixer_dbm = -14, .best_mixer_dbm = -30, .shown = FALSE,
                                                     .over_db = NAN, .attenuation_db = NAN));
  sp_reasons_add (findings.warnings, sp_reason (RBW_UNKNOWN, .file = "c"));
  minds_are (&findings, 0, "overload 2!, repeats 1");
  minds_are (&findings, 1, "");
  minds_are (&findings, SP_MIND_BENCH, "rbw-unknown 1!, harmonics-only 1");
  findings.n = 1; /* of one condition nothing is the bench's */
  minds_are (&findings, 0, "overload 2!, harmonics-only 1, repeats 1");
  for (guint i = 0; i < 2; i++)
    g_ptr_array_unref (conditions[i].warnings);
  g_ptr_array_unref (findings.warnings);
}
END_TEST

START_TEST (test_faults_in_one_line)
{
  static const char text[]
      = "[chain]\nstages=a;notch;b\n[stage a]\nkind=pad\nlabel_db=10\nrating_w=50\ndirectional=yes\n[stage notch]\nkind=notch\n"
        "label_db=40\nrating_w=50\n[stage b]\nkind=pad\nlabel_db=30\nrating_w=50\n";
  g_autoptr (SpKeyFile) file = sp_key_file_parse (text, strlen (text), "t.chain", NULL);
  g_autoptr (SpChain) chain = sp_chain_parse (file, NULL);
  static const char box[] = "[analyzer]\ndamage_dbm=20\n";
  g_autoptr (SpKeyFile) other = sp_key_file_parse (box, strlen (box), "t.analyzer", NULL);
  g_autoptr (SpAnalyzer) analyzer = sp_analyzer_parse (other, NULL);
  g_autoptr (SpHeadroom) headroom = sp_headroom (chain, analyzer, 5, 145e6, NAN, 1, 10);
  g_autofree char *line = sp_words_faults (headroom, chain, TRUE, SP_HAND_MACHINE);
  ck_assert_str_eq (line, "unsafe with a left out (dotted): notch throws the carrier back, return loss 0.0\342\200\257dB; "
                          "with a the wrong way round its rating does not hold");
}
END_TEST

static Suite *
suite (void)
{
  Suite *all = suite_create ("words");
  TCase *sentences = tcase_create ("words");
  tcase_add_test (sentences, test_numbers_stand_in_their_places);
  tcase_add_test (sentences, test_what_a_condition_states);
  tcase_add_test (sentences, test_what_is_to_be_minded);
  tcase_add_test (sentences, test_faults_in_one_line);
  tcase_add_test (sentences, test_advice_says_what_is_not_known);
  tcase_add_test (sentences, test_numbers);
  tcase_add_test (sentences, test_powers);
  tcase_add_test (sentences, test_emissions);
  tcase_add_test (sentences, test_what_was_seen);
  tcase_add_test (sentences, test_what_would_be_seen);
  tcase_add_test (sentences, test_the_radios_part);
  tcase_add_test (sentences, test_units);
  tcase_add_test (sentences, test_words);
  suite_add_tcase (all, sentences);
  return all;
}

SP_MAIN (suite)
