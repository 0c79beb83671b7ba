/* reading.c - reads files off the main thread */
#include "ui/window/session/reading.h"

#include <glib/gi18n-lib.h>
#include <gtk/gtk.h>

#include "core/quantity/error.h"

/* Not the task's data: a task may free that in its thread, and the owner may be a window. */
typedef struct {
  GObject *owner;
  char *path, *address; /* address: where it is instead, if there is no path */
  const SpFileReading *reading;
  gpointer asked;
} Job;

static guint under_way;

guint
sp_readings_under_way (void)
{
  return under_way;
}

static void
read_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  const Job *job = data;
  GError *error = NULL;
  gpointer value = NULL;
  (void) source, (void) cancellable;
  if (job->address)
    sp_fail (&error, SP_ERROR_IO, _ ("%s: not on this computer; copy it here first"), job->address);
  else
    value = job->reading->read (job->path, job->asked, &error);
  if (value)
    g_task_return_pointer (task, value, job->reading->free_value);
  else
    g_task_return_error (task, error);
}

static void
job_free (Job *job)
{
  if (job->reading->free_asked)
    job->reading->free_asked (job->asked);
  g_object_unref (job->owner);
  g_free (job->path);
  g_free (job->address);
  g_free (job);
}

static void
on_read (GObject *source, GAsyncResult *result, gpointer data)
{
  Job *job = data;
  GError *error = NULL;
  gpointer value = g_task_propagate_pointer (G_TASK (result), &error);
  (void) source;
  under_way--;
  if (!GTK_IS_WIDGET (job->owner) || gtk_widget_get_realized (GTK_WIDGET (job->owner)))
    job->reading->done (job->owner, job->asked, value, error);
  else {
    if (value)
      job->reading->free_value (value);
    g_clear_error (&error);
  }
  job_free (job);
}

/* A window that its reading keeps may outlive its parent, which GTK would look up once more. */
static void
stand_alone (GtkWindow *window)
{
  gtk_window_set_transient_for (window, NULL);
}

void
sp_reading_begin (gpointer owner, GFile *file, const SpFileReading *reading, gpointer asked)
{
  Job *job = g_new0 (Job, 1);
  GtkRoot *window = GTK_IS_WIDGET (owner) ? gtk_widget_get_root (owner) : NULL;
  GtkWindow *over = window ? gtk_window_get_transient_for (GTK_WINDOW (window)) : NULL;
  if (over)
    g_signal_connect_object (over, "destroy", G_CALLBACK (stand_alone), window, G_CONNECT_SWAPPED);
  job->owner = g_object_ref (owner);
  job->path = file ? g_file_get_path (file) : NULL;
  job->address = file && !job->path ? g_file_get_uri (file) : NULL;
  job->reading = reading;
  job->asked = asked;
  g_autoptr (GTask) task = g_task_new (NULL, NULL, on_read, job);
  g_task_set_task_data (task, job, NULL);
  under_way++;
  g_task_run_in_thread (task, read_in_thread);
}
