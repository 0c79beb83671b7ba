/* run-form-result.c - what the readings give: the loss at the chosen frequency, its budget, what is wanting and what to mind */
#include <glib/gi18n-lib.h>
#include <math.h>

#include "ui/window/run/run-form-private.h"
#include "ui/words/words.h"

#define REASONS_MOST 12 /* sentences; a file of many frequencies may have one for each */

static GtkWidget *
new_label (const char *text, float xalign, const char *style)
{
  GtkWidget *label = gtk_label_new (text);
  gtk_label_set_xalign (GTK_LABEL (label), xalign);
  if (style)
    gtk_widget_add_css_class (label, style);
  return label;
}

static void
put (SpRunForm *form, int column, int line, const char *text, const char *style)
{
  gtk_grid_attach (GTK_GRID (form->budget), new_label (text, column == 0 || column == 3 ? 0 : 1, style), column, line, 1, 1);
}

static char *
say_dof (double dof)
{
  return isinf (dof) ? g_strdup ("\xe2\x88\x9e") : sp_words_number (sp_run_whole_dof (dof), 0, SP_HAND_SCREEN);
}

static void
put_line (SpRunForm *form, int line, const char *name, double u_db, double dof, const char *shape, const char *style)
{
  g_autofree char *u = sp_words_number (u_db, 4, SP_HAND_SCREEN), *degrees = say_dof (dof);
  put (form, 0, line, name, style);
  put (form, 1, line, u, style);
  put (form, 2, line, degrees, style);
  put (form, 3, line, shape, "soft");
}

static void
show_budget (SpRunForm *form, const SpRunPoint *point)
{
  for (GtkWidget *child; (child = gtk_widget_get_first_child (form->budget));)
    gtk_grid_remove (GTK_GRID (form->budget), child);
  gtk_widget_set_visible (form->budget, point != NULL);
  if (!point)
    return;
  put (form, 0, 0, _ ("what its uncertainty is made of"), "soft");
  put (form, 1, 0, _ ("u, dB"), "soft");
  put (form, 2, 0, _ ("degrees of freedom"), "soft");
  put (form, 3, 0, _ ("distribution"), "soft");
  for (guint i = 0; i < point->sum.n_terms; i++)
    put_line (form, (int) i + 1, sp_words_run_term (point->sum.terms[i].name), point->sum.terms[i].u_db, point->sum.terms[i].dof,
              sp_words_distribution (point->sum.terms[i].distribution), NULL);
  put_line (form, (int) point->sum.n_terms + 1, _ ("together"), point->sum.u_db, point->sum.dof, "", "strong");
}

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
  g_autofree char *u = sp_words_number (point->sum.u_db, 4, SP_HAND_SCREEN), *dof = say_dof (point->sum.dof);
  g_autofree char *text = g_strdup_printf (_ ("%s: loss %s \xc2\xb1 %s dB (U = k u, k = %s, u = %s dB, %s degrees of freedom)"), at, loss,
                                           expanded, k, u, dof);
  gtk_label_set_text (GTK_LABEL (form->sum), text);
}

static void
add_reasons (SpRunForm *form, const GPtrArray *reasons, const char *style, guint *n)
{
  for (guint i = 0; i < reasons->len && *n < REASONS_MOST; i++, ++*n) {
    g_autofree char *text = sp_words_reason (reasons->pdata[i], SP_HAND_SCREEN);
    GtkWidget *label = new_label (text, 0, style);
    gtk_label_set_wrap (GTK_LABEL (label), TRUE);
    gtk_box_append (GTK_BOX (form->reasons), label);
  }
}

void
sp_run_form_show_result (SpRunForm *form)
{
  const SpRunPoint *point = chosen_point (form);
  guint n = 0;
  show_sum (form, point);
  show_budget (form, point);
  for (GtkWidget *child; (child = gtk_widget_get_first_child (form->reasons));)
    gtk_box_remove (GTK_BOX (form->reasons), child);
  if (form->run->at->len > 0) /* before the first reading the sentence above says it */
    add_reasons (form, form->result->missing, "strong", &n);
  add_reasons (form, form->result->warnings, "soft", &n);
}
