/* chain-page-totals.c - what the chain, and the chosen stage, lose at the fundamental and its harmonics */
#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/chain/sample.h"
#include "core/judge/judge.h"
#include "ui/window/chain/chain-page-private.h"
#include "ui/window/widgets/tooltip.h"
#include "ui/words/words.h"

#define MOST 10 /* orders shown: the fundamental to the 10th */

const SpConditionFindings *
sp_chain_page_found (SpChainPage *self)
{
  const SpFindings *findings = sp_session_findings (self->session);
  guint condition = sp_session_condition (self->session);
  return findings && condition < findings->n ? &findings->conditions[condition] : NULL;
}

/* The fundamental and the harmonics that were looked for; how many. */
static guint
frequencies (const SpConditionFindings *found, guint *order, double *frequency_hz)
{
  guint n = 0;
  if (isfinite (found->fundamental_hz)) {
    order[n] = 1;
    frequency_hz[n++] = found->fundamental_hz;
  }
  for (guint i = 0; i < found->n_emissions && n < MOST; i++)
    if (found->emissions[i].order) {
      order[n] = found->emissions[i].order;
      frequency_hz[n++] = found->emissions[i].frequency_hz;
    }
  return n;
}

static void
put (SpChainPage *self, guint column, guint row, char *text, const char *style)
{
  g_autofree char *owned = text;
  GtkWidget *label = gtk_label_new (owned);
  gtk_label_set_xalign (GTK_LABEL (label), column ? 1 : 0);
  if (style)
    gtk_widget_add_css_class (label, style);
  gtk_grid_attach (GTK_GRID (self->totals), label, (int) column, (int) row, 1, 1);
}

/* At a frequency: the whole chain, and the chosen stage. */
static void
put_column (SpChainPage *self, guint column, double frequency_hz, double loss_db, double expanded_db, const SpStageSample *stage)
{
  put (self, column, 1, sp_words_number (frequency_hz / 1e6, 1, SP_HAND_SCREEN), "soft"); /* ten of them fit a window of 1024 */
  put (self, column, 2, sp_words_number (loss_db, 2, SP_HAND_SCREEN), "strong");
  put (self, column, 3, sp_words_number (expanded_db, 2, SP_HAND_SCREEN), NULL);
  if (stage) {
    put (self, column, 4, sp_words_number (stage->loss_db, 2, SP_HAND_SCREEN), NULL);
    put (self, column, 5, sp_words_number (stage->expanded_db, 2, SP_HAND_SCREEN), NULL);
  }
}

static void
put_heads (SpChainPage *self, char *first, const char *whole, const SpStage *stage)
{
  put (self, 0, 0, first, "soft");
  put (self, 0, 1, g_strdup (_ ("MHz")), "soft");
  put (self, 0, 2, g_strdup (whole), NULL);
  put (self, 0, 3, g_strdup (_ ("\xc2\xb1 U, dB")), NULL);
  if (stage) {
    put (self, 0, 4, g_strdup_printf (_ ("%s, dB"), stage->name), NULL);
    put (self, 0, 5, g_strdup (_ ("\xc2\xb1 U, dB")), NULL);
  }
}

/* No radio yet: the chain by itself, where the chosen stage was measured. */
static void
fill_alone (SpChainPage *self, const SpStage *stage)
{
  guint n = stage && stage->loss ? MIN (stage->loss->n, MOST) : 0;
  SpStageSample whole[MOST], own[MOST];
  double frequency_hz[MOST];
  if (n == 0) {
    put (self, 0, 0, g_strdup (_ ("The chain's loss stands here once the chosen stage is measured, or a radio's fundamental is known.")),
         "soft");
    return;
  }
  for (guint i = 0; i < n; i++) /* of many points ten, the first and the last among them */
    frequency_hz[i] = stage->loss->frequency_hz[n > 1 ? i * (stage->loss->n - 1) / (n - 1) : 0];
  sp_chain_sample (self->chain, n, frequency_hz, whole);
  sp_stage_sample (self->chain, self->stage, n, frequency_hz, own);
  put_heads (self, g_strdup_printf (_ ("at the points of %s"), stage->name), _ ("chain alone, dB"), stage);
  for (guint i = 0; i < n; i++)
    put_column (self, i + 1, frequency_hz[i], whole[i].loss_db, whole[i].expanded_db, &own[i]);
}

/* A long name does not push ten columns out of a window of 1024. */
static void
shorten_head (SpChainPage *self)
{
  GtkWidget *label = gtk_grid_get_child_at (GTK_GRID (self->totals), 0, 0);
  gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
  gtk_label_set_max_width_chars (GTK_LABEL (label), 20);
  sp_tip_set (label, gtk_label_get_text (GTK_LABEL (label)));
}

void
sp_chain_page_fill_totals (SpChainPage *self)
{
  const SpConditionFindings *found = sp_chain_page_found (self);
  const SpStage *stage = sp_chain_page_stage (self);
  guint order[MOST + 1], n = found ? frequencies (found, order, (double[MOST + 1]){ 0 }) : 0;
  double frequency_hz[MOST + 1];
  SpStageSample samples[MOST + 1], alone[MOST + 1];
  gboolean in_use = !self->chain || sp_chain_page_in_use (self); /* else the findings speak of another chain */
  for (GtkWidget *child; (child = gtk_widget_get_first_child (self->totals));)
    gtk_grid_remove (GTK_GRID (self->totals), child);
  if (n == 0) {
    fill_alone (self, stage);
    return;
  }
  frequencies (found, order, frequency_hz);
  if (stage)
    sp_stage_sample (self->chain, self->stage, n, frequency_hz, samples);
  put_heads (self, g_strdup_printf (_ ("harmonic, %s"), found->name), in_use ? _ ("whole chain, dB") : _ ("chain alone, dB"), stage);
  shorten_head (self);
  if (!in_use && self->chain)
    sp_chain_sample (self->chain, n, frequency_hz, alone);
  for (guint i = 0; i < n; i++) {
    SpAt at = sp_findings_at (sp_session_findings (self->session), sp_session_condition (self->session), frequency_hz[i]);
    put (self, i + 1, 0, g_strdup_printf ("%u", order[i]), "soft");
    put_column (self, i + 1, frequency_hz[i], in_use ? at.loss_db : alone[i].loss_db, in_use ? at.loss_expanded_db : alone[i].expanded_db,
                stage ? &samples[i] : NULL);
  }
}
