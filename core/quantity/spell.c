/* spell.c - frequencies as a person would write them in our files */
#include "core/quantity/spell.h"

#include <math.h>
#include <string.h>

#include "core/quantity/text.h"

static const struct {
  const char *name;
  double hz;
} units[] = { { "GHz", 1e9 }, { "MHz", 1e6 }, { "kHz", 1e3 }, { "Hz", 1 } };

char *
sp_spell_beside (double frequency_hz, double other_hz)
{
  double greatest = fmax (fabs (frequency_hz), fabs (other_hz));
  char number[32];
  guint i = 0;
  while (i + 1 < G_N_ELEMENTS (units) && greatest < units[i].hz)
    i++;
  return g_strdup_printf ("%s %s", sp_format_exact (frequency_hz / units[i].hz, number), units[i].name);
}

char *
sp_spell_frequency (double frequency_hz)
{
  char number[32];
  for (guint i = 0; i < G_N_ELEMENTS (units); i++) {
    if (fabs (frequency_hz) < units[i].hz)
      continue;
    g_autofree char *text = g_strconcat (sp_format_exact (frequency_hz / units[i].hz, number), units[i].name, NULL);
    double back;
    if (strlen (number) <= 15 && sp_parse_frequency (text, &back, NULL) && back == frequency_hz)
      return g_steal_pointer (&text);
  }
  return g_strdup (sp_format_exact (frequency_hz, number));
}

static char *
spell_word (const char *word)
{
  double frequency_hz;
  return sp_parse_frequency (word, &frequency_hz, NULL) ? sp_spell_frequency (frequency_hz) : g_strdup (word);
}

static void
spell_row (GString *out, const char *row, gboolean all)
{
  g_auto (GStrv) words = g_strsplit_set (row, " \t", -1);
  guint n = 0, written = 0;
  for (guint i = 0; words[i]; i++)
    n += *words[i] ? 1 : 0;
  for (guint i = 0; words[i]; i++) {
    if (!*words[i])
      continue;
    g_autofree char *spelled = all || (written == 0 && n > 1) ? spell_word (words[i]) : g_strdup (words[i]);
    g_string_append_printf (out, "%s%s", written++ ? " " : "", spelled);
  }
}

char *
sp_spell_value (const char *value, SpSpelling spelling)
{
  if (spelling == SP_SPELL_AS_IT_IS)
    return g_strdup (value);
  GString *out = g_string_new (NULL);
  g_auto (GStrv) rows = g_strsplit (value, ";", -1);
  for (guint i = 0; rows[i]; i++) {
    g_string_append (out, i ? "; " : "");
    spell_row (out, rows[i], spelling != SP_SPELL_ROWS);
  }
  return g_string_free (out, FALSE);
}
