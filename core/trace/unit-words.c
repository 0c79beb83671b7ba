/* unit-words.c - the spellings of units */
#include "core/trace/unit-words.h"

#include <string.h>

typedef struct {
  const char *spelling;
  gboolean exact_case;
  SpUnitWord unit;
} Entry;

/* by hand: one unit a row */
/* clang-format off */
#define FREQUENCY(name, e) { name, FALSE, { SP_UNIT_KIND_FREQUENCY, e, 0, name } }
#define TIME(name, e) { name, FALSE, { SP_UNIT_KIND_TIME, e, 0, name } }
#define LEVEL(spelling, exact, e, level, name) { spelling, exact, { SP_UNIT_KIND_LEVEL, e, level, name } }

/* Effective values are said in a few ways; others (peak, peak to peak) are no units of ours. */
#define VOLTS(spelling, exact, e) LEVEL (spelling, exact, e, SP_UNIT_VOLT, spelling), \
  LEVEL (spelling "rms", exact, e, SP_UNIT_VOLT, spelling), LEVEL (spelling "eff", exact, e, SP_UNIT_VOLT, spelling)
#define WATTS(spelling, exact, e) LEVEL (spelling, exact, e, SP_UNIT_WATT, spelling)

static const Entry entries[] = {
  FREQUENCY ("Hz", 0), FREQUENCY ("kHz", 3), FREQUENCY ("MHz", 6), FREQUENCY ("GHz", 9), FREQUENCY ("THz", 12),
  LEVEL ("dBm", FALSE, 0, SP_UNIT_DBM, "dBm"), LEVEL ("dBmW", FALSE, 0, SP_UNIT_DBM, "dBm"),
  LEVEL ("dB(mW)", FALSE, 0, SP_UNIT_DBM, "dBm"), LEVEL ("dBmV", FALSE, 0, SP_UNIT_DBMV, "dBmV"),
  LEVEL ("dB(mV)", FALSE, 0, SP_UNIT_DBMV, "dBmV"), LEVEL ("dBuV", FALSE, 0, SP_UNIT_DBUV, "dBuV"),
  LEVEL ("dB(uV)", FALSE, 0, SP_UNIT_DBUV, "dBuV"),
  VOLTS ("V", FALSE, 0), VOLTS ("kV", FALSE, 3), VOLTS ("mV", TRUE, -3), VOLTS ("uV", FALSE, -6), VOLTS ("nV", FALSE, -9),
  VOLTS ("pV", FALSE, -12), VOLTS ("MV", TRUE, 6), LEVEL ("mv", TRUE, -3, SP_UNIT_VOLT, "mV"),
  LEVEL ("Volt", FALSE, 0, SP_UNIT_VOLT, "V"), LEVEL ("Volts", FALSE, 0, SP_UNIT_VOLT, "V"),
  WATTS ("W", FALSE, 0), WATTS ("kW", FALSE, 3), WATTS ("mW", TRUE, -3), WATTS ("uW", FALSE, -6), WATTS ("nW", FALSE, -9),
  WATTS ("pW", FALSE, -12), WATTS ("fW", FALSE, -15), WATTS ("MW", TRUE, 6), LEVEL ("mw", TRUE, -3, SP_UNIT_WATT, "mW"),
  LEVEL ("Watt", FALSE, 0, SP_UNIT_WATT, "W"), LEVEL ("Watts", FALSE, 0, SP_UNIT_WATT, "W"),
  TIME ("s", 0), TIME ("sec", 0), TIME ("ms", -3), TIME ("us", -6), TIME ("ns", -9),
  { "dB", FALSE, { SP_UNIT_KIND_RATIO, 0, 0, "dB" } },
};
/* clang-format on */

/* The micro sign and the Greek mu become u, blanks go: "dB \u00b5V" is "dBuV". */
static gboolean
plain (const char *text, gsize length, char *out, gsize size)
{
  gsize n = 0;

  for (gsize i = 0; i < length; i++) {
    char c = text[i];
    if (c == ' ')
      continue;
    if (length - i >= 2 && (memcmp (text + i, "\xc2\xb5", 2) == 0 || memcmp (text + i, "\xce\xbc", 2) == 0)) {
      c = 'u';
      i++;
    }
    if (n + 1 >= size)
      return FALSE;
    out[n++] = c;
  }
  out[n] = '\0';
  return n > 0;
}

gboolean
sp_unit_word (const char *text, gsize length, SpUnitWord *unit)
{
  char spelling[16];

  *unit = (SpUnitWord){ SP_UNIT_KIND_NONE, 0, SP_UNIT_DBM, NULL };
  if (!plain (text, length, spelling, sizeof spelling))
    return FALSE;
  for (gsize i = 0; i < G_N_ELEMENTS (entries); i++)
    if (strcmp (entries[i].spelling, spelling) == 0
        || (!entries[i].exact_case && g_ascii_strcasecmp (entries[i].spelling, spelling) == 0)) {
      *unit = entries[i].unit;
      return TRUE;
    }
  return FALSE;
}

/* What the last pair of brackets at the text's end holds; "dB(uV)" in square ones too. */
static gboolean
bracketed (const char *start, const char *end, const char **open, const char **inner, const char **inner_end)
{
  if (end == start || (end[-1] != ')' && end[-1] != ']'))
    return FALSE;
  char closing = end[-1], opening = closing == ')' ? '(' : '[';
  int depth = 0;
  for (const char *p = end - 1; p >= start; p--) {
    depth += *p == closing ? 1 : *p == opening ? -1 : 0;
    if (depth == 0) {
      /* "dB(uV)" is one word; to take uV out of it would be 100 dB wrong */
      const char *before = p;
      while (before > start && before[-1] == ' ')
        before--;
      gboolean decibel = before - start >= 2 && g_ascii_strncasecmp (before - 2, "dB", 2) == 0
                         && (before - start == 2 || !g_ascii_isalnum (before[-3]));
      *open = decibel ? before - 2 : p;
      *inner = decibel ? before - 2 : p + 1;
      *inner_end = decibel ? end : end - 1;
      return TRUE;
    }
  }
  return FALSE;
}

static void
trim (const char **start, const char **end, const char *what)
{
  while (*start < *end && strchr (what, **start) && **start)
    (*start)++;
  while (*end > *start && strchr (what, (*end)[-1]) && (*end)[-1])
    (*end)--;
}

/* "Pegel in dBm", "Fréquence en MHz". */
static void
drop_in (const char *start, const char **end)
{
  if (*end - start > 3 && (g_ascii_strncasecmp (*end - 3, " in", 3) == 0 || g_ascii_strncasecmp (*end - 3, " en", 3) == 0))
    *end -= 3;
}

char *
sp_narrow (const char *text, gsize length)
{
  GString *out = g_string_sized_new (length);

  for (const guchar *p = (const guchar *) text, *end = p + length; p < end;) {
    guint wide = end - p >= 3 ? (guint) p[0] << 16 | (guint) p[1] << 8 | p[2] : 0; /* UTF-8: ef bc 81 is U+FF01, ef bd 9e U+FF5E */
    gboolean first = wide >= 0xefbc81 && wide <= 0xefbcbf, second = wide >= 0xefbd80 && wide <= 0xefbd9e, blank = wide == 0xe38080;
    g_string_append_c (out, first ? (char) (p[2] - 0x80 + 0x20) : second ? (char) (p[2] - 0x80 + 0x60) : blank ? ' ' : (char) *p);
    p += first || second || blank ? 3 : 1;
  }
  return g_string_free (out, FALSE);
}

void
sp_unit_split (const char *wide, gsize length, char **name, char **unit_text, SpUnitWord *unit)
{
  g_autofree char *text = sp_narrow (wide, length);
  const char *start = text, *end = text + strlen (text), *open, *inner, *inner_end;

  trim (&start, &end, " \t\"");
  if (sp_unit_word (start, (gsize) (end - start), unit)) {
    *name = g_strdup ("");
    *unit_text = g_strndup (start, (gsize) (end - start));
    return;
  }
  if (bracketed (start, end, &open, &inner, &inner_end)) {
    trim (&inner, &inner_end, " \t");
    sp_unit_word (inner, (gsize) (inner_end - inner), unit);
    *unit_text = g_strndup (inner, (gsize) (inner_end - inner));
    trim (&start, &open, " \t:=/");
    *name = g_strndup (start, (gsize) (open - start));
    return;
  }
  const char *word = end;
  while (word > start && !strchr (" \t/_,", word[-1]))
    word--;
  if (word > start && sp_unit_word (word, (gsize) (end - word), unit)) {
    *unit_text = g_strndup (word, (gsize) (end - word));
    trim (&start, &word, " \t/_,:=");
    drop_in (start, &word);
    *name = g_strndup (start, (gsize) (word - start));
    return;
  }
  trim (&start, &end, ":= \t");
  *name = g_strndup (start, (gsize) (end - start));
  *unit_text = g_strdup ("");
}
