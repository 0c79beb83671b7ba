/* chart.h - the spectrum as a widget: the figure's plot in layers, each a render node of its own, so that moving the pointer redraws no
 * curve
 *
 * Wheel and pinch zoom about the pointer, dragging pans, a box (drag with the right button or with Shift) zooms in, double click fits, a
 * click chooses; back and forward; linear and log; the keyboard walks from emission to emission (chart-gestures.c and chart-keys.c list
 * it all). Levels stay while frequencies zoom, and have a zoom of their own. A gesture is one step for "back", however many frames it took. Follows the session's
 * findings, choice and view, and writes pointer, choice and view back.
 */
#pragma once

#include <gtk/gtk.h>

#include "ui/window/session/session.h"

#define SP_TYPE_CHART (sp_chart_get_type ())
G_DECLARE_FINAL_TYPE (SpChart, sp_chart, SP, CHART, GtkWidget)

GtkWidget *sp_chart_new (SpSession *session);
void sp_chart_set_dark (SpChart *chart, gboolean dark);
/* What the menus and keys call: widget actions "chart.zoom-in", "chart.zoom-out", "chart.fit", "chart.back", "chart.forward",
 * "chart.logarithmic", "chart.by-harmonic", "chart.all-sweeps" and "chart.relative" (toggles), "chart.next-emission", "chart.previous-emission", "chart.levels-in", "chart.levels-out",
 * "chart.levels-up", "chart.levels-down". */
