/* pages.h - the window's further pages and the small dialogs that edit the bench; each binds to the session alone
 */
#pragma once

#include <gtk/gtk.h>

#include "ui/window/session.h"

/* Stages with their values and points, loss curves, node levels; every change one undoable edit. */
GtkWidget *sp_chain_page_new (SpSession *session);
/* Chooses a stage there and gives it the focus. */
void sp_chain_page_show_stage (GtkWidget *page, guint stage);
/* Noise, distortion and floor of the chosen condition against the level at the mixer; a point that is moved; how to sweep. Edits nothing. */
GtkWidget *sp_range_page_new (SpSession *session);
/* Conditions side by side. */
GtkWidget *sp_compare_page_new (SpSession *session);

/* Name, owner, serial, frequency, power, meter, mode, mask ... of a condition and its radio, and its sweeps (purpose, settings as read, options, remove). */
void sp_condition_dialog_present (GtkWindow *parent, SpSession *session, guint condition);
/* Title, date, operator, place, mask, rule, temperature, bandwidth, reflections. */
void sp_bench_dialog_present (GtkWindow *parent, SpSession *session);
/* The analyzer's profile, key by key. */
void sp_analyzer_dialog_present (GtkWindow *parent, SpSession *session);
