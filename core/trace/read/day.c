/* day.c - the day on which an export says that it was taken */
#include "core/trace/read/day.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A new book's date is the last day that its exports' heads state, else the last day on which they were written: late by a copy's delay,
 * never early, so ages are rather too great. Dates that read two ways, and those of calibrations, are none. */

/* Both bound time. */
#define HEAD_BYTES 65536
#define HEAD_LINES 200

/* Both bound what can be meant. */
#define YEAR_LEAST 1990
#define YEAR_MOST 2200

/* Which group of each form is the year, the month, the day; month 0: by its name; both 0: strokes, the order to be told by the numbers. */
typedef struct {
  const char *pattern;
  int year, month, day, name;
} Form;
static const Form forms[] = {
  { "(?<!\\d)(\\d{4})[-/.](\\d{1,2})[-/.](\\d{1,2})(?!\\d)", 1, 2, 3, 0 },
  { "(?<!\\d)(\\d{4})(\\d{2})(\\d{2})(?!\\d)", 1, 2, 3, 0 },
  { "(?<!\\d)(\\d{1,2})\\.(\\d{1,2})\\.(\\d{4})(?!\\d)", 3, 2, 1, 0 },
  { "(?<!\\d)(\\d{1,2})[ -]([a-z]{3,9})[ ,.-]+(\\d{4})(?!\\d)", 3, 0, 1, 2 },
  { "(?<![a-z])([a-z]{3,9})[ .]+(\\d{1,2})[ ,]+(\\d{4})(?!\\d)", 3, 0, 2, 1 },
  { "(?<!\\d)(\\d{1,2})/(\\d{1,2})/(\\d{4})(?!\\d)", 3, 0, 0, 0 },
};

static int
number_of (GMatchInfo *match, int group)
{
  g_autofree char *text = g_match_info_fetch (match, group);
  return atoi (text);
}

/* English, by three letters; 0: none. */
static int
month_of (GMatchInfo *match, int group)
{
  static const char months[] = "janfebmaraprmayjunjulaugsepoctnovdec";
  g_autofree char *text = g_match_info_fetch (match, group), *low = g_ascii_strdown (text, 3);
  const char *at = strstr (months, low);
  return at && (at - months) % 3 == 0 ? (int) (at - months) / 3 + 1 : 0;
}

static double
day_of (const Form *form, GMatchInfo *match)
{
  int year = number_of (match, form->year), month, day;
  if (form->name) {
    month = month_of (match, form->name);
    day = number_of (match, form->day);
  } else if (form->month) {
    month = number_of (match, form->month);
    day = number_of (match, form->day);
  } else {
    int a = number_of (match, 1), b = number_of (match, 2);
    month = a > 12 ? b : a;
    day = a > 12 ? a : b;
    if (a <= 12 && b <= 12 && a != b)
      return NAN;
  }
  if (year < YEAR_LEAST || year > YEAR_MOST || month < 1 || month > 12 || day < 1
      || !g_date_valid_dmy ((GDateDay) day, (GDateMonth) month, (GDateYear) year))
    return NAN;
  GDate date;
  g_date_clear (&date, 1);
  g_date_set_dmy (&date, (GDateDay) day, (GDateMonth) month, (GDateYear) year);
  return g_date_get_julian (&date);
}

/* The first form that the line's rest has. */
static double
day_in (const char *text)
{
  for (guint i = 0; i < G_N_ELEMENTS (forms); i++) {
    g_autoptr (GRegex) regex = g_regex_new (forms[i].pattern, G_REGEX_CASELESS, 0, NULL);
    g_autoptr (GMatchInfo) match = NULL;
    if (g_regex_match (regex, text, 0, &match))
      return day_of (&forms[i], match);
  }
  return NAN;
}

/* The file's beginning as plain letters: UTF-16 loses its zeros, what is not ASCII becomes a question mark. (transfer full) */
static char *
head_of (GBytes *file)
{
  gsize length = 0;
  const char *bytes = g_bytes_get_data (file, &length);
  GString *head = g_string_new (NULL);
  for (gsize i = 0; i < MIN (length, HEAD_BYTES); i++)
    if (bytes[i])
      g_string_append_c (head, (guchar) bytes[i] < 128 ? (bytes[i] == '\r' ? '\n' : bytes[i]) : '?');
  return g_string_free (head, FALSE);
}

double
sp_bytes_day (GBytes *bytes)
{
  g_autofree char *head = head_of (bytes);
  g_auto (GStrv) lines = g_strsplit (head, "\n", HEAD_LINES + 1);
  g_autoptr (GRegex) word = g_regex_new ("(?<![a-z])(?:date|datum|timestamp|time stamp)(?![a-z])", G_REGEX_CASELESS, 0, NULL);
  g_autoptr (GRegex) other = g_regex_new ("cal|due|version|firmware|software|serial|install|expir", G_REGEX_CASELESS, 0, NULL);
  double last = NAN;
  for (guint i = 0; lines[i] && i < HEAD_LINES; i++) {
    g_autoptr (GMatchInfo) match = NULL;
    int end = 0;
    if (!g_regex_match (word, lines[i], 0, &match) || g_regex_match (other, lines[i], 0, NULL))
      continue;
    g_match_info_fetch_pos (match, 0, NULL, &end);
    last = fmax (last, day_in (lines[i] + end)); /* fmax passes a NaN over */
  }
  return last;
}
