/* edit-loss.c - a stage whose loss comes from another place: a run, a two-port, a table; and a stage from another chain */
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/bench/edit/edit-private.h"
#include "core/chain/loss-table.h"
#include "core/curve/points.h"
#include "core/quantity/error.h"
#include "core/quantity/text.h"

/* Of these a stage has one; a run brings the rest of its own. */
static const char *const sources[] = { "points", "touchstone", "run" };
static const char *const of_run[] = { "calibrated", "temperature_c", "common_u_db" };

static char *
set (char *text, const char *group, const char *key, const char *value, GError **error)
{
  g_autofree char *old = text;
  return old ? sp_key_text_set (old, group, key, value, error) : NULL;
}

static SpChain *
with_source (const SpChain *chain, guint stage, const char *key, const char *value, const SpLossSource *source, GError **error)
{
  g_autofree char *group = sp_stage_heading (chain->stages[stage]->name);
  char *text = g_strdup (chain->text);
  for (guint i = 0; i < G_N_ELEMENTS (sources); i++)
    text = set (text, group, sources[i], strcmp (sources[i], key) == 0 ? value : NULL, error);
  for (guint i = 0; i < G_N_ELEMENTS (of_run) && strcmp (key, "run") == 0; i++)
    text = set (text, group, of_run[i], NULL, error);
  g_autofree char *owned = text;
  return text ? sp_chain_read_edited (chain, text, source, error) : NULL;
}

/* A name for what a stage brings that nothing of the chain has but stage `but` (-1: none is left out). (transfer full) */
static char *
source_name (const SpChain *chain, int but, const char *stem, const char *ending)
{
  for (guint n = 1;; n++) {
    g_autofree char *with = n == 1 ? g_strconcat (stem, ending, NULL) : g_strdup_printf ("%s-%u%s", stem, n, ending);
    char *name = sp_escape (with);
    gboolean taken = FALSE;
    for (guint i = 0; i < chain->n; i++)
      taken = taken
              || ((int) i != but
                  && (g_strcmp0 (chain->stages[i]->run_name, name) == 0 || g_strcmp0 (chain->stages[i]->touchstone, name) == 0));
    if (!taken)
      return name;
    g_free (name);
  }
}

SpChain *
sp_chain_set_run (const SpChain *chain, guint stage, const SpRun *run, GError **error)
{
  g_return_val_if_fail (stage < chain->n, NULL);
  g_autofree char *name = source_name (chain, (int) stage, chain->stages[stage]->name, ".run"), *said = sp_run_text (run);
  g_autoptr (SpRun) whole = sp_run_parse_bytes (said, strlen (said), name, FALSE, error);
  SpLossSource source = { name, whole, NULL, NULL };
  return whole ? with_source (chain, stage, "run", name, &source, error) : NULL;
}

static SpChain *
take_two_port (const SpChain *chain, guint stage, const char *path, GError **error)
{
  SpTwoPort *two_port = sp_two_port_read (path, error);
  g_autofree char *name = source_name (chain, (int) stage, chain->stages[stage]->name, ".s2p");
  SpLossSource source = { name, NULL, two_port, NULL };
  SpChain *edited = two_port ? with_source (chain, stage, "touchstone", name, &source, error) : NULL;
  g_clear_pointer (&two_port, sp_two_port_unref);
  return edited;
}

SpChain *
sp_chain_take_loss (const SpChain *chain, guint stage, const char *path, GError **error)
{
  g_return_val_if_fail (stage < chain->n, NULL);
  g_autofree char *small = g_ascii_strdown (path, -1);
  if (!g_file_test (path, G_FILE_TEST_IS_REGULAR)) {
    sp_fail (error, SP_ERROR_IO,
             _ ("%s is no file that can be read; expected a table of losses, a Touchstone two-port or a substitution run"), path);
    return NULL;
  }
  if (g_str_has_suffix (small, ".run")) {
    g_autoptr (SpRun) run = sp_run_read (path, error);
    return run ? sp_chain_set_run (chain, stage, run, error) : NULL;
  }
  if (g_str_has_suffix (small, ".s2p") || g_str_has_suffix (small, ".ts"))
    return take_two_port (chain, stage, path, error);
  g_autofree char *points = sp_loss_table_read (path, error);
  return points ? with_source (chain, stage, "points", points, NULL, error) : NULL;
}

SpChain *
sp_chain_keep_points (const SpChain *chain, guint stage, GError **error)
{
  g_return_val_if_fail (stage < chain->n, NULL);
  const SpStage *value = chain->stages[stage];
  if (!value->run) {
    sp_fail (error, SP_ERROR_USAGE, _ ("%s has no run whose points could be kept"), value->name);
    return NULL;
  }
  g_autofree char *group = sp_stage_heading (value->name), *day = sp_key_text_get (value->run->text, "run", "date");
  g_autofree char *temperature = sp_key_text_get (value->run->text, "run", "temperature_c"),
                  *vswr = sp_key_text_get (value->run->text, "run", "stage_vswr");
  g_autoptr (GString) points = g_string_new (NULL);
  char common[32];
  sp_curve_append_text (value->loss, points);
  const struct {
    const char *key, *value;
  } kept[] = { { "calibrated", day },
               { "temperature_c", temperature },
               { "vswr", vswr },
               { "common_u_db", sp_format_exact (value->common_u_db, common) } };
  char *text = set (set (g_strdup (chain->text), group, "run", NULL, error), group, "points", points->str, error);
  for (guint i = 0; text && i < G_N_ELEMENTS (kept); i++) {
    g_autofree char *own = sp_key_text_get (text, group, kept[i].key);
    if (!own && kept[i].value)
      text = set (text, group, kept[i].key, kept[i].value, error);
  }
  g_autofree char *owned = text;
  return text ? sp_chain_read_edited (chain, text, NULL, error) : NULL;
}

/* ---- a stage of another chain ---- */

char *
sp_chain_free_name (const SpChain *chain, const char *stem)
{
  char *name = g_strdup (stem);
  for (guint k = 2; !sp_chain_check_stage_name (chain, name, NULL) && *stem; k++) {
    g_free (name);
    name = g_strdup_printf ("%s %u", stem, k);
  }
  return name;
}

/* What its chain said of it goes along. */
static char *
with_calibration (char *text, const char *heading, const SpChain *from, const SpStage *stage, GError **error)
{
  const struct {
    const char *key;
    gboolean own;
  } keys[] = { { "calibrated", !isnan (stage->calibrated_day) }, { "temperature_c", !isnan (stage->temperature_c) } };
  for (guint i = 0; i < G_N_ELEMENTS (keys); i++) {
    g_autofree char *value = keys[i].own ? NULL : sp_key_text_get (from->text, "chain", keys[i].key);
    if (value)
      text = set (text, heading, keys[i].key, value, error);
  }
  return text;
}

SpChain *
sp_chain_take_stage (const SpChain *chain, guint before, const SpChain *from, guint stage, const char *name, GError **error)
{
  g_return_val_if_fail (before <= chain->n && stage < from->n, NULL);
  const SpStage *value = from->stages[stage];
  g_autofree char *clean = g_strstrip (g_strdup (name));
  if (!sp_chain_check_stage_name (chain, clean, error))
    return NULL;
  g_autofree char *old = sp_stage_heading (value->name), *heading = sp_stage_heading (clean);
  g_autofree char *file = value->run        ? source_name (chain, -1, clean, ".run")
                          : value->two_port ? source_name (chain, -1, clean, ".s2p")
                                            : NULL;
  g_autoptr (GArray) pictures = sp_chain_name_pictures (chain, -1, value->pictures);
  SpLossSource source = { file, value->run, value->two_port, pictures };
  char *text = with_calibration (sp_key_text_copy (from->text, old, heading), heading, from, value, error);
  if (file)
    text = set (text, heading, value->run ? "run" : "touchstone", file, error);
  text = sp_chain_text_set_pictures (text, heading, pictures->len, pictures, error);
  g_autofree char *group = text;
  return group ? sp_chain_insert_group (chain, before, clean, group, &source, error) : NULL;
}
