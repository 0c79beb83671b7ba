/* staircase.h - the chain as a staircase that can be edited: a tread is dragged to another place, clicked to be edited, and takes a file that gives its loss
 *
 * Keys, where it has the focus: Left and Right choose a tread, Shift with them moves it, Enter edits it ("win.edit-stage" with its index).
 */
#pragma once

#include <gtk/gtk.h>

#include "ui/window/session/session.h"

#define SP_TYPE_STAIRCASE (sp_staircase_get_type ())
G_DECLARE_FINAL_TYPE (SpStaircase, sp_staircase, SP, STAIRCASE, GtkDrawingArea)

GtkWidget *sp_staircase_new (SpSession *session);
/* The chosen tread as a stage's index; -1: none. */
int sp_staircase_chosen (SpStaircase *staircase);
