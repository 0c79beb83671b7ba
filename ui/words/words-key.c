/* words-key.c - describes the permitted values of a key, for the forms */
#include "ui/words/words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define OPEN_FROM 1e6 /* a bound this far out tells the user nothing */

/* With as many decimals as the number has. */
static char *
bound (double value, const char *unit)
{
  int decimals = 0;
  while (decimals < 6 && fabs (value * pow (10, decimals) - round (value * pow (10, decimals))) > 1e-9)
    decimals++;
  g_autofree char *number = sp_words_number (value, decimals, SP_HAND_SCREEN);
  return unit ? g_strdup_printf ("%s %s", number, _ (unit)) : g_steal_pointer (&number);
}

char *
sp_words_key_range (const SpKeySpec *spec)
{
  gboolean above = spec->kind == SP_KEY_POSITIVE || (spec->low > 0 && spec->low < 1 / OPEN_FROM), open = spec->high >= OPEN_FROM;
  g_autofree char *low = bound (above ? 0 : spec->low, open ? spec->unit : NULL), *high = bound (spec->high, spec->unit);
  if (spec->kind == SP_KEY_FREQUENCY && spec->high > 0) {
    g_autofree char *most = sp_words_frequency (spec->high, 0, SP_HAND_SCREEN);
    return g_strdup_printf (_ ("A frequency in Hz, kHz, MHz or GHz, up to %s."), most);
  }
  if (spec->kind == SP_KEY_FREQUENCY)
    return g_strdup (_ ("A frequency in Hz, kHz, MHz or GHz."));
  if (spec->kind != SP_KEY_NUMBER && spec->kind != SP_KEY_POSITIVE && spec->kind != SP_KEY_COUNT && spec->kind != SP_KEY_CURVE)
    return NULL;
  if (spec->or_infinite)
    return g_strdup_printf (_ ("At least %s, or inf."), low);
  if (open)
    return g_strdup_printf (above ? _ ("Above %s.") : _ ("At least %s."), low);
  return g_strdup_printf (above ? _ ("Above %s, up to %s.") : _ ("From %s to %s."), low, high);
}
