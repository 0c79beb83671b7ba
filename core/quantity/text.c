#include "core/quantity/text.h"
