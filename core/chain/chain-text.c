/* chain-text.c - a chain written back as its file, and the hash of what it says */
#include "core/chain/chain-private.h"

#include <math.h>

#include "core/curve/points.h"
#include "core/quantity/text.h"
#include "core/quantity/writer.h"

static const char *const curve_names[] = { "linear", "smooth", "sqrt" };

static void
write_positive (GString *text, const char *key, double number)
{
  if (number > 0)
    sp_write_number (text, key, number);
}

static void
write_span (GString *text, const SpStage *stage)
{
  char low[32], high[32];
  if (isnan (stage->span_low_hz))
    return;
  g_autofree char *span = g_strdup_printf ("%s %s", sp_format_exact (stage->span_low_hz, low), sp_format_exact (stage->span_high_hz, high));
  sp_write_text (text, "span", span);
}

static void
write_derating (GString *text, const GArray *table)
{
  g_autoptr (GString) value = g_string_new (NULL);
  char t[32], w[32];
  for (guint i = 0; i < table->len; i++) {
    const SpDerating *row = &g_array_index (table, SpDerating, i);
    g_string_append_printf (value, "%s%s %s", i ? "; " : "", sp_format_exact (row->temperature_c, t), sp_format_exact (row->rating_w, w));
  }
  if (table->len > 0)
    sp_write_text (text, "derating", value->str);
}

char *
sp_stage_heading (const char *name)
{
  g_autofree char *escaped = sp_escape (name);
  return g_strconcat ("stage ", escaped, NULL);
}

/* What the run says already is not said again: another run in its place is then believed in that too. */
static double
unless_of_run (const SpStage *stage, double value, double of_run)
{
  return stage->run && value == of_run ? NAN : value;
}

static void
write_loss (GString *text, const SpStage *stage, gboolean hashed)
{
  if (stage->loss)
    sp_write_text (text, "curve", curve_names[stage->loss->kind]);
  if (stage->two_port)
    sp_write_text (text, "touchstone", hashed ? stage->two_port->sha256 : stage->touchstone);
  if (stage->run)
    sp_write_text (text, "run", hashed ? stage->run->sha256 : stage->run_name);
  if (!stage->two_port && (hashed || !stage->run))
    sp_curve_write (text, "points", stage->loss);
}

/* A file stands as its path in the text, as its hash (and what a run gave) in what is hashed. */
static void
write_stage (GString *text, const SpStage *stage, const SpGroup *group, gboolean hashed)
{
  const SpRun *run = stage->run;
  double common = run ? sp_run_common_u_db (run) : 0;
  g_autofree char *title = sp_stage_heading (stage->name);
  sp_write_group (text, title);
  sp_write_text (text, "kind", sp_stage_kind_name (stage->kind));
  sp_write_number (text, "label_db", stage->label_db);
  sp_write_number (text, "label_tolerance_db", stage->label_tolerance_db);
  write_span (text, stage);
  write_loss (text, stage, hashed);
  sp_write_number (text, "u_db", stage->u_db);
  if (run)
    sp_write_number (text, "common_u_db", unless_of_run (stage, stage->common_u_db, common));
  else
    write_positive (text, "common_u_db", stage->common_u_db);
  write_positive (text, "connector_u_db", stage->connector_u_db);
  if (!run || stage->vswr != run->stage_vswr)
    sp_curve_write (text, "vswr", stage->vswr);
  sp_write_number (text, "rating_w", stage->rating_w);
  write_derating (text, stage->derating);
  sp_write_yes_no (text, "directional", stage->directional);
  sp_write_yes_no (text, "passes_dc", stage->passes_dc);
  sp_write_number (text, "load_rating_w", stage->load_rating_w);
  sp_write_number (text, "temperature_coefficient", stage->temperature_coefficient);
  sp_write_number (text, "temperature_coefficient_u", stage->temperature_coefficient_u);
  sp_write_number (text, "power_coefficient", stage->power_coefficient);
  sp_write_day (text, "calibrated", unless_of_run (stage, stage->calibrated_day, run ? run->day : NAN));
  sp_write_number (text, "temperature_c", unless_of_run (stage, stage->temperature_c, run ? run->temperature_c : NAN));
  sp_write_unused_keys (text, group);
}

static char *
write_chain (const SpChain *chain, SpKeyFile *file, const SpGroup *header, SpGroup *const *groups, gboolean hashed)
{
  GString *text = g_string_new (NULL);
  g_autoptr (GString) stages = g_string_new (NULL);
  for (guint i = 0; i < chain->n; i++) {
    g_autofree char *name = sp_escape (chain->stages[i]->name);
    g_string_append_printf (stages, "%s%s", i ? ";" : "", name);
  }
  sp_write_group (text, "chain");
  sp_write_text (text, "name", chain->name);
  sp_write_text (text, "stages", stages->str);
  sp_write_day (text, "calibrated", chain->calibrated_day);
  sp_write_number (text, "interval_days", chain->interval_days);
  sp_write_number (text, "temperature_c", chain->temperature_c);
  sp_write_unused_keys (text, header);
  for (guint i = 0; i < chain->n; i++)
    write_stage (text, chain->stages[i], groups[i], hashed);
  sp_write_unused_groups (text, file);
  return g_string_free (text, FALSE);
}

void
sp_chain_write_text (SpChain *chain, SpKeyFile *file, SpGroup *header, SpGroup *const *groups)
{
  g_autofree char *hashed = write_chain (chain, file, header, groups, TRUE);
  chain->text = write_chain (chain, file, header, groups, FALSE);
  chain->sha256 = g_compute_checksum_for_string (G_CHECKSUM_SHA256, hashed, -1);
}
