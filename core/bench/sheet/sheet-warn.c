/* sheet-warn.c - what is told of a sheet that can be read: keys that are not used, and keys that speak against each other */
#include <math.h>
#include <string.h>

#include "core/bench/sheet/sheet-private.h"

/* A tone belongs to a modulation by a tone, and the other way round. */
static void
warn_of_modulation (const SpBench *bench, const SpCondition *condition)
{
  SpModulation modulation = sp_condition_modulation (bench, condition);
  g_autofree char *name = sp_condition_name (bench, condition);
  gboolean tone = !isnan (condition->tone_hz), whole = tone && !isnan (condition->deviation_hz);
  if (modulation == SP_MODULATION_TONE && !whole)
    sp_reasons_add (bench->sheet_warnings, sp_reason (TONE_LACKS, .condition = name, .key = tone ? "deviation_hz" : "tone_hz"));
  if (modulation != SP_MODULATION_TONE && modulation != SP_MODULATION_NOT_STATED && tone)
    sp_reasons_add (bench->sheet_warnings,
                    sp_reason (TONE_UNLIKE, .condition = name, .modulation = modulation, .tone_hz = condition->tone_hz));
}

/* A key that another group of a sheet has is told with where it belongs. */
static void
warn_of_keys (SpSheet *sheet)
{
  g_autoptr (GPtrArray) unknown = sp_reasons_new ();
  sp_key_file_unknown (sheet->file, unknown);
  for (guint i = 0; i < unknown->len; i++) {
    const SpReason *one = unknown->pdata[i];
    const char *key = one->UNKNOWN_KEY.key;
    int home = sp_keys_find (sp_condition_keys, key) ? SP_KEY_OF_CONDITION
               : sp_keys_find (sp_radio_keys, key)   ? SP_KEY_OF_RADIO
               : sp_keys_find (sp_bench_keys, key)   ? SP_KEY_OF_BENCH
                                                     : SP_KEY_OF_NOBODY;
    g_ptr_array_add (sheet->bench->sheet_warnings,
                     home == SP_KEY_OF_NOBODY ? sp_reason_ref (one)
                                              : sp_reason (UNKNOWN_KEY, .file = one->UNKNOWN_KEY.file, .group = one->UNKNOWN_KEY.group,
                                                           .key = key, .line = one->UNKNOWN_KEY.line, .home = home));
  }
}

void
sp_sheet_warn (SpSheet *sheet)
{
  warn_of_keys (sheet);
  for (guint i = 0; i < sheet->bench->n_conditions; i++)
    warn_of_modulation (sheet->bench, &sheet->bench->conditions[i]);
}
