/* waveband.c - wavebands by their edges */
#include "core/compare/waveband.h"

#include <math.h>

static const SpWaveband wavebands[] = {
  { NULL, 0, 135.7e3 },        { "2200 m", 135.7e3, 137.8e3 }, { NULL, 137.8e3, 472e3 }, { "630 m", 472e3, 479e3 },
  { NULL, 479e3, 1.8e6 },      { "160 m", 1.8e6, 2e6 },        { NULL, 2e6, 3.5e6 },     { "80 m", 3.5e6, 4e6 },
  { NULL, 4e6, 5.25e6 },       { "60 m", 5.25e6, 5.45e6 },     { NULL, 5.45e6, 7e6 },    { "40 m", 7e6, 7.3e6 },
  { NULL, 7.3e6, 10.1e6 },     { "30 m", 10.1e6, 10.15e6 },    { NULL, 10.15e6, 14e6 },  { "20 m", 14e6, 14.35e6 },
  { NULL, 14.35e6, 18.068e6 }, { "17 m", 18.068e6, 18.168e6 }, { NULL, 18.168e6, 21e6 }, { "15 m", 21e6, 21.45e6 },
  { NULL, 21.45e6, 24.89e6 },  { "12 m", 24.89e6, 24.99e6 },   { NULL, 24.99e6, 28e6 },  { "10 m", 28e6, 29.7e6 },
  { NULL, 29.7e6, 50e6 },      { "6 m", 50e6, 54e6 },          { NULL, 54e6, 69.9e6 },   { "4 m", 69.9e6, 70.5e6 },
  { NULL, 70.5e6, 144e6 },     { "2 m", 144e6, 148e6 },        { NULL, 148e6, 219e6 },   { "1.25 m", 219e6, 225e6 },
  { NULL, 225e6, 420e6 },      { "70 cm", 420e6, 450e6 },      { NULL, 450e6, 902e6 },   { "33 cm", 902e6, 928e6 },
  { NULL, 928e6, 1.24e9 },     { "23 cm", 1.24e9, 1.3e9 },     { NULL, 1.3e9, 2.3e9 },   { "13 cm", 2.3e9, 2.45e9 },
  { NULL, 2.45e9, INFINITY },
};

const SpWaveband *
sp_waveband_of (double frequency_hz)
{
  if (!(frequency_hz > 0))
    return NULL;
  guint i = 0;
  while (i + 1 < G_N_ELEMENTS (wavebands) && frequency_hz > wavebands[i].to_hz)
    i++;
  /* an edge belongs to the named one */
  return !wavebands[i].name && i + 1 < G_N_ELEMENTS (wavebands) && frequency_hz == wavebands[i].to_hz ? &wavebands[i + 1] : &wavebands[i];
}
