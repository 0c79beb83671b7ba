/* spur-relations.h - where a spur that is no harmonic may come from, by arithmetic alone
 *
 * Common practice, no source. It names a possibility, never an origin: no verdict asks for it.
 */
#pragma once

#include <glib.h>

#define SP_RELATION_MOST 12     /* highest order tried: |n| + |m|, and one less than the divisor */
#define SP_RELATION_CHANCE 0.01 /* of a frequency that has nothing to do with any of it being explained */
#define SP_CLOCK_RELATIVE 50e-6 /* a clock is known to this (common practice for crystals, no source) */

/* f = |n f0/divisor + m clock|: the fundamental's multiples, those of its half and third (a divider, a parametric amplifier), a clock's own
 * harmonics (n = 0), and sums and differences. */
typedef struct {
  guint n, divisor;    /* divisor > 1 only where m is 0 */
  int m;               /* 0: no clock; negative: subtracted, or subtracted from */
  double clock_hz;     /* NaN where m is 0 */
  double frequency_hz; /* where it would stand */
  double chance;       /* see below */
} SpRelation;

/* The relation of lowest order within tolerance, and among equals the nearest. `f` is known to +- half_hz, f0 (NaN: not known) to +- f0_half_hz.
 *
 * Chance is bounded thus: all that is tried up to an order, each with its own tolerance, covers some share of the frequencies from f/2 to
 * 2 f; a spur with no relation at all, anywhere there, would be explained with that probability. Orders are tried while it is at most
 * SP_RELATION_CHANCE, so that a wide tolerance, or many clocks, leave only the simplest relations or none. */
gboolean sp_relation_find (double f, double half_hz, double f0, double f0_half_hz, guint n_clocks, const double *clock_hz,
                           SpRelation *found);
