/* table-run.c - a substitution run's result as text: the losses, the budget behind each, the lines to paste */
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
add_losses (GString *out, const SpRunResult *result)
{
  Columns *columns = columns_new ("lrrrrr", _ ("at"), _ ("loss dB"), _ ("u dB"), _ ("dof"), _ ("k"), _ ("U dB"), NULL);
  for (guint i = 0; i < result->n; i++) {
    const SpRunPoint *point = &result->points[i];
    cell_frequency (columns, point->frequency_hz);
    cell_db (columns, point->loss_db, 3);
    cell_db (columns, point->u_db, 4);
    cell_dof (columns, sp_run_whole_dof (point->dof));
    cell_db (columns, point->k, 2);
    cell_db (columns, point->expanded_db, 3);
  }
  columns_finish (columns, 2, out);
}

static void
add_budget (GString *out, const SpRunPoint *point)
{
  g_autofree char *at = sp_words_frequency (point->frequency_hz, 0, SP_HAND_MACHINE);
  g_string_append_printf (out, _ ("\n%s, what makes up u:\n"), at);
  Columns *columns = columns_new ("lrrl", _ ("term"), _ ("u dB"), _ ("dof"), _ ("distribution"), NULL);
  for (guint i = 0; i < point->n_terms; i++) {
    cell_word (columns, point->terms[i].name);
    cell_db (columns, point->terms[i].u_db, 4);
    cell_dof (columns, point->terms[i].dof);
    cell_word (columns, sp_distribution_name (point->terms[i].distribution));
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
  for (guint i = 0; i < result->n; i++)
    add_budget (out, &result->points[i]);
  if (result->warnings->len > 0)
    g_string_append_c (out, '\n');
  lines_of_reasons (out, result->warnings, 0);
  g_string_append_printf (out, _ ("\nFor the chain's file (or run=FILE in the stage, which keeps the degrees of freedom):\n\n%s"), lines);
  return g_string_free (out, FALSE);
}
