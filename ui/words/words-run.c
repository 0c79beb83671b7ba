/* words-run.c - the words of a substitution run and of an analyzer's check: terms, places, cautions */
#include "ui/words/words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

const char *
sp_words_run_term (const char *name)
{
  static const struct {
    const char *name, *words;
  } rows[] = {
    { "repeatability", N_ ("repeats of the inserted reading") },
    { "reference", N_ ("repeats of the reference") },
    { "drift", N_ ("drift between the two references") },
    { "linearity", N_ ("the meter's linearity") },
    { "resolution", N_ ("the meter's resolution") },
    { "mismatch-reference", N_ ("mismatch at the reference") },
    { "mismatch-source", N_ ("mismatch of source and stage") },
    { "mismatch-meter", N_ ("mismatch of stage and meter") },
    { "mismatch-through", N_ ("mismatch through the stage") },
    { "temperature", N_ ("temperature of the stage") },
    { "level", N_ ("the known level") },
    { "lead", N_ ("the lead") },
    { "mismatch", N_ ("mismatch of source and analyzer") },
  };
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    if (g_strcmp0 (name, rows[i].name) == 0)
      return _ (rows[i].words);
  return name;
}

const char *
sp_words_run_cautions (void)
{
  return _ ("Turn the generator down before the stage comes out: without it the meter takes all of the power, and a sensor burns at a few "
            "dB over its "
            "rating. Never more into a pad than it is rated for; a warm pad reads too much. Let generator and meter warm up, tighten every "
            "plug alike.");
}

const char *
sp_words_check_term (const char *name)
{
  if (g_strcmp0 (name, "repeatability") == 0)
    return _ ("repeats of the reading");
  if (g_strcmp0 (name, "resolution") == 0)
    return _ ("the analyzer's last digit");
  if (g_strcmp0 (name, "mismatch-meter") == 0)
    return _ ("mismatch of source and meter");
  return sp_words_run_term (name);
}

const char *
sp_words_check_left (const char *term)
{
  static const struct {
    const char *term, *words;
  } rows[] = {
    { "accuracy", N_ ("absolute accuracy") },   { "flatness", N_ ("flatness, between the points") },
    { "attenuator-switch", N_ ("attenuator") }, { "rbw-switch", N_ ("RBW, untouched") },
    { "scale", N_ ("scale, untouched") },       { "repeatability", N_ ("repeatability, untouched") },
  };
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    if (g_strcmp0 (term, rows[i].term) == 0)
      return _ (rows[i].words);
  return term;
}

char *
sp_words_check_place (const SpCheckPoint *point, SpHand hand)
{
  g_autofree char *at = sp_words_frequency (point->frequency_hz, 0, hand);
  if (isnan (point->attenuation_db))
    return g_steal_pointer (&at);
  g_autofree char *setting = sp_words_number (point->attenuation_db, 0, hand);
  return g_strdup_printf (_ ("%s, %s dB of attenuation"), at, setting);
}

const char *
sp_words_check_cautions (void)
{
  return _ (
      "Bring the level to where the analyzer is read in use, far below its damage level, and leave it: meter and analyzer take turns at "
      "the end of one lead. Let all of it warm up, tighten every plug alike, and read each more than once.");
}
