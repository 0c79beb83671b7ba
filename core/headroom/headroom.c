#include "core/headroom/headroom.h"
