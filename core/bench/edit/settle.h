/* settle.h - a copy of a bench that was changed becomes a bench, by its sheet's own rules: for edits and proposals */
#pragma once

#include "core/bench/build.h"

/* Takes a changed copy (sp_bench_copy); gives the bench that its sheet reads as, or the reader's error. (transfer full) */
SpBench *sp_bench_settle (SpBench *changed, GError **error);
/* A new condition of a copy, behind its radio's others; takes `name`. (transfer none) */
SpCondition *sp_bench_add_condition_behind (SpBench *copy, guint radio, char *name);
/* The condition's sweeps of that purpose all get `chain` (NULL: none is said, what is there stays); FALSE: one has another already. */
gboolean sp_condition_share_chain (SpCondition *condition, SpPurpose purpose, const SpChain *chain);
