/* plan-inputs.h - from a judged condition to its plan: what another sweep would find there
 */
#pragma once

#include "core/judge/findings.h"

/* What is planned for a condition that was judged as far as P and its fundamental (else the rated power, and the frequency of the sheet), through a
 * chain: the condition's or a sweep's own. Borrows; power_w and fundamental_hz NaN where nobody knows them. */
SpTask sp_condition_task (const SpBench *bench, const SpConditionFindings *c, const SpChain *chain);

/* Do steps of attenuation show that some or all of it is the analyzer's own? */
gboolean sp_emission_shows_product (const SpEmission *e);
/* What they show, for the plan at the emission's place; `today`: the setting of its own sweep. */
void sp_plan_take_steps (SpPlan *plan, const SpEmission *e, const SpSetting *today);

/* The plan of a condition: P and the fundamental as they were found, else the rated power and the frequency that the sheet states; in each harmonic that
 * was swept the noise and the U that judging found, instead of the profile's. `*today`: the first keyed sweep that is judged, whose chain the plan takes;
 * where nothing was keyed yet, or the sweep does not say its RBW or attenuation, what the plan advises stands there (sp_plan_setting), and `*advised` is
 * TRUE (may be NULL).
 * NULL where neither P nor the fundamental is known, or with a condition that is not there. (transfer full) */
SpPlan *sp_findings_plan (const SpFindings *findings, guint condition, SpSetting *today, gboolean *advised);
