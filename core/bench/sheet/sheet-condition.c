/* sheet-condition.c - reads the sweeps of one condition, whose keys are their purposes */
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/bench/sheet/sheet-private.h"
#include "core/quantity/error.h"
#include "core/quantity/text.h"

#define STEP_TOLERANCE_DB 0.05 /* by which a file may state another attenuation than the sheet (core/docs/files.md, section 2) */
#define STEP_MAX_DB 200.0      /* bounds what can be meant */

/* The key of each purpose is its name. */
static int
purpose_of (const char *key)
{
  for (int p = SP_PURPOSE_KEYED; p <= SP_PURPOSE_SUPERSEDED; p++)
    if (strcmp (key, sp_purpose_name (p)) == 0)
      return p;
  return -1;
}

/* "FILE?options 10": cuts the number off, which stands behind the last blank. */
static gboolean
split_step (SpSheet *sheet, SpGroup *group, const SpKey *key, SpItem *item, double *step_db, GError **error)
{
  char *blank = NULL;
  for (char *p = item->text; *p; p++)
    if (*p == ' ' || *p == '\t')
      blank = p;
  guint offset = item->offset + (blank ? (guint) g_utf8_strlen (item->text, blank + 1 - item->text) : 0);
  g_autofree char *found = sp_excerpt (blank ? blank + 1 : item->text);
  if (!blank || !sp_parse_number (blank + 1, step_db, NULL))
    return sp_key_fail (sheet->file, group, key, offset, error, _ ("found “%s”; expected FILE and, behind a blank, the dB of the step"),
                        found);
  if (*step_db == 0 || fabs (*step_db) > STEP_MAX_DB)
    return sp_key_fail (sheet->file, group, key, offset, error, _ ("a step of %s dB; expected a number other than 0, up to %g"), found,
                        STEP_MAX_DB);
  *blank = '\0';
  g_strchomp (item->text);
  return TRUE;
}

/* All sweeps of one key; `chain` (may be NULL) is theirs. A file of several stretches is several sweeps; `offsets` (of guint): where each stands. */
static gboolean
read_sweeps (SpSheet *sheet, SpGroup *group, const SpKey *key, SpPurpose purpose, SpChain *chain, SpCondition *condition, GArray *offsets,
             GError **error)
{
  g_autoptr (GArray) items = sp_key_items (key);
  if (items->len == 0)
    return sp_key_fail (sheet->file, group, key, 0, error,
                        _ ("nothing stands here; expected at least one file, divided by ; from the next"));
  for (guint i = 0; i < items->len; i++) {
    SpItem *item = &g_array_index (items, SpItem, i);
    double step_db = NAN;
    if (purpose == SP_PURPOSE_STEP && !split_step (sheet, group, key, item, &step_db, error))
      return FALSE;
    SpTrace *trace = sp_sheet_trace (sheet, group, key, item->offset, item->text, error);
    if (!trace)
      return FALSE;
    sp_condition_add_sweep (condition, purpose, trace, chain ? sp_chain_ref (chain) : NULL, step_db);
    while (offsets->len < condition->n_sweeps)
      g_array_append_val (offsets, item->offset);
  }
  return TRUE;
}

static double
keyed_attenuation_db (const SpCondition *condition)
{
  for (guint i = 0; i < condition->n_sweeps; i++) {
    const SpSweep *sweep = &condition->sweeps[i];
    if (sweep->purpose == SP_PURPOSE_KEYED && !isnan (sweep->trace->settings.attenuation_db))
      return sweep->trace->settings.attenuation_db;
  }
  return NAN;
}

static gboolean
fail_step (SpSheet *sheet, SpGroup *group, guint offset, const SpSweep *sweep, double want_db, GError **error)
{
  const SpKey *key = sp_group_find (group, "step");
  double stated_db = sweep->trace->settings.attenuation_db;
  if (sweep->chain)
    return sp_key_fail (
        sheet->file, group, key, offset, error,
        _ ("%s states %g dB of attenuation; expected %g dB, as in the keyed sweep, because step_chain= makes each step of this "
           "condition a pad outside; leave steps of the analyzer's own attenuation, or those with the pad, to a condition of "
           "their own, or give ?attenuation= where a file is wrong"),
        sweep->trace->file, stated_db, want_db);
  return sp_key_fail (sheet->file, group, key, offset, error,
                      _ ("%s states %g dB of attenuation; expected %g dB, by the keyed sweep and the step; correct the step, or give "
                         "?attenuation= where a file is wrong, or step_chain= where the step is a pad outside"),
                      sweep->trace->file, stated_db, want_db);
}

/* What a step's file states (or ?attenuation= in its place) must be the keyed sweep's attenuation and the step; with an outside pad the
 * analyzer's own stays as it was. */
static gboolean
check_steps (SpSheet *sheet, SpGroup *group, const SpCondition *condition, const GArray *offsets, GError **error)
{
  double keyed_db = keyed_attenuation_db (condition);
  for (guint i = 0; i < condition->n_sweeps; i++) {
    const SpSweep *sweep = &condition->sweeps[i];
    if (sweep->purpose != SP_PURPOSE_STEP)
      continue;
    double stated_db = sweep->trace->settings.attenuation_db, want_db = keyed_db + (sweep->chain ? 0 : sweep->step_db);
    if (isnan (stated_db) || isnan (want_db))
      sp_reasons_add (sheet->bench->sheet_warnings, sp_reason (STEP_UNKNOWN, .file = sweep->trace->file, .step_db = sweep->step_db));
    else if (fabs (stated_db - want_db) > STEP_TOLERANCE_DB)
      return fail_step (sheet, group, g_array_index (offsets, guint, i), sweep, want_db, error);
  }
  return TRUE;
}

/* In the sheet's order, whatever their purposes. */
static gboolean
read_in_order (SpSheet *sheet, SpGroup *group, SpCondition *condition, SpChain *step_chain, SpChain *notched_chain, GError **error)
{
  g_autoptr (GArray) offsets = g_array_new (FALSE, FALSE, sizeof (guint));
  for (guint i = 0; i < group->keys->len; i++) {
    SpKey *key = group->keys->pdata[i];
    int purpose = purpose_of (key->key);
    SpChain *chain = purpose == SP_PURPOSE_STEP ? step_chain : purpose == SP_PURPOSE_NOTCHED ? notched_chain : NULL;
    if (purpose < 0)
      continue;
    key->used = TRUE;
    if (!read_sweeps (sheet, group, key, purpose, chain, condition, offsets, error))
      return FALSE;
  }
  return check_steps (sheet, group, condition, offsets, error);
}

static gboolean
check_resources (SpSheet *sheet, SpGroup *group, const SpCondition *condition, GError **error)
{
  const SpBench *bench = sheet->bench;
  const char *missing = !sp_condition_chain (bench, condition)      ? "chain"
                        : !sp_condition_analyzer (bench, condition) ? "analyzer"
                        : !sp_condition_mask (bench, condition)     ? "mask"
                                                                    : NULL;
  return !missing
         || sp_fail_at (error, sp_key_file_name (sheet->file), group->line, 1, _ ("[%s] has no %s; expected %s= here or in [bench]"),
                        group->name, missing, missing);
}

gboolean
sp_sheet_read_sweeps (G_GNUC_UNUSED const SpKeySpec *spec, G_GNUC_UNUSED SpKeyFile *file, SpGroup *group, gpointer object, gpointer context,
                      GError **error)
{
  SpSheet *sheet = context;
  SpCondition *condition = object;
  gboolean step_good, notched_good;
  if (!check_resources (sheet, group, condition, error))
    return FALSE;
  g_autoptr (SpChain) step_chain = sp_sheet_resource (sheet, group, "step_chain", SP_RESOURCE_CHAIN, &step_good, error);
  if (!step_good)
    return FALSE;
  g_autoptr (SpChain) notched_chain = sp_sheet_resource (sheet, group, "notched_chain", SP_RESOURCE_CHAIN, &notched_good, error);
  return notched_good && read_in_order (sheet, group, condition, step_chain, notched_chain, error);
}
