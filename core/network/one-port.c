/* one-port.c - reads the reflections of a one-port file */
#include "core/network/one-port.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/curve/points.h"
#include "core/network/touchstone.h"
#include "core/quantity/error.h"
#include "core/quantity/file.h"
#include "core/quantity/text.h"

SpOnePort *
sp_one_port_parse (const char *bytes, gsize length, const char *name, GError **error)
{
  Reader reader = { .ports = 1, .name = name };

  if (!sp_touchstone_read (&reader, bytes, length, error))
    return NULL;
  SpOnePort *one_port = g_new0 (SpOnePort, 1);
  one_port->n = reader.frequency_hz->len;
  one_port->frequency_hz = (double *) g_array_free (reader.frequency_hz, FALSE);
  one_port->s11 = (complex double *) g_array_free (reader.s[0], FALSE);
  for (guint k = 1; k < 4; k++)
    g_array_unref (reader.s[k]);
  return one_port;
}

SpOnePort *
sp_one_port_read (const char *path, GError **error)
{
  gsize length;
  g_autofree char *bytes = sp_file_read (path, SP_NETWORK_BYTES, &length, error);

  return bytes ? sp_one_port_parse (bytes, length, path, error) : NULL;
}

void
sp_one_port_free (SpOnePort *one_port)
{
  g_free (one_port->frequency_hz);
  g_free (one_port->s11);
  g_free (one_port);
}

SpCurve *
sp_one_port_vswr (const SpOnePort *one_port, GError **error)
{
  g_autofree double *f = g_new (double, one_port->n), *vswr = g_new (double, one_port->n);
  guint n = 0;

  for (guint i = 0; i < one_port->n; i++) {
    double g = cabs (one_port->s11[i]);
    if (!(one_port->frequency_hz[i] > 0))
      continue;
    f[n] = one_port->frequency_hz[i];
    vswr[n++] = g < 1 ? fmin ((1 + g) / (1 - g), SP_VSWR_HIGH) : SP_VSWR_HIGH;
  }
  if (n == 0) {
    sp_fail (error, SP_ERROR_USAGE, _ ("it has no point above 0 Hz"));
    return NULL;
  }
  return sp_curve_new (SP_CURVE_LINEAR, n, f, vswr, NULL, NULL, error);
}

static gboolean
vswr_of_file (SpKeyFile *file, SpGroup *group, const SpKey *key, SpCurve **out, GError **error)
{
  g_autofree char *name = sp_unescape (key->value), *path = sp_key_file_resolve (file, name);
  g_autofree char *excerpt = sp_excerpt_path (path);
  g_autoptr (GError) why = NULL;

  if (sp_file_is_missing (path))
    return sp_key_fail (file, group, key, 0, error,
                        _ ("there is no file “%s”; expected a one-port Touchstone file, named from this file's folder"), excerpt);
  g_autoptr (SpOnePort) one_port = sp_one_port_read (path, error);
  SpCurve *vswr = one_port ? sp_one_port_vswr (one_port, &why) : NULL;
  if (!one_port)
    return FALSE;
  if (!vswr)
    return sp_key_fail (file, group, key, 0, error, _ ("no VSWR can be taken from it: %s"), why->message);
  g_clear_pointer (out, sp_curve_unref);
  *out = vswr;
  return TRUE;
}

static gboolean
names_one_port (const char *value)
{
  gsize length = strlen (value);
  return length > 4 && g_ascii_strcasecmp (value + length - 4, ".s1p") == 0;
}

gboolean
sp_group_vswr (SpKeyFile *file, SpGroup *group, const char *name, gboolean files, SpCurve **out, GError **error)
{
  SpCurveFormat format = { SP_CURVE_LINEAR, _ ("a VSWR"), 1, SP_VSWR_HIGH, FALSE, TRUE };
  const SpKey *key = sp_group_find (group, name);

  if (!key || !names_one_port (key->value))
    return sp_group_curve (file, group, name, &format, out, error);
  if (!files)
    return sp_key_fail (file, group, key, 0, error,
                        _ ("names a file, which cannot be done here; expected a number, or frequencies and values"));
  return vswr_of_file (file, group, key, out, error);
}
