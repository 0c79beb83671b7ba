/* network.h - two-ports: S-parameters of a stage from a Touchstone file, cascade
 *
 * Touchstone 1.x, 2.0 and 2.1 of one port (one-port.h) or two: S parameters, RI, MA, DB, Hz to GHz, both port orders, half matrices,
 * comments, keywords; the noise block is checked and passed over. A reference other than 50 ohm, or one for each port, is converted to 50.
 * Other port counts, other parameters and mixed modes are refused, and said.
 * Limits: 64 MiB a file, 200,000 frequencies. Immutable, reference counted.
 */
#pragma once

#include <complex.h>
#include <glib.h>

/* Places in complex double s[4]: Touchstone's own order. */
enum { SP_S11, SP_S21, SP_S12, SP_S22 };

typedef struct {
  guint n;
  double *frequency_hz; /* n, strictly ascending */
  complex double *s11, *s21, *s12, *s22;
  double reference_ohm; /* 50, whatever the file's was */
  GBytes *raw;          /* the file's bytes */
  char *sha256;         /* of raw */
} SpTwoPort;

/* Reads a two-port Touchstone file; errors name file, line, column. (transfer full) */
SpTwoPort *sp_two_port_read (const char *path, GError **error);
SpTwoPort *sp_two_port_parse (const char *bytes, gsize length, const char *name, GError **error);
SpTwoPort *sp_two_port_ref (const SpTwoPort *two_port);
void sp_two_port_unref (SpTwoPort *two_port);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpTwoPort, sp_two_port_unref)

/* S-parameters at f: real and imaginary parts linear between grid points; ends held outside, *inside (may be NULL) FALSE then. */
void sp_two_port_at (const SpTwoPort *two_port, double frequency_hz, complex double s[4], gboolean *inside);

/* Cascade of a then b, both in the same reference (out may be a or b): S21 = S21a S21b / (1 - S22a S11b) and so on
 * (Pozar, Microwave Engineering, 4.4). */
void sp_two_port_cascade (const complex double a[4], const complex double b[4], complex double out[4]);
