/* run-keys.c - the keys of a substitution run, each declared once, with those that are more than one value */
#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/curve/points.h"
#include "core/network/one-port.h"
#include "core/quantity/text.h"
#include "core/quantity/writer.h"
#include "core/run/run-private.h"

/* The context is whether a VSWR may name a file. */
static gboolean
read_vswr (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, gpointer context, GError **error)
{
  return sp_group_vswr (file, group, spec->key, GPOINTER_TO_INT (context), sp_key_member (spec, object), error);
}

static gboolean
read_extra (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, G_GNUC_UNUSED gpointer context, GError **error)
{
  const SpKey *key = sp_group_find (group, spec->key);
  g_autoptr (GArray) items = key ? sp_key_items (key) : NULL;
  for (guint i = 0; items && i < items->len; i++) {
    const SpItem *item = &g_array_index (items, SpItem, i);
    g_auto (GStrv) words = g_strsplit_set (item->text, " \t", -1);
    char *part[3] = { NULL };
    guint n = 0;
    for (char **word = words; *word; word++)
      if (**word && n++ < G_N_ELEMENTS (part))
        part[n - 1] = *word;
    double u_db = NAN, dof = INFINITY;
    g_autofree char *excerpt = sp_excerpt (item->text);
    if (n < 2 || n > 3 || !sp_parse_number (part[1], &u_db, NULL) || !(u_db >= 0 && u_db <= SP_RUN_U_DB)
        || (n == 3 && (!sp_parse_number (part[2], &dof, NULL) || dof < 1)))
      return sp_key_fail (
          file, group, key, item->offset, error,
          _ ("found “%s”; expected a name, its standard uncertainty in dB, and perhaps its degrees of freedom, such as leakage "
             "0.002"),
          excerpt);
    g_autofree char *name = sp_unescape (part[0]);
    sp_run_add_extra (object, name, u_db, dof);
  }
  return TRUE;
}

static void
write_extra (const SpKeySpec *spec, GString *text, gconstpointer object, G_GNUC_UNUSED gconstpointer context)
{
  const GArray *extra = ((const SpRun *) object)->extra;
  g_autoptr (GString) value = g_string_new (NULL);
  char u[32], dof[32];
  for (guint i = 0; i < extra->len; i++) {
    const SpRunExtra *term = &g_array_index (extra, SpRunExtra, i);
    g_autofree char *name = sp_escape (term->name);
    g_string_append_printf (value, "%s%s %s", i ? "; " : "", name, sp_format_exact (term->u_db, u));
    if (isfinite (term->dof))
      g_string_append_printf (value, " %s", sp_format_exact (term->dof, dof));
  }
  sp_write_text (text, spec->key, extra->len > 0 ? value->str : NULL);
}

static void
write_readings (const SpKeySpec *spec, GString *text, gconstpointer object, G_GNUC_UNUSED gconstpointer context)
{
  const GArray *readings = *(GArray *const *) sp_key_member (spec, object);
  g_autofree char *value = sp_run_readings_text (readings);
  sp_write_text (text, spec->key, readings->len > 0 ? value : NULL);
}

#define RUN(member) G_STRUCT_OFFSET (SpRun, member)
#define AT(member) G_STRUCT_OFFSET (SpRunAt, member)
#define HALF_WIDTH_DB "dB", 0, SP_RUN_U_DB
#define VSWR NULL, 1, SP_VSWR_HIGH, .spelling = SP_SPELL_ROWS, .read = read_vswr, .write = sp_key_write_curve
#define READINGS .read = sp_run_read_readings, .write = write_readings
#define NEEDED .format = GINT_TO_POINTER (TRUE)

/* by hand: a table that reads by its columns */
/* clang-format off */
const SpKeySpec sp_run_keys[] = {
  { "stage",                   SP_KEY_TEXT,   RUN (stage) },
  { "date",                    SP_KEY_DATE,   RUN (day), .absent = NAN },
  { "interval_days",           SP_KEY_NUMBER, RUN (interval_days), N_ ("days"), 1, 100000, NAN },
  { "temperature_c",           SP_KEY_NUMBER, RUN (temperature_c), "\302\260C", -100, 200, NAN },
  { "temperature_u_c",         SP_KEY_NUMBER, RUN (temperature_u_c), "K", 0, 100, NAN },
  { "temperature_coefficient", SP_KEY_NUMBER, RUN (temperature_coefficient), "dB/dB/K", -0.1, 0.1, NAN },
  { "source_vswr",             SP_KEY_CURVE,  RUN (source_vswr), VSWR },
  { "meter_vswr",              SP_KEY_CURVE,  RUN (meter_vswr), VSWR },
  { "stage_vswr",              SP_KEY_CURVE,  RUN (stage_vswr), VSWR },
  { "stage_output_vswr",       SP_KEY_CURVE,  RUN (stage_output_vswr), VSWR },
  { "reference_vswr",          SP_KEY_CURVE,  RUN (reference_vswr), VSWR },
  { "reference_output_vswr",   SP_KEY_CURVE,  RUN (reference_output_vswr), VSWR },
  { "line_m",                  SP_KEY_NUMBER, RUN (line_m), "m", 0, 10000, NAN },
  { "line_velocity",           SP_KEY_NUMBER, RUN (line_velocity), NULL, 0.1, 1, NAN },
  { "meter_linearity_db",      SP_KEY_NUMBER, RUN (meter_linearity_db), HALF_WIDTH_DB, NAN },
  { "meter_resolution_db",     SP_KEY_NUMBER, RUN (meter_resolution_db), HALF_WIDTH_DB, NAN },
  { "meter_floor_dbm",         SP_KEY_NUMBER, RUN (meter_floor_dbm), "dBm", -SP_RUN_READING_DB, SP_RUN_READING_DB, NAN },
  { "correction_db",           SP_KEY_NUMBER, RUN (correction_db), "dB", -SP_RUN_U_DB, SP_RUN_U_DB, 0 },
  { "extra",                   SP_KEY_LIST,   RUN (extra), .read = read_extra, .write = write_extra },
  { "note",                    SP_KEY_TEXT,   RUN (note) },
  { NULL }
};

const SpKeySpec sp_run_at_keys[] = {
  { "before",                  SP_KEY_LIST,   AT (before), "dB", -SP_RUN_READING_DB, SP_RUN_READING_DB, NEEDED, READINGS },
  { "inserted",                SP_KEY_LIST,   AT (inserted), "dB", -SP_RUN_READING_DB, SP_RUN_READING_DB, NEEDED, READINGS },
  { "after",                   SP_KEY_LIST,   AT (after), "dB", -SP_RUN_READING_DB, SP_RUN_READING_DB, READINGS },
  { NULL }
};
/* clang-format on */
