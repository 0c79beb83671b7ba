/* edit.h - a bench with one thing changed: each function gives a new bench that shares all it did not touch
 *
 * Nothing here changes the bench it is given. NULL and an error (SP_ERROR_USAGE, SP_ERROR_INPUT or SP_ERROR_LIMIT: a sentence that says what was expected) where the
 * edit makes no sense: the old bench stands. (transfer full) everywhere.
 */
#pragma once

#include "core/bench/bench.h"

/* The same bench with other resources, for one call: NULL leaves a resource as it is; a given chain, analyzer or mask also takes the place
 * of the conditions' own. rule -1: as it is. (transfer full) */
SpBench *sp_bench_with (const SpBench *bench, SpChain *chain, SpAnalyzer *analyzer, SpMask *mask, int rule);

/* A key of [bench], of a radio or of a condition, by the names and spellings of the sheet (core/docs/files.md, section 2): "title",
 * "temperature_c", "rule", "fundamental", "meter_dbm" ... value NULL or "": as if the key were absent. Checked exactly as the sheet's
 * reader checks it. Keys that name resources (chain, mask, keyed ...) take names that sp_bench_get...() gives, and built-in masks; a file is
 * brought in by the functions below. A value is one line. */
SpBench *sp_bench_set (const SpBench *bench, const char *key, const char *value, GError **error);
SpBench *sp_bench_set_radio (const SpBench *bench, guint radio, const char *key, const char *value, GError **error);
SpBench *sp_bench_set_condition (const SpBench *bench, guint condition, const char *key, const char *value, GError **error);
/* Several such keys, of radios and of conditions, by one reading of the sheet. The first that does not fit fails all, *failed (may be NULL) is its place. */
typedef struct {
  gboolean of_radio;
  guint index; /* of the radio or the condition */
  const char *key, *value;
} SpKeyValue;
SpBench *sp_bench_set_several (const SpBench *bench, const SpKeyValue *values, guint n, guint *failed, GError **error);
/* What such a key holds now, as the sheet would spell it; NULL where absent. (transfer full) */
char *sp_bench_get (const SpBench *bench, const char *key);
char *sp_bench_get_radio (const SpBench *bench, guint radio, const char *key);
char *sp_bench_get_condition (const SpBench *bench, guint condition, const char *key);

/* Words pinned to a place of a condition's chart; taken off by index. */
SpBench *sp_bench_pin_note (const SpBench *bench, guint condition, double frequency_hz, double level_dbm, const char *text, GError **error);
SpBench *sp_bench_unpin_note (const SpBench *bench, guint condition, guint note, GError **error);

/* Resources. */
SpBench *sp_bench_set_mask (const SpBench *bench, SpMask *mask);
/* The second mask of a condition, or -1 of the bench; NULL: none of its own. */
SpBench *sp_bench_set_second_mask (const SpBench *bench, int condition, SpMask *mask);
SpBench *sp_bench_set_document (const SpBench *bench, SpDocument *document); /* NULL: none */
/* The pictures of a radio (-1: of the bench), of SpCaptioned, in order; NULL: none. And the one over every paper, for which the
 * document's is taken out; NULL: none. */
SpBench *sp_bench_set_pictures (const SpBench *bench, int radio, const GArray *pictures, GError **error);
SpBench *sp_bench_set_letterhead (const SpBench *bench, SpPicture *picture);
/* The bench's own resource is set; conditions that have their own keep them. With replace: `old` (compared by pointer) wherever it is used, by the
 * bench, a condition or a sweep, so that the values of a chain or an analyzer can be edited whoever it belongs to. */
SpBench *sp_bench_replace_chain (const SpBench *bench, const SpChain *old, SpChain *chain);
SpBench *sp_bench_replace_analyzer (const SpBench *bench, const SpAnalyzer *old, SpAnalyzer *analyzer);
/* One key of a document's [report], or its remark on a radio, set as the file spells it and checked as its reader does; value NULL or "": taken out. */
SpDocument *sp_document_set (const SpDocument *document, const char *key, const char *value, GError **error);
SpDocument *sp_document_set_remark (const SpDocument *document, const char *radio, const char *text, GError **error);
/* What they hold, as the file spells it; NULL: nothing. (transfer full) */
char *sp_document_get (const SpDocument *document, const char *key);
char *sp_document_get_remark (const SpDocument *document, const char *radio);

/* A condition's own chain, analyzer or mask, by kind; resource NULL: the bench's again, if it has one. */
SpBench *sp_bench_set_own (const SpBench *bench, guint condition, SpResourceKind kind, gpointer resource, GError **error);

/* The same for several at once. */
SpBench *sp_bench_set_own_of (const SpBench *bench, const guint *conditions, guint n, SpResourceKind kind, gpointer resource,
                              GError **error);

/* Radios and conditions. Names are unique, blanks at their ends are dropped; a new radio comes with one condition named "". Removing a radio's last condition removes the radio. */
SpBench *sp_bench_add_radio_named (const SpBench *bench, const char *name, GError **error);
SpBench *sp_bench_rename_radio (const SpBench *bench, guint radio, const char *name, GError **error);
SpBench *sp_bench_rename_condition (const SpBench *bench, guint condition, const char *name, GError **error);
SpBench *sp_bench_duplicate_condition (const SpBench *bench, guint condition, const char *name, GError **error);
SpBench *sp_bench_move_condition (const SpBench *bench, guint from, guint to);
SpBench *sp_bench_remove_condition (const SpBench *bench, guint condition, GError **error);

/* Sweeps of a condition; condition -1: the bench's own unkeyed sweep (adding replaces it). step_db: for a step sweep, else ignored. Sweeps of one
 * purpose come together, as in a sheet; one that gets another purpose leaves its step_chain or notched_chain behind. */
SpBench *sp_bench_add_sweep (const SpBench *bench, int condition, SpPurpose purpose, SpTrace *trace, double step_db, GError **error);
SpBench *sp_bench_remove_sweep (const SpBench *bench, int condition, guint sweep, GError **error);
SpBench *sp_bench_set_purpose (const SpBench *bench, guint condition, guint sweep, SpPurpose purpose, double step_db, GError **error);
/* Likewise, with the chain that all step, or all notched, sweeps of the condition came through: a sheet has one step_chain and one notched_chain for
 * each. chain NULL: the condition's. */
SpBench *sp_bench_set_purpose_through (const SpBench *bench, guint condition, guint sweep, SpPurpose purpose, double step_db,
                                       const SpChain *chain, GError **error);
/* The same sweep read again with other options ("rbw=10kHz&unit=dBuV"): from the raw bytes it carries. */
SpBench *sp_bench_reread_sweep (const SpBench *bench, guint condition, guint sweep, const char *options, GError **error);

/* Chain and analyzer: one key of one group set as its file spells it (value NULL: absent), checked by the file's own reader; the points of a stage are the
 * key "points". Stages by index. (transfer full) */
SpChain *sp_chain_set (const SpChain *chain, int stage, const char *key, const char *value, GError **error); /* stage -1: [chain] */
char *sp_chain_get (const SpChain *chain, int stage, const char *key);
/* The stage's loss from a run, in place of its points or its Touchstone file, and of its own date, temperature and common_u_db. The run may come from
 * sp_run_new(): its text is read as a file's would be, errors are the reader's. It stays with the chain, and so in the book. To take it out again:
 * sp_chain_set() with "run" and NULL, or "points" after that. (transfer full) */
SpChain *sp_chain_set_run (const SpChain *chain, guint stage, const SpRun *run, GError **error);
/* The same from a file that somebody drops on the stage: a run (.run), a Touchstone two-port (.s2p, .ts), else a table of losses
 * (core/chain/loss-table.h), in place of what gave the loss before. */
SpChain *sp_chain_take_loss (const SpChain *chain, guint stage, const char *path, GError **error);
/* The chain with one more stage behind its others, before the analyzer, its loss from such a file; it is called after both. */
SpChain *sp_chain_with_loss (const SpChain *chain, SpStageKind kind, const char *path, GError **error);
/* What a step or a notched sweep came through, from a file: a .chain, or the loss of the notch or of the pad that was put behind `chain` (NULL: a
 * .chain only). */
SpChain *sp_chain_for_sweep (const SpChain *chain, SpPurpose purpose, const char *path, GError **error);
/* The stage's pictures, of SpCaptioned, in order; NULL: none. */
SpChain *sp_chain_set_pictures (const SpChain *chain, guint stage, const GArray *pictures, GError **error);
/* The run taken out, the points that it gave left, with its date, temperature and common part: they can be edited then. */
SpChain *sp_chain_keep_points (const SpChain *chain, guint stage, GError **error);
/* A stage of another chain under `name`, before stage `before`, with all that it names; its calibration stays that of its own chain. */
SpChain *sp_chain_take_stage (const SpChain *chain, guint before, const SpChain *from, guint stage, const char *name, GError **error);
/* "pad", "pad 2", ...: a name that no stage of the chain has. (transfer full) */
char *sp_chain_free_name (const SpChain *chain, const char *stem);
SpChain *sp_chain_move_stage (const SpChain *chain, guint from, guint to, GError **error);
SpChain *sp_chain_remove_stage (const SpChain *chain, guint stage, GError **error);
SpChain *sp_chain_add_stage (const SpChain *chain, guint before, const char *name, SpStageKind kind, GError **error);
SpChain *sp_chain_duplicate_stage (const SpChain *chain, guint stage, const char *name, GError **error);
SpAnalyzer *sp_analyzer_set (const SpAnalyzer *analyzer, const char *key, const char *value, GError **error);
char *sp_analyzer_get (const SpAnalyzer *analyzer, const char *key);
