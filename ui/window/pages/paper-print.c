/* paper-print.c - pages recorded in a thread, played to the printer */
#include "ui/window/pages/paper-print.h"

#include <errno.h>
#include <glib/gi18n-lib.h>

#include "ui/paper/pages.h"

typedef struct {
  SpFindings *findings;
  guint condition;
  SpPaperAsked asked;
  GPtrArray *pages; /* cairo_surface_t*: each page as it was drawn, so that no layout passes from thread to thread */
  char *title;
  void (*trouble) (GtkWidget *page, const char *what);
} Job;

static void
job_free (gpointer data)
{
  Job *job = data;
  sp_findings_unref (job->findings);
  g_ptr_array_unref (job->pages);
  g_free (job->title);
  g_free (job);
}

guint
sp_paper_asked_radio (const SpFindings *findings, guint condition)
{
  return findings->bench->conditions[findings->conditions[condition].condition].radio;
}

SpPaper *
sp_paper_asked (const SpFindings *findings, guint condition, const SpPaperAsked *asked)
{
  return asked->what == SP_PAPER_SLIP ? sp_paper_slip (findings, sp_paper_asked_radio (findings, condition), asked->size)
                                      : sp_paper_report (findings, -1);
}

static void
record (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Job *job = data;
  (void) source, (void) cancellable;
  g_autoptr (SpPaper) paper = sp_paper_asked (job->findings, job->condition, &job->asked);
  g_autoptr (SpPages) pages = sp_pages_new (paper, job->asked.size);
  gboolean drawn = TRUE;
  job->title = g_strdup (paper->title);
  for (guint i = 0; i < sp_pages_count (pages); i++) {
    cairo_surface_t *page = sp_pen_recording ();
    cairo_t *cr = cairo_create (page);
    errno = 0; /* want of memory is read from it */
    drawn = sp_pages_draw (pages, i, cr) && drawn;
    cairo_destroy (cr);
    g_ptr_array_add (job->pages, page);
  }
  g_task_return_boolean (task, drawn);
}

static void
draw_page (GtkPrintOperation *operation, GtkPrintContext *context, int page, Job *job)
{
  cairo_t *cr = gtk_print_context_get_cairo_context (context);
  double width, height, wide = gtk_print_context_get_width (context), high = gtk_print_context_get_height (context);
  (void) operation;
  sp_pages_sheet (job->asked.size, &width, &height);
  double scale = MIN (wide / width, high / height); /* another sheet may have been chosen in the dialog: nothing is bent */
  cairo_translate (cr, (wide - width * scale) / 2, (high - height * scale) / 2);
  cairo_scale (cr, scale, scale);
  cairo_set_source_surface (cr, g_ptr_array_index (job->pages, page), 0, 0);
  cairo_paint (cr);
}

static void
on_done (GtkPrintOperation *operation, GtkPrintOperationResult result, GTask *task)
{
  g_autoptr (GError) error = NULL;
  Job *job = g_task_get_task_data (task);
  if (result == GTK_PRINT_OPERATION_RESULT_ERROR) {
    gtk_print_operation_get_error (operation, &error);
    job->trouble (GTK_WIDGET (g_task_get_source_object (task)), error ? error->message : _ ("It could not be printed."));
  }
}

static void
unref_task (gpointer task, GClosure *closure)
{
  (void) closure;
  g_object_unref (task);
}

static GtkPageSetup *
setup_of (SpPaperSize size)
{
  static const char *const names[SP_N_PAPERS] = {
    [SP_PAPER_A4] = GTK_PAPER_NAME_A4, [SP_PAPER_LETTER] = GTK_PAPER_NAME_LETTER, [SP_PAPER_A5] = GTK_PAPER_NAME_A5
  };
  GtkPageSetup *setup = gtk_page_setup_new ();
  GtkPaperSize *sheet = gtk_paper_size_new (names[size]);
  gtk_page_setup_set_paper_size (setup, sheet);
  gtk_paper_size_free (sheet);
  return setup;
}

static void
on_recorded (GObject *source, GAsyncResult *result, gpointer data)
{
  GTask *task = G_TASK (result);
  Job *job = g_task_get_task_data (task);
  g_autoptr (GError) error = NULL;
  (void) data;
  if (!g_task_propagate_boolean (task, NULL)) {
    job->trouble (GTK_WIDGET (source), _ ("The pages could not be drawn: there is no memory for them."));
    return;
  }
  g_autoptr (GtkPrintOperation) operation = gtk_print_operation_new ();
  g_autoptr (GtkPageSetup) setup = setup_of (job->asked.size);
  gtk_print_operation_set_default_page_setup (operation, setup);
  gtk_print_operation_set_n_pages (operation, (int) job->pages->len);
  gtk_print_operation_set_use_full_page (operation, TRUE);
  gtk_print_operation_set_job_name (operation, job->title);
  gtk_print_operation_set_allow_async (operation, TRUE);
  g_signal_connect (operation, "draw-page", G_CALLBACK (draw_page), job);
  g_signal_connect_data (operation, "done", G_CALLBACK (on_done), g_object_ref (task), unref_task, 0); /* the task keeps the job */
  if (gtk_print_operation_run (operation, GTK_PRINT_OPERATION_ACTION_PRINT_DIALOG, GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (source))),
                               &error)
      == GTK_PRINT_OPERATION_RESULT_ERROR)
    job->trouble (GTK_WIDGET (source), error ? error->message : _ ("It could not be printed."));
}

void
sp_paper_print (GtkWidget *page, const SpFindings *findings, guint condition, const SpPaperAsked *asked,
                void (*trouble) (GtkWidget *page, const char *what))
{
  Job *job = g_new0 (Job, 1);
  job->findings = sp_findings_ref (findings);
  job->condition = condition;
  job->asked = *asked;
  job->trouble = trouble;
  job->pages = g_ptr_array_new_with_free_func ((GDestroyNotify) cairo_surface_destroy);
  g_autoptr (GTask) task = g_task_new (page, NULL, on_recorded, NULL);
  g_task_set_task_data (task, job, job_free);
  g_task_run_in_thread (task, record);
}
