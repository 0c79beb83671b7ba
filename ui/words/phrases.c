/* phrases.c - the composed phrases of sentences: choices of words, lists of changes, key-down times */
#include "ui/words/speak.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* ---- conditions of words that may be empty ---- */

/* by hand: one condition or choice a row */
/* clang-format off */
WHEN (of_bench, UNKNOWN_KEY, f->home == SP_KEY_OF_BENCH)
WHEN (of_radio, UNKNOWN_KEY, f->home == SP_KEY_OF_RADIO)
static const Sentence belongs[] = {
  { of_bench, "[bench]" }, { of_radio, "[radio NAME]" }, { NULL, "[condition RADIO/NAME]" }, { NULL, NULL }
};

/* A key's name is for files. */
WHEN (of_attenuator, U_ASSUMED, g_strcmp0 (f->what, "attenuator_switch") == 0)
WHEN (of_rbw, U_ASSUMED, g_strcmp0 (f->what, "rbw_switch") == 0)
WHEN (of_meter, U_ASSUMED, g_strcmp0 (f->what, "meter_u_db") == 0)
static const Sentence assumed_what[] = {
  { of_attenuator, N_ ("switching the attenuator") },
  { of_rbw, N_ ("switching the RBW") },
  { of_meter, N_ ("the power meter") },
  { NULL, "{what}" },
  { NULL, NULL }
};

WHEN (swapped, FAULT, f->kind == SP_FAULT_SWAPPED) /* FAULT_REFLECTS has the same first members */
WHEN (reversed, FAULT, f->kind == SP_FAULT_REVERSED)
static const Sentence fault[] = {
  { swapped, N_ ("{stages} swapped") },
  { reversed, N_ ("{stages} the wrong way round") },
  { NULL, N_ ("{stages} left out") },
  { NULL, NULL }
};

/* The remedy for an assumed term. */
WHEN (decided_by_temperature, ASSUMED_DECIDES, f->term == SP_TERM_TEMPERATURE)
WHEN (open_by_temperature, PROVE_UNCERTAINTY, f->assumed == SP_TERM_TEMPERATURE)
#define SETTLES(when)                                                                                                                      \
  { { when, N_ ("state its temperature_coefficient, or calibrate it at the bench's temperature") },                                        \
    { NULL, N_ ("state the change per watt (power_coefficient), or key two minutes and sweep again") }, { NULL, NULL } }
static const Sentence settles_decided[] = SETTLES (decided_by_temperature), settles_open[] = SETTLES (open_by_temperature);

/* The remedy for a floor depends on its cause: less attenuation raises the product, and no RBW lowers it. */
#define CAUSED(name, what) WHEN (name, PROVE_FLOOR, f->cause == SP_CAUSE_##what)
CAUSED (by_noise, NOISE)
CAUSED (by_phase_noise, PHASE_NOISE)
CAUSED (by_skirt, SKIRT)
CAUSED (by_product, PRODUCT)
static const Sentence lower[] = {
  { by_noise, N_ ("Lower the floor by {missing_db} dB: less attenuation, a narrower RBW, or a power average.") },
  { by_phase_noise, N_ ("Lower the floor by {missing_db} dB: a notch on the fundamental, a narrower RBW, or an analyzer with less phase "
                        "noise.") },
  { by_skirt, N_ ("Lower the floor by {missing_db} dB: a narrower RBW, or a notch on the fundamental.") },
  { by_product, N_ ("Lower the floor by {missing_db} dB: more attenuation, a pad before the analyzer, or a notch on the fundamental.") },
  { NULL, N_ ("Lower the floor by {missing_db} dB: less attenuation, a narrower RBW, or a notch on the fundamental.") },
  { NULL, NULL }
};

/* A residual's level rises with the attenuation; only the step shows whether a spur is one. */
WHEN (harmonic, PROVE_STEP, f->order > 0)
static const Sentence falls[] = {
  { harmonic, N_ ("what the analyzer makes falls") },
  { NULL, N_ ("what the analyzer makes falls, or rises with the attenuation") },
  { NULL, NULL }
};
WHEN (settles_several, PROVE_STEP, f->condition != NULL)
static const Sentence others[] = {
  { settles_several, N_ (" One step sweep of {condition} would settle {settles} conditions.") }, { NULL, "" }, { NULL, NULL }
};

/* ---- a whole sweep ---- */

#define DETECTION(peak, sample)                                                                                                            \
  { { peak, N_ ("positive peak detection") }, { sample, N_ ("sample detection") }, { NULL, N_ ("detector {detector}") }, { NULL, NULL } }
WHEN (span_peak, PROVE_SPAN, f->detector == SP_DETECTOR_PEAK)
WHEN (span_sample, PROVE_SPAN, f->detector == SP_DETECTOR_SAMPLE)
static const Sentence span_detection[] = DETECTION (span_peak, span_sample);
WHEN (span_averages, PROVE_SPAN, f->averages > 1)
static const Sentence averaged[] = { { span_averages, N_ (", a power average of {averages} sweeps") }, { NULL, "" }, { NULL, NULL } };
WHEN (span_divides, PROVE_SPAN, f->parts > 1)
static const Sentence divided[] = { { span_divides, N_ (", in {parts} parts side by side") }, { NULL, "" }, { NULL, NULL } };
WHEN (span_notched, PROVE_SPAN, !isnan (f->notch_db))
static const Sentence notched[] = {
  { span_notched, N_ (", a notch on the fundamental {notch_db:0} dB deep") }, { NULL, "" }, { NULL, NULL }
};
WHEN (span_foreseen, PROVE_SPAN, !isnan (f->floor_dbm))
static const Sentence reaches[] = { { span_foreseen, N_ (": the floor would be {floor_dbm}") }, { NULL, "" }, { NULL, NULL } };

/* ---- changed settings; PROVE_NOTCH and PROVE_BESIDE have the same members ---- */

WHEN (peak, PROVE_SETTING, f->detector == SP_DETECTOR_PEAK)
WHEN (sample, PROVE_SETTING, f->detector == SP_DETECTOR_SAMPLE)
static const Sentence detection[] = DETECTION (peak, sample);

/* The change may be the kind of average, the number, or both. */
WHEN (no_average, PROVE_SETTING, f->average == SP_AVERAGE_NONE || f->averages <= 1)
WHEN (of_power, PROVE_SETTING, (f->average == SP_NO_WORD || f->average == SP_AVERAGE_POWER) && isnan (f->averages))
WHEN (of_kind, PROVE_SETTING, isnan (f->averages))
WHEN (of_so_many, PROVE_SETTING, f->average == SP_NO_WORD || f->average == SP_AVERAGE_POWER)
static const Sentence average_then[] = {
  { no_average, N_ ("no average") },
  { of_power, N_ ("a power average") },
  { of_kind, N_ ("average {average}") },
  { of_so_many, N_ ("a power average of {averages} sweeps") },
  { NULL, N_ ("average {average} of {averages} sweeps") },
  { NULL, NULL }
};

/* "0 dB of attenuation, an RBW of 1 kHz, positive peak detection" */
WHEN (other_attenuation, PROVE_SETTING, !isnan (f->attenuation_db))
WHEN (other_rbw, PROVE_SETTING, !isnan (f->rbw_hz))
WHEN (other_detector, PROVE_SETTING, f->detector != SP_NO_WORD)
WHEN (other_average, PROVE_SETTING, !isnan (f->averages) || (f->average != SP_NO_WORD && f->average != SP_AVERAGE_NONE))
WHEN (no_hold, PROVE_SETTING, f->no_hold)
WHEN (other_points, PROVE_SETTING, !isnan (f->points))
WHEN (several_parts, PROVE_SETTING, f->parts > 1)
WHEN (one_part, PROVE_SETTING, f->parts <= 1)
static const Sentence settings[] = {
  { other_attenuation, N_ ("{attenuation_db} dB of attenuation") },
  { other_rbw, N_ ("an RBW of {rbw_hz}") },
  { other_detector, "{detection}" },
  { other_average, "{average_then}" },
  { no_hold, N_ ("no hold") },
  { other_points, N_ ("{points} points") },
  { several_parts, N_ ("the span in {parts} sweeps side by side") },
  { one_part, N_ ("one sweep") },
  { NULL, NULL }
};
static gboolean
other_settings_are (const SpReason *reason)
{
  for (const Sentence *s = settings; s->text; s++)
    if (s->when (reason))
      return TRUE;
  return FALSE;
}
static const Sentence other_settings[] = { { other_settings_are, ", {settings}" }, { NULL, "" }, { NULL, NULL } };
WHEN (keying_known, PROVE_SETTING, !isnan (f->key_down_s))
static const Sentence keyed[] = { { keying_known, ", {key_down}" }, { NULL, "" }, { NULL, NULL } };
/* clang-format on */

/* ---- phrases that need a function ---- */

static char *
span_key_down (const SpReason *reason, SpHand hand)
{
  const __typeof__ (reason->PROVE_SPAN) *f = &reason->PROVE_SPAN;
  return sp_words_key_down (f->parts, f->key_down_s, f->pause_s, (SpTimeBasis) f->basis, hand);
}

static char *
key_down (const SpReason *reason, SpHand hand)
{
  const __typeof__ (reason->PROVE_SETTING) *f = &reason->PROVE_SETTING;
  return sp_words_key_down (f->key_down_parts, f->key_down_s, f->pause_s, (SpTimeBasis) f->basis, hand);
}

static char *
emission (const SpReason *reason, SpHand hand)
{
  const __typeof__ (reason->ASSUMED_DECIDES) *f = &reason->ASSUMED_DECIDES;
  SpEmission one = { .order = f->order > 0 ? (guint) f->order : 0, .frequency_hz = f->at_hz };
  return sp_words_emission (&one, hand);
}

/* "3/2 of the fundamental", "the sum of 2 f0 and 3 times the clock of 26 MHz" */
static char *
relation (const SpReason *reason, SpHand hand)
{
  const __typeof__ (reason->SPUR_RELATION) *f = &reason->SPUR_RELATION;
  double n = f->times, m = f->clock_times;
  g_autofree char *times = g_strdup_printf ("%.0f", fabs (m)), *clock = sp_words_frequency (f->clock_hz, 0, hand);
  g_autofree char *whole = f->divisor > 1 ? g_strdup_printf ("%.0f/%.0f", n, f->divisor) : g_strdup_printf ("%.0f", n);
  if (m == 0)
    return g_strdup_printf (f->divisor > 1 ? _ ("%s of the fundamental") : _ ("%s times the fundamental"), whole);
  if (n == 0 && fabs (m) == 1)
    return g_strdup_printf (_ ("the clock of %s"), clock);
  if (n == 0)
    return g_strdup_printf (_ ("%s times the clock of %s"), times, clock);
  return g_strdup_printf (m > 0 ? _ ("the sum of %s f0 and %s times the clock of %s")
                                : _ ("the difference of %s f0 and %s times the clock of %s"),
                          whole, times, clock);
}

/* by hand: one place a row */
/* clang-format off */
#define OF_CHANGE(CODE)                                                                                                                    \
  { SP_REASON_##CODE, "settings", settings, TRUE, NULL }, { SP_REASON_##CODE, "other_settings", other_settings, FALSE, NULL },            \
  { SP_REASON_##CODE, "detection", detection, FALSE, NULL }, { SP_REASON_##CODE, "average_then", average_then, FALSE, NULL },             \
  { SP_REASON_##CODE, "keyed", keyed, FALSE, NULL }, { SP_REASON_##CODE, "key_down", NULL, FALSE, key_down }

static const Phrase phrases[] = {
  { SP_REASON_UNKNOWN_KEY, "belongs", belongs, FALSE, NULL },
  { SP_REASON_U_ASSUMED, "what_words", assumed_what, FALSE, NULL },
  { SP_REASON_FAULT, "fault", fault, FALSE, NULL },
  { SP_REASON_FAULT_REFLECTS, "fault", fault, FALSE, NULL },
  { SP_REASON_ASSUMED_DECIDES, "emission", NULL, FALSE, emission },
  { SP_REASON_ASSUMED_DECIDES, "settles", settles_decided, FALSE, NULL },
  { SP_REASON_SPUR_RELATION, "relation", NULL, FALSE, relation },
  { SP_REASON_PROVE_FLOOR, "lower", lower, FALSE, NULL },
  OF_CHANGE (PROVE_SETTING),
  OF_CHANGE (PROVE_NOTCH),
  OF_CHANGE (PROVE_BESIDE),
  { SP_REASON_PROVE_SPAN, "detection", span_detection, FALSE, NULL },
  { SP_REASON_PROVE_SPAN, "averaged", averaged, FALSE, NULL },
  { SP_REASON_PROVE_SPAN, "divided", divided, FALSE, NULL },
  { SP_REASON_PROVE_SPAN, "notched", notched, FALSE, NULL },
  { SP_REASON_PROVE_SPAN, "key_down", NULL, FALSE, span_key_down },
  { SP_REASON_PROVE_SPAN, "reaches", reaches, FALSE, NULL },
  { SP_REASON_PROVE_STEP, "falls", falls, FALSE, NULL },
  { SP_REASON_PROVE_STEP, "others", others, FALSE, NULL },
  { SP_REASON_PROVE_UNCERTAINTY, "settles", settles_open, FALSE, NULL },
};
/* clang-format on */

const Phrase *
phrase_of (SpReasonCode code, const char *name)
{
  for (guint i = 0; i < G_N_ELEMENTS (phrases); i++)
    if (phrases[i].code == code && strcmp (phrases[i].name, name) == 0)
      return &phrases[i];
  for (guint i = 0; i < n_statement_phrases; i++)
    if (statement_phrases[i].code == code && strcmp (statement_phrases[i].name, name) == 0)
      return &statement_phrases[i];
  return NULL;
}
