/* plan-private.h - what a plan has worked out, and what it remembers
 */
#pragma once

#include "core/plan/plan.h"

/* What of a place does not depend on the setting. */
typedef struct {
  guint order;         /* 0: a spur */
  double frequency_hz; /* NaN: not made yet */
  SpLimit limit;
  double loss_db;                                      /* of the chain */
  double to_socket_db;                                 /* that and the analyzer's amplitude correction */
  double density_dbm_hz;                               /* noise at the input at 0 dB attenuation; NaN */
  double phase_dbc_hz;                                 /* -INFINITY: no table */
  double profile_density_dbm_hz, profile_phase_dbc_hz; /* the profile's */
  double intercept_dbm;                                /* NaN */
  guint shown_order;                                   /* of what the steps showed of the analyzer's own */
  double shown_dbm;                                    /* that at the mixer, were the carrier there 0 dBm; NaN: no such test */
  double expanded_db, notched_expanded_db;             /* U of the margin in one sweep, and over sweeps of unequal settings */
  double profile_expanded_db, profile_notched_expanded_db;
  gboolean calibrated;
  double width_hz, reference_hz; /* how wide what stands there may be; the rule's bandwidth, NaN */
} SpPlanLine;

/* The law of a setting, and the looks by it: both may cost milliseconds. */
typedef struct {
  SpDetector detector;
  SpAverage average;
  SpHold hold;
  double averages, ratio; /* ratio: of the points' distance to the noise bandwidth */
  SpDetectorLaw law;
  gboolean greatest;  /* its readings are the greatest of several looks, or may be */
  double median_u_db; /* u of a median of its noise, times the root of the number of readings */
} SpPlanLaw;
/* The floor of a band: dB over the noise. */
typedef struct {
  double width, spacing, noise_u, averages, greatest_db; /* in noise bandwidths; greatest_db NaN: mean powers */
  double floor_db;
} SpPlanBand;
typedef struct {
  SpDetectorLaw law;
  double points, threshold_db, limit_db;
} SpPlanThresholds;

#define SP_PLAN_LOOKS 512
#define SP_PLAN_LAWS 64
#define SP_PLAN_BANDS 512

struct _SpPlan {
  SpTask task;
  SpPad *pads; /* those that take it */
  double power_dbm;
  double carrier_u_db, carrier_to_socket_db; /* of the chain at f0 */
  double warm_db;                            /* what stages warmed by the carrier lose more, the same at every frequency */
  gboolean carrier_calibrated;
  gboolean stage_unsafe;
  double input_dbm;  /* peak into the analyzer, by the chain */
  double mixer_u_db; /* of Pm read in the sweep itself */
  double heat;       /* greatest average power into a stage over its rating; 0: none states one */
  guint harmonics;
  SpPlanLine places[SP_MAX_ORDER + 1]; /* [0]: the spur asked for last */
  guint n_looks, next_look, n_laws, next_law;
  SpPlanLaw laws[SP_PLAN_LAWS]; /* rings */
  SpPlanThresholds looks[SP_PLAN_LOOKS];
  guint n_bands, next_band;
  SpPlanBand bands[SP_PLAN_BANDS];
};

/* plan-line.c: order 0 makes the place anew where the frequency is another. */
SpPlanLine *sp_plan_line (SpPlan *plan, guint order, double frequency_hz);

/* outlook.c */
/* Points further apart than the RBW lose a line between them, but for positive peak. */
gboolean sp_setting_undersamples (const SpSetting *setting);
/* `law` NULL: the setting's own. */
SpOutlook sp_plan_outlook_by (SpPlan *plan, const SpSetting *setting, const SpPlanLine *place, double points, const SpDetectorLaw *law);
SpOutlook sp_plan_outlook (SpPlan *plan, const SpSetting *setting, const SpPlanLine *place, double points);
/* Looked-at points of a place: a harmonic's window, or the whole sweep. */
double sp_plan_points (const SpPlan *plan, const SpSetting *setting, guint order);
/* By a law that is cheap to ask and never worse: FALSE only where the setting cannot prove the place. */
gboolean sp_plan_may_prove (SpPlan *plan, const SpSetting *setting, const SpPlanLine *place);
/* The outlook meets the reserve, whatever is safe. */
gboolean sp_outlook_proves (SpPlan *plan, const SpSetting *setting, const SpOutlook *outlook);
/* Way from the analyzer's input at 0 dB attenuation to the socket at the place, without noise bandwidth. */
double sp_plan_input_to_socket_db (const SpSetting *setting, const SpPlanLine *place);
double sp_plan_nbw_hz (const SpPlan *plan, const SpSetting *setting);

/* band.c: raises the floor to that of what may be as wide as the place allows; `law` the setting's own. */
void sp_plan_band (SpPlan *plan, const SpSetting *setting, const SpPlanLine *place, const SpPlanLaw *law, SpOutlook *outlook);

/* keying.c: what a sweep costs, s: at least SP_SHORT_S, SP_PART_S and the pause for each further part, SP_AVERAGING_S for an average. */
double sp_plan_effort_s (const SpPlan *plan, const SpSetting *setting);
/* Divides it into more parts, each as many points as before, until one lasts no longer than the radio may be keyed. FALSE: too many. */
gboolean sp_plan_fit_key_down (const SpPlan *plan, SpSetting *setting);
double sp_plan_time_s (const SpPlan *plan, const SpSetting *setting); /* all parts, key down */

/* A place that is nobody's memory: a spur's. */
SpPlanLine sp_plan_line_at (const SpPlan *plan, double frequency_hz);
/* How well a sweep shows the carrier's frequency. */
double sp_plan_carrier_half_hz (const SpPlan *plan, const SpSetting *setting);

/* setting-choices.c: what the user can set. Ways of detecting and sampling: 0 as it is, 1 peak, 2 sample in parts, 3 and 4 that averaged. */
typedef struct {
  guint n_attenuations, n_rbws; /* as many as the arrays take: the lowest */
  double attenuations_db[128], rbws_hz[64];
  double points; /* the most there are */
} SpSettingChoices;
#define SP_WAYS 5
SpSettingChoices sp_plan_setting_choices (const SpPlan *plan, const SpSetting *today);
/* FALSE: it would take too many parts. */
gboolean sp_setting_choice (const SpSettingChoices *means, guint way, SpSetting *setting);
