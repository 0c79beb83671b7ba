/* words.h - turns codes into sentences, and numbers into displayed text; the only place that does
 *
 * No GTK. Everything through gettext. Two forms: `machine` (decimal point, hyphen-minus: JSON, batch) and the screen's (the locale's
 * decimal mark, true minus, thin space before a unit).
 */
#pragma once

#include "core/check/check.h"
#include "core/compare/compare.h"
#include "core/compare/pivot.h"

typedef enum { SP_HAND_MACHINE, SP_HAND_SCREEN } SpHand;

/* A warning, reason or proposal as one sentence, ending with a full stop. (transfer full) */
char *sp_words_reason (const SpReason *reason, SpHand hand);
/* The stable name of a field's word, as in JSON ("phase noise"); NULL: none, or written as it is. (transfer none) */
const char *sp_words_field_word (const SpReason *reason, const SpReasonField *field);

/* What stands between whole and fraction on screen, where it is a comma; else a point. */
char sp_words_decimal_mark (void);
/* Numbers: sp_words_number (-12.34, 1, hand) "-12.3"; NaN gives an en dash (screen) or "-" (machine). (transfer full) */
char *sp_words_number (double value, int decimals, SpHand hand);
char *sp_words_level (double level_dbm, int decimals, SpHand hand);                /* "-12.3 dBm" */
char *sp_words_signed (double value, int decimals, SpHand hand);                   /* "+8.2" */
char *sp_words_frequency (double frequency_hz, double resolution_hz, SpHand hand); /* "438.60 MHz" */
char *sp_words_power (double power_w, SpHand hand);                                /* "4.9 W", "25 uW" (machine) or with a micro sign */

/* The permitted values of a key: "From -100 to 200 °C."; NULL if its kind implies them. (transfer full) */
char *sp_words_key_range (const SpKeySpec *spec);

/* Translated words for verdicts, origins, causes, purposes. (transfer none) */
const char *sp_words_of_detector (SpDetector detector); /* NULL: unknown */
/* The same untranslated, with context "detector", in SpDetector's order; the first is for an unknown one. Ended by NULL. */
extern const char *const sp_detector_words[];
const char *sp_words_verdict (SpVerdict verdict);
const char *sp_words_origin (SpOrigin origin);
const char *sp_words_origin_basis (SpOriginBasis basis); /* NULL for NONE */
/* A level, dBc or margin of an emission, `value`, as its row shows it: "-12.3"; after "<" if nothing was seen; "blind" if nothing
 * could have been. (transfer full) */
char *sp_words_seen (const SpEmission *emission, double value, SpHand hand);
/* The floor of a planned sweep, or "blind" if its points are too far apart for any line; its missing dB, or nothing if blind.
 * (transfer full) */
char *sp_words_floor (const SpOutlook *outlook, SpHand hand);
char *sp_words_missing (const SpOutlook *outlook, SpHand hand);
/* The best level at the mixer: "-30.0 dBm", or that it is assumed since the profile states none. (transfer full) */
char *sp_words_best_mixer (double best_dbm, gboolean assumed, SpHand hand);
/* The room of an emission: "+9.9", "blind", or "unknown" by a guessed loss; "" if none; with its expanded uncertainty: "+9.9 ± 1.7". For a
 * condition: that of the deciding emission. (transfer full) */
char *sp_words_room (const SpEmission *emission, SpHand hand);
char *sp_words_room_u (const SpEmission *emission, SpHand hand);
char *sp_words_deciding_margin (const SpConditionFindings *found, SpHand hand);
/* The unsettled emission above its limit while another decides: "Not settled: the spur ..., 8.0 dB above its limit. ..."; NULL: none.
 * (transfer full) */
char *sp_words_unsettled (const SpConditionFindings *found, SpHand hand);
/* The first gap, and the number of others; NULL: none. (transfer full) */
char *sp_words_not_shown (const SpConditionFindings *found, SpHand hand);
/* The condition in one sentence for the radio's owner: "Complies: nearest to the limit is the 2nd harmonic, 10.6 dB under it, ..."; and in
 * a few: the reason of the deciding emission, what would prove it, the first gap, the unsettled emission; "" if there is none of them.
 * (transfer full) */
char *sp_words_statement (const SpConditionFindings *found, SpHand hand);
char *sp_words_explanation (const SpConditionFindings *found, SpHand hand);
/* What a second mask would have of it, by that mask's title: "Second mask, House limit. Exceeds: ..."; NULL: it has none. (transfer full) */
char *sp_words_second (const SpFindings *findings, guint condition, SpHand hand);
const char *sp_words_purpose (SpPurpose purpose); /* of a sweep: "keyed", "step: more attenuation" */
/* The path of a step or a notched sweep. `chain`: its chain; NULL: the condition's. (transfer full) */
char *sp_words_through (SpPurpose purpose, const SpChain *chain);
/* Whose an emission is and what shows it: "2nd, analyzer's own: gone with 10 dB more". `name`: what it is called. NULL: the radio's, or not
 * seen. (transfer full) */
char *sp_words_whose (const SpEmission *emission, const char *name, SpHand hand);
/* The radio's part: "-3.6 .. -1.7"; "<-22.8" if it may be absent; "-" if unbounded. (transfer full) */
char *sp_words_radio_part (const SpEmission *emission, SpHand hand);
const char *sp_words_cause (SpFloorCause cause);
/* What makes a predicted floor: "noise", "distortion, by steps"; "" where there is none. (transfer none) */
const char *sp_words_outlook_cause (const SpOutlook *outlook);
const char *sp_words_distribution (SpDistribution distribution); /* "rectangular", translated */
const char *sp_words_budget_source (SpBudgetSource source);      /* "the analyzer's profile", "its run" */
const char *sp_words_term (SpTermKind kind);                     /* "the analyzer's flatness" */
const char *sp_words_kind (SpEmissionKind kind);                 /* "a line", "modulated", "like noise" */
const char *sp_words_bound (const SpEmission *emission);         /* "an upper bound", "a lower bound", "between bounds", "" */
char *sp_words_band (const SpEmission *emission,
                     SpHand hand);                  /* what its level is the power of; NULL: a line, or not seen (transfer full) */
const char *sp_words_gap_why (SpReasonCode why);    /* "not swept" */
char *sp_words_gap (const SpGap *gap, SpHand hand); /* the same with its figures (transfer full) */
/* "Selvane: a spur at 30.72 MHz in 5 of 6 conditions ..." (transfer full) */
char *sp_words_steady_spur (const SpSteadySpur *spur, SpHand hand);
char *sp_words_waveband (const SpWaveband *waveband); /* "2 m", "148 to 219 MHz"; NULL: "no carrier" (transfer full) */
/* A mask by title and clause: "US amateur service, 47 CFR 97.307(d), (e)". (transfer full) */
char *sp_words_mask (const SpMask *mask);
char *sp_words_emission (const SpEmission *emission, SpHand hand);       /* "2nd harmonic", "spur at 98.3 MHz" (transfer full) */
char *sp_words_emission_short (const SpEmission *emission, SpHand hand); /* "2nd" of a harmonic (transfer full) */
/* "power-pad left out", "patch and power-pad swapped", "power-pad the wrong way round" (transfer full) */
char *sp_words_fault (const SpFault *fault, const SpChain *chain);
/* The worst fault of each kind of harm in one line, the worst first: "with brick left out: 8.9 W into thimble, rated 2 W; unsafe with
 * ...". NULL: the chain has no stage. `dotted`: the figure draws the first of them dotted. (transfer full) */
char *sp_words_faults (const SpHeadroom *headroom, const SpChain *chain, gboolean dotted, SpHand hand);
/* A group of equal changes: "level +0.35 to +0.36 dB, limit 0.00 dB, margin -0.36 dB, U 0.00 dB"; and a sentence with their number.
 * (transfer full) */
char *sp_words_alike_by (const SpAlike *alike, SpHand hand);
char *sp_words_alike (const SpAlike *alike, SpHand hand);
/* The unit in which a level was read, with its prefix, ASCII: "dBuV", "mW" (transfer full) */
char *sp_words_unit (SpLevelUnit unit, double scale);

/* "2026-11-28" as in our files, in any language; and a sentence on the date that a new bench takes from its first exports. (transfer
 * full) */
char *sp_words_day (double julian_day);
char *sp_words_day_taken (double julian_day, gboolean stated);

/* The fundamental's occupied bandwidth: "16.2 kHz", "at most 66 kHz"; NULL: not known. (transfer full) */
char *sp_words_occupied (const SpConditionFindings *found, SpHand hand);

/* A time: "under 1 s", "40 s", from two minutes on "2.5 min", rounded up. (transfer full) */
char *sp_words_seconds (double seconds, SpHand hand);
/* "key down 12 s", "key down 12 s in each of 4 parts, 6 s of pause between them"; says so if the time is common practice. (transfer
 * full) */
char *sp_words_key_down (double parts, double key_down_s, double pause_s, SpTimeBasis basis, SpHand hand);
/* The advised sweep and what it would prove; beside the carrier; what stays unknown: paragraphs, with `between` between two. (transfer
 * full) */
char *sp_words_advice (const SpAdvice *advice, const char *between, SpHand hand);

/* The safety line: the sentence of the worst UNSAFE reason and the number of others; NULL: safe. (transfer full) */
char *sp_words_safety (const SpFindings *findings, SpHand hand);
/* "lead, tail": what no rating is stated for on any way of a condition's power, or in one headroom; NULL: all are rated. (transfer full) */
char *sp_words_unrated (const SpConditionFindings *found);
char *sp_words_unrated_in (const SpHeadroom *headroom);
/* The customary cautions, one paragraph. (transfer none) */
const char *sp_words_cautions (void);

/* Words for a substitution run's terms (ours translated, the user's as they are), their distributions, and cautions for reading them.
 * (transfer none) */
const char *sp_words_run_term (const char *name);
const char *sp_words_run_cautions (void);
/* Likewise of an analyzer's check; "145.6 MHz, 20 dB of attenuation" (transfer full). */
const char *sp_words_check_term (const char *name);
const char *sp_words_check_left (const char *term); /* "flatness, between the points" */
char *sp_words_check_place (const SpCheckPoint *point, SpHand hand);
const char *sp_words_check_cautions (void);
