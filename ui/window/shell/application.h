/* application.h - the program with a window: opens books and sheets, the last book, or at the first start the invented sample
 *
 * Told to end by SIGTERM, SIGHUP or SIGINT, it takes what is typed, saves every window's book and drafts without a question, and ends by that signal.
 */
#pragma once

#include <gtk/gtk.h>

#define SP_APPLICATION_NO_DISPLAY 3 /* what the program ends with where no display answers; app/start knows it */

#define SP_TYPE_APPLICATION (sp_application_get_type ())
G_DECLARE_FINAL_TYPE (SpApplication, sp_application, SP, APPLICATION, GtkApplication)

/* `samples`: the folder with club.sheet, which the first start opens, and blank.sheet, which a new book begins with. */
SpApplication *sp_application_new (const char *samples);
