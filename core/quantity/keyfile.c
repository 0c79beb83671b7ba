#include "core/quantity/keyfile.h"
