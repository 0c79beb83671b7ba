/* spur-relations.h - finds possible sources of a non-harmonic spur by arithmetic alone
 *
 * Common practice, no source. The result is a possibility, not an origin: no verdict uses it.
 */
#pragma once

#include <glib.h>

#define SP_RELATION_MOST 12 /* highest order tried: |n| + |m|, or divisor - 1 (common practice, no source) */
/* Accepted probability that an unrelated frequency is explained by chance (common practice, no source) */
#define SP_RELATION_CHANCE 0.01
/* A clock's frequency is known to this (crystals; common practice, no source) */
#define SP_CLOCK_RELATIVE 50e-6

/* f = |n f0/divisor + m clock|: multiples of the fundamental or of its half and third (a divider, a parametric amplifier), a clock's
 * harmonics (n = 0), sums and differences. */
typedef struct {
  guint n, divisor;    /* divisor > 1 only if m is 0 */
  int m;               /* 0: no clock; the sign is relative to n f0 */
  double clock_hz;     /* NaN if m is 0 */
  double frequency_hz; /* predicted frequency */
  double chance;       /* probability of an explanation by chance, see below */
} SpRelation;

/* Finds the relation of lowest order within tolerance, then the nearest. `f` is known to +- half_hz, f0 (NaN: not known) to +-
 * f0_half_hz.
 * All candidates up to an order, each with its tolerance, cover a share of the frequencies f/2 .. 2 f: the probability that an
 * unrelated spur there is explained. Orders are tried while that is at most SP_RELATION_CHANCE, so a wide tolerance or many clocks
 * leave only the simplest relations. */
gboolean sp_relation_find (double f, double half_hz, double f0, double f0_half_hz, guint n_clocks, const double *clock_hz,
                           SpRelation *found);
