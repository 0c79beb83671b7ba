/* network.c - two-ports: cascade, losses, reflections */
#include "core/network/network.h"

#include "core/network/touchstone.h"
#include "core/quantity/file.h"
#include "core/quantity/hash.h"

#include <math.h>

SpTwoPort *
sp_two_port_parse (const char *bytes, gsize length, const char *name, GError **error)
{
  Reader reader = { .ports = 2, .name = name };
  SpComplex *s[4];

  if (!sp_touchstone_read (&reader, bytes, length, error))
    return NULL;
  SpTwoPort *two_port = g_atomic_rc_box_new0 (SpTwoPort);
  for (guint k = 0; k < 4; k++)
    s[k] = (SpComplex *) g_array_free (reader.s[k], FALSE);
  two_port->n = reader.frequency_hz->len;
  two_port->frequency_hz = (double *) g_array_free (reader.frequency_hz, FALSE);
  two_port->s11 = s[SP_S11];
  two_port->s21 = s[SP_S21];
  two_port->s12 = s[SP_S12];
  two_port->s22 = s[SP_S22];
  two_port->reference_ohm = SP_REFERENCE_OHM;
  two_port->raw = g_bytes_new (bytes, length);
  two_port->sha256 = sp_sha256 (two_port->raw);
  return two_port;
}

SpTwoPort *
sp_two_port_read (const char *path, GError **error)
{
  gsize length;
  g_autofree char *bytes = sp_file_read (path, SP_NETWORK_BYTES, &length, error);

  return bytes ? sp_two_port_parse (bytes, length, path, error) : NULL;
}

SpTwoPort *
sp_two_port_ref (const SpTwoPort *two_port)
{
  return g_atomic_rc_box_acquire ((SpTwoPort *) two_port);
}

static void
clear (gpointer data)
{
  SpTwoPort *two_port = data;

  g_free (two_port->frequency_hz);
  g_free (two_port->s11);
  g_free (two_port->s21);
  g_free (two_port->s12);
  g_free (two_port->s22);
  g_free (two_port->sha256);
  g_bytes_unref (two_port->raw);
}

void
sp_two_port_unref (SpTwoPort *two_port)
{
  g_atomic_rc_box_release_full (two_port, clear);
}

/* The last grid point not above f, but never the last of all where there are two. */
static guint
find_point (const SpTwoPort *two_port, double frequency_hz)
{
  guint low = 0, high = two_port->n - 1;

  while (high - low > 1) {
    guint middle = low + (high - low) / 2;
    if (two_port->frequency_hz[middle] <= frequency_hz)
      low = middle;
    else
      high = middle;
  }
  return low;
}

void
sp_two_port_at (const SpTwoPort *two_port, double frequency_hz, SpComplex s[4], gboolean *inside)
{
  const SpComplex *const grid[4] = { two_port->s11, two_port->s21, two_port->s12, two_port->s22 };
  const double *f = two_port->frequency_hz;
  const guint last = two_port->n - 1;
  double held = !(frequency_hz > f[0]) ? f[0] : MIN (frequency_hz, f[last]);
  guint i = last > 0 ? find_point (two_port, held) : 0, next = MIN (i + 1, last);
  double t = next > i ? (held - f[i]) / (f[next] - f[i]) : 0;

  for (guint k = 0; k < 4; k++) {
    s[k].re = grid[k][i].re * (1 - t) + grid[k][next].re * t;
    s[k].im = grid[k][i].im * (1 - t) + grid[k][next].im * t;
  }
  if (inside)
    *inside = frequency_hz >= f[0] && frequency_hz <= f[last];
}

static SpComplex
times (SpComplex a, SpComplex b)
{
  return (SpComplex){ a.re * b.re - a.im * b.im, a.re * b.im + a.im * b.re };
}

static SpComplex
over (SpComplex a, SpComplex b)
{
  double norm = b.re * b.re + b.im * b.im;
  return (SpComplex){ (a.re * b.re + a.im * b.im) / norm, (a.im * b.re - a.re * b.im) / norm };
}

static SpComplex
plus (SpComplex a, SpComplex b)
{
  return (SpComplex){ a.re + b.re, a.im + b.im };
}

void
sp_two_port_cascade (const SpComplex a[4], const SpComplex b[4], SpComplex out[4])
{
  const SpComplex loop = times (a[SP_S22], b[SP_S11]), loss = { 1 - loop.re, -loop.im };
  const SpComplex forth = times (a[SP_S21], a[SP_S12]), back = times (b[SP_S21], b[SP_S12]);
  const SpComplex s11 = plus (a[SP_S11], over (times (forth, b[SP_S11]), loss));
  const SpComplex s22 = plus (b[SP_S22], over (times (back, a[SP_S22]), loss));
  const SpComplex s21 = over (times (a[SP_S21], b[SP_S21]), loss), s12 = over (times (a[SP_S12], b[SP_S12]), loss);

  out[SP_S11] = s11;
  out[SP_S21] = s21;
  out[SP_S12] = s12;
  out[SP_S22] = s22;
}

/* -- another reference -- */

static SpComplex
scaled (SpComplex a, double factor)
{
  return (SpComplex){ a.re * factor, a.im * factor };
}

void
sp_one_port_refer (SpComplex *s11, double from_ohm, double to_ohm)
{
  double m = from_ohm - to_ohm, p = from_ohm + to_ohm;
  SpComplex up = plus ((SpComplex){ m, 0 }, scaled (*s11, p)), down = plus ((SpComplex){ p, 0 }, scaled (*s11, m));

  *s11 = over (up, down);
}

/* (M + P S) and (P + M S) by rows, then the first times the second's inverse. */
void
sp_two_port_refer (SpComplex s[4], const double from_ohm[2], double to_ohm)
{
  const guint place[2][2] = { { SP_S11, SP_S12 }, { SP_S21, SP_S22 } };
  SpComplex up[2][2], down[2][2];

  for (guint i = 0; i < 2; i++) {
    double scale = 0.5 / sqrt (from_ohm[i] * to_ohm), p = scale * (from_ohm[i] + to_ohm), m = scale * (from_ohm[i] - to_ohm);
    for (guint k = 0; k < 2; k++) {
      up[i][k] = plus (scaled (s[place[i][k]], p), (SpComplex){ i == k ? m : 0, 0 });
      down[i][k] = plus (scaled (s[place[i][k]], m), (SpComplex){ i == k ? p : 0, 0 });
    }
  }
  SpComplex det = plus (times (down[0][0], down[1][1]), scaled (times (down[0][1], down[1][0]), -1));
  for (guint i = 0; i < 2; i++) {
    s[place[i][0]] = over (plus (times (up[i][0], down[1][1]), scaled (times (up[i][1], down[1][0]), -1)), det);
    s[place[i][1]] = over (plus (times (up[i][1], down[0][0]), scaled (times (up[i][0], down[0][1]), -1)), det);
  }
}
