/* radio-move.c - conditions change their places in the list */
#include "ui/window/pages/radio-move.h"

#include <glib/gi18n-lib.h>

#include "core/bench/edit/edit.h"
#include "core/compare/order.h"

/* The findings are of the bench that is edited. */
static gboolean
is_settled (SpSession *session)
{
  SpFindings *findings = sp_session_findings (session);
  return findings && !sp_session_judging (session) && findings->n == sp_session_bench (session)->n_conditions;
}

static gboolean
share_a_band (SpSession *session, guint a, guint b)
{
  SpFindings *findings = sp_session_findings (session);
  return !sp_session_by_band (session) || sp_compare_n_wavebands (findings) < 2
         || sp_compare_waveband (findings, a) == sp_compare_waveband (findings, b);
}

gboolean
sp_radio_may_move (SpSession *session, guint from, guint to)
{
  guint n = sp_session_bench (session)->n_conditions;
  return from != to && from < n && to < n && is_settled (session) && share_a_band (session, from, to);
}

void
sp_radio_move (SpSession *session, guint from, guint to)
{
  const SpBench *bench = sp_session_bench (session);
  g_return_if_fail (from < bench->n_conditions && to < bench->n_conditions);
  g_autofree char *name = sp_condition_name (bench, &bench->conditions[from]), *label = g_strdup_printf (_ ("Move %s"), name);
  sp_session_edit (session, sp_bench_move_condition (bench, from, to), label, NULL);
  sp_session_choose (session, to, SP_DECIDING_EMISSION);
  sp_session_set_order (session, SP_ORDER_BENCH);
}

/* Whose row is the next one; in the book where none is seen there. -1: nobody's. */
static int
neighbour (SpSession *session, guint condition, int by)
{
  guint n = sp_session_bench (session)->n_conditions;
  const guint *row = is_settled (session) && sp_session_order (session) == SP_ORDER_BENCH ? sp_session_rows (session) : NULL;
  for (guint i = 0; row && i < n; i++)
    if ((int) row[i] == (int) row[condition] + by && share_a_band (session, i, condition))
      return (int) i;
  int next = (int) condition + by;
  return next >= 0 && next < (int) n ? next : -1;
}

void
sp_radio_move_chosen (SpSession *session, int by)
{
  guint from = sp_session_condition (session);
  int to = from < sp_session_bench (session)->n_conditions ? neighbour (session, from, by) : -1;
  if (to >= 0)
    sp_radio_move (session, from, (guint) to);
}
