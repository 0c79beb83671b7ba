/* slips.c - a slip for each radio, each in a file of its own */
#include "ui/paper/private.h"

#include "core/quantity/error.h"
#include "core/quantity/file.h"

#include <errno.h>
#include <glib/gstdio.h>

char *
name_free (GHashTable *taken, const char *name)
{
  char *free = g_strdup (name), *folded;
  for (guint n = 2; g_hash_table_contains (taken, folded = g_utf8_casefold (free, -1)); n++) { /* some file systems do not tell a from A */
    g_free (folded);
    g_free (free);
    free = g_strdup_printf ("%s-%u", name, n);
  }
  g_hash_table_add (taken, folded);
  return free;
}

static gboolean
write_slip (const SpFindings *findings, guint radio, SpPaperSize size, const char *path, SpPaperMay may_replace, GError **error)
{
  g_autoptr (SpPaper) paper = sp_paper_slip (findings, radio, size);
  g_autoptr (GBytes) bytes = sp_paper_export (paper, SP_PAPER_PDF, size, error);
  if (!bytes) {
    g_prefix_error (error, "%s: ", path);
    return FALSE;
  }
  return (!may_replace || may_replace (path, error))
         && sp_file_write (path, g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes), error);
}

gboolean
sp_paper_write_slips (const SpFindings *findings, const char *folder, SpPaperSize size, SpPaperMay may_replace, GError **error)
{
  g_autoptr (GHashTable) taken = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  if (g_mkdir_with_parents (folder, 0777) != 0)
    return sp_fail (error, SP_ERROR_IO, "%s: %s", folder, g_strerror (errno));
  for (guint i = 0; i < findings->bench->n_radios; i++) {
    g_autofree char *own = sp_paper_file_name (findings->bench, i), *name = name_free (taken, own),
                    *file = g_strconcat (name, ".pdf", NULL), *path = g_build_filename (folder, file, NULL);
    if (!write_slip (findings, i, size, path, may_replace, error))
      return FALSE;
  }
  return TRUE;
}
