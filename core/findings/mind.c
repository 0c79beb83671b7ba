/* mind.c - warnings gathered by kind and ordered by weight */
#include "core/findings/mind.h"

gboolean
sp_reason_weighs (SpReasonCode code)
{
  switch (code) {
  case SP_REASON_LABEL_USED:
  case SP_REASON_NOT_CALIBRATED:
  case SP_REASON_CALIBRATION_OLD:
  case SP_REASON_CALIBRATION_LATER:
  case SP_REASON_AGES_UNCHECKED:
  case SP_REASON_STEP_UNKNOWN:
  case SP_REASON_RBW_UNKNOWN:
  case SP_REASON_DETECTOR_UNKNOWN:
  case SP_REASON_ATTENUATION_UNKNOWN:
  case SP_REASON_UNDERSAMPLED:
  case SP_REASON_CARRIER_UNDERSAMPLED:
  case SP_REASON_CLIPPED:
  case SP_REASON_OUTSIDE_CALIBRATION:
  case SP_REASON_METER_DISAGREES:
  case SP_REASON_OVERLOAD:
  case SP_REASON_UNSAFE:
  case SP_REASON_SWEEP_NOT_USED:
  case SP_REASON_STEPS_CONTRADICT:
  case SP_REASON_WORSE_THAN_PROFILE:
  case SP_REASON_COMPRESSION:
  case SP_REASON_STEP_CARRIER:
  case SP_REASON_STEP_UNCHECKED:
  case SP_REASON_STEP_NOISE:
  case SP_REASON_STEP_PAD:
  case SP_REASON_STEP_SPAN:
  case SP_REASON_STEP_SMALL:
  case SP_REASON_STEP_FLOOR:
  case SP_REASON_SAME_EXPORT:
  case SP_REASON_SWEEPS_DISAGREE:
  case SP_REASON_UNKEYED_SPAN:
  case SP_REASON_UNKEYED_FLOOR:
  case SP_REASON_UNKEYED_CARRIER:
  case SP_REASON_NOISE_RISES:
  case SP_REASON_ODD_RASTER:
  case SP_REASON_SPURS_CUT:
  case SP_REASON_SUM_DETECTOR:
  case SP_REASON_POWER_CLASS:
  case SP_REASON_NO_FUNDAMENTAL:
  case SP_REASON_FUNDAMENTAL_NEAR_ZERO:
  case SP_REASON_FUNDAMENTAL_ELSEWHERE:
  case SP_REASON_LINE_BESIDE:
  case SP_REASON_CARRIERS_DIFFER:
  case SP_REASON_ASSUMED_DECIDES:
  case SP_REASON_CLASSES_NONE: return TRUE;
  default: return FALSE;
  }
}

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
