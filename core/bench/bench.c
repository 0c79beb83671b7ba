/* bench.c - the bench as a value: making, copying and sharing it, its warnings */
#include "core/bench/build.h"

#include <math.h>
#include <string.h>

#define BANDWIDTH_ASSUMED_HZ 16000.0 /* a narrow voice channel's (16K0F3E); common practice, no source, and said */

static gpointer
ref_chain (SpChain *chain)
{
  return chain ? sp_chain_ref (chain) : NULL;
}

static gpointer
ref_analyzer (SpAnalyzer *analyzer)
{
  return analyzer ? sp_analyzer_ref (analyzer) : NULL;
}

static gpointer
ref_mask (SpMask *mask)
{
  return mask ? sp_mask_ref (mask) : NULL;
}

SpBench *
sp_bench_new (guint n)
{
  SpBench *bench = g_atomic_rc_box_new0 (SpBench);
  sp_keys_init (sp_bench_keys, bench);
  bench->date_day = NAN;
  bench->radios = g_new0 (SpRadio, n);
  bench->conditions = g_new0 (SpCondition, n);
  bench->sheet_warnings = sp_reasons_new ();
  bench->warnings = sp_reasons_new ();
  return bench;
}

SpRadio *
sp_bench_add_radio (SpBench *bench, char *name)
{
  SpRadio *radio = &bench->radios[bench->n_radios++];
  *radio = (SpRadio){ .name = name };
  sp_keys_init (sp_radio_keys, radio);
  return radio;
}

SpCondition *
sp_bench_add_condition (SpBench *bench, guint radio, char *name)
{
  SpCondition *condition = &bench->conditions[bench->n_conditions++];
  *condition = (SpCondition){ .name = name, .radio = radio };
  sp_keys_init (sp_condition_keys, condition);
  return condition;
}

void
sp_condition_add_sweep (SpCondition *condition, SpPurpose purpose, SpTrace *trace, SpChain *chain, double step_db)
{
  GPtrArray *stretches = sp_trace_stretches (trace);
  guint n = stretches ? stretches->len : 1;
  condition->sweeps = g_renew (SpSweep, condition->sweeps, condition->n_sweeps + n);
  for (guint i = 0; i < n; i++) {
    SpTrace *one = sp_trace_ref (stretches ? stretches->pdata[i] : trace);
    condition->sweeps[condition->n_sweeps++] = (SpSweep){ purpose, one, chain ? sp_chain_ref (chain) : NULL, step_db };
  }
  sp_trace_unref (trace);
  g_clear_pointer (&chain, sp_chain_unref);
}

void
sp_condition_clear (SpCondition *condition)
{
  for (guint i = 0; i < condition->n_sweeps; i++) {
    sp_trace_unref (condition->sweeps[i].trace);
    g_clear_pointer (&condition->sweeps[i].chain, sp_chain_unref);
  }
  sp_keys_free_texts (sp_condition_keys, condition);
  g_free (condition->sweeps);
  g_free (condition->name);
  g_free (condition->unknown);
  g_clear_pointer (&condition->clocks_hz, g_array_unref);
  g_clear_pointer (&condition->pinned, g_array_unref);
  g_clear_pointer (&condition->fields, g_array_unref);
  g_clear_pointer (&condition->chain, sp_chain_unref);
  g_clear_pointer (&condition->analyzer, sp_analyzer_unref);
  g_clear_pointer (&condition->mask, sp_mask_unref);
  g_clear_pointer (&condition->second_mask, sp_mask_unref);
}

void
sp_radio_clear (SpRadio *radio)
{
  sp_keys_free_texts (sp_radio_keys, radio);
  g_clear_pointer (&radio->fields, g_array_unref);
  g_clear_pointer (&radio->pictures, g_array_unref);
  g_free (radio->name);
  g_free (radio->unknown);
}

static void
clear (gpointer data)
{
  SpBench *bench = data;
  for (guint i = 0; i < bench->n_conditions; i++)
    sp_condition_clear (&bench->conditions[i]);
  for (guint i = 0; i < bench->n_radios; i++)
    sp_radio_clear (&bench->radios[i]);
  char *texts[] = { bench->date, bench->file, bench->sha256, bench->unknown, bench->unknown_groups };
  sp_keys_free_texts (sp_bench_keys, bench);
  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    g_free (texts[i]);
  g_free (bench->conditions);
  g_free (bench->radios);
  g_clear_pointer (&bench->pads, g_array_unref);
  g_clear_pointer (&bench->chain, sp_chain_unref);
  g_clear_pointer (&bench->analyzer, sp_analyzer_unref);
  g_clear_pointer (&bench->mask, sp_mask_unref);
  g_clear_pointer (&bench->second_mask, sp_mask_unref);
  g_clear_pointer (&bench->unkeyed, sp_trace_unref);
  g_clear_pointer (&bench->document, sp_document_unref);
  g_clear_pointer (&bench->letterhead, sp_picture_unref);
  g_clear_pointer (&bench->pictures, g_array_unref);
  g_clear_pointer (&bench->sheet_warnings, g_ptr_array_unref);
  g_clear_pointer (&bench->warnings, g_ptr_array_unref);
}

SpBench *
sp_bench_ref (const SpBench *bench)
{
  return g_atomic_rc_box_acquire ((SpBench *) bench);
}

void
sp_bench_unref (SpBench *bench)
{
  g_atomic_rc_box_release_full (bench, clear);
}

const SpPicture *
sp_bench_letterhead (const SpBench *bench)
{
  return bench->document && bench->document->letterhead ? bench->document->letterhead : bench->letterhead;
}

/* ---- resources ---- */

gpointer
sp_resource_ref (SpResourceKind kind, gpointer resource)
{
  switch (kind) {
  case SP_RESOURCE_CHAIN: return sp_chain_ref (resource);
  case SP_RESOURCE_ANALYZER: return sp_analyzer_ref (resource);
  case SP_RESOURCE_MASK: return sp_mask_ref (resource);
  case SP_RESOURCE_TRACE: return sp_trace_ref (resource);
  case SP_RESOURCE_DOCUMENT: return sp_document_ref (resource);
  case SP_RESOURCE_PICTURE: return sp_picture_ref (resource);
  case SP_RESOURCE_KINDS: break;
  }
  g_return_val_if_reached (NULL);
}

void
sp_resource_unref (SpResourceKind kind, gpointer resource)
{
  switch (kind) {
  case SP_RESOURCE_CHAIN: sp_chain_unref (resource); return;
  case SP_RESOURCE_ANALYZER: sp_analyzer_unref (resource); return;
  case SP_RESOURCE_MASK: sp_mask_unref (resource); return;
  case SP_RESOURCE_TRACE: sp_trace_unref (resource); return;
  case SP_RESOURCE_DOCUMENT: sp_document_unref (resource); return;
  case SP_RESOURCE_PICTURE: sp_picture_unref (resource); return;
  case SP_RESOURCE_KINDS: break;
  }
  g_return_if_reached ();
}

gpointer
sp_resource_read (SpResourceKind kind, const char *path, GError **error)
{
  switch (kind) {
  case SP_RESOURCE_CHAIN: return sp_chain_read (path, error);
  case SP_RESOURCE_ANALYZER: return sp_analyzer_read (path, error);
  case SP_RESOURCE_MASK: return sp_mask_load (path, error);
  case SP_RESOURCE_DOCUMENT: return sp_document_read (path, error);
  default: g_return_val_if_reached (NULL);
  }
}

/* ---- the check source ---- */

double
sp_bench_drift_db (const SpBench *bench)
{
  return bench->check_after_dbm - bench->check_before_dbm;
}

double
sp_bench_drift_u_db (const SpBench *bench)
{
  double drift_db = sp_bench_drift_db (bench);
  return isnan (drift_db) ? 0 : fabs (drift_db) / sqrt (3);
}

/* ---- warnings ---- */

static void
warnings_of_resources (const SpBench *bench, const SpChain *chain, const SpAnalyzer *analyzer, const SpMask *const masks[2])
{
  sp_bench_warn_chain (bench, chain);
  if (analyzer)
    sp_bench_warn_analyzer (bench, analyzer);
  for (guint i = 0; i < 2; i++)
    if (masks[i])
      sp_reasons_extend (bench->warnings, masks[i]->warnings);
}

void
sp_bench_collect_warnings (SpBench *bench)
{
  sp_reasons_extend (bench->warnings, bench->sheet_warnings);
  warnings_of_resources (bench, bench->chain, bench->analyzer, (const SpMask *[]){ bench->mask, bench->second_mask });
  if (bench->unkeyed)
    sp_reasons_extend (bench->warnings, bench->unkeyed->warnings);
  if (bench->document)
    sp_reasons_extend (bench->warnings, bench->document->warnings);
  for (guint i = 0; i < bench->n_conditions; i++) {
    const SpCondition *condition = &bench->conditions[i];
    warnings_of_resources (bench, condition->chain, condition->analyzer, (const SpMask *[]){ condition->mask, condition->second_mask });
    for (guint k = 0; k < condition->n_sweeps; k++) {
      sp_reasons_extend (bench->warnings, condition->sweeps[k].trace->warnings);
      sp_bench_warn_chain (bench, condition->sweeps[k].chain);
    }
  }
}

/* ---- copies ---- */

void
sp_condition_copy (SpCondition *to, const SpCondition *from)
{
  *to = *from;
  sp_keys_copy_texts (sp_condition_keys, to);
  to->name = g_strdup (from->name);
  to->unknown = g_strdup (from->unknown);
  to->clocks_hz = from->clocks_hz ? g_array_ref (from->clocks_hz) : NULL;
  to->pinned = from->pinned ? g_array_ref (from->pinned) : NULL;
  to->fields = from->fields ? g_array_ref (from->fields) : NULL;
  to->chain = ref_chain (from->chain);
  to->analyzer = ref_analyzer (from->analyzer);
  to->mask = ref_mask (from->mask);
  to->second_mask = ref_mask (from->second_mask);
  to->sweeps = g_memdup2 (from->sweeps, from->n_sweeps * sizeof *from->sweeps);
  for (guint i = 0; i < to->n_sweeps; i++) {
    sp_trace_ref (to->sweeps[i].trace);
    to->sweeps[i].chain = ref_chain (to->sweeps[i].chain);
  }
}

void
sp_radio_copy (SpRadio *to, const SpRadio *from)
{
  *to = *from;
  sp_keys_copy_texts (sp_radio_keys, to);
  to->name = g_strdup (from->name);
  to->fields = from->fields ? g_array_ref (from->fields) : NULL;
  to->pictures = from->pictures ? g_array_ref (from->pictures) : NULL;
  to->unknown = g_strdup (from->unknown);
}

SpBench *
sp_bench_copy (const SpBench *bench, guint more)
{
  SpBench *copy = g_atomic_rc_box_new0 (SpBench);
  *copy = *bench;
  sp_keys_copy_texts (sp_bench_keys, copy);
  copy->date = g_strdup (bench->date);
  copy->file = g_strdup (bench->file);
  copy->unknown = g_strdup (bench->unknown);
  copy->unknown_groups = g_strdup (bench->unknown_groups);
  copy->pads = bench->pads ? g_array_ref (bench->pads) : NULL;
  copy->chain = ref_chain (bench->chain);
  copy->analyzer = ref_analyzer (bench->analyzer);
  copy->mask = ref_mask (bench->mask);
  copy->second_mask = ref_mask (bench->second_mask);
  copy->unkeyed = bench->unkeyed ? sp_trace_ref (bench->unkeyed) : NULL;
  copy->document = bench->document ? sp_document_ref (bench->document) : NULL;
  copy->letterhead = bench->letterhead ? sp_picture_ref (bench->letterhead) : NULL;
  copy->pictures = bench->pictures ? g_array_ref (bench->pictures) : NULL;
  copy->radios = g_new0 (SpRadio, bench->n_radios + more);
  copy->conditions = g_new0 (SpCondition, bench->n_conditions + more);
  for (guint i = 0; i < bench->n_radios; i++)
    sp_radio_copy (&copy->radios[i], &bench->radios[i]);
  for (guint i = 0; i < bench->n_conditions; i++)
    sp_condition_copy (&copy->conditions[i], &bench->conditions[i]);
  copy->sheet_warnings = g_ptr_array_ref (bench->sheet_warnings);
  copy->warnings = sp_reasons_new ();
  copy->sha256 = NULL;
  return copy;
}

/* ---- what counts for a condition ---- */

SpChain *
sp_condition_chain (const SpBench *bench, const SpCondition *condition)
{
  return condition->chain ? condition->chain : bench->chain;
}

SpAnalyzer *
sp_condition_analyzer (const SpBench *bench, const SpCondition *condition)
{
  return condition->analyzer ? condition->analyzer : bench->analyzer;
}

SpMask *
sp_condition_mask (const SpBench *bench, const SpCondition *condition)
{
  return condition->mask ? condition->mask : bench->mask;
}

SpMask *
sp_condition_second_mask (const SpBench *bench, const SpCondition *condition)
{
  return condition->second_mask ? condition->second_mask : bench->second_mask;
}

static void
add_chain (GPtrArray *chains, const SpChain *chain)
{
  if (chain && !g_ptr_array_find (chains, chain, NULL))
    g_ptr_array_add (chains, (gpointer) chain);
}

GPtrArray *
sp_bench_chains (const SpBench *bench, int radio)
{
  GPtrArray *chains = g_ptr_array_new ();
  for (guint i = 0; i < bench->n_conditions; i++) {
    const SpCondition *condition = &bench->conditions[i];
    if (radio >= 0 && condition->radio != (guint) radio)
      continue;
    add_chain (chains, sp_condition_chain (bench, condition));
    for (guint k = 0; k < condition->n_sweeps; k++)
      add_chain (chains, condition->sweeps[k].chain);
  }
  return chains;
}

SpBench *
sp_bench_second (const SpBench *bench)
{
  gboolean any = FALSE;
  for (guint i = 0; i < bench->n_conditions; i++)
    any |= sp_condition_second_mask (bench, &bench->conditions[i]) != NULL;
  if (!any)
    return NULL;
  SpBench *copy = sp_bench_copy (bench, 0);
  for (guint i = 0; i < copy->n_conditions; i++) {
    SpCondition *condition = &copy->conditions[i];
    SpMask *second = ref_mask (sp_condition_second_mask (bench, condition));
    g_clear_pointer (&condition->second_mask, sp_mask_unref);
    if (second)
      g_clear_pointer (&condition->mask, sp_mask_unref);
    condition->mask = second ? second : condition->mask;
  }
  g_clear_pointer (&copy->second_mask, sp_mask_unref);
  return copy;
}

SpTrace *
sp_condition_unkeyed (const SpBench *bench, const SpCondition *condition)
{
  for (guint i = 0; i < condition->n_sweeps; i++)
    if (condition->sweeps[i].purpose == SP_PURPOSE_UNKEYED)
      return condition->sweeps[i].trace;
  return bench->unkeyed;
}

SpModulation
sp_condition_modulation (const SpBench *bench, const SpCondition *condition)
{
  return condition->modulation == SP_MODULATION_NOT_STATED ? bench->modulation : condition->modulation;
}

gboolean
sp_condition_folds (const SpBench *bench, const SpCondition *condition)
{
  static const char *const of_amplitude[] = { "CW", "AM", "A1A", "A2A", "A3E", "N0N" };
  for (guint i = 0; condition->mode && i < G_N_ELEMENTS (of_amplitude); i++)
    if (g_ascii_strcasecmp (condition->mode, of_amplitude[i]) == 0)
      return FALSE;
  return sp_condition_modulation (bench, condition) != SP_MODULATION_KEYING;
}

double
sp_condition_signal_hz (const SpBench *bench, const SpCondition *condition, double necessary_bandwidth_hz)
{
  double carson = 2 * (condition->deviation_hz + condition->tone_hz);
  if (sp_condition_modulation (bench, condition) == SP_MODULATION_NONE)
    return 0;
  return isnan (carson) ? necessary_bandwidth_hz : carson;
}

double
sp_condition_bandwidth_hz (const SpBench *bench, const SpCondition *condition, gboolean *assumed)
{
  double stated_hz = condition->necessary_bandwidth_hz, common_hz = bench->necessary_bandwidth_hz;
  *assumed = isnan (stated_hz) && isnan (common_hz);
  return *assumed ? BANDWIDTH_ASSUMED_HZ : isnan (stated_hz) ? common_hz : stated_hz;
}

char *
sp_condition_name (const SpBench *bench, const SpCondition *condition)
{
  guint siblings = 0;
  for (guint i = 0; i < bench->n_conditions; i++)
    siblings += bench->conditions[i].radio == condition->radio;
  const char *radio = bench->radios[condition->radio].name;
  return siblings > 1 ? g_strconcat (radio, "/", condition->name, NULL) : g_strdup (radio);
}

gboolean
sp_purpose_has_chain (SpPurpose purpose)
{
  return purpose == SP_PURPOSE_STEP || purpose == SP_PURPOSE_NOTCHED;
}

const char *
sp_purpose_name (SpPurpose purpose)
{
  static const char *const names[] = { "keyed", "unkeyed", "step", "notched", "superseded" };
  return names[purpose];
}

const char *const sp_modulation_names[] = { "not stated", "none", "tone", "noise", "speech", "keying", NULL };

const char *
sp_modulation_name (SpModulation modulation)
{
  return modulation == SP_MODULATION_NOT_STATED ? NULL : sp_modulation_names[modulation];
}
