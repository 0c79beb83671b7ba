/* edit-radios.c - radios, conditions and sweeps added, renamed, moved, removed */
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/bench/build.h"
#include "core/bench/edit/edit-private.h"
#include "core/bench/sheet/write.h"
#include "core/quantity/error.h"
#include "core/trace/read/read.h"

/* Blanks at the ends are no part of a name. (transfer full) */
static char *
trimmed (const char *name)
{
  return g_strstrip (g_strdup (name));
}

static gboolean
check_radio_name (const SpBench *bench, const char *name, int but, GError **error)
{
  if (!*name)
    return sp_fail (error, SP_ERROR_USAGE, _ ("a radio has a name; nothing stands here"));
  for (guint i = 0; i < bench->n_radios; i++)
    if ((int) i != but && strcmp (bench->radios[i].name, name) == 0)
      return sp_fail (error, SP_ERROR_USAGE, _ ("there is a radio “%s” already; expected another name"), name);
  return TRUE;
}

static gboolean
check_condition_name (const SpBench *bench, guint radio, const char *name, int but, GError **error)
{
  for (guint i = 0; i < bench->n_conditions; i++)
    if ((int) i != but && bench->conditions[i].radio == radio && strcmp (bench->conditions[i].name, name) == 0)
      return sp_fail (error, SP_ERROR_USAGE, _ ("%s has a condition “%s” already; expected another name"), bench->radios[radio].name, name);
  return TRUE;
}

static void
rename_to (char **place, char *name)
{
  g_free (*place);
  *place = name;
}

static void
move_condition (SpBench *bench, guint from, guint to)
{
  SpCondition moved = bench->conditions[from];
  if (from < to)
    memmove (&bench->conditions[from], &bench->conditions[from + 1], (to - from) * sizeof moved);
  else
    memmove (&bench->conditions[to + 1], &bench->conditions[to], (from - to) * sizeof moved);
  bench->conditions[to] = moved;
}

/* Where a new condition of a radio goes: behind its others. */
static guint
behind_radio (const SpBench *bench, guint radio)
{
  for (guint i = bench->n_conditions - 1; i > 0; i--)
    if (bench->conditions[i - 1].radio == radio)
      return i;
  return bench->n_conditions - 1;
}

SpCondition *
sp_bench_add_condition_behind (SpBench *copy, guint radio, char *name)
{
  sp_bench_add_condition (copy, radio, name);
  guint place = behind_radio (copy, radio);
  move_condition (copy, copy->n_conditions - 1, place);
  return &copy->conditions[place];
}

SpBench *
sp_bench_add_radio_named (const SpBench *bench, const char *name, GError **error)
{
  g_autofree char *clean = trimmed (name);
  if (!check_radio_name (bench, clean, -1, error))
    return NULL;
  SpBench *copy = sp_bench_copy (bench, 1);
  sp_bench_add_radio (copy, g_steal_pointer (&clean));
  sp_bench_add_condition (copy, copy->n_radios - 1, g_strdup (""));
  return sp_bench_settle (copy, error);
}

SpBench *
sp_bench_rename_radio (const SpBench *bench, guint radio, const char *name, GError **error)
{
  g_return_val_if_fail (radio < bench->n_radios, NULL);
  g_autofree char *clean = trimmed (name);
  if (!check_radio_name (bench, clean, radio, error))
    return NULL;
  SpBench *copy = sp_bench_copy (bench, 0);
  sp_document_follow_name (&copy->document, bench->radios[radio].name, clean);
  rename_to (&copy->radios[radio].name, g_steal_pointer (&clean));
  return sp_bench_settle (copy, error);
}

SpBench *
sp_bench_rename_condition (const SpBench *bench, guint condition, const char *name, GError **error)
{
  g_return_val_if_fail (condition < bench->n_conditions, NULL);
  g_autofree char *clean = trimmed (name);
  if (!check_condition_name (bench, bench->conditions[condition].radio, clean, condition, error))
    return NULL;
  SpBench *copy = sp_bench_copy (bench, 0);
  rename_to (&copy->conditions[condition].name, g_steal_pointer (&clean));
  return sp_bench_settle (copy, error);
}

SpBench *
sp_bench_duplicate_condition (const SpBench *bench, guint condition, const char *name, GError **error)
{
  g_return_val_if_fail (condition < bench->n_conditions, NULL);
  g_autofree char *clean = trimmed (name);
  if (!check_condition_name (bench, bench->conditions[condition].radio, clean, -1, error))
    return NULL;
  SpBench *copy = sp_bench_copy (bench, 1);
  SpCondition *twin = &copy->conditions[copy->n_conditions++];
  sp_condition_copy (twin, &bench->conditions[condition]);
  rename_to (&twin->name, g_steal_pointer (&clean));
  move_condition (copy, copy->n_conditions - 1, condition + 1);
  return sp_bench_settle (copy, error);
}

SpBench *
sp_bench_move_condition (const SpBench *bench, guint from, guint to)
{
  g_return_val_if_fail (from < bench->n_conditions && to < bench->n_conditions, NULL);
  SpBench *copy = sp_bench_copy (bench, 0);
  move_condition (copy, from, to);
  sp_bench_finish (copy);
  return copy;
}

static gboolean
has_conditions (const SpBench *bench, guint radio)
{
  for (guint i = 0; i < bench->n_conditions; i++)
    if (bench->conditions[i].radio == radio)
      return TRUE;
  return FALSE;
}

static void
remove_radio (SpBench *bench, guint radio)
{
  sp_radio_clear (&bench->radios[radio]);
  bench->n_radios--;
  memmove (&bench->radios[radio], &bench->radios[radio + 1], (bench->n_radios - radio) * sizeof *bench->radios);
  for (guint i = 0; i < bench->n_conditions; i++)
    bench->conditions[i].radio -= bench->conditions[i].radio > radio;
}

SpBench *
sp_bench_remove_condition (const SpBench *bench, guint condition, GError **error)
{
  g_return_val_if_fail (condition < bench->n_conditions, NULL);
  SpBench *copy = sp_bench_copy (bench, 0);
  guint radio = copy->conditions[condition].radio;
  move_condition (copy, condition, copy->n_conditions - 1);
  sp_condition_clear (&copy->conditions[--copy->n_conditions]);
  if (!has_conditions (copy, radio))
    remove_radio (copy, radio);
  return sp_bench_settle (copy, error);
}

/* ---- sweeps ---- */

gboolean
sp_bench_check_step (SpPurpose purpose, double step_db, GError **error)
{
  return purpose != SP_PURPOSE_STEP || (isfinite (step_db) && step_db != 0)
         || sp_fail (error, SP_ERROR_USAGE,
                     _ ("a step sweep needs the dB of attenuation it has more than the keyed one; expected a number other than 0"));
}

gboolean
sp_bench_check_sweep (const SpBench *bench, guint condition, guint sweep, GError **error)
{
  return (condition < bench->n_conditions && sweep < bench->conditions[condition].n_sweeps)
         || sp_fail (error, SP_ERROR_USAGE, _ ("there is no such sweep"));
}

SpBench *
sp_bench_add_sweep (const SpBench *bench, int condition, SpPurpose purpose, SpTrace *trace, double step_db, GError **error)
{
  g_return_val_if_fail (condition < (int) bench->n_conditions, NULL);
  if (!sp_bench_check_step (purpose, step_db, error))
    return NULL;
  if (condition < 0 && purpose != SP_PURPOSE_UNKEYED) {
    sp_fail (error, SP_ERROR_USAGE, _ ("only an unkeyed sweep stands for all radios; expected a radio for this one"));
    return NULL;
  }
  SpBench *copy = sp_bench_copy (bench, 0);
  if (condition < 0) {
    g_clear_pointer (&copy->unkeyed, sp_trace_unref);
    copy->unkeyed = sp_trace_ref (trace);
  } else
    sp_condition_add_sweep (&copy->conditions[condition], purpose, sp_trace_ref (trace), NULL, purpose == SP_PURPOSE_STEP ? step_db : NAN);
  return sp_bench_settle (copy, error);
}

SpBench *
sp_bench_remove_sweep (const SpBench *bench, int condition, guint sweep, GError **error)
{
  if (condition < 0 ? !bench->unkeyed && !sp_fail (error, SP_ERROR_USAGE, _ ("there is no such sweep"))
                    : !sp_bench_check_sweep (bench, condition, sweep, error))
    return NULL;
  SpBench *copy = sp_bench_copy (bench, 0);
  if (condition < 0) {
    g_clear_pointer (&copy->unkeyed, sp_trace_unref);
    return sp_bench_settle (copy, error);
  }
  SpCondition *changed = &copy->conditions[condition];
  sp_trace_unref (changed->sweeps[sweep].trace);
  g_clear_pointer (&changed->sweeps[sweep].chain, sp_chain_unref);
  changed->n_sweeps--;
  memmove (&changed->sweeps[sweep], &changed->sweeps[sweep + 1], (changed->n_sweeps - sweep) * sizeof *changed->sweeps);
  return sp_bench_settle (copy, error);
}

SpBench *
sp_bench_set_purpose (const SpBench *bench, guint condition, guint sweep, SpPurpose purpose, double step_db, GError **error)
{
  if (!sp_bench_check_sweep (bench, condition, sweep, error) || !sp_bench_check_step (purpose, step_db, error))
    return NULL;
  SpBench *copy = sp_bench_copy (bench, 0);
  SpSweep *changed = &copy->conditions[condition].sweeps[sweep];
  if (changed->purpose != purpose) /* step_chain and notched_chain belong to their purpose */
    g_clear_pointer (&changed->chain, sp_chain_unref);
  changed->purpose = purpose;
  changed->step_db = purpose == SP_PURPOSE_STEP ? step_db : NAN;
  return sp_bench_settle (copy, error);
}

SpBench *
sp_bench_reread_sweep (const SpBench *bench, guint condition, guint sweep, const char *options, GError **error)
{
  if (!sp_bench_check_sweep (bench, condition, sweep, error))
    return NULL;
  const SpTrace *old = bench->conditions[condition].sweeps[sweep].trace;
  g_autofree char *reference = g_strconcat ("-?", options ? options : "", NULL), *name = NULL;
  SpTraceOptions given;
  GError *cause = NULL;
  SpTrace *trace = NULL;
  sp_trace_options_init (&given);
  if (!old->raw)
    sp_fail (&cause, SP_ERROR_USAGE, _ ("%s: its bytes are not there to be read again"), old->file);
  else if (sp_trace_options_parse (reference, &name, &given, &cause))
    trace = sp_trace_read_bytes (old->raw, old->file, &given, &cause);
  else if (g_str_has_prefix (cause->message, "-: "))
    memmove (cause->message, cause->message + 3, strlen (cause->message) - 2);
  sp_trace_options_clear (&given);
  if (!trace) {
    g_propagate_error (error, cause);
    return NULL;
  }
  SpBench *copy = sp_bench_copy (bench, 0);
  SpSweep *changed = &copy->conditions[condition].sweeps[sweep];
  sp_trace_unref (changed->trace);
  changed->trace = trace;
  return sp_bench_settle (copy, error);
}
