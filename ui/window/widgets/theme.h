/* theme.h - the sheet's colours as a style, light or dark as the desktop says or the user wants */
#pragma once

#include <gtk/gtk.h>

typedef enum { SP_THEME_FOLLOW, SP_THEME_LIGHT, SP_THEME_DARK } SpTheme;

/* Puts the style on the display and follows the desktop's preference (settings portal, org.freedesktop.appearance), its text size and a theme of high
 * contrast. Call once.
 * `family`: of the widgets' type, kept by the caller; NULL: Inter. */
void sp_theme_start (SpTheme theme, const char *family);
void sp_theme_set (SpTheme theme);
SpTheme sp_theme_get (void);
/* What is shown now. */
gboolean sp_theme_is_dark (void);
/* The desktop's text size over the usual one; and `px` in it: what holds text and is not measured by the style. */
double sp_theme_text_scale (void);
int sp_theme_text_px (int px);
/* The desktop's theme is one of high contrast. */
gboolean sp_theme_is_strong (void);
/* Called after each change of dark and light, until the owner is gone. */
void sp_theme_watch (GObject *owner, void (*changed) (gpointer owner));

const char *sp_theme_name (SpTheme theme); /* "follow" "light" "dark" */
SpTheme sp_theme_named (const char *name); /* SP_THEME_FOLLOW where it is none of them */
