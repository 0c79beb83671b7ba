/* chain.c - lifetime of a chain, and the properties of its stages */
#include "core/chain/chain-private.h"

#include <math.h>
#include <string.h>

#include "core/quantity/units.h"

SpStage *
sp_stage_new (const char *name)
{
  SpStage *stage = g_new0 (SpStage, 1);
  stage->name = g_strdup (name);
  sp_keys_init (sp_stage_keys, stage);
  stage->span_low_hz = stage->span_high_hz = NAN;
  stage->derating = g_array_new (FALSE, FALSE, sizeof (SpDerating));
  return stage;
}

void
sp_stage_free (SpStage *stage)
{
  if (!stage)
    return;
  g_clear_pointer (&stage->loss, sp_curve_unref);
  g_clear_pointer (&stage->two_port, sp_two_port_unref);
  g_clear_pointer (&stage->vswr, sp_curve_unref);
  g_clear_pointer (&stage->run, sp_run_unref);
  g_free (stage->run_name);
  g_free (stage->loss_dof);
  g_array_unref (stage->derating);
  g_clear_pointer (&stage->pictures, g_array_unref);
  g_free (stage->touchstone);
  g_free (stage->name);
  g_free (stage);
}

static void
clear_file (gpointer data)
{
  SpStageFile *file = data;
  g_bytes_unref (file->bytes);
  g_free (file->key);
}

GArray *
sp_stage_files (const SpStage *stage)
{
  GArray *files = g_array_new (FALSE, FALSE, sizeof (SpStageFile));
  g_array_set_clear_func (files, clear_file);
  SpStageFile loss = { 0 };
  if (stage->two_port)
    loss = (SpStageFile){ stage->touchstone, stage->two_port->sha256, g_bytes_ref (stage->two_port->raw), g_strdup ("touchstone") };
  else if (stage->run)
    loss = (SpStageFile){ stage->run_name, stage->run->sha256, g_bytes_new (stage->run->text, strlen (stage->run->text)),
                          g_strdup ("run") };
  if (loss.key)
    g_array_append_val (files, loss);
  for (guint i = 0; stage->pictures && i < stage->pictures->len; i++) {
    const SpCaptioned *one = &g_array_index (stage->pictures, SpCaptioned, i);
    SpStageFile file = { one->name, one->picture->sha256, g_bytes_ref (one->picture->bytes), sp_captioned_key (i), one->caption, TRUE };
    g_array_append_val (files, file);
  }
  return files;
}

char *
sp_stage_file_value (const SpStageFile *file, const char *name)
{
  return file->picture ? sp_captioned_value (name, file->caption) : g_strdup (name);
}

SpChain *
sp_chain_ref (const SpChain *chain)
{
  return g_atomic_rc_box_acquire ((SpChain *) chain);
}

static void
clear (gpointer data)
{
  SpChain *chain = data;
  for (guint i = 0; i < chain->n; i++)
    sp_stage_free (chain->stages[i]);
  g_free (chain->stages);
  g_clear_pointer (&chain->warnings, g_ptr_array_unref);
  g_free (chain->name);
  g_free (chain->file);
  g_free (chain->text);
  g_free (chain->sha256);
}

void
sp_chain_unref (SpChain *chain)
{
  g_atomic_rc_box_release_full (chain, clear);
}

double
sp_stage_reflection (const SpStage *stage, double frequency_hz, gboolean output)
{
  if (stage->two_port) {
    complex double s[4];
    sp_two_port_at (stage->two_port, frequency_hz, s, NULL);
    complex double g = s[output ? 3 : 0];
    return cabs (g);
  }
  return sp_reflection_from_vswr (stage->vswr ? sp_curve_at (stage->vswr, frequency_hz, 0).value : SP_VSWR_ASSUMED);
}

static double
derated_w (const GArray *table, double temperature_c)
{
  const SpDerating *row = &g_array_index (table, SpDerating, 0);
  guint i = 1;
  if (table->len == 1 || temperature_c <= row[0].temperature_c)
    return row[0].rating_w;
  while (i + 1 < table->len && temperature_c > row[i].temperature_c)
    i++;
  double slope = (row[i].rating_w - row[i - 1].rating_w) / (row[i].temperature_c - row[i - 1].temperature_c);
  double rating_w = row[i].rating_w + slope * (temperature_c - row[i].temperature_c);
  /* A table that rises at its end is not extrapolated: heat never raises a rating. */
  return temperature_c > row[i].temperature_c ? CLAMP (rating_w, 0, row[i].rating_w) : rating_w;
}

/* Temperature where the derating reaches zero; limited to SP_RISE_ASSUMED_K if no table falls. */
static double
hottest_c (const SpStage *stage)
{
  const GArray *table = stage->derating;
  if (table->len < 2)
    return SP_ROOM_TEMPERATURE_C + SP_RISE_ASSUMED_K;
  const SpDerating *last = &g_array_index (table, SpDerating, table->len - 1), *before = last - 1;
  double slope = (last->rating_w - before->rating_w) / (last->temperature_c - before->temperature_c);
  double end_c = slope < 0 ? last->temperature_c - last->rating_w / slope : NAN;
  return end_c > SP_ROOM_TEMPERATURE_C ? end_c : SP_ROOM_TEMPERATURE_C + SP_RISE_ASSUMED_K;
}

double
sp_stage_power_coefficient_assumed (const SpStage *stage)
{
  double rating_w = sp_stage_rating_w (stage, SP_ROOM_TEMPERATURE_C);
  double stated = isnan (stage->temperature_coefficient) ? 0 : fabs (stage->temperature_coefficient);
  double most = fmax (SP_ALPHA_U_ASSUMED, stated) * (hottest_c (stage) - SP_ROOM_TEMPERATURE_C);
  return rating_w > 0 ? fmin (SP_BETA_ASSUMED, most / rating_w) : SP_BETA_ASSUMED;
}

gboolean
sp_chain_vswr_assumed (const SpChain *chain)
{
  for (guint i = 0; i < chain->n; i++)
    if (!chain->stages[i]->vswr && !chain->stages[i]->two_port)
      return TRUE;
  return FALSE;
}

double
sp_stage_rating_w (const SpStage *stage, double temperature_c)
{
  if (stage->derating->len == 0)
    return stage->rating_w;
  return fmin (stage->rating_w, derated_w (stage->derating, isnan (temperature_c) ? SP_ROOM_TEMPERATURE_C : temperature_c));
}
