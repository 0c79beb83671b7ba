/* plan-inputs.h - builds the plan of a judged condition: the expected result of another sweep */
#pragma once

#include "core/findings/findings.h"

/* The planning task of a condition, through the condition's chain or a sweep's own. Uses the judged P and fundamental, else the rated
 * power and the sheet's frequency; power_w and fundamental_hz are NaN if neither is known. Borrows its arguments. */
SpTask sp_condition_task (const SpBench *bench, const SpConditionFindings *c, const SpChain *chain);

/* TRUE if attenuation steps show that the emission is partly or wholly an analyzer product. */
gboolean sp_emission_shows_product (const SpEmission *e);
/* Puts the step test's result into the plan at the emission's frequency; `today` is the setting of the emission's sweep. */
void sp_plan_take_steps (SpPlan *plan, const SpEmission *e, const SpSetting *today);

/* The plan of a condition, with the P and fundamental found, else the rated power and the sheet's frequency. At each swept harmonic
 * the measured noise and U replace the profile's, and the carrier's level at the mixer is that of today's sweep.
 * `*today`: the first judged keyed sweep, whose chain the plan takes. If nothing was keyed, or RBW or attenuation is unknown, it holds
 * the plan's advice (sp_plan_setting) and `*advised` (may be NULL) is TRUE.
 * NULL if P or the fundamental is not known, or there is no such condition. (transfer full) */
SpPlan *sp_findings_plan (const SpFindings *findings, guint condition, SpSetting *today, gboolean *advised);
