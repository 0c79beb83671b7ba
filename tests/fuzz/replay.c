/* replay.c - a target's main where there is no fuzzer: replay PATH...: each file, and each below a folder; prints how many. No input may have a program
 * ask for more than BYTES_MOST: it ends. */
#include "tests/fuzz/fuzz.h"

#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <sys/resource.h>
#include <unistd.h>

#define BYTES_MOST ((rlim_t) 1 << 30)

static const char *input;

/* What a fuzzer would write down: the input that broke it. */
static void
tell (int signal)
{
  (void) !write (STDERR_FILENO, input, strlen (input));
  (void) !write (STDERR_FILENO, ": broke it\n", 11);
  raise (signal);
}

static guint
replay (const char *path)
{
  g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
  g_autofree char *data = NULL;
  const char *name;
  gsize length;
  guint n = 0;

  input = path;
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
  struct sigaction act = { .sa_handler = tell, .sa_flags = (int) SA_RESETHAND };
  guint n = 0;

  sigaction (SIGABRT, &act, NULL);
  sigaction (SIGSEGV, &act, NULL);
#if !defined(__SANITIZE_ADDRESS__) && !defined(__SANITIZE_THREAD__) /* they take terabytes of addresses for themselves */
  struct rlimit limit = { BYTES_MOST, BYTES_MOST };
  FUZZ_MUST (setrlimit (RLIMIT_AS, &limit) == 0);
#endif

  for (int i = 1; i < argc; i++)
    n += replay (argv[i]);
  printf ("%u passed, %u failed\n", n, n == 0);
  return n == 0;
}
