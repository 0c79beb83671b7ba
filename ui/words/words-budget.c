/* words-budget.c - words for the terms of an uncertainty budget */
#include "ui/words/words.h"

#include <glib/gi18n-lib.h>

const char *
sp_words_distribution (SpDistribution distribution)
{
  switch (distribution) {
  case SP_DISTRIBUTION_NORMAL: return _ ("normal");
  case SP_DISTRIBUTION_STUDENT: return _ ("Student's t");
  case SP_DISTRIBUTION_RECTANGULAR: return _ ("rectangular");
  case SP_DISTRIBUTION_U_SHAPED: return _ ("U-shaped");
  case SP_DISTRIBUTION_ONE_SIDED: return _ ("one-sided");
  }
  g_return_val_if_reached ("");
}

const char *
sp_words_budget_source (SpBudgetSource source)
{
  static const char *const words[] = {
    [SP_BUDGET_FROM_PROFILE] = N_ ("the analyzer's profile"),
    [SP_BUDGET_FROM_CHAIN] = N_ ("the chain"),
    [SP_BUDGET_FROM_RADIO] = N_ ("the radio's reflection"),
    [SP_BUDGET_FROM_SWEEP] = N_ ("the sweep"),
    [SP_BUDGET_FROM_CHECK] = N_ ("the check source"),
    [SP_BUDGET_FROM_METER] = N_ ("the power meter"),
    [SP_BUDGET_FROM_STEP] = N_ ("the step test"),
    [SP_BUDGET_FROM_RUN] = N_ ("its substitution run"),
    [SP_BUDGET_FROM_POINTS] = N_ ("its points"),
    [SP_BUDGET_FROM_TOUCHSTONE] = N_ ("its S-parameters"),
    [SP_BUDGET_FROM_LABEL] = N_ ("its label"),
    [SP_BUDGET_FROM_NOTHING] = N_ ("nothing stated"),
  };
  G_STATIC_ASSERT (G_N_ELEMENTS (words) == SP_N_BUDGET_SOURCES);
  g_return_val_if_fail ((guint) source < G_N_ELEMENTS (words), "");
  return _ (words[source]);
}

const char *
sp_words_term (SpTermKind kind)
{
  static const char *const words[] = {
    [SP_TERM_ACCURACY] = N_ ("the analyzer's absolute accuracy"),
    [SP_TERM_FLATNESS] = N_ ("the analyzer's flatness"),
    [SP_TERM_CORRECTION] = N_ ("the correction that the analyzer's check gave"),
    [SP_TERM_SCALE] = N_ ("the analyzer's scale fidelity"),
    [SP_TERM_REPEATABILITY] = N_ ("the analyzer's repeatability"),
    [SP_TERM_CHAIN] = N_ ("the chain's calibration"),
    [SP_TERM_COMMON] = N_ ("what the chain's calibrations have in common"),
    [SP_TERM_TEMPERATURE] = N_ ("the temperature of the chain"),
    [SP_TERM_SELF_HEATING] = N_ ("self-heating of the chain"),
    [SP_TERM_MISMATCH_INNER] = N_ ("mismatch within the chain"),
    [SP_TERM_MISMATCH_RADIO] = N_ ("mismatch at the radio"),
    [SP_TERM_MISMATCH_ANALYZER] = N_ ("mismatch at the analyzer"),
    [SP_TERM_NOISE] = N_ ("noise on the reading"),
    [SP_TERM_REPEATS] = N_ ("what the carriers of several sweeps scatter"),
    [SP_TERM_SAMPLING] = N_ ("points too far apart"),
    [SP_TERM_PRODUCT] = N_ ("the analyzer's own product, in any phase"),
    [SP_TERM_ATTENUATOR_SWITCH] = N_ ("the analyzer's attenuator, switched"),
    [SP_TERM_RBW_SWITCH] = N_ ("the analyzer's RBW, switched"),
    [SP_TERM_CHECK_DRIFT] = N_ ("drift between the two readings of the check source"),
    [SP_TERM_METER] = N_ ("the power meter"),
  };
  G_STATIC_ASSERT (G_N_ELEMENTS (words) == SP_N_TERMS);
  g_return_val_if_fail ((guint) kind < G_N_ELEMENTS (words), "");
  return _ (words[kind]);
}
