/* judging.h - what the functions of judging see of one condition (private to judging's folders)
 *
 * Each takes const inputs, returns what it found, and adds what it warns of to `warnings`; core/judge/judge.c and sweeps.c put the result in place.
 * None changes an earlier one's result: SpJudgedSweep and SpJudging are const to all of them. Those two hold what later functions read, by value, so its
 * types stand here; a result that only its own folder and those after it see stands in that folder's header.
 * Of the sweeps: levels -> carriers -> power -> signal -> shift -> mixer -> floor. Of the condition: emissions -> usable steps. Of each emission:
 * relation, repeats, evidence -> carried product -> origin -> limit -> budget -> verdict -> advice. Of the condition again: gaps, seams, summary.
 */
#pragma once

#include "core/detection/band.h"
#include "core/detection/detection.h"
#include "core/detection/spectrum.h"
#include "core/findings/findings.h"

#define SP_CARRIER_U_METER_DB 0.5 /* u of a meter for which none is given (common practice, no source) */
#define SP_SAME_SETTING_DB 0.05   /* closer attenuations are equal (common practice, no source) */
/* Through a filter up to 20 % wider than its name a line's sum is at most this much over its vertex (calculated: 0.8 dB) */
#define SP_STANDS_OUT_DB 1.0
#define SP_STANDS_OUT_U 2.0 /* plus this many u of the noise of both (common practice, no source) */
/* Half-width of the zone round the carrier that a sweep cannot judge (core/docs/computation.md, section 15) */
#define SP_ZONE_RBWS 3.0
/* Two spurs with a lesser descent between them are one (common practice, no source) */
#define SP_SPUR_PROMINENCE_DB 6.0

/* Threshold and detection limit over mean noise for a number of independent points. */
typedef struct {
  double points, threshold_db, detection_limit_db;
} SpThresholds;

/* The noise at the analyzer's input at evenly spread points, and the noise around them. */
typedef struct {
  guint n;                        /* 0: not computed yet */
  double *noise_dbm, *around_dbm; /* one block: g_free (noise_dbm) */
} SpGround;

/* Both bound time: a distribution of a sweep's readings near the noise, at whole dB over it, is computed on first use. */
#define SP_NEAR_LEAST (-10)
#define SP_NEAR_MOST 50
typedef struct {
  guint8 known[SP_NEAR_MOST - SP_NEAR_LEAST + 1];
  double correction_db[SP_NEAR_MOST - SP_NEAR_LEAST + 1], u_db[SP_NEAR_MOST - SP_NEAR_LEAST + 1];
} SpNear;

/* Computed on first use, from the sweep's results alone. */
typedef struct {
  SpGround ground;
  SpNear near;
  /* Last other result: solving for a limit takes milliseconds, and neighbouring points ask for the same */
  SpThresholds last_thresholds;
} SpSweepCache;

/* The modulation of a carrier in one sweep. */
typedef struct {
  gboolean told;         /* FALSE: the sweep cannot tell */
  double from_hz, to_hz; /* the band with 99 % of the power; NaN */
  double width_hz;       /* upper bound of the modulation's width; NaN: the sweep cannot show it */
  gboolean modulated;    /* this sweep shows modulation */
} SpSweepSignal;

/* The carrier as one sweep shows it. */
typedef struct {
  gboolean found;
  double frequency_hz, half_hz; /* and half-width of its uncertainty */
  double level_dbm;             /* at the socket, with cold stages and before anchoring */
  double reading_dbm;           /* at the analyzer's input */
  double noise_u_db;
  double loss_db; /* possible loss of level between points */
  /* That loss is so large that nothing else may be derived from the level (sp_judging_blurred) */
  gboolean blurred;
  /* The level is a lower bound: no P, mixer level or anchoring if there is a better sweep */
  gboolean clipped;
  double spread_db;   /* modulated but not summable: the level may be this much higher */
  gboolean elsewhere; /* the line is beside the stated frequency, not at it */
  double alone_hz;    /* no other line on either side within this distance */
  SpSweepSignal signal;
} SpSweepCarrier;

/* The carrier at the mixer in one sweep; NaN: not known. */
typedef struct {
  double dbm, u_db;
} SpMixerLevel;

/* A sweep's use as evidence of an emission's origin. */
typedef struct {
  gboolean not_usable; /* tells nothing about the origin of an emission */
  /* Carrier change against the keyed sweep, beyond chance but too small for not_usable; 0 if compression of the keyed sweep explains
   * it, or none. */
  double carrier_moved_db;
  gboolean shows_compression; /* the carrier reads higher here, and the keyed sweep's stands over the mixer's best level */
} SpUsability;

/* One sweep being judged. SpJudging.sweeps[k] belongs to out->corrected[k] if k < SpJudging.n, else to out->compared[k - n]. */
typedef struct {
  SpPurpose purpose;
  const SpTrace *trace;
  const SpChain *chain;
  const SpCorrected *out;
  /* Attenuation before the mixer relative to the first keyed sweep, from the settings or the sheet; NaN: not known */
  double attenuation_db;
  /* correct.c */
  double rbw_hz, nbw_hz; /* NaN: unknown */
  double spacing_hz;     /* greatest of the whole trace */
  gboolean uniform;      /* all spacings equal within 1 % */
  SpDetectorLaw law;
  gboolean law_assumed;
  double quantile_db; /* median of the noise readings over the mean noise power */
  /* Half the running median's window; within it noise may climb towards a carrier */
  double noise_window_hz;
  SpBandView band;           /* the sweep's points, for sums */
  SpThresholds thresholds;   /* for a harmonic's window */
  double sweep_threshold_db; /* threshold for the whole sweep */
  SpSweepCache *cache;       /* g_free, and its ground's block */
  /* carrier-level.c, fundamental.c */
  SpSweepCarrier carrier;
  gboolean foreign;     /* its line is not the carrier: another sweep has that (sp_judging_has_carrier) */
  SpSweepSignal signal; /* the carrier's, or for the sweep that P is based on, round its measured frequency */
  /* shift.c */
  double warm_db;  /* of it by warm stages */
  double shift_db; /* of all levels: warm stages, and anchoring to the meter */
  /* From a reading at f0 to the socket, by the chain, even if the trace does not reach f0; NaN without f0 */
  double to_socket_db;
  SpMixerLevel mixer;
  SpUsability use; /* usable-steps.c */
} SpJudgedSweep;

typedef struct {
  const SpBench *bench;
  const SpCondition *condition;
  const SpChain *chain;
  const SpAnalyzer *analyzer;
  const SpMask *mask;
  const SpConditionFindings *out;
  /* n: judged sweeps, keyed and notched; n_all: also the steps and the unkeyed sweep */
  guint n, n_all;
  const SpJudgedSweep *sweeps;
  double carrier_half_hz; /* uncertainty of out->fundamental_hz */
  gboolean carrier_calibrated;
  /* The sweep that P and dBc are based on: keyed, or a step (then >= n) if every keyed carrier is clipped; -1 */
  int carrier_sweep;
  /* The keyed sweep that steps are compared with; equal to carrier_sweep unless that is a step; -1 */
  int keyed_carrier;
  double meter_u_db;
  /* The keyed sweeps' carriers differ by more than U and drift: emissions use their own sweep's carrier */
  gboolean carriers_differ;
  double occasion_u_db;    /* SpTracePower's */
  gboolean power_at_least; /* P is that of a clipped carrier: it may be higher */
  /* Upper bound of the width of the carrier's modulation, from all sweeps and the sheet; 0: a line */
  double signal_hz;
  gboolean signal_shown; /* a sweep shows the modulation */
  /* A product of order n is n times as wide: true except for amplitude modulation */
  gboolean folds;
  const GArray *climbs; /* SpClimb */
  /* No keyed sweep shows the fundamental at its stated frequency, so nothing complies; NULL: it is shown */
  const SpReason *no_carrier;
} SpJudging;
