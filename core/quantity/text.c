/* text.c - parses and formats numbers with units */
#include "core/quantity/text.h"

#include "core/quantity/clean.h"
#include "core/quantity/error.h"
#include "core/quantity/units.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* All bound what is shown, in characters; the exponent, what can be meant. */
#define EXCERPT_CHARACTERS 40
#define EXCERPT_PATH_CHARACTERS 120
#define EXCERPT_FOREIGN_CHARACTERS 8
#define EXPONENT_LIMIT 100000 /* far outside a double's range, far inside an int's */

static char *
beginning (const char *text, guint characters)
{
  /* Four bytes a character at most: what is cut off need not be looked at. */
  g_autofree char *head = g_strndup (text, 4 * (characters + 1));
  g_autofree char *valid = g_utf8_make_valid (head, -1), *clean = sp_clean (valid);

  if (g_utf8_strlen (clean, -1) <= (glong) characters)
    return g_steal_pointer (&clean);
  *g_utf8_offset_to_pointer (clean, characters) = '\0';
  return g_strconcat (clean, "…", NULL);
}

char *
sp_unfold_lines (const char *value)
{
  char *lines = g_strdup (value), *to = lines;
  for (const char *p = value; *p; p++)
    if (p[0] == '\\' && (p[1] == 'n' || p[1] == '\\'))
      *to++ = *++p == 'n' ? '\n' : '\\';
    else
      *to++ = *p;
  *to = '\0';
  return lines;
}

char *
sp_fold_lines (const char *lines)
{
  GString *value = g_string_new (lines);
  g_string_replace (value, "\\", "\\\\", 0);
  g_string_replace (value, "\n", "\\n", 0);
  return g_string_free (value, FALSE);
}

char *
sp_excerpt (const char *text)
{
  return beginning (text, EXCERPT_CHARACTERS);
}

char *
sp_excerpt_foreign (const char *text)
{
  return beginning (text, EXCERPT_FOREIGN_CHARACTERS);
}

char *
sp_excerpt_path (const char *path)
{
  g_autofree char *clean = sp_clean (path);
  glong length = g_utf8_strlen (clean, -1);

  if (length <= EXCERPT_PATH_CHARACTERS)
    return g_steal_pointer (&clean);
  return g_strconcat ("…", g_utf8_offset_to_pointer (clean, length - EXCERPT_PATH_CHARACTERS), NULL);
}

static gboolean
refuse (GError **error, const char *text, const char *expected)
{
  if (text[strspn (text, " \t")] == '\0')
    return sp_fail (error, SP_ERROR_USAGE, _ ("nothing stands here; expected %s"), expected);
  g_autofree char *excerpt = sp_excerpt (text);
  return sp_fail (error, SP_ERROR_USAGE, _ ("found “%s”; expected %s"), excerpt, expected);
}

/* A number, but none that anybody measures. */
static gboolean
refuse_range (GError **error, const char *text, const char *expected)
{
  g_autofree char *excerpt = sp_excerpt (text);
  return sp_fail (error, SP_ERROR_LIMIT, _ ("found “%s”, which is out of range; expected %s"), excerpt, expected);
}

static const char *
skip_blanks (const char *p)
{
  return p + strspn (p, " \t");
}

static const char *
skip_digits (const char *p)
{
  while (g_ascii_isdigit (*p))
    p++;
  return p;
}

/* A decimal number's mantissa [start, end) and exponent of ten; where it ends, or NULL where none begins. */
static const char *
scan_decimal (const char *start, const char **mantissa_end, int *exponent)
{
  const char *p = *start == '+' || *start == '-' ? start + 1 : start;
  const char *digits = p;

  p = skip_digits (p);
  gsize n = p - digits;
  if (*p == '.') {
    const char *fraction = p + 1;
    p = skip_digits (fraction);
    n += p - fraction;
  }
  if (n == 0)
    return NULL;
  *mantissa_end = p;
  *exponent = 0;
  if (*p == 'e' || *p == 'E') {
    const char *q = p[1] == '+' || p[1] == '-' ? p + 2 : p + 1;
    if (g_ascii_isdigit (*q)) {
      gint64 value = g_ascii_strtoll (p + 1, NULL, 10);
      *exponent = (int) CLAMP (value, -EXPONENT_LIMIT, EXPONENT_LIMIT);
      p = skip_digits (q);
    }
  }
  return p;
}

/* The prefix joins the exponent before the one rounding: 146.52MHz and 146520000 are the same double. */
static double
read_decimal (const char *start, const char *mantissa_end, int exponent)
{
  g_autofree char *text = g_strdup_printf ("%.*se%d", (int) MIN (mantissa_end - start, G_MAXINT), start, exponent);
  return g_ascii_strtod (text, NULL);
}

typedef struct {
  const char *prefix;
  int exponent;
} Prefix;

/* A number and, if any, one of `prefixes` with `unit`; FALSE where the text is anything else. Too large a number is an infinity. */
static gboolean
parse_with_unit (const char *text, const char *unit, const Prefix *prefixes, double *number)
{
  const char *mantissa_end, *start = skip_blanks (text);
  int exponent;
  const char *end = scan_decimal (start, &mantissa_end, &exponent);

  if (!end)
    return FALSE;
  g_autofree char *rest = g_strstrip (g_strdup (end));
  if (!*rest) {
    *number = read_decimal (start, mantissa_end, exponent);
    return TRUE;
  }
  for (const Prefix *prefix = prefixes; prefix->prefix; prefix++) {
    gsize length = strlen (prefix->prefix);
    if (strncmp (rest, prefix->prefix, length) == 0 && g_ascii_strcasecmp (rest + length, unit) == 0) {
      *number = read_decimal (start, mantissa_end, exponent + prefix->exponent);
      return TRUE;
    }
  }
  return FALSE;
}

gboolean
sp_parse_number (const char *text, double *number, GError **error)
{
  static const Prefix none[] = { { NULL, 0 } };
  double value;

  if (!parse_with_unit (text, "", none, &value))
    return refuse (error, text, strchr (text, ',') ? _ ("a number with a decimal point, such as -12.5") : _ ("a number, such as -12.5"));
  if (fabs (value) > SP_NUMBER_MOST || fpclassify (value) == FP_SUBNORMAL)
    return refuse_range (error, text, _ ("a number within 1e30 either way, or 0"));
  *number = value;
  return TRUE;
}

gboolean
sp_parse_frequency (const char *text, double *frequency_hz, GError **error)
{
  static const Prefix prefixes[] = { { "", 0 }, { "k", 3 }, { "K", 3 }, { "M", 6 }, { "G", 9 }, { NULL, 0 } };
  double value;

  if (!parse_with_unit (text, "Hz", prefixes, &value) || value < 0)
    return refuse (error, text, _ ("a frequency, such as 146.52MHz or 146520000 (Hz, kHz, MHz, GHz; not below 0)"));
  if (!(value == 0 || (value >= SP_FREQUENCY_LEAST_HZ && value <= SP_FREQUENCY_MOST_HZ)))
    return refuse_range (error, text, _ ("a frequency from 1e-6 Hz to 1e15 Hz, or 0"));
  *frequency_hz = value + 0.0; /* -0 becomes 0 */
  return TRUE;
}

gboolean
sp_parse_power (const char *text, double *power_w, GError **error)
{
  static const Prefix watt[] = { { "", 0 }, { "n", -9 }, { "u", -6 }, { "µ", -6 }, { "μ", -6 }, { "m", -3 }, { "k", 3 }, { NULL, 0 } };
  static const Prefix level[] = { { "dB", 0 }, { "db", 0 }, { "DB", 0 }, { NULL, 0 } };
  double value;

  if (!parse_with_unit (text, "W", watt, &value)) {
    if (parse_with_unit (text, "m", level, &value))
      value = sp_watt_from_dbm (value);
    else
      value = 0;
  }
  if (!(value > 0))
    return refuse (error, text, _ ("a power above 0, such as 5W, 500mW, 25uW or 37dBm"));
  if (!(value >= SP_POWER_LEAST_W && value <= SP_POWER_MOST_W))
    return refuse_range (error, text, _ ("a power from 1e-15 W to 1e9 W (-120 dBm to 120 dBm)"));
  *power_w = value;
  return TRUE;
}

gboolean
sp_parse_date (const char *text, guint32 *julian_day, GError **error)
{
  g_autofree char *trimmed = g_strstrip (g_strdup (text));
  const char *shape = "dddd-dd-dd";
  guint i = 0;
  GDate date;

  while (shape[i] && (shape[i] == 'd' ? g_ascii_isdigit (trimmed[i]) : trimmed[i] == shape[i]))
    i++;
  if (shape[i] || trimmed[i])
    return refuse (error, text, _ ("a date as YEAR-MONTH-DAY, such as 2026-09-12"));
  guint year = atoi (trimmed), month = atoi (trimmed + 5), day = atoi (trimmed + 8);
  if (!g_date_valid_dmy (day, month, year))
    return refuse (error, text, _ ("a date that exists, as YEAR-MONTH-DAY"));
  g_date_clear (&date, 1);
  g_date_set_dmy (&date, day, month, year);
  *julian_day = g_date_get_julian (&date);
  return TRUE;
}

const char *
sp_format_exact (double number, char *buffer)
{
  static const char *const formats[] = { "%.15g", "%.16g", "%.17g" };

  for (guint i = 0; i < G_N_ELEMENTS (formats); i++) {
    g_ascii_formatd (buffer, 32, formats[i], number);
    if (g_ascii_strtod (buffer, NULL) == number)
      break;
  }
  return buffer;
}

const char *
sp_format_written (double number, char *buffer)
{
  const char *e = strchr (sp_format_exact (number, buffer), 'e'), *point = strchr (buffer, '.');
  if (!e || !(fabs (number) >= 1e-12 && fabs (number) <= 1e15))
    return buffer;
  int decimals = (point ? (int) (e - point) - 1 : 0) - (int) g_ascii_strtoll (e + 1, NULL, 10);
  char format[16];
  g_snprintf (format, sizeof format, "%%.%df", MAX (decimals, 0));
  return g_ascii_formatd (buffer, 32, format, number);
}

/* With at most `decimals` of them, none needless; without a step six significant digits. */
static void
format_scaled (double value, int decimals, char *buffer, int size)
{
  char format[16];

  g_snprintf (format, sizeof format, decimals < 0 ? "%%.6g" : "%%.%df", decimals);
  g_ascii_formatd (buffer, size, format, value);
  if (strchr (buffer, '.') && !strchr (buffer, 'e')) {
    gsize length = strlen (buffer);
    while (buffer[length - 1] == '0')
      length--;
    if (buffer[length - 1] == '.')
      length--;
    buffer[length] = '\0';
  }
}

char *
sp_format_frequency (double frequency_hz, double resolution_hz)
{
  static const struct {
    const char *name;
    double hz;
  } units[] = { { "Hz", 1 }, { "kHz", 1e3 }, { "MHz", 1e6 }, { "GHz", 1e9 } };
  const guint last = G_N_ELEMENTS (units) - 1;
  char buffer[G_ASCII_DTOSTR_BUF_SIZE + 340]; /* %f of the greatest double */
  guint i = 0;

  while (i < last && fabs (frequency_hz) >= units[i + 1].hz)
    i++;
  for (;; i++) {
    int decimals = resolution_hz > 0 ? (int) CLAMP (ceil (log10 (units[i].hz / resolution_hz) - 1e-9), 0, 15) : -1;
    format_scaled (frequency_hz / units[i].hz, decimals, buffer, sizeof buffer);
    /* 999.9996 kHz may have become 1000. */
    if (i == last || !(fabs (g_ascii_strtod (buffer, NULL)) >= 1000))
      break;
  }
  return g_strdup_printf ("%s %s", buffer, units[i].name);
}

char *
sp_unescape (const char *text)
{
  GString *out = g_string_new (NULL);

  for (const char *p = text; *p; p++) {
    int byte = *p == '%' && g_ascii_isxdigit (p[1]) && g_ascii_isxdigit (p[2])
                   ? g_ascii_xdigit_value (p[1]) * 16 + g_ascii_xdigit_value (p[2])
                   : 0;
    g_string_append_c (out, byte ? (char) byte : *p);
    if (byte)
      p += 2;
  }
  return g_string_free (out, FALSE);
}

char *
sp_escape (const char *text)
{
  GString *out = g_string_new (NULL);
  gboolean utf8 = g_utf8_validate (text, -1, NULL);

  for (const char *p = text; *p; p++) {
    guchar byte = (guchar) *p;
    if (byte <= ' ' || byte == 0x7f || (byte > 0x7f && !utf8) || strchr ("?&;#%\"[]", *p))
      g_string_append_printf (out, "%%%02X", byte);
    else
      g_string_append_c (out, *p);
  }
  return g_string_free (out, FALSE);
}

char *
sp_escape_heading (const char *name)
{
  GString *out = g_string_new (NULL);
  gboolean utf8 = g_utf8_validate (name, -1, NULL);
  for (const char *p = name; *p; p++) {
    guchar byte = (guchar) *p;
    gboolean folded = byte == ' ' && (p == name || p[-1] == ' ' || !p[1]);
    if (folded || byte < ' ' || byte == 0x7f || (byte > 0x7f && !utf8) || strchr ("%#\"[]", *p))
      g_string_append_printf (out, "%%%02X", byte);
    else
      g_string_append_c (out, *p);
  }
  return g_string_free (out, FALSE);
}
