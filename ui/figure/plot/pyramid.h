/* pyramid.h - keeps least, greatest and sum of blocks of points, so that drawing many points reads few
 *
 * For callers that draw the same points repeatedly: a window that zooms and pans. A column of a thousand points reads twenty times
 * fewer values, at 5 % of the points' memory. Extremes are bit-identical, middles equal to rounding.
 */
#pragma once

#include <glib.h>

#define SP_BLOCK 64

typedef struct {
  double least, greatest, sum;
} SpBlock;

typedef struct {
  guint64 n; /* whole blocks; the remainder at the end belongs to none */
  SpBlock *blocks;
} SpPyramid;

/* A set of pyramids, one for each array of points. An array must outlive the set and never change. */
typedef struct SpPyramids SpPyramids;

SpPyramids *sp_pyramids_new (void);
void sp_pyramids_free (SpPyramids *pyramids);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpPyramids, sp_pyramids_free)

/* Built at the first call, which reads all n points once. NULL if pyramids is NULL. (transfer none) */
const SpPyramid *sp_pyramids_of (SpPyramids *pyramids, guint64 n, const double *y);
