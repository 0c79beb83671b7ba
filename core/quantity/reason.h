/* reason.h - what the core has to say, as a code and its numbers
 *
 * Core holds no prose: ui/words turns a reason into a sentence, in any language, for window, report and JSON alike.
 * The code's name ("label-used") is part of the JSON interface: documented, stable. Behind each name: what text[] and value[] hold.
 */
#pragma once

#include <glib.h>

#define SP_REASON_VALUES 12
#define SP_REASON_TEXTS 3

/* X(enumerator, "name") : text[0..2] ; value[0..7] */
#define SP_REASON_LIST(X)                                                                                                                          \
  /* -- warnings of the files -- */                                                                                                                \
  X (UNKNOWN_KEY, "unknown-key")   /* file, group, key ("" for a whole group); line, SpKeyHome where another group of a sheet has it */            \
  X (NOT_YET_USED, "not-yet-used") /* file, group, key; line: understood and kept, no computation uses it yet */                                   \
  X (LABEL_USED, "label-used")     /* stage; label dB, tolerance dB */                                                                             \
  X (NOT_CALIBRATED, "not-calibrated")       /* stage: neither points nor label with tolerance and span; label dB */                               \
  X (U_ASSUMED, "u-assumed")                 /* what, stage or analyzer; assumed dB */                                                             \
  X (VSWR_ASSUMED, "vswr-assumed")           /* whose; assumed ratio */                                                                            \
  X (TONE_LACKS, "tone-lacks")               /* condition, "tone_hz" or "deviation_hz": modulated by a tone, and that is not given */              \
  X (TONE_UNLIKE, "tone-unlike")             /* condition, its modulation by name, which is none by a tone; the tone Hz that is given */           \
  X (RATING_MISSING, "rating-missing")       /* stage */                                                                                           \
  X (CALIBRATION_OLD, "calibration-old")     /* chain or stage; age days, interval days */                                                         \
  X (CALIBRATION_LATER, "calibration-later") /* chain or stage; days after the bench's date */                                                     \
  X (AGES_UNCHECKED, "ages-unchecked")       /* chain: it states dates or an interval, the bench no date */                                        \
  X (BANDWIDTH_ASSUMED, "bandwidth-assumed") /* ; assumed Hz */                                                                                    \
  X (STEP_UNKNOWN, "step-unknown")           /* file: its attenuation is not known, the sheet's step is taken; dB */                               \
  X (RUN_WANTS, "run-wants") /* what ("stage" "frequency" "frequency-once" "before" "inserted" "after" "times" "loss", a key of
                                                    [run]); frequency Hz or NaN: why a substitution run gives no (more) loss yet */                    \
  X (REPEATS_WANDER,                                                                                                                               \
     "repeats-wander")           /* stage; frequency Hz, change over the repeats dB, the run's scatter (the display's at least) dB */              \
  X (LINE_LENGTH, "line-length") /* stage; lowest frequency Hz, line m, an eighth of a wave there m */                                             \
  X (METER_FLOOR, "meter-floor") /* stage; frequency Hz, lowest reading dBm, the meter's floor dBm */                                              \
  /* -- what the reader of traces met or decided -- */                                                                                             \
  X (LINES_SKIPPED, "lines-skipped")         /* file; how many, the first line's number */                                                         \
  X (TRAILING_BLOCK, "trailing-block")       /* file, its first words; from line */                                                                \
  X (COLUMN_CHOSEN, "column-chosen")         /* file, column read; how many level columns there are */                                             \
  X (DECIMAL_DECIDED, "decimal-decided")     /* file, "point" or "comma": the whole file's consistency settled it */                               \
  X (FREQUENCY_DECIDED, "frequency-decided") /* file, column taken for the frequency though others go one way too */                               \
  X (UNIT_ASSUMED, "unit-assumed")           /* file, unit taken for "frequency", "level", or a setting's key as written */                        \
  X (ORDER_REVERSED, "order-reversed")       /* file: rows descended in frequency */                                                               \
  X (SPACING_JUMPS, "spacing-jumps")         /* file; f Hz where, spacing below Hz, above Hz, RBW Hz: one RBW for two spacings */                  \
  X (SETTING_IGNORED, "setting-ignored")     /* file, key, its text: looked like a setting, value not understood; line */                          \
  /* -- warnings of a judging -- */                                                                                                                \
  X (RBW_UNKNOWN, "rbw-unknown")                 /* file */                                                                                        \
  X (DETECTOR_UNKNOWN, "detector-unknown")       /* file */                                                                                        \
  X (ATTENUATION_UNKNOWN, "attenuation-unknown") /* file */                                                                                        \
  X (UNDERSAMPLED, "undersampled") /* file, "seen" where it is why a line that was seen is not proven, else NULL; spacing Hz, RBW Hz, \
                                                    loss dB */            \
  X (CARRIER_UNDERSAMPLED, "carrier-undersampled") /* file; spacing Hz, RBW Hz, loss dB: P and mixer level not from this trace */                  \
  X (CLIPPED, "clipped")                           /* file; reading dBm, reference dBm or NaN for a run of equal maxima, points */                 \
  X (POWER_FROM_STEP,                                                                                                                              \
     "power-from-step") /* file, the keyed one's; P there dBm, the keyed one's clipped top dBm: P and what follows from it stand on \
                                                    the step, the levels on the keyed sweep */              \
  X (OUTSIDE_CALIBRATION, "outside-calibration") /* stage or ""; frequency Hz, span low, span high */                                              \
  X (FLOOR_OFF_PROFILE, "floor-off-profile")     /* file; the trace's noise minus the profile's, dB */                                             \
  X (METER_DISAGREES, "meter-disagrees")         /* ; meter dBm, trace dBm, U of the difference dB */                                              \
  X (OVERLOAD, "overload")                       /* file; mixer level dBm, best dBm */                                                             \
  X (UNSAFE, "unsafe")                           /* place; power into it W, rating W, level dBm, headroom dB; with text[1]          \
                                                    "return-loss" the place throws the carrier back: rating NaN, headroom over 14   \
                                                    dB, value[4] the return loss the radio sees, dB */              \
  X (DC_PATH, "dc-path")                         /* analyzer; its greatest DC, V: every stage passes DC */                                         \
  X (FAULT, "fault")                             /* kind, stage(s), worst place; headroom dB, power W, rating W */                                 \
  X (FAULT_REFLECTS,                                                                                                                               \
     "fault-reflects") /* kind, stage(s), the place that then throws the carrier back; return loss that the radio sees dB; 14 dB \
                                                    and more: a notch that stands first */                 \
  X (FAULT_REVERSED, "fault-reversed")         /* directional stage; power into its far end W, rating of the near end W or NaN */                  \
  X (SWEEP_NOT_USED, "sweep-not-used")         /* file, purpose: read and kept, not yet used in the judging */                                     \
  X (REPEATS, "repeats")                       /* ; number of keyed sweeps: the highest reading stands */                                          \
  X (STEPS_CONTRADICT, "steps-contradict")     /* ; order or 0, f Hz, chi-square over dof: no mixture of the two fits the steps */                 \
  X (WORSE_THAN_PROFILE, "worse-than-profile") /* ; order, f Hz, the analyzer's part by the steps dBm, q_high by the profile dBm */                \
  X (COMPRESSION, "compression")               /* file; carrier there dBm, in the keyed sweep dBm, U dB: it does not follow the step */            \
  X (STEP_CARRIER,                                                                                                                                 \
     "step-carrier") /* file, the keyed sweep's; carrier there dBm, keyed dBm, U dB, step dB or NaN where a chain of its own says \
                                                    it: the carrier does not stand still, so the step tests nothing */                \
  X (STEP_UNCHECKED, "step-unchecked") /* file; step dB: neither carrier nor noise shows that it was one, so it tests nothing */                   \
  X (STEP_NOISE, "step-noise") /* step's file, the keyed one; by dB less than the step lifts the analyzer's own noise beyond what phase \
                                                    noise explains (median), step dB, f Hz of the most */          \
  X (STEP_PAD, "step-pad")     /* file; the sheet's step dB, the step's chain over the keyed one's at f0 dB: the chain counts */                   \
  X (STEP_SPAN, "step-span")   /* file; f Hz: the step does not cover what was seen */                                                             \
  X (PRODUCT_CARRIED, "own-carried") /* condition; order that the profile has no intercept of, q_high here dBm by that one's step */               \
  X (STEP_SMALL, "step-small")       /* file; f Hz, dB that a product would move there, dB that a test needs */                                    \
  X (STEP_FLOOR, "step-floor")   /* file; f Hz, what it could have seen dBm, the emission dBm: it reaches no deeper, so proves nothing */          \
  X (SAME_EXPORT, "same-export") /* file, its purpose, file that holds the very same readings: kept, not used */                                   \
  X (SWEEPS_DISAGREE, "sweeps-disagree") /* file that stands, other; f Hz, level dBm, level or floor there dBm, U dB */                            \
  X (UNKEYED_SPAN, "unkeyed-span")       /* file; f Hz: the unkeyed sweep does not cover what was seen */                                          \
  X (UNKEYED_FLOOR, "unkeyed-floor")     /* file; f Hz, its floor dBm, the emission dBm: it reaches no deeper, so proves nothing */                \
  X (UNKEYED_CARRIER, "unkeyed-carrier") /* file; carrier there dBm, P dBm: the radio was keyed, so the sweep is not used */                       \
  X (NOISE_RISES, "noise-rises")         /* keyed file, unkeyed file; by dB beyond what phase noise explains (median), f Hz of \
                                                    the most: the input may be overloaded */                   \
  X (ODD_RASTER, "odd-raster") /* ; carrier Hz, other Hz, spacing Hz, strongest third-order product below it dB, fifth-order dB,   \
                                                    how many */               \
  X (SPURS_CUT, "spurs-cut")   /* file; peaks found, the highest listed */                                                                         \
  X (HARMONICS_ONLY, "harmonics-only") /* mask: names no search range, so only harmonics can be missing */                                         \
  X (AVERAGE_KIND_UNKNOWN,                                                                                                                         \
     "average-kind-unknown")       /* file: an average in each bucket, of powers, amplitudes or logarithms it does not say: the worst  \
                                                    of them counts */           \
  X (SUM_DETECTOR, "sum-detector") /* file; dB that the detector makes a sum of powers wrong */                                                    \
  X (PHASE_NOISE_HELD, "phase-noise-held") /* ; offset Hz: the table's end value held */                                                           \
  X (POWER_CLASS,                                                                                                                                  \
     "power-class") /* mask, rule below the edge, rule above it (NULL: none); P W, U dB, edge W: the stricter class is taken */                    \
  X (RATED_POWER, "rated-power")       /* ; measured W, rated W, measured over rated dB, U of P dB: apart by more than U */                        \
  X (NO_FUNDAMENTAL, "no-fundamental") /* ; frequency Hz sought or NaN */                                                                          \
  X (FUNDAMENTAL_NEAR_ZERO,                                                                                                                        \
     "fundamental-near-zero") /* file; stated Hz, the response at zero hertz reaches to Hz, RBW needed below Hz: no P; also why a \
                                                    verdict is not proven */                \
  X (FUNDAMENTAL_ELSEWHERE,                                                                                                                        \
     "fundamental-elsewhere")    /* file; stated Hz, the line taken stands at Hz, its level dBm: P is not to be trusted; also why \
                                                    a verdict is not proven */                \
  X (LINE_BESIDE, "line-beside") /* file; carrier Hz, the other line Hz, that line over the carrier dB: not added to P */                          \
  X (MODULATED, "modulated")     /* file; width Hz: the sheet says that the carrier is not, and the sweep shows that it is */                      \
  X (CARRIERS_DIFFER,                                                                                                                              \
     "carriers-differ") /* file, the first's; carrier there dBm, in the first dBm, U and drift dB: each sweep's emissions go by its own */         \
  X (NO_REFERENCE_BANDWIDTH, "no-reference-bandwidth") /* mask: sets none, read as it stands */                                                    \
  X (ASSUMED_DECIDES,                                                                                                                              \
     "assumed-decides") /* term ("self-heating", "temperature"), stage; its u in the margin dB, order (0: no harmonic) and Hz of the \
                                                    emission that decides, U of its margin dB: nobody stated it, and it is one of the two largest terms */             \
  X (CLASSES_NONE, "mask-not-for-this") /* mask; f0 Hz, P W: no rule of the mask applies */                                                        \
  /* -- how wide a signal is -- */                                                                                                                 \
  X (WIDTH_OF_FILTER, "width-of-filter") /* file; occupied Hz, a line's own there Hz, RBW Hz */                                                    \
  X (WIDTH_NOISE, "width-noise")         /* file; signal over the noise dB, how much of its power the noise leaves open % */                       \
  X (WIDTH_COARSE, "width-coarse")       /* file; spacing Hz, RBW Hz, dB that a line between points may read low */                                \
  /* -- why a verdict is what it is -- */                                                                                                          \
  X (BELOW_LIMIT, "below-limit")             /* seen and complies; margin dB, U dB */                                                              \
  X (RADIO_PART_BELOW, "radio-part-below")   /* seen and complies; the radio's part at most dBm, limit dBm, U dB, level dBm */                     \
  X (FLOOR_BELOW_LIMIT, "floor-below-limit") /* not seen and complies; floor dBm, limit dBm, U dB */                                               \
  X (ABOVE_LIMIT, "above-limit") /* exceeds; over by dB (negative: the reading lies below), U dB, the radio's own part by at least dB or \
                                                    NaN: within U the same */         \
  X (WITHIN_UNCERTAINTY, "within-uncertainty")     /* inconclusive; margin dB, U dB */                                                             \
  X (FLOOR_ABOVE_LIMIT, "floor-above-limit")       /* not seen, not proven; floor dBm, limit dBm, U dB, missing dB, cause */                       \
  X (NOT_SWEPT, "not-swept")                       /* ; frequency Hz */                                                                            \
  X (RADIO_PART_STRADDLES, "radio-part-straddles") /* inconclusive; the radio's part from dBm or NaN, to dBm, limit dBm, U dB */                   \
  X (UNTESTED, "untested")                         /* ; level dBm, limit dBm, U dB: whose emission is not known */                                 \
  X (ANALYZER_POSSIBLE,                                                                                                                            \
     "analyzer-possible") /* "may-cancel" where readings at two settings lie so far below q_high that the two may nearly cancel, or \
                                                    NULL; level dBm, q_high dBm, radio's part low dBm or NaN, high dBm, U dB */              \
  X (AMBIENT_POSSIBLE, "ambient-possible") /* ; level dBm, ambient dBm */                                                                          \
  X (AMBIENT_PART,                                                                                                                                 \
     "ambient-part") /* ; level dBm, ambient dBm, radio's part low dBm or NaN, high dBm, U dB: what stands there unkeyed may be \
                                                    so much of it that the verdict stays open */                  \
  X (FUNDAMENTAL_UNCALIBRATED, "fundamental-uncalibrated") /* ; f0 Hz */                                                                           \
  X (NO_NUMBER, "no-number")                               /* the mask sets no number here */                                                      \
  X (NO_POWER, "no-power")                                 /* the limit follows P and P is not known */                                            \
  X (POWER_LOWER_BOUND,                                                                                                                            \
     "power-lower-bound")          /* P comes from a clipped carrier; P at least dBm, the limit for that dBm, and for more power \
                                                    it may be from dBm, to dBm (NaN: none) */                 \
  X (NOT_RESOLVED, "not-resolved") /* file; f Hz, spacing Hz, RBW Hz, what stands too near: 0 zero hertz, 1 the carrier, n \
                                                    a harmonic: one reading shows both */                       \
  /* -- what an emission that is no harmonic may be -- */                                                                                          \
  X (BOUND_STRADDLES,                                                                                                                              \
     "bound-straddles") /* seen; as read dBm, in the reference bandwidth (or, of a band, in all) at least dBm, at most dBm, limit dBm, U dB, \
                                                    reference bandwidth Hz or NaN, RBW Hz */     \
  /* -- why a stretch is not proven (SpGap.why), beside FLOOR_ABOVE_LIMIT, UNDERSAMPLED, NOT_SWEPT, OUTSIDE_CALIBRATION, NO_POWER: no values -- */ \
  X (TOO_WIDE, "too-wide")                   /* the carrier hides it: an RBW, or a spacing, too wide for what the limit covers there */            \
  X (ZERO_HERTZ, "zero-hertz")               /* likewise the analyzer's response at zero hertz */                                                  \
  X (TRACE_ABOVE_LIMIT, "trace-above-limit") /* the trace stands above the limit there, and it is no emission that was told apart */               \
  X (SPUR_RELATION, "spur-relation")         /* ; n, divisor, m (negative: subtracted; 0: no clock), clock Hz, off by Hz, chance:       \
                                                    |n f0/divisor + m clock| is where it stands */          \
  X (HARMONIC_OR_OTHER, "harmonic-or-other") /* ; order, f Hz, known to +- Hz: that harmonic, or another line within */                            \
  X (SPUR_RESIDUAL, "spur-residual")         /* analyzer; f Hz and level dBm that its profile lists, off by Hz */                                  \
  /* -- what would prove it -- */                                                                                                                  \
  X (PROVE_FLOOR, "prove-floor")       /* floor's cause, "unsafe" where the chain is, so that no sweep is advised; missing dB  \
                                                    (floor + U + 3 - limit) */                   \
  X (PROVE_SETTING, "prove-setting")   /* detector, average, hold ("sample" "power" "none" ...; NULL: as it is); attenuation \
                                                    dB, RBW Hz, points, averages, parts side by side, pad dB (each NaN: as it is), floor  \
                                                    then dBm, then of that sweep: parts, key down s of each, pause s between them, basis  \
                                                    of the time (SpTimeBasis) */                     \
  X (PROVE_NOTCH, "prove-notch")       /* likewise, but value[5] is the depth on f0 of a notch, dB */                                              \
  X (PROVE_SPAN, "prove-span")         /* a whole sweep: detector, average, basis of the time; from Hz, to Hz, points of a part,   \
                                                    parts, RBW Hz, attenuation dB, averages, notch dB (NaN: none), key down s of a part,  \
                                                    pause s, floor dBm where it is least below the limit (NaN) */               \
  X (PROVE_SPAN_NOT, "prove-span-not") /* what stands in the way, see plan.h; from Hz, to Hz, missing dB (NaN), at Hz (NaN), key down \
                                                    s in all and the longest s (of "time") */            \
  X (PROVE_SWEEP, "prove-sweep")       /* ; sweep to Hz at least */                                                                                \
  X (PROVE_SAMPLING, "prove-sampling") /* ; spacing needed Hz, points needed for the span */                                                       \
  X (PROVE_RESOLVE, "prove-resolve")   /* ; spacing Hz, RBW Hz (NaN: as it is), each at most: what not-resolved asks for */                        \
  X (PROVE_NARROWER, "prove-narrower") /* ; RBW Hz at most, with readings that can be added up */                                                  \
  X (PROVE_CALIBRATION, "prove-calibration") /* ; calibrate at Hz */                                                                               \
  X (PROVE_BESIDE, "prove-beside")           /* texts and values as PROVE_SETTING, but as a step beside the sweep that there is; the  \
                                                    radio's part then at most dBm */            \
  X (PROVE_STEP, "prove-step")         /* "pad" or NULL: the attenuator, condition whose step would settle several (NULL: this alone); \
                                                    more attenuation dB for a step sweep, order (0: no harmonic), how many */           \
  X (PROVE_STEP_PAD, "prove-step-pad") /* the attenuator has no step that serves; a pad of dB */                                                   \
  X (PROVE_STEP_NOISE, "prove-step-noise") /* "pad" or NULL; a step of dB would drown the line: so much less noise first, dB */                    \
  X (PROVE_RESIDUAL, "prove-residual")     /* the analyzer makes it without a signal; f Hz */                                                      \
  X (PROVE_REFERENCE, "prove-reference")   /* ; clipped reading dBm: the reference level above it, or a meter's reading */                         \
  X (PROVE_RBW, "prove-rbw")               /* ; RBW below Hz */                                                                                    \
  X (PROVE_AMBIENT, "prove-ambient")       /* ; f Hz: both sweeps again where that signal is silent or kept out */                                 \
  X (PROVE_UNCERTAINTY,                                                                                                                            \
     "prove-uncertainty") /* largest term, of the two largest the one that nobody stated or NULL, its stage; less U needed dB */

typedef enum {
#define X(name, text) SP_REASON_##name,
  SP_REASON_LIST (X)
#undef X
      SP_N_REASONS
} SpReasonCode;

typedef struct {
  SpReasonCode code;
  double value[SP_REASON_VALUES]; /* NaN where unused */
  char *text[SP_REASON_TEXTS];    /* NULL where unused */
} SpReason;

typedef enum { SP_KEY_OF_NOBODY, SP_KEY_OF_BENCH, SP_KEY_OF_RADIO, SP_KEY_OF_CONDITION } SpKeyHome;

/* The stable name, e.g. "label-used". */
const char *sp_reason_name (SpReasonCode code);

/* Texts may be NULL; then `n_values` doubles follow. Reference counted and immutable. (transfer full) */
SpReason *sp_reason_new (SpReasonCode code, const char *text0, const char *text1, const char *text2, guint n_values, ...);
SpReason *sp_reason_ref (const SpReason *reason);
void sp_reason_unref (SpReason *reason);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpReason, sp_reason_unref)

/* A list of SpReason* that frees them. (transfer full) */
GPtrArray *sp_reasons_new (void);
/* Takes `reason`; one equal in code, texts and values that is there already is not repeated. */
void sp_reasons_add (GPtrArray *reasons, SpReason *reason);
/* Adds references to all of `more` that are not there yet. */
void sp_reasons_extend (GPtrArray *reasons, GPtrArray *more);
gboolean sp_reasons_have (GPtrArray *reasons, SpReasonCode code);
