/* words-whose.c - whose an emission is and what shows it, in a few words for the chart */
#include "ui/words/words.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* "2nd": English has four endings, other languages translate the whole form. */
static char *
ordinal (guint n)
{
  guint last = n % 10;
  gboolean teens = n % 100 / 10 == 1;
  const char *form = last == 1 && !teens ? _ ("#st") : last == 2 && !teens ? _ ("#nd") : last == 3 && !teens ? _ ("#rd") : _ ("#th");
  const char *mark = strchr (form, '#');
  return mark ? g_strdup_printf ("%.*s%u%s", (int) (mark - form), form, n, mark + 1) : g_strdup_printf ("%u", n);
}

char *
sp_words_emission_short (const SpEmission *emission, SpHand hand)
{
  return emission->order ? ordinal (emission->order) : sp_words_emission (emission, hand);
}

static char *
analyzers (const SpEmission *e, const char *name, SpHand hand)
{
  SpFall fall = sp_evidence_fall (e->evidence);
  g_autofree char *by = sp_words_number (fall.fall_db, 1, hand), *more = sp_words_number (fall.more_db, 0, hand),
                  *most = sp_words_level (e->radio_high_dbm, 1, hand);
  if (e->origin_basis != SP_BASIS_STEP || !fall.known)
    return g_strdup_printf (_ ("%s, analyzer's own by its profile: at most %s is the radio's"), name, most);
  if (fall.gone)
    return g_strdup_printf (_ ("%s, analyzer's own: gone with %s dB more"), name, more);
  return g_strdup_printf (_ ("%s, analyzer's own: falls %s dB with %s dB more"), name, by, more);
}

static char *
mixed (const SpEmission *e, const char *name, SpHand hand)
{
  g_autofree char *low = sp_words_number (e->radio_low_dbm, 1, hand), *high = sp_words_level (e->radio_high_dbm, 1, hand);
  if (isnan (e->radio_high_dbm))
    return g_strdup_printf (_ ("%s: partly the analyzer's"), name);
  if (!isfinite (e->radio_low_dbm))
    return g_strdup_printf (_ ("%s: partly the analyzer's, at most %s is the radio's"), name, high);
  return g_strdup_printf (_ ("%s: partly the analyzer's, %s to %s is the radio's"), name, low, high);
}

static char *
untested (const SpEmission *e, const char *name, SpHand hand)
{
  const SpReason *proof = e->would_prove;
  gboolean by_step = proof && proof->code == SP_REASON_PROVE_STEP;
  g_autofree char *step = by_step ? sp_words_number (proof->PROVE_STEP.step_db, 0, hand) : NULL;
  return by_step ? g_strdup_printf (_ ("%s: could be the analyzer's own, nothing tells yet: sweep once more with %s dB more"), name, step)
                 : g_strdup_printf (_ ("%s: could be the analyzer's own, nothing tells yet"), name);
}

char *
sp_words_whose (const SpEmission *emission, const char *name, SpHand hand)
{
  switch (emission->origin) {
  case SP_ORIGIN_NONE:
  case SP_ORIGIN_RADIO: return NULL;
  case SP_ORIGIN_ANALYZER: return analyzers (emission, name, hand);
  case SP_ORIGIN_MIXED: return mixed (emission, name, hand);
  case SP_ORIGIN_AMBIENT: return g_strdup_printf (_ ("%s: there with the key up too"), name);
  case SP_ORIGIN_UNTESTED: return untested (emission, name, hand);
  }
  g_return_val_if_reached (NULL);
}
