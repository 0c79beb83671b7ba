/* make-input LINES PATH [carrier]: a sweep of `LINES` lines 'frequency,level' under a preamble, for the benchmarks of reading and, with a
 * carrier of 146.52 MHz and harmonics that fall by 12 dB each, of judging. The same bytes every time. */
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

/* Through a Gaussian RBW of 10 kHz. */
static double
lines (double frequency)
{
  double order = fmax (1, round (frequency / 146.52e6)), away = (frequency - order * 146.52e6) / 10e3;
  return -4 - 12 * (order - 1) - (order > 1 ? 40 : 0) - 12.0412 * away * away;
}

int
main (int argc, char **argv)
{
  uint64_t state = 88172645463325252u;
  long n = argc == 3 || argc == 4 ? atol (argv[1]) : 0;
  FILE *out = n > 1 ? fopen (argv[2], "w") : NULL;

  if (!out)
    return 1;
  fputs ("Start,30 MHz\nStop,3 GHz\nRBW,10 kHz\nVBW,30 kHz\nAttenuation,20 dB\nReference level,0 dBm\nDetector,RMS\n\n"
         "Frequency (Hz),Level (dBm)\n",
         out);
  for (long i = 0; i < n; i++) {
    state ^= state << 13, state ^= state >> 7, state ^= state << 17;
    double frequency = 30e6 + (3e9 - 30e6) * (double) i / (double) (n - 1), noise = -90 + 10 * (double) (state >> 11) / 9007199254740992.0;
    fprintf (out, "%.0f,%.2f\n", frequency, argc == 4 ? fmax (noise, lines (frequency)) : noise);
  }
  return fclose (out) != 0;
}
