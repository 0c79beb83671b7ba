/* order.h - the order in which conditions are listed */
#pragma once

#include "core/compare/waveband.h"
#include "core/findings/findings.h"

typedef enum { SP_ORDER_BENCH, SP_ORDER_WORST, SP_ORDER_NAME } SpOrder;

/* order[k]: the condition in row k; of findings->n: as in the bench, the worst first, or by name. `by_waveband`: those of one waveband stand
 * together, the wavebands by ascending frequency, an unknown carrier last. */
void sp_compare_order (const SpFindings *findings, SpOrder by, gboolean by_waveband, guint *order);

const SpWaveband *sp_compare_waveband (const SpFindings *findings, guint condition); /* NULL: no carrier is known */
guint sp_compare_n_wavebands (const SpFindings *findings); /* that conditions are in; without a carrier: one more */

/* TRUE if the sweeps of each condition that has any reach over SP_WIDE_RATIO or more: two decades are read better on a logarithmic axis. */
#define SP_WIDE_RATIO 100.0 /* common practice, no source */
gboolean sp_compare_is_wide (const SpFindings *findings);

/* Where the worse verdict is, then the less room. */
gboolean sp_compare_is_worse (const SpConditionFindings *a, const SpConditionFindings *b);
