/* plot.h - the spectrum: frequency against the level at the socket, in layers that a window can keep apart
 *
 * sp_plot_new() lays out and reduces; the layers only draw. From the bottom: ground (grid, floor, blind zone, limit, axes), traces, ladder
 * (rungs, emissions, everything written), pointer. A new view or other findings want a new plot; a pointer that moves only its own layer.
 */
#pragma once

#include "ui/figure/pen/pen.h"
#include "ui/figure/pen/scale.h"
#include "ui/figure/pen/view.h"
#include "ui/figure/plot/pyramid.h"

typedef struct SpPlot SpPlot;

/* Keeps a reference to the findings. `rect` holds everything: numbers, names, ladder heads. (transfer full) */
SpPlot *sp_plot_new (SpPen *pen, const SpFindings *findings, const SpView *view, const SpRect *rect);
/* The same for callers that lay out the same findings repeatedly: `pyramids` belongs to these findings, is filled here and outlives
 * the plot. */
SpPlot *sp_plot_new_again (SpPen *pen, const SpFindings *findings, const SpView *view, const SpRect *rect, SpPyramids *pyramids);
void sp_plot_free (SpPlot *plot);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpPlot, sp_plot_free)

void sp_plot_draw_ground (SpPlot *plot, SpPen *pen);
void sp_plot_draw_traces (SpPlot *plot, SpPen *pen);
void sp_plot_draw_ladder (SpPlot *plot, SpPen *pen);
/* Of the ladder's no more than the emissions' marks. */
void sp_plot_draw_marks (SpPlot *plot, SpPen *pen);
void sp_plot_draw_pointer (SpPlot *plot, SpPen *pen, double frequency_hz); /* NaN or outside the view: nothing */

/* Draws the four layers, the last at the view's pointer. */
void sp_plot_draw (SpPlot *plot, SpPen *pen);

/* Rectangle of the read-out at the pointer, for callers that redraw only that; the pointer's line is at its frequency from the area's
 * top - 3 to its foot. FALSE: none is drawn. */
gboolean sp_plot_pointer_box (SpPlot *plot, SpPen *pen, double frequency_hz, SpRect *box);

/* From the ruler to a place, in words: "+146 MHz, -38.6 dB". (transfer full) */
char *sp_plot_says_between (const SpFindings *findings, guint condition, double ruler_hz, double frequency_hz);
/* The note of the chosen condition that is pinned within a few points of a place; -1: none. */
int sp_plot_note_at (const SpPlot *plot, double x, double y);

const SpRect *sp_plot_area (const SpPlot *plot);           /* inside the axes */
const SpAxis *sp_plot_frequency_axis (const SpPlot *plot); /* the chosen condition's */
/* A condition's own: by harmonic it is over its own carrier and a step aside, else the same for all. */
SpAxis sp_plot_axis_of (const SpPlot *plot, guint condition);
const SpAxis *sp_plot_level_axis (const SpPlot *plot);

/* TRUE if the condition is drawn: shown, and by harmonic with a carrier of its own. */
gboolean sp_plot_draws (const SpPlot *plot, guint condition);

/* Ranges where the chosen condition is blind, floor above limit, ascending in frequency; tests read them by sp_plot_blind_runs(). */
typedef struct {
  double from_hz, to_hz;
  /* The lowest floor in it, per column: no emission below could have been seen; +INFINITY: none at all */
  double least_floor_dbm;
} SpBlindRun;
const SpBlindRun *sp_plot_blind_runs (const SpPlot *plot, guint *n);
