/* words-sweep.c - a whole sweep to take, how long the key is down for it, and what stands in the way of one */
#include "ui/words/speak.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

char *
sp_words_key_down (double parts, double key_down_s, double pause_s, const char *basis, SpHand hand)
{
  g_autofree char *down = sp_words_seconds (key_down_s, hand), *pause = sp_words_seconds (pause_s, hand),
                  *n = sp_words_number (parts, 0, hand);
  g_autoptr (GString) text = g_string_new (NULL);
  if (!(parts > 1))
    g_string_append_printf (text, _ ("key down %s"), down);
  else if (pause_s > 0)
    g_string_append_printf (text, _ ("key down %s in each of %s parts, %s of pause between them"), down, n, pause);
  else
    g_string_append_printf (text, _ ("key down %s in each of %s parts"), down, n);
  if (key_down_s >= 1 && g_strcmp0 (basis, "common practice") == 0)
    g_string_append (text, _ (" (sweep time by common practice)"));
  return g_strdup (text->str);
}

static const char *
detection (Speaker *s)
{
  const char *detector = s->reason->text[0];
  if (g_strcmp0 (detector, "peak") == 0)
    return _ ("positive peak detection");
  return g_strcmp0 (detector, "sample") == 0 ? _ ("sample detection") : say_keep (s, g_strdup_printf (_ ("detector %s"), say_text (s, 0)));
}

static char *
words_of_span (Speaker *s)
{
  const double *v = s->reason->value;
  g_autofree char *key = sp_words_key_down (v[3], v[8], v[9], s->reason->text[2], s->hand);
  g_autofree char *average = v[6] > 1 ? g_strdup_printf (_ (", a power average of %s sweeps"), say_whole (s, 6)) : g_strdup ("");
  g_autofree char *parts = v[3] > 1 ? g_strdup_printf (_ (", in %s parts side by side"), say_whole (s, 3)) : g_strdup ("");
  g_autofree char *notch = isnan (v[7]) ? g_strdup ("") : g_strdup_printf (_ (", a notch on the fundamental %s dB deep"), say_whole (s, 7));
  g_autofree char *floor = isnan (v[10]) ? g_strdup ("") : g_strdup_printf (_ (": the floor would be %s"), say_level (s, 10));
  return g_strdup_printf (_ ("Sweep from %s to %s with %s dB of attenuation, an RBW of %s, %s, %s points%s%s%s, %s%s."),
                          say_frequency (s, 0), say_frequency (s, 1), say_whole (s, 5), say_frequency (s, 4), detection (s),
                          say_whole (s, 2), average, parts, notch, key, floor);
}

/* No RBW helps against some of it. */
static char *
words_of_no_span (Speaker *s)
{
  const char *why = s->reason->text[0], *from = say_frequency (s, 0), *to = say_frequency (s, 1);
  static const struct {
    const char *why, *what;
  } rows[] = {
    { "phase noise",
      N_ ("No sweep with this analyzer shows what stands from %s to %s: its own phase noise lies %s dB too high at %s. An analyzer with "
          "less phase noise would show it.") },
    { "noise", N_ ("No sweep with this analyzer shows what stands from %s to %s: its own noise lies %s dB too high at %s. Less loss before "
                   "it, as far as "
                   "that is safe, or another analyzer would show it.") },
    { "distortion",
      N_ ("No sweep with this analyzer shows what stands from %s to %s: what its mixer makes lies %s dB too high at %s. A notch on the "
          "fundamental would show it.") },
  };
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    if (g_strcmp0 (why, rows[i].why) == 0)
      return g_strdup_printf (_ (rows[i].what), from, to, say_db (s, 2), say_frequency (s, 3));
  if (g_strcmp0 (why, "skirt") == 0 && isnan (s->reason->value[2]))
    return g_strdup_printf (_ ("From %s to %s it is too close to the carrier for the analyzer's narrowest RBW: a narrower one is needed."),
                            from, to);
  if (g_strcmp0 (why, "skirt") == 0)
    return g_strdup_printf (
        _ ("No sweep with this analyzer shows what stands from %s to %s: the carrier's skirt lies %s dB too high at %s. A narrower RBW "
           "than it has would show it."),
        from, to, say_db (s, 2), say_frequency (s, 3));
  if (g_strcmp0 (why, "zero hertz") == 0)
    return g_strdup_printf (_ ("From %s to %s it is too close to zero hertz for the analyzer's narrowest RBW: a narrower one is needed."),
                            from, to);
  if (g_strcmp0 (why, "time") == 0)
    return g_strdup_printf (
        _ ("A sweep that shows what stands from %s to %s would keep the key down for %s in all, and the radio can be keyed for %s at a "
           "time: too many parts. State a longer key-down time if it has one."),
        from, to, say_seconds (s, 4), say_seconds (s, 5));
  if (g_strcmp0 (why, "unsafe") == 0)
    return g_strdup_printf (_ ("No sweep from %s to %s is safe with this chain and analyzer: more attenuation has to come before it."),
                            from, to);
  return g_strdup_printf (
      _ ("What would show what stands from %s to %s cannot be foreseen: the analyzer's profile states no noise (danl_dbm_hz)."), from, to);
}

char *
words_of_sweep (Speaker *s)
{
  if (s->reason->code == SP_REASON_PROVE_SPAN)
    return words_of_span (s);
  return s->reason->code == SP_REASON_PROVE_SPAN_NOT ? words_of_no_span (s) : NULL;
}
