/* check-form-result.c - what a check gives: the correction at the chosen place with its budget, the curve, what is left of the stated errors */
#include <glib/gi18n-lib.h>
#include <math.h>

#include "ui/figure/correction.h"
#include "ui/window/run/check-form-private.h"
#include "ui/window/widgets/drawing-area.h"
#include "ui/words/words.h"

static void
draw_curve (SpPen *pen, const SpRect *rect, gpointer owner)
{
  SpCheckForm *form = owner;
  if (form->result)
    sp_correction_draw (pen, form->result, rect);
}

static void
draw_left (SpPen *pen, const SpRect *rect, gpointer owner)
{
  const SpCheckBar *bar = owner;
  if (bar->form->result)
    sp_correction_draw_left (pen, bar->form->result, bar->left, rect);
}

static void
add_left_titles (SpCheckForm *form)
{
  static const char *const titles[] = { N_ ("stated u"), N_ ("left") };
  for (int i = 0; i < 2; i++)
    gtk_grid_attach (GTK_GRID (form->left), sp_form_label_new (_ (titles[i]), 1, "soft"), i + 1, 0, 1, 1);
}

void
sp_check_form_set_up_result (SpCheckForm *form)
{
  form->curve = sp_paper_new (draw_curve, form);
  gtk_widget_set_hexpand (form->curve, TRUE);
  gtk_widget_set_vexpand (form->curve, TRUE);
  gtk_box_append (GTK_BOX (form->curve_holder), form->curve);
  add_left_titles (form);
  for (int i = 0; i < SP_CHECK_FORM_LEFT; i++) {
    form->left_words[i] = sp_form_label_new ("", 0, NULL);
    form->left_stated[i] = sp_form_label_new ("", 1, "soft");
    form->left_u[i] = sp_form_label_new ("", 1, "strong");
    form->bar[i] = (SpCheckBar){ form, (guint) i };
    form->left_bar[i] = sp_paper_new (draw_left, &form->bar[i]);
    gtk_widget_set_hexpand (form->left_bar[i], TRUE);
    gtk_accessible_update_state (GTK_ACCESSIBLE (form->left_bar[i]), GTK_ACCESSIBLE_STATE_HIDDEN, TRUE, -1);
    GtkWidget *const cells[] = { form->left_words[i], form->left_stated[i], form->left_u[i], form->left_bar[i] };
    for (int k = 0; k < 4; k++)
      gtk_grid_attach (GTK_GRID (form->left), cells[k], k, i + 1, 1, 1);
  }
}

static const SpCheckPoint *
chosen_point (SpCheckForm *form)
{
  for (guint i = 0; i < form->result->n; i++) {
    const SpCheckPoint *point = &form->result->points[i];
    if (point->frequency_hz == form->chosen_hz && (point->attenuation_db == form->chosen_db || isnan (form->chosen_db)))
      return point;
  }
  return form->result->n ? &form->result->points[0] : NULL;
}

static void
show_sum (SpCheckForm *form, const SpCheckPoint *point)
{
  if (!point) {
    gtk_label_set_text (GTK_LABEL (form->sum),
                        _ ("The correction stands here once one frequency has a known level and what the analyzer shows of it."));
    return;
  }
  g_autofree char *at = sp_words_check_place (point, SP_HAND_SCREEN), *value = sp_words_signed (point->correction_db, 3, SP_HAND_SCREEN);
  g_autofree char *expanded = sp_words_number (point->sum.expanded_db, 3, SP_HAND_SCREEN),
                  *k = sp_words_number (point->sum.k, 2, SP_HAND_SCREEN);
  g_autofree char *u = sp_words_number (point->sum.u_db, 4, SP_HAND_SCREEN), *dof = sp_form_dof (point->sum.dof);
  g_autofree char *text = g_strdup_printf (_ ("%s: correction %s \xc2\xb1 %s dB (U = k u, k = %s, u = %s dB, %s degrees of freedom)"), at,
                                           value, expanded, k, u, dof);
  g_autofree char *off_curve = g_strdup_printf (_ ("%s. The curve has no point of this setting."), text);
  gtk_label_set_text (GTK_LABEL (form->sum), point->on_curve ? text : off_curve);
}

static void
show_left (SpCheckForm *form)
{
  for (guint i = 0; i < SP_CHECK_FORM_LEFT; i++) {
    const SpCheckLeft *left = i < form->result->n_left ? &form->result->left[i] : NULL;
    g_autofree char *stated = left ? sp_words_number (left->stated_u_db, 2, SP_HAND_SCREEN) : g_strdup ("");
    g_autofree char *u = left ? sp_words_number (left->left_u_db, 2, SP_HAND_SCREEN) : g_strdup ("");
    g_autofree char *both = left && left->assumed ? g_strdup_printf (_ ("%s, assumed"), stated) : g_steal_pointer (&stated);
    gtk_label_set_text (GTK_LABEL (form->left_words[i]), left ? sp_words_check_left (left->term) : "");
    gtk_label_set_text (GTK_LABEL (form->left_stated[i]), both);
    gtk_label_set_text (GTK_LABEL (form->left_u[i]), u);
    gtk_widget_queue_draw (form->left_bar[i]);
  }
  gtk_widget_set_visible (gtk_widget_get_parent (form->left), form->result->n_left > 0);
}

void
sp_check_form_show_result (SpCheckForm *form)
{
  const SpCheckPoint *point = chosen_point (form);
  g_autofree char *says = sp_correction_says (form->result);
  show_sum (form, point);
  sp_form_show_budget (form->budget, point ? &point->sum : NULL, sp_words_check_term);
  sp_form_clear_box (form->reasons);
  if (form->check->at->len > 0) { /* before the first reading the sentence above says it */
    sp_form_add_reasons (form->reasons, form->result->missing, "strong");
    sp_form_add_reasons (form->reasons, form->result->warnings, "soft");
  }
  show_left (form);
  gtk_accessible_update_property (GTK_ACCESSIBLE (form->curve), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Correction against frequency"),
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, says, -1);
  gtk_widget_queue_draw (form->curve);
}
