/* words-band.c - words for the kind of an emission, the bounds of its figure, and the reason of a gap */
#include "ui/words/words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

const char *
sp_words_kind (SpEmissionKind kind)
{
  return kind == SP_KIND_MODULATED ? _ ("modulated") : kind == SP_KIND_NOISE ? _ ("like noise") : _ ("a line");
}

const char *
sp_words_bound (const SpEmission *emission)
{
  gboolean upper = emission->excess_db > 0, lower = emission->detected && emission->sampling_loss_db > 0;
  return upper && lower ? _ ("between bounds") : upper ? _ ("an upper bound") : lower ? _ ("a lower bound") : "";
}

char *
sp_words_band (const SpEmission *emission, SpHand hand)
{
  if (!emission->detected || !(emission->to_hz > emission->from_hz))
    return NULL;
  g_autofree char *from = sp_words_frequency (emission->from_hz, 0, hand), *to = sp_words_frequency (emission->to_hz, 0, hand);
  g_autofree char *reference = sp_words_frequency (emission->reference_bandwidth_hz, 0, hand);
  const char *kind = sp_words_kind (emission->kind);
  if (!emission->summed)
    return g_strdup_printf (_ ("%s, %s to %s: the greatest reading stands, as these readings cannot be added up."), kind, from, to);
  if (isnan (emission->reference_bandwidth_hz))
    return g_strdup_printf (_ ("%s, %s to %s: the level is its whole power, added up."), kind, from, to);
  return g_strdup_printf (_ ("%s, %s to %s: the level is the most that it holds in %s."), kind, from, to, reference);
}

const char *
sp_words_gap_why (SpReasonCode why)
{
  switch (why) {
  case SP_REASON_NOT_SWEPT: return _ ("not swept");
  case SP_REASON_UNDERSAMPLED: return _ ("points too far apart");
  case SP_REASON_NO_POWER: return _ ("the limit is not known");
  case SP_REASON_TOO_WIDE: return _ ("hidden by the carrier: RBW or points too wide");
  case SP_REASON_ZERO_HERTZ: return _ ("hidden by the analyzer's response at zero hertz: RBW too wide");
  case SP_REASON_OUTSIDE_CALIBRATION: return _ ("outside calibration: the chain's loss is not known there");
  case SP_REASON_TRACE_ABOVE_LIMIT: return _ ("the trace itself stands above the limit");
  default: return _ ("the floor lies above the limit");
  }
}

char *
sp_words_gap (const SpGap *gap, SpHand hand)
{
  const char *why = sp_words_gap_why (gap->why);
  g_autofree char *floor = sp_words_level (gap->floor_dbm, 1, hand), *limit = sp_words_level (gap->limit_dbm, 1, hand);
  g_autofree char *guard = sp_words_number (gap->guard_db, 1, hand), *short_by = sp_words_number (sp_gap_missing_db (gap), 1, hand);
  if (gap->why == SP_REASON_TRACE_ABOVE_LIMIT)
    return g_strdup_printf (_ ("%s: up to %s for a limit of %s"), why, floor, limit);
  if (gap->why == SP_REASON_FLOOR_ABOVE_LIMIT)
    return g_strdup_printf (
        _ ("%s: only what is above %s would have been seen, and with a U of %s dB, that is %s dB short of the limit of %s"), why, floor,
        guard, short_by, limit);
  return g_strdup (why);
}

char *
sp_words_not_shown (const SpConditionFindings *found, SpHand hand)
{
  if (found->n_gaps == 0)
    return NULL;
  const SpGap *gap = &found->gaps[0];
  g_autofree char *from = sp_words_frequency (gap->from_hz, 0, hand), *to = sp_words_frequency (gap->to_hz, 0, hand),
                  *why = sp_words_gap (gap, hand);
  guint more = found->n_gaps - 1;
  g_autofree char *also = more ? g_strdup_printf (ngettext (" And %u stretch more.", " And %u stretches more.", more), more) : NULL;
  return g_strdup_printf (_ ("Not shown from %s to %s: %s.%s"), from, to, why, also ? also : "");
}

char *
sp_words_occupied (const SpConditionFindings *found, SpHand hand)
{
  if (isnan (found->occupied_hz))
    return NULL;
  g_autofree char *width = sp_words_frequency (found->occupied_hz, 0, hand);
  return found->occupied_by_filter ? g_strdup_printf (_ ("at most %s"), width) : g_steal_pointer (&width);
}
