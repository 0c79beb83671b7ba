/* judging.h - what the judging of one condition carries from stage to stage (private to the room)
 *
 * correct -> fundamental -> floor -> emissions -> origin -> budget -> verdict. Each stage reads what the ones before it wrote.
 */
#pragma once

#include "core/detection/band.h"
#include "core/detection/detection.h"
#include "core/detection/spectrum.h"
#include "core/judge/findings.h"

#define SP_CARRIER_U_METER_DB 0.5 /* a meter whose u is not given (common practice, no source) */
#define SP_SAME_SETTING_DB 0.05   /* attenuations closer than this are equal */
#define SP_MAX_SPURS 500          /* listed; more are said, not listed: such a trace is not a spectrum of spurs */
/* A line's sum is no more over its vertex, through a filter up to 20 % wider than its name (calculated: 0.8 dB) */
#define SP_STANDS_OUT_DB 1.0
#define SP_STANDS_OUT_U 2.0       /* and so many u of what noise leaves of either */
#define SP_ZONE_RBWS 3.0          /* about the carrier that a sweep cannot judge (core/docs/computation.md, section 15) */
#define SP_SPUR_PROMINENCE_DB 6.0 /* two spurs closer than this descent are one (common practice, no source) */

/* Threshold and detection limit over mean noise for so many looked-at points. */
typedef struct {
  double points, threshold_db, detection_limit_db;
} SpThresholds;

/* What one sweep says about a place: the greatest line in the window or, of what is wider than the filter, its band; or the floor there. Levels at the
 * socket. */
typedef struct {
  gboolean detected;
  SpEmissionKind kind;
  double from_hz, to_hz; /* of its band; of a line both its frequency */
  double width_hz;       /* that holds 99 % of a band's power */
  double below_db;       /* as SpEmission.excess_db */
  double reference_hz;   /* as SpEmission.reference_bandwidth_hz */
  double frequency_hz, level_dbm, noise_u_db, floor_dbm, loss_db;
  double reading_dbm, near_noise_db;         /* of a line: its greatest point as exported, and what noise had added */
  double threshold_dbm, detection_limit_dbm; /* threshold and, with the loss between points, detection limit there */
  SpFloorCause cause;
} SpDetection;

/* The noise at the analyzer's input at places spread evenly over the points, and what it is around them. */
typedef struct {
  guint n;                        /* 0: not laid yet */
  double *noise_dbm, *around_dbm; /* one block: g_free (noise_dbm) */
} SpGround;

/* What the law of a sweep's readings leaves near the noise, at whole dB over it, worked out when first asked for. */
#define SP_NEAR_LEAST (-10)
#define SP_NEAR_MOST 50
typedef struct {
  guint8 known[SP_NEAR_MOST - SP_NEAR_LEAST + 1];
  double correction_db[SP_NEAR_MOST - SP_NEAR_LEAST + 1], u_db[SP_NEAR_MOST - SP_NEAR_LEAST + 1];
} SpNear;

/* A sweep on its way. Index k < SpJudging.n of SpJudging.sweeps matches out->corrected[k]; those behind out->evidence[k - n]. */
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
  double quantile_db;     /* median of the noise's reading over its mean power */
  double noise_window_hz; /* half the window of the running median, where noise may climb towards a carrier */
  SpGround ground;
  SpNear *near;                 /* NULL: none yet; g_free */
  SpBandView band;              /* its points, for sums */
  SpThresholds thresholds;      /* for a harmonic's own window */
  SpThresholds last_thresholds; /* the latest other one: solving for a limit costs milliseconds, and neighbours ask for the same */
  double sweep_threshold_db;    /* threshold for the whole sweep */
  /* of the fundamental, where this sweep holds it */
  gboolean has_carrier;
  double carrier_hz, carrier_half_hz; /* its frequency is known to +- this */
  double carrier_dbm;                 /* at the socket, before anchoring */
  double carrier_reading_dbm;         /* at the analyzer's input */
  double carrier_noise_u_db;
  double carrier_loss_db;     /* what its level may have lost between points */
  gboolean carrier_blurred;   /* so much that nothing else is taken from it (sp_judging_blurred) */
  gboolean carrier_clipped;   /* its level is a lower bound: no P, no mixer level and no anchoring if there is a better sweep */
  double carrier_spread_db;   /* it is modulated and could not be summed: so much more it may be */
  gboolean carrier_elsewhere; /* it stands beside the stated frequency, not at it */
  double carrier_room_hz;     /* either side of it no other line stands */
  double signal_hz;           /* widest that the carrier's modulation may be, as this sweep shows it; NaN: it cannot tell */
  gboolean modulated;         /* and it shows that it is modulated */
  double shift_db;            /* anchoring */
  double to_socket_db;        /* from a reading at f0 to the socket: by the chain, whether or not the trace reaches it; NaN without f0 */
  double attenuation_db;      /* before the mixer, over that of the first keyed sweep: the analyzer's own or by the sheet; NaN: not known */
  double mixer_dbm, mixer_u_db; /* NaN: not known */
  /* as a witness (usable-steps.c) */
  gboolean not_usable;   /* says nothing of whose an emission is */
  gboolean said_why_not; /* sp_judging_untested_steps() has named it */
  /* its carrier stands so far from the keyed one's, beyond chance, yet no further than a radio drifts or nobody knows whether the keyed
   * sweep was compressed; else 0 */
  double carrier_moved_db;
} SpJudgedSweep;

typedef struct {
  const SpBench *bench;
  const SpCondition *condition;
  const SpChain *chain;
  const SpAnalyzer *analyzer;
  const SpMask *mask;
  SpConditionFindings *out;
  guint n, n_all; /* judged: keyed and notched; all: and the steps, and the unkeyed one */
  SpJudgedSweep *sweeps;
  double carrier_half_hz; /* of out->fundamental_hz */
  gboolean carrier_calibrated;
  int carrier_sweep; /* the one that P and dBc stand on: keyed, or a step where every keyed carrier is clipped (then >= n); -1 */
  int keyed_carrier; /* the keyed one that steps are held against: the same unless that is a step; -1 */
  double meter_u_db;
  gboolean carriers_differ; /* of the keyed sweeps, beyond U and what a radio drifts: each sweep's emissions go by its own */
  gboolean power_at_least;  /* P is that of a clipped carrier: it may be more */
  double signal_hz;         /* widest that the carrier's modulation may be, by all sweeps and the sheet; 0: a line */
  gboolean signal_shown;    /* a sweep shows it */
  gboolean folds;           /* of a product of order n it is n times as wide: of all but an amplitude's modulation */
  GArray *climbs;           /* SpClimb */
  SpReason *no_carrier;     /* no keyed sweep shows the fundamental where it was stated: nothing complies then; NULL */
} SpJudging;

/* Noise that climbs towards the carrier beyond what its profile predicts: whose it is nobody knows, nor how much of it stands nearer by. */
typedef struct {
  double from_hz, to_hz, power_dbm; /* all of it that stands outside the sweep's zone, on one side */
} SpClimb;

/* The carrier in a sweep: index of its greatest point, the ends of its flat top (of the one point, where not clipped). */
typedef struct {
  guint64 index, first, last;
  gboolean clipped;
  gboolean elsewhere; /* there is no such line at the frequency asked for, but one near by */
  guint64 beside;     /* greatest point of another line that would count in a sum of powers; n of the trace: none */
} SpCarrier;

void sp_judging_warn (SpJudging *c, SpReason *reason);
