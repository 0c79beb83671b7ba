/* sheet.h - a bench as a text file that names the others, read and written (core/docs/files.md, section 2) */
#pragma once

#include "core/bench/bench.h"

/* Reads a sheet and every file it names, each once; paths are relative to the sheet. Errors: SHEET:LINE:COLUMN: [group] key: what, with the
 * named file's own message and place behind. A radio without [condition] groups makes one condition named "". At most 1000 radios and
 * conditions. STEP_UNKNOWN where a step cannot be checked against the files' attenuations. (transfer full) */
SpBench *sp_bench_read (const char *path, GError **error);

/* Where the resources come from that a sheet names, where not from files beside it: `find` gives the one called `name` (decoded; a trace also by its
 * options, else NULL), a new reference to an SpChain, SpAnalyzer, SpMask, SpTrace, SpDocument or SpPicture by `kind`; NULL and an error. Asked once for each name. */
typedef struct {
  gpointer (*find) (gpointer data, SpResourceKind kind, const char *name, const SpTraceOptions *options, GError **error);
  gpointer data;
} SpResources;
/* A sheet that is parsed already; `resources` NULL: files, their paths relative to the key file's name. (transfer full) */
SpBench *sp_bench_parse (SpKeyFile *file, const SpResources *resources, GError **error);

/* The bench as a sheet: canonical order, all digits, unknown keys kept, comments gone. Read back with resources of the same names it is an equal bench
 * (equal sha256). `name` gives each resource the name to be written (not yet escaped, without options; transfer full); equal resources equal names, unequal
 * ones unequal names or options. A built-in mask's name is its own. (transfer full) */
typedef char *(*SpResourceName) (gpointer data, SpResourceKind kind, gconstpointer resource);
char *sp_bench_sheet_text (const SpBench *bench, SpResourceName name, gpointer data);

/* A bench of one condition per `radio` text "NAME=TRACE[;TRACE...]" (options in the traces allowed), as `--radio` gives it. The three
 * resources are not NULL. (transfer full) */
SpBench *sp_bench_from_radios (const char *const *radios, SpChain *chain, SpAnalyzer *analyzer, SpMask *mask, GError **error);
