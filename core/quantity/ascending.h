/* ascending.h - places in ascending numbers, such as a trace's frequencies */
#pragma once

#include <glib.h>

/* Index of the first of x[0 .. n) that is not below `value`; n if none. x ascends; no NaN. */
guint64 sp_ascending_first (guint64 n, const double *x, double value);
/* Index of the one nearest to `value`, of two equally near the upper; n > 0. */
guint64 sp_ascending_nearest (guint64 n, const double *x, double value);
