/* touchstone.c - reads Touchstone files */
#include "core/network/touchstone.h"

#include "core/quantity/error.h"
#include "core/quantity/file.h"
#include "core/quantity/text.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#define NOISE_FIELDS 5 /* f, NF, |G|, angle, Rn; format of a noise line */

/* -- data -- */

static complex double
complex_from (Format format, double a, double b)
{
  if (format == FORMAT_RI)
    return a + b * I;
  double magnitude = format == FORMAT_DB ? pow (10, a / 20) : a, angle = b * (G_PI / 180);
  return magnitude * cos (angle) + magnitude * sin (angle) * I;
}

/* What must be known before the first row. */
static gboolean
check_ready (Reader *reader, GError **error)
{
  guint column = reader->field[0].column;

  if (!reader->has_options)
    return sp_fail_at (error, reader->name, reader->line, column,
                       _ ("data before the option line; expected one first, such as # MHz S DB R 50"));
  if (reader->version2 && reader->ports == 2 && !reader->has_order && !reader->half)
    return sp_fail_at (error, reader->name, reader->line, column, _ ("expected [Two-Port Data Order] 21_12 or 12_21 before the data"));
  return TRUE;
}

/* Numbers in a line: the frequency and a pair for each parameter. */
static guint
row_fields (const Reader *reader)
{
  return reader->ports == 1 ? 3 : reader->half ? 7 : 9;
}

static gboolean
fail_count (const Reader *reader, GError **error)
{
  guint column = reader->field[0].column;
  if (reader->ports == 1)
    return sp_fail_at (error, reader->name, reader->line, column, _ ("a line of %u numbers%s; expected 3: the frequency and S11 as a pair"),
                       reader->n, reader->n == 9 ? _ (", as of a two-port") : "");
  if (reader->half)
    return sp_fail_at (error, reader->name, reader->line, column,
                       _ ("a line of %u numbers; expected 7: the frequency and three pairs, as [Matrix Format] says"), reader->n);
  const char *kind = reader->n == 3 ? _ (", as of a one-port") : reader->n == 7 || reader->n == 8 ? _ (", as of three or four ports") : "";

  return sp_fail_at (error, reader->name, reader->line, column,
                     _ ("a line of %u numbers%s; expected 9: the frequency and S11, S21, S12, S22, each as a pair"), reader->n, kind);
}

static gboolean
read_row_frequency (Reader *reader, double *frequency_hz, GError **error)
{
  double plain;

  if (!sp_touchstone_number (reader, 0, &plain, error))
    return FALSE;
  g_autofree char *text = g_strconcat (reader->field[0].text, reader->unit, NULL);
  return sp_parse_frequency (text, frequency_hz, NULL) || sp_touchstone_fail (reader, 0, error, _ ("a frequency, not below 0"));
}

static gboolean
read_noise (Reader *reader, GError **error)
{
  double ignored;

  if (reader->n != NOISE_FIELDS)
    return sp_fail_at (error, reader->name, reader->line, reader->field[0].column,
                       _ ("a line of %u fields; expected the noise block's 5 (frequencies of S-parameters must ascend)"), reader->n);
  for (guint i = 0; i < NOISE_FIELDS; i++)
    if (!sp_touchstone_number (reader, i, &ignored, error))
      return FALSE;
  return TRUE;
}

/* The line's pairs, each to where it belongs: a pair that stands once serves for both. */
static gboolean
read_pairs (Reader *reader, GError **error)
{
  static const guint one[] = { SP_S11 }, full[] = { SP_S11, SP_S21, SP_S12, SP_S22 }, turned[] = { SP_S11, SP_S12, SP_S21, SP_S22 },
                     half[] = { SP_S11, SP_S21, SP_S22 };
  const guint *to = reader->ports == 1 ? one : reader->half ? half : reader->order_12_21 ? turned : full;
  complex double s[4] = { 0 };

  for (guint k = 0; 2 * k + 1 < reader->n; k++) {
    double a, b;
    if (!sp_touchstone_number (reader, 2 * k + 1, &a, error) || !sp_touchstone_number (reader, 2 * k + 2, &b, error))
      return FALSE;
    s[to[k]] = complex_from (reader->format, a, b);
    if (!isfinite (creal (s[to[k]])) || !isfinite (cimag (s[to[k]])))
      return sp_touchstone_fail (reader, 2 * k + 1, error, _ ("a magnitude that a number can hold"));
  }
  if (reader->half)
    s[SP_S12] = s[SP_S21];
  for (guint k = 0; k < 4; k++)
    g_array_append_val (reader->s[k], s[k]);
  return TRUE;
}

static gboolean
read_row (Reader *reader, GError **error)
{
  GArray *grid = reader->frequency_hz;
  double frequency_hz;

  if ((grid->len == 0 && !check_ready (reader, error)) || !read_row_frequency (reader, &frequency_hz, error))
    return FALSE;
  gboolean ascends = grid->len == 0 || frequency_hz > g_array_index (grid, double, grid->len - 1);
  if (!ascends && !reader->version2 && reader->ports == 2 && reader->n == NOISE_FIELDS) {
    reader->section = IN_NOISE;
    return read_noise (reader, error);
  }
  if (reader->n != row_fields (reader))
    return fail_count (reader, error);
  if (!ascends)
    return sp_touchstone_fail (reader, 0, error, _ ("a frequency above that of the line before"));
  if (grid->len == SP_NETWORK_POINTS)
    return sp_fail (error, SP_ERROR_LIMIT, _ ("%s:%u: more than the %d frequencies that are read of such a file"), reader->name,
                    reader->line, SP_NETWORK_POINTS);
  g_array_append_val (grid, frequency_hz);
  return read_pairs (reader, error);
}

static gboolean
read_data (Reader *reader, GError **error)
{
  switch (reader->section) {
  case IN_REFERENCE: return sp_touchstone_references (reader, error);
  case IN_NOISE: return read_noise (reader, error);
  case AT_END: return sp_touchstone_fail (reader, 0, error, _ ("nothing after [End]"));
  case IN_NETWORK: return read_row (reader, error);
  default:
    return reader->version2 ? sp_touchstone_fail (reader, 0, error, _ ("a keyword, such as [Network Data]")) : read_row (reader, error);
  }
}

/* A line without its end; its comment is cut off first, for that may hold any bytes. */
static gboolean
read_line (Reader *reader, char *text, GError **error)
{
  text[strcspn (text, "!")] = '\0';
  for (guchar *p = (guchar *) text; *p; p++)
    if ((*p < ' ' && *p != '\t') || *p > '~')
      return sp_fail_at (error, reader->name, reader->line, (guint) (p - (guchar *) text) + 1,
                         _ ("the byte 0x%02X; expected plain ASCII text"), (guint) *p);
  g_strchomp (text);
  guint column = (guint) strspn (text, " \t") + 1;
  text += column - 1;
  if (reader->section == IN_INFORMATION) {
    if (g_ascii_strncasecmp (text, "[End Information]", 17) == 0)
      reader->section = IN_HEADER;
    return TRUE;
  }
  if (*text == '#')
    return sp_touchstone_options (reader, text + 1, column + 1, error);
  if (*text == '[')
    return sp_touchstone_keyword (reader, text, column, error);
  sp_touchstone_split (reader, text, column);
  return reader->n == 0 || read_data (reader, error);
}

static gboolean
read_lines (Reader *reader, const char *bytes, gsize length, GError **error)
{
  const char *stop = bytes + length, *next;

  if (length >= 3 && memcmp (bytes, "\xEF\xBB\xBF", 3) == 0)
    bytes += 3;
  for (const char *line = bytes; line < stop; line = next) {
    const char *to = line;
    while (to < stop && *to != '\n' && *to != '\r')
      to++;
    next = to + (to + 1 < stop && to[0] == '\r' && to[1] == '\n' ? 2 : 1);
    reader->line++;
    if (memchr (line, '\0', to - line))
      return sp_fail_at (error, reader->name, reader->line, 0, _ ("a zero byte; expected a text file"));
    g_autofree char *text = g_strndup (line, to - line);
    if (!read_line (reader, text, error))
      return FALSE;
  }
  return TRUE;
}

/* The number of ports in a name such as "pad.s2p"; 0 where it has none. */
static guint
ports_of_name (const char *name)
{
  const char *suffix = strrchr (name, '.');

  if (!suffix || g_ascii_tolower (suffix[1]) != 's' || !g_ascii_isdigit (suffix[2]))
    return 0;
  char *rest;
  guint64 ports = g_ascii_strtoull (suffix + 2, &rest, 10);
  return g_ascii_strcasecmp (rest, "p") == 0 ? (guint) MIN (ports, 9999) : 0;
}

static gboolean
check_whole (const Reader *reader, GError **error)
{
  guint n = reader->frequency_hz->len;

  if (n == 0)
    return sp_fail_at (error, reader->name, reader->line, 0,
                       _ ("the file ends without data; expected lines of %u numbers after the option line"), row_fields (reader));
  if (reader->declared >= 0 && reader->declared != n)
    return sp_fail_at (error, reader->name, reader->declared_line, 0, _ ("[Number of Frequencies] says %d, but there are %u"),
                       (int) reader->declared, n);
  return TRUE;
}

/* To 50 ohm, where it is not in that already. */
static gboolean
refer (Reader *reader, GError **error)
{
  const double *from = reader->reference_ohm;

  if (from[0] == SP_REFERENCE_OHM && (reader->ports == 1 || from[1] == SP_REFERENCE_OHM))
    return TRUE;
  for (guint i = 0; i < reader->frequency_hz->len; i++) {
    complex double s[4];
    for (guint k = 0; k < 4; k++)
      s[k] = g_array_index (reader->s[k], complex double, i);
    if (reader->ports == 1)
      sp_one_port_refer (&s[0], from[0], SP_REFERENCE_OHM);
    else
      sp_two_port_refer (s, from, SP_REFERENCE_OHM);
    for (guint k = 0; k < 4; k++) {
      if (!isfinite (creal (s[k])) || !isfinite (cimag (s[k])))
        return sp_fail_at (error, reader->name, 0, 0, _ ("at %.15g Hz the parameters cannot be converted from %g ohm to 50 ohm"),
                           g_array_index (reader->frequency_hz, double, i), from[0]);
      g_array_index (reader->s[k], complex double, i) = s[k];
    }
  }
  return TRUE;
}

gboolean
sp_touchstone_read (Reader *reader, const char *bytes, gsize length, GError **error)
{
  guint ports = ports_of_name (reader->name);

  reader->unit = "GHz";
  reader->format = FORMAT_MA;
  reader->declared = -1;
  reader->reference_ohm[0] = reader->reference_ohm[1] = SP_REFERENCE_OHM;
  if (ports && ports != reader->ports)
    return sp_fail_at (error, reader->name, 0, 0,
                       reader->ports == 2 ? _ ("by its name a file of %u ports; expected a two-port (.s2p or .ts)")
                                          : _ ("by its name a file of %u ports; expected a one-port (.s1p or .ts)"),
                       ports);
  if (length > SP_NETWORK_BYTES)
    return sp_fail (error, SP_ERROR_LIMIT, _ ("%s: is larger than the %d bytes that are read of such a file"), reader->name,
                    SP_NETWORK_BYTES);
  reader->frequency_hz = g_array_new (FALSE, FALSE, sizeof (double));
  for (guint k = 0; k < 4; k++)
    reader->s[k] = g_array_new (FALSE, FALSE, sizeof (complex double));
  if (read_lines (reader, bytes, length, error) && check_whole (reader, error) && refer (reader, error))
    return TRUE;
  g_array_unref (reader->frequency_hz);
  for (guint k = 0; k < 4; k++)
    g_array_unref (reader->s[k]);
  return FALSE;
}
