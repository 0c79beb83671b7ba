/* steps.c - the list of the job's steps */
#include "ui/window/begin/steps.h"

#include <glib/gi18n-lib.h>

#include "ui/window/session/handed.h"
#include "ui/window/widgets/drawing-area.h"
#include "ui/window/widgets/theme.h"
#include "ui/window/widgets/tooltip.h"
#include "ui/words/help.h"

#define BOX 14 /* of a tick */

#define SP_TYPE_STEPS (sp_steps_get_type ())
G_DECLARE_FINAL_TYPE (SpSteps, sp_steps, SP, STEPS, GtkWidget)

struct _SpSteps {
  GtkWidget parent_instance;
  SpSession *session;
  SpJob job;                       /* as shown */
  GtkWidget *whole, *count, *list; /* of the template */
  GtkWidget *ticks[SP_JOB_STEPS], *states[SP_JOB_STEPS];
};

G_DEFINE_FINAL_TYPE (SpSteps, sp_steps, GTK_TYPE_WIDGET)

SpJob
sp_steps_job (SpSession *session)
{
  const SpBench *bench = sp_session_bench (session);
  return sp_job (bench, sp_session_findings (session), sp_handed_has (bench->sha256));
}

static void
draw_tick (SpPen *pen, const SpRect *rect, gpointer done)
{
  double x = rect->width / 2 - BOX / 2.0 + 0.5, y = rect->height / 2 - BOX / 2.0 + 0.5;
  cairo_rectangle (pen->cr, x, y, BOX - 1, BOX - 1);
  sp_pen_colour (pen, &pen->palette->ink, 1);
  cairo_set_line_width (pen->cr, 1.2);
  cairo_stroke (pen->cr);
  if (!*(const gboolean *) done)
    return;
  cairo_move_to (pen->cr, x + 3, y + 7);
  cairo_line_to (pen->cr, x + 6, y + 10);
  cairo_line_to (pen->cr, x + 11, y + 3);
  cairo_set_line_width (pen->cr, 2);
  cairo_stroke (pen->cr);
}

static GtkWidget *
label (const char *text, const char *style)
{
  GtkWidget *label = gtk_label_new (text);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
  gtk_widget_add_css_class (label, style);
  return label;
}

static GtkWidget *
new_row (SpSteps *self, SpJobStep step)
{
  GtkWidget *row = gtk_list_box_row_new (), *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10),
            *text = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  self->ticks[step] = sp_paper_new (draw_tick, &self->job.done[step]);
  self->states[step] = label ("", "small");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->ticks[step]), GTK_ACCESSIBLE_PROPERTY_LABEL, sp_words_job_step (step), -1);
  gtk_widget_set_size_request (self->ticks[step], sp_theme_text_px (BOX + 2), sp_theme_text_px (BOX + 2));
  gtk_widget_set_valign (self->ticks[step], GTK_ALIGN_CENTER);
  gtk_widget_set_valign (self->states[step], GTK_ALIGN_CENTER);
  gtk_widget_set_hexpand (text, TRUE);
  gtk_box_append (GTK_BOX (text), label (sp_words_job_step (step), "strong"));
  gtk_box_append (GTK_BOX (text), label (sp_words_job_about (step), "soft"));
  gtk_box_append (GTK_BOX (box), self->ticks[step]);
  gtk_box_append (GTK_BOX (box), text);
  gtk_box_append (GTK_BOX (box), self->states[step]);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  gtk_actionable_set_action_target (GTK_ACTIONABLE (row), "i", (int) step);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (row), "win.step");
  return row;
}

static void
follow (SpSteps *self)
{
  self->job = sp_steps_job (self->session);
  g_autofree char *count = g_strdup_printf (_ ("%u of %u"), self->job.n_done, SP_JOB_STEPS);
  gtk_label_set_text (GTK_LABEL (self->count), count);
  for (int step = 0; step < SP_JOB_STEPS; step++) {
    GtkWidget *row = GTK_WIDGET (gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), step));
    g_autofree char *state = sp_words_job_state (&self->job, (SpJobStep) step);
    gboolean now = step == self->job.next;
    g_autofree char *spoken = g_strdup_printf (_ ("%s, %s: %s"), sp_words_job_step ((SpJobStep) step),
                                               sp_words_job_about ((SpJobStep) step), state);
    gtk_label_set_text (GTK_LABEL (self->states[step]), now ? _ ("now") : "");
    sp_tip_set (row, state);
    gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken, -1);
    if (now)
      gtk_widget_add_css_class (row, "now");
    else
      gtk_widget_remove_css_class (row, "now");
    gtk_widget_queue_draw (self->ticks[step]);
  }
}

static void
sp_steps_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), SP_TYPE_STEPS);
  g_clear_object (&SP_STEPS (object)->session);
  G_OBJECT_CLASS (sp_steps_parent_class)->dispose (object);
}

static void
sp_steps_class_init (SpStepsClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  sp_pages_style ();
  G_OBJECT_CLASS (klass)->dispose = sp_steps_dispose;
  gtk_widget_class_set_template_from_resource (widget, "/spurproof/pages/steps.ui");
  gtk_widget_class_bind_template_child (widget, SpSteps, whole); /* what is not bound is not disposed of */
  gtk_widget_class_bind_template_child (widget, SpSteps, count);
  gtk_widget_class_bind_template_child (widget, SpSteps, list);
}

static void
sp_steps_init (SpSteps *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  for (int step = 0; step < SP_JOB_STEPS; step++)
    gtk_list_box_append (GTK_LIST_BOX (self->list), new_row (self, (SpJobStep) step));
}

GtkWidget *
sp_steps_new (SpSession *session)
{
  SpSteps *self = g_object_new (SP_TYPE_STEPS, NULL);
  self->session = g_object_ref (session);
  g_signal_connect_object (session, "notify::title", G_CALLBACK (follow), self, G_CONNECT_SWAPPED); /* of any edit */
  g_signal_connect_object (session, "notify::findings", G_CALLBACK (follow), self, G_CONNECT_SWAPPED);
  g_signal_connect_swapped (self, "map", G_CALLBACK (follow), self); /* a report may have been written */
  follow (self);
  return GTK_WIDGET (self);
}
