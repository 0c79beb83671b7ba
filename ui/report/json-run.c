/* json-run.c - as JSON: a substitution run's result, an analyzer's check */
#include "ui/report/json.h"
#include "ui/report/writer.h"

static void
write_sum (JsonBuilder *b, const SpRunSum *sum)
{
  json_number (b, "u_db", sum->u_db);
  json_number (b, "dof", sp_run_whole_dof (sum->dof));
  json_number (b, "k", sum->k);
  json_number (b, "expanded_db", sum->expanded_db);
}

static void
write_budget (JsonBuilder *b, const SpRunSum *sum)
{
  json_array (b, "budget");
  for (guint i = 0; i < sum->n_terms; i++) {
    json_builder_begin_object (b);
    json_text (b, "term", sum->terms[i].name);
    json_number (b, "u_db", sum->terms[i].u_db);
    json_number (b, "dof", sum->terms[i].dof);
    json_text (b, "distribution", sp_distribution_name (sum->terms[i].distribution));
    json_builder_end_object (b);
  }
  json_builder_end_array (b);
}

static void
write_point (JsonBuilder *b, const SpRunPoint *point)
{
  json_builder_begin_object (b);
  json_number (b, "frequency_hz", point->frequency_hz);
  json_number (b, "loss_db", point->loss_db);
  write_sum (b, &point->sum);
  json_number (b, "drift_db", point->drift_db);
  json_number (b, "scatter_db", point->scatter_db);
  write_budget (b, &point->sum);
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

/* ---- a check ---- */

static void
write_check_point (JsonBuilder *b, const SpCheckPoint *point)
{
  json_builder_begin_object (b);
  json_number (b, "frequency_hz", point->frequency_hz);
  json_number (b, "attenuation_db", point->attenuation_db);
  json_number (b, "correction_db", point->correction_db);
  write_sum (b, &point->sum);
  json_number (b, "scatter_db", point->scatter_db);
  json_number (b, "stated_db", point->stated_db);
  json_yes (b, "beyond", point->beyond);
  json_yes (b, "on_curve", point->on_curve);
  write_budget (b, &point->sum);
  json_builder_end_object (b);
}

static void
write_left (JsonBuilder *b, const SpCheckResult *result)
{
  json_array (b, "left");
  for (guint i = 0; i < result->n_left; i++) {
    json_builder_begin_object (b);
    json_text (b, "term", result->left[i].term);
    json_number (b, "stated_u_db", result->left[i].stated_u_db);
    json_number (b, "left_u_db", result->left[i].left_u_db);
    json_yes (b, "assumed", result->left[i].assumed);
    json_builder_end_object (b);
  }
  json_builder_end_array (b);
}

char *
sp_json_check (const SpCheck *check, const SpCheckResult *result, const SpAnalyzer *analyzer)
{
  JsonBuilder *b = json_begin ();
  g_autofree char *lines = sp_check_lines (check, result, analyzer);
  json_text (b, "analyzer", analyzer->name);
  json_text (b, "sha256", check->sha256);
  json_number (b, "attenuation_db", result->attenuation_db);
  json_array (b, "at");
  for (guint i = 0; i < result->n; i++)
    write_check_point (b, &result->points[i]);
  json_builder_end_array (b);
  write_left (b, result);
  json_text (b, "lines", lines);
  json_warnings (b, "warnings", result->warnings);
  return json_end (b);
}
