/* check.c - the life of a check of an analyzer, and its text */
#include "core/check/check-private.h"

#include <math.h>

#include "core/quantity/text.h"
#include "core/quantity/writer.h"

static void
free_at (gpointer data)
{
  SpCheckAt *at = data;
  g_array_unref (at->shows);
  g_free (at->heading);
  g_free (at);
}

SpCheck *
sp_check_new (void)
{
  SpCheck *check = g_atomic_rc_box_new0 (SpCheck);
  sp_keys_init (sp_check_keys, check);
  check->at = g_ptr_array_new_with_free_func (free_at);
  check->warnings = sp_reasons_new ();
  return check;
}

gboolean
sp_check_is_setting (double attenuation_db)
{
  return attenuation_db >= 0 && attenuation_db <= SP_CHECK_ATTENUATION_DB;
}

SpCheckAt *
sp_check_add_at (SpCheck *check, double frequency_hz, double attenuation_db)
{
  SpCheckAt *at = g_new0 (SpCheckAt, 1);
  sp_keys_init (sp_check_at_keys, at);
  at->frequency_hz = frequency_hz;
  at->attenuation_db = attenuation_db;
  at->shows = g_array_new (FALSE, FALSE, sizeof (double));
  g_ptr_array_add (check->at, at);
  return at;
}

gboolean
sp_check_set (SpCheck *check, const char *key, const char *value, GError **error)
{
  return sp_keys_set (sp_check_keys, "check", check, GINT_TO_POINTER (TRUE), key, value, error);
}

gboolean
sp_check_at_set (SpCheckAt *at, const char *key, const char *value, GError **error)
{
  return sp_keys_set (sp_check_at_keys, "at", at, NULL, key, value, error);
}

SpCheck *
sp_check_ref (const SpCheck *check)
{
  return g_atomic_rc_box_acquire ((SpCheck *) check);
}

static void
clear (gpointer data)
{
  SpCheck *check = data;
  g_clear_pointer (&check->lead_loss, sp_curve_unref);
  g_clear_pointer (&check->source_vswr, sp_curve_unref);
  g_clear_pointer (&check->meter_vswr, sp_curve_unref);
  g_ptr_array_unref (check->at);
  g_ptr_array_unref (check->warnings);
  sp_keys_free_texts (sp_check_keys, check);
  g_free (check->file);
  g_free (check->leftover);
  g_free (check->text);
  g_free (check->sha256);
}

void
sp_check_unref (SpCheck *check)
{
  g_atomic_rc_box_release_full (check, clear);
}

gboolean
sp_check_same_setting (double a_db, double b_db)
{
  return a_db == b_db || (isnan (a_db) && isnan (b_db));
}

static void
write_at (GString *text, const SpCheckAt *at)
{
  char digits[32], setting[32];
  g_autofree char *place = g_strdup_printf ("at %s", sp_format_exact (at->frequency_hz, digits));
  g_autofree char *heading = at->heading ? g_strdup (at->heading)
                             : isnan (at->attenuation_db)
                                 ? g_strdup (place)
                                 : g_strdup_printf ("%s %sdB", place, sp_format_exact (at->attenuation_db, setting));
  sp_write_group (text, heading);
  sp_keys_write (sp_check_at_keys, text, at, NULL);
}

char *
sp_check_readings (const SpCheck *check)
{
  g_autoptr (GString) text = g_string_new (NULL);
  sp_write_group (text, "check");
  sp_keys_write (sp_check_keys, text, check, NULL);
  for (guint i = 0; i < check->at->len; i++)
    write_at (text, check->at->pdata[i]);
  return g_strdup (text->str);
}

char *
sp_check_text (const SpCheck *check)
{
  g_autofree char *text = sp_check_readings (check);
  return check->leftover && *check->leftover ? sp_key_file_join (text, check->leftover) : g_steal_pointer (&text);
}
