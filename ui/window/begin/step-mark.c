/* step-mark.c - the next step of the job as a button of a few words */
#include "ui/window/begin/step-mark.h"

#include <glib/gi18n-lib.h>

#include "ui/window/begin/steps.h"
#include "ui/window/widgets/tooltip.h"
#include "ui/words/help.h"

static void
follow (GtkWidget *mark, GParamSpec *what, SpSession *session)
{
  SpJob job = sp_steps_job (session);
  (void) what;
  gtk_widget_set_visible (mark, job.next >= 0);
  if (job.next < 0)
    return;
  SpJobStep step = (SpJobStep) job.next;
  g_autofree char *said = g_strdup_printf (_ ("step %u"), step + 1), *state = sp_words_job_state (&job, step);
  g_autofree char *tip = g_strdup_printf (_ ("Step %u of %u, %s, %s: %s. Leads there (Shift+Enter)."), step + 1, SP_JOB_STEPS,
                                          sp_words_job_step (step), sp_words_job_about (step), state);
  gtk_button_set_label (GTK_BUTTON (mark), said);
  sp_tip_set (mark, tip);
}

GtkWidget *
sp_step_mark_new (SpSession *session)
{
  GtkWidget *mark = gtk_button_new ();
  gtk_widget_add_css_class (mark, "mark");
  gtk_actionable_set_action_name (GTK_ACTIONABLE (mark), "win.next-step");
  g_signal_connect_object (session, "notify::title", G_CALLBACK (follow), mark, G_CONNECT_SWAPPED); /* of any edit */
  g_signal_connect_object (session, "notify::findings", G_CALLBACK (follow), mark, G_CONNECT_SWAPPED);
  follow (mark, NULL, session);
  return mark;
}
