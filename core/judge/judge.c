#include "core/judge/findings.h"
