#include "core/quantity/reason.h"
