/* scene.h - a radio whose emissions have a width, swept by several sweeps of settings of their own, and the bench that the program gets of
 * it
 *
 * Where world.h asks whose a harmonic is (one setting, a mixer with products), a scene asks what is seen: any spans, filters and detectors
 * beside each other, any mask. The mixer is linear here and its intercepts are stated so high that no product shows. Errors are drawn from
 * what the files state, from the scene's seed and the emission's index alone: adding, leaving out or raising one thing leaves everything
 * else as it was.
 */
#pragma once

#include "core/findings/findings.h"
#include "tests/simulate/emit.h"

#define SCENE_EMISSIONS 32
#define SCENE_TAKES 8
#define SCENE_BANDWIDTH_HZ 16e3

/* A sweep. `trace` NULL: it is taken when it is asked for. */
typedef struct {
  SpPurpose purpose;
  SimSettings settings;
  double attenuation_db;
  guint64 seed;       /* of its noise */
  gboolean as_text;   /* through the reader of files: */
  gboolean backwards; /*   rows from the top down */
  const char *unit;   /*   levels in dBuV, W; NULL: dBm */
  double unit_hz;     /*   frequencies in; 0: Hz */
  SpTrace *trace;
} SimTake;

typedef struct {
  SimEmission emission;
  guint order;     /* 0: no harmonic */
  gboolean always; /* also while the radio is not keyed */
} SimSource;

typedef struct SimScene SimScene;
struct SimScene {
  guint64 seed;
  /* the files state half-widths in dB (rectangular), u standard; the errors are drawn from them */
  double accuracy_db, flatness_db, scale_db, repeatability_db, chain_u_db;
  double chain_db, noise_dbm_hz; /* at the analyzer's input without attenuation */
  SpDecisionRule rule;
  const char *mode;
  char mask[1024]; /* text of the file */
  guint n_sources;
  SimSource source[SCENE_EMISSIONS]; /* [0]: the carrier; level at the socket */
  guint n_takes;
  SimTake take[SCENE_TAKES];
  const SimScene *beside; /* another radio on the same sheet, before and after this one; NULL */
};

/* An empty scene: 40 dB of pad, everyday errors, -150 dBm/Hz, no sources, no sweeps. */
void sim_scene_init (SimScene *scene, guint64 seed);
void sim_scene_add (SimScene *scene, const SimEmission *emission, guint order, gboolean always);
SimTake *sim_scene_sweep (SimScene *scene, SpPurpose purpose, const SimSettings *settings, double attenuation_db, guint64 seed);
/* The trace of a take, made now if it was not yet. (transfer none) */
SpTrace *sim_scene_trace (SimScene *scene, guint take);
/* A copy; what was swept already is shared. sim_scene_forget: the traces are to be taken anew. Both scenes: sim_scene_clear. */
SimScene sim_scene_copy (SimScene *scene);
void sim_scene_forget (SimScene *scene);
void sim_scene_clear (SimScene *scene);

/* (transfer full) The radio's condition is the one that sim_scene_condition gives. */
SpFindings *sim_scene_judge (SimScene *scene);
const SpConditionFindings *sim_scene_condition (const SimScene *scene, const SpFindings *findings);

/* -- the truth -- */
/* What of the source stands against the limit at its frequency, in the governing rule's bandwidth, dB over it; -INFINITY where there is no
 * limit. `most`: a line on both edges of the window counts. */
double sim_scene_excess_db (SimScene *scene, guint source, gboolean most);
/* Its level in that bandwidth. */
double sim_scene_truth_dbm (SimScene *scene, guint source, gboolean most);
/* Has the verdict to do with it: a harmonic that the mask asks for, in the search range, or under a keyed sweep. */
gboolean sim_scene_in_scope (SimScene *scene, guint source);
/* The greatest over all that is in scope, and whose it is (0: nothing is). */
double sim_scene_worst_excess_db (SimScene *scene, gboolean most, guint *source);

/* The finding for a source: that order's, else the highest within its width and a filter. NULL. */
const SpEmission *sim_scene_find (const SimScene *scene, const SpFindings *findings, guint source);

/* The whole scene in words, for a failure's report. (transfer full) */
char *sim_scene_words (SimScene *scene);
