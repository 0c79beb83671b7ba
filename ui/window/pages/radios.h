/* radios.h - the list at the left: a row for each condition, and what the chosen one still wants
 *
 * Its rows and the empty space below take dropped files. Actions of the window work on the chosen row.
 */
#pragma once

#include <gtk/gtk.h>

#include "ui/window/session/session.h"

#define SP_TYPE_RADIOS (sp_radios_get_type ())
G_DECLARE_FINAL_TYPE (SpRadios, sp_radios, SP, RADIOS, GtkBox)

GtkWidget *sp_radios_new (SpSession *session);
void sp_radios_find (SpRadios *radios); /* the focus goes to the search, or to the list where there is none */
/* On a low window the rows come first: twelve of them where 1024x640 are there. */
void sp_radios_set_low (SpRadios *radios, gboolean low);
