/* import-earlier.c - a bench book or a sheet among what is to be imported: its radios are offered to the bench, without their sweeps */
#include "ui/window/import/list-dialog.h"

#include <glib/gi18n-lib.h>

#include "core/bench/proposals/list.h"
#include "core/book/book.h"
#include "ui/window/session/reading.h"
#include "ui/window/widgets/ask-user.h"

typedef struct {
  GtkWindow *window; /* kept by the question, and by the reading before it */
  SpSession *session;
  char *name;
  SpBench *earlier; /* NULL: not read yet */
} Offer;

static void
offer_free (gpointer data)
{
  Offer *offer = data;
  g_clear_pointer (&offer->earlier, sp_bench_unref);
  g_object_unref (offer->session);
  g_free (offer->name);
  g_free (offer);
}

static void
on_answer (gpointer data, gboolean yes)
{
  Offer *offer = data;
  GError *error = NULL;
  SpBench *bench = yes ? sp_bench_with_radios_of (sp_session_bench (offer->session), offer->earlier, &error) : NULL;
  g_autofree char *done = g_strdup_printf (_ ("The radios of %s are on the bench."), offer->name);
  if (yes && sp_session_edit (offer->session, bench, _ ("Take an earlier bench's radios"), error))
    sp_session_done (offer->session, done);
  offer_free (offer);
}

static void
on_read (gpointer window, gpointer asked, gpointer value, GError *why)
{
  const Offer *read = asked;
  g_autoptr (GError) error = why;
  if (!value) {
    sp_session_trouble (read->session, error->message, _ ("The bench stays as it is."));
    return;
  }
  Offer *offer = g_new (Offer, 1);
  *offer = (Offer){ window, g_object_ref (read->session), g_strdup (read->name), value };
  g_autofree char *question = g_strdup_printf (_ ("Take the radios of %s, without their sweeps?"), offer->name);
  sp_ask_whether (offer->window, question,
                  _ ("Their owners, conditions and masks come along; radios that are here already stay as they are."), _ ("Take them"),
                  on_answer, offer);
}

static gpointer
read_earlier (const char *path, gpointer asked, GError **error)
{
  (void) asked;
  return sp_bench_at (path, error);
}

gboolean
sp_import_earlier (GtkWindow *parent, SpSession *session, GFile *file)
{
  static const SpFileReading reading = { read_earlier, (GDestroyNotify) sp_bench_unref, on_read, offer_free };
  g_autofree char *name = g_file_get_basename (file), *folded = name ? g_ascii_strdown (name, -1) : NULL;
  if (!folded || !(g_str_has_suffix (folded, ".benchbook") || g_str_has_suffix (folded, ".sheet")))
    return FALSE;
  Offer *offer = g_new0 (Offer, 1);
  *offer = (Offer){ parent, g_object_ref (session), g_filename_display_name (name), NULL };
  sp_reading_begin (parent, file, &reading, offer);
  return TRUE;
}
