#include "core/mask/mask.h"
