/* bench.h - chains from text, and a folder for the files they name */
#pragma once

#include <glib/gstdio.h>
#include <string.h>

#include "core/chain/chain.h"
#include "tests/reasons.h"
#include "tests/suite.h"

/* Within the tolerance, which may be 0. */
#define near(got, want, tolerance)                                                                                                         \
  ck_assert_msg (fabs ((got) - (want)) <= (tolerance), "%s is %.15g, not %.15g +- %g", #got, (double) (got), (double) (want),              \
                 (double) (tolerance))

static inline SpChain *
chain_try (const char *text, GError **error)
{
  g_autoptr (SpKeyFile) file = sp_key_file_parse (text, strlen (text), "t.chain", error);
  return file ? sp_chain_parse (file, error) : NULL;
}

static inline SpChain *
chain_from (const char *text)
{
  g_autoptr (GError) error = NULL;
  SpChain *chain = chain_try (text, &error);
  sp_no_error (error);
  ck_assert_ptr_nonnull (chain);
  return chain;
}

/* Writes NAME into `folder`; returns its path. (transfer full) */
static inline char *
put_file (const char *folder, const char *name, const char *text)
{
  char *path = g_build_filename (folder, name, NULL);
  ck_assert (g_file_set_contents (path, text, -1, NULL));
  return path;
}

static inline char *
new_folder (void)
{
  char *folder = g_dir_make_tmp ("sp-chain-XXXXXX", NULL);
  ck_assert_ptr_nonnull (folder);
  return folder;
}

static inline void
drop_folder (char *folder)
{
  GDir *dir = g_dir_open (folder, 0, NULL);
  for (const char *name; (name = g_dir_read_name (dir));) {
    g_autofree char *path = g_build_filename (folder, name, NULL);
    g_unlink (path);
  }
  g_dir_close (dir);
  g_rmdir (folder);
  g_free (folder);
}

/* A reason with this code that holds these texts (NULL: any). */
static inline const SpReason *
find_reason (GPtrArray *reasons, SpReasonCode code, const char *text0, const char *text1)
{
  for (guint i = 0; i < reasons->len; i++) {
    const SpReason *reason = reasons->pdata[i];
    if (reason->code == code && (!text0 || reason_says (reason, text0)) && (!text1 || reason_says (reason, text1)))
      return reason;
  }
  return NULL;
}
