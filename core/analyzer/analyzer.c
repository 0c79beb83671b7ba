#include "core/analyzer/analyzer.h"
