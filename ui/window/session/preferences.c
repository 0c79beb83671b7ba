/* preferences.c - what the window remembers of the user's choices */
#include "ui/window/session/preferences.h"

#define GROUP "window"

static char *
file_path (void)
{
  return g_build_filename (g_get_user_config_dir (), "spurproof", "preferences", NULL);
}

static GKeyFile *
load (void)
{
  g_autofree char *path = file_path ();
  GKeyFile *file = g_key_file_new ();
  g_key_file_load_from_file (file, path, G_KEY_FILE_NONE, NULL); /* none yet: empty */
  return file;
}

char *
sp_preferences_get (const char *key)
{
  g_autoptr (GKeyFile) file = load ();
  return g_key_file_get_string (file, GROUP, key, NULL);
}

void
sp_preferences_set (const char *key, const char *value)
{
  g_autofree char *path = file_path (), *folder = g_path_get_dirname (path);
  g_autoptr (GKeyFile) file = load ();
  g_autoptr (GError) error = NULL;
  if (value)
    g_key_file_set_string (file, GROUP, key, value);
  else
    g_key_file_remove_key (file, GROUP, key, NULL);
  if (g_mkdir_with_parents (folder, 0700) != 0 || !g_key_file_save_to_file (file, path, &error))
    g_debug ("preferences not kept: %s", error ? error->message : folder);
}
