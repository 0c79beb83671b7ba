/* workbook-evidence.c - whose the emissions are: by what it is known, what stands there unkeyed, repeats, and the steps reading by reading */
#include "ui/report/workbook/workbook-private.h"

#include "ui/words/words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static gboolean
has_evidence (const SpEmission *e)
{
  return e->evidence || e->repeats > 1;
}

static void
write_row (Page *page, const SpEmission *e)
{
  const SpEvidence *v = e->evidence;
  gboolean step = v && v->n > 0, unkeyed = v && !isnan (v->ambient_dbm);
  g_autofree char *name = sp_words_emission (e, SP_HAND_MACHINE);
  page_text (page, 0, name, STYLE_TEXT);
  page_text (page, 1, sp_words_origin_basis (e->origin_basis), STYLE_TEXT);
  page_number (page, 2, unkeyed ? v->ambient_dbm : NAN, STYLE_DB);
  page_text (page, 3, unkeyed ? workbook_yes (v->ambient_seen) : NULL, STYLE_TEXT);
  page_number (page, 4, e->repeats, STYLE_WHOLE);
  page_number (page, 5, e->repeat_mean_dbm, STYLE_DB);
  page_number (page, 6, e->repeat_u_db, STYLE_FINE);
  page_number (page, 7, step ? v->p_radio : NAN, STYLE_FINE);
  page_number (page, 8, step ? v->p_analyzer : NAN, STYLE_FINE);
  page_number (page, 9, step ? v->misfit : NAN, STYLE_FINE);
  page->row++;
}

static void
write_readings (Page *page, const SpEmission *e)
{
  g_autofree char *name = sp_words_emission (e, SP_HAND_MACHINE);
  for (guint k = 0; e->evidence && k < e->evidence->n; k++) {
    const SpEvidencePoint *p = &e->evidence->points[k];
    page_text (page, 0, name, STYLE_TEXT);
    page_number (page, 1, p->attenuation_db, STYLE_DB);
    page_text (page, 2, workbook_yes (p->seen), STYLE_TEXT);
    page_number (page, 3, p->level_dbm, STYLE_DB);
    page_number (page, 4, p->u_db, STYLE_FINE);
    page_number (page, 5, p->product_shift_db, STYLE_DB);
    page_number (page, 6, p->fit_low_dbm, STYLE_DB);
    page_number (page, 7, p->fit_dbm, STYLE_DB);
    page_number (page, 8, p->fit_high_dbm, STYLE_DB);
    page->row++;
  }
}

void
workbook_evidence (Page *page, guint condition)
{
  const SpConditionFindings *found = &page->work->findings->conditions[condition];
  const char *const heads[] = { _ ("Emission"),
                                _ ("Origin by"),
                                _ ("Stands there unkeyed (not seen: floor), dBm"),
                                _ ("Seen unkeyed"),
                                _ ("Sweeps of equal settings"),
                                _ ("Their mean, dBm"),
                                _ ("Type A u, dB"),
                                _ ("p radio 6 dB over"),
                                _ ("p analyzer 6 dB over"),
                                _ ("Misfit, chi-square a degree") };
  const char *const step_heads[] = { _ ("Emission"),
                                     _ ("More attenuation, dB"),
                                     _ ("Seen"),
                                     _ ("Level (not seen: threshold), dBm"),
                                     _ ("u of the reading, dB"),
                                     _ ("The analyzer's own moves, dB"),
                                     _ ("Model from, dBm"),
                                     _ ("middle, dBm"),
                                     _ ("to, dBm") };
  gboolean any = FALSE, steps = FALSE;
  for (guint i = 0; i < found->n_emissions; i++) {
    any |= has_evidence (&found->emissions[i]);
    steps |= found->emissions[i].evidence && found->emissions[i].evidence->n > 0;
  }
  if (!any)
    return;
  page->row++;
  page_section (page, _ ("Whose it is: steps, the sweep with nothing keyed, repeats"));
  page_heads (page, heads, G_N_ELEMENTS (heads));
  for (guint i = 0; i < found->n_emissions; i++)
    if (has_evidence (&found->emissions[i]))
      write_row (page, &found->emissions[i]);
  if (!steps)
    return;
  page->row++;
  page_section (page, _ ("The steps, reading by reading"));
  page_heads (page, step_heads, G_N_ELEMENTS (step_heads));
  for (guint i = 0; i < found->n_emissions; i++)
    write_readings (page, &found->emissions[i]);
}
