/* fuzz.h - what a reader of strangers' bytes must stand; each target is one file
 *
 * The entry is libFuzzer's, so that clang makes a fuzzer of a target (tests/fuzz/run). With any other compiler replay.c gives it a main that
 * takes files and folders: the corpus is a test.
 */
#pragma once

#include <glib.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>

int LLVMFuzzerTestOneInput (const uint8_t *data, size_t size);

/* A rule that every input must keep; breaks off with the place, as sanitizers do. */
#define FUZZ_MUST(rule)                                                                                                                    \
  do {                                                                                                                                     \
    if (!(rule)) {                                                                                                                         \
      g_printerr ("%s: broken: %s\n", G_STRLOC, #rule);                                                                                    \
      abort ();                                                                                                                            \
    }                                                                                                                                      \
  } while (0)

/* Either a result or an error that says something. */
#define FUZZ_MUST_ANSWER(result, error) FUZZ_MUST (((result) != NULL) == ((error) == NULL) && (!(error) || *(error)->message))

/* Either a result or an error that begins with the file, which every target calls "file". */
static inline gboolean
fuzz_says_where (const GError *error)
{
  gboolean good = g_str_has_prefix (error->message, "file:") && g_utf8_validate (error->message, -1, NULL);

  if (!good)
    g_printerr ("said: %s\n", error->message);
  return good;
}
#define FUZZ_MUST_SAY(result, error)                                                                                                       \
  do {                                                                                                                                     \
    FUZZ_MUST_ANSWER (result, error);                                                                                                      \
    FUZZ_MUST (!(error) || fuzz_says_where (error));                                                                                       \
  } while (0)
