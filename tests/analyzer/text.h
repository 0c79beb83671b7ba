/* text.h - an analyzer's profile from a test's text */
#pragma once

#include "core/analyzer/analyzer.h"
#include "tests/suite.h"

#include <string.h>

/* NULL: refused, by `error`. */
static inline SpAnalyzer *
analyzer_try (const char *text, GError **error)
{
  g_autoptr (SpKeyFile) file = sp_key_file_parse (text, strlen (text), "t.analyzer", error);
  return file ? sp_analyzer_parse (file, error) : NULL;
}

static inline SpAnalyzer *
analyzer_from (const char *text)
{
  g_autoptr (GError) error = NULL;
  SpAnalyzer *analyzer = analyzer_try (text, &error);
  sp_no_error (error);
  return analyzer;
}
