/* clean.c - what of a stranger's text may be shown */
#include "core/quantity/clean.h"

#include <string.h>

static gboolean
is_noncharacter (gunichar character)
{
  return (character & 0xfffe) == 0xfffe || (character >= 0xfdd0 && character <= 0xfdef);
}

gboolean
sp_character_shows (gunichar character)
{
  gboolean marks = character == 0x200e || character == 0x200f || character == 0x061c; /* which way text runs */
  gboolean turns = marks || (character >= 0x202a && character <= 0x202e) || (character >= 0x2066 && character <= 0x2069);
  gboolean separates = character == 0x2028 || character == 0x2029;
  return !g_unichar_iscntrl (character) && !turns && !separates && !is_noncharacter (character);
}

static gboolean
is_plain (const char *text)
{
  for (; *text; text++)
    if (*text < ' ' || *text > '~')
      return FALSE;
  return TRUE;
}

char *
sp_utf8 (const char *text)
{
  if (!text || g_utf8_validate (text, -1, NULL))
    return g_strdup (text);
  GString *out = g_string_new (NULL);
  for (const char *bad; *text; text = bad) {
    gboolean rest = g_utf8_validate (text, -1, &bad);
    g_string_append_len (out, text, bad - text);
    if (!rest)
      g_string_append_printf (out, "%%%02X", (guint) (guchar) *bad++);
  }
  return g_string_free (out, FALSE);
}

static char *
clean (const char *text, gboolean lines)
{
  if (!text || is_plain (text))
    return g_strdup (text);
  g_autofree char *valid = sp_utf8 (text);
  GString *out = g_string_new (NULL);
  for (const char *c = valid; *c; c = g_utf8_next_char (c)) {
    gunichar character = g_utf8_get_char (c);
    if (sp_character_shows (character) || (lines && character == '\n'))
      g_string_append_unichar (out, character);
    else
      g_string_append_unichar (out, is_noncharacter (character) ? 0xfffd : ' ');
  }
  return g_string_free (out, FALSE);
}

char *
sp_clean (const char *text)
{
  return clean (text, FALSE);
}

char *
sp_clean_lines (const char *text)
{
  return clean (text, TRUE);
}
