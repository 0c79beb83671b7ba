/* The bare limit: read() and our exact fast path over 'frequency,level' lines whose layout is given, into two arrays, under the same large
 * pages; nothing is checked but that numbers are numbers. */
#include "core/quantity/large.h"
#include "core/trace/read/same-format.h"
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
  data = sp_large_resize (NULL, 0, size + 1 + SP_SAME_FORMAT_READ_AHEAD);
  SpSameFormat alike[2];
  sp_same_format_init (&alike[0], data);
  sp_same_format_init (&alike[1], data);
  for (ssize_t got; length < size && (got = read (fd, data + length, size - length)) > 0;)
    length += (gsize) got;
  close (fd);
  memset (data + length, '\n', 1 + SP_SAME_FORMAT_READ_AHEAD);
  gsize room = size / 16; /* no line of the input is shorter */
  frequencies = sp_large_resize (NULL, 0, room * sizeof (double));
  levels = sp_large_resize (NULL, 0, room * sizeof (double));
  double *f = frequencies, *level = levels, sum = 0;
  for (const char *p = data, *end; p < data + length; p++) {
    if ((end = sp_same_format_read (&alike[0], p, '.', 0, &f[n])) && *end == ','
        && (end = sp_same_format_read (&alike[1], end + 1, '.', 0, &level[n]))) {
      sum += level[n++];
      p = end;
    }
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
