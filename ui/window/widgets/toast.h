/* toast.h - a sentence on what was just done, over the foot of a page for some seconds, with one button: to take it back, or to look at it
 *
 * It takes no focus. It stays while the pointer or the focus is on it; another one takes its place.
 */
#pragma once

#include <gtk/gtk.h>

#define SP_TYPE_TOAST (sp_toast_get_type ())
G_DECLARE_FINAL_TYPE (SpToast, sp_toast, SP, TOAST, GtkWidget)

/* `action` with `target` (NULL, or floating) is what the button calls. */
void sp_toast_show (SpToast *toast, const char *what, const char *button, const char *action, GVariant *target);
/* The same of what is still being done: it stays until another takes its place. */
void sp_toast_stay (SpToast *toast, const char *what, const char *button, const char *action, GVariant *target);
/* What it said does not hold any more. */
void sp_toast_hide (SpToast *toast);
