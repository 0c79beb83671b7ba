/* import-resources.c - a chain's, an analyzer's, a mask's or a report's file among what is to be imported: it is offered to the bench */
#include "ui/window/import/import.h"

#include <glib/gi18n-lib.h>

#include "core/bench/edit/edit.h"
#include "ui/window/session/reading.h"
#include "ui/window/widgets/ask-user.h"

static const struct {
  const char *ending, *ask, *keep, *label, *done, *own;
} kinds[SP_RESOURCE_KINDS] = {
  [SP_RESOURCE_CHAIN] = { ".chain", N_ ("Use %s as the bench's chain?"), N_ ("Radios and sweeps with a chain of their own keep it."),
                          N_ ("Take a chain from a file"), N_ ("%s is the bench's chain."),
                          N_ ("Every radio here has a chain of its own: give it there (F2).") },
  [SP_RESOURCE_ANALYZER] = { ".analyzer", N_ ("Use %s as the bench's analyzer?"), N_ ("Radios with an analyzer of their own keep it."),
                             N_ ("Take an analyzer from a file"), N_ ("%s is the bench's analyzer."),
                             N_ ("Every radio here has an analyzer of its own: give it there (F2).") },
  [SP_RESOURCE_MASK] = { ".mask", N_ ("Hold the bench's radios to the mask %s?"), N_ ("Radios with a mask of their own keep it."),
                         N_ ("Take a mask from a file"), N_ ("%s is the bench's mask."), NULL },
  [SP_RESOURCE_DOCUMENT] = { ".report", N_ ("Take the report's words and parts from %s?"),
                             N_ ("They take the place of those that are there."), N_ ("Take the report's words from a file"),
                             N_ ("The report's words are those of %s."), NULL },
};

typedef struct {
  GtkWindow *window; /* kept by the question, and by the reading before it */
  SpSession *session;
  SpResourceKind kind;
  char *name;        /* of the file */
  gpointer resource; /* NULL: not read yet */
} Offer;

static void
offer_free (gpointer data)
{
  Offer *offer = data;
  if (offer->resource)
    sp_resource_unref (offer->kind, offer->resource);
  g_object_unref (offer->session);
  g_free (offer->name);
  g_free (offer);
}

/* NULL: it has none of its own that could be replaced. */
static SpBench *
with_resource (const SpBench *bench, SpResourceKind kind, gpointer resource)
{
  if (kind == SP_RESOURCE_MASK)
    return sp_bench_set_mask (bench, resource);
  if (kind == SP_RESOURCE_DOCUMENT)
    return sp_bench_set_document (bench, resource);
  if (kind == SP_RESOURCE_CHAIN)
    return bench->chain ? sp_bench_replace_chain (bench, bench->chain, resource) : NULL;
  return bench->analyzer ? sp_bench_replace_analyzer (bench, bench->analyzer, resource) : NULL;
}

static void
on_answer (gpointer data, gboolean yes)
{
  Offer *offer = data;
  SpBench *bench = yes ? with_resource (sp_session_bench (offer->session), offer->kind, offer->resource) : NULL;
  g_autofree char *done = g_strdup_printf (_ (kinds[offer->kind].done), offer->name);
  if (bench && sp_session_edit (offer->session, bench, _ (kinds[offer->kind].label), NULL))
    sp_session_done (offer->session, done);
  else if (yes)
    sp_session_trouble (offer->session, _ (kinds[offer->kind].own), NULL);
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
  *offer = (Offer){ window, g_object_ref (read->session), read->kind, g_strdup (read->name), value };
  g_autofree char *question = g_strdup_printf (_ (kinds[offer->kind].ask), offer->name);
  sp_ask_whether (offer->window, question, _ (kinds[offer->kind].keep), _ ("Use it"), on_answer, offer);
}

static gpointer
read_resource (const char *path, gpointer asked, GError **error)
{
  return sp_resource_read (((const Offer *) asked)->kind, path, error);
}

gboolean
sp_import_resource (GtkWindow *parent, SpSession *session, GFile *file)
{
  static const SpFileReading readings[] = {
    [SP_RESOURCE_CHAIN] = { read_resource, (GDestroyNotify) sp_chain_unref, on_read, offer_free },
    [SP_RESOURCE_ANALYZER] = { read_resource, (GDestroyNotify) sp_analyzer_unref, on_read, offer_free },
    [SP_RESOURCE_MASK] = { read_resource, (GDestroyNotify) sp_mask_unref, on_read, offer_free },
    [SP_RESOURCE_DOCUMENT] = { read_resource, (GDestroyNotify) sp_document_unref, on_read, offer_free },
  };
  g_autofree char *name = g_file_get_basename (file), *folded = name ? g_ascii_strdown (name, -1) : NULL;
  for (int kind = SP_RESOURCE_CHAIN; kind < SP_RESOURCE_KINDS && folded; kind++) {
    if (!kinds[kind].ending || !g_str_has_suffix (folded, kinds[kind].ending))
      continue;
    Offer *offer = g_new0 (Offer, 1);
    *offer = (Offer){ parent, g_object_ref (session), (SpResourceKind) kind, g_filename_display_name (name), NULL };
    sp_reading_begin (parent, file, &readings[kind], offer);
    return TRUE;
  }
  return FALSE;
}
