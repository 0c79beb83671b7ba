/* listed.c - the evening's list, or an earlier bench's radios, put on the bench */
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/bench/edit/edit.h"
#include "core/bench/edit/settle.h"
#include "core/bench/proposals/list.h"
#include "core/bench/proposals/proposals-private.h"
#include "core/quantity/error.h"
#include "core/quantity/text.h"

static gboolean
same_name (const char *a, const char *b)
{
  g_autofree char *one = sp_proposal_fold (a), *other = sp_proposal_fold (b);
  return *one ? g_str_equal (one, other) : g_str_equal (a, b);
}

static guint
radio_named (const SpBench *bench, const char *name)
{
  for (guint i = 0; i < bench->n_radios; i++)
    if (same_name (bench->radios[i].name, name))
      return i;
  return bench->n_radios;
}

/* NULL */
static SpCondition *
condition_named (const SpBench *bench, guint radio, const char *name)
{
  for (guint i = 0; i < bench->n_conditions; i++)
    if (bench->conditions[i].radio == radio && same_name (bench->conditions[i].name, name))
      return &bench->conditions[i];
  return NULL;
}

static void
make_condition (SpBench *copy, guint radio, const char *name)
{
  SpCondition *nameless = condition_named (copy, radio, "");
  if (condition_named (copy, radio, name))
    return;
  if (!nameless || nameless->n_sweeps > 0) {
    sp_bench_add_condition_behind (copy, radio, g_strdup (name));
    return;
  }
  g_free (nameless->name);
  nameless->name = g_strdup (name);
}

static void
make_row (SpBench *copy, const SpListRow *row)
{
  guint radio = radio_named (copy, row->radio);
  if (radio == copy->n_radios) {
    sp_bench_add_radio (copy, g_strdup (row->radio));
    sp_bench_add_condition (copy, radio, g_strdup (""));
  }
  for (guint k = 0; k < row->conditions->len; k++)
    make_condition (copy, radio, row->conditions->pdata[k]);
}

/* Cells, and the values that their numbers are spelled in. */
typedef struct {
  GArray *cells;
  GStringChunk *texts;
} Cells;

static void
add_cell (const Cells *cells, gboolean of_radio, guint index, const char *key, const char *value)
{
  SpKeyValue cell = { of_radio, index, key, value };
  g_array_append_val (cells->cells, cell);
}

static void
add_number (const Cells *cells, guint index, const char *key, double number)
{
  char digits[32];
  if (number > 0)
    add_cell (cells, FALSE, index, key, g_string_chunk_insert (cells->texts, sp_format_exact (number, digits)));
}

/* What the condition's own name tells, where nobody has said it. */
static void
tell (const Cells *cells, const SpCondition *condition, guint index)
{
  SpProposal said = { 0 };
  sp_proposal_tell (condition->name, &said);
  if (isnan (condition->rated_w))
    add_number (cells, index, "rated_w", said.rated_w);
  if (isnan (condition->fundamental_hz))
    add_number (cells, index, "fundamental", said.fundamental_hz);
  if (said.mode && !condition->mode)
    add_cell (cells, FALSE, index, "mode", g_string_chunk_insert (cells->texts, said.mode));
  sp_proposal_clear (&said);
}

static gboolean
is_listed (const SpListRow *row, const SpCondition *condition)
{
  for (guint k = 0; k < row->conditions->len; k++)
    if (same_name (row->conditions->pdata[k], condition->name))
      return TRUE;
  return row->conditions->len == 0;
}

static void
fill_row (const SpBench *bench, const SpListRow *row, const Cells *cells)
{
  guint radio = radio_named (bench, row->radio);
  for (guint i = 0; i < bench->n_conditions; i++) {
    if (bench->conditions[i].radio != radio || !is_listed (row, &bench->conditions[i]))
      continue;
    tell (cells, &bench->conditions[i], i);
    for (guint k = 0; k < row->values->len; k++) {
      const SpListValue *value = row->values->pdata[k];
      if (!value->of_radio)
        add_cell (cells, FALSE, i, value->key, value->value); /* behind what its name tells: the later one stands */
    }
  }
  for (guint k = 0; k < row->values->len; k++) {
    const SpListValue *value = row->values->pdata[k];
    if (value->of_radio)
      add_cell (cells, TRUE, radio, value->key, value->value);
  }
}

static guint
rooms (const SpList *list)
{
  guint n = 0;
  for (guint i = 0; i < list->rows->len; i++)
    n += 1 + ((const SpListRow *) list->rows->pdata[i])->conditions->len;
  return n;
}

SpBench *
sp_bench_with_list (const SpBench *bench, const SpList *list, GError **error)
{
  for (guint i = 0; i < list->rows->len; i++) {
    const SpListRow *row = list->rows->pdata[i];
    if (row->wrong) {
      sp_fail (error, SP_ERROR_INPUT, "%s", row->wrong);
      return NULL;
    }
  }
  SpBench *copy = sp_bench_copy (bench, rooms (list));
  for (guint i = 0; i < list->rows->len; i++)
    make_row (copy, list->rows->pdata[i]);
  g_autoptr (SpBench) made = sp_bench_settle (copy, error);
  if (!made)
    return NULL;
  g_autoptr (GArray) cells = g_array_new (FALSE, FALSE, sizeof (SpKeyValue));
  g_autoptr (GStringChunk) texts = g_string_chunk_new (1024);
  Cells filled = { cells, texts };
  for (guint i = 0; i < list->rows->len; i++)
    fill_row (made, list->rows->pdata[i], &filled);
  return sp_bench_set_several (made, (const SpKeyValue *) (gpointer) cells->data, cells->len, NULL, error);
}

/* ---- an earlier bench's ---- */

static void
take_condition (SpBench *copy, guint radio, const SpCondition *from)
{
  SpCondition *to = sp_bench_add_condition (copy, radio, NULL);
  sp_condition_copy (to, from);
  to->radio = radio;
  for (guint i = 0; i < to->n_sweeps; i++) {
    sp_trace_unref (to->sweeps[i].trace);
    g_clear_pointer (&to->sweeps[i].chain, sp_chain_unref);
  }
  g_clear_pointer (&to->sweeps, g_free);
  to->n_sweeps = 0;
  to->meter_dbm = to->meter_u_db = NAN;
  to->meter_use = SP_METER_ANCHOR;
  g_clear_pointer (&to->pinned, g_array_unref);
  g_clear_pointer (&to->chain, sp_chain_unref);
  g_clear_pointer (&to->analyzer, sp_analyzer_unref);
}

SpBench *
sp_bench_with_radios_of (const SpBench *bench, const SpBench *earlier, GError **error)
{
  SpBench *copy = sp_bench_copy (bench, earlier->n_radios + earlier->n_conditions);
  for (guint i = 0; i < earlier->n_radios; i++) {
    guint radio = copy->n_radios;
    if (radio_named (copy, earlier->radios[i].name) < radio)
      continue;
    sp_radio_copy (&copy->radios[copy->n_radios++], &earlier->radios[i]);
    for (guint k = 0; k < earlier->n_conditions; k++)
      if (earlier->conditions[k].radio == i)
        take_condition (copy, radio, &earlier->conditions[k]);
  }
  return sp_bench_settle (copy, error);
}
