/* bench.h - one measurement job as plain values: radios and their conditions, the sweeps, chain, analyzer, mask
 *
 * Immutable, reference counted; an edit makes a new bench that shares what it did not touch. Files: .sheet (core/docs/files.md, section 2).
 */
#pragma once

#include "core/analyzer/analyzer.h"
#include "core/bench/document.h"
#include "core/chain/chain.h"
#include "core/mask/mask.h"
#include "core/picture/picture.h"
#include "core/quantity/keyspec.h"
#include "core/trace/trace.h"

typedef enum { SP_PURPOSE_KEYED, SP_PURPOSE_UNKEYED, SP_PURPOSE_STEP, SP_PURPOSE_NOTCHED, SP_PURPOSE_SUPERSEDED } SpPurpose;
typedef enum { SP_DECISION_RULE_GUARDED, SP_DECISION_RULE_SIMPLE } SpDecisionRule; /* JCGM 106 / ILAC-G8 */
typedef enum { SP_METER_ANCHOR, SP_METER_CHECK } SpMeterUse;
/* What modulated the carrier while it was keyed. NOT_STATED: the sweeps have to tell. */
typedef enum {
  SP_MODULATION_NOT_STATED,
  SP_MODULATION_NONE,
  SP_MODULATION_TONE,
  SP_MODULATION_NOISE,
  SP_MODULATION_SPEECH,
  SP_MODULATION_KEYING
} SpModulation;

typedef struct {
  SpPurpose purpose;
  SpTrace *trace;
  SpChain *chain; /* its own; NULL: the condition's */
  double step_db; /* STEP: dB more attenuation than the keyed sweep; NaN */
} SpSweep;

/* What somebody wrote beside a radio or a condition under a name of his own, "field.firmware=2.14". Nothing is judged by it. */
typedef struct {
  char *name, *value; /* 1 to SP_FIELD_NAME_CHARACTERS letters, digits, blanks and -_./+(); 1 to SP_FIELD_CHARACTERS */
} SpNamedField;
#define SP_FIELDS_MAX 20            /* of a radio, and of a condition: more push verdicts off a page (common practice, no source) */
#define SP_FIELD_NAME_CHARACTERS 24 /* a label on paper (common practice, no source) */
#define SP_FIELD_CHARACTERS 200     /* two lines of a page (common practice, no source) */

typedef struct {
  char *name, *owner, *serial, *note;
  double installed_day;      /* Julian day; NaN */
  double longest_key_down_s; /* how long it may be keyed at a time, "longest_key_down_s=30"; NaN. Bounds the sweeps that are advised */
  GArray *fields;            /* of SpNamedField, in the sheet's order; NULL: none */
  GArray *pictures;          /* of SpCaptioned, "picture=FILE caption"; NULL: none. On its own papers only */
  char *unknown;             /* lines of keys that no reader asked for, kept; NULL. Likewise below */
} SpRadio;

/* A word that somebody pinned to a place of a condition's chart. Nothing is judged by it. */
typedef struct {
  double frequency_hz, level_dbm;
  char *text; /* 1 to SP_PINNED_CHARACTERS characters */
} SpPinnedNote;
#define SP_PINNED_MAX 40         /* of a condition: more hide the chart (common practice, no source) */
#define SP_PINNED_CHARACTERS 120 /* a line of a chart (common practice, no source) */

typedef struct {
  char *name;                   /* "2 m high"; "" for a radio with one condition that has no name */
  guint radio;                  /* index into SpBench.radios */
  double fundamental_hz;        /* NaN: found */
  double rated_w;               /* NaN */
  double meter_dbm, meter_u_db; /* power meter at the socket; NaN */
  SpMeterUse meter_use;
  char *mode;                    /* "FM"; NULL */
  SpModulation modulation;       /* "modulation=none"; NOT_STATED: the bench's */
  double tone_hz, deviation_hz;  /* of it; NaN */
  double duty;                   /* (0, 1]; 1 */
  double necessary_bandwidth_hz; /* NaN: the bench's */
  GArray *clocks_hz;             /* of double, > 0: oscillators within the radio, "clocks=26MHz; 19.2MHz"; NULL: none named */
  GArray *pinned;                /* of SpPinnedNote, "pinned=292MHz -30 words"; NULL: none */
  GArray *fields;                /* of SpNamedField; NULL: none. The radio's are not among them */
  SpChain *chain;                /* NULL: the bench's; likewise below */
  SpAnalyzer *analyzer;
  SpMask *mask, *second_mask;
  guint n_sweeps;
  SpSweep *sweeps; /* in the sheet's order; the bench's unkeyed one is not among them */
  char *unknown;
} SpCondition;

/* A pad that lies at hand and could be put before the analyzer. */
typedef struct {
  double loss_db;  /* > 0, as it is marked: before it is used it is measured */
  double rating_w; /* greatest input power */
} SpPad;
#define SP_PADS_MAX 32 /* bounds time: each is tried */

typedef struct {
  char *title, *operator_name, *place, *note;
  char *date;      /* "2026-10-03" or NULL */
  double date_day; /* Julian day; NaN */
  char *file;
  SpChain *chain; /* NULL only if every condition has its own */
  SpAnalyzer *analyzer;
  SpMask *mask;
  SpMask *second_mask;     /* another limit, told beside the mask's verdict, which alone decides; NULL */
  SpDocument *document;    /* what its report says besides; NULL */
  SpPicture *letterhead;   /* over the first page of every paper where the document has none; NULL */
  GArray *pictures;        /* of SpCaptioned; NULL: none */
  SpModulation modulation; /* of conditions that do not say */
  SpDecisionRule decision_rule;
  double temperature_c;                     /* NaN */
  double necessary_bandwidth_hz;            /* NaN */
  double radio_vswr;                        /* >= 1; NaN: 1.2 with a warning */
  double radio_harmonic_vswr;               /* >= 1; infinity (|G| = 1) where not stated */
  double check_before_dbm, check_after_dbm; /* one steady source read through chain and analyzer at the evening's start and end; NaN */
  GArray *pads;     /* of SpPad, "pads_at_hand=10 2; 20 5"; NULL: none named. Nothing is judged by them: what would prove it may use them */
  SpTrace *unkeyed; /* NULL */
  guint n_radios, n_conditions;
  SpRadio *radios;
  SpCondition *conditions;
  char *unknown, *unknown_groups;
  GPtrArray *sheet_warnings; /* SpReason*: the sheet's own */
  GPtrArray *warnings;       /* all: the sheet's own, those of chains, analyzers, masks and traces, calibrations that are too old */
  char *sha256; /* of all that judging depends on, and of the names under which findings are given; not of paths, titles and notes */
} SpBench;

/* What stands over the papers: the document's, else the bench's own; NULL: nothing. */
const SpPicture *sp_bench_letterhead (const SpBench *bench);

/* What a sheet names: an SpChain, SpAnalyzer, SpMask, SpTrace, SpDocument or SpPicture. */
typedef enum {
  SP_RESOURCE_CHAIN,
  SP_RESOURCE_ANALYZER,
  SP_RESOURCE_MASK,
  SP_RESOURCE_TRACE,
  SP_RESOURCE_DOCUMENT,
  SP_RESOURCE_PICTURE,
  SP_RESOURCE_KINDS
} SpResourceKind;
gpointer sp_resource_ref (SpResourceKind kind, gpointer resource);
void sp_resource_unref (SpResourceKind kind, gpointer resource);
/* A chain, analyzer, mask or document from a file. NULL and an error. (transfer full) */
gpointer sp_resource_read (SpResourceKind kind, const char *path, GError **error);
SpBench *sp_bench_ref (const SpBench *bench);
void sp_bench_unref (SpBench *bench);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpBench, sp_bench_unref)

/* The resource that counts for a condition: its own or the bench's. (transfer none) */
SpChain *sp_condition_chain (const SpBench *bench, const SpCondition *condition);
SpAnalyzer *sp_condition_analyzer (const SpBench *bench, const SpCondition *condition);
SpMask *sp_condition_mask (const SpBench *bench, const SpCondition *condition);
SpMask *sp_condition_second_mask (const SpBench *bench, const SpCondition *condition); /* NULL: none */
SpTrace *sp_condition_unkeyed (const SpBench *bench, const SpCondition *condition);
/* Chains that the levels of a radio (-1: of any) were read through, each once. (transfer container) */
GPtrArray *sp_bench_chains (const SpBench *bench, int radio);
/* The bench with the second masks in place of the masks, and no others; NULL where it has none. Unhashed: for judging. (transfer full) */
SpBench *sp_bench_second (const SpBench *bench);
/* Necessary bandwidth in Hz; *assumed set where 16 kHz is taken because nobody gave one. */
double sp_condition_bandwidth_hz (const SpBench *bench, const SpCondition *condition, gboolean *assumed);
/* How it was modulated while it was keyed, by the sheet: the condition's word, else the bench's. */
SpModulation sp_condition_modulation (const SpBench *bench, const SpCondition *condition);
/* Is that n times as wide at the nth harmonic? A phase's modulation is multiplied with it; an amplitude's (mode CW, AM, or a designation A1A, A2A, A3E,
 * N0N; keying) is not. Not stated: yes. */
gboolean sp_condition_folds (const SpBench *bench, const SpCondition *condition);
/* How wide the sheet leaves it at the fundamental: 0 unmodulated; Carson's rule where it gives tone and deviation; else the necessary bandwidth. */
double sp_condition_signal_hz (const SpBench *bench, const SpCondition *condition, double necessary_bandwidth_hz);
/* "Mirrick" where the radio has one condition, else "Mirrick/2 m high". (transfer full) */
char *sp_condition_name (const SpBench *bench, const SpCondition *condition);

/* How far chain and analyzer together drifted between the two readings of the check source, after minus before; NaN where one is missing. */
double sp_bench_drift_db (const SpBench *bench);
/* What that puts on a level read in between, at any frequency: anything from nothing to the whole drift, so one-sided, |drift| / sqrt 3 (JCGM 100,
 * 4.3.7; the level is not moved: common practice). The same for all readings of one sweep, so it cancels in dBc. 0 where it was not checked. */
double sp_bench_drift_u_db (const SpBench *bench);

/* The keys of [bench], [radio NAME] and [condition RADIO/NAME]; a radio with one condition may have that one's keys in its own group. A bench is made,
 * copied and freed by these tables; they stand in core/bench/sheet/bench-keys.c, with the readers and writers of their rows. */
extern const SpKeySpec sp_bench_keys[], sp_radio_keys[], sp_condition_keys[];

/* The value of a condition's key "pinned", but for one note (G_MAXUINT: all); NULL: none is left. (transfer full) */
char *sp_pinned_text (const GArray *pinned, guint without);

gboolean sp_purpose_has_chain (SpPurpose purpose);        /* steps and notched sweeps may have one of their own */
const char *sp_purpose_name (SpPurpose purpose);          /* "keyed" "unkeyed" "step" "notched" "superseded" */
const char *sp_decision_rule_name (SpDecisionRule rule);  /* "guarded" "simple" */
extern const char *const sp_modulation_names[];           /* "not stated" "none" "tone" "noise" "speech" "keying"; NULL-terminated */
const char *sp_modulation_name (SpModulation modulation); /* NULL where it is not stated */
