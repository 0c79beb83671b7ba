/* typed.c - turns what people type into a field into the spelling of our files */
#include "core/quantity/typed.h"

#include "core/quantity/error.h"
#include "core/quantity/text.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* Blanks of any kind become one, minus signs a hyphen. (transfer full) */
static char *
plain (const char *text)
{
  g_autofree char *valid = g_utf8_make_valid (text, -1);
  GString *out = g_string_new (NULL);

  for (const char *p = valid; *p; p = g_utf8_next_char (p)) {
    gunichar c = g_utf8_get_char (p);
    if (g_unichar_isspace (c)) {
      if (out->len > 0 && out->str[out->len - 1] != ' ')
        g_string_append_c (out, ' ');
    } else
      g_string_append_unichar (out, c == 0x2212 ? '-' : c);
  }
  g_strchomp (out->str);
  return g_string_free (out, FALSE);
}

/* Where a number ends that begins at `text`; both marks count. */
static gsize
number_length (const char *text)
{
  const char *p = *text == '+' || *text == '-' ? text + 1 : text, *digits = p;

  p += strspn (p, "0123456789.,");
  if (p == digits || !g_ascii_isdigit (p[-1]))
    return 0;
  if ((*p == 'e' || *p == 'E') && g_ascii_isdigit (p[1 + (p[1] == '-' || p[1] == '+')]))
    p += 2 + strspn (p + 2, "0123456789");
  return (gsize) (p - text);
}

/* Is "1,234" a thousand or a little over one? Zero is no group of thousands. */
static gboolean
may_be_thousands (const char *number, const char *comma)
{
  const char *digits = number + (*number == '+' || *number == '-');
  gsize before = (gsize) (comma - digits), after = strspn (comma + 1, "0123456789");

  return after == 3 && before >= 1 && before <= 3 && *digits != '0';
}

/* The one comma of a number becomes a point. FALSE: it may be of thousands. */
static gboolean
point_for_comma (char *number, char mark, GError **error)
{
  char *comma = strchr (number, ',');

  if (!comma || strchr (comma + 1, ',') || strchr (number, '.'))
    return TRUE;
  if (mark != ',' && may_be_thousands (number, comma)) {
    int before = (int) (comma - number);
    return sp_fail (error, SP_ERROR_USAGE, _ ("found “%s”: %.*s.%s or %.*s%s? Write it so"), number, before, number, comma + 1, before,
                    number, comma + 1);
  }
  *comma = '.';
  return TRUE;
}

/* The number in front and where the rest begins. NULL: there is doubt. "" where no number stands in front. (transfer full) */
static char *
number_of (const char *text, char mark, const char **rest, GError **error)
{
  gsize length = number_length (text);
  g_autofree char *number = g_strndup (text, length);

  *rest = text + length;
  return point_for_comma (number, mark, error) ? g_steal_pointer (&number) : NULL;
}

static char *
typed_power (const char *number, const char *rest)
{
  g_autofree char *whole = g_strconcat (number, rest, NULL);
  char digits[32];
  double power_w;

  return sp_parse_power (whole, &power_w, NULL) ? g_strdup (sp_format_exact (power_w, digits)) : g_steal_pointer (&whole);
}

char *
sp_typed_number (const char *text, const char *unit, char mark, GError **error)
{
  const char *rest;
  g_autofree char *clean = plain (text), *number = number_of (clean, mark, &rest, error);

  if (!number || !*rest)
    return g_steal_pointer (&number);
  if (*number && !unit && strcmp (rest, ":1") == 0) /* a VSWR as many write it */
    return g_steal_pointer (&number);
  if (*number && unit && g_ascii_strcasecmp (rest + (*rest == ' '), unit) == 0)
    return g_steal_pointer (&number);
  return *number && unit && strcmp (unit, "W") == 0 ? typed_power (number, rest) : g_strconcat (number, rest, NULL);
}

gboolean
sp_typed_read (const char *text, const char *unit, char mark, double *number, GError **error)
{
  g_autofree char *typed = sp_typed_number (text, unit, mark, error);
  return typed && sp_parse_number (typed, number, error);
}

char *
sp_typed_frequency (const char *text, char mark, GError **error)
{
  const char *rest;
  g_autofree char *clean = plain (text), *number = number_of (clean, mark, &rest, error);

  if (!number)
    return NULL;
  if (*number && !*rest && g_ascii_strtod (number, NULL) != 0) {
    sp_fail (error, SP_ERROR_USAGE, _ ("found “%s” without a unit; write %s MHz, %s kHz or %s Hz"), number, number, number, number);
    return NULL;
  }
  return g_strconcat (number, rest + (*number && *rest == ' '), NULL);
}

static gboolean
is_frequency_unit (const char *word)
{
  static const char *const units[] = { "Hz", "kHz", "MHz", "GHz" };

  for (guint i = 0; i < G_N_ELEMENTS (units); i++)
    if (g_ascii_strcasecmp (word, units[i]) == 0)
      return TRUE;
  return FALSE;
}

/* The words of a row; a frequency's unit that stands apart goes to its number, the values' own `unit` goes. (transfer full) */
static GPtrArray *
words_of (const char *row, const char *unit)
{
  g_auto (GStrv) apart = g_strsplit (row, " ", -1);
  GPtrArray *words = g_ptr_array_new_with_free_func (g_free);

  for (char **word = apart; *word; word++) {
    char **last = words->len > 0 ? (char **) &words->pdata[words->len - 1] : NULL;
    if (last && is_frequency_unit (*word)) {
      char *joined = g_strconcat (*last, *word, NULL);
      g_free (*last);
      *last = joined;
    } else if (**word && !(last && unit && g_ascii_strcasecmp (*word, unit) == 0))
      g_ptr_array_add (words, g_strdup (*word));
  }
  return words;
}

/* Appends a row. FALSE: there is doubt. */
static gboolean
append_row (GString *out, const char *row, const char *unit, SpTypedRow shape, char mark, GError **error)
{
  g_autoptr (GPtrArray) words = words_of (row, unit);

  for (guint i = 0; i < words->len; i++) {
    gboolean frequency = shape == SP_TYPED_FREQUENCIES || (shape == SP_TYPED_FIRST_FREQUENCY && i == 0 && words->len > 1);
    const char *word = words->pdata[i];
    /* "30 dB": left as it is, so that the reader refuses what was typed as a whole. */
    gboolean odd = shape == SP_TYPED_FREQUENCIES && i + 1 < words->len && number_length (words->pdata[i + 1]) == 0;
    g_autofree char *typed = odd         ? g_strdup (word)
                             : frequency ? sp_typed_frequency (word, mark, error)
                                         : sp_typed_number (word, unit, mark, error);
    if (!typed)
      return FALSE;
    g_string_append_printf (out, "%s%s", i > 0 ? " " : "", typed);
  }
  return TRUE;
}

char *
sp_typed_rows (const char *text, const char *unit, SpTypedRow row, char mark, GError **error)
{
  g_autofree char *clean = plain (text);
  g_auto (GStrv) rows = g_strsplit (clean, ";", -1);
  GString *out = g_string_new (NULL);

  for (guint i = 0; rows[i]; i++) {
    g_string_append (out, i > 0 ? "; " : "");
    if (!append_row (out, rows[i], unit, row, mark, error)) {
      g_string_free (out, TRUE);
      return NULL;
    }
  }
  return g_string_free (out, FALSE);
}

/* A key whose text is made of numbers. */
static gboolean
is_number (const SpKeySpec *spec)
{
  return spec->kind == SP_KEY_NUMBER || spec->kind == SP_KEY_POSITIVE || spec->kind == SP_KEY_COUNT;
}

char *
sp_typed_value (const SpKeySpec *spec, const char *text, char mark, GError **error)
{
  switch (sp_key_spelling (spec)) {
  case SP_SPELL_FREQUENCY: return sp_typed_frequency (text, mark, error);
  case SP_SPELL_FREQUENCIES: return sp_typed_rows (text, NULL, SP_TYPED_FREQUENCIES, mark, error);
  case SP_SPELL_ROWS: return sp_typed_rows (text, spec->unit, SP_TYPED_FIRST_FREQUENCY, mark, error);
  case SP_SPELL_AS_IT_IS: break;
  }
  return is_number (spec) ? sp_typed_number (text, spec->unit, mark, error) : g_strdup (text);
}

char *
sp_typed_shown (const char *text, char mark)
{
  char *shown = g_strdup (text);
  for (char *at = shown; mark != '.' && (at = strchr (at, '.')); at++)
    if (g_ascii_isdigit (at[1]))
      *at = mark;
  return shown;
}

char *
sp_typed_value_shown (const SpKeySpec *spec, const char *text, char mark)
{
  return sp_key_spelling (spec) != SP_SPELL_AS_IT_IS || is_number (spec) ? sp_typed_shown (text, mark) : g_strdup (text);
}
