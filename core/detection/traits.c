/* traits.c - the table of detectors */
#include "core/detection/detection.h"

/* by hand: a table that reads by its columns */
/* clang-format off */
static const SpDetectorTraits traits[] = {
  [SP_DETECTOR_UNKNOWN]    = { .alternates = TRUE },
  [SP_DETECTOR_PEAK]       = { .law_known = TRUE, .extreme = TRUE },
  [SP_DETECTOR_SAMPLE]     = { .law_known = TRUE, .follows_a_line = TRUE },
  [SP_DETECTOR_RMS]        = { .law_known = TRUE, .follows_a_line = TRUE, .sums = TRUE },
  [SP_DETECTOR_AVERAGE]    = { .law_known = TRUE, .follows_a_line = TRUE, .sums = TRUE },
  [SP_DETECTOR_NEGATIVE]   = { .extreme = TRUE, .least = TRUE },
  [SP_DETECTOR_NORMAL]     = { .extreme = TRUE, .alternates = TRUE, .shows_greatest = TRUE },
  [SP_DETECTOR_QUASI_PEAK] = { .extreme = TRUE, .shows_greatest = TRUE },
};
/* clang-format on */

const SpDetectorTraits *
sp_detector_traits (SpDetector detector)
{
  return &traits[detector];
}
