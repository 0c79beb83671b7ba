/* columns.c - a text table whose columns line up in a terminal */
#include "ui/report/columns.h"

#include "core/quantity/clean.h"

#include <stdarg.h>
#include <string.h>

struct Columns {
  char *alignment;
  guint n;
  GPtrArray *cells; /* the heads first */
};

static Columns *
begin (const char *alignment)
{
  Columns *columns = g_new0 (Columns, 1);
  columns->alignment = g_strdup (alignment);
  columns->n = (guint) strlen (alignment);
  columns->cells = g_ptr_array_new_with_free_func (g_free);
  return columns;
}

Columns *
columns_new (const char *alignment, ...)
{
  Columns *columns = begin (alignment);
  va_list heads;
  va_start (heads, alignment);
  for (guint i = 0; i < columns->n; i++)
    columns_add (columns, g_strdup (va_arg (heads, const char *)));
  va_end (heads);
  return columns;
}

Columns *
columns_new_heads (const char *alignment, const char *const *heads)
{
  Columns *columns = begin (alignment);
  for (guint i = 0; i < columns->n; i++)
    columns_add (columns, g_strdup (heads[i]));
  return columns;
}

void
columns_add (Columns *columns, char *text)
{
  g_ptr_array_add (columns->cells, sp_clean (text));
  g_free (text);
}

guint
columns_width (const char *text)
{
  guint width = 0;
  for (const char *c = text; *c; c = g_utf8_next_char (c)) {
    gunichar character = g_utf8_get_char (c);
    width += g_unichar_iszerowidth (character) ? 0 : g_unichar_iswide (character) ? 2 : 1;
  }
  return width;
}

static void
write_row (const Columns *columns, guint row, const guint *widths, guint indent, GString *out)
{
  gsize start = out->len;
  g_string_append_printf (out, "%*s", (int) indent, "");
  for (guint i = 0; i < columns->n; i++) {
    const char *text = g_ptr_array_index (columns->cells, row * columns->n + i);
    guint pad = widths[i] - columns_width (text);
    gboolean right = columns->alignment[i] == 'r';
    g_string_append_printf (out, "%*s%s%*s", (int) (right ? pad : 0) + (i ? 2 : 0), "", text, (int) (right ? 0 : pad), "");
  }
  while (out->len > start && out->str[out->len - 1] == ' ')
    g_string_truncate (out, out->len - 1);
  g_string_append_c (out, '\n');
}

void
columns_finish (Columns *columns, guint indent, GString *out)
{
  g_autofree guint *widths = g_new0 (guint, columns->n);
  guint rows = columns->cells->len / columns->n, total = 0;
  for (guint i = 0; i < rows * columns->n; i++)
    widths[i % columns->n] = MAX (widths[i % columns->n], columns_width (g_ptr_array_index (columns->cells, i)));
  for (guint i = 0; i < columns->n; i++)
    total += widths[i] + (i ? 2 : 0);
  write_row (columns, 0, widths, indent, out);
  g_string_append_printf (out, "%*s", (int) indent, "");
  for (guint i = 0; i < total; i++)
    g_string_append_c (out, '-');
  g_string_append_c (out, '\n');
  for (guint row = 1; row < rows; row++)
    write_row (columns, row, widths, indent, out);
  g_ptr_array_unref (columns->cells);
  g_free (columns->alignment);
  g_free (columns);
}
