/* analyzer-text.c - a profile written back as its file, and its hash */
#include "core/analyzer/analyzer-private.h"

#include <math.h>

#include "core/curve/points.h"
#include "core/quantity/text.h"
#include "core/quantity/writer.h"

/* n numbers in rows of `columns`. */
static void
write_list (GString *text, const char *key, const GArray *numbers, guint columns)
{
  g_autoptr (GString) value = g_string_new (NULL);
  char digits[32];
  for (guint i = 0; i < numbers->len; i++)
    g_string_append_printf (value, "%s%s",
                            i == 0        ? ""
                            : i % columns ? " "
                                          : "; ",
                            sp_format_exact (g_array_index (numbers, double, i), digits));
  if (numbers->len > 0)
    sp_write_text (text, key, value->str);
}

/* Orders from the 4th share one key, which takes one number an order. */
static void
write_intercepts (GString *text, const SpAnalyzer *analyzer)
{
  g_autoptr (GString) value = g_string_new (NULL);
  char digits[32];
  sp_curve_write (text, "second_intercept_dbm", analyzer->intercept_dbm[2]);
  sp_curve_write (text, "third_harmonic_intercept_dbm", analyzer->intercept_dbm[3]);
  for (guint order = 4; order <= SP_MAX_ORDER; order++)
    if (analyzer->intercept_dbm[order])
      g_string_append_printf (value, "%s%u %s", value->len ? "; " : "", order,
                              sp_format_exact (analyzer->intercept_dbm[order]->value[0], digits));
  if (value->len > 0)
    sp_write_text (text, "harmonic_intercepts_dbm", value->str);
  sp_write_number (text, "intercept_u_db", analyzer->intercept_u_db);
}

/* What was assumed is left out again: a rewritten file keeps its warnings. */
static void
write_widths (GString *text, const SpAnalyzer *analyzer)
{
  for (guint i = 0; i < sp_n_width_keys; i++) {
    const SpWidth *width = G_STRUCT_MEMBER_P (analyzer, sp_width_keys[i].offset);
    g_autofree char *db = g_strconcat (sp_width_keys[i].stem, "_db", NULL);
    g_autofree char *kind = g_strconcat (sp_width_keys[i].stem, "_kind", NULL);
    if (!width->assumed)
      sp_write_number (text, db, width->width_db);
    if (width->kind != SP_WIDTH_RECTANGULAR)
      sp_write_text (text, kind, sp_width_kind_words[width->kind]);
  }
}

void
sp_analyzer_write_text (SpAnalyzer *analyzer, SpKeyFile *file, const SpGroup *group)
{
  GString *text = g_string_new (NULL);
  sp_write_group (text, "analyzer");
  sp_write_text (text, "name", analyzer->name);
  sp_write_number (text, "damage_dbm", analyzer->damage_dbm);
  sp_write_number (text, "damage_attenuation_db", analyzer->damage_attenuation_db);
  sp_write_number (text, "max_dc_v", analyzer->max_dc_v);
  sp_write_number (text, "best_mixer_dbm", analyzer->best_mixer_dbm);
  sp_curve_write (text, "danl_dbm_hz", analyzer->danl_dbm_hz);
  sp_write_text (text, "danl_average", analyzer->danl_log_averaged ? "log" : "power");
  write_intercepts (text, analyzer);
  sp_curve_write (text, "phase_noise_dbc_hz", analyzer->phase_noise_dbc_hz);
  write_widths (text, analyzer);
  sp_curve_write (text, "amplitude_correction", analyzer->amplitude_correction_db);
  sp_write_number (text, "frequency_ppm", analyzer->frequency_ppm);
  sp_curve_write (text, "vswr", analyzer->vswr);
  write_list (text, "attenuator_steps_db", analyzer->attenuator_steps_db, 1);
  write_list (text, "rbw_steps", analyzer->rbw_steps_hz, 1);
  sp_write_number (text, "points_max", analyzer->points_max);
  sp_write_text (text, "filter", sp_filter_words[analyzer->filter]);
  write_list (text, "sweep_s", analyzer->sweep_times, 3);
  write_list (text, "residuals", analyzer->residuals, 2);
  sp_write_unused_keys (text, group);
  sp_write_unused_groups (text, file);
  analyzer->text = g_string_free (text, FALSE);
  analyzer->sha256 = g_compute_checksum_for_string (G_CHECKSUM_SHA256, analyzer->text, -1);
}
