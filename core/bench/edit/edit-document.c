/* edit-document.c - one key of a bench's document changed, as its file spells it */
#include "core/bench/edit/edit.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "core/bench/edit/edit-private.h"
#include "core/quantity/error.h"
#include "core/quantity/text.h"

static const char *
heading_of (const SpDocument *document, const char *radio)
{
  for (guint i = 0; i < document->remarks->len; i++)
    if (strcmp (g_array_index (document->remarks, SpRemark, i).radio, radio) == 0)
      return g_array_index (document->remarks, SpRemark, i).heading;
  return NULL;
}

/* Its own, for nothing is read here: another one is put on the bench. */
static SpPicture *
find_letterhead (gpointer data, const char *name, GError **error)
{
  const SpDocument *document = data;
  if (document->letterhead && strcmp (document->letterhead_name, name) == 0)
    return sp_picture_ref (document->letterhead);
  sp_fail (error, SP_ERROR_USAGE, _ ("another letterhead cannot be named here; expected no such key, or “%s”"),
           document->letterhead ? document->letterhead_name : "");
  return NULL;
}

/* Places in the text mean nothing to whoever types in a form. */
static SpDocument *
read_again (const SpDocument *document, const char *text, GError **error)
{
  const char *name = document->file ? document->file : "";
  SpPictureSource pictures = { find_letterhead, (gpointer) document };
  GError *cause = NULL;
  SpDocument *edited = sp_document_parse (text, strlen (text), name, &pictures, &cause);
  if (!edited) {
    sp_error_drop_place (cause, name);
    g_propagate_error (error, cause);
  }
  return edited;
}

static SpDocument *
set_in (const SpDocument *document, const char *text, const char *group, const char *key, const char *value, GError **error)
{
  g_autofree char *changed = sp_key_text_set (text, group, key, value, error);
  return changed ? read_again (document, changed, error) : NULL;
}

SpDocument *
sp_document_set (const SpDocument *document, const char *key, const char *value, GError **error)
{
  return set_in (document, document->text, "report", key, value, error);
}

char *
sp_document_get (const SpDocument *document, const char *key)
{
  return sp_key_text_get (document->text, "report", key);
}

SpDocument *
sp_document_set_remark (const SpDocument *document, const char *radio, const char *text, GError **error)
{
  const char *there = heading_of (document, radio);
  g_autofree char *name = sp_escape_heading (radio), *heading = there ? g_strdup (there) : g_strconcat ("remark ", name, NULL);
  g_autofree char *with = there ? g_strdup (document->text) : g_strdup_printf ("%s\n[%s]\n", document->text, heading);
  if (text && *text)
    return set_in (document, with, heading, "text", text, error);
  g_autofree char *without = sp_key_text_remove (with, heading);
  return read_again (document, without, error);
}

void
sp_document_follow_name (SpDocument **document, const char *from, const char *to)
{
  g_autofree char *text = *document ? sp_document_get_remark (*document, from) : NULL;
  if (!text || heading_of (*document, to))
    return;
  g_autoptr (SpDocument) without = sp_document_set_remark (*document, from, NULL, NULL);
  SpDocument *with = without ? sp_document_set_remark (without, to, text, NULL) : NULL;
  if (!with)
    return;
  sp_document_unref (*document);
  *document = with;
}

char *
sp_document_get_remark (const SpDocument *document, const char *radio)
{
  const char *heading = heading_of (document, radio);
  return heading ? sp_key_text_get (document->text, heading, "text") : NULL;
}
