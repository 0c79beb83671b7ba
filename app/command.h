/* command.h - private to app: what spurproof-batch can do, one file for a command or a few */
#pragma once

#include "app/arguments.h"
#include "core/findings/findings.h"
#include "ui/figure/pen/view.h"

#define DONE 0
#define FAILED 1
#define NOT_ALL_COMPLY 2

typedef struct {
  const char *name, *synopsis, *summary;
  const Option *options;
  int (*run) (const Arguments *arguments, GError **error); /* DONE, NOT_ALL_COMPLY, or FAILED with `error` set */
} Command;

extern const Command commands[]; /* ends with an empty name */

int command_read (const Arguments *arguments, GError **error);
int command_budget (const Arguments *arguments, GError **error);
int command_calibrate (const Arguments *arguments, GError **error);
int command_check (const Arguments *arguments, GError **error);
int command_chain (const Arguments *arguments, GError **error);
int command_mask (const Arguments *arguments, GError **error);
int command_range (const Arguments *arguments, GError **error);
int command_headroom (const Arguments *arguments, GError **error);
int command_judge (const Arguments *arguments, GError **error);
int command_compare (const Arguments *arguments, GError **error);
int command_report (const Arguments *arguments, GError **error);
int command_figures (const Arguments *arguments, GError **error);
int command_pack (const Arguments *arguments, GError **error);
int command_unpack (const Arguments *arguments, GError **error);
int command_width (const Arguments *arguments, GError **error);
int command_draw (const Arguments *arguments, GError **error);

/* INPUT: a sheet, a bench book, or --radio NAME=TRACE with --chain, --analyzer and --mask, which also override a sheet's; --rule likewise.
 * NULL and an error where it cannot be read. (transfer full) */
SpBench *input_bench (const Arguments *arguments, GError **error);
/* The first --radio that names a radio, where others may make one (NAME=TRACE); NULL. (transfer none) */
const char *input_radio_named (const Arguments *arguments);
/* Index of the condition called `name` ("Mirrick/2 m high", or a radio's name: its first); -1 and an error that lists the names. */
int input_condition (const SpBench *bench, const char *name, GError **error);
/* INPUT judged, and in `view` the condition that --radio chooses. NULL and an error as above. (transfer full) */
SpFindings *input_findings (const Arguments *arguments, SpView *view, GError **error);
/* --chain, --analyzer, --mask read; *out stays NULL where not given. */
gboolean input_resources (const Arguments *arguments, SpChain **chain, SpAnalyzer **analyzer, SpMask **mask, GError **error);
/* --on as a Julian day, or today. */
gboolean input_day (const Arguments *arguments, double *day, GError **error);
/* Exactly `n` arguments that are no option, else an error with the synopsis of the command `name`. */
gboolean input_rest (const Arguments *arguments, const char *name, guint least, guint most, GError **error);

/* Writes to standard output, whatever the options: what was asked about the program itself. */
gboolean output_plain (const char *text, GError **error);
/* Writes to --output F, or standard output where it is `-` or not given. A file is written beside F and renamed into place. */
gboolean output_bytes (const Arguments *arguments, const char *bytes, gsize length, GError **error);
gboolean output_machine (const Arguments *arguments, const char *text, GError **error); /* JSON, CSV: as it is */
gboolean output_text (const Arguments *arguments, const char *text, GError **error);    /* cleaned */
/* FALSE and an error where a book with its history, or a file that was read, stands at `path`: neither gives way to a result. */
gboolean output_may_replace (const char *path, GError **error);
/* A word on standard error where the pictures are not in our own typeface. */
void output_say_type (void);
/* What was made, a picture or a spreadsheet, as output_bytes() writes it, with a word on standard error where it is not in our own typeface; NULL: it was
 * not, for `error`. Takes `made`; DONE or FAILED. */
int output_made (const Arguments *arguments, GBytes *made, GError **error);
