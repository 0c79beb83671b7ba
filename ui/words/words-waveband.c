/* words-waveband.c - wavebands as people call them */
#include "ui/words/words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static char *
edge (double frequency_hz)
{
  return sp_words_frequency (frequency_hz, frequency_hz * 1e-4, SP_HAND_SCREEN);
}

char *
sp_words_waveband (const SpWaveband *waveband)
{
  if (!waveband)
    return g_strdup (_ ("no carrier"));
  if (waveband->name)
    return g_strdup (waveband->name);
  g_autofree char *from = edge (waveband->from_hz), *to = edge (waveband->to_hz);
  if (isinf (waveband->to_hz))
    return g_strdup_printf (_ ("over %s"), from);
  return waveband->from_hz > 0 ? g_strdup_printf (_ ("%s to %s"), from, to) : g_strdup_printf (_ ("under %s"), to);
}

char *
sp_words_steady_spur (const SpSteadySpur *spur, SpHand hand)
{
  g_autofree char *at = sp_words_frequency (spur->frequency_hz, spur->half_hz, hand);
  g_autofree char *room = sp_words_room (spur->emission, hand);
  return g_strdup_printf (_ ("%s: a spur at %s in %u of %u conditions swept there, whatever the carrier: what makes it does not follow the "
                             "carrier, as a clock. Least room %s dB."),
                          spur->radio, at, spur->n, spur->of, *room ? room : "-");
}
