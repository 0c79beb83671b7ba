#include "core/bench/bench.h"
