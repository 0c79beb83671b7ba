/* build.h - how a bench is put together, before it is a value: for the folders that read and edit one */
#pragma once

#include "core/bench/bench.h"

/* radios and conditions a bench may hold: a club's season, and names are looked up one by one; bounds time */
#define SP_CONDITIONS_MAX 1000

/* A bench with nothing in it but room for `n` radios and conditions (all NaN, NULL, defaults). (transfer full) */
SpBench *sp_bench_new (guint n);
/* The next one of each, set to its defaults; the name is taken over. */
SpRadio *sp_bench_add_radio (SpBench *bench, char *name);
SpCondition *sp_bench_add_condition (SpBench *bench, guint radio, char *name);
/* Takes trace and chain (may be NULL) over. */
void sp_condition_add_sweep (SpCondition *condition, SpPurpose purpose, SpTrace *trace, SpChain *chain, double step_db);
void sp_radio_clear (SpRadio *radio);
void sp_condition_clear (SpCondition *condition);
void sp_radio_copy (SpRadio *to, const SpRadio *from);
void sp_condition_copy (SpCondition *to, const SpCondition *from);
/* A copy that shares all resources, with room for `more` radios and conditions; to be changed, then finished (core/bench/sheet/write.h). (transfer full) */
SpBench *sp_bench_copy (const SpBench *bench, guint more);
/* The warnings of everything in it, into its own. */
void sp_bench_collect_warnings (SpBench *bench);
/* What a chain, NULL or not, has to say on this bench: its own warnings, and the age of its calibrations. */
void sp_bench_warn_chain (const SpBench *bench, const SpChain *chain);
/* Likewise an analyzer, with the age of its check. */
void sp_bench_warn_analyzer (const SpBench *bench, const SpAnalyzer *analyzer);
