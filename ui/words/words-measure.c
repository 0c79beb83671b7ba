/* words-measure.c - what stands between a width and the signal, as sentences */
#include "ui/words/speak.h"

#include <glib/gi18n-lib.h>
#include <math.h>

char *
words_of_measure (Speaker *s)
{
  switch (s->reason->code) {
  case SP_REASON_WIDTH_OF_FILTER:
    return g_strdup_printf (_("%s: the occupied bandwidth of %s is hardly wider than the %s that a mere line would show through an RBW of %s: take a "
                              "narrower RBW."), say_text (s, 0), say_frequency (s, 0), say_frequency (s, 1), say_frequency (s, 2));
  case SP_REASON_WIDTH_NOISE:
    return g_strdup_printf (_("%s: the signal's peak stands only %s dB over the noise, whose scatter over this span leaves %s %% of the power open: the "
                              "occupied bandwidth is not sure; take a narrower span, or average."), say_text (s, 0), say_db (s, 0),
                            say_ratio (s, 1));
  case SP_REASON_WIDTH_COARSE:
    return g_strdup_printf (_("%s: its points lie %s apart with an RBW of %s: a line between them may read %s dB low, and a width is known to a "
                              "point's distance."), say_text (s, 0), say_frequency (s, 0), say_frequency (s, 1), say_db (s, 2));
  default:
    return NULL;
  }
}

char *
sp_words_occupied (const SpConditionFindings *found, SpHand hand)
{
  if (isnan (found->occupied_hz))
    return NULL;
  g_autofree char *width = sp_words_frequency (found->occupied_hz, 0, hand);
  return found->occupied_by_filter ? g_strdup_printf (_("at most %s"), width) : g_steal_pointer (&width);
}
