/* known.c - radios and conditions of a bench, found by what names have in common */
#include "core/bench/proposals/proposals-private.h"

#include <string.h>

struct _SpKnownNames {
  const SpBench *bench;
  GHashTable *radios; /* folded name -> place + 1 of the first */
  GHashTable *wholes; /* of radio and condition one after the other, likewise */
};

char *
sp_proposal_fold (const char *text)
{
  if (g_str_is_ascii (text)) { /* the same at a tenth of the time: a thousand names are held against a thousand radios */
    char *folded = g_malloc (strlen (text) + 1), *to = folded;
    for (const char *p = text; *p; p++)
      if (g_ascii_isalnum (*p))
        *to++ = g_ascii_tolower (*p);
    *to = '\0';
    return folded;
  }
  g_autofree char *valid = g_utf8_make_valid (text, -1), *lower = g_utf8_casefold (valid, -1);
  GString *out = g_string_new (NULL);
  for (const char *p = lower; *p; p = g_utf8_next_char (p))
    if (g_unichar_isalnum (g_utf8_get_char (p)))
      g_string_append_unichar (out, g_utf8_get_char (p));
  return g_string_free (out, FALSE);
}

/* Of two texts one after the other. (transfer full) */
static char *
fold (const char *first, const char *second)
{
  g_autofree char *both = g_strconcat (first, second, NULL);
  return sp_proposal_fold (both);
}

static void
learn (GHashTable *names, char *folded, guint place)
{
  if (g_hash_table_contains (names, folded))
    g_free (folded);
  else
    g_hash_table_insert (names, folded, GUINT_TO_POINTER (place + 1));
}

SpKnownNames *
sp_known_names_new (const SpBench *bench)
{
  SpKnownNames *known = g_new (SpKnownNames, 1);
  *known = (SpKnownNames){ bench, g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL),
                           g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL) };
  for (guint i = 0; i < bench->n_radios; i++)
    learn (known->radios, sp_proposal_fold (bench->radios[i].name), i);
  for (guint i = 0; i < bench->n_conditions; i++)
    learn (known->wholes, fold (bench->radios[bench->conditions[i].radio].name, bench->conditions[i].name), i);
  return known;
}

void
sp_known_names_free (SpKnownNames *known)
{
  g_hash_table_unref (known->radios);
  g_hash_table_unref (known->wholes);
  g_free (known);
}

/* The place, G_MAXUINT: none. */
static guint
find (GHashTable *names, const char *folded)
{
  return GPOINTER_TO_UINT (g_hash_table_lookup (names, folded)) - 1;
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

/* The one condition of a radio whose name begins so, as "2m" does "2 m high"; NULL: none does, or several. */
static const SpCondition *
condition_that_begins (const SpBench *bench, guint radio, const char *condition)
{
  const SpCondition *one = NULL;
  g_autofree char *wanted = sp_proposal_fold (condition);
  for (guint i = 0; *wanted && i < bench->n_conditions; i++) {
    if (bench->conditions[i].radio != radio)
      continue;
    g_autofree char *name = sp_proposal_fold (bench->conditions[i].name);
    if (!g_str_has_prefix (name, wanted) || g_ascii_isdigit (name[strlen (wanted)]))
      continue;
    if (one)
      return NULL;
    one = &bench->conditions[i];
  }
  return one;
}

void
sp_known_names_aim (const SpKnownNames *known, SpProposal *proposal)
{
  const SpBench *bench = known->bench;
  g_autofree char *whole = fold (proposal->radio, proposal->condition), *alone = sp_proposal_fold (proposal->radio);
  if (*whole == '\0')
    return;
  guint condition = find (known->wholes, whole);
  if (condition != G_MAXUINT) {
    sp_proposal_aim (proposal, bench->radios[bench->conditions[condition].radio].name, bench->conditions[condition].name);
    return;
  }
  guint both = find (known->radios, whole), radio = MIN (both, find (known->radios, alone));
  if (radio == G_MAXUINT)
    return;
  gboolean nothing_more = radio == both; /* "shelf-two" is the radio "Shelf two" */
  const SpCondition *only = nothing_more ? only_condition (bench, radio) : condition_that_begins (bench, radio, proposal->condition);
  sp_proposal_aim (proposal, bench->radios[radio].name, only ? only->name : nothing_more ? "" : proposal->condition);
}

void
sp_propose_known (const SpBench *bench, SpProposal *proposal)
{
  SpKnownNames *known = sp_known_names_new (bench);
  sp_known_names_aim (known, proposal);
  sp_known_names_free (known);
}
