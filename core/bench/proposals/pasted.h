/* pasted.h - the table of a bench's conditions: its order, and what is pasted into a part of it */
#pragma once

#include "core/bench/bench.h"

/* The conditions by their radio's name, then fundamental, then rated power, then as they come; what is not known stands last. n_conditions of them.
 * (transfer full) */
guint *sp_bench_table_order (const SpBench *bench);

/* Rows and columns of a table, pasted: line i is of `conditions[i]`, field k of `keys[k]` (of sp_condition_keys), divided by tabs, or by semicolons where
 * there is none. One line alone is for all conditions, so a column is filled down; an empty field takes the key out. `mark` is the decimal mark of who typed it.
 * Errors: "pasted:LINE:COLUMN: what"; nothing is taken then. (transfer full) */
SpBench *sp_bench_with_pasted (const SpBench *bench, const char *text, const guint *conditions, guint n, const char *const *keys, char mark,
                               GError **error);
