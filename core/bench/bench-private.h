/* bench-private.h - what the files of this room share while a bench is being made */
#pragma once

#include "core/bench/bench.h"

#define SP_CONDITIONS_MAX 1000 /* radios and conditions a bench may hold: a club's season, and names are looked up one by one */

/* A bench with nothing in it but room for `n` radios and conditions (all NaN, NULL, defaults). (transfer full) */
SpBench *sp_bench_new (guint n);
/* The next one of each, set to its defaults; the name is taken over. */
SpRadio *sp_bench_add_radio (SpBench *bench, char *name);
SpCondition *sp_bench_add_condition (SpBench *bench, guint radio, char *name);
/* Takes trace and chain (may be NULL) over. */
void sp_condition_add_sweep (SpCondition *condition, SpPurpose purpose, SpTrace *trace, SpChain *chain, double step_db);
/* Collects the warnings and works out the hash: from here on the bench is a value. */
void sp_bench_finish (SpBench *bench);

/* A sheet being read. Every file is read once, however often it is named. */
typedef struct {
  SpKeyFile *file;
  SpBench *bench;
  GHashTable *traces, *chains, *analyzers, *masks; /* path (and options) -> value */
} SpSheet;

/* The part that a key names; *out left alone where the key is absent. */
gboolean sp_sheet_chain (SpSheet *sheet, SpGroup *group, const char *name, SpChain **out, GError **error);
gboolean sp_sheet_analyzer (SpSheet *sheet, SpGroup *group, SpAnalyzer **out, GError **error);
gboolean sp_sheet_mask (SpSheet *sheet, SpGroup *group, SpMask **out, GError **error);
/* A trace by `FILE?options`, `offset` characters into the key's value. (transfer full) */
SpTrace *sp_sheet_trace (SpSheet *sheet, SpGroup *group, const SpKey *key, guint offset, const char *reference, GError **error);
/* A number above zero, at most `high`; a frequency above zero. */
gboolean sp_sheet_positive (SpSheet *sheet, SpGroup *group, const char *name, double high, double *out, GError **error);
gboolean sp_sheet_frequency (SpSheet *sheet, SpGroup *group, const char *name, double *out, GError **error);

/* The first key in `group` that only a condition may have; NULL. */
const SpKey *sp_sheet_condition_key (SpGroup *group);
/* Reads the keys of a condition into `condition`. */
gboolean sp_sheet_condition (SpSheet *sheet, SpGroup *group, SpCondition *condition, GError **error);
