/* words-run.c - what a substitution run wants and warns of, as sentences */
#include "ui/words/speak.h"

#include <glib/gi18n-lib.h>

/* What a substitution run still wants before it gives a loss. */
static char *
words_of_wanting (Speaker *s)
{
  static const struct {
    const char *what, *one, *at;
  } rows[] = {
    { "stage", N_ ("Say which stage the run is of."), NULL },
    { "frequency", N_ ("Give the frequency of the readings, above 0."), NULL },
    { "frequency-once", NULL, N_ ("%s stands twice: put its readings into one row.") },
    { "before", NULL, N_ ("At %s the reference reading before the stage was put in is wanting, or is no number.") },
    { "inserted", NULL, N_ ("At %s the reading with the stage put in is wanting, or is no number.") },
    { "after", NULL, N_ ("At %s a reference reading after the stage was taken out is no number.") },
    { "times", NULL, N_ ("At %s the minutes run back, or only some readings have one: before, inserted, after, in this order.") },
    { "loss", NULL,
      N_ ("At %s the readings give a loss that no stage has (below -0.5 or above 300 dB): are reference and inserted exchanged?") },
  };
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    if (g_strcmp0 (s->reason->text[0], rows[i].what) == 0)
      return rows[i].at ? g_strdup_printf (_ (rows[i].at), say_frequency (s, 0)) : g_strdup (_ (rows[i].one));
  return g_strdup_printf (_ ("What stands for %s is outside its range."), say_text (s, 0));
}

char *
words_of_run (Speaker *s)
{
  switch (s->reason->code) {
  case SP_REASON_RUN_WANTS: return words_of_wanting (s);
  case SP_REASON_REPEATS_WANDER:
    return g_strdup_printf (
        _ ("The repeats of %s at %s wander by %s dB, more than their scatter of %s dB: something warms up, or a plug was "
           "touched; wait and repeat."),
        say_text (s, 0), say_frequency (s, 0), say_fine (s, 1), say_fine (s, 2));
  case SP_REASON_LINE_LENGTH:
    return g_strdup_printf (
        _ ("The line of %s m to the meter is near an eighth of a wave or longer from %s on (%s m): the mismatch turns over "
           "small changes of frequency; put a pad at its end or shorten it."),
        say_ratio (s, 1), say_frequency (s, 0), say_fine (s, 2));
  case SP_REASON_METER_FLOOR:
    return g_strdup_printf (_ ("A reading at %s lies at %s, within 10 dB of the meter's floor at %s: noise makes the loss look too small."),
                            say_frequency (s, 0), say_level (s, 1), say_level (s, 2));
  default: return NULL;
  }
}

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
sp_words_run_shape (SpRunShape shape)
{
  static const char *const words[] = { N_ ("normal"), N_ ("Student's t"), N_ ("rectangular"), N_ ("U-shaped") };
  g_return_val_if_fail ((guint) shape < G_N_ELEMENTS (words), "");
  return _ (words[shape]);
}

const char *
sp_words_run_cautions (void)
{
  return _ ("Turn the generator down before the stage comes out: without it the meter takes all of the power, and a sensor burns at a few "
            "dB over its "
            "rating. Never more into a pad than it is rated for; a warm pad reads too much. Let generator and meter warm up, tighten every "
            "plug alike.");
}
