/* check-keys.c - the keys of a check of an analyzer, each declared once */
#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/check/check-private.h"
#include "core/curve/points.h"
#include "core/network/one-port.h"

/* The context is whether a VSWR may name a file. */
static gboolean
read_vswr (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, gpointer context, GError **error)
{
  return sp_group_vswr (file, group, spec->key, GPOINTER_TO_INT (context), sp_key_member (spec, object), error);
}

/* In a form another text takes the place of the one before. */
static gboolean
read_shows (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, gpointer context, GError **error)
{
  SpCheckAt *at = object;
  g_array_set_size (at->shows, 0);
  if (!sp_key_read_rows (spec, file, group, object, context, error))
    return FALSE;
  return at->shows->len <= SP_CHECK_READINGS
         || sp_key_fail (file, group, sp_group_find (group, spec->key), 0, error, _ ("found %u readings; expected %d at most"),
                         at->shows->len, SP_CHECK_READINGS);
}

static const SpRowFormat levels = { N_ ("what the analyzer shows in dBm, such as -10.45; -10.44"),
                                    1,
                                    1,
                                    FALSE,
                                    FALSE,
                                    -SP_CHECK_LEVEL_DBM,
                                    SP_CHECK_LEVEL_DBM,
                                    -SP_CHECK_LEVEL_DBM,
                                    SP_CHECK_LEVEL_DBM };

#define CHECK(member) G_STRUCT_OFFSET (SpCheck, member)
#define AT(member) G_STRUCT_OFFSET (SpCheckAt, member)
#define WIDTH_DB "dB", 0, SP_CHECK_U_DB
#define VSWR NULL, 1, SP_VSWR_HIGH, .spelling = SP_SPELL_ROWS, .read = read_vswr, .write = sp_key_write_curve
#define LEAD .format = N_ ("a loss"), .spelling = SP_SPELL_ROWS, .read = sp_key_read_curve_with_u, .write = sp_key_write_curve

/* by hand: a table that reads by its columns */
/* clang-format off */
const SpKeySpec sp_check_keys[] = {
  { "analyzer",      SP_KEY_TEXT,   CHECK (analyzer) },
  { "date",          SP_KEY_DATE,   CHECK (day), .absent = NAN },
  { "interval_days", SP_KEY_NUMBER, CHECK (interval_days), N_ ("days"), 1, 100000, NAN },
  { "temperature_c", SP_KEY_NUMBER, CHECK (temperature_c), "\302\260C", -100, 200, NAN },
  { "level_u_db",    SP_KEY_NUMBER, CHECK (level_u_db), WIDTH_DB, NAN },
  { "lead_loss",     SP_KEY_CURVE,  CHECK (lead_loss), "dB", SP_CHECK_LEAD_LOW_DB, SP_CHECK_LEAD_HIGH_DB, LEAD },
  { "source_vswr",   SP_KEY_CURVE,  CHECK (source_vswr), VSWR },
  { "meter_vswr",    SP_KEY_CURVE,  CHECK (meter_vswr), VSWR },
  { "resolution_db", SP_KEY_NUMBER, CHECK (resolution_db), WIDTH_DB, NAN },
  { "note",          SP_KEY_TEXT,   CHECK (note) },
  { NULL }
};

const SpKeySpec sp_check_at_keys[] = {
  { "level",         SP_KEY_NUMBER, AT (level_dbm), "dBm", -SP_CHECK_LEVEL_DBM, SP_CHECK_LEVEL_DBM, NAN },
  { "shows",         SP_KEY_LIST,   AT (shows), "dBm", .format = &levels, .read = read_shows, .write = sp_key_write_rows },
  { NULL }
};
/* clang-format on */
