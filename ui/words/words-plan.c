/* words-plan.c - what to change in a sweep so that it proves something, as a sentence */
#include "ui/words/speak.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

static void
add (GString *list, const char *part)
{
  g_string_append_printf (list, "%s%s", list->len ? ", " : "", part);
}

/* Knobs have whole decibels. */
static const char *
knob (Speaker *s, guint i)
{
  return s->reason->value[i] == round (s->reason->value[i]) ? say_whole (s, i) : say_db (s, i);
}

static const char *
detection (Speaker *s)
{
  const char *detector = s->reason->text[0];
  if (detector && strcmp (detector, "peak") == 0)
    return _ ("positive peak detection");
  return detector && strcmp (detector, "sample") == 0 ? _ ("sample detection")
                                                      : say_keep (s, g_strdup_printf (_ ("detector %s"), say_text (s, 0)));
}

/* The kind of average, how many, or both may be what changes. */
static const char *
average (Speaker *s)
{
  const char *kind = s->reason->text[1] ? s->reason->text[1] : "power";
  gboolean power = strcmp (kind, "power") == 0;
  if (strcmp (kind, "none") == 0 || s->reason->value[3] <= 1)
    return _ ("no average");
  if (isnan (s->reason->value[3]))
    return power ? _ ("a power average") : say_keep (s, g_strdup_printf (_ ("average %s"), kind));
  return power ? say_keep (s, g_strdup_printf (_ ("a power average of %s sweeps"), say_whole (s, 3)))
               : say_keep (s, g_strdup_printf (_ ("average %s of %s sweeps"), kind, say_whole (s, 3)));
}

/* The settings that change, as a list: "0 dB of attenuation, an RBW of 1 kHz, positive peak detection". */
static char *
settings (Speaker *s)
{
  const double *value = s->reason->value;
  GString *list = g_string_new (NULL);
  if (!isnan (value[0]))
    add (list, say_keep (s, g_strdup_printf (_ ("%s dB of attenuation"), knob (s, 0))));
  if (!isnan (value[1]))
    add (list, say_keep (s, g_strdup_printf (_ ("an RBW of %s"), say_frequency (s, 1))));
  if (s->reason->text[0])
    add (list, detection (s));
  if (!isnan (value[3]) || (s->reason->text[1] && strcmp (s->reason->text[1], "none") != 0))
    add (list, average (s));
  if (s->reason->text[2])
    add (list, _ ("no hold"));
  if (!isnan (value[2]))
    add (list, say_keep (s, g_strdup_printf (_ ("%s points"), say_whole (s, 2))));
  if (!isnan (value[4]))
    add (list, value[4] > 1 ? say_keep (s, g_strdup_printf (_ ("the span in %s sweeps side by side"), say_whole (s, 4))) : _ ("one sweep"));
  return g_string_free (list, FALSE);
}

/* What lowers a floor follows what it is made of: less attenuation lifts distortion, and no RBW helps against it. */
static char *
words_of_floor (Speaker *s)
{
  static const struct {
    const char *cause, *what;
  } rows[] = {
    { "noise", N_ ("Lower the floor by %s dB: less attenuation, a narrower RBW, or a power average.") },
    { "phase noise", N_ ("Lower the floor by %s dB: a notch on the fundamental, a narrower RBW, or an analyzer with less phase noise.") },
    { "skirt", N_ ("Lower the floor by %s dB: a narrower RBW, or a notch on the fundamental.") },
    { "distortion", N_ ("Lower the floor by %s dB: more attenuation, a pad before the analyzer, or a notch on the fundamental.") },
  };
  const char *words = N_ ("Lower the floor by %s dB: less attenuation, a narrower RBW, or a notch on the fundamental.");
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    if (g_strcmp0 (s->reason->text[0], rows[i].cause) == 0)
      words = rows[i].what;
  char *sentence = g_strdup_printf (_ (words), say_db (s, 0));
  if (!s->reason->text[1])
    return sentence;
  g_autofree char *lower = sentence;
  return g_strdup_printf (_ ("Make the chain safe first. %s"), lower);
}

/* " One such sweep of Sorrel/40 m 100 W would settle 5 conditions."; "" where it is this one alone. */
static const char *
settles_others (Speaker *s)
{
  if (!s->reason->text[1])
    return "";
  return say_keep (s, g_strdup_printf (_ (" One step sweep of %s would settle %s conditions."), say_text (s, 1), say_whole (s, 2)));
}

/* A step sweep. What the analyzer makes without a signal rises with the attenuation; whether a spur is that the step shows. */
static char *
words_of_step (Speaker *s)
{
  gboolean pad = s->reason->text[0] != NULL;
  const char *falls = s->reason->value[1] > 0 ? _ ("what the analyzer makes falls")
                                              : _ ("what the analyzer makes falls, or rises with the attenuation");
  switch (s->reason->code) {
  case SP_REASON_PROVE_STEP:
    if (pad)
      return g_strdup_printf (
          _ ("Sweep once more with the pad of %s dB before the analyzer, its loss measured, and give it as a step: what the radio "
             "emits stays where it is, %s.%s"),
          knob (s, 0), falls, settles_others (s));
    return g_strdup_printf (
        _ ("Sweep once more with %s dB more attenuation, and give it as a step: what the radio emits stays where it is, %s.%s"),
        knob (s, 0), falls, settles_others (s));
  case SP_REASON_PROVE_STEP_PAD:
    return g_strdup_printf (
        _ ("No step of the attenuator serves: sweep once more with a pad of %s dB before the analyzer, its loss measured, and give "
           "it as a step."),
        knob (s, 0));
  case SP_REASON_PROVE_STEP_NOISE:
    return g_strdup_printf (
        pad ? _ ("A pad of %s dB before the analyzer would tell whose it is, but would drown it: first lower the noise by %s dB, "
                 "with a narrower RBW or a power average, then sweep with and without that pad.")
            : _ ("A step of %s dB more attenuation would tell whose it is, but would drown it: first lower the noise by %s dB, "
                 "with a narrower RBW or a power average, then sweep with and without that step."),
        knob (s, 0), knob (s, 1));
  case SP_REASON_PROVE_RESIDUAL:
    return g_strdup_printf (
        _ ("What stands at %s rises with the attenuation: the analyzer makes it by itself. Less loss before the analyzer, as far as "
           "that is safe, or another analyzer would show what of it is the radio's."),
        say_frequency (s, 0));
  default: return NULL;
  }
}

/* The same settings, to be held against the sweep that there is: alone they would prove nothing. */
static char *
words_beside (Speaker *s, const char *list, const char *key)
{
  if (isnan (s->reason->value[5]))
    return g_strdup_printf (
        _ ("Sweep once more with %s%s, and give it as a step beside this sweep: together they would show that the radio's part is at "
           "most %s."),
        list, key, say_level (s, 6));
  return g_strdup_printf (
      _ ("Sweep once more with %s dB more pad before the analyzer, its loss measured%s%s%s, and give it as a step beside this sweep: "
         "together they would show that the radio's part is at most %s."),
      knob (s, 5), *list ? ", " : "", list, key, say_level (s, 6));
}

/* ", key down 12 s"; "" where nobody worked it out. */
static const char *
key_down (Speaker *s)
{
  const double *v = s->reason->value;
  if (isnan (v[8]))
    return "";
  g_autofree char *key = sp_words_key_down (v[7], v[8], v[9], sp_time_basis_name ((SpTimeBasis) v[10]), s->hand);
  return say_keep (s, g_strconcat (", ", key, NULL));
}

static char *
words_of_setting (Speaker *s)
{
  gboolean notch = s->reason->code == SP_REASON_PROVE_NOTCH,
           pad = s->reason->code == SP_REASON_PROVE_SETTING && !isnan (s->reason->value[5]);
  const char *key = key_down (s);
  g_autofree char *list = settings (s);
  if (s->reason->code == SP_REASON_PROVE_BESIDE)
    return words_beside (s, list, key);
  if (notch && !*list)
    return g_strdup_printf (_ ("Sweep once more with a notch on the fundamental, %s dB deep%s: the floor would be %s."), knob (s, 5), key,
                            say_level (s, 6));
  if (notch)
    return g_strdup_printf (_ ("Sweep once more with a notch on the fundamental, %s dB deep, and %s%s: the floor would be %s."),
                            knob (s, 5), list, key, say_level (s, 6));
  if (pad && !*list)
    return g_strdup_printf (_ ("Sweep with %s dB more pad before the analyzer%s: the floor would be %s."), knob (s, 5), key,
                            say_level (s, 6));
  if (pad)
    return g_strdup_printf (_ ("Sweep with %s dB more pad before the analyzer and %s%s: the floor would be %s."), knob (s, 5), list, key,
                            say_level (s, 6));
  return g_strdup_printf (_ ("Sweep with %s%s: the floor would be %s."), list, key, say_level (s, 6));
}

char *
words_of_plan (Speaker *s)
{
  char *step = words_of_step (s);
  if (step)
    return step;
  switch (s->reason->code) {
  case SP_REASON_PROVE_FLOOR: return words_of_floor (s);
  case SP_REASON_PROVE_SETTING:
  case SP_REASON_PROVE_NOTCH:
  case SP_REASON_PROVE_BESIDE: return words_of_setting (s);
  default: return NULL;
  }
}
