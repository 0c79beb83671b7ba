/* loss-table.c - reads a loss table from delimited text */
#include "core/chain/loss-table.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "core/quantity/error.h"
#include "core/quantity/file.h"
#include "core/quantity/text.h"

#define BYTES_MOST (16 * 1024 * 1024) /* bounds memory */
#define POINTS_MOST 10000             /* bounds time */
#define FIELDS 4                      /* a separate unit is one more; further columns are ignored; room for the format */
#define LOSS_LOW_DB (-0.5)            /* as in a chain (common practice, no source) */

typedef struct {
  char *text;
  guint column;
} Field;
typedef struct {
  double frequency_hz, loss_db;
  char *text;
} Point;

typedef struct {
  const char *name, *unit; /* from the header; "" */
  guint line;
  gboolean header; /* the header was read */
  GArray *points;
} Table;

static void
clear_point (gpointer data)
{
  g_free (((Point *) data)->text);
}

static const char *
separators (const char *line)
{
  return strchr (line, ';') ? ";" : strchr (line, '\t') ? "\t" : strchr (line, ',') ? "," : " ";
}

/* Cuts the first fields in place; returns their number. */
static guint
cut (char *line, Field *field)
{
  const char *between = separators (line);
  guint n = 0;
  for (char *p = line; n < FIELDS && *p;) {
    char *end = p + strcspn (p, between), *next = *end ? end + 1 : end;
    *end = '\0';
    while (g_ascii_isspace (*p) || *p == '"')
      p++;
    for (char *last = p + strlen (p); last > p && (g_ascii_isspace (last[-1]) || last[-1] == '"');)
      *--last = '\0';
    if (*p)
      field[n++] = (Field){ p, (guint) (p - line) + 1 };
    p = next;
  }
  return n;
}

static gboolean
is_unit (const char *text)
{
  gsize n = strlen (text);
  return n >= 2 && n <= 3 && g_ascii_strcasecmp (text + n - 2, "Hz") == 0;
}

/* "150" "MHz": a separate unit belongs to the frequency. */
static guint
join_unit (Field *field, guint n, char **joined)
{
  if (n < 2 || !g_ascii_isdigit (*field[0].text) || !is_unit (field[1].text))
    return n;
  *joined = g_strconcat (field[0].text, field[1].text, NULL);
  field[0].text = *joined;
  for (guint i = 1; i + 1 < n; i++)
    field[i] = field[i + 1];
  return n - 1;
}

static const char *
unit_in (const char *line)
{
  static const char *const units[] = { "GHz", "MHz", "kHz" };
  g_autofree char *small = g_ascii_strdown (line, -1);
  for (guint i = 0; i < G_N_ELEMENTS (units); i++) {
    g_autofree char *unit = g_ascii_strdown (units[i], -1);
    if (strstr (small, unit))
      return units[i];
  }
  return "";
}

static gboolean
refuse (const Table *table, const Field *field, GError **error)
{
  g_autofree char *excerpt = sp_excerpt (field->text);
  return sp_fail_at (
      error, table->name, table->line, field->column,
      _ ("found “%s”; expected a frequency, a loss in dB with a decimal point and, if known, its u, such as 150MHz,30.09,0.05"), excerpt);
}

/* "150 MHz" without its blank: the text of `points` has none. */
static void
drop_blanks (char *text)
{
  char *to = text;
  for (; *text; text++)
    if (!g_ascii_isspace (*text))
      *to++ = *text;
  *to = '\0';
}

static gboolean
read_point (Table *table, const Field *field, guint n, GError **error)
{
  Point point;
  double u_db;
  gboolean bare = !g_ascii_isalpha (field[0].text[strlen (field[0].text) - 1]);
  g_autofree char *frequency = g_strconcat (field[0].text, bare ? table->unit : "", NULL);
  if (!sp_parse_frequency (frequency, &point.frequency_hz, NULL))
    return refuse (table, &field[0], error);
  drop_blanks (frequency);
  if (n < 2 || !sp_parse_number (field[1].text, &point.loss_db, NULL))
    return refuse (table, &field[n < 2 ? 0 : 1], error);
  if (n > 2 && !sp_parse_number (field[2].text, &u_db, NULL))
    return refuse (table, &field[2], error);
  if (table->points->len == POINTS_MOST)
    return sp_fail_at (error, table->name, table->line, 1, _ ("more than the %d points that are read; thin the table out"), POINTS_MOST);
  point.text = n > 2 ? g_strdup_printf ("%s %s %s", frequency, field[1].text, field[2].text)
                     : g_strdup_printf ("%s %s", frequency, field[1].text);
  g_array_append_val (table->points, point);
  return TRUE;
}

static gboolean
is_number (const char *text)
{
  text += *text == '-' || *text == '+';
  return g_ascii_isdigit (*text) || *text == '.';
}

static gboolean
read_line (Table *table, char *line, GError **error)
{
  Field field[FIELDS] = { { NULL, 0 } };
  g_autofree char *joined = NULL, *whole = g_strdup (line);
  table->line++;
  guint n = join_unit (field, cut (line, field), &joined);
  if (n == 0 || *field[0].text == '#' || *field[0].text == '!')
    return TRUE;
  if (!table->header && table->points->len == 0 && !is_number (field[0].text)) {
    table->header = TRUE;
    table->unit = unit_in (whole);
    return TRUE;
  }
  return read_point (table, field, n, error);
}

static int
by_frequency (gconstpointer a, gconstpointer b)
{
  double f = ((const Point *) a)->frequency_hz, g = ((const Point *) b)->frequency_hz;
  return (f > g) - (f < g);
}

static char *
points_text (Table *table, GError **error)
{
  guint negative = 0;
  GString *text = g_string_new (NULL);
  g_array_sort (table->points, by_frequency);
  for (guint i = 0; i < table->points->len; i++) {
    const Point *point = &g_array_index (table->points, Point, i);
    g_string_append_printf (text, "%s%s", i ? "; " : "", point->text);
    negative += point->loss_db < LOSS_LOW_DB;
  }
  if (table->points->len > 0 && negative == 0)
    return g_string_free (text, FALSE);
  g_string_free (text, TRUE);
  if (negative > 0)
    sp_fail_at (error, table->name, 0, 0,
                _ ("%u of its losses are negative; expected losses as positive dB (a gain or S21 in dB has the other sign: turn it)"),
                negative);
  else
    sp_fail_at (error, table->name, 0, 0,
                _ ("no line of it is a point; expected lines of frequency, loss and, if known, u, such as 150MHz,30.09,0.05"));
  return NULL;
}

char *
sp_loss_table_parse (const char *bytes, gsize length, const char *name, GError **error)
{
  g_autoptr (GArray) points = g_array_new (FALSE, FALSE, sizeof (Point));
  Table table = { name, "", 0, FALSE, points };
  g_array_set_clear_func (points, clear_point);
  if (length >= 3 && memcmp (bytes, "\xef\xbb\xbf", 3) == 0)
    bytes += 3, length -= 3;
  if (memchr (bytes, '\0', length)) {
    sp_fail_at (error, name, 0, 0, _ ("this is no text; expected lines of frequency, loss and, if known, u"));
    return NULL;
  }
  for (gsize at = 0; at < length;) {
    const char *end = memchr (bytes + at, '\n', length - at);
    gsize n = end ? (gsize) (end - bytes) - at : length - at;
    g_autofree char *line = g_strndup (bytes + at, n);
    if (!read_line (&table, line, error))
      return NULL;
    at += n + 1;
  }
  return points_text (&table, error);
}

char *
sp_loss_table_read (const char *path, GError **error)
{
  gsize length;
  g_autofree char *bytes = sp_file_read (path, BYTES_MOST, &length, error);
  return bytes ? sp_loss_table_parse (bytes, length, path, error) : NULL;
}
