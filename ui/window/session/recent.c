/* recent.c - the bench books that were open last */
#include "ui/window/session/recent.h"

#include <glib/gstdio.h>
#include <string.h>

#include "ui/window/session/preferences.h"

/* A line for each book, its fields parted by tabs: path, conditions, when the file was changed, worst verdict or nothing, title. */
enum { PATH, CONDITIONS, CHANGED, VERDICT, TITLE, FIELDS };

static void
recent_free (gpointer data)
{
  SpRecent *recent = data;
  g_free (recent->path);
  g_free (recent->title);
  g_free (recent);
}

/* 0: there is no such file. */
static gint64
changed_us (const char *path)
{
  GStatBuf status;
  return g_stat (path, &status) == 0 ? (gint64) status.st_mtim.tv_sec * G_USEC_PER_SEC + status.st_mtim.tv_nsec / 1000 : 0;
}

static gboolean
take_verdict (SpRecent *recent, const char *name)
{
  for (int verdict = SP_VERDICT_NO_LIMIT; verdict <= SP_VERDICT_EXCEEDS; verdict++)
    if (strcmp (name, sp_verdict_name ((SpVerdict) verdict)) == 0) {
      recent->verdict = (SpVerdict) verdict;
      return TRUE;
    }
  return FALSE;
}

/* NULL: the file is gone, or the line says nothing. */
static SpRecent *
recent_of (const char *line)
{
  g_auto (GStrv) fields = g_strsplit (line, "\t", FIELDS);
  gint64 now = g_strv_length (fields) == FIELDS ? changed_us (fields[PATH]) : 0;
  if (now == 0)
    return NULL;
  SpRecent *recent = g_new0 (SpRecent, 1);
  recent->path = g_strdup (fields[PATH]);
  recent->title = g_strdup (fields[TITLE]);
  recent->n_conditions = (guint) g_ascii_strtoull (fields[CONDITIONS], NULL, 10);
  recent->changed_us = now;
  recent->verdict_known = g_ascii_strtoll (fields[CHANGED], NULL, 10) == now && take_verdict (recent, fields[VERDICT]);
  return recent;
}

GPtrArray *
sp_recent_read (void)
{
  GPtrArray *recents = g_ptr_array_new_with_free_func (recent_free);
  g_autofree char *kept = sp_preferences_get ("recent");
  g_auto (GStrv) lines = g_strsplit (kept ? kept : "", "\n", -1);
  for (guint i = 0; lines[i] && recents->len < SP_RECENT_MOST; i++) {
    SpRecent *recent = recent_of (lines[i]);
    if (recent)
      g_ptr_array_add (recents, recent);
  }
  return recents;
}

static void
write_down (GString *lines, const SpRecent *recent)
{
  g_autofree char *title = g_strdelimit (g_strdup (recent->title), "\t\n", ' ');
  g_string_append_printf (lines, "%s\t%u\t%" G_GINT64_FORMAT "\t%s\t%s\n", recent->path, recent->n_conditions, recent->changed_us,
                          recent->verdict_known ? sp_verdict_name (recent->verdict) : "", title);
}

static SpVerdict
worst_of (const SpFindings *findings)
{
  SpVerdict worst = SP_VERDICT_NO_LIMIT;
  for (guint i = 0; i < findings->n; i++)
    worst = MAX (worst, findings->conditions[i].verdict);
  return worst;
}

void
sp_recent_add (const char *path, const SpBench *bench, const SpFindings *findings)
{
  g_autofree char *whole = g_canonicalize_filename (path, NULL);
  g_autoptr (GPtrArray) others = sp_recent_read ();
  g_autoptr (GString) lines = g_string_new (NULL);
  gboolean known = findings && findings->bench == bench && findings->n > 0;
  SpRecent recent = { whole, bench->title ? bench->title : (char *) "",        bench->n_conditions, changed_us (path),
                      known, known ? worst_of (findings) : SP_VERDICT_NO_LIMIT };
  if (strpbrk (whole, "\t\n"))
    return; /* no line could keep such a name */
  write_down (lines, &recent);
  for (guint i = 0; i < others->len && i + 1 < SP_RECENT_MOST; i++)
    if (strcmp (((SpRecent *) others->pdata[i])->path, whole) != 0)
      write_down (lines, others->pdata[i]);
  sp_preferences_set ("recent", lines->str);
}
