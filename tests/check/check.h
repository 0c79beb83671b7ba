/* check.h - checks and profiles from text */
#pragma once

#include "core/check/check.h"
#include "tests/suite.h"

#include <string.h>

static inline SpCheck *
check_from (const char *text)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SpKeyFile) file = sp_key_file_parse (text, strlen (text), "t.run", &error);
  SpCheck *check = file ? sp_check_parse (file, FALSE, &error) : NULL;
  sp_no_error (error);
  return check;
}

static inline SpAnalyzer *
profile_from (const char *keys)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *text = g_strconcat ("[analyzer]\nname=box\n", keys, NULL);
  g_autoptr (SpKeyFile) file = sp_key_file_parse (text, strlen (text), "box.analyzer", &error);
  SpAnalyzer *analyzer = file ? sp_analyzer_parse (file, &error) : NULL;
  sp_no_error (error);
  return analyzer;
}

/* Its u is NaN where there is none of that name. */
static inline SpRunTerm
term_of (const SpRunSum *sum, const char *name)
{
  for (guint i = 0; i < sum->n_terms; i++)
    if (strcmp (sum->terms[i].name, name) == 0)
      return sum->terms[i];
  return (SpRunTerm){ NULL, NAN, NAN, SP_DISTRIBUTION_NORMAL };
}
