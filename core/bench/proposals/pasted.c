/* pasted.c - the order of the table of conditions, and lines pasted into it */
#include "core/bench/proposals/pasted.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/bench/edit/edit.h"
#include "core/quantity/error.h"
#include "core/quantity/typed.h"
#include "core/trace/text/fields.h"

#define NAME "pasted"

/* ---- order ---- */

/* What is not known is greater than all. */
static int
by_number (double a, double b)
{
  if (isnan (a) || isnan (b))
    return (isnan (a) != 0) - (isnan (b) != 0);
  return (a > b) - (a < b);
}

static int
by_place (gconstpointer a, gconstpointer b, gpointer data)
{
  const SpBench *bench = data;
  guint i = *(const guint *) a, k = *(const guint *) b;
  const SpCondition *one = &bench->conditions[i], *other = &bench->conditions[k];
  int order = one->radio == other->radio ? 0 : g_utf8_collate (bench->radios[one->radio].name, bench->radios[other->radio].name);
  if (order == 0)
    order = by_number (one->fundamental_hz, other->fundamental_hz);
  if (order == 0)
    order = by_number (one->rated_w, other->rated_w);
  return order ? order : (i > k) - (i < k);
}

guint *
sp_bench_table_order (const SpBench *bench)
{
  guint *order = g_new (guint, bench->n_conditions + 1);
  for (guint i = 0; i < bench->n_conditions; i++)
    order[i] = i;
  g_qsort_with_data (order, (int) bench->n_conditions, sizeof *order, by_place, (gpointer) bench);
  return order;
}

/* ---- pasted lines ---- */

typedef struct {
  const char *const *keys;
  guint n_keys;
  char mark;
  GArray *values;      /* of SpKeyValue */
  GArray *places;      /* of Place: of each value */
  GStringChunk *texts; /* that they stand in */
} Pasted;

typedef struct {
  guint line, column;
} Place;

static gboolean
take_field (const Pasted *pasted, const SpTextLine *line, const SpTextField *field, guint condition, guint k, GError **error)
{
  g_autofree char *text = g_strstrip (sp_field_text (field));
  g_autoptr (GError) why = NULL;
  Place place = { (guint) line->number, sp_line_column (line, field->at) };
  g_autofree char *value = *text ? sp_typed_value (sp_keys_find (sp_condition_keys, pasted->keys[k]), text, pasted->mark, &why)
                                 : g_strdup ("");
  if (!value)
    return sp_fail_at (error, NAME, place.line, place.column, "%s", why->message);
  SpKeyValue one = { FALSE, condition, pasted->keys[k], g_string_chunk_insert (pasted->texts, value) };
  g_array_append_val (pasted->values, one);
  g_array_append_val (pasted->places, place);
  return TRUE;
}

static gboolean
take_line (const Pasted *pasted, const SpTextLine *line, const SpTextFields *fields, guint n, guint condition, GError **error)
{
  if (n > pasted->n_keys)
    return sp_fail_at (error, NAME, (guint) line->number, sp_line_column (line, sp_fields_get (fields, pasted->n_keys)->at),
                       _ ("more columns than the table has from here on; expected fewer, or begin further left"));
  for (guint k = 0; k < n; k++)
    if (!take_field (pasted, line, sp_fields_get (fields, k), condition, k, error))
      return FALSE;
  return TRUE;
}

static gboolean
take_lines (const Pasted *pasted, const char *text, const guint *conditions, guint n, GError **error)
{
  char delimiter = strchr (text, '\t') ? '\t' : strchr (text, ';') ? ';' : 0;
  gsize length = strlen (text), body = length;
  while (body > 0 && strchr ("\r\n", text[body - 1]))
    body--;
  gboolean alone = !memchr (text, '\n', body);
  g_auto (SpTextFields) fields;
  SpTextLines lines;
  SpTextLine line;
  guint at = 0;
  sp_fields_init (&fields);
  sp_lines_init (&lines, text, length);
  while (sp_lines_next_record (&lines, &line)) {
    guint fields_here = sp_fields_split (&fields, &line, delimiter);
    if (at >= n)
      return sp_fail_at (error, NAME, (guint) line.number, 1,
                         _ ("more lines than rows are chosen; expected %u: choose more, or paste fewer"), n);
    for (; at < n; at++) {
      if (!take_line (pasted, &line, &fields, fields_here, conditions[at], error))
        return FALSE;
      if (!alone)
        break;
    }
    at++;
  }
  return TRUE;
}

SpBench *
sp_bench_with_pasted (const SpBench *bench, const char *text, const guint *conditions, guint n, const char *const *keys, char mark,
                      GError **error)
{
  g_autoptr (GArray) values = g_array_new (FALSE, FALSE, sizeof (SpKeyValue)), places = g_array_new (FALSE, FALSE, sizeof (Place));
  g_autoptr (GStringChunk) texts = g_string_chunk_new (1024);
  Pasted pasted = { keys, g_strv_length ((char **) keys), mark, values, places, texts };
  g_autoptr (GError) why = NULL;
  guint failed;
  if (!take_lines (&pasted, text, conditions, n, error))
    return NULL;
  SpBench *edited = sp_bench_set_several (bench, (const SpKeyValue *) (gpointer) values->data, values->len, &failed, &why);
  if (!edited && failed < places->len) {
    const Place *place = &g_array_index (places, Place, failed);
    sp_fail_at (error, NAME, place->line, place->column, "%s", why->message);
  } else if (!edited)
    g_propagate_error (error, g_steal_pointer (&why));
  return edited;
}
