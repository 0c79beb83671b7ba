/* moves.c - finds the changes between two judgings */
#include "core/compare/compare-private.h"

#include <math.h>
#include <string.h>

static SpVerdictThen
verdict_of (const SpEmission *emission)
{
  return emission ? (SpVerdictThen){ TRUE, emission->verdict } : (SpVerdictThen){ FALSE, SP_VERDICT_NO_LIMIT };
}

static double
expanded_of (const SpEmission *emission)
{
  if (!emission)
    return NAN;
  return isnan (emission->margin_db) ? sp_emission_level_expanded_db (emission) : sp_emission_margin_expanded_db (emission);
}

#define SHOWS_DB 0.005 /* less is told as 0.00 dB: no move; calculated, half of the last digit */

static gboolean
is_equal (double a, double b)
{
  return a == b || fabs (a - b) < SHOWS_DB || (isnan (a) && isnan (b));
}

static gboolean
is_same (const SpEmission *a, const SpEmission *b, double within_hz)
{
  return a->order == b->order && (a->order > 0 || fabs (a->frequency_hz - b->frequency_hz) <= within_hz);
}

/* The matching emission that is not matched yet, the nearest of several; -1. */
static int
find_same (const SpEmission *emission, const SpConditionFindings *among, const gboolean *taken)
{
  int best = -1;
  for (guint i = 0; i < among->n_emissions; i++) {
    const SpEmission *other = &among->emissions[i];
    if (taken[i] || !is_same (emission, other, among->necessary_bandwidth_hz))
      continue;
    if (best < 0
        || fabs (other->frequency_hz - emission->frequency_hz) < fabs (among->emissions[best].frequency_hz - emission->frequency_hz))
      best = (int) i;
  }
  return best;
}

static void
add_move (GArray *moved, const char *name, const SpEmission *before, const SpEmission *after)
{
  const SpEmission *now = after ? after : before;
  SpMove move = { NULL,
                  now->order,
                  now->frequency_hz,
                  NAN,
                  NAN,
                  NAN,
                  expanded_of (before),
                  expanded_of (after),
                  verdict_of (before),
                  verdict_of (after),
                  before && after && before->verdict != after->verdict,
                  FALSE,
                  -1 };
  if (before && after) {
    move.level_change_db = after->level_dbm - before->level_dbm;
    move.limit_change_db = after->limit_dbm - before->limit_dbm;
    move.margin_change_db = after->margin_db - before->margin_db;
    if (is_equal (before->level_dbm, after->level_dbm) && is_equal (move.expanded_before_db, move.expanded_after_db)
        && is_equal (before->limit_dbm, after->limit_dbm) && !move.flips)
      return;
  }
  move.name = g_strdup (name);
  g_array_append_val (moved, move);
}

static void
compare_emissions (GArray *moved, const SpConditionFindings *before, const SpConditionFindings *after)
{
  g_autofree gboolean *taken = g_new0 (gboolean, after->n_emissions + 1);
  for (guint i = 0; i < before->n_emissions; i++) {
    int same = find_same (&before->emissions[i], after, taken);
    if (same >= 0)
      taken[same] = TRUE;
    add_move (moved, before->name, &before->emissions[i], same >= 0 ? &after->emissions[same] : NULL);
  }
  for (guint i = 0; i < after->n_emissions; i++)
    if (!taken[i])
      add_move (moved, after->name, NULL, &after->emissions[i]);
}

static const SpConditionFindings *
find_condition (const SpFindings *among, const char *name)
{
  for (guint i = 0; i < among->n; i++)
    if (strcmp (among->conditions[i].name, name) == 0)
      return &among->conditions[i];
  return NULL;
}

static const SpChain *
chain_of (const SpFindings *findings, const SpConditionFindings *condition)
{
  return condition ? sp_condition_chain (findings->bench, &findings->bench->conditions[condition->condition]) : NULL;
}

static void
put_chains (SpConditionMove *move, const SpChain *before, const SpChain *after)
{
  move->chain_before = before ? g_strdup (before->name) : NULL;
  move->chain_after = after ? g_strdup (after->name) : NULL;
  move->chain_before_sha256 = before ? g_strdup (before->sha256) : NULL;
  move->chain_after_sha256 = after ? g_strdup (after->sha256) : NULL;
}

static void
add_condition (GArray *conditions, const SpFindings *of_before, const SpConditionFindings *before, const SpFindings *of_after,
               const SpConditionFindings *after)
{
  SpConditionMove move = { g_strdup ((before ? before : after)->name),
                           NAN,
                           NAN,
                           { before != NULL, before ? before->verdict : SP_VERDICT_NO_LIMIT },
                           { after != NULL, after ? after->verdict : SP_VERDICT_NO_LIMIT },
                           before && after && before->verdict != after->verdict,
                           FALSE };
  put_chains (&move, chain_of (of_before, before), chain_of (of_after, after));
  if (before && after) {
    move.power_change_db = after->power_dbm - before->power_dbm;
    move.worst_margin_change_db = after->worst_margin_db - before->worst_margin_db;
  }
  g_array_append_val (conditions, move);
}

SpMoves *
sp_compare_moves (const SpFindings *before, const SpFindings *after)
{
  GArray *moved = g_array_new (FALSE, FALSE, sizeof (SpMove)), *conditions = g_array_new (FALSE, FALSE, sizeof (SpConditionMove));
  for (guint i = 0; i < before->n; i++) {
    const SpConditionFindings *then = &before->conditions[i], *now = find_condition (after, then->name);
    add_condition (conditions, before, then, after, now);
    if (now)
      compare_emissions (moved, then, now);
  }
  for (guint i = 0; i < after->n; i++)
    if (!find_condition (before, after->conditions[i].name))
      add_condition (conditions, before, NULL, after, &after->conditions[i]);
  SpMoves *moves = g_new0 (SpMoves, 1);
  moves->n_moved = moved->len;
  moves->n_conditions = conditions->len;
  moves->moved = (SpMove *) (void *) g_array_free (moved, FALSE);
  moves->conditions = (SpConditionMove *) (void *) g_array_free (conditions, FALSE);
  for (guint i = 0; i < moves->n_moved; i++)
    moves->n_flips += moves->moved[i].flips;
  for (guint i = 0; i < moves->n_conditions; i++)
    moves->n_condition_flips += moves->conditions[i].flips;
  sp_moves_tell_apart (moves);
  return moves;
}

void
sp_moves_free (SpMoves *moves)
{
  if (!moves)
    return;
  for (guint i = 0; i < moves->n_moved; i++)
    g_free (moves->moved[i].name);
  for (guint i = 0; i < moves->n_conditions; i++) {
    SpConditionMove *move = &moves->conditions[i];
    g_free (move->name);
    g_free (move->chain_before);
    g_free (move->chain_after);
    g_free (move->chain_before_sha256);
    g_free (move->chain_after_sha256);
  }
  g_free (moves->moved);
  g_free (moves->conditions);
  g_free (moves->alike);
  g_free (moves);
}
