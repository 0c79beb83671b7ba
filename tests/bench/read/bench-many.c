/* bench-many FOLDER: writes a thousand exports of 1001 points there and reads them in turn on one processor and on two, as `spurproof-batch
 * read` does: medians of wall time, "one MS", "two MS". On two processors that are busy otherwise the ratio is less. */
#include "core/trace/read/read-parallel.h"

#include <sched.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/wait.h>
#include <unistd.h>

#define EXPORTS 1000
#define POINTS 1001
#define RUNS 11

static void
write_exports (const char *folder, char **names)
{
  guint32 state = 12345;

  for (guint k = 0; k < EXPORTS; k++) {
    g_autoptr (GString) text = g_string_new ("Start,30 MHz\nStop,3 GHz\nRBW,10 kHz\nDetector,RMS\n\nFrequency (Hz),Level (dBm)\n");
    for (guint i = 0; i < POINTS; i++) {
      state = state * 1664525u + 1013904223u;
      g_string_append_printf (text, "%.0f,%.2f\n", 30e6 + 2.97e6 * i, -90 + 10 * (state >> 8) / 16777216.0);
    }
    names[k] = g_strdup_printf ("%s/%u.csv", folder, k);
    if (!g_file_set_contents (names[k], text->str, -1, NULL))
      exit (1);
  }
}

/* In a process of its own: how many threads there are is asked once. */
static double
time_on (int processors, char **names)
{
  double ms = 0;
  int ends[2];

  if (pipe (ends) != 0)
    exit (1);
  if (fork () == 0) {
    cpu_set_t set;
    CPU_ZERO (&set);
    for (int i = 0; i < processors; i++)
      CPU_SET (i, &set);
    sched_setaffinity (0, sizeof set, &set);
    gint64 start = g_get_monotonic_time ();
    g_autoptr (GPtrArray) readings = sp_trace_read_many ((const char *const *) names, SP_MANY_ALL);
    ms = (double) (g_get_monotonic_time () - start) / 1000;
    for (guint i = 0; i < readings->len; i++)
      if (((SpTraceReading *) readings->pdata[i])->error)
        ms = -1;
    _exit (write (ends[1], &ms, sizeof ms) != sizeof ms);
  }
  wait (NULL);
  if (read (ends[0], &ms, sizeof ms) != sizeof ms || ms < 0)
    exit (1);
  close (ends[0]);
  close (ends[1]);
  return ms;
}

static int
ascending (const void *a, const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;
  return x < y ? -1 : x > y;
}

int
main (int argc, char **argv)
{
  char *names[EXPORTS + 1] = { NULL };
  double one[RUNS], two[RUNS];

  if (argc != 2)
    return 1;
  write_exports (argv[1], names);
  time_on (2, names);
  for (int i = 0; i < RUNS; i++) {
    one[i] = time_on (1, names);
    two[i] = time_on (2, names);
  }
  qsort (one, RUNS, sizeof *one, ascending);
  qsort (two, RUNS, sizeof *two, ascending);
  printf ("one %.2f\ntwo %.2f\nleast-one %.2f\nleast-two %.2f\n", one[RUNS / 2], two[RUNS / 2], one[0], two[0]);
  return 0;
}
