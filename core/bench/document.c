/* document.c - reads a .report file, and changes one key of it */
#include "core/bench/document.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "core/quantity/error.h"
#include "core/quantity/file.h"
#include "core/quantity/text.h"
#include "core/quantity/writer.h"

#define FILE_BYTES 16777216 /* as of any key file (core/quantity/keyfile.h); bounds memory */

const char *const sp_document_part_names[] = { "front",  "overlays", "conditions", "whose",    "comparison", "chain",
                                               "method", "budget",   "files",      "pictures", NULL };
const char *const sp_document_papers[] = { "not stated", "a4", "letter", "a5", NULL };

static void
unfold (char **text)
{
  char *folded = *text;
  *text = folded ? sp_unfold_lines (folded) : NULL;
  g_free (folded);
}

/* ---- keys ---- */

static int
part_named (const char *word)
{
  for (int part = 0; part < SP_N_PARTS; part++)
    if (strcmp (sp_document_part_names[part], word) == 0)
      return part;
  return -1;
}

static gboolean
read_parts (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, G_GNUC_UNUSED gpointer context, GError **error)
{
  SpDocument *document = object;
  const SpKey *key = sp_group_find (group, spec->key);
  if (!key)
    return TRUE;
  g_autoptr (GArray) items = sp_key_items (key), parts = g_array_new (FALSE, FALSE, sizeof (SpDocumentPart));
  g_autofree char *all = g_strjoinv (", ", (char **) sp_document_part_names);
  guint seen = 0;
  for (guint i = 0; i < items->len; i++) {
    const SpItem *item = &g_array_index (items, SpItem, i);
    g_autofree char *found = sp_excerpt (item->text);
    int part = part_named (item->text);
    if (part < 0)
      return sp_key_fail (file, group, key, item->offset, error, _ ("found “%s”; expected some of %s, divided by ; in the order wanted"),
                          found, all);
    if (seen & 1u << part)
      return sp_key_fail (file, group, key, item->offset, error, _ ("found “%s” a second time; expected each part once"), found);
    seen |= 1u << part;
    g_array_append_val (parts, part);
  }
  if (parts->len == 0)
    return sp_key_fail (file, group, key, 0, error, _ ("nothing stands here; expected some of %s, or no such key"), all);
  document->parts = g_steal_pointer (&parts);
  return TRUE;
}

/* The text is kept whole, so no key of it is ever written by itself. */
static void
write_nothing (G_GNUC_UNUSED const SpKeySpec *spec, G_GNUC_UNUSED GString *text, G_GNUC_UNUSED gconstpointer object,
               G_GNUC_UNUSED gconstpointer context)
{
}

/* Only what the program can write in: SP_LANGUAGES is English and po/LINGUAS. */
static gboolean
read_language (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, G_GNUC_UNUSED gpointer context, GError **error)
{
  SpDocument *document = object;
  g_auto (GStrv) languages = g_strsplit (SP_LANGUAGES, " ", -1);
  if (!sp_group_text (file, group, spec->key, &document->language, error))
    return FALSE;
  if (!document->language || g_strv_contains ((const char *const *) languages, document->language))
    return TRUE;
  g_autofree char *found = sp_excerpt (document->language), *all = g_strjoinv (", ", languages);
  return sp_key_fail (file, group, sp_group_find (group, spec->key), 0, error,
                      _ ("found “%s”; there are sentences in: %s; expected one of these, or no such key"), found, all);
}

/* `context`: an SpPictureSource; NULL: files beside this one. */
static gboolean
read_letterhead (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, gpointer context, GError **error)
{
  SpDocument *document = object;
  const SpPictureSource beside = sp_pictures_beside (file), *source = context ? context : &beside;
  const SpKey *key = sp_group_find (group, spec->key);
  if (key)
    document->letterhead = sp_picture_named (source, file, group, key, key->value, &document->letterhead_name, error);
  return !key || document->letterhead;
}

#define DOCUMENT(member) G_STRUCT_OFFSET (SpDocument, member)

const SpKeySpec sp_document_keys[] = {
  { "title", SP_KEY_TEXT, DOCUMENT (title) },
  { "introduction", SP_KEY_TEXT, DOCUMENT (introduction) },
  { "conclusions", SP_KEY_TEXT, DOCUMENT (conclusions) },
  { "parts", SP_KEY_LIST, DOCUMENT (parts), .read = read_parts, .write = write_nothing },
  { "paper", SP_KEY_WORD, DOCUMENT (paper), .words = sp_document_papers },
  { "language", SP_KEY_LIST, DOCUMENT (language), .read = read_language, .write = write_nothing },
  { "letterhead", SP_KEY_FILE, DOCUMENT (letterhead), .read = read_letterhead, .write = write_nothing },
  { NULL },
};

const SpKeySpec sp_remark_keys[] = {
  { "text", SP_KEY_TEXT, G_STRUCT_OFFSET (SpRemark, text) },
  { NULL },
};

/* ---- the value ---- */

static void
clear_remark (gpointer data)
{
  SpRemark *remark = data;
  g_free (remark->radio);
  g_free (remark->text);
  g_free (remark->heading);
}

static void
clear (gpointer data)
{
  SpDocument *document = data;
  sp_keys_free_texts (sp_document_keys, document);
  char *texts[] = { document->language, document->letterhead_name, document->file, document->text, document->sha256 };
  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    g_free (texts[i]);
  g_clear_pointer (&document->letterhead, sp_picture_unref);
  g_clear_pointer (&document->parts, g_array_unref);
  g_array_unref (document->remarks);
  g_ptr_array_unref (document->warnings);
}

SpDocument *
sp_document_ref (SpDocument *document)
{
  return g_atomic_rc_box_acquire (document);
}

void
sp_document_unref (SpDocument *document)
{
  g_atomic_rc_box_release_full (document, clear);
}

static const SpRemark *
remark_of (const SpDocument *document, const char *radio)
{
  for (guint i = 0; i < document->remarks->len; i++)
    if (strcmp (g_array_index (document->remarks, SpRemark, i).radio, radio) == 0)
      return &g_array_index (document->remarks, SpRemark, i);
  return NULL;
}

const char *
sp_document_remark (const SpDocument *document, const char *radio)
{
  const SpRemark *remark = document ? remark_of (document, radio) : NULL;
  return remark ? remark->text : NULL;
}

/* ---- reading ---- */

static gboolean
read_remark (SpDocument *document, SpKeyFile *file, SpGroup *group, GError **error)
{
  SpRemark remark = { sp_unescape (group->name + strlen ("remark ")), NULL, g_strdup (group->name) };
  group->used = TRUE;
  gboolean twice = remark_of (document, remark.radio) != NULL;
  g_array_append_val (document->remarks, remark);
  if (twice)
    return sp_fail_at (error, sp_key_file_name (file), group->line, 1, _ ("[%s]: there is a remark on this radio already; expected one"),
                       group->name);
  SpRemark *kept = &g_array_index (document->remarks, SpRemark, document->remarks->len - 1);
  if (!sp_keys_read (sp_remark_keys, file, group, kept, NULL, error))
    return FALSE;
  unfold (&kept->text);
  return TRUE;
}

static gboolean
read_document (SpDocument *document, SpKeyFile *file, const SpPictureSource *pictures, GError **error)
{
  SpGroup *report = sp_key_file_find (file, "report");
  if (!report)
    return sp_fail_at (error, sp_key_file_name (file), 1, 1, _ ("there is no group [report]; expected a .report file, which has one"));
  if (!sp_keys_read (sp_document_keys, file, report, document, (gpointer) pictures, error))
    return FALSE;
  for (guint i = 0; i < sp_key_file_n_groups (file); i++) {
    SpGroup *group = sp_key_file_group (file, i);
    if (g_str_has_prefix (group->name, "remark ") && !read_remark (document, file, group, error))
      return FALSE;
    if (strcmp (group->name, "remark") == 0)
      return sp_fail_at (error, sp_key_file_name (file), group->line, 1, _ ("[remark]: on which radio? expected [remark RADIO]"));
  }
  unfold (&document->title);
  unfold (&document->introduction);
  unfold (&document->conclusions);
  sp_key_file_unknown (file, document->warnings);
  return TRUE;
}

SpDocument *
sp_document_parse (const char *text, gsize length, const char *name, const SpPictureSource *pictures, GError **error)
{
  g_autoptr (SpKeyFile) file = sp_key_file_parse (text, length, name, error);
  if (!file)
    return NULL;
  g_autoptr (SpDocument) document = g_atomic_rc_box_new0 (SpDocument);
  sp_keys_init (sp_document_keys, document);
  document->file = *name ? g_strdup (name) : NULL;
  document->text = g_strndup (text, length);
  document->sha256 = g_compute_checksum_for_string (G_CHECKSUM_SHA256, document->text, -1);
  document->warnings = sp_reasons_new ();
  document->remarks = g_array_new (FALSE, FALSE, sizeof (SpRemark));
  g_array_set_clear_func (document->remarks, clear_remark);
  return read_document (document, file, pictures, error) ? g_steal_pointer (&document) : NULL;
}

SpDocument *
sp_document_read (const char *path, GError **error)
{
  gsize length = 0;
  g_autofree char *text = sp_file_read (path, FILE_BYTES, &length, error);
  return text ? sp_document_parse (text, length, path, NULL, error) : NULL;
}

SpDocument *
sp_document_new (void)
{
  return sp_document_parse ("[report]\n", strlen ("[report]\n"), "", NULL, NULL);
}
