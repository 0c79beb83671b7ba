/* sheet.h - the import window in a real window, for the suites in tests/import. Every GTK warning is fatal. */
#pragma once

#include "tests/pages/room.h"

#include "core/bench/edit/edit.h"
#include "core/bench/sheet/sheet.h"
#include "ui/window/import/import-private.h"

#include <glib/gstdio.h>
#include <sys/stat.h>

static SpImportWindow *sheet;
static char *folder;

/* ---- files, window ---- */

static inline char *
sample_file (const char *name)
{
  g_autofree char *relative = g_build_filename ("samples/raw", name, NULL);
  return sp_test_path (relative);
}

static inline char *
write_file (const char *name, const char *text)
{
  char *path = g_build_filename (folder, name, NULL);
  ck_assert (g_file_set_contents (path, text, -1, NULL));
  return path;
}

/* A sweep of three points, as a preamble says it was taken. */
static inline char *
write_sweep (const char *name, const char *preamble, double level)
{
  g_autofree char *text = g_strdup_printf ("%sFrequency (MHz),Level (dBm)\n1,%g\n2,-50\n3,-60\n", preamble, level);
  return write_file (name, text);
}

static inline gboolean
is_so (gpointer done)
{
  return (*(gboolean (**) (void)) done) ();
}

static inline void
wait_until (gboolean (*done) (void))
{
  ck_assert_msg (sp_comes (is_so, &done), "waited in vain");
  while (!done () || g_main_context_pending (NULL))
    g_main_context_iteration (NULL, FALSE);
}

static inline gboolean
is_ready (void)
{
  gboolean busy = sheet->cancellable || sheet->naming || sheet->settle_source || sheet->refresh_source;
  for (guint i = 0; i < sp_import_window_count (sheet); i++)
    busy |= sp_import_window_item (sheet, i)->reading;
  return !busy;
}

static inline void
start (const char *bench_path, int condition, char **paths)
{
  g_autofree char *path = sp_test_path (bench_path);
  g_autoptr (GListStore) files = g_list_store_new (G_TYPE_FILE);
  g_autoptr (SpBench) bench = sp_bench_read (path, NULL);
  ck_assert_ptr_nonnull (bench);
  hash = g_strdup (bench->sha256);
  session = sp_session_new (sp_book_new (bench));
  window = gtk_window_new ();
  gtk_window_present (GTK_WINDOW (window));
  settle ();
  for (; *paths; paths++) {
    g_autoptr (GFile) file = g_file_new_for_path (*paths);
    g_list_store_append (files, file);
  }
  sp_import_begin (GTK_WINDOW (window), session, G_LIST_MODEL (files), condition);
  g_autoptr (GList) windows = gtk_window_list_toplevels ();
  for (GList *l = windows; l; l = l->next)
    if (G_TYPE_CHECK_INSTANCE_TYPE (l->data, SP_TYPE_IMPORT_WINDOW) && SP_IMPORT_WINDOW (l->data)->session == session)
      sheet = l->data;
  g_object_add_weak_pointer (G_OBJECT (sheet), (gpointer *) &sheet);
}

/* Takes the paths over. */
static inline void
open_files (const char *bench_path, int condition, char **paths)
{
  start (bench_path, condition, paths);
  wait_until (is_ready);
  for (; *paths; paths++)
    g_free (*paths);
}

static inline void
close_all (void)
{
  if (sheet)
    gtk_window_close (GTK_WINDOW (sheet));
  tear_down ();
  ck_assert_ptr_null (sheet); /* nothing holds it any more */
}

static inline void
make_folder (void)
{
  folder = g_dir_make_tmp ("import-XXXXXX", NULL);
  g_autofree char *preferences = g_build_filename (g_get_user_config_dir (), "spurproof", "preferences", NULL);
  g_remove (preferences); /* what another test said of a shape */
}

static inline void
remove_folder (void)
{
  const char *name;
  GDir *dir = g_dir_open (folder, 0, NULL);
  while ((name = g_dir_read_name (dir))) {
    g_autofree char *path = g_build_filename (folder, name, NULL);
    g_remove (path);
  }
  g_dir_close (dir);
  g_rmdir (folder);
  g_free (folder);
}

/* ---- looking and doing ---- */

static inline SpArrivalItem *
item_named (const char *name)
{
  for (guint i = 0; i < sp_import_window_count (sheet); i++)
    if (g_str_equal (sp_import_window_item (sheet, i)->name, name))
      return sp_import_window_item (sheet, i);
  ck_abort_msg ("no %s in the list", name);
  return NULL;
}

static inline SpArrivalItem *
choose (const char *name)
{
  SpArrivalItem *item = item_named (name);
  guint place;
  ck_assert (g_list_store_find (sheet->items, item, &place));
  gtk_single_selection_set_selected (sheet->selection, place);
  wait_until (is_ready);
  return item;
}

static inline void
enter (GtkWidget *form, const char *key, const char *text)
{
  GtkWidget *entry = sp_fields_widget (SP_FIELDS (form), key);
  gtk_editable_set_text (GTK_EDITABLE (entry), text);
  g_signal_emit_by_name (entry, "activate");
  wait_until (is_ready);
}

static inline void
goes_to (const char *name, const char *radio, const char *condition, SpPurpose purpose)
{
  const SpArrivalItem *item = item_named (name);
  ck_assert_str_eq (item->to.radio, radio);
  ck_assert_str_eq (item->to.condition, condition);
  ck_assert_str_eq (sp_purpose_name (item->to.purpose), sp_purpose_name (purpose));
}

static inline void
accept_all (void)
{
  gtk_widget_activate_action (GTK_WIDGET (sheet), "import.accept", NULL);
  settle ();
}

static inline GtkWidget *
first_ask (void)
{
  GtkWidget *label = gtk_widget_get_first_child (sheet->asks_box);
  return label ? gtk_widget_get_next_sibling (label) : NULL;
}
