/* chart-private.h - what the parts of the chart share; tests use it too
 *
 * Three layers are pictures kept between frames: ground, traces, ladder. Each is rastered once at the screen's own resolution and
 * dropped when size, scale, colours, findings or view change. Above them, as small nodes of their own: the chosen emission, the pointer,
 * a box being drawn.
 */
#pragma once

#include "ui/figure/plot/plot.h"
#include "ui/window/chart/chart.h"

typedef enum { SP_LAYER_GROUND, SP_LAYER_TRACES, SP_LAYER_LADDER, SP_N_LAYERS } SpLayer;

struct _SpChart {
  GtkWidget parent_instance;
  SpSession *session;
  gboolean dark;
  int width, height; /* as last allocated */
  guint condition;   /* as last shown */

  SpPlot *plot;         /* NULL: to be laid out again */
  SpPyramids *pyramids; /* of the findings on show */
  GskRenderNode *layer[SP_N_LAYERS];
  cairo_surface_t *surface[SP_N_LAYERS]; /* of a layer: let go before its node, it would be copied */
  guint built[SP_N_LAYERS];              /* how often each was rastered */
  GskRenderNode *before;                 /* the picture that fades out; NULL: none does */
  gint64 fade_start;
  guint fade_tick;

  /* The whole of what there is to see. Levels stay as they are here while one zooms: a curve does not jump under the pointer. */
  gboolean fit_known;
  SpAxis fit;
  double fit_bottom_dbm, fit_top_dbm;

  double from_hz, to_hz;      /* the view on show; runs ahead of the session's while a gesture lasts. NaN: the whole */
  double bottom_dbm, top_dbm; /* likewise; NaN: the whole */
  guint settle_source;        /* a wheel has no end: it is one step back when it has been still for a while */

  gboolean panning, boxing;
  double drag_x; /* where the drag began */
  double drag_y;
  SpAxis drag_axis, pinch_axis, drag_levels; /* the view when it began */
  double box_from_x, box_to_x;
  double box_from_y, box_to_y; /* NaN: of all levels */
  double mouse_x, mouse_y;     /* NaN: not over the chart */
  guint describe_source;
  GtkWidget *menu; /* NULL until it is asked for */
};

/* chart-layers.c */
const SpAxis *sp_chart_axis (SpChart *self); /* of the frequencies on show; NULL: nothing to show */
void sp_chart_drop_layers (SpChart *self);   /* the view, the size or the colours have changed */
void sp_chart_drop_fit (SpChart *self);      /* what is shown, or the scale */
void sp_chart_drop_findings (SpChart *self); /* the findings */
void sp_chart_begin_fade (SpChart *self);    /* call before dropping */
void sp_chart_end_fade (SpChart *self);
void sp_chart_draw (SpChart *self, GtkSnapshot *snapshot);
guint sp_chart_layers_built (SpChart *self, SpLayer layer); /* for tests */

/* chart-view.c: all about a place x in the widget */
void sp_chart_show (SpChart *self, double from_hz, double to_hz);  /* kept within the whole and not past the points; not yet a step back */
void sp_chart_zoom (SpChart *self, double x, double factor);       /* factor < 1: nearer */
void sp_chart_pan (SpChart *self, const SpAxis *start, double dx); /* from where `start` showed */
void sp_chart_zoom_levels (SpChart *self, double y, double factor);
void sp_chart_pan_levels (SpChart *self, const SpAxis *start, double dy);
const SpAxis *sp_chart_levels (SpChart *self);                                 /* on show; NULL: nothing to show */
void sp_chart_box (SpChart *self, double x1, double x2, double y1, double y2); /* y NaN: the levels stay */
void sp_chart_fit (SpChart *self);
void sp_chart_reveal (SpChart *self, double frequency_hz, double level_dbm); /* moves the view only if it must; NaN: has no level */
void sp_chart_settle (SpChart *self);                                        /* makes what is on show a step of the session's */
void sp_chart_settle_soon (SpChart *self);

/* chart-choose.c */
const SpEmission *sp_chart_chosen (SpChart *self);
gboolean sp_chart_place (SpChart *self, guint condition, const SpEmission *emission, double *x, double *y); /* FALSE: not in view */
gboolean sp_chart_pick (SpChart *self, double x, double y); /* chooses what stands near; FALSE: nothing does */
void sp_chart_walk (SpChart *self, int step);               /* to the next emission up (1) or down (-1) in frequency */
char *sp_chart_description (SpChart *self);                 /* what a screen reader says (transfer full) */
void sp_chart_describe_soon (SpChart *self);

/* chart-note.c */
void sp_chart_rule (SpChart *self);       /* a ruler at the pointer, or at the chosen emission; where one is: none */
void sp_chart_write_note (SpChart *self); /* there; a note that is pinned there is changed, or taken off */
void sp_chart_copy (SpChart *self);       /* the whole figure, as it is exported */
void sp_chart_open_menu (SpChart *self, double x, double y);

/* chart-gestures.c, chart-keys.c */
void sp_chart_add_gestures (SpChart *self);
void sp_chart_class_add_keys (GtkWidgetClass *widget);
void sp_chart_drop_box (SpChart *self);
