/* traces.c - corrected sweeps as envelope and middle line, and behind them, faint, the sweeps that are not judged */
#include "ui/figure/plot/plot-private.h"

#include "core/quantity/ascending.h"
#include "ui/figure/plot/band.h"

#include <math.h>

#define POINTS_A_COLUMN 4 /* as many make an envelope; columns are widened, up to WIDEST points, to hold them */
#define WIDEST 4.0
#define STROKE_COLUMNS 16 /* a stroke in pieces: the cost of one grows with the square of its points */
#define LINE_WIDTH 1.25
#define ENVELOPE 0.4  /* strength, of the chosen condition's */
#define SOFT 0.18     /* of another's */
#define BESIDE 0.5    /* of another's few points */
#define FOOT_REACH 12 /* points to either side, */
#define FOOT_PEAK 4   /* but for so many that the peak itself takes */
#define FAINT 0.35
#define FAINT_ON_DARK 0.5
#define FAINT_WIDTH 1

static guint64
points_in_view (const SpAxis *x, const SpCorrected *sweep)
{
  return sp_ascending_first (sweep->n, sweep->frequency_hz, x->to) - sp_ascending_first (sweep->n, sweep->frequency_hz, x->from);
}

static void
reduce_sweep (SpPlot *plot, const SpPen *pen, guint condition, const SpCorrected *sweep, gboolean judged)
{
  if (sweep->n < 2)
    return;
  SpReduced trace = { .condition = condition, .corrected = sweep, .x = sp_plot_axis_of (plot, condition), .judged = judged };
  trace.purpose = sp_view_purpose (plot->findings, condition, sweep);
  double points = (double) points_in_view (&trace.x, sweep), width = plot->area.width;
  double column = CLAMP (width * POINTS_A_COLUMN / MAX (points, 1), pen->grain, WIDEST);
  trace.n = (guint) MAX (1, width / column);
  trace.columns = g_new (SpColumn, trace.n);
  sp_reduce (&trace.x, sweep->n, sweep->frequency_hz, sweep->level_dbm, sp_pyramids_of (plot->pyramids, sweep->n, sweep->level_dbm),
             trace.n, trace.columns);
  if (!judged || condition == plot->view.condition) /* those that are drawn as a line */
    sp_reduce_peaks (trace.n, trace.columns);
  g_array_append_val (plot->traces, trace);
}

void
sp_plot_reduce_traces (SpPlot *plot, const SpPen *pen)
{
  const SpCorrected *other;
  for (guint k = 0; (other = sp_view_other (&plot->view, plot->findings, k)); k++)
    reduce_sweep (plot, pen, plot->view.condition, other, FALSE);
  for (guint pass = 0; pass < 2; pass++) /* the chosen one comes last, on top */
    for (guint i = 0; i < plot->findings->n; i++) {
      const SpConditionFindings *c = &plot->findings->conditions[i];
      if (!sp_plot_draws (plot, i) || (c == plot->chosen) != (pass == 1))
        continue;
      for (guint k = 0; k < c->n_corrected; k++)
        reduce_sweep (plot, pen, i, &c->corrected[k], TRUE);
    }
}

static double
column_width (const SpPlot *plot, const SpReduced *trace)
{
  return plot->area.width / trace->n;
}

/* A boundary of the envelope meets its neighbours, so that a flank steeper than a column leaves no hole. */
static void
envelope_span (const SpReduced *trace, guint i, double *low, double *high)
{
  const SpColumn *c = trace->columns;
  *low = c[i].least, *high = c[i].greatest;
  if (i + 1 < trace->n && c[i + 1].count) {
    *low = MIN (*low, c[i + 1].greatest);
    *high = MAX (*high, c[i + 1].least);
  }
}

/* Columns a pixel wide are boxes (a fast path of cairo), wider ones a polygon. */
static void
envelope_boxes (SpPlot *plot, SpPen *pen, const SpReduced *trace)
{
  double width = column_width (plot, trace);
  for (guint i = 0; i < trace->n; i++) {
    if (!trace->columns[i].count)
      continue;
    double low, high;
    envelope_span (trace, i, &low, &high);
    double top = sp_plot_y (plot, high), bottom = sp_plot_y (plot, low);
    if (bottom - top > 0.2)
      cairo_rectangle (pen->cr, plot->area.x + i * width, top, width, bottom - top);
  }
  cairo_fill (pen->cr);
}

static void
envelope_polygon (SpPlot *plot, SpPen *pen, const SpReduced *trace)
{
  double width = column_width (plot, trace);
  for (guint from = 0, to; from < trace->n; from = to + 1) {
    for (to = from; to < trace->n && trace->columns[to].count; to++)
      ;
    if (to - from < 2)
      continue;
    for (guint part = from; part + 1 < to; part += 64) {
      guint end = MIN (part + 65, to);
      for (guint i = part; i < end; i++)
        cairo_line_to (pen->cr, plot->area.x + (i + 0.5) * width, sp_plot_y (plot, trace->columns[i].greatest));
      for (guint i = end; i-- > part;)
        cairo_line_to (pen->cr, plot->area.x + (i + 0.5) * width, sp_plot_y (plot, trace->columns[i].least));
      cairo_close_path (pen->cr);
      cairo_fill (pen->cr);
    }
  }
}

/* The same two as a band. */
static void
envelope_band (SpPlot *plot, SpBand *band, const SpReduced *trace, gboolean narrow)
{
  const SpColumn *columns = trace->columns;
  double width = column_width (plot, trace);
  for (guint i = 0; i < trace->n; i++) {
    double low, high, x = plot->area.x + (i + 0.5) * width;
    if (!columns[i].count)
      continue;
    if (narrow) {
      envelope_span (trace, i, &low, &high);
      sp_band_box (band, x - width / 2, width, sp_plot_y (plot, high), sp_plot_y (plot, low));
    } else if (i + 1 < trace->n && columns[i + 1].count) {
      sp_band_line (band, x, sp_plot_y (plot, columns[i].greatest), x + width, sp_plot_y (plot, columns[i + 1].greatest));
      sp_band_line (band, x, sp_plot_y (plot, columns[i].least), x + width, sp_plot_y (plot, columns[i + 1].least));
    }
  }
}

/* A line as a band, or in strokes of a few points each; dashes run on from one to the next. */
typedef struct {
  SpBand *band; /* NULL: strokes */
  cairo_t *cr;
  const SpDash *dash; /* NULL: none */
  guint points;
  double x, y, length;
} Line;

/* Of what is not judged: colour alone never tells. */
static const SpDash faint_dashes[] = {
  [SP_PURPOSE_STEP] = { 2, { 4, 3 } }, [SP_PURPOSE_UNKEYED] = { 2, { 1.5, 3 } }, [SP_PURPOSE_SUPERSEDED] = { 2, { 12, 4 } }
};

static void
line_to (Line *line, double x, double y)
{
  if (line->band) {
    if (line->points++)
      sp_band_line (line->band, line->x, line->y, x, y);
    line->x = x, line->y = y;
    return;
  }
  if (line->points)
    line->length += hypot (x - line->x, y - line->y);
  cairo_line_to (line->cr, x, y);
  line->x = x, line->y = y;
  if (++line->points % STROKE_COLUMNS)
    return;
  cairo_stroke (line->cr);
  if (line->dash)
    cairo_set_dash (line->cr, line->dash->points, line->dash->n, line->length);
  cairo_move_to (line->cr, x, y);
}

/* The middle of each column; where a peak stands out, the peak at its own frequency. */
static void
middle_line (SpPlot *plot, Line *line, const SpReduced *trace)
{
  const SpCorrected *sweep = trace->corrected;
  double width = column_width (plot, trace);
  for (guint i = 0; i < trace->n; i++) {
    const SpColumn *column = &trace->columns[i];
    if (!column->count)
      continue;
    double x = plot->area.x + (i + 0.5) * width, level = column->middle;
    if (column->stands_out || column->count == 1) {
      guint64 peak = sp_column_peak (column, sweep->level_dbm, sp_pyramids_of (plot->pyramids, sweep->n, sweep->level_dbm));
      x = sp_axis_at (&trace->x, sweep->frequency_hz[peak]);
      level = column->greatest;
    }
    line_to (line, x, sp_plot_y (plot, level));
  }
}

/* Points so far apart that each is seen, with one beyond either edge of the view. */
static void
sparse_line (SpPlot *plot, Line *line, const SpReduced *trace)
{
  const SpCorrected *sweep = trace->corrected;
  guint64 from = sp_ascending_first (sweep->n, sweep->frequency_hz, trace->x.from),
          to = sp_ascending_first (sweep->n, sweep->frequency_hz, trace->x.to);
  from = from > 0 ? from - 1 : 0;
  to = MIN (to + 1, sweep->n);
  for (guint64 i = from; i < to; i++)
    if (trace->x.scale->has (sweep->frequency_hz[i]))
      line_to (line, sp_axis_at (&trace->x, sweep->frequency_hz[i]), sp_axis_at (&plot->y, sweep->level_dbm[i]));
}

static void
draw_envelope (SpPlot *plot, SpPen *pen, SpBand *band, const SpReduced *trace, double opacity)
{
  const SpColour *ink = &pen->palette->trace[sp_view_ink (trace->condition)];
  gboolean narrow = !pen->vector && column_width (plot, trace) < 1.5 * pen->column;
  sp_pen_colour (pen, ink, opacity);
  if (band) {
    envelope_band (plot, band, trace, narrow);
    sp_band_fill (band, ink, opacity);
  } else if (narrow) {
    envelope_boxes (plot, pen, trace);
  } else {
    envelope_polygon (plot, pen, trace);
  }
}

typedef struct {
  double width, opacity;
  const SpDash *dash;
} Stroke;

static gboolean
is_chosen (const SpPlot *plot, const SpReduced *trace)
{
  return &plot->findings->conditions[trace->condition] == plot->chosen;
}

static Stroke
stroke_of (const SpPlot *plot, const SpPen *pen, const SpReduced *trace)
{
  if (!trace->judged)
    return (Stroke){ FAINT_WIDTH, plot->view.dark ? FAINT_ON_DARK : FAINT, &faint_dashes[trace->purpose] };
  return (Stroke){ LINE_WIDTH, is_chosen (plot, trace) ? 1 : BESIDE, sp_view_dash (pen->palette, trace->condition) };
}

static void
draw_line (SpPlot *plot, SpPen *pen, SpBand *band, const SpReduced *trace, gboolean sparse)
{
  const SpColour *ink = &pen->palette->trace[sp_view_ink (trace->condition)];
  Stroke stroke = stroke_of (plot, pen, trace);
  Line line = { .band = band, .cr = pen->cr, .dash = stroke.dash };
  sp_pen_colour (pen, ink, stroke.opacity);
  cairo_set_line_width (pen->cr, stroke.width);
  if (line.dash)
    sp_pen_dash (pen, line.dash, 0);
  if (sparse)
    sparse_line (plot, &line, trace);
  else
    middle_line (plot, &line, trace);
  if (!band) {
    cairo_stroke (pen->cr);
    return;
  }
  sp_band_thicken (band, stroke.width);
  if (line.dash)
    sp_band_dash (band, line.dash);
  sp_band_fill (band, ink, stroke.opacity);
}

/* The chosen one as a line over its envelope; of the others no more than one soft envelope each, or a line where their points are few. */
static void
draw_trace (SpPlot *plot, SpPen *pen, SpBand *band, const SpReduced *trace)
{
  cairo_save (pen->cr);
  cairo_new_path (pen->cr);
  cairo_rectangle (pen->cr, plot->area.x, plot->area.y, plot->area.width, plot->area.height);
  cairo_clip (pen->cr);
  cairo_set_line_join (pen->cr, CAIRO_LINE_JOIN_ROUND);
  gboolean sparse = (double) points_in_view (&trace->x, trace->corrected) * WIDEST < plot->area.width;
  if (!sparse && trace->judged)
    draw_envelope (plot, pen, band, trace, is_chosen (plot, trace) ? ENVELOPE : SOFT);
  if (sparse || !trace->judged || is_chosen (plot, trace))
    draw_line (plot, pen, band, trace, sparse);
  cairo_restore (pen->cr);
}

void
sp_plot_draw_traces (SpPlot *plot, SpPen *pen)
{
  g_autoptr (SpBand) band = sp_band_new (pen, &plot->area);
  for (guint i = 0; i < plot->traces->len; i++)
    draw_trace (plot, pen, band, &g_array_index (plot->traces, SpReduced, i));
}

double
sp_plot_foot_dbm (const SpPlot *plot, guint condition, double x)
{
  double sum = 0;
  guint n = 0;
  for (guint i = 0; i < plot->traces->len; i++) {
    const SpReduced *trace = &g_array_index (plot->traces, SpReduced, i);
    if (trace->condition != condition || !trace->judged)
      continue;
    double at = (x - plot->area.x) / column_width (plot, trace), reach = FOOT_REACH / column_width (plot, trace);
    for (guint k = (guint) MAX (0, at - reach); k < trace->n && k <= at + reach; k++)
      if (trace->columns[k].count && fabs (k - at) * column_width (plot, trace) > FOOT_PEAK) {
        sum += trace->columns[k].middle;
        n++;
      }
  }
  return n ? sum / n : NAN;
}
