/* words-measure.c - what stands between a width and the signal, as sentences */
#include "ui/words/speak.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* "3/2 of the fundamental", "2 x the fundamental - 3 x 26 MHz" */
static char *
relation (Speaker *s)
{
  const double *value = s->reason->value;
  double n = value[0], divisor = value[1], m = value[2];
  g_autofree char *times = g_strdup_printf ("%.0f", fabs (m));
  g_autofree char *whole = divisor > 1 ? g_strdup_printf ("%.0f/%.0f", n, divisor) : g_strdup_printf ("%.0f", n);
  if (m == 0)
    return divisor > 1 ? g_strdup_printf (_ ("%s of the fundamental"), whole) : g_strdup_printf (_ ("%s times the fundamental"), whole);
  if (n == 0)
    return fabs (m) == 1 ? g_strdup_printf (_ ("the clock of %s"), say_frequency (s, 3))
                         : g_strdup_printf (_ ("%s times the clock of %s"), times, say_frequency (s, 3));
  return m > 0 ? g_strdup_printf (_ ("the sum of %s f0 and %s times the clock of %s"), whole, times, say_frequency (s, 3))
               : g_strdup_printf (_ ("the difference of %s f0 and %s times the clock of %s"), whole, times, say_frequency (s, 3));
}

char *
words_of_measure (Speaker *s)
{
  switch (s->reason->code) {
  case SP_REASON_WIDTH_OF_FILTER:
    return g_strdup_printf (
        _ ("%s: the occupied bandwidth of %s is hardly wider than the %s that a mere line would show through an RBW of %s: take a "
           "narrower RBW."),
        say_text (s, 0), say_frequency (s, 0), say_frequency (s, 1), say_frequency (s, 2));
  case SP_REASON_WIDTH_NOISE:
    return g_strdup_printf (
        _ ("%s: the signal's peak stands only %s dB over the noise, whose scatter over this span leaves %s %% of the power open: the "
           "occupied bandwidth is not sure; take a narrower span, or average."),
        say_text (s, 0), say_db (s, 0), say_ratio (s, 1));
  case SP_REASON_WIDTH_COARSE:
    return g_strdup_printf (
        _ ("%s: its points lie %s apart with an RBW of %s: a line between them may read %s dB low, and a width is known to a "
           "point's distance."),
        say_text (s, 0), say_frequency (s, 0), say_frequency (s, 1), say_db (s, 2));
  case SP_REASON_NOISE_RISES:
    return g_strdup_printf (
        _ ("%s: its noise stands %s dB over that of the unkeyed %s, beyond what phase noise explains, most at %s: the analyzer's "
           "input may be overloaded, or the transmitter's own noise is broad; more attenuation tells which."),
        say_text (s, 0), say_db (s, 0), say_text (s, 1), say_frequency (s, 1));
  case SP_REASON_ODD_RASTER:
    return g_strdup_printf (
        _ ("%s products stand in a raster of %s about %s and %s, third order %s dB and fifth order %s dB below the carrier: two "
           "signals at an overloaded input make that, or two at the transmitter; more attenuation tells which."),
        say_whole (s, 5), say_frequency (s, 2), say_frequency (s, 0), say_frequency (s, 1), say_db (s, 3), say_db (s, 4));
  case SP_REASON_SPUR_RELATION:
    return g_strdup_printf (_ ("It stands at %s (off by %s Hz; by chance in %s %% of places)."), say_keep (s, relation (s)),
                            say_keep (s, sp_words_signed (s->reason->value[4], 0, s->hand)),
                            say_keep (s, sp_words_number (100 * s->reason->value[5], 2, s->hand)));
  case SP_REASON_SPUR_RESIDUAL:
    return g_strdup_printf (
        _ ("It stands at a residual response that the profile of %s lists at %s with %s: the analyzer's own, it may be."), say_text (s, 0),
        say_frequency (s, 0), say_level (s, 1));
  default: return NULL;
  }
}

char *
sp_words_occupied (const SpConditionFindings *found, SpHand hand)
{
  if (isnan (found->occupied_hz))
    return NULL;
  g_autofree char *width = sp_words_frequency (found->occupied_hz, 0, hand);
  return found->occupied_by_filter ? g_strdup_printf (_ ("at most %s"), width) : g_steal_pointer (&width);
}
