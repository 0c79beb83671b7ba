/* run-form-result.c - what the readings give: the loss at the chosen frequency, its budget, what is wanting and what to mind */
#include <glib/gi18n-lib.h>

#include "ui/window/run/run-form-private.h"
#include "ui/words/words.h"

static const SpRunPoint *
chosen_point (SpRunForm *form)
{
  for (guint i = 0; i < form->result->n; i++)
    if (form->result->points[i].frequency_hz == form->chosen_hz)
      return &form->result->points[i];
  return form->result->n ? &form->result->points[0] : NULL;
}

static void
show_sum (SpRunForm *form, const SpRunPoint *point)
{
  if (!point) {
    gtk_label_set_text (GTK_LABEL (form->sum), _ ("The loss stands here once one frequency has a reading before and one inserted."));
    return;
  }
  g_autofree char *at = sp_words_frequency (point->frequency_hz, 0, SP_HAND_SCREEN),
                  *loss = sp_words_number (point->loss_db, 3, SP_HAND_SCREEN);
  g_autofree char *expanded = sp_words_number (point->sum.expanded_db, 3, SP_HAND_SCREEN),
                  *k = sp_words_number (point->sum.k, 2, SP_HAND_SCREEN);
  g_autofree char *u = sp_words_number (point->sum.u_db, 4, SP_HAND_SCREEN), *dof = sp_form_dof (point->sum.dof);
  g_autofree char *text = g_strdup_printf (_ ("%s: loss %s \xc2\xb1 %s dB (U = k u, k = %s, u = %s dB, %s degrees of freedom)"), at, loss,
                                           expanded, k, u, dof);
  gtk_label_set_text (GTK_LABEL (form->sum), text);
}

void
sp_run_form_show_result (SpRunForm *form)
{
  const SpRunPoint *point = chosen_point (form);
  show_sum (form, point);
  sp_form_show_budget (form->budget, point ? &point->sum : NULL, sp_words_run_term);
  sp_form_clear_box (form->reasons);
  if (form->run->at->len > 0) /* before the first reading the sentence above says it */
    sp_form_add_reasons (form->reasons, form->result->missing, "strong");
  sp_form_add_reasons (form->reasons, form->result->warnings, "soft");
}
