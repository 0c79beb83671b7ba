#include "core/trace/trace.h"
