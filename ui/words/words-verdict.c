/* words-verdict.c - why a verdict is what it is, and what would prove it, as sentences */
#include "ui/words/speak.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* What may be the analyzer's: by the profile's prediction, or by a step test (no prediction, value[1] NaN). */
static char *
words_of_cancellation (Speaker *s, gboolean from_nothing)
{
  if (from_nothing)
    return g_strdup_printf (_ ("Seen at %s, though the analyzer's own mixer may make %s there: the two may nearly cancel, which the steps "
                               "that there are cannot tell; the "
                               "radio's part lies anywhere up to %s, U %s dB."),
                            say_level (s, 0), say_level (s, 1), say_level (s, 3), say_db (s, 4));
  return g_strdup_printf (_ ("Seen at %s, though the analyzer's own mixer may make %s there: the two may nearly cancel, which the steps "
                             "that there are cannot tell; the "
                             "radio's part lies between %s and %s, U %s dB."),
                          say_level (s, 0), say_level (s, 1), say_level (s, 2), say_level (s, 3), say_db (s, 4));
}

static char *
words_of_mixture (Speaker *s)
{
  gboolean from_nothing = !isfinite (s->reason->value[2]);
  if (s->reason->text[0]) /* may-cancel */
    return words_of_cancellation (s, from_nothing);
  if (isnan (s->reason->value[1]) && from_nothing)
    return g_strdup_printf (
        _ ("Seen at %s, but by the steps some or all of it is the analyzer's: the radio's part lies anywhere up to %s, U %s dB."),
        say_level (s, 0), say_level (s, 3), say_db (s, 4));
  if (isnan (s->reason->value[1]))
    return g_strdup_printf (
        _ ("Seen at %s, but by the steps some of it is the analyzer's: the radio's part lies between %s and %s, U %s dB."),
        say_level (s, 0), say_level (s, 2), say_level (s, 3), say_db (s, 4));
  if (from_nothing)
    return g_strdup_printf (_ ("Seen at %s, but the analyzer's own mixer may make up to %s of it: the radio's part lies anywhere up to %s, "
                               "U %s dB."),
                            say_level (s, 0), say_level (s, 1), say_level (s, 3), say_db (s, 4));
  return g_strdup_printf (_ ("Seen at %s, but the analyzer's own mixer may make up to %s of it: the radio's part lies between %s and %s, "
                             "U %s dB."),
                          say_level (s, 0), say_level (s, 1), say_level (s, 2), say_level (s, 3), say_db (s, 4));
}

/* "Seen" verdicts: the emission stands there with a level of its own. */
static char *
words_of_seen (Speaker *s)
{
  switch (s->reason->code) {
  case SP_REASON_BELOW_LIMIT: return g_strdup_printf (_ ("%s dB below the limit, U %s dB."), say_db (s, 0), say_db (s, 1));
  case SP_REASON_ABOVE_LIMIT:
    if (s->reason->value[0] < 0)
      return g_strdup_printf (
          _ ("Seen %s dB below the limit, U %s dB, but only because what the analyzer makes takes some off: the radio's own part lies at "
             "least %s dB above it."),
          say_keep (s, sp_words_number (-s->reason->value[0], 1, s->hand)), say_db (s, 1), say_db (s, 2));
    if (!isnan (s->reason->value[2]))
      return g_strdup_printf (_ ("Seen %s dB above the limit, U %s dB; the radio's own part lies at least %s dB above it."), say_db (s, 0),
                              say_db (s, 1), say_db (s, 2));
    return g_strdup_printf (_ ("%s dB above the limit, U %s dB."), say_db (s, 0), say_db (s, 1));
  case SP_REASON_WITHIN_UNCERTAINTY:
    if (s->reason->value[0] < 0)
      return g_strdup_printf (_ ("%s dB above the limit, within the U of %s dB: it may lie on either side."),
                              say_keep (s, sp_words_number (-s->reason->value[0], 1, s->hand)), say_db (s, 1));
    return g_strdup_printf (_ ("%s dB below the limit, within the U of %s dB: it may lie on either side."), say_db (s, 0), say_db (s, 1));
  case SP_REASON_RADIO_PART_STRADDLES:
    if (!isfinite (s->reason->value[0]))
      return g_strdup_printf (_ ("The radio's own part lies anywhere up to %s, U %s dB: the limit of %s lies within."), say_level (s, 1),
                              say_db (s, 3), say_level (s, 2));
    return g_strdup_printf (_ ("The radio's own part lies between %s and %s, U %s dB: the limit of %s lies within."), say_level (s, 0),
                            say_level (s, 1), say_db (s, 3), say_level (s, 2));
  case SP_REASON_UNTESTED:
    return g_strdup_printf (_ ("Seen at %s against the limit of %s with U %s dB, but nothing shows yet that it comes from the radio."),
                            say_level (s, 0), say_level (s, 1), say_db (s, 2));
  case SP_REASON_RADIO_PART_BELOW:
    if (s->reason->value[0] > s->reason->value[3])
      return g_strdup_printf (
          _ ("Seen at %s; what else stands there may cancel some of the radio's own part, which is at most %s: below the limit of %s, "
             "U %s dB."),
          say_level (s, 3), say_level (s, 0), say_level (s, 1), say_db (s, 2));
    return g_strdup_printf (_ ("Seen at %s, but the radio's own part is at most %s: below the limit of %s, U %s dB."), say_level (s, 3),
                            say_level (s, 0), say_level (s, 1), say_db (s, 2));
  case SP_REASON_ANALYZER_POSSIBLE: return words_of_mixture (s);
  case SP_REASON_AMBIENT_POSSIBLE:
    return g_strdup_printf (_ ("Seen at %s, and at %s with the radio not keyed: from the air, a residual of the analyzer, or the radio's "
                               "receiver."),
                            say_level (s, 0), say_level (s, 1));
  case SP_REASON_AMBIENT_PART:
    if (!isfinite (s->reason->value[2]))
      return g_strdup_printf (_ ("Seen at %s, and at %s with the radio not keyed: the radio's own part lies anywhere up to %s, U %s dB."),
                              say_level (s, 0), say_level (s, 1), say_level (s, 3), say_db (s, 4));
    return g_strdup_printf (_ ("Seen at %s, and at %s with the radio not keyed: the radio's own part lies between %s and %s, U %s dB."),
                            say_level (s, 0), say_level (s, 1), say_level (s, 2), say_level (s, 3), say_db (s, 4));
  default: return NULL;
  }
}

/* The limit for the power that a clipped carrier shows, and where it may lie for more. */
static char *
words_of_lower_bound (Speaker *s)
{
  if (isnan (s->reason->value[3]))
    return g_strdup_printf (_ ("The carrier is clipped: the power is %s or more, and the limit, %s for that, depends on how much more."),
                            say_level (s, 0), say_level (s, 1));
  return g_strdup_printf (_ ("The carrier is clipped: the power is %s or more, so the limit lies between %s and %s."), say_level (s, 0),
                          say_level (s, 2), say_level (s, 3));
}

/* One reading for two places. */
static char *
words_of_unresolved (Speaker *s)
{
  double other = s->reason->value[3];
  if (other == 0)
    return g_strdup_printf (_ ("Not resolved: with points %s apart and an RBW of %s the analyzer's response at zero hertz reaches to %s."),
                            say_frequency (s, 1), say_frequency (s, 2), say_frequency (s, 0));
  if (other == 1)
    return g_strdup_printf (_ ("Not resolved: with points %s apart and an RBW of %s the carrier itself reads at %s."), say_frequency (s, 1),
                            say_frequency (s, 2), say_frequency (s, 0));
  return g_strdup_printf (_ ("Not resolved: with points %s apart and an RBW of %s one reading serves for %s and for the next harmonic."),
                          say_frequency (s, 1), say_frequency (s, 2), say_frequency (s, 0));
}

char *
words_of_verdict (Speaker *s)
{
  switch (s->reason->code) {
  case SP_REASON_FLOOR_BELOW_LIMIT:
    return g_strdup_printf (_ ("Not seen, and levels above %s would have been: below the limit of %s, U %s dB."), say_level (s, 0),
                            say_level (s, 1), say_db (s, 2));
  case SP_REASON_FLOOR_ABOVE_LIMIT:
    return g_strdup_printf (_ ("Not seen, but only levels above %s would have been: %s dB short of proving the limit of %s with U %s dB."),
                            say_level (s, 0), say_db (s, 3), say_level (s, 1), say_db (s, 2));
  case SP_REASON_NOT_SWEPT: return g_strdup_printf (_ ("Not swept: no sweep reaches %s."), say_frequency (s, 0));
  case SP_REASON_FUNDAMENTAL_UNCALIBRATED:
    return g_strdup_printf (_ ("The limit follows the power at %s, where the chain is not calibrated."), say_frequency (s, 0));
  case SP_REASON_NO_NUMBER: return g_strdup (_ ("The mask sets no number here."));
  case SP_REASON_NO_POWER: return g_strdup (_ ("The limit follows the radio's power, which is not known."));
  case SP_REASON_POWER_LOWER_BOUND: return words_of_lower_bound (s);
  case SP_REASON_NOT_RESOLVED: return words_of_unresolved (s);
  default: return words_of_seen (s);
  }
}

/* What settles a term that nobody stated. (transfer none) */
static const char *
settles_assumed (const char *term)
{
  return strcmp (term, "temperature") == 0 ? _ ("state its temperature_coefficient, or calibrate it at the bench's temperature")
                                           : _ ("state the change per watt (power_coefficient), or key two minutes and sweep again");
}

char *
words_of_assumed (Speaker *s)
{
  const char *term = say_text (s, 0);
  gboolean has_order = s->reason->value[1] > 0;
  SpEmission emission = { .order = has_order ? (guint) s->reason->value[1] : 0, .frequency_hz = s->reason->value[2] };
  return g_strdup_printf (
      _ ("The verdict stands on an assumed term: %s, u %s dB, is one of the two largest for the %s, and nobody stated it for %s: %s."),
      sp_words_term (term), say_keep (s, sp_words_number (s->reason->value[0], 2, s->hand)),
      say_keep (s, sp_words_emission (&emission, s->hand)), say_text (s, 1), settles_assumed (term));
}

static char *
words_of_less_u (Speaker *s)
{
  const char *largest = s->reason->text[0] ? sp_words_term (s->reason->text[0]) : "-";
  if (!s->reason->text[1])
    return g_strdup_printf (_ ("A U below %s dB would decide it; its largest part is %s."), say_db (s, 0), largest);
  if (g_strcmp0 (s->reason->text[0], s->reason->text[1]) == 0)
    return g_strdup_printf (_ ("A U below %s dB would decide it; its largest part is %s, which is assumed for %s: %s."), say_db (s, 0),
                            largest, say_text (s, 2), settles_assumed (s->reason->text[1]));
  return g_strdup_printf (_ ("A U below %s dB would decide it; its largest part is %s, then %s, which is assumed for %s: %s."),
                          say_db (s, 0), largest, sp_words_term (s->reason->text[1]), say_text (s, 2),
                          settles_assumed (s->reason->text[1]));
}

char *
words_of_proof (Speaker *s)
{
  switch (s->reason->code) {
  case SP_REASON_PROVE_SWEEP: return g_strdup_printf (_ ("Sweep up to %s at least."), say_frequency (s, 0));
  case SP_REASON_PROVE_SAMPLING:
    return g_strdup_printf (
        _ ("Take points no more than %s apart: %s points for this span, or a wider RBW, a narrower span, a peak detector."),
        say_frequency (s, 0), say_whole (s, 1));
  case SP_REASON_PROVE_RESOLVE:
    if (isnan (s->reason->value[1]))
      return g_strdup_printf (_ ("Sweep with points no more than %s apart: more of them, or a narrower span."), say_frequency (s, 0));
    return g_strdup_printf (_ ("Sweep with points no more than %s apart and an RBW of %s at most: more points, or a narrower span."),
                            say_frequency (s, 0), say_frequency (s, 1));
  case SP_REASON_PROVE_REFERENCE:
    return g_strdup_printf (
        _ ("Sweep once more with the reference level well above %s and attenuation to match, or give a power meter's reading."),
        say_level (s, 0));
  case SP_REASON_PROVE_RBW: return g_strdup_printf (_ ("Sweep once more with an RBW narrower than %s."), say_frequency (s, 0));
  case SP_REASON_PROVE_CALIBRATION: return g_strdup_printf (_ ("Measure the loss of the chain at %s."), say_frequency (s, 0));
  case SP_REASON_PROVE_AMBIENT:
    return g_strdup_printf (_ ("Take both sweeps again where what stands at %s without the radio is silent or kept out."),
                            say_frequency (s, 0));
  case SP_REASON_PROVE_UNCERTAINTY: return words_of_less_u (s);
  default: return NULL;
  }
}
