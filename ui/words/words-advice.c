/* words-advice.c - the sweep to take before anything was keyed, as a sentence */
#include "ui/words/words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static char *
detection (const SpSetting *s)
{
  if (s->detector == SP_DETECTOR_PEAK)
    return g_strdup (_("positive peak detection"));
  return s->detector == SP_DETECTOR_SAMPLE ? g_strdup (_("sample detection")) : g_strdup_printf (_("detector %s"), sp_detector_name (s->detector));
}

static char *
settings (const SpSetting *s, SpHand hand)
{
  g_autofree char *attenuation = sp_words_number (s->attenuation_db, s->attenuation_db == round (s->attenuation_db) ? 0 : 1, hand);
  g_autofree char *rbw = sp_words_frequency (s->rbw_hz, 0, hand), *detected = detection (s), *points = sp_words_number (s->points, 0, hand);
  g_autofree char *from = sp_words_frequency (s->start_hz, 1e5, hand), *to = sp_words_frequency (s->stop_hz, 1e5, hand);
  g_autoptr (GString) text = g_string_new (NULL);
  g_string_append_printf (text, _("%s dB of attenuation, an RBW of %s, %s, %s points from %s to %s"), attenuation, rbw, detected, points, from, to);
  if (s->averages > 1) {
    g_autofree char *averages = sp_words_number (s->averages, 0, hand);
    g_string_append_printf (text, _(", a power average of %s sweeps"), averages);
  }
  if (s->parts > 1) {
    g_autofree char *parts = sp_words_number (s->parts, 0, hand);
    g_string_append_printf (text, _(", in %s parts side by side"), parts);
  }
  return g_strdup (text->str);
}

static char *
outcome (const SpAdvice *advice, SpHand hand)
{
  if (advice->worst_order == 0)
    return g_strdup (_("No harmonic has a limit here."));
  SpEmission worst = { .order = advice->worst_order };
  g_autofree char *name = sp_words_emission (&worst, hand), *missing = sp_words_number (fabs (advice->worst_missing_db), 1, hand);
  if (advice->proves)
    return g_strdup_printf (_("It would prove every harmonic that shows nothing; least to spare has the %s, %s dB."), name, missing);
  if (advice->worst_missing_db > 0)
    return g_strdup_printf (_("It would not prove everything: the %s misses it by %s dB."), name, missing);
  return g_strdup_printf (_("It would not prove everything with a reserve: the %s has %s dB to spare."), name, missing);
}

/* What shows at an order without an intercept is untested: whether it is the radio's only a step can say. (transfer full) */
static char *
unknown (const SpAdvice *advice)
{
  if (!advice->unpredicted)
    return g_strdup ("");
  return g_strdup_printf (_(" At %u of the harmonics what the analyzer's own mixer makes is not known, as its profile has no intercept: what shows there "
                            "needs a step of attenuation."), advice->unpredicted);
}

char *
sp_words_advice (const SpAdvice *advice, SpHand hand)
{
  if (!advice->any)
    return g_strdup (_("No sweep is safe with this chain and analyzer: more attenuation has to come before it."));
  if (!advice->noise_known)
    return g_strdup (_("How to sweep cannot be foreseen: the analyzer's profile states no noise (danl_dbm_hz)."));
  g_autofree char *distortion = unknown (advice);
  g_autofree char *how = settings (&advice->setting, hand), *mixer = sp_words_level (advice->mixer_dbm, 1, hand), *result = outcome (advice, hand);
  return g_strdup_printf (_("Sweep with %s: %s at the mixer. %s%s"), how, mixer, result, distortion);
}
