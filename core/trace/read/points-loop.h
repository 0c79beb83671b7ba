/* points-loop.h - inside the folder: what the loop over the rows holds, for its fast half (points.c) and its slow one (points-slow.c) */
#pragma once

#include "core/trace/read/fast-row.h"
#include "core/trace/read/points.h"

typedef struct {
  const SpDialect *dialect;
  const char *file;
  gboolean skip_bad, levels_alone;
  SpRowPlan plan; /* place 0: frequency, 1.. levels */
  double values[SP_LIMIT_COLUMNS + 1];
  SpPoints *points;
  guint64 capacity, limit;
  const SpHeader *header;
  guint64 blank_behind; /* the row behind which a blank line stands, counted from 1; 0: none */
  double last;          /* frequency */
  double direction;     /* 1 ascending, -1 descending, 0 not yet known */
} SpPointsLoop;

static inline gboolean
sp_points_is_within (const SpWanted *wanted, double value)
{
  return value >= wanted->low && value <= wanted->high;
}

static inline gboolean
sp_points_goes_on (const SpPointsLoop *loop)
{
  double f = loop->values[0], way = loop->direction != 0 ? loop->direction : f > loop->last ? 1 : -1;

  return loop->levels_alone || ((f >= SP_LIMIT_LEAST_HZ || f == 0) && (loop->points->n == 0 || way * (f - loop->last) > 0));
}

/* May the row's values stand behind those there are? */
static inline gboolean
sp_points_fit (const SpPointsLoop *loop)
{
  gboolean within = TRUE;

  for (guint w = 0; w < loop->plan.n_wanted; w++)
    within &= sp_points_is_within (&loop->plan.wanted[w], loop->values[loop->plan.place[w]]);
  return within && sp_points_goes_on (loop);
}

static inline void
sp_points_append (SpPointsLoop *loop)
{
  SpPoints *points = loop->points;
  guint64 n = points->n++;

  if (!loop->levels_alone) {
    double f = loop->values[0];
    if (n == 1)
      loop->direction = f > loop->last ? 1 : -1;
    loop->last = points->frequency_hz[n] = f;
  }
  for (guint i = 0; i < points->n_levels; i++)
    points->level[i][n] = loop->values[i + 1];
}

/* One line that the fast path left. *end: the rows are over. */
gboolean sp_points_slow_line (SpPointsLoop *loop, SpTextFields *fields, SpTextLines *lines, gboolean *end, GError **error);
