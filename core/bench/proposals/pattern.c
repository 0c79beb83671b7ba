/* pattern.c - what a pattern tells of a file's name: literal text, fields, and parts in [brackets] that may lack */
#include "core/bench/proposals/proposals-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "core/quantity/error.h"

#define TRIES_MOST 20000      /* bounds time: a name that takes more fits badly */
#define PLACES_MOST (1 << 18) /* bounds memory: so long a pattern fits badly */

static const char *const field_names[] = { "radio", "condition", "purpose", "any", NULL };
enum { RADIO, CONDITION, PURPOSE, ANY, N_FIELDS };

typedef struct {
  const char *fields[N_FIELDS]; /* where each begins in the name; NULL: it lacks */
  gsize lengths[N_FIELDS];
  guint tries;
  const char *pattern, *stem, *literal; /* `literal`: the pattern without its fields */
  gsize width;                          /* places of the name */
  guint8 *failed;                       /* by place in the pattern, then in the name: from there on it does not fit */
} Match;

/* The field that begins at p, and what follows it; -1: none does. */
static int
field_at (const char *p, const char **after)
{
  for (int i = 0; field_names[i]; i++) {
    gsize length = strlen (field_names[i]);
    if (strncmp (p + 1, field_names[i], length) == 0 && p[1 + length] == '}') {
      *after = p + length + 2;
      return i;
    }
  }
  return -1;
}

/* A word of a purpose is none of a condition, so that [-{condition}][-{purpose}] tells them apart. */
static gboolean
may_be (int field, const char *from, gsize length)
{
  g_autofree char *value = g_strstrip (g_strndup (from, length));
  SpProposal ignored = { 0 };
  if (!*value || field == RADIO || field == ANY)
    return *value != '\0';
  return sp_proposal_take_purpose (value, &ignored) == (field == PURPOSE);
}

static gboolean match (const char *p, const char *at, Match *m);

static gboolean
match_field (const char *p, const char *at, Match *m)
{
  const char *after;
  int field = field_at (p, &after);
  gsize most = field >= 0 ? strlen (at) : 0;
  for (gsize length = 1; length <= most; length++) {
    const char *before = m->fields[field];
    gsize before_length = m->lengths[field];
    gboolean ends = at[length] == '\0' || strchr (m->literal, at[length]); /* behind a field stands such text */
    if (!ends || !may_be (field, at, length))
      continue;
    m->fields[field] = at;
    m->lengths[field] = length;
    if (match (after, at + length, m))
      return TRUE;
    m->fields[field] = before;
    m->lengths[field] = before_length;
  }
  return FALSE;
}

static gboolean
match_here (const char *p, const char *at, Match *m)
{
  switch (*p) {
  case '\0': return *at == '\0';
  case '{': return match_field (p, at, m);
  case '[': return match (p + 1, at, m) || match (strchr (p, ']') + 1, at, m);
  case ']': return match (p + 1, at, m);
  default: return *p == *at && match (p + 1, at + 1, m);
  }
}

/* The shortest text for each field, from the left; an optional part where it can be. */
static gboolean
match (const char *p, const char *at, Match *m)
{
  guint8 *failed = &m->failed[(gsize) (p - m->pattern) * m->width + (gsize) (at - m->stem)];
  if (*failed || m->tries++ > TRIES_MOST)
    return FALSE;
  if (match_here (p, at, m))
    return TRUE;
  *failed = TRUE;
  return FALSE;
}

/* (transfer full) */
static char *
literal_of (const char *pattern)
{
  GString *literal = g_string_new (NULL);
  for (const char *p = pattern, *after; *p; p = after) {
    after = p + 1;
    if (*p != '{' || field_at (p, &after) < 0)
      g_string_append_c (literal, *p);
  }
  return g_string_free (literal, FALSE);
}

gboolean
sp_pattern_take (const char *stem, const char *pattern, SpProposal *out)
{
  Match m = { .pattern = pattern, .stem = stem, .width = strlen (stem) + 1 };
  gsize height = strlen (pattern) + 1;
  if (height > PLACES_MOST / m.width || !sp_propose_check_pattern (pattern, NULL))
    return FALSE;
  g_autofree char *literal = literal_of (pattern);
  m.literal = literal;
  g_autofree guint8 *failed = m.failed = g_new0 (guint8, height * m.width);
  if (!match (pattern, stem, &m))
    return FALSE;
  g_autofree char *radio = g_strstrip (g_strndup (m.fields[RADIO], m.lengths[RADIO]));
  g_autofree char *condition = m.fields[CONDITION] ? g_strstrip (g_strndup (m.fields[CONDITION], m.lengths[CONDITION])) : g_strdup ("");
  g_autofree char *named = sp_proposal_capital (radio),
                  *purpose = m.fields[PURPOSE] ? g_strstrip (g_strndup (m.fields[PURPOSE], m.lengths[PURPOSE])) : NULL;
  sp_proposal_aim (out, named, condition);
  if (purpose)
    sp_proposal_take_purpose (purpose, out);
  return TRUE;
}

/* Fields that touch, with the optional parts there, or without them. */
static gboolean
check_touching (const char *pattern, gboolean with, GError **error)
{
  gboolean field = FALSE, inside = FALSE;
  for (const char *p = pattern, *after; *p; p = after) {
    after = p + 1;
    inside = *p == '[' || (inside && *p != ']');
    if (*p == '[' || *p == ']' || (inside && !with))
      continue;
    gboolean is_field = *p == '{' && field_at (p, &after) >= 0;
    if (field && is_field)
      return sp_fail (error, SP_ERROR_USAGE,
                      _ ("“%.*s” and what stands before it touch; expected something between them, as in {radio}-{condition}"),
                      (int) (after - p), p);
    field = is_field;
  }
  return TRUE;
}

/* Fields that are known, each once but {any}; brackets that close, none in another. */
static gboolean
check_parts (const char *pattern, gboolean *radio, GError **error)
{
  gboolean seen[N_FIELDS] = { FALSE }, inside = FALSE;
  for (const char *p = pattern, *after; *p; p = after) {
    after = p + 1;
    int field = *p == '{' ? field_at (p, &after) : ANY;
    const char *close = strchr (p, '}');
    if (field < 0)
      return sp_fail (error, SP_ERROR_USAGE, _ ("“%.*s”: expected {radio}, {condition}, {purpose} or {any}"),
                      close ? (int) (close - p - 1) : (int) strlen (p), close ? p + 1 : p);
    if (field != ANY && seen[field])
      return sp_fail (error, SP_ERROR_USAGE, _ ("{%s} stands there twice; expected it once"), field_names[field]);
    if ((*p == '[' && (inside || !strchr (p, ']'))) || (*p == ']' && !inside))
      return sp_fail (error, SP_ERROR_USAGE, _ ("“%s”: expected [ and ] about each part that may lack, none within another"), p);
    seen[field] = TRUE;
    inside = *p == '[' || (inside && *p != ']');
    *radio |= field == RADIO && !inside;
  }
  return TRUE;
}

gboolean
sp_propose_check_pattern (const char *pattern, GError **error)
{
  gboolean radio = FALSE;
  if (!check_parts (pattern, &radio, error) || !check_touching (pattern, TRUE, error) || !check_touching (pattern, FALSE, error))
    return FALSE;
  return radio || *pattern == '\0'
         || sp_fail (error, SP_ERROR_USAGE, _ ("no {radio} in the pattern; expected one, as in {radio}[-{condition}][-{purpose}]"));
}
