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
  complex double *s[4];

  if (!sp_touchstone_read (&reader, bytes, length, error))
    return NULL;
  SpTwoPort *two_port = g_atomic_rc_box_new0 (SpTwoPort);
  for (guint k = 0; k < 4; k++)
    s[k] = (complex double *) g_array_free (reader.s[k], FALSE);
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
sp_two_port_at (const SpTwoPort *two_port, double frequency_hz, complex double s[4], gboolean *inside)
{
  const complex double *const grid[4] = { two_port->s11, two_port->s21, two_port->s12, two_port->s22 };
  const double *f = two_port->frequency_hz;
  const guint last = two_port->n - 1;
  double held = !(frequency_hz > f[0]) ? f[0] : MIN (frequency_hz, f[last]);
  guint i = last > 0 ? find_point (two_port, held) : 0, next = MIN (i + 1, last);
  double t = next > i ? (held - f[i]) / (f[next] - f[i]) : 0;

  for (guint k = 0; k < 4; k++)
    s[k] = grid[k][i] * (1 - t) + grid[k][next] * t;
  if (inside)
    *inside = frequency_hz >= f[0] && frequency_hz <= f[last];
}

void
sp_two_port_cascade (const complex double a[4], const complex double b[4], complex double out[4])
{
  const complex double loss = 1 - a[SP_S22] * b[SP_S11], forth = a[SP_S21] * a[SP_S12], back = b[SP_S21] * b[SP_S12];
  const complex double s11 = a[SP_S11] + forth * b[SP_S11] / loss, s22 = b[SP_S22] + back * a[SP_S22] / loss;
  const complex double s21 = a[SP_S21] * b[SP_S21] / loss, s12 = a[SP_S12] * b[SP_S12] / loss;

  out[SP_S11] = s11;
  out[SP_S21] = s21;
  out[SP_S12] = s12;
  out[SP_S22] = s22;
}

/* -- another reference -- */

void
sp_one_port_refer (complex double *s11, double from_ohm, double to_ohm)
{
  double m = from_ohm - to_ohm, p = from_ohm + to_ohm;

  *s11 = (m + *s11 * p) / (p + *s11 * m);
}

/* (M + P S) and (P + M S) by rows, then the first times the second's inverse. */
void
sp_two_port_refer (complex double s[4], const double from_ohm[2], double to_ohm)
{
  const guint place[2][2] = { { SP_S11, SP_S12 }, { SP_S21, SP_S22 } };
  complex double up[2][2], down[2][2];

  for (guint i = 0; i < 2; i++) {
    double scale = 0.5 / sqrt (from_ohm[i] * to_ohm), p = scale * (from_ohm[i] + to_ohm), m = scale * (from_ohm[i] - to_ohm);
    for (guint k = 0; k < 2; k++) {
      up[i][k] = s[place[i][k]] * p + (i == k ? m : 0);
      down[i][k] = s[place[i][k]] * m + (i == k ? p : 0);
    }
  }
  complex double det = down[0][0] * down[1][1] - down[0][1] * down[1][0];
  for (guint i = 0; i < 2; i++) {
    s[place[i][0]] = (up[i][0] * down[1][1] - up[i][1] * down[1][0]) / det;
    s[place[i][1]] = (up[i][1] * down[0][0] - up[i][0] * down[0][1]) / det;
  }
}
