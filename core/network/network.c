#include "core/network/network.h"
