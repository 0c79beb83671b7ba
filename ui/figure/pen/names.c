/* names.c - short names as a figure needs them */
#include "ui/figure/pen/names.h"

#include "ui/words/words.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* "2nd": English has four endings, other languages translate the whole form. */
static char *
ordinal (guint n)
{
  guint last = n % 10;
  gboolean teens = n % 100 / 10 == 1;
  const char *form = last == 1 && !teens ? _ ("#st") : last == 2 && !teens ? _ ("#nd") : last == 3 && !teens ? _ ("#rd") : _ ("#th");
  const char *mark = strchr (form, '#');
  return mark ? g_strdup_printf ("%.*s%u%s", (int) (mark - form), form, n, mark + 1) : g_strdup_printf ("%u", n);
}

char *
sp_name_emission (const SpEmission *emission)
{
  return emission->order ? ordinal (emission->order) : sp_words_emission (emission, SP_HAND_SCREEN);
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

gboolean
sp_name_is_shared (const SpView *view, const SpFindings *findings, guint condition)
{
  const char *name = sp_view_radio_name (findings, condition);
  for (guint i = 0; i < findings->n; i++)
    if (i != condition && sp_view_shows (view, findings, i) && strcmp (sp_view_radio_name (findings, i), name) == 0)
      return TRUE;
  return FALSE;
}
