/* chance.h - seeded randomness, and what a count may deviate by
 *
 * splitmix64 (Steele, Lea, Flood: Fast splittable pseudorandom number generators, 2014): the same seed gives the same numbers everywhere.
 */
#pragma once

#include <glib.h>

typedef struct {
  guint64 state;
} SimChance;

SimChance sim_chance (guint64 seed);
double sim_uniform (SimChance *chance); /* (0, 1) */
double sim_between (SimChance *chance, double low, double high);
double sim_normal (SimChance *chance);                          /* mean 0, standard deviation 1 */
void sim_normal_pair (SimChance *chance, double *x, double *y); /* two independent ones, at the price of one */

/* Do the long tests run (tests/run --long)? Then `full`, else `quick`. */
guint sim_many (guint quick, guint full);

/* A count out of n, checked and printed. Exact binomial tails; a check of a true statement fails once in 10,000 seeds on each side. */
void sim_at_most (const char *what, guint count, guint n, double p);             /* the rate is p or lower */
void sim_at_least (const char *what, guint count, guint n, double p);            /* the rate is p or higher */
void sim_rate (const char *what, guint count, guint n, double low, double high); /* the rate lies in low .. high */
