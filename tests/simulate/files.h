/* files.h - the program's own files out of a simulation's text; what it does not understand ends the test. Each (transfer full). */
#pragma once

#include "core/bench/bench.h"

SpKeyFile *sim_parse (const char *text, const char *name);
SpChain *sim_chain (const char *text);
SpAnalyzer *sim_analyzer (const char *text);
SpMask *sim_mask (const char *text);
