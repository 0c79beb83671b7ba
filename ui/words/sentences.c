/* sentences.c - the sentences of each code, with named places (speak.h) */
#include "ui/words/speak.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/headroom/headroom.h"

/* by hand: one code a row; a sentence breaks where its text does */
/* clang-format off */
#define COARSE(loss_db) (!((loss_db) <= SP_BLIND_LOSS_DB))

WHEN (whole_group, UNKNOWN_KEY, !f->key || !*f->key)
WHEN (belongs_elsewhere, UNKNOWN_KEY, f->home != SP_KEY_OF_NOBODY)
WHEN (no_tolerance, LABEL_USED, isnan (f->tolerance_db))
WHEN (tiny_u, U_ASSUMED, f->assumed_db < 0.01) /* 0.005 must not be shown as 0.01 */
WHEN (frequency_lacks, TONE_LACKS, g_strcmp0 (f->key, "tone_hz") == 0)
WHEN (unmodulated, TONE_UNLIKE, f->modulation == SP_MODULATION_NONE)
WHEN (of_frequencies, UNIT_ASSUMED, g_strcmp0 (f->of, "frequency") == 0)
WHEN (of_levels, UNIT_ASSUMED, g_strcmp0 (f->of, "level") == 0)
WHEN (comma, DECIMAL_DECIDED, g_strcmp0 (f->mark, "comma") == 0)
#define WANTS(name, word) WHEN (name, RUN_WANTS, g_strcmp0 (f->what, word) == 0)
WANTS (wants_stage, "stage") WANTS (wants_frequency, "frequency")
WANTS (wants_one_row, "frequency-once") WANTS (wants_before, "before")
WANTS (wants_inserted, "inserted") WANTS (wants_after, "after")
WANTS (wants_times, "times") WANTS (wants_loss, "loss")
WANTS (wants_analyzer, "analyzer") WANTS (wants_level, "level")
WANTS (wants_shows, "shows")
WHEN (setting_unsaid, CHECK_BEYOND, isnan (f->attenuation_db))
WHEN (settings_known, CHECK_SETTING, !isnan (f->attenuation_db) && !isnan (f->others_db))
WHEN (points_tell, CHECK_BETWEEN, f->points > 0)
WHEN (seen_coarse, UNDERSAMPLED, f->seen && COARSE (f->loss_db))
WHEN (seen, UNDERSAMPLED, f->seen)
WHEN (coarse, UNDERSAMPLED, COARSE (f->loss_db))
WHEN (carrier_coarse, CARRIER_UNDERSAMPLED, COARSE (f->loss_db))
WHEN (flat_top, CLIPPED, isnan (f->reference_dbm))
WHEN (whole_chain, OUTSIDE_CALIBRATION, !f->stage || !*f->stage)
WHEN (throws_back, UNSAFE, f->throws_back && f->headroom_db < 0)
WHEN (notch_first, UNSAFE, f->throws_back)
WHEN (rating_unknown, UNSAFE, isnan (f->rating_w))
WHEN (notch_would_be_first, FAULT_REFLECTS, f->return_loss_db >= SP_RETURN_LOSS_LEAST_DB)
WHEN (unrated, FAULT_REVERSED, isnan (f->rating_w))
WHEN (overloaded_setting, OVERLOAD, f->shown && !isnan (f->attenuation_db))
WHEN (overloaded, OVERLOAD, f->shown)
WHEN (too_loud_setting, OVERLOAD, !isnan (f->attenuation_db))
WHEN (compressed, COMPRESSION, f->overloaded)
WHEN (own_chain, STEP_CARRIER, isnan (f->step_db))
WHEN (less, RATED_POWER, f->over_db < 0)
WHEN (not_sought, NO_FUNDAMENTAL, isnan (f->sought_hz))
WHEN (wrong_unknown, SUM_DETECTOR, isnan (f->wrong_db))
WHEN (power_unknown, CLASSES_NONE, isnan (f->power_w))
WHEN (more_than_seen, RADIO_PART_BELOW, f->part_dbm > f->level_dbm)
WHEN (reads_below, ABOVE_LIMIT, f->over_db < 0)
WHEN (part_lies, ABOVE_LIMIT, !isnan (f->part_over_db))
WHEN (part_below, BELOW_LIMIT, !isnan (f->part_off_db))
WHEN (lies_above, WITHIN_UNCERTAINTY, f->margin_db < 0)
WHEN (straddles_from_nothing, RADIO_PART_STRADDLES, !isfinite (f->part_low_dbm))
WHEN (cancels_to_nothing, ANALYZER_POSSIBLE, f->may_cancel && !isfinite (f->part_low_dbm))
WHEN (cancels, ANALYZER_POSSIBLE, f->may_cancel)
WHEN (all_by_steps, ANALYZER_POSSIBLE, isnan (f->product_dbm) && !isfinite (f->part_low_dbm))
WHEN (some_by_steps, ANALYZER_POSSIBLE, isnan (f->product_dbm))
WHEN (all_foreseen, ANALYZER_POSSIBLE, !isfinite (f->part_low_dbm))
WHEN (ambient_from_nothing, AMBIENT_PART, !isfinite (f->part_low_dbm))
WHEN (no_end, POWER_LOWER_BOUND, isnan (f->limit_high_dbm))
WHEN (beside_zero, NOT_RESOLVED, f->beside_order == 0)
WHEN (beside_carrier, NOT_RESOLVED, f->beside_order == 1)
WHEN (no_reference, BOUND_STRADDLES, isnan (f->reference_hz))
WHEN (floor_unsafe, PROVE_FLOOR, f->unsafe)
WHEN (spacing_only, PROVE_RESOLVE, isnan (f->rbw_hz))
WHEN (by_pad, PROVE_STEP, f->pad)
WHEN (noise_by_pad, PROVE_STEP_NOISE, f->pad)
WHEN (beside_as_it_is, PROVE_BESIDE, isnan (f->pad_db))
WHEN (nothing_assumed, PROVE_UNCERTAINTY, f->assumed == SP_NO_WORD)
WHEN (largest_assumed, PROVE_UNCERTAINTY, f->largest == f->assumed)
#define CHANGES (f->no_hold || f->detector != SP_NO_WORD || (f->average != SP_NO_WORD && f->average != SP_AVERAGE_NONE) \
                 || !isnan (f->attenuation_db) || !isnan (f->rbw_hz) || !isnan (f->points) || !isnan (f->averages) || !isnan (f->parts))
WHEN (notch_alone, PROVE_NOTCH, !CHANGES)
WHEN (pad_alone, PROVE_SETTING, !isnan (f->pad_db) && !CHANGES)
WHEN (pad_too, PROVE_SETTING, !isnan (f->pad_db))
#define HINDERS(name, what) WHEN (name, PROVE_SPAN_NOT, f->obstacle == SP_OBSTACLE_##what)
HINDERS (by_phase_noise, PHASE_NOISE) HINDERS (by_noise, NOISE)
HINDERS (by_product, PRODUCT) HINDERS (by_skirt, SKIRT)
HINDERS (by_zero_hertz, ZERO_HERTZ) HINDERS (by_time, TIME)
HINDERS (by_danger, UNSAFE)
WHEN (too_close, PROVE_SPAN_NOT, f->obstacle == SP_OBSTACLE_SKIRT && isnan (f->missing_db))

static const Sentence *const said[] = {
#define SAYS(CODE, ...) [SP_REASON_##CODE] = SENTENCES (__VA_ARGS__),
#define ALWAYS(text) { NULL, text }

/* -- warnings of the files -- */
SAYS (UNKNOWN_KEY,
  { whole_group, N_ ("{file}, line {line}: nothing here is called [{group}]; the group is kept as it stands and not used.") },
  { belongs_elsewhere, N_ ("{file}, line {line}: {key} stands in [{group}], which has no such key: it belongs in {belongs}. Here it is "
                           "kept as it stands and not used.") },
  ALWAYS (N_ ("{file}, line {line}: [{group}] has no key {key}; it is kept as it stands and not used.")))
SAYS (NOT_YET_USED, ALWAYS (N_ ("{file}, line {line}: [{group}] {key} is understood and kept, but no computation uses it yet.")))
SAYS (LABEL_USED,
  { no_tolerance, N_ ("The loss of {stage} was not measured: its label value of {label_db} dB stands in for it, without a tolerance.") },
  ALWAYS (N_ ("The loss of {stage} was not measured: its label value of {label_db} dB stands in for it, with the tolerance of "
              "{tolerance_db} dB.")))
SAYS (NOT_CALIBRATED, ALWAYS (N_ ("{stage} is not calibrated: it has neither measured points nor a label with tolerance and span; "
                                  "{label_db} dB is assumed and nothing can comply through it.")))
SAYS (U_ASSUMED,
  { tiny_u, N_ ("No uncertainty is given for {what_words} of {of}: {assumed_db:3} dB is assumed.") },
  ALWAYS (N_ ("No uncertainty is given for {what_words} of {of}: {assumed_db:2} dB is assumed.")))
SAYS (VSWR_ASSUMED, ALWAYS (N_ ("No VSWR is given for {of}: {vswr} is assumed.")))
SAYS (TONE_LACKS,
  { frequency_lacks, N_ ("{condition} is modulated with a tone, whose frequency is not given (tone_hz): what the sweeps do not show of "
                         "its width is taken from the necessary bandwidth.") },
  ALWAYS (N_ ("{condition} is modulated with a tone, whose deviation is not given (deviation_hz): what the sweeps do not show of its "
              "width is taken from the necessary bandwidth.")))
SAYS (TONE_UNLIKE,
  { unmodulated, N_ ("{condition} is said to be unmodulated (modulation=none), and a tone of {tone_hz} is given (tone_hz): one of the "
                     "two is not so.") },
  ALWAYS (N_ ("{condition} is said to be modulated with {modulation}, and a tone of {tone_hz} is given (tone_hz): one of the two is not "
              "so.")))
SAYS (RATING_MISSING, ALWAYS (N_ ("No power rating is given for {place}: nobody can say whether it survives.")))
SAYS (CALIBRATION_OLD, ALWAYS (N_ ("The calibration of {of} is {age_days} days old; its interval is {interval_days} days.")))
SAYS (CALIBRATION_LATER, ALWAYS (N_ ("The calibration of {of} is dated {later_days} days after the bench: it says nothing of that day.")))
SAYS (AGES_UNCHECKED, ALWAYS (N_ ("The bench has no date: the ages of the calibrations in {chain} are not checked.")))
SAYS (BANDWIDTH_ASSUMED, ALWAYS (N_ ("No necessary bandwidth is given: {assumed_hz} is assumed.")))
SAYS (STEP_UNKNOWN, ALWAYS (N_ ("{file} does not say which attenuation it was taken with: the sheet's step of {step_db} dB is believed.")))
SAYS (RUN_WANTS,
  { wants_stage, N_ ("Say which stage the run is of.") },
  { wants_frequency, N_ ("Give the frequency of the readings, above 0.") },
  { wants_one_row, N_ ("{at_hz} stands twice: put its readings into one row.") },
  { wants_before, N_ ("At {at_hz} the reference reading before the stage was put in is wanting, or is no number.") },
  { wants_inserted, N_ ("At {at_hz} the reading with the stage put in is wanting, or is no number.") },
  { wants_after, N_ ("At {at_hz} a reference reading after the stage was taken out is no number.") },
  { wants_times, N_ ("At {at_hz} the minutes run back, or only some readings have one: before, inserted, after, in this order.") },
  { wants_loss, N_ ("At {at_hz} the readings give a loss that no stage has (below -0.5 or above 300 dB): are reference and inserted "
                    "exchanged?") },
  { wants_analyzer, N_ ("Say which analyzer was checked.") },
  { wants_level, N_ ("At {at_hz} the known level is wanting, or is no number.") },
  { wants_shows, N_ ("At {at_hz} what the analyzer shows is wanting, or is no number.") },
  ALWAYS (N_ ("What stands for {what} is outside its range.")))
SAYS (CHECK_BEYOND,
  { setting_unsaid, N_ ("At {at_hz} the correction of {of} is {correction_db:+2} dB, beyond the {stated_db:2} dB that its accuracy and "
                        "flatness allow together: measure it again; if it stays, the correction takes it.") },
  ALWAYS (N_ ("At {at_hz}, {attenuation_db} dB of attenuation, the correction of {of} is {correction_db:+2} dB, beyond the {stated_db:2} dB "
              "that its accuracy and flatness allow together: measure it again; if it stays, the correction takes it.")))
SAYS (CHECK_SETTING,
  { settings_known, N_ ("At {at_hz} nothing was read at {others_db} dB of attenuation, as at most frequencies, only at {attenuation_db} dB: "
                        "its correction is not used; read it at {others_db} dB too.") },
  ALWAYS (N_ ("At {at_hz} nothing was read with the attenuator set as at most frequencies: its correction is not used; read it with that "
              "setting too.")))
SAYS (CHECK_SWITCHING, ALWAYS (N_ ("The profile takes the correction of {of} at {attenuation_db} dB of attenuation alone. With other settings it "
                                   "differs by {least_db:+2} to {most_db:+2} dB: for them only the uncertainty of switching the attenuator "
                                   "counts, u {u_db:2} dB.")))
SAYS (CHECK_BETWEEN,
  { points_tell, N_ ("Between its points the correction of {of} is a guess: midway u is {u_db:2} dB more, by how far {points} of them miss the "
                     "line of their neighbours. Check more frequencies, first between {low_hz} and {high_hz}.") },
  ALWAYS (N_ ("Between its points the correction of {of} is a guess: midway u is {u_db:2} dB more, as flatness is stated. Check more "
              "frequencies, first between {low_hz} and {high_hz}.")))
SAYS (REPEATS_WANDER, ALWAYS (N_ ("The repeats of {stage} at {at_hz} wander by {change_db:3} dB, more than their scatter of "
                                  "{scatter_db:3} dB: something warms up, or a plug was touched; wait and repeat.")))
SAYS (LINE_LENGTH, ALWAYS (N_ ("The line of {line_m} m to the meter is near an eighth of a wave or longer from {from_hz} on "
                               "({eighth_m:3} m): the mismatch turns over small changes of frequency; put a pad at its end or shorten "
                               "it.")))
SAYS (METER_FLOOR, ALWAYS (N_ ("A reading at {at_hz} lies at {reading_dbm}, within 10 dB of the meter's floor at {floor_dbm}: noise "
                               "makes the loss look too small.")))

/* -- reading traces -- */
SAYS (LINES_SKIPPED, ALWAYS (N_ ("{file}: lines that do not parse were left out as asked ({lines} of them, the first is line "
                                 "{first_line}).")))
SAYS (TRAILING_BLOCK, ALWAYS (N_ ("{file}: the data ends before line {line}; what follows (\"{words}\") is not read as points.")))
SAYS (COLUMN_CHOSEN, ALWAYS (N_ ("{file} holds {columns} level columns: {column} is read; ?column= picks another.")))
SAYS (DECIMAL_DECIDED,
  { comma, N_ ("{file}: the comma is taken for the decimal mark, as only that fits the whole file.") },
  ALWAYS (N_ ("{file}: the point is taken for the decimal mark, as only that fits the whole file.")))
SAYS (FREQUENCY_DECIDED, ALWAYS (N_ ("{file}: column {column} is taken for the frequency, though another goes one way too; "
                                     "?frequency_column= picks another.")))
SAYS (UNIT_ASSUMED,
  { of_frequencies, N_ ("{file} does not name the unit of its frequencies: {unit} is assumed.") },
  { of_levels, N_ ("{file} does not name the unit of its levels: {unit} is assumed; ?unit= states another.") },
  ALWAYS (N_ ("{file} gives a number without a unit for {of}: {unit} is assumed.")))
SAYS (ORDER_REVERSED, ALWAYS (N_ ("{file} runs from high to low frequency: its points are turned round.")))
SAYS (SPACING_JUMPS, ALWAYS (N_ ("{file}: at {at_hz} the spacing of its points goes from {below_hz} to {above_hz}, and it states one "
                                 "RBW of {rbw_hz} for both: each stretch is judged for itself; state the RBW of each, as in "
                                 "?from=60MHz&rbw=30kHz.")))
SAYS (SETTING_IGNORED, ALWAYS (N_ ("{file}, line {line}: {key} looks like a setting, but its value \"{value}\" is not understood.")))

/* -- judging -- */
SAYS (RBW_UNKNOWN, ALWAYS (N_ ("{file} does not say its resolution bandwidth: give it as ?rbw=; until then the worst case counts.")))
SAYS (DETECTOR_UNKNOWN, ALWAYS (N_ ("{file} does not say its detector and average, or uses a detector whose readings have no single "
                                    "law: the worst case counts; ?detector= and ?average= state them.")))
SAYS (ATTENUATION_UNKNOWN, ALWAYS (N_ ("{file} does not say the analyzer's attenuation: what the mixer makes of the carrier cannot be "
                                       "predicted; give it as ?attenuation=.")))
SAYS (UNDERSAMPLED,
  { seen_coarse, N_ ("Seen, but in {file} the points lie {spacing_hz} apart, RBW {rbw_hz}: a line between them may stand far higher "
                     "than it reads, so that this one reads no higher proves nothing.") },
  { seen, N_ ("Seen, but in {file} the points lie {spacing_hz} apart, RBW {rbw_hz}: it may stand {loss_db} dB higher than it reads, and "
              "that alone leaves the verdict open.") },
  { coarse, N_ ("{file} is undersampled: points {spacing_hz} apart, RBW {rbw_hz}; a line between them may vanish, so nothing seen means "
                "nothing.") },
  ALWAYS (N_ ("{file} is undersampled: points {spacing_hz} apart, RBW {rbw_hz}; a line between them may read {loss_db} dB low, which "
              "the floor holds.")))
SAYS (CARRIER_UNDERSAMPLED,
  { carrier_coarse, N_ ("{file} is undersampled (points {spacing_hz} apart, RBW {rbw_hz}): the carrier may vanish between them, so "
                        "neither the power nor the mixer level is taken from it.") },
  ALWAYS (N_ ("{file} is undersampled (points {spacing_hz} apart, RBW {rbw_hz}): the carrier may read {loss_db} dB low, so neither the "
              "power nor the mixer level is taken from it.")))
SAYS (CLIPPED,
  { flat_top, N_ ("{file} has a flat top at {reading_dbm} ({points} equal points): it may be clipped, so of the power it gives a lower "
                  "bound.") },
  ALWAYS (N_ ("{file} reads {reading_dbm}, at or above its reference level of {reference_dbm}: it may be clipped, so of the power it "
              "gives a lower bound.")))
SAYS (POWER_FROM_STEP, ALWAYS (N_ ("The carrier of {keyed_file} may be clipped at {clipped_dbm}: the power is the {power_dbm} that "
                                   "{file} shows.")))
SAYS (OUTSIDE_CALIBRATION,
  { whole_chain, N_ ("The chain is not calibrated at {at_hz}: the loss there is only an extrapolation.") },
  ALWAYS (N_ ("{stage} is not calibrated at {at_hz}: its loss there is only an extrapolation.")))
SAYS (FLOOR_OFF_PROFILE, ALWAYS (N_ ("{file}: the noise stands {off_db:+1} dB from what the analyzer's profile says.")))
SAYS (METER_DISAGREES, ALWAYS (N_ ("The power meter says {meter_dbm} and the trace {trace_dbm}: they differ by more than the U of "
                                   "{expanded_db} dB.")))
SAYS (OVERLOAD,
  { overloaded_setting, N_ ("{file}: the analyzer was overloaded, {mixer_dbm} at its mixer, {over_db} dB over its best level of "
                            "{best_mixer_dbm}. Sweep again with {attenuation_db} dB of attenuation.") },
  { overloaded, N_ ("{file}: the analyzer was overloaded, {mixer_dbm} at its mixer, {over_db} dB over its best level of "
                    "{best_mixer_dbm}. Sweep again with as much more before it, in its attenuator or a pad.") },
  { too_loud_setting, N_ ("{file}: {mixer_dbm} at the mixer, {over_db} dB above the best level of {best_mixer_dbm}: the analyzer's own "
                          "products count; {attenuation_db} dB of attenuation would keep below it.") },
  ALWAYS (N_ ("{file}: {mixer_dbm} at the mixer, {over_db} dB above the best level of {best_mixer_dbm}: the analyzer's own products "
              "count.")))
SAYS (UNSAFE,
  { throws_back, N_ ("Unsafe: {place} throws the carrier back; the radio sees a return loss of only {return_loss_db} dB.") },
  { notch_first, N_ ("Unsafe: {place} stands first and throws the carrier back at the radio: put a pad before it.") },
  { rating_unknown, N_ ("Unsafe: {place} gets {power_w} ({level_dbm}).") },
  ALWAYS (N_ ("Unsafe: {place} takes {power_w}, rated {rating_w}: {headroom_db} dB of headroom.")))
SAYS (DC_PATH, ALWAYS (N_ ("Every stage passes DC, and {analyzer} takes {most_v} V at most: make sure the radio puts none on its "
                           "socket.")))
SAYS (FAULT, ALWAYS (N_ ("With {fault}, {worst_place} would get {power_w}, rated {rating_w}: {headroom_db} dB of headroom.")))
SAYS (FAULT_REFLECTS,
  { notch_would_be_first, N_ ("Unsafe with {fault}: {reflector} would stand first and throw the carrier back at the radio.") },
  ALWAYS (N_ ("Unsafe with {fault}: {reflector} would throw the carrier back; the radio would see a return loss of only "
              "{return_loss_db} dB.")))
SAYS (FAULT_REVERSED,
  { unrated, N_ ("With {stage} the wrong way round, {power_w} would go into its far end, which has no rating.") },
  ALWAYS (N_ ("With {stage} the wrong way round, {power_w} would go into its far end, which has no rating: its {rating_w} hold the "
              "right way round only.")))
SAYS (SWEEP_NOT_USED, ALWAYS (N_ ("{file} ({purpose} sweep) is kept but not used: without a chain of its own nobody knows what the "
                                  "notch takes from the harmonics. Give it one beside the sweep, in the condition's dialog, or by "
                                  "notched_chain= in the sheet.")))
SAYS (REPEATS, ALWAYS (N_ ("{sweeps} keyed sweeps: of each emission the highest reading stands; mean and scatter are listed beside it.")))
SAYS (STEPS_CONTRADICT, ALWAYS (N_ ("At {at_hz} the steps contradict each other: no mixture of the radio's and the analyzer's part "
                                    "reads like that.")))
SAYS (WORSE_THAN_PROFILE, ALWAYS (N_ ("At {at_hz} the steps show {product_dbm} of the analyzer's own, where its profile allows "
                                      "{profile_dbm}: it is overloaded, or its intercepts are worse than stated.")))
SAYS (COMPRESSION,
  { compressed, N_ ("{file}: the carrier reads {moved_db} dB higher there than in the keyed sweep, where {expanded_db} dB could be chance: "
                    "the overloaded analyzer read power and dBc that much too low, or the radio's power changed.") },
  ALWAYS (N_ ("{file}: the carrier reads {carrier_dbm} there and {keyed_dbm} in the keyed sweep, more than the "
                               "{expanded_db} dB that could be chance: the analyzer was overloaded, or the radio's power changed.")))
SAYS (STEP_CARRIER,
  { own_chain, N_ ("{file} tests nothing: the carrier, which is the radio's and must stand still, reads {carrier_dbm} there and "
                   "{keyed_dbm} in {keyed_file}, more than the {expanded_db} dB that could be chance. The chain given for it may not be "
                   "the one it was taken through; else sweep again with the same power.") },
  ALWAYS (N_ ("{file} tests nothing: the carrier, which is the radio's and must stand still, reads {carrier_dbm} there and {keyed_dbm} "
              "in {keyed_file}, more than the {expanded_db} dB that could be chance. If the {step_db} dB are a pad outside, give the "
              "step its chain (step_chain= in the sheet); else sweep again with the same power.")))
SAYS (STEP_UNCHECKED, ALWAYS (N_ ("{file} tests nothing: neither the carrier nor the noise in it shows that the analyzer's attenuation "
                                  "changed by {step_db} dB. Sweep again with the carrier in it, and points no further apart than the "
                                  "RBW.")))
SAYS (STEP_NOISE, ALWAYS (N_ ("{file}: a step of {step_db} dB lifts the analyzer's own noise by as much over that of {keyed_file}; it "
                              "stands {short_db} dB lower, beyond what phase noise explains, most at {at_hz}: the attenuation is not "
                              "what is stated, the analyzer's input was overloaded, or the transmitter's own noise is broad.")))
SAYS (STEP_PAD, ALWAYS (N_ ("{file} is given as a step of {step_db} dB, but its chain loses {chain_db:1} dB more than that of the keyed "
                            "sweep: the chain counts.")))
SAYS (STEP_SPAN, ALWAYS (N_ ("{file} does not cover {at_hz}: the step tests nothing there.")))
SAYS (PRODUCT_CARRIED, ALWAYS (N_ ("What the analyzer makes at the harmonic of order {order} is known from the step test of "
                                   "{condition}, which had no less at the mixer: at most {product_dbm} here.")))
SAYS (STEP_SMALL, ALWAYS (N_ ("{file}: at {at_hz} what the analyzer makes would move by only {moves_db} dB from the keyed sweep; under "
                              "{wanted_db} dB a step tests nothing.")))
SAYS (STEP_FLOOR, ALWAYS (N_ ("{file} would have shown only what is above {detection_dbm} at {at_hz}, where {level_dbm} was seen: the "
                              "step tests nothing there.")))
SAYS (SAME_EXPORT, ALWAYS (N_ ("{file} ({purpose} sweep) holds the very same readings as {other_file}: one export is one sweep, so this "
                               "one is kept but not used.")))
SAYS (SWEEPS_DISAGREE, ALWAYS (N_ ("At {at_hz} {file} shows {level_dbm}, {other_file} no more than {other_dbm}; U of the difference is "
                                   "{expanded_db} dB. The worse stands.")))
SAYS (UNKEYED_SPAN, ALWAYS (N_ ("{file}, taken with the radio not keyed, does not cover {at_hz}: what is seen there may come from the "
                                "air.")))
SAYS (UNKEYED_FLOOR, ALWAYS (N_ ("{file}, taken with the radio not keyed, would have shown only what is above {floor_dbm} at {at_hz}, "
                                 "where {level_dbm} was seen: it proves nothing there.")))
SAYS (UNKEYED_CARRIER, ALWAYS (N_ ("{file}, given as taken with the radio not keyed, shows the carrier at {carrier_dbm}, the keyed "
                                   "sweep {power_dbm}: the radio was keyed, so this sweep is not used.")))
SAYS (NOISE_RISES, ALWAYS (N_ ("{file}: its noise stands {rise_db} dB over that of the unkeyed {unkeyed_file}, beyond what phase noise "
                               "explains, most at {at_hz}: the analyzer's input may be overloaded, or the transmitter's own noise is "
                               "broad; more attenuation tells which.")))
SAYS (ODD_RASTER, ALWAYS (N_ ("{products} products stand in a raster of {spacing_hz} about {carrier_hz} and {other_hz}, third order "
                              "{third_db} dB and fifth order {fifth_db} dB below the carrier: two signals at an overloaded input make "
                              "that, or two at the transmitter; more attenuation tells which.")))
SAYS (SPURS_CUT, ALWAYS (N_ ("{file} holds {peaks} peaks that are no harmonics: the highest {listed} are listed.")))
SAYS (HARMONICS_ONLY, ALWAYS (N_ ("{mask} names no search range: only the harmonics can be missing, other spurs count where they were "
                                  "swept.")))
SAYS (AVERAGE_KIND_UNKNOWN, ALWAYS (N_ ("{file} averages within each point and does not say of what: of power, voltage and logarithm "
                                        "the worst counts; ?average=power, voltage or log states it.")))
SAYS (SUM_DETECTOR,
  { wrong_unknown, N_ ("{file}: its detector or hold picks single readings, so that a sum of powers is wrong by an unknown amount, too "
                       "high for a greatest reading.") },
  ALWAYS (N_ ("{file}: its detector makes a sum of powers wrong by about {wrong_db} dB.")))
SAYS (PHASE_NOISE_HELD, ALWAYS (N_ ("The phase noise table ends at {offset_hz} from the carrier: beyond, its end value is held.")))
SAYS (POWER_CLASS, ALWAYS (N_ ("{mask}: the power of {power_w} with U {expanded_db} dB straddles the class edge at {edge_w}, between "
                               "\"{below}\" and \"{above}\"; the stricter class counts.")))
SAYS (RATED_POWER,
  { less, N_ ("The measured power of {power_w} is {over_db:|1} dB less than the rated {rated_w}; its U is {expanded_db} dB.") },
  ALWAYS (N_ ("The measured power of {power_w} is {over_db:|1} dB more than the rated {rated_w}; its U is {expanded_db} dB.")))
SAYS (NO_FUNDAMENTAL,
  { not_sought, N_ ("No fundamental was found in the keyed sweeps: give its frequency, or a sweep that holds it.") },
  ALWAYS (N_ ("No fundamental was found at {sought_hz} in the keyed sweeps.")))
SAYS (FUNDAMENTAL_NEAR_ZERO, ALWAYS (N_ ("{file} cannot show the fundamental at {stated_hz}: up to {response_hz} the analyzer's own "
                                         "response at zero hertz stands; an RBW narrower than {rbw_hz} clears it.")))
SAYS (FUNDAMENTAL_ELSEWHERE, ALWAYS (N_ ("{file} shows no fundamental at {stated_hz} as stated, but a line at {line_hz} of {line_dbm}: "
                                         "whether that is the radio's carrier is not known, so its power is not to be trusted. State "
                                         "the frequency that was sent.")))
SAYS (LINE_BESIDE, ALWAYS (N_ ("{file}: beside the carrier at {carrier_hz} another line stands at {line_hz}, {over_db:+1} dB against "
                               "it: it is not part of the power.")))
SAYS (MODULATED, ALWAYS (N_ ("{file} shows a carrier {width_hz} wide, where the sheet says that it was not modulated: what is measured "
                             "counts.")))
SAYS (CARRIERS_DIFFER, ALWAYS (N_ ("{file} shows the carrier at {carrier_dbm}, {first_file} at {first_dbm}, more than the {expanded_db} "
                                   "dB that U and drift explain: each sweep's emissions go by its own carrier, and the worst margin "
                                   "stands.")))
SAYS (NO_REFERENCE_BANDWIDTH, ALWAYS (N_ ("{mask} sets no reference bandwidth: levels are compared as they were read.")))
SAYS (ASSUMED_DECIDES, ALWAYS (N_ ("The verdict stands on an assumed term: {term}, u {u_db:2} dB, is one of the two largest for the "
                                   "{emission}, and nobody stated it for {stage}: {settles}.")))
SAYS (CLASSES_NONE,
  { power_unknown, N_ ("No rule of {mask} applies to a fundamental of {fundamental_hz}.") },
  ALWAYS (N_ ("No rule of {mask} applies to a fundamental of {fundamental_hz} at {power_w}.")))

/* -- width of a signal -- */
SAYS (WIDTH_OF_FILTER, ALWAYS (N_ ("{file}: the occupied bandwidth of {occupied_hz} is hardly wider than the {line_hz} that a mere line "
                                   "would show through an RBW of {rbw_hz}: take a narrower RBW.")))
SAYS (WIDTH_NOISE, ALWAYS (N_ ("{file}: the signal's peak stands only {over_db} dB over the noise, whose scatter over this span leaves "
                               "{left_percent} % of the power open: the occupied bandwidth is not sure; take a narrower span, or "
                               "average.")))
SAYS (WIDTH_COARSE, ALWAYS (N_ ("{file}: its points lie {spacing_hz} apart with an RBW of {rbw_hz}: a line between them may read "
                                "{loss_db} dB low, and a width is known to a point's distance.")))

/* -- reasons of a verdict -- */
SAYS (BELOW_LIMIT,
  { part_below, N_ ("Seen {margin_db} dB below the limit, U {expanded_db} dB; the radio's own part lies at least {part_off_db} dB below "
                    "it.") },
  ALWAYS (N_ ("{margin_db} dB below the limit, U {expanded_db} dB.")))
SAYS (RADIO_PART_BELOW,
  { more_than_seen, N_ ("Seen at {level_dbm}, but some may be cancelled: the radio's part is at most {part_dbm}, below the "
                        "limit of {limit_dbm}, U {expanded_db} dB.") },
  ALWAYS (N_ ("Seen at {level_dbm}, but the radio's own part is at most {part_dbm}: below the limit of {limit_dbm}, U {expanded_db} dB.")))
SAYS (FLOOR_BELOW_LIMIT, ALWAYS (N_ ("Not seen, and levels above {floor_dbm} would have been: below the limit of {limit_dbm}, U "
                                     "{expanded_db} dB.")))
SAYS (ABOVE_LIMIT,
  { reads_below, N_ ("Seen {over_db:|1} dB below the limit, U {expanded_db} dB, but only because what the analyzer makes takes some "
                     "off: the radio's own part lies at least {part_over_db} dB above it.") },
  { part_lies, N_ ("Seen {over_db} dB above the limit, U {expanded_db} dB; the radio's own part lies at least {part_over_db} dB above "
                   "it.") },
  ALWAYS (N_ ("{over_db} dB above the limit, U {expanded_db} dB.")))
SAYS (WITHIN_UNCERTAINTY,
  { lies_above, N_ ("{margin_db:|1} dB above the limit, within the U of {expanded_db} dB: it may lie on either side.") },
  ALWAYS (N_ ("{margin_db} dB below the limit, within the U of {expanded_db} dB: it may lie on either side.")))
SAYS (FLOOR_ABOVE_LIMIT, ALWAYS (N_ ("Not seen, but only levels above {floor_dbm} would have been: {missing_db} dB short of proving the "
                                     "limit of {limit_dbm} with U {expanded_db} dB.")))
SAYS (NOT_SWEPT, ALWAYS (N_ ("Not swept: no sweep reaches {at_hz}.")))
SAYS (RADIO_PART_STRADDLES,
  { straddles_from_nothing, N_ ("The radio's own part lies anywhere up to {part_high_dbm}, U {expanded_db} dB: the limit of {limit_dbm} "
                                "lies within.") },
  ALWAYS (N_ ("The radio's own part lies between {part_low_dbm} and {part_high_dbm}, U {expanded_db} dB: the limit of {limit_dbm} lies "
              "within.")))
SAYS (UNTESTED, ALWAYS (N_ ("Seen at {level_dbm} against the limit of {limit_dbm} with U {expanded_db} dB, but nothing shows yet that "
                            "it comes from the radio.")))
SAYS (ANALYZER_POSSIBLE,
  { cancels_to_nothing, N_ ("Seen at {level_dbm}, though the analyzer's own mixer may make {product_dbm} there: the two may nearly "
                            "cancel, which the steps that there are cannot tell; the radio's part lies anywhere up to {part_high_dbm}, "
                            "U {expanded_db} dB.") },
  { cancels, N_ ("Seen at {level_dbm}, though the analyzer's own mixer may make {product_dbm} there: the two may nearly cancel, which "
                 "the steps that there are cannot tell; the radio's part lies between {part_low_dbm} and {part_high_dbm}, U "
                 "{expanded_db} dB.") },
  { all_by_steps, N_ ("Seen at {level_dbm}, but by the steps some or all of it is the analyzer's: the radio's part lies anywhere up to "
                      "{part_high_dbm}, U {expanded_db} dB.") },
  { some_by_steps, N_ ("Seen at {level_dbm}, but by the steps some of it is the analyzer's: the radio's part lies between "
                       "{part_low_dbm} and {part_high_dbm}, U {expanded_db} dB.") },
  { all_foreseen, N_ ("Seen at {level_dbm}, but the analyzer's own mixer may make up to {product_dbm} of it: the radio's part lies "
                      "anywhere up to {part_high_dbm}, U {expanded_db} dB.") },
  ALWAYS (N_ ("Seen at {level_dbm}, but the analyzer's own mixer may make up to {product_dbm} of it: the radio's part lies between "
              "{part_low_dbm} and {part_high_dbm}, U {expanded_db} dB.")))
SAYS (AMBIENT_POSSIBLE, ALWAYS (N_ ("Seen at {level_dbm}, and at {ambient_dbm} with the radio not keyed: from the air, a residual of "
                                    "the analyzer, or the radio's receiver.")))
SAYS (AMBIENT_PART,
  { ambient_from_nothing, N_ ("Seen at {level_dbm}, and at {ambient_dbm} with the radio not keyed: the radio's own part lies anywhere "
                              "up to {part_high_dbm}, U {expanded_db} dB.") },
  ALWAYS (N_ ("Seen at {level_dbm}, and at {ambient_dbm} with the radio not keyed: the radio's own part lies between {part_low_dbm} and "
              "{part_high_dbm}, U {expanded_db} dB.")))
SAYS (NO_NUMBER, ALWAYS (N_ ("The mask sets no number here.")))
SAYS (NO_POWER, ALWAYS (N_ ("The limit follows the radio's power, which is not known.")))
SAYS (POWER_LOWER_BOUND,
  { no_end, N_ ("The carrier is clipped: the power is {power_dbm} or more, and the limit, {limit_dbm} for that, depends on how much "
                "more.") },
  ALWAYS (N_ ("The carrier is clipped: the power is {power_dbm} or more, so the limit lies between {limit_low_dbm} and "
              "{limit_high_dbm}.")))
SAYS (NOT_RESOLVED,
  { beside_zero, N_ ("Not resolved: with points {spacing_hz} apart and an RBW of {rbw_hz} the analyzer's response at zero hertz reaches "
                     "to {at_hz}.") },
  { beside_carrier, N_ ("Not resolved: with points {spacing_hz} apart and an RBW of {rbw_hz} the carrier itself reads at {at_hz}.") },
  ALWAYS (N_ ("Not resolved: with points {spacing_hz} apart and an RBW of {rbw_hz} one reading serves for {at_hz} and for the next "
              "harmonic.")))
SAYS (BOUND_STRADDLES,
  { no_reference, N_ ("Read as {level_dbm}, and wider than the RBW of {rbw_hz}: all of it is between {low_dbm} and {high_dbm}, U "
                      "{expanded_db} dB, for a limit of {limit_dbm}.") },
  ALWAYS (N_ ("Read as {level_dbm} with an RBW of {rbw_hz}: in the {reference_hz} that the limit refers to it is between {low_dbm} and "
              "{high_dbm}, U {expanded_db} dB, for a limit of {limit_dbm}.")))
SAYS (TOO_WIDE, ALWAYS (N_ ("The carrier hides what stands there: RBW or points are too wide.")))
SAYS (ZERO_HERTZ, ALWAYS (N_ ("The analyzer's response at zero hertz hides what stands there: the RBW is too wide.")))
SAYS (GAPS_LEFT, ALWAYS (N_ ("A sweep is advised for the {searched} widest gaps only; {left} narrower ones are left: close the wide "
                              "ones, then judge again.")))
SAYS (TRACE_ABOVE_LIMIT, ALWAYS (N_ ("The trace itself stands above the limit there, and no emission was told apart.")))

/* -- possible sources of an emission -- */
SAYS (SPUR_RELATION, ALWAYS (N_ ("It stands at {relation} (off by {off_hz:+0} Hz; by chance in {chance_percent} % of places).")))
SAYS (HARMONIC_OR_OTHER, ALWAYS (N_ ("It stands at {at_hz}, give or take {half_hz}: that harmonic, or another line within.")))
SAYS (SPUR_RESIDUAL, ALWAYS (N_ ("It stands at a residual response that the profile of {analyzer} lists at {listed_hz} with "
                                 "{listed_dbm}: the analyzer's own, it may be.")))

/* -- advice -- */
SAYS (PROVE_FLOOR, { floor_unsafe, N_ ("Make the chain safe first. {lower}") }, ALWAYS ("{lower}"))
SAYS (PROVE_SETTING,
  { pad_alone, N_ ("Sweep with {pad_db} dB more pad before the analyzer{keyed}: the floor would be {floor_dbm}.") },
  { pad_too, N_ ("Sweep with {pad_db} dB more pad before the analyzer and {settings}{keyed}: the floor would be {floor_dbm}.") },
  ALWAYS (N_ ("Sweep with {settings}{keyed}: the floor would be {floor_dbm}.")))
SAYS (PROVE_NOTCH,
  { notch_alone, N_ ("Sweep once more with a notch on the fundamental, {notch_db} dB deep{keyed}: the floor would be {floor_dbm}.") },
  ALWAYS (N_ ("Sweep once more with a notch on the fundamental, {notch_db} dB deep, and {settings}{keyed}: the floor would be "
              "{floor_dbm}.")))
SAYS (PROVE_BESIDE,
  { beside_as_it_is, N_ ("Sweep once more with {settings}{keyed}, and give it as a step beside this sweep: together they would show "
                         "that the radio's part is at most {part_dbm}.") },
  ALWAYS (N_ ("Sweep once more with {pad_db} dB more pad before the analyzer, its loss measured{other_settings}{keyed}, and give it as "
              "a step beside this sweep: together they would show that the radio's part is at most {part_dbm}.")))
SAYS (PROVE_SPAN, ALWAYS (N_ ("Sweep from {from_hz} to {to_hz} with {attenuation_db:0} dB of attenuation, an RBW of {rbw_hz}, "
                              "{detection}, {points} points{averaged}{divided}{notched}, {key_down}{reaches}.")))
SAYS (PROVE_SPAN_NOT,
  { by_phase_noise, N_ ("No sweep with this analyzer shows what stands from {from_hz} to {to_hz}: its own phase noise lies {missing_db} "
                        "dB too high at {at_hz}. An analyzer with less phase noise would show it.") },
  { by_noise, N_ ("No sweep with this analyzer shows what stands from {from_hz} to {to_hz}: its own noise lies {missing_db} dB too high "
                  "at {at_hz}. Less loss before it, as far as that is safe, or another analyzer would show it.") },
  { by_product, N_ ("No sweep with this analyzer shows what stands from {from_hz} to {to_hz}: what its mixer makes lies {missing_db} "
                       "dB too high at {at_hz}. A notch on the fundamental would show it.") },
  { too_close, N_ ("From {from_hz} to {to_hz} it is too close to the carrier for the analyzer's narrowest RBW: a narrower one is "
                   "needed.") },
  { by_skirt, N_ ("No sweep with this analyzer shows what stands from {from_hz} to {to_hz}: the carrier's skirt lies {missing_db} dB "
                  "too high at {at_hz}. A narrower RBW than it has would show it.") },
  { by_zero_hertz, N_ ("From {from_hz} to {to_hz} it is too close to zero hertz for the analyzer's narrowest RBW: a narrower one is "
                       "needed.") },
  { by_time, N_ ("A sweep that shows what stands from {from_hz} to {to_hz} would keep the key down for {key_down_s} in all, and the "
                 "radio can be keyed for {longest_s} at a time: too many parts. State a longer key-down time if it has one.") },
  { by_danger, N_ ("No sweep from {from_hz} to {to_hz} is safe with this chain and analyzer: more attenuation has to come before it.") },
  ALWAYS (N_ ("What would show what stands from {from_hz} to {to_hz} cannot be foreseen: the analyzer's profile states no noise "
              "(danl_dbm_hz).")))
SAYS (PROVE_SWEEP, ALWAYS (N_ ("Sweep up to {to_hz} at least.")))
SAYS (PROVE_SAMPLING, ALWAYS (N_ ("Take points no more than {spacing_hz} apart: {points} points for this span, or a wider RBW, a "
                                  "narrower span, a peak detector.")))
SAYS (PROVE_RESOLVE,
  { spacing_only, N_ ("Sweep with points no more than {spacing_hz} apart: more of them, or a narrower span.") },
  ALWAYS (N_ ("Sweep with points no more than {spacing_hz} apart and an RBW of {rbw_hz} at most: more points, or a narrower span.")))
SAYS (PROVE_NARROWER, ALWAYS (N_ ("Sweep it once more with an RBW of {rbw_hz} at most, points no further apart than that, rms detection "
                                  "or power averages, and add it up.")))
SAYS (PROVE_CALIBRATION, ALWAYS (N_ ("Measure the loss of the chain at {at_hz}.")))
SAYS (PROVE_STEP,
  { by_pad, N_ ("Sweep once more with the pad of {step_db} dB before the analyzer, its loss measured, and give it as a step: what the "
                "radio emits stays where it is, {falls}.{others}") },
  ALWAYS (N_ ("Sweep once more with {step_db} dB more attenuation, and give it as a step: what the radio emits stays where it is, "
              "{falls}.{others}")))
SAYS (PROVE_STEP_PAD, ALWAYS (N_ ("No step of the attenuator serves: sweep once more with a pad of {pad_db} dB before the analyzer, its "
                                  "loss measured, and give it as a step.")))
SAYS (PROVE_STEP_NOISE,
  { noise_by_pad, N_ ("A pad of {step_db} dB before the analyzer would tell whose it is, but would drown it: first lower the noise by "
                      "{noise_db} dB, with a narrower RBW or a power average, then sweep with and without that pad.") },
  ALWAYS (N_ ("A step of {step_db} dB more attenuation would tell whose it is, but would drown it: first lower the noise by {noise_db} "
              "dB, with a narrower RBW or a power average, then sweep with and without that step.")))
SAYS (PROVE_RESIDUAL, ALWAYS (N_ ("What stands at {at_hz} rises with the attenuation: the analyzer makes it by itself. Less loss before "
                                  "the analyzer, as far as that is safe, or another analyzer would show what of it is the radio's.")))
SAYS (PROVE_REFERENCE, ALWAYS (N_ ("Sweep once more with the reference level well above {reading_dbm} and attenuation to match, or give "
                                   "a power meter's reading.")))
SAYS (PROVE_RBW, ALWAYS (N_ ("Sweep once more with an RBW narrower than {rbw_hz}.")))
SAYS (PROVE_AMBIENT, ALWAYS (N_ ("Take both sweeps again where what stands at {at_hz} without the radio is silent or kept out.")))
SAYS (PROVE_UNCERTAINTY,
  { nothing_assumed, N_ ("A U below {below_db} dB would decide it; its largest part is {largest}.") },
  { largest_assumed, N_ ("A U below {below_db} dB would decide it; its largest part is {largest}, which is assumed for {stage}: "
                         "{settles}.") },
  ALWAYS (N_ ("A U below {below_db} dB would decide it; its largest part is {largest}, then {assumed}, which is assumed for {stage}: "
              "{settles}.")))
};
/* clang-format on */

const Sentence *
sentences_of (SpReasonCode code)
{
  g_return_val_if_fail ((guint) code < SP_N_REASONS, NULL);
  const Sentence *sentences = (gsize) code < G_N_ELEMENTS (said) ? said[code] : NULL;
  return sentences ? sentences : statement_of (code);
}
