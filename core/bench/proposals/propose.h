/* propose.h - from exported files to sweeps of a bench: what their names and settings say, and one bench with all of them in it */
#pragma once

#include "core/bench/bench.h"

/* What a file is for. Texts are never NULL; "" where nothing is said. */
typedef struct {
  char *radio, *condition;
  SpPurpose purpose;
  double step_db; /* STEP: dB more attenuation; NaN elsewhere, or not said */
  SpChain *chain; /* STEP, NOTCHED: what it came through, its own reference; NULL: not said, as the condition's others of that purpose */
  /* In place of the earlier sweep for the same purpose over the same span (half of the longer is common), which is kept as superseded. */
  gboolean retake;
  double fundamental_hz, rated_w; /* > 0: of a condition that it makes; else not said */
  char *mode;                     /* likewise; NULL */
} SpProposal;

void sp_proposal_clear (SpProposal *proposal);
/* Other names; all else stays. */
void sp_proposal_aim (SpProposal *proposal, const char *radio, const char *condition);
/* At what another aims at, with what that tells of a condition that it makes. */
void sp_proposal_aim_as (SpProposal *proposal, const SpProposal *other);

/* From a file's name, its ending left out. `pattern`: text with {radio} {condition} {purpose} {any} and parts in [brackets] that may lack, as
 * "{radio}[_{condition}][_{purpose}]"; where it is NULL, "" or does not fit, the name's own words decide: parted by - _ . and blanks,
 * "unkeyed" "key-up" "room" "idle" "ambient" "background" -> unkeyed; "step10", "step 10", "att+10", "+10dB" -> step; "notch" "notched" ->
 * notched; "old" "superseded" -> superseded; "re-take" "retake" "again", a last "b" -> re-take; "keyed" "tx" and a stated attenuation ("att20")
 * say nothing of the name; a last bare number of one or two digits counts repeats and is dropped. Frequency, power, waveband and mode ("14.2MHz"
 * "100W" "160m" "cw") are of the condition; the first word that is none of them is the radio, with a bare number that follows it before others
 * ("abc-1_2m": "Abc 1"); where all words are such, the folder is. The rest is the condition. */
void sp_propose (const char *file_name, const char *pattern, SpProposal *out);
/* TRUE where `pattern` is one: its fields are known and closed, {radio} is among them, and text parts each two of them. */
gboolean sp_propose_check_pattern (const char *pattern, GError **error);
/* One way to read many names. */
typedef struct {
  char *pattern; /* "": by their words */
  guint example; /* the first name that it reads otherwise than the first way does; of the first itself 0 */
} SpNamesReading;
/* The ways in which these names can be read so that no radio is called by what is a condition's, the plainest first, each of which reads some of them
 * otherwise than those before; at least one, at most five. Of more than 60 names, 60 spread over them decide. (transfer full), of SpNamesReading */
GPtrArray *sp_propose_readings (const char *const *names, guint n);
/* Spells radio and condition as the bench has them, where they differ only in case, blanks and signs, or where one condition's name alone begins so
 * ("2m": "2 m high"); a radio's only condition is meant where none is said. */
void sp_propose_known (const SpBench *bench, SpProposal *proposal);
/* The same for many, of a bench whose names are looked through once. `bench` outlives it. (transfer full) */
typedef struct _SpKnownNames SpKnownNames;
SpKnownNames *sp_known_names_new (const SpBench *bench);
void sp_known_names_free (SpKnownNames *known);
void sp_known_names_aim (const SpKnownNames *known, SpProposal *proposal);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpKnownNames, sp_known_names_free)
/* What one name may mean, each once: by `pattern`, then by the readings (NULL: none). (transfer full), of SpProposal */
GPtrArray *sp_propose_meanings (const SpKnownNames *known, const char *file_name, const char *pattern, const GPtrArray *readings);

/* A trace and where it goes. radio "" with UNKEYED: the bench's own unkeyed sweep. */
typedef struct {
  SpTrace *trace; /* borrowed */
  SpProposal to;
} SpArrival;

/* Among keyed arrivals of one radio and condition, and beside the keyed sweeps that the bench has of it: one with more attenuation than
 * the least, of the same RBW and over some of the same span, is a step of that difference (more than 0.05 dB). `said[i]`: the purpose
 * stands, for somebody has said it; of a step without a number the difference is still told. */
void sp_propose_steps (const SpBench *bench, SpArrival *arrivals, const gboolean *said, guint n);

/* The bench with all of them, by one reading of its sheet: radios and conditions by name, made where they are missing. A radio's only
 * condition without a name takes the first name that comes where it has no sweeps yet. The first that does not fit fails all, *failed
 * (may be NULL) is its index, or n where it is none alone: nothing is half taken. (transfer full) */
SpBench *sp_bench_with_arrivals (const SpBench *bench, const SpArrival *arrivals, guint n, guint *failed, GError **error);

/* A bench that is just being made, without date and sweeps, takes the day of what comes first, so that the ages of its calibrations are checked: the
 * last day that the exports state (`stated_day`, sp_bytes_day); where none does, the last on which their files were written
 * (`written_day`), which may be late by a copy's delay, never early: an age is then rather too great. Julian days; NaN: not known, and of the
 * result: the bench has a date or sweeps, or nobody knows a day. *stated: the exports say it. */
double sp_bench_first_day (const SpBench *bench, double stated_day, double written_day, gboolean *stated);
/* The bench with that date; the same bench where `day` is NaN. (transfer full) */
SpBench *sp_bench_with_day (const SpBench *bench, double day, GError **error);

/* The chain of the condition that it goes to, the bench's where there is none yet or it has none of its own; what it is put behind. (transfer none); NULL */
SpChain *sp_proposal_target_chain (const SpBench *bench, const SpProposal *proposal);
/* STEP, NOTCHED: what it will have come through instead: said, or that of the bench's sweeps of the same purpose there. (transfer none); NULL: none of its own */
SpChain *sp_proposal_sweep_chain (const SpBench *bench, const SpProposal *proposal);
/* TRUE where two go to one condition for one purpose: they come through one chain. */
gboolean sp_proposals_share_chain (const SpProposal *a, const SpProposal *b);

/* What tells a sweep from all others: its bytes and the column of them. (transfer full) */
char *sp_trace_identity (const SpTrace *trace);
