#include "core/bench/propose.h"

#include <math.h>
#include <string.h>

#include "core/bench/edit.h"
#include "core/quantity/text.h"

#define SAME_ATTENUATION_DB 0.05

void
sp_proposal_clear (SpProposal *proposal)
{
  g_clear_pointer (&proposal->radio, g_free);
  g_clear_pointer (&proposal->condition, g_free);
}

static char *
stem_of (const char *file_name)
{
  char *base = g_path_get_basename (file_name), *dot = strrchr (base, '.');
  if (dot && dot != base)
    *dot = '\0';
  return base;
}

/* "step10", "att+10", "+10": the number; NaN for another word. */
static double
step_in (const char *word)
{
  static const char *const heads[] = { "step", "att", "plus", "" };
  for (guint i = 0; i < G_N_ELEMENTS (heads); i++) {
    gsize length = strlen (heads[i]);
    double db;
    const char *rest = word + length;
    if (g_ascii_strncasecmp (word, heads[i], length) != 0 || (length == 0 && *word != '+'))
      continue;
    g_autofree char *number = g_strdup (*rest == '+' ? rest + 1 : rest);
    char *unit = strstr (number, "dB");
    if (unit)
      *unit = '\0';
    if (*number && sp_parse_number (number, &db, NULL) && db > 0 && db <= 100)
      return db;
  }
  return NAN;
}

static gboolean
is_one_of (const char *word, const char *const *words)
{
  for (; *words; words++)
    if (g_ascii_strcasecmp (word, *words) == 0)
      return TRUE;
  return FALSE;
}

/* Takes a word that names a purpose; FALSE: it names none. */
static gboolean
take_purpose (const char *word, SpProposal *out)
{
  static const char *const unkeyed[] = { "unkeyed", "room", "idle", "ambient", NULL }, *const notched[] = { "notch", "notched", NULL };
  static const char *const superseded[] = { "old", "superseded", NULL }, *const keyed[] = { "keyed", NULL }, *const step[] = { "step", "att", NULL };
  if (is_one_of (word, unkeyed))
    out->purpose = SP_PURPOSE_UNKEYED;
  else if (is_one_of (word, notched))
    out->purpose = SP_PURPOSE_NOTCHED;
  else if (is_one_of (word, superseded))
    out->purpose = SP_PURPOSE_SUPERSEDED;
  else if (is_one_of (word, step) || !isnan (step_in (word)))
    out->purpose = SP_PURPOSE_STEP;
  else if (!is_one_of (word, keyed))
    return FALSE;
  if (!isnan (step_in (word)))
    out->step_db = step_in (word);
  return TRUE;
}

static gboolean
counts_repeats (const char *word)
{
  return strlen (word) <= 2 && strspn (word, "0123456789") == strlen (word);
}

static char *
capital (const char *word)
{
  gunichar first = g_utf8_get_char (word);
  char letter[7] = { 0 };
  letter[g_unichar_to_utf8 (g_unichar_toupper (first), letter)] = '\0';
  return g_strconcat (letter, *word ? g_utf8_next_char (word) : "", NULL);
}

static void
by_words (const char *stem, SpProposal *out)
{
  g_auto (GStrv) words = g_strsplit_set (stem, "-_. ", -1);
  g_autoptr (GPtrArray) rest = g_ptr_array_new ();
  for (guint i = 0; words[i]; i++) {
    if (*words[i] == '\0')
      continue;
    double db;
    if (out->purpose == SP_PURPOSE_STEP && isnan (out->step_db) && sp_parse_number (words[i], &db, NULL) && db > 0)
      out->step_db = db; /* "step 10" */
    else if (!take_purpose (words[i], out))
      g_ptr_array_add (rest, words[i]);
  }
  if (rest->len > 1 && counts_repeats (g_ptr_array_index (rest, rest->len - 1)))
    g_ptr_array_set_size (rest, (int) rest->len - 1);
  g_autoptr (GString) condition = g_string_new (NULL);
  for (guint i = 1; i < rest->len; i++)
    g_string_append_printf (condition, "%s%s", i > 1 ? " " : "", (char *) g_ptr_array_index (rest, i));
  g_free (out->radio);
  g_free (out->condition);
  out->radio = rest->len ? capital (g_ptr_array_index (rest, 0)) : g_strdup ("");
  out->condition = g_strdup (condition->str);
}

/* One field of a pattern: the text up to the literal that follows it. */
static gboolean
take_field (const char *field, const char *text, gsize length, SpProposal *out)
{
  g_autofree char *value = g_strstrip (g_strndup (text, length));
  if (g_str_equal (field, "radio")) {
    g_free (out->radio);
    out->radio = capital (value);
  } else if (g_str_equal (field, "condition")) {
    g_free (out->condition);
    out->condition = g_strdup (value);
  } else if (g_str_equal (field, "purpose")) {
    return take_purpose (value, out);
  } else {
    return g_str_equal (field, "any");
  }
  return *value != '\0';
}

static gboolean
by_pattern (const char *stem, const char *pattern, SpProposal *out)
{
  const char *at = stem, *p = pattern;
  while (*p) {
    if (*p != '{') {
      if (*p++ != *at++)
        return FALSE;
      continue;
    }
    const char *close = strchr (p, '}');
    if (!close)
      return FALSE;
    g_autofree char *field = g_strndup (p + 1, (gsize) (close - p - 1));
    p = close + 1;
    gsize literal = strcspn (p, "{");
    g_autofree char *next = g_strndup (p, literal);
    const char *end = literal ? strstr (at, next) : at + strlen (at);
    if (!end || !take_field (field, at, (gsize) (end - at), out))
      return FALSE;
    at = end;
  }
  return *at == '\0';
}

void
sp_propose (const char *file_name, const char *pattern, SpProposal *out)
{
  g_autofree char *stem = stem_of (file_name), *valid = g_utf8_make_valid (stem, -1);
  g_strdelimit (valid, "/[]", '-'); /* what no radio may be called */
  *out = (SpProposal) { g_strdup (""), g_strdup (""), SP_PURPOSE_KEYED, NAN };
  if (pattern && *pattern && by_pattern (valid, pattern, out))
    return;
  sp_proposal_clear (out);
  *out = (SpProposal) { g_strdup (""), g_strdup (""), SP_PURPOSE_KEYED, NAN };
  by_words (valid, out);
}

static gboolean
same_target (const SpProposal *a, const SpProposal *b)
{
  return g_strcmp0 (a->radio, b->radio) == 0 && g_strcmp0 (a->condition, b->condition) == 0;
}

void
sp_propose_steps (SpArrival *arrivals, guint n)
{
  for (guint i = 0; i < n; i++) {
    double own = arrivals[i].trace->settings.attenuation_db, least = own;
    if (arrivals[i].to.purpose != SP_PURPOSE_KEYED || isnan (own))
      continue;
    for (guint j = 0; j < n; j++)
      if (arrivals[j].to.purpose == SP_PURPOSE_KEYED && same_target (&arrivals[i].to, &arrivals[j].to))
        least = fmin (least, arrivals[j].trace->settings.attenuation_db);
    if (own > least + SAME_ATTENUATION_DB)
      arrivals[i].to.step_db = own - least;
  }
  for (guint i = 0; i < n; i++) /* only now: a step is no longer a keyed sweep to compare with */
    if (arrivals[i].to.purpose == SP_PURPOSE_KEYED && !isnan (arrivals[i].to.step_db))
      arrivals[i].to.purpose = SP_PURPOSE_STEP;
}

static int
radio_named (const SpBench *bench, const char *name)
{
  for (guint i = 0; i < bench->n_radios; i++)
    if (g_str_equal (bench->radios[i].name, name))
      return (int) i;
  return -1;
}

static int
condition_named (const SpBench *bench, guint radio, const char *name, int *only_empty)
{
  *only_empty = -1;
  for (guint i = 0; i < bench->n_conditions; i++) {
    const SpCondition *c = &bench->conditions[i];
    if (c->radio != radio)
      continue;
    if (g_str_equal (c->name, name))
      return (int) i;
    if (*c->name == '\0' && c->n_sweeps == 0)
      *only_empty = (int) i;
  }
  return -1;
}

static void
replace (SpBench **bench, SpBench *new)
{
  sp_bench_unref (*bench);
  *bench = new;
}

/* The condition an arrival goes to, made where it is missing; -2 and an error where it cannot be. */
static int
target_of (SpBench **bench, const SpProposal *to, GError **error)
{
  if (*to->radio == '\0' && to->purpose == SP_PURPOSE_UNKEYED)
    return -1;
  int radio = radio_named (*bench, to->radio), empty;
  if (radio < 0) {
    SpBench *new = sp_bench_add_radio_named (*bench, to->radio, error);
    if (!new)
      return -2;
    replace (bench, new);
    radio = radio_named (*bench, to->radio);
  }
  int condition = condition_named (*bench, (guint) radio, to->condition, &empty);
  if (condition >= 0)
    return condition;
  SpBench *new = empty >= 0 ? sp_bench_rename_condition (*bench, (guint) empty, to->condition, error)
                            : sp_bench_add_condition_named (*bench, (guint) radio, to->condition, error);
  if (!new)
    return -2;
  replace (bench, new);
  return condition_named (*bench, (guint) radio_named (*bench, to->radio), to->condition, &empty);
}

/* Steps are checked against the keyed sweep: keyed ones go in first. */
static gboolean
put (SpBench **bench, const SpArrival *arrivals, guint n, gboolean keyed, GError **error)
{
  for (guint i = 0; i < n; i++) {
    const SpArrival *a = &arrivals[i];
    if ((a->to.purpose == SP_PURPOSE_KEYED) != keyed)
      continue;
    int condition = target_of (bench, &a->to, error);
    SpBench *new = condition == -2 ? NULL : sp_bench_add_sweep (*bench, condition, a->to.purpose, a->trace, a->to.step_db, error);
    if (!new) {
      g_prefix_error (error, "%s: ", a->trace->file);
      return FALSE;
    }
    replace (bench, new);
  }
  return TRUE;
}

SpBench *
sp_bench_with_arrivals (const SpBench *bench, const SpArrival *arrivals, guint n, GError **error)
{
  SpBench *new = sp_bench_ref (bench);
  if (put (&new, arrivals, n, TRUE, error) && put (&new, arrivals, n, FALSE, error))
    return new;
  sp_bench_unref (new);
  return NULL;
}

static gboolean
same_bytes (const SpTrace *a, const SpTrace *b)
{
  return a && g_strcmp0 (a->column, b->column) == 0 && g_strcmp0 (sp_trace_sha256 (a), sp_trace_sha256 (b)) == 0;
}

gboolean
sp_bench_has_trace (const SpBench *bench, const SpTrace *trace)
{
  if (same_bytes (bench->unkeyed, trace))
    return TRUE;
  for (guint i = 0; i < bench->n_conditions; i++)
    for (guint j = 0; j < bench->conditions[i].n_sweeps; j++)
      if (same_bytes (bench->conditions[i].sweeps[j].trace, trace))
        return TRUE;
  return FALSE;
}

char *
sp_trace_shape (const SpTrace *trace)
{
  const SpSettings *s = &trace->settings;
  return g_strdup_printf ("%s|%d|%g|%d%d%d", trace->column ? trace->column : "", (int) trace->unit_read, trace->unit_scale, isnan (s->rbw_hz),
                          isnan (s->attenuation_db), s->detector == SP_DETECTOR_UNKNOWN);
}
