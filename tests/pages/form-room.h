/* form-room.h - the run's form over the chain's page, in a home of its own, for the suites that type into it */
#pragma once

#include "tests/pages/chain-room.h"

#include <glib/gstdio.h>

#include "ui/window/run/run-form-private.h"

static char *home;

/* Before anybody asks where the user's data is. */
__attribute__ ((constructor)) static void
own_home (void)
{
  home = g_dir_make_tmp ("sp-home-XXXXXX", NULL);
  g_setenv ("XDG_DATA_HOME", home, TRUE);
}

static inline GtkWidget *
other_window (void)
{
  GListModel *all = gtk_window_get_toplevels ();
  settle ();
  for (guint i = 0; i < g_list_model_get_n_items (all); i++) {
    g_autoptr (GtkWidget) one = g_list_model_get_item (all, i);
    if (one != window && SP_IS_DIALOG (one)) {
      gtk_test_widget_wait_for_draw (one);
      return one;
    }
  }
  return NULL;
}

static inline void
press (GtkWidget *within, const char *label)
{
  GtkWidget *button = find (within, is_button, label);
  ck_assert_msg (button && gtk_widget_is_sensitive (button), "no button %s", label);
  g_signal_emit_by_name (button, "clicked");
  settle ();
}

/* ---- the form ---- */

static inline gboolean
can_take (SpRunForm *form)
{
  return gtk_widget_is_sensitive (find (GTK_WIDGET (form), is_button, "_Take into the stage"));
}

static inline SpRunForm *
open_form (void)
{
  act ("chain.calibrate");
  GtkWidget *form = other_window ();
  ck_assert_ptr_nonnull (form);
  return SP_RUN_FORM (form);
}

static inline void
close_window (GtkWidget *any)
{
  gtk_window_close (GTK_WINDOW (any));
  ck_assert_ptr_null (other_window ());
}

static inline GtkWidget *
entry_of (SpRunForm *form, const char *key)
{
  for (guint i = 0; i < SP_RUN_FORM_KEYS; i++)
    if (strcmp (sp_run_form_key (i), key) == 0)
      return form->key[i];
  ck_abort_msg ("no key %s", key);
  return NULL;
}

static inline void
type_key (SpRunForm *form, const char *key, const char *text)
{
  gtk_editable_set_text (GTK_EDITABLE (entry_of (form, key)), text);
}

static inline void
type_cell (SpRunForm *form, guint row, guint column, const char *text)
{
  gtk_editable_set_text (GTK_EDITABLE (((SpFormRow *) form->table.rows->pdata[row])->cell[column]), text);
}

static inline const char *
shown_cell (SpRunForm *form, guint row, guint column)
{
  return gtk_editable_get_text (GTK_EDITABLE (((SpFormRow *) form->table.rows->pdata[row])->cell[column]));
}

static inline const char *
says (GtkWidget *label)
{
  return gtk_label_get_text (GTK_LABEL (label));
}

/* ---- the drafts' files ---- */

static inline char *
drafts_folder (void)
{
  return g_build_filename (home, "spurproof", "drafts", NULL);
}

/* The first whose name ends so; NULL: there is none. (transfer full) */
static inline char *
draft_file (const char *ending)
{
  g_autofree char *folder = drafts_folder ();
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  for (const char *name; dir && (name = g_dir_read_name (dir));)
    if (g_str_has_suffix (name, ending))
      return g_build_filename (folder, name, NULL);
  return NULL;
}

static inline void
remove_drafts (void)
{
  for (char *path; (path = draft_file ("")); g_free (path))
    ck_assert_int_eq (g_remove (path), 0);
}

static inline void
open_without_drafts (void)
{
  remove_drafts ();
  open_chain ();
}
