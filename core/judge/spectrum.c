#include "core/judge/spectrum.h"
