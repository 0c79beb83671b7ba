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
    return _("positive peak detection");
  return detector && strcmp (detector, "sample") == 0 ? _("sample detection") : say_keep (s, g_strdup_printf (_("detector %s"), say_text (s, 0)));
}

/* The settings that change, as a list: "0 dB of attenuation, an RBW of 1 kHz, positive peak detection". */
static char *
settings (Speaker *s)
{
  const double *value = s->reason->value;
  GString *list = g_string_new (NULL);
  if (!isnan (value[0]))
    add (list, say_keep (s, g_strdup_printf (_("%s dB of attenuation"), knob (s, 0))));
  if (!isnan (value[1]))
    add (list, say_keep (s, g_strdup_printf (_("an RBW of %s"), say_frequency (s, 1))));
  if (s->reason->text[0])
    add (list, detection (s));
  if (!isnan (value[3]))
    add (list, value[3] > 1 ? say_keep (s, g_strdup_printf (_("a power average of %s sweeps"), say_whole (s, 3))) : _("no average"));
  if (!isnan (value[2]))
    add (list, say_keep (s, g_strdup_printf (_("%s points"), say_whole (s, 2))));
  if (!isnan (value[4]))
    add (list, value[4] > 1 ? say_keep (s, g_strdup_printf (_("the span in %s sweeps side by side"), say_whole (s, 4))) : _("one sweep"));
  return g_string_free (list, FALSE);
}

char *
words_of_plan (Speaker *s)
{
  gboolean notch = s->reason->code == SP_REASON_PROVE_NOTCH, pad = s->reason->code == SP_REASON_PROVE_SETTING && !isnan (s->reason->value[5]);
  if (s->reason->code != SP_REASON_PROVE_SETTING && !notch)
    return NULL;
  g_autofree char *list = settings (s);
  if (notch && !*list)
    return g_strdup_printf (_("Sweep once more with a notch on the fundamental, %s dB deep: the floor would be %s."), knob (s, 5), say_level (s, 6));
  if (notch)
    return g_strdup_printf (_("Sweep once more with a notch on the fundamental, %s dB deep, and %s: the floor would be %s."), knob (s, 5), list,
                            say_level (s, 6));
  if (pad && !*list)
    return g_strdup_printf (_("Sweep with %s dB more pad before the analyzer: the floor would be %s."), knob (s, 5), say_level (s, 6));
  if (pad)
    return g_strdup_printf (_("Sweep with %s dB more pad before the analyzer and %s: the floor would be %s."), knob (s, 5), list, say_level (s, 6));
  return g_strdup_printf (_("Sweep with %s: the floor would be %s."), list, say_level (s, 6));
}
