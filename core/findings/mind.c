/* mind.c - warnings gathered by kind and ordered by weight */
#include "core/findings/mind.h"

static gboolean
is_shared (const SpFindings *findings, const SpReason *reason)
{
  for (guint i = 0; i < findings->n; i++) {
    GPtrArray *warnings = findings->conditions[i].warnings;
    guint k = 0;
    while (k < warnings->len && !sp_reason_equal (g_ptr_array_index (warnings, k), reason))
      k++;
    if (k == warnings->len)
      return FALSE;
  }
  return findings->n > 1;
}

static void
gather (GArray *minds, const SpReason *reason)
{
  for (guint i = 0; i < minds->len; i++) {
    SpMind *mind = &g_array_index (minds, SpMind, i);
    if (mind->reason->code == reason->code) {
      mind->n++;
      return;
    }
  }
  SpMind mind = { reason, 1, sp_reason_weighs (reason->code) };
  g_array_append_val (minds, mind);
}

/* Of a condition's warnings those that all share, or those that they do not. */
static void
gather_of (GArray *minds, const SpFindings *findings, guint condition, gboolean shared)
{
  GPtrArray *warnings = findings->conditions[condition].warnings;
  for (guint k = 0; k < warnings->len; k++) {
    const SpReason *reason = g_ptr_array_index (warnings, k);
    if (is_shared (findings, reason) == shared)
      gather (minds, reason);
  }
}

static GArray *
weighty_first (GArray *minds)
{
  GArray *ordered = g_array_sized_new (FALSE, FALSE, sizeof (SpMind), minds->len);
  for (int pass = 1; pass >= 0; pass--)
    for (guint i = 0; i < minds->len; i++)
      if (g_array_index (minds, SpMind, i).weighs == pass)
        g_array_append_val (ordered, g_array_index (minds, SpMind, i));
  g_array_unref (minds);
  return ordered;
}

GArray *
sp_findings_mind (const SpFindings *findings, guint condition)
{
  GArray *minds = g_array_new (FALSE, FALSE, sizeof (SpMind));
  if (condition != SP_MIND_BENCH) {
    gather_of (minds, findings, condition, FALSE);
    return weighty_first (minds);
  }
  if (findings->n > 0)
    gather_of (minds, findings, 0, TRUE);
  for (guint k = 0; k < findings->warnings->len; k++)
    gather (minds, g_ptr_array_index (findings->warnings, k));
  return weighty_first (minds);
}
