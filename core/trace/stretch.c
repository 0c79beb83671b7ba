/* stretch.c - where the spacing of a trace's points jumps: spans of their own, exported one behind the other */
#include "core/trace/build.h"
#include "core/trace/limits.h"

#define JUMP 1.99       /* neighbouring spacings that differ by this factor, two but for rounding, jump (common practice, no source) */
#define LEAST_POINTS 16 /* so many intervals make a stretch (common practice, no source): a point or two that are missing make none */

typedef struct {
  guint64 first, last; /* points, both in it */
} Stretch;

static gboolean
jumps (double a, double b)
{
  return b >= JUMP * a || a >= JUMP * b;
}

static double
spacing (const double *f, const Stretch *s)
{
  return (f[s->last] - f[s->first]) / (double) (s->last - s->first);
}

/* Nearly all traces are even: that is told in one plain walk. */
static gboolean
is_even (guint64 n, const double *f)
{
  double least = f[1] - f[0], most = least;
  for (guint64 i = 1; i < n; i++) {
    double d = f[i] - f[i - 1];
    least = d < least ? d : least;
    most = d > most ? d : most;
  }
  return !jumps (least, most);
}

/* Does something much wider than either lie between them? Then nothing was swept there, and it belongs to none. */
static gboolean
is_gap (const double *f, const Stretch *a, const Stretch *b)
{
  double wider = MAX (spacing (f, a), spacing (f, b));
  for (guint64 i = a->last; i < b->first; i++)
    if (f[i + 1] - f[i] >= JUMP * wider)
      return TRUE;
  return FALSE;
}

/* The next run of at least LEAST_POINTS intervals that do not jump from one to the next, from point `from` on. */
static gboolean
next_run (guint64 n, const double *f, guint64 from, Stretch *run)
{
  for (guint64 i = from; i + 1 < n; i = run->last) {
    *run = (Stretch){ i, i + 1 };
    while (run->last + 1 < n && !jumps (f[run->last] - f[run->last - 1], f[run->last + 1] - f[run->last]))
      run->last++;
    if (run->last - run->first >= LEAST_POINTS)
      return TRUE;
  }
  return FALSE;
}

/* Of Stretch; what lies between two and is no gap belongs to the one below it. */
static GArray *
find (guint64 n, const double *f)
{
  GArray *found = g_array_new (FALSE, FALSE, sizeof (Stretch));
  Stretch run;
  for (guint64 from = 0; next_run (n, f, from, &run); from = run.last) {
    Stretch *before = found->len ? &g_array_index (found, Stretch, found->len - 1) : NULL;
    if (!before)
      run.first = 0;
    else if (!jumps (spacing (f, before), spacing (f, &run))) {
      before->last = run.last;
      continue;
    } else if (!is_gap (f, before, &run))
      before->last = run.first;
    g_array_append_val (found, run);
  }
  if (found->len)
    g_array_index (found, Stretch, found->len - 1).last = n - 1;
  return found;
}

GPtrArray *
sp_trace_find_stretches (const SpTrace *trace)
{
  if (trace->n < 2 * LEAST_POINTS || is_even (trace->n, trace->frequency_hz))
    return NULL;
  g_autoptr (GArray) found = find (trace->n, trace->frequency_hz);
  if (found->len < 2 || found->len > SP_LIMIT_STRETCHES)
    return NULL;
  GPtrArray *stretches = g_ptr_array_new_with_free_func ((GDestroyNotify) sp_trace_unref);
  for (guint i = 0; i < found->len; i++) {
    const Stretch *s = &g_array_index (found, Stretch, i);
    g_ptr_array_add (stretches, sp_trace_cut (trace, s->first, s->last - s->first + 1, TRUE));
  }
  return stretches;
}

gboolean
sp_trace_is_first_stretch (const SpTrace *trace)
{
  const GPtrArray *stretches = sp_trace_stretches (trace);
  for (guint i = 0; stretches && i < stretches->len; i++) {
    const SpTrace *stretch = stretches->pdata[i];
    if (stretch->frequency_hz[0] < trace->frequency_hz[0] || stretch->frequency_hz[stretch->n - 1] > trace->frequency_hz[trace->n - 1])
      return TRUE;
  }
  return FALSE;
}

SpTrace *
sp_trace_join (const GPtrArray *traces)
{
  const SpTrace *first = traces->pdata[0];
  SpTrace *joined = sp_trace_cut (first, 0, first->n, FALSE);
  GPtrArray *stretches = g_ptr_array_new_with_free_func ((GDestroyNotify) sp_trace_unref);
  for (guint i = 0; i < traces->len; i++) {
    GPtrArray *within = sp_trace_stretches (traces->pdata[i]);
    for (guint k = 0; within && k < within->len; k++)
      g_ptr_array_add (stretches, sp_trace_ref (within->pdata[k]));
    if (!within)
      g_ptr_array_add (stretches, sp_trace_ref (traces->pdata[i]));
  }
  sp_trace_know_stretches (joined, stretches);
  return joined;
}

void
sp_trace_warn_of_stretches (SpTrace *trace)
{
  GPtrArray *stretches = sp_trace_stretches (trace);
  for (guint i = 1; stretches && i < stretches->len; i++) {
    const SpTrace *below = stretches->pdata[i - 1], *above = stretches->pdata[i];
    double wide[2] = { below->frequency_hz[below->n - 1] - below->frequency_hz[0],
                       above->frequency_hz[above->n - 1] - above->frequency_hz[0] };
    sp_reasons_add (trace->warnings, sp_reason (SPACING_JUMPS, .file = trace->file, .at_hz = above->frequency_hz[0],
                                                .below_hz = wide[0] / (double) (below->n - 1),
                                                .above_hz = wide[1] / (double) (above->n - 1), .rbw_hz = trace->settings.rbw_hz));
  }
  for (guint i = 0; stretches && i < stretches->len; i++) /* nobody else has seen them yet */
    sp_reasons_extend (((SpTrace *) stretches->pdata[i])->warnings, trace->warnings);
}
