/* words-move.c - a group of equal changes as a sentence */
#include "ui/words/words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* ", level +0.35 to +0.36 dB"; adds nothing for NaN. */
static void
add_span (GString *out, const char *what, SpSpan span, SpHand hand)
{
  if (isnan (span.low_db))
    return;
  g_autofree char *low = sp_words_signed (span.low_db, 2, hand), *high = sp_words_signed (span.high_db, 2, hand);
  g_string_append (out, out->len ? ", " : "");
  if (g_strcmp0 (low, high) == 0)
    g_string_append_printf (out, _ ("%s %s dB"), what, low);
  else
    g_string_append_printf (out, _ ("%s %s to %s dB"), what, low, high);
}

char *
sp_words_alike_by (const SpAlike *alike, SpHand hand)
{
  g_autoptr (GString) by = g_string_new (NULL);
  add_span (by, _ ("level"), alike->level, hand);
  add_span (by, _ ("limit"), alike->limit, hand);
  add_span (by, _ ("margin"), alike->margin, hand);
  add_span (by, _ ("U"), alike->u, hand);
  return g_strdup (by->str);
}

char *
sp_words_alike (const SpAlike *alike, SpHand hand)
{
  g_autofree char *by = sp_words_alike_by (alike, hand);
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u emission moves alike: %s.", "%u emissions move alike: %s.", alike->n), alike->n,
                          by);
}
