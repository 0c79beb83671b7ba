/* facts.c - frequency, power, waveband and mode among the words of a file's name */
#include "core/bench/proposals/proposals-private.h"

#include <math.h>
#include <string.h>

#include "core/quantity/text.h"

static const struct {
  const char *unit;
  double factor;
} powers[] = { { "mw", 1e-3 }, { "kw", 1e3 }, { "w", 1 } }, frequencies[] = { { "khz", 1e3 }, { "mhz", 1e6 }, { "ghz", 1e9 } };

/* "14.2MHz" with "mhz": 14.2; NaN: another word. */
static double
number_before (const char *lower, const char *unit)
{
  g_autofree char *number = g_str_has_suffix (lower, unit) ? g_strndup (lower, strlen (lower) - strlen (unit)) : NULL;
  double value;
  return number && *number && strspn (number, "0123456789.") == strlen (number) && sp_parse_number (number, &value, NULL) && value > 0
             ? value
             : NAN;
}

/* "160m", "70cm": the name of a waveband is one of the condition's, without being its frequency. */
static gboolean
is_waveband (const char *lower)
{
  return !isnan (number_before (lower, "cm")) || !isnan (number_before (lower, "m"));
}

static gboolean
take_mode (const char *lower, SpProposal *out)
{
  static const char *const modes[] = { "cw", "ssb", "usb", "lsb", "am", "fm", NULL };
  if (!g_strv_contains (modes, lower))
    return FALSE;
  g_free (out->mode);
  out->mode = g_ascii_strup (lower, -1);
  return TRUE;
}

static gboolean
take_fact (const char *lower, SpProposal *out)
{
  for (guint i = 0; i < G_N_ELEMENTS (frequencies); i++)
    if (!isnan (number_before (lower, frequencies[i].unit))) {
      out->fundamental_hz = number_before (lower, frequencies[i].unit) * frequencies[i].factor;
      return TRUE;
    }
  for (guint i = 0; i < G_N_ELEMENTS (powers); i++)
    if (!isnan (number_before (lower, powers[i].unit))) {
      out->rated_w = number_before (lower, powers[i].unit) * powers[i].factor;
      return TRUE;
    }
  return take_mode (lower, out) || is_waveband (lower);
}

void
sp_proposal_take_facts (char **words, gboolean *facts, SpProposal *out)
{
  for (guint i = 0; words[i]; i++) {
    g_autofree char *lower = g_ascii_strdown (words[i], -1);
    facts[i] = take_fact (lower, out);
  }
}

void
sp_proposal_tell (const char *condition, SpProposal *out)
{
  g_autofree char *lower = g_ascii_strdown (condition, -1);
  g_auto (GStrv) words = g_strsplit_set (lower, " -_", -1);
  for (guint i = 0; words[i]; i++) {
    g_autofree char *both = words[i + 1] && *words[i + 1] ? g_strconcat (words[i], words[i + 1], NULL) : NULL;
    if (!take_fact (words[i], out) && both && g_ascii_isdigit (*both) && take_fact (both, out))
      i++;
  }
}
