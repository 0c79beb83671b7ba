#include "core/trace/columns.h"

#include "core/quantity/error.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

typedef struct {
  const SpDialect *dialect;
  const SpHeader *header;
  const SpPreamble *preamble;
  const SpTraceOptions *options;
  gboolean sweep;
  const char *file;
  guint line;                /* to be named in messages */
} Finder;

static const SpHeaderName *
name_of (const Finder *finder, guint field)
{
  return finder->header->names && field < finder->header->names->len ? &g_array_index (finder->header->names, SpHeaderName, field) : NULL;
}

static SpWord
word_of (const Finder *finder, guint field)
{
  const SpHeaderName *name = name_of (finder, field);
  return name ? name->word : SP_WORD_NONE;
}

/* As a person would name the column: header's text, else its number. */
static char *
label (const Finder *finder, guint field)
{
  const SpHeaderName *name = name_of (finder, field);

  if (name && *name->name)
    return g_utf8_make_valid (name->name, -1);
  if (name && *name->unit_text)
    return g_utf8_make_valid (name->unit_text, -1);
  return g_strdup_printf ("%u", field + 1);
}

static gboolean
is_number (const Finder *finder, guint field)
{
  return finder->dialect->look[field].kind == SP_FIELD_NUMBER;
}

/* options->column as a field from 0; -1 where it names none. */
static int
asked_column (const Finder *finder)
{
  const char *text = finder->options->column;
  char *end;
  guint64 number = g_ascii_strtoull (text, &end, 10);

  if (*text && *end == '\0')
    return number >= 1 && number <= finder->dialect->n ? (int) number - 1 : -1;
  g_autofree char *want = sp_words_fold (text, -1);
  for (guint i = 0; i < finder->dialect->n; i++) {
    const SpHeaderName *name = name_of (finder, i);
    if (!name)
      continue;
    g_autofree char *bare = sp_words_fold (name->name, -1);
    g_autofree char *both = g_strconcat (name->name, " ", name->unit_text, NULL);
    g_autofree char *whole = sp_words_fold (both, -1);
    if (*want && (strcmp (bare, want) == 0 || strcmp (whole, want) == 0))
      return (int) i;
  }
  return -1;
}

/* By the numbers alone: goes one way and is nowhere negative. */
static gboolean
could_be_frequency (const Finder *finder, guint field, int asked)
{
  const SpColumnLook *look = &finder->dialect->look[field];
  SpWord word = word_of (finder, field);

  if (!is_number (finder, field) || (int) field == asked || word == SP_WORD_LEVEL || word == SP_WORD_INDEX || word == SP_WORD_TIME)
    return FALSE;
  return look->low >= 0 && (look->ascends || look->descends);
}

static gboolean
frequency_by_header (const Finder *finder, int *frequency, GError **error)
{
  *frequency = -1;
  for (guint i = 0; i < finder->dialect->n; i++) {
    if (word_of (finder, i) != SP_WORD_FREQUENCY || !is_number (finder, i))
      continue;
    if (*frequency >= 0)
      return sp_fail_at (error, finder->file, (guint) finder->header->line, name_of (finder, i)->column,
                         _ ("a second frequency column; expected one that all levels share. Export each trace with its frequencies into a "
                            "file of its own"));
    *frequency = (int) i;
  }
  return TRUE;
}

/* One row number in front of frequencies is no frequency. */
static gboolean
frequency_by_numbers (const Finder *finder, int asked, guint n_numbers, int *frequency, GError **error)
{
  guint found = 0, large = 0, first_number = finder->dialect->n;
  int best = -1, best_large = -1, counter = -1;

  for (guint i = 0; i < finder->dialect->n; i++) {
    if (is_number (finder, i) && first_number == finder->dialect->n)
      first_number = i;
    if (!could_be_frequency (finder, i, asked))
      continue;
    if (finder->dialect->look[i].counts && n_numbers >= 2 && counter < 0) {
      counter = (int) i;
      continue;
    }
    found++;
    best = (int) i;
    if (finder->dialect->look[i].high >= SP_BARE_HZ) {
      large++;
      best_large = (int) i;
    }
  }
  if (found == 0 && counter >= 0 && !finder->sweep) {
    found = 1;
    best = counter;
  }
  if (found > 1 && large != 1)
    return sp_fail_at (error, finder->file, finder->line, 0,
                       _ ("more than one column could be the frequency, and there is no header that says which. Name the level's column: "
                          "?column=2, say"));
  *frequency = found > 1 ? best_large : best;
  /* Nothing goes one way: then the first column has a row that spoils it, which the reading of the points will name. */
  if (*frequency < 0 && !finder->sweep && n_numbers >= 2)
    *frequency = (int) first_number == asked ? (int) first_number + 1 : (int) first_number;
  return TRUE;
}

static gboolean
find_frequency (const Finder *finder, int asked, int *frequency, GError **error)
{
  guint n_numbers = 0;

  for (guint i = 0; i < finder->dialect->n; i++)
    n_numbers += is_number (finder, i);
  if (!frequency_by_header (finder, frequency, error))
    return FALSE;
  if (*frequency < 0 && n_numbers > 1 && !frequency_by_numbers (finder, asked, n_numbers, frequency, error))
    return FALSE;
  if (*frequency >= 0 || finder->sweep)
    return TRUE;
  return sp_fail_at (error, finder->file, finder->line, 0,
                     _ ("levels without frequencies; expected a frequency column, or start and stop in the preamble. Give them: "
                        "?start=30MHz&stop=1GHz, say"));
}

static int
exponent_of (double unit_hz)
{
  return (int) lround (log10 (unit_hz));
}

/* The first frequency is the sweep's start, or stop, in one unit only. */
static gboolean
exponent_by_sweep (const Finder *finder, const SpColumnLook *look, int *exponent)
{
  double start, stop;
  guint found = 0;

  if (!finder->preamble->sweep_unit_said || !sp_preamble_sweep (finder->preamble, &start, &stop))
    return FALSE;
  double edge = look->descends ? stop : start;
  for (int e = 0; e <= 9; e += 3)
    if (look->first > 0 && fabs (look->first * pow (10, e) - edge) < 1e-6 * edge) {
      *exponent = e;
      found++;
    }
  return found == 1;
}

static void
find_frequency_unit (const Finder *finder, SpColumns *columns)
{
  const SpHeaderName *name = name_of (finder, (guint) columns->frequency);

  if (finder->options->frequency_unit_hz > 0)
    columns->exponent = exponent_of (finder->options->frequency_unit_hz);
  else if (name && name->unit.kind == SP_UNIT_KIND_FREQUENCY)
    columns->exponent = name->unit.exponent;
  else if (finder->preamble->frequency_unit.kind == SP_UNIT_KIND_FREQUENCY)
    columns->exponent = finder->preamble->frequency_unit.exponent;
  else if (!exponent_by_sweep (finder, &finder->dialect->look[columns->frequency], &columns->exponent))
    columns->unit_open = TRUE;
}

/* Volts or watts in some way that is none of ours: "mVpp", "Vp", "GW", "W pk". */
static gboolean
is_other_volt_or_watt (const char *text)
{
  static const char *const behind[] = { "", "p", "pk", "pp", "pkpk", "ppk", "peak", "avg", "s", "h" };

  text += strspn (text, "afpnumkMGT");
  if (*text != 'V' && *text != 'W')
    return FALSE;
  text += 1 + strspn (text + 1, " -_");
  for (guint i = 0; i < G_N_ELEMENTS (behind); i++)
    if (g_ascii_strcasecmp (text, behind[i]) == 0)
      return TRUE;
  return FALSE;
}

/* A unit in brackets that is none of ours, but is one: dBc, dBuV/m, %, A. Other brackets ("(max)") belong to the name. */
static gboolean
is_foreign_unit (const SpHeaderName *name)
{
  const char *text = name->unit_text;

  if (name->unit.kind == SP_UNIT_KIND_LEVEL || !*text)
    return FALSE;
  return is_other_volt_or_watt (text) || name->unit.kind != SP_UNIT_KIND_NONE || g_ascii_strncasecmp (text, "dB", 2) == 0 || strpbrk (text, "/%^")
         || strcmp (text, "A") == 0 || strcmp (text, "mA") == 0 || strcmp (text, "uA") == 0 || g_ascii_strcasecmp (text, "ohm") == 0
         || g_ascii_strncasecmp (text, "deg", 3) == 0;
}

static gboolean
find_level_unit (const Finder *finder, SpLevelColumn *column, GError **error)
{
  const SpHeaderName *name = name_of (finder, column->field);
  const SpPreamble *preamble = finder->preamble;

  column->unit = (SpUnitWord){ SP_UNIT_KIND_LEVEL, 0, SP_UNIT_DBM, "dBm" };
  if (finder->options->unit >= 0) {
    column->unit.level = (SpLevelUnit) finder->options->unit;
    column->unit.exponent = exponent_of (finder->options->unit_scale);
    column->unit.name = sp_level_unit_name (column->unit.level);
  } else if (name && name->unit.kind == SP_UNIT_KIND_LEVEL) {
    column->unit = name->unit;
  } else if (name && is_foreign_unit (name)) {
    return sp_fail_at (error, finder->file, (guint) finder->header->line, name->column,
                       _ ("levels in ‘%s’; expected dBm, dBmV, dBuV, V, W or one of their prefixes. If the header is wrong, give the "
                          "unit: ?unit=dBm"),
                       name->unit_text);
  } else if (preamble->level_unit.kind == SP_UNIT_KIND_LEVEL) {
    column->unit = preamble->level_unit;
  } else if (preamble->level_unit_text) {
    return sp_fail_at (error, finder->file, (guint) preamble->level_unit_line, 0,
                       _ ("levels in ‘%s’; expected dBm, dBmV, dBuV, V, W or one of their prefixes. If that is wrong, give the unit: "
                          "?unit=dBm"),
                       preamble->level_unit_text);
  } else
    column->unit_assumed = TRUE;
  return TRUE;
}

static void
clear_level (gpointer data)
{
  g_free (((SpLevelColumn *) data)->name);
}

static SpHold
hold_of (const char *name)
{
  g_autofree char *folded = sp_words_fold (name, -1);
  SpHold hold = SP_HOLD_NONE;
  gboolean averaging;

  if (!strstr (folded, "hold") || !sp_words_trace_mode (folded, &hold, &averaging))
    return SP_HOLD_NONE;
  return hold;
}

static gboolean
is_level (const Finder *finder, const SpColumns *columns, guint field)
{
  SpWord word = word_of (finder, field);

  if (!is_number (finder, field) || (int) field == columns->frequency || word == SP_WORD_INDEX || word == SP_WORD_TIME
      || word == SP_WORD_FREQUENCY)
    return FALSE;
  /* A row number with no name beside levels. */
  return word == SP_WORD_LEVEL || !finder->dialect->look[field].counts || finder->dialect->n == 1;
}

static gboolean
no_such_column (const Finder *finder, const SpColumns *all, GError **error)
{
  g_autofree char *list = sp_columns_list (all);
  return sp_fail_at (error, finder->file, finder->line, 0, _ ("?column=%s is none of its level columns; expected one of: %s"),
                     finder->options->column, list);
}

static gboolean
find_levels (const Finder *finder, int asked, SpColumns *columns, GError **error)
{
  for (guint i = 0; i < finder->dialect->n; i++) {
    SpLevelColumn column = { .field = i };
    if (!is_level (finder, columns, i) && !(asked == (int) i && is_number (finder, i) && asked != columns->frequency))
      continue;
    column.name = label (finder, i);
    column.hold = hold_of (column.name);
    g_array_append_val (columns->levels, column);
  }
  columns->n_level_columns = columns->levels->len;
  if (columns->levels->len == 0)
    return sp_fail_at (error, finder->file, finder->line, 0, _ ("no level column found; expected a frequency and at least one level in "
                                                                "each row"));
  for (guint i = columns->levels->len; finder->options->column && i-- > 0;)
    if ((int) g_array_index (columns->levels, SpLevelColumn, i).field != asked) {
      if (columns->levels->len == 1 || asked < 0)
        return no_such_column (finder, columns, error);
      g_array_remove_index (columns->levels, i);
    }
  for (guint i = 0; i < columns->levels->len; i++)
    if (!find_level_unit (finder, &g_array_index (columns->levels, SpLevelColumn, i), error))
      return FALSE;
  return TRUE;
}

gboolean
sp_columns_find (const SpDialect *dialect, const SpHeader *header, const SpPreamble *preamble, const SpTraceOptions *options,
                 gboolean sweep, const char *file, SpColumns *columns, GError **error)
{
  Finder finder = { dialect, header, preamble, options, sweep, file, (guint) (header->names ? header->line : header->rows.number) };
  int asked = options->column ? asked_column (&finder) : -1;

  *columns = (SpColumns){ .frequency = -1, .levels = g_array_new (FALSE, TRUE, sizeof (SpLevelColumn)) };
  g_array_set_clear_func (columns->levels, clear_level);
  if (!find_frequency (&finder, asked, &columns->frequency, error))
    return FALSE;
  if (columns->frequency >= 0)
    find_frequency_unit (&finder, columns);
  return find_levels (&finder, asked, columns, error);
}

void
sp_columns_clear (SpColumns *columns)
{
  g_clear_pointer (&columns->levels, g_array_unref);
}

char *
sp_columns_list (const SpColumns *columns)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < columns->levels->len; i++) {
    const SpLevelColumn *column = &g_array_index (columns->levels, SpLevelColumn, i);
    g_string_append_printf (text, "%s%u (%s)", i ? ", " : "", column->field + 1, column->name);
  }
  return g_string_free (text, FALSE);
}
