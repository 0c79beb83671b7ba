/* pivot.c - wavebands down and powers across */
#include "ui/report/pivot.h"

#include "core/quantity/clean.h"
#include "ui/report/lines.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* Takes `text`. */
static void
add (SpPivotWords *grid, char *text)
{
  g_ptr_array_add (grid->cells, sp_clean (text));
  g_free (text);
}

/* "+12.9", "<-61.2"; "" where there is none. */
static char *
value_text (const SpPivot *pivot, const SpFindings *findings, const SpPivotCell *cell, SpHand hand)
{
  if (cell->n == 0)
    return g_strdup ("");
  if (pivot->order)
    return cell->emission ? sp_words_seen (cell->emission, cell->value_db, hand) : sp_words_number (NAN, 0, hand);
  g_autofree char *room = sp_words_deciding_margin (&findings->conditions[cell->condition], hand);
  return *room ? g_steal_pointer (&room) : sp_words_number (NAN, 0, hand);
}

/* Adds a word after a blank; nothing if it is empty. */
static void
append_word (GString *out, const char *word)
{
  g_string_append_printf (out, "%s%s", out->len && *word ? " " : "", word);
}

/* What it is the value of: "3rd harmonic ?", "exceeds !" without an emission; "(worst of 2)" of several conditions. */
static char *
whose_text (const SpPivot *pivot, const SpFindings *findings, const SpPivotCell *cell, SpHand hand)
{
  GString *out = g_string_new (NULL);
  if (cell->n == 0)
    return g_string_free (out, FALSE);
  const SpConditionFindings *found = &findings->conditions[cell->condition];
  g_autofree char *name = cell->emission ? sp_words_emission (cell->emission, hand) : g_strdup (sp_words_verdict (found->verdict));
  char mark[] = { verdict_mark (pivot->order && cell->emission ? cell->emission->verdict : found->verdict), '\0' };
  append_word (out, pivot->order ? "" : name);
  append_word (out, hand == SP_HAND_MACHINE ? g_strstrip (mark) : "");
  if (cell->n > 1)
    g_string_append_printf (out, _ (" (worst of %u)"), cell->n);
  return g_string_free (out, FALSE);
}

static void
add_cell (SpPivotWords *grid, const SpPivot *pivot, const SpFindings *findings, const SpPivotCell *cell, gboolean apart, SpHand hand)
{
  g_autofree char *value = value_text (pivot, findings, cell, hand), *whose = whose_text (pivot, findings, cell, hand);
  GString *both = g_string_new (value);
  append_word (both, apart ? "" : whose);
  add (grid, g_string_free (both, FALSE));
  if (apart)
    add (grid, g_steal_pointer (&whose));
}

static char *
power_text (double power_w, SpHand hand)
{
  return isnan (power_w) ? g_strdup (_ ("power not known")) : sp_words_power (power_w, hand);
}

/* What stands at the end of a row: the power where it is worst. Nothing does where no row has two cells. */
static gboolean
has_edge (const SpPivot *pivot)
{
  for (guint row = 0; row < pivot->n_rows; row++)
    if (sp_pivot_worst_of_row (pivot, row))
      return TRUE;
  return FALSE;
}

static gboolean
has_foot (const SpPivot *pivot)
{
  for (guint column = 0; column < pivot->n_columns; column++)
    if (sp_pivot_worst_of_column (pivot, column))
      return TRUE;
  return FALSE;
}

static void
add_heads (SpPivotWords *grid, const SpPivot *pivot, gboolean apart, SpHand hand)
{
  add (grid, g_strdup (_ ("band")));
  for (guint column = 0; column < pivot->n_columns; column++) {
    g_autofree char *power = power_text (pivot->power_w[column], hand);
    add (grid, g_strdup (power));
    if (apart)
      add (grid, g_strdup_printf (_ ("%s, of"), power));
  }
  if (has_edge (pivot))
    add (grid, g_strdup (_ ("worst")));
}

/* The band where each column is worst. */
static void
add_foot (SpPivotWords *grid, const SpPivot *pivot, gboolean apart)
{
  add (grid, g_strdup (_ ("worst")));
  for (guint column = 0; column < pivot->n_columns; column++) {
    const SpPivotCell *worst = sp_pivot_worst_of_column (pivot, column);
    gsize at = worst ? (gsize) (worst - pivot->cells) / pivot->n_columns : 0;
    add (grid, worst ? sp_words_waveband (pivot->wavebands[at]) : g_strdup (""));
    if (apart)
      add (grid, g_strdup (""));
  }
  if (has_edge (pivot))
    add (grid, g_strdup (""));
}

SpPivotWords *
sp_pivot_words (const SpPivot *pivot, const SpFindings *findings, gboolean apart, SpHand hand)
{
  SpPivotWords *grid = g_new (SpPivotWords, 1);
  *grid = (SpPivotWords){ 1 + pivot->n_columns * (apart ? 2 : 1) + (has_edge (pivot) ? 1 : 0), g_ptr_array_new_with_free_func (g_free) };
  add_heads (grid, pivot, apart, hand);
  for (guint row = 0; row < pivot->n_rows; row++) {
    const SpPivotCell *worst = sp_pivot_worst_of_row (pivot, row);
    gsize at = worst ? (gsize) (worst - pivot->cells) % pivot->n_columns : 0;
    add (grid, sp_words_waveband (pivot->wavebands[row]));
    for (guint column = 0; column < pivot->n_columns; column++)
      add_cell (grid, pivot, findings, sp_pivot_cell (pivot, row, column), apart, hand);
    if (has_edge (pivot))
      add (grid, worst ? power_text (pivot->power_w[at], hand) : g_strdup (""));
  }
  if (has_foot (pivot))
    add_foot (grid, pivot, apart);
  return grid;
}

void
sp_pivot_words_free (SpPivotWords *words)
{
  g_ptr_array_unref (words->cells);
  g_free (words);
}

char *
sp_pivot_title (const SpPivot *pivot)
{
  return pivot->order ? g_strdup_printf (_ ("%s: harmonic %u in dBc, by band and power"), pivot->radio, pivot->order)
                      : g_strdup_printf (_ ("%s: room in dB, by band and power"), pivot->radio);
}

/* ---- its three forms ---- */

static void
grid_text (GString *out, const SpPivotWords *grid)
{
  g_autofree char *alignment = g_strnfill (grid->columns, 'l');
  Columns *columns = columns_new_heads (alignment, (const char *const *) grid->cells->pdata);
  for (guint i = grid->columns; i < grid->cells->len; i++)
    columns_add (columns, g_strdup (g_ptr_array_index (grid->cells, i)));
  columns_finish (columns, 0, out);
}

/* Quoted where RFC 4180 wants it; what a spreadsheet would take for a formula is made text by an apostrophe. */
static void
field_csv (GString *out, const char *text)
{
  char *end = NULL;
  gboolean number = *text && (g_ascii_strtod (text, &end), end && *end == '\0');
  const char *guard = !number && *text && strchr ("=+-@\t\r", *text) ? "'" : "";
  g_auto (GStrv) parts = g_strsplit (text, "\"", -1);
  g_autofree char *doubled = g_strjoinv ("\"\"", parts);
  g_string_append_printf (out, "\"%s%s\"", guard, doubled);
}

static void
grid_csv (GString *out, const SpPivotWords *grid)
{
  for (guint i = 0; i < grid->cells->len; i++) {
    field_csv (out, g_ptr_array_index (grid->cells, i));
    g_string_append (out, (i + 1) % grid->columns ? "," : "\r\n");
  }
}

static void
grid_html (GString *out, const SpPivotWords *grid, const char *title)
{
  g_autofree char *caption = g_markup_escape_text (title, -1);
  g_string_append_printf (out, "<table>\n<caption>%s</caption>\n", caption);
  for (guint i = 0; i < grid->cells->len; i++) {
    gboolean head = i < grid->columns, first = i % grid->columns == 0;
    g_autofree char *text = g_markup_escape_text (g_ptr_array_index (grid->cells, i), -1);
    g_string_append (out, first ? "<tr>" : "");
    if (head || first)
      g_string_append_printf (out, "<th scope=\"%s\">%s</th>", head ? "col" : "row", text);
    else
      g_string_append_printf (out, "<td>%s</td>", text);
    g_string_append (out, (i + 1) % grid->columns ? "" : "</tr>\n");
  }
  g_string_append (out, "</table>\n");
}

static void
line_of (GString *out, SpPivotForm form, const char *words)
{
  g_autofree char *line = sp_clean (words), *escaped = form == SP_PIVOT_HTML ? g_markup_escape_text (line, -1) : NULL;
  if (form == SP_PIVOT_HTML)
    g_string_append_printf (out, "<p>%s</p>\n", escaped);
  else if (form == SP_PIVOT_CSV) {
    field_csv (out, line);
    g_string_append (out, "\r\n");
  } else
    g_string_append_printf (out, "%s\n", line);
}

static void
write_pivot (GString *out, const SpComparison *comparison, const SpPivot *pivot, SpPivotForm form)
{
  g_autofree char *title = sp_pivot_title (pivot);
  g_autoptr (SpPivotWords) grid = sp_pivot_words (pivot, comparison->findings, form == SP_PIVOT_CSV, SP_HAND_MACHINE);
  if (form != SP_PIVOT_HTML)
    line_of (out, form, title);
  if (form == SP_PIVOT_TEXT)
    grid_text (out, grid);
  else if (form == SP_PIVOT_CSV)
    grid_csv (out, grid);
  else
    grid_html (out, grid, title);
}

char *
sp_report_pivot (const SpComparison *comparison, guint order, SpPivotForm form)
{
  GString *out = g_string_new (NULL);
  g_autoptr (GPtrArray) pivots = sp_compare_pivots (comparison, order), steady = sp_compare_steady_spurs (comparison);
  g_autofree char *safety = sp_words_safety (comparison->findings, SP_HAND_MACHINE);
  if (safety)
    line_of (out, form, safety);
  for (guint i = 0; i < pivots->len; i++) {
    if (out->len)
      g_string_append (out, form == SP_PIVOT_CSV ? "\r\n" : "\n");
    write_pivot (out, comparison, g_ptr_array_index (pivots, i), form);
  }
  if (!pivots->len)
    line_of (out, form, _ ("No radio has two conditions: nothing stands beside each other."));
  for (guint i = 0; i < steady->len; i++) {
    g_autofree char *line = sp_words_steady_spur (g_ptr_array_index (steady, i), SP_HAND_MACHINE);
    line_of (out, form, line);
  }
  if (pivots->len)
    line_of (out, form,
             order ? _ ("< not seen, the floor stands there   ! exceeds   ~ inconclusive   ? not proven   . no limit")
                   : _ ("Room to the limit.   ! exceeds   ~ inconclusive   ? not proven   . no limit"));
  return g_string_free (out, FALSE);
}
