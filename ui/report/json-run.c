/* json-run.c - a substitution run's result as JSON */
#include "ui/report/json.h"
#include "ui/report/writer.h"

static void
write_point (JsonBuilder *b, const SpRunPoint *point)
{
  json_builder_begin_object (b);
  json_number (b, "frequency_hz", point->frequency_hz);
  json_number (b, "loss_db", point->loss_db);
  json_number (b, "u_db", point->u_db);
  json_number (b, "dof", sp_run_whole_dof (point->dof));
  json_number (b, "k", point->k);
  json_number (b, "expanded_db", point->expanded_db);
  json_number (b, "drift_db", point->drift_db);
  json_number (b, "scatter_db", point->scatter_db);
  json_array (b, "budget");
  for (guint i = 0; i < point->n_terms; i++) {
    json_builder_begin_object (b);
    json_text (b, "term", point->terms[i].name);
    json_number (b, "u_db", point->terms[i].u_db);
    json_number (b, "dof", point->terms[i].dof);
    json_text (b, "distribution", sp_distribution_name (point->terms[i].distribution));
    json_builder_end_object (b);
  }
  json_builder_end_array (b);
  json_builder_end_object (b);
}

char *
sp_json_run (const SpRun *run, const SpRunResult *result)
{
  JsonBuilder *b = json_begin ();
  g_autofree char *lines = sp_run_stage_text (run, result);
  json_text (b, "stage", run->stage);
  json_text (b, "sha256", run->sha256);
  json_array (b, "at");
  for (guint i = 0; i < result->n; i++)
    write_point (b, &result->points[i]);
  json_builder_end_array (b);
  json_text (b, "lines", lines);
  json_warnings (b, "warnings", result->warnings);
  return json_end (b);
}
