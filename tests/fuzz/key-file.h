/* key-file.h - any bytes as one kind of our own files, and what such a file names: always the same few, in memory */
#pragma once

#include <string.h>

#include "core/chain/chain.h"
#include "tests/fuzz/fuzz.h"

#define FUZZ_TWO_PORT "# MHz S MA R 50\n10 0.1 0 0.1 0 0.1 0 0.1 0\n1000 0.2 90 0.09 -90 0.09 -90 0.2 90\n"
#define FUZZ_RUN "[run]\nstage=pad\n[at 10MHz]\nbefore=0@0\ninserted=-10@1;-10.1@2\nafter=0@3\n"

typedef gpointer (*FuzzRead) (SpKeyFile *file, GError **error);

/* NULL where it was refused, with a place. */
static inline gpointer
fuzz_key_file (FuzzRead read, const char *bytes, gsize length)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SpKeyFile) file = sp_key_file_parse (bytes, length, "file", &error);
  gpointer got = file ? read (file, &error) : NULL;
  FUZZ_MUST_SAY (got, error);
  return got;
}

/* A canonical text reads to the very same. */
#define FUZZ_READ_AGAIN(type, read, got)                                                                                                   \
  do {                                                                                                                                     \
    g_autoptr (type) again = fuzz_key_file ((read), (got)->text, strlen ((got)->text));                                                    \
    FUZZ_MUST (again &&strcmp (again->text, (got)->text) == 0 && strcmp (again->sha256, (got)->sha256) == 0);                              \
  } while (0)

/* A file beside, as its own reader names it in messages; NULL for one that is not there. */
static inline char *
fuzz_beside (const char *name, GError **error)
{
  if (strcmp (name, "gone") != 0)
    return g_strconcat ("file:", name, NULL);
  g_set_error (error, G_FILE_ERROR, G_FILE_ERROR_NOENT, "file: %s is not there", name);
  return NULL;
}

static inline SpTwoPort *
fuzz_two_port (gpointer data, const char *name, GError **error)
{
  g_autofree char *beside = fuzz_beside (name, error);

  (void) data;
  return beside ? sp_two_port_parse (FUZZ_TWO_PORT, strlen (FUZZ_TWO_PORT), beside, error) : NULL;
}

static inline SpRun *
fuzz_run (gpointer data, const char *name, GError **error)
{
  g_autofree char *beside = fuzz_beside (name, error);

  (void) data;
  return beside ? sp_run_parse_bytes (FUZZ_RUN, strlen (FUZZ_RUN), beside, FALSE, error) : NULL;
}

static const SpTwoPorts fuzz_named = { fuzz_two_port, NULL, fuzz_run, FALSE };
