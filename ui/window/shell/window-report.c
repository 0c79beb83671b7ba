/* window-report.c - a spreadsheet or a picture of what was found: worked out and written off the main thread, awaited by a window that closes */
#include "ui/window/shell/window-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/quantity/file.h"
#include "ui/figure/figure.h"
#include "ui/paper/export.h"
#include "ui/report/workbook/workbook.h"
#include "ui/window/pages/paper-page.h"
#include "ui/window/session/handed.h"
#include "ui/window/widgets/ask-file.h"
#include "ui/window/widgets/items.h"

#define SLOW_MS 500 /* so long nobody misses a word */

/* A window that closed before that would tell nobody that there is no report. The spreadsheet is put together in a file without a name
 * (memfd_create), so the only name that it ever has is the user's. */

typedef enum { WRITES_WORKBOOK, WRITES_TRACES, WRITES_PICTURE, WRITES_PAPER, WRITES_FIGURES } Writes; /* TRACES: a workbook with them */

typedef struct {
  SpKeptView kept;
  char *path;
  Writes writes;
  SpFigureFormat format;
  SpPaperAsked asked; /* PAPER */
} Report;

static void
report_free (gpointer data)
{
  Report *report = data;
  sp_kept_view_clear (&report->kept);
  g_free (report->path);
  g_free (report);
}

/* By the name's ending a page, else a PDF. */
static GBytes *
make_paper (const Report *r, GError **error)
{
  const SpFindings *findings = r->kept.findings;
  g_autofree char *lower = g_ascii_strdown (r->path, -1);
  g_autoptr (SpPaper) paper = r->asked.what == SP_PAPER_SLIP
                                  ? sp_paper_slip (findings, sp_paper_asked_radio (findings, r->kept.view.condition), r->asked.size)
                                  : sp_paper_report (findings, -1);
  return sp_paper_export (paper, g_str_has_suffix (lower, ".html") ? SP_PAPER_HTML : SP_PAPER_PDF, r->asked.size, error);
}

static GBytes *
make (const Report *r, GError **error)
{
  switch (r->writes) {
  case WRITES_WORKBOOK:
  case WRITES_TRACES: return sp_workbook_export (r->kept.findings, &r->kept.view, r->writes == WRITES_TRACES, error);
  case WRITES_PICTURE: return sp_figure_export (r->format, 1600, 1000, r->kept.findings, &r->kept.view, error);
  case WRITES_PAPER: return make_paper (r, error);
  case WRITES_FIGURES: break; /* several files */
  }
  g_return_val_if_reached (NULL);
}

/* Into a folder. */
static void
write_several (GTask *task, const Report *r)
{
  GError *error = NULL;
  SpFiguresAsked asked;
  sp_figures_asked_init (&asked);
  if (r->writes == WRITES_FIGURES ? sp_paper_write_figures (r->kept.findings, r->path, &asked, NULL, g_task_get_cancellable (task), &error)
                                  : sp_paper_write_slips (r->kept.findings, r->path, r->asked.size, NULL, &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

static void
write_report (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  (void) source;
  Report *r = data;
  GError *error = NULL;
  if (r->writes == WRITES_FIGURES || (r->writes == WRITES_PAPER && r->asked.what == SP_PAPER_SLIPS)) {
    write_several (task, r);
    return;
  }
  g_autoptr (GBytes) bytes = make (r, &error);
  if (bytes && g_cancellable_is_cancelled (cancellable)) /* the file that stood there is left as it was */
    g_task_return_new_error (task, G_IO_ERROR, G_IO_ERROR_CANCELLED, "cancelled");
  else if (bytes && sp_file_write (r->path, g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes), &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

static void
one_less (SpWindow *self)
{
  if (--self->reports > 0)
    return;
  g_clear_handle_id (&self->reports_slow, g_source_remove);
  g_clear_object (&self->reports_stop);
  sp_toast_hide (self->toast);
}

static void
say_written (SpWindow *self, const Report *report)
{
  g_autofree char *name = g_path_get_basename (report->path), *shown = g_filename_display_name (name);
  g_autofree char *what = g_strdup_printf (_ ("%s is written."), shown), *uri = g_filename_to_uri (report->path, NULL, NULL);
  sp_toast_show (self->toast, what, _ ("Open"), "win.open-written", g_variant_new_string (uri ? uri : ""));
}

static void
report_written (GObject *source, GAsyncResult *result, gpointer data)
{
  SpWindow *self = SP_WINDOW (source);
  g_autoptr (GError) error = NULL;
  (void) data;
  const Report *report = g_task_get_task_data (G_TASK (result));
  gboolean written = g_task_propagate_boolean (G_TASK (result), &error);
  one_less (self);
  if (!written && !g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED)) {
    self->close_after_reports = FALSE;
    sp_session_trouble (self->session, error->message, _ ("Choose another place, or make room."));
    return;
  }
  if (written)
    sp_handed_add (report->kept.findings->bench->sha256);
  if (self->close_after_reports && self->reports == 0)
    gtk_window_close (GTK_WINDOW (self));
  else if (written)
    say_written (self, report);
}

/* In the desktop's program for such files. */
void
sp_window_open_written (GtkWidget *widget, const char *action, GVariant *uri)
{
  (void) action;
  gtk_show_uri (GTK_WINDOW (widget), g_variant_get_string (uri, NULL), GDK_CURRENT_TIME);
}

/* What takes long is said, with a way to stop it. */
static gboolean
say_writing (gpointer data)
{
  SpWindow *self = data;
  self->reports_slow = 0;
  sp_toast_stay (self->toast, _ ("Being written\342\200\246"), _ ("Cancel"), "win.stop-report", NULL);
  return G_SOURCE_REMOVE;
}

void
sp_window_stop_report (GtkWidget *widget, const char *action, GVariant *parameter)
{
  SpWindow *self = SP_WINDOW (widget);
  (void) action, (void) parameter;
  if (self->reports_stop)
    g_cancellable_cancel (self->reports_stop);
}

static void
begin_report (SpWindow *self, GFile *file, Writes writes, const SpPaperAsked *asked)
{
  SpFindings *findings = sp_session_findings (self->session);
  g_autoptr (GError) error = NULL;
  g_autofree char *path = g_file_get_path (file);
  SpFigureFormat format = 0;
  if (!findings || sp_session_judging (self->session)) {
    sp_session_trouble (self->session, _ ("The bench is still being judged."), _ ("Try again in a moment."));
    return;
  }
  if (!path) {
    sp_session_trouble (self->session, _ ("A report is written on this machine only: choose a folder here."), NULL);
    return;
  }
  if (writes == WRITES_PICTURE && !sp_figure_format_of (path, &format, &error)) {
    sp_session_trouble (self->session, error->message, NULL);
    return;
  }
  Report *r = g_new0 (Report, 1);
  sp_kept_view_init (&r->kept, self->session);
  r->writes = writes;
  if (asked)
    r->asked = *asked;
  r->format = format;
  r->path = g_steal_pointer (&path);
  if (!self->reports_stop || g_cancellable_is_cancelled (self->reports_stop)) {
    g_clear_object (&self->reports_stop);
    self->reports_stop = g_cancellable_new ();
  }
  g_autoptr (GTask) task = g_task_new (self, self->reports_stop, report_written, NULL);
  g_task_set_task_data (task, r, report_free);
  g_task_set_check_cancellable (task, FALSE); /* what is written is written */
  if (self->reports++ == 0)
    self->reports_slow = g_timeout_add (SLOW_MS, say_writing, self);
  g_task_run_in_thread (task, write_report);
}

static void
spreadsheet_to (GtkWidget *window, GFile *file)
{
  begin_report (SP_WINDOW (window), file, WRITES_WORKBOOK, NULL);
}

static void
spreadsheet_with_traces_to (GtkWidget *window, GFile *file)
{
  begin_report (SP_WINDOW (window), file, WRITES_TRACES, NULL);
}

static void
picture_to (GtkWidget *window, GFile *file)
{
  begin_report (SP_WINDOW (window), file, WRITES_PICTURE, NULL);
}

void
sp_window_ask_spreadsheet (SpWindow *self, gboolean traces)
{
  sp_ask_save (GTK_WIDGET (self), _ ("Write the spreadsheet"), "*.xlsx", _ ("report.xlsx"), ".xlsx",
               traces ? spreadsheet_with_traces_to : spreadsheet_to);
}

void
sp_window_ask_picture (SpWindow *self)
{
  sp_ask_save (GTK_WIDGET (self), _ ("Write the picture: its ending says PNG, SVG or PDF"), "*", _ ("chart.png"), NULL, picture_to);
}

static void
figures_to (GtkWidget *window, GFile *folder)
{
  begin_report (SP_WINDOW (window), folder, WRITES_FIGURES, NULL);
}

void
sp_window_ask_figures (SpWindow *self)
{
  sp_ask_folder (GTK_WIDGET (self), _ ("A folder for all figures, as SVG, PDF and PNG, and their captions"), figures_to);
}

/* Asked for by the page of papers: uri, what, sheet. */
void
sp_window_write_paper (GtkWidget *widget, const char *action, GVariant *asked)
{
  const char *uri;
  guint what, size;
  (void) action;
  g_variant_get (asked, SP_PAPER_ASKED, &uri, &what, &size);
  g_autoptr (GFile) file = g_file_new_for_uri (uri);
  begin_report (SP_WINDOW (widget), file, WRITES_PAPER, &(SpPaperAsked){ (SpPaperWhat) what, (SpPaperSize) size });
}

void
sp_window_show_paper (GtkWidget *widget, const char *action, GVariant *nothing)
{
  (void) action, (void) nothing;
  gtk_widget_activate_action (widget, "win.page", "s", "report");
}

gboolean
sp_window_awaits_reports (SpWindow *self)
{
  if (self->reports == 0)
    return FALSE;
  self->close_after_reports = TRUE;
  sp_session_trouble (self->session, _ ("A report is still being written."), _ ("The window closes as soon as it is there."));
  return TRUE;
}
