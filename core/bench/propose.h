/* propose.h - from exported files to sweeps of a bench: what their names and settings say, and one bench with all of them in it
 */
#pragma once

#include "core/bench/bench.h"

/* What a file is for. Texts are never NULL; "" where nothing is said. */
typedef struct {
  char *radio, *condition;
  SpPurpose purpose;
  double step_db; /* STEP: dB more attenuation; NaN elsewhere, or not said */
} SpProposal;

void sp_proposal_clear (SpProposal *proposal);

/* From a file's name, its folder and ending left out. `pattern`: text with {radio} {condition} {purpose} {any}, as "{radio}-{condition}-{purpose}"; where it is
 * NULL, "" or does not fit, the name's own words decide: parted by - _ . and blanks, "unkeyed" "room" "idle" "ambient" -> unkeyed; "step10", "step 10",
 * "att+10" -> step; "notch" "notched" -> notched; "old" "superseded" -> superseded; a last bare number of one or two digits counts repeats and is
 * dropped; the first word is the radio, the rest its condition. */
void sp_propose (const char *file_name, const char *pattern, SpProposal *out);

/* A trace and where it goes. radio "" with UNKEYED: the bench's own unkeyed sweep. */
typedef struct {
  SpTrace *trace; /* borrowed */
  SpProposal to;
} SpArrival;

/* Among keyed arrivals of one radio and condition: one with more attenuation than the least is a step of that difference (more than 0.05 dB). */
void sp_propose_steps (SpArrival *arrivals, guint n);

/* The bench with all of them: radios and conditions by name, made where they are missing. A radio's only condition without a name takes the first name that
 * comes where it has no sweeps yet. The first that does not fit fails all: nothing is half taken. (transfer full) */
SpBench *sp_bench_with_arrivals (const SpBench *bench, const SpArrival *arrivals, guint n, GError **error);

/* Is a trace of these bytes and options in the bench already? */
gboolean sp_bench_has_trace (const SpBench *bench, const SpTrace *trace);

/* Files of one shape lack the same things and are corrected together: unit and column read, and which of RBW, attenuation and detector are known. (transfer full) */
char *sp_trace_shape (const SpTrace *trace);
