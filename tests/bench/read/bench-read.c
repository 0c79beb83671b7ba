/* bench-read FILE RUNS: milliseconds of processor time, medians, of our reader with everything and of the bare limit, taken in turn; and
 * the memory of ours. Prints "ours MS", "limit MS", "hash MS", "peak BYTES_PER_POINT". */
#include "tests/bench/read/bench-read.h"
#include "core/quantity/hash.h"
#include "core/trace/read/read.h"
#include "core/trace/trace.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

static int
ascending (const void *a, const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;
  return x < y ? -1 : x > y;
}

/* One thread's work: processor time, which a busy machine leaves nearly alone. */
static double
processor_us (void)
{
  struct timespec now;
  clock_gettime (CLOCK_PROCESS_CPUTIME_ID, &now);
  return 1e6 * (double) now.tv_sec + (double) now.tv_nsec / 1000;
}

static double
median (double *times, int n)
{
  qsort (times, (size_t) n, sizeof *times, ascending);
  return times[n / 2];
}

/* VmHWM in bytes, or VmRSS. */
static double
memory (const char *what)
{
  g_autofree char *status = NULL;
  if (!g_file_get_contents ("/proc/self/status", &status, NULL, NULL) || !strstr (status, what))
    return 0;
  return 1024 * g_ascii_strtod (strstr (status, what) + strlen (what), NULL);
}

static void
print_peak (const char *path)
{
  GError *error = NULL;
  double before = memory ("VmRSS:");
  SpTrace *trace = sp_trace_read_file (path, NULL, &error);
  if (!trace) {
    fprintf (stderr, "%s\n", error->message);
    exit (1);
  }
  double raw = (double) g_bytes_get_size (trace->raw);
  printf ("peak %.1f\n", (memory ("VmHWM:") - before - raw) / (double) trace->n);
  sp_trace_unref (trace);
}

int
main (int argc, char **argv)
{
  int runs = argc == 3 ? atoi (argv[2]) : 0;
  double ours[101], limit[101], hash[101], sum = 0;

  if (runs < 5 || runs > 101)
    return 1;
  print_peak (argv[1]);
  for (int i = 0; i < runs; i++) {
    double t0 = processor_us ();
    SpTrace *trace = sp_trace_read_file (argv[1], NULL, NULL);
    double t1 = processor_us ();
    sum += bench_probe (argv[1]);
    double t2 = processor_us ();
    g_autofree char *digest = sp_sha256 (trace->raw);
    double t3 = processor_us ();
    sp_trace_unref (trace);
    bench_probe_free ();
    ours[i] = (t1 - t0) / 1000;
    limit[i] = (t2 - t1) / 1000;
    hash[i] = (t3 - t2) / 1000;
  }
  printf ("ours %.2f\nlimit %.2f\nhash %.2f\nsum %.3f\n", median (ours, runs), median (limit, runs), median (hash, runs), sum);
  return 0;
}
