/* plot-private.h - data and helpers shared by the layers of the spectrum */
#pragma once

#include "ui/figure/plot/plot.h"
#include "ui/figure/plot/reduce.h"

#define SP_PLOT_DBC_WIDTH 52 /* numbers of the dBc axis */

/* A corrected sweep as columns. */
typedef struct {
  guint condition;
  const SpCorrected *corrected;
  guint n; /* columns over the whole frequency axis; 0: few points, each is drawn */
  SpColumn *columns;
  SpPurpose purpose;
  gboolean judged; /* else faint: for display only */
} SpReduced;

struct SpPlot {
  SpFindings *findings;
  SpPyramids *pyramids; /* NULL: none; owned by the caller */
  SpView view;
  const SpConditionFindings *chosen; /* NULL: nothing to show */
  SpRect outer, area;
  SpAxis x, y;
  GArray *traces;    /* SpReduced, from the bottom up */
  guint n;           /* columns of floor and limit */
  double *floor_dbm; /* the chosen condition's: NaN not swept, may be +INFINITY */
  guint8 *cause;
  double *limit_dbm; /* NaN: no limit */
  GArray *blind;     /* SpBlindRun */
  GArray *taken;     /* SpRect: occupied by text */
};

/* A possible start of a text. */
typedef struct {
  double x, baseline;
} SpSpot;

/* plot.c */
double sp_plot_column_x (const SpPlot *plot, guint column); /* middle of a floor column */
double sp_plot_y (const SpPlot *plot, double level_dbm);    /* limited to slightly outside the area */
/* Where an emission that was seen stands in the area; FALSE: outside it, or not seen. */
gboolean sp_plot_emission_place (const SpPlot *plot, const SpEmission *emission, double *x, double *y);
gboolean sp_plot_is_free (const SpPlot *plot, const SpRect *rect);
void sp_plot_take (SpPlot *plot, const SpRect *rect);
/* Writes at the first of `n` positions (x, baseline of the left end) that is free and inside; FALSE: none is. */
gboolean sp_plot_write (SpPlot *plot, SpPen *pen, SpTextStyle style, const SpColour *colour, const char *text, const SpSpot *places,
                        guint n);
/* The unit of the frequency axis; *factor is its Hz. */
const char *sp_plot_unit (const SpPlot *plot, double *factor);

/* floor.c */
void sp_plot_reduce_floor (SpPlot *plot);
void sp_plot_draw_floor (SpPlot *plot, SpPen *pen);
void sp_plot_draw_causes (SpPlot *plot, SpPen *pen);

/* blind.c */
void sp_plot_find_blind (SpPlot *plot);
void sp_plot_draw_blind (SpPlot *plot, SpPen *pen);
void sp_plot_write_blind (SpPlot *plot, SpPen *pen);

/* limit.c */
void sp_plot_reduce_limit (SpPlot *plot);
void sp_plot_draw_limit (SpPlot *plot, SpPen *pen);
void sp_plot_write_limit (SpPlot *plot, SpPen *pen);

/* pointer.c: keeps the rectangle of the pointer's read-out free of other text */
void sp_plot_take_pointer (SpPlot *plot, SpPen *pen);

/* traces.c */
void sp_plot_reduce_traces (SpPlot *plot, const SpPen *pen);

/* radio-part.c: the chosen condition's readings that are not the radio's: pipes down to its part, with a bar; the readings with more attenuation;
 * words beside those near or above the limit */
void sp_plot_draw_parts (SpPlot *plot, SpPen *pen);
void sp_plot_draw_steps (SpPlot *plot, SpPen *pen);
void sp_plot_write_whose (SpPlot *plot, SpPen *pen);

/* lineends.c */
void sp_plot_name_traces (SpPlot *plot, SpPen *pen);
