/* fuzz.h - what a reader of strangers' bytes must stand; each target is one file
 *
 * The entry is libFuzzer's, so that clang makes a fuzzer of a target (tests/fuzz/run). With any other compiler replay.c gives it a main that
 * takes files and folders: the corpus is a test.
 */
#pragma once

#include <glib.h>
#include <stdint.h>
#include <stdlib.h>

int LLVMFuzzerTestOneInput (const uint8_t *data, size_t size);

/* A rule that every input must keep; breaks off with the place, as sanitizers do. */
#define FUZZ_MUST(rule)                                                                                                             \
  do {                                                                                                                              \
    if (!(rule)) {                                                                                                                  \
      g_printerr ("%s: broken: %s\n", G_STRLOC, #rule);                                                                             \
      abort ();                                                                                                                     \
    }                                                                                                                               \
  } while (0)

/* Either a result or an error that says something. */
#define FUZZ_MUST_ANSWER(result, error) FUZZ_MUST (((result) != NULL) == ((error) == NULL) && (!(error) || *(error)->message))
