/* judging.h - the working data of one condition from stage to stage of judging (private to judging's rooms)
 *
 * Of the condition: correct -> fundamental -> floor -> emissions -> usable steps. Of each emission: relation, repeats, evidence -> carried product ->
 * origin -> limit -> budget -> verdict -> advice: these return what they found, and judge.c puts it into the emission. Of the condition again: gaps,
 * seams, summary.
 */
#pragma once

#include "core/detection/band.h"
#include "core/detection/detection.h"
#include "core/detection/spectrum.h"
#include "core/findings/findings.h"

#define SP_CARRIER_U_METER_DB 0.5 /* u of a meter for which none is given (common practice, no source) */
#define SP_SAME_SETTING_DB 0.05   /* closer attenuations are equal */
/* More spurs are counted in a warning, not listed: such a trace is not a spectrum of spurs */
#define SP_MAX_SPURS 500
/* Through a filter up to 20 % wider than its name a line's sum is at most this much over its vertex (calculated: 0.8 dB) */
#define SP_STANDS_OUT_DB 1.0
#define SP_STANDS_OUT_U 2.0 /* plus this many u of the noise of both */
/* Half-width of the zone round the carrier that a sweep cannot judge (core/docs/computation.md, section 15) */
#define SP_ZONE_RBWS 3.0
/* Two spurs with a lesser descent between them are one (common practice, no source) */
#define SP_SPUR_PROMINENCE_DB 6.0

/* Threshold and detection limit over mean noise for a number of independent points. */
typedef struct {
  double points, threshold_db, detection_limit_db;
} SpThresholds;

/* The content of one sweep at a frequency: the greatest line in the window; the band, if it is wider than the filter; or the floor.
 * Levels at the socket. */
typedef struct {
  gboolean detected;
  SpEmissionKind kind;
  double from_hz, to_hz; /* edges of the band; a line: both its frequency */
  double width_hz;       /* width that holds 99 % of a band's power */
  double below_db;       /* as SpEmission.excess_db */
  double reference_hz;   /* as SpEmission.reference_bandwidth_hz */
  double frequency_hz, level_dbm, noise_u_db, floor_dbm, loss_db;
  /* A line: its greatest point as exported, and the noise's share of it */
  double reading_dbm, near_noise_db;
  /* Threshold, and detection limit including the loss between points */
  double threshold_dbm, detection_limit_dbm;
  SpFloorCause cause;
} SpDetection;

/* The noise at the analyzer's input at evenly spread points, and the noise around them. */
typedef struct {
  guint n;                        /* 0: not computed yet */
  double *noise_dbm, *around_dbm; /* one block: g_free (noise_dbm) */
} SpGround;

/* Distribution of a sweep's readings near the noise, at whole dB over it; computed on first use. */
#define SP_NEAR_LEAST (-10)
#define SP_NEAR_MOST 50
typedef struct {
  guint8 known[SP_NEAR_MOST - SP_NEAR_LEAST + 1];
  double correction_db[SP_NEAR_MOST - SP_NEAR_LEAST + 1], u_db[SP_NEAR_MOST - SP_NEAR_LEAST + 1];
} SpNear;

/* One sweep being judged. SpJudging.sweeps[k] belongs to out->corrected[k] if k < SpJudging.n, else to out->evidence[k - n]. */
typedef struct {
  SpPurpose purpose;
  const SpTrace *trace;
  const SpChain *chain;
  SpCorrected *out;
  double rbw_hz, nbw_hz; /* NaN: unknown */
  double spacing_hz;     /* greatest of the whole trace */
  gboolean uniform;      /* all spacings equal within 1 % */
  SpDetectorLaw law;
  gboolean law_assumed;
  double quantile_db; /* median of the noise readings over the mean noise power */
  /* Half the running median's window; within it noise may climb towards a carrier */
  double noise_window_hz;
  SpGround ground;
  SpNear *near;            /* NULL: not computed yet; g_free */
  SpBandView band;         /* the sweep's points, for sums */
  SpThresholds thresholds; /* for a harmonic's window */
  /* Last other result: solving for a limit takes milliseconds, and neighbouring points ask for the same */
  SpThresholds last_thresholds;
  double sweep_threshold_db; /* threshold for the whole sweep */
  /* The fundamental, if this sweep holds it. */
  gboolean has_carrier;
  double carrier_hz, carrier_half_hz; /* frequency and half-width of its uncertainty */
  double carrier_dbm;                 /* at the socket, before anchoring */
  double carrier_reading_dbm;         /* at the analyzer's input */
  double carrier_noise_u_db;
  double carrier_loss_db; /* possible loss of level between points */
  /* That loss is so large that nothing else may be derived from the level (sp_judging_blurred) */
  gboolean carrier_blurred;
  /* The level is a lower bound: no P, mixer level or anchoring if there is a better sweep */
  gboolean carrier_clipped;
  /* Modulated but not summable: the level may be this much higher */
  double carrier_spread_db;
  gboolean carrier_elsewhere; /* the line is beside the stated frequency, not at it */
  double carrier_room_hz;     /* no other line on either side within this distance */
  /* Upper bound of the width of the carrier's modulation in this sweep; NaN: the sweep cannot show it */
  double signal_hz;
  gboolean modulated; /* this sweep shows modulation */
  double shift_db;    /* anchoring */
  /* From a reading at f0 to the socket, by the chain, even if the trace does not reach f0; NaN without f0 */
  double to_socket_db;
  /* Attenuation before the mixer relative to the first keyed sweep, from the settings or the sheet; NaN: not known */
  double attenuation_db;
  double mixer_dbm, mixer_u_db; /* NaN: not known */
  /* Use as evidence of an emission's origin (usable-steps.c). */
  gboolean not_usable;   /* tells nothing about the origin of an emission */
  gboolean said_why_not; /* sp_judging_untested_steps() has warned about it */
  /* Carrier change against the keyed sweep, beyond chance but too small for not_usable; 0 if compression of the keyed sweep explains
   * it, or none. */
  double carrier_moved_db;
} SpJudgedSweep;

typedef struct {
  const SpBench *bench;
  const SpCondition *condition;
  const SpChain *chain;
  const SpAnalyzer *analyzer;
  const SpMask *mask;
  SpConditionFindings *out;
  /* n: judged sweeps, keyed and notched; n_all: also the steps and the unkeyed sweep */
  guint n, n_all;
  SpJudgedSweep *sweeps;
  double carrier_half_hz; /* uncertainty of out->fundamental_hz */
  gboolean carrier_calibrated;
  /* The sweep that P and dBc are based on: keyed, or a step (then >= n) if every keyed carrier is clipped; -1 */
  int carrier_sweep;
  /* The keyed sweep that steps are compared with; equal to carrier_sweep unless that is a step; -1 */
  int keyed_carrier;
  double meter_u_db;
  /* The keyed sweeps' carriers differ by more than U and drift: emissions use their own sweep's carrier */
  gboolean carriers_differ;
  gboolean power_at_least; /* P is that of a clipped carrier: it may be higher */
  /* Upper bound of the width of the carrier's modulation, from all sweeps and the sheet; 0: a line */
  double signal_hz;
  gboolean signal_shown; /* a sweep shows the modulation */
  /* A product of order n is n times as wide: true except for amplitude modulation */
  gboolean folds;
  GArray *climbs; /* SpClimb */
  /* No keyed sweep shows the fundamental at its stated frequency, so nothing complies; NULL: it is shown */
  SpReason *no_carrier;
} SpJudging;

/* Noise that climbs towards the carrier beyond the profile's prediction. Its origin, and its power nearer the carrier, are unknown. */
typedef struct {
  double from_hz, to_hz, power_dbm; /* its total power outside the sweep's zone, on one side */
} SpClimb;

/* The carrier in a sweep: index of its greatest point and the ends of its clipped top (that point, if not clipped). */
typedef struct {
  guint64 index, first, last;
  gboolean clipped;
  gboolean elsewhere; /* no such line at the requested frequency, but one nearby */
  /* Greatest point of another line strong enough to count in a sum of powers; the trace's n: none */
  guint64 beside;
} SpCarrier;

void sp_judging_warn (SpJudging *c, SpReason *reason);
