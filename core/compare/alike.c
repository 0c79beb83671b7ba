/* alike.c - groups equal moves, so that a table need not list each */
#include "core/compare/compare-private.h"

#include <math.h>

static gboolean
is_notable (const SpMove *move)
{
  double change = isnan (move->margin_change_db) ? move->level_change_db : move->margin_change_db;
  double u = fmax (move->expanded_before_db, move->expanded_after_db); /* fmax() ignores a NaN */
  return move->flips || !move->before.there || !move->after.there || fabs (change) > u;
}

static double
u_change_db (const SpMove *move)
{
  return move->expanded_after_db - move->expanded_before_db;
}

/* Adds `x` to the span if it stays within SP_ALIKE_DB; NaN only groups with NaN. */
static gboolean
fits (SpSpan *span, double x)
{
  if (isnan (x) || isnan (span->low_db))
    return isnan (x) && isnan (span->low_db);
  *span = (SpSpan){ fmin (span->low_db, x), fmax (span->high_db, x) };
  return span->high_db - span->low_db <= SP_ALIKE_DB;
}

static gboolean
join (SpAlike *group, const SpMove *move)
{
  SpAlike wider = *group;
  if (!fits (&wider.level, move->level_change_db) || !fits (&wider.limit, move->limit_change_db)
      || !fits (&wider.margin, move->margin_change_db) || !fits (&wider.u, u_change_db (move)))
    return FALSE;
  wider.n++;
  *group = wider;
  return TRUE;
}

static int
group_of (GArray *groups, const SpMove *move)
{
  for (guint k = 0; k < groups->len; k++)
    if (join (&g_array_index (groups, SpAlike, k), move))
      return (int) k;
  SpAlike begun = { 1,
                    { move->level_change_db, move->level_change_db },
                    { move->limit_change_db, move->limit_change_db },
                    { move->margin_change_db, move->margin_change_db },
                    { u_change_db (move), u_change_db (move) } };
  g_array_append_val (groups, begun);
  return (int) groups->len - 1;
}

/* Dissolves groups that are too small to save a line. */
static void
drop_small (SpMoves *moves, GArray *groups)
{
  g_autofree int *place = g_new (int, groups->len + 1);
  GArray *kept = g_array_new (FALSE, FALSE, sizeof (SpAlike));
  for (guint k = 0; k < groups->len; k++) {
    const SpAlike *group = &g_array_index (groups, SpAlike, k);
    place[k] = group->n >= SP_ALIKE_LEAST ? (int) kept->len : -1;
    if (place[k] >= 0)
      g_array_append_vals (kept, group, 1);
  }
  for (guint i = 0; i < moves->n_moved; i++)
    moves->moved[i].alike = moves->moved[i].alike < 0 ? -1 : place[moves->moved[i].alike];
  moves->n_alike = kept->len;
  moves->alike = (SpAlike *) (void *) g_array_free (kept, FALSE);
}

static void
mark_conditions (SpMoves *moves)
{
  for (guint i = 0; i < moves->n_conditions; i++) {
    SpConditionMove *c = &moves->conditions[i];
    c->notable = c->flips || !c->before.there || !c->after.there;
    for (guint j = 0; j < moves->n_moved && !c->notable; j++)
      c->notable = moves->moved[j].notable && g_strcmp0 (moves->moved[j].name, c->name) == 0;
  }
}

void
sp_moves_tell_apart (SpMoves *moves)
{
  g_autoptr (GArray) groups = g_array_new (FALSE, FALSE, sizeof (SpAlike));
  for (guint i = 0; i < moves->n_moved; i++) {
    SpMove *move = &moves->moved[i];
    move->notable = is_notable (move);
    move->alike = move->notable ? -1 : group_of (groups, move);
    moves->n_notable += move->notable;
  }
  drop_small (moves, groups);
  mark_conditions (moves);
}

gboolean
sp_move_is_shown (const SpMove *move, SpMovesShown shown)
{
  return shown == SP_MOVES_EACH || (shown == SP_MOVES_NOTABLE ? move->notable : move->alike < 0);
}
