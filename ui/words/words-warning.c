/* words-warning.c - what the files, the reader of traces and the judging warn of, as sentences */
#include "ui/words/speak.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

static gboolean
has_text (const Speaker *s, guint i)
{
  return s->reason->text[i] && *s->reason->text[i];
}

static char *
words_of_misplaced (Speaker *s)
{
  static const char *const homes[] = {
    [SP_KEY_OF_BENCH] = "[bench]", [SP_KEY_OF_RADIO] = "[radio NAME]", [SP_KEY_OF_CONDITION] = "[condition RADIO/NAME]"
  };
  return g_strdup_printf (
      _ ("%s, line %s: %s stands in [%s], which has no such key: it belongs in %s. Here it is kept as it stands and not used."),
      say_text (s, 0), say_whole (s, 0), say_text (s, 2), say_text (s, 1), homes[(int) s->reason->value[1]]);
}

char *
words_of_file (Speaker *s)
{
  switch (s->reason->code) {
  case SP_REASON_UNKNOWN_KEY:
    if (!has_text (s, 2))
      return g_strdup_printf (_ ("%s, line %s: nothing here is called [%s]; the group is kept as it stands and not used."), say_text (s, 0),
                              say_whole (s, 0), say_text (s, 1));
    if (s->reason->value[1] > SP_KEY_OF_NOBODY)
      return words_of_misplaced (s);
    return g_strdup_printf (_ ("%s, line %s: [%s] has no key %s; it is kept as it stands and not used."), say_text (s, 0), say_whole (s, 0),
                            say_text (s, 1), say_text (s, 2));
  case SP_REASON_TONE_LACKS:
    return g_strdup_printf (g_strcmp0 (s->reason->text[1], "tone_hz") == 0
                                ? _ ("%s is modulated with a tone, whose frequency is not given (tone_hz): what the sweeps do not show of "
                                     "its width is taken from the necessary bandwidth.")
                                : _ ("%s is modulated with a tone, whose deviation is not given (deviation_hz): what the sweeps do not "
                                     "show of its width is taken from the necessary bandwidth."),
                            say_text (s, 0));
  case SP_REASON_TONE_UNLIKE:
    if (g_strcmp0 (s->reason->text[1], "none") == 0)
      return g_strdup_printf (
          _ ("%s is said to be unmodulated (modulation=none), and a tone of %s is given (tone_hz): one of the two is not so."),
          say_text (s, 0), say_frequency (s, 0));
    return g_strdup_printf (_ ("%s is said to be modulated with %s, and a tone of %s is given (tone_hz): one of the two is not so."),
                            say_text (s, 0), say_text (s, 1), say_frequency (s, 0));
  case SP_REASON_NOT_YET_USED:
    return g_strdup_printf (_ ("%s, line %s: [%s] %s is understood and kept, but no computation uses it yet."), say_text (s, 0),
                            say_whole (s, 0), say_text (s, 1), say_text (s, 2));
  case SP_REASON_LABEL_USED:
    if (isnan (s->reason->value[1]))
      return g_strdup_printf (_ ("The loss of %s was not measured: its label value of %s dB stands in for it, without a tolerance."),
                              say_text (s, 0), say_db (s, 0));
    return g_strdup_printf (_ ("The loss of %s was not measured: its label value of %s dB stands in for it, with the tolerance of %s dB."),
                            say_text (s, 0), say_db (s, 0), say_db (s, 1));
  case SP_REASON_NOT_CALIBRATED:
    return g_strdup_printf (_ ("%s is not calibrated: it has neither measured points nor a label with tolerance and span; %s dB is assumed "
                               "and nothing can comply through it."),
                            say_text (s, 0), say_db (s, 0));
  case SP_REASON_U_ASSUMED:
    return g_strdup_printf (_ ("No uncertainty is given for %s of %s: %s dB is assumed."), say_text (s, 0), say_text (s, 1),
                            s->reason->value[0] < 0.01 ? say_fine (s, 0) : say_ratio (s, 0)); /* 0.005 is not 0.01 */
  case SP_REASON_VSWR_ASSUMED: return g_strdup_printf (_ ("No VSWR is given for %s: %s is assumed."), say_text (s, 0), say_ratio (s, 0));
  case SP_REASON_RATING_MISSING:
    return g_strdup_printf (_ ("No power rating is given for %s: nobody can say whether it survives."), say_text (s, 0));
  case SP_REASON_CALIBRATION_OLD:
    return g_strdup_printf (_ ("The calibration of %s is %s days old; its interval is %s days."), say_text (s, 0), say_whole (s, 0),
                            say_whole (s, 1));
  case SP_REASON_CALIBRATION_LATER:
    return g_strdup_printf (_ ("The calibration of %s is dated %s days after the bench: it says nothing of that day."), say_text (s, 0),
                            say_whole (s, 0));
  case SP_REASON_AGES_UNCHECKED:
    return g_strdup_printf (_ ("The bench has no date: the ages of the calibrations in %s are not checked."), say_text (s, 0));
  case SP_REASON_BANDWIDTH_ASSUMED: return g_strdup_printf (_ ("No necessary bandwidth is given: %s is assumed."), say_frequency (s, 0));
  case SP_REASON_STEP_UNKNOWN:
    return g_strdup_printf (_ ("%s does not say which attenuation it was taken with: the sheet's step of %s dB is believed."),
                            say_text (s, 0), say_db (s, 0));
  default: return NULL;
  }
}

/* Of a line that was seen all the same: it only ever reads low. */
static char *
words_of_line_seen (Speaker *s)
{
  if (!(s->reason->value[2] <= SP_BLIND_LOSS_DB))
    return g_strdup_printf (
        _ ("Seen, but in %s the points lie %s apart, RBW %s: a line between them may stand far higher than it reads, so that this "
           "one reads no higher proves nothing."),
        say_text (s, 0), say_frequency (s, 0), say_frequency (s, 1));
  return g_strdup_printf (
      _ ("Seen, but in %s the points lie %s apart, RBW %s: it may stand %s dB higher than it reads, and that alone leaves the verdict "
         "open."),
      say_text (s, 0), say_frequency (s, 0), say_frequency (s, 1), say_db (s, 2));
}

char *
words_of_trace (Speaker *s)
{
  switch (s->reason->code) {
  case SP_REASON_LINES_SKIPPED:
    return g_strdup_printf (_ ("%s: lines that do not parse were left out as asked (%s of them, the first is line %s)."), say_text (s, 0),
                            say_whole (s, 0), say_whole (s, 1));
  case SP_REASON_TRAILING_BLOCK:
    return g_strdup_printf (_ ("%s: the data ends before line %s; what follows (\"%s\") is not read as points."), say_text (s, 0),
                            say_whole (s, 0), say_text (s, 1));
  case SP_REASON_COLUMN_CHOSEN:
    return g_strdup_printf (_ ("%s holds %s level columns: %s is read; ?column= picks another."), say_text (s, 0), say_whole (s, 0),
                            say_text (s, 1));
  case SP_REASON_DECIMAL_DECIDED:
    if (g_strcmp0 (s->reason->text[1], "comma") == 0)
      return g_strdup_printf (_ ("%s: the comma is taken for the decimal mark, as only that fits the whole file."), say_text (s, 0));
    return g_strdup_printf (_ ("%s: the point is taken for the decimal mark, as only that fits the whole file."), say_text (s, 0));
  case SP_REASON_FREQUENCY_DECIDED:
    return g_strdup_printf (
        _ ("%s: column %s is taken for the frequency, though another goes one way too; ?frequency_column= picks another."), say_text (s, 0),
        say_text (s, 1));
  case SP_REASON_UNIT_ASSUMED:
    if (g_strcmp0 (s->reason->text[2], "frequency") == 0)
      return g_strdup_printf (_ ("%s does not name the unit of its frequencies: %s is assumed."), say_text (s, 0), say_text (s, 1));
    if (g_strcmp0 (s->reason->text[2], "level") != 0)
      return g_strdup_printf (_ ("%s gives a number without a unit for %s: %s is assumed."), say_text (s, 0), say_text (s, 2),
                              say_text (s, 1));
    return g_strdup_printf (_ ("%s does not name the unit of its levels: %s is assumed; ?unit= states another."), say_text (s, 0),
                            say_text (s, 1));
  case SP_REASON_ORDER_REVERSED:
    return g_strdup_printf (_ ("%s runs from high to low frequency: its points are turned round."), say_text (s, 0));
  case SP_REASON_SPACING_JUMPS:
    return g_strdup_printf (
        _ ("%s: at %s the spacing of its points goes from %s to %s, and it states one RBW of %s for both: each stretch is judged for "
           "itself; state the RBW of each, as in ?from=60MHz&rbw=30kHz."),
        say_text (s, 0), say_frequency (s, 0), say_frequency (s, 1), say_frequency (s, 2), say_frequency (s, 3));
  case SP_REASON_SETTING_IGNORED:
    return g_strdup_printf (_ ("%s, line %s: %s looks like a setting, but its value \"%s\" is not understood."), say_text (s, 0),
                            say_whole (s, 0), say_text (s, 1), say_text (s, 2));
  case SP_REASON_RBW_UNKNOWN:
    return g_strdup_printf (_ ("%s does not say its resolution bandwidth: give it as ?rbw=; until then the worst case counts."),
                            say_text (s, 0));
  case SP_REASON_DETECTOR_UNKNOWN:
    return g_strdup_printf (_ ("%s does not say its detector and average, or uses a detector whose readings have no single law: the worst "
                               "case counts; ?detector= and ?average= state them."),
                            say_text (s, 0));
  case SP_REASON_AVERAGE_KIND_UNKNOWN:
    return g_strdup_printf (_ ("%s averages within each point and does not say of what: of power, voltage and logarithm the worst counts; "
                               "?average=power, voltage or log states it."),
                            say_text (s, 0));
  case SP_REASON_ATTENUATION_UNKNOWN:
    return g_strdup_printf (
        _ ("%s does not say the analyzer's attenuation: what the mixer makes of the carrier cannot be predicted; give it as "
           "?attenuation=."),
        say_text (s, 0));
  case SP_REASON_UNDERSAMPLED:
    if (s->reason->text[1])
      return words_of_line_seen (s);
    if (!(s->reason->value[2] <= SP_BLIND_LOSS_DB))
      return g_strdup_printf (
          _ ("%s is undersampled: points %s apart, RBW %s; a line between them may vanish, so nothing seen means nothing."),
          say_text (s, 0), say_frequency (s, 0), say_frequency (s, 1));
    return g_strdup_printf (
        _ ("%s is undersampled: points %s apart, RBW %s; a line between them may read %s dB low, which the floor holds."), say_text (s, 0),
        say_frequency (s, 0), say_frequency (s, 1), say_db (s, 2));
  case SP_REASON_CARRIER_UNDERSAMPLED:
    if (!(s->reason->value[2] <= SP_BLIND_LOSS_DB))
      return g_strdup_printf (
          _ ("%s is undersampled (points %s apart, RBW %s): the carrier may vanish between them, so neither the power nor the "
             "mixer level is taken from it."),
          say_text (s, 0), say_frequency (s, 0), say_frequency (s, 1));
    return g_strdup_printf (_ ("%s is undersampled (points %s apart, RBW %s): the carrier may read %s dB low, so neither the power nor the "
                               "mixer level is taken from it."),
                            say_text (s, 0), say_frequency (s, 0), say_frequency (s, 1), say_db (s, 2));
  case SP_REASON_CLIPPED:
    if (isnan (s->reason->value[1]))
      return g_strdup_printf (_ ("%s has a flat top at %s (%s equal points): it may be clipped, so of the power it gives a lower bound."),
                              say_text (s, 0), say_level (s, 0), say_whole (s, 2));
    return g_strdup_printf (
        _ ("%s reads %s, at or above its reference level of %s: it may be clipped, so of the power it gives a lower bound."),
        say_text (s, 0), say_level (s, 0), say_level (s, 1));
  case SP_REASON_POWER_FROM_STEP:
    return g_strdup_printf (_ ("The carrier of %s may be clipped at %s: the power is the %s that %s shows."), say_text (s, 1),
                            say_level (s, 1), say_level (s, 0), say_text (s, 0));
  default: return NULL;
  }
}

/* "brick left out" */
static const char *
say_fault (Speaker *s)
{
  const char *kind = s->reason->text[0], *stages = say_text (s, 1);
  if (g_strcmp0 (kind, "swapped") == 0)
    return say_keep (s, g_strdup_printf (_ ("%s swapped"), stages));
  if (g_strcmp0 (kind, "reversed") == 0)
    return say_keep (s, g_strdup_printf (_ ("%s the wrong way round"), stages));
  return say_keep (s, g_strdup_printf (_ ("%s left out"), stages));
}

/* Cautions: the chain with one thing wrong. */
static char *
words_of_fault (Speaker *s)
{
  switch (s->reason->code) {
  case SP_REASON_FAULT:
    return g_strdup_printf (_ ("With %s, %s would get %s, rated %s: %s dB of headroom."), say_fault (s), say_text (s, 2), say_power (s, 1),
                            say_power (s, 2), say_db (s, 0));
  case SP_REASON_FAULT_REFLECTS:
    if (s->reason->value[0] >= SP_RETURN_LOSS_LEAST_DB)
      return g_strdup_printf (_ ("Unsafe with %s: %s would stand first and throw the carrier back at the radio."), say_fault (s),
                              say_text (s, 2));
    return g_strdup_printf (_ ("Unsafe with %s: %s would throw the carrier back; the radio would see a return loss of only %s dB."),
                            say_fault (s), say_text (s, 2), say_db (s, 0));
  case SP_REASON_FAULT_REVERSED:
    if (isnan (s->reason->value[1]))
      return g_strdup_printf (_ ("With %s the wrong way round, %s would go into its far end, which has no rating."), say_text (s, 0),
                              say_power (s, 0));
    return g_strdup_printf (
        _ ("With %s the wrong way round, %s would go into its far end, which has no rating: its %s hold the right way round only."),
        say_text (s, 0), say_power (s, 0), say_power (s, 1));
  default: return NULL;
  }
}

/* Warnings that an over-rated part gives, and what does not fit the power. */
static char *
words_of_power (Speaker *s)
{
  switch (s->reason->code) {
  case SP_REASON_DC_PATH:
    return g_strdup_printf (_ ("Every stage passes DC, and %s takes %s V at most: make sure the radio puts none on its socket."),
                            say_text (s, 0), say_ratio (s, 0));
  case SP_REASON_UNSAFE:
    if (g_strcmp0 (s->reason->text[1], "return-loss") == 0)
      return s->reason->value[3] < 0
                 ? g_strdup_printf (_ ("Unsafe: %s throws the carrier back; the radio sees a return loss of only %s dB."), say_text (s, 0),
                                    say_db (s, 4))
                 : g_strdup_printf (_ ("Unsafe: %s stands first and throws the carrier back at the radio: put a pad before it."),
                                    say_text (s, 0));
    if (isnan (s->reason->value[1]))
      return g_strdup_printf (_ ("Unsafe: %s gets %s (%s)."), say_text (s, 0), say_power (s, 0), say_level (s, 2));
    return g_strdup_printf (_ ("Unsafe: %s takes %s, rated %s: %s dB of headroom."), say_text (s, 0), say_power (s, 0), say_power (s, 1),
                            say_db (s, 3));
  case SP_REASON_OVERLOAD:
    return g_strdup_printf (_ ("%s: %s at the mixer, above the best level of %s: the analyzer's own products count."), say_text (s, 0),
                            say_level (s, 0), say_level (s, 1));
  case SP_REASON_METER_DISAGREES:
    return g_strdup_printf (_ ("The power meter says %s and the trace %s: they differ by more than the U of %s dB."), say_level (s, 0),
                            say_level (s, 1), say_db (s, 2));
  case SP_REASON_POWER_CLASS:
    return g_strdup_printf (
        _ ("%s: the power of %s with U %s dB straddles the class edge at %s, between \"%s\" and \"%s\"; the stricter class "
           "counts."),
        say_text (s, 0), say_power (s, 0), say_db (s, 1), say_power (s, 2), has_text (s, 1) ? say_text (s, 1) : _ ("no limit"),
        has_text (s, 2) ? say_text (s, 2) : _ ("no limit"));
  case SP_REASON_RATED_POWER:
    return g_strdup_printf (s->reason->value[2] < 0 ? _ ("The measured power of %s is %s dB less than the rated %s; its U is %s dB.")
                                                    : _ ("The measured power of %s is %s dB more than the rated %s; its U is %s dB."),
                            say_power (s, 0), say_keep (s, sp_words_number (fabs (s->reason->value[2]), 1, s->hand)), say_power (s, 1),
                            say_db (s, 3));
  case SP_REASON_NO_FUNDAMENTAL:
    if (isnan (s->reason->value[0]))
      return g_strdup (_ ("No fundamental was found in the keyed sweeps: give its frequency, or a sweep that holds it."));
    return g_strdup_printf (_ ("No fundamental was found at %s in the keyed sweeps."), say_frequency (s, 0));
  case SP_REASON_FUNDAMENTAL_NEAR_ZERO:
    return g_strdup_printf (
        _ ("%s cannot show the fundamental at %s: up to %s the analyzer's own response at zero hertz stands; an RBW narrower than %s "
           "clears it."),
        say_text (s, 0), say_frequency (s, 0), say_frequency (s, 1), say_frequency (s, 2));
  case SP_REASON_FUNDAMENTAL_ELSEWHERE:
    return g_strdup_printf (
        _ ("%s shows no fundamental at %s as stated, but a line at %s of %s: whether that is the radio's carrier is not known, so "
           "its power is not to be trusted. State the frequency that was sent."),
        say_text (s, 0), say_frequency (s, 0), say_frequency (s, 1), say_level (s, 2));
  case SP_REASON_LINE_BESIDE:
    return g_strdup_printf (_ ("%s: beside the carrier at %s another line stands at %s, %s dB against it: it is not part of the power."),
                            say_text (s, 0), say_frequency (s, 0), say_frequency (s, 1),
                            say_keep (s, sp_words_signed (s->reason->value[2], 1, s->hand)));
  case SP_REASON_SUM_DETECTOR:
    if (isnan (s->reason->value[0]))
      return g_strdup_printf (
          _ ("%s: its detector or hold picks single readings, so that a sum of powers is wrong by an unknown amount, too high for a "
             "greatest reading."),
          say_text (s, 0));
    return g_strdup_printf (_ ("%s: its detector makes a sum of powers wrong by about %s dB."), say_text (s, 0), say_db (s, 0));
  default: return words_of_fault (s);
  }
}

/* Why a step tests nothing, or not what it seems to. */
static char *
words_of_steps (Speaker *s)
{
  switch (s->reason->code) {
  case SP_REASON_STEP_CARRIER:
    if (isnan (s->reason->value[3]))
      return g_strdup_printf (
          _ ("%s tests nothing: the carrier, which is the radio's and must stand still, reads %s there and %s in %s, more than the %s dB "
             "that could be chance. The chain given for it may not be the one it was taken through; else sweep again with the "
             "same power."),
          say_text (s, 0), say_level (s, 0), say_level (s, 1), say_text (s, 1), say_db (s, 2));
    return g_strdup_printf (
        _ ("%s tests nothing: the carrier, which is the radio's and must stand still, reads %s there and %s in %s, more than the %s dB "
           "that could be chance. If the %s dB are a pad outside, give the step its chain (step_chain= in the sheet); else sweep "
           "again with the same power."),
        say_text (s, 0), say_level (s, 0), say_level (s, 1), say_text (s, 1), say_db (s, 2), say_db (s, 3));
  case SP_REASON_STEP_UNCHECKED:
    return g_strdup_printf (
        _ ("%s tests nothing: neither the carrier nor the noise in it shows that the analyzer's attenuation changed by %s dB. Sweep again "
           "with the carrier in it, and points no further apart than the RBW."),
        say_text (s, 0), say_db (s, 0));
  case SP_REASON_STEP_NOISE:
    return g_strdup_printf (
        _ ("%s: a step of %s dB lifts the analyzer's own noise by as much over that of %s; it stands %s dB lower, beyond what phase "
           "noise explains, most at %s: the attenuation is not what is stated, the analyzer's input was overloaded, or the "
           "transmitter's own noise is broad."),
        say_text (s, 0), say_db (s, 1), say_text (s, 1), say_db (s, 0), say_frequency (s, 2));
  case SP_REASON_STEP_PAD:
    return g_strdup_printf (
        _ ("%s is given as a step of %s dB, but its chain loses %s dB more than that of the keyed sweep: the chain counts."),
        say_text (s, 0), say_db (s, 0), say_keep (s, sp_words_number (s->reason->value[1], 1, s->hand)));
  case SP_REASON_STEP_SPAN:
    return g_strdup_printf (_ ("%s does not cover %s: the step tests nothing there."), say_text (s, 0), say_frequency (s, 0));
  case SP_REASON_PRODUCT_CARRIED:
    return g_strdup_printf (_ ("What the analyzer makes at the harmonic of order %s is known from the step test of %s, which had no less "
                               "at the mixer: at most %s "
                               "here."),
                            say_whole (s, 0), say_text (s, 0), say_level (s, 1));
  case SP_REASON_STEP_SMALL:
    return g_strdup_printf (
        _ ("%s: at %s what the analyzer makes would move by only %s dB from the keyed sweep; under %s dB a step tests nothing."),
        say_text (s, 0), say_frequency (s, 0), say_db (s, 1), say_db (s, 2));
  case SP_REASON_STEP_FLOOR:
    return g_strdup_printf (_ ("%s would have shown only what is above %s at %s, where %s was seen: the step tests nothing there."),
                            say_text (s, 0), say_level (s, 1), say_frequency (s, 0), say_level (s, 2));
  case SP_REASON_SAME_EXPORT:
    return g_strdup_printf (
        _ ("%s (%s sweep) holds the very same readings as %s: one export is one sweep, so this one is kept but not used."), say_text (s, 0),
        say_text (s, 1), say_text (s, 2));
  default: return words_of_power (s);
  }
}

/* What several sweeps say of one another. */
static char *
words_of_sweeps (Speaker *s)
{
  switch (s->reason->code) {
  case SP_REASON_STEPS_CONTRADICT:
    return g_strdup_printf (_ ("At %s the steps contradict each other: no mixture of the radio's and the analyzer's part reads like that."),
                            say_frequency (s, 1));
  case SP_REASON_WORSE_THAN_PROFILE:
    return g_strdup_printf (
        _ ("At %s the steps show %s of the analyzer's own, where its profile allows %s: it is overloaded, or its intercepts are "
           "worse than stated."),
        say_frequency (s, 1), say_level (s, 2), say_level (s, 3));
  case SP_REASON_COMPRESSION:
    return g_strdup_printf (
        _ ("%s: the carrier reads %s there and %s in the keyed sweep, more than the %s dB that could be chance: the analyzer "
           "was overloaded, or the radio's power changed."),
        say_text (s, 0), say_level (s, 0), say_level (s, 1), say_db (s, 2));
  case SP_REASON_SWEEPS_DISAGREE:
    return g_strdup_printf (_ ("At %s %s shows %s, %s no more than %s; U of the difference is %s dB. The worse stands."),
                            say_frequency (s, 0), say_text (s, 0), say_level (s, 1), say_text (s, 1), say_level (s, 2), say_db (s, 3));
  case SP_REASON_UNKEYED_SPAN:
    return g_strdup_printf (_ ("%s, taken with the radio not keyed, does not cover %s: what is seen there may come from the air."),
                            say_text (s, 0), say_frequency (s, 0));
  case SP_REASON_UNKEYED_FLOOR:
    return g_strdup_printf (
        _ ("%s, taken with the radio not keyed, would have shown only what is above %s at %s, where %s was seen: it proves "
           "nothing there."),
        say_text (s, 0), say_level (s, 1), say_frequency (s, 0), say_level (s, 2));
  case SP_REASON_UNKEYED_CARRIER:
    return g_strdup_printf (
        _ ("%s, given as taken with the radio not keyed, shows the carrier at %s, the keyed sweep %s: the radio was keyed, so this sweep "
           "is not used."),
        say_text (s, 0), say_level (s, 0), say_level (s, 1));
  default: return words_of_steps (s);
  }
}

char *
words_of_warning (Speaker *s)
{
  switch (s->reason->code) {
  case SP_REASON_OUTSIDE_CALIBRATION:
    if (!has_text (s, 0))
      return g_strdup_printf (_ ("The chain is not calibrated at %s: the loss there is only an extrapolation."), say_frequency (s, 0));
    return g_strdup_printf (_ ("%s is not calibrated at %s: its loss there is only an extrapolation."), say_text (s, 0),
                            say_frequency (s, 0));
  case SP_REASON_FLOOR_OFF_PROFILE:
    return g_strdup_printf (_ ("%s: the noise stands %s dB from what the analyzer's profile says."), say_text (s, 0),
                            say_keep (s, sp_words_signed (s->reason->value[0], 1, s->hand)));
  case SP_REASON_SWEEP_NOT_USED:
    return g_strdup_printf (
        _ ("%s (%s sweep) is kept but not used: without a chain of its own nobody knows what the notch takes from the harmonics. "
           "Give it one beside the sweep, in the condition's dialog, or by notched_chain= in the sheet."),
        say_text (s, 0), say_text (s, 1));
  case SP_REASON_REPEATS:
    return g_strdup_printf (_ ("%s keyed sweeps: of each emission the highest reading stands; mean and scatter are listed beside it."),
                            say_whole (s, 0));
  case SP_REASON_SPURS_CUT:
    return g_strdup_printf (_ ("%s holds %s peaks that are no harmonics: the highest %s are listed."), say_text (s, 0), say_whole (s, 0),
                            say_whole (s, 1));
  case SP_REASON_HARMONICS_ONLY:
    return g_strdup_printf (_ ("%s names no search range: only the harmonics can be missing, other spurs count where they were swept."),
                            say_text (s, 0));
  case SP_REASON_PHASE_NOISE_HELD:
    return g_strdup_printf (_ ("The phase noise table ends at %s from the carrier: beyond, its end value is held."), say_frequency (s, 0));
  case SP_REASON_NO_REFERENCE_BANDWIDTH:
    return g_strdup_printf (_ ("%s sets no reference bandwidth: levels are compared as they were read."), say_text (s, 0));
  case SP_REASON_ASSUMED_DECIDES: return words_of_assumed (s);
  case SP_REASON_CLASSES_NONE:
    if (isnan (s->reason->value[1]))
      return g_strdup_printf (_ ("No rule of %s applies to a fundamental of %s."), say_text (s, 0), say_frequency (s, 0));
    return g_strdup_printf (_ ("No rule of %s applies to a fundamental of %s at %s."), say_text (s, 0), say_frequency (s, 0),
                            say_power (s, 1));
  default: return words_of_sweeps (s);
  }
}
