/* columns.c - finds the columns of frequency and level */
#include "core/trace/read/columns.h"

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
  guint line; /* to be named in messages */
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
  return finder->dialect->content[field].kind == SP_FIELD_NUMBER;
}

/* A column as an option names it, as a field from 0; -1 where it names none. */
static int
asked_column (const Finder *finder, const char *text)
{
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
  const SpColumnContent *content = &finder->dialect->content[field];
  SpWord word = word_of (finder, field);

  if (!is_number (finder, field) || (int) field == asked || word == SP_WORD_LEVEL || word == SP_WORD_INDEX || word == SP_WORD_TIME)
    return FALSE;
  return content->low >= 0 && (content->ascends || content->descends);
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
                         _ ("a second frequency column; expected one that all levels share. Name one, and a level that belongs to it: "
                            "?frequency_column=%u&column=%u, say"),
                         (guint) *frequency + 1, (guint) *frequency + 2);
    *frequency = (int) i;
  }
  return TRUE;
}

/* 20261003 is a day, most likely, where nothing says that it is a frequency. */
static gboolean
is_day (double number)
{
  guint day = number >= 19700101 && number < 21000000 && number == floor (number) ? (guint) number : 0;

  return day && g_date_valid_dmy ((GDateDay) (day % 100), (GDateMonth) (day / 100 % 100), (GDateYear) (day / 10000));
}

static gboolean
fail_day (const Finder *finder, guint field, GError **error)
{
  const SpColumnContent *content = &finder->dialect->content[field];

  return sp_fail_at (error, finder->file, (guint) finder->header->rows.number, 1,
                     _ ("column %u, from %.0f to %.0f, can be read in two ways: as frequencies (?frequency_unit=Hz) or as dates (then name "
                        "the frequencies' column: ?frequency_column=2, say)"),
                     field + 1, content->low, content->high);
}

/* Which columns it could be, what they hold, and the options that pick one. */
static gboolean
fail_candidates (const Finder *finder, const guint *candidates, guint n, GError **error)
{
  g_autoptr (GString) list = g_string_new (NULL), options = g_string_new (NULL);

  for (guint i = 0; i < MIN (n, 4); i++) {
    const SpColumnContent *content = &finder->dialect->content[candidates[i]];
    g_autofree char *name = label (finder, candidates[i]);
    g_string_append_printf (list, "%s%s (%.12g … %.12g)", i ? _ (" or ") : "", name, content->low, content->high);
    g_string_append_printf (options, "%s?frequency_column=%u", i ? _ (" or ") : "", candidates[i] + 1);
  }
  return sp_fail_at (error, finder->file, finder->line, 1,
                     _ ("more than one column could be the frequency, and there is no header that says which: column %s. Name it: %s"),
                     list->str, options->str);
}

typedef struct {
  guint candidates[SP_LIMIT_COLUMNS];
  guint n;
  int large, n_large; /* the one with large numbers; how many there are */
  int counter;        /* 0, 1, 2 ... or 1, 2, 3 ...: a row number, most likely */
} Candidates;

static void
collect (const Finder *finder, int asked, guint n_numbers, Candidates *found)
{
  *found = (Candidates){ .large = -1, .counter = -1 };
  for (guint i = 0; i < finder->dialect->n; i++) {
    if (!could_be_frequency (finder, i, asked))
      continue;
    if (finder->dialect->content[i].counts && n_numbers >= 2 && found->counter < 0) {
      found->counter = (int) i;
      continue;
    }
    found->candidates[found->n++] = i;
    if (finder->dialect->content[i].high >= SP_BARE_HZ) {
      found->n_large++;
      found->large = (int) i;
    }
  }
  if (found->n == 0 && found->counter >= 0 && !finder->sweep) {
    found->candidates[found->n++] = (guint) found->counter;
    found->counter = -1;
  }
}

static gboolean
frequency_by_numbers (const Finder *finder, int asked, guint n_numbers, SpColumns *columns, GError **error)
{
  Candidates found;
  guint first_number = 0;

  collect (finder, asked, n_numbers, &found);
  for (guint i = 0; found.n > 1 && i < found.n; i++)
    if (is_day (finder->dialect->content[found.candidates[i]].low) && is_day (finder->dialect->content[found.candidates[i]].high))
      return fail_candidates (finder, found.candidates, found.n, error);
  if (found.n > 1 && found.n_large != 1)
    return fail_candidates (finder, found.candidates, found.n, error);
  columns->frequency = found.n > 1 ? found.large : found.n == 1 ? (int) found.candidates[0] : -1;
  columns->decided = found.n > 1 || (found.n == 1 && found.counter >= 0 && word_of (finder, (guint) found.counter) == SP_WORD_NONE);
  if (columns->frequency >= 0 && finder->options->frequency_unit_hz == 0 && is_day (finder->dialect->content[columns->frequency].low)
      && is_day (finder->dialect->content[columns->frequency].high))
    return fail_day (finder, (guint) columns->frequency, error);
  /* Nothing goes one way: then the first column has a row that spoils it, which the reading of the points will name. */
  while (first_number < finder->dialect->n && !is_number (finder, first_number))
    first_number++;
  if (columns->frequency < 0 && !finder->sweep && n_numbers >= 2)
    columns->frequency = (int) first_number == asked ? (int) first_number + 1 : (int) first_number;
  return TRUE;
}

/* The place of a column that holds no numbers, as one of dates does not. */
static gboolean
fail_without_frequency (const Finder *finder, GError **error)
{
  const SpFirstText *first = &finder->dialect->first_text;

  if (first->line && finder->dialect->content[first->field].kind == SP_FIELD_TEXT)
    return sp_fail_at (error, finder->file, (guint) first->line, first->column,
                       _ ("levels without frequencies, for ‘%s’ in column %u is not a number; expected a frequency column, or start and "
                          "stop in the preamble. Give them: ?start=30MHz&stop=1GHz, say"),
                       first->text, first->field + 1);
  return sp_fail_at (error, finder->file, finder->line, 1,
                     _ ("levels without frequencies; expected a frequency column, or start and stop in the preamble. Give them: "
                        "?start=30MHz&stop=1GHz, say"));
}

static gboolean
frequency_by_option (const Finder *finder, int asked, int *frequency, GError **error)
{
  const char *option = finder->options->frequency_column;

  *frequency = asked_column (finder, option);
  if (*frequency >= 0 && is_number (finder, (guint) *frequency) && *frequency != asked)
    return TRUE;
  return sp_fail_at (error, finder->file, finder->line, 1,
                     _ ("?frequency_column=%s is no column of numbers beside the levels; expected a number from 1 to %u, or a name in the "
                        "header"),
                     option, finder->dialect->n);
}

static gboolean
find_frequency (const Finder *finder, int asked, SpColumns *columns, GError **error)
{
  guint n_numbers = 0;

  for (guint i = 0; i < finder->dialect->n; i++)
    n_numbers += is_number (finder, i);
  if (finder->options->frequency_column)
    return frequency_by_option (finder, asked, &columns->frequency, error);
  if (!frequency_by_header (finder, &columns->frequency, error))
    return FALSE;
  if (columns->frequency < 0 && n_numbers > 1 && !frequency_by_numbers (finder, asked, n_numbers, columns, error))
    return FALSE;
  return columns->frequency >= 0 || finder->sweep || fail_without_frequency (finder, error);
}

static int
exponent_of (double unit_hz)
{
  return (int) lround (log10 (unit_hz));
}

/* The first frequency is the sweep's start, or stop, in one unit only. */
static gboolean
exponent_by_sweep (const Finder *finder, const SpColumnContent *content, int *exponent)
{
  double start, stop;
  guint found = 0;

  if (!finder->preamble->sweep_unit_said || !sp_preamble_sweep (finder->preamble, &start, &stop))
    return FALSE;
  double edge = content->descends ? stop : start;
  for (int e = 0; e <= 9; e += 3)
    if (content->first > 0 && fabs (content->first * pow (10, e) - edge) < 1e-6 * edge) {
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
  else if (!exponent_by_sweep (finder, &finder->dialect->content[columns->frequency], &columns->exponent))
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
  return is_other_volt_or_watt (text) || name->unit.kind != SP_UNIT_KIND_NONE || g_ascii_strncasecmp (text, "dB", 2) == 0
         || strpbrk (text, "/%^") || strcmp (text, "A") == 0 || strcmp (text, "mA") == 0 || strcmp (text, "uA") == 0
         || g_ascii_strcasecmp (text, "ohm") == 0 || g_ascii_strncasecmp (text, "deg", 3) == 0;
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
    return sp_fail_at (error, finder->file, (guint) preamble->level_unit_line, 1,
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
  return word == SP_WORD_LEVEL || !finder->dialect->content[field].counts || finder->dialect->n == 1;
}

static gboolean
no_such_column (const Finder *finder, const SpColumns *all, GError **error)
{
  g_autofree char *list = sp_columns_list (all);
  return sp_fail_at (error, finder->file, finder->line, 1, _ ("?column=%s is none of its level columns; expected one of: %s"),
                     finder->options->column, list);
}

static gboolean
fail_no_level (const Finder *finder, const SpColumns *columns, GError **error)
{
  for (guint i = 0; i < finder->dialect->n; i++)
    if (is_number (finder, i) && (int) i != columns->frequency && finder->dialect->content[i].counts && word_of (finder, i) == SP_WORD_NONE)
      return sp_fail_at (error, finder->file, finder->line, 1,
                         _ ("column %u counts %.0f, %.0f … and can be read in two ways: as a row number, then there is no level, or as the "
                            "level (?column=%u)"),
                         i + 1, finder->dialect->content[i].first, finder->dialect->content[i].first + 1, i + 1);
  return sp_fail_at (error, finder->file, finder->line, 1,
                     _ ("no level column found; expected a frequency and at least one level in each row"));
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
    return fail_no_level (finder, columns, error);
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
  int asked = options->column ? asked_column (&finder, options->column) : -1;

  *columns = (SpColumns){ .frequency = -1, .levels = g_array_new (FALSE, TRUE, sizeof (SpLevelColumn)) };
  g_array_set_clear_func (columns->levels, clear_level);
  if (!find_frequency (&finder, asked, columns, error))
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
