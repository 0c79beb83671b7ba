/* waveband.h - the part of the spectrum that a transmitter belongs to: 2 m, 70 cm, or what lies between two such
 *
 * Names and edges are those of the amateur service, each as wide as any of the three regions has it (ITU Radio Regulations, Article 5;
 * 60 m and 4 m: national allocations, common practice). They group what is compared, and judge nothing.
 */
#pragma once

#include "core/quantity/units.h"

typedef struct {
  const char *name;      /* "2 m"; NULL: between two that have one */
  double from_hz, to_hz; /* the last one's to_hz is INFINITY */
} SpWaveband;

/* The waveband of a frequency; NULL: not known (NaN, or not above 0). Static: equal wavebands are equal pointers. */
const SpWaveband *sp_waveband_of (double frequency_hz);
