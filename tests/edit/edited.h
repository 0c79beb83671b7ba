/* edited.h - what the tests of edits share: a bench that must be as it was after each test, and calls that must be refused */
#pragma once

#include "core/bench/sheet/sheet.h"
#include "tests/book/shelf.h"

static SpBench *bench; /* made anew for each test */
static char *before;   /* its sheet, word for word */

static char *
file_of (G_GNUC_UNUSED gpointer data, SpResourceKind kind, gconstpointer resource)
{
  const SpMask *mask = resource;
  switch (kind) {
  case SP_RESOURCE_CHAIN: return g_path_get_basename (((const SpChain *) resource)->file);
  case SP_RESOURCE_ANALYZER: return g_path_get_basename (((const SpAnalyzer *) resource)->file);
  case SP_RESOURCE_MASK: return g_path_get_basename (mask->file ? mask->file : mask->name);
  default: return g_path_get_basename (((const SpTrace *) resource)->file);
  }
}

static char *
sheet_of (const SpBench *any)
{
  return sp_bench_sheet_text (any, file_of, NULL);
}

static void
set_up (void)
{
  make_folder ();
  bench = shelf_bench ();
  before = sheet_of (bench);
}

/* Whatever a test did: the bench it began with has its hash and says what it said. */
static void
tear_down (void)
{
  g_autofree char *after = sheet_of (bench);
  g_autoptr (SpBench) again = shelf_bench ();
  ck_assert_str_eq (after, before);
  ck_assert_str_eq (again->sha256, bench->sha256);
  g_clear_pointer (&before, g_free);
  g_clear_pointer (&bench, sp_bench_unref);
}

static GError *error; /* of the call at hand */

G_GNUC_UNUSED static SpBench *
edited (SpBench *result)
{
  sp_no_error (error);
  ck_assert_ptr_nonnull (result);
  return result;
}

/* The call fails; its sentence has `words` in it, and no place of a text that nobody sees. */
#define refused(call, words)                                                                                                               \
  {                                                                                                                                        \
    ck_assert_ptr_null (call);                                                                                                             \
    ck_assert_ptr_nonnull (error);                                                                                                         \
    ck_assert_msg (strstr (error->message, words), "“%s” lacks “%s”", error->message, words);                                              \
    ck_assert_msg (!strstr (error->message, "night.sheet:") && !strstr (error->message, ".chain:")                                         \
                       && !g_ascii_isdigit (error->message[0]),                                                                            \
                   "%s", error->message);                                                                                                  \
    g_clear_error (&error);                                                                                                                \
  }
