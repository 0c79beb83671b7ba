/* chain-page-fields.c - the keys of the chain and of a stage, as its file spells them */
#include <glib/gi18n-lib.h>
#include <string.h>

#include "ui/window/chain/chain-page-private.h"

static const char *const kind_words[] = { N_ ("cable"),  N_ ("pad"),   N_ ("adapter"), N_ ("coupler"),
                                          N_ ("filter"), N_ ("notch"), N_ ("limiter") };
static const char *const curve_words[] = { N_ ("straight lines"), N_ ("smooth"), N_ ("cable law") };
static const char *const yes_no_words[] = { N_ ("yes"), N_ ("no") };

static const SpFormField chain_keys[] = {
  { "name", N_ ("name"), N_ ("What this chain is called on reports.") },
  { "calibrated", N_ ("calibrated"), N_ ("The date of calibration, such as 2026-09-12; a stage may have its own.") },
  { "interval_days", N_ ("interval"), N_ ("A calibration older than this is warned about.") },
  { "temperature_c", N_ ("temperature"), N_ ("Of the calibration; losses are corrected to the bench's own.") },
};

static const SpFormField stage_keys[] = {
  { "name", N_ ("name"), N_ ("What this stage is called; names in a chain are unique.") },
  { "kind", N_ ("kind"), N_ ("What it is: a notch and a filter throw back what they stop, cables and adapters pass DC."), kind_words },
  { "label_db", N_ ("label"), N_ ("The loss printed on it; used only where no measured point exists, and then said.") },
  { "label_tolerance_db", N_ ("label's tolerance"),
    N_ ("Half-width of what the label promises; with a span it makes the label count as calibrated.") },
  { "span", N_ ("label holds"), N_ ("From and to which frequency the label holds, such as 0 3GHz.") },
  { "rating_w", N_ ("rating"), N_ ("The greatest power that may go into it.") },
  { "derating", N_ ("derating"), N_ ("Ratings at higher temperatures, such as 25 25; 100 5.") },
  { "vswr", N_ ("VSWR"), N_ ("Standing-wave ratio of both its sides: a number, or pairs such as 50MHz 1.05; 1GHz 1.2.") },
  { "calibrated", N_ ("calibrated"), N_ ("The date of its own calibration where it is not the chain's.") },
  { "temperature_c", N_ ("temperature"), N_ ("Of its own calibration where it is not the chain's.") },
  { "touchstone", N_ ("two-port file"), N_ ("A Touchstone file with its S-parameters, instead of points.") },
  { "curve", N_ ("between points"), N_ ("How the loss runs between the points; the cable law is a fit of a sqrt(f) + b f."), curve_words,
    N_ ("as usual") },
  { "u_db", N_ ("u without its own"), N_ ("Standard uncertainty of points that carry none.") },
  { "common_u_db", N_ ("common u"),
    N_ ("The part of it that is common to all stages and frequencies: one power meter behind all curves.") },
  { "connector_u_db", N_ ("connector u"), N_ ("What plugging it in again changes.") },
  { "temperature_coefficient", N_ ("change per kelvin"), N_ ("How much of its loss a kelvin changes.") },
  { "temperature_coefficient_u", N_ ("its u"), N_ ("Standard uncertainty of the change per kelvin.") },
  { "power_coefficient", N_ ("change per watt"), N_ ("How much of its loss a watt of heat changes.") },
  { "directional", N_ ("one way only"), N_ ("The power must go in at the marked side."), yes_no_words, N_ ("as usual") },
  { "passes_dc", N_ ("passes DC"), N_ ("A voltage at the socket reaches what stands behind it."), yes_no_words, N_ ("as usual") },
  { "load_rating_w", N_ ("its load's rating"), N_ ("What a coupler's own load takes.") },
};

/* ---- the chain ---- */

static char *
get_chain_key (gpointer owner, const char *key)
{
  SpChainPage *self = owner;
  return self->chain ? sp_chain_get (self->chain, -1, key) : NULL;
}

static gboolean
set_chain_key (gpointer owner, const SpFormField *field, const char *value, GError **error)
{
  SpChainPage *self = owner;
  SpChain *edited = self->chain ? sp_chain_set (self->chain, -1, field->key, value, error) : NULL;
  g_autofree char *label = self->chain ? g_strdup_printf (_ ("Change the %s of %s"), _ (field->what), self->chain->name) : NULL;
  g_autofree char *before = self->chain ? g_strdup (self->chain->name) : NULL;
  if (!edited || !sp_chain_page_edit (self, edited, label))
    return FALSE;
  if (strcmp (field->key, "name") == 0)
    sp_drafts_rename (sp_session_drafts (self->session), before, NULL, self->chain->name);
  return TRUE;
}

/* ---- a stage ---- */

static char *
get_stage_key (gpointer owner, const char *key)
{
  SpChainPage *self = owner;
  const SpStage *stage = sp_chain_page_stage (self);
  if (!stage)
    return NULL;
  return strcmp (key, "name") == 0 ? g_strdup (stage->name) : sp_chain_get (self->chain, (int) self->stage, key);
}

/* A copy of that name takes the old one's place. */
static SpChain *
rename_stage (SpChainPage *self, const char *name, GError **error)
{
  g_autoptr (SpChain) doubled = sp_chain_duplicate_stage (self->chain, self->stage, name, error);
  return doubled ? sp_chain_remove_stage (doubled, self->stage, error) : NULL;
}

static gboolean
set_stage_key (gpointer owner, const SpFormField *field, const char *value, GError **error)
{
  SpChainPage *self = owner;
  const SpStage *stage = sp_chain_page_stage (self);
  if (!stage)
    return FALSE;
  gboolean naming = strcmp (field->key, "name") == 0;
  SpChain *edited = naming ? rename_stage (self, value, error) : sp_chain_set (self->chain, (int) self->stage, field->key, value, error);
  if (!edited)
    return FALSE;
  g_autofree char *label = naming ? g_strdup_printf (_ ("Rename %s to %s"), stage->name, value)
                                  : g_strdup_printf (_ ("Change the %s of %s"), _ (field->what), stage->name);
  g_autofree char *before = g_strdup (stage->name);
  if (!sp_chain_page_edit (self, edited, label))
    return FALSE;
  if (naming && sp_chain_page_stage (self)) /* the choice went along */
    sp_drafts_rename (sp_session_drafts (self->session), self->chain->name, before, sp_chain_page_stage (self)->name);
  return TRUE;
}

/* ---- the stage's pictures ---- */

static const GArray *
get_pictures (gpointer page)
{
  const SpStage *stage = sp_chain_page_stage (page);
  return stage ? stage->pictures : NULL;
}

static gboolean
set_pictures (gpointer page, const GArray *pictures, const char *label, GError **error)
{
  SpChainPage *self = page;
  SpChain *edited = sp_chain_page_stage (self) ? sp_chain_set_pictures (self->chain, self->stage, pictures, error) : NULL;
  return edited && sp_chain_page_edit (self, edited, label);
}

static void
take_picture (gpointer page, GFile *file)
{
  SpChainPage *self = page;
  sp_chain_take_file_at (self->session, self->place, self->stage, file);
}

static void
tell (gpointer page, GError *error)
{
  sp_session_edit (SP_CHAIN_PAGE (page)->session, NULL, "", error);
}

static void
set_up_pictures (SpChainPage *self)
{
  const SpPicturesOwner owner = { get_pictures, set_pictures, take_picture, tell, self };
  self->pictures = g_object_new (SP_TYPE_PICTURES, NULL);
  sp_pictures_begin (self->pictures, &owner);
  gtk_widget_set_margin_top (GTK_WIDGET (self->pictures), 8);
  gtk_orientable_set_orientation (GTK_ORIENTABLE (self->stage_holder), GTK_ORIENTATION_VERTICAL);
  gtk_box_append (GTK_BOX (self->stage_holder), GTK_WIDGET (self->pictures));
}

void
sp_chain_page_set_up_fields (SpChainPage *self)
{
  SpFormOwner chain = { get_chain_key, set_chain_key, self }, stage = { get_stage_key, set_stage_key, self };
  self->chain_fields = sp_fields_new (sp_chain_keys, chain_keys, G_N_ELEMENTS (chain_keys), 1, &chain);
  self->stage_fields = sp_fields_new (sp_stage_keys, stage_keys, G_N_ELEMENTS (stage_keys), 1, &stage);
  gtk_widget_set_hexpand (self->chain_fields, TRUE);
  gtk_widget_set_hexpand (self->stage_fields, TRUE);
  gtk_widget_set_margin_top (self->chain_fields, 8);
  gtk_widget_set_margin_end (self->stage_fields, 16); /* beside the scroll bar */
  gtk_box_append (GTK_BOX (self->chain_holder), self->chain_fields);
  gtk_box_append (GTK_BOX (self->stage_holder), self->stage_fields);
  set_up_pictures (self);
}
