/* read-cases.h - the folders of tests/read, each an export: `input`, and `options` where the file is named with some */
#pragma once

#include "core/trace/read/read.h"
#include "core/trace/trace.h"
#include "tests/suite.h"

#include <string.h>
#include <unistd.h>

static inline int
sp_read_by_text (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

/* "good" or "bad"; sorted, so that a failure is found again. (transfer full), of char* */
static inline GPtrArray *
sp_read_folders (const char *kind)
{
  g_autofree char *relative = g_build_filename ("tests", "read", kind, NULL);
  g_autofree char *path = sp_test_path (relative);
  g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
  GPtrArray *list = g_ptr_array_new_with_free_func (g_free);
  const char *name;

  if (!dir)
    g_error ("no folder %s", path);
  while ((name = g_dir_read_name (dir)))
    g_ptr_array_add (list, g_build_filename (path, name, NULL));
  g_ptr_array_sort (list, sp_read_by_text);
  return list;
}

/* NULL where there is no such file. (transfer full) */
static inline char *
sp_read_content (const char *folder, const char *file)
{
  g_autofree char *path = g_build_filename (folder, file, NULL);
  char *text = NULL;
  g_file_get_contents (path, &text, NULL, NULL);
  return text;
}

/* Reads "input" as the folder's options say, from within it, so that messages begin with "input"; `all` its columns, or the one.
 * (transfer full), of SpTrace* */
static inline GPtrArray *
sp_read_case (const char *folder, gboolean all, GError **error)
{
  g_autofree char *options_text = sp_read_content (folder, "options"), *path = NULL;
  g_autofree char *reference = g_strconcat ("input", options_text ? "?" : "", options_text ? options_text : "", NULL);
  SpTraceOptions options;
  GPtrArray *traces = NULL;

  ck_assert_int_eq (chdir (folder), 0);
  if (!sp_trace_options_parse (reference, &path, &options, error))
    return NULL;
  if (all)
    traces = sp_trace_read_all (path, &options, error);
  else {
    SpTrace *trace = sp_trace_read_file (path, &options, error);
    if (trace) {
      traces = g_ptr_array_new_with_free_func ((GDestroyNotify) sp_trace_unref);
      g_ptr_array_add (traces, trace);
    }
  }
  sp_trace_options_clear (&options);
  return traces;
}
