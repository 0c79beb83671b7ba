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

/* The part that a key names; NULL with *good TRUE where the key is absent. (transfer full) */
gpointer sp_sheet_part (SpSheet *sheet, SpGroup *group, const char *name, SpPartKind kind, gboolean *good, GError **error);
/* A trace by `FILE?options`, `offset` characters into the key's value. (transfer full) */
SpTrace *sp_sheet_trace (SpSheet *sheet, SpGroup *group, const SpKey *key, guint offset, const char *reference, GError **error);
/* What a trace is known by in `known`: its decoded name, and its options as `reference` writes them. (transfer full) */
char *sp_sheet_trace_id (const char *name, const char *reference);
/* Fills `known` with the sweeps that can be read, on all processors. */
void sp_sheet_read_ahead (SpSheet *sheet);

/* Readers of keys (sp_keys_read) that name files; their context is the SpSheet, their format an SpPartKind. */
gboolean sp_sheet_read_part (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, gpointer context, GError **error);
gboolean sp_sheet_read_unkeyed (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, gpointer context, GError **error);
gboolean sp_sheet_read_sweeps (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, gpointer context, GError **error);

/* A sheet, or what its hash is made of, being written. Parts stand by their name, or by their own hash. */
typedef struct {
  GString *text;
  const SpBench *bench;
  gboolean hashed;
  gboolean apart; /* each condition has its own group, even where its radio's could hold its keys */
  SpPartName name;
  gpointer data;
} SpSheetWriter;

/* Their writers; the context is the SpSheetWriter. */
void sp_sheet_write_part (const SpKeySpec *spec, GString *text, gconstpointer object, gconstpointer context);
void sp_sheet_write_unkeyed (const SpKeySpec *spec, GString *text, gconstpointer object, gconstpointer context);
void sp_sheet_write_sweeps (const SpKeySpec *spec, GString *text, gconstpointer object, gconstpointer context);

/* sheet-warn.c: keys that nobody asked for, and what its keys say against each other, into the sheet's own warnings. */
void sp_sheet_warn (SpSheet *sheet);

/* sp_bench_sheet_text(); `apart` as in SpSheetWriter. */
char *sp_bench_write (const SpBench *bench, gboolean apart, SpPartName name, gpointer data);
/* Of all that judging depends on, and of the names under which findings are given; not of paths, titles and notes. (transfer full) */
char *sp_bench_hash (const SpBench *bench);
/* The names of the groups in that text. (transfer full) */
char *sp_radio_heading (const SpRadio *radio);
char *sp_condition_heading (const SpBench *bench, const SpCondition *condition);

/* What a chain, NULL or not, has to say on this bench: its own warnings, and the age of its calibrations. */
void sp_bench_warn_chain (const SpBench *bench, const SpChain *chain);
