#include "tests/simulate/files.h"

#include <string.h>

SpKeyFile *
sim_parse (const char *text, const char *name)
{
  g_autoptr (GError) error = NULL;
  SpKeyFile *file = sp_key_file_parse (text, strlen (text), name, &error);
  if (!file)
    g_error ("%s\n%s", error->message, text);
  return file;
}

SpChain *
sim_chain (const char *text)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SpKeyFile) file = sim_parse (text, "chain");
  SpChain *chain = sp_chain_parse (file, &error);
  if (!chain)
    g_error ("%s\n%s", error->message, text);
  return chain;
}

SpAnalyzer *
sim_analyzer (const char *text)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SpKeyFile) file = sim_parse (text, "analyzer");
  SpAnalyzer *analyzer = sp_analyzer_parse (file, &error);
  if (!analyzer)
    g_error ("%s\n%s", error->message, text);
  return analyzer;
}

SpMask *
sim_mask (const char *text)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SpKeyFile) file = sim_parse (text, "mask");
  SpMask *mask = sp_mask_parse (file, &error);
  if (!mask)
    g_error ("%s\n%s", error->message, text);
  return mask;
}
