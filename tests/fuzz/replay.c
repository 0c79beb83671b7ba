/* replay.c - a target's main where there is no fuzzer: replay PATH...: each file, and each below a folder; prints how many */
#include "tests/fuzz/fuzz.h"

#include <stdio.h>

static guint
replay (const char *path)
{
  g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
  g_autofree char *data = NULL;
  const char *name;
  gsize length;
  guint n = 0;

  if (!dir && g_file_get_contents (path, &data, &length, NULL)) {
    LLVMFuzzerTestOneInput ((const uint8_t *) data, length);
    n = 1;
  }
  while (dir && (name = g_dir_read_name (dir))) {
    g_autofree char *below = g_build_filename (path, name, NULL);
    n += replay (below);
  }
  return n;
}

int
main (int argc, char **argv)
{
  guint n = 0;

  for (int i = 1; i < argc; i++)
    n += replay (argv[i]);
  printf ("%u passed, %u failed\n", n, n == 0);
  return n == 0;
}
