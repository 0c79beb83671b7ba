/* names.c - short names as a figure needs them */
#include "ui/figure/pen/names.h"

#include "ui/words/words.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

char *
sp_name_emission (const SpEmission *emission)
{
  return sp_words_emission_short (emission, SP_HAND_SCREEN);
}

char *
sp_name_other (const SpFindings *findings, guint condition, const SpCorrected *sweep)
{
  SpPurpose purpose = sp_view_purpose (findings, condition, sweep);
  if (purpose == SP_PURPOSE_UNKEYED)
    return g_strdup (_ ("unkeyed"));
  if (purpose == SP_PURPOSE_SUPERSEDED)
    return g_strdup (_ ("superseded"));
  if (purpose != SP_PURPOSE_STEP)
    return NULL;
  double step_db = findings->bench->conditions[findings->conditions[condition].condition].sweeps[sweep->sweep].step_db;
  g_autofree char *step = sp_words_signed (step_db, step_db == round (step_db) ? 0 : 1, SP_HAND_SCREEN);
  return isnan (step_db) ? g_strdup (_ ("step")) : g_strdup_printf (_ ("%s\342\200\257dB"), step);
}

/* How many conditions there are of the radio of this name. */
static guint
conditions_of (const SpFindings *findings, const char *radio)
{
  guint n = 0;
  for (guint i = 0; i < findings->n; i++)
    n += strcmp (sp_view_radio_name (findings, i), radio) == 0 ? 1 : 0;
  return n;
}

/* TRUE where the radio has several conditions, and this one a name. */
static gboolean
condition_leads (const SpFindings *findings, guint condition)
{
  return *sp_view_condition_name (findings, condition) && conditions_of (findings, sp_view_radio_name (findings, condition)) > 1;
}

const char *
sp_name_only_radio (const SpFindings *findings)
{
  return findings->n > 1 && conditions_of (findings, sp_view_radio_name (findings, 0)) == findings->n ? sp_view_radio_name (findings, 0)
                                                                                                      : NULL;
}

const char *
sp_name_lead (const SpFindings *findings, guint condition)
{
  return condition_leads (findings, condition) ? sp_view_condition_name (findings, condition) : sp_view_radio_name (findings, condition);
}

const char *
sp_name_rest (const SpFindings *findings, guint condition)
{
  if (!condition_leads (findings, condition))
    return sp_view_condition_name (findings, condition);
  return sp_name_only_radio (findings) ? "" : sp_view_radio_name (findings, condition);
}

char *
sp_name_short (const SpFindings *findings, guint condition)
{
  const char *lead = sp_name_lead (findings, condition), *rest = sp_name_rest (findings, condition);
  return condition_leads (findings, condition) && *rest ? g_strdup_printf ("%s %s", lead, rest) : g_strdup (lead);
}
