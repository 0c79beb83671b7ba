/* The bare limit: read() and an exact fast path over 'frequency,level' lines whose layout is given, into two arrays, under the same large pages. */
#include "core/trace/bytes.h"
#include "core/trace/decimal.h"
#include "tests/bench/read/bench-read.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

static char *data;
static double *frequencies, *levels;

double
bench_probe (const char *path)
{
  struct stat status;
  int fd = open (path, O_RDONLY);
  if (fd < 0 || fstat (fd, &status) != 0)
    return 0;
  gsize size = (gsize) status.st_size, length = 0, n = 0;
  data = g_malloc (size + 1 + SP_DECIMAL_READ_AHEAD);
  sp_bytes_prefer_large_pages (data, size + 1);
  for (ssize_t got; length < size && (got = read (fd, data + length, size - length)) > 0;)
    length += (gsize) got;
  close (fd);
  memset (data + length, '\n', 1 + SP_DECIMAL_READ_AHEAD);
  gsize room = size / 16; /* no line of the input is shorter */
  frequencies = g_new (double, room);
  levels = g_new (double, room);
  sp_bytes_prefer_large_pages (frequencies, room * sizeof (double));
  sp_bytes_prefer_large_pages (levels, room * sizeof (double));
  double *f = frequencies, *level = levels, sum = 0;
  for (const char *p = data; p < data + length; p++) {
    if (sp_decimal_fast (&p, '.', 0, &f[n]) && *p == ',' && (p++, sp_decimal_fast (&p, '.', 0, &level[n])))
      sum += level[n++];
    while (*p != '\n')
      p++;
  }
  return sum + (double) n;
}

void
bench_probe_free (void)
{
  g_free (data);
  g_free (frequencies);
  g_free (levels);
}
