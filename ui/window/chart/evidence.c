/* evidence.c - the popover with the step test of an emission */
#include "ui/window/chart/evidence.h"

#include <glib/gi18n-lib.h>

#include "ui/figure/evidence.h"
#include "ui/window/widgets/drawing-area.h"
#include "ui/window/widgets/items.h"
#include "ui/window/widgets/popover.h"
#include "ui/words/words.h"

#define PLOT_WIDTH 460
#define PLOT_HEIGHT 250
#define TEXT_CHARS 62

static void
draw (SpPen *pen, const SpRect *rect, gpointer item)
{
  sp_evidence_draw (pen, sp_found_item_at (item), rect);
}

static GtkWidget *
sentence (const char *text, const char *class)
{
  GtkWidget *label = gtk_label_new (text);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_max_width_chars (GTK_LABEL (label), TEXT_CHARS);
  gtk_label_set_width_chars (GTK_LABEL (label), TEXT_CHARS);
  if (class)
    gtk_widget_add_css_class (label, class);
  return label;
}

static char *
heading (SpFoundItem *item)
{
  const SpEmission *e = sp_found_item_at (item);
  g_autofree char *name = sp_words_emission (e, SP_HAND_SCREEN);
  if (e->origin == SP_ORIGIN_NONE)
    return g_strdup_printf (e->swept ? _ ("%s, %s: nothing was seen") : _ ("%s, %s: not swept"), sp_found_item_found (item)->name, name);
  return g_strdup_printf (_ ("%s, %s: %s"), sp_found_item_found (item)->name, name, sp_words_origin (e->origin));
}

static GtkWidget *
content (SpFoundItem *item)
{
  const SpEmission *e = sp_found_item_at (item);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  gtk_widget_set_margin_start (box, 8);
  gtk_widget_set_margin_end (box, 8);
  gtk_widget_set_margin_top (box, 4);
  gtk_widget_set_margin_bottom (box, 8);
  g_autofree char *head = heading (item), *says = sp_evidence_says (e),
                  *prove = e->would_prove ? sp_words_reason (e->would_prove, SP_HAND_SCREEN) : NULL;
  gtk_box_append (GTK_BOX (box), sentence (head, "strong"));
  if (says) {
    GtkWidget *plot = sp_paper_new (draw, item);
    gtk_widget_set_size_request (plot, PLOT_WIDTH, PLOT_HEIGHT);
    gtk_widget_set_focusable (plot, TRUE);
    sp_paper_add_copying (plot, draw, item);
    gtk_widget_set_tooltip_text (plot, _ ("Ctrl+C copies it as a picture."));
    gtk_accessible_update_property (GTK_ACCESSIBLE (plot), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Level against attenuation"),
                                    GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, says, -1);
    gtk_box_append (GTK_BOX (box), plot);
    gtk_box_append (GTK_BOX (box), sentence (says, "small"));
  } else if (e->origin != SP_ORIGIN_NONE) {
    gtk_box_append (GTK_BOX (box),
                    sentence (_ ("No sweep with more attenuation and none unkeyed: only the profile speaks for or against it."), NULL));
  }
  GtkWidget *budget = gtk_button_new_with_label (_ ("Uncertainty budget (F5)"));
  gtk_button_set_has_frame (GTK_BUTTON (budget), FALSE);
  gtk_widget_set_halign (budget, GTK_ALIGN_START);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (budget), "win.budget");
  if (prove)
    gtk_box_append (GTK_BOX (box), sentence (prove, "soft"));
  gtk_box_append (GTK_BOX (box), budget);
  return box;
}

void
sp_evidence_popup (GtkWidget *relative, SpSession *session)
{
  SpFindings *findings = sp_session_findings (session);
  guint condition = sp_session_condition (session);
  int emission = sp_session_emission (session);
  if (!findings || condition >= findings->n || emission < 0 || emission >= (int) findings->conditions[condition].n_emissions) {
    sp_session_trouble (session, _ ("No emission is chosen."), _ ("Choose one in the ledger or on the chart."));
    return;
  }
  SpFoundItem *item = sp_found_item_new (findings, condition, emission);
  sp_popover_show (relative, content (item), _ ("Evidence"), 0, G_OBJECT (item)); /* which draws it */
}
