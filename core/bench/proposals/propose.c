/* propose.c - from exported files to sweeps of a bench, and one bench with all of them in it */
#include "core/bench/proposals/proposals-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/quantity/error.h"
#include "core/quantity/text.h"

#define STEP_MAX_DB 100 /* bounds what can be meant */

void
sp_proposal_clear (SpProposal *proposal)
{
  g_clear_pointer (&proposal->radio, g_free);
  g_clear_pointer (&proposal->condition, g_free);
  g_clear_pointer (&proposal->mode, g_free);
  g_clear_pointer (&proposal->chain, sp_chain_unref);
}

void
sp_proposal_aim (SpProposal *proposal, const char *radio, const char *condition)
{
  g_autofree char *old_radio = proposal->radio, *old_condition = proposal->condition;
  proposal->radio = g_strdup (radio);
  proposal->condition = g_strdup (condition);
}

void
sp_proposal_aim_as (SpProposal *proposal, const SpProposal *other)
{
  sp_proposal_aim (proposal, other->radio, other->condition);
  proposal->fundamental_hz = other->fundamental_hz;
  proposal->rated_w = other->rated_w;
  g_free (proposal->mode);
  proposal->mode = g_strdup (other->mode);
}

char *
sp_proposal_stem (const char *file_name)
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

gboolean
sp_proposal_take_purpose (const char *word, SpProposal *out)
{
  static const char *const unkeyed[] = { "unkeyed", "keyup", "room", "idle", "ambient", "background", NULL };
  static const char *const notched[] = { "notch", "notched", NULL };
  static const char *const superseded[] = { "old", "superseded", NULL }, *const step[] = { "step", NULL };
  static const char *const keyed[] = { "keyed", "tx", NULL }, *const retake[] = { "retake", "re-take", "again", NULL };
  if (is_one_of (word, unkeyed))
    out->purpose = SP_PURPOSE_UNKEYED;
  else if (is_one_of (word, notched))
    out->purpose = SP_PURPOSE_NOTCHED;
  else if (is_one_of (word, superseded))
    out->purpose = SP_PURPOSE_SUPERSEDED;
  else if (is_one_of (word, step) || !isnan (step_in (word)))
    out->purpose = SP_PURPOSE_STEP;
  else if (is_one_of (word, retake))
    out->retake = TRUE;
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

char *
sp_proposal_capital (const char *word)
{
  gunichar first = g_utf8_get_char (word);
  char letter[7] = { 0 };
  letter[g_unichar_to_utf8 (g_unichar_toupper (first), letter)] = '\0';
  return g_strconcat (letter, *word ? g_utf8_next_char (word) : "", NULL);
}

/* What people part into two words and mean as one; NULL. */
static const char *
one_of_two (const char *first, const char *second)
{
  static const char *const pairs[][3] = { { "re", "take", "retake" }, { "key", "up", "keyup" } };
  for (guint i = 0; i < G_N_ELEMENTS (pairs); i++)
    if (g_ascii_strcasecmp (first, pairs[i][0]) == 0 && g_ascii_strcasecmp (second, pairs[i][1]) == 0)
      return pairs[i][2];
  return NULL;
}

char **
sp_proposal_words (const char *stem)
{
  g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *parted = g_strdup (stem);
  for (char *p = parted; *p; p++)
    if (strchr ("-_ ", *p) || (*p == '.' && !(p > parted && g_ascii_isdigit (p[-1]) && g_ascii_isdigit (p[1]))))
      *p = ' ';
  g_auto (GStrv) all = g_strsplit (parted, " ", -1);
  for (guint i = 0; all[i]; i++) {
    const char *one = words->len ? one_of_two (words->pdata[words->len - 1], all[i]) : NULL;
    if (one)
      g_ptr_array_set_size (words, (int) words->len - 1);
    if (*all[i])
      g_ptr_array_add (words, g_strdup (one ? one : all[i]));
  }
  g_ptr_array_add (words, NULL);
  return (char **) g_ptr_array_steal (words, NULL);
}

/* What is left once words of purpose and attenuation are taken. (transfer container) */
static GPtrArray *
take_purposes (char **words, SpProposal *out)
{
  GPtrArray *rest = g_ptr_array_new ();
  for (guint i = 0; words[i]; i++) {
    double db;
    if (out->purpose == SP_PURPOSE_STEP && isnan (out->step_db) && sp_parse_number (words[i], &db, NULL) && db > 0)
      out->step_db = db; /* "step 10" */
    else if (!sp_proposal_take_purpose (words[i], out) && !is_attenuation (words[i]))
      g_ptr_array_add (rest, words[i]);
  }
  if (rest->len > 1 && g_ascii_strcasecmp (rest->pdata[rest->len - 1], "b") == 0) {
    out->retake = TRUE;
    g_ptr_array_set_size (rest, (int) rest->len - 1);
  }
  if (rest->len > 1 && counts_repeats (rest->pdata[rest->len - 1]))
    g_ptr_array_set_size (rest, (int) rest->len - 1);
  return rest;
}

static gboolean
is_number (const char *word)
{
  return *word && strlen (word) <= 3 && strspn (word, "0123456789") == strlen (word);
}

/* The radio: the first word that tells no frequency, power, waveband or mode, with a number behind it ("abc-1_2m": "Abc 1"); without one the folder,
 * where all of the name is such facts. */
static void
by_words (const char *stem, const char *folder, SpProposal *out)
{
  g_auto (GStrv) words = sp_proposal_words (stem);
  g_autoptr (GPtrArray) rest = take_purposes (words, out);
  g_autofree gboolean *facts = g_new0 (gboolean, rest->len + 1);
  g_autoptr (GString) condition = g_string_new (NULL);
  g_ptr_array_add (rest, NULL);
  sp_proposal_take_facts ((char **) rest->pdata, facts, out);
  guint n = rest->len - 1, at = 0;
  while (at < n && facts[at])
    at++;
  gboolean numbered = at + 2 < n && is_number (rest->pdata[at + 1]);
  for (guint i = 0; i < n; i++)
    if (i != at && !(numbered && i == at + 1))
      g_string_append_printf (condition, "%s%s", condition->len ? " " : "", (char *) rest->pdata[i]);
  g_autofree char *name = at == n ? g_strdup (n ? folder : "") : sp_proposal_capital (rest->pdata[at]);
  g_autofree char *radio = numbered ? g_strdup_printf ("%s %s", name, (char *) rest->pdata[at + 1]) : g_strdup (name);
  sp_proposal_aim (out, radio, condition->str);
}

/* What a folder of one radio's files is called. (transfer full) */
static char *
folder_of (const char *file_name)
{
  g_autofree char *folder = g_path_get_dirname (file_name), *base = g_path_get_basename (folder);
  g_autofree char *valid = g_utf8_make_valid (strspn (base, "./") == strlen (base) ? "" : base, -1);
  g_strdelimit (valid, "/[]", '-');
  return sp_proposal_capital (valid);
}

void
sp_propose (const char *file_name, const char *pattern, SpProposal *out)
{
  g_autofree char *stem = sp_proposal_stem (file_name), *valid = g_utf8_make_valid (stem, -1), *folder = folder_of (file_name);
  g_strdelimit (valid, "/[]", '-'); /* what no radio may be called */
  *out = (SpProposal){ .radio = g_strdup (""), .condition = g_strdup (""), .purpose = SP_PURPOSE_KEYED, .step_db = NAN };
  if (!pattern || !*pattern || !sp_pattern_take (valid, pattern, out))
    by_words (valid, folder, out);
}

/* ---- steps ---- */

/* What goes to one condition. */
typedef struct {
  const SpCondition *condition; /* of the bench; NULL */
  GArray *arrivals;             /* of guint */
} Place;

static void
place_free (gpointer data)
{
  g_array_unref (((Place *) data)->arrivals);
  g_free (data);
}

static Place *
place_at (GHashTable *places, const char *radio, const char *condition)
{
  char *name = g_strdup_printf ("%s\n%s", radio, condition);
  Place *place = g_hash_table_lookup (places, name);
  if (place) {
    g_free (name);
    return place;
  }
  place = g_new (Place, 1);
  *place = (Place){ NULL, g_array_new (FALSE, FALSE, sizeof (guint)) };
  g_hash_table_insert (places, name, place);
  return place;
}

/* (transfer full) */
static GHashTable *
places_of (const SpBench *bench, const SpArrival *arrivals, guint n)
{
  GHashTable *places = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, place_free);
  for (guint i = 0; i < bench->n_conditions; i++)
    place_at (places, bench->radios[bench->conditions[i].radio].name, bench->conditions[i].name)->condition = &bench->conditions[i];
  for (guint i = 0; i < n; i++)
    g_array_append_val (place_at (places, arrivals[i].to.radio, arrivals[i].to.condition)->arrivals, i);
  return places;
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
least_attenuation (GHashTable *places, const SpArrival *arrival, const SpArrival *arrivals)
{
  const Place *place = place_at (places, arrival->to.radio, arrival->to.condition);
  double least = NAN;
  for (guint k = 0; k < place->arrivals->len; k++) {
    const SpArrival *other = &arrivals[g_array_index (place->arrivals, guint, k)];
    if (other->to.purpose == SP_PURPOSE_KEYED && comparable (arrival->trace, other->trace))
      least = fmin (least, other->trace->settings.attenuation_db);
  }
  for (guint j = 0; place->condition && j < place->condition->n_sweeps; j++) {
    const SpSweep *sweep = &place->condition->sweeps[j];
    if (sweep->purpose == SP_PURPOSE_KEYED && comparable (arrival->trace, sweep->trace))
      least = fmin (least, sweep->trace->settings.attenuation_db);
  }
  return least;
}

void
sp_propose_steps (const SpBench *bench, SpArrival *arrivals, const gboolean *said, guint n)
{
  g_autoptr (GHashTable) places = places_of (bench, arrivals, n);
  for (guint i = 0; i < n; i++) {
    SpProposal *to = &arrivals[i].to;
    double attenuation_db = arrivals[i].trace->settings.attenuation_db;
    gboolean open = said[i] ? to->purpose == SP_PURPOSE_STEP : to->purpose == SP_PURPOSE_KEYED;
    if (!open || !isnan (to->step_db) || isnan (attenuation_db))
      continue;
    double more = attenuation_db - least_attenuation (places, &arrivals[i], arrivals);
    if (more > SP_STEP_ALIKE_DB)
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
