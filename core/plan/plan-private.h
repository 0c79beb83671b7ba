/* plan-private.h - results and caches of a plan */
#pragma once

#include "core/plan/plan.h"

/* Values at one frequency that do not depend on the setting. */
typedef struct {
  guint order;         /* 0: a spur */
  double frequency_hz; /* NaN: not computed yet */
  SpLimit limit;
  double loss_db;                                      /* the chain's loss */
  double to_socket_db;                                 /* loss plus the analyzer's amplitude correction */
  double density_dbm_hz;                               /* noise at the input at 0 dB attenuation; NaN: not known */
  double phase_dbc_hz;                                 /* -INFINITY: the profile has no table */
  double profile_density_dbm_hz, profile_phase_dbc_hz; /* the profile's own values, without measurements */
  double intercept_dbm;                                /* NaN: not known */
  guint shown_order;                                   /* order of the analyzer product measured by a step test */
  double shown_dbm;                                    /* that product at the mixer for a carrier of 0 dBm; NaN: no test */
  double expanded_db, notched_expanded_db;             /* U of the margin in one sweep, and over sweeps of unequal settings */
  double profile_expanded_db, profile_notched_expanded_db;
  gboolean calibrated;
  double width_hz, reference_hz; /* greatest width of an emission there; the rule's reference bandwidth, NaN: none */
} SpPlanLine;

/* The law of a setting and its results, which may take milliseconds. */
typedef struct {
  SpDetector detector;
  SpAverage average;
  SpHold hold;
  double averages, ratio; /* ratio: spacing over noise bandwidth */
  SpDetectorLaw law;
  gboolean greatest;  /* readings are, or may be, the greatest of several looks */
  double median_u_db; /* u of a median of its noise, times the root of the number of readings */
  double mean_db;     /* of its noise, as sp_law_noise_mean_db() */
} SpPlanLaw;
/* Floor of a band: dB over the noise. */
typedef struct {
  double width, spacing, noise_u, averages, greatest_db; /* in noise bandwidths; greatest_db NaN: mean powers */
  double floor_db;
} SpPlanBand;
typedef struct {
  SpDetectorLaw law;
  double points, threshold_db, detection_limit_db;
} SpPlanThresholds;

/* All bound memory: how many results are kept. */
#define SP_PLAN_LOOKS 512
#define SP_PLAN_LAWS 64
#define SP_PLAN_BANDS 512

struct _SpPlan {
  SpTask task;
  SpPad *pads; /* only those rated for the power */
  double power_dbm;
  double carrier_u_db, carrier_to_socket_db; /* of the chain at f0 */
  double warm_db;                            /* additional loss of stages warmed by the carrier, equal at all frequencies */
  gboolean carrier_calibrated;
  gboolean stage_unsafe;
  double input_dbm;  /* peak power into the analyzer */
  double mixer_u_db; /* of Pm read in the sweep */
  double heat;       /* greatest ratio of a stage's average power to its rating; 0: no rating */
  guint harmonics;
  SpPlanLine places[SP_MAX_ORDER + 1]; /* [0]: the last spur asked for */
  guint n_looks, next_look, n_laws, next_law;
  SpPlanLaw laws[SP_PLAN_LAWS]; /* ring buffers */
  SpPlanThresholds looks[SP_PLAN_LOOKS];
  guint n_bands, next_band;
  SpPlanBand bands[SP_PLAN_BANDS];
};

/* plan-line.c: order 0 recomputes the line if the frequency differs. */
SpPlanLine *sp_plan_line (SpPlan *plan, guint order, double frequency_hz);

/* outlook.c */
/* Points further apart than the RBW lose a line between them, except with positive peak. */
gboolean sp_setting_undersamples (const SpSetting *setting);
/* `law` NULL: the setting's law. */
SpOutlook sp_plan_outlook_by (SpPlan *plan, const SpSetting *setting, const SpPlanLine *place, double points, const SpDetectorLaw *law);
SpOutlook sp_plan_outlook (SpPlan *plan, const SpSetting *setting, const SpPlanLine *place, double points);
/* Number of independent points: a harmonic's window, or the whole sweep. */
double sp_plan_points (const SpPlan *plan, const SpSetting *setting, guint order);
/* Quick check with a law that is never worse: FALSE only if the setting cannot prove the line. */
gboolean sp_plan_may_prove (SpPlan *plan, const SpSetting *setting, const SpPlanLine *place);
/* The outlook meets the reserve; safety is not checked. */
gboolean sp_outlook_proves (SpPlan *plan, const SpSetting *setting, const SpOutlook *outlook);
/* dB from the analyzer's input at 0 dB attenuation to the socket, without noise bandwidth. */
double sp_plan_input_to_socket_db (const SpSetting *setting, const SpPlanLine *place);
double sp_plan_nbw_hz (const SpPlan *plan, const SpSetting *setting);

/* band.c: raises the floor to that of an emission as wide as possible there; `law` is the setting's. */
void sp_plan_band (SpPlan *plan, const SpSetting *setting, const SpPlanLine *place, const SpPlanLaw *law, SpOutlook *outlook);

/* keying.c: cost of a sweep, s: at least SP_SHORT_S; SP_PART_S and the pause for each further part; SP_AVERAGING_S for an average. */
double sp_plan_effort_s (const SpPlan *plan, const SpSetting *setting);
/* Divides the sweep into more parts, each with as many points as before, until one is no longer than the radio may be keyed. FALSE:
 * too many parts. */
gboolean sp_plan_fit_key_down (const SpPlan *plan, SpSetting *setting);

/* An uncached line for a spur. */
SpPlanLine sp_plan_line_at (const SpPlan *plan, double frequency_hz);
/* Half-width of the carrier's uncertain frequency in a sweep. */
double sp_plan_carrier_half_hz (const SpPlan *plan, const SpSetting *setting);

/* setting-choices.c: settings the user can choose. Ways of detection and sampling: 0 unchanged, 1 peak, 2 sample in parts, 3 and 4 the
 * same averaged. */
typedef struct {
  guint n_attenuations, n_rbws; /* limited by the arrays: the lowest values */
  double attenuations_db[128], rbws_hz[64];
  double points; /* the greatest number */
} SpSettingChoices;
#define SP_WAYS 5 /* room for the ways above */
SpSettingChoices sp_plan_setting_choices (const SpPlan *plan, const SpSetting *today);
/* FALSE: needs too many parts. */
gboolean sp_setting_choice (const SpSettingChoices *means, guint way, SpSetting *setting);
