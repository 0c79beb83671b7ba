/* case.h - what the judging of one condition carries from stage to stage (private to the room)
 *
 * correct -> fundamental -> floor -> emissions -> origin -> budget -> verdict. Each stage reads what the ones before it wrote.
 */
#pragma once

#include "core/detection/detection.h"
#include "core/judge/findings.h"
#include "core/detection/spectrum.h"

#define SP_CARRIER_U_METER_DB 0.5        /* a meter whose u is not given (common practice, no source) */
#define SP_ZERO_HERTZ_RBWS 5.0           /* the response at zero hertz reaches this far */
#define SP_MAX_SPURS 500                 /* listed; more are said, not listed: such a trace is not a spectrum of spurs */
#define SP_SPUR_PROMINENCE_DB 6.0        /* two spurs closer than this descent are one (common practice, no source) */

/* Threshold and detection limit over mean noise for so many looked-at points. */
typedef struct {
  double points, threshold_db, limit_db;
} SpLook;

/* A keyed sweep on its way. Index k of SpCase.sweeps matches out->corrected[k]. */
typedef struct {
  const SpSweep *sweep;
  const SpTrace *trace;
  const SpChain *chain;
  SpCorrected *out;
  double rbw_hz, nbw_hz;      /* NaN: unknown */
  double spacing_hz;          /* greatest of the whole trace */
  gboolean uniform;           /* all spacings equal within 1 % */
  SpLaw law;
  gboolean law_assumed;
  double quantile_db;         /* median of the noise's reading over its mean power */
  double noise_window_hz;     /* half the window of the running median */
  SpLook look;                /* for a harmonic's own window */
  SpLook last_look;           /* the latest other one: solving for a limit costs milliseconds, and neighbours ask for the same */
  double sweep_threshold_db;  /* threshold for the whole sweep */
  /* of the fundamental, where this sweep holds it */
  gboolean has_carrier;
  double carrier_hz, carrier_half_hz; /* its frequency is known to +- this */
  double carrier_dbm;         /* at the socket, before anchoring */
  double carrier_reading_dbm; /* at the analyzer's input */
  double carrier_noise_u_db;
  double carrier_loss_db;     /* sampling loss: > 0 only where undersampled */
  double shift_db;            /* anchoring */
  double mixer_dbm, mixer_u_db; /* NaN: not known */
} SpCaseSweep;

typedef struct {
  const SpBench *bench;
  const SpCondition *condition;
  const SpChain *chain;
  const SpAnalyzer *analyzer;
  const SpMask *mask;
  SpConditionFindings *out;
  guint n;
  SpCaseSweep *sweeps;
  double carrier_half_hz;     /* of out->fundamental_hz */
  gboolean carrier_calibrated;
  int carrier_sweep;          /* the one that P and dBc stand on; -1 */
  double meter_u_db;
} SpCase;

/* correct.c: corrected levels, law and noise of every keyed sweep. */
void sp_case_correct (SpCase *c);
/* Distance in Hz to the neighbouring points around index i (the greater). */
double sp_case_spacing (const SpCaseSweep *s, guint64 i);
/* Level of a line whose greatest point is i, and its place: parabola, smear or the reading itself (computation, section 7). */
void sp_case_line (const SpCaseSweep *s, guint64 i, double *frequency_hz, double *level_dbm, double *half_hz);
/* Index of the greatest corrected level within [from, to]; n of the trace if there is no point. */
guint64 sp_case_greatest (const SpCaseSweep *s, double from_hz, double to_hz);
/* Sampling loss between points around i, dB; INFINITY where nothing can be said. */
double sp_case_sampling_loss (const SpCase *c, const SpCaseSweep *s, guint64 i);
/* Warnings that need no fundamental: settings unknown, floor off the profile. */
void sp_case_settings_warnings (SpCase *c);

/* The look for `points`; the law's answer, remembered. */
SpLook sp_case_look (SpCaseSweep *s, double points);

/* fundamental.c */
void sp_case_fundamental (SpCase *c);

/* floor.c: floor and its cause for every point of every sweep. */
void sp_case_floor (SpCase *c);
/* Floor at index i for `points` looked-at points; *cause and, where predicted, *distortion_high_dbm. */
double sp_case_floor_at (const SpCase *c, SpCaseSweep *s, guint64 i, double frequency_hz, double points, SpFloorCause *cause);
/* q_high of order n at the socket in this sweep; NaN: not predicted. */
double sp_case_distortion_high (const SpCase *c, const SpCaseSweep *s, guint order);

/* emission.c: harmonics and other spurs, seen or not. */
void sp_case_emissions (SpCase *c);

/* origin.c */
void sp_case_origin (SpEmission *e);

/* budget.c */
void sp_case_budget (const SpCase *c, SpEmission *e);
/* Budget of P alone (out->power_*). */
void sp_case_power_budget (SpCase *c);
/* u of the level of an emission that would stand at f in sweep s: for the pointer's read-out. */
double sp_case_level_u (const SpCase *c, const SpCaseSweep *s, double frequency_hz);

/* verdict.c: limit, margin, conformity, verdict, reason, what would prove it; then the condition's own. */
void sp_case_verdict (SpCase *c, SpEmission *e);
/* gaps.c: what was not swept of what the mask wants, and what of a search range was not seen deep enough into. */
void sp_case_gaps (SpCase *c);
void sp_case_summary (SpCase *c);

void sp_case_warn (SpCase *c, SpReason *reason);
