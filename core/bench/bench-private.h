/* bench-private.h - what the files of this room share while a bench is being made */
#pragma once

#include "core/bench/bench.h"

#define SP_SHEET_GROUPS_MAX 3000 /* radios, conditions, and what is not ours */
#define SP_CONDITIONS_MAX 1000   /* radios and conditions a bench may hold: a club's season, and names are looked up one by one */

/* A bench with nothing in it but room for `n` radios and conditions (all NaN, NULL, defaults). (transfer full) */
SpBench *sp_bench_new (guint n);
/* The next one of each, set to its defaults; the name is taken over. */
SpRadio *sp_bench_add_radio (SpBench *bench, char *name);
SpCondition *sp_bench_add_condition (SpBench *bench, guint radio, char *name);
/* As the key clocks= holds them; NULL where there are none. (transfer full) */
char *sp_condition_clocks_text (const SpCondition *condition);
/* Likewise pads_at_hand=. (transfer full) */
char *sp_bench_pads_text (const SpBench *bench);
/* Takes trace and chain (may be NULL) over. */
void sp_condition_add_sweep (SpCondition *condition, SpPurpose purpose, SpTrace *trace, SpChain *chain, double step_db);
void sp_radio_clear (SpRadio *radio);
void sp_condition_clear (SpCondition *condition);
void sp_radio_copy (SpRadio *to, const SpRadio *from);
void sp_condition_copy (SpCondition *to, const SpCondition *from);
/* A copy that shares all parts, with room for `more` radios and conditions; to be changed, then sp_bench_finish(). (transfer full) */
SpBench *sp_bench_copy (const SpBench *bench, guint more);
/* Collects the warnings and works out the hash: from here on the bench is a value. */
void sp_bench_finish (SpBench *bench);

/* A sheet being read. Every part is read once, however often it is named. */
typedef struct {
  SpKeyFile *file;
  SpBench *bench;
  const SpParts *parts;             /* NULL: files */
  GHashTable *known[SP_PART_KINDS]; /* name (and options) -> part */
} SpSheet;

/* The part that a key names; *out left alone where the key is absent. */
gboolean sp_sheet_chain (SpSheet *sheet, SpGroup *group, const char *name, SpChain **out, GError **error);
gboolean sp_sheet_analyzer (SpSheet *sheet, SpGroup *group, SpAnalyzer **out, GError **error);
gboolean sp_sheet_mask (SpSheet *sheet, SpGroup *group, SpMask **out, GError **error);
/* A trace by `FILE?options`, `offset` characters into the key's value. (transfer full) */
SpTrace *sp_sheet_trace (SpSheet *sheet, SpGroup *group, const SpKey *key, guint offset, const char *reference, GError **error);
/* What a trace is known by in `known`: its decoded name, and its options as `reference` writes them. (transfer full) */
char *sp_sheet_trace_id (const char *name, const char *reference);
/* Fills `known` with the sweeps that can be read, on all processors. */
void sp_sheet_read_ahead (SpSheet *sheet);
/* A number above zero, at most `high`; a frequency above zero. */
gboolean sp_sheet_positive (SpSheet *sheet, SpGroup *group, const char *name, double high, double *out, GError **error);
gboolean sp_sheet_frequency (SpSheet *sheet, SpGroup *group, const char *name, const char *example, double *out, GError **error);

/* sheet-warn.c: keys that nobody asked for, and what its keys say against each other, into the sheet's own warnings. */
void sp_sheet_warn (SpSheet *sheet);

/* The first key in `group` that only a condition may have; NULL. */
const SpKey *sp_sheet_condition_key (SpGroup *group);
gboolean sp_sheet_is_condition_key (const char *key);
gboolean sp_sheet_is_radio_key (const char *key);
gboolean sp_sheet_is_bench_key (const char *key);
/* Reads the keys of a condition into `condition`. */
gboolean sp_sheet_condition (SpSheet *sheet, SpGroup *group, SpCondition *condition, GError **error);

/* sp_bench_sheet_text(); `apart`: each condition has its own group, even where its radio's could hold its keys. */
char *sp_bench_write (const SpBench *bench, gboolean apart, SpPartName name, gpointer data);
/* The names of the groups in that text. (transfer full) */
char *sp_radio_heading (const SpRadio *radio);
char *sp_condition_heading (const SpBench *bench, const SpCondition *condition);

/* What a chain, NULL or not, has to say on this bench: its own warnings, and the age of its calibrations. */
void sp_bench_warn_chain (const SpBench *bench, const SpChain *chain);
