/* words-number.c - displays numbers, for the screen or for machines */
#include "ui/words/words.h"

#include "core/quantity/text.h"

#include <glib/gi18n-lib.h>
#include <locale.h>
#include <math.h>
#include <string.h>

#define MINUS "\xe2\x88\x92"    /* U+2212 */
#define THIN "\xe2\x80\xaf"     /* U+202F: thin, without a line break */
#define DASH "\xe2\x80\x93"     /* U+2013 */
#define INFINITE "\xe2\x88\x9e" /* U+221E */
#define MICRO "\xc2\xb5"        /* U+00B5 */

/* Converts machine text (decimal point, hyphen-minus, plain blank) to the requested form. */
static char *
in_hand (const char *machine, SpHand hand)
{
  if (hand == SP_HAND_MACHINE)
    return g_strdup (machine);
  GString *out = g_string_new (NULL);
  for (const char *c = machine; *c; c++)
    if (*c == '-')
      g_string_append (out, MINUS);
    else if (*c == '.')
      g_string_append (out, localeconv ()->decimal_point);
    else if (*c == ' ')
      g_string_append (out, THIN);
    else
      g_string_append_c (out, *c);
  return g_string_free (out, FALSE);
}

char
sp_words_decimal_mark (void)
{
  return *localeconv ()->decimal_point == ',' ? ',' : '.';
}

static char *
plain_number (double value, int decimals, gboolean with_plus)
{
  char format[16], buffer[400]; /* the longest double has 309 digits before the point */
  g_snprintf (format, sizeof format, "%%.%df", CLAMP (decimals, 0, 17));
  g_ascii_formatd (buffer, sizeof buffer, format, value);
  if (buffer[0] == '-' && strspn (buffer + 1, "0.") == strlen (buffer + 1))
    memmove (buffer, buffer + 1, strlen (buffer)); /* no minus sign before a zero */
  gboolean plus = with_plus && buffer[0] != '-' && strspn (buffer, "0.") != strlen (buffer);
  return g_strconcat (plus ? "+" : "", buffer, NULL);
}

static char *
number (double value, int decimals, SpHand hand, gboolean with_plus)
{
  if (isnan (value))
    return g_strdup (hand == SP_HAND_MACHINE ? "-" : DASH);
  if (isinf (value)) {
    const char *sign = value < 0 ? "-" : with_plus ? "+" : "";
    if (hand == SP_HAND_MACHINE)
      return g_strconcat (sign, "inf", NULL);
    return g_strconcat (*sign == '-' ? MINUS : sign, INFINITE, NULL);
  }
  g_autofree char *plain = plain_number (value, decimals, with_plus);
  return in_hand (plain, hand);
}

char *
sp_words_number (double value, int decimals, SpHand hand)
{
  return number (value, decimals, hand, FALSE);
}

char *
sp_words_signed (double value, int decimals, SpHand hand)
{
  return number (value, decimals, hand, TRUE);
}

char *
sp_words_level (double level_dbm, int decimals, SpHand hand)
{
  g_autofree char *text = number (level_dbm, decimals, hand, FALSE);
  if (isnan (level_dbm))
    return g_steal_pointer (&text);
  return g_strconcat (text, hand == SP_HAND_MACHINE ? " " : THIN, "dBm", NULL);
}

char *
sp_words_frequency (double frequency_hz, double resolution_hz, SpHand hand)
{
  if (!isfinite (frequency_hz))
    return number (frequency_hz, 0, hand, FALSE);
  g_autofree char *plain = sp_format_frequency (frequency_hz, resolution_hz);
  return in_hand (plain, hand);
}

char *
sp_words_power (double power_w, SpHand hand)
{
  static const struct {
    double factor;
    const char *machine, *screen;
  } prefixes[] = {
    { 1e3, "kW", "kW" }, { 1, "W", "W" }, { 1e-3, "mW", "mW" }, { 1e-6, "uW", MICRO "W" }, { 1e-9, "nW", "nW" }, { 1e-12, "pW", "pW" },
  };
  if (!isfinite (power_w))
    return number (power_w, 0, hand, FALSE);
  guint i = 0;
  while (i + 1 < G_N_ELEMENTS (prefixes) && fabs (power_w) < prefixes[i].factor * 0.9995)
    i++;
  if (power_w == 0)
    i = 1;
  double mantissa = power_w / prefixes[i].factor;
  char digits[32];
  g_ascii_formatd (digits, sizeof digits, fabs (mantissa) < 10 ? "%.2g" : fabs (mantissa) < 999.5 ? "%.3g" : "%.0f", mantissa);
  g_autofree char *text = in_hand (digits, hand);
  if (hand == SP_HAND_MACHINE)
    return g_strconcat (text, " ", prefixes[i].machine, NULL);
  return g_strconcat (text, THIN, prefixes[i].screen, NULL);
}

char *
sp_words_seconds (double seconds, SpHand hand)
{
  if (seconds < 1)
    return g_strdup (_ ("under 1 s"));
  gboolean long_one = seconds >= 120;
  double shown = long_one ? ceil (seconds / 6 - 1e-6) / 10 : ceil (seconds - 1e-6);
  g_autofree char *number = sp_words_number (shown, shown == round (shown) ? 0 : 1, hand);
  return g_strdup_printf (long_one ? _ ("%s min") : _ ("%s s"), number);
}

char *
sp_words_day (double julian_day)
{
  GDate date;
  g_date_clear (&date, 1);
  g_date_set_julian (&date, (guint32) julian_day);
  return g_strdup_printf ("%04u-%02u-%02u", g_date_get_year (&date), g_date_get_month (&date), g_date_get_day (&date));
}

char *
sp_words_day_taken (double julian_day, gboolean stated)
{
  g_autofree char *day = sp_words_day (julian_day);
  return stated ? g_strdup_printf (_ ("The new bench is dated %s, as the exports say."), day)
                : g_strdup_printf (_ ("The new bench is dated %s, when the files were last written: no export states a day."), day);
}
