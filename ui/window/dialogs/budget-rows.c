/* budget-rows.c - the rows of the budget's table */
#include "ui/window/dialogs/budget-rows.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "ui/words/words.h"

struct _SpBudgetRow {
  GObject parent_instance;
  char *cells[BUDGET_CELLS]; /* NULL: empty */
  gboolean sum, assumed;
  GListStore *children;
};

G_DEFINE_FINAL_TYPE (SpBudgetRow, sp_budget_row, G_TYPE_OBJECT)

static void
sp_budget_row_finalize (GObject *object)
{
  SpBudgetRow *self = SP_BUDGET_ROW (object);
  for (guint i = 0; i < BUDGET_CELLS; i++)
    g_free (self->cells[i]);
  g_clear_object (&self->children);
  G_OBJECT_CLASS (sp_budget_row_parent_class)->finalize (object);
}

static void
sp_budget_row_class_init (SpBudgetRowClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = sp_budget_row_finalize;
}

static void
sp_budget_row_init (SpBudgetRow *self)
{
  (void) self;
}

const char *
sp_budget_row_text (SpBudgetRow *row, SpBudgetCell cell)
{
  return row->cells[cell] ? row->cells[cell] : "";
}

gboolean
sp_budget_row_is_sum (SpBudgetRow *row)
{
  return row->sum;
}

gboolean
sp_budget_row_is_assumed (SpBudgetRow *row)
{
  return row->assumed;
}

GListModel *
sp_budget_row_children (SpBudgetRow *row)
{
  return row->children ? G_LIST_MODEL (row->children) : NULL;
}

/* ---- one row ---- */

static SpBudgetRow *
add_row (GListStore *rows, char *name)
{
  SpBudgetRow *row = g_object_new (SP_TYPE_BUDGET_ROW, NULL);
  row->cells[BUDGET_TERM] = name;
  g_list_store_append (rows, row);
  g_object_unref (row); /* the list keeps it */
  return row;
}

static GListStore *
children_of (SpBudgetRow *row)
{
  if (!row->children)
    row->children = g_list_store_new (SP_TYPE_BUDGET_ROW);
  return row->children;
}

static void
put (SpBudgetRow *row, SpBudgetCell cell, double value, int decimals)
{
  row->cells[cell] = sp_words_number (value, decimals, SP_HAND_SCREEN);
}

static void
put_dof (SpBudgetRow *row, double dof)
{
  row->cells[BUDGET_DOF] = isfinite (dof) ? sp_words_number (floor (dof), 0, SP_HAND_SCREEN) : g_strdup ("\xe2\x88\x9e");
}

/* ---- what is within the chain ---- */

static void
add_run (SpBudgetRow *stage_row, const SpUncertaintyStage *stage, double frequency_hz)
{
  SpRunResult *result;
  const SpRunPoint *point = sp_uncertainty_stage_run (stage, frequency_hz, &result);
  for (guint i = 0; point && i < point->sum.n_terms; i++) {
    SpBudgetRow *row = add_row (children_of (stage_row), g_strdup (sp_words_run_term (point->sum.terms[i].name)));
    row->cells[BUDGET_DISTRIBUTION] = g_strdup (sp_words_distribution (point->sum.terms[i].distribution));
    put (row, BUDGET_LEVEL, point->sum.terms[i].u_db, 4);
    put_dof (row, point->sum.terms[i].dof);
    row->cells[BUDGET_SOURCE] = sp_words_frequency (point->frequency_hz, 0, SP_HAND_SCREEN);
  }
  g_clear_pointer (&result, sp_run_result_free);
}

static void
add_stages (SpBudgetRow *chain_row, const SpFindings *findings, const SpUncertaintySource *source)
{
  guint n;
  g_autofree SpUncertaintyStage *stages = sp_uncertainty_source_stages (findings, source, &n);
  for (guint i = 0; i < n; i++) {
    SpBudgetRow *row = add_row (children_of (chain_row), g_strdup (stages[i].stage->name));
    put (row, BUDGET_ESTIMATE, stages[i].loss_db, 2);
    put (row, BUDGET_LEVEL, stages[i].u_db, 4);
    put_dof (row, stages[i].dof);
    row->cells[BUDGET_SOURCE] = g_strdup (sp_words_budget_source (stages[i].from));
    add_run (row, &stages[i], source->frequency_hz);
  }
}

/* ---- terms and sums ---- */

/* Of P there is only the level. */
static guint
columns_of (const SpUncertaintySource *source)
{
  return source->emission ? SP_BUDGET_COLUMNS : SP_BUDGET_POWER;
}

static void
add_term (GListStore *rows, const SpFindings *findings, const SpUncertaintySource *source, const SpTerm *term)
{
  SpBudgetRow *row = add_row (rows, g_strconcat (sp_words_term (term->kind), term->assumed ? " *" : NULL, NULL));
  row->assumed = term->assumed;
  put (row, BUDGET_ESTIMATE, term->estimate_db, 2);
  put (row, BUDGET_WIDTH, term->width_db, 3);
  row->cells[BUDGET_DISTRIBUTION] = g_strdup (sp_words_distribution (term->distribution));
  put (row, BUDGET_DIVISOR, term->divisor, 3);
  for (guint i = 0; i < columns_of (source); i++)
    put (row, (SpBudgetCell) (BUDGET_LEVEL + i), sp_term_u_db (term, (SpBudgetColumn) i), 4);
  if (source->emission && sp_term_cancels (term)) {
    g_free (row->cells[BUDGET_DBC]);
    row->cells[BUDGET_DBC] = g_strdup (_ ("cancels"));
  }
  if (source->emission && term->by_part) { /* the verdict goes by the ends of the radio's part */
    g_free (row->cells[BUDGET_MARGIN]);
    row->cells[BUDGET_MARGIN] = g_strdup (_ ("in its part"));
  }
  put_dof (row, term->dof);
  const char *states = sp_words_budget_source (term->source);
  row->cells[BUDGET_SOURCE] = !term->assumed        ? g_strdup (states)
                              : term->assumed_stage ? g_strdup_printf (_ ("assumed for %s"), term->assumed_stage)
                                                    : g_strdup_printf (_ ("assumed: %s does not say"), states);
  if (term->kind == SP_TERM_CHAIN)
    add_stages (row, findings, source);
}

static void
add_sums (GListStore *rows, const SpUncertaintySource *source)
{
  SpBudgetRow *u = add_row (rows, g_strdup (_ ("u, root of the sum of squares"))),
              *dof = add_row (rows, g_strdup (_ ("degrees of freedom")));
  SpBudgetRow *k = add_row (rows, g_strdup (_ ("k at 95.45 %"))), *expanded = add_row (rows, g_strdup (_ ("U = k u")));
  SpBudgetRow *const sums[] = { u, dof, k, expanded };
  for (guint i = 0; i < G_N_ELEMENTS (sums); i++)
    sums[i]->sum = TRUE;
  for (guint i = 0; i < columns_of (source); i++) {
    SpBudgetCell cell = (SpBudgetCell) (BUDGET_LEVEL + i);
    SpSum sum = sp_budget_sum (source->budget, (SpBudgetColumn) i);
    put (u, cell, sum.u_db, 4);
    put (k, cell, sum.k, 3);
    put (expanded, cell, sum.expanded_db, 4);
    dof->cells[cell] = isfinite (sum.dof) ? sp_words_number (sum.dof, 0, SP_HAND_SCREEN) : g_strdup ("\xe2\x88\x9e");
  }
}

static void
add_drawn (GListStore *rows, const SpUncertaintySource *source, const SpBudgetDrawn *drawn)
{
  SpBudgetRow *mean = add_row (rows, g_strdup (_ ("drawn: mean"))), *u = add_row (rows, g_strdup (_ ("drawn: u")));
  SpBudgetRow *low = add_row (rows, g_strdup (_ ("drawn: 95.45 % from"))), *high = add_row (rows, g_strdup (_ ("drawn: 95.45 % to")));
  SpBudgetRow *const all[] = { mean, u, low, high };
  for (guint i = 0; i < G_N_ELEMENTS (all); i++)
    all[i]->sum = TRUE;
  for (guint i = 0; i < columns_of (source); i++) {
    SpBudgetCell cell = (SpBudgetCell) (BUDGET_LEVEL + i);
    put (mean, cell, drawn->column[i].mean, 4);
    put (u, cell, drawn->column[i].u, 4);
    put (low, cell, drawn->column[i].low, 4);
    put (high, cell, drawn->column[i].high, 4);
  }
}

GListModel *
sp_budget_rows_new (const SpFindings *findings, const SpUncertaintySource *source, const SpBudgetDrawn *drawn)
{
  GListStore *rows = g_list_store_new (SP_TYPE_BUDGET_ROW);
  for (guint i = 0; i < source->budget->n; i++)
    add_term (rows, findings, source, &source->budget->terms[i]);
  if (source->budget->n)
    add_sums (rows, source);
  if (source->budget->n && drawn)
    add_drawn (rows, source, drawn);
  return G_LIST_MODEL (rows);
}
