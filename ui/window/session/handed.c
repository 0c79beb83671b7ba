/* handed.c - which benches a report was handed out of */
#include "ui/window/session/handed.h"

#include <string.h>

#include "ui/window/session/preferences.h"

#define MOST 40   /* benches that are remembered */
#define DIGITS 16 /* of a hash */

void
sp_handed_add (const char *sha256)
{
  g_autofree char *kept = sp_preferences_get ("handed-out");
  g_autofree char *all = g_strdup_printf ("%.*s %s", DIGITS, sha256, kept ? kept : "");
  if (sp_handed_has (sha256))
    return;
  if (strlen (all) > MOST * (DIGITS + 1))
    all[MOST * (DIGITS + 1)] = '\0';
  sp_preferences_set ("handed-out", all);
}

gboolean
sp_handed_has (const char *sha256)
{
  g_autofree char *kept = sp_preferences_get ("handed-out"), *digits = g_strndup (sha256, DIGITS);
  return kept && strstr (kept, digits) != NULL;
}
