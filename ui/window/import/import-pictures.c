/* import-pictures.c - a photograph's file on its way onto the bench, beside a radio or over the papers: read aside, then one edit */
#include "ui/window/import/import.h"

#include <glib/gi18n-lib.h>

#include "core/bench/edit/edit.h"
#include "ui/window/session/reading.h"

typedef struct {
  SpSession *session;
  int place;
  char *radio, *name; /* the radio's name, for rows move while a file is read; the file's */
} Asked;

static void
asked_free (gpointer data)
{
  Asked *asked = data;
  g_object_unref (asked->session);
  g_free (asked->radio);
  g_free (asked->name);
  g_free (asked);
}

static gpointer
read_picture (const char *path, G_GNUC_UNUSED gpointer asked, GError **error)
{
  return sp_picture_read (path, error);
}

/* -1: it is gone. */
static int
find_radio (const SpBench *bench, const char *name)
{
  for (guint i = 0; i < bench->n_radios; i++)
    if (g_str_equal (bench->radios[i].name, name))
      return (int) i;
  return -1;
}

static SpBench *
with_picture (const SpBench *bench, const Asked *asked, SpPicture *picture, GError **error)
{
  if (asked->place == SP_PLACE_LETTERHEAD)
    return sp_bench_set_letterhead (bench, picture);
  int radio = asked->radio ? find_radio (bench, asked->radio) : -1;
  if (asked->radio && radio < 0)
    return NULL; /* taken off meanwhile: there is nothing it could stand beside */
  g_autoptr (GArray) pictures = sp_captioned_copy (radio < 0 ? bench->pictures : bench->radios[radio].pictures);
  sp_captioned_add (pictures, picture, NULL);
  return sp_bench_set_pictures (bench, radio, pictures, error);
}

static void
on_read (G_GNUC_UNUSED gpointer owner, gpointer data, gpointer value, GError *why)
{
  const Asked *asked = data;
  g_autoptr (SpPicture) picture = value;
  g_autoptr (GError) wrong = why;
  GError *error = NULL;
  if (!picture) {
    sp_session_trouble (asked->session, wrong->message, _ ("The bench stays as it is."));
    return;
  }
  const char *of = asked->radio ? asked->radio : asked->place == SP_PLACE_LETTERHEAD ? _ ("the papers") : _ ("the bench");
  g_autofree char *label = g_strdup_printf (_ ("Take a picture for %s"), of);
  g_autofree char *done = g_strdup_printf (_ ("%s is a picture of %s now; its words are added in the form."), asked->name, of);
  SpBench *bench = with_picture (sp_session_bench (asked->session), asked, picture, &error);
  if ((bench || error) && sp_session_edit (asked->session, bench, label, error))
    sp_session_done (asked->session, asked->place == SP_PLACE_LETTERHEAD ? _ ("The papers have a letterhead.") : done);
}

void
sp_import_picture (GtkWidget *owner, SpSession *session, GFile *file, int place)
{
  static const SpFileReading reading = { read_picture, (GDestroyNotify) sp_picture_unref, on_read, asked_free };
  const SpBench *bench = sp_session_bench (session);
  Asked *asked = g_new0 (Asked, 1);
  g_autofree char *name = g_file_get_basename (file);
  asked->session = g_object_ref (session);
  asked->place = place;
  asked->radio = place >= 0 && place < (int) bench->n_radios ? g_strdup (bench->radios[place].name) : NULL;
  asked->name = g_filename_display_name (name ? name : "-");
  sp_reading_begin (owner, file, &reading, asked);
}
