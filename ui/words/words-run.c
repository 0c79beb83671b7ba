/* words-run.c - the words of a substitution run: its terms, distributions and cautions */
#include "ui/words/words.h"

#include <glib/gi18n-lib.h>

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
