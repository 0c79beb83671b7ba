#include "core/chain/chain.h"
