/* table-run.c - as text: a substitution run's losses, an analyzer's corrections; the budget behind each, the lines to paste */
#include "ui/report/lines.h"
#include "ui/report/table.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static void
cell_dof (Columns *columns, double dof)
{
  columns_add (columns, isfinite (dof) ? sp_words_number (dof, 0, SP_HAND_MACHINE) : g_strdup (_ ("inf")));
}

static void
cells_of_sum (Columns *columns, const SpRunSum *sum)
{
  cell_db (columns, sum->u_db, 4);
  cell_dof (columns, sp_run_whole_dof (sum->dof));
  cell_db (columns, sum->k, 2);
  cell_db (columns, sum->expanded_db, 3);
}

static void
add_losses (GString *out, const SpRunResult *result)
{
  Columns *columns = columns_new ("lrrrrr", _ ("at"), _ ("loss dB"), _ ("u dB"), _ ("dof"), _ ("k"), _ ("U dB"), NULL);
  for (guint i = 0; i < result->n; i++) {
    const SpRunPoint *point = &result->points[i];
    cell_frequency (columns, point->frequency_hz);
    cell_db (columns, point->loss_db, 3);
    cells_of_sum (columns, &point->sum);
  }
  columns_finish (columns, 2, out);
}

static void
add_budget (GString *out, const char *at, const SpRunSum *sum)
{
  g_string_append_printf (out, _ ("\n%s, what makes up u:\n"), at);
  Columns *columns = columns_new ("lrrl", _ ("term"), _ ("u dB"), _ ("dof"), _ ("distribution"), NULL);
  for (guint i = 0; i < sum->n_terms; i++) {
    cell_word (columns, sum->terms[i].name);
    cell_db (columns, sum->terms[i].u_db, 4);
    cell_dof (columns, sum->terms[i].dof);
    cell_word (columns, sp_distribution_name (sum->terms[i].distribution));
  }
  columns_finish (columns, 2, out);
}

char *
sp_table_run (const SpRun *run, const SpRunResult *result)
{
  GString *out = g_string_new (NULL);
  g_autofree char *lines = sp_run_stage_text (run, result);
  add_cleaned (out, g_strdup_printf (_ ("Loss of %s by substitution"), run->stage));
  g_string_append (out, "\n\n");
  add_losses (out, result);
  for (guint i = 0; i < result->n; i++) {
    g_autofree char *at = sp_words_frequency (result->points[i].frequency_hz, 0, SP_HAND_MACHINE);
    add_budget (out, at, &result->points[i].sum);
  }
  if (result->warnings->len > 0)
    g_string_append_c (out, '\n');
  lines_of_reasons (out, result->warnings, 0);
  g_string_append_printf (out, _ ("\nFor the chain's file (or run=FILE in the stage, which keeps the degrees of freedom):\n\n%s"), lines);
  return g_string_free (out, FALSE);
}

/* ---- a check ---- */

static void
add_corrections (GString *out, const SpCheckResult *result)
{
  Columns *columns = columns_new ("lrrrrrrl", _ ("at"), _ ("att. dB"), _ ("correction dB"), _ ("u dB"), _ ("dof"), _ ("k"), _ ("U dB"), "",
                                  NULL);
  for (guint i = 0; i < result->n; i++) {
    const SpCheckPoint *point = &result->points[i];
    cell_frequency (columns, point->frequency_hz);
    cell_db (columns, point->attenuation_db, 0);
    columns_add (columns, sp_words_signed (point->correction_db, 3, SP_HAND_MACHINE));
    cells_of_sum (columns, &point->sum);
    cell_word (columns, point->beyond ? _ ("beyond what is stated") : "");
  }
  columns_finish (columns, 2, out);
  g_string_append (out, _ ("  U is that of the reading. Between two points what is left of flatness joins it, midway as a whole.\n"));
}

static void
add_left (GString *out, const SpCheckResult *result)
{
  g_string_append (out, _ ("\nWhat is left of the stated errors, u:\n"));
  Columns *columns = columns_new ("lrrl", _ ("term"), _ ("stated dB"), _ ("left dB"), "", NULL);
  for (guint i = 0; i < result->n_left; i++) {
    cell_word (columns, result->left[i].term);
    cell_db (columns, result->left[i].stated_u_db, 3);
    cell_db (columns, result->left[i].left_u_db, 3);
    cell_word (columns, result->left[i].assumed ? _ ("nobody states it: assumed") : "");
  }
  columns_finish (columns, 2, out);
}

char *
sp_table_check (const SpCheck *check, const SpCheckResult *result, const SpAnalyzer *analyzer)
{
  GString *out = g_string_new (NULL);
  g_autofree char *lines = sp_check_lines (check, result, analyzer);
  add_cleaned (out, g_strdup_printf (_ ("Check of %s: what is to be added to its readings"), analyzer->name));
  g_string_append (out, "\n\n");
  add_corrections (out, result);
  add_left (out, result);
  for (guint i = 0; i < result->n; i++) {
    g_autofree char *at = sp_words_check_place (&result->points[i], SP_HAND_MACHINE);
    add_budget (out, at, &result->points[i].sum);
  }
  if (result->warnings->len > 0)
    g_string_append_c (out, '\n');
  lines_of_reasons (out, result->warnings, 0);
  g_string_append_printf (out, _ ("\nFor the analyzer's file:\n\n%s"), lines);
  return g_string_free (out, FALSE);
}
