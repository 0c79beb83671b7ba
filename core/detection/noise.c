/* noise.c - the noise of a trace: a running quantile without the signals */
#include "core/detection/running.h"
#include "core/detection/spectrum.h"

#include "core/quantity/large.h"

#include <math.h>
#include <string.h>

#define LEAST_HALF 50     /* u of a median of 101 looks: 0.62 dB (calculated: 4.34/(ln 2 sqrt n)); common practice, no source */
#define LEVEL_HALF 400    /* likewise of 801: 0.22 dB (calculated) */
#define LOOKS_PER_RBW 2.0 /* common practice, no source */
/* Factor of the narrowest window below the least number, for noise that climbs towards a signal (common practice, no source) */
#define NARROWEST 2
#define WIDEST 4 /* most half windows, if signals leave few readings (common practice, no source) */
/* Narrower windows show climbing noise from this many u over the wide ones: too often, once in fifteen by chance (calculated: normal
 * law), is safer than too rarely; by simulation (tests/simulate/ground.c). */
#define CLIMB_U 1.5
/* Both are over the signal threshold. A strong line may have phase noise beside it, as far as it keeps FEET_DB: common practice, no source;
 * without them noise that climbs to a carrier is missed, by simulation (tests/simulate/ground.c). */
#define STRONG_DB 30.
#define FEET_DB 15.

/* State of a point: finished; its sides differ; beside a strong line, where noise may climb; the noise climbs. */
enum { SETTLED, APART, BESIDE, CLIMBS };

/* Signals with their guards; STRONG marks the strong ones. */
enum { LEFT_OUT = 1, STRONG };

/* Working data of a noise floor. */
typedef struct {
  const SpNoiseWindow *window;
  Running running;
  guint8 *skip;  /* excluded points, and why */
  guint8 *state; /* state of each point */
  double *level;
  gboolean final; /* no further search for signals */
} Floor;

/* One side of each point of a range: the quantile of its readings, and their number. */
typedef struct {
  double *level; /* NaN: fewer than the least number in reach */
  guint32 *count;
} Side;

static void
side_init (Side *side, guint64 n)
{
  side->level = sp_large_new (double, n);
  side->count = sp_large_new (guint32, n);
}

static void
side_clear (Side *side)
{
  g_free (side->level);
  g_free (side->count);
}

/* Windows from each point upwards (reversed: downwards): the point and `half` more, up to WIDEST times as many if fewer than the least
 * number remain; at the trace's end the last full one. side[i - from], i from .. to. */
static void
run_side (const Floor *f, gboolean down, guint64 half, guint64 from, guint64 to, Side *side)
{
  const Running *r = &f->running;
  guint64 n = r->n, first = down ? n - to : from, end = down ? n - from : to, last = n - 1 - half;
  guint64 least = MIN (f->window->least, half + 1);
  guint64 a = MIN (first, last), b = a;
  Histogram h = r->histogram; /* a local copy keeps its state in registers */

  for (guint64 j = first; j < end; j++) {
    if (j > a && a < last) {
      leave (r, &h, down ? n - 1 - a : a);
      a++;
    }
    for (; b < n && (b <= a + half || (h.total < least && b <= a + WIDEST * half)); b++)
      enter (r, &h, down ? n - 1 - b : b);
    guint64 k = down ? end - 1 - j : j - from;
    side->count[k] = (guint32) h.total;
    side->level[k] = h.total >= least ? quantile_of (r, &h) : NAN;
  }
  for (; a < b; a++)
    leave (r, &h, down ? n - 1 - a : a);
}

static guint64
narrowest_half (const Floor *f)
{
  return MAX (f->window->least / NARROWEST, 1);
}

/* Two sides that agree see the same noise: takes their mean. Otherwise the point is at an edge or on a steep slope: takes the higher
 * for now. Noise beside a strong line may agree and still climb towards it; narrower windows show that. */
static void
combine (Floor *f, guint64 half, guint64 from, guint64 to, const Side *below, const Side *above)
{
  double square = f->window->agree_db * f->window->agree_db / 2; /* square of a difference, for one reading a side */
  gboolean widest = half == f->window->half;
  for (guint64 i = from; i < to; i++) {
    double l = below->level[i - from], r = above->level[i - from], readings = 1. / below->count[i - from] + 1. / above->count[i - from];
    l = isnan (l) ? r : l;
    r = isnan (r) ? l : r;
    if (isnan (l)) /* nothing left: keep the old level */
      continue;
    gboolean apart = (l - r) * (l - r) > square * (double) (half + 1) * readings;
    double found = apart ? MAX (l, r) : (l + r) / 2;
    double climb = CLIMB_U / SP_NOISE_APART_U / 2 * sqrt (square * (double) (f->window->half + 1) * readings);
    if (widest || (f->state[i] == APART && f->final && half >= f->window->least)) {
      /* Near an edge the wider side is more accurate: kept unless a narrower one is clearly lower. */
      f->level[i] = widest || !apart || found < f->level[i] - 2 * climb ? found : MAX (found, f->level[i]);
      f->state[i] = apart ? APART : SETTLED;
    } else if (f->state[i] == CLIMBS || (f->state[i] == BESIDE && found > f->level[i] + climb)) {
      f->level[i] = MAX (f->level[i], MAX (l, r));
      f->state[i] = CLIMBS;
    }
  }
}

static void
look_again (Floor *f, guint64 half, guint64 from, guint64 to)
{
  Side below, above;
  side_init (&below, to - from);
  side_init (&above, to - from);
  run_side (f, TRUE, half, from, to, &below);
  run_side (f, FALSE, half, from, to, &above);
  combine (f, half, from, to, &below, &above);
  side_clear (&below);
  side_clear (&above);
}

/* Without exclusions, the range above one point is the range below another, so one pass serves both sides. The output overwrites the
 * input; a ring in the cache keeps the values still needed. */
static void
first_look (Floor *f)
{
  guint64 n = f->running.n, shift = f->window->half / 2, mask = ((guint64) 1 << g_bit_storage (shift)) - 1;
  double agree = f->window->agree_db, *level = f->level;
  g_autofree double *behind = g_new (double, mask + 1);
  sp_running_all (&f->running, level);
  for (guint64 i = 0; i <= mask; i++)
    behind[i] = level[0];
  double last = level[n - 1];
  for (guint64 i = 0; i < n; i++) {
    behind[i & mask] = level[i];
    double below = behind[(i - shift) & mask], above = i + shift < n ? level[i + shift] : last, apart = fabs (below - above);
    level[i] = (below + above + (apart > agree ? apart : 0)) / 2;
    f->state[i] = apart > agree ? APART : SETTLED;
  }
}

/* The next point from i on that is `over_db` above the level; n: none. Optimised for long ranges without one. */
static guint64
next_over (const Floor *f, double over_db, guint64 i)
{
  const double *x = f->running.x, *level = f->level;
  guint64 n = f->running.n;
  for (; i + LANES <= n; i += LANES) {
    int any = 0;
    for (guint k = 0; k < LANES; k++)
      any |= x[i + k] > level[i + k] + over_db;
    if (any)
      break;
  }
  while (i < n && !(x[i] > level[i] + over_db))
    i++;
  return i;
}

/* Marks signals, more than `exclude_db` above the level, with the guard on either side. Strong pass: only groups that reach STRONG_DB
 * further, as far as they keep FEET_DB. FALSE: nothing new. */
static gboolean
mark_signals (Floor *f, gboolean only_strong)
{
  const double *x = f->running.x, strong_db = f->window->exclude_db + STRONG_DB;
  double least_db = f->window->exclude_db + (only_strong ? FEET_DB : 0);
  guint64 n = f->running.n, guard = f->window->guard;
  gboolean any = FALSE;

  for (guint64 i = next_over (f, least_db, 0); i < n; i = next_over (f, least_db, i + 1)) {
    guint64 first = i, last = i;
    gboolean strong = FALSE;
    for (; i < n && i - last <= guard; i++)
      if (x[i] > f->level[i] + least_db) {
        strong |= x[i] > f->level[i] + strong_db;
        last = i;
      }
    i = last;
    if (only_strong && !strong)
      continue;
    guint64 from = first > guard ? first - guard : 0, to = MIN (n, last + guard + 1);
    any |= memchr (f->skip + from, 0, to - from) != NULL;
    for (guint64 j = from; j < to; j++)
      f->skip[j] = MAX (f->skip[j], j >= first && j <= last && strong ? STRONG : LEFT_OUT);
  }
  return any;
}

/* The next point from i on with the mark, or a higher one; n: none. */
static guint64
next_marked (guint64 n, const guint8 *mark, guint8 least, guint64 i)
{
  for (guint64 eight; i < n; i++) {
    while (i + sizeof eight <= n && memcpy (&eight, mark + i, sizeof eight) && eight == 0)
      i += sizeof eight;
    if (i < n && mark[i] >= least)
      break;
  }
  return MIN (i, n);
}

/* Repeats the estimate within `reach` points of a mark; elsewhere no window has changed. */
static void
look_around (Floor *f, const guint8 *mark, guint8 least, guint64 reach, guint64 half)
{
  guint64 n = f->running.n;
  for (guint64 i = next_marked (n, mark, least, 0); i < n;) {
    guint64 last = i, next;
    while ((next = next_marked (n, mark, least, last + 1)) < n && next - last <= 2 * reach + half)
      last = next;
    look_again (f, half, i > reach ? i - reach : 0, MIN (n, last + reach + 1));
    i = next;
  }
}

static void
doubt_no_more (Floor *f, guint64 from, guint64 to)
{
  for (guint64 i = from; i < to; i++)
    f->state[i] = f->state[i] >= BESIDE ? SETTLED : f->state[i];
}

/* Noise may climb beside strong lines: points within `reach` of one are doubted. */
static void
doubt_beside (Floor *f, guint64 reach)
{
  guint64 n = f->running.n, half = f->window->half, done = 0, doubted = 0; /* right of the previous line no further points can be doubted */
  for (guint8 *strong = f->skip; (strong = memchr (strong, STRONG, (gsize) (f->skip + n - strong)));) {
    guint64 first = (guint64) (strong - f->skip), from = first > reach ? first - reach : 0;
    while (strong < f->skip + n && *strong == STRONG)
      strong++;
    guint64 end = (guint64) (strong - f->skip), to = MIN (n, end + reach);
    doubt_no_more (f, done, MIN (doubted, from));
    doubt_no_more (f, MAX (done, first > half ? first - half : 0), from);
    for (guint64 i = MAX (done, from); i < to; i++)
      if (f->state[i] == SETTLED || (f->state[i] == APART && !f->final))
        f->state[i] = BESIDE;
    done = to;
    doubted = MIN (n, end + half);
  }
  doubt_no_more (f, done, doubted);
}

/* Takes the widest window with agreeing sides; if even the narrowest disagree, the higher side. */
static void
narrow (Floor *f, guint8 least_state)
{
  for (guint64 half = f->window->half / 2; half >= narrowest_half (f); half /= 2) {
    doubt_beside (f, 2 * half);
    look_around (f, f->state, least_state, 0, half);
  }
}

guint64
sp_noise_half (guint64 n, double per_rbw, double rbws)
{
  return (guint64) fmin (fmax (LEAST_HALF, ceil (rbws * per_rbw)), (double) MAX (n / 4, 1));
}

guint64
sp_noise_level_half (guint64 n, double per_rbw)
{
  return MAX (sp_noise_half (n, per_rbw, SP_NOISE_RBWS), MIN (LEVEL_HALF, n / 8));
}

double
sp_noise_reading_u_db (double median_u_db, double per_rbw)
{
  return median_u_db * sqrt (fmax (1, per_rbw / LOOKS_PER_RBW));
}

void
sp_noise_floor (guint64 n, const double *x, const SpNoiseWindow *window, double *level)
{
  SpNoiseWindow w = *window;
  if (n == 0)
    return;
  w.half = MIN (w.half, n - 1) / 2 * 2; /* even, since the pass for both sides needs a middle */
  w.least = CLAMP (w.least, 1, w.half + 1);
  Floor f = { .window = &w, .skip = g_new0 (guint8, n), .state = g_new (guint8, n), .level = level };
  sp_running_init (&f.running, n, x, NULL, w.half / 2, w.p);
  first_look (&f);
  /* Strong signals first: the others are seen better without them, and noise that climbs towards a strong line is not taken for a
   * signal. */
  for (int only_strong = TRUE; only_strong >= FALSE; only_strong--) {
    f.final = !only_strong;
    if (mark_signals (&f, only_strong))
      f.running.skip = f.skip;
    if (f.running.skip)
      look_around (&f, f.skip, LEFT_OUT, w.half, w.half);
    narrow (&f, f.final ? APART : BESIDE);
  }
  sp_histogram_clear (&f.running.histogram);
  g_free (f.skip);
  g_free (f.state);
}
