/* random.h - scenes at random: any radio, mask, sweeps and detectors, with the truth that scene.h knows
 *
 * What no sweep could tell is left out: noise-like spurs come only with ways of looking that average (see widths.c), spurs lie several
 * filters apart.
 */
#pragma once

#include "tests/simulate/scene.h"

/* The scene of that seed. (sim_scene_clear) */
SimScene sim_random_scene (guint64 seed);

/* One more sweep of a scene, at random, by kind. */
typedef enum { SIM_ADD_REPEAT, SIM_ADD_CLOSE, SIM_ADD_WIDE, SIM_ADD_COARSE, SIM_ADD_STEP, SIM_ADD_UNKEYED, SIM_ADD_KINDS } SimAdd;
const char *sim_add_name (SimAdd kind);
/* NULL: the scene has no place for it. (transfer none) */
SimTake *sim_random_add (SimScene *scene, SimAdd kind, SimChance *chance);
