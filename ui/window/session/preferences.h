/* preferences.h - what the user likes, kept in a key file in his configuration folder */
#pragma once

#include <glib.h>

/* NULL: not set. (transfer full) */
char *sp_preferences_get (const char *key);
/* Written at once, beside and renamed; a folder that cannot be written is no reason to stop. value NULL: forgets it. */
void sp_preferences_set (const char *key, const char *value);
