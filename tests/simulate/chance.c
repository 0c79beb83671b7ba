#include "tests/simulate/chance.h"
#include "tests/suite.h"

#include <gsl/gsl_cdf.h>

#define RARE 1e-4

SimChance
sim_chance (guint64 seed)
{
  SimChance chance = { seed * 0x2545F4914F6CDD1DULL + 0x1234567 };
  sim_uniform (&chance);
  return chance;
}

double
sim_uniform (SimChance *chance)
{
  guint64 z = (chance->state += 0x9E3779B97F4A7C15ULL);
  z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9ULL;
  z = (z ^ (z >> 27)) * 0x94D049BB133111EBULL;
  z ^= z >> 31;
  return ((double) (z >> 11) + 0.5) * 0x1p-53;
}

double
sim_between (SimChance *chance, double low, double high)
{
  return low + (high - low) * sim_uniform (chance);
}

/* The polar method (Marsaglia): no sine and cosine. */
void
sim_normal_pair (SimChance *chance, double *x, double *y)
{
  double u, v, s;
  do {
    u = 2 * sim_uniform (chance) - 1;
    v = 2 * sim_uniform (chance) - 1;
    s = u * u + v * v;
  } while (s >= 1 || s == 0);
  double scale = sqrt (-2 * log (s) / s);
  *x = u * scale;
  *y = v * scale;
}

double
sim_normal (SimChance *chance)
{
  double x, y;
  sim_normal_pair (chance, &x, &y);
  return x;
}

guint
sim_many (guint quick, guint full)
{
  return g_getenv ("SP_LONG") ? full : quick;
}

void
sim_rate (const char *what, guint count, guint n, double low, double high)
{
  double rate = n ? (double) count / n : NAN;
  printf ("simulated\t%u of %u\t%.3f %% +- %.3f\t%s\n", count, n, 100 * rate, 100 * sqrt (rate * (1 - rate) / n), what);
  fflush (stdout);
  ck_assert_msg (n > 0, "%s: nothing was counted", what);
  double above = high < 1 && count > 0 ? gsl_cdf_binomial_Q (count - 1, high, n) : 1,
         below = low > 0 ? gsl_cdf_binomial_P (count, low, n) : 1;
  ck_assert_msg (above > RARE, "%s: %u of %u, %.3f %%; expected at most %.3f %%, from which so many have the probability %.1e", what, count,
                 n, 100 * rate, 100 * high, above);
  ck_assert_msg (below > RARE, "%s: %u of %u, %.3f %%; expected at least %.3f %%, from which so few have the probability %.1e", what, count,
                 n, 100 * rate, 100 * low, below);
}

void
sim_at_most (const char *what, guint count, guint n, double p)
{
  sim_rate (what, count, n, 0, p);
}

void
sim_at_least (const char *what, guint count, guint n, double p)
{
  sim_rate (what, count, n, p, 1);
}
