/* edit-pictures.c - pictures put on a bench, beside a radio or beside a stage */
#include <string.h>

#include "core/bench/build.h"
#include "core/bench/edit/edit-private.h"
#include "core/bench/sheet/write.h"
#include "core/quantity/text.h"

SpBench *
sp_bench_set_pictures (const SpBench *bench, int radio, const GArray *pictures, GError **error)
{
  g_return_val_if_fail (radio < (int) bench->n_radios, NULL);
  SpBench *copy = sp_bench_copy (bench, 0);
  GArray **place = radio < 0 ? &copy->pictures : &copy->radios[radio].pictures;
  g_clear_pointer (place, g_array_unref);
  *place = pictures && pictures->len > 0 ? sp_captioned_copy (pictures) : NULL;
  return sp_bench_settle (copy, error);
}

SpBench *
sp_bench_set_letterhead (const SpBench *bench, SpPicture *picture)
{
  SpBench *copy = sp_bench_copy (bench, 0);
  g_clear_pointer (&copy->letterhead, sp_picture_unref);
  copy->letterhead = picture ? sp_picture_ref (picture) : NULL;
  if (copy->document && copy->document->letterhead) {
    sp_document_unref (copy->document);
    copy->document = sp_document_set (bench->document, "letterhead", NULL, NULL);
  }
  sp_bench_finish (copy);
  return copy;
}

/* ---- of a stage ---- */

/* Is another picture called so? */
static gboolean
is_another (const GArray *pictures, const char *name, const SpPicture *picture)
{
  for (guint i = 0; pictures && i < pictures->len; i++) {
    const SpCaptioned *one = &g_array_index (pictures, SpCaptioned, i);
    if (g_strcmp0 (one->name, name) == 0 && strcmp (one->picture->sha256, picture->sha256) != 0)
      return TRUE;
  }
  return FALSE;
}

static char *
free_name (const SpChain *chain, int but, const GArray *named, const SpCaptioned *one)
{
  g_autofree char *base = g_path_get_basename (one->picture->file ? one->picture->file : "picture");
  g_autofree char *first = one->name ? g_strdup (one->name) : g_utf8_make_valid (base, -1);
  for (guint n = 1;; n++) {
    char *name = n == 1 ? g_strdup (first) : g_strdup_printf ("%u-%s", n, first);
    gboolean taken = is_another (named, name, one->picture);
    for (guint i = 0; i < chain->n && !taken; i++)
      taken = (int) i != but && is_another (chain->stages[i]->pictures, name, one->picture);
    if (!taken)
      return name;
    g_free (name);
  }
}

GArray *
sp_chain_name_pictures (const SpChain *chain, int but, const GArray *pictures)
{
  GArray *named = sp_captioned_new ();
  for (guint i = 0; pictures && i < pictures->len; i++) {
    const SpCaptioned *one = &g_array_index (pictures, SpCaptioned, i);
    g_autofree char *name = free_name (chain, but, named, one);
    sp_captioned_add_named (named, one->picture, one->caption, name);
  }
  return named;
}

char *
sp_chain_text_set_pictures (char *text, const char *heading, guint old, const GArray *pictures, GError **error)
{
  for (guint i = 0; i < MAX (old, pictures->len) && text; i++) {
    const SpCaptioned *one = i < pictures->len ? &g_array_index (pictures, SpCaptioned, i) : NULL;
    g_autofree char *before = text, *key = sp_captioned_key (i), *value = one ? sp_captioned_value (one->name, one->caption) : NULL;
    text = sp_key_text_set (before, heading, key, value, error);
  }
  return text;
}

SpChain *
sp_chain_set_pictures (const SpChain *chain, guint stage, const GArray *pictures, GError **error)
{
  g_return_val_if_fail (stage < chain->n, NULL);
  const GArray *there = chain->stages[stage]->pictures;
  g_autoptr (GArray) named = sp_chain_name_pictures (chain, (int) stage, pictures);
  g_autofree char *heading = sp_stage_heading (chain->stages[stage]->name);
  g_autofree char *text = sp_chain_text_set_pictures (g_strdup (chain->text), heading, there ? there->len : 0, named, error);
  SpLossSource source = { NULL, NULL, NULL, named };
  return text ? sp_chain_read_edited (chain, text, &source, error) : NULL;
}
