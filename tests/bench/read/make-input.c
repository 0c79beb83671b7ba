/* make-input LINES PATH: a sweep of `LINES` lines 'frequency,level' under a preamble, for the reading benchmark. The same bytes every
 * time. */
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

int
main (int argc, char **argv)
{
  uint64_t state = 88172645463325252u;
  long n = argc == 3 ? atol (argv[1]) : 0;
  FILE *out = n > 1 ? fopen (argv[2], "w") : NULL;

  if (!out)
    return 1;
  fputs ("Start,30 MHz\nStop,3 GHz\nRBW,10 kHz\nVBW,30 kHz\nAttenuation,20 dB\nReference level,0 dBm\nDetector,RMS\n\n"
         "Frequency (Hz),Level (dBm)\n", out);
  for (long i = 0; i < n; i++) {
    state ^= state << 13, state ^= state >> 7, state ^= state << 17;
    fprintf (out, "%.0f,%.2f\n", 30e6 + (3e9 - 30e6) * (double) i / (double) (n - 1),
             -90 + 10 * (double) (state >> 11) / 9007199254740992.0);
  }
  return fclose (out) != 0;
}
