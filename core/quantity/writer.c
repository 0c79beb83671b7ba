/* writer.c - writes key files that read back alike */
#include "core/quantity/writer.h"

#include <math.h>
#include <string.h>

#include "core/quantity/text.h"

static gboolean
is_blank (char c)
{
  return c == ' ' || c == '\t';
}

/* TRUE where the reader would not give the bare text back. What it ever gave comes back: quotes inside a text that needs quotes round it
 * cannot be written, nor read. */
static gboolean
needs_quotes (const char *value)
{
  gsize length = strlen (value);
  const char *close = value[0] == '"' ? strchr (value + 1, '"') : NULL;
  if (length > 0 && (is_blank (value[0]) || is_blank (value[length - 1])))
    return TRUE;
  if (value[0] == '"' && (!close || !close[1]))
    return TRUE;
  if (value[0] == '#' && !strchr (value, '"')) /* for people: behind = it begins no comment, and quotes would shield other parts of it */
    return TRUE;
  for (const char *p = value; *p; p++) {
    if (*p == '#' && p > value && is_blank (p[-1]))
      return TRUE;
    const char *partner = *p == '"' ? strchr (p + 1, '"') : NULL;
    p = partner ? partner : p;
  }
  return FALSE;
}

void
sp_write_group (GString *text, const char *name)
{
  g_string_append_printf (text, "%s[%s]\n", text->len ? "\n" : "", name);
}

void
sp_write_text (GString *text, const char *key, const char *value)
{
  if (!value)
    return;
  const char *quote = needs_quotes (value) ? "\"" : "";
  g_string_append_printf (text, "%s=%s%s%s\n", key, quote, value, quote);
}

void
sp_write_number (GString *text, const char *key, double number)
{
  char digits[32];
  if (!isnan (number))
    g_string_append_printf (text, "%s=%s\n", key, sp_format_exact (number, digits));
}

void
sp_write_yes_no (GString *text, const char *key, gboolean yes)
{
  g_string_append_printf (text, "%s=%s\n", key, yes ? "yes" : "no");
}

void
sp_write_day (GString *text, const char *key, double julian_day)
{
  if (isnan (julian_day))
    return;
  GDate date;
  g_date_clear (&date, 1);
  g_date_set_julian (&date, (guint32) julian_day);
  g_string_append_printf (text, "%s=%04d-%02d-%02d\n", key, g_date_get_year (&date), g_date_get_month (&date), g_date_get_day (&date));
}

void
sp_write_unused_keys (GString *text, const SpGroup *group)
{
  g_autofree char *keys = sp_group_leftover (group);
  g_string_append (text, keys);
}

void
sp_write_unused_groups (GString *text, SpKeyFile *file)
{
  for (guint i = 0; i < sp_key_file_n_groups (file); i++) {
    const SpGroup *group = sp_key_file_group (file, i);
    if (group->used)
      continue;
    sp_write_group (text, group->name);
    sp_write_unused_keys (text, group);
  }
}
