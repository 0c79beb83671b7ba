/* edit-private.h - what the files with the edits share */
#pragma once

#include "core/bench/edit.h"

/* Takes a changed copy (sp_bench_copy); gives the bench that its sheet reads as, or the reader's error. (transfer full) */
SpBench *sp_bench_settle (SpBench *changed, GError **error);
/* A new condition of a copy, behind its radio's others; takes `name`. (transfer none) */
SpCondition *sp_bench_add_condition_behind (SpBench *copy, guint radio, char *name);
/* "FILE:3:5: [bench] rule: ..." becomes "[bench] rule: ...". */
void sp_error_drop_place (GError *error, const char *file);
