/* sheet-text.c - writes a bench as its sheet, and as what its hash is made of */
#include "core/bench/sheet/sheet-private.h"

#include <math.h>
#include <string.h>

#include "core/quantity/text.h"
#include "core/quantity/writer.h"

char *
sp_radio_heading (const SpRadio *radio)
{
  g_autofree char *name = sp_escape_heading (radio->name);
  return g_strconcat ("radio ", name, NULL);
}

char *
sp_condition_heading (const SpBench *bench, const SpCondition *condition)
{
  g_autofree char *radio = sp_escape_heading (bench->radios[condition->radio].name), *name = sp_escape_heading (condition->name);
  return g_strconcat ("condition ", radio, "/", name, NULL);
}

static void
put_unknown (const SpSheetWriter *writer, const char *lines)
{
  if (lines)
    g_string_append (writer->text, lines);
}

static char *
resource_name (const SpSheetWriter *writer, SpResourceKind kind, gconstpointer resource)
{
  g_autofree char *name = writer->name (writer->data, kind, resource);
  return sp_escape (name);
}

static const char *
resource_hash (SpResourceKind kind, gconstpointer resource)
{
  switch (kind) {
  case SP_RESOURCE_CHAIN: return ((const SpChain *) resource)->sha256;
  case SP_RESOURCE_ANALYZER: return ((const SpAnalyzer *) resource)->sha256;
  case SP_RESOURCE_MASK: return ((const SpMask *) resource)->sha256;
  default: g_return_val_if_reached (NULL);
  }
}

static void
put_resource (const SpSheetWriter *writer, const char *key, SpResourceKind kind, gconstpointer resource)
{
  g_autofree char *value = !resource        ? NULL
                           : writer->hashed ? g_strdup (resource_hash (kind, resource))
                                            : resource_name (writer, kind, resource);
  sp_write_text (writer->text, key, value);
}

void
sp_sheet_write_resource (const SpKeySpec *spec, G_GNUC_UNUSED GString *text, gconstpointer object, gconstpointer context)
{
  put_resource (context, spec->key, GPOINTER_TO_INT (spec->format), *(gconstpointer const *) sp_key_member (spec, object));
}

static void
append_trace (const SpSheetWriter *writer, GString *value, const SpTrace *trace)
{
  g_autofree char *name = resource_name (writer, SP_RESOURCE_TRACE, trace);
  gboolean options = trace->options && *trace->options;
  g_string_append_printf (value, "%s%s%s%s", value->len ? ";" : "", name, options ? "?" : "", options ? trace->options : "");
}

/* All sweeps of one purpose: one key, and the chain they have in common. */
static void
put_purpose (const SpSheetWriter *writer, const SpCondition *condition, SpPurpose purpose)
{
  g_autoptr (GString) value = g_string_new (NULL);
  const SpChain *chain = NULL;
  char digits[32];
  for (guint i = 0; i < condition->n_sweeps; i++) {
    const SpSweep *sweep = &condition->sweeps[i];
    if (sweep->purpose != purpose)
      continue;
    append_trace (writer, value, sweep->trace);
    if (purpose == SP_PURPOSE_STEP)
      g_string_append_printf (value, " %s", sp_format_exact (sweep->step_db, digits));
    chain = chain ? chain : sweep->chain;
  }
  sp_write_text (writer->text, sp_purpose_name (purpose), value->str);
  if (sp_purpose_has_chain (purpose))
    put_resource (writer, purpose == SP_PURPOSE_STEP ? "step_chain" : "notched_chain", SP_RESOURCE_CHAIN, chain);
}

/* The purposes in the order in which they first occur. */
static void
put_sweeps (const SpSheetWriter *writer, const SpCondition *condition)
{
  guint written = 0;
  for (guint i = 0; i < condition->n_sweeps; i++) {
    SpPurpose purpose = condition->sweeps[i].purpose;
    if (!(written & 1u << purpose))
      put_purpose (writer, condition, purpose);
    written |= 1u << purpose;
  }
}

static void
hash_trace (const SpSheetWriter *writer, const char *key, const SpTrace *trace)
{
  g_string_append_printf (writer->text, "%s=%s?%s\n", key, sp_trace_sha256 (trace), trace->options);
}

static void
hash_sweeps (const SpSheetWriter *writer, const SpCondition *condition)
{
  for (guint i = 0; i < condition->n_sweeps; i++) {
    const SpSweep *sweep = &condition->sweeps[i];
    hash_trace (writer, sp_purpose_name (sweep->purpose), sweep->trace);
    sp_write_number (writer->text, "step_db", sweep->step_db);
    put_resource (writer, "sweep_chain", SP_RESOURCE_CHAIN, sweep->chain);
  }
}

void
sp_sheet_write_sweeps (G_GNUC_UNUSED const SpKeySpec *spec, G_GNUC_UNUSED GString *text, gconstpointer object, gconstpointer context)
{
  const SpSheetWriter *writer = context;
  if (writer->hashed)
    hash_sweeps (writer, object);
  else
    put_sweeps (writer, object);
}

void
sp_sheet_write_unkeyed (const SpKeySpec *spec, GString *text, gconstpointer object, gconstpointer context)
{
  const SpSheetWriter *writer = context;
  const SpBench *bench = object;
  if (!bench->unkeyed)
    return;
  if (writer->hashed) {
    hash_trace (writer, spec->key, bench->unkeyed);
    return;
  }
  g_autoptr (GString) value = g_string_new (NULL);
  append_trace (writer, value, bench->unkeyed);
  sp_write_text (text, spec->key, value->str);
}

static void
put_radio (const SpSheetWriter *writer, const SpRadio *radio)
{
  g_autofree char *heading = sp_radio_heading (radio);
  sp_write_group (writer->text, heading);
  sp_keys_write (sp_radio_keys, writer->text, radio, writer);
  put_unknown (writer, radio->unknown);
}

/* TRUE where the radio's own group can hold the condition's keys. Unknown ones, and fields, would become the radio's. */
static gboolean
is_alone (const SpSheetWriter *writer, const SpCondition *condition)
{
  guint siblings = 0;
  for (guint i = 0; i < writer->bench->n_conditions; i++)
    siblings += writer->bench->conditions[i].radio == condition->radio;
  return !writer->apart && siblings == 1 && !*condition->name && !condition->unknown && !condition->fields;
}

/* The sheet's order of conditions is that of their groups: radios stand as late as they may. */
static void
put_conditions (const SpSheetWriter *writer)
{
  const SpBench *bench = writer->bench;
  guint next_radio = 0;
  for (guint i = 0; i < bench->n_conditions; i++) {
    const SpCondition *condition = &bench->conditions[i];
    gboolean own = condition->radio >= next_radio && is_alone (writer, condition);
    while (next_radio <= condition->radio)
      put_radio (writer, &bench->radios[next_radio++]);
    if (!own) {
      g_autofree char *heading = sp_condition_heading (bench, condition);
      sp_write_group (writer->text, heading);
    }
    sp_keys_write (sp_condition_keys, writer->text, condition, writer);
    put_unknown (writer, condition->unknown);
  }
}

static void
put_bench (const SpSheetWriter *writer)
{
  sp_write_group (writer->text, "bench");
  sp_keys_write (sp_bench_keys, writer->text, writer->bench, writer);
  put_unknown (writer, writer->bench->unknown);
}

char *
sp_bench_write (const SpBench *bench, gboolean apart, SpResourceName name, gpointer data)
{
  SpSheetWriter writer = { g_string_new (NULL), bench, FALSE, apart, name, data };
  put_bench (&writer);
  put_conditions (&writer);
  if (bench->unknown_groups)
    g_string_append_printf (writer.text, "\n%s", bench->unknown_groups);
  return g_string_free (writer.text, FALSE);
}

char *
sp_bench_sheet_text (const SpBench *bench, SpResourceName name, gpointer data)
{
  return sp_bench_write (bench, FALSE, name, data);
}

static char *
hash (const SpBench *bench)
{
  g_autoptr (GString) text = g_string_new (NULL);
  SpSheetWriter writer = { .text = text, .bench = bench, .hashed = TRUE };
  sp_write_group (text, "bench");
  sp_keys_hash (sp_bench_keys, text, bench, &writer);
  for (guint i = 0; i < bench->n_conditions; i++) {
    const SpCondition *condition = &bench->conditions[i];
    const SpRadio *radio = &bench->radios[condition->radio];
    sp_write_group (text, "condition");
    sp_write_text (text, "radio", radio->name);
    sp_write_text (text, "name", condition->name);
    sp_keys_hash (sp_radio_keys, text, radio, &writer);
    sp_keys_hash (sp_condition_keys, text, condition, &writer);
  }
  return g_compute_checksum_for_string (G_CHECKSUM_SHA256, text->str, text->len);
}

void
sp_bench_finish (SpBench *bench)
{
  sp_bench_collect_warnings (bench);
  bench->sha256 = hash (bench);
}
