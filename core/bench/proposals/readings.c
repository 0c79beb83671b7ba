/* readings.c - the ways in which many names can be read: patterns that are tried, and how plain what they give is */
#include "core/bench/proposals/proposals-private.h"

#include <string.h>

/* All bound time: each shape is tried at each name; and more ways to read them are no choice. */
#define NAMES_MOST 60
#define WAYS_MOST 5

/* `-` stands for what parts the names. */
static const char *const templates[] = {
  "{radio}[-{condition}][-{purpose}]",     "{radio}[-{purpose}][-{condition}]",       "{condition}-{radio}[-{purpose}]",
  "{purpose}-{radio}[-{condition}]",       "{purpose}-{condition}-{radio}",           "{any}-{radio}[-{condition}][-{purpose}]",
  "{any}-{condition}-{radio}[-{purpose}]", "{radio}-{any}[-{condition}][-{purpose}]", "{radio}[-{condition}][-{purpose}]-{any}",
};

/* ---- how plain a reading is ---- */

#define PLAIN 2 /* of one name: nothing of it is in doubt; in place of an enumeration: they are added up */

/* What the words of a text are. */
typedef struct {
  guint words, facts, purposes; /* `words` are none of the others, and no bare numbers */
  guint numbers;
} Words;

static Words
look (const char *text)
{
  g_auto (GStrv) words = sp_proposal_words (text);
  g_autofree gboolean *facts = g_new0 (gboolean, g_strv_length (words) + 1);
  Words found = { 0 };
  SpProposal ignored = { 0 };
  sp_proposal_take_facts (words, facts, &ignored);
  for (guint i = 0; words[i]; i++) {
    gboolean purpose = sp_proposal_take_purpose (words[i], &ignored), number = strspn (words[i], "0123456789") == strlen (words[i]);
    found.facts += facts[i] && !purpose;
    found.purposes += purpose;
    found.numbers += number && !purpose;
    found.words += !facts[i] && !purpose && !number;
  }
  sp_proposal_clear (&ignored);
  return found;
}

/* 0 where a radio is called by what is a condition's, or by no word at all, or where more than `spare` words, or any fact, are passed over; less than
 * PLAIN where words alone tell radio and condition apart. */
static guint
plainness (const SpProposal *proposal, const char *stem, guint spare)
{
  Words radio = look (proposal->radio), condition = look (proposal->condition), whole = look (stem);
  gboolean nothing = radio.words == 0 && (*proposal->radio || proposal->purpose == SP_PURPOSE_KEYED);
  gboolean bare = *proposal->condition && condition.words + condition.facts == 0;
  guint words = radio.words + condition.words;
  if (nothing || bare || radio.facts + radio.purposes + condition.purposes > 0)
    return 0;
  if (condition.facts < whole.facts || words + spare < whole.words)
    return 0;
  return words >= whole.words && (condition.facts > 0 || (!*proposal->condition && radio.words < 2)) ? PLAIN : PLAIN - 1;
}

/* The words that all names begin with, and may be passed over: an evening, a place. */
static guint
spare_words (const GPtrArray *names)
{
  g_auto (GStrv) first = NULL;
  guint alike = 0;
  for (guint i = 0; i < names->len; i++) {
    g_autofree char *stem = sp_proposal_stem (names->pdata[i]);
    g_auto (GStrv) words = sp_proposal_words (stem);
    guint n = 0;
    while (first && n < alike && words[n] && g_ascii_strcasecmp (first[n], words[n]) == 0)
      n++;
    alike = first ? n : g_strv_length (words);
    if (!first)
      first = g_steal_pointer (&words);
  }
  return names->len > 1 ? alike : 0;
}

/* ---- patterns that are tried ---- */

typedef struct {
  char *pattern;
  SpProposal *means;           /* one a name */
  guint fits, plain, place, n; /* `fits`: names with any plainness; `plain`: of all together */
} Try;

static void
try_free (gpointer data)
{
  Try *one = data;
  for (guint i = 0; i < one->n; i++)
    sp_proposal_clear (&one->means[i]);
  g_free (one->means);
  g_free (one->pattern);
  g_free (one);
}

/* Not where fewer than half of the names have that shape: it is none of theirs then. */
static void
add_try (GPtrArray *tries, const GPtrArray *names, const char *pattern)
{
  Try *one = g_new (Try, 1);
  const Try *by_words = tries->len ? tries->pdata[0] : one; /* whose purposes are never passed over */
  guint spare = g_str_has_prefix (pattern, "{any}") ? spare_words (names) : 0;
  guint shaped = 0, n = names->len;
  *one = (Try){ g_strdup (pattern), g_new0 (SpProposal, n + 1), 0, 0, tries->len, n };
  for (guint i = 0; i < n; i++) {
    g_autofree char *stem = sp_proposal_stem (names->pdata[i]), *valid = g_utf8_make_valid (stem, -1);
    SpProposal probe = { 0 };
    shaped += !*pattern || sp_pattern_take (valid, pattern, &probe);
    sp_proposal_clear (&probe);
    sp_propose (names->pdata[i], pattern, &one->means[i]);
    gboolean same = one->means[i].purpose == by_words->means[i].purpose;
    guint plain = same ? plainness (&one->means[i], valid, spare) : 0;
    one->fits += plain > 0;
    one->plain += plain;
  }
  if (2 * shaped < n)
    try_free (one);
  else
    g_ptr_array_add (tries, one);
}

static guint
names_with (const GPtrArray *names, char separator)
{
  guint with = 0;
  for (guint i = 0; i < names->len; i++) {
    g_autofree char *stem = sp_proposal_stem (names->pdata[i]);
    with += strchr (stem, separator) != NULL;
  }
  return with;
}

/* (transfer full), of Try; that by words first */
static GPtrArray *
all_tries (const GPtrArray *names)
{
  GPtrArray *tries = g_ptr_array_new_with_free_func (try_free);
  add_try (tries, names, "");
  add_try (tries, names, "{radio}");
  for (const char *separator = "_- ."; *separator; separator++)
    for (guint i = 0; 2 * names_with (names, *separator) >= MAX (names->len, 1) && i < G_N_ELEMENTS (templates); i++) {
      g_auto (GStrv) pieces = g_strsplit (templates[i], "-", -1);
      g_autofree char *pattern = g_strjoinv ((char[]){ *separator, '\0' }, pieces);
      add_try (tries, names, pattern);
    }
  return tries;
}

static int
by_plainness (gconstpointer a, gconstpointer b)
{
  const Try *one = *(Try **) a, *other = *(Try **) b;
  if (one->fits != other->fits)
    return one->fits > other->fits ? -1 : 1;
  if (one->plain != other->plain)
    return one->plain > other->plain ? -1 : 1;
  return one->place < other->place ? -1 : one->place > other->place;
}

/* ---- what differs ---- */

static gboolean
same_meaning (const SpProposal *a, const SpProposal *b)
{
  g_autofree char *radio = sp_proposal_fold (a->radio), *other_radio = sp_proposal_fold (b->radio);
  g_autofree char *condition = sp_proposal_fold (a->condition), *other_condition = sp_proposal_fold (b->condition);
  return a->purpose == b->purpose && g_str_equal (radio, other_radio) && g_str_equal (condition, other_condition);
}

/* The first name that two read otherwise; n: none. */
static guint
first_difference (const Try *a, const Try *b)
{
  guint i = 0;
  while (i < a->n && same_meaning (&a->means[i], &b->means[i]))
    i++;
  return i;
}

static gboolean
is_said (const GPtrArray *tries, guint i)
{
  const Try *one = tries->pdata[i];
  for (guint k = 0; k < i; k++)
    if (first_difference (tries->pdata[k], one) == one->n)
      return TRUE;
  return FALSE;
}

/* ---- what is asked ---- */

static void
free_reading (gpointer data)
{
  g_free (((SpNamesReading *) data)->pattern);
  g_free (data);
}

GPtrArray *
sp_propose_readings (const char *const *all, guint n)
{
  GPtrArray *readings = g_ptr_array_new_with_free_func (free_reading);
  g_autoptr (GPtrArray) names = g_ptr_array_new ();
  guint most = MIN (n, NAMES_MOST);
  for (guint i = 0; i < most; i++)
    g_ptr_array_add (names, (gpointer) all[(guint64) i * n / most]);
  g_autoptr (GPtrArray) tries = all_tries (names);
  g_ptr_array_sort (tries, by_plainness);
  const Try *best = tries->pdata[0];
  for (guint i = 0; i < tries->len && readings->len < WAYS_MOST; i++) {
    const Try *one = tries->pdata[i];
    if (i > 0 && (one->fits == 0 || one->fits < best->fits || is_said (tries, i)))
      continue;
    SpNamesReading *reading = g_new (SpNamesReading, 1);
    guint differs = i == 0 ? 0 : first_difference (best, one);
    *reading = (SpNamesReading){ g_strdup (one->pattern), (guint) ((guint64) differs * n / MAX (most, 1)) };
    g_ptr_array_add (readings, reading);
  }
  return readings;
}

static void
free_meaning (gpointer data)
{
  sp_proposal_clear (data);
  g_free (data);
}

static void
add_meaning (GPtrArray *meanings, const SpKnownNames *known, const char *file_name, const char *pattern)
{
  SpProposal *meaning = g_new (SpProposal, 1);
  sp_propose (file_name, pattern, meaning);
  sp_known_names_aim (known, meaning);
  for (guint i = 0; i < meanings->len; i++)
    if (same_meaning (meanings->pdata[i], meaning)) {
      free_meaning (meaning);
      return;
    }
  g_ptr_array_add (meanings, meaning);
}

/* A number behind the radio may be its own, where it is else taken for a repeat. */
static void
add_numbered (GPtrArray *meanings, const SpKnownNames *known, const char *file_name)
{
  g_autofree char *stem = sp_proposal_stem (file_name), *valid = g_utf8_make_valid (stem, -1);
  SpProposal whole;
  sp_propose (file_name, "{radio}", &whole);
  if (look (valid).numbers > 0 && plainness (&whole, valid, 0) > 0)
    add_meaning (meanings, known, file_name, "{radio}");
  sp_proposal_clear (&whole);
}

GPtrArray *
sp_propose_meanings (const SpKnownNames *known, const char *file_name, const char *pattern, const GPtrArray *readings)
{
  GPtrArray *meanings = g_ptr_array_new_with_free_func (free_meaning);
  add_meaning (meanings, known, file_name, pattern);
  add_numbered (meanings, known, file_name);
  for (guint i = 0; readings && i < readings->len; i++)
    add_meaning (meanings, known, file_name, ((const SpNamesReading *) readings->pdata[i])->pattern);
  return meanings;
}
