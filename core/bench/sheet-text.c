/* sheet-text.c - a bench written as its sheet */
#include "core/bench/bench-private.h"

#include <math.h>
#include <string.h>

#include "core/quantity/text.h"
#include "core/quantity/writer.h"

typedef struct {
  GString *text;
  const SpBench *bench;
  gboolean apart;
  SpPartName name;
  gpointer data;
} Writer;

/* A name in a heading: as people write it, blanks and all, but for what the reader would take for something else. */
static char *
escape_heading (const char *name)
{
  GString *out = g_string_new (NULL);
  gboolean utf8 = g_utf8_validate (name, -1, NULL);
  for (const char *p = name; *p; p++) {
    guchar byte = (guchar) *p;
    gboolean folded = byte == ' ' && (p == name || p[-1] == ' ' || !p[1]);
    if (folded || byte < ' ' || byte == 0x7f || (byte > 0x7f && !utf8) || strchr ("%#\"[]", *p))
      g_string_append_printf (out, "%%%02X", byte);
    else
      g_string_append_c (out, *p);
  }
  return g_string_free (out, FALSE);
}

char *
sp_radio_heading (const SpRadio *radio)
{
  g_autofree char *name = escape_heading (radio->name);
  return g_strconcat ("radio ", name, NULL);
}

char *
sp_condition_heading (const SpBench *bench, const SpCondition *condition)
{
  g_autofree char *radio = escape_heading (bench->radios[condition->radio].name), *name = escape_heading (condition->name);
  return g_strconcat ("condition ", radio, "/", name, NULL);
}

static void
put_unknown (Writer *writer, const char *lines)
{
  if (lines)
    g_string_append (writer->text, lines);
}

static char *
part_name (const Writer *writer, SpPartKind kind, gconstpointer part)
{
  g_autofree char *name = writer->name (writer->data, kind, part);
  return sp_escape (name);
}

static void
put_part (Writer *writer, const char *key, SpPartKind kind, gconstpointer part)
{
  g_autofree char *name = part ? part_name (writer, kind, part) : NULL;
  sp_write_text (writer->text, key, name);
}

static void
append_trace (Writer *writer, GString *value, const SpTrace *trace)
{
  g_autofree char *name = part_name (writer, SP_PART_TRACE, trace);
  gboolean options = trace->options && *trace->options;
  g_string_append_printf (value, "%s%s%s%s", value->len ? ";" : "", name, options ? "?" : "", options ? trace->options : "");
}

/* All sweeps of one purpose: one key, and the chain they have in common. */
static void
put_purpose (Writer *writer, const SpCondition *condition, SpPurpose purpose)
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
    put_part (writer, purpose == SP_PURPOSE_STEP ? "step_chain" : "notched_chain", SP_PART_CHAIN, chain);
}

/* The purposes in the order in which they first occur. */
static void
put_sweeps (Writer *writer, const SpCondition *condition)
{
  guint written = 0;
  for (guint i = 0; i < condition->n_sweeps; i++) {
    SpPurpose purpose = condition->sweeps[i].purpose;
    if (!(written & 1u << purpose))
      put_purpose (writer, condition, purpose);
    written |= 1u << purpose;
  }
}

char *
sp_condition_clocks_text (const SpCondition *condition)
{
  g_autoptr (GString) text = g_string_new (NULL);
  char digits[32];
  for (guint i = 0; condition->clocks_hz && i < condition->clocks_hz->len; i++)
    g_string_append_printf (text, "%s%s", i ? ";" : "", sp_format_exact (g_array_index (condition->clocks_hz, double, i), digits));
  return text->len ? g_strdup (text->str) : NULL;
}

char *
sp_bench_pads_text (const SpBench *bench)
{
  g_autoptr (GString) text = g_string_new (NULL);
  char loss[32], rating[32];
  for (guint i = 0; bench->pads && i < bench->pads->len; i++) {
    const SpPad *pad = &g_array_index (bench->pads, SpPad, i);
    g_string_append_printf (text, "%s%s %s", i ? "; " : "", sp_format_exact (pad->loss_db, loss), sp_format_exact (pad->rating_w, rating));
  }
  return text->len ? g_strdup (text->str) : NULL;
}

static void
put_condition_keys (Writer *writer, const SpCondition *condition)
{
  GString *text = writer->text;
  sp_write_number (text, "fundamental", condition->fundamental_hz);
  sp_write_number (text, "rated_w", condition->rated_w);
  sp_write_number (text, "meter_dbm", condition->meter_dbm);
  sp_write_number (text, "meter_u_db", condition->meter_u_db);
  if (condition->meter_use == SP_METER_CHECK)
    sp_write_text (text, "meter", "check");
  sp_write_text (text, "mode", condition->mode);
  sp_write_text (text, "modulation", sp_modulation_name (condition->modulation));
  sp_write_number (text, "tone_hz", condition->tone_hz);
  sp_write_number (text, "deviation_hz", condition->deviation_hz);
  if (condition->duty != 1)
    sp_write_number (text, "duty", condition->duty);
  sp_write_number (text, "necessary_bandwidth", condition->necessary_bandwidth_hz);
  g_autofree char *clocks = sp_condition_clocks_text (condition);
  sp_write_text (text, "clocks", clocks);
  put_part (writer, "chain", SP_PART_CHAIN, condition->chain);
  put_part (writer, "analyzer", SP_PART_ANALYZER, condition->analyzer);
  put_part (writer, "mask", SP_PART_MASK, condition->mask);
  put_sweeps (writer, condition);
  put_unknown (writer, condition->unknown);
}

static void
put_radio (Writer *writer, const SpRadio *radio)
{
  g_autofree char *heading = sp_radio_heading (radio);
  sp_write_group (writer->text, heading);
  sp_write_text (writer->text, "owner", radio->owner);
  sp_write_text (writer->text, "serial", radio->serial);
  sp_write_day (writer->text, "installed", radio->installed_day);
  sp_write_number (writer->text, "longest_key_down_s", radio->longest_key_down_s);
  sp_write_text (writer->text, "note", radio->note);
  put_unknown (writer, radio->unknown);
}

/* TRUE where the radio's own group can hold the condition's keys. Unknown ones would become the radio's. */
static gboolean
is_alone (const Writer *writer, const SpCondition *condition)
{
  guint siblings = 0;
  for (guint i = 0; i < writer->bench->n_conditions; i++)
    siblings += writer->bench->conditions[i].radio == condition->radio;
  return !writer->apart && siblings == 1 && !*condition->name && !condition->unknown;
}

/* The sheet's order of conditions is that of their groups: radios stand as late as they may. */
static void
put_conditions (Writer *writer)
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
    put_condition_keys (writer, condition);
  }
}

static void
put_bench (Writer *writer)
{
  const SpBench *bench = writer->bench;
  GString *text = writer->text;
  sp_write_group (text, "bench");
  sp_write_text (text, "title", bench->title);
  sp_write_text (text, "date", bench->date);
  sp_write_text (text, "operator", bench->operator_name);
  sp_write_text (text, "place", bench->place);
  sp_write_text (text, "note", bench->note);
  put_part (writer, "chain", SP_PART_CHAIN, bench->chain);
  put_part (writer, "analyzer", SP_PART_ANALYZER, bench->analyzer);
  put_part (writer, "mask", SP_PART_MASK, bench->mask);
  sp_write_text (text, "rule", sp_decision_rule_name (bench->rule));
  sp_write_text (text, "modulation", sp_modulation_name (bench->modulation));
  sp_write_number (text, "temperature_c", bench->temperature_c);
  sp_write_number (text, "necessary_bandwidth", bench->necessary_bandwidth_hz);
  if (bench->unkeyed) {
    g_autoptr (GString) value = g_string_new (NULL);
    append_trace (writer, value, bench->unkeyed);
    sp_write_text (text, "unkeyed", value->str);
  }
  sp_write_number (text, "radio_vswr", bench->radio_vswr);
  if (!isinf (bench->radio_harmonic_vswr)) /* infinite where the sheet says nothing */
    sp_write_number (text, "radio_harmonic_vswr", bench->radio_harmonic_vswr);
  sp_write_number (text, "check_before_dbm", bench->check_before_dbm);
  sp_write_number (text, "check_after_dbm", bench->check_after_dbm);
  g_autofree char *pads = sp_bench_pads_text (bench);
  sp_write_text (text, "pads_at_hand", pads);
  put_unknown (writer, bench->unknown);
}

char *
sp_bench_write (const SpBench *bench, gboolean apart, SpPartName name, gpointer data)
{
  Writer writer = { g_string_new (NULL), bench, apart, name, data };
  put_bench (&writer);
  put_conditions (&writer);
  if (bench->unknown_groups)
    g_string_append_printf (writer.text, "\n%s", bench->unknown_groups);
  return g_string_free (writer.text, FALSE);
}

char *
sp_bench_sheet_text (const SpBench *bench, SpPartName name, gpointer data)
{
  return sp_bench_write (bench, FALSE, name, data);
}
