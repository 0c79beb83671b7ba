/* touchstone-head.c - reads the head of a Touchstone file */
#include "core/network/touchstone.h"

#include "core/quantity/error.h"
#include "core/quantity/text.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* -- fields -- */

gboolean
sp_touchstone_fail (const Reader *reader, guint i, GError **error, const char *expected)
{
  if (i >= MIN (reader->n, SP_NETWORK_FIELDS))
    return sp_fail_at (error, reader->name, reader->line, reader->end_column, _ ("the line ends here; expected %s"), expected);
  g_autofree char *found = sp_excerpt (reader->field[i].text);
  return sp_fail_at (error, reader->name, reader->line, reader->field[i].column, _ ("found “%s”; expected %s"), found, expected);
}

void
sp_touchstone_split (Reader *reader, char *text, guint column)
{
  reader->n = 0;
  reader->end_column = column;
  for (char *p = text; *p;) {
    gsize blanks = strspn (p, " \t"), length = strcspn (p + blanks, " \t");
    column += (guint) blanks;
    p += blanks;
    if (length == 0)
      break;
    if (reader->n < SP_NETWORK_FIELDS)
      reader->field[reader->n] = (Field){ p, column };
    reader->n++;
    column += (guint) length;
    reader->end_column = column;
    p += length;
    if (*p) {
      *p++ = '\0';
      column++;
    }
  }
}

static gboolean
is_word (const Reader *reader, guint i, const char *word)
{
  return i < MIN (reader->n, SP_NETWORK_FIELDS) && g_ascii_strcasecmp (reader->field[i].text, word) == 0;
}

gboolean
sp_touchstone_number (const Reader *reader, guint i, double *value, GError **error)
{
  return (i < MIN (reader->n, SP_NETWORK_FIELDS) && sp_parse_number (reader->field[i].text, value, NULL))
         || sp_touchstone_fail (reader, i, error, _ ("a number"));
}

/* -- option line -- */

/* Field i as the reference of `port`. */
static gboolean
read_reference (Reader *reader, guint i, guint port, GError **error)
{
  double ohm;

  if (!sp_touchstone_number (reader, i, &ohm, error))
    return FALSE;
  if (!(ohm >= 1e-3 && ohm <= 1e6))
    return sp_touchstone_fail (reader, i, error, _ ("a reference in ohm, above 0, such as 50"));
  reader->reference_ohm[port] = ohm;
  return TRUE;
}

/* One or, from 2.1 on, a value for each port, after R at field *i. */
static gboolean
read_impedance (Reader *reader, guint *i, GError **error)
{
  double ohm;

  if (!read_reference (reader, ++*i, 0, error))
    return FALSE;
  reader->reference_ohm[1] = reader->reference_ohm[0];
  if (reader->ports < 2 || *i + 1 >= MIN (reader->n, SP_NETWORK_FIELDS) || !sp_parse_number (reader->field[*i + 1].text, &ohm, NULL))
    return TRUE;
  return read_reference (reader, ++*i, 1, error);
}

static gboolean
read_option (Reader *reader, guint *i, GError **error)
{
  static const char *const units[] = { "Hz", "kHz", "MHz", "GHz" }, *const formats[] = { "MA", "DB", "RI" };
  static const char *const others[] = { "Y", "Z", "H", "G" };

  for (guint k = 0; k < G_N_ELEMENTS (units); k++)
    if (is_word (reader, *i, units[k])) {
      reader->unit = units[k];
      return TRUE;
    }
  for (guint k = 0; k < G_N_ELEMENTS (formats); k++)
    if (is_word (reader, *i, formats[k])) {
      reader->format = (Format) k;
      return TRUE;
    }
  for (guint k = 0; k < G_N_ELEMENTS (others); k++)
    if (is_word (reader, *i, others[k]))
      return sp_touchstone_fail (reader, *i, error, _ ("S: only scattering parameters are read; convert the file"));
  if (is_word (reader, *i, "S"))
    return TRUE;
  if (is_word (reader, *i, "R"))
    return read_impedance (reader, i, error);
  return sp_touchstone_fail (reader, *i, error, _ ("Hz, kHz, MHz or GHz, S, MA, DB or RI, or R and the reference in ohm"));
}

gboolean
sp_touchstone_options (Reader *reader, char *text, guint column, GError **error)
{
  if (reader->has_options)
    return TRUE;
  reader->has_options = TRUE;
  sp_touchstone_split (reader, text, column);
  if (reader->n > SP_NETWORK_FIELDS)
    return sp_touchstone_fail (reader, SP_NETWORK_FIELDS - 1, error, _ ("at most a unit, S, a format and R with its value"));
  for (guint i = 0; i < reader->n; i++)
    if (!read_option (reader, &i, error))
      return FALSE;
  return TRUE;
}

gboolean
sp_touchstone_references (Reader *reader, GError **error)
{
  for (guint i = 0; i < reader->n; i++) {
    if (reader->references == reader->ports)
      return sp_touchstone_fail (reader, i, error, reader->ports == 2 ? _ ("two references, one for each port") : _ ("one reference"));
    if (!read_reference (reader, i, reader->references++, error))
      return FALSE;
  }
  return TRUE;
}

/* -- keywords of 2.x; their values are the line's fields -- */

static gboolean
read_version (Reader *reader, GError **error)
{
  if (!is_word (reader, 0, "2.0") && !is_word (reader, 0, "2.1"))
    return sp_touchstone_fail (reader, 0, error, _ ("2.0 or 2.1"));
  reader->version2 = TRUE;
  return TRUE;
}

static gboolean
read_ports (Reader *reader, GError **error)
{
  if (reader->ports == 1)
    return is_word (reader, 0, "1") || sp_touchstone_fail (reader, 0, error, _ ("1: a one-port is wanted here"));
  return is_word (reader, 0, "2") || sp_touchstone_fail (reader, 0, error, _ ("2: a two-port is wanted here; more than two are not read"));
}

static gboolean
read_order (Reader *reader, GError **error)
{
  reader->order_12_21 = is_word (reader, 0, "12_21");
  reader->has_order = TRUE;
  return reader->order_12_21 || is_word (reader, 0, "21_12") || sp_touchstone_fail (reader, 0, error, _ ("21_12 or 12_21"));
}

static gboolean
read_frequencies (Reader *reader, GError **error)
{
  double count;

  if (!sp_touchstone_number (reader, 0, &count, error))
    return FALSE;
  if (count < 1 || count > SP_NETWORK_POINTS || count != floor (count))
    return sp_touchstone_fail (reader, 0, error, _ ("how many frequencies there are, from 1 to 200000"));
  reader->declared = (gint64) count;
  reader->declared_line = reader->line;
  return TRUE;
}

static gboolean
begin_references (Reader *reader, GError **error)
{
  reader->section = IN_REFERENCE;
  reader->references = 0; /* they replace the option line's R */
  return sp_touchstone_references (reader, error);
}

static gboolean
read_matrix (Reader *reader, GError **error)
{
  reader->half = is_word (reader, 0, "Lower") || is_word (reader, 0, "Upper");
  return reader->half || is_word (reader, 0, "Full") || sp_touchstone_fail (reader, 0, error, _ ("Full, Lower or Upper"));
}

static gboolean
read_mixed (Reader *reader, GError **error)
{
  return sp_touchstone_fail (reader, 0, error, _ ("no mixed-mode parameters: they are not read"));
}

static gboolean
begin_information (Reader *reader, G_GNUC_UNUSED GError **error)
{
  reader->section = IN_INFORMATION;
  return TRUE;
}

static gboolean
begin_network (Reader *reader, G_GNUC_UNUSED GError **error)
{
  reader->section = IN_NETWORK;
  return TRUE;
}

static gboolean
begin_noise (Reader *reader, G_GNUC_UNUSED GError **error)
{
  reader->section = IN_NOISE;
  return TRUE;
}

static gboolean
end (Reader *reader, G_GNUC_UNUSED GError **error)
{
  reader->section = AT_END;
  return TRUE;
}

static gboolean
pass_over (G_GNUC_UNUSED Reader *reader, G_GNUC_UNUSED GError **error)
{
  return TRUE;
}

static const struct {
  const char *name;
  gboolean (*read) (Reader *reader, GError **error);
} keywords[] = {
  { "Version", read_version },
  { "Number of Ports", read_ports },
  { "Two-Port Data Order", read_order },
  { "Two-Port Order", read_order },
  { "Number of Frequencies", read_frequencies },
  { "Number of Noise Frequencies", pass_over },
  { "Reference", begin_references },
  { "Matrix Format", read_matrix },
  { "Mixed-Mode Order", read_mixed },
  { "Begin Information", begin_information },
  { "End Information", pass_over },
  { "Network Data", begin_network },
  { "Noise Data", begin_noise },
  { "End", end },
};

gboolean
sp_touchstone_keyword (Reader *reader, char *text, guint column, GError **error)
{
  char *close = strchr (text, ']');

  if (!close)
    return sp_fail_at (error, reader->name, reader->line, column, _ ("a keyword without its ]"));
  *close = '\0';
  char *name = g_strstrip (text + 1);
  if (reader->section == IN_REFERENCE && reader->references != reader->ports)
    return sp_fail_at (error, reader->name, reader->line, column, _ ("[Reference] has %u values; expected %u, one for each port"),
                       reader->references, reader->ports);
  if (reader->section == AT_END)
    return sp_fail_at (error, reader->name, reader->line, column, _ ("a keyword after [End]"));
  if (!reader->version2 && g_ascii_strcasecmp (name, "Version") != 0)
    return sp_fail_at (error, reader->name, reader->line, column, _ ("a keyword before [Version] 2.0"));
  if (reader->section == IN_REFERENCE)
    reader->section = IN_HEADER;
  sp_touchstone_split (reader, close + 1, column + (guint) (close + 1 - text));
  for (guint i = 0; i < G_N_ELEMENTS (keywords); i++)
    if (g_ascii_strcasecmp (name, keywords[i].name) == 0)
      return keywords[i].read (reader, error);
  g_autofree char *found = sp_excerpt (name);
  return sp_fail_at (error, reader->name, reader->line, column, _ ("found “[%s]”; expected a keyword of Touchstone 2"), found);
}
