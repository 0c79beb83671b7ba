/* pivot.c - a radio's conditions by waveband and power */
#include "core/compare/pivot.h"

#include <math.h>
#include <string.h>

static double
power_of (const SpComparison *comparison, guint i)
{
  const SpCondition *condition = &comparison->findings->bench->conditions[comparison->rows[i].found->condition];
  return condition->rated_w > 0 ? condition->rated_w : comparison->rows[i].power_w;
}

static gboolean
is_rated (const SpComparison *comparison, guint i)
{
  return comparison->findings->bench->conditions[comparison->rows[i].found->condition].rated_w > 0;
}

static int
compare_power (gconstpointer a, gconstpointer b)
{
  double p = *(const double *) a, q = *(const double *) b;
  return isnan (p) || isnan (q) ? isnan (p) - isnan (q) : (p > q) - (p < q);
}

static gboolean
is_same_power (double p, double q)
{
  return p == q || (isnan (p) && isnan (q));
}

/* Column of a power: the nearest; of_measured: within SP_PIVOT_ALIKE_DB. -1: none. */
static int
column_of (const GArray *powers, double power_w, gboolean measured)
{
  int nearest = -1;
  double least = INFINITY;
  for (guint k = 0; k < powers->len; k++) {
    double there = g_array_index (powers, double, k), apart = fabs (sp_db_from_ratio (power_w / there));
    if (is_same_power (there, power_w))
      return (int) k;
    if (measured && apart <= SP_PIVOT_ALIKE_DB && apart < least) {
      least = apart;
      nearest = (int) k;
    }
  }
  return nearest;
}

/* The rated ones first: a measured one joins them. */
static GArray *
powers_of (const SpComparison *comparison, const GArray *mine)
{
  GArray *powers = g_array_new (FALSE, FALSE, sizeof (double));
  for (guint pass = 0; pass < 2; pass++)
    for (guint k = 0; k < mine->len; k++) {
      guint i = g_array_index (mine, guint, k);
      double power_w = power_of (comparison, i);
      if (is_rated (comparison, i) == (pass == 0) && column_of (powers, power_w, pass == 1) < 0)
        g_array_append_val (powers, power_w);
    }
  g_array_sort (powers, compare_power);
  return powers;
}

static int
compare_waveband (gconstpointer a, gconstpointer b)
{
  const SpWaveband *p = *(const SpWaveband *const *) a, *q = *(const SpWaveband *const *) b;
  return !p || !q ? (p == NULL) - (q == NULL) : (p->from_hz > q->from_hz) - (p->from_hz < q->from_hz);
}

static GPtrArray *
wavebands_of (const SpComparison *comparison, const GArray *mine)
{
  GPtrArray *wavebands = g_ptr_array_new ();
  for (guint k = 0; k < mine->len; k++) {
    gpointer waveband = (gpointer) sp_compare_waveband (comparison->findings, g_array_index (mine, guint, k));
    if (!g_ptr_array_find (wavebands, waveband, NULL))
      g_ptr_array_add (wavebands, waveband);
  }
  g_ptr_array_sort (wavebands, compare_waveband);
  return wavebands;
}

/* ---- cells ---- */

static SpPivotCell
cell_of (const SpComparison *comparison, guint i, guint order)
{
  const SpCompareRow *row = &comparison->rows[i];
  SpPivotCell cell = { .n = 1, .condition = i, .value_db = NAN, .expanded_db = NAN };
  if (order == 0 && row->found->worst_emission >= 0) {
    cell.emission = &row->found->emissions[row->found->worst_emission];
    cell.value_db = sp_emission_room_db (cell.emission);
    cell.expanded_db = isnan (cell.value_db) ? NAN : sp_emission_deciding_expanded_db (cell.emission);
  }
  if (order > 0 && (cell.emission = sp_compare_harmonic (row, order))) {
    cell.value_db = cell.emission->swept && !sp_emission_is_blind (cell.emission) ? cell.emission->level_dbc : NAN;
    cell.expanded_db = isnan (cell.value_db) ? NAN : cell.emission->budget.expanded_dbc_db;
  }
  return cell;
}

/* TRUE if `a` weighs more than `b`: the worse condition; the higher harmonic, one that was seen before a floor. */
static gboolean
is_worse (const SpPivot *pivot, const SpComparison *comparison, const SpPivotCell *a, const SpPivotCell *b)
{
  if (pivot->order == 0)
    return sp_compare_is_worse (comparison->rows[a->condition].found, comparison->rows[b->condition].found);
  if (isnan (a->value_db) || isnan (b->value_db))
    return !isnan (a->value_db);
  return a->emission->detected != b->emission->detected ? a->emission->detected : a->value_db > b->value_db;
}

/* Marks the worst of `n` cells, `apart` from each other, if there are two that can be told apart. */
static void
mark_worst (SpPivot *pivot, const SpComparison *comparison, guint first, guint n, guint apart, gboolean of_row)
{
  SpPivotCell *worst = NULL;
  guint filled = 0;
  for (guint k = 0; k < n; k++) {
    SpPivotCell *cell = &pivot->cells[first + k * apart];
    if (cell->n == 0 || (pivot->order && isnan (cell->value_db)))
      continue;
    worst = !worst || is_worse (pivot, comparison, cell, worst) ? cell : worst;
    filled++;
  }
  if (filled > 1)
    *(of_row ? &worst->worst_in_row : &worst->worst_in_column) = TRUE;
}

static void
pivot_free (gpointer data)
{
  SpPivot *pivot = data;
  g_free (pivot->wavebands);
  g_free (pivot->power_w);
  g_free (pivot->cells);
  g_free (pivot);
}

static SpPivot *
pivot_of (const SpComparison *comparison, const GArray *mine, guint order)
{
  SpPivot *pivot = g_new0 (SpPivot, 1);
  g_autoptr (GPtrArray) wavebands = wavebands_of (comparison, mine);
  g_autoptr (GArray) powers = powers_of (comparison, mine);
  pivot->radio = comparison->rows[g_array_index (mine, guint, 0)].radio;
  pivot->order = order;
  pivot->n_rows = wavebands->len;
  pivot->n_columns = powers->len;
  pivot->cells = g_new0 (SpPivotCell, pivot->n_rows * pivot->n_columns);
  for (guint k = 0; k < mine->len; k++) {
    guint i = g_array_index (mine, guint, k), row;
    g_ptr_array_find (wavebands, sp_compare_waveband (comparison->findings, i), &row);
    int column = column_of (powers, power_of (comparison, i), !is_rated (comparison, i));
    SpPivotCell *cell = &pivot->cells[row * pivot->n_columns + (guint) column], own = cell_of (comparison, i, order);
    guint n = cell->n + 1;
    if (cell->n == 0 || is_worse (pivot, comparison, &own, cell))
      *cell = own;
    cell->n = n;
  }
  for (guint row = 0; row < pivot->n_rows; row++)
    mark_worst (pivot, comparison, row * pivot->n_columns, pivot->n_columns, 1, TRUE);
  for (guint column = 0; column < pivot->n_columns; column++)
    mark_worst (pivot, comparison, column, pivot->n_rows, pivot->n_columns, FALSE);
  pivot->wavebands = g_memdup2 (wavebands->pdata, wavebands->len * sizeof *pivot->wavebands);
  pivot->power_w = (double *) (void *) g_array_free (g_steal_pointer (&powers), FALSE);
  return pivot;
}

GPtrArray *
sp_compare_pivots (const SpComparison *comparison, guint order)
{
  GPtrArray *pivots = g_ptr_array_new_with_free_func (pivot_free);
  for (guint radio = 0; radio < comparison->findings->bench->n_radios; radio++) {
    g_autoptr (GArray) mine = g_array_new (FALSE, FALSE, sizeof (guint));
    for (guint i = 0; i < comparison->n; i++)
      if (comparison->findings->bench->conditions[comparison->rows[i].found->condition].radio == radio)
        g_array_append_val (mine, i);
    if (mine->len > 1)
      g_ptr_array_add (pivots, pivot_of (comparison, mine, order));
  }
  return pivots;
}

const SpPivotCell *
sp_pivot_cell (const SpPivot *pivot, guint row, guint column)
{
  return &pivot->cells[row * pivot->n_columns + column];
}

const SpPivotCell *
sp_pivot_worst_of_row (const SpPivot *pivot, guint row)
{
  for (guint column = 0; column < pivot->n_columns; column++)
    if (sp_pivot_cell (pivot, row, column)->worst_in_row)
      return sp_pivot_cell (pivot, row, column);
  return NULL;
}

const SpPivotCell *
sp_pivot_worst_of_column (const SpPivot *pivot, guint column)
{
  for (guint row = 0; row < pivot->n_rows; row++)
    if (sp_pivot_cell (pivot, row, column)->worst_in_column)
      return sp_pivot_cell (pivot, row, column);
  return NULL;
}
