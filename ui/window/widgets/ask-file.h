/* ask-file.h - asks for files to read, or for one to write
 *
 * The one place here that knows the chooser of GTK 4.8, which later versions replace. It opens where the last file was read from, or
 * written to.
 */
#pragma once

#include <gtk/gtk.h>

/* `pattern`: "*.mask", several as "*.benchbook *.sheet", or "*" for any. `owner`: a window, or a widget of the one that
 * asks. `chosen` is called once a file was picked, and not at all otherwise; `owner` is kept until then. */
void sp_ask_file (GtkWidget *owner, const char *title, const char *pattern, void (*chosen) (GtkWidget *owner, GFile *file));
/* Several at once: a list of GFile. */
void sp_ask_files (GtkWidget *owner, const char *title, const char *pattern, void (*chosen) (GtkWidget *owner, GListModel *files));
/* A place to write to. `name`: what it is called at first; `ending`: what a name gets that has not got it (".run"), NULL: none. The chooser asks before an
 * existing file is taken; where the ending made it one, it is asked here. */
void sp_ask_save (GtkWidget *owner, const char *title, const char *pattern, const char *name, const char *ending,
                  void (*chosen) (GtkWidget *owner, GFile *file));
/* A folder to write several files into. */
void sp_ask_folder (GtkWidget *owner, const char *title, void (*chosen) (GtkWidget *owner, GFile *folder));
/* Where it is, or its address where it is on no disk here: reading that says so. (transfer full) */
char *sp_ask_file_path (GFile *file);
/* For tests: the next question is answered with `file`, and nothing is shown. (transfer full)
 * From outside: SPURPROOF_TEST_ANSWER=ANSWER:ANSWER..., one for each question in turn; the files of one answer are parted by ';'. */
void sp_ask_file_answer (GFile *file);
