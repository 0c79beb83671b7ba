/* compare.c - conditions side by side */
#include "core/compare/compare.h"

#include <math.h>

#include "core/quantity/units.h"

double
sp_emission_margin_expanded_db (const SpEmission *emission)
{
  return isnan (emission->margin_db) ? NAN : sp_emission_deciding_expanded_db (emission);
}

double
sp_emission_level_expanded_db (const SpEmission *emission)
{
  return emission->swept ? emission->budget.expanded_level_db : NAN;
}

const SpEmission *
sp_compare_harmonic (const SpCompareRow *row, guint order)
{
  return order >= 2 && order - 2 < row->n_harmonics ? row->harmonics[order - 2] : NULL;
}

double
sp_compare_over_db (const SpCompareRow *row, const SpCompareRow *reference, guint order)
{
  const SpEmission *here = sp_compare_harmonic (row, order), *there = sp_compare_harmonic (reference, order);
  return here && there && here->detected && there->detected ? here->level_dbm - there->level_dbm : NAN;
}

static void
gather_harmonics (SpCompareRow *row)
{
  const SpConditionFindings *found = row->found;
  guint most = 1;
  for (guint i = 0; i < found->n_emissions; i++)
    most = MAX (most, found->emissions[i].order);
  row->n_harmonics = most - 1;
  row->harmonics = g_new0 (const SpEmission *, most);
  for (guint i = 0; i < found->n_emissions; i++)
    if (found->emissions[i].order >= 2)
      row->harmonics[found->emissions[i].order - 2] = &found->emissions[i];
}

static void
fill_row (SpCompareRow *row, const SpFindings *findings, guint i)
{
  const SpConditionFindings *found = &findings->conditions[i];
  const SpCondition *condition = &findings->bench->conditions[found->condition];
  row->found = found;
  row->radio = findings->bench->radios[condition->radio].name;
  row->condition = condition->name;
  row->power_w = isfinite (found->power_dbm) ? sp_watt_from_dbm (found->power_dbm) : NAN;
  row->power_expanded_db = isfinite (found->power_dbm) ? found->power_expanded_db : NAN;
  row->worst_expanded_db = found->worst_emission >= 0 ? sp_emission_margin_expanded_db (&found->emissions[found->worst_emission]) : NAN;
  gather_harmonics (row);
}

SpComparison *
sp_compare (const SpFindings *findings)
{
  SpComparison *comparison = g_atomic_rc_box_new0 (SpComparison);
  comparison->findings = sp_findings_ref (findings);
  comparison->n = findings->n;
  comparison->rows = g_new0 (SpCompareRow, findings->n);
  comparison->most_order = 1;
  for (guint i = 0; i < findings->n; i++) {
    fill_row (&comparison->rows[i], findings, i);
    comparison->most_order = MAX (comparison->most_order, comparison->rows[i].n_harmonics + 1);
  }
  return comparison;
}

SpComparison *
sp_comparison_ref (const SpComparison *comparison)
{
  return g_atomic_rc_box_acquire ((SpComparison *) comparison);
}

static void
clear (gpointer data)
{
  SpComparison *comparison = data;
  for (guint i = 0; i < comparison->n; i++)
    g_free (comparison->rows[i].harmonics);
  g_free (comparison->rows);
  sp_findings_unref (comparison->findings);
}

void
sp_comparison_unref (SpComparison *comparison)
{
  if (comparison)
    g_atomic_rc_box_release_full (comparison, clear);
}
