/* one-port.h - what a source, a meter or one side of a stage reflects, from a one-port Touchstone file */
#pragma once

#include "core/curve/curve.h"
#include "core/network/network.h"
#include "core/quantity/keyfile.h"

typedef struct {
  guint n;
  double *frequency_hz; /* n, strictly ascending */
  complex double *s11;  /* in 50 ohm */
} SpOnePort;

/* Errors name file, line, column; limits as for two-ports. (transfer full) */
SpOnePort *sp_one_port_read (const char *path, GError **error);
SpOnePort *sp_one_port_parse (const char *bytes, gsize length, const char *name, GError **error);
void sp_one_port_free (SpOnePort *one_port);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpOnePort, sp_one_port_free)

/* (1 + |S11|)/(1 - |S11|) on its grid, points at 0 Hz left out; |S11| >= 1 counts as VSWR 1e6. NULL and an error where no point is left. (transfer full) */
SpCurve *sp_one_port_vswr (const SpOnePort *one_port, GError **error);

#define SP_VSWR_HIGH 1e6 /* what |S11| >= 1 counts as; bounds what can be meant */

/* A key that holds a VSWR: a number, pairs of frequency and value, or (with `files`) the name of a one-port file, from the key file's
 * folder: it must end in .s1p. *out left alone where the key is absent. */
gboolean sp_group_vswr (SpKeyFile *file, SpGroup *group, const char *key, gboolean files, SpCurve **out, GError **error);
