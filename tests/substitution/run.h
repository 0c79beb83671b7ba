/* run.h - runs from text and in memory */
#pragma once

#include "core/run/run.h"
#include "tests/chain/bench.h"

static inline SpRun *
run_from (const char *text)
{
  g_autoptr (GError) error = NULL;
  SpRun *run = sp_run_parse_bytes (text, strlen (text), "t.run", FALSE, &error);
  sp_no_error (error);
  return run;
}

/* The term called `name`; its u is NaN where there is none. */
static inline SpRunTerm
term_of (const SpRunPoint *point, const char *name)
{
  for (guint i = 0; i < point->sum.n_terms; i++)
    if (strcmp (point->sum.terms[i].name, name) == 0)
      return point->sum.terms[i];
  return (SpRunTerm){ NULL, NAN, NAN, SP_DISTRIBUTION_NORMAL };
}

/* A run of one frequency, everything beside the readings known and nil: what is left is what a test puts in. */
static inline SpRun *
bare_run (void)
{
  SpRun *run = sp_run_new ();
  run->stage = g_strdup ("thing");
  run->source_vswr = sp_curve_new_constant (1, NAN);
  run->meter_vswr = sp_curve_new_constant (1, NAN);
  run->stage_vswr = sp_curve_new_constant (1, NAN);
  run->meter_linearity_db = run->meter_resolution_db = run->temperature_u_c = 0;
  return run;
}
