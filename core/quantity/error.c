#include "core/quantity/error.h"
