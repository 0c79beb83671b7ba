/* analyzer.h - the instrument's profile: noise, intercepts, phase noise, filter, accuracy, what it survives
 *
 * Files: .analyzer (core/docs/files.md, section 4). Immutable, reference counted. Power levels are at the input with 0 dB attenuation, or
 * at the mixer (= input level - attenuation), as each field says.
 */
#pragma once

#include "core/curve/curve.h"
#include "core/quantity/keyspec.h"
#include "core/trace/trace.h"

typedef enum { SP_WIDTH_RECTANGULAR, SP_WIDTH_NORMAL2, SP_WIDTH_STANDARD } SpWidthKind;

/* A stated limit of error. Standard uncertainty: half-width / sqrt 3, / 2, / 1 (JCGM 100, 4.3.7 and 4.3.4). */
typedef struct {
  double width_db;
  SpWidthKind kind;
  gboolean assumed; /* not in the file: common practice, warned as u-assumed */
} SpWidth;

double sp_width_u_db (const SpWidth *width);

typedef enum { SP_FILTER_GAUSSIAN, SP_FILTER_SYNC4, SP_FILTER_FLAT } SpFilter;

typedef struct {
  char *name;
  char *file;
  double damage_dbm, damage_attenuation_db, max_dc_v; /* NaN: not stated */
  double best_mixer_dbm;                              /* recommended; NaN */
  SpCurve *danl_dbm_hz;                               /* NULL: not stated */
  gboolean danl_log_averaged;                         /* then 2.5068 dB below the noise power density */
  SpCurve *intercept_dbm[16];                         /* [n]: harmonic intercept of order n at the mixer, over the fundamental's f; NULL */
  double intercept_u_db;                              /* standard */
  SpCurve *phase_noise_dbc_hz;                        /* over offset; NULL */
  SpWidth accuracy, flatness, scale, repeatability, attenuator_switch, rbw_switch;
  SpCurve *amplitude_correction_db;           /* added to the reading; with a u at every point it is a check's; NULL: none */
  double correction_between_u_db;             /* what flatness adds midway between two points of a check's, standard; 0 */
  double checked_day, interval_days;          /* Julian day of that check, and how long it counts; NaN */
  double frequency_ppm;                       /* half-width; NaN: 0 */
  SpCurve *vswr;                              /* NULL: assumed */
  GArray *attenuator_steps_db, *rbw_steps_hz; /* of double, ascending; empty */
  double points_max;                          /* NaN */
  SpFilter filter;
  GArray *sweep_times; /* of double triples RBW Hz, span Hz, seconds; ascending by RBW; empty */
  GArray *residuals;   /* of double pairs f, dBm; empty */
  char *check_text;    /* groups [check] and [at ...]: the readings that gave the correction, core/check reads them; NULL */
  GPtrArray *warnings;
  char *text, *sha256; /* canonical text and its hash; check_text stands last in it */
} SpAnalyzer;

/* Reads a .analyzer file; every key may be left out but a value that is there must lie in its range. Half-widths left out are assumed
 * (accuracy 1.5, flatness 1.0, scale 0.5, switches 0.5, repeatability 0.05 dB: common practice, no source) with U_ASSUMED; their *_kind is
 * kept. third_order_intercept_dbm (two-tone) is kept as the harmonic one. Keys of ours: residuals=f dBm; ..., sweep_s=RBW SPAN SECONDS; ...
 * ("10kHz 1GHz 12; 100kHz 1GHz 0.3": how long one sweep takes, by its own display). Warnings besides:
 * VSWR_ASSUMED, RATING_MISSING (no damage level), UNKNOWN_KEY. (transfer full) */
SpAnalyzer *sp_analyzer_read (const char *path, GError **error);
SpAnalyzer *sp_analyzer_parse (SpKeyFile *file, GError **error);
/* Of which nothing is stated but a name. (transfer full) */
SpAnalyzer *sp_analyzer_blank (const char *name);
SpAnalyzer *sp_analyzer_ref (const SpAnalyzer *analyzer);
void sp_analyzer_unref (SpAnalyzer *analyzer);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpAnalyzer, sp_analyzer_unref)

/* The keys of [analyzer]. */
extern const SpKeySpec sp_analyzer_keys[];

#define SP_MAX_ORDER 15                   /* bounds time */
#define SP_ZERO_HERTZ_RBWS 5.0            /* the response at zero hertz reaches this far (common practice, no source) */
#define SP_INPUT_VSWR_ASSUMED 1.2         /* what is taken, with a warning, where the profile states no vswr (common practice, no source) */
#define SP_LOG_NOISE_DB 2.5068            /* log average of Gaussian noise below its power: core/docs/metrology.md, section 4.1 */
#define SP_TWO_TONE_TO_HARMONIC_DB 4.7712 /* harmonic intercept = two-tone one + this (core/docs/metrology.md, section 4.4) */

/* Noise bandwidth over the 3 dB bandwidth: 1.0645 (Gaussian), 1.1285 (four-pole synchronous), 1 (flat). */
double sp_filter_nbw_ratio (SpFilter filter);
/* Response of the RBW filter at an offset, dB (<= 0): Gaussian -12.0412 (df/B)^2; four-pole -40 lg(...) (core/docs/metrology.md, section
 * 4.3); flat: 0 inside B/2, -infinity beyond. */
double sp_filter_response_db (SpFilter filter, double offset_hz, double rbw_hz);

/* Noise power in dBm at the input, in the RBW's noise bandwidth, at an attenuation; NaN without danl. */
double sp_analyzer_noise_dbm (const SpAnalyzer *analyzer, double frequency_hz, double rbw_hz, double attenuation_db);

/* How long one sweep over `span_hz` takes, s, by sweep_s: seconds a hertz, between two of its RBWs straight in the logarithms; below the narrowest
 * they rise as 1/RBW^2, as those of any swept filter do; above the widest they stay (the safe side). NaN: the profile does not say. */
double sp_analyzer_sweep_s (const SpAnalyzer *analyzer, double rbw_hz, double span_hz);

/* Was the correction found against a known level: does every point of it carry its u? */
gboolean sp_analyzer_checked (const SpAnalyzer *analyzer);
/* Its standard uncertainty at f, with what flatness may do between two points (sp_curve_between), and whether f lies among them; 0 and FALSE where
 * there was no check. */
double sp_analyzer_correction_u_db (const SpAnalyzer *analyzer, double frequency_hz, gboolean *inside);

/* The nth harmonic that the mixer makes of a fundamental of `mixer_dbm` at f0: n Pm - (n - 1) In, at the mixer; NaN without In. */
double sp_analyzer_product_dbm (const SpAnalyzer *analyzer, guint order, double fundamental_hz, double mixer_dbm);

/* L(df) in dBc/Hz; *held set where the table's end value is held. NaN without a table. */
double sp_analyzer_phase_noise (const SpAnalyzer *analyzer, double offset_hz, gboolean *held);

/* Damage level in dBm at the input for an attenuation setting (NaN, not known: as at 0 dB). Where the profile states the setting that its
 * figure holds at, a smaller one lowers it dB for dB and a greater one leaves it (the input itself is the limit); where it states none
 * the figure holds at any. NaN: no figure. */
double sp_analyzer_damage_dbm (const SpAnalyzer *analyzer, double attenuation_db);
