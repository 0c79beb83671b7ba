#include "core/curve/curve.h"
