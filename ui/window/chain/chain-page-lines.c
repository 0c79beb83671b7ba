/* chain-page-lines.c - a person's lines of points as the value of the key "points" */
#include <glib/gi18n-lib.h>
#include <string.h>

#include "core/quantity/error.h"
#include "core/quantity/text.h"
#include "ui/window/chain/chain-page-private.h"

#define LINES_MOST 10000 /* a person's table, not a file: those come as Touchstone */

enum { FREQUENCY, LOSS, U, N_TEXTS };

typedef struct {
  double frequency_hz;
  char *text[N_TEXTS];
} Line;

static void
line_clear (gpointer data)
{
  Line *line = data;
  for (guint i = 0; i < N_TEXTS; i++)
    g_free (line->text[i]);
}

static int
by_frequency (gconstpointer a, gconstpointer b)
{
  double f = ((const Line *) a)->frequency_hz, g = ((const Line *) b)->frequency_hz;
  return (f > g) - (f < g);
}

static void
append_row (GString *out, char *const *row)
{
  g_string_append_printf (out, "%s%s %s", out->len ? "; " : "", row[FREQUENCY], row[LOSS]);
  if (*row[U])
    g_string_append_printf (out, " %s", row[U]);
}

static char *
value_of_lines (GArray *lines)
{
  GString *value = g_string_new (NULL);
  g_array_sort (lines, by_frequency);
  for (guint i = 0; i < lines->len; i++)
    append_row (value, g_array_index (lines, Line, i).text);
  return g_string_free (value, FALSE);
}

/* The unit may stand apart: "150 MHz 30.09 0.05". A comma divides only where no blank does: in "30,09" it is a decimal mark, which the reader refuses. */
static char **
words_of_line (char *text)
{
  gboolean blanks = strpbrk (g_strstrip (text), " \t") != NULL;
  g_auto (GStrv) raw = g_strsplit_set (text, blanks ? " \t" : ",", -1);
  g_autoptr (GStrvBuilder) builder = g_strv_builder_new ();
  for (guint k = 0; raw[k]; k++) {
    if (g_str_has_suffix (raw[k], ","))
      raw[k][strlen (raw[k]) - 1] = '\0';
    if (*raw[k])
      g_strv_builder_add (builder, raw[k]);
  }
  return g_strv_builder_end (builder);
}

static gboolean
read_line (char *const *words, Line *line, guint number, GError **error)
{
  g_autofree char *joined = words[0] && words[1] && g_ascii_isalpha (*words[1]) ? g_strconcat (words[0], words[1], NULL)
                                                                                : g_strdup (words[0]);
  char *const *rest = words + (joined && words[1] && g_ascii_isalpha (*words[1]) ? 2 : 1);
  if (!sp_parse_frequency (joined, &line->frequency_hz, NULL) || !rest[0] || (rest[1] && rest[2]))
    return sp_fail (error, SP_ERROR_INPUT,
                    _ ("line %u: found “%s”; expected a frequency, a loss in dB and, if known, its u, such as 150MHz 30.09 0.05"), number,
                    words[0]);
  line->text[FREQUENCY] = g_strdup (joined);
  line->text[LOSS] = g_strdup (rest[0]);
  line->text[U] = g_strdup (rest[1] ? rest[1] : "");
  return TRUE;
}

char *
sp_points_from_lines (const char *lines, GError **error)
{
  g_autoptr (GArray) read = g_array_new (FALSE, TRUE, sizeof (Line));
  g_auto (GStrv) split = g_strsplit_set (lines, "\n\r;", LINES_MOST + 1);
  g_array_set_clear_func (read, line_clear);
  for (guint i = 0; split[i]; i++) {
    Line line = { 0 };
    g_auto (GStrv) words = words_of_line (split[i]);
    if (!words[0] || *words[0] == '#')
      continue;
    if (!read_line (words, &line, i + 1, error))
      return NULL;
    g_array_append_val (read, line);
  }
  if (read->len > 0)
    return value_of_lines (read);
  sp_fail (error, SP_ERROR_INPUT, _ ("nothing to paste; expected lines of frequency, loss and u, such as 150MHz 30.09 0.05"));
  return NULL;
}
