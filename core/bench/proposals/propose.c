/* propose.c - from exported files to sweeps of a bench, and one bench with all of them in it */
#include "core/bench/proposals/propose.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/quantity/error.h"
#include "core/quantity/text.h"

#define SAME_ATTENUATION_DB 0.05 /* closer attenuations are equal (common practice, no source) */
#define STEP_MAX_DB 100          /* bounds what can be meant */

void
sp_proposal_clear (SpProposal *proposal)
{
  g_clear_pointer (&proposal->radio, g_free);
  g_clear_pointer (&proposal->condition, g_free);
  g_clear_pointer (&proposal->chain, sp_chain_unref);
}

void
sp_proposal_aim (SpProposal *proposal, const char *radio, const char *condition)
{
  g_autofree char *old_radio = proposal->radio, *old_condition = proposal->condition;
  proposal->radio = g_strdup (radio);
  proposal->condition = g_strdup (condition);
}

static char *
stem_of (const char *file_name)
{
  char *base = g_path_get_basename (file_name), *dot = strrchr (base, '.');
  if (dot && dot != base)
    *dot = '\0';
  return base;
}

/* "step10", "att+10", "+10dB": the number; NaN for another word. "att20" is the attenuation itself, not a step. */
static double
step_in (const char *word)
{
  static const struct {
    const char *head;
    gboolean plus;
  } heads[] = { { "step", FALSE }, { "att", TRUE }, { "plus", FALSE }, { "", TRUE } };
  for (guint i = 0; i < G_N_ELEMENTS (heads); i++) {
    gsize length = strlen (heads[i].head);
    const char *rest = word + length;
    double db;
    if (g_ascii_strncasecmp (word, heads[i].head, length) != 0 || (heads[i].plus && *rest != '+'))
      continue;
    g_autofree char *number = g_ascii_strdown (*rest == '+' ? rest + 1 : rest, -1);
    if (g_str_has_suffix (number, "db"))
      number[strlen (number) - 2] = '\0';
    if (*number && sp_parse_number (number, &db, NULL) && db > 0 && db <= STEP_MAX_DB)
      return db;
  }
  return NAN;
}

/* "att20", "att", "20dB": says nothing of whose sweep it is. */
static gboolean
is_attenuation (const char *word)
{
  g_autofree char *lower = g_ascii_strdown (word, -1);
  const char *digits = g_str_has_prefix (lower, "att") ? lower + 3 : lower;
  const char *end = digits + strspn (digits, "0123456789");
  return (digits > lower && *end == '\0') || (end > digits && g_str_equal (end, "db"));
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
  static const char *const unkeyed[] = { "unkeyed", "room", "idle", "ambient", "background", NULL };
  static const char *const notched[] = { "notch", "notched", NULL };
  static const char *const superseded[] = { "old", "superseded", NULL }, *const step[] = { "step", NULL };
  static const char *const keyed[] = { "keyed", "tx", NULL };
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
    else if (!take_purpose (words[i], out) && !is_attenuation (words[i]))
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
  *out = (SpProposal){ g_strdup (""), g_strdup (""), SP_PURPOSE_KEYED, NAN, NULL };
  if (pattern && *pattern && by_pattern (valid, pattern, out))
    return;
  sp_proposal_clear (out);
  *out = (SpProposal){ g_strdup (""), g_strdup (""), SP_PURPOSE_KEYED, NAN, NULL };
  by_words (valid, out);
}

gboolean
sp_propose_check_pattern (const char *pattern, GError **error)
{
  static const char *const fields[] = { "radio", "condition", "purpose", "any", NULL };
  gboolean radio = FALSE;
  for (const char *p = strchr (pattern, '{'); p; p = strchr (p, '{')) {
    const char *close = strchr (p, '}');
    g_autofree char *field = close ? g_strndup (p + 1, (gsize) (close - p - 1)) : NULL;
    if (!close || !g_strv_contains (fields, field))
      return sp_fail (error, SP_ERROR_USAGE, _ ("“%s”: expected {radio}, {condition}, {purpose} or {any}"), close ? field : p);
    if (close[1] == '{')
      return sp_fail (error, SP_ERROR_USAGE, _ ("“%s” and what follows touch; expected something between them, as in {radio}-{condition}"),
                      field);
    radio |= g_str_equal (field, "radio");
    p = close;
  }
  return radio || *pattern == '\0'
         || sp_fail (error, SP_ERROR_USAGE, _ ("no {radio} in the pattern; expected one, as in {radio}-{condition}-{purpose}"));
}

/* ---- what the bench has already ---- */

/* Letters and digits of two texts one after the other, without case. (transfer full) */
static char *
fold (const char *first, const char *second)
{
  g_autofree char *both = g_strconcat (first, second, NULL), *valid = g_utf8_make_valid (both, -1), *lower = g_utf8_casefold (valid, -1);
  GString *out = g_string_new (NULL);
  for (const char *p = lower; *p; p = g_utf8_next_char (p))
    if (g_unichar_isalnum (g_utf8_get_char (p)))
      g_string_append_unichar (out, g_utf8_get_char (p));
  return g_string_free (out, FALSE);
}

/* The radio's only condition; NULL: it has none or several. */
static const SpCondition *
only_condition (const SpBench *bench, guint radio)
{
  const SpCondition *only = NULL;
  for (guint i = 0; i < bench->n_conditions; i++) {
    if (bench->conditions[i].radio != radio)
      continue;
    if (only)
      return NULL;
    only = &bench->conditions[i];
  }
  return only;
}

void
sp_propose_known (const SpBench *bench, SpProposal *proposal)
{
  g_autofree char *whole = fold (proposal->radio, proposal->condition), *alone = fold (proposal->radio, "");
  if (*whole == '\0')
    return;
  for (guint i = 0; i < bench->n_conditions; i++) {
    const char *radio = bench->radios[bench->conditions[i].radio].name;
    g_autofree char *name = fold (radio, bench->conditions[i].name);
    if (g_str_equal (name, whole)) {
      sp_proposal_aim (proposal, radio, bench->conditions[i].name);
      return;
    }
  }
  for (guint i = 0; i < bench->n_radios; i++) {
    g_autofree char *name = fold (bench->radios[i].name, "");
    gboolean nothing_more = g_str_equal (name, whole); /* "shelf-two" is the radio "Shelf two" */
    const SpCondition *only = nothing_more ? only_condition (bench, i) : NULL;
    if (nothing_more || g_str_equal (name, alone)) {
      sp_proposal_aim (proposal, bench->radios[i].name, only ? only->name : nothing_more ? "" : proposal->condition);
      return;
    }
  }
}

/* ---- steps ---- */

static gboolean
same_target (const SpProposal *a, const SpProposal *b)
{
  return g_strcmp0 (a->radio, b->radio) == 0 && g_strcmp0 (a->condition, b->condition) == 0;
}

/* Whether one shows what the other does, but for its attenuation. */
static gboolean
comparable (const SpTrace *a, const SpTrace *b)
{
  double rbw = a->settings.rbw_hz, other = b->settings.rbw_hz;
  gboolean same = rbw == other || isnan (rbw) || isnan (other);
  gboolean overlap = a->frequency_hz[0] < b->frequency_hz[b->n - 1] && b->frequency_hz[0] < a->frequency_hz[a->n - 1];
  return same && overlap && !isnan (b->settings.attenuation_db);
}

/* The least attenuation of keyed sweeps that `arrival` can be compared with; NaN: there are none. */
static double
least_attenuation (const SpBench *bench, const SpArrival *arrival, const SpArrival *arrivals, guint n)
{
  double least = NAN;
  for (guint i = 0; i < n; i++)
    if (arrivals[i].to.purpose == SP_PURPOSE_KEYED && same_target (&arrivals[i].to, &arrival->to)
        && comparable (arrival->trace, arrivals[i].trace))
      least = fmin (least, arrivals[i].trace->settings.attenuation_db);
  for (guint i = 0; i < bench->n_conditions; i++) {
    const SpCondition *condition = &bench->conditions[i];
    if (!g_str_equal (condition->name, arrival->to.condition) || !g_str_equal (bench->radios[condition->radio].name, arrival->to.radio))
      continue;
    for (guint j = 0; j < condition->n_sweeps; j++)
      if (condition->sweeps[j].purpose == SP_PURPOSE_KEYED && comparable (arrival->trace, condition->sweeps[j].trace))
        least = fmin (least, condition->sweeps[j].trace->settings.attenuation_db);
  }
  return least;
}

void
sp_propose_steps (const SpBench *bench, SpArrival *arrivals, const gboolean *said, guint n)
{
  for (guint i = 0; i < n; i++) {
    SpProposal *to = &arrivals[i].to;
    double attenuation_db = arrivals[i].trace->settings.attenuation_db;
    gboolean open = said[i] ? to->purpose == SP_PURPOSE_STEP : to->purpose == SP_PURPOSE_KEYED;
    if (!open || !isnan (to->step_db) || isnan (attenuation_db))
      continue;
    double more = attenuation_db - least_attenuation (bench, &arrivals[i], arrivals, n);
    if (more > SAME_ATTENUATION_DB)
      to->step_db = more;
  }
  for (guint i = 0; i < n; i++) /* only now: a step is no longer a keyed sweep to compare with */
    if (!said[i] && arrivals[i].to.purpose == SP_PURPOSE_KEYED && !isnan (arrivals[i].to.step_db))
      arrivals[i].to.purpose = SP_PURPOSE_STEP;
}

char *
sp_trace_identity (const SpTrace *trace)
{
  return g_strdup_printf ("%s %s", sp_trace_sha256 (trace), trace->column ? trace->column : "");
}
