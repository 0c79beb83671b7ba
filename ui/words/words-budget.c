/* words-budget.c - words for the terms of an uncertainty budget */
#include "ui/words/words.h"

#include <glib/gi18n-lib.h>
#include <string.h>

const char *
sp_words_distribution (SpDistribution distribution)
{
  switch (distribution) {
  case SP_DISTRIBUTION_NORMAL: return _ ("normal");
  case SP_DISTRIBUTION_RECTANGULAR: return _ ("rectangular");
  case SP_DISTRIBUTION_U_SHAPED: return _ ("U-shaped");
  case SP_DISTRIBUTION_ONE_SIDED: return _ ("one-sided");
  }
  g_return_val_if_reached ("");
}

const char *
sp_words_budget_source (const char *source)
{
  static const struct {
    const char *name, *words;
  } sources[] = {
    { "profile", N_ ("the analyzer's profile") },
    { "chain", N_ ("the chain") },
    { "radio", N_ ("the radio's reflection") },
    { "sweep", N_ ("the sweep") },
    { "check", N_ ("the check source") },
    { "meter", N_ ("the power meter") },
    { "step", N_ ("the step test") },
    { "run", N_ ("its substitution run") },
    { "points", N_ ("its points") },
    { "touchstone", N_ ("its S-parameters") },
    { "label", N_ ("its label") },
    { "nothing", N_ ("nothing stated") },
  };
  for (guint i = 0; i < G_N_ELEMENTS (sources); i++)
    if (strcmp (sources[i].name, source) == 0)
      return _ (sources[i].words);
  return source;
}
