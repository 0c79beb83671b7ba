/* plot-private.h - data and helpers shared by the layers of the spectrum */
#pragma once

#include "ui/figure/plot/plot.h"
#include "ui/figure/plot/reduce.h"

#define SP_PLOT_DBC_WIDTH 52   /* numbers of the dBc axis */
#define SP_PLOT_NUMBER_LINE 11 /* a row's number, by harmonic */

/* A corrected sweep as columns. */
typedef struct {
  guint condition;
  const SpCorrected *corrected;
  SpAxis x; /* the condition's own */
  guint n;  /* columns over the whole frequency axis; 0: few points, each is drawn */
  SpColumn *columns;
  SpPurpose purpose;
  gboolean judged; /* else faint: for display only */
} SpReduced;

/* What lies below a condition's traces, per column of the area. */
typedef struct {
  guint condition;
  SpAxis x;          /* the condition's own */
  double *floor_dbm; /* NaN not swept, may be +INFINITY */
  guint8 *cause;
  double *limit_dbm;  /* NaN: no limit */
  double *second_dbm; /* likewise the second mask's, of the chosen condition; NULL: none */
  GArray *blind;      /* SpBlindRun */
} SpPlotGround;

struct SpPlot {
  SpFindings *findings;
  SpPyramids *pyramids; /* NULL: none; owned by the caller */
  SpView view;
  gboolean *hidden; /* the view's, which it only borrows */
  guint *row;
  const SpConditionFindings *chosen; /* NULL: nothing to show */
  gboolean chosen_shown;
  gboolean by_harmonic; /* asked for, and the chosen one has a carrier */
  guint most_order;     /* by harmonic: the highest on the axis */
  SpRect outer, area;
  SpAxis x, y;     /* x: the chosen condition's; see sp_plot_axis_of */
  guint n_shown;   /* by harmonic: conditions with a carrier */
  double aside;    /* by harmonic: points from one condition to the next */
  guint *place;    /* of each condition, by harmonic: its place among those shown, in list order; G_MAXUINT: not drawn */
  GArray *traces;  /* SpReduced, from the bottom up */
  guint n;         /* columns of grounds */
  GArray *grounds; /* SpPlotGround; the first is the chosen condition's, empty where that is not shown */
  GArray *taken;   /* SpRect: occupied by text */
};

/* A possible start of a text. */
typedef struct {
  double x, baseline;
} SpSpot;

/* plot.c */
double sp_plot_scale_width (const SpPlot *plot);            /* of the second level axis' numbers */
double sp_plot_column_x (const SpPlot *plot, guint column); /* middle of a ground's column */
double sp_plot_y (const SpPlot *plot, double level_dbm);    /* limited to slightly outside the area */
const SpPlotGround *sp_plot_ground (const SpPlot *plot);    /* the chosen condition's */
/* Where an emission that was seen stands in the area; FALSE: outside it, or not seen. */
gboolean sp_plot_emission_place (const SpPlot *plot, guint condition, const SpEmission *emission, double *x, double *y);
gboolean sp_plot_is_free (const SpPlot *plot, const SpRect *rect);
void sp_plot_take (SpPlot *plot, const SpRect *rect);
/* TRUE: a text of that width has free place there, inside; *rect is what it takes. */
gboolean sp_plot_has_place (const SpPlot *plot, SpTextStyle style, double width, const SpSpot *spot, SpRect *rect);
/* Writes at the first of `n` positions (x, baseline of the left end) that is free and inside; -1: none is, else which. */
int sp_plot_write (SpPlot *plot, SpPen *pen, SpTextStyle style, const SpColour *colour, const char *text, const SpSpot *places, guint n);

/* axes.c */
/* Finds the frequencies' axis, by harmonic the places of the conditions on it. */
void sp_plot_lay_axis (SpPlot *plot);
double sp_plot_order_x (const SpPlot *plot, double order); /* middle of an order's fan */
double sp_plot_fan (const SpPlot *plot);                   /* half the width of one */
/* At how many heights, SP_PLOT_NUMBER_LINE apart, the carriers' numbers stand in turn. */
guint sp_plot_number_heights (const SpPlot *plot);
void sp_plot_draw_grid (SpPlot *plot, SpPen *pen);
void sp_plot_draw_axes (SpPlot *plot, SpPen *pen);

/* floor.c */
void sp_plot_reduce_floor (SpPlot *plot, SpPlotGround *ground);
void sp_plot_draw_floor (SpPlot *plot, SpPen *pen);
void sp_plot_draw_causes (SpPlot *plot, SpPen *pen);

/* blind.c */
void sp_plot_find_blind (SpPlot *plot, SpPlotGround *ground);
void sp_plot_draw_blind (SpPlot *plot, SpPen *pen);
void sp_plot_write_blind (SpPlot *plot, SpPen *pen);

/* limit.c */
void sp_plot_reduce_limit (SpPlot *plot, SpPlotGround *ground);
void sp_plot_draw_limit (SpPlot *plot, SpPen *pen);
void sp_plot_write_limit (SpPlot *plot, SpPen *pen);

/* pointer.c: keeps the rectangle of the pointer's read-out free of other text */
void sp_plot_take_pointer (SpPlot *plot, SpPen *pen);

/* pins.c: the ruler, and the chosen condition's notes; what is written earlier keeps off their rings */
void sp_plot_take_pins (SpPlot *plot);
void sp_plot_draw_pins (SpPlot *plot, SpPen *pen);

/* traces.c */
void sp_plot_reduce_traces (SpPlot *plot, const SpPen *pen);
/* The mean level of a condition's traces round a place of the area, without its peaks; NaN: none. */
double sp_plot_foot_dbm (const SpPlot *plot, guint condition, double x);

/* marks.c: the emissions of all that is shown, others' on sticks in their ink and dash; by harmonic the carriers too; the numbers of
 * the list's rows beside them */
void sp_plot_number_carriers (SpPlot *plot, SpPen *pen);
void sp_plot_number_marks (SpPlot *plot, SpPen *pen);

/* radio-part.c: a condition's readings that are not the radio's: pipes down to its part, with a bar; the chosen one's readings with more
 * attenuation, and words beside those near or above the limit */
void sp_plot_draw_parts (SpPlot *plot, SpPen *pen, guint condition);
void sp_plot_draw_steps (SpPlot *plot, SpPen *pen);
void sp_plot_write_whose (SpPlot *plot, SpPen *pen);

/* lineends.c */
void sp_plot_name_traces (SpPlot *plot, SpPen *pen);
char *sp_plot_label (const SpPlot *plot, guint condition); /* its short name; by harmonic with its number before (transfer full) */
double sp_plot_name_width (const SpPlot *plot, SpPen *pen, guint condition); /* at its line's end */
