#include "core/judge/detection.h"
