/* budget-rows.h - private to the budget's window: what stands in the rows of its tree */
#pragma once

#include <gio/gio.h>

#include "core/budget/propagate.h"
#include "core/findings/findings.h"

typedef enum {
  BUDGET_TERM,
  BUDGET_ESTIMATE,
  BUDGET_WIDTH,
  BUDGET_DISTRIBUTION,
  BUDGET_DIVISOR,
  BUDGET_LEVEL,
  BUDGET_POWER,
  BUDGET_DBC,
  BUDGET_MARGIN,
  BUDGET_DOF,
  BUDGET_SOURCE,
  BUDGET_CELLS
} SpBudgetCell;

#define SP_TYPE_BUDGET_ROW (sp_budget_row_get_type ())
G_DECLARE_FINAL_TYPE (SpBudgetRow, sp_budget_row, SP, BUDGET_ROW, GObject)

const char *sp_budget_row_text (SpBudgetRow *row, SpBudgetCell cell);
gboolean sp_budget_row_is_sum (SpBudgetRow *row);
/* A term that nobody stated: its name ends with a star. */
gboolean sp_budget_row_is_assumed (SpBudgetRow *row);
/* Rows within: stages within the chain, the run within a stage. NULL: none. (transfer none) */
GListModel *sp_budget_row_children (SpBudgetRow *row);

/* The terms, their sums, and where `drawn` is not NULL what was drawn. (transfer full) */
GListModel *sp_budget_rows_new (const SpFindings *findings, const SpUncertaintySource *source, const SpBudgetDrawn *drawn);
