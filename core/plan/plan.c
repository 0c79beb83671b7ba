#include "core/plan/plan.h"

const char *
sp_floor_cause_name (SpFloorCause cause)
{
  static const char *const names[] = { "noise", "phase noise", "skirt", "distortion" };
  return names[cause];
}
