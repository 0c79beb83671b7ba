/* points.c - reads rows of numbers with units, the form of every curve in a key file */
#include "core/curve/points.h"

#include "core/quantity/writer.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/quantity/error.h"
#include "core/quantity/text.h"

#define U_MAX_DB 100.0 /* bounds what can be meant */

/* Splits an item at blanks; a unit that stands apart ("50 MHz") joins the number before it. */
static GPtrArray *
split_fields (const char *text)
{
  GPtrArray *fields = g_ptr_array_new_with_free_func (g_free);
  for (const char *at = text; *at;) {
    gsize length = strcspn (at, " \t");
    if (length > 0 && fields->len == 1 && g_ascii_isalpha (*at)) {
      char *joined = g_strdup_printf ("%s%.*s", (char *) fields->pdata[0], (int) length, at);
      g_free (fields->pdata[0]);
      fields->pdata[0] = joined;
    } else if (length > 0) {
      g_ptr_array_add (fields, g_strndup (at, length));
    }
    at += length + strspn (at + length, " \t");
  }
  return fields;
}

typedef struct {
  SpKeyFile *file;
  SpGroup *group;
  const SpKey *key;
  const SpRowFormat *format;
} RowReader;

static gboolean
read_field (const RowReader *reader, guint index, const char *text, guint offset, double *number, GError **error)
{
  const SpRowFormat *format = reader->format;
  g_autoptr (GError) why = NULL;
  gboolean is_frequency = index == 0 && format->frequency;
  gboolean ok = is_frequency ? sp_parse_frequency (text, number, &why) : sp_parse_number (text, number, &why);
  if (!ok)
    return sp_key_fail (reader->file, reader->group, reader->key, offset, error, _ ("%s, in a row of %s"), why->message, format->expected);
  double low = -INFINITY, high = INFINITY;
  if (index == 1 || format->most == 1)
    low = format->low, high = format->high;
  else if (index == 0 && !is_frequency)
    low = format->first_low, high = format->first_high;
  if (*number < low || *number > high)
    return sp_key_fail (reader->file, reader->group, reader->key, offset, error, _ ("found “%s”; expected %g to %g, in a row of %s"), text,
                        low, high, format->expected);
  return TRUE;
}

static gboolean
read_row (const RowReader *reader, const SpItem *item, SpRow *row, GError **error)
{
  g_autoptr (GPtrArray) fields = split_fields (item->text);
  row->n = fields->len;
  row->offset = item->offset;
  for (guint i = 0; i < SP_ROW_MAX; i++)
    row->number[i] = NAN;
  if (fields->len < reader->format->least || fields->len > reader->format->most) {
    g_autofree char *excerpt = sp_excerpt (item->text);
    return sp_key_fail (reader->file, reader->group, reader->key, item->offset, error,
                        g_dngettext (GETTEXT_PACKAGE, "found “%s”, %u field; expected %s", "found “%s”, %u fields; expected %s",
                                     fields->len),
                        excerpt, fields->len, reader->format->expected);
  }
  for (guint i = 0; i < fields->len; i++)
    if (!read_field (reader, i, fields->pdata[i], item->offset, &row->number[i], error))
      return FALSE;
  return TRUE;
}

gboolean
sp_group_rows (SpKeyFile *file, SpGroup *group, const char *key, const SpRowFormat *format, GArray **rows, GError **error)
{
  RowReader reader = { file, group, sp_group_find (group, key), format };
  *rows = NULL;
  if (!reader.key)
    return TRUE;
  g_autoptr (GArray) items = sp_key_items (reader.key);
  if (items->len == 0)
    return sp_key_fail (file, group, reader.key, 0, error, _ ("nothing stands here; expected %s, several separated by ;"),
                        format->expected);
  g_autoptr (GArray) read = g_array_sized_new (FALSE, FALSE, sizeof (SpRow), items->len);
  for (guint i = 0; i < items->len; i++) {
    const SpItem *item = &g_array_index (items, SpItem, i);
    SpRow row;
    if (!read_row (&reader, item, &row, error))
      return FALSE;
    if (format->ascending && i > 0 && !(row.number[0] > g_array_index (read, SpRow, i - 1).number[0]))
      return sp_key_fail (file, group, reader.key, item->offset, error,
                          _ ("found “%s”, which does not lie above the one before; list them ascending"), item->text);
    g_array_append_val (read, row);
  }
  *rows = g_steal_pointer (&read);
  return TRUE;
}

/* The rows as three columns, for sp_curve_new. */
static SpCurve *
curve_from_rows (SpCurveKind kind, const GArray *rows, guint *bad, GError **error)
{
  g_autofree double *columns = g_new (double, 3 * rows->len);
  double *f = columns, *value = columns + rows->len, *u = columns + 2 * rows->len;
  for (guint i = 0; i < rows->len; i++) {
    const SpRow *row = &g_array_index (rows, SpRow, i);
    f[i] = row->number[0];
    value[i] = row->number[1];
    u[i] = row->number[2];
  }
  return sp_curve_new (kind, rows->len, f, value, u, bad, error);
}

static gboolean
check_u (SpKeyFile *file, SpGroup *group, const char *key, const GArray *rows, GError **error)
{
  for (guint i = 0; i < rows->len; i++) {
    const SpRow *row = &g_array_index (rows, SpRow, i);
    if (row->n == 3 && !(row->number[2] >= 0 && row->number[2] <= U_MAX_DB))
      return sp_key_fail (file, group, sp_group_find (group, key), row->offset, error,
                          _ ("found the uncertainty %g; expected 0 to %g dB (a standard uncertainty is never negative)"), row->number[2],
                          U_MAX_DB);
  }
  return TRUE;
}

gboolean
sp_group_curve (SpKeyFile *file, SpGroup *group, const char *key, const SpCurveFormat *format, SpCurve **out, GError **error)
{
  const SpKey *found = sp_group_find (group, key);
  double number;
  if (!found)
    return TRUE;
  if (format->or_number && sp_parse_number (found->value, &number, NULL)) {
    if (number < format->low || number > format->high)
      return sp_key_fail (file, group, found, 0, error, _ ("found “%s”; expected %g to %g"), found->value, format->low, format->high);
    g_clear_pointer (out, sp_curve_unref);
    *out = sp_curve_new_constant (number, NAN);
    return TRUE;
  }

  g_autofree char *expected = g_strdup_printf (_ ("%sa frequency and %s%s, such as 50MHz %g%s"),
                                               format->or_number ? _ ("a number, or ") : "", format->value,
                                               format->with_u ? _ (" and its uncertainty") : "", CLAMP (1.5, format->low, format->high),
                                               format->with_u ? " 0.03" : "");
  SpRowFormat rows_format = { expected, 2, format->with_u ? 3 : 2, TRUE, TRUE, format->low, format->high, 0, 0 };
  g_autoptr (GArray) rows = NULL;
  if (!sp_group_rows (file, group, key, &rows_format, &rows, error) || !check_u (file, group, key, rows, error))
    return FALSE;

  guint bad = 0;
  g_autoptr (GError) why = NULL;
  SpCurve *curve = curve_from_rows (format->kind, rows, &bad, &why);
  if (!curve)
    return sp_key_fail (file, group, found, g_array_index (rows, SpRow, MIN (bad, rows->len - 1)).offset, error, "%s", why->message);
  g_clear_pointer (out, sp_curve_unref);
  *out = curve;
  return TRUE;
}

void
sp_curve_append_text (const SpCurve *curve, GString *text)
{
  char digits[32];
  if (curve->n == 1 && curve->low_hz == 0 && isinf (curve->high_hz)) {
    g_string_append (text, sp_format_exact (curve->value[0], digits));
    return;
  }
  for (guint i = 0; i < curve->n; i++) {
    g_string_append_printf (text, "%s%s", i ? "; " : "", sp_format_exact (curve->frequency_hz[i], digits));
    g_string_append_printf (text, " %s", sp_format_exact (curve->value[i], digits));
    if (!isnan (curve->u[i]))
      g_string_append_printf (text, " %s", sp_format_exact (curve->u[i], digits));
  }
}

void
sp_curve_write (GString *text, const char *key, const SpCurve *curve)
{
  if (!curve)
    return;
  g_autoptr (GString) value = g_string_new (NULL);
  sp_curve_append_text (curve, value);
  sp_write_text (text, key, value->str);
}

/* ---- for tables of keys ---- */

static gboolean
read_curve (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, gboolean with_u, gboolean or_number, GError **error)
{
  SpCurveFormat format = { SP_CURVE_LINEAR, _ ((const char *) spec->format), spec->low, spec->high, with_u, or_number };
  return sp_group_curve (file, group, spec->key, &format, sp_key_member (spec, object), error);
}

gboolean
sp_key_read_curve (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, G_GNUC_UNUSED gpointer context, GError **error)
{
  return read_curve (spec, file, group, object, FALSE, FALSE, error);
}

gboolean
sp_key_read_curve_or_number (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, G_GNUC_UNUSED gpointer context,
                             GError **error)
{
  return read_curve (spec, file, group, object, FALSE, TRUE, error);
}

gboolean
sp_key_read_curve_with_u (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, G_GNUC_UNUSED gpointer context,
                          GError **error)
{
  return read_curve (spec, file, group, object, TRUE, TRUE, error);
}

void
sp_key_write_curve (const SpKeySpec *spec, GString *text, gconstpointer object, G_GNUC_UNUSED gconstpointer context)
{
  sp_curve_write (text, spec->key, *(SpCurve *const *) sp_key_member (spec, object));
}

gboolean
sp_key_read_rows (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, G_GNUC_UNUSED gpointer context, GError **error)
{
  SpRowFormat format = *(const SpRowFormat *) spec->format;
  GArray *numbers = *(GArray **) sp_key_member (spec, object);
  g_autoptr (GArray) rows = NULL;
  format.expected = _ (format.expected);
  if (!sp_group_rows (file, group, spec->key, &format, &rows, error))
    return FALSE;
  for (guint i = 0; rows && i < rows->len; i++)
    g_array_append_vals (numbers, g_array_index (rows, SpRow, i).number,
                         format.most * sizeof (double) / g_array_get_element_size (numbers));
  return TRUE;
}

void
sp_key_write_rows (const SpKeySpec *spec, GString *text, gconstpointer object, G_GNUC_UNUSED gconstpointer context)
{
  GArray *numbers = *(GArray *const *) sp_key_member (spec, object);
  const double *number = (const double *) numbers->data;
  guint n = numbers->len * g_array_get_element_size (numbers) / sizeof (double), columns = ((const SpRowFormat *) spec->format)->most;
  g_autoptr (GString) value = g_string_new (NULL);
  char digits[32];
  for (guint i = 0; i < n; i++)
    g_string_append_printf (value, "%s%s", i == 0 ? "" : i % columns ? " " : "; ", sp_format_exact (number[i], digits));
  sp_write_text (text, spec->key, n > 0 ? value->str : NULL);
}
